#include "acceptance/match.h"

#include "signals/code.h"
#include "signals/contact_id.h"
#include "signals/frame.h"

#include <string.h>

/* ---- what a signal says */

static int32_t number_of(struct text digits) {
    int32_t number = 0;
    for (size_t i = 0; i < digits.length && number < 100000; i++) {
        if (digits.start[i] < '0' || digits.start[i] > '9') {
            return 0;
        }
        number = number * 10 + (digits.start[i] - '0');
    }
    return number;
}

/* Test reports. Source: the code tables, data/signals; from memory, sure. */
static bool reports(uint16_t code) {
    return code == 601 || code == 602 || code == 603 || code == 608;
}

static bool reports_in_sia(struct text code) {
    return text_is(code, "RP") || text_is(code, "RX") || text_is(code, "RY") || text_is(code, "TX");
}

/** Whether it is an automatic, a remote or a whole area's setting or unsetting: done under nobody's code, whatever
 *  number it carries. Source: the code tables, data/signals ("none" in SIA; 403 "automatic", 407 "remote"); from
 *  memory, unverified. */
static bool is_nobodys_act(enum event_kind kind, uint16_t code, struct text sia_code) {
    enum { AUTOMATIC = 403, REMOTE = 407 };
    const struct signal_code *row = code == 0 ? signal_sia(sia_code) : NULL;
    return (kind == EVENT_SET || kind == EVENT_UNSET) &&
            (code == AUTOMATIC || code == REMOTE ||
                    (row != NULL && row->number == SIGNAL_NUMBER_NONE));
}

static size_t read_sia(const struct sia *sia, struct acceptance_heard *ret_heard) {
    size_t count = 0;
    int32_t area = 0;
    int32_t user = 0;
    for (size_t i = 0; i < sia->count; i++) {
        const struct sia_part *part = &sia->parts[i];
        if (part->modifier) {
            area = text_is(part->code, "ri") ? number_of(part->value) : area;
            user = text_is(part->code, "id") ? number_of(part->value) : user;
            continue;
        }
        const struct signal_meaning meaning = signal_meaning_of_sia(part->code);
        const bool nobodys = is_nobodys_act(meaning.kind, 0, part->code);
        const int32_t number = number_of(part->value);
        ret_heard[count++] = (struct acceptance_heard){.kind = meaning.kind,
                .back = meaning.back,
                .still = sia->old,
                .report = reports_in_sia(part->code),
                .whose = meaning.whose,
                .number = nobodys     ? 0
                        : number == 0 ? user
                                      : number,
                .area = area};
    }
    return count;
}

size_t acceptance_read(struct text data, struct acceptance_heard ret_heard[ACCEPTANCE_HEARD_MAX]) {
    struct text account = {0};
    const struct text event = frame_event_text(data, &account);
    struct contact_id contact_id;
    struct sia sia;
    if (contact_id_read_event(event, 0, &contact_id, NULL)) {
        const struct signal_meaning meaning =
                signal_meaning_of_contact_id(contact_id.qualifier, contact_id.code);
        /* what the tables do not follow up, the site file may await: begun, ended or going on tells the qualifier */
        const bool open = meaning.kind == EVENT_KIND_COUNT;
        const bool nobodys = is_nobodys_act(meaning.kind, contact_id.code, (struct text){0});
        ret_heard[0] = (struct acceptance_heard){.kind = meaning.kind,
                .back = open ? contact_id.qualifier == CONTACT_ID_BACK : meaning.back,
                .still = open ? contact_id.qualifier == CONTACT_ID_STILL : meaning.still,
                .report = reports(contact_id.code),
                .whose = meaning.whose,
                .code = contact_id.code,
                .number = nobodys ? 0 : contact_id.number,
                .area = contact_id.group};
        return 1;
    }
    return sia_read(event, 0, &sia, NULL) ? read_sia(&sia, ret_heard) : 0;
}

/* ---- where the course stands */

outcome acceptance_begin(const struct acceptance *acceptance, bool any_order, struct arena *arena,
        struct acceptance_course *ret_course, struct problem *ret_problem) {
    struct acceptance_course course = {.acceptance = acceptance, .any_order = any_order};
    course.progress = ARENA_ARRAY(arena, struct acceptance_progress, acceptance->count);
    course.order = ARENA_ARRAY(arena, size_t, acceptance->count);
    course.user_numbers = ARENA_ARRAY(arena, int32_t, acceptance->site->person_count);
    course.said = ARENA_ARRAY(arena, struct acceptance_said, ACCEPTANCE_SAID_MAX);
    if (course.progress == NULL || course.order == NULL || course.user_numbers == NULL ||
            course.said == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the course of acceptance");
    }
    for (size_t i = 0; i < acceptance->count; i++) {
        course.order[i] = i;
    }
    *ret_course = course;
    return outcome_good();
}

