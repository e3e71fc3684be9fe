/* The course of an alarm: siren, abort window, report, cancel window, confirmation, swinger. */
#include "panel/panel_walk.h"

static struct event event_of(
        const struct panel_walk *walk, unsigned area, unsigned zone, enum event_kind kind) {
    return (struct event){.kind = (uint8_t)kind,
            .zone = (uint8_t)zone,
            .user = EVENT_NOBODY,
            .area = (uint8_t)area,
            .recent = (walk->state->areas[area].flags & PANEL_AREA_RECENT) != 0};
}

static void change_sound(struct panel_walk *walk, unsigned area, enum panel_sound sound,
        enum panel_reason why, unsigned zone) {
    struct panel_area_state *now = panel_area(walk, area);
    const bool starts = now->sound == PANEL_SILENT;
    now->sound = (uint8_t)sound;
    struct panel_output *output = panel_output_add(walk, PANEL_OUT_SOUND, why);
    output->area = (uint8_t)area;
    output->sound = (uint8_t)sound;
    output->zone = (uint8_t)zone;
    if (sound == PANEL_SILENT) {
        panel_stop_timer(walk, panel_timer_of(PANEL_TIMER_SIREN, area));
    } else if (starts) {
        panel_start_timer(walk, panel_timer_of(PANEL_TIMER_SIREN, area),
                walk->program->settings.siren_time_s);
    }
}

/* page: siren hold-back, cancelled while the path is down. An exit error calls back whoever has just left, a hold-up
 * calls for help: neither waits, nor does the fire pattern. */
static bool may_wait(const struct panel_walk *walk, enum panel_sound sound, enum panel_reason why) {
    return walk->program->settings.siren_hold_back_s > 0 && sound == PANEL_SIREN &&
            why != PANEL_WHY_EXIT_OPEN && why != PANEL_WHY_EXEMPT &&
            (walk->state->flags & PANEL_PATH_LOST) == 0;
}

/* Inside it sounds meanwhile. A further alarm does not begin the wait again. */
static void hold_back(
        struct panel_walk *walk, unsigned area, enum panel_reason why, unsigned zone) {
    struct panel_area_state *now = panel_area(walk, area);
    if ((now->flags & PANEL_AREA_HELD_BACK) != 0) {
        return;
    }
    now->flags |= PANEL_AREA_HELD_BACK | PANEL_AREA_INSIDE;
    now->siren_zone = (uint8_t)zone;
    panel_inside(walk, area, true, why, zone);
    panel_start_timer(walk, panel_timer_of(PANEL_TIMER_HOLD_BACK, area),
            walk->program->settings.siren_hold_back_s);
}

static void stop_waiting(struct panel_walk *walk, unsigned area) {
    struct panel_area_state *now = panel_area(walk, area);
    if ((now->flags & PANEL_AREA_HELD_BACK) != 0) {
        now->flags &= ~(uint32_t)PANEL_AREA_HELD_BACK;
        now->siren_zone = PANEL_NO_ZONE;
        panel_stop_timer(walk, panel_timer_of(PANEL_TIMER_HOLD_BACK, area));
    }
}

void panel_sound(struct panel_walk *walk, unsigned area, enum panel_sound sound,
        enum panel_reason why, unsigned zone) {
    struct panel_area_state *now = panel_area(walk, area);
    if (sound == now->sound || (sound == PANEL_SIREN && now->sound == PANEL_FIRE_SOUND)) {
        if (sound == PANEL_SILENT) {
            stop_waiting(walk, area);
        }
    } else if (may_wait(walk, sound, why)) {
        hold_back(walk, area, why, zone);
    } else {
        stop_waiting(walk, area);
        change_sound(walk, area, sound, why, zone); /* the siren's time runs from its start */
    }
    if (sound == PANEL_SILENT && (now->flags & PANEL_AREA_INSIDE) != 0) {
        now->flags &= ~(uint32_t)PANEL_AREA_INSIDE;
        panel_inside(walk, area, false, why, zone);
    }
}

void panel_hold_back_over(struct panel_walk *walk, unsigned area, enum panel_reason why) {
    const struct panel_area_state *now = panel_area(walk, area);
    const unsigned zone = now->siren_zone;
    if ((now->flags & PANEL_AREA_HELD_BACK) != 0) {
        stop_waiting(walk, area);
        change_sound(walk, area, PANEL_SIREN, why, zone);
    }
}

