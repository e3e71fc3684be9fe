#include "plan/area.h"

#include <math.h>
#include <string.h>

#define GEOS_USE_ONLY_R_API
#include <geos_c.h>

enum { KEPT_MOST = 12, SAID_SIZE = 160 };
static const double SLIVER_MM2 = 100;

/* One question to GEOS. Geometries that are kept are freed at its end; said: its last complaint. */
struct asking {
    GEOSContextHandle_t geos;
    GEOSGeometry *kept[KEPT_MOST];
    size_t kept_count;
    char said[SAID_SIZE];
};

static void listen(const char *message, void *context) {
    struct asking *asking = context;
    const size_t length = strlen(message);
    const size_t most = length < SAID_SIZE - 1 ? length : SAID_SIZE - 1;
    memcpy(asking->said, message, most);
    asking->said[most] = '\0';
}

static outcome begin(struct asking *asking, struct problem *ret_problem) {
    *asking = (struct asking){.geos = GEOS_init_r()};
    if (asking->geos == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the geometry library");
    }
    GEOSContext_setErrorMessageHandler_r(asking->geos, listen, asking);
    return outcome_good();
}

static void end(struct asking *asking) {
    for (size_t i = 0; i < asking->kept_count; i++) {
        GEOSGeom_destroy_r(asking->geos, asking->kept[i]);
    }
    GEOS_finish_r(asking->geos);
}

static outcome complain(
        const struct asking *asking, const char *what, struct problem *ret_problem) {
    /* What the C++ library throws when it is refused memory comes as a message. */
    if (asking->said[0] == '\0' || strstr(asking->said, "bad_alloc") != NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the floor (%s)", what);
    }
    FAIL(ret_problem, PROBLEM_SYSTEM, "", "the geometry library gave no %s: %s", what,
            asking->said);
}

/* Keeps what GEOS gave until the end of the question, or complains of NULL. */
static outcome keep(struct asking *asking, GEOSGeometry *given, const char *what,
        GEOSGeometry **ret_given, struct problem *ret_problem) {
    if (given == NULL || asking->kept_count == KEPT_MOST) {
        if (given != NULL) {
            GEOSGeom_destroy_r(asking->geos, given);
        }
        return complain(asking, what, ret_problem);
    }
    asking->kept[asking->kept_count++] = given;
    *ret_given = given;
    return outcome_good();
}

/* A polygon over the corners, or NULL. The ring is GEOS's from the moment it is made, whether or not the next step
 * works. */
static GEOSGeometry *polygon_of(
        const struct asking *asking, const struct sight_corner *corners, size_t count) {
    GEOSCoordSequence *ring = GEOSCoordSeq_create_r(asking->geos, (unsigned)count + 1, 2);
    if (ring == NULL) {
        return NULL;
    }
    for (size_t i = 0; i <= count; i++) {
        const struct sight_corner corner = corners[i < count ? i : 0];
        if (GEOSCoordSeq_setXY_r(asking->geos, ring, (unsigned)i, corner.x_mm, corner.y_mm) != 1) {
            GEOSCoordSeq_destroy_r(asking->geos, ring);
            return NULL;
        }
    }
    GEOSGeometry *edge = GEOSGeom_createLinearRing_r(asking->geos, ring);
    return edge != NULL ? GEOSGeom_createPolygon_r(asking->geos, edge, NULL, 0) : NULL;
}

/* Polygons on their way into a collection. */
struct lot {
    GEOSGeometry **parts;
    size_t count;
};

static void drop_lot(const struct asking *asking, struct lot *lot) {
    for (size_t i = 0; i < lot->count; i++) {
        GEOSGeom_destroy_r(asking->geos, lot->parts[i]);
    }
    lot->count = 0;
}

static bool add_part(struct lot *lot, GEOSGeometry *part) {
    if (part == NULL) {
        return false;
    }
    lot->parts[lot->count++] = part;
    return true;
}

static bool add_outline(const struct asking *asking, struct lot *lot, struct outline outline) {
    struct sight_corner corners[OUTLINE_CORNERS_MOST];
    for (size_t i = 0; i < outline.count; i++) {
        corners[i] = (struct sight_corner){outline.corners[i].x_mm, outline.corners[i].y_mm};
    }
    return add_part(lot, polygon_of(asking, corners, outline.count));
}

/* A view that touches itself (seen left and right of a wall, but not before it) is no polygon to GEOS; its triangles
 * over the viewer are, and share their sides to the last bit. */
