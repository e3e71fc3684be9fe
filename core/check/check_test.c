/* The check: weights, groups, places, counts, exit status and the report itself, from answers made by hand. */
#include "check/check.h"

#include "check/findings.h"
#include "check/show.h"
#include "check/test_bench.h"

#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>

static void what_goes_wrong_is_a_fault_with_its_place(void **state) {
    struct bench *bench = *state;
    add_side_door(bench, "first batch", false);
    const struct check_report *report = gather(bench);
    assert_int_equal(report->finding_count, 1);
    const struct check_finding *finding = &report->findings[0];
    assert_int_equal(finding->base.weight, FINDING_FAULT);
    assert_true(text_is(finding->base.id, "routine.false-alarm"));
    assert_true(text_is(finding->base.headline,
            "\"first batch\" goes wrong every time: the apprentice causes a false alarm"));
    assert_true(
            text_is(finding->base.why, "zone 3 \"side door\" has behaviour perimeter: no delay"));
    assert_true(text_is(finding->base.place, "zones[2].behaviour"));
    assert_int_equal(finding->base.answer_index, 0);
    assert_int_equal(finding->story.count, 3);
    assert_int_equal(check_exit_status(report), 1);
}

static void one_cause_is_one_finding_that_names_the_others(void **state) {
    struct bench *bench = *state;
    add_side_door(bench, "first batch", false);
    add_side_door(bench, "parcel", true);
    struct test_answer *other = add_side_door(bench, "window", true);
    other->answer.culprit_zone = PASSAGE_ZONE; /* another zone is another cause */
    const struct check_report *report = gather(bench);
    assert_int_equal(report->finding_count, 2);
    assert_int_equal(report->findings[0].also_count, 1);
    assert_int_equal(report->findings[0].also[0], 1);
    assert_int_equal(report->findings[1].also_count, 0);
    assert_int_equal(report->wrong, 3);
    assert_int_equal(report->weights[FINDING_FAULT], 2);
}

/* The head of a group is one that goes wrong with true clocks, too: else a fault would hide behind a risk. */
static void tolerance_alone_is_a_risk_and_never_hides_a_fault(void **state) {
    struct bench *bench = *state;
    add_side_door(bench, "first batch", false)->answer.needs_tolerance = true;
    bench->made[0].answer.always = false;
    const struct check_report *report = gather(bench);
    assert_int_equal(report->weights[FINDING_RISK], 1);
    assert_int_equal(report->weights[FINDING_FAULT], 0);
    assert_true(text_is(report->findings[0].base.headline,
            "\"first batch\" can go wrong if the panel's clock is off: the apprentice causes a "
            "false alarm"));
    assert_non_null(strstr(report->findings[0].base.why.start, "the panel's may be off by 10 %"));
    assert_int_equal(check_exit_status(report), 0);

    add_side_door(bench, "parcel", true);
    report = gather(bench);
    assert_int_equal(report->finding_count, 1);
    assert_int_equal(report->weights[FINDING_FAULT], 1);
    assert_int_equal(report->findings[0].base.answer_index, 1);
    assert_int_equal(report->findings[0].also[0], 0);
}

static void ranges_are_told_when_it_is_not_every_time(void **state) {
    struct bench *bench = *state;
    struct test_answer *it = add_side_door(bench, "first batch", false);
    struct proof_step *step = test_act(it, 19 * 60 + 60, BAKER, SITE_ACT_UNSET);
    step->keypad = 0;
    it->answer.always = false;
    it->answer.has_range = true;
    it->answer.probed_timer = panel_timer_of(PANEL_TIMER_ENTRY, SHOP);
    it->answer.probed_step = 1;
    it->answer.can = (struct explore_ranges){.interval = {{27, 40}}, .count = 1};
    it->answer.always_when = (struct explore_ranges){.interval = {{34, 35}, {38, 40}}, .count = 2};
    const struct check_report *report = gather(bench);
    assert_string_equal(report->findings[0].range.start,
            "can happen when the baker keys the code to unset 27 to 40 s after the start of the "
            "entry time; "
            "always at 34 to 35 s or 38 to 40 s");
    bench->made[0].answer.always = true;
    report = gather(bench);
    assert_int_equal(report->findings[0].range.length, 0);
}

