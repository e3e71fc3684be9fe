#include "accepting/inside.h"

#include "acceptance/say.h"
#include "host/host.h"

#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { AHEAD_MS = 60000, NAME_MOST = 200 };

static int64_t now_ms(void) {
    struct timespec now;
    (void)clock_gettime(CLOCK_REALTIME, &now);
    return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

bool accepting_begun(const struct accepting *accepting) {
    return accepting->begun;
}

const struct acceptance *accepting_list(const struct accepting *accepting) {
    return &accepting->acceptance;
}

const struct acceptance_course *accepting_course(const struct accepting *accepting) {
    return &accepting->course;
}

size_t accepting_test(const struct accepting *accepting, struct text name) {
    size_t test = 0;
    while (test < accepting->acceptance.count &&
            !text_equal(accepting->acceptance.tests[test].name, name)) {
        test++;
    }
    return test;
}

const char *accepting_state(const struct accepting *accepting, size_t test) {
    const struct acceptance_course *course = &accepting->course;
    if (course->progress[test].done) {
        return course->progress[test].by.length > 0 ? "by hand" : "done";
    }
    if (course->progress[test].denied) {
        return "said no";
    }
    if (acceptance_waits(course, test)) {
        return "waits";
    }
    return test == acceptance_next(course)               ? "next"
            : accepting->acceptance.tests[test].required ? "open"
                                                         : "if wanted";
}

/* ---- feeding */

/** One run of feeding. */
struct feeding {
    struct accepting *accepting;
    struct accepting_listener listener;
    bool changed;
    bool anew; /* something came that counts before what was fed */
    struct problem problem;
};

static void tell(const struct feeding *feeding, const struct acceptance_said *said, size_t before) {
    if (feeding->listener.tell != NULL) {
        feeding->listener.tell(feeding->listener.context, said, before);
    }
}

static void forget(struct heard_signal *kept) {
    free(kept->text);
    *kept = (struct heard_signal){0};
}

static void keep(struct heard_signal *kept, const struct archive_signal *signal, struct text text) {
    forget(kept);
    kept->text = malloc(text.length + 1);
    if (kept->text != NULL) {
        memcpy(kept->text, text.length == 0 ? "" : text.start, text.length);
        kept->length = text.length;
        kept->id = signal->id;
        kept->received_ms = signal->received_ms;
    }
}

/** Keeps what came, for whoever looks at the last ones. */
static void keep_last(struct accepting *accepting, const struct archive_signal *signal,
        const struct acceptance_heard *heard, size_t count) {
    struct arena arena;
    struct text_builder says;
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&says, &arena);
    for (size_t i = 0; i < count; i++) {
        text_add_string(&says, i > 0 ? "; " : "");
        acceptance_say_heard(&heard[i], &says);
    }
    keep(&accepting->came[accepting->came_count++ % CAME_MOST], signal, text_built(&says));
    arena_finish(&arena);
}

const struct heard_signal *accepting_tick(
        const struct accepting *accepting, size_t test, size_t signal) {
    const struct heard_signal *kept = &accepting->ticks[test * ACCEPTANCE_SIGNAL_MAX + signal];
    return kept->id != 0 && kept->id == accepting->course.progress[test].ids[signal] ? kept : NULL;
}

/** Keeps its frame for what it ticked off. */
static void keep_ticks(struct accepting *accepting, const struct archive_signal *signal) {
    for (size_t test = 0; test < accepting->acceptance.count; test++) {
        const struct acceptance_progress *progress = &accepting->course.progress[test];
        for (size_t i = 0; progress->seen != 0 && i < ACCEPTANCE_SIGNAL_MAX; i++) {
            if ((progress->seen >> i & 1U) != 0 && progress->ids[i] == signal->id) {
                keep(&accepting->ticks[test * ACCEPTANCE_SIGNAL_MAX + i], signal, signal->frame);
            }
        }
    }
}

static void forget_signals(struct accepting *accepting) {
    const size_t tick_count =
            accepting->ticks == NULL ? 0 : accepting->acceptance.count * ACCEPTANCE_SIGNAL_MAX;
    for (size_t i = 0; i < CAME_MOST; i++) {
        forget(&accepting->came[i]);
    }
    for (size_t i = 0; i < tick_count; i++) {
        forget(&accepting->ticks[i]);
    }
    accepting->came_count = 0;
}

static bool begins_with(struct text text, const char *with) {
    const size_t length = strlen(with);
    return text.length > length && memcmp(text.start, with, length) == 0;
}

/** What was brought in, and is of the time before the acceptance began, is no test of it. Archives of an older version
 *  know it by the peer alone. */
