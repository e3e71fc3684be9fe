/* Links, batteries of devices, the panel's supply, cables and loops, each on both sides of its limit. Expected
 * figures are worked out by hand from the formulas of docs/radio.md and docs/power.md. */
#include "rules/test_rules.h"

static struct measure of(double low, double high) {
    return (struct measure){
            .low = (int32_t)(low * 1000), .high = (int32_t)(high * 1000), .said = true};
}

static void assert_has(struct text said, const char *part) {
    bool found = false;
    const size_t length = strlen(part);
    for (size_t i = 0; i + length <= said.length && !found; i++) {
        found = memcmp(said.start + i, part, length) == 0;
    }
    if (!found) {
        print_error("\"%s\" is not in: %.*s\n", part, TEXT_ARGS(said));
    }
    assert_true(found);
}

/* The one edit of a finding. */
static void assert_edit(const struct finding *finding, const char *path, const char *value) {
    assert_int_equal(finding->edit_count, 1);
    assert_true(text_is(finding->edits[0].path, path));
    assert_true(text_is(finding->edits[0].value, value));
}

/* ---- radio */

static struct site_link far_away;

/* The front contact, far from the panel in the open: at 868.3 MHz, 0 dBm, heard down to -100 dBm. */
static void place(struct house *house, int32_t distance_mm) {
    house->profiles[CONTACT].frequency = of(868.3, 868.3);
    house->profiles[CONTACT].radiates = of(0, 0);
    house->site.panel.receives = of(-100, -100);
    far_away = (struct site_link){.device = FRONT, .distance_mm = distance_mm};
    house->site.links = &far_away;
    house->site.link_count = 1;
}

/* 100 dB less 5 to 15: 85 to 95 dB of free space; 20 log (4 pi d f / c) is 85 at 488.9 m and 95 at 1546 m. */
static void a_link_has_two_ends(void **state) {
    struct house *house = *state;
    place(house, 480000);
    house_is_clean(house);
    place(house, 500000);
    const struct finding *finding =
            house_has(house, FINDING_RISK, "radio.may-not-reach", "links[0]");
    assert_has(finding->why, "over 500.0 m, through nothing: -0.2 to 9.8 dB above");
    place(house, 1530000);
    (void)house_has(house, FINDING_RISK, "radio.may-not-reach", "links[0]");
    place(house, 1560000);
    finding = house_has(house, FINDING_FAULT, "radio.out-of-reach", "links[0]");
    assert_has(finding->headline, "\"front door\" does not reach the panel");
}

/* A shut cupboard of steel costs 20 to 40 dB; 100 m lose 71.2 dB: without it 13.8 dB are left of 100 - 15. */
static void what_stands_before_an_antenna_is_taken_away(void **state) {
    struct house *house = *state;
    place(house, 100000);
    house->devices[FRONT].behind = SITE_BEHIND_CUPBOARD;
    const struct finding *finding =
            house_has(house, FINDING_RISK, "radio.may-not-reach", "links[0]");
    assert_edit(finding, "devices[0].behind", "nothing");
    assert_has(finding->remedy, "then 13.8 dB are left over at the careful end");
    house->devices[FRONT].behind = SITE_BEHIND_NOTHING;
    house->site.supply.behind = SITE_BEHIND_CUPBOARD;
    finding = house_has(house, FINDING_RISK, "radio.may-not-reach", "links[0]");
    assert_edit(finding, "panel.behind", "nothing");
    place(house, 500000); /* too far with nothing before it as well */
    finding = house_has(house, FINDING_FAULT, "radio.out-of-reach", "links[0]");
    assert_int_equal(finding->edit_count, 0);
}

/* What profiles leave open is not checked. */
static void without_figures_nothing_is_said(void **state) {
    struct house *house = *state;
    place(house, 1560000);
    house->site.panel.receives.said = false;
    house_is_clean(house);
    place(house, 1560000);
    house->profiles[CONTACT].radiates.said = false;
    house_is_clean(house);
}

