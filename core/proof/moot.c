#include "proof/moot.h"

#include "panel/panel_tables.h"
#include "proof/acts.h"
#include "proof/world.h"

#include <string.h>

/* ---- what a routine's acts can cause ---------------------------------------------------------------------------- */

/* Whether a trip of the zone, in whatever phase, breaks nothing once siren and alarm are announced. */
static bool zone_is_tame(const struct world *world, unsigned zone) {
    const uint8_t behaviour = world->program.zones[zone].unset_behaviour;
    const enum event_kind kind = (enum event_kind)world->program.tables->classes[behaviour].event;
    const struct panel_output signal = {.kind = PANEL_OUT_SIGNAL, .event = {.kind = (uint8_t)kind}};
    bool troubles = behaviour == SITE_DAY;
    for (int mode = 0; mode < PANEL_MODE_MAX; mode++) {
        troubles = troubles || world->program.zones[zone].behaviour[mode] == SITE_DAY;
    }
    return (kind == EVENT_INTRUSION ||
                   world_promise_broken(&world->program, &signal, world->expects) == PROOF_KEPT) &&
            (!troubles || (world->expects & SITE_EXPECT_TROUBLE) != 0);
}

static bool door_is_tame(const struct world *world, int door) {
    for (unsigned zone = 0; door != SITE_NONE && zone < world->program.zone_count; zone++) {
        if (panel_zones_has(&world->of_door[door], zone) && !zone_is_tame(world, zone)) {
            return false;
        }
    }
    return true;
}

/* Codes and requests apart. */
static bool act_is_tame(const struct world *world, const struct proof_step *step) {
    switch (act_kind_of(step->act)->does) {
    case ACT_DOES_NOTHING:
    case ACT_DOES_UNSET:
    case ACT_DOES_REQUEST:
        return true;
    case ACT_DOES_MOVE:
    case ACT_DOES_PRESS:
        return act_kind_of(step->act)->on == ACT_ON_DOOR
                ? door_is_tame(world, step->door)
                : step->zone >= 0 && (unsigned)step->zone < world->program.zone_count &&
                        zone_is_tame(world, (unsigned)step->zone);
    case ACT_DOES_OTHER:
        break;
    }
    return false;
}

/* A code or request that may be turned away, give duress away, or set. A keypad that acts on the areas in entry may
 * leave none of those that the step means. */
static bool may_break(const struct world *world, size_t index, bool exits) {
    const struct proof_step *step = &world->routine->steps[index];
    if (step->act == SITE_ACT_SET) {
        return !exits;
    }
    if (step->act != SITE_ACT_UNSET) {
        return false;
    }
    const bool by_entry = world->program.settings.code_acts == SITE_CODE_ENTRY && step->areas != 0;
    return !world->quiet_step[index] || (by_entry && !exits);
}

static void find_askers(const struct world *world, struct moot *moot) {
    for (size_t actor = 0; actor < world->actor_count; actor++) {
        for (size_t position = world->list_counts[actor]; position-- > 0;) {
            moot->asks[actor][position] = moot->asks[actor][position + 1] ||
                    may_break(world, world->lists[actor][position], moot->exits);
        }
    }
}

/* ---- what a code wipes out -------------------------------------------------------------------------------------- */

static bool zones_are_wiped(const struct world *world) {
    for (unsigned zone = 0; zone < world->program.zone_count; zone++) {
        const struct panel_zone *keyed = &world->program.zones[zone];
        const bool swings = world->program.settings.swinger_limit > 0 && keyed->swinger;
        if (keyed->pulse_count > 1 || keyed->cross_with != PANEL_NO_ZONE ||
                (swings && (keyed->serves & ~(1U << keyed->area)) != 0)) {
            return false; /* pulses counted, a partner or a boundary door that has swung out outlive a code */
        }
    }
    return true;
}

static bool nobody_looks(const struct world *world) {
    for (size_t i = 0; i < world->routine->step_count; i++) {
        const struct proof_step *step = &world->routine->steps[i];
        const enum site_sign signs[] = {step->when, step->if_sign};
        for (size_t k = 0; k < 2; k++) {
            if (signs[k] != SITE_SIGN_NONE && signs[k] != SITE_SIGN_DOOR_OPEN) {
                return false;
            }
        }
    }
    return true;
}

static bool is_left_out_with_another(const struct world *world, size_t index) {
    for (size_t head = 0; head < index; head++) {
        if (head + world->routine->steps[head].group >= index) {
            return true;
        }
    }
    return false;
}

/* Surely done, and surely of every area: not where a keypad acts on the areas in entry. */
static bool unsets_everything(const struct world *world, size_t index) {
    const struct proof_step *step = &world->routine->steps[index];
    const struct panel_program *program = &world->program;
    const unsigned all = (1U << program->area_count) - 1U;
    if (step->act != SITE_ACT_UNSET || step->maybe || step->if_sign != SITE_SIGN_NONE ||
            is_left_out_with_another(world, index) || !world->quiet_step[index] ||
            program->settings.code_acts == SITE_CODE_ENTRY) {
        return false;
    }
    unsigned acts = program->user_areas[step->who];
    if (step->use != SITE_USE_FOB && program->settings.code_acts == SITE_CODE_KEYPAD &&
            step->keypad != SITE_NONE) {
        acts &= world->site->keypads[step->keypad].areas;
    }
    acts &= step->areas == 0 ? all : step->areas;
    return (acts & all) == all;
}

