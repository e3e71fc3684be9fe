/* The phases of an area: unset, exit time, set, entry time. Rows of the transition table, and what their actions do. */
#include "panel/panel_walk.h"

static bool in_area(const struct panel_walk *walk, unsigned zone, unsigned area) {
    return panel_bit(panel_zone(walk, zone)->serves, area);
}

static int32_t exit_delay(const struct panel_walk *walk, unsigned area) {
    return walk->program->settings.modes[walk->state->areas[area].mode].exit_delay_s;
}

static bool is_common(const struct panel_walk *walk, unsigned area) {
    return panel_bit(walk->program->common_areas, area);
}

static void stop_recent(struct panel_walk *walk, unsigned area) {
    if ((panel_area(walk, area)->flags & PANEL_AREA_RECENT) != 0) {
        panel_area(walk, area)->flags &= ~(uint32_t)PANEL_AREA_RECENT;
        panel_stop_timer(walk, panel_timer_of(PANEL_TIMER_RECENT, area));
    }
}

/* page: Swinger clears at the area's next setting; 24-hour zones: only the 8 h. */
static void clear_period(struct panel_walk *walk, unsigned area) {
    struct panel_state *state = walk->state;
    stop_recent(walk, area);
    panel_area(walk, area)->flags &= ~(uint32_t)(PANEL_AREA_LEFT | PANEL_AREA_RESTARTED |
            PANEL_AREA_EXIT_ERROR | PANEL_AREA_NO_CONFIRM | PANEL_AREA_STALLED | PANEL_AREA_EARLY |
            PANEL_AREA_RIDES | PANEL_AREA_CONFIRMED);
    for (unsigned zone = 0; zone < walk->program->zone_count; zone++) {
        const unsigned owner = panel_zone(walk, zone)->area;
        if (owner == area || is_common(walk, owner)) {
            panel_zones_drop(&state->closed_in_exit, zone); /* this exit has seen no closing yet */
        }
        if (owner == area && !panel_class(walk, zone)->always_watched && state->swings[zone] > 0) {
            state->swings[zone] = 0;
            panel_zones_drop(&state->swung_out, zone);
            panel_stop_timer(walk, panel_timer_of(PANEL_TIMER_SWINGER, zone));
        }
    }
}

static void stop_exit(struct panel_walk *walk, unsigned area) {
    if ((panel_area(walk, area)->flags & PANEL_AREA_RIDES) == 0) {
        panel_stop_timer(walk, panel_timer_of(PANEL_TIMER_EXIT, area));
        panel_tone(walk, PANEL_TONE_EXIT, area, false);
    }
    if (walk->program->settings.completion == SITE_COMPLETE_FINAL_DOOR) {
        panel_stop_timer(walk, panel_timer_of(PANEL_TIMER_FINAL_DOOR, area));
    }
    panel_area(walk, area)->flags &= ~(uint32_t)PANEL_AREA_RIDES;
    panel_area(walk, area)->from = 0;
}

static enum panel_reason setting_reason(const struct panel_area_state *now) {
    if ((now->flags & PANEL_AREA_FORCED) != 0) {
        return PANEL_WHY_FORCED;
    }
    return now->setter == PANEL_NOBODY && (now->flags & PANEL_AREA_AT_KEYPAD) == 0
            ? PANEL_WHY_AUTO_SET
            : PANEL_WHY_CODE;
}

/* page: Memory ... shown until an entitled reset or the area's next completed setting */
static void be_set(struct panel_walk *walk, unsigned area) {
    struct panel_area_state *now = panel_area(walk, area);
    for (unsigned zone = 0; zone < walk->program->zone_count; zone++) {
        if (panel_zone(walk, zone)->area == area) {
            panel_zones_drop(&walk->state->alarmed, zone);
        }
    }
    now->flags &= ~(uint32_t)PANEL_AREA_MEMORY;
    panel_say(walk, PANEL_SAYS_SET, PANEL_NO_ZONE, area, PANEL_WHY_NONE);
    panel_signal(walk,
            (struct event){
                    .kind = (now->flags & PANEL_AREA_FORCED) != 0 ? EVENT_FORCED_SET : EVENT_SET,
                    .zone = EVENT_NO_ZONE,
                    .user = now->setter,
                    .area = (uint8_t)area},
            setting_reason(now));
    if (walk->program->settings.recent_closing_s > 0) {
        now->flags |= PANEL_AREA_RECENT;
        panel_start_timer(walk, panel_timer_of(PANEL_TIMER_RECENT, area),
                walk->program->settings.recent_closing_s);
    }
}

