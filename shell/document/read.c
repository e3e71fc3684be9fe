/* Walks the tree by the key table into plain structs. */
#include "document/reader.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

_Static_assert(sizeof(enum site_behaviour) == sizeof(int), "choices are stored as int");
_Static_assert(sizeof(enum site_act) == sizeof(int), "choices are stored as int");

static void reader_add_path(struct reader *reader, const char *separator, const char *word) {
    const size_t left = sizeof reader->path - reader->path_length;
    const int length = snprintf(reader->path + reader->path_length, left, "%s%s", separator, word);
    if (length > 0) {
        reader->path_length += (size_t)length < left ? (size_t)length : left - 1;
    }
}

size_t reader_enter(struct reader *reader, const char *key) {
    const size_t before = reader->path_length;
    reader_add_path(reader, before == 0 ? "" : ".", key);
    return before;
}

size_t reader_enter_index(struct reader *reader, size_t index) {
    char word[32];
    const size_t before = reader->path_length;
    (void)snprintf(word, sizeof word, "[%zu]", index);
    reader_add_path(reader, "", word);
    return before;
}

void reader_leave(struct reader *reader, size_t before) {
    reader->path_length = before;
    reader->path[before] = '\0';
}

void reader_tell(struct reader *reader, enum problem_kind kind, const struct node *node,
        const char *format, ...) {
    char what[600];
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(what, sizeof what, format, arguments);
    va_end(arguments);
    gather_add(&reader->gatherer, kind, node->file, node->line, node->column, reader->path, "%s",
            what);
}

static void *field_of(const struct key *key, void *base) {
    return key->at == KEY_NOWHERE ? NULL : (char *)base + key->at;
}

static void store(void *field, const void *value, size_t size) {
    if (field != NULL) {
        memcpy(field, value, size);
    }
}

static void set_flag(const struct key *key, void *base) {
    if (key->flag_at != 0) {
        *(bool *)((char *)base + key->flag_at) = true;
    }
}

static void store_count(const struct key *key, void *base, size_t count) {
    memcpy((char *)base + key->count_at, &count, sizeof count);
}

/* ---- values */

static void read_times(
        struct reader *reader, const struct key *key, const struct node *node, void *base) {
    struct site_delay *delays = field_of(key, base);
    static const struct key name_key = {.type = KEY_NAME, .low = 1, .high = 60};
    size_t count = 0;
    if (node->kind != NODE_MAP) {
        if (node->kind != NODE_BROKEN) {
            reader_tell(reader, PROBLEM_BAD_VALUE, node, "expected a mapping such as {yard: 30 s}");
        }
        return;
    }
    if (node->count > SITE_DELAY_MAX) {
        reader_tell(reader, PROBLEM_LIMIT, node, "%zu entry delays; at most %d", node->count,
                SITE_DELAY_MAX);
    }
    for (const struct node *child = node->first; child != NULL && count < SITE_DELAY_MAX;
            child = child->next) {
        struct site_delay delay = {0};
        const size_t before = reader_enter(reader, child->key->text.start);
        (void)value_text(reader, &name_key, child->key, &delay.name);
        (void)value_seconds(reader, key, child, &delay.seconds_s);
        delays[count++] = delay;
        reader_leave(reader, before);
    }
    store_count(key, base, count);
}

static void read_time(struct reader *reader, const struct key *key, const struct node *node,
        void *field, void *base) {
    struct span span;
    int32_t number;
    bool good = false;
    if (key->type == KEY_SPAN) {
        good = value_span(reader, key, node, &span);
    } else if (key->type == KEY_SECONDS) {
        good = value_seconds(reader, key, node, &number);
    } else if (key->type == KEY_MILLISECONDS) {
        good = value_milliseconds(reader, key, node, &number);
    } else if (value_clock(reader, node, &span)) {
        good = true;
        number = span.low_s;
        if (key->type == KEY_CLOCK && span.low_s != span.high_s) {
            reader_tell(reader, PROBLEM_BAD_VALUE, node, "expected one time of day, not a from-to");
            good = false;
        }
    }
    if (good && (key->type == KEY_SPAN || key->type == KEY_CLOCK_SPAN)) {
        store(field, &span, sizeof span);
    } else if (good) {
        store(field, &number, sizeof number);
    }
    if (good) {
        set_flag(key, base);
    }
}

static void read_texts(struct reader *reader, const struct key *key, const struct node *node,
        void *field, void *base) {
    const struct text *texts;
    size_t count;
    if (value_texts(reader, key, node, &texts, &count)) {
        store(field, &texts, sizeof texts);
        store_count(key, base, count);
        set_flag(key, base);
    }
}

