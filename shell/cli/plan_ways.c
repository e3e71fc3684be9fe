#include "cli/plan_ways.h"

#include "plan/ways_layer.h"

#include <math.h>

enum { WAY_COLUMN = 2, MORE_COLUMN = 4, HANG = 2 };

static struct text keypad_name(const struct site *site, int keypad) {
    return keypad == SITE_NONE ? text_of("panel") : site->keypads[keypad].name;
}

/* A way that is not drawn belongs to no storey: it is told with each. */
static bool is_listed(const struct plan_listed *listed, const struct used_way *way) {
    struct walk_place at;
    return !house_ways_door(listed->house, way->door, &at) ||
            (at.storey >= listed->first && at.storey < listed->first + listed->count);
}

/* ---- in words */

static void add_line(struct layout *layout, size_t column, struct text_builder *line) {
    layout_to(layout, column);
    layout_words(layout, text_built(line), column + HANG, LAYOUT_PLAIN);
    layout_end_line(layout);
}

static struct text_builder begin(struct layout *layout) {
    struct text_builder line;
    text_builder_init(&line, layout->out->arena);
    return line;
}

static void add_walkers(struct text_builder *line, const struct site *site, uint64_t people) {
    bool first = true;
    for (size_t i = 0; i < site->person_count; i++) {
        if ((people >> i & 1) != 0) {
            text_add_format(
                    line, "%s%.*s", first ? "; walked by " : ", ", TEXT_ARGS(site->people[i].name));
            first = false;
        }
    }
    text_add_string(line, first ? "; nobody is known to walk it: as an adult" : "");
}

static void add_after(struct text_builder *line, const struct used_way *way, double at_mm) {
    const struct house_seconds seconds = house_way_seconds(&way->way, way->pace, at_mm);
    text_add_format(line, "%.1f m (%.1f to %.1f s)", at_mm / 1000, seconds.low_s, seconds.high_s);
}

static void add_seen(struct layout *layout, const struct plan_listed *listed,
        const struct used_way *way, const struct house_seen *seen) {
    const double least_mm = 50; /* less is printed as the end of the way itself */
    const bool at_door = seen->first_mm < least_mm;
    const bool at_end = seen->last_mm > way->way.way.length_mm - least_mm;
    struct text_builder line = begin(layout);
    text_add_format(&line, "seen by %.*s ",
            TEXT_ARGS(
                    listed->house->site->devices[listed->coverage->views[seen->view].device].name));
    if (at_door && at_end) {
        text_add_string(&line, "all along");
    } else {
        text_add_string(&line, "from ");
        if (at_door) {
            text_add_string(&line, "the door");
        } else {
            add_after(&line, way, seen->first_mm);
        }
        text_add_string(&line, at_end ? " on" : " to ");
        if (!at_end) {
            add_after(&line, way, seen->last_mm);
        }
    }
    add_line(layout, MORE_COLUMN, &line);
}

static void add_passed(
        struct layout *layout, const struct house *house, const struct house_way *way) {
    struct text_builder line = begin(layout);
    for (size_t i = 0; i < way->passed_count; i++) {
        text_add_format(&line, "%s%.*s (%.1f m)", i == 0 ? "through " : ", ",
                TEXT_ARGS(house->site->building.openings[way->passed[i].opening].name),
                way->passed[i].at_mm / 1000);
    }
    if (way->passed_count > 0) {
        add_line(layout, MORE_COLUMN, &line);
    }
}

static void add_way(
        struct layout *layout, const struct plan_listed *listed, const struct used_way *way) {
    const struct site *site = listed->house->site;
    const double stairs_mm = house_way_stairs_mm(&way->way, way->way.way.length_mm);
    struct text_builder line = begin(layout);
    text_add_format(&line, "%.*s to %.*s: ", TEXT_ARGS(site->doors[way->door].name),
            TEXT_ARGS(keypad_name(site, way->keypad)));
    if (!way->drawn) {
        text_add_string(&line, "not computed: one of them is not drawn");
    } else if (way->way.way.count == 0) {
        text_add_string(&line, "no way leads there within the building");
    } else {
        text_add(&line, used_way_figures(layout->out->arena, way));
        if (stairs_mm > 0) {
            text_add_format(&line, ", %.1f m of it stairs", stairs_mm / 1000);
        }
        add_walkers(&line, site, way->people);
        text_add_string(&line, way->way.tight ? "; too narrow somewhere: less than 0.45 m" : "");
    }
    add_line(layout, WAY_COLUMN, &line);
    add_passed(layout, listed->house, &way->way);
    for (size_t i = 0; i < way->way.seen_count; i++) {
        add_seen(layout, listed, way, &way->way.seen[i]);
    }
}

/* Round the house: to the back door with the bins, to the other door without a key. */
static void add_outside(struct layout *layout, const struct plan_listed *listed) {
    const struct site *site = listed->house->site;
    for (size_t i = 0; i < listed->outside_count; i++) {
        const struct outside_way *way = &listed->outside[i];
        struct text_builder line = begin(layout);
        text_add_format(&line,
                "round the house, %.*s to %.*s: ", TEXT_ARGS(site->doors[way->from].name),
                TEXT_ARGS(site->doors[way->to].name));
        if (way->way.count == 0) {
            text_add_string(&line, "no way");
        } else {
            const struct house_seconds seconds = outside_way_seconds(way);
            text_add_format(&line, "%.1f m, %.1f to %.1f s", way->way.length_mm / 1000,
                    seconds.low_s, seconds.high_s);
        }
        add_line(layout, WAY_COLUMN, &line);
    }
}

