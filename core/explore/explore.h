/* Exploring a timed machine to the end: every order, every integer timing, at once.
 *
 * This module knows nothing of alarms. A machine is a flat state of fixed size and a set of running *activities*
 * (a person about to act, a timer about to end). Each activity, when started, draws a duration somewhere in its
 * from-to; it *fires* at its deadline; firing changes the state and starts, stops or shortens activities. Explored is
 * every integer choice of durations and, where deadlines fall on the same second, every order.
 *
 * How: state classes (Berthomieu and Menasche 1983; Berthomieu and Diaz 1991): the discrete part (state, set of
 * running activities) is the key; over it, the deadlines that are possible form a small matrix of differences with
 * closed integer bounds (Dill 1989). Firing f: constrain deadline f <= every other; "now" becomes deadline f. A
 * non-empty system of closed integer differences has an integer solution, so whole seconds and dense time agree
 * (Henzinger, Manna, Pnueli 1992). All durations are bounded, so there are finitely many classes; no extrapolation.
 * Search is breadth-first by number of events, level by level; the classes of one key in one level are merged into
 * their hull only if the hull minus their union holds no integer point; a class included in an earlier one of its key
 * is dropped. So the first violation found has the fewest events. */
#ifndef LINTEL_EXPLORE_EXPLORE_H
#define LINTEL_EXPLORE_EXPLORE_H

#include "base/arena.h"
#include "base/span.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum {
    EXPLORE_ACTIVE_MAX = 48,  /* activities that may run at once */
    EXPLORE_EFFECT_MAX = 96,  /* effects of one firing */
    EXPLORE_RANGE_MAX = 32,   /* separate intervals kept of a probe; more are an undecided probe */
    EXPLORE_STORY_MAX = 4000, /* events of a story */
};

/** Names of activities are the machine's own. */
typedef uint16_t explore_activity;

enum explore_effect_kind {
    EXPLORE_START, /* activity draws a duration in `span` from now; if it runs already, it is replaced */
    EXPLORE_STOP, /* activity no longer runs; no effect if it does not */
    EXPLORE_SHORTEN, /* deadline = min(its deadline, now + a duration in `span`); no effect if it does not run */
};

struct explore_effect {
    enum explore_effect_kind kind;
    explore_activity activity;
    struct span span; /* START, SHORTEN */
};

enum explore_standing {
    EXPLORE_GOES_ON,
    EXPLORE_GOOD_END,  /* nothing that follows can break a promise: not expanded */
    EXPLORE_VIOLATION, /* a promise is broken; `violation` says which */
    EXPLORE_SET_ASIDE, /* this run says nothing of what is probed: ends here, counts nowhere. In a probe only */
};

/** What a firing did. The explorer zeroes it before each call; the machine fills it.
 *  alternatives: how many ways this firing can go (0 and 1 both: one). The machine is called once for each, with
 *  choice 0 .. alternatives - 1, each time from the same state before; every call must report the same number.
 *  mark: bit 0: the probed interval starts now; bit 1: it ends now (first of each counts).
 *  violation: the code, with EXPLORE_VIOLATION; in a probe also with EXPLORE_GOES_ON, once the run is violated: a run
 *  that ends because no activity is left is then a violated one.
 *  overflowed: more effects than fit; the search is undecided (EXPLORE_ACTIVE_LIMIT). */
struct explore_effects {
    struct explore_effect effects[EXPLORE_EFFECT_MAX];
    size_t count;
    uint32_t alternatives;
    enum explore_standing standing;
    uint32_t violation;
    uint8_t mark;
    bool overflowed;
};

/** A machine. state_size: bytes of its state, > 0, <= 4096; equal states must be equal bytes (no padding that
 *  differs). begin: fills the zeroed state and the first activities, at instant 0. fire: the activity's deadline has
 *  come; changes *state in place. Both are pure: same arguments, same result. The context outlives the exploration.
 *  is_background: activities that by themselves keep nothing going, such as a calendar that ticks for ever: where none
 *  but such run, nothing runs. Pure as well; NULL: there are none. */
