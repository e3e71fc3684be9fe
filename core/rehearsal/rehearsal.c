#include "rehearsal/rehearsal.h"

#include <string.h>

/* ---- what the panel says ----------------------------------------------------------------------------------------- */

/* As in the proof's stories: of these nobody speaks. */
static bool is_told(const struct panel_output *output) {
    const enum panel_timer_kind kind = panel_timer_kind_of(output->timer);
    const bool of_timer = output->kind == PANEL_OUT_START || output->kind == PANEL_OUT_STOP ||
            output->kind == PANEL_OUT_SHORTEN;
    return !of_timer ||
            (kind != PANEL_TIMER_CANCEL && kind != PANEL_TIMER_RECENT &&
                    kind != PANEL_TIMER_SUPERVISION);
}

static struct proof_line *add_line(
        struct rehearsal *rehearsal, enum proof_line_kind kind, int32_t at_s) {
    struct proof_answer *happened = &rehearsal->happened;
    if (happened->story_count == REHEARSAL_LINE_MAX) {
        rehearsal->full = true;
        return NULL;
    }
    struct proof_line *line = &rehearsal->lines[happened->story_count++];
    *line = (struct proof_line){
            .kind = kind, .at_s = at_s, .person = SITE_NONE, .zone = PANEL_NO_ZONE};
    return line;
}

/* The end of a timer stands before what the panel answers to it. */
static void note_timer(struct rehearsal *rehearsal, int32_t now_s, panel_timer timer) {
    const struct proof_answer *happened = &rehearsal->happened;
    for (size_t i = happened->story_count; i-- > 0;) {
        const struct proof_line *line = &rehearsal->lines[i];
        if (line->kind == PROOF_LINE_OUTPUT && line->at_s == now_s) {
            continue;
        }
        if (line->kind == PROOF_LINE_TIMER && line->at_s == now_s && line->timer == timer) {
            return;
        }
        break;
    }
    struct proof_line *line = add_line(rehearsal, PROOF_LINE_TIMER, now_s);
    if (line != NULL) {
        line->timer = timer;
    }
}

static enum site_behaviour behaviour_of(const struct rehearsal *rehearsal, uint8_t zone) {
    if (zone >= rehearsal->site->zone_count) {
        return SITE_OUT;
    }
    const struct site_zone *it = &rehearsal->site->zones[zone];
    const struct panel_area_state *area = &rehearsal->player.state.areas[it->area];
    return area->phase == PANEL_UNSET || it->in[area->mode] == SITE_OUT ? it->behaviour
                                                                        : it->in[area->mode];
}

static void leaves(struct rehearsal *rehearsal, int32_t now_s, struct event event) {
    if (rehearsal->signal_count == REHEARSAL_SIGNAL_MAX) {
        rehearsal->full = true;
        return;
    }
    rehearsal->signals[rehearsal->signal_count++] = (struct rehearsal_signal){
            .event = event, .at_s = now_s, .behaviour = behaviour_of(rehearsal, event.zone)};
}

static void hear(void *context, int32_t now_s, const struct panel_input *input,
        const struct panel_output *output) {
    struct rehearsal *rehearsal = context;
    if (!is_told(output)) {
        return;
    }
    if (input != NULL && input->kind == PANEL_IN_TIMER) {
        note_timer(rehearsal, now_s, input->timer);
    }
    struct proof_line *line = add_line(rehearsal, PROOF_LINE_OUTPUT, now_s);
    if (line != NULL) {
        line->output = *output;
        line->zone = output->zone;
    }
    if (output->kind == PANEL_OUT_SIGNAL) {
        leaves(rehearsal, now_s, output->event);
    }
}

