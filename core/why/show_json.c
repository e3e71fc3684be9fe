#include "why/inside.h"

static const char *const hours[] =
        {[WHY_IN_TIME] = "fits", [WHY_NO_HOUR] = "not named", [WHY_OTHER_HOUR] = "another hour"};
static const char *const stands[] =
        {[WHY_STANDS_ANYHOW] = "", [WHY_STANDS_SET] = "set", [WHY_STANDS_UNSET] = "unset"};

static void add_number(struct json_writer *json, const char *name, bool has, int64_t value) {
    if (has) {
        json_add_integer(json, name, value);
    } else {
        json_add_null(json, name);
    }
}

static void add_name(struct json_writer *json, const char *name, bool has, struct text value) {
    if (has) {
        json_add_text(json, name, value);
    } else {
        json_add_null(json, name);
    }
}

static void add_zone(
        struct json_writer *json, const char *name, const struct site *site, int zone) {
    add_number(json, name, zone != SITE_NONE, zone == SITE_NONE ? 0 : site->zones[zone].number);
}

static void add_person(struct json_writer *json, const struct site *site, int person) {
    const bool has = person != SITE_NONE;
    add_name(json, "who", has, has ? site->people[person].name : text_of(""));
}

static void add_question(struct json_writer *json, const struct why_plan *plan, struct text said) {
    const struct why_question *question = &plan->question;
    const bool has_area = question->area != SITE_NONE;
    const bool has_mode = question->mode != SITE_NONE;
    json_open_object(json, "observed");
    json_add_text(json, "said", said);
    json_add_string(json, "what", why_what_name(question->what));
    add_number(json, "from_s", question->has_clock, question->clock.low_s);
    add_number(json, "to_s", question->has_clock, question->clock.high_s);
    add_zone(json, "zone", &plan->site, question->zone);
    add_name(
            json, "area", has_area, has_area ? plan->site.areas[question->area].name : text_of(""));
    json_add_string(json, "stood", stands[question->stand]);
    add_name(json, "mode", has_mode,
            has_mode ? plan->site.settings.modes[question->mode].name : text_of(""));
    add_person(json, &plan->site, question->person);
    json_open_array(json, "notes");
    struct text notes[WHY_NOTES_MOST];
    const size_t count = why_notes(question, json->out->arena, notes);
    for (size_t i = 0; i < count; i++) {
        json_add_text(json, NULL, notes[i]);
    }
    json_close_array(json);
    json_close_object(json);
}

static void add_place(
        struct json_writer *json, const struct show_places *places, struct text path) {
    int line = 0;
    int column = 0;
    if (path.length == 0) {
        json_add_null(json, "place");
        return;
    }
    const bool found = places->find(places->context, path, &line, &column);
    json_open_object(json, "place");
    json_add_text(json, "path", path);
    json_add_text(json, "file", places->file);
    add_number(json, "line", found, line);
    add_number(json, "column", found, column);
    json_close_object(json);
}

static void add_when(struct json_writer *json, const struct proof_sought *sought) {
    json_open_array(json, "can");
    for (size_t i = 0; sought->has_when && i < sought->when.count; i++) {
        json_open_object(json, NULL);
        json_add_integer(json, "from_s", sought->when.interval[i].low_s);
        json_add_integer(json, "to_s", sought->when.interval[i].high_s);
        json_close_object(json);
    }
    json_close_array(json);
}

static void add_story(struct json_writer *json, const struct story *story) {
    json_open_array(json, "story");
    for (size_t i = 0; i < story->count; i++) {
        json_open_object(json, NULL);
        json_add_integer(json, "at_s", story->lines[i].at_s);
        json_add_text(json, "clock", story->lines[i].clock);
        json_add_text(json, "what", story->lines[i].what);
        json_add_text(json, "because", story->lines[i].because);
        json_add_bool(json, "bad", story->lines[i].bad);
        json_close_object(json);
    }
    json_close_array(json);
}

static void add_names(struct json_writer *json, const struct why_report *report,
        const struct why_explanation *it) {
    const struct why_plan *plan = report->plan;
    const size_t routine = plan->list[it->head].routine;
    const bool at_rest = routine == WHY_AT_REST;
    add_name(json, "routine", !at_rest,
            at_rest ? text_of("") : plan->routines[routine].source->name);
    json_open_array(json, "also");
    for (size_t i = 0; i < it->routine_count; i++) {
        json_add_text(json, NULL, it->routines[i]);
    }
    json_close_array(json);
    json_open_array(json, "zones");
    for (unsigned zone = 0; zone < plan->site.zone_count; zone++) {
        if (panel_zones_has(&it->zones, zone)) {
            json_add_integer(json, NULL, plan->site.zones[zone].number);
        }
    }
    json_close_array(json);
}

static void add_explanation(struct json_writer *json, const struct why_report *report,
        const struct why_explanation *it, const struct show_places *places) {
    const struct why_answer *answer = &report->answers[it->head];
    const struct why_hypothesis *hypothesis = &report->plan->list[it->head];
    const int32_t begins_s = answer->sought->answer.routine.begins_s;
    json_open_object(json, NULL);
    json_add_string(json, "kind", why_kind_row(hypothesis->kind)->name);
    if (hypothesis->other == WHY_ALONE) {
        json_add_null(json, "and");
    } else {
        json_add_string(
                json, "and", why_kind_row(report->plan->list[hypothesis->other].kind)->name);
    }
    json_add_text(json, "headline", it->headline);
    json_add_integer(json, "accidents", answer->accidents);
    json_add_string(json, "hour", hours[answer->hour]);
    json_add_integer(json, "hour_off_s", answer->hours_off_s);
    json_add_bool(json, "always", answer->sought->always);
    add_number(json, "begins_s", begins_s >= 0, begins_s);
    add_when(json, answer->sought);
    add_names(json, report, it);
    add_person(json, &report->plan->site, hypothesis->person);
    json_add_text(json, "why", it->why);
    add_place(json, places, it->place);
    json_add_text(json, "causes", it->cause);
    json_add_text(json, "log", it->log);
    json_add_text(json, "ask", it->ask);
    json_add_text(json, "test", it->test);
    json_add_text(json, "source", it->source);
    add_story(json, &it->story);
    json_close_object(json);
}

void why_show_json(const struct why_report *report, const struct show_places *places,
        struct text said, struct json_writer *json) {
    json_open_object(json, NULL);
    json_add_integer(json, "format", 1);
    json_add_text(json, "file", places->file);
    add_question(json, report->plan, said);
    json_open_array(json, "explanations");
    for (size_t i = 0; i < report->explanation_count; i++) {
        add_explanation(json, report, &report->explanations[i], places);
    }
    json_close_array(json);
    json_open_object(json, "counts");
    json_add_integer(json, "tried", (int64_t)report->tried);
    json_add_integer(json, "pairs", (int64_t)report->pairs);
    json_add_integer(
            json, "pairs_left_out", report->pairs > 0 ? (int64_t)report->plan->left_out : 0);
    json_add_integer(json, "explanations", (int64_t)report->explanation_count);
    json_add_integer(json, "in_time", (int64_t)report->in_time);
    json_add_integer(json, "not_settled", (int64_t)report->unsettled);
    json_close_object(json);
    json_add_bool(json, "stopped", report->stopped);
    json_add_integer(json, "exit", why_exit_status(report));
    json_close_object(json);
}
