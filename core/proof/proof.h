/* The proof of a routine: panel x people x devices, explored at every timing.
 *
 * A routine is unfolded (ways into doors, legs and keypads), joined with the panel and the devices into one timed
 * machine (world.h), and given to `explore`. What is asked of it: no siren, no alarm, duress or trouble signal that it
 * does not announce, no exit error, no refused setting, nobody turned away by the keypad. */
#ifndef LINTEL_PROOF_PROOF_H
#define LINTEL_PROOF_PROOF_H

#include "base/arena.h"
#include "base/span.h"
#include "explore/explore.h"
#include "panel/panel.h"
#include "site/site.h"

/** Which promise a routine broke. */
enum proof_promise {
    PROOF_KEPT,
    PROOF_SIREN, /* the siren sounded */
    PROOF_ALARM, /* an alarm signal left, with or without a siren */
    PROOF_HOLD_UP,
    PROOF_DURESS,
    PROOF_TROUBLE,
    PROOF_EXIT_ERROR,  /* a door of the exit route stood open at the end of the exit time */
    PROOF_REFUSED,     /* the panel would not set */
    PROOF_TURNED_AWAY, /* the code is not valid where it was keyed */
    PROOF_DROPPED,     /* fell back to part set: nobody was seen leaving */
    PROOF_WARNING,     /* an inside warning sounded (off-route, en) */
    PROOF_PROMISE_COUNT
};

enum proof_verdict { PROOF_GOES_WELL, PROOF_GOES_WRONG, PROOF_NOT_SETTLED, PROOF_NOT_APPLIED };

/** Whether somebody is left waiting for what never comes. NOT_SETTLED: looked for in PROOF_WAITS_CLASSES classes of
 *  timings, and they did not suffice; or the search was asked to stop. */
enum proof_waits {
    PROOF_WAITS_NEVER,
    PROOF_WAITS_SOMETIMES,
    PROOF_WAITS_ALWAYS,
    PROOF_WAITS_NOT_SETTLED
};

enum { PROOF_WAITS_CLASSES = 20000 };

enum proof_line_kind {
    PROOF_LINE_ACT,     /* a person did a step */
    PROOF_LINE_LEVEL,   /* the panel learned that a zone opened or closed */
    PROOF_LINE_HOURS,   /* a person's hours began or ended */
    PROOF_LINE_UNHEARD, /* it did not: the radio is jammed */
    PROOF_LINE_TIMER,   /* a panel timer ended */
    PROOF_LINE_OUTPUT,  /* the panel answered */
    PROOF_LINE_END,
};

/** One line of a story. at_s: seconds since the routine began. person, step: who and which unfolded step (ACT).
 *  zone, open (LEVEL, UNHEARD). person, open: begin (HOURS). timer (TIMER). output (OUTPUT): as the panel made it, its
 *  cause within. bad: this line breaks the promise. */
struct proof_line {
    enum proof_line_kind kind;
    int32_t at_s;
    int person;
    size_t step;
    uint8_t zone;
    bool open;
    bool left_out;  /* ACT: an `if` was not true, or a `maybe` did not happen */
    bool lost;      /* ACT: its radio message does not arrive */
    bool too_short; /* ACT: it ended an opening that an input did not see */
    bool moved;     /* ACT: a door moved or a detector tripped; false: it stood so already */
    bool bad;
    panel_timer timer;
    struct panel_output output;
};

/** What befalls a device by itself: no site file writes it, it is a step of a hypothesis (seek.h). The step's act is
 *  SITE_ACT_WAIT, its zone the device's. */
enum proof_mishap {
    PROOF_MISHAP_NONE,
    PROOF_MISHAP_TRIPS,    /* trips, or opens if it is a contact, though nobody is there */
    PROOF_MISHAP_RESTORES, /* a contact that had opened by itself is closed again */
    PROOF_MISHAP_SILENT,   /* was not heard for the whole supervision window */
    PROOF_MISHAP_BATTERY,  /* its battery runs low */
    PROOF_MISHAP_COUNT
};

/** One unfolded step of a person: a single act. written: index of the step in site_routine.steps it came from. */
struct proof_step {
    int who;
    struct span in;
    bool absolute; /* `in` counts from the routine's beginning */
    enum site_act act;
    enum proof_mishap mishap;
    int door;
    int sign_door; /* that `when` and `if` look at */
    int zone;
    int keypad;
    uint32_t areas;
    int mode;
    enum site_use use;
    enum site_message message;
    enum site_sign when;
    int when_area;
    enum site_sign if_sign;
    int if_area;
    bool if_not;
    bool maybe;
    int after; /* unfolded step that must be done first, or SITE_NONE */
    size_t written;
    size_t group; /* this and so many following steps of the routine are one: left out together */
};

enum { PROOF_STEP_MAX = 192, PROOF_ACTOR_MAX = 16 };

/** A routine, unfolded: the steps of each person in order. begins_s: clock time of its instant 0 (seconds since
 *  midnight), or -1 when the routine names none. */
