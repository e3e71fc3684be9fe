#include "explore/explore.h"

#include "explore/classes.h"
#include "explore/ranges.h"
#include "explore/story.h"

#include <assert.h>
#include <stdalign.h>
#include <string.h>

enum {
    STATE_SIZE_MAX = 4096,
    CLASS_LIMIT = 200000,
    BYTE_LIMIT = 256 << 20,
    ASK_EVERY = 256,
    ROUNDS_MOST = 4096, /* ways the SHORTENs of one firing can go: a dozen open ones */
};

/* Pages with a count of what is held. */
struct budget {
    struct pages pages;
    size_t held_bytes;
    size_t peak_bytes;
    size_t limit_bytes;
    bool limit_reached;
};

static void *budget_get(void *context, size_t size) {
    struct budget *budget = context;
    if (size > budget->limit_bytes - budget->held_bytes) {
        budget->limit_reached = true;
        return NULL;
    }
    void *block = budget->pages.get(budget->pages.context, size);
    if (block != NULL) {
        budget->held_bytes += size;
        if (budget->peak_bytes < budget->held_bytes) {
            budget->peak_bytes = budget->held_bytes;
        }
    }
    return block;
}

static void budget_give(void *context, void *block, size_t size) {
    struct budget *budget = context;
    budget->held_bytes -= size;
    budget->pages.give(budget->pages.context, block, size);
}

/* Why the search does not go on. */
enum halt { HALT_NOT, HALT_VIOLATION, HALT_LIMIT, HALT_MEMORY };

struct search {
    const struct explore_machine *machine;
    struct explore_options options;
    struct budget budget;
    struct arena arena;
    struct classes classes;
    enum halt halt;
    enum explore_reason reason; /* with HALT_LIMIT */
    bool violated;
    uint32_t violation;
    struct story_end end;
    struct range_set bad;
    struct range_set good;
    bool good_ends;
    size_t expanded;
    size_t levels;
    size_t waiting; /* in the level being expanded */
    struct explore_effects effects;
    int32_t least[DBM_DIM_MAX];
    int32_t bound[DBM_DIM_MAX * DBM_DIM_MAX]; /* of the firing at work */
    int32_t zone[DBM_DIM_MAX * DBM_DIM_MAX];  /* what it gives, dense */
    alignas(max_align_t) unsigned char state[STATE_SIZE_MAX];
};

/* False, so that a search can return it. */
static bool halt(struct search *search, enum halt why, enum explore_reason reason) {
    search->halt = why;
    search->reason = reason;
    return false;
}

static bool halt_for_memory(struct search *search) {
    return search->budget.limit_reached ? halt(search, HALT_LIMIT, EXPLORE_BYTE_LIMIT)
                                        : halt(search, HALT_MEMORY, EXPLORE_ENDED);
}

/* The lengths the probed interval can have at this end. */
static bool record_range(struct search *search, const struct firing *firing, bool violated) {
    const size_t start = firing_mark_row(firing, 0, search->effects.mark);
    const size_t end = firing_mark_row(firing, 1, search->effects.mark);
    if (!search->options.probe || start == FIRING_NO_ROW || end == FIRING_NO_ROW) {
        return true;
    }
    const int32_t high = firing->bound[end * firing->stride + start];
    const int32_t low = -firing->bound[start * firing->stride + end];
    return range_set_add(violated ? &search->bad : &search->good, &search->arena, low, high) ||
            halt_for_memory(search);
}

/* A firing that is the end of its runs. Its effects do not matter any more. */
static bool end_run(
        struct search *search, const struct firing *firing, const struct class_piece *piece) {
    if (search->effects.standing == EXPLORE_SET_ASIDE) {
        return true;
    }
    const bool violated = search->effects.standing == EXPLORE_VIOLATION ||
            (search->options.probe && search->effects.standing == EXPLORE_GOES_ON &&
                    search->effects.violation != 0);
    search->good_ends = search->good_ends || !violated;
    if (violated && !search->violated) {
        search->violated = true;
        search->violation = search->effects.violation;
        search->end = (struct story_end){piece->parent, piece->activity, piece->choice};
    }
    if (violated && !search->options.probe) {
        return halt(search, HALT_VIOLATION, EXPLORE_ENDED);
    }
    return record_range(search, firing, violated);
}