static bool add_view(const struct asking *asking, struct lot *lot, const struct sight_view *view) {
    GEOSGeometry *whole = polygon_of(asking, view->corners, view->count);
    const char valid = whole != NULL ? GEOSisValid_r(asking->geos, whole) : 2;
    if (valid == 1) {
        return add_part(lot, whole);
    }
    if (whole != NULL) {
        GEOSGeom_destroy_r(asking->geos, whole);
    }
    if (valid == 2) {
        return false;
    }
    const struct sight_corner at = {view->at.x_mm, view->at.y_mm};
    for (size_t i = 0; i < view->count; i++) {
        const struct sight_corner a = view->corners[i];
        const struct sight_corner b = view->corners[i + 1 < view->count ? i + 1 : 0];
        const struct sight_corner corners[3] = {at, a, b};
        const double twice_mm2 =
                (a.x_mm - at.x_mm) * (b.y_mm - at.y_mm) - (a.y_mm - at.y_mm) * (b.x_mm - at.x_mm);
        if (twice_mm2 > 0 && !add_part(lot, polygon_of(asking, corners, 3))) {
            return false;
        }
    }
    return true;
}

/* The union of a lot; an empty one is an empty region. */
static outcome join(struct asking *asking, struct lot *lot, GEOSGeometry **ret_joined,
        struct problem *ret_problem) {
    GEOSGeometry *all = GEOSGeom_createCollection_r(
            asking->geos, GEOS_GEOMETRYCOLLECTION, lot->parts, (unsigned)lot->count);
    lot->count = 0; /* they are the collection's now, also where it could not be made */
    if (all == NULL) {
        return complain(asking, "collection", ret_problem);
    }
    GEOSGeometry *kept = NULL;
    TRY(keep(asking, all, "collection", &kept, ret_problem));
    return keep(asking, GEOSUnaryUnion_r(asking->geos, all), "union", ret_joined, ret_problem);
}

static outcome join_outlines(struct asking *asking, const struct outline *outlines, size_t count,
        struct arena *arena, GEOSGeometry **ret_joined, struct problem *ret_problem) {
    struct lot lot = {.parts = ARENA_ARRAY(arena, GEOSGeometry *, count)};
    bool good = lot.parts != NULL;
    for (size_t i = 0; good && i < count; i++) {
        good = add_outline(asking, &lot, outlines[i]);
    }
    if (!good) {
        drop_lot(asking, &lot);
        return complain(asking, "outline", ret_problem);
    }
    const outcome joined = join(asking, &lot, ret_joined, ret_problem);
    drop_lot(asking, &lot);
    return joined;
}

static outcome join_views(struct asking *asking, const struct sight_view *views, size_t count,
        struct arena *arena, GEOSGeometry **ret_joined, struct problem *ret_problem) {
    size_t most = 0;
    for (size_t i = 0; i < count; i++) {
        most += views[i].count;
    }
    struct lot lot = {.parts = ARENA_ARRAY(arena, GEOSGeometry *, most)};
    bool good = lot.parts != NULL;
    for (size_t i = 0; good && i < count; i++) {
        good = views[i].count == 0 || add_view(asking, &lot, &views[i]);
    }
    if (!good) {
        drop_lot(asking, &lot);
        return complain(asking, "view", ret_problem);
    }
    const outcome joined = join(asking, &lot, ret_joined, ret_problem);
    drop_lot(asking, &lot);
    return joined;
}

static double ring_twice_mm2(const struct sight_corner *corners, size_t count) {
    double twice_mm2 = 0;
    for (size_t i = 1; i + 1 < count; i++) {
        twice_mm2 += (corners[i].x_mm - corners[0].x_mm) * (corners[i + 1].y_mm - corners[0].y_mm) -
                (corners[i].y_mm - corners[0].y_mm) * (corners[i + 1].x_mm - corners[0].x_mm);
    }
    return twice_mm2;
}

