/* Likeliest first. No probabilities: nobody has counted. Explanations are sorted by, in this order (docs/why.md): one
 * accident or none before two at once, fewest accidents (a routine that is not in the file and another hour than the
 * file's count as one each), somebody who is named before nobody, how well the hour fits, whether it always happens
 * so, at how many instants it can happen; then as they stand in the table of kinds and in the file. */
#include "base/quantity.h"
#include "check/findings.h"
#include "check/words.h"
#include "why/inside.h"

#include <string.h>

struct ranking {
    const struct why_plan *plan;
    const struct why_answer *answers;
    struct arena *arena;
    size_t *order; /* hypotheses that were found, likeliest first */
    size_t count;
};

static int compare_size(int64_t a, int64_t b) {
    return (a > b) - (a < b);
}

/* Below 0: a is likelier. */
static int compare(const struct ranking *ranking, size_t a, size_t b) {
    const struct why_answer *x = &ranking->answers[a];
    const struct why_answer *y = &ranking->answers[b];
    const struct why_hypothesis *p = &ranking->plan->list[a];
    const struct why_hypothesis *q = &ranking->plan->list[b];
    const bool named = ranking->plan->question.person != SITE_NONE;
    const int by[] = {
            compare_size(p->other != WHY_ALONE, q->other != WHY_ALONE),
            compare_size(x->accidents, y->accidents),
            compare_size(named && p->routine == WHY_AT_REST, named && q->routine == WHY_AT_REST),
            compare_size(x->hour, y->hour),
            compare_size(x->hours_off_s, y->hours_off_s),
            compare_size(y->sought->always, x->sought->always),
            compare_size(y->width_s, x->width_s),
            compare_size(p->kind, q->kind),
    };
    for (size_t i = 0; i < sizeof by / sizeof by[0]; i++) {
        if (by[i] != 0) {
            return by[i];
        }
    }
    return a < b ? -1 : a > b;
}

static void sort(struct ranking *ranking) {
    for (size_t gap = ranking->count / 2; gap > 0; gap /= 2) {
        for (size_t i = gap; i < ranking->count; i++) {
            const size_t moved = ranking->order[i];
            size_t at = i;
            while (at >= gap && compare(ranking, moved, ranking->order[at - gap]) < 0) {
                ranking->order[at] = ranking->order[at - gap];
                at -= gap;
            }
            ranking->order[at] = moved;
        }
    }
}

/* ---- accidents that explain nothing ----------------------------------------------------------------------------- */

/* Whether the pair was made of this one and another. */
static bool is_first_of(const struct why_hypothesis *pair, const struct why_hypothesis *one) {
    return one->kind == pair->kind && one->routine == pair->routine && one->step == pair->step &&
            one->zone == pair->zone && one->door == pair->door && one->person == pair->person;
}

/* An accident is no explanation where it comes so without it: the routine as it is, the zone as it is keyed; of two,
 * one of them. */
static bool is_superfluous(const struct ranking *ranking, size_t which) {
    const struct why_hypothesis *it = &ranking->plan->list[which];
    if (it->kind == WHY_ROUTINE || it->kind == WHY_KEYED || it->kind == WHY_NOT_SET) {
        return false;
    }
    for (size_t i = 0; i < ranking->plan->third; i++) {
        const struct why_hypothesis *other = &ranking->plan->list[i];
        const bool half = it->other != WHY_ALONE && (i == it->other || is_first_of(it, other));
        const bool plain = half ||
                (other->kind == WHY_KEYED
                                ? it->kind > WHY_KEYED
                                : other->kind == WHY_ROUTINE && it->routine == other->routine);
        if (plain && ranking->answers[i].found &&
                ranking->answers[i].hour <= ranking->answers[which].hour) {
            return true;
        }
    }
    return false;
}

/* ---- one explanation for several hypotheses --------------------------------------------------------------------- */

