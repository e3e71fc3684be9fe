#include "cli/cli.h"
#include "cli/interview.h"
#include "cli/terminal.h"
#include "host/host.h"

#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/* A file that is to be made. search: where profiles and samples are. */
struct making {
    const struct cli_command *command;
    const char *path;
    struct document_search search;
    struct arena arena;
};

/* Asked before the first question already, as nobody wants to answer twenty of them for nothing. */
static bool is_there(const char *path) {
    struct stat about;
    return lstat(path, &about) == 0;
}

static int exists(const struct making *making) {
    (void)fprintf(stderr,
            "lintel new: %s exists already and is left as it is; name another file, or move it "
            "away first\n",
            making->path);
    return CLI_UNREADABLE;
}

/* What is written has been read first: a file that lintel check cannot read is never made. */
static int write_whole(const struct making *making, struct text site) {
    struct document document;
    struct problem problem = {0};
    int status = CLI_UNREADABLE;
    document_init(&document, host_pages());
    if (!document_read_text(
                &document, making->path, making->search.beside, site, &making->search, &problem)
                    .good) {
        for (size_t i = 0; i < document.problem_count; i++) {
            (void)fprintf(stderr, "lintel new: line %d: %.*s\n", document.problems[i].line,
                    TEXT_ARGS(document.problems[i].what));
        }
        (void)fprintf(stderr, "lintel new: such a file could not be read; nothing was written\n");
    } else if (!host_write_new_file(making->path, site, &problem).good) {
        (void)fprintf(stderr, "lintel new: %s; nothing was written\n", problem.text);
    } else {
        const size_t zones = document.site.zone_count;
        (void)printf(
                "\nWritten: %s, %zu zone%s. Next:\n"
                "  lintel check %s      what goes wrong, with stories and remedies\n"
                "  lintel sheet %s      what to key in, and what is still to fill in\n"
                "Then walk the ways with a watch, and describe in the file who comes and goes;\n"
                "every key is in docs/site-file.md.\n",
                making->path, zones, zones == 1 ? "" : "s", making->path, making->path);
        status = cli_print((struct text){0}, CLI_GOOD);
    }
    document_finish(&document);
    return status;
}

/* ---- from a sample ---------------------------------------------------------------------------------------------- */

static int no_sample(const struct making *making, const char *name) {
    const struct text *names = NULL;
    size_t count = 0;
    struct arena arena = {.pages = host_pages()};
    (void)fprintf(stderr, "lintel new: there is no sample \"%s\"; there are:", name);
    if (document_list(&making->search, "samples", &arena, &names, &count, NULL).good) {
        for (size_t i = 0; i < count; i++) {
            (void)fprintf(stderr, "%s %.*s", i > 0 ? "," : "", TEXT_ARGS(names[i]));
        }
    }
    (void)fprintf(stderr, "\n");
    arena_finish(&arena);
    return CLI_UNREADABLE;
}

static bool is_plain(const char *name) {
    return name[0] != '\0' && name[0] != '.' && strchr(name, '/') == NULL;
}

static int from_sample(struct making *making, const char *name) {
    char path[PATH_MAX];
    struct text sample = {0};
    struct problem problem = {0};
    if (!is_plain(name) || !document_find(&making->search, "samples", text_of(name), path)) {
        return no_sample(making, name);
    }
    if (!host_read_file(path, 0, &making->arena, &sample, &problem).good) {
        return cli_refused(NULL, &problem);
    }
    return write_whole(making, sample);
}

/* ---- from answers ----------------------------------------------------------------------------------------------- */

static int stopped(const struct talk *talk) {
    const bool interrupted = talk->state == TALK_INTERRUPTED;
    (void)fprintf(stderr, "lintel new: %s; nothing was written\n",
            interrupted                         ? "stopped"
                    : talk->state == TALK_ENDED ? "the answers ended before the last question"
                                                : "more answers than fit into memory");
    if (talk->state == TALK_ENDED) {
        (void)fprintf(stderr, "lintel new: this one was waiting: %.*s\n", TEXT_ARGS(talk->waiting));
    }
    return interrupted ? CHECK_EXIT_STOPPED : CLI_UNREADABLE;
}

static bool list_profiles(struct making *making, struct interview *interview) {
    struct problem problem = {0};
    if (!document_list(&making->search, "panels", &making->arena, &interview->panels,
                &interview->panel_count, &problem)
                    .good ||
            !document_list(&making->search, "devices", &making->arena, &interview->devices,
                    &interview->device_count, &problem)
                     .good) {
        (void)cli_refused(NULL, &problem);
        return false;
    }
    if (interview->panel_count == 0) {
        (void)fprintf(stderr,
                "lintel new: no panel profile was found; LINTEL_DATA names the folder that holds "
                "panels/ and devices/\n");
        return false;
    }
    return true;
}