/* House practice: fewer than 3 s to spare is a risk. */
static void small_margins_are_a_risk_told_of_the_tightest(void **state) {
    struct bench *bench = *state;
    add_well(bench, "plenty", CHECK_MARGIN_SMALL_S);
    add_well(bench, "tight", 2);
    add_well(bench, "tightest", 1);
    add_well(bench, "none", 0);
    const struct check_report *report = gather(bench);
    assert_int_equal(report->finding_count, 1);
    assert_int_equal(report->weights[FINDING_RISK], 1);
    assert_true(text_is(report->findings[0].base.headline,
            "\"tightest\" goes well, but with only 1 s to spare"));
    assert_true(text_is(report->findings[0].base.why,
            "the entry time may end after 27 s, and the slowest need 26 s of it"));
    assert_int_equal(report->findings[0].also_count, 1);
    assert_int_equal(report->findings[0].also[0], 1);
    assert_int_equal(report->tightest, 2);
    assert_int_equal(report->well, 4);
    assert_int_equal(check_exit_status(report), 0);
}

static void what_is_not_settled_is_never_called_well(void **state) {
    struct bench *bench = *state;
    struct test_answer *it = add_unsettled(bench, "six people", EXPLORE_CLASS_LIMIT);
    test_act(it, 0, BAKER, SITE_ACT_WAIT);
    test_act(it, 0, ROBIN, SITE_ACT_WAIT)->in = span_of(0, 3600);
    const struct check_report *report = gather(bench);
    assert_int_equal(report->weights[FINDING_RISK], 1);
    assert_true(text_is(report->findings[0].base.headline, "\"six people\" is not settled"));
    assert_true(text_is(report->findings[0].base.place, "routines[0]"));
    assert_non_null(strstr(
            report->findings[0].base.remedy.start, "the widest time is \"Robin waits\": 0 to 1 h"));
    assert_int_equal(report->well, 0);
    assert_int_equal(check_exit_status(report), 3);
    add_side_door(bench, "first batch", false);
    assert_int_equal(check_exit_status(gather(bench)), 1);
}

static void stopping_is_said_once_and_in_the_exit_status(void **state) {
    struct bench *bench = *state;
    add_side_door(bench, "first batch", false);
    add_unsettled(bench, "b", EXPLORE_ASKED_TO_STOP);
    add_unsettled(bench, "c", EXPLORE_ASKED_TO_STOP);
    const struct check_report *report = gather(bench);
    assert_true(report->stopped);
    assert_int_equal(report->finding_count, 2);
    assert_true(text_is(
            report->findings[1].base.headline, "stopped early: 2 of 3 routines are not settled"));
    assert_int_equal(check_exit_status(report), 130);
}

/* shows: rules.md 1.4: entry + abort at most 60 s, advice. Both sides of the bound. */
static void entry_and_abort_together_are_advised_about(void **state) {
    struct bench *bench = *state;
    bench->house.site.settings.delays[0].seconds_s = 30;
    bench->house.site.settings.abort_window_s = 30;
    assert_int_equal(gather(bench)->finding_count, 0);
    bench->house.site.settings.delays[0].seconds_s = 31;
    const struct check_report *report = gather(bench);
    assert_int_equal(report->finding_count, 1);
    assert_int_equal(report->weights[FINDING_NOTE], 1);
    assert_true(text_is(report->findings[0].base.id, "settings.entry-plus-abort"));
    assert_true(text_is(
            report->findings[0].base.headline, "a thief has up to 61 s before anybody is told"));
    assert_true(text_is(report->findings[0].base.remedy, "an abort window of 29 s"));
    assert_int_equal(check_exit_status(report), 0);
}

/* shows: mistakes.md: swinger limit 1. */
static void a_swinger_limit_of_one_is_noted(void **state) {
    struct bench *bench = *state;
    bench->house.site.settings.swinger_limit = 2;
    assert_int_equal(gather(bench)->finding_count, 0);
    bench->house.site.settings.swinger_limit = 1;
    const struct check_report *report = gather(bench);
    assert_int_equal(report->weights[FINDING_NOTE], 1);
    assert_true(text_is(report->findings[0].base.place, "panel.swinger-limit"));
    bench->house.site.settings.swinger_limit = 0; /* never left out */
    assert_int_equal(gather(bench)->finding_count, 0);
}

