/* The story of a break-in: where he is, what notices it, what the panel makes of it. */
#include "base/quantity.h"
#include "check/break_ins.h"
#include "check/words.h"

/* A story being told. last_s: the end of his last step. */
struct teller {
    const struct site *site;
    const struct rooms *rooms;
    const struct site_break_in_start *start;
    const struct site_break_in_goal *goal;
    const struct breakin_course *course;
    const struct breakin_story *story;
    struct arena *arena;
    struct story told;
    size_t capacity;
    int32_t clock_s;
    int32_t last_s;
};

static void add(
        struct teller *teller, int32_t at_s, struct text what, struct text because, bool bad) {
    struct text_builder clock;
    text_builder_init(&clock, teller->arena);
    if (teller->told.count == teller->capacity) {
        return; /* as many as there are lines, and a few: see break_ins_tell */
    }
    if (teller->told.count == 0 || at_s != teller->clock_s) {
        words_add_instant(&clock, -1, at_s);
    }
    teller->clock_s = at_s;
    teller->told.lines[teller->told.count++] = (struct story_line){.at_s = at_s,
            .clock = text_built(&clock),
            .what = what,
            .because = because,
            .bad = bad};
}

/* The same of the panel, or of what it learns. */
static void add_of_panel(
        struct teller *teller, int32_t at_s, struct text what, struct text because, bool bad) {
    const size_t before = teller->told.count;
    add(teller, at_s, what, because, bad);
    if (teller->told.count > before) {
        teller->told.lines[before].of_panel = true;
    }
}

static struct words_about about_output(
        const struct teller *teller, const struct panel_output *output) {
    struct words_about about = words_about_nothing();
    about.zone = output->zone < teller->site->zone_count ? output->zone : SITE_NONE;
    about.area = output->area < teller->site->area_count ? output->area : SITE_NONE;
    about.areas = about.area == SITE_NONE ? 0U : 1U << (unsigned)about.area;
    about.seconds_s = output->seconds_s;
    if (about.area != SITE_NONE && teller->start->areas[about.area].set) {
        about.mode = teller->start->areas[about.area].mode;
    }
    if (about.zone != SITE_NONE) {
        const struct site_zone *zone = &teller->site->zones[about.zone];
        about.behaviour = about.mode == SITE_NONE ? zone->behaviour : zone->in[about.mode];
    }
    return about;
}

static void tell_start(struct teller *teller) {
    struct text_builder out;
    text_builder_init(&out, teller->arena);
    for (size_t area = 0; area < teller->site->area_count; area++) {
        struct words_about about = words_about_nothing();
        about.areas = 1U << area;
        about.mode = teller->start->areas[area].set ? teller->start->areas[area].mode : SITE_NONE;
        text_add_string(&out, area > 0 ? "; " : "");
        words_add(&out, teller->site,
                words_message(about.mode == SITE_NONE ? PANEL_SAYS_UNSET : PANEL_SAYS_SET), &about);
    }
    add_of_panel(teller, 0, text_built(&out), text_of(""), false);
}

static struct text place_name(const struct teller *teller, int place) {
    if (teller->rooms->room[place] == SITE_NONE) {
        return text_of("is outside again");
    }
    struct text_builder out;
    text_builder_init(&out, teller->arena);
    text_add_string(&out,
            teller->site->break_ins.rooms[teller->rooms->room[place]].ground ? "is outside, at "
                                                                             : "is in ");
    words_add_named(&out, teller->rooms->graph.places[place]);
    return text_built(&out);
}

/* What he waited for: the timer whose end is the line before. */
static struct text awaited(const struct teller *teller, size_t index) {
    for (size_t i = index;
            i-- > 0 && teller->story->lines[i].at_s == teller->story->lines[index].at_s;) {
        if (teller->story->lines[i].kind == BREAKIN_LINE_TIMER) {
            struct text_builder out;
            text_builder_init(&out, teller->arena);
            text_add_string(&out, "until ");
            words_add(&out, teller->site,
                    words_timer_ends(panel_timer_kind_of(teller->story->lines[i].timer)), NULL);
            return text_built(&out);
        }
    }
    return text_of("");
}

