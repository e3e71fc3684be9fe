#include "signals/sia.h"

enum { NUMBER_DIGITS_MOST = 4, CODE_LETTERS = 2 };

/* Source: ANSI/SIA DC-03, from memory, fairly sure. */
/* clang-format off */
static const struct {
    const char *code;
    const char *name;
} modifiers[] = {
    {"ti", "time"},       {"da", "date"},         {"ri", "area"},  {"id", "user"}, {"pi", "peripheral"},
    {"ai", "automatic"},  {"va", "value"},        {"lv", "level"}, {"pt", "path"}, {"ss", "sub-subscriber"},
};
/* clang-format on */

static bool capital(char letter) {
    return letter >= 'A' && letter <= 'Z';
}

static bool small(char letter) {
    return letter >= 'a' && letter <= 'z';
}

static bool digit(char letter) {
    return letter >= '0' && letter <= '9';
}

/** Printable, and nothing that would end the packet, the data or the block they stand in. */
static bool plain(char letter) {
    return letter >= ' ' && letter <= '~' && letter != '/' && letter != '|' && letter != '[' &&
            letter != ']';
}

/** Where the packet that begins here ends. */
static size_t packet_end(struct text source, size_t begins) {
    size_t end = begins;
    while (end < source.length && source.start[end] != '/') {
        end++;
    }
    return end;
}

static bool read_code(
        struct text packet, size_t at, struct sia_part *ret_part, struct signal_fault *ret_fault) {
    if (packet.length < CODE_LETTERS || !capital(packet.start[0]) || !capital(packet.start[1])) {
        return signal_fault(ret_fault, SIGNAL_FAULT_CODE, at);
    }
    for (size_t i = CODE_LETTERS; i < packet.length; i++) {
        if (!digit(packet.start[i]) || i >= CODE_LETTERS + NUMBER_DIGITS_MOST) {
            return signal_fault(ret_fault, SIGNAL_FAULT_NUMBER, at + i);
        }
    }
    *ret_part = (struct sia_part){
            .code = {packet.start, CODE_LETTERS},
            .value = {packet.start + CODE_LETTERS, packet.length - CODE_LETTERS},
    };
    return true;
}

static bool read_modifier(
        struct text packet, size_t at, struct sia_part *ret_part, struct signal_fault *ret_fault) {
    if (packet.length <= CODE_LETTERS || !small(packet.start[1])) {
        return signal_fault(ret_fault, SIGNAL_FAULT_MODIFIER, at);
    }
    for (size_t i = CODE_LETTERS; i < packet.length; i++) {
        if (!plain(packet.start[i])) {
            return signal_fault(ret_fault, SIGNAL_FAULT_BYTE, at + i);
        }
    }
    *ret_part = (struct sia_part){
            .modifier = true,
            .code = {packet.start, CODE_LETTERS},
            .value = {packet.start + CODE_LETTERS, packet.length - CODE_LETTERS},
    };
    return true;
}

bool sia_read(struct text source, size_t at, struct sia *ret_sia, struct signal_fault *ret_fault) {
    if (source.length == 0 || (source.start[0] != 'N' && source.start[0] != 'O')) {
        return signal_fault(ret_fault, SIGNAL_FAULT_NEW_OR_OLD, at);
    }
    struct sia sia = {.old = source.start[0] == 'O'};
    bool event = false;
    size_t begins = 1;
    do {
        size_t end = packet_end(source, begins);
        struct text packet = {source.start + begins, end - begins};
        if (sia.count == SIA_PART_MAX) {
            return signal_fault(ret_fault, SIGNAL_FAULT_TOO_MANY, at + begins);
        }
        struct sia_part *part = &sia.parts[sia.count++];
        bool modifier = packet.length > 0 && small(packet.start[0]);
        if (!(modifier ? read_modifier(packet, at + begins, part, ret_fault)
                       : read_code(packet, at + begins, part, ret_fault))) {
            return false;
        }
        event = event || !modifier;
        begins = end + 1;
    } while (begins <= source.length);
    if (!event) {
        return signal_fault(ret_fault, SIGNAL_FAULT_CODE, at + source.length);
    }
    *ret_sia = sia;
    return true;
}

void sia_write(const struct sia *sia, struct text_builder *builder) {
    text_add_char(builder, sia->old ? 'O' : 'N');
    for (size_t i = 0; i < sia->count; i++) {
        if (i > 0) {
            text_add_char(builder, '/');
        }
        text_add(builder, sia->parts[i].code);
        text_add(builder, sia->parts[i].value);
    }
}

const char *sia_modifier_name(struct text code) {
    for (size_t i = 0; i < sizeof modifiers / sizeof modifiers[0]; i++) {
        if (text_is(code, modifiers[i].code)) {
            return modifiers[i].name;
        }
    }
    return "";
}
