/* Quick sums on the command line: their help, their answer as text or JSON. */
#ifndef LINTEL_CLI_QUICK_H
#define LINTEL_CLI_QUICK_H

#include "cli/cli.h"
#include "sums/sums.h"

/** Works out the sum that argv[1] names and prints it. argv[2] on: its words, --json, --explain, --help. Exit status: 1
 *  where the verdict is bad. */
int quick_run(const struct sums_sum *sum, int argc, char **argv);

/** Works out the links of the site file that argv[1] names: lintel radio SITE. */
int quick_links(int argc, char **argv);

/** Runs a command that has quick sums: picks one by argv[1], or prints the help page (their list and `more`). */
int quick_command(const struct cli_command *command, int argc, char **argv);

#endif
