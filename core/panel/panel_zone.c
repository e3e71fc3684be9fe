/* What a zone's edges do: who watches it, which row of the table, and what stands between a trip and an alarm (pulse
 * count, cross-zone, follower hold). */
#include "panel/panel_walk.h"

enum site_behaviour panel_behaviour_of(const struct panel_program *program,
        const struct panel_state *state, unsigned zone, unsigned area) {
    const struct panel_zone *keyed = &program->zones[zone];
    const struct panel_area_state *now = &state->areas[area];
    if (now->phase == PANEL_UNSET ||
            program->tables->classes[keyed->unset_behaviour].always_watched) {
        return (enum site_behaviour)keyed->unset_behaviour;
    }
    return (enum site_behaviour)keyed->behaviour[now->mode];
}

static bool all_unset(const struct panel_walk *walk, unsigned areas) {
    for (unsigned area = 0; area < walk->program->area_count; area++) {
        if (panel_bit(areas, area) && walk->state->areas[area].phase != PANEL_UNSET) {
            return false;
        }
    }
    return true;
}

/* page: chime (opening edge, only while all its areas are unset, not bypassed) */
static void chime(struct panel_walk *walk, unsigned zone) {
    const struct panel_zone *keyed = panel_zone(walk, zone);
    if (keyed->chime && all_unset(walk, keyed->serves) &&
            !panel_zones_has(&walk->state->bypassed, zone)) {
        struct panel_output *output = panel_output_add(walk, PANEL_OUT_CHIME, PANEL_WHY_BEHAVIOUR);
        output->zone = (uint8_t)zone;
        output->area = keyed->area;
    }
}

/* page: pulse count slides: each pulse starts its own timer, at most n - 1 run. True when the count is reached. */
static bool pulses_reached(struct panel_walk *walk, unsigned zone) {
    const struct panel_zone *keyed = panel_zone(walk, zone);
    if (keyed->pulse_count <= 1) {
        return true;
    }
    uint8_t *running = &walk->state->pulses[zone];
    unsigned count = 0;
    unsigned free_slot = 4;
    for (unsigned slot = 4; slot-- > 0;) {
        if (panel_bit(*running, slot)) {
            count++;
        } else {
            free_slot = slot;
        }
    }
    if (count + 1 >= keyed->pulse_count || walk->input.kind == PANEL_IN_GROSS) {
        for (unsigned slot = 0; slot < 4; slot++) {
            if (panel_bit(*running, slot)) {
                panel_stop_timer(walk, panel_timer_of(PANEL_TIMER_PULSE_1 + slot, zone));
            }
        }
        *running = 0;
        return true;
    }
    *running = (uint8_t)(*running | 1U << free_slot);
    panel_start_timer(
            walk, panel_timer_of(PANEL_TIMER_PULSE_1 + free_slot, zone), keyed->pulse_window_s);
    return false;
}

/* page: the partner acts alone when its partner cannot trip now (bypassed, swung out, out in this mode, supervision
 * lost, masked, out after the siren) */
static bool can_trip(const struct panel_walk *walk, unsigned zone) {
    const struct panel_state *state = walk->state;
    return panel_zone_live(state, zone) && !panel_zones_has(&state->swung_out, zone) &&
            !panel_zones_has(&state->lost, zone) && !panel_zones_has(&state->masked, zone) &&
            panel_behaviour_of(walk->program, state, zone, panel_zone(walk, zone)->area) !=
            SITE_OUT;
}

static void end_cross(struct panel_walk *walk, unsigned zone) {
    if (panel_zones_has(&walk->state->cross_lone, zone)) {
        panel_zones_drop(&walk->state->cross_lone, zone);
        panel_stop_timer(walk, panel_timer_of(PANEL_TIMER_CROSS, zone));
    }
}

