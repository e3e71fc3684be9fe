/* A firm's standard programming: a file of settings and zone options that stand where the site file says nothing. What
 * the site file says otherwise is a deviation, and listed. */
#include "document/reader.h"

#include <stdio.h>
#include <string.h>

/* Room for the fields of either table. */
union scratch {
    struct site site;
    struct site_zone zone;
};

/* What a standard can give: values that stand alone, none that names something of the house. */
static bool is_plain(const struct key *key) {
    return key->at != KEY_NOWHERE &&
            (key->type == KEY_YES || key->type == KEY_NUMBER || key->type == KEY_SECONDS ||
                    key->type == KEY_TENTHS || key->type == KEY_CHOICE);
}

static bool is_option(const struct key_table *table, const struct key *key) {
    const bool of_house = strcmp(key->name, "number") == 0 || strcmp(key->name, "input") == 0 ||
            strcmp(key->name, "behaviour") == 0;
    return is_plain(key) && (table != &key_zone_table || !of_house);
}

static void read_options(
        struct reader *reader, const struct key_table *table, const struct node *map) {
    char quoted[GATHER_QUOTE_MAX * 4];
    char hint[GATHER_QUOTE_MAX * 4 + 32];
    union scratch scratch;
    if (map->kind != NODE_MAP) {
        reader_tell(reader, PROBLEM_BAD_VALUE, map, "expected keys and values, such as %s",
                table == &key_zone_table ? "{chime: yes}" : "{exit-delay: 45 s}");
        return;
    }
    for (const struct node *child = map->first; child != NULL; child = child->next) {
        const struct key *key = key_find(table, child->key->text);
        struct gather_nearest nearest = {.wanted = child->key->text};
        if (key != NULL && is_option(table, key)) {
            const size_t before = reader_enter(reader, key->name);
            memset(&scratch, 0, sizeof scratch);
            reader_value(reader, key, child, &scratch);
            reader_leave(reader, before);
            continue;
        }
        for (size_t i = 0; i < table->key_count; i++) {
            if (is_option(table, &table->keys[i])) {
                gather_offer(&nearest, text_of(table->keys[i].name));
            }
        }
        reader_tell(reader, PROBLEM_BAD_VALUE, child->key, "a standard cannot give %s%s",
                gather_quote(child->key->text, quoted), gather_hint(&nearest, hint));
    }
}

static void read_zones(struct reader *reader, const struct node *map) {
    char quoted[GATHER_QUOTE_MAX * 4];
    if (map->kind != NODE_MAP) {
        reader_tell(reader, PROBLEM_BAD_VALUE, map,
                "expected a mapping from behaviours, such as {entry: {chime: yes}}");
        return;
    }
    for (const struct node *child = map->first; child != NULL; child = child->next) {
        bool known = false;
        for (int i = SITE_ENTRY; i < SITE_BEHAVIOUR_COUNT; i++) {
            known = known || text_is(child->key->text, site_behaviour_name((enum site_behaviour)i));
        }
        const size_t before = reader_enter(reader, child->key->text.start);
        if (known) {
            read_options(reader, &key_zone_table, child);
        } else {
            reader_tell(reader, PROBLEM_BAD_VALUE, child->key,
                    "%s is not a behaviour; entry, perimeter and follower are, for instance",
                    gather_quote(child->key->text, quoted));
        }
        reader_leave(reader, before);
    }
}

bool standard_read(struct reader *reader, const struct node *root, struct text *ret_name) {
    static const struct key name_key = {.type = KEY_NAME, .low = 1, .high = 60};
    static const struct key says_key = {.type = KEY_TEXT, .low = 0, .high = 200};
    char quoted[GATHER_QUOTE_MAX * 4];
    struct text says;
    const size_t problems = reader->document->problem_count;
    if (root->kind != NODE_MAP || node_child(root, "name") == NULL) {
        reader_tell(reader, PROBLEM_MISSING, root,
                "a standard begins with its name: \"name: ...\", then panel: and zones:");
        return false;
    }
    for (const struct node *child = root->first; child != NULL; child = child->next) {
        const size_t before = reader_enter(reader, child->key->text.start);
        if (text_is(child->key->text, "name")) {
            (void)value_text(reader, &name_key, child, ret_name);
        } else if (text_is(child->key->text, "says")) {
            (void)value_text(reader, &says_key, child, &says);
        } else if (text_is(child->key->text, "panel")) {
            read_options(reader, &key_panel_table, child);
        } else if (text_is(child->key->text, "zones")) {
            read_zones(reader, child);
        } else {
            reader_tell(reader, PROBLEM_BAD_VALUE, child->key,
                    "there is no key %s here; a standard has name, says, panel and zones",
                    gather_quote(child->key->text, quoted));
        }
        reader_leave(reader, before);
    }
    return reader->document->problem_count == problems && !reader->document->more_problems;
}

const struct node *standard_value(const struct reader *reader, const struct key_table *table,
        const char *key, const struct node *map) {
    const struct node *root = reader->document->standard;
    if (root == NULL || map == NULL || map->kind != NODE_MAP) {
        return NULL;
    }
    if (table == &key_panel_table) {
        return node_child(node_child(root, "panel"), key);
    }
    const struct node *behaviour = node_child(map, "behaviour");
    const struct node *zones = node_child(root, "zones");
    if (table != &key_zone_table || behaviour == NULL || behaviour->kind != NODE_TEXT ||
            zones == NULL || behaviour->text.start == NULL) {
        return NULL;
    }
    return node_child(node_child(zones, behaviour->text.start), key);
}

static bool has_same_value(struct reader *reader, const struct key *key, const struct node *one,
        const struct node *other) {
    union scratch a;
    union scratch b;
    memset(&a, 0, sizeof a);
    memset(&b, 0, sizeof b);
    reader_value(reader, key, one, &a);
    reader_value(reader, key, other, &b);
    return memcmp(&a, &b, sizeof a) == 0;
}

void standard_compare(struct reader *reader, const struct key *key, const struct node *own,
        const struct node *standard) {
    enum { FIRST = 16 };
    struct document *document = reader->document;
    struct site *site = &document->site;
    if (own->kind != NODE_TEXT || has_same_value(reader, key, own, standard)) {
        return;
    }
    if (site->deviation_count == document->deviation_capacity) {
        const size_t more = site->deviation_count == 0 ? FIRST : site->deviation_count * 2;
        struct site_deviation *grown = ARENA_ARRAY(&document->arena, struct site_deviation, more);
        if (grown == NULL) {
            reader->gatherer.refused = true;
            return;
        }
        if (site->deviation_count > 0) {
            memcpy(grown, site->deviations, site->deviation_count * sizeof *grown);
        }
        site->deviations = grown;
        document->deviation_capacity = more;
    }
    site->deviations[site->deviation_count++] =
            (struct site_deviation){.place = text_copy(&document->arena, text_of(reader->path)),
                    .own = own->text,
                    .standard = standard->text};
}
