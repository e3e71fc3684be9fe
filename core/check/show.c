#include "check/show.h"

#include "base/quantity.h"
#include "check/waivers.h"
#include "check/words.h"

enum { INDENT = 7, LABEL_END = 17 };

const char *show_weight_label(enum finding_weight weight) {
    static const char *const labels[FINDING_WEIGHT_COUNT] = {
            [FINDING_FAULT] = "FAULT",
            [FINDING_RISK] = "RISK",
            [FINDING_NOTE] = "NOTE",
    };
    return labels[weight];
}

enum layout_ink show_weight_ink(enum finding_weight weight) {
    return weight == FINDING_FAULT   ? LAYOUT_BAD
            : weight == FINDING_RISK ? LAYOUT_UNSURE
                                     : LAYOUT_STRONG;
}

/* A text of its own memory, for the arena that the output grows in. */
static struct text_builder builder_beside(const struct layout *layout) {
    struct text_builder builder;
    text_builder_init(&builder, layout->out->arena);
    return builder;
}

static void show_row(struct layout *layout, const char *label, struct text text) {
    if (text.length == 0) {
        return;
    }
    layout_to(layout, INDENT);
    layout_put_string(layout, label, LAYOUT_QUIET);
    layout_to(layout, LABEL_END);
    layout_words(layout, text, LABEL_END, LAYOUT_PLAIN);
    layout_end_line(layout);
}

void show_place(
        struct layout *layout, struct text path, size_t hang, const struct show_places *places) {
    int line = 0;
    int column = 0;
    if (path.length == 0 || !places->find(places->context, path, &line, &column)) {
        return;
    }
    struct text_builder where = builder_beside(layout);
    text_add_format(&where, "%.*s:%d", TEXT_ARGS(places->short_file), line);
    const size_t columns = text_cells(text_built(&where));
    if (layout->column + 2 + columns > layout->width) {
        layout_end_line(layout);
    }
    layout_to(layout, columns + hang > layout->width ? hang : layout->width - columns);
    layout_words(layout, text_built(&where), hang, LAYOUT_QUIET);
}

/* What is wrong may be what nobody has written: then one looks for it in the file in vain. */
static void show_usual(struct layout *layout, struct text path, const struct show_places *places) {
    const struct text value = places->usual(places->context, path);
    struct text key = path;
    for (size_t i = 0; i < path.length; i++) {
        if (path.start[i] == '.') {
            key = (struct text){.start = path.start + i + 1, .length = path.length - i - 1};
        }
    }
    if (value.length > 0) {
        struct text_builder usual = builder_beside(layout);
        text_add_format(
                &usual, "%.*s is not written; %.*s is taken", TEXT_ARGS(key), TEXT_ARGS(value));
        show_row(layout, "default", text_built(&usual));
    }
}

static void show_also(const struct check_finding *finding, const struct proof_answer *answers,
        struct layout *layout) {
    struct text_builder also = builder_beside(layout);
    for (size_t i = 0; i < finding->also_count; i++) {
        text_add_format(&also, "%s\"%.*s\"", i > 0 ? ", " : "",
                TEXT_ARGS(answers[finding->also[i]].routine.name));
    }
    show_row(layout, "also", text_built(&also));
}

/* "until 2027-03-31, by the owner: the new door comes in May" */
static void show_waiver(const struct site_waiver *waiver, struct layout *layout) {
    struct text_builder out = builder_beside(layout);
    if (waiver != NULL) {
        text_add_string(&out, "until ");
        date_add(&out, waiver->until_day);
        text_add_format(&out, ", by %.*s: %.*s", TEXT_ARGS(waiver->by), TEXT_ARGS(waiver->reason));
        show_row(layout, "waived", text_built(&out));
    }
}

void show_finding(const struct check_finding *finding, const struct proof_answer *answers,
        const struct show_places *places, struct layout *layout) {
    const struct finding *base = &finding->base;
    layout_put_string(layout, show_weight_label(base->weight), show_weight_ink(base->weight));
    layout_to(layout, INDENT);
    layout_words(layout, base->headline, INDENT, LAYOUT_STRONG);
    layout_end_line(layout);
    story_lay_out(&finding->story, INDENT, layout);
    if (base->why.length > 0) {
        layout_to(layout, INDENT);
        layout_put_string(layout, "why", LAYOUT_QUIET);
        layout_to(layout, LABEL_END);
        layout_words(layout, base->why, LABEL_END, LAYOUT_PLAIN);
        show_place(layout, base->place, LABEL_END, places);
        layout_end_line(layout);
        show_usual(layout, base->place, places);
    }
    show_row(layout, "when", finding->range);
    show_also(finding, answers, layout);
    show_row(layout, "remedy", base->remedy);
    show_row(layout, "price", base->price);
    show_row(layout, "source", base->source);
    show_waiver(finding->waiver, layout);
}

