/* What the keys of the building say together: storeys that follow from each other, what a room hangs on, names. */
#include "document/reader.h"

#include <string.h>

static const struct node *building_node(const struct node *root) {
    return node_child(root, "building");
}

static const struct node *place_of(const struct node *map, const char *key) {
    const struct node *child = node_child(map, key);
    return child == NULL ? map : child;
}

/* Goes to building.LIST[index] in the path. */
static size_t enter(struct reader *reader, const char *list, size_t index) {
    const size_t before = reader_enter(reader, "building");
    (void)reader_enter(reader, list);
    (void)reader_enter_index(reader, index);
    return before;
}

/* ---- storeys */

static bool make_storey(struct reader *reader) {
    struct site_building *building = &reader->document->site.building;
    enum { CEILING_MM = 2400, SLAB_MM = 300 };
    if (building->storey_count > 0) {
        return true;
    }
    building->storeys = ARENA_NEW(&reader->document->arena, struct site_storey);
    if (building->storeys == NULL) {
        reader->gatherer.refused = true;
        return false;
    }
    building->storeys[0] = (struct site_storey){
            .name = text_of("ground"), .ceiling_mm = CEILING_MM, .slab_mm = SLAB_MM};
    building->storey_count = 1;
    return true;
}

static void settle_storeys(struct site_building *building) {
    for (size_t i = 0; i < building->storey_count; i++) {
        struct site_storey *storey = &building->storeys[i];
        if (!storey->floor_said && i > 0) {
            const struct site_storey *below = &building->storeys[i - 1];
            storey->floor_mm = below->floor_mm + below->ceiling_mm + below->slab_mm;
        }
        storey->floor_said = true;
    }
}

/* ---- rooms */

struct anchor {
    const char *key;
    int room;
};

/* What the room hangs on, each that is written; gives how many. */
static size_t anchors_of(const struct site_room *room, struct anchor anchors[5]) {
    const struct anchor all[5] = {
            {"right-of", room->right_of},
            {"left-of", room->left_of},
            {"behind", room->behind},
            {"in-front-of", room->in_front_of},
            {"above", room->above},
    };
    size_t count = 0;
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++) {
        if (all[i].room != SITE_NONE) {
            anchors[count++] = all[i];
        }
    }
    return count;
}

static void settle_shape(
        struct reader *reader, const struct node *node, const struct site_room *room) {
    const bool size = node_child(node, "size") != NULL;
    const bool outline = node_child(node, "outline") != NULL;
    if (size && outline) {
        reader_tell(reader, PROBLEM_BAD_VALUE, place_of(node, "outline"),
                "a room has a size or an outline, not both");
    } else if (!size && !outline && room->above == SITE_NONE && node_child(node, "above") == NULL) {
        reader_tell(reader, PROBLEM_MISSING, node,
                "how large is this room? write size: 4.2 x 3.1 m, or its corners as outline");
    }
}

static void settle_storey(struct reader *reader, const struct node *node, struct site_room *room,
        const struct anchor *anchor) {
    const struct site_building *building = &reader->document->site.building;
    const bool above = room->above != SITE_NONE;
    const int storey = anchor == NULL ? 0 : building->rooms[anchor->room].storey + above;
    if ((size_t)storey >= building->storey_count) {
        reader_tell(reader, PROBLEM_MISSING, place_of(node, "above"),
                "there is no storey above that room; write one more under storeys");
        room->storey = 0;
        return;
    }
    if (anchor != NULL && room->storey != SITE_NONE && room->storey != storey) {
        reader_tell(reader, PROBLEM_BAD_VALUE, place_of(node, "storey"),
                "this is not the storey that %s says; leave the key out", anchor->key);
    }
    if (room->storey == SITE_NONE) {
        room->storey = storey;
    }
}

static bool is_first_of_storey(const struct site_building *building, size_t index) {
    for (size_t i = 0; i < index; i++) {
        if (building->rooms[i].storey == building->rooms[index].storey) {
            return false;
        }
    }
    return true;
}

static void settle_room(struct reader *reader, const struct node *node, size_t index) {
    const struct site_building *building = &reader->document->site.building;
    struct site_room *room = &building->rooms[index];
    struct anchor anchors[5];
    size_t count = anchors_of(room, anchors);
    if (node == NULL || node->kind != NODE_MAP) {
        room->storey = 0;
        return;
    }
    settle_shape(reader, node, room);
    if (count + room->at_said > 1) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node,
                "a room is placed once: by at, right-of, left-of, behind, in-front-of or above");
    }
    if (count > 0 && anchors[0].room >= (int)index) {
        reader_tell(reader, PROBLEM_BAD_VALUE, place_of(node, anchors[0].key),
                "that room stands further down in the list; a room hangs on one above it");
        count = 0;
    }
    settle_storey(reader, node, room, count == 0 ? NULL : &anchors[0]);
    if (count == 0 && !room->at_said && !is_first_of_storey(building, index)) {
        reader_tell(reader, PROBLEM_MISSING, node,
                "where does this room stand? write right-of: NAME, behind: NAME and the like, or "
                "at: 0 x 0 m");
    }
    if (room->kind == SITE_ROOM && (room->from != SITE_NONE || room->climb_said)) {
        reader_tell(reader, PROBLEM_BAD_VALUE, place_of(node, "from"),
                "from and climb are of ground outside; a room has openings");
    }
}

/* ---- openings, stairs, places */