static bool is_from_before(const struct accepting *accepting, const struct archive_signal *signal) {
    static const char *const brought[] = {"log ", "capture "};
    bool was_brought = signal->imported;
    for (size_t i = 0; i < sizeof brought / sizeof brought[0]; i++) {
        was_brought = was_brought || begins_with(signal->peer, brought[i]);
    }
    return was_brought && signal->received_ms + AHEAD_MS < accepting->begun_ms;
}

static bool hear(void *context, const struct archive_signal *signal) {
    struct feeding *feeding = context;
    struct accepting *accepting = feeding->accepting;
    struct acceptance_heard heard[ACCEPTANCE_HEARD_MAX];
    const size_t count =
            is_from_before(accepting, signal) ? 0 : acceptance_read(signal->data, heard);
    bool ticks = false;
    keep_last(accepting, signal, heard, count);
    for (size_t i = 0; i < count; i++) {
        const size_t before = acceptance_next(&accepting->course);
        heard[i].id = signal->id;
        heard[i].received_ms = signal->received_ms;
        heard[i].prefix = signal->prefix;
        heard[i].no_prefix = begins_with(signal->peer, "log ");
        const struct acceptance_said *said = acceptance_hear(&accepting->course, &heard[i]);
        ticks = ticks || said == NULL;
        if (signal->id > accepting->told_signal) {
            tell(feeding, said, before);
        }
    }
    if (ticks) {
        keep_ticks(accepting, signal);
    }
    accepting->last_signal = signal->id;
    feeding->changed = true;
    return true;
}

/** Signals up to this one (0: all). What others have sent is gone through once, not at each look. */
static outcome hear_signals(struct feeding *feeding, int64_t up_to, struct problem *ret_problem) {
    struct accepting *accepting = feeding->accepting;
    int64_t last = 0;
    TRY(archive_last(accepting->archive, &last, ret_problem));
    up_to = up_to == 0 || up_to > last ? last : up_to;
    if (up_to <= accepting->looked) {
        return outcome_good();
    }
    const struct archive_query query = {.after_id = accepting->looked > accepting->last_signal
                    ? accepting->looked
                    : accepting->last_signal,
            .up_to_id = up_to,
            .any_prefix = true,
            .account = accepting->acceptance.site->station.account};
    TRY(archive_each(accepting->archive, query, hear, feeding, ret_problem));
    accepting->looked = up_to;
    return outcome_good();
}

static void do_now(struct acceptance_course *course, const struct archive_act *act, size_t test) {
    (void)test;
    acceptance_now(course, act->at_ms);
}

static void do_hand(struct acceptance_course *course, const struct archive_act *act, size_t test) {
    acceptance_hand(course, test, act->by, act->at_ms);
}

static void do_no(struct acceptance_course *course, const struct archive_act *act, size_t test) {
    acceptance_deny(course, test, act->by, act->at_ms);
}

static void do_back(struct acceptance_course *course, const struct archive_act *act, size_t test) {
    (void)act;
    acceptance_take_back(course, test);
}

static void do_later(struct acceptance_course *course, const struct archive_act *act, size_t test) {
    (void)act;
    acceptance_put_off(course, test);
}

/** What an act does to the course; "begin" stands apart. */
static const struct {
    const char *act;
    bool of_test;
    void (*run)(struct acceptance_course *course, const struct archive_act *act, size_t test);
} deeds[] = {
        {ACCEPTING_NOW, false, do_now},
        {ACCEPTING_HAND, true, do_hand},
        {ACCEPTING_NO, true, do_no},
        {ACCEPTING_BACK, true, do_back},
        {ACCEPTING_LATER, true, do_later},
};

enum { DEED_COUNT = sizeof deeds / sizeof deeds[0] };

static size_t deed_of(struct text act) {
    size_t deed = 0;
    while (deed < DEED_COUNT && !text_is(act, deeds[deed].act)) {
        deed++;
    }
    return deed;
}

static void apply(struct feeding *feeding, const struct archive_act *act) {
    struct accepting *accepting = feeding->accepting;
    const size_t deed = deed_of(act->act);
    const size_t test = accepting_test(accepting, act->test);
    const size_t before = acceptance_next(&accepting->course);
    feeding->changed = true;
    /* A test that the site file no longer has is no reason to stop. */
    if (deed == DEED_COUNT || (deeds[deed].of_test && test == accepting->acceptance.count)) {
        return;
    }
    deeds[deed].run(&accepting->course, act, test);
    if (deeds[deed].of_test && act->id > accepting->told_act) {
        tell(feeding, NULL, before);
    }
}

static bool counts_before(const struct archive_act *a, const struct archive_act *b) {
    return a->after_signal != b->after_signal ? a->after_signal < b->after_signal
                                              : a->at_ms <= b->at_ms;
}

