#include "base/arena.h"

#include <assert.h>
#include <stdalign.h>
#include <stdint.h>
#include <string.h>

/* First block small, so that a short sum costs little; later ones large, so that a long search asks
 * the shell rarely. */
enum { ARENA_FIRST_BYTES = 4096, ARENA_LARGEST_BYTES = 1 << 20 };

struct arena_block {
    alignas(max_align_t) struct arena_block *older;
    size_t size; /* whole block, header included */
    size_t used; /* header included */
};

static size_t round_up(size_t size) {
    const size_t unit = alignof(max_align_t);
    return (size + unit - 1) / unit * unit;
}

void arena_init(struct arena *arena, struct pages pages, size_t limit_bytes) {
    assert(pages.get != NULL && pages.give != NULL);
    *arena = (struct arena){.pages = pages, .limit_bytes = limit_bytes};
}

void arena_finish(struct arena *arena) {
    while (arena->newest != NULL) {
        struct arena_block *block = arena->newest;
        arena->newest = block->older;
        arena->pages.give(arena->pages.context, block, block->size);
    }
    arena->taken_bytes = 0;
    arena->held_bytes = 0;
}

static bool within_limit(const struct arena *arena, size_t more) {
    return arena->limit_bytes == 0 ||
            (arena->held_bytes <= arena->limit_bytes &&
                    more <= arena->limit_bytes - arena->held_bytes);
}

static bool add_block(struct arena *arena, size_t wanted) {
    const size_t header = round_up(sizeof(struct arena_block));
    size_t size = arena->newest == NULL ? ARENA_FIRST_BYTES : arena->newest->size * 2;
    if (size > ARENA_LARGEST_BYTES) {
        size = ARENA_LARGEST_BYTES;
    }
    if (size < header + wanted || !within_limit(arena, size)) {
        size = header + wanted;
    }
    if (!within_limit(arena, size)) {
        return false;
    }
    struct arena_block *block = arena->pages.get(arena->pages.context, size);
    if (block == NULL) {
        return false;
    }
    block->older = arena->newest;
    block->size = size;
    block->used = header;
    arena->newest = block;
    arena->held_bytes += size;
    return true;
}

void *arena_take(struct arena *arena, size_t count, size_t size) {
    if (size != 0 && count > (SIZE_MAX / 4) / size) {
        arena->refused = true;
        return NULL;
    }
    const size_t wanted = round_up(count * size + (count * size == 0));
    if (arena->newest == NULL || arena->newest->size - arena->newest->used < wanted) {
        if (!add_block(arena, wanted)) {
            arena->refused = true;
            return NULL;
        }
    }
    unsigned char *memory = (unsigned char *)arena->newest + arena->newest->used;
    arena->newest->used += wanted;
    arena->taken_bytes += wanted;
    memset(memory, 0, wanted);
    return memory;
}

outcome arena_get(struct arena *arena, size_t count, size_t size, void **ret_memory,
        struct problem *ret_problem) {
    void *memory = arena_take(arena, count, size);
    if (memory == NULL) {
        /* The smallest block that would have done: where the limit has no room for that, the pages were never asked. */
        const bool overflows = size != 0 && count > (SIZE_MAX / 4) / size;
        const size_t header = round_up(sizeof(struct arena_block));
        const size_t least = overflows ? SIZE_MAX : header + round_up(count * size);
        if (arena->limit_bytes != 0 && !within_limit(arena, least)) {
            FAIL(ret_problem, PROBLEM_LIMIT, "", "the limit of %zu bytes is reached",
                    arena->limit_bytes);
        }
        FAIL(ret_problem, PROBLEM_MEMORY, "", "there is no memory left for this");
    }
    *ret_memory = memory;
    return outcome_good();
}
