/* Proving one routine: explore, tell how it goes wrong, say when, and how near it came. */
#include "proof/probe.h"
#include "proof/settle.h"
#include "proof/tell.h"
#include "proof/waits.h"

#include <string.h>

/* What a proof needs beside its answer: the joined world and room for one step of the panel. */
struct run {
    const struct site *site;
    const struct panel_tables *tables;
    const struct proof_routine *routine;
    struct proof_options options;
    struct pages pages;
    struct arena scratch;
    struct world *world;
    struct panel_outputs *outputs;
};

static outcome run_begin(struct run *run, struct problem *ret_problem) {
    void *memory = NULL;
    arena_init(&run->scratch, run->pages, 0);
    TRY(arena_get(&run->scratch, 1, sizeof(struct world), &memory, ret_problem));
    run->world = memory;
    TRY(arena_get(&run->scratch, 1, sizeof(struct panel_outputs), &memory, ret_problem));
    run->outputs = memory;
    return outcome_good();
}

static outcome explore_once(struct run *run, const struct proof_options *options, bool probe,
        struct explore_result *ret_result, struct problem *ret_problem) {
    return settle(run->world, options, probe, run->pages, &run->scratch, ret_result, ret_problem);
}

/* ---- how it goes wrong ------------------------------------------------------------------------------------------ */

static void blame(const struct run *run, uint32_t violation, struct proof_answer *answer) {
    answer->verdict = PROOF_GOES_WRONG;
    answer->promise = world_violation_promise(violation);
    answer->culprit_zone = world_violation_zone(violation);
    answer->culprit_area = world_violation_area(violation);
    answer->culprit = world_violation_reason(violation);
    if (answer->culprit_zone >= run->site->zone_count) {
        answer->culprit_zone = PANEL_NO_ZONE;
    }
}

/* A refutation is told with clocks that are true where that suffices; else it says that it needs the tolerance. */
static outcome choose_story(struct run *run, struct explore_result *result,
        struct proof_answer *answer, struct problem *ret_problem) {
    struct proof_options exact = run->options;
    struct explore_result nominal;
    if (run->options.no_tolerance || run->site->settings.tolerance_tenths == 0) {
        return outcome_good();
    }
    exact.no_tolerance = true;
    TRY(explore_once(run, &exact, false, &nominal, ret_problem));
    if (nominal.verdict == EXPLORE_REFUTED) {
        *result = nominal;
    } else {
        answer->needs_tolerance = nominal.verdict == EXPLORE_PROVEN;
    }
    return outcome_good();
}

/* ---- when it goes wrong ----------------------------------------------------------------------------------------- */

static void subtract(const struct explore_ranges *from, const struct explore_ranges *what,
        struct explore_ranges *ret_rest) {
    *ret_rest = (struct explore_ranges){.overflowed = from->overflowed || what->overflowed};
    for (size_t i = 0; i < from->count; i++) {
        int32_t low = from->interval[i].low_s;
        const int32_t high = from->interval[i].high_s;
        for (size_t k = 0; k < what->count && low <= high; k++) {
            const struct span cut = what->interval[k];
            if (cut.high_s < low || cut.low_s > high) {
                continue;
            }
            if (cut.low_s > low && ret_rest->count < EXPLORE_RANGE_MAX) {
                ret_rest->interval[ret_rest->count++] = span_of(low, cut.low_s - 1);
            }
            low = cut.high_s + 1;
        }
        if (low <= high && ret_rest->count < EXPLORE_RANGE_MAX) {
            ret_rest->interval[ret_rest->count++] = span_of(low, high);
        }
    }
}

/* Whether no run ends well: a probe without marks looks at every run until a promise is broken. */
static outcome find_always(
        struct run *run, struct proof_answer *answer, struct problem *ret_problem) {
    struct explore_result result;
    TRY(explore_once(run, &run->options, true, &result, ret_problem));
    answer->always = result.reason == EXPLORE_ENDED && !result.good_ends;
    return outcome_good();
}

static outcome find_ranges(
        struct run *run, struct proof_answer *answer, struct problem *ret_problem) {
    struct explore_result result;
    struct world_probe probe = {0};
    if (answer->always || !probe_choose(run->world, answer, &probe)) {
        return outcome_good();
    }
    answer->probed_timer = probe.timer;
    answer->probed_start = probe.start;
    answer->probed_from = probe.from;
    answer->probed_step = probe.step;
    run->world->probe_marks = true;
    run->world->probed = probe;
    const outcome done = explore_once(run, &run->options, true, &result, ret_problem);
    run->world->probe_marks = false;
    TRY(done);
    /* nothing is claimed that was not explored to the end */
    if (result.reason == EXPLORE_ENDED && result.bad.count > 0 && !result.bad.overflowed &&
            !result.good.overflowed) {
        answer->has_range = true;
        answer->can = result.bad;
        subtract(&result.bad, &result.good, &answer->always_when);
    }
    return outcome_good();
}

