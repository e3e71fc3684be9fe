/* The list of what could be behind an observation. */
#include "why/inside.h"

#include <string.h>

/* Counting first, then filling: one walk does both. */
struct lister {
    const struct why_plan *plan;
    struct why_hypothesis *list; /* NULL while counting */
    size_t count;
    size_t left_out; /* pairs beyond the bound */
};

static void list(struct lister *lister, struct why_hypothesis hypothesis) {
    if (lister->list != NULL) {
        lister->list[lister->count] = hypothesis;
    }
    lister->count++;
}

static const struct why_hypothesis about_nothing = {.other = WHY_ALONE,
        .routine = WHY_AT_REST,
        .zone = SITE_NONE,
        .door = SITE_NONE,
        .person = SITE_NONE};

static struct why_hypothesis about_zone(enum why_kind kind, size_t routine, int zone) {
    struct why_hypothesis hypothesis = about_nothing;
    hypothesis.kind = kind;
    hypothesis.routine = routine;
    hypothesis.zone = zone;
    return hypothesis;
}

/* ---- accidents of a routine ------------------------------------------------------------------------------------- */

static int radio_zone_on(const struct site *site, int door) {
    for (size_t zone = 0; zone < site->zone_count; zone++) {
        if (why_door_of(site, (int)zone) == door && why_is_radio(site, (int)zone)) {
            return (int)zone;
        }
    }
    return SITE_NONE;
}

static int zone_on(const struct site *site, int door) {
    for (size_t zone = 0; zone < site->zone_count; zone++) {
        if (why_door_of(site, (int)zone) == door) {
            return (int)zone;
        }
    }
    return SITE_NONE;
}

static void list_step(
        struct lister *lister, size_t routine, size_t index, const struct proof_step *step) {
    const struct site *site = &lister->plan->site;
    struct why_hypothesis hypothesis = about_nothing;
    hypothesis.routine = routine;
    hypothesis.step = index;
    hypothesis.person = step->who;
    const bool moves = step->act == SITE_ACT_OPEN || step->act == SITE_ACT_CLOSE;
    if (moves && zone_on(site, step->door) != SITE_NONE) {
        hypothesis.door = step->door;
        hypothesis.zone = zone_on(site, step->door);
        if (step->act == SITE_ACT_CLOSE) {
            hypothesis.kind = WHY_LEFT_OPEN;
            list(lister, hypothesis);
            hypothesis.kind = WHY_NOT_LATCHED;
            list(lister, hypothesis);
        }
        if (radio_zone_on(site, step->door) != SITE_NONE) {
            hypothesis.kind = WHY_MESSAGE_LOST;
            hypothesis.zone = radio_zone_on(site, step->door);
            list(lister, hypothesis);
        }
    } else if ((step->act == SITE_ACT_UNSET || step->act == SITE_ACT_SET) &&
            step->use == SITE_USE_CODE) {
        hypothesis.kind = WHY_MISTYPE;
        list(lister, hypothesis);
    }
}

static outcome list_routine(struct lister *lister, size_t which, struct proof_routine *room,
        struct problem *ret_problem) {
    struct why_hypothesis hypothesis = about_nothing;
    hypothesis.kind = WHY_ROUTINE;
    hypothesis.routine = which;
    TRY(proof_unfold(&lister->plan->site, lister->plan->routines[which].source, room, ret_problem));
    list(lister, hypothesis);
    for (size_t i = 0; i < room->step_count; i++) {
        list_step(lister, which, i, &room->steps[i]);
    }
    hypothesis.kind = WHY_FOB;
    for (size_t person = 0; person < lister->plan->site.person_count; person++) {
        hypothesis.person = (int)person;
        if (lister->plan->site.people[person].has_fob) {
            list(lister, hypothesis);
        }
    }
    return outcome_good();
}

/* ---- accidents that need nobody --------------------------------------------------------------------------------- */

static bool has_animal(const struct site *site) {
    for (size_t i = 0; i < site->person_count; i++) {
        if (site->people[i].animal) {
            return true;
        }
    }
    return false;
}

