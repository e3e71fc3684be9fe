#include "plan/layers.h"

#include "plan/coverage_layer.h"
#include "plan/ways_layer.h"

static outcome make_sight(const struct house *house, struct arena *arena,
        struct drawing_layer *ret_layer, struct problem *ret_problem) {
    struct coverage *coverage = ARENA_ARRAY(arena, struct coverage, 1);
    struct coverage_drawn *drawn = ARENA_ARRAY(arena, struct coverage_drawn, 1);
    if (coverage == NULL || drawn == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to draw what detectors see");
    }
    TRY(coverage_make(house, arena, coverage, ret_problem));
    *drawn = (struct coverage_drawn){.house = house, .coverage = coverage};
    *ret_layer = coverage_layer(drawn);
    return outcome_good();
}

static outcome make_ways(const struct house *house, struct arena *arena,
        struct drawing_layer *ret_layer, struct problem *ret_problem) {
    struct used_ways *ways = ARENA_ARRAY(arena, struct used_ways, 1);
    struct ways_drawn *drawn = ARENA_ARRAY(arena, struct ways_drawn, 1);
    if (ways == NULL || drawn == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to draw the ways that people use");
    }
    TRY(used_ways_make(house, NULL, arena, ways, ret_problem));
    *drawn = (struct ways_drawn){.house = house, .ways = ways};
    *ret_layer = ways_layer(drawn);
    return outcome_good();
}

const struct plan_layer plan_layers[PLAN_LAYER_COUNT] = {
        [PLAN_LAYER_SIGHT] = {"sight", make_sight},
        [PLAN_LAYER_WAYS] = {"ways", make_ways},
};
