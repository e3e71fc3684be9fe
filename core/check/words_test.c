/* Words: every value has them, in both sets of the trade, and neither set uses a word of the other. */
#include "check/words.h"

#include "check/test_site.h"

#include <ctype.h>

enum { PATTERN_MOST = 400 };

/* All patterns there are. may_be_empty: values whose words are the empty text on purpose. */
static size_t all_patterns(const char **patterns, size_t *ret_empty) {
    size_t count = 0;
    for (int i = 0; i < PANEL_WHY_COUNT; i++) {
        patterns[count++] = words_reason((enum panel_reason)i);
        patterns[count++] = words_reason_short((enum panel_reason)i);
    }
    for (int i = 0; i < PANEL_MESSAGE_COUNT; i++) {
        patterns[count++] = words_message((enum panel_message)i);
    }
    for (int i = 0; i < EVENT_KIND_COUNT; i++) {
        patterns[count++] = words_signal((enum event_kind)i, false);
        patterns[count++] = words_signal((enum event_kind)i, true);
    }
    for (int i = 0; i < PANEL_TIMER_KIND_COUNT; i++) {
        patterns[count++] = words_timer((enum panel_timer_kind)i);
        patterns[count++] = words_timer_ends((enum panel_timer_kind)i);
        patterns[count++] = words_timer_begins((enum panel_timer_kind)i);
    }
    for (int i = 0; i < PROOF_PROMISE_COUNT; i++) {
        patterns[count++] = words_promise((enum proof_promise)i);
    }
    for (int i = PROOF_GOES_WELL; i <= PROOF_NOT_APPLIED; i++) {
        patterns[count++] = words_verdict((enum proof_verdict)i);
    }
    for (int i = 0; i < SITE_ACT_COUNT; i++) {
        patterns[count++] = words_act((enum site_act)i, SITE_USE_CODE);
        patterns[count++] = words_act((enum site_act)i, SITE_USE_FOB);
    }
    for (int i = 0; i < PROOF_MISHAP_COUNT; i++) {
        patterns[count++] = words_mishap((enum proof_mishap)i);
    }
    for (int i = 0; i < SITE_SIGN_COUNT; i++) {
        patterns[count++] = words_sign((enum site_sign)i, true);
        patterns[count++] = words_sign((enum site_sign)i, false);
    }
    for (int i = 0; i < SITE_BEHAVIOUR_COUNT; i++) {
        patterns[count++] = words_behaviour((enum site_behaviour)i);
    }
    for (int i = 0; i < PANEL_TONE_COUNT; i++) {
        patterns[count++] = words_tone((enum panel_tone)i);
    }
    for (int i = 0; i < PANEL_SOUND_COUNT; i++) {
        patterns[count++] = words_sound((enum panel_sound)i);
    }
    /* The short reasons "none" and "code", the mishap "none", and the sign "none" both ways. */
    *ret_empty = 5;
    return count;
}

static struct words_about about_everything(void) {
    return (struct words_about){.zone = YARD_ZONE,
            .area = SHOP,
            .person = BAKER,
            .door = YARD_DOOR,
            .keypad = 0,
            .mode = SITE_MODE_FULL,
            .delay = 0,
            .areas = 3,
            .seconds_s = 30,
            .behaviour = SITE_ENTRY};
}

static void every_value_has_words(void **state) {
    (void)state;
    const char *patterns[PATTERN_MOST];
    size_t may_be_empty = 0;
    size_t empty = 0;
    const size_t count = all_patterns(patterns, &may_be_empty);
    assert_true(count <= PATTERN_MOST);
    for (size_t i = 0; i < count; i++) {
        assert_non_null(patterns[i]);
        empty += patterns[i][0] == '\0';
    }
    assert_int_equal(empty, may_be_empty);
}