static void read_pairs(struct reader *reader, const struct key *key, const struct node *node,
        void *field, void *base) {
    const struct site_point *points;
    size_t count;
    if (value_pairs(reader, key, node, &points, &count)) {
        store(field, &points, sizeof points);
        store_count(key, base, count);
    }
}

static void read_value(
        struct reader *reader, const struct key *key, const struct node *node, void *base) {
    void *field = field_of(key, base);
    struct text text;
    struct site_point point;
    uint32_t bits;
    int32_t number;
    int choice;
    bool yes;
    switch (key->type) {
    case KEY_TEXT:
    case KEY_NAME:
        if (value_text(reader, key, node, &text)) {
            store(field, &text, sizeof text);
        }
        break;
    case KEY_WORDS:
        if (value_words(reader, key, node, &text)) {
            store(field, &text, sizeof text);
        }
        break;
    case KEY_TEXTS:
        read_texts(reader, key, node, field, base);
        break;
    case KEY_YES:
        if (value_yes(reader, key, node, &yes)) {
            store(field, &yes, sizeof yes);
        }
        break;
    case KEY_NUMBER:
        if (value_number(reader, key, node, &number)) {
            store(field, &number, sizeof number);
            set_flag(key, base);
        }
        break;
    case KEY_DATE:
        if (value_date(reader, node, &number)) {
            store(field, &number, sizeof number);
        }
        break;
    case KEY_TENTHS:
        if (value_tenths(reader, key, node, &number)) {
            store(field, &number, sizeof number);
        }
        break;
    case KEY_SECONDS:
    case KEY_MILLISECONDS:
    case KEY_SPAN:
    case KEY_CLOCK:
    case KEY_CLOCK_SPAN:
        read_time(reader, key, node, field, base);
        break;
    case KEY_CHOICE:
        if (value_choice(reader, key, node, &choice)) {
            store(field, &choice, sizeof choice);
            set_flag(key, base);
        }
        break;
    case KEY_CHOICES:
        if (value_choices(reader, key, node, &bits)) {
            store(field, &bits, sizeof bits);
            set_flag(key, base);
        }
        break;
    case KEY_LENGTH:
        if (value_length(reader, key, node, &number)) {
            store(field, &number, sizeof number);
            set_flag(key, base);
        }
        break;
    case KEY_PAIR:
        if (value_pair(reader, key, node, &point)) {
            store(field, &point, sizeof point);
            set_flag(key, base);
        }
        break;
    case KEY_PAIRS:
        read_pairs(reader, key, node, field, base);
        break;
    case KEY_MEASURE:
        (void)value_measure(reader, key, node, field);
        break;
    case KEY_WALKING:
        (void)value_walking(reader, key, node, field);
        break;
    case KEY_NUMBERS:
        (void)value_numbers(reader, key, node, field);
        break;
    case KEY_OFFERS:
    case KEY_STEPS:
    case KEY_DELIVERED:
        read_offers(reader, key, node, base);
        break;
    case KEY_EVENTS:
        read_events(reader, key, node, base);
        break;
    case KEY_TIMES:
        read_times(reader, key, node, base);
        break;
    case KEY_PANEL:
        (void)include_panel(reader, node, field);
        break;
    case KEY_STANDARD:
        if (include_standard(reader, node, &text)) {
            store(field, &text, sizeof text);
        }
        break;
    case KEY_DEVICE:
        (void)include_device(reader, node, field);
        break;
    case KEY_MATERIALS:
        (void)include_materials(reader, node, field);
        break;
    case KEY_REF:
    case KEY_REFS:
    case KEY_MODE_CHOICE:
    case KEY_MODE_REF:
    case KEY_STARTS:
    case KEY_TABLE:
    case KEY_LIST:
    case KEY_INLINE_LIST:
    case KEY_TYPE_COUNT:
        assert(false);
        break;
    }
}

void reader_value(
        struct reader *reader, const struct key *key, const struct node *node, void *base) {
    read_value(reader, key, node, base);
}

/* ---- references */

static void read_refs(
        struct reader *reader, const struct key *key, const struct node *node, void *field) {
    uint32_t bits = 0;
    if (node->kind == NODE_TEXT && !node->null) {
        const int index = thing_find(reader, key->thing, node);
        bits = index >= 0 && index < 32 ? UINT32_C(1) << index : 0;
    } else if (node->kind != NODE_LIST) {
        if (node->kind != NODE_BROKEN) {
            reader_tell(reader, PROBLEM_BAD_VALUE, node,
                    "expected a list of %s names, such as [one, two]", thing_noun(key->thing));
        }
        return;
    }
    for (const struct node *item = node->kind == NODE_LIST ? node->first : NULL; item != NULL;
            item = item->next) {
        const int index = thing_find(reader, key->thing, item);
        if (index >= 32) {
            reader_tell(reader, PROBLEM_LIMIT, item, "only the first 32 of them can be named here");
        } else if (index >= 0) {
            bits |= UINT32_C(1) << index;
        }
    }
    if (node->kind == NODE_LIST && node->count < (size_t)key->low) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node,
                "an empty list; at least one %s is wanted (without the line: %.*s)",
                thing_noun(key->thing), (int)strlen(key->usual) - 2, key->usual + 1);
    }
    store(field, &bits, sizeof bits);
}

