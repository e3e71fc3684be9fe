/* Openings in their walls. */
#include "plan/house_inside.h"

#include <math.h>

/* A stretch of an edge of a room, in mm from its beginning, and how thick the wall behind it is. */
struct stretch {
    size_t edge;
    double low_mm;
    double high_mm;
    double gap_mm;
    bool found;
};

static double length_of(struct segment edge) {
    return point_distance_mm(edge.from, edge.to);
}

struct point house_beside(struct segment edge, double along_mm, double out_mm) {
    const struct point step = point_step(edge.from, edge.to);
    const double length_mm = length_of(edge);
    const double x = (step.x_mm * along_mm + step.y_mm * out_mm) / length_mm;
    const double y = (step.y_mm * along_mm - step.x_mm * out_mm) / length_mm;
    return (struct point){edge.from.x_mm + (int32_t)lround(x), edge.from.y_mm + (int32_t)lround(y)};
}

size_t house_wall(const struct house *house, int room, enum site_side side) {
    const struct outline outline = house->rooms[room].outline;
    size_t best = SIZE_MAX;
    for (size_t i = 0; i < outline.count; i++) {
        const struct segment edge = outline_edge(outline, i);
        if (house_edge_side(edge) == side &&
                (best == SIZE_MAX || length_of(edge) > length_of(outline_edge(outline, best)))) {
            best = i;
        }
    }
    return best;
}

/* Whether two edges run against each other, within half a degree. */
static bool face_each_other(struct segment one, struct segment other) {
    enum { FINE = 100 };
    const struct point a = point_step(one.from, one.to);
    const struct point b = point_step(other.from, other.to);
    const int64_t cross = point_cross(a, b);
    return point_dot(a, b) < 0 && (cross < 0 ? -cross : cross) * FINE <= -point_dot(a, b);
}

/* The stretch of an edge that another faces across a wall. */
static struct stretch shared(struct segment edge, struct segment facing) {
    const struct point step = point_step(edge.from, edge.to);
    const struct point from = point_step(edge.from, facing.from);
    const struct point to = point_step(edge.from, facing.to);
    const double length_mm = length_of(edge);
    const double high_mm = (double)point_dot(step, from) / length_mm;
    const double low_mm = (double)point_dot(step, to) / length_mm;
    /* What lies to the right of the edge is outside. */
    const double gap_mm =
            -(double)(point_cross(step, from) + point_cross(step, to)) / (2 * length_mm);
    struct stretch stretch = {.low_mm = low_mm > 0 ? low_mm : 0,
            .high_mm = high_mm < length_mm ? high_mm : length_mm,
            .gap_mm = gap_mm};
    stretch.found = stretch.high_mm > stretch.low_mm && gap_mm > -1 && gap_mm <= HOUSE_WALL_MOST_MM;
    return stretch;
}

/* The longest stretch of wall between two rooms, on a side if one is said. */
static struct stretch between(const struct house *house, int room, int other, enum site_side side) {
    const struct outline here = house->rooms[room].outline;
    const struct outline there = house->rooms[other].outline;
    struct stretch best = {.found = false};
    for (size_t i = 0; i < here.count; i++) {
        const struct segment edge = outline_edge(here, i);
        if (side != SITE_SIDE_UNSAID && house_edge_side(edge) != side) {
            continue;
        }
        for (size_t j = 0; j < there.count; j++) {
            const struct segment facing = outline_edge(there, j);
            struct stretch stretch = {.found = false};
            if (face_each_other(edge, facing)) {
                stretch = shared(edge, facing);
            }
            if (stretch.found &&
                    (!best.found ||
                            stretch.high_mm - stretch.low_mm > best.high_mm - best.low_mm)) {
                best = stretch;
                best.edge = i;
            }
        }
    }
    return best;
}

double house_common_wall(const struct house *house, int room, int other, struct point *ret_middle) {
    const struct stretch stretch = between(house, room, other, SITE_SIDE_UNSAID);
    if (stretch.found) {
        const struct segment edge = outline_edge(house->rooms[room].outline, stretch.edge);
        *ret_middle = house_beside(edge, (stretch.low_mm + stretch.high_mm) / 2, 0);
    }
    return stretch.found ? stretch.high_mm - stretch.low_mm : 0;
}

/* The wall that an opening is in. */
static struct stretch wall_of(const struct house *house, const struct site_opening *opening) {
    struct stretch stretch = {.found = false};
    if (opening->to >= 0) {
        return house->rooms[opening->to].good &&
                        house->rooms[opening->to].storey == house->rooms[opening->room].storey
                ? between(house, opening->room, opening->to, opening->wall)
                : stretch;
    }
    const size_t edge = house_wall(house, opening->room, opening->wall);
    if (edge != SIZE_MAX) {
        stretch = (struct stretch){.edge = edge,
                .high_mm = length_of(outline_edge(house->rooms[opening->room].outline, edge)),
                .gap_mm = house->outer_mm,
                .found = true};
    }
    return stretch;
}

