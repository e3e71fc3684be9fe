/* JSON out, into a text builder. Reading is the shell's. Commas and nesting are kept by the writer.
 * (Values are added, not named after their type: json_string and its like are jansson's, and a program links both.) */
#ifndef LINTEL_BASE_JSON_H
#define LINTEL_BASE_JSON_H

#include "base/text.h"

#include <stdint.h>

enum { JSON_DEPTH_MAX = 32 };

/** A writer over a builder; indents by two spaces. */
struct json_writer {
    struct text_builder *out;
    unsigned depth;
    bool filled[JSON_DEPTH_MAX];
};

void json_init(struct json_writer *json, struct text_builder *out);
/** name NULL inside arrays and at the top. */
void json_open_object(struct json_writer *json, const char *name);
void json_close_object(struct json_writer *json);
void json_open_array(struct json_writer *json, const char *name);
void json_close_array(struct json_writer *json);
/** Text as a JSON string: quotes, backslashes, control bytes and U+2028/9 escaped, ill-formed UTF-8 replaced
 *  by U+FFFD (RFC 8259, section 7). */
void json_add_text(struct json_writer *json, const char *name, struct text value);
void json_add_string(struct json_writer *json, const char *name, const char *value);
void json_add_integer(struct json_writer *json, const char *name, int64_t value);
/** A number as quantity_add_decimal writes it. */
void json_add_number(struct json_writer *json, const char *name, double value, int decimals);
void json_add_bool(struct json_writer *json, const char *name, bool value);
void json_add_null(struct json_writer *json, const char *name);

#endif
