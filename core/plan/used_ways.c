#include "plan/used_ways.h"

_Static_assert(SITE_PEOPLE_MAX <= 64, "a bit per person");

static bool is_walk(enum site_act act) {
    return act == SITE_ACT_COME || act == SITE_ACT_GO;
}

/* The people whose steps the test picks, as bits. */
static uint64_t walkers(
        const struct site *site, bool (*picks)(const struct site_step *step, int of), int of) {
    uint64_t people = 0;
    for (size_t i = 0; i < site->routine_count; i++) {
        for (size_t k = 0; k < site->routines[i].step_count; k++) {
            const struct site_step *step = &site->routines[i].steps[k];
            if (step->who >= 0 && !site->people[step->who].animal && picks(step, of)) {
                people |= UINT64_C(1) << step->who;
            }
        }
    }
    return people;
}

static bool takes_way(const struct site_step *step, int way) {
    return is_walk(step->act) && step->way == way;
}

static bool opens_door(const struct site_step *step, int door) {
    return step->act == SITE_ACT_OPEN && step->door == door;
}

uint64_t used_way_walkers(const struct site *site, int way) {
    return walkers(site, takes_way, way);
}

struct site_pace used_way_pace(const struct site *site, uint64_t people) {
    struct site_pace pace = site_walker_pace(SITE_WALKER_ADULT);
    bool first = true;
    for (size_t i = 0; i < site->person_count; i++) {
        if ((people >> i & 1) != 0) {
            const struct site_pace own = site_walking_pace(site->people[i].walks);
            pace = first ? own : site_pace_either(pace, own);
            first = false;
        }
    }
    return pace;
}

struct house_seconds used_way_seconds(const struct used_way *way) {
    return house_way_seconds(&way->way, way->pace, way->way.way.length_mm);
}

/* What is shared while the ways are listed. */
struct lister {
    const struct house *house;
    const struct coverage *coverage;
    struct arena *arena;
    struct house_ways *ways;
    struct used_ways *list;
};

static bool find_panel(const struct house *house, struct walk_place *ret_place) {
    for (size_t i = 0; i < house->site->building.place_count; i++) {
        if (house->site->building.places[i].fixture == SITE_FIXTURE_PANEL) {
            return house_ways_place(house, i, ret_place);
        }
    }
    return false;
}

static outcome find(const struct lister *lister, int door, int keypad, struct used_way *ret_way,
        struct problem *ret_problem) {
    struct walk_place from;
    struct walk_place to;
    *ret_way = (struct used_way){.door = door, .keypad = keypad};
    ret_way->drawn = house_ways_door(lister->house, door, &from) &&
            (keypad == SITE_NONE ? find_panel(lister->house, &to)
                                 : house_ways_keypad(lister->house, keypad, &to));
    return ret_way->drawn ? house_ways_find(lister->ways, from, to, lister->coverage, lister->arena,
                                    &ret_way->way, ret_problem)
                          : outcome_good();
}

static void add(const struct lister *lister, struct used_way way, uint64_t people) {
    const struct site *site = lister->house->site;
    struct used_way *own = &lister->list->ways[lister->list->count++];
    *own = way;
    own->people = people;
    own->pace = used_way_pace(site, people);
}

static struct used_way *listed(const struct lister *lister, int door, int keypad) {
    for (size_t i = 0; i < lister->list->count; i++) {
        struct used_way *way = &lister->list->ways[i];
        if (way->door == door && way->keypad == keypad) {
            return way;
        }
    }
    return NULL;
}

/* Two typed ways by one door to one keypad are one way of the drawing. */
static outcome list_typed(const struct lister *lister, struct problem *ret_problem) {
    const struct site *site = lister->house->site;
    for (size_t i = 0; i < site->way_count; i++) {
        const struct site_way *typed = &site->ways[i];
        if (typed->keypad == SITE_NONE || typed->door < 0) {
            continue;
        }
        const uint64_t people = used_way_walkers(site, (int)i);
        struct used_way *before = listed(lister, typed->door, typed->keypad);
        if (before != NULL) {
            before->people |= people;
            before->pace = used_way_pace(site, before->people);
            continue;
        }
        struct used_way way;
        TRY(find(lister, typed->door, typed->keypad, &way, ret_problem));
        add(lister, way, people);
    }
    return outcome_good();
}

/* A door that no typed way begins at: to the nearest keypad, or to the panel where there is none. */
static outcome list_door(
        const struct lister *lister, int door, uint64_t people, struct problem *ret_problem) {
    const struct site *site = lister->house->site;
    struct used_way best;
    TRY(find(lister, door, site->keypad_count > 0 ? 0 : SITE_NONE, &best, ret_problem));
    for (size_t i = 1; i < site->keypad_count; i++) {
        struct used_way way;
        TRY(find(lister, door, (int)i, &way, ret_problem));
        if (way.way.way.count > 0 &&
                (best.way.way.count == 0 || way.way.way.length_mm < best.way.way.length_mm)) {
            best = way;
        }
    }
    add(lister, best, people);
    return outcome_good();
}

static bool begins_typed(const struct used_ways *list, int door) {
    for (size_t i = 0; i < list->count; i++) {
        if (list->ways[i].door == door) {
            return true;
        }
    }
    return false;
}

/* Shutters and windows are opened too, but nobody comes in by them. */
static bool is_walked(const struct house *house, int door) {
    const struct site_building *building = &house->site->building;
    for (size_t i = 0; i < building->opening_count; i++) {
        if (building->openings[i].door == door) {
            return site_opening_is_walked(building->openings[i].kind);
        }
    }
    return false;
}

static outcome list_opened(const struct lister *lister, struct problem *ret_problem) {
    const struct site *site = lister->house->site;
    for (size_t i = 0; i < site->door_count; i++) {
        const uint64_t people = walkers(site, opens_door, (int)i);
        if (people != 0 && site->doors[i].outside && is_walked(lister->house, (int)i) &&
                !begins_typed(lister->list, (int)i)) {
            TRY(list_door(lister, (int)i, people, ret_problem));
        }
    }
    return outcome_good();
}

outcome used_ways_make(const struct house *house, const struct coverage *coverage,
        struct arena *arena, struct used_ways *ret_ways, struct problem *ret_problem) {
    struct used_ways list = {.count = 0};
    struct lister lister = {.house = house, .coverage = coverage, .arena = arena, .list = &list};
    list.ways =
            ARENA_ARRAY(arena, struct used_way, house->site->way_count + house->site->door_count);
    if (list.ways == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the ways that people use");
    }
    TRY(house_ways_make(house, arena, &lister.ways, ret_problem));
    TRY(list_typed(&lister, ret_problem));
    TRY(list_opened(&lister, ret_problem));
    *ret_ways = list;
    return outcome_good();
}