static void absent_routines_are_listed_by_their_reason(void **state) {
    struct bench *bench = *state;
    bench->absent[0] =
            (struct check_absent){.name = text_of("pocket"), .reason = text_of("no fob")};
    bench->absent[1] = (struct check_absent){
            .name = text_of("dog"), .reason = text_of("no dog"), .removed = true};
    bench->absent[2] =
            (struct check_absent){.name = text_of("late"), .reason = text_of("no night mode")};
    bench->absent[3] = (struct check_absent){.name = text_of("lost"), .reason = text_of("no fob")};
    bench->plan.absent_count = 4;
    const struct check_report *report = gather(bench);
    assert_int_equal(report->finding_count, 2);
    assert_true(text_is(report->findings[0].base.headline, "3 usual routines not applied here"));
    assert_true(text_is(report->findings[0].base.why, "no fob: pocket, lost; no night mode: late"));
    assert_true(text_is(report->findings[1].base.headline, "1 usual routine removed in the file"));
    assert_true(text_is(report->findings[1].base.why, "no dog: dog"));
    assert_true(text_is(report->findings[1].base.place, "without"));
}

static void findings_come_by_weight(void **state) {
    struct bench *bench = *state;
    bench->house.site.settings.swinger_limit = 1;
    add_well(bench, "tight", 1);
    add_side_door(bench, "first batch", false);
    const struct check_report *report = gather(bench);
    assert_int_equal(report->finding_count, 3);
    for (int i = 0; i < 3; i++) {
        assert_int_equal(report->findings[i].base.weight, FINDING_FAULT + i);
    }
}

/* Every reason leads to some place or, without one, to the routine itself: nothing is blamed on nowhere. */
static void every_reason_has_a_place(void **state) {
    struct bench *bench = *state;
    for (int why = 0; why < PANEL_WHY_COUNT; why++) {
        bench->plan.routine_count = 0;
        struct test_answer *it = add_side_door(bench, "first batch", false);
        it->answer.culprit = (enum panel_reason)why;
        const struct check_report *report = gather(bench);
        assert_true(report->findings[0].base.place.length > 0);
        assert_true(report->findings[0].base.why.length > 0);
    }
}

static void check_place(struct bench *bench, const char *expected) {
    const struct text place = gather(bench)->findings[0].base.place;
    if (!text_is(place, expected)) {
        print_error("place %.*s\n", TEXT_ARGS(place));
        fail();
    }
}

/* The line that made the zone what it was: its own behaviour, or that of the mode. */
static void a_behaviour_is_blamed_where_it_was_written(void **state) {
    struct bench *bench = *state;
    add_side_door(bench, "first batch", false);
    check_place(bench, "zones[2].behaviour");
    bench->house.zones[SIDE_ZONE].behaviour = SITE_ENTRY;
    check_place(bench, "zones[2].in.full");
}

static void an_exit_time_is_blamed_in_its_mode(void **state) {
    static const char *const places_by_mode[] = {"panel.exit-delay", "panel.part-exit-delay",
            "panel.night-exit-delay", "panel.modes[0].exit-delay"};
    struct bench *bench = *state;
    struct test_answer *it = add_side_door(bench, "first batch", false);
    bench->house.site.settings.mode_count = 4;
    it->answer.culprit = PANEL_WHY_EXIT_OPEN;
    for (int mode = 0; mode < 4; mode++) {
        bench->sources[0].starts[SHOP].mode = mode;
        check_place(bench, places_by_mode[mode]);
    }
}

static void an_entry_time_is_blamed_by_its_name(void **state) {
    struct bench *bench = *state;
    struct test_answer *it = add_side_door(bench, "first batch", false);
    it->answer.culprit = PANEL_WHY_ENTRY_OVER;
    check_place(bench, "panel.entry-delays"); /* a zone without a delay of its own */
    it->answer.culprit_zone = YARD_ZONE;
    check_place(bench, "panel.entry-delays.yard");
}

/* No delay is long enough for who keys no code; who leaves need not. */
static void without_a_code_the_routine_is_blamed(void **state) {
    struct bench *bench = *state;
    struct test_answer *it = add_side_door(bench, "first batch", false);
    struct site_step steps[] = {{.act = SITE_ACT_SET}, {.act = SITE_ACT_COME}};
    bench->sources[0].steps = steps;
    bench->sources[0].step_count = 2;
    it->answer.culprit = PANEL_WHY_ENTRY_OVER;
    check_place(bench, "routines[0]");
    steps[1].act = SITE_ACT_GO;
    check_place(bench, "panel.entry-delays");
    steps[1].act = SITE_ACT_COME;
    steps[0].act = SITE_ACT_UNSET;
    check_place(bench, "panel.entry-delays");
}