/* page: Swinger counts at the alarm; at the limit no siren and no signal from that zone. */
static bool swung_out(struct panel_walk *walk, unsigned area, unsigned zone) {
    const int32_t limit = walk->program->settings.swinger_limit;
    if (limit <= 0 || !panel_zone(walk, zone)->swinger) {
        return false;
    }
    if (panel_zones_has(&walk->state->swung_out, zone)) {
        panel_say(walk, PANEL_SAYS_SWUNG_OUT, zone, area, PANEL_WHY_SWINGER);
        return true;
    }
    walk->state->swings[zone]++;
    if (walk->state->swings[zone] >= limit) {
        panel_zones_add(&walk->state->swung_out, zone);
    }
    panel_start_timer(walk, panel_timer_of(PANEL_TIMER_SWINGER, zone),
            walk->program->settings.swinger_reset_s);
    return false;
}

/* page: "After: sent; unset in the cancel window sends a cancel": the window begins when the report has left. */
static void start_cancel(struct panel_walk *walk, unsigned area) {
    if ((walk->state->flags & PANEL_PATH_LOST) != 0) {
        panel_area(walk, area)->alarm = PANEL_QUEUED;
        return;
    }
    panel_area(walk, area)->alarm = PANEL_SENT;
    panel_start_open_timer(walk, panel_timer_of(PANEL_TIMER_CANCEL, area),
            walk->program->settings.cancel_window_s);
}

void panel_alarm_left(struct panel_walk *walk, unsigned area) {
    if (panel_area(walk, area)->alarm == PANEL_QUEUED) {
        start_cancel(walk, area);
    }
}

static void send_zone(
        struct panel_walk *walk, unsigned area, unsigned zone, enum panel_reason why) {
    panel_signal(
            walk, event_of(walk, area, zone, (enum event_kind)panel_class(walk, zone)->event), why);
    panel_zones_add(&walk->state->sent, zone);
}

/* Recent closing is of the instant at which the alarm was made (rules dossier 1.3 D4), not at which it leaves. */
static void send_held(struct panel_walk *walk, unsigned area, unsigned zone) {
    struct event event =
            event_of(walk, area, zone, (enum event_kind)panel_class(walk, zone)->event);
    event.recent = panel_zones_has(&walk->state->recent, zone);
    panel_zones_drop(&walk->state->held, zone);
    panel_zones_drop(&walk->state->recent, zone);
    panel_signal(walk, event, PANEL_WHY_ABORT_OVER);
    panel_zones_add(&walk->state->sent, zone);
}

/* An area's held zones; a boundary door's alarm is its owning area's unless that is unset. */
static bool holds(const struct panel_walk *walk, unsigned area, unsigned zone) {
    const struct panel_zone *keyed = panel_zone(walk, zone);
    return panel_zones_has(&walk->state->held, zone) &&
            (keyed->area == area ||
                    (panel_bit(keyed->serves, area) &&
                            walk->state->areas[keyed->area].phase == PANEL_UNSET));
}

static void report(struct panel_walk *walk, unsigned area, unsigned zone, enum panel_reason why) {
    struct panel_area_state *now = panel_area(walk, area);
    if (!panel_zone(walk, zone)->reports || panel_class(walk, zone)->exempt) {
        /* Nothing is sent; the siren sounds all the same. An exempt class comes here by tamper or a lost device alone,
         * whose signal has gone: "fire" would be a lie, and never belongs behind an abort window. */
        return;
    }
    if (panel_zones_has(&walk->state->sent, zone) || panel_zones_has(&walk->state->held, zone)) {
        return; /* page: the same zone only after it restored */
    }
    const bool warned = (now->flags & PANEL_AREA_WARNING) != 0;
    if ((now->alarm == PANEL_CALM || now->alarm == PANEL_HELD) &&
            (walk->program->settings.abort_window_s > 0 || warned)) {
        const bool first = now->alarm == PANEL_CALM;
        panel_zones_add(&walk->state->held, zone);
        if ((now->flags & PANEL_AREA_RECENT) != 0) {
            panel_zones_add(&walk->state->recent, zone);
        }
        now->alarm = PANEL_HELD;
        if (first && !warned) {
            panel_start_timer(walk, panel_timer_of(PANEL_TIMER_ABORT, area),
                    walk->program->settings.abort_window_s);
        }
        return;
    }
    const bool first = now->alarm == PANEL_CALM || now->alarm == PANEL_HELD;
    send_zone(walk, area, zone, why);
    if (first) {
        start_cancel(walk, area);
    }
}