/* The way back: -3 dBm at the panel to -90 dBm at the device are 13 dB less than the way there. */
static void a_two_way_device_must_hear_the_panel(void **state) {
    struct house *house = *state;
    place(house, 200000); /* 7.8 dB at the careful end */
    house->profiles[CONTACT].receives = of(-90, -90);
    house_is_clean(house); /* the panel does not say what it radiates */
    house->site.panel.radiates = of(3, 3);
    house_is_clean(house);
    house->site.panel.radiates = of(-3, -3);
    const struct finding *finding = house_has(house, FINDING_RISK, "radio.way-back", "links[0]");
    assert_has(finding->why, "reaches it with -5.2 to 4.8 dB, it reaches the panel with 7.8");
}

/* 10 dB by house practice: free space of 75 dB, at 154.6 m; EN grade 2 wants 6 dB, 245 m. */
static void a_rule_set_wants_a_reserve(void **state) {
    static const struct text rules[] = {{"house", 5}, {"en50131-grade-2", 15}};
    struct house *house = *state;
    place(house, 150000);
    house->site.rules = rules;
    house->site.rule_count = 1;
    house_is_clean(house);
    place(house, 160000);
    const struct finding *finding =
            house_has(house, FINDING_RISK, "radio.little-reserve", "links[0]");
    assert_has(finding->why, "10 dB are wanted");
    house->site.rules = rules + 1;
    house_is_clean(house);
    place(house, 250000);
    finding = house_has(house, FINDING_RISK, "radio.little-reserve", "links[0]");
    assert_has(finding->why, "6 dB are wanted");
    assert_has(finding->why, "from memory, unverified");
}

/* One miss is a trouble when the window is the interval: at 16 dB one check-in in 40 is missed. */
static void a_short_window_cries_wolf(void **state) {
    struct house *house = *state;
    place(house, 77000);
    house->profiles[CONTACT].check_in_s = 3600;
    house->site.settings.supervision_window_s = 12 * 3600;
    house_is_clean(house);
    house->site.settings.supervision_window_s = 3600;
    const struct finding *finding =
            house_has(house, FINDING_RISK, "radio.false-trouble", "panel.supervision-window");
    assert_has(finding->why, "it speaks every 1 h, and 1 h of silence are a trouble");
    /* Of 8 h still 1.24, of 9 h 0.69 times a year: the chain walked apart from this program. */
    assert_edit(finding, "panel.supervision-window", "9 h");
    house->site.panel.offers[SITE_SET_SUPERVISION_WINDOW] =
            (struct site_offer){.low = 3600, .high = 8 * 3600, .said = true};
    finding = house_has(house, FINDING_RISK, "radio.false-trouble", "panel.supervision-window");
    assert_int_equal(finding->edit_count, 0); /* the panel takes none that would be quiet */
    house->site.panel.offers[SITE_SET_SUPERVISION_WINDOW].said = false;
    house->zones[FRONT].supervised = false;
    house_look(house);
    for (size_t i = 0; i < house->count; i++) {
        assert_false(text_is(house->findings[i].id, "radio.false-trouble"));
    }
}

static void a_wall_of_no_name_is_told(void **state) {
    static const struct text through[] = {{"stud", 4}, {"cheese", 6}};
    struct house *house = *state;
    place(house, 20000);
    far_away.through = through;
    far_away.through_count = 1;
    house_is_clean(house);
    far_away.through_count = 2;
    const struct finding *finding =
            house_has(house, FINDING_RISK, "radio.not-computed", "links[0].through");
    assert_has(finding->why, "no wall is called \"cheese\"");
}

/* 20 m in the open: -62.2 to -72.2 dBm, places deviate by 8 dB. */
static void what_is_measured_counts_and_is_held_against_the_sum(void **state) {
    struct house *house = *state;
    place(house, 20000);
    far_away.measured = of(-80.2, -54.3);
    house_is_clean(house);
    far_away.measured = of(-80.3, -80.3);
    const struct finding *finding =
            house_has(house, FINDING_RISK, "radio.measured-off", "links[0].measured");
    assert_has(finding->why, "-80.3 dBm were measured, -72.2 to -62.2 dBm computed over 20.0 m");
    far_away.measured = of(-60, -54.1);
    finding = house_has(house, FINDING_NOTE, "radio.measured-off", "links[0].measured");
    assert_has(finding->why, "-54.1 dBm were measured");
    place(house, 500000); /* computed it may not reach; measured it does */
    far_away.measured = of(-93, -93);
    house_is_clean(house);
}

