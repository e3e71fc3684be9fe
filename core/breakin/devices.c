#include "breakin/devices.h"

#include "panel/panel_tables.h"

/* clang-format off */
/* Source: design page "Break-ins". What it does not list is compared for equality. The exit time suits him, but a
 * setting that fails at its end lets go what is held (found by brute force), so it may also run too long. Cancel and
 * recent closing change marks on signals only; supervised devices keep checking in, so that no supervision window
 * ends. The end of the siren's time leaves out what stands open, and a swinger's keeps out what tripped too often. */
static const enum devices_sway sways[PANEL_TIMER_KIND_COUNT] = {
    [PANEL_TIMER_EXIT] =          DEVICES_EITHER,
    [PANEL_TIMER_ENTRY] =         DEVICES_SUITS,
    [PANEL_TIMER_ABORT] =         DEVICES_SUITS,
    [PANEL_TIMER_CANCEL] =        DEVICES_IGNORED,
    [PANEL_TIMER_RECENT] =        DEVICES_IGNORED,
    [PANEL_TIMER_HOLD_BACK] =     DEVICES_SUITS,
    [PANEL_TIMER_SIREN] =         DEVICES_THREATENS,
    [PANEL_TIMER_WARNING] =       DEVICES_SUITS,
    [PANEL_TIMER_CONFIRM] =       DEVICES_THREATENS,
    [PANEL_TIMER_FINAL_DOOR] =    DEVICES_EQUAL,
    [PANEL_TIMER_AUTO_WARN] =     DEVICES_EQUAL,
    [PANEL_TIMER_AUTO_POSTPONE] = DEVICES_EQUAL,
    [PANEL_TIMER_CROSS] =         DEVICES_THREATENS,
    [PANEL_TIMER_HOLD] =          DEVICES_SUITS,
    [PANEL_TIMER_SWINGER] =       DEVICES_SUITS,
    [PANEL_TIMER_SUPERVISION] =   DEVICES_IGNORED,
    [PANEL_TIMER_PULSE_1] =       DEVICES_THREATENS,
    [PANEL_TIMER_PULSE_2] =       DEVICES_THREATENS,
    [PANEL_TIMER_PULSE_3] =       DEVICES_THREATENS,
    [PANEL_TIMER_PULSE_4] =       DEVICES_THREATENS,
    [PANEL_TIMER_LOCKOUT] =       DEVICES_EQUAL,
    [PANEL_TIMER_MAINS] =         DEVICES_EQUAL,
    [PANEL_TIMER_POWER_MASK] =    DEVICES_SUITS,
};
/* clang-format on */

/* While it runs as long as it does. A message under way is one of his acts still to come. */
static enum devices_sway usual_sway_of(unsigned timer) {
    if (timer < PANEL_TIMER_COUNT) {
        return sways[panel_timer_kind_of((panel_timer)timer)];
    }
    return timer >= DEVICES_HOLD ? DEVICES_SUITS : DEVICES_EITHER;
}

/* By the European course a trip may suit him: an entry time that begins while the inside warning runs delays siren and
 * report until it ends, and a warning that is over meanwhile does not. So the less may be the better of an entry time
 * that runs and of a detector's being blind (found by brute force: the sites once wrong fail without either). */
enum devices_sway devices_sway_of(const struct devices_world *world, unsigned timer) {
    const bool entry = timer < PANEL_TIMER_COUNT &&
            panel_timer_kind_of((panel_timer)timer) == PANEL_TIMER_ENTRY;
    return world->program->settings.off_route == SITE_OFF_ROUTE_EN &&
                    (entry || timer >= DEVICES_SLEEP)
            ? DEVICES_EITHER
            : usual_sway_of(timer);
}

bool devices_presses(unsigned timer) {
    const enum panel_timer_kind kind = timer < PANEL_TIMER_COUNT
            ? panel_timer_kind_of((panel_timer)timer)
            : PANEL_TIMER_KIND_COUNT;
    return kind != PANEL_TIMER_SIREN && kind != PANEL_TIMER_SWINGER &&
            kind != PANEL_TIMER_CONFIRM && (timer < DEVICES_HOLD || timer >= DEVICES_SLEEP);
}

int32_t devices_seconds(const struct devices_world *world, const struct panel_output *output) {
    const int32_t tenths = world->program->settings.tolerance_tenths;
    const struct span span = span_tolerant(output->seconds_s, tenths);
    const enum devices_sway sway = usual_sway_of(output->timer);
    if (sway == DEVICES_IGNORED) {
        return BREAKIN_NEVER_S;
    }
    if (output->exact || world->options->no_tolerance) {
        return output->seconds_s;
    }
    switch (sway) {
    case DEVICES_SUITS:
    case DEVICES_EITHER:
        return span.high_s;
    case DEVICES_THREATENS:
        return span.low_s;
    case DEVICES_EQUAL:
    case DEVICES_IGNORED:
        break;
    }
    return output->seconds_s;
}

/* A lone trip of a cross-zone pair, a trouble, a lost device: nobody comes for these. */
static bool calls_somebody(uint8_t kind) {
    return kind == EVENT_INTRUSION || kind == EVENT_CONFIRMED || kind == EVENT_EXIT_ERROR ||
            kind == EVENT_TAMPER || kind == EVENT_HOLD_UP;
}