/* The corners of a ring in the arena, the closing one left out, turned the right way. NULL: no memory. */
static const struct sight_corner *copy_ring(const struct asking *asking, const GEOSGeometry *ring,
        bool is_hole, struct arena *arena, size_t *ret_count, double *ret_area_mm2) {
    const GEOSCoordSequence *given = GEOSGeom_getCoordSeq_r(asking->geos, ring);
    unsigned size = 0;
    if (given == NULL || GEOSCoordSeq_getSize_r(asking->geos, given, &size) != 1 || size < 4) {
        return NULL;
    }
    const size_t count = size - 1;
    struct sight_corner *corners = ARENA_ARRAY(arena, struct sight_corner, count);
    for (size_t i = 0; corners != NULL && i < count; i++) {
        if (GEOSCoordSeq_getXY_r(
                    asking->geos, given, (unsigned)i, &corners[i].x_mm, &corners[i].y_mm) != 1) {
            return NULL;
        }
    }
    if (corners == NULL) {
        return NULL;
    }
    const double twice_mm2 = ring_twice_mm2(corners, count);
    if ((twice_mm2 < 0) != is_hole) {
        for (size_t i = 0; i < count / 2; i++) {
            const struct sight_corner swap = corners[i];
            corners[i] = corners[count - 1 - i];
            corners[count - 1 - i] = swap;
        }
    }
    *ret_count = count;
    *ret_area_mm2 = fabs(twice_mm2) / 2;
    return corners;
}

struct copying {
    const struct asking *asking;
    struct arena *arena;
    struct area_ring *rings;
    size_t count;
    double area_mm2;
};

static bool take_ring(
        struct copying *copying, const GEOSGeometry *ring, bool is_hole, bool *ret_kept) {
    struct area_ring *next = &copying->rings[copying->count];
    double area_mm2 = 0;
    next->corners = ring != NULL
            ? copy_ring(copying->asking, ring, is_hole, copying->arena, &next->count, &area_mm2)
            : NULL;
    next->is_hole = is_hole;
    *ret_kept = area_mm2 >= SLIVER_MM2;
    if (next->corners != NULL && *ret_kept) {
        copying->count++;
        copying->area_mm2 += is_hole ? -area_mm2 : area_mm2;
    }
    return next->corners != NULL;
}

/* Takes a polygon and its holes; of anything else, a line where two only touch, nothing. */
static bool take_polygon(struct copying *copying, const GEOSGeometry *polygon) {
    const GEOSContextHandle_t geos = copying->asking->geos;
    if (GEOSGeomTypeId_r(geos, polygon) != GEOS_POLYGON || GEOSisEmpty_r(geos, polygon) != 0) {
        return true;
    }
    bool kept;
    if (!take_ring(copying, GEOSGetExteriorRing_r(geos, polygon), false, &kept)) {
        return false;
    }
    const int holes = GEOSGetNumInteriorRings_r(geos, polygon);
    for (int i = 0; kept && i < holes; i++) {
        bool hole_kept;
        if (!take_ring(copying, GEOSGetInteriorRingN_r(geos, polygon, i), true, &hole_kept)) {
            return false;
        }
    }
    return holes >= 0;
}

/* How many rings a region has at most; negative: GEOS does not say. */
static int count_rings(const struct asking *asking, const GEOSGeometry *region, int parts) {
    int rings = 0;
    for (int i = 0; i < parts && rings >= 0; i++) {
        const GEOSGeometry *part = GEOSGetGeometryN_r(asking->geos, region, i);
        const bool polygon = part != NULL && GEOSGeomTypeId_r(asking->geos, part) == GEOS_POLYGON;
        const int holes = polygon ? GEOSGetNumInteriorRings_r(asking->geos, part) : 0;
        rings = part == NULL || holes < 0 ? -1 : rings + 1 + holes;
    }
    return rings;
}

static outcome copy_region(const struct asking *asking, GEOSGeometry *region, struct arena *arena,
        struct area *ret_area, struct problem *ret_problem) {
    const bool ordered = GEOSNormalize_r(asking->geos, region) == 0;
    const int parts = ordered ? GEOSGetNumGeometries_r(asking->geos, region) : -1;
    const int rings = parts >= 0 ? count_rings(asking, region, parts) : -1;
    if (rings < 0) {
        return complain(asking, "rings", ret_problem);
    }
    struct copying copying = {.asking = asking,
            .arena = arena,
            .rings = ARENA_ARRAY(arena, struct area_ring, (size_t)rings + 1)};
    bool good = copying.rings != NULL;
    for (int i = 0; good && i < parts; i++) {
        good = take_polygon(&copying, GEOSGetGeometryN_r(asking->geos, region, i));
    }
    if (!good) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for a region of %d rings", rings);
    }
    *ret_area = (struct area){copying.rings, copying.count, copying.area_mm2 / 1e6};
    return outcome_good();
}

