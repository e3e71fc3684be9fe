/* Faults: tamper, masking, supervision, batteries, mains, paths, power-up, wrong codes, bypass. */
#include "panel/panel_walk.h"

static struct event zone_event(
        const struct panel_walk *walk, enum event_kind kind, unsigned zone, bool restore) {
    return (struct event){.kind = (uint8_t)kind,
            .restore = restore,
            .zone = (uint8_t)zone,
            .user = EVENT_NOBODY,
            .area = panel_zone(walk, zone)->area};
}

static void panel_event(struct panel_walk *walk, enum event_kind kind, bool restore) {
    panel_signal(walk,
            (struct event){.kind = (uint8_t)kind,
                    .restore = restore,
                    .zone = EVENT_NO_ZONE,
                    .user = EVENT_NOBODY},
            PANEL_WHY_FAULT);
}

/* page: Tamper: set -> alarm course plus tamper signal; unset -> inside warning, no outside siren. While entry runs an
 * off-route trip: entry keeps running, its alarm is held, its tamper signal never. */
static void tamper(struct panel_walk *walk, unsigned zone) {
    const unsigned area = panel_zone(walk, zone)->area;
    if (panel_zones_has(&walk->state->tampered, zone)) {
        return;
    }
    panel_zones_add(&walk->state->tampered, zone);
    panel_signal(walk, zone_event(walk, EVENT_TAMPER, zone, false), PANEL_WHY_TAMPER);
    switch ((enum panel_phase)panel_area(walk, area)->phase) {
    case PANEL_UNSET:
        panel_area(walk, area)->flags |= PANEL_AREA_MEMORY;
        panel_inside(walk, area, true, PANEL_WHY_TAMPER, zone);
        break;
    case PANEL_ENTERING:
        panel_alarm_off_route(walk, area, zone, PANEL_WHY_TAMPER);
        break;
    case PANEL_EXITING:
    case PANEL_SET:
        panel_alarm_raise(walk, area, zone, PANEL_WHY_TAMPER);
        break;
    case PANEL_PHASE_COUNT:
        break;
    }
}

/* page: a device of no area concerns every set area. It holds no zone's alarm: its tamper signal is its report. */
static void panel_lid(struct panel_walk *walk, bool open) {
    if (open == ((walk->state->flags & PANEL_TAMPERED) != 0)) {
        return;
    }
    walk->state->flags ^= PANEL_TAMPERED;
    panel_signal(walk,
            (struct event){.kind = EVENT_TAMPER,
                    .restore = !open,
                    .zone = EVENT_NO_ZONE,
                    .user = EVENT_NOBODY},
            PANEL_WHY_TAMPER);
    for (unsigned area = 0; open && area < walk->program->area_count; area++) {
        struct panel_area_state *now = panel_area(walk, area);
        now->flags |= PANEL_AREA_MEMORY;
        if (now->phase == PANEL_UNSET) {
            panel_inside(walk, area, true, PANEL_WHY_TAMPER, PANEL_NO_ZONE);
        } else {
            panel_sound(walk, area, PANEL_SIREN, PANEL_WHY_TAMPER, PANEL_NO_ZONE);
        }
    }
}

/* page: a supervised device silent for its whole window -> trouble unset, trouble | alarm set */
void panel_lost(struct panel_walk *walk, unsigned zone) {
    const unsigned area = panel_zone(walk, zone)->area;
    if (!panel_zone(walk, zone)->supervised) {
        return;
    }
    panel_zones_add(&walk->state->lost, zone);
    panel_signal(walk, zone_event(walk, EVENT_SUPERVISION, zone, false), PANEL_WHY_SUPERVISION);
    if (panel_area(walk, area)->phase != PANEL_UNSET &&
            walk->program->settings.lost_while_set == SITE_LOST_ALARM) {
        panel_alarm_raise(walk, area, zone, PANEL_WHY_SUPERVISION);
    } else {
        panel_say(walk, PANEL_SAYS_TROUBLE, zone, area, PANEL_WHY_SUPERVISION);
        panel_tone(walk, PANEL_TONE_TROUBLE, area, true);
    }
}

/* page: a supervised device *silent* for its whole window: every message ends the silence, not the check-in alone */
void panel_heard(struct panel_walk *walk, unsigned zone) {
    if (!panel_zone(walk, zone)->supervised) {
        return;
    }
    panel_start_timer(walk, panel_timer_of(PANEL_TIMER_SUPERVISION, zone),
            walk->program->settings.supervision_window_s);
    if (panel_zones_has(&walk->state->lost, zone)) {
        panel_zones_drop(&walk->state->lost, zone);
        panel_signal(walk, zone_event(walk, EVENT_SUPERVISION, zone, true), PANEL_WHY_SUPERVISION);
    }
}

