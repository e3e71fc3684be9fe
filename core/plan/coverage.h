/* What the detectors of a house really see: the floor that each motion detector covers, cut by walls and tall
 * furniture; the panes that each glass-break detector hears in range and in line; the floor of each room that none
 * sees; and what a motion detector looks at that it should not. Figures and places; words are others'.
 *
 * Taken as known: a closed leaf and a pane stop a motion detector (glass stops the warmth it looks for), an opening
 * without a leaf does not; furniture of COVERAGE_TALL_MM and more hides a person, lower does not. Height of the
 * detector and tolerance of pets are not looked at. */
#ifndef LINTEL_PLAN_COVERAGE_H
#define LINTEL_PLAN_COVERAGE_H

#include "plan/area.h"
#include "plan/house.h"

enum {
    COVERAGE_TALL_MM = 1500, /* what is so high hides a person; common practice */
    /* Where a profile says nothing. Common practice for a detector of a room, and for one that hears glass break. */
    COVERAGE_RANGE_MM = 12000,
    COVERAGE_OPENING_DEG = 90,
    COVERAGE_CURTAIN_DEG = 12,
    COVERAGE_HEARS_MM = 7600,
    COVERAGE_STEP_MM = 100,        /* between the points of a way that are looked at */
    COVERAGE_ALONG_MM = 3000,      /* of the way in, from its door */
    COVERAGE_GLASS_LEAST_MM = 300, /* less glass in sight is not told of */
};

/** One detector that sees or hears. view: of no corners where it sees nothing, as it looks along or into its own wall.
 *  room_m2: what a motion detector sees of its own room's floor; hidden: the share, 0 .. 1, that furniture takes from
 *  the floor that it would see in an empty room (what furniture stands on is not counted); hider: the
 *  piece that stands most in its way, or SITE_NONE. place: of the
 *  site's places; device: of its devices. sense: SITE_MOTION or SITE_GLASS. assumed: its profile does not say how far
 *  and wide, or its place not where it looks; the figures above, and all round, stand in. */
struct coverage_view {
    size_t place;
    int device;
    int storey;
    enum site_sense sense;
    bool assumed;
    struct sight_viewer viewer;
    struct sight_view view;
    double room_m2;
    double hidden;
    int hider;
};

/** A room's floor (what stands on it up to the ceiling is none) and what of it no motion detector sees. good: it was
 *  worked out. */
struct coverage_room {
    bool good;
    double floor_m2;
    struct area blind;
};

/** A pane that a glass-break detector may hear: one at its own room, of a window or a glazed door. distance_mm: to its
 *  middle. seen_mm of width_mm of it lie in line. */
struct coverage_pane {
    size_t view;
    size_t opening;
    double distance_mm;
    double seen_mm;
    double width_mm;
    bool in_range;
    bool in_line; /* at least half of it */
};

enum coverage_note_kind {
    COVERAGE_NOTE_ALONG, /* who comes in walks straight at it or away, and no other detector sees him walk across;
                            amount: mean sine of the angle, 0 .. 1 */
    COVERAGE_NOTE_GLASS, /* it looks at glass that the sun may shine through; amount: mm of it in sight */
    COVERAGE_NOTE_HEAT, /* it looks at a piece of furniture called radiator, heater or stove; amount: mm in sight */
    COVERAGE_NOTE_KIND_COUNT
};

/** Something about a motion detector. index: the opening, or the piece of furniture. */
struct coverage_note {
    enum coverage_note_kind kind;
    size_t view;
    size_t index;
    double amount;
};

struct coverage {
    struct coverage_view *views;
    size_t view_count;
    struct coverage_room *rooms; /* as many as the site's */
    struct coverage_pane *panes;
    size_t pane_count;
    struct coverage_note *notes;
    size_t note_count;
};

/** Works all of it out, from the devices' profiles and their places. ret_coverage: in the arena. Fails LIMIT, MEMORY,
 *  SYSTEM (GEOS). */
outcome coverage_make(const struct house *house, struct arena *arena, struct coverage *ret_coverage,
        struct problem *ret_problem) MUST_CHECK;

/** What the detector at one place sees; walls: those of its storey for eyes (house_walls_for_eyes of COVERAGE_TALL_MM).
 *  Only viewer, view, storey, sense and whose it is are worked out. Nothing (view.count 0) where no motion or
 *  glass-break detector is there. Fails LIMIT, MEMORY. */
outcome coverage_look(const struct house *house, size_t place, const struct segment *walls,
        size_t wall_count, struct arena *arena, struct coverage_view *ret_view,
        struct problem *ret_problem) MUST_CHECK;

/** How much of a room's floor a view holds, and how much there is; what stands on it up to the ceiling is none. Fails
 *  LIMIT, MEMORY, SYSTEM (GEOS). */
outcome coverage_floor(const struct house *house, int room, const struct sight_view *view,
        struct arena *arena, double *ret_seen_m2, double *ret_floor_m2, struct problem *ret_problem)
        MUST_CHECK;

/** Whether a view can reach a room at all, by their boxes: only such views need be asked about it, and moving one that
 *  does not changes nothing there. */
bool coverage_reaches(const struct sight_view *view, struct outline room);

/** The mean sine between the way of somebody who walks from a to b and the line to the detector, over what of it is
 *  seen: 1 straight across, 0 straight at it. Negative: nothing of it is seen. Detectors of warmth notice the
 *  crossing of their fingers and are weakest for what comes straight at them (common practice). */
double coverage_crossing(const struct sight_view *view, struct point a, struct point b);

#endif
