#include "check/findings.h"

#include "base/quantity.h"
#include "check/about.h"
#include "check/batteries.h"
#include "check/break_in_findings.h"
#include "check/deviations.h"
#include "check/holidays.h"
#include "check/measured.h"
#include "check/temporary.h"
#include "check/waivers.h"
#include "check/words.h"
#include "rules/rules.h"

#include <assert.h>
#include <string.h>

/* What the functions below share while a report is being filled. */
struct maker {
    const struct site *site;
    struct arena *arena;
    struct check_report *report;
    size_t capacity;
};

static outcome no_memory(struct problem *ret_problem) {
    FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the findings");
}

static struct check_finding *add_finding(
        struct maker *maker, enum finding_weight weight, const char *id) {
    struct check_report *report = maker->report;
    assert(report->finding_count < maker->capacity);
    struct check_finding *finding = &report->findings[report->finding_count++];
    *finding = (struct check_finding){
            .base = {.weight = weight, .id = text_of(id), .answer_index = FINDING_NO_ANSWER}};
    report->weights[weight]++;
    return finding;
}

static const char *id_of_promise(enum proof_promise promise) {
    static const char *const ids[PROOF_PROMISE_COUNT] = {
            [PROOF_KEPT] = "routine.kept",
            [PROOF_SIREN] = "routine.false-alarm",
            [PROOF_ALARM] = "routine.silent-alarm",
            [PROOF_HOLD_UP] = "routine.hold-up",
            [PROOF_DURESS] = "routine.duress",
            [PROOF_TROUBLE] = "routine.trouble",
            [PROOF_EXIT_ERROR] = "routine.exit-error",
            [PROOF_REFUSED] = "routine.refused",
            [PROOF_TURNED_AWAY] = "routine.turned-away",
            [PROOF_DROPPED] = "routine.dropped-to-part",
            [PROOF_WARNING] = "routine.inside-warning",
    };
    return ids[promise];
}

static struct words_about about_cause(
        const struct proof_answer *answer, const struct story_cause *cause) {
    struct words_about about = words_about_nothing();
    about.zone = cause->zone;
    about.area = cause->area;
    about.person = cause->person;
    /* Whoever was too late is the one to speak of, not whoever happened to act last. */
    if (answer->has_range && answer->probed_step < answer->routine.step_count) {
        about.person = answer->routine.steps[answer->probed_step].who;
    }
    about.mode = cause->mode;
    about.door = cause->door;
    if (answer->promise == PROOF_TURNED_AWAY) {
        about.area = SITE_NONE;
        about.areas = cause->areas;
    }
    about.seconds_s = cause->seconds_s;
    about.behaviour = cause->behaviour;
    return about;
}

static struct text headline_of(struct maker *maker, const struct check_routine *routine,
        const struct proof_answer *answer, const struct words_about *about) {
    struct text_builder out;
    text_builder_init(&out, maker->arena);
    text_add_format(
            &out, "\"%.*s\"%s ", TEXT_ARGS(answer->routine.name), routine->usual ? " (usual)" : "");
    text_add_string(&out,
            answer->needs_tolerance  ? "can go wrong if the panel's clock is off: "
                    : answer->always ? "goes wrong every time: "
                                     : "can go wrong: ");
    words_add(&out, maker->site, words_promise(answer->promise), about);
    return text_built(&out);
}

