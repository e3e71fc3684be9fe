#include "check/check.h"
#include "check/compare.h"

#include "cli/cli.h"
#include "cli/crew.h"
#include "cli/prove.h"
#include "cli/several.h"
#include "cli/terminal.h"
#include "host/host.h"

#include <stdlib.h>
#include <string.h>

struct wishes {
    bool json;
    bool margins;
    bool waivers;
    struct check_options options;
    size_t jobs;
    const char *older; /* NULL: against nothing */
};

/* What was checked, and against what; compare, older: NULL when against nothing. */
struct checked {
    const struct cli_site *read;
    struct check_report report;
    const struct compare *compare;
    const struct cli_site *older;
};

static int show(const struct checked *checked, const struct wishes *wishes) {
    const struct cli_site *read = checked->read;
    const struct check_report *report = &checked->report;
    const struct show_places *older = checked->older == NULL ? NULL : &checked->older->places;
    const struct site *site = &read->document.site;
    struct arena arena;
    struct text_builder out;
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    if (wishes->json) {
        struct json_writer json;
        json_init(&json, &out);
        show_report_json(NULL, site, report, &read->places, checked->compare, older, &json);
    } else if (wishes->waivers) {
        show_waiver_lines(report, &out);
    } else if (checked->compare != NULL) {
        struct layout layout = terminal_layout(&out);
        show_compare(
                site, report, checked->compare, &read->places, older, wishes->margins, &layout);
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

/* Checks one, or one against the other; everything that is shown lives in the crew's arenas. */
static int check_read(struct cli_site *read, struct cli_site *older, const struct wishes *wishes) {
    struct checked checked = {.read = read, .older = older};
    struct check_report before;
    struct compare compare;
    struct crew crew;
    struct problem problem = {0};
    struct check_options options = wishes->options;
    int status = CLI_UNREADABLE;
    /* What is gone and new is shown without remedies. */
    options.no_remedy = options.no_remedy || (older != NULL && !wishes->json);
    crew_init(&crew, wishes->jobs, host_pages());
    terminal_catch_interrupt();
    bool good = prove_as_today(&read->document, options.today_day, &problem).good &&
            prove_site(&read->document.site, &options, &crew, &checked.report, &problem).good;
    const struct cli_site *blamed = read;
    if (good && older != NULL) {
        options.no_remedy = true;
        blamed = older;
        good = prove_as_today(&older->document, options.today_day, &problem).good &&
                prove_site(&older->document.site, &options, &crew, &before, &problem).good &&
                compare_reports(&before, &checked.report, &crew.arenas[0], &compare, &problem).good;
        checked.compare = &compare;
    }
    status = good ? show(&checked, wishes) : cli_site_refused(blamed, &problem);
    crew_finish(&crew);
    return status;
}

static int check_file(const char *path, const struct wishes *wishes) {
    struct cli_site read;
    struct cli_site older;
    int status = CLI_UNREADABLE;
    if (cli_site_read(&read, path)) {
        if (wishes->older == NULL) {
            status = check_read(&read, NULL, wishes);
        } else {
            if (cli_site_read(&older, wishes->older)) {
                status = check_read(&read, &older, wishes);
            }
            cli_site_finish(&older);
        }
    }
    cli_site_finish(&read);
    return status;
}

enum { JSON = 1, MARGINS, NO_USUAL, NO_REMEDY, CLASSES, JOBS, AGAINST, WAIVERS, TODAY };

static const struct option options[] = {
        {"json", no_argument, NULL, JSON},
        {"margins", no_argument, NULL, MARGINS},
        {"no-usual", no_argument, NULL, NO_USUAL},
        {"no-remedy", no_argument, NULL, NO_REMEDY},
        {"classes", required_argument, NULL, CLASSES},
        {"jobs", required_argument, NULL, JOBS},
        {"waivers", no_argument, NULL, WAIVERS},
        {"today", required_argument, NULL, TODAY},
        {"against", required_argument, NULL, AGAINST},
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
    case WAIVERS:
        wishes->waivers = true;
        wishes->options.no_remedy = true;
        return true;
    case TODAY:
        return cli_read_today(command, optarg, &wishes->options.today_day);
    case AGAINST:
        wishes->older = optarg;
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
    struct wishes wishes = {.options = {.today_day = host_today()}};
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
    if (optind + 1 < argc || several_is_folder(argv[optind])) {
        if (wishes.margins || wishes.waivers || wishes.older != NULL) {
            return cli_misused(
                    command, "--margins, --waivers and --against are for one site at a time");
        }
        return several_check(
                argv + optind, (size_t)(argc - optind), &wishes.options, wishes.jobs, wishes.json);
    }
    if (wishes.waivers && (wishes.json || wishes.older != NULL)) {
        return cli_misused(command, "--waivers goes with neither --json nor --against");
    }
    if (wishes.waivers && wishes.options.no_usual) {
        return cli_misused(command, "--waivers looks at every routine: not with --no-usual");
    }
    if (wishes.older != NULL && strcmp(wishes.older, "-") == 0 && strcmp(argv[optind], "-") == 0) {
        return cli_misused(command, "only one of the two files can be standard input");
    }
    return check_file(argv[optind], &wishes);
}

const struct cli_command cli_check = {
        .name = "check",
        .takes = "SITE ... [OPTION ...]",
        .answers = "everything at once: findings, verdicts, margins",
        .help = "Proves every routine of the site file, those described in it and the usual ones,\n"
                "at every timing. SITE is a YAML or JSON file; - reads standard input.\n\n"
                "Several files or a folder: one line each, the worst first, and a total; without\n"
                "remedies. In a folder and those below it count files that end in .yaml, .yml or\n"
                ".json and say that they are a site (a line that begins with site:); hidden ones\n"
                "and the folders panels, devices, standards and rules are passed over.\n\n"
                "  --margins         lists every routine and how many seconds it has to spare\n"
                "  --against OLDER   instead: which findings are new and gone since OLDER, and\n"
                "                    what each routine had and has to spare\n"
                "  --waivers         instead: the lines to paste for what is to be waived\n"
                "  --today DATE      waivers and temporary changes as on that day: 2027-03-31\n"
                "  --json            the same as JSON (docs/json.md)\n"
                "  --no-usual        only the routines described in the file\n"
                "  --no-remedy       does not look for remedies: quicker\n"
                "  --classes N       how far one search goes before it is given up (200000)\n"
                "  --jobs N          how many routines are proven at once (one per core)\n"
                "  --help            this page\n\n"
                "exit  0  no fault (with --against: in SITE; of several: the worst of them)\n"
                "      1  faults\n"
                "      2  a file could not be read, or the command not understood\n"
                "      3  no fault found, but something is not settled\n"
                "    130  stopped by Ctrl-C; what was known by then is shown\n",
        .run = run,
};
