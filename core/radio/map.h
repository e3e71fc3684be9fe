/* What radio loses from everywhere on a storey to the panel: a grid of cells, each from its middle at one height. The
 * loss of a wall is kept by whole degrees of the angle at which it is crossed, and taken between two of them. */
#ifndef LINTEL_RADIO_MAP_H
#define LINTEL_RADIO_MAP_H

#include "plan/drawing.h"
#include "radio/barriers.h"

enum {
    RADIO_MAP_CELLS_MOST = 1000000,
    RADIO_MAP_CELL_LEAST_MM = 50,
    RADIO_MAP_HEIGHT_MM =
            1000, /* above the floor: between a window's contact and a detector. House practice */
};

/** One storey. low: the lower left corner of the first cell; cells run to the right, then to the back. losses: free
 *  space and what is in the way, careful end high; a cell outside of every room has low_db and high_db -1. */
struct radio_map {
    int storey;
    int32_t cell_mm;
    struct point low;
    size_t columns;
    size_t rows;
    struct radio_loss *losses;
};

/** storey: of the house; panel: where the receiver is. Fails LIMIT (more than RADIO_MAP_CELLS_MOST), BAD_VALUE (a cell
 *  below the least), or as radio_cross and radio_add_crossing. */
outcome radio_map_make(const struct house *house, int storey, const struct radio_spot *panel,
        int32_t cell_mm, const struct radio_barriers *barriers, struct arena *arena,
        struct radio_map *ret_map, struct problem *ret_problem) MUST_CHECK;

/** The same without keeping anything: every wall's layers worked out anew for every cell. For tests and the bench. */
outcome radio_map_plain(const struct house *house, int storey, const struct radio_spot *panel,
        int32_t cell_mm, const struct radio_barriers *barriers, struct arena *arena,
        struct radio_map *ret_map, struct problem *ret_problem) MUST_CHECK;

/** Maps as a layer of the drawing. maps: one for each storey; budget_db: what may be lost until nothing arrives;
 *  note: whose, for a line below the drawing, or NULL. */
struct radio_map_drawn {
    const struct radio_map *maps;
    size_t map_count;
    double budget_db;
    const char *note;
};

/** drawn: kept. */
struct drawing_layer radio_map_layer(const struct radio_map_drawn *drawn);

#endif
