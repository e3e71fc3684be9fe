/* Steps of routines that name no way: where the person is before and after, and the route between, by the drawing. */
#include "document/drawn.h"

#include "plan/drawn_way.h"
#include "site/pace.h"

/* Where a person is after a step, as the file names it. */
enum spot_kind { SPOT_UNKNOWN, SPOT_DOOR, SPOT_KEYPAD, SPOT_DEVICE, SPOT_ROOM, SPOT_OUTSIDE };

struct spot {
    enum spot_kind kind;
    int index;
};

static struct spot spot_at(enum spot_kind kind, int index) {
    return index < 0 ? (struct spot){SPOT_UNKNOWN, SITE_NONE} : (struct spot){kind, index};
}

/* Where a step takes place or ends; of one that takes place anywhere that is where the person was. Of a detector that
 * is passed nobody says where. */
static struct spot spot_of(const struct site *site, const struct site_step *step, struct spot was) {
    switch (step->act) {
    case SITE_ACT_OPEN:
    case SITE_ACT_CLOSE:
        return spot_at(SPOT_DOOR, step->door);
    case SITE_ACT_COME:
        return spot_at(SPOT_KEYPAD, step->way < 0 ? SITE_NONE : site->ways[step->way].keypad);
    case SITE_ACT_WALK:
        return spot_at(SPOT_ROOM, step->room);
    case SITE_ACT_PRESS:
        return spot_at(SPOT_DEVICE, step->zone < 0 ? SITE_NONE : site->zones[step->zone].device);
    case SITE_ACT_UNSET:
    case SITE_ACT_SET:
    case SITE_ACT_MISTYPE:
    case SITE_ACT_BYPASS:
    case SITE_ACT_POSTPONE:
        return step->use == SITE_USE_FOB ? was : spot_at(SPOT_KEYPAD, step->keypad);
    case SITE_ACT_GO:
        return spot_at(SPOT_OUTSIDE, step->way < 0 ? SITE_NONE : site->ways[step->way].door);
    case SITE_ACT_PASS:
    case SITE_ACT_TAMPER:
        return spot_at(SPOT_UNKNOWN, SITE_NONE);
    case SITE_ACT_WAIT:
    case SITE_ACT_MAINS_LOST:
    case SITE_ACT_MAINS_BACK:
    case SITE_ACT_JAMMED:
    case SITE_ACT_JAM_OVER:
    case SITE_ACT_PATH_LOST:
    case SITE_ACT_PATH_BACK:
    case SITE_ACT_COUNT:
        break;
    }
    return was;
}

static bool is_same(struct spot a, struct spot b) {
    return a.kind == b.kind && a.index == b.index;
}

/* A step that may be left out leaves its person at either place. */
static struct spot spot_after(
        const struct site *site, const struct site_step *step, struct spot was) {
    const struct spot now = spot_of(site, step, was);
    const bool may_not = step->maybe || step->if_sign != SITE_SIGN_NONE;
    return may_not && !is_same(now, was) ? spot_at(SPOT_UNKNOWN, SITE_NONE) : now;
}

/* Where the person of a step is before it. */
static struct spot spot_before(
        const struct site *site, const struct site_routine *routine, size_t index) {
    const struct site_step *step = &routine->steps[index];
    struct spot was = {SPOT_UNKNOWN, SITE_NONE};
    if (step->act == SITE_ACT_WALK && step->from >= 0) {
        return spot_at(SPOT_ROOM, step->from);
    }
    for (size_t i = 0; i < index; i++) {
        if (routine->steps[i].who == step->who) {
            was = spot_after(site, &routine->steps[i], was);
        }
    }
    return was;
}

/* Whether the way to a step is to be worked out: of a walk, and of a step that nobody has typed a time of. */
static bool is_wanted(const struct site *site, const struct site_routine *routine, size_t index,
        struct spot *ret_from, struct spot *ret_to) {
    const struct site_step *step = &routine->steps[index];
    if (step->who < 0 || step->act == SITE_ACT_GO) {
        return false;
    }
    *ret_from = spot_before(site, routine, index);
    *ret_to = step->act == SITE_ACT_COME
            ? spot_at(SPOT_OUTSIDE, step->way < 0 ? SITE_NONE : site->ways[step->way].door)
            : spot_of(site, step, *ret_from);
    const bool known = ret_from->kind != SPOT_UNKNOWN && ret_to->kind != SPOT_UNKNOWN;
    return step->act == SITE_ACT_WALK ||
            (known && !step->has_in && !step->has_at && !is_same(*ret_from, *ret_to) &&
                    (ret_from->kind == SPOT_OUTSIDE) == (ret_to->kind == SPOT_OUTSIDE));
}

