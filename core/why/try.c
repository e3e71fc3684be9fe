/* Trying one hypothesis: the routine with its accident, played through the panel, with the observation looked for. */
#include "why/inside.h"

#include <string.h>

/* From where on an accident at rest may happen before what is observed: longer than any entry delay and abort window.
 * A pocket, a latch, a draught: common practice, wide on purpose. */
enum { LEAD_S = 600, LATCH_S = 1800, ANY_HOUR_S = 6 * 3600, OUTAGE_S = 12 * 3600 };

/* A hypothesis being tried. */
struct trying {
    const struct why_plan *plan;
    const struct why_hypothesis *hypothesis;
    const struct proof_options *options;
    struct pages pages;
    struct arena *arena;
    struct proof_routine *routine;
    struct proof_sought
            *room; /* for what is found; kept in the arena only if it is good for something */
    struct proof_goal goal;
    bool too_long; /* the accident does not fit into the routine's steps */
};

/* ---- putting accidents into a routine --------------------------------------------------------------------------- */

static struct proof_step *append(struct trying *trying, int who, struct span in) {
    struct proof_routine *routine = trying->routine;
    if (routine->step_count == PROOF_STEP_MAX) {
        trying->too_long = true;
        return &routine->steps[PROOF_STEP_MAX - 1];
    }
    struct proof_step *step = &routine->steps[routine->step_count];
    routine->step_count++;
    *step = (struct proof_step){.who = who,
            .in = in,
            .act = SITE_ACT_WAIT,
            .door = SITE_NONE,
            .sign_door = SITE_NONE,
            .zone = SITE_NONE,
            .keypad = SITE_NONE,
            .when_area = SITE_NONE,
            .if_area = SITE_NONE,
            .after = SITE_NONE,
            .written = SITE_STEP_MAX};
    return step;
}

/* A copy of the step at `at`, right before it; every reference to later steps moves on by one. */
static struct proof_step *insert_before(struct trying *trying, size_t at) {
    struct proof_routine *routine = trying->routine;
    if (routine->step_count == PROOF_STEP_MAX) {
        trying->too_long = true;
        return &routine->steps[at];
    }
    for (size_t i = routine->step_count; i > at; i--) {
        routine->steps[i] = routine->steps[i - 1];
    }
    routine->step_count++;
    for (size_t i = 0; i < routine->step_count; i++) {
        struct proof_step *step = &routine->steps[i];
        if (i != at && step->after != SITE_NONE && step->after >= (int)at) {
            step->after++;
        }
        if (i < at && i + step->group >= at) {
            step->group++;
        }
    }
    return &routine->steps[at];
}

/* The wrong code takes the step's place in the course; the right one follows as soon as it can be keyed again. */
static void mistype(struct trying *trying, size_t at) {
    struct proof_step *wrong = insert_before(trying, at);
    if (trying->too_long) {
        return;
    }
    struct proof_step *right = &trying->routine->steps[at + 1];
    wrong->act = SITE_ACT_MISTYPE;
    wrong->group = right->group + 1;
    const struct span again = trying->plan->site.people[right->who].codes;
    right->in = again;
    right->when = SITE_SIGN_NONE;
    right->if_sign = SITE_SIGN_NONE;
    right->maybe = false;
    right->after = SITE_NONE;
    right->absolute = false;
}

static void act_on_zone(struct trying *trying, enum site_act on_door, int who, struct span in) {
    const struct site *site = &trying->plan->site;
    const int zone = trying->hypothesis->zone;
    struct proof_step *step = append(trying, who, in);
    step->zone = zone;
    if (why_door_of(site, zone) != SITE_NONE && site_sense_is_level(why_sense(site, zone))) {
        step->act = on_door;
        step->door = why_door_of(site, zone);
    } else if (why_sense(site, zone) == SITE_MOTION) {
        step->act = SITE_ACT_PASS;
    } else if (why_sense(site, zone) == SITE_BUTTON) {
        step->act = SITE_ACT_PRESS;
    } else {
        step->mishap = PROOF_MISHAP_TRIPS;
    }
}

