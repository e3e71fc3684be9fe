#include "check/break_in_corners.h"

#include "check/break_in_layer.h"

#include <string.h>

enum { CORNERS = SITE_CORNER_COUNT - 1, TRIES_MOST = 16 };

_Static_assert(SITE_CORNER_UNSAID == 0, "corners are counted from 1");

static outcome no_memory(struct problem *ret_problem) {
    FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to find where a further detector hangs");
}

/* The try's digits to the base of four: a corner for each room. */
static void choose(struct additions *additions, int number) {
    for (size_t i = 0; i < additions->count; i++) {
        if (!additions->list[i].opening) {
            additions->list[i].corner = (enum site_corner)(1 + number % CORNERS);
            number /= CORNERS;
        }
    }
}

static int count_tries(const struct additions *additions) {
    int tries = 1;
    for (size_t i = 0; i < additions->count; i++) {
        tries *= !additions->list[i].opening && tries < TRIES_MOST ? CORNERS : 1;
    }
    return tries;
}

/* The site with a place in the drawing for each of the additions that is in a room. more: with their devices. */
static outcome place_them(const struct site *site, const struct additions *additions,
        struct arena *arena, struct site *more, struct problem *ret_problem) {
    const size_t count = site->building.place_count;
    struct site_place *places = ARENA_ARRAY(arena, struct site_place, count + additions->count);
    if (places == NULL) {
        return no_memory(ret_problem);
    }
    memcpy(places, site->building.places, count * sizeof places[0]);
    more->building.places = places;
    for (size_t i = 0; i < additions->count; i++) {
        if (!additions->list[i].opening) {
            places[more->building.place_count++] =
                    (struct site_place){.device = (int)(site->device_count + i),
                            .keypad = SITE_NONE,
                            .room = (int)additions->list[i].index,
                            .corner = additions->list[i].corner};
        }
    }
    return outcome_good();
}

/* What the drawing now says of break-ins, and the detectors on openings, which it cannot know of. */
static outcome draw_again(const struct site *more, const struct additions *additions,
        struct arena *arena, struct site *ret_drawn, struct problem *ret_problem) {
    struct house house;
    struct portals portals;
    TRY(house_make(more, arena, &house, ret_problem));
    TRY(break_ins_draw(&house, arena, ret_drawn, &portals, ret_problem));
    struct site_break_ins *said = &ret_drawn->break_ins;
    struct site_break_in_notice *notices =
            ARENA_ARRAY(arena, struct site_break_in_notice, said->notice_count + additions->count);
    if (notices == NULL) {
        return no_memory(ret_problem);
    }
    if (said->notice_count > 0) {
        memcpy(notices, said->notices, said->notice_count * sizeof notices[0]);
    }
    said->notices = notices;
    for (size_t i = 0; i < additions->count; i++) {
        if (additions->list[i].opening) {
            notices[said->notice_count++] = (struct site_break_in_notice){
                    .zone = (int)(more->zone_count - additions->count + i),
                    .room = SITE_NONE,
                    .opening = (int)additions->list[i].index};
        }
    }
    return outcome_good();
}

/* spare_s is then what they really leave. */
static outcome try_corners(const struct site *site, size_t goal, struct pages pages,
        struct arena *arena, struct additions *additions, bool *ret_good,
        struct problem *ret_problem) {
    struct site more;
    struct site drawn;
    struct rooms rooms;
    struct breakin_answer answer;
    const bool late_will_do = additions->spare_s <= 0;
    TRY(additions_apply(site, additions->list, additions->count, arena, &more, ret_problem));
    TRY(place_them(site, additions, arena, &more, ret_problem));
    TRY(draw_again(&more, additions, arena, &drawn, ret_problem));
    TRY(additions_worst(&drawn, goal, pages, arena, &answer, &rooms, ret_problem));
    *ret_good = answer.verdict == BREAKIN_IN_TIME || answer.verdict == BREAKIN_NO_WAY ||
            (late_will_do && answer.verdict == BREAKIN_LATE);
    additions->spare_s = answer.spare_s;
    return outcome_good();
}

outcome break_in_corners_find(const struct site *site, size_t goal, struct pages pages,
        struct arena *arena, struct additions *additions, struct problem *ret_problem) {
    const int tries = site->break_ins.drawn ? count_tries(additions) : 0;
    for (int i = 0; i < tries && tries > 1; i++) {
        struct additions tried = *additions;
        bool good = false;
        choose(&tried, i);
        TRY(try_corners(site, goal, pages, arena, &tried, &good, ret_problem));
        if (good) {
            *additions = tried;
            return outcome_good();
        }
    }
    return outcome_good();
}
