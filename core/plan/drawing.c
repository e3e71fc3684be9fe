#include "plan/drawing.h"

#include "base/length.h"
#include "plan/draw.h"
#include "plan/house_inside.h"

#include <math.h>

struct point draw_moved(struct point at, struct point direction, double by_mm) {
    const double length = sqrt((double)point_dot(direction, direction));
    if (length <= 0) {
        return at;
    }
    return (struct point){at.x_mm + (int32_t)lround(direction.x_mm * by_mm / length),
            at.y_mm + (int32_t)lround(direction.y_mm * by_mm / length)};
}

void draw_keep_clear(struct drawer *drawer, struct point low, struct point high) {
    if (drawer->box_count < DRAW_BOXES_MOST / 2) {
        drawer->boxes[drawer->box_count++] = (struct picture_box){low, high};
    }
}

static double overlap_of(int32_t a, int32_t b, int32_t c, int32_t d) {
    const int32_t low = a > c ? a : c;
    const int32_t high = b < d ? b : d;
    return high > low ? high - low : 0;
}

double draw_overlap(const struct drawer *drawer, struct point low, struct point high) {
    double sum = 0;
    for (size_t i = 0; i < drawer->box_count; i++) {
        const struct picture_box *box = &drawer->boxes[i];
        sum += overlap_of(low.x_mm, high.x_mm, box->low.x_mm, box->high.x_mm) *
                overlap_of(low.y_mm, high.y_mm, box->low.y_mm, box->high.y_mm);
    }
    return sum;
}

static bool is_here(const struct drawer *drawer, int room) {
    return drawer->house->rooms[room].good && drawer->house->rooms[room].storey == drawer->storey;
}

static void add_outline(
        struct drawer *drawer, size_t room, enum picture_role role, int32_t width_mm) {
    const struct outline outline = drawer->house->rooms[room].outline;
    picture_about(drawer->out, "building.rooms", room);
    picture_add(drawer->out, role, PICTURE_AREA, outline.corners, outline.count, width_mm);
}

static void draw_rooms(struct drawer *drawer) {
    const size_t count = drawer->site->building.room_count;
    static const enum picture_role roles[] = {PICTURE_GROUND, PICTURE_WALL, PICTURE_FLOOR};
    for (size_t pass = 0; pass < sizeof roles / sizeof roles[0]; pass++) {
        for (size_t i = 0; i < count; i++) {
            const bool ground = roles[pass] == PICTURE_GROUND;
            if (is_here(drawer, (int)i) && drawer->house->rooms[i].inside != ground) {
                add_outline(drawer, i, roles[pass],
                        roles[pass] == PICTURE_WALL ? 2 * drawer->house->outer_mm : 0);
            }
        }
    }
}

/* ---- openings */

/* A line along the wall, a share of the way from its near face to the far one; from and to: shares of the width. */
static void draw_along(struct drawer *drawer, const struct house_opening *opening,
        enum picture_role role, double depth, double from, double to) {
    struct point ends[2];
    const double shares[2] = {from, to};
    for (int i = 0; i < 2; i++) {
        const double x = opening->near[0].x_mm +
                (opening->near[1].x_mm - opening->near[0].x_mm) * shares[i] +
                (opening->far[0].x_mm - opening->near[0].x_mm) * depth;
        const double y = opening->near[0].y_mm +
                (opening->near[1].y_mm - opening->near[0].y_mm) * shares[i] +
                (opening->far[0].y_mm - opening->near[0].y_mm) * depth;
        ends[i] = (struct point){(int32_t)lround(x), (int32_t)lround(y)};
    }
    picture_add_line(drawer->out, role, ends[0], ends[1]);
}

