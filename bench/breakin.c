/* Everything that comes of a drawing, for an invented office of three storeys that is written by a rule and read like
 * any site file: rooms of 4 x 5 m in rows, a door between each two neighbours, windows in front and at the back, two
 * stairs, a cupboard in each room, a motion detector in every second one, a front door with a contact. What detectors
 * see, ways from the door to all that has a place, and the best that an intruder can do. Nobody works there. */
#include "bench.h"

#include "check/break_in_layer.h"
#include "document/document.h"
#include "host/host.h"
#include "plan/house_ways.h"
#include "plan/recall.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { STOREYS = 3, TEXT_MOST = 1 << 18, NAME_ROOM = 48 };

static const double ROUNDS_S = 0.3; /* a figure is the best of the rounds within so long */

struct office {
    int side_x, side_y;
    char text[TEXT_MOST];
    size_t length;
    size_t opening_count, detector_count;
};

#define ADD(office, ...)                                                                           \
    ((office)->length += (size_t)snprintf(                                                         \
             (office)->text + (office)->length, TEXT_MOST - (office)->length, __VA_ARGS__))

static const char *room_name(int storey, int column, int row, char name[NAME_ROOM]) {
    snprintf(name, NAME_ROOM, "room %d-%d-%d", storey, column + 1, row + 1);
    return name;
}

static void write_rooms(struct office *office) {
    char own[NAME_ROOM];
    char other[NAME_ROOM];
    ADD(office, "  rooms:\n");
    for (int storey = 0; storey < STOREYS; storey++) {
        for (int i = 0; i < office->side_x * office->side_y; i++) {
            const int column = i % office->side_x;
            const int row = i / office->side_x;
            ADD(office, "    - {name: %s, size: 4 x 5 m, ", room_name(storey, column, row, own));
            if (storey > 0) {
                ADD(office, "above: %s}\n", room_name(storey - 1, column, row, other));
            } else if (column > 0) {
                ADD(office, "right-of: %s}\n", room_name(0, column - 1, row, other));
            } else if (row > 0) {
                ADD(office, "behind: %s}\n", room_name(0, 0, row - 1, other));
            } else {
                ADD(office, "storey: level 0}\n");
            }
        }
    }
}

/* Of one room: doors to the right and to the back, windows where it ends. */
static void write_openings_of(struct office *office, int storey, int column, int row) {
    char own[NAME_ROOM];
    char other[NAME_ROOM];
    room_name(storey, column, row, own);
    if (column + 1 < office->side_x) {
        ADD(office, "    - {room: %s, to: %s}\n", own, room_name(storey, column + 1, row, other));
        office->opening_count++;
    }
    if (row + 1 < office->side_y) {
        ADD(office, "    - {room: %s, to: %s}\n", own, room_name(storey, column, row + 1, other));
        office->opening_count++;
    }
    const bool windows[] = {row == 0 && (storey > 0 || column > 0), row + 1 == office->side_y};
    for (int i = 0; i < 2; i++) {
        if (windows[i] && !(i == 1 && column == 0)) {
            ADD(office, "    - {is: window, room: %s, wall: %s, name: window %s %d}\n", own,
                    i == 0 ? "front" : "back", own, i + 1);
            office->opening_count++;
        }
    }
}

static void write_openings(struct office *office) {
    ADD(office, "  openings:\n    - {door: front door, room: room 0-1-1, wall: front}\n");
    office->opening_count = 1;
    for (int storey = 0; storey < STOREYS; storey++) {
        for (int i = 0; i < office->side_x * office->side_y; i++) {
            write_openings_of(office, storey, i % office->side_x, i / office->side_x);
        }
    }
    char last[2][NAME_ROOM];
    room_name(1, office->side_x - 1, office->side_y - 1, last[0]);
    room_name(2, office->side_x - 1, office->side_y - 1, last[1]);
    ADD(office,
            "  stairs:\n"
            "    - {room: room 0-1-1, to: room 1-1-1, at: 0.1 x 1 m, size: 0.9 x 3 m, up: back}\n"
            "    - {room: %s, to: %s, at: 3 x 1 m, size: 0.9 x 3 m, up: back}\n",
            last[0], last[1]);
}

static bool has_detector(int number) {
    return number % 2 == 1;
}

static void write_things(struct office *office) {
    char own[NAME_ROOM];
    const int each = office->side_x * office->side_y;
    ADD(office, "  furniture:\n");
    for (int i = 0; i < STOREYS * each; i++) {
        room_name(i / each, i % each % office->side_x, i % each / office->side_x, own);
        ADD(office,
                "    - {name: cupboard, room: %s, at: 0 x 0 m, size: 1.2 x 0.6 m, height: 2 "
                "m}\n",
                own);
    }
    ADD(office,
            "  places:\n    - {keypad: keypad, room: room 0-1-1, wall: right, from-left: 0.6 m}\n"
            "    - {is: panel, room: room 0-2-1, wall: back, from-left: 0.5 m}\n");
    for (int i = 0; i < STOREYS * each; i++) {
        if (has_detector(i)) {
            room_name(i / each, i % each % office->side_x, i % each / office->side_x, own);
            ADD(office, "    - {device: motion %d, room: %s, corner: back right}\n", i, own);
        }
    }
    room_name(2, 0, office->side_y - 1, own);
    ADD(office,
            "    - {protects: records, room: %s, at: 1 x 1 m, takes: 10 min}\n"
            "    - {protects: samples, room: room 0-2-1, at: 1 x 1 m, takes: 10 min}\n",
            own);
}

static void write_office(struct office *office, int side_x, int side_y) {
    office->side_x = side_x;
    office->side_y = side_y;
    office->length = 0;
    office->detector_count = 0;
    ADD(office,
            "site: {name: Office, invented: yes, rules: [house]}\n"
            "panel: {profile: spinnaker-128, abort-window: 15 s, entry-delays: {front: 30 s}}\n"
            "areas: [{name: office}]\nkeypads: [{name: keypad}]\n"
            "doors: [{name: front door, outside: yes}]\ndevices:\n"
            "  - {name: front contact, profile: recessed-contact, on: front door}\n");
    for (int i = 0; i < STOREYS * side_x * side_y; i++) {
        if (has_detector(i)) {
            ADD(office, "  - {name: motion %d, profile: wired-motion}\n", i);
            office->detector_count++;
        }
    }
    ADD(office,
            "zones:\n  - {number: 1, says: front door, device: front contact, behaviour: entry}\n");
    for (int i = 0, number = 2; i < STOREYS * side_x * side_y; i++) {
        if (has_detector(i)) {
            ADD(office, "  - {number: %d, says: zone %d, device: motion %d, behaviour: interior}\n",
                    number, number, i);
            number++;
        }
    }
    ADD(office,
            "break-ins: {help-after: 3 min}\nbuilding:\n  inner-thickness: 100 mm\n"
            "  storeys: [{name: level 0, ceiling: 2.5 m}, {name: level 1}, {name: level 2}]\n");
    write_rooms(office);
    write_openings(office);
    write_things(office);
}

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
    write_office(&office, side_x, side_y);
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
