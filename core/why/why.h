/* The service call: something was observed; which routine, accident, setting or device fits it?
 *
 * Every explanation is played through the same panel as the proof, with the observation as what is looked for
 * (proof/seek.h): what the panel cannot do is no explanation. Three parts, so that whoever has several cores can share
 * the second: why_plan_make lists the hypotheses, why_try tries one of them and touches nothing else, why_rank sorts
 * what was found. How likelihood is ranked: docs/why.md. */
#ifndef LINTEL_WHY_WHY_H
#define LINTEL_WHY_WHY_H

#include "base/json.h"
#include "check/check.h"
#include "check/show.h"
#include "proof/seek.h"

/* Classes explored at most for one hypothesis; there are thousands, and each is looked at several times. */
enum { WHY_CLASS_LIMIT = 20000 };

/* Pairs of accidents tried at most. The 2,435 of the demo bakery took a second of processor time (measured). */
enum { WHY_PAIR_MOST = 4000 };

/** What can be observed. */
enum why_what {
    WHY_SIREN,
    WHY_SIGNAL, /* an alarm signal reached the station */
    WHY_NO_SIREN,
    WHY_CHIME,
    WHY_TROUBLE,
    WHY_EXIT_ERROR,
    WHY_REFUSED, /* not ready */
    WHY_DROPPED, /* fell back to part */
    WHY_CODE,    /* the code was not taken */
    WHY_ENTRY_TONE,
    WHY_EXIT_TONE,
    WHY_WARNING,
    WHY_HOLD_UP,
    WHY_DURESS,
    WHY_NO_SIGNAL, /* an alarm, and the station was told nothing, or late */
    WHY_NO_PATH,
    WHY_JAMMING,
    WHY_POWER_CUT,
    WHY_NOT_HEARD, /* a device was missed by supervision */
    WHY_LOW_BATTERY,
    WHY_WHAT_COUNT
};

/** How the area stood. */
enum why_stand { WHY_STANDS_ANYHOW, WHY_STANDS_SET, WHY_STANDS_UNSET };

/** What was observed. clock: since midnight, both ends included; its high end may lie past midnight. zone, area,
 *  person, mode: indexes of the site, SITE_NONE: not said. part: the part of the day that stands for the clock, as it
 *  was said; day: a day that was said and is not used. Both borrowed from what was read; empty: not said. */
struct why_question {
    enum why_what what;
    bool has_clock;
    struct span clock;
    int zone;
    int area;
    int person;
    enum why_stand stand;
    int mode;
    struct text part;
    struct text day;
};

/** Reads an observation in plain words: "siren, 03:10, zone 6, set night". Fails PROBLEM_UNREADABLE: a word that is not
 *  known (with the nearest that is), two different things said of one, nothing that was observed, a time that may be in
 *  either half of the day; PROBLEM_MISSING: a zone that the site does not have. Keeps `said`. */
outcome why_read(const struct site *site, struct text said, struct why_question *ret_question,
        struct problem *ret_problem) MUST_CHECK;

/** What can be said, a line for each kind of thing, with the site's own names. */
void why_show_sayings(const struct site *site, struct layout *layout);

/** What was taken another way than it was said, or not at all, a sentence each: which hours "in the night" stands for,
 *  that a weekday is not used. ret_notes: of WHY_NOTES_MOST, in the arena. Gives how many. */
enum { WHY_NOTES_MOST = 2 };
size_t why_notes(const struct why_question *question, struct arena *arena, struct text *ret_notes);

/** The observation as it was understood, in a sentence: "siren, 03:10, zone 6 \"side door\", set (night)". */
struct text why_understood(
        const struct site *site, const struct why_question *question, struct arena *arena);

/** What a hypothesis is about. */
enum why_kind {
    WHY_ROUTINE,      /* a routine as it is: the settings do it */
    WHY_MISTYPE,      /* a routine, and a code is mistyped */
    WHY_LEFT_OPEN,    /* a routine, and a door is not closed */
    WHY_NOT_LATCHED,  /* a routine, and a door springs open again */
    WHY_FOB,          /* a fob is pressed by accident */
    WHY_MESSAGE_LOST, /* a routine, and a radio message is lost */
    WHY_PERSON,       /* somebody opens it, passes it, breaks it or presses it */
    WHY_REAL,         /* smoke, gas, water: it is there */
    WHY_PET,          /* an animal passes it */
    WHY_DEVICE,       /* it trips by itself */
    WHY_TAMPER,       /* its lid is open */
    WHY_UNHEARD,      /* it was not heard for too long */
    WHY_BATTERY,
    WHY_MAINS,
    WHY_PATH, /* the path to the station is down */
    WHY_JAM,  /* the radio is jammed */
    /* why there was no siren */
    WHY_KEYED, /* the zone does what is keyed in */
    WHY_NOT_SET,
    WHY_FELL_BACK,
    WHY_BYPASSED,
    WHY_SWUNG_OUT,
    WHY_TRIP_LOST, /* its radio message */
    WHY_TRIP_JAMMED,
    WHY_KIND_COUNT
};

