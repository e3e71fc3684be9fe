/* The fit held against the normal model worked out by hand, and against its limits. */
#include "radio/fit.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

static void assert_near(double value, double wanted) {
    if (!(fabs(value - wanted) < 1e-6)) {
        print_error("%.9g instead of %.9g\n", value, wanted);
    }
    assert_true(fabs(value - wanted) < 1e-6);
}

/* Places of 8 dB about buildings of 6 dB: one residual of 10 dB has weight 36 / (36 + 64). */
static void one_measurement_is_drawn_towards_nothing(void **unused) {
    (void)unused;
    const double one[] = {10};
    const struct radio_fit fit = radio_fit_of(one, 1, 8);
    assert_int_equal(fit.count, 1);
    assert_near(fit.mean_db, 10);
    assert_near(fit.shift_db, 3.6);
    assert_near(fit.sure_db, 1.959964 * 4.8); /* root(1 / (1/36 + 1/64)) = 4.8 */
}

static void many_measurements_speak_for_themselves(void **unused) {
    (void)unused;
    enum { MANY = 10000 };
    static double many[MANY];
    for (size_t i = 0; i < MANY; i++) {
        many[i] = i % 2 == 0 ? 3 : 9;
    }
    const struct radio_fit fit = radio_fit_of(many, MANY, 8);
    assert_true(fabs(fit.shift_db - 6) < 0.002);
    assert_true(fabs(fit.sure_db - 1.96 * 8 / 100) < 0.001);
}

static void without_any_the_building_is_as_others(void **unused) {
    (void)unused;
    const struct radio_fit fit = radio_fit_of(NULL, 0, 8);
    assert_near(fit.shift_db, 0);
    assert_near(fit.sure_db, 1.959964 * 6);
}

static void *get_page(void *context, size_t size) {
    (void)context;
    return malloc(size);
}

static void give_page(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

/* Two devices in the open, 20 and 40 m away; the first is measured 12 dB below the middle of what was computed, which
 * takes 4.32 dB from the second. */
static void a_measured_link_improves_the_rest(void **unused) {
    (void)unused;
    struct site_device_profile profile = {
            .radio = true, .frequency = {868300, 868300, true}, .radiates = {0, 0, true}};
    struct site_device devices[2] = {{.door = SITE_NONE}, {.door = SITE_NONE}};
    struct site_link links[2] = {
            {.device = 0, .distance_mm = 20000}, {.device = 1, .distance_mm = 40000}};
    struct site site = {.device_profiles = &profile,
            .device_profile_count = 1,
            .devices = devices,
            .device_count = 2,
            .links = links,
            .link_count = 2,
            .panel = {.receives = {-100000, -100000, true}}};
    struct radio_world world = radio_world_usual();
    struct radio_stretched stretched = {.count = 0};
    struct radio_site_link links_out[2];
    struct radio_fit fit;
    enum radio_lack lack = RADIO_LACKS_RADIO;
    struct arena arena;
    arena_init(&arena, (struct pages){.get = get_page, .give = give_page}, 0);
    /* 20 log (4 pi 20 m / 0.34526 m) = 57.24 dB: -62.24 to -72.24 dBm, the middle -67.24. */
    links[0].measured = (struct measure){-79240, -79240, true};
    assert_true(radio_site_fit(&site, NULL, &world, &arena, &fit, NULL).good);
    assert_int_equal(fit.count, 1);
    assert_true(fabs(fit.mean_db - 12) < 0.01 && fabs(fit.shift_db - 4.32) < 0.01);
    for (size_t turn = 0; turn < 2; turn++) {
        world.shift_db = turn == 0 ? 0 : fit.shift_db;
        assert_true(radio_site_link(
                &site, NULL, NULL, 1, &world, &arena, &stretched, &links_out[turn], &lack, NULL)
                            .good);
        assert_int_equal(lack, RADIO_LACKS_NOTHING);
    }
    assert_near(links_out[0].low_db - links_out[1].low_db, fit.shift_db);
    assert_near(links_out[0].high_db - links_out[1].high_db, fit.shift_db);
    /* The measured one is as measured, whatever the building. */
    assert_true(radio_site_link(
            &site, NULL, NULL, 0, &world, &arena, &stretched, &links_out[0], &lack, NULL)
                        .good);
    assert_true(links_out[0].measured);
    assert_near(links_out[0].low_db, 20.76);
    arena_finish(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(one_measurement_is_drawn_towards_nothing),
            cmocka_unit_test(many_measurements_speak_for_themselves),
            cmocka_unit_test(without_any_the_building_is_as_others),
            cmocka_unit_test(a_measured_link_improves_the_rest),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
