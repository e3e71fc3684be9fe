/* Supervision held against Feller's runs, a chain walked state by state, and figures worked out elsewhere. */
#include "radio/supervise.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static struct radio_called_missing called(struct radio_check_ins check_ins) {
    struct radio_called_missing it = {NAN, NAN};
    assert_true(radio_call_missing(&check_ins, &it, NULL).good);
    return it;
}

static double a_year(struct radio_check_ins check_ins) {
    return called(check_ins).troubles_a_year;
}

static struct radio_check_ins every_70_min(double window_h, double missed) {
    return (struct radio_check_ins){.interval_s = 70 * 60,
            .window_s = window_h * 3600,
            .missed_good_ratio = missed,
            .missed_bad_ratio = missed};
}

/* Rows: (525600 / T)(1 - q) q^n worked out apart from this program (Python, 2026), three digits. */
static void without_bad_hours_misses_are_independent(void **unused) {
    (void)unused;
    static const struct {
        double window_h, missed;
        size_t misses;
        double a_year;
    } ROWS[] = {
            {12, 0.1, 10, 6.76e-7},
            {12, 0.3, 10, 0.0310},
            {12, 0.5, 10, 3.67},
            {12, 0.125, 10, 6.12e-6},
            {12, 0.8, 10, 161},
            {12, 0.512, 10, 4.54},
            {4, 0.3, 3, 142},
            {4, 0.027, 3, 0.144},
            {24, 0.5, 20, 3.58e-3},
    };
    for (size_t i = 0; i < sizeof ROWS / sizeof *ROWS; i++) {
        size_t misses = 0;
        assert_true(radio_misses(4200, ROWS[i].window_h * 3600, &misses, NULL).good);
        assert_int_equal(misses, ROWS[i].misses);
        const double troubles = a_year(every_70_min(ROWS[i].window_h, ROWS[i].missed));
        assert_true(fabs(troubles / ROWS[i].a_year - 1) < 0.006);
    }
}

/* Feller, vol. 1, runs: until the first run of n misses (q^-n - 1) / (1 - q) check-ins pass in the mean, of which
 * the last q-run's own start is counted anew only after an arrival: between two of them lie 1 / ((1 - q) q^n). */
static void the_time_between_runs_is_fellers(void **unused) {
    (void)unused;
    for (double q = 0.1; q < 0.95; q += 0.07) {
        for (int n = 1; n <= 12; n++) {
            struct radio_check_ins check_ins = {.interval_s = 60,
                    .window_s = 60.0 * n + 1,
                    .missed_good_ratio = q,
                    .missed_bad_ratio = q};
            const double first = (pow(q, -n) - 1) / (1 - q);
            /* After a run has been told, misses go on 1 / (1 - q) - 1 more times, then an arrival, then as at first. */
            const double between = first + 1 / (1 - q);
            const double troubles = a_year(check_ins);
            assert_true(fabs(troubles * between / 525600 - 1) < 1e-9);
        }
    }
}

/* The same chain walked: all states (weather, misses so far), until nothing changes any more. */
static double walked(const struct radio_check_ins *check_ins, size_t misses) {
    double now[2][64] = {{0}};
    const double share = check_ins->bad_share_ratio;
    const double rate_to_good = 1 / check_ins->bad_dwell_s;
    const double rate_to_bad = rate_to_good * share / (1 - share);
    const double forgets = 1 - exp(-(rate_to_good + rate_to_bad) * check_ins->interval_s);
    double flow = 0;
    now[0][0] = 1;
    for (int round = 0; round < 20000; round++) {
        double next[2][64] = {{0}};
        flow = 0;
        for (size_t bad = 0; bad < 2; bad++) {
            const double leaves = forgets * (bad == 1 ? 1 - share : share);
            for (size_t run = 0; run <= misses; run++) {
                for (size_t then = 0; then < 2; then++) {
                    const double moves = now[bad][run] * (then == bad ? 1 - leaves : leaves);
                    const double missed =
                            then == 1 ? check_ins->missed_bad_ratio : check_ins->missed_good_ratio;
                    const size_t longer = run < misses ? run + 1 : misses;
                    next[then][0] += moves * (1 - missed);
                    next[then][longer] += moves * missed;
                    flow += run + 1 == misses ? moves * missed : 0;
                }
            }
        }
        memcpy(now, next, sizeof now);
    }
    return flow * 365 * 86400 / check_ins->interval_s;
}

static void bad_hours_are_the_chain_walked_state_by_state(void **unused) {
    (void)unused;
    static const struct radio_check_ins ROWS[] = {
            {4200, 43200, 0.05, 0.9, 0.05, 7200},
            {4200, 14400, 0.3, 0.7, 0.5, 36000},
            {600, 7200, 0.01, 0.99, 0.02, 3600},
            {60, 300, 0.2, 0.2, 0.3, 100},
            {4200, 43200, 0.1, 1, 0.1, 100000},
    };
    for (size_t i = 0; i < sizeof ROWS / sizeof *ROWS; i++) {
        size_t misses = 0;
        assert_true(radio_misses(ROWS[i].interval_s, ROWS[i].window_s, &misses, NULL).good);
        assert_true(fabs(a_year(ROWS[i]) / walked(&ROWS[i], misses) - 1) < 1e-6);
    }
}