/* Where the wall ends on its other side: at the ground outside that is there, if any. */
static void look_behind(struct house_maker *maker, size_t index, struct segment edge) {
    struct house_opening *opening = &maker->house->openings[index];
    const int storey = maker->house->rooms[opening->room].storey;
    const struct point middle = {(opening->far[0].x_mm + opening->far[1].x_mm) / 2,
            (opening->far[0].y_mm + opening->far[1].y_mm) / 2};
    if (opening->other != HOUSE_OUTSIDE) {
        return;
    }
    /* One step beyond the wall, so that a room that only touches it from the side is not met. */
    const struct point out = house_beside(edge, 0, 1);
    const struct point step = point_step(edge.from, out);
    const struct point beyond = {middle.x_mm + step.x_mm, middle.y_mm + step.y_mm};
    const int behind = house_room_at(maker->house, storey, beyond);
    if (behind == HOUSE_OUTSIDE) {
        return;
    }
    opening->other = behind;
    if (maker->house->rooms[behind].inside) {
        house_tell(maker, HOUSE_INTO_ROOM, index, behind, middle, 0);
    }
}

static bool is_reached(const struct house *house, const struct site_opening *opening, int other) {
    const struct site_building *building = &house->site->building;
    const struct site_storey *storey = &building->storeys[house->rooms[opening->room].storey];
    if (opening->reach != SITE_REACH_UNSAID) {
        return opening->reach == SITE_REACH_YES;
    }
    if (other != HOUSE_OUTSIDE && house->rooms[other].inside) {
        return false;
    }
    const bool on_roof = other != HOUSE_OUTSIDE && building->rooms[other].kind != SITE_YARD;
    const int32_t stands_mm = on_roof ? storey->floor_mm : 0;
    return storey->floor_mm + site_opening_sill_mm(opening) - stands_mm <= HOUSE_REACH_MM;
}

/* In the ceiling: a rectangle about its middle. */
static void make_flat(struct house_maker *maker, size_t index) {
    const struct site_opening *written = &maker->building->openings[index];
    struct house_opening *opening = &maker->house->openings[index];
    const struct house_room *room = &maker->house->rooms[written->room];
    const int32_t width_mm = site_opening_width_mm(written);
    const int32_t depth_mm = site_opening_height_mm(written);
    const struct point middle = written->at_said
            ? house_in_room(maker->house, written->room, written->at)
            : (struct point){(room->low.x_mm + room->high.x_mm) / 2,
                      (room->low.y_mm + room->high.y_mm) / 2};
    const struct point low = {middle.x_mm - width_mm / 2, middle.y_mm - depth_mm / 2};
    struct point corners[4];
    house_rectangle(low, (struct site_point){width_mm, depth_mm}, corners);
    opening->flat = true;
    opening->near[0] = opening->far[0] = corners[0];
    opening->near[1] = opening->far[1] = corners[2];
    opening->good = house_holds(maker->house, written->room, corners);
    opening->reached = written->reach == SITE_REACH_YES;
    if (!opening->good) {
        house_tell(maker, HOUSE_NO_WALL, index, HOUSE_OUTSIDE, middle, 0);
    }
}

/* In a wall. The left corner of a wall, seen from within, is the end of its edge. */
static void make_upright(struct house_maker *maker, size_t index) {
    const struct site_opening *written = &maker->building->openings[index];
    struct house_opening *opening = &maker->house->openings[index];
    const struct house_room *room = &maker->house->rooms[written->room];
    const int32_t width_mm = site_opening_width_mm(written);
    const struct stretch stretch = wall_of(maker->house, written);
    if (!stretch.found) {
        const struct point middle = {
                (room->low.x_mm + room->high.x_mm) / 2, (room->low.y_mm + room->high.y_mm) / 2};
        house_tell(maker, HOUSE_NO_WALL, index, opening->other, middle, 0);
        return;
    }
    const struct segment edge = outline_edge(room->outline, stretch.edge);
    const double left_mm = written->from_left_said
            ? length_of(edge) - written->from_left_mm
            : (stretch.low_mm + stretch.high_mm + width_mm) / 2;
    /* A millimetre either way is rounding. */
    if (left_mm > stretch.high_mm + 1 || left_mm - width_mm < stretch.low_mm - 1) {
        house_tell(maker, HOUSE_TOO_WIDE, index, opening->other,
                house_beside(edge, (stretch.low_mm + stretch.high_mm) / 2, 0),
                (int32_t)(stretch.high_mm - stretch.low_mm));
        return;
    }
    opening->edge = stretch.edge;
    for (int side = 0; side < 2; side++) {
        const double along_mm = side == 0 ? left_mm : left_mm - width_mm;
        opening->near[side] = house_beside(edge, along_mm, 0);
        opening->far[side] = house_beside(edge, along_mm, stretch.gap_mm);
    }
    opening->good = true;
    look_behind(maker, index, edge);
    opening->reached = is_reached(maker->house, written, opening->other);
}

