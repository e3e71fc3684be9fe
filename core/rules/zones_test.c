/* Numbers, names, delays and settings: what is found, and what is not. */
#include "rules/test_rules.h"

static void a_number_used_twice_is_a_fault(void **state) {
    struct house *house = *state;
    house->zones[ATTIC].number = house->zones[FRONT].number;
    const struct finding *finding =
            house_has(house, FINDING_FAULT, "zones.number-twice", "zones[3].number");
    assert_true(text_is(
            finding->headline, "two zones have the number 1: \"attic\" and \"front door\""));
    house->zones[ATTIC].number = 9; /* a gap in the numbers is none */
    house_is_clean(house);
}

static void a_name_used_twice_is_a_risk(void **state) {
    struct house *house = *state;
    house->zones[ATTIC].name = text_of("Hall");
    (void)house_has(house, FINDING_RISK, "zones.name-twice", "zones[3].says");
    house->zones[ATTIC].name = text_of("halls");
    house_is_clean(house);
}

static void a_name_used_twice_in_two_areas_is_a_note(void **state) {
    struct house *house = *state;
    house->site.area_count = 2;
    house->zones[ATTIC].name = text_of("hall");
    house->zones[ATTIC].area = 1;
    (void)house_has(house, FINDING_NOTE, "zones.name-twice", "zones[3].says");
}

static void a_delay_that_no_zone_starts_is_a_note(void **state) {
    struct house *house = *state;
    house->site.settings.delays[1] = (struct site_delay){.name = text_of("back"), .seconds_s = 20};
    house->site.settings.delay_count = 2;
    const struct finding *finding =
            house_has(house, FINDING_NOTE, "delays.unused", "panel.entry-delays.back");
    assert_true(text_is(finding->headline, "no zone uses entry delay \"back\""));
    house->zones[FRONT].delay[SITE_MODE_NIGHT] = 1; /* in one mode is enough */
    house_is_clean(house);
}

static void what_a_behaviour_does_not_heed_is_a_note(void **state) {
    struct house *house = *state;
    struct site_zone *attic = &house->zones[ATTIC];
    attic->delay_idle = true;
    const struct finding *finding = house_has(house, FINDING_NOTE, "delays.idle", "zones[3].delay");
    assert_true(text_is(finding->remedy, "take it out, or make the zone entry"));
    attic->delay_idle = false;
    attic->hold_s = 3;
    (void)house_has(house, FINDING_NOTE, "delays.idle", "zones[3].hold");
    attic->hold_s = 0;
    attic->follows = 1;
    (void)house_has(house, FINDING_NOTE, "delays.idle", "zones[3].follows");
    attic->in[SITE_MODE_FULL] = SITE_FOLLOWER; /* in one mode is enough */
    house_is_clean(house);
}

static void a_follower_whose_delay_no_zone_starts_is_a_fault(void **state) {
    struct house *house = *state;
    house->site.settings.delays[1] = (struct site_delay){.name = text_of("back"), .seconds_s = 20};
    house->site.settings.delay_count = 2;
    house->zones[FRONT].delay[SITE_MODE_NIGHT] = 1;
    house->zones[HALL].follows = 2; /* the door starts it at night only */
    const struct finding *finding =
            house_has(house, FINDING_FAULT, "delays.follows-nothing", "zones[1].follows");
    assert_true(text_is(finding->why,
            "it is a follower (full), but no entry zone of house starts a delay that it follows"));
    house->zones[HALL].follows = 3;
    house_is_clean(house);
}

static void a_follower_alone_in_its_area_waits_for_nothing(void **state) {
    struct house *house = *state;
    house->site.area_count = 2;
    house->zones[HALL].area = 1;
    (void)house_has(house, FINDING_FAULT, "delays.follows-nothing", "zones[1].behaviour");
    house->zones[FRONT].serves = 1U << 1; /* a boundary door starts entry there as well */
    house_is_clean(house);
}