static int read_mode_value(struct reader *reader, const struct key *key, const struct node *node) {
    int value = key->type == KEY_MODE_CHOICE ? SITE_BEHAVIOUR_COUNT : SITE_NONE;
    if (key->type == KEY_MODE_REF) {
        return thing_find(reader, key->thing, node);
    }
    (void)value_choice(reader, key, node, &value);
    return value;
}

static void read_by_mode(
        struct reader *reader, const struct key *key, const struct node *node, void *field) {
    int *by_mode = field;
    if (key->type == KEY_MODE_REF && node->kind == NODE_TEXT) {
        const int value = read_mode_value(reader, key, node);
        for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
            by_mode[mode] = value;
        }
        return;
    }
    if (node->kind != NODE_MAP) {
        if (node->kind != NODE_BROKEN) {
            reader_tell(reader, PROBLEM_BAD_VALUE, node,
                    "expected a mapping from modes, such as {night: %s}",
                    key->type == KEY_MODE_REF ? "short" : "out");
        }
        return;
    }
    for (const struct node *child = node->first; child != NULL; child = child->next) {
        const size_t before = reader_enter(reader, child->key->text.start);
        const int mode = thing_find_text(reader, THING_MODE, child->key->text, child->key);
        const int value = read_mode_value(reader, key, child);
        if (mode >= 0) {
            by_mode[mode] = value;
        }
        reader_leave(reader, before);
    }
}

static void read_starts(struct reader *reader, const struct node *node, void *field) {
    struct site_start *starts = field;
    if (node->kind != NODE_MAP) {
        if (node->kind != NODE_BROKEN) {
            reader_tell(reader, PROBLEM_BAD_VALUE, node,
                    "expected a mapping from areas, such as {shop: full}");
        }
        return;
    }
    for (const struct node *child = node->first; child != NULL; child = child->next) {
        const size_t before = reader_enter(reader, child->key->text.start);
        const int area = thing_find_text(reader, THING_AREA, child->key->text, child->key);
        const bool unset = child->kind == NODE_TEXT && text_is(child->text, "unset");
        const int mode = unset ? SITE_NONE : thing_find(reader, THING_MODE, child);
        if (area >= 0 && area < SITE_AREA_MAX && mode >= 0) {
            starts[area] = (struct site_start){.set = true, .mode = mode};
        }
        reader_leave(reader, before);
    }
}

/* `unset: yes` and the like: the verb alone, as a fob needs no keypad. */
static bool is_bare_verb(const struct key *key, const struct node *node) {
    return key->act != 0 && key->thing == THING_KEYPAD && node->kind == NODE_TEXT && node->plain &&
            (text_is(node->text, "yes") || text_is(node->text, "true"));
}

static void read_reference(
        struct reader *reader, const struct key *key, const struct node *node, void *base) {
    void *field = field_of(key, base);
    if (key->type == KEY_REFS) {
        read_refs(reader, key, node, field);
        set_flag(key, base);
    } else if (key->type == KEY_STARTS) {
        read_starts(reader, node, field);
    } else if (key->type != KEY_REF) {
        read_by_mode(reader, key, node, field);
    } else if (!is_bare_verb(key, node)) {
        const int index = thing_find(reader, key->thing, node);
        store(field, &index, sizeof index);
    }
}

/* A reference that is not written. */
static void clear_reference(const struct key *key, void *base) {
    void *field = field_of(key, base);
    const int none = key->type == KEY_MODE_CHOICE ? SITE_BEHAVIOUR_COUNT : SITE_NONE;
    if (field != NULL && key->type == KEY_REF) {
        store(field, &none, sizeof none);
    } else if (key->type == KEY_MODE_CHOICE || key->type == KEY_MODE_REF) {
        for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
            ((int *)field)[mode] = none;
        }
    }
}

/* ---- tables and lists */