/* 0.1 % of an hour at 868.9 MHz are 3.6 s: 480 trips a day, 40 an hour, of 90 ms. At 868.3 MHz 1 %. */
static void a_band_allows_so_much_airtime(void **state) {
    struct house *house = *state;
    house->profiles[CONTACT].frequency = of(868.9, 868.9);
    house->profiles[CONTACT].event_air_ms = 90;
    house->devices[FRONT].trips_day = 479;
    house_is_clean(house);
    house->devices[FRONT].trips_day = 481;
    const struct finding *finding =
            house_has(house, FINDING_RISK, "radio.airtime-over", "devices[0]");
    assert_has(finding->why, "3.6 s an hour");
    assert_has(finding->why, "at 868.9 MHz 3.6 s are allowed (0.1 %, ERC/REC 70-03");
    house->profiles[CONTACT].frequency = of(868.3, 868.3);
    house_is_clean(house);
    house->devices[FRONT].trips_day = 4801;
    (void)house_has(house, FINDING_RISK, "radio.airtime-over", "devices[0]");
    house->profiles[CONTACT].frequency = of(2450, 2450); /* no band of the table */
    house_is_clean(house);
}

/* ---- batteries of devices */

/* CR2450: 540 to 620 mAh. At 6 uA 52.6 mAh a year; 100 trips of 100 ms at 36 mA are 0.1 mAh a day, 36.5 a year:
 * 540 x 0.8 / (89.1 + 0.02 x 540) = 4.32 years. */
static void fit_cell(struct house *house) {
    house->profiles[CONTACT].battery = text_of("CR2450");
    house->profiles[CONTACT].batteries = 1;
    house->profiles[CONTACT].quiet = of(0.006, 0.006);
    house->profiles[CONTACT].sends_at = of(36, 36);
    house->profiles[CONTACT].event_air_ms = 100;
    house->devices[FRONT].trips_day = 100;
}

static void a_battery_lasts_as_long_as_its_manual_says(void **state) {
    struct house *house = *state;
    fit_cell(house);
    house_is_clean(house);
    house->profiles[CONTACT].battery_years = 4;
    house_is_clean(house);
    house->profiles[CONTACT].battery_years = 5;
    const struct finding *finding =
            house_has(house, FINDING_RISK, "power.cell-early", "devices[0].trips-a-day");
    assert_has(finding->why, "it lasts 4.3 to ");
    assert_has(finding->why, "89 mAh a year at 100 trips a day, out of 540 to 620 mAh, at 20 °C");
    assert_has(finding->remedy, "change it after 4.0 years");
    house->devices[FRONT].trips_day = 0; /* by the routines: 2 to 30 */
    house_is_clean(house);
}

static void the_cold_stops_a_coin_cell(void **state) {
    struct house *house = *state;
    fit_cell(house);
    house->devices[FRONT].place_at = of(0, 25);
    house_is_clean(house);
    house->devices[FRONT].place_at = of(-1, 25);
    (void)house_has(house, FINDING_RISK, "power.cell-cold", "devices[0].at");
    house->profiles[CONTACT].battery = text_of("CR17345");
    house_is_clean(house);
}

/* ---- the panel's supply */