/* As long as in the story; what it does not see ending lasts beyond it. */
static int32_t choose(void *context, int32_t now_s, const struct panel_output *output) {
    const struct rehearsal *rehearsal = context;
    const struct rehearsal_course *course = &rehearsal->course;
    if (panel_timer_kind_of(output->timer) == PANEL_TIMER_SUPERVISION) {
        return PLAYER_FOREVER_S;
    }
    if (!is_told(output)) {
        return output->seconds_s;
    }
    for (size_t i = rehearsal->next; i < course->count; i++) {
        const struct proof_line *line = &course->lines[i];
        if (line->kind == PROOF_LINE_TIMER && line->timer == output->timer) {
            return line->at_s - now_s;
        }
    }
    const int32_t rest_s =
            rehearsal->next < course->count ? course->lines[course->count - 1].at_s - now_s + 1 : 0;
    return output->seconds_s > rest_s ? output->seconds_s : rest_s;
}

/* ---- what befalls it --------------------------------------------------------------------------------------------- */

/* The path is down while the receiver is away or the line is cut. */
static void settle_path(struct rehearsal *rehearsal) {
    const bool down = rehearsal->away || rehearsal->cut;
    if (down != ((rehearsal->player.state.flags & PANEL_PATH_LOST) != 0)) {
        player_input(&rehearsal->player,
                (struct panel_input){.kind = down ? PANEL_IN_PATH_LOST : PANEL_IN_PATH_BACK,
                        .zone = PANEL_NO_ZONE,
                        .user = PANEL_NOBODY});
    }
}

/* A lost message of a fob never reaches the panel; what a door's contact says stands in its own line. */
static void act(struct rehearsal *rehearsal, const struct proof_line *line) {
    const struct proof_step *step = &rehearsal->course.routine.steps[line->step];
    struct panel_input input;
    if (line->left_out || line->lost || step->mishap != PROOF_MISHAP_NONE) {
        return;
    }
    if (step->act == SITE_ACT_PATH_LOST || step->act == SITE_ACT_PATH_BACK) {
        rehearsal->cut = step->act == SITE_ACT_PATH_LOST;
        settle_path(rehearsal);
    } else if (proof_step_input(rehearsal->site, &rehearsal->program, &rehearsal->player.state,
                       step, &input)) {
        player_input(&rehearsal->player, input);
    }
}

static void level(struct rehearsal *rehearsal, const struct proof_line *line) {
    const bool blow = rehearsal->course.blows && line->open &&
            rehearsal->program.zones[line->zone].sense == SITE_SHOCK;
    player_input(&rehearsal->player,
            (struct panel_input){.kind = blow ? PANEL_IN_GROSS
                            : line->open      ? PANEL_IN_OPEN
                                              : PANEL_IN_CLOSE,
                    .zone = line->zone,
                    .user = PANEL_NOBODY});
}

static void befall(struct rehearsal *rehearsal, const struct proof_line *line) {
    if (line->kind == PROOF_LINE_ACT || line->kind == PROOF_LINE_LEVEL ||
            line->kind == PROOF_LINE_HOURS || line->kind == PROOF_LINE_UNHEARD) {
        struct proof_line *copy = add_line(rehearsal, line->kind, line->at_s);
        if (copy != NULL) {
            *copy = *line;
            copy->bad = false;
        }
    }
    switch (line->kind) {
    case PROOF_LINE_ACT:
        act(rehearsal, line);
        break;
    case PROOF_LINE_LEVEL:
        level(rehearsal, line);
        break;
    case PROOF_LINE_HOURS:
        player_input(&rehearsal->player,
                (struct panel_input){.kind = line->open ? PANEL_IN_HOURS_BEGIN : PANEL_IN_HOURS_END,
                        .user = (uint8_t)line->person});
        break;
    case PROOF_LINE_TIMER:
        (void)player_end_timer(&rehearsal->player, line->timer);
        break;
    case PROOF_LINE_OUTPUT:
    case PROOF_LINE_UNHEARD:
    case PROOF_LINE_END:
        break;
    }
}