static void read_levels(struct panel_walk *walk, unsigned area) {
    const struct panel_tables *tables = walk->program->tables;
    for (unsigned zone = 0; zone < walk->program->zone_count; zone++) {
        const struct panel_zone *keyed = panel_zone(walk, zone);
        if (keyed->area == area && panel_zones_has(&walk->state->open, zone) &&
                panel_zone_live(walk->state, zone) &&
                site_sense_is_level((enum site_sense)keyed->sense) &&
                tables->exit_end[panel_behaviour_of(walk->program, walk->state, zone, area)] ==
                        PANEL_ENDS_ALARM) {
            panel_alarm_raise(walk, area, zone, PANEL_WHY_INTERIOR_OPEN);
        }
    }
}

static int32_t entry_delay(const struct panel_walk *walk, unsigned area, unsigned zone) {
    const unsigned delay = panel_zone(walk, zone)->delay[walk->state->areas[area].mode];
    if (delay < walk->program->settings.delay_count) {
        return walk->program->settings.delays[delay].seconds_s;
    }
    if (panel_behaviour_of(walk->program, walk->state, zone, area) != SITE_FOLLOWER) {
        return 0; /* page: own entry delay or instant */
    }
    /* A follower contact left open at the end of the exit time has no delay of its own: its first route's. */
    for (unsigned route = 0; route < walk->program->settings.delay_count; route++) {
        if (panel_bit(panel_zone(walk, zone)->follows, route)) {
            return walk->program->settings.delays[route].seconds_s;
        }
    }
    return 0;
}

static void join_route(struct panel_walk *walk, unsigned area, unsigned zone) {
    const unsigned delay = panel_zone(walk, zone)->delay[walk->state->areas[area].mode];
    struct panel_area_state *now = panel_area(walk, area);
    const bool follows =
            panel_behaviour_of(walk->program, walk->state, zone, area) == SITE_FOLLOWER;
    now->routes = (uint16_t)(now->routes |
            (delay < walk->program->settings.delay_count ? 1U << delay
                            : follows                    ? (unsigned)panel_zone(walk, zone)->follows
                                                         : 0U));
    /* page: only its own route's door or a code clears the follower hold */
    for (unsigned other = 0; other < walk->program->zone_count; other++) {
        if (panel_zones_has(&walk->state->following, other) &&
                panel_zone(walk, other)->area == area &&
                (panel_zone(walk, other)->follows & now->routes) != 0) {
            panel_zones_drop(&walk->state->following, other);
            panel_stop_timer(walk, panel_timer_of(PANEL_TIMER_HOLD, other));
        }
    }
}

static void start_entry(struct panel_walk *walk, unsigned area, unsigned zone) {
    struct panel_area_state *now = panel_area(walk, area);
    now->entry_zone = (uint8_t)zone;
    now->flags |= PANEL_AREA_NO_CONFIRM;
    join_route(walk, area, zone);
    panel_tone(walk, PANEL_TONE_ENTRY, area, true);
    if (walk->program->settings.early_warning && (now->flags & PANEL_AREA_EXIT_ERROR) == 0) {
        now->flags |= PANEL_AREA_EARLY;
        panel_signal(walk,
                (struct event){.kind = EVENT_ENTRY_STARTED,
                        .zone = (uint8_t)zone,
                        .user = EVENT_NOBODY,
                        .area = (uint8_t)area},
                PANEL_WHY_BEHAVIOUR);
    }
    panel_start_timer(walk, panel_timer_of(PANEL_TIMER_ENTRY, area), entry_delay(walk, area, zone));
}

/* page: second one: shorten | keep first, never lengthens */
static void second_entry(struct panel_walk *walk, unsigned area, unsigned zone) {
    join_route(walk, area, zone);
    if (walk->program->settings.second_entry == SITE_SECOND_SHORTEN) {
        panel_shorten_timer(
                walk, panel_timer_of(PANEL_TIMER_ENTRY, area), entry_delay(walk, area, zone));
    }
}

static void stop_entry(struct panel_walk *walk, unsigned area) {
    panel_stop_timer(walk, panel_timer_of(PANEL_TIMER_ENTRY, area));
    panel_tone(walk, PANEL_TONE_ENTRY, area, false);
    panel_area(walk, area)->routes = 0;
}

