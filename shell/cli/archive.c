#include "archive/archive.h"

#include "cli/cli.h"
#include "cli/signal_line.h"
#include "host/host.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { IMPORT_LIMIT_BYTES = 1024 * 1024 * 1024 };

static const struct option options[] = {{"help", no_argument, NULL, 'h'}, {NULL, 0, NULL, 0}};

/** Where lines are made and checked; emptied after each, so that an archive of any length passes. */
struct walk {
    struct arena arena;
    const char *file;
    uint64_t count;
    uint64_t wrong;
    bool print;
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

static int export(const struct cli_command *command, int count, char **words) {
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

static int verify(const struct cli_command *command, int count, char **words) {
    struct walk walk = {0};
    if (count != 1) {
        return cli_misused(command, "verify takes the archive");
    }
    int status = walk_archive(words[0], &walk, true, judge_one);
    if (status != CLI_GOOD) {
        return status;
    }
    (void)printf(
            "%" PRIu64 " signals, %" PRIu64 " not as their frames say\n", walk.count, walk.wrong);
    return walk.wrong > 0 ? CLI_FAULTS : CLI_GOOD;
}

static int backup(const struct cli_command *command, int count, char **words) {
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

/** The signals of a text, one a line; false after saying which line is none. */
static bool read_lines(const char *file, struct text content, struct arena *arena,
        struct archive_signal **ret_signals, size_t *ret_count) {
    size_t lines = 1;
    size_t line = 0;
    size_t count = 0;
    struct problem problem = {0};
    for (size_t i = 0; i < content.length; i++) {
        lines += content.start[i] == '\n';
    }
    struct archive_signal *signals = ARENA_ARRAY(arena, struct archive_signal, lines);
    while (signals != NULL && content.length > 0) {
        const char *end = memchr(content.start, '\n', content.length);
        size_t length = end == NULL ? content.length : (size_t)(end - content.start);
        line++;
        if (length > 0 &&
                !signal_line_read(
                        (struct text){content.start, length}, arena, &signals[count], &problem)
                         .good) {
            (void)fprintf(stderr, "%s:%zu: %s\n", file, line, problem.text);
            return false;
        }
        count += length > 0;
        length += end != NULL;
        content = (struct text){content.start + length, content.length - length};
    }
    *ret_signals = signals;
    *ret_count = count;
    return signals != NULL;
}

static int import(const struct cli_command *command, int count, char **words) {
    struct archive *archive = NULL;
    struct archive_signal *signals = NULL;
    struct arena arena;
    struct text content = {0};
    struct problem problem = {0};
    size_t signal_count = 0;
    size_t added = 0;
    if (count != 2) {
        return cli_misused(
                command, "import takes the archive and the file, or - for standard input");
    }
    arena_init(&arena, host_pages(), 0);
    outcome result = host_read_file(words[1], IMPORT_LIMIT_BYTES, &arena, &content, &problem);
    if (result.good && !read_lines(words[1], content, &arena, &signals, &signal_count)) {
        arena_finish(&arena);
        return CLI_UNREADABLE;
    }
    if (result.good) {
        result = archive_open(words[0], ARCHIVE_NEW, &archive, &problem);
    }
    if (result.good) {
        result = archive_import(archive, signals, signal_count, &added, &problem);
    }
    archive_close(archive);
    arena_finish(&arena);
    if (!result.good) {
        return cli_refused(NULL, &problem);
    }
    (void)printf("%zu signals read, %zu of them new\n", signal_count, added);
    return CLI_GOOD;
}

static const struct {
    const char *name;
    int (*run)(const struct cli_command *command, int count, char **words);
} parts[] = {{"export", export}, {"import", import}, {"verify", verify}, {"backup", backup}};

static int run(const struct cli_command *command, int argc, char **argv) {
    optind = 0;
    const int option = cli_next_option(command, argc, argv, options);
    if (option != -1) {
        return option == CLI_HELP ? CLI_GOOD : CLI_UNREADABLE;
    }
    if (optind == argc) {
        return cli_misused(command, "export, import, verify or backup?");
    }
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        if (strcmp(argv[optind], parts[i].name) == 0) {
            return parts[i].run(command, argc - optind - 1, argv + optind + 1);
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
                "  verify ARCHIVE        the file, and every signal against its own frame\n"
                "  backup ARCHIVE COPY   a whole copy, also while signals come in\n"
                "  --help                this page\n\n"
                "Exit status: 0 good, 1 signals are not as their frames say, 2 the archive or\n"
                "the command line cannot be read, or nothing could be written.\n",
        .run = run,
};
