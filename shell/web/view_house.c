/* The building in figures, for whoever moves it: where rooms, openings and things are, and what of it cannot be so. */
#include "web/view.h"

#include <stdio.h>

static void add_points(
        struct json_writer *json, const char *name, const struct point *points, size_t count) {
    json_open_array(json, name);
    for (size_t i = 0; i < count; i++) {
        json_add_integer(json, NULL, points[i].x_mm);
        json_add_integer(json, NULL, points[i].y_mm);
    }
    json_close_array(json);
}

static void add_rooms(const struct house *house, struct json_writer *json) {
    json_open_array(json, "rooms");
    for (size_t i = 0; i < house->site->building.room_count; i++) {
        const struct house_room *room = &house->rooms[i];
        json_open_object(json, NULL);
        json_add_bool(json, "good", room->good);
        json_add_bool(json, "inside", room->inside);
        json_add_integer(json, "storey", room->storey);
        add_points(json, "outline_mm", room->outline.corners, room->outline.count);
        json_close_object(json);
    }
    json_close_array(json);
}

static void add_openings(const struct house *house, struct json_writer *json) {
    json_open_array(json, "openings");
    for (size_t i = 0; i < house->site->building.opening_count; i++) {
        const struct house_opening *opening = &house->openings[i];
        json_open_object(json, NULL);
        json_add_bool(json, "good", opening->good);
        if (opening->good) {
            json_add_bool(json, "flat", opening->flat);
            json_add_integer(json, "room", opening->room);
            json_add_integer(json, "other", opening->other);
            json_add_integer(json, "edge", (int64_t)opening->edge);
            add_points(json, "near_mm", opening->near, 2);
            add_points(json, "far_mm", opening->far, 2);
        }
        json_close_object(json);
    }
    json_close_array(json);
}

static void add_rectangle(struct json_writer *json, bool good, const struct point corners[4]) {
    json_open_object(json, NULL);
    json_add_bool(json, "good", good);
    add_points(json, "corners_mm", corners, 4);
    json_close_object(json);
}

static void add_things(const struct house *house, struct json_writer *json) {
    const struct site_building *building = &house->site->building;
    json_open_array(json, "stairs");
    for (size_t i = 0; i < building->stairs_count; i++) {
        add_rectangle(json, house->stairs[i].good, house->stairs[i].corners);
    }
    json_close_array(json);
    json_open_array(json, "furniture");
    for (size_t i = 0; i < building->furniture_count; i++) {
        add_rectangle(json, house->furniture[i].good, house->furniture[i].corners);
    }
    json_close_array(json);
    json_open_array(json, "places");
    for (size_t i = 0; i < building->place_count; i++) {
        const struct house_place *place = &house->places[i];
        json_open_object(json, NULL);
        json_add_bool(json, "good", place->good);
        json_add_integer(json, "room", place->room);
        add_points(json, "at_mm", &place->at, 1);
        add_points(json, "into", &place->into, 1);
        add_points(json, "faces", &place->faces, 1);
        json_add_integer(json, "height_mm", place->height_mm);
        json_close_object(json);
    }
    json_close_array(json);
}

static void add_faults(const struct house *house, struct json_writer *json) {
    json_open_array(json, "faults");
    for (size_t i = 0; i < house->fault_count; i++) {
        const struct house_fault *fault = &house->faults[i];
        char about[48];
        (void)snprintf(about, sizeof about, "building.%s[%zu]", house_fault_list(fault->kind),
                fault->index);
        json_open_object(json, NULL);
        json_add_string(json, "about", about);
        add_points(json, "at_mm", &fault->at, 1);
        json_close_object(json);
    }
    json_close_array(json);
}

void view_add_house(const struct house *house, struct json_writer *json) {
    json_open_object(json, "house");
    json_add_integer(json, "inner_mm", house->inner_mm);
    json_add_integer(json, "outer_mm", house->outer_mm);
    add_rooms(house, json);
    add_openings(house, json);
    add_things(house, json);
    add_faults(house, json);
    json_close_object(json);
}