static struct text why_of(struct maker *maker, const struct proof_answer *answer,
        const struct story_cause *cause, const struct words_about *about) {
    struct text_builder out;
    struct words_about door = *about;
    text_builder_init(&out, maker->arena);
    if (answer->culprit == PANEL_WHY_FOLLOWER_ALONE && cause->overtaken != SITE_NONE) {
        door.door = cause->overtaken;
        words_add(&out, maker->site, "the panel hears of {door} too late: ", &door);
    } else if (answer->culprit == PANEL_WHY_NOT_READY && cause->overtaken != SITE_NONE) {
        door.door = cause->overtaken;
        words_add(&out, maker->site,
                "{door} is closed, but the panel has not heard of it yet: ", &door);
    }
    words_add(&out, maker->site,
            answer->promise == PROOF_TURNED_AWAY && answer->culprit != PANEL_WHY_HOURS
                    ? "the code of {person} is not valid for {areas}"
                    : words_reason(answer->culprit),
            about);
    text_add_string(&out, findings_nobody_unsets(answer) ? ", and nobody keys one in it" : "");
    if (answer->culprit == PANEL_WHY_NOBODY_LEFT && cause->unwatched != SITE_NONE) {
        door.door = cause->unwatched;
        words_add(&out, maker->site,
                maker->site->area_count == 1 ? ": no entry zone is on {door}"
                                             : ": no entry zone of {areas} is on {door}",
                &door);
    }
    if (answer->needs_tolerance) {
        text_add_format(&out,
                "; with clocks true to the second it goes well, but the panel's may be off by %d "
                "%%",
                maker->site->settings.tolerance_tenths * 10);
    }
    return text_built(&out);
}

/* Where the cause of each answer that goes wrong stands in the file. */
static outcome find_places(
        struct maker *maker, struct text **ret_places, struct problem *ret_problem) {
    const struct check_report *report = maker->report;
    struct text *places = ARENA_ARRAY(maker->arena, struct text, report->answer_count);
    if (places == NULL) {
        return no_memory(ret_problem);
    }
    for (size_t i = 0; i < report->answer_count; i++) {
        if (report->answers[i].verdict == PROOF_GOES_WRONG) {
            const struct story_cause cause = story_cause_of(maker->site, &report->answers[i]);
            places[i] = findings_place(
                    maker->site, &report->routines[i], &report->answers[i], &cause, maker->arena);
        }
    }
    *ret_places = places;
    return outcome_good();
}

/* Two routines that go wrong for one cause are one finding: the same promise, zone, and line to blame. */
static bool has_same_cause(
        const struct maker *maker, const struct text *places, size_t i, size_t j) {
    const struct proof_answer *a = &maker->report->answers[i];
    const struct proof_answer *b = &maker->report->answers[j];
    return a->promise == b->promise && a->culprit_zone == b->culprit_zone &&
            (places[i].length > 0 || a->culprit == b->culprit) && text_equal(places[i], places[j]);
}

static outcome add_wrong(struct maker *maker, size_t which, struct text place, size_t *also,
        size_t also_count, struct problem *ret_problem) {
    struct check_report *report = maker->report;
    const struct proof_answer *answer = &report->answers[which];
    const struct story_cause cause = story_cause_of(maker->site, answer);
    const struct words_about about = about_cause(answer, &cause);
    struct check_finding *finding = add_finding(maker,
            answer->needs_tolerance ? FINDING_RISK : FINDING_FAULT, id_of_promise(answer->promise));
    finding->base.headline = headline_of(maker, &report->routines[which], answer, &about);
    finding->base.why = why_of(maker, answer, &cause, &about);
    finding->base.place = place;
    finding->base.answer_index = which;
    finding->range =
            answer->always ? text_of("") : findings_range(maker->site, answer, maker->arena);
    finding->also = also;
    finding->also_count = also_count;
    return story_tell(maker->site, answer, STORY_SHORT, maker->arena, &finding->story, ret_problem);
}

/* The member of a group that is told: one that does not need the tolerance, then the first. */
static size_t choose_head(const struct check_report *report, const size_t *members, size_t count) {
    for (size_t i = 0; i < count; i++) {
        if (!report->answers[members[i]].needs_tolerance) {
            return i;
        }
    }
    return 0;
}

static outcome add_all_wrong(struct maker *maker, struct problem *ret_problem) {
    const struct check_report *report = maker->report;
    struct text *places = NULL;
    bool *done = ARENA_ARRAY(maker->arena, bool, report->answer_count);
    if (done == NULL) {
        return no_memory(ret_problem);
    }
    TRY(find_places(maker, &places, ret_problem));
    for (size_t i = 0; i < report->answer_count; i++) {
        if (done[i] || report->answers[i].verdict != PROOF_GOES_WRONG) {
            continue;
        }
        size_t *members = ARENA_ARRAY(maker->arena, size_t, report->answer_count);
        size_t count = 0;
        if (members == NULL) {
            return no_memory(ret_problem);
        }
        for (size_t j = i; j < report->answer_count; j++) {
            if (report->answers[j].verdict == PROOF_GOES_WRONG && !done[j] &&
                    has_same_cause(maker, places, i, j)) {
                members[count++] = j;
                done[j] = true;
            }
        }
        const size_t head = choose_head(report, members, count);
        const size_t which = members[head];
        for (size_t j = head; j > 0; j--) {
            members[j] = members[j - 1];
        }
        TRY(add_wrong(maker, which, places[which], members + 1, count - 1, ret_problem));
    }
    return outcome_good();
}

