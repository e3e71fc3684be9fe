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

static void who_reports_has_an_account(void **state) {
    struct house *house = *state;
    site_numbers_add(&house->site.panel.account_lengths, 4);
    house->site.panel.account_lengths.said = true;
    (void)house_has(house, FINDING_NOTE, "station.no-account", "panel");
    house->site.station.account = text_of("4021");
    house_is_clean(house);
    house->site.station.account = text_of("402");
    const struct finding *finding =
            house_has(house, FINDING_FAULT, "station.account-length", "panel.account");
    assert_true(text_is(finding->headline, "the account has 3 digits and cannot be keyed in"));
    assert_true(text_is(finding->why, "test-panel takes 4"));
    house->site.station.account = text_of("40211");
    (void)house_has(house, FINDING_FAULT, "station.account-length", "panel.account");
    house->site.panel.account_lengths.said = false;
    house_is_clean(house);
}

static void who_reports_nothing_needs_no_account(void **state) {
    struct house *house = *state;
    site_numbers_add(&house->site.panel.account_lengths, 4);
    house->site.panel.account_lengths.said = true;
    for (int i = 0; i < HOUSE_ZONE_COUNT; i++) {
        house->zones[i].reports = false;
    }
    (void)house_has(house, FINDING_NOTE, "zones.none-reports", "zones");
}

/* Of SIA DC-05 (from memory): 134 entry, 131 perimeter, 132 interior, 122 hold-up, 110 fire. */
static void what_reports_has_an_event(void **state) {
    struct house *house = *state;
    struct text *events = house->site.panel.events;
    house->site.panel.events_said = true;
    events[SITE_ENTRY] = text_of("134");
    events[SITE_PERIMETER] = text_of("131");
    events[SITE_FOLLOWER] = events[SITE_INTERIOR] = text_of("132");
    events[SITE_HOLD_UP] = text_of("122");
    events[SITE_FIRE] = text_of("110");
    house_is_clean(house);
    events[SITE_PERIMETER] = text_of("none");
    const struct finding *finding =
            house_has(house, FINDING_FAULT, "station.no-event", "zones[2].behaviour");
    assert_true(text_is(finding->headline, "an alarm of perimeter is sent as nothing: zone 3"));
    assert_true(text_is(
            finding->remedy, "events: {perimeter: ...} under panel, as the station wants it"));
    house->site.station.events[SITE_PERIMETER] = text_of("131"); /* the site keys it in */
    house_is_clean(house);
    house->zones[ATTIC].in[SITE_MODE_NIGHT] = SITE_PERIMETER; /* in one mode only: it counts, too */
    house->site.station.events[SITE_PERIMETER] = text_of("none");
    finding = house_has(house, FINDING_FAULT, "station.no-event", "zones[2].behaviour");
    assert_true(text_is(finding->headline, "an alarm of perimeter is sent as nothing: zones 3, 4"));
    house->zones[GARDEN].reports = false;
    house->zones[ATTIC].reports = false;
    house_look(house); /* what is not sent needs no code: two risks of not reporting, no more */
    assert_int_equal(house->count, 2);
    house->zones[GARDEN].reports = house->zones[ATTIC].reports = true;
    house->site.panel.events_said = false;
    house_is_clean(house);
}

static void what_the_panel_has_no_row_for_cannot_be_sent(void **state) {
    struct house *house = *state;
    house->site.panel.events_said = true;
    for (int i = SITE_ENTRY; i < SITE_BEHAVIOUR_COUNT; i++) {
        house->site.panel.events[i] = text_of("130");
    }
    house->site.panel.events[SITE_FIRE] = (struct text){0};
    house->site.station.events[SITE_FIRE] = text_of("110");
    const struct finding *finding =
            house_has(house, FINDING_FAULT, "station.no-event", "zones[5].behaviour");
    assert_true(text_is(finding->remedy, "another behaviour, or a panel that sends this one"));
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
            HOUSE_TEST(who_reports_has_an_account),
            HOUSE_TEST(who_reports_nothing_needs_no_account),
            HOUSE_TEST(what_reports_has_an_event),
            HOUSE_TEST(what_the_panel_has_no_row_for_cannot_be_sent),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
