#include "probed_machine.h"

#include <stdlib.h>
#include <string.h>

enum phase { NOT_STARTED, RUNNING, RUN_OUT, OTHERWISE_OVER };

/* Flat, no padding. */
struct probed_state {
    struct world_state world;
    uint8_t phase;
    uint8_t starts;
    uint8_t broken;
    uint8_t crossed;
    uint8_t acted; /* the act that ends the interval is done */
    uint8_t moved; /* what step probed_from acts on was last moved by it */
    uint8_t spare[2];
    uint64_t doors; /* open ones */
    uint64_t known; /* zones of contacts, open as the panel last heard */
};

static bool has(uint64_t set, size_t index) {
    return (set >> index & 1U) != 0;
}

static void put(uint64_t *set, size_t index, bool in) {
    const uint64_t bit = (uint64_t)1 << index;
    *set = in ? *set | bit : *set & ~bit;
}

static bool is_timer_line(
        const struct proof_line *line, enum panel_output_kind kind, panel_timer timer) {
    return line->kind == PROOF_LINE_OUTPUT && line->output.kind == kind &&
            line->output.timer == timer;
}

static bool is_done_by(const struct probed_machine *probed, size_t step) {
    for (size_t i = 0; i < probed->tape.count; i++) {
        const struct proof_line *line = &probed->lines[i];
        if (line->kind == PROOF_LINE_ACT && line->step == step && !line->left_out) {
            return true;
        }
    }
    return false;
}

/* ---- what the panel learns later than it happens ---- */

static int door_of(const struct probed_machine *probed, size_t zone) {
    const struct site *site = probed->world->site;
    return site->devices[site->zones[zone].device].door;
}

static const struct proof_step *step_of(const struct probed_machine *probed, size_t step) {
    return &probed->world->routine->steps[step];
}

static bool acts_on(const struct probed_machine *probed, size_t step, size_t zone) {
    const struct proof_step *act = step_of(probed, step);
    const bool moves = act->act == SITE_ACT_OPEN || act->act == SITE_ACT_CLOSE;
    return moves ? act->door == door_of(probed, zone)
                 : act->act == SITE_ACT_PASS && act->zone == (int)zone;
}

/* Nobody moves a door that stands so already. */
static bool moves_anything(const struct probed_machine *probed, const struct probed_state *state,
        const struct proof_line *line) {
    const struct proof_step *act = step_of(probed, line->step);
    if (line->left_out || (act->act != SITE_ACT_OPEN && act->act != SITE_ACT_CLOSE)) {
        return !line->left_out && act->act == SITE_ACT_PASS;
    }
    return has(state->doors, (size_t)act->door) != (act->act == SITE_ACT_OPEN);
}

static void take_act(const struct probed_machine *probed, struct probed_state *state,
        const struct proof_line *line) {
    const struct proof_step *act = step_of(probed, line->step);
    const size_t from = probed->answer->probed_from;
    if (!moves_anything(probed, state, line)) {
        return;
    }
    for (size_t zone = 0; zone < probed->world->site->zone_count && from != PROOF_STEP_MAX;
            zone++) {
        if (acts_on(probed, line->step, zone) && acts_on(probed, from, zone)) {
            state->moved = line->step == from;
        }
    }
    if (act->act != SITE_ACT_PASS) {
        put(&state->doors, (size_t)act->door, act->act == SITE_ACT_OPEN);
    }
}

/* Whether the panel knows how everything stands that the act moves. */
static bool knows(
        const struct probed_machine *probed, const struct probed_state *state, size_t step) {
    bool all = true;
    for (size_t zone = 0; zone < probed->world->site->zone_count; zone++) {
        const int door = door_of(probed, zone);
        all = all &&
                (door == SITE_NONE || !acts_on(probed, step, zone) ||
                        has(state->known, zone) == has(state->doors, (size_t)door));
    }
    return all;
}

/* The panel knows from the beginning which doors are open. */
static void begin_doors(const struct probed_machine *probed, struct probed_state *state) {
    state->doors = probed->world->routine->source->doors_open;
    for (size_t zone = 0; zone < probed->world->site->zone_count; zone++) {
        const int door = door_of(probed, zone);
        put(&state->known, zone, door != SITE_NONE && has(state->doors, (size_t)door));
    }
}

/* ---- the lines of one event: what they make of the run, and whether the interval starts or ends in it ---- */

