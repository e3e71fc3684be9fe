/* A map held against the same map without anything kept, and against links worked out one by one. */
#include "radio/map.h"
#include "radio/test_scene.h"

static struct radio_barriers barriers_of(struct scene *scene) {
    return (struct radio_barriers){.building = &scene->site.building,
            .frequency_hz = 868.3e6,
            .edition = RADIO_EDITION_NEWEST,
            .arena = &scene->arena};
}

/* Between two whole degrees a wall's loss hardly bends: a tenth of a dB over up to three walls. */
static void what_is_kept_is_as_what_is_worked_out(void **unused) {
    (void)unused;
    struct scene scene;
    set_scene(&scene);
    const struct radio_barriers barriers = barriers_of(&scene);
    const struct radio_spot panel = {0, STORE, 8500, 500, 1500};
    for (int storey = 0; storey < 2; storey++) {
        struct radio_map quick;
        struct radio_map plain;
        size_t inside = 0;
        assert_true(radio_map_make(
                &scene.house, storey, &panel, 250, &barriers, &scene.arena, &quick, NULL)
                            .good);
        assert_true(radio_map_plain(
                &scene.house, storey, &panel, 250, &barriers, &scene.arena, &plain, NULL)
                            .good);
        assert_int_equal(quick.columns * quick.rows, plain.columns * plain.rows);
        for (size_t i = 0; i < quick.columns * quick.rows; i++) {
            assert_true(isfinite(quick.losses[i].low_db) && isfinite(quick.losses[i].high_db));
            assert_true(fabs(quick.losses[i].low_db - plain.losses[i].low_db) < 0.1);
            assert_true(fabs(quick.losses[i].high_db - plain.losses[i].high_db) < 0.1);
            inside += plain.losses[i].high_db >= 0;
        }
        /* three rooms of 12 x 16 cells; above one of them */
        assert_int_equal(inside, storey == 0 ? 3 * 12 * 16 : 12 * 16);
    }
    arena_finish(&scene.arena);
}

/* In the panel's own room nothing but free space: 20 log (4 pi d f / c), one wavelength at least. */
static void in_the_panels_room_there_is_free_space(void **unused) {
    (void)unused;
    struct scene scene;
    struct radio_map map;
    set_scene(&scene);
    const struct radio_barriers barriers = barriers_of(&scene);
    const struct radio_spot panel = {0, HALL, 50, 2000, 1000};
    assert_true(
            radio_map_make(&scene.house, 0, &panel, 500, &barriers, &scene.arena, &map, NULL).good);
    for (size_t i = 0; i < 6; i++) { /* the row of cells whose middles are 2250 mm back */
        const struct radio_loss *loss = &map.losses[4 * map.columns + i];
        const double d_m = fmax(0.345263, hypot(0.25 + 0.5 * (double)i - 0.05, 0.25));
        const double free_db = 20 * log10(4 * 3.14159265358979 * d_m * 868.3e6 / 299792458);
        assert_true(fabs(loss->low_db - free_db) < 1e-4 && fabs(loss->high_db - free_db) < 1e-4);
    }
    arena_finish(&scene.arena);
}

static void too_fine_a_map_is_refused(void **unused) {
    (void)unused;
    struct scene scene;
    struct radio_map map;
    struct problem problem = {0};
    set_scene(&scene);
    const struct radio_barriers barriers = barriers_of(&scene);
    const struct radio_spot panel = {0, HALL, 50, 2000, 1000};
    assert_false(radio_map_make(&scene.house, 0, &panel, RADIO_MAP_CELL_LEAST_MM - 1, &barriers,
            &scene.arena, &map, &problem)
                         .good);
    assert_non_null(strstr(problem.text, "50 mm and more"));
    scene.house.rooms[HALL].high.x_mm = 100000000;
    assert_false(
            radio_map_make(&scene.house, 0, &panel, 100, &barriers, &scene.arena, &map, &problem)
                    .good);
    arena_finish(&scene.arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(what_is_kept_is_as_what_is_worked_out),
            cmocka_unit_test(in_the_panels_room_there_is_free_space),
            cmocka_unit_test(too_fine_a_map_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