/* Both ends of what the profile offers, and one second outside. */
static void delays_outside_the_panels_ranges_are_faults(void **state) {
    struct house *house = *state;
    struct site_settings *settings = &house->site.settings;
    house->site.panel.entry_delay = (struct span){15, 45};
    house->site.panel.exit_delay = (struct span){45, 120};
    house->site.panel.abort_window = (struct span){15, 45};
    settings->delays[0].seconds_s = 15;
    settings->modes[SITE_MODE_FULL].exit_delay_s = 45;
    settings->abort_window_s = 15;
    house_is_clean(house);
    settings->delays[0].seconds_s = 14;
    (void)house_has(house, FINDING_FAULT, "delays.beyond-panel", "panel.entry-delays.front");
    settings->delays[0].seconds_s = 45;
    settings->modes[SITE_MODE_FULL].exit_delay_s = 120;
    house_is_clean(house);
    settings->modes[SITE_MODE_FULL].exit_delay_s = 121;
    const struct finding *finding =
            house_has(house, FINDING_FAULT, "delays.beyond-panel", "panel.exit-delay");
    assert_true(text_is(
            finding->headline, "the exit delay of 2 min 1 s cannot be keyed into this panel"));
    assert_true(text_is(finding->why, "the panel's profile ends at 2 min there"));
    settings->modes[SITE_MODE_FULL].exit_delay_s = 44;
    (void)house_has(house, FINDING_FAULT, "delays.beyond-panel", "panel.exit-delay");
    settings->modes[SITE_MODE_FULL].exit_delay_s = 60;
    settings->modes[SITE_MODE_NIGHT].exit_delay_s = 30;
    (void)house_has(house, FINDING_FAULT, "delays.beyond-panel", "panel.night-exit-delay");
    settings->modes[SITE_MODE_NIGHT].exit_delay_s = 0; /* at once: every panel can */
    settings->abort_window_s = 14;
    (void)house_has(house, FINDING_FAULT, "delays.beyond-panel", "panel.abort-window");
}

/* Source: CP-01, note to the entry delay, from memory: together 60 s at most. */
static void entry_delay_and_abort_window_together_are_a_note(void **state) {
    struct house *house = *state;
    house->site.settings.delays[0].seconds_s = 45;
    house->site.settings.abort_window_s = 16;
    const struct finding *finding =
            house_has(house, FINDING_NOTE, "settings.entry-plus-abort", "panel.abort-window");
    assert_true(text_is(finding->headline, "a thief has up to 61 s before anybody is told"));
    assert_true(text_is(
            finding->why, "entry delay and abort window add up to more than 60 s: front 61 s"));
    assert_true(text_is(finding->remedy, "an abort window of 15 s"));
    house->site.panel.steps[SITE_SET_ABORT_WINDOW] = 4; /* 16 s can be keyed in, 15 s cannot */
    finding = house_has(house, FINDING_NOTE, "settings.entry-plus-abort", "panel.abort-window");
    assert_true(text_is(finding->remedy, "an abort window of 12 s"));
    house->site.panel.steps[SITE_SET_ABORT_WINDOW] = 0;
    house->site.panel.abort_window = span_of(16, 60); /* none of it is short enough */
    finding = house_has(house, FINDING_NOTE, "settings.entry-plus-abort", "panel.abort-window");
    assert_true(text_is(finding->remedy, "shorter entry delays, if the routines allow it"));
    house->site.panel.abort_window = span_of(0, 60);
    house->site.settings.abort_window_s = 15;
    house_is_clean(house);
    house->site.settings.delays[0].seconds_s = 60;
    finding = house_has(house, FINDING_NOTE, "settings.entry-plus-abort", "panel.abort-window");
    assert_true(text_is(finding->remedy, "shorter entry delays, if the routines allow it"));
    house->site.settings.abort_window_s = 0;
    house_is_clean(house);
}

static void a_swinger_limit_of_one_is_a_note(void **state) {
    struct house *house = *state;
    house->site.settings.swinger_limit = 1;
    (void)house_has(house, FINDING_NOTE, "settings.swinger-one", "panel.swinger-limit");
    house->site.settings.swinger_limit = 0;
    house_is_clean(house);
}

static void keypads_that_never_lock_are_a_risk(void **state) {
    struct house *house = *state;
    house->site.settings.lockout_tries = 0;
    (void)house_has(house, FINDING_RISK, "settings.lockout-off", "panel.lockout-tries");
    house->site.settings.lockout_tries = 1;
    house_is_clean(house);
}

