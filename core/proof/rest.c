#include "proof/rest.h"

static void stop(struct explore_effects *effects, unsigned activity) {
    effects->overflowed = effects->overflowed || effects->count == EXPLORE_EFFECT_MAX;
    if (!effects->overflowed) {
        effects->effects[effects->count] = (struct explore_effect){
                .kind = EXPLORE_STOP, .activity = (explore_activity)activity};
        effects->count++;
    }
}

static void stop_timer(
        struct explore_effects *effects, enum panel_timer_kind kind, unsigned index) {
    stop(effects, panel_timer_of(kind, index));
}

/* ---- doors and detectors ---------------------------------------------------------------------------------------- */

static void rest_zone(const struct world *world, struct world_state *state, unsigned zone,
        bool closed, struct explore_effects *effects) {
    const bool level = site_sense_is_level((enum site_sense)world->program.zones[zone].sense);
    if (panel_zones_has(&state->pending, zone)) {
        stop(effects, WORLD_LATENCY + zone);
    }
    if (panel_zones_has(&state->physical, zone) && !level) {
        stop(effects, WORLD_HOLD + zone);
    }
    if (panel_zones_has(&state->asleep, zone)) {
        stop(effects, WORLD_SLEEP + zone);
    }
    panel_zones_drop(&state->pending, zone);
    panel_zones_drop(&state->twice, zone);
    panel_zones_drop(&state->asleep, zone);
    if (closed || !level) {
        panel_zones_drop(&state->physical, zone);
    }
    if (panel_zones_has(&state->physical, zone)) {
        panel_zones_add(&state->panel.open, zone);
    } else {
        panel_zones_drop(&state->panel.open, zone);
    }
}

static void rest_unit(const struct world *world, struct world_state *state,
        const struct unheard_unit *unit, bool closed, struct explore_effects *effects) {
    if (unit->door != SITE_NONE && closed) {
        state->doors[(size_t)unit->door / 64] &= ~((uint64_t)1 << ((size_t)unit->door % 64));
    }
    for (unsigned zone = 0; zone < world->program.zone_count; zone++) {
        if (panel_zones_has(&unit->zones, zone)) {
            rest_zone(world, state, zone, closed, effects);
        }
    }
}

/* ---- alarms ----------------------------------------------------------------------------------------------------- */

/* Counts of alarms begin anew with the next setting of the zone's area. */
static void forget_swings(const struct world *world, struct world_state *state, unsigned area,
        struct explore_effects *effects) {
    for (unsigned zone = 0; zone < world->program.zone_count; zone++) {
        if (world->program.zones[zone].area == area && state->panel.swings[zone] != 0) {
            stop_timer(effects, PANEL_TIMER_SWINGER, zone);
            state->panel.swings[zone] = 0;
            panel_zones_drop(&state->panel.swung_out, zone);
        }
    }
}

/* A code that is surely still to come wipes out what happens until then: as good as keyed in now. */
static void wipe(
        const struct world *world, struct world_state *state, struct explore_effects *effects) {
    struct panel_input code = {0};
    struct world_state after = *state;
    if (unheard_is_blank(world, state) || !moot_is_wiped(world, state, &code)) {
        return;
    }
    panel_step(&world->program, &after.panel, code, world->outputs);
    if (!world_all_unset(world, &after)) {
        return;
    }
    *state = after;
    for (size_t i = 0; i < world->outputs->count; i++) {
        if (world->outputs->list[i].kind == PANEL_OUT_STOP) {
            stop(effects, world->outputs->list[i].timer);
        }
    }
    state->panel.sent = (struct panel_zones){0};
}

/* Of an alarm that hangs on its abort window: that, and one zone that waits for it. */
static void rest_held(const struct world *world, struct world_state *state, unsigned area,
        struct explore_effects *effects) {
    struct panel_state *panel = &state->panel;
    struct panel_area_state *now = &panel->areas[area];
    bool first = true;
    if (now->phase == PANEL_ENTERING) {
        stop_timer(effects, PANEL_TIMER_ENTRY, area);
    }
    if (now->sound != PANEL_SILENT) {
        stop_timer(effects, PANEL_TIMER_SIREN, area);
    }
    *now = (struct panel_area_state){.phase = PANEL_SET,
            .mode = now->mode,
            .alarm = PANEL_HELD,
            .setter = PANEL_NOBODY,
            .entry_zone = PANEL_NO_ZONE,
            .siren_zone = PANEL_NO_ZONE};
    for (unsigned zone = 0; zone < world->program.zone_count; zone++) {
        if (world->program.zones[zone].area != area) {
            continue;
        }
        if (panel_zones_has(&panel->following, zone)) {
            stop_timer(effects, PANEL_TIMER_HOLD, zone);
        }
        panel_zones_drop(&panel->following, zone);
        /* A boundary door's window is another area's too. */
        if (panel_zones_has(&panel->confirming, zone) &&
                world->program.zones[zone].serves == 1U << area) {
            stop_timer(effects, PANEL_TIMER_CONFIRM, zone);
            panel_zones_drop(&panel->confirming, zone);
        }
        panel_zones_drop(&panel->alarmed, zone);
        panel_zones_drop(&panel->after_siren, zone);
        panel_zones_drop(&panel->recent, zone);
        panel_zones_drop(&panel->closed_in_exit, zone);
        if (panel_zones_has(&panel->held, zone) && !first) {
            panel_zones_drop(&panel->held, zone);
        }
        first = first && !panel_zones_has(&panel->held, zone);
    }
    forget_swings(world, state, area, effects);
}

static void rest_alarms(
        const struct world *world, struct world_state *state, struct explore_effects *effects) {
    wipe(world, state, effects);
    for (unsigned area = 0; area < world->program.area_count; area++) {
        if (moot_is_held(world, state, area)) {
            rest_held(world, state, area, effects);
        } else if (world->moot.wiped && state->panel.areas[area].phase == PANEL_UNSET &&
                state->panel.areas[area].alarm == PANEL_CALM) {
            forget_swings(world, state, area, effects);
        }
    }
}

void rest_all(
        const struct world *world, struct world_state *state, struct explore_effects *effects) {
    const struct unheard *unheard = &world->unheard;
    bool closed = false;
    if (!unheard->on) {
        return;
    }
    if (world->moot.wiped && unheard->calm_acts) {
        rest_alarms(world, state, effects);
    }
    for (size_t k = 0; k < unheard->unit_count; k++) {
        if (unheard_is(world, state, k, &closed)) {
            rest_unit(world, state, &unheard->units[k], closed, effects);
        }
    }
}
