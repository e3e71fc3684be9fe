/* What was worked out of earlier drawings of the same house, so that moving one detector works out anew only what it
 * touches: a view depends on its viewer and the walls of its storey; blind floor and the moves within a room on that
 * room, what stands in it, and the views that reach it; a way through the house on walls, stairs and its two ends, and
 * on no detector. Kept by value: the same question has the same answer; nobody has to say what changed.
 *
 * Whoever looks at a drawing again and again owns one (the page's server) and hands it in with the site. Two
 * generations are kept: what was asked for since the last turn, and in the look before. One thread at a time. */
#ifndef LINTEL_PLAN_RECALL_H
#define LINTEL_PLAN_RECALL_H

#include "plan/area.h"
#include "plan/room_moves.h"
#include "plan/walk.h"

struct recall;

/** What was asked since the last turn: how often it was worked out, and how often it was known. */
struct recall_tally {
    size_t worked_out;
    size_t known;
};

/** Makes an empty one; it takes memory from the pages, which must outlive it. Fails MEMORY. */
outcome recall_make(struct pages pages, struct recall **ret_recall, struct problem *ret_problem)
        MUST_CHECK;

/** Gives its memory back. NULL is fine. */
void recall_drop(struct recall *recall);

/** A new look begins: what was not asked for in the last one is forgotten. */
void recall_turn(struct recall *recall);

struct recall_tally recall_tally(const struct recall *recall);

/** As sight_see, area_blind and room_moves_find, answers in the arena; recall NULL: always worked out. Where there is
 *  no memory to keep an answer it is given all the same. */
outcome recall_see(struct recall *recall, const struct sight_viewer *viewer,
        const struct segment *walls, size_t wall_count, struct arena *arena,
        struct sight_view *ret_view, struct problem *ret_problem) MUST_CHECK;
outcome recall_blind(struct recall *recall, struct outline room, const struct outline *holes,
        size_t hole_count, const struct sight_view *views, size_t view_count, struct arena *arena,
        struct area *ret_floor, struct area *ret_blind, struct problem *ret_problem) MUST_CHECK;
outcome recall_moves(struct recall *recall, const struct room_floor *floor, struct arena *arena,
        struct room_moves *ret_moves, struct problem *ret_problem) MUST_CHECK;

/** Who finds a way where it has to be worked out. plan: of what it walks; nothing else may change its answer. */
struct recall_walker {
    const struct walk_plan *plan;
    outcome (*find)(void *context, struct walk_place from, struct walk_place to,
            struct arena *arena, struct way *ret_way, struct problem *ret_problem);
    void *context;
};

/** As walker->find; recall NULL: always asked. */
outcome recall_way(struct recall *recall, const struct recall_walker *walker,
        struct walk_place from, struct walk_place to, struct arena *arena, struct way *ret_way,
        struct problem *ret_problem) MUST_CHECK;

#endif
