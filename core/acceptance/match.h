/* Matching what comes to the list of tests. Fed with signals in the order of their storing, and with what people say
 * and do, it is a function of these alone: interrupted, it is fed again from the beginning. */
#ifndef LINTEL_ACCEPTANCE_MATCH_H
#define LINTEL_ACCEPTANCE_MATCH_H

#include "acceptance/tests.h"
#include "signals/meaning.h"
#include "signals/sia.h"

/** One event of a signal. kind: EVENT_KIND_COUNT where Lintel follows nothing up. still: it was reported before,
 *  and this says that it goes on: no new event. code: of Contact ID, 0: SIA. report: a test report. prefix: under which
 *  the account sent it; no_prefix: a line of a list or log, which has none. number: zone or user, 0: none; area: 0:
 *  none said. id: of the signal in the archive. */
struct acceptance_heard {
    int64_t id;
    int64_t received_ms;
    enum event_kind kind;
    bool back;
    bool still;
    bool report;
    enum signal_whose whose;
    bool no_prefix;
    uint32_t prefix;
    uint16_t code;
    int32_t number;
    int32_t area;
};

enum { ACCEPTANCE_HEARD_MAX = SIA_PART_MAX }; /* all that one frame can say */

/** The events in a frame's data; 0 where none can be read. ids and instants are left to the caller. */
size_t acceptance_read(struct text data, struct acceptance_heard ret_heard[ACCEPTANCE_HEARD_MAX]);

/** Why a signal ticks nothing off. */
enum acceptance_note {
    ACCEPTANCE_WRONG_ZONE,   /* another zone than the one that is next */
    ACCEPTANCE_EXCHANGED,    /* each of two zones came where the other was next */
    ACCEPTANCE_NO_SUCH_ZONE, /* a number that the site file does not have */
    ACCEPTANCE_OTHER_KIND,   /* the right zone, another event */
    ACCEPTANCE_OTHER_CODE,   /* the right event, another code than the site file says */
    ACCEPTANCE_WRONG_AREA,
    ACCEPTANCE_DURESS_CODE, /* somebody unset with a duress code */
    ACCEPTANCE_SAME_USER,   /* the number is another person's already */
    ACCEPTANCE_LATE,
    ACCEPTANCE_EARLY,
    ACCEPTANCE_NO_ALARM, /* an end without its beginning */
    ACCEPTANCE_NO_SET,   /* somebody unset who has to set first */
    ACCEPTANCE_MODULE,   /* of a module of the panel, not of the zone of that number */
    ACCEPTANCE_ITSELF,   /* the panel bypassed a zone by itself */
    ACCEPTANCE_BUTTON,   /* the duress code that is next, or the hold-up button of that number */
    ACCEPTANCE_PREFIX,   /* the account under another prefix than the first that came */
    ACCEPTANCE_STILL,    /* a state reported again, no new event */
    ACCEPTANCE_NOTE_COUNT
};

/** An explanation. test: whose signal it would be, expected: the test that was next, of EXCHANGED the other one; the
 *  list's count: none. seconds, allowed_s: of LATE and EARLY, after it was said to be done. */
struct acceptance_said {
    enum acceptance_note note;
    size_t test;
    size_t expected;
    struct acceptance_heard heard;
    int32_t seconds;
    int32_t allowed_s;
};

/** How far a test is. seen: bit per signal; ids: which they were. began_ms: somebody said "now", 0: nobody did. by: who
 *  ticked it off by hand, or said no, at done_ms. */
struct acceptance_progress {
    uint32_t seen;
    int64_t ids[ACCEPTANCE_SIGNAL_MAX];
    int64_t began_ms;
    int64_t done_ms;
    struct text by;
    bool done;
    bool denied; /* somebody answered with no: it stays open */
};

enum { ACCEPTANCE_SAID_MAX = 512 }; /* explanations that are kept: the last ones */

/** A course of acceptance. any_order: zones may come as they like; else only the one that is next is ticked off, since
 *  two zones that are exchanged look like two that were walked past in another order. order: of the tests as they are
 *  walked, what was put off behind the others. prefix: of the first event that came; events under another one may be of
 *  another panel, and count for nothing. */
struct acceptance_course {
    const struct acceptance *acceptance;
    struct acceptance_progress *progress;
    size_t *order;
    int32_t *user_numbers; /* by person, as the panel sends them; 0: not known yet */
    bool any_order;
    bool prefix_known;
    bool other_prefix_told;
    uint32_t prefix;
    struct acceptance_said *said;
    size_t said_count;
};

/** Begins. Both borrow the arena. Fails MEMORY. */
outcome acceptance_begin(const struct acceptance *acceptance, bool any_order, struct arena *arena,
        struct acceptance_course *ret_course, struct problem *ret_problem) MUST_CHECK;

/** One event came. Gives the explanation where it ticks nothing off although it speaks of a test, or NULL. */
const struct acceptance_said *acceptance_hear(
        struct acceptance_course *course, const struct acceptance_heard *heard);

/** Somebody does what the next test says, now. */
void acceptance_now(struct acceptance_course *course, int64_t at_ms);

/** Somebody ticks a test off by hand. by: keeps. */
void acceptance_hand(struct acceptance_course *course, size_t test, struct text by, int64_t at_ms);

/** Somebody answers a question with no, also after a yes: it stays open, and is not next any more. Other tests stay as
 *  they are. by: keeps. */
void acceptance_deny(struct acceptance_course *course, size_t test, struct text by, int64_t at_ms);

/** Takes a tick by hand, or a no, back; a test that signals ticked off stays as it is. */
void acceptance_take_back(struct acceptance_course *course, size_t test);

/** Puts a test off: it comes last, before what ends the list. The account on test is not put off. */
void acceptance_put_off(struct acceptance_course *course, size_t test);

/** The test that is next, the list's count where none is left to be begun. */
size_t acceptance_next(const struct acceptance_course *course);

/** Whether its alarm came and only its end is missing. */
bool acceptance_waits(const struct acceptance_course *course, size_t test);

/** How many required tests are open. 0: the site can be called accepted, being off test included. */
size_t acceptance_open(const struct acceptance_course *course);

#endif
