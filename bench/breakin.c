/* Everything that comes of a drawing, for an invented office: what detectors see, ways from the door to all that has a
 * place, and the best that an intruder can do. */
#include "bench.h"
#include "office.h"

#include "check/break_in_layer.h"
#include "document/document.h"
#include "host/host.h"
#include "plan/house_ways.h"
#include "plan/recall.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { STOREYS = OFFICE_STOREYS };

static const double ROUNDS_S = 0.3; /* a figure is the best of the rounds within so long */

/* ---- what is measured */

/* The drawing, and what is worked out of it. */
struct worked {
    const struct site *site;
    struct arena arena;
    struct house house;
    struct coverage coverage;
    struct house_ways *ways;
    size_t way_count;
    struct site drawn;
    struct portals portals;
    struct break_ins all;
    struct problem problem;
};

static bool make_house(struct worked *worked) {
    return house_make(worked->site, &worked->arena, &worked->house, &worked->problem).good;
}

static bool make_sight(struct worked *worked) {
    return coverage_make(&worked->house, &worked->arena, &worked->coverage, &worked->problem).good;
}

/* From the front door to all that has a place. */
static bool make_ways(struct worked *worked) {
    struct walk_place from;
    bool good =
            house_ways_make(&worked->house, &worked->arena, &worked->ways, &worked->problem).good &&
            house_ways_door(&worked->house, 0, &from);
    worked->way_count = 0;
    for (size_t i = 0; good && i < worked->site->building.place_count; i++) {
        struct walk_place to;
        struct house_way way;
        good = house_ways_place(&worked->house, i, &to) &&
                house_ways_find(worked->ways, from, to, &worked->coverage, &worked->arena, &way,
                        &worked->problem)
                        .good;
        worked->way_count += good && way.way.count > 0;
    }
    return good;
}

static bool make_portals(struct worked *worked) {
    const bool good = portals_make(
            &worked->house, &worked->coverage, &worked->arena, &worked->portals, &worked->problem)
                              .good;
    worked->drawn = *worked->site;
    worked->drawn.break_ins = worked->portals.said;
    return good;
}

/* What took how long, in seconds, after one detector was moved a little and all else was known before. */
struct moved {
    double sight_s;
    double moves_s;
};

static double less(double a, double b) {
    return a < b ? a : b;
}

static struct moved work_moved(struct site *site, struct recall *recall) {
    struct moved best = {1e9, 1e9};
    const double began_s = bench_now_s();
    for (int round = 0; bench_now_s() - began_s < ROUNDS_S; round++) {
        struct worked worked = {.site = site};
        struct site_place *place = &site->building.places[site->building.place_count / 2];
        place->corner = SITE_CORNER_UNSAID;
        place->at = (struct site_point){3900 - 10 * (round % 100), 4800};
        place->at_said = true;
        place->towards_said = true; /* the room's front left corner */
        arena_init(&worked.arena, host_pages(), 0);
        recall_turn(recall);
        site->building.recall = recall;
        if (make_house(&worked)) {
            const double from_s = bench_now_s();
            const bool seen = make_sight(&worked);
            const double then_s = bench_now_s();
            if (seen && make_portals(&worked) &&
                    round > 0) { /* the first knows nothing of before */
                best.sight_s = less(then_s - from_s, best.sight_s);
                best.moves_s = less(bench_now_s() - then_s, best.moves_s);
            }
        }
        site->building.recall = NULL;
        arena_finish(&worked.arena);
    }
    return best;
}

static bool look(struct worked *worked) {
    const struct break_ins_options options = {.ways_only = true};
    return break_ins_look(
            &worked->drawn, &options, host_pages(), &worked->arena, &worked->all, &worked->problem)
            .good;
}

static bool (*const PARTS[])(struct worked *) = {
        make_house, make_sight, make_ways, make_portals, look};
enum { PART_COUNT = sizeof PARTS / sizeof *PARTS, LOOK = PART_COUNT - 1 };

/* All parts, one after the other; ret_best_s: the best so far of each. */
static bool work_out(struct worked *worked, double *ret_best_s) {
    for (int part = 0; part < PART_COUNT; part++) {
        const double began_s = bench_now_s();
        if (!PARTS[part](worked)) {
            return false;
        }
        const double took_s = bench_now_s() - began_s;
        ret_best_s[part] = took_s < ret_best_s[part] ? took_s : ret_best_s[part];
    }
    return true;
}

static size_t heard_in_time(const struct break_ins *all) {
    size_t count = 0;
    for (size_t i = 0; i < all->count; i++) {
        count += all->list[i].answer.verdict == BREAKIN_IN_TIME;
    }
    return count;
}

static struct moved moved_of(struct site *site) {
    struct recall *recall;
    struct problem problem = {0};
    if (!recall_make(host_pages(), &recall, &problem).good) {
        return (struct moved){1e9, 1e9};
    }
    const struct moved moved = work_moved(site, recall);
    recall_drop(recall);
    return moved;
}

static void print_row(int side_x, int side_y) {
    static struct office office;
    const struct document_search search = {.data = getenv("LINTEL_DATA")};
    struct document document;
    struct problem problem = {0};
    struct worked worked = {0};
    double best_s[PART_COUNT] = {1e9, 1e9, 1e9, 1e9, 1e9};
    office_write(&office, side_x, side_y, false);
    document_init(&document, host_pages());
    if (!document_read_text(&document, "office", NULL,
                (struct text){.start = office.text, .length = office.length}, &search, &problem)
                    .good) {
        printf("%d rooms: %s\n", STOREYS * side_x * side_y, problem.text);
        document_finish(&document);
        return;
    }
    const double began_s = bench_now_s();
    bool good = true;
    do {
        worked = (struct worked){.site = &document.site};
        arena_init(&worked.arena, host_pages(), 0);
        good = work_out(&worked, best_s);
        if (good && bench_now_s() - began_s < ROUNDS_S) {
            arena_finish(&worked.arena);
        } else {
            break;
        }
    } while (good);
    if (!good) {
        printf("%d rooms: %s\n", STOREYS * side_x * side_y, worked.problem.text);
    } else {
        const struct moved moved = moved_of(&document.site);
        printf("%5d %8zu %9zu %8s", STOREYS * side_x * side_y, office.opening_count,
                office.detector_count, bench_time(best_s[0]));
        printf(" %9s %7.0f x %9s", bench_time(best_s[1]), best_s[1] / moved.sight_s,
                bench_time(best_s[2] / (double)worked.way_count));
        printf(" %8s %9s %7.0f x", bench_count((double)worked.portals.said.move_count),
                bench_time(best_s[3]), best_s[3] / moved.moves_s);
        printf(" %9s %6zu of %zu\n", bench_time(best_s[LOOK]), heard_in_time(&worked.all),
                worked.all.count);
    }
    fflush(stdout);
    arena_finish(&worked.arena);
    document_finish(&document);
}

void bench_breakin(const struct bench *bench) {
    static const int SIDES[][2] = {{2, 2}, {3, 3}, {5, 4}, {6, 6}, {8, 8}};
    const size_t count = bench->quick ? 3 : sizeof SIDES / sizeof *SIDES;
    printf("\nA drawing of three storeys, and all that comes of it\n\n"
           "%5s %8s %9s %8s %9s %9s %9s %8s %9s %9s %9s %11s\n",
            "rooms", "openings", "detectors", "house", "sight", "to moved", "one way", "moves",
            "moves in", "to moved", "break-ins", "in time");
    for (size_t i = 0; i < count; i++) {
        print_row(SIDES[i][0], SIDES[i][1]);
    }
}
