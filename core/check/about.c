#include "check/about.h"

#include <stddef.h>
#include <string.h>

/* Lists of the site file. one: how one of it is called. name_at: its name in its struct, unless it goes by number. */
struct list {
    const char *key;
    const char *one;
    size_t array_at;
    size_t count_at;
    size_t size;
    size_t name_at;
    bool numbered;
};

/* clang-format off */
#define LIST(key, one, field, count, type, name) \
    {key, one, offsetof(struct site, field), offsetof(struct site, count), sizeof(struct type), \
        offsetof(struct type, name), false}
static const struct list lists[] = {
    {"zones", "zone", offsetof(struct site, zones), offsetof(struct site, zone_count),
        sizeof(struct site_zone), offsetof(struct site_zone, number), true},
    LIST("areas",    "area",    areas,    area_count,    site_area,    name),
    LIST("doors",    "door",    doors,    door_count,    site_door,    name),
    LIST("keypads",  "keypad",  keypads,  keypad_count,  site_keypad,  name),
    LIST("devices",  "device",  devices,  device_count,  site_device,  name),
    LIST("people",   "person",  people,   person_count,  site_person,  name),
    LIST("ways",     "way",     ways,     way_count,     site_way,     name),
    LIST("routines", "routine", routines, routine_count, site_routine, name),
    LIST("without",  "without", removals, removal_count, site_removal, routine),
};
#undef LIST
/* clang-format on */

/* Reads "[12]" at the start; gives the bytes read, 0: it is none. */
static size_t read_index(struct text path, size_t *ret_index) {
    enum { MOST = 100000 };
    size_t index = 0;
    size_t at = 1;
    if (path.length == 0 || path.start[0] != '[') {
        return 0;
    }
    for (; at < path.length && path.start[at] >= '0' && path.start[at] <= '9' && index < MOST;
            at++) {
        index = index * 10 + (size_t)(path.start[at] - '0');
    }
    if (at == 1 || at >= path.length || path.start[at] != ']') {
        return 0;
    }
    *ret_index = index;
    return at + 1;
}

static struct text without_first(struct text text, size_t bytes) {
    return (struct text){.start = text.start + bytes, .length = text.length - bytes};
}

/* ".legs[1].in" as " legs 2 in". */
static void add_rest(struct text_builder *out, struct text rest) {
    while (rest.length > 0) {
        size_t index = 0;
        const size_t bytes = read_index(rest, &index);
        if (bytes > 0) {
            text_add_format(out, " %zu", index + 1);
            rest = without_first(rest, bytes);
        } else {
            text_add_char(out, rest.start[0] == '.' ? ' ' : rest.start[0]);
            rest = without_first(rest, 1);
        }
    }
}

/* "zone 6", "way yard way"; false: there is no such thing. */
static bool add_thing(
        struct text_builder *out, const struct site *site, const struct list *list, size_t index) {
    const char *array = NULL;
    size_t count = 0;
    memcpy(&array, (const char *)site + list->array_at, sizeof array);
    memcpy(&count, (const char *)site + list->count_at, sizeof count);
    if (index >= count) {
        return false;
    }
    const char *field = array + index * list->size + list->name_at;
    if (list->numbered) {
        int32_t number = 0;
        memcpy(&number, field, sizeof number);
        text_add_format(out, "%s %d", list->one, number);
    } else {
        struct text name;
        memcpy(&name, field, sizeof name);
        text_add_format(out, "%s %.*s", list->one, TEXT_ARGS(name));
    }
    return true;
}

/* ---- what is drawn ---------------------------------------------------------------------------------------------- */

static bool are_same(const struct site_opening *a, const struct site_opening *b) {
    return a->room == b->room && a->to == b->to && a->kind == b->kind && a->name.length == 0 &&
            b->name.length == 0 && a->door == SITE_NONE && b->door == SITE_NONE;
}

/* By its name, its door, or the rooms that it joins: "opening hall to kitchen door"; of several like it, which. */
static bool add_opening(struct text_builder *out, const struct site *site, size_t index) {
    const struct site_building *building = &site->building;
    if (index >= building->opening_count) {
        return false;
    }
    const struct site_opening *opening = &building->openings[index];
    text_add_string(out, "opening ");
    if (opening->name.length > 0 || opening->door != SITE_NONE) {
        text_add(out, opening->name.length > 0 ? opening->name : site->doors[opening->door].name);
        return true;
    }
    size_t like_it = 1;
    for (size_t i = 0; i < index; i++) {
        like_it += are_same(&building->openings[i], opening);
    }
    if (opening->room != SITE_NONE) {
        text_add_format(out, "%.*s ", TEXT_ARGS(building->rooms[opening->room].name));
    }
    if (opening->to != SITE_NONE) {
        text_add_format(out, "to %.*s ", TEXT_ARGS(building->rooms[opening->to].name));
    }
    text_add_string(out, site_opening_kind_name(opening->kind));
    if (like_it > 1) {
        text_add_format(out, " %zu", like_it);
    }
    return true;
}

