#include "plan/house.h"

#include "plan/house_inside.h"

#include <string.h>

void house_tell(struct house_maker *maker, enum house_fault_kind kind, size_t index, int other,
        struct point at, int32_t amount_mm) {
    if (maker->house->fault_count < maker->fault_room) {
        maker->house->faults[maker->house->fault_count++] = (struct house_fault){
                .kind = kind, .index = index, .other = other, .at = at, .amount_mm = amount_mm};
    }
}

const char *house_fault_list(enum house_fault_kind kind) {
    static const char *const lists[HOUSE_FAULT_KIND_COUNT] = {
            [HOUSE_CROSSING] = "rooms",
            [HOUSE_UNITS] = "rooms",
            [HOUSE_OVERLAP] = "rooms",
            [HOUSE_UNREACHED] = "rooms",
            [HOUSE_APART] = "rooms",
            [HOUSE_NO_WALL] = "openings",
            [HOUSE_TOO_WIDE] = "openings",
            [HOUSE_TOO_HIGH] = "openings",
            [HOUSE_INTO_ROOM] = "openings",
            [HOUSE_OPENINGS_MEET] = "openings",
            [HOUSE_STAIRS_OUT] = "stairs",
            [HOUSE_STAIRS_NOWHERE] = "stairs",
            [HOUSE_BLOCK_OUT] = "furniture",
            [HOUSE_PLACE_OUT] = "places",
            [HOUSE_DOOR_OUTSIDE] = "openings",
            [HOUSE_DOOR_TWICE] = "openings",
    };
    return lists[kind];
}

enum site_side house_edge_side(struct segment edge) {
    const struct point step = point_step(edge.from, edge.to);
    const bool level = (int64_t)step.x_mm * step.x_mm >= (int64_t)step.y_mm * step.y_mm;
    /* Inside is to the left: an edge that runs to the right is in front. */
    return level ? (step.x_mm > 0 ? SITE_SIDE_FRONT : SITE_SIDE_BACK)
                 : (step.y_mm > 0 ? SITE_SIDE_RIGHT : SITE_SIDE_LEFT);
}

struct point house_in_room(const struct house *house, int room, struct site_point at) {
    const struct point low = house->rooms[room].low;
    return (struct point){low.x_mm + at.x_mm, low.y_mm + at.y_mm};
}

void house_rectangle(struct point low, struct site_point size, struct point ret_corners[4]) {
    ret_corners[0] = low;
    ret_corners[1] = (struct point){low.x_mm + size.x_mm, low.y_mm};
    ret_corners[2] = (struct point){low.x_mm + size.x_mm, low.y_mm + size.y_mm};
    ret_corners[3] = (struct point){low.x_mm, low.y_mm + size.y_mm};
}

bool house_holds(const struct house *house, int room, const struct point corners[4]) {
    const struct outline outline = house->rooms[room].outline;
    const struct outline rectangle = {corners, 4};
    for (size_t i = 0; i < 4; i++) {
        if (!point_in_reach(corners[i]) || outline_place(outline, corners[i]) == PLACE_OUTSIDE) {
            return false;
        }
    }
    for (size_t i = 0; i < outline.count; i++) {
        /* A corner of the room that pokes into the rectangle, or a wall across it. */
        if (outline_place(rectangle, outline.corners[i]) == PLACE_INSIDE) {
            return false;
        }
        for (size_t j = 0; j < 4; j++) {
            if (segment_crosses(outline_edge(outline, i), outline_edge(rectangle, j))) {
                return false;
            }
        }
    }
    return true;
}

int house_room_at(const struct house *house, int storey, struct point at) {
    const size_t count = house->site->building.room_count;
    for (size_t i = 0; i < count && point_in_reach(at); i++) {
        const struct house_room *room = &house->rooms[i];
        if (room->good && room->storey == storey &&
                outline_place(room->outline, at) != PLACE_OUTSIDE) {
            return (int)i;
        }
    }
    return HOUSE_OUTSIDE;
}

/* ---- rooms at their places */

