#include "breakin/moment.h"

#include <string.h>

_Static_assert(sizeof(struct moment_mode) ==
                sizeof(struct panel_state) + sizeof(struct devices_bits) +
                        sizeof(uint16_t) * (BREAKIN_TIMER_MAX + 4),
        "a mode has no padding");
_Static_assert(DEVICES_TIMER_END <= UINT16_MAX && (int)PANEL_TIMER_COUNT <= (int)DEVICES_LATENCY,
        "a timer fits its word, devices' stand above the panel's");

/* One moment being changed. */
struct change {
    const struct moments *moments;
    struct moment *moment;
    struct devices_port port;
};

static size_t find(const struct moment *moment, unsigned timer) {
    size_t index = 0;
    while (index < moment->mode.timer_count && moment->mode.timers[index] < timer) {
        index++;
    }
    return index;
}

static bool runs_at(const struct moment *moment, size_t index, unsigned timer) {
    return index < moment->mode.timer_count && moment->mode.timers[index] == timer;
}

static void stop_timer(struct moment *moment, unsigned timer) {
    struct moment_mode *mode = &moment->mode;
    const size_t index = find(moment, timer);
    if (!runs_at(moment, index, timer)) {
        return;
    }
    mode->timer_count--;
    for (size_t i = index; i < mode->timer_count; i++) {
        mode->timers[i] = mode->timers[i + 1];
        moment->left_s[i] = moment->left_s[i + 1];
    }
    mode->timers[mode->timer_count] = 0; /* equal modes are equal bytes */
    moment->left_s[mode->timer_count] = 0;
}

static void start_timer(struct moment *moment, unsigned timer, int32_t seconds_s) {
    struct moment_mode *mode = &moment->mode;
    const size_t index = find(moment, timer);
    if (runs_at(moment, index, timer)) {
        moment->left_s[index] = seconds_s;
        return;
    }
    if (mode->timer_count == BREAKIN_TIMER_MAX) {
        moment->overflowed = true;
        return;
    }
    for (size_t i = mode->timer_count; i > index; i--) {
        mode->timers[i] = mode->timers[i - 1];
        moment->left_s[i] = moment->left_s[i - 1];
    }
    mode->timers[index] = (uint16_t)timer;
    moment->left_s[index] = seconds_s;
    mode->timer_count++;
}

static void keep_time(const struct change *change, const struct panel_output *output) {
    struct moment *moment = change->moment;
    if (devices_sway_of(change->moments->world, output->timer) == DEVICES_IGNORED) {
        return;
    }
    const int32_t seconds_s = devices_seconds(change->moments->world, output);
    const size_t index = find(moment, output->timer);
    if (output->kind == PANEL_OUT_START) {
        start_timer(moment, output->timer, seconds_s);
    } else if (output->kind == PANEL_OUT_STOP) {
        stop_timer(moment, output->timer);
    } else if (runs_at(moment, index, output->timer) && moment->left_s[index] > seconds_s) {
        moment->left_s[index] = seconds_s;
    }
}

static void take_outputs(const struct change *change) {
    const struct panel_outputs *outputs = change->moments->outputs;
    for (size_t i = 0; i < outputs->count; i++) {
        const struct panel_output *output = &outputs->list[i];
        if (output->kind == PANEL_OUT_START || output->kind == PANEL_OUT_STOP ||
                output->kind == PANEL_OUT_SHORTEN) {
            keep_time(change, output);
        } else if (change->moment->age_s < 0 && devices_is_heard(change->moments->world, output)) {
            change->moment->age_s = 0;
        }
    }
}

static void step(const struct change *change, struct panel_input input) {
    panel_step(change->moments->world->program, &change->moment->mode.panel, input,
            change->moments->outputs);
    take_outputs(change);
}

static void tell(void *context, unsigned zone, bool open) {
    const struct change *change = context;
    step(change, devices_news(change->moments->world, zone, open));
}

static void start(void *context, unsigned timer, int32_t seconds_s) {
    const struct change *change = context;
    start_timer(change->moment, timer, seconds_s);
}

static struct change change_of(const struct moments *moments, struct moment *moment) {
    return (struct change){.moments = moments,
            .moment = moment,
            .port = {.world = moments->world,
                    .bits = &moment->mode.bits,
                    .tell = tell,
                    .start = start}};
}

