/* Links and the time without mains in figures, on both sides of where a verdict turns. Expected figures are worked out
 * by hand from the formulas of docs/radio.md and docs/power.md. */
#include "check/carried.h"
#include "check/test_bench.h"

static struct measure of(double low, double high) {
    return (struct measure){
            .low = (int32_t)(low * 1000), .high = (int32_t)(high * 1000), .said = true};
}

struct house {
    struct test_site it;
    struct site_link link;
    struct arena arena;
    struct carried carried;
};

static int begin(void **state) {
    static struct house house;
    house = (struct house){.link = {.device = YARD_ZONE}};
    test_site_fill(&house.it, SITE_WORDS_UK);
    house.it.site.rules = house.it.rules;
    house.it.site.rule_count = 1;
    arena_init(&house.arena, (struct pages){.get = get, .give = give}, 0);
    *state = &house;
    return 0;
}

static int end(void **state) {
    arena_finish(&((struct house *)*state)->arena);
    return 0;
}

static const struct carried *made(struct house *house) {
    struct problem problem = {0};
    assert_true(carried_make(&house->it.site, &house->arena, &house->carried, &problem).good);
    return &house->carried;
}

/* ---- links: 868.3 MHz, 0 dBm, heard down to -100 dBm: 100 dB less 5 to 15. */

static void make_radio(struct house *house) {
    house->it.profiles[0].radio = true;
    house->it.profiles[0].frequency = of(868.3, 868.3);
    house->it.profiles[0].radiates = of(0, 0);
    house->it.site.panel.receives = of(-100, -100);
}

static const struct carried *over(struct house *house, int32_t distance_mm) {
    house->link.distance_mm = distance_mm;
    house->it.site.links = &house->link;
    house->it.site.link_count = 1;
    return made(house);
}

/* Two contacts are of radio, and for the second nobody says where it is. */
static void every_radio_device_is_told_of_and_no_other(void **state) {
    struct house *house = *state;
    assert_int_equal(made(house)->link_count, 0);
    make_radio(house);
    const struct carried *carried = over(house, 100000);
    assert_int_equal(carried->link_count, 2);
    assert_int_equal(carried->links[0].device, YARD_ZONE);
    assert_int_equal(carried->links[0].verdict, CARRIED_HOLDS);
    assert_int_equal(carried->links[1].device, SIDE_ZONE);
    assert_int_equal(carried->links[1].verdict, CARRIED_NOT_COMPUTED);
    house->it.profiles[0].radiates.said = false;
    assert_int_equal(made(house)->links[0].verdict, CARRIED_NOT_COMPUTED);
}

/* 20 log (4 pi d f / c) is 85 dB at 488.9 m and 95 dB at 1546 m. */
static void a_link_holds_is_weak_or_does_not_reach(void **state) {
    static const struct text none[] = {{"nothing of the kind", 19}};
    struct house *house = *state;
    make_radio(house);
    house->it.site.rules = none;
    assert_int_equal(over(house, 480000)->links[0].verdict, CARRIED_HOLDS);
    const struct carried *carried = over(house, 500000);
    assert_int_equal(carried->links[0].verdict, CARRIED_WEAK);
    assert_true(carried->links[0].low_db > -0.3 && carried->links[0].low_db < -0.1);
    assert_true(carried->links[0].high_db > 9.7 && carried->links[0].high_db < 9.9);
    assert_int_equal(over(house, 1530000)->links[0].verdict, CARRIED_WEAK);
    assert_int_equal(over(house, 1560000)->links[0].verdict, CARRIED_LOST);
}

/* ---- the time without mains: 100 mA at rest, 1 A in alarm for a quarter of an hour, a quarter more for age. */

static const struct carried *with_battery(struct house *house, int32_t battery_uah) {
    house->it.site.panel.current = of(100, 1000);
    for (size_t i = 0; i < 3; i++) {
        house->it.profiles[i].current = of(0, 0);
    }
    house->it.site.supply.battery = (struct measure){battery_uah, battery_uah, true};
    return made(house);
}

/* (2.1 Ah / 1.25 - 0.25 Ah) / 100 mA; Peukert alone would give 17.4 h. */
static void a_battery_lasts_so_long(void **state) {
    struct house *house = *state;
    const struct carried *carried = with_battery(house, 2100000);
    assert_string_equal(carried->rule->name, "house");
    assert_true(carried->lasts_h > 14.29 && carried->lasts_h < 14.31);
    assert_int_equal(carried->uncounted, 0);
    assert_null(carried->why_not);
}

/* 0.8 Ah by Peukert: 6.97 h at 100 mA, 0.4936 h at 1 A, of which the alarm takes 0.25: 3.44 h, rounded down. */
static void one_that_falls_short_is_told_short(void **state) {
    const struct carried *carried = with_battery(*state, 800000);
    assert_true(carried->lasts_h > 3.39 && carried->lasts_h < 3.41);
    /* Not enough for the alarm: no time at rest at all. */
    assert_true(with_battery(*state, 200000)->lasts_h < 0.01);
}

/* 60 h are asked by the third grade, 4 h by house practice: the harder one is told. */
static void the_hardest_rule_set_is_told(void **state) {
    static const struct text rules[] = {
            {"house", 5}, {"en50131-grade-3", 15}, {"nothing of the kind", 19}};
    struct house *house = *state;
    house->it.site.rules = rules;
    house->it.site.rule_count = 3;
    assert_string_equal(with_battery(house, 7000000)->rule->name, "en50131-grade-3");
    house->it.site.rules = rules + 2;
    house->it.site.rule_count = 1;
    const struct carried *carried = with_battery(house, 7000000);
    assert_null(carried->rule);
    assert_null(carried->why_not);
}

static void what_nobody_knows_is_said(void **state) {
    struct house *house = *state;
    assert_string_equal(made(house)->why_not, "no battery is written down");
    assert_null(with_battery(house, 2100000)->why_not);
    house->it.profiles[1].current.said = false; /* of two devices */
    for (int i = 0; i < ZONE_COUNT; i++) {
        house->it.devices[i].keypad = SITE_NONE; /* the one keypad is no device */
    }
    assert_int_equal(made(house)->uncounted, 3);
    house->it.site.supply.at = of(-20, 20);
    assert_string_equal(made(house)->why_not, "it is beyond the tables");
    house->it.site.supply.at.said = false;
    house->it.site.panel.current.said = false;
    assert_string_equal(made(house)->why_not, "the panel's profile says no current");
    assert_null(house->carried.rule);
}

#define HOUSE_TEST(test) cmocka_unit_test_setup_teardown(test, begin, end)

int main(void) {
    const struct CMUnitTest tests[] = {
            HOUSE_TEST(every_radio_device_is_told_of_and_no_other),
            HOUSE_TEST(a_link_holds_is_weak_or_does_not_reach),
            HOUSE_TEST(a_battery_lasts_so_long),
            HOUSE_TEST(one_that_falls_short_is_told_short),
            HOUSE_TEST(the_hardest_rule_set_is_told),
            HOUSE_TEST(what_nobody_knows_is_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
