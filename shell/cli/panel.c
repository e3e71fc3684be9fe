#include "cli/cli.h"

#include "cli/graph.h"
#include "host/host.h"

enum { GRAPH = 1 };

static const struct option options[] = {
        {"graph", no_argument, NULL, GRAPH},
        {"help", no_argument, NULL, 'h'},
        {NULL, 0, NULL, 0},
};

static int print_graph(void) {
    struct arena arena;
    struct text_builder out;
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    graph_add(&out, &panel_tables_standard);
    const struct problem problem = {.kind = PROBLEM_MEMORY, .text = "no memory to print the graph"};
    const int status =
            arena.refused ? cli_refused(NULL, &problem) : cli_print(text_built(&out), CLI_GOOD);
    arena_finish(&arena);
    return status;
}

static int run(const struct cli_command *command, int argc, char **argv) {
    bool graph = false;
    optind = 0;
    for (int option = cli_next_option(command, argc, argv, options); option != -1;
            option = cli_next_option(command, argc, argv, options)) {
        if (option != GRAPH) {
            return option == CLI_HELP ? CLI_GOOD : CLI_UNREADABLE;
        }
        graph = true;
    }
    if (optind < argc) {
        return cli_misused(command, "it takes no file, not \"%s\"", argv[optind]);
    }
    return graph ? print_graph()
                 : cli_misused(command, "what about the panel? --graph prints its states");
}

const struct cli_command cli_panel = {
        .name = "panel",
        .takes = "--graph",
        .answers = "how the panel moves from state to state, from its own tables",
        .help = "  --graph   the states of an area and what leads from one to the next, as\n"
                "            Graphviz text: lintel panel --graph | dot -Tsvg > panel.svg\n"
                "  --help    this page\n\n"
                "It is the model that every proof uses, not the panel of one site; what it means:\n"
                "docs/panel-model.md.\n",
        .run = run,
};
