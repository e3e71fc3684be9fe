#include "check/break_in_chart.h"
#include "cli/cli.h"
#include "cli/plan_break_ins.h"
#include "cli/plan_list.h"
#include "cli/svg.h"
#include "cli/terminal.h"
#include "host/host.h"
#include "plan/drawing.h"
#include "plan/layers.h"

#include <stdio.h>
#include <string.h>

/* An option of a layer is LAYERS and its kind. */
enum { JSON = 1, SVG, STOREY, BREAK_INS, LAYERS = 1000 };

static const struct option options[] = {
        {"break-ins", no_argument, NULL, BREAK_INS},
        {"json", no_argument, NULL, JSON},
        {"svg", no_argument, NULL, SVG},
        {"storey", required_argument, NULL, STOREY},
        {"sight", no_argument, NULL, LAYERS + PLAN_LAYER_SIGHT},
        {"ways", no_argument, NULL, LAYERS + PLAN_LAYER_WAYS},
        {"help", no_argument, NULL, 'h'},
        {NULL, 0, NULL, 0},
};

struct wishes {
    bool json;
    bool svg;
    bool break_ins;
    const char *storey; /* NULL: all */
    bool layers[PLAN_LAYER_COUNT];
};

/* The storeys that are wanted: from first to last. False: there is none of that name (told). */
static bool find_storeys(
        const struct cli_site *read, const char *name, size_t *ret_first, size_t *ret_count) {
    const struct site_building *building = &read->document.site.building;
    *ret_first = 0;
    *ret_count = building->storey_count;
    if (name == NULL) {
        return true;
    }
    for (size_t i = 0; i < building->storey_count; i++) {
        if (text_is(building->storeys[i].name, name)) {
            *ret_first = i;
            *ret_count = 1;
            return true;
        }
    }
    (void)fprintf(stderr, "lintel plan: there is no storey \"%s\"; there is", name);
    for (size_t i = 0; i < building->storey_count; i++) {
        (void)fprintf(stderr, "%s %.*s", i == 0 ? "" : ",", TEXT_ARGS(building->storeys[i].name));
    }
    (void)fprintf(stderr, "\n");
    return false;
}

/* The layers that are wished for, in the order of the table. */
static outcome make_layers(const struct house *house, const struct wishes *wishes,
        struct arena *arena, struct drawing_layer *ret_layers, size_t *ret_count,
        struct problem *ret_problem) {
    *ret_count = 0;
    for (size_t i = 0; i < PLAN_LAYER_COUNT; i++) {
        if (wishes->layers[i]) {
            TRY(plan_layers[i].make(house, arena, &ret_layers[*ret_count], ret_problem));
            (*ret_count)++;
        }
    }
    return outcome_good();
}

static outcome draw(const struct house *house, const struct wishes *wishes, size_t first,
        size_t count, struct arena *arena, struct text_builder *out, struct problem *ret_problem) {
    struct drawing_layer layers[PLAN_LAYER_COUNT + 1];
    size_t layer_count = 0;
    TRY(make_layers(house, wishes, arena, layers, &layer_count, ret_problem));
    struct picture *pictures = ARENA_ARRAY(arena, struct picture, count + 1);
    struct plan_break_ins *break_ins = ARENA_NEW(arena, struct plan_break_ins);
    const int32_t scale = drawing_scale(house);
    if (pictures == NULL || break_ins == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to draw the building");
    }
    if (wishes->break_ins) {
        TRY(plan_break_ins_make(house, arena, break_ins, ret_problem));
        layers[layer_count++] = break_in_layer(&break_ins->drawn);
    }
    for (size_t i = 0; i < count; i++) {
        TRY(drawing_make(house, (int)(first + i), scale, layers, layer_count, arena, &pictures[i],
                ret_problem));
    }
    if (wishes->break_ins &&
            break_in_chart(
                    &break_ins->site, &break_ins->all, break_ins->odds, arena, &pictures[count])) {
        count++;
    }
    svg_add(out, pictures, count, house->site->name);
    return outcome_good();
}

/* The plan in words or as JSON. What detectors see may be beyond what can be computed; the rest is printed then. */
static outcome list(const struct cli_site *read, const struct house *house,
        const struct wishes *wishes, struct plan_listed *listed, struct text_builder *out,
        struct problem *ret_problem) {
    struct coverage coverage;
    struct problem problem = {.kind = PROBLEM_NONE};
    listed->house = house;
    listed->why_not = problem.text;
    if (coverage_make(house, out->arena, &coverage, &problem).good) {
        listed->coverage = &coverage;
    } else if (problem.kind == PROBLEM_MEMORY) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "%s", problem.text);
    }
    TRY(used_ways_make(house, listed->coverage, out->arena, &listed->ways, ret_problem));
    TRY(outside_ways_between(house, &listed->ways, out->arena, &listed->outside,
            &listed->outside_count, ret_problem));
    if (wishes->json) {
        struct json_writer json;
        json_init(&json, out);
        plan_add_json(&json, listed, read->places.file);
    } else {
        plan_add_text(out, listed, terminal_layout(out).width);
    }
    return outcome_good();
}

