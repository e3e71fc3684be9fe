/* What a panel profile says of the settings: what it offers, in which steps, and what stands in it when delivered. */
#include "document/reader.h"

#include <string.h>

/* Gives the setting of a child's key, or SITE_SETTING_COUNT (told, with the nearest). */
static enum site_setting find_setting(struct reader *reader, const struct node *child) {
    char quoted[GATHER_QUOTE_MAX * 4];
    char hint[GATHER_QUOTE_MAX * 4 + 32];
    struct gather_nearest nearest = {.wanted = child->key->text};
    const enum site_setting found = site_setting_find(child->key->text);
    if (found != SITE_SETTING_COUNT) {
        return found;
    }
    for (int setting = 0; setting < SITE_SETTING_COUNT; setting++) {
        gather_offer(&nearest, text_of(site_setting_key((enum site_setting)setting)));
    }
    reader_tell(reader, PROBLEM_BAD_VALUE, child->key,
            "%s is no setting of a panel%s; docs/site-file.md lists those of panel",
            gather_quote(child->key->text, quoted), gather_hint(&nearest, hint));
    return found;
}

/* One value of a setting, as the site file has it: seconds, a number, a choice, 0 or 1. */
static bool read_one(struct reader *reader, enum site_setting setting, const struct node *node,
        int32_t *ret_value) {
    const struct key *key = key_of_setting(setting);
    bool yes = false;
    int choice = 0;
    bool good = false;
    switch (site_setting_kind(setting)) {
    case SITE_SETTING_TIME:
        return value_seconds(reader, key, node, ret_value);
    case SITE_SETTING_MILLISECONDS:
        return value_milliseconds(reader, key, node, ret_value);
    case SITE_SETTING_NUMBER:
        return value_number(reader, key, node, ret_value);
    case SITE_SETTING_YES:
        good = value_yes(reader, key, node, &yes);
        *ret_value = yes ? 1 : 0;
        return good;
    case SITE_SETTING_CHOICE:
        good = value_choice(reader, key, node, &choice);
        *ret_value = choice;
        return good;
    }
    return false;
}

static bool add_word(struct reader *reader, enum site_setting setting, const struct node *node,
        struct site_offer *offer) {
    int32_t value = 0;
    if (!read_one(reader, setting, node, &value)) {
        return false;
    }
    offer->choices |= UINT32_C(1) << value;
    return true;
}

/* A list of single values, or of words. */
static bool read_list_offer(struct reader *reader, enum site_setting setting,
        const struct node *node, struct site_offer *offer) {
    const enum site_setting_kind kind = site_setting_kind(setting);
    const bool words = kind == SITE_SETTING_YES || kind == SITE_SETTING_CHOICE;
    bool good = true;
    int32_t *values = ARENA_ARRAY(&reader->document->arena, int32_t, node->count);
    if (values == NULL) {
        reader->gatherer.refused = true;
        return false;
    }
    if (node->count == 0) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node,
                "an empty list: the panel would offer nothing; leave the key out where the manual "
                "does not say");
        return false;
    }
    for (const struct node *item = node->first; item != NULL; item = item->next) {
        if (words) {
            good = add_word(reader, setting, item, offer) && good;
        } else {
            good = read_one(reader, setting, item, &values[offer->value_count]) && good;
            offer->value_count++;
        }
    }
    offer->values = values;
    return good;
}

/* The unit of the second end is the first one's too: 10..300 ms. Where the first has its own, that counts. */
static struct text with_unit_of(struct reader *reader, struct text low, struct text high) {
    size_t digits = 0;
    while (digits < high.length && high.start[digits] >= '0' && high.start[digits] <= '9') {
        digits++;
    }
    for (size_t i = 0; i < low.length; i++) {
        if (low.start[i] < '0' || low.start[i] > '9') {
            return low;
        }
    }
    return text_print(&reader->document->arena, "%.*s%.*s", TEXT_ARGS(low),
            (int)(high.length - digits), high.start + digits);
}

