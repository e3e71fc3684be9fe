/* What one key alone cannot say: defaults that depend on others, names used twice, what the panel cannot do. */
#include "document/reader.h"

#include "base/quantity.h"

#include <string.h>

static const struct node *panel_node(const struct node *root) {
    return node_child(root, "panel");
}

/* The place of a key: its value, else the mapping it is missing from. */
static const struct node *place_of(const struct node *map, const char *key) {
    const struct node *child = node_child(map, key);
    return child == NULL ? map : child;
}

/* Two of a kind with one name: told at the second, naming the line of the first. */
void tell_twins(
        struct reader *reader, enum thing thing, const struct node *list, const char *path) {
    char quoted[GATHER_QUOTE_MAX * 4];
    const size_t count = thing_count(reader, thing);
    for (size_t i = 1; i < count; i++) {
        const struct text name = thing_name(reader, thing, i);
        size_t j = 0;
        while (j < i && !text_equal(thing_name(reader, thing, j), name)) {
            j++;
        }
        const struct node *second = node_item(list, i);
        const struct node *first = node_item(list, j);
        if (j == i || name.length == 0 || second == NULL || first == NULL) {
            continue;
        }
        const size_t before = reader_enter(reader, path);
        (void)reader_enter_index(reader, i);
        reader_tell(reader, PROBLEM_BAD_VALUE, place_of(second, "name"),
                "the name %s is used already in line %d; give each %s its own",
                gather_quote(name, quoted), place_of(first, "name")->line, thing_noun(thing));
        reader_leave(reader, before);
    }
}

static void settle_modes(struct reader *reader, const struct node *root) {
    char quoted[GATHER_QUOTE_MAX * 4];
    const struct site_settings *settings = &reader->document->site.settings;
    const struct node *list = node_child(panel_node(root), "modes");
    for (size_t i = SITE_MODE_NIGHT + 1; i < settings->mode_count; i++) {
        bool used = text_is(settings->modes[i].name, "unset");
        for (size_t j = 0; j < i; j++) {
            used = used || text_equal(settings->modes[i].name, settings->modes[j].name);
        }
        const struct node *node = node_item(list, i - SITE_MODE_NIGHT - 1);
        if (used && settings->modes[i].name.length > 0 && node != NULL) {
            reader_tell(reader, PROBLEM_BAD_VALUE, place_of(node, "name"),
                    "the name %s is taken; call this mode "
                    "otherwise",
                    gather_quote(settings->modes[i].name, quoted));
        }
    }
}

static void settle_mains(struct reader *reader, const struct node *root) {
    const struct site_settings *settings = &reader->document->site.settings;
    const struct node *panel = panel_node(root);
    if (panel == NULL || settings->mains_jitter_s <= settings->mains_delay_s) {
        return;
    }
    struct text_builder builder;
    text_builder_init(&builder, &reader->document->arena);
    text_add_string(&builder, "the spread of the mains report is ");
    quantity_add_seconds(&builder, settings->mains_jitter_s);
    text_add_string(&builder, ", its delay only ");
    quantity_add_seconds(&builder, settings->mains_delay_s);
    text_add_string(&builder, "; write mains-jitter no longer than mains-delay");
    const struct text text = text_built(&builder);
    reader_tell(
            reader, PROBLEM_BAD_VALUE, place_of(panel, "mains-jitter"), "%.*s", TEXT_ARGS(text));
}

static void settle_auto_set(struct reader *reader, const struct node *root) {
    struct site *site = &reader->document->site;
    const struct node *panel = panel_node(root);
    if (panel == NULL || site->settings.auto_set_at_s < 0 ||
            node_child(panel, "auto-set-area") != NULL) {
        return;
    }
    if (site->area_count == 1) {
        site->settings.auto_set_area = 0;
    } else {
        reader_tell(reader, PROBLEM_MISSING, place_of(panel, "auto-set-at"),
                "which area sets by itself? write auto-set-area beside auto-set-at");
    }
}

/* Source: SIA DC-05, four digits of 0 to 9 and B to F; DC-09, up to sixteen of 0 to F (both from memory). */
static void settle_account(struct reader *reader, const struct node *root) {
    const struct text account = reader->document->site.station.account;
    bool good = true;
    for (size_t i = 0; i < account.length; i++) {
        const char byte = account.start[i];
        good = good && ((byte >= '0' && byte <= '9') || (byte >= 'A' && byte <= 'F'));
    }
    if (!good) {
        reader_tell(reader, PROBLEM_BAD_VALUE, place_of(panel_node(root), "account"),
                "an account is digits and A to F, as the station says it");
    }
}

/* ---- zones */

static bool is_life_safety(enum site_behaviour behaviour) {
    return behaviour == SITE_HOLD_UP || behaviour == SITE_MEDICAL || behaviour == SITE_FIRE ||
            behaviour == SITE_GAS || behaviour == SITE_CO;
}

