#include "plan/house_ways.h"

#include "plan/house_inside.h"
#include "plan/house_walls.h"
#include "plan/recall.h"

#include <math.h>
#include <string.h>

/* A walk, made when it is first asked for: of ways that are known none is. */
struct lazy {
    struct walk_plan plan;
    struct arena *arena;
    struct walk *walk;
};

/* walks: of a body, and of a point for where no body comes through. */
struct house_ways {
    const struct house *house;
    struct arena *arena;
    struct walk_plan plan;
    struct lazy wide;
    struct lazy narrow;
};

static outcome refuse_memory(struct problem *ret_problem) {
    FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the ways through the building");
}

static uint32_t walked_kinds(void) {
    uint32_t kinds = 0;
    for (unsigned kind = 0; kind < SITE_OPENING_KIND_COUNT; kind++) {
        kinds |= site_opening_is_walked((enum site_opening_kind)kind) ? 1U << kind : 0;
    }
    return kinds;
}

static outcome list_walls(
        const struct house *house, struct house_ways *ways, struct problem *ret_problem) {
    const struct house_walls_wish wish = {.open = walked_kinds(), .stays_in = true, .stairs = true};
    const size_t count = house->site->building.storey_count;
    struct walk_storey *storeys = ARENA_ARRAY(ways->arena, struct walk_storey, count);
    if (storeys == NULL) {
        return refuse_memory(ret_problem);
    }
    for (size_t i = 0; i < count; i++) {
        TRY(house_walls(house, (int)i, &wish, ways->arena, &storeys[i].walls,
                &storeys[i].wall_count, ret_problem));
    }
    ways->plan.storeys = storeys;
    ways->plan.storey_count = count;
    return outcome_good();
}

static double slope_mm(const struct house_stairs *stairs) {
    return hypot(stairs->run_mm, stairs->rise_mm);
}

/* A flight is entered and left at its ends, not from its sides. */
static outcome list_stairs(
        const struct house *house, struct house_ways *ways, struct problem *ret_problem) {
    const struct site_building *building = &house->site->building;
    struct walk_link *links = ARENA_ARRAY(ways->arena, struct walk_link, building->stairs_count);
    if (links == NULL) {
        return refuse_memory(ret_problem);
    }
    for (size_t i = 0; i < building->stairs_count; i++) {
        const struct house_stairs *stairs = &house->stairs[i];
        if (!stairs->good) {
            continue;
        }
        const uint32_t below = (uint32_t)house->rooms[building->stairs[i].room].storey;
        links[ways->plan.link_count++] = (struct walk_link){
                .from = {below, stairs->foot, point_step(stairs->head, stairs->foot)},
                .to = {below + 1, stairs->head, point_step(stairs->foot, stairs->head)},
                .length_mm = slope_mm(stairs)};
    }
    ways->plan.links = links;
    return outcome_good();
}

outcome house_ways_make(const struct house *house, struct arena *arena,
        struct house_ways **ret_ways, struct problem *ret_problem) {
    struct house_ways *ways = ARENA_NEW(arena, struct house_ways);
    if (ways == NULL) {
        return refuse_memory(ret_problem);
    }
    *ways = (struct house_ways){.house = house, .arena = arena};
    TRY(list_walls(house, ways, ret_problem));
    TRY(list_stairs(house, ways, ret_problem));
    ways->narrow = (struct lazy){.plan = ways->plan, .arena = arena};
    ways->plan.body_mm = HOUSE_BODY_MM;
    ways->wide = (struct lazy){.plan = ways->plan, .arena = arena};
    if (house->site->building.recall == NULL) {
        TRY(walk_make(&ways->wide.plan, arena, &ways->wide.walk, ret_problem));
    }
    *ret_ways = ways;
    return outcome_good();
}

/* ---- places */

static struct point middle_of(const struct point ends[2]) {
    return (struct point){(ends[0].x_mm + ends[1].x_mm) / 2, (ends[0].y_mm + ends[1].y_mm) / 2};
}

static struct walk_place at_opening(
        const struct house *house, const struct house_opening *opening) {
    const bool near = house->rooms[opening->room].inside;
    const struct point inner = middle_of(near ? opening->near : opening->far);
    const struct point outer = middle_of(near ? opening->far : opening->near);
    struct walk_place place = {(uint32_t)house->rooms[opening->room].storey, inner, {0, 0}};
    if (house_leads_outside(house, opening)) {
        place.into = point_step(outer, inner);
    }
    return place;
}

bool house_ways_door(const struct house *house, int door, struct walk_place *ret_place) {
    const struct site_building *building = &house->site->building;
    for (size_t i = 0; i < building->opening_count; i++) {
        const struct house_opening *opening = &house->openings[i];
        if (building->openings[i].door == door && opening->good && !opening->flat &&
                house->rooms[opening->room].good) {
            *ret_place = at_opening(house, opening);
            return true;
        }
    }
    return false;
}