/* The leaf stands open into the room it is described from, hung on its left jamb. */
static void draw_leaf(struct drawer *drawer, const struct house_opening *opening) {
    enum { PIECES = 12 };
    const double quarter = 1.5707963267948966;
    struct point arc[PIECES + 1];
    const struct point hinge = opening->near[0];
    const struct point along = point_step(hinge, opening->near[1]);
    /* A quarter turn to the right of "left to right, seen from within" leads into the room. */
    const struct point into = {along.y_mm, -along.x_mm};
    for (int i = 0; i <= PIECES; i++) {
        const double turn = quarter * i / PIECES;
        arc[i] = (struct point){
                hinge.x_mm + (int32_t)lround(along.x_mm * cos(turn) + into.x_mm * sin(turn)),
                hinge.y_mm + (int32_t)lround(along.y_mm * cos(turn) + into.y_mm * sin(turn))};
    }
    picture_add(drawer->out, PICTURE_SWING, PICTURE_LINE, arc, PIECES + 1, 0);
    picture_add_line(drawer->out, PICTURE_LEAF, hinge, arc[PIECES]);
    struct point low = hinge;
    struct point high = hinge;
    for (int i = 0; i <= PIECES; i++) {
        low.x_mm = arc[i].x_mm < low.x_mm ? arc[i].x_mm : low.x_mm;
        low.y_mm = arc[i].y_mm < low.y_mm ? arc[i].y_mm : low.y_mm;
        high.x_mm = arc[i].x_mm > high.x_mm ? arc[i].x_mm : high.x_mm;
        high.y_mm = arc[i].y_mm > high.y_mm ? arc[i].y_mm : high.y_mm;
    }
    draw_keep_clear(drawer, low, high);
}

static void draw_flat(struct drawer *drawer, const struct house_opening *opening) {
    struct point corners[4];
    const struct point low = opening->near[0];
    const struct point size = point_step(low, opening->near[1]);
    house_rectangle(low, (struct site_point){size.x_mm, size.y_mm}, corners);
    picture_add(drawer->out, PICTURE_HIDDEN, PICTURE_AREA, corners, 4, 0);
    picture_add_line(drawer->out, PICTURE_HIDDEN, corners[0], corners[2]);
    picture_add_line(drawer->out, PICTURE_HIDDEN, corners[1], corners[3]);
    draw_keep_clear(drawer, corners[0], corners[2]);
}

static void draw_upright(struct drawer *drawer, size_t index) {
    const struct house_opening *opening = &drawer->house->openings[index];
    switch (drawer->site->building.openings[index].kind) {
    case SITE_OPENING_DOOR:
        draw_leaf(drawer, opening);
        break;
    case SITE_OPENING_SLIDING:
        draw_along(drawer, opening, PICTURE_LEAF, 0.4, 0, 0.52);
        draw_along(drawer, opening, PICTURE_LEAF, 0.6, 0.48, 1);
        break;
    case SITE_OPENING_GARAGE:
        draw_along(drawer, opening, PICTURE_LEAF, 0.5, 0, 1);
        draw_along(drawer, opening, PICTURE_HIDDEN, 0, 0, 1);
        break;
    case SITE_OPENING_WINDOW:
        draw_along(drawer, opening, PICTURE_PANE, 0, 0, 1);
        draw_along(drawer, opening, PICTURE_PANE, 0.5, 0, 1);
        draw_along(drawer, opening, PICTURE_PANE, 1, 0, 1);
        break;
    case SITE_OPENING_GAP:
        draw_along(drawer, opening, PICTURE_HIDDEN, 0, 0, 1);
        draw_along(drawer, opening, PICTURE_HIDDEN, 1, 0, 1);
        break;
    case SITE_OPENING_ROOF_LIGHT:
    case SITE_OPENING_HATCH:
    case SITE_OPENING_KIND_COUNT:
        break;
    }
}

