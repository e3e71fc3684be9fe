#include "power/loop.h"

#include <math.h>

static const double OHM_MOST = 1e7;

/* Which resistors stand in the way in each state; open and short have none of their own. A contact that is closed
 * at rest: the alarm opens the loop, which a cut wire does as well, so that the alarm is no state of its own there. */
struct path {
    bool there;
    bool endless; /* nothing conducts but the leak */
    bool end;
    bool alarm;
    bool mask;
};

/* clang-format off */
static const struct path paths[POWER_WIRING_COUNT][POWER_STATE_COUNT] = {
    [POWER_LOOP_PLAIN] = {
        [POWER_STATE_NORMAL] = {true, false, false, false, false},
        [POWER_STATE_OPEN]   = {true, true,  false, false, false},
    },
    [POWER_LOOP_SINGLE_CLOSED] = {
        [POWER_STATE_SHORT]  = {true, false, false, false, false},
        [POWER_STATE_NORMAL] = {true, false, true,  false, false},
        [POWER_STATE_OPEN]   = {true, true,  false, false, false},
    },
    [POWER_LOOP_SINGLE_OPEN] = {
        [POWER_STATE_SHORT]  = {true, false, false, false, false},
        [POWER_STATE_NORMAL] = {true, false, true,  false, false},
        [POWER_STATE_OPEN]   = {true, true,  false, false, false},
    },
    [POWER_LOOP_DOUBLE] = {
        [POWER_STATE_SHORT]  = {true, false, false, false, false},
        [POWER_STATE_NORMAL] = {true, false, true,  false, false},
        [POWER_STATE_ALARM]  = {true, false, true,  true,  false},
        [POWER_STATE_OPEN]   = {true, true,  false, false, false},
    },
    [POWER_LOOP_TRIPLE] = {
        [POWER_STATE_SHORT]  = {true, false, false, false, false},
        [POWER_STATE_NORMAL] = {true, false, true,  false, false},
        [POWER_STATE_ALARM]  = {true, false, true,  true,  false},
        [POWER_STATE_MASKED] = {true, false, true,  false, true},
        [POWER_STATE_MASKED_ALARM] = {true, false, true, true, true},
        [POWER_STATE_OPEN]   = {true, true,  false, false, false},
    },
};
/* clang-format on */

const char *power_state_name(enum power_loop_state state) {
    static const char *const names[POWER_STATE_COUNT] = {
            [POWER_STATE_SHORT] = "short",
            [POWER_STATE_NORMAL] = "normal",
            [POWER_STATE_ALARM] = "alarm",
            [POWER_STATE_MASKED] = "masked",
            [POWER_STATE_MASKED_ALARM] = "masked and alarm",
            [POWER_STATE_OPEN] = "open",
    };
    return names[state];
}

static bool is_within(double value, double most) {
    return value >= 0 && value <= most;
}

static outcome check_resistor(
        double ohm, bool wanted, const char *name, struct problem *ret_problem) {
    if (wanted && !(ohm > 0 && ohm <= OHM_MOST)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "the %s resistor has over 0 to 10000 kohm", name);
    }
    return outcome_good();
}

static outcome check(const struct power_loop *loop, struct problem *ret_problem) {
    const struct path *all = paths[loop->wiring];
    TRY(check_resistor(loop->end_ohm, all[POWER_STATE_SHORT].there, "end", ret_problem));
    TRY(check_resistor(loop->alarm_ohm, all[POWER_STATE_ALARM].there, "alarm", ret_problem));
    TRY(check_resistor(loop->mask_ohm, all[POWER_STATE_MASKED].there, "mask", ret_problem));
    if (!is_within(loop->tolerance_ratio, 0.5) || !is_within(loop->pull_up_tolerance_ratio, 0.5)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "a tolerance is 0 to 50 %%");
    }
    if (!is_within(loop->wire_ohm, OHM_MOST) || !is_within(loop->leak_ohm, 1e9)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "wire and leak are 0 ohm and more (a leak of 0: none)");
    }
    if (!(loop->supply_v > 0 && loop->supply_v <= 100 && loop->pull_up_ohm > 0 &&
                loop->pull_up_ohm <= OHM_MOST)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "the panel measures with over 0 to 100 V through a pull-up of over 0 ohm");
    }
    return outcome_good();
}

static double beside(double a_ohm, double b_ohm) {
    return a_ohm + b_ohm > 0 ? a_ohm * b_ohm / (a_ohm + b_ohm) : 0;
}

static double divided_v(double supply_v, double ohm, double pull_up_ohm) {
    return supply_v * ohm / (ohm + pull_up_ohm);
}

static struct power_window window(const struct power_loop *loop, const struct path *path) {
    const double nominal_ohm = (path->end ? loop->end_ohm : 0) +
            (path->alarm ? loop->alarm_ohm : 0) + (path->mask ? loop->mask_ohm : 0);
    struct power_window seen = {.there = true,
            .low_ohm = nominal_ohm * (1 - loop->tolerance_ratio),
            .high_ohm = nominal_ohm * (1 + loop->tolerance_ratio) + loop->wire_ohm};
    const bool leaks = loop->leak_ohm > 0;
    if (path->endless) {
        seen.endless = true;
        seen.low_ohm = leaks ? loop->leak_ohm : OHM_MOST;
        seen.high_ohm = 0;
    } else if (leaks) {
        seen.low_ohm = beside(seen.low_ohm, loop->leak_ohm);
    }
    const double strong_ohm = loop->pull_up_ohm * (1 - loop->pull_up_tolerance_ratio);
    const double weak_ohm = loop->pull_up_ohm * (1 + loop->pull_up_tolerance_ratio);
    seen.low_v = path->endless && !leaks ? loop->supply_v
                                         : divided_v(loop->supply_v, seen.low_ohm, weak_ohm);
    seen.high_v =
            path->endless ? loop->supply_v : divided_v(loop->supply_v, seen.high_ohm, strong_ohm);
    return seen;
}

outcome power_loop_windows(const struct power_loop *loop, struct power_window *ret_windows,
        struct problem *ret_problem) {
    TRY(check(loop, ret_problem));
    for (size_t i = 0; i < POWER_STATE_COUNT; i++) {
        const struct path *path = &paths[loop->wiring][i];
        ret_windows[i] = path->there ? window(loop, path) : (struct power_window){.there = false};
    }
    return outcome_good();
}

double power_window_gap_v(const struct power_window *a, const struct power_window *b) {
    return fmax(a->low_v - b->high_v, b->low_v - a->high_v);
}
