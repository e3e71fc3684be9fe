/* Small random buildings with random panel settings, for the search of break-ins. */
#ifndef LINTEL_TESTS_BREAKIN_BUILDING_H
#define LINTEL_TESTS_BREAKIN_BUILDING_H

#include "breakin/breakin.h"

enum { BUILDING_PLACES = 12, BUILDING_STEPS = 40, BUILDING_GOALS = 3, BUILDING_ZONES = 6 };

/** A site, where one can go in it, and how its panel stands. */
struct building {
    struct site site;
    struct panel_program program;
    struct breakin_graph graph;
    struct breakin_start start;
    struct breakin_options options;
    struct breakin_portal portals[BUILDING_STEPS];
    struct breakin_move moves[BUILDING_STEPS];
    struct breakin_goal goals[BUILDING_GOALS];
    struct text places[BUILDING_PLACES];
    int begins[2];
};

/** The building that a seed stands for; arrays of the site in the arena. False: out of memory. */
bool building_draw(uint64_t seed, struct arena *arena, struct building *ret_building);

/** The program anew, after a change of the site. */
bool building_program(struct building *building);

/** The building as a person reads it, each line after "#   ". */
void building_print(const struct building *building);

#endif