static size_t widest_step(const struct proof_routine *routine) {
    size_t widest = 0;
    for (size_t i = 1; i < routine->step_count; i++) {
        const struct span a = routine->steps[i].in;
        const struct span b = routine->steps[widest].in;
        widest = a.high_s - a.low_s > b.high_s - b.low_s ? i : widest;
    }
    return widest;
}

/* What would narrow it most. */
static void add_widest(
        struct maker *maker, const struct proof_answer *answer, struct text_builder *out) {
    if (answer->routine.step_count > 0) {
        const struct proof_step *step = &answer->routine.steps[widest_step(&answer->routine)];
        struct words_about about = words_about_nothing();
        about.person = step->who;
        about.door = step->door;
        about.zone = step->zone;
        about.areas = step->areas;
        text_add_string(out, "the widest time is \"");
        words_add(out, maker->site, words_act(step->act, step->use), &about);
        text_add_string(out, "\": ");
        quantity_add_span(out, step->in);
    }
}

static void say_not_settled(
        struct maker *maker, const struct proof_answer *answer, struct check_finding *finding) {
    struct text_builder remedy;
    text_builder_init(&remedy, maker->arena);
    if (answer->reason == EXPLORE_ACTIVE_LIMIT) {
        finding->base.why = text_of("more people and timers run at once than can be followed");
        text_add_string(&remedy, "split the routine in two");
    } else {
        finding->base.why = text_print(maker->arena,
                answer->reason == EXPLORE_BYTE_LIMIT
                        ? "the search filled its memory with %zu classes of timings"
                        : "the search was given up after %zu classes of timings",
                answer->classes);
        text_add_string(&remedy, "narrower times, fewer people at once or fewer `maybe` steps");
    }
    text_add_string(&remedy, answer->routine.step_count > 0 ? "; " : "");
    add_widest(maker, answer, &remedy);
    finding->base.remedy = text_built(&remedy);
}

/* at: the answer at which it was stopped. */
static void say_stopped(struct maker *maker, size_t stopped, size_t at) {
    const struct check_report *report = maker->report;
    const struct proof_answer *answer = &report->answers[at];
    struct check_finding *finding = add_finding(maker, FINDING_RISK, "check.stopped");
    struct text_builder remedy;
    text_builder_init(&remedy, maker->arena);
    finding->base.headline = text_print(maker->arena,
            "stopped early: %zu of %zu routines are not settled", stopped, report->answer_count);
    text_add_string(&remedy, "run the check again and let it end");
    if (answer->routine.step_count > 0) {
        text_add_format(&remedy, "; narrower times take less: of \"%.*s\", at which it stopped, ",
                TEXT_ARGS(answer->routine.name));
        add_widest(maker, answer, &remedy);
    }
    finding->base.remedy = text_built(&remedy);
}

static void add_not_settled(struct maker *maker) {
    struct check_report *report = maker->report;
    size_t stopped = 0;
    size_t stopped_at = 0;
    for (size_t i = 0; i < report->answer_count; i++) {
        const struct proof_answer *answer = &report->answers[i];
        if (answer->verdict != PROOF_NOT_SETTLED) {
            continue;
        }
        if (answer->reason == EXPLORE_ASKED_TO_STOP) {
            stopped_at = stopped == 0 ? i : stopped_at;
            stopped++;
            continue;
        }
        struct check_finding *finding = add_finding(maker, FINDING_RISK, "routine.not-settled");
        finding->base.headline = text_print(maker->arena, "\"%.*s\"%s is not settled",
                TEXT_ARGS(answer->routine.name), report->routines[i].usual ? " (usual)" : "");
        finding->base.answer_index = i;
        if (!report->routines[i].usual) {
            finding->base.place =
                    text_print(maker->arena, "routines[%zu]", report->routines[i].index);
        }
        say_not_settled(maker, answer, finding);
    }
    if (stopped > 0) {
        say_stopped(maker, stopped, stopped_at);
    }
}

