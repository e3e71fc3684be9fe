/* Toy machines small enough to be worked out by hand: the numbers expected here were, from the words of explore.h. */
#include "pages.h"
#include "replay.h"
#include "toy.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

enum { A, B, C };
enum { BROKEN = 3 };

static struct explore_effect start(explore_activity activity, int32_t low_s, int32_t high_s) {
    return (struct explore_effect){EXPLORE_START, activity, span_of(low_s, high_s)};
}

static struct explore_effect stop(explore_activity activity) {
    return (struct explore_effect){.kind = EXPLORE_STOP, .activity = activity};
}

static struct explore_effect shorten(explore_activity activity, int32_t low_s, int32_t high_s) {
    return (struct explore_effect){EXPLORE_SHORTEN, activity, span_of(low_s, high_s)};
}

static void one_way(struct toy *toy, uint8_t at, explore_activity activity, struct toy_way way) {
    toy->rules[at][activity] = (struct toy_rule){.way_count = 1, .ways = {way}};
}

/* One exploration and what goes with it. */
struct run {
    struct explore_machine machine;
    struct test_pages test_pages;
    struct arena arena;
    struct explore_result result;
};

static void open_run(struct run *run, const struct toy *toy) {
    *run = (struct run){.machine = toy_machine(toy)};
    const struct pages pages = test_pages_over_heap(&run->test_pages);
    const struct explore_options options = {.probe = toy->probing};
    arena_init(&run->arena, pages, 0);
    assert_true(explore_run(&run->machine, &options, pages, &run->arena, &run->result, NULL).good);
    assert_int_equal(run->result.reason, EXPLORE_ENDED);
    if (run->result.verdict == EXPLORE_REFUTED) {
        const char *wrong = replay_story(&run->machine, &run->result);
        assert_string_equal(wrong == NULL ? "" : wrong, "");
    }
}

static void close_run(struct run *run) {
    arena_finish(&run->arena);
    assert_int_equal(run->test_pages.out, 0);
}

static void expect_proven(const struct toy *toy) {
    struct run run;
    open_run(&run, toy);
    assert_int_equal(run.result.verdict, EXPLORE_PROVEN);
    assert_int_equal(run.result.story_count, 0);
    close_run(&run);
}

static void expect_event(const struct run *run, size_t index, explore_activity activity,
        int32_t at_s, const int32_t *started_s, size_t started_count) {
    const struct explore_event *event = &run->result.story[index];
    assert_int_equal(event->activity, activity);
    assert_int_equal(event->at_s, at_s);
    assert_int_equal(event->started_count, started_count);
    for (size_t k = 0; k < started_count; k++) {
        assert_int_equal(event->started_s[k], started_s[k]);
    }
}

static void open_refuted(struct run *run, const struct toy *toy, size_t story_count) {
    open_run(run, toy);
    assert_int_equal(run->result.verdict, EXPLORE_REFUTED);
    assert_int_equal(run->result.violation, BROKEN);
    assert_int_equal(run->result.story_count, story_count);
}

/* A and B race; B must not be first. */
static struct toy race(int32_t b_low_s, int32_t b_high_s) {
    struct toy toy = {
            .begin = {.count = 2, .effects = {start(A, 2, 5), start(B, b_low_s, b_high_s)}}};
    one_way(&toy, 0, A, (struct toy_way){.to = 1});
    one_way(&toy, 0, B, (struct toy_way){.to = 0, .breaks = BROKEN});
    one_way(&toy, 1, B, (struct toy_way){.to = 1});
    return toy;
}

static void a_race_goes_both_ways_where_spans_meet(void **unused) {
    (void)unused;
    struct toy toy = race(6, 8);
    expect_proven(&toy);
    toy = race(5, 8); /* a tie is enough */
    struct run run;
    open_refuted(&run, &toy, 2);
    expect_event(&run, 0, EXPLORE_BEGIN, 0, (const int32_t[]){5, 5}, 2);
    expect_event(&run, 1, B, 5, NULL, 0);
    close_run(&run);
    toy = race(0, 8); /* A draws its least all the same */
    open_refuted(&run, &toy, 2);
    expect_event(&run, 0, EXPLORE_BEGIN, 0, (const int32_t[]){2, 0}, 2);
    expect_event(&run, 1, B, 0, NULL, 0);
    close_run(&run);
}

