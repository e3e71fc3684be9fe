/* Ways and sight in an invented office: storeys of rooms in rows, a doorway between each two neighbours, a cupboard in
 * each room. Against the plain ways of doing it, in the same run: every line between every two corners tried on every
 * wall, and a search along a grid of 10 cm. */
#include "bench.h"

#include "host/host.h"
#include "plan/sight.h"
#include "plan/walk.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
    STOREYS = 3,
    ROOM_X_MM = 4000,
    ROOM_Y_MM = 5000,
    WALL_MM = 100,
    DOOR_MM = 900,
    CELL_MM = 100,
    SIDE_MOST = 8, /* rooms in a row */
    ROOMS_MOST = SIDE_MOST * SIDE_MOST,
    WALLS_MOST = ROOMS_MOST * 24,
    SOURCES_MOST = 20, /* of plain searches: the rest is reckoned from these */
};

/* One storey, the same on every level. Boxes are low x, low y, high x, high y. */
struct office {
    int side_x, side_y;
    struct segment walls[WALLS_MOST];
    size_t wall_count;
    int32_t rooms[ROOMS_MOST][4];
    int32_t doorways[2 * ROOMS_MOST][4];
    int32_t cupboards[ROOMS_MOST][4];
    size_t room_count, doorway_count;
};

static void add_wall(struct office *office, int32_t ax, int32_t ay, int32_t bx, int32_t by) {
    office->walls[office->wall_count++] = (struct segment){{ax, ay}, {bx, by}};
}

static void add_box(int32_t *box, int32_t x, int32_t y, int32_t width, int32_t depth) {
    box[0] = x;
    box[1] = y;
    box[2] = x + width;
    box[3] = y + depth;
}

/* One side of a room, from a to b along one axis, with a doorway or not. */
static void add_side(
        struct office *office, bool upright, int32_t at, int32_t from, int32_t to, int32_t door) {
    const int32_t ends[2][2] = {
            {from, door >= 0 ? door : to}, {door >= 0 ? door + DOOR_MM : to, to}};
    for (int i = 0; i < 2; i++) {
        if (ends[i][0] < ends[i][1] && upright) {
            add_wall(office, at, ends[i][0], at, ends[i][1]);
        } else if (ends[i][0] < ends[i][1]) {
            add_wall(office, ends[i][0], at, ends[i][1], at);
        }
    }
}

/* A doorway to the right of a room or behind it: its two jambs through the wall. */
static void add_doorway(struct office *office, bool upright, int32_t at, int32_t door) {
    int32_t *box = office->doorways[office->doorway_count++];
    if (upright) {
        add_box(box, at, door, WALL_MM, DOOR_MM);
        add_wall(office, box[0], box[1], box[2], box[1]);
        add_wall(office, box[0], box[3], box[2], box[3]);
    } else {
        add_box(box, door, at, DOOR_MM, WALL_MM);
        add_wall(office, box[0], box[1], box[0], box[3]);
        add_wall(office, box[2], box[1], box[2], box[3]);
    }
}

static void add_room(struct office *office, int column, int row) {
    const int32_t x = column * (ROOM_X_MM + WALL_MM);
    const int32_t y = row * (ROOM_Y_MM + WALL_MM);
    /* Doorways sit at places that differ from wall to wall, so that few rooms lie open in a line. */
    const int32_t left_door = y + 300 + 700 * ((column + 2 * row) % 5);
    const int32_t right_door = y + 300 + 700 * ((column + 1 + 2 * row) % 5);
    const int32_t front_door = x + 200 + 600 * ((row + 3 * column) % 5);
    const int32_t back_door = x + 200 + 600 * ((row + 1 + 3 * column) % 5);
    add_side(office, true, x, y, y + ROOM_Y_MM, column > 0 ? left_door : -1);
    add_side(office, true, x + ROOM_X_MM, y, y + ROOM_Y_MM,
            column + 1 < office->side_x ? right_door : -1);
    add_side(office, false, y, x, x + ROOM_X_MM, row > 0 ? front_door : -1);
    add_side(office, false, y + ROOM_Y_MM, x, x + ROOM_X_MM,
            row + 1 < office->side_y ? back_door : -1);
    if (column + 1 < office->side_x) {
        add_doorway(office, true, x + ROOM_X_MM, right_door);
    }
    if (row + 1 < office->side_y) {
        add_doorway(office, false, y + ROOM_Y_MM, back_door);
    }
    add_box(office->rooms[office->room_count], x, y, ROOM_X_MM, ROOM_Y_MM);
    int32_t *box = office->cupboards[office->room_count++];
    add_box(box, x + 1400, y + 1500 + 100 * (column % 3), 1200, 600);
    add_wall(office, box[0], box[1], box[2], box[1]);
    add_wall(office, box[2], box[1], box[2], box[3]);
    add_wall(office, box[2], box[3], box[0], box[3]);
    add_wall(office, box[0], box[3], box[0], box[1]);
}

