/* How likely somebody who comes for a thing is interrupted on the way found, by the published sums of path interruption
 * (plan/interrupt.h), and at which step he has to be noticed at the latest.
 *
 * Assumed, as no profile says it (the worked house of the sums, from memory, unverified): a contact, a shock or a
 * glass-break detector notices nine of ten, a motion detector eight of ten; 19 of 20 alarms get through; a time strays
 * by 30 % about its mean, as handbooks have it. Times of steps are the least ones of the way, so that he is quicker
 * than most. Help takes as long as the panel holds the alarm back on this way, and then help-after. */
#ifndef LINTEL_CHECK_BREAK_IN_ODDS_H
#define LINTEL_CHECK_BREAK_IN_ODDS_H

#include "check/break_ins.h"
#include "plan/interrupt.h"

/* curve: so many points, so far apart: up to 20 min. */
enum { BREAK_IN_ODDS_HELP = 6, BREAK_IN_ODDS_POINTS = 81, BREAK_IN_ODDS_STEP_S = 15 };

/** any: there is a way and its alarm leaves (what is unheard is not interrupted). held_s: from the first trip until the
 *  alarm leaves. ratio: of being interrupted, 0 .. 1. critical: the last act (index into the course; act_count: taking
 *  the thing) at which he is noticed in time. noticed: of each act, how likely, 0 .. 1. curve: the same ratio with help
 *  after i * BREAK_IN_ODDS_STEP_S; never grows. by_help: what it is at break_in_odds_help_s[i]. */
struct break_in_odds {
    bool any;
    int32_t held_s;
    double ratio;
    struct interrupt_critical critical;
    const double *noticed;
    double curve[BREAK_IN_ODDS_POINTS];
    double by_help[BREAK_IN_ODDS_HELP];
};

extern const int32_t break_in_odds_help_s[BREAK_IN_ODDS_HELP];

/** Works it out for the way of one break-in that was looked at. Fails PROBLEM_MEMORY, PROBLEM_LIMIT. */
outcome break_in_odds_make(const struct site *site, const struct break_ins *all,
        const struct break_in *it, struct arena *arena, struct break_in_odds *ret_odds,
        struct problem *ret_problem) MUST_CHECK;

#endif
