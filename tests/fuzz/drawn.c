#include "drawn.h"

#include "breakin/rooms.h"
#include "check/break_in_layer.h"
#include "host/host.h"
#include "plan/coverage_layer.h"
#include "plan/house_ways.h"

#include <stdio.h>
#include <stdlib.h>

enum { GOALS = SITE_BREAK_IN_GOAL_MAX, LABELS = 300 };

static const double GRAIN_M2 = 1e-3;
static const double GRAIN_MM = 1;

void must(bool held, const char *promise) {
    if (!held) {
        (void)fprintf(stderr, "broken: %s\n", promise);
        abort();
    }
}

/* Whatever the drawing, no more is seen or blind than there is, and every storey can be drawn. */
static void check_sight(const struct house *house, struct arena *arena) {
    const struct site_building *building = &house->site->building;
    struct coverage coverage;
    struct problem problem = {0};
    if (!coverage_make(house, arena, &coverage, &problem).good) {
        must(problem.kind == PROBLEM_LIMIT, "what is seen is worked out, or beyond a limit");
        return;
    }
    for (size_t i = 0; i < building->room_count; i++) {
        const struct coverage_room *room = &coverage.rooms[i];
        must(!room->good || room->blind.area_m2 <= room->floor_m2 + GRAIN_M2, "floor is blind");
    }
    for (size_t i = 0; i < coverage.view_count; i++) {
        const struct coverage_view *view = &coverage.views[i];
        must(view->room_m2 <= view->view.area_m2 + GRAIN_M2, "what is seen here is seen");
        must(view->hidden >= 0 && view->hidden <= 1, "furniture hides a share");
    }
    const struct coverage_drawn drawn = {.house = house, .coverage = &coverage};
    const struct drawing_layer layer = coverage_layer(&drawn);
    for (size_t i = 0; i < building->storey_count; i++) {
        struct picture picture;
        must(drawing_make(house, (int)i, drawing_scale(house), &layer, 1, arena, &picture, &problem)
                        .good,
                "a storey is drawn");
    }
}

/* Between any two places a way is no shorter than the line, and as long back as there. */
static void check_ways(const struct house *house, struct arena *arena) {
    struct house_ways *ways;
    struct problem problem = {0};
    if (!house_ways_make(house, arena, &ways, &problem).good) {
        must(problem.kind == PROBLEM_LIMIT, "ways are worked out, or beyond a limit");
        return;
    }
    for (size_t i = 0; i < house->site->building.place_count; i++) {
        for (size_t k = 0; k < i; k++) {
            struct walk_place from;
            struct walk_place to;
            struct house_way there;
            struct house_way back;
            if (!house_ways_place(house, i, &from) || !house_ways_place(house, k, &to) ||
                    !house_ways_find(ways, from, to, NULL, arena, &there, &problem).good ||
                    !house_ways_find(ways, to, from, NULL, arena, &back, &problem).good) {
                continue;
            }
            must((there.way.count > 0) == (back.way.count > 0), "who comes there comes back");
            must(there.way.count == 0 || from.storey != to.storey ||
                            there.way.length_mm >= point_distance_mm(from.at, to.at) - GRAIN_MM,
                    "no way is shorter than the line");
            must(there.way.count == 0 || there.tight != back.tight ||
                            (there.way.length_mm < back.way.length_mm + GRAIN_MM &&
                                    back.way.length_mm < there.way.length_mm + GRAIN_MM),
                    "the way back is as long");
        }
    }
}

/* Whatever can be done to the building can be searched, and what is found can be played. */
static void check_break_ins(const struct house *house, struct arena *arena) {
    struct site site;
    struct portals portals;
    struct rooms rooms;
    struct breakin_answer answers[GOALS];
    struct problem problem = {0};
    struct panel_program *program = ARENA_NEW(arena, struct panel_program);
    if (!break_ins_draw(house, arena, &site, &portals, &problem).good ||
            !rooms_graph(&site, arena, &rooms, &problem).good) {
        must(problem.kind == PROBLEM_LIMIT, "break-ins are drawn, or beyond a limit");
        return;
    }
    must(program != NULL && panel_program_of_site(&site, NULL, program, &problem).good,
            "a good site has a panel");
    struct breakin_options options = rooms_options(&site);
    options.label_limit = LABELS;
    for (size_t i = 0; site.break_ins.goal_count > 0 && i < site.break_ins.start_count; i++) {
        const struct breakin_start start = rooms_start(&site, i);
        must(breakin_search(&site, program, &rooms.graph, &start, &options, host_pages(), arena,
                     answers, NULL, &problem)
                        .good,
                "a drawn building is searched");
        for (size_t goal = 0; goal < site.break_ins.goal_count; goal++) {
            struct breakin_story story;
            must(answers[goal].best.acts == NULL ||
                            breakin_tell(&site, program, &rooms.graph, goal, &start, &options,
                                    &answers[goal].best, arena, &story, &problem)
                                    .good,
                    "the player comes to the same");
        }
    }
}

void drawn_check(const struct site *site, struct arena *arena) {
    struct house house;
    struct problem problem = {0};
    must(house_make(site, arena, &house, &problem).good, "a house is made");
    for (size_t i = 0; i < site->building.opening_count; i++) {
        const struct house_opening *opening = &house.openings[i];
        must(!opening->good || house.rooms[opening->room].good, "an opening is in a good room");
    }
    for (size_t i = 0; i < house.fault_count; i++) {
        must(house_fault_list(house.faults[i].kind) != NULL, "a fault is of a list");
    }
    check_sight(&house, arena);
    check_ways(&house, arena);
    check_break_ins(&house, arena);
}
