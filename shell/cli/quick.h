/* Quick sums on the command line: their help, their answer as text or JSON. */
#ifndef LINTEL_CLI_QUICK_H
#define LINTEL_CLI_QUICK_H

#include "cli/cli.h"
#include "sums/sums.h"

/** Runs a command that has quick sums: the one that argv[1] names with the words behind it, or, where argv[1] is a
 *  file, the sums of that site; or prints the help page. Exit status: 1 where the verdict is bad. */
int quick_command(const struct cli_command *command, int argc, char **argv);

#endif
