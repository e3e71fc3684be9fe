#include "breakin/bound.h"

#include "panel/panel_walk.h"

/* What is left of a timer, or -1. */
static int32_t left_s(const struct moment *moment, enum panel_timer_kind kind, unsigned area) {
    const unsigned timer = panel_timer_of(kind, area);
    for (size_t i = 0; i < moment->mode.timer_count; i++) {
        if (moment->mode.timers[i] == timer) {
            return moment->left_s[i];
        }
    }
    return -1;
}

static int32_t longest_s(const struct devices_world *world, int32_t seconds_s) {
    const struct site_settings *settings = &world->program->settings;
    return world->options->no_tolerance
            ? seconds_s
            : span_tolerant(seconds_s, settings->tolerance_tenths).high_s;
}

static int32_t longest_entry_s(const struct devices_world *world) {
    const struct site_settings *settings = &world->program->settings;
    int32_t most_s = 0;
    for (size_t i = 0; i < settings->delay_count; i++) {
        const int32_t seconds_s = longest_s(world, settings->delays[i].seconds_s);
        most_s = seconds_s > most_s ? seconds_s : most_s;
    }
    return most_s;
}

static int32_t bound_of_area_s(
        const struct devices_world *world, const struct moment *moment, unsigned area) {
    const struct panel_area_state *now = &moment->mode.panel.areas[area];
    const bool warned = (now->flags & PANEL_AREA_WARNING) != 0;
    const int32_t entry_s = left_s(moment, PANEL_TIMER_ENTRY, area);
    const int32_t abort_s = left_s(moment, PANEL_TIMER_ABORT, area);
    const int32_t warning_s = left_s(moment, PANEL_TIMER_WARNING, area);
    const int32_t further_s = longest_entry_s(world);
    const int32_t warns_s = longest_s(world, PANEL_EN_WARNING_S);
    const bool held = now->alarm == PANEL_HELD;
    if (held && warned && (now->flags & PANEL_AREA_WARN_DUE) != 0 && entry_s >= 0) {
        return entry_s;
    }
    if (held && warned && warning_s >= 0) {
        return (warning_s > entry_s ? warning_s : entry_s) + further_s;
    }
    if (held && !warned && abort_s >= 0) {
        return abort_s + warns_s + further_s;
    }
    return now->phase == PANEL_ENTERING && entry_s >= 0 ? entry_s + warns_s + further_s
                                                        : BREAKIN_NEVER_S;
}

int32_t bound_heard_s(const struct devices_world *world, const struct moment *moment) {
    int32_t least_s = BREAKIN_NEVER_S;
    for (unsigned area = 0; area < world->program->area_count; area++) {
        const int32_t bound_s = bound_of_area_s(world, moment, area);
        least_s = bound_s < least_s ? bound_s : least_s;
    }
    return least_s;
}
