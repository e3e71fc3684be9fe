/* Where the panel, or one repeater, would hang best: the place on a wall from which the weakest link of the site is
 * strongest. A search over the drawing, every half metre along the walls of every room, but for doors, windows and what
 * stands before the wall as high.
 *
 * A repeater is taken to hear as well as the panel and to send as strongly as the panel does (or, where that is not
 * said, as the strongest device). Links typed by hand are left as they are. */
#ifndef LINTEL_RADIO_BEST_H
#define LINTEL_RADIO_BEST_H

#include "radio/site_links.h"

/** How high above the floor it hangs. House practice. */
extern const double RADIO_BEST_HEIGHT_MM;

enum radio_sought { RADIO_SEEK_PANEL, RADIO_SEEK_REPEATER };

/** The best place. before_db, after_db: the careful margin of the weakest link there is, and there would be;
 *  before_device, after_device: whose. tried: how many places. found: some place was better than what is. */
struct radio_best {
    struct radio_spot spot;
    double before_db;
    double after_db;
    size_t before_device;
    size_t after_device;
    size_t tried;
    bool found;
};

/** house: of a drawing with the panel's place. Fails MISSING (no panel, no link), or as radio_site_link. */
outcome radio_best_place(const struct site *site, const struct house *house,
        const struct radio_world *world, enum radio_sought sought, struct arena *arena,
        struct radio_best *ret_best, struct problem *ret_problem) MUST_CHECK;

#endif