static void tell_begin(struct teller *teller, size_t index) {
    const struct breakin_line *line = &teller->story->lines[index];
    const struct breakin_act *act = &teller->course->acts[line->act];
    if (act->begins_s > teller->last_s) {
        struct text_builder out;
        text_builder_init(&out, teller->arena);
        text_add_string(&out, "stands still for ");
        quantity_add_seconds(&out, act->begins_s - teller->last_s);
        add(teller, teller->last_s, text_built(&out), awaited(teller, index), false);
    }
    teller->last_s = act->ends_s;
    if (act->portal && teller->rooms->graph.portals[act->index].force_s > 0) {
        const struct breakin_portal *portal = &teller->rooms->graph.portals[act->index];
        struct text_builder out;
        struct text_builder least;
        text_builder_init(&out, teller->arena);
        text_builder_init(&least, teller->arena);
        text_add_format(&out, "somebody %.*s: ", TEXT_ARGS(portal->how));
        words_add_named(&out, portal->name);
        quantity_add_seconds(&least, portal->force_s);
        text_add_string(&least, " at the least");
        add(teller, line->at_s, text_built(&out), text_built(&least), false);
    }
}

static void tell_done(struct teller *teller, const struct breakin_line *line) {
    const struct breakin_act *act = &teller->course->acts[line->act];
    if (act->portal) {
        add(teller, line->at_s, place_name(teller, teller->rooms->graph.portals[act->index].to),
                act->closes ? text_of("and shuts it behind him") : text_of(""), false);
    }
}

/* What follows at once: the first that is worth a word. */
static struct text consequence(const struct teller *teller, size_t index) {
    for (size_t i = index + 1;
            i < teller->story->line_count && teller->story->lines[i].kind == BREAKIN_LINE_OUTPUT;
            i++) {
        const struct panel_output *output = &teller->story->lines[i].output;
        const struct words_about about = about_output(teller, output);
        if (output->kind == PANEL_OUT_SAYS && (output->message == PANEL_SAYS_LONE_TRIP)) {
            return words_print(
                    teller->arena, teller->site, "alone: written to the log only", &about);
        }
        if (output->kind == PANEL_OUT_START &&
                (panel_timer_kind_of(output->timer) == PANEL_TIMER_ENTRY ||
                        panel_timer_kind_of(output->timer) == PANEL_TIMER_HOLD)) {
            return words_print(teller->arena, teller->site,
                    words_timer_begins(panel_timer_kind_of(output->timer)), &about);
        }
        if (output->kind == PANEL_OUT_SOUND || output->kind == PANEL_OUT_SIGNAL) {
            return text_of("");
        }
    }
    return text_of("nothing follows");
}

static void tell_level(struct teller *teller, size_t index) {
    const struct breakin_line *line = &teller->story->lines[index];
    if (!line->open) {
        return;
    }
    struct words_about about = words_about_nothing();
    about.zone = line->zone;
    const bool level =
            site_sense_is_level(site_zone_sense(teller->site, &teller->site->zones[line->zone]));
    add_of_panel(teller, line->at_s,
            words_print(
                    teller->arena, teller->site, level ? "{zone} opens" : "{zone} trips", &about),
            consequence(teller, index), false);
}

static void tell_output(struct teller *teller, const struct breakin_line *line) {
    const struct panel_output *output = &line->output;
    const struct words_about about = about_output(teller, output);
    const bool late = line->at_s >= teller->story->done_s;
    struct text_builder out;
    text_builder_init(&out, teller->arena);
    if (output->kind == PANEL_OUT_SOUND && output->sound != PANEL_SILENT) {
        text_add_string(&out, words_sound((enum panel_sound)output->sound));
        words_add(&out, teller->site, " ({areas})", &about);
    } else if (output->kind == PANEL_OUT_SIGNAL && !output->event.restore) {
        text_add_string(&out, "sent: ");
        words_add_signal(&out, teller->site, output->event);
    } else {
        return;
    }
    add_of_panel(teller, line->at_s, text_built(&out),
            words_print(teller->arena, teller->site, words_reason_short(output->why), &about),
            output->kind == PANEL_OUT_SIGNAL && late);
}