static void who_was_too_late_is_the_one_spoken_of(void **state) {
    struct bench *bench = *state;
    struct test_answer *it = add_side_door(bench, "first batch", false);
    test_act(it, 19 * 60 + 60, ROBIN, SITE_ACT_UNSET)->keypad = 0;
    it->answer.story_count--; /* he has not come yet */
    it->answer.has_range = true;
    it->answer.probed_step = 1;
    it->answer.can = (struct explore_ranges){.interval = {{27, 40}}, .count = 1};
    assert_true(text_is(gather(bench)->findings[0].base.headline,
            "\"first batch\" goes wrong every time: Robin causes a false alarm"));
}

static void a_code_is_refused_where_it_is_not_valid(void **state) {
    struct bench *bench = *state;
    struct test_answer *it = add_routine(bench, "cleaning", false);
    bench->house.keypads[0].areas = 3;
    test_act(it, 1, BAKER, SITE_ACT_UNSET)->keypad = 0;
    test_output(it, 1, PANEL_OUT_SAYS, PANEL_WHY_CODE)->message = PANEL_SAYS_NOT_YOURS;
    it->lines[1].bad = true;
    it->answer.promise = PROOF_TURNED_AWAY;
    it->answer.culprit = PANEL_WHY_CODE;
    it->answer.culprit_area = SHOP;
    const struct check_report *report = gather(bench);
    assert_true(
            text_is(report->findings[0].base.why, "the code of the baker is not valid for flat"));
    assert_true(text_is(report->findings[0].base.place, "people[0].areas"));
}

/* Design page: "Users have areas, modes, hours." */
static void a_mode_that_is_not_the_users_is_named(void **state) {
    struct bench *bench = *state;
    struct test_answer *it = add_routine(bench, "cleaning", false);
    bench->house.keypads[0].areas = 1U << SHOP;
    test_act(it, 1, BAKER, SITE_ACT_SET)->keypad = 0;
    test_output(it, 1, PANEL_OUT_SAYS, PANEL_WHY_USER_MODE)->message = PANEL_SAYS_REFUSED;
    it->lines[1].bad = true;
    it->answer.promise = PROOF_REFUSED;
    it->answer.culprit = PANEL_WHY_USER_MODE;
    it->answer.culprit_area = SHOP;
    const struct check_report *report = gather(bench);
    assert_true(text_is(
            report->findings[0].base.why, "the code or fob of the baker may not set in mode full"));
    assert_true(text_is(report->findings[0].base.place, "people[0].modes"));
}

static void hours_that_are_not_the_users_are_named(void **state) {
    struct bench *bench = *state;
    struct test_answer *it = add_routine(bench, "cleaning", false);
    bench->house.people[BAKER].has_hours = true;
    bench->house.people[BAKER].hours = span_of(7 * 3600, 19 * 3600);
    it->answer.routine.begins_s = 20 * 3600;
    test_act(it, 1, BAKER, SITE_ACT_UNSET)->keypad = 0;
    test_output(it, 1, PANEL_OUT_SAYS, PANEL_WHY_HOURS)->message = PANEL_SAYS_NOT_NOW;
    it->lines[1].bad = true;
    it->answer.promise = PROOF_TURNED_AWAY;
    it->answer.culprit = PANEL_WHY_HOURS;
    it->answer.culprit_area = SHOP;
    const struct check_report *report = gather(bench);
    assert_int_equal(report->finding_count, 1);
    assert_true(text_is(report->findings[0].base.why,
            "the code or fob of the baker is taken from 07:00 to 19:00 only"));
    assert_true(text_is(report->findings[0].base.place, "people[0].hours"));
}

