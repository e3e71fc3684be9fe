/* What the parts of the panel share while one step is walked. Not for use outside this folder. */
#ifndef LINTEL_PANEL_PANEL_WALK_H
#define LINTEL_PANEL_PANEL_WALK_H

#include "panel/panel_tables.h"

/** One step under way. input: what caused it (a timer of 0 s ends inside the step that starts it). */
struct panel_walk {
    const struct panel_program *program;
    struct panel_state *state;
    struct panel_outputs *out;
    struct panel_input input;
};

enum {
    PANEL_EN_WARNING_S = 30
}; /* EN 50131-1 8.3.8.2 as amended 2009: 30 s of warning before notification */

/* panel_out.c: outputs */
void panel_start_timer(struct panel_walk *walk, panel_timer timer, int32_t seconds_s);
void panel_restart_timer(
        struct panel_walk *walk, panel_timer timer, int32_t seconds_s); /* and says why */
void panel_start_open_timer(
        struct panel_walk *walk, panel_timer timer, int32_t seconds_s); /* at least */
void panel_start_exact_timer(struct panel_walk *walk, panel_timer timer, int32_t seconds_s);
void panel_start_spread_timer(
        struct panel_walk *walk, panel_timer timer, int32_t seconds_s, int32_t spread_s);
void panel_stop_timer(struct panel_walk *walk, panel_timer timer);
void panel_shorten_timer(struct panel_walk *walk, panel_timer timer, int32_t seconds_s);
void panel_say(struct panel_walk *walk, enum panel_message message, unsigned zone, unsigned area,
        enum panel_reason why);
void panel_tone(struct panel_walk *walk, enum panel_tone tone, unsigned area, bool on);
void panel_inside(
        struct panel_walk *walk, unsigned area, bool on, enum panel_reason why, unsigned zone);
void panel_signal(struct panel_walk *walk, struct event event,
        enum panel_reason why);                  /* leaves now, or waits for the path */
void panel_send_queued(struct panel_walk *walk); /* the path stands: all that waits leaves */
void panel_lose_queued(struct panel_walk *walk); /* all that waits is lost */
void panel_log(struct panel_walk *walk, struct event event, enum panel_reason why);
struct panel_output *panel_output_add(
        struct panel_walk *walk, enum panel_output_kind kind, enum panel_reason why);

/* panel_area.c: the phases of an area */
void panel_area_event(
        struct panel_walk *walk, unsigned area, enum panel_area_event event, unsigned zone);
bool panel_taken_now(struct panel_walk *walk); /* the user's code or fob; if not, says so */
void panel_hours(struct panel_walk *walk, bool begin);
void panel_request_set(struct panel_walk *walk);
void panel_request_unset(struct panel_walk *walk);
void panel_exit_over(struct panel_walk *walk, unsigned area);
void panel_complete(struct panel_walk *walk, unsigned area);
void panel_auto_due(struct panel_walk *walk, unsigned area);
void panel_auto_over(struct panel_walk *walk, unsigned area);
void panel_postpone(struct panel_walk *walk, unsigned area);

/* panel_zone.c: what a zone's edges do */
void panel_zone_opens(struct panel_walk *walk, unsigned zone);
void panel_zone_closes(struct panel_walk *walk, unsigned zone);
void panel_zone_trips(struct panel_walk *walk, unsigned zone);
void panel_hold_over(struct panel_walk *walk, unsigned zone);
enum site_behaviour panel_behaviour_of(const struct panel_program *program,
        const struct panel_state *state, unsigned zone, unsigned area);

/* panel_alarm.c: the course of an alarm */
void panel_alarm_raise(
        struct panel_walk *walk, unsigned area, unsigned zone, enum panel_reason why);
void panel_alarm_off_route(
        struct panel_walk *walk, unsigned area, unsigned zone, enum panel_reason why);
void panel_alarm_entry_over(struct panel_walk *walk, unsigned area);
void panel_alarm_warning_over(struct panel_walk *walk, unsigned area);
void panel_alarm_abort_over(struct panel_walk *walk, unsigned area);
void panel_alarm_siren_over(struct panel_walk *walk, unsigned area);
void panel_alarm_confirm_over(struct panel_walk *walk, unsigned zone);
void panel_alarm_unset(struct panel_walk *walk, unsigned area);
void panel_alarm_left(struct panel_walk *walk, unsigned area); /* what waited for the path */
void panel_alarm_own(struct panel_walk *walk, unsigned zone);
void panel_sound(struct panel_walk *walk, unsigned area, enum panel_sound sound,
        enum panel_reason why, unsigned zone);
void panel_hold_back_over(struct panel_walk *walk, unsigned area,
        enum panel_reason why); /* the siren that waits, if one does, sounds now */
void panel_restore(struct panel_walk *walk, unsigned zone);

/* panel_fault.c: tamper, supervision, power, paths */
void panel_fault_input(struct panel_walk *walk);
void panel_lost(struct panel_walk *walk, unsigned zone);
void panel_heard(struct panel_walk *walk, unsigned zone); /* any message of a supervised device */
void panel_power_mask_over(struct panel_walk *walk);
void panel_wrong_code(struct panel_walk *walk);
bool panel_faults_refuse(const struct panel_walk *walk, unsigned area); /* a request to set it */
void panel_log_faults(struct panel_walk *walk, unsigned area); /* that it is set in spite of */

/* panel.c */
void panel_timer_ended(struct panel_walk *walk, panel_timer timer);

static inline struct panel_area_state *panel_area(struct panel_walk *walk, unsigned area) {
    return &walk->state->areas[area];
}
static inline const struct panel_zone *panel_zone(const struct panel_walk *walk, unsigned zone) {
    return &walk->program->zones[zone];
}
static inline const struct panel_class_row *panel_class(
        const struct panel_walk *walk, unsigned zone) {
    return &walk->program->tables->classes[walk->program->zones[zone].unset_behaviour];
}
/* Watched now: neither bypassed, nor lost to its siren time. */
static inline bool panel_zone_live(const struct panel_state *state, unsigned zone) {
    return !panel_zones_has(&state->bypassed, zone) && !panel_zones_has(&state->after_siren, zone);
}

#endif
