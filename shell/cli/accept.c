#include "acceptance/say.h"
#include "accepting/pasted.h"
#include "cli/cli.h"
#include "host/host.h"

#include <poll.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

enum { DAY_S = 86400, HOUR_S = 3600, MINUTE_S = 60, PASTED_HANG = 11, PASTE_BYTES_MOST = 1 << 20 };
enum { POLL_MS = 200, LINE_ROOM = 256 };

enum option_name { ARCHIVE = 1, ONCE, ANY_ORDER, HAND, NO, PASTE, BY, BEGIN, JSON };

static const struct option options[] = {
        {"archive", required_argument, NULL, ARCHIVE},
        {"once", no_argument, NULL, ONCE},
        {"any-order", no_argument, NULL, ANY_ORDER},
        {"hand", required_argument, NULL, HAND},
        {"no", required_argument, NULL, NO},
        {"paste", required_argument, NULL, PASTE},
        {"by", required_argument, NULL, BY},
        {"begin", no_argument, NULL, BEGIN},
        {"json", no_argument, NULL, JSON},
        {"help", no_argument, NULL, 'h'},
        {NULL, 0, NULL, 0},
};

/** What was typed, and where acceptance stands. */
struct accepting_command {
    const char *archive_path;
    const char *hand;
    bool no; /* what is named is answered with no */
    const char *paste;
    const char *by;
    bool once;
    bool any_order;
    bool begin;
    bool json;
    struct cli_site site;
    struct accepting *accepting;
    const struct acceptance *list;
    const struct acceptance_course *course;
};

static void add_line(struct text_builder *out, const char *label, struct text words, size_t hang) {
    struct layout layout = {.out = out, .width = LAYOUT_WIDTH};
    layout_put_string(&layout, label, LAYOUT_PLAIN);
    layout_to(&layout, hang);
    layout_words(&layout, words, hang, LAYOUT_PLAIN);
    layout_end_line(&layout);
}

static void add_test(const struct accepting_command *given, struct text_builder *out, size_t test) {
    const struct acceptance_test *of = &given->list->tests[test];
    const struct acceptance_progress *progress = &given->course->progress[test];
    struct text_builder words;
    struct text_builder label;
    text_builder_init(&words, out->arena);
    text_builder_init(&label, out->arena);
    text_add_format(&label, "%-9s  ", accepting_state(given->accepting, test));
    text_add_format(&words, "%.*s: %.*s", TEXT_ARGS(of->name), TEXT_ARGS(of->says));
    const char *answer = acceptance_answer(of->kind, progress->done);
    if (progress->by.length > 0) {
        text_add_format(&words, " (%s: %.*s)", answer == NULL ? "by hand" : answer,
                TEXT_ARGS(progress->by));
    } else if (acceptance_waits(given->course, test)) {
        text_add_string(&words, " (the alarm came, its end did not yet)");
    } else if (!progress->done && !of->by_hand && of->signal_count > 0) {
        text_add_string(&words, " (awaited: ");
        acceptance_say_awaited(of, &words);
        text_add_string(&words, ")");
    } else if (!progress->done && of->by_hand && of->kind == ACCEPTANCE_ZONE) {
        text_add_string(&words, " (reports nothing: look at the panel, tick it off by hand)");
    } else if (answer != NULL) {
        text_add_string(&words, " (a person says so: ok or no, with a name)");
    }
    add_line(out, text_built(&label).start, text_built(&words), 11);
}

static void add_verdict(struct accepting_command *given, struct text_builder *out) {
    const size_t open = acceptance_open(given->course);
    if (open == 0) {
        text_add_format(out,
                "\naccepted: every required test is ticked off, and the account is off test\n");
        return;
    }
    text_add_format(
            out, "\nnot accepted: %zu required test%s open", open, open == 1 ? " is" : "s are");
    const size_t last = given->list->count - 1;
    text_add_string(out,
            given->course->progress[last].done || !given->course->progress[0].done
                    ? "\n"
                    : "; the account is still on test\n");
}

static void print(struct text text) {
    (void)fwrite(text.start, 1, text.length, stdout);
    (void)fflush(stdout);
}

