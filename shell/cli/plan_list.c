#include "cli/plan_list.h"

#include "base/length.h"
#include "check/layout.h"
#include "cli/plan_sight.h"
#include "cli/plan_ways.h"

enum { FORMAT = 1, NAME_COLUMN = 2, SIZE_COLUMN = 24, THING_COLUMN = 4, HANG = 6 };

static double area_m2(const struct house *house, size_t room) {
    return house->rooms[room].good ? outline_area_m2(house->rooms[room].outline) : 0;
}

static bool is_of(const struct house *house, int room, size_t storey) {
    return house->rooms[room].good && house->rooms[room].storey == (int)storey;
}

static struct text room_name(const struct house *house, int room) {
    return room == HOUSE_OUTSIDE ? text_of("outside") : house->site->building.rooms[room].name;
}

/* The number of the first zone that a device, or what watches a door, stands behind; 0: none. */
static int32_t zone_of(const struct site *site, int device, int door) {
    for (size_t i = 0; i < site->zone_count; i++) {
        const struct site_zone *zone = &site->zones[i];
        if ((device >= 0 && zone->device == device) ||
                (door >= 0 && site_zone_door(site, zone) == door)) {
            return zone->number;
        }
    }
    return 0;
}

static struct text place_name(const struct site *site, const struct site_place *place) {
    return place->device >= 0            ? site->devices[place->device].name
            : place->keypad >= 0         ? site->keypads[place->keypad].name
            : place->protects.length > 0 ? place->protects
                                         : text_of(site_fixture_name(place->fixture));
}

/* "device", "keypad", "panel", "protected" ... */
static const char *place_kind(const struct site *site, const struct site_place *place) {
    if (place->device >= 0) {
        const struct site_device_profile *profile =
                &site->device_profiles[site->devices[place->device].profile];
        return profile->kind == SITE_SENSOR ? site_sense_name(profile->sense)
                                            : site_kind_name(profile->kind);
    }
    return place->keypad >= 0            ? "keypad"
            : place->protects.length > 0 ? "worth protecting"
                                         : "fixed";
}

/* Which of the eight directions a step is nearest to. */
static const char *direction_name(struct point step) {
    const int64_t x = step.x_mm < 0 ? -(int64_t)step.x_mm : step.x_mm;
    const int64_t y = step.y_mm < 0 ? -(int64_t)step.y_mm : step.y_mm;
    /* tan 22.5 degrees is 0.41421 */
    const bool level = y * 100000 < x * 41421;
    const bool upright = x * 100000 < y * 41421;
    const int column = upright ? 0 : step.x_mm > 0 ? 1 : -1;
    const int row = level ? 0 : step.y_mm > 0 ? 1 : -1;
    static const enum site_direction directions[3][3] = {
            {SITE_FACES_FRONT_LEFT, SITE_FACES_FRONT, SITE_FACES_FRONT_RIGHT},
            {SITE_FACES_LEFT, SITE_FACES_UNSAID, SITE_FACES_RIGHT},
            {SITE_FACES_BACK_LEFT, SITE_FACES_BACK, SITE_FACES_BACK_RIGHT}};
    return site_direction_name(directions[row + 1][column + 1]);
}

/* ---- in words */

static void add_line(struct layout *layout, struct text_builder *line, size_t hang) {
    layout_words(layout, text_built(line), hang, LAYOUT_PLAIN);
    layout_end_line(layout);
}

static struct text_builder begin_line(struct layout *layout, size_t column) {
    struct text_builder line;
    text_builder_init(&line, layout->out->arena);
    layout_to(layout, column);
    return line;
}