static bool is_tight(const struct proof_answer *answer) {
    return answer->verdict == PROOF_GOES_WELL && answer->has_margin &&
            answer->margin_s < CHECK_MARGIN_SMALL_S;
}

static void say_margin(struct maker *maker, size_t which, struct check_finding *finding) {
    const struct proof_answer *answer = &maker->report->answers[which];
    struct text_builder why;
    text_builder_init(&why, maker->arena);
    words_add(&why, maker->site, words_timer(panel_timer_kind_of(answer->margin_timer)), NULL);
    text_add_format(&why, " may end after %d s, and the slowest need %d s of it",
            answer->margin_deadline_s, answer->margin_deadline_s - answer->margin_s);
    finding->base.why = text_built(&why);
    finding->base.headline = text_print(maker->arena,
            "\"%.*s\"%s goes well, but with only %d s to spare", TEXT_ARGS(answer->routine.name),
            maker->report->routines[which].usual ? " (usual)" : "", answer->margin_s);
    finding->base.source = text_print(
            maker->arena, "house practice: at least %d s to spare", CHECK_MARGIN_SMALL_S);
    finding->base.answer_index = which;
}

/* Small margins: one finding for each timer that is tight, told of the tightest routine. */
static outcome add_margins(struct maker *maker, struct problem *ret_problem) {
    const struct check_report *report = maker->report;
    bool *done = ARENA_ARRAY(maker->arena, bool, report->answer_count);
    if (done == NULL) {
        return no_memory(ret_problem);
    }
    for (size_t i = 0; i < report->answer_count; i++) {
        if (done[i] || !is_tight(&report->answers[i])) {
            continue;
        }
        size_t *also = ARENA_ARRAY(maker->arena, size_t, report->answer_count);
        size_t also_count = 0;
        size_t tightest = i;
        if (also == NULL) {
            return no_memory(ret_problem);
        }
        for (size_t j = i + 1; j < report->answer_count; j++) {
            const struct proof_answer *other = &report->answers[j];
            if (is_tight(other) && other->margin_timer == report->answers[i].margin_timer) {
                const bool tighter = other->margin_s < report->answers[tightest].margin_s;
                also[also_count++] = tighter ? tightest : j;
                tightest = tighter ? j : tightest;
                done[j] = true;
            }
        }
        struct check_finding *finding = add_finding(maker, FINDING_RISK, "routine.small-margin");
        say_margin(maker, tightest, finding);
        finding->also = also;
        finding->also_count = also_count;
    }
    return outcome_good();
}

static const char *other_wait(enum site_sign when, bool always) {
    if (!always) {
        return "none, if that is how it is meant; else a time (`in`) to go by";
    }
    return when == SITE_SIGN_NONE
            ? "wait with `after` for a step that is done, or give a time (`in`)"
            : when == SITE_SIGN_CHIME
            ? "`chime: yes` at the zone of that door, or a time (`in`) instead of `when`"
            : "another `when`, or a time (`in`) instead of it";
}

/* "the apprentice waits until the chime was heard"; until another's step is done, where there is no sign. */
static void add_what_is_awaited(
        struct maker *maker, const struct proof_answer *answer, struct text_builder *out) {
    const struct proof_step *step = &answer->routine.steps[answer->waiting_step];
    struct words_about about = words_about_nothing();
    about.person = step->who;
    about.door = step->sign_door;
    about.areas = step->when_area == SITE_NONE ? 0U : 1U << (unsigned)step->when_area;
    words_add(out, maker->site, "{person} waits until ", &about);
    if (step->when != SITE_SIGN_NONE) {
        words_add(out, maker->site, words_sign(step->when, true), &about);
        return;
    }
    const struct proof_step *other = &answer->routine.steps[step->after];
    about.person = other->who;
    about.door = other->door;
    about.zone = other->zone;
    about.areas = other->areas;
    words_add(out, maker->site, words_act(other->act, other->use), &about);
}