static int32_t wall_mm(
        const struct site_building *building, int32_t said_mm, int material, int32_t usual_mm) {
    const int32_t by_material_mm = material >= 0 && (size_t)material < building->materials.row_count
            ? building->materials.rows[material].thickness_mm
            : 0;
    return said_mm > 0 ? said_mm : by_material_mm > 0 ? by_material_mm : usual_mm;
}

/* How wide and deep a room is as written: of an outline its box. */
static void box_of(const struct point *corners, size_t count, struct house_room *room) {
    room->low = room->high = corners[0];
    for (size_t i = 1; i < count; i++) {
        const struct point at = corners[i];
        room->low.x_mm = at.x_mm < room->low.x_mm ? at.x_mm : room->low.x_mm;
        room->low.y_mm = at.y_mm < room->low.y_mm ? at.y_mm : room->low.y_mm;
        room->high.x_mm = at.x_mm > room->high.x_mm ? at.x_mm : room->high.x_mm;
        room->high.y_mm = at.y_mm > room->high.y_mm ? at.y_mm : room->high.y_mm;
    }
}

/* Where the low corner of a room's box comes to stand. size: of its box. */
static struct point stand(const struct house_maker *maker, size_t index, struct point size) {
    const struct house *house = maker->house;
    const struct site_room *room = &maker->building->rooms[index];
    const int anchor = room->right_of >= 0 ? room->right_of
            : room->left_of >= 0           ? room->left_of
            : room->behind >= 0            ? room->behind
            : room->in_front_of >= 0       ? room->in_front_of
                                           : room->above;
    if (anchor < 0) {
        return (struct point){room->at.x_mm, room->at.y_mm};
    }
    const struct house_room *by = &house->rooms[anchor];
    const int32_t gap_mm =
            by->inside && house->rooms[index].inside ? house->inner_mm : house->outer_mm;
    struct point low = by->low;
    if (room->right_of >= 0 || room->left_of >= 0) {
        low.x_mm = room->right_of >= 0 ? by->high.x_mm + gap_mm : by->low.x_mm - gap_mm - size.x_mm;
        low.y_mm += room->shift_mm;
    } else {
        low.y_mm = room->behind >= 0     ? by->high.y_mm + gap_mm
                : room->in_front_of >= 0 ? by->low.y_mm - gap_mm - size.y_mm
                                         : by->low.y_mm;
        low.x_mm += room->shift_mm;
    }
    return low;
}

/* The corners as written: counted from where the room stands. */
static bool shape(const struct house_maker *maker, size_t index, struct arena *arena,
        struct point **ret_corners, size_t *ret_count) {
    const struct site_room *room = &maker->building->rooms[index];
    const struct house_room *below = room->above >= 0 ? &maker->house->rooms[room->above] : NULL;
    const size_t count = room->size_said || room->outline_count == 0 ? 4 : room->outline_count;
    const bool copied = !room->size_said && room->outline_count == 0 && below != NULL;
    struct point *corners = ARENA_ARRAY(arena, struct point, copied ? below->outline.count : count);
    *ret_corners = corners;
    *ret_count = copied ? below->outline.count : count;
    if (corners == NULL) {
        return false;
    }
    if (copied) {
        for (size_t i = 0; i < *ret_count; i++) {
            corners[i] = point_step(below->low, below->outline.corners[i]);
        }
    } else if (room->size_said) {
        house_rectangle((struct point){0, 0}, room->size, corners);
    } else {
        for (size_t i = 0; i < room->outline_count; i++) {
            corners[i] = (struct point){room->outline[i].x_mm, room->outline[i].y_mm};
        }
    }
    return true;
}

/* An outline counts from `at`; what hangs on another room is moved so that its box stands there. */
static void move(struct house_maker *maker, size_t index, struct point *corners, size_t count) {
    struct house_room *room = &maker->house->rooms[index];
    const bool absolute = maker->building->rooms[index].at_said;
    box_of(corners, count, room);
    const struct point low = stand(maker, index, point_step(room->low, room->high));
    const struct point by = absolute || maker->building->rooms[index].outline_count == 0
            ? low
            : point_step(room->low, low);
    for (size_t i = 0; i < count; i++) {
        corners[i] = (struct point){corners[i].x_mm + by.x_mm, corners[i].y_mm + by.y_mm};
    }
    box_of(corners, count, room);
}

