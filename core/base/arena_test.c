#include "base/arena.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <stdalign.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

/* Pages that count, and refuse call refuse_from (and later ones, if for_ever). 0: none. */
struct counted {
    unsigned got;
    unsigned given;
    size_t held_bytes;
    unsigned refuse_from;
    bool for_ever;
};

static void *get_page(void *context, size_t size) {
    struct counted *counted = context;
    counted->got++;
    if (counted->refuse_from != 0 &&
            (counted->for_ever ? counted->got >= counted->refuse_from
                               : counted->got == counted->refuse_from)) {
        return NULL;
    }
    counted->held_bytes += size;
    void *block = malloc(size);
    memset(block, 0xA5, size);
    return block;
}

static void give_page(void *context, void *block, size_t size) {
    struct counted *counted = context;
    counted->given++;
    assert_true(size <= counted->held_bytes);
    counted->held_bytes -= size;
    free(block);
}

static struct pages pages_of(struct counted *counted) {
    return (struct pages){.get = get_page, .give = give_page, .context = counted};
}

static void memory_is_zeroed_and_aligned(void **state) {
    (void)state;
    struct counted counted = {0};
    struct arena arena;
    arena_init(&arena, pages_of(&counted), 0);
    for (size_t size = 1; size < 3000; size += 7) {
        unsigned char *memory = arena_take(&arena, 1, size);
        assert_non_null(memory);
        assert_int_equal((uintptr_t)memory % alignof(max_align_t), 0);
        for (size_t i = 0; i < size; i++) {
            assert_int_equal(memory[i], 0);
        }
        memset(memory, 0xFF, size); /* a later one must not lie over it, nor be dirty */
    }
    arena_finish(&arena);
    assert_int_equal(counted.held_bytes, 0);
}

static void pieces_do_not_overlap(void **state) {
    (void)state;
    enum { COUNT = 500 };
    struct counted counted = {0};
    struct arena arena;
    uint32_t *pieces[COUNT];
    arena_init(&arena, pages_of(&counted), 0);
    for (uint32_t i = 0; i < COUNT; i++) {
        pieces[i] = ARENA_ARRAY(&arena, uint32_t, 1 + i % 60);
        for (uint32_t j = 0; j < 1 + i % 60; j++) {
            pieces[i][j] = i;
        }
    }
    for (uint32_t i = 0; i < COUNT; i++) {
        for (uint32_t j = 0; j < 1 + i % 60; j++) {
            assert_int_equal(pieces[i][j], i);
        }
    }
    arena_finish(&arena);
}

static void nothing_is_taken_before_it_is_wanted(void **state) {
    (void)state;
    struct counted counted = {0};
    struct arena arena;
    arena_init(&arena, pages_of(&counted), 0);
    assert_int_equal(counted.got, 0);
    assert_non_null(arena_take(&arena, 0, 8)); /* a valid pointer to nothing */
    assert_int_equal(counted.got, 1);
    arena_finish(&arena);
    arena_finish(&arena); /* a finished one is fine */
    struct arena zeroed = {0};
    arena_finish(&zeroed);
    assert_int_equal(counted.given, 1);
}

static void large_pieces_get_their_own_block(void **state) {
    (void)state;
    struct counted counted = {0};
    struct arena arena;
    arena_init(&arena, pages_of(&counted), 0);
    unsigned char *small = arena_take(&arena, 1, 10);
    unsigned char *large = arena_take(&arena, 1, (size_t)5 << 20);
    assert_non_null(small);
    assert_non_null(large);
    memset(large, 1, (size_t)5 << 20);
    assert_int_equal(small[0], 0);
    assert_true(arena.held_bytes >= arena.taken_bytes);
    assert_int_equal(arena.held_bytes, counted.held_bytes);
    arena_finish(&arena);
    assert_int_equal(counted.held_bytes, 0);
}

static void sizes_that_overflow_are_refused(void **state) {
    (void)state;
    struct counted counted = {0};
    struct arena arena;
    arena_init(&arena, pages_of(&counted), 0);
    assert_null(arena_take(&arena, SIZE_MAX, 2));
    assert_null(arena_take(&arena, 2, SIZE_MAX));
    assert_null(arena_take(&arena, SIZE_MAX / 8, 16));
    assert_null(arena_take(&arena, (size_t)1 << 33, (size_t)1 << 33));
    assert_int_equal(counted.got, 0);
    arena_finish(&arena);
}