/* Begin leads to {A, B}; A leaves {B}; nothing else can come first. */
static void it_counts_what_it_took(void **unused) {
    (void)unused;
    const struct toy toy = race(6, 8);
    struct run run;
    open_run(&run, &toy);
    assert_int_equal(run.result.classes_expanded, 2);
    assert_int_equal(run.result.keys, 2);
    assert_int_equal(run.result.levels, 2);
    assert_true(run.result.bytes_peak > 0);
    close_run(&run);
}

static void a_tie_comes_in_both_orders(void **unused) {
    (void)unused;
    for (explore_activity first = A; first <= B; first++) {
        struct toy toy = {.begin = {.count = 2, .effects = {start(A, 3, 3), start(B, 3, 3)}}};
        one_way(&toy, 0, first, (struct toy_way){.to = 1});
        one_way(&toy, 0, first == A ? B : A, (struct toy_way){.to = 2});
        one_way(&toy, 1, first == A ? B : A, (struct toy_way){.to = 1, .breaks = BROKEN});
        struct run run;
        open_refuted(&run, &toy, 3);
        expect_event(&run, 1, first, 3, NULL, 0);
        expect_event(&run, 2, first == A ? B : A, 3, NULL, 0);
        close_run(&run);
    }
}

static void what_is_stopped_does_not_fire(void **unused) {
    (void)unused;
    struct toy toy = {.begin = {.count = 2, .effects = {start(A, 1, 2), start(B, 3, 4)}}};
    one_way(&toy, 0, A, (struct toy_way){.to = 1, .count = 2, .effects = {stop(B), stop(C)}});
    one_way(&toy, 0, B, (struct toy_way){.breaks = BROKEN});
    one_way(&toy, 1, B, (struct toy_way){.breaks = BROKEN});
    expect_proven(&toy);
    toy.begin.effects[1] = start(B, 2, 4); /* now it can be before A, in the same second */
    struct run run;
    open_refuted(&run, &toy, 2);
    expect_event(&run, 1, B, 2, NULL, 0);
    close_run(&run);
}

/* A fires at 5 and shortens B; B must have fired before C does. */
static struct toy shortened(int32_t b_low_s, int32_t b_high_s, int32_t c_s) {
    struct toy toy = {
            .begin = {.count = 3,
                    .effects = {start(A, 5, 5), start(B, b_low_s, b_high_s), start(C, c_s, c_s)}}};
    one_way(&toy, 0, A, (struct toy_way){.to = 0, .count = 1, .effects = {shorten(B, 2, 3)}});
    one_way(&toy, 0, B, (struct toy_way){.to = 1, .count = 1, .effects = {shorten(B, 1, 1)}});
    one_way(&toy, 0, C, (struct toy_way){.breaks = BROKEN});
    return toy;
}

static void a_shortened_deadline_is_the_earlier_of_two(void **unused) {
    (void)unused;
    struct toy toy = shortened(20, 30, 9); /* B ends at 7 .. 8 */
    expect_proven(&toy);
    toy = shortened(20, 30, 8);
    struct run run;
    open_refuted(&run, &toy, 3);
    expect_event(&run, 0, EXPLORE_BEGIN, 0, (const int32_t[]){5, 20, 8}, 3);
    expect_event(&run, 1, A, 5, (const int32_t[]){3}, 1);
    expect_event(&run, 2, C, 8, NULL, 0);
    close_run(&run);
    toy = shortened(6, 6, 7); /* never lengthens */
    expect_proven(&toy);
    toy = shortened(6, 30, 8); /* the new one can be 8, the old one too: either will do */
    open_refuted(&run, &toy, 3);
    expect_event(&run, 2, C, 8, NULL, 0);
    close_run(&run);
    toy = shortened(6, 30, 9);
    expect_proven(&toy);
}

