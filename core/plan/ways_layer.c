#include "plan/ways_layer.h"

#include "plan/draw.h"

#include <math.h>

enum { LABEL_TENTHS = 22, OFF_TENTHS = 26, BARB_TENTHS = 26 };
enum { TIMES_OF_WORDS = 4 }; /* its own area, that what stands on other words costs */

/* Where a label may stand, and what it would stand on. */
struct spot {
    struct point low;
    struct point high;
    double cost;
};

static struct text length_text(struct arena *arena, const struct used_way *way) {
    return text_print(arena, "%.1f m", way->way.way.length_mm / 1000);
}

static struct text seconds_text(struct arena *arena, const struct used_way *way) {
    const struct house_seconds seconds = used_way_seconds(way);
    return text_print(arena, "%.1f to %.1f s", seconds.low_s, seconds.high_s);
}

struct text used_way_figures(struct arena *arena, const struct used_way *way) {
    return text_print(arena, "%.*s, %.*s", TEXT_ARGS(length_text(arena, way)),
            TEXT_ARGS(seconds_text(arena, way)));
}

static bool on_storey(const struct way *way, size_t leg, int storey) {
    return way->stops[leg].storey == (uint32_t)storey &&
            way->stops[leg + 1].storey == (uint32_t)storey;
}

/* The longest leg of a way on a storey; SIZE_MAX: it has none there. */
static size_t longest_leg(const struct way *way, int storey) {
    size_t best = SIZE_MAX;
    double most_mm = 0;
    for (size_t i = 0; i + 1 < way->count; i++) {
        const double length_mm = point_distance_mm(way->stops[i].at, way->stops[i + 1].at);
        if (on_storey(way, i, storey) && length_mm > most_mm) {
            most_mm = length_mm;
            best = i;
        }
    }
    return best;
}

/* In the middle of a leg, as its end is under the sign of the keypad. */
static void draw_arrow(struct picture *picture, struct point from, struct point to) {
    const struct point step = point_step(from, to);
    const struct point across = {-step.y_mm, step.x_mm};
    const double barb_mm = picture_paper(picture, BARB_TENTHS);
    const struct point tip = draw_moved(from, step, point_distance_mm(from, to) / 2);
    const struct point back = draw_moved(tip, step, -barb_mm);
    const struct point head[3] = {
            draw_moved(back, across, barb_mm / 2), tip, draw_moved(back, across, -barb_mm / 2)};
    picture_add(picture, PICTURE_WAY, PICTURE_LINE, head, 3, 0);
}

static void draw_legs(struct picture *picture, const struct way *way, int storey) {
    for (size_t i = 0; i + 1 < way->count; i++) {
        if (on_storey(way, i, storey)) {
            picture_add_line(picture, PICTURE_WAY, way->stops[i].at, way->stops[i + 1].at);
        }
    }
    const size_t leg = longest_leg(way, storey);
    if (leg != SIZE_MAX) {
        draw_arrow(picture, way->stops[leg].at, way->stops[leg + 1].at);
    }
}

/* ---- where the figures stand */

/* The figures as they may be set: in one line or in two. */
struct figures {
    struct text lines[2];
    size_t count;
};

/* The best place so far for the figures of one way. */
struct search {
    const struct ways_drawn *drawn;
    struct picture *picture;
    size_t first; /* shape of the layer */
    int storey;
    const struct figures *figures;
    struct spot best;
};

static int32_t height_of(const struct search *search) {
    return picture_paper(search->picture, LABEL_TENTHS);
}

static struct point size_of(const struct search *search, const struct figures *figures) {
    size_t columns = 0;
    for (size_t i = 0; i < figures->count; i++) {
        const size_t own = text_columns(figures->lines[i]);
        columns = own > columns ? own : columns;
    }
    return (struct point){(int32_t)columns * height_of(search) * 11 / 20,
            (int32_t)figures->count * height_of(search) * 6 / 5};
}

