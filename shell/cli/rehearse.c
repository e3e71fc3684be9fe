#include "acceptance/say.h"
#include "acceptance/tests.h"
#include "cli/cli.h"
#include "cli/rehearse_course.h"
#include "cli/rehearse_play.h"
#include "host/host.h"
#include "sender/sender.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum option_name { TO = 1, KEYS, UDP, SIA, SPEED, ONLY, PACE, TODAY, LINES };

static const struct option options[] = {
        {"to", required_argument, NULL, TO},
        {"keys", required_argument, NULL, KEYS},
        {"udp", no_argument, NULL, UDP},
        {"sia", no_argument, NULL, SIA},
        {"speed", required_argument, NULL, SPEED},
        {"only", required_argument, NULL, ONLY},
        {"lines", required_argument, NULL, LINES},
        {"pace", required_argument, NULL, PACE},
        {"today", required_argument, NULL, TODAY},
        {"help", no_argument, NULL, 'h'},
        {NULL, 0, NULL, 0},
};

/** What was typed, and the panel that is played. */
struct rehearsing {
    const char *to;
    char address[256]; /* the same, cut apart */
    const char *keys_path;
    const char *only;
    const char *lines_path;        /* of what is typed by hand */
    struct rehearse_wanted wanted; /* a course by its name; without one the tests are played */
    bool udp;
    bool sia;
    double speed; /* 0: as fast as the receiver acknowledges */
    struct cli_site site;
    struct arena arena;
    struct key_file keys;
    struct acceptance acceptance;
    struct panel_program program;
    struct player *player;
    struct sender *sender;
    const struct acceptance_test *test;
    struct problem problem;
    int32_t played_s; /* how far the test has come, on the clock of the panel */
    int64_t off_s;    /* of the receiver's clock, as it was told */
    size_t sent;
};

/** Lets the wall clock go on to an instant of the panel's. The hours of a device's silence are passed over. */
static void wait_until(struct rehearsing *rehearsing, int32_t instant_s) {
    const bool waits = rehearsing->speed > 0 && rehearsing->test->kind != ACCEPTANCE_SUPERVISION;
    const double wait_s = waits ? (instant_s - rehearsing->played_s) / rehearsing->speed : 0;
    if (wait_s > 0) {
        const struct timespec pause = {
                (time_t)wait_s, (long)((wait_s - (double)(time_t)wait_s) * 1e9)};
        (void)nanosleep(&pause, NULL);
    }
    rehearsing->played_s = instant_s > rehearsing->played_s ? instant_s : rehearsing->played_s;
}

static void send_event(struct rehearsing *rehearsing, int32_t now_s, struct event event) {
    struct text_builder words;
    const struct text data = acceptance_data(
            &rehearsing->acceptance, rehearsing->test, event, rehearsing->sia, &rehearsing->arena);
    text_builder_init(&words, &rehearsing->arena);
    acceptance_say_event(event, &words);
    if (data.length == 0) {
        (void)printf("  %5d s  %.*s: the format has no code for it; not sent\n", now_s,
                TEXT_ARGS(text_built(&words)));
        return;
    }
    if (!sender_send(rehearsing->sender, rehearsing->sia ? FRAME_TOKEN_SIA : FRAME_TOKEN_CONTACT_ID,
                data, &rehearsing->problem)
                    .good) {
        return;
    }
    rehearsing->sent++;
    (void)printf("  %5d s  %.*s  (%.*s)\n", now_s, TEXT_ARGS(text_built(&words)), TEXT_ARGS(data));
    rehearse_say_clock(sender_off_s(rehearsing->sender), &rehearsing->off_s);
    (void)fflush(stdout);
}

static void hear(void *context, int32_t now_s, const struct panel_input *input,
        const struct panel_output *output) {
    struct rehearsing *rehearsing = context;
    (void)input;
    if (output->kind == PANEL_OUT_SIGNAL && rehearsing->problem.kind == PROBLEM_NONE) {
        wait_until(rehearsing, now_s);
        send_event(rehearsing, now_s, output->event);
    }
}

