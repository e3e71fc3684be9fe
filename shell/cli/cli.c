#include "cli/cli.h"

#include "host/host.h"

#include <errno.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const struct cli_command *const commands[] = {&cli_new, &cli_serve, &cli_check, &cli_tell,
        &cli_sheet, &cli_plan, &cli_why, &cli_radio, &cli_power, &cli_signals, &cli_listen,
        &cli_accept, &cli_rehearse, &cli_archive, &cli_keys, &cli_panel};
enum { COMMAND_COUNT = sizeof commands / sizeof commands[0] };

static int print_help(void) {
    enum { NAME_COLUMNS = 8 };
    (void)printf("lintel: one site file in, the programming out, with a proof\n\n"
                 "usage: lintel COMMAND ...\n\n");
    for (size_t i = 0; i < COMMAND_COUNT; i++) {
        (void)printf("  lintel %-*s %s\n", NAME_COLUMNS, commands[i]->name, commands[i]->answers);
    }
    (void)printf(
            "\n"
            "  lintel COMMAND --help    what it takes, and its options\n"
            "  lintel --version         which version this is\n\n"
            "To begin: lintel new house.yaml, then lintel check house.yaml.\n\n"
            "Put the account on test with the monitoring station before any test of the real\n"
            "system, and take it off after. Local codes and the makers' instructions win over\n"
            "every figure here.\n");
    return cli_print((struct text){0}, CLI_GOOD);
}

static void say_nearest(
        const char *word, const char *before, const char *const *names, size_t count) {
    enum { FAR = 3 };
    const char *nearest = NULL;
    size_t best = FAR;
    for (size_t i = 0; i < count; i++) {
        const size_t distance = text_distance(text_of(word), text_of(names[i]), FAR);
        if (distance < best) {
            best = distance;
            nearest = names[i];
        }
    }
    if (nearest != NULL) {
        (void)fprintf(stderr, "; did you mean %s%s?", before, nearest);
    }
}

static int unknown_command(const char *word) {
    const char *names[COMMAND_COUNT];
    for (size_t i = 0; i < COMMAND_COUNT; i++) {
        names[i] = commands[i]->name;
    }
    (void)fprintf(stderr, "lintel: there is no command \"%s\"", word);
    if (access(word, F_OK) == 0) {
        (void)fprintf(stderr, "; did you mean lintel check %s?", word);
    } else {
        say_nearest(word, "", names, COMMAND_COUNT);
    }
    (void)fprintf(stderr, "\nlintel --help lists the commands\n");
    return CLI_UNREADABLE;
}

int cli_main(int argc, char **argv) {
    if (argc < 2) {
        (void)fprintf(stderr, "lintel: which command? lintel --help lists them\n");
        return CLI_UNREADABLE;
    }
    if (strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0 ||
            strcmp(argv[1], "help") == 0) {
        return print_help();
    }
    if (strcmp(argv[1], "--version") == 0) {
        (void)printf("lintel %s\n", LINTEL_VERSION);
        return cli_print((struct text){0}, CLI_GOOD);
    }
    for (size_t i = 0; i < COMMAND_COUNT; i++) {
        if (strcmp(argv[1], commands[i]->name) == 0) {
            return commands[i]->run(commands[i], argc - 1, argv + 1);
        }
    }
    return unknown_command(argv[1]);
}

static int unknown_option(
        const struct cli_command *command, const char *word, const struct option *options) {
    enum { NAMES_MOST = 32 };
    const char *names[NAMES_MOST];
    size_t count = 0;
    for (; options[count].name != NULL && count < NAMES_MOST; count++) {
        names[count] = options[count].name;
    }
    (void)fprintf(stderr, "lintel %s: there is no option \"%s\"", command->name, word);
    if (strncmp(word, "--", 2) == 0) {
        say_nearest(word + 2, "--", names, count);
    }
    (void)fprintf(stderr, "\nlintel %s --help lists them\n", command->name);
    return '?';
}

int cli_next_option(
        const struct cli_command *command, int argc, char **argv, const struct option *options) {
    opterr = 0;
    const int at = optind == 0 ? 1 : optind;
    const int option = getopt_long(argc, argv, ":h", options, NULL);
    /* Where getopt stands after a long option tells which word it was; before the move of plain words it does not. */
    const char *word =
            optind > 1 && optind <= argc ? argv[optind - 1] : argv[at < argc ? at : argc - 1];
    if (option == 'h') {
        (void)printf("usage: lintel %s%s%s\n%s\n\n%s", command->name,
                command->takes[0] == '\0' ? "" : " ", command->takes, command->answers,
                command->help);
        return cli_print((struct text){0}, CLI_GOOD) == CLI_GOOD ? CLI_HELP : '?';
    }
    if (option == ':') {
        (void)cli_misused(command, "the option \"%s\" wants a value", word);
        return '?';
    }
    return option == '?' ? unknown_option(command, word, options) : option;
}

