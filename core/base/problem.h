/* Problems: "could not do it". A problem is never a finding (did it; this is wrong with the site)
 * and never a bug (assert). The first cause wins; callers add where they were. Nothing here prints. */
#ifndef LINTEL_BASE_PROBLEM_H
#define LINTEL_BASE_PROBLEM_H

#include <stdbool.h>

#define MUST_CHECK __attribute__((warn_unused_result))

/** Whether a call did what it was asked. A one-field struct, so that `return -1` does not compile. */
typedef struct outcome {
    bool good;
} outcome;

enum problem_kind {
    PROBLEM_NONE,
    PROBLEM_MEMORY,     /* the shell gave no page */
    PROBLEM_LIMIT,      /* a stated limit was reached; the text names it */
    PROBLEM_BAD_VALUE,  /* a value outside its range */
    PROBLEM_UNREADABLE, /* bytes that are not what was expected */
    PROBLEM_MISSING,    /* something referred to is not there */
    PROBLEM_SYSTEM,     /* the operating system refused */
    PROBLEM_STOPPED,    /* somebody asked to stop */
    PROBLEM_COUNT
};

/** What went wrong, for a person. text: what, and what to do. place: path in the reader's document
 *  ("zones[1].delay"), or empty. source_*: where in our code, for us. */
struct problem {
    enum problem_kind kind;
    char text[400];
    char place[160];
    const char *source_file;
    int source_line;
};

static inline outcome outcome_good(void) {
    return (outcome){.good = true};
}

/** Fills *ret_problem (NULL is allowed) unless it holds an earlier cause already; always returns a
 *  failed outcome. place: may be "". format: printf style. */
outcome problem_set(struct problem *ret_problem, enum problem_kind kind, const char *place,
        const char *source_file, int source_line, const char *format, ...)
        __attribute__((format(printf, 6, 7)));

/** Returns early when a call failed. */
#define TRY(call)                                                                                  \
    do {                                                                                           \
        outcome try_outcome_ = (call);                                                             \
        if (!try_outcome_.good) {                                                                  \
            return try_outcome_;                                                                   \
        }                                                                                          \
    } while (0)

/** Returns a failure from the calling function. */
#define FAIL(problem, kind, place, ...)                                                            \
    return problem_set((problem), (kind), (place), __FILE__, __LINE__, __VA_ARGS__)

#endif