bool devices_is_heard(const struct devices_world *world, const struct panel_output *output) {
    if (world->options->heard_by == BREAKIN_BY_SIREN) {
        return output->kind == PANEL_OUT_SOUND && output->sound != PANEL_SILENT;
    }
    return output->kind == PANEL_OUT_SIGNAL && !output->event.restore &&
            calls_somebody(output->event.kind);
}

struct panel_input devices_news(const struct devices_world *world, unsigned zone, bool open) {
    const bool blow = world->program->zones[zone].sense == SITE_SHOCK;
    return (struct panel_input){.kind = !open ? PANEL_IN_CLOSE
                    : blow                    ? PANEL_IN_GROSS
                                              : PANEL_IN_OPEN,
            .zone = (uint8_t)zone,
            .user = PANEL_NOBODY};
}

/* ---- the site ---------------------------------------------------------------------------------------------------- */

/* While nobody sets or unsets, a zone that is out in the only mode its areas are in does nothing. */
static bool is_mute(const struct panel_program *program, const struct breakin_start *start,
        const struct panel_zone *zone) {
    if (start->exiting != 0 || program->tables->classes[zone->unset_behaviour].always_watched) {
        return false;
    }
    for (unsigned area = 0; area < program->area_count; area++) {
        const struct site_start *at = &start->areas[area];
        if ((area == zone->area || panel_bit(zone->serves, area)) && at->set &&
                zone->behaviour[at->mode] != SITE_OUT) {
            return false;
        }
    }
    return true;
}

struct devices_world devices_world_of(const struct site *site, const struct panel_program *program,
        const struct breakin_graph *graph, const struct breakin_start *start,
        const struct breakin_options *options) {
    struct devices_world world = {
            .program = program, .graph = graph, .start = start, .options = options};
    for (unsigned i = 0; i < program->zone_count; i++) {
        const struct site_device_profile *profile = site_zone_profile(site, &site->zones[i]);
        const bool level = site_sense_is_level(site_zone_sense(site, &site->zones[i]));
        if (profile != NULL) {
            world.latency_s[i] = profile->latency.high_s;
            world.hold_s[i] = level ? 0 : profile->hold.high_s;
            world.sleep_s[i] = level ? 0 : profile->sleep.high_s;
        }
        if (is_mute(program, start, &program->zones[i])) {
            panel_zones_add(&world.mute, i);
        }
    }
    return world;
}

/* ---- the devices ------------------------------------------------------------------------------------------------- */

static bool notices(const struct devices_port *port, unsigned zone) {
    const struct devices_world *world = port->world;
    return zone < world->program->zone_count && !panel_zones_has(&world->options->gone, zone) &&
            !panel_zones_has(&world->mute, zone);
}

/* A second change while the first message is under way arrives right behind it. */
static void report(const struct devices_port *port, unsigned zone, bool open) {
    const int32_t latency_s = port->world->latency_s[zone];
    if (latency_s == 0) {
        port->tell(port->context, zone, open);
    } else if (panel_zones_has(&port->bits->pending, zone)) {
        panel_zones_add(&port->bits->twice, zone);
    } else {
        panel_zones_add(&port->bits->pending, zone);
        port->start(port->context, DEVICES_LATENCY + zone, latency_s);
    }
}

static void change(const struct devices_port *port, unsigned zone, bool open) {
    if (panel_zones_has(&port->bits->physical, zone) == open) {
        return;
    }
    if (open) {
        panel_zones_add(&port->bits->physical, zone);
    } else {
        panel_zones_drop(&port->bits->physical, zone);
    }
    report(port, zone, open);
}

void devices_level(const struct devices_port *port, unsigned zone, bool open) {
    if (notices(port, zone)) {
        change(port, zone, open);
    }
}

void devices_trip(const struct devices_port *port, unsigned zone) {
    const struct devices_world *world = port->world;
    if (!notices(port, zone)) {
        return;
    }
    if (panel_zones_has(&port->bits->physical, zone)) {
        if (world->hold_s[zone] > 0) {
            port->start(port->context, DEVICES_HOLD + zone, world->hold_s[zone]);
        }
        return;
    }
    if (panel_zones_has(&port->bits->asleep, zone)) {
        return;
    }
    change(port, zone, true);
    if (world->hold_s[zone] > 0) {
        port->start(port->context, DEVICES_HOLD + zone, world->hold_s[zone]);
    } else {
        change(port, zone, false);
    }
    if (world->sleep_s[zone] > 0) {
        panel_zones_add(&port->bits->asleep, zone);
        port->start(port->context, DEVICES_SLEEP + zone, world->sleep_s[zone]);
    }
}

/* The message says what is so when it arrives; one that was followed by its opposite says both. */
static void arrives(const struct devices_port *port, unsigned zone) {
    const bool open = panel_zones_has(&port->bits->physical, zone);
    const bool twice = panel_zones_has(&port->bits->twice, zone);
    panel_zones_drop(&port->bits->pending, zone);
    panel_zones_drop(&port->bits->twice, zone);
    if (twice) {
        port->tell(port->context, zone, !open);
    }
    port->tell(port->context, zone, open);
}

void devices_timer(const struct devices_port *port, unsigned timer) {
    if (timer < DEVICES_HOLD) {
        arrives(port, timer - DEVICES_LATENCY);
    } else if (timer < DEVICES_SLEEP) {
        change(port, timer - DEVICES_HOLD, false);
    } else {
        panel_zones_drop(&port->bits->asleep, timer - DEVICES_SLEEP);
    }
}
