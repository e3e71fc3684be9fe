#include "proof/guide.h"

#include <string.h>

/* ---- when each step comes ---------------------------------------------------------------------------------------- */

/* An act of the course. Steps that were joined come within the wait that began with `event`, one after another. */
struct guide_act {
    int64_t at_s;
    size_t event;
    size_t place; /* in that wait, from 1; 0: the event is the act itself */
    uint8_t step;
};

struct guide {
    struct world *world;
    struct world_joins joins;
    struct world_state state;
    struct world_state before;
    struct explore_effects effects;
    struct guide_act acts[PROOF_STEP_MAX];
    size_t act_count;
    struct span in[PROOF_STEP_MAX]; /* each step's time: one second, where the course tells it */
};

static bool comes_before(const struct guide_act *a, const struct guide_act *b) {
    if (a->at_s != b->at_s) {
        return a->at_s < b->at_s;
    }
    return a->event != b->event ? a->event < b->event : a->place < b->place;
}

static void add_act(struct guide *guide, struct guide_act act) {
    size_t at = guide->act_count;
    guide->act_count++;
    while (at > 0 && comes_before(&act, &guide->acts[at - 1])) {
        guide->acts[at] = guide->acts[at - 1];
        at--;
    }
    guide->acts[at] = act;
}

/* What the actor's wait drew in this event; -1: none began. */
static int32_t drawn(const struct guide *guide, const struct explore_event *event, size_t actor) {
    size_t draw = 0;
    for (size_t i = 0; i < guide->effects.count; i++) {
        const struct explore_effect *effect = &guide->effects.effects[i];
        if (effect->kind == EXPLORE_START && effect->activity == WORLD_ACTOR + actor) {
            return draw < event->started_count ? event->started_s[draw] : -1;
        }
        draw += effect->kind != EXPLORE_STOP;
    }
    return -1;
}

/* The seconds of a wait over the steps that were joined in it: any way that each can take will do, as all but the last
 * change nothing. Where all that was left of a list was joined nobody drew: each takes as long as it can. */
static void share_out(
        struct guide *guide, const struct explore_event *event, size_t at, size_t actor) {
    const struct world *world = guide->world;
    const size_t from = guide->joins.from[actor];
    const size_t next = guide->state.next[actor];
    const bool ends = next == world->list_counts[actor];
    const size_t past = ends ? next : next + 1;
    int32_t spare_s = drawn(guide, event, actor);
    int64_t at_s = event->at_s;
    if (!ends && spare_s < 0) {
        return;
    }
    for (size_t k = from; k < past && !ends; k++) {
        spare_s -= world->in[world->lists[actor][k]].low_s;
    }
    for (size_t k = from; k < past; k++) {
        const uint8_t step = world->lists[actor][k];
        const struct span in = world->in[step];
        const int32_t width_s = in.high_s - in.low_s;
        const int32_t more_s = ends || spare_s > width_s ? width_s : spare_s;
        spare_s -= ends ? 0 : more_s;
        guide->in[step] = span_of(in.low_s + more_s, in.low_s + more_s);
        at_s += in.low_s + more_s;
        if (k < next) {
            add_act(guide,
                    (struct guide_act){
                            .at_s = at_s, .event = at, .place = k - from + 1, .step = step});
        }
    }
}

static void take_event(struct guide *guide, const struct explore_event *event, size_t at) {
    const struct world *world = guide->world;
    const struct explore_machine machine = world_machine(world);
    guide->before = guide->state;
    guide->joins = (struct world_joins){.actors = 0};
    memset(&guide->effects, 0, sizeof guide->effects);
    if (event->activity == EXPLORE_BEGIN) {
        machine.begin(world, &guide->state, &guide->effects);
    } else {
        machine.fire(world, &guide->state, event->activity, event->choice, &guide->effects);
    }
    for (size_t actor = 0; actor < world->actor_count; actor++) {
        if (event->activity == WORLD_ACTOR + actor) {
            add_act(guide,
                    (struct guide_act){.at_s = event->at_s,
                            .event = at,
                            .step = world->lists[actor][guide->before.next[actor]]});
        }
        if (panel_bit(guide->joins.actors, (unsigned)actor)) {
            share_out(guide, event, at, actor);
        }
    }
}

static void follow(struct guide *guide, const struct explore_result *found) {
    struct world *world = guide->world;
    memcpy(guide->in, world->in, sizeof guide->in);
    world->joins = &guide->joins;
    for (size_t i = 0; i < found->story_count; i++) {
        take_event(guide, &found->story[i], i);
    }
    world->joins = NULL;
}

/* ---- the whole world, at those instants and in that order -------------------------------------------------------- */

struct guided_state {
    struct world_state world;
    uint64_t acts; /* done, of the course */
};

_Static_assert(sizeof(struct guided_state) == sizeof(struct world_state) + sizeof(uint64_t),
        "a guided state has no padding");

static void begin(const void *context, void *bytes, struct explore_effects *ret_effects) {
    const struct guide *guide = context;
    struct guided_state *state = bytes;
    world_machine(guide->world).begin(guide->world, &state->world, ret_effects);
}

/* What comes in another order is no more looked at. */
static void fire(const void *context, void *bytes, explore_activity activity, uint32_t choice,
        struct explore_effects *ret_effects) {
    const struct guide *guide = context;
    const struct world *world = guide->world;
    struct guided_state *state = bytes;
    if (activity >= WORLD_ACTOR && activity < WORLD_ACTOR + PROOF_ACTOR_MAX) {
        const size_t actor = activity - WORLD_ACTOR;
        const uint8_t step = world->lists[actor][state->world.next[actor]];
        if (state->acts >= guide->act_count || guide->acts[state->acts].step != step) {
            ret_effects->standing = EXPLORE_GOOD_END;
            return;
        }
        state->acts++;
    }
    world_machine(world).fire(world, &state->world, activity, choice, ret_effects);
}