/* True when the trip counts as an alarm by itself or completes its pair; ret_pair: the partner that alarms with it. */
static bool cross_passes(
        struct panel_walk *walk, unsigned area, unsigned zone, unsigned *ret_pair) {
    const unsigned partner = panel_zone(walk, zone)->cross_with;
    *ret_pair = PANEL_NO_ZONE;
    if (partner >= walk->program->zone_count || !can_trip(walk, partner)) {
        end_cross(walk, zone);
        return true;
    }
    if (panel_zones_has(&walk->state->cross_lone, partner)) {
        end_cross(walk, partner);
        end_cross(walk, zone);
        *ret_pair = partner;
        return true;
    }
    const bool again = panel_zones_has(&walk->state->cross_lone, zone);
    if (again && walk->program->settings.same_cross_counts) {
        end_cross(walk, zone);
        return true;
    }
    panel_say(walk, PANEL_SAYS_LONE_TRIP, zone, area, PANEL_WHY_CROSS);
    if (!again) {
        panel_zones_add(&walk->state->cross_lone, zone);
        panel_start_timer(walk, panel_timer_of(PANEL_TIMER_CROSS, zone),
                walk->program->settings.cross_window_s);
        if (walk->program->settings.lone_cross_signal && panel_zone(walk, zone)->reports) {
            panel_signal(walk,
                    (struct event){.kind = EVENT_UNVERIFIED,
                            .zone = (uint8_t)zone,
                            .user = EVENT_NOBODY,
                            .area = (uint8_t)area},
                    PANEL_WHY_CROSS);
        }
    }
    return false;
}

static void alarm_by_row(struct panel_walk *walk, unsigned area, unsigned zone, bool off_route,
        enum panel_reason why) {
    if (off_route) {
        panel_alarm_off_route(walk, area, zone, why);
    } else {
        panel_alarm_raise(walk, area, zone, why);
    }
}

/* Pulse count first, then the cross-zone pair, then the alarm. */
static void trip_to_alarm(struct panel_walk *walk, unsigned area, unsigned zone, bool off_route,
        enum panel_reason why) {
    unsigned pair = PANEL_NO_ZONE;
    if (!pulses_reached(walk, zone) || !cross_passes(walk, area, zone, &pair)) {
        return;
    }
    if (pair != PANEL_NO_ZONE) {
        alarm_by_row(walk, area, pair, off_route, PANEL_WHY_CROSS);
    }
    alarm_by_row(walk, area, zone, off_route, why);
}

static bool on_running_route(const struct panel_walk *walk, unsigned area, unsigned zone) {
    return (panel_zone(walk, zone)->follows & walk->state->areas[area].routes) != 0;
}

/* page: follower: hold 0..5 s for its door first (radio followers overtake contacts) */
static void follower_trips(struct panel_walk *walk, unsigned area, unsigned zone) {
    const struct panel_zone *keyed = panel_zone(walk, zone);
    if (walk->state->areas[area].phase == PANEL_ENTERING && on_running_route(walk, area, zone)) {
        return;
    }
    if (keyed->hold_s <= 0) {
        const bool entering = walk->state->areas[area].phase == PANEL_ENTERING;
        trip_to_alarm(walk, area, zone, entering, PANEL_WHY_FOLLOWER_ALONE);
    } else if (!panel_zones_has(&walk->state->following, zone)) {
        /* page: a second trip does not restart it */
        panel_zones_add(&walk->state->following, zone);
        panel_start_timer(walk, panel_timer_of(PANEL_TIMER_HOLD, zone), keyed->hold_s);
    }
}

void panel_hold_over(struct panel_walk *walk, unsigned zone) {
    const unsigned area = panel_zone(walk, zone)->area;
    if (!panel_zones_has(&walk->state->following, zone)) {
        return;
    }
    panel_zones_drop(&walk->state->following, zone);
    const uint8_t phase = walk->state->areas[area].phase;
    if (phase == PANEL_SET || (phase == PANEL_ENTERING && !on_running_route(walk, area, zone))) {
        trip_to_alarm(walk, area, zone, phase == PANEL_ENTERING, PANEL_WHY_FOLLOWER_ALONE);
    }
}

/* page: exit restart once: the first opening, after a closing, of the same door during this exit loads the full exit
 * delay again; never for remote or auto-set. Somebody left = an entry opening changed level either way. */
static void exit_door(struct panel_walk *walk, unsigned area, unsigned zone) {
    struct panel_area_state *now = panel_area(walk, area);
    now->flags |= PANEL_AREA_LEFT;
    if (walk->program->settings.completion == SITE_COMPLETE_FINAL_DOOR) {
        panel_stop_timer(walk, panel_timer_of(PANEL_TIMER_FINAL_DOOR, area));
    }
    if (walk->program->settings.exit_restart &&
            panel_zones_has(&walk->state->closed_in_exit, zone) &&
            (now->flags & PANEL_AREA_RESTARTED) == 0 && (now->flags & PANEL_AREA_AT_KEYPAD) != 0 &&
            (now->flags & PANEL_AREA_RIDES) == 0) {
        now->flags |= PANEL_AREA_RESTARTED;
        panel_restart_timer(walk, panel_timer_of(PANEL_TIMER_EXIT, area),
                walk->program->settings.modes[now->mode].exit_delay_s);
    }
}

