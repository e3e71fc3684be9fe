/* In which order to walk past every device: the shortest tour over given lengths that ends at one of them (the panel).
 * Knows lengths only, not where things are. */
#ifndef LINTEL_PLAN_TOUR_H
#define LINTEL_PLAN_TOUR_H

#include "base/arena.h"

#include <stdint.h>

enum {
    TOUR_STOPS_MOST = 512,
    TOUR_EXACT_MOST = 14, /* stops; up to these the tour is proven the shortest */
};
#define TOUR_ANYWHERE SIZE_MAX

/** A tour: its stops in order. length: of it. bound: no tour is shorter than this; equal to length where exact. */
struct tour {
    const uint32_t *stops;
    size_t count;
    double length;
    double bound;
    bool exact;
};

/** The shortest tour over all stops. lengths: stop_count x stop_count, [i * stop_count + k] from i to k and back (the
 *  half over the diagonal is read), >= 0 and finite, any unit. first: the stop it begins at, or TOUR_ANYWHERE; last:
 *  where it ends. first = last: a round, begun and ended there, that stop told once at the end. Up to TOUR_EXACT_MOST
 *  stops all orders are weighed (Held and Karp 1962, Bellman 1962); above, the best of many tours by nearest
 *  neighbour, bettered by turning stretches round, moving and exchanging them (2-opt, Croes 1958; Or 1976), with the
 *  bound of Held and Karp 1970 (least trees, weights on stops moved 200 times). ret_tour: stops in the arena;
 *  untouched on failure. Fails BAD_VALUE (a length), LIMIT, MEMORY. */
outcome tour_find(const double *lengths, size_t stop_count, size_t first, size_t last,
        struct arena *arena, struct tour *ret_tour, struct problem *ret_problem) MUST_CHECK;

#endif
