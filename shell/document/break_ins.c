/* What the keys of break-ins say together: names and times that follow from others, notices and walks that make
 * sense. */
#include "document/reader.h"

static const struct node *place_of(const struct node *map, const char *key) {
    const struct node *child = node_child(map, key);
    return child == NULL ? map : child;
}

/* Goes to break-ins.LIST[index] in the path. */
static size_t enter(struct reader *reader, const char *list, size_t index) {
    const size_t before = reader_enter(reader, "break-ins");
    (void)reader_enter(reader, list);
    (void)reader_enter_index(reader, index);
    return before;
}

static bool is_line(const struct node *node) {
    return node != NULL && node->kind == NODE_MAP;
}

static bool make_start(struct reader *reader) {
    struct site *site = &reader->document->site;
    struct site_break_ins *said = &site->break_ins;
    if (said->start_count > 0) {
        return true;
    }
    said->starts = ARENA_NEW(&reader->document->arena, struct site_break_in_start);
    if (said->starts == NULL) {
        reader->gatherer.refused = true;
        return false;
    }
    said->starts[0].name = text_of("everything set");
    said->start_count = 1;
    for (size_t area = 0; area < site->area_count && area < SITE_AREA_MAX; area++) {
        said->starts[0].areas[area] = (struct site_start){.set = true, .mode = SITE_MODE_FULL};
    }
    return true;
}

static void settle_opening(
        struct reader *reader, const struct node *node, struct site_break_in_opening *opening) {
    const struct site *site = &reader->document->site;
    const struct site_materials *materials = &site->break_ins.materials;
    if (opening->name.length == 0 && opening->door != SITE_NONE) {
        opening->name = site->doors[opening->door].name;
    }
    if (opening->name.length == 0) {
        reader_tell(reader, PROBLEM_MISSING, node, "an opening wants a name, or a door");
    }
    if (opening->from == opening->to && opening->to != SITE_NONE) {
        reader_tell(reader, PROBLEM_BAD_VALUE, place_of(node, "to"),
                "an opening leads from one room to another; leave from out where it leads outside");
    }
    if (opening->material == SITE_NONE) {
        return;
    }
    const struct site_material *row = &materials->rows[opening->material];
    opening->pane = row->glass;
    if (!opening->force_said && row->forced_said) {
        opening->force_s = row->forced.low_s;
    } else if (!opening->force_said) {
        reader_tell(reader, PROBLEM_MISSING, place_of(node, "of"),
                "the table of materials has no time for it; write force: 60 s beside it");
    }
    opening->force_said = true; /* written back as it counts */
}

static void settle_openings(struct reader *reader, const struct node *map) {
    struct site_break_ins *said = &reader->document->site.break_ins;
    const struct node *list = node_child(map, "openings");
    for (size_t i = 0; i < said->opening_count; i++) {
        const struct node *node = node_item(list, i);
        if (is_line(node)) {
            const size_t before = enter(reader, "openings", i);
            settle_opening(reader, node, &said->openings[i]);
            reader_leave(reader, before);
        }
    }
}

static void settle_notice(
        struct reader *reader, const struct node *node, const struct site_break_in_notice *notice) {
    const struct site *site = &reader->document->site;
    const bool room = node_child(node, "room") != NULL;
    const bool opening = node_child(node, "opening") != NULL;
    if (room == opening) {
        reader_tell(
                reader, PROBLEM_BAD_VALUE, node, "a zone notices a room or an opening: write one");
        return;
    }
    if (notice->zone == SITE_NONE || site_zone_profile(site, &site->zones[notice->zone]) == NULL) {
        return;
    }
    const enum site_sense sense = site_zone_sense(site, &site->zones[notice->zone]);
    if (room && sense != SITE_MOTION && sense != SITE_GLASS) {
        reader_tell(reader, PROBLEM_BAD_VALUE, place_of(node, "room"),
                "only motion and glass-break detectors notice what is in a room; write an opening");
    }
}

static void settle_notices(struct reader *reader, const struct node *map) {
    const struct site_break_ins *said = &reader->document->site.break_ins;
    const struct node *list = node_child(map, "notices");
    for (size_t i = 0; i < said->notice_count; i++) {
        const struct node *node = node_item(list, i);
        if (is_line(node)) {
            const size_t before = enter(reader, "notices", i);
            settle_notice(reader, node, &said->notices[i]);
            reader_leave(reader, before);
        }
    }
}

/* Whether the opening is one of the room. */
static bool is_of(const struct site_break_in_opening *opening, int room) {
    return opening->from == room || opening->to == room;
}

