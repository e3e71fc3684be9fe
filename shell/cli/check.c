#include "check/check.h"

#include "cli/cli.h"
#include "cli/crew.h"
#include "cli/prove.h"
#include "cli/terminal.h"
#include "host/host.h"

#include <stdlib.h>
#include <string.h>

struct wishes {
    bool json;
    bool margins;
    struct check_options options;
    size_t jobs;
};

static int show(const struct cli_site *read, const struct check_report *report,
        const struct wishes *wishes) {
    const struct site *site = &read->document.site;
    struct arena arena;
    struct text_builder out;
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    if (wishes->json) {
        struct json_writer json;
        json_init(&json, &out);
        show_report_json(site, report, &read->places, &json);
    } else {
        struct layout layout = terminal_layout(&out);
        show_report(site, report, &read->places, wishes->margins, &layout);
    }
    int status = CLI_UNREADABLE;
    if (arena.refused) {
        const struct problem problem = {
                .kind = PROBLEM_MEMORY, .text = "no memory to print the report"};
        status = cli_refused(NULL, &problem);
    } else {
        status = cli_print(text_built(&out), check_exit_status(report));
    }
    arena_finish(&arena);
    return status;
}

static int check_file(const char *path, const struct wishes *wishes) {
    struct cli_site read;
    int status = CLI_UNREADABLE;
    if (cli_site_read(&read, path)) {
        struct check_report report;
        struct crew crew;
        struct problem problem = {0};
        crew_init(&crew, wishes->jobs, host_pages());
        terminal_catch_interrupt();
        if (prove_site(&read.document.site, &wishes->options, &crew, &report, &problem).good) {
            status = show(&read, &report, wishes);
        } else {
            status = cli_site_refused(&read, &problem);
        }
        crew_finish(&crew);
    }
    cli_site_finish(&read);
    return status;
}

enum { JSON = 1, MARGINS, NO_USUAL, NO_REMEDY, CLASSES, JOBS };

static const struct option options[] = {
        {"json", no_argument, NULL, JSON},
        {"margins", no_argument, NULL, MARGINS},
        {"no-usual", no_argument, NULL, NO_USUAL},
        {"no-remedy", no_argument, NULL, NO_REMEDY},
        {"classes", required_argument, NULL, CLASSES},
        {"jobs", required_argument, NULL, JOBS},
        {"help", no_argument, NULL, 'h'},
        {NULL, 0, NULL, 0},
};

/* A whole number from 1 to `most`; 0: it is none. */
static size_t read_number(const char *word, size_t most) {
    size_t number = 0;
    for (const char *at = word; *at != '\0'; at++) {
        if (*at < '0' || *at > '9' || number > most) {
            return 0;
        }
        number = number * 10 + (size_t)(*at - '0');
    }
    return number > most ? 0 : number;
}

/* Handles one option; false: it was misused, and that has been said. */
static bool take_option(const struct cli_command *command, int option, struct wishes *wishes) {
    enum { CLASSES_MOST = 100000000 };
    switch (option) {
    case JSON:
        wishes->json = true;
        return true;
    case MARGINS:
        wishes->margins = true;
        return true;
    case NO_USUAL:
        wishes->options.no_usual = true;
        return true;
    case NO_REMEDY:
        wishes->options.no_remedy = true;
        return true;
    case CLASSES:
        wishes->options.proof.class_limit = read_number(optarg, CLASSES_MOST);
        if (wishes->options.proof.class_limit == 0) {
            (void)cli_misused(command, "--classes wants a whole number from 1 to %d, not \"%s\"",
                    CLASSES_MOST, optarg);
        }
        return wishes->options.proof.class_limit > 0;
    case JOBS:
        wishes->jobs = read_number(optarg, CREW_MOST);
        if (wishes->jobs == 0) {
            (void)cli_misused(command, "--jobs wants a whole number from 1 to %d, not \"%s\"",
                    CREW_MOST, optarg);
        }
        return wishes->jobs > 0;
    default:
        return false;
    }
}

static int run(const struct cli_command *command, int argc, char **argv) {
    struct wishes wishes = {0};
    optind = 0;
    for (int option = cli_next_option(command, argc, argv, options); option != -1;
            option = cli_next_option(command, argc, argv, options)) {
        if (option == CLI_HELP) {
            return CLI_GOOD;
        }
        if (!take_option(command, option, &wishes)) {
            return CLI_UNREADABLE;
        }
    }
    if (optind == argc) {
        return cli_misused(command, "which site file?");
    }
    if (optind + 1 < argc) {
        return cli_misused(
                command, "one site file at a time; \"%s\" is too many", argv[optind + 1]);
    }
    return check_file(argv[optind], &wishes);
}

const struct cli_command cli_check = {
        .name = "check",
        .takes = "SITE [OPTION ...]",
        .answers = "everything at once: findings, verdicts, margins",
        .help = "Proves every routine of the site file, those described in it and the usual ones,\n"
                "at every timing. SITE is a YAML or JSON file; - reads standard input.\n\n"
                "  --margins     lists every routine and how many seconds it has to spare\n"
                "  --json        the same as JSON (docs/json.md)\n"
                "  --no-usual    only the routines described in the file\n"
                "  --no-remedy   does not look for remedies: quicker\n"
                "  --classes N   how far one search goes before it is given up (200000)\n"
                "  --jobs N      how many routines are proven at once (one per core)\n"
                "  --help        this page\n\n"
                "exit  0  no fault\n"
                "      1  faults\n"
                "      2  the site file could not be read, or the command not understood\n"
                "      3  no fault found, but something is not settled\n"
                "    130  stopped by Ctrl-C; what was known by then is shown\n",
        .run = run,
};
