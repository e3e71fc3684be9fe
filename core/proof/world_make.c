/* Joining a routine with its panel: who acts, which zones sit on which door, what is harmless once all is unset. */
#include "panel/panel_tables.h"
#include "proof/acts.h"
#include "proof/world.h"

#include <string.h>

/* Nobody else's state need remember a chime. */
static void find_listeners(struct world *world) {
    for (size_t actor = 0; actor < world->actor_count; actor++) {
        for (size_t i = 0; i < world->list_counts[actor]; i++) {
            const struct proof_step *step = &world->routine->steps[world->lists[actor][i]];
            if (step->when == SITE_SIGN_CHIME || step->if_sign == SITE_SIGN_CHIME) {
                world->hears_chime = (uint16_t)(world->hears_chime | 1U << actor);
            }
        }
    }
}

static outcome list_actors(struct world *world, struct problem *ret_problem) {
    const struct proof_routine *routine = world->routine;
    for (size_t i = 0; i < routine->step_count; i++) {
        size_t actor = 0;
        while (actor < world->actor_count && world->actors[actor] != routine->steps[i].who) {
            actor++;
        }
        if (actor == world->actor_count) {
            if (actor == PROOF_ACTOR_MAX) {
                FAIL(ret_problem, PROBLEM_LIMIT, "",
                        "routine \"%.*s\" has more than %d people; make two routines of it",
                        TEXT_ARGS(routine->name), PROOF_ACTOR_MAX);
            }
            world->actors[actor] = (uint8_t)routine->steps[i].who;
            world->actor_count++;
        }
        world->lists[actor][world->list_counts[actor]] = (uint8_t)i;
        world->list_counts[actor]++;
    }
    return outcome_good();
}

/* ---- steps that nobody can tell apart ----------------------------------------------------------------------------
 * A step that changes nothing but time (walking on, waiting, an inside door that nothing watches) and on which nobody
 * waits is joined with the step after it: two draws from a..b and c..d one after the other are one draw from
 * a+c..b+d, whole seconds and all. Exact, and every step less divides the orders of steps to explore. */

static bool changes_nothing(const struct world *world, const struct proof_step *step) {
    if (step->act == SITE_ACT_OPEN || step->act == SITE_ACT_CLOSE) {
        const struct panel_zones *watched = &world->of_door[step->door];
        /* A story without the way out that somebody took would be no story. */
        bool seen = panel_zones_any(watched) || world->site->doors[step->door].outside;
        for (size_t i = 0; i < world->routine->step_count; i++) {
            const struct proof_step *other = &world->routine->steps[i];
            seen = seen || other->when == SITE_SIGN_DOOR_OPEN ||
                    other->if_sign == SITE_SIGN_DOOR_OPEN;
        }
        return !seen;
    }
    return step->act == SITE_ACT_WAIT && step->mishap == PROOF_MISHAP_NONE;
}

static bool waited_for(const struct world *world, size_t index) {
    if (world->goal != NULL && world->goal->stays_away && world->goal->after_step == index) {
        return true;
    }
    for (size_t i = 0; i < world->routine->step_count; i++) {
        if (world->routine->steps[i].after == (int)index) {
            return true;
        }
    }
    return false;
}

static bool plain(const struct proof_step *step) {
    return step->when == SITE_SIGN_NONE && step->if_sign == SITE_SIGN_NONE && !step->maybe &&
            step->after == SITE_NONE;
}

/* The conditional step that a step is left out with, or the step itself. */
static size_t condition_of(const struct world *world, size_t index) {
    for (size_t head = 0; head < index; head++) {
        const struct proof_step *step = &world->routine->steps[head];
        if (!plain(step) && head + step->group >= index) {
            return head;
        }
    }
    return plain(&world->routine->steps[index]) ? PROOF_STEP_MAX : index;
}

static bool may_join(const struct world *world, size_t index, size_t next) {
    const struct proof_step *step = &world->routine->steps[index];
    const struct proof_step *after = &world->routine->steps[next];
    return changes_nothing(world, step) && plain(step) && !waited_for(world, index) &&
            after->when == SITE_SIGN_NONE && after->after == SITE_NONE &&
            after->if_sign != SITE_SIGN_CHIME &&
            (condition_of(world, index) == PROOF_STEP_MAX ||
                    condition_of(world, index) == condition_of(world, next));
}

/* The last step of a list, when it changes nothing: unless the calendar is to find the person still there. */
static bool may_drop(const struct world *world, size_t index) {
    const struct proof_step *step = &world->routine->steps[index];
    return changes_nothing(world, step) && plain(step) && !waited_for(world, index) &&
            world->program.settings.auto_set_at_s < 0;
}

