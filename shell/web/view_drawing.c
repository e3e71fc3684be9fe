/* The drawing for the page: what `lintel plan --svg` prints, as shapes, so that what they stand for can be chosen. */
#include "web/view.h"

#include "plan/layers.h"
#include "radio/site_map.h"

/* What the page shows: the rooms of every storey, and of the ground outside so much as one stands on at a door. */
static void find_sheet(const struct house *house, struct point *ret_low, struct point *ret_high) {
    enum { GROUND_MM = 2200 };
    struct point low = house->high;
    struct point high = house->low;
    for (size_t i = 0; i < house->site->building.room_count; i++) {
        const struct house_room *room = &house->rooms[i];
        if (room->good && room->inside) {
            low.x_mm = room->low.x_mm < low.x_mm ? room->low.x_mm : low.x_mm;
            low.y_mm = room->low.y_mm < low.y_mm ? room->low.y_mm : low.y_mm;
            high.x_mm = room->high.x_mm > high.x_mm ? room->high.x_mm : high.x_mm;
            high.y_mm = room->high.y_mm > high.y_mm ? room->high.y_mm : high.y_mm;
        }
    }
    low = (struct point){low.x_mm - GROUND_MM, low.y_mm - GROUND_MM};
    high = (struct point){high.x_mm + GROUND_MM, high.y_mm + GROUND_MM};
    ret_low->x_mm = low.x_mm > house->low.x_mm ? low.x_mm : house->low.x_mm;
    ret_low->y_mm = low.y_mm > house->low.y_mm ? low.y_mm : house->low.y_mm;
    ret_high->x_mm = high.x_mm < house->high.x_mm ? high.x_mm : house->high.x_mm;
    ret_high->y_mm = high.y_mm < house->high.y_mm ? high.y_mm : house->high.y_mm;
}

/* A screen is smaller than a sheet: the smallest letters (2 mm of paper) shall be some 12 px high when a storey fills a
 * part of the page of so many px. */
enum { SCREEN_WIDE_PX = 620, SCREEN_HIGH_PX = 480, SMALL_PX = 12, SMALL_MM = 2, SCALE_LEAST = 40 };

static int32_t screen_scale(struct point low, struct point high) {
    const struct point size = point_step(low, high);
    const int32_t by_width = size.x_mm / SCREEN_WIDE_PX * SMALL_PX / SMALL_MM;
    const int32_t by_height = size.y_mm / SCREEN_HIGH_PX * SMALL_PX / SMALL_MM;
    const int32_t scale = by_width > by_height ? by_width : by_height;
    return scale < SCALE_LEAST ? SCALE_LEAST : scale;
}

static void add_point(struct json_writer *json, const char *name, struct point at) {
    json_open_array(json, name);
    json_add_integer(json, NULL, at.x_mm);
    json_add_integer(json, NULL, at.y_mm);
    json_close_array(json);
}

static outcome add_storey(const struct house *house, size_t storey, int32_t scale,
        struct arena *arena, struct json_writer *json, struct problem *ret_problem) {
    static const char *const parts[PICTURE_PART_SHEET] = {[PICTURE_PART_FLOORS] = "floors",
            [PICTURE_PART_BUILDING] = "building",
            [PICTURE_PART_THINGS] = "things"};
    struct picture picture;
    TRY(drawing_make(house, (int)storey, scale, NULL, 0, arena, &picture, ret_problem));
    json_open_object(json, NULL);
    json_add_text(json, "name", house->site->building.storeys[storey].name);
    for (size_t i = 0; i < PICTURE_PART_SHEET; i++) {
        picture_add_json(
                &picture, i == 0 ? 0 : picture.ends[i - 1], picture.ends[i], parts[i], json);
    }
    json_close_object(json);
    return outcome_good();
}

/* Coarser than on paper: every piece of shading goes over the wire with each change. */
static outcome make_radio(const struct house *house, struct arena *arena,
        struct drawing_layer *ret_layer, struct problem *ret_problem) {
    enum { CELL_MM = 200 };
    return radio_site_map(house, CELL_MM, arena, ret_layer, ret_problem);
}

/* Layers of modules that know the plan, which does not know them. */
static const struct plan_layer further_layers[] = {{"radio", make_radio}};

static outcome add_house(const struct site *site, const struct view_look *look, struct arena *arena,
        struct json_writer *json, struct problem *ret_problem) {
    struct house house;
    TRY(house_make(site, arena, &house, ret_problem));
    struct point low;
    struct point high;
    find_sheet(&house, &low, &high);
    const int32_t scale = (int32_t)(screen_scale(low, high) / look->zoom);
    json_add_integer(json, "scale", scale);
    json_add_integer(json, "outer_mm", house.outer_mm);
    add_point(json, "low_mm", low);
    add_point(json, "high_mm", high);
    view_add_house(&house, json);
    json_open_array(json, "storeys");
    for (size_t i = 0; i < site->building.storey_count; i++) {
        TRY(add_storey(&house, i, scale, arena, json, ret_problem));
    }
    json_close_array(json);
    return plan_layers_add_json(&house, further_layers,
            sizeof further_layers / sizeof further_layers[0], look->layer, scale, arena, "layers",
            json, ret_problem);
}

void view_add_drawing(const struct site *site, const struct view_look *look, struct arena *arena,
        struct json_writer *json) {
    struct problem problem = {0};
    if (!site->building.said) {
        json_add_null(json, "drawing");
        return;
    }
    json_open_object(json, "drawing");
    /* It fails for memory alone, and then the arena has noted it: the snapshot is not sent. */
    (void)add_house(site, look, arena, json, &problem).good;
    json_close_object(json);
}
