/* What tests of drawn houses begin with: memory, rooms and openings of which nothing is said yet. */
#ifndef LINTEL_PLAN_TEST_ROOMS_H
#define LINTEL_PLAN_TEST_ROOMS_H

#include "base/arena.h"
#include "site/site.h"

#include <stdlib.h>

static inline void *test_get_page(void *context, size_t size) {
    (void)context;
    return malloc(size);
}

static inline void test_give_page(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

static const struct pages TEST_PAGES = {test_get_page, test_give_page, NULL};

/** A room that hangs on no other; without a width its shape is that of another. */
static inline struct site_room test_room(
        enum site_room_kind kind, int storey, int32_t width_mm, int32_t depth_mm) {
    return (struct site_room){.kind = kind,
            .storey = storey,
            .size = {width_mm, depth_mm},
            .size_said = width_mm > 0,
            .right_of = SITE_NONE,
            .left_of = SITE_NONE,
            .behind = SITE_NONE,
            .in_front_of = SITE_NONE,
            .above = SITE_NONE,
            .walls = SITE_NONE,
            .from = SITE_NONE};
}

/** An opening that is none of the site's doors, in the middle of its wall. */
static inline struct site_opening test_opening(
        enum site_opening_kind kind, int room, int to, enum site_side wall) {
    return (struct site_opening){.kind = kind,
            .door = SITE_NONE,
            .room = room,
            .to = to,
            .wall = wall,
            .material = SITE_NONE};
}

#endif
