#include "base/json.h"

#include "base/quantity.h"

#include <assert.h>
#include <string.h>

void json_init(struct json_writer *json, struct text_builder *out) {
    *json = (struct json_writer){.out = out};
}

static void add_indent(struct json_writer *json) {
    text_add_char(json->out, '\n');
    for (unsigned i = 0; i < json->depth; i++) {
        text_add_string(json->out, "  ");
    }
}

/* Length of the well-formed UTF-8 sequence at the start, 0 where there is none (RFC 3629, section 4). */
static size_t sequence_length(const unsigned char *at, size_t left) {
    const unsigned char first = at[0];
    size_t length = 0;
    unsigned char low = 0x80;
    unsigned char high = 0xBF;
    if (first < 0x80) {
        return 1;
    } else if (first >= 0xC2 && first <= 0xDF) {
        length = 2;
    } else if (first >= 0xE0 && first <= 0xEF) {
        length = 3;
        low = first == 0xE0 ? 0xA0 : 0x80;
        high = first == 0xED ? 0x9F : 0xBF;
    } else if (first >= 0xF0 && first <= 0xF4) {
        length = 4;
        low = first == 0xF0 ? 0x90 : 0x80;
        high = first == 0xF4 ? 0x8F : 0xBF;
    }
    if (length == 0 || length > left || at[1] < low || at[1] > high) {
        return 0;
    }
    for (size_t i = 2; i < length; i++) {
        if (at[i] < 0x80 || at[i] > 0xBF) {
            return 0;
        }
    }
    return length;
}

static void add_quoted(struct text_builder *out, struct text value) {
    text_add_char(out, '"');
    for (size_t i = 0; i < value.length;) {
        const unsigned char *at = (const unsigned char *)value.start + i;
        const size_t length = sequence_length(at, value.length - i);
        if (length == 0) {
            text_add_string(out, "\xEF\xBF\xBD");
            i += 1;
        } else if (at[0] == '"' || at[0] == '\\') {
            text_add_format(out, "\\%c", at[0]);
            i += 1;
        } else if (at[0] < 0x20 || at[0] == 0x7F) {
            text_add_format(out, "\\u%04x", at[0]);
            i += 1;
        } else if (length == 3 && at[0] == 0xE2 && at[1] == 0x80 && (at[2] & 0xFE) == 0xA8) {
            text_add_format(out, "\\u20%02x", at[2] - 0x80);
            i += 3;
        } else {
            text_add(out, (struct text){.start = (const char *)at, .length = length});
            i += length;
        }
    }
    text_add_char(out, '"');
}

static void begin_value(struct json_writer *json, const char *name) {
    if (json->depth > 0) {
        if (json->filled[json->depth]) {
            text_add_char(json->out, ',');
        }
        json->filled[json->depth] = true;
        add_indent(json);
    }
    if (name != NULL) {
        add_quoted(json->out, text_of(name));
        text_add_string(json->out, ": ");
    }
}

static void open_group(struct json_writer *json, const char *name, char bracket) {
    begin_value(json, name);
    text_add_char(json->out, bracket);
    json->depth++;
    assert(json->depth < JSON_DEPTH_MAX);
    json->filled[json->depth] = false;
}

static void close_group(struct json_writer *json, char bracket) {
    assert(json->depth > 0);
    const bool filled = json->filled[json->depth];
    json->depth--;
    if (filled) {
        add_indent(json);
    }
    text_add_char(json->out, bracket);
    if (json->depth == 0) {
        text_add_char(json->out, '\n');
    }
}

void json_open_object(struct json_writer *json, const char *name) {
    open_group(json, name, '{');
}

void json_close_object(struct json_writer *json) {
    close_group(json, '}');
}

void json_open_array(struct json_writer *json, const char *name) {
    open_group(json, name, '[');
}

void json_close_array(struct json_writer *json) {
    close_group(json, ']');
}

void json_add_text(struct json_writer *json, const char *name, struct text value) {
    begin_value(json, name);
    add_quoted(json->out, value);
}

void json_add_string(struct json_writer *json, const char *name, const char *value) {
    json_add_text(json, name, text_of(value));
}

void json_add_integer(struct json_writer *json, const char *name, int64_t value) {
    begin_value(json, name);
    text_add_format(json->out, "%lld", (long long)value);
}

void json_add_number(struct json_writer *json, const char *name, double value, int decimals) {
    begin_value(json, name);
    quantity_add_decimal(json->out, value, decimals);
}

void json_add_bool(struct json_writer *json, const char *name, bool value) {
    begin_value(json, name);
    text_add_string(json->out, value ? "true" : "false");
}

void json_add_null(struct json_writer *json, const char *name) {
    begin_value(json, name);
    text_add_string(json->out, "null");
}