/* Whether the text holds the word by itself; letters and hyphens make words, so "settings" is not "setting". */
static bool has_word(struct text text, const char *word) {
    const size_t length = strlen(word);
    for (size_t i = 0; i + length <= text.length; i++) {
        const bool begins = i == 0 || isalpha((unsigned char)text.start[i - 1]) == 0;
        const bool ends =
                i + length == text.length || isalpha((unsigned char)text.start[i + length]) == 0;
        if (begins && ends && memcmp(text.start + i, word, length) == 0) {
            return true;
        }
    }
    return false;
}

/* shows: product page, "Words": set/unset, mains (uk) and arm/disarm, AC (us). */
static void neither_set_uses_words_of_the_other(void **state) {
    (void)state;
    static const char *const uk[] = {
            "set", "sets", "setting", "unset", "unsets", "unsetting", "mains", NULL};
    static const char *const us[] = {"arm", "arms", "armed", "arming", "disarm", "disarms",
            "disarmed", "disarming", "AC", NULL};
    const char *const *const foreign[SITE_WORDS_COUNT] = {
            [SITE_WORDS_UK] = us, [SITE_WORDS_US] = uk};
    const char *patterns[PATTERN_MOST];
    size_t may_be_empty = 0;
    const size_t count = all_patterns(patterns, &may_be_empty);
    const struct words_about about = about_everything();
    size_t differing = 0;
    for (size_t i = 0; i < count; i++) {
        struct text texts[SITE_WORDS_COUNT];
        struct arena arena;
        arena_init(&arena, test_pages(), 0);
        for (int words = 0; words < SITE_WORDS_COUNT; words++) {
            struct test_site it;
            test_site_fill(&it, (enum site_words)words);
            texts[words] = words_print(&arena, &it.site, patterns[i], &about);
            for (const char *const *word = foreign[words]; *word != NULL; word++) {
                if (has_word(texts[words], *word)) {
                    print_error("%s: \"%.*s\" has \"%s\"\n", words == SITE_WORDS_US ? "us" : "uk",
                            TEXT_ARGS(texts[words]), *word);
                    fail();
                }
            }
        }
        differing += !text_equal(texts[0], texts[1]);
        arena_finish(&arena);
    }
    assert_true(differing >= 15); /* else the two sets were one, and this test could not fail */
}

/* shows: product page, "Words": "causes a false alarm", never "sets the alarm off". */
static void nobody_sets_the_alarm_off(void **state) {
    (void)state;
    const char *patterns[PATTERN_MOST];
    size_t may_be_empty = 0;
    const size_t count = all_patterns(patterns, &may_be_empty);
    for (size_t i = 0; i < count; i++) {
        assert_null(strstr(patterns[i], "alarm off"));
        assert_null(strstr(patterns[i], "roven"));
        assert_null(strstr(patterns[i], "efuted"));
    }
    assert_string_equal(words_promise(PROOF_SIREN), "{person} causes a false alarm");
    assert_string_equal(words_verdict(PROOF_GOES_WELL), "goes well");
    assert_string_equal(words_verdict(PROOF_GOES_WRONG), "goes wrong");
    assert_string_equal(words_verdict(PROOF_NOT_SETTLED), "not settled");
}

static void check_print(const struct site *site, const char *pattern,
        const struct words_about *about, const char *expected) {
    struct arena arena;
    arena_init(&arena, test_pages(), 0);
    const struct text got = words_print(&arena, site, pattern, about);
    if (!text_is(got, expected)) {
        print_error("got \"%.*s\"\n", TEXT_ARGS(got));
        fail();
    }
    arena_finish(&arena);
}

