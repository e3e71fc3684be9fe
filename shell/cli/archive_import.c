#include "cli/archive_import.h"

#include "archive/archive.h"
#include "cipher/cipher.h"
#include "cli/signal_line.h"
#include "host/host.h"
#include "signals/digest.h"
#include "signals/log.h"
#include "signals/recent.h"
#include "signals/stamp.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

enum {
    IMPORT_LIMIT_BYTES = 1024 * 1024 * 1024,
    RECENT_MOST = 65536,
    BUCKETS = 65536,  /* of what was read of a log */
    CALLED_MOST = 60, /* bytes */
    TOLD_MOST = 50,   /* lines that were not taken; of more only how many */
};

/** What is read, and from where. line: of the file, or 0; byte: where a capture is no text. */
struct importing {
    const char *file;
    struct text called; /* in the archive: without its folder, and no longer than CALLED_MOST */
    const struct archive_import_how *how;
    struct arena arena;
    struct archive_signal *signals;
    size_t *before; /* of each signal of a log, the one before it in its bucket; one more than its place, 0: none */
    size_t *newest;       /* of each bucket, likewise */
    size_t second_begins; /* the first signal of the second that is read */
    size_t count;
    size_t room;
    size_t line;
    size_t byte;
    size_t wrong;
    size_t answers;
    size_t repeats;
    struct cli_site site;
    struct log_ways ways;
    struct key_file keys;
    struct cipher *cipher;
    struct recent recent;
    /* who wrote into the line that was captured, or the log, must not make an alarm look like a repeat */
    struct siphash_key secret;
    int64_t latest_ms;
};

__attribute__((format(printf, 2, 3))) static void tell(
        struct importing *importing, const char *format, ...) {
    va_list arguments;
    importing->wrong++;
    if (importing->wrong > TOLD_MOST) {
        return;
    }
    if (importing->line > 0) {
        (void)fprintf(stderr, "%s:%zu: ", importing->file, importing->line);
    } else {
        (void)fprintf(stderr, "%s, byte %zu: ", importing->file, importing->byte + 1);
    }
    va_start(arguments, format);
    (void)vfprintf(stderr, format, arguments);
    va_end(arguments);
    (void)fputc('\n', stderr);
}

static outcome keep(struct importing *importing, const struct archive_signal *signal,
        struct problem *ret_problem) {
    if (importing->count == importing->room) {
        const size_t room = importing->room == 0 ? 256 : 2 * importing->room;
        struct archive_signal *signals =
                ARENA_ARRAY(&importing->arena, struct archive_signal, room);
        size_t *before = ARENA_ARRAY(&importing->arena, size_t, room);
        if (signals == NULL || before == NULL) {
            FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for what is imported");
        }
        if (importing->count > 0) {
            memcpy(signals, importing->signals, importing->count * sizeof *signals);
            memcpy(before, importing->before, importing->count * sizeof *before);
        }
        importing->signals = signals;
        importing->before = before;
        importing->room = room;
    }
    importing->signals[importing->count++] = *signal;
    return outcome_good();
}

/** The next line without its end; false after the last. */
static bool next_line(struct importing *importing, struct text *content, struct text *ret_line) {
    if (content->length == 0) {
        return false;
    }
    const char *end = memchr(content->start, '\n', content->length);
    const size_t length = end == NULL ? content->length : (size_t)(end - content->start);
    const size_t step = length + (end != NULL);
    const bool returned = length > 0 && content->start[length - 1] == '\r';
    *ret_line = (struct text){content->start, length - returned};
    *content = (struct text){content->start + step, content->length - step};
    importing->line++;
    return true;
}

/* ---- lines of JSON: all of them or none */

static outcome take_lines(
        struct importing *importing, struct text content, struct problem *ret_problem) {
    struct text line;
    while (next_line(importing, &content, &line)) {
        struct archive_signal signal = {0};
        struct problem problem = {0};
        if (line.length == 0) {
            continue;
        }
        if (!signal_line_read(line, &importing->arena, &signal, &problem).good) {
            FAIL(ret_problem, problem.kind, "", "%.100s:%zu: %.250s", importing->file,
                    importing->line, problem.text);
        }
        TRY(keep(importing, &signal, ret_problem));
    }
    return outcome_good();
}

/* ---- an event log */

