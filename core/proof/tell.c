/* Stories: a course of events played through the world, with a tape running. */
#include "proof/tell.h"

#include <string.h>

enum { TAPE_LINES_FIRST = 500, TAPE_LINES_MAX = 4000, RUNNING_MAX = 64, EVENTS_MAX = 2000 };

static outcome make_tape(struct arena *arena, size_t capacity, struct world_tape *ret_tape,
        struct problem *ret_problem) {
    void *lines = NULL;
    TRY(arena_get(arena, capacity, sizeof(struct proof_line), &lines, ret_problem));
    *ret_tape = (struct world_tape){.lines = lines, .capacity = capacity};
    return outcome_good();
}

/* The lines that were used, in their own memory. */
static outcome give_lines(const struct world_tape *tape, struct arena *arena,
        const struct proof_line **ret_lines, size_t *ret_count, struct problem *ret_problem) {
    void *lines = NULL;
    TRY(arena_get(arena, tape->count, sizeof(struct proof_line), &lines, ret_problem));
    memcpy(lines, tape->lines, tape->count * sizeof(struct proof_line));
    *ret_lines = lines;
    *ret_count = tape->count;
    return outcome_good();
}

/* Plays the events with a tape of so many lines running. */
static outcome play_course(struct world *world, const struct explore_event *events, size_t count,
        size_t capacity, struct arena *scratch, struct world_tape *ret_tape,
        struct problem *ret_problem) {
    const struct explore_machine machine = world_machine(world);
    void *memory = NULL;
    TRY(make_tape(scratch, capacity, ret_tape, ret_problem));
    TRY(arena_get(scratch, 1, sizeof(struct world_state) + sizeof(struct explore_effects), &memory,
            ret_problem));
    struct world_state *state = memory;
    struct explore_effects *effects = (struct explore_effects *)(void *)(state + 1);
    world->tape = ret_tape;
    for (size_t i = 0; i < count; i++) {
        ret_tape->now_s = events[i].at_s;
        memset(effects, 0, sizeof *effects);
        if (events[i].activity == EXPLORE_BEGIN) {
            machine.begin(world, state, effects);
        } else {
            machine.fire(world, state, events[i].activity, events[i].choice, effects);
        }
    }
    world->tape = NULL;
    return outcome_good();
}

outcome tell_course(struct world *world, const struct explore_event *events, size_t count,
        struct pages pages, struct arena *arena, const struct proof_line **ret_lines,
        size_t *ret_count, struct problem *ret_problem) {
    struct arena scratch;
    struct world_tape tape = {.overflowed = true};
    outcome done = outcome_good();
    arena_init(&scratch, pages, 0);
    for (size_t capacity = TAPE_LINES_FIRST; done.good && tape.overflowed; capacity *= 4) {
        done = play_course(world, events, count, capacity, &scratch, &tape, ret_problem);
    }
    if (done.good) {
        done = give_lines(&tape, arena, ret_lines, ret_count, ret_problem);
    }
    arena_finish(&scratch);
    return done;
}

/* ---- one course at a pace --------------------------------------------------------------------------------------- */

struct running {
    int32_t ends_s;
    explore_activity activity;
};

/* A world with whole-second deadlines. */
struct play {
    const struct world *world;
    enum proof_pace pace;
    int32_t now_s;
    size_t count;
    struct running running[RUNNING_MAX];
};

static int32_t duration(const struct play *play, const struct explore_effect *effect) {
    const struct span span = effect->span;
    if (effect->activity < PANEL_TIMER_COUNT) {
        return span.low_s +
                (span.high_s - span.low_s) / 2; /* tolerances are even: the nominal time */
    }
    switch (play->pace) {
    case PROOF_QUICK:
        return span.low_s;
    case PROOF_MIDDLING:
        return span.low_s + (span.high_s - span.low_s) / 2;
    case PROOF_SLOW:
        break;
    }
    return span.high_s;
}

static struct running *find(struct play *play, explore_activity activity) {
    for (size_t i = 0; i < play->count; i++) {
        if (play->running[i].activity == activity) {
            return &play->running[i];
        }
    }
    return NULL;
}

static void stop(struct play *play, explore_activity activity) {
    struct running *old = find(play, activity);
    if (old != NULL) {
        play->count--;
        *old = play->running[play->count];
    }
}