/* A clock, check-ins that arrive or not by dice, and the time beyond the window added up. */
static struct radio_called_missing diced(const struct radio_check_ins *check_ins) {
    enum { ROUNDS = 1000000 };
    uint64_t dice = 20261126;
    double silent_s = 0;
    double missing_s = 0;
    double troubles = 0;
    bool bad = false;
    for (int i = 0; i < ROUNDS; i++) {
        double faces[2];
        for (size_t k = 0; k < 2; k++) {
            dice = dice * 6364136223846793005ULL + 1442695040888963407ULL;
            faces[k] = (double)(dice >> 11) / 9007199254740992.0;
        }
        const double share = check_ins->bad_share_ratio;
        const double forgets =
                1 - exp(-check_ins->interval_s / (check_ins->bad_dwell_s * (1 - share)));
        const bool leaves = faces[0] < forgets * (bad ? 1 - share : share);
        bad = bad != leaves;
        const double before_s = silent_s;
        silent_s += check_ins->interval_s;
        missing_s += fmax(0, silent_s - fmax(before_s, check_ins->window_s));
        const bool missed =
                faces[1] < (bad ? check_ins->missed_bad_ratio : check_ins->missed_good_ratio);
        /* Called missing by whoever looks at the clock after a check-in that did not come. */
        troubles += before_s + check_ins->interval_s <= check_ins->window_s &&
                silent_s + check_ins->interval_s > check_ins->window_s && missed;
        silent_s = missed ? silent_s : 0;
    }
    return (struct radio_called_missing){troubles * 365 * 86400 / (ROUNDS * check_ins->interval_s),
            missing_s / (ROUNDS * check_ins->interval_s)};
}

static void so_long_missing_as_a_clock_and_dice_say(void **unused) {
    (void)unused;
    static const struct radio_check_ins ROWS[] = {
            {60, 150, 0.5, 0.9, 0.3, 600},
            {60, 239, 0.8, 0.8, 0.5, 60},
            {60, 120, 0.3, 0.95, 0.1, 3000},
            {60, 66, 0.9, 0.99, 0.2, 600},
    };
    for (size_t i = 0; i < sizeof ROWS / sizeof *ROWS; i++) {
        const struct radio_called_missing seen = diced(&ROWS[i]);
        const struct radio_called_missing said = called(ROWS[i]);
        assert_true(fabs(said.missing_ratio / seen.missing_ratio - 1) < 0.03);
        assert_true(fabs(said.troubles_a_year / seen.troubles_a_year - 1) < 0.03);
    }
}

/* The number has its maximum at n / (n + 1); the time never gets less. Who is never heard is missing all the time. */
static void the_worse_the_longer_missing(void **unused) {
    (void)unused;
    double before = -1;
    for (double missed = 0; missed <= 1; missed += 1.0 / 1024) {
        const struct radio_called_missing it = called(every_70_min(12, missed));
        assert_true(it.missing_ratio >= before);
        assert_true(it.troubles_a_year <= a_year(every_70_min(12, 10.0 / 11)) * (1 + 1e-12));
        before = it.missing_ratio;
    }
    const struct radio_called_missing deaf = called(every_70_min(12, 1));
    assert_true(fabs(deaf.missing_ratio - 1) < 1e-12 && deaf.troubles_a_year < 1e-12);
    for (double share = 0; share < 0.99; share += 0.07) {
        const struct radio_check_ins bad = {4200, 43200, 0.95, 0.97, share, 7200};
        assert_true(
                called(bad).missing_ratio + 1e-12 >= called(every_70_min(12, 0.95)).missing_ratio);
    }
}

/* Bad hours bunch misses: the same mean loss brings far more troubles, and endless ones are a mixture of two
 * devices. */
static void bunched_misses_are_worse_than_the_same_spread_out(void **unused) {
    (void)unused;
    struct radio_check_ins bunched = {4200, 43200, 0.02, 0.95, 0.05, 7200};
    const double mean = 0.95 * 0.02 + 0.05 * 0.95;
    assert_true(a_year(bunched) > 1000 * a_year(every_70_min(12, mean)));
    bunched.bad_dwell_s = 1e15;
    const double mixture =
            0.95 * a_year(every_70_min(12, 0.02)) + 0.05 * a_year(every_70_min(12, 0.95));
    assert_true(fabs(a_year(bunched) / mixture - 1) < 1e-6);
    bunched.bad_dwell_s = 1e-6; /* weather that changes at once is none */
    assert_true(fabs(a_year(bunched) / a_year(every_70_min(12, mean)) - 1) < 1e-6);
}

