/* Break-ins: the best that an intruder can do against the panel as it is keyed in.
 *
 * An intruder may force any opening, walk anywhere, wait as long as he likes, and heads for what is protected, for the
 * panel or for its line. He walks a graph of places: portals (openings, or the edge of what a detector covers, noticed
 * just when they are passed) and moves, each with the least time it takes. What a portal trips is an input to the same
 * panel_step as everywhere; there is no second opinion of what a panel does.
 *
 * Sought is the course in which it is known the latest that he is there, seen from the moment when he has what he came
 * for. A state is (place, panel and devices, time left of each running timer); he waits until the next timer ends.
 * Within one place and panel more time left on timers that suit him and less on those that threaten him is at least as
 * good (Pareto labels); all others must be equal. Source: the design page of the panel model, "Break-ins".
 *
 * He is lucky: timers that suit him run as long as the panel's tolerance lets them, those that threaten him as short,
 * messages and detectors take their longest. So "heard in time" is on the safe side.
 *
 * Not for: where people walk, how far detectors see (plan), or how likely it is that a detector notices. A portal that
 * was forced takes as long again when it is passed again. */
#ifndef LINTEL_BREAKIN_BREAKIN_H
#define LINTEL_BREAKIN_BREAKIN_H

#include "base/arena.h"
#include "panel/panel.h"
#include "site/site.h"

enum {
    BREAKIN_PLACE_MAX = 4096,
    BREAKIN_STEP_MAX = 16384, /* portals and moves together */
    BREAKIN_GOAL_MAX = 64,
    BREAKIN_TIMER_MAX = 48, /* that run at once */
    BREAKIN_ACT_MAX = 512,  /* of one course */
    BREAKIN_SECONDS_MAX = 86400,
    BREAKIN_LABEL_LIMIT =
            30000, /* labels kept by one search, unless the options say otherwise: about a second */
    BREAKIN_NEVER_S = INT32_MAX,
};

/** A way from one place to another, in this direction. force_s: least time until it gives way, 0 when it just opens.
 *  cross_s: least time to get through. opens: contacts that are open once it is; he may close it behind him. trips:
 *  detectors that trip. Everything is noticed at the end of both times, contacts first. */
struct breakin_portal {
    struct text name;
    struct text how; /* "pane broken", for the story; may be empty */
    int from;
    int to;
    int32_t force_s;
    int32_t cross_s;
    struct panel_zones opens;
    struct panel_zones trips;
};

/** Going from one place to another where nothing is in the way. trips: what sees it, at its end. */
struct breakin_move {
    int from;
    int to;
    int32_t least_s;
    struct panel_zones trips;
};

/** What he is after. PANEL: the panel, or its power where it has no battery: once he has it, nothing leaves and nothing
 *  sounds any more. LINE: the only line to the station. */
enum breakin_goal_kind { BREAKIN_THING, BREAKIN_PANEL, BREAKIN_LINE, BREAKIN_GOAL_KIND_COUNT };

/** takes_s: least time at the place until he has taken, smashed or cut it. */
struct breakin_goal {
    struct text name;
    enum breakin_goal_kind kind;
    int place;
    int32_t takes_s;
};

/** Where he can go. A plain value; arrays are borrowed. begins: places where he may be at the beginning. */
struct breakin_graph {
    const struct text *places;
    size_t place_count;
    const struct breakin_portal *portals;
    size_t portal_count;
    const struct breakin_move *moves;
    size_t move_count;
    const struct breakin_goal *goals;
    size_t goal_count;
    const int *begins;
    size_t begin_count;
};

/** How the panel stands when he begins. exiting: areas whose exit time has just begun, set at a keypad into exit_mode.
 *  open: contacts that stand open. asleep: detectors that are blind for as long as their profile says. */
struct breakin_start {
    struct site_start areas[SITE_AREA_MAX];
    uint8_t exiting;
    int exit_mode;
    struct panel_zones open;
    struct panel_zones asleep;
};

/** What counts as heard: an alarm signal that has left for the station, or the siren. */
enum breakin_heard_by { BREAKIN_BY_SIGNAL, BREAKIN_BY_SIREN };

/** response_s: from being heard to somebody being there; for things, a panel need only have told. gone: zones that
 *  notice nothing (dead battery, masked, lost) without the panel knowing. keep_going: asked now and then; false ends
 *  the search unsettled. */
