#include "breakin/additions.h"

#include "breakin/hitting.h"

#include <string.h>

enum { SEARCHES_MOST = 40 };

/* What looking shares. Elements: rooms (of a drawing: its spots, from first_spot on and round), then openings. */
struct look {
    const struct additions_wish *wish;
    const struct site *site;
    size_t place_count; /* elements that are no openings */
    size_t first_spot;
    struct pages pages;
    struct arena *arena;
    struct hitting_set sets[HITTING_SETS];
    size_t set_count;
    struct hitting_set offered;
};

static outcome no_memory(struct problem *ret_problem) {
    FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to look for further detectors");
}

int additions_badness(enum breakin_verdict verdict) {
    static const int order[] = {
            [BREAKIN_NO_WAY] = 0,
            [BREAKIN_IN_TIME] = 1,
            [BREAKIN_NOT_SETTLED] = 2,
            [BREAKIN_LATE] = 3,
            [BREAKIN_UNHEARD] = 4,
    };
    return order[verdict];
}

outcome additions_worst(const struct site *site, size_t goal, const struct breakin_options *options,
        struct pages pages, struct arena *arena, struct breakin_answer *ret_answer,
        struct rooms *ret_rooms, struct problem *ret_problem) {
    struct panel_program *program = ARENA_NEW(arena, struct panel_program);
    struct breakin_answer *answers =
            ARENA_ARRAY(arena, struct breakin_answer, site->break_ins.goal_count);
    if (program == NULL || answers == NULL) {
        return no_memory(ret_problem);
    }
    TRY(panel_program_of_site(site, NULL, program, ret_problem));
    TRY(rooms_graph(site, arena, ret_rooms, ret_problem));
    for (size_t i = 0; i < site->break_ins.start_count; i++) {
        const struct breakin_start start = rooms_start(site, i);
        TRY(breakin_search(site, program, &ret_rooms->graph, &start, options, pages, arena, answers,
                NULL, ret_problem));
        const int by = additions_badness(answers[goal].verdict) -
                (i == 0 ? -1 : additions_badness(ret_answer->verdict));
        if (by > 0 || (by == 0 && answers[goal].spare_s < ret_answer->spare_s)) {
            *ret_answer = answers[goal];
        }
    }
    return outcome_good();
}

/* ---- where a detector may go ------------------------------------------------------------------------------------- */

static bool is_used(const struct site *site, int door) {
    for (size_t i = 0; i < site->way_count; i++) {
        bool used = site->ways[i].door == door;
        for (size_t leg = 0; leg < site->ways[i].leg_count; leg++) {
            used = used || site->ways[i].legs[leg].door == door;
        }
        if (used) {
            return true;
        }
    }
    for (size_t i = 0; i < site->routine_count; i++) {
        for (size_t k = 0; k < site->routines[i].step_count; k++) {
            const struct site_step *step = &site->routines[i].steps[k];
            if ((step->act == SITE_ACT_OPEN || step->act == SITE_ACT_CLOSE) && step->door == door) {
                return true;
            }
        }
    }
    for (size_t i = 0; i < site->zone_count; i++) {
        if (site->zones[i].behaviour == SITE_ENTRY &&
                site_zone_door(site, &site->zones[i]) == door) {
            return true;
        }
    }
    return false;
}

static bool is_outside(const struct site_break_ins *said, int room) {
    return room == SITE_NONE || said->rooms[room].ground;
}

/* Whether a follower sees somebody who goes about in a drawn room. */
static bool is_followed(const struct site *site, const struct site_break_in_move *move) {
    for (size_t zone = 0; zone < site->zone_count; zone++) {
        if ((move->seen[zone / 64] >> (zone % 64) & 1U) != 0 &&
                site->zones[zone].behaviour == SITE_FOLLOWER) {
            return true;
        }
    }
    return false;
}

static bool is_walked(const struct site *site, int room) {
    const struct site_break_ins *said = &site->break_ins;
    for (size_t i = 0; i < said->opening_count; i++) {
        const struct site_break_in_opening *opening = &said->openings[i];
        if (opening->to == room && is_outside(said, opening->from) && opening->door != SITE_NONE &&
                is_used(site, opening->door)) {
            return true;
        }
    }
    for (size_t i = 0; i < said->move_count; i++) {
        if (said->moves[i].room == room && is_followed(site, &said->moves[i])) {
            return true;
        }
    }
    for (size_t i = 0; i < said->notice_count; i++) {
        if (said->notices[i].room == room &&
                site->zones[said->notices[i].zone].behaviour == SITE_FOLLOWER) {
            return true;
        }
    }
    return false;
}

