/* Cross-zone pairs, confirmation groups, modes and areas: what is found, and what is not. */
#include "rules/test_rules.h"

/* Hall and attic are a pair, and one way passes both: 2 to 4 s into the hall, 10 to 20 s up to the attic. */
static void pair(struct house *house) {
    house->zones[HALL].cross_with = ATTIC;
    house->zones[ATTIC].cross_with = HALL;
    house->ways[0].legs[1] = (struct site_leg){.zone = ATTIC, .door = SITE_NONE, .in = {10, 20}};
    house->ways[0].leg_count = 2;
}

static void a_pair_whose_window_is_longer_than_the_walk_is_fine(void **state) {
    struct house *house = *state;
    pair(house);
    house->site.settings.cross_window_s = 23; /* 10 % off: 21 s, the slowest walk takes 20 s */
    house_is_clean(house);
    house->site.settings.cross_window_s = 22;
    house_is_clean(house); /* 2 s off, whole seconds: 20 s */
    house->site.settings.cross_window_s = 20;
    const struct finding *finding =
            house_has(house, FINDING_RISK, "cross-zone.window-short", "panel.cross-window");
    assert_true(text_is(
            finding->headline, "who walks slowly from zone 2 \"hall\" to zone 4 is not heard"));
    house->site.settings.tolerance_tenths = 0;
    house_is_clean(house);
    house->site.settings.cross_window_s = 10;
    (void)house_has(house, FINDING_RISK, "cross-zone.window-short", "panel.cross-window");
    house->site.settings.cross_window_s = 9; /* not even the fastest */
    (void)house_has(house, FINDING_FAULT, "cross-zone.window-short", "panel.cross-window");
    house->ways[0].leg_count = 1; /* no way passes both: nobody knows the walk */
    house_is_clean(house);
}

static void the_walk_begins_at_the_door_of_a_pair(void **state) {
    struct house *house = *state;
    house->zones[FRONT].cross_with = HALL;
    house->zones[HALL].cross_with = FRONT;
    house->site.settings.tolerance_tenths = 0;
    house->site.settings.cross_window_s = 4;
    (void)house_has(house, FINDING_NOTE, "cross-zone.partner-out", "zones[0].cross-with");
    house->zones[HALL].in[SITE_MODE_PART] = SITE_FOLLOWER;
    house->zones[HALL].in[SITE_MODE_NIGHT] = SITE_FOLLOWER;
    house_is_clean(house);
    house->site.settings.cross_window_s = 3;
    (void)house_has(house, FINDING_RISK, "cross-zone.window-short", "panel.cross-window");
}

static void a_pair_without_a_window_is_a_fault(void **state) {
    struct house *house = *state;
    pair(house);
    house->site.settings.cross_window_s = 0;
    (void)house_has(house, FINDING_FAULT, "cross-zone.window-off", "panel.cross-window");
}

static void a_pair_of_two_areas_is_a_risk(void **state) {
    struct house *house = *state;
    pair(house);
    house->site.area_count = 2;
    house->zones[ATTIC].area = 1;
    (void)house_has(house, FINDING_RISK, "cross-zone.two-areas", "zones[1].cross-with");
}

static void a_partner_left_out_is_a_note(void **state) {
    struct house *house = *state;
    pair(house);
    house->zones[ATTIC].in[SITE_MODE_NIGHT] = SITE_PERIMETER;
    const struct finding *finding =
            house_has(house, FINDING_NOTE, "cross-zone.partner-out", "zones[3].cross-with");
    assert_true(text_is(finding->headline, "zone 4 \"attic\" counts alone when set (night)"));
}

static void group(struct house *house) {
    house->site.settings.confirm_window_s = 1800;
    for (int zone = FRONT; zone <= ATTIC; zone++) {
        house->zones[zone].group = text_of("way in");
    }
}

static void a_group_of_one_detector_is_a_risk(void **state) {
    struct house *house = *state;
    group(house);
    house_is_clean(house);
    house->zones[ATTIC].group = text_of("roof");
    const struct finding *finding =
            house_has(house, FINDING_RISK, "confirming.alone", "zones[3].confirms");
    assert_true(text_is(finding->headline, "nothing in house confirms an alarm of group \"roof\""));
    house->zones[GARDEN].group = text_of("roof");
    house_is_clean(house);
    house->zones[GARDEN].device = ATTIC; /* two inputs of one device are one witness */
    house_look(house);
    bool alone = false;
    for (size_t i = 0; i < house->count; i++) {
        alone = alone || text_is(house->findings[i].id, "confirming.alone");
    }
    assert_true(alone);
}

/* Hold-up and smoke signal by themselves: they are no second witness. */
static void what_signals_itself_is_no_witness(void **state) {
    struct house *house = *state;
    group(house);
    house->zones[ATTIC].group = text_of("roof");
    house->zones[PANIC].group = text_of("roof");
    house->zones[ALARM].group = text_of("roof");
    (void)house_has(house, FINDING_RISK, "confirming.alone", "zones[3].confirms");
}

static void a_group_of_two_areas_is_two(void **state) {
    struct house *house = *state;
    group(house);
    house->site.area_count = 2;
    house->zones[ATTIC].area = 1;
    (void)house_has(house, FINDING_RISK, "confirming.alone", "zones[3].confirms");
    house->zones[FRONT].serves = 2; /* a boundary door is of both */
    house_is_clean(house);
}

