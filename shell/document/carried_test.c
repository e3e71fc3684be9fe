/* What a site file says of radio links, cables, loops and batteries. */
#include "document/test_document.h"

#define START                                                                                      \
    "site: {name: a}\npanel: {profile: halyard-28, entry-delays: {front: 30 s}, battery: 7 Ah, "   \
    "battery-since: 2026-03-01, at: 5..30 C, behind: cupboard, antenna-gain: 2.5 dB, "             \
    "antenna-height: 2.4 m}\n"                                                                     \
    "areas: [{name: b}]\n"                                                                         \
    "doors: [{name: front, outside: yes}]\n"                                                       \
    "devices:\n  - {name: c, profile: slim-contact, on: front, behind: radiator, trips-a-day: "    \
    "40, "                                                                                         \
    "battery-since: 2025-11-30}\n  - {name: m, profile: pane-listener}\n"                          \
    "  - {name: s, profile: quarter-motion}\n"                                                     \
    "zones:\n  - {number: 1, says: [front], device: c, behaviour: entry}\n"

#define ZONE "  - {number: 2, says: [hall], device: m, behaviour: interior"

static void what_carries_is_read(void **state) {
    struct test_pages pages = {.left = -1};
    struct document document;
    struct problem problem = {0};
    (void)state;
    document_init(&document, test_pages(&pages));
    const bool good = document_read_text(&document, "site.yaml", test_fixture("."),
            text_of(START ZONE
                    ", wiring: double, resistor: 4.7 kohm, alarm-resistor: 2.2 kohm, "
                    "loop-measured: 4.9 kohm}\n"
                    "links: [{device: c, distance: 14 m, through: [brick, "
                    "\"brick:100mm,air:50mm\"], floors: 1, measured: -80..-74 dBm, "
                    "measured-back: -90 dBm, measured-on: 2026-04-02, measured-by: me}]\n"
                    "cables: [{to: m, length: 12 m, gauge: 22awg}, {to: s, from: m, "
                    "length: 9.5 m, gauge: 0.22mm2, conductor: clad, measured: 11.2 V}]\n"),
            NULL, &problem)
                              .good;
    test_print_problems(&document);
    assert_true(good);
    const struct site *site = &document.site;
    assert_int_equal(site->supply.battery.low, 7000000);
    assert_int_equal(site->supply.battery_day, date_of(2026, 3, 1));
    assert_true(site->supply.at.low == 5000 && site->supply.behind == SITE_BEHIND_CUPBOARD);
    assert_true(site->supply.gain.low == 2500 && site->supply.antenna_mm == 2400);
    assert_int_equal(site->devices[0].behind, SITE_BEHIND_RADIATOR);
    assert_int_equal(site->devices[0].trips_day, 40);
    assert_int_equal(site->devices[0].battery_day, date_of(2025, 11, 30));
    assert_int_equal(site->devices[1].battery_day, DATE_NONE);
    assert_int_equal(site->devices[1].trips_day, 0);
    const struct site_zone *zone = &site->zones[1];
    assert_true(zone->wiring == SITE_WIRING_DOUBLE && zone->end_ohm.low == 4700000);
    assert_true(zone->alarm_ohm.low == 2200000 && zone->measured_ohm.low == 4900000);
    assert_false(zone->mask_ohm.said);
    assert_int_equal(site->zones[0].wiring, SITE_WIRING_UNSAID);
    assert_int_equal(site->link_count, 1);
    const struct site_link *link = &site->links[0];
    assert_true(link->device == 0 && link->distance_mm == 14000 && link->floors == 1);
    assert_true(link->through_count == 2 && text_is(link->through[1], "brick:100mm,air:50mm"));
    assert_true(link->measured.low == -80000 && link->measured.high == -74000);
    assert_true(link->measured_back.low == -90000 && text_is(link->measured_by, "me"));
    assert_int_equal(site->cable_count, 2);
    assert_true(site->cables[0].from == SITE_NONE && site->cables[0].to == 1);
    assert_true(site->cables[1].from == 1 && site->cables[1].length_mm == 9500);
    assert_true(text_is(site->cables[1].gauge, "0.22mm2"));
    assert_int_equal(site->cables[1].conductor, SITE_CONDUCTOR_CLAD);
    assert_int_equal(site->cables[1].measured.low, 11200);
    document_finish(&document);
    assert_int_equal(pages.out, 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(what_carries_is_read),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