static void build(struct office *office, int side_x, int side_y) {
    memset(office, 0, sizeof *office);
    office->side_x = side_x;
    office->side_y = side_y;
    for (int row = 0; row < side_y; row++) {
        for (int column = 0; column < side_x; column++) {
            add_room(office, column, row);
        }
    }
}

/* Where somebody stands in a room: off its front left corner. */
static struct point stand_in(const struct office *office, size_t room) {
    return (struct point){office->rooms[room][0] + 450, office->rooms[room][1] + 350};
}

static bool in_box(const int32_t *box, double x, double y) {
    return x >= box[0] && x <= box[2] && y >= box[1] && y <= box[3];
}

static bool is_floor(const struct office *office, double x, double y) {
    bool floor_here = false;
    for (size_t i = 0; i < office->room_count; i++) {
        const int32_t *box = office->cupboards[i];
        floor_here = floor_here || in_box(office->rooms[i], x, y);
        if (x > box[0] && x < box[2] && y > box[1] && y < box[3]) {
            return false;
        }
    }
    for (size_t i = 0; i < office->doorway_count; i++) {
        floor_here = floor_here || in_box(office->doorways[i], x, y);
    }
    return floor_here;
}

/* ---- ours */

struct measured {
    double seconds_s;
    double bytes;
    size_t corners;
    double lengths_mm[SOURCES_MOST][ROOMS_MOST]; /* on the first storey */
};

/* All ways between all rooms of all storeys: as many searches as rooms. */
static bool walk_all(const struct office *office, struct measured *measured) {
    const struct walk_storey storeys[STOREYS] = {{office->walls, office->wall_count},
            {office->walls, office->wall_count}, {office->walls, office->wall_count}};
    /* Stairs in the first room and the last. */
    const struct point first = stand_in(office, 0);
    const struct point last = stand_in(office, office->room_count - 1);
    const struct walk_link links[2] = {{{0, first, {0, 0}}, {1, first, {0, 0}}, 5000},
            {{1, last, {0, 0}}, {2, last, {0, 0}}, 5000}};
    const struct walk_plan plan = {storeys, STOREYS, links, 2, 0};
    static struct walk_place places[STOREYS * ROOMS_MOST];
    static struct way ways[STOREYS * ROOMS_MOST];
    const size_t place_count = STOREYS * office->room_count;
    struct arena kept;
    struct arena answers;
    struct walk *walk;
    for (size_t i = 0; i < place_count; i++) {
        places[i].storey = (uint32_t)(i / office->room_count);
        places[i].at = stand_in(office, i % office->room_count);
    }
    arena_init(&kept, host_pages(), 0);
    const double began_s = bench_now_s();
    bool good = walk_make(&plan, &kept, &walk, NULL).good;
    for (size_t i = 0; good && i < place_count; i++) {
        arena_init(&answers, host_pages(), 0);
        good = walk_find(walk, places[i], places, place_count, &answers, ways, NULL).good;
        for (size_t k = 0; good && i < SOURCES_MOST && k < office->room_count; k++) {
            measured->lengths_mm[i][k] = ways[k].length_mm;
        }
        arena_finish(&answers);
    }
    measured->seconds_s = bench_now_s() - began_s;
    measured->bytes = (double)kept.held_bytes;
    measured->corners = good ? walk_corner_count(walk) : 0;
    arena_finish(&kept);
    return good;
}

