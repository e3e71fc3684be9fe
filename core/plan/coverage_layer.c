#include "plan/coverage_layer.h"

#include <math.h>

static struct point rounded(struct sight_corner corner) {
    return (struct point){(int32_t)lround(corner.x_mm), (int32_t)lround(corner.y_mm)};
}

/* Its corners as whole millimetres; NULL: no memory, which the picture's arena remembers. */
static struct point *points_of(
        struct picture *picture, const struct sight_corner *corners, size_t count) {
    struct point *points = ARENA_ARRAY(picture->arena, struct point, count);
    for (size_t i = 0; points != NULL && i < count; i++) {
        points[i] = rounded(corners[i]);
    }
    return points;
}

static void draw_view(
        struct picture *picture, enum picture_role role, const struct sight_view *view) {
    const struct point *points = points_of(picture, view->corners, view->count);
    if (points != NULL && view->count > 0) {
        picture_add(picture, role, PICTURE_AREA, points, view->count, 0);
    }
}

/* All pieces and their holes as one shape. */
static void draw_blind(struct picture *picture, const struct area *blind) {
    size_t count = 0;
    for (size_t i = 0; i < blind->ring_count; i++) {
        count += blind->rings[i].count;
    }
    struct point *points = ARENA_ARRAY(picture->arena, struct point, count);
    size_t *rings = ARENA_ARRAY(picture->arena, size_t, blind->ring_count);
    if (points == NULL || rings == NULL || count == 0) {
        return;
    }
    count = 0;
    for (size_t i = 0; i < blind->ring_count; i++) {
        rings[i] = blind->rings[i].count;
        for (size_t k = 0; k < rings[i]; k++) {
            points[count++] = rounded(blind->rings[i].corners[k]);
        }
    }
    picture_add_rings(picture, PICTURE_BLIND, points, rings, blind->ring_count);
}

static void draw_floor(const void *context, struct picture *picture, int storey) {
    const struct coverage_drawn *drawn = context;
    const struct coverage *coverage = drawn->coverage;
    for (size_t i = 0; i < drawn->house->site->building.room_count; i++) {
        if (coverage->rooms[i].good && drawn->house->rooms[i].storey == storey) {
            draw_blind(picture, &coverage->rooms[i].blind);
        }
    }
    for (size_t i = 0; i < coverage->view_count; i++) {
        if (coverage->views[i].storey == storey && coverage->views[i].sense == SITE_MOTION) {
            draw_view(picture, PICTURE_SEEN, &coverage->views[i].view);
        }
    }
}

static void draw_edges(const void *context, struct picture *picture, int storey) {
    const struct coverage_drawn *drawn = context;
    const struct coverage *coverage = drawn->coverage;
    for (size_t i = 0; i < coverage->view_count; i++) {
        if (coverage->views[i].storey == storey && coverage->views[i].sense == SITE_MOTION) {
            draw_view(picture, PICTURE_SIGHT, &coverage->views[i].view);
        }
    }
    for (size_t i = 0; i < coverage->pane_count; i++) {
        const struct coverage_pane *pane = &coverage->panes[i];
        const struct house_opening *opening = &drawn->house->openings[pane->opening];
        const struct point middle = {(opening->near[0].x_mm + opening->near[1].x_mm) / 2,
                (opening->near[0].y_mm + opening->near[1].y_mm) / 2};
        if (coverage->views[pane->view].storey == storey) {
            picture_add_line(picture,
                    pane->in_range && pane->in_line ? PICTURE_HEARD : PICTURE_UNHEARD,
                    coverage->views[pane->view].viewer.at, middle);
        }
    }
}

struct drawing_layer coverage_layer(const struct coverage_drawn *drawn) {
    static const struct drawing_row rows[] = {
            {PICTURE_SEEN, PICTURE_AREA, "floor that a motion detector sees"},
            {PICTURE_BLIND, PICTURE_AREA, "floor that none sees"},
            {PICTURE_HEARD, PICTURE_LINE, "glass that is heard to break"},
            {PICTURE_UNHEARD, PICTURE_LINE, "glass that is not heard"},
    };
    return (struct drawing_layer){.under = draw_floor,
            .over = draw_edges,
            .context = drawn,
            .rows = rows,
            .row_count = sizeof rows / sizeof rows[0]};
}
