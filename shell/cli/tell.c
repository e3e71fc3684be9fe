#include "check/check.h"

#include "cli/cli.h"
#include "cli/named.h"
#include "cli/prove.h"
#include "cli/terminal.h"
#include "host/host.h"

#include <stdio.h>
#include <string.h>

struct wishes {
    bool json;
    bool all;
    bool paced; /* a pace was asked for: one course at that pace, whatever the verdict */
    enum proof_pace pace;
    int32_t today_day;
};

/* One telling: what was read, the plan of its routines, and room for the results. */
struct telling {
    struct cli_site read;
    struct crew crew;
    struct check_plan plan;
    const struct wishes *wishes;
};

static int print_built(struct text_builder *out, int status) {
    if (out->arena->refused) {
        const struct problem problem = {.kind = PROBLEM_MEMORY, .text = "no memory to print it"};
        return cli_refused(NULL, &problem);
    }
    return cli_print(text_built(out), status);
}

static int list_names(struct telling *telling) {
    enum { HANG = 4 };
    struct arena *arena = &telling->crew.arenas[0];
    struct text_builder out;
    text_builder_init(&out, arena);
    struct layout layout = terminal_layout(&out);
    for (size_t i = 0; i < telling->plan.routine_count; i++) {
        const struct check_routine *routine = &telling->plan.routines[i];
        layout_words(&layout, routine->source->name, HANG, LAYOUT_PLAIN);
        layout_put_string(&layout, routine->usual ? " (usual)" : "", LAYOUT_PLAIN);
        layout_end_line(&layout);
    }
    for (size_t i = 0; i < telling->plan.absent_count; i++) {
        const struct check_absent *absent = &telling->plan.absent[i];
        layout_words(&layout,
                text_print(arena, "%.*s (%s: %.*s)", TEXT_ARGS(absent->name),
                        absent->removed ? "removed" : "not applied", TEXT_ARGS(absent->reason)),
                HANG, LAYOUT_QUIET);
        layout_end_line(&layout);
    }
    const struct site_break_ins *break_ins = &telling->read.document.site.break_ins;
    for (size_t i = 0; break_ins->said && i < break_ins->goal_count; i++) {
        layout_words(&layout, break_ins->goals[i].name, HANG, LAYOUT_PLAIN);
        layout_put_string(&layout, " (break-in)", LAYOUT_PLAIN);
        layout_end_line(&layout);
    }
    return print_built(&out, CLI_GOOD);
}

static int tell_absent(struct telling *telling, const struct check_absent *absent) {
    struct text_builder out;
    text_builder_init(&out, &telling->crew.arenas[0]);
    text_add_format(&out, "%.*s: %s (%.*s)\n", TEXT_ARGS(absent->name),
            absent->removed ? "removed in the file" : "not applied here",
            TEXT_ARGS(absent->reason));
    return print_built(&out, CLI_GOOD);
}

static outcome choose_course(struct telling *telling, struct show_told *told,
        struct proof_answer *answer, struct problem *ret_problem) {
    static const char *const paces[] = {
            [PROOF_QUICK] = "told: one course of many, everybody as quick as can be, the panel's "
                            "clocks true",
            [PROOF_MIDDLING] =
                    "told: one course of many, everybody middling quick, the panel's clocks true",
            [PROOF_SLOW] = "told: one course of many, everybody as slow as can be, the panel's "
                           "clocks true",
    };
    struct arena *arena = &telling->crew.arenas[0];
    if (telling->wishes->paced || answer->verdict != PROOF_GOES_WRONG) {
        const struct proof_options options = {0};
        TRY(proof_tell(&telling->read.document.site, NULL, &answer->routine, &options,
                telling->wishes->pace, arena, &answer->story, &answer->story_count, ret_problem));
        told->course = text_of(paces[telling->wishes->pace]);
    } else {
        told->course = text_of("told: the shortest course that goes wrong");
    }
    if (proof_leaves_hours_out(&telling->read.document.site, &answer->routine)) {
        told->course =
                text_print(arena, "%.*s; hours of people not applied: no step is at a time of day",
                        TEXT_ARGS(told->course));
    }
    return story_tell(&telling->read.document.site, answer,
            telling->wishes->all ? STORY_ALL : STORY_FULL, arena, &told->story, ret_problem);
}

static const struct check_finding *finding_of_routine(const struct check_report *report) {
    for (size_t i = 0; i < report->finding_count + report->waived_count; i++) {
        if (report->findings[i].base.answer_index == 0) {
            return &report->findings[i];
        }
    }
    return NULL;
}

static int tell_routine(struct telling *telling, size_t which) {
    const struct check_options options = {.no_remedy = true};
    struct check_report report;
    struct problem problem = {0};
    struct show_told told = {0};
    const struct site *site = &telling->read.document.site;
    terminal_catch_interrupt();
    if (!prove_one(site, &telling->plan, which, &options, &telling->crew, &report, &problem).good) {
        return cli_site_refused(&telling->read, &problem);
    }
    told.routine = &report.routines[0];
    told.answer = &report.answers[0];
    told.finding = finding_of_routine(&report);
    if (!choose_course(telling, &told, &report.answers[0], &problem).good) {
        return cli_site_refused(&telling->read, &problem);
    }
    struct text_builder out;
    text_builder_init(&out, &telling->crew.arenas[0]);
    if (telling->wishes->json) {
        struct json_writer json;
        json_init(&json, &out);
        show_told_json(site, &told, &telling->read.places, &json);
    } else {
        struct layout layout = terminal_layout(&out);
        show_told(site, &told, &telling->read.places, &layout);
    }
    /* A fault that is waived is a fault of this routine all the same. */
    const bool wrong = told.finding != NULL && told.finding->base.weight == FINDING_FAULT;
    return print_built(&out, wrong && !report.stopped ? CLI_FAULTS : check_exit_status(&report));
}