static int animal_of(const struct site *site) {
    for (size_t i = 0; i < site->person_count; i++) {
        if (site->people[i].animal) {
            return (int)i;
        }
    }
    return SITE_NONE;
}

static void mishap(struct trying *trying, enum proof_mishap what, struct span in) {
    struct proof_step *step = append(trying, trying->plan->somebody, in);
    step->zone = trying->hypothesis->zone;
    step->mishap = what;
}

static void outage(struct trying *trying, struct span in) {
    append(trying, trying->plan->somebody, in)->act = SITE_ACT_MAINS_LOST;
    append(trying, trying->plan->somebody, span_of(WHY_MINUTE_S, OUTAGE_S))->act =
            SITE_ACT_MAINS_BACK;
}

/* By somebody of its own, so that the other accident need not wait for it. It goes on: what comes after is another
 * story. */
static void cut(struct trying *trying, enum site_act act, struct span in) {
    append(trying, trying->plan->draught, in)->act = act;
}

static void press_fob(struct trying *trying, struct span in) {
    const int person = trying->hypothesis->person;
    struct proof_step *step = append(trying, trying->plan->somebody, in);
    step->who = person;
    step->act = SITE_ACT_SET;
    step->use = SITE_USE_FOB;
    step->areas = trying->plan->site.people[person].areas;
    step->mode = SITE_MODE_FULL;
}

static void spring_open(struct trying *trying, size_t closed) {
    struct proof_step *step = append(trying, trying->plan->draught, span_of(1, LATCH_S));
    step->act = SITE_ACT_OPEN;
    step->door = trying->routine->steps[closed].door;
    step->after = (int)closed;
}

/* ---- why there was no siren ------------------------------------------------------------------------------------- */

static int keypad_of(const struct site *site, int zone) {
    for (size_t i = 0; i < site->keypad_count; i++) {
        if ((site->keypads[i].areas >> site->zones[zone].area & 1U) != 0) {
            return (int)i;
        }
    }
    return SITE_NONE;
}

static int code_of(const struct site *site, int area) {
    for (size_t i = 0; i < site->person_count; i++) {
        if (site->people[i].has_code && (site->people[i].areas >> area & 1U) != 0) {
            return (int)i;
        }
    }
    return SITE_NONE;
}

/* Sets the zone's area, after bypassing it where that is the hypothesis. False: nobody could. */
static bool set_first(struct trying *trying, bool bypasses) {
    const struct site *site = &trying->plan->site;
    const int zone = trying->hypothesis->zone;
    const int who = code_of(site, site->zones[zone].area);
    if (who == SITE_NONE || keypad_of(site, zone) == SITE_NONE) {
        return false;
    }
    if (bypasses) {
        struct proof_step *step = append(trying, who, span_of(0, 0));
        step->act = SITE_ACT_BYPASS;
        step->zone = zone;
        step->keypad = keypad_of(site, zone);
    }
    struct proof_step *step = append(trying, who, span_of(1, 10));
    step->act = SITE_ACT_SET;
    step->keypad = keypad_of(site, zone);
    step->areas = (uint32_t)1 << site->zones[zone].area;
    step->mode =
            trying->plan->question.mode == SITE_NONE ? SITE_MODE_FULL : trying->plan->question.mode;
    return true;
}

static int32_t longest_wait_s(const struct site *site) {
    int32_t most = 0;
    for (size_t i = 0; i < site->settings.delay_count; i++) {
        const int32_t delay_s = site->settings.delays[i].seconds_s;
        most = delay_s > most ? delay_s : most;
    }
    return span_tolerant(most, site->settings.tolerance_tenths).high_s + WHY_MINUTE_S;
}

static int32_t longest_exit_s(const struct site *site) {
    int32_t most = 0;
    for (size_t i = 0; i < site->settings.mode_count; i++) {
        const int32_t exit_s = site->settings.modes[i].exit_delay_s;
        most = exit_s > most ? exit_s : most;
    }
    return 2 * span_tolerant(most, site->settings.tolerance_tenths).high_s + WHY_MINUTE_S;
}

