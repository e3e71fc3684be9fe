#include "site/setting.h"

#include "site/site.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static void every_setting_has_its_key(void **state) {
    (void)state;
    for (int setting = 0; setting < SITE_SETTING_COUNT; setting++) {
        const enum site_setting it = (enum site_setting)setting;
        assert_true(strlen(site_setting_key(it)) > 3);
        assert_int_equal(site_setting_find(text_of(site_setting_key(it))), setting);
        const bool words = site_setting_kind(it) == SITE_SETTING_YES ||
                site_setting_kind(it) == SITE_SETTING_CHOICE;
        assert_int_equal(words, site_setting_word_count(it) > 0);
        for (int32_t value = 0; value < site_setting_word_count(it); value++) {
            assert_true(strlen(site_setting_word(it, value)) > 1);
        }
    }
    assert_int_equal(site_setting_find(text_of("exit-delays")), SITE_SETTING_COUNT);
    assert_true(site_setting_has_value(SITE_SET_SIGNALS_KEPT));
    assert_true(site_setting_has_value(SITE_SET_JAMMING_NOTICED));
    assert_false(site_setting_has_value(SITE_SET_ENTRY_DELAY));
    assert_false(site_setting_has_value(SITE_SET_LOOP_RESPONSE));
    assert_false(site_setting_has_value(SITE_SET_USER_MODES));
    assert_int_equal(site_limit_find(text_of("loop-response")), SITE_SET_LOOP_RESPONSE);
    assert_int_equal(site_limit_find(text_of("user-hours")), SITE_LIMIT_COUNT);
}

static void values_are_those_keyed_in(void **state) {
    struct site_settings settings = site_settings_usual();
    (void)state;
    settings.completion = SITE_COMPLETE_FOB;
    settings.silent_hold_up = true;
    settings.modes[SITE_MODE_NIGHT].exit_delay_s = 17;
    assert_int_equal(site_setting_value(&settings, SITE_SET_EXIT_DELAY), 60);
    assert_int_equal(site_setting_value(&settings, SITE_SET_NIGHT_EXIT_DELAY), 17);
    assert_int_equal(site_setting_value(&settings, SITE_SET_SWINGER_LIMIT), 2);
    assert_int_equal(site_setting_value(&settings, SITE_SET_SILENT_HOLD_UP), 1);
    assert_int_equal(site_setting_value(&settings, SITE_SET_EARLY_WARNING), 0);
    assert_string_equal(site_setting_word(SITE_SET_COMPLETION,
                                site_setting_value(&settings, SITE_SET_COMPLETION)),
            "fob");
}

static void offers_are_those_of_the_profile(void **state) {
    struct site_panel_profile panel = {
            .exit_delay = span_of(30, 120), .entry_delay = span_of(15, 60)};
    (void)state;
    assert_int_equal(site_panel_offer(&panel, SITE_SET_EXIT_DELAY).high, 120);
    assert_int_equal(site_panel_offer(&panel, SITE_SET_PART_EXIT_DELAY).low, 30);
    assert_int_equal(site_panel_offer(&panel, SITE_SET_ENTRY_DELAY).low, 15);
    assert_false(site_panel_offer(&panel, SITE_SET_ABORT_WINDOW).said);
    assert_false(site_panel_offer(&panel, SITE_SET_SIREN_TIME).said);
    panel.offers[SITE_SET_PART_EXIT_DELAY] =
            (struct site_offer){.low = 5, .high = 10, .said = true};
    assert_int_equal(site_panel_offer(&panel, SITE_SET_PART_EXIT_DELAY).low, 5);
    assert_int_equal(site_panel_offer(&panel, SITE_SET_NIGHT_EXIT_DELAY).low, 30);
}

static void a_panel_takes_what_it_offers_on_its_steps(void **state) {
    static const int32_t values[] = {10, 40};
    struct site_panel_profile panel = {.entry_delay = span_of(15, 60)};
    (void)state;
    assert_true(site_panel_takes(&panel, SITE_SET_ENTRY_DELAY, 15));
    assert_false(site_panel_takes(&panel, SITE_SET_ENTRY_DELAY, 14));
    assert_true(site_panel_takes(&panel, SITE_SET_EXIT_DELAY, 500)); /* nothing is said of it */
    panel.steps[SITE_SET_ENTRY_DELAY] = 10;
    assert_false(site_panel_takes(&panel, SITE_SET_ENTRY_DELAY, 25));
    assert_true(site_panel_takes(&panel, SITE_SET_ENTRY_DELAY, 30));
    panel.offers[SITE_SET_SIREN_TIME] =
            (struct site_offer){.values = values, .value_count = 2, .said = true};
    assert_true(site_panel_takes(&panel, SITE_SET_SIREN_TIME, 40));
    assert_false(site_panel_takes(&panel, SITE_SET_SIREN_TIME, 20));
    panel.offers[SITE_SET_FAULTS] =
            (struct site_offer){.choices = 1U << SITE_FAULT_REFUSE, .said = true};
    assert_true(site_panel_takes(&panel, SITE_SET_FAULTS, SITE_FAULT_REFUSE));
    assert_false(site_panel_takes(&panel, SITE_SET_FAULTS, SITE_FAULT_IGNORE));
}

