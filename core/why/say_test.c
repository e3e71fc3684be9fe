/* The service call: what is understood of what a customer or a technician says, and what is asked for again. */
#include "check/test_site.h"
#include "why/why.h"

#include <stdio.h>
#include <stdlib.h>

/* The house of test_site.h and its dog. */
struct spoken_house {
    struct test_site it;
    struct site_person people[PERSON_COUNT + 1];
    struct arena arena;
};

static void build(struct spoken_house *house) {
    memset(house, 0, sizeof *house);
    test_site_fill(&house->it, SITE_WORDS_UK);
    arena_init(&house->arena, test_pages(), 0);
    memcpy(house->people, house->it.people, sizeof house->it.people);
    house->people[PERSON_COUNT] = (struct site_person){.name = text_of("dog"), .animal = true};
    house->it.site.people = house->people;
    house->it.site.person_count = PERSON_COUNT + 1;
}

static void finish(struct spoken_house *house) {
    arena_finish(&house->arena);
}

static struct why_question read_good(const struct site *site, const char *said) {
    struct why_question question;
    struct problem problem = {0};
    if (!why_read(site, text_of(said), &question, &problem).good) {
        fail_msg("\"%s\": %s", said, problem.text);
    }
    return question;
}

static void words_are_understood(void **state) {
    (void)state;
    struct spoken_house house;
    build(&house);
    static const struct {
        const char *said;
        enum why_what what;
        int32_t from_s, to_s; /* -1: no time */
        int zone, area, person, mode;
        enum why_stand stand;
    } cases[] = {
            {"siren, 03:10, zone 3, set night", WHY_SIREN, 11400, 11459, SIDE_ZONE, -1, -1,
                    SITE_MODE_NIGHT, WHY_STANDS_SET},
            {"Zone 3 SIREN at 3:10!", WHY_SIREN, 11400, 11459, SIDE_ZONE, -1, -1, -1, 0},
            {"the siren went off last night in the shop", WHY_SIREN, 79200, 107999, -1, SHOP, -1,
                    -1, 0},
            {"side door siren", WHY_SIREN, -1, -1, SIDE_ZONE, -1, -1, -1, 0},
            {"siren 3 am", WHY_SIREN, 10800, 10859, -1, -1, -1, -1, 0},
            {"siren 12am", WHY_SIREN, 0, 59, -1, -1, -1, -1, 0},
            {"siren 3.10pm", WHY_SIREN, 54600, 54659, -1, -1, -1, -1, 0},
            {"siren 03:10:20", WHY_SIREN, 11420, 11420, -1, -1, -1, -1, 0},
            {"siren 03:10..03:20", WHY_SIREN, 11400, 12059, -1, -1, -1, -1, 0},
            {"siren between 23:50 and 0:10", WHY_SIREN, 85800, 87059, -1, -1, -1, -1, 0},
            {"siren about 00:05", WHY_SIREN, 85800, 87659, -1, -1, -1, -1, 0},
            {"siren noon", WHY_SIREN, 43200, 43259, -1, -1, -1, -1, 0},
            {"no siren; zone3; armed", WHY_NO_SIREN, -1, -1, SIDE_ZONE, -1, -1, -1, WHY_STANDS_SET},
            {"chime unset", WHY_CHIME, -1, -1, -1, -1, -1, -1, WHY_STANDS_UNSET},
            {"fell back to part, baker", WHY_DROPPED, -1, -1, -1, -1, BAKER, -1, 0},
            {"would not set, Robin", WHY_REFUSED, -1, -1, -1, -1, ROBIN, -1, 0},
            {"code not taken", WHY_CODE, -1, -1, -1, -1, -1, -1, 0},
            {"exit error 18:02", WHY_EXIT_ERROR, 64920, 64979, -1, -1, -1, -1, 0},
            {"trouble tone", WHY_TROUBLE, -1, -1, -1, -1, -1, -1, 0},
            {"tone", WHY_ENTRY_TONE, -1, -1, -1, -1, -1, -1, 0},
            {"signal, part", WHY_SIGNAL, -1, -1, -1, -1, -1, SITE_MODE_PART, WHY_STANDS_SET},
            {"no signal, 03:10", WHY_NO_SIGNAL, 11400, 11459, -1, -1, -1, -1, 0},
            {"siren, no signal, zone 3", WHY_NO_SIGNAL, -1, -1, SIDE_ZONE, -1, -1, -1, 0},
            {"late signal and the siren", WHY_NO_SIGNAL, -1, -1, -1, -1, -1, -1, 0},
            {"jamming", WHY_JAMMING, -1, -1, -1, -1, -1, -1, 0},
            {"mains lost", WHY_POWER_CUT, -1, -1, -1, -1, -1, -1, 0},
            {"AC failure", WHY_POWER_CUT, -1, -1, -1, -1, -1, -1, 0},
            {"path lost", WHY_NO_PATH, -1, -1, -1, -1, -1, -1, 0},
            {"device not heard", WHY_NOT_HEARD, -1, -1, -1, -1, -1, -1, 0},
            {"low battery", WHY_LOW_BATTERY, -1, -1, -1, -1, -1, -1, 0},
            {"siren siren zone 3 zone 3 3:10 3:10", WHY_SIREN, 11400, 11459, SIDE_ZONE, -1, -1, -1,
                    0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const struct why_question got = read_good(&house.it.site, cases[i].said);
        if (got.what != cases[i].what || got.has_clock != (cases[i].from_s >= 0) ||
                (got.has_clock &&
                        (got.clock.low_s != cases[i].from_s ||
                                got.clock.high_s != cases[i].to_s)) ||
                got.zone != cases[i].zone || got.area != cases[i].area ||
                got.person != cases[i].person || got.mode != cases[i].mode ||
                got.stand != cases[i].stand) {
            fail_msg("\"%s\": what %d, %d..%d, zone %d, area %d, who %d, mode %d, stood %d",
                    cases[i].said, (int)got.what, (int)got.clock.low_s, (int)got.clock.high_s,
                    got.zone, got.area, got.person, got.mode, (int)got.stand);
        }
    }
    finish(&house);
}

/* What was said, and what of it counts besides: set or unset, a clock. */
struct everyday {
    const char *said;
    enum why_what what;
    int32_t from_s, to_s; /* -1: no time */
    enum why_stand stand;
};

static void understand(const struct everyday *cases, size_t count) {
    struct spoken_house house;
    build(&house);
    for (size_t i = 0; i < count; i++) {
        const struct why_question got = read_good(&house.it.site, cases[i].said);
        const int32_t from_s = got.has_clock ? got.clock.low_s : -1;
        const int32_t to_s = got.has_clock ? got.clock.high_s : -1;
        if (got.what != cases[i].what || from_s != cases[i].from_s || to_s != cases[i].to_s ||
                got.stand != cases[i].stand || got.mode != SITE_NONE) {
            fail_msg("\"%s\": what %d, %d..%d, stood %d, mode %d", cases[i].said, (int)got.what,
                    (int)from_s, (int)to_s, (int)got.stand, got.mode);
        }
    }
    finish(&house);
}

/* Common practice: as customers say it, in the words of both word sets. */
static void everyday_words_are_understood(void **state) {
    (void)state;
    static const struct everyday cases[] = {
            {"alarm goes off when I come home", WHY_SIREN, -1, -1, 0},
            {"why does the alarm keep going off", WHY_SIREN, -1, -1, 0},
            {"the dog set off the alarm", WHY_SIREN, -1, -1, 0},
            {"alarm", WHY_SIREN, -1, -1, 0},
            {"beeping", WHY_TROUBLE, -1, -1, 0},
            {"keeps beeping", WHY_TROUBLE, -1, -1, 0},
            {"the alarm keeps beeping", WHY_TROUBLE, -1, -1, 0},
            {"the panel beeps", WHY_TROUBLE, -1, -1, 0},
            {"can't set it", WHY_REFUSED, -1, -1, 0},
            {"cant set the alarm", WHY_REFUSED, -1, -1, 0},
            {"I can\xE2\x80\x99t arm it", WHY_REFUSED, -1, -1, 0},
            {"it can not be set", WHY_REFUSED, -1, -1, 0},
            {"the alarm could not be armed", WHY_REFUSED, -1, -1, 0},
            {"won't arm", WHY_REFUSED, -1, -1, 0},
            {"alarm wouldn't set", WHY_REFUSED, -1, -1, 0},
            {"it doesn't arm", WHY_REFUSED, -1, -1, 0},
            {"the alarm didn't set", WHY_REFUSED, -1, -1, 0},
            {"can't disarm", WHY_CODE, -1, -1, 0},
            {"my code does not work", WHY_CODE, -1, -1, 0},
            {"alarm didn't go off", WHY_NO_SIREN, -1, -1, 0},
            {"the alarm did not go off", WHY_NO_SIREN, -1, -1, 0},
            {"it never went off", WHY_NO_SIREN, -1, -1, 0},
            {"the siren did not go off", WHY_NO_SIREN, -1, -1, 0},
            {"siren won't sound", WHY_NO_SIREN, -1, -1, 0},
            {"the station didn't call", WHY_NO_SIGNAL, -1, -1, 0},
            {"nobody set the alarm, siren", WHY_SIREN, -1, -1, WHY_STANDS_UNSET},
            {"we didn't arm it and it went off", WHY_SIREN, -1, -1, WHY_STANDS_UNSET},
            {"no one had set it; siren", WHY_SIREN, -1, -1, WHY_STANDS_UNSET},
            {"siren, wasn't set", WHY_SIREN, -1, -1, WHY_STANDS_UNSET},
            {"siren, forgot to disarm", WHY_SIREN, -1, -1, WHY_STANDS_SET},
            {"the battery is low", WHY_LOW_BATTERY, -1, -1, 0},
    };
    understand(cases, sizeof cases / sizeof cases[0]);
}

/* A dial has twelve hours: the part of the day says which half is meant. */
static void hours_are_understood_as_people_say_them(void **state) {
    (void)state;
    static const struct everyday cases[] = {
            {"the alarm went off at 3 in the night and nobody was there", WHY_SIREN, 10800, 10859,
                    0},
            {"siren at three in the morning", WHY_SIREN, 10800, 10859, 0},
            {"siren, 3 o'clock in the afternoon", WHY_SIREN, 54000, 54059, 0},
            {"siren, 3 oclock pm", WHY_SIREN, 54000, 54059, 0},
            {"siren, ten past three in the night", WHY_SIREN, 11400, 11459, 0},
            {"siren, ten past three am", WHY_SIREN, 11400, 11459, 0},
            {"siren, half past 7 in the evening", WHY_SIREN, 70200, 70259, 0},
            {"siren, a quarter to four in the night", WHY_SIREN, 13500, 13559, 0},
            {"siren, quarter to one in the night", WHY_SIREN, 2700, 2759, 0},
            {"siren, a quarter to twelve pm", WHY_SIREN, 85500 - 43200, 85559 - 43200, 0},
            {"siren, a quarter to 12 am", WHY_SIREN, 85500, 85559, 0},
            {"siren, twenty minutes after five in the morning", WHY_SIREN, 19200, 19259, 0},
            {"siren, 12 at night", WHY_SIREN, 0, 59, 0},
            {"siren, 7 at night", WHY_SIREN, 68400, 68459, 0},
            {"siren, 3:10 in the afternoon", WHY_SIREN, 54600, 54659, 0},
            {"siren, 06:30 last night", WHY_SIREN, 23400, 23459, 0},
            {"siren, at 15", WHY_SIREN, 54000, 54059, 0},
            {"siren, about 3 in the night", WHY_SIREN, 9900, 11759, 0},
            {"siren between 3 and 4 in the night", WHY_SIREN, 10800, 14459, 0},
            {"siren from 3 to 4 pm", WHY_SIREN, 54000, 57659, 0},
            {"siren from 5 to 6 pm", WHY_SIREN, 61200, 64859, 0},
            {"siren from ten past three to half past three am", WHY_SIREN, 11400, 12659, 0},
            {"siren, five to six pm", WHY_SIREN, 64500, 64559, 0},
            {"siren between 11 and 1 at night", WHY_SIREN, 82800, 90059, 0},
            {"siren in the evening", WHY_SIREN, 61200, 82799, 0},
            {"siren this morning", WHY_SIREN, 18000, 43199, 0},
            {"siren, afternoon", WHY_SIREN, 43200, 64799, 0},
            {"siren, about in the night", WHY_SIREN, 79200, 107999, 0},
            {"siren on Tuesday", WHY_SIREN, -1, -1, 0},
            {"siren tuesday night", WHY_SIREN, 79200, 107999, 0},
            {"siren, Tuesday, 3 am", WHY_SIREN, 10800, 10859, 0},
    };
    understand(cases, sizeof cases / sizeof cases[0]);
}

static void what_was_taken_otherwise_is_noted(void **state) {
    (void)state;
    struct spoken_house house;
    build(&house);
    static const struct {
        const char *said;
        const char *notes[WHY_NOTES_MOST];
    } cases[] = {
            {"siren, 03:10", {NULL}},
            {"siren at 3 in the night", {NULL}},
            {"siren In The Night", {"\"In The Night\" is taken as 22:00..05:59"}},
            {"siren this evening", {"\"this evening\" is taken as 17:00..22:59"}},
            {"siren, tuesdays, 3 am",
                    {"\"tuesdays\" is not used: routines have hours, and no days"}},
            {"siren Tuesday night",
                    {"\"night\" is taken as 22:00..05:59",
                            "\"Tuesday\" is not used: routines have hours, and no days"}},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const struct why_question got = read_good(&house.it.site, cases[i].said);
        struct text notes[WHY_NOTES_MOST];
        const size_t count = why_notes(&got, &house.arena, notes);
        for (size_t n = 0; n < WHY_NOTES_MOST; n++) {
            assert_int_equal(n < count, cases[i].notes[n] != NULL);
            if (n < count) {
                assert_string_equal(notes[n].start, cases[i].notes[n]);
            }
        }
    }
    finish(&house);
}

/* A name of the site goes before an everyday word that is passed over or may stand for a zone. */
static void names_of_the_site_go_before_everyday_words(void **state) {
    (void)state;
    struct spoken_house house;
    build(&house);
    house.it.areas[FLAT].name = text_of("house");
    assert_int_equal(read_good(&house.it.site, "siren in the house").area, FLAT);
    house.it.profiles[2].sense = SITE_SMOKE;
    assert_int_equal(read_good(&house.it.site, "the smoke alarm went off").zone, TILL_ZONE);
    assert_int_equal(read_good(&house.it.site, "smoke alarm").what, WHY_SIREN);
    assert_int_equal(read_good(&house.it.site, "smoke detector beeping").what, WHY_TROUBLE);
    assert_int_equal(read_good(&house.it.site, "smoke detector beeping").zone, TILL_ZONE);
    house.it.profiles[0].sense = SITE_SMOKE; /* of the yard door and of the side door */
    struct why_question question;
    struct problem problem = {0};
    assert_false(why_read(&house.it.site, text_of("smoke alarm"), &question, &problem).good);
    assert_non_null(strstr(problem.text, "could be meant; say which one"));
    finish(&house);
}

/* Every word of the list is understood as what it stands beside, and is of the site's own word set. */
static void the_list_holds_what_is_understood(void **state) {
    (void)state;
    static const char *const wanted[SITE_WORDS_COUNT][3] = {
            [SITE_WORDS_UK] = {"not ready (cannot set, would not set)", "power cut (mains lost)",
                    "set, unset, full"},
            [SITE_WORDS_US] = {"not ready (cannot arm, would not arm)", "power cut (AC lost)",
                    "armed, disarmed, full"},
    };
    for (int words = 0; words < SITE_WORDS_COUNT; words++) {
        struct spoken_house house;
        build(&house);
        house.it.site.words = (enum site_words)words;
        struct text_builder out;
        text_builder_init(&out, &house.arena);
        struct layout layout = {.out = &out, .width = 4000};
        why_show_sayings(&house.it.site, &layout);
        char *list = malloc(text_built(&out).length + 1);
        assert_non_null(list);
        memcpy(list, text_built(&out).start, text_built(&out).length + 1);
        for (size_t i = 0; i < 3; i++) {
            if (strstr(list, wanted[words][i]) == NULL) {
                fail_msg("no \"%s\" in\n%s", wanted[words][i], list);
            }
        }
        list[strcspn(list, "\n")] = '\0';
        size_t said = 0;
        bool inside = false;
        enum why_what what = WHY_SIREN;
        for (char *at = strstr(list, "siren"); *at != '\0'; said++) {
            const size_t length = strcspn(at, ",()");
            const struct text word = {.start = at, .length = length};
            struct why_question got;
            struct problem problem = {0};
            assert_true(why_read(&house.it.site, word, &got, &problem).good);
            assert_true(!inside || got.what == what);
            what = inside ? what : got.what;
            at += length;
            inside = *at == '(' || (inside && *at != ')');
            at += strspn(at, ",() ");
        }
        assert_true(said > WHY_WHAT_COUNT);
        free(list);
        finish(&house);
    }
}

static void what_is_not_understood_is_said(void **state) {
    (void)state;
    struct spoken_house house;
    build(&house);
    static const char *const cases[][2] = {
            {"sirne, 03:10", "did you mean \"siren\"?"},
            {"siren, sdie door", "did you mean \"side door\"?"},
            {"siren, aprentice", "did you mean \"apprentice\"?"},
            {"siren, qqqqqq", "\"qqqqqq\" is not understood"},
            {"the sirne and a qqqqqq", "did you mean \"siren\"?; \"qqqqqq\" is not understood"},
            {"siren, zone 9", "there is no zone 9"},
            {"03:10, zone 3", "what was observed?"},
            {"", "what was observed?"},
            {"siren and chime", "one thing at a time"},
            {"siren, zone 1, zone 3", "two different zones"},
            {"siren, 03:10, 04:10", "two times"},
            {"siren, unset, night", "set or unset?"},
            {"siren, set, unset", "set or unset?"},
            {"siren, 25:10", "\"25:10\" is not understood"},
            {"siren, 3:61", "\"3:61\" is not understood"},
            {"siren 13 pm", "\"13\" is not understood"},
            {"siren 3", "did you mean \"3 am\", \"3 pm\" or \"zone 3\"?"},
            {"siren at 3", "\"3\" is 03:00 or 15:00: say \"3:00 am\", \"3:00 pm\""},
            {"siren, ten past three", "\"ten past three\" is 03:10 or 15:10"},
            {"siren, half past twelve", "\"half past twelve\" is 00:30 or 12:30"},
            {"siren, 3 to 4 pm", "did you mean \"3 am\""},
            {"siren, 22:00 in the morning", "\"22:00\" is not \"in the morning\""},
            {"siren, 12 in the evening", "\"12\" is not \"in the evening\""},
            {"siren in the evening in the night", "two different parts of the day"},
            {"siren, coma", "\"coma\" is not understood"},
            {"siren, won't frob", "\"won't\" is not understood"},
            {"siren doesn't", "\"doesn't\" is not understood"},
            {"smoke alarm", "no zone of this site has one"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct why_question question = {.zone = 77};
        struct problem problem = {0};
        assert_false(why_read(&house.it.site, text_of(cases[i][0]), &question, &problem).good);
        if (strstr(problem.text, cases[i][1]) == NULL) {
            fail_msg("\"%s\" gives \"%s\", not \"%s\"", cases[i][0], problem.text, cases[i][1]);
        }
        assert_int_equal(question.zone, 77);
    }
    finish(&house);
}

static void an_unknown_word_gets_no_far_fetched_hint(void **state) {
    (void)state;
    struct spoken_house house;
    build(&house);
    static const char *const cases[] = {"siren, coma", "siren, love", "siren, watch"};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct why_question question;
        struct problem problem = {0};
        assert_false(why_read(&house.it.site, text_of(cases[i]), &question, &problem).good);
        if (strstr(problem.text, "did you mean") != NULL) {
            fail_msg("\"%s\" gives \"%s\"", cases[i], problem.text);
        }
    }
    finish(&house);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(words_are_understood),
            cmocka_unit_test(everyday_words_are_understood),
            cmocka_unit_test(hours_are_understood_as_people_say_them),
            cmocka_unit_test(what_was_taken_otherwise_is_noted),
            cmocka_unit_test(names_of_the_site_go_before_everyday_words),
            cmocka_unit_test(the_list_holds_what_is_understood),
            cmocka_unit_test(what_is_not_understood_is_said),
            cmocka_unit_test(an_unknown_word_gets_no_far_fetched_hint),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