static void list_of_zone(struct lister *lister, size_t routine, int zone) {
    const struct site *site = &lister->plan->site;
    const enum site_sense sense = why_sense(site, zone);
    const bool warns = sense == SITE_SMOKE || sense == SITE_GAS_SENSE || sense == SITE_WATER;
    list(lister, about_zone(warns ? WHY_REAL : WHY_PERSON, routine, zone));
    if (sense == SITE_MOTION && has_animal(site)) {
        list(lister, about_zone(WHY_PET, routine, zone));
    }
    list(lister, about_zone(WHY_DEVICE, routine, zone));
    list(lister, about_zone(WHY_TAMPER, routine, zone));
    if (why_is_radio(site, zone)) {
        list(lister, about_zone(WHY_UNHEARD, routine, zone));
        list(lister, about_zone(WHY_BATTERY, routine, zone));
    }
}

static bool has_radio(const struct site *site) {
    bool radio = false;
    for (size_t zone = 0; zone < site->zone_count; zone++) {
        radio = radio || why_is_radio(site, (int)zone);
    }
    for (size_t i = 0; i < site->person_count; i++) {
        radio = radio || site->people[i].has_fob;
    }
    return radio;
}

/* The lines in and out of the panel. */
static void list_lines(struct lister *lister, size_t routine) {
    list(lister, about_zone(WHY_MAINS, routine, SITE_NONE));
    list(lister, about_zone(WHY_PATH, routine, SITE_NONE));
    if (has_radio(&lister->plan->site)) {
        list(lister, about_zone(WHY_JAM, routine, SITE_NONE));
    }
}

static void list_at_rest(struct lister *lister) {
    const struct why_plan *plan = lister->plan;
    for (size_t zone = 0; zone < plan->site.zone_count; zone++) {
        if (plan->question.zone == SITE_NONE || plan->question.zone == (int)zone) {
            list_of_zone(lister, WHY_AT_REST, (int)zone);
        }
    }
    list_lines(lister, WHY_AT_REST);
}

/* In a routine only about the zone that was named: a hundred zones in as many routines would drown the answer. */
static void list_in_routines(struct lister *lister) {
    const struct why_plan *plan = lister->plan;
    for (size_t i = 0; i < plan->routine_count; i++) {
        if (plan->question.zone != SITE_NONE) {
            list_of_zone(lister, i, plan->question.zone);
        }
        list_lines(lister, i);
    }
}

static void list_silence(struct lister *lister) {
    const struct why_plan *plan = lister->plan;
    const int zone = plan->question.zone;
    list(lister, about_zone(WHY_KEYED, WHY_AT_REST, zone));
    if (plan->question.stand != WHY_STANDS_SET) {
        list(lister, about_zone(WHY_NOT_SET, WHY_AT_REST, zone));
    }
    if (why_is_radio(&plan->site, zone)) {
        list(lister, about_zone(WHY_TRIP_LOST, WHY_AT_REST, zone));
        list(lister, about_zone(WHY_TRIP_JAMMED, WHY_AT_REST, zone));
    }
    if (plan->site.settings.drop_to_part) {
        list(lister, about_zone(WHY_FELL_BACK, WHY_AT_REST, zone));
    }
    if (plan->site.zones[zone].bypassable) {
        list(lister, about_zone(WHY_BYPASSED, WHY_AT_REST, zone));
    }
    if (plan->site.zones[zone].swinger && plan->site.settings.swinger_limit > 0) {
        list(lister, about_zone(WHY_SWUNG_OUT, WHY_AT_REST, zone));
    }
}

static outcome list_all(struct lister *lister, size_t *ret_second, struct proof_routine *room,
        struct problem *ret_problem) {
    lister->count = 0;
    if (lister->plan->question.what == WHY_NO_SIREN) {
        list_silence(lister);
        *ret_second = lister->count;
        return outcome_good();
    }
    for (size_t i = 0; i < lister->plan->routine_count; i++) {
        TRY(list_routine(lister, i, room, ret_problem));
    }
    list_at_rest(lister);
    *ret_second = lister->count;
    list_in_routines(lister);
    return outcome_good();
}