static bool is_same_thing(const struct ranking *ranking, size_t a, size_t b) {
    const struct why_hypothesis *x = &ranking->plan->list[a];
    const struct why_hypothesis *y = &ranking->plan->list[b];
    if (x->kind != y->kind || (x->other == WHY_ALONE) != (y->other == WHY_ALONE) ||
            (x->other != WHY_ALONE &&
                    ranking->plan->list[x->other].kind != ranking->plan->list[y->other].kind)) {
        return false;
    }
    if (x->kind == WHY_ROUTINE) {
        const struct proof_answer *p = &ranking->answers[a].sought->answer;
        const struct proof_answer *q = &ranking->answers[b].sought->answer;
        return p->culprit == q->culprit && p->culprit_zone == q->culprit_zone &&
                ranking->answers[a].hour == ranking->answers[b].hour;
    }
    if (why_kind_row(x->kind)->of_zone && ranking->plan->question.zone == SITE_NONE) {
        return true;
    }
    return x->zone == y->zone && x->door == y->door &&
            (x->kind != WHY_FOB || x->person == y->person);
}

static struct text routine_name(const struct ranking *ranking, size_t which) {
    const size_t routine = ranking->plan->list[which].routine;
    return routine == WHY_AT_REST ? text_of("") : ranking->plan->routines[routine].source->name;
}

static bool is_named(const struct why_explanation *explanation, struct text name) {
    for (size_t i = 0; i < explanation->routine_count; i++) {
        if (text_equal(explanation->routines[i], name)) {
            return true;
        }
    }
    return false;
}

/* The head is the likeliest; of the others only names are told. */
static outcome gather(struct ranking *ranking, size_t at, bool *taken,
        struct why_explanation *explanation, struct problem *ret_problem) {
    void *names = NULL;
    TRY(arena_get(ranking->arena, ranking->count - at, sizeof(struct text), &names, ret_problem));
    struct text *routines = names;
    *explanation = (struct why_explanation){.head = ranking->order[at], .routines = routines};
    for (size_t i = at; i < ranking->count; i++) {
        const size_t which = ranking->order[i];
        if (taken[i] || !is_same_thing(ranking, explanation->head, which)) {
            continue;
        }
        taken[i] = true;
        const int zone = ranking->plan->list[which].zone;
        if (zone != SITE_NONE && !panel_zones_has(&explanation->zones, (unsigned)zone)) {
            panel_zones_add(&explanation->zones, (unsigned)zone);
            explanation->zone_count++;
        }
        const struct text name = routine_name(ranking, which);
        if (i > at && name.length > 0 && !is_named(explanation, name) &&
                !text_equal(name, routine_name(ranking, explanation->head))) {
            routines[explanation->routine_count++] = name;
        }
    }
    return outcome_good();
}

/* ---- its words -------------------------------------------------------------------------------------------------- */

/* found: the hypothesis whose answer it is, the same or the pair. */
static struct words_about about_of(const struct ranking *ranking, size_t which, size_t found) {
    const struct why_hypothesis *hypothesis = &ranking->plan->list[which];
    const struct proof_answer *answer = &ranking->answers[found].sought->answer;
    const struct story_cause cause = story_cause_of(&ranking->plan->site, answer);
    struct words_about about = words_about_nothing();
    about.zone = hypothesis->zone;
    about.door = hypothesis->door;
    about.person = hypothesis->person != SITE_NONE ? hypothesis->person : cause.person;
    return about;
}

static bool is_told_for_all(
        const struct ranking *ranking, const struct why_explanation *explanation) {
    return explanation->zone_count > 1 &&
            why_kind_row(ranking->plan->list[explanation->head].kind)->of_zone;
}

/* "1, 3 to 6, 9": runs of three and more are told by their ends. */
static void add_zones(struct text_builder *out, const struct site *site,
        const struct why_explanation *explanation) {
    enum { RUN_LEAST = 3 };
    size_t told = 0;
    text_add_string(out, "one of zones ");
    for (unsigned zone = 0; zone < site->zone_count; zone++) {
        if (!panel_zones_has(&explanation->zones, zone)) {
            continue;
        }
        unsigned last = zone;
        while (last + 1 < site->zone_count && panel_zones_has(&explanation->zones, last + 1) &&
                site->zones[last + 1].number == site->zones[last].number + 1) {
            last++;
        }
        text_add_format(out, "%s%d", told > 0 ? ", " : "", site->zones[zone].number);
        told++;
        if (last - zone + 1 >= RUN_LEAST) {
            text_add_format(out, " to %d", site->zones[last].number);
            zone = last;
        }
    }
}