static void calendar(struct rehearsal *rehearsal, int32_t at_s) {
    if (rehearsal->calendar_came || rehearsal->course.calendar_s < 0 ||
            rehearsal->course.calendar_s > at_s) {
        return;
    }
    rehearsal->calendar_came = true;
    player_input(&rehearsal->player,
            (struct panel_input){.kind = PANEL_IN_AUTO_DUE,
                    .user = PANEL_NOBODY,
                    .areas = (uint8_t)(1U << (unsigned)rehearsal->site->settings.auto_set_area)});
}

static void come_to_the_end(struct rehearsal *rehearsal, int32_t at_s) {
    const struct rehearsal_course *course = &rehearsal->course;
    if (rehearsal->ended || course->end == REHEARSAL_GOES_ON || at_s < course->end_s) {
        return;
    }
    rehearsal->ended = true;
    if (course->end == REHEARSAL_LINE_CUT) {
        rehearsal->cut = true;
        settle_path(rehearsal);
    }
}

/* ---- the whole --------------------------------------------------------------------------------------------------- */

static struct panel_zones open_at_start(
        const struct site *site, const struct site_routine *source) {
    struct panel_zones open = {{0, 0}};
    for (unsigned zone = 0; zone < site->zone_count; zone++) {
        const int door = site_zone_door(site, &site->zones[zone]);
        if (door >= 0 && door < 32 && panel_bit(source->doors_open, (unsigned)door) &&
                site_sense_is_level(site_zone_sense(site, &site->zones[zone]))) {
            panel_zones_add(&open, zone);
        }
    }
    return open;
}

outcome rehearsal_begin(const struct site *site, const struct rehearsal_course *course,
        struct arena *arena, struct rehearsal *ret_rehearsal, struct problem *ret_problem) {
    struct rehearsal *rehearsal = ret_rehearsal;
    struct proof_line *lines = ARENA_ARRAY(arena, struct proof_line, REHEARSAL_LINE_MAX);
    if (lines == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for a rehearsal");
    }
    memset(rehearsal, 0, sizeof *rehearsal);
    rehearsal->site = site;
    rehearsal->lines = lines;
    rehearsal->happened.story = lines;
    rehearsal->happened.culprit_zone = PANEL_NO_ZONE;
    TRY(panel_program_of_site(site, NULL, &rehearsal->program, ret_problem));
    rehearsal->course = *course;
    rehearsal->happened.routine = course->routine;
    (void)add_line(rehearsal, PROOF_LINE_END, 0); /* how all stands is told at once */
    const struct panel_zones open = open_at_start(site, course->routine.source);
    player_begin(&rehearsal->player, &rehearsal->program, course->routine.source->starts, &open, 0,
            (struct player_hooks){.hear = hear, .choose = choose, .context = rehearsal});
    return outcome_good();
}

void rehearsal_take_course(struct rehearsal *rehearsal, const struct rehearsal_course *course) {
    rehearsal->course = *course;
    rehearsal->happened.routine = course->routine;
    rehearsal->next = 0;
    while (rehearsal->next < course->count &&
            course->lines[rehearsal->next].at_s <= rehearsal->player.now_s) {
        rehearsal->next++;
    }
}

static void earliest(int32_t at_s, bool *ret_any, int32_t *ret_at_s) {
    if (!*ret_any || at_s < *ret_at_s) {
        *ret_at_s = at_s;
    }
    *ret_any = true;
}

/* When the panel is befallen by something for the last time: the story may go on, as its timers end. */
static int32_t last_s(const struct rehearsal_course *course) {
    int32_t last = 0;
    for (size_t i = course->count; last == 0 && i-- > 0;) {
        const enum proof_line_kind kind = course->lines[i].kind;
        last = kind == PROOF_LINE_TIMER || kind == PROOF_LINE_OUTPUT ? 0 : course->lines[i].at_s;
    }
    if (course->beside_count > 0 && course->beside[course->beside_count - 1].at_s > last) {
        last = course->beside[course->beside_count - 1].at_s;
    }
    return last;
}

