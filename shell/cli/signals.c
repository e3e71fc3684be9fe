#include "cli/signals.h"

#include "cli/cli.h"
#include "host/host.h"
#include "signals/stamp.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { FORMAT = 1 }; /* of the JSON: docs/json.md */

enum option_name { FILE_NAME = 1, JSON, HEX, ACCOUNT, SEQUENCE, RECEIVER, PREFIX, AT, LIST, KEYS };

static const struct option options[] = {
        {"file", required_argument, NULL, FILE_NAME},
        {"json", no_argument, NULL, JSON},
        {"hex", no_argument, NULL, HEX},
        {"account", required_argument, NULL, ACCOUNT},
        {"sequence", required_argument, NULL, SEQUENCE},
        {"receiver", required_argument, NULL, RECEIVER},
        {"prefix", required_argument, NULL, PREFIX},
        {"at", required_argument, NULL, AT},
        {"keys", required_argument, NULL, KEYS},
        {"list", no_argument, NULL, LIST},
        {"help", no_argument, NULL, 'h'},
        {NULL, 0, NULL, 0},
};

/** What was typed. */
struct wish {
    const char *file;
    bool json;
    bool hex;
    bool list;
    const char *account;
    const char *sequence;
    const char *receiver;
    const char *prefix;
    const char *at;
    const char *keys;
};

/** Where answers gather. */
struct session {
    struct arena arena;
    struct text_builder out;
    struct json_writer json;
    const struct wish *wish;
    struct key_file key_file;
    struct cipher *cipher;
    bool wrong;
    size_t count;
};

static int hex_value(char digit) {
    static const char digits[] = "0123456789abcdef0123456789ABCDEF";
    const char *found = digit == '\0' ? NULL : strchr(digits, digit);
    return found == NULL ? -1 : (int)((found - digits) % 16);
}

/** Hex digits of a frame ("0A 46 30 ..."), spaces between them skipped; false where it is none. */
static bool from_hex(struct arena *arena, struct text source, struct text *ret_bytes) {
    char *bytes = ARENA_ARRAY(arena, char, source.length / 2 + 1);
    size_t count = 0;
    int high = -1;
    for (size_t i = 0; bytes != NULL && i < source.length; i++) {
        int value = hex_value(source.start[i]);
        if (source.start[i] == ' ') {
            continue;
        }
        if (value < 0) {
            return false;
        }
        if (high < 0) {
            high = value;
        } else {
            bytes[count++] = (char)(high * 16 + value);
            high = -1;
        }
    }
    *ret_bytes = (struct text){bytes, count};
    return high < 0 && count > 1 && bytes[0] == '\n';
}

/** A frame as typed, without its first and last byte, gets them; everything else stays as it is. */
static struct text as_bytes(struct arena *arena, struct text source) {
    struct text bytes = {0};
    if (from_hex(arena, source, &bytes)) {
        return bytes;
    }
    if (source.length == 0 || memchr(source.start, '"', source.length) == NULL) {
        return source;
    }
    return text_print(arena, "%s%.*s%s", source.start[0] == '\n' ? "" : "\n", TEXT_ARGS(source),
            source.start[source.length - 1] == '\r' ? "" : "\r");
}

static void answer(struct session *session, struct text source) {
    const struct signals_keys keys = {.accounts = &session->key_file.accounts,
            .cipher = session->cipher,
            .room = &session->arena};
    struct signals_answer answered = signals_decode(
            as_bytes(&session->arena, source), session->wish->keys == NULL ? NULL : &keys);
    session->wrong = session->wrong || signals_wrong(&answered);
    if (session->wish->json) {
        signals_show_json(&answered, &session->json);
    } else {
        text_add_string(&session->out, session->count > 0 ? "\n" : "");
        signals_show(&answered, &session->out);
    }
    session->count++;
}

