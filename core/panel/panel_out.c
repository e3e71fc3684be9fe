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

/* ---- signals, and those that wait for the path ------------------------------------------------------------------- */

static void send(struct panel_walk *walk, enum panel_output_kind kind, struct event event,
        enum panel_reason why) {
    struct panel_output *output = panel_output_add(walk, kind, why);
    output->event = event;
    output->zone = event.zone;
    output->area = event.area;
}

/* One word for each that waits, its reason within: zone 8 bits, user 7, kind 6, why 6, area 3, restore, recent. */
enum { NOBODY_PACKED = 0x7F };
_Static_assert((int)PANEL_USER_MAX < (int)NOBODY_PACKED && EVENT_KIND_COUNT <= 64 &&
                PANEL_WHY_COUNT <= 64 && PANEL_AREA_MAX <= 8,
        "a signal that waits fits one word");

static uint32_t pack(struct event event, enum panel_reason why) {
    const uint32_t user = event.user < PANEL_USER_MAX ? event.user : NOBODY_PACKED;
    return (uint32_t)event.zone | user << 8 | (uint32_t)event.kind << 15 | (uint32_t)why << 21 |
            (uint32_t)event.area << 27 | (uint32_t)event.restore << 30 |
            (uint32_t)event.recent << 31;
}

static struct event unpack(uint32_t packed, enum panel_reason *ret_why) {
    const uint8_t user = packed >> 8 & 0x7FU;
    *ret_why = (enum panel_reason)(packed >> 21 & 0x3FU);
    return (struct event){.zone = (uint8_t)packed,
            .user = user == NOBODY_PACKED ? EVENT_NOBODY : user,
            .kind = packed >> 15 & 0x3FU,
            .area = packed >> 27 & 7U,
            .restore = (packed >> 30 & 1U) != 0,
            .recent = packed >> 31 != 0};
}

static uint8_t urgency_at(const struct panel_walk *walk, size_t place) {
    enum panel_reason why = PANEL_WHY_NONE;
    return walk->program->tables->urgency[unpack(walk->state->queue[place], &why).kind];
}

/* page: signals queue in a stated order: by urgency, then in the order of making. At the bound the latest of the least
 * urgent gives way, the new one among them. False: it was the new one. */
static bool queue(struct panel_walk *walk, struct event event, enum panel_reason why) {
    struct panel_state *state = walk->state;
    const uint8_t urgency = walk->program->tables->urgency[event.kind];
    const int32_t kept = walk->program->settings.signals_kept;
    size_t place = state->queued;
    while (place > 0 && urgency_at(walk, place - 1) > urgency) {
        place--;
    }
    if (state->queued >= PANEL_QUEUE_MAX || state->queued >= kept) {
        state->flags |= PANEL_SIGNALS_LOST;
        if (place == state->queued) {
            return false;
        }
        state->queued--;
    }
    for (size_t i = state->queued; i > place; i--) {
        state->queue[i] = state->queue[i - 1];
    }
    state->queue[place] = pack(event, why);
    state->queued++;
    return true;
}

void panel_signal(struct panel_walk *walk, struct event event, enum panel_reason why) {
    if ((walk->state->flags & PANEL_PATH_LOST) == 0) {
        send(walk, PANEL_OUT_SIGNAL, event, why);
        return;
    }
    /* What is exempt from the abort window goes at once: not now, but for what it is. */
    why = why == PANEL_WHY_EXEMPT ? PANEL_WHY_BEHAVIOUR : why;
    if (queue(walk, event, why)) {
        send(walk, PANEL_OUT_QUEUED, event, why);
    }
}

void panel_log(struct panel_walk *walk, struct event event, enum panel_reason why) {
    send(walk, PANEL_OUT_LOG, event, why);
}

void panel_send_queued(struct panel_walk *walk) {
    struct panel_state *state = walk->state;
    for (size_t i = 0; i < state->queued; i++) {
        enum panel_reason why = PANEL_WHY_NONE;
        const struct event event = unpack(state->queue[i], &why);
        state->queue[i] = 0;
        send(walk, PANEL_OUT_SIGNAL, event, why);
    }
    state->queued = 0;
    if ((state->flags & PANEL_SIGNALS_LOST) != 0) {
        state->flags &= (uint16_t)~PANEL_SIGNALS_LOST;
        send(walk, PANEL_OUT_SIGNAL,
                (struct event){
                        .kind = EVENT_SIGNALS_LOST, .zone = EVENT_NO_ZONE, .user = EVENT_NOBODY},
                PANEL_WHY_FAULT);
    }
    for (unsigned area = 0; area < walk->program->area_count; area++) {
        panel_alarm_left(walk, area);
    }
}

void panel_lose_queued(struct panel_walk *walk) {
    struct panel_state *state = walk->state;
    if (state->queued > 0) {
        state->flags |= PANEL_SIGNALS_LOST;
    }
    for (size_t i = 0; i < state->queued; i++) {
        state->queue[i] = 0;
    }
    state->queued = 0;
}