static void turn_left(struct point *corners, size_t count) {
    if (outline_twice_area_mm2((struct outline){corners, count}) >= 0) {
        return;
    }
    for (size_t i = 0; i < count / 2; i++) {
        const struct point swapped = corners[i];
        corners[i] = corners[count - 1 - i];
        corners[count - 1 - i] = swapped;
    }
}

static void judge_room(struct house_maker *maker, size_t index) {
    struct house_room *room = &maker->house->rooms[index];
    const struct point size = point_step(room->low, room->high);
    size_t edges[2] = {0, 0};
    const bool small = size.x_mm < HOUSE_SIDE_LEAST_MM || size.y_mm < HOUSE_SIDE_LEAST_MM;
    const bool large = size.x_mm > HOUSE_SIDE_MOST_MM || size.y_mm > HOUSE_SIDE_MOST_MM;
    const bool in_reach = point_in_reach(room->low) && point_in_reach(room->high);
    if (small || large || !in_reach) {
        const int32_t side_mm = small == (size.x_mm < size.y_mm) ? size.x_mm : size.y_mm;
        house_tell(maker, HOUSE_UNITS, index, HOUSE_OUTSIDE, room->low, side_mm);
        if (!in_reach) { /* what hangs on it must not run off the numbers */
            room->low = room->high = (struct point){0, 0};
        }
    } else if (!outline_is_simple(room->outline, edges)) {
        house_tell(maker, HOUSE_CROSSING, index, HOUSE_OUTSIDE, room->outline.corners[edges[1]], 0);
    } else {
        room->good = true;
    }
}

static bool make_rooms(struct house_maker *maker, struct arena *arena) {
    for (size_t i = 0; i < maker->building->room_count; i++) {
        struct house_room *room = &maker->house->rooms[i];
        struct point *corners = NULL;
        size_t count = 0;
        room->storey = maker->building->rooms[i].storey;
        room->inside = maker->building->rooms[i].kind == SITE_ROOM;
        if (!shape(maker, i, arena, &corners, &count)) {
            return false;
        }
        move(maker, i, corners, count);
        room->outline = (struct outline){corners, count};
        judge_room(maker, i);
        if (room->good) {
            turn_left(corners, count);
        }
    }
    return true;
}

/* ---- rooms against each other */

/* The middle of an ear; there are two at least. Source: Meisters, Polygons have ears, 1975. */
struct point house_point_inside(struct outline outline) {
    struct point best = outline.corners[0];
    for (size_t i = 0; i < outline.count; i++) {
        const struct point a = outline.corners[i];
        const struct point b = outline.corners[(i + 1) % outline.count];
        const struct point c = outline.corners[(i + 2) % outline.count];
        const struct point middle = {
                (a.x_mm + b.x_mm + c.x_mm) / 3, (a.y_mm + b.y_mm + c.y_mm) / 3};
        if (outline_place(outline, middle) == PLACE_INSIDE) {
            best = middle;
        }
    }
    return best;
}

/* Whether a corner, the middle of an edge or a point within the one lies inside the other. */
static bool pokes_into(struct outline one, struct outline other, struct point *ret_at) {
    const struct point within = house_point_inside(one);
    if (outline_place(other, within) == PLACE_INSIDE) {
        *ret_at = within;
        return true;
    }
    for (size_t i = 0; i < one.count; i++) {
        const struct segment edge = outline_edge(one, i);
        const struct point middle = {
                (edge.from.x_mm + edge.to.x_mm) / 2, (edge.from.y_mm + edge.to.y_mm) / 2};
        if (outline_place(other, edge.from) == PLACE_INSIDE) {
            *ret_at = edge.from;
            return true;
        }
        if (segment_holds(edge, middle) && outline_place(other, middle) == PLACE_INSIDE) {
            *ret_at = middle;
            return true;
        }
    }
    return false;
}

