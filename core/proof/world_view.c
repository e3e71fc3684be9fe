/* What can be seen of a state of the world: what keypads show and sounders sound, and whether all is over. */
#include "proof/world.h"

static bool area_shows(const struct world *world, const struct world_state *state,
        enum site_sign sign, unsigned area) {
    const struct panel_area_state *now = &state->panel.areas[area];
    switch (sign) {
    case SITE_SIGN_SET:
        return now->phase != PANEL_UNSET;
    case SITE_SIGN_UNSET:
        return now->phase == PANEL_UNSET;
    case SITE_SIGN_EXIT_TONE:
        return now->phase == PANEL_EXITING;
    case SITE_SIGN_ENTRY_TONE:
        return now->phase == PANEL_ENTERING;
    case SITE_SIGN_SIREN:
        return now->sound != PANEL_SILENT;
    case SITE_SIGN_READY:
        return panel_is_ready(&world->program, &state->panel, area, SITE_MODE_FULL, NULL);
    case SITE_SIGN_NOT_READY:
        return !panel_is_ready(&world->program, &state->panel, area, SITE_MODE_FULL, NULL);
    case SITE_SIGN_WARNING:
        return (now->flags & (PANEL_AREA_AUTO_WARN | PANEL_AREA_WARNING | PANEL_AREA_INSIDE)) != 0;
    case SITE_SIGN_REFUSED:
        return (state->panel.flags & PANEL_REFUSED) != 0;
    case SITE_SIGN_NONE:
    case SITE_SIGN_CHIME:
    case SITE_SIGN_DOOR_OPEN:
    case SITE_SIGN_COUNT:
        break;
    }
    return false;
}

/* "Ready" and "unset" of no named area mean every area, the other signs any. */
bool world_sign_shows(const struct world *world, const struct world_state *state,
        enum site_sign sign, int area, int door, size_t actor) {
    if (sign == SITE_SIGN_CHIME) {
        return panel_bit(state->chimed, (unsigned)actor);
    }
    if (sign == SITE_SIGN_DOOR_OPEN) {
        return door != SITE_NONE && (state->doors[door / 64] >> (door % 64) & 1U) != 0;
    }
    if (area != SITE_NONE) {
        return area_shows(world, state, sign, (unsigned)area);
    }
    const bool every = sign == SITE_SIGN_READY || sign == SITE_SIGN_UNSET;
    for (unsigned i = 0; i < world->program.area_count; i++) {
        if (area_shows(world, state, sign, i) != every) {
            return !every;
        }
    }
    return every;
}

bool world_all_unset(const struct world *world, const struct world_state *state) {
    for (unsigned area = 0; area < world->program.area_count; area++) {
        const struct panel_area_state *now = &state->panel.areas[area];
        if (now->phase != PANEL_UNSET || now->alarm != PANEL_CALM || now->sound != PANEL_SILENT ||
                (now->flags & (PANEL_AREA_AUTO_WARN | PANEL_AREA_HELD_BACK)) != 0 ||
                now->postponed != 0) {
            return false;
        }
    }
    return (state->panel.flags & (PANEL_MAINS_LOST | PANEL_LOCKED | PANEL_MASKED_UP)) == 0;
}

/* Messages under way count: a 24-hour window that was opened has not been heard of yet. */
bool world_messages_are_harmless(const struct world *world, const struct world_state *state) {
    const uint64_t first = state->pending.word[0] | state->unseen.word[0];
    const uint64_t second = state->pending.word[1] | state->unseen.word[1];
    return (first & ~world->quiet.word[0]) == 0 && (second & ~world->quiet.word[1]) == 0;
}

/* Calm: unset, and what the people still do cannot break a promise of an unset panel. */
bool world_is_calm(const struct world *world, const struct world_state *state) {
    if (world->options.no_calm || state->calendar != 0 || !world_all_unset(world, state) ||
            !world_messages_are_harmless(world, state)) {
        return false;
    }
    for (size_t actor = 0; actor < world->actor_count; actor++) {
        if (!world->harmless[actor][state->next[actor]]) {
            return false;
        }
    }
    return true;
}

bool world_all_done(const struct world *world, const struct world_state *state) {
    for (size_t actor = 0; actor < world->actor_count; actor++) {
        if (state->wait[actor] != WORLD_DONE) {
            return false;
        }
    }
    return true;
}