static void error_siren(struct panel_walk *walk, unsigned area, unsigned zone) {
    panel_area(walk, area)->flags |= PANEL_AREA_EXIT_ERROR | PANEL_AREA_MEMORY;
    panel_zones_add(&walk->state->alarmed, zone);
    panel_sound(walk, area, PANEL_SIREN, PANEL_WHY_EXIT_OPEN, zone);
}

static void fail_to_set(struct panel_walk *walk, unsigned area, unsigned zone) {
    const enum panel_reason why =
            zone == PANEL_NO_ZONE ? PANEL_WHY_NOT_COMPLETED : PANEL_WHY_EXIT_TRIP;
    walk->state->flags |= PANEL_REFUSED;
    panel_say(walk, PANEL_SAYS_REFUSED, zone, area, why);
    panel_signal(walk,
            (struct event){.kind = EVENT_FAIL_TO_SET,
                    .zone = (uint8_t)zone,
                    .user = panel_area(walk, area)->setter,
                    .area = (uint8_t)area},
            why);
}

static void stop_zone_timers(struct panel_walk *walk, unsigned area) {
    struct panel_state *state = walk->state;
    for (unsigned zone = 0; zone < walk->program->zone_count; zone++) {
        if (panel_zone(walk, zone)->area != area) {
            continue;
        }
        if (panel_zones_has(&state->following, zone)) {
            panel_zones_drop(&state->following, zone);
            panel_stop_timer(walk, panel_timer_of(PANEL_TIMER_HOLD, zone));
        }
        if (panel_zones_has(&state->cross_lone, zone)) {
            panel_zones_drop(&state->cross_lone, zone);
            panel_stop_timer(walk, panel_timer_of(PANEL_TIMER_CROSS, zone));
        }
        /* page: Bypass ends at unset unless lasting */
        if (!panel_zones_has(&state->lasting, zone)) {
            panel_zones_drop(&state->bypassed, zone);
        }
        panel_zones_drop(&state->forced, zone);
        panel_zones_drop(&state->closed_in_exit, zone);
        panel_zones_drop(&state->after_siren, zone);
    }
}

static void be_unset(struct panel_walk *walk, unsigned area) {
    struct panel_area_state *now = panel_area(walk, area);
    const bool was_set = now->phase != PANEL_UNSET;
    panel_alarm_unset(walk, area);
    if (!was_set) {
        return;
    }
    stop_zone_timers(walk, area);
    stop_recent(walk, area);
    now->flags &= (uint32_t)(PANEL_AREA_MEMORY | PANEL_AREA_NEEDS_RESET);
    now->mode = 0;
    now->routes = 0;
    now->from = 0;
    now->entry_zone = PANEL_NO_ZONE;
    now->setter = PANEL_NOBODY;
    panel_say(walk, PANEL_SAYS_UNSET, PANEL_NO_ZONE, area, PANEL_WHY_CODE);
    panel_signal(walk,
            (struct event){.kind = EVENT_UNSET,
                    .zone = EVENT_NO_ZONE,
                    .user = walk->input.user,
                    .area = (uint8_t)area},
            PANEL_WHY_CODE);
}

static void act(struct panel_walk *walk, unsigned area, enum panel_action action, unsigned zone) {
    struct panel_area_state *now = panel_area(walk, area);
    switch (action) {
    case PANEL_ACT_NONE:
    case PANEL_ACTION_COUNT:
        break;
    case PANEL_ACT_CLEAR_PERIOD:
        clear_period(walk, area);
        break;
    case PANEL_ACT_START_EXIT:
        if (exit_delay(walk, area) > 0) {
            panel_tone(walk, PANEL_TONE_EXIT, area, true);
        }
        panel_start_timer(walk, panel_timer_of(PANEL_TIMER_EXIT, area), exit_delay(walk, area));
        break;
    case PANEL_ACT_STOP_EXIT:
        stop_exit(walk, area);
        break;
    case PANEL_ACT_TO_PART:
        now->mode = SITE_MODE_PART;
        panel_say(walk, PANEL_SAYS_DROPPED_TO_PART, PANEL_NO_ZONE, area, PANEL_WHY_NOBODY_LEFT);
        break;
    case PANEL_ACT_BE_SET:
        be_set(walk, area);
        break;
    case PANEL_ACT_READ_LEVELS:
        read_levels(walk, area);
        break;
    case PANEL_ACT_ERROR_SIREN:
        error_siren(walk, area, zone);
        break;
    case PANEL_ACT_START_ENTRY:
        start_entry(walk, area, zone);
        break;
    case PANEL_ACT_SECOND_ENTRY:
        second_entry(walk, area, zone);
        break;
    case PANEL_ACT_STOP_ENTRY:
        stop_entry(walk, area);
        break;
    case PANEL_ACT_ENTRY_ALARM:
        panel_alarm_entry_over(walk, area);
        break;
    case PANEL_ACT_FAIL_TO_SET:
        fail_to_set(walk, area, zone);
        break;
    case PANEL_ACT_BE_UNSET:
        be_unset(walk, area);
        break;
    }
}