static void draw_openings(struct drawer *drawer) {
    const size_t count = drawer->site->building.opening_count;
    enum { SEAM_MM = 4 }; /* over the line where floor and wall meet */
    for (size_t i = 0; i < count; i++) {
        const struct house_opening *opening = &drawer->house->openings[i];
        if (!opening->good || !is_here(drawer, opening->room)) {
            continue;
        }
        const struct point in = point_step(opening->far[0], opening->near[0]);
        const struct point out = point_step(opening->near[0], opening->far[0]);
        const struct point gap[4] = {draw_moved(opening->near[1], in, SEAM_MM),
                draw_moved(opening->near[0], in, SEAM_MM),
                draw_moved(opening->far[0], out, SEAM_MM),
                draw_moved(opening->far[1], out, SEAM_MM)};
        picture_about(drawer->out, "building.openings", i);
        if (opening->flat) {
            draw_flat(drawer, opening);
        } else {
            picture_add(drawer->out, PICTURE_GAP, PICTURE_AREA, gap, 4, 0);
            draw_upright(drawer, i);
        }
    }
}

/* ---- stairs and furniture */

static void draw_steps(struct drawer *drawer, const struct house_stairs *stairs) {
    enum { STEP_MM = 180, STEPS_MOST = 60 };
    const struct point up = point_step(stairs->foot, stairs->head);
    const struct point across = {-up.y_mm, up.x_mm};
    const struct point side = point_step(stairs->corners[0], stairs->corners[2]);
    const double half_mm = (up.x_mm == 0 ? side.x_mm : side.y_mm) / 2.0;
    int32_t count = stairs->rise_mm / STEP_MM;
    count = count < 2 ? 2 : count > STEPS_MOST ? STEPS_MOST : count;
    for (int32_t i = 1; i < count; i++) {
        const struct point at = draw_moved(stairs->foot, up, (double)stairs->run_mm * i / count);
        picture_add_line(drawer->out, PICTURE_STEP, draw_moved(at, across, -half_mm),
                draw_moved(at, across, half_mm));
    }
    const struct point tip = draw_moved(stairs->head, up, -picture_paper(drawer->out, 10));
    const double barb_mm = picture_paper(drawer->out, 15);
    picture_add_line(drawer->out, PICTURE_STEP, stairs->foot, tip);
    for (int i = -1; i <= 1; i += 2) {
        const struct point back = draw_moved(tip, up, -barb_mm);
        picture_add_line(drawer->out, PICTURE_STEP, tip, draw_moved(back, across, i * barb_mm / 2));
    }
}

static void draw_stairs(struct drawer *drawer) {
    const struct site_building *building = &drawer->site->building;
    for (size_t i = 0; i < building->stairs_count; i++) {
        const struct house_stairs *stairs = &drawer->house->stairs[i];
        const bool below = stairs->good && is_here(drawer, building->stairs[i].to);
        const bool here = stairs->good && is_here(drawer, building->stairs[i].room);
        if (!below && !here) {
            continue;
        }
        picture_about(drawer->out, "building.stairs", i);
        picture_add(drawer->out, here ? PICTURE_STEP : PICTURE_HIDDEN, PICTURE_AREA,
                stairs->corners, 4, 0);
        if (here) {
            draw_steps(drawer, stairs);
        }
        draw_keep_clear(drawer, stairs->corners[0], stairs->corners[2]);
    }
}

static void draw_furniture(struct drawer *drawer) {
    enum { EYES_MM = 1500 };
    const struct site_building *building = &drawer->site->building;
    for (size_t i = 0; i < building->furniture_count; i++) {
        const struct house_block *block = &drawer->house->furniture[i];
        const struct site_furniture *written = &building->furniture[i];
        if (!block->good || !is_here(drawer, written->room)) {
            continue;
        }
        const bool tall = written->height_mm >= EYES_MM;
        picture_about(drawer->out, "building.furniture", i);
        picture_add(drawer->out, tall ? PICTURE_TALL : PICTURE_FURNITURE, PICTURE_AREA,
                block->corners, 4, 0);
        draw_keep_clear(drawer, block->corners[0], block->corners[2]);
    }
}

