/* From a site to a program: what is taken over, what is refused; and that a broken state is noticed. */
#include "panel/panel_tables.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

struct bench {
    struct site_area areas[3];
    struct site_device_profile profile;
    struct site_device devices[2];
    struct site_zone zones[2];
    struct site_person people[2];
    struct site site;
    struct panel_program program;
    struct problem problem;
};

static void fill(struct bench *bench) {
    memset(bench, 0, sizeof *bench);
    bench->profile.sense = SITE_GLASS;
    for (int i = 0; i < 2; i++) {
        bench->devices[i] = (struct site_device){.profile = 0, .door = i == 0 ? 7 : SITE_NONE};
        bench->zones[i] = (struct site_zone){.number = i + 1,
                .device = i,
                .behaviour = SITE_FOLLOWER,
                .follows = i == 0 ? 2U : 0U,
                .pulse_count = 5,
                .cross_with = i == 0 ? 1 : SITE_NONE,
                .serves = 4};
        for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
            bench->zones[i].in[mode] = mode == 1 ? SITE_OUT : SITE_FOLLOWER;
            bench->zones[i].delay[mode] = mode == 2 ? 3 : SITE_NONE;
        }
    }
    bench->areas[2].common = true;
    bench->people[0].areas = 1;
    bench->people[1].areas = 2;
    bench->people[1].duress = true;
    bench->site = (struct site){.settings = site_settings_usual(),
            .areas = bench->areas,
            .area_count = 3,
            .device_profiles = &bench->profile,
            .device_profile_count = 1,
            .devices = bench->devices,
            .device_count = 2,
            .zones = bench->zones,
            .zone_count = 2,
            .people = bench->people,
            .person_count = 2};
}

static bool take(struct bench *bench) {
    return panel_program_of_site(&bench->site, NULL, &bench->program, &bench->problem).good;
}

static void zone_is_taken_over(void **state) {
    static struct bench bench;
    (void)state;
    fill(&bench);
    assert_true(take(&bench));
    const struct panel_zone *zone = &bench.program.zones[0];
    assert_ptr_equal(bench.program.tables, &panel_tables_standard);
    assert_int_equal(zone->behaviour[0], SITE_FOLLOWER);
    assert_int_equal(zone->behaviour[1], SITE_OUT);
    assert_int_equal(zone->delay[1], 0xFF);
    assert_int_equal(zone->delay[2], 3);
    assert_int_equal(zone->serves, 5); /* its own area and the one it serves */
    assert_int_equal(zone->sense, SITE_GLASS);
    assert_int_equal(zone->door, 7);
    assert_int_equal(zone->cross_with, 1);
    assert_int_equal(zone->follows, 2);
    assert_int_equal(bench.program.zones[1].follows, 0xFFFF); /* none named: every route */
    assert_int_equal(bench.program.zones[1].door, 0xFF);
    assert_int_equal(bench.program.zones[1].cross_with, PANEL_NO_ZONE);
}

static void people_act_on_common_areas(void **state) {
    static struct bench bench;
    (void)state;
    fill(&bench);
    assert_true(take(&bench));
    assert_int_equal(bench.program.common_areas, 4);
    assert_int_equal(bench.program.user_areas[0], 1 | 4);
    assert_int_equal(bench.program.user_areas[1], 2 | 4);
    assert_false(bench.program.user_duress[0]);
    assert_true(bench.program.user_duress[1]);
}

static void only_area_is_common_to_nobody(void **state) {
    static struct bench bench;
    (void)state;
    fill(&bench);
    bench.areas[0].common = true;
    bench.site.area_count = 1;
    assert_true(take(&bench));
    assert_int_equal(bench.program.common_areas, 0);
}

static void zone_without_device_is_a_contact(void **state) {
    static struct bench bench;
    (void)state;
    fill(&bench);
    bench.zones[0].device = SITE_NONE;
    bench.devices[1].profile = SITE_NONE;
    assert_true(take(&bench));
    assert_int_equal(bench.program.zones[0].sense, SITE_CONTACT);
    assert_int_equal(bench.program.zones[1].sense, SITE_CONTACT);
}

static void assert_refused(struct bench *bench, enum problem_kind kind, const char *words) {
    assert_false(take(bench));
    assert_int_equal(bench->problem.kind, kind);
    assert_non_null(strstr(bench->problem.text, words));
}

static void what_is_outside_its_bound_is_refused(void **state) {
    static struct bench bench;
    (void)state;
    fill(&bench);
    bench.zones[1].area = 3;
    assert_refused(&bench, PROBLEM_BAD_VALUE, "zone 2 is in no area");
    fill(&bench);
    bench.zones[1].device = 2;
    assert_refused(&bench, PROBLEM_BAD_VALUE, "zone 2 has no such device");
    fill(&bench);
    bench.zones[1].device = -2;
    assert_refused(&bench, PROBLEM_BAD_VALUE, "zone 2 has no such device");
    fill(&bench);
    bench.devices[1].profile = 1;
    assert_refused(&bench, PROBLEM_BAD_VALUE, "device of zone 2 has no such profile");
    fill(&bench);
    bench.devices[0].door = 0xFF;
    assert_refused(&bench, PROBLEM_LIMIT, "first 255 doors");
    fill(&bench);
    bench.zones[0].cross_with = 2;
    assert_refused(&bench, PROBLEM_BAD_VALUE, "zone 1 has no such cross-zone partner");
    fill(&bench);
    bench.zones[0].pulse_count = 6;
    assert_refused(&bench, PROBLEM_BAD_VALUE, "zone 1 counts 6 pulses");
    fill(&bench);
    bench.zones[0].in[5] = SITE_BEHAVIOUR_COUNT;
    assert_refused(&bench, PROBLEM_BAD_VALUE, "zone 1: mode 5");
    fill(&bench);
    bench.zones[0].behaviour = SITE_BEHAVIOUR_COUNT;
    assert_refused(&bench, PROBLEM_BAD_VALUE, "zone 1: mode 0");
    fill(&bench);
    bench.zones[0].delay[4] = SITE_DELAY_MAX;
    assert_refused(&bench, PROBLEM_BAD_VALUE, "zone 1: mode 4");
    fill(&bench);
    bench.zones[0].delay[4] = -2;
    assert_refused(&bench, PROBLEM_BAD_VALUE, "zone 1: mode 4");
}

