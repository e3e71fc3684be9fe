/* Maps of radio as shading on the floors: by how much is left over at the careful end. */
#include "radio/map.h"

/* Where one shade ends: 20 dB left, 10 dB (house practice's reserve), nothing left. */
static const double GOOD_DB = 20;
static const double FAIR_DB = 10;

static enum picture_role role_of(double left_db) {
    return left_db >= GOOD_DB    ? PICTURE_RADIO_GOOD
            : left_db >= FAIR_DB ? PICTURE_RADIO_FAIR
            : left_db >= 0       ? PICTURE_RADIO_POOR
                                 : PICTURE_RADIO_NONE;
}

/* Cells of one shade side by side are one piece of floor. */
static void draw_run(struct picture *picture, const struct radio_map *map, size_t row, size_t from,
        size_t to, enum picture_role role) {
    const int32_t left_mm = map->low.x_mm + (int32_t)from * map->cell_mm;
    const int32_t right_mm = map->low.x_mm + (int32_t)to * map->cell_mm;
    const int32_t front_mm = map->low.y_mm + (int32_t)row * map->cell_mm;
    const int32_t back_mm = front_mm + map->cell_mm;
    const struct point corners[] = {
            {left_mm, front_mm}, {right_mm, front_mm}, {right_mm, back_mm}, {left_mm, back_mm}};
    picture_add(picture, role, PICTURE_AREA, corners, 4, 0);
}

static void draw_map(struct picture *picture, const struct radio_map *map, double budget_db) {
    for (size_t row = 0; row < map->rows; row++) {
        size_t from = 0;
        for (size_t column = 0; column < map->columns; column = from) {
            const struct radio_loss *loss = &map->losses[row * map->columns + column];
            from = column + 1;
            if (loss->high_db < 0) {
                continue;
            }
            const enum picture_role role = role_of(budget_db - loss->high_db);
            while (from < map->columns && map->losses[row * map->columns + from].high_db >= 0 &&
                    role_of(budget_db - map->losses[row * map->columns + from].high_db) == role) {
                from++;
            }
            draw_run(picture, map, row, column, from, role);
        }
    }
}

static void draw_floor(const void *context, struct picture *picture, int storey) {
    const struct radio_map_drawn *drawn = context;
    for (size_t i = 0; i < drawn->map_count; i++) {
        if (drawn->maps[i].storey == storey) {
            draw_map(picture, &drawn->maps[i], drawn->budget_db);
        }
    }
}

struct drawing_layer radio_map_layer(const struct radio_map_drawn *drawn) {
    static const struct drawing_row rows[] = {
            {PICTURE_RADIO_GOOD, PICTURE_AREA, "radio: 20 dB and more to spare"},
            {PICTURE_RADIO_FAIR, PICTURE_AREA, "radio: 10 to 20 dB to spare"},
            {PICTURE_RADIO_POOR, PICTURE_AREA, "radio: less than 10 dB to spare"},
            {PICTURE_RADIO_NONE, PICTURE_AREA, "radio: may not reach the panel"},
    };
    return (struct drawing_layer){.under = draw_floor,
            .context = drawn,
            .note = drawn->note,
            .rows = rows,
            .row_count = sizeof rows / sizeof rows[0]};
}