/* "zone 6 trips by itself"; of several zones: "one of zones 1, 3 to 6; for example: zone 1 ...". */
static struct text headline_of(const struct ranking *ranking,
        const struct why_explanation *explanation, const struct words_about *about) {
    const struct why_plan *plan = ranking->plan;
    const struct why_hypothesis *hypothesis = &plan->list[explanation->head];
    struct text_builder out;
    text_builder_init(&out, ranking->arena);
    if (hypothesis->kind == WHY_ROUTINE) {
        text_add_format(
                &out, "\"%.*s\" as it is", TEXT_ARGS(routine_name(ranking, explanation->head)));
        return text_built(&out);
    }
    if (is_told_for_all(ranking, explanation)) {
        add_zones(&out, &plan->site, explanation);
        text_add_string(&out, "; for example: ");
    }
    words_add(&out, &plan->site, why_kind_row(hypothesis->kind)->headline, about);
    if (hypothesis->other != WHY_ALONE) {
        const struct words_about second = about_of(ranking, hypothesis->other, explanation->head);
        text_add_string(&out, ", and ");
        words_add(&out, &plan->site, why_kind_row(plan->list[hypothesis->other].kind)->headline,
                &second);
    }
    if (hypothesis->routine != WHY_AT_REST) {
        text_add_format(&out, ", in \"%.*s\"", TEXT_ARGS(routine_name(ranking, explanation->head)));
    }
    return text_built(&out);
}

static struct text reason_of(
        const struct ranking *ranking, const struct proof_answer *answer, struct text *ret_place) {
    const struct why_plan *plan = ranking->plan;
    const struct story_cause cause = story_cause_of(&plan->site, answer);
    struct words_about about = words_about_nothing();
    about.zone = cause.zone;
    about.area = cause.area;
    about.mode = cause.mode;
    about.behaviour = cause.behaviour;
    about.seconds_s = cause.seconds_s;
    about.person = cause.person;
    about.door = cause.door;
    const struct check_routine routine = {.source = answer->routine.source, .usual = true};
    const bool tells = answer->culprit != PANEL_WHY_NONE && answer->culprit != PANEL_WHY_CODE &&
            (answer->culprit != PANEL_WHY_FAULT || plan->question.what == WHY_REFUSED);
    if (plan->question.what == WHY_NO_SIGNAL && cause.zone != SITE_NONE &&
            !plan->site.zones[cause.zone].reports) {
        *ret_place = text_print(ranking->arena, "zones[%d].reports", cause.zone);
        return words_print(
                ranking->arena, &plan->site, "{zone} does not report to the station", &about);
    }
    if (plan->question.what == WHY_CHIME && cause.zone != SITE_NONE) {
        *ret_place = text_print(ranking->arena, "zones[%d].chime", cause.zone);
        return words_print(ranking->arena, &plan->site,
                "{zone} chimes when it opens while its area is {is-unset}", &about);
    }
    if (!tells) {
        return text_of("");
    }
    *ret_place = findings_place(&plan->site, &routine, answer, &cause, ranking->arena);
    return words_print(ranking->arena, &plan->site, words_reason(answer->culprit), &about);
}

/* Why a zone brought no siren, from its keying: the panel's answer to the trip is in the story. */
static struct text silence_of(const struct ranking *ranking,
        const struct why_hypothesis *hypothesis, const struct proof_answer *answer,
        struct text *ret_place) {
    const struct site *site = &ranking->plan->site;
    const struct site_zone *zone = &site->zones[hypothesis->zone];
    const struct site_start *start = &answer->routine.source->starts[zone->area];
    struct words_about about = words_about_nothing();
    about.zone = hypothesis->zone;
    about.mode = start->set ? start->mode : SITE_NONE;
    about.behaviour = start->set ? zone->in[start->mode] : zone->behaviour;
    *ret_place = text_print(ranking->arena, "zones[%d].%s", hypothesis->zone,
            start->set && zone->in[start->mode] != zone->behaviour ? "in" : "behaviour");
    return words_print(ranking->arena, site,
            start->set ? "{zone} has behaviour {behaviour} in mode {mode}: {effect}"
                       : "{zone} has behaviour {behaviour}, and its area is {is-unset}",
            &about);
}

