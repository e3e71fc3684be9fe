#include "proof/unheard.h"

#include "panel/panel_tables.h"
#include "proof/world.h"

#include <string.h>

/* ---- what can act on what --------------------------------------------------------------------------------------- */

static const struct proof_step *step_at(const struct world *world, size_t actor, size_t position) {
    return &world->routine->steps[world->lists[actor][position]];
}

static bool acts_on(
        const struct world *world, const struct proof_step *step, const struct unheard_unit *unit) {
    switch (step->act) {
    case SITE_ACT_OPEN:
    case SITE_ACT_CLOSE:
        return unit->door != SITE_NONE && step->door == unit->door;
    case SITE_ACT_PASS:
    case SITE_ACT_PRESS:
    case SITE_ACT_BYPASS:
    case SITE_ACT_TAMPER:
        return step->zone >= 0 && (unsigned)step->zone < world->program.zone_count &&
                panel_zones_has(&unit->zones, (unsigned)step->zone);
    case SITE_ACT_WAIT:
    case SITE_ACT_UNSET:
    case SITE_ACT_SET:
    case SITE_ACT_COME:
    case SITE_ACT_GO:
    case SITE_ACT_MISTYPE:
    case SITE_ACT_POSTPONE:
    case SITE_ACT_MAINS_LOST:
    case SITE_ACT_MAINS_BACK:
    case SITE_ACT_JAMMED:
    case SITE_ACT_JAM_OVER:
    case SITE_ACT_PATH_LOST:
    case SITE_ACT_PATH_BACK:
    case SITE_ACT_COUNT:
        break;
    }
    return false;
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

/* ---- in one state ----------------------------------------------------------------------------------------------- */

/* The end of this entry time breaks a promise: no course goes on past it. */
static bool expiry_breaks(
        const struct world *world, const struct world_state *state, unsigned area) {
    const struct panel_area_state *now = &state->panel.areas[area];
    const struct panel_program *program = &world->program;
    if (world->probe || (world->expects & SITE_EXPECT_SIREN) != 0 ||
            program->settings.siren_hold_back_s >
                    0 || /* inside it sounds first, which may be announced */
            program->settings.off_route != SITE_OFF_ROUTE_NOW ||
            (now->flags & PANEL_AREA_EXIT_ERROR) != 0 || now->sound != PANEL_SILENT ||
            now->entry_zone >= program->zone_count ||
            panel_zones_has(&state->panel.swung_out, now->entry_zone)) {
        return false;
    }
    const struct panel_class_row *class =
            &program->tables->classes[program->zones[now->entry_zone].unset_behaviour];
    return class->exempt || class->sound != PANEL_SILENT;
}

static int32_t delay_of(const struct panel_program *program, unsigned zone, int mode) {
    const unsigned delay = program->zones[zone].delay[mode];
    return delay < program->settings.delay_count ? program->settings.delays[delay].seconds_s : 0;
}

/* A second entry of a delay that is no shorter changes nothing: its end, if sooner, was as possible from the start. */
static bool second_entry_changes_nothing(
        const struct world *world, const struct panel_area_state *now, unsigned zone) {
    const struct panel_program *program = &world->program;
    const unsigned delay = program->zones[zone].delay[now->mode];
    return delay < program->settings.delay_count && panel_bit(now->routes, delay) &&
            (program->settings.second_entry == SITE_SECOND_KEEP ||
                    delay_of(program, zone, now->mode) >=
                            delay_of(program, now->entry_zone, now->mode));
}

static bool is_deaf(
        const struct world *world, const struct world_state *state, unsigned zone, unsigned area) {
    const struct panel_area_state *now = &state->panel.areas[area];
    const struct panel_program *program = &world->program;
    if ((now->flags & PANEL_AREA_AUTO_WARN) != 0 || now->postponed != 0) {
        return false;
    }
    if (now->phase == PANEL_UNSET) {
        return true; /* the zone is a quiet one */
    }
    if (moot_is_held(world, state, area)) {
        return true;
    }
    if (now->phase != PANEL_ENTERING ||
            (!expiry_breaks(world, state, area) && !moot_expiry_holds(world, state, area))) {
        return false;
    }
    const uint8_t behaviour =
            program->zones[zone].behaviour[now->mode]; /* a quiet zone is no 24-hour one */
    switch ((enum panel_reaction)program->tables->reaction[behaviour][PANEL_ENTERING]) {
    case PANEL_DOES_NOTHING:
        return true;
    case PANEL_DOES_SECOND_ENTRY:
        return second_entry_changes_nothing(world, now, zone);
    case PANEL_DOES_FOLLOW:
        return (program->zones[zone].follows & now->routes) != 0;
    case PANEL_DOES_CHIME:
    case PANEL_DOES_EXIT_DOOR:
    case PANEL_DOES_EXIT_TRIP:
    case PANEL_DOES_ENTRY:
    case PANEL_DOES_FOLLOW_ALONE:
    case PANEL_DOES_ALARM:
    case PANEL_DOES_OFF_ROUTE:
    case PANEL_DOES_TROUBLE:
    case PANEL_DOES_OWN:
    case PANEL_REACTION_COUNT:
        break;
    }
    return false;
}

static bool meets(const struct panel_zones *a, const struct panel_zones *b) {
    return ((a->word[0] & b->word[0]) | (a->word[1] & b->word[1])) != 0;
}

/* The panel remembers more of a zone of the unit than whether it is open. */
static bool is_remembered(const struct world *world, const struct world_state *state,
        const struct unheard_unit *unit) {
    const struct panel_state *panel = &state->panel;
    const struct panel_zones *const memories[] = {&panel->tampered, &panel->masked, &panel->lost,
            &panel->battery, &panel->bypassed, &panel->lasting, &panel->forced, &panel->swung_out,
            &panel->after_siren, &panel->alarmed, &panel->recent, &panel->sent, &panel->cross_lone,
            &panel->following, &panel->latched};
    for (size_t k = 0; k < sizeof memories / sizeof *memories; k++) {
        if (meets(memories[k], &unit->zones)) {
            return true;
        }
    }
    for (unsigned zone = 0; zone < world->program.zone_count; zone++) {
        if (panel_zones_has(&panel->held, zone) && panel_zones_has(&unit->zones, zone) &&
                !moot_is_held(world, state, world->program.zones[zone].area)) {
            return true;
        }
    }
    return false;
}

static bool unit_is_deaf(const struct world *world, const struct world_state *state,
        const struct unheard_unit *unit) {
    const uint8_t common = world->program.common_areas;
    const uint16_t off = PANEL_DEAD | PANEL_MASKED_UP;
    if (state->calendar != 0 || (state->panel.flags & off) != 0 ||
            is_remembered(world, state, unit)) {
        return false;
    }
    for (unsigned area = 0; area < world->program.area_count; area++) {
        /* Whoever leaves a member goes out through the common area. */
        if ((unit->areas & common) != 0 && state->panel.areas[area].phase == PANEL_EXITING) {
            return false;
        }
    }
    for (unsigned zone = 0; zone < world->program.zone_count; zone++) {
        if (!panel_zones_has(&unit->zones, zone)) {
            continue;
        }
        if (!panel_zones_has(&world->quiet, zone)) {
            return false;
        }
        for (unsigned area = 0; area < world->program.area_count; area++) {
            const unsigned serves =
                    world->program.zones[zone].serves | 1U << world->program.zones[zone].area;
            if (panel_bit(serves, area) && !is_deaf(world, state, zone, area)) {
                return false;
            }
        }
    }
    return true;
}

static bool bits_are(
        const struct panel_zones *set, const struct panel_zones *in, const struct panel_zones *as) {
    return ((set->word[0] ^ as->word[0]) & in->word[0]) == 0 &&
            ((set->word[1] ^ as->word[1]) & in->word[1]) == 0;
}

/* Nothing under way: the panel knows how it stands, and what trips is ready to. */
static bool is_at_rest(const struct world *world, const struct world_state *state,
        const struct unheard_unit *unit) {
    bool rests = !meets(&state->pending, &unit->zones) && !meets(&state->twice, &unit->zones) &&
            !meets(&state->asleep, &unit->zones) &&
            bits_are(&state->physical, &unit->zones, &state->panel.open);
    for (unsigned zone = 0; zone < world->program.zone_count && rests; zone++) {
        rests = !panel_zones_has(&unit->zones, zone) || !panel_zones_has(&state->physical, zone) ||
                site_sense_is_level((enum site_sense)world->program.zones[zone].sense);
    }
    return rests;
}

/* Surely so long from now to the request. */
static int32_t distance(const struct world *world, const struct world_state *state,
        const struct unheard_request *request) {
    int32_t most_s = 0;
    for (size_t actor = 0; actor < world->actor_count; actor++) {
        if (state->next[actor] < world->list_counts[actor]) {
            most_s = larger(most_s, request->lag_s[world->lists[actor][state->next[actor]]]);
        }
    }
    return most_s;
}

bool unheard_may_be_first(const struct unheard *unheard, const struct world_state *state,
        const struct unheard_request *request, uint8_t areas) {
    if ((request->areas & areas) == 0 || world_is_done(state, request->step)) {
        return false;
    }
    for (size_t k = 0; k < unheard->request_count; k++) {
        const struct unheard_request *other = &unheard->requests[k];
        if (other != request && (other->areas & areas) != 0 && !world_is_done(state, other->step) &&
                step_set_has(&other->after, request->step)) {
            return false;
        }
    }
    return true;
}

enum standing { STANDS_HEARD, STANDS_AS_IT_IS, STANDS_CLOSED };

/* How the unit stands when this request comes. */
static enum standing standing_at(const struct world *world, const struct world_state *state,
        size_t unit_index, const struct unheard_request *request, bool rests) {
    const struct unheard_unit *unit = &world->unheard.units[unit_index];
    uint64_t later = 0;
    uint64_t before = 0;
    uint64_t too_late = 0;
    for (size_t k = 0; k < PROOF_STEP_MAX / 64; k++) {
        later |= unit->touches.word[k] & ~state->done[k] & request->after.word[k];
    }
    const struct step_set *in_time =
            later != 0 ? &request->early[unit_index] : &request->faded[unit_index];
    for (size_t k = 0; k < PROOF_STEP_MAX / 64; k++) {
        const uint64_t rest = unit->touches.word[k] & ~state->done[k] & ~request->after.word[k];
        before |= rest;
        too_late |= rest & ~in_time->word[k];
    }
    if (too_late != 0 || (before != 0 && !request->ends_closed[unit_index])) {
        return STANDS_HEARD;
    }
    if (!rests) {
        const int scale = scale_of(world);
        const int32_t distance_s = distance(world, state, request) * scale +
                (later == 0 && unit->still ? request->exit_s : 0);
        if (distance_s <= (later != 0 ? unit->rests_s : unit->fades_s) * scale) {
            return STANDS_HEARD;
        }
    }
    return before != 0 ? STANDS_CLOSED : STANDS_AS_IT_IS;
}

bool unheard_is(const struct world *world, const struct world_state *state, size_t unit_index,
        bool *ret_closed) {
    const struct unheard *unheard = &world->unheard;
    const struct unheard_unit *unit = &unheard->units[unit_index];
    *ret_closed = false;
    if (!unit_is_deaf(world, state, unit)) {
        return false;
    }
    const bool rests = is_at_rest(world, state, unit);
    bool closed = false;
    bool as_it_is = false;
    for (size_t k = 0; k < unheard->request_count; k++) {
        const struct unheard_request *request = &unheard->requests[k];
        if (!unheard_may_be_first(unheard, state, request, unit->areas)) {
            continue;
        }
        switch (standing_at(world, state, unit_index, request, rests)) {
        case STANDS_HEARD:
            return false;
        case STANDS_AS_IT_IS:
            as_it_is = true;
            break;
        case STANDS_CLOSED:
            closed = true;
            break;
        }
    }
    const bool open = unit->door != SITE_NONE &&
            (state->doors[(size_t)unit->door / 64] >> ((size_t)unit->door % 64) & 1U) != 0;
    *ret_closed = !as_it_is;
    return !(closed && as_it_is && open);
}

bool unheard_is_blank(const struct world *world, const struct world_state *state) {
    const struct panel_state *panel = &state->panel;
    const uint32_t kept = PANEL_AREA_MEMORY | PANEL_AREA_NEEDS_RESET | PANEL_AREA_WARNING |
            PANEL_AREA_STALLED | PANEL_AREA_WINDOW | PANEL_AREA_EARLY | PANEL_AREA_WARN_DUE |
            PANEL_AREA_ENTRY_OVER | PANEL_AREA_CONFIRMED | PANEL_AREA_HELD_BACK | PANEL_AREA_INSIDE;
    if (state->calendar != 0 || panel->wrong_codes != 0 ||
            (panel->flags & ~(unsigned)PANEL_REFUSED) != 0 || !world_all_unset(world, state) ||
            panel_zones_any(&panel->alarmed) || panel_zones_any(&panel->held) ||
            panel_zones_any(&panel->sent) || panel_zones_any(&panel->swung_out)) {
        return false;
    }
    for (unsigned area = 0; area < world->program.area_count; area++) {
        if ((panel->areas[area].flags & kept) != 0 ||
                panel->areas[area].first_zone != PANEL_NO_ZONE) {
            return false;
        }
    }
    return true;
}

/* No request that could be the next one of these areas can come before the step. */
static bool is_before_requests(const struct unheard *unheard, const struct world_state *state,
        size_t step, uint8_t areas) {
    for (size_t k = 0; k < unheard->request_count; k++) {
        const struct unheard_request *request = &unheard->requests[k];
        if (unheard_may_be_first(unheard, state, request, areas) && request->lag_s[step] < 0) {
            return false;
        }
    }
    return true;
}

bool unheard_step(const struct world *world, const struct world_state *state, size_t step) {
    const struct unheard *unheard = &world->unheard;
    bool closed = false;
    const size_t unit = unheard->unit_of[step];
    switch (world->routine->steps[step].act) {
    case SITE_ACT_WAIT:
    case SITE_ACT_COME:
    case SITE_ACT_GO:
        return true;
    case SITE_ACT_OPEN:
    case SITE_ACT_CLOSE:
    case SITE_ACT_PASS:
        return unit != UNHEARD_NO_UNIT &&
                is_before_requests(unheard, state, step, unheard->units[unit].areas) &&
                unheard_is(world, state, unit, &closed);
    case SITE_ACT_UNSET:
        return unheard->calm_acts && world->quiet_step[step] &&
                is_before_requests(unheard, state, step, 0xFF) && unheard_is_blank(world, state);
    case SITE_ACT_SET:
    case SITE_ACT_MISTYPE:
    case SITE_ACT_PRESS:
    case SITE_ACT_BYPASS:
    case SITE_ACT_POSTPONE:
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
    return false;
}

bool unheard_joins(
        const struct world *world, const struct world_state *state, size_t step, size_t next) {
    const struct unheard *unheard = &world->unheard;
    return unheard->on && step_set_has(&unheard->joins, step) &&
            !step_set_has(&unheard->waited_for, step) &&
            (next == PROOF_STEP_MAX || step_set_has(&unheard->follows, next)) &&
            unheard_step(world, state, step);
}