/* A detector of 12 m and 90 degrees in each room's corner; also once all round. Seconds for each. */
static double see_all(const struct office *office, double *ret_area_m2) {
    const double began_s = bench_now_s();
    *ret_area_m2 = 0;
    for (size_t i = 0; i < STOREYS * office->room_count; i++) {
        const int32_t *room = office->rooms[i % office->room_count];
        const struct sight_viewer viewer = {
                .at = {room[0], room[1]}, .into = {1, 1}, .pattern = {45, 90, 12000}};
        struct arena arena;
        struct sight_view view = {.area_m2 = 0};
        arena_init(&arena, host_pages(), 0);
        if (sight_see(&viewer, office->walls, office->wall_count, &arena, &view, NULL).good) {
            *ret_area_m2 += view.area_m2;
        }
        arena_finish(&arena);
    }
    return bench_now_s() - began_s;
}

/* ---- every line between every two corners, on one storey */

struct lines {
    struct point *corners;
    double *lengths_mm; /* count x count; INFINITY: something stands between */
    size_t count;
};

/* Over a corner a line is two lines: each is tried by itself. */
static bool comes_through(struct point a, struct point b, struct point corner) {
    return segment_holds((struct segment){a, b}, corner) && !point_equal(a, corner) &&
            !point_equal(b, corner);
}

static bool line_is_free(const struct office *office, struct point a, struct point b) {
    for (size_t i = 0; i < office->wall_count; i++) {
        const struct segment wall = office->walls[i];
        if (segment_crosses((struct segment){a, b}, wall) || comes_through(a, b, wall.from) ||
                comes_through(a, b, wall.to)) {
            return false;
        }
    }
    return is_floor(office, (a.x_mm + b.x_mm) / 2.0, (a.y_mm + b.y_mm) / 2.0);
}

static bool draw_lines(const struct office *office, struct lines *lines) {
    lines->corners = calloc(office->room_count + 2 * office->wall_count, sizeof *lines->corners);
    lines->count = 0;
    for (size_t i = 0; lines->corners != NULL && i < office->room_count; i++) {
        lines->corners[lines->count++] = stand_in(office, i);
    }
    for (size_t i = 0; lines->corners != NULL && i < 2 * office->wall_count; i++) {
        const struct segment wall = office->walls[i / 2];
        const struct point at = i % 2 == 0 ? wall.from : wall.to;
        bool known = false;
        for (size_t k = 0; k < lines->count; k++) {
            known = known || point_equal(lines->corners[k], at);
        }
        if (!known) {
            lines->corners[lines->count++] = at;
        }
    }
    lines->lengths_mm = calloc(lines->count * lines->count, sizeof *lines->lengths_mm);
    for (size_t i = 0; lines->lengths_mm != NULL && i < lines->count; i++) {
        for (size_t k = 0; k < i; k++) {
            const double length_mm = line_is_free(office, lines->corners[i], lines->corners[k])
                    ? point_distance_mm(lines->corners[i], lines->corners[k])
                    : INFINITY;
            lines->lengths_mm[i * lines->count + k] = length_mm;
            lines->lengths_mm[k * lines->count + i] = length_mm;
        }
    }
    return lines->lengths_mm != NULL;
}

/* Dijkstra, looking for the least each time. */
static void search_lines(const struct lines *lines, size_t from, double *ret_lengths_mm) {
    bool done[2 * WALLS_MOST + ROOMS_MOST] = {false};
    for (size_t i = 0; i < lines->count; i++) {
        ret_lengths_mm[i] = i == from ? 0 : INFINITY;
    }
    for (;;) {
        size_t next = lines->count;
        for (size_t i = 0; i < lines->count; i++) {
            if (!done[i] &&
                    ret_lengths_mm[i] < (next < lines->count ? ret_lengths_mm[next] : INFINITY)) {
                next = i;
            }
        }
        if (next == lines->count) {
            return;
        }
        done[next] = true;
        for (size_t i = 0; i < lines->count; i++) {
            const double length_mm =
                    ret_lengths_mm[next] + lines->lengths_mm[next * lines->count + i];
            ret_lengths_mm[i] =
                    i != next && length_mm < ret_lengths_mm[i] ? length_mm : ret_lengths_mm[i];
        }
    }
}

/* ---- a grid of 10 cm, on one storey */

struct cells {
    int columns, rows;
    bool *free;
    double *lengths_mm;
    int *heap, *heap_at;
    int heap_count;
};