bool house_ways_place(const struct house *house, size_t place, struct walk_place *ret_place) {
    const struct house_place *placed = &house->places[place];
    if (placed->good) {
        *ret_place = (struct walk_place){
                (uint32_t)house->rooms[placed->room].storey, placed->at, placed->into};
    }
    return placed->good;
}

/* Whether a body has room there: as far from walls as it is wide to either side, and in no furniture or flight. */
static bool has_room(const struct house *house, int room, struct point at) {
    enum { HALF_MM = HOUSE_BODY_MM / 2 };
    const struct site_building *building = &house->site->building;
    const int storey = house->rooms[room].storey;
    struct point body[4];
    house_rectangle((struct point){at.x_mm - HALF_MM, at.y_mm - HALF_MM},
            (struct site_point){HOUSE_BODY_MM, HOUSE_BODY_MM}, body);
    bool free = house_holds(house, room, body);
    struct point met;
    for (size_t i = 0; i < building->furniture_count && free; i++) {
        free = !house->furniture[i].good || building->furniture[i].room != room ||
                !house_share_floor((struct outline){body, 4},
                        (struct outline){house->furniture[i].corners, 4}, &met);
    }
    for (size_t i = 0; i < building->stairs_count && free; i++) {
        const int below = house->rooms[building->stairs[i].room].storey;
        free = !house->stairs[i].good || (below != storey && below + 1 != storey) ||
                !house_share_floor((struct outline){body, 4},
                        (struct outline){house->stairs[i].corners, 4}, &met);
    }
    return free;
}

bool house_ways_room(const struct house *house, int room, struct walk_place *ret_place) {
    enum { ACROSS = 24 }; /* places to try across the room and along it */
    const struct house_room *it = &house->rooms[room];
    const struct point middle = {
            (it->low.x_mm + it->high.x_mm) / 2, (it->low.y_mm + it->high.y_mm) / 2};
    const struct point size = point_step(it->low, it->high);
    struct point best = it->good ? house_point_inside(it->outline) : it->low;
    double best_mm = INFINITY;
    for (int i = 0; i <= ACROSS * (ACROSS + 1) && it->good; i++) {
        const struct point at = {it->low.x_mm + size.x_mm / ACROSS * (i % (ACROSS + 1)),
                it->low.y_mm + size.y_mm / ACROSS * (i / (ACROSS + 1))};
        const double off_mm = point_distance_mm(at, middle);
        if (off_mm < best_mm && has_room(house, room, at)) {
            best = at;
            best_mm = off_mm;
        }
    }
    *ret_place = (struct walk_place){(uint32_t)it->storey, best, {0, 0}};
    return it->good;
}

bool house_ways_keypad(const struct house *house, int keypad, struct walk_place *ret_place) {
    for (size_t i = 0; i < house->site->building.place_count; i++) {
        if (house->site->building.places[i].keypad == keypad) {
            return house_ways_place(house, i, ret_place);
        }
    }
    return false;
}

/* ---- what a way passes */

static outcome list_passed(const struct house *house, struct arena *arena, struct house_way *way,
        struct problem *ret_problem) {
    enum { CROSSINGS_MOST = 4 }; /* a shortest way crosses a doorway once */
    const struct site_building *building = &house->site->building;
    struct house_passed *passed =
            ARENA_ARRAY(arena, struct house_passed, CROSSINGS_MOST * building->opening_count);
    size_t count = 0;
    if (passed == NULL) {
        return refuse_memory(ret_problem);
    }
    for (size_t i = 0; i < building->opening_count; i++) {
        const struct house_opening *opening = &house->openings[i];
        double at_mm[CROSSINGS_MOST];
        if (!opening->good || opening->flat ||
                !site_opening_is_walked(building->openings[i].kind) ||
                house_leads_outside(house, opening)) {
            continue;
        }
        size_t crossings = way_crossings(&way->way, (uint32_t)house->rooms[opening->room].storey,
                (struct segment){opening->near[0], opening->near[1]}, at_mm, CROSSINGS_MOST);
        crossings = crossings < CROSSINGS_MOST ? crossings : CROSSINGS_MOST;
        for (size_t k = 0; k < crossings; k++) {
            size_t place = count++;
            for (; place > 0 && at_mm[k] < passed[place - 1].at_mm; place--) {
                passed[place] = passed[place - 1];
            }
            passed[place] = (struct house_passed){i, at_mm[k]};
        }
    }
    way->passed = passed;
    way->passed_count = count;
    return outcome_good();
}