/* What is said of every run asks for more than the search that met a bound. */
static outcome refuted(struct run *run, struct explore_result *result, struct arena *arena,
        struct proof_answer *answer, struct problem *ret_problem) {
    const bool bounded = result->reason != EXPLORE_ENDED;
    TRY(choose_story(run, result, answer, ret_problem));
    blame(run, result->violation, answer);
    run->world->options = run->options;
    TRY(tell_course(run->world, result->story, result->story_count, run->pages, arena,
            &answer->story, &answer->story_count, ret_problem));
    if (!run->options.no_range && !bounded) {
        TRY(find_always(run, answer, ret_problem));
        TRY(find_ranges(run, answer, ret_problem));
    }
    return outcome_good();
}

/* ---- how near it came ------------------------------------------------------------------------------------------- */

static const enum panel_timer_kind margin_kinds[] = {PANEL_TIMER_ENTRY, PANEL_TIMER_EXIT,
        PANEL_TIMER_AUTO_WARN, PANEL_TIMER_HOLD, PANEL_TIMER_ABORT, PANEL_TIMER_HOLD_BACK};

/* The longest that a timer of the kind can run: shortened by so much it ends at once. */
static int32_t longest(const struct run *run, enum panel_timer_kind kind) {
    const struct site_settings *settings = &run->site->settings;
    const int scale = run->options.scale > 1 ? run->options.scale : 1;
    int32_t most = 0;
    if (kind == PANEL_TIMER_ENTRY) {
        for (size_t i = 0; i < settings->delay_count; i++) {
            most = settings->delays[i].seconds_s > most ? settings->delays[i].seconds_s : most;
        }
    } else if (kind == PANEL_TIMER_EXIT) {
        for (size_t i = 0; i < settings->mode_count; i++) {
            most = settings->modes[i].exit_delay_s > most ? settings->modes[i].exit_delay_s : most;
        }
    } else if (kind == PANEL_TIMER_ABORT) {
        /* Nobody races against it who does not announce a siren, unless the siren waits. */
        const uint32_t expects = run->routine->source->expects;
        const bool races = (expects & SITE_EXPECT_SIREN) != 0 || settings->siren_hold_back_s > 0 ||
                ((expects & SITE_EXPECT_HOLD_UP) != 0 && !settings->silent_hold_up);
        most = races ? settings->abort_window_s : 0;
    } else if (kind == PANEL_TIMER_HOLD_BACK) {
        most = settings->siren_hold_back_s;
    } else if (kind == PANEL_TIMER_AUTO_WARN) {
        most = settings->auto_set_at_s < 0 ? 0 : settings->auto_warn_s;
    } else {
        for (size_t i = 0; i < run->site->zone_count; i++) {
            most = run->site->zones[i].hold_s > most ? run->site->zones[i].hold_s : most;
        }
    }
    return span_tolerant(most * scale, settings->tolerance_tenths).high_s;
}

static outcome holds_shifted(struct run *run, enum panel_timer_kind kind, int32_t shift_s,
        bool *ret_holds, struct explore_result *ret_result, struct problem *ret_problem) {
    struct proof_options shifted = run->options;
    shifted.shift_s[kind] += shift_s;
    TRY(explore_once(run, &shifted, false, ret_result, ret_problem));
    *ret_holds = ret_result->verdict == EXPLORE_PROVEN;
    return outcome_good();
}

/* Whether every shortening by at most so much holds, even one that differs from start to start. */
static outcome holds_widened(struct run *run, enum panel_timer_kind kind, int32_t most_s,
        bool *ret_holds, struct explore_result *ret_result, struct problem *ret_problem) {
    struct proof_options widened = run->options;
    widened.shift_most_s[kind] = most_s;
    TRY(explore_once(run, &widened, false, ret_result, ret_problem));
    *ret_holds = ret_result->verdict == EXPLORE_PROVEN;
    return outcome_good();
}

/* Least m with: m fails, every less holds. A longer shortening that fails says nothing about a shorter one, nor the
 * other way round (an exit time of 0 s may go well where 5 s do not), so halving must not look at single ones. It looks
 * at all of them up to some length at once, which only gets worse; the first single one beyond that fails is the
 * margin. */
static outcome margin_of(struct run *run, enum panel_timer_kind kind, int32_t *ret_margin_s,
        bool *ret_any, struct problem *ret_problem) {
    struct explore_result result;
    const int32_t most = longest(run, kind);
    int32_t holds_at = 0;
    int32_t fails_at = most;
    bool holds = false;
    *ret_any = false;
    if (most <= 0) {
        return outcome_good();
    }
    TRY(holds_widened(run, kind, most, &holds, &result, ret_problem));
    if (holds || result.verdict == EXPLORE_UNDECIDED) {
        return outcome_good();
    }
    while (fails_at - holds_at > 1) {
        const int32_t middle = holds_at + (fails_at - holds_at) / 2;
        TRY(holds_widened(run, kind, middle, &holds, &result, ret_problem));
        if (result.verdict == EXPLORE_UNDECIDED) {
            return outcome_good();
        }
        holds_at = holds ? middle : holds_at;
        fails_at = holds ? fails_at : middle;
    }
    for (int32_t shift = fails_at; shift <= most; shift++) {
        TRY(holds_shifted(run, kind, shift, &holds, &result, ret_problem));
        if (result.verdict == EXPLORE_REFUTED) {
            *ret_margin_s = shift;
            *ret_any = true;
        }
        if (!holds) {
            break;
        }
    }
    return outcome_good();
}