/* Without a time of day hours are not applied, and that is said: of written routines, where it can be mended. */
static void hours_left_out_are_noted(void **state) {
    struct bench *bench = *state;
    test_act(add_well(bench, "opens", 9), 1, BAKER, SITE_ACT_UNSET)->keypad = 0;
    test_act(add_well(bench, "at three", 9), 1, BAKER, SITE_ACT_UNSET)->keypad = 0;
    bench->routines[1].usual = true;
    assert_int_equal(gather(bench)->finding_count, 0);
    bench->house.people[BAKER].has_hours = true;
    bench->house.people[BAKER].hours = span_of(7 * 3600, 19 * 3600);
    const struct check_report *report = gather(bench);
    assert_int_equal(report->finding_count, 1);
    const struct finding *finding = &report->findings[0].base;
    assert_int_equal(finding->weight, FINDING_NOTE);
    assert_true(text_is(finding->id, "routines.hours-left-out"));
    assert_true(text_is(finding->headline, "hours of people not applied in 1 routine"));
    assert_true(text_is(finding->why, "no step is at a time of day: opens"));
    assert_true(text_is(finding->place, "routines[0]"));
}

/* mistakes.md: hall follower beats the radio door contact; leaves by a door without a zone. */
static void doors_that_were_not_heard_are_named(void **state) {
    struct bench *bench = *state;
    struct test_answer *it = add_routine(bench, "return", false);
    test_open(it, 4, BAKER, YARD_DOOR);
    test_siren(it, 5, PASSAGE_ZONE, PANEL_WHY_FOLLOWER_ALONE);
    it = add_routine(bench, "leave", false);
    test_act(it, 1, BAKER, SITE_ACT_SET)->keypad = 0;
    test_open(it, 9, BAKER, SIDE_DOOR);
    test_output(it, 61, PANEL_OUT_SAYS, PANEL_WHY_NOBODY_LEFT)->message =
            PANEL_SAYS_DROPPED_TO_PART;
    it->lines[2].bad = true;
    it->answer.promise = PROOF_DROPPED;
    it->answer.culprit = PANEL_WHY_NOBODY_LEFT;
    const struct check_report *report = gather(bench);
    assert_string_equal(report->findings[0].base.why.start,
            "the panel hears of the yard door too late: zone 2 \"passage\" waits only while the "
            "entry time of "
            "its own door runs, and that did not run");
    assert_string_equal(report->findings[1].base.why.start,
            "no door on the way out opened or closed while the exit time ran: no entry zone of "
            "shop "
            "is on the side door");
    assert_true(text_is(report->findings[1].base.place, "doors[1]"));
}

/* The whole of it, with the real proof: a perimeter door that the apprentice comes home by. */
struct real {
    struct bench *bench;
    struct site_step steps[2];
    struct site_way ways[1];
};

static void make_real(struct real *real, struct bench *bench) {
    const struct site_step nothing = {.who = APPRENTICE,
            .after_step = SITE_NONE,
            .when_area = SITE_NONE,
            .if_area = SITE_NONE,
            .door = SITE_NONE,
            .zone = SITE_NONE,
            .way = SITE_NONE,
            .keypad = SITE_NONE,
            .has_in = true,
            .in = {5, 9}};
    *real = (struct real){.bench = bench, .steps = {nothing, nothing}};
    real->steps[0].act = SITE_ACT_OPEN;
    real->steps[0].door = SIDE_DOOR;
    real->steps[1].act = SITE_ACT_UNSET;
    real->steps[1].keypad = 0;
    bench->house.people[APPRENTICE].areas = 1U << SHOP;
    bench->house.routine.steps = real->steps;
    bench->house.routine.step_count = 2;
}

static void a_remedy_is_tried_and_proven(void **state) {
    struct bench *bench = *state;
    struct real real;
    struct check_report report;
    struct problem problem = {0};
    const struct check_options options = {.no_usual = true};
    make_real(&real, bench);
    assert_true(check_site(&bench->house.site, &options, (struct pages){.get = get, .give = give},
            &bench->arena, &report, &problem)
                        .good);
    assert_int_equal(report.finding_count, 1);
    const struct finding *finding = &report.findings[0].base;
    assert_true(text_is(finding->place, "zones[2].behaviour"));
    assert_non_null(strstr(
            finding->remedy.start, "behaviour entry, delay yard (30 s); then it goes well with"));
    assert_null(strstr(finding->remedy.start, "so do all")); /* there is no other */
    assert_true(finding->price.length > 0);

    const struct check_options quick = {.no_usual = true, .no_remedy = true};
    assert_true(check_site(&bench->house.site, &quick, (struct pages){.get = get, .give = give},
            &bench->arena, &report, &problem)
                        .good);
    assert_int_equal(report.findings[0].base.remedy.length, 0);
}