/* page: its last level is kept ... until the next check-in, whose level counts as an edge */
static void check_in(struct panel_walk *walk, unsigned zone) {
    if (walk->input.open) {
        panel_zone_opens(walk, zone);
    } else {
        panel_zone_closes(walk, zone);
    }
}

void panel_wrong_code(struct panel_walk *walk) {
    struct panel_state *state = walk->state;
    if ((state->flags & PANEL_LOCKED) != 0) {
        panel_say(walk, PANEL_SAYS_LOCKED, PANEL_NO_ZONE, 0, PANEL_WHY_WRONG_CODES);
        return;
    }
    panel_say(walk, PANEL_SAYS_WRONG_CODE, PANEL_NO_ZONE, 0, PANEL_WHY_CODE);
    if (walk->program->settings.lockout_tries <= 0) {
        return;
    }
    state->wrong_codes++;
    if (state->wrong_codes >= walk->program->settings.lockout_tries) {
        state->wrong_codes = 0;
        state->flags |= PANEL_LOCKED;
        panel_event(walk, EVENT_LOCKOUT, false);
        panel_start_timer(
                walk, panel_timer_of(PANEL_TIMER_LOCKOUT, 0), walk->program->settings.lockout_s);
    }
}

/* ---- faults and a request to set ---- */

/* Those of the panel; a device lost to supervision is a fault of its area. */
static const struct fault_row {
    uint16_t flag;
    uint8_t event; /* enum event_kind */
} fault_rows[] = {
        {PANEL_MAINS_LOST, EVENT_MAINS},
        {PANEL_BATTERY_LOW, EVENT_PANEL_BATTERY},
        {PANEL_PATH_LOST, EVENT_PATH},
        {PANEL_JAMMED, EVENT_JAMMING},
};
enum { FAULT_ROWS = sizeof fault_rows / sizeof fault_rows[0] };

static bool is_lost_in(const struct panel_walk *walk, unsigned zone, unsigned area) {
    return panel_zone(walk, zone)->area == area && panel_zones_has(&walk->state->lost, zone);
}

/* Jamming that is not noticed is none. */
static bool is_noticed(const struct panel_walk *walk, uint16_t flag) {
    return (walk->state->flags & flag) != 0 &&
            (flag != PANEL_JAMMED || walk->program->settings.jamming_noticed);
}

static bool faults_stand(const struct panel_walk *walk, unsigned area) {
    bool any = false;
    for (size_t i = 0; i < FAULT_ROWS; i++) {
        any = any || is_noticed(walk, fault_rows[i].flag);
    }
    for (unsigned zone = 0; zone < walk->program->zone_count; zone++) {
        any = any || is_lost_in(walk, zone, area);
    }
    return any;
}

bool panel_faults_refuse(const struct panel_walk *walk, unsigned area) {
    switch (walk->program->settings.faults) {
    case SITE_FAULT_REFUSE:
        return faults_stand(walk, area);
    case SITE_FAULT_ACKNOWLEDGE:
        return faults_stand(walk, area) && !walk->input.acknowledged;
    case SITE_FAULT_IGNORE:
    case SITE_FAULT_COUNT:
        break;
    }
    return false;
}

static void log_fault(struct panel_walk *walk, unsigned area, uint8_t kind, unsigned zone) {
    panel_log(walk,
            (struct event){.kind = kind,
                    .zone = (uint8_t)zone,
                    .user = walk->input.user,
                    .area = (uint8_t)area},
            walk->program->settings.faults == SITE_FAULT_ACKNOWLEDGE ? PANEL_WHY_ACKNOWLEDGED
                                                                     : PANEL_WHY_IGNORED);
}

/* page: each fault refuse | user acknowledges | ignore, logged. Source: EN 50131-1, overriding of what prevents setting
 * is logged (rules dossier 2.4, from memory, likely). */
void panel_log_faults(struct panel_walk *walk, unsigned area) {
    for (size_t i = 0; i < FAULT_ROWS; i++) {
        if (is_noticed(walk, fault_rows[i].flag)) {
            log_fault(walk, area, fault_rows[i].event, PANEL_NO_ZONE);
        }
    }
    for (unsigned zone = 0; zone < walk->program->zone_count; zone++) {
        if (is_lost_in(walk, zone, area)) {
            log_fault(walk, area, EVENT_SUPERVISION, zone);
        }
    }
}