/** Whether all that is awaited has come; of the beginnings alone: whether they have. */
static bool all_seen(const struct acceptance_course *course, size_t test, bool beginnings) {
    const struct acceptance_test *of = &course->acceptance->tests[test];
    bool any = false;
    for (size_t i = 0; i < of->signal_count; i++) {
        const bool asked = of->signals[i].own && !(beginnings && of->signals[i].event.restore);
        any = any || of->signals[i].own;
        if (asked && (course->progress[test].seen >> i & 1U) == 0) {
            return false;
        }
    }
    return any;
}

bool acceptance_waits(const struct acceptance_course *course, size_t test) {
    return !course->progress[test].done && all_seen(course, test, true);
}

size_t acceptance_next(const struct acceptance_course *course) {
    for (size_t i = 0; i < course->acceptance->count; i++) {
        const size_t test = course->order[i];
        if (!course->progress[test].done && !course->progress[test].denied &&
                !acceptance_waits(course, test) && course->acceptance->tests[test].required) {
            return test;
        }
    }
    return course->acceptance->count;
}

size_t acceptance_open(const struct acceptance_course *course) {
    size_t open = 0;
    for (size_t i = 0; i < course->acceptance->count; i++) {
        open += course->acceptance->tests[i].required && !course->progress[i].done;
    }
    return open;
}

void acceptance_now(struct acceptance_course *course, int64_t at_ms) {
    const size_t next = acceptance_next(course);
    if (next < course->acceptance->count) {
        course->progress[next].began_ms = at_ms;
    }
}

void acceptance_hand(struct acceptance_course *course, size_t test, struct text by, int64_t at_ms) {
    struct acceptance_progress *progress = &course->progress[test];
    if (!progress->done) {
        progress->done = true;
        progress->denied = false;
        progress->by = by;
        progress->done_ms = at_ms;
    }
}

void acceptance_deny(struct acceptance_course *course, size_t test, struct text by, int64_t at_ms) {
    struct acceptance_progress *progress = &course->progress[test];
    if (acceptance_answer(course->acceptance->tests[test].kind, false) != NULL) {
        progress->done = false;
        progress->denied = true;
        progress->by = by;
        progress->done_ms = at_ms;
    }
}

void acceptance_take_back(struct acceptance_course *course, size_t test) {
    struct acceptance_progress *progress = &course->progress[test];
    if ((progress->done || progress->denied) && progress->by.length > 0) {
        progress->done = false;
        progress->denied = false;
        progress->by = (struct text){0};
        progress->done_ms = 0;
    }
}

/** What ends the list: only when all else is done. */
static bool ends(enum acceptance_kind kind) {
    return kind == ACCEPTANCE_STATION || kind == ACCEPTANCE_OFF_TEST;
}

void acceptance_put_off(struct acceptance_course *course, size_t test) {
    const struct acceptance *acceptance = course->acceptance;
    if (acceptance->tests[test].kind == ACCEPTANCE_ON_TEST || ends(acceptance->tests[test].kind)) {
        return;
    }
    size_t at = 0;
    while (course->order[at] != test) {
        at++;
    }
    for (; !ends(acceptance->tests[course->order[at + 1]].kind); at++) {
        course->order[at] = course->order[at + 1];
    }
    course->order[at] = test;
}

/* ---- a signal comes */

/** One signal against the list. */
struct look {
    struct acceptance_course *course;
    const struct acceptance_heard *heard;
    size_t next;
};

static const struct acceptance_said *say(
        struct look *look, enum acceptance_note note, size_t test) {
    struct acceptance_course *course = look->course;
    if (course->said_count == ACCEPTANCE_SAID_MAX) {
        memmove(course->said, course->said + 1, (ACCEPTANCE_SAID_MAX - 1) * sizeof course->said[0]);
        course->said_count--;
    }
    struct acceptance_said *said = &course->said[course->said_count++];
    *said = (struct acceptance_said){
            .note = note, .test = test, .expected = look->next, .heard = *look->heard};
    return said;
}