/* Those that somebody answers for: what, where, who, until when; no story. */
static void show_waived(const struct check_report *report, const struct show_places *places,
        struct layout *layout) {
    if (report->waived_count == 0) {
        return;
    }
    layout_put_string(layout, "waived, not counted:", LAYOUT_STRONG);
    layout_end_line(layout);
    layout_end_line(layout);
    for (size_t i = 0; i < report->waived_count; i++) {
        struct check_finding finding = report->findings[report->finding_count + i];
        finding.story.count = 0;
        show_finding(&finding, report->answers, places, layout);
        layout_end_line(layout);
    }
}

static void show_head(const struct site *site, struct layout *layout) {
    enum { SECOND = 32 };
    struct text_builder name = builder_beside(layout);
    struct text_builder rest = builder_beside(layout);
    text_add(&name, site->name);
    text_add_string(&name, site->invented ? " (invented)" : "");
    text_add_format(&rest, "%.*s · %zu zone%s · %zu area%s", TEXT_ARGS(site->panel.name),
            site->zone_count, site->zone_count == 1 ? "" : "s", site->area_count,
            site->area_count == 1 ? "" : "s");
    for (size_t i = 0; i < site->rule_count; i++) {
        text_add_format(&rest, "%s%.*s", i == 0 ? " · " : ", ", TEXT_ARGS(site->rules[i]));
    }
    layout_words(layout, text_built(&name), 0, LAYOUT_STRONG);
    const size_t rest_columns = text_cells(text_built(&rest));
    if (layout->column + 2 + rest_columns > layout->width) {
        layout_end_line(layout);
    } else {
        const bool aligned = layout->column + 2 <= SECOND && SECOND + rest_columns <= layout->width;
        layout_to(layout, aligned ? SECOND : layout->column + 2);
    }
    layout_words(layout, text_built(&rest), 0, LAYOUT_PLAIN);
    layout_end_line(layout);
}

void show_add_count(struct text_builder *out, const char *before, size_t count, const char *one,
        const char *several) {
    if (count > 0) {
        text_add_format(out, "%s%zu %s", before, count, count == 1 ? one : several);
    }
}

static void add_margin(
        struct text_builder *out, const struct site *site, const struct proof_answer *answer) {
    words_add(out, site, words_timer(panel_timer_kind_of(answer->margin_timer)), NULL);
    text_add_string(out, ", ");
    quantity_add_seconds(out, answer->margin_s);
    text_add_string(out, " to spare");
}

static void show_summary(
        const struct site *site, const struct check_report *report, struct layout *layout) {
    struct text_builder out = builder_beside(layout);
    if (!site->building.said) {
        layout_put_string(layout, "the drawing is not computed: no drawing", LAYOUT_QUIET);
        layout_end_line(layout);
    }
    show_break_ins(site, report, layout);
    if (report->tightest != FINDING_NO_ANSWER) {
        const struct proof_answer *answer = &report->answers[report->tightest];
        text_add_format(&out, "tightest: \"%.*s\", ", TEXT_ARGS(answer->routine.name));
        add_margin(&out, site, answer);
        layout_words(layout, text_built(&out), 2, LAYOUT_PLAIN);
        layout_end_line(layout);
        out = builder_beside(layout);
    }
    text_add_format(&out, "%zu routine%s (%zu described, %zu usual): ", report->answer_count,
            report->answer_count == 1 ? "" : "s", report->written, report->usual);
    text_add_format(&out, "%zu %s well", report->well, report->well == 1 ? "goes" : "go");
    show_add_count(&out, ", ", report->wrong, "goes wrong", "go wrong");
    show_add_count(&out, ", ", report->unsettled, "not settled", "not settled");
    show_add_count(&out, " · ", report->weights[FINDING_FAULT], "fault", "faults");
    show_add_count(&out, " · ", report->weights[FINDING_RISK], "risk", "risks");
    show_add_count(&out, " · ", report->weights[FINDING_NOTE], "note", "notes");
    show_add_count(&out, " · ", report->waived_count, "waived", "waived");
    text_add_format(&out, " · exit %d", check_exit_status(report));
    const enum layout_ink ink = report->weights[FINDING_FAULT] > 0 ? LAYOUT_BAD
            : report->unsettled > 0                                ? LAYOUT_UNSURE
                                                                   : LAYOUT_GOOD;
    layout_words(layout, text_built(&out), 2, ink);
    layout_end_line(layout);
}

static bool is_measured(const struct proof_answer *answer) {
    return answer->verdict == PROOF_GOES_WELL && answer->has_margin;
}

static void show_margin(const struct site *site, const struct check_report *report, size_t which,
        struct layout *layout) {
    enum { SPARE_END = 8, TIMER = 10, NAME = 34 };
    const struct proof_answer *answer = &report->answers[which];
    struct text_builder spare = builder_beside(layout);
    struct text_builder timer = builder_beside(layout);
    struct text_builder name = builder_beside(layout);
    if (is_measured(answer)) {
        quantity_add_seconds(&spare, answer->margin_s);
        words_add(&timer, site, words_timer(panel_timer_kind_of(answer->margin_timer)), NULL);
    } else {
        text_add_char(&spare, '-');
        text_add_string(&timer,
                answer->verdict == PROOF_GOES_WELL ? "no time is tight"
                                                   : words_verdict(answer->verdict));
    }
    text_add(&name, answer->routine.name);
    text_add_string(&name, report->routines[which].usual ? " (usual)" : "");
    const size_t columns = text_cells(text_built(&spare));
    layout_to(layout, columns < SPARE_END ? SPARE_END - columns : 0);
    layout_put(layout, text_built(&spare), LAYOUT_PLAIN);
    layout_to(layout, TIMER);
    layout_put(layout, text_built(&timer), LAYOUT_PLAIN);
    layout_to(layout, layout->column + 2 > NAME ? layout->column + 2 : NAME);
    layout_words(layout, text_built(&name), NAME + 2, LAYOUT_PLAIN);
    layout_end_line(layout);
}

