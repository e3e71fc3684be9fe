#include "plan/interrupt.h"

#include <math.h>
#include <string.h>

static const double TIME_MOST_S = 1e7;
static const double DAY_S = 86400;
static const double STEP_S = 0.1;

/* What of a task's time, and of its deviation, is left when it is noticed. */
static double share_left(enum interrupt_when when) {
    static const double SHARES[INTERRUPT_WHEN_COUNT] = {
            [INTERRUPT_BEGIN] = 1, [INTERRUPT_MIDDLE] = 0.5, [INTERRUPT_END] = 0};
    return SHARES[when];
}

static bool is_ratio(double value) {
    return value >= 0 && value <= 1;
}

static bool is_time(double value) {
    return value >= 0 && value <= TIME_MOST_S;
}

static outcome check_tasks(
        const struct interrupt_task *tasks, size_t task_count, struct problem *ret_problem) {
    if (task_count > INTERRUPT_TASKS_MOST) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "%zu tasks on one way; at most %d", task_count,
                INTERRUPT_TASKS_MOST);
    }
    for (size_t i = 0; i < task_count; i++) {
        if (!is_ratio(tasks[i].detect_ratio)) {
            FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                    "task %zu: how likely it is noticed is between 0 and 1", i + 1);
        }
        if (!is_time(tasks[i].time_s) || !is_time(tasks[i].deviation_s)) {
            FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "task %zu: time and deviation are 0 to %.0f s",
                    i + 1, TIME_MOST_S);
        }
    }
    return outcome_good();
}

static outcome check_response(
        const struct interrupt_response *response, struct problem *ret_problem) {
    if (!is_time(response->time_s) || !is_time(response->deviation_s)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "the response's time and deviation are 0 to %.0f s", TIME_MOST_S);
    }
    if (!is_ratio(response->talk_ratio)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "how likely an alarm gets through is between 0 and 1");
    }
    return outcome_good();
}

/* That a normal quantity with this mean and variance is over zero. */
static double over_zero(double mean, double variance) {
    if (variance > 0) {
        return 0.5 * erfc(-mean / sqrt(2 * variance));
    }
    return mean > 0 ? 1 : 0;
}

/* The sum over tasks: that it is the first to be noticed, is told, and leaves help the time. ret_parts may be NULL. */
static double sum_parts(const struct interrupt_task *tasks, size_t task_count,
        const struct interrupt_response *response, struct interrupt_part *ret_parts) {
    double missed = 1;
    double ahead_s = 0;
    double ahead_variance = 0;
    double ratio = 0;
    for (size_t i = 0; i < task_count; i++) {
        ahead_s += tasks[i].time_s;
        ahead_variance += tasks[i].deviation_s * tasks[i].deviation_s;
    }
    for (size_t i = 0; i < task_count; i++) {
        const struct interrupt_task *task = &tasks[i];
        const double left = share_left(task->when);
        const double variance = task->deviation_s * task->deviation_s;
        ahead_s -= task->time_s;
        ahead_variance = ahead_variance > variance ? ahead_variance - variance : 0;
        const double left_s = ahead_s + left * task->time_s;
        const double in_time = over_zero(left_s - response->time_s,
                ahead_variance + left * left * variance +
                        response->deviation_s * response->deviation_s);
        const double share = in_time * response->talk_ratio * task->detect_ratio * missed;
        missed *= 1 - task->detect_ratio * (response->each_tries ? response->talk_ratio : 1);
        ratio += share;
        if (ret_parts != NULL) {
            ret_parts[i] = (struct interrupt_part){left_s, in_time, share};
        }
    }
    return ratio;
}

outcome interrupt_probability(const struct interrupt_task *tasks, size_t task_count,
        const struct interrupt_response *response, struct interrupt_part *ret_parts,
        double *ret_ratio, struct problem *ret_problem) {
    TRY(check_tasks(tasks, task_count, ret_problem));
    TRY(check_response(response, ret_problem));
    *ret_ratio = sum_parts(tasks, task_count, response, ret_parts);
    return outcome_good();
}