/** Plays one test: its steps at their instants, the signals as they come. */
static void play(struct rehearsing *rehearsing, const struct acceptance_test *test) {
    const struct player_hooks hooks = {.hear = hear, .context = rehearsing};
    const struct panel_zones none = {{0, 0}};
    rehearsing->test = test;
    rehearsing->played_s = 0;
    (void)printf("%.*s: %.*s\n", TEXT_ARGS(test->name), TEXT_ARGS(test->says));
    player_begin(rehearsing->player, &rehearsing->program, test->starts, &none, 0, hooks);
    for (size_t i = 0; i < test->step_count && rehearsing->problem.kind == PROBLEM_NONE; i++) {
        player_advance_to(rehearsing->player, test->steps[i].at_s);
        wait_until(rehearsing, test->steps[i].at_s);
        player_input(rehearsing->player, test->steps[i].input);
    }
    if (rehearsing->problem.kind == PROBLEM_NONE) {
        player_advance_to(rehearsing->player, test->over_s);
    }
}

static void send_report(struct rehearsing *rehearsing) {
    const struct text account = rehearsing->acceptance.site->station.account;
    const struct text data = text_print(&rehearsing->arena, "#%.*s|%s", TEXT_ARGS(account),
            rehearsing->sia ? "NRX" : "1601 00 000");
    (void)printf("report: a test report\n");
    rehearsing->sent += sender_send(rehearsing->sender,
            rehearsing->sia ? FRAME_TOKEN_SIA : FRAME_TOKEN_CONTACT_ID, data, &rehearsing->problem)
                                .good;
}

static outcome rehearse(struct rehearsing *rehearsing, struct problem *ret_problem) {
    const char *only = rehearsing->only;
    bool any = false;
    for (size_t i = 0; i < rehearsing->acceptance.count && rehearsing->problem.kind == PROBLEM_NONE;
            i++) {
        const struct acceptance_test *test = &rehearsing->acceptance.tests[i];
        if (only != NULL && !text_is(test->name, only)) {
            continue;
        }
        any = true;
        if (test->kind == ACCEPTANCE_REPORT) {
            send_report(rehearsing);
        } else if (test->step_count > 0) {
            play(rehearsing, test);
        }
    }
    if (!any) {
        FAIL(ret_problem, PROBLEM_MISSING, "",
                "there is no test \"%.60s\": lintel accept lists them", only);
    }
    if (rehearsing->problem.kind != PROBLEM_NONE) {
        *ret_problem = rehearsing->problem;
        return (outcome){.good = false};
    }
    (void)printf("%zu signals sent, each acknowledged\n", rehearsing->sent);
    return outcome_good();
}

/** "127.0.0.1:7700", "[::1]:7700": host and port, cut apart in place. */
static bool cut_address(char *address, const char **ret_host, const char **ret_port) {
    char *colon = strrchr(address, ':');
    if (colon == NULL || colon == address || colon[1] == '\0') {
        return false;
    }
    *colon = '\0';
    *ret_port = colon + 1;
    *ret_host = address;
    const size_t length = strlen(address);
    if (address[0] == '[' && length > 2 && address[length - 1] == ']') {
        address[length - 1] = '\0';
        *ret_host = address + 1;
    }
    return true;
}

/** The site's account: with the key of the key file, or in clear. */
static outcome find_account(
        struct rehearsing *rehearsing, struct account *ret_account, struct problem *ret_problem) {
    const struct text digits = rehearsing->site.document.site.station.account;
    if (digits.length < ACCOUNT_DIGITS_MIN || digits.length > ACCOUNT_DIGITS_MAX) {
        FAIL(ret_problem, PROBLEM_MISSING, "panel",
                "the site has no account of 3 to 16 digits: write account: \"1234\" under panel");
    }
    *ret_account = (struct account){.digit_count = (uint8_t)digits.length};
    memcpy(ret_account->digits, digits.start, digits.length);
    if (rehearsing->keys_path == NULL) {
        return outcome_good();
    }
    TRY(key_file_read(rehearsing->keys_path, &rehearsing->keys, ret_problem));
    const struct account *found = accounts_find(&rehearsing->keys.accounts, text_of("0"), digits);
    if (found == NULL) {
        FAIL(ret_problem, PROBLEM_MISSING, "", "%.120s has no line for account %.*s",
                rehearsing->keys_path, TEXT_ARGS(digits));
    }
    *ret_account = *found;
    return outcome_good();
}

static outcome connect(struct rehearsing *rehearsing, struct problem *ret_problem) {
    struct sender_options sending = {.udp = rehearsing->udp, .tries = 3, .wait_ms = 5000};
    (void)snprintf(rehearsing->address, sizeof rehearsing->address, "%s", rehearsing->to);
    if (!cut_address(rehearsing->address, &sending.host, &sending.port)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "--to is ADDRESS:PORT, such as 127.0.0.1:7700");
    }
    TRY(find_account(rehearsing, &sending.account, ret_problem));
    return sender_create(&sending, &rehearsing->sender, ret_problem);
}