struct told {
    size_t count;
    size_t findings;
    bool remedies;
};

static void take_verdicts(void *context, const struct check_report *report) {
    struct told *told = context;
    told->count++;
    told->findings = report->finding_count;
    told->remedies = report->findings[0].base.remedy.length > 0;
    assert_int_equal(report->wrong, 1);
}

static void verdicts_are_told_before_remedies(void **state) {
    struct bench *bench = *state;
    struct real real;
    struct check_report report;
    struct problem problem = {0};
    struct told told = {0};
    const struct check_options options = {
            .no_usual = true, .verdicts = take_verdicts, .verdicts_context = &told};
    make_real(&real, bench);
    assert_true(check_site(&bench->house.site, &options, (struct pages){.get = get, .give = give},
            &bench->arena, &report, &problem)
                        .good);
    assert_int_equal(told.count, 1);
    assert_int_equal(told.findings, report.finding_count);
    assert_false(told.remedies);
    assert_true(report.findings[0].base.remedy.length > 0);
    assert_int_equal(report.wrong, 1);
}

static void a_remedy_that_does_not_mend_all_says_how_many(void **state) {
    struct bench *bench = *state;
    struct real real;
    struct check_report report;
    struct problem problem = {0};
    const struct check_options options = {.no_usual = true};
    struct site_routine both[2];
    struct site_step crossing;
    make_real(&real, bench);
    crossing = real.steps[0];
    crossing.act = SITE_ACT_PRESS;
    crossing.door = SITE_NONE;
    crossing.zone = TILL_ZONE;
    both[0] = bench->house.routine;
    both[1] = bench->house.routine;
    both[1].name = text_of("hold-up");
    both[1].steps = &crossing;
    both[1].step_count = 1;
    bench->house.site.routines = both;
    bench->house.site.routine_count = 2;
    assert_true(check_site(&bench->house.site, &options, (struct pages){.get = get, .give = give},
            &bench->arena, &report, &problem)
                        .good);
    assert_int_equal(report.wrong, 2);
    assert_non_null(
            strstr(report.findings[0].base.remedy.start, "; of all 2 then 1 go well instead of 0"));
}

static bool never_goes_on(void *context, size_t done, size_t waiting) {
    (void)done;
    (void)waiting;
    ++*(int *)context;
    return false;
}

static void a_check_that_is_stopped_settles_and_remedies_nothing(void **state) {
    struct bench *bench = *state;
    struct real real;
    struct check_report report;
    struct problem problem = {0};
    int asked = 0;
    const struct check_options options = {
            .no_usual = true, .proof = {.keep_going = never_goes_on, .keep_going_context = &asked}};
    make_real(&real, bench);
    assert_true(check_site(&bench->house.site, &options, (struct pages){.get = get, .give = give},
            &bench->arena, &report, &problem)
                        .good);
    assert_int_equal(report.unsettled, 1);
    assert_int_equal(check_exit_status(&report), CHECK_EXIT_STOPPED);
    assert_int_equal(asked, 1);
}

static bool find_line(void *context, struct text path, int *ret_line, int *ret_column) {
    (void)context;
    *ret_line = 61;
    *ret_column = 9;
    return text_is(path, "zones[2].behaviour");
}

static struct text find_usual(void *context, struct text path) {
    (void)context;
    return text_of(text_is(path, "panel.abort-window") ? "30 s" : "");
}

static const struct show_places places = {.file = {"sites/house.yaml", 16},
        .short_file = {"house.yaml", 10},
        .find = find_line,
        .usual = find_usual};

static struct check_report *full_report(struct bench *bench) {
    add_side_door(bench, "first batch", false);
    add_side_door(bench, "parcel", true);
    add_well(bench, "locking up", 13);
    add_well(bench, "closing up", 4);
    (void)gather(bench);
    bench->report.findings[0].base.remedy = text_of("behaviour entry, delay yard (30 s)");
    bench->report.findings[0].base.price =
            text_of("a burglar at this door has the same 30 s before the siren");
    return &bench->report;
}