static double overlap_mm2(
        const struct spot *spot, struct point other_low, struct point other_high) {
    const double x = fmin(spot->high.x_mm, other_high.x_mm) - fmax(spot->low.x_mm, other_low.x_mm);
    const double y = fmin(spot->high.y_mm, other_high.y_mm) - fmax(spot->low.y_mm, other_low.y_mm);
    return x > 0 && y > 0 ? x * y : 0;
}

/* Whether words outside reach into the walls round a room. */
static bool on_outer_wall(const struct search *search, const struct spot *spot) {
    const struct house *house = search->drawn->house;
    for (size_t i = 0; i < house->site->building.room_count; i++) {
        const struct house_room *room = &house->rooms[i];
        const struct point low = {
                room->low.x_mm - house->outer_mm, room->low.y_mm - house->outer_mm};
        const struct point high = {
                room->high.x_mm + house->outer_mm, room->high.y_mm + house->outer_mm};
        if (room->good && room->inside && room->storey == search->storey &&
                overlap_mm2(spot, low, high) > 0) {
            return true;
        }
    }
    return false;
}

/* Words that stand in two rooms, or in one and outside, stand on a wall. */
static bool on_a_wall(const struct search *search, const struct spot *spot) {
    const struct house *house = search->drawn->house;
    const struct point corners[4] = {spot->low, {spot->high.x_mm, spot->low.y_mm}, spot->high,
            {spot->low.x_mm, spot->high.y_mm}};
    const int room = house_room_at(house, search->storey, corners[0]);
    for (int i = 1; i < 4; i++) {
        if (house_room_at(house, search->storey, corners[i]) != room) {
            return true;
        }
    }
    return (room == HOUSE_OUTSIDE || !house->rooms[room].inside) && on_outer_wall(search, spot);
}

/* How much of the signs and of the furniture it covers: what a sign stands on cannot be read at all. */
static double covered_mm2(const struct search *search, const struct spot *spot) {
    const struct house *house = search->drawn->house;
    const struct site_building *building = &house->site->building;
    const double own_mm2 =
            (double)(spot->high.x_mm - spot->low.x_mm) * (double)(spot->high.y_mm - spot->low.y_mm);
    double sum_mm2 = 0;
    for (size_t i = 0; i < search->picture->sign_count; i++) {
        const struct picture_box *sign = &search->picture->signs[i];
        const double on_sign_mm2 = overlap_mm2(spot, sign->low, sign->high);
        sum_mm2 += on_sign_mm2 > 0 ? 20 * own_mm2 + 40 * on_sign_mm2 : 0;
    }
    for (size_t i = 0; i < building->furniture_count; i++) {
        const struct house_block *block = &house->furniture[i];
        if (block->good && house->rooms[building->furniture[i].room].storey == search->storey) {
            sum_mm2 += overlap_mm2(spot, block->corners[0], block->corners[2]) / 2;
        }
    }
    return sum_mm2;
}

static bool crosses(const struct spot *spot, struct segment line) {
    const struct point corners[4] = {spot->low, {spot->high.x_mm, spot->low.y_mm}, spot->high,
            {spot->low.x_mm, spot->high.y_mm}};
    const struct outline box = {corners, 4};
    bool meets = outline_place(box, line.from) != PLACE_OUTSIDE;
    for (size_t i = 0; i < 4; i++) {
        meets = meets || segment_meets(outline_edge(box, i), line);
    }
    return meets;
}

/* What other ways and figures of this layer it covers, in times its own area. */
static double times_covered(const struct search *search, const struct spot *spot) {
    double times = 0;
    for (size_t i = search->first; i < search->picture->count; i++) {
        const struct picture_shape *shape = &search->picture->shapes[i];
        if (shape->form == PICTURE_TEXT) {
            const int32_t half_mm = (int32_t)text_columns(shape->text) * shape->width_mm * 11 / 40;
            const struct point at = shape->points[0];
            const struct point low = {at.x_mm - half_mm, at.y_mm - shape->width_mm / 2};
            const struct point high = {at.x_mm + half_mm, at.y_mm + shape->width_mm / 2};
            times += overlap_mm2(spot, low, high) > 0 ? TIMES_OF_WORDS : 0;
        }
        for (size_t k = 0; shape->form == PICTURE_LINE && k + 1 < shape->count; k++) {
            times += crosses(spot, (struct segment){shape->points[k], shape->points[k + 1]});
        }
    }
    return times;
}

