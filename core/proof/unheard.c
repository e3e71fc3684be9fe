/* What of it is left out in one state. */
#include "proof/unheard.h"

#include "panel/panel_tables.h"
#include "proof/acts.h"
#include "proof/world.h"

static int32_t larger(int32_t a, int32_t b) {
    return a > b ? a : b;
}

static int scale_of(const struct world *world) {
    return world->options.scale > 1 ? world->options.scale : 1;
}

/* The end of this entry time breaks a promise: no course goes on past it. It sounds the siren, as every class of the
 * standard tables does for an entry zone, unless
 * - the siren waits and the inside sounder sounds, or an inside warning comes first: both may be announced;
 * - an exit error has sounded it before, and is told of by signals alone;
 * - it sounds already, for a hold-up;
 * - the zone has swung out, while it did. */
static bool expiry_breaks(
        const struct world *world, const struct world_state *state, unsigned area) {
    const struct panel_area_state *now = &state->panel.areas[area];
    const struct site_settings *settings = &world->program.settings;
    return (world->expects & SITE_EXPECT_SIREN) == 0 && settings->siren_hold_back_s == 0 &&
            settings->off_route == SITE_OFF_ROUTE_NOW &&
            (now->flags & PANEL_AREA_EXIT_ERROR) == 0 && now->sound == PANEL_SILENT &&
            now->entry_zone < world->program.zone_count &&
            !panel_zones_has(&state->panel.swung_out, now->entry_zone);
}

/* A second entry changes nothing by a delay that the route has already. Either that is the one which runs, and its end,
 * if sooner, was as possible from the start; or it has shortened the one which runs before, and once more it ends no
 * sooner than it could then. Only a follower's exit error begins with delays on its route that were never loaded. */
static bool second_entry_changes_nothing(
        const struct world *world, const struct panel_area_state *now, unsigned zone) {
    const unsigned delay = world->program.zones[zone].delay[now->mode];
    return delay < world->program.settings.delay_count && panel_bit(now->routes, delay);
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
            &panel->confirming, &panel->following, &panel->latched};
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
            PANEL_AREA_STALLED | PANEL_AREA_EARLY | PANEL_AREA_WARN_DUE | PANEL_AREA_ENTRY_OVER |
            PANEL_AREA_CONFIRMED | PANEL_AREA_HELD_BACK | PANEL_AREA_INSIDE;
    if (state->calendar != 0 || panel->wrong_codes != 0 ||
            (panel->flags & ~(unsigned)PANEL_REFUSED) != 0 || !world_all_unset(world, state) ||
            panel_zones_any(&panel->alarmed) || panel_zones_any(&panel->held) ||
            panel_zones_any(&panel->sent) || panel_zones_any(&panel->swung_out) ||
            panel_zones_any(&panel->confirming)) {
        return false;
    }
    for (unsigned area = 0; area < world->program.area_count; area++) {
        if ((panel->areas[area].flags & kept) != 0) {
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
    switch (act_kind_of(world->routine->steps[step].act)->does) {
    case ACT_DOES_NOTHING:
        return true;
    case ACT_DOES_MOVE:
        return unit != UNHEARD_NO_UNIT &&
                is_before_requests(unheard, state, step, unheard->units[unit].areas) &&
                unheard_is(world, state, unit, &closed);
    case ACT_DOES_UNSET:
        return unheard->calm_acts && world->quiet_step[step] &&
                is_before_requests(unheard, state, step, 0xFF) && unheard_is_blank(world, state);
    case ACT_DOES_PRESS:
    case ACT_DOES_REQUEST:
    case ACT_DOES_OTHER:
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
