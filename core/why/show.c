/* An answer on paper or screen: likeliest first, each with its story and how to confirm it on site. */
#include "base/quantity.h"
#include "check/words.h"
#include "why/inside.h"

enum { INDENT = 4, LABEL_END = 12 };

static struct text_builder builder_beside(const struct layout *layout) {
    struct text_builder builder;
    text_builder_init(&builder, layout->out->arena);
    return builder;
}

static void show_row(struct layout *layout, const char *label, struct text text) {
    if (text.length > 0) {
        layout_to(layout, INDENT);
        layout_put_string(layout, label, LAYOUT_QUIET);
        layout_to(layout, LABEL_END);
        layout_words(layout, text, LABEL_END, LAYOUT_PLAIN);
        layout_end_line(layout);
    }
}

static struct text place_of(
        const struct show_places *places, struct text path, struct text_builder *out) {
    int line = 0;
    int column = 0;
    if (path.length > 0 && places->find(places->context, path, &line, &column)) {
        text_add_format(out, "%.*s:%d", TEXT_ARGS(places->short_file), line);
    }
    return text_built(out);
}

static void show_reason(
        struct layout *layout, const struct why_explanation *it, const struct show_places *places) {
    struct text_builder out = builder_beside(layout);
    struct text_builder place = builder_beside(layout);
    text_add(&out, it->why);
    if (place_of(places, it->place, &place).length > 0 && it->why.length > 0) {
        text_add_format(&out, " (%.*s)", TEXT_ARGS(text_built(&place)));
    }
    show_row(layout, "why", text_built(&out));
}

/* "1 accident", "no accident, another hour": what it takes. */
static struct text takes(const struct why_report *report, const struct why_explanation *it,
        struct text_builder *out) {
    const struct why_answer *answer = &report->answers[it->head];
    const size_t routine = report->plan->list[it->head].routine;
    const bool at_rest = routine == WHY_AT_REST;
    const bool usual = !at_rest && report->plan->routines[routine].usual;
    const bool other = answer->hour == WHY_OTHER_HOUR;
    const int accidents = answer->accidents - (int)other - (int)usual;
    if (accidents == 0) {
        text_add_string(out, "no accident");
    } else {
        text_add_format(out, "%d accident%s", accidents, accidents == 1 ? "" : "s at once");
    }
    text_add_string(out, usual ? ", a routine that the file does not describe" : "");
    text_add_string(out, other ? ", another hour" : "");
    if (!at_rest && answer->sought->has_when) {
        text_add_string(out, answer->sought->always ? ", every time" : ", at some timings");
    }
    return text_built(out);
}

static void show_others(struct layout *layout, const struct why_explanation *it) {
    enum { MOST = 6 };
    struct text_builder out = builder_beside(layout);
    for (size_t i = 0; i < it->routine_count && i < MOST; i++) {
        text_add_format(&out, "%s\"%.*s\"", i > 0 ? ", " : "", TEXT_ARGS(it->routines[i]));
    }
    if (it->routine_count > MOST) {
        text_add_format(&out, " and %zu more", it->routine_count - MOST);
    }
    show_row(layout, "also", text_built(&out));
}

static void show_one(const struct why_report *report, size_t which,
        const struct show_places *places, struct layout *layout) {
    const struct why_explanation *it = &report->explanations[which];
    struct text_builder number = builder_beside(layout);
    struct text_builder costs = builder_beside(layout);
    text_add_format(&number, "%2zu", which + 1);
    layout_put(layout, text_built(&number), LAYOUT_STRONG);
    layout_to(layout, INDENT);
    layout_words(layout, it->headline, INDENT, LAYOUT_STRONG);
    layout_end_line(layout);
    show_row(layout, "takes", takes(report, it, &costs));
    show_row(layout, "when", it->when);
    story_lay_out(&it->story, LABEL_END, layout);
    show_reason(layout, it, places);
    show_others(layout, it);
    show_row(layout, "causes", it->cause);
    show_row(layout, "log", it->log);
    show_row(layout, "ask", it->ask);
    show_row(layout, "test", it->test);
    layout_end_line(layout);
}