static void end_timer(struct change *change, size_t index) {
    const unsigned timer = change->moment->mode.timers[index];
    stop_timer(change->moment, timer);
    change->port.context = change;
    if (timer >= DEVICES_LATENCY) {
        devices_timer(&change->port, timer);
    } else {
        step(change,
                (struct panel_input){.kind = PANEL_IN_TIMER,
                        .zone = PANEL_NO_ZONE,
                        .user = PANEL_NOBODY,
                        .timer = (panel_timer)timer});
    }
}

static void begin_asleep(struct change *change) {
    const struct devices_world *world = change->moments->world;
    for (unsigned zone = 0; zone < world->program->zone_count; zone++) {
        if (panel_zones_has(&world->start->asleep, zone) && world->sleep_s[zone] > 0 &&
                !panel_zones_has(&world->mute, zone)) {
            panel_zones_add(&change->moment->mode.bits.asleep, zone);
            start_timer(change->moment, DEVICES_SLEEP + zone, world->sleep_s[zone]);
        }
    }
}

void moment_begin(const struct moments *moments, struct moment *ret_moment) {
    const struct breakin_start *from = moments->world->start;
    struct change change = change_of(moments, ret_moment);
    memset(ret_moment, 0, sizeof *ret_moment);
    ret_moment->age_s = -1;
    panel_begin(moments->world->program, from->areas, &from->open, &ret_moment->mode.panel,
            moments->outputs);
    take_outputs(&change);
    ret_moment->mode.bits.physical = from->open;
    if (from->exiting != 0) {
        step(&change,
                (struct panel_input){.kind = PANEL_IN_SET,
                        .zone = PANEL_NO_ZONE,
                        .user = PANEL_NOBODY,
                        .areas = from->exiting,
                        .mode = (uint8_t)from->exit_mode,
                        .source = PANEL_BY_KEYPAD});
    }
    begin_asleep(&change);
}

int32_t moment_next_s(const struct moment *moment) {
    int32_t least_s = -1;
    for (size_t i = 0; i < moment->mode.timer_count; i++) {
        if (least_s < 0 || moment->left_s[i] < least_s) {
            least_s = moment->left_s[i];
        }
    }
    return least_s;
}

static void sink(struct moment *moment, int32_t seconds_s) {
    for (size_t i = 0; i < moment->mode.timer_count; i++) {
        moment->left_s[i] -= seconds_s;
    }
    if (moment->age_s >= 0) {
        moment->age_s += seconds_s;
    }
}

void moment_settle(const struct moments *moments, struct moment *moment) {
    struct change change = change_of(moments, moment);
    for (bool ended = true; ended;) {
        ended = false;
        for (size_t i = 0; !ended && i < moment->mode.timer_count; i++) {
            if (moment->left_s[i] == 0) {
                end_timer(&change, i);
                ended = true;
            }
        }
    }
}

void moment_pass(const struct moments *moments, struct moment *moment, int32_t seconds_s) {
    while (seconds_s > 0) {
        moment_settle(moments, moment);
        const int32_t next_s = moment_next_s(moment);
        const int32_t by_s = next_s >= 0 && next_s < seconds_s ? next_s : seconds_s;
        sink(moment, by_s);
        seconds_s -= by_s;
    }
}

void moment_notice(const struct moments *moments, struct moment *moment,
        const struct panel_zones *opens, const struct panel_zones *trips, bool closes) {
    struct change change = change_of(moments, moment);
    const unsigned count = moments->world->program->zone_count;
    change.port.context = &change;
    for (unsigned zone = 0; panel_zones_any(opens) && zone < count; zone++) {
        if (panel_zones_has(opens, zone)) {
            devices_level(&change.port, zone, true);
        }
    }
    for (unsigned zone = 0; panel_zones_any(trips) && zone < count; zone++) {
        if (panel_zones_has(trips, zone)) {
            devices_trip(&change.port, zone);
        }
    }
    for (unsigned zone = 0; closes && zone < count; zone++) {
        if (panel_zones_has(opens, zone)) {
            devices_level(&change.port, zone, false);
        }
    }
}

int32_t moment_heard_in_s(const struct moments *moments, struct moment *moment) {
    int32_t passed_s = 0;
    if (moment->age_s >= 0) {
        return -moment->age_s;
    }
    moment_settle(moments, moment);
    for (int32_t next_s = moment_next_s(moment); moment->age_s < 0 && next_s >= 0;
            next_s = moment_next_s(moment)) {
        sink(moment, next_s);
        passed_s += next_s;
        moment_settle(moments, moment);
    }
    return moment->age_s >= 0 ? passed_s : BREAKIN_NEVER_S;
}