/** SIA codes have one word for a hold-up and a duress code, and one for all gases. */
static bool same_kind(
        const struct acceptance_signal *signal, const struct acceptance_heard *heard) {
    if (signal->code != 0 && heard->code == signal->code) {
        return signal->event.restore == heard->back;
    }
    const bool sia = heard->code == 0;
    return signal->event.restore == heard->back &&
            (signal->event.kind == heard->kind ||
                    (sia && signal->event.kind == EVENT_DURESS && heard->kind == EVENT_HOLD_UP) ||
                    (sia && signal->event.kind == EVENT_CO && heard->kind == EVENT_GAS));
}

/** Whose number it is; the site's count of people where it is nobody's yet. */
static size_t person_of(const struct acceptance_course *course, int32_t number) {
    const size_t count = course->acceptance->site->person_count;
    for (size_t i = 0; i < count; i++) {
        if (course->user_numbers[i] == number) {
            return i;
        }
    }
    return count;
}

/** Whether the number is the test's own. A person's number is learned at the test of that person. */
static bool same_number(const struct look *look, size_t test) {
    const struct acceptance_test *of = &look->course->acceptance->tests[test];
    const int32_t number = look->heard->number;
    if (acceptance_is_of_zone(of->kind)) {
        return look->course->acceptance->site->zones[of->index].number == number;
    }
    if (of->kind != ACCEPTANCE_USER && of->kind != ACCEPTANCE_DURESS) {
        return true;
    }
    const size_t whose = person_of(look->course, number);
    const bool free = whose == look->course->acceptance->site->person_count &&
            look->course->user_numbers[of->index] == 0 && test == look->next;
    return number > 0 && (whose == (size_t)of->index || free);
}

/** An unset shows no code at work before the set of the same test: the one that ends the last zone's test comes just
 *  when the first user is next, and is whoever's who walks. */
static bool unset_before_its_set(const struct look *look, size_t test) {
    const struct acceptance_test *of = &look->course->acceptance->tests[test];
    for (size_t i = 0; i < of->signal_count; i++) {
        if (of->kind == ACCEPTANCE_USER && look->heard->kind == EVENT_UNSET && of->signals[i].own &&
                of->signals[i].event.kind == EVENT_SET &&
                (look->course->progress[test].seen >> i & 1U) == 0) {
            return true;
        }
    }
    return false;
}

/** Whoever walks may set first, with a code of his own: while the test of a person is next and open, a set under a
 *  number that is nobody's begins it anew, and the unset then has to come under that number. */
static void begin_user_anew(const struct look *look) {
    struct acceptance_course *course = look->course;
    const struct acceptance *acceptance = course->acceptance;
    const int32_t number = look->heard->number;
    if (look->next == acceptance->count || acceptance->tests[look->next].kind != ACCEPTANCE_USER ||
            look->heard->kind != EVENT_SET || number <= 0 ||
            person_of(course, number) != acceptance->site->person_count) {
        return;
    }
    const int whose = acceptance->tests[look->next].index;
    if (course->user_numbers[whose] != 0) {
        course->user_numbers[whose] = 0;
        course->progress[look->next] = (struct acceptance_progress){0};
    }
}

/** The test and the signal of it that this could be; false: none. The one that is next is asked first. */
static bool find(const struct look *look, size_t *ret_test, size_t *ret_signal) {
    const struct acceptance *acceptance = look->course->acceptance;
    for (size_t k = 0; k <= acceptance->count; k++) {
        const size_t test = k == 0 ? look->next : k - 1;
        if (test == acceptance->count || look->course->progress[test].done) {
            continue;
        }
        const struct acceptance_test *of = &acceptance->tests[test];
        const bool too_soon = unset_before_its_set(look, test);
        for (size_t i = 0; i < of->signal_count && !too_soon; i++) {
            if (of->signals[i].own && (look->course->progress[test].seen >> i & 1U) == 0 &&
                    same_kind(&of->signals[i], look->heard) && same_number(look, test)) {
                *ret_test = test;
                *ret_signal = i;
                return true;
            }
        }
    }
    return false;
}

static void tick(struct look *look, size_t test, size_t signal) {
    struct acceptance_progress *progress = &look->course->progress[test];
    const struct acceptance_test *of = &look->course->acceptance->tests[test];
    progress->seen |= 1U << signal;
    progress->ids[signal] = look->heard->id;
    if (of->kind == ACCEPTANCE_USER || of->kind == ACCEPTANCE_DURESS) {
        look->course->user_numbers[of->index] = look->heard->number;
    }
    if (all_seen(look->course, test, false)) {
        progress->done = true;
        progress->done_ms = look->heard->received_ms;
    }
}

