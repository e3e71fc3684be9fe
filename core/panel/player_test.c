/* The player's own promises: order, instants, chosen durations. What the panel does is tested in tests/panel. */
#include "panel/player.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

enum { HEARD_MAX = 200, FRONT = 0, WINDOW = 1 };

/* Two zones, a front door (entry, 30 s) and a window; full exit delay 60 s, abort window 30 s, siren 100 s. */
struct bench {
    struct panel_program program;
    struct player player;
    int32_t chosen_s; /* of every timer; 0: nominal */
    size_t heard_count;
    int32_t heard_s[HEARD_MAX];
    bool had_input[HEARD_MAX];
    struct panel_input inputs[HEARD_MAX];
    struct panel_output outputs[HEARD_MAX];
};

static void hear(void *context, int32_t now_s, const struct panel_input *input,
        const struct panel_output *output) {
    struct bench *bench = context;
    assert_true(bench->heard_count < HEARD_MAX);
    bench->heard_s[bench->heard_count] = now_s;
    bench->had_input[bench->heard_count] = input != NULL;
    if (input != NULL) {
        bench->inputs[bench->heard_count] = *input;
    }
    bench->outputs[bench->heard_count] = *output;
    bench->heard_count++;
}

static int32_t choose(void *context, int32_t now_s, const struct panel_output *output) {
    const struct bench *bench = context;
    assert_true(output->kind == PANEL_OUT_START || output->kind == PANEL_OUT_SHORTEN);
    assert_int_equal(now_s, bench->player.now_s);
    return bench->chosen_s;
}

static void key_in(struct bench *bench) {
    struct site_area area = {.common = false};
    struct site_device_profile profile = {.sense = SITE_CONTACT};
    struct site_device devices[2] = {
            {.profile = 0, .door = SITE_NONE}, {.profile = 0, .door = SITE_NONE}};
    struct site_zone zones[2] = {{.number = 1, .behaviour = SITE_ENTRY, .cross_with = SITE_NONE},
            {.number = 2, .behaviour = SITE_PERIMETER, .cross_with = SITE_NONE}};
    for (int zone = 0; zone < 2; zone++) {
        zones[zone].device = zone;
        zones[zone].reports = true;
        for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
            zones[zone].in[mode] = zones[zone].behaviour;
            zones[zone].delay[mode] = zone == FRONT ? 0 : SITE_NONE;
        }
    }
    struct site site = {.settings = site_settings_usual(),
            .areas = &area,
            .area_count = 1,
            .device_profiles = &profile,
            .device_profile_count = 1,
            .devices = devices,
            .device_count = 2,
            .zones = zones,
            .zone_count = 2};
    site.settings.delays[0].seconds_s = 30;
    site.settings.delay_count = 1;
    site.settings.modes[SITE_MODE_FULL].exit_delay_s = 60;
    site.settings.abort_window_s = 30;
    site.settings.cancel_window_s = 300;
    site.settings.siren_time_s = 100;
    assert_true(panel_program_of_site(&site, NULL, &bench->program, NULL).good);
}

static void begin(struct bench *bench, bool set, int32_t now_s) {
    const struct site_start starts[SITE_AREA_MAX] = {{.set = set, .mode = SITE_MODE_FULL}};
    const struct panel_zones open = {.word = {0, 0}};
    key_in(bench);
    bench->heard_count = 0;
    player_begin(&bench->player, &bench->program, starts, &open, now_s,
            (struct player_hooks){.hear = hear,
                    .choose = bench->chosen_s == 0 ? NULL : choose,
                    .context = bench});
}

static void put(struct bench *bench, enum panel_input_kind kind, unsigned zone) {
    player_input(&bench->player,
            (struct panel_input){
                    .kind = kind, .zone = (uint8_t)zone, .user = PANEL_NOBODY, .areas = 1});
}

/* Where in what was heard the siren begins; heard_count: nowhere. */
static size_t siren(const struct bench *bench) {
    size_t i = 0;
    while (i < bench->heard_count &&
            !(bench->outputs[i].kind == PANEL_OUT_SOUND &&
                    bench->outputs[i].sound == PANEL_SIREN)) {
        i++;
    }
    return i;
}

static void timers_end_at_their_instant(void **state) {
    static struct bench bench;
    (void)state;
    begin(&bench, true, 0);
    player_advance_to(&bench.player, 100);
    put(&bench, PANEL_IN_OPEN, FRONT);
    player_advance_to(&bench.player, 500);
    assert_true(siren(&bench) < bench.heard_count);
    assert_int_equal(bench.heard_s[siren(&bench)], 130);
    assert_int_equal(bench.player.now_s, 500);
}

