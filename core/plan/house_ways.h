/* Ways through a house as it is drawn: from a door to a keypad, from a place to a place, over stairs, round furniture,
 * through doors and gaps of the inside; how long they are and take, which doors are opened on them, and which detectors
 * see them from when to when.
 *
 * Nobody goes out by one door and in by another: doors that lead outside are closed but for the one where a way begins,
 * and it begins at their inner side. Doors open and close in no time; how long that takes is the person's affair. The
 * walker is HOUSE_BODY_MM wide; where no way is so wide, one without width is told as tight. A flight is as long as its
 * slope and stands in the way on its own storey, its hole on the next. */
#ifndef LINTEL_PLAN_HOUSE_WAYS_H
#define LINTEL_PLAN_HOUSE_WAYS_H

#include "plan/coverage.h"
#include "plan/walk.h"
#include "plan/way_seen.h"
#include "site/pace.h"

enum {
    HOUSE_BODY_MM = 450
}; /* a standing body's depth; source: Fruin's ellipse of 18 x 24 in (from memory) */

struct house_ways;

/** A leaf or gap that the way goes through. */
struct house_passed {
    size_t opening;
    double at_mm;
};

/** A detector that sees some of the way: from where first to where last. view: of the coverage. */
struct house_seen {
    size_t view;
    double first_mm;
    double last_mm;
};

/** A way, from its place to its place. way.count 0: there is none. passed: in order, without the door where it begins;
 *  seen: in the order of the first sight, motion detectors alone. */
struct house_way {
    struct way way;
    bool tight;
    const struct house_passed *passed;
    size_t passed_count;
    const struct house_seen *seen;
    size_t seen_count;
};

/** Seconds from-to. */
struct house_seconds {
    double low_s;
    double high_s;
};

/** Makes ready for ways. house: keeps. arena: of the answer, which keeps it and takes more from it. Fails LIMIT,
 *  MEMORY. */
outcome house_ways_make(const struct house *house, struct arena *arena,
        struct house_ways **ret_ways, struct problem *ret_problem) MUST_CHECK;

/** Where one stands at a door (within, if it leads outside), a keypad, in a room (in its middle, or as near to that as
 *  furniture leaves room), at one of the site's places. False: it is not drawn, or not well. */
bool house_ways_door(const struct house *house, int door, struct walk_place *ret_place);
bool house_ways_keypad(const struct house *house, int keypad, struct walk_place *ret_place);
bool house_ways_room(const struct house *house, int room, struct walk_place *ret_place);
bool house_ways_place(const struct house *house, size_t place, struct walk_place *ret_place);

/** The shortest way. coverage: of the same house, or NULL: nothing is seen. ret_way: in the arena. Fails LIMIT,
 *  MEMORY. */
outcome house_ways_find(struct house_ways *ways, struct walk_place from, struct walk_place to,
        const struct coverage *coverage, struct arena *arena, struct house_way *ret_way,
        struct problem *ret_problem) MUST_CHECK;

/** How much of the first at_mm of a way is stairs, mm. */
double house_way_stairs_mm(const struct house_way *way, double at_mm);

/** How long a walker takes to come so far: lengths over speeds, level and stairs each by its own. */
struct house_seconds house_way_seconds(
        const struct house_way *way, struct site_pace pace, double at_mm);

#endif
