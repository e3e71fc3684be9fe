#include "check/story.h"

#include "base/quantity.h"
#include "check/story_lines.h"
#include "check/words.h"

#include <stdint.h>

/* A happening: an act, a timer's end or a detector's news, with all that the panel answered. The story's lines from
 * `first` up to `end`. */
struct happening {
    size_t first;
    size_t end;
    bool bad;
    bool kept; /* STORY_SHORT */
};

static bool is_on_door(const struct site *site, uint8_t zone, int door) {
    return door != SITE_NONE && zone < site->zone_count &&
            site_zone_door(site, &site->zones[zone]) == door;
}

/* Whether the detector's news is of this very act, and not an older message that arrives in the same second. */
static bool is_news_of(
        const struct teller *teller, const struct proof_line *level, const struct proof_line *act) {
    const struct proof_step *step = &teller->answer->routine.steps[act->step];
    if (act->left_out) {
        return false;
    }
    if (step->act == SITE_ACT_OPEN || step->act == SITE_ACT_CLOSE) {
        /* A contact follows its door; what listens for blows trips when the door falls shut. */
        return is_on_door(teller->site, level->zone, step->door) &&
                level->open ==
                (step->act == SITE_ACT_OPEN || !is_level_zone(teller->site, level->zone));
    }
    return step->zone == level->zone;
}

static bool begins_happening(const struct teller *teller, size_t index) {
    const struct proof_line *line = &teller->answer->story[index];
    const struct proof_line *before = index == 0 ? NULL : line - 1;
    switch (line->kind) {
    case PROOF_LINE_ACT:
    case PROOF_LINE_TIMER:
    case PROOF_LINE_HOURS:
    case PROOF_LINE_END:
        return true;
    case PROOF_LINE_LEVEL:
    case PROOF_LINE_UNHEARD:
        return before == NULL || before->at_s != line->at_s || before->kind != PROOF_LINE_ACT ||
                !is_news_of(teller, line, before);
    case PROOF_LINE_OUTPUT:
        return before == NULL || before->at_s != line->at_s;
    }
    return true;
}

static bool is_telling_act(const struct proof_step *step) {
    if (step->mishap != PROOF_MISHAP_NONE) {
        return true;
    }
    switch (step->act) {
    case SITE_ACT_UNSET:
    case SITE_ACT_SET:
    case SITE_ACT_MISTYPE:
    case SITE_ACT_PRESS:
    case SITE_ACT_BYPASS:
    case SITE_ACT_POSTPONE:
    case SITE_ACT_TAMPER:
    case SITE_ACT_MAINS_LOST:
    case SITE_ACT_MAINS_BACK:
    case SITE_ACT_JAMMED:
    case SITE_ACT_JAM_OVER:
    case SITE_ACT_PATH_LOST:
    case SITE_ACT_PATH_BACK:
        return true;
    case SITE_ACT_WAIT:
    case SITE_ACT_OPEN:
    case SITE_ACT_CLOSE:
    case SITE_ACT_PASS:
    case SITE_ACT_COME:
    case SITE_ACT_GO:
    case SITE_ACT_WALK:
    case SITE_ACT_COUNT:
        return false;
    }
    return false;
}

static bool is_telling_message(enum panel_message message) {
    return message == PANEL_SAYS_NOT_READY || message == PANEL_SAYS_REFUSED ||
            message == PANEL_SAYS_DROPPED_TO_PART || message == PANEL_SAYS_NOT_YOURS ||
            message == PANEL_SAYS_NOT_NOW || message == PANEL_SAYS_LOCKED ||
            message == PANEL_SAYS_SWUNG_OUT || message == PANEL_SAYS_RESET_NEEDED ||
            message == PANEL_SAYS_NOTHING_TO_POSTPONE || message == PANEL_SAYS_NO_MORE_POSTPONING;
}

static bool is_telling_output(const struct panel_output *output) {
    switch (output->kind) {
    case PANEL_OUT_START:
        return output->why == PANEL_WHY_RESTART;
    case PANEL_OUT_TONE:
    case PANEL_OUT_INSIDE:
        return output->on;
    case PANEL_OUT_SOUND:
        return output->sound != PANEL_SILENT;
    case PANEL_OUT_SAYS:
        return is_telling_message((enum panel_message)output->message);
    case PANEL_OUT_SIGNAL:
    case PANEL_OUT_QUEUED:
        return output->event.kind != EVENT_SET && output->event.kind != EVENT_UNSET &&
                !output->event.restore;
    case PANEL_OUT_STOP:
    case PANEL_OUT_SHORTEN:
    case PANEL_OUT_CHIME:
    case PANEL_OUT_LOG:
    case PANEL_OUT_COUNT:
        return false;
    }
    return false;
}

