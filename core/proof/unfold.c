/* A routine as written, unfolded into single acts: ways into doors and legs, habits into seconds. */
#include "proof/proof.h"

#include <string.h>

/* Common practice where nothing is written: hands on a door, a step across a room. */
static const struct span hand_s = {1, 3};
static const struct span close_s = {1, 2};
static const struct span at_once_s = {0, 0};

enum { DAY_S = 86400 };

struct unfolding {
    const struct site *site;
    const struct site_routine *source;
    struct proof_routine *routine;
    size_t first_of[SITE_STEP_MAX]; /* first unfolded step of each written one */
    size_t last_of[SITE_STEP_MAX];
    bool seen[SITE_PEOPLE_MAX]; /* has this person had a step before? */
};

static struct span span_sum(struct span a, struct span b) {
    return span_of(a.low_s + b.low_s, a.high_s + b.high_s);
}

static outcome add(struct unfolding *unfolding, size_t written, struct span in, enum site_act act,
        struct proof_step **ret_step, struct problem *ret_problem) {
    struct proof_routine *routine = unfolding->routine;
    const struct site_step *step = &unfolding->source->steps[written];
    if (routine->step_count == PROOF_STEP_MAX) {
        FAIL(ret_problem, PROBLEM_LIMIT, "",
                "routine \"%.*s\" unfolds into more than %d acts; make two routines of it",
                TEXT_ARGS(unfolding->source->name), PROOF_STEP_MAX);
    }
    struct proof_step *unfolded = &routine->steps[routine->step_count];
    routine->step_count++;
    *unfolded = (struct proof_step){.who = step->who,
            .in = in,
            .act = act,
            .door = SITE_NONE,
            .sign_door = SITE_NONE,
            .zone = SITE_NONE,
            .keypad = SITE_NONE,
            .when_area = SITE_NONE,
            .if_area = SITE_NONE,
            .after = SITE_NONE,
            .written = written};
    *ret_step = unfolded;
    return outcome_good();
}

static enum site_use use_of(const struct site *site, const struct site_step *step) {
    const bool fob = step->act == SITE_ACT_UNSET && site->people[step->who].unsets_by_fob;
    return fob ? SITE_USE_FOB : step->use;
}

/* What the person's own habit takes for an act. Keying: notice and code (common practice, rules dossier 6.2). */
static struct span habit(const struct site *site, const struct site_step *step) {
    const struct site_person *person = &site->people[step->who];
    switch (step->act) {
    case SITE_ACT_UNSET:
        return use_of(site, step) == SITE_USE_FOB ? person->fobs
                                                  : span_sum(person->notices, person->codes);
    case SITE_ACT_SET:
        return step->use == SITE_USE_FOB ? person->fobs : person->codes;
    case SITE_ACT_MISTYPE:
        return span_sum(person->notices, person->codes);
    case SITE_ACT_BYPASS:
    case SITE_ACT_POSTPONE:
        return person->codes;
    case SITE_ACT_OPEN:
    case SITE_ACT_CLOSE:
    case SITE_ACT_PASS:
    case SITE_ACT_PRESS:
        return hand_s;
    case SITE_ACT_WAIT:
    case SITE_ACT_COME:
    case SITE_ACT_GO:
    case SITE_ACT_WALK:
    case SITE_ACT_TAMPER:
    case SITE_ACT_MAINS_LOST:
    case SITE_ACT_MAINS_BACK:
    case SITE_ACT_JAMMED:
    case SITE_ACT_JAM_OVER:
    case SITE_ACT_PATH_LOST:
    case SITE_ACT_PATH_BACK:
    case SITE_ACT_COUNT:
        break;
    }
    return at_once_s;
}

static outcome add_door(struct unfolding *unfolding, size_t written, struct span open_in,
        struct span close_in, int door, struct problem *ret_problem) {
    struct proof_step *step = NULL;
    TRY(add(unfolding, written, open_in, SITE_ACT_OPEN, &step, ret_problem));
    step->door = door;
    TRY(add(unfolding, written, close_in, SITE_ACT_CLOSE, &step, ret_problem));
    step->door = door;
    return outcome_good();
}

static outcome add_leg(struct unfolding *unfolding, size_t written, const struct site_leg *leg,
        struct span in, struct problem *ret_problem) {
    struct proof_step *step = NULL;
    if (leg->door != SITE_NONE) {
        return add_door(unfolding, written, in, close_s, leg->door, ret_problem);
    }
    TRY(add(unfolding, written, in, leg->zone == SITE_NONE ? SITE_ACT_WAIT : SITE_ACT_PASS, &step,
            ret_problem));
    step->zone = leg->zone;
    return outcome_good();
}