static void a_shorten_of_nothing_draws_nothing(void **unused) {
    (void)unused;
    struct toy toy =
            shortened(4, 4, 30); /* B is over when A would shorten it, and is not revived */
    one_way(&toy, 1, A, (struct toy_way){.to = 2, .count = 1, .effects = {shorten(B, 2, 3)}});
    one_way(&toy, 2, B, (struct toy_way){.to = 3});
    one_way(&toy, 2, C, (struct toy_way){.breaks = BROKEN});
    struct run run;
    open_refuted(&run, &toy, 4);
    expect_event(&run, 1, B, 4, (const int32_t[]){-1}, 1);
    expect_event(&run, 2, A, 5, (const int32_t[]){-1}, 1);
    expect_event(&run, 3, C, 30, NULL, 0);
    close_run(&run);
}

/* A would fire at 5; B starts it again at 2, so it fires at 7. C asks at c_s whether A has fired. */
static struct toy started_again(int32_t c_s, bool must_have_fired) {
    struct toy toy = {
            .begin = {.count = 3, .effects = {start(A, 5, 5), start(B, 2, 2), start(C, c_s, c_s)}}};
    one_way(&toy, 0, B, (struct toy_way){.to = 0, .count = 1, .effects = {start(A, 5, 5)}});
    one_way(&toy, 0, A, (struct toy_way){.to = 1});
    one_way(&toy, must_have_fired ? 0 : 1, C, (struct toy_way){.breaks = BROKEN});
    return toy;
}

static void what_is_started_again_is_replaced(void **unused) {
    (void)unused;
    struct toy toy = started_again(6, false);
    expect_proven(&toy);
    toy = started_again(8, true);
    expect_proven(&toy);
    toy = started_again(6, true);
    struct run run;
    open_refuted(&run, &toy, 3);
    expect_event(&run, 1, B, 2, (const int32_t[]){5}, 1);
    expect_event(&run, 2, C, 6, NULL, 0);
    close_run(&run);
}

static void every_alternative_is_tried(void **unused) {
    (void)unused;
    struct toy toy = {.begin = {.count = 1, .effects = {start(A, 1, 4)}}};
    toy.rules[0][A] = (struct toy_rule){.way_count = 3,
            .ways = {{.to = 1}, {.to = 1, .count = 1, .effects = {start(B, 9, 9)}},
                    {.to = 2, .count = 1, .effects = {start(C, 3, 7)}}}};
    one_way(&toy, 2, C, (struct toy_way){.breaks = BROKEN});
    struct run run;
    open_refuted(&run, &toy, 3);
    expect_event(&run, 1, A, 1, (const int32_t[]){3}, 1);
    assert_int_equal(run.result.story[1].choice, 2);
    expect_event(&run, 2, C, 4, NULL, 0);
    close_run(&run);
    toy.rules[0][A].way_count = 2;
    expect_proven(&toy);
}

static void begin_can_end_it(void **unused) {
    (void)unused;
    struct toy toy = {
            .begin = {.breaks = BROKEN, .count = 2, .effects = {start(A, 4, 9), shorten(B, 1, 2)}}};
    struct run run;
    open_refuted(&run, &toy, 1);
    expect_event(&run, 0, EXPLORE_BEGIN, 0, (const int32_t[]){4, -1}, 2);
    assert_int_equal(run.result.classes_expanded, 0);
    close_run(&run);
    toy = (struct toy){.begin = {.ends = true, .count = 1, .effects = {start(A, 4, 9)}}};
    one_way(&toy, 0, A, (struct toy_way){.breaks = BROKEN});
    expect_proven(&toy);
    toy = (struct toy){0}; /* nothing ever runs */
    expect_proven(&toy);
}