/* Rows worked out apart from this program; the last but one breaks both the 2 s an hour of 47 CFR 15.231(a)(3) and the
 * 0.1 % of ERC/REC 70-03. */
static void crowds_collide_as_worked_out(void **unused) {
    (void)unused;
    static const struct {
        struct radio_traffic traffic;
        double load, hit, airtime_s_h;
    } ROWS[] = {
            {{32, 0.02, 3, 4200}, 4.571e-4, 8.853e-4, 0.051},
            {{32, 0.02, 8, 4200}, 1.219e-3, 2.359e-3, 0.137},
            {{64, 0.05, 6, 4200}, 4.571e-3, 8.960e-3, 0.257},
            {{100, 0.02, 3, 60}, 0.1, 0.1797, 3.6},
            {{32, 0.01, 1, 720}, 4.44e-4, 8.61e-4, 0.05},
    };
    for (size_t i = 0; i < sizeof ROWS / sizeof *ROWS; i++) {
        struct radio_crowd crowd = {0};
        assert_true(radio_crowd(&ROWS[i].traffic, &crowd, NULL).good);
        assert_true(fabs(crowd.load / ROWS[i].load - 1) < 0.002);
        assert_true(fabs(crowd.hit_ratio / ROWS[i].hit - 1) < 0.001);
        assert_true(fabs(crowd.duty_ratio * 3600 - ROWS[i].airtime_s_h) < 0.00051);
        const double lost = pow(crowd.hit_ratio, (double)ROWS[i].traffic.copies);
        assert_true(fabs(crowd.lost_ratio - lost) < 1e-15);
    }
    const struct radio_traffic alone = {1, 0.02, 3, 60};
    struct radio_crowd crowd = {.hit_ratio = 1};
    assert_true(radio_crowd(&alone, &crowd, NULL).good);
    assert_true(crowd.hit_ratio <= 0);
}

/* Abramson 1970: the throughput of unslotted ALOHA has its maximum 1/(2e) at half an Erlang. */
static void aloha_has_its_maximum_at_one_half(void **unused) {
    (void)unused;
    assert_true(fabs(radio_aloha(0.5) - 0.18393972058572117) < 1e-15);
    for (double load = 0; load < 5; load += 0.01) {
        assert_true(radio_aloha(load) <= radio_aloha(0.5));
    }
}

static void what_cannot_be_is_refused(void **unused) {
    (void)unused;
    static const struct {
        struct radio_check_ins check_ins;
        const char *word;
    } WRONG[] = {
            {{0, 3600, 0, 0, 0, 0}, "over 0"},
            {{NAN, 3600, 0, 0, 0, 0}, "over 0"},
            {{3600, -1, 0, 0, 0, 0}, "over 0"},
            {{3600, 3599, 0, 0, 0, 0}, "shorter than the check-in interval"},
            {{1e-9, 3600, 0, 0, 0, 0}, "more than 100000"},
            {{3600, 7200, 1.1, 0, 0, 0}, "missed check-ins"},
            {{3600, 7200, 0, NAN, 0, 0}, "missed check-ins"},
            {{3600, 7200, 0, 0, 1, 3600}, "bad hours"},
            {{3600, 7200, 0, 0, 0.5, 0}, "bad hours"},
    };
    for (size_t i = 0; i < sizeof WRONG / sizeof *WRONG; i++) {
        struct problem problem = {0};
        struct radio_called_missing it = {-7, -7};
        assert_false(radio_call_missing(&WRONG[i].check_ins, &it, &problem).good);
        assert_non_null(strstr(problem.text, WRONG[i].word));
        assert_true(it.troubles_a_year < -6 && it.missing_ratio < -6);
    }
    static const struct radio_traffic NO_TRAFFIC[] = {
            {0, 0.02, 3, 60},
            {5, 0.02, 0, 60},
            {5, 0, 3, 60},
            {5, 0.02, 3, 0},
            {5, NAN, 3, 60},
            {5, 30, 3, 60},
    };
    for (size_t i = 0; i < sizeof NO_TRAFFIC / sizeof *NO_TRAFFIC; i++) {
        struct radio_crowd crowd;
        assert_false(radio_crowd(&NO_TRAFFIC[i], &crowd, NULL).good);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(without_bad_hours_misses_are_independent),
            cmocka_unit_test(the_time_between_runs_is_fellers),
            cmocka_unit_test(bad_hours_are_the_chain_walked_state_by_state),
            cmocka_unit_test(so_long_missing_as_a_clock_and_dice_say),
            cmocka_unit_test(the_worse_the_longer_missing),
            cmocka_unit_test(bunched_misses_are_worse_than_the_same_spread_out),
            cmocka_unit_test(crowds_collide_as_worked_out),
            cmocka_unit_test(aloha_has_its_maximum_at_one_half),
            cmocka_unit_test(what_cannot_be_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
