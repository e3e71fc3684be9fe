#include "check/story_lines.h"

#include <stdint.h>

static int delay_of(const struct teller *teller, int zone, int mode) {
    return zone == SITE_NONE || mode == SITE_NONE ? SITE_NONE
                                                  : teller->site->zones[zone].delay[mode];
}

/* The line that broke the promise; SIZE_MAX: none is marked. */
static size_t find_bad(const struct proof_answer *answer) {
    for (size_t i = 0; i < answer->story_count; i++) {
        if (answer->story[i].bad) {
            return i;
        }
    }
    return SIZE_MAX;
}

static int door_of(const struct site *site, int zone) {
    return zone == SITE_NONE ? SITE_NONE : site_zone_door(site, &site->zones[zone]);
}

/* Whether the panel knows that this door was opened: some entry zone of the area on it was heard in lines first ..
 * end - 1, or there is none to be heard. */
static bool was_heard(const struct site *site, const struct proof_answer *answer, int door,
        int area, size_t first, size_t end) {
    bool any = false;
    for (size_t zone = 0; zone < site->zone_count; zone++) {
        if (site->zones[zone].area != area || site->zones[zone].behaviour != SITE_ENTRY ||
                door_of(site, (int)zone) != door) {
            continue;
        }
        any = true;
        for (size_t i = first; i < end; i++) {
            if (answer->story[i].kind == PROOF_LINE_LEVEL && answer->story[i].zone == zone &&
                    answer->story[i].open) {
                return true;
            }
        }
    }
    return !any;
}

/* A door opened a moment before the end whose message was overtaken. */
static int find_overtaken(
        const struct site *site, const struct proof_answer *answer, size_t end, int area) {
    enum { MOMENT_S = 10 };
    for (size_t i = end;
            i-- > 0 && answer->story[end - 1].at_s - answer->story[i].at_s <= MOMENT_S;) {
        const struct proof_line *line = &answer->story[i];
        if (line->kind != PROOF_LINE_ACT || line->left_out) {
            continue;
        }
        const struct proof_step *step = &answer->routine.steps[line->step];
        if (step->act == SITE_ACT_OPEN && !was_heard(site, answer, step->door, area, i, end)) {
            return step->door;
        }
    }
    return SITE_NONE;
}

/* The zone's door, if the last that was done with it before the end was to close it: the panel has not heard. */
static int find_closed(
        const struct site *site, const struct proof_answer *answer, size_t end, int zone) {
    const int door = door_of(site, zone);
    for (size_t i = end; i-- > 0 && door != SITE_NONE;) {
        const struct proof_line *line = &answer->story[i];
        if (line->kind != PROOF_LINE_ACT || line->left_out) {
            continue;
        }
        const struct proof_step *step = &answer->routine.steps[line->step];
        if (step->door == door && (step->act == SITE_ACT_OPEN || step->act == SITE_ACT_CLOSE)) {
            return step->act == SITE_ACT_CLOSE ? door : SITE_NONE;
        }
    }
    return SITE_NONE;
}

/* Whether a zone on this door says in this mode that somebody left. */
static bool is_exit_door(const struct site *site, int door, int area, int mode) {
    for (size_t zone = 0; zone < site->zone_count; zone++) {
        if (site->zones[zone].area == area && site->zones[zone].in[mode] == SITE_ENTRY &&
                door_of(site, (int)zone) == door) {
            return true;
        }
    }
    return false;
}

/* The first door that whoever set last opens after that, if no entry zone of the area is on it. */
static int find_unwatched(
        const struct site *site, const struct proof_answer *answer, size_t end, int area) {
    for (size_t i = end; i-- > 0;) {
        const struct proof_line *line = &answer->story[i];
        if (line->kind != PROOF_LINE_ACT || line->left_out ||
                answer->routine.steps[line->step].act != SITE_ACT_SET) {
            continue;
        }
        const struct proof_step *set = &answer->routine.steps[line->step];
        for (size_t step = line->step + 1; step < answer->routine.step_count; step++) {
            const struct proof_step *next = &answer->routine.steps[step];
            if (next->who == set->who && next->act == SITE_ACT_OPEN) {
                return next->door == SITE_NONE || set->mode < 0 ||
                                is_exit_door(site, next->door, area, set->mode)
                        ? SITE_NONE
                        : next->door;
            }
        }
        return SITE_NONE;
    }
    return SITE_NONE;
}