static void one_leap_is_many_steps(void **state) {
    static struct bench leap;
    static struct bench steps;
    (void)state;
    begin(&leap, true, 0);
    begin(&steps, true, 0);
    put(&leap, PANEL_IN_OPEN, FRONT);
    put(&steps, PANEL_IN_OPEN, FRONT);
    player_advance_to(&leap.player, 1000);
    for (int32_t now_s = 1; now_s <= 1000; now_s++) {
        player_advance_to(&steps.player, now_s);
    }
    assert_int_equal(leap.heard_count, steps.heard_count);
    assert_memory_equal(leap.heard_s, steps.heard_s, leap.heard_count * sizeof leap.heard_s[0]);
    assert_memory_equal(&leap.player.state, &steps.player.state, sizeof leap.player.state);
}

/* Design page, "Same second": inputs in file order, then ends in table order. */
static void inputs_come_before_ends(void **state) {
    static struct bench bench;
    (void)state;
    begin(&bench, true, 0);
    put(&bench, PANEL_IN_OPEN, FRONT);
    player_advance_to(&bench.player, 30);
    assert_int_equal(player_left_s(&bench.player, panel_timer_of(PANEL_TIMER_ENTRY, 0)), 0);
    put(&bench, PANEL_IN_UNSET, PANEL_NO_ZONE);
    player_settle(&bench.player);
    assert_int_equal(siren(&bench), bench.heard_count);
}

static void settling_ends_what_is_due(void **state) {
    static struct bench bench;
    (void)state;
    begin(&bench, true, 0);
    put(&bench, PANEL_IN_OPEN, FRONT);
    player_advance_to(&bench.player, 29);
    player_settle(&bench.player);
    assert_int_equal(siren(&bench), bench.heard_count);
    player_advance_to(&bench.player, 30);
    player_settle(&bench.player);
    assert_int_equal(bench.heard_s[siren(&bench)], 30);
}

/* The entry time (number 1 of the table) ends before the abort window (2), though it was started later. */
static void ends_of_one_second_in_table_order(void **state) {
    static struct bench bench;
    (void)state;
    begin(&bench, true, 0);
    put(&bench, PANEL_IN_OPEN, WINDOW);
    put(&bench, PANEL_IN_OPEN, FRONT);
    player_advance_to(&bench.player, 30);
    struct player_timer next = {.ends_s = -1};
    assert_true(player_next_due(&bench.player, &next));
    assert_int_equal(next.timer, panel_timer_of(PANEL_TIMER_ENTRY, 0));
    const size_t before = bench.heard_count;
    player_settle(&bench.player);
    assert_true(bench.heard_count > before);
    assert_int_equal(bench.inputs[before].timer, panel_timer_of(PANEL_TIMER_ENTRY, 0));
    assert_int_equal(
            bench.inputs[bench.heard_count - 1].timer, panel_timer_of(PANEL_TIMER_ABORT, 0));
}

/* Here the abort window first and then the entry time. */
static void a_story_may_end_timers_in_its_own_order(void **state) {
    static struct bench bench;
    (void)state;
    begin(&bench, true, 0);
    put(&bench, PANEL_IN_OPEN, WINDOW);
    put(&bench, PANEL_IN_OPEN, FRONT);
    player_advance_to(&bench.player, 29);
    assert_false(player_end_timer(&bench.player, panel_timer_of(PANEL_TIMER_ABORT, 0)));
    player_advance_to(&bench.player, 30);
    assert_false(player_end_timer(&bench.player, panel_timer_of(PANEL_TIMER_CANCEL, 0)));
    const size_t before = bench.heard_count;
    assert_true(player_end_timer(&bench.player, panel_timer_of(PANEL_TIMER_ABORT, 0)));
    assert_int_equal(bench.inputs[before].timer, panel_timer_of(PANEL_TIMER_ABORT, 0));
    assert_int_equal(player_left_s(&bench.player, panel_timer_of(PANEL_TIMER_ABORT, 0)), -1);
    assert_int_equal(player_left_s(&bench.player, panel_timer_of(PANEL_TIMER_ENTRY, 0)), 0);
}