/* Its name in it where it fits and no sign stands: in the middle, else nearer to an end. */
static void name_furniture(struct drawer *drawer, size_t index) {
    static const int32_t eighths[] = {4, 2, 6};
    const struct site_furniture *written = &drawer->site->building.furniture[index];
    const struct point low = drawer->house->furniture[index].corners[0];
    const int32_t height_mm = picture_paper(drawer->out, 18);
    const int32_t wide_mm = (int32_t)text_columns(written->name) * height_mm * 11 / 20;
    for (size_t i = 0; i < sizeof eighths / sizeof eighths[0]; i++) {
        const struct point at = {
                low.x_mm + written->size.x_mm / 8 * eighths[i], low.y_mm + written->size.y_mm / 2};
        const struct point from = {at.x_mm - wide_mm / 2, at.y_mm - height_mm / 2};
        const struct point to = {at.x_mm + wide_mm / 2, at.y_mm + height_mm / 2};
        const bool inside = from.x_mm >= low.x_mm && to.x_mm <= low.x_mm + written->size.x_mm &&
                height_mm <= written->size.y_mm;
        if (inside && draw_overlap_of_signs(drawer, from, to) <= 0) {
            picture_add_text(
                    drawer->out, PICTURE_SMALL, at, PICTURE_MIDDLE, height_mm, written->name);
            return;
        }
    }
}

/* Whether it leads up or down: before the flight; where a wall or a sign is too near for that, on its end or further
 * in. */
static void name_stairs(struct drawer *drawer, size_t index) {
    static const int32_t tenths[] = {20, -20, -60, -100, -140};
    const struct house_stairs *stairs = &drawer->house->stairs[index];
    const bool here = is_here(drawer, drawer->site->building.stairs[index].room);
    const struct text word = text_of(here ? "up" : "down");
    const struct point step =
            here ? point_step(stairs->head, stairs->foot) : point_step(stairs->foot, stairs->head);
    const struct point end = here ? stairs->foot : stairs->head;
    const int32_t height_mm = picture_paper(drawer->out, 22);
    const struct point half = {(int32_t)text_columns(word) * height_mm * 3 / 10, height_mm * 3 / 5};
    const struct point far = draw_moved(end, step, picture_paper(drawer->out, 34));
    const bool room = house_room_at(drawer->house, drawer->storey, far) != HOUSE_OUTSIDE;
    struct point at = end;
    for (size_t i = room ? 0 : 1; i < sizeof tenths / sizeof tenths[0]; i++) {
        at = draw_moved(end, step, picture_paper(drawer->out, tenths[i]));
        if (draw_overlap_of_signs(drawer, (struct point){at.x_mm - half.x_mm, at.y_mm - half.y_mm},
                    (struct point){at.x_mm + half.x_mm, at.y_mm + half.y_mm}) <= 0) {
            break;
        }
    }
    picture_add_text(drawer->out, PICTURE_SMALL, at, PICTURE_MIDDLE, height_mm, word);
    draw_keep_clear(drawer, (struct point){at.x_mm - half.x_mm, at.y_mm - half.y_mm},
            (struct point){at.x_mm + half.x_mm, at.y_mm + half.y_mm});
}

/* ---- words and measures */

static struct text measures(struct drawer *drawer, size_t room) {
    const struct house_room *made = &drawer->house->rooms[room];
    struct text_builder out;
    text_builder_init(&out, drawer->out->arena);
    text_add_format(&out, "%.1f m²", outline_area_m2(made->outline));
    if (drawer->site->building.rooms[room].size_said || made->outline.count == 4) {
        const struct point size = point_step(made->low, made->high);
        text_add_string(&out, " · ");
        length_add_pair(&out, size.x_mm, size.y_mm);
    }
    return text_built(&out);
}

/* Where a label of this size is least in the way, of places all over the room: first what it covers, then how far it is
 * from the middle. ret_fits: whether it lies in the room and covers nothing. */