static void add_hour(struct text_builder *out, const struct proof_sought *sought, int32_t at_s) {
    words_add_instant(out, sought->answer.routine.begins_s, at_s);
}

/* "can happen 04:30:00 to 04:45:00 by the file: 1 h 20 min off" */
static struct text when_of(const struct ranking *ranking, size_t which) {
    enum { SHOWN_MOST = 3 };
    const struct why_answer *answer = &ranking->answers[which];
    const struct proof_sought *sought = answer->sought;
    const bool at_rest = ranking->plan->list[which].routine == WHY_AT_REST;
    struct text_builder out;
    text_builder_init(&out, ranking->arena);
    if (at_rest) {
        return text_of("");
    }
    if (answer->hour == WHY_NO_HOUR) {
        text_add_string(&out, "the routine names no time of day");
        return text_built(&out);
    }
    if (!sought->has_when || sought->answer.routine.begins_s < 0) {
        return text_of("");
    }
    text_add_string(&out, "by the file ");
    for (size_t i = 0; i < sought->when.count && i < SHOWN_MOST; i++) {
        text_add_string(&out, i > 0 ? ", " : "");
        add_hour(&out, sought, sought->when.interval[i].low_s);
        text_add_string(&out, " to ");
        add_hour(&out, sought, sought->when.interval[i].high_s);
    }
    text_add_string(&out, sought->when.count > SHOWN_MOST ? " and later" : "");
    if (answer->hour == WHY_OTHER_HOUR && answer->hours_off_s > 0) {
        text_add_string(&out, ": ");
        quantity_add_seconds(&out, answer->hours_off_s);
        text_add_string(&out, " from what was observed");
    }
    return text_built(&out);
}

static struct text joined(const struct ranking *ranking, struct text one, struct text two) {
    return text_print(ranking->arena, "%.*s; %.*s", TEXT_ARGS(one), TEXT_ARGS(two));
}

/* Nobody asks a dog. */
static struct text asked(
        const struct ranking *ranking, const char *ask, const struct words_about *about) {
    static const char person[] = "{person}: ";
    const struct site *site = &ranking->plan->site;
    const bool animal = about->person != SITE_NONE && site->people[about->person].animal &&
            strncmp(ask, person, sizeof person - 1) == 0;
    return words_print(ranking->arena, site,
            animal ? text_print(ranking->arena, "whoever looks after %s", ask).start : ask, about);
}

/* What to look at, whom to ask, what to test of the second accident stands behind that of the first. */
static void add_second(const struct ranking *ranking, struct why_explanation *it, size_t second) {
    const struct site *site = &ranking->plan->site;
    const struct why_kind_row *row = why_kind_row(ranking->plan->list[second].kind);
    const struct words_about about = about_of(ranking, second, it->head);
    it->log = joined(ranking, it->log, words_print(ranking->arena, site, row->log, &about));
    it->ask = joined(ranking, it->ask, asked(ranking, row->ask, &about));
    it->test = joined(ranking, it->test, words_print(ranking->arena, site, row->test, &about));
}

