#include "check/check.h"

#include "check/findings.h"
#include "check/remedy_edits.h"
#include "check/words.h"

static struct text join(const struct proof_remedy *remedy, struct arena *arena, bool prices) {
    struct text_builder out;
    text_builder_init(&out, arena);
    for (size_t i = 0; i < remedy->edit_count; i++) {
        const struct text part = prices ? remedy->edits[i].price : remedy->edits[i].says;
        text_add_string(&out, out.length > 0 && part.length > 0 ? "; " : "");
        text_add(&out, part);
    }
    return text_built(&out);
}

/* "zone 6: behaviour entry, delay side (45 s); then it goes well with 4 s to spare (the entry time), and so do all
 * 25" */
static struct text remedy_text(const struct site *site, const struct proof_remedy *remedy,
        size_t well_before, struct arena *arena) {
    struct text_builder out;
    text_builder_init(&out, arena);
    text_add(&out, join(remedy, arena, false));
    text_add_string(&out, "; then it goes well");
    if (remedy->answer.has_margin) {
        text_add_format(&out, " with %d s to spare (", remedy->answer.margin_s);
        words_add(&out, site, words_timer(panel_timer_kind_of(remedy->answer.margin_timer)), NULL);
        text_add_char(&out, ')');
    }
    if (remedy->routines_checked == 1) {
        return text_built(&out); /* there is no other to speak of */
    }
    if (remedy->routines_proven == remedy->routines_checked) {
        text_add_format(&out, ", and so do all %zu", remedy->routines_checked);
    } else {
        text_add_format(&out, "; of all %zu then %zu go well instead of %zu",
                remedy->routines_checked, remedy->routines_proven, well_before);
    }
    return text_built(&out);
}

/* The step by which an animal trips the zone at fault although its detector is said to overlook it; NULL: none. */
static const struct proof_step *find_overlooked(
        const struct site *site, const struct proof_answer *answer) {
    for (size_t i = 0; i < answer->story_count; i++) {
        const struct proof_line *line = &answer->story[i];
        if (line->kind != PROOF_LINE_ACT || line->left_out) {
            continue;
        }
        const struct proof_step *step = &answer->routine.steps[line->step];
        if (step->act == SITE_ACT_PASS && step->zone == answer->culprit_zone &&
                site_overlooks(site, step->zone, step->who)) {
            return step;
        }
    }
    return NULL;
}

/* What is left where no change of the settings helps. */
static struct text no_remedy_text(
        const struct site *site, const struct proof_answer *answer, struct arena *arena) {
    const struct proof_step *step = find_overlooked(site, answer);
    if (step == NULL && findings_nobody_unsets(answer) && site->keypad_count > 0) {
        return text_print(arena,
                "none of the changes tried makes it go well, as nobody keys a code in it: put "
                "{unset: %.*s} where somebody does; else the routine itself would have to change",
                TEXT_ARGS(site->keypads[0].name));
    }
    if (step == NULL) {
        return text_of("none of the changes tried makes it go well: the routine itself would have "
                       "to change");
    }
    struct words_about about = words_about_nothing();
    about.person = step->who;
    about.zone = step->zone;
    return words_print(arena, site,
            "none of the changes tried makes it go well with {person} in the sight of {zone}. Let "
            "{person} walk, jump and climb there: where the detector stays quiet, take that step "
            "out (of a usual routine: the routine, under without:); where it does not, keep "
            "{person} out of its sight",
            &about);
}

outcome check_remedy(const struct site *site, struct check_report *report, size_t which,
        const struct check_options *options, struct pages pages, struct arena *arena,
        struct problem *ret_problem) {
    struct finding *finding = &report->findings[which].base;
    const struct proof_options *proof = &options->proof;
    if (options->no_remedy || report->stopped || finding->answer_index == FINDING_NO_ANSWER ||
            report->answers[finding->answer_index].verdict != PROOF_GOES_WRONG ||
            (proof->keep_going != NULL && !proof->keep_going(proof->keep_going_context, 0, 0))) {
        return outcome_good();
    }
    struct proof_remedy *remedy = ARENA_NEW(arena, struct proof_remedy);
    struct proof_options search = *proof;
    bool found = false;
    search.remedy_spare_s = CHECK_MARGIN_SMALL_S; /* or the remedy would be the next risk */
    if (remedy == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to look for a remedy");
    }
    TRY(proof_find_remedy(site, NULL, report->answers, report->answer_count, finding->answer_index,
            &search, pages, arena, remedy, &found, ret_problem));
    const bool asked_to_stop =
            proof->keep_going != NULL && !proof->keep_going(proof->keep_going_context, 0, 0);
    if (!found && asked_to_stop) {
        return outcome_good();
    }
    const struct text says = found
            ? remedy_text(site, remedy, report->well, arena)
            : no_remedy_text(site, &report->answers[finding->answer_index], arena);
    if (found) {
        remedy_edits(site, remedy, arena, &finding->edits, &finding->edit_count);
    }
    const struct text price = found ? join(remedy, arena, true) : text_of("");
    if (arena->refused) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to look for a remedy");
    }
    finding->remedy = says;
    finding->price = price;
    return outcome_good();
}
