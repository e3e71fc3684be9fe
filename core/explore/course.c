#include "explore/course.h"

#include <assert.h>
#include <string.h>

/* Instants: one per event, one per drawn deadline, also of those that are stopped, shortened or still run at the end.
 * Every rule says that an instant is at least so much after another, or after the earlier of two (a shortened
 * deadline). If two runs keep all rules, so does the run that takes the earlier of each instant; so there is one
 * earliest run, and raising instants from 0 until every rule is kept arrives at it (Tarski 1955). */

struct rule {
    size_t from;
    size_t or_from; /* NONE, or: after the earlier of both */
    size_t to;
    int32_t least_s;
};

#define NONE ((size_t)-1)

enum {
    RUNNING_MAX = EXPLORE_ACTIVE_MAX + EXPLORE_EFFECT_MAX,
    EFFORT_MOST = 50000000, /* rules looked at */
};

struct course {
    const struct course_step *steps;
    size_t step_count;
    struct arena *scratch;
    struct rule *rules;
    size_t rule_count;
    size_t rule_capacity;
    size_t *draws; /* instants drawn by all events, in order; NONE where a SHORTEN did nothing */
    size_t draw_count;
    size_t draw_capacity;
    size_t *first_draw; /* of each event, and one past */
    size_t instant_count;
    int64_t *instant_s;
    size_t running_count;
    explore_activity running[RUNNING_MAX];
    size_t deadline[RUNNING_MAX]; /* the instant */
    bool refused;
};

static void *grow(struct course *course, void *old, size_t count, size_t *capacity, size_t size) {
    if (count < *capacity || course->refused) {
        return old;
    }
    const size_t wanted = *capacity == 0 ? 128 : *capacity * 2;
    void *grown = arena_take(course->scratch, wanted, size);
    if (grown == NULL) {
        course->refused = true;
        return old;
    }
    if (count > 0) {
        memcpy(grown, old, count * size);
    }
    *capacity = wanted;
    return grown;
}

static void add_rule(struct course *course, size_t from, size_t to, int32_t least_s) {
    course->rules = grow(course, course->rules, course->rule_count, &course->rule_capacity,
            sizeof *course->rules);
    if (!course->refused) {
        course->rules[course->rule_count] = (struct rule){from, NONE, to, least_s};
        course->rule_count++;
    }
}

/* to is the earlier of a and b. */
static void add_earlier_rules(struct course *course, size_t a, size_t b, size_t to) {
    add_rule(course, to, a, 0);
    add_rule(course, to, b, 0);
    add_rule(course, a, to, 0);
    if (!course->refused) {
        course->rules[course->rule_count - 1].or_from = b;
    }
}

static void add_draw(struct course *course, size_t instant) {
    course->draws = grow(course, course->draws, course->draw_count, &course->draw_capacity,
            sizeof *course->draws);
    if (!course->refused) {
        course->draws[course->draw_count] = instant;
        course->draw_count++;
    }
}

static size_t find_running(const struct course *course, explore_activity activity) {
    size_t place = 0;
    while (place < course->running_count && course->running[place] != activity) {
        place++;
    }
    return place;
}

static size_t draw_deadline(struct course *course, size_t event, struct span span) {
    const size_t instant = course->instant_count;
    course->instant_count++;
    add_rule(course, event, instant, span.low_s);
    add_rule(course, instant, event, -span.high_s);
    add_draw(course, instant);
    return instant;
}

static void start(struct course *course, size_t event, const struct explore_effect *effect) {
    course->running[course->running_count] = effect->activity;
    course->deadline[course->running_count] = draw_deadline(course, event, effect->span);
    course->running_count++;
}

/* It ran up to this event, so its deadline cannot have come before. */
static void leave(struct course *course, size_t event, size_t place) {
    add_rule(course, event, course->deadline[place], 0);
    course->running_count--;
    course->running[place] = course->running[course->running_count];
    course->deadline[place] = course->deadline[course->running_count];
}

static void shorten(
        struct course *course, size_t event, const struct explore_effect *effect, size_t place) {
    const size_t drawn = draw_deadline(course, event, effect->span);
    const size_t shorter = course->instant_count;
    course->instant_count++;
    add_earlier_rules(course, course->deadline[place], drawn, shorter);
    course->deadline[place] = shorter;
}

static void lay_out_effects(
        struct course *course, size_t event, const struct explore_effects *effects) {
    for (size_t k = 0; k < effects->count; k++) {
        const struct explore_effect *effect = &effects->effects[k];
        const size_t place = find_running(course, effect->activity);
        const bool runs = place < course->running_count;
        switch (effect->kind) {
        case EXPLORE_START:
            if (runs) {
                leave(course, event, place);
            }
            start(course, event, effect);
            break;
        case EXPLORE_STOP:
            if (runs) {
                leave(course, event, place);
            }
            break;
        case EXPLORE_SHORTEN:
            if (runs) {
                shorten(course, event, effect, place);
            } else {
                add_draw(course, NONE);
            }
            break;
        }
    }
}