/* 100 mA at rest, 1 A in alarm: by rule set house (100 mA x 4 h + 1 A x 0.25 h) x 1.25 = 0.8125 Ah. */
static void the_battery_carries_the_panel(void **state) {
    static const struct text rules[] = {{"house", 5}};
    struct house *house = *state;
    house->site.rules = rules;
    house->site.rule_count = 1;
    house->site.panel.current = of(100, 1000);
    house->profiles[MOTION].current = of(0, 0);
    house->site.panel.battery_size = (struct measure){1000000, 7000000, true};
    house_is_clean(house); /* which battery is in it is not said */
    house->site.supply.battery = (struct measure){2100000, 2100000, true};
    house_is_clean(house);
    house->site.supply.battery = (struct measure){800000, 800000, true};
    house->site.panel.battery_size.said = false;
    const struct finding *finding =
            house_has(house, FINDING_FAULT, "power.standby-short", "panel.battery");
    assert_has(finding->why, "take 0.65 Ah, with margin and cold 0.8");
    assert_has(finding->why, "(0.1 A at rest, 1 A in alarm)");
    assert_has(finding->remedy, "a battery of 1.2 Ah, the next listed size");
    assert_edit(finding, "panel.battery", "1.2 Ah");
    house->site.supply.at = of(-20, 20); /* the table ends at -3.9 */
    (void)house_has(house, FINDING_RISK, "power.standby-not-computed", "panel.at");
    house->site.supply.at.said = false;
    house->site.supply.battery = (struct measure){9000000, 9000000, true};
    house->site.panel.battery_size = (struct measure){1000000, 7000000, true};
    (void)house_has(house, FINDING_RISK, "power.battery-size", "panel.battery");
}

/* House practice: 80 % of 7 Ah x 1.2 within 24 h are 0.28 A. */
static void the_battery_is_full_again_in_time(void **state) {
    static const struct text rules[] = {{"house", 5}};
    struct house *house = *state;
    house->site.rules = rules;
    house->site.rule_count = 1;
    house->site.panel.current = of(100, 1000);
    house->site.supply.battery = (struct measure){7000000, 7000000, true};
    house->site.panel.charges_at = of(281, 281);
    house_is_clean(house);
    house->site.panel.charges_at = of(279, 279);
    (void)house_has(house, FINDING_RISK, "power.recharge-slow", "panel.battery");
}

static void devices_draw_what_the_panel_gives(void **state) {
    struct house *house = *state;
    house->profiles[MOTION].current = of(9, 50); /* two of them */
    house->site.panel.output = of(100, 100);
    house_is_clean(house);
    house->site.panel.output = of(99, 99);
    (void)house_has(house, FINDING_FAULT, "power.output-over", "devices");
}

/* ---- cables */

/* 0.22 mm2 at 30 C is 81.4 ohm/km: 2 x 50 m are 8.14 ohm, at 100 mA 0.81 V; the second run hangs behind the first. */
static struct site_cable runs[2];

static void lay(struct house *house, double load_ma) {
    house->profiles[MOTION].current = of(0, load_ma);
    house->profiles[MOTION].needs_volts = of(9, 15);
    house->site.panel.volts = of(10.5, 13.8);
    runs[0] = (struct site_cable){
            .to = HALL, .from = SITE_NONE, .length_mm = 50000, .gauge = text_of("0.22mm2")};
    runs[1] = runs[0];
    runs[1].to = ATTIC;
    runs[1].from = HALL;
    house->site.cables = runs;
    house->site.cable_count = 2;
}

/* At the end 10.5 - 3 x I x 8.14 ohm must be 9 V: 61.4 mA; on mains 13.8 V: 196 mA. */
static void the_far_device_gets_its_volts(void **state) {
    struct house *house = *state;
    lay(house, 61);
    house_is_clean(house);
    lay(house, 62);
    const struct finding *finding = house_has(house, FINDING_RISK, "power.volts-low", "cables[1]");
    assert_has(finding->why,
            "9 V are needed, and 9.0 V arrive at the end of the battery, 12.3 V on mains");
    assert_has(finding->remedy, "at least 0.34 mm² for this run; then ");
    assert_edit(finding, "cables[1].gauge", "0.34mm2");
    lay(house, 197);
    house_look(house);
    assert_int_equal(house->findings[0].weight, FINDING_FAULT);
}

static void what_was_measured_is_held_against_it(void **state) {
    struct house *house = *state;
    lay(house, 50); /* 1.22 V lost: 9.28 V at the far end, 0.44 V either way */
    runs[1].measured = of(8.9, 8.9);
    house_is_clean(house);
    runs[1].measured = of(8.8, 8.8);
    (void)house_has(house, FINDING_RISK, "power.volts-measured", "cables[1].measured");
}