static struct point label_place(
        const struct drawer *drawer, size_t room, struct point size_mm, bool *ret_fits) {
    enum { PLACES = 20 };
    const struct house_room *made = &drawer->house->rooms[room];
    const struct point size = point_step(made->low, made->high);
    const struct point middle = {made->low.x_mm + size.x_mm / 2, made->low.y_mm + size.y_mm / 2};
    struct point best = middle;
    double least = -1;
    for (int i = 0; i < (PLACES + 1) * (PLACES + 1); i++) {
        const struct point at = {made->low.x_mm + size.x_mm / PLACES * (i % (PLACES + 1)),
                made->low.y_mm + size.y_mm / PLACES * (i / (PLACES + 1))};
        const struct point low = {at.x_mm - size_mm.x_mm / 2, at.y_mm - size_mm.y_mm / 2};
        const struct point high = {low.x_mm + size_mm.x_mm, low.y_mm + size_mm.y_mm};
        struct point corners[4];
        house_rectangle(low, (struct site_point){size_mm.x_mm, size_mm.y_mm}, corners);
        const double bad = (house_holds(drawer->house, (int)room, corners) ? 0 : 1e9) +
                draw_overlap(drawer, low, high) * 10 +
                draw_overlap_of_signs(drawer, low, high) * 100;
        const double cost = bad + point_distance_mm(at, middle);
        if (least < 0 || cost < least) {
            least = cost;
            best = at;
            *ret_fits = bad <= 0;
        }
    }
    return best;
}

/* A name in letters of a tenth of a millimetre of paper, its measures below it in smaller ones. */
struct label {
    struct text name;
    struct text measures; /* empty: left out */
    int32_t tenths;
};

static int32_t wide(const struct drawer *drawer, struct text text, int32_t tenths) {
    return (int32_t)text_columns(text) * picture_paper(drawer->out, tenths) * 11 / 20;
}

static bool add_label(struct drawer *drawer, size_t room, const struct label *label, bool anyhow) {
    enum { SMALL_TENTHS = 20 };
    const bool two = label->measures.length > 0;
    const int32_t name_mm = picture_paper(drawer->out, label->tenths);
    const int32_t small_mm = picture_paper(drawer->out, SMALL_TENTHS);
    const int32_t name_wide_mm = wide(drawer, label->name, label->tenths);
    const int32_t small_wide_mm = wide(drawer, label->measures, SMALL_TENTHS);
    const struct point size_mm = {
            (name_wide_mm > small_wide_mm ? name_wide_mm : small_wide_mm) + small_mm,
            two ? name_mm + small_mm * 2 : name_mm * 3 / 2};
    bool fits = false;
    const struct point at = label_place(drawer, room, size_mm, &fits);
    if (!fits && !anyhow) {
        return false;
    }
    picture_add_text(drawer->out, PICTURE_LABEL,
            (struct point){at.x_mm, at.y_mm + (two ? small_mm * 3 / 4 : 0)}, PICTURE_MIDDLE,
            name_mm, label->name);
    if (two) {
        picture_add_text(drawer->out, PICTURE_SMALL,
                (struct point){at.x_mm, at.y_mm - name_mm * 2 / 3}, PICTURE_MIDDLE, small_mm,
                label->measures);
    }
    draw_keep_clear(drawer, (struct point){at.x_mm - size_mm.x_mm / 2, at.y_mm - size_mm.y_mm / 2},
            (struct point){at.x_mm + size_mm.x_mm / 2, at.y_mm + size_mm.y_mm / 2});
    return true;
}

/* As much as fits: name and measures, smaller, without the length of the walls, the name alone; else a letter that the
 * legend explains. */
static void draw_label(struct drawer *drawer, size_t room) {
    const struct text name = drawer->site->building.rooms[room].name;
    const struct text all =
            drawer->house->rooms[room].inside ? measures(drawer, room) : (struct text){0};
    const struct text area = all.length == 0
            ? all
            : text_print(drawer->out->arena, "%.1f m²",
                      outline_area_m2(drawer->house->rooms[room].outline));
    static const int32_t letter_tenths[] = {30, 24, 22};
    const struct label tries[] = {{name, all, 30}, {name, all, 24}, {name, area, 30},
            {name, area, 24}, {name, {0}, 24}, {name, {0}, 18}};
    for (size_t i = 0; i < sizeof tries / sizeof tries[0]; i++) {
        if (add_label(drawer, room, &tries[i], false)) {
            return;
        }
    }
    for (size_t i = 0; drawer->lettered_count < DRAW_LETTERS_MOST && i < 3; i++) {
        const struct label letter = {
                draw_letter(drawer, drawer->lettered_count), {0}, letter_tenths[i]};
        if (add_label(drawer, room, &letter, i == 2)) {
            drawer->lettered[drawer->lettered_count++] = room;
            return;
        }
    }
}

