/* Arenas: memory of one document, one request, one exploration, dropped whole. Pages come from the
 * shell, so that the core calls no malloc and a test can fail any one of them. */
#ifndef LINTEL_BASE_ARENA_H
#define LINTEL_BASE_ARENA_H

#include "base/problem.h"

#include <stddef.h>

/** Where memory comes from. get: size in bytes > 0; gives a block aligned for any type, or NULL.
 *  give: takes back a block of get with its size. The context outlives every arena made from it. */
struct pages {
    void *(*get)(void *context, size_t size);
    void (*give)(void *context, void *block, size_t size);
    void *context;
};

struct arena_block;

/** An arena. taken_bytes: handed out; held_bytes: got from the pages; limit_bytes: most that may be
 *  held, 0 = no limit; refused: stays set once anything was refused, so that whoever makes many texts may ask once at
 *  the end. */
struct arena {
    struct pages pages;
    struct arena_block *newest;
    size_t taken_bytes;
    size_t held_bytes;
    size_t limit_bytes;
    bool refused;
};

/** Makes an empty arena; takes no memory yet. limit_bytes: most bytes it may hold, 0 = no limit. */
void arena_init(struct arena *arena, struct pages pages, size_t limit_bytes);

/** Gives every page back. A zeroed or finished arena is fine. */
void arena_finish(struct arena *arena);

/** Zeroed memory for count things of size bytes each, aligned for any type; gives NULL when the pages
 *  or the limit refuse. count 0 gives a valid pointer to nothing. */
void *arena_take(struct arena *arena, size_t count, size_t size);

/** As arena_take, but a refusal is a problem (PROBLEM_MEMORY or PROBLEM_LIMIT). ret_memory: gives. */
outcome arena_get(struct arena *arena, size_t count, size_t size, void **ret_memory,
        struct problem *ret_problem) MUST_CHECK;

#define ARENA_NEW(arena, type) ((type *)arena_take((arena), 1, sizeof(type)))
#define ARENA_ARRAY(arena, type, count) ((type *)arena_take((arena), (count), sizeof(type)))

#endif