static bool independent(const struct panel_walk *walk, unsigned a, unsigned b) {
    const struct panel_zone *x = panel_zone(walk, a);
    const struct panel_zone *y = panel_zone(walk, b);
    return a != b && x->device != y->device && (x->door == 0xFF || x->door != y->door);
}

static void send_confirmed(struct panel_walk *walk, unsigned area, unsigned zone) {
    panel_area(walk, area)->flags &= ~(uint32_t)PANEL_AREA_CONFIRMED;
    panel_signal(walk, event_of(walk, area, zone, EVENT_CONFIRMED), PANEL_WHY_CONFIRM);
}

/* The zone of this one's group whose window runs in the area, or PANEL_NO_ZONE. A boundary door's window is one of
 * every area that it serves. */
static unsigned first_of_group(const struct panel_walk *walk, unsigned area, unsigned zone) {
    for (unsigned first = 0; first < walk->program->zone_count; first++) {
        if (panel_zones_has(&walk->state->confirming, first) &&
                panel_bit(panel_zone(walk, first)->serves, area) &&
                panel_zone(walk, first)->group == panel_zone(walk, zone)->group) {
            return first;
        }
    }
    return PANEL_NO_ZONE;
}

/* page: the first trip -> unconfirmed, the window starts; a second independent detector -> confirmed; start of entry
 * disables it. Where groups are named, a zone of none is no witness and has none. */
static void confirm(struct panel_walk *walk, unsigned area, unsigned zone) {
    struct panel_area_state *now = panel_area(walk, area);
    if (walk->program->settings.confirm_window_s <= 0 ||
            (now->flags & PANEL_AREA_NO_CONFIRM) != 0 ||
            (walk->program->grouped && panel_zone(walk, zone)->group == 0)) {
        return;
    }
    const unsigned first = first_of_group(walk, area, zone);
    if (first == PANEL_NO_ZONE) {
        panel_zones_add(&walk->state->confirming, zone);
        panel_start_timer(walk, panel_timer_of(PANEL_TIMER_CONFIRM, zone),
                walk->program->settings.confirm_window_s);
    } else if (independent(walk, first, zone)) {
        if (now->alarm == PANEL_HELD) {
            now->flags |= PANEL_AREA_CONFIRMED;
        } else {
            send_confirmed(walk, area, zone);
        }
    }
}

/* EN: while unset, and while the inside warning gives its 30 s, no outside siren. */
static bool inside_only(const struct panel_walk *walk, unsigned area) {
    const struct panel_area_state *now = &walk->state->areas[area];
    return walk->program->settings.off_route == SITE_OFF_ROUTE_EN &&
            (now->phase == PANEL_UNSET || (now->flags & PANEL_AREA_WARNING) != 0);
}

static void remember(struct panel_walk *walk, unsigned area, unsigned zone) {
    struct panel_area_state *now = panel_area(walk, area);
    panel_zones_add(&walk->state->alarmed, zone);
    now->flags |= PANEL_AREA_MEMORY;
    if (walk->program->settings.reset != SITE_RESET_USER) {
        now->flags |= PANEL_AREA_NEEDS_RESET;
    }
}

void panel_alarm_raise(
        struct panel_walk *walk, unsigned area, unsigned zone, enum panel_reason why) {
    if (swung_out(walk, area, zone)) {
        return;
    }
    remember(walk, area, zone);
    if (inside_only(walk, area)) {
        panel_inside(walk, area, true, why, zone);
    } else {
        panel_sound(walk, area,
                panel_class(walk, zone)->exempt ? PANEL_SIREN
                                                : (enum panel_sound)panel_class(walk, zone)->sound,
                why, zone);
    }
    report(walk, area, zone, why);
    confirm(walk, area, zone);
}

static void warn(struct panel_walk *walk, unsigned area, unsigned zone, enum panel_reason why) {
    struct panel_area_state *now = panel_area(walk, area);
    if ((now->flags & PANEL_AREA_WARNING) != 0) {
        return;
    }
    now->flags |= PANEL_AREA_WARNING;
    panel_inside(walk, area, true, why, zone);
    panel_start_timer(walk, panel_timer_of(PANEL_TIMER_WARNING, area), PANEL_EN_WARNING_S);
}

/* page: Off-route trip: now (siren now, report after abort) or en (inside warning at d s; report not before
 * max(Te, d + 30 s)) */