/* Goes through the course once more with the machine and writes down its rules. */
static bool lay_out(struct course *course, const struct explore_machine *machine) {
    struct explore_effects effects;
    void *state = arena_take(course->scratch, machine->state_size, 1);
    course->first_draw = ARENA_ARRAY(course->scratch, size_t, course->step_count + 1);
    if (state == NULL || course->first_draw == NULL) {
        return false;
    }
    course->instant_count = course->step_count;
    for (size_t event = 0; event < course->step_count && !course->refused; event++) {
        const struct course_step *step = &course->steps[event];
        memset(&effects, 0, sizeof effects);
        if (event == 0) {
            machine->begin(machine->context, state, &effects);
        } else {
            machine->fire(machine->context, state, step->activity, step->choice, &effects);
            add_rule(course, event - 1, event, 0);
            const size_t place = find_running(course, step->activity);
            assert(place < course->running_count);
            add_rule(course, course->deadline[place], event, 0);
            leave(course, event, place);
        }
        lay_out_effects(course, event, &effects);
        course->first_draw[event + 1] = course->draw_count;
    }
    while (course->running_count > 0) {
        leave(course, course->step_count - 1, 0);
    }
    return !course->refused;
}

/* Raises instants until all rules are kept. Without shortened deadlines as many rounds as instants are enough; with
 * them a round may gain a second only, so the effort has a bound. */
static enum course_outcome solve(struct course *course) {
    course->instant_s = ARENA_ARRAY(course->scratch, int64_t, course->instant_count);
    if (course->instant_s == NULL) {
        return COURSE_NO_SCRATCH;
    }
    size_t effort = 0;
    bool moved = true;
    while (moved) {
        moved = false;
        effort += course->rule_count;
        if (effort > EFFORT_MOST) {
            return COURSE_TOO_LONG;
        }
        for (size_t k = 0; k < course->rule_count; k++) {
            const struct rule *rule = &course->rules[k];
            int64_t from_s = course->instant_s[rule->from];
            if (rule->or_from != NONE && course->instant_s[rule->or_from] < from_s) {
                from_s = course->instant_s[rule->or_from];
            }
            if (course->instant_s[rule->to] < from_s + rule->least_s) {
                course->instant_s[rule->to] = from_s + rule->least_s;
                moved = true;
            }
        }
    }
    assert(course->instant_s[0] == 0); /* the course was possible */
    return course->instant_s[course->step_count - 1] > INT32_MAX ? COURSE_TOO_LONG : COURSE_TOLD;
}

static enum course_outcome give(const struct course *course, struct arena *arena,
        const struct explore_event **ret_events, struct problem *ret_problem) {
    void *memory = NULL;
    if (!arena_get(arena, course->step_count, sizeof(struct explore_event), &memory, ret_problem)
                    .good) {
        return COURSE_NOT_GIVEN;
    }
    struct explore_event *events = memory;
    if (!arena_get(arena, course->draw_count, sizeof(int32_t), &memory, ret_problem).good) {
        return COURSE_NOT_GIVEN;
    }
    int32_t *started_s = memory;
    for (size_t event = 0; event < course->step_count; event++) {
        const size_t first = course->first_draw[event];
        const size_t past = course->first_draw[event + 1];
        for (size_t k = first; k < past; k++) {
            const size_t drawn = course->draws[k];
            started_s[k] = drawn == NONE
                    ? -1
                    : (int32_t)(course->instant_s[drawn] - course->instant_s[event]);
        }
        events[event] = (struct explore_event){.activity = course->steps[event].activity,
                .choice = course->steps[event].choice,
                .at_s = (int32_t)course->instant_s[event],
                .started_s = started_s + first,
                .started_count = past - first};
    }
    *ret_events = events;
    return COURSE_TOLD;
}

enum course_outcome course_tell(const struct explore_machine *machine,
        const struct course_step *steps, size_t step_count, struct arena *scratch,
        struct arena *arena, const struct explore_event **ret_events, struct problem *ret_problem) {
    struct course course = {.steps = steps, .step_count = step_count, .scratch = scratch};
    if (!lay_out(&course, machine)) {
        return COURSE_NO_SCRATCH;
    }
    const enum course_outcome solved = solve(&course);
    if (solved != COURSE_TOLD) {
        return solved;
    }
    return give(&course, arena, ret_events, ret_problem);
}