static void too_many_are_refused(void **state) {
    static struct bench bench;
    (void)state;
    fill(&bench);
    bench.site.area_count = 0;
    assert_refused(&bench, PROBLEM_LIMIT, "1 to 8 areas");
    fill(&bench);
    bench.site.zone_count = PANEL_ZONE_MAX + 1;
    assert_refused(&bench, PROBLEM_LIMIT, "at most 128 zones");
}

/* ---- a broken state ---- */

static void assert_broken(
        const struct panel_program *program, struct panel_state state, const char *words) {
    const char *broken = NULL;
    assert_false(panel_invariants_hold(program, &state, &broken));
    assert_non_null(broken);
    assert_non_null(strstr(broken, words));
}

static void broken_areas_are_noticed(void **state) {
    static struct bench bench;
    const struct panel_state good = {.flags = 0};
    const char *broken = NULL;
    struct panel_state bad = good;
    (void)state;
    fill(&bench);
    assert_true(take(&bench));
    assert_true(panel_invariants_hold(&bench.program, &good, &broken));
    bad.areas[2].phase = PANEL_PHASE_COUNT;
    assert_broken(&bench.program, bad, "phase is out of range");
    bad = good;
    bad.areas[1].alarm = PANEL_ALARM_COUNT;
    assert_broken(&bench.program, bad, "alarm state is out of range");
    bad = good;
    bad.areas[1].sound = PANEL_SOUND_COUNT;
    assert_broken(&bench.program, bad, "sound is out of range");
    bad = good;
    bad.areas[1].mode = 1;
    assert_broken(&bench.program, bad, "unset area is in a mode");
    bad = good;
    bad.areas[1].routes = 1;
    assert_broken(&bench.program, bad, "outside entry");
    bad = good;
    bad.areas[0].flags = PANEL_AREA_WARN_DUE;
    assert_broken(&bench.program, bad, "warning is due");
    bad = good;
    bad.areas[0].flags = PANEL_AREA_HELD_BACK | PANEL_AREA_INSIDE;
    assert_true(panel_invariants_hold(&bench.program, &bad, &broken));
    bad.areas[0].sound = PANEL_SIREN;
    assert_broken(&bench.program, bad, "a siren waits and sounds");
    bad = good;
    bad.areas[0].flags = PANEL_AREA_INSIDE;
    assert_broken(&bench.program, bad, "or does neither");
}

static void broken_zone_sets_are_noticed(void **state) {
    static struct bench bench;
    struct panel_state bad = {.flags = 0};
    (void)state;
    fill(&bench);
    assert_true(take(&bench));
    panel_zones_add(&bad.open, 2);
    assert_broken(&bench.program, bad, "outside the program");
    bad = (struct panel_state){.flags = 0};
    panel_zones_add(&bad.lasting, 0);
    assert_broken(&bench.program, bad, "lasting bypass");
    bad = (struct panel_state){.flags = 0};
    panel_zones_add(&bad.forced, 1);
    assert_broken(&bench.program, bad, "forced bypass");
    bad = (struct panel_state){.flags = 0};
    panel_zones_add(&bad.after_siren, 1);
    assert_broken(&bench.program, bad, "closed zone is out");
    bad = (struct panel_state){.flags = 0};
    panel_zones_add(&bad.recent, 1);
    assert_broken(&bench.program, bad, "recent alarm is not held");
}

static void a_broken_queue_is_noticed(void **state) {
    static struct bench bench;
    struct panel_state bad = {.flags = PANEL_PATH_LOST, .queued = 1};
    const char *broken = NULL;
    (void)state;
    fill(&bench);
    assert_true(take(&bench));
    assert_true(panel_invariants_hold(&bench.program, &bad, &broken));
    bad.queue[1] = 1;
    assert_broken(&bench.program, bad, "not in order");
    bad = (struct panel_state){.queued = 1};
    assert_broken(&bench.program, bad, "not in order");
    bad = (struct panel_state){.flags = PANEL_PATH_LOST, .queued = PANEL_QUEUE_MAX + 1};
    assert_broken(&bench.program, bad, "not in order");
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(zone_is_taken_over),
            cmocka_unit_test(people_act_on_common_areas),
            cmocka_unit_test(only_area_is_common_to_nobody),
            cmocka_unit_test(zone_without_device_is_a_contact),
            cmocka_unit_test(what_is_outside_its_bound_is_refused),
            cmocka_unit_test(too_many_are_refused),
            cmocka_unit_test(broken_areas_are_noticed),
            cmocka_unit_test(broken_zone_sets_are_noticed),
            cmocka_unit_test(a_broken_queue_is_noticed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
