/* Cells held against cases worked out by hand and the differential equation of self-discharge. */
#include "power/cell.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

/* A burst of 3 x 20 ms at 15 mA is 0.25 uAh; 7513.7 check-ins a year at 70 min. With a pocket calculator. */
static void years_are_those_worked_by_hand(void **unused) {
    (void)unused;
    static const struct {
        struct power_draw draw;
        double capacity_mah, self, year_mah, linear, exponential;
    } ROWS[] = {
            {{0.002, 30, 0.00025, 4200, 0.00025}, 225, 0.01, 22.15, 8.30, 8.75},
            {{0.015, 200, 0.00025, 4200, 0.00025}, 1500, 0.01, 151.63, 8.10, 8.53},
            {{0.020, 200, 0.00025, 4200, 0.00025}, 1200, 0.003, 195.46, 5.43, 5.48},
    };
    for (size_t i = 0; i < sizeof ROWS / sizeof *ROWS; i++) {
        double year_mah = NAN;
        assert_true(power_year_mah(&ROWS[i].draw, &year_mah, NULL).good);
        assert_true(fabs(year_mah - ROWS[i].year_mah) < 0.02);
        assert_true(fabs(power_years_linear(ROWS[i].capacity_mah, 0.9, year_mah, ROWS[i].self) -
                            ROWS[i].linear) < 0.006);
        assert_true(
                fabs(power_years_exponential(ROWS[i].capacity_mah, 0.9, year_mah, ROWS[i].self) -
                        ROWS[i].exponential) < 0.006);
    }
}

/* IEC 60086 calls an AA alkaline cell LR6; the case is not looked at. */
static void cells_have_two_names(void **unused) {
    (void)unused;
    static const char *const NAMES[] = {"LR6", "lr6", "AA-alkaline"};
    for (size_t i = 0; i < sizeof NAMES / sizeof *NAMES; i++) {
        const struct power_cell *cell = NULL;
        assert_true(power_cell_find(text_of(NAMES[i]), &cell, NULL).good);
        assert_string_equal(cell->name, "aa-alkaline");
    }
    struct problem problem = {0};
    const struct power_cell *cell = NULL;
    assert_false(power_cell_find(text_of("LR"), &cell, &problem).good);
    assert_false(power_cell_find(text_of("LR66"), &cell, &problem).good);
    assert_non_null(strstr(problem.text, "cr2450"));
}

/* The first case above from both ends: linear with the worst, exponential with the best; half in the cold. */
static void a_life_goes_from_the_careful_end_to_the_other(void **unused) {
    (void)unused;
    const struct power_cell *cell = NULL;
    assert_true(power_cell_find(text_of("LR6"), &cell, NULL).good);
    struct power_stock stock = {2500, 2800, 200, 250, 20, 20, 0.8, 0.9};
    struct power_life life = power_cell_life(cell, &stock);
    assert_true(fabs(life.least_years - 2500 * 0.8 / (250 + 0.03 * 2500)) < 1e-12);
    assert_true(fabs(life.most_years - log1p(0.02 * 2800 * 0.9 / 200) / 0.02) < 1e-12);
    assert_true(fabs(life.change_years - 6.0) < 1e-12); /* of 6.15 */
    stock.coldest_c = -5;
    assert_true(power_cell_life(cell, &stock).least_years < 0.6 * life.least_years);
}

/* dq/dt = -I - s q from C e down to 0, walked in small steps. */
static void the_exponential_life_solves_its_equation(void **unused) {
    (void)unused;
    for (double self = 0.005; self < 0.1; self += 0.031) {
        double charge = 225 * 0.9;
        double years = 0;
        static const double STEP = 1e-5;
        while (charge > 0) {
            const double middle = charge - (20 + self * charge) * STEP / 2;
            charge -= (20 + self * middle) * STEP;
            years += STEP;
        }
        assert_true(fabs(power_years_exponential(225, 0.9, 20, self) - years) < 2e-4);
    }
    assert_true(fabs(power_years_exponential(225, 0.9, 20, 0) - 10.125) < 1e-12);
    assert_true(fabs(power_years_linear(225, 0.9, 20, 0) - 10.125) < 1e-12);
}

static void more_draw_never_lasts_longer(void **unused) {
    (void)unused;
    for (double year_mah = 1; year_mah < 1000; year_mah *= 1.2) {
        assert_true(power_years_linear(225, 0.9, year_mah * 1.2, 0.01) <
                power_years_linear(225, 0.9, year_mah, 0.01));
        assert_true(power_years_linear(225, 0.9, year_mah, 0.01) <=
                power_years_exponential(225, 0.9, year_mah, 0.01));
    }
}

/* Four times at 40 C, sixteen at 60 C; cold is not credited. */
static void warmth_doubles_self_discharge_each_10_k(void **unused) {
    (void)unused;
    assert_true(fabs(power_warm_factor(40) - 4) < 1e-12);
    assert_true(fabs(power_warm_factor(60) - 16) < 1e-12);
    assert_true(fabs(power_warm_factor(-20) - 1) < 1e-12);
}

static void every_cell_is_found_and_makes_sense(void **unused) {
    (void)unused;
    for (size_t i = 0; i < power_cell_count(); i++) {
        const struct power_cell *cell = power_cell_at(i);
        const struct power_cell *found = NULL;
        assert_true(power_cell_find(text_of(cell->name), &found, NULL).good);
        assert_ptr_equal(found, cell);
        assert_true(cell->low_mah > 0 && cell->low_mah <= cell->high_mah);
        assert_true(cell->low_percent >= 0 && cell->low_percent <= cell->high_percent);
        assert_true(cell->coldest_c < cell->warmest_c && cell->volts > 1);
    }
    const struct power_cell *cell = NULL;
    struct problem problem = {0};
    assert_false(power_cell_find(text_of("potato"), &cell, &problem).good);
    assert_non_null(strstr(problem.text, "cr123a, cr2032"));
}

static void what_draws_nothing_or_nonsense_is_refused(void **unused) {
    (void)unused;
    static const struct power_draw WRONG[] = {{0, 0, 0, 0, 0}, {-1, 0, 0, 0, 0}, {NAN, 0, 0, 0, 0},
            {0.002, NAN, 0, 0, 0}, {0.002, 1, -1, 0, 0}, {0.002, 1, 1, NAN, 0},
            {0.002, 1, 1, 1, INFINITY}};
    for (size_t i = 0; i < sizeof WRONG / sizeof *WRONG; i++) {
        double year_mah = -7;
        assert_false(power_year_mah(&WRONG[i], &year_mah, NULL).good);
        assert_true(year_mah < -6);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(years_are_those_worked_by_hand),
            cmocka_unit_test(cells_have_two_names),
            cmocka_unit_test(a_life_goes_from_the_careful_end_to_the_other),
            cmocka_unit_test(the_exponential_life_solves_its_equation),
            cmocka_unit_test(more_draw_never_lasts_longer),
            cmocka_unit_test(warmth_doubles_self_discharge_each_10_k),
            cmocka_unit_test(every_cell_is_found_and_makes_sense),
            cmocka_unit_test(what_draws_nothing_or_nonsense_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
