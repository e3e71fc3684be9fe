/* What walk_make.c prepares and walk.c searches. Nobody else includes it. */
#ifndef LINTEL_PLAN_WALK_INSIDE_H
#define LINTEL_PLAN_WALK_INSIDE_H

#include "plan/grid.h"
#include "plan/sector.h"
#include "plan/walk.h"

#define WALK_NOBODY UINT32_MAX /* no value of an enum: those are ints */

enum {
    WALK_PLACES_MOST = 4096, /* whose lines to corners are kept */
    WALK_SLOTS = 2 * WALK_PLACES_MOST,
    WALK_MEETING_MOST = 64, /* directions of walls in one corner */
};

/* An end of a wall. Its directions: those of all walls that come here or pass. */
struct walk_vertex {
    struct point at;
    const struct point *directions;
    size_t direction_count;
    bool stops; /* no way passes straight through: it bends here, or the spot is inside a grown wall */
};

struct walk_edge {
    uint32_t to;
    double length_mm;
};

/* A corner that a way may bend round, or the end of a stair. */
struct walk_node {
    uint32_t storey;
    struct point at;
    struct sector sector;
    bool bends;
    bool known; /* its edges */
    uint32_t link_to;
    double link_mm;
    const struct walk_edge *edges;
    size_t edge_count;
};

/* raw: the walls as drawn; walls: as the body's middle meets them, with the vertices at their ends. */
struct walk_level {
    struct grid raw;
    struct grid grid;
    struct segment *walls;
    size_t wall_count;
    uint32_t (*ends)[2];
    struct walk_vertex *vertices;
    size_t vertex_count;
};

/* A place made ready: where the middle of the body stands, and which way it can go. reach_mm: from there to the
 * place. */
struct walk_spot {
    uint32_t storey;
    struct point at;
    struct sector sector;
    double reach_mm;
};

/* A place that was asked for, and the corners that it sees. */
struct walk_known {
    struct walk_place place;
    struct walk_spot spot;
    const struct walk_edge *edges;
    size_t edge_count;
};

struct walk {
    struct arena *arena;
    struct walk_level *levels;
    size_t level_count;
    struct walk_node *nodes;
    size_t node_count;
    struct walk_edge *scratch; /* as many as nodes */
    const struct walk_known *
            *known; /* WALK_SLOTS of them, by what their places add up to; NULL: empty */
    size_t known_count;
    int32_t body_mm;
};

/* Fails BAD_VALUE, LIMIT. */
outcome walk_stand(const struct walk *walk, struct walk_place place, struct walk_spot *ret_spot,
        struct problem *ret_problem) MUST_CHECK;

#endif