/* Actions are done in the old phase's flags but the new phase's name, except that "be unset" must know that the area
 * was set: the phase changes before the first action for every row but those that lead to unset. */
void panel_area_event(
        struct panel_walk *walk, unsigned area, enum panel_area_event event, unsigned zone) {
    struct panel_area_state *now = panel_area(walk, area);
    for (size_t i = 0; i < PANEL_TRANSITION_COUNT; i++) {
        const struct panel_transition *row = &walk->program->tables->transitions[i];
        if (row->phase != now->phase || row->event != event) {
            continue;
        }
        const uint8_t next = row->next;
        if (next != PANEL_UNSET) {
            now->phase = next;
        }
        for (size_t k = 0; k < PANEL_ROW_ACTIONS; k++) {
            act(walk, area, (enum panel_action)row->actions[k], zone);
        }
        if (next == PANEL_UNSET) {
            now->phase = next;
        }
        return;
    }
}

/* ---- the end of an exit time -------------------------------------------------------------------------------- */

static unsigned exit_error_zone(const struct panel_walk *walk, unsigned area) {
    for (unsigned zone = 0; zone < walk->program->zone_count; zone++) {
        const enum site_behaviour behaviour =
                panel_behaviour_of(walk->program, walk->state, zone, area);
        if (in_area(walk, zone, area) && panel_zones_has(&walk->state->open, zone) &&
                panel_zone_live(walk->state, zone) &&
                site_sense_is_level((enum site_sense)panel_zone(walk, zone)->sense) &&
                walk->program->tables->exit_end[behaviour] == PANEL_ENDS_EXIT_ERROR) {
            return zone;
        }
    }
    return PANEL_NO_ZONE;
}

static enum panel_area_event judge_exit(
        struct panel_walk *walk, unsigned area, bool completed, unsigned *ret_zone) {
    const struct panel_area_state *now = panel_area(walk, area);
    *ret_zone = PANEL_NO_ZONE;
    if ((now->flags & PANEL_AREA_STALLED) != 0 ||
            (!completed && now->mode == SITE_MODE_FULL &&
                    (now->flags & PANEL_AREA_AT_KEYPAD) != 0 &&
                    walk->program->settings.completion != SITE_COMPLETE_TIME)) {
        return PANEL_EV_EXIT_FAILED;
    }
    *ret_zone = exit_error_zone(walk, area);
    if (*ret_zone != PANEL_NO_ZONE) {
        return PANEL_EV_EXIT_ERROR;
    }
    if (walk->program->settings.drop_to_part && now->mode == SITE_MODE_FULL &&
            (now->flags & PANEL_AREA_AT_KEYPAD) != 0 && (now->flags & PANEL_AREA_LEFT) == 0) {
        return PANEL_EV_EXIT_NOBODY;
    }
    return PANEL_EV_EXIT_OVER;
}

/* page: a common area sets when its last member has set ...; a member's failed exit leaves it unset */
static void end_riders(struct panel_walk *walk, enum panel_area_event event) {
    for (unsigned area = 0; area < walk->program->area_count; area++) {
        struct panel_area_state *now = panel_area(walk, area);
        if ((now->flags & PANEL_AREA_RIDES) == 0 || now->phase != PANEL_EXITING) {
            continue;
        }
        unsigned zone = exit_error_zone(walk, area);
        if (event == PANEL_EV_EXIT_FAILED || event == PANEL_EV_EXIT_ERROR) {
            panel_area_event(walk, area, PANEL_EV_UNSET, PANEL_NO_ZONE);
        } else if (zone != PANEL_NO_ZONE) {
            panel_area_event(walk, area, PANEL_EV_EXIT_ERROR, zone);
        } else {
            panel_area_event(walk, area, event, PANEL_NO_ZONE);
        }
    }
}

static void end_exit(struct panel_walk *walk, unsigned area, bool completed) {
    if (panel_area(walk, area)->phase != PANEL_EXITING) {
        return;
    }
    unsigned zone = PANEL_NO_ZONE;
    const enum panel_area_event event = judge_exit(walk, area, completed, &zone);
    panel_area_event(walk, area, event, zone);
    if (!is_common(walk, area)) {
        end_riders(walk, event);
    }
}