/** A clock may jump, and what was brought into an archive may say any time: beyond a month nothing changes. */
static int32_t seconds_between(int64_t from_ms, int64_t to_ms) {
    enum { MONTH_S = 30 * 86400 };
    const int64_t seconds = (to_ms - from_ms) / 1000;
    return seconds > MONTH_S ? MONTH_S : seconds < -MONTH_S ? -MONTH_S : (int32_t)seconds;
}

/** Whether its time says anything: a list or log has its own clock, often to the minute, and how long somebody stays
 *  out between his set and his unset is his choice. */
static bool has_a_time(const struct look *look, size_t test, size_t signal) {
    const struct acceptance_test *of = &look->course->acceptance->tests[test];
    const struct event event = of->signals[signal].event;
    const bool is_return = of->kind == ACCEPTANCE_USER && event.kind == EVENT_UNSET;
    return !look->heard->no_prefix && !event.restore && !is_return;
}

/** Held against the time since somebody said "now", where somebody did. */
static const struct acceptance_said *judge_time(struct look *look, size_t test, size_t signal) {
    const struct acceptance_test *of = &look->course->acceptance->tests[test];
    const struct acceptance_signal *awaited = &of->signals[signal];
    struct acceptance_progress *progress = &look->course->progress[test];
    const int32_t act_s = of->steps[awaited->of_step].at_s;
    if (progress->began_ms == 0 || test != look->next || !has_a_time(look, test, signal)) {
        return NULL;
    }
    const int32_t seconds = seconds_between(progress->began_ms, look->heard->received_ms);
    const bool late = seconds > act_s + awaited->high_s;
    /* a second is lost to rounding on either side */
    const bool early = seconds + 1 < act_s + awaited->low_s;
    if (!late && !early) {
        return NULL;
    }
    (void)say(look, late ? ACCEPTANCE_LATE : ACCEPTANCE_EARLY, test);
    struct acceptance_said *said = &look->course->said[look->course->said_count - 1];
    said->seconds = seconds;
    said->allowed_s = act_s + (late ? awaited->high_s : awaited->low_s);
    progress->began_ms = 0;
    return said;
}

/** Whether the test that is next, or one just done, brings it along. */
static bool comes_along(const struct look *look) {
    const struct acceptance *acceptance = look->course->acceptance;
    for (size_t test = 0; test < acceptance->count; test++) {
        const struct acceptance_test *of = &acceptance->tests[test];
        if (test != look->next && look->course->progress[test].seen == 0) {
            continue;
        }
        for (size_t i = 0; i < of->signal_count; i++) {
            const struct acceptance_signal *signal = &of->signals[i];
            const int32_t number = signal->event.zone == EVENT_NO_ZONE
                    ? look->heard->number
                    : acceptance->site->zones[signal->event.zone].number;
            if (!signal->own && same_kind(signal, look->heard) && number == look->heard->number) {
                return true;
            }
        }
    }
    return false;
}

/* ---- two zones exchanged */

/** Where a test stands in the order in which they are walked. */
static size_t place_of(const struct acceptance_course *course, size_t test) {
    size_t place = 0;
    while (course->order[place] != test) {
        place++;
    }
    return place;
}

/** The explanations of one turn: from where the test became next, or was last told to be exchanged. Reports of a state
 *  are among them, and say nothing of where somebody walks. */
static size_t turn_began(const struct acceptance_course *course, size_t test) {
    size_t from = course->said_count;
    while (from > 0 && course->said[from - 1].note != ACCEPTANCE_EXCHANGED &&
            course->said[from - 1].expected == test) {
        from--;
    }
    return from;
}

/** Whether this test was told to have come in the turn that began there. */
static bool told_since(const struct acceptance_course *course, size_t from, size_t test) {
    for (size_t i = from; i < course->said_count; i++) {
        if (course->said[i].note == ACCEPTANCE_WRONG_ZONE && course->said[i].test == test) {
            return true;
        }
    }
    return false;
}