struct proof_routine {
    struct text name;
    struct text says;
    const struct site_routine *source;
    struct proof_step steps[PROOF_STEP_MAX];
    size_t step_count;
    int32_t begins_s;
};

/** How far a routine's verdict reaches, and how near it came. margin_timer: which timer would hurt first if it were
 *  shortened; margin_s: the least whole number of seconds by which shortening it makes the routine go wrong (so
 *  margin_s - 1 still holds); margin_none: no timer shortened by up to its whole length hurts.
 *  needs_tolerance: goes wrong only because the panel's clocks may be off by the stated tolerance. */
struct proof_answer {
    struct proof_routine routine;
    enum proof_verdict verdict;
    struct text not_applied; /* what it needs that the site does not have */
    enum proof_promise promise;
    bool needs_tolerance;
    bool always; /* goes wrong however the times fall */
    const struct proof_line *story;
    size_t story_count;
    uint8_t culprit_zone;      /* the zone of the breaking output, or PANEL_NO_ZONE */
    enum panel_reason culprit; /* its reason */
    uint8_t culprit_area;
    /* The probed interval: from the event that started the tight timer to the act that crosses it. `can`: its lengths
     * in the runs that were well until that very start of the timer had ended, and broken when the panel had learned of
     * the act. always_when: those of them that no run has which goes well to its end. A start is the doing of a step
     * that the panel learns of later, if nobody has moved the same door or detector since. */
    bool has_range;
    panel_timer probed_timer;
    uint8_t probed_start; /* which start of it, from 1, among those made by the doing of step probed_from */
    size_t probed_from; /* PROOF_STEP_MAX: among all */
    size_t probed_step;
    struct explore_ranges can; /* can happen when */
    struct explore_ranges always_when;
    bool has_margin;
    panel_timer margin_timer;
    int32_t margin_s;
    int32_t margin_deadline_s; /* the timer's earliest end, tolerance within */
    /* of a routine that goes well: a course can end (ALWAYS: every one does) with this step still waited before */
    enum proof_waits waits;
    size_t waiting_step; /* SOMETIMES, ALWAYS */
    size_t classes;
    enum explore_reason reason; /* why it, or who waits in it, is not settled */
};

struct proof_options {
    bool no_tolerance; /* panel timers run exactly as programmed */
    bool no_margin;
    bool no_range;
    bool no_promises; /* nothing breaks one: a course is told to its end, whatever comes of it */
    bool no_merge, no_inclusion, no_calm; /* reductions off, for the tests */
    int scale;                            /* multiplies every time (1 when 0); tests only */
    int32_t shift_s
            [PANEL_TIMER_KIND_COUNT]; /* shortens every timer of the kind by so much, both ends */
    int32_t shift_most_s
            [PANEL_TIMER_KIND_COUNT]; /* and by anything from 0 to so much more, each start anew */
    int32_t remedy_spare_s; /* a remedy should leave so many seconds to spare; one that leaves less is second choice */
    size_t class_limit;
    size_t whole_classes; /* explored before what nobody hears is left out (0: 2000) */
    bool (*keep_going)(void *context, size_t classes_done, size_t classes_waiting);
    void *keep_going_context;
    const struct proof_goal *goal; /* looked for instead of broken promises: proof_seek's own */
};

/** Proves one routine of the site. routine: unfolded (proof_unfold). tables: NULL = the standard ones.
 *  The answer's arrays are in `arena`; `pages` serve the search. A bound that was hit is PROOF_NOT_SETTLED. */
outcome proof_run(const struct site *site, const struct panel_tables *tables,
        const struct proof_routine *routine, const struct proof_options *options,
        struct pages pages, struct arena *arena, struct proof_answer *ret_answer,
        struct problem *ret_problem) MUST_CHECK;

/** Unfolds ways and habits into single acts. Fails PROBLEM_LIMIT with more than PROOF_STEP_MAX acts, PROBLEM_MISSING
 *  where a step refers to what is not there; place names the step. */
outcome proof_unfold(const struct site *site, const struct site_routine *source,
        struct proof_routine *ret_routine, struct problem *ret_problem) MUST_CHECK;

/** Whether somebody who has hours keys in a routine that names no time of day: the hours are then not applied. */
bool proof_leaves_hours_out(const struct site *site, const struct proof_routine *routine);

/** What a step tells the panel itself: a code, a fob, a lid, the mains. state: of the panel at that instant, as on it
 *  depends which areas a code acts on. False: it moves a door, trips a detector, or nothing. Mishaps are not looked
 *  at. */
bool proof_step_input(const struct site *site, const struct panel_program *program,
        const struct panel_state *state, const struct proof_step *step,
        struct panel_input *ret_input);

/** How fast people are when one course of a routine is told: each step as quick, middling or slow as it may be. */
enum proof_pace { PROOF_QUICK, PROOF_MIDDLING, PROOF_SLOW };