static outcome ask_blind(struct asking *asking, const struct outline *room_and_holes,
        size_t outline_count, const struct sight_view *views, size_t view_count,
        struct arena *arena, struct area *ret_areas, struct problem *ret_problem) {
    GEOSGeometry *room = NULL;
    GEOSGeometry *holes = NULL;
    GEOSGeometry *seen = NULL;
    GEOSGeometry *regions[2] = {NULL, NULL};
    TRY(join_outlines(asking, room_and_holes, 1, arena, &room, ret_problem));
    TRY(join_outlines(asking, room_and_holes + 1, outline_count - 1, arena, &holes, ret_problem));
    TRY(join_views(asking, views, view_count, arena, &seen, ret_problem));
    TRY(keep(asking, GEOSDifference_r(asking->geos, room, holes), "floor", &regions[0],
            ret_problem));
    TRY(keep(asking, GEOSDifference_r(asking->geos, regions[0], seen), "blind floor", &regions[1],
            ret_problem));
    for (size_t i = 0; i < 2; i++) {
        TRY(copy_region(asking, regions[i], arena, &ret_areas[i], ret_problem));
    }
    return outcome_good();
}

static outcome check_outlines(
        const struct outline *outlines, size_t count, struct problem *ret_problem) {
    if (count > AREA_OUTLINES_MOST) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "%zu outlines in one room; at most %d", count,
                AREA_OUTLINES_MOST);
    }
    for (size_t i = 0; i < count; i++) {
        if (outlines[i].count < 3 || outlines[i].count > OUTLINE_CORNERS_MOST) {
            FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "an outline has 3 to %d corners, not %zu",
                    OUTLINE_CORNERS_MOST, outlines[i].count);
        }
    }
    return outcome_good();
}

outcome area_blind(struct outline room, const struct outline *holes, size_t hole_count,
        const struct sight_view *views, size_t view_count, struct arena *arena,
        struct area *ret_floor, struct area *ret_blind, struct problem *ret_problem) {
    struct outline *outlines = ARENA_ARRAY(arena, struct outline, hole_count + 1);
    if (outlines == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for %zu outlines", hole_count);
    }
    outlines[0] = room;
    for (size_t i = 0; i < hole_count; i++) {
        outlines[i + 1] = holes[i];
    }
    TRY(check_outlines(outlines, hole_count + 1, ret_problem));
    if (view_count > AREA_OUTLINES_MOST) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "%zu views of one room; at most %d", view_count,
                AREA_OUTLINES_MOST);
    }
    struct asking asking;
    struct area areas[2];
    TRY(begin(&asking, ret_problem));
    const outcome asked = ask_blind(
            &asking, outlines, hole_count + 1, views, view_count, arena, areas, ret_problem);
    end(&asking);
    TRY(asked);
    *ret_floor = areas[0];
    *ret_blind = areas[1];
    return outcome_good();
}

static outcome ask_common(struct asking *asking, const struct outline *rooms, struct arena *arena,
        struct area *ret_common, struct problem *ret_problem) {
    GEOSGeometry *one = NULL;
    GEOSGeometry *other = NULL;
    GEOSGeometry *common = NULL;
    TRY(join_outlines(asking, rooms, 1, arena, &one, ret_problem));
    TRY(join_outlines(asking, rooms + 1, 1, arena, &other, ret_problem));
    TRY(keep(asking, GEOSIntersection_r(asking->geos, one, other), "common floor", &common,
            ret_problem));
    return copy_region(asking, common, arena, ret_common, ret_problem);
}

outcome area_common(struct outline a, struct outline b, struct arena *arena,
        struct area *ret_common, struct problem *ret_problem) {
    const struct outline rooms[2] = {a, b};
    TRY(check_outlines(rooms, 2, ret_problem));
    struct asking asking;
    TRY(begin(&asking, ret_problem));
    const outcome asked = ask_common(&asking, rooms, arena, ret_common, ret_problem);
    end(&asking);
    return asked;
}

bool area_holds(const struct area *area, struct point at) {
    bool inside = false;
    for (size_t i = 0; i < area->ring_count; i++) {
        /* Even and odd over all rings: holes take back what their piece gave. */
        const struct sight_view ring = {
                .corners = area->rings[i].corners, .count = area->rings[i].count};
        inside = inside != sight_view_holds(&ring, at);
    }
    return inside;
}
