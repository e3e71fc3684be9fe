#include "check/waivers.h"

bool waivers_can(const struct check_finding *finding) {
    return !text_begins(finding->base.id, text_of("waiver.")) &&
            !text_begins(finding->base.id, text_of("check."));
}

static bool is_meant(const struct site_waiver *waiver, const struct check_finding *finding) {
    return waivers_can(finding) && text_equal(waiver->finding, finding->base.id) &&
            text_equal(waiver->about, finding->about);
}

static bool is_named(const struct site_waiver *waiver, struct text routine) {
    for (size_t i = 0; i < waiver->routine_count; i++) {
        if (text_equal(waiver->routines[i], routine)) {
            return true;
        }
    }
    return false;
}

/* A routine that goes wrong by this finding and that the waiver does not name; empty: there is none. */
static struct text further_routine(const struct check_report *report,
        const struct site_waiver *waiver, const struct check_finding *finding) {
    if (waiver->routine_count == 0 || finding->base.answer_index == FINDING_NO_ANSWER) {
        return (struct text){0};
    }
    const struct text head = report->answers[finding->base.answer_index].routine.name;
    if (!is_named(waiver, head)) {
        return head;
    }
    for (size_t i = 0; i < finding->also_count; i++) {
        const struct text name = report->answers[finding->also[i]].routine.name;
        if (!is_named(waiver, name)) {
            return name;
        }
    }
    return (struct text){0};
}

static const char *weight_word(enum finding_weight weight) {
    static const char *const words[FINDING_WEIGHT_COUNT] = {"a fault", "a risk", "a note"};
    return words[weight];
}

/* Why the waiver does not cover the finding that it means, or empty. */
static struct text change_of(const struct check_report *report, const struct site_waiver *waiver,
        const struct check_finding *finding, struct arena *arena) {
    if (finding->base.weight < waiver->weight) {
        return text_print(arena, "it was waived as %s and is %s now", weight_word(waiver->weight),
                weight_word(finding->base.weight));
    }
    const struct text further = further_routine(report, waiver, finding);
    if (further.length > 0) {
        return text_print(arena, "\"%.*s\" goes wrong by it too, which the waiver does not name",
                TEXT_ARGS(further));
    }
    if (waiver->says.length > 0 && !text_equal(waiver->says, finding->base.headline)) {
        return text_print(arena, "when it was waived it said: %.*s", TEXT_ARGS(waiver->says));
    }
    return (struct text){0};
}

/* "routine.false-alarm, zone 6 behaviour" */
static struct text called(const struct site_waiver *waiver, struct arena *arena) {
    return waiver->about.length == 0
            ? waiver->finding
            : text_print(arena, "%.*s, %.*s", TEXT_ARGS(waiver->finding), TEXT_ARGS(waiver->about));
}

/* What the same check has found elsewhere: the waiver may have a slip of the pen. */
static struct text why_gone(
        const struct check_report *report, const struct site_waiver *waiver, struct arena *arena) {
    struct text_builder out;
    size_t count = 0;
    text_builder_init(&out, arena);
    text_add_string(&out, "nothing that was found is called so");
    for (size_t i = 0; i < report->finding_count; i++) {
        const struct check_finding *finding = &report->findings[i];
        if (text_equal(finding->base.id, waiver->finding) && waivers_can(finding)) {
            text_add_format(&out, "%s\"%.*s\"",
                    count++ == 0 ? "; the same check has found something about " : ", ",
                    TEXT_ARGS(finding->about));
        }
    }
    return text_built(&out);
}

static struct text answered_by(const struct site_waiver *waiver, struct arena *arena) {
    return text_print(
            arena, "%.*s waived it: %.*s", TEXT_ARGS(waiver->by), TEXT_ARGS(waiver->reason));
}

static struct check_finding finding_about(const struct site_waiver *waiver, size_t index,
        const char *id, const char *pattern, struct arena *arena) {
    const struct text name = called(waiver, arena);
    struct text_builder headline;
    text_builder_init(&headline, arena);
    text_add_string(&headline, "the waiver of \"");
    text_add(&headline, name);
    text_add_string(&headline, pattern);
    return (struct check_finding){.base = {.weight = FINDING_NOTE,
                                          .id = text_of(id),
                                          .headline = text_built(&headline),
                                          .place = text_print(arena, "waived[%zu]", index),
                                          .answer_index = FINDING_NO_ANSWER},
            .about = name};
}