static void print_list(struct accepting_command *given) {
    struct arena arena;
    struct text_builder out;
    const struct site *site = given->list->site;
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    text_add_format(
            &out, "%.*s, account %.*s", TEXT_ARGS(site->name), TEXT_ARGS(site->station.account));
    if (given->course->prefix_known && given->course->prefix != 0) {
        text_add_format(&out, ", prefix %X", given->course->prefix);
    }
    text_add_string(&out, "\n\n");
    for (size_t i = 0; i < given->list->count; i++) {
        add_test(given, &out, given->course->order[i]);
    }
    text_add_string(&out, given->course->said_count > 0 ? "\n" : "");
    for (size_t i = 0; i < given->course->said_count; i++) {
        struct text_builder words;
        text_builder_init(&words, &arena);
        acceptance_say(given->list, &given->course->said[i], &words);
        add_line(&out, "  !  ", text_built(&words), 5);
    }
    add_verdict(given, &out);
    print(text_built(&out));
    arena_finish(&arena);
}

static void print_json(struct accepting_command *given) {
    struct arena arena;
    struct text_builder out;
    struct json_writer json;
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    json_init(&json, &out);
    json_open_object(&json, NULL);
    accepting_add_json(given->accepting, &json);
    json_close_object(&json);
    text_add_char(&out, '\n');
    print(text_built(&out));
    arena_finish(&arena);
}

/* ---- feeding */

static void tell(void *context, const struct acceptance_said *said, size_t before) {
    struct accepting_command *given = context;
    struct arena arena;
    struct text_builder out;
    struct text_builder words;
    const size_t next = acceptance_next(given->course);
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    text_builder_init(&words, &arena);
    if (said != NULL) {
        acceptance_say(given->list, said, &words);
        add_line(&out, "  !  ", text_built(&words), 5);
    } else if (next != before) {
        if (before < given->list->count) {
            add_test(given, &out, before);
        }
        if (next < given->list->count) {
            add_test(given, &out, next);
        } else {
            add_verdict(given, &out);
        }
    }
    print(text_built(&out));
    arena_finish(&arena);
}

static outcome feed(struct accepting_command *given, bool live, struct problem *ret_problem) {
    const struct accepting_listener listener = {.tell = live ? tell : NULL, .context = given};
    return accepting_feed(given->accepting, listener, NULL, ret_problem);
}

static outcome act(struct accepting_command *given, const char *what, struct text test,
        const char *by, struct problem *ret_problem) {
    return accepting_do(given->accepting,
            (struct accepting_act){.act = what, .test = test, .by = text_of(by)}, ret_problem);
}

/* ---- by the person */

static const char usage[] =
        "Enter: I do it now; ok NAME: ticked off by hand, or a question's yes;\n"
        "no NAME: a question's no; later: puts it off; back TEST: takes either\n"
        "back; list; quit\n";

/** What begins a line, and what is done then; of_next: to the test that is next; more: something follows, the name of
 *  whoever saw it, or of a test. */
static const struct {
    const char *begins;
    const char *act;
    bool of_next;
    bool more;
} lines[] = {
        {"ok ", ACCEPTING_HAND, true, true},
        {"no ", ACCEPTING_NO, true, true},
        {"later", ACCEPTING_LATER, true, false},
        {"back ", ACCEPTING_BACK, false, true},
        {"", ACCEPTING_NOW, false, false},
};

/** A line that somebody typed; "quit" ends: false. */
static bool take_line(struct accepting_command *given, char *line, struct problem *ret_problem) {
    const size_t next = acceptance_next(given->course);
    line[strcspn(line, "\n")] = '\0';
    if (strcmp(line, "quit") == 0) {
        return false;
    }
    if (strcmp(line, "list") == 0) {
        print_list(given);
        return true;
    }
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        const size_t length = strlen(lines[i].begins);
        if (strncmp(line, lines[i].begins, length) != 0 ||
                (line[length] != '\0') != lines[i].more) {
            continue;
        }
        const struct text rest = text_of(line + length);
        struct text test = lines[i].more ? rest : text_of("");
        if (lines[i].of_next) {
            test = next < given->list->count ? given->list->tests[next].name : text_of("");
        }
        if (lines[i].more && !lines[i].of_next &&
                accepting_test(given->accepting, rest) == given->list->count) {
            break;
        }
        return act(given, lines[i].act, test,
                lines[i].of_next && lines[i].more ? line + length : "", ret_problem)
                .good;
    }
    (void)fputs(usage, stdout);
    (void)fflush(stdout);
    return true;
}

