/* Remedies are found by trying: each is applied, and everything that went well is proven again. */
#include "proof/candidates.h"

#include <string.h>

struct trial {
    const struct site *site;
    const struct panel_tables *tables;
    const struct proof_answer *answers;
    size_t answer_count;
    size_t which;
    struct proof_options options;
    int32_t spare_s; /* what the remedy is to leave */
    struct pages pages;
    struct arena scratch; /* of one try, emptied after it */
    struct proof_routine *routine;
    struct proof_answer *answer;
    const struct proof_usual *usual; /* the usual routines of the changed site */
    size_t usual_count;
};

/* A usual routine is made from the site: with another exit delay somebody comes back at another time. */
static const struct site_routine *source_of(const struct trial *trial, size_t index) {
    const struct site_routine *source = trial->answers[index].routine.source;
    for (size_t i = 0; i < trial->site->routine_count; i++) {
        if (source == &trial->site->routines[i]) {
            return source;
        }
    }
    for (size_t i = 0; i < trial->usual_count; i++) {
        if (trial->usual[i].needs.length == 0 &&
                text_equal(trial->usual[i].routine.name, source->name)) {
            return &trial->usual[i].routine;
        }
    }
    return source;
}

/* With every timer that people race against shortened by all but one of the seconds to spare. */
static struct proof_options sparing(const struct trial *trial) {
    static const enum panel_timer_kind raced[] = {
            PANEL_TIMER_ENTRY, PANEL_TIMER_EXIT, PANEL_TIMER_AUTO_WARN, PANEL_TIMER_HOLD};
    struct proof_options options = trial->options;
    for (size_t i = 0; i < sizeof raced / sizeof *raced && trial->spare_s > 0; i++) {
        options.shift_s[raced[i]] += trial->spare_s - 1;
    }
    return options;
}

static outcome proves(struct trial *trial, const struct site *changed, size_t index, bool *ret_well,
        struct problem *ret_problem) {
    const struct proof_options options = index == trial->which ? sparing(trial) : trial->options;
    TRY(proof_unfold(changed, source_of(trial, index), trial->routine, ret_problem));
    TRY(proof_run(changed, trial->tables, trial->routine, &options, trial->pages, &trial->scratch,
            trial->answer, ret_problem));
    *ret_well = trial->answer->verdict == PROOF_GOES_WELL;
    return outcome_good();
}

static outcome apply(struct trial *trial, const struct proof_edit *const *edits, size_t count,
        struct site *ret_site, struct problem *ret_problem) {
    struct site changed = *trial->site;
    for (size_t i = 0; i < count; i++) {
        TRY(proof_edit_apply(&changed, edits[i], &trial->scratch, &changed, ret_problem));
    }
    struct proof_usual *usual = NULL;
    TRY(proof_usual_routines(&changed, &trial->scratch, &usual, &trial->usual_count, ret_problem));
    trial->usual = usual;
    *ret_site = changed;
    return outcome_good();
}

/* Whether the change helps this routine and harms no other; how many go well with it. */
static outcome try_edits(struct trial *trial, const struct proof_edit *const *edits, size_t count,
        bool *ret_helps, size_t *ret_proven, struct problem *ret_problem) {
    struct site changed;
    bool well = false;
    *ret_helps = false;
    *ret_proven = 1;
    TRY(apply(trial, edits, count, &changed, ret_problem));
    TRY(proves(trial, &changed, trial->which, &well, ret_problem));
    if (!well) {
        return outcome_good();
    }
    for (size_t i = 0; i < trial->answer_count; i++) {
        if (i == trial->which || trial->answers[i].verdict == PROOF_NOT_APPLIED) {
            continue;
        }
        TRY(proves(trial, &changed, i, &well, ret_problem));
        if (!well && trial->answers[i].verdict == PROOF_GOES_WELL) {
            return outcome_good(); /* it would make another go wrong */
        }
        *ret_proven += well;
    }
    *ret_helps = true;
    return outcome_good();
}

static outcome fresh_scratch(struct trial *trial, struct problem *ret_problem) {
    void *memory = NULL;
    arena_finish(&trial->scratch);
    arena_init(&trial->scratch, trial->pages, 0);
    TRY(arena_get(&trial->scratch, 1, sizeof *trial->routine, &memory, ret_problem));
    trial->routine = memory;
    TRY(arena_get(&trial->scratch, 1, sizeof *trial->answer, &memory, ret_problem));
    trial->answer = memory;
    return outcome_good();
}

static size_t applied_count(const struct trial *trial) {
    size_t count = 0;
    for (size_t i = 0; i < trial->answer_count; i++) {
        count += trial->answers[i].verdict != PROOF_NOT_APPLIED;
    }
    return count;
}

/* The remedy with its full answer: margin and all. */
static outcome give(struct trial *trial, const struct proof_edit *const *edits, size_t count,
        size_t proven, struct arena *arena, struct proof_remedy *ret_remedy,
        struct problem *ret_problem) {
    struct site changed;
    struct proof_options full = trial->options;
    full.no_margin = false;
    TRY(apply(trial, edits, count, &changed, ret_problem));
    TRY(proof_unfold(&changed, source_of(trial, trial->which), trial->routine, ret_problem));
    TRY(proof_run(&changed, trial->tables, trial->routine, &full, trial->pages, arena,
            trial->answer, ret_problem));
    memset(ret_remedy, 0, sizeof *ret_remedy);
    for (size_t i = 0; i < count; i++) {
        ret_remedy->edits[i] = *edits[i];
    }
    ret_remedy->edit_count = count;
    ret_remedy->answer = *trial->answer;
    ret_remedy->routines_proven = proven;
    ret_remedy->routines_checked = applied_count(trial);
    return outcome_good();
}