/* ---- two accidents at once --------------------------------------------------------------------------------------- */

/* What happens by a hand, a door or a message in a routine. */
static bool is_of_step(enum why_kind kind) {
    return kind == WHY_MISTYPE || kind == WHY_LEFT_OPEN || kind == WHY_NOT_LATCHED ||
            kind == WHY_FOB || kind == WHY_MESSAGE_LOST;
}

static bool trips_a_zone(enum why_kind kind) {
    return kind == WHY_PERSON || kind == WHY_REAL || kind == WHY_PET || kind == WHY_DEVICE ||
            kind == WHY_TAMPER;
}

/* The lost path of the routine, or of the empty house; plan->third: there is none. */
static size_t path_of(const struct why_plan *plan, size_t routine) {
    size_t at = 0;
    while (at < plan->third &&
            (plan->list[at].kind != WHY_PATH || plan->list[at].routine != routine)) {
        at++;
    }
    return at;
}

static void list_pair(struct lister *lister, size_t one, size_t other) {
    struct why_hypothesis pair = lister->plan->list[one];
    pair.other = other;
    if (lister->count < WHY_PAIR_MOST) {
        list(lister, pair);
    } else {
        lister->left_out++;
    }
}

/* Those of one routine stand one after the other. Two of one step would undo each other. */
static void list_pairs_of_steps(struct lister *lister) {
    const struct why_plan *plan = lister->plan;
    for (size_t i = 0; i < plan->second; i++) {
        for (size_t k = i + 1; k < plan->second && is_of_step(plan->list[i].kind) &&
                plan->list[k].routine == plan->list[i].routine;
                k++) {
            const bool apart = plan->list[i].step != plan->list[k].step ||
                    plan->list[i].kind == WHY_FOB || plan->list[k].kind == WHY_FOB;
            if (is_of_step(plan->list[k].kind) && apart) {
                list_pair(lister, i, k);
            }
        }
    }
}

/* A lost path explains nothing but what the station was not told. */
static void list_pairs_with_path(struct lister *lister) {
    const struct why_plan *plan = lister->plan;
    size_t routine = WHY_AT_REST;
    size_t path = path_of(plan, routine);
    for (size_t i = 0; i < plan->second && plan->question.what == WHY_NO_SIGNAL; i++) {
        const struct why_hypothesis *it = &plan->list[i];
        if (it->routine != routine) {
            routine = it->routine;
            path = path_of(plan, routine);
        }
        if (path < plan->third &&
                (routine == WHY_AT_REST ? trips_a_zone(it->kind) : is_of_step(it->kind))) {
            list_pair(lister, i, path);
        }
    }
}

static void list_pairs(struct lister *lister) {
    lister->count = 0;
    lister->left_out = 0;
    list_pairs_with_path(lister);
    list_pairs_of_steps(lister);
}

/* Behind the single ones, which they are made of. */
static outcome add_pairs(struct why_plan *plan, struct arena *arena, struct problem *ret_problem) {
    struct lister lister = {.plan = plan};
    void *memory = NULL;
    plan->third = plan->count;
    list_pairs(&lister);
    plan->left_out = lister.left_out;
    if (lister.count == 0) {
        return outcome_good();
    }
    TRY(arena_get(arena, plan->third + lister.count, sizeof(struct why_hypothesis), &memory,
            ret_problem));
    struct why_hypothesis *list = memory;
    memcpy(list, plan->list, plan->third * sizeof *list);
    lister.list = list + plan->third;
    list_pairs(&lister);
    plan->list = list;
    plan->count = plan->third + lister.count;
    return outcome_good();
}

/* ---- how the areas stand when nobody moves ---------------------------------------------------------------------- */

static bool same_starts(
        const struct site *site, const struct site_routine *a, const struct site_routine *b) {
    for (size_t i = 0; i < site->area_count; i++) {
        if (a->starts[i].set != b->starts[i].set ||
                (a->starts[i].set && a->starts[i].mode != b->starts[i].mode)) {
            return false;
        }
    }
    return true;
}