static void groups_without_a_window_do_nothing(void **state) {
    struct house *house = *state;
    group(house);
    house->site.settings.confirm_window_s = 0;
    (void)house_has(house, FINDING_RISK, "confirming.window-off", "panel.confirm-window");
}

static void a_zone_that_names_no_group_is_told(void **state) {
    struct house *house = *state;
    group(house);
    house->zones[HALL].group = text_of("");
    house->zones[ATTIC].group = text_of("");
    const struct finding *finding =
            house_has(house, FINDING_NOTE, "confirming.left-out", "zones[1]");
    assert_true(text_is(finding->headline, "zones that confirm nothing: 2 and 4"));
}

static void a_panel_takes_so_many_groups(void **state) {
    struct house *house = *state;
    group(house);
    house->zones[GARDEN].group = text_of("roof");
    house->zones[ATTIC].group = text_of("roof");
    house->site.panel.group_most_said = true;
    house->site.panel.group_most = 2;
    house_is_clean(house);
    house->site.panel.group_most = 1;
    const struct finding *finding =
            house_has(house, FINDING_FAULT, "panel.too-many", "zones[2].confirms");
    assert_true(text_is(finding->headline, "2 confirmation groups cannot be keyed in"));
    assert_true(text_is(finding->why, "test-panel takes 1"));
    house->site.panel.group_most = 0;
    finding = house_has(house, FINDING_FAULT, "panel.too-many", "zones[0].confirms");
    assert_true(text_is(finding->why, "test-panel has no confirmation groups"));
}

static void a_zone_watched_in_no_mode_is_a_fault(void **state) {
    struct house *house = *state;
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        house->zones[ATTIC].in[mode] = SITE_OUT;
    }
    (void)house_has(house, FINDING_FAULT, "zones.never-watched", "zones[3].behaviour");
    house->zones[ATTIC].set_aside = true; /* for a while, which is said elsewhere */
    house_is_clean(house);
}

static void a_zone_watched_only_where_nobody_sets_is_a_risk(void **state) {
    struct house *house = *state;
    house->zones[ATTIC].in[SITE_MODE_FULL] = SITE_OUT;
    house->zones[ATTIC].in[SITE_MODE_NIGHT] = SITE_INTERIOR;
    (void)house_has(house, FINDING_RISK, "zones.unused-modes", "zones[3].in");
    house->steps[1] = house->steps[0];
    house->steps[1].act = SITE_ACT_SET;
    house->steps[1].mode = SITE_MODE_NIGHT;
    house->routines[0].step_count = 2; /* somebody sets it for the night */
    house_is_clean(house);
    house->steps[1].areas = 2; /* but the barn */
    (void)house_has(house, FINDING_RISK, "zones.unused-modes", "zones[3].in");
    house->routines[0].step_count = 1;
    house->routines[0].starts[0].mode = SITE_MODE_NIGHT; /* or it is set so at the start */
    house_is_clean(house);
}

static void an_area_that_nobody_sets_is_a_fault(void **state) {
    struct house *house = *state;
    house->site.area_count = 2;
    house->zones[ATTIC].area = 1;
    house->keypads[0].areas = 1;
    (void)house_has(house, FINDING_FAULT, "areas.no-keypad", "areas[1]");
    house->people[OWNER].has_fob = true;
    house->people[OWNER].areas = 3;
    house_is_clean(house);
    house->people[OWNER].areas = 1;
    house->areas[1].common = true;
    house_is_clean(house);
    house->areas[1].common = false;
    house->keypads[0].areas = 3;
    house_is_clean(house);
}

static void an_area_without_zones_is_a_risk(void **state) {
    struct house *house = *state;
    house->site.area_count = 2;
    (void)house_has(house, FINDING_RISK, "areas.no-zone", "areas[1]");
    house->zones[FRONT].serves = 2; /* a boundary door is of both */
    house_is_clean(house);
}

static void a_common_area_alone_is_a_risk(void **state) {
    struct house *house = *state;
    house->areas[0].common = true;
    (void)house_has(house, FINDING_RISK, "areas.common-alone", "areas[0].common");
    house->site.area_count = 2;
    house->zones[ATTIC].area = 1;
    house_is_clean(house);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            HOUSE_TEST(a_pair_whose_window_is_longer_than_the_walk_is_fine),
            HOUSE_TEST(the_walk_begins_at_the_door_of_a_pair),
            HOUSE_TEST(a_pair_without_a_window_is_a_fault),
            HOUSE_TEST(a_pair_of_two_areas_is_a_risk),
            HOUSE_TEST(a_partner_left_out_is_a_note),
            HOUSE_TEST(a_group_of_one_detector_is_a_risk),
            HOUSE_TEST(what_signals_itself_is_no_witness),
            HOUSE_TEST(a_group_of_two_areas_is_two),
            HOUSE_TEST(groups_without_a_window_do_nothing),
            HOUSE_TEST(a_zone_that_names_no_group_is_told),
            HOUSE_TEST(a_panel_takes_so_many_groups),
            HOUSE_TEST(a_zone_watched_in_no_mode_is_a_fault),
            HOUSE_TEST(a_zone_watched_only_where_nobody_sets_is_a_risk),
            HOUSE_TEST(an_area_that_nobody_sets_is_a_fault),
            HOUSE_TEST(an_area_without_zones_is_a_risk),
            HOUSE_TEST(a_common_area_alone_is_a_risk),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