/* By what stands there. */
static bool add_drawn_place(struct text_builder *out, const struct site *site, size_t index) {
    if (index >= site->building.place_count) {
        return false;
    }
    const struct site_place *place = &site->building.places[index];
    const struct text what = place->device != SITE_NONE ? site->devices[place->device].name
            : place->keypad != SITE_NONE                ? site->keypads[place->keypad].name
            : place->fixture != SITE_FIXTURE_NONE       ? text_of(site_fixture_name(place->fixture))
                                                        : place->protects;
    text_add_format(out, "place of %.*s", TEXT_ARGS(what));
    return true;
}

/* Lists of the drawing: what is drawn has no number, and mostly no name of its own. */
static const struct {
    const char *key;
    bool (*add)(struct text_builder *out, const struct site *site, size_t index);
} drawn[] = {{"building.openings", add_opening}, {"building.places", add_drawn_place}};

/* False: it is not drawn. */
static bool add_drawn(struct text_builder *out, const struct site *site, struct text path) {
    for (size_t i = 0; i < sizeof drawn / sizeof drawn[0]; i++) {
        size_t index = 0;
        const size_t length = strlen(drawn[i].key);
        if (!text_begins(path, text_of(drawn[i].key))) {
            continue;
        }
        const size_t bytes = read_index(without_first(path, length), &index);
        if (bytes > 0 && drawn[i].add(out, site, index)) {
            add_rest(out, without_first(path, length + bytes));
            return true;
        }
    }
    return false;
}

struct text about_place(const struct site *site, struct text path, struct arena *arena) {
    struct text_builder out;
    text_builder_init(&out, arena);
    for (size_t i = 0; i < sizeof lists / sizeof lists[0]; i++) {
        const size_t length = strlen(lists[i].key);
        size_t index = 0;
        if (path.length < length || memcmp(path.start, lists[i].key, length) != 0) {
            continue;
        }
        const size_t bytes = read_index(without_first(path, length), &index);
        if (bytes > 0) {
            if (!add_thing(&out, site, &lists[i], index)) {
                return path;
            }
            add_rest(&out, without_first(path, length + bytes));
            return text_built(&out);
        }
    }
    if (!add_drawn(&out, site, path)) {
        add_rest(&out, path);
    }
    return text_built(&out);
}

/* "entry time, area shop"; "follower hold, zone 2". */
static void add_timer(struct text_builder *out, const struct site *site, panel_timer timer) {
    const enum panel_timer_kind kind = panel_timer_kind_of(timer);
    const unsigned index = panel_timer_index_of(timer);
    text_add_string(out, panel_timer_kind_name(kind));
    if (kind < PANEL_TIMER_CROSS && index < site->area_count) {
        text_add_format(out, ", area %.*s", TEXT_ARGS(site->areas[index].name));
    } else if (kind >= PANEL_TIMER_CROSS && kind < PANEL_TIMER_LOCKOUT &&
            index < site->zone_count) {
        text_add_format(out, ", zone %d", site->zones[index].number);
    }
}

/* The zone to blame, unless the place is in it already. */
static void add_culprit(struct text_builder *out, const struct site *site,
        const struct proof_answer *answer, struct text place) {
    if (answer->verdict != PROOF_GOES_WRONG || answer->culprit_zone >= site->zone_count) {
        return;
    }
    const struct text own = text_print(out->arena, "zones[%u]", (unsigned)answer->culprit_zone);
    if (place.length < own.length || memcmp(place.start, own.start, own.length) != 0) {
        text_add_format(out, ", zone %d", site->zones[answer->culprit_zone].number);
    }
}

struct text about_finding(const struct site *site, const struct check_report *report,
        const struct check_finding *finding, struct arena *arena) {
    struct text_builder out;
    const struct text place = finding->base.place;
    text_builder_init(&out, arena);
    text_add(&out, about_place(site, place, arena));
    if (finding->base.answer_index != FINDING_NO_ANSWER) {
        const struct proof_answer *answer = &report->answers[finding->base.answer_index];
        if (place.length == 0 && answer->verdict == PROOF_GOES_WELL) {
            add_timer(&out, site, answer->margin_timer);
        } else if (place.length == 0) {
            text_add_format(&out, "routine %.*s", TEXT_ARGS(answer->routine.name));
        }
        add_culprit(&out, site, answer, place);
    }
    return text_built(&out);
}