static struct text room_name(const struct reader *reader, int room) {
    return room == SITE_NONE ? text_of("outside") : thing_name(reader, THING_ROOM, (size_t)room);
}

static void name_opening(struct reader *reader, struct site_opening *opening) {
    struct arena *arena = &reader->document->arena;
    const struct text room = room_name(reader, opening->room);
    const struct text to = room_name(reader, opening->to);
    const char *kind = site_opening_kind_name(opening->kind);
    if (opening->name.length > 0) {
        return;
    }
    if (opening->door != SITE_NONE) {
        opening->name = reader->document->site.doors[opening->door].name;
    } else if (opening->to != SITE_NONE || opening->wall == SITE_SIDE_UNSAID) {
        opening->name = text_print(arena, "%s %.*s to %.*s", kind, TEXT_ARGS(room), TEXT_ARGS(to));
    } else {
        opening->name = text_print(
                arena, "%.*s %s %s", TEXT_ARGS(room), site_side_name(opening->wall), kind);
    }
    reader->gatherer.refused = reader->gatherer.refused || opening->name.start == NULL;
}

static void settle_opening(
        struct reader *reader, const struct node *node, struct site_opening *opening) {
    const bool flat =
            opening->kind == SITE_OPENING_ROOF_LIGHT || opening->kind == SITE_OPENING_HATCH;
    if (node == NULL || node->kind != NODE_MAP) {
        return;
    }
    name_opening(reader, opening);
    if (!flat && node_child(node, "to") == NULL && node_child(node, "wall") == NULL) {
        reader_tell(reader, PROBLEM_MISSING, node,
                "in which wall? write wall: front, right, back or left, or to: ROOM");
    }
    if (opening->to != SITE_NONE && opening->to == opening->room) {
        reader_tell(reader, PROBLEM_BAD_VALUE, place_of(node, "to"),
                "an opening leads to another room, or with no to: outside");
    }
    if (!flat && opening->at_said) {
        reader_tell(reader, PROBLEM_BAD_VALUE, place_of(node, "at"),
                "at is of a roof light or a hatch; in a wall write from-left");
    }
}

static void settle_stairs(
        struct reader *reader, const struct node *node, struct site_stairs *stairs) {
    if (node == NULL || node->kind != NODE_MAP || stairs->name.length > 0) {
        return;
    }
    const struct text room = room_name(reader, stairs->room);
    const struct text to = room_name(reader, stairs->to);
    stairs->name = text_print(
            &reader->document->arena, "stairs %.*s to %.*s", TEXT_ARGS(room), TEXT_ARGS(to));
    reader->gatherer.refused = reader->gatherer.refused || stairs->name.start == NULL;
}

static void settle_place(struct reader *reader, const struct node *node) {
    static const char *const whats[] = {"device", "keypad", "is", "protects"};
    static const char *const wheres[] = {"at", "corner", "wall"};
    size_t what = 0;
    size_t where = 0;
    if (node == NULL || node->kind != NODE_MAP) {
        return;
    }
    for (size_t i = 0; i < sizeof whats / sizeof whats[0]; i++) {
        what += node_child(node, whats[i]) != NULL;
    }
    for (size_t i = 0; i < sizeof wheres / sizeof wheres[0]; i++) {
        where += node_child(node, wheres[i]) != NULL;
    }
    if (what != 1) {
        reader_tell(reader, what == 0 ? PROBLEM_MISSING : PROBLEM_BAD_VALUE, node,
                "what is there? write exactly one of device, keypad, is and protects");
    }
    if (where > 1) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node, "write at, corner or wall, not several");
    }
}

/* ---- all of it */

static void settle_materials(struct reader *reader) {
    struct site_building *building = &reader->document->site.building;
    /* The usual ones, where the table has them. */
    if (building->outer == SITE_NONE) {
        building->outer = thing_index(reader, THING_MATERIAL, text_of("brick"));
    }
    if (building->inner == SITE_NONE) {
        building->inner = thing_index(reader, THING_MATERIAL, text_of("stud"));
    }
}

static void settle_lists(struct reader *reader, const struct node *map) {
    struct site_building *building = &reader->document->site.building;
    for (size_t i = 0; i < building->room_count; i++) {
        const size_t before = enter(reader, "rooms", i);
        settle_room(reader, node_item(node_child(map, "rooms"), i), i);
        reader_leave(reader, before);
    }
    for (size_t i = 0; i < building->opening_count; i++) {
        const size_t before = enter(reader, "openings", i);
        settle_opening(reader, node_item(node_child(map, "openings"), i), &building->openings[i]);
        reader_leave(reader, before);
    }
    for (size_t i = 0; i < building->stairs_count; i++) {
        settle_stairs(reader, node_item(node_child(map, "stairs"), i), &building->stairs[i]);
    }
    for (size_t i = 0; i < building->place_count; i++) {
        const size_t before = enter(reader, "places", i);
        settle_place(reader, node_item(node_child(map, "places"), i));
        reader_leave(reader, before);
    }
}

void settle_building(struct reader *reader, const struct node *root) {
    struct site_building *building = &reader->document->site.building;
    const struct node *map = building_node(root);
    if (!building->said || map == NULL || !make_storey(reader)) {
        return;
    }
    settle_storeys(building);
    settle_materials(reader);
    tell_twins(reader, THING_STOREY, node_child(map, "storeys"), "building.storeys");
    tell_twins(reader, THING_ROOM, node_child(map, "rooms"), "building.rooms");
    settle_lists(reader, map);
}
