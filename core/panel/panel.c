#include "panel/panel.h"

#include "panel/panel_walk.h"

#include <string.h>

/* Equal states must be equal bytes: no padding anywhere. */
_Static_assert(sizeof(struct panel_area_state) == 4 + 2 + 8 + 2, "an area's state has no padding");
_Static_assert(sizeof(struct panel_state) ==
                19 * 16 + PANEL_AREA_MAX * sizeof(struct panel_area_state) + 2 * PANEL_ZONE_MAX +
                        8 + 4 * PANEL_QUEUE_MAX + 2 + 1 + 1 + 4,
        "a panel's state has no padding");
_Static_assert(PANEL_AREA_MAX <= 8 && PANEL_ZONE_MAX <= 128, "areas fit a byte, zones two words");

static void zone_timer_ended(struct panel_walk *walk, enum panel_timer_kind kind, unsigned zone) {
    struct panel_state *state = walk->state;
    if (zone >= walk->program->zone_count) {
        return;
    }
    switch (kind) {
    case PANEL_TIMER_CROSS:
        panel_zones_drop(&state->cross_lone, zone);
        break;
    case PANEL_TIMER_CONFIRM:
        panel_alarm_confirm_over(walk, zone);
        break;
    case PANEL_TIMER_HOLD:
        panel_hold_over(walk, zone);
        break;
    case PANEL_TIMER_SWINGER:
        /* page: clears ... 8 h after the last trip */
        state->swings[zone] = 0;
        panel_zones_drop(&state->swung_out, zone);
        /* Back on duty: what was kept back meanwhile is said, or its next alarm would go unheard. */
        if (!panel_zones_has(&state->open, zone) &&
                walk->program->settings.restore != SITE_RESTORE_UNSET) {
            panel_restore(walk, zone);
        }
        break;
    case PANEL_TIMER_SUPERVISION:
        panel_lost(walk, zone);
        break;
    case PANEL_TIMER_PULSE_1:
    case PANEL_TIMER_PULSE_2:
    case PANEL_TIMER_PULSE_3:
    case PANEL_TIMER_PULSE_4:
        state->pulses[zone] =
                (uint8_t)(state->pulses[zone] & ~(1U << (unsigned)(kind - PANEL_TIMER_PULSE_1)));
        break;
    case PANEL_TIMER_EXIT:
    case PANEL_TIMER_ENTRY:
    case PANEL_TIMER_ABORT:
    case PANEL_TIMER_CANCEL:
    case PANEL_TIMER_RECENT:
    case PANEL_TIMER_HOLD_BACK:
    case PANEL_TIMER_SIREN:
    case PANEL_TIMER_WARNING:
    case PANEL_TIMER_FINAL_DOOR:
    case PANEL_TIMER_AUTO_WARN:
    case PANEL_TIMER_AUTO_POSTPONE:
    case PANEL_TIMER_LOCKOUT:
    case PANEL_TIMER_MAINS:
    case PANEL_TIMER_POWER_MASK:
    case PANEL_TIMER_KIND_COUNT:
        break;
    }
}

static void area_timer_ended(struct panel_walk *walk, enum panel_timer_kind kind, unsigned area) {
    struct panel_area_state *now = panel_area(walk, area);
    switch (kind) {
    case PANEL_TIMER_EXIT:
        panel_exit_over(walk, area);
        break;
    case PANEL_TIMER_ENTRY:
        panel_area_event(walk, area, PANEL_EV_ENTRY_OVER, now->entry_zone);
        break;
    case PANEL_TIMER_ABORT:
        panel_alarm_abort_over(walk, area);
        break;
    case PANEL_TIMER_CANCEL:
        if (now->alarm == PANEL_SENT) {
            now->alarm = PANEL_OLD;
        }
        break;
    case PANEL_TIMER_RECENT:
        now->flags &= ~(uint32_t)PANEL_AREA_RECENT;
        break;
    case PANEL_TIMER_HOLD_BACK:
        panel_hold_back_over(walk, area, PANEL_WHY_HOLD_BACK);
        break;
    case PANEL_TIMER_SIREN:
        panel_alarm_siren_over(walk, area);
        break;
    case PANEL_TIMER_WARNING:
        panel_alarm_warning_over(walk, area);
        break;
    case PANEL_TIMER_FINAL_DOOR:
        panel_complete(walk, area);
        break;
    case PANEL_TIMER_AUTO_WARN:
        panel_auto_over(walk, area);
        break;
    case PANEL_TIMER_AUTO_POSTPONE:
        panel_auto_due(walk, area);
        break;
    case PANEL_TIMER_CROSS:
    case PANEL_TIMER_CONFIRM:
    case PANEL_TIMER_HOLD:
    case PANEL_TIMER_SWINGER:
    case PANEL_TIMER_SUPERVISION:
    case PANEL_TIMER_PULSE_1:
    case PANEL_TIMER_PULSE_2:
    case PANEL_TIMER_PULSE_3:
    case PANEL_TIMER_PULSE_4:
    case PANEL_TIMER_LOCKOUT:
    case PANEL_TIMER_MAINS:
    case PANEL_TIMER_POWER_MASK:
    case PANEL_TIMER_KIND_COUNT:
        break;
    }
}

