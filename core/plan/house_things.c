/* Stairs, furniture, and where devices are. */
#include "plan/house_inside.h"

static struct point middle_of(struct point a, struct point b) {
    return (struct point){(a.x_mm + b.x_mm) / 2, (a.y_mm + b.y_mm) / 2};
}

static void make_stairs(struct house_maker *maker, size_t index) {
    const struct site_stairs *written = &maker->building->stairs[index];
    struct house_stairs *stairs = &maker->house->stairs[index];
    const struct house_room *room = &maker->house->rooms[written->room];
    const struct house_room *above = &maker->house->rooms[written->to];
    if (!room->good || !above->good) {
        return;
    }
    house_rectangle(house_in_room(maker->house, written->room, written->at), written->size,
            stairs->corners);
    /* The edges of the rectangle, front, right, back, left, are numbered as the sides are. */
    const size_t high = (size_t)(written->up - SITE_SIDE_FRONT);
    const size_t low = (high + 2) % 4;
    const struct point *corners = stairs->corners;
    const bool deep = written->up == SITE_SIDE_BACK || written->up == SITE_SIDE_FRONT;
    const struct site_storey *storeys = maker->building->storeys;
    stairs->head = middle_of(corners[high], corners[(high + 1) % 4]);
    stairs->foot = middle_of(corners[low], corners[(low + 1) % 4]);
    stairs->run_mm = deep ? written->size.y_mm : written->size.x_mm;
    if (!house_holds(maker->house, written->room, corners)) {
        house_tell(maker, HOUSE_STAIRS_OUT, index, written->room, stairs->foot, 0);
    } else if (above->storey != room->storey + 1 ||
            outline_place(above->outline, stairs->head) == PLACE_OUTSIDE) {
        house_tell(maker, HOUSE_STAIRS_NOWHERE, index, written->to, stairs->head, 0);
    } else {
        stairs->rise_mm = storeys[above->storey].floor_mm - storeys[room->storey].floor_mm;
        stairs->good = true;
    }
}

static void make_furniture(struct house_maker *maker, size_t index) {
    const struct site_furniture *written = &maker->building->furniture[index];
    struct house_block *block = &maker->house->furniture[index];
    if (!maker->house->rooms[written->room].good) {
        return;
    }
    house_rectangle(
            house_in_room(maker->house, written->room, written->at), written->size, block->corners);
    block->good = house_holds(maker->house, written->room, block->corners);
    if (!block->good) {
        house_tell(maker, HOUSE_BLOCK_OUT, index, written->room, block->corners[0], 0);
    }
}

/* ---- places */

static const struct point steps[SITE_DIRECTION_COUNT] = {
        [SITE_FACES_RIGHT] = {1, 0},
        [SITE_FACES_BACK_RIGHT] = {1, 1},
        [SITE_FACES_BACK] = {0, 1},
        [SITE_FACES_BACK_LEFT] = {-1, 1},
        [SITE_FACES_LEFT] = {-1, 0},
        [SITE_FACES_FRONT_LEFT] = {-1, -1},
        [SITE_FACES_FRONT] = {0, -1},
        [SITE_FACES_FRONT_RIGHT] = {1, -1},
};

/* The sum of the steps inward from the walls that a point is on, each of length 1 by its larger coordinate. */
static struct point inward(struct outline outline, struct point at) {
    struct point into = {0, 0};
    for (size_t i = 0; i < outline.count; i++) {
        const struct segment edge = outline_edge(outline, i);
        if (!segment_holds(edge, at)) {
            continue;
        }
        const enum site_side side = house_edge_side(edge);
        into.x_mm += (side == SITE_SIDE_LEFT) - (side == SITE_SIDE_RIGHT);
        into.y_mm += (side == SITE_SIDE_FRONT) - (side == SITE_SIDE_BACK);
    }
    return into;
}

static struct point corner_at(const struct house_room *room, enum site_corner corner) {
    const bool right = corner == SITE_CORNER_FRONT_RIGHT || corner == SITE_CORNER_BACK_RIGHT;
    const bool back = corner == SITE_CORNER_BACK_LEFT || corner == SITE_CORNER_BACK_RIGHT;
    return (struct point){
            right ? room->high.x_mm : room->low.x_mm, back ? room->high.y_mm : room->low.y_mm};
}

/* The corner of the outline nearest to that of its box, as an L has one of them less. */
static struct point corner_of(const struct house_room *room, enum site_corner corner) {
    const struct point box = corner_at(room, corner);
    struct point best = room->outline.corners[0];
    for (size_t i = 1; i < room->outline.count; i++) {
        if (point_distance_mm(room->outline.corners[i], box) < point_distance_mm(best, box)) {
            best = room->outline.corners[i];
        }
    }
    return best;
}

/* Where it is; false: there is no such wall. */
static bool locate(
        const struct house *house, const struct site_place *written, struct point *ret_at) {
    const struct house_room *room = &house->rooms[written->room];
    *ret_at = middle_of(room->low, room->high);
    if (written->at_said) {
        *ret_at = house_in_room(house, written->room, written->at);
    } else if (written->corner != SITE_CORNER_UNSAID) {
        *ret_at = corner_of(room, written->corner);
    } else if (written->wall != SITE_SIDE_UNSAID) {
        const size_t index = house_wall(house, written->room, written->wall);
        if (index == SIZE_MAX) {
            return false;
        }
        const struct segment edge = outline_edge(room->outline, index);
        const double length_mm = point_distance_mm(edge.from, edge.to);
        *ret_at = house_beside(edge,
                written->from_left_said ? length_mm - written->from_left_mm : length_mm / 2, 0);
    }
    return true;
}

static void make_place(struct house_maker *maker, size_t index) {
    const struct site_place *written = &maker->building->places[index];
    struct house_place *place = &maker->house->places[index];
    const struct house_room *room = &maker->house->rooms[written->room];
    place->room = written->room;
    place->height_mm = site_place_height_mm(written);
    if (!room->good) {
        return;
    }
    const bool found = locate(maker->house, written, &place->at);
    if (!found || !point_in_reach(place->at) ||
            outline_place(room->outline, place->at) == PLACE_OUTSIDE) {
        house_tell(maker, HOUSE_PLACE_OUT, index, written->room, place->at, 0);
        return;
    }
    place->good = true;
    place->into = inward(room->outline, place->at);
    place->faces = written->faces != SITE_FACES_UNSAID ? steps[written->faces] : place->into;
    if (written->towards_said) {
        place->faces =
                point_step(place->at, house_in_room(maker->house, written->room, written->towards));
    }
}

void house_things_make(struct house_maker *maker) {
    for (size_t i = 0; i < maker->building->stairs_count; i++) {
        make_stairs(maker, i);
    }
    for (size_t i = 0; i < maker->building->furniture_count; i++) {
        make_furniture(maker, i);
    }
    for (size_t i = 0; i < maker->building->place_count; i++) {
        make_place(maker, i);
    }
}
