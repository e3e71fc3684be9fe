/* What of a routine can be left out at all: the units, what can come before each request, steps that may be joined. */
#include "proof/unheard.h"

#include "panel/panel_tables.h"
#include "proof/acts.h"
#include "proof/world.h"

#include <string.h>

/* ---- what can act on what --------------------------------------------------------------------------------------- */

static const struct proof_step *step_at(const struct world *world, size_t actor, size_t position) {
    return &world->routine->steps[world->lists[actor][position]];
}

static bool acts_on(
        const struct world *world, const struct proof_step *step, const struct unheard_unit *unit) {
    return act_is_on(step, unit->door, &unit->zones, world->program.zone_count);
}

static bool may_block(const struct world *world, unsigned zone) {
    const enum panel_block block =
            (enum panel_block)world->program.tables->blocks[world->program.zones[zone].sense];
    return block == PANEL_BLOCKS_ALWAYS ||
            (block == PANEL_BLOCKS_BY_CHOICE && world->program.settings.motion_blocks);
}

/* Somebody looks at the unit itself, or acts on it in a way that is remembered. */
static bool is_looked_at(const struct world *world, const struct unheard_unit *unit) {
    bool blocks = false;
    bool chimes = false;
    bool radio = false;
    bool slow = false; /* an opening that the input sees late: always followed */
    for (unsigned zone = 0; zone < world->program.zone_count; zone++) {
        if (panel_zones_has(&unit->zones, zone)) {
            blocks = blocks || may_block(world, zone);
            chimes = chimes || world->program.zones[zone].chime;
            radio = radio || panel_zones_has(&world->radio, zone);
            slow = slow || world->response[zone].high_s > 0;
        }
    }
    if (slow) {
        return true;
    }
    for (size_t i = 0; i < world->routine->step_count; i++) {
        const struct proof_step *step = &world->routine->steps[i];
        const enum site_sign signs[] = {step->when, step->if_sign};
        for (size_t k = 0; k < 2; k++) {
            if ((signs[k] == SITE_SIGN_DOOR_OPEN && unit->door != SITE_NONE &&
                        step->sign_door == unit->door) ||
                    ((signs[k] == SITE_SIGN_READY || signs[k] == SITE_SIGN_NOT_READY) && blocks) ||
                    (signs[k] == SITE_SIGN_CHIME && chimes)) {
                return true;
            }
        }
        if (acts_on(world, step, unit) &&
                ((radio && step->message != SITE_MESSAGE_ARRIVES) || step->act == SITE_ACT_BYPASS ||
                        step->act == SITE_ACT_TAMPER)) {
            return true;
        }
    }
    return false;
}

/* ---- the units -------------------------------------------------------------------------------------------------- */

static int32_t larger(int32_t a, int32_t b) {
    return a > b ? a : b;
}

/* Motion behind an entry door, mostly: nothing on a trip while an exit time runs, no level to read at its end. */
static bool is_still(const struct world *world, unsigned zone) {
    const struct panel_zone *keyed = &world->program.zones[zone];
    bool still = !site_sense_is_level((enum site_sense)keyed->sense) && !may_block(world, zone);
    for (int mode = 0; mode < PANEL_MODE_MAX; mode++) {
        still = still &&
                world->program.tables->reaction[keyed->behaviour[mode]][PANEL_EXITING] ==
                        PANEL_DOES_NOTHING;
    }
    return still;
}

static void describe_unit(const struct world *world, struct unheard_unit *unit) {
    unit->still = true;
    for (unsigned zone = 0; zone < world->program.zone_count; zone++) {
        if (!panel_zones_has(&unit->zones, zone)) {
            continue;
        }
        const struct panel_zone *keyed = &world->program.zones[zone];
        const int32_t latency_s = world->latency[zone].high_s;
        const bool level = site_sense_is_level((enum site_sense)keyed->sense);
        const int32_t fades_s = latency_s + (level ? 0 : world->hold[zone].high_s);
        unit->fades_s = larger(unit->fades_s, fades_s);
        unit->rests_s = larger(unit->rests_s, fades_s);
        unit->rests_s = larger(unit->rests_s, level ? 0 : world->sleep[zone].high_s);
        unit->areas = (uint8_t)(unit->areas | keyed->serves | 1U << keyed->area);
        unit->still = unit->still && is_still(world, zone);
    }
    for (size_t actor = 0; actor < world->actor_count; actor++) {
        for (size_t k = 0; k < world->list_counts[actor]; k++) {
            if (acts_on(world, step_at(world, actor, k), unit)) {
                step_set_add(&unit->touches, world->lists[actor][k]);
            }
        }
    }
}

static bool is_touched(const struct unheard_unit *unit) {
    return (unit->touches.word[0] | unit->touches.word[1] | unit->touches.word[2]) != 0;
}

_Static_assert(PROOF_STEP_MAX == 3 * 64, "a set of steps is three words");