struct breakin_options {
    enum breakin_heard_by heard_by;
    int32_t response_s;
    struct panel_zones gone;
    bool no_tolerance;
    size_t label_limit; /* 0: BREAKIN_LABEL_LIMIT */
    bool (*keep_going)(void *context, size_t labels);
    void *keep_going_context;
};

enum breakin_verdict {
    BREAKIN_IN_TIME,    /* heard, and somebody can be there, before he has it, however he goes */
    BREAKIN_LATE,       /* heard, but too late: at the same second is too late */
    BREAKIN_UNHEARD,    /* never heard */
    BREAKIN_NO_WAY,     /* he cannot get there */
    BREAKIN_NOT_SETTLED /* a limit was reached */
};

/** One step of a course: a portal or a move (index into the graph's arrays). ends_first: timers that end on the second
 *  at which the step ends come before what it trips. */
struct breakin_act {
    bool portal;
    bool closes;
    bool ends_first;
    size_t index;
    int32_t begins_s;
    int32_t ends_s;
};

/** A course of the intruder. done_s: when he has what he came for, from when he began. heard_s: when that was heard, or
 *  BREAKIN_NEVER_S. Both as the search found them; breakin_tell replays them. */
struct breakin_course {
    int begins; /* place */
    const struct breakin_act *acts;
    size_t act_count;
    int32_t done_s;
    int32_t heard_s;
};

/** spare_s: of the best course, from being heard to his having it, less the response; > 0 is in time; negative: too
 *  late by so much; BREAKIN_NEVER_S where it is never heard or there is no way. open: a limit was reached, and there
 *  may be a better course than the best: one that is heard in time has at least spare_s to spare, of one that is late
 *  spare_s is only the worst that was found. best: least detected, of these the one first found, in the order of the
 *  time it takes. quickest: the fewest seconds, whatever hears it. */
struct breakin_answer {
    enum breakin_verdict verdict;
    bool open;
    int32_t spare_s;
    struct breakin_course best;
    struct breakin_course quickest;
};

/** Searches for every goal of the graph. program: made from the same site. ret_answers: one for each goal, filled.
 *  ret_labels: how many labels were kept; may be NULL. Courses are in the arena; pages serve the search. Fails
 *  PROBLEM_BAD_VALUE when the graph names what is not there or a time is out of range, PROBLEM_MEMORY. */
outcome breakin_search(const struct site *site, const struct panel_program *program,
        const struct breakin_graph *graph, const struct breakin_start *start,
        const struct breakin_options *options, struct pages pages, struct arena *arena,
        struct breakin_answer *ret_answers, size_t *ret_labels, struct problem *ret_problem)
        MUST_CHECK;

enum breakin_line_kind {
    BREAKIN_LINE_BEGINS, /* act: he sets about forcing or going */
    BREAKIN_LINE_DONE,   /* act: he is through */
    BREAKIN_LINE_LEVEL,  /* the panel learns: zone, open */
    BREAKIN_LINE_TIMER,  /* a panel timer ended */
    BREAKIN_LINE_OUTPUT, /* the panel answers */
    BREAKIN_LINE_GOAL,   /* he has it */
    BREAKIN_LINE_HEARD,  /* what counts as heard */
};

struct breakin_line {
    enum breakin_line_kind kind;
    int32_t at_s;
    size_t act;
    uint8_t zone;
    bool open;
    panel_timer timer;
    struct panel_output output;
};

/** What a course looked like when the player replayed it, until it was heard or all is calm. siren_s, signal_s,
 *  first_trip_s (the first thing that the panel learned of): BREAKIN_NEVER_S where there was none. */
struct breakin_story {
    const struct breakin_line *lines;
    size_t line_count;
    int32_t first_trip_s;
    int32_t siren_s;
    int32_t signal_s;
    int32_t done_s;
};

/** Replays a course through the player. Fails PROBLEM_BAD_VALUE when the player does not come to what the search found
 *  (a bug, which must not be shown as a story), PROBLEM_MEMORY, PROBLEM_LIMIT. */
outcome breakin_tell(const struct site *site, const struct panel_program *program,
        const struct breakin_graph *graph, size_t goal, const struct breakin_start *start,
        const struct breakin_options *options, const struct breakin_course *course,
        struct arena *arena, struct breakin_story *ret_story, struct problem *ret_problem)
        MUST_CHECK;

#endif