static void add_opening(struct layout *layout, const struct house *house, size_t index) {
    const struct site_opening *written = &house->site->building.openings[index];
    const struct house_opening *opening = &house->openings[index];
    struct text_builder line = begin_line(layout, THING_COLUMN);
    const int32_t zone = zone_of(house->site, SITE_NONE, written->door);
    text_add_format(&line, "%.*s: ", TEXT_ARGS(written->name));
    text_add_format(&line, "%s to %s%.*s, ", site_opening_kind_name(written->kind),
            opening->other == HOUSE_OUTSIDE ? "the " : "",
            TEXT_ARGS(room_name(house, opening->other)));
    length_add_pair(&line, site_opening_width_mm(written), site_opening_height_mm(written));
    if (site_opening_sill_mm(written) > 0) {
        text_add_string(&line, ", sill ");
        length_add(&line, site_opening_sill_mm(written));
    }
    if (written->material >= 0) {
        text_add_format(&line, ", %.*s",
                TEXT_ARGS(house->site->building.materials.rows[written->material].name));
    }
    text_add_string(&line, opening->reached ? ", in reach from outside" : "");
    if (zone > 0) {
        text_add_format(&line, "; zone %d", zone);
    }
    text_add_string(&line, opening->good ? "" : "; not drawn: lintel check says why");
    add_line(layout, &line, HANG);
}

static void add_place(struct layout *layout, const struct house *house, size_t index) {
    const struct site_place *written = &house->site->building.places[index];
    const struct house_place *place = &house->places[index];
    const struct point low = house->rooms[place->room].low;
    struct text_builder line = begin_line(layout, THING_COLUMN);
    const int32_t zone = zone_of(house->site, written->device, SITE_NONE);
    text_add_format(&line, "%.*s: ", TEXT_ARGS(place_name(house->site, written)));
    if (written->fixture == SITE_FIXTURE_NONE) {
        text_add_format(&line, "%s, ", place_kind(house->site, written));
    }
    text_add_string(&line, "at ");
    length_add_pair(&line, place->at.x_mm - low.x_mm, place->at.y_mm - low.y_mm);
    text_add_string(&line, ", ");
    length_add(&line, place->height_mm);
    text_add_string(&line, " high");
    const bool looks = written->device >= 0 &&
            house->site->device_profiles[house->site->devices[written->device].profile].sense ==
                    SITE_MOTION;
    if (looks && (place->faces.x_mm != 0 || place->faces.y_mm != 0)) {
        text_add_format(&line, ", looks %s", direction_name(place->faces));
    }
    if (zone > 0) {
        text_add_format(&line, "; zone %d", zone);
    }
    add_line(layout, &line, HANG);
}

static void add_room(struct layout *layout, const struct plan_listed *listed, size_t index) {
    const struct house *house = listed->house;
    const struct site_building *building = &house->site->building;
    const struct house_room *room = &house->rooms[index];
    const struct point size = point_step(room->low, room->high);
    layout_to(layout, NAME_COLUMN);
    layout_put(layout, building->rooms[index].name, LAYOUT_STRONG);
    layout_to(layout, SIZE_COLUMN);
    struct text_builder line;
    text_builder_init(&line, layout->out->arena);
    text_add_format(&line, " %6.1f m²  ", area_m2(house, index));
    text_add_string(&line, room->outline.count == 4 ? "" : "within ");
    length_add_pair(&line, size.x_mm, size.y_mm);
    text_add_format(&line, "%s%s", room->inside ? "" : "  ",
            room->inside ? "" : site_room_kind_name(building->rooms[index].kind));
    layout_put(layout, text_built(&line), LAYOUT_PLAIN);
    layout_end_line(layout);
    plan_sight_add_room(layout, listed->coverage, index);
    for (size_t i = 0; i < building->opening_count; i++) {
        if (building->openings[i].room == (int)index) {
            add_opening(layout, house, i);
        }
    }
    for (size_t i = 0; i < building->place_count; i++) {
        if (house->places[i].good && house->places[i].room == (int)index) {
            add_place(layout, house, i);
            plan_sight_add_place(layout, house, listed->coverage, i);
        }
    }
}

static void add_stairs(struct layout *layout, const struct house *house, size_t index) {
    const struct site_stairs *written = &house->site->building.stairs[index];
    const struct house_stairs *stairs = &house->stairs[index];
    struct text_builder line = begin_line(layout, NAME_COLUMN);
    text_add_format(&line, "%.*s: ", TEXT_ARGS(written->name));
    length_add(&line, stairs->run_mm);
    text_add_string(&line, " long, ");
    length_add(&line, stairs->rise_mm);
    text_add_string(&line, " up");
    add_line(layout, &line, HANG);
}