void panel_alarm_off_route(
        struct panel_walk *walk, unsigned area, unsigned zone, enum panel_reason why) {
    if (walk->program->settings.off_route == SITE_OFF_ROUTE_EN) {
        warn(walk, area, zone, why);
    }
    panel_alarm_raise(walk, area, zone, why);
}

/* The warning has run and the entry time is over: siren, and what was held leaves. */
static void warned_enough(struct panel_walk *walk, unsigned area) {
    struct panel_area_state *now = panel_area(walk, area);
    now->flags &= ~(uint32_t)(PANEL_AREA_WARNING | PANEL_AREA_WARN_DUE | PANEL_AREA_ENTRY_OVER);
    for (unsigned zone = 0; zone < walk->program->zone_count; zone++) {
        if (panel_zones_has(&walk->state->alarmed, zone) && panel_zone(walk, zone)->area == area) {
            panel_sound(walk, area, PANEL_SIREN, PANEL_WHY_ABORT_OVER, zone);
            break;
        }
    }
    if (now->alarm == PANEL_HELD) {
        panel_stop_timer(walk, panel_timer_of(PANEL_TIMER_ABORT, area));
        panel_alarm_abort_over(walk, area);
    }
}

/* The alarm of an exit error waits for no abort window; what waits for one already leaves with it, as anything does
 * once a report has left. An inside warning keeps its own end. */
static void send_unheld(struct panel_walk *walk, unsigned area, unsigned zone) {
    const bool holds_some = panel_area(walk, area)->alarm == PANEL_HELD;
    if (!panel_zones_has(&walk->state->held, zone)) {
        send_zone(walk, area, zone, PANEL_WHY_EXIT_OPEN);
    }
    if (holds_some) {
        panel_stop_timer(walk, panel_timer_of(PANEL_TIMER_ABORT, area));
        panel_alarm_abort_over(walk, area);
    } else {
        start_cancel(walk, area);
    }
}

/* page: Expiry: now: siren, abort window, report. en: warning, report 30 s later. An exit error not unset in time:
 * alarm and exit-error signal. */
void panel_alarm_entry_over(struct panel_walk *walk, unsigned area) {
    struct panel_area_state *now = panel_area(walk, area);
    const unsigned zone = now->entry_zone;
    now->entry_zone = PANEL_NO_ZONE;
    if (zone >= walk->program->zone_count) {
        return;
    }
    if ((now->flags & PANEL_AREA_EXIT_ERROR) != 0) {
        now->flags &= ~(uint32_t)PANEL_AREA_EXIT_ERROR;
        panel_signal(walk,
                (struct event){.kind = EVENT_EXIT_ERROR,
                        .zone = (uint8_t)zone,
                        .user = now->setter,
                        .area = (uint8_t)area},
                PANEL_WHY_EXIT_OPEN);
        if (panel_zone(walk, zone)->reports && !panel_zones_has(&walk->state->sent, zone)) {
            send_unheld(walk, area, zone);
        }
        return;
    }
    if (walk->program->settings.off_route == SITE_OFF_ROUTE_EN) {
        now->flags |= PANEL_AREA_ENTRY_OVER;
        warn(walk, area, zone, PANEL_WHY_ENTRY_OVER);
    }
    panel_alarm_raise(walk, area, zone, PANEL_WHY_ENTRY_OVER);
    if ((now->flags & PANEL_AREA_WARN_DUE) != 0) {
        warned_enough(walk, area);
    }
}

void panel_alarm_warning_over(struct panel_walk *walk, unsigned area) {
    struct panel_area_state *now = panel_area(walk, area);
    if ((now->flags & PANEL_AREA_WARNING) == 0) {
        return;
    }
    if (now->phase == PANEL_ENTERING) {
        now->flags |= PANEL_AREA_WARN_DUE; /* the entry time is still to end */
    } else {
        warned_enough(walk, area);
    }
}