/** One course of a routine, told as a story: every step at this pace, panel timers at their nominal time, each `maybe`
 *  happening. On one second people come first, then timers in table order (design page, "Same second"). Gives the lines
 *  in the arena; the last one may break a promise. Fails as proof_run; PROBLEM_LIMIT past the lines of a story. */
outcome proof_tell(const struct site *site, const struct panel_tables *tables,
        const struct proof_routine *routine, const struct proof_options *options,
        enum proof_pace pace, struct arena *arena, const struct proof_line **ret_story,
        size_t *ret_story_count, struct problem *ret_problem) MUST_CHECK;

/** A change of the site that might help. */
enum proof_edit_kind {
    PROOF_EDIT_BEHAVIOUR, /* zone gets behaviour (in every set mode where it was live), entry with `delay` */
    PROOF_EDIT_IN_MODE,   /* zone gets behaviour in one mode */
    PROOF_EDIT_DELAY,     /* entry delay `delay` gets seconds_s */
    PROOF_EDIT_EXIT,      /* exit delay of `mode` gets seconds_s */
    PROOF_EDIT_CODE_AREA, /* person's code gets a further area */
    PROOF_EDIT_CODE_MODE, /* person's code and fob may set a further mode */
    PROOF_EDIT_HOURS, /* person's code and fob are taken within `hours` (both ends alike: at every hour) */
    PROOF_EDIT_FOB, /* person gets a fob, and unsets with it instead of the code */
    PROOF_EDIT_KEYPAD, /* way `way` gets its keypad right behind the door: no legs, seconds_s to walk */
    PROOF_EDIT_HOLD,   /* follower hold of a zone */
    PROOF_EDIT_PULSES, /* zone trips at `count` pulses only */
    PROOF_EDIT_CROSS,  /* zone and `partner` become a cross-zone pair */
    PROOF_EDIT_CONTACT, /* a contact on `door`: a new entry zone of `area`, numbered `count`, with `delay` */
    PROOF_EDIT_SWITCH, /* a choice of the panel, `choice` */
    PROOF_EDIT_COUNT
};

/** Choices of the panel that a remedy may turn. */
enum proof_choice {
    PROOF_CHOICE_EXIT_RESTART, /* on */
    PROOF_CHOICE_SECOND_KEEP,  /* second entry keeps the first time */
    PROOF_CHOICE_ENTRY_OPEN,   /* entry doors may be open at the request */
    PROOF_CHOICE_MOTION_FREE,  /* motion does not block setting */
    PROOF_CHOICE_FAULTS_IGNORED,
    PROOF_CHOICE_NO_DROP,  /* stays full set though nobody was seen leaving */
    PROOF_CHOICE_POSTPONE, /* auto-set may be put off once more */
    PROOF_CHOICE_COUNT
};

struct proof_edit {
    enum proof_edit_kind kind;
    int zone, partner, mode, delay, person, way, keypad, area, door;
    enum site_behaviour behaviour;
    enum proof_choice choice;
    int32_t seconds_s;
    int32_t count;
    struct span hours;
    struct text says;  /* what to key in, for people */
    struct text price; /* what it costs in security or comfort */
    struct text place; /* path in the site file */
};

/** A remedy that was applied and proven: its routine goes well, and no routine that went well goes wrong.
 *  edits: one or two changes. answer: of the same routine afterwards (margin within). */
struct proof_remedy {
    struct proof_edit edits[2];
    size_t edit_count;
    struct proof_answer answer;
    size_t routines_proven; /* of those checked, with the remedy */
    size_t routines_checked;
};

/** A site with the edit made, in the arena. */
outcome proof_edit_apply(const struct site *site, const struct proof_edit *edit,
        struct arena *arena, struct site *ret_site, struct problem *ret_problem) MUST_CHECK;

/** Finds the cheapest remedy for answers[which] by trying. answers: every answer of the site as it is.
 *  ret_found false: none of those tried helps. */
outcome proof_find_remedy(const struct site *site, const struct panel_tables *tables,
        const struct proof_answer *answers, size_t answer_count, size_t which,
        const struct proof_options *options, struct pages pages, struct arena *arena,
        struct proof_remedy *ret_remedy, bool *ret_found, struct problem *ret_problem) MUST_CHECK;

/** The routines that every site gets unless removed with a reason (common practice; dossier mistakes.md): each either
 *  applies (a site_routine made from ways and people) or says what it needs. Arrays are in the arena.
 *  ret_needs[i]: empty when it applies. */
struct proof_usual {
    struct site_routine routine;
    struct text needs;      /* "no fob": why it is not applied; empty: it is */
    struct text removed;    /* the reason in the file; empty: not removed */
    struct text removed_as; /* as the file calls it, in either word set */
};
outcome proof_usual_routines(const struct site *site, struct arena *arena,
        struct proof_usual **ret_usual, size_t *ret_count, struct problem *ret_problem) MUST_CHECK;

/** "a siren", "an exit error": what the customer calls it. */
const char *proof_promise_name(enum proof_promise promise);

#endif