static outcome come(
        struct unfolding *unfolding, size_t written, struct span in, struct problem *ret_problem) {
    const struct site_way *way = &unfolding->site->ways[unfolding->source->steps[written].way];
    struct proof_step *step = NULL;
    if (way->door != SITE_NONE) {
        TRY(add_door(unfolding, written, in, way->closes, way->door, ret_problem));
        in = at_once_s;
    }
    for (size_t i = 0; i < way->leg_count; i++) {
        const struct span leg_in = span_sum(in, way->legs[i].in);
        TRY(add_leg(unfolding, written, &way->legs[i], leg_in, ret_problem));
        in = at_once_s;
    }
    return add(unfolding, written, span_sum(in, way->last), SITE_ACT_WAIT, &step, ret_problem);
}

static outcome go(
        struct unfolding *unfolding, size_t written, struct span in, struct problem *ret_problem) {
    const struct site_way *way = &unfolding->site->ways[unfolding->source->steps[written].way];
    struct span before = span_sum(in, way->last);
    for (size_t i = way->leg_count; i-- > 0;) {
        TRY(add_leg(unfolding, written, &way->legs[i], before, ret_problem));
        before = way->legs[i].in;
    }
    if (way->door != SITE_NONE) {
        return add_door(unfolding, written, before, way->closes, way->door, ret_problem);
    }
    struct proof_step *step = NULL;
    return add(unfolding, written, before, SITE_ACT_WAIT, &step, ret_problem);
}

/* From where the person was; a walk sets out after `in`, anybody else gets to the act and takes that long for it.
 * Leaves what the act itself comes after. */
static outcome walk(
        struct unfolding *unfolding, size_t written, struct span *in, struct problem *ret_problem) {
    const struct site_step *step = &unfolding->source->steps[written];
    const bool sets_out = step->act == SITE_ACT_WALK;
    struct span before = sets_out ? *in : at_once_s;
    for (size_t i = 0; i < step->route->leg_count; i++) {
        const struct site_leg *leg = &step->route->legs[i];
        TRY(add_leg(unfolding, written, leg, span_sum(before, leg->in), ret_problem));
        before = at_once_s;
    }
    before = span_sum(before, step->route->last);
    *in = sets_out ? before : span_sum(before, *in);
    return outcome_good();
}

static outcome unfold_act(
        struct unfolding *unfolding, size_t written, struct span in, struct problem *ret_problem) {
    const struct site_step *step = &unfolding->source->steps[written];
    struct proof_step *unfolded = NULL;
    if (step->act == SITE_ACT_COME && step->route != NULL) {
        in = span_sum(in, step->route->last); /* round the house */
    }
    if (step->act == SITE_ACT_COME || step->act == SITE_ACT_GO) {
        return step->act == SITE_ACT_COME ? come(unfolding, written, in, ret_problem)
                                          : go(unfolding, written, in, ret_problem);
    }
    if (step->route != NULL) {
        TRY(walk(unfolding, written, &in, ret_problem));
    }
    TRY(add(unfolding, written, in, step->act, &unfolded, ret_problem));
    unfolded->door = step->door;
    unfolded->zone = step->zone;
    unfolded->keypad = step->keypad;
    unfolded->areas = step->areas;
    unfolded->mode = step->mode;
    unfolded->use = use_of(unfolding->site, step);
    unfolded->message = step->message;
    return outcome_good();
}

static bool is_of(int index, size_t count) {
    return index >= 0 && (size_t)index < count;
}

static bool none_or_of(int index, size_t count) {
    return index == SITE_NONE || is_of(index, count);
}

static bool needs_a_zone(const struct site_step *step) {
    return step->act == SITE_ACT_PASS || step->act == SITE_ACT_PRESS ||
            step->act == SITE_ACT_BYPASS || step->act == SITE_ACT_TAMPER;
}

static bool needs_a_door(const struct site_step *step) {
    return step->act == SITE_ACT_OPEN || step->act == SITE_ACT_CLOSE ||
            step->when == SITE_SIGN_DOOR_OPEN || step->if_sign == SITE_SIGN_DOOR_OPEN;
}

static const char *what_lacks(const struct unfolding *unfolding, const struct site_step *step) {
    const struct site *site = unfolding->site;
    const bool walks = step->act == SITE_ACT_COME || step->act == SITE_ACT_GO;
    return !is_of(step->who, site->person_count)            ? "a person"
            : !none_or_of(step->door, site->door_count)     ? "its door"
            : !none_or_of(step->zone, site->zone_count)     ? "its zone"
            : !none_or_of(step->keypad, site->keypad_count) ? "its keypad"
            : needs_a_door(step) && step->door < 0          ? "a door"
            : needs_a_zone(step) && step->zone < 0          ? "a zone"
            : walks && !is_of(step->way, site->way_count)   ? "its way"
            : !none_or_of(step->when_area, site->area_count) ||
                    !none_or_of(step->if_area, site->area_count)
            ? "the area it looks at"
            : step->act == SITE_ACT_SET && !is_of(step->mode, site->settings.mode_count)
            ? "its mode"
            : !none_or_of(step->after_step, unfolding->source->step_count)
            ? "the step it comes after"
            : NULL;
}

