#include "proof/probe.h"

#include "proof/interval.h"

/* Timers that hurt by ending. The others let things go quiet or be forgotten. */
static bool hurts_by_ending(enum panel_timer_kind kind) {
    return kind == PANEL_TIMER_EXIT || kind == PANEL_TIMER_ENTRY || kind == PANEL_TIMER_ABORT ||
            kind == PANEL_TIMER_WARNING || kind == PANEL_TIMER_FINAL_DOOR ||
            kind == PANEL_TIMER_AUTO_WARN || kind == PANEL_TIMER_HOLD ||
            kind == PANEL_TIMER_MAINS || kind == PANEL_TIMER_HOLD_BACK;
}

static bool is_act(const struct proof_line *line) {
    return line->kind == PROOF_LINE_ACT && !line->left_out;
}

static bool story_did(const struct proof_answer *answer, size_t step) {
    for (size_t i = 0; i < answer->story_count; i++) {
        if (answer->story[i].kind == PROOF_LINE_ACT && answer->story[i].step == step) {
            return true;
        }
    }
    return false;
}

static bool watched_door(const struct world *world, const struct proof_step *step) {
    return (step->act == SITE_ACT_OPEN || step->act == SITE_ACT_CLOSE) &&
            panel_zones_any(&world->of_door[step->door]);
}

/* Whether the code of the step could act on the timer's area. */
static bool unsets_area(const struct world *world, const struct proof_step *step, unsigned area) {
    return step->act == SITE_ACT_UNSET && panel_bit(world->program.user_areas[step->who], area) &&
            (step->areas == 0 || panel_bit(step->areas, area));
}

/* Whether the panel takes the doing of the step as somebody's leaving, where one has to be seen leaving. */
static bool seen_leaving(const struct world *world, const struct proof_step *step, unsigned area) {
    for (unsigned zone = 0; zone < world->program.zone_count; zone++) {
        const struct panel_zone *keyed = &world->program.zones[zone];
        if (interval_concerns(world, step, zone) && panel_bit(keyed->serves, area) &&
                keyed->behaviour[SITE_MODE_FULL] == SITE_ENTRY) {
            return true;
        }
    }
    return false;
}

/* Whether the step, done in time, would have stopped the timer, or made its end a good one. */
static bool crosses(const struct world *world, const struct proof_answer *answer,
        const struct proof_step *step, panel_timer timer) {
    const unsigned index = panel_timer_index_of(timer);
    switch (panel_timer_kind_of(timer)) {
    case PANEL_TIMER_EXIT:
    case PANEL_TIMER_FINAL_DOOR:
        return answer->promise == PROOF_DROPPED ? seen_leaving(world, step, index)
                                                : watched_door(world, step);
    case PANEL_TIMER_HOLD:
        return step->act == SITE_ACT_OPEN && watched_door(world, step);
    case PANEL_TIMER_AUTO_WARN:
        return step->act == SITE_ACT_POSTPONE;
    case PANEL_TIMER_MAINS:
        return step->act == SITE_ACT_MAINS_BACK;
    case PANEL_TIMER_ENTRY:
    case PANEL_TIMER_ABORT:
    case PANEL_TIMER_HOLD_BACK:
    case PANEL_TIMER_WARNING:
        return unsets_area(world, step, index);
    case PANEL_TIMER_CANCEL:
    case PANEL_TIMER_RECENT:
    case PANEL_TIMER_SIREN:
    case PANEL_TIMER_CONFIRM:
    case PANEL_TIMER_AUTO_POSTPONE:
    case PANEL_TIMER_CROSS:
    case PANEL_TIMER_SWINGER:
    case PANEL_TIMER_SUPERVISION:
    case PANEL_TIMER_PULSE_1:
    case PANEL_TIMER_PULSE_2:
    case PANEL_TIMER_PULSE_3:
    case PANEL_TIMER_PULSE_4:
    case PANEL_TIMER_LOCKOUT:
    case PANEL_TIMER_POWER_MASK:
    case PANEL_TIMER_KIND_COUNT:
        break;
    }
    return false;
}

/* Whose time it was: who asked to set (exit time), or whose act started the timer. */
static int whose(const struct world *world, const struct proof_answer *answer, size_t end,
        panel_timer timer) {
    const bool exit = panel_timer_kind_of(timer) == PANEL_TIMER_EXIT;
    bool started = false;
    for (size_t i = end; i-- > 0;) {
        const struct proof_line *line = &answer->story[i];
        started = started ||
                (line->kind == PROOF_LINE_OUTPUT && line->output.kind == PANEL_OUT_START &&
                        line->output.timer == timer);
        if (is_act(line) &&
                (exit ? world->routine->steps[line->step].act == SITE_ACT_SET : started)) {
            return line->person;
        }
    }
    return SITE_NONE;
}