struct explore_machine {
    size_t state_size;
    const void *context;
    void (*begin)(const void *context, void *state, struct explore_effects *ret_effects);
    void (*fire)(const void *context, void *state, explore_activity activity, uint32_t choice,
            struct explore_effects *ret_effects);
    bool (*is_background)(const void *context, explore_activity activity);
};

/** How to explore. Zeroed = defaults.
 *  class_limit: classes expanded at most (0: 200000); byte_limit: memory at most (0: 256 MiB).
 *  no_merge, no_inclusion: switch the reductions off (tests hold both ways against each other).
 *  probe: look at every run to its end, past the violations too, and collect the probed interval; the machine must
 *  keep a violation in its state and report EXPLORE_VIOLATION at the end of such runs only.
 *  keep_going: asked now and then; false stops the search with what is known so far. NULL: never asked. */
struct explore_options {
    size_t class_limit;
    size_t byte_limit;
    bool no_merge;
    bool no_inclusion;
    bool probe;
    bool (*keep_going)(void *context, size_t classes_done, size_t classes_waiting);
    void *keep_going_context;
};

enum explore_verdict { EXPLORE_PROVEN, EXPLORE_REFUTED, EXPLORE_UNDECIDED };

/** EXPLORE_CLASS_LIMIT also stands for the smaller bounds: more events in a row than EXPLORE_STORY_MAX, more than 4096
 *  ways that the SHORTENs of one firing can go, marks more than about 2^29 s back, a story past 2^31 s. */
enum explore_reason {
    EXPLORE_ENDED,
    EXPLORE_CLASS_LIMIT,
    EXPLORE_BYTE_LIMIT,
    EXPLORE_ACTIVE_LIMIT,
    EXPLORE_ASKED_TO_STOP,
};

/** One event of a story. at_s: whole seconds since the beginning. started: durations drawn by the EXPLORE_START and
 *  EXPLORE_SHORTEN effects of this event, in their order (-1 where a SHORTEN did nothing): exactly what a player needs
 *  to replay the run. The first event (activity EXPLORE_BEGIN) is `begin`. */
struct explore_event {
    explore_activity activity;
    uint32_t choice;
    int32_t at_s;
    const int32_t *started_s;
    size_t started_count;
};

#define EXPLORE_BEGIN ((explore_activity)0xFFFF)

/** Closed integer intervals, apart from each other by more than 1, ascending. */
struct explore_ranges {
    struct span interval[EXPLORE_RANGE_MAX];
    size_t count;
    bool overflowed;
};

/** What was found. Arrays are in the arena given. story: the shortest (fewest events, then each event as early as
 *  that course of events allows), with refuted only. violation: the machine's code.
 *  bad, good: lengths of the probed interval in runs that end violated or good (probe only), not in those that are set
 *  aside; good_ends: whether any run that ends well was met, marks or no marks.
 *  A firing after which nothing runs is a good end unless it says EXPLORE_VIOLATION. A probe that met a limit is
 *  undecided even if it saw a violation, as its lengths are not all there.
 *  classes_expanded, keys: what it took; bytes_peak: memory held at most. */
struct explore_result {
    enum explore_verdict verdict;
    enum explore_reason reason;
    uint32_t violation;
    const struct explore_event *story;
    size_t story_count;
    struct explore_ranges bad;
    struct explore_ranges good;
    bool good_ends;
    size_t classes_expanded;
    size_t keys;
    size_t levels;
    size_t bytes_peak;
};

/** Explores the machine to the end, or to the first violation, or to a stated bound (undecided, never proven).
 *  pages: for the search's own memory, all given back before it returns; arena: gives the story. options: NULL =
 *  defaults. Fails PROBLEM_MEMORY when a page is refused; reaching byte_limit is undecided, not a problem. */
outcome explore_run(const struct explore_machine *machine, const struct explore_options *options,
        struct pages pages, struct arena *arena, struct explore_result *ret_result,
        struct problem *ret_problem) MUST_CHECK;

#endif