static void durations_may_be_chosen(void **state) {
    static struct bench bench = {.chosen_s = 33};
    (void)state;
    begin(&bench, true, 0);
    put(&bench, PANEL_IN_OPEN, FRONT);
    assert_int_equal(player_left_s(&bench.player, panel_timer_of(PANEL_TIMER_ENTRY, 0)), 33);
    player_advance_to(&bench.player, 100);
    assert_int_equal(bench.heard_s[siren(&bench)], 33);
}

static void at_least_timers_are_nominal(void **state) {
    static struct bench bench;
    (void)state;
    begin(&bench, true, 0);
    put(&bench, PANEL_IN_OPEN, WINDOW);
    player_advance_to(&bench.player, 31);
    assert_int_equal(player_left_s(&bench.player, panel_timer_of(PANEL_TIMER_CANCEL, 0)), 299);
    player_advance_to(&bench.player, 331);
    assert_int_equal(player_left_s(&bench.player, panel_timer_of(PANEL_TIMER_CANCEL, 0)), -1);
}

static void the_past_stays(void **state) {
    static struct bench bench;
    (void)state;
    begin(&bench, true, 0);
    player_advance_to(&bench.player, 100);
    player_advance_to(&bench.player, 50);
    assert_int_equal(bench.player.now_s, 100);
}

static void instants_count_from_anywhere(void **state) {
    static struct bench bench;
    (void)state;
    begin(&bench, true, -3600);
    put(&bench, PANEL_IN_OPEN, FRONT);
    player_advance_to(&bench.player, 0);
    assert_int_equal(bench.heard_s[siren(&bench)], -3570);
}

static void the_last_instant_is_no_overflow(void **state) {
    static struct bench bench;
    (void)state;
    begin(&bench, true, PLAYER_FOREVER_S - 10);
    put(&bench, PANEL_IN_OPEN, FRONT);
    assert_int_equal(player_left_s(&bench.player, panel_timer_of(PANEL_TIMER_ENTRY, 0)), 10);
    player_advance_to(&bench.player, PLAYER_FOREVER_S);
    assert_int_equal(siren(&bench), bench.heard_count);
}

static void outputs_come_with_their_input(void **state) {
    static struct bench bench;
    (void)state;
    begin(&bench, true, 0);
    put(&bench, PANEL_IN_OPEN, WINDOW);
    const size_t where = siren(&bench);
    assert_true(bench.had_input[where]);
    assert_int_equal(bench.inputs[where].kind, PANEL_IN_OPEN);
    assert_int_equal(bench.inputs[where].zone, WINDOW);
}

static void nothing_runs_in_a_quiet_panel(void **state) {
    static struct bench bench;
    struct player_timer next = {.ends_s = 77};
    (void)state;
    begin(&bench, true, 0);
    assert_false(player_next_due(&bench.player, &next));
    assert_int_equal(next.ends_s, 77);
    player_settle(&bench.player);
    assert_int_equal(bench.heard_count, 0);
}

static void supervision_runs_from_the_start(void **state) {
    static struct bench bench;
    const struct site_start starts[SITE_AREA_MAX] = {{.set = false}};
    const struct panel_zones open = {.word = {0, 0}};
    (void)state;
    key_in(&bench);
    bench.heard_count = 0;
    bench.program.zones[FRONT].supervised = true;
    bench.program.settings.supervision_window_s = 1000;
    player_begin(&bench.player, &bench.program, starts, &open, 5,
            (struct player_hooks){.hear = hear, .context = &bench});
    assert_int_equal(bench.heard_count, 1);
    assert_false(bench.had_input[0]);
    assert_int_equal(
            player_left_s(&bench.player, panel_timer_of(PANEL_TIMER_SUPERVISION, FRONT)), 1000);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(timers_end_at_their_instant),
            cmocka_unit_test(one_leap_is_many_steps),
            cmocka_unit_test(inputs_come_before_ends),
            cmocka_unit_test(settling_ends_what_is_due),
            cmocka_unit_test(ends_of_one_second_in_table_order),
            cmocka_unit_test(a_story_may_end_timers_in_its_own_order),
            cmocka_unit_test(durations_may_be_chosen),
            cmocka_unit_test(at_least_timers_are_nominal),
            cmocka_unit_test(the_past_stays),
            cmocka_unit_test(instants_count_from_anywhere),
            cmocka_unit_test(the_last_instant_is_no_overflow),
            cmocka_unit_test(outputs_come_with_their_input),
            cmocka_unit_test(nothing_runs_in_a_quiet_panel),
            cmocka_unit_test(supervision_runs_from_the_start),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