/** Frames of a capture (line feed to carriage return) and lines of a text, one after the other. */
static void answer_all(struct session *session, struct text content) {
    while (content.length > 0) {
        size_t begins = 0;
        size_t length = 0;
        if (frame_scan(content, &begins, &length) == FRAME_SCAN_WHOLE) {
            answer(session, (struct text){content.start, length});
        } else {
            size_t skip = content.start[0] == '\n' || content.start[0] == '\r';
            length = skip;
            while (length < content.length && content.start[length] != '\n' &&
                    content.start[length] != '\r') {
                length++;
            }
            if (length > skip) {
                answer(session, (struct text){content.start + skip, length - skip});
            }
            length += length == 0;
        }
        content = (struct text){content.start + length, content.length - length};
    }
}

/** Gives everything back; `status` again, for `return`. */
static int leave(struct session *session, int status) {
    key_file_finish(&session->key_file);
    cipher_destroy(session->cipher);
    arena_finish(&session->arena);
    return status;
}

static int finish(struct session *session, int status) {
    const struct problem problem = {.kind = PROBLEM_MEMORY, .text = "no memory for the answer"};
    if (session->wish->json) {
        json_close_array(&session->json);
        json_close_object(&session->json);
        text_add_char(&session->out, '\n');
    }
    status = session->arena.refused ? cli_refused(NULL, &problem)
                                    : cli_print(text_built(&session->out), status);
    return leave(session, status);
}

static void begin(struct session *session, const struct wish *wish) {
    *session = (struct session){.wish = wish};
    arena_init(&session->arena, host_pages(), 0);
    text_builder_init(&session->out, &session->arena);
    json_init(&session->json, &session->out);
    if (wish->json) {
        json_open_object(&session->json, NULL);
        json_add_integer(&session->json, "format", FORMAT);
        json_open_array(&session->json, "signals");
    }
}

/** Reads the key file, where one is named; false after saying why it cannot be. */
static bool take_keys(struct session *session) {
    struct problem problem = {0};
    if (session->wish->keys == NULL) {
        return true;
    }
    if (!key_file_read(session->wish->keys, &session->key_file, &problem).good) {
        (void)cli_refused(NULL, &problem);
        return false;
    }
    session->cipher = cipher_create();
    if (session->cipher == NULL) {
        problem = (struct problem){
                .kind = PROBLEM_MEMORY, .text = "the library gives no AES, or there is no memory"};
        (void)cli_refused(NULL, &problem);
        return false;
    }
    return true;
}

static int decode(
        const struct cli_command *command, const struct wish *wish, int count, char **words) {
    struct session session;
    begin(&session, wish);
    const char *file = wish->file;
    if (file == NULL && count == 1 && strcmp(words[0], "-") == 0) {
        file = "-";
        count = 0;
    }
    if ((file == NULL) == (count == 0)) {
        return leave(&session,
                cli_misused(
                        command, "decode takes a signal, or --file FILE, or - for standard input"));
    }
    if (!take_keys(&session)) {
        return leave(&session, CLI_UNREADABLE);
    }
    for (int i = 0; i < count; i++) {
        answer(&session, text_of(words[i]));
    }
    if (file != NULL) {
        struct text content = {0};
        struct problem problem = {0};
        if (!host_read_file(file, 0, &session.arena, &content, &problem).good) {
            return leave(&session, cli_refused(NULL, &problem));
        }
        answer_all(&session, content);
    }
    if (session.count == 0) {
        return leave(&session, cli_misused(command, "there is no signal in it"));
    }
    return finish(&session, session.wrong ? CLI_FAULTS : CLI_GOOD);
}