static bool make_list(
        struct reader *reader, const struct key *key, const struct node *node, void *base) {
    const struct key_table *table = key->table;
    if (node->kind != NODE_LIST) {
        if (node->kind != NODE_BROKEN) {
            reader_tell(reader, PROBLEM_BAD_VALUE, node,
                    "expected a list: lines that begin with \"- \", or [ ... ]; an empty one is "
                    "[]");
        }
        return false;
    }
    size_t count = node->count;
    if (count > (size_t)key->high) {
        reader_tell(reader, PROBLEM_LIMIT, node, "%zu entries; at most %d", count, key->high);
        count = (size_t)key->high;
    }
    if (count < (size_t)key->low) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node, "an empty list; at least one entry is wanted");
    }
    if (key->type == KEY_LIST) {
        void *array = arena_take(&reader->document->arena, count, table->element_size);
        if (array == NULL) {
            reader->gatherer.refused = true;
            return false;
        }
        memcpy((char *)base + key->at, &array, sizeof array);
    }
    store_count(key, base, table->first + count);
    return true;
}

static void read_list(
        struct reader *reader, const struct key *key, const struct node *node, void *base) {
    const struct key_table *table = key->table;
    char *array = (char *)base + key->at;
    size_t count = 0;
    if (reader->walk == KEY_WALK_VALUES && !make_list(reader, key, node, base)) {
        return;
    }
    if (node->kind != NODE_LIST) {
        return;
    }
    memcpy(&count, (char *)base + key->count_at, sizeof count);
    if (key->type == KEY_LIST) {
        void *pointer;
        memcpy(&pointer, array, sizeof pointer);
        array = pointer;
    }
    reader->routine = table == &key_step_table ? base : reader->routine;
    const struct node *item = node->first;
    for (size_t i = table->first; i < count && item != NULL; i++, item = item->next) {
        const size_t before = reader_enter_index(reader, i - table->first);
        reader_walk(reader, table, item, array + i * table->element_size);
        reader_leave(reader, before);
    }
    reader->routine = table == &key_step_table ? NULL : reader->routine;
}

static void read_default(struct reader *reader, const struct key_table *table,
        const struct key *key, const struct node *map, void *base) {
    if (key->usual == NULL && !key_is_misspelt(table, map, key->name)) {
        reader_tell(reader, PROBLEM_MISSING, map, "the key \"%s\" is missing: %s", key->name,
                key->help);
    } else if (key->usual != NULL && key->usual[0] != '\0' && key->usual[0] != '(') {
        const struct node usual = {
                .kind = NODE_TEXT,
                .plain = true,
                .line = map->line,
                .column = map->column,
                .text = text_of(key->usual),
                .file = map->file,
        };
        read_value(reader, key, &usual, base);
    }
}

static void read_key(struct reader *reader, const struct key_table *table, const struct key *key,
        const struct node *map, void *base) {
    const struct node *child = node_child(map, key->name);
    const struct node *standard =
            reader->walk == KEY_WALK_VALUES ? standard_value(reader, table, key->name, map) : NULL;
    const bool nested =
            key->type == KEY_TABLE || key->type == KEY_LIST || key->type == KEY_INLINE_LIST;
    if (reader->walk == KEY_WALK_VALUES && key_walk(key) != KEY_WALK_VALUES) {
        clear_reference(key, base);
    }
    if (child == NULL) {
        if (standard != NULL) {
            read_value(reader, key, standard, base);
        } else if (reader->walk == KEY_WALK_VALUES) {
            read_default(reader, table, key, map, base);
        }
        return;
    }
    const size_t before = reader_enter(reader, key->name);
    if (key->type == KEY_TABLE) {
        reader_walk(reader, key->table, child, (char *)base + key->at);
        if (child->kind == NODE_MAP) {
            set_flag(key, base);
        }
    } else if (nested) {
        read_list(reader, key, child, base);
    } else if (reader->walk == key_walk(key)) {
        if (key_walk(key) == KEY_WALK_VALUES) {
            read_value(reader, key, child, base);
            if (standard != NULL) {
                standard_compare(reader, key, child, standard);
            }
        } else {
            read_reference(reader, key, child, base);
        }
    }
    reader_leave(reader, before);
}

void reader_walk(
        struct reader *reader, const struct key_table *table, const struct node *map, void *base) {
    if (map->kind != NODE_MAP) {
        if (reader->walk == KEY_WALK_VALUES && map->kind != NODE_BROKEN) {
            reader_tell(reader, PROBLEM_BAD_VALUE, map, "expected keys and values, such as %s",
                    table->example[0] == '\0' ? "\"site: {name: ...}\"" : table->example);
        }
        if (reader->walk != KEY_WALK_VALUES) {
            return;
        }
    } else if (reader->walk == KEY_WALK_VALUES) {
        tell_unknown_keys(reader, table, map);
    }
    for (size_t i = 0; i < table->key_count; i++) {
        if (map->kind == NODE_MAP) {
            read_key(reader, table, &table->keys[i], map, base);
        } else if (key_walk(&table->keys[i]) != KEY_WALK_VALUES) {
            clear_reference(&table->keys[i], base);
        }
    }
}