static void add_rest(struct why_plan *plan, const struct site_routine *rest) {
    for (size_t i = 0; i < plan->rest_count; i++) {
        if (same_starts(&plan->site, &plan->rests[i], rest)) {
            return;
        }
    }
    plan->rests[plan->rest_count++] = *rest;
}

/* Everything set in each mode, as the file's routines begin, everything unset. */
static outcome list_rests(struct why_plan *plan, struct arena *arena, struct problem *ret_problem) {
    void *rests = NULL;
    const size_t modes = plan->site.settings.mode_count;
    TRY(arena_get(arena, plan->routine_count + modes + 1, sizeof(struct site_routine), &rests,
            ret_problem));
    plan->rests = rests;
    for (size_t i = 0; i < modes + plan->routine_count + 1; i++) {
        struct site_routine rest = {.name = text_of("nobody comes or goes")};
        if (i < modes) {
            for (size_t area = 0; area < plan->site.area_count; area++) {
                rest.starts[area] = (struct site_start){.set = true, .mode = (int)i};
            }
        } else if (i < modes + plan->routine_count) {
            memcpy(rest.starts, plan->routines[i - modes].source->starts, sizeof rest.starts);
        }
        add_rest(plan, &rest);
    }
    return outcome_good();
}

/* ---- the plan --------------------------------------------------------------------------------------------------- */

static outcome add_people(struct why_plan *plan, const struct site *site, struct arena *arena,
        struct problem *ret_problem) {
    void *people = NULL;
    if (site->person_count + 2 > SITE_PEOPLE_MAX) {
        FAIL(ret_problem, PROBLEM_LIMIT, "people",
                "the service call needs room for two more people than the %zu in the file; the "
                "most are %d",
                site->person_count, SITE_PEOPLE_MAX);
    }
    TRY(arena_get(arena, site->person_count + 2, sizeof(struct site_person), &people, ret_problem));
    plan->site.people = people;
    if (site->person_count > 0) {
        memcpy(plan->site.people, site->people, site->person_count * sizeof(struct site_person));
    }
    plan->somebody = (int)site->person_count;
    plan->draught = plan->somebody + 1;
    plan->site.people[plan->somebody] = (struct site_person){.name = text_of("Somebody")};
    plan->site.people[plan->draught] = (struct site_person){.name = text_of("A draught")};
    plan->site.person_count += 2;
    return outcome_good();
}

/* The usual routines are those of the site as it is: two strangers would make guests of themselves. */
outcome why_plan_make(const struct site *site, const struct why_question *question,
        struct arena *arena, struct why_plan *ret_plan, struct problem *ret_problem) {
    const struct check_options options = {0};
    struct check_plan routines;
    struct lister lister = {.plan = ret_plan};
    void *memory = NULL;
    if (question->what == WHY_NO_SIREN && question->zone == SITE_NONE) {
        FAIL(ret_problem, PROBLEM_MISSING, "",
                "no siren: which zone should have brought it? say for example \"no siren, zone "
                "%d\"",
                site->zone_count > 0 ? site->zones[0].number : 1);
    }
    TRY(check_plan_make(site, &options, arena, &routines, ret_problem));
    *ret_plan = (struct why_plan){.question = *question,
            .site = *site,
            .routines = routines.routines,
            .routine_count = routines.routine_count};
    TRY(add_people(ret_plan, site, arena, ret_problem));
    TRY(list_rests(ret_plan, arena, ret_problem));
    TRY(arena_get(arena, 1, sizeof(struct proof_routine), &memory, ret_problem));
    struct proof_routine *room = memory;
    TRY(list_all(&lister, &ret_plan->second, room, ret_problem));
    TRY(arena_get(arena, lister.count, sizeof(struct why_hypothesis), &memory, ret_problem));
    lister.list = memory;
    TRY(list_all(&lister, &ret_plan->second, room, ret_problem));
    ret_plan->list = lister.list;
    ret_plan->count = lister.count;
    return add_pairs(ret_plan, arena, ret_problem);
}