void plan_ways_add(struct layout *layout, const struct plan_listed *listed) {
    bool first = true;
    for (size_t i = 0; i < listed->ways.count; i++) {
        if (!is_listed(listed, &listed->ways.ways[i])) {
            continue;
        }
        if (first) {
            layout_end_line(layout);
            layout_put_string(layout, "ways from the doors that people use", LAYOUT_STRONG);
            layout_end_line(layout);
            first = false;
        }
        add_way(layout, listed, &listed->ways.ways[i]);
    }
    add_outside(layout, listed);
}

/* ---- as JSON */

static void json_seconds(
        struct json_writer *json, const char *name, const struct used_way *way, double at_mm) {
    const struct house_seconds seconds = house_way_seconds(&way->way, way->pace, at_mm);
    json_open_array(json, name);
    json_add_integer(json, NULL, lround(seconds.low_s * 1000));
    json_add_integer(json, NULL, lround(seconds.high_s * 1000));
    json_close_array(json);
}

static void json_corners(
        struct json_writer *json, const struct house *house, const struct way *way) {
    json_open_array(json, "corners");
    for (size_t i = 0; i < way->count; i++) {
        const struct way_stop *stop = &way->stops[i];
        json_open_object(json, NULL);
        json_add_text(json, "storey", house->site->building.storeys[stop->storey].name);
        json_open_array(json, "at_mm");
        json_add_integer(json, NULL, stop->at.x_mm);
        json_add_integer(json, NULL, stop->at.y_mm);
        json_close_array(json);
        json_add_integer(json, "after_mm", lround(stop->after_mm));
        json_close_object(json);
    }
    json_close_array(json);
}

static void json_passed(
        struct json_writer *json, const struct house *house, const struct used_way *way) {
    json_open_array(json, "through");
    for (size_t i = 0; i < way->way.passed_count; i++) {
        const struct house_passed *passed = &way->way.passed[i];
        json_open_object(json, NULL);
        json_add_text(json, "name", house->site->building.openings[passed->opening].name);
        json_add_integer(json, "after_mm", lround(passed->at_mm));
        json_close_object(json);
    }
    json_close_array(json);
}

static void json_seen(
        struct json_writer *json, const struct plan_listed *listed, const struct used_way *way) {
    const struct site *site = listed->house->site;
    json_open_array(json, "seen_by");
    for (size_t i = 0; i < way->way.seen_count; i++) {
        const struct house_seen *seen = &way->way.seen[i];
        json_open_object(json, NULL);
        json_add_text(
                json, "device", site->devices[listed->coverage->views[seen->view].device].name);
        json_add_integer(json, "first_mm", lround(seen->first_mm));
        json_add_integer(json, "last_mm", lround(seen->last_mm));
        json_seconds(json, "first_ms", way, seen->first_mm);
        json_seconds(json, "last_ms", way, seen->last_mm);
        json_close_object(json);
    }
    json_close_array(json);
}

static void json_walkers(struct json_writer *json, const struct site *site, uint64_t people) {
    json_open_array(json, "walkers");
    for (size_t i = 0; i < site->person_count; i++) {
        if ((people >> i & 1) != 0) {
            json_add_text(json, NULL, site->people[i].name);
        }
    }
    json_close_array(json);
}

static void json_speed(struct json_writer *json, const char *name, struct site_speed speed) {
    json_open_array(json, name);
    json_add_integer(json, NULL, speed.slow_mm_s);
    json_add_integer(json, NULL, speed.fast_mm_s);
    json_close_array(json);
}

static void json_way(
        struct json_writer *json, const struct plan_listed *listed, const struct used_way *way) {
    const struct site *site = listed->house->site;
    const double length_mm = way->way.way.length_mm;
    json_open_object(json, NULL);
    json_add_text(json, "door", site->doors[way->door].name);
    json_add_text(json, "to", keypad_name(site, way->keypad));
    json_add_bool(json, "drawn", way->drawn);
    json_add_bool(json, "there", way->way.way.count > 0);
    json_add_bool(json, "tight", way->way.tight);
    json_add_integer(json, "length_mm", lround(length_mm));
    json_add_integer(json, "stairs_mm", lround(house_way_stairs_mm(&way->way, length_mm)));
    json_walkers(json, site, way->people);
    json_speed(json, "level_mm_s", way->pace.level);
    json_speed(json, "stairs_mm_s", way->pace.stairs);
    json_seconds(json, "takes_ms", way, length_mm);
    json_corners(json, listed->house, &way->way.way);
    json_passed(json, listed->house, way);
    json_seen(json, listed, way);
    json_close_object(json);
}

static void json_outside(
        struct json_writer *json, const struct house *house, const struct outside_way *way) {
    const struct house_seconds seconds = outside_way_seconds(way);
    json_open_object(json, NULL);
    json_add_text(json, "door", house->site->doors[way->from].name);
    json_add_text(json, "to", house->site->doors[way->to].name);
    json_add_bool(json, "there", way->way.count > 0);
    json_add_integer(json, "length_mm", lround(way->way.length_mm));
    json_open_array(json, "takes_ms");
    json_add_integer(json, NULL, lround(seconds.low_s * 1000));
    json_add_integer(json, NULL, lround(seconds.high_s * 1000));
    json_close_array(json);
    json_corners(json, house, &way->way);
    json_close_object(json);
}

void plan_ways_json(struct json_writer *json, const struct plan_listed *listed) {
    json_open_array(json, "ways");
    for (size_t i = 0; i < listed->ways.count; i++) {
        if (is_listed(listed, &listed->ways.ways[i])) {
            json_way(json, listed, &listed->ways.ways[i]);
        }
    }
    json_close_array(json);
    json_open_array(json, "outside");
    for (size_t i = 0; i < listed->outside_count; i++) {
        json_outside(json, listed->house, &listed->outside[i]);
    }
    json_close_array(json);
}
