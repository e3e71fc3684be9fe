/* Reporting, supervision, chime, doors: what is found, and what is not. */
#include "rules/test_rules.h"

static void an_alarm_that_is_not_sent_is_a_risk(void **state) {
    struct house *house = *state;
    house->zones[GARDEN].reports = false;
    const struct finding *finding =
            house_has(house, FINDING_RISK, "zones.not-reporting", "zones[2].reports");
    assert_true(text_is(
            finding->headline, "zone 3 \"garden door\" only makes a noise: nobody is told"));
}

static void a_call_for_help_that_is_not_sent_is_a_fault(void **state) {
    struct house *house = *state;
    house->zones[ALARM].reports = false;
    (void)house_has(house, FINDING_FAULT, "zones.not-reporting", "zones[5].reports");
    house->zones[ALARM].reports = true;
    house->zones[PANIC].reports = false;
    (void)house_has(house, FINDING_FAULT, "zones.not-reporting", "zones[4].reports");
}

static void a_zone_that_is_never_watched_need_not_report(void **state) {
    struct house *house = *state;
    house->zones[ATTIC].reports = false;
    house->zones[ATTIC].behaviour = SITE_OUT;
    memset(house->zones[ATTIC].in, 0, sizeof house->zones[ATTIC].in);
    (void)house_has(house, FINDING_FAULT, "zones.never-watched", "zones[3].behaviour");
}

static void a_site_where_nothing_reports_is_one_note(void **state) {
    struct house *house = *state;
    for (int i = 0; i < HOUSE_ZONE_COUNT; i++) {
        house->zones[i].reports = false;
    }
    (void)house_has(house, FINDING_NOTE, "zones.none-reports", "zones");
}

static void a_radio_device_that_nobody_misses_is_a_risk(void **state) {
    struct house *house = *state;
    house->zones[FRONT].supervised = false;
    (void)house_has(house, FINDING_RISK, "zones.not-supervised", "zones[0].supervised");
    house->zones[FRONT].supervised = true;
    house->zones[HALL].supervised = false; /* wired: its cable is its supervision */
    house_is_clean(house);
}

static void a_supervision_window_of_none_is_a_risk(void **state) {
    struct house *house = *state;
    house->site.settings.supervision_window_s = 0;
    (void)house_has(house, FINDING_RISK, "settings.supervision-off", "panel.supervision-window");
    for (int i = 0; i < PROFILE_COUNT; i++) {
        house->profiles[i].radio = false;
    }
    house_is_clean(house);
}

static void only_contacts_chime(void **state) {
    struct house *house = *state;
    house->zones[FRONT].chime = true;
    house_is_clean(house);
    house->zones[HALL].chime = true;
    (void)house_has(house, FINDING_NOTE, "zones.chime-each-step", "zones[1].chime");
    house->zones[HALL].chime = false;
    house->zones[ALARM].chime = true;
    (void)house_has(house, FINDING_RISK, "zones.chime-never", "zones[5].chime");
    house->zones[ALARM].chime = false;
    house->zones[PANIC].chime = true;
    (void)house_has(house, FINDING_RISK, "zones.chime-never", "zones[4].chime");
    house->zones[PANIC].chime = false;
    house->zones[GARDEN].chime = true;
    house->zones[GARDEN].behaviour = SITE_ALWAYS;
    (void)house_has(house, FINDING_RISK, "zones.chime-never", "zones[2].chime");
}

static void a_door_outside_without_a_zone_is_a_risk(void **state) {
    struct house *house = *state;
    house->devices[GARDEN].profile = MOTION; /* a contact on nothing would be told as well */
    house->devices[GARDEN].door = SITE_NONE;
    const struct finding *finding = house_has(house, FINDING_RISK, "doors.no-detector", "doors[1]");
    assert_true(text_is(finding->headline, "nothing watches the garden door"));
    house->doors[GARDEN_DOOR].outside = false;
    house_is_clean(house);
}

static void a_door_outside_that_full_leaves_out_is_a_risk(void **state) {
    struct house *house = *state;
    house->routines[0].starts[0].mode = SITE_MODE_NIGHT;
    house->zones[GARDEN].in[SITE_MODE_FULL] = SITE_OUT;
    (void)house_has(house, FINDING_RISK, "doors.left-out", "zones[2].in");
    house->zones[GARDEN].in[SITE_MODE_FULL] = SITE_INTERIOR;
    house_is_clean(house);
}

static void an_entry_door_that_nobody_uses_is_a_note_with_its_price(void **state) {
    struct house *house = *state;
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        house->zones[GARDEN].in[mode] = SITE_ENTRY;
        house->zones[GARDEN].delay[mode] = 0;
    }
    const struct finding *finding =
            house_has(house, FINDING_NOTE, "doors.entry-unused", "zones[2].behaviour");
    assert_true(text_is(finding->headline,
            "nobody comes in by the garden door: its entry time of 30 s serves a burglar only"));
    assert_true(finding->price.length > 0);
    house->steps[1] = house->steps[0]; /* somebody opens it in a routine */
    house->steps[1].act = SITE_ACT_OPEN;
    house->steps[1].door = GARDEN_DOOR;
    house->routines[0].step_count = 2;
    house_is_clean(house);
    house->routines[0].step_count = 1;
    house->ways[1] = house->ways[0]; /* or a way leads through it */
    house->ways[1].legs[0] = (struct site_leg){.zone = SITE_NONE, .door = GARDEN_DOOR};
    house->site.way_count = 2;
    house_is_clean(house);
    house->site.way_count = 0; /* nobody has said who uses what */
    house_is_clean(house);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            HOUSE_TEST(an_alarm_that_is_not_sent_is_a_risk),
            HOUSE_TEST(a_call_for_help_that_is_not_sent_is_a_fault),
            HOUSE_TEST(a_zone_that_is_never_watched_need_not_report),
            HOUSE_TEST(a_site_where_nothing_reports_is_one_note),
            HOUSE_TEST(a_radio_device_that_nobody_misses_is_a_risk),
            HOUSE_TEST(a_supervision_window_of_none_is_a_risk),
            HOUSE_TEST(only_contacts_chime),
            HOUSE_TEST(a_door_outside_without_a_zone_is_a_risk),
            HOUSE_TEST(a_door_outside_that_full_leaves_out_is_a_risk),
            HOUSE_TEST(an_entry_door_that_nobody_uses_is_a_note_with_its_price),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
