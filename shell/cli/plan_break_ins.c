#include "cli/plan_break_ins.h"

#include "base/quantity.h"
#include "check/layout.h"
#include "check/words.h"
#include "cli/prove.h"
#include "host/host.h"

#include <math.h>

enum { FORMAT = 1, CLOCK_COLUMN = 2, STEP_COLUMN = 9, HANG = 11, ODDS_HANG = 4, PERCENT = 100 };

outcome plan_break_ins_make(const struct house *house, struct arena *arena,
        struct plan_break_ins *ret_made, struct problem *ret_problem) {
    const struct break_ins_options wanted = {.ways_only = true, .keep_going = prove_keeps_going};
    TRY(break_ins_draw(house, arena, &ret_made->site, &ret_made->portals, ret_problem));
    TRY(break_ins_look(&ret_made->site, &wanted, host_pages(), arena, &ret_made->all, ret_problem));
    struct break_in_odds *odds = ARENA_ARRAY(arena, struct break_in_odds, ret_made->all.count);
    if (odds == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the break-ins of the drawing");
    }
    for (size_t i = 0; i < ret_made->all.count; i++) {
        TRY(break_in_odds_make(&ret_made->site, &ret_made->all, &ret_made->all.list[i], arena,
                &odds[i], ret_problem));
    }
    ret_made->odds = odds;
    ret_made->drawn = (struct break_in_drawn){.site = &ret_made->site,
            .house = house,
            .portals = &ret_made->portals,
            .all = &ret_made->all};
    return outcome_good();
}

/* ---- steps ------------------------------------------------------------------------------------------------------- */

static const struct way *way_of(const struct plan_break_ins *made, const struct breakin_act *act) {
    const int move = act->portal ? SITE_NONE : made->all.rooms.move[act->index];
    return move == SITE_NONE || made->portals.ways[move].count == 0 ? NULL
                                                                    : &made->portals.ways[move];
}

/* The room or ground that a step is in or leads to. */
static struct text place_of(const struct plan_break_ins *made, const struct breakin_act *act) {
    const struct breakin_graph *graph = &made->all.rooms.graph;
    return graph->places[act->portal ? graph->portals[act->index].to : graph->moves[act->index].to];
}

/* "kitchen, by kitchen window: breaks the pane"; "on foot, 4.2 m". */
static struct text step_text(
        const struct plan_break_ins *made, const struct breakin_act *act, struct arena *arena) {
    struct text_builder out;
    text_builder_init(&out, arena);
    if (act->portal) {
        const struct breakin_portal *portal = &made->all.rooms.graph.portals[act->index];
        const struct text place = place_of(made, act);
        text_add_format(&out, "%.*s", TEXT_ARGS(place));
        if (!text_equal(place, portal->name)) {
            text_add_format(&out, ", by %.*s", TEXT_ARGS(portal->name));
            if (portal->force_s > 0) {
                text_add_format(&out, ": %.*s", TEXT_ARGS(portal->how));
            }
        }
        return text_built(&out);
    }
    const struct way *way = way_of(made, act);
    text_add_string(&out, "on foot");
    if (way != NULL) {
        text_add_format(&out, ", %.1f m", way->length_mm / 1000);
    }
    return text_built(&out);
}

/* ---- in words ---------------------------------------------------------------------------------------------------- */

static void add_line(struct layout *layout, size_t column, size_t hang, struct text line) {
    layout_to(layout, column);
    layout_words(layout, line, hang, LAYOUT_PLAIN);
    layout_end_line(layout);
}

static void add_step(struct layout *layout, int32_t at_s, struct text what, int32_t takes_s) {
    struct text_builder clock;
    struct text_builder line;
    text_builder_init(&clock, layout->out->arena);
    text_builder_init(&line, layout->out->arena);
    words_add_instant(&clock, -1, at_s);
    layout_to(layout, CLOCK_COLUMN);
    layout_put(layout, text_built(&clock), LAYOUT_PLAIN);
    text_add(&line, what);
    if (takes_s > 0) {
        text_add_string(&line, ", ");
        quantity_add_seconds(&line, takes_s);
    }
    add_line(layout, STEP_COLUMN, HANG, text_built(&line));
}