/* The start that the course hung on: of the timer of the kind that ended last in it, or was started last where none
 * ended. */
static const struct panel_output *tight_start(
        const struct proof_line *lines, size_t count, enum panel_timer_kind kind) {
    panel_timer ended = PANEL_TIMER_COUNT;
    for (size_t i = count; i-- > 0;) {
        const struct panel_output *output = &lines[i].output;
        if (lines[i].kind == PROOF_LINE_TIMER && ended == PANEL_TIMER_COUNT &&
                panel_timer_kind_of(lines[i].timer) == kind) {
            ended = lines[i].timer;
        }
        const bool starts = lines[i].kind == PROOF_LINE_OUTPUT &&
                (output->kind == PANEL_OUT_START || output->kind == PANEL_OUT_SHORTEN);
        if (starts &&
                (ended == PANEL_TIMER_COUNT ? panel_timer_kind_of(output->timer) == kind
                                            : output->timer == ended)) {
            return output;
        }
    }
    return NULL;
}

/* Which timer it was that the tightest failing course hung on, and its earliest end unshortened. */
static outcome name_margin(struct run *run, enum panel_timer_kind kind, struct proof_answer *answer,
        struct problem *ret_problem) {
    struct explore_result result;
    const struct proof_line *lines = NULL;
    size_t count = 0;
    bool holds = false;
    TRY(holds_shifted(run, kind, answer->margin_s, &holds, &result, ret_problem));
    if (result.verdict != EXPLORE_REFUTED) {
        return outcome_good();
    }
    TRY(tell_course(run->world, result.story, result.story_count, run->pages, &run->scratch, &lines,
            &count, ret_problem));
    const struct panel_output *start = tight_start(lines, count, kind);
    if (start != NULL) {
        const int32_t tenths = run->options.no_tolerance ? 0 : run->site->settings.tolerance_tenths;
        answer->has_margin = true;
        answer->margin_timer = start->timer;
        answer->margin_deadline_s =
                start->exact ? start->seconds_s : span_tolerant(start->seconds_s, tenths).low_s;
    }
    return outcome_good();
}

static outcome find_margin(
        struct run *run, struct proof_answer *answer, struct problem *ret_problem) {
    bool found = false;
    enum panel_timer_kind tightest = PANEL_TIMER_ENTRY;
    for (size_t i = 0; i < sizeof margin_kinds / sizeof *margin_kinds; i++) {
        int32_t margin_s = 0;
        bool any = false;
        TRY(margin_of(run, margin_kinds[i], &margin_s, &any, ret_problem));
        if (any && (!found || margin_s < answer->margin_s)) {
            found = true;
            answer->margin_s = margin_s;
            tightest = margin_kinds[i];
        }
    }
    return found ? name_margin(run, tightest, answer, ret_problem) : outcome_good();
}

/* ---- all of it -------------------------------------------------------------------------------------------------- */

static outcome prove(struct run *run, struct arena *arena, struct proof_answer *answer,
        struct problem *ret_problem) {
    struct explore_result result;
    TRY(run_begin(run, ret_problem));
    TRY(world_make(run->site, run->tables, run->routine, &run->options, run->outputs, run->world,
            ret_problem));
    TRY(explore_once(run, &run->options, false, &result, ret_problem));
    answer->classes = result.classes_expanded;
    answer->reason = result.reason;
    switch (result.verdict) {
    case EXPLORE_PROVEN:
        answer->verdict = PROOF_GOES_WELL;
        if (run->options.no_margin) {
            return outcome_good();
        }
        TRY(waits_find(run->world, &run->options, run->pages, &run->scratch, answer, ret_problem));
        return find_margin(run, answer, ret_problem);
    case EXPLORE_REFUTED:
        return refuted(run, &result, arena, answer, ret_problem);
    case EXPLORE_UNDECIDED:
        answer->verdict = PROOF_NOT_SETTLED;
        break;
    }
    return outcome_good();
}

outcome proof_run(const struct site *site, const struct panel_tables *tables,
        const struct proof_routine *routine, const struct proof_options *options,
        struct pages pages, struct arena *arena, struct proof_answer *ret_answer,
        struct problem *ret_problem) {
    struct run run = {.site = site, .tables = tables, .routine = routine, .pages = pages};
    struct proof_answer *answer = ARENA_NEW(arena, struct proof_answer);
    if (answer == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "there is no memory left for an answer");
    }
    if (options != NULL) {
        run.options = *options;
    }
    answer->routine = *routine;
    answer->culprit_zone = PANEL_NO_ZONE;
    const outcome done = prove(&run, arena, answer, ret_problem);
    arena_finish(&run.scratch);
    TRY(done);
    *ret_answer = *answer;
    return outcome_good();
}