static void cables_that_make_no_tree_are_told(void **state) {
    struct house *house = *state;
    lay(house, 10);
    runs[0].from = ATTIC;
    (void)house_has(house, FINDING_RISK, "power.cables-not-computed", "cables");
    lay(house, 10);
    runs[1].from = GARDEN;
    (void)house_has(house, FINDING_RISK, "power.cables-not-computed", "cables[1]");
    lay(house, 10);
    runs[1].to = HALL;
    runs[1].from = SITE_NONE;
    (void)house_has(house, FINDING_RISK, "power.cables-not-computed", "cables[1]");
    lay(house, 10);
    runs[0].gauge = text_of("thick");
    (void)house_has(house, FINDING_RISK, "power.cables-not-computed", "cables[0]");
}

/* ---- loops */

static void wire(struct house *house, enum site_wiring wiring, double end_ohm, double alarm_ohm) {
    house->zones[HALL].wiring = wiring;
    house->zones[HALL].end_ohm = of(end_ohm, end_ohm);
    house->zones[HALL].alarm_ohm = of(alarm_ohm, alarm_ohm);
}

static void the_panel_takes_the_loop(void **state) {
    struct house *house = *state;
    wire(house, SITE_WIRING_DOUBLE, 4700, 4700);
    house_is_clean(house);
    house->site.panel.wirings = 1U << SITE_WIRING_DOUBLE;
    house->site.panel.resistors = of(2200, 4700);
    house_is_clean(house);
    house->site.panel.wirings = 1U << SITE_WIRING_SINGLE;
    (void)house_has(house, FINDING_FAULT, "power.wiring-not-offered", "zones[1].wiring");
    house->site.panel.wirings = 0;
    wire(house, SITE_WIRING_DOUBLE, 4701, 4700);
    assert_edit(house_has(house, FINDING_FAULT, "power.resistor-wrong", "zones[1].resistor"),
            "zones[1].resistor", "4700 ohm");
}

/* Normal is at most 1.05 x 4700 + 10 ohm, alarm at least 0.95 x (4700 + R2): they meet at R2 = 505 ohm; through a
 * pull-up of 1 % either way at some 600 ohm. */
static void two_states_must_not_overlap(void **state) {
    struct house *house = *state;
    wire(house, SITE_WIRING_DOUBLE, 4700, 700);
    house_is_clean(house);
    wire(house, SITE_WIRING_DOUBLE, 4700, 500);
    const struct finding *finding =
            house_has(house, FINDING_FAULT, "power.loop-overlap", "zones[1].resistor");
    assert_has(finding->headline, "may take normal for alarm");
    assert_edit(finding, "zones[1].alarm-resistor", "4700 ohm");
}

/* 5 V through 4700 ohm of 1 %: at rest 4465 to 4945 ohm are 2.423 to 2.576 V. */
static void each_state_is_within_the_volts_of_the_panel(void **state) {
    struct house *house = *state;
    wire(house, SITE_WIRING_DOUBLE, 4700, 4700);
    house->site.panel.reads[SITE_READS_NORMAL] = of(2.42, 2.58);
    house->site.panel.reads[SITE_READS_SHORT] = of(0, 0.5);
    house->site.panel.reads[SITE_READS_OPEN] = of(4.5, 5);
    house_is_clean(house);
    house->site.panel.reads[SITE_READS_NORMAL] = of(2.43, 2.58);
    const struct finding *finding =
            house_has(house, FINDING_FAULT, "power.loop-outside", "zones[1].resistor");
    assert_has(finding->headline, "may not see \"normal\" at");
    assert_has(finding->why, "normal is 2.42 to 2.58 V");
    house->site.panel.reads[SITE_READS_NORMAL] = of(2.42, 2.57);
    (void)house_has(house, FINDING_FAULT, "power.loop-outside", "zones[1].resistor");
}

/* 8200 ohm are 3.1 V and more. 4700 in both places are within 2.42 to 2.58, and 3.3 V in alarm; of the E12 series (IEC
 * 60063) none else is, as 3900 ohm are 2.3 V and 5600 are 2.7. */
