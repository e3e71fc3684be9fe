/* Which detectors to add so that whoever comes for one thing is heard in time, however he goes: the fewest.
 *
 * Each way that is not heard in time must be noticed early enough by one of them: a hitting set over the ways. Ways are
 * found one at a time, each by the search with what was chosen so far, until none is left; so what is given has been
 * applied and searched to the end. (Implicit hitting sets; Chandrasekaran, Karp, Moreno-Centeno and Vempala 2011.)
 *
 * Rooms by hand: a detector of a room sees all of it. In a drawing: each hangs at a spot and sees what it sees from
 * there, of its own room and of others through what stands open. They are then the fewest of those that notice a way
 * each by itself: two that only together leave no strip to creep along are not looked for. */
#ifndef LINTEL_BREAKIN_ADDITIONS_H
#define LINTEL_BREAKIN_ADDITIONS_H

#include "breakin/rooms.h"

enum { ADDITIONS_MOST = 4 };

/** A detector to add, without delay: on an opening, or one that sees a room. index: into site->break_ins. corner: of a
 *  room of a drawing, where it hangs; unsaid: wherever it sees all of the room. */
struct addition {
    bool opening;
    size_t index;
    enum site_corner corner;
};

/** Where a further detector could hang in a drawing, and what is sure to be noticed from there, were it alone. moves,
 *  openings: one for each of those of the site's break-ins; a move stands for all between the same two ends. rooms: one
 *  for each room: any of its floor is seen. */
struct additions_spot {
    size_t room;
    enum site_corner corner;
    const bool *moves;
    const bool *openings;
    const bool *rooms;
};

/** The spots of a drawing. redraw: the break-ins of `more`, a site with the devices of the list put in (the last of its
 *  devices and zones, in order), as its drawing then gives them; fails as it likes. */
struct additions_drawing {
    const struct additions_spot *spots;
    size_t spot_count;
    outcome (*redraw)(const struct site *more, const struct addition *list, size_t count,
            struct arena *arena, struct site *ret_drawn, struct problem *ret_problem);
};

/** What is looked for. goal: index into site->break_ins.goals. at_all: enough that he is heard, be it too late (spare_s
 *  is then 0 or less). drawing: NULL: rooms by hand, or as if each detector saw all of its room. options: of every
 *  search (rooms_options); its keep_going is asked. */
struct additions_wish {
    const struct site *site;
    size_t goal;
    bool at_all;
    const struct additions_drawing *drawing;
    struct breakin_options options;
};

/** count 0: none helps, or more than ADDITIONS_MOST would be needed. spare_s: with them; BREAKIN_NEVER_S: no way is
 *  left. searches: how many it took. */
struct additions {
    struct addition list[ADDITIONS_MOST];
    size_t count;
    int32_t spare_s;
    size_t searches;
};

/** Looks for them. Not offered: a detector where people come in and go about (an opening that a way or a routine uses,
 *  a room behind an entry door or with a follower, a spot from which such a room is seen). Told to stop: none. Fails
 *  PROBLEM_MEMORY, PROBLEM_LIMIT, and as redraw does. */
outcome additions_find(const struct additions_wish *wish, struct pages pages, struct arena *arena,
        struct additions *ret_additions, struct problem *ret_problem) MUST_CHECK;

/** The site with the detectors in place, in the arena. */
outcome additions_apply(const struct site *site, const struct addition *list, size_t count,
        struct arena *arena, struct site *ret_site, struct problem *ret_problem) MUST_CHECK;

/** The worst answer for one goal, over every start of the site. */
outcome additions_worst(const struct site *site, size_t goal, const struct breakin_options *options,
        struct pages pages, struct arena *arena, struct breakin_answer *ret_answer,
        struct rooms *ret_rooms, struct problem *ret_problem) MUST_CHECK;

/** How bad an answer is, so that answers can be compared: greater is worse for whoever is protected. */
int additions_badness(enum breakin_verdict verdict);

#endif
