/* What follows from a mistake that is told already, and is therefore not told: a mistake is told once. */
#include "document/reader.h"

#include <string.h>

enum { KEY_LONGEST = 40 };

bool reader_told(const struct reader *reader, const struct node *node) {
    const struct document *document = reader->document;
    for (size_t i = 0; node != NULL && node->line > 0 && i < document->problem_count; i++) {
        const struct document_problem *problem = &document->problems[i];
        if (problem->line == node->line && problem->column == node->column &&
                text_equal(problem->file, node->file->name)) {
            return true;
        }
    }
    return false;
}

bool reader_told_of(const struct reader *reader, const struct key_table *table,
        const struct node *map, const char *name) {
    const struct node *child = node_child(map, name);
    return child == NULL ? key_is_misspelt(table, map, name) : reader_told(reader, child);
}

/* A list of the site file: its node (NULL: not there), the table of its lines (NULL: it has none), and whether it, or
 * what it stands in, was told. */
struct list {
    const struct node *node;
    const struct key_table *table;
    bool told;
};

/* path: as "panel.modes". */
static struct list find_list(const struct reader *reader, const char *path) {
    struct list list = {.node = reader->document->file.root, .table = &key_site_table};
    while (path != NULL && list.table != NULL) {
        char name[KEY_LONGEST];
        const size_t length = strcspn(path, ".");
        memcpy(name, path, length);
        name[length] = '\0';
        const struct key *key = key_find(list.table, text_of(name));
        list.told = list.told || reader_told_of(reader, list.table, list.node, name);
        list.node = node_child(list.node, name);
        list.table = key == NULL ? NULL : key->table;
        path = path[length] == '\0' ? NULL : path + length + 1;
    }
    return list;
}

bool reader_told_of_list(const struct reader *reader, enum thing thing) {
    const char *path = thing_path(thing);
    return path != NULL && find_list(reader, path).told;
}

static bool has_value(const struct node *map, struct text wanted) {
    const struct node *child = map->kind == NODE_MAP ? map->first : NULL;
    while (child != NULL && !(child->kind == NODE_TEXT && text_equal(child->text, wanted))) {
        child = child->next;
    }
    return child != NULL;
}

/* The keys by which a thing is called, and of what else they are the name. */
static const struct calling {
    enum thing thing; /* THING_COUNT: any */
    const char *key;
    enum thing other; /* THING_COUNT: of nothing */
} callings[] = {
        {THING_COUNT, "name", THING_COUNT},
        {THING_ZONE, "device", THING_DEVICE},
        {THING_ZONE, "number", THING_COUNT},
        {THING_BREAK_IN_OPENING, "door", THING_DOOR},
};

/* Whether the line's key was told, or what it refers to, and what is wanted may be what it was to say. */
static bool may_say(const struct reader *reader, const struct key_table *table,
        const struct node *line, const struct calling *calling, struct text wanted) {
    const bool refers = calling->other != THING_COUNT;
    const bool number = strcmp(calling->key, "number") == 0 && value_is_digits(wanted);
    const bool other = refers && thing_index(reader, calling->other, wanted) != SITE_NONE;
    const bool told = reader_told_of(reader, table, line, calling->key) ||
            (refers && reader_told_of_list(reader, calling->other));
    return told && (number || other || has_value(line, wanted));
}

/* Of break-ins by hand the one list wants the others, and says so. */
static bool is_by_hand(enum thing thing) {
    return thing == THING_BREAK_IN_ROOM || thing == THING_BREAK_IN_OPENING ||
            thing == THING_BREAK_IN_GOAL;
}

bool reader_told_of_name(const struct reader *reader, enum thing thing, struct text wanted) {
    const char *path = thing_path(thing);
    const struct list list = path == NULL ? (struct list){0} : find_list(reader, path);
    const bool lines = list.table != NULL && list.node != NULL && list.node->kind == NODE_LIST;
    bool told = list.told || (list.node == NULL && is_by_hand(thing));
    for (const struct node *line = lines ? list.node->first : NULL; line != NULL && !told;
            line = line->next) {
        for (size_t i = 0; i < sizeof callings / sizeof callings[0]; i++) {
            const bool of_it = callings[i].thing == thing || callings[i].thing == THING_COUNT;
            told = told || (of_it && may_say(reader, list.table, line, &callings[i], wanted));
        }
    }
    return told;
}