/* What would help when nothing explains it: first what was not said, then what the file may not know. */
static void show_nothing(const struct why_report *report, struct layout *layout) {
    const struct why_question *question = &report->plan->question;
    layout_words(layout, text_of("Nothing in the file explains it."), 0, LAYOUT_STRONG);
    layout_end_line(layout);
    layout_words(layout, text_of("Ask next:"), 0, LAYOUT_PLAIN);
    layout_end_line(layout);
    const struct {
        bool asked;
        const char *what;
    } rows[] = {
            {!question->has_clock,
                    "when it was: the panel's log has the time; is its clock right?"},
            {question->zone == SITE_NONE, "which zone the log names first"},
            {question->stand == WHY_STANDS_ANYHOW,
                    "how the areas stood: unset, or set in which mode"},
            {question->person == SITE_NONE, "who was there, and by which door they came or went"},
            {question->zone != SITE_NONE,
                    "whether the log really names this zone, and none shortly before it"},
            {question->what == WHY_NO_SIGNAL,
                    "what the station's own log has of that hour, and whether the path was checked "
                    "then"},
            {true,
                    "what the file does not know: a visitor, a builder, a code or setting changed "
                    "since"},
            {true, "whether it ever happened before, at the same hour or in the same weather"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        if (rows[i].asked) {
            layout_to(layout, 2);
            layout_words(layout, text_of(rows[i].what), INDENT, LAYOUT_PLAIN);
            layout_end_line(layout);
        }
    }
    layout_end_line(layout);
}

static void show_sum(const struct why_report *report, size_t shown, struct layout *layout) {
    struct text_builder out = builder_beside(layout);
    text_add_format(&out, "%zu explanation%s", report->explanation_count,
            report->explanation_count == 1 ? "" : "s");
    if (report->plan->question.has_clock && report->explanation_count > report->in_time) {
        text_add_format(&out, ", %zu of them only at another hour",
                report->explanation_count - report->in_time);
    }
    if (shown < report->explanation_count) {
        text_add_format(&out, " (%zu shown; --all shows the rest)", shown);
    }
    text_add_format(&out, " \xC2\xB7 %zu possibilities tried", report->tried);
    if (report->pairs > 0) {
        text_add_format(&out, ", %zu of them of two accidents at once: one alone explains nothing",
                report->pairs);
        if (report->plan->question.has_clock) {
            text_add_string(&out, " at that hour");
        }
    }
    if (report->pairs > 0 && report->plan->left_out > 0) {
        text_add_format(&out, " \xC2\xB7 %zu more pairs not tried", report->plan->left_out);
    }
    if (report->unsettled > 0) {
        text_add_format(&out, " \xC2\xB7 %zu not settled", report->unsettled);
    }
    text_add_string(&out, report->stopped ? " \xC2\xB7 stopped before the end" : "");
    layout_words(layout, text_built(&out), 2, LAYOUT_PLAIN);
    layout_end_line(layout);
}

static void show_notes(const struct why_question *question, struct layout *layout) {
    struct text notes[WHY_NOTES_MOST];
    const size_t count = why_notes(question, layout->out->arena, notes);
    for (size_t i = 0; i < count; i++) {
        layout_to(layout, 2);
        layout_words(layout, notes[i], INDENT, LAYOUT_QUIET);
        layout_end_line(layout);
    }
}

void why_show(const struct why_report *report, const struct show_places *places, size_t most,
        struct layout *layout) {
    const struct why_plan *plan = report->plan;
    const size_t shown =
            most == 0 || report->explanation_count < most ? report->explanation_count : most;
    layout_words(layout, why_understood(&plan->site, &plan->question, layout->out->arena), 2,
            LAYOUT_STRONG);
    layout_end_line(layout);
    show_notes(&plan->question, layout);
    layout_end_line(layout);
    for (size_t i = 0; i < shown; i++) {
        show_one(report, i, places, layout);
    }
    if (report->explanation_count == 0) {
        show_nothing(report, layout);
    }
    layout_words(layout,
            text_of("Likeliest first: fewest accidents, then the hour, then how often it can "
                    "happen; "
                    "no probabilities. Before any test: put the account on test with the station, "
                    "and "
                    "take it off after."),
            0, LAYOUT_QUIET);
    layout_end_line(layout);
    show_sum(report, shown, layout);
}