static void say_waits(struct maker *maker, size_t which, struct check_finding *finding) {
    const struct proof_answer *answer = &maker->report->answers[which];
    const struct proof_step *step = &answer->routine.steps[answer->waiting_step];
    const bool always = answer->waits == PROOF_WAITS_ALWAYS;
    struct words_about about = words_about_nothing();
    struct text_builder text;
    text_builder_init(&text, maker->arena);
    text_add_format(&text, "\"%.*s\"%s %s: ", TEXT_ARGS(answer->routine.name),
            maker->report->routines[which].usual ? " (usual)" : "",
            always ? "stops half way every time" : "can stop half way");
    add_what_is_awaited(maker, answer, &text);
    text_add_string(&text, always ? ", and that never comes" : ", and that need not come");
    finding->base.headline = text_built(&text);
    about.person = step->who;
    about.door = step->door;
    about.zone = step->zone;
    about.keypad = step->keypad;
    about.areas = step->areas;
    text_builder_init(&text, maker->arena);
    text_add_string(&text,
            always ? "no timing gets to this step (" : "some timings end before this step (");
    words_add(&text, maker->site, words_act(step->act, step->use), &about);
    text_add_string(&text, ") and what comes after it; \"goes well\" does not speak of them");
    finding->base.why = text_built(&text);
    finding->base.remedy = text_of(other_wait(step->when, always));
}

/* "Goes well" says that no promise is broken as far as a course goes; how far each goes was not seen to the end. */
static void say_waits_not_settled(
        struct maker *maker, size_t which, struct check_finding *finding) {
    const struct proof_answer *answer = &maker->report->answers[which];
    finding->base.headline = text_print(maker->arena,
            "\"%.*s\"%s goes well; whether anybody in it waits for ever is not settled",
            TEXT_ARGS(answer->routine.name),
            maker->report->routines[which].usual ? " (usual)" : "");
    finding->base.why = answer->reason == EXPLORE_ASKED_TO_STOP
            ? text_of("the search for it was stopped")
            : text_print(maker->arena,
                      "that was looked for in %d classes of timings, and no further",
                      PROOF_WAITS_CLASSES);
    finding->base.remedy =
            text_of("fewer people at once, or a time (`in`) instead of `when` and `after`");
}

/* Where it stands in the file; a usual routine stands nowhere. */
static struct text place_of_wait(struct maker *maker, size_t which) {
    const struct check_routine *routine = &maker->report->routines[which];
    const struct proof_answer *answer = &maker->report->answers[which];
    if (routine->usual) {
        return (struct text){0};
    }
    if (answer->waits == PROOF_WAITS_NOT_SETTLED) {
        return text_print(maker->arena, "routines[%zu]", routine->index);
    }
    const struct proof_step *step = &answer->routine.steps[answer->waiting_step];
    return text_print(maker->arena, "routines[%zu].steps[%zu].%s", routine->index, step->written,
            step->when == SITE_SIGN_NONE ? "after" : "when");
}

/* A step that is waited before for ever. In every course: the routine is not what its writer meant, and "goes well"
 * says less than it seems to (a risk). In some: worth knowing; people wait in vain. */
static void add_waits(struct maker *maker) {
    const struct check_report *report = maker->report;
    for (size_t i = 0; i < report->answer_count; i++) {
        const struct proof_answer *answer = &report->answers[i];
        if (answer->verdict != PROOF_GOES_WELL || answer->waits == PROOF_WAITS_NEVER) {
            continue;
        }
        const bool settled = answer->waits != PROOF_WAITS_NOT_SETTLED;
        struct check_finding *finding = add_finding(maker,
                answer->waits == PROOF_WAITS_ALWAYS ? FINDING_RISK : FINDING_NOTE,
                settled ? "routine.waits-for-ever" : "routine.waits-not-settled");
        finding->base.answer_index = i;
        finding->base.place = place_of_wait(maker, i);
        if (settled) {
            say_waits(maker, i, finding);
        } else {
            say_waits_not_settled(maker, i, finding);
        }
    }
}