/** The instant at which this machine's clock showed that time. In the hour that comes twice in autumn: either. */
static int64_t instant_of(int64_t local_s) {
    time_t as_if = (time_t)local_s;
    struct tm parts = {0};
    (void)gmtime_r(&as_if, &parts);
    parts.tm_isdst = -1;
    return (int64_t)mktime(&parts) * 1000;
}

static size_t *bucket_of(const struct importing *importing, struct text data) {
    return &importing->newest[siphash(importing->secret, data) % BUCKETS];
}

/** How many of the same second before it say the same; a log has those of a second together. Each has that as its
 *  number, so the newest one tells. By buckets that nobody can reckon, as a file may have ever so many of one second.
 */
static size_t same_before(
        struct importing *importing, int64_t at_ms, struct text account, struct text data) {
    const size_t count = importing->count;
    if (count > 0 && importing->signals[count - 1].received_ms != at_ms) {
        importing->second_begins = count;
    }
    for (size_t i = *bucket_of(importing, data); i > importing->second_begins;
            i = importing->before[i - 1]) {
        const struct archive_signal *signal = &importing->signals[i - 1];
        if (text_equal(signal->account, account) && text_equal(signal->data, data)) {
            return signal->sequence;
        }
    }
    return 0;
}

/** As keep, and known to same_before. */
static outcome keep_row(struct importing *importing, const struct archive_signal *signal,
        struct problem *ret_problem) {
    size_t *newest = bucket_of(importing, signal->data);
    TRY(keep(importing, signal, ret_problem));
    importing->before[importing->count - 1] = *newest;
    *newest = importing->count;
    return outcome_good();
}

static outcome take_row(struct importing *importing, struct text line, const struct log_row *row,
        struct problem *ret_problem) {
    struct arena *arena = &importing->arena;
    const struct text site_account = importing->site.document.site.station.account;
    const struct text account =
            text_copy(arena, row->account.length > 0 ? row->account : site_account);
    const struct text data =
            text_print(arena, "#%.*s|%.*s", TEXT_ARGS(account), TEXT_ARGS(row->event));
    struct archive_signal signal = {.received_ms = instant_of(row->local_s),
            .account = account,
            .token = text_of(frame_token_name(row->token)),
            .data = data,
            .frame = line,
            .peer = text_print(arena, SIGNAL_LINE_LOG "%.*s, line %zu",
                    TEXT_ARGS(importing->called), importing->line)};
    if (account.length == 0) {
        tell(importing, "it names no account, and the site has none (account: under panel)");
        return outcome_good();
    }
    const size_t same = same_before(importing, signal.received_ms, account, data);
    if (same >= 9999) {
        tell(importing, "the same stands there 9999 times in that second");
        return outcome_good();
    }
    signal.sequence = (uint16_t)(same + 1);
    signal.digest = signal_line_log_digest(&signal);
    return keep_row(importing, &signal, ret_problem);
}

static outcome take_log(
        struct importing *importing, struct text content, struct problem *ret_problem) {
    const struct site_log *log = &importing->site.document.site.panel.log;
    importing->ways = (struct log_ways){.columns = log->columns,
            .column_count = log->column_count,
            .time = log->time,
            .separator = log->separator.length > 0 ? log->separator.start[0] : ',',
            .words = log->words,
            .word_count = log->word_count};
    void *newest = NULL;
    TRY(log_ways_check(&importing->ways, ret_problem));
    TRY(arena_get(&importing->arena, BUCKETS, sizeof *importing->newest, &newest, ret_problem));
    importing->newest = newest;
    TRY(host_random((uint8_t *)&importing->secret, sizeof importing->secret, ret_problem));
    struct text line;
    while (next_line(importing, &content, &line)) {
        struct log_row row;
        struct problem problem = {0};
        if (importing->line <= (size_t)log->heading || line.length == 0) {
            continue;
        }
        if (!log_read(&importing->ways, line, &row, &problem).good) {
            tell(importing, "%s", problem.text);
            continue;
        }
        TRY(take_row(importing, line, &row, ret_problem));
    }
    return outcome_good();
}

/* ---- captured frames */

static bool only_answers(enum frame_token token) {
    return token == FRAME_TOKEN_ACK || token == FRAME_TOKEN_NAK || token == FRAME_TOKEN_DUH ||
            token == FRAME_TOKEN_RSP || token == FRAME_TOKEN_NULL;
}

