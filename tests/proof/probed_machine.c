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
    uint8_t spare[4];
};

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

/* The lines of one event: what they make of the run, and whether the interval starts or ends in it. */
static void read_lines(struct probed_machine *probed, struct probed_state *state,
        struct explore_effects *ret_effects) {
    const struct proof_answer *answer = probed->answer;
    const bool by_step =
            answer->probed_from == PROOF_STEP_MAX || is_done_by(probed, answer->probed_from);
    for (size_t i = 0; i < probed->tape.count; i++) {
        const struct proof_line *line = &probed->lines[i];
        const bool starts = is_timer_line(line, PANEL_OUT_START, answer->probed_timer);
        const bool stops = is_timer_line(line, PANEL_OUT_STOP, answer->probed_timer);
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
        state->crossed = true;
        ret_effects->mark |= 2U;
    }
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
