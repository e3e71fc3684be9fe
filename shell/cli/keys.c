#include "cli/cli.h"

#include "host/host.h"

static const struct option options[] = {{"help", no_argument, NULL, 'h'}, {NULL, 0, NULL, 0}};

static int run(const struct cli_command *command, int argc, char **argv) {
    optind = 0;
    const int option = cli_next_option(command, argc, argv, options);
    if (option != -1) {
        return option == CLI_HELP ? CLI_GOOD : CLI_UNREADABLE;
    }
    if (optind < argc) {
        return cli_misused(command, "it takes nothing, not \"%s\"", argv[optind]);
    }
    struct arena arena;
    struct text_builder out;
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    document_add_reference(&out);
    const struct problem problem = {
            .kind = PROBLEM_MEMORY, .text = "no memory to print the reference"};
    const int status =
            arena.refused ? cli_refused(NULL, &problem) : cli_print(text_built(&out), CLI_GOOD);
    arena_finish(&arena);
    return status;
}

const struct cli_command cli_keys = {
        .name = "keys",
        .takes = "",
        .answers = "every key of the site file and of profiles, with its default",
        .help = "Prints the reference as Markdown: what each key means, its unit, its range, and\n"
                "what is taken where it is not written. docs/site-file.md is the same page.\n\n"
                "  --help    this page\n\n"
                "To find one: lintel keys | grep -i chime\n",
        .run = run,
};