static void add_storey(struct layout *layout, const struct plan_listed *listed, size_t storey) {
    const struct house *house = listed->house;
    const struct site_building *building = &house->site->building;
    const struct site_storey *written = &building->storeys[storey];
    struct text_builder line = begin_line(layout, 0);
    double sum_m2 = 0;
    for (size_t i = 0; i < building->room_count; i++) {
        sum_m2 += is_of(house, (int)i, storey) && house->rooms[i].inside ? area_m2(house, i) : 0;
    }
    text_add_format(&line, "%.*s: %.1f m² of floor at ", TEXT_ARGS(written->name), sum_m2);
    length_add(&line, written->floor_mm);
    text_add_string(&line, ", ceiling ");
    length_add(&line, written->ceiling_mm);
    layout_end_line(layout);
    layout_words(layout, text_built(&line), HANG, LAYOUT_STRONG);
    layout_end_line(layout);
    for (size_t i = 0; i < building->room_count; i++) {
        if (is_of(house, (int)i, storey)) {
            add_room(layout, listed, i);
        }
    }
    for (size_t i = 0; i < building->stairs_count; i++) {
        if (house->stairs[i].good && is_of(house, building->stairs[i].room, storey)) {
            add_stairs(layout, house, i);
        }
    }
}

/* Rooms that one enters from outside alone may well be so. */
static size_t faults_of(const struct house *house) {
    size_t count = 0;
    for (size_t i = 0; i < house->fault_count; i++) {
        count += house->faults[i].kind != HOUSE_APART;
    }
    return count;
}

void plan_add_text(struct text_builder *out, const struct plan_listed *listed, size_t width) {
    const struct house *house = listed->house;
    struct layout layout = {.out = out, .width = width};
    struct text_builder line = begin_line(&layout, 0);
    text_add_format(&line, "%.*s%s: walls ", TEXT_ARGS(house->site->name),
            house->site->invented ? " (invented)" : "");
    length_add(&line, house->outer_mm);
    text_add_string(&line, " outside, ");
    length_add(&line, house->inner_mm);
    text_add_string(&line, " inside; measures are clear, to the right x to the back");
    add_line(&layout, &line, 0);
    for (size_t i = listed->first; i < listed->first + listed->count; i++) {
        add_storey(&layout, listed, i);
    }
    plan_ways_add(&layout, listed);
    if (listed->coverage == NULL) {
        struct text_builder why = begin_line(&layout, 0);
        layout_end_line(&layout);
        text_add_format(&why, "what detectors see is not computed: %s", listed->why_not);
        add_line(&layout, &why, 0);
    }
    if (faults_of(house) > 0) {
        struct text_builder last = begin_line(&layout, 0);
        layout_end_line(&layout);
        text_add_format(&last, "%zu fault%s in the drawing: lintel check says which",
                faults_of(house), faults_of(house) == 1 ? "" : "s");
        add_line(&layout, &last, 0);
    }
}

/* ---- as JSON */

static void json_point(struct json_writer *json, const char *name, struct point at) {
    json_open_array(json, name);
    json_add_integer(json, NULL, at.x_mm);
    json_add_integer(json, NULL, at.y_mm);
    json_close_array(json);
}

static void json_room(struct json_writer *json, const struct plan_listed *listed, size_t index) {
    const struct house *house = listed->house;
    const struct house_room *room = &house->rooms[index];
    json_open_object(json, NULL);
    json_add_text(json, "name", house->site->building.rooms[index].name);
    json_add_string(json, "is", site_room_kind_name(house->site->building.rooms[index].kind));
    json_add_integer(json, "floor_mm2", room->good ? outline_twice_area_mm2(room->outline) / 2 : 0);
    json_open_array(json, "corners_mm");
    for (size_t i = 0; i < room->outline.count; i++) {
        json_point(json, NULL, room->outline.corners[i]);
    }
    json_close_array(json);
    plan_sight_json_room(json, listed->coverage, index);
    json_close_object(json);
}