static bool is_background(const void *context, explore_activity activity) {
    const struct explore_machine inner = world_machine(((const struct guide *)context)->world);
    return inner.is_background(inner.context, activity);
}

static void swap_times(struct guide *guide) {
    for (size_t i = 0; i < PROOF_STEP_MAX; i++) {
        const struct span in = guide->world->in[i];
        guide->world->in[i] = guide->in[i];
        guide->in[i] = in;
    }
}

static outcome explore_along(struct guide *guide, const struct explore_options *how,
        struct pages pages, struct arena *arena, struct explore_result *ret_result,
        struct problem *ret_problem) {
    const struct explore_machine machine = {.state_size = sizeof(struct guided_state),
            .context = guide,
            .begin = begin,
            .fire = fire,
            .is_background = is_background};
    swap_times(guide);
    const outcome done = explore_run(&machine, how, pages, arena, ret_result, ret_problem);
    swap_times(guide);
    return done;
}

outcome guide_explore(struct world *world, const struct explore_result *found,
        const struct explore_options *how, struct pages pages, struct arena *arena,
        struct explore_result *ret_result, struct problem *ret_problem) {
    struct arena scratch;
    void *memory = NULL;
    const bool scaled = world->options.scale > 1;
    *ret_result = (struct explore_result){.verdict = EXPLORE_UNDECIDED};
    if (scaled || found->verdict != EXPLORE_REFUTED) {
        world->unheard.on = false;
        return outcome_good();
    }
    arena_init(&scratch, pages, 0);
    outcome done = arena_get(&scratch, 1, sizeof(struct guide), &memory, ret_problem);
    if (done.good) {
        struct guide *guide = memory;
        guide->world = world;
        follow(guide, found);
        world->unheard.on = false;
        done = explore_along(guide, how, pages, arena, ret_result, ret_problem);
    }
    world->unheard.on = false;
    arena_finish(&scratch);
    return done;
}

/* ---- the story, played ------------------------------------------------------------------------------------------- */

struct played {
    const struct world *world;
    struct world_state state;
    struct explore_effects effects;
    size_t count;
    explore_activity activity[EXPLORE_ACTIVE_MAX];
    int64_t due_s[EXPLORE_ACTIVE_MAX];
};

static size_t find(const struct played *played, explore_activity activity) {
    size_t at = 0;
    while (at < played->count && played->activity[at] != activity) {
        at++;
    }
    return at;
}

static void stop(struct played *played, size_t at) {
    if (at < played->count) {
        played->count--;
        played->activity[at] = played->activity[played->count];
        played->due_s[at] = played->due_s[played->count];
    }
}

static bool comes_due(struct played *played, const struct explore_event *event) {
    const size_t at = find(played, event->activity);
    bool due = at < played->count && played->due_s[at] == event->at_s;
    for (size_t k = 0; k < played->count; k++) {
        due = due && played->due_s[k] >= event->at_s;
    }
    stop(played, at);
    return due;
}

static bool take_draw(struct played *played, const struct explore_effect *effect, int64_t now_s,
        int32_t drawn_s) {
    const size_t at = find(played, effect->activity);
    const bool runs = at < played->count;
    if (effect->kind == EXPLORE_SHORTEN && !runs) {
        return true;
    }
    if (drawn_s < effect->span.low_s || drawn_s > effect->span.high_s || at == EXPLORE_ACTIVE_MAX) {
        return false;
    }
    const int64_t due_s = now_s + drawn_s;
    played->activity[at] = effect->activity;
    if (effect->kind == EXPLORE_START || due_s < played->due_s[at]) {
        played->due_s[at] = due_s;
    }
    played->count += !runs;
    return true;
}

static bool take_effects(struct played *played, const struct explore_event *event) {
    size_t draw = 0;
    for (size_t i = 0; i < played->effects.count; i++) {
        const struct explore_effect *effect = &played->effects.effects[i];
        if (effect->kind == EXPLORE_STOP) {
            stop(played, find(played, effect->activity));
        } else if (draw == event->started_count ||
                !take_draw(played, effect, event->at_s, event->started_s[draw])) {
            return false;
        } else {
            draw++;
        }
    }
    return draw == event->started_count && !played->effects.overflowed;
}

static bool play(struct played *played, const struct explore_result *result) {
    const struct explore_machine machine = world_machine(played->world);
    for (size_t i = 0; i < result->story_count; i++) {
        const struct explore_event *event = &result->story[i];
        const bool last = i + 1 == result->story_count;
        memset(&played->effects, 0, sizeof played->effects);
        if (i == 0) {
            machine.begin(played->world, &played->state, &played->effects);
        } else if (comes_due(played, event)) {
            machine.fire(played->world, &played->state, event->activity, event->choice,
                    &played->effects);
        } else {
            return false;
        }
        if (!take_effects(played, event) ||
                (played->effects.standing == EXPLORE_VIOLATION) != last) {
            return false;
        }
    }
    return played->effects.violation == result->violation;
}

bool guide_replays(const struct world *world, const struct explore_result *result) {
    struct played played;
    memset(&played, 0, sizeof played);
    played.world = world;
    return result->verdict == EXPLORE_REFUTED && result->story_count > 0 &&
            result->story[0].activity == EXPLORE_BEGIN && play(&played, result);
}
