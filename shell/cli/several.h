/* Several sites at once: which files count, and all of them checked with one crew, a site to a member. */
#ifndef LINTEL_CLI_SEVERAL_H
#define LINTEL_CLI_SEVERAL_H

#include "check/check.h"

#include <stdbool.h>
#include <stddef.h>

/** Whether the path leads to a folder. */
bool several_is_folder(const char *path);

/** Checks the files named and those found in the folders named, and prints a line each and a total; as JSON with
 *  json. A file that cannot be read is said in its line and stops nothing. options: remedies are not looked for. jobs:
 *  0 = as many as there are cores. Gives the exit status: the worst of all. */
int several_check(char *const *paths, size_t path_count, const struct check_options *options,
        size_t jobs, bool json);

#endif