static void a_site_without_any_zone_is_a_fault(void **state) {
    struct house *house = *state;
    house->site.zone_count = 0;
    house->site.device_count = 0;
    house->site.door_count = 0;
    house->site.way_count = 0;
    house->site.routine_count = 0;
    house->site.settings.delay_count = 0;
    house->site.panel.siren_most = 2; /* that none is there yet is no second finding */
    (void)house_has(house, FINDING_FAULT, "site.no-zone", "");
}

static void a_site_where_nobody_comes_is_a_risk(void **state) {
    struct house *house = *state;
    house->site.door_count = 1; /* the garden door: nobody uses it as an entry */
    house->zones[FRONT].behaviour = SITE_PERIMETER;
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        house->zones[FRONT].in[mode] = SITE_PERIMETER;
    }
    house->zones[HALL].behaviour = SITE_INTERIOR;
    house->zones[HALL].in[SITE_MODE_FULL] = SITE_INTERIOR;
    house->site.settings.delay_count = 0;
    house->site.way_count = 0;
    house_is_clean(house); /* a routine alone is played */
    house->site.routine_count = 0;
    (void)house_has(house, FINDING_RISK, "site.nobody-comes", "");
    house->site.way_count = 1;
    house_is_clean(house);
}

/* HALL is a wired motion detector, FRONT a radio contact. */
static void a_resistor_belongs_to_the_far_end_of_a_wire(void **state) {
    struct house *house = *state;
    house->zones[HALL].loop_end = SITE_LOOP_END_DEVICE;
    house_is_clean(house);
    house->zones[HALL].loop_end = SITE_LOOP_END_PANEL;
    (void)house_has(house, FINDING_RISK, "zones.resistor-at-panel", "zones[1].end-of-line");
    house->zones[HALL].loop_end = SITE_LOOP_END_NONE;
    (void)house_has(house, FINDING_RISK, "zones.resistor-none", "zones[1].end-of-line");
    house->zones[HALL].device = SITE_NONE; /* nobody knows whether it has a loop */
    house->zones[HALL].loop_end = SITE_LOOP_END_PANEL;
    house_look(house);
    for (size_t i = 0; i < house->count; i++) {
        assert_false(text_is(house->findings[i].id, "zones.resistor-at-panel"));
    }
}

static void a_radio_zone_has_no_loop(void **state) {
    struct house *house = *state;
    house->zones[FRONT].loop_end = SITE_LOOP_END_NONE;
    house_is_clean(house);
    house->zones[FRONT].loop_end = SITE_LOOP_END_PANEL;
    (void)house_has(house, FINDING_NOTE, "zones.resistor-on-radio", "zones[0].end-of-line");
    house->zones[FRONT].loop_end = SITE_LOOP_END_DEVICE;
    (void)house_has(house, FINDING_NOTE, "zones.resistor-on-radio", "zones[0].end-of-line");
    house->zones[FRONT].input = 2; /* terminals for a wire */
    house_look(house);
    for (size_t i = 0; i < house->count; i++) {
        assert_false(text_is(house->findings[i].id, "zones.resistor-on-radio"));
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            HOUSE_TEST(a_number_used_twice_is_a_fault),
            HOUSE_TEST(a_name_used_twice_is_a_risk),
            HOUSE_TEST(a_name_used_twice_in_two_areas_is_a_note),
            HOUSE_TEST(a_delay_that_no_zone_starts_is_a_note),
            HOUSE_TEST(what_a_behaviour_does_not_heed_is_a_note),
            HOUSE_TEST(a_follower_whose_delay_no_zone_starts_is_a_fault),
            HOUSE_TEST(a_follower_alone_in_its_area_waits_for_nothing),
            HOUSE_TEST(delays_outside_the_panels_ranges_are_faults),
            HOUSE_TEST(entry_delay_and_abort_window_together_are_a_note),
            HOUSE_TEST(a_swinger_limit_of_one_is_a_note),
            HOUSE_TEST(keypads_that_never_lock_are_a_risk),
            HOUSE_TEST(a_site_without_any_zone_is_a_fault),
            HOUSE_TEST(a_site_where_nobody_comes_is_a_risk),
            HOUSE_TEST(a_resistor_belongs_to_the_far_end_of_a_wire),
            HOUSE_TEST(a_radio_zone_has_no_loop),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