static int from_answers(struct making *making) {
    struct talk *talk = ARENA_NEW(&making->arena, struct talk);
    struct draft *draft = ARENA_NEW(&making->arena, struct draft);
    struct interview interview = {.talk = talk, .search = &making->search};
    struct text_builder out;
    if (talk == NULL || draft == NULL) {
        const struct problem problem = {.kind = PROBLEM_MEMORY, .text = "no memory to ask"};
        return cli_refused(NULL, &problem);
    }
    if (!list_profiles(making, &interview)) {
        return CLI_UNREADABLE;
    }
    terminal_catch_interrupt();
    talk_begin(talk, stdin, stdout, &making->arena);
    (void)printf(
            "Enter takes what stands in brackets, ? explains, < goes back. Ctrl-C ends it, and "
            "nothing is written.\n\n");
    bool done = false;
    do {
        talk_again(talk);
        done = interview_run(&interview, draft);
    } while (talk->state == TALK_BACK);
    if (!done) {
        return stopped(talk);
    }
    text_builder_init(&out, &making->arena);
    draft_write(draft, &out);
    if (making->arena.refused) {
        const struct problem problem = {.kind = PROBLEM_MEMORY, .text = "no memory to write it"};
        return cli_refused(NULL, &problem);
    }
    return write_whole(making, text_built(&out));
}

enum { FROM = 1 };

static const struct option options[] = {
        {"from", required_argument, NULL, FROM},
        {"help", no_argument, NULL, 'h'},
        {NULL, 0, NULL, 0},
};

/* Where the file will lie: profiles beside it may be chosen, as lintel check finds them. */
static const char *folder_of(const char *path, char folder[PATH_MAX]) {
    const char *slash = strrchr(path, '/');
    const size_t length = slash == NULL ? 0 : (size_t)(slash - path) + 1;
    if (length == 0 || length >= PATH_MAX) {
        return ".";
    }
    memcpy(folder, path, length);
    folder[length] = '\0';
    return folder;
}

static int make(struct making *making, const char *sample) {
    if (is_there(making->path)) {
        return exists(making);
    }
    arena_init(&making->arena, host_pages(), 0);
    const int status = sample == NULL ? from_answers(making) : from_sample(making, sample);
    arena_finish(&making->arena);
    return status;
}

static int run(const struct cli_command *command, int argc, char **argv) {
    const char *sample = NULL;
    optind = 0;
    for (int option = cli_next_option(command, argc, argv, options); option != -1;
            option = cli_next_option(command, argc, argv, options)) {
        if (option != FROM) {
            return option == CLI_HELP ? CLI_GOOD : CLI_UNREADABLE;
        }
        sample = optarg;
    }
    if (optind == argc) {
        return cli_misused(command, "which file is to be made? lintel new house.yaml");
    }
    if (optind + 1 < argc) {
        return cli_misused(command, "one file at a time; \"%s\" is too many", argv[optind + 1]);
    }
    char folder[PATH_MAX];
    struct making making = {.command = command,
            .path = argv[optind],
            .search = {.beside = folder_of(argv[optind], folder), .data = getenv("LINTEL_DATA")}};
    return make(&making, sample);
}

const struct cli_command cli_new = {
        .name = "new",
        .takes = "FILE [--from SAMPLE]",
        .answers = "a first site file, by question and answer or from a sample",
        .help = "Asks for the name, the panel, areas and keypads, the doors and who comes in by\n"
                "them, animals, the detectors and the siren, how it is set at night and in part,\n"
                "and the delays, and writes a site file with comments that lintel check reads.\n"
                "Enter takes the answer in brackets, ? explains, < goes back to the question\n"
                "before. Answers may come from a pipe, a line each. Profiles of your own are\n"
                "offered where they lie in panels/ and devices/ beside FILE.\n\n"
                "FILE must not be there yet. It is written whole or not at all; where the answers\n"
                "end early, or at Ctrl-C, nothing is written.\n\n"
                "  --from SAMPLE   copies a sample instead: flat, shop\n"
                "  --help          this page\n\n"
                "exit  0  written\n"
                "      2  not written: FILE is there, the answers ended, the disk is full\n"
                "    130  stopped by Ctrl-C; nothing is written\n",
        .run = run,
};
