#include "acceptance/match.h"
#include "acceptance/say.h"
#include "archive/archive.h"
#include "cli/cli.h"
#include "host/host.h"

#include <inttypes.h>
#include <poll.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

enum { FORMAT = 1, LABEL = 16, POLL_MS = 200, LINE_ROOM = 256 };

enum option_name { ARCHIVE = 1, ONCE, ANY_ORDER, HAND, BY, BEGIN, JSON };

static const struct option options[] = {
        {"archive", required_argument, NULL, ARCHIVE},
        {"once", no_argument, NULL, ONCE},
        {"any-order", no_argument, NULL, ANY_ORDER},
        {"hand", required_argument, NULL, HAND},
        {"by", required_argument, NULL, BY},
        {"begin", no_argument, NULL, BEGIN},
        {"json", no_argument, NULL, JSON},
        {"help", no_argument, NULL, 'h'},
        {NULL, 0, NULL, 0},
};

/** The raw frame of a signal that ticked something off. */
struct frame_of {
    int64_t id;
    struct text frame;
    struct frame_of *next;
};

/** What was typed, and where acceptance stands. last_signal, last_act: fed up to these. */
struct accepting {
    const char *archive_path;
    const char *hand;
    const char *by;
    bool once;
    bool any_order;
    bool begin;
    bool json;
    struct cli_site site;
    struct arena arena;
    struct acceptance acceptance;
    struct acceptance_course course;
    struct archive *archive;
    struct frame_of *frames;
    struct problem problem;
    int64_t last_signal;
    int64_t last_act;
    bool begun;
    bool live; /* what comes now is printed */
};