static bool is_telling(const struct teller *teller, const struct happening *happening) {
    for (size_t i = happening->first; i < happening->end; i++) {
        const struct proof_line *line = &teller->answer->story[i];
        if (line->kind == PROOF_LINE_ACT && !line->left_out &&
                (line->lost || is_telling_act(&teller->answer->routine.steps[line->step]))) {
            return true;
        }
        if (line->kind == PROOF_LINE_OUTPUT && is_telling_output(&line->output)) {
            return true;
        }
        if (line->kind == PROOF_LINE_UNHEARD) {
            return true;
        }
        if (line->kind == PROOF_LINE_LEVEL && line->open &&
                line->zone == teller->answer->culprit_zone) {
            return true;
        }
    }
    return false;
}

static size_t gather(const struct teller *teller, struct happening *happenings) {
    const struct proof_answer *answer = teller->answer;
    size_t count = 0;
    for (size_t i = 0; i < answer->story_count; i++) {
        if (begins_happening(teller, i)) {
            happenings[count++] = (struct happening){.first = i};
        }
        happenings[count - 1].end = i + 1;
        happenings[count - 1].bad |= answer->story[i].bad;
    }
    return count;
}

/* What somebody does with doors and past detectors; closing a door behind oneself is no news. */
static bool is_step_of_way(const struct teller *teller, const struct proof_line *line, int person) {
    const enum site_act act = teller->answer->routine.steps[line->step].act;
    return line->kind == PROOF_LINE_ACT && !line->left_out && line->person == person &&
            (act == SITE_ACT_OPEN || act == SITE_ACT_PASS);
}

/* Who asked to set last before line `end`, or SITE_NONE. */
static int last_setter(const struct teller *teller, size_t end) {
    for (size_t i = end; i-- > 0;) {
        const struct proof_line *line = &teller->answer->story[i];
        if (line->kind == PROOF_LINE_ACT && !line->left_out &&
                teller->answer->routine.steps[line->step].act == SITE_ACT_SET) {
            return line->person;
        }
    }
    return SITE_NONE;
}

/* The end of a time (exit, final door, warning) by which the area in question is set: without it the end of the story
 * looks as if that time still ran. */
static bool is_set_by_timer(const struct teller *teller, const struct happening *happening) {
    bool is_set = false;
    for (size_t i = happening->first; i < happening->end; i++) {
        const struct proof_line *line = &teller->answer->story[i];
        is_set |= line->kind == PROOF_LINE_OUTPUT && line->output.kind == PANEL_OUT_SAYS &&
                line->output.message == PANEL_SAYS_SET &&
                line->output.area == teller->answer->culprit_area;
    }
    return is_set && teller->answer->story[happening->first].kind == PROOF_LINE_TIMER;
}

/* A door that was closed although its zone is still in the way of setting. */
static bool is_closing_unheard(const struct teller *teller, const struct proof_line *line) {
    const struct proof_answer *answer = teller->answer;
    return answer->promise == PROOF_REFUSED && line->kind == PROOF_LINE_ACT && !line->left_out &&
            answer->routine.steps[line->step].act == SITE_ACT_CLOSE &&
            is_on_door(teller->site, answer->culprit_zone, answer->routine.steps[line->step].door);
}

/* The act whose late message is the bad news. */
static size_t find_mover(const struct teller *teller, const struct happening *bad) {
    size_t end = bad->first;
    while (end < bad->end && !teller->answer->story[end].bad) {
        end++;
    }
    return story_mover(teller->site, teller->answer, end, teller->answer->culprit_zone);
}

/* Keeps what leads to the end: everything telling up to the bad one, the act just before it and the one that it is the
 * news of, how the area came to be set, and the way that its person and whoever had set walked in the last minute. */