/* page: Never tamper, hold-up, life safety */
static void bypass(struct panel_walk *walk, unsigned zone) {
    const struct panel_zone *keyed = panel_zone(walk, zone);
    if (!panel_taken_now(walk)) {
        return;
    }
    if (!keyed->bypassable || panel_class(walk, zone)->never_bypassed ||
            panel_area(walk, keyed->area)->phase != PANEL_UNSET) {
        panel_say(walk, PANEL_SAYS_NO_BYPASS, zone, keyed->area, PANEL_WHY_NONE);
        return;
    }
    panel_zones_add(&walk->state->bypassed, zone);
    if (walk->input.force) {
        panel_zones_add(&walk->state->lasting, zone);
    }
    panel_say(walk, PANEL_SAYS_BYPASSED, zone, keyed->area, PANEL_WHY_NONE);
    panel_signal(walk, zone_event(walk, EVENT_BYPASS, zone, false), PANEL_WHY_CODE);
}

static void mains(struct panel_walk *walk, bool lost) {
    struct panel_state *state = walk->state;
    if (lost == ((state->flags & PANEL_MAINS_LOST) != 0)) {
        return;
    }
    panel_tone(walk, PANEL_TONE_TROUBLE, 0, lost);
    if (lost) {
        state->flags |= PANEL_MAINS_LOST;
        panel_say(walk, PANEL_SAYS_TROUBLE, PANEL_NO_ZONE, 0, PANEL_WHY_POWER);
        panel_start_spread_timer(walk, panel_timer_of(PANEL_TIMER_MAINS, 0),
                walk->program->settings.mains_delay_s, walk->program->settings.mains_jitter_s);
        return;
    }
    panel_stop_timer(walk, panel_timer_of(PANEL_TIMER_MAINS, 0));
    if ((state->flags & PANEL_MAINS_SENT) != 0) {
        panel_event(walk, EVENT_MAINS, true); /* page: restore only if the loss was sent */
    }
    state->flags &= (uint16_t) ~(PANEL_MAINS_LOST | PANEL_MAINS_SENT);
}

static void flag_fault(struct panel_walk *walk, uint16_t flag, enum event_kind kind, bool lost) {
    if (lost == ((walk->state->flags & flag) != 0)) {
        return;
    }
    if (lost) {
        walk->state->flags |= flag;
        panel_say(walk, PANEL_SAYS_TROUBLE, PANEL_NO_ZONE, 0, PANEL_WHY_FAULT);
    } else {
        walk->state->flags &= (uint16_t)~flag;
    }
    panel_tone(walk, PANEL_TONE_TROUBLE, 0, lost);
    panel_event(walk, kind, !lost);
}

/* Not noticed, it is only what is sent meanwhile that is missing. */
static void jamming(struct panel_walk *walk, bool starts) {
    if (walk->program->settings.jamming_noticed) {
        flag_fault(walk, PANEL_JAMMED, EVENT_JAMMING, starts);
    } else {
        walk->state->flags = (uint16_t)(starts ? walk->state->flags | PANEL_JAMMED
                                               : walk->state->flags & ~PANEL_JAMMED);
    }
}

/* page: Path down: trouble ... signals queue in a stated order. The loss itself waits among them; all leaves when the
 * path is back, then its restore. */
static void path(struct panel_walk *walk, bool lost) {
    struct panel_state *state = walk->state;
    if ((state->flags & PANEL_DEAD) != 0) {
        state->flags =
                (uint16_t)(lost ? state->flags | PANEL_PATH_LOST : state->flags & ~PANEL_PATH_LOST);
        return;
    }
    if (lost) {
        flag_fault(walk, PANEL_PATH_LOST, EVENT_PATH, true);
        for (unsigned area = 0; area < walk->program->area_count; area++) {
            panel_hold_back_over(
                    walk, area, PANEL_WHY_PATH_DOWN); /* page: siren hold-back cancelled */
        }
    } else if ((state->flags & PANEL_PATH_LOST) != 0) {
        state->flags &= (uint16_t)~PANEL_PATH_LOST;
        panel_tone(walk, PANEL_TONE_TROUBLE, 0, false);
        panel_send_queued(walk);
        panel_event(walk, EVENT_PATH, true);
    }
}

/* Everything that only a powered panel keeps: timers, sirens, tones. What it stores: set state and bypasses
 * (CP-01 4.4.3). */
static const uint16_t outlives_power = PANEL_TAMPERED | PANEL_PATH_LOST | PANEL_SIGNALS_LOST;

