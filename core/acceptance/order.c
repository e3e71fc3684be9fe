#include "acceptance/tests.h"
#include "plan/house.h"
#include "plan/house_ways.h"
#include "plan/tour.h"

enum {
    DRAWN_MOST = 40,  /* zones; each pair's way is searched for */
    FAR_MM = 1000000, /* where no way leads: last */
};

/** Where one stands to trip a zone: at its device, or at the door it watches. */
static bool place_of(
        const struct house *house, const struct site_zone *zone, struct walk_place *ret_place) {
    const struct site *site = house->site;
    int door = site_zone_door(site, zone);
    for (size_t i = 0; i < site->building.place_count; i++) {
        if (zone->device >= 0 && site->building.places[i].device == zone->device) {
            return house_ways_place(house, i, ret_place);
        }
    }
    return door >= 0 && house_ways_door(house, door, ret_place);
}

static outcome between(struct house_ways *ways, const struct walk_place *from,
        const struct walk_place *to, struct arena *arena, double *ret_mm,
        struct problem *ret_problem) {
    struct house_way way = {0};
    TRY(house_ways_find(ways, *from, *to, NULL, arena, &way, ret_problem));
    *ret_mm = way.way.count == 0 ? FAR_MM : way.way.length_mm;
    return outcome_good();
}

static outcome by_tour(const struct house *house, size_t *order, struct arena *arena,
        struct problem *ret_problem) {
    const struct site *site = house->site;
    struct walk_place *places = ARENA_ARRAY(arena, struct walk_place, site->zone_count + 1);
    size_t *zones = ARENA_ARRAY(arena, size_t, site->zone_count);
    size_t count = 0;
    size_t rest = 0;
    struct house_ways *ways = NULL;
    struct tour tour = {0};
    if (places == NULL || zones == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the walking order");
    }
    TRY(house_ways_make(house, arena, &ways, ret_problem));
    for (size_t i = 0; i < site->zone_count; i++) {
        if (place_of(house, &site->zones[i], &places[count])) {
            zones[count++] = i;
        }
    }
    const size_t drawn = count;
    /* the round ends at a keypad, where the next one begins; without one, at the last that the file names */
    for (size_t i = 0; i < site->keypad_count && count == drawn; i++) {
        count += house_ways_keypad(house, (int)i, &places[count]);
    }
    double *lengths = ARENA_ARRAY(arena, double, count *count + 1);
    if (lengths == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the walking order");
    }
    for (size_t i = 0; i < count; i++) {
        for (size_t k = i + 1; k < count; k++) {
            TRY(between(ways, &places[i], &places[k], arena, &lengths[i * count + k], ret_problem));
            lengths[k * count + i] = lengths[i * count + k];
        }
    }
    if (count > 1) {
        TRY(tour_find(lengths, count, TOUR_ANYWHERE, count - 1, arena, &tour, ret_problem));
    }
    for (size_t i = 0; i < tour.count; i++) {
        if (tour.stops[i] < drawn) {
            order[rest++] = zones[tour.stops[i]];
        }
    }
    /* those that are not drawn come after, as in the file */
    for (size_t i = 0; i < site->zone_count; i++) {
        bool there = false;
        for (size_t k = 0; k < rest && !there; k++) {
            there = order[k] == i;
        }
        if (!there) {
            order[rest++] = i;
        }
    }
    return outcome_good();
}

outcome acceptance_order(const struct site *site, struct arena *arena, size_t **ret_order,
        struct problem *ret_problem) {
    struct house house;
    void *order = NULL;
    TRY(arena_get(arena, site->zone_count, sizeof(size_t), &order, ret_problem));
    for (size_t i = 0; i < site->zone_count; i++) {
        ((size_t *)order)[i] = i;
    }
    *ret_order = order;
    if (site->building.room_count == 0 || site->zone_count > DRAWN_MOST) {
        return outcome_good();
    }
    TRY(house_make(site, arena, &house, ret_problem));
    return by_tour(&house, order, arena, ret_problem);
}