void panel_exit_over(struct panel_walk *walk, unsigned area) {
    end_exit(walk, area, false);
}

void panel_complete(struct panel_walk *walk, unsigned area) {
    end_exit(walk, area, true);
}

/* ---- requests ----------------------------------------------------------------------------------------------- */

static bool follower_or_entry(enum site_behaviour behaviour) {
    return behaviour == SITE_ENTRY || behaviour == SITE_FOLLOWER;
}

/* Whether an open zone stands in the way of setting `area` in `mode`. */
static bool blocks(const struct panel_program *program, const struct panel_state *state,
        unsigned zone, unsigned area, int mode) {
    const struct panel_zone *keyed = &program->zones[zone];
    const bool always = program->tables->classes[keyed->unset_behaviour].always_watched;
    const enum site_behaviour behaviour =
            (enum site_behaviour)(always ? keyed->unset_behaviour : keyed->behaviour[mode]);
    if (keyed->area != area) {
        return false;
    }
    if (panel_zones_has(&state->tampered, zone)) {
        return true; /* page: tamper stays live */
    }
    if (behaviour == SITE_OUT || panel_zones_has(&state->bypassed, zone)) {
        return false;
    }
    if (panel_zones_has(&state->latched, zone) || panel_zones_has(&state->masked, zone)) {
        return true;
    }
    if (!panel_zones_has(&state->open, zone)) {
        return false;
    }
    const enum panel_block block = (enum panel_block)program->tables->blocks[keyed->sense];
    if (block == PANEL_BLOCKS_BY_CHOICE) {
        return program->settings.motion_blocks;
    }
    return block == PANEL_BLOCKS_ALWAYS &&
            !(follower_or_entry(behaviour) && program->settings.entry_open_allowed);
}

bool panel_is_ready(const struct panel_program *program, const struct panel_state *state,
        unsigned area, int mode, struct panel_zones *ret_blocking) {
    struct panel_zones blocking = {0};
    for (unsigned zone = 0; zone < program->zone_count; zone++) {
        if (blocks(program, state, zone, area, mode)) {
            panel_zones_add(&blocking, zone);
        }
    }
    if (ret_blocking != NULL) {
        *ret_blocking = blocking;
    }
    return !panel_zones_any(&blocking);
}

static bool wants_force(const struct panel_walk *walk) {
    switch ((enum panel_source)walk->input.source) {
    case PANEL_BY_FOB:
    case PANEL_BY_REMOTE:
        return walk->input.force || walk->program->settings.fob_open == SITE_OPEN_FORCE;
    case PANEL_BY_CALENDAR:
        return walk->program->settings.auto_open == SITE_AUTO_FORCE;
    case PANEL_BY_KEYPAD:
    case PANEL_BY_INSTALLER:
    case PANEL_BY_STATION:
    case PANEL_SOURCE_COUNT:
        break;
    }
    return walk->input.force;
}

static void refuse(struct panel_walk *walk, unsigned area, const struct panel_zones *blocking,
        enum panel_reason why) {
    unsigned first = PANEL_NO_ZONE;
    walk->state->flags |= PANEL_REFUSED;
    for (unsigned zone = 0; zone < walk->program->zone_count; zone++) {
        if (panel_zones_has(blocking, zone)) {
            first = first == PANEL_NO_ZONE ? zone : first;
            panel_say(walk, PANEL_SAYS_NOT_READY, zone, area, PANEL_WHY_NOT_READY);
        }
    }
    panel_say(walk, PANEL_SAYS_REFUSED, first, area, why);
    if (walk->input.source == PANEL_BY_CALENDAR) {
        panel_signal(walk,
                (struct event){.kind = EVENT_FAIL_TO_SET,
                        .zone = EVENT_NO_ZONE,
                        .user = EVENT_NOBODY,
                        .area = (uint8_t)area},
                why);
    }
}

/* page: Forced: bypasses what is open and may be bypassed ... Never tamper, hold-up, life safety. Entry and follower
 * zones are never bypassed at the request but read at the end of exit. Gives what still stands in the way. */
