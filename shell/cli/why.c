#include "why/why.h"

#include "cli/cli.h"
#include "cli/crew.h"
#include "cli/prove.h"
#include "cli/terminal.h"
#include "host/host.h"

#include <stdio.h>

enum { SHOWN_MOST = 6 };

struct wishes {
    bool json;
    bool all;
    int32_t today_day;
};

/* One call: what was read and asked, and what the crew shares; each task writes its own answer only. */
struct call {
    struct cli_site read;
    struct crew crew;
    struct why_plan plan;
    struct why_answer *answers;
    struct proof_options options;
    struct terminal_progress progress;
    const struct wishes *wishes;
    struct text said;
    size_t first; /* hypothesis of task 0 */
};

static bool keep_going(void *context, size_t classes_done, size_t classes_waiting) {
    (void)context;
    (void)classes_done;
    (void)classes_waiting;
    return !terminal_was_interrupted();
}

static outcome try_one(
        void *context, size_t task, struct arena *arena, struct problem *ret_problem) {
    struct call *call = context;
    const size_t which = call->first + task;
    return why_try(&call->plan, which, call->answers, &call->options, host_pages(), arena,
            &call->answers[which], ret_problem);
}

static void watch(void *context, size_t done) {
    struct call *call = context;
    terminal_progress_show(&call->progress, "trying: %zu of %zu possibilities; Ctrl-C stops",
            call->first + done, call->plan.count);
}

static outcome try_from_to(
        struct call *call, size_t first, size_t end, struct problem *ret_problem) {
    call->first = first;
    return crew_do(&call->crew,
            &(struct crew_work){
                    .count = end - first, .do_task = try_one, .watch = watch, .context = call},
            ret_problem);
}

static outcome find_out(
        struct call *call, struct why_report *ret_report, struct problem *ret_problem) {
    void *answers = NULL;
    TRY(arena_get(&call->crew.arenas[0], call->plan.count, sizeof(struct why_answer), &answers,
            ret_problem));
    call->answers = answers;
    call->options =
            (struct proof_options){.class_limit = WHY_CLASS_LIMIT, .keep_going = keep_going};
    terminal_catch_interrupt();
    terminal_progress_begin(&call->progress);
    outcome done = try_from_to(call, 0, call->plan.second, ret_problem);
    if (done.good) {
        done = try_from_to(call, call->plan.second, call->plan.third, ret_problem);
    }
    if (done.good) {
        done = try_from_to(call, call->plan.third, call->plan.count, ret_problem);
    }
    terminal_progress_end(&call->progress);
    TRY(done);
    TRY(why_rank(&call->plan, call->answers, &call->crew.arenas[0], ret_report, ret_problem));
    ret_report->stopped = terminal_was_interrupted();
    return outcome_good();
}

static int show(struct call *call, const struct why_report *report) {
    struct text_builder out;
    text_builder_init(&out, &call->crew.arenas[0]);
    if (call->wishes->json) {
        struct json_writer json;
        json_init(&json, &out);
        why_show_json(report, &call->read.places, call->said, &json);
    } else {
        struct layout layout = terminal_layout(&out);
        why_show(report, &call->read.places, call->wishes->all ? 0 : SHOWN_MOST, &layout);
    }
    if (out.arena->refused) {
        const struct problem problem = {.kind = PROBLEM_MEMORY, .text = "no memory to print it"};
        return cli_refused(NULL, &problem);
    }
    return cli_print(text_built(&out), why_exit_status(report));
}

static int not_understood(struct call *call, const struct problem *problem) {
    struct text_builder out;
    text_builder_init(&out, &call->crew.arenas[0]);
    struct layout layout = {.out = &out, .width = LAYOUT_WIDTH};
    why_show_sayings(&call->read.document.site, &layout);
    (void)fprintf(stderr, "lintel why: %s\nwhat can be said, in any order:\n%.*s", problem->text,
            TEXT_ARGS(text_built(&out)));
    return CLI_UNREADABLE;
}

static int answer(struct call *call) {
    struct why_question question;
    struct why_report report;
    struct problem problem = {0};
    const struct site *site = &call->read.document.site;
    if (!why_read(site, call->said, &question, &problem).good ||
            (question.what == WHY_NO_SIREN && question.zone == SITE_NONE &&
                    !why_plan_make(site, &question, &call->crew.arenas[0], &call->plan, &problem)
                             .good)) {
        return not_understood(call, &problem);
    }
    if (!why_plan_make(site, &question, &call->crew.arenas[0], &call->plan, &problem).good ||
            !find_out(call, &report, &problem).good) {
        return cli_site_refused(&call->read, &problem);
    }
    return show(call, &report);
}