bool drawn_steps_any(const struct site *site) {
    bool any = false;
    for (size_t i = 0; i < site->routine_count && site->building.said; i++) {
        for (size_t k = 0; k < site->routines[i].step_count && !any; k++) {
            struct spot from;
            struct spot to;
            any = is_wanted(site, &site->routines[i], k, &from, &to);
        }
    }
    return any;
}

static bool stand(const struct house *house, struct spot spot, struct walk_place *ret_place) {
    const struct site_building *building = &house->site->building;
    switch (spot.kind) {
    case SPOT_UNKNOWN:
    case SPOT_OUTSIDE:
        return false;
    case SPOT_DOOR:
        return house_ways_door(house, spot.index, ret_place);
    case SPOT_KEYPAD:
        return house_ways_keypad(house, spot.index, ret_place);
    case SPOT_ROOM:
        return house_ways_room(house, spot.index, ret_place);
    case SPOT_DEVICE:
        for (size_t i = 0; i < building->place_count; i++) {
            if (building->places[i].device == spot.index) {
                return house_ways_place(house, i, ret_place);
            }
        }
    }
    return false;
}

/* Copies what was found into the document. */
static outcome keep(struct reader *reader, const struct site_way *found, struct site_step *step,
        struct problem *ret_problem) {
    struct arena *arena = &reader->document->arena;
    struct site_route *route = ARENA_NEW(arena, struct site_route);
    struct site_leg *legs = ARENA_ARRAY(arena, struct site_leg, found->leg_count);
    if (route == NULL || legs == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the ways of routines");
    }
    for (size_t i = 0; i < found->leg_count; i++) {
        legs[i] = found->legs[i];
    }
    *route = (struct site_route){.legs = legs, .leg_count = found->leg_count, .last = found->last};
    step->route = route;
    return outcome_good();
}

/* From spot to spot: round the house, or through it. */
static outcome find(const struct drawn *drawn, struct spot from, struct spot to,
        struct arena *arena, struct house_way *ret_way, struct problem *ret_problem) {
    struct walk_place begins;
    struct walk_place ends;
    *ret_way = (struct house_way){.tight = false};
    if (from.kind == SPOT_OUTSIDE && to.kind == SPOT_OUTSIDE) {
        return outside_ways_find(
                drawn->outside, from.index, to.index, arena, &ret_way->way, ret_problem);
    }
    return stand(&drawn->house, from, &begins) && stand(&drawn->house, to, &ends)
            ? house_ways_find(
                      drawn->ways, begins, ends, &drawn->coverage, arena, ret_way, ret_problem)
            : outcome_good();
}

/* Of a walk the file says that it leads there: where it does not that is told. */
static outcome work_out(struct reader *reader, struct drawn *drawn, struct site_routine *routine,
        size_t index, const struct node *node, struct arena *arena, struct problem *ret_problem) {
    const struct site *site = &reader->document->site;
    struct site_step *step = &routine->steps[index];
    struct spot from;
    struct spot to;
    struct house_way way;
    struct site_way found = {.leg_count = 0};
    if (!is_wanted(site, routine, index, &from, &to)) {
        return outcome_good();
    }
    TRY(find(drawn, from, to, arena, &way, ret_problem));
    if (way.way.count == 0) {
        if (step->act == SITE_ACT_WALK) {
            reader_tell(reader, PROBLEM_MISSING, node,
                    from.kind == SPOT_UNKNOWN || from.kind == SPOT_OUTSIDE
                            ? "from where? nothing before says where this person is; write from: "
                              "ROOM"
                            : "by the drawing no way leads there; write from: ROOM, or draw what "
                              "is "
                              "missing");
        }
        return outcome_good();
    }
    if (!drawn_way_legs(site, &drawn->coverage, &way,
                site_walking_pace(site->people[step->who].walks), &found)) {
        reader_tell(reader, PROBLEM_LIMIT, node,
                "more than %d doors and detectors on this walk; make two of it", SITE_LEG_MAX);
    }
    return keep(reader, &found, step, ret_problem);
}

outcome drawn_steps_work_out(struct reader *reader, struct drawn *drawn, const struct node *root,
        struct arena *arena, struct problem *ret_problem) {
    struct site *site = &reader->document->site;
    const struct node *routines = node_child(root, "routines");
    for (size_t i = 0; i < site->routine_count; i++) {
        const struct node *steps = node_child(node_item(routines, i), "steps");
        for (size_t k = 0; k < site->routines[i].step_count; k++) {
            const size_t before = reader_enter(reader, "routines");
            (void)reader_enter_index(reader, i);
            (void)reader_enter(reader, "steps");
            (void)reader_enter_index(reader, k);
            const outcome worked = work_out(
                    reader, drawn, &site->routines[i], k, node_item(steps, k), arena, ret_problem);
            reader_leave(reader, before);
            TRY(worked);
        }
    }
    return outcome_good();
}