/** What tells where somebody is, of the zone that is next: it answered from its own number, although not as awaited. */
static const bool of_its_place[ACCEPTANCE_NOTE_COUNT] = {
        [ACCEPTANCE_OTHER_KIND] = true,
        [ACCEPTANCE_OTHER_CODE] = true,
        [ACCEPTANCE_WRONG_AREA] = true,
        [ACCEPTANCE_LATE] = true,
        [ACCEPTANCE_EARLY] = true,
};

/** The first zone, of those still open, that came in the turn of the next one, before that one spoke itself. All else
 *  that was told meanwhile (of a module, of another prefix, of a zone done before) says nothing of who walks where. The
 *  list's count: none. */
static size_t first_elsewhere(const struct acceptance_course *course, size_t from, size_t next) {
    const struct acceptance *acceptance = course->acceptance;
    for (size_t i = from; i < course->said_count; i++) {
        const struct acceptance_said *said = &course->said[i];
        if (said->test == next && of_its_place[said->note]) {
            return acceptance->count;
        }
        if (said->note == ACCEPTANCE_WRONG_ZONE && !course->progress[said->test].done &&
                acceptance->tests[said->test].kind == ACCEPTANCE_ZONE) {
            return said->test;
        }
    }
    return acceptance->count;
}

/** The zone that came first in the turn of the next one, where whoever walks on without looking would be there by now:
 *  all zones between the two have come as well. The list's count: none. */
static size_t walked_on_to(const struct look *look) {
    const struct acceptance_course *course = look->course;
    const struct acceptance *acceptance = course->acceptance;
    const size_t none = acceptance->count;
    const size_t from = turn_began(course, look->next);
    const size_t other = first_elsewhere(course, from, look->next);
    if (other == none) {
        return none;
    }
    const size_t end = place_of(course, other);
    for (size_t at = place_of(course, look->next) + 1; at < end; at++) {
        const size_t between = course->order[at];
        if (acceptance->tests[between].kind == ACCEPTANCE_ZONE && !course->progress[between].done &&
                !told_since(course, from, between)) {
            return none;
        }
    }
    return other;
}

/** Whether the one that is next came before where this one was next, and that was not told yet. */
static bool came_for_each_other(const struct acceptance_course *course, size_t test, size_t next) {
    for (size_t i = course->said_count; i > 0; i--) {
        const struct acceptance_said *said = &course->said[i - 1];
        if (said->note == ACCEPTANCE_EXCHANGED && (said->test == test || said->expected == test)) {
            return false;
        }
        if (said->note == ACCEPTANCE_WRONG_ZONE && said->test == next && said->expected == test) {
            return true;
        }
    }
    return false;
}

/** Both are open, then: what ticked one of them off came from the other's device. */
static const struct acceptance_said *say_exchanged(struct look *look, size_t test, size_t other) {
    struct acceptance_progress *progress = &look->course->progress[test];
    if (progress->by.length == 0) {
        *progress = (struct acceptance_progress){0};
    }
    (void)say(look, ACCEPTANCE_EXCHANGED, test);
    struct acceptance_said *said = &look->course->said[look->course->said_count - 1];
    said->expected = other;
    return said;
}

static const struct acceptance_said *say_wrong_zone(struct look *look, size_t test) {
    return look->course->acceptance->tests[test].kind == ACCEPTANCE_ZONE &&
                    came_for_each_other(look->course, test, look->next)
            ? say_exchanged(look, test, look->next)
            : say(look, ACCEPTANCE_WRONG_ZONE, test);
}

/** Whether the beginning was told, as another zone, in another area, late or else wrong: its end is then no news. */
static bool was_told(const struct look *look, size_t test) {
    const struct acceptance_course *course = look->course;
    for (size_t i = course->said_count; i > 0; i--) {
        const struct acceptance_said *said = &course->said[i - 1];
        if (said->test == test && said->note != ACCEPTANCE_STILL) {
            return !said->heard.back && said->heard.kind == look->heard->kind;
        }
    }
    return false;
}