static bool first_late(const struct world *world, const struct proof_answer *answer,
        panel_timer timer, int who, size_t *ret_step) {
    for (size_t actor = 0; actor < world->actor_count; actor++) {
        for (size_t i = 0; i < world->list_counts[actor]; i++) {
            const size_t index = world->lists[actor][i];
            const struct proof_step *step = &world->routine->steps[index];
            if ((who == SITE_NONE || step->who == who) && crosses(world, answer, step, timer) &&
                    !story_did(answer, index)) {
                *ret_step = index;
                return true;
            }
        }
    }
    return false;
}

/* The act that came too late: the first one still to come that would have stopped the timer, of the person
 * whose time it was; of anybody where that person has none. An exit time is nobody else's. */
static bool find_late_step(const struct world *world, const struct proof_answer *answer, size_t end,
        panel_timer timer, size_t *ret_step) {
    const int who = whose(world, answer, end, timer);
    if (who != SITE_NONE && first_late(world, answer, timer, who, ret_step)) {
        return true;
    }
    return (who == SITE_NONE || panel_timer_kind_of(timer) != PANEL_TIMER_EXIT) &&
            first_late(world, answer, timer, SITE_NONE, ret_step);
}

/* Whether the act was the first of its person after line `timer`: was under way, that is, when the timer ended. Else
 * the two have nothing to do with each other: an exit time of the morning with a door of the evening. */
static bool was_under_way(
        const struct proof_answer *answer, size_t timer, const struct proof_line *act) {
    for (const struct proof_line *line = &answer->story[timer]; line < act; line++) {
        if (is_act(line) && line->person == act->person) {
            return false;
        }
    }
    return true;
}

static bool is_start(const struct proof_line *line, panel_timer timer) {
    return line->kind == PROOF_LINE_OUTPUT && line->output.kind == PANEL_OUT_START &&
            line->output.timer == timer;
}

/* The step whose doing made line `at`, at once or when the panel heard of it. The end of another timer and the calendar
 * (which alone starts this kind) are nobody's doing. */
static size_t doing_of(const struct world *world, const struct proof_answer *answer, size_t at) {
    const struct proof_line *heard = NULL;
    if (panel_timer_kind_of(answer->story[at].output.timer) == PANEL_TIMER_AUTO_WARN) {
        return PROOF_STEP_MAX;
    }
    for (size_t i = at; i-- > 0;) {
        const struct proof_line *line = &answer->story[i];
        if (heard == NULL && line->kind == PROOF_LINE_TIMER) {
            return PROOF_STEP_MAX;
        }
        if (heard == NULL && line->kind == PROOF_LINE_LEVEL) {
            heard = line;
        }
        if (is_act(line) &&
                (heard == NULL ||
                        (line->moved &&
                                interval_concerns(
                                        world, &world->routine->steps[line->step], heard->zone)))) {
            return line->step;
        }
    }
    return PROOF_STEP_MAX;
}

/* The last start of the timer before line `end`, and which one it is of those that the same step made. */
static bool find_start(const struct world *world, const struct proof_answer *answer, size_t end,
        struct world_probe *probe) {
    size_t last = end;
    while (last > 0 && !is_start(&answer->story[last - 1], probe->timer)) {
        last--;
    }
    if (last == 0) {
        return false;
    }
    probe->from = doing_of(world, answer, last - 1);
    probe->start = 0;
    for (size_t i = 0; i < last; i++) {
        probe->start = (uint8_t)(probe->start +
                (is_start(&answer->story[i], probe->timer) && probe->start < UINT8_MAX &&
                        (probe->from == PROOF_STEP_MAX ||
                                doing_of(world, answer, i) == probe->from)));
    }
    return true;
}

/* An act before line `timer` of which the panel heard only after it, in line `heard`: late as it was on its way. */
static bool find_heard_act(const struct world *world, const struct proof_answer *answer,
        size_t timer, const struct proof_line *heard, size_t *ret_step) {
    for (size_t i = timer; heard != NULL && i-- > 0;) {
        const struct proof_line *line = &answer->story[i];
        if (is_act(line) && line->moved &&
                interval_concerns(world, &world->routine->steps[line->step], heard->zone)) {
            *ret_step = line->step;
            return true;
        }
    }
    return false;
}

bool probe_choose(const struct world *world, const struct proof_answer *answer,
        struct world_probe *ret_probe) {
    const struct proof_line *act = NULL;
    const struct proof_line *heard = NULL;
    for (size_t i = answer->story_count; i-- > 0;) {
        const struct proof_line *line = &answer->story[i];
        if (is_act(line) && act == NULL) {
            act = line;
        }
        if (line->kind == PROOF_LINE_LEVEL && act == NULL && heard == NULL) {
            heard = line;
        }
        if (line->kind != PROOF_LINE_TIMER || !hurts_by_ending(panel_timer_kind_of(line->timer))) {
            continue;
        }
        ret_probe->timer = line->timer;
        if (!find_start(world, answer, i, ret_probe)) {
            return false;
        }
        if (act == NULL) {
            return find_heard_act(world, answer, i, heard, &ret_probe->step) ||
                    find_late_step(world, answer, i, line->timer, &ret_probe->step);
        }
        ret_probe->step = act->step; /* the timer had ended; the act came after it */
        return was_under_way(answer, i, act);
    }
    return false;
}