/* A at 1 and B at 2 break it in two firings; C breaks it in one, but not before 5: fewest events come first. */
static void the_story_with_fewest_events_is_told(void **unused) {
    (void)unused;
    struct toy toy = {.begin = {.count = 2, .effects = {start(A, 1, 10), start(C, 5, 20)}}};
    one_way(&toy, 0, A, (struct toy_way){.to = 0, .count = 1, .effects = {start(B, 1, 1)}});
    one_way(&toy, 0, B, (struct toy_way){.breaks = BROKEN});
    one_way(&toy, 0, C, (struct toy_way){.breaks = BROKEN});
    struct run run;
    open_refuted(&run, &toy, 2);
    expect_event(&run, 0, EXPLORE_BEGIN, 0, (const int32_t[]){5, 5}, 2);
    expect_event(&run, 1, C, 5, NULL, 0);
    close_run(&run);
    toy.begin.effects[1] = start(C, 11, 20); /* A is always before */
    open_refuted(&run, &toy, 3);
    expect_event(&run, 1, A, 1, (const int32_t[]){1}, 1);
    expect_event(&run, 2, B, 2, NULL, 0);
    close_run(&run);
}

/* Three ways to start A and B: 1..4 and 1..4, 0..2 and 0..4, 0..4 and 0..2. Together they are the square 0..4, though
 * no two of them fill their hull, so the second level is one class. Only the first way has both at 3 or later. */
static void three_ways_become_one_class(void **unused) {
    (void)unused;
    struct toy toy = {.begin = {.to = 0, .count = 1, .effects = {start(C, 7, 7)}}};
    toy.rules[0][C] = (struct toy_rule){.way_count = 3,
            .ways = {{.to = 1,
                             .count = 3,
                             .effects = {start(A, 1, 4), start(B, 1, 4), start(C, 3, 3)}},
                    {.to = 1,
                            .count = 3,
                            .effects = {start(A, 0, 2), start(B, 0, 4), start(C, 3, 3)}},
                    {.to = 1,
                            .count = 3,
                            .effects = {start(A, 0, 4), start(B, 0, 2), start(C, 3, 3)}}}};
    for (explore_activity k = A; k <= B; k++) {
        one_way(&toy, 1, k, (struct toy_way){.to = 2, .ends = true});
    }
    one_way(&toy, 1, C, (struct toy_way){.to = 3, .ends = true});
    struct run run;
    open_run(&run, &toy);
    assert_int_equal(run.result.verdict, EXPLORE_PROVEN);
    assert_int_equal(run.result.classes_expanded, 2);
    close_run(&run);
    one_way(&toy, 1, C, (struct toy_way){.to = 3, .breaks = BROKEN});
    open_refuted(&run, &toy, 3);
    assert_int_equal(run.result.story[1].choice, 0);
    expect_event(&run, 1, C, 7, (const int32_t[]){3, 3, 3}, 3);
    expect_event(&run, 2, C, 10, NULL, 0);
    close_run(&run);
}

static void expect_range(
        const struct explore_ranges *ranges, const struct span *spans, size_t count) {
    assert_int_equal(ranges->count, count);
    assert_false(ranges->overflowed);
    for (size_t k = 0; k < count; k++) {
        assert_int_equal(ranges->interval[k].low_s, spans[k].low_s);
        assert_int_equal(ranges->interval[k].high_s, spans[k].high_s);
    }
}

/* A after 2 .. 5, then B after 3 .. 4 more; C asks at 6 whether B has fired. From begin to B: 5 .. 9 s; broken if that
 * is 6 or more, good if it is 6 or less (a tie is both). Length runs from begin, or from A. */
static struct toy probed(bool from_begin) {
    struct toy toy = {.probing = true,
            .begin = {.mark = from_begin ? 1 : 0,
                    .count = 2,
                    .effects = {start(A, 2, 5), start(C, 6, 6)}}};
    for (uint8_t at = 0; at <= 1; at++) { /* 1: C has fired */
        one_way(&toy, at, A,
                (struct toy_way){.to = at, .mark = 1, .count = 1, .effects = {start(B, 3, 4)}});
    }
    one_way(&toy, 0, C, (struct toy_way){.to = 1, .breaks = BROKEN});
    one_way(&toy, 0, B, (struct toy_way){.to = 0, .mark = 2, .ends = true});
    one_way(&toy, 1, B, (struct toy_way){.to = 1, .mark = 2, .ends = true});
    return toy;
}