/** One hypothesis. routine: index in the plan's routines, or WHY_AT_REST: nobody comes or goes. step: unfolded step
 *  that the accident befalls. zone, door, person: what it is about, SITE_NONE: nothing. other: a second accident at
 *  once, as index of its hypothesis in the plan's list, or WHY_ALONE. */
#define WHY_AT_REST ((size_t)-1)
#define WHY_ALONE ((size_t)-1)
struct why_hypothesis {
    size_t other;
    enum why_kind kind;
    size_t routine;
    size_t step;
    int zone;
    int door;
    int person;
};

/** What is to be tried. site: a copy with two further people, "Somebody" and "A draught". rests: how the areas stand
 *  when nobody moves. second: from this one on, hypotheses are only tried where the same accident at rest explains
 *  nothing. third: from this one on, they are of two accidents at once, and those within a routine only tried where
 *  nothing before explains it at that hour; left_out: so many of those are not listed, WHY_PAIR_MOST being the
 *  bound. */
struct why_plan {
    struct why_question question;
    struct site site;
    struct check_routine *routines;
    size_t routine_count;
    struct site_routine *rests;
    size_t rest_count;
    struct why_hypothesis *list;
    size_t count;
    size_t second;
    size_t third;
    size_t left_out;
    int somebody;
    int draught;
};

/** How the hour fits. */
enum why_hour { WHY_IN_TIME, WHY_NO_HOUR, WHY_OTHER_HOUR };

/** What became of a hypothesis. tried: it was looked at. found: it explains the observation, at some hour. settled: the
 *  search went to its end. accidents: how many it takes; a routine that the file does not describe, and another hour
 *  than the file's, count as one each. hours_off_s: from the observed time to the nearest at which it can happen
 *  (WHY_OTHER_HOUR). width_s: at how many instants it can happen; 0: not known. */
struct why_answer {
    bool tried;
    bool found;
    bool settled;
    enum why_hour hour;
    int accidents;
    int32_t hours_off_s;
    int64_t width_s;
    const struct proof_sought *sought;
};

/** An explanation: hypotheses of one kind about one thing. head: the likeliest of them. routines: names of those of
 *  the others that a routine is part of. zones: every zone that would do, where the observation names none. */
struct why_explanation {
    size_t head;
    const struct text *routines;
    size_t routine_count;
    struct panel_zones zones;
    size_t zone_count;
    struct story story;
    struct text headline;
    struct text why;
    struct text place;
    struct text when;
    struct text cause; /* what makes such a device do it */
    struct text log;
    struct text ask;
    struct text test;
    struct text source;
};

struct why_report {
    const struct why_plan *plan;
    const struct why_answer *answers;
    struct why_explanation *explanations; /* likeliest first */
    size_t explanation_count;
    size_t in_time; /* explanations whose hour fits, or that name none */
    size_t tried;
    size_t pairs; /* of those, so many of two accidents at once */
    size_t unsettled;
    bool stopped;
};

/** Lists the hypotheses. Arrays are in the arena; the site is borrowed. Fails PROBLEM_LIMIT where the site has so many
 *  people that no two more fit, PROBLEM_MISSING where "no siren" names no zone. */
outcome why_plan_make(const struct site *site, const struct why_question *question,
        struct arena *arena, struct why_plan *ret_plan, struct problem *ret_problem) MUST_CHECK;

/** Tries one hypothesis. answers: those of the plan; read, for one past plan->second or plan->third, up to there.
 *  Independent of every other call in its part of the list: own arena, own pages, own ret_answer. */
outcome why_try(const struct why_plan *plan, size_t which, const struct why_answer *answers,
        const struct proof_options *options, struct pages pages, struct arena *arena,
        struct why_answer *ret_answer, struct problem *ret_problem) MUST_CHECK;

/** Sorts and explains. answers: one for each hypothesis of the plan; both are kept. */
outcome why_rank(const struct why_plan *plan, const struct why_answer *answers, struct arena *arena,
        struct why_report *ret_report, struct problem *ret_problem) MUST_CHECK;

/** All of it on one core. */
outcome why_ask(const struct site *site, const struct why_question *question, struct pages pages,
        struct arena *arena, struct why_report *ret_report, struct problem *ret_problem) MUST_CHECK;

/** 0: explained; 1: nothing in the file explains it; 3: nothing does, but something is not settled; 130: stopped. */
int why_exit_status(const struct why_report *report);

/** As text, and as JSON (docs/json.md). most: so many explanations at most, 0: all. said: as it was typed. */
void why_show(const struct why_report *report, const struct show_places *places, size_t most,
        struct layout *layout);
void why_show_json(const struct why_report *report, const struct show_places *places,
        struct text said, struct json_writer *json);

#endif