/** Opens an encrypted frame; false after saying why not. */
static bool opened(struct importing *importing, struct frame *frame, uint8_t *room) {
    struct signal_fault fault = {0};
    const struct account *account = importing->how->keys == NULL
            ? NULL
            : accounts_find(&importing->keys.accounts, frame->prefix, frame->account);
    if (!frame->encrypted) {
        return true;
    }
    if (account == NULL || account->key_length == 0) {
        tell(importing, "it is encrypted, and --keys has no key of account %.*s",
                TEXT_ARGS(frame->account));
        return false;
    }
    if (!frame_open(frame, cipher_for(importing->cipher, account), room, FRAME_CLEAR_MAX, &fault)) {
        tell(importing, "%s", signal_fault_words(fault.kind));
        return false;
    }
    return true;
}

/** at_ms: when it came, or -1: as its own time says. */
static outcome take_frame(struct importing *importing, struct text bytes, int64_t at_ms,
        struct problem *ret_problem) {
    struct arena *arena = &importing->arena;
    uint8_t room[FRAME_CLEAR_MAX];
    struct frame frame;
    struct signal_fault fault = {0};
    if (!frame_hear(bytes, &frame, &fault)) {
        tell(importing, "%s", signal_fault_words(fault.kind));
        return outcome_good();
    }
    if (only_answers(frame.token)) {
        importing->answers++;
        return outcome_good();
    }
    if (!opened(importing, &frame, room)) {
        return outcome_good();
    }
    if (at_ms < 0 && !frame.content.stamped) {
        tell(importing, "it carries no time: write one before it, 2026-11-26T10:15:30Z");
        return outcome_good();
    }
    const uint64_t mark = frame_mark(&frame, importing->secret);
    at_ms = at_ms < 0 ? frame.content.stamp_s * 1000 : at_ms;
    const bool backwards = at_ms + RECENT_S * 1000 < importing->latest_ms;
    if (!backwards && recent_has(&importing->recent, 0, mark, at_ms)) {
        importing->repeats++;
        return outcome_good();
    }
    importing->latest_ms = at_ms > importing->latest_ms ? at_ms : importing->latest_ms;
    recent_note(&importing->recent, 0, mark, at_ms);
    const struct archive_signal signal = {.received_ms = at_ms,
            .prefix = signal_line_prefix(frame.prefix),
            .account = text_copy(arena, frame.account),
            .sequence = frame.sequence,
            .stamped = frame.content.stamped,
            .sent_s = frame.content.stamp_s,
            .encrypted = frame.encrypted,
            .token = text_copy(arena, frame.token_text),
            .data = text_copy(arena, frame.content.data),
            .digest = frame_digest(&frame),
            .frame = text_copy(arena, bytes),
            .peer = importing->line > 0
                    ? text_print(arena, "capture %.*s, line %zu", TEXT_ARGS(importing->called),
                              importing->line)
                    : text_print(arena, "capture %.*s, byte %zu", TEXT_ARGS(importing->called),
                              importing->byte + 1)};
    return keep(importing, &signal, ret_problem);
}

static outcome take_stream(struct importing *importing, struct text bytes, int64_t at_ms,
        struct problem *ret_problem) {
    while (bytes.length > 0) {
        size_t begins = 0;
        size_t length = 0;
        size_t step = bytes.length;
        switch (frame_scan(bytes, &begins, &length)) {
        case FRAME_SCAN_WHOLE:
            TRY(take_frame(importing, (struct text){bytes.start, length}, at_ms, ret_problem));
            step = length;
            break;
        case FRAME_SCAN_SKIP:
            tell(importing, "%zu byte%s are no frame", begins, begins == 1 ? "" : "s");
            step = begins;
            break;
        case FRAME_SCAN_MORE:
            tell(importing, "a frame begins and does not end");
            break;
        }
        bytes = (struct text){bytes.start + step, bytes.length - step};
        importing->byte += importing->line == 0 ? step : 0;
    }
    return outcome_good();
}

/** "2026-11-26T10:15:30Z " before the rest of a line, which is taken off; -1 where none is there. */
static int64_t time_before(struct text *line) {
    enum { LENGTH = 21 };
    char stamp[STAMP_LENGTH + 1];
    int64_t seconds = 0;
    if (line->length < LENGTH || line->start[10] != 'T' || line->start[19] != 'Z') {
        return -1;
    }
    /* as a frame's own time, which has month and day first and the year last */
    (void)snprintf(
            stamp, sizeof stamp, "_%.8s,%.5s-%.4s", line->start + 11, line->start + 5, line->start);
    if (!stamp_read((struct text){stamp, STAMP_LENGTH}, 0, &seconds, NULL)) {
        return -1;
    }
    *line = (struct text){line->start + LENGTH, line->length - LENGTH};
    return seconds * 1000;
}

