/* What holds of every drawing that the loader takes, whatever stands in it. */
#ifndef LINTEL_TESTS_FUZZ_DRAWN_H
#define LINTEL_TESTS_FUZZ_DRAWN_H

#include "site/site.h"

/** Ends the program, in the release build too, when a promise is broken. */
void must(bool held, const char *promise);

/** Works out all that comes of a drawing (faults, pictures, sight, ways, break-ins) and holds it against what must be.
 *  site: with a building. arena: for the answers. */
void drawn_check(const struct site *site, struct arena *arena);

#endif