static int tell_break_in(struct telling *telling, size_t which) {
    enum { UNSETTLED = 3 };
    struct arena *arena = &telling->crew.arenas[0];
    const struct site *site = &telling->read.document.site;
    struct break_ins found;
    struct problem problem = {0};
    struct text_builder out;
    if (!named_look(site, arena, &found, &problem).good) {
        return cli_site_refused(&telling->read, &problem);
    }
    const struct break_in *it = &found.list[which];
    text_builder_init(&out, arena);
    if (telling->wishes->json) {
        struct json_writer json;
        json_init(&json, &out);
        show_break_in_told_json(site, it, &telling->read.places, &json);
    } else {
        struct layout layout = terminal_layout(&out);
        show_break_in(site, it, &layout);
    }
    const bool wrong = it->verdict == BREAK_INS_LATE || it->verdict == BREAK_INS_UNHEARD ||
            it->verdict == BREAK_INS_PANEL_FIRST;
    return print_built(&out,
            terminal_was_interrupted()                     ? CHECK_EXIT_STOPPED
                    : wrong                                ? CLI_FAULTS
                    : it->verdict == BREAK_INS_NOT_SETTLED ? UNSETTLED
                                                           : CLI_GOOD);
}

static int tell_name(struct telling *telling, const char *name) {
    struct named named;
    struct problem problem = {0};
    if (!named_find(&telling->read.document.site, &telling->plan, telling->wishes->today_day, name,
                &telling->crew.arenas[0], &named, &problem)
                    .good) {
        return cli_site_refused(&telling->read, &problem);
    }
    switch (named.kind) {
    case NAMED_ROUTINE:
        return tell_routine(telling, named.index);
    case NAMED_ABSENT:
        return tell_absent(telling, &telling->plan.absent[named.index]);
    case NAMED_GOAL:
        return tell_break_in(telling, named.index);
    case NAMED_NOTHING:
        break;
    }
    return named_unknown(&telling->read, &telling->plan, "tell", name);
}

static int tell_file(const char *path, const char *name, const struct wishes *wishes) {
    struct telling telling = {.wishes = wishes};
    int status = CLI_UNREADABLE;
    crew_init(&telling.crew, 1, host_pages());
    if (cli_site_read(&telling.read, path)) {
        const struct check_options options = {.today_day = wishes->today_day};
        struct problem problem = {0};
        if (!prove_as_today(&telling.read.document, options.today_day, &problem).good ||
                !check_plan_make(&telling.read.document.site, &options, &telling.crew.arenas[0],
                        &telling.plan, &problem)
                         .good) {
            status = cli_site_refused(&telling.read, &problem);
        } else {
            status = name == NULL ? list_names(&telling) : tell_name(&telling, name);
        }
    }
    crew_finish(&telling.crew);
    cli_site_finish(&telling.read);
    return status;
}

enum { JSON = 1, ALL, PACE, TODAY };

static const struct option options[] = {
        {"json", no_argument, NULL, JSON},
        {"all", no_argument, NULL, ALL},
        {"today", required_argument, NULL, TODAY},
        {"pace", required_argument, NULL, PACE},
        {"help", no_argument, NULL, 'h'},
        {NULL, 0, NULL, 0},
};

static bool take_option(const struct cli_command *command, int option, struct wishes *wishes) {
    if (option == JSON) {
        wishes->json = true;
        return true;
    }
    if (option == ALL) {
        wishes->all = true;
        return true;
    }
    if (option == TODAY) {
        return cli_read_today(command, optarg, &wishes->today_day);
    }
    if (option != PACE) {
        return false;
    }
    wishes->paced = true;
    return cli_read_pace(command, optarg, &wishes->pace);
}

static int run(const struct cli_command *command, int argc, char **argv) {
    struct wishes wishes = {.pace = PROOF_MIDDLING, .today_day = host_today()};
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
    if (optind + 2 < argc) {
        return cli_misused(command,
                "one routine at a time; \"%s\" is too many (quote names that have blanks)",
                argv[optind + 2]);
    }
    return tell_file(argv[optind], optind + 1 < argc ? argv[optind + 1] : NULL, &wishes);
}

const struct cli_command cli_tell = {
        .name = "tell",
        .takes = "SITE [NAME] [OPTION ...]",
        .answers = "one routine second by second: who, what is heard, what is sent",
        .help = "Tells how the routine called NAME goes: the shortest course in which it goes\n"
                "wrong or, where it goes well, one course of the many. Without NAME: lists the\n"
                "names. NAME may also be a protected thing: how somebody comes for it.\n"
                "SITE is a YAML or JSON file; - reads standard input.\n\n"
                "  --all         also the timers, the times drawn and the steps left out\n"
                "  --pace PACE   one course with everybody quick, middling or slow\n"
                "  --today DATE  waivers and temporary changes as on that day: 2027-03-31\n"
                "  --json        the same as JSON (docs/json.md)\n"
                "  --help        this page\n\n"
                "exit  0  no fault\n"
                "      1  the routine goes wrong, or the thing is not heard in time\n"
                "      2  the site file could not be read, or the command not understood\n"
                "      3  the routine is not settled\n"
                "    130  stopped by Ctrl-C\n",
        .run = run,
};
