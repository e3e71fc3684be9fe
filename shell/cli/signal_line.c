#include "cli/signal_line.h"

#include "signals/digest.h"
#include "signals/frame.h"

#include <inttypes.h>
#include <jansson.h>
#include <stdlib.h>
#include <string.h>

static void add_hex(struct text_builder *out, struct text bytes) {
    static const char digits[] = "0123456789ABCDEF";
    for (size_t i = 0; i < bytes.length; i++) {
        const unsigned char byte = (unsigned char)bytes.start[i];
        text_add_char(out, digits[byte / 16]);
        text_add_char(out, digits[byte % 16]);
    }
}

/** Whether it can stand in a line as it is: printable ASCII without quote and backslash. */
static bool plain(struct text text) {
    for (size_t i = 0; i < text.length; i++) {
        char byte = text.start[i];
        if (byte < ' ' || byte > '~' || byte == '"' || byte == '\\') {
            return false;
        }
    }
    return true;
}

static void add_member(struct text_builder *out, const char *name, struct text value) {
    if (plain(value)) {
        text_add_format(out, ", \"%s\": \"%.*s\"", name, TEXT_ARGS(value));
    } else {
        text_add_format(out, ", \"%s_hex\": \"", name);
        add_hex(out, value);
        text_add_char(out, '"');
    }
}

void signal_line_add(struct text_builder *out, const struct archive_signal *signal) {
    text_add_format(out,
            "{\"id\": %" PRId64 ", \"received_ms\": %" PRId64 ", \"prefix\": \"%" PRIX32 "\"",
            signal->id, signal->received_ms, signal->prefix);
    add_member(out, "account", signal->account);
    text_add_format(out, ", \"sequence\": %u", signal->sequence);
    if (signal->stamped) {
        text_add_format(out, ", \"sent_s\": %" PRId64, signal->sent_s);
    }
    text_add_format(out, ", \"encrypted\": %s", signal->encrypted ? "true" : "false");
    add_member(out, "token", signal->token);
    add_member(out, "data", signal->data);
    text_add_format(out, ", \"digest\": \"%016" PRIX64 "\"", signal->digest);
    add_member(out, "peer", signal->peer);
    text_add_string(out, ", \"frame_hex\": \"");
    add_hex(out, signal->frame);
    text_add_string(out, "\"}\n");
}

static int hex_value(char digit) {
    static const char digits[] = "0123456789abcdef0123456789ABCDEF";
    const char *found = digit == '\0' ? NULL : strchr(digits, digit);
    return found == NULL ? -1 : (int)((found - digits) % 16);
}

bool signal_line_from_hex(struct arena *arena, struct text hex, struct text *ret_bytes) {
    char *bytes = ARENA_ARRAY(arena, char, hex.length / 2 + 1);
    size_t digits = 0;
    for (size_t i = 0; bytes != NULL && i < hex.length; i++) {
        const int value = hex_value(hex.start[i]);
        if (hex.start[i] == ' ') {
            continue;
        }
        if (value < 0) {
            return false;
        }
        bytes[digits / 2] = (char)(digits % 2 == 0 ? value * 16 : bytes[digits / 2] + value);
        digits++;
    }
    *ret_bytes = (struct text){bytes, digits / 2};
    return bytes != NULL && digits % 2 == 0;
}

static bool string_of(const json_t *object, const char *name, struct text *ret_value) {
    const json_t *value = json_object_get(object, name);
    if (!json_is_string(value)) {
        return false;
    }
    *ret_value = (struct text){json_string_value(value), json_string_length(value)};
    return true;
}

/** "data" as it is, or "data_hex". */
static bool member_of(
        struct arena *arena, const json_t *object, const char *name, struct text *ret_value) {
    char in_hex[32];
    struct text found = {0};
    if (string_of(object, name, &found)) {
        *ret_value = text_copy(arena, found);
        return ret_value->start != NULL;
    }
    (void)snprintf(in_hex, sizeof in_hex, "%s_hex", name);
    return string_of(object, in_hex, &found) && signal_line_from_hex(arena, found, ret_value);
}

static bool number_of(
        const json_t *object, const char *name, int64_t low, int64_t high, int64_t *ret_value) {
    const json_t *value = json_object_get(object, name);
    int64_t number = json_is_integer(value) ? (int64_t)json_integer_value(value) : low - 1;
    *ret_value = number;
    return number >= low && number <= high;
}

/** A number in hex, of so many digits at most. */
static bool hex_of(const json_t *object, const char *name, size_t most, uint64_t *ret_value) {
    struct text digits = {0};
    uint64_t number = 0;
    if (!string_of(object, name, &digits) || digits.length == 0 || digits.length > most) {
        return false;
    }
    for (size_t i = 0; i < digits.length; i++) {
        int value = hex_value(digits.start[i]);
        if (value < 0) {
            return false;
        }
        number = number * 16 + (uint64_t)value;
    }
    *ret_value = number;
    return true;
}