/** Where an act belongs: behind those that count after no later signal, and of the same by their time: what was noted
 *  without a connection comes late. Whether it is the last one. */
static bool insert(struct accepting *accepting, struct noted_act *noted) {
    struct noted_act **at = &accepting->acts;
    while (*at != NULL && counts_before(&(*at)->act, &noted->act)) {
        at = &(*at)->next;
    }
    noted->next = *at;
    *at = noted;
    return noted->next == NULL;
}

/** Reads an act; "begin" drops what was before. */
static bool note(void *context, const struct archive_act *act) {
    struct feeding *feeding = context;
    struct accepting *accepting = feeding->accepting;
    accepting->last_act = act->id;
    if (text_is(act->act, ACCEPTING_BEGIN)) {
        arena_finish(&accepting->acts_arena);
        arena_init(&accepting->acts_arena, host_pages(), 0);
        accepting->acts = NULL;
        accepting->begun = true;
        accepting->begun_ms = act->at_ms;
        accepting->begun_after = act->after_signal;
        feeding->anew = true;
        return true;
    }
    struct noted_act *noted = ARENA_NEW(&accepting->acts_arena, struct noted_act);
    if (noted == NULL) {
        return problem_set(&feeding->problem, PROBLEM_MEMORY, "", __FILE__, __LINE__,
                "no memory for the course of acceptance")
                .good;
    }
    noted->act = *act;
    noted->act.act = text_copy(&accepting->acts_arena, act->act);
    noted->act.test = text_copy(&accepting->acts_arena, act->test);
    noted->act.by = text_copy(&accepting->acts_arena, act->by);
    if (accepting->acts_arena.refused) {
        return problem_set(&feeding->problem, PROBLEM_MEMORY, "", __FILE__, __LINE__,
                "no memory for the course of acceptance")
                .good;
    }
    const bool last = insert(accepting, noted);
    feeding->anew = feeding->anew || !last || act->after_signal < accepting->last_signal;
    return true;
}

static outcome begin_anew(struct accepting *accepting, struct problem *ret_problem) {
    arena_finish(&accepting->course_arena);
    arena_init(&accepting->course_arena, host_pages(), 0);
    forget_signals(accepting);
    accepting->last_signal = accepting->begun_after;
    accepting->looked = accepting->begun_after;
    return acceptance_begin(&accepting->acceptance, accepting->any_order, &accepting->course_arena,
            &accepting->course, ret_problem);
}

/** The acts after `told`, or all where the course begins anew, each with the signals before it; then what else came. */
static outcome walk(struct feeding *feeding, int64_t told, struct problem *ret_problem) {
    struct accepting *accepting = feeding->accepting;
    if (feeding->anew) {
        TRY(begin_anew(accepting, ret_problem));
        feeding->changed = true;
    }
    for (const struct noted_act *noted = accepting->acts; noted != NULL; noted = noted->next) {
        if (noted->act.id <= told && !feeding->anew) {
            continue;
        }
        if (noted->act.after_signal > accepting->last_signal) {
            TRY(hear_signals(feeding, noted->act.after_signal, ret_problem));
        }
        apply(feeding, &noted->act);
    }
    return hear_signals(feeding, 0, ret_problem);
}

outcome accepting_feed(struct accepting *accepting, struct accepting_listener listener,
        bool *ret_changed, struct problem *ret_problem) {
    struct feeding feeding = {.accepting = accepting, .listener = listener};
    const int64_t told = accepting->last_act;
    TRY(archive_each_act(accepting->archive, accepting->acceptance.site->name, accepting->last_act,
            note, &feeding, ret_problem));
    if (feeding.problem.kind != PROBLEM_NONE) {
        *ret_problem = feeding.problem;
        return (outcome){.good = false};
    }
    if (accepting->begun) {
        TRY(walk(&feeding, told, ret_problem));
    }
    accepting->told_act = accepting->last_act;
    accepting->told_signal = accepting->last_signal;
    if (ret_changed != NULL) {
        *ret_changed = feeding.changed;
    }
    return outcome_good();
}

/* ---- what people do */

static bool take_first(void *context, const struct archive_signal *signal) {
    *(int64_t *)context = signal->id;
    return false;
}

/** The last signal before an instant, by the order of storing; -1: the last one there is. */
static outcome find_before(struct accepting *accepting, int64_t at_ms, int64_t *ret_after,
        struct problem *ret_problem) {
    int64_t first = 0;
    const struct archive_query query = {
            .since_ms = at_ms, .after_id = accepting->begun_after, .most = 1};
    TRY(archive_each(accepting->archive, query, take_first, &first, ret_problem));
    *ret_after = first == 0 ? ARCHIVE_LAST : first - 1;
    return outcome_good();
}