static outcome follow(struct accepting_command *given, struct problem *ret_problem) {
    char line[LINE_ROOM];
    /* What poll does not see must not wait in a buffer. */
    (void)setvbuf(stdin, NULL, _IONBF, 0);
    (void)printf("%s\n", usage);
    (void)fflush(stdout);
    for (bool more = true; more && acceptance_open(given->course) > 0;) {
        struct pollfd input = {.fd = STDIN_FILENO, .events = POLLIN};
        TRY(feed(given, true, ret_problem));
        if (poll(&input, 1, POLL_MS) > 0) {
            more = fgets(line, sizeof line, stdin) != NULL && take_line(given, line, ret_problem);
        }
    }
    return ret_problem->kind == PROBLEM_NONE ? feed(given, true, ret_problem)
                                             : (outcome){.good = false};
}

static outcome begin(struct accepting_command *given, struct problem *ret_problem) {
    TRY(accepting_open(&given->site.document.site, given->archive_path, given->any_order,
            &given->accepting, ret_problem));
    given->list = accepting_list(given->accepting);
    given->course = accepting_course(given->accepting);
    TRY(feed(given, false, ret_problem));
    if (!accepting_begun(given->accepting) || given->begin) {
        TRY(act(given, ACCEPTING_BEGIN, text_of(""), "", ret_problem));
        TRY(feed(given, false, ret_problem));
    }
    return outcome_good();
}

static outcome tick_by_hand(struct accepting_command *given, const struct cli_command *command,
        bool *ret_known, struct problem *ret_problem) {
    *ret_known = true;
    if (given->hand == NULL) {
        return outcome_good();
    }
    if (accepting_test(given->accepting, text_of(given->hand)) == given->list->count) {
        (void)cli_misused(
                command, "there is no test \"%s\"; the list has their names", given->hand);
        *ret_known = false;
        return outcome_good();
    }
    TRY(act(given, given->no ? ACCEPTING_NO : ACCEPTING_HAND, text_of(given->hand), given->by,
            ret_problem));
    return feed(given, false, ret_problem);
}

/* ---- a station's list */

static void print_pasted(const struct pasted *pasted, struct arena *arena) {
    struct text_builder out;
    text_builder_init(&out, arena);
    for (size_t i = 0; i < pasted->count; i++) {
        const struct pasted_line *line = &pasted->lines[i];
        const bool taken = line->read.why.length == 0;
        struct text_builder label;
        text_builder_init(&label, arena);
        text_add_format(&label, "line %-4zu  ", line->read.number);
        if (taken) {
            const int32_t second = (int32_t)(line->read.local_s % DAY_S);
            add_line(&out, text_built(&label).start,
                    text_print(arena, "%02d:%02d:%02d  %.*s", second / HOUR_S,
                            second % HOUR_S / MINUTE_S, second % MINUTE_S, TEXT_ARGS(line->says)),
                    PASTED_HANG);
        } else {
            add_line(&out, text_built(&label).start,
                    text_print(arena, "not taken: %.*s", TEXT_ARGS(line->read.why)), PASTED_HANG);
        }
    }
    print(text_built(&out));
}

/** Shows what a pasted list is understood as; with a name it is stored and counts. */
static outcome paste(struct accepting_command *given, struct problem *ret_problem) {
    struct arena arena;
    struct text content = {0};
    struct pasted pasted = {0};
    size_t added = 0;
    arena_init(&arena, host_pages(), 0);
    outcome done = host_read_file(given->paste, PASTE_BYTES_MOST, &arena, &content, ret_problem);
    if (done.good) {
        done = pasted_read(given->accepting, content, &arena, &pasted, ret_problem);
    }
    if (done.good && !given->json) {
        print_pasted(&pasted, &arena);
    }
    if (done.good && given->by != NULL) {
        done = pasted_store(
                given->accepting, &pasted, text_of(given->by), &arena, &added, ret_problem);
    }
    if (done.good && !given->json) {
        (void)printf("\n%zu of %zu lines understood", pasted.taken, pasted.count);
        (void)printf(given->by == NULL ? "; nothing is stored yet: add --by NAME\n\n"
                                       : ", %zu of them new\n\n",
                added);
    }
    arena_finish(&arena);
    return done.good ? feed(given, false, ret_problem) : done;
}