/* Trips until the limit is spent, each time quiet again before the next. */
static void trip_often(struct trying *trying) {
    const struct site *site = &trying->plan->site;
    const int32_t quiet_s =
            span_tolerant(site->settings.siren_time_s, site->settings.tolerance_tenths).high_s +
            WHY_MINUTE_S;
    for (int32_t i = 0; i < site->settings.swinger_limit; i++) {
        mishap(trying, PROOF_MISHAP_TRIPS, span_of(quiet_s, quiet_s));
        mishap(trying, PROOF_MISHAP_RESTORES, span_of(WHY_MINUTE_S, WHY_MINUTE_S));
    }
}

/* The last step is the trip that should have brought a siren. */
static bool build_silence(struct trying *trying) {
    const struct site *site = &trying->plan->site;
    const enum why_kind kind = trying->hypothesis->kind;
    struct span in = span_of(0, LEAD_S);
    if (kind == WHY_BYPASSED || kind == WHY_FELL_BACK) {
        if (!set_first(trying, kind == WHY_BYPASSED)) {
            return false;
        }
        in = span_of(longest_exit_s(site), longest_exit_s(site));
    } else if (kind == WHY_TRIP_JAMMED) {
        append(trying, trying->plan->somebody, span_of(0, LEAD_S))->act = SITE_ACT_JAMMED;
        in = span_of(1, LEAD_S);
    } else if (kind == WHY_SWUNG_OUT) {
        trip_often(trying);
        in = span_of(LEAD_S, LEAD_S);
    }
    act_on_zone(trying, SITE_ACT_OPEN, trying->plan->somebody, in);
    struct proof_step *trip = &trying->routine->steps[trying->routine->step_count - 1];
    trip->message = kind == WHY_TRIP_LOST ? SITE_MESSAGE_LOST : SITE_MESSAGE_ARRIVES;
    trying->goal.stays_away = true;
    if (kind == WHY_FELL_BACK || kind == WHY_NOT_SET) {
        trying->goal.counts = NULL; /* it only seemed to stand as was said */
    }
    trying->goal.after_step = trying->routine->step_count - 1;
    trying->goal.patience_s = longest_wait_s(site);
    return !trying->too_long;
}

/* ---- building the routine --------------------------------------------------------------------------------------- */

/* False: the hypothesis cannot be built here. in: when an accident by itself may happen. */
static bool build_accident(struct trying *trying, struct span in) {
    const struct why_hypothesis *hypothesis = trying->hypothesis;
    struct proof_step *step = &trying->routine->steps[hypothesis->step];
    switch (hypothesis->kind) {
    case WHY_ROUTINE:
        break;
    case WHY_MISTYPE:
        mistype(trying, hypothesis->step);
        break;
    case WHY_LEFT_OPEN:
        step->act = SITE_ACT_WAIT;
        break;
    case WHY_NOT_LATCHED:
        spring_open(trying, hypothesis->step);
        break;
    case WHY_MESSAGE_LOST:
        step->message = SITE_MESSAGE_LOST;
        break;
    case WHY_FOB:
        press_fob(trying, in);
        break;
    case WHY_PERSON:
        act_on_zone(trying, SITE_ACT_OPEN, trying->plan->somebody, in);
        break;
    case WHY_PET:
        act_on_zone(trying, SITE_ACT_OPEN, animal_of(&trying->plan->site), in);
        break;
    case WHY_REAL:
    case WHY_DEVICE:
        mishap(trying, PROOF_MISHAP_TRIPS, in);
        break;
    case WHY_TAMPER:
        mishap(trying, PROOF_MISHAP_NONE, in);
        trying->routine->steps[trying->routine->step_count - 1].act = SITE_ACT_TAMPER;
        break;
    case WHY_UNHEARD:
        mishap(trying, PROOF_MISHAP_SILENT, in);
        break;
    case WHY_BATTERY:
        mishap(trying, PROOF_MISHAP_BATTERY, in);
        break;
    case WHY_MAINS:
        outage(trying, in);
        break;
    case WHY_PATH:
        cut(trying, SITE_ACT_PATH_LOST, in);
        break;
    case WHY_JAM:
        cut(trying, SITE_ACT_JAMMED, in);
        break;
    case WHY_KEYED:
    case WHY_NOT_SET:
    case WHY_FELL_BACK:
    case WHY_BYPASSED:
    case WHY_SWUNG_OUT:
    case WHY_TRIP_LOST:
    case WHY_TRIP_JAMMED:
        return build_silence(trying);
    case WHY_KIND_COUNT:
        return false;
    }
    return !trying->too_long;
}