static void choose(const struct teller *teller, struct happening *happenings, size_t count) {
    enum { KEPT_MOST = 8, MINUTE_S = 60 };
    size_t last = count == 0 ? 0 : count - 1;
    for (size_t i = 0; i < count; i++) {
        if (happenings[i].bad) {
            last = i;
            break;
        }
    }
    size_t kept = 0;
    int person = SITE_NONE;
    bool knows_set = false;
    const size_t mover = count == 0 ? SIZE_MAX : find_mover(teller, &happenings[last]);
    const int setter = count == 0 ? SITE_NONE : last_setter(teller, happenings[last].first);
    for (size_t i = last + 1; i-- > 0;) {
        const struct proof_line *head = &teller->answer->story[happenings[i].first];
        bool keep = i == last || is_telling(teller, &happenings[i]);
        if (person == SITE_NONE && head->kind == PROOF_LINE_ACT && !head->left_out) {
            keep = true;
            person = head->person;
        }
        if (!knows_set && i != last && is_set_by_timer(teller, &happenings[i])) {
            keep = true;
            knows_set = true;
        }
        keep |= is_closing_unheard(teller, head) || happenings[i].first == mover;
        keep |= (is_step_of_way(teller, head, person) || is_step_of_way(teller, head, setter)) &&
                teller->answer->story[happenings[last].first].at_s - head->at_s <= MINUTE_S;
        happenings[i].kept = keep && kept < KEPT_MOST;
        kept += happenings[i].kept;
    }
}

static bool has_areas_alike(const struct site_routine *source, size_t a, size_t b) {
    return source->starts[a].set == source->starts[b].set &&
            (!source->starts[a].set || source->starts[a].mode == source->starts[b].mode);
}

/* "shop is set (full); flat is unset; the flat window is open" */
static void tell_start(struct teller *teller) {
    const struct site *site = teller->site;
    const struct site_routine *source = teller->answer->routine.source;
    if (source == NULL) {
        return;
    }
    struct text_builder what;
    text_builder_init(&what, teller->arena);
    uint32_t told = 0;
    for (size_t i = 0; i < site->area_count; i++) {
        if ((told >> i & 1U) != 0) {
            continue;
        }
        struct words_about about = words_about_nothing();
        for (size_t j = i; j < site->area_count; j++) {
            about.areas |= has_areas_alike(source, i, j) ? (uint32_t)1 << j : 0;
        }
        about.mode = source->starts[i].set ? source->starts[i].mode : SITE_NONE;
        told |= about.areas;
        const bool several = (about.areas & (about.areas - 1)) != 0;
        text_add_string(&what, what.length > 0 ? "; " : "");
        words_add(&what, site, several ? "{areas} are " : "{areas} is ", &about);
        words_add(&what, site, source->starts[i].set ? "{is-set}{in-mode}" : "{is-unset}", &about);
    }
    for (size_t i = 0; i < site->door_count && i < 32; i++) {
        if ((source->doors_open >> i & 1U) != 0) {
            struct words_about about = words_about_nothing();
            about.door = (int)i;
            text_add_string(&what, what.length > 0 ? "; " : "");
            words_add(&what, site, "{door} is open", &about);
        }
    }
    teller_add(teller, 0, text_built(&what), text_of(""), false);
}

static void follow_modes(struct teller *teller, const struct proof_line *line) {
    if (line->kind == PROOF_LINE_OUTPUT && line->output.kind == PANEL_OUT_SAYS &&
            line->output.message == PANEL_SAYS_DROPPED_TO_PART &&
            line->output.area < SITE_AREA_MAX) {
        teller->modes[line->output.area] = SITE_MODE_PART;
    }
    if (line->kind != PROOF_LINE_ACT || line->left_out) {
        return;
    }
    const struct proof_step *step = &teller->answer->routine.steps[line->step];
    if (step->act != SITE_ACT_SET && step->act != SITE_ACT_UNSET) {
        return;
    }
    uint32_t areas = step->areas;
    if (areas == 0 && step->keypad >= 0 && (size_t)step->keypad < teller->site->keypad_count) {
        areas = teller->site->keypads[step->keypad].areas;
    }
    for (size_t i = 0; i < teller->site->area_count; i++) {
        if ((areas >> i & 1U) != 0) {
            teller->modes[i] = step->act == SITE_ACT_SET ? step->mode : SITE_NONE;
        }
    }
}

/* Also reads the story up to (not with) line `end`, for what was in force then. */
void teller_begin(struct teller *teller, const struct site *site, const struct proof_answer *answer,
        size_t end) {
    *teller = (struct teller){.site = site, .answer = answer, .clock_s = -1};
    for (size_t i = 0; i < SITE_AREA_MAX; i++) {
        const bool set = answer->routine.source != NULL && answer->routine.source->starts[i].set;
        teller->modes[i] = set ? answer->routine.source->starts[i].mode : SITE_NONE;
    }
    for (size_t i = 0; i < end; i++) {
        follow_modes(teller, &answer->story[i]);
    }
}

