#include "draft/begin.h"

#include "draft/draft.h"

static const char usual_panel[] = "halyard-28";

/* A site that says nothing but which panel it has: so the panel is read as in every site file. */
static outcome read_panel(struct document *document, struct text panel,
        const struct document_search *search, struct arena *arena, struct problem *ret_problem) {
    const struct text quoted = document_quote(arena, panel);
    const struct text site = text_print(arena,
            "{site: {name: house}, panel: {profile: %.*s}, areas: [{name: house}]}",
            TEXT_ARGS(quoted));
    return document_read_text(document, "answers", search->beside, site, search, ret_problem);
}

/* ---- who comes and goes ----------------------------------------------------------------------------------------- */

/** "child", or "child 1", "child 2"; gives a bit for each of them. */
static uint32_t add_people(
        struct draft *draft, struct arena *arena, const char *name, int32_t count) {
    uint32_t bits = 0;
    for (int32_t i = 1; i <= count; i++) {
        bits |= 1U << draft->person_count;
        draft->people[draft->person_count++] =
                count == 1 ? text_of(name) : text_print(arena, "%s %d", name, (int)i);
    }
    return bits;
}

static bool is_number_of_people(int32_t count) {
    return count >= 0 && count <= BEGIN_EACH_MOST;
}

static outcome ask_who(const struct begin_answers *answers, struct draft *draft,
        struct arena *arena, struct problem *ret_problem) {
    if (!is_number_of_people(answers->adults) || !is_number_of_people(answers->children) ||
            !is_number_of_people(answers->pets) || !is_number_of_people(answers->others)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "who", "of each kind there are 0 to %d people",
                BEGIN_EACH_MOST);
    }
    if (answers->adults + answers->children + answers->pets + answers->others > DRAFT_PEOPLE_MOST) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "who", "there is room for %d people and pets",
                DRAFT_PEOPLE_MOST);
    }
    (void)add_people(draft, arena, "adult", answers->adults);
    draft->children = add_people(draft, arena, "child", answers->children);
    draft->animals = add_people(draft, arena, "pet", answers->pets);
    (void)add_people(draft, arena, "cleaner", answers->others);
    return outcome_good();
}

/* ---- the file --------------------------------------------------------------------------------------------------- */

static int32_t delivered(
        const struct site_panel_profile *panel, enum site_setting setting, int32_t else_s) {
    return panel->delivered_said[setting] ? panel->delivered[setting] : else_s;
}

static void set_delays(struct draft *draft) {
    draft->entry_s = delivered(&draft->model, SITE_SET_ENTRY_DELAY, draft_usual_entry_s(draft));
    draft->exit_s = delivered(&draft->model, SITE_SET_EXIT_DELAY, draft_usual_exit_s(draft));
    draft->abort_s = draft_usual_abort_s(draft, draft->model.abort_window);
}

/* The first thing that the reader of site files says against it. */
static outcome check(struct text site, const struct document_search *search,
        struct problem *ret_problem, struct pages pages) {
    struct document document;
    struct problem problem = {0};
    document_init(&document, pages);
    const outcome done =
            document_read_text(&document, "answers", search->beside, site, search, &problem);
    if (!done.good && document.problem_count > 0) {
        const struct document_problem *first = &document.problems[0];
        (void)problem_set(ret_problem, PROBLEM_BAD_VALUE, "", __FILE__, __LINE__, "%.*s",
                TEXT_ARGS(first->what));
    } else if (!done.good && ret_problem != NULL) {
        *ret_problem = problem;
    }
    document_finish(&document);
    return done;
}

static outcome write_site(const struct begin_answers *answers, struct draft *draft,
        const struct document_search *search, struct arena *arena, struct text *ret_site,
        struct problem *ret_problem) {
    struct text_builder out;
    draft->name = answers->name.length == 0 ? text_of("House") : answers->name;
    draft->words = text_of("uk");
    draft->ground = answers->ground;
    draft->standard = answers->standard;
    draft->areas[0] = text_of("house");
    draft->keypads[0] = text_of("keypad");
    draft->area_count = 1;
    set_delays(draft);
    TRY(ask_who(answers, draft, arena, ret_problem));
    text_builder_init(&out, arena);
    draft_write(draft, &out);
    if (arena->refused) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "there is no memory left to write the site file");
    }
    TRY(check(text_built(&out), search, ret_problem, arena->pages));
    *ret_site = text_built(&out);
    return outcome_good();
}

