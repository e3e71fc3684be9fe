/* How break-ins look, as text and as JSON. */
#include "base/quantity.h"
#include "check/show.h"

static bool is_in_time(const struct break_in *it) {
    return it->verdict == BREAK_INS_IN_TIME || it->verdict == BREAK_INS_NO_WAY;
}

/* What of it says more than was proven: a thing that nobody gets to by the drawing was not heard of. */
static void show_limits(
        const struct site *site, const struct break_ins *all, struct layout *layout) {
    size_t nowhere = 0;
    size_t cut_off = 0;
    struct text_builder out;
    text_builder_init(&out, layout->out->arena);
    for (size_t i = 0; i < all->count; i++) {
        nowhere += all->list[i].verdict == BREAK_INS_NO_WAY;
        cut_off += break_in_is_cut_off(site, &all->list[i]);
    }
    if (nowhere > 0) {
        text_add_format(&out, "to %zu of %zu no way is %s", nowhere, all->count,
                site->break_ins.drawn ? "drawn" : "written");
    }
    if (cut_off > 0) {
        text_add_format(&out,
                "%s%zu of %zu only as far as the drawing goes: rooms are cut off in it",
                nowhere > 0 ? "; " : "", cut_off, all->count);
    }
    if (out.length > 0) {
        layout_words(layout, text_built(&out), 2, LAYOUT_UNSURE);
        layout_end_line(layout);
    }
}

void show_break_ins(
        const struct site *site, const struct check_report *report, struct layout *layout) {
    const struct break_ins *all = &report->break_ins;
    const struct break_in *least = NULL;
    size_t in_time = 0;
    struct text_builder out;
    text_builder_init(&out, layout->out->arena);
    if (all->count == 0) {
        if (all->why_not != NULL) {
            text_add_format(&out, "break-ins are not computed: %s", all->why_not);
            layout_words(layout, text_built(&out), 2, LAYOUT_QUIET);
            layout_end_line(layout);
        }
        return;
    }
    for (size_t i = 0; i < all->count; i++) {
        const struct break_in *it = &all->list[i];
        in_time += it->verdict == BREAK_INS_IN_TIME;
        if (it->verdict == BREAK_INS_IN_TIME &&
                (least == NULL || it->answer.spare_s < least->answer.spare_s)) {
            least = it;
        }
    }
    text_add_format(&out, "break-ins%s: %zu of %zu heard in time",
            site->break_ins.drawn ? " by the drawing" : "", in_time, all->count);
    if (least != NULL) {
        text_add_format(
                &out, "; tightest: \"%.*s\", ", TEXT_ARGS(site->break_ins.goals[least->goal].name));
        text_add_string(&out, least->answer.open ? "at least " : "");
        quantity_add_seconds(&out, least->answer.spare_s);
        text_add_string(&out, " to spare");
    }
    layout_words(layout, text_built(&out), 2, LAYOUT_PLAIN);
    layout_end_line(layout);
    show_limits(site, all, layout);
    if (all->cut) {
        layout_words(layout,
                text_of("too many ways in to search them again: what hangs on a single device, and "
                        "what would help, is not computed"),
                2, LAYOUT_QUIET);
        layout_end_line(layout);
    }
}

static void show_way(const char *which, const struct story *story, struct layout *layout) {
    layout_end_line(layout);
    layout_words(layout, text_of(which), 2, LAYOUT_QUIET);
    layout_end_line(layout);
    layout_end_line(layout);
    story_lay_out(story, 2, layout);
}

void show_break_in(const struct site *site, const struct break_in *it, struct layout *layout) {
    layout_words(layout, break_ins_sentence(site, it, layout->out->arena), 2,
            is_in_time(it) && !break_in_is_cut_off(site, it) ? LAYOUT_GOOD : LAYOUT_BAD);
    layout_end_line(layout);
    if (it->told.count == 0) {
        return;
    }
    show_way(it->quickest_told.count == 0
                    ? "told: the way that is heard the latest, which is also the quickest; the "
                      "panel's clocks as they favour him"
                    : "told: the way that is heard the latest; the panel's clocks as they favour "
                      "him",
            &it->told, layout);
    if (it->quickest_told.count > 0) {
        show_way("told: the quickest way", &it->quickest_told, layout);
    }
}

static void write_seconds(struct json_writer *json, const char *name, int32_t seconds_s) {
    if (seconds_s == BREAKIN_NEVER_S) {
        json_add_null(json, name);
    } else {
        json_add_integer(json, name, seconds_s);
    }
}

void show_break_in_json(struct json_writer *json, const char *name, const struct site *site,
        const struct break_in *it, const struct show_places *places) {
    const struct site_break_in_goal *goal = &site->break_ins.goals[it->goal];
    const bool any = it->told.count > 0;
    json_open_object(json, name);
    json_add_text(json, "name", goal->name);
    json_add_string(json, "is", site_break_in_kind_name(goal->kind));
    show_place_json(json, break_ins_place(site, it->goal, json->out->arena), places);
    json_add_string(json, "verdict", break_ins_verdict_name(it->verdict));
    json_add_text(json, "says", break_ins_sentence(site, it, json->out->arena));
    json_add_bool(json, "needs_tolerance", it->needs_tolerance);
    json_add_text(json, "when", site->break_ins.starts[it->start].name);
    write_seconds(json, "to_spare_s", any ? it->answer.spare_s : BREAKIN_NEVER_S);
    json_add_bool(json, "limit_hit", break_in_is_open(it));
    json_add_bool(json, "as_far_as_drawn", break_in_is_cut_off(site, it));
    write_seconds(json, "noticed_s", any ? it->story.first_trip_s : BREAKIN_NEVER_S);
    write_seconds(json, "siren_s", any ? it->story.siren_s : BREAKIN_NEVER_S);
    write_seconds(json, "signal_s", any ? it->story.signal_s : BREAKIN_NEVER_S);
    write_seconds(json, "reached_s", any ? it->story.done_s : BREAKIN_NEVER_S);
    write_seconds(json, "quickest_s", any ? it->answer.quickest.done_s : BREAKIN_NEVER_S);
    show_story_json(json, "story", &it->told);
    show_story_json(json, "quickest_story", &it->quickest_told);
    json_close_object(json);
}

void show_break_in_told_json(const struct site *site, const struct break_in *it,
        const struct show_places *places, struct json_writer *json) {
    json_open_object(json, NULL);
    show_site_json(json, site, places);
    show_break_in_json(json, "break_in", site, it, places);
    json_close_object(json);
}