void panel_alarm_abort_over(struct panel_walk *walk, unsigned area) {
    struct panel_area_state *now = panel_area(walk, area);
    if (now->alarm != PANEL_HELD || (now->flags & PANEL_AREA_WARNING) != 0) {
        return; /* an inside warning has its own end, and releases all */
    }
    unsigned last = PANEL_NO_ZONE;
    for (unsigned zone = 0; zone < walk->program->zone_count; zone++) {
        if (!holds(walk, area, zone)) {
            continue;
        }
        send_held(walk, area, zone);
        last = zone;
        if (walk->program->settings.restore == SITE_RESTORE_CLOSURE &&
                !panel_zones_has(&walk->state->open, zone)) {
            panel_restore(walk, zone);
        }
    }
    if ((now->flags & PANEL_AREA_CONFIRMED) != 0 && last != PANEL_NO_ZONE) {
        send_confirmed(walk, area, last);
    }
    start_cancel(walk, area);
}

void panel_restore(struct panel_walk *walk, unsigned zone) {
    if (!panel_zones_has(&walk->state->sent, zone)) {
        return;
    }
    /* CP-01 4.3.2: a zone that has swung out sends no restoral until disarm. */
    if (panel_zones_has(&walk->state->swung_out, zone) &&
            walk->state->areas[panel_zone(walk, zone)->area].phase != PANEL_UNSET) {
        return;
    }
    panel_zones_drop(&walk->state->sent, zone);
    struct event event = event_of(walk, panel_zone(walk, zone)->area, zone,
            (enum event_kind)panel_class(walk, zone)->event);
    event.restore = true;
    event.recent = false;
    panel_signal(walk, event, PANEL_WHY_BEHAVIOUR);
}

static void restore_closed(struct panel_walk *walk, unsigned area) {
    for (unsigned zone = 0; zone < walk->program->zone_count; zone++) {
        if (panel_zone(walk, zone)->area == area && !panel_zones_has(&walk->state->open, zone)) {
            panel_restore(walk, zone);
        }
    }
}

/* page: Siren time ends: a zone still open is out until it closes, then live again */
void panel_alarm_siren_over(struct panel_walk *walk, unsigned area) {
    if (panel_area(walk, area)->sound == PANEL_SILENT) {
        return;
    }
    panel_sound(walk, area, PANEL_SILENT, PANEL_WHY_SIREN_TIME, PANEL_NO_ZONE);
    for (unsigned zone = 0; zone < walk->program->zone_count; zone++) {
        if (panel_zone(walk, zone)->area == area && panel_zones_has(&walk->state->alarmed, zone) &&
                panel_zones_has(&walk->state->open, zone)) {
            panel_zones_add(&walk->state->after_siren, zone);
        }
    }
    if (walk->program->settings.restore == SITE_RESTORE_SIREN_END) {
        restore_closed(walk, area);
    }
}

/* page: window over with the zone still active -> that zone is out */
void panel_alarm_confirm_over(struct panel_walk *walk, unsigned zone) {
    if (panel_zones_has(&walk->state->open, zone)) {
        panel_zones_add(&walk->state->after_siren, zone);
    }
    panel_zones_drop(&walk->state->confirming, zone);
}

/* With the area the windows of its zones end; a boundary door's with the last area that it serves. */
static void stop_confirming(struct panel_walk *walk, unsigned area) {
    for (unsigned zone = 0; zone < walk->program->zone_count; zone++) {
        const struct panel_zone *keyed = panel_zone(walk, zone);
        bool ends =
                panel_zones_has(&walk->state->confirming, zone) && panel_bit(keyed->serves, area);
        for (unsigned other = 0; ends && other < walk->program->area_count; other++) {
            ends = other == area || !panel_bit(keyed->serves, other) ||
                    walk->state->areas[other].phase == PANEL_UNSET;
        }
        if (ends) {
            panel_zones_drop(&walk->state->confirming, zone);
            panel_stop_timer(walk, panel_timer_of(PANEL_TIMER_CONFIRM, zone));
        }
    }
}

static void let_go(struct panel_walk *walk, unsigned area) {
    struct panel_area_state *now = panel_area(walk, area);
    for (unsigned zone = 0; zone < walk->program->zone_count; zone++) {
        if (holds(walk, area, zone)) {
            panel_zones_drop(&walk->state->held, zone);
            panel_zones_drop(&walk->state->recent, zone);
        }
    }
    if (now->alarm == PANEL_HELD) {
        panel_stop_timer(walk, panel_timer_of(PANEL_TIMER_ABORT, area));
        panel_say(walk, PANEL_SAYS_NOTHING_SENT, PANEL_NO_ZONE, area, PANEL_WHY_ABORT);
    } else if (now->alarm == PANEL_SENT || now->alarm == PANEL_QUEUED) {
        const bool waits = (walk->state->flags & PANEL_PATH_LOST) != 0;
        panel_stop_timer(walk, panel_timer_of(PANEL_TIMER_CANCEL, area));
        panel_signal(walk,
                (struct event){.kind = EVENT_CANCEL,
                        .zone = EVENT_NO_ZONE,
                        .user = walk->input.user,
                        .area = (uint8_t)area},
                PANEL_WHY_CODE);
        panel_say(walk, waits ? PANEL_SAYS_CANCEL_WAITS : PANEL_SAYS_CANCEL_SENT, PANEL_NO_ZONE,
                area, PANEL_WHY_CODE);
    }
    now->alarm = PANEL_CALM;
}