/* A from-to of times or of numbers. */
static bool read_range_offer(struct reader *reader, enum site_setting setting,
        const struct node *node, struct site_offer *offer) {
    struct span span = {0, 0};
    struct node ends[2] = {*node, *node};
    if (site_setting_kind(setting) == SITE_SETTING_TIME) {
        if (!value_span(reader, key_of_setting(setting), node, &span)) {
            return false;
        }
        offer->low = span.low_s;
        offer->high = span.high_s;
        return true;
    }
    if (!value_is_text(reader, node, "a from-to, such as 1..6")) {
        return false;
    }
    size_t at = 0;
    while (at + 1 < node->text.length && memcmp(node->text.start + at, "..", 2) != 0) {
        at++;
    }
    if (at + 1 < node->text.length) {
        ends[0].text.length = at;
        ends[1].text.start += at + 2;
        ends[1].text.length -= at + 2;
    }
    if (site_setting_kind(setting) == SITE_SETTING_MILLISECONDS) {
        ends[0].text = with_unit_of(reader, ends[0].text, ends[1].text);
    }
    if (!read_one(reader, setting, &ends[0], &offer->low) ||
            !read_one(reader, setting, &ends[1], &offer->high)) {
        return false;
    }
    if (offer->low > offer->high) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node,
                "%d..%d runs backwards; the smaller end comes first", offer->low, offer->high);
        return false;
    }
    return true;
}

static bool read_offer(struct reader *reader, enum site_setting setting, const struct node *node,
        struct site_offer *ret_offer) {
    const enum site_setting_kind kind = site_setting_kind(setting);
    struct site_offer offer = {.said = true};
    bool good = false;
    if (node->kind == NODE_LIST) {
        good = read_list_offer(reader, setting, node, &offer);
    } else if (kind == SITE_SETTING_YES || kind == SITE_SETTING_CHOICE) {
        good = add_word(reader, setting, node, &offer);
    } else {
        good = read_range_offer(reader, setting, node, &offer);
    }
    if (good) {
        *ret_offer = offer;
    }
    return good;
}

/* The three delays have keys of their own in a profile. */
static bool stands_by_itself(enum site_setting setting) {
    return setting == SITE_SET_EXIT_DELAY || setting == SITE_SET_ENTRY_DELAY ||
            setting == SITE_SET_ABORT_WINDOW;
}

static void read_step(struct reader *reader, enum site_setting setting, const struct node *node,
        int32_t *ret_step) {
    const enum site_setting_kind kind = site_setting_kind(setting);
    int32_t step = 0;
    if (kind == SITE_SETTING_YES || kind == SITE_SETTING_CHOICE) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node,
                "%s is no time and no number: it has no steps; its words go under offers",
                site_setting_key(setting));
    } else if (read_one(reader, setting, node, &step)) {
        if (step == 0) {
            reader_tell(reader, PROBLEM_BAD_VALUE, node, "a step of 0; write 1 or more");
        }
        *ret_step = step;
    }
}

static void read_delivered(struct reader *reader, struct site_panel_profile *panel,
        enum site_setting setting, const struct node *node) {
    int32_t value = 0;
    if (read_one(reader, setting, node, &value)) {
        panel->delivered[setting] = value;
        panel->delivered_said[setting] = true;
    }
}

void read_offers(
        struct reader *reader, const struct key *key, const struct node *node, void *base) {
    struct site_panel_profile *panel = base;
    if (node->kind != NODE_MAP) {
        if (node->kind != NODE_BROKEN) {
            reader_tell(reader, PROBLEM_BAD_VALUE, node,
                    "expected a mapping from settings, such as {siren-time: %s}",
                    key->type == KEY_OFFERS ? "60..900 s" : "60 s");
        }
        return;
    }
    for (const struct node *child = node->first; child != NULL; child = child->next) {
        const size_t before = reader_enter(reader, child->key->text.start);
        const enum site_setting setting = find_setting(reader, child);
        if (setting == SITE_SETTING_COUNT) {
            /* told */
        } else if (key->type == KEY_STEPS) {
            read_step(reader, setting, child, &panel->steps[setting]);
        } else if (key->type == KEY_DELIVERED) {
            read_delivered(reader, panel, setting, child);
        } else if (stands_by_itself(setting)) {
            reader_tell(reader, PROBLEM_BAD_VALUE, child,
                    "%s has a key of its own in a panel profile; write it there",
                    site_setting_key(setting));
        } else {
            (void)read_offer(reader, setting, child, &panel->offers[setting]);
        }
        reader_leave(reader, before);
    }
}
