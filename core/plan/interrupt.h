/* Whether help comes in time: the probability that an intruder on a given way is interrupted, the last point at which
 * he must have been noticed, and how both hang on the time help takes. Pure sums over a list of tasks.
 *
 * Sources: Bennett, SAND77-0082 (1977); Garcia, Design and Evaluation of Physical Protection Systems, the chapter on
 * analysis (formulas from memory, checked by the worksheet and by drawing at random); the critical point as in the
 * international training course of Sandia, Path Interruption Analysis. Two things the sources leave open are chosen
 * here: whether one failure to pass the alarm on is one for the whole attack or for each sensor (a setting, both are
 * in use), and the deviation of what is left of a task noticed in its middle (half of the task's: the rest is half of
 * its time). */
#ifndef LINTEL_PLAN_INTERRUPT_H
#define LINTEL_PLAN_INTERRUPT_H

#include "base/problem.h"

#include <stddef.h>
#include <stdint.h>

enum { INTERRUPT_TASKS_MOST = 1000, INTERRUPT_LAYERS_MOST = 32 };
#define INTERRUPT_NEVER SIZE_MAX

/** When in a task its sensor notices it: all, half or nothing of its time is still to come. */
enum interrupt_when { INTERRUPT_BEGIN, INTERRUPT_MIDDLE, INTERRUPT_END, INTERRUPT_WHEN_COUNT };

/** One thing the intruder does. detect_ratio: how likely it is noticed, 0 .. 1. time_s, deviation_s: its mean and
 *  standard deviation (about 30 % of the mean is the handbooks' habit), >= 0. */
struct interrupt_task {
    double detect_ratio;
    enum interrupt_when when;
    double time_s;
    double deviation_s;
};

/** Who comes, and how sure he is told. talk_ratio: how likely an alarm gets through, 0 .. 1. each_tries: every sensor's
 *  alarm gets through or not by itself; otherwise one try decides for all. */
struct interrupt_response {
    double time_s;
    double deviation_s;
    double talk_ratio;
    bool each_tries;
};

/** What one task adds. left_s: mean time still ahead when it is noticed. in_time_ratio: that help comes if it is
 *  noticed and told. share_ratio: what it adds to the probability. */
struct interrupt_part {
    double left_s;
    double in_time_ratio;
    double share_ratio;
};

/** The probability that the intruder is interrupted, 0 .. 1, with times normal and independent of each other.
 *  ret_parts: task_count of them, or NULL. An alarm with exactly as much time left as help needs, and no deviation at
 *  all, is too late. Fails BAD_VALUE (names task and figure), LIMIT; outputs then untouched. */
outcome interrupt_probability(const struct interrupt_task *tasks, size_t task_count,
        const struct interrupt_response *response, struct interrupt_part *ret_parts,
        double *ret_ratio, struct problem *ret_problem) MUST_CHECK;

/** The critical detection point. task: the last one with a sensor at which more time is still ahead than help needs, or
 *  INTERRUPT_NEVER. left_s: that time. ratio: that he is noticed there or before (alarms get through). */
struct interrupt_critical {
    size_t task;
    double left_s;
    double ratio;
};

/** Finds it from mean times alone; exactly as much time as help needs is too late. Fails as above. */
outcome interrupt_find_critical(const struct interrupt_task *tasks, size_t task_count,
        double response_s, struct interrupt_critical *ret_critical, struct problem *ret_problem)
        MUST_CHECK;

/** The longest mean response at which the probability is still at least this, to a tenth of a second; 0 .. a day. The
 *  probability never grows with the response. -1: not even at once. Fails as above. */
outcome interrupt_longest_response(const struct interrupt_task *tasks, size_t task_count,
        const struct interrupt_response *response, double ratio, double *ret_response_s,
        struct problem *ret_problem) MUST_CHECK;

/** A layer of protection that can be passed in one of several ways. Borrows. */
struct interrupt_layer {
    const struct interrupt_task *choices;
    size_t choice_count;
};

/** The way through all layers on which he is least likely noticed in time (by the critical point), the first of equal
 *  ones in the order of the choices. All ways are tried: at most `tries_most`, else LIMIT. ret_choices: one index a
 *  layer. */
outcome interrupt_weakest(const struct interrupt_layer *layers, size_t layer_count,
        double response_s, size_t tries_most, size_t *ret_choices,
        struct interrupt_critical *ret_critical, struct problem *ret_problem) MUST_CHECK;

#endif
