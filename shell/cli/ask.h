/* The questions of `lintel new` by kind of answer: a name, some of a list, a time. Each asks until the answer can be
 * taken; what is wrong with one is said, with what was expected. False: the talk does not go on, and talk->state says
 * why. */
#ifndef LINTEL_CLI_ASK_H
#define LINTEL_CLI_ASK_H

#include "cli/interview.h"

/** What a question about names is held against. names, count: those that are taken already (a new name) or that may be
 *  named. may_be_empty: Enter alone is an answer. most, things: of a list, how many of what. The rest is filled in. */
struct ask_naming {
    const struct interview *interview;
    const struct text *names;
    size_t count;
    size_t most;
    bool may_be_empty;
    const char *things;
};

/** range: of both ends, in seconds. below: no later than this at either end, where has_below. */
struct ask_timing {
    struct span range;
    struct span below;
    bool has_below;
};

/** Where answers are kept. */
struct arena *ask_memory(const struct interview *interview);

/** Reads a site file of one line into the document, which is to be finished in any case. False: *wanted says why. */
bool ask_reads(const struct interview *interview, struct text site, struct document *document,
        struct text_builder *wanted);

/** Whether the name is among these, and which it is. */
bool ask_is_among(const struct text *names, size_t count, struct text name, size_t *ret_index);

/** The names with commas between; "none" when there are none. */
struct text ask_list(const struct interview *interview, const struct text *names, size_t count);

/** A new name, none of naming.names. usual, help: see struct talk_question. */
bool ask_name(struct interview *interview, struct text asks, struct text usual, const char *help,
        struct ask_naming naming, struct text *ret_name);

/** One to `most` new names. ret_names: room for `most`. */
bool ask_names(struct interview *interview, const char *asks, const char *usual, const char *help,
        const char *things, size_t most, struct text *ret_names, size_t *ret_count);

/** One of the names. */
bool ask_choice(struct interview *interview, struct text asks, struct text usual, const char *help,
        const struct text *names, size_t count, struct text *ret_name);

bool ask_yes(
        struct interview *interview, const char *asks, bool usual, const char *help, bool *ret_yes);

/** All, none or some of the names. count: at most 32. ret_some: bit per name. */
bool ask_some(struct interview *interview, struct text asks, struct text usual, const char *help,
        const struct text *names, size_t count, uint32_t *ret_some);

bool ask_span(struct interview *interview, struct text asks, const char *usual, const char *help,
        struct ask_timing timing, struct span *ret_span);

/** usual_s is brought into the range. */
bool ask_delay(struct interview *interview, const char *asks, int32_t usual_s, const char *help,
        struct span range, int32_t *ret_seconds_s);

/** One time of day, in seconds after midnight. */
bool ask_clock(struct interview *interview, const char *asks, const char *usual, const char *help,
        int32_t *ret_at_s);

#endif
