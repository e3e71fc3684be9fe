/* How often devices are tripped, counted by hand out of small routines; and days to change against the calendar. */
#include "power/site_cells.h"

#include "base/date.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

enum { DOOR, HALL_DOOR };
enum { CONTACT, EYE, KEYPAD, DEVICES };

/* A door with a contact, a motion detector behind it, a way from the door past the detector through a second door. */
struct home {
    struct site site;
    struct site_device_profile profiles[DEVICES];
    struct site_device devices[DEVICES];
    struct site_zone zones[2];
    struct site_way ways[1];
    struct site_routine routines[2];
    struct site_step steps[4];
};

static struct site_step step_of(enum site_act act, int door, int zone, int way) {
    return (struct site_step){.act = act, .door = door, .zone = zone, .way = way};
}

static void set_home(struct home *home) {
    *home = (struct home){.profiles = {{.sense = SITE_CONTACT},
                                  {.sense = SITE_MOTION, .hold = {2, 4}, .sleep = {178, 178}},
                                  {.kind = SITE_KEYPAD_DEVICE, .sense = SITE_BUTTON}},
            .devices = {{.profile = CONTACT, .door = DOOR}, {.profile = EYE, .door = SITE_NONE},
                    {.profile = KEYPAD, .door = SITE_NONE}},
            .zones = {{.device = CONTACT}, {.device = EYE}},
            .ways = {{.door = DOOR,
                    .legs = {{.zone = EYE, .door = SITE_NONE},
                            {.zone = SITE_NONE, .door = HALL_DOOR}},
                    .leg_count = 2}}};
    home->steps[0] = step_of(SITE_ACT_OPEN, DOOR, SITE_NONE, SITE_NONE);
    home->steps[1] = step_of(SITE_ACT_CLOSE, DOOR, SITE_NONE, SITE_NONE);
    home->steps[2] = step_of(SITE_ACT_PASS, SITE_NONE, EYE, SITE_NONE);
    home->steps[3] = step_of(SITE_ACT_COME, SITE_NONE, SITE_NONE, 0);
    home->routines[0] = (struct site_routine){.steps = home->steps, .step_count = 3};
    home->routines[1] = (struct site_routine){.steps = home->steps + 3, .step_count = 1};
    home->site = (struct site){.device_profiles = home->profiles,
            .device_profile_count = DEVICES,
            .devices = home->devices,
            .device_count = DEVICES,
            .zones = home->zones,
            .zone_count = 2,
            .ways = home->ways,
            .way_count = 1,
            .routines = home->routines,
            .routine_count = 2};
}

static void assert_trips(const struct home *home, size_t device, double low, double high) {
    double said_low = -1;
    double said_high = -1;
    power_trips_a_day(&home->site, device, &said_low, &said_high);
    if (fabs(said_low - low) > 1e-9 || fabs(said_high - high) > 1e-9) {
        print_error("device %zu: %g to %g instead of %g to %g\n", device, said_low, said_high, low,
                high);
    }
    assert_true(fabs(said_low - low) < 1e-9 && fabs(said_high - high) < 1e-9);
}

static void trips_are_counted_out_of_routines(void **unused) {
    (void)unused;
    struct home home;
    set_home(&home);
    assert_trips(&home, CONTACT, 4, 30); /* opened and closed, by hand and on the way */
    assert_trips(&home, EYE, 2,
            43200 / 180.0); /* passed twice; at most as its sleep lets it in 12 hours */
    assert_trips(&home, KEYPAD, 0, 20);
    home.devices[CONTACT].door = HALL_DOOR;
    assert_trips(&home, CONTACT, 2, 30);
    home.devices[CONTACT].trips_day = 70;
    assert_trips(&home, CONTACT, 70, 70);
    home.profiles[EYE].sleep = (struct span){0, 0};
    home.profiles[EYE].hold = (struct span){0, 0};
    assert_trips(&home, EYE, 2, 400);
}

/* A year is 365.25 days; of the last day that can be written nothing is later. */
static void days_to_change_are_counted(void **unused) {
    (void)unused;
    assert_int_equal(power_due_day(date_of(2026, 3, 2), 1), date_of(2027, 3, 2));
    assert_int_equal(power_due_day(date_of(2026, 3, 2), 4), date_of(2030, 3, 2));
    assert_int_equal(power_due_day(date_of(2026, 3, 2), 0), date_of(2026, 3, 2));
    assert_int_equal(power_due_day(date_of(2026, 3, 2), 1e9), date_of(2199, 12, 31));
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(trips_are_counted_out_of_routines),
            cmocka_unit_test(days_to_change_are_counted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