/* The settings themselves, held against the rules. */
static void add_rules(struct maker *maker, const struct finding *findings, size_t count) {
    for (size_t i = 0; i < count; i++) {
        struct check_finding *finding = add_finding(maker, findings[i].weight, "");
        finding->base = findings[i];
    }
}

/* Hours need the time of day; a routine that names none is proven as if the codes were taken at every hour. Usual
 * routines are left alone: they do not know when people with hours come. */
static void add_hours_left_out(struct maker *maker) {
    const struct check_report *report = maker->report;
    struct text_builder list;
    size_t count = 0;
    size_t first = 0;
    text_builder_init(&list, maker->arena);
    for (size_t i = 0; i < report->answer_count; i++) {
        if (!report->routines[i].usual &&
                proof_leaves_hours_out(maker->site, &report->answers[i].routine)) {
            first = count == 0 ? i : first;
            text_add_format(&list, "%s%.*s", count++ > 0 ? ", " : "",
                    TEXT_ARGS(report->answers[i].routine.name));
        }
    }
    if (count == 0) {
        return;
    }
    struct check_finding *finding = add_finding(maker, FINDING_NOTE, "routines.hours-left-out");
    finding->base.headline = text_print(maker->arena,
            "hours of people not applied in %zu routine%s", count, count == 1 ? "" : "s");
    finding->base.why = text_print(
            maker->arena, "no step is at a time of day: %.*s", TEXT_ARGS(text_built(&list)));
    finding->base.place = text_print(maker->arena, "routines[%zu]", report->routines[first].index);
    finding->base.remedy =
            text_of("write at: for the first step of somebody there, such as \"06:00..06:30\"");
}

/* The names that share the reason of absent[from]: "no fob: fob pressed in a pocket, ..." */
static void list_absent(
        const struct check_report *report, size_t from, bool *done, struct text_builder *list) {
    const struct check_absent *first = &report->absent[from];
    text_add_format(list, "%s%.*s: ", list->length > 0 ? "; " : "", TEXT_ARGS(first->reason));
    for (size_t i = from; i < report->absent_count; i++) {
        const struct check_absent *absent = &report->absent[i];
        if (absent->removed == first->removed && !absent->rests &&
                text_equal(absent->reason, first->reason)) {
            text_add_format(list, "%s%.*s", i > from ? ", " : "", TEXT_ARGS(absent->name));
            done[i] = true;
        }
    }
}

static outcome add_absent(struct maker *maker, bool removed, struct problem *ret_problem) {
    const struct check_report *report = maker->report;
    struct text_builder list;
    size_t count = 0;
    bool *done = ARENA_ARRAY(maker->arena, bool, report->absent_count);
    if (done == NULL) {
        return no_memory(ret_problem);
    }
    text_builder_init(&list, maker->arena);
    for (size_t i = 0; i < report->absent_count; i++) {
        const bool meant = report->absent[i].removed == removed && !report->absent[i].rests;
        count += meant;
        if (meant && !done[i]) {
            list_absent(report, i, done, &list);
        }
    }
    if (count > 0) {
        struct check_finding *finding = add_finding(
                maker, FINDING_NOTE, removed ? "routines.removed" : "routines.not-applied");
        finding->base.headline = text_print(maker->arena,
                removed ? "%zu usual routine%s removed in the file"
                        : "%zu usual routine%s not applied here",
                count, count == 1 ? "" : "s");
        finding->base.why = text_built(&list);
        finding->base.place = removed ? text_of("without") : text_of("");
    }
    return outcome_good();
}

/* Whether a removal names this usual routine: as it is called, without its way, or with more said behind a comma. */
static bool is_removed_by(struct text name, struct text removal) {
    static const char by[] = " by ";
    const size_t length = name.length < removal.length ? name.length : removal.length;
    if (length == 0 || memcmp(name.start, removal.start, length) != 0) {
        return false;
    }
    return name.length == removal.length ||
            (removal.length > length && removal.start[length] == ',') ||
            (name.length >= length + sizeof by - 1 &&
                    memcmp(name.start + length, by, sizeof by - 1) == 0);
}