bool house_share_floor(struct outline one, struct outline other, struct point *ret_at) {
    if (pokes_into(one, other, ret_at) || pokes_into(other, one, ret_at)) {
        return true;
    }
    for (size_t i = 0; i < one.count; i++) {
        for (size_t j = 0; j < other.count; j++) {
            if (segment_crosses(outline_edge(one, i), outline_edge(other, j))) {
                *ret_at = one.corners[i];
                return true;
            }
        }
    }
    return false;
}

static bool boxes_meet(const struct house_room *a, const struct house_room *b) {
    return a->low.x_mm < b->high.x_mm && b->low.x_mm < a->high.x_mm && a->low.y_mm < b->high.y_mm &&
            b->low.y_mm < a->high.y_mm;
}

static void find_overlaps(struct house_maker *maker) {
    const size_t count = maker->building->room_count;
    for (size_t i = 0; i < count; i++) {
        const struct house_room *one = &maker->house->rooms[i];
        for (size_t j = i + 1; j < count; j++) {
            const struct house_room *other = &maker->house->rooms[j];
            struct point at;
            if (one->good && other->good && one->storey == other->storey &&
                    boxes_meet(one, other) &&
                    house_share_floor(one->outline, other->outline, &at)) {
                house_tell(maker, HOUSE_OVERLAP, i, (int)j, at, 0);
            }
        }
    }
}

/* ---- all of it */

static void find_box(struct house *house) {
    bool first = true;
    for (size_t i = 0; i < house->site->building.room_count; i++) {
        const struct house_room *room = &house->rooms[i];
        if (!room->good) {
            continue;
        }
        if (first) {
            house->low = room->low;
            house->high = room->high;
            first = false;
        }
        house->low.x_mm = room->low.x_mm < house->low.x_mm ? room->low.x_mm : house->low.x_mm;
        house->low.y_mm = room->low.y_mm < house->low.y_mm ? room->low.y_mm : house->low.y_mm;
        house->high.x_mm = room->high.x_mm > house->high.x_mm ? room->high.x_mm : house->high.x_mm;
        house->high.y_mm = room->high.y_mm > house->high.y_mm ? room->high.y_mm : house->high.y_mm;
    }
}

static bool make_lists(struct house *house, const struct site_building *building,
        struct arena *arena, size_t fault_room) {
    house->rooms = ARENA_ARRAY(arena, struct house_room, building->room_count);
    house->openings = ARENA_ARRAY(arena, struct house_opening, building->opening_count);
    house->stairs = ARENA_ARRAY(arena, struct house_stairs, building->stairs_count);
    house->furniture = ARENA_ARRAY(arena, struct house_block, building->furniture_count);
    house->places = ARENA_ARRAY(arena, struct house_place, building->place_count);
    house->faults = ARENA_ARRAY(arena, struct house_fault, fault_room);
    return house->rooms != NULL && house->openings != NULL && house->stairs != NULL &&
            house->furniture != NULL && house->places != NULL && house->faults != NULL;
}

outcome house_make(const struct site *site, struct arena *arena, struct house *ret_house,
        struct problem *ret_problem) {
    enum { OUTER_MM = 300, INNER_MM = 120, FAULTS_MOST = 400 };
    const struct site_building *building = &site->building;
    struct house house = {.site = site,
            .outer_mm = wall_mm(building, building->outer_mm, building->outer, OUTER_MM),
            .inner_mm = wall_mm(building, building->inner_mm, building->inner, INNER_MM)};
    struct house_maker maker = {.house = &house, .building = building, .fault_room = FAULTS_MOST};
    if (!make_lists(&house, building, arena, FAULTS_MOST) || !make_rooms(&maker, arena)) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to draw the building");
    }
    find_overlaps(&maker);
    house_openings_make(&maker);
    house_things_make(&maker);
    find_box(&house);
    if (!house_parts_make(&maker, arena)) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to draw the building");
    }
    *ret_house = house;
    return outcome_good();
}