/* A member's exit, on which the common area rides: its doors are the common area's. */
static void exit_door_of_riders(struct panel_walk *walk, unsigned area, unsigned zone) {
    exit_door(walk, area, zone);
    if ((panel_area(walk, area)->flags & PANEL_AREA_RIDES) == 0) {
        return;
    }
    for (unsigned member = 0; member < walk->program->area_count; member++) {
        if (member != area && panel_area(walk, member)->phase == PANEL_EXITING) {
            exit_door(walk, member, zone);
        }
    }
}

/* page: part protection holds during a part -> full exit except entry zones and interior. Which those are says the mode
 * that is being set: whoever sets must be able to walk out. */
static bool part_protects(const struct panel_walk *walk, unsigned area, unsigned zone) {
    const struct panel_area_state *now = &walk->state->areas[area];
    if (now->from == 0) {
        return false;
    }
    const uint8_t before = panel_zone(walk, zone)->behaviour[now->from - 1];
    return before == SITE_PERIMETER || before == SITE_DAY;
}

static enum site_behaviour acting_behaviour(
        const struct panel_walk *walk, unsigned area, unsigned zone) {
    const enum site_behaviour behaviour =
            panel_behaviour_of(walk->program, walk->state, zone, area);
    return behaviour == SITE_OUT && part_protects(walk, area, zone) ? SITE_PERIMETER : behaviour;
}

static void exit_trip(struct panel_walk *walk, unsigned area, unsigned zone) {
    if (part_protects(walk, area, zone)) {
        trip_to_alarm(walk, area, zone, false, PANEL_WHY_BEHAVIOUR);
    } else if (walk->program->settings.exit_trip == SITE_EXIT_TRIP_ALARM) {
        trip_to_alarm(walk, area, zone, false, PANEL_WHY_EXIT_TRIP);
    } else if (pulses_reached(walk, zone)) {
        panel_area(walk, area)->flags |= PANEL_AREA_STALLED;
        panel_inside(walk, area, true, PANEL_WHY_EXIT_TRIP, zone);
    }
}

static void react(struct panel_walk *walk, unsigned area, unsigned zone) {
    const enum site_behaviour behaviour = acting_behaviour(walk, area, zone);
    const uint8_t phase = panel_area(walk, area)->phase;
    const enum panel_reaction reaction =
            (enum panel_reaction)walk->program->tables->reaction[behaviour][phase];
    switch (reaction) {
    case PANEL_DOES_CHIME:
    case PANEL_DOES_NOTHING:
    case PANEL_REACTION_COUNT:
        break;
    case PANEL_DOES_EXIT_DOOR:
        exit_door_of_riders(walk, area, zone);
        break;
    case PANEL_DOES_EXIT_TRIP:
        exit_trip(walk, area, zone);
        break;
    case PANEL_DOES_ENTRY:
    case PANEL_DOES_SECOND_ENTRY:
        panel_area_event(walk, area, PANEL_EV_ENTRY_TRIP, zone);
        break;
    case PANEL_DOES_FOLLOW_ALONE:
    case PANEL_DOES_FOLLOW:
        follower_trips(walk, area, zone);
        break;
    case PANEL_DOES_ALARM:
        trip_to_alarm(walk, area, zone, false, PANEL_WHY_BEHAVIOUR);
        break;
    case PANEL_DOES_OFF_ROUTE:
        trip_to_alarm(walk, area, zone, true, PANEL_WHY_OFF_ROUTE);
        break;
    case PANEL_DOES_TROUBLE:
        panel_say(walk, PANEL_SAYS_TROUBLE, zone, area, PANEL_WHY_BEHAVIOUR);
        panel_tone(walk, PANEL_TONE_TROUBLE, area, true);
        break;
    case PANEL_DOES_OWN:
        if (pulses_reached(walk, zone)) {
            panel_alarm_own(walk, zone);
        }
        break;
    }
}

/* page: somebody left = an entry opening changed level either way. Whoever leaves a member goes out through the common
 * area, so its door counts for him although others are still in and it is not setting itself. */
static void door_of_unset_common(struct panel_walk *walk, unsigned zone, bool opens) {
    const struct panel_zone *keyed = panel_zone(walk, zone);
    if (!panel_bit(walk->program->common_areas, keyed->area) ||
            panel_area(walk, keyed->area)->phase != PANEL_UNSET ||
            keyed->unset_behaviour != SITE_ENTRY || !panel_zone_live(walk->state, zone)) {
        return;
    }
    for (unsigned member = 0; member < walk->program->area_count; member++) {
        if (panel_area(walk, member)->phase != PANEL_EXITING) {
            continue;
        }
        if (opens) {
            exit_door(walk, member, zone);
        } else {
            panel_area(walk, member)->flags |= PANEL_AREA_LEFT;
            panel_zones_add(&walk->state->closed_in_exit, zone);
        }
    }
}