/* What an intruder can do, instead of what the building is. */
static outcome list_break_ins(const struct cli_site *read, const struct house *house, bool as_json,
        struct text_builder *out, struct problem *ret_problem) {
    struct plan_break_ins *made = ARENA_NEW(out->arena, struct plan_break_ins);
    if (made == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to list the break-ins");
    }
    TRY(plan_break_ins_make(house, out->arena, made, ret_problem));
    if (as_json) {
        struct json_writer json;
        json_init(&json, out);
        plan_break_ins_add_json(&json, made, read->places.file);
    } else {
        plan_break_ins_add_text(out, made, terminal_layout(out).width);
    }
    return outcome_good();
}

static int print_plan(
        const struct cli_site *read, const struct wishes *wishes, size_t first, size_t count) {
    struct arena arena;
    struct house house;
    struct problem problem = {.kind = PROBLEM_NONE};
    struct text_builder out;
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    bool good = house_make(&read->document.site, &arena, &house, &problem).good;
    if (good && wishes->svg) {
        good = draw(&house, wishes, first, count, &arena, &out, &problem).good;
    } else if (good && wishes->break_ins) {
        good = list_break_ins(read, &house, wishes->json, &out, &problem).good;
    } else if (good) {
        struct plan_listed listed = {.first = first, .count = count};
        good = list(read, &house, wishes, &listed, &out, &problem).good;
    }
    if (good && (arena.refused || out.failed)) {
        good = false;
        problem = (struct problem){.kind = PROBLEM_MEMORY, .text = "no memory to print the plan"};
    }
    const int status =
            good ? cli_print(text_built(&out), CLI_GOOD) : cli_site_refused(read, &problem);
    arena_finish(&arena);
    return status;
}

static int print_for(const char *path, const struct wishes *wishes) {
    struct cli_site read;
    size_t first = 0;
    size_t count = 0;
    int status = CLI_UNREADABLE;
    const bool good = cli_site_read(&read, path);
    if (good && !read.document.site.building.said) {
        (void)fprintf(stderr,
                "lintel plan: %s has no drawing; docs/drawing.md shows a house in ten lines under "
                "building:\n",
                path);
    } else if (good && find_storeys(&read, wishes->storey, &first, &count)) {
        status = print_plan(&read, wishes, first, count);
    }
    cli_site_finish(&read);
    return status;
}

static int run(const struct cli_command *command, int argc, char **argv) {
    struct wishes wishes = {.storey = NULL};
    optind = 0;
    for (int option = cli_next_option(command, argc, argv, options); option != -1;
            option = cli_next_option(command, argc, argv, options)) {
        if (option == JSON) {
            wishes.json = true;
        } else if (option == SVG) {
            wishes.svg = true;
        } else if (option == STOREY) {
            wishes.storey = optarg;
        } else if (option == BREAK_INS) {
            wishes.break_ins = true;
        } else if (option >= LAYERS) {
            wishes.layers[option - LAYERS] = true;
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
    if (wishes.json && wishes.svg) {
        return cli_misused(command, "--json or --svg, not both");
    }
    for (size_t i = 0; i < PLAN_LAYER_COUNT; i++) {
        if (wishes.layers[i] && !wishes.svg) {
            return cli_misused(
                    command, "--%s is a layer of the drawing: add --svg", plan_layers[i].option);
        }
    }
    return print_for(argv[optind], &wishes);
}

const struct cli_command cli_plan = {
        .name = "plan",
        .takes = "SITE [OPTION ...]",
        .answers = "the drawing: storeys, rooms, openings, where each device is",
        .help = "The site file has a drawing under building: (docs/drawing.md). What is wrong\n"
                "with it is told by lintel check.\n\n"
                "  --svg             a drawing of each storey, to scale, for print\n"
                "  --sight           ... with what detectors see, and the floor that none sees\n"
                "  --ways            ... with the ways that people use to the keypads\n"
                "  --storey NAME     one storey alone\n"
                "  --json            the same as JSON (docs/json.md)\n"
                "  --break-ins       what an intruder can do at best: each thing, the way and\n"
                "                    its seconds; with --svg the worst ways, drawn\n"
                "  --help            this page\n\n"
                "SITE is a YAML or JSON file; - reads standard input.\n\n"
                "exit  0  printed\n"
                "      2  the file could not be read or has no drawing, or the command not\n"
                "         understood\n",
        .run = run,
};