static bool apply(struct play *play, const struct explore_effects *effects) {
    for (size_t i = 0; i < effects->count; i++) {
        const struct explore_effect *effect = &effects->effects[i];
        struct running *old = find(play, effect->activity);
        const int32_t ends_s = play->now_s + duration(play, effect);
        switch (effect->kind) {
        case EXPLORE_STOP:
            stop(play, effect->activity);
            break;
        case EXPLORE_SHORTEN:
            if (old != NULL && old->ends_s > ends_s) {
                old->ends_s = ends_s;
            }
            break;
        case EXPLORE_START:
            if (old == NULL && play->count == RUNNING_MAX) {
                return false;
            }
            if (old == NULL) {
                old = &play->running[play->count];
                play->count++;
            }
            *old = (struct running){.ends_s = ends_s, .activity = effect->activity};
            break;
        }
    }
    return true;
}

/* People before timers, then by number. */
static bool comes_before(const struct running *a, const struct running *b) {
    if (a->ends_s != b->ends_s) {
        return a->ends_s < b->ends_s;
    }
    const bool a_timer = a->activity < PANEL_TIMER_COUNT;
    const bool b_timer = b->activity < PANEL_TIMER_COUNT;
    return a_timer != b_timer ? b_timer : a->activity < b->activity;
}

/* Whether anything runs but what keeps nothing going. */
static bool goes_on(const struct play *play, const struct explore_machine *machine) {
    for (size_t i = 0; i < play->count; i++) {
        if (!machine->is_background(machine->context, play->running[i].activity)) {
            return true;
        }
    }
    return false;
}

static bool next_due(
        struct play *play, const struct explore_machine *machine, struct running *ret_due) {
    if (!goes_on(play, machine)) {
        return false;
    }
    const struct running *first = &play->running[0];
    for (size_t i = 1; i < play->count; i++) {
        if (comes_before(&play->running[i], first)) {
            first = &play->running[i];
        }
    }
    *ret_due = *first;
    stop(play, ret_due->activity);
    return true;
}

static outcome play_on(struct play *play, struct world_tape *tape, struct world_state *state,
        struct explore_effects *effects, struct problem *ret_problem) {
    const struct explore_machine machine = world_machine(play->world);
    struct running due;
    memset(effects, 0, sizeof *effects);
    machine.begin(play->world, state, effects);
    for (size_t events = 0; effects->standing == EXPLORE_GOES_ON; events++) {
        if (effects->overflowed || !apply(play, effects) || events == EVENTS_MAX ||
                tape->overflowed) {
            FAIL(ret_problem, PROBLEM_LIMIT, "",
                    "the story of \"%.*s\" is longer than %d events; make two routines of it",
                    TEXT_ARGS(play->world->routine->name), EVENTS_MAX);
        }
        if (!next_due(play, &machine, &due)) {
            break;
        }
        play->now_s = due.ends_s;
        tape->now_s = due.ends_s;
        memset(effects, 0, sizeof *effects);
        machine.fire(play->world, state, due.activity, 0, effects);
    }
    return outcome_good();
}

outcome proof_tell(const struct site *site, const struct panel_tables *tables,
        const struct proof_routine *routine, const struct proof_options *options,
        enum proof_pace pace, struct arena *arena, const struct proof_line **ret_story,
        size_t *ret_story_count, struct problem *ret_problem) {
    struct world *world = ARENA_NEW(arena, struct world);
    struct panel_outputs *outputs = ARENA_NEW(arena, struct panel_outputs);
    struct world_state *state = ARENA_NEW(arena, struct world_state);
    struct explore_effects *effects = ARENA_NEW(arena, struct explore_effects);
    struct world_tape tape;
    if (world == NULL || outputs == NULL || state == NULL || effects == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "there is no memory left for the story");
    }
    TRY(make_tape(arena, TAPE_LINES_MAX, &tape, ret_problem));
    TRY(world_make(site, tables, routine, options, outputs, world, ret_problem));
    world->tape = &tape;
    world->options.no_calm = true; /* tell it to its end */
    struct play play = {.world = world, .pace = pace};
    const outcome done = play_on(&play, &tape, state, effects, ret_problem);
    world->tape = NULL;
    TRY(done);
    *ret_story = tape.lines;
    *ret_story_count = tape.count;
    return outcome_good();
}
