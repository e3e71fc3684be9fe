#include "radio/supervise.h"

#include <assert.h>
#include <math.h>

static const double YEAR_S = 365.0 * 86400;

outcome radio_misses(
        double interval_s, double window_s, size_t *ret_misses, struct problem *ret_problem) {
    if (!(interval_s > 0 && window_s > 0)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "the check-in interval and the window are over 0");
    }
    const double misses = floor(window_s / interval_s);
    if (!(misses >= 1)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "the window is shorter than the check-in interval: every device is called missing; "
                "a window of several intervals is usual");
    }
    if (misses > RADIO_MISSES_MOST) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "the window holds more than %d check-ins",
                RADIO_MISSES_MOST);
    }
    *ret_misses = (size_t)misses;
    return outcome_good();
}

static bool is_ratio(double value) {
    return value >= 0 && value <= 1;
}

static outcome check_hours(const struct radio_check_ins *check_ins, struct problem *ret_problem) {
    if (!is_ratio(check_ins->missed_good_ratio) || !is_ratio(check_ins->missed_bad_ratio)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "a share of missed check-ins is 0 to 100 %%");
    }
    if (!(check_ins->bad_share_ratio >= 0 && check_ins->bad_share_ratio < 1)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "the share of bad hours is 0 to under 100 %%");
    }
    if (check_ins->bad_share_ratio > 0 && !(check_ins->bad_dwell_s > 0)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "bad hours last longer than 0 s");
    }
    return outcome_good();
}

/* Chances of the two kinds of weather, with all that has happened since. */
struct weather {
    double good;
    double bad;
};

/* So many check-ins are missed, the weather changing between two of them as the two-state chain in continuous time
 * does:
 *
 * good -> bad: share (1 - e^(-T / relax)), relax = dwell (1 - share) */
static double all_missed_ratio(
        const struct radio_check_ins *check_ins, struct weather weather, size_t misses) {
    const double share = check_ins->bad_share_ratio;
    const double relax_s = check_ins->bad_dwell_s * (1 - share);
    const double forgets = share > 0 ? 1 - exp(-check_ins->interval_s / relax_s) : 1;
    for (size_t i = 0; i < misses; i++) {
        const double worsens = weather.good * share * forgets;
        const double mends = weather.bad * (1 - share) * forgets;
        weather.good = (weather.good - worsens + mends) * check_ins->missed_good_ratio;
        weather.bad = (weather.bad - mends + worsens) * check_ins->missed_bad_ratio;
    }
    return weather.good + weather.bad;
}

/* A run of exactly so many misses begins after a check-in that arrived: so often the window runs out. It has run out at
 * a moment before which n, in the last part of an interval n + 1, check-ins were missed: window / check-in - n of all
 * moments are of the second kind. */
outcome radio_call_missing(const struct radio_check_ins *check_ins,
        struct radio_called_missing *ret_called, struct problem *ret_problem) {
    size_t misses = 0;
    TRY(radio_misses(check_ins->interval_s, check_ins->window_s, &misses, ret_problem));
    TRY(check_hours(check_ins, ret_problem));
    const double share = check_ins->bad_share_ratio;
    const struct weather any = {1 - share, share};
    const struct weather heard = {(1 - share) * (1 - check_ins->missed_good_ratio),
            share * (1 - check_ins->missed_bad_ratio)};
    const double heard_missed = all_missed_ratio(check_ins, heard, misses);
    const double longer = check_ins->window_s / check_ins->interval_s - (double)misses;
    *ret_called = (struct radio_called_missing){
            .troubles_a_year = YEAR_S / check_ins->interval_s * heard_missed,
            .missing_ratio =
                    all_missed_ratio(check_ins, any, misses + 1) + (1 - longer) * heard_missed,
    };
    return outcome_good();
}

outcome radio_crowd(const struct radio_traffic *traffic, struct radio_crowd *ret_crowd,
        struct problem *ret_problem) {
    if (traffic->devices == 0 || traffic->copies == 0) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "there is one device and one copy at least");
    }
    if (!(traffic->airtime_s > 0 && traffic->interval_s > 0)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "airtime and interval are over 0");
    }
    const double copies = (double)traffic->copies;
    const double duty = traffic->airtime_s * copies / traffic->interval_s;
    if (!(duty <= 1)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "one device alone is on the air longer than there is time; a longer interval");
    }
    /* A copy is hit by whatever of another begins within one airtime before or after it. Senders are periodic, each
     * with a phase of its own, and every other copy misses that stretch with a chance of its own. */
    const double stretch = fmin(1, 2 * traffic->airtime_s / traffic->interval_s);
    const double others = ((double)traffic->devices - 1) * copies;
    const double hit = others > 0 ? 1 - pow(1 - stretch, others) : 0;
    *ret_crowd = (struct radio_crowd){
            .load = duty * (double)traffic->devices,
            .hit_ratio = hit,
            .lost_ratio = pow(hit, copies),
            .duty_ratio = duty,
    };
    return outcome_good();
}

double radio_aloha(double load) {
    assert(load >= 0);
    return load * exp(-2 * load);
}
