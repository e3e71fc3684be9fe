/* When batteries are due, and which go with them: a CR2450 that is drawn 52.6 mAh a year lasts 540 x 0.8 / (52.6 +
 * 10.8) = 6.81 years at its careful end, and is changed after 6.5. */
#include "check/batteries.h"
#include "check/test_site.h"

#include "base/date.h"

static struct site_device_profile profile = {.name = {"model", 5},
        .battery = {"CR2450", 6},
        .batteries = 1,
        .quiet = {6, 6, true},
        .sends_at = {22000, 22000, true}};
static struct site_device devices[2];

static struct site site_with(int32_t first_day, int32_t second_day, int32_t panel_day) {
    for (int i = 0; i < 2; i++) {
        devices[i] = (struct site_device){.name = text_of(i == 0 ? "one" : "two"),
                .door = SITE_NONE,
                .battery_day = i == 0 ? first_day : second_day};
    }
    return (struct site){.device_profiles = &profile,
            .device_profile_count = 1,
            .devices = devices,
            .device_count = 2,
            .supply = {.battery_day = panel_day}};
}

static void a_battery_is_due_after_its_day(void **unused) {
    (void)unused;
    struct arena arena;
    struct check_finding said[3];
    size_t count = 0;
    arena_init(&arena, test_pages(), 0);
    const int32_t since = date_of(2020, 1, 1);
    const int32_t due = since + 2374; /* 6.5 x 365.25 */
    struct site site = site_with(since, DATE_NONE, DATE_NONE);
    batteries_say(&site, DATE_NONE, &arena, said, &count);
    assert_int_equal(count, 0);
    batteries_say(&site, due, &arena, said, &count);
    assert_int_equal(count, 0);
    batteries_say(&site, due + 1, &arena, said, &count);
    assert_int_equal(count, 1);
    assert_true(text_is(said[0].base.id, "power.battery-due"));
    assert_true(text_is(said[0].base.place, "devices[0].battery-since"));
    assert_true(text_is(said[0].base.headline, "the battery of \"one\" may be empty"));
    assert_true(text_is(said[0].base.why,
            "it was put in on 2020-01-01 and lasts 6.5 to 10.1 years: until 2026-07-02 at its "
            "careful end"));
    assert_true(text_is(said[0].base.remedy, "change it"));
    arena_finish(&arena);
}

static void a_visit_changes_what_is_due_soon(void **unused) {
    (void)unused;
    struct arena arena;
    struct check_finding said[3];
    size_t count = 0;
    arena_init(&arena, test_pages(), 0);
    const int32_t since = date_of(2020, 1, 1);
    const int32_t due = since + 2374;
    struct site site = site_with(since, since + 183, due - 1095); /* three years before, to a day */
    batteries_say(&site, due + 1, &arena, said, &count);
    assert_int_equal(count, 2);
    assert_true(text_is(said[0].base.place, "panel.battery-since"));
    assert_true(text_is(
            said[1].base.remedy, "change it; on the same visit that of the panel, of \"two\""));
    site = site_with(since, since + 184, DATE_NONE);
    batteries_say(&site, due + 1, &arena, said, &count);
    assert_true(text_is(said[0].base.remedy, "change it"));
    arena_finish(&arena);
}

static void the_next_day_is_known_and_whose(void **unused) {
    (void)unused;
    struct arena arena;
    struct text says = {0};
    arena_init(&arena, test_pages(), 0);
    const int32_t since = date_of(2020, 1, 1);
    const int32_t due = since + 2374;
    struct site site = site_with(since, since + 183, DATE_NONE);
    assert_int_equal(batteries_next_day(&site, since, &arena, &says), due);
    assert_true(text_is(says, "the battery of \"one\" is to be changed"));
    assert_int_equal(batteries_next_day(&site, due, &arena, &says), due);
    assert_int_equal(batteries_next_day(&site, due + 1, &arena, &says), due + 183);
    assert_true(text_is(says, "the battery of \"two\" is to be changed"));
    assert_int_equal(batteries_next_day(&site, due + 184, &arena, &says), DATE_NONE);
    site = site_with(since, since, due - 1095);
    assert_int_equal(batteries_next_day(&site, since, &arena, &says), due);
    assert_true(text_is(says, "the batteries of the panel and of 2 others are to be changed"));
    site = site_with(DATE_NONE, DATE_NONE, DATE_NONE);
    assert_int_equal(batteries_next_day(&site, since, &arena, &says), DATE_NONE);
    arena_finish(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(a_battery_is_due_after_its_day),
            cmocka_unit_test(a_visit_changes_what_is_due_soon),
            cmocka_unit_test(the_next_day_is_known_and_whose),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