static void join_steps(struct world *world, size_t actor) {
    uint8_t *list = world->lists[actor];
    size_t kept = 0;
    struct span carried = {0, 0};
    for (size_t i = 0; i < world->list_counts[actor]; i++) {
        const size_t index = list[i];
        const struct span in = span_of(
                world->in[index].low_s + carried.low_s, world->in[index].high_s + carried.high_s);
        const bool last = i + 1 == world->list_counts[actor];
        carried = span_of(0, 0);
        if (!world->options.no_calm && !last && may_join(world, index, list[i + 1])) {
            carried = in;
            continue;
        }
        if (!world->options.no_calm && last && may_drop(world, index)) {
            continue;
        }
        world->in[index] = in;
        list[kept] = (uint8_t)index;
        kept++;
    }
    world->list_counts[actor] = (uint8_t)kept;
}

static void count_groups(struct world *world, size_t actor) {
    for (size_t i = 0; i < world->list_counts[actor]; i++) {
        const size_t index = world->lists[actor][i];
        const size_t end = index + world->routine->steps[index].group;
        for (size_t k = i + 1; k < world->list_counts[actor] && world->lists[actor][k] <= end;
                k++) {
            world->group[index]++;
        }
    }
}

static void place_devices(struct world *world) {
    const struct site *site = world->site;
    for (unsigned zone = 0; zone < world->program.zone_count; zone++) {
        const struct site_zone *keyed = &site->zones[zone];
        if (keyed->device == SITE_NONE) {
            continue;
        }
        const struct site_device *device = &site->devices[keyed->device];
        if (device->door != SITE_NONE) {
            panel_zones_add(&world->of_door[device->door], zone);
        }
        if (device->profile != SITE_NONE) {
            const struct site_device_profile *profile = &site->device_profiles[device->profile];
            world->hold[zone] = profile->hold;
            world->sleep[zone] = profile->sleep;
            world->latency[zone] = profile->latency;
            if (profile->radio) {
                panel_zones_add(&world->radio, zone);
            }
        }
    }
}

/* In whole seconds, rounded outward: 300 ms is 0..1 s. How long a trip lasts is the device's hold; where none is
 * stated, a detector is taken to trip for long enough. */
static void place_responses(struct world *world) {
    for (unsigned zone = 0; zone < world->program.zone_count; zone++) {
        const int32_t response_ms = world->site->zones[zone].loop_response_ms;
        const enum site_sense sense = (enum site_sense)world->program.zones[zone].sense;
        if (site_sense_is_level(sense) || world->hold[zone].high_s > 0) {
            world->response[zone] = span_of(response_ms / 1000, (response_ms + 999) / 1000);
        }
    }
}

static void find_quiet_zones(struct world *world) {
    for (unsigned zone = 0; zone < world->program.zone_count; zone++) {
        const uint8_t behaviour = world->program.zones[zone].unset_behaviour;
        const uint8_t reaction = world->program.tables->reaction[behaviour][PANEL_UNSET];
        if (reaction == PANEL_DOES_NOTHING || reaction == PANEL_DOES_CHIME) {
            panel_zones_add(&world->quiet, zone);
        }
    }
}

static bool quiet_door(const struct world *world, int door) {
    for (unsigned zone = 0; door != SITE_NONE && zone < world->program.zone_count; zone++) {
        if (panel_zones_has(&world->of_door[door], zone) && !panel_zones_has(&world->quiet, zone)) {
            return false;
        }
    }
    return true;
}

/* ---- hours ------------------------------------------------------------------------------------------------------ */

static bool keys(const struct proof_step *step) {
    return act_kind_of(step->act)->keyed;
}

bool proof_leaves_hours_out(const struct site *site, const struct proof_routine *routine) {
    for (size_t i = 0; routine->begins_s < 0 && i < routine->step_count; i++) {
        if (keys(&routine->steps[i]) && site->people[routine->steps[i].who].has_hours) {
            return true;
        }
    }
    return false;
}

/* How long it can take at most until the actor's last code or fob. What waits for others has no bound. */
static void find_reach(struct world *world, size_t actor) {
    size_t position = world->list_counts[actor];
    int32_t *reach_s = world->reach_s[actor];
    reach_s[position] = -1;
    while (position > 0) {
        position--;
        const size_t index = world->lists[actor][position];
        const struct proof_step *step = &world->routine->steps[index];
        const int32_t rest_s = reach_s[position + 1];
        const int64_t sum_s = (int64_t)world->in[index].high_s + (rest_s < 0 ? 0 : rest_s);
        const bool waits = step->when != SITE_SIGN_NONE || step->after != SITE_NONE;
        reach_s[position] = rest_s < 0 && !keys(step) ? -1
                : waits || sum_s >= WORLD_UNBOUNDED_S ? WORLD_UNBOUNDED_S
                                                      : (int32_t)sum_s;
    }
}

