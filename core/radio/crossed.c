#include "radio/crossed.h"

#include "radio/constants.h"

#include <math.h>

enum { CUTS_MOST = 512 };

/* A hair: cuts nearer to each other are one, and what hangs on a wall does not cross it. */
static const double HAIR_MM = 5;

/* The part of the way that lies on one storey, seen from above, and where along it the edges of rooms are. */
struct part {
    const struct house *house;
    int storey;
    const struct radio_spot *from;
    const struct radio_spot *to;
    double length_mm; /* of the whole way from above */
    double begins;    /* shares of the way */
    double ends;
    double cuts[CUTS_MOST];
    size_t count;
};

struct list {
    struct radio_crossing *crossings;
    size_t count;
    bool full;
};

struct radio_spot radio_spot_of(const struct house *house, size_t index) {
    const struct house_place *place = &house->places[index];
    const int storey = house->rooms[place->room].storey;
    const struct site_storey *of = &house->site->building.storeys[storey];
    return (struct radio_spot){.storey = storey,
            .room = house->rooms[place->room].inside ? place->room : HOUSE_OUTSIDE,
            .x_mm = place->at.x_mm,
            .y_mm = place->at.y_mm,
            .z_mm = (double)of->floor_mm + place->height_mm};
}

bool radio_device_spot(const struct house *house, size_t device, struct radio_spot *ret_spot) {
    const struct site_building *building = &house->site->building;
    const int door = house->site->devices[device].door;
    for (size_t i = 0; i < building->place_count; i++) {
        if (building->places[i].device == (int)device && house->places[i].good) {
            *ret_spot = radio_spot_of(house, i);
            return true;
        }
    }
    for (size_t i = 0; i < building->opening_count && door != SITE_NONE; i++) {
        const struct house_opening *opening = &house->openings[i];
        const struct site_opening *said = &building->openings[i];
        if (said->door != door || !opening->good) {
            continue;
        }
        const int storey = house->rooms[opening->room].storey;
        const double head_mm = site_opening_sill_mm(said) + site_opening_height_mm(said);
        *ret_spot = (struct radio_spot){.storey = storey,
                .room = opening->room,
                .x_mm = (opening->near[0].x_mm + opening->near[1].x_mm) / 2.0,
                .y_mm = (opening->near[0].y_mm + opening->near[1].y_mm) / 2.0,
                .z_mm = building->storeys[storey].floor_mm +
                        fmin(head_mm, building->storeys[storey].ceiling_mm)};
        return true;
    }
    return false;
}

double radio_spot_distance_m(const struct radio_spot *a, const struct radio_spot *b) {
    return hypot(hypot(a->x_mm - b->x_mm, a->y_mm - b->y_mm), a->z_mm - b->z_mm) / 1000;
}

static void add(struct list *list, struct radio_crossing crossing) {
    if (list->count == RADIO_CROSSED_MOST) {
        list->full = true;
        return;
    }
    list->crossings[list->count++] = crossing;
}

static struct point at(const struct part *part, double along) {
    return (struct point){
            (int32_t)lround(part->from->x_mm + along * (part->to->x_mm - part->from->x_mm)),
            (int32_t)lround(part->from->y_mm + along * (part->to->y_mm - part->from->y_mm))};
}

/* The room that holds the way here, or HOUSE_OUTSIDE: ground and walls alike. */
static int room_here(const struct part *part, double along) {
    const int room = house_room_at(part->house, part->storey, at(part, along));
    return room != HOUSE_OUTSIDE && part->house->rooms[room].inside ? room : HOUSE_OUTSIDE;
}

/* Puts a cut among the others, in order. */
static void add_cut(struct part *part, double along, struct list *list) {
    size_t place = part->count;
    if (along <= part->begins || along >= part->ends) {
        return;
    }
    if (part->count == CUTS_MOST) {
        list->full = true;
        return;
    }
    for (; place > 0 && along < part->cuts[place - 1]; place--) {
        part->cuts[place] = part->cuts[place - 1];
    }
    part->cuts[place] = along;
    part->count++;
}

