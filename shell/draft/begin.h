/* A site file from four answers: what it is called, which panel, how large the ground floor is, who comes and goes.
 * What was not asked is as the panel was delivered, or as is common; all of it can be changed later. */
#ifndef LINTEL_DRAFT_BEGIN_H
#define LINTEL_DRAFT_BEGIN_H

#include "base/json.h"
#include "document/document.h"

enum { BEGIN_EACH_MOST = 9 };

/** name: empty is answered by "House". panel: the name of a profile; empty: the usual one. ground: as one writes it,
 *  "9 x 7 m"; empty: no drawing. standard: the name of a rule set besides the house's own; empty: none. The numbers of
 *  people: 0 to BEGIN_EACH_MOST each; children are home alone, others clean, lodge or work there. */
struct begin_answers {
    struct text name;
    struct text panel;
    struct text standard;
    struct text ground;
    int32_t adults;
    int32_t children;
    int32_t pets;
    int32_t others;
};

/** The site file, which can be read. ret_site: in the arena. Fails BAD_VALUE (the problem says which answer cannot be,
 *  and what to write), MEMORY. */
outcome begin_site(const struct begin_answers *answers, const struct document_search *search,
        struct arena *arena, struct text *ret_site, struct problem *ret_problem) MUST_CHECK;

/** What can be chosen as panel: an array of objects of name, says, zones, wired (how many of them take a wire), areas.
 *  One that cannot be read is left out. */
outcome begin_add_panels(const struct document_search *search, struct json_writer *json,
        const char *name, struct problem *ret_problem) MUST_CHECK;

/** What can be chosen as standard: an array of objects of name and says. One that cannot be read is left out. */
outcome begin_add_standards(const struct document_search *search, struct json_writer *json,
        const char *name, struct problem *ret_problem) MUST_CHECK;

#endif