static void json_zone(struct json_writer *json, int32_t zone) {
    if (zone > 0) {
        json_add_integer(json, "zone", zone);
    } else {
        json_add_null(json, "zone");
    }
}

static void json_opening(struct json_writer *json, const struct house *house, size_t index) {
    const struct site_opening *written = &house->site->building.openings[index];
    const struct house_opening *opening = &house->openings[index];
    json_open_object(json, NULL);
    json_add_text(json, "name", written->name);
    json_add_string(json, "is", site_opening_kind_name(written->kind));
    json_add_text(json, "room", room_name(house, opening->room));
    json_add_text(json, "to", room_name(house, opening->other));
    json_add_bool(json, "drawn", opening->good);
    json_add_bool(json, "in_reach", opening->reached);
    json_add_integer(json, "width_mm", site_opening_width_mm(written));
    json_add_integer(json, "height_mm", site_opening_height_mm(written));
    json_add_integer(json, "sill_mm", site_opening_sill_mm(written));
    json_point(json, "from_mm", opening->near[0]);
    json_point(json, "to_mm", opening->near[1]);
    json_zone(json, zone_of(house->site, SITE_NONE, written->door));
    json_close_object(json);
}

static void json_place(struct json_writer *json, const struct plan_listed *listed, size_t index) {
    const struct house *house = listed->house;
    const struct site_place *written = &house->site->building.places[index];
    const struct house_place *place = &house->places[index];
    json_open_object(json, NULL);
    json_add_text(json, "name", place_name(house->site, written));
    json_add_string(json, "is", place_kind(house->site, written));
    json_add_text(json, "room", room_name(house, place->room));
    json_point(json, "at_mm", place->at);
    json_add_integer(json, "height_mm", place->height_mm);
    json_point(json, "faces", place->faces);
    json_zone(json, zone_of(house->site, written->device, SITE_NONE));
    plan_sight_json_place(json, house, listed->coverage, index);
    json_close_object(json);
}

static void json_storey(struct json_writer *json, const struct plan_listed *listed, size_t storey) {
    const struct house *house = listed->house;
    const struct site_building *building = &house->site->building;
    json_open_object(json, NULL);
    json_add_text(json, "name", building->storeys[storey].name);
    json_add_integer(json, "floor_mm", building->storeys[storey].floor_mm);
    json_add_integer(json, "ceiling_mm", building->storeys[storey].ceiling_mm);
    json_open_array(json, "rooms");
    for (size_t i = 0; i < building->room_count; i++) {
        if (is_of(house, (int)i, storey)) {
            json_room(json, listed, i);
        }
    }
    json_close_array(json);
    json_open_array(json, "openings");
    for (size_t i = 0; i < building->opening_count; i++) {
        if (is_of(house, building->openings[i].room, storey)) {
            json_opening(json, house, i);
        }
    }
    json_close_array(json);
    json_open_array(json, "places");
    for (size_t i = 0; i < building->place_count; i++) {
        if (house->places[i].good && is_of(house, building->places[i].room, storey)) {
            json_place(json, listed, i);
        }
    }
    json_close_array(json);
    json_close_object(json);
}

void plan_add_json(struct json_writer *json, const struct plan_listed *listed, struct text file) {
    const struct house *house = listed->house;
    json_open_object(json, NULL);
    json_add_integer(json, "format", FORMAT);
    json_add_text(json, "file", file);
    json_add_text(json, "name", house->site->name);
    json_add_bool(json, "invented", house->site->invented);
    json_add_integer(json, "outer_wall_mm", house->outer_mm);
    json_add_integer(json, "inner_wall_mm", house->inner_mm);
    json_add_integer(json, "faults", (int64_t)faults_of(house));
    json_add_string(json, "sight_not_computed", listed->coverage == NULL ? listed->why_not : "");
    json_open_array(json, "storeys");
    for (size_t i = listed->first; i < listed->first + listed->count; i++) {
        json_storey(json, listed, i);
    }
    json_close_array(json);
    plan_ways_json(json, listed);
    json_close_object(json);
}