static void add_unit(
        const struct world *world, struct unheard *unheard, const struct unheard_unit *begun) {
    struct unheard_unit unit = *begun;
    describe_unit(world, &unit);
    if (!is_touched(&unit) || unheard->unit_count == UNHEARD_UNIT_MAX ||
            is_looked_at(world, &unit)) {
        return;
    }
    for (size_t i = 0; i < PROOF_STEP_MAX; i++) {
        if (step_set_has(&unit.touches, i)) {
            unheard->unit_of[i] = (uint8_t)unheard->unit_count;
        }
    }
    unheard->units[unheard->unit_count] = unit;
    unheard->unit_count++;
}

static void find_units(const struct world *world, struct unheard *unheard) {
    memset(unheard->unit_of, UNHEARD_NO_UNIT, sizeof unheard->unit_of);
    struct panel_zones on_doors = {0};
    for (size_t door = 0; door < world->site->door_count && door < SITE_DOOR_MAX; door++) {
        const struct panel_zones *zones = &world->of_door[door];
        add_unit(world, unheard, &(struct unheard_unit){.zones = *zones, .door = (int)door});
        on_doors.word[0] |= zones->word[0];
        on_doors.word[1] |= zones->word[1];
    }
    for (unsigned zone = 0; zone < world->program.zone_count; zone++) {
        if (!panel_zones_has(&on_doors, zone)) {
            struct unheard_unit unit = {.door = SITE_NONE};
            panel_zones_add(&unit.zones, zone);
            add_unit(world, unheard, &unit);
        }
    }
}

/* ---- what comes before what ------------------------------------------------------------------------------------- */

/* Left out together with a step before it, without a wait of its own. */
static bool is_follower(const struct world *world, size_t index) {
    for (size_t head = 0; head < index; head++) {
        if (head + world->routine->steps[head].group >= index) {
            return true;
        }
    }
    return false;
}

static int32_t least_wait(const struct world *world, size_t index) {
    return is_follower(world, index) ? 0 : world->in[index].low_s;
}

static bool raise(struct unheard_request *request, size_t index, int32_t lag_s) {
    if (request->lag_s[index] >= lag_s) {
        return false;
    }
    request->lag_s[index] = lag_s;
    return true;
}

/* False: people wait for each other in a ring. */
static bool find_lags(const struct world *world, struct unheard_request *request) {
    bool moved = true;
    for (size_t i = 0; i < PROOF_STEP_MAX; i++) {
        request->lag_s[i] = -1;
    }
    request->lag_s[request->step] = 0;
    for (size_t round = 0; moved; round++) {
        if (round > PROOF_STEP_MAX) {
            return false;
        }
        moved = false;
        for (size_t actor = 0; actor < world->actor_count; actor++) {
            for (size_t k = world->list_counts[actor]; k-- > 0;) {
                const size_t index = world->lists[actor][k];
                if (request->lag_s[index] < 0) {
                    continue;
                }
                const int32_t lag_s = request->lag_s[index] + least_wait(world, index);
                const int after = world->routine->steps[index].after;
                moved = (k > 0 && raise(request, world->lists[actor][k - 1], lag_s)) || moved;
                moved = (after != SITE_NONE && !is_follower(world, index) &&
                                raise(request, (size_t)after, lag_s)) ||
                        moved;
            }
        }
    }
    return true;
}

/* Steps of the list behind a step that waits for what is surely after the request. */
static void find_after(const struct world *world, struct unheard_request *request) {
    bool moved = true;
    while (moved) {
        moved = false;
        for (size_t actor = 0; actor < world->actor_count; actor++) {
            bool later = false;
            for (size_t k = 0; k < world->list_counts[actor]; k++) {
                const size_t index = world->lists[actor][k];
                const int after = world->routine->steps[index].after;
                const bool waits = after != SITE_NONE &&
                        ((size_t)after == request->step ||
                                step_set_has(&request->after, (size_t)after));
                if ((later || waits) && !step_set_has(&request->after, index)) {
                    step_set_add(&request->after, index);
                    moved = true;
                }
                later = later || index == request->step || (waits && !is_follower(world, index));
            }
        }
    }
}

static bool closes_last(const struct world *world, const struct unheard_request *request,
        const struct unheard_unit *unit) {
    for (size_t actor = 0; actor < world->actor_count; actor++) {
        size_t last = PROOF_STEP_MAX;
        for (size_t k = 0; k < world->list_counts[actor]; k++) {
            const size_t index = world->lists[actor][k];
            if (step_set_has(&unit->touches, index) && !step_set_has(&request->after, index)) {
                last = index;
            }
        }
        if (last == PROOF_STEP_MAX) {
            continue;
        }
        const struct proof_step *step = &world->routine->steps[last];
        if (unit->door != SITE_NONE &&
                (step->act != SITE_ACT_CLOSE || step->maybe || step->if_sign != SITE_SIGN_NONE ||
                        is_follower(world, last))) {
            return false;
        }
    }
    return true;
}