/** A signal that fits a test, judged by all that is said of it. */
static const struct acceptance_said *take(struct look *look, size_t test, size_t signal) {
    struct acceptance_course *course = look->course;
    const struct acceptance_test *of = &course->acceptance->tests[test];
    const struct acceptance_signal *awaited = &of->signals[signal];
    const bool next_is_zone = look->next < course->acceptance->count &&
            acceptance_is_of_zone(course->acceptance->tests[look->next].kind);
    if (test != look->next && course->progress[test].seen == 0 && comes_along(look)) {
        return NULL; /* of a cross-zone partner, say: its own test is still to come */
    }
    if (awaited->event.restore && !all_seen(course, test, true)) {
        return was_told(look, test) ? NULL : say(look, ACCEPTANCE_NO_ALARM, test);
    }
    if (!course->any_order && test != look->next && !awaited->event.restore && of->required &&
            acceptance_is_of_zone(of->kind) && next_is_zone) {
        return say_wrong_zone(look, test);
    }
    const size_t other = test == look->next && of->kind == ACCEPTANCE_ZONE &&
                    !awaited->event.restore && !course->any_order
            ? walked_on_to(look)
            : course->acceptance->count;
    if (other != course->acceptance->count) {
        return say_exchanged(look, test, other);
    }
    if (look->heard->area != 0 && course->acceptance->site->area_count > 1 &&
            acceptance_is_of_zone(of->kind) && look->heard->area != awaited->event.area + 1) {
        return say(look, ACCEPTANCE_WRONG_AREA, test);
    }
    if (awaited->code != 0 && look->heard->code != 0 && look->heard->code != awaited->code) {
        return say(look, ACCEPTANCE_OTHER_CODE, test);
    }
    const struct acceptance_said *off = judge_time(look, test, signal);
    if (off == NULL) {
        tick(look, test, signal);
    }
    return off;
}

static size_t zone_test(const struct acceptance *acceptance, int32_t number) {
    size_t test = 0;
    while (test < acceptance->count &&
            (acceptance->tests[test].kind != ACCEPTANCE_ZONE ||
                    acceptance->site->zones[acceptance->tests[test].index].number != number)) {
        test++;
    }
    return test;
}

/** By its kind, unless the number is a user's (an exit error by user, 457, say). Source: the code tables,
 *  data/signals; from memory, sure. */
static bool speaks_of_a_zone(const struct acceptance_heard *heard) {
    const enum event_kind kind = heard->kind;
    const struct signal_code *row = signal_contact_id(heard->code);
    if (row != NULL && row->number == SIGNAL_NUMBER_USER) {
        return false;
    }
    return kind <= EVENT_EXIT_ERROR || (kind >= EVENT_TAMPER && kind <= EVENT_MEDICAL) ||
            (kind >= EVENT_FIRE && kind <= EVENT_COLD);
}

/** Whether the test has it already, in the same words: a zone may trip twice before its end, and is not programmed
 *  wrong for that. */
static bool came_already(const struct look *look, size_t test) {
    const struct acceptance_test *of = &look->course->acceptance->tests[test];
    for (size_t i = 0; i < of->signal_count; i++) {
        const struct acceptance_signal *signal = &of->signals[i];
        const bool other_code =
                signal->code != 0 && look->heard->code != 0 && signal->code != look->heard->code;
        if (signal->own && (look->course->progress[test].seen >> i & 1U) != 0 && !other_code &&
                same_kind(signal, look->heard)) {
            return true;
        }
    }
    return false;
}

/** What ticks nothing off. */
static const struct acceptance_said *explain(struct look *look) {
    const struct acceptance *acceptance = look->course->acceptance;
    const struct acceptance_heard *heard = look->heard;
    const enum acceptance_kind next = look->next < acceptance->count
            ? acceptance->tests[look->next].kind
            : ACCEPTANCE_KIND_COUNT;
    const size_t test = zone_test(acceptance, heard->number);
    const bool next_is_user = next == ACCEPTANCE_USER || next == ACCEPTANCE_DURESS;
    if (comes_along(look)) {
        return NULL;
    }
    if (heard->kind == EVENT_DURESS && next != ACCEPTANCE_DURESS) {
        return say(look, ACCEPTANCE_DURESS_CODE, look->next);
    }
    if (next_is_user && unset_before_its_set(look, look->next) && same_number(look, look->next)) {
        return say(look, ACCEPTANCE_NO_SET, look->next);
    }
    if (next_is_user && came_already(look, look->next) && same_number(look, look->next)) {
        return NULL; /* one code may set several areas */
    }
    if (next_is_user && heard->number > 0 &&
            (heard->kind == EVENT_SET || heard->kind == EVENT_UNSET ||
                    heard->kind == EVENT_DURESS)) {
        return say(look, ACCEPTANCE_SAME_USER, look->next);
    }
    if (heard->back || heard->kind == EVENT_KIND_COUNT || !speaks_of_a_zone(heard)) {
        return NULL;
    }
    if (test == acceptance->count) {
        return say(look, ACCEPTANCE_NO_SUCH_ZONE, test);
    }
    if (test == look->next || !look->course->progress[test].done) {
        return came_already(look, test) ? NULL : say(look, ACCEPTANCE_OTHER_KIND, test);
    }
    return acceptance_is_of_zone(next) ? say_wrong_zone(look, test) : NULL;
}

