#include "enumerate.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

enum { RUNS_MAX = 12, STATE_MAX = 32, NO_AGE = INT16_MIN };

/* Compared by its bytes; everything is zeroed before use. Ages: seconds since the mark, NO_AGE before it; once both
 * marks are set only the difference counts, so the later one stays at 0. */
struct concrete {
    uint8_t state[STATE_MAX];
    uint32_t remaining_s[RUNS_MAX]; /* by activity, plus 1; 0 = does not run */
    int16_t start_age_s;
    int16_t end_age_s;
    int32_t at_s; /* when following a course, else -1 */
};

struct set {
    struct concrete *items;
    size_t count;
    size_t capacity;
    size_t *slots; /* index + 1 */
    size_t slot_count;
};

static void *must(void *memory) {
    if (memory == NULL) {
        abort();
    }
    return memory;
}

static uint64_t hash_of(const struct concrete *item) {
    const unsigned char *bytes = (const unsigned char *)item;
    uint64_t hash = UINT64_C(14695981039346656037); /* FNV-1a */
    for (size_t k = 0; k < sizeof *item; k++) {
        hash = (hash ^ bytes[k]) * UINT64_C(1099511628211);
    }
    return hash ^ hash >> 31;
}

static void set_rehash(struct set *set) {
    free(set->slots);
    set->slot_count = set->slot_count == 0 ? 1024 : set->slot_count * 2;
    set->slots = must(calloc(set->slot_count, sizeof *set->slots));
    for (size_t k = 0; k < set->count; k++) {
        size_t at = hash_of(&set->items[k]) % set->slot_count;
        while (set->slots[at] != 0) {
            at = (at + 1) % set->slot_count;
        }
        set->slots[at] = k + 1;
    }
}

/* Items in the order they came: the set is the queue too. */
static void set_add(struct set *set, const struct concrete *item) {
    if (set->count * 2 >= set->slot_count) {
        set_rehash(set);
    }
    size_t at = hash_of(item) % set->slot_count;
    while (set->slots[at] != 0) {
        if (memcmp(&set->items[set->slots[at] - 1], item, sizeof *item) == 0) {
            return;
        }
        at = (at + 1) % set->slot_count;
    }
    if (set->count == set->capacity) {
        set->capacity = set->capacity == 0 ? 1024 : set->capacity * 2;
        set->items = must(realloc(set->items, set->capacity * sizeof *set->items));
    }
    set->items[set->count] = *item;
    set->count++;
    set->slots[at] = set->count;
}

static bool set_has(const struct set *set, const struct concrete *item) {
    if (set->slot_count == 0) {
        return false;
    }
    for (size_t at = hash_of(item) % set->slot_count; set->slots[at] != 0;
            at = (at + 1) % set->slot_count) {
        if (memcmp(&set->items[set->slots[at] - 1], item, sizeof *item) == 0) {
            return true;
        }
    }
    return false;
}

static void set_free(struct set *set) {
    free(set->items);
    free(set->slots);
}

struct referee {
    const struct explore_machine *machine;
    bool probe;
    bool follows; /* a given course: instants are part of the state */
    struct enumeration *found;
    struct set done; /* all earlier levels */
    struct set now;
    struct set next;
    bool violated; /* by an event that leads to the next level */
};

static bool nothing_runs(const struct explore_machine *machine, const struct concrete *item) {
    for (size_t k = 0; k < RUNS_MAX; k++) {
        if (item->remaining_s[k] != 0 &&
                (machine->is_background == NULL ||
                        !machine->is_background(machine->context, (explore_activity)k))) {
            return false;
        }
    }
    return true;
}

static void note_length(const struct referee *referee, const struct concrete *item, bool bad) {
    if (!referee->probe || item->start_age_s == NO_AGE || item->end_age_s == NO_AGE) {
        return;
    }
    const int32_t length_s = item->start_age_s - item->end_age_s;
    assert(length_s >= -ENUMERATE_LENGTH_MOST && length_s <= ENUMERATE_LENGTH_MOST);
    (bad ? referee->found->bad : referee->found->good)[length_s + ENUMERATE_LENGTH_MOST] = true;
}

static void take_marks(const struct referee *referee, struct concrete *item, uint8_t mark) {
    if (!referee->probe) {
        return;
    }
    if ((mark & 1) != 0 && item->start_age_s == NO_AGE) {
        item->start_age_s = 0;
    }
    if ((mark & 2) != 0 && item->end_age_s == NO_AGE) {
        item->end_age_s = 0;
    }
}

/* Every duration of effect k and those after it. */
static void draw_all(struct referee *referee, const struct explore_effects *effects, size_t k,
        struct concrete item) {
    if (k == effects->count) {
        if (nothing_runs(referee->machine, &item)) {
            note_length(referee, &item, false);
        } else {
            set_add(&referee->next, &item);
        }
        return;
    }
    const struct explore_effect *effect = &effects->effects[k];
    assert(effect->activity < RUNS_MAX);
    uint32_t *remaining_s = &item.remaining_s[effect->activity];
    const uint32_t before = *remaining_s;
    if (effect->kind == EXPLORE_STOP) {
        *remaining_s = 0;
        draw_all(referee, effects, k + 1, item);
    } else if (effect->kind == EXPLORE_SHORTEN && before == 0) {
        draw_all(referee, effects, k + 1, item);
    } else {
        for (int32_t s = effect->span.low_s; s <= effect->span.high_s; s++) {
            *remaining_s = (uint32_t)(s + 1);
            if (effect->kind == EXPLORE_SHORTEN && before < *remaining_s) {
                *remaining_s = before;
            }
            draw_all(referee, effects, k + 1, item);
        }
    }
}