/* From the request until anything can be set; 0 where it may be at once. */
static int32_t shortest_exit(const struct world *world, const struct proof_step *step) {
    const struct site_settings *settings = &world->program.settings;
    const int scale = world->options.scale > 1 ? world->options.scale : 1;
    const bool timed = step->use != SITE_USE_FOB || settings->fob_way == SITE_FOB_TIMED;
    if (!timed || settings->completion != SITE_COMPLETE_TIME || world->program.common_areas != 0 ||
            step->mode < 0 || (size_t)step->mode >= settings->mode_count) {
        return 0;
    }
    const int32_t nominal = settings->modes[step->mode].exit_delay_s;
    const int32_t tenths = world->options.no_tolerance ? 0 : settings->tolerance_tenths;
    const int32_t shortened = world->options.shift_s[PANEL_TIMER_EXIT] +
            world->options.shift_most_s[PANEL_TIMER_EXIT];
    const int32_t least = span_tolerant(nominal * scale, tenths).low_s - shortened;
    return least > 0 ? least : 0;
}

static int scale_of(const struct world *world) {
    return world->options.scale > 1 ? world->options.scale : 1;
}

static bool describe_request(
        const struct world *world, struct unheard *unheard, struct unheard_request *request) {
    const struct proof_step *step = &world->routine->steps[request->step];
    const int scale = scale_of(world);
    request->areas = world->program.common_areas != 0
            ? 0xFF
            : (uint8_t)(step->areas == 0 ? world->program.user_areas[step->who]
                                         : world->program.user_areas[step->who] & step->areas);
    request->exit_s = shortest_exit(world, step);
    if (!find_lags(world, request)) {
        return false;
    }
    find_after(world, request);
    for (size_t k = 0; k < unheard->unit_count; k++) {
        const struct unheard_unit *unit = &unheard->units[k];
        const int32_t spare_s = unit->still ? request->exit_s : 0;
        request->ends_closed[k] = closes_last(world, request, unit);
        for (size_t i = 0; i < PROOF_STEP_MAX; i++) {
            if (!step_set_has(&unit->touches, i) || request->lag_s[i] < 0) {
                continue;
            }
            if (request->lag_s[i] * scale > unit->rests_s * scale) {
                step_set_add(&request->early[k], i);
            }
            if (request->lag_s[i] * scale + spare_s > unit->fades_s * scale) {
                step_set_add(&request->faded[k], i);
            }
        }
    }
    return true;
}

static bool find_requests(const struct world *world, struct unheard *unheard) {
    for (size_t actor = 0; actor < world->actor_count; actor++) {
        for (size_t k = 0; k < world->list_counts[actor]; k++) {
            if (step_at(world, actor, k)->act != SITE_ACT_SET) {
                continue;
            }
            if (unheard->request_count == UNHEARD_REQUEST_MAX) {
                return false;
            }
            struct unheard_request *request = &unheard->requests[unheard->request_count];
            unheard->request_count++;
            request->step = world->lists[actor][k];
            if (!describe_request(world, unheard, request)) {
                return false;
            }
        }
    }
    return true;
}

/* ---- steps that may be joined ----------------------------------------------------------------------------------- */

static bool is_conditional(const struct world *world, size_t index) {
    const struct proof_step *step = &world->routine->steps[index];
    return step->when != SITE_SIGN_NONE || step->if_sign != SITE_SIGN_NONE || step->maybe ||
            step->after != SITE_NONE || step->group != 0 || is_follower(world, index);
}

static void find_joins(const struct world *world, struct unheard *unheard) {
    unheard->calm_acts = true;
    for (size_t actor = 0; actor < world->actor_count; actor++) {
        const bool listens = panel_bit(world->hears_chime, (unsigned)actor);
        for (size_t k = 0; k < world->list_counts[actor]; k++) {
            const size_t index = world->lists[actor][k];
            const struct proof_step *step = &world->routine->steps[index];
            if (!is_conditional(world, index) && !listens &&
                    step->message == SITE_MESSAGE_ARRIVES) {
                step_set_add(&unheard->joins, index);
            }
            if (step->when == SITE_SIGN_NONE && step->after == SITE_NONE) {
                step_set_add(&unheard->follows, index);
            }
            if (step->after != SITE_NONE) {
                step_set_add(&unheard->waited_for, (size_t)step->after);
            }
            unheard->calm_acts =
                    unheard->calm_acts && (step->act == SITE_ACT_SET || world->quiet_step[index]);
        }
    }
}

/* Messages that do not arrive leave a detector elsewhere than at rest; hours ask how long every single step takes. */
static bool hears_everything(const struct world *world) {
    bool every = false;
    for (size_t i = 0; i < world->routine->step_count; i++) {
        every = every || world->routine->steps[i].act == SITE_ACT_JAMMED;
    }
    for (size_t actor = 0; actor < world->actor_count; actor++) {
        every = every || world->hours_of[actor] != WORLD_NO_HOURS;
    }
    return every;
}

void unheard_find(const struct world *world, struct unheard *ret_unheard) {
    memset(ret_unheard, 0, sizeof *ret_unheard);
    if (hears_everything(world)) {
        return;
    }
    if (world->program.tables != &panel_tables_standard ||
            world->program.settings.auto_set_at_s >= 0) {
        return; /* what is said here is said of the standard tables; a calendar can ask to set at any time */
    }
    find_units(world, ret_unheard);
    find_joins(world, ret_unheard);
    ret_unheard->on = find_requests(world, ret_unheard);
}