static struct panel_zones force_out(
        struct panel_walk *walk, unsigned area, int mode, const struct panel_zones *blocking) {
    struct panel_zones left = {0};
    for (unsigned zone = 0; zone < walk->program->zone_count; zone++) {
        if (!panel_zones_has(blocking, zone)) {
            continue;
        }
        const struct panel_zone *keyed = panel_zone(walk, zone);
        if (panel_zones_has(&walk->state->tampered, zone) ||
                panel_zones_has(&walk->state->masked, zone) || !keyed->bypassable ||
                panel_class(walk, zone)->never_bypassed) {
            panel_zones_add(&left, zone);
        }
    }
    if (panel_zones_any(&left)) {
        return left;
    }
    for (unsigned zone = 0; zone < walk->program->zone_count; zone++) {
        const struct panel_zone *keyed = panel_zone(walk, zone);
        if (panel_zones_has(blocking, zone) &&
                !follower_or_entry((enum site_behaviour)keyed->behaviour[mode])) {
            panel_zones_add(&walk->state->bypassed, zone);
            panel_zones_add(&walk->state->forced, zone);
            panel_say(walk, PANEL_SAYS_BYPASSED, zone, area, PANEL_WHY_FORCED);
        }
    }
    panel_area(walk, area)->flags |= PANEL_AREA_FORCED;
    return left;
}

static bool may_set_now(const struct panel_walk *walk, unsigned area) {
    const struct panel_area_state *now = &walk->state->areas[area];
    if (now->phase == PANEL_UNSET) {
        return true;
    }
    /* page: changing mode is refused while entry or alarm runs; Part -> full starts an exit; full -> part needs a
     * code */
    return now->phase == PANEL_SET && now->alarm == PANEL_CALM && now->sound == PANEL_SILENT &&
            (now->flags & PANEL_AREA_HELD_BACK) == 0 && now->mode != walk->input.mode &&
            (walk->input.mode == SITE_MODE_FULL || walk->input.user != PANEL_NOBODY);
}

/* page: a timer of 0 s ends inside the step that starts it: an exit time of 0 s is one, so its end reads the levels and
 * whether somebody left like any other's. */
static bool timed(const struct panel_walk *walk) {
    switch ((enum panel_source)walk->input.source) {
    case PANEL_BY_KEYPAD:
        return true;
    case PANEL_BY_FOB:
        return walk->program->settings.fob_way == SITE_FOB_TIMED;
    case PANEL_BY_REMOTE:
    case PANEL_BY_CALENDAR:
    case PANEL_BY_INSTALLER:
    case PANEL_BY_STATION:
    case PANEL_SOURCE_COUNT:
        break;
    }
    return false;
}

static void stop_auto(struct panel_walk *walk, unsigned area) {
    struct panel_area_state *now = panel_area(walk, area);
    if ((now->flags & PANEL_AREA_AUTO_WARN) != 0) {
        panel_tone(walk, PANEL_TONE_WARNING, area, false);
        panel_stop_timer(walk, panel_timer_of(PANEL_TIMER_AUTO_WARN, area));
    }
    if (now->postponed > 0) {
        panel_stop_timer(walk, panel_timer_of(PANEL_TIMER_AUTO_POSTPONE, area));
    }
    now->flags &= ~(uint32_t)PANEL_AREA_AUTO_WARN;
    now->postponed = 0;
}

/* page: the common area takes over the last member's exit timer */
static void let_common_ride(struct panel_walk *walk, unsigned last) {
    for (unsigned area = 0; area < walk->program->area_count; area++) {
        struct panel_area_state *now = panel_area(walk, area);
        if (!is_common(walk, area) || now->phase != PANEL_UNSET) {
            continue;
        }
        bool every = true;
        for (unsigned member = 0; member < walk->program->area_count; member++) {
            every = every &&
                    (is_common(walk, member) || panel_area(walk, member)->phase != PANEL_UNSET);
        }
        if (every) {
            stop_auto(walk, area);
            now->mode = panel_area(walk, last)->mode;
            now->setter = walk->input.user;
            clear_period(walk, area);
            if (panel_area(walk, last)->phase == PANEL_EXITING) {
                now->phase = PANEL_EXITING;
                now->flags |= PANEL_AREA_RIDES;
            } else {
                panel_area_event(walk, area, PANEL_EV_REQUEST_AT_ONCE, PANEL_NO_ZONE);
            }
        }
    }
}

