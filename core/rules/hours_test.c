/* Hours: what is found, and what is not. */
#include "rules/test_rules.h"

/* One holiday, so that a house that sets by itself is clean. */
static struct site_holiday *close_on_holidays(struct house *house) {
    static struct site_holiday holiday;
    holiday = (struct site_holiday){
            .name = text_of("new year"), .from_day = 20000, .until_day = 20000};
    house->site.holidays = &holiday;
    house->site.holiday_count = 1;
    return &holiday;
}

static void a_duress_code_keeps_no_hours(void **state) {
    struct house *house = *state;
    house->people[GUEST].has_hours = true;
    house->people[GUEST].hours = span_of(22 * 3600, 30 * 3600);
    house_is_clean(house);
    house->people[GUEST].duress = true;
    const struct finding *finding =
            house_has(house, FINDING_RISK, "users.duress-hours", "people[1].hours");
    assert_true(text_is(
            finding->headline, "the duress code of the guest calls nobody outside its hours"));
    assert_true(text_is(finding->why,
            "a code is turned away outside its hours, a duress code too: it is taken from 22:00 to "
            "06:00 only"));
    house->people[GUEST].has_hours = false;
    house_is_clean(house);
}

/* 18:00 to 18:10 is the warning; the hours are the owner's. */
static void auto_set_within_hours(struct house *house, int32_t from_min, int32_t to_min) {
    house->site.settings.auto_set_at_s = 18 * 3600;
    house->site.settings.auto_warn_s = 600;
    house->site.settings.auto_set_area = 0;
    (void)close_on_holidays(house);
    house->people[OWNER].has_hours = true;
    house->people[OWNER].hours = span_of(from_min * 60, to_min * 60);
}

static void auto_set_at_work_is_a_note_where_it_can_be_put_off(void **state) {
    struct house *house = *state;
    static const struct {
        int32_t from_min;
        int32_t to_min;
        int weight; /* FINDING_WEIGHT_COUNT: nothing is found */
    } rows[] = {
            {8 * 60, 18 * 60, FINDING_WEIGHT_COUNT},       /* until it begins */
            {18 * 60 + 10, 24 * 60, FINDING_WEIGHT_COUNT}, /* from when it has set */
            {8 * 60, 18 * 60 + 1, FINDING_RISK}, /* the code is turned away before the end */
            {18 * 60 + 9, 24 * 60, FINDING_RISK},
            {8 * 60, 18 * 60 + 10, FINDING_NOTE}, /* to the last second */
            {8 * 60, 20 * 60, FINDING_NOTE},
            {22 * 60, 42 * 60 + 10, FINDING_NOTE}, /* past midnight, to 18:10 of the day after */
            {22 * 60, 30 * 60, FINDING_WEIGHT_COUNT},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        auto_set_within_hours(house, rows[i].from_min, rows[i].to_min);
        if (rows[i].weight == FINDING_WEIGHT_COUNT) {
            house_is_clean(house);
        } else {
            (void)house_has(house, (enum finding_weight)rows[i].weight, "auto-set.at-work",
                    "people[0].hours");
        }
    }
}

static void who_cannot_put_it_off_is_at_risk(void **state) {
    struct house *house = *state;
    auto_set_within_hours(house, 8 * 60, 20 * 60);
    house->site.settings.auto_postpone_count = 0;
    const struct finding *finding =
            house_has(house, FINDING_RISK, "auto-set.at-work", "people[0].hours");
    assert_true(text_is(
            finding->headline, "automatic setting of house comes while the owner may be at work"));
    assert_true(text_is(finding->why,
            "it begins at 18:00; the code or fob of the owner is taken from 08:00 to 20:00, and "
            "cannot put it off until then"));
    house->site.settings.auto_postpone_count = 3;
    house->site.settings.auto_postpone_s = 0;
    (void)house_has(house, FINDING_RISK, "auto-set.at-work", "people[0].hours");
    house->site.settings.auto_postpone_s = 1800;
    house->people[OWNER].has_code = false; /* a fob puts nothing off */
    house->people[OWNER].has_fob = true;
    (void)house_has(house, FINDING_RISK, "auto-set.at-work", "people[0].hours");
    house->people[OWNER].has_fob = false;
    house_is_clean(house);
    auto_set_within_hours(house, 8 * 60, 20 * 60);
    house->people[OWNER].has_code = true;
    house->people[OWNER].areas = 2; /* of another area */
    house_is_clean(house);
    house->people[OWNER].areas = 1;
    house->site.settings.auto_set_at_s = -1;
    house_is_clean(house);
}

/* Clocks change at 01:00 or 02:00 by the hour: Directive 2000/84/EC and 15 USC 260a (from memory, unverified). */
static void auto_set_when_the_clocks_change_is_a_note(void **state) {
    struct house *house = *state;
    static const struct {
        int32_t at_min;
        bool found;
    } rows[] = {{0, false}, {50, false}, {51, true}, {60, true}, {179, true}, {180, false},
            {23 * 60 + 59, false}};
    house->site.settings.auto_warn_s = 600;
    house->site.settings.auto_set_area = 0;
    (void)close_on_holidays(house);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        house->site.settings.auto_set_at_s = rows[i].at_min * 60;
        if (rows[i].found) {
            (void)house_has(house, FINDING_NOTE, "auto-set.clock-change", "panel.auto-set-at");
        } else {
            house_is_clean(house);
        }
    }
    house->site.settings.auto_set_at_s = 23 * 3600; /* the warning runs into the night */
    house->site.settings.auto_warn_s = 2 * 3600;
    house_is_clean(house);
    house->site.settings.auto_warn_s = 2 * 3600 + 1;
    (void)house_has(house, FINDING_NOTE, "auto-set.clock-change", "panel.auto-set-at");
}

static void auto_set_without_holidays_is_a_note(void **state) {
    struct house *house = *state;
    house->site.settings.auto_set_at_s = 18 * 3600;
    house->site.settings.auto_set_area = 0;
    (void)house_has(house, FINDING_NOTE, "auto-set.no-holidays", "panel.auto-set-at");
    struct site_holiday *holiday = close_on_holidays(house);
    house_is_clean(house);
    holiday->until_day--;
    (void)house_has(house, FINDING_FAULT, "holidays.backwards", "holidays[0].until");
    holiday->until_day++;
    house->site.settings.auto_set_at_s = -1;
    house->site.holiday_count = 0; /* nothing sets by itself */
    house_is_clean(house);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            HOUSE_TEST(a_duress_code_keeps_no_hours),
            HOUSE_TEST(auto_set_at_work_is_a_note_where_it_can_be_put_off),
            HOUSE_TEST(who_cannot_put_it_off_is_at_risk),
            HOUSE_TEST(auto_set_without_holidays_is_a_note),
            HOUSE_TEST(auto_set_when_the_clocks_change_is_a_note),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
