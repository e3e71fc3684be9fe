#include "archive/archive.h"

#include "cli/archive_import.h"
#include "cli/cli.h"
#include "cli/signal_line.h"
#include "host/host.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum option_name { LOG = 1, FRAMES, KEYS };

static const struct option options[] = {
        {"log", required_argument, NULL, LOG},
        {"frames", no_argument, NULL, FRAMES},
        {"keys", required_argument, NULL, KEYS},
        {"help", no_argument, NULL, 'h'},
        {NULL, 0, NULL, 0},
};

/** Where lines are made and checked; emptied after each, so that an archive of any length passes. */
struct walk {
    struct arena arena;
    const char *file;
    uint64_t count;
    uint64_t wrong;
    uint64_t of_logs;
    bool refused; /* no memory, or nobody reads what is printed */
};

static bool print_one(void *context, const struct archive_signal *signal) {
    struct walk *walk = context;
    struct text_builder out;
    text_builder_init(&out, &walk->arena);
    signal_line_add(&out, signal);
    struct text line = text_built(&out);
    walk->refused = walk->refused || out.failed ||
            fwrite(line.start, 1, line.length, stdout) != line.length;
    arena_finish(&walk->arena);
    arena_init(&walk->arena, host_pages(), 0);
    walk->count++;
    return !walk->refused;
}

static bool judge_one(void *context, const struct archive_signal *signal) {
    struct walk *walk = context;
    struct problem problem = {0};
    walk->count++;
    walk->of_logs += signal_line_of_log(signal);
    if (!signal_line_judge(signal, &problem).good) {
        walk->wrong++;
        (void)printf("%s: signal %" PRId64 ": %s\n", walk->file, signal->id, problem.text);
    }
    return true;
}

/** Opens, walks, closes; CLI_UNREADABLE after saying why not. */
static int walk_archive(const char *file, struct walk *walk, bool check,
        bool (*take)(void *context, const struct archive_signal *signal)) {
    struct archive *archive = NULL;
    struct problem problem = {0};
    outcome result = archive_open(file, ARCHIVE_READ, &archive, &problem);
    walk->file = file;
    arena_init(&walk->arena, host_pages(), 0);
    if (result.good && check) {
        result = archive_check(archive, &problem);
    }
    if (result.good) {
        result = archive_each(archive, (struct archive_query){0}, take, walk, &problem);
    }
    archive_close(archive);
    arena_finish(&walk->arena);
    return result.good ? CLI_GOOD : cli_refused(NULL, &problem);
}

static int export(const struct cli_command *command, int count, char **words,
        const struct archive_import_how *how) {
    (void)how;
    struct walk walk = {0};
    if (count != 1) {
        return cli_misused(command, "export takes the archive");
    }
    int status = walk_archive(words[0], &walk, false, print_one);
    if (walk.refused || fflush(stdout) != 0) {
        const struct problem problem = {
                .kind = PROBLEM_SYSTEM, .text = "what is exported could not be written whole"};
        return cli_refused(NULL, &problem);
    }
    return status;
}

static int verify(const struct cli_command *command, int count, char **words,
        const struct archive_import_how *how) {
    (void)how;
    struct walk walk = {0};
    if (count != 1) {
        return cli_misused(command, "verify takes the archive");
    }
    int status = walk_archive(words[0], &walk, true, judge_one);
    if (status != CLI_GOOD) {
        return status;
    }
    (void)printf(
            "%" PRIu64 " signals, %" PRIu64 " not as their frames say", walk.count, walk.wrong);
    if (walk.of_logs > 0) {
        (void)printf("; %" PRIu64 " of logs, which had none", walk.of_logs);
    }
    (void)printf("\n");
    return walk.wrong > 0 ? CLI_FAULTS : CLI_GOOD;
}

static int backup(const struct cli_command *command, int count, char **words,
        const struct archive_import_how *how) {
    (void)how;
    struct archive *archive = NULL;
    struct problem problem = {0};
    if (count != 2) {
        return cli_misused(command, "backup takes the archive and the name of the copy");
    }
    outcome result = archive_open(words[0], ARCHIVE_READ, &archive, &problem);
    if (result.good) {
        result = archive_backup(archive, words[1], &problem);
    }
    archive_close(archive);
    return result.good ? CLI_GOOD : cli_refused(NULL, &problem);
}

static int import(const struct cli_command *command, int count, char **words,
        const struct archive_import_how *how) {
    if (count != 2) {
        return cli_misused(
                command, "import takes the archive and the file, or - for standard input");
    }
    if (how->log != NULL && how->frames) {
        return cli_misused(command, "a file is a log or holds frames, not both");
    }
    return archive_import_file(words[0], words[1], how);
}

static const struct {
    const char *name;
    int (*run)(const struct cli_command *command, int count, char **words,
            const struct archive_import_how *how);
} parts[] = {{"export", export}, {"import", import}, {"verify", verify}, {"backup", backup}};

static int run(const struct cli_command *command, int argc, char **argv) {
    struct archive_import_how how = {0};
    optind = 0;
    for (int option = cli_next_option(command, argc, argv, options); option != -1;
            option = cli_next_option(command, argc, argv, options)) {
        if (option == CLI_HELP) {
            return CLI_GOOD;
        }
        if (option == '?') {
            return CLI_UNREADABLE;
        }
        how.log = option == LOG ? optarg : how.log;
        how.keys = option == KEYS ? optarg : how.keys;
        how.frames = how.frames || option == FRAMES;
    }
    if (optind == argc) {
        return cli_misused(command, "export, import, verify or backup?");
    }
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        if (strcmp(argv[optind], parts[i].name) == 0) {
            return parts[i].run(command, argc - optind - 1, argv + optind + 1, &how);
        }
    }
    return cli_misused(command, "\"%s\" is none of export, import, verify, backup", argv[optind]);
}

const struct cli_command cli_archive = {
        .name = "archive",
        .takes = "export|import|verify|backup ARCHIVE ...",
        .answers = "signals received: copied out, brought in, checked",
        .help = "  export ARCHIVE        every signal as a line of JSON (docs/json.md)\n"
                "  import ARCHIVE FILE   signals of such lines; - reads standard input. What is\n"
                "                        there already is left out; a wrong line brings in none\n"
                "    --log SITE          FILE is an event log, written as the profile of the\n"
                "                        site's panel says (docs/profiles.md)\n"
                "    --frames            FILE holds captured frames, as they are or in hex\n"
                "    --keys FILE         of encrypted ones (docs/signals.md)\n"
                "  verify ARCHIVE        the file, and every signal against its own frame\n"
                "  backup ARCHIVE COPY   a whole copy, also while signals come in\n"
                "  --help                this page\n\n"
                "Exit status: 0 good, 1 signals are not as their frames say or some of a log or\n"
                "capture were not taken, 2 the archive or the command line cannot be read, or\n"
                "nothing could be written.\n",
        .run = run,
};