/** Whether it was stored before, of the acts that were read. */
static bool is_noted(const struct accepting *accepting, const struct accepting_act *act) {
    for (const struct noted_act *noted = accepting->acts; noted != NULL; noted = noted->next) {
        if (noted->act.at_ms == act->at_ms && text_is(noted->act.act, act->act) &&
                text_equal(noted->act.test, act->test) && text_equal(noted->act.by, act->by)) {
            return true;
        }
    }
    return false;
}

static outcome check_act(const struct accepting *accepting, const struct accepting_act *act,
        struct problem *ret_problem) {
    const size_t deed = deed_of(text_of(act->act));
    const bool begins = text_is(text_of(act->act), ACCEPTING_BEGIN);
    if (deed == DEED_COUNT && !begins) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "nobody can do this in an acceptance");
    }
    if (!begins && deeds[deed].of_test &&
            accepting_test(accepting, act->test) == accepting->acceptance.count) {
        FAIL(ret_problem, PROBLEM_MISSING, "",
                "there is no test \"%.*s\"; the list has their names",
                (int)(act->test.length < NAME_MOST ? act->test.length : NAME_MOST),
                act->test.start == NULL ? "" : act->test.start);
    }
    const bool no = text_is(text_of(act->act), ACCEPTING_NO);
    if (no &&
            acceptance_answer(
                    accepting->acceptance.tests[accepting_test(accepting, act->test)].kind,
                    false) == NULL) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "only a question is answered with no");
    }
    if ((no || text_is(text_of(act->act), ACCEPTING_HAND)) &&
            (act->by.length == 0 || act->by.length > NAME_MOST)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "a tick by hand needs a name of at most %d bytes: who saw it", NAME_MOST);
    }
    if (act->at_ms < 0 || act->at_ms > now_ms() + AHEAD_MS) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "it is noted for a time to come: set the clocks right");
    }
    if (act->at_ms != 0 && accepting->begun && act->at_ms < accepting->begun_ms) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "it was noted before this acceptance began: do it again");
    }
    return outcome_good();
}

outcome accepting_do(
        struct accepting *accepting, struct accepting_act act, struct problem *ret_problem) {
    TRY(check_act(accepting, &act, ret_problem));
    struct archive_act stored = {.site = accepting->acceptance.site->name,
            .at_ms = act.at_ms == 0 ? now_ms() : act.at_ms,
            .act = text_of(act.act),
            .test = act.test,
            .by = act.by,
            .after_signal = ARCHIVE_LAST};
    if (act.at_ms != 0) {
        if (is_noted(accepting, &act)) {
            return outcome_good();
        }
        TRY(find_before(accepting, act.at_ms, &stored.after_signal, ret_problem));
    }
    return archive_add_act(accepting->archive, &stored, ret_problem);
}

/* ---- life */

static outcome fill(struct accepting *accepting, const struct site *site, const char *archive_path,
        struct problem *ret_problem) {
    if (site->station.account.length == 0) {
        FAIL(ret_problem, PROBLEM_MISSING, "panel",
                "the site has no account: write account: \"1234\" under panel");
    }
    TRY(acceptance_make(site, &accepting->list_arena, &accepting->acceptance, ret_problem));
    accepting->ticks =
            calloc(accepting->acceptance.count * ACCEPTANCE_SIGNAL_MAX, sizeof *accepting->ticks);
    if (accepting->ticks == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the course of acceptance");
    }
    TRY(begin_anew(accepting, ret_problem));
    return archive_open(archive_path, ARCHIVE_NEW, &accepting->archive, ret_problem);
}

outcome accepting_open(const struct site *site, const char *archive_path, bool any_order,
        struct accepting **ret_accepting, struct problem *ret_problem) {
    struct accepting *accepting = calloc(1, sizeof *accepting);
    if (accepting == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the course of acceptance");
    }
    accepting->any_order = any_order;
    arena_init(&accepting->list_arena, host_pages(), 0);
    arena_init(&accepting->acts_arena, host_pages(), 0);
    arena_init(&accepting->course_arena, host_pages(), 0);
    const outcome done = fill(accepting, site, archive_path, ret_problem);
    if (!done.good) {
        accepting_close(accepting);
        return done;
    }
    *ret_accepting = accepting;
    return done;
}

void accepting_close(struct accepting *accepting) {
    if (accepting != NULL) {
        archive_close(accepting->archive);
        forget_signals(accepting);
        free(accepting->ticks);
        arena_finish(&accepting->course_arena);
        arena_finish(&accepting->acts_arena);
        arena_finish(&accepting->list_arena);
        free(accepting);
    }
}