static void read_lines(struct probed_machine *probed, struct probed_state *state,
        struct explore_effects *ret_effects) {
    const struct proof_answer *answer = probed->answer;
    const size_t from = answer->probed_from;
    bool by_step = from == PROOF_STEP_MAX || is_done_by(probed, from);
    bool by_itself =
            true; /* nobody does anything in this event, nor does a timer of the panel end */
    for (size_t i = 0; i < probed->tape.count; i++) {
        const struct proof_line *line = &probed->lines[i];
        const bool starts = is_timer_line(line, PANEL_OUT_START, answer->probed_timer);
        const bool stops = is_timer_line(line, PANEL_OUT_STOP, answer->probed_timer);
        by_itself = by_itself && line->kind != PROOF_LINE_ACT && line->kind != PROOF_LINE_TIMER;
        if (line->kind == PROOF_LINE_ACT) {
            take_act(probed, state, line);
        } else if (line->kind == PROOF_LINE_LEVEL) {
            put(&state->known, line->zone, line->open);
            by_step = by_step || (by_itself && state->moved && acts_on(probed, from, line->zone));
        }
        state->broken = state->broken || line->bad;
        if (state->phase == RUNNING && (starts || stops)) {
            state->phase = OTHERWISE_OVER;
        } else if (state->phase == NOT_STARTED && starts && by_step) {
            state->starts++;
            if (state->starts == answer->probed_start) {
                state->phase = RUNNING;
                ret_effects->mark |= 1U;
            }
        }
    }
}

static void judge(struct probed_machine *probed, struct probed_state *state,
        struct explore_effects *ret_effects) {
    const bool was_crossed = state->crossed;
    ret_effects->standing = EXPLORE_GOES_ON;
    ret_effects->violation = 0;
    if (is_done_by(probed, probed->answer->probed_step) && state->phase != NOT_STARTED) {
        state->acted = true;
        ret_effects->mark |= 2U;
    }
    state->crossed =
            was_crossed || (state->acted && knows(probed, state, probed->answer->probed_step));
    if (state->broken && (state->phase != RUN_OUT || was_crossed)) {
        ret_effects->standing = EXPLORE_SET_ASIDE; /* by something else */
    } else if (state->broken && state->crossed) {
        ret_effects->standing = EXPLORE_VIOLATION;
        ret_effects->violation = 1;
    }
}

/* The world's tape is written while it fires: still the same result for the same arguments. */
static struct probed_machine *of(const void *context) {
    return (struct probed_machine *)(uintptr_t)context;
}

static void begin(const void *context, void *bytes, struct explore_effects *ret_effects) {
    struct probed_machine *probed = of(context);
    struct probed_state *state = bytes;
    const struct explore_machine inner = world_machine(probed->world);
    probed->tape.count = 0;
    begin_doors(probed, state);
    inner.begin(inner.context, &state->world, ret_effects);
    read_lines(probed, state, ret_effects);
    judge(probed, state, ret_effects);
}

static void fire(const void *context, void *bytes, explore_activity activity, uint32_t choice,
        struct explore_effects *ret_effects) {
    struct probed_machine *probed = of(context);
    struct probed_state *state = bytes;
    const struct explore_machine inner = world_machine(probed->world);
    if (activity == probed->answer->probed_timer && state->phase == RUNNING) {
        state->phase = RUN_OUT;
    }
    probed->tape.count = 0;
    inner.fire(inner.context, &state->world, activity, choice, ret_effects);
    if (probed->tape.overflowed) {
        abort();
    }
    read_lines(probed, state, ret_effects);
    judge(probed, state, ret_effects);
}

static bool is_background(const void *context, explore_activity activity) {
    const struct explore_machine inner = world_machine(of(context)->world);
    return inner.is_background != NULL && inner.is_background(inner.context, activity);
}

struct explore_machine probed_machine_over(
        struct world *world, const struct proof_answer *answer, struct probed_machine *probed) {
    *probed = (struct probed_machine){.world = world, .answer = answer};
    probed->tape = (struct world_tape){.lines = probed->lines, .capacity = PROBED_LINES_MOST};
    world->tape = &probed->tape;
    return (struct explore_machine){.state_size = sizeof(struct probed_state),
            .context = probed,
            .begin = begin,
            .fire = fire,
            .is_background = is_background};
}