static void accept(struct panel_walk *walk, unsigned area) {
    struct panel_area_state *now = panel_area(walk, area);
    const bool with_time = timed(walk);
    stop_auto(walk, area);
    now->from = (uint8_t)(now->phase == PANEL_SET && with_time ? now->mode + 1 : 0);
    now->mode = walk->input.mode;
    now->setter = walk->input.user;
    now->flags &= ~(uint32_t)PANEL_AREA_AT_KEYPAD;
    if (walk->input.source == PANEL_BY_KEYPAD) {
        now->flags |= PANEL_AREA_AT_KEYPAD;
    }
    panel_area_event(walk, area, with_time ? PANEL_EV_REQUEST_TIMED : PANEL_EV_REQUEST_AT_ONCE,
            PANEL_NO_ZONE);
    if (!is_common(walk, area)) {
        let_common_ride(walk, area);
    }
}

/* page: Users have areas, modes, hours. Where nobody is known (the calendar, a button) nobody's modes stand. */
static bool user_may_set(const struct panel_walk *walk, unsigned mode) {
    const unsigned user = walk->input.user;
    return user >= walk->program->user_count || panel_bit(walk->program->user_modes[user], mode);
}

static void request_area(struct panel_walk *walk, unsigned area) {
    struct panel_zones blocking = {0};
    const int mode = walk->input.mode;
    if (!user_may_set(walk, walk->input.mode)) {
        refuse(walk, area, &blocking, PANEL_WHY_USER_MODE);
        return;
    }
    if (!may_set_now(walk, area)) {
        const struct panel_area_state *now = panel_area(walk, area);
        if (now->mode != mode || now->phase == PANEL_ENTERING) {
            refuse(walk, area, &blocking, PANEL_WHY_NOT_READY);
        }
        return;
    }
    if ((panel_area(walk, area)->flags & PANEL_AREA_NEEDS_RESET) != 0) {
        panel_say(walk, PANEL_SAYS_RESET_NEEDED, PANEL_NO_ZONE, area, PANEL_WHY_MEMORY);
        refuse(walk, area, &blocking, PANEL_WHY_MEMORY);
        return;
    }
    if ((walk->state->flags & PANEL_TAMPERED) != 0) {
        refuse(walk, area, &blocking, PANEL_WHY_TAMPER);
        return;
    }
    if (panel_faults_refuse(walk, area)) {
        refuse(walk, area, &blocking, PANEL_WHY_FAULT);
        return;
    }
    panel_area(walk, area)->flags &= ~(uint32_t)PANEL_AREA_FORCED;
    if (!panel_is_ready(walk->program, walk->state, area, mode, &blocking)) {
        if (wants_force(walk)) {
            blocking = force_out(walk, area, mode, &blocking);
        }
        if (panel_zones_any(&blocking) &&
                (panel_area(walk, area)->flags & PANEL_AREA_FORCED) == 0) {
            refuse(walk, area, &blocking, PANEL_WHY_NOT_READY);
            return;
        }
    }
    panel_log_faults(walk, area);
    accept(walk, area);
}

uint8_t panel_code_areas(const struct panel_program *program, const struct panel_state *state,
        uint8_t user, uint8_t keypad_areas) {
    const unsigned own = user < program->user_count ? program->user_areas[user] : 0xFFU;
    unsigned in_entry = 0;
    switch (program->settings.code_acts) {
    case SITE_CODE_USER:
        return (uint8_t)own;
    case SITE_CODE_ENTRY:
        for (unsigned area = 0; area < program->area_count; area++) {
            in_entry |= (unsigned)(state->areas[area].phase == PANEL_ENTERING) << area;
        }
        if ((in_entry & own) != 0) {
            return (uint8_t)(in_entry & own);
        }
        break;
    case SITE_CODE_KEYPAD:
    case SITE_CODE_COUNT:
        break;
    }
    return (uint8_t)(own & keypad_areas);
}

/* page: Users have areas, modes, hours. A code that is not taken is no wrong one: it counts towards no lock-out and
 * forgives nothing. */
bool panel_taken_now(struct panel_walk *walk) {
    const unsigned user = walk->input.user;
    if (user >= walk->program->user_count || (walk->state->off_hours >> user & 1U) == 0) {
        return true;
    }
    struct panel_output *output = panel_output_add(walk, PANEL_OUT_SAYS, PANEL_WHY_HOURS);
    output->message = PANEL_SAYS_NOT_NOW;
    output->event.user = (uint8_t)user;
    return false;
}

void panel_hours(struct panel_walk *walk, bool begin) {
    if (walk->input.user < walk->program->user_count) {
        const uint64_t bit = UINT64_C(1) << walk->input.user;
        walk->state->off_hours =
                begin ? walk->state->off_hours & ~bit : walk->state->off_hours | bit;
    }
}

