/* What stands in a mapping under a name that is no key of it: the key that was meant, codes that belong elsewhere. */
#include "document/reader.h"

#include <string.h>

/* What others call a list or mapping of the site file, or an act; too far from our word for the nearest one to find it.
 * Common practice. */
static const struct {
    const char *table;
    const char *said;
    const char *ours;
} synonyms[] = {
        {"site file", "persons", "people"},
        {"site file", "person", "people"},
        {"site file", "users", "people"},
        {"site file", "sensors", "devices"},
        {"site file", "detectors", "devices"},
        {"site file", "partitions", "areas"},
        {"site file", "drawing", "building"},
        {"routines[].steps[]", "arm", "set"},
        {"routines[].steps[]", "disarm", "unset"},
        {"routines[].steps[]", "enter", "come"},
        {"routines[].steps[]", "leave", "go"},
};

struct gather_nearest key_nearest(const struct key_table *table, struct text wanted) {
    struct gather_nearest nearest = {.wanted = wanted};
    for (size_t i = 0; i < sizeof synonyms / sizeof synonyms[0]; i++) {
        if (strcmp(table->path, synonyms[i].table) == 0 &&
                text_distance(wanted, text_of(synonyms[i].said), 0) == 0) {
            nearest.best = text_of(synonyms[i].ours);
            return nearest;
        }
    }
    for (size_t i = 0; i < table->key_count; i++) {
        gather_offer(&nearest, text_of(table->keys[i].name));
    }
    return nearest;
}

bool key_is_misspelt(const struct key_table *table, const struct node *map, const char *name) {
    const struct node *child = map == NULL || map->kind != NODE_MAP ? NULL : map->first;
    for (; child != NULL; child = child->next) {
        if (key_find(table, child->key->text) == NULL &&
                text_is(key_nearest(table, child->key->text).best, name)) {
            return true;
        }
    }
    return false;
}

static bool has_letter(struct text text) {
    for (size_t i = 0; i < text.length; i++) {
        const char small = (char)(text.start[i] | 0x20);
        if (small >= 'a' && small <= 'z') {
            return true;
        }
    }
    return false;
}

/* A code, or what is to be one, in a mapping about whoever or whatever has to do with codes. The name of a file is
 * meant for site.codes. */
static bool is_code(const struct key_table *table, const struct node *child) {
    static const char *const tables[] = {
            "people[]", "keypads[]", "site", "panel", "routines[].steps[]"};
    static const char *const words[] = {"code", "codes", "pin", "password", "passcode", "pin-code",
            "user-code", "master-code", "installer-code", "duress-code"};
    bool about_codes = false;
    bool code = false;
    for (size_t i = 0; i < sizeof tables / sizeof tables[0]; i++) {
        about_codes = about_codes || strcmp(table->path, tables[i]) == 0;
    }
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        code = code || text_distance(child->key->text, text_of(words[i]), 0) == 0;
    }
    const bool file = text_is(key_nearest(table, child->key->text).best, "codes") &&
            child->kind == NODE_TEXT && has_letter(child->text);
    return about_codes && code && !file;
}

/* "-{name: x}" and {name:x} are for YAML a key with all of that in it. */
static const char *missing_blank(struct text key) {
    if (key.length > 1 && key.start[0] == '-') {
        return "write a blank after the dash";
    }
    return memchr(key.start, ':', key.length) != NULL ? "write a blank after the colon" : NULL;
}

/* The other mappings of a site file that have a key of this name. */
struct elsewhere {
    const struct key_table *tables[3];
    size_t count;
};

static void add_elsewhere(
        const struct key_table *table, struct text name, struct elsewhere *elsewhere) {
    enum { ENOUGH = sizeof elsewhere->tables / sizeof elsewhere->tables[0] };
    bool known = elsewhere->count == ENOUGH || key_find(table, name) == NULL;
    for (size_t i = 0; i < elsewhere->count; i++) {
        known = known || elsewhere->tables[i] == table;
    }
    if (!known) {
        elsewhere->tables[elsewhere->count++] = table;
    }
    for (size_t i = 0; i < table->key_count; i++) {
        if (table->keys[i].table != NULL) {
            add_elsewhere(table->keys[i].table, name, elsewhere);
        }
    }
}

/* One or two places can be told; what many have is no hint. */
static void tell_elsewhere(struct reader *reader, const struct key_table *table,
        const struct node *child, const char *quoted) {
    struct elsewhere elsewhere = {.count = 0};
    add_elsewhere(&key_site_table, child->key->text, &elsewhere);
    if (elsewhere.count == 0 || elsewhere.count > 2) {
        reader_tell(reader, PROBLEM_BAD_VALUE, child->key,
                "there is no key %s here; docs/site-file.md lists those of %s", quoted,
                table->path);
    } else {
        const bool both = elsewhere.count == 2;
        reader_tell(reader, PROBLEM_BAD_VALUE, child->key,
                "there is no key %s here; it is one of %s%s%s", quoted, elsewhere.tables[0]->path,
                both ? " and of " : "", both ? elsewhere.tables[1]->path : "");
    }
}

static void tell_unknown(
        struct reader *reader, const struct key_table *table, const struct node *child) {
    char quoted[GATHER_QUOTE_MAX * 4];
    char hint[GATHER_QUOTE_MAX * 4 + 32];
    const struct gather_nearest nearest = key_nearest(table, child->key->text);
    (void)gather_quote(child->key->text, quoted);
    if (is_code(table, child)) {
        const struct key *code = key_find(table, text_of("code"));
        const size_t before = reader_enter(reader, child->key->text.start);
        reader_tell(reader, PROBLEM_BAD_VALUE, child->key, "%s",
                code != NULL ? code->secret : "take it out; " KEY_CODES_STAND_ELSEWHERE);
        reader_leave(reader, before);
    } else if (missing_blank(child->key->text) != NULL) {
        reader_tell(reader, PROBLEM_BAD_VALUE, child->key, "%s", missing_blank(child->key->text));
    } else if (nearest.best.start != NULL) {
        reader_tell(reader, PROBLEM_BAD_VALUE, child->key, "there is no key %s here%s", quoted,
                gather_hint(&nearest, hint));
    } else {
        tell_elsewhere(reader, table, child, quoted);
    }
}

void tell_unknown_keys(
        struct reader *reader, const struct key_table *table, const struct node *map) {
    for (const struct node *child = map->first; child != NULL; child = child->next) {
        if (key_find(table, child->key->text) == NULL) {
            tell_unknown(reader, table, child);
        }
    }
}
