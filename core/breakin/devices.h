/* What stands between the intruder and the panel: detectors that hold and sleep, messages under way; and how long each
 * timer runs when he is lucky. Shared by the search and by the replay. Not for use outside this folder. */
#ifndef LINTEL_BREAKIN_DEVICES_H
#define LINTEL_BREAKIN_DEVICES_H

#include "breakin/breakin.h"

/* Timers of devices, above the panel's. */
enum {
    DEVICES_LATENCY = 4096, /* + zone: a change is on its way to the panel */
    DEVICES_HOLD = 4224,    /* + zone: stays tripped */
    DEVICES_SLEEP = 4352,   /* + zone: is blind */
    DEVICES_TIMER_END = 4480,
};

/** What a timer means to the intruder while it runs. */
enum devices_sway {
    DEVICES_EQUAL, /* neither: compared for equality */
    DEVICES_EITHER, /* the one or the other: compared for equality, and a start at any second may be the best */
    DEVICES_SUITS,     /* the more is left the better */
    DEVICES_THREATENS, /* the less is left the better */
    DEVICES_IGNORED,   /* changes nothing that is sought */
};

/** The site as far as a break-in needs it. Times: the longest of each device. */
struct devices_world {
    const struct panel_program *program;
    const struct breakin_graph *graph;
    const struct breakin_start *start;
    const struct breakin_options *options;
    int32_t hold_s[PANEL_ZONE_MAX];
    int32_t sleep_s[PANEL_ZONE_MAX];
    int32_t latency_s[PANEL_ZONE_MAX];
    struct panel_zones mute; /* zones whose trips cannot matter from this start */
};

/** What the devices remember. */
struct devices_bits {
    struct panel_zones physical;
    struct panel_zones asleep;
    struct panel_zones pending;
    struct panel_zones twice;
};

/** Where the devices speak to. start: replaces a running timer. */
struct devices_port {
    const struct devices_world *world;
    struct devices_bits *bits;
    void (*tell)(void *context, unsigned zone, bool open);
    void (*start)(void *context, unsigned timer, int32_t seconds_s);
    void *context;
};

/** The world of a site. All pointers are kept. */
struct devices_world devices_world_of(const struct site *site, const struct panel_program *program,
        const struct breakin_graph *graph, const struct breakin_start *start,
        const struct breakin_options *options);

/** A contact, or whatever keeps its level, opens or closes. */
void devices_level(const struct devices_port *port, unsigned zone, bool open);
/** A detector trips. */
void devices_trip(const struct devices_port *port, unsigned zone);
/** A device's timer ended. */
void devices_timer(const struct devices_port *port, unsigned timer);

enum devices_sway devices_sway_of(const struct devices_world *world, unsigned timer);

/** Whether it matters to the second when he acts while this timer runs. */
bool devices_presses(unsigned timer);

/** How long a panel timer runs that starts or is shortened with this output, in whole seconds. */
int32_t devices_seconds(const struct devices_world *world, const struct panel_output *output);

/** What the panel is told of a zone. A shock detector notices somebody who forces his way: a gross blow, which counts
 *  as every pulse (common practice; the panel model's GROSS). */
struct panel_input devices_news(const struct devices_world *world, unsigned zone, bool open);

/** Whether this output is what counts as heard. */
bool devices_is_heard(const struct devices_world *world, const struct panel_output *output);

#endif
