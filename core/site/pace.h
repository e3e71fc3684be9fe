/* How fast people walk, from-to: on the level, and along the slope of stairs. A person of the site is one of a few
 * kinds of walkers, or has a pace that somebody measured. */
#ifndef LINTEL_SITE_PACE_H
#define LINTEL_SITE_PACE_H

#include "base/text.h"

#include <stdint.h>

enum {
    SITE_PACE_LEAST_MM_S = 50, /* slower is no walk: the units are mixed up */
    SITE_PACE_MOST_MM_S = 3000,
};

/** From slow to fast, millimetres a second; SITE_PACE_LEAST_MM_S .. SITE_PACE_MOST_MM_S. */
struct site_speed {
    int32_t slow_mm_s;
    int32_t fast_mm_s;
};

struct site_pace {
    struct site_speed level;
    struct site_speed stairs;
};

/** Kinds of walkers, as a site file names them. SITE_WALKER_OWN: none of them, a pace of one's own. */
enum site_walker {
    SITE_WALKER_ADULT,
    SITE_WALKER_STICK,
    SITE_WALKER_SHOPPING,
    SITE_WALKER_CHILD,
    SITE_WALKER_COUNT,
    SITE_WALKER_OWN = SITE_WALKER_COUNT
};

/** How a person walks; zeroed: as an adult. own: of SITE_WALKER_OWN. */
struct site_walking {
    enum site_walker walker;
    struct site_speed own;
};

/** "adult", "with a stick", "with shopping", "child". */
const char *site_walker_name(enum site_walker walker);
/** Where the figures of a kind come from, and how sure they are: one sentence. */
const char *site_walker_source(enum site_walker walker);
/** The pace of a kind, or of somebody; stairs of an own pace: at the adult's share of the level. */
struct site_pace site_walker_pace(enum site_walker walker);
struct site_pace site_walking_pace(struct site_walking walking);

/** "0.9..1.4 m/s", as a site file has it; with one speed "1 m/s". */
void site_speed_add(struct text_builder *out, struct site_speed speed);

/** From the slower slow to the faster fast. */
struct site_pace site_pace_either(struct site_pace a, struct site_pace b);

#endif