static outcome explain(
        struct ranking *ranking, struct why_explanation *it, struct problem *ret_problem) {
    const struct why_plan *plan = ranking->plan;
    const struct why_hypothesis *hypothesis = &plan->list[it->head];
    const struct why_kind_row *row = why_kind_row(hypothesis->kind);
    const struct proof_answer *answer = &ranking->answers[it->head].sought->answer;
    const struct words_about about = about_of(ranking, it->head, it->head);
    const char *test = row->test;
    it->headline = headline_of(ranking, it, &about);
    if (hypothesis->kind == WHY_KEYED || hypothesis->kind == WHY_NOT_SET) {
        it->why = silence_of(ranking, hypothesis, answer, &it->place);
    } else if (hypothesis->kind < WHY_KEYED) {
        it->why = reason_of(ranking, answer, &it->place);
    }
    it->when = when_of(ranking, it->head);
    it->log = words_print(ranking->arena, &plan->site, row->log, &about);
    it->ask = asked(ranking, row->ask, &about);
    it->source = text_of(row->source);
    if (hypothesis->kind == WHY_DEVICE) {
        const struct why_sense_row *sense = why_sense_row(why_sense(&plan->site, hypothesis->zone));
        it->cause = text_of(sense->causes);
        test = sense->test;
    }
    it->test = words_print(ranking->arena, &plan->site, test, &about);
    if (hypothesis->other != WHY_ALONE) {
        add_second(ranking, it, hypothesis->other);
    }
    return story_tell(&plan->site, answer, STORY_SHORT, ranking->arena, &it->story, ret_problem);
}

/* ---- all of it -------------------------------------------------------------------------------------------------- */

static bool fits_hour(const struct why_report *report, const struct why_explanation *explanation) {
    return report->answers[explanation->head].hour != WHY_OTHER_HOUR;
}

static outcome explain_all(
        struct ranking *ranking, struct why_report *report, struct problem *ret_problem) {
    void *explanations = NULL;
    void *taken = NULL;
    TRY(arena_get(ranking->arena, ranking->count, sizeof(struct why_explanation), &explanations,
            ret_problem));
    TRY(arena_get(ranking->arena, ranking->count, sizeof(bool), &taken, ret_problem));
    report->explanations = explanations;
    for (size_t i = 0; i < ranking->count; i++) {
        if (!((bool *)taken)[i]) {
            struct why_explanation *next = &report->explanations[report->explanation_count++];
            TRY(gather(ranking, i, taken, next, ret_problem));
            TRY(explain(ranking, next, ret_problem));
            report->in_time += fits_hour(report, next);
        }
    }
    if (ranking->arena->refused) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to explain it");
    }
    return outcome_good();
}

outcome why_rank(const struct why_plan *plan, const struct why_answer *answers, struct arena *arena,
        struct why_report *ret_report, struct problem *ret_problem) {
    struct ranking ranking = {.plan = plan, .answers = answers, .arena = arena};
    void *order = NULL;
    TRY(arena_get(arena, plan->count, sizeof(size_t), &order, ret_problem));
    ranking.order = order;
    *ret_report = (struct why_report){.plan = plan, .answers = answers};
    for (size_t i = 0; i < plan->count; i++) {
        ret_report->tried += answers[i].tried;
        ret_report->pairs += answers[i].tried && i >= plan->third;
        ret_report->unsettled += !answers[i].settled;
        if (answers[i].found && !is_superfluous(&ranking, i)) {
            ranking.order[ranking.count++] = i;
        }
    }
    sort(&ranking);
    return explain_all(&ranking, ret_report, ret_problem);
}

outcome why_ask(const struct site *site, const struct why_question *question, struct pages pages,
        struct arena *arena, struct why_report *ret_report, struct problem *ret_problem) {
    const struct proof_options options = {.class_limit = WHY_CLASS_LIMIT};
    struct why_plan *plan = ARENA_NEW(arena, struct why_plan);
    if (plan == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the plan");
    }
    TRY(why_plan_make(site, question, arena, plan, ret_problem));
    struct why_answer *answers = ARENA_ARRAY(arena, struct why_answer, plan->count);
    if (answers == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the answers");
    }
    for (size_t i = 0; i < plan->count; i++) {
        TRY(why_try(plan, i, answers, &options, pages, arena, &answers[i], ret_problem));
    }
    return why_rank(plan, answers, arena, ret_report, ret_problem);
}

int why_exit_status(const struct why_report *report) {
    if (report->stopped) {
        return CHECK_EXIT_STOPPED;
    }
    return report->explanation_count > 0 ? 0 : report->unsettled > 0 ? 3 : 1;
}