struct text draw_letter(const struct drawer *drawer, size_t index) {
    return text_print(drawer->out->arena, "%c", (int)('a' + index % DRAW_LETTERS_MOST));
}

static struct text length_text(struct drawer *drawer, int32_t length_mm) {
    return text_print(drawer->out->arena, "%d.%02d m", length_mm / 1000, length_mm % 1000 / 10);
}

/* A dimension line with its two ticks and its measure, from low to high, to the right or to the back. */
static void draw_dimension(struct drawer *drawer, struct point from, struct point to) {
    const int32_t tick_mm = picture_paper(drawer->out, 12);
    const int32_t height_mm = picture_paper(drawer->out, 22);
    const bool level = from.y_mm == to.y_mm;
    const struct point ends[2] = {from, to};
    const struct point middle = {(from.x_mm + to.x_mm) / 2, (from.y_mm + to.y_mm) / 2};
    picture_add_line(drawer->out, PICTURE_DIMENSION, from, to);
    for (int i = 0; i < 2; i++) {
        const struct point at = ends[i];
        picture_add_line(drawer->out, PICTURE_DIMENSION,
                (struct point){at.x_mm - tick_mm / 2, at.y_mm - tick_mm / 2},
                (struct point){at.x_mm + tick_mm / 2, at.y_mm + tick_mm / 2});
    }
    const struct point label = level ? (struct point){middle.x_mm, middle.y_mm + height_mm}
                                     : (struct point){middle.x_mm - height_mm / 2, middle.y_mm};
    picture_add_text(drawer->out, PICTURE_SMALL, label, level ? PICTURE_MIDDLE : PICTURE_END,
            height_mm, length_text(drawer, level ? to.x_mm - from.x_mm : to.y_mm - from.y_mm));
}

/* Over all, outside: the walls round the rooms of this storey. False: it has none. */
static bool storey_box(const struct drawer *drawer, struct point *ret_low, struct point *ret_high) {
    bool found = false;
    for (size_t i = 0; i < drawer->site->building.room_count; i++) {
        const struct house_room *room = &drawer->house->rooms[i];
        if (!is_here(drawer, (int)i) || !room->inside) {
            continue;
        }
        if (!found) {
            *ret_low = room->low;
            *ret_high = room->high;
            found = true;
        }
        ret_low->x_mm = room->low.x_mm < ret_low->x_mm ? room->low.x_mm : ret_low->x_mm;
        ret_low->y_mm = room->low.y_mm < ret_low->y_mm ? room->low.y_mm : ret_low->y_mm;
        ret_high->x_mm = room->high.x_mm > ret_high->x_mm ? room->high.x_mm : ret_high->x_mm;
        ret_high->y_mm = room->high.y_mm > ret_high->y_mm ? room->high.y_mm : ret_high->y_mm;
    }
    const int32_t outer_mm = drawer->house->outer_mm;
    *ret_low = (struct point){ret_low->x_mm - outer_mm, ret_low->y_mm - outer_mm};
    *ret_high = (struct point){ret_high->x_mm + outer_mm, ret_high->y_mm + outer_mm};
    return found;
}

