/* What stands in the way of radio in a site, in decibels: crossings of the drawing, and walls named by hand. What walls
 * are made of follows from the names of their materials (data/radio/walls.tsv).
 *
 * Each counts from-to: as plain layers, and as measured in houses; leaves and panes as their layers alone. */
#ifndef LINTEL_RADIO_BARRIERS_H
#define LINTEL_RADIO_BARRIERS_H

#include "radio/crossed.h"
#include "radio/written.h"

enum { RADIO_STRETCHED_MOST = 8 };

/** From-to, 0 and more, in dB. */
struct radio_loss {
    double low_db;
    double high_db;
};

/** How barriers are counted. floor: layers of floors ("concrete:200mm"), empty: as walls.tsv has them. */
struct radio_barriers {
    const struct site_building *building;
    double frequency_hz;
    int edition;
    struct text floor;
    struct arena *arena;
};

/** Materials whose figures were used outside of where they were measured; each once. */
struct radio_stretched {
    const struct radio_material *materials[RADIO_STRETCHED_MOST];
    size_t count;
};

/** The name of what is crossed, as the site calls it; "" where nothing is said. */
struct text radio_crossing_name(
        const struct site_building *building, const struct radio_crossing *crossing);

/** Adds what a crossing loses. Fails as radio_written_read. */
outcome radio_add_crossing(const struct radio_barriers *barriers,
        const struct radio_crossing *crossing, struct radio_loss *loss,
        struct radio_stretched *stretched, struct problem *ret_problem) MUST_CHECK;

/** Adds free space (over one wavelength at least) and all that is crossed on the straight way. Fails as radio_cross and
 *  radio_add_crossing. */
outcome radio_add_way(const struct radio_barriers *barriers, const struct house *house,
        const struct radio_spot *from, const struct radio_spot *to, struct radio_loss *loss,
        struct radio_stretched *stretched, struct problem *ret_problem) MUST_CHECK;

/** Adds what a wall loses straight through, named by its material ("brick", as thick as usual) or by its layers.
 *  Fails MISSING or as radio_written_read. */
outcome radio_add_named(const struct radio_barriers *barriers, struct text name,
        struct radio_loss *loss, struct radio_stretched *stretched, struct problem *ret_problem)
        MUST_CHECK;

/** What is close to an antenna costs it (data/radio/behind.tsv). behind: of the site; nothing costs nothing. */
struct radio_loss radio_behind_loss(enum site_behind behind);

#endif
