#include "cli/cli.h"

#include "cipher/cipher.h"
#include "cli/signal_line.h"
#include "cli/signals.h"
#include "host/host.h"
#include "listener/listener.h"
#include "signals/code.h"
#include "signals/meaning.h"

#include <inttypes.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>

enum option_name {
    ARCHIVE = 1,
    KEYS,
    ACCOUNT,
    BIND,
    PORT,
    NO_TCP,
    NO_UDP,
    PEERS,
    RATE,
    IDLE,
    JSON,
    QUIET,
};

static const struct option options[] = {
        {"archive", required_argument, NULL, ARCHIVE},
        {"keys", required_argument, NULL, KEYS},
        {"account", required_argument, NULL, ACCOUNT},
        {"bind", required_argument, NULL, BIND},
        {"port", required_argument, NULL, PORT},
        {"no-tcp", no_argument, NULL, NO_TCP},
        {"no-udp", no_argument, NULL, NO_UDP},
        {"peers", required_argument, NULL, PEERS},
        {"rate", required_argument, NULL, RATE},
        {"idle", required_argument, NULL, IDLE},
        {"json", no_argument, NULL, JSON},
        {"quiet", no_argument, NULL, QUIET},
        {"help", no_argument, NULL, 'h'},
        {NULL, 0, NULL, 0},
};

/** What was typed, and what listens. */
struct listening {
    const char *archive_path;
    const char *keys_path;
    const char *account;
    bool port_said;
    bool json;
    bool deaf; /* nobody reads what is printed any more, or wants to */
    struct listener_options options;
    struct key_file keys;
    struct archive *archive;
    struct listener *listener;
};

static void print(struct listening *listening, struct text text) {
    if (text.length > 0 &&
            (fwrite(text.start, 1, text.length, stdout) != text.length || fflush(stdout) != 0)) {
        listening->deaf = true;
    }
}

static void add_clock(struct text_builder *out, int64_t utc_ms) {
    time_t seconds = (time_t)(utc_ms / 1000);
    struct tm local = {0};
    (void)localtime_r(&seconds, &local);
    text_add_format(out, "%02d:%02d:%02d", local.tm_hour, local.tm_min, local.tm_sec);
}

static void add_words(struct text_builder *out, struct signal_meaning meaning, const char *table) {
    if (meaning.kind == EVENT_KIND_COUNT) {
        text_add_string(out, table == NULL ? "a code in no table" : table);
    } else {
        text_add_format(out, "%s%s", event_kind_name(meaning.kind), signal_meaning_state(meaning));
    }
}

/* Of a code that is followed up its kind says so; of any other the qualifier alone tells an end from a beginning. */
static const char *qualifier_words(struct contact_id event) {
    const bool opens = event.code / 100 == 4;
    switch (event.qualifier) {
    case CONTACT_ID_NEW:
        return "";
    case CONTACT_ID_BACK:
        return opens ? ", a closing" : ", its end";
    case CONTACT_ID_STILL:
        return ", still present";
    }
    return "";
}

static void add_contact_id(struct text_builder *out, struct contact_id event) {
    const struct signal_code *code = signal_contact_id(event.code);
    const struct signal_meaning meaning = signal_meaning_of_contact_id(event.qualifier, event.code);
    add_words(out, meaning, code == NULL ? NULL : code->meaning);
    text_add_string(out, meaning.kind == EVENT_KIND_COUNT ? qualifier_words(event) : "");
    if (event.number > 0) {
        text_add_format(out, "  %s %u",
                code == NULL || code->number == SIGNAL_NUMBER_NONE
                        ? "number"
                        : signal_number_name(code->number),
                event.number);
    }
    if (event.group > 0) {
        text_add_format(out, "  area %u", event.group);
    }
}

static void add_sia(struct text_builder *out, const struct sia *sia) {
    bool first = true;
    for (size_t i = 0; i < sia->count; i++) {
        const struct sia_part *part = &sia->parts[i];
        if (part->modifier) {
            continue;
        }
        const struct signal_code *code = signal_sia(part->code);
        text_add_string(out, first ? "" : "; ");
        first = false;
        add_words(out, signal_meaning_of_sia(part->code), code == NULL ? NULL : code->meaning);
        text_add_string(out, sia->old ? ", old" : "");
        if (part->value.length > 0) {
            text_add_format(out, "  %s %.*s",
                    code == NULL || code->number == SIGNAL_NUMBER_NONE
                            ? "number"
                            : signal_number_name(code->number),
                    TEXT_ARGS(part->value));
        }
    }
}