static void draw_scale_bar(struct drawer *drawer, struct point at) {
    const int32_t metres = drawer->out->scale <= 50 ? 2 : drawer->out->scale <= 100 ? 5 : 10;
    const int32_t tick_mm = picture_paper(drawer->out, 12);
    const int32_t height_mm = picture_paper(drawer->out, 22);
    const struct point end = {at.x_mm + metres * 1000, at.y_mm};
    picture_add_line(drawer->out, PICTURE_DIMENSION, at, end);
    for (int32_t i = 0; i <= metres; i++) {
        const int32_t x = at.x_mm + i * 1000;
        picture_add_line(drawer->out, PICTURE_DIMENSION, (struct point){x, at.y_mm},
                (struct point){x, at.y_mm + tick_mm});
    }
    picture_add_text(drawer->out, PICTURE_SMALL,
            (struct point){end.x_mm + height_mm, at.y_mm + height_mm / 3}, PICTURE_BEGIN, height_mm,
            text_print(drawer->out->arena, "%d m · 1:%d on A4 at full size", metres,
                    drawer->out->scale));
}

/* What is to be known of the measures, and of each layer, one line below the other. */
static void draw_notes(struct drawer *drawer, struct point at) {
    const int32_t height_mm = picture_paper(drawer->out, 20);
    picture_add_text(drawer->out, PICTURE_SMALL, at, PICTURE_BEGIN, height_mm,
            text_of("Measures in rooms are clear inside, wall to wall."));
    for (size_t i = 0; i < drawer->layer_count; i++) {
        if (drawer->layers[i].note != NULL) {
            at.y_mm -= 2 * height_mm;
            picture_add_text(drawer->out, PICTURE_SMALL, at, PICTURE_BEGIN, height_mm,
                    text_of(drawer->layers[i].note));
        }
    }
}

static void draw_frame(struct drawer *drawer) {
    struct point low = {0, 0};
    struct point high = {0, 0};
    const struct site_building *building = &drawer->site->building;
    const struct point all_low = drawer->out->low;
    const struct point all_high = drawer->out->high;
    const int32_t away_mm = picture_paper(drawer->out, 70);
    if (storey_box(drawer, &low, &high)) {
        const int32_t y = all_low.y_mm - away_mm;
        const int32_t x = all_low.x_mm - away_mm;
        draw_dimension(drawer, (struct point){low.x_mm, y}, (struct point){high.x_mm, y});
        draw_dimension(drawer, (struct point){x, low.y_mm}, (struct point){x, high.y_mm});
    }
    draw_scale_bar(drawer, (struct point){all_low.x_mm, all_low.y_mm - 2 * away_mm});
    draw_notes(drawer, (struct point){all_low.x_mm, all_low.y_mm - 2 * away_mm - away_mm * 2 / 3});
    picture_add_text(drawer->out, PICTURE_TITLE,
            (struct point){all_low.x_mm, all_high.y_mm + away_mm}, PICTURE_BEGIN,
            picture_paper(drawer->out, 42),
            text_print(drawer->out->arena, "%.*s%s · %.*s", TEXT_ARGS(drawer->site->name),
                    drawer->site->invented ? " (invented)" : "",
                    TEXT_ARGS(building->storeys[drawer->storey].name)));
    draw_legend(drawer, (struct point){all_high.x_mm + away_mm, all_high.y_mm});
}

/* Names of rooms keep clear of the words of a layer, and of its ways in pieces. */
static void keep_clear_of(struct drawer *drawer, const struct picture_shape *shape) {
    const struct point at = shape->points[0];
    if (shape->form == PICTURE_TEXT) {
        const struct point half = {(int32_t)text_columns(shape->text) * shape->width_mm * 11 / 40,
                shape->width_mm * 3 / 5};
        draw_keep_clear(drawer, (struct point){at.x_mm - half.x_mm, at.y_mm - half.y_mm},
                (struct point){at.x_mm + half.x_mm, at.y_mm + half.y_mm});
    }
    const bool way = shape->role == PICTURE_WAY || shape->role == PICTURE_INTRUDER;
    for (size_t i = 0; way && i + 1 < shape->count; i++) {
        const int32_t piece_mm = picture_paper(drawer->out, 40);
        const double length_mm = point_distance_mm(shape->points[i], shape->points[i + 1]);
        const struct point step = point_step(shape->points[i], shape->points[i + 1]);
        for (double along_mm = 0; along_mm < length_mm; along_mm += piece_mm) {
            const struct point on = draw_moved(shape->points[i], step, along_mm);
            draw_keep_clear(drawer, (struct point){on.x_mm - piece_mm / 4, on.y_mm - piece_mm / 4},
                    (struct point){on.x_mm + piece_mm / 4, on.y_mm + piece_mm / 4});
        }
    }
}

