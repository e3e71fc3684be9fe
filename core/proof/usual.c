/* The routines that every site gets: a list of names, each with the one who writes it.
 *
 * They are there to find the false alarms that people of good will cause. So they are fair: who hears the entry tone
 * keys the code, who sees "not ready" closes the window, and only people whose code acts at a keypad use it, save where
 * the file itself sends them there. What they need and do not find is said, not guessed. */
#include "proof/usual.h"

#include "site/words.h"

#include <string.h>

/* All common practice, no source, save where a row says otherwise ("6.2": rules dossier, Keying). */
/* clang-format off */
const struct usual_times usual_times = {
    .away             = {600, 36000},  /* 10 min to 10 h */
    .turn             = {60, 1800},
    .keys_back        = {5, 50},
    .keys_late_s      = 10,            /* so that both sides of the end of the exit time are met */
    .keys_search      = {5, 60},
    .bags             = {0, 7},        /* 6.2: shopping adds 15 s; with the 8 s of `again` */
    .again            = {5, 8},        /* 6.2: one mistake, 5 to 8 s (wait, clear, retry) */
    .step_inside      = {2, 20},
    .toilet           = {60, 600},
    .dog_at_door      = {1, 10},
    .dog_out          = {3, 60},
    .window           = {5, 120},
    .ring             = {3, 40},
    .parcel           = {3, 15},
    .family_comes     = {1800, 14400},
    .cleaning         = {10, 1200},
    .goods            = {60, 900},
    .opener_later     = {900, 7200},
    .goods_wait       = {10, 900},
    .to_keypad        = {10, 90},
    .stock_left       = {60, 900},
    .guest_behind     = {1, 3},
    .guest_stay       = {600, 10800},
    .pocket           = {2, 8},
    .at_home          = {0, 60},
    .outage           = {60, 14400},
    .late_night       = {600, 10800},    /* 00:10 to 03:00 */
    .three            = {10200, 12600},  /* 02:50 to 03:30 */
    .six              = {20700, 22500},  /* 05:45 to 06:15 */
    .early            = {18000, 21600},  /* 05:00 to 06:00 */
    .night            = {3600, 14400},   /* 01:00 to 04:00 */
    .stock_before     = {300, 1800},
    .slow_walk_tenths = 25,              /* frail 1.0 ft/s against 2.5 ft/s of a stroll: dossier 6.1 */
    .slow_code_s      = 10,              /* 6.2: unpractised 6 to 10 s */
};
/* clang-format on */

/* name: a pattern of words (site/words.h), written so under `without` in either word set; also: a longer way to write
 * it. sets: somebody sets to leave. */
static const struct usual_row {
    const char *name;
    const char *also;
    bool per_way;
    bool sets;
    usual_maker *make;
} usual_rows[] = {
        {"leaves and returns", "leaves and returns by each door in use", true, true, usual_leaves},
        {"forgotten keys", NULL, true, true, usual_keys},
        {"shopping and a mistype", NULL, true, false, usual_shopping},
        {"teenager after midnight", NULL, false, false, usual_teenager},
        {"toilet at three", NULL, false, false, usual_toilet},
        {"dog out at six", NULL, false, false, usual_dog},
        {"window left open", NULL, false, true, usual_window},
        {"parcel while the exit time runs", NULL, true, true, usual_parcel},
        {"lodger in while the family is out", NULL, false, true, usual_lodger},
        {"child alone", NULL, false, false, usual_child},
        {"grandparent with a stick", NULL, true, true, usual_stick},
        {"cleaner", "cleaner, also in the wrong area", false, true, usual_cleaner},
        {"delivery before opening", NULL, false, true, usual_delivery},
        {"stocktaking when {auto-set-short} comes", NULL, false, true, usual_stocktaking},
        {"guest without a code", NULL, false, false, usual_guest},
        {"fob pressed in a pocket", NULL, false, false, usual_fob},
        {"duress at opening", NULL, false, false, usual_duress},
        {"{mains-short} outage at night", NULL, false, false, usual_mains},
};

enum { USUAL_ROW_COUNT = sizeof usual_rows / sizeof usual_rows[0] };

/* The steps of a routine have no act for a button, a lock or the station. */
static bool sets_elsewhere(const struct site *site) {
    const enum site_completion by = site->settings.completion;
    return by != SITE_COMPLETE_TIME && by != SITE_COMPLETE_FINAL_DOOR;
}

static size_t ways_in_use(const struct site *site) {
    size_t count = 0;
    for (size_t i = 0; i < site->way_count; i++) {
        count += usual_way_in_use(site, (int)i);
    }
    return count;
}

static struct text name_in(
        const struct usual_draft *draft, const struct usual_row *row, enum site_words words) {
    struct site site = *draft->site;
    site.words = words;
    return words_print(draft->arena, &site, row->name, NULL);
}

static bool names_row(const struct usual_draft *draft, const struct text names[SITE_WORDS_COUNT],
        struct text written, const struct usual_row *row) {
    bool is = text_equal(written, draft->routine.name) ||
            (row->also != NULL && text_is(written, row->also));
    for (int words = 0; words < SITE_WORDS_COUNT; words++) {
        is = is || text_equal(written, names[words]);
    }
    return is;
}