static void settle_behaviour(struct site_zone *zone) {
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        if (zone->in[mode] == SITE_BEHAVIOUR_COUNT) {
            zone->in[mode] = site_usual_in(zone->behaviour, mode);
        }
    }
}

static void settle_delay(struct reader *reader, const struct node *node, struct site_zone *zone) {
    const struct site_settings *settings = &reader->document->site.settings;
    const bool written = node_child(node, "delay") != NULL;
    bool wanting = false;
    zone->delay_idle = written;
    for (size_t mode = 0; mode < SITE_MODE_MAX; mode++) {
        if (zone->in[mode] != SITE_ENTRY) {
            zone->delay[mode] = SITE_NONE;
        } else if (zone->delay[mode] == SITE_NONE && settings->delay_count == 1 && !written) {
            zone->delay[mode] = 0;
        }
        zone->delay_idle = zone->delay_idle && zone->in[mode] != SITE_ENTRY;
        wanting = wanting ||
                (zone->in[mode] == SITE_ENTRY && zone->delay[mode] == SITE_NONE &&
                        mode < settings->mode_count);
    }
    if (wanting && !written && !key_is_misspelt(&key_zone_table, node, "delay") &&
            !(settings->delay_count == 0 && reader_told_of_list(reader, THING_DELAY))) {
        reader_tell(reader, PROBLEM_MISSING, node,
                settings->delay_count == 0
                        ? "an entry zone needs an entry delay; write one under panel, such as "
                          "entry-delays: {front: 30 s}"
                        : "which entry delay? there are several; write delay: NAME");
    }
}

static void settle_zone(struct reader *reader, const struct node *list, size_t index) {
    struct site *site = &reader->document->site;
    struct site_zone *zone = &site->zones[index];
    const struct node *node = node_item(list, index);
    if (node == NULL || node->kind != NODE_MAP) {
        return;
    }
    if (zone->input < 2 && node_child(node, "on") != NULL) {
        reader_tell(reader, PROBLEM_BAD_VALUE, place_of(node, "on"),
                "the first input's door stands with its device; write on: there, or input: 2 here");
    }
    settle_behaviour(zone);
    settle_delay(reader, node, zone);
    if (zone->area == SITE_NONE && node_child(node, "area") == NULL) {
        if (site->area_count == 1) {
            zone->area = 0;
        } else if (site->area_count > 1 && !key_is_misspelt(&key_zone_table, node, "area")) {
            reader_tell(reader, PROBLEM_MISSING, node,
                    "which area? there are several; write area: NAME");
        }
    }
    if (node_child(node, "bypassable") == NULL &&
            standard_value(reader, &key_zone_table, "bypassable", node) == NULL) {
        zone->bypassable = !is_life_safety(zone->behaviour);
    }
    if (node_child(node, "swinger") == NULL &&
            standard_value(reader, &key_zone_table, "swinger", node) == NULL) {
        zone->swinger = !is_life_safety(zone->behaviour);
    }
    if (zone->cross_with == (int)index) {
        reader_tell(reader, PROBLEM_BAD_VALUE, place_of(node, "cross-with"),
                "a zone is not its own partner; name "
                "another zone");
    }
}

/* A pair is one of two: who names a partner is named by it. */
static void settle_pairs(struct reader *reader, const struct node *list) {
    struct site *site = &reader->document->site;
    for (size_t i = 0; i < site->zone_count; i++) {
        struct site_zone *zone = &site->zones[i];
        if (zone->cross_with == SITE_NONE || zone->cross_with == (int)i) {
            continue;
        }
        struct site_zone *partner = &site->zones[zone->cross_with];
        if (partner->cross_with == SITE_NONE) {
            partner->cross_with = (int)i;
        } else if (partner->cross_with != (int)i) {
            const size_t before = reader_enter(reader, "zones");
            (void)reader_enter_index(reader, i);
            reader_tell(reader, PROBLEM_BAD_VALUE, place_of(node_item(list, i), "cross-with"),
                    "zone %d is a pair with another zone already; a pair is one of two",
                    partner->number);
            reader_leave(reader, before);
        }
    }
}

/* ---- people and ways */

static uint32_t all_areas(const struct reader *reader) {
    return (UINT32_C(1) << reader->document->site.area_count) - 1;
}

static void settle_user_modes(
        struct reader *reader, const struct node *node, struct site_person *person) {
    if (node_child(node, "modes") == NULL) {
        person->modes = (UINT32_C(1) << reader->document->site.settings.mode_count) - 1;
    }
}

