/* The map of a whole site: every storey, for the weakest of its senders, as a layer of the drawing. */
#ifndef LINTEL_RADIO_SITE_MAP_H
#define LINTEL_RADIO_SITE_MAP_H

#include "radio/map.h"

/** ret_layer: gives, its context in the arena. Fails MISSING (no panel in the drawing, no radio device whose figures
 *  are known, the panel's sensitivity is not), or as radio_map_make. */
outcome radio_site_map(const struct house *house, int32_t cell_mm, struct arena *arena,
        struct drawing_layer *ret_layer, struct problem *ret_problem) MUST_CHECK;

#endif