static void step(
        struct referee *referee, const struct explore_effects *effects, struct concrete item) {
    take_marks(referee, &item, effects->mark);
    switch (effects->standing) {
    case EXPLORE_VIOLATION:
        referee->violated = true;
        note_length(referee, &item, true);
        break;
    case EXPLORE_GOOD_END:
        note_length(referee, &item, false);
        break;
    case EXPLORE_SET_ASIDE:
        break;
    case EXPLORE_GOES_ON:
        draw_all(referee, effects, 0, item);
        break;
    }
}

static void begin_all(struct referee *referee) {
    struct concrete item;
    memset(&item, 0, sizeof item);
    item.start_age_s = NO_AGE;
    item.end_age_s = NO_AGE;
    item.at_s = referee->follows ? 0 : -1;
    struct explore_effects effects = {0};
    assert(referee->machine->state_size <= STATE_MAX);
    referee->machine->begin(referee->machine->context, item.state, &effects);
    step(referee, &effects, item);
}

static void fire_one(struct referee *referee, const struct concrete *from,
        explore_activity activity, uint32_t choice, uint32_t *ret_alternatives) {
    struct concrete item = *from;
    item.remaining_s[activity] = 0;
    struct explore_effects effects = {0};
    referee->machine->fire(referee->machine->context, item.state, activity, choice, &effects);
    *ret_alternatives = effects.alternatives;
    step(referee, &effects, item);
}

static void tick(struct referee *referee, struct concrete item) {
    for (size_t k = 0; k < RUNS_MAX; k++) {
        if (item.remaining_s[k] != 0) {
            item.remaining_s[k]--;
        }
    }
    const bool both = item.start_age_s != NO_AGE && item.end_age_s != NO_AGE;
    if (item.start_age_s != NO_AGE && !both) {
        item.start_age_s++;
    }
    if (item.end_age_s != NO_AGE && !both) {
        item.end_age_s++;
    }
    if (item.at_s >= 0) {
        item.at_s++;
    }
    if (!set_has(&referee->done, &item)) {
        set_add(&referee->now, &item);
    }
}

static bool is_due(const struct concrete *item) {
    for (size_t k = 0; k < RUNS_MAX; k++) {
        if (item->remaining_s[k] == 1) {
            return true;
        }
    }
    return false;
}

static void fire_due(struct referee *referee, struct concrete item) {
    for (size_t k = 0; k < RUNS_MAX; k++) {
        uint32_t alternatives = 1;
        for (uint32_t choice = 0; item.remaining_s[k] == 1 && choice < alternatives; choice++) {
            uint32_t told = 0;
            fire_one(referee, &item, (explore_activity)k, choice, &told);
            alternatives = told > 1 ? told : 1;
        }
    }
}

/* The next level's states that are new become the level; those that passed are done. */
static void next_level(struct referee *referee) {
    for (size_t k = 0; k < referee->now.count; k++) {
        set_add(&referee->done, &referee->now.items[k]);
    }
    set_free(&referee->now);
    referee->now = (struct set){0};
    for (size_t k = 0; k < referee->next.count; k++) {
        if (!set_has(&referee->done, &referee->next.items[k])) {
            set_add(&referee->now, &referee->next.items[k]);
        }
    }
    set_free(&referee->next);
    referee->next = (struct set){0};
}

void enumerate_machine(const struct explore_machine *machine, bool probe, size_t states_most,
        struct enumeration *ret_enumeration) {
    *ret_enumeration = (struct enumeration){.finished = true};
    struct referee referee = {.machine = machine, .probe = probe, .found = ret_enumeration};
    size_t events = 1;
    begin_all(&referee);
    while (true) {
        if (referee.violated && ret_enumeration->story_count == 0) {
            ret_enumeration->story_count = events;
        }
        if (referee.next.count == 0 || (referee.violated && !probe)) {
            break;
        }
        next_level(&referee);
        events++;
        for (size_t k = 0; k < referee.now.count; k++) {
            const struct concrete item = referee.now.items[k];
            if (is_due(&item)) {
                fire_due(&referee, item);
            } else {
                tick(&referee, item);
            }
        }
        ret_enumeration->states = referee.done.count + referee.now.count;
        if (ret_enumeration->states + referee.next.count > states_most) {
            ret_enumeration->finished = false;
            break;
        }
    }
    set_free(&referee.done);
    set_free(&referee.now);
    set_free(&referee.next);
}

int32_t enumerate_earliest_s(const struct explore_machine *machine,
        const struct explore_event *story, size_t story_count, size_t states_most) {
    struct enumeration ignored = {0};
    struct referee referee = {.machine = machine, .follows = true, .found = &ignored};
    int32_t earliest_s = -1;
    begin_all(&referee);
    for (size_t event = 1; event < story_count; event++) {
        set_free(&referee.now);
        referee.now = referee.next;
        referee.next = (struct set){0};
        if (referee.now.count > states_most) {
            earliest_s = -2;
            break;
        }
        const explore_activity activity = story[event].activity;
        for (size_t k = 0; k < referee.now.count; k++) {
            const struct concrete item = referee.now.items[k];
            if (!is_due(&item)) {
                tick(&referee, item);
            } else if (item.remaining_s[activity] == 1) {
                uint32_t told = 0;
                fire_one(&referee, &item, activity, story[event].choice, &told);
                if (event + 1 == story_count && (earliest_s < 0 || item.at_s < earliest_s)) {
                    earliest_s = item.at_s;
                }
            }
        }
    }
    if (story_count == 1) {
        earliest_s = 0;
    }
    set_free(&referee.now);
    set_free(&referee.next);
    return earliest_s;
}
