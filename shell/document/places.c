/* Paths of the core and where they stand in the text. */
#include "document/places.h"

#include "document/keys.h"

#include <string.h>

/* What stands there, or NUL behind the end. */
static char byte_at(struct text path, size_t at) {
    return at < path.length ? path.start[at] : '\0';
}

static struct text rest_of(struct text path, size_t at) {
    return (struct text){path.start + at, path.length - at};
}

static bool ends_key(char after) {
    return after == '\0' || after == '.' || after == '[';
}

/* Names may hold dots, so the longest key that fits is meant; NULL: none does. */
static const struct node *longest_child(const struct node *map, struct text path) {
    const struct node *best = NULL;
    if (map == NULL || map->kind != NODE_MAP) {
        return NULL;
    }
    for (const struct node *child = map->first; child != NULL; child = child->next) {
        const struct text key = child->key->text;
        if (key.length > 0 && key.length <= path.length &&
                memcmp(path.start, key.start, key.length) == 0 &&
                ends_key(byte_at(path, key.length)) &&
                (best == NULL || key.length > best->key->text.length)) {
            best = child;
        }
    }
    return best;
}

/* Reads "[12]"; gives the bytes read, 0: it is none. */
static size_t read_index(struct text path, size_t *ret_index) {
    size_t index = 0;
    size_t at = 1;
    for (; byte_at(path, at) >= '0' && byte_at(path, at) <= '9' && index < DOCUMENT_VALUE_MAX;
            at++) {
        index = index * 10 + (size_t)(byte_at(path, at) - '0');
    }
    if (at == 1 || byte_at(path, at) != ']') {
        return 0;
    }
    *ret_index = index;
    return at + 1;
}

static size_t length_of_key(struct text path) {
    size_t length = 0;
    while (!ends_key(byte_at(path, length))) {
        length++;
    }
    return length;
}

/* One step from a node; gives the bytes read, 0: it is no path. ret_child: NULL when it is not there. */
static size_t step_down(const struct node *node, struct text path, struct places_step *ret_step,
        const struct node **ret_child) {
    *ret_step = (struct places_step){.is_index = byte_at(path, 0) == '['};
    if (ret_step->is_index) {
        const size_t length = read_index(path, &ret_step->index);
        *ret_child = length == 0 ? NULL : node_item(node, ret_step->index);
        return length;
    }
    *ret_child = longest_child(node, path);
    ret_step->key = (struct text){
            .start = path.start,
            .length = *ret_child == NULL ? length_of_key(path) : (*ret_child)->key->text.length,
    };
    return ret_step->key.length;
}

bool places_follow(const struct node *root, struct text path, struct places_path *ret_path) {
    const struct node *node = root;
    *ret_path = (struct places_path){.node = root};
    while (path.length > 0) {
        if (ret_path->count == DOCUMENT_DEPTH_MAX) {
            return false;
        }
        struct places_step *step = &ret_path->steps[ret_path->count];
        const size_t length = step_down(node, path, step, &node);
        if (length == 0) {
            return false;
        }
        ret_path->count++;
        if (node != NULL) {
            ret_path->node = node;
            ret_path->known = ret_path->count;
        }
        path = rest_of(path, length);
        if (byte_at(path, 0) == '.') {
            path = rest_of(path, 1);
            if (ends_key(byte_at(path, 0))) {
                return false;
            }
        }
    }
    return ret_path->count > 0;
}

/* The table of what stands at a path's end but for its last step; NULL: in none. */
static const struct key_table *table_of(const struct places_path *path) {
    const struct key_table *table = &key_site_table;
    for (size_t i = 0; i + 1 < path->count && table != NULL; i++) {
        if (!path->steps[i].is_index) {
            const struct key *key = key_find(table, path->steps[i].key);
            table = key == NULL ? NULL : key->table;
        }
    }
    return table;
}

struct text document_usual(const struct document *document, struct text path) {
    struct places_path places = {0};
    if (document->file.root == NULL || !places_follow(document->file.root, path, &places) ||
            places.known + 1 != places.count || places.node->kind != NODE_MAP ||
            places.steps[places.known].is_index) {
        return (struct text){0};
    }
    const struct key_table *table = table_of(&places);
    const struct text last = places.steps[places.known].key;
    const struct key *key = table == NULL ? NULL : key_find(table, last);
    if (document->standard != NULL) {
        const struct node *all = node_child(document->standard, "panel");
        const struct node *value = key == NULL ? NULL : node_child(all, key->name);
        return table == &key_panel_table && value != NULL ? value->text : (struct text){0};
    }
    const bool taken =
            key != NULL && key->usual != NULL && key->usual[0] != '\0' && key->usual[0] != '(';
    return taken ? text_of(key->usual) : (struct text){0};
}

bool document_place(
        const struct document *document, struct text path, int *ret_line, int *ret_column) {
    struct places_path places = {0};
    *ret_line = 1;
    *ret_column = 1;
    if (document->file.root != NULL) {
        (void)places_follow(document->file.root, path, &places);
    }
    if (places.known == 0) {
        return false;
    }
    /* Of a mapping or list the key is shown, as its first line may be far below. */
    const struct node *node = places.node;
    const struct node *shown = node->kind != NODE_TEXT && node->key != NULL ? node->key : node;
    *ret_line = shown->line;
    *ret_column = shown->column;
    return true;
}