static bool is_quiet(const struct site *site, size_t room) {
    return !site->break_ins.rooms[room].ground && !is_walked(site, (int)room);
}

static bool is_spot_quiet(const struct site *site, const struct additions_spot *spot) {
    bool quiet = is_quiet(site, spot->room);
    for (size_t i = 0; i < site->break_ins.room_count && quiet; i++) {
        quiet = !spot->rooms[i] || is_quiet(site, i);
    }
    return quiet;
}

/* Of as few detectors those come first that hang where what is protected is: so they see who hid there, too. */
static size_t first_spot(const struct look *look) {
    const struct additions_drawing *drawing = look->wish->drawing;
    const int room = look->site->break_ins.goals[look->wish->goal].room;
    for (size_t i = 0; i < drawing->spot_count; i++) {
        if ((int)drawing->spots[i].room == room) {
            return i;
        }
    }
    return 0;
}

static const struct additions_spot *spot_of(const struct look *look, size_t element) {
    const struct additions_drawing *drawing = look->wish->drawing;
    return &drawing->spots[(element + look->first_spot) % drawing->spot_count];
}

static void find_offered(struct look *look) {
    const struct site_break_ins *said = &look->site->break_ins;
    const struct additions_drawing *drawing = look->wish->drawing;
    look->place_count = drawing != NULL ? drawing->spot_count : said->room_count;
    look->first_spot = drawing != NULL ? first_spot(look) : 0;
    for (size_t i = 0; i < look->place_count && i < HITTING_ELEMENTS; i++) {
        if (drawing != NULL ? is_spot_quiet(look->site, spot_of(look, i))
                            : is_quiet(look->site, i)) {
            hitting_add(&look->offered, i);
        }
    }
    for (size_t i = 0; i < said->opening_count && look->place_count + i < HITTING_ELEMENTS; i++) {
        const int door = said->openings[i].door;
        if (!said->openings[i].bare && (door == SITE_NONE || !is_used(look->site, door))) {
            hitting_add(&look->offered, look->place_count + i);
        }
    }
}

/* ---- the site with them ------------------------------------------------------------------------------------------ */

/* The area that is concerned: that of a zone which notices the room, or an opening of it; else the first that is
 * set. */
static int area_of(const struct site *site, int room) {
    const struct site_break_ins *said = &site->break_ins;
    for (size_t i = 0; i < said->notice_count; i++) {
        if (said->notices[i].room == room && room != SITE_NONE) {
            return site->zones[said->notices[i].zone].area;
        }
    }
    for (size_t i = 0; i < said->opening_count; i++) {
        const struct site_break_in_opening *opening = &said->openings[i];
        for (size_t zone = 0; zone < site->zone_count && opening->door != SITE_NONE &&
                (opening->to == room || opening->from == room);
                zone++) {
            if (site_zone_door(site, &site->zones[zone]) == opening->door) {
                return site->zones[zone].area;
            }
        }
    }
    for (size_t area = 0; area < site->area_count; area++) {
        if (said->starts[0].areas[area].set) {
            return (int)area;
        }
    }
    return 0;
}

static void add_one(struct site *site, const struct addition *addition) {
    struct site_break_ins *said = &site->break_ins;
    const int profile = (int)site->device_profile_count++;
    const int device = (int)site->device_count++;
    const int zone = (int)site->zone_count++;
    const struct site_break_in_opening *opening =
            addition->opening ? &said->openings[addition->index] : NULL;
    const int room = opening == NULL ? (int)addition->index : opening->to;
    site->device_profiles[profile] = (struct site_device_profile){.name = text_of("further"),
            .sense = opening == NULL       ? SITE_MOTION
                    : opening->force_s > 0 ? SITE_SHOCK
                                           : SITE_CONTACT,
            .hold = span_of(1, 2)};
    site->devices[device] = (struct site_device){.name = text_of("further"),
            .profile = profile,
            .door = SITE_NONE,
            .keypad = SITE_NONE,
            .person = SITE_NONE};
    site->zones[zone] = (struct site_zone){.number = zone + 1,
            .name = text_of("further"),
            .device = device,
            .door = SITE_NONE,
            .area = area_of(site, room),
            .behaviour = SITE_PERIMETER,
            .reports = true,
            .pulse_count = 1,
            .cross_with = SITE_NONE};
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        site->zones[zone].in[mode] = SITE_PERIMETER;
        site->zones[zone].delay[mode] = SITE_NONE;
    }
    said->notices[said->notice_count++] = (struct site_break_in_notice){.zone = zone,
            .room = opening == NULL ? room : SITE_NONE,
            .opening = opening == NULL ? SITE_NONE : (int)addition->index};
}

