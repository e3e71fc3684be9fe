/* Fischer's protocol for mutual exclusion (Lamport 1987; a standard timed benchmark), closed integer form: after
 * reading "nobody" a process writes its own number within A; it checks not before B after writing. Known result: two
 * are never in the critical section together exactly if A < B. */
#include "pages.h"
#include "replay.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

enum { PROCESSES_MAX = 4, NOBODY = 0xFF };

enum place { IDLE, WRITING, WAITING, CRITICAL };

struct fischer {
    uint8_t processes;
    int32_t write_within_s;
    int32_t check_after_s;
};

struct fischer_state {
    uint8_t owner;
    uint8_t place[PROCESSES_MAX];
};

/* A span has an end, but "at some time" and "not before B" have none. So each such activity fires again and again, at
 * distances of 0 or 1 s, and choice 0 is always to go on waiting: every whole second can be the one, in any order with
 * the others of the same second. Time is whole in the explorer, so nothing is left out. */
static const struct span again = {.low_s = 0, .high_s = 1};

static void restart(struct explore_effects *effects, explore_activity process, struct span span) {
    effects->effects[effects->count] =
            (struct explore_effect){.kind = EXPLORE_START, .activity = process, .span = span};
    effects->count++;
}

static void begin(const void *context, void *state_bytes, struct explore_effects *ret_effects) {
    const struct fischer *fischer = context;
    struct fischer_state *state = state_bytes;
    state->owner = NOBODY;
    for (explore_activity p = 0; p < fischer->processes; p++) {
        restart(ret_effects, p, again);
    }
}

static void enter(const struct fischer *fischer, struct fischer_state *state,
        explore_activity process, struct explore_effects *ret_effects) {
    state->place[process] = CRITICAL;
    for (explore_activity other = 0; other < fischer->processes; other++) {
        if (other != process && state->place[other] == CRITICAL) {
            ret_effects->standing = EXPLORE_VIOLATION;
            ret_effects->violation = 1;
        }
    }
}

static void fire(const void *context, void *state_bytes, explore_activity process, uint32_t choice,
        struct explore_effects *ret_effects) {
    const struct fischer *fischer = context;
    struct fischer_state *state = state_bytes;
    struct span next = again;
    ret_effects->alternatives = 2;
    switch ((enum place)state->place[process]) {
    case IDLE:
        ret_effects->alternatives = state->owner == NOBODY ? 2 : 1;
        if (choice == 1) {
            state->place[process] = WRITING;
            next = (struct span){0, fischer->write_within_s};
        }
        break;
    case WRITING:
        ret_effects->alternatives = 1;
        state->owner = (uint8_t)process;
        state->place[process] = WAITING;
        next = (struct span){fischer->check_after_s, fischer->check_after_s + 1};
        break;
    case WAITING:
        if (choice == 1 && state->owner == process) {
            enter(fischer, state, process, ret_effects);
        } else if (choice == 1) {
            state->place[process] = IDLE;
        }
        break;
    case CRITICAL:
        if (choice == 1) {
            state->place[process] = IDLE;
            state->owner = NOBODY;
        }
        break;
    }
    restart(ret_effects, process, next);
}

static void explore_fischer(
        struct fischer fischer, bool no_merge, bool no_inclusion, enum explore_verdict expected) {
    const struct explore_machine machine = {.state_size = sizeof(struct fischer_state),
            .context = &fischer,
            .begin = begin,
            .fire = fire};
    const struct explore_options options = {.no_merge = no_merge, .no_inclusion = no_inclusion};
    struct test_pages test_pages = {0};
    const struct pages pages = test_pages_over_heap(&test_pages);
    struct arena arena;
    arena_init(&arena, pages, 0);
    struct explore_result result = {0};
    assert_true(explore_run(&machine, &options, pages, &arena, &result, NULL).good);
    print_message("# n %d, A %d, B %d%s%s: %zu classes of %zu keys\n", fischer.processes,
            fischer.write_within_s, fischer.check_after_s, no_merge ? ", no merging" : "",
            no_inclusion ? ", no inclusion" : "", result.classes_expanded, result.keys);
    assert_int_equal(result.reason, EXPLORE_ENDED);
    assert_int_equal(result.verdict, expected);
    if (expected == EXPLORE_REFUTED) {
        const char *wrong = replay_story(&machine, &result);
        assert_string_equal(wrong == NULL ? "" : wrong, "");
    }
    arena_finish(&arena);
    assert_int_equal(test_pages.out, 0);
}

/* (A, B) and verdicts: the table of our explicit-state search, in agreement with the known result. */
static const struct {
    int32_t write_within_s;
    int32_t check_after_s;
    enum explore_verdict verdict;
} rows[] = {
        {1, 2, EXPLORE_PROVEN},
        {2, 3, EXPLORE_PROVEN},
        {2, 5, EXPLORE_PROVEN},
        {2, 2, EXPLORE_REFUTED},
        {3, 2, EXPLORE_REFUTED},
};

enum { ROW_COUNT = sizeof rows / sizeof rows[0] };

static void fischer_is_safe_exactly_if_a_is_less_than_b(void **unused) {
    (void)unused;
    for (uint8_t processes = 2; processes <= PROCESSES_MAX; processes++) {
        for (size_t k = 0; k < ROW_COUNT; k++) {
            const struct fischer fischer = {
                    processes, rows[k].write_within_s, rows[k].check_after_s};
            explore_fischer(fischer, false, false, rows[k].verdict);
        }
    }
}

static void fischer_without_reductions_is_the_same(void **unused) {
    (void)unused;
    for (uint8_t processes = 2; processes <= 3; processes++) {
        for (size_t k = 0; k < ROW_COUNT; k++) {
            const struct fischer fischer = {
                    processes, rows[k].write_within_s, rows[k].check_after_s};
            explore_fischer(fischer, true, false, rows[k].verdict);
            explore_fischer(fischer, false, true, rows[k].verdict);
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(fischer_is_safe_exactly_if_a_is_less_than_b),
            cmocka_unit_test(fischer_without_reductions_is_the_same),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
