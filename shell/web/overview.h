/* What is told of each site of a folder without opening it: its name, its verdict in short, and what falls due next.
 * One thread of its own reads and checks, one file after the other; what it found stays until the file changes. */
#ifndef LINTEL_WEB_OVERVIEW_H
#define LINTEL_WEB_OVERVIEW_H

#include "base/text.h"
#include "web/sites.h"

struct overview;

/** sites: a folder, kept. Starts the thread. Fails MEMORY, SYSTEM (no thread). */
outcome overview_open(struct sites *sites, struct overview **ret_overview,
        struct problem *ret_problem) MUST_CHECK;

/** A JSON array, one object a file, in the order of the names: docs/serving.md has its keys. One that is not checked
 *  yet, or changed since, has "checked" false, and is checked next. */
outcome overview_add(struct overview *overview, struct text_builder *out,
        struct problem *ret_problem) MUST_CHECK;

/** Ends the thread and gives all back. */
void overview_close(struct overview *overview);

#endif
