#include "check/show.h"

#include "check/carried.h"
#include "check/lanes.h"
#include "check/waivers.h"
#include "check/words.h"

enum { FORMAT = 1 };

void show_place_json(struct json_writer *json, struct text path, const struct show_places *places) {
    int line = 0;
    int column = 0;
    if (path.length == 0) {
        json_add_null(json, "place");
        return;
    }
    json_open_object(json, "place");
    json_add_text(json, "path", path);
    json_add_text(json, "file", places->file);
    if (places->find(places->context, path, &line, &column)) {
        json_add_integer(json, "line", line);
        json_add_integer(json, "column", column);
    } else {
        json_add_null(json, "line");
        json_add_null(json, "column");
    }
    json_add_text(json, "default", places->usual(places->context, path));
    json_close_object(json);
}

const char *show_weight_name(enum finding_weight weight) {
    static const char *const names[FINDING_WEIGHT_COUNT] = {"fault", "risk", "note"};
    return names[weight];
}

void show_story_json(struct json_writer *json, const char *name, const struct story *story) {
    struct text clock = text_of("");
    json_open_array(json, name);
    for (size_t i = 0; i < story->count; i++) {
        const struct story_line *line = &story->lines[i];
        clock = line->clock.length > 0 ? line->clock : clock;
        json_open_object(json, NULL);
        json_add_integer(json, "at_s", line->at_s);
        json_add_text(json, "clock", clock);
        json_add_text(json, "what", line->what);
        json_add_text(json, "because", line->because);
        json_add_bool(json, "bad", line->bad);
        json_close_object(json);
    }
    json_close_array(json);
}

void show_bars_json(
        struct json_writer *json, const struct site *site, const struct proof_answer *answer) {
    struct lanes lanes = {0};
    struct problem problem = {0};
    json_open_array(json, "bars");
    if (answer != NULL) {
        (void)lanes_make(site, answer, json->out->arena, &lanes, &problem).good;
    }
    for (size_t i = 0; i < lanes.count; i++) {
        const struct lane_bar *bar = &lanes.bars[i];
        json_open_object(json, NULL);
        json_add_string(json, "lane", lane_kind_name(bar->lane));
        json_add_text(json, "of", lane_name(site, bar));
        json_add_integer(json, "from_s", bar->from_s);
        if (bar->to_s == LANES_TO_THE_END) {
            json_add_null(json, "to_s");
        } else {
            json_add_integer(json, "to_s", bar->to_s);
        }
        if (bar->list == NULL) {
            json_add_null(json, "at");
        } else {
            json_add_text(json, "at", text_print(json->out->arena, "%s[%d]", bar->list, bar->at));
        }
        json_add_text(json, "says", bar->says);
        json_add_string(json, "state", bar->state);
        json_add_bool(json, "bad", bar->bad);
        json_close_object(json);
    }
    json_close_array(json);
}

static void write_ranges(
        struct json_writer *json, const char *name, const struct explore_ranges *ranges) {
    json_open_array(json, name);
    for (size_t i = 0; i < ranges->count; i++) {
        json_open_object(json, NULL);
        json_add_integer(json, "from_s", ranges->interval[i].low_s);
        json_add_integer(json, "to_s", ranges->interval[i].high_s);
        json_close_object(json);
    }
    json_close_array(json);
}

/* Who answers for it, or the line to paste for somebody who will. whole: every routine was looked at, or the line would
 * name too few. */
static void write_waiver(struct json_writer *json, const struct check_finding *finding,
        const struct proof_answer *answers, bool whole) {
    const struct site_waiver *waiver = finding->waiver;
    struct text_builder until;
    text_builder_init(&until, json->out->arena);
    if (waiver == NULL && (!whole || !waivers_can(finding))) {
        json_add_null(json, "waiver");
        return;
    }
    if (waiver == NULL) {
        json_add_text(json, "waiver", waivers_line(finding, answers, json->out->arena));
        return;
    }
    date_add(&until, waiver->until_day);
    json_open_object(json, "waiver");
    json_add_text(json, "reason", waiver->reason);
    json_add_text(json, "by", waiver->by);
    json_add_text(json, "until", text_built(&until));
    json_close_object(json);
}