/* A name in `without` that no usual routine has takes nothing out, and says nothing: the routine is still looked at. */
static void add_vain_removals(struct maker *maker) {
    const struct check_report *report = maker->report;
    if (report->usual == 0 && report->absent_count == 0) {
        return; /* none was asked for */
    }
    for (size_t i = 0; i < maker->site->removal_count; i++) {
        const struct text name = maker->site->removals[i].routine;
        bool found = false;
        for (size_t k = 0; k < report->absent_count && !found; k++) {
            found = report->absent[k].removed &&
                    (is_removed_by(report->absent[k].name, name) ||
                            text_equal(report->absent[k].removed_as, name));
        }
        if (!found) {
            struct check_finding *finding =
                    add_finding(maker, FINDING_RISK, "routines.removal-unknown");
            finding->base.headline = text_print(maker->arena,
                    "\"%.*s\" is no usual routine: nothing was removed", TEXT_ARGS(name));
            finding->base.why = text_of("`without` names it, and no routine here is called so");
            finding->base.place = text_print(maker->arena, "without[%zu].routine", i);
            finding->base.remedy =
                    text_of("its name letter by letter, with or without \" by\" and the way");
        }
    }
}

/* By weight, the waived ones behind; counts both. */
static void sort_by_weight(struct check_report *report, struct check_finding *sorted) {
    size_t count = 0;
    for (int waived = 0; waived < 2; waived++) {
        for (int weight = 0; weight < FINDING_WEIGHT_COUNT; weight++) {
            const size_t before = count;
            for (size_t i = 0; i < report->finding_count; i++) {
                const struct check_finding *finding = &report->findings[i];
                if ((int)finding->base.weight == weight &&
                        (finding->waiver != NULL) == (waived == 1)) {
                    sorted[count++] = *finding;
                }
            }
            if (waived == 0) {
                report->weights[weight] = count - before;
            } else {
                report->waived_count += count - before;
            }
        }
    }
    report->findings = sorted;
    report->finding_count -= report->waived_count;
}

static outcome add_temporary(struct maker *maker, struct problem *ret_problem) {
    size_t count = 0;
    struct check_finding *said =
            ARENA_ARRAY(maker->arena, struct check_finding, maker->site->temporary_count);
    if (said == NULL) {
        return no_memory(ret_problem);
    }
    temporary_say(maker->site, maker->report->today_day, maker->arena, said, &count);
    for (size_t i = 0; i < count; i++) {
        *add_finding(maker, said[i].base.weight, "") = said[i];
    }
    return outcome_good();
}

static void add_holidays(struct maker *maker) {
    struct check_finding over;
    if (holidays_are_over(maker->site, maker->report->today_day, maker->arena, &over)) {
        *add_finding(maker, over.base.weight, "") = over;
    }
}

static outcome add_batteries(struct maker *maker, struct problem *ret_problem) {
    size_t count = 0;
    struct check_finding *said =
            ARENA_ARRAY(maker->arena, struct check_finding, maker->site->device_count + 1);
    if (said == NULL) {
        return no_memory(ret_problem);
    }
    batteries_say(maker->site, maker->report->today_day, maker->arena, said, &count);
    for (size_t i = 0; i < count; i++) {
        *add_finding(maker, said[i].base.weight, "") = said[i];
    }
    return outcome_good();
}

static outcome add_measured(struct maker *maker, struct problem *ret_problem) {
    const size_t count = measured_count(maker->site);
    struct check_finding *said = ARENA_ARRAY(maker->arena, struct check_finding, count);
    if (said == NULL) {
        return no_memory(ret_problem);
    }
    measured_say(maker->site, maker->arena, said);
    for (size_t i = 0; i < count; i++) {
        *add_finding(maker, said[i].base.weight, "") = said[i];
    }
    return outcome_good();
}

static outcome add_deviations(struct maker *maker, struct problem *ret_problem) {
    const size_t count = maker->site->deviation_count;
    struct check_finding *said = ARENA_ARRAY(maker->arena, struct check_finding, count);
    if (said == NULL) {
        return no_memory(ret_problem);
    }
    deviations_say(maker->site, maker->arena, said);
    for (size_t i = 0; i < count; i++) {
        *add_finding(maker, said[i].base.weight, "") = said[i];
    }
    return outcome_good();
}