/* A copy with room for more; NULL: no memory. */
static void *longer(struct arena *arena, const void *list, size_t count, size_t more, size_t size) {
    void *copy = arena_take(arena, count + more, size);
    if (copy != NULL && count > 0) {
        memcpy(copy, list, count * size);
    }
    return copy;
}

outcome additions_apply(const struct site *site, const struct addition *list, size_t count,
        struct arena *arena, struct site *ret_site, struct problem *ret_problem) {
    struct site more = *site;
    const struct site_break_ins *said = &site->break_ins;
    more.device_profiles = longer(arena, site->device_profiles, site->device_profile_count, count,
            sizeof site->device_profiles[0]);
    more.devices = longer(arena, site->devices, site->device_count, count, sizeof site->devices[0]);
    more.zones = longer(arena, site->zones, site->zone_count, count, sizeof site->zones[0]);
    more.break_ins.notices =
            longer(arena, said->notices, said->notice_count, count, sizeof said->notices[0]);
    if (more.device_profiles == NULL || more.devices == NULL || more.zones == NULL ||
            more.break_ins.notices == NULL) {
        return no_memory(ret_problem);
    }
    if (site->zone_count + count > SITE_ZONE_MAX) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "no zone is left for a further detector");
    }
    for (size_t i = 0; i < count; i++) {
        add_one(&more, &list[i]);
    }
    *ret_site = more;
    return outcome_good();
}

/* ---- the search for them ----------------------------------------------------------------------------------------- */

/* From the trip of a zone without delay to being heard. */
static int32_t alarm_s(const struct site *site) {
    const struct site_settings *settings = &site->settings;
    return span_tolerant(site->break_ins.heard_by == SITE_HEARD_BY_SIREN
                    ? settings->siren_hold_back_s
                    : settings->abort_window_s,
            settings->tolerance_tenths)
            .high_s;
}

/* One of the moves that the site has without further detectors, between the same two ends; a further one adds moves
 * that keep out of its view. */
static size_t same_move(const struct site_break_ins *said, const struct site_break_in_move *move) {
    size_t i = 0;
    while (i < said->move_count &&
            (said->moves[i].from != move->from || said->moves[i].to != move->to ||
                    said->moves[i].reaches != move->reaches || said->moves[i].room != move->room)) {
        i++;
    }
    return i;
}

static void offer(const struct look *look, struct hitting_set *set, size_t element) {
    if (element < HITTING_ELEMENTS && hitting_has(&look->offered, element)) {
        hitting_add(set, element);
    }
}

/* The places from which an act of a way is noticed. with: the site that the way was found in. */
static void offer_places(const struct look *look, const struct site *with,
        const struct rooms *rooms, const struct breakin_act *act, struct hitting_set *set) {
    const struct additions_drawing *drawing = look->wish->drawing;
    if (drawing == NULL) {
        const int to = act->portal ? rooms->graph.portals[act->index].to
                                   : rooms->graph.moves[act->index].to;
        offer(look, set, rooms->room[to] == SITE_NONE ? HITTING_ELEMENTS : (size_t)rooms->room[to]);
        return;
    }
    const int drawn = act->portal ? SITE_NONE : rooms->move[act->index];
    const size_t move = drawn == SITE_NONE
            ? look->site->break_ins.move_count
            : same_move(&look->site->break_ins, &with->break_ins.moves[drawn]);
    for (size_t i = 0; i < drawing->spot_count; i++) {
        const struct additions_spot *spot = spot_of(look, i);
        if (act->portal ? spot->openings[rooms->opening[act->index]]
                        : move < look->site->break_ins.move_count && spot->moves[move]) {
            offer(look, set, i);
        }
    }
}