static void show_memory(struct panel_walk *walk, unsigned area) {
    struct panel_area_state *now = panel_area(walk, area);
    for (unsigned zone = 0; zone < walk->program->zone_count; zone++) {
        if (panel_zone(walk, zone)->area == area && panel_zones_has(&walk->state->alarmed, zone)) {
            panel_say(walk, PANEL_SAYS_ALARM_MEMORY, zone, area, PANEL_WHY_MEMORY);
            if (walk->program->settings.reset == SITE_RESET_USER) {
                panel_zones_drop(&walk->state->alarmed, zone); /* the unset is the reset */
            }
        }
    }
    if (walk->program->settings.reset == SITE_RESET_USER) {
        now->flags &= ~(uint32_t)PANEL_AREA_MEMORY;
    }
}

void panel_alarm_unset(struct panel_walk *walk, unsigned area) {
    struct panel_area_state *now = panel_area(walk, area);
    const uint32_t inside =
            PANEL_AREA_WARNING | PANEL_AREA_STALLED | PANEL_AREA_MEMORY | PANEL_AREA_INSIDE;
    const bool sounds_inside = (now->flags & inside) != 0;
    now->flags &= ~(uint32_t)PANEL_AREA_INSIDE;
    panel_sound(walk, area, PANEL_SILENT, PANEL_WHY_CODE, PANEL_NO_ZONE);
    if (sounds_inside) {
        panel_inside(walk, area, false, PANEL_WHY_CODE, PANEL_NO_ZONE);
    }
    if ((now->flags & PANEL_AREA_WARNING) != 0) {
        panel_stop_timer(walk, panel_timer_of(PANEL_TIMER_WARNING, area));
    }
    stop_confirming(walk, area);
    if ((now->flags & PANEL_AREA_EARLY) != 0) {
        panel_signal(walk,
                (struct event){.kind = EVENT_ENTRY_STARTED,
                        .restore = true,
                        .zone = now->entry_zone,
                        .user = walk->input.user,
                        .area = (uint8_t)area},
                PANEL_WHY_CODE);
    }
    now->flags &= ~(uint32_t)(PANEL_AREA_WARNING | PANEL_AREA_WARN_DUE | PANEL_AREA_ENTRY_OVER |
            PANEL_AREA_CONFIRMED | PANEL_AREA_EARLY);
    let_go(walk, area);
    show_memory(walk, area);
    if (walk->program->settings.restore != SITE_RESTORE_CLOSURE) {
        restore_closed(walk, area);
    }
}

/* page: hold-up, medical, fire ...: own signal and sound pattern, never behind an abort window; exempt classes go at
 * once and release nothing else; silent hold-up: no display, tone or siren in any state */
void panel_alarm_own(struct panel_walk *walk, unsigned zone) {
    const struct panel_zone *keyed = panel_zone(walk, zone);
    const bool hold_up = keyed->unset_behaviour == SITE_HOLD_UP;
    const bool silent = hold_up && walk->program->settings.silent_hold_up;
    if (hold_up) {
        panel_zones_add(&walk->state->latched, zone);
    }
    if (keyed->reports) {
        panel_signal(walk,
                event_of(walk, keyed->area, zone, (enum event_kind)panel_class(walk, zone)->event),
                PANEL_WHY_EXEMPT);
        panel_zones_add(&walk->state->sent, zone);
    }
    if (!silent) {
        remember(walk, keyed->area, zone);
        panel_say(walk, PANEL_SAYS_ALARM_MEMORY, zone, keyed->area, PANEL_WHY_EXEMPT);
        if (panel_class(walk, zone)->sound != PANEL_SILENT) {
            panel_sound(walk, keyed->area, (enum panel_sound)panel_class(walk, zone)->sound,
                    PANEL_WHY_EXEMPT, zone);
        }
    }
}