/* Two accidents: a line that goes down first, then the later step, as an accident may put steps in before what follows
 * it. */
static bool build(struct trying *trying, struct span in) {
    const struct why_hypothesis *hypothesis = trying->hypothesis;
    if (hypothesis->other == WHY_ALONE) {
        return build_accident(trying, in);
    }
    const struct why_hypothesis *other = &trying->plan->list[hypothesis->other];
    const bool other_first = other->kind == WHY_PATH || other->step > hypothesis->step;
    trying->hypothesis = other_first ? other : hypothesis;
    bool good = build_accident(trying, in);
    trying->hypothesis = other_first ? hypothesis : other;
    good = good && build_accident(trying, in);
    trying->hypothesis = hypothesis;
    return good;
}

static bool is_of_silence(enum why_kind kind) {
    return kind >= WHY_KEYED;
}

/* Whether the hypothesis says anything about areas that stand like this. */
static bool fits_rest(const struct why_plan *plan, const struct why_hypothesis *hypothesis,
        const struct site_routine *rest) {
    if (!is_of_silence(hypothesis->kind)) {
        return true;
    }
    const struct site_start *start = &rest->starts[plan->site.zones[hypothesis->zone].area];
    const bool begins_unset = hypothesis->kind == WHY_NOT_SET ||
            hypothesis->kind == WHY_FELL_BACK || hypothesis->kind == WHY_BYPASSED;
    if (start->set == begins_unset) {
        return false;
    }
    const bool named = plan->question.stand == WHY_STANDS_SET && plan->question.mode != SITE_NONE;
    return !start->set || !named || start->mode == plan->question.mode;
}

static bool acts_in(const struct proof_routine *routine, int person) {
    for (size_t i = 0; i < routine->step_count; i++) {
        if (routine->steps[i].who == person) {
            return true;
        }
    }
    return false;
}

/* ---- the hour --------------------------------------------------------------------------------------------------- */

static int32_t circular_off_s(int32_t at_s, struct span clock) {
    const int32_t since_s = ((at_s - clock.low_s) % WHY_DAY_S + WHY_DAY_S) % WHY_DAY_S;
    const int32_t length_s = clock.high_s - clock.low_s;
    if (since_s <= length_s) {
        return 0;
    }
    const int32_t after_s = since_s - length_s;
    const int32_t before_s = WHY_DAY_S - since_s;
    return after_s < before_s ? after_s : before_s;
}

/* From the observed time to the nearest instant at which it can happen; -1: not known. */
static int32_t hours_off_s(const struct why_plan *plan, const struct proof_sought *sought) {
    const int32_t begins_s = sought->answer.routine.begins_s;
    int32_t least_s = -1;
    for (size_t i = 0; sought->has_when && i < sought->when.count; i++) {
        const struct span when = sought->when.interval[i];
        const int32_t ends[] = {when.low_s, when.high_s};
        for (size_t k = 0; k < 2; k++) {
            const int32_t off_s = circular_off_s(begins_s + ends[k], plan->question.clock);
            least_s = least_s < 0 || off_s < least_s ? off_s : least_s;
        }
    }
    return least_s;
}

static int64_t width_s(const struct proof_sought *sought) {
    int64_t width = 0;
    for (size_t i = 0; sought->has_when && i < sought->when.count; i++) {
        width += (int64_t)sought->when.interval[i].high_s - sought->when.interval[i].low_s + 1;
    }
    return width;
}