/** The frame that was asked for; false after saying what is missing. */
static bool frame_of(const struct cli_command *command, const struct wish *wish,
        struct arena *arena, const char *event, struct frame *ret_frame) {
    struct contact_id contact_id;
    struct sia sia;
    struct frame frame = {.sequence = 1,
            .prefix = text_of(wish->prefix == NULL ? "0" : wish->prefix),
            .receiver = text_of(wish->receiver == NULL ? "" : wish->receiver),
            .account = text_of(wish->account == NULL ? "" : wish->account)};
    if (wish->sequence != NULL) {
        char *end = NULL;
        long number = strtol(wish->sequence, &end, 10);
        if (*end != '\0' || end == wish->sequence || number < 0 || number > 9999) {
            (void)cli_misused(command, "--sequence is 0 to 9999, not \"%s\"", wish->sequence);
            return false;
        }
        frame.sequence = (uint16_t)number;
    }
    if (strcmp(event, "test") == 0) {
        frame.token = FRAME_TOKEN_NULL;
    } else if (contact_id_read_event(text_of(event), 0, &contact_id, NULL)) {
        frame.token = FRAME_TOKEN_CONTACT_ID;
    } else if (sia_read(text_of(event), 0, &sia, NULL)) {
        frame.token = FRAME_TOKEN_SIA;
    } else {
        (void)cli_misused(command,
                "\"%s\" is no event: write \"1130 01 015\" (Contact ID), Nri1/BA015 (SIA), or test",
                event);
        return false;
    }
    if (frame.token != FRAME_TOKEN_NULL) {
        frame.content.data = text_print(arena, "#%.*s|%s", TEXT_ARGS(frame.account), event);
    }
    frame.content.stamped = wish->at != NULL;
    if (wish->at != NULL &&
            !stamp_read(text_print(arena, "_%s", wish->at), 0, &frame.content.stamp_s, NULL)) {
        (void)cli_misused(
                command, "--at is HH:MM:SS,MM-DD-YYYY in UTC, such as 10:15:30,03-07-2024");
        return false;
    }
    *ret_frame = frame;
    return true;
}

/** Marks the frame to be encrypted, with a random pad and the time that such a frame must carry. ret_account: whose
 *  key; NULL where its line says "clear". */
static bool close_with(const struct cli_command *command, struct session *session,
        struct frame *frame, char pad[FRAME_BLOCK], const struct account **ret_account) {
    struct problem problem = {0};
    const struct account *account =
            accounts_find(&session->key_file.accounts, frame->prefix, frame->account);
    if (account == NULL) {
        (void)cli_misused(command, "the key file has no line for account %.*s, prefix %.*s",
                TEXT_ARGS(frame->account), TEXT_ARGS(frame->prefix));
        return false;
    }
    if (account->key_length == 0) {
        return true;
    }
    if (!cipher_pad(pad, FRAME_BLOCK, &problem).good) {
        (void)cli_refused(NULL, &problem);
        return false;
    }
    frame->encrypted = true;
    frame->content.pad = (struct text){pad, FRAME_BLOCK};
    if (!frame->content.stamped) {
        frame->content.stamped = true;
        frame->content.stamp_s = (int64_t)time(NULL);
    }
    *ret_account = account;
    return true;
}

static int encode(
        const struct cli_command *command, const struct wish *wish, int count, char **words) {
    char bytes[FRAME_MAX];
    char pad[FRAME_BLOCK];
    size_t length = 0;
    struct frame frame;
    struct signal_fault fault = {0};
    struct session session;
    const struct wish plain = {.hex = wish->hex, .keys = wish->keys};
    if (count != 1 || wish->account == NULL) {
        return cli_misused(command, "encode takes one event and --account");
    }
    begin(&session, &plain);
    if (!take_keys(&session) || !frame_of(command, wish, &session.arena, words[0], &frame)) {
        return leave(&session, CLI_UNREADABLE);
    }
    const struct account *account = NULL;
    if (wish->keys != NULL && !close_with(command, &session, &frame, pad, &account)) {
        return leave(&session, CLI_UNREADABLE);
    }
    struct frame_cipher cipher = {0};
    if (account != NULL) {
        cipher = cipher_for(session.cipher, account);
    }
    if (!frame_write(&frame, account == NULL ? NULL : &cipher, bytes, &length, &fault)) {
        return leave(&session,
                cli_misused(command, "no frame can be made of this: %s",
                        signal_fault_words(fault.kind)));
    }
    for (size_t i = 0; wish->hex && i < length; i++) {
        text_add_format(&session.out, "%02X", (unsigned char)bytes[i]);
    }
    if (!wish->hex) {
        text_add(&session.out, (struct text){bytes + 1, length - 2});
    }
    text_add_char(&session.out, '\n');
    return finish(&session, CLI_GOOD);
}