/* extra: what this kind of place costs of itself, in times the area of the words. */
static void weigh(
        struct search *search, const struct figures *figures, struct point middle, double extra) {
    const struct point size = size_of(search, figures);
    const double own_mm2 = (double)size.x_mm * size.y_mm;
    if (extra * own_mm2 >= search->best.cost) {
        return;
    }
    struct spot spot = {.low = {middle.x_mm - size.x_mm / 2, middle.y_mm - size.y_mm / 2},
            .high = {middle.x_mm + size.x_mm / 2, middle.y_mm + size.y_mm / 2}};
    spot.cost = (on_a_wall(search, &spot) ? 100 * own_mm2 : 0) + covered_mm2(search, &spot) +
            (times_covered(search, &spot) + extra) * own_mm2;
    if (spot.cost < search->best.cost) {
        search->best = spot;
        search->figures = figures;
    }
}

/* Beside a leg, as far off as the words reach in that direction, all along it and on either side. */
static void weigh_beside(struct search *search, const struct figures *figures, struct point from,
        struct point to, double extra) {
    enum { PIECES = 12 };
    const struct point step = point_step(from, to);
    const struct point across = {-step.y_mm, step.x_mm};
    const struct point size = size_of(search, figures);
    const double length_mm = point_distance_mm(from, to);
    const double off_mm = (fabs(across.x_mm / length_mm) * size.x_mm +
                                  fabs(across.y_mm / length_mm) * size.y_mm) /
                    2 +
            picture_paper(search->picture, OFF_TENTHS);
    for (int i = 0; i <= PIECES; i++) {
        const double share = (double)i / PIECES;
        const struct point on = draw_moved(from, step, length_mm * share);
        const double far = fabs(share - 0.5) / 2;
        weigh(search, figures, draw_moved(on, across, off_mm), extra + far);
        weigh(search, figures, draw_moved(on, across, -off_mm), extra + far);
    }
}

/* Anywhere near a leg, the further off the worse, rather over it than in another room: for where all beside it is
 * taken. */
static void weigh_around(
        struct search *search, const struct figures *figures, struct point middle, double extra) {
    enum { REACH = 16 };
    const struct house *house = search->drawn->house;
    const int32_t unit_mm = height_of(search) / 2;
    const int home = house_room_at(house, search->storey, middle);
    for (int32_t i = -REACH; i <= REACH; i++) {
        for (int32_t j = -REACH; j <= REACH; j++) {
            const struct point at = {middle.x_mm + i * unit_mm, middle.y_mm + j * unit_mm};
            const double astray = house_room_at(house, search->storey, at) == home ? 0 : 2;
            weigh(search, figures, at, extra + astray + 0.05 * sqrt((double)(i * i + j * j)));
        }
    }
}

/* Whether the best place so far is on a sign, on other words or on a wall. */
static bool stands_on_something(const struct search *search) {
    const struct spot *best = &search->best;
    const double own_mm2 =
            (double)(best->high.x_mm - best->low.x_mm) * (double)(best->high.y_mm - best->low.y_mm);
    return !isinf(best->cost) && best->cost >= TIMES_OF_WORDS * own_mm2;
}

/* Outside, before the door. */
static void weigh_before(
        struct search *search, const struct figures *figures, const struct way *way, double extra) {
    const struct point step = point_step(way->stops[0].at, way->stops[1].at);
    const struct point size = size_of(search, figures);
    const double length_mm = point_distance_mm(way->stops[0].at, way->stops[1].at);
    const double off_mm = search->drawn->house->outer_mm +
            (fabs(step.x_mm / length_mm) * size.x_mm + fabs(step.y_mm / length_mm) * size.y_mm) /
                    2 +
            picture_paper(search->picture, OFF_TENTHS);
    weigh(search, figures, draw_moved(way->stops[0].at, step, -off_mm), extra);
}

