/* The parts of a house: rooms between which one walks indoors. A part that indoors nothing leads to is one that really
 * has doors of its own alone, or one whose inner door was forgotten in the drawing; which of the two nobody can tell
 * but who was there. */
#include "plan/house_inside.h"

/* Two rooms between which a door or stairs may be missing. at: there, on the wall of `room`; beside: wall to wall, else
 * one lies above the other. doors: and stairs that both have; who has many is a hall or a landing. */
struct join {
    bool found;
    int room;
    int other;
    bool reached; /* the other */
    bool beside;
    size_t doors;
    double wall_mm;
    struct point at;
};

/* By the index of rooms: reached from outside. By the index of parts: has_keypad, apart (somebody says that nothing is
 * missing), floor (twice its mm2), best (where something may be). */
struct parts {
    struct house *house;
    const struct site_building *building;
    bool *reached;
    bool *has_keypad;
    bool *apart;
    int64_t *floor;
    struct join *best;
};

/* ---- where one walks --------------------------------------------------------------------------------------------- */

static bool is_walked(const struct parts *parts, size_t opening) {
    return parts->house->openings[opening].good &&
            site_opening_is_walked(parts->building->openings[opening].kind);
}

/* What one is reached from, so is the other. Whether that is news. */
static bool reach_both(bool *reached, int one, int other) {
    const bool news = reached[one] != (other == HOUSE_OUTSIDE || reached[other]);
    if (news) {
        reached[one] = true;
        reached[other == HOUSE_OUTSIDE ? one : other] = true;
    }
    return news;
}

/* Everything that one walks into from outside, over doors and stairs, until nothing new is found. */
static void reach_all(const struct parts *parts) {
    bool more = true;
    for (size_t i = 0; i < parts->building->room_count; i++) {
        parts->reached[i] = parts->building->rooms[i].kind == SITE_YARD;
    }
    while (more) {
        more = false;
        for (size_t i = 0; i < parts->building->opening_count; i++) {
            const struct house_opening *opening = &parts->house->openings[i];
            more = (is_walked(parts, i) &&
                           reach_both(parts->reached, opening->room, opening->other)) ||
                    more;
        }
        for (size_t i = 0; i < parts->building->stairs_count; i++) {
            const struct site_stairs *stairs = &parts->building->stairs[i];
            more = (parts->house->stairs[i].good &&
                           reach_both(parts->reached, stairs->room, stairs->to)) ||
                    more;
        }
    }
}

/* Two rooms are of one part, if both are rooms. Whether that is news. */
static bool join_both(struct house_room *rooms, int one, int other) {
    if (other == HOUSE_OUTSIDE || !rooms[one].inside || !rooms[other].inside ||
            rooms[one].part == rooms[other].part) {
        return false;
    }
    const int part = rooms[one].part < rooms[other].part ? rooms[one].part : rooms[other].part;
    rooms[one].part = rooms[other].part = part;
    return true;
}

static void join_all(const struct parts *parts) {
    struct house_room *rooms = parts->house->rooms;
    bool more = true;
    for (size_t i = 0; i < parts->building->room_count; i++) {
        rooms[i].part = (int)i;
    }
    while (more) {
        more = false;
        for (size_t i = 0; i < parts->building->opening_count; i++) {
            const struct house_opening *opening = &parts->house->openings[i];
            more = (is_walked(parts, i) && join_both(rooms, opening->room, opening->other)) || more;
        }
        for (size_t i = 0; i < parts->building->stairs_count; i++) {
            const struct site_stairs *stairs = &parts->building->stairs[i];
            more = (parts->house->stairs[i].good && join_both(rooms, stairs->room, stairs->to)) ||
                    more;
        }
    }
}

static bool is_room(const struct parts *parts, size_t index) {
    return parts->house->rooms[index].inside && parts->house->rooms[index].good;
}

static void describe(const struct parts *parts) {
    const struct house *house = parts->house;
    for (size_t i = 0; i < parts->building->room_count; i++) {
        const int part = house->rooms[i].part;
        if (is_room(parts, i)) {
            parts->apart[part] = parts->apart[part] || parts->building->rooms[i].apart;
            parts->floor[part] += outline_twice_area_mm2(house->rooms[i].outline);
        }
    }
    for (size_t i = 0; i < parts->building->place_count; i++) {
        if (house->places[i].good && parts->building->places[i].keypad >= 0) {
            parts->has_keypad[house->rooms[house->places[i].room].part] = true;
        }
    }
}

/* ---- where a door may be missing --------------------------------------------------------------------------------- */

static size_t doors_of(const struct parts *parts, int room) {
    size_t count = 0;
    for (size_t i = 0; i < parts->building->opening_count; i++) {
        const struct house_opening *opening = &parts->house->openings[i];
        count += is_walked(parts, i) && (opening->room == room || opening->other == room);
    }
    for (size_t i = 0; i < parts->building->stairs_count; i++) {
        const struct site_stairs *stairs = &parts->building->stairs[i];
        count += parts->house->stairs[i].good && (stairs->room == room || stairs->to == room);
    }
    return count;
}

