/* The program as its user meets it: commands, options, exit status. One file per command; here is what they share.
 * Findings and answers go to stdout, everything about what could not be done to stderr. Exit status: 0 no fault, 1
 * faults, 2 the input could not be read (or the command line not understood), 3 no fault but something not
 * settled, 130 stopped by Ctrl-C. */
#ifndef LINTEL_CLI_CLI_H
#define LINTEL_CLI_CLI_H

#include "base/arena.h"
#include "check/layout.h"
#include "check/show.h"
#include "document/document.h"

#include <getopt.h>
#include <stdbool.h>

enum { CLI_GOOD = 0, CLI_FAULTS = 1, CLI_UNREADABLE = 2 };

/** A command: its name, what it takes, what it answers in one line, its help page, and what runs it. argv[0] is the
 *  command's name. run: gives the exit status. */
struct cli_command {
    const char *name;
    const char *takes;
    const char *answers;
    const char *help;
    int (*run)(const struct cli_command *command, int argc, char **argv);
};

extern const struct cli_command cli_check;
extern const struct cli_command cli_sheet;
extern const struct cli_command cli_tell;
extern const struct cli_command cli_why;
extern const struct cli_command cli_new;
extern const struct cli_command cli_panel;
extern const struct cli_command cli_signals;
extern const struct cli_command cli_archive;
extern const struct cli_command cli_accept;
extern const struct cli_command cli_rehearse;
extern const struct cli_command cli_listen;
extern const struct cli_command cli_serve;
extern const struct cli_command cli_plan;
extern const struct cli_command cli_radio;
extern const struct cli_command cli_power;
extern const struct cli_command cli_keys;

/** The whole program. */
int cli_main(int argc, char **argv);

/** The next option, as getopt_long; '?' after saying on stderr what is wrong and what the nearest option is. Handles
 *  --help itself: prints it and gives CLI_HELP. Call with optind 0 before the first. */
enum { CLI_HELP = -2 };
int cli_next_option(
        const struct cli_command *command, int argc, char **argv, const struct option *options);

/** Says on stderr what is wrong with the command line and where help is; gives CLI_UNREADABLE. */
int cli_misused(const struct cli_command *command, const char *format, ...)
        __attribute__((format(printf, 2, 3)));

/** Says a problem on stderr; gives CLI_UNREADABLE. name: of the file it is about, or NULL. */
int cli_refused(const char *name, const struct problem *problem);

/** The day after --today: 2027-03-31; false after saying that it is none. */
bool cli_read_today(const struct cli_command *command, const char *word, int32_t *ret_day);

/** The word after --pace: quick, middling or slow; false after saying that it is none. */
bool cli_read_pace(const struct cli_command *command, const char *word, enum proof_pace *ret_pace);

/** A site file that was read, and where its parts stand in it. */
struct cli_site {
    struct document document;
    struct show_places places;
};

/** Reads the site file; false after saying on stderr all that is wrong with it. Finish it in either case. */
bool cli_site_read(struct cli_site *site, const char *path);
void cli_site_finish(struct cli_site *site);

/** Where a finding of the core stands that is told as a problem: "house.yaml:14:9: ". Gives CLI_UNREADABLE. */
int cli_site_refused(const struct cli_site *site, const struct problem *problem);

/** Writes text to stdout, whole; gives `status`, or CLI_UNREADABLE after saying why it could not be written. */
int cli_print(struct text text, int status);

#endif