static outcome list_seen(const struct coverage *coverage, struct arena *arena,
        struct house_way *way, struct problem *ret_problem) {
    struct house_seen *seen = ARENA_ARRAY(arena, struct house_seen, coverage->view_count);
    size_t count = 0;
    if (seen == NULL) {
        return refuse_memory(ret_problem);
    }
    for (size_t i = 0; i < coverage->view_count; i++) {
        const struct coverage_view *view = &coverage->views[i];
        const struct way_stretch *stretches;
        size_t stretch_count = 0;
        if (view->sense == SITE_MOTION) {
            TRY(way_seen(&way->way, (uint32_t)view->storey, &view->view, arena, &stretches,
                    &stretch_count, ret_problem));
        }
        if (stretch_count == 0) {
            continue;
        }
        const struct house_seen one = {i, stretches[0].from_mm, stretches[stretch_count - 1].to_mm};
        size_t place = count++;
        for (; place > 0 && one.first_mm < seen[place - 1].first_mm; place--) {
            seen[place] = seen[place - 1];
        }
        seen[place] = one;
    }
    way->seen = seen;
    way->seen_count = count;
    return outcome_good();
}

/* A body stands a little off its door and its keypad: the way from there and to there belongs to it. */
static outcome add_ends(struct walk_place from, struct walk_place to, struct arena *arena,
        struct way *way, struct problem *ret_problem) {
    struct way_stop *stops = ARENA_ARRAY(arena, struct way_stop, way->count + 2);
    size_t count = 0;
    if (stops == NULL) {
        return refuse_memory(ret_problem);
    }
    if (!point_equal(way->stops[0].at, from.at)) {
        stops[count++] = (struct way_stop){from.storey, from.at, 0};
    }
    memcpy(&stops[count], way->stops, way->count * sizeof *stops);
    count += way->count;
    const double reach_mm = point_distance_mm(stops[count - 1].at, to.at);
    if (reach_mm > 0) {
        stops[count - 1].after_mm = way->length_mm - reach_mm;
        stops[count++] = (struct way_stop){to.storey, to.at, way->length_mm};
    }
    way->stops = stops;
    way->count = count;
    return outcome_good();
}

static outcome find_lazily(void *context, struct walk_place from, struct walk_place to,
        struct arena *arena, struct way *ret_way, struct problem *ret_problem) {
    struct lazy *lazy = context;
    if (lazy->walk == NULL) {
        TRY(walk_make(&lazy->plan, lazy->arena, &lazy->walk, ret_problem));
    }
    return walk_find(lazy->walk, from, &to, 1, arena, ret_way, ret_problem);
}

static outcome find(struct house_ways *ways, struct lazy *lazy, struct walk_place from,
        struct walk_place to, struct arena *arena, struct way *ret_way,
        struct problem *ret_problem) {
    const struct recall_walker walker = {&lazy->plan, find_lazily, lazy};
    return recall_way(
            ways->house->site->building.recall, &walker, from, to, arena, ret_way, ret_problem);
}

outcome house_ways_find(struct house_ways *ways, struct walk_place from, struct walk_place to,
        const struct coverage *coverage, struct arena *arena, struct house_way *ret_way,
        struct problem *ret_problem) {
    struct house_way way = {.tight = false};
    TRY(find(ways, &ways->wide, from, to, arena, &way.way, ret_problem));
    if (way.way.count == 0) {
        TRY(find(ways, &ways->narrow, from, to, arena, &way.way, ret_problem));
        way.tight = true;
    }
    if (way.way.count > 0) {
        TRY(add_ends(from, to, arena, &way.way, ret_problem));
        TRY(list_passed(ways->house, arena, &way, ret_problem));
        if (coverage != NULL) {
            TRY(list_seen(coverage, arena, &way, ret_problem));
        }
    }
    *ret_way = way;
    return outcome_good();
}

/* ---- how long it takes */

double house_way_stairs_mm(const struct house_way *way, double at_mm) {
    double sum_mm = 0;
    for (size_t i = 0; i + 1 < way->way.count; i++) {
        const struct way_stop from = way->way.stops[i];
        const struct way_stop to = way->way.stops[i + 1];
        const double until_mm = to.after_mm < at_mm ? to.after_mm : at_mm;
        if (from.storey != to.storey && until_mm > from.after_mm) {
            sum_mm += until_mm - from.after_mm;
        }
    }
    return sum_mm;
}

struct house_seconds house_way_seconds(
        const struct house_way *way, struct site_pace pace, double at_mm) {
    const double stairs_mm = house_way_stairs_mm(way, at_mm);
    const double level_mm = at_mm - stairs_mm;
    return (struct house_seconds){
            level_mm / pace.level.fast_mm_s + stairs_mm / pace.stairs.fast_mm_s,
            level_mm / pace.level.slow_mm_s + stairs_mm / pace.stairs.slow_mm_s};
}
