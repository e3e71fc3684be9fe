/* Spoken names: whether the panel has the words. */
#include "rules/parts.h"

#include <stdio.h>

static struct text words_at(struct text name, size_t start, size_t length) {
    return (struct text){.start = name.start + start, .length = length};
}

static size_t word_end(struct text name, size_t start) {
    while (start < name.length && name.start[start] != ' ') {
        start++;
    }
    return start;
}

static bool is_listed(const struct site_panel_profile *panel, struct text words) {
    for (size_t i = 0; i < panel->word_count; i++) {
        if (panel->words[i].length == words.length &&
                text_distance(panel->words[i], words, 0) == 0) {
            return true;
        }
    }
    return false;
}

/* The end of the longest entry of the list that begins here ("glass break" is one), or start when there is none. */
static size_t listed_end(const struct site_panel_profile *panel, struct text name, size_t start) {
    size_t found = start;
    for (size_t end = word_end(name, start); end > start; end = word_end(name, end + 1)) {
        if (is_listed(panel, words_at(name, start, end - start))) {
            found = end;
        }
        if (end >= name.length) {
            break;
        }
    }
    return found;
}

static struct text nearest(const struct site_panel_profile *panel, struct text word) {
    enum { MOST = 2 };
    const size_t letters = text_columns(word);
    struct text best = {0};
    size_t distance = letters <= MOST ? letters : MOST + 1;
    for (size_t i = 0; i < panel->word_count; i++) {
        const size_t away = text_distance(word, panel->words[i], MOST);
        if (away < distance) {
            distance = away;
            best = panel->words[i];
        }
    }
    return best;
}

static void look_words(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->zone_count && site->panel.word_count > 0; i++) {
        const struct text name = site->zones[i].name;
        size_t at = 0;
        while (at < name.length) {
            const size_t end = listed_end(&site->panel, name, at);
            if (end == at) {
                break;
            }
            at = end + 1;
        }
        if (at >= name.length) {
            continue;
        }
        struct words_about about = rules_about_zone(site, i);
        about.named = words_at(name, at, word_end(name, at) - at);
        const struct text near = nearest(&site->panel, about.named);
        about.detail = near.length == 0
                ? text_of("a word that is on the panel's list")
                : text_print(finder->arena, "\"%.*s\", or another word of the panel's list",
                          TEXT_ARGS(near));
        rules_add(finder, check, &about, "zones[%zu].says", i);
    }
}

static void look_many_words(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->zone_count && site->panel.word_most > 0; i++) {
        const struct text name = site->zones[i].name;
        int count = 0;
        for (size_t at = 0; at < name.length; count++) {
            const size_t end = listed_end(&site->panel, name, at);
            at = (end == at ? word_end(name, at) : end) + 1;
        }
        if (count > site->panel.word_most) {
            struct words_about about = rules_about_zone(site, i);
            about.count = count;
            about.named = text_print(finder->arena, "%.*s takes %d", TEXT_ARGS(site->panel.name),
                    site->panel.word_most);
            rules_add(finder, check, &about, "zones[%zu].says", i);
        }
    }
}

/* "zone 12" of "zone #", letters without case. */
static bool is_delivered_name(const struct site *site, const struct site_zone *zone) {
    char name[80];
    size_t length = 0;
    const struct text pattern = site->panel.delivered_name;
    for (size_t i = 0; i < pattern.length && length + 4 < sizeof name; i++) {
        if (pattern.start[i] == '#') {
            length += (size_t)snprintf(name + length, sizeof name - length, "%d", zone->number);
        } else {
            name[length++] = pattern.start[i];
        }
    }
    const struct text delivered = {.start = name, .length = length};
    return length > 0 && length == zone->name.length &&
            text_distance(delivered, zone->name, 0) == 0;
}

/* One note for all of them, at the first. */
static void look_delivered_names(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    struct text_builder list;
    size_t first = site->zone_count;
    size_t count = 0;
    text_builder_init(&list, finder->arena);
    for (size_t i = 0; i < site->zone_count; i++) {
        if (is_delivered_name(site, &site->zones[i])) {
            first = count == 0 ? i : first;
            text_add_format(&list, "%s%d", count++ == 0 ? "" : ", ", site->zones[i].number);
        }
    }
    if (count > 0) {
        struct words_about about = rules_about_zone(site, first);
        about.named = text_built(&list);
        about.detail = text_of(count == 1 ? "zone" : "zones");
        rules_add(finder, check, &about, "zones[%zu].says", first);
    }
}

static const struct rules_check rows[] = {
        {
                .id = "zones.name-as-delivered",
                .weight = FINDING_NOTE,
                .headline = "nobody learns where to look: {detail} {named} named as delivered",
                .why = "a number tells neither the user nor who comes to help which door it is",
                .remedy = "a name for each that says the place",
                .source = "common practice",
                .look = look_delivered_names,
        },
        {
                .id = "zones.word-not-spoken",
                .weight = FINDING_RISK,
                .headline = "the panel cannot say \"{named}\", which is in the name of {zone}",
                .why = "its voice has a fixed list of words, and this is not among them",
                .remedy = "{detail}",
                .source = "the panel's profile",
                .look = look_words,
        },
        {
                .id = "zones.words-many",
                .weight = FINDING_RISK,
                .headline = "the name of {zone} is cut short",
                .why = "it has {count} words; {named}",
                .remedy = "a shorter name",
                .source = "the panel's profile",
                .look = look_many_words,
        },
};

const struct rules_checks rules_spoken = RULES_ROWS(rows);