static void a_probe_tells_lengths_of_bad_and_good_runs(void **unused) {
    (void)unused;
    struct toy toy = probed(true);
    struct run run;
    open_run(&run, &toy);
    assert_int_equal(run.result.verdict, EXPLORE_REFUTED);
    expect_range(&run.result.bad, (const struct span[]){{6, 9}}, 1);
    expect_range(&run.result.good, (const struct span[]){{5, 6}}, 1);
    close_run(&run);
    toy = probed(false);
    open_run(&run, &toy);
    expect_range(&run.result.bad, (const struct span[]){{3, 4}}, 1);
    expect_range(&run.result.good, (const struct span[]){{3, 4}}, 1);
    close_run(&run);
}

/* A run that is set aside has no length, ends neither good nor bad, and goes no further. */
static void what_is_set_aside_counts_nowhere(void **unused) {
    (void)unused;
    struct toy toy = probed(true);
    struct run run;
    one_way(&toy, 1, B, (struct toy_way){.to = 1, .mark = 2, .aside = true});
    open_run(&run, &toy);
    assert_int_equal(run.result.verdict, EXPLORE_PROVEN);
    expect_range(&run.result.bad, NULL, 0);
    expect_range(&run.result.good, (const struct span[]){{5, 6}}, 1);
    assert_true(run.result.good_ends);
    close_run(&run);
    one_way(&toy, 0, A, (struct toy_way){.aside = true, .count = 1, .effects = {start(B, 3, 4)}});
    one_way(&toy, 1, A, (struct toy_way){.aside = true});
    open_run(&run, &toy);
    expect_range(&run.result.good, NULL, 0);
    assert_false(run.result.good_ends);
    close_run(&run);
}

static void the_same_firing_can_start_and_end_the_interval(void **unused) {
    (void)unused;
    struct toy toy = {.probing = true, .begin = {.count = 1, .effects = {start(A, 1, 4)}}};
    one_way(&toy, 0, A, (struct toy_way){.mark = 3});
    struct run run;
    open_run(&run, &toy);
    assert_int_equal(run.result.verdict, EXPLORE_PROVEN);
    expect_range(&run.result.good, (const struct span[]){{0, 0}}, 1);
    expect_range(&run.result.bad, NULL, 0);
    close_run(&run);
    one_way(&toy, 0, A, (struct toy_way){.mark = 2}); /* never began */
    open_run(&run, &toy);
    expect_range(&run.result.good, NULL, 0);
    close_run(&run);
}

/* Two alternatives of B: 1 .. 2 or 10 .. 11 s; a third of 3 s closes the gap to the first. */
static void lengths_apart_stay_apart(void **unused) {
    (void)unused;
    struct toy toy = {
            .probing = true, .begin = {.mark = 1, .count = 1, .effects = {start(A, 0, 0)}}};
    toy.rules[0][A] = (struct toy_rule){.way_count = 2,
            .ways = {{.to = 1, .count = 1, .effects = {start(B, 10, 11)}},
                    {.to = 1, .count = 1, .effects = {start(B, 1, 2)}},
                    {.to = 1, .count = 1, .effects = {start(B, 3, 3)}}}};
    one_way(&toy, 1, B, (struct toy_way){.to = 1, .mark = 2});
    struct run run;
    open_run(&run, &toy);
    expect_range(&run.result.good, (const struct span[]){{1, 2}, {10, 11}}, 2);
    close_run(&run);
    toy.rules[0][A].way_count = 3;
    open_run(&run, &toy);
    expect_range(&run.result.good, (const struct span[]){{1, 3}, {10, 11}}, 2);
    close_run(&run);
}

/* A at 2 .. 3 ends the interval, B at 7 starts it: the length is -5 .. -4; A again at 9 changes nothing. */
static void the_first_of_each_mark_counts(void **unused) {
    (void)unused;
    struct toy toy = {.probing = true,
            .begin = {.count = 3, .effects = {start(A, 2, 3), start(B, 7, 7), start(C, 9, 9)}}};
    one_way(&toy, 0, A, (struct toy_way){.mark = 2});
    one_way(&toy, 0, B, (struct toy_way){.mark = 1});
    one_way(&toy, 0, C, (struct toy_way){.mark = 3});
    struct run run;
    open_run(&run, &toy);
    expect_range(&run.result.good, (const struct span[]){{-5, -4}}, 1);
    close_run(&run);
}