static bool lay_cells(const struct office *office, struct cells *cells) {
    cells->columns = office->side_x * (ROOM_X_MM + WALL_MM) / CELL_MM;
    cells->rows = office->side_y * (ROOM_Y_MM + WALL_MM) / CELL_MM;
    const size_t count = (size_t)cells->columns * (size_t)cells->rows;
    cells->free = calloc(count, sizeof *cells->free);
    cells->lengths_mm = calloc(count, sizeof *cells->lengths_mm);
    cells->heap = calloc(count, sizeof *cells->heap);
    cells->heap_at = calloc(count, sizeof *cells->heap_at);
    if (cells->free == NULL || cells->lengths_mm == NULL || cells->heap == NULL ||
            cells->heap_at == NULL) {
        return false;
    }
    for (size_t i = 0; i < count; i++) {
        cells->free[i] = is_floor(office, ((int)i % cells->columns + 0.5) * CELL_MM,
                ((int)i / cells->columns + 0.5) * CELL_MM);
    }
    return true;
}

static void free_cells(struct cells *cells) {
    free(cells->free);
    free(cells->lengths_mm);
    free(cells->heap);
    free(cells->heap_at);
}

static void sift_up(struct cells *cells, int at, int cell) {
    for (; at > 0 && cells->lengths_mm[cell] < cells->lengths_mm[cells->heap[(at - 1) / 2]];
            at = (at - 1) / 2) {
        cells->heap[at] = cells->heap[(at - 1) / 2];
        cells->heap_at[cells->heap[at]] = at;
    }
    cells->heap[at] = cell;
    cells->heap_at[cell] = at;
}

static int take_nearest(struct cells *cells) {
    const int first = cells->heap[0];
    const int last = cells->heap[--cells->heap_count];
    int at = 0;
    for (int child = 1; child < cells->heap_count; child = 2 * at + 1) {
        child += child + 1 < cells->heap_count &&
                cells->lengths_mm[cells->heap[child + 1]] < cells->lengths_mm[cells->heap[child]];
        if (cells->lengths_mm[cells->heap[child]] >= cells->lengths_mm[last]) {
            break;
        }
        cells->heap[at] = cells->heap[child];
        cells->heap_at[cells->heap[at]] = at;
        at = child;
    }
    if (cells->heap_count > 0) {
        cells->heap[at] = last;
        cells->heap_at[last] = at;
    }
    return first;
}

static bool cell_is_free(const struct cells *cells, int x, int y) {
    return x >= 0 && y >= 0 && x < cells->columns && y < cells->rows &&
            cells->free[y * cells->columns + x];
}

/* To all eight neighbours; not across a corner. */
static void leave_cell(struct cells *cells, int cell) {
    const int x = cell % cells->columns;
    const int y = cell / cells->columns;
    for (int k = 0; k < 9; k++) {
        const int dx = k % 3 - 1;
        const int dy = k / 3 - 1;
        if (k == 4 || !cell_is_free(cells, x + dx, y + dy) || !cell_is_free(cells, x + dx, y) ||
                !cell_is_free(cells, x, y + dy)) {
            continue;
        }
        const int next = (y + dy) * cells->columns + x + dx;
        const double length_mm =
                cells->lengths_mm[cell] + CELL_MM * (dx != 0 && dy != 0 ? sqrt(2) : 1);
        if (length_mm < cells->lengths_mm[next]) {
            const int at =
                    isinf(cells->lengths_mm[next]) ? cells->heap_count++ : cells->heap_at[next];
            cells->lengths_mm[next] = length_mm;
            sift_up(cells, at, next);
        }
    }
}

static int cell_of(const struct cells *cells, struct point at) {
    return at.y_mm / CELL_MM * cells->columns + at.x_mm / CELL_MM;
}

static void search_cells(struct cells *cells, struct point from) {
    for (int i = 0; i < cells->columns * cells->rows; i++) {
        cells->lengths_mm[i] = INFINITY;
    }
    cells->heap_count = 0;
    cells->lengths_mm[cell_of(cells, from)] = 0;
    sift_up(cells, cells->heap_count++, cell_of(cells, from));
    while (cells->heap_count > 0) {
        leave_cell(cells, take_nearest(cells));
    }
}

/* ---- side by side */

/* How far the plain lengths are from ours, at most, as shares: longer, and either way. */
struct apart {
    double longer;
    double either;
};