/* Marks lie ever further back; past DBM_MOST sums would leave 32 bits. */
static bool marks_are_near(const struct firing *firing) {
    for (size_t which = 0; which < 2; which++) {
        if (firing->mark_row[which] != FIRING_NO_ROW &&
                firing->bound[firing->now_row * firing->stride + firing->mark_row[which]] >
                        DBM_MOST - 2 * SPAN_LONGEST_S) {
            return false;
        }
    }
    return true;
}

static void open_firing(struct search *search, const struct class_piece *piece, size_t fired,
        struct firing *firing) {
    if (piece->parent == NULL) {
        firing_begin(firing, search->bound, DBM_DIM_MAX, false);
    } else {
        firing_fire(firing, piece->parent, search->least, fired, search->bound, DBM_DIM_MAX, false);
    }
}

static bool nothing_runs(const struct explore_machine *machine, const struct firing *firing) {
    for (size_t k = 0; k < firing->count; k++) {
        if (machine->is_background == NULL ||
                !machine->is_background(machine->context, firing->activity[k])) {
            return false;
        }
    }
    return true;
}

/* All classes a firing leads to, one for each way its SHORTENs can go. The effects are in the search. */
static bool follow(struct search *search, struct class_piece *piece, size_t fired) {
    struct firing firing;
    struct class_key *key = NULL;
    struct firing_choices choices = {0};
    size_t rounds = 0;
    do {
        if (rounds++ == ROUNDS_MOST) {
            return halt(search, HALT_LIMIT, EXPLORE_CLASS_LIMIT);
        }
        open_firing(search, piece, fired, &firing);
        if (search->effects.standing != EXPLORE_GOES_ON) {
            return end_run(search, &firing, piece);
        }
        if (search->effects.overflowed || !firing_apply(&firing, &search->effects, &choices)) {
            return halt(search, HALT_LIMIT, EXPLORE_ACTIVE_LIMIT);
        }
        if (search->options.probe) {
            firing_mark(&firing, search->effects.mark);
        }
        if (!marks_are_near(&firing)) {
            return halt(search, HALT_LIMIT, EXPLORE_CLASS_LIMIT);
        }
        if (nothing_runs(search->machine, &firing)) {
            return end_run(search, &firing, piece);
        }
        if (key == NULL) {
            key = classes_find_key(&search->classes, search->state, &firing);
        }
        firing_give_zone(&firing, search->zone);
        piece->branches = choices.taken;
        if (key == NULL || !classes_add(&search->classes, key, search->zone, piece)) {
            return halt_for_memory(search);
        }
    } while (firing_next(&choices));
    return true;
}

static bool fire(struct search *search, const struct explore_class *class, size_t fired) {
    const struct explore_machine *machine = search->machine;
    struct class_piece piece = {.parent = class, .activity = class->key->activity[fired]};
    uint32_t alternatives = 1;
    for (piece.choice = 0; piece.choice < alternatives; piece.choice++) {
        memcpy(search->state, class->key->bytes, machine->state_size);
        memset(&search->effects, 0, sizeof search->effects);
        machine->fire(
                machine->context, search->state, piece.activity, piece.choice, &search->effects);
        if (search->effects.alternatives > 1) {
            alternatives = search->effects.alternatives;
        }
        if (!follow(search, &piece, fired)) {
            return false;
        }
    }
    return true;
}

static bool expand(struct search *search, const struct explore_class *class) {
    firing_least(class, search->least);
    for (size_t k = 0; k < class->key->count; k++) {
        if (search->least[k + 1] == 0 && !fire(search, class, k)) {
            return false;
        }
    }
    return true;
}

static bool may_go_on(struct search *search) {
    if (search->expanded == search->options.class_limit || search->levels == EXPLORE_STORY_MAX) {
        return halt(search, HALT_LIMIT, EXPLORE_CLASS_LIMIT);
    }
    const bool asks = search->options.keep_going != NULL && search->expanded > 0 &&
            search->expanded % ASK_EVERY == 0;
    if (asks &&
            !search->options.keep_going(search->options.keep_going_context, search->expanded,
                    search->waiting + search->classes.fresh_count)) {
        return halt(search, HALT_LIMIT, EXPLORE_ASKED_TO_STOP);
    }
    return true;
}