static void find_wipes(const struct world *world, struct moot *moot) {
    const struct site_settings *settings = &world->program.settings;
    moot->wiped = settings->reset == SITE_RESET_USER && settings->restore == SITE_RESTORE_CLOSURE &&
            zones_are_wiped(world) && nobody_looks(world);
    for (size_t actor = 0; actor < world->actor_count; actor++) {
        for (size_t k = 0; k < world->list_counts[actor]; k++) {
            const size_t index = world->lists[actor][k];
            if (unsets_everything(world, index)) {
                step_set_add(&moot->wipes, index);
            }
        }
    }
}

void moot_find(const struct world *world, struct moot *ret_moot) {
    const uint32_t alarm = SITE_EXPECT_SIREN | SITE_EXPECT_ALARM;
    bool tame = true;
    const uint32_t exits = SITE_EXPECT_EXIT_ERROR | SITE_EXPECT_REFUSED;
    memset(ret_moot, 0, sizeof *ret_moot);
    if ((world->expects & SITE_EXPECT_SIREN) == 0 ||
            world->program.tables != &panel_tables_standard ||
            world->program.settings.auto_set_at_s >= 0) {
        return;
    }
    ret_moot->exits = (world->expects & exits) == exits;
    for (size_t i = 0; i < world->routine->step_count; i++) {
        tame = tame && act_is_tame(world, &world->routine->steps[i]);
    }
    ret_moot->announced = tame && (world->expects & alarm) == alarm;
    ret_moot->sounded = tame && (world->expects & alarm) == SITE_EXPECT_SIREN &&
            world->program.settings.off_route == SITE_OFF_ROUTE_NOW &&
            world->program.settings.siren_hold_back_s == 0;
    find_askers(world, ret_moot);
    find_wipes(world, ret_moot);
}

/* ---- in one state ----------------------------------------------------------------------------------------------- */

/* No exit time and no exit error under way, unless announced; nothing sets by itself. */
static bool no_exit_runs(const struct world *world, const struct world_state *state) {
    for (unsigned area = 0; area < world->program.area_count; area++) {
        const struct panel_area_state *now = &state->panel.areas[area];
        if (now->phase == PANEL_EXITING || (now->flags & PANEL_AREA_EXIT_ERROR) != 0) {
            return false;
        }
    }
    return true;
}

bool moot_nothing_left(const struct world *world, const struct world_state *state) {
    const struct moot *moot = &world->moot;
    if (!world->unheard.on || !moot->announced || (!moot->exits && !no_exit_runs(world, state))) {
        return false;
    }
    for (size_t actor = 0; actor < world->actor_count; actor++) {
        if (moot->asks[actor][state->next[actor]]) {
            return false;
        }
    }
    return true;
}

/* A code is surely still to come before the request. */
static bool is_wiped_before(const struct moot *moot, const struct world_state *state,
        const struct unheard_request *request) {
    for (size_t i = 0; i < PROOF_STEP_MAX; i++) {
        if (step_set_has(&moot->wipes, i) && !world_is_done(state, i) && request->lag_s[i] >= 0) {
            return true;
        }
    }
    return false;
}

bool moot_is_wiped_next(const struct world *world, const struct world_state *state) {
    const struct moot *moot = &world->moot;
    const struct unheard *unheard = &world->unheard;
    if (!unheard->on || !moot->wiped || !unheard->calm_acts) {
        return false;
    }
    for (size_t k = 0; k < unheard->request_count; k++) {
        const struct unheard_request *request = &unheard->requests[k];
        if (unheard_may_be_first(unheard, state, request, 0xFF) &&
                !is_wiped_before(moot, state, request)) {
            return false;
        }
    }
    return true;
}

bool moot_is_wiped(
        const struct world *world, const struct world_state *state, struct panel_input *ret_input) {
    *ret_input = (struct panel_input){.kind = PANEL_IN_UNSET,
            .user = PANEL_NOBODY,
            .areas = (uint8_t)((1U << world->program.area_count) - 1U),
            .source = PANEL_BY_STATION};
    return world->moot.announced && no_exit_runs(world, state) && moot_is_wiped_next(world, state);
}

bool moot_is_held(const struct world *world, const struct world_state *state, unsigned area) {
    const struct panel_area_state *now = &state->panel.areas[area];
    bool holds = false;
    for (unsigned zone = 0; zone < world->program.zone_count; zone++) {
        holds = holds ||
                (panel_zones_has(&state->panel.held, zone) &&
                        world->program.zones[zone].area == area);
    }
    return world->moot.sounded && holds && now->alarm == PANEL_HELD &&
            (now->phase == PANEL_SET || now->phase == PANEL_ENTERING) &&
            no_exit_runs(world, state) && moot_is_wiped_next(world, state);
}

bool moot_expiry_holds(const struct world *world, const struct world_state *state, unsigned area) {
    const struct panel_area_state *now = &state->panel.areas[area];
    const unsigned zone = now->entry_zone;
    return world->moot.sounded && zone < world->program.zone_count &&
            world->program.zones[zone].area == area && world->program.zones[zone].reports &&
            !world->program.tables->classes[world->program.zones[zone].unset_behaviour].exempt &&
            (now->alarm == PANEL_CALM || now->alarm == PANEL_HELD) &&
            !panel_zones_has(&state->panel.sent, zone) &&
            !panel_zones_has(&state->panel.swung_out, zone) && no_exit_runs(world, state) &&
            moot_is_wiped_next(world, state);
}
