#include "panel/panel_walk.h"

struct panel_output *panel_output_add(
        struct panel_walk *walk, enum panel_output_kind kind, enum panel_reason why) {
    struct panel_outputs *out = walk->out;
    if (out->count == PANEL_OUTPUT_MAX) {
        out->overflowed = true;
        out->count--; /* the last is overwritten: the flag says so */
    }
    struct panel_output *output = &out->list[out->count];
    out->count++;
    *output = (struct panel_output){.kind = kind,
            .why = why,
            .zone = PANEL_NO_ZONE,
            .event = {.zone = EVENT_NO_ZONE, .user = EVENT_NOBODY}};
    return output;
}

/* The START to mark further; NULL when the timer has ended already. */
static struct panel_output *start(
        struct panel_walk *walk, panel_timer timer, int32_t seconds_s, enum panel_reason why) {
    if (seconds_s <= 0) {
        /* A timer of 0 s ends inside the step that starts it. */
        panel_stop_timer(walk, timer);
        panel_timer_ended(walk, timer);
        return NULL;
    }
    struct panel_output *output = panel_output_add(walk, PANEL_OUT_START, why);
    output->timer = timer;
    output->seconds_s = seconds_s;
    return output;
}

void panel_start_timer(struct panel_walk *walk, panel_timer timer, int32_t seconds_s) {
    (void)start(walk, timer, seconds_s, PANEL_WHY_NONE);
}

void panel_restart_timer(struct panel_walk *walk, panel_timer timer, int32_t seconds_s) {
    (void)start(walk, timer, seconds_s, PANEL_WHY_RESTART);
}

void panel_start_open_timer(struct panel_walk *walk, panel_timer timer, int32_t seconds_s) {
    struct panel_output *output = start(walk, timer, seconds_s, PANEL_WHY_NONE);
    if (output != NULL) {
        output->at_least = true;
    }
}

void panel_start_exact_timer(struct panel_walk *walk, panel_timer timer, int32_t seconds_s) {
    struct panel_output *output = start(walk, timer, seconds_s, PANEL_WHY_NONE);
    if (output != NULL) {
        output->exact = true;
    }
}

void panel_start_spread_timer(
        struct panel_walk *walk, panel_timer timer, int32_t seconds_s, int32_t spread_s) {
    struct panel_output *output = start(walk, timer, seconds_s, PANEL_WHY_NONE);
    if (output != NULL) {
        output->spread_s = spread_s;
    }
}

void panel_stop_timer(struct panel_walk *walk, panel_timer timer) {
    panel_output_add(walk, PANEL_OUT_STOP, PANEL_WHY_NONE)->timer = timer;
}

void panel_shorten_timer(struct panel_walk *walk, panel_timer timer, int32_t seconds_s) {
    if (seconds_s <= 0) {
        panel_stop_timer(walk, timer);
        panel_timer_ended(walk, timer);
        return;
    }
    struct panel_output *output = panel_output_add(walk, PANEL_OUT_SHORTEN, PANEL_WHY_NONE);
    output->timer = timer;
    output->seconds_s = seconds_s;
}

void panel_say(struct panel_walk *walk, enum panel_message message, unsigned zone, unsigned area,
        enum panel_reason why) {
    struct panel_output *output = panel_output_add(walk, PANEL_OUT_SAYS, why);
    output->message = (uint8_t)message;
    output->zone = (uint8_t)zone;
    output->area = (uint8_t)area;
}

void panel_tone(struct panel_walk *walk, enum panel_tone tone, unsigned area, bool on) {
    struct panel_output *output = panel_output_add(walk, PANEL_OUT_TONE, PANEL_WHY_NONE);
    output->tone = (uint8_t)tone;
    output->area = (uint8_t)area;
    output->on = on;
}

void panel_inside(
        struct panel_walk *walk, unsigned area, bool on, enum panel_reason why, unsigned zone) {
    struct panel_output *output = panel_output_add(walk, PANEL_OUT_INSIDE, why);
    output->area = (uint8_t)area;
    output->on = on;
    output->zone = (uint8_t)zone;
}

static void record(struct panel_walk *walk, enum panel_output_kind kind, struct event event,
        enum panel_reason why) {
    struct panel_output *output = panel_output_add(walk, kind, why);
    output->event = event;
    output->zone = event.zone;
    output->area = event.area;
}

void panel_signal(struct panel_walk *walk, struct event event, enum panel_reason why) {
    record(walk, PANEL_OUT_SIGNAL, event, why);
}

void panel_log(struct panel_walk *walk, struct event event, enum panel_reason why) {
    record(walk, PANEL_OUT_LOG, event, why);
}