static void power_lost(struct panel_walk *walk) {
    struct panel_state *state = walk->state;
    if ((state->flags & PANEL_DEAD) != 0) {
        return;
    }
    for (unsigned area = 0; area < walk->program->area_count; area++) {
        struct panel_area_state *now = panel_area(walk, area);
        for (unsigned kind = PANEL_TIMER_EXIT; kind <= PANEL_TIMER_AUTO_POSTPONE; kind++) {
            panel_stop_timer(walk, panel_timer_of((enum panel_timer_kind)kind, area));
        }
        panel_sound(walk, area, PANEL_SILENT, PANEL_WHY_POWER, PANEL_NO_ZONE);
        now->flags &= (uint32_t)(PANEL_AREA_MEMORY | PANEL_AREA_NEEDS_RESET | PANEL_AREA_FORCED);
        now->alarm = PANEL_CALM;
        now->routes = 0;
        now->from = 0;
        now->postponed = 0;
        now->entry_zone = PANEL_NO_ZONE;
        if (now->phase != PANEL_UNSET) {
            now->phase = PANEL_SET;
        }
    }
    for (unsigned zone = 0; zone < walk->program->zone_count; zone++) {
        for (unsigned kind = PANEL_TIMER_CROSS; kind <= PANEL_TIMER_PULSE_4; kind++) {
            panel_stop_timer(walk, panel_timer_of((enum panel_timer_kind)kind, zone));
        }
        state->pulses[zone] = 0;
        state->swings[zone] = 0;
    }
    panel_stop_timer(walk, panel_timer_of(PANEL_TIMER_LOCKOUT, 0));
    panel_stop_timer(walk, panel_timer_of(PANEL_TIMER_MAINS, 0));
    panel_stop_timer(walk, panel_timer_of(PANEL_TIMER_POWER_MASK, 0));
    const struct panel_zones none = {0};
    state->following = none;
    state->cross_lone = none;
    state->confirming = none;
    state->held = none;
    state->recent = none;
    state->swung_out = none;
    state->closed_in_exit = none;
    state->wrong_codes = 0;
    panel_lose_queued(walk);
    state->flags = (uint16_t)(PANEL_DEAD | (state->flags & outlives_power));
}

static void power_back(struct panel_walk *walk) {
    if ((walk->state->flags & PANEL_DEAD) == 0) {
        return;
    }
    walk->state->flags = (uint16_t)(PANEL_MASKED_UP | (walk->state->flags & outlives_power));
    if ((walk->state->flags & PANEL_PATH_LOST) == 0) {
        panel_send_queued(walk); /* of what was lost with the power, at least that it was */
    }
    for (unsigned zone = 0; zone < walk->program->zone_count; zone++) {
        if (panel_zone(walk, zone)->supervised) {
            panel_start_timer(walk, panel_timer_of(PANEL_TIMER_SUPERVISION, zone),
                    walk->program->settings.supervision_window_s);
        }
    }
    panel_start_open_timer(
            walk, panel_timer_of(PANEL_TIMER_POWER_MASK, 0), walk->program->settings.power_mask_s);
}

/* page: every input ignored for 60 s, then levels count */
void panel_power_mask_over(struct panel_walk *walk) {
    if ((walk->state->flags & PANEL_MASKED_UP) == 0) {
        return;
    }
    walk->state->flags &= (uint16_t)~PANEL_MASKED_UP;
    for (unsigned zone = 0; zone < walk->program->zone_count; zone++) {
        if (panel_zones_has(&walk->state->open, zone)) {
            panel_zone_trips(walk, zone);
        }
    }
}

static void low_battery(struct panel_walk *walk, unsigned zone) {
    /* page: an unsupervised one is never noticed, nor is its low battery */
    if (!panel_zone(walk, zone)->supervised || panel_zones_has(&walk->state->battery, zone)) {
        return;
    }
    panel_zones_add(&walk->state->battery, zone);
    panel_say(walk, PANEL_SAYS_TROUBLE, zone, panel_zone(walk, zone)->area, PANEL_WHY_FAULT);
    panel_signal(walk, zone_event(walk, EVENT_LOW_BATTERY, zone, false), PANEL_WHY_FAULT);
}