static outcome check_step(
        const struct unfolding *unfolding, size_t written, struct problem *ret_problem) {
    const char *lacks = what_lacks(unfolding, &unfolding->source->steps[written]);
    if (lacks != NULL) {
        FAIL(ret_problem, PROBLEM_MISSING, "", "routine \"%.*s\", step %zu lacks %s",
                TEXT_ARGS(unfolding->source->name), written + 1, lacks);
    }
    return outcome_good();
}

static struct span first_wait(struct unfolding *unfolding, size_t written, bool *ret_absolute) {
    const struct site_step *step = &unfolding->source->steps[written];
    const bool first = !unfolding->seen[step->who];
    unfolding->seen[step->who] = true;
    *ret_absolute = first && step->has_at;
    if (first && step->has_at) {
        int32_t from_s = step->at.low_s - unfolding->routine->begins_s;
        int32_t length_s = step->at.high_s - step->at.low_s;
        from_s += from_s < 0 ? DAY_S : 0;
        length_s += length_s < 0 ? DAY_S : 0; /* 23:50..00:10 */
        return span_of(from_s, from_s + length_s);
    }
    if (step->has_in) {
        return step->in;
    }
    const bool waits = step->when != SITE_SIGN_NONE || step->after_step != SITE_NONE;
    const bool keys = step->act == SITE_ACT_UNSET || step->act == SITE_ACT_SET ||
            step->act == SITE_ACT_MISTYPE;
    return first && !waits && !keys ? at_once_s : habit(unfolding->site, step);
}

static outcome unfold_step(
        struct unfolding *unfolding, size_t written, struct problem *ret_problem) {
    const struct site_step *step = &unfolding->source->steps[written];
    bool absolute = false;
    TRY(check_step(unfolding, written, ret_problem));
    const size_t first = unfolding->routine->step_count;
    const struct span in = first_wait(unfolding, written, &absolute);
    TRY(unfold_act(unfolding, written, in, ret_problem));
    struct proof_step *head = &unfolding->routine->steps[first];
    head->absolute = absolute;
    head->when = step->when;
    head->when_area = step->when_area;
    head->if_sign = step->if_sign;
    head->if_area = step->if_area;
    head->if_not = step->if_not;
    head->maybe = step->maybe;
    head->sign_door = step->door;
    head->group = unfolding->routine->step_count - first - 1;
    unfolding->first_of[written] = first;
    unfolding->last_of[written] = unfolding->routine->step_count - 1;
    return outcome_good();
}

/* The first clock time written, or one written later that lies less than so long before it on the same day:
 * 08:00 and then 07:30 begins at 07:30; 23:50 and then 00:10 goes on past midnight. */
enum { BEFORE_THE_FIRST_S = 6 * 3600 };

static int32_t begins(const struct site_routine *source) {
    int32_t first_s = -1;
    int32_t earliest_s = -1;
    for (size_t i = 0; i < source->step_count; i++) {
        const int32_t at_s = source->steps[i].at.low_s;
        if (!source->steps[i].has_at) {
            continue;
        }
        if (first_s < 0) {
            first_s = at_s;
            earliest_s = at_s;
        } else if (at_s < earliest_s && first_s - at_s < BEFORE_THE_FIRST_S) {
            earliest_s = at_s;
        }
    }
    return earliest_s;
}

outcome proof_unfold(const struct site *site, const struct site_routine *source,
        struct proof_routine *ret_routine, struct problem *ret_problem) {
    struct unfolding unfolding = {.site = site, .source = source, .routine = ret_routine};
    ret_routine->name = source->name;
    ret_routine->says = source->says;
    ret_routine->source = source;
    ret_routine->step_count = 0;
    ret_routine->begins_s = begins(source);
    if (source->step_count > SITE_STEP_MAX) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "routine \"%.*s\" has more than %d steps",
                TEXT_ARGS(source->name), SITE_STEP_MAX);
    }
    for (size_t i = 0; i < source->step_count; i++) {
        TRY(unfold_step(&unfolding, i, ret_problem));
    }
    for (size_t i = 0; i < source->step_count; i++) {
        if (source->steps[i].after_step != SITE_NONE) {
            ret_routine->steps[unfolding.first_of[i]].after =
                    (int)unfolding.last_of[source->steps[i].after_step];
        }
    }
    return outcome_good();
}
