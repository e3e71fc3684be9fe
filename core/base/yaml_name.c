#include "base/yaml_name.h"

#include <stdbool.h>

/* Letters, digits, blanks and hyphens after a letter are a plain value, but for the words that YAML reads as something
 * else; what is not plain goes in quotes. */
static bool is_plain(struct text name) {
    static const char *const words[] = {
            "yes", "no", "true", "false", "on", "off", "null", "y", "n"};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        if (text_is(name, words[i])) {
            return false;
        }
    }
    for (size_t i = 0; i < name.length; i++) {
        const char letter = name.start[i];
        const bool is_letter = letter >= 'a' && letter <= 'z';
        const bool follows = (letter >= '0' && letter <= '9') || letter == ' ' || letter == '-';
        if (!is_letter && (i == 0 || !follows)) {
            return false;
        }
    }
    return name.length > 0 && name.start[name.length - 1] != ' ';
}

void yaml_name_add(struct text_builder *out, struct text name) {
    if (is_plain(name)) {
        text_add(out, name);
        return;
    }
    text_add_char(out, '"');
    for (size_t i = 0; i < name.length; i++) {
        if (name.start[i] == '"' || name.start[i] == '\\') {
            text_add_char(out, '\\');
        }
        text_add_char(out, name.start[i]);
    }
    text_add_char(out, '"');
}