/* What would notice this way early enough; false: nothing that is offered. */
static bool add_way(struct look *look, const struct site *with, const struct breakin_course *way,
        const struct rooms *rooms) {
    const struct site_break_ins *said = &look->site->break_ins;
    const bool thing = said->goals[look->wish->goal].kind == SITE_BREAK_IN_THING;
    const int32_t later_s = alarm_s(look->site) + (thing ? said->help_s : 0);
    struct hitting_set *set = &look->sets[look->set_count];
    *set = (struct hitting_set){{0}};
    for (size_t i = 0; i < way->act_count; i++) {
        const struct breakin_act *act = &way->acts[i];
        if (!look->wish->at_all && act->ends_s + later_s >= way->done_s) {
            break;
        }
        offer_places(look, with, rooms, act, set);
        if (act->portal) {
            offer(look, set, look->place_count + (size_t)rooms->opening[act->index]);
        }
    }
    look->set_count++;
    return !hitting_is_empty(set);
}

static struct addition addition_of(const struct look *look, size_t element) {
    const struct additions_drawing *drawing = look->wish->drawing;
    if (element >= look->place_count) {
        return (struct addition){.opening = true, .index = element - look->place_count};
    }
    if (drawing == NULL) {
        return (struct addition){.index = element};
    }
    const struct additions_spot *spot = spot_of(look, element);
    return (struct addition){.index = spot->room, .corner = spot->corner};
}

static outcome apply_chosen(const struct look *look, const struct additions *found, size_t count,
        struct site *ret_site, struct problem *ret_problem) {
    struct site more;
    TRY(additions_apply(look->site, found->list, count, look->arena, &more, ret_problem));
    if (look->wish->drawing == NULL) {
        *ret_site = more;
        return outcome_good();
    }
    return look->wish->drawing->redraw(
            &more, found->list, count, look->arena, ret_site, ret_problem);
}

static outcome try_chosen(struct look *look, const size_t *chosen, size_t count,
        struct additions *found, bool *ret_more, struct problem *ret_problem) {
    struct breakin_answer answer;
    struct rooms rooms;
    struct site site;
    for (size_t i = 0; i < count; i++) {
        found->list[i] = addition_of(look, chosen[i]);
    }
    TRY(apply_chosen(look, found, count, &site, ret_problem));
    TRY(additions_worst(&site, look->wish->goal, &look->wish->options, look->pages, look->arena,
            &answer, &rooms, ret_problem));
    found->searches++;
    *ret_more = false;
    if (answer.verdict == BREAKIN_IN_TIME || answer.verdict == BREAKIN_NO_WAY ||
            (look->wish->at_all && answer.verdict == BREAKIN_LATE)) {
        found->count = count;
        found->spare_s = answer.spare_s;
    } else if (answer.verdict != BREAKIN_NOT_SETTLED && look->set_count < HITTING_SETS) {
        *ret_more = add_way(look, &site, &answer.best, &rooms);
    }
    return outcome_good();
}

static bool goes_on(const struct breakin_options *options) {
    return options->keep_going == NULL || options->keep_going(options->keep_going_context, 0);
}

outcome additions_find(const struct additions_wish *wish, struct pages pages, struct arena *arena,
        struct additions *ret_additions, struct problem *ret_problem) {
    struct look *look = ARENA_NEW(arena, struct look);
    struct additions found = {0};
    bool more = true;
    if (look == NULL) {
        return no_memory(ret_problem);
    }
    *look = (struct look){.wish = wish, .site = wish->site, .pages = pages, .arena = arena};
    find_offered(look);
    while (more && found.count == 0 && found.searches < SEARCHES_MOST && goes_on(&wish->options)) {
        size_t chosen[HITTING_MOST];
        size_t count = 0;
        if (!hitting_smallest(look->sets, look->set_count, ADDITIONS_MOST, chosen, &count) ||
                wish->site->zone_count + count > SITE_ZONE_MAX) {
            break;
        }
        TRY(try_chosen(look, chosen, count, &found, &more, ret_problem));
    }
    *ret_additions = found;
    return outcome_good();
}