static void settle_hours(
        struct reader *reader, const struct node *node, struct site_person *person) {
    enum { DAY_S = 86400 };
    const int32_t length_s = person->hours.high_s - person->hours.low_s;
    const size_t before = reader_enter(reader, "hours");
    if (person->has_hours && length_s == 0) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node_child(node, "hours"),
                "hours run from one time of day to another, such as \"07:00..19:00\"");
    } else if (person->has_hours && length_s > DAY_S) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node_child(node, "hours"),
                "these hours are longer than a day; leave the key out for every hour");
    }
    reader_leave(reader, before);
    person->has_hours = person->has_hours && length_s < DAY_S; /* 00:00..24:00 is every hour */
}

static void settle_people(struct reader *reader, const struct node *root) {
    struct site *site = &reader->document->site;
    const struct node *list = node_child(root, "people");
    for (size_t i = 0; i < site->person_count; i++) {
        struct site_person *person = &site->people[i];
        const struct node *node = node_item(list, i);
        if (node_child(node, "areas") == NULL) {
            person->areas = all_areas(reader);
        }
        const size_t before = reader_enter(reader, "people");
        (void)reader_enter_index(reader, i);
        settle_user_modes(reader, node, person);
        settle_hours(reader, node, person);
        reader_leave(reader, before);
        if (node_child(node, "code") == NULL) {
            person->has_code = !person->animal;
        }
    }
    for (size_t i = 0; i < site->device_count; i++) {
        if (!site->devices[i].areas_said) {
            site->devices[i].areas = all_areas(reader);
        }
    }
    list = node_child(root, "keypads");
    for (size_t i = 0; i < site->keypad_count; i++) {
        if (node_child(node_item(list, i), "areas") == NULL) {
            site->keypads[i].areas = all_areas(reader);
        }
    }
}

static void settle_way(struct reader *reader, const struct node *node, const struct site_way *way) {
    if (node->kind != NODE_MAP) {
        return;
    }
    const struct node *legs = node_child(node, "legs");
    for (size_t i = 0; i < way->leg_count; i++) {
        const struct node *leg = node_item(legs, i);
        const bool both = node_child(leg, "pass") != NULL && node_child(leg, "door") != NULL;
        const bool neither = node_child(leg, "pass") == NULL && node_child(leg, "door") == NULL;
        if (leg != NULL && leg->kind == NODE_MAP && (both || neither)) {
            const size_t before = reader_enter(reader, "legs");
            (void)reader_enter_index(reader, i);
            reader_tell(reader, PROBLEM_BAD_VALUE, leg,
                    "a leg passes one thing: write pass: ZONE or door: DOOR%s",
                    both ? ", not both" : "");
            reader_leave(reader, before);
        }
    }
}

static void settle_each(struct reader *reader, const struct node *root) {
    struct site *site = &reader->document->site;
    static const struct {
        const char *path;
        enum thing thing;
    } named[] = {
            {"areas", THING_AREA},
            {"doors", THING_DOOR},
            {"keypads", THING_KEYPAD},
            {"devices", THING_DEVICE},
            {"people", THING_PERSON},
            {"ways", THING_WAY},
            {"routines", THING_ROUTINE},
    };
    for (size_t i = 0; i < sizeof named / sizeof named[0]; i++) {
        tell_twins(reader, named[i].thing, node_child(root, named[i].path), named[i].path);
    }
    for (size_t i = 0; i < site->zone_count; i++) {
        const size_t before = reader_enter(reader, "zones");
        (void)reader_enter_index(reader, i);
        settle_zone(reader, node_child(root, "zones"), i);
        reader_leave(reader, before);
    }
    settle_pairs(reader, node_child(root, "zones"));
    for (size_t i = 0; i < site->way_count; i++) {
        const size_t before = reader_enter(reader, "ways");
        (void)reader_enter_index(reader, i);
        settle_way(reader, node_item(node_child(root, "ways"), i), &site->ways[i]);
        settle_measured(reader, node_item(node_child(root, "ways"), i), &site->ways[i]);
        reader_leave(reader, before);
    }
    for (size_t i = 0; i < site->routine_count; i++) {
        const size_t before = reader_enter(reader, "routines");
        (void)reader_enter_index(reader, i);
        reader->routine = &site->routines[i];
        settle_routine(reader, node_item(node_child(root, "routines"), i), &site->routines[i]);
        reader->routine = NULL;
        reader_leave(reader, before);
    }
}

void settle_site(struct reader *reader, const struct node *root) {
    if (root->kind != NODE_MAP) {
        return;
    }
    const size_t before = reader_enter(reader, "panel");
    settle_modes(reader, root);
    settle_mains(reader, root);
    settle_auto_set(reader, root);
    settle_account(reader, root);
    reader_leave(reader, before);
    settle_people(reader, root);
    settle_each(reader, root);
    settle_building(reader, root);
    settle_drawn_ways(reader, root);
    settle_break_ins(reader, root);
    settle_temporary(reader, root);
    read_rule_sets(reader, root);
    read_codes_file(reader, root);
}
