/* Joining a routine with its panel: who acts, which zones sit on which door, what is harmless once all is unset. */
#include "panel/panel_tables.h"
#include "proof/world.h"

#include <string.h>

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
        }
    }
}

/* A zone whose trip means nothing while unset. */
static bool quiet_zone(const struct world *world, unsigned zone) {
    const uint8_t behaviour = world->program.zones[zone].unset_behaviour;
    const uint8_t reaction = world->program.tables->reaction[behaviour][PANEL_UNSET];
    return reaction == PANEL_DOES_NOTHING || reaction == PANEL_DOES_CHIME;
}

static bool quiet_door(const struct world *world, int door) {
    for (unsigned zone = 0; door != SITE_NONE && zone < world->program.zone_count; zone++) {
        if (panel_zones_has(&world->of_door[door], zone) && !quiet_zone(world, zone)) {
            return false;
        }
    }
    return true;
}

static bool quiet_unset(const struct world *world, const struct proof_step *step) {
    const uint8_t own = world->program.user_areas[step->who];
    const uint32_t keypad =
            step->keypad == SITE_NONE ? 0xFFU : world->site->keypads[step->keypad].areas;
    const uint32_t asked = step->areas == 0 ? 0xFFU : step->areas;
    const uint32_t where = step->use == SITE_USE_FOB ||
                    world->program.settings.code_acts == SITE_CODE_USER
            ? 0xFFU
            : keypad;
    return !world->program.user_duress[step->who] && (own & asked & where) != 0;
}

static bool quiet_step(const struct world *world, const struct proof_step *step) {
    switch (step->act) {
    case SITE_ACT_WAIT:
    case SITE_ACT_COME:
    case SITE_ACT_GO:
        return true;
    case SITE_ACT_OPEN:
    case SITE_ACT_CLOSE:
        return quiet_door(world, step->door);
    case SITE_ACT_PASS:
        return quiet_zone(world, (unsigned)step->zone);
    case SITE_ACT_UNSET:
        return quiet_unset(world, step);
    case SITE_ACT_SET:
    case SITE_ACT_MISTYPE:
    case SITE_ACT_PRESS:
    case SITE_ACT_BYPASS:
    case SITE_ACT_POSTPONE:
    case SITE_ACT_TAMPER:
    case SITE_ACT_MAINS_LOST:
    case SITE_ACT_MAINS_BACK:
    case SITE_ACT_COUNT:
        break;
    }
    return false;
}

static void find_harmless(struct world *world) {
    for (size_t actor = 0; actor < world->actor_count; actor++) {
        size_t position = world->list_counts[actor];
        world->harmless[actor][position] = true;
        while (position > 0) {
            position--;
            world->harmless[actor][position] = world->harmless[actor][position + 1] &&
                    quiet_step(world, &world->routine->steps[world->lists[actor][position]]);
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
    }
    TRY(list_actors(ret_world, ret_problem));
    place_devices(ret_world);
    find_harmless(ret_world);
    return outcome_good();
}