static void write_finding(struct json_writer *json, const char *name, const struct site *site,
        const struct check_finding *finding, const struct proof_answer *answers, bool whole,
        const struct show_places *places) {
    const struct finding *base = &finding->base;
    json_open_object(json, name);
    json_add_string(json, "weight", show_weight_name(base->weight));
    json_add_text(json, "id", base->id);
    json_add_text(json, "about", finding->about);
    json_add_text(json, "headline", base->headline);
    json_add_text(json, "why", base->why);
    show_place_json(json, base->place, places);
    json_add_text(json, "when", finding->range);
    json_add_text(json, "remedy", base->remedy);
    json_open_array(json, "edits");
    for (size_t i = 0; i < base->edit_count; i++) {
        json_open_object(json, NULL);
        json_add_text(json, "path", base->edits[i].path);
        if (base->edits[i].value.length > 0) {
            json_add_text(json, "value", base->edits[i].value);
        } else {
            json_add_null(json, "value");
        }
        json_close_object(json);
    }
    json_close_array(json);
    json_add_text(json, "price", base->price);
    json_add_text(json, "source", base->source);
    if (base->answer_index == FINDING_NO_ANSWER) {
        json_add_null(json, "routine");
    } else {
        json_add_text(json, "routine", answers[base->answer_index].routine.name);
    }
    json_open_array(json, "also");
    for (size_t i = 0; i < finding->also_count; i++) {
        json_add_text(json, NULL, answers[finding->also[i]].routine.name);
    }
    json_close_array(json);
    write_waiver(json, finding, answers, whole);
    show_story_json(json, "story", &finding->story);
    show_bars_json(json, site,
            base->answer_index == FINDING_NO_ANSWER ? NULL : &answers[base->answer_index]);
    json_close_object(json);
}

static void write_findings(struct json_writer *json, const char *name, const struct site *site,
        const struct check_report *report, size_t from, size_t count,
        const struct show_places *places) {
    json_open_array(json, name);
    for (size_t i = from; i < from + count; i++) {
        write_finding(
                json, NULL, site, &report->findings[i], report->answers, report->complete, places);
    }
    json_close_array(json);
}

static void write_range(struct json_writer *json, const struct proof_answer *answer) {
    if (!answer->has_range) {
        json_add_null(json, "range");
        return;
    }
    json_open_object(json, "range");
    json_add_string(
            json, "timer", panel_timer_kind_name(panel_timer_kind_of(answer->probed_timer)));
    if (answer->probed_step < answer->routine.step_count) {
        const struct proof_step *step = &answer->routine.steps[answer->probed_step];
        json_add_string(json, "act", site_act_name(step->act));
        json_add_integer(json, "step", (int64_t)step->written);
    }
    write_ranges(json, "can", &answer->can);
    write_ranges(json, "always", &answer->always_when);
    json_close_object(json);
}

static void write_margin(struct json_writer *json, const struct proof_answer *answer) {
    if (!answer->has_margin) {
        json_add_null(json, "margin");
        return;
    }
    json_open_object(json, "margin");
    json_add_string(
            json, "timer", panel_timer_kind_name(panel_timer_kind_of(answer->margin_timer)));
    json_add_integer(json, "to_spare_s", answer->margin_s);
    json_add_integer(json, "earliest_end_s", answer->margin_deadline_s);
    json_close_object(json);
}

static void write_answer(struct json_writer *json, const char *name,
        const struct check_routine *routine, const struct proof_answer *answer,
        const struct show_places *places, struct arena *arena) {
    const bool wrong = answer->verdict == PROOF_GOES_WRONG;
    json_open_object(json, name);
    json_add_text(json, "name", answer->routine.name);
    json_add_text(json, "says", answer->routine.says);
    json_add_bool(json, "usual", routine->usual);
    show_place_json(json,
            routine->usual ? text_of("") : text_print(arena, "routines[%zu]", routine->index),
            places);
    json_add_string(json, "verdict", words_verdict(answer->verdict));
    if (wrong) {
        json_add_string(json, "promise", proof_promise_name(answer->promise));
    } else {
        json_add_null(json, "promise");
    }
    json_add_bool(json, "always", wrong && answer->always);
    json_add_bool(json, "needs_tolerance", wrong && answer->needs_tolerance);
    write_range(json, answer);
    write_margin(json, answer);
    json_add_integer(json, "classes", (int64_t)answer->classes);
    json_close_object(json);
}