static bool has_hours(const struct site_person *person) {
    return person->has_hours && person->hours.high_s - person->hours.low_s < WORLD_DAY_S;
}

static void find_hours(struct world *world) {
    for (size_t actor = 0; actor < PROOF_ACTOR_MAX; actor++) {
        world->hours_of[actor] = WORLD_NO_HOURS;
    }
    for (size_t actor = 0; actor < world->actor_count; actor++) {
        const struct site_person *person = &world->site->people[world->actors[actor]];
        find_reach(world, actor);
        if (world->routine->begins_s < 0 || !has_hours(person) || world->reach_s[actor][0] < 0) {
            continue;
        }
        size_t first = 0;
        while (first < actor) {
            const struct site_person *other = &world->site->people[world->actors[first]];
            if (world->hours_of[first] != WORLD_NO_HOURS &&
                    other->hours.low_s == person->hours.low_s &&
                    other->hours.high_s == person->hours.high_s) {
                break;
            }
            first++;
        }
        world->hours_of[actor] = (uint8_t)first;
    }
}

static bool may_be_turned_away(const struct world *world, int who) {
    for (size_t actor = 0; actor < world->actor_count; actor++) {
        if (world->actors[actor] == who) {
            return world->hours_of[actor] != WORLD_NO_HOURS;
        }
    }
    return false;
}

/* ---- what is harmless ------------------------------------------------------------------------------------------- */

static bool quiet_unset(const struct world *world, const struct proof_step *step) {
    if (may_be_turned_away(world, step->who)) {
        return false;
    }
    const uint8_t own = world->program.user_areas[step->who];
    const uint32_t keypad =
            step->keypad == SITE_NONE ? 0xFFU : world->site->keypads[step->keypad].areas;
    const uint32_t asked = step->areas == 0 ? 0xFFU : step->areas;
    const uint32_t where =
            step->use == SITE_USE_FOB || world->program.settings.code_acts == SITE_CODE_USER
            ? 0xFFU
            : keypad;
    return !world->program.user_duress[step->who] && (own & asked & where) != 0;
}

static bool quiet_step(const struct world *world, const struct proof_step *step) {
    if (step->mishap != PROOF_MISHAP_NONE) {
        return false;
    }
    switch (act_kind_of(step->act)->does) {
    case ACT_DOES_NOTHING:
        return true;
    case ACT_DOES_MOVE:
        return act_kind_of(step->act)->on == ACT_ON_DOOR
                ? quiet_door(world, step->door)
                : panel_zones_has(&world->quiet, (unsigned)step->zone);
    case ACT_DOES_UNSET:
        return quiet_unset(world, step);
    case ACT_DOES_PRESS:
    case ACT_DOES_REQUEST:
    case ACT_DOES_OTHER:
        break;
    }
    return false;
}

static void find_harmless(struct world *world) {
    for (size_t i = 0; i < world->routine->step_count; i++) {
        world->quiet_step[i] = quiet_step(world, &world->routine->steps[i]);
    }
    for (size_t actor = 0; actor < world->actor_count; actor++) {
        size_t position = world->list_counts[actor];
        world->harmless[actor][position] = true;
        while (position > 0) {
            position--;
            world->harmless[actor][position] = world->harmless[actor][position + 1] &&
                    world->quiet_step[world->lists[actor][position]];
        }
    }
}

outcome world_make(const struct site *site, const struct panel_tables *tables,
        const struct proof_routine *routine, const struct proof_options *options,
        struct panel_outputs *outputs, struct world *ret_world, struct problem *ret_problem) {
    memset(ret_world, 0, sizeof *ret_world);
    TRY(panel_program_of_site(site, tables, &ret_world->program, ret_problem));
    ret_world->site = site;
    ret_world->routine = routine;
    ret_world->expects = routine->source->expects;
    ret_world->outputs = outputs;
    if (options != NULL) {
        ret_world->options = *options;
        ret_world->goal = options->goal;
    }
    TRY(list_actors(ret_world, ret_problem));
    place_devices(ret_world);
    place_responses(ret_world);
    for (size_t i = 0; i < routine->step_count; i++) {
        ret_world->in[i] = routine->steps[i].in;
    }
    for (size_t actor = 0; actor < ret_world->actor_count; actor++) {
        join_steps(ret_world, actor);
        count_groups(ret_world, actor);
    }
    find_listeners(ret_world);
    find_quiet_zones(ret_world);
    find_hours(ret_world);
    find_harmless(ret_world);
    moot_find(ret_world, &ret_world->moot);
    return outcome_good();
}
