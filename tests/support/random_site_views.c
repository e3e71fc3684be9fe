/* A random site seen otherwise: in another order, and as text. */
#include "support/random_site.h"

#include <string.h>

uint64_t random_next(uint64_t *state) {
    *state += 0x9E3779B97F4A7C15U;
    uint64_t value = *state;
    value = (value ^ (value >> 30)) * 0xBF58476D1CE4E5B9U;
    value = (value ^ (value >> 27)) * 0x94D049BB133111EBU;
    return value ^ (value >> 31);
}

/* A random order of 0 .. count - 1; order 0: reversed. Fisher and Yates, as in Durstenfeld 1964. */
static void draw_order(uint64_t *state, bool reversed, size_t count, size_t *ret_order) {
    for (size_t i = 0; i < count; i++) {
        ret_order[i] = reversed ? count - 1 - i : i;
    }
    for (size_t i = count; i > 1 && !reversed; i--) {
        const size_t j = (size_t)(random_next(state) % i);
        const size_t kept = ret_order[i - 1];
        ret_order[i - 1] = ret_order[j];
        ret_order[j] = kept;
    }
}

static void permute_steps(
        const size_t *zone_place, const size_t *person_place, struct site_routine *routine) {
    for (size_t i = 0; i < routine->step_count; i++) {
        struct site_step *step = &routine->steps[i];
        step->who = (int)person_place[step->who];
        if (step->zone != SITE_NONE) {
            step->zone = (int)zone_place[step->zone];
        }
    }
}

bool random_site_permute(
        const struct site *site, uint64_t order, struct arena *arena, struct site *ret_site) {
    size_t zones[SITE_ZONE_MAX];
    size_t people[SITE_PEOPLE_MAX];
    size_t zone_place[SITE_ZONE_MAX];
    size_t person_place[SITE_PEOPLE_MAX];
    uint64_t state = order;
    draw_order(&state, order == 0, site->zone_count, zones);
    draw_order(&state, order == 0, site->person_count, people);
    *ret_site = *site;
    ret_site->zones = ARENA_ARRAY(arena, struct site_zone, site->zone_count);
    ret_site->people = ARENA_ARRAY(arena, struct site_person, site->person_count);
    ret_site->routines = ARENA_ARRAY(arena, struct site_routine, site->routine_count);
    if (ret_site->zones == NULL || ret_site->people == NULL || ret_site->routines == NULL) {
        return false;
    }
    for (size_t i = 0; i < site->zone_count; i++) {
        zone_place[zones[i]] = i;
        ret_site->zones[i] = site->zones[zones[i]];
    }
    for (size_t i = 0; i < site->zone_count; i++) {
        if (ret_site->zones[i].cross_with != SITE_NONE) {
            ret_site->zones[i].cross_with = (int)zone_place[ret_site->zones[i].cross_with];
        }
    }
    for (size_t i = 0; i < site->person_count; i++) {
        person_place[people[i]] = i;
        ret_site->people[i] = site->people[people[i]];
    }
    for (size_t i = 0; i < site->routine_count; i++) {
        struct site_routine *routine = &ret_site->routines[i];
        *routine = site->routines[i];
        routine->steps = ARENA_ARRAY(arena, struct site_step, routine->step_count);
        if (routine->steps == NULL) {
            return false;
        }
        memcpy(routine->steps, site->routines[i].steps,
                routine->step_count * sizeof(struct site_step));
        permute_steps(zone_place, person_place, routine);
    }
    return true;
}

static const char *mode_name(bool set, int mode) {
    return !set ? "unset" : mode == SITE_MODE_FULL ? "set, full" : "set, part";
}

static void print_settings(const struct site *site, struct text_builder *out) {
    const struct site_settings *settings = &site->settings;
    text_add_format(out,
            "exit %d s, part exit %d s, delays %d and %d s, abort %d s, siren %d s, tolerance "
            "%d/10\n",
            settings->modes[SITE_MODE_FULL].exit_delay_s,
            settings->modes[SITE_MODE_PART].exit_delay_s, settings->delays[0].seconds_s,
            settings->delays[1].seconds_s, settings->abort_window_s, settings->siren_time_s,
            settings->tolerance_tenths);
    if (settings->siren_hold_back_s > 0 || settings->mains_jitter_s > 0) {
        text_add_format(out, "siren held back %d s, mains report after %d s, spread by %d s\n",
                settings->siren_hold_back_s, settings->mains_delay_s, settings->mains_jitter_s);
    }
    text_add_format(out, "off-route %s, second entry %s%s%s%s%s\n",
            settings->off_route == SITE_OFF_ROUTE_NOW ? "now" : "en",
            settings->second_entry == SITE_SECOND_SHORTEN ? "shortens" : "kept first",
            settings->motion_blocks ? ", motion blocks" : "",
            settings->entry_open_allowed ? ", entry open allowed" : "",
            settings->exit_restart ? ", exit restart" : "",
            settings->drop_to_part ? ", drop to part" : "");
}

