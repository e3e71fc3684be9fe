/* What stands in the straight way between two places of a drawing: walls, leaves and panes, floors, each with how
 * slantwise it is crossed.
 *
 * Walls are the gaps between rooms; a gap too wide for one wall is ground between two. An opening counts where the
 * way passes between its jambs and between sill and head. Furniture and people are not looked at. */
#ifndef LINTEL_RADIO_CROSSED_H
#define LINTEL_RADIO_CROSSED_H

#include "plan/house.h"

enum { RADIO_CROSSED_MOST = 128, RADIO_SLANT_MOST_DEG = 80 };

enum radio_crossing_kind {
    RADIO_CROSSING_WALL,
    RADIO_CROSSING_LEAF, /* of a door or window; a gap without a leaf is not told */
    RADIO_CROSSING_FLOOR,
    RADIO_CROSSING_KIND_COUNT
};

/** One of them. material: of the site's table, or SITE_NONE; opening: of the site, where it is a leaf. thickness_m:
 *  of the wall or floor. angle_deg: from straight through, 0 .. RADIO_SLANT_MOST_DEG (flatter counts as that: no
 *  wall is endless). */
struct radio_crossing {
    enum radio_crossing_kind kind;
    int material;
    size_t opening;
    double thickness_m;
    double angle_deg;
};

/** A place. room: that it belongs to, also where it hangs on the very edge of it; HOUSE_OUTSIDE: none. z_mm: above the
 *  ground before the house. */
struct radio_spot {
    int storey;
    int room;
    double x_mm;
    double y_mm;
    double z_mm;
};

/** Where a placed thing is; `index` of the house's places, which is good. */
struct radio_spot radio_spot_of(const struct house *house, size_t index);

/** Where a device of the site is: in its place, else at the head of the door or window it watches, on the inner
 *  side. False: the drawing does not say. */
bool radio_device_spot(const struct house *house, size_t device, struct radio_spot *ret_spot);

double radio_spot_distance_m(const struct radio_spot *a, const struct radio_spot *b);

/** In order from `from` on. ret_crossings: gives, room for RADIO_CROSSED_MOST. Fails LIMIT. */
outcome radio_cross(const struct house *house, const struct radio_spot *from,
        const struct radio_spot *to, struct radio_crossing *ret_crossings, size_t *ret_count,
        struct problem *ret_problem) MUST_CHECK;

#endif