static void mains_due(struct panel_walk *walk) {
    if ((walk->state->flags & PANEL_MAINS_LOST) != 0) {
        walk->state->flags |= PANEL_MAINS_SENT;
        panel_signal(walk,
                (struct event){.kind = EVENT_MAINS, .zone = EVENT_NO_ZONE, .user = EVENT_NOBODY},
                PANEL_WHY_FAULT);
    }
}

void panel_timer_ended(struct panel_walk *walk, panel_timer timer) {
    if (timer >= PANEL_TIMER_COUNT) {
        return;
    }
    const enum panel_timer_kind kind = panel_timer_kind_of(timer);
    const unsigned index = panel_timer_index_of(timer);
    if (kind == PANEL_TIMER_LOCKOUT) {
        walk->state->flags &= (uint16_t)~PANEL_LOCKED;
    } else if (kind == PANEL_TIMER_MAINS) {
        mains_due(walk);
    } else if (kind == PANEL_TIMER_POWER_MASK) {
        panel_power_mask_over(walk);
    } else if (kind >= PANEL_TIMER_CROSS) {
        zone_timer_ended(walk, kind, index);
    } else if (index < walk->program->area_count) {
        area_timer_ended(walk, kind, index);
    }
}

static bool comes_from_a_device(enum panel_input_kind kind) {
    return kind <= PANEL_IN_CHECK_IN;
}

/* Tamper alone may name no zone: a device of no area. */
static bool names_no_zone_but_must(
        const struct panel_program *program, const struct panel_input *input) {
    const bool tamper = input->kind == PANEL_IN_TAMPER || input->kind == PANEL_IN_TAMPER_BACK;
    return (comes_from_a_device(input->kind) || input->kind == PANEL_IN_BYPASS) &&
            input->zone >= program->zone_count && !(tamper && input->zone == PANEL_NO_ZONE);
}

/* page: Completion `time | final door closed + n s | outside button | lock | fob | station`: only the one keyed in. */
static bool completes(const struct panel_walk *walk) {
    switch (walk->program->settings.completion) {
    case SITE_COMPLETE_BUTTON:
    case SITE_COMPLETE_LOCK:
        return walk->input.source == PANEL_BY_KEYPAD;
    case SITE_COMPLETE_FOB:
        return walk->input.source == PANEL_BY_FOB;
    case SITE_COMPLETE_STATION:
        return walk->input.source == PANEL_BY_STATION;
    case SITE_COMPLETE_TIME:
    case SITE_COMPLETE_FINAL_DOOR:
    case SITE_COMPLETION_COUNT:
        break;
    }
    return false;
}

static void each_area(struct panel_walk *walk, void (*visit)(struct panel_walk *, unsigned)) {
    for (unsigned area = 0; area < walk->program->area_count; area++) {
        if (panel_bit(walk->input.areas, area)) {
            visit(walk, area);
        }
    }
}

/* Whoever puts off what is not coming, or what cannot be put off again, learns it at the keypad. */
static void postpone(struct panel_walk *walk) {
    unsigned first = walk->program->area_count;
    bool warns = false;
    for (unsigned area = walk->program->area_count; area-- > 0;) {
        if (panel_bit(walk->input.areas, area)) {
            first = area;
            warns = warns || (panel_area(walk, area)->flags & PANEL_AREA_AUTO_WARN) != 0;
        }
    }
    if (!warns && first < walk->program->area_count) {
        panel_say(walk, PANEL_SAYS_NOTHING_TO_POSTPONE, PANEL_NO_ZONE, first, PANEL_WHY_NONE);
    }
    each_area(walk, panel_postpone);
}