/** Whether the file says that an alarm is sent as this code, whatever the tables make of it. */
static bool file_says(const struct acceptance *acceptance, uint16_t code) {
    for (size_t test = 0; test < acceptance->count && code != 0; test++) {
        for (size_t i = 0; i < acceptance->tests[test].signal_count; i++) {
            if (acceptance->tests[test].signals[i].code == code) {
                return true;
            }
        }
    }
    return false;
}

static bool is_hold_up_zone(const struct site *site, int32_t number) {
    for (size_t i = 0; i < site->zone_count; i++) {
        if (site->zones[i].number == number && site->zones[i].behaviour == SITE_HOLD_UP) {
            return true;
        }
    }
    return false;
}

/** Why it is no test's, although kind and number would fit; ACCEPTANCE_NOTE_COUNT: they may. */
static enum acceptance_note whose_else(const struct look *look) {
    const struct acceptance *acceptance = look->course->acceptance;
    const struct acceptance_heard *heard = look->heard;
    const bool next_is_duress = look->next < acceptance->count &&
            acceptance->tests[look->next].kind == ACCEPTANCE_DURESS;
    if (heard->whose != SIGNAL_OF_NUMBER && !file_says(acceptance, heard->code)) {
        return heard->whose == SIGNAL_OF_MODULE ? ACCEPTANCE_MODULE : ACCEPTANCE_ITSELF;
    }
    if (next_is_duress && heard->code == 0 && heard->kind == EVENT_HOLD_UP && !heard->back &&
            is_hold_up_zone(acceptance->site, heard->number)) {
        return ACCEPTANCE_BUTTON;
    }
    return ACCEPTANCE_NOTE_COUNT;
}

/** A panel repeats by it what it has open (at a test report, say): whether somebody set it off just now, nobody knows.
 *  Of whose zone, or of whose test else, is told all the same. */
static const struct acceptance_said *explain_still(struct look *look) {
    const size_t none = look->course->acceptance->count;
    size_t signal = 0;
    size_t test = speaks_of_a_zone(look->heard)
            ? zone_test(look->course->acceptance, look->heard->number)
            : none;
    if (test == none) {
        (void)find(look, &test, &signal);
    }
    return look->heard->kind == EVENT_KIND_COUNT && test == none
            ? NULL
            : say(look, ACCEPTANCE_STILL, test);
}

/** The same digits under another prefix may be another panel's. The site file has no prefix: the first that comes is
 *  it. */
static bool is_under_other_prefix(
        struct acceptance_course *course, const struct acceptance_heard *heard) {
    if (!course->prefix_known && !heard->no_prefix) {
        course->prefix_known = true;
        course->prefix = heard->prefix;
    }
    return !heard->no_prefix && heard->prefix != course->prefix;
}

const struct acceptance_said *acceptance_hear(
        struct acceptance_course *course, const struct acceptance_heard *heard) {
    struct look look = {.course = course, .heard = heard, .next = acceptance_next(course)};
    size_t test = 0;
    size_t signal = 0;
    if (is_under_other_prefix(course, heard)) {
        const bool again = course->other_prefix_told;
        course->other_prefix_told = true;
        return again ? NULL : say(&look, ACCEPTANCE_PREFIX, course->acceptance->count);
    }
    for (size_t i = 0; heard->report && !heard->still && i < course->acceptance->count; i++) {
        if (course->acceptance->tests[i].kind == ACCEPTANCE_REPORT) {
            course->progress[i].done = true;
            course->progress[i].seen = 1;
            course->progress[i].ids[0] = heard->id;
            course->progress[i].done_ms = heard->received_ms;
            return NULL;
        }
    }
    const enum acceptance_note note = whose_else(&look);
    if (note != ACCEPTANCE_NOTE_COUNT) {
        return say(&look, note, note == ACCEPTANCE_BUTTON ? look.next : course->acceptance->count);
    }
    if (heard->still) {
        return explain_still(&look);
    }
    begin_user_anew(&look);
    return find(&look, &test, &signal) ? take(&look, test, signal) : explain(&look);
}