/* Up to the critical point, tasks given one by one by their numbers. */
static struct interrupt_critical critical_of(
        const struct interrupt_task *const *tasks, size_t task_count, double response_s) {
    struct interrupt_critical critical = {.task = INTERRUPT_NEVER};
    double ahead_s = 0;
    for (size_t i = task_count; i > 0 && critical.task == INTERRUPT_NEVER; i--) {
        const struct interrupt_task *task = tasks[i - 1];
        const double left_s = ahead_s + share_left(task->when) * task->time_s;
        ahead_s += task->time_s;
        if (task->detect_ratio > 0 && left_s > response_s) {
            critical.task = i - 1;
            critical.left_s = left_s;
        }
    }
    double missed = 1;
    for (size_t i = 0; critical.task != INTERRUPT_NEVER && i <= critical.task; i++) {
        missed *= 1 - tasks[i]->detect_ratio;
    }
    critical.ratio = 1 - missed;
    return critical;
}

static outcome check_response_time(double response_s, struct problem *ret_problem) {
    const struct interrupt_response response = {.time_s = response_s};
    return check_response(&response, ret_problem);
}

outcome interrupt_find_critical(const struct interrupt_task *tasks, size_t task_count,
        double response_s, struct interrupt_critical *ret_critical, struct problem *ret_problem) {
    TRY(check_tasks(tasks, task_count, ret_problem));
    TRY(check_response_time(response_s, ret_problem));
    const struct interrupt_task *listed[INTERRUPT_TASKS_MOST];
    for (size_t i = 0; i < task_count; i++) {
        listed[i] = &tasks[i];
    }
    *ret_critical = critical_of(listed, task_count, response_s);
    return outcome_good();
}

outcome interrupt_longest_response(const struct interrupt_task *tasks, size_t task_count,
        const struct interrupt_response *response, double ratio, double *ret_response_s,
        struct problem *ret_problem) {
    TRY(check_tasks(tasks, task_count, ret_problem));
    TRY(check_response(response, ret_problem));
    struct interrupt_response tried = *response;
    /* In whole steps: low is good, high is not. */
    int32_t low = -1;
    int32_t high = (int32_t)(DAY_S / STEP_S) + 1;
    while (high - low > 1) {
        const int32_t middle = low + (high - low) / 2;
        tried.time_s = middle * STEP_S;
        if (sum_parts(tasks, task_count, &tried, NULL) >= ratio) {
            low = middle;
        } else {
            high = middle;
        }
    }
    *ret_response_s = low < 0 ? -1 : low * STEP_S;
    return outcome_good();
}

static outcome check_layers(const struct interrupt_layer *layers, size_t layer_count,
        size_t tries_most, struct problem *ret_problem) {
    if (layer_count > INTERRUPT_LAYERS_MOST) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "%zu layers; at most %d", layer_count,
                INTERRUPT_LAYERS_MOST);
    }
    size_t tries = 1;
    for (size_t i = 0; i < layer_count; i++) {
        TRY(check_tasks(layers[i].choices, layers[i].choice_count, ret_problem));
        if (layers[i].choice_count == 0) {
            FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "layer %zu has no way through", i + 1);
        }
        if (tries > tries_most / layers[i].choice_count) {
            FAIL(ret_problem, PROBLEM_LIMIT, "", "more than %zu ways through the layers",
                    tries_most);
        }
        tries *= layers[i].choice_count;
    }
    return outcome_good();
}

/* The next way, the last layer changing fastest. False: that was all. */
static bool next_way(const struct interrupt_layer *layers, size_t layer_count, size_t *choices) {
    for (size_t i = layer_count; i > 0; i--) {
        if (++choices[i - 1] < layers[i - 1].choice_count) {
            return true;
        }
        choices[i - 1] = 0;
    }
    return false;
}

outcome interrupt_weakest(const struct interrupt_layer *layers, size_t layer_count,
        double response_s, size_t tries_most, size_t *ret_choices,
        struct interrupt_critical *ret_critical, struct problem *ret_problem) {
    TRY(check_layers(layers, layer_count, tries_most, ret_problem));
    TRY(check_response_time(response_s, ret_problem));
    size_t choices[INTERRUPT_LAYERS_MOST] = {0};
    struct interrupt_critical least = {.ratio = INFINITY};
    do {
        const struct interrupt_task *tasks[INTERRUPT_LAYERS_MOST];
        for (size_t i = 0; i < layer_count; i++) {
            tasks[i] = &layers[i].choices[choices[i]];
        }
        const struct interrupt_critical tried = critical_of(tasks, layer_count, response_s);
        if (tried.ratio < least.ratio) {
            least = tried;
            memcpy(ret_choices, choices, layer_count * sizeof *choices);
        }
    } while (next_way(layers, layer_count, choices));
    *ret_critical = least;
    return outcome_good();
}
