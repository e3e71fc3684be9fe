/* Acceptance: the list of tests of a site and what each must bring, worked out by the panel model of every proof: each
 * test is played through the panel as it is programmed, with its timers as short and as long as they may run. */
#ifndef LINTEL_ACCEPTANCE_TESTS_H
#define LINTEL_ACCEPTANCE_TESTS_H

#include "acceptance/listening.h"
#include "base/arena.h"
#include "panel/player.h"

enum {
    ACCEPTANCE_STEP_MAX = 24,
    ACCEPTANCE_SIGNAL_MAX = 12,
    /* A signal may be so long on its way: a sender that hears no answer repeats after 20 s as a rule (DC-09, from
     * memory, unsure). House practice. */
    ACCEPTANCE_WAY_S = 20,
};

/** In the order in which they are done. By hand: somebody says so, no signal does. */
enum acceptance_kind {
    ACCEPTANCE_ON_TEST, /* by hand: the account is on test at the station */
    ACCEPTANCE_REPORT,  /* a test report */
    ACCEPTANCE_ZONE,    /* alarm and restore */
    ACCEPTANCE_TAMPER,  /* of a zone's device */
    ACCEPTANCE_USER,    /* sets and unsets */
    ACCEPTANCE_DURESS,
    ACCEPTANCE_SIREN, /* by hand: whether it is heard in a room; a question, which can be answered with no */
    ACCEPTANCE_MAINS,
    ACCEPTANCE_BATTERY,     /* of a radio device; not required, as few can be made low */
    ACCEPTANCE_SUPERVISION, /* of a radio device: that it is missed; not required, as it takes hours */
    ACCEPTANCE_BYPASS,      /* of a zone; not required */
    ACCEPTANCE_STATION,     /* by hand: a signal was seen at the real station */
    ACCEPTANCE_OFF_TEST,    /* by hand: the account is off test again */
    ACCEPTANCE_KIND_COUNT
};

/** What a person may answer to a question, yes and no: "heard", "not heard"; NULL: it is no question. */
const char *acceptance_answer(enum acceptance_kind kind, bool yes);

/** Whether it is about a zone, which is its index. */
bool acceptance_is_of_zone(enum acceptance_kind kind);

/** What is done to the panel, so many seconds after the test began. */
struct acceptance_step {
    int32_t at_s;
    struct panel_input input;
};

/** A signal that comes of it, low_s to high_s after the step that makes it: for `own` ones the test waits, others only
 *  come along. of_step: index. code: what it is sent as in Contact ID where the site says so, else 0. */
struct acceptance_signal {
    struct event event;
    bool own;
    size_t of_step;
    int32_t low_s;
    int32_t high_s;
    uint16_t code;
};

/** A test. index: zone or person, or SITE_NONE. ear: of a siren's test. name: the same in every run: "zone 7",
 *  "tamper 7", "user baker", "heard in bedroom". */
struct acceptance_test {
    enum acceptance_kind kind;
    int index;
    struct acceptance_ear ear;
    struct text name;
    struct text says; /* what to do, for a person */
    bool required;
    bool by_hand;
    struct site_start starts[SITE_AREA_MAX];
    struct acceptance_step *steps;
    size_t step_count;
    int32_t over_s; /* all has come by then */
    struct acceptance_signal signals[ACCEPTANCE_SIGNAL_MAX];
    size_t signal_count;
};

/** The tests of a site, in walking order. */
struct acceptance {
    const struct site *site;
    struct acceptance_test *tests;
    size_t count;
};

/** Makes the list. Zones stand in the order of the shortest round past them where the building is drawn, else as in the
 *  file. site: keeps. ret_acceptance: in the arena. Fails BAD_VALUE (of the panel's program), LIMIT, MEMORY. */
outcome acceptance_make(const struct site *site, struct arena *arena,
        struct acceptance *ret_acceptance, struct problem *ret_problem) MUST_CHECK;

/** What the file says (`events:`) that an alarm of this behaviour is sent as: Contact ID's three digits, or 0. */
uint16_t acceptance_code(const struct site *site, enum site_behaviour behaviour);

/** Whether somebody is called for it: an intrusion, a hold-up, fire and the like, or its end. */
bool acceptance_is_alarm(struct event event);

/** The order of zones to walk past: zone indexes, zone_count of them. Fails LIMIT, MEMORY. */
outcome acceptance_order(const struct site *site, struct arena *arena, size_t **ret_order,
        struct problem *ret_problem) MUST_CHECK;

#endif