/* Every routine, the tightest first; those without a margin follow as they come. */
static void show_margins(
        const struct site *site, const struct check_report *report, struct layout *layout) {
    int32_t shown_s = -1;
    layout_put_string(layout, "to spare  timer                   routine", LAYOUT_QUIET);
    layout_end_line(layout);
    for (bool more = true; more;) {
        int32_t next_s = INT32_MAX;
        more = false;
        for (size_t i = 0; i < report->answer_count; i++) {
            const struct proof_answer *answer = &report->answers[i];
            if (is_measured(answer) && answer->margin_s > shown_s && answer->margin_s <= next_s) {
                next_s = answer->margin_s;
                more = true;
            }
        }
        for (size_t i = 0; more && i < report->answer_count; i++) {
            if (is_measured(&report->answers[i]) && report->answers[i].margin_s == next_s) {
                show_margin(site, report, i, layout);
            }
        }
        shown_s = next_s;
    }
    for (size_t i = 0; i < report->answer_count; i++) {
        if (!is_measured(&report->answers[i])) {
            show_margin(site, report, i, layout);
        }
    }
    layout_end_line(layout);
}

void show_report(const struct site *site, const struct check_report *report,
        const struct show_places *places, bool margins, struct layout *layout) {
    show_head(site, layout);
    layout_end_line(layout);
    for (size_t i = 0; i < report->finding_count; i++) {
        show_finding(&report->findings[i], report->answers, places, layout);
        layout_end_line(layout);
    }
    show_waived(report, places, layout);
    if (margins) {
        show_margins(site, report, layout);
    }
    show_summary(site, report, layout);
}

void show_waiver_lines(const struct check_report *report, struct text_builder *out) {
    text_add_string(out,
            "# Fill in reason, by and until; leave out what is to be mended instead.\nwaived:\n");
    for (size_t i = 0; i < report->finding_count; i++) {
        const struct text line = waivers_line(&report->findings[i], report->answers, out->arena);
        if (line.length > 0) {
            text_add_format(out, "  - %.*s\n", TEXT_ARGS(line));
        }
    }
}

/* The verdict in a sentence. Proven and refuted are words for the technician; he gets them in brackets. */
static void show_verdict(
        const struct site *site, const struct proof_answer *answer, struct layout *layout) {
    struct text_builder out = builder_beside(layout);
    text_add_string(&out, words_verdict(answer->verdict));
    if (answer->verdict == PROOF_GOES_WELL) {
        text_add_string(&out, " at every timing");
        if (site->settings.tolerance_tenths > 0) {
            text_add_format(&out, ", with the panel's clocks up to %d %% off",
                    site->settings.tolerance_tenths * 10);
        }
        text_add_format(&out, " (proven: %zu %s of timings)", answer->classes,
                answer->classes == 1 ? "class" : "classes");
        if (answer->has_margin) {
            text_add_string(&out, "; tightest: ");
            add_margin(&out, site, answer);
        }
    } else if (answer->verdict == PROOF_GOES_WRONG) {
        text_add_string(&out,
                answer->always                    ? " every time"
                        : answer->needs_tolerance ? " if the panel's clock is off"
                                                  : " at some timings");
    }
    layout_words(layout, text_built(&out), 2,
            answer->verdict == PROOF_GOES_WELL            ? LAYOUT_GOOD
                    : answer->verdict == PROOF_GOES_WRONG ? LAYOUT_BAD
                                                          : LAYOUT_UNSURE);
    layout_end_line(layout);
}

void show_told(const struct site *site, const struct show_told *told,
        const struct show_places *places, struct layout *layout) {
    const struct proof_answer *answer = told->answer;
    layout_words(layout, answer->routine.name, 2, LAYOUT_STRONG);
    layout_put_string(layout, told->routine->usual ? " (usual)" : "", LAYOUT_PLAIN);
    layout_end_line(layout);
    if (answer->routine.says.length > 0) {
        layout_words(layout, answer->routine.says, 0, LAYOUT_PLAIN);
        layout_end_line(layout);
    }
    show_verdict(site, answer, layout);
    if (told->course.length > 0) {
        layout_words(layout, told->course, 2, LAYOUT_QUIET);
        layout_end_line(layout);
    }
    layout_end_line(layout);
    story_lay_out(&told->story, 2, layout);
    if (told->finding != NULL) {
        layout_end_line(layout);
        struct check_finding without_story = *told->finding;
        without_story.story.count = 0;
        show_finding(&without_story, answer, places, layout);
    }
}