/* The areas that this person may act on here; none: says so. */
static unsigned allowed_areas(struct panel_walk *walk) {
    const struct panel_input *input = &walk->input;
    const unsigned every = (1U << walk->program->area_count) - 1U;
    unsigned areas = input->areas & every;
    if (input->source == PANEL_BY_KEYPAD && (walk->state->flags & PANEL_LOCKED) != 0) {
        panel_say(walk, PANEL_SAYS_LOCKED, PANEL_NO_ZONE, 0, PANEL_WHY_WRONG_CODES);
        return 0;
    }
    if (!panel_taken_now(walk)) {
        return 0;
    }
    if (input->user < walk->program->user_count) {
        areas &= walk->program->user_areas[input->user];
    }
    if (areas == 0) {
        panel_say(walk, PANEL_SAYS_NOT_YOURS, PANEL_NO_ZONE, 0, PANEL_WHY_CODE);
    } else {
        walk->state->wrong_codes = 0;
    }
    return areas;
}

void panel_request_set(struct panel_walk *walk) {
    if (walk->input.mode >= walk->program->settings.mode_count) {
        return;
    }
    walk->state->flags &= (uint16_t)~PANEL_REFUSED;
    const unsigned areas = allowed_areas(walk);
    for (unsigned area = 0; area < walk->program->area_count; area++) {
        /* A common area is never asked itself: it sets with its last member. */
        if (panel_bit(areas, area) && !is_common(walk, area)) {
            request_area(walk, area);
        }
    }
}

void panel_request_unset(struct panel_walk *walk) {
    unsigned areas = allowed_areas(walk);
    /* page: a member's code unsets that member and the common area */
    if ((areas & ~(unsigned)walk->program->common_areas) != 0) {
        areas |= walk->program->common_areas;
    }
    if (areas != 0 && walk->input.user < walk->program->user_count &&
            walk->program->user_duress[walk->input.user]) {
        panel_signal(walk,
                (struct event){
                        .kind = EVENT_DURESS, .zone = EVENT_NO_ZONE, .user = walk->input.user},
                PANEL_WHY_DURESS);
    }
    for (unsigned area = 0; area < walk->program->area_count; area++) {
        if (panel_bit(areas, area)) {
            stop_auto(walk, area);
            panel_area_event(walk, area, PANEL_EV_UNSET, PANEL_NO_ZONE);
        }
    }
}

/* ---- auto-set ----------------------------------------------------------------------------------------------- */

void panel_auto_due(struct panel_walk *walk, unsigned area) {
    struct panel_area_state *now = panel_area(walk, area);
    if (now->phase != PANEL_UNSET || (now->flags & PANEL_AREA_AUTO_WARN) != 0 ||
            is_common(walk, area)) {
        return; /* a common area is never asked itself: it sets with its last member */
    }
    now->flags |= PANEL_AREA_AUTO_WARN;
    panel_tone(walk, PANEL_TONE_WARNING, area, true);
    panel_start_exact_timer(
            walk, panel_timer_of(PANEL_TIMER_AUTO_WARN, area), walk->program->settings.auto_warn_s);
}

void panel_auto_over(struct panel_walk *walk, unsigned area) {
    const struct panel_input cause = walk->input;
    if ((panel_area(walk, area)->flags & PANEL_AREA_AUTO_WARN) == 0) {
        return;
    }
    walk->input = (struct panel_input){.kind = PANEL_IN_SET,
            .user = PANEL_NOBODY,
            .areas = (uint8_t)(1U << area),
            .mode = SITE_MODE_FULL,
            .source = PANEL_BY_CALENDAR};
    stop_auto(walk, area);
    request_area(walk, area);
    walk->input = cause;
}

void panel_postpone(struct panel_walk *walk, unsigned area) {
    struct panel_area_state *now = panel_area(walk, area);
    if ((now->flags & PANEL_AREA_AUTO_WARN) == 0) {
        return;
    }
    if (now->postponed >= walk->program->settings.auto_postpone_count) {
        panel_say(walk, PANEL_SAYS_NO_MORE_POSTPONING, PANEL_NO_ZONE, area, PANEL_WHY_AUTO_SET);
        return;
    }
    now->flags &= ~(uint32_t)PANEL_AREA_AUTO_WARN;
    now->postponed++;
    panel_tone(walk, PANEL_TONE_WARNING, area, false);
    panel_stop_timer(walk, panel_timer_of(PANEL_TIMER_AUTO_WARN, area));
    panel_start_exact_timer(walk, panel_timer_of(PANEL_TIMER_AUTO_POSTPONE, area),
            walk->program->settings.auto_postpone_s);
}