static void patterns_name_things_of_the_site(void **state) {
    (void)state;
    struct test_site it;
    test_site_fill(&it, SITE_WORDS_UK);
    const struct words_about about = about_everything();
    check_print(&it.site, "{person} at {door}{at-keypad}", &about,
            "the baker at the yard door at the passage keypad");
    check_print(&it.site, "{zone}, {zone-short}{with-zone}", &about,
            "zone 1 \"yard door\", zone 1, zone 1 \"yard door\"");
    check_print(&it.site, "{areas}{in-mode}: {seconds}", &about, "shop and flat (full): 30 s");
    check_print(&it.site, "{behaviour}: {effect}", &about, "entry: starts the entry time");
    check_print(&it.site,
            "{person} at {door}{at-keypad}, {zone}{with-zone}, {areas}{in-mode}{of-seconds}", NULL,
            "somebody at a door, a zone, the system");
}

static void names_with_a_capital_stand_alone(void **state) {
    (void)state;
    struct test_site it;
    test_site_fill(&it, SITE_WORDS_UK);
    struct words_about about = words_about_nothing();
    about.person = ROBIN;
    check_print(&it.site, words_promise(PROOF_SIREN), &about, "Robin causes a false alarm");
    about.person = BAKER;
    check_print(&it.site, words_promise(PROOF_SIREN), &about, "the baker causes a false alarm");
    it.site.people[BAKER].name = text_of("adult 1");
    check_print(&it.site, words_promise(PROOF_SIREN), &about, "adult 1 causes a false alarm");
}

static void check_instant(int32_t begins_s, int32_t at_s, const char *expected) {
    struct arena arena;
    struct text_builder out;
    arena_init(&arena, test_pages(), 0);
    text_builder_init(&out, &arena);
    words_add_instant(&out, begins_s, at_s);
    assert_string_equal(text_built(&out).start, expected);
    arena_finish(&arena);
}

static void instants_are_clock_times_or_count_from_the_start(void **state) {
    (void)state;
    check_instant(5 * 3600 + 50 * 60, 28, "05:50:28");
    check_instant(0, 0, "00:00:00");
    check_instant(86399, 1, "00:00:00");
    check_instant(-1, 0, "0:00");
    check_instant(-1, 28, "0:28");
    check_instant(-1, 3599, "59:59");
    check_instant(-1, 3723, "1:02:03");
}

static void signals_are_quoted_with_whose_they_are(void **state) {
    (void)state;
    struct test_site it;
    struct arena arena;
    struct text_builder out;
    test_site_fill(&it, SITE_WORDS_US);
    arena_init(&arena, test_pages(), 0);
    text_builder_init(&out, &arena);
    words_add_signal(&out, &it.site,
            (struct event){.kind = EVENT_INTRUSION,
                    .zone = SIDE_ZONE,
                    .user = EVENT_NOBODY,
                    .recent = true});
    words_add_signal(&out, &it.site,
            (struct event){.kind = EVENT_UNSET, .zone = EVENT_NO_ZONE, .user = BAKER});
    words_add_signal(&out, &it.site,
            (struct event){.kind = EVENT_MAINS,
                    .zone = EVENT_NO_ZONE,
                    .user = EVENT_NOBODY,
                    .restore = true});
    assert_string_equal(text_built(&out).start,
            "\"intrusion, zone 3, recent closing\"\"disarmed, baker\"\"AC power back\"");
    /* A zone's signal is nobody's, whoever the panel remembers. */
    text_builder_init(&out, &arena);
    words_add_signal(&out, &it.site,
            (struct event){.kind = EVENT_INTRUSION, .zone = SIDE_ZONE, .user = BAKER});
    assert_string_equal(text_built(&out).start, "\"intrusion, zone 3\"");
    arena_finish(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(every_value_has_words),
            cmocka_unit_test(neither_set_uses_words_of_the_other),
            cmocka_unit_test(nobody_sets_the_alarm_off),
            cmocka_unit_test(patterns_name_things_of_the_site),
            cmocka_unit_test(names_with_a_capital_stand_alone),
            cmocka_unit_test(instants_are_clock_times_or_count_from_the_start),
            cmocka_unit_test(signals_are_quoted_with_whose_they_are),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
