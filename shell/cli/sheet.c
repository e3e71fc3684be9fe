#include "sheet/sheet.h"

#include "cli/cli.h"
#include "cli/terminal.h"
#include "host/host.h"

#include <string.h>

enum { CSV = 1, JSON, AGAINST, SCHEDULE };

static const struct option options[] = {
        {"csv", no_argument, NULL, CSV},
        {"json", no_argument, NULL, JSON},
        {"against", required_argument, NULL, AGAINST},
        {"schedule", no_argument, NULL, SCHEDULE},
        {"help", no_argument, NULL, 'h'},
        {NULL, 0, NULL, 0},
};

struct wishes {
    bool csv;
    bool json;
    bool schedule;
    const char *older; /* NULL: the whole sheet */
};

static outcome make(const struct cli_site *read, const struct cli_site *older, struct arena *arena,
        struct sheet *ret_sheet, struct problem *ret_problem) {
    const struct site *site = &read->document.site;
    return older == NULL
            ? sheet_make(site, arena, ret_sheet, ret_problem)
            : sheet_differences(site, &older->document.site, arena, ret_sheet, ret_problem);
}

static int print_sheet(
        const struct cli_site *read, const struct cli_site *older, const struct wishes *wishes) {
    struct arena arena;
    struct sheet sheet = {0};
    struct problem problem = {.kind = PROBLEM_NONE};
    struct text_builder out;
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    const struct site *site = &read->document.site;
    bool good = make(read, older, &arena, &sheet, &problem).good;
    if (good && wishes->schedule && wishes->csv) {
        sheet_add_schedule_csv(&out, site);
    } else if (good && wishes->schedule && !wishes->json) {
        sheet_add_schedule(&out, site, terminal_layout(&out).width);
    } else if (good && wishes->csv) {
        sheet_add_csv(&out, &sheet);
    } else if (good && wishes->json) {
        struct json_writer json;
        json_init(&json, &out);
        sheet_add_json(&json, site, &sheet, read->places.file,
                older == NULL ? (struct text){0} : older->places.file);
    } else if (good) {
        sheet_add_text(&out, site, &sheet, older != NULL, terminal_layout(&out).width);
    }
    if (good && arena.refused) {
        good = false;
        problem = (struct problem){.kind = PROBLEM_MEMORY, .text = "no memory to print the sheet"};
    }
    const int status =
            good ? cli_print(text_built(&out), CLI_GOOD) : cli_site_refused(read, &problem);
    arena_finish(&arena);
    return status;
}

static int print_for(const char *path, const struct wishes *wishes) {
    struct cli_site read;
    struct cli_site older;
    int status = CLI_UNREADABLE;
    if (cli_site_read(&read, path)) {
        if (wishes->older == NULL) {
            status = print_sheet(&read, NULL, wishes);
        } else {
            if (cli_site_read(&older, wishes->older)) {
                status = print_sheet(&read, &older, wishes);
            }
            cli_site_finish(&older);
        }
    }
    cli_site_finish(&read);
    return status;
}

static int run(const struct cli_command *command, int argc, char **argv) {
    struct wishes wishes = {.older = NULL};
    optind = 0;
    for (int option = cli_next_option(command, argc, argv, options); option != -1;
            option = cli_next_option(command, argc, argv, options)) {
        if (option == CSV) {
            wishes.csv = true;
        } else if (option == JSON) {
            wishes.json = true;
        } else if (option == AGAINST) {
            wishes.older = optarg;
        } else if (option == SCHEDULE) {
            wishes.schedule = true;
        } else {
            return option == CLI_HELP ? CLI_GOOD : CLI_UNREADABLE;
        }
    }
    if (optind >= argc) {
        return cli_misused(command, "which site file?");
    }
    if (optind + 1 < argc) {
        return cli_misused(command, "one site file at a time, not also \"%s\"", argv[optind + 1]);
    }
    if (wishes.csv && wishes.json) {
        return cli_misused(command, "--csv or --json, not both");
    }
    if (wishes.schedule && wishes.older != NULL) {
        return cli_misused(command, "--schedule is of the whole site: not with --against");
    }
    if (wishes.older != NULL && strcmp(wishes.older, "-") == 0 && strcmp(argv[optind], "-") == 0) {
        return cli_misused(command, "only one of the two files can be standard input");
    }
    return print_for(argv[optind], &wishes);
}

const struct cli_command cli_sheet = {
        .name = "sheet",
        .takes = "SITE [OPTION ...]",
        .answers = "what is keyed in, in keying order, and the zone schedule",
        .help = "Nothing is judged here: lintel check does that. Lines to fill in are what the\n"
                "site file does not say. Codes are not in the file and not on the sheet.\n\n"
                "  --against OLDER   only what has to be keyed differently than OLDER says\n"
                "  --schedule        the zone schedule alone; --json has it beside the lines\n"
                "  --csv             for a spreadsheet (RFC 4180), a record for each line\n"
                "  --json            the same as JSON (docs/json.md)\n"
                "  --help            this page\n\n"
                "SITE is a YAML or JSON file; - reads standard input.\n\n"
                "exit  0  printed\n"
                "      2  a file could not be read, or the command not understood\n",
        .run = run,
};
