#include "small_machine.h"

#include <stdlib.h>
#include <string.h>

enum { STATE_MOST = 4096 };

static void *must(void *memory) {
    if (memory == NULL) {
        abort();
    }
    return memory;
}

static size_t hash_of(const unsigned char *state, size_t size) {
    uint64_t hash = UINT64_C(14695981039346656037); /* FNV-1a */
    for (size_t i = 0; i < size; i++) {
        hash = (hash ^ state[i]) * UINT64_C(1099511628211);
    }
    return (size_t)(hash ^ hash >> 29);
}

static unsigned char *state_at(const struct small_machine *small, size_t number) {
    return small->states + number * small->inner->state_size;
}

static void grow(struct small_machine *small) {
    const size_t size = small->inner->state_size;
    small->state_capacity = small->state_capacity == 0 ? 256 : small->state_capacity * 2;
    small->states = must(realloc(small->states, small->state_capacity * size));
    free(small->slots);
    small->slot_count = small->state_capacity * 2;
    small->slots = must(calloc(small->slot_count, sizeof *small->slots));
    for (size_t i = 0; i < small->state_count; i++) {
        size_t at = hash_of(state_at(small, i), size) % small->slot_count;
        while (small->slots[at] != 0) {
            at = (at + 1) % small->slot_count;
        }
        small->slots[at] = (uint32_t)i + 1;
    }
}

static uint32_t number_of(struct small_machine *small, const unsigned char *state) {
    const size_t size = small->inner->state_size;
    if (small->state_count == small->state_capacity) {
        grow(small);
    }
    size_t at = hash_of(state, size) % small->slot_count;
    while (small->slots[at] != 0) {
        if (memcmp(state_at(small, small->slots[at] - 1), state, size) == 0) {
            return small->slots[at] - 1;
        }
        at = (at + 1) % small->slot_count;
    }
    memcpy(state_at(small, small->state_count), state, size);
    small->slots[at] = (uint32_t)++small->state_count;
    return small->slots[at] - 1;
}

static explore_activity small_activity(struct small_machine *small, explore_activity activity) {
    for (size_t i = 0; i < small->activity_count; i++) {
        if (small->activities[i] == activity) {
            return (explore_activity)i;
        }
    }
    if (small->activity_count == SMALL_ACTIVITIES_MOST) {
        small->too_many = true;
        return 0;
    }
    small->activities[small->activity_count] = activity;
    return (explore_activity)small->activity_count++;
}

static void give(struct small_machine *small, const unsigned char *inner_state, void *state,
        struct explore_effects *effects) {
    const uint32_t number = number_of(small, inner_state);
    memcpy(state, &number, sizeof number);
    for (size_t i = 0; i < effects->count; i++) {
        effects->effects[i].activity = small_activity(small, effects->effects[i].activity);
    }
}

/* The tables behind the context grow, but what a number means never changes: still the same result for the same
 * arguments. */
static struct small_machine *of(const void *context) {
    return (struct small_machine *)(uintptr_t)context;
}

static void begin(const void *context, void *state, struct explore_effects *ret_effects) {
    struct small_machine *small = of(context);
    unsigned char inner[STATE_MOST] = {0};
    small->inner->begin(small->inner->context, inner, ret_effects);
    give(small, inner, state, ret_effects);
}

static void fire(const void *context, void *state, explore_activity activity, uint32_t choice,
        struct explore_effects *ret_effects) {
    struct small_machine *small = of(context);
    unsigned char inner[STATE_MOST] = {0};
    uint32_t number = 0;
    memcpy(&number, state, sizeof number);
    memcpy(inner, state_at(small, number), small->inner->state_size);
    small->inner->fire(
            small->inner->context, inner, small->activities[activity], choice, ret_effects);
    give(small, inner, state, ret_effects);
}

static bool is_background(const void *context, explore_activity activity) {
    const struct small_machine *small = of(context);
    return small->inner->is_background(small->inner->context, small->activities[activity]);
}

struct explore_machine small_machine_over(
        const struct explore_machine *inner, struct small_machine *small) {
    *small = (struct small_machine){.inner = inner};
    return (struct explore_machine){.state_size = sizeof(uint32_t),
            .context = small,
            .begin = begin,
            .fire = fire,
            .is_background = inner->is_background == NULL ? NULL : is_background};
}

void small_machine_release(struct small_machine *small) {
    free(small->states);
    free(small->slots);
}