/** Control characters of a panel do not reach the terminal. */
static void add_plain(struct text_builder *out, struct text text) {
    for (size_t i = 0; i < text.length; i++) {
        text_add_char(out, text.start[i] >= ' ' && text.start[i] <= '~' ? text.start[i] : '.');
    }
}

static void add_for_people(struct text_builder *out, const struct archive_signal *signal) {
    struct text account = {0};
    struct text event = frame_event_text(signal->data, &account);
    struct contact_id contact_id;
    struct sia sia;
    add_clock(out, signal->received_ms);
    text_add_format(out, "  %.*s  ", TEXT_ARGS(signal->account));
    if (contact_id_read_event(event, 0, &contact_id, NULL)) {
        add_contact_id(out, contact_id);
    } else if (sia_read(event, 0, &sia, NULL)) {
        add_sia(out, &sia);
    }
    text_add_string(out, "  (");
    add_plain(out, event);
    text_add_string(out, signal->encrypted ? ", encrypted)\n" : ")\n");
}

static void stored(void *context, const struct archive_signal *signals, size_t count) {
    struct listening *listening = context;
    struct arena arena;
    struct text_builder out;
    if (listening->deaf) {
        return;
    }
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    for (size_t i = 0; i < count; i++) {
        if (listening->json) {
            signal_line_add(&out, &signals[i]);
        } else {
            add_for_people(&out, &signals[i]);
        }
    }
    print(listening, text_built(&out));
    arena_finish(&arena);
}

static void refused(void *context, const struct archive_refusal *refusals, size_t count) {
    struct listening *listening = context;
    struct arena arena;
    struct text_builder out;
    if (listening->deaf) {
        return;
    }
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    for (size_t i = 0; i < count; i++) {
        const struct archive_refusal *row = &refusals[i];
        if (listening->json) {
            text_add_format(&out,
                    "{\"refused\": \"%.*s\", \"count\": %" PRId64 ", \"peer\": \"%.*s\"",
                    TEXT_ARGS(row->reason), row->count, TEXT_ARGS(row->peer));
            text_add_format(&out, ", \"account\": \"%.*s\"}\n", TEXT_ARGS(row->account));
        } else {
            add_clock(&out, row->last_ms);
            text_add_format(&out, "  not taken%s%.*s: %.*s (%" PRId64 " from %.*s)\n",
                    row->account.length > 0 ? ", account " : "", TEXT_ARGS(row->account),
                    TEXT_ARGS(row->reason), row->count, TEXT_ARGS(row->peer));
        }
    }
    print(listening, text_built(&out));
    arena_finish(&arena);
}

static void trouble(void *context, const struct problem *problem) {
    (void)context;
    (void)fprintf(stderr,
            "lintel: nothing is acknowledged until it can be stored; panels will send again\n"
            "lintel: %s\n",
            problem->text);
}

static void mended(void *context) {
    (void)context;
    (void)fprintf(stderr, "lintel: signals are stored again\n");
}

/** A whole number between the two, or false after saying so. */
static bool read_number(const struct cli_command *command, const char *option, const char *word,
        long low, long high, long *ret_number) {
    char *end = NULL;
    long number = strtol(word, &end, 10);
    if (*end != '\0' || end == word || number < low || number > high) {
        (void)cli_misused(command, "--%s is a whole number from %ld to %ld, not \"%s\"", option,
                low, high, word);
        return false;
    }
    *ret_number = number;
    return true;
}

static bool take_number(
        const struct cli_command *command, struct listening *listening, int option) {
    long number = 0;
    switch (option) {
    case PORT:
        listening->port_said = true;
        if (!read_number(command, "port", optarg, 0, 65535, &number)) {
            return false;
        }
        listening->options.port = (uint16_t)number;
        return true;
    case PEERS:
        if (!read_number(command, "peers", optarg, 1, 100000, &number)) {
            return false;
        }
        listening->options.peers = (size_t)number;
        return true;
    case RATE:
        if (!read_number(command, "rate", optarg, 0, 1000000, &number)) {
            return false;
        }
        listening->options.limits.rate = (uint32_t)number;
        return true;
    case IDLE:
        if (!read_number(command, "idle", optarg, 1, 1000000, &number)) {
            return false;
        }
        listening->options.limits.idle_ms = (int64_t)number * 1000;
        return true;
    default:
        return false;
    }
}