static int list_sayings(struct call *call) {
    struct text_builder out;
    text_builder_init(&out, &call->crew.arenas[0]);
    struct layout layout = terminal_layout(&out);
    why_show_sayings(&call->read.document.site, &layout);
    return cli_print(text_built(&out), CLI_GOOD);
}

static int ask(const char *path, const char *said, const struct wishes *wishes) {
    struct call call = {.wishes = wishes, .said = text_of(said == NULL ? "" : said)};
    int status = CLI_UNREADABLE;
    crew_init(&call.crew, 0, host_pages());
    struct problem problem = {0};
    if (!cli_site_read(&call.read, path)) {
        status = CLI_UNREADABLE;
    } else if (!prove_as_today(&call.read.document, wishes->today_day, &problem).good) {
        status = cli_site_refused(&call.read, &problem);
    } else {
        status = said == NULL ? list_sayings(&call) : answer(&call);
    }
    crew_finish(&call.crew);
    cli_site_finish(&call.read);
    return status;
}

enum { JSON = 1, ALL, TODAY };

static const struct option options[] = {
        {"json", no_argument, NULL, JSON},
        {"all", no_argument, NULL, ALL},
        {"today", required_argument, NULL, TODAY},
        {"help", no_argument, NULL, 'h'},
        {NULL, 0, NULL, 0},
};

static int run(const struct cli_command *command, int argc, char **argv) {
    struct wishes wishes = {.today_day = host_today()};
    optind = 0;
    for (int option = cli_next_option(command, argc, argv, options); option != -1;
            option = cli_next_option(command, argc, argv, options)) {
        if (option == JSON) {
            wishes.json = true;
        } else if (option == ALL) {
            wishes.all = true;
        } else if (option != TODAY) {
            return option == CLI_HELP ? CLI_GOOD : CLI_UNREADABLE;
        } else if (!cli_read_today(command, optarg, &wishes.today_day)) {
            return CLI_UNREADABLE;
        }
    }
    if (optind == argc) {
        return cli_misused(command, "which site file?");
    }
    if (optind + 2 < argc) {
        return cli_misused(command,
                "put what was observed between quotes: lintel why %s \"%s %s ...\"", argv[optind],
                argv[optind + 1], argv[optind + 2]);
    }
    return ask(argv[optind], optind + 1 < argc ? argv[optind + 1] : NULL, &wishes);
}

const struct cli_command cli_why = {
        .name = "why",
        .takes = "SITE [\"OBSERVED\"] [OPTION ...]",
        .answers = "the service call: what may have caused it, how to confirm it",
        .help = "OBSERVED is what the customer or the log tells, in plain words and any order:\n\n"
                "  lintel why house.yaml \"siren, 03:10, zone 6, set night\"\n"
                "  lintel why house.yaml \"not ready, about 18:00, baker\"\n"
                "  lintel why house.yaml \"no siren, side door, set\"\n"
                "  lintel why house.yaml \"siren, no signal, 03:10\"\n"
                "  lintel why house.yaml \"the alarm went off at 3 in the night\"\n"
                "  lintel why house.yaml \"can't set it\"\n\n"
                "Without OBSERVED: lists what can be said, with the names of this site. Every\n"
                "routine is played through the panel, as it is and with one accident added, and\n"
                "so is the empty house; where one explains nothing, two at once. Shown is what\n"
                "brings the observation, likeliest first, with its story and what to look at,\n"
                "whom to ask, what to test. How likelihood is ranked: docs/why.md. SITE is a\n"
                "YAML or JSON file; - reads standard input.\n\n"
                "  --all         every explanation, not only the first six\n"
                "  --today DATE  temporary changes as on that day: 2027-03-31\n"
                "  --json        the same as JSON (docs/json.md), always all of them\n"
                "  --help        this page\n\n"
                "exit  0  something explains it\n"
                "      1  nothing in the file explains it\n"
                "      2  the site file or OBSERVED could not be read\n"
                "      3  nothing explains it so far, but something is not settled\n"
                "    130  stopped by Ctrl-C; what was known by then is shown\n",
        .run = run,
};