static int finish(struct accepting_command *given, int status) {
    accepting_close(given->accepting);
    cli_site_finish(&given->site);
    return status;
}

static int accept_site(
        const struct cli_command *command, struct accepting_command *given, const char *path) {
    struct problem problem = {0};
    bool known = true;
    if (!cli_site_read(&given->site, path)) {
        return finish(given, CLI_UNREADABLE);
    }
    outcome result = begin(given, &problem);
    if (result.good) {
        result = tick_by_hand(given, command, &known, &problem);
    }
    if (result.good && given->paste != NULL) {
        given->once = true;
        result = paste(given, &problem);
    }
    if (result.good && known && !given->once) {
        print_list(given);
        result = follow(given, &problem);
    }
    if (!result.good) {
        return finish(given, cli_site_refused(&given->site, &problem));
    }
    if (!known) {
        return finish(given, CLI_UNREADABLE);
    }
    if (given->json) {
        print_json(given);
    } else if (given->once) {
        print_list(given);
    }
    return finish(given, acceptance_open(given->course) == 0 ? CLI_GOOD : CLI_FAULTS);
}

static bool take_option(struct accepting_command *given, int option) {
    switch (option) {
    case ARCHIVE:
        given->archive_path = optarg;
        return true;
    case ONCE:
        given->once = true;
        return true;
    case ANY_ORDER:
        given->any_order = true;
        return true;
    case HAND:
    case NO:
        given->hand = optarg;
        given->no = option == NO;
        return true;
    case PASTE:
        given->paste = optarg;
        return true;
    case BY:
        given->by = optarg;
        return true;
    case BEGIN:
        given->begin = true;
        return true;
    case JSON:
        given->json = true;
        given->once = true;
        return true;
    default:
        return false;
    }
}

static int run(const struct cli_command *command, int argc, char **argv) {
    struct accepting_command given = {0};
    optind = 0;
    for (int option = cli_next_option(command, argc, argv, options); option != -1;
            option = cli_next_option(command, argc, argv, options)) {
        if (!take_option(&given, option)) {
            return option == CLI_HELP ? CLI_GOOD : CLI_UNREADABLE;
        }
    }
    if (optind + 1 != argc) {
        return cli_misused(command, "which site file? One is taken");
    }
    if (given.archive_path == NULL) {
        return cli_misused(command, "--archive FILE says where lintel listen stores the signals");
    }
    if (given.hand != NULL && given.paste != NULL) {
        return cli_misused(command, "--hand and --paste one after the other");
    }
    if (given.hand == NULL ? given.paste == NULL && given.by != NULL : given.by == NULL) {
        return cli_misused(
                command, "--hand TEST goes with --by NAME: who saw it, or had it read back");
    }
    return accept_site(command, &given, argv[optind]);
}

const struct cli_command cli_accept = {
        .name = "accept",
        .takes = "SITE --archive FILE",
        .answers = "what each test must bring, ticked off as the signals arrive",
        .help = "  --archive FILE  where lintel listen stores the panel's signals\n"
                "  --once          says how far it is, and ends; else it goes on until all is\n"
                "                  ticked off, and takes lines: Enter (I do it now: from then on\n"
                "                  late is told), ok NAME (ticked off by hand), no NAME (a\n"
                "                  question's no), later (put off to the end), back TEST\n"
                "                  (either taken back), list, quit\n"
                "  --hand TEST     ticks a test off by hand, with --by NAME: who saw it, or had\n"
                "                  the operator read it back\n"
                "  --no TEST       answers a question with no (the siren is not heard there),\n"
                "                  with --by NAME; it stays open\n"
                "  --paste FILE    what the station received, its list in a file (- is the\n"
                "                  standard input): shows what is understood; with --by NAME,\n"
                "                  who had it from the station, it is stored and counts\n"
                "  --any-order     zones may come in any order; else only the next one counts\n"
                "  --begin         forgets what was ticked off, and begins anew\n"
                "  --json          for programs (docs/json.md); with --once\n"
                "  --help          this page\n\n"
                "Interrupted, it goes on where it was. Put the account on test before, and take\n"
                "it off after: until then the site is not accepted. Exit status: 0 accepted,\n"
                "1 not yet, 2 something cannot be read or written.\n",
        .run = run,
};