/* Where the way meets the line through two corners, as a share of the way; NAN where it misses or runs along it. */
static double meets(const struct part *part, struct point a, struct point b) {
    const double way_x = part->to->x_mm - part->from->x_mm;
    const double way_y = part->to->y_mm - part->from->y_mm;
    const double edge_x = b.x_mm - a.x_mm;
    const double edge_y = b.y_mm - a.y_mm;
    const double under = way_x * edge_y - way_y * edge_x;
    const double off_x = a.x_mm - part->from->x_mm;
    const double off_y = a.y_mm - part->from->y_mm;
    if (fabs(under) < 1e-9) {
        return NAN;
    }
    const double beside = (off_x * way_y - off_y * way_x) / under;
    return beside >= 0 && beside <= 1 ? (off_x * edge_y - off_y * edge_x) / under : NAN;
}

static void cut(struct part *part, struct list *list) {
    for (size_t i = 0; i < part->house->site->building.room_count; i++) {
        const struct house_room *room = &part->house->rooms[i];
        if (!room->good || !room->inside || room->storey != part->storey) {
            continue;
        }
        for (size_t k = 0; k < room->outline.count; k++) {
            const struct segment edge = outline_edge(room->outline, k);
            const double along = meets(part, edge.from, edge.to);
            if (!isnan(along)) {
                add_cut(part, along, list);
            }
        }
    }
}

static bool is_room(const struct house *house, int index) {
    return index != HOUSE_OUTSIDE && house->rooms[index].inside;
}

/* other: a room, or HOUSE_OUTSIDE for whatever ground. */
static bool joins(const struct house *house, size_t index, int one, int other) {
    const struct house_opening *opening = &house->openings[index];
    if (!opening->good || opening->flat) {
        return false;
    }
    return other == HOUSE_OUTSIDE ? opening->room == one && !is_room(house, opening->other)
                                  : (opening->room == one && opening->other == other) ||
                    (opening->room == other && opening->other == one);
}

/* The opening that the way passes between these rooms, or the count of openings. Near the wall, as the way may
 * begin at an opening of the same room. */
static size_t opening_between(const struct part *part, int one, int other, double along) {
    const struct site_building *building = &part->house->site->building;
    const double z_mm = part->from->z_mm + along * (part->to->z_mm - part->from->z_mm) -
            building->storeys[part->storey].floor_mm;
    for (size_t i = 0; i < building->opening_count; i++) {
        const struct house_opening *opening = &part->house->openings[i];
        const struct site_opening *said = &building->openings[i];
        const double low_mm = site_opening_sill_mm(said);
        const double high_mm = low_mm + site_opening_height_mm(said);
        if (!joins(part->house, i, one, other) || z_mm < low_mm || z_mm > high_mm) {
            continue;
        }
        const double met = meets(part, opening->near[0], opening->near[1]);
        if (!isnan(met) && fabs(met - along) * part->length_mm < HOUSE_WALL_MOST_MM) {
            return i;
        }
    }
    return building->opening_count;
}

static double slant_deg(double straight_mm, double way_mm) {
    const double deg = acos(fmin(1, straight_mm / way_mm)) * 180 / RADIO_PI;
    return fmin(deg, RADIO_SLANT_MOST_DEG);
}

/* One wall, or what fills the opening that the way passes. one: a room. */
static void add_wall(const struct part *part, int one, int other, double along, double gap_mm,
        struct list *list) {
    const struct site_building *building = &part->house->site->building;
    const size_t opening = opening_between(part, one, other, along);
    const int said = building->rooms[one].walls;
    const bool outer = other == HOUSE_OUTSIDE;
    const double thick_mm = outer ? part->house->outer_mm : part->house->inner_mm;
    /* The way rises as well: its length in the wall is longer than it looks from above. */
    const double rise = fabs(part->to->z_mm - part->from->z_mm) / fmax(part->length_mm, 1);
    const double way_mm = gap_mm * hypot(1, rise);
    struct radio_crossing crossing = {.kind = RADIO_CROSSING_WALL,
            .material = said != SITE_NONE ? said
                    : outer               ? building->outer
                                          : building->inner,
            .thickness_m = thick_mm / 1000,
            .angle_deg = slant_deg(thick_mm, way_mm)};
    if (opening < building->opening_count) {
        if (building->openings[opening].kind == SITE_OPENING_GAP) {
            return;
        }
        crossing.kind = RADIO_CROSSING_LEAF;
        crossing.opening = opening;
        crossing.material = building->openings[opening].material;
    }
    add(list, crossing);
}