static void tell_goal(struct teller *teller, const struct breakin_line *line) {
    static const char *const done[SITE_BREAK_IN_KIND_COUNT] = {
            [SITE_BREAK_IN_THING] = "has ",
            [SITE_BREAK_IN_PANEL] = "has smashed ",
            [SITE_BREAK_IN_LINE] = "has cut ",
            [SITE_BREAK_IN_POWER] = "has cut ",
    };
    struct text_builder out;
    text_builder_init(&out, teller->arena);
    text_add_string(&out, done[teller->goal->kind]);
    words_add_named(&out, teller->goal->name);
    add(teller, line->at_s, text_built(&out), text_of(""),
            teller->course->heard_s >= teller->story->done_s);
}

static void tell_line(struct teller *teller, size_t index) {
    const struct breakin_line *line = &teller->story->lines[index];
    switch (line->kind) {
    case BREAKIN_LINE_BEGINS:
        tell_begin(teller, index);
        break;
    case BREAKIN_LINE_DONE:
        tell_done(teller, line);
        break;
    case BREAKIN_LINE_LEVEL:
        tell_level(teller, index);
        break;
    case BREAKIN_LINE_OUTPUT:
        tell_output(teller, line);
        break;
    case BREAKIN_LINE_GOAL:
        tell_goal(teller, line);
        break;
    case BREAKIN_LINE_TIMER:
    case BREAKIN_LINE_HEARD:
        break;
    }
}

outcome break_ins_tell(const struct site *site, const struct rooms *rooms, size_t goal,
        size_t start, const struct breakin_course *course, const struct breakin_story *story,
        struct arena *arena, struct story *ret_told, struct problem *ret_problem) {
    struct teller teller = {.site = site,
            .rooms = rooms,
            .start = &site->break_ins.starts[start],
            .goal = &site->break_ins.goals[goal],
            .course = course,
            .story = story,
            .arena = arena,
            .capacity = 2 * story->line_count + 2}; /* a wait before each, one at either end */
    teller.told.lines = ARENA_ARRAY(arena, struct story_line, teller.capacity);
    if (teller.told.lines == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to tell a break-in");
    }
    tell_start(&teller);
    for (size_t i = 0; i < story->line_count; i++) {
        tell_line(&teller, i);
        if (teller.goal->kind != SITE_BREAK_IN_THING && story->lines[i].kind == BREAKIN_LINE_GOAL) {
            break; /* what would have followed does not */
        }
    }
    if (teller.goal->kind != SITE_BREAK_IN_THING && course->heard_s != BREAKIN_NEVER_S &&
            course->heard_s >= story->done_s) {
        struct text_builder out;
        text_builder_init(&out, arena);
        text_add_string(&out,
                site->break_ins.heard_by == SITE_HEARD_BY_SIREN ? "the siren, due at "
                                                                : "the signal, due at ");
        words_add_instant(&out, -1, course->heard_s);
        text_add_string(&out, ", never comes");
        add_of_panel(&teller, story->done_s, text_built(&out), text_of(""), true);
    }
    if (course->heard_s == BREAKIN_NEVER_S) {
        add_of_panel(&teller, story->done_s,
                text_of(site->break_ins.heard_by == SITE_HEARD_BY_SIREN ? "no siren ever sounds"
                                : story->siren_s == BREAKIN_NEVER_S
                                ? "nobody hears it"
                                : "the siren sounds, but no signal ever leaves"),
                text_of(""), true);
    }
    *ret_told = teller.told;
    return outcome_good();
}
