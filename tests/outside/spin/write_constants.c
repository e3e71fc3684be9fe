/* From a site to the numbers of the model; the order is that of constants.def. */
#include "referee.h"

#include <string.h>

enum { STEPS_MOST = 12, ZONES_MOST = 5, PEOPLE_MOST = 6, AREAS_MOST = 2, DELAYS_MOST = 2 };
enum { MODEL_OUT, MODEL_ENTRY, MODEL_PERIMETER, MODEL_FOLLOWER, MODEL_INTERIOR };
enum {
    MODEL_WAIT,
    MODEL_OPEN,
    MODEL_CLOSE,
    MODEL_PASS,
    MODEL_UNSET,
    MODEL_SET,
    MODEL_PATH_LOST,
    MODEL_PATH_BACK
};
enum { NOTHING = -1 };

#define NUMBER(which) int which;
#define NUMBERS(which, count) int which[count];
struct constants {
#include "constants.def"
};
#undef NUMBER
#undef NUMBERS

static int model_behaviour(enum site_behaviour behaviour) {
    return behaviour == SITE_OUT          ? MODEL_OUT
            : behaviour == SITE_ENTRY     ? MODEL_ENTRY
            : behaviour == SITE_PERIMETER ? MODEL_PERIMETER
            : behaviour == SITE_FOLLOWER  ? MODEL_FOLLOWER
            : behaviour == SITE_INTERIOR  ? MODEL_INTERIOR
                                          : NOTHING;
}

static int model_act(enum site_act act) {
    return act == SITE_ACT_WAIT         ? MODEL_WAIT
            : act == SITE_ACT_OPEN      ? MODEL_OPEN
            : act == SITE_ACT_CLOSE     ? MODEL_CLOSE
            : act == SITE_ACT_PASS      ? MODEL_PASS
            : act == SITE_ACT_UNSET     ? MODEL_UNSET
            : act == SITE_ACT_SET       ? MODEL_SET
            : act == SITE_ACT_PATH_LOST ? MODEL_PATH_LOST
            : act == SITE_ACT_PATH_BACK ? MODEL_PATH_BACK
                                        : NOTHING;
}

static int model_sign(enum site_sign sign) {
    return sign == SITE_SIGN_NONE          ? 0
            : sign == SITE_SIGN_SET        ? 1
            : sign == SITE_SIGN_UNSET      ? 2
            : sign == SITE_SIGN_EXIT_TONE  ? 3
            : sign == SITE_SIGN_ENTRY_TONE ? 4
            : sign == SITE_SIGN_SIREN      ? 5
            : sign == SITE_SIGN_READY      ? 6
            : sign == SITE_SIGN_NOT_READY  ? 7
                                           : NOTHING;
}

static bool covers_zone(
        const struct site *site, const struct site_zone *zone, const char **ret_why) {
    const struct site_device *device = &site->devices[zone->device];
    const struct site_device_profile *profile = &site->device_profiles[device->profile];
    *ret_why = "a zone";
    return zone->serves == 0 && zone->cross_with == SITE_NONE && zone->pulse_count <= 1 &&
            !zone->supervised && zone->loop_response_ms == 0 &&
            zone->reports == site->zones[0].reports && zone->delay[0] < DELAYS_MOST &&
            zone->delay[1] < DELAYS_MOST && (zone->follows >> DELAYS_MOST) == 0 &&
            model_behaviour(zone->in[0]) >= 0 && model_behaviour(zone->in[1]) >= 0 &&
            model_behaviour(zone->behaviour) >= 0 &&
            (profile->sense == SITE_CONTACT || profile->sense == SITE_MOTION) &&
            profile->hold.high_s == 0 && profile->sleep.high_s == 0 &&
            profile->latency.high_s == 0 && device->door < 8;
}

static bool covers_step(
        const struct site *site, const struct site_step *step, const char **ret_why) {
    *ret_why = "a step";
    return step->has_in && !step->has_at && step->who < PEOPLE_MOST && model_act(step->act) >= 0 &&
            model_sign(step->when) >= 0 && model_sign(step->if_sign) >= 0 &&
            step->use == SITE_USE_CODE && step->areas == 0 && step->mode <= SITE_MODE_PART &&
            (step->when == SITE_SIGN_NONE || step->when_area >= 0) &&
            (step->if_sign == SITE_SIGN_NONE || step->if_area >= 0) &&
            (step->act != SITE_ACT_PASS ||
                    site->devices[site->zones[step->zone].device].door == SITE_NONE);
}