static void draw_layers_over(struct drawer *drawer) {
    const size_t first = drawer->out->count;
    for (size_t i = 0; i < drawer->layer_count; i++) {
        if (drawer->layers[i].over != NULL) {
            drawer->layers[i].over(drawer->layers[i].context, drawer->out, drawer->storey);
        }
    }
    for (size_t i = first; i < drawer->out->count; i++) {
        keep_clear_of(drawer, &drawer->out->shapes[i]);
    }
}

int32_t drawing_scale(const struct house *house) {
    static const int32_t scales[] = {20, 25, 50, 100, 200};
    /* Of A4 on its side and upright, less margins, legend and measures. */
    static const struct point sheets[] = {{185, 145}, {110, 225}};
    enum { LAST = 500 };
    const struct point size = point_step(house->low, house->high);
    for (size_t i = 0; i < sizeof scales / sizeof scales[0]; i++) {
        for (size_t j = 0; j < sizeof sheets / sizeof sheets[0]; j++) {
            if (size.x_mm <= scales[i] * sheets[j].x_mm &&
                    size.y_mm <= scales[i] * sheets[j].y_mm) {
                return scales[i];
            }
        }
    }
    return LAST;
}

/* What follows stands for nothing until it says so. */
static void end_part(struct picture *picture, enum picture_part part) {
    picture->ends[part] = picture->count;
    picture_about(picture, NULL, 0);
}

outcome drawing_make(const struct house *house, int storey, int32_t scale,
        const struct drawing_layer *layers, size_t layer_count, struct arena *arena,
        struct picture *ret_picture, struct problem *ret_problem) {
    struct picture picture;
    picture_init(&picture, arena, scale);
    struct drawer drawer = {.house = house,
            .site = house->site,
            .out = &picture,
            .storey = storey,
            .layers = layers,
            .layer_count = layer_count,
            .boxes = ARENA_ARRAY(arena, struct picture_box, DRAW_BOXES_MOST)};
    if (drawer.boxes == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to draw the building");
    }
    draw_rooms(&drawer);
    end_part(&picture, PICTURE_PART_FLOORS);
    for (size_t i = 0; i < layer_count; i++) {
        if (layers[i].under != NULL) {
            layers[i].under(layers[i].context, &picture, storey);
        }
    }
    draw_furniture(&drawer);
    draw_stairs(&drawer);
    draw_openings(&drawer);
    end_part(&picture, PICTURE_PART_BUILDING);
    draw_foresee_signs(&drawer);
    draw_layers_over(&drawer);
    draw_signs(&drawer);
    for (size_t i = 0; i < house->site->building.furniture_count; i++) {
        if (house->furniture[i].good && is_here(&drawer, house->site->building.furniture[i].room)) {
            picture_about(&picture, "building.furniture", i);
            name_furniture(&drawer, i);
        }
    }
    for (size_t i = 0; i < house->site->building.stairs_count; i++) {
        const struct site_stairs *stairs = &house->site->building.stairs[i];
        if (house->stairs[i].good &&
                (is_here(&drawer, stairs->to) || is_here(&drawer, stairs->room))) {
            picture_about(&picture, "building.stairs", i);
            name_stairs(&drawer, i);
        }
    }
    for (size_t i = 0; i < house->site->building.room_count; i++) {
        if (is_here(&drawer, (int)i)) {
            picture_about(&picture, "building.rooms", i);
            draw_label(&drawer, i);
        }
    }
    end_part(&picture, PICTURE_PART_THINGS);
    draw_frame(&drawer);
    end_part(&picture, PICTURE_PART_SHEET);
    if (arena->refused) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to draw the building");
    }
    *ret_picture = picture;
    return outcome_good();
}
