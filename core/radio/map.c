#include "radio/map.h"

#include "radio/constants.h"
#include "radio/link.h"

#include <math.h>

enum { ANGLES = RADIO_SLANT_MOST_DEG + 2, KINDS_MOST = 64 };

/* One kind of barrier: what it loses at each whole degree, as far as it was asked for. */
struct kept {
    struct radio_crossing like;
    enum site_opening_kind leaf;
    bool known[ANGLES];
    struct radio_loss losses[ANGLES];
};

struct maker {
    const struct house *house;
    const struct radio_barriers *barriers;
    struct kept *kept; /* NULL: nothing is kept */
    size_t kept_count;
    struct radio_stretched stretched;
};

static enum site_opening_kind leaf_of(
        const struct maker *maker, const struct radio_crossing *crossing) {
    return crossing->kind == RADIO_CROSSING_LEAF
            ? maker->barriers->building->openings[crossing->opening].kind
            : SITE_OPENING_GAP;
}

/* Its row, or NULL where there is no room for one more. */
static struct kept *row_of(struct maker *maker, const struct radio_crossing *crossing) {
    const enum site_opening_kind leaf = leaf_of(maker, crossing);
    for (size_t i = 0; i < maker->kept_count; i++) {
        struct kept *row = &maker->kept[i];
        if (row->like.kind == crossing->kind && row->like.material == crossing->material &&
                row->leaf == leaf && fabs(row->like.thickness_m - crossing->thickness_m) < 1e-6) {
            return row;
        }
    }
    if (maker->kept == NULL || maker->kept_count == KINDS_MOST) {
        return NULL;
    }
    struct kept *row = &maker->kept[maker->kept_count++];
    *row = (struct kept){.like = *crossing, .leaf = leaf};
    return row;
}

static outcome find_at(
        struct maker *maker, struct kept *row, size_t degree, struct problem *ret_problem) {
    if (!row->known[degree]) {
        struct radio_crossing crossing = row->like;
        crossing.angle_deg = (double)degree;
        row->losses[degree] = (struct radio_loss){0, 0};
        TRY(radio_add_crossing(
                maker->barriers, &crossing, &row->losses[degree], &maker->stretched, ret_problem));
        row->known[degree] = true;
    }
    return outcome_good();
}

static outcome add_crossing(struct maker *maker, const struct radio_crossing *crossing,
        struct radio_loss *loss, struct problem *ret_problem) {
    struct kept *row = row_of(maker, crossing);
    if (row == NULL) {
        return radio_add_crossing(maker->barriers, crossing, loss, &maker->stretched, ret_problem);
    }
    const size_t degree = (size_t)crossing->angle_deg;
    const double part = crossing->angle_deg - (double)degree;
    TRY(find_at(maker, row, degree, ret_problem));
    TRY(find_at(maker, row, degree + 1, ret_problem));
    const struct radio_loss *one = &row->losses[degree];
    const struct radio_loss *next = &row->losses[degree + 1];
    loss->low_db += one->low_db + part * (next->low_db - one->low_db);
    loss->high_db += one->high_db + part * (next->high_db - one->high_db);
    return outcome_good();
}

static outcome fill_cell(struct maker *maker, const struct radio_spot *spot,
        const struct radio_spot *panel, struct radio_loss *ret_loss, struct problem *ret_problem) {
    struct radio_crossing crossings[RADIO_CROSSED_MOST];
    struct radio_loss loss = {0, 0};
    size_t count = 0;
    double free_db = 0;
    const double hz = maker->barriers->frequency_hz;
    TRY(radio_free_space_db(fmax(RADIO_LIGHT_M_S / hz, radio_spot_distance_m(spot, panel)), hz,
            &free_db, ret_problem));
    TRY(radio_cross(maker->house, spot, panel, crossings, &count, ret_problem));
    for (size_t i = 0; i < count; i++) {
        TRY(add_crossing(maker, &crossings[i], &loss, ret_problem));
    }
    *ret_loss = (struct radio_loss){loss.low_db + free_db, loss.high_db + free_db};
    return outcome_good();
}

