#include "check/compare.h"

static outcome no_memory(struct problem *ret_problem) {
    FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to compare the two sites");
}

static bool is_match(const struct check_finding *a, const struct check_finding *b) {
    return text_equal(a->base.id, b->base.id) && text_equal(a->about, b->about);
}

static bool is_same_finding(const struct check_finding *a, const struct check_finding *b) {
    return a->base.weight == b->base.weight && text_equal(a->base.headline, b->base.headline) &&
            text_equal(a->base.why, b->base.why) && (a->waiver == NULL) == (b->waiver == NULL);
}

/* Those that count and those that are waived. */
static size_t count_of(const struct check_report *report) {
    return report->finding_count + report->waived_count;
}

/* The first of the older findings that matches and is not taken yet, or NULL. */
static const struct check_finding *take_match(
        const struct check_report *older, const struct check_finding *finding, bool *taken) {
    for (size_t i = 0; i < count_of(older); i++) {
        if (!taken[i] && is_match(&older->findings[i], finding)) {
            taken[i] = true;
            return &older->findings[i];
        }
    }
    return NULL;
}

static outcome compare_findings(const struct check_report *older, const struct check_report *newer,
        struct arena *arena, struct compare *compare, struct problem *ret_problem) {
    bool *taken = ARENA_ARRAY(arena, bool, count_of(older));
    compare->gone = ARENA_ARRAY(arena, struct compare_finding, count_of(older));
    compare->fresh = ARENA_ARRAY(arena, struct compare_finding, count_of(newer));
    compare->changed = ARENA_ARRAY(arena, struct compare_finding, count_of(newer));
    if (taken == NULL || compare->gone == NULL || compare->fresh == NULL ||
            compare->changed == NULL) {
        return no_memory(ret_problem);
    }
    for (size_t i = 0; i < count_of(newer); i++) {
        const struct check_finding *now = &newer->findings[i];
        const struct check_finding *before = take_match(older, now, taken);
        const struct compare_finding pair = {.before = before, .now = now};
        if (before == NULL) {
            compare->fresh[compare->fresh_count++] = pair;
        } else if (is_same_finding(before, now)) {
            compare->same++;
        } else {
            compare->changed[compare->changed_count++] = pair;
        }
    }
    for (size_t i = 0; i < count_of(older); i++) {
        if (!taken[i]) {
            compare->gone[compare->gone_count++] =
                    (struct compare_finding){.before = &older->findings[i]};
        }
    }
    return outcome_good();
}

/* The answer of that name, described or usual alike; NULL: there is none. */
static const struct proof_answer *find_answer(
        const struct check_report *report, struct text name, bool usual) {
    for (size_t i = 0; i < report->answer_count; i++) {
        if (report->routines[i].usual == usual &&
                text_equal(report->answers[i].routine.name, name)) {
            return &report->answers[i];
        }
    }
    return NULL;
}

static outcome compare_routines(const struct check_report *older, const struct check_report *newer,
        struct arena *arena, struct compare *compare, struct problem *ret_problem) {
    compare->routines =
            ARENA_ARRAY(arena, struct compare_routine, older->answer_count + newer->answer_count);
    if (compare->routines == NULL) {
        return no_memory(ret_problem);
    }
    for (size_t i = 0; i < newer->answer_count; i++) {
        const struct proof_answer *now = &newer->answers[i];
        const bool usual = newer->routines[i].usual;
        compare->routines[compare->routine_count++] =
                (struct compare_routine){.name = now->routine.name,
                        .usual = usual,
                        .before = find_answer(older, now->routine.name, usual),
                        .now = now};
    }
    for (size_t i = 0; i < older->answer_count; i++) {
        const struct proof_answer *before = &older->answers[i];
        const bool usual = older->routines[i].usual;
        if (find_answer(newer, before->routine.name, usual) == NULL) {
            compare->routines[compare->routine_count++] = (struct compare_routine){
                    .name = before->routine.name, .usual = usual, .before = before};
        }
    }
    return outcome_good();
}

outcome compare_reports(const struct check_report *older, const struct check_report *newer,
        struct arena *arena, struct compare *ret_compare, struct problem *ret_problem) {
    struct compare compare = {0};
    TRY(compare_findings(older, newer, arena, &compare, ret_problem));
    TRY(compare_routines(older, newer, arena, &compare, ret_problem));
    *ret_compare = compare;
    return outcome_good();
}

bool compare_is_same(const struct compare_routine *routine) {
    const struct proof_answer *before = routine->before;
    const struct proof_answer *now = routine->now;
    if (before == NULL || now == NULL || before->verdict != now->verdict) {
        return false;
    }
    if (now->verdict != PROOF_GOES_WELL) {
        return before->verdict != PROOF_GOES_WRONG || before->promise == now->promise;
    }
    return before->has_margin == now->has_margin &&
            (!now->has_margin ||
                    (before->margin_s == now->margin_s &&
                            panel_timer_kind_of(before->margin_timer) ==
                                    panel_timer_kind_of(now->margin_timer)));
}