static int64_t now_ms(void) {
    struct timespec now;
    (void)clock_gettime(CLOCK_REALTIME, &now);
    return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

static const char *state_of(const struct accepting *accepting, size_t test) {
    const struct acceptance_course *course = &accepting->course;
    if (course->progress[test].done) {
        return course->progress[test].by.length > 0 ? "by hand" : "done";
    }
    if (acceptance_waits(course, test)) {
        return "waits";
    }
    return test == acceptance_next(course)               ? "next"
            : accepting->acceptance.tests[test].required ? "open"
                                                         : "if wanted";
}

static void add_line(struct text_builder *out, const char *label, struct text words, size_t hang) {
    struct layout layout = {.out = out, .width = LAYOUT_WIDTH};
    layout_put_string(&layout, label, LAYOUT_PLAIN);
    layout_to(&layout, hang);
    layout_words(&layout, words, hang, LAYOUT_PLAIN);
    layout_end_line(&layout);
}

static void add_test(struct accepting *accepting, struct text_builder *out, size_t test) {
    const struct acceptance_test *of = &accepting->acceptance.tests[test];
    const struct acceptance_progress *progress = &accepting->course.progress[test];
    struct text_builder words;
    struct text_builder label;
    text_builder_init(&words, out->arena);
    text_builder_init(&label, out->arena);
    text_add_format(&label, "%-9s  ", state_of(accepting, test));
    text_add_format(&words, "%.*s: %.*s", TEXT_ARGS(of->name), TEXT_ARGS(of->says));
    if (progress->by.length > 0) {
        text_add_format(&words, " (by hand: %.*s)", TEXT_ARGS(progress->by));
    } else if (acceptance_waits(&accepting->course, test)) {
        text_add_string(&words, " (the alarm came, its end did not yet)");
    } else if (!progress->done && !of->by_hand && of->signal_count > 0) {
        text_add_string(&words, " (awaited: ");
        acceptance_say_awaited(of, &words);
        text_add_string(&words, ")");
    } else if (!progress->done && of->by_hand && of->kind == ACCEPTANCE_ZONE) {
        text_add_string(&words, " (reports nothing: look at the panel, tick it off by hand)");
    }
    add_line(out, text_built(&label).start, text_built(&words), 11);
}

static void add_verdict(struct accepting *accepting, struct text_builder *out) {
    const size_t open = acceptance_open(&accepting->course);
    if (open == 0) {
        text_add_format(out,
                "\naccepted: every required test is ticked off, and the account is off test\n");
        return;
    }
    text_add_format(
            out, "\nnot accepted: %zu required test%s open", open, open == 1 ? " is" : "s are");
    const size_t last = accepting->acceptance.count - 1;
    text_add_string(out,
            accepting->course.progress[last].done || !accepting->course.progress[0].done
                    ? "\n"
                    : "; the account is still on test\n");
}

static void print(struct text text) {
    (void)fwrite(text.start, 1, text.length, stdout);
    (void)fflush(stdout);
}

static void print_list(struct accepting *accepting) {
    struct arena arena;
    struct text_builder out;
    const struct site *site = accepting->acceptance.site;
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    text_add_format(&out, "%.*s, account %.*s\n\n", TEXT_ARGS(site->name),
            TEXT_ARGS(site->station.account));
    for (size_t i = 0; i < accepting->acceptance.count; i++) {
        add_test(accepting, &out, i);
    }
    text_add_string(&out, accepting->course.said_count > 0 ? "\n" : "");
    for (size_t i = 0; i < accepting->course.said_count; i++) {
        struct text_builder words;
        text_builder_init(&words, &arena);
        acceptance_say(&accepting->acceptance, &accepting->course.said[i], &words);
        add_line(&out, "  !  ", text_built(&words), 5);
    }
    add_verdict(accepting, &out);
    print(text_built(&out));
    arena_finish(&arena);
}

static void add_json_test(struct accepting *accepting, struct json_writer *json, size_t test) {
    const struct acceptance_test *of = &accepting->acceptance.tests[test];
    const struct acceptance_progress *progress = &accepting->course.progress[test];
    json_open_object(json, NULL);
    json_add_text(json, "name", of->name);
    json_add_text(json, "says", of->says);
    json_add_bool(json, "required", of->required);
    json_add_string(json, "state", state_of(accepting, test));
    json_add_text(json, "by", progress->by);
    json_add_integer(json, "done_ms", progress->done_ms);
    json_open_array(json, "signals");
    for (size_t i = 0; i < of->signal_count; i++) {
        const struct acceptance_signal *signal = &of->signals[i];
        if (!signal->own) {
            continue;
        }
        json_open_object(json, NULL);
        json_add_string(json, "kind", event_kind_name((enum event_kind)signal->event.kind));
        json_add_bool(json, "end", signal->event.restore);
        json_add_integer(json, "from_s", of->steps[signal->of_step].at_s + signal->low_s);
        json_add_integer(json, "to_s", of->steps[signal->of_step].at_s + signal->high_s);
        json_add_integer(json, "id", progress->ids[i]);
        for (struct frame_of *frame = accepting->frames; frame != NULL; frame = frame->next) {
            if (frame->id == progress->ids[i] && (progress->seen >> i & 1U) != 0) {
                json_add_text(json, "frame", frame->frame);
                break;
            }
        }
        json_close_object(json);
    }
    json_close_array(json);
    json_close_object(json);
}

static void print_json(struct accepting *accepting) {
    struct arena arena;
    struct text_builder out;
    struct json_writer json;
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    json_init(&json, &out);
    json_open_object(&json, NULL);
    json_add_integer(&json, "format", FORMAT);
    json_add_text(&json, "site", accepting->acceptance.site->name);
    json_add_text(&json, "account", accepting->acceptance.site->station.account);
    json_open_array(&json, "tests");
    for (size_t i = 0; i < accepting->acceptance.count; i++) {
        add_json_test(accepting, &json, i);
    }
    json_close_array(&json);
    json_open_array(&json, "explained");
    for (size_t i = 0; i < accepting->course.said_count; i++) {
        struct text_builder words;
        text_builder_init(&words, &arena);
        acceptance_say(&accepting->acceptance, &accepting->course.said[i], &words);
        json_add_text(&json, NULL, text_built(&words));
    }
    json_close_array(&json);
    json_add_integer(&json, "open", (int64_t)acceptance_open(&accepting->course));
    json_add_bool(&json, "accepted", acceptance_open(&accepting->course) == 0);
    json_close_object(&json);
    text_add_char(&out, '\n');
    print(text_built(&out));
    arena_finish(&arena);
}

/* ---- feeding */

static void tell(struct accepting *accepting, const struct acceptance_said *said, size_t before) {
    struct arena arena;
    struct text_builder out;
    struct text_builder words;
    const size_t next = acceptance_next(&accepting->course);
    if (!accepting->live) {
        return;
    }
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    text_builder_init(&words, &arena);
    if (said != NULL) {
        acceptance_say(&accepting->acceptance, said, &words);
        add_line(&out, "  !  ", text_built(&words), 5);
    } else if (next != before) {
        add_test(accepting, &out, before);
        if (next < accepting->acceptance.count) {
            add_test(accepting, &out, next);
        } else {
            add_verdict(accepting, &out);
        }
    }
    print(text_built(&out));
    arena_finish(&arena);
}

static bool hear(void *context, const struct archive_signal *signal) {
    struct accepting *accepting = context;
    struct acceptance_heard heard[ACCEPTANCE_HEARD_MAX];
    const size_t count = acceptance_read(signal->data, heard);
    struct frame_of *frame = ARENA_NEW(&accepting->arena, struct frame_of);
    if (frame != NULL) {
        *frame = (struct frame_of){
                signal->id, text_copy(&accepting->arena, signal->frame), accepting->frames};
        accepting->frames = frame;
    }
    for (size_t i = 0; i < count; i++) {
        const size_t before = acceptance_next(&accepting->course);
        heard[i].id = signal->id;
        heard[i].received_ms = signal->received_ms;
        tell(accepting, acceptance_hear(&accepting->course, &heard[i]), before);
    }
    accepting->last_signal = signal->id;
    return true;
}

static size_t test_named(const struct accepting *accepting, struct text name) {
    size_t test = 0;
    while (test < accepting->acceptance.count &&
            !text_equal(accepting->acceptance.tests[test].name, name)) {
        test++;
    }
    return test;
}

/** Signals up to this one (0: all). */
static outcome hear_signals(
        struct accepting *accepting, int64_t up_to, struct problem *ret_problem) {
    struct archive_query query = {.after_id = accepting->last_signal,
            .account = accepting->acceptance.site->station.account};
    query.up_to_id = up_to;
    return archive_each(accepting->archive, query, hear, accepting, ret_problem);
}

/** An act, with the signals that came before it. "begin" forgets what was. */
static bool act(void *context, const struct archive_act *of) {
    struct accepting *accepting = context;
    const size_t before = acceptance_next(&accepting->course);
    accepting->last_act = of->id;
    if (text_is(of->act, "begin")) {
        accepting->begun = true;
        accepting->last_signal = of->after_signal;
        return acceptance_begin(&accepting->acceptance, accepting->any_order, &accepting->arena,
                &accepting->course, &accepting->problem)
                .good;
    }
    if (of->after_signal > accepting->last_signal &&
            !hear_signals(accepting, of->after_signal, &accepting->problem).good) {
        return false;
    }
    if (text_is(of->act, "now")) {
        acceptance_now(&accepting->course, of->at_ms);
        return true;
    }
    const size_t test = test_named(accepting, of->test);
    if (test < accepting->acceptance.count) {
        acceptance_hand(&accepting->course, test, text_copy(&accepting->arena, of->by), of->at_ms);
        tell(accepting, NULL, before);
    }
    return true;
}

static outcome feed(struct accepting *accepting, struct problem *ret_problem) {
    TRY(archive_each_act(accepting->archive, accepting->acceptance.site->name, accepting->last_act,
            act, accepting, ret_problem));
    if (accepting->problem.kind != PROBLEM_NONE) {
        *ret_problem = accepting->problem;
        return (outcome){.good = false};
    }
    return accepting->begun ? hear_signals(accepting, 0, ret_problem) : outcome_good();
}

static outcome add_act(struct accepting *accepting, const char *what, struct text test,
        const char *by, struct problem *ret_problem) {
    struct archive_act of = {.site = accepting->acceptance.site->name,
            .at_ms = now_ms(),
            .act = text_of(what),
            .test = test,
            .by = text_of(by)};
    return archive_add_act(accepting->archive, &of, ret_problem);
}

/* ---- by the person */

/** "" now; "ok NAME" ticks the next test off by hand; "list"; "quit" ends: false. */
static bool take_line(struct accepting *accepting, char *line, struct problem *ret_problem) {
    const size_t next = acceptance_next(&accepting->course);
    line[strcspn(line, "\n")] = '\0';
    if (strcmp(line, "quit") == 0) {
        return false;
    }
    if (strcmp(line, "list") == 0) {
        print_list(accepting);
    } else if (strncmp(line, "ok ", 3) == 0 && line[3] != '\0' &&
            next < accepting->acceptance.count) {
        return add_act(
                accepting, "hand", accepting->acceptance.tests[next].name, line + 3, ret_problem)
                .good;
    } else if (line[0] == '\0') {
        return add_act(accepting, "now", text_of(""), "", ret_problem).good;
    } else {
        (void)printf("Enter: I do it now; ok NAME: ticked off by hand; list; quit\n");
        (void)fflush(stdout);
    }
    return true;
}

static outcome follow(struct accepting *accepting, struct problem *ret_problem) {
    char line[LINE_ROOM];
    accepting->live = true;
    /* What poll does not see must not wait in a buffer. */
    (void)setvbuf(stdin, NULL, _IONBF, 0);
    (void)printf("Enter: I do it now; ok NAME: ticked off by hand; list; quit\n\n");
    (void)fflush(stdout);
    for (bool more = true; more && acceptance_open(&accepting->course) > 0;) {
        struct pollfd input = {.fd = STDIN_FILENO, .events = POLLIN};
        TRY(feed(accepting, ret_problem));
        if (poll(&input, 1, POLL_MS) > 0) {
            more = fgets(line, sizeof line, stdin) != NULL &&
                    take_line(accepting, line, ret_problem);
        }
    }
    return ret_problem->kind == PROBLEM_NONE ? feed(accepting, ret_problem)
                                             : (outcome){.good = false};
}

static outcome begin(struct accepting *accepting, struct problem *ret_problem) {
    const struct site *site = &accepting->site.document.site;
    if (site->station.account.length == 0) {
        FAIL(ret_problem, PROBLEM_MISSING, "panel",
                "the site has no account: write account: \"1234\" under panel");
    }
    TRY(acceptance_make(site, &accepting->arena, &accepting->acceptance, ret_problem));
    TRY(acceptance_begin(&accepting->acceptance, accepting->any_order, &accepting->arena,
            &accepting->course, ret_problem));
    TRY(archive_open(accepting->archive_path, ARCHIVE_NEW, &accepting->archive, ret_problem));
    TRY(feed(accepting, ret_problem));
    if (!accepting->begun || accepting->begin) {
        TRY(add_act(accepting, "begin", text_of(""), "", ret_problem));
        TRY(feed(accepting, ret_problem));
    }
    return outcome_good();
}

static outcome tick_by_hand(struct accepting *accepting, const struct cli_command *command,
        bool *ret_known, struct problem *ret_problem) {
    *ret_known = true;
    if (accepting->hand == NULL) {
        return outcome_good();
    }
    const size_t test = test_named(accepting, text_of(accepting->hand));
    if (test == accepting->acceptance.count) {
        (void)cli_misused(
                command, "there is no test \"%s\"; the list has their names", accepting->hand);
        *ret_known = false;
        return outcome_good();
    }
    TRY(add_act(accepting, "hand", text_of(accepting->hand), accepting->by, ret_problem));
    return feed(accepting, ret_problem);
}

static int finish(struct accepting *accepting, int status) {
    archive_close(accepting->archive);
    arena_finish(&accepting->arena);
    cli_site_finish(&accepting->site);
    return status;
}

static int accept_site(
        const struct cli_command *command, struct accepting *accepting, const char *path) {
    struct problem problem = {0};
    bool known = true;
    arena_init(&accepting->arena, host_pages(), 0);
    if (!cli_site_read(&accepting->site, path)) {
        return finish(accepting, CLI_UNREADABLE);
    }
    outcome result = begin(accepting, &problem);
    if (result.good) {
        result = tick_by_hand(accepting, command, &known, &problem);
    }
    if (result.good && known && !accepting->once) {
        print_list(accepting);
        result = follow(accepting, &problem);
    }
    if (!result.good) {
        return finish(accepting, cli_site_refused(&accepting->site, &problem));
    }
    if (!known) {
        return finish(accepting, CLI_UNREADABLE);
    }
    if (accepting->json) {
        print_json(accepting);
    } else if (accepting->once) {
        print_list(accepting);
    }
    return finish(accepting, acceptance_open(&accepting->course) == 0 ? CLI_GOOD : CLI_FAULTS);
}

static bool take_option(struct accepting *accepting, int option) {
    switch (option) {
    case ARCHIVE:
        accepting->archive_path = optarg;
        return true;
    case ONCE:
        accepting->once = true;
        return true;
    case ANY_ORDER:
        accepting->any_order = true;
        return true;
    case HAND:
        accepting->hand = optarg;
        return true;
    case BY:
        accepting->by = optarg;
        return true;
    case BEGIN:
        accepting->begin = true;
        return true;
    case JSON:
        accepting->json = true;
        accepting->once = true;
        return true;
    default:
        return false;
    }
}

static int run(const struct cli_command *command, int argc, char **argv) {
    struct accepting accepting = {0};
    optind = 0;
    for (int option = cli_next_option(command, argc, argv, options); option != -1;
            option = cli_next_option(command, argc, argv, options)) {
        if (!take_option(&accepting, option)) {
            return option == CLI_HELP ? CLI_GOOD : CLI_UNREADABLE;
        }
    }
    if (optind + 1 != argc) {
        return cli_misused(command, "which site file? One is taken");
    }
    if (accepting.archive_path == NULL) {
        return cli_misused(command, "--archive FILE says where lintel listen stores the signals");
    }
    if ((accepting.hand == NULL) != (accepting.by == NULL)) {
        return cli_misused(
                command, "--hand TEST goes with --by NAME: who saw it, or had it read back");
    }
    return accept_site(command, &accepting, argv[optind]);
}

const struct cli_command cli_accept = {
        .name = "accept",
        .takes = "SITE --archive FILE",
        .answers = "what each test must bring, ticked off as the signals arrive",
        .help = "  --archive FILE  where lintel listen stores the panel's signals\n"
                "  --once          says how far it is, and ends; else it goes on until all is\n"
                "                  ticked off, and takes lines: Enter (I do it now: from then on\n"
                "                  late is told), ok NAME (ticked off by hand), list, quit\n"
                "  --hand TEST     ticks a test off by hand, with --by NAME: who saw it, or had\n"
                "                  the operator read it back\n"
                "  --any-order     zones may come in any order; else only the next one counts\n"
                "  --begin         forgets what was ticked off, and begins anew\n"
                "  --json          for programs (docs/json.md); with --once\n"
                "  --help          this page\n\n"
                "Interrupted, it goes on where it was. Put the account on test before, and take\n"
                "it off after: until then the site is not accepted. Exit status: 0 accepted,\n"
                "1 not yet, 2 something cannot be read or written.\n",
        .run = run,
};
