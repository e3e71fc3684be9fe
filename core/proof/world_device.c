/* Devices between the world and the panel: levels, holds, sleeps, and messages under way. */
#include "proof/interval.h"
#include "proof/world_walk.h"

static void tell_level(struct world_happening *now, unsigned zone, bool open) {
    struct proof_line *line = world_tape_line(now, PROOF_LINE_LEVEL);
    if (line != NULL) {
        line->zone = (uint8_t)zone;
        line->open = open;
    }
    world_tell_panel(now,
            (struct panel_input){.kind = open ? PANEL_IN_OPEN : PANEL_IN_CLOSE,
                    .zone = (uint8_t)zone,
                    .user = PANEL_NOBODY});
}

/* What would reach the panel by radio while that is jammed does not; it keeps the level it knew. */
static bool is_jammed(const struct world_happening *now, unsigned zone) {
    return (now->state->panel.flags & PANEL_JAMMED) != 0 &&
            panel_zones_has(&now->world->radio, zone);
}

static void unheard(struct world_happening *now, unsigned zone, bool open) {
    struct proof_line *line = world_tape_line(now, PROOF_LINE_UNHEARD);
    if (line != NULL) {
        line->zone = (uint8_t)zone;
        line->open = open;
    }
}

/* What the input sees: told at once, or after the device's latency. A second change while the first message is under
 * way arrives right behind it. */
static void report_level(struct world_happening *now, unsigned zone, bool open) {
    struct world_state *state = now->state;
    const struct span latency = now->world->latency[zone];
    if (latency.high_s == 0 && is_jammed(now, zone)) {
        unheard(now, zone, open);
    } else if (latency.high_s == 0) {
        tell_level(now, zone, open);
    } else if (panel_zones_has(&state->pending, zone)) {
        panel_zones_add(&state->twice, zone);
    } else {
        panel_zones_add(&state->pending, zone);
        world_add_effect(
                now, EXPLORE_START, WORLD_LATENCY + zone, world_scaled(now->world, latency));
    }
}

/* page: "loop response": an opening must last so long to be seen; one that ends before never reaches the panel. */
void world_change_level(struct world_happening *now, unsigned zone, bool open) {
    struct world_state *state = now->state;
    const struct span response = now->world->response[zone];
    if (panel_zones_has(&state->physical, zone) == open) {
        return;
    }
    if (open) {
        panel_zones_add(&state->physical, zone);
    } else {
        panel_zones_drop(&state->physical, zone);
    }
    if (!open && panel_zones_has(&state->unseen, zone)) {
        panel_zones_drop(&state->unseen, zone);
        world_add_effect(now, EXPLORE_STOP, WORLD_RESPONSE + zone, span_of(0, 0));
        now->too_short = true;
    } else if (now->lost && panel_zones_has(&now->world->radio, zone)) {
        return; /* the panel keeps the level it knew */
    } else if (open && response.high_s > 0) {
        panel_zones_add(&state->unseen, zone);
        world_add_effect(
                now, EXPLORE_START, WORLD_RESPONSE + zone, world_scaled(now->world, response));
    } else {
        report_level(now, zone, open);
    }
}

void world_opening_is_seen(struct world_happening *now, unsigned zone) {
    panel_zones_drop(&now->state->unseen, zone);
    report_level(now, zone, true);
}

void world_message_arrives(struct world_happening *now, unsigned zone) {
    struct world_state *state = now->state;
    const bool open =
            panel_zones_has(&state->physical, zone) && !panel_zones_has(&state->unseen, zone);
    const bool known = panel_zones_has(&state->panel.open, zone);
    const bool twice = panel_zones_has(&state->twice, zone);
    panel_zones_drop(&state->pending, zone);
    panel_zones_drop(&state->twice, zone);
    if (is_jammed(now, zone)) {
        unheard(now, zone, open);
    } else if (open != known) {
        tell_level(now, zone, open);
    } else if (twice) {
        tell_level(now, zone, !open);
        tell_level(now, zone, open);
    }
}

static void note_moved(struct world_happening *now) {
    now->moved = true;
    if (now->world->probe_marks) {
        interval_moved(now->world, now->state, now->step);
    }
}

/* A motion detector, a shock detector or a button trips; then it holds, and a battery one is blind for a while. */
void world_trip(struct world_happening *now, unsigned zone) {
    struct world_state *state = now->state;
    const struct world *world = now->world;
    if (panel_zones_has(&state->physical, zone)) {
        if (world->hold[zone].high_s > 0) {
            world_add_effect(
                    now, EXPLORE_START, WORLD_HOLD + zone, world_scaled(world, world->hold[zone]));
        }
        return;
    }
    if (panel_zones_has(&state->asleep, zone)) {
        return;
    }
    note_moved(now);
    world_change_level(now, zone, true);
    if (world->hold[zone].high_s > 0) {
        world_add_effect(
                now, EXPLORE_START, WORLD_HOLD + zone, world_scaled(world, world->hold[zone]));
    } else {
        world_change_level(now, zone, false);
    }
    if (world->sleep[zone].high_s > 0) {
        panel_zones_add(&state->asleep, zone);
        world_add_effect(
                now, EXPLORE_START, WORLD_SLEEP + zone, world_scaled(world, world->sleep[zone]));
    }
}

bool world_is_level(const struct world *world, unsigned zone) {
    return site_sense_is_level((enum site_sense)world->program.zones[zone].sense);
}

void world_move_door(struct world_happening *now, int door, bool open) {
    const size_t index = (size_t)door;
    if (world_bit_has(now->state->doors, index) == open) {
        return;
    }
    note_moved(now);
    world_bit_set(now->state->doors, index, open);
    for (unsigned zone = 0; zone < now->world->program.zone_count; zone++) {
        if (!panel_zones_has(&now->world->of_door[index], zone)) {
            continue;
        }
        if (world_is_level(now->world, zone)) {
            world_change_level(now, zone, open);
        } else if (!open) {
            world_trip(now, zone); /* a door falling shut is a blow to what listens for blows */
        }
    }
}