static void add_way(
        struct layout *layout, const struct plan_break_ins *made, const struct break_in *it) {
    const struct breakin_course *course = &it->answer.best;
    int32_t last_s = 0;
    for (size_t i = 0; i < course->act_count; i++) {
        const struct breakin_act *act = &course->acts[i];
        if (act->begins_s > last_s) {
            add_step(layout, last_s, text_of("stands still"), act->begins_s - last_s);
        }
        last_s = act->ends_s;
        if (act->portal || act->ends_s > act->begins_s) {
            add_step(layout, act->begins_s, step_text(made, act, layout->out->arena),
                    act->ends_s - act->begins_s);
        }
    }
    if (course->done_s > last_s) {
        add_step(
                layout, last_s, made->site.break_ins.goals[it->goal].name, course->done_s - last_s);
    }
    add_step(layout, course->done_s, text_of("has it"), 0);
}

static struct text act_name(const struct plan_break_ins *made, const struct break_in *it,
        size_t task, struct arena *arena) {
    const struct breakin_course *course = &it->answer.best;
    return task < course->act_count ? step_text(made, &course->acts[task], arena)
                                    : made->site.break_ins.goals[it->goal].name;
}

static int percent(double ratio) {
    return (int)lround(ratio * PERCENT);
}

static void add_odds(struct layout *layout, const struct plan_break_ins *made,
        const struct break_in *it, const struct break_in_odds *odds) {
    struct text_builder line;
    text_builder_init(&line, layout->out->arena);
    if (!odds->any) {
        return;
    }
    text_add_string(&line, "its alarm leaves ");
    quantity_add_seconds(&line, odds->held_s);
    text_add_string(&line, " after he is first noticed; ");
    if (odds->critical.task == INTERRUPT_NEVER) {
        text_add_string(&line, "help then comes too late");
    } else {
        const struct text name = act_name(made, it, odds->critical.task, layout->out->arena);
        text_add_format(&line, "in time if he is noticed by then: %.*s", TEXT_ARGS(name));
    }
    add_line(layout, CLOCK_COLUMN, ODDS_HANG, text_built(&line));
    text_builder_init(&line, layout->out->arena);
    text_add_format(
            &line, "interrupted: %d %%; with help so long after the alarm:", percent(odds->ratio));
    for (size_t i = 0; i < BREAK_IN_ODDS_HELP; i++) {
        text_add_string(&line, i > 0 ? ", " : " ");
        quantity_add_seconds(&line, break_in_odds_help_s[i]);
        text_add_format(&line, " %d %%", percent(odds->by_help[i]));
    }
    add_line(layout, CLOCK_COLUMN, ODDS_HANG, text_built(&line));
}

void plan_break_ins_add_text(
        struct text_builder *out, const struct plan_break_ins *made, size_t width) {
    struct layout layout = {.out = out, .width = width};
    layout_words(&layout,
            text_print(out->arena,
                    "%.*s%s: what an intruder can do at best, by the drawing (docs/break-ins.md)",
                    TEXT_ARGS(made->site.name), made->site.invented ? " (invented)" : ""),
            0, LAYOUT_PLAIN);
    layout_end_line(&layout);
    if (made->all.count == 0) {
        layout_end_line(&layout);
        layout_words(&layout,
                text_of("nothing to protect is drawn: add {protects: NAME, room: ROOM} or {is: "
                        "panel, room: ROOM} to places"),
                0, LAYOUT_PLAIN);
        layout_end_line(&layout);
    }
    for (size_t i = 0; i < made->all.count; i++) {
        const struct break_in *it = &made->all.list[i];
        layout_end_line(&layout);
        layout_words(&layout, break_ins_sentence(&made->site, it, out->arena), HANG, LAYOUT_STRONG);
        layout_end_line(&layout);
        if (it->told.count > 0) {
            add_way(&layout, made, it);
            add_odds(&layout, made, it, &made->odds[i]);
        }
    }
}

/* ---- as JSON ----------------------------------------------------------------------------------------------------- */