static outcome add_break_ins(struct maker *maker, struct problem *ret_problem) {
    size_t count = 0;
    struct check_finding *said =
            ARENA_ARRAY(maker->arena, struct check_finding, maker->report->break_ins.count + 1);
    if (said == NULL) {
        return no_memory(ret_problem);
    }
    break_ins_say(maker->site, &maker->report->break_ins, maker->arena, said, &count);
    for (size_t i = 0; i < count; i++) {
        *add_finding(maker, said[i].base.weight, "") = said[i];
    }
    return outcome_good();
}

/* What is said of the waivers themselves is added behind what they are about. */
static outcome judge_waivers(struct maker *maker, struct problem *ret_problem) {
    struct check_report *report = maker->report;
    size_t count = 0;
    struct check_finding *said =
            ARENA_ARRAY(maker->arena, struct check_finding, maker->site->waiver_count);
    if (said == NULL) {
        return no_memory(ret_problem);
    }
    for (size_t i = 0; i < report->finding_count; i++) {
        struct check_finding *finding = &report->findings[i];
        if (finding->about.length == 0) {
            finding->about = about_finding(maker->site, report, finding, maker->arena);
        }
    }
    waivers_judge(maker->site, report, maker->arena, said, &count);
    for (size_t i = 0; i < count; i++) {
        *add_finding(maker, said[i].base.weight, "") = said[i];
    }
    return outcome_good();
}

/* The programming is judged as it is keyed in for good: what is only left out for a while has no wrong behaviour, and
 * leaves no opening without its contact. */
static struct site as_keyed(const struct site *site, struct arena *arena) {
    struct site keyed = *site;
    if (site->keyed_zones != NULL) {
        keyed.zones = ARENA_ARRAY(arena, struct site_zone, site->zone_count);
        if (keyed.zones != NULL && site->zone_count > 0) {
            memcpy(keyed.zones, site->keyed_zones, site->zone_count * sizeof *keyed.zones);
        }
    }
    return keyed;
}

outcome findings_make(const struct site *site, struct arena *arena, struct check_report *report,
        struct problem *ret_problem) {
    enum { OTHERS_MOST = 9 };
    struct maker maker = {.site = site, .arena = arena, .report = report};
    const struct site keyed = as_keyed(site, arena);
    if (keyed.zones == NULL && site->zone_count > 0) {
        return no_memory(ret_problem);
    }
    if (report->by_rules == NULL) {
        TRY(rules_look(&keyed, arena, &report->by_rules, &report->by_rules_count, ret_problem));
    }
    maker.capacity = 2 * report->answer_count + report->by_rules_count + OTHERS_MOST +
            site->removal_count + site->waiver_count + site->temporary_count +
            measured_count(site) + site->deviation_count + site->device_count + 1 +
            2 * report->break_ins.count;
    report->findings = ARENA_ARRAY(arena, struct check_finding, maker.capacity);
    struct check_finding *sorted = ARENA_ARRAY(arena, struct check_finding, maker.capacity);
    if (report->findings == NULL || sorted == NULL) {
        return no_memory(ret_problem);
    }
    TRY(add_temporary(&maker, ret_problem)); /* first of its weight: the rest may come of it */
    TRY(add_all_wrong(&maker, ret_problem));
    add_not_settled(&maker);
    TRY(add_margins(&maker, ret_problem));
    add_waits(&maker);
    add_rules(&maker, report->by_rules, report->by_rules_count);
    TRY(add_break_ins(&maker, ret_problem));
    add_hours_left_out(&maker);
    TRY(add_absent(&maker, false, ret_problem));
    TRY(add_absent(&maker, true, ret_problem));
    add_vain_removals(&maker);
    TRY(add_deviations(&maker, ret_problem));
    TRY(add_measured(&maker, ret_problem));
    add_holidays(&maker);
    TRY(add_batteries(&maker, ret_problem));
    TRY(judge_waivers(&maker, ret_problem));
    sort_by_weight(report, sorted);
    return arena->refused ? no_memory(ret_problem) : outcome_good();
}