/* The box of the storey's rooms. False: it has none. */
static bool find_box(
        const struct house *house, int storey, struct point *ret_low, struct point *ret_high) {
    bool found = false;
    for (size_t i = 0; i < house->site->building.room_count; i++) {
        const struct house_room *room = &house->rooms[i];
        if (!room->good || !room->inside || room->storey != storey) {
            continue;
        }
        *ret_low = found
                ? (struct point){room->low.x_mm < ret_low->x_mm ? room->low.x_mm : ret_low->x_mm,
                          room->low.y_mm < ret_low->y_mm ? room->low.y_mm : ret_low->y_mm}
                : room->low;
        *ret_high = found
                ? (struct point){room->high.x_mm > ret_high->x_mm ? room->high.x_mm
                                                                  : ret_high->x_mm,
                          room->high.y_mm > ret_high->y_mm ? room->high.y_mm : ret_high->y_mm}
                : room->high;
        found = true;
    }
    return found;
}

static outcome fill(struct maker *maker, const struct radio_spot *panel, struct radio_map *map,
        struct problem *ret_problem) {
    const struct house *house = maker->house;
    const double z_mm =
            house->site->building.storeys[map->storey].floor_mm + (double)RADIO_MAP_HEIGHT_MM;
    for (size_t i = 0; i < map->columns * map->rows; i++) {
        const struct point middle = {
                map->low.x_mm + (int32_t)(i % map->columns) * map->cell_mm + map->cell_mm / 2,
                map->low.y_mm + (int32_t)(i / map->columns) * map->cell_mm + map->cell_mm / 2};
        const int room = house_room_at(house, map->storey, middle);
        map->losses[i] = (struct radio_loss){-1, -1};
        if (room == HOUSE_OUTSIDE || !house->rooms[room].inside) {
            continue;
        }
        const struct radio_spot spot = {.storey = map->storey,
                .room = room,
                .x_mm = middle.x_mm,
                .y_mm = middle.y_mm,
                .z_mm = z_mm};
        TRY(fill_cell(maker, &spot, panel, &map->losses[i], ret_problem));
    }
    return outcome_good();
}

static outcome make(struct maker *maker, int storey, const struct radio_spot *panel,
        int32_t cell_mm, struct arena *arena, struct radio_map *ret_map,
        struct problem *ret_problem) {
    struct radio_map map = {.storey = storey, .cell_mm = cell_mm};
    struct point high = {0, 0};
    if (cell_mm < RADIO_MAP_CELL_LEAST_MM) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "a cell of a map is %d mm and more",
                RADIO_MAP_CELL_LEAST_MM);
    }
    if (find_box(maker->house, storey, &map.low, &high)) {
        map.columns = (size_t)((high.x_mm - map.low.x_mm + cell_mm - 1) / cell_mm);
        map.rows = (size_t)((high.y_mm - map.low.y_mm + cell_mm - 1) / cell_mm);
    }
    if (map.rows > 0 && map.columns > RADIO_MAP_CELLS_MOST / map.rows) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "a map has at most %d cells; take larger ones",
                RADIO_MAP_CELLS_MOST);
    }
    map.losses = ARENA_ARRAY(arena, struct radio_loss, map.columns * map.rows + 1);
    if (map.losses == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the map");
    }
    TRY(fill(maker, panel, &map, ret_problem));
    *ret_map = map;
    return outcome_good();
}

outcome radio_map_make(const struct house *house, int storey, const struct radio_spot *panel,
        int32_t cell_mm, const struct radio_barriers *barriers, struct arena *arena,
        struct radio_map *ret_map, struct problem *ret_problem) {
    struct maker maker = {.house = house,
            .barriers = barriers,
            .kept = ARENA_ARRAY(arena, struct kept, KINDS_MOST)};
    if (maker.kept == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the map");
    }
    return make(&maker, storey, panel, cell_mm, arena, ret_map, ret_problem);
}

outcome radio_map_plain(const struct house *house, int storey, const struct radio_spot *panel,
        int32_t cell_mm, const struct radio_barriers *barriers, struct arena *arena,
        struct radio_map *ret_map, struct problem *ret_problem) {
    struct maker maker = {.house = house, .barriers = barriers};
    return make(&maker, storey, panel, cell_mm, arena, ret_map, ret_problem);
}