static bool take_option(
        const struct cli_command *command, struct listening *listening, int option) {
    switch (option) {
    case ARCHIVE:
        listening->archive_path = optarg;
        return true;
    case KEYS:
        listening->keys_path = optarg;
        return true;
    case ACCOUNT:
        listening->account = optarg;
        return true;
    case BIND:
        listening->options.address = optarg;
        return true;
    case NO_TCP:
        listening->options.tcp = false;
        return true;
    case NO_UDP:
        listening->options.udp = false;
        return true;
    case JSON:
        listening->json = true;
        return true;
    case QUIET:
        listening->deaf = true;
        return true;
    default:
        return take_number(command, listening, option);
    }
}

/** The accounts: of the key file, or the one in clear that was named. */
static outcome read_accounts(struct listening *listening, struct problem *ret_problem) {
    if (listening->keys_path != NULL) {
        return key_file_read(listening->keys_path, &listening->keys, ret_problem);
    }
    arena_init(&listening->keys.arena, host_wiped_pages(), 0);
    struct text line = text_print(&listening->keys.arena, "account %s clear", listening->account);
    return accounts_read(line, &listening->keys.arena, &listening->keys.accounts, ret_problem);
}

/** DC-09 has no seal: whoever can reach the port can put a frame under another account that has the same key. */
static void warn_of_shared_keys(struct listening *listening) {
    const struct account *one = NULL;
    const struct account *other = NULL;
    const size_t sharing =
            accounts_sharing_keys(&listening->keys.accounts, &listening->keys.arena, &one, &other);
    if (sharing > 0) {
        (void)fprintf(stderr,
                "lintel: %zu account%s the key of another (%.*s that of %.*s): what one sends can "
                "be"
                " put under the other; give each a key of its own\n",
                sharing, sharing == 1 ? " has" : "s have", TEXT_ARGS(account_digits(other)),
                TEXT_ARGS(account_digits(one)));
    }
}

static outcome open_all(struct listening *listening, struct problem *ret_problem) {
    TRY(read_accounts(listening, ret_problem));
    TRY(archive_open(listening->archive_path, ARCHIVE_NEW, &listening->archive, ret_problem));
    listening->options.accounts = &listening->keys.accounts;
    listening->options.archive = listening->archive;
    listening->options.hooks = (struct listener_hooks){.stored = stored,
            .refused = refused,
            .trouble = trouble,
            .mended = mended,
            .context = listening};
    return listener_create(&listening->options, &listening->listener, ret_problem);
}

static void say_ready(struct listening *listening) {
    const struct listener_options *of = &listening->options;
    const char *over = of->tcp && of->udp ? "TCP and UDP" : of->tcp ? "TCP" : "UDP";
    if (listening->json) {
        (void)printf("{\"listening\": {\"address\": \"%s\", \"port\": %u, \"over\": \"%s\"}}\n",
                of->address, listener_port(listening->listener), over);
    } else {
        (void)printf("listening at %s, port %u, %s, for %zu account%s; Ctrl-C ends it\n",
                of->address, listener_port(listening->listener), over,
                listening->keys.accounts.count, listening->keys.accounts.count == 1 ? "" : "s");
    }
    (void)fflush(stdout);
}

static int finish(struct listening *listening, int status) {
    listener_destroy(listening->listener);
    archive_close(listening->archive);
    key_file_finish(&listening->keys);
    return status;
}

/** As many open files as there may be connections, if the system lets us; else as many connections as files. With no
 *  file left whoever knocks would be turned away whatever he has to say, and strangers would stay. */