/* shows: product page, "How it speaks". */
static void the_report_reads_as_the_product_page_says(void **state) {
    struct bench *bench = *state;
    const struct check_report *report = full_report(bench);
    struct text_builder out;
    text_builder_init(&out, &bench->arena);
    struct layout layout = {.out = &out, .width = LAYOUT_WIDTH};
    show_report(&bench->house.site, report, &places, true, &layout);
    assert_string_equal(text_built(&out).start,
            "Test bakery (invented)          test-panel \xC2\xB7 5 zones \xC2\xB7 2 areas \xC2\xB7 "
            "house\n"
            "\n"
            "FAULT  \"first batch\" goes wrong every time: the apprentice causes a false alarm\n"
            "       05:31:00  shop is set (full); flat is unset\n"
            "       05:50:28  the apprentice opens the side door\n"
            "                   zone 3 is perimeter: no delay\n"
            "     !           siren (shop)\n"
            "                   \"intrusion, zone 3\" leaves at 05:50:58 unless unset before\n"
            "       why       zone 3 \"side door\" has behaviour perimeter: no delay\n"
            "                                                                   house.yaml:61\n"
            "       also      \"parcel\"\n"
            "       remedy    behaviour entry, delay yard (30 s)\n"
            "       price     a burglar at this door has the same 30 s before the siren\n"
            "\n"
            "to spare  timer                   routine\n"
            "     4 s  the entry time          closing up\n"
            "    13 s  the entry time          locking up\n"
            "       -  goes wrong              first batch\n"
            "       -  goes wrong              parcel (usual)\n"
            "\nthe drawing is not computed: no drawing\n"
            "tightest: \"closing up\", the entry time, 4 s to spare\n"
            "4 routines (3 described, 1 usual): 2 go well, 2 go wrong \xC2\xB7 1 fault \xC2\xB7 "
            "exit 1\n");
}

static void colour_is_written_only_when_asked_for(void **state) {
    struct bench *bench = *state;
    const struct check_report *report = full_report(bench);
    for (int colour = 0; colour <= 1; colour++) {
        struct text_builder out;
        text_builder_init(&out, &bench->arena);
        struct layout layout = {.out = &out, .width = LAYOUT_WIDTH, .colour = colour != 0};
        show_report(&bench->house.site, report, &places, false, &layout);
        assert_int_equal(strchr(text_built(&out).start, '\033') != NULL, colour);
        assert_non_null(strstr(text_built(&out).start, "FAULT"));
    }
}

static void the_json_says_the_same(void **state) {
    struct bench *bench = *state;
    struct check_report *report = full_report(bench);
    struct text_builder out;
    struct json_writer writer;
    text_builder_init(&out, &bench->arena);
    json_init(&writer, &out);
    show_report_json(NULL, &bench->house.site, report, &places, NULL, NULL, &writer);
    const struct text text = text_built(&out);
    json_t *root = json_loadb(text.start, text.length, JSON_REJECT_DUPLICATES, NULL);
    assert_non_null(root);
    const char *weight = NULL;
    const char *what = NULL;
    const char *clock = NULL;
    int line = 0;
    int at_s = 0;
    int bad = 0;
    int faults = 0;
    int spare_s = 0;
    int status = 0;
    const char *verdict = NULL;
    assert_int_equal(json_unpack(root, "{s:[{s:s, s:{s:i}, s:[{}, {}, {s:s, s:i, s:s, s:b}]}]}",
                             "findings", "weight", &weight, "place", "line", &line, "story",
                             "clock", &clock, "at_s", &at_s, "what", &what, "bad", &bad),
            0);
    assert_string_equal(weight, "fault");
    assert_int_equal(line, 61);
    assert_int_equal(at_s, 19 * 60 + 28);
    assert_string_equal(what, "siren (shop)");
    assert_string_equal(clock, "05:50:28"); /* also on a line of the same instant */
    assert_true(bad != 0);
    assert_int_equal(json_unpack(root, "{s:[{}, {}, {}, {s:s, s:{s:i}}], s:{s:i}, s:i}", "routines",
                             "verdict", &verdict, "margin", "to_spare_s", &spare_s, "counts",
                             "faults", &faults, "exit", &status),
            0);
    assert_string_equal(verdict, "goes well");
    assert_int_equal(spare_s, 4);
    assert_int_equal(faults, 1);
    assert_int_equal(status, 1);
    json_decref(root);
}

/* Pages of which one is refused, once. */
struct grudge {
    size_t asked;
    size_t refused_at;
    bool refused;
};

