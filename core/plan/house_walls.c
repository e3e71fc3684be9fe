#include "plan/house_walls.h"

#include <math.h>

enum { GAPS_MOST = 64, SIDES_OF_BOX = 4 };
static const double BESIDE_MM = 2; /* jambs on slanting walls are rounded */

/* A stretch of a wall that lets through, between two jambs. */
struct gap {
    struct point ends[2];
    int64_t along[2];
};

struct drawing {
    const struct house *house;
    const struct house_walls_wish *wish;
    int storey;
    struct segment *walls;
    size_t count;
};

static void draw(struct drawing *drawing, struct point from, struct point to) {
    if (!point_equal(from, to)) {
        drawing->walls[drawing->count++] = (struct segment){from, to};
    }
}

bool house_leads_outside(const struct house *house, const struct house_opening *opening) {
    return opening->other == HOUSE_OUTSIDE || !house->rooms[opening->other].inside ||
            !house->rooms[opening->room].inside;
}

static bool lets_through(const struct drawing *drawing, size_t index) {
    const enum site_opening_kind kind = drawing->house->site->building.openings[index].kind;
    const struct house_opening *opening = &drawing->house->openings[index];
    return opening->good && !opening->flat && (drawing->wish->open >> kind & 1) != 0 &&
            !(drawing->wish->stays_in && house_leads_outside(drawing->house, opening));
}

static bool lies_on(struct segment edge, struct point at) {
    const struct point step = point_step(edge.from, edge.to);
    const struct point off = point_step(edge.from, at);
    const double length_mm = point_distance_mm(edge.from, edge.to);
    const double along_mm = (double)point_dot(step, off) / length_mm;
    return fabs((double)point_cross(step, off)) <= BESIDE_MM * length_mm &&
            along_mm >= -BESIDE_MM && along_mm <= length_mm + BESIDE_MM;
}

/* The jambs on an edge, in its direction, put among the gaps found so far. */
static void add_gap(
        struct segment edge, const struct point *jambs, struct gap *gaps, size_t *count) {
    if (!lies_on(edge, jambs[0]) || !lies_on(edge, jambs[1]) || *count == GAPS_MOST) {
        return;
    }
    const struct point step = point_step(edge.from, edge.to);
    struct gap gap;
    for (size_t i = 0; i < 2; i++) {
        gap.ends[i] = jambs[i];
        gap.along[i] = point_dot(step, point_step(edge.from, jambs[i]));
    }
    if (gap.along[0] > gap.along[1]) {
        gap = (struct gap){{gap.ends[1], gap.ends[0]}, {gap.along[1], gap.along[0]}};
    }
    size_t place = (*count)++;
    for (; place > 0 && gap.along[0] < gaps[place - 1].along[0]; place--) {
        gaps[place] = gaps[place - 1];
    }
    gaps[place] = gap;
}

/* An edge of a room without its openings that let through, from either side of them. */
static void draw_edge(struct drawing *drawing, int room, struct segment edge) {
    struct gap gaps[GAPS_MOST];
    size_t count = 0;
    for (size_t i = 0; i < drawing->house->site->building.opening_count; i++) {
        const struct house_opening *opening = &drawing->house->openings[i];
        if (lets_through(drawing, i) && opening->room == room) {
            add_gap(edge, opening->near, gaps, &count);
        }
        if (lets_through(drawing, i) && opening->other == room) {
            add_gap(edge, opening->far, gaps, &count);
        }
    }
    struct point from = edge.from;
    int64_t along = 0;
    for (size_t i = 0; i < count; i++) {
        if (gaps[i].along[0] > along) {
            draw(drawing, from, gaps[i].ends[0]);
        }
        if (gaps[i].along[1] > along) {
            along = gaps[i].along[1];
            from = gaps[i].ends[1];
        }
    }
    const struct point step = point_step(edge.from, edge.to);
    if (along < point_dot(step, step)) {
        draw(drawing, from, edge.to);
    }
}

static bool is_here(const struct drawing *drawing, int room) {
    return drawing->house->rooms[room].good &&
            drawing->house->rooms[room].storey == drawing->storey;
}

static void draw_rooms(struct drawing *drawing) {
    for (size_t i = 0; i < drawing->house->site->building.room_count; i++) {
        const struct house_room *room = &drawing->house->rooms[i];
        for (size_t k = 0; room->inside && is_here(drawing, (int)i) && k < room->outline.count;
                k++) {
            draw_edge(drawing, (int)i, outline_edge(room->outline, k));
        }
    }
}

static void draw_jambs(struct drawing *drawing) {
    for (size_t i = 0; i < drawing->house->site->building.opening_count; i++) {
        const struct house_opening *opening = &drawing->house->openings[i];
        if (lets_through(drawing, i) && is_here(drawing, opening->room)) {
            draw(drawing, opening->near[0], opening->far[0]);
            draw(drawing, opening->near[1], opening->far[1]);
        }
    }
}

static void draw_box(struct drawing *drawing, const struct point corners[SIDES_OF_BOX]) {
    for (size_t k = 0; k < SIDES_OF_BOX; k++) {
        draw(drawing, corners[k], corners[(k + 1) % SIDES_OF_BOX]);
    }
}

static void draw_furniture(struct drawing *drawing) {
    const struct site_building *building = &drawing->house->site->building;
    for (size_t i = 0; i < building->furniture_count; i++) {
        const struct site_furniture *written = &building->furniture[i];
        const struct house_block *block = &drawing->house->furniture[i];
        if (block->good && is_here(drawing, written->room) &&
                written->height_mm >= drawing->wish->lowest_mm) {
            draw_box(drawing, block->corners);
        }
    }
}

static void draw_stairs(struct drawing *drawing) {
    const struct site_building *building = &drawing->house->site->building;
    for (size_t i = 0; drawing->wish->stairs && i < building->stairs_count; i++) {
        const struct house_stairs *stairs = &drawing->house->stairs[i];
        if (stairs->good &&
                (is_here(drawing, building->stairs[i].room) ||
                        is_here(drawing, building->stairs[i].to))) {
            draw_box(drawing, stairs->corners);
        }
    }
}

outcome house_walls(const struct house *house, int storey, const struct house_walls_wish *wish,
        struct arena *arena, const struct segment **ret_walls, size_t *ret_count,
        struct problem *ret_problem) {
    const struct site_building *building = &house->site->building;
    /* Every opening parts an edge on either side, and has two jambs. */
    size_t most = 4 * building->opening_count +
            SIDES_OF_BOX * (building->furniture_count + building->stairs_count);
    for (size_t i = 0; i < building->room_count; i++) {
        most += house->rooms[i].outline.count;
    }
    struct drawing drawing = {.house = house,
            .wish = wish,
            .storey = storey,
            .walls = ARENA_ARRAY(arena, struct segment, most)};
    if (drawing.walls == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the walls of a storey");
    }
    draw_rooms(&drawing);
    draw_jambs(&drawing);
    draw_furniture(&drawing);
    draw_stairs(&drawing);
    *ret_walls = drawing.walls;
    *ret_count = drawing.count;
    return outcome_good();
}