/* An inside warning is excused by a trouble that is announced: what follows it is not in the model. */
static bool covers_expects(const struct site *site) {
    const uint32_t known = SITE_EXPECT_SIREN | SITE_EXPECT_ALARM | SITE_EXPECT_TROUBLE;
    const uint32_t expects = site->routines[0].expects;
    return (expects & ~known) == 0 &&
            ((expects & SITE_EXPECT_TROUBLE) == 0 ||
                    site->settings.off_route == SITE_OFF_ROUTE_NOW);
}

bool referee_covers(const struct site *site, const char **ret_why) {
    const struct site_routine *routine = &site->routines[0];
    const struct site_settings *settings = &site->settings;
    size_t steps_of[PEOPLE_MOST] = {0};
    *ret_why = "counts";
    if (site->zone_count == 0 || site->zone_count > ZONES_MOST ||
            site->person_count > PEOPLE_MOST || site->area_count > AREAS_MOST ||
            settings->delay_count > DELAYS_MOST || routine->doors_open != 0) {
        return false;
    }
    *ret_why = "a setting";
    if (settings->swinger_limit != 0 || settings->confirm_window_s != 0 ||
            settings->lockout_tries != 0 || settings->exit_trip != SITE_EXIT_TRIP_ALARM ||
            settings->completion != SITE_COMPLETE_TIME || settings->code_acts != SITE_CODE_KEYPAD ||
            settings->auto_set_at_s >= 0 || settings->early_warning ||
            settings->siren_hold_back_s != 0 || !covers_expects(site)) {
        return false;
    }
    *ret_why = "a person";
    for (size_t i = 0; i < site->person_count; i++) {
        if (site->people[i].has_hours || site->people[i].stops_at_faults) {
            return false;
        }
    }
    for (size_t i = 0; i < site->zone_count; i++) {
        if (!covers_zone(site, &site->zones[i], ret_why)) {
            return false;
        }
    }
    for (size_t i = 0; i < routine->step_count; i++) {
        if (!covers_step(site, &routine->steps[i], ret_why) ||
                ++steps_of[routine->steps[i].who] > STEPS_MOST) {
            return false;
        }
    }
    *ret_why = "";
    return true;
}

static void put_settings(const struct site *site, int32_t scale, struct constants *c) {
    const struct site_settings *settings = &site->settings;
    const int32_t tenths = settings->tolerance_tenths;
    const struct span siren = span_tolerant(settings->siren_time_s * scale, tenths);
    const struct span abort_window = span_tolerant(settings->abort_window_s * scale, tenths);
    c->ZONES = (int)site->zone_count;
    c->OFF_ROUTE_EN = settings->off_route == SITE_OFF_ROUTE_EN;
    c->SECOND_KEEPS = settings->second_entry == SITE_SECOND_KEEP;
    c->ENTRY_OPEN_ALLOWED = settings->entry_open_allowed;
    c->EXIT_RESTART = settings->exit_restart;
    c->DROP_TO_PART = settings->drop_to_part;
    c->FAULTS_REFUSE = settings->faults == SITE_FAULT_REFUSE;
    c->SIREN_LOW = siren.low_s;
    c->SIREN_HIGH = siren.high_s;
    c->ABORT_LOW = abort_window.low_s;
    c->ABORT_HIGH = abort_window.high_s;
    for (int mode = SITE_MODE_FULL; mode <= SITE_MODE_PART; mode++) {
        const struct span time = span_tolerant(settings->modes[mode].exit_delay_s * scale, tenths);
        c->EXIT_LOW[mode + 1] = time.low_s;
        c->EXIT_HIGH[mode + 1] = time.high_s;
    }
    for (size_t i = 0; i < settings->delay_count; i++) {
        const struct span time = span_tolerant(settings->delays[i].seconds_s * scale, tenths);
        c->ENTRY_LOW[i] = time.low_s;
        c->ENTRY_HIGH[i] = time.high_s;
    }
    for (size_t a = 0; a < site->area_count; a++) {
        const struct site_start *start = &site->routines[0].starts[a];
        c->STARTS[a] = start->set ? start->mode + 1 : 0;
    }
}