static outcome try_and_give(struct trial *trial, const struct proof_edit *const *edits,
        size_t count, struct arena *arena, struct proof_remedy *ret_remedy, bool *ret_found,
        struct problem *ret_problem) {
    size_t proven = 0;
    TRY(fresh_scratch(trial, ret_problem));
    TRY(try_edits(trial, edits, count, ret_found, &proven, ret_problem));
    if (*ret_found) {
        TRY(give(trial, edits, count, proven, arena, ret_remedy, ret_problem));
    }
    return outcome_good();
}

/* Two changes: a behaviour and a time, of the same delay where both name one. Other pairs have not been worth their
 * search. */
static bool worth_pairing(const struct proof_edit *a, const struct proof_edit *b) {
    const bool behaviour = a->kind == PROOF_EDIT_BEHAVIOUR || a->kind == PROOF_EDIT_IN_MODE;
    if (b->kind == PROOF_EDIT_DELAY) {
        return behaviour && (a->delay == SITE_NONE || a->delay == b->delay);
    }
    return behaviour && (b->kind == PROOF_EDIT_EXIT || b->kind == PROOF_EDIT_KEYPAD);
}

/* What comes last: something to buy and fit, or a door to the outside that nobody hears any more. */
static bool is_dear(const struct trial *trial, const struct proof_edit *edit) {
    if (edit->kind == PROOF_EDIT_IN_MODE && edit->behaviour == SITE_OUT) {
        const int door = site_zone_door(trial->site, &trial->site->zones[edit->zone]);
        return door != SITE_NONE && trial->site->doors[door].outside;
    }
    return edit->kind == PROOF_EDIT_KEYPAD || edit->kind == PROOF_EDIT_CONTACT ||
            edit->kind == PROOF_EDIT_FOB;
}

static outcome search_one(struct trial *trial, const struct candidates *candidates, bool dear,
        struct arena *arena, struct proof_remedy *ret_remedy, bool *ret_found,
        struct problem *ret_problem) {
    for (size_t i = 0; i < candidates->count && !*ret_found; i++) {
        const struct proof_edit *const one[] = {&candidates->edits[i]};
        if (is_dear(trial, one[0]) == dear) {
            TRY(try_and_give(trial, one, 1, arena, ret_remedy, ret_found, ret_problem));
        }
    }
    return outcome_good();
}

static outcome search_pairs(struct trial *trial, const struct candidates *candidates, bool dear,
        struct arena *arena, struct proof_remedy *ret_remedy, bool *ret_found,
        struct problem *ret_problem) {
    for (size_t i = 0; i < candidates->count; i++) {
        for (size_t k = 0; k < candidates->count && !*ret_found; k++) {
            const struct proof_edit *const pair[] = {&candidates->edits[i], &candidates->edits[k]};
            const bool fits = (is_dear(trial, pair[0]) || is_dear(trial, pair[1])) == dear;
            if (fits && worth_pairing(pair[0], pair[1])) {
                TRY(try_and_give(trial, pair, 2, arena, ret_remedy, ret_found, ret_problem));
            }
        }
    }
    return outcome_good();
}

/* What is cheap comes before what is dear, one change before two. */
static outcome search(struct trial *trial, const struct candidates *candidates, struct arena *arena,
        struct proof_remedy *ret_remedy, bool *ret_found, struct problem *ret_problem) {
    for (int dear = 0; dear <= 1; dear++) {
        if (!*ret_found) {
            TRY(search_one(
                    trial, candidates, dear == 1, arena, ret_remedy, ret_found, ret_problem));
        }
        if (!*ret_found) {
            TRY(search_pairs(
                    trial, candidates, dear == 1, arena, ret_remedy, ret_found, ret_problem));
        }
    }
    return outcome_good();
}

outcome proof_find_remedy(const struct site *site, const struct panel_tables *tables,
        const struct proof_answer *answers, size_t answer_count, size_t which,
        const struct proof_options *options, struct pages pages, struct arena *arena,
        struct proof_remedy *ret_remedy, bool *ret_found, struct problem *ret_problem) {
    struct trial trial = {.site = site,
            .tables = tables,
            .answers = answers,
            .answer_count = answer_count,
            .which = which,
            .pages = pages};
    void *memory = NULL;
    if (options != NULL) {
        trial.options = *options;
    }
    trial.options.no_margin = true;
    trial.options.no_range = true;
    arena_init(&trial.scratch, pages, 0);
    *ret_found = false;
    TRY(arena_get(arena, 1, sizeof(struct candidates), &memory, ret_problem));
    TRY(candidates_find(site, &answers[which], arena, memory, ret_problem));
    trial.spare_s = trial.options.remedy_spare_s;
    outcome done = search(&trial, memory, arena, ret_remedy, ret_found, ret_problem);
    if (done.good && !*ret_found && trial.spare_s > 1) {
        trial.spare_s = 0;
        done = search(&trial, memory, arena, ret_remedy, ret_found, ret_problem);
    }
    arena_finish(&trial.scratch);
    return done;
}