/* Level 1 holds the classes after begin; a firing in level n is event n + 1 of its story, begin counted. */
static bool run_levels(struct search *search) {
    struct explore_class *level = NULL;
    while (true) {
        if (!classes_settle(&search->classes, &level, &search->waiting)) {
            return halt_for_memory(search);
        }
        if (level == NULL) {
            return true;
        }
        search->levels++;
        for (; level != NULL; level = level->next_of_level) {
            if (!may_go_on(search)) {
                return false;
            }
            search->expanded++;
            search->waiting--;
            if (!expand(search, level)) {
                return false;
            }
        }
    }
}

static bool run(struct search *search) {
    const struct explore_machine *machine = search->machine;
    struct class_piece piece = {.activity = EXPLORE_BEGIN};
    memset(search->state, 0, machine->state_size);
    memset(&search->effects, 0, sizeof search->effects);
    machine->begin(machine->context, search->state, &search->effects);
    assert(search->effects.alternatives <= 1);
    return follow(search, &piece, 0) && run_levels(search);
}

/* Not an initialiser: the large buffers need no zeroes, and small searches are many. */
static void open_search(struct search *search, const struct explore_machine *machine,
        const struct explore_options *options, struct pages pages) {
    search->machine = machine;
    search->options = options == NULL ? (struct explore_options){0} : *options;
    if (search->options.class_limit == 0) {
        search->options.class_limit = CLASS_LIMIT;
    }
    search->budget = (struct budget){.pages = pages,
            .limit_bytes =
                    search->options.byte_limit == 0 ? BYTE_LIMIT : search->options.byte_limit};
    arena_init(&search->arena,
            (struct pages){.get = budget_get, .give = budget_give, .context = &search->budget}, 0);
    classes_init(&search->classes, &search->arena, machine->state_size, &search->options);
    search->halt = HALT_NOT;
    search->reason = EXPLORE_ENDED;
    search->violated = false;
    search->violation = 0;
    search->end = (struct story_end){0};
    search->bad = (struct range_set){0};
    search->good = (struct range_set){0};
    search->good_ends = false;
    search->expanded = 0;
    search->levels = 0;
    search->waiting = 0;
}

/* Adds the story to a refutation. Where it cannot be told the search is undecided: never a claim without proof. */
static outcome tell(struct search *search, struct arena *arena, struct explore_result *result,
        struct problem *ret_problem) {
    const struct course_step *steps = NULL;
    enum course_outcome told = COURSE_NO_SCRATCH;
    if (story_trace(search->machine, &search->end, &search->arena, &steps, &result->story_count)) {
        told = course_tell(search->machine, steps, result->story_count, &search->arena, arena,
                &result->story, ret_problem);
    }
    switch (told) {
    case COURSE_TOLD:
        result->verdict = EXPLORE_REFUTED;
        result->violation = search->violation;
        return outcome_good();
    case COURSE_NO_SCRATCH:
        (void)halt_for_memory(search);
        break;
    case COURSE_TOO_LONG:
        (void)halt(search, HALT_LIMIT, EXPLORE_CLASS_LIMIT);
        break;
    case COURSE_NOT_GIVEN:
        return (outcome){.good = false};
    }
    result->verdict = EXPLORE_UNDECIDED;
    result->story_count = 0;
    return outcome_good();
}

static outcome conclude(struct search *search, struct arena *arena,
        struct explore_result *ret_result, struct problem *ret_problem) {
    struct explore_result result = {.verdict = EXPLORE_PROVEN};
    if (search->halt == HALT_LIMIT) {
        result.verdict = EXPLORE_UNDECIDED;
    } else if (search->halt != HALT_MEMORY && search->violated) {
        TRY(tell(search, arena, &result, ret_problem));
    }
    if (search->halt == HALT_MEMORY) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "there is no memory left for this exploration");
    }
    result.reason = search->reason;
    range_set_give(&search->bad, &result.bad);
    range_set_give(&search->good, &result.good);
    result.good_ends = search->good_ends;
    result.classes_expanded = search->expanded;
    result.keys = search->classes.key_count;
    result.levels = search->levels;
    result.bytes_peak = search->budget.peak_bytes;
    *ret_result = result;
    return outcome_good();
}

outcome explore_run(const struct explore_machine *machine, const struct explore_options *options,
        struct pages pages, struct arena *arena, struct explore_result *ret_result,
        struct problem *ret_problem) {
    assert(machine->state_size > 0 && machine->state_size <= STATE_SIZE_MAX);
    struct search search;
    open_search(&search, machine, options, pages);
    (void)run(&search);
    const outcome concluded = conclude(&search, arena, ret_result, ret_problem);
    arena_finish(&search.arena);
    return concluded;
}
