/* What the parts of portals.c share. Internal to core/plan. */
#ifndef LINTEL_PLAN_PORTALS_INSIDE_H
#define LINTEL_PLAN_PORTALS_INSIDE_H

#include "plan/portals.h"

/** The ways in while they are made. opening, stairs, ways: as in struct portals. */
struct portals_maker {
    const struct house *house;
    const struct coverage *coverage;
    struct arena *arena;
    struct site_break_in_room *rooms;
    struct site_break_in_opening *openings;
    int *opening;
    int *stairs;
    size_t opening_count;
    struct site_break_in_goal *goals;
    size_t goal_count;
    struct site_break_in_notice *notices;
    size_t notice_count;
    size_t notice_room;
    struct site_break_in_move *moves;
    struct way *ways;
    size_t move_count;
};

/** The zones of a device notice an opening. */
void portals_notice(struct portals_maker *maker, int device, int opening);

/** Adds the moves within a room, and what sees its openings from there. */
outcome portals_take_room(struct portals_maker *maker, int room, struct problem *ret_problem)
        MUST_CHECK;

/** What a view is sure to notice in a room, added to what is seen elsewhere. */
outcome portals_see_room(struct portals_maker *maker, int room, const struct sight_view *view,
        struct portals_seen *seen, struct problem *ret_problem) MUST_CHECK;

#endif