static void take(struct panel_walk *walk) {
    switch (walk->input.kind) {
    case PANEL_IN_OPEN:
    case PANEL_IN_GROSS:
        panel_zone_opens(walk, walk->input.zone);
        break;
    case PANEL_IN_CLOSE:
        panel_zone_closes(walk, walk->input.zone);
        break;
    case PANEL_IN_SET:
        panel_request_set(walk);
        break;
    case PANEL_IN_UNSET:
        panel_request_unset(walk);
        break;
    case PANEL_IN_WRONG_CODE:
        panel_wrong_code(walk);
        break;
    case PANEL_IN_COMPLETE:
        if (completes(walk)) {
            each_area(walk, panel_complete);
        }
        break;
    case PANEL_IN_AUTO_DUE:
        each_area(walk, panel_auto_due);
        break;
    case PANEL_IN_POSTPONE:
        if (panel_taken_now(walk)) {
            postpone(walk);
        }
        break;
    case PANEL_IN_HOURS_BEGIN:
    case PANEL_IN_HOURS_END:
        panel_hours(walk, walk->input.kind == PANEL_IN_HOURS_BEGIN);
        break;
    case PANEL_IN_TIMER:
        panel_timer_ended(walk, walk->input.timer);
        break;
    case PANEL_IN_TAMPER:
    case PANEL_IN_TAMPER_BACK:
    case PANEL_IN_MASKED:
    case PANEL_IN_MASKED_BACK:
    case PANEL_IN_LOW_BATTERY:
    case PANEL_IN_CHECK_IN:
    case PANEL_IN_BYPASS:
    case PANEL_IN_RESET:
    case PANEL_IN_MAINS_LOST:
    case PANEL_IN_MAINS_BACK:
    case PANEL_IN_BATTERY_LOW:
    case PANEL_IN_BATTERY_BACK:
    case PANEL_IN_PATH_LOST:
    case PANEL_IN_PATH_BACK:
    case PANEL_IN_JAMMED:
    case PANEL_IN_JAM_OVER:
    case PANEL_IN_POWER_LOST:
    case PANEL_IN_POWER_BACK:
        panel_fault_input(walk);
        break;
    case PANEL_IN_COUNT:
        break;
    }
}

/* A panel without power, or just back, hears levels only; people and timers do nothing. Its calendar goes on, and
 * whether the path stands is a level, too. */
static bool deaf_to(const struct panel_state *state, enum panel_input_kind kind) {
    if ((state->flags & PANEL_DEAD) != 0) {
        return kind != PANEL_IN_OPEN && kind != PANEL_IN_CLOSE && kind != PANEL_IN_POWER_BACK &&
                kind != PANEL_IN_HOURS_BEGIN && kind != PANEL_IN_HOURS_END &&
                kind != PANEL_IN_PATH_LOST && kind != PANEL_IN_PATH_BACK;
    }
    return false;
}

void panel_step(const struct panel_program *program, struct panel_state *state,
        struct panel_input input, struct panel_outputs *ret_outputs) {
    struct panel_walk walk = {
            .program = program, .state = state, .out = ret_outputs, .input = input};
    ret_outputs->count = 0;
    ret_outputs->overflowed = false;
    if (names_no_zone_but_must(program, &input) || deaf_to(state, input.kind)) {
        return;
    }
    if (comes_from_a_device(input.kind) && input.zone < program->zone_count &&
            (state->flags & PANEL_DEAD) == 0) {
        panel_heard(&walk, input.zone);
    }
    take(&walk);
}

void panel_begin(const struct panel_program *program, const struct site_start *starts,
        const struct panel_zones *open, struct panel_state *ret_state,
        struct panel_outputs *ret_outputs) {
    struct panel_walk walk = {.program = program, .state = ret_state, .out = ret_outputs};
    ret_outputs->count = 0;
    ret_outputs->overflowed = false;
    memset(ret_state, 0, sizeof *ret_state);
    ret_state->open = *open;
    for (unsigned area = 0; area < PANEL_AREA_MAX; area++) {
        struct panel_area_state *now = &ret_state->areas[area];
        now->setter = PANEL_NOBODY;
        now->entry_zone = PANEL_NO_ZONE;
        now->siren_zone = PANEL_NO_ZONE;
        if (area < program->area_count && starts[area].set) {
            now->phase = PANEL_SET;
            now->mode = (uint8_t)starts[area].mode;
        }
    }
    for (unsigned zone = 0; zone < program->zone_count; zone++) {
        if (program->zones[zone].supervised) {
            panel_start_timer(&walk, panel_timer_of(PANEL_TIMER_SUPERVISION, zone),
                    program->settings.supervision_window_s);
        }
    }
}
