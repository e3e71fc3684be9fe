/* Supervision: how often a device that is well is called missing, how long one that is gone is not, and how often
 * messages of many devices fall on each other.
 *
 * Losses are not independent: a van parks in front, a door stays open, somebody jams the band. Hours are good or
 * bad, and each has its own chance that a check-in is missed (a two-state chain, Gilbert 1960). How long bad hours
 * last and how many there are is nowhere measured for alarm radio: figures rank devices, they do not foretell.
 * Sources: runs of misses, Feller, An Introduction to Probability Theory, vol. 1; unslotted ALOHA, Abramson, AFIPS
 * FJCC 1970. */
#ifndef LINTEL_RADIO_SUPERVISE_H
#define LINTEL_RADIO_SUPERVISE_H

#include "base/problem.h"

#include <stddef.h>

enum { RADIO_MISSES_MOST = 100000 };

/** How a device checks in. missed_good_ratio, missed_bad_ratio: chance that a whole check-in (all its copies) is
 *  missed in a good, in a bad hour: 0 .. 1. bad_share_ratio: 0 .. under 1 of all time; bad_dwell_s: mean length of
 *  a bad time, over 0 where there is any. */
struct radio_check_ins {
    double interval_s;
    double window_s;
    double missed_good_ratio;
    double missed_bad_ratio;
    double bad_share_ratio;
    double bad_dwell_s;
};

/** Check-ins that must be missed in a row before the window ends. Fails BAD_VALUE: interval or window not over 0,
 *  the window shorter than the interval, more than RADIO_MISSES_MOST. */
outcome radio_misses(double interval_s, double window_s, size_t *ret_misses,
        struct problem *ret_problem) MUST_CHECK;

/** How a device that is well is called missing. troubles_a_year: how often (of 365 days). missing_ratio: for how much
 *  of all time. The number alone does not rank devices: one that is hardly ever heard is called missing seldom, and
 *  then for months; the most often where a check-in is missed with n / (n + 1), n misses in a row being wanted. */
struct radio_called_missing {
    double troubles_a_year;
    double missing_ratio;
};

/** Fails as radio_misses, or BAD_VALUE for a ratio out of its range. */
outcome radio_call_missing(const struct radio_check_ins *check_ins,
        struct radio_called_missing *ret_called, struct problem *ret_problem) MUST_CHECK;

/** Devices on one channel. airtime_s: of one copy; copies: of each message; interval_s: between messages of one
 *  device. */
struct radio_traffic {
    size_t devices;
    double airtime_s;
    size_t copies;
    double interval_s;
};

/** What comes of it. load: messages' airtime of all over time (Abramson's G). hit_ratio: chance that one copy is
 *  hit by another device's; lost_ratio: that all copies of a message are (their spacing random). duty_ratio: of one
 *  device. */
struct radio_crowd {
    double load;
    double hit_ratio;
    double lost_ratio;
    double duty_ratio;
};

/** Fails BAD_VALUE: no device, no copy, an airtime or interval not over 0, or more airtime than time. */
outcome radio_crowd(const struct radio_traffic *traffic, struct radio_crowd *ret_crowd,
        struct problem *ret_problem) MUST_CHECK;

/** Share of the time that arrives whole at this load, unslotted ALOHA: G e^-2G; at most 1/(2e), at G = 1/2. */
double radio_aloha(double load);

#endif
