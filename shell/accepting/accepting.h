/* The acceptance of one site over an archive: what the panel sent and what people did, read from the beginning of this
 * acceptance, and fed on as more comes. The command and the page show the same course. One thread each; any number of
 * them over one archive, also of other processes. */
#ifndef LINTEL_ACCEPTING_ACCEPTING_H
#define LINTEL_ACCEPTING_ACCEPTING_H

#include "acceptance/match.h"
#include "archive/archive.h"
#include "base/json.h"

struct accepting;

/** What people do: it begins (what was before is forgotten), "I do it now", a tick by hand, a question answered with
 *  no, either taken back, a test put off to the end. */
#define ACCEPTING_BEGIN "begin"
#define ACCEPTING_NOW "now"
#define ACCEPTING_HAND "hand"
#define ACCEPTING_NO "no"
#define ACCEPTING_BACK "back"
#define ACCEPTING_LATER "later"

/** Whoever wants to hear of each step as it happens: an explanation, or NULL and the test that was next before. NULL as
 *  tell: nobody does. */
struct accepting_listener {
    void (*tell)(void *context, const struct acceptance_said *said, size_t before);
    void *context;
};

/** Makes the list and opens the archive, which is made where there is none; nothing is fed yet. site, archive_path:
 *  keeps. any_order: as acceptance_course has it. Fails MISSING (the site has no account), and as acceptance_make and
 *  archive_open do. */
outcome accepting_open(const struct site *site, const char *archive_path, bool any_order,
        struct accepting **ret_accepting, struct problem *ret_problem) MUST_CHECK;

/** NULL is fine. */
void accepting_close(struct accepting *accepting);

/** Brings the course up to what the archive has now. An act that was noted without a connection stands where its time
 *  puts it: what came after it is matched anew. ret_changed: whether there was anything new; may be NULL. Fails SYSTEM,
 *  UNREADABLE, MEMORY. */
outcome accepting_feed(struct accepting *accepting, struct accepting_listener listener,
        bool *ret_changed, struct problem *ret_problem) MUST_CHECK;

/** Whether it has begun: signals before that count for nothing. */
bool accepting_begun(const struct accepting *accepting);

const struct acceptance *accepting_list(const struct accepting *accepting);
const struct acceptance_course *accepting_course(const struct accepting *accepting);

/** The test of this name, the list's count where there is none. */
size_t accepting_test(const struct accepting *accepting, struct text name);

/** Something that somebody did. test: its name, empty where the act is about none. by: a name. at_ms: since 1970, when
 *  it was noted without a connection; 0: now. */
struct accepting_act {
    const char *act;
    struct text test;
    struct text by;
    int64_t at_ms;
};

/** Stores an act; feed to see it. One with a time that is stored already is not stored again, so that whoever heard no
 *  answer may send it again. Fails MISSING (there is no such test), BAD_VALUE (no name, a time to come, a no to
 *  what is no question), SYSTEM, UNREADABLE. */
outcome accepting_do(struct accepting *accepting, struct accepting_act act,
        struct problem *ret_problem) MUST_CHECK;

/** How far a test is: "done", "by hand", "said no", "waits", "next", "open", "if wanted". */
const char *accepting_state(const struct accepting *accepting, size_t test);

/** All of it, as docs/json.md has it, as members of an open object. */
void accepting_add_json(const struct accepting *accepting, struct json_writer *json);

#endif
