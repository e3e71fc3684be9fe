#include "rehearsal/course.h"

#include "check/words.h"

enum { DAY_S = 86400 };

/** When the calendar sets next, counted from the beginning: as the proof has it. */
static int32_t calendar_of(const struct site *site, const struct proof_routine *routine) {
    const struct site_settings *settings = &site->settings;
    if (settings->auto_set_at_s < 0 || routine->begins_s < 0 || settings->auto_set_area < 0) {
        return -1;
    }
    return (settings->auto_set_at_s - routine->begins_s + DAY_S) % DAY_S;
}

void rehearsal_of_routine(const struct site *site, const struct proof_answer *answer,
        struct rehearsal_course *ret_course) {
    *ret_course = (struct rehearsal_course){.routine = answer->routine,
            .lines = answer->story,
            .count = answer->story_count,
            .calendar_s = calendar_of(site, &answer->routine)};
}

static outcome no_memory(struct problem *ret_problem) {
    FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to rehearse a break-in");
}

/** What the devices report and which timers end, as lines of a routine's story. */
static outcome take_lines(const struct breakin_story *story, struct arena *arena,
        struct rehearsal_course *course, struct problem *ret_problem) {
    struct proof_line *lines = ARENA_ARRAY(arena, struct proof_line, story->line_count + 1);
    if (lines == NULL) {
        return no_memory(ret_problem);
    }
    for (size_t i = 0; i < story->line_count; i++) {
        const struct breakin_line *line = &story->lines[i];
        if (line->kind == BREAKIN_LINE_LEVEL || line->kind == BREAKIN_LINE_TIMER) {
            lines[course->count++] = (struct proof_line){
                    .kind = line->kind == BREAKIN_LINE_LEVEL ? PROOF_LINE_LEVEL : PROOF_LINE_TIMER,
                    .at_s = line->at_s,
                    .person = SITE_NONE,
                    .zone = line->zone,
                    .open = line->open,
                    .timer = line->timer};
        }
    }
    course->lines = lines;
    return outcome_good();
}

/** What he does, without what the panel makes of it: that it says itself. */
static outcome take_acts(const struct story *told, struct arena *arena,
        struct rehearsal_course *course, struct problem *ret_problem) {
    struct story_line *beside = ARENA_ARRAY(arena, struct story_line, told->count + 1);
    if (beside == NULL) {
        return no_memory(ret_problem);
    }
    for (size_t i = 0; i < told->count; i++) {
        if (!told->lines[i].of_panel) {
            struct text_builder clock;
            text_builder_init(&clock, arena);
            words_add_instant(&clock, -1, told->lines[i].at_s);
            beside[course->beside_count] = told->lines[i];
            beside[course->beside_count++].clock = text_built(&clock);
        }
    }
    course->beside = beside;
    return outcome_good();
}

outcome rehearsal_of_break_in(const struct site *site, const struct break_in *it,
        struct arena *arena, struct rehearsal_course *ret_course, struct problem *ret_problem) {
    static const enum rehearsal_end ends[SITE_BREAK_IN_KIND_COUNT] = {
            [SITE_BREAK_IN_THING] = REHEARSAL_GOES_ON,
            [SITE_BREAK_IN_PANEL] = REHEARSAL_SMASHED,
            [SITE_BREAK_IN_LINE] = REHEARSAL_LINE_CUT,
            [SITE_BREAK_IN_POWER] = REHEARSAL_SMASHED,
    };
    const struct site_break_in_goal *goal = &site->break_ins.goals[it->goal];
    struct site_routine *source = ARENA_NEW(arena, struct site_routine);
    if (it->told.count == 0) {
        FAIL(ret_problem, PROBLEM_MISSING, "", "there is no way to %.*s: nothing to rehearse",
                TEXT_ARGS(goal->name));
    }
    if (source == NULL) {
        return no_memory(ret_problem);
    }
    *source = (struct site_routine){.name = goal->name};
    for (size_t area = 0; area < SITE_AREA_MAX; area++) {
        source->starts[area] = site->break_ins.starts[it->start].areas[area];
    }
    *ret_course = (struct rehearsal_course){
            .routine = {.name = goal->name, .source = source, .begins_s = -1},
            .blows = true,
            .calendar_s = -1,
            .end = ends[goal->kind],
            .end_s = it->story.done_s};
    TRY(take_lines(&it->story, arena, ret_course, ret_problem));
    return take_acts(&it->told, arena, ret_course, ret_problem);
}