/** Frames as they came over the line have quotes; their hex has none. */
static outcome take_capture(
        struct importing *importing, struct text content, struct problem *ret_problem) {
    struct text line;
    TRY(recent_make(&importing->arena, RECENT_MOST, RECENT_S, &importing->recent, ret_problem));
    TRY(host_random((uint8_t *)&importing->secret, sizeof importing->secret, ret_problem));
    if (content.length > 0 && memchr(content.start, '"', content.length) != NULL) {
        return take_stream(importing, content, -1, ret_problem);
    }
    while (next_line(importing, &content, &line)) {
        struct text bytes = {0};
        const int64_t at_ms = time_before(&line);
        if (line.length > 0 && signal_line_from_hex(&importing->arena, line, &bytes)) {
            TRY(take_stream(importing, bytes, at_ms, ret_problem));
        } else if (line.length > 0) {
            tell(importing, "neither a frame nor the hex digits of one");
        }
    }
    return outcome_good();
}

/* ---- all of it */

static outcome read_all(
        struct importing *importing, const char *file, struct problem *ret_problem) {
    const struct archive_import_how *how = importing->how;
    struct text content = {0};
    if (how->keys != NULL) {
        TRY(key_file_read(how->keys, &importing->keys, ret_problem));
        importing->cipher = cipher_create();
        if (importing->cipher == NULL) {
            FAIL(ret_problem, PROBLEM_MEMORY, "", "the library gives no AES, or no memory");
        }
    }
    TRY(host_read_file(file, IMPORT_LIMIT_BYTES, &importing->arena, &content, ret_problem));
    return how->log != NULL ? take_log(importing, content, ret_problem)
            : how->frames   ? take_capture(importing, content, ret_problem)
                            : take_lines(importing, content, ret_problem);
}

static outcome store(struct importing *importing, const char *path, size_t *ret_added,
        struct problem *ret_problem) {
    struct archive *archive = NULL;
    TRY(archive_open(path, ARCHIVE_NEW, &archive, ret_problem));
    outcome result =
            archive_import(archive, importing->signals, importing->count, ret_added, ret_problem);
    archive_close(archive);
    return result;
}

static void say(const struct importing *importing, size_t added) {
    (void)printf("%zu signals read, %zu of them new", importing->count, added);
    if (importing->repeats > 0) {
        (void)printf(", %zu repeats", importing->repeats);
    }
    if (importing->answers > 0) {
        (void)printf(", %zu answers and link tests left out", importing->answers);
    }
    if (importing->wrong > 0) {
        (void)printf(", %zu not taken", importing->wrong);
    }
    (void)printf("\n");
}

/** Without its folder; of a long one what fits, no character cut in two: a server takes no half of one. */
static struct text called(const char *file) {
    const char *folder_end = strrchr(file, '/');
    const struct text whole = text_of(folder_end == NULL ? file : folder_end + 1);
    size_t length = 0;
    while (length < whole.length) {
        const size_t next =
                text_first_bytes((struct text){whole.start + length, whole.length - length});
        if (length + next > CALLED_MOST) {
            break;
        }
        length += next;
    }
    return (struct text){whole.start, length};
}

int archive_import_file(
        const char *archive, const char *file, const struct archive_import_how *how) {
    struct importing importing = {.file = strcmp(file, "-") == 0 ? "standard input" : file,
            .called = called(file),
            .how = how};
    struct problem problem = {0};
    size_t added = 0;
    if (how->log != NULL && !cli_site_read(&importing.site, how->log)) {
        cli_site_finish(&importing.site);
        return CLI_UNREADABLE;
    }
    arena_init(&importing.arena, host_pages(), 0);
    outcome result = read_all(&importing, file, &problem);
    if (result.good) {
        result = store(&importing, archive, &added, &problem);
    }
    if (result.good) {
        say(&importing, added);
    }
    cipher_destroy(importing.cipher);
    if (how->keys != NULL) {
        key_file_finish(&importing.keys);
    }
    if (how->log != NULL) {
        cli_site_finish(&importing.site);
    }
    arena_finish(&importing.arena);
    return !result.good ? cli_refused(NULL, &problem) : importing.wrong > 0 ? CLI_FAULTS : CLI_GOOD;
}
