/* The graph of a break-in from rooms and openings, whether the site file describes them by hand or its drawing gives
 * them. Where somebody stands is a side of an opening; all sides to the street are one place, as nobody knows how he
 * comes. */
#ifndef LINTEL_BREAKIN_ROOMS_H
#define LINTEL_BREAKIN_ROOMS_H

#include "breakin/breakin.h"

/** What the graph's parts stand for. opening: of each portal; move: of each move, of those that a drawing gives, or
 *  SITE_NONE; room: of each place, SITE_NONE outside. */
struct rooms {
    struct breakin_graph graph;
    const int *opening;
    const int *move;
    const int *room;
};

/** The graph of site->break_ins (said), in the arena; its goals are those of the site, in order. A contact notices
 *  that its opening opens; shock detectors that it is forced; glass-break detectors that its pane breaks, which opens
 *  nothing; motion detectors whoever comes into their room or goes about in it. Fails PROBLEM_MEMORY, PROBLEM_LIMIT. */
outcome rooms_graph(const struct site *site, struct arena *arena, struct rooms *ret_rooms,
        struct problem *ret_problem) MUST_CHECK;

/** How the panel stands in one of site->break_ins.starts. */
struct breakin_start rooms_start(const struct site *site, size_t which);

/** What the site says of being heard, otherwise the defaults. */
struct breakin_options rooms_options(const struct site *site);

#endif
