/* The list of tests of a small house, its times worked out by hand, and what each kind of mistake is told as. */
#include "acceptance/match.h"
#include "acceptance/say.h"

#include "check/test_site.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* cmocka's own allocator counts what a fixture leaves to its test as lost. */
static void *get(void *context, size_t size) {
    (void)context;
    return malloc(size);
}

static void give(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

static struct test_site house;
static struct arena arena;
static struct acceptance acceptance;
static struct acceptance_course course;

static int begin(void **state) {
    (void)state;
    arena_init(&arena, (struct pages){.get = get, .give = give}, 0);
    test_site_fill(&house, SITE_WORDS_UK);
    house.site.station.account = text_of("1234");
    house.site.settings.abort_window_s = 20;
    house.site.settings.tolerance_tenths = 1;
    assert_true(acceptance_make(&house.site, &arena, &acceptance, NULL).good);
    assert_true(acceptance_begin(&acceptance, false, &arena, &course, NULL).good);
    return 0;
}

static void make_again(void) {
    assert_true(acceptance_make(&house.site, &arena, &acceptance, NULL).good);
    assert_true(acceptance_begin(&acceptance, false, &arena, &course, NULL).good);
}

static int end(void **state) {
    (void)state;
    arena_finish(&arena);
    return 0;
}

static size_t named(const char *name) {
    size_t test = 0;
    while (test < acceptance.count && !text_is(acceptance.tests[test].name, name)) {
        test++;
    }
    assert_true(test < acceptance.count);
    return test;
}

static const struct acceptance_signal *awaited(
        const char *name, enum event_kind kind, bool restore) {
    const struct acceptance_test *test = &acceptance.tests[named(name)];
    for (size_t i = 0; i < test->signal_count; i++) {
        if (test->signals[i].own && test->signals[i].event.kind == kind &&
                test->signals[i].event.restore == restore) {
            return &test->signals[i];
        }
    }
    return NULL;
}

/* Entry delay 30 s (27..33), abort window 20 s (18..22), each 10 % off at most (ANSI/SIA CP-01, timer tolerance, from
 * memory), and 20 s on the way. */
static void times_by_hand(void **state) {
    (void)state;
    static const struct {
        const char *name;
        enum event_kind kind;
        int32_t low_s;
        int32_t high_s;
    } rows[] = {
            {"zone 1", EVENT_INTRUSION, 27 + 18, 33 + 22 + ACCEPTANCE_WAY_S},
            {"zone 3", EVENT_INTRUSION, 18, 22 + ACCEPTANCE_WAY_S},
            {"zone 4", EVENT_HOLD_UP, 0, ACCEPTANCE_WAY_S},
            {"zone 5", EVENT_INTRUSION, 18, 22 + ACCEPTANCE_WAY_S},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct acceptance_signal *signal = awaited(rows[i].name, rows[i].kind, false);
        assert_non_null(signal);
        assert_int_equal(signal->low_s, rows[i].low_s);
        assert_int_equal(signal->high_s, rows[i].high_s);
        assert_non_null(awaited(rows[i].name, rows[i].kind, true));
    }
    assert_non_null(awaited("user baker", EVENT_SET, false));
    assert_non_null(awaited("user baker", EVENT_UNSET, false));
    assert_non_null(awaited("mains", EVENT_MAINS, true));
    assert_int_equal(named("on test"), 0);
    assert_int_equal(named("off test"), acceptance.count - 1);
}

/** A signal as it would come in a frame; the explanation it brings, or NONE. */
enum { NONE = ACCEPTANCE_NOTE_COUNT };

static int hear_from(const char *event, int64_t at_ms, bool of_a_list) {
    static int64_t id;
    struct acceptance_heard heard[ACCEPTANCE_HEARD_MAX];
    char data[64];
    (void)snprintf(data, sizeof data, "#1234|%s", event);
    assert_int_equal(acceptance_read(text_of(data), heard), 1);
    heard[0].id = ++id;
    heard[0].received_ms = at_ms;
    heard[0].no_prefix = of_a_list;
    const struct acceptance_said *said = acceptance_hear(&course, &heard[0]);
    if (said == NULL) {
        return NONE;
    }
    struct text_builder words;
    text_builder_init(&words, &arena);
    acceptance_say(&acceptance, said, &words);
    assert_true(text_built(&words).length > 10);
    return (int)said->note;
}

static int hear_at(const char *event, int64_t at_ms) {
    return hear_from(event, at_ms, false);
}

static int hear(const char *event) {
    return hear_at(event, 1000);
}

static bool done(const char *name) {
    return course.progress[named(name)].done;
}

static void by_hand(const char *name) {
    acceptance_hand(&course, named(name), text_of("N. Tester"), 1);
}

static void a_zone_in_turn_is_ticked_off_by_alarm_and_end(void **state) {
    (void)state;
    by_hand("on test");
    assert_int_equal(acceptance_next(&course), named("zone 1"));
    assert_int_equal(hear("1130 01 001"), NONE);
    assert_true(acceptance_waits(&course, named("zone 1")));
    assert_false(done("zone 1"));
    assert_int_equal(acceptance_next(&course), named("zone 2"));
    assert_int_equal(hear("3130 01 001"), NONE);
    assert_true(done("zone 1"));
    assert_int_equal(hear("Nri1/BA2"), NONE); /* the other format does as well */
    assert_int_equal(hear("Nri1/BR2"), NONE);
    assert_true(done("zone 2"));
    /* what comes along is no news */
    assert_int_equal(hear("1401 01 000"), NONE);
    assert_int_equal(hear("1406 01 000"), NONE);
    assert_int_equal(hear("1602 00 000"), NONE);
    assert_true(done("report"));
}

static void what_is_wrong_is_told_and_ticks_nothing_off(void **state) {
    (void)state;
    by_hand("on test");
    assert_int_equal(hear("1130 01 003"), ACCEPTANCE_WRONG_ZONE);
    assert_int_equal(hear("3130 01 003"), NONE); /* its end says nothing new */
    assert_int_equal(hear("1130 01 077"), ACCEPTANCE_NO_SUCH_ZONE);
    assert_int_equal(hear("1130 02 001"), ACCEPTANCE_WRONG_AREA);
    assert_int_equal(hear("3130 02 001"), NONE);
    assert_int_equal(hear("1110 01 001"), ACCEPTANCE_OTHER_KIND);
    assert_int_equal(hear("3130 01 001"), ACCEPTANCE_NO_ALARM);
    assert_int_equal(hear("1121 01 002"), ACCEPTANCE_DURESS_CODE);
    for (size_t i = 1; i < acceptance.count; i++) {
        assert_false(course.progress[i].done);
        assert_int_equal(course.progress[i].seen, 0);
    }
    assert_int_equal(hear("1130 01 001"), NONE);
    /* again, where another is next: that one speaks under this number, or nobody has moved on */
    assert_int_equal(hear("3130 01 001"), NONE);
    assert_int_equal(hear("1130 01 001"), ACCEPTANCE_WRONG_ZONE);
}

/* It trips again before its end, and whoever walks is at the next one by then. */
static void a_zone_that_trips_twice_is_no_news(void **state) {
    (void)state;
    by_hand("on test");
    assert_int_equal(hear("1130 01 001"), NONE);
    assert_int_equal(acceptance_next(&course), named("zone 2"));
    assert_int_equal(hear("1130 01 001"), NONE);
    assert_int_equal(course.said_count, 0);
    assert_int_equal(hear("1110 01 001"), ACCEPTANCE_OTHER_KIND); /* what is new is told */
    assert_int_equal(hear("3130 01 001"), NONE);
    assert_true(done("zone 1"));
    house.site.panel.events[SITE_ENTRY] = text_of("130");
    /* under another code than the file says it is none that came before */
    house.site.station.events[SITE_ENTRY] = text_of("134");
    make_again();
    by_hand("on test");
    assert_int_equal(hear("1134 01 001"), NONE);
    assert_int_equal(hear("1134 01 001"), NONE);
    assert_int_equal(hear("1130 01 001"), ACCEPTANCE_OTHER_KIND);
}

/* An exit error by user (457) is of whoever set, not of the zone of that number: it hides no exchange. */
static void a_user_s_number_is_no_zone_s(void **state) {
    (void)state;
    by_hand("on test");
    assert_int_equal(hear("1457 01 003"), NONE);
    assert_int_equal(hear("1457 01 077"), NONE);
    assert_int_equal(hear("1374 01 077"), ACCEPTANCE_NO_SUCH_ZONE); /* the same, by zone */
    assert_int_equal(hear("1457 01 001"), NONE);
    assert_int_equal(hear("1130 01 002"), ACCEPTANCE_WRONG_ZONE);
    assert_int_equal(hear("1130 01 001"), ACCEPTANCE_EXCHANGED);
    assert_false(done("zone 1"));
}

/* Contact ID's 6: the condition was reported before and goes on. Nobody has set anything off, so nothing is ticked; and
 * what is told of it does not hide where somebody walks. */
static void a_state_reported_again_is_no_event(void **state) {
    (void)state;
    by_hand("on test");
    assert_int_equal(hear("6130 01 001"), ACCEPTANCE_STILL);
    assert_int_equal(course.progress[named("zone 1")].seen, 0);
    assert_int_equal(course.said[0].test, named("zone 1"));
    assert_int_equal(hear("6301 00 000"), ACCEPTANCE_STILL);
    assert_int_equal(course.progress[named("mains")].seen, 0);
    assert_int_equal(course.said[1].test, named("mains"));
    assert_int_equal(hear("6401 01 001"), NONE); /* nothing that goes on */
    /* SIA's O, an event of before (from memory, unverified), is none of now either */
    assert_int_equal(hear("Ori1/BA001"), ACCEPTANCE_STILL);
    assert_int_equal(course.said[2].test, named("zone 1"));
    assert_int_equal(hear("ORP"), NONE);
    assert_false(done("report"));
    assert_int_equal(course.progress[named("zone 1")].seen, 0);
    assert_int_equal(hear("1130 01 003"), ACCEPTANCE_WRONG_ZONE);
    assert_int_equal(hear("6130 01 003"), ACCEPTANCE_STILL);
    assert_int_equal(hear("3130 01 003"), NONE);
    assert_int_equal(hear("1130 01 002"), ACCEPTANCE_WRONG_ZONE);
    assert_int_equal(hear("1130 01 001"), ACCEPTANCE_EXCHANGED);
    assert_int_equal(hear("1130 01 001"), NONE);
    assert_int_equal(hear("6130 01 001"), ACCEPTANCE_STILL);
    assert_int_equal(hear("3130 01 001"), NONE);
    assert_true(done("zone 1"));
    assert_false(done("zone 3"));
}

/* Of radio devices that the panel misses after 2 h (10 % off at most, and 20 s on the way), and of zones that may be
 * bypassed; by whom the panel takes it, and not of the hold-up button: it is never bypassed. */
static void devices_missed_and_zones_bypassed(void **state) {
    (void)state;
    house.profiles[0].radio = true;
    house.profiles[2].radio = true;
    house.site.settings.supervision_window_s = 7200;
    for (size_t i = 0; i < house.site.zone_count; i++) {
        house.zones[i].supervised = i != 2;
        house.zones[i].bypassable = true;
    }
    assert_true(acceptance_make(&house.site, &arena, &acceptance, NULL).good);
    assert_true(acceptance_begin(&acceptance, false, &arena, &course, NULL).good);
    const struct acceptance_test *missed = &acceptance.tests[named("supervision 1")];
    const struct acceptance_signal *signal = awaited("supervision 1", EVENT_SUPERVISION, false);
    const int32_t at_s = missed->steps[signal->of_step].at_s;
    assert_int_equal(at_s + signal->low_s, 6480);
    assert_int_equal(at_s + signal->high_s, 7920 + ACCEPTANCE_WAY_S);
    for (size_t i = 0; i < missed->signal_count; i++) {
        assert_int_equal(missed->signals[i].event.zone, missed->index);
    }
    by_hand("on test");
    assert_int_equal(hear("1381 01 001"), NONE);
    assert_true(done("supervision 1"));
    assert_int_equal(hear("3381 01 001"), NONE); /* heard again: comes along */
    assert_int_equal(hear("1570 01 001"), NONE);
    assert_true(done("bypass 1"));
    assert_false(done("bypass 2"));
    (void)named("bypass 2");
    (void)named("supervision 4");
    static const char *const none[] = {"supervision 2", "supervision 3", "bypass 4"};
    for (size_t i = 0; i < acceptance.count; i++) {
        for (size_t k = 0; k < sizeof none / sizeof none[0]; k++) {
            assert_false(text_is(acceptance.tests[i].name, none[k]));
        }
    }
}

/* Two numbers exchanged in the panel, as whoever looks at each answer walks: the second comes in the turn of the first,
 * which is put off; then the first in the turn of the second. */
static void exchanged_told_by_who_looks(void **state) {
    (void)state;
    by_hand("on test");
    assert_int_equal(hear("1130 01 002"), ACCEPTANCE_WRONG_ZONE);
    assert_int_equal(hear("3130 01 002"), NONE);
    acceptance_put_off(&course, named("zone 1"));
    assert_int_equal(acceptance_next(&course), named("zone 2"));
    assert_int_equal(hear("1130 01 001"), ACCEPTANCE_EXCHANGED);
    assert_int_equal(hear("3130 01 001"), NONE);
    assert_false(done("zone 1"));
    assert_false(done("zone 2"));
}

/* As whoever walks on without looking: what comes last would tick off the first. */
static void exchanged_told_by_who_walks_on(void **state) {
    (void)state;
    by_hand("on test");
    assert_int_equal(hear("1130 01 003"), ACCEPTANCE_WRONG_ZONE);
    assert_int_equal(hear("1130 01 002"), ACCEPTANCE_WRONG_ZONE);
    assert_int_equal(hear("1130 01 001"), ACCEPTANCE_EXCHANGED);
    assert_false(done("zone 1"));
    /* mended, it is done again and counts */
    assert_int_equal(hear("1130 01 001"), NONE);
    assert_int_equal(hear("3130 01 001"), NONE);
    assert_true(done("zone 1"));
    assert_int_equal(hear("1130 01 001"), ACCEPTANCE_WRONG_ZONE); /* somebody passes there again */
    assert_true(done("zone 1"));
    assert_int_equal(hear("1130 01 002"), NONE);
}

/* What is told first and says nothing of where somebody walks hides no exchange: a lid that reports as a module, a
 * bypass of the panel's own, a number that nobody knows, another panel, an end alone, a zone done before. */
static void exchanged_told_whatever_came_first(void **state) {
    (void)state;
    static const struct {
        const char *event;
        int note;
    } rows[] = {{"1145 01 003", ACCEPTANCE_MODULE}, {"1575 01 003", ACCEPTANCE_ITSELF},
            {"1130 01 077", ACCEPTANCE_NO_SUCH_ZONE}, {"3130 01 001", ACCEPTANCE_NO_ALARM},
            {"1121 01 002", ACCEPTANCE_DURESS_CODE}, {"1130 02 005", ACCEPTANCE_WRONG_ZONE}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        assert_true(acceptance_begin(&acceptance, false, &arena, &course, NULL).good);
        by_hand("on test");
        by_hand("zone 5");
        assert_int_equal(hear(rows[i].event), rows[i].note);
        assert_int_equal(hear("1130 01 002"), ACCEPTANCE_WRONG_ZONE);
        assert_int_equal(hear("3130 01 002"), NONE);
        assert_int_equal(hear("1130 01 001"), ACCEPTANCE_EXCHANGED);
        assert_int_equal(hear("3130 01 001"), NONE);
        assert_false(done("zone 1"));
        assert_false(done("zone 2"));
    }
    /* but a zone that answered itself, although late or with another code, was there */
    assert_true(acceptance_begin(&acceptance, false, &arena, &course, NULL).good);
    by_hand("on test");
    assert_int_equal(hear("1110 01 001"), ACCEPTANCE_OTHER_KIND);
    assert_int_equal(hear("1130 01 002"), ACCEPTANCE_WRONG_ZONE);
    assert_int_equal(hear("1130 01 001"), NONE);
}

/* Who was somewhere else first, with zones between that have not come, has not shown that the two are exchanged; but
 * when the first comes again in the turn of the second, its tick was the other's. */
static void exchanged_told_late(void **state) {
    (void)state;
    by_hand("on test");
    assert_int_equal(hear("1130 01 003"), ACCEPTANCE_WRONG_ZONE);
    assert_int_equal(hear("1130 01 001"), NONE);
    assert_int_equal(hear("3130 01 001"), NONE);
    assert_true(done("zone 1"));
    by_hand("zone 2");
    assert_int_equal(acceptance_next(&course), named("zone 3"));
    assert_int_equal(hear("1130 01 001"), ACCEPTANCE_EXCHANGED);
    assert_false(done("zone 1"));
    assert_int_equal(acceptance_next(&course), named("zone 1"));
}

static void in_any_order_whichever_comes_counts(void **state) {
    (void)state;
    assert_true(acceptance_begin(&acceptance, true, &arena, &course, NULL).good);
    by_hand("on test");
    assert_int_equal(hear("1130 01 003"), NONE);
    assert_int_equal(hear("3130 01 003"), NONE);
    assert_true(done("zone 3"));
    assert_int_equal(acceptance_next(&course), named("zone 1"));
}

static void too_late_and_too_early_after_now(void **state) {
    (void)state;
    static const struct {
        int64_t after_ms;
        int note;
    } rows[] = {{75000, NONE}, {76000, ACCEPTANCE_LATE}, {44000, NONE}, {43000, ACCEPTANCE_EARLY},
            /* a clock that jumped by 2^32 and by 2^31 - 1 seconds */
            {INT64_C(4294967356000), ACCEPTANCE_LATE}, {INT64_C(2147483647000), ACCEPTANCE_LATE},
            {INT64_C(-4294967236000), ACCEPTANCE_EARLY}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        assert_true(acceptance_begin(&acceptance, false, &arena, &course, NULL).good);
        by_hand("on test");
        acceptance_now(&course, 5000);
        assert_int_equal(hear_at("1130 01 001", 5000 + rows[i].after_ms), rows[i].note);
        assert_true((course.progress[named("zone 1")].seen != 0) == (rows[i].note == NONE));
        assert_int_equal(hear_at("3130 01 001", 5000 + rows[i].after_ms), NONE); /* no news */
        assert_true(done("zone 1") == (rows[i].note == NONE));
    }
}

/* How long he stays out is his choice, sooner or later than the panel model plays it; his set is held to its time. */
static void who_said_now_comes_back_when_he_likes(void **state) {
    (void)state;
    static const int64_t back_ms[] = {100000, 7200000};
    const size_t baker = named("user baker");
    for (size_t i = 0; i < sizeof back_ms / sizeof back_ms[0]; i++) {
        assert_true(acceptance_begin(&acceptance, false, &arena, &course, NULL).good);
        for (size_t k = 0; k < baker; k++) {
            acceptance_hand(&course, k, text_of("N. Tester"), 1);
        }
        acceptance_now(&course, 5000);
        assert_int_equal(hear_at("3401 01 001", 5000 + 70000), NONE);
        assert_int_equal(hear_at("1401 01 001", 5000 + back_ms[i]), NONE);
        assert_true(done("user baker"));
    }
    assert_int_equal(acceptance_next(&course), named("user Robin"));
    acceptance_now(&course, 5000);
    assert_int_equal(hear_at("3401 01 002", 5000 + 7200000), ACCEPTANCE_LATE);
}

/* The clock of a list is the station's, and often tells no seconds. */
static void lines_of_a_list_are_not_held_to_now(void **state) {
    (void)state;
    static const int64_t after_ms[] = {-60000, 1000, 600000};
    for (size_t i = 0; i < sizeof after_ms / sizeof after_ms[0]; i++) {
        assert_true(acceptance_begin(&acceptance, false, &arena, &course, NULL).good);
        by_hand("on test");
        acceptance_now(&course, 100000);
        assert_int_equal(hear_from("1130 01 001", 100000 + after_ms[i], true), NONE);
        assert_int_equal(hear_from("3130 01 001", 100000 + after_ms[i], true), NONE);
        assert_true(done("zone 1"));
    }
}

static void another_code_than_the_file_says(void **state) {
    (void)state;
    house.site.station.events[SITE_ENTRY] = text_of("134");
    house.site.panel.events[SITE_ENTRY] = text_of("130");
    assert_true(acceptance_make(&house.site, &arena, &acceptance, NULL).good);
    assert_true(acceptance_begin(&acceptance, false, &arena, &course, NULL).good);
    by_hand("on test");
    assert_int_equal(hear("3131 01 001"), ACCEPTANCE_NO_ALARM);
    assert_int_equal(hear("1131 01 001"), ACCEPTANCE_OTHER_CODE);
    assert_int_equal(hear("3131 01 001"), NONE);
    assert_int_equal(hear("1134 01 001"), NONE);
    assert_true(course.progress[named("zone 1")].seen != 0);
}

/* A code that Lintel's tables do not follow up, but the file awaits: begun, ended and going on are told apart. */
static void a_code_that_only_the_file_knows(void **state) {
    (void)state;
    house.site.station.events[SITE_ENTRY] = text_of("150");
    house.site.panel.events[SITE_ENTRY] = text_of("150");
    make_again();
    by_hand("on test");
    assert_int_equal(hear("3150 01 001"), ACCEPTANCE_NO_ALARM);
    assert_int_equal(hear("6150 01 001"), ACCEPTANCE_STILL);
    assert_int_equal(course.progress[named("zone 1")].seen, 0);
    assert_int_equal(hear("6627 01 001"), NONE);
    assert_int_equal(hear("1150 01 001"), NONE);
    assert_true(acceptance_waits(&course, named("zone 1")));
    assert_int_equal(hear("3150 01 001"), NONE);
    assert_true(done("zone 1"));
}

/* The number of a person is learned at his test, and is nobody else's then. */
static void people_by_their_numbers(void **state) {
    (void)state;
    for (size_t i = 0; i < named("user baker"); i++) {
        acceptance_hand(&course, i, text_of("N. Tester"), 1);
    }
    assert_int_equal(hear("3401 01 007"), NONE);
    assert_int_equal(hear("1401 01 008"), ACCEPTANCE_SAME_USER);
    assert_int_equal(hear("1401 01 007"), NONE);
    assert_true(done("user baker"));
    assert_int_equal(acceptance_next(&course), named("user Robin"));
    assert_int_equal(hear("3401 01 007"), ACCEPTANCE_SAME_USER);
    assert_int_equal(hear("1121 01 008"), ACCEPTANCE_DURESS_CODE);
    assert_int_equal(hear("3401 01 008"), NONE);
    assert_int_equal(hear("1401 01 008"), NONE);
    assert_true(done("user Robin"));
}

/* Whoever walks sets first, with the code of his own: the person's own set takes the place of that, and its unset has
 * to come under the same number. What is somebody else's already takes no place. */
static void the_last_set_is_the_person_s(void **state) {
    (void)state;
    for (size_t i = 0; i < named("user baker"); i++) {
        acceptance_hand(&course, i, text_of("N. Tester"), 1);
    }
    assert_int_equal(hear("3401 01 009"), NONE);
    assert_int_equal(hear("3401 02 009"), NONE); /* one code sets both areas */
    assert_int_equal(hear("1401 01 001"), ACCEPTANCE_SAME_USER);
    assert_int_equal(hear("3401 01 001"), NONE);
    assert_int_equal(course.user_numbers[BAKER], 1);
    assert_int_equal(hear("1401 01 009"), ACCEPTANCE_SAME_USER);
    assert_false(done("user baker"));
    assert_int_equal(hear("1401 01 001"), NONE);
    assert_true(done("user baker"));
    assert_int_equal(acceptance_next(&course), named("user Robin"));
    assert_int_equal(hear("Nri1/CL9"), NONE);
    assert_int_equal(hear("Nri1/CL1"), ACCEPTANCE_SAME_USER);
    assert_int_equal(course.user_numbers[ROBIN], 9);
    assert_int_equal(hear("Nri1/CL2"), NONE);
    assert_int_equal(hear("Nri1/OP2"), NONE);
    assert_true(done("user Robin"));
    assert_int_equal(course.user_numbers[BAKER], 1);
}

/* By a clock, from afar, or of a whole area: the number is no user's. */
static void an_act_of_nobody_s_is_no_user_s(void **state) {
    (void)state;
    static const char *const sets[] = {"3403 01 001", "3407 01 001", "Nri1/CA1", "Nri1/CG1",
            "Nri1/CQ1", "Nri1/id1/CA1", "Nri1/CP1"};
    static const char *const unsets[] = {
            "1403 01 001", "1407 01 001", "Nri1/OA1", "Nri1/OG1", "Nri1/OQ1"};
    const size_t baker = named("user baker");
    for (size_t i = 0; i < baker; i++) {
        acceptance_hand(&course, i, text_of("N. Tester"), 1);
    }
    for (size_t i = 0; i < sizeof sets / sizeof sets[0]; i++) {
        assert_int_equal(hear(sets[i]), NONE);
        assert_int_equal(course.progress[baker].seen, 0);
        assert_int_equal(course.user_numbers[BAKER], 0);
    }
    assert_int_equal(hear("3401 01 001"), NONE);
    for (size_t i = 0; i < sizeof unsets / sizeof unsets[0]; i++) {
        assert_int_equal(hear(unsets[i]), NONE);
        assert_false(done("user baker"));
    }
    assert_int_equal(hear("1401 01 001"), NONE);
    assert_true(done("user baker"));
}

/* The unset that ends the last zone's test comes when the first user is next: it is whoever's who walks. */
static void an_unset_before_the_set_is_nobodys(void **state) {
    (void)state;
    const size_t baker = named("user baker");
    for (size_t i = 0; i < baker; i++) {
        if (i != named("zone 5")) {
            acceptance_hand(&course, i, text_of("N. Tester"), 1);
        }
    }
    assert_int_equal(hear("1401 02 099"), NONE); /* a zone's test may begin with it */
    assert_int_equal(hear("1130 02 005"), NONE);
    assert_int_equal(hear("3130 02 005"), NONE);
    assert_true(done("zone 5"));
    assert_int_equal(acceptance_next(&course), baker);
    assert_int_equal(hear("1401 02 099"), NONE);
    assert_int_equal(course.progress[baker].seen, 0);
    assert_int_equal(course.user_numbers[BAKER], 0);
    assert_int_equal(hear("3401 01 001"), NONE);
    assert_int_equal(hear("1401 01 001"), NONE);
    assert_true(done("user baker"));
    /* where no zone's test explains it, it is told */
    make_again();
    for (size_t i = 0; i < baker; i++) {
        acceptance_hand(&course, i, text_of("N. Tester"), 1);
    }
    assert_int_equal(hear("1401 01 001"), ACCEPTANCE_NO_SET);
    assert_int_equal(course.user_numbers[BAKER], 0);
}

/* A module's tamper and battery, and the bypass that the panel does by itself, are of no test; so is a hold-up in SIA
 * of a zone that is a button, when a duress code is next. */
static void of_no_test_and_told(void **state) {
    (void)state;
    house.profiles[0].radio = true;
    house.profiles[0].tamper = SITE_TAMPER_COVER;
    for (size_t i = 0; i < house.site.zone_count; i++) {
        house.zones[i].bypassable = true;
        house.zones[i].supervised = true;
    }
    house.people[ROBIN].duress = true;
    make_again();
    by_hand("on test");
    static const struct {
        const char *event;
        enum acceptance_note note;
    } rows[] = {{"1341 00 001", ACCEPTANCE_MODULE}, {"3341 00 001", ACCEPTANCE_MODULE},
            {"1145 00 001", ACCEPTANCE_MODULE}, {"6341 00 001", ACCEPTANCE_MODULE},
            {"NES1", ACCEPTANCE_MODULE}, {"NEJ1", ACCEPTANCE_MODULE},
            {"1338 00 003", ACCEPTANCE_MODULE}, {"1575 01 003", ACCEPTANCE_ITSELF}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        assert_int_equal(hear(rows[i].event), rows[i].note);
    }
    for (size_t i = 1; i < acceptance.count; i++) {
        assert_int_equal(course.progress[i].seen, 0);
    }
    (void)named("tamper 1");
    assert_int_equal(hear("1384 01 003"), NONE);
    assert_true(done("battery 3"));
    assert_int_equal(hear("1573 01 003"), NONE);
    assert_true(done("bypass 3"));
    const size_t robin = named("duress Robin");
    for (size_t i = 0; i < robin; i++) {
        acceptance_hand(&course, i, text_of("N. Tester"), 1);
    }
    assert_int_equal(hear("NHA004"), ACCEPTANCE_BUTTON); /* the till */
    assert_false(done("duress Robin"));
    assert_int_equal(hear("NHA003"), NONE);
    assert_true(done("duress Robin"));
}

/* The site file has no prefix: the first that comes is the panel's, others are told once and count for nothing; a line
 * of a list has none. */
static void one_prefix_alone_counts(void **state) {
    (void)state;
    by_hand("on test");
    struct acceptance_heard heard = {.id = 1,
            .received_ms = 1,
            .code = 130,
            .kind = EVENT_INTRUSION,
            .number = 1,
            .area = 1};
    heard.no_prefix = true;
    heard.kind = EVENT_CANCEL;
    assert_null(acceptance_hear(&course, &heard));
    assert_false(course.prefix_known);
    heard = (struct acceptance_heard){.id = 2,
            .received_ms = 2,
            .prefix = 0x1A,
            .code = 130,
            .kind = EVENT_INTRUSION,
            .number = 1,
            .area = 1};
    assert_null(acceptance_hear(&course, &heard));
    assert_int_equal(course.prefix, 0x1A);
    assert_true(acceptance_waits(&course, named("zone 1")));
    heard.back = true;
    heard.prefix = 0;
    assert_int_equal(acceptance_hear(&course, &heard)->note, ACCEPTANCE_PREFIX);
    assert_null(acceptance_hear(&course, &heard));
    assert_false(done("zone 1"));
    heard.no_prefix = true;
    assert_null(acceptance_hear(&course, &heard));
    assert_true(done("zone 1"));
}

/* A test put off comes when all others are done, and before what ends the list; a tick by hand can be taken back. */
static void what_is_put_off_comes_last(void **state) {
    (void)state;
    acceptance_put_off(&course, named("on test"));
    assert_int_equal(acceptance_next(&course), named("on test"));
    by_hand("on test");
    acceptance_put_off(&course, named("zone 1"));
    assert_int_equal(acceptance_next(&course), named("zone 2"));
    for (size_t i = 0; i < acceptance.count; i++) {
        if (i != named("zone 1") && i != named("station") && i != named("off test")) {
            acceptance_hand(&course, i, text_of("N. Tester"), 1);
        }
    }
    assert_int_equal(acceptance_next(&course), named("zone 1"));
    assert_int_equal(hear("1130 01 001"), NONE);
    assert_int_equal(hear("3130 01 001"), NONE);
    acceptance_take_back(&course, named("zone 1")); /* signals ticked it off */
    assert_int_equal(acceptance_next(&course), named("station"));
    acceptance_put_off(&course, named("station"));
    assert_int_equal(acceptance_next(&course), named("station"));
    acceptance_take_back(&course, named("zone 2"));
    assert_int_equal(acceptance_next(&course), named("zone 2"));
}

static void accepted_only_off_test_and_with_nothing_open(void **state) {
    (void)state;
    for (size_t i = 0; i < acceptance.count; i++) {
        assert_true(acceptance_open(&course) > 0);
        if (i != 3) {
            acceptance_hand(&course, i, text_of("N. Tester"), 1);
        }
    }
    assert_int_equal(acceptance_open(&course), 1);
    acceptance_hand(&course, 3, text_of("N. Tester"), 1);
    assert_int_equal(acceptance_open(&course), 0);
}

static bool is_there(const char *name) {
    for (size_t i = 0; i < acceptance.count; i++) {
        if (text_is(acceptance.tests[i].name, name)) {
            return true;
        }
    }
    return false;
}

static void a_question_answered_with_no_stays_open(void **state) {
    (void)state;
    assert_false(is_there("heard yard horn"));
    house.profiles[2].kind = SITE_SIREN;
    house.devices[TILL_ZONE].name = text_of("yard horn");
    make_again();
    const size_t asked = named("heard yard horn");
    assert_true(acceptance.tests[asked].required && acceptance.tests[asked].by_hand);
    assert_true(text_is(acceptance.tests[asked].says, "Is the yard horn heard?"));
    for (size_t i = 0; i < acceptance.count; i++) {
        if (i != asked) {
            acceptance_hand(&course, i, text_of("N. Tester"), 1);
        }
    }
    assert_int_equal(acceptance_next(&course), asked);
    acceptance_deny(&course, asked, text_of("N. Tester"), 2);
    assert_true(course.progress[asked].denied && !course.progress[asked].done);
    assert_int_equal(acceptance_open(&course), 1);
    assert_int_equal(acceptance_next(&course), acceptance.count); /* the walk goes on */
    acceptance_take_back(&course, asked);
    assert_int_equal(acceptance_next(&course), asked);
    acceptance_deny(&course, asked, text_of("N. Tester"), 3);
    acceptance_hand(&course, asked, text_of("N. Tester"), 4); /* listened again */
    assert_true(course.progress[asked].done && !course.progress[asked].denied);
    assert_int_equal(acceptance_open(&course), 0);
    acceptance_deny(&course, asked, text_of("A. Other"), 5); /* of two, the last one counts */
    assert_int_equal(acceptance_open(&course), 1);
    acceptance_hand(&course, asked, text_of("N. Tester"), 6);
    acceptance_deny(&course, named("mains"), text_of("N. Tester"), 5);
    assert_int_equal(acceptance_open(&course), 0);
    acceptance_take_back(&course, named("mains"));
    acceptance_deny(&course, named("mains"), text_of("N. Tester"), 6); /* it is no question */
    assert_false(course.progress[named("mains")].denied);
}

/* What a panel kept back comes in one frame, as many events as that takes. */
static void all_events_of_a_frame_are_heard(void **state) {
    (void)state;
    struct acceptance_heard heard[ACCEPTANCE_HEARD_MAX];
    char data[256] = "#1234|N";
    for (int zone = 1; zone <= SIA_PART_MAX; zone++) {
        const size_t length = strlen(data);
        (void)snprintf(data + length, sizeof data - length, "%sBA%d", zone > 1 ? "/" : "", zone);
    }
    assert_int_equal(acceptance_read(text_of(data), heard), SIA_PART_MAX);
    for (int zone = 1; zone <= SIA_PART_MAX; zone++) {
        assert_int_equal(heard[zone - 1].number, zone);
    }
}

#define CASE(name) cmocka_unit_test_setup_teardown(name, begin, end)

int main(void) {
    const struct CMUnitTest tests[] = {
            CASE(times_by_hand),
            CASE(a_zone_in_turn_is_ticked_off_by_alarm_and_end),
            CASE(what_is_wrong_is_told_and_ticks_nothing_off),
            CASE(a_zone_that_trips_twice_is_no_news),
            CASE(a_user_s_number_is_no_zone_s),
            CASE(a_state_reported_again_is_no_event),
            CASE(devices_missed_and_zones_bypassed),
            CASE(exchanged_told_by_who_looks),
            CASE(exchanged_told_by_who_walks_on),
            CASE(exchanged_told_whatever_came_first),
            CASE(exchanged_told_late),
            CASE(in_any_order_whichever_comes_counts),
            CASE(too_late_and_too_early_after_now),
            CASE(who_said_now_comes_back_when_he_likes),
            CASE(lines_of_a_list_are_not_held_to_now),
            CASE(another_code_than_the_file_says),
            CASE(a_code_that_only_the_file_knows),
            CASE(people_by_their_numbers),
            CASE(the_last_set_is_the_person_s),
            CASE(an_act_of_nobody_s_is_no_user_s),
            CASE(an_unset_before_the_set_is_nobodys),
            CASE(of_no_test_and_told),
            CASE(one_prefix_alone_counts),
            CASE(what_is_put_off_comes_last),
            CASE(a_question_answered_with_no_stays_open),
            CASE(all_events_of_a_frame_are_heard),
            CASE(accepted_only_off_test_and_with_nothing_open),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