bool rehearsal_next(const struct rehearsal *rehearsal, int32_t *ret_at_s) {
    const struct rehearsal_course *course = &rehearsal->course;
    const int32_t most_s = last_s(course) + REHEARSAL_AFTER_S;
    struct player_timer due;
    bool any = false;
    if (rehearsal->ended && course->end == REHEARSAL_SMASHED) {
        return false;
    }
    if (rehearsal->next < course->count && course->lines[rehearsal->next].at_s <= most_s) {
        earliest(course->lines[rehearsal->next].at_s, &any, ret_at_s);
    }
    if (rehearsal->next_beside < course->beside_count) {
        earliest(course->beside[rehearsal->next_beside].at_s, &any, ret_at_s);
    }
    if (!rehearsal->ended && course->end != REHEARSAL_GOES_ON) {
        earliest(course->end_s, &any, ret_at_s);
    }
    if (!rehearsal->calendar_came && course->calendar_s >= 0 && course->calendar_s <= most_s) {
        earliest(course->calendar_s, &any, ret_at_s);
    }
    if (player_next_due(&rehearsal->player, &due) && due.ends_s != PLAYER_FOREVER_S &&
            (any || due.ends_s <= most_s)) {
        earliest(due.ends_s, &any, ret_at_s);
    }
    return any;
}

void rehearsal_pass(struct rehearsal *rehearsal, int32_t at_s) {
    const struct rehearsal_course *course = &rehearsal->course;
    player_advance_to(&rehearsal->player, at_s);
    calendar(rehearsal, at_s);
    while (rehearsal->next < course->count && course->lines[rehearsal->next].at_s <= at_s) {
        befall(rehearsal, &course->lines[rehearsal->next++]);
    }
    player_settle(&rehearsal->player);
    while (rehearsal->next_beside < course->beside_count &&
            course->beside[rehearsal->next_beside].at_s <= at_s) {
        rehearsal->next_beside++;
    }
    come_to_the_end(rehearsal, at_s);
}

void rehearsal_path(struct rehearsal *rehearsal, bool lost) {
    rehearsal->away = lost;
    settle_path(rehearsal);
}

bool rehearsal_take_signal(struct rehearsal *rehearsal, struct rehearsal_signal *ret_signal) {
    if (rehearsal->signal_count == 0) {
        return false;
    }
    *ret_signal = rehearsal->signals[0];
    rehearsal->signal_count--;
    memmove(rehearsal->signals, rehearsal->signals + 1,
            rehearsal->signal_count * sizeof rehearsal->signals[0]);
    return true;
}

size_t rehearsal_waiting(const struct rehearsal *rehearsal) {
    return rehearsal->player.state.queued;
}

outcome rehearsal_tell(struct rehearsal *rehearsal, struct arena *arena, struct story *ret_acts,
        struct story *ret_story, struct problem *ret_problem) {
    const struct rehearsal_course *course = &rehearsal->course;
    struct story story;
    TRY(story_tell(rehearsal->site, &rehearsal->happened, STORY_FULL, arena, &story, ret_problem));
    *ret_acts = (struct story){.count = rehearsal->next_beside - rehearsal->told_beside};
    if (ret_acts->count > 0) {
        ret_acts->lines = ARENA_ARRAY(arena, struct story_line, ret_acts->count);
        if (ret_acts->lines == NULL) {
            FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to tell a rehearsal");
        }
        memcpy(ret_acts->lines, course->beside + rehearsal->told_beside,
                ret_acts->count * sizeof *ret_acts->lines);
    }
    *ret_story = (struct story){
            .lines = story.lines + rehearsal->told, .count = story.count - rehearsal->told};
    rehearsal->told = story.count;
    rehearsal->told_beside = rehearsal->next_beside;
    return outcome_good();
}