static void limit_is_kept(void **state) {
    (void)state;
    struct counted counted = {0};
    struct arena arena;
    unsigned pieces = 0;
    arena_init(&arena, pages_of(&counted), 10000);
    while (arena_take(&arena, 1, 100) != NULL) {
        pieces++;
        assert_true(arena.held_bytes <= 10000);
    }
    /* Most of the limit is usable: 112 bytes a piece, and some for the heads of the blocks. */
    assert_true(pieces >= 80);
    assert_true(pieces <= 100);
    assert_null(arena_take(&arena, 1, 20000));
    arena_finish(&arena);
    assert_int_equal(arena.held_bytes, 0);
    assert_non_null(arena_take(&arena, 1, 100)); /* a finished one starts afresh */
    arena_finish(&arena);
    assert_int_equal(counted.held_bytes, 0);
}

static void refusals_name_their_cause(void **state) {
    (void)state;
    struct counted counted = {.refuse_from = 1};
    struct problem problem = {0};
    struct arena arena;
    void *memory = &arena;
    arena_init(&arena, pages_of(&counted), 0);
    assert_false(arena_get(&arena, 1, 100, &memory, &problem).good);
    assert_int_equal(problem.kind, PROBLEM_MEMORY);
    assert_ptr_equal(memory, &arena);
    assert_true(arena_get(&arena, 1, 100, &memory, &problem).good);
    assert_ptr_not_equal(memory, &arena);
    arena_finish(&arena);
    problem = (struct problem){0};
    arena_init(&arena, pages_of(&counted), 10000);
    assert_false(arena_get(&arena, 1, 20000, &memory, &problem).good);
    assert_int_equal(problem.kind, PROBLEM_LIMIT);
    assert_non_null(strstr(problem.text, "10000 bytes"));
    arena_finish(&arena);
}

/* A limit reached by small pieces is the limit too, not a lack of memory. */
static void limit_reached_in_small_steps_is_the_limit(void **state) {
    (void)state;
    for (size_t size = 16; size <= 4096; size *= 2) {
        struct counted counted = {0};
        struct problem problem = {0};
        struct arena arena;
        void *memory = NULL;
        arena_init(&arena, pages_of(&counted), 10000);
        while (arena_get(&arena, 1, size, &memory, &problem).good) {
        }
        assert_int_equal(problem.kind, PROBLEM_LIMIT);
        arena_finish(&arena);
    }
}

/* Each page refused in turn, once and for ever: the pieces handed out stay good, and every page goes back. */
static void each_page_is_refused_in_turn(void **state) {
    (void)state;
    for (unsigned for_ever = 0; for_ever < 2; for_ever++) {
        bool refused_one = true;
        for (unsigned from = 1; refused_one; from++) {
            struct counted counted = {.refuse_from = from, .for_ever = for_ever == 1};
            struct arena arena;
            unsigned refused = 0;
            arena_init(&arena, pages_of(&counted), 0);
            for (unsigned i = 0; i < 200; i++) {
                unsigned char *memory = arena_take(&arena, 100, 5);
                refused += memory == NULL;
                if (memory != NULL) {
                    memset(memory, 0xFF, 500);
                }
            }
            refused_one = counted.got >= from;
            assert_true(refused_one ? refused > 0 : refused == 0);
            assert_true(!refused_one || for_ever == 1 || refused == 1);
            arena_finish(&arena);
            assert_int_equal(counted.held_bytes, 0);
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(memory_is_zeroed_and_aligned),
            cmocka_unit_test(pieces_do_not_overlap),
            cmocka_unit_test(nothing_is_taken_before_it_is_wanted),
            cmocka_unit_test(large_pieces_get_their_own_block),
            cmocka_unit_test(sizes_that_overflow_are_refused),
            cmocka_unit_test(limit_is_kept),
            cmocka_unit_test(refusals_name_their_cause),
            cmocka_unit_test(limit_reached_in_small_steps_is_the_limit),
            cmocka_unit_test(each_page_is_refused_in_turn),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