static void put_zones(const struct site *site, int32_t scale, struct constants *c) {
    for (size_t i = 0; i < site->zone_count; i++) {
        const struct site_zone *zone = &site->zones[i];
        const struct site_device *device = &site->devices[zone->device];
        const struct span hold =
                span_tolerant(zone->hold_s * scale, site->settings.tolerance_tenths);
        c->CONTACT[i] = site->device_profiles[device->profile].sense == SITE_CONTACT;
        c->DOOR[i] = device->door == SITE_NONE ? 7 : device->door;
        c->AREA[i] = zone->area;
        for (int mode = SITE_MODE_FULL; mode <= SITE_MODE_PART; mode++) {
            c->BEHAVIOUR[(mode + 1) * ZONES_MOST + (int)i] = model_behaviour(zone->in[mode]);
            c->DELAY[(mode + 1) * ZONES_MOST + (int)i] = zone->delay[mode];
        }
        c->FOLLOWS[i] = (int)zone->follows;
        c->HOLD_LOW[i] = hold.low_s;
        c->HOLD_HIGH[i] = hold.high_s;
        c->REPORTS[i] = zone->reports;
    }
}

/* Where the written step stands in its person's own order. */
static int own_index(const struct site_routine *routine, int written) {
    int index = 0;
    for (int i = 0; i < written; i++) {
        index += routine->steps[i].who == routine->steps[written].who;
    }
    return index;
}

static bool may_set(const struct site_person *person, int mode) {
    return person->modes == 0 || (person->modes >> mode & 1U) != 0;
}

static void put_steps(const struct site *site, int32_t scale, struct constants *c) {
    const struct site_routine *routine = &site->routines[0];
    for (int i = 0; i < (int)routine->step_count; i++) {
        const struct site_step *step = &routine->steps[i];
        const int at = step->who * STEPS_MOST + own_index(routine, i);
        c->STEP_COUNT[step->who]++;
        c->ACT[at] = model_act(step->act);
        c->WHAT[at] = step->act == SITE_ACT_SET ? step->mode + 1
                : step->act == SITE_ACT_PASS    ? step->zone
                                                : step->door;
        c->WHERE[at] = step->keypad == SITE_NONE
                ? 0
                : (int)(site->keypads[step->keypad].areas & site->people[step->who].areas);
        c->MAY_SET[at] = may_set(&site->people[step->who], step->mode);
        c->STEP_LOW[at] = step->in.low_s * scale;
        c->STEP_HIGH[at] = step->in.high_s * scale;
        c->MAYBE[at] = step->maybe;
        c->WHEN[at] = model_sign(step->when);
        c->WHEN_AREA[at] = step->when == SITE_SIGN_NONE ? 0 : step->when_area;
        c->IF[at] = model_sign(step->if_sign);
        c->IF_AREA[at] = step->if_sign == SITE_SIGN_NONE ? 0 : step->if_area;
        c->IF_NOT[at] = step->if_not;
        c->AFTER_PERSON[at] =
                step->after_step == SITE_NONE ? NOTHING : routine->steps[step->after_step].who;
        c->AFTER_STEP[at] =
                step->after_step == SITE_NONE ? NOTHING : own_index(routine, step->after_step);
    }
}

static void write_numbers(const int *numbers, size_t count, FILE *out) {
    for (size_t i = 0; i < count; i++) {
        fprintf(out, "%d\n", numbers[i]);
    }
}

/* A verifier for fewer people reads fewer numbers: the first ones of each array. */
static void write_all(const struct constants *c, int people, FILE *out) {
#define NUMBER(which) write_numbers(&c->which, 1, out);
#define NUMBERS(which, count) write_numbers(c->which, (size_t)(count), out);
#define PEOPLE_MOST people
#include "constants.def"
#undef PEOPLE_MOST
#undef NUMBER
#undef NUMBERS
}

void referee_write_constants(
        const struct site *site, const struct referee_question *question, FILE *out) {
    const int32_t scale = question->scale > 1 ? question->scale : 1;
    struct constants c;
    memset(&c, 0, sizeof c);
    c.JUMP = question->jump;
    c.ASSERTED = (int)question->promises;
    c.EXPECTED = ((site->routines[0].expects & SITE_EXPECT_SIREN) != 0 ? REFEREE_SIREN : 0) |
            ((site->routines[0].expects & SITE_EXPECT_ALARM) != 0 ? REFEREE_ALARM : 0) |
            ((site->routines[0].expects & SITE_EXPECT_TROUBLE) != 0 ? REFEREE_TROUBLE : 0);
    put_settings(site, scale, &c);
    put_zones(site, scale, &c);
    for (int i = 0; i < PEOPLE_MOST * STEPS_MOST; i++) {
        c.AFTER_PERSON[i] = c.AFTER_STEP[i] = NOTHING;
    }
    put_steps(site, scale, &c);
    write_all(&c, question->people == 0 ? 2 : (int)question->people, out);
}