static void compare(struct apart *apart, double ours_mm, double theirs_mm) {
    if (ours_mm > 0 && theirs_mm > 0) {
        apart->longer = fmax(apart->longer, theirs_mm / ours_mm - 1);
        apart->either = fmax(apart->either, fabs(theirs_mm / ours_mm - 1));
    }
}

/* Seconds for all searches of all storeys by plain lines; a negative figure: it could not be done. */
static double by_lines_s(
        const struct office *office, const struct measured *ours, struct apart *ret_apart) {
    static double lengths_mm[2 * WALLS_MOST + ROOMS_MOST];
    struct lines lines = {0};
    double seconds_s = -1;
    const double began_s = bench_now_s();
    if (draw_lines(office, &lines)) {
        const double drawn_s = bench_now_s() - began_s;
        const size_t sources =
                office->room_count < SOURCES_MOST ? office->room_count : SOURCES_MOST;
        const double search_s = bench_now_s();
        for (size_t i = 0; i < sources; i++) {
            search_lines(&lines, i, lengths_mm);
            for (size_t k = 0; k < office->room_count; k++) {
                compare(ret_apart, ours->lengths_mm[i][k], lengths_mm[k]);
            }
        }
        seconds_s = STOREYS *
                (drawn_s +
                        (bench_now_s() - search_s) / (double)sources * (double)office->room_count *
                                STOREYS);
    }
    free(lines.corners);
    free(lines.lengths_mm);
    return seconds_s;
}

static double by_cells_s(
        const struct office *office, const struct measured *ours, struct apart *ret_apart) {
    struct cells cells = {0};
    double seconds_s = -1;
    const double began_s = bench_now_s();
    if (lay_cells(office, &cells)) {
        const double laid_s = bench_now_s() - began_s;
        const size_t sources =
                office->room_count < SOURCES_MOST ? office->room_count : SOURCES_MOST;
        const double search_s = bench_now_s();
        for (size_t i = 0; i < sources; i++) {
            search_cells(&cells, stand_in(office, i));
            for (size_t k = 0; k < office->room_count; k++) {
                compare(ret_apart, ours->lengths_mm[i][k],
                        cells.lengths_mm[cell_of(&cells, stand_in(office, k))]);
            }
        }
        seconds_s = STOREYS *
                (laid_s +
                        (bench_now_s() - search_s) / (double)sources * (double)office->room_count *
                                STOREYS);
    }
    free_cells(&cells);
    return seconds_s;
}

static void print_row(int side_x, int side_y) {
    static struct office office;
    static struct measured ours;
    build(&office, side_x, side_y);
    if (!walk_all(&office, &ours)) {
        printf("%d rooms: no ways\n", STOREYS * side_x * side_y);
        return;
    }
    struct apart lines = {0, 0};
    struct apart cells = {0, 0};
    double area_m2;
    const double lines_s = by_lines_s(&office, &ours, &lines);
    const double cells_s = by_cells_s(&office, &ours, &cells);
    const double sight_s = see_all(&office, &area_m2);
    const size_t rooms = STOREYS * office.room_count;
    printf("%5zu %8zu %7s %10s %8s %9s", rooms, STOREYS * office.doorway_count,
            bench_count((double)ours.corners), bench_time(ours.seconds_s), bench_bytes(ours.bytes),
            bench_time(ours.seconds_s / (double)(rooms * rooms)));
    printf(" %7.0f x %6.0f x %8.2f %% %9s\n", lines_s / ours.seconds_s, cells_s / ours.seconds_s,
            100 * cells.longer, bench_time(sight_s / (double)rooms));
    if (lines.either > 1e-9) {
        printf("      THE PLAIN LINES DISAGREE BY %g\n", lines.either);
    }
    fflush(stdout);
}

void bench_plan(const struct bench *bench) {
    static const int SIDES[][2] = {{2, 2}, {3, 3}, {5, 4}, {6, 6}, {8, 8}};
    const size_t count = bench->quick ? 3 : sizeof SIDES / sizeof *SIDES;
    printf("\nAll ways between all rooms, three storeys, and a detector in each room\n\n"
           "%5s %8s %7s %10s %8s %9s %9s %8s %10s %9s\n",
            "rooms", "doorways", "corners", "all ways", "memory", "one way", "to lines", "to grid",
            "grid over", "one view");
    for (size_t i = 0; i < count; i++) {
        print_row(SIDES[i][0], SIDES[i][1]);
    }
}