static void judge(const struct trying *trying, const struct proof_sought *sought, bool has_window,
        struct why_answer *ret_answer) {
    const struct why_plan *plan = trying->plan;
    const bool other = has_window && !sought->in_window;
    ret_answer->found = sought->found;
    ret_answer->sought = sought;
    ret_answer->hour = other                                                  ? WHY_OTHER_HOUR
            : plan->question.has_clock && sought->answer.routine.begins_s < 0 ? WHY_NO_HOUR
                                                                              : WHY_IN_TIME;
    const size_t routine = trying->hypothesis->routine;
    const bool usual = routine != WHY_AT_REST && plan->routines[routine].usual;
    ret_answer->accidents = why_accidents(plan, trying->hypothesis) + (int)usual + (int)other;
    ret_answer->hours_off_s = other ? hours_off_s(plan, sought) : 0;
    ret_answer->width_s = width_s(sought);
}

/* Looks in one routine, as built, within one window or at any time. */
static outcome look(struct trying *trying, const struct span *window, struct why_answer *ret_answer,
        struct problem *ret_problem) {
    void *kept = NULL;
    TRY(proof_seek(&trying->plan->site, trying->routine, &trying->goal, window, trying->options,
            trying->pages, trying->arena, trying->room, ret_problem));
    ret_answer->tried = true;
    ret_answer->settled = ret_answer->settled && trying->room->settled;
    if (trying->room->found && (!ret_answer->found || trying->room->in_window)) {
        TRY(arena_get(trying->arena, 1, sizeof(struct proof_sought), &kept, ret_problem));
        memcpy(kept, trying->room, sizeof(struct proof_sought));
        judge(trying, kept, window != NULL, ret_answer);
    }
    return outcome_good();
}

/* A routine that begins at 04:10 and an observation at 04:00..04:20: looked for from its beginning to 04:20, and then
 * once more a day later. */
static outcome look_at_hours(
        struct trying *trying, struct why_answer *ret_answer, struct problem *ret_problem) {
    const struct why_question *question = &trying->plan->question;
    if (!question->has_clock || trying->routine->begins_s < 0) {
        return look(trying, NULL, ret_answer, ret_problem);
    }
    const int32_t length_s = question->clock.high_s - question->clock.low_s;
    const int32_t from_s =
            (question->clock.low_s - trying->routine->begins_s + 2 * WHY_DAY_S) % WHY_DAY_S;
    if (from_s + length_s >= WHY_DAY_S) {
        const struct span early = span_of(0, from_s + length_s - WHY_DAY_S);
        TRY(look(trying, &early, ret_answer, ret_problem));
    }
    if (ret_answer->found && ret_answer->hour == WHY_IN_TIME) {
        return outcome_good();
    }
    const struct span window = span_of(from_s, from_s + length_s);
    return look(trying, &window, ret_answer, ret_problem);
}

/* ---- all of it -------------------------------------------------------------------------------------------------- */

static outcome try_at_rest(
        struct trying *trying, struct why_answer *ret_answer, struct problem *ret_problem) {
    const struct why_plan *plan = trying->plan;
    const struct why_question *question = &plan->question;
    const int32_t mains_s = span_tolerant(plan->site.settings.mains_delay_s, 1).high_s;
    const int32_t lead_s = LEAD_S + (trying->hypothesis->kind == WHY_MAINS ? mains_s : 0);
    const int32_t length_s =
            question->has_clock ? question->clock.high_s - question->clock.low_s : 0;
    const struct span window = span_of(lead_s, lead_s + length_s);
    const bool in_time = question->has_clock && !is_of_silence(trying->hypothesis->kind);
    for (size_t i = 0; i < plan->rest_count && !ret_answer->found; i++) {
        const struct site_routine *rest = &plan->rests[i];
        if (!fits_rest(plan, trying->hypothesis, rest)) {
            continue;
        }
        *trying->routine = (struct proof_routine){.name = rest->name,
                .source = rest,
                .begins_s =
                        in_time ? (question->clock.low_s - lead_s + WHY_DAY_S) % WHY_DAY_S : -1};
        trying->goal = why_goal(plan);
        if (build(trying, span_of(0, lead_s + length_s))) {
            TRY(look(trying, in_time ? &window : NULL, ret_answer, ret_problem));
        }
        if (ret_answer->found && ret_answer->hour == WHY_OTHER_HOUR) {
            ret_answer->found =
                    false; /* the accident can be at any hour, and yet not be seen then */
        }
    }
    if (ret_answer->found && is_of_silence(trying->hypothesis->kind)) {
        ret_answer->hour = WHY_IN_TIME;
    }
    return outcome_good();
}