/* Whether the step moves what the zone's device senses. */
static bool moves_zone(const struct site *site, const struct proof_step *step, int zone) {
    const bool door_moves = step->act == SITE_ACT_OPEN || step->act == SITE_ACT_CLOSE;
    return door_moves ? step->door != SITE_NONE && step->door == door_of(site, zone)
                      : step->zone == zone;
}

size_t story_mover(
        const struct site *site, const struct proof_answer *answer, size_t end, int zone) {
    size_t news = end;
    while (news > 0 && answer->story[news - 1].kind == PROOF_LINE_OUTPUT) {
        news--;
    }
    if (zone == SITE_NONE || news == 0 || answer->story[news - 1].kind != PROOF_LINE_LEVEL ||
            answer->story[news - 1].zone != zone) {
        return SIZE_MAX;
    }
    for (size_t i = news; i-- > 0;) {
        const struct proof_line *line = &answer->story[i];
        if (line->kind == PROOF_LINE_ACT && !line->left_out &&
                moves_zone(site, &answer->routine.steps[line->step], zone)) {
            return i;
        }
    }
    return SIZE_MAX;
}

/* Who did it: whoever moved what the zone of the last news senses, else whoever acted last. */
static int find_person(
        const struct site *site, const struct proof_answer *answer, size_t end, int zone) {
    const size_t mover = story_mover(site, answer, end, zone);
    for (size_t i = mover == SIZE_MAX ? end : mover + 1; i-- > 0;) {
        const struct proof_line *line = &answer->story[i];
        if (line->kind == PROOF_LINE_ACT && !line->left_out && line->person >= 0 &&
                (size_t)line->person < site->person_count) {
            return line->person;
        }
    }
    return SITE_NONE;
}

/* The areas of the keypad at which the last code was keyed, without those in which it is valid. */
static uint32_t areas_refused(
        const struct site *site, const struct proof_answer *answer, size_t end) {
    for (size_t i = end; i-- > 0;) {
        const struct proof_line *line = &answer->story[i];
        if (line->kind != PROOF_LINE_ACT || line->left_out) {
            continue;
        }
        const struct proof_step *step = &answer->routine.steps[line->step];
        if ((step->act == SITE_ACT_UNSET || step->act == SITE_ACT_SET) && step->keypad >= 0 &&
                (size_t)step->keypad < site->keypad_count && step->who >= 0 &&
                (size_t)step->who < site->person_count) {
            const uint32_t areas =
                    step->areas != 0 ? step->areas : site->keypads[step->keypad].areas;
            return areas & ~site->people[step->who].areas;
        }
    }
    return 0;
}

struct story_cause story_cause_of(const struct site *site, const struct proof_answer *answer) {
    struct story_cause cause = {.why = answer->culprit,
            .zone = SITE_NONE,
            .area = SITE_NONE,
            .person = SITE_NONE,
            .mode = SITE_NONE,
            .delay = SITE_NONE,
            .door = SITE_NONE,
            .overtaken = SITE_NONE,
            .unwatched = SITE_NONE,
            .seconds_s = -1,
            .at_s = -1};
    struct teller teller;
    const size_t bad = find_bad(answer);
    const size_t end = bad == SIZE_MAX ? answer->story_count : bad + 1;
    teller_begin(&teller, site, answer, end);
    cause.zone = teller_zone(&teller, answer->culprit_zone);
    cause.area = teller_area(&teller, answer->culprit_area);
    cause.mode = cause.area == SITE_NONE ? SITE_NONE : teller.modes[cause.area];
    cause.behaviour = teller_behaviour(&teller, cause.zone);
    cause.delay = delay_of(&teller, cause.zone, cause.mode);
    cause.person = find_person(site, answer, end, cause.zone);
    cause.door = door_of(site, cause.zone);
    cause.overtaken = answer->culprit == PANEL_WHY_NOT_READY
            ? find_closed(site, answer, end, cause.zone)
            : find_overtaken(site, answer, end, cause.area);
    cause.areas = areas_refused(site, answer, end);
    cause.unwatched = find_unwatched(site, answer, end, cause.area);
    int32_t began_s = 0;
    const enum panel_timer_kind kind = teller_timer_of_reason(answer->culprit);
    if (end > 0 && kind != PANEL_TIMER_KIND_COUNT) {
        (void)teller_find_start(answer, kind, cause.area, end - 1, &cause.seconds_s, &began_s);
    }
    cause.at_s = end > 0 ? answer->story[end - 1].at_s : -1;
    return cause;
}