/* What lies between two rooms that follow each other on the way, either of which may be outside: one wall, or,
 * where they are too far apart for that, the outer walls of both. */
static void pass(
        const struct part *part, int one, int other, double from, double to, struct list *list) {
    const double gap_mm = (to - from) * part->length_mm;
    if (one == other || gap_mm < HAIR_MM) {
        return;
    }
    if (one != HOUSE_OUTSIDE && other != HOUSE_OUTSIDE && gap_mm <= HOUSE_WALL_MOST_MM) {
        add_wall(part, one, other, (from + to) / 2, gap_mm, list);
        return;
    }
    if (one != HOUSE_OUTSIDE) {
        add_wall(part, one, HOUSE_OUTSIDE, from, part->house->outer_mm, list);
    }
    if (other != HOUSE_OUTSIDE) {
        add_wall(part, other, HOUSE_OUTSIDE, to, part->house->outer_mm, list);
    }
}

/* Rooms along the part, and what lies between one and the next. The ends of the way are in their rooms, also where
 * these end there. */
static void walk(const struct part *part, struct list *list) {
    const bool first = part->storey == part->from->storey;
    const bool last = part->storey == part->to->storey;
    int room = first ? part->from->room : HOUSE_OUTSIDE;
    double left_at = part->begins;
    double before = part->begins;
    for (size_t i = 0; i <= part->count; i++) {
        const double next = i < part->count ? part->cuts[i] : part->ends;
        const bool hair = (next - before) * part->length_mm < HAIR_MM;
        const int here = hair ? HOUSE_OUTSIDE : room_here(part, (before + next) / 2);
        if (here != HOUSE_OUTSIDE) {
            pass(part, room, here, left_at, before, list);
            room = here;
            left_at = next;
        }
        before = next;
    }
    pass(part, room, last ? part->to->room : HOUSE_OUTSIDE, left_at, part->ends, list);
}

/* The share of the way at which it is at this height. */
static double share_at(const struct radio_spot *from, const struct radio_spot *to, double z_mm) {
    const double share = (z_mm - from->z_mm) / (to->z_mm - from->z_mm);
    return fmin(1, fmax(0, share));
}

static void add_floor(const struct site_storey *below, const struct radio_spot *from,
        const struct radio_spot *to, struct list *list) {
    const double rise_mm = fabs(to->z_mm - from->z_mm);
    const double way_mm = 1000 * radio_spot_distance_m(from, to);
    add(list,
            (struct radio_crossing){.kind = RADIO_CROSSING_FLOOR,
                    .material = SITE_NONE,
                    .thickness_m = below->slab_mm / 1000.0,
                    .angle_deg = slant_deg(rise_mm, way_mm)});
}

outcome radio_cross(const struct house *house, const struct radio_spot *from,
        const struct radio_spot *to, struct radio_crossing *ret_crossings, size_t *ret_count,
        struct problem *ret_problem) {
    const struct site_storey *storeys = house->site->building.storeys;
    struct list list = {.crossings = ret_crossings};
    const int step = from->storey <= to->storey ? 1 : -1;
    for (int storey = from->storey;; storey += step) {
        struct part part = {.house = house,
                .storey = storey,
                .from = from,
                .to = to,
                .length_mm = hypot(to->x_mm - from->x_mm, to->y_mm - from->y_mm),
                .ends = 1};
        const double floor_mm = storeys[storey].floor_mm;
        const double ceiling_mm = floor_mm + storeys[storey].ceiling_mm;
        if (storey != from->storey) {
            part.begins = share_at(from, to, step > 0 ? floor_mm : ceiling_mm);
        }
        if (storey != to->storey) {
            part.ends = share_at(from, to, step > 0 ? ceiling_mm : floor_mm);
        }
        cut(&part, &list);
        walk(&part, &list);
        if (storey == to->storey) {
            break;
        }
        add_floor(&storeys[step > 0 ? storey : storey - 1], from, to, &list);
    }
    if (list.full) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "more than %d walls between two devices",
                RADIO_CROSSED_MOST);
    }
    *ret_count = list.count;
    return outcome_good();
}