static outcome try_in_routine(
        struct trying *trying, struct why_answer *ret_answer, struct problem *ret_problem) {
    const struct why_plan *plan = trying->plan;
    const struct why_question *question = &plan->question;
    TRY(proof_unfold(&plan->site, plan->routines[trying->hypothesis->routine].source,
            trying->routine, ret_problem));
    if (question->person != SITE_NONE && !acts_in(trying->routine, question->person)) {
        ret_answer->tried = true;
        return outcome_good();
    }
    int32_t until_s = ANY_HOUR_S;
    if (question->has_clock && trying->routine->begins_s >= 0) {
        until_s = (question->clock.high_s - trying->routine->begins_s + 2 * WHY_DAY_S) % WHY_DAY_S;
    }
    trying->goal = why_goal(plan);
    if (!build(trying, span_of(0, until_s))) {
        ret_answer->settled = !trying->too_long;
        return outcome_good();
    }
    return look_at_hours(trying, ret_answer, ret_problem);
}

static bool is_explained_at_rest(
        const struct why_plan *plan, const struct why_answer *answers, size_t which) {
    const struct why_hypothesis *hypothesis = &plan->list[which];
    for (size_t i = 0; which >= plan->second && which < plan->third && i < plan->second; i++) {
        if (plan->list[i].routine == WHY_AT_REST && plan->list[i].kind == hypothesis->kind &&
                plan->list[i].zone == hypothesis->zone && answers[i].found) {
            return true;
        }
    }
    return false;
}

/* Two accidents at once are looked for only where nothing less explains it at that hour; but a path that is cut before
 * a break-in is looked for always: it may be meant. */
static bool is_explained_by_less(
        const struct why_plan *plan, const struct why_answer *answers, size_t which) {
    if (plan->list[which].routine == WHY_AT_REST) {
        return false;
    }
    for (size_t i = 0; which >= plan->third && i < plan->third; i++) {
        if (answers[i].found && answers[i].hour != WHY_OTHER_HOUR) {
            return true;
        }
    }
    return false;
}

outcome why_try(const struct why_plan *plan, size_t which, const struct why_answer *answers,
        const struct proof_options *options, struct pages pages, struct arena *arena,
        struct why_answer *ret_answer, struct problem *ret_problem) {
    struct trying trying = {.plan = plan,
            .hypothesis = &plan->list[which],
            .options = options,
            .pages = pages,
            .arena = arena};
    *ret_answer = (struct why_answer){.settled = true};
    const bool stops = options != NULL && options->keep_going != NULL &&
            !options->keep_going(options->keep_going_context, 0, 0);
    if (stops || is_explained_at_rest(plan, answers, which) ||
            is_explained_by_less(plan, answers, which)) {
        return outcome_good();
    }
    struct arena scratch;
    arena_init(&scratch, pages, 0);
    trying.routine = ARENA_NEW(&scratch, struct proof_routine);
    trying.room = ARENA_NEW(&scratch, struct proof_sought);
    outcome done = outcome_good();
    if (trying.routine == NULL || trying.room == NULL) {
        done = problem_set(ret_problem, PROBLEM_MEMORY, "", __FILE__, __LINE__,
                "there is no memory left to try an explanation");
    } else {
        done = trying.hypothesis->routine == WHY_AT_REST
                ? try_at_rest(&trying, ret_answer, ret_problem)
                : try_in_routine(&trying, ret_answer, ret_problem);
    }
    arena_finish(&scratch);
    return done;
}