static struct check_finding say_ended(
        const struct site_waiver *waiver, size_t index, struct arena *arena) {
    struct check_finding finding = finding_about(
            waiver, index, "waiver.ended", "\" has ended: the finding counts again", arena);
    struct text_builder why;
    text_builder_init(&why, arena);
    text_add_string(&why, "its last day was ");
    date_add(&why, waiver->until_day);
    text_add_string(&why, "; ");
    text_add(&why, answered_by(waiver, arena));
    finding.base.why = text_built(&why);
    finding.base.remedy = text_of("mend what was waived, or give the waiver a new reason and day");
    return finding;
}

static struct check_finding say_changed(
        const struct site_waiver *waiver, size_t index, struct text change, struct arena *arena) {
    struct check_finding finding = finding_about(waiver, index, "waiver.changed",
            "\" no longer covers it: the finding counts again", arena);
    finding.base.why = change;
    finding.base.remedy = text_of("look at the finding anew; if it is still to be waived, "
                                  "lintel check --waivers prints the line");
    return finding;
}

static struct check_finding say_gone(const struct check_report *report,
        const struct site_waiver *waiver, size_t index, struct arena *arena) {
    struct check_finding finding = finding_about(
            waiver, index, "waiver.vanished", "\" waives nothing: there is no such finding", arena);
    finding.base.why = why_gone(report, waiver, arena);
    finding.base.remedy = text_of("take the waiver out of the file, or mend what it names");
    return finding;
}

static bool is_all_seen(const struct check_report *report, const struct site_waiver *waiver) {
    return report->complete && !report->stopped &&
            (report->unsettled == 0 || !text_begins(waiver->finding, text_of("routine.")));
}

void waivers_judge(const struct site *site, struct check_report *report, struct arena *arena,
        struct check_finding *ret_findings, size_t *ret_count) {
    size_t count = 0;
    for (size_t i = 0; i < site->waiver_count; i++) {
        const struct site_waiver *waiver = &site->waivers[i];
        const bool ended = report->today_day != DATE_NONE && report->today_day > waiver->until_day;
        struct text change = {0};
        bool found = false;
        bool covers = false;
        for (size_t k = 0; k < report->finding_count; k++) {
            struct check_finding *finding = &report->findings[k];
            if (!is_meant(waiver, finding)) {
                continue;
            }
            found = true;
            const struct text differs = change_of(report, waiver, finding, arena);
            change = differs.length > 0 ? differs : change;
            covers |= differs.length == 0;
            if (!ended && differs.length == 0) {
                finding->waiver = waiver;
            }
        }
        if (!found && is_all_seen(report, waiver)) {
            ret_findings[count++] = say_gone(report, waiver, i, arena);
        } else if (found && ended) {
            ret_findings[count++] = say_ended(waiver, i, arena);
        } else if (found && !covers) { /* others about the same count by themselves */
            ret_findings[count++] = say_changed(waiver, i, change, arena);
        }
    }
    *ret_count = count;
}

/* ---- the line to paste */

/* In double quotes, as YAML and JSON read it; control characters cannot be in texts of a site. */
static void add_quoted(struct text_builder *out, struct text text) {
    text_add_char(out, '"');
    for (size_t i = 0; i < text.length; i++) {
        if (text.start[i] == '"' || text.start[i] == '\\') {
            text_add_char(out, '\\');
        }
        text_add_char(out, text.start[i]);
    }
    text_add_char(out, '"');
}

static void add_routines(struct text_builder *out, const struct check_finding *finding,
        const struct proof_answer *answers) {
    text_add_string(out, ", routines: [");
    add_quoted(out, answers[finding->base.answer_index].routine.name);
    for (size_t i = 0; i < finding->also_count; i++) {
        text_add_string(out, ", ");
        add_quoted(out, answers[finding->also[i]].routine.name);
    }
    text_add_char(out, ']');
}

struct text waivers_line(const struct check_finding *finding, const struct proof_answer *answers,
        struct arena *arena) {
    static const char *const weights[FINDING_WEIGHT_COUNT] = {"fault", "risk", "note"};
    struct text_builder out;
    text_builder_init(&out, arena);
    if (!waivers_can(finding)) {
        return (struct text){0};
    }
    text_add_format(&out, "{finding: %.*s", TEXT_ARGS(finding->base.id));
    if (finding->about.length > 0) {
        text_add_string(&out, ", about: ");
        add_quoted(&out, finding->about);
    }
    text_add_format(&out, ", weight: %s", weights[finding->base.weight]);
    if (finding->base.answer_index != FINDING_NO_ANSWER) {
        add_routines(&out, finding, answers);
    } else {
        text_add_string(&out, ", says: ");
        add_quoted(&out, finding->base.headline);
    }
    text_add_string(&out, ", reason: \"\", by: \"\", until: YYYY-MM-DD}");
    return text_built(&out);
}