static void masked(struct panel_walk *walk, unsigned zone, bool on) {
    if (on == panel_zones_has(&walk->state->masked, zone)) {
        return;
    }
    if (on) {
        panel_zones_add(&walk->state->masked, zone);
        panel_say(walk, PANEL_SAYS_TROUBLE, zone, panel_zone(walk, zone)->area, PANEL_WHY_FAULT);
    } else {
        panel_zones_drop(&walk->state->masked, zone);
    }
    panel_signal(walk, zone_event(walk, EVENT_MASKED, zone, !on), PANEL_WHY_FAULT);
}

/* page: reset by user | installer | station; a latching device must be reset before setting */
static void reset(struct panel_walk *walk) {
    const enum site_reset wanted = walk->program->settings.reset;
    const bool entitled = wanted == SITE_RESET_USER ||
            (wanted == SITE_RESET_INSTALLER && walk->input.source == PANEL_BY_INSTALLER) ||
            (wanted == SITE_RESET_STATION && walk->input.source == PANEL_BY_STATION);
    if (!entitled) {
        panel_say(walk, PANEL_SAYS_RESET_NEEDED, PANEL_NO_ZONE, 0, PANEL_WHY_MEMORY);
        return;
    }
    for (unsigned zone = 0; zone < walk->program->zone_count; zone++) {
        const unsigned area = panel_zone(walk, zone)->area;
        if (panel_area(walk, area)->phase == PANEL_UNSET) {
            panel_zones_drop(&walk->state->alarmed, zone);
            panel_zones_drop(&walk->state->latched, zone);
            panel_area(walk, area)->flags &=
                    ~(uint32_t)(PANEL_AREA_MEMORY | PANEL_AREA_NEEDS_RESET);
        }
    }
}

static void tamper_back(struct panel_walk *walk, unsigned zone) {
    if (panel_zones_has(&walk->state->tampered, zone)) {
        panel_zones_drop(&walk->state->tampered, zone);
        panel_signal(walk, zone_event(walk, EVENT_TAMPER, zone, true), PANEL_WHY_TAMPER);
    }
}

void panel_fault_input(struct panel_walk *walk) {
    const unsigned zone = walk->input.zone;
    switch (walk->input.kind) {
    case PANEL_IN_TAMPER:
    case PANEL_IN_TAMPER_BACK:
        if (zone == PANEL_NO_ZONE) {
            panel_lid(walk, walk->input.kind == PANEL_IN_TAMPER);
        } else if (walk->input.kind == PANEL_IN_TAMPER) {
            tamper(walk, zone);
        } else {
            tamper_back(walk, zone);
        }
        break;
    case PANEL_IN_MASKED:
        masked(walk, zone, true);
        break;
    case PANEL_IN_MASKED_BACK:
        masked(walk, zone, false);
        break;
    case PANEL_IN_LOW_BATTERY:
        low_battery(walk, zone);
        break;
    case PANEL_IN_CHECK_IN:
        check_in(walk, zone);
        break;
    case PANEL_IN_BYPASS:
        bypass(walk, zone);
        break;
    case PANEL_IN_RESET:
        reset(walk);
        break;
    case PANEL_IN_MAINS_LOST:
    case PANEL_IN_MAINS_BACK:
        mains(walk, walk->input.kind == PANEL_IN_MAINS_LOST);
        break;
    case PANEL_IN_BATTERY_LOW:
    case PANEL_IN_BATTERY_BACK:
        flag_fault(walk, PANEL_BATTERY_LOW, EVENT_PANEL_BATTERY,
                walk->input.kind == PANEL_IN_BATTERY_LOW);
        break;
    case PANEL_IN_PATH_LOST:
    case PANEL_IN_PATH_BACK:
        path(walk, walk->input.kind == PANEL_IN_PATH_LOST);
        break;
    case PANEL_IN_JAMMED:
    case PANEL_IN_JAM_OVER:
        /* page: Jamming is separate: neither a silent device nor a lost path */
        jamming(walk, walk->input.kind == PANEL_IN_JAMMED);
        break;
    case PANEL_IN_POWER_LOST:
        power_lost(walk);
        break;
    case PANEL_IN_POWER_BACK:
        power_back(walk);
        break;
    case PANEL_IN_OPEN:
    case PANEL_IN_CLOSE:
    case PANEL_IN_GROSS:
    case PANEL_IN_SET:
    case PANEL_IN_UNSET:
    case PANEL_IN_WRONG_CODE:
    case PANEL_IN_COMPLETE:
    case PANEL_IN_AUTO_DUE:
    case PANEL_IN_POSTPONE:
    case PANEL_IN_HOURS_BEGIN:
    case PANEL_IN_HOURS_END:
    case PANEL_IN_TIMER:
    case PANEL_IN_COUNT:
        break;
    }
}