outcome begin_site(const struct begin_answers *answers, const struct document_search *search,
        struct arena *arena, struct text *ret_site, struct problem *ret_problem) {
    struct document document;
    struct draft *draft = ARENA_NEW(arena, struct draft);
    if (draft == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "there is no memory left to write the site file");
    }
    draft->panel = answers->panel.length == 0 ? text_of(usual_panel) : answers->panel;
    document_init(&document, arena->pages);
    outcome done = read_panel(&document, draft->panel, search, arena, NULL);
    if (done.good) {
        draft->model = document.site.panel;
        done = write_site(answers, draft, search, arena, ret_site, ret_problem);
    } else {
        (void)problem_set(ret_problem, PROBLEM_BAD_VALUE, "panel", __FILE__, __LINE__,
                "there is no panel \"%.*s\" that can be read; choose one of the list",
                TEXT_ARGS(draft->panel));
    }
    document_finish(&document);
    return done;
}

/* ---- what can be chosen ----------------------------------------------------------------------------------------- */

static int64_t count_wired(const struct site_panel_profile *panel) {
    int64_t count = 0;
    for (int32_t number = 0; number <= SITE_NUMBER_MAX; number++) {
        count += site_number_is_there(panel, number) && site_slot_takes(panel, number, false);
    }
    return count;
}

static void add_panel(
        const struct site_panel_profile *panel, struct text name, struct json_writer *json) {
    json_open_object(json, NULL);
    json_add_text(json, "name", name);
    json_add_text(json, "says", panel->says);
    json_add_integer(json, "zones", panel->zone_most);
    json_add_integer(json, "wired", count_wired(panel));
    json_add_integer(json, "areas", panel->area_most);
    json_close_object(json);
}

outcome begin_add_panels(const struct document_search *search, struct json_writer *json,
        const char *name, struct problem *ret_problem) {
    struct arena *arena = json->out->arena;
    const struct text *names = NULL;
    size_t count = 0;
    TRY(document_list(search, "panels", arena, &names, &count, ret_problem));
    json_open_array(json, name);
    for (size_t i = 0; i < count; i++) {
        struct document document;
        document_init(&document, arena->pages);
        if (read_panel(&document, names[i], search, arena, NULL).good) {
            add_panel(&document.site.panel, names[i], json);
        }
        document_finish(&document);
    }
    json_close_array(json);
    return outcome_good();
}

/* Read as in every site file, which wants a panel. */
static void add_standard(const struct document_search *search, struct text name,
        struct json_writer *json, struct arena *arena) {
    struct document document;
    const struct text quoted = document_quote(arena, name);
    const struct text site = text_print(arena,
            "{site: {name: house, rules: [%.*s]}, panel: {profile: %s}, areas: [{name: house}]}",
            TEXT_ARGS(quoted), usual_panel);
    document_init(&document, arena->pages);
    if (document_read_text(&document, "answers", search->beside, site, search, NULL).good &&
            document.site.rule_set_count == 1) {
        json_open_object(json, NULL);
        json_add_text(json, "name", name);
        json_add_text(json, "says", document.site.rule_sets[0].says);
        json_close_object(json);
    }
    document_finish(&document);
}

outcome begin_add_standards(const struct document_search *search, struct json_writer *json,
        const char *name, struct problem *ret_problem) {
    struct arena *arena = json->out->arena;
    const struct text *names = NULL;
    size_t count = 0;
    TRY(document_list(search, "rules", arena, &names, &count, ret_problem));
    json_open_array(json, name);
    for (size_t i = 0; i < count; i++) {
        if (!text_is(names[i], "house")) { /* that one is there anyway */
            add_standard(search, names[i], json, arena);
        }
    }
    json_close_array(json);
    return outcome_good();
}