static outcome prepare(struct rehearsing *rehearsing, struct problem *ret_problem) {
    const struct site *site = &rehearsing->site.document.site;
    TRY(acceptance_make(site, &rehearsing->arena, &rehearsing->acceptance, ret_problem));
    TRY(panel_program_of_site(site, NULL, &rehearsing->program, ret_problem));
    rehearsing->player = ARENA_NEW(&rehearsing->arena, struct player);
    if (rehearsing->player == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to play the panel");
    }
    return connect(rehearsing, ret_problem);
}

/** Does the acceptance tests. */
static int run_tests(struct rehearsing *rehearsing) {
    struct problem problem = {0};
    outcome result = prepare(rehearsing, &problem);
    if (result.good) {
        result = rehearse(rehearsing, &problem);
    }
    return result.good ? CLI_GOOD : cli_site_refused(&rehearsing->site, &problem);
}

static int end_status(const struct rehearse_sum *sum) {
    (void)printf("%zu signals sent, each acknowledged\n", sum->sent);
    if (sum->waiting > 0) {
        (void)printf("%zu more wait in the panel: nobody has acknowledged them\n", sum->waiting);
    }
    return sum->interrupted ? CHECK_EXIT_STOPPED : sum->waiting > 0 ? CLI_UNREADABLE : CLI_GOOD;
}

/** Plays a course of the site, until it is over. */
static int play_course(struct rehearsing *rehearsing, const struct site *site,
        const struct rehearsal_course *course, struct typist *typist) {
    struct rehearsal *rehearsal = ARENA_NEW(&rehearsing->arena, struct rehearsal);
    struct problem problem = {.kind = PROBLEM_MEMORY, .text = "no memory for a rehearsal"};
    struct rehearse_sum sum;
    outcome done = {.good = rehearsal != NULL};
    if (done.good) {
        done = rehearsal_begin(site, course, &rehearsing->arena, rehearsal, &problem);
    }
    if (done.good) {
        done = connect(rehearsing, &problem);
    }
    if (done.good) {
        done = rehearse_play(&(struct rehearse_play){.site = site,
                                     .rehearsal = rehearsal,
                                     .sender = rehearsing->sender,
                                     .sia = rehearsing->sia,
                                     .speed = rehearsing->speed,
                                     .typist = typist,
                                     .arena = &rehearsing->arena},
                &sum, &problem);
    }
    return done.good ? end_status(&sum) : cli_site_refused(&rehearsing->site, &problem);
}

/** A routine or a break-in. */
static int run_course(struct rehearsing *rehearsing) {
    struct rehearsal_course course;
    struct crew crew;
    crew_init(&crew, 1, host_pages());
    int status = rehearse_find_course(&rehearsing->site, &rehearsing->wanted, &crew, &course);
    if (status == CLI_GOOD) {
        status = play_course(rehearsing, &rehearsing->site.document.site, &course, NULL);
    }
    crew_finish(&crew);
    return status;
}

/** What is typed. */
static int run_lines(struct rehearsing *rehearsing) {
    struct typist *typist = ARENA_NEW(&rehearsing->arena, struct typist);
    struct problem problem = {.kind = PROBLEM_MEMORY, .text = "no memory for a rehearsal"};
    if (typist == NULL) {
        return cli_site_refused(&rehearsing->site, &problem);
    }
    int status = typist_begin(&rehearsing->site.document.site, rehearsing->lines_path,
                         &rehearsing->arena, typist, &problem)
                         .good
            ? CLI_GOOD
            : cli_refused(NULL, &problem);
    if (status == CLI_GOOD && typist->terminal) {
        (void)printf("type what happens; help lists what can be typed, Ctrl-D ends\n");
    }
    if (status == CLI_GOOD) {
        status = play_course(rehearsing, &typist->typed.site, &typist->course, typist);
        status = status == CLI_GOOD && typist->misread > 0 && !typist->terminal ? CLI_UNREADABLE
                                                                                : status;
    }
    typist_finish(typist);
    return status;
}

static int run_site(struct rehearsing *rehearsing, const char *path) {
    int status = CLI_UNREADABLE;
    arena_init(&rehearsing->arena, host_pages(), 0);
    if (cli_site_read(&rehearsing->site, path)) {
        status = rehearsing->lines_path != NULL   ? run_lines(rehearsing)
                : rehearsing->wanted.name != NULL ? run_course(rehearsing)
                                                  : run_tests(rehearsing);
    }
    sender_destroy(rehearsing->sender);
    key_file_finish(&rehearsing->keys);
    arena_finish(&rehearsing->arena);
    cli_site_finish(&rehearsing->site);
    return status;
}