static void *get_grudgingly(void *context, size_t size) {
    struct grudge *grudge = context;
    grudge->asked++;
    if (grudge->asked == grudge->refused_at) {
        grudge->refused = true;
        return NULL;
    }
    return malloc(size);
}

/* The report as text, or {NULL, 0} when memory ran out on the way. */
static struct text try_report(struct bench *bench, struct arena *arena) {
    struct check_report report;
    struct problem problem = {0};
    struct text_builder out;
    if (!check_gather(&bench->house.site, &bench->plan, bench->answers, arena, &report, &problem)
                    .good) {
        assert_int_equal(problem.kind, PROBLEM_MEMORY);
        return (struct text){0};
    }
    text_builder_init(&out, arena);
    struct layout layout = {.out = &out, .width = LAYOUT_WIDTH};
    show_report(&bench->house.site, &report, &places, true, &layout);
    return arena->refused ? (struct text){0} : text_built(&out);
}

/* One page refused, whichever it is: either the whole report comes, or none. */
static void a_refused_page_never_leaves_half_a_report(void **state) {
    struct bench *bench = *state;
    struct arena arena;
    struct grudge grudge = {0};
    full_report(bench);
    for (size_t i = 0; i < 4; i++) {
        bench->absent[i] =
                (struct check_absent){.name = text_of("pocket"), .reason = text_of("no fob")};
    }
    bench->plan.absent_count = 4;
    arena_init(&arena, (struct pages){.get = get_grudgingly, .give = give, .context = &grudge}, 0);
    const struct text whole = text_copy(&bench->arena, try_report(bench, &arena));
    const size_t pages = grudge.asked;
    arena_finish(&arena);
    assert_true(whole.length > 0 && pages > 1);
    for (size_t i = 1; i <= pages; i++) {
        grudge = (struct grudge){.refused_at = i};
        arena_init(
                &arena, (struct pages){.get = get_grudgingly, .give = give, .context = &grudge}, 0);
        const struct text got = try_report(bench, &arena);
        assert_true(grudge.refused);
        assert_int_equal(got.length, 0);
        arena_finish(&arena);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            BENCH_TEST(what_goes_wrong_is_a_fault_with_its_place),
            BENCH_TEST(one_cause_is_one_finding_that_names_the_others),
            BENCH_TEST(tolerance_alone_is_a_risk_and_never_hides_a_fault),
            BENCH_TEST(ranges_are_told_when_it_is_not_every_time),
            BENCH_TEST(small_margins_are_a_risk_told_of_the_tightest),
            BENCH_TEST(what_is_not_settled_is_never_called_well),
            BENCH_TEST(stopping_is_said_once_and_in_the_exit_status),
            BENCH_TEST(entry_and_abort_together_are_advised_about),
            BENCH_TEST(a_swinger_limit_of_one_is_noted),
            BENCH_TEST(absent_routines_are_listed_by_their_reason),
            BENCH_TEST(findings_come_by_weight),
            BENCH_TEST(every_reason_has_a_place),
            BENCH_TEST(a_behaviour_is_blamed_where_it_was_written),
            BENCH_TEST(an_exit_time_is_blamed_in_its_mode),
            BENCH_TEST(an_entry_time_is_blamed_by_its_name),
            BENCH_TEST(without_a_code_the_routine_is_blamed),
            BENCH_TEST(who_was_too_late_is_the_one_spoken_of),
            BENCH_TEST(a_code_is_refused_where_it_is_not_valid),
            BENCH_TEST(a_mode_that_is_not_the_users_is_named),
            BENCH_TEST(hours_that_are_not_the_users_are_named),
            BENCH_TEST(hours_left_out_are_noted),
            BENCH_TEST(doors_that_were_not_heard_are_named),
            BENCH_TEST(a_remedy_is_tried_and_proven),
            BENCH_TEST(verdicts_are_told_before_remedies),
            BENCH_TEST(a_remedy_that_does_not_mend_all_says_how_many),
            BENCH_TEST(a_check_that_is_stopped_settles_and_remedies_nothing),
            BENCH_TEST(the_report_reads_as_the_product_page_says),
            BENCH_TEST(colour_is_written_only_when_asked_for),
            BENCH_TEST(the_json_says_the_same),
            BENCH_TEST(a_refused_page_never_leaves_half_a_report),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