/* The entry of `without` that takes the routine out; NULL: none. */
static const struct site_removal *removal_of(const struct usual_draft *draft,
        const struct text names[SITE_WORDS_COUNT], const struct usual_row *row) {
    const struct site *site = draft->site;
    for (size_t i = 0; i < site->removal_count; i++) {
        if (names_row(draft, names, site->removals[i].routine, row)) {
            return &site->removals[i];
        }
    }
    return NULL;
}

/* When somebody who has hours comes, a routine with hours of its own does not know. */
static void leave_hours_alone(struct usual_draft *draft) {
    bool has_clock = false;
    int who = SITE_NONE;
    for (size_t i = 0; i < draft->count; i++) {
        const struct site_step *step = &draft->steps[i];
        const bool keys = step->act == SITE_ACT_UNSET || step->act == SITE_ACT_SET ||
                step->act == SITE_ACT_POSTPONE || step->act == SITE_ACT_BYPASS;
        has_clock = has_clock || step->has_at;
        if (keys && draft->site->people[step->who].has_hours) {
            who = step->who;
        }
    }
    if (has_clock && who != SITE_NONE) {
        usual_needs(draft, "%.*s has hours", TEXT_ARGS(usual_who(draft, who, false)));
    }
}

static void write_draft(struct usual_draft *draft, const struct usual_row *row, int way) {
    if (row->per_way && way == SITE_NONE) {
        usual_needs(draft, "no way in from outside with a keypad");
    } else if (row->sets && sets_elsewhere(draft->site)) {
        usual_needs(draft, "setting is completed by something that no step of a routine can do");
    } else {
        row->make(draft, way);
    }
    if (draft->needs.length == 0) {
        leave_hours_alone(draft);
    }
    if (draft->needs.length == 0 && draft->overflowed) {
        usual_needs(draft, "its ways have more legs than one routine can hold");
    }
    draft->count = draft->needs.length > 0 ? 0 : draft->count;
}

static outcome make_one(struct usual_draft *draft, const struct usual_row *row, int way,
        bool several, struct proof_usual *ret_usual, struct problem *ret_problem) {
    void *memory = NULL;
    const struct site *site = draft->site;
    struct text names[SITE_WORDS_COUNT];
    bool has_names = true;
    for (int words = 0; words < SITE_WORDS_COUNT; words++) {
        names[words] = name_in(draft, row, (enum site_words)words);
        has_names = has_names && names[words].length > 0;
    }
    const struct text name = names[site->words];
    memset(&draft->routine, 0, sizeof draft->routine);
    draft->count = 0;
    draft->overflowed = false;
    draft->needs = (struct text){0};
    draft->routine.usual = true;
    draft->routine.says = text_of("");
    draft->routine.name = several && row->per_way
            ? text_print(draft->arena, "%.*s by %.*s", TEXT_ARGS(name),
                      TEXT_ARGS(site->ways[way].name))
            : name;
    write_draft(draft, row, way);
    if (draft->refused_memory || !has_names || draft->routine.name.start == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the usual routines");
    }
    TRY(arena_get(draft->arena, draft->count, sizeof(struct site_step), &memory, ret_problem));
    memcpy(memory, draft->steps, draft->count * sizeof(struct site_step));
    draft->routine.steps = memory;
    draft->routine.step_count = draft->count;
    const struct site_removal *removal = removal_of(draft, names, row);
    *ret_usual = (struct proof_usual){.routine = draft->routine, .needs = draft->needs};
    if (removal != NULL) {
        ret_usual->removed =
                removal->reason.length > 0 ? removal->reason : text_of("removed, no reason given");
        ret_usual->removed_as = removal->routine;
    }
    return outcome_good();
}

static outcome make_row(struct usual_draft *draft, const struct usual_row *row, size_t in_use,
        struct proof_usual *usual, size_t *count, struct problem *ret_problem) {
    const struct site *site = draft->site;
    if (!row->per_way || in_use == 0) {
        TRY(make_one(draft, row, SITE_NONE, false, &usual[*count], ret_problem));
        (*count)++;
        return outcome_good();
    }
    for (size_t way = 0; way < site->way_count; way++) {
        if (usual_way_in_use(site, (int)way)) {
            TRY(make_one(draft, row, (int)way, in_use > 1, &usual[*count], ret_problem));
            (*count)++;
        }
    }
    return outcome_good();
}

outcome proof_usual_routines(const struct site *site, struct arena *arena,
        struct proof_usual **ret_usual, size_t *ret_count, struct problem *ret_problem) {
    void *memory = NULL;
    const size_t in_use = ways_in_use(site);
    const size_t most = USUAL_ROW_COUNT * (in_use > 1 ? in_use : 1);
    TRY(arena_get(arena, 1, sizeof(struct usual_draft), &memory, ret_problem));
    struct usual_draft *draft = memory;
    draft->site = site;
    draft->arena = arena;
    TRY(arena_get(arena, most, sizeof(struct proof_usual), &memory, ret_problem));
    struct proof_usual *usual = memory;
    size_t count = 0;
    for (size_t i = 0; i < USUAL_ROW_COUNT; i++) {
        TRY(make_row(draft, &usual_rows[i], in_use, usual, &count, ret_problem));
    }
    *ret_usual = usual;
    *ret_count = count;
    return outcome_good();
}