int cli_misused(const struct cli_command *command, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    (void)fprintf(stderr, "lintel %s: ", command->name);
    (void)vfprintf(stderr, format, arguments);
    (void)fprintf(stderr, "\nusage: lintel %s %s\n", command->name, command->takes);
    va_end(arguments);
    return CLI_UNREADABLE;
}

bool cli_read_today(const struct cli_command *command, const char *word, int32_t *ret_day) {
    struct problem problem = {0};
    if (date_read(text_of(word), ret_day, &problem).good) {
        return true;
    }
    (void)cli_misused(command, "--today: %s", problem.text);
    return false;
}

bool cli_read_pace(const struct cli_command *command, const char *word, enum proof_pace *ret_pace) {
    static const char *const paces[] = {
            [PROOF_QUICK] = "quick", [PROOF_MIDDLING] = "middling", [PROOF_SLOW] = "slow"};
    for (size_t i = 0; i < sizeof paces / sizeof paces[0]; i++) {
        if (strcmp(word, paces[i]) == 0) {
            *ret_pace = (enum proof_pace)i;
            return true;
        }
    }
    (void)cli_misused(command, "--pace wants quick, middling or slow, not \"%s\"", word);
    return false;
}

int cli_refused(const char *name, const struct problem *problem) {
    (void)fprintf(stderr, "lintel: %s%s%s\n", name == NULL ? "" : name, name == NULL ? "" : ": ",
            problem->text);
    return CLI_UNREADABLE;
}

static bool find_place(void *context, struct text path, int *ret_line, int *ret_column) {
    return document_place(context, path, ret_line, ret_column);
}

static struct text find_usual(void *context, struct text path) {
    return document_usual(context, path);
}

static void say_problems(const struct document *document) {
    bool in_lines = false; /* of files that are not there no key is wrong */
    for (size_t i = 0; i < document->problem_count; i++) {
        in_lines = in_lines || document->problems[i].line > 0;
        struct arena arena;
        struct text_builder line;
        arena_init(&arena, host_pages(), 0);
        text_builder_init(&line, &arena);
        document_problem_add(&line, &document->problems[i]);
        const struct text built = text_built(&line);
        const struct text what =
                document->problems[i].what; /* where there is no memory to say more */
        (void)fprintf(stderr, "%.*s\n", TEXT_ARGS(built.length > 0 ? built : what));
        arena_finish(&arena);
    }
    (void)fprintf(stderr, "lintel: %s%zu problem%s; nothing was checked%s\n",
            document->more_problems ? "more than " : "", document->problem_count,
            document->problem_count == 1 ? "" : "s",
            in_lines ? ". lintel keys lists every key" : "");
}

bool cli_site_read(struct cli_site *site, const char *path) {
    struct problem problem = {0};
    const char *slash = strrchr(path, '/');
    const struct document_search search = {.data = getenv("LINTEL_DATA")};
    document_init(&site->document, host_pages());
    site->places = (struct show_places){.file = text_of(path),
            .short_file = text_of(strcmp(path, "-") == 0 ? "standard input"
                            : slash == NULL              ? path
                                                         : slash + 1),
            .find = find_place,
            .usual = find_usual,
            .context = &site->document};
    if (document_read_file(&site->document, path, &search, &problem).good) {
        return true;
    }
    if (site->document.problem_count > 0) {
        say_problems(&site->document);
    } else {
        (void)cli_refused(NULL, &problem);
    }
    return false;
}

void cli_site_finish(struct cli_site *site) {
    document_finish(&site->document);
}

int cli_site_refused(const struct cli_site *site, const struct problem *problem) {
    int line = 0;
    int column = 0;
    if (problem->place[0] != '\0' &&
            document_place(&site->document, text_of(problem->place), &line, &column)) {
        (void)fprintf(stderr, "%.*s:%d:%d: %s: %s\n", TEXT_ARGS(site->places.file), line, column,
                problem->place, problem->text);
        return CLI_UNREADABLE;
    }
    return cli_refused(NULL, problem);
}

int cli_print(struct text text, int status) {
    errno = 0;
    const size_t written = text.length == 0 ? 0 : fwrite(text.start, 1, text.length, stdout);
    if (written == text.length && fflush(stdout) == 0 && ferror(stdout) == 0) {
        return status;
    }
    (void)fprintf(stderr, "lintel: the output could not be written: %s\n", strerror(errno));
    return CLI_UNREADABLE;
}