static void print_zone(const struct site *site, size_t i, struct text_builder *out) {
    const struct site_zone *zone = &site->zones[i];
    const int door = site->devices[zone->device].door;
    text_add_format(out, "zone %zu: %s, area %d, full %s (delay %d), part %s (delay %d)", i,
            door == SITE_NONE ? "motion" : "contact", zone->area,
            site_behaviour_name(zone->in[SITE_MODE_FULL]), zone->delay[SITE_MODE_FULL],
            site_behaviour_name(zone->in[SITE_MODE_PART]), zone->delay[SITE_MODE_PART]);
    if (door != SITE_NONE) {
        text_add_format(out, ", door %d", door);
    }
    if (zone->behaviour == SITE_FOLLOWER) {
        text_add_format(out, ", follows %x, hold %d s", (unsigned)zone->follows, zone->hold_s);
    }
    if (zone->loop_response_ms > 0) {
        text_add_format(out, ", loop response %d ms", zone->loop_response_ms);
    }
    if (zone->group.length > 0) {
        text_add_format(out, ", confirms in %.*s", TEXT_ARGS(zone->group));
    }
    text_add_format(out, "%s\n", zone->reports ? "" : ", does not report");
}

static void print_step(const struct site *site, size_t i, struct text_builder *out) {
    const struct site_step *step = &site->routines[0].steps[i];
    text_add_format(out, "step %zu: person %d, %d..%d s: %s", i, step->who, step->in.low_s,
            step->in.high_s, site_act_name(step->act));
    if (step->door != SITE_NONE) {
        text_add_format(out, " door %d", step->door);
    }
    if (step->zone != SITE_NONE) {
        text_add_format(out, " zone %d", step->zone);
    }
    if (step->keypad != SITE_NONE) {
        text_add_format(out, " at keypad %d (areas %x)", step->keypad,
                (unsigned)site->keypads[step->keypad].areas);
    }
    if (step->act == SITE_ACT_SET) {
        text_add_format(out, " %s", step->mode == SITE_MODE_FULL ? "full" : "part");
    }
    if (step->when != SITE_SIGN_NONE) {
        text_add_format(out, ", when %s in area %d", site_sign_name(step->when), step->when_area);
    }
    if (step->if_sign != SITE_SIGN_NONE) {
        text_add_format(out, ", if %s%s in area %d", step->if_not ? "not " : "",
                site_sign_name(step->if_sign), step->if_area);
    }
    if (step->after_step != SITE_NONE) {
        text_add_format(out, ", after step %d", step->after_step);
    }
    text_add_format(out, "%s\n", step->maybe ? ", maybe" : "");
}

static void print_person(const struct site *site, size_t i, struct text_builder *out) {
    const struct site_person *person = &site->people[i];
    if (person->has_hours) {
        text_add_format(out, "person %zu: hours %d..%d s, the routine begins at %d s\n", i,
                person->hours.low_s, person->hours.high_s, site->routines[0].steps[0].at.low_s);
    }
    if (person->modes != 0) {
        text_add_format(out, "person %zu: modes %x\n", i, (unsigned)person->modes);
    }
}

void random_site_print(const struct site *site, struct text_builder *out) {
    print_settings(site, out);
    for (size_t i = 0; i < site->person_count; i++) {
        print_person(site, i, out);
    }
    for (size_t i = 0; i < site->zone_count; i++) {
        print_zone(site, i, out);
    }
    for (size_t a = 0; a < site->area_count; a++) {
        const struct site_start *start = &site->routines[0].starts[a];
        text_add_format(out, "area %zu starts %s\n", a, mode_name(start->set, start->mode));
    }
    for (size_t i = 0; i < site->routines[0].step_count; i++) {
        print_step(site, i, out);
    }
    text_add_format(out, "expects %x\n", (unsigned)site->routines[0].expects);
}