static void a_resistor_that_the_panel_sees_is_offered(void **state) {
    struct house *house = *state;
    wire(house, SITE_WIRING_DOUBLE, 8200, 4700);
    house->site.panel.reads[SITE_READS_NORMAL] = of(2.42, 2.58);
    const struct finding *finding =
            house_has(house, FINDING_FAULT, "power.loop-outside", "zones[1].resistor");
    assert_edit(finding, "zones[1].resistor", "4700 ohm");
    assert_int_equal(finding->edit_count, 1);
    wire(house, SITE_WIRING_DOUBLE, 8200, 8200);
    finding = house_has(house, FINDING_FAULT, "power.loop-outside", "zones[1].resistor");
    assert_int_equal(finding->edit_count, 2);
    house->site.panel.reads[SITE_READS_NORMAL] = of(2.5, 2.51);
    finding = house_has(house, FINDING_FAULT, "power.loop-outside", "zones[1].resistor");
    assert_int_equal(finding->edit_count, 0);
}

/* What the panel does not know, or takes for something else, is not told again of the volts. */
static void one_cause_is_told_once(void **state) {
    struct house *house = *state;
    house->site.panel.reads[SITE_READS_NORMAL] = of(2.42, 2.58);
    house->site.panel.reads[SITE_READS_ALARM] = of(3, 4);
    wire(house, SITE_WIRING_DOUBLE, 4700, 500);
    (void)house_has(house, FINDING_FAULT, "power.loop-overlap", "zones[1].resistor");
    house->site.panel.resistors = of(1000, 10000);
    wire(house, SITE_WIRING_SINGLE, 15000, 0);
    const struct finding *finding =
            house_has(house, FINDING_FAULT, "power.resistor-wrong", "zones[1].resistor");
    assert_edit(finding, "zones[1].resistor", "4700 ohm"); /* 10000 are known, and 3.4 V */
}

/* 4700 ohm of 5 %, 10 ohm of contacts, 2 % and 50 ohm of the meter: 4326 to 5094.3 ohm. */
static void a_loop_measures_as_it_is_written(void **state) {
    struct house *house = *state;
    wire(house, SITE_WIRING_SINGLE, 4700, 0);
    house->zones[HALL].measured_ohm = of(4330, 5090);
    house_is_clean(house);
    house->zones[HALL].measured_ohm = of(5100, 5100);
    const struct finding *finding =
            house_has(house, FINDING_RISK, "power.loop-measured", "zones[1].loop-measured");
    assert_has(finding->why, "4326 to 5094 ohm belong");
}

int main(void) {
    const struct CMUnitTest tests[] = {
            HOUSE_TEST(a_link_has_two_ends),
            HOUSE_TEST(what_stands_before_an_antenna_is_taken_away),
            HOUSE_TEST(without_figures_nothing_is_said),
            HOUSE_TEST(a_two_way_device_must_hear_the_panel),
            HOUSE_TEST(a_rule_set_wants_a_reserve),
            HOUSE_TEST(a_short_window_cries_wolf),
            HOUSE_TEST(a_wall_of_no_name_is_told),
            HOUSE_TEST(what_is_measured_counts_and_is_held_against_the_sum),
            HOUSE_TEST(a_band_allows_so_much_airtime),
            HOUSE_TEST(a_battery_lasts_as_long_as_its_manual_says),
            HOUSE_TEST(the_cold_stops_a_coin_cell),
            HOUSE_TEST(the_battery_carries_the_panel),
            HOUSE_TEST(the_battery_is_full_again_in_time),
            HOUSE_TEST(devices_draw_what_the_panel_gives),
            HOUSE_TEST(the_far_device_gets_its_volts),
            HOUSE_TEST(what_was_measured_is_held_against_it),
            HOUSE_TEST(cables_that_make_no_tree_are_told),
            HOUSE_TEST(the_panel_takes_the_loop),
            HOUSE_TEST(two_states_must_not_overlap),
            HOUSE_TEST(each_state_is_within_the_volts_of_the_panel),
            HOUSE_TEST(a_resistor_that_the_panel_sees_is_offered),
            HOUSE_TEST(one_cause_is_told_once),
            HOUSE_TEST(a_loop_measures_as_it_is_written),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
