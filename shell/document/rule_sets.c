/* Rule sets: files of their own that a site names. Their limits are in the unit of what they limit. */
#include "document/reader.h"

#include "base/quantity.h"

#include <limits.h>
#include <string.h>

/* A whole number of up to nine digits, or false. */
static bool read_digits(struct text text, int32_t *ret_number) {
    int32_t number = 0;
    bool good = text.length > 0 && text.length <= 9;
    for (size_t i = 0; i < text.length && good; i++) {
        good = text.start[i] >= '0' && text.start[i] <= '9';
        number = good ? 10 * number + (text.start[i] - '0') : 0;
    }
    if (good) {
        *ret_number = number;
    }
    return good;
}

/* One end of a limit, told where it is no value of what is limited. */
static void read_end(struct reader *reader, int of, const struct node *row, const char *key,
        int32_t *ret_value) {
    const struct node *node = node_child(row, key);
    struct problem problem = {0};
    int32_t value = 0;
    if (node == NULL || node->kind != NODE_TEXT) {
        return;
    }
    switch (site_limit_kind(of)) {
    case SITE_SETTING_TIME:
        if (!quantity_read_seconds(node->text, ret_value, &problem).good) {
            reader_tell(reader, PROBLEM_BAD_VALUE, node, "%s", problem.text);
        }
        return;
    case SITE_SETTING_MILLISECONDS:
        if (!quantity_read_milliseconds(node->text, ret_value, &problem).good) {
            reader_tell(reader, PROBLEM_BAD_VALUE, node, "%s", problem.text);
        }
        return;
    case SITE_SETTING_NUMBER:
        if (!read_digits(node->text, ret_value)) {
            reader_tell(reader, PROBLEM_BAD_VALUE, node, "expected a whole number");
        }
        return;
    case SITE_SETTING_YES:
    case SITE_SETTING_CHOICE:
        while (value < site_setting_word_count((enum site_setting)of) &&
                !text_is(node->text, site_setting_word((enum site_setting)of, value))) {
            value++;
        }
        if (value == site_setting_word_count((enum site_setting)of)) {
            reader_tell(reader, PROBLEM_BAD_VALUE, node, "%s is never so; %s is one of its words",
                    site_limit_name(of), site_setting_word((enum site_setting)of, 0));
        }
        *ret_value = value;
        return;
    }
}

static void tell_unknown(struct reader *reader, const struct node *row, struct text name) {
    char quoted[GATHER_QUOTE_MAX * 4];
    char hint[GATHER_QUOTE_MAX * 4 + 32];
    struct gather_nearest nearest = {.wanted = name};
    const struct node *node = node_child(row, "limits");
    for (int of = 0; of < SITE_LIMIT_COUNT; of++) {
        gather_offer(&nearest, text_of(site_limit_name(of)));
    }
    reader_tell(reader, PROBLEM_BAD_VALUE, node == NULL ? row : node,
            "%s cannot be limited; a key of panel can, such as exit-delay%s",
            gather_quote(name, quoted), gather_hint(&nearest, hint));
}

static void settle_limit(struct reader *reader, const struct node *row, struct site_limit *limit) {
    limit->of = site_limit_find(limit->of_text);
    limit->least = INT_MIN;
    limit->most = INT_MAX;
    if (limit->of_text.length == 0) {
        return; /* told: the key is missing */
    }
    if (limit->of == SITE_LIMIT_COUNT) {
        tell_unknown(reader, row, limit->of_text);
        return;
    }
    const enum site_setting_kind kind = site_limit_kind(limit->of);
    const bool word = kind == SITE_SETTING_CHOICE || kind == SITE_SETTING_YES;
    const bool ends = limit->least_text.length > 0 || limit->most_text.length > 0;
    if (word != (limit->is_text.length > 0) || word == ends) {
        reader_tell(reader, PROBLEM_MISSING, row,
                word ? "%s is a choice: write is:, not least: or most:"
                     : "%s is a time or a number: write least: or most:, or both",
                site_limit_name(limit->of));
        return;
    }
    if (word) {
        read_end(reader, limit->of, row, "is", &limit->least);
        limit->most = limit->least;
        return;
    }
    limit->has_also = limit->also_text.length > 0;
    read_end(reader, limit->of, row, "least", &limit->least);
    read_end(reader, limit->of, row, "most", &limit->most);
    read_end(reader, limit->of, row, "also", &limit->also);
    if (limit->least > limit->most) {
        reader_tell(reader, PROBLEM_BAD_VALUE, row, "the least is more than the most");
    }
}

void settle_rule_set(struct reader *reader, const struct node *root, void *read) {
    struct site_rule_set *set = read;
    const struct node *rows = node_child(root, "limits");
    for (size_t i = 0; i < set->limit_count; i++) {
        const struct node *row = node_item(rows, i);
        if (row != NULL && row->kind == NODE_MAP) {
            const size_t before = reader_enter(reader, "limits");
            (void)reader_enter_index(reader, i);
            settle_limit(reader, row, &set->limits[i]);
            reader_leave(reader, before);
        }
    }
}

void read_rule_sets(struct reader *reader, const struct node *root) {
    struct site *site = &reader->document->site;
    const struct node *names = node_child(node_child(root, "site"), "rules");
    if (names == NULL || names->kind != NODE_LIST || site->rule_count == 0) {
        return;
    }
    struct site_rule_set *sets =
            ARENA_ARRAY(&reader->document->arena, struct site_rule_set, names->count);
    if (sets == NULL) {
        reader->gatherer.refused = true;
        return;
    }
    const enum key_walk walk = reader->walk;
    const size_t before = reader_enter(reader, "site");
    (void)reader_enter(reader, "rules");
    reader->walk = KEY_WALK_VALUES; /* a rule set refers to nothing: one walk reads it */
    for (const struct node *name = names->first; name != NULL; name = name->next) {
        struct site_rule_set *set = &sets[site->rule_set_count];
        if (name->kind == NODE_TEXT && include_rule_set(reader, name, set)) {
            site->rule_set_count++;
        }
    }
    reader->walk = walk;
    reader_leave(reader, before);
    site->rule_sets = sets;
}