static void check_height(struct house_maker *maker, size_t index) {
    const struct site_opening *written = &maker->building->openings[index];
    const struct house_opening *opening = &maker->house->openings[index];
    const struct site_storey *storey =
            &maker->building->storeys[maker->house->rooms[written->room].storey];
    const int32_t above_mm =
            site_opening_sill_mm(written) + site_opening_height_mm(written) - storey->ceiling_mm;
    if (!opening->flat && opening->good && above_mm > 0) {
        house_tell(maker, HOUSE_TOO_HIGH, index, opening->other, opening->near[0], above_mm);
    }
}

static bool is_outside(const struct house *house, int room) {
    return room == HOUSE_OUTSIDE || !house->rooms[room].inside;
}

/* Of a window a site may say either: nobody walks out of it. */
static void check_door(struct house_maker *maker, size_t index) {
    const struct site_opening *written = &maker->building->openings[index];
    const struct house_opening *opening = &maker->house->openings[index];
    if (written->door < 0 || !opening->good) {
        return;
    }
    const bool leads_out =
            is_outside(maker->house, opening->other) || is_outside(maker->house, opening->room);
    if (site_opening_is_walked(written->kind) &&
            maker->house->site->doors[written->door].outside != leads_out) {
        house_tell(maker, HOUSE_DOOR_OUTSIDE, index, opening->other, opening->near[0], leads_out);
    }
    for (size_t i = 0; i < index; i++) {
        if (maker->building->openings[i].door == written->door) {
            house_tell(maker, HOUSE_DOOR_TWICE, i, (int)index, opening->near[0], 0);
        }
    }
}

/* Whether a point lies in the part of a wall that an opening takes, its rim left out. */
static bool takes(const struct house_opening *opening, struct point at) {
    const struct point corners[4] = {
            opening->near[1], opening->near[0], opening->far[0], opening->far[1]};
    const struct outline part = {corners, 4};
    return outline_place(part, at) == PLACE_INSIDE;
}

static struct point middle_of(const struct house_opening *opening, double share) {
    const double x =
            opening->near[0].x_mm + (opening->near[1].x_mm - opening->near[0].x_mm) * share;
    const double y =
            opening->near[0].y_mm + (opening->near[1].y_mm - opening->near[0].y_mm) * share;
    return (struct point){
            ((int32_t)x + opening->far[0].x_mm +
                    (int32_t)((opening->far[1].x_mm - opening->far[0].x_mm) * share)) /
                    2,
            ((int32_t)y + opening->far[0].y_mm +
                    (int32_t)((opening->far[1].y_mm - opening->far[0].y_mm) * share)) /
                    2};
}

/* Whether the middle of the one, or what lies just within its jambs, is taken by the other; and one above the other is
 * not in its way. */
static bool meet(const struct house *house, size_t one, size_t other) {
    static const double shares[] = {0.01, 0.5, 0.99};
    const struct site_opening *a = &house->site->building.openings[one];
    const struct site_opening *b = &house->site->building.openings[other];
    const int32_t a_mm = site_opening_sill_mm(a);
    const int32_t b_mm = site_opening_sill_mm(b);
    if (a_mm >= b_mm + site_opening_height_mm(b) || b_mm >= a_mm + site_opening_height_mm(a)) {
        return false;
    }
    for (size_t i = 0; i < sizeof shares / sizeof shares[0]; i++) {
        if (takes(&house->openings[other], middle_of(&house->openings[one], shares[i])) ||
                takes(&house->openings[one], middle_of(&house->openings[other], shares[i]))) {
            return true;
        }
    }
    return false;
}

static void find_meetings(struct house_maker *maker) {
    const struct house *house = maker->house;
    for (size_t i = 0; i < maker->building->opening_count; i++) {
        const struct house_opening *one = &house->openings[i];
        for (size_t j = i + 1; j < maker->building->opening_count; j++) {
            const struct house_opening *other = &house->openings[j];
            if (one->good && other->good && !one->flat && !other->flat &&
                    house->rooms[one->room].storey == house->rooms[other->room].storey &&
                    meet(house, i, j)) {
                house_tell(maker, HOUSE_OPENINGS_MEET, i, (int)j, other->near[0], 0);
            }
        }
    }
}

void house_openings_make(struct house_maker *maker) {
    for (size_t i = 0; i < maker->building->opening_count; i++) {
        const struct site_opening *written = &maker->building->openings[i];
        struct house_opening *opening = &maker->house->openings[i];
        *opening = (struct house_opening){
                .room = written->room, .other = written->to >= 0 ? written->to : HOUSE_OUTSIDE};
        if (!maker->house->rooms[written->room].good) {
            continue; /* told of the room */
        }
        if (written->kind == SITE_OPENING_ROOF_LIGHT || written->kind == SITE_OPENING_HATCH) {
            make_flat(maker, i);
        } else {
            make_upright(maker, i);
        }
        check_height(maker, i);
        check_door(maker, i);
    }
    find_meetings(maker);
}