static bool is_b(const void *context, explore_activity activity) {
    (void)context;
    return activity == B;
}

/* A acts once; B ticks every 3 s for ever, and A must not come between an odd tick and the next. */
static struct toy calendar(int32_t a_low_s, int32_t a_high_s) {
    struct toy toy = {
            .begin = {.count = 2, .effects = {start(A, a_low_s, a_high_s), start(B, 3, 3)}}};
    for (uint8_t at = 0; at < 3; at++) {
        one_way(&toy, at, B,
                (struct toy_way){
                        .to = at == 2 ? 2 : 1 - at, .count = 1, .effects = {start(B, 3, 3)}});
    }
    one_way(&toy, 0, A, (struct toy_way){.to = 2});
    one_way(&toy, 1, A, (struct toy_way){.to = 2, .breaks = BROKEN});
    return toy;
}

/* header: "activities that by themselves keep nothing going, such as a calendar that ticks for ever" */
static void a_calendar_keeps_nothing_going(void **unused) {
    (void)unused;
    struct toy toy = calendar(0, 2);
    for (int kept = 0; kept < 2; kept++) {
        struct run run = {.machine = toy_machine(&toy)};
        const struct pages pages = test_pages_over_heap(&run.test_pages);
        const struct explore_options options = {.probe = true};
        arena_init(&run.arena, pages, 0);
        run.machine.is_background = kept ? is_b : NULL;
        assert_true(explore_run(&run.machine, &options, pages, &run.arena, &run.result, NULL).good);
        assert_int_equal(run.result.reason, EXPLORE_ENDED);
        assert_int_equal(run.result.good_ends, kept);
        close_run(&run);
    }
}

static void a_calendar_ticks_while_others_run(void **unused) {
    (void)unused;
    static const struct {
        int32_t low_s, high_s;
        enum explore_verdict verdict;
    } tries[] = {{0, 2, EXPLORE_PROVEN}, {0, 3, EXPLORE_REFUTED}, {3, 6, EXPLORE_REFUTED},
            {7, 8, EXPLORE_PROVEN}, {60, 61, EXPLORE_REFUTED}, {61, 62, EXPLORE_PROVEN}};
    for (size_t i = 0; i < sizeof tries / sizeof tries[0]; i++) {
        struct toy toy = calendar(tries[i].low_s, tries[i].high_s);
        struct run run = {.machine = toy_machine(&toy)};
        const struct pages pages = test_pages_over_heap(&run.test_pages);
        arena_init(&run.arena, pages, 0);
        run.machine.is_background = is_b;
        assert_true(explore_run(&run.machine, NULL, pages, &run.arena, &run.result, NULL).good);
        assert_int_equal(run.result.reason, EXPLORE_ENDED);
        assert_int_equal(run.result.verdict, tries[i].verdict);
        close_run(&run);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(a_race_goes_both_ways_where_spans_meet),
            cmocka_unit_test(it_counts_what_it_took),
            cmocka_unit_test(a_tie_comes_in_both_orders),
            cmocka_unit_test(what_is_stopped_does_not_fire),
            cmocka_unit_test(a_shortened_deadline_is_the_earlier_of_two),
            cmocka_unit_test(a_shorten_of_nothing_draws_nothing),
            cmocka_unit_test(what_is_started_again_is_replaced),
            cmocka_unit_test(every_alternative_is_tried),
            cmocka_unit_test(begin_can_end_it),
            cmocka_unit_test(the_story_with_fewest_events_is_told),
            cmocka_unit_test(three_ways_become_one_class),
            cmocka_unit_test(a_probe_tells_lengths_of_bad_and_good_runs),
            cmocka_unit_test(what_is_set_aside_counts_nowhere),
            cmocka_unit_test(the_same_firing_can_start_and_end_the_interval),
            cmocka_unit_test(lengths_apart_stay_apart),
            cmocka_unit_test(the_first_of_each_mark_counts),
            cmocka_unit_test(a_calendar_keeps_nothing_going),
            cmocka_unit_test(a_calendar_ticks_while_others_run),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