static bool fill(struct arena *arena, const json_t *object, struct archive_signal *signal,
        const char **ret_key) {
    static const int64_t latest_ms = INT64_C(7258118400000); /* the year 2200 */
    int64_t sequence = 0;
    uint64_t prefix = 0;
    signal->stamped = json_object_get(object, "sent_s") != NULL;
    signal->encrypted = json_is_true(json_object_get(object, "encrypted"));
    const struct {
        const char *key;
        bool good;
    } parts[] = {
            {"received_ms", number_of(object, "received_ms", 0, latest_ms, &signal->received_ms)},
            {"sequence", number_of(object, "sequence", 0, 9999, &sequence)},
            {"sent_s",
                    !signal->stamped ||
                            number_of(object, "sent_s", 0, latest_ms / 1000, &signal->sent_s)},
            {"prefix", hex_of(object, "prefix", 6, &prefix)},
            {"digest", hex_of(object, "digest", 16, &signal->digest)},
            {"account", member_of(arena, object, "account", &signal->account)},
            {"token", member_of(arena, object, "token", &signal->token)},
            {"data", member_of(arena, object, "data", &signal->data)},
            {"peer", member_of(arena, object, "peer", &signal->peer)},
            {"frame", member_of(arena, object, "frame", &signal->frame)},
    };
    signal->sequence = (uint16_t)sequence;
    signal->prefix = (uint32_t)prefix;
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        if (!parts[i].good) {
            *ret_key = parts[i].key;
            return false;
        }
    }
    return true;
}

uint32_t signal_line_prefix(struct text digits) {
    uint32_t number = 0;
    for (size_t i = 0; i < digits.length; i++) {
        number = number * 16 + (uint32_t)hex_value(digits.start[i]);
    }
    return number;
}

bool signal_line_of_log(const struct archive_signal *signal) {
    return text_begins(signal->peer, text_of(SIGNAL_LINE_LOG));
}

uint64_t signal_line_log_digest(const struct archive_signal *signal) {
    const struct frame as_if = {.token_text = signal->token,
            .prefix = text_of("0"),
            .account = signal->account,
            .sequence = signal->sequence,
            .content.data = signal->data};
    return frame_digest(&as_if);
}

outcome signal_line_judge(const struct archive_signal *signal, struct problem *ret_problem) {
    struct frame frame;
    struct signal_fault fault = {0};
    if (signal_line_of_log(signal)) {
        if (signal_line_log_digest(signal) != signal->digest) {
            FAIL(ret_problem, PROBLEM_UNREADABLE, "", "its digest is not that of what it says");
        }
        return outcome_good();
    }
    if (!frame_hear(signal->frame, &frame, &fault)) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "", "its frame is none: %s (byte %zu)",
                signal_fault_words(fault.kind), fault.at + 1);
    }
    const struct {
        const char *what;
        bool good;
    } parts[] = {
            {"account", text_equal(frame.account, signal->account)},
            {"prefix", signal_line_prefix(frame.prefix) == signal->prefix},
            {"sequence", frame.sequence == signal->sequence},
            {"token", text_equal(frame.token_text, signal->token)},
            {"encryption", frame.encrypted == signal->encrypted},
            {"data", frame.encrypted || text_equal(frame.content.data, signal->data)},
            {"time",
                    frame.encrypted ||
                            (frame.content.stamped == signal->stamped &&
                                    (!signal->stamped || frame.content.stamp_s == signal->sent_s))},
            {"digest", frame.encrypted || frame_digest(&frame) == signal->digest},
    };
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        if (!parts[i].good) {
            FAIL(ret_problem, PROBLEM_UNREADABLE, "", "its %s is not what its frame says",
                    parts[i].what);
        }
    }
    return outcome_good();
}

outcome signal_line_read(struct text line, struct arena *arena, struct archive_signal *ret_signal,
        struct problem *ret_problem) {
    json_error_t error;
    const char *key = NULL;
    struct archive_signal signal = {0};
    json_t *object = json_loadb(line.start, line.length, JSON_REJECT_DUPLICATES, &error);
    bool good = json_is_object(object) && fill(arena, object, &signal, &key);
    json_decref(object);
    if (arena->refused) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for what is imported");
    }
    if (!good) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "", "%s%s", key == NULL ? error.text : key,
                key == NULL ? "" : " is missing or out of its range");
    }
    TRY(signal_line_judge(&signal, ret_problem));
    *ret_signal = signal;
    return outcome_good();
}