/* wired, radio: what the profile says of slot 3 ('-': nothing, 'y', 'n'); expected: takes wired, takes radio. */
static void slots_take_what_the_profile_says(void **state) {
    static const struct {
        char wired, radio;
        bool takes_wired, takes_radio;
    } rows[] = {
            {'-', '-', true, true},
            {'y', '-', true, false},
            {'n', '-', false, true},
            {'-', 'y', false, true},
            {'-', 'n', true, false},
            {'y', 'y', true, true},
            {'y', 'n', true, false},
            {'n', 'y', false, true},
            {'n', 'n', false, false},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct site_panel_profile panel = {0};
        panel.wired.said = rows[i].wired != '-';
        panel.radio.said = rows[i].radio != '-';
        site_numbers_add(&panel.wired, rows[i].wired == 'y' ? 3 : 70);
        site_numbers_add(&panel.radio, rows[i].radio == 'y' ? 3 : 71);
        assert_int_equal(site_slot_takes(&panel, 3, false), rows[i].takes_wired);
        assert_int_equal(site_slot_takes(&panel, 3, true), rows[i].takes_radio);
    }
}

static void numbers_hold_0_to_999(void **state) {
    struct site_numbers numbers = {0};
    (void)state;
    site_numbers_add(&numbers, 1000);
    site_numbers_add(&numbers, -1);
    site_numbers_add(&numbers, -64);
    for (int32_t number = -70; number <= 1100; number++) {
        assert_false(site_numbers_has(&numbers, number));
    }
    site_numbers_add(&numbers, 0);
    site_numbers_add(&numbers, 63);
    site_numbers_add(&numbers, 64);
    site_numbers_add(&numbers, 999);
    for (int32_t number = -70; number <= 1100; number++) {
        assert_int_equal(site_numbers_has(&numbers, number),
                number == 0 || number == 63 || number == 64 || number == 999);
    }
}

/* Whichever numbers a profile states, those are there, and no other; without any it is 1 to the highest. */
static void numbers_are_those_of_the_panel(void **state) {
    (void)state;
    struct site_panel_profile panel = {.zone_most = 16};
    for (int32_t number = -1; number <= 1001; number++) {
        assert_int_equal(site_number_is_there(&panel, number), number >= 1 && number <= 16);
    }
    panel.zone_most = 116;
    panel.numbers.said = true;
    site_numbers_add(&panel.numbers, 0);
    site_numbers_add(&panel.numbers, 101);
    site_numbers_add(&panel.numbers, 116);
    site_numbers_add(&panel.numbers, 117); /* above the highest */
    for (int32_t number = -1; number <= 1001; number++) {
        assert_int_equal(site_number_is_there(&panel, number),
                number == 0 || number == 101 || number == 116);
    }
}

static void a_free_number_is_the_lowest_that_suits(void **state) {
    (void)state;
    struct site_zone zones[] = {{.number = 0}, {.number = 2}};
    struct site site = {.zones = zones, .zone_count = 2, .panel = {.zone_most = 5}};
    site.panel.numbers.said = true;
    for (int32_t number = 0; number <= 5; number++) {
        site_numbers_add(&site.panel.numbers, number);
    }
    site.panel.wired.said = true;
    site_numbers_add(&site.panel.wired, 2);
    site_numbers_add(&site.panel.wired, 5);
    assert_int_equal(site_free_number(&site, true, false), 1);
    assert_int_equal(site_free_number(&site, false, true), 1);
    assert_int_equal(site_free_number(&site, false, false), 5);
    zones[1].number = 5;
    assert_int_equal(site_free_number(&site, false, false), 2);
    zones[0].number = 2;
    assert_int_equal(site_free_number(&site, false, false), SITE_NONE);
}

static void further_inputs_sense_and_watch_their_own(void **state) {
    struct site_device_profile profile = {.sense = SITE_CONTACT,
            .inputs = {{.sense = SITE_CONTACT}, {.sense = SITE_SHOCK}},
            .input_count = 2};
    struct site_device device = {.profile = 0, .door = 4};
    struct site site = {.device_profiles = &profile,
            .device_profile_count = 1,
            .devices = &device,
            .device_count = 1};
    struct site_zone zone = {.device = 0, .door = 9};
    (void)state;
    assert_int_equal(site_zone_sense(&site, &zone), SITE_CONTACT); /* input not said: the first */
    assert_int_equal(site_zone_door(&site, &zone), 4);
    zone.input = 1;
    assert_int_equal(site_zone_door(&site, &zone), 4);
    zone.input = 2;
    assert_int_equal(site_zone_sense(&site, &zone), SITE_SHOCK);
    assert_int_equal(site_zone_door(&site, &zone), 9);
    zone.input = 3; /* there is none: a finding elsewhere, no wild read here */
    assert_int_equal(site_zone_sense(&site, &zone), SITE_CONTACT);
    device.profile = SITE_NONE;
    assert_null(site_zone_profile(&site, &zone));
    zone.device = SITE_NONE;
    assert_int_equal(site_zone_door(&site, &zone), SITE_NONE);
    assert_int_equal(site_zone_sense(&site, &zone), SITE_CONTACT);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(every_setting_has_its_key),
            cmocka_unit_test(values_are_those_keyed_in),
            cmocka_unit_test(offers_are_those_of_the_profile),
            cmocka_unit_test(a_panel_takes_what_it_offers_on_its_steps),
            cmocka_unit_test(slots_take_what_the_profile_says),
            cmocka_unit_test(numbers_hold_0_to_999),
            cmocka_unit_test(numbers_are_those_of_the_panel),
            cmocka_unit_test(a_free_number_is_the_lowest_that_suits),
            cmocka_unit_test(further_inputs_sense_and_watch_their_own),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