static int explain(
        const struct cli_command *command, const struct wish *wish, int count, char **words) {
    struct session session;
    const struct wish plain = {.list = wish->list};
    if ((count == 0) != wish->list) {
        return cli_misused(command, "explain takes codes, such as 130 or BA, or --list");
    }
    begin(&session, &plain);
    if (wish->list) {
        signals_list(&session.out);
    }
    for (int i = 0; i < count; i++) {
        if (!signals_explain(text_of(words[i]), &session.out)) {
            session.wrong = true;
            text_add_format(&session.out,
                    "%-10s in no table that Lintel has; lintel signals explain --list shows them\n",
                    words[i]);
        }
    }
    return finish(&session, session.wrong ? CLI_FAULTS : CLI_GOOD);
}

static const struct {
    const char *name;
    int (*run)(const struct cli_command *command, const struct wish *wish, int count, char **words);
} parts[] = {{"decode", decode}, {"encode", encode}, {"explain", explain}};

static bool take_option(struct wish *wish, int option) {
    switch (option) {
    case FILE_NAME:
        wish->file = optarg;
        return true;
    case JSON:
        wish->json = true;
        return true;
    case HEX:
        wish->hex = true;
        return true;
    case LIST:
        wish->list = true;
        return true;
    case ACCOUNT:
        wish->account = optarg;
        return true;
    case SEQUENCE:
        wish->sequence = optarg;
        return true;
    case RECEIVER:
        wish->receiver = optarg;
        return true;
    case PREFIX:
        wish->prefix = optarg;
        return true;
    case AT:
        wish->at = optarg;
        return true;
    case KEYS:
        wish->keys = optarg;
        return true;
    default:
        return false;
    }
}

static int run(const struct cli_command *command, int argc, char **argv) {
    struct wish wish = {0};
    optind = 0;
    for (int option = cli_next_option(command, argc, argv, options); option != -1;
            option = cli_next_option(command, argc, argv, options)) {
        if (!take_option(&wish, option)) {
            return option == CLI_HELP ? CLI_GOOD : CLI_UNREADABLE;
        }
    }
    if (optind == argc) {
        return cli_misused(command, "decode, encode or explain?");
    }
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        if (strcmp(argv[optind], parts[i].name) == 0) {
            return parts[i].run(command, &wish, argc - optind - 1, argv + optind + 1);
        }
    }
    return cli_misused(command, "\"%s\" is none of decode, encode, explain", argv[optind]);
}

const struct cli_command cli_signals = {
        .name = "signals",
        .takes = "decode|encode|explain ...",
        .answers = "what a signal to the monitoring station says, byte by byte",
        .help = "  decode SIGNAL...  takes signals apart: a frame, a Contact ID message, an event\n"
                "                    (\"1130 01 015\", Nri1/BA015), or the hex bytes of a frame;\n"
                "                    - reads standard input\n"
                "    --file FILE     the signals of a file: frames, or one a line\n"
                "    --keys FILE     opens encrypted frames: a key file (docs/signals.md)\n"
                "    --json          for programs (docs/json.md)\n"
                "  encode EVENT      the frame that says it; EVENT as above, or test (link test)\n"
                "    --account HEX   3 to 16 digits 0-9, A-F\n"
                "    --sequence N    0 to 9999 (else 1)\n"
                "    --receiver HEX  R field; left out unless given\n"
                "    --prefix HEX    L field (else 0)\n"
                "    --at TIME       HH:MM:SS,MM-DD-YYYY in UTC; left out unless given\n"
                "    --keys FILE     encrypts with the account's key; without --at it says now\n"
                "    --hex           every byte as two digits, line feed and return included\n"
                "  explain CODE...   what a code means (130, E130, BA)\n"
                "    --list          every code that Lintel knows\n"
                "  --help            this page\n\n"
                "Exit status: 0 all can be read, 1 something is wrong with a signal, 2 the\n"
                "command line or the file cannot be read. Code tables are from memory and\n"
                "unverified; docs/signals.md says how sure each is.\n",
        .run = run,
};