static void settle_walk(
        struct reader *reader, const struct node *node, const struct site_break_in_walk *walk) {
    const struct site_break_ins *said = &reader->document->site.break_ins;
    const bool to = node_child(node, "to") != NULL;
    const bool reaches = node_child(node, "reaches") != NULL;
    bool same_room = true;
    if (to == reaches) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node,
                "a walk leads to another opening, or reaches something: write one");
        return;
    }
    if (walk->from == SITE_NONE) {
        return;
    }
    const struct site_break_in_opening *from = &said->openings[walk->from];
    if (walk->to != SITE_NONE) {
        const struct site_break_in_opening *other = &said->openings[walk->to];
        same_room = walk->from != walk->to &&
                ((other->to != SITE_NONE && is_of(from, other->to)) ||
                        (other->from != SITE_NONE && is_of(from, other->from)));
    } else if (walk->reaches != SITE_NONE) {
        same_room = is_of(from, said->goals[walk->reaches].room);
    }
    if (!same_room) {
        reader_tell(reader, PROBLEM_BAD_VALUE, place_of(node, to ? "to" : "reaches"),
                "both ends of a walk are in one room");
    }
}

static void settle_walks(struct reader *reader, const struct node *map) {
    const struct site_break_ins *said = &reader->document->site.break_ins;
    const struct node *list = node_child(map, "walks");
    for (size_t i = 0; i < said->walk_count; i++) {
        const struct node *node = node_item(list, i);
        if (is_line(node)) {
            const size_t before = enter(reader, "walks", i);
            settle_walk(reader, node, &said->walks[i]);
            reader_leave(reader, before);
        }
    }
}

static void settle_goals(struct reader *reader) {
    struct site_break_ins *said = &reader->document->site.break_ins;
    for (size_t i = 0; i < said->goal_count; i++) {
        struct site_break_in_goal *goal = &said->goals[i];
        if (!goal->reach_said && goal->room != SITE_NONE) {
            goal->reach_s = said->rooms[goal->room].across_s;
            goal->reach_said = true;
        }
    }
}

/* Rooms, openings and what is protected come by hand together, or all from the drawing. */
static void tell_halves(struct reader *reader, const struct node *map) {
    static const struct {
        const char *list;
        const char *drawn; /* what is told of it beside a drawing */
    } by_hand[] = {
            {"openings",
                    "leave it out: with a drawing its openings count; write further ones there"},
            {"protect",
                    "with a drawing write it under building.places: {protects: safe, room: office, "
                    "takes: 5 min}"},
            {"notices", "leave it out: with a drawing the places of the devices say it"},
            {"walks", "leave it out: with a drawing it says how far it is"},
    };
    const bool drawn = reader->document->site.building.said;
    const bool rooms = node_child(map, "rooms") != NULL;
    const size_t before = reader_enter(reader, "break-ins");
    for (size_t i = 0; i < sizeof by_hand / sizeof by_hand[0]; i++) {
        const bool wanted = i < 2;
        const bool there = node_child(map, by_hand[i].list) != NULL;
        if (rooms && wanted && !there) {
            reader_tell(
                    reader, PROBLEM_MISSING, map, "rooms by hand want %s as well", by_hand[i].list);
        } else if (!rooms && there && drawn) {
            reader_tell(reader, PROBLEM_BAD_VALUE, place_of(map, by_hand[i].list), "%s",
                    by_hand[i].drawn);
        } else if (!rooms && there) {
            reader_tell(reader, PROBLEM_MISSING, place_of(map, by_hand[i].list),
                    "%s by hand want rooms as well", by_hand[i].list);
        }
    }
    if (!rooms && !drawn) {
        reader_tell(reader, PROBLEM_MISSING, map, "no rooms are written, and there is no drawing");
    }
    reader_leave(reader, before);
}

void settle_break_ins(struct reader *reader, const struct node *root) {
    static const struct {
        const char *path;
        enum thing thing;
    } named[] = {
            {"break-ins.rooms", THING_BREAK_IN_ROOM},
            {"break-ins.openings", THING_BREAK_IN_OPENING},
            {"break-ins.protect", THING_BREAK_IN_GOAL},
    };
    const struct node *map = node_child(root, "break-ins");
    if (map == NULL || map->kind != NODE_MAP || !make_start(reader)) {
        return;
    }
    tell_halves(reader, map);
    settle_openings(reader, map);
    settle_notices(reader, map);
    settle_walks(reader, map);
    settle_goals(reader);
    for (size_t i = 0; i < sizeof named / sizeof named[0]; i++) {
        const char *list = named[i].path + sizeof "break-ins." - 1;
        tell_twins(reader, named[i].thing, node_child(map, list), named[i].path);
    }
}