static bool read_speed(const struct cli_command *command, const char *word, double *ret_speed) {
    char *end = NULL;
    const long number = strtol(word, &end, 10);
    if (*end != '\0' || end == word || number < 0 || number > 1000000) {
        (void)cli_misused(
                command, "--speed is a whole number from 0 (as fast as it goes), not \"%s\"", word);
        return false;
    }
    *ret_speed = (double)number;
    return true;
}

static bool take_option(
        const struct cli_command *command, struct rehearsing *rehearsing, int option) {
    switch (option) {
    case TO:
        rehearsing->to = optarg;
        return true;
    case KEYS:
        rehearsing->keys_path = optarg;
        return true;
    case UDP:
        rehearsing->udp = true;
        return true;
    case SIA:
        rehearsing->sia = true;
        return true;
    case SPEED:
        return read_speed(command, optarg, &rehearsing->speed);
    case ONLY:
        rehearsing->only = optarg;
        return true;
    case LINES:
        rehearsing->lines_path = optarg;
        return true;
    case PACE:
        rehearsing->wanted.paced = true;
        return cli_read_pace(command, optarg, &rehearsing->wanted.pace);
    case TODAY:
        return cli_read_today(command, optarg, &rehearsing->wanted.today_day);
    default:
        return false;
    }
}

static int run(const struct cli_command *command, int argc, char **argv) {
    struct rehearsing rehearsing = {
            .speed = 1, .wanted = {.pace = PROOF_MIDDLING, .today_day = host_today()}};
    optind = 0;
    for (int option = cli_next_option(command, argc, argv, options); option != -1;
            option = cli_next_option(command, argc, argv, options)) {
        if (!take_option(command, &rehearsing, option)) {
            return option == CLI_HELP ? CLI_GOOD : CLI_UNREADABLE;
        }
    }
    if (optind == argc) {
        return cli_misused(command, "which site file?");
    }
    if (optind + 2 < argc) {
        return cli_misused(command,
                "one course at a time; \"%s\" is too many (quote names that have blanks)",
                argv[optind + 2]);
    }
    rehearsing.wanted.name = optind + 1 < argc ? argv[optind + 1] : NULL;
    if ((rehearsing.wanted.name != NULL) + (rehearsing.only != NULL) +
                    (rehearsing.lines_path != NULL) >
            1) {
        return cli_misused(
                command, "a name, --only or --lines: each is a course of its own; keep one");
    }
    if (rehearsing.to == NULL) {
        return cli_misused(command, "--to ADDRESS:PORT says who hears it: a lintel listen");
    }
    return run_site(&rehearsing, argv[optind]);
}

const struct cli_command cli_rehearse = {
        .name = "rehearse",
        .takes = "SITE [NAME] --to ADDRESS:PORT",
        .answers = "the panel played, sending real signals to a listener",
        .help = "Plays the panel of the file in real time, and sends what it sends. Never send to\n"
                "a real monitoring station.\n\n"
                "Without NAME every test of lintel accept SITE is done to it. NAME is a routine:\n"
                "its shortest course that goes wrong or, where it goes well, one of the many; or\n"
                "a protected thing: somebody comes for it. lintel tell SITE lists the names.\n"
                "With --lines what happens is typed: front door opens, anna keys in hall,\n"
                "wait 20 s; help lists what can be typed.\n\n"
                "  --to ADDRESS:PORT  who hears it: lintel listen\n"
                "  --speed N          so many times as fast; 0: as fast as it is acknowledged\n"
                "  --pace PACE        one course with everybody quick, middling or slow\n"
                "  --only TEST        this test alone: zone 7\n"
                "  --lines FILE       what happens, line by line; - is standard input\n"
                "  --udp              over UDP, else TCP\n"
                "  --sia              in SIA codes, else Contact ID\n"
                "  --keys FILE        encrypted with the account's key (docs/signals.md)\n"
                "  --today DATE       temporary changes as on that day: 2027-03-31\n"
                "  --help             this page\n\n"
                "A listener that is away is told; what leaves meanwhile waits in the panel.\n\n"
                "exit  0  all were acknowledged\n"
                "      2  not, or something cannot be read\n"
                "    130  stopped by Ctrl-C\n",
        .run = run,
};