/* Whether the boxes of two rooms are no further apart than a wall is thick. */
static bool are_near(const struct house_room *a, const struct house_room *b) {
    return a->low.x_mm <= b->high.x_mm + HOUSE_WALL_MOST_MM &&
            b->low.x_mm <= a->high.x_mm + HOUSE_WALL_MOST_MM &&
            a->low.y_mm <= b->high.y_mm + HOUSE_WALL_MOST_MM &&
            b->low.y_mm <= a->high.y_mm + HOUSE_WALL_MOST_MM;
}

/* Whether a door, or stairs, could lead from a room to another of another part. */
static bool could_join(const struct parts *parts, int room, int other, struct join *ret_join) {
    const struct house_room *a = &parts->house->rooms[room];
    const struct house_room *b = &parts->house->rooms[other];
    struct join join = {.room = room, .other = other, .reached = parts->reached[other]};
    if (!are_near(a, b)) {
        return false;
    }
    if (a->storey == b->storey) {
        join.beside = true;
        join.wall_mm = house_common_wall(parts->house, room, other, &join.at);
        join.found = join.wall_mm >= HOUSE_DOOR_LEAST_MM;
    } else {
        join.found = (a->storey + 1 == b->storey || b->storey + 1 == a->storey) &&
                house_share_floor(a->outline, b->outline, &join.at);
    }
    join.doors = join.found ? doors_of(parts, room) + doors_of(parts, other) : 0;
    *ret_join = join;
    return join.found;
}

static bool is_likelier(const struct join *a, const struct join *b) {
    return !b->found                   ? true
            : a->reached != b->reached ? a->reached
            : a->beside != b->beside   ? a->beside
            : a->doors != b->doors     ? a->doors > b->doors
                                       : a->wall_mm > b->wall_mm;
}

/* Each with a way in and a keypad of its own is a house of its own; and who was there may know that nothing is missing.
 * A part that nobody gets into lacks something whatever is said of it. */
static bool is_settled(const struct parts *parts, int one, int other) {
    return parts->reached[one] && parts->reached[other] &&
            (parts->apart[one] || parts->apart[other] ||
                    (parts->has_keypad[one] && parts->has_keypad[other]));
}

static void look_between(const struct parts *parts, int room, int other) {
    const int part = parts->house->rooms[room].part;
    struct join join;
    if (part != parts->house->rooms[other].part &&
            !is_settled(parts, part, parts->house->rooms[other].part) &&
            could_join(parts, room, other, &join) && is_likelier(&join, &parts->best[part])) {
        parts->best[part] = join;
    }
}

/* The part that the others are cut off from: with a keypad, and the most floor of these. */
static int main_part(const struct parts *parts) {
    int best = 0;
    for (int i = 1; i < (int)parts->building->room_count; i++) {
        if (parts->has_keypad[i] != parts->has_keypad[best]
                        ? parts->has_keypad[i]
                        : parts->floor[i] > parts->floor[best]) {
            best = i;
        }
    }
    return best;
}

static void tell_part(struct house_maker *maker, const struct parts *parts, int part) {
    const struct join *best = &parts->best[part];
    const struct outline outline = parts->house->rooms[part].outline;
    /* where no opening is drawn at all, the drawing was but begun */
    if (!parts->reached[part] && parts->building->opening_count > 0) {
        house_tell(maker, HOUSE_UNREACHED, (size_t)(best->found ? best->room : part),
                best->found ? best->other : HOUSE_OUTSIDE,
                best->found ? best->at : house_point_inside(outline), 0);
    } else if (parts->reached[part] && best->found && best->reached && !parts->has_keypad[part] &&
            part != main_part(parts)) {
        house_tell(maker, HOUSE_APART, (size_t)best->room, best->other, best->at, 0);
    }
}

/* ---- all of it --------------------------------------------------------------------------------------------------- */

bool house_parts_make(struct house_maker *maker, struct arena *arena) {
    const size_t count = maker->building->room_count;
    struct house_room *rooms = maker->house->rooms;
    const struct parts parts = {.house = maker->house,
            .building = maker->building,
            .reached = ARENA_ARRAY(arena, bool, count),
            .has_keypad = ARENA_ARRAY(arena, bool, count),
            .apart = ARENA_ARRAY(arena, bool, count),
            .floor = ARENA_ARRAY(arena, int64_t, count),
            .best = ARENA_ARRAY(arena, struct join, count)};
    if (parts.reached == NULL || parts.has_keypad == NULL || parts.apart == NULL ||
            parts.floor == NULL || parts.best == NULL) {
        return false;
    }
    reach_all(&parts);
    join_all(&parts);
    describe(&parts);
    for (size_t i = 0; i < count; i++) {
        for (size_t k = 0; k < count && is_room(&parts, i); k++) {
            if (is_room(&parts, k)) {
                look_between(&parts, (int)i, (int)k);
            }
        }
    }
    for (size_t i = 0; i < count; i++) {
        const int part = rooms[i].part;
        rooms[i].cut_off = is_room(&parts, i) && (parts.best[part].found || !parts.reached[part]);
        if (is_room(&parts, i) && part == (int)i) {
            tell_part(maker, &parts, part);
        }
    }
    return true;
}