static void fit_peers_to_files(size_t *peers) {
    enum { OTHERS = 64, LEAST = 8 };
    struct rlimit limit = {0};
    if (getrlimit(RLIMIT_NOFILE, &limit) != 0 || limit.rlim_cur >= *peers + OTHERS) {
        return;
    }
    limit.rlim_cur = limit.rlim_max < *peers + OTHERS ? limit.rlim_max : *peers + OTHERS;
    (void)setrlimit(RLIMIT_NOFILE, &limit);
    if (limit.rlim_cur < *peers + OTHERS) {
        *peers = limit.rlim_cur < OTHERS + LEAST ? LEAST : (size_t)limit.rlim_cur - OTHERS;
        (void)fprintf(stderr,
                "lintel: room for %zu TCP connections: the system allows %llu open files\n", *peers,
                (unsigned long long)limit.rlim_cur);
    }
}

static int listen_until_stopped(struct listening *listening) {
    struct problem problem = {0};
    /* A reader of our lines that is gone, or a panel that hangs up, ends nothing. */
    (void)signal(SIGPIPE, SIG_IGN);
    fit_peers_to_files(&listening->options.peers);
    /* A file that may not grow is a full disk: an error of the write, no end of the program. */
    (void)signal(SIGXFSZ, SIG_IGN);
    if (!open_all(listening, &problem).good) {
        return finish(listening, cli_refused(NULL, &problem));
    }
    say_ready(listening);
    warn_of_shared_keys(listening);
    listener_run(listening->listener);
    struct listener_counts counts = listener_counts(listening->listener);
    if (!listening->json) {
        (void)printf("%" PRIu64 " signals stored in %" PRIu64 " groups, %" PRIu64
                     " repeats, %" PRIu64 " link tests, %" PRIu64 " not taken\n",
                counts.stored, counts.commits, counts.repeats, counts.link_tests, counts.refused);
    }
    return finish(listening, CLI_GOOD);
}

static int run(const struct cli_command *command, int argc, char **argv) {
    struct listening listening = {.options = listener_usual()};
    optind = 0;
    for (int option = cli_next_option(command, argc, argv, options); option != -1;
            option = cli_next_option(command, argc, argv, options)) {
        if (option == CLI_HELP) {
            return CLI_GOOD;
        }
        if (!take_option(command, &listening, option)) {
            return CLI_UNREADABLE;
        }
    }
    if (optind < argc) {
        return cli_misused(command, "it takes options only, not \"%s\"", argv[optind]);
    }
    if (listening.archive_path == NULL || !listening.port_said) {
        return cli_misused(command, "--archive FILE and --port N are needed");
    }
    if ((listening.keys_path == NULL) == (listening.account == NULL)) {
        return cli_misused(command,
                "--keys FILE says whose signals are taken; or --account 1234, of one in clear");
    }
    if (!listening.options.tcp && !listening.options.udp) {
        return cli_misused(command, "without TCP and UDP nothing can be heard");
    }
    return listen_until_stopped(&listening);
}

const struct cli_command cli_listen = {
        .name = "listen",
        .takes = "--archive FILE --port N --keys FILE",
        .answers = "hears the panel's real signals and acknowledges what is stored",
        .help = "  --archive FILE  where signals are stored; made where it is not there. Or\n"
                "                  postgresql://USER@HOST/DATABASE (docs/office.md)\n"
                "  --port N        TCP and UDP; 0: the system chooses, and it is printed\n"
                "  --keys FILE     accounts and keys (docs/signals.md), chmod 600\n"
                "  --account HEX   instead: this one account, unencrypted\n"
                "  --bind ADDRESS  of this machine; 127.0.0.1 unless said: nobody else hears\n"
                "                  it. 0.0.0.0 or :: is every one: the panel can reach it then,\n"
                "                  and so can everybody else on that network. With several\n"
                "                  addresses and UDP, name the one that the panel sends to\n"
                "  --no-tcp, --no-udp\n"
                "  --peers N       TCP connections at once (4096)\n"
                "  --rate N        frames a second from one peer (200; 0: any)\n"
                "  --idle N        seconds of silence after which a connection ends (3600)\n"
                "  --json          a line of JSON for each signal (docs/json.md)\n"
                "  --quiet         no line for each signal\n"
                "  --help          this page\n\n"
                "Put the account on test with the monitoring station before the panel's\n"
                "reporting is redirected, and see one signal arrive there when it is back.\n",
        .run = run,
};