static bool starts_entry(const struct panel_walk *walk, unsigned area, unsigned zone) {
    return panel_behaviour_of(walk->program, walk->state, zone, area) == SITE_ENTRY;
}

void panel_zone_trips(struct panel_walk *walk, unsigned zone) {
    const struct panel_zone *keyed = panel_zone(walk, zone);
    if (!panel_zone_live(walk->state, zone)) {
        return;
    }
    const enum site_behaviour own =
            panel_behaviour_of(walk->program, walk->state, zone, keyed->area);
    if (walk->program->tables->reaction[own][PANEL_UNSET] == PANEL_DOES_CHIME) {
        chime(walk, zone);
    }
    react(walk, keyed->area, zone);
    door_of_unset_common(walk, zone, true);
    /* page: a boundary door belongs to one area and starts entry in every set area it serves */
    for (unsigned area = 0; area < walk->program->area_count; area++) {
        if (area != keyed->area && panel_bit(keyed->serves, area) &&
                panel_area(walk, area)->phase != PANEL_UNSET && starts_entry(walk, area, zone)) {
            react(walk, area, zone);
        }
    }
}

/* page: trip restarts the 8 h of a zone that has swung out */
static void suppressed_trip(struct panel_walk *walk, unsigned zone) {
    if (walk->state->swings[zone] > 0) {
        panel_start_timer(walk, panel_timer_of(PANEL_TIMER_SWINGER, zone),
                walk->program->settings.swinger_reset_s);
    }
}

void panel_zone_opens(struct panel_walk *walk, unsigned zone) {
    if (panel_zones_has(&walk->state->open, zone)) {
        return; /* no edge */
    }
    panel_zones_add(&walk->state->open, zone);
    if ((walk->state->flags & (PANEL_DEAD | PANEL_MASKED_UP)) != 0) {
        return;
    }
    if (panel_zones_has(&walk->state->swung_out, zone)) {
        suppressed_trip(walk, zone);
    }
    panel_zone_trips(walk, zone);
}

static bool final_door(const struct panel_walk *walk, unsigned area, unsigned zone) {
    return walk->program->settings.completion == SITE_COMPLETE_FINAL_DOOR &&
            walk->state->areas[area].phase == PANEL_EXITING && starts_entry(walk, area, zone);
}

void panel_zone_closes(struct panel_walk *walk, unsigned zone) {
    struct panel_state *state = walk->state;
    const struct panel_zone *keyed = panel_zone(walk, zone);
    if (!panel_zones_has(&state->open, zone)) {
        return;
    }
    panel_zones_drop(&state->open, zone);
    panel_zones_drop(&state->after_siren, zone);
    if ((state->flags & (PANEL_DEAD | PANEL_MASKED_UP)) != 0) {
        return;
    }
    for (unsigned area = 0; area < walk->program->area_count; area++) {
        struct panel_area_state *now = panel_area(walk, area);
        if (!panel_bit(keyed->serves, area) || now->phase != PANEL_EXITING ||
                !panel_zone_live(state, zone) || !starts_entry(walk, area, zone)) {
            continue;
        }
        panel_zones_add(&state->closed_in_exit, zone);
        now->flags |= PANEL_AREA_LEFT;
        for (unsigned member = 0; member < walk->program->area_count; member++) {
            if ((now->flags & PANEL_AREA_RIDES) != 0 &&
                    panel_area(walk, member)->phase == PANEL_EXITING) {
                panel_area(walk, member)->flags |= PANEL_AREA_LEFT;
            }
        }
        if (final_door(walk, area, zone)) {
            panel_start_timer(walk, panel_timer_of(PANEL_TIMER_FINAL_DOOR, area),
                    walk->program->settings.final_door_s);
        }
    }
    door_of_unset_common(walk, zone, false);
    if (panel_zones_has(&state->forced, zone) &&
            panel_area(walk, keyed->area)->phase != PANEL_EXITING &&
            walk->program->settings.reopened == SITE_BECOMES_LIVE) {
        panel_zones_drop(&state->forced, zone);
        panel_zones_drop(&state->bypassed, zone);
    }
    if (panel_zones_has(&state->sent, zone) &&
            walk->program->settings.restore == SITE_RESTORE_CLOSURE) {
        panel_restore(walk, zone);
    }
}