void teller_add(
        struct teller *teller, int32_t at_s, struct text what, struct text because, bool bad) {
    struct story_line *line = &teller->lines[teller->count];
    assert(teller->count < teller->capacity);
    *line = (struct story_line){.at_s = at_s, .what = what, .because = because, .bad = bad};
    if (at_s != teller->clock_s) {
        struct text_builder clock;
        text_builder_init(&clock, teller->arena);
        words_add_instant(&clock, teller->answer->routine.begins_s, at_s);
        line->clock = text_built(&clock);
        teller->clock_s = at_s;
    }
    teller->count++;
}

static void tell_happening(struct teller *teller, const struct happening *happening) {
    const struct proof_line *story = teller->answer->story;
    size_t first = happening->first;
    for (size_t i = happening->first; i < happening->end; i++) {
        follow_modes(teller, &story[i]);
    }
    tell_head(teller, happening->first, happening->end);
    if (story[first].kind != PROOF_LINE_OUTPUT) {
        first++;
        /* The news of the act itself stands beside it. */
        first += story[happening->first].kind == PROOF_LINE_ACT && first < happening->end &&
                story[first].kind == PROOF_LINE_LEVEL;
    }
    for (size_t i = first; i < happening->end; i++) {
        tell_answer(teller, i, happening->first, happening->end);
    }
}

outcome story_tell(const struct site *site, const struct proof_answer *answer, enum story_form form,
        struct arena *arena, struct story *ret_story, struct problem *ret_problem) {
    struct teller teller;
    teller_begin(&teller, site, answer, 0);
    teller.form = form;
    teller.arena = arena;
    teller.capacity = 2 * answer->story_count + 2;
    struct happening *happenings = ARENA_ARRAY(arena, struct happening, answer->story_count + 1);
    teller.lines = ARENA_ARRAY(arena, struct story_line, teller.capacity);
    if (happenings == NULL || teller.lines == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to tell the story");
    }
    if (answer->story_count > 0) {
        const size_t count = gather(&teller, happenings);
        choose(&teller, happenings, count);
        tell_start(&teller);
        for (size_t i = 0; i < count; i++) {
            if (form != STORY_SHORT || happenings[i].kept) {
                tell_happening(&teller, &happenings[i]);
            }
        }
    }
    if (arena->refused) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to tell the story");
    }
    *ret_story = (struct story){.lines = teller.lines, .count = teller.count};
    return outcome_good();
}

void story_lay_out(const struct story *story, size_t indent, struct layout *layout) {
    size_t clock = 0;
    for (size_t i = 0; i < story->count; i++) {
        const size_t columns = text_cells(story->lines[i].clock);
        clock = columns > clock ? columns : clock;
    }
    story_lay_out_beside(story, indent, clock, layout);
}

void story_lay_out_beside(
        const struct story *story, size_t indent, size_t clock, struct layout *layout) {
    enum { GAP = 2, WHAT = 22, BELOW = 2 };
    const size_t what_at = indent + clock + GAP;
    for (size_t i = 0; i < story->count; i++) {
        const struct story_line *line = &story->lines[i];
        layout_to(layout, indent > 2 && line->bad ? indent - 2 : indent);
        if (line->bad && indent > 2) {
            layout_put_string(layout, "! ", LAYOUT_BAD);
        }
        layout_to(layout, indent + clock - text_cells(line->clock));
        layout_put(layout, line->clock, LAYOUT_PLAIN);
        layout_to(layout, what_at);
        layout_words(layout, line->what, what_at + BELOW, line->bad ? LAYOUT_BAD : LAYOUT_PLAIN);
        if (line->because.length > 0) {
            /* Beside it where it fits whole, else below: narrow columns of torn words are hard to read. */
            const size_t beside =
                    layout->column + GAP > what_at + WHAT ? layout->column + GAP : what_at + WHAT;
            const bool fits = beside + text_cells(line->because) <= layout->width;
            if (!fits) {
                layout_end_line(layout);
            }
            layout_to(layout, fits ? beside : what_at + BELOW);
            layout_words(layout, line->because, what_at + BELOW, LAYOUT_PLAIN);
        }
        layout_end_line(layout);
    }
}