void show_site_json(
        struct json_writer *json, const struct site *site, const struct show_places *places) {
    json_add_integer(json, "format", FORMAT);
    json_add_text(json, "file", places->file);
    json_open_object(json, "site");
    json_add_text(json, "name", site->name);
    json_add_bool(json, "invented", site->invented);
    json_add_string(json, "words", site->words == SITE_WORDS_US ? "us" : "uk");
    json_add_text(json, "panel", site->panel.name);
    json_add_integer(json, "zones", (int64_t)site->zone_count);
    json_add_integer(json, "areas", (int64_t)site->area_count);
    json_open_array(json, "rules");
    for (size_t i = 0; i < site->rule_count; i++) {
        json_add_text(json, NULL, site->rules[i]);
    }
    json_close_array(json);
    json_close_object(json);
}

static void write_today(struct json_writer *json, const struct check_report *report) {
    struct text_builder today;
    text_builder_init(&today, json->out->arena);
    if (report->today_day == DATE_NONE) {
        json_add_null(json, "today");
    } else {
        date_add(&today, report->today_day);
        json_add_text(json, "today", text_built(&today));
    }
}

static void write_counts(struct json_writer *json, const struct check_report *report) {
    json_open_object(json, "counts");
    json_add_integer(json, "routines", (int64_t)report->answer_count);
    json_add_integer(json, "described", (int64_t)report->written);
    json_add_integer(json, "usual", (int64_t)report->usual);
    json_add_integer(json, "go_well", (int64_t)report->well);
    json_add_integer(json, "go_wrong", (int64_t)report->wrong);
    json_add_integer(json, "not_settled", (int64_t)report->unsettled);
    json_add_integer(json, "faults", (int64_t)report->weights[FINDING_FAULT]);
    json_add_integer(json, "risks", (int64_t)report->weights[FINDING_RISK]);
    json_add_integer(json, "notes", (int64_t)report->weights[FINDING_NOTE]);
    json_add_integer(json, "waived", (int64_t)report->waived_count);
    json_close_object(json);
}

void show_report_json(const char *name, const struct site *site, const struct check_report *report,
        const struct show_places *places, const struct compare *compare,
        const struct show_places *older_places, struct json_writer *json) {
    json_open_object(json, name);
    show_site_json(json, site, places);
    write_today(json, report);
    write_findings(json, "findings", site, report, 0, report->finding_count, places);
    write_findings(
            json, "waived", site, report, report->finding_count, report->waived_count, places);
    json_open_array(json, "routines");
    for (size_t i = 0; i < report->answer_count; i++) {
        write_answer(
                json, NULL, &report->routines[i], &report->answers[i], places, json->out->arena);
    }
    json_close_array(json);
    json_open_array(json, "absent");
    for (size_t i = 0; i < report->absent_count; i++) {
        json_open_object(json, NULL);
        json_add_text(json, "name", report->absent[i].name);
        json_add_bool(json, "removed", report->absent[i].removed);
        json_add_bool(json, "rests", report->absent[i].rests);
        json_add_text(json, "reason", report->absent[i].reason);
        json_close_object(json);
    }
    json_close_array(json);
    json_open_array(json, "break_ins");
    for (size_t i = 0; i < report->break_ins.count; i++) {
        show_break_in_json(json, NULL, site, &report->break_ins.list[i], places);
    }
    json_close_array(json);
    json_add_bool(json, "break_ins_cut", report->break_ins.cut);
    if (report->break_ins.why_not == NULL) {
        json_add_null(json, "break_ins_not_computed");
    } else {
        json_add_string(json, "break_ins_not_computed", report->break_ins.why_not);
    }
    carried_add_json(report->carried, site, json);
    if (compare == NULL) {
        json_add_null(json, "against");
    } else {
        show_compare_json(json, compare, places, older_places);
    }
    write_counts(json, report);
    json_add_bool(json, "stopped", report->stopped);
    json_add_integer(json, "exit", check_exit_status(report));
    json_close_object(json);
}

void show_told_json(const struct site *site, const struct show_told *told,
        const struct show_places *places, struct json_writer *json) {
    json_open_object(json, NULL);
    show_site_json(json, site, places);
    write_answer(json, "routine", told->routine, told->answer, places, json->out->arena);
    json_add_text(json, "course", told->course);
    show_story_json(json, "story", &told->story);
    if (told->finding != NULL) {
        write_finding(json, "finding", site, told->finding, told->answer, false, places);
    } else {
        json_add_null(json, "finding");
    }
    json_close_object(json);
}
