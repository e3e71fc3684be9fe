#include "web/view.h"

#include "check/show.h"
#include "sheet/sheet.h"
#include "site/words.h"

#include <string.h>

static bool find_place(void *context, struct text path, int *ret_line, int *ret_column) {
    return document_place(context, path, ret_line, ret_column);
}

static struct text find_usual(void *context, struct text path) {
    return document_usual(context, path);
}

struct show_places view_places(struct document *document, struct text file) {
    return (struct show_places){.file = file,
            .short_file = file,
            .find = find_place,
            .usual = find_usual,
            .context = document};
}

void view_add_problems(
        const struct document *document, const struct problem *problem, struct json_writer *json) {
    json_open_array(json, "problems");
    if (problem != NULL && document->problem_count == 0) {
        json_open_object(json, NULL);
        json_add_null(json, "line");
        json_add_null(json, "column");
        json_add_string(json, "path", "");
        json_add_string(json, "what", problem->text);
        json_close_object(json);
    }
    for (size_t i = 0; i < document->problem_count; i++) {
        const struct document_problem *one = &document->problems[i];
        json_open_object(json, NULL);
        json_add_integer(json, "line", one->line);
        json_add_integer(json, "column", one->column);
        json_add_text(json, "path", one->path);
        json_add_text(json, "what", one->what);
        json_close_object(json);
    }
    json_close_array(json);
}

/** Numbers that no zone has and that take such a device, so that the next one can be given without asking. */
static void add_free(const struct site *site, bool radio, struct json_writer *json) {
    struct site_numbers taken = {.said = true};
    for (size_t i = 0; i < site->zone_count; i++) {
        site_numbers_add(&taken, site->zones[i].number);
    }
    json_open_array(json, radio ? "radio" : "wired");
    for (int32_t number = 0; number <= SITE_NUMBER_MAX; number++) {
        if (site_number_is_there(&site->panel, number) && !site_numbers_has(&taken, number) &&
                site_slot_takes(&site->panel, number, radio)) {
            json_add_integer(json, NULL, number);
        }
    }
    json_close_array(json);
}

/** What the panel offers, so that a cell can list it. */
static void add_offers(const struct site *site, struct json_writer *json) {
    json_open_object(json, "offers");
    json_open_array(json, "behaviours");
    for (int behaviour = 0; behaviour < SITE_BEHAVIOUR_COUNT; behaviour++) {
        if ((site->panel.behaviours >> behaviour & 1) != 0) {
            json_add_string(json, NULL, site_behaviour_name((enum site_behaviour)behaviour));
        }
    }
    json_close_array(json);
    json_open_array(json, "words");
    for (size_t i = 0; i < site->panel.word_count; i++) {
        json_add_text(json, NULL, site->panel.words[i]);
    }
    json_close_array(json);
    json_add_integer(json, "zones", site->panel.zone_most);
    json_open_object(json, "free");
    add_free(site, true, json);
    add_free(site, false, json);
    json_close_object(json);
    json_close_object(json);
}

/** What is keyed in, line by line. Without memory the arena has noted it, and nothing is sent. */
static void add_lines(const struct site *site, struct json_writer *json) {
    struct sheet sheet = {0};
    struct problem problem = {0};
    (void)sheet_make(site, json->out->arena, &sheet, &problem).good;
    sheet_add_lines_json(json, &sheet);
}

static void add_site(const struct view *view, struct json_writer *json) {
    const struct site *site = &view->good->site;
    json_open_object(json, "site");
    json_add_integer(json, "number", (int64_t)view->good_number);
    document_write_json(view->good, "file", json);
    add_offers(site, json);
    sheet_add_schedule_json(json, site);
    add_lines(site, json);
    const struct view_look whole = {.zoom = 1};
    view_add_drawing(site, &whole, json->out->arena, json);
    view_add_carried(site, json->out->arena, json);
    json_close_object(json);
}

static void add_report(const struct view *view, struct json_writer *json) {
    if (view->report == NULL) {
        json_add_null(json, "report");
        return;
    }
    const struct show_places places = view_places(view->report_document, text_of(view->path));
    json_open_object(json, "report");
    json_add_integer(json, "number", (int64_t)view->report_number);
    json_add_bool(json, "whole", view->whole);
    json_add_bool(json, "given_up", view->given_up);
    show_report_json("check", view->report_site, view->report, &places, NULL, NULL, json);
    json_close_object(json);
}

static void add_progress(const struct view_progress *progress, struct json_writer *json) {
    if (progress == NULL) {
        json_add_null(json, "progress");
        return;
    }
    json_open_object(json, "progress");
    json_add_integer(json, "done", (int64_t)progress->done);
    json_add_integer(json, "of", (int64_t)progress->of);
    json_add_integer(json, "for_s", progress->for_ms / 1000);
    json_close_object(json);
}

static void add_steps(const struct view *view, struct json_writer *json) {
    json_open_array(json, "steps");
    for (size_t i = 0; i < view->steps_count; i++) {
        const struct view_steps *steps = &view->steps[i];
        json_open_object(json, NULL);
        json_add_text(json, "page", steps->by);
        json_add_integer(json, "undo", (int64_t)steps->undo);
        json_add_integer(json, "redo", (int64_t)steps->redo);
        json_add_text(json, "undo_says", steps->undo_says);
        json_add_text(json, "redo_says", steps->redo_says);
        json_close_object(json);
    }
    json_close_array(json);
}

void view_add(const struct view *view, struct text_builder *out) {
    const char *slash = strrchr(view->path, '/');
    struct json_writer json;
    json_init(&json, out);
    json_open_object(&json, NULL);
    json_add_integer(&json, "format", 1);
    json_add_integer(&json, "number", (int64_t)view->number);
    json_add_string(&json, "file", slash == NULL ? view->path : slash + 1);
    json_add_integer(&json, "saved_s", view->saved_s);
    add_steps(view, &json);
    view_add_problems(view->document, view->problem, &json);
    add_progress(view->progress, &json);
    add_report(view, &json);
    json_close_object(&json);
}

void view_add_site(const struct view *view, struct text_builder *out) {
    struct json_writer json;
    json_init(&json, out);
    json_open_object(&json, NULL);
    if (view->good == NULL) {
        json_add_null(&json, "site");
    } else {
        add_site(view, &json);
    }
    json_close_object(&json);
}