static void json_step(struct json_writer *json, const struct plan_break_ins *made,
        const struct breakin_act *act, const double *noticed) {
    const struct way *way = way_of(made, act);
    json_open_object(json, NULL);
    json_add_integer(json, "begins_s", act->begins_s);
    json_add_integer(json, "ends_s", act->ends_s);
    if (act->portal) {
        const struct breakin_portal *portal = &made->all.rooms.graph.portals[act->index];
        json_add_text(json, "opening", portal->name);
        json_add_text(json, "how", portal->how);
        json_add_integer(json, "force_s", portal->force_s);
    }
    json_add_text(json, "to", place_of(made, act));
    if (noticed != NULL) {
        json_add_integer(json, "noticed_percent", percent(*noticed));
    }
    if (way != NULL) {
        json_add_integer(json, "length_mm", lround(way->length_mm));
        json_add_integer(json, "storey", way->stops[0].storey);
        json_open_array(json, "points_mm");
        for (size_t i = 0; i < way->count; i++) {
            json_open_array(json, NULL);
            json_add_integer(json, NULL, way->stops[i].at.x_mm);
            json_add_integer(json, NULL, way->stops[i].at.y_mm);
            json_close_array(json);
        }
        json_close_array(json);
    }
    json_close_object(json);
}

static void json_odds(struct json_writer *json, const struct plan_break_ins *made,
        const struct break_in *it, const struct break_in_odds *odds) {
    if (!odds->any) {
        json_add_null(json, "interrupted");
        return;
    }
    json_open_object(json, "interrupted");
    json_add_integer(json, "percent", percent(odds->ratio));
    json_add_integer(json, "held_back_s", odds->held_s);
    if (odds->critical.task == INTERRUPT_NEVER) {
        json_add_null(json, "critical_step");
    } else {
        json_add_text(
                json, "critical_step", act_name(made, it, odds->critical.task, json->out->arena));
    }
    json_open_array(json, "by_help");
    for (size_t i = 0; i < BREAK_IN_ODDS_HELP; i++) {
        json_open_object(json, NULL);
        json_add_integer(json, "help_s", break_in_odds_help_s[i]);
        json_add_integer(json, "percent", percent(odds->by_help[i]));
        json_close_object(json);
    }
    json_close_array(json);
    json_close_object(json);
}

static void json_break_in(
        struct json_writer *json, const struct plan_break_ins *made, size_t index) {
    const struct break_in *it = &made->all.list[index];
    const bool any = it->told.count > 0;
    json_open_object(json, NULL);
    json_add_text(json, "name", made->site.break_ins.goals[it->goal].name);
    json_add_string(json, "verdict", break_ins_verdict_name(it->verdict));
    json_add_text(json, "says", break_ins_sentence(&made->site, it, json->out->arena));
    json_add_bool(json, "limit_hit", break_in_is_open(it));
    json_add_bool(json, "as_far_as_drawn", break_in_is_cut_off(&made->site, it));
    json_add_bool(json, "drawn", break_in_is_drawn(&made->all, it));
    if (any) {
        json_add_integer(json, "seconds", it->answer.best.done_s);
    } else {
        json_add_null(json, "seconds");
    }
    json_open_array(json, "way");
    for (size_t i = 0; any && i < it->answer.best.act_count; i++) {
        json_step(json, made, &it->answer.best.acts[i],
                made->odds[index].any ? &made->odds[index].noticed[i] : NULL);
    }
    json_close_array(json);
    json_odds(json, made, it, &made->odds[index]);
    json_close_object(json);
}

void plan_break_ins_add_json(
        struct json_writer *json, const struct plan_break_ins *made, struct text file) {
    json_open_object(json, NULL);
    json_add_integer(json, "format", FORMAT);
    json_add_text(json, "file", file);
    json_add_text(json, "name", made->site.name);
    json_add_bool(json, "invented", made->site.invented);
    json_open_array(json, "break_ins");
    for (size_t i = 0; i < made->all.count; i++) {
        json_break_in(json, made, i);
    }
    json_close_array(json);
    json_close_object(json);
}