static void draw_figures(const struct ways_drawn *drawn, struct picture *picture, size_t first,
        const struct used_way *used, int storey) {
    const struct way *way = &used->way.way;
    const struct figures forms[] = {{{used_way_figures(picture->arena, used)}, 1},
            {{length_text(picture->arena, used), seconds_text(picture->arena, used)}, 2}};
    struct search search = {.drawn = drawn,
            .picture = picture,
            .first = first,
            .storey = storey,
            .figures = &forms[0],
            .best = {.cost = INFINITY}};
    for (size_t form = 0; form < sizeof forms / sizeof forms[0]; form++) {
        for (size_t i = 0; i + 1 < way->count; i++) {
            const struct point from = way->stops[i].at;
            if (on_storey(way, i, storey) && !point_equal(from, way->stops[i + 1].at)) {
                weigh_beside(&search, &forms[form], from, way->stops[i + 1].at, 0.3 * (double)form);
            }
        }
        if (on_storey(way, 0, storey)) {
            weigh_before(&search, &forms[form], way, 0.8);
        }
    }
    const size_t leg = longest_leg(way, storey);
    for (size_t form = 0; leg != SIZE_MAX && form < sizeof forms / sizeof forms[0]; form++) {
        const struct point ends[2] = {way->stops[leg].at, way->stops[leg + 1].at};
        if (stands_on_something(&search)) {
            weigh_around(&search, &forms[form],
                    (struct point){
                            (ends[0].x_mm + ends[1].x_mm) / 2, (ends[0].y_mm + ends[1].y_mm) / 2},
                    1 + 0.3 * (double)form);
        }
    }
    const struct point middle = {(search.best.low.x_mm + search.best.high.x_mm) / 2,
            (search.best.low.y_mm + search.best.high.y_mm) / 2};
    const int32_t row_mm = height_of(&search) * 6 / 5;
    for (size_t i = 0; i < search.figures->count && !isinf(search.best.cost); i++) {
        const int32_t up_mm = row_mm * ((int32_t)search.figures->count - 1) / 2;
        picture_add_text(picture, PICTURE_SMALL,
                (struct point){middle.x_mm, middle.y_mm + up_mm - row_mm * (int32_t)i},
                PICTURE_MIDDLE, height_of(&search), search.figures->lines[i]);
    }
}

/* On the storey where most of the way is walked. */
static int storey_of(const struct way *way) {
    double longest_mm = -1;
    int storey = 0;
    for (size_t i = 0; i + 1 < way->count; i++) {
        const double length_mm = way->stops[i + 1].after_mm - way->stops[i].after_mm;
        if (way->stops[i].storey == way->stops[i + 1].storey && length_mm > longest_mm) {
            longest_mm = length_mm;
            storey = (int)way->stops[i].storey;
        }
    }
    return storey;
}

static void draw_ways(const void *context, struct picture *picture, int storey) {
    const struct ways_drawn *drawn = context;
    const size_t first = picture->count;
    for (size_t i = 0; i < drawn->ways->count; i++) {
        if (drawn->ways->ways[i].way.way.count > 1) {
            draw_legs(picture, &drawn->ways->ways[i].way.way, storey);
        }
    }
    for (size_t i = 0; i < drawn->ways->count; i++) {
        const struct used_way *used = &drawn->ways->ways[i];
        if (used->way.way.count > 1 && storey_of(&used->way.way) == storey) {
            draw_figures(drawn, picture, first, used, storey);
        }
    }
}

struct drawing_layer ways_layer(const struct ways_drawn *drawn) {
    static const struct drawing_row rows[] = {{PICTURE_WAY, PICTURE_LINE, "way to the keypad"}};
    return (struct drawing_layer){.over = draw_ways,
            .context = drawn,
            .rows = rows,
            .row_count = sizeof rows / sizeof rows[0]};
}
