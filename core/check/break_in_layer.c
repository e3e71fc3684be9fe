#include "check/break_in_layer.h"

#include <math.h>

enum { HEAD_TENTHS = 22, CROSS_TENTHS = 14 };

outcome break_ins_draw(const struct house *house, struct arena *arena, struct site *ret_site,
        struct portals *ret_portals, struct problem *ret_problem) {
    struct coverage coverage;
    TRY(coverage_make(house, arena, &coverage, ret_problem));
    TRY(portals_make(house, &coverage, arena, ret_portals, ret_problem));
    *ret_site = *house->site;
    ret_site->break_ins = ret_portals->said;
    return outcome_good();
}

static bool is_worse(const struct break_in *it) {
    return it->verdict == BREAK_INS_LATE || it->verdict == BREAK_INS_UNHEARD;
}

bool break_in_is_drawn(const struct break_ins *all, const struct break_in *it) {
    const struct break_in *tightest = NULL;
    if (it->told.count == 0 || is_worse(it)) {
        return it->told.count > 0;
    }
    for (size_t i = 0; i < all->count; i++) {
        const struct break_in *other = &all->list[i];
        if (is_worse(other)) {
            return false;
        }
        if (other->told.count > 0 &&
                (tightest == NULL || other->answer.spare_s < tightest->answer.spare_s)) {
            tightest = other;
        }
    }
    return it == tightest;
}

static struct point moved(struct point at, struct point direction, double by_mm) {
    const double length_mm = hypot(direction.x_mm, direction.y_mm);
    return (struct point){at.x_mm + (int32_t)lround(direction.x_mm / length_mm * by_mm),
            at.y_mm + (int32_t)lround(direction.y_mm / length_mm * by_mm)};
}

/* An arrow's head where the line ends. */
static void draw_head(struct picture *picture, struct point from, struct point to) {
    const struct point back = point_step(to, from);
    const struct point across = {-back.y_mm, back.x_mm};
    const double head_mm = picture_paper(picture, HEAD_TENTHS);
    if (back.x_mm == 0 && back.y_mm == 0) {
        return;
    }
    const struct point foot = moved(to, back, head_mm);
    const struct point corners[] = {
            to, moved(foot, across, head_mm / 3), moved(foot, across, -head_mm / 3)};
    picture_add(picture, PICTURE_ARROW, PICTURE_AREA, corners, 3, 0);
}

/* A pen that draws a way on one storey. down: it is on it. */
struct pen {
    const struct break_in_drawn *drawn;
    struct picture *picture;
    int storey;
    bool down;
    struct point at;
};

static void draw_to(struct pen *pen, struct point to) {
    if (pen->down) {
        picture_add_line(pen->picture, PICTURE_INTRUDER, pen->at, to);
    }
    pen->at = to;
    pen->down = true;
}

/* Begins with the end that is nearer: he may take the way either way round. */
static void draw_move(struct pen *pen, const struct breakin_act *act) {
    const int move = pen->drawn->all->rooms.move[act->index];
    const struct way *way = move == SITE_NONE ? NULL : &pen->drawn->portals->ways[move];
    if (way == NULL || way->count < 2 || (int)way->stops[0].storey != pen->storey) {
        pen->down = pen->down && way != NULL && way->count == 0;
        return;
    }
    const bool back = pen->down &&
            point_distance_mm(pen->at, way->stops[way->count - 1].at) <
                    point_distance_mm(pen->at, way->stops[0].at);
    for (size_t i = 0; i < way->count; i++) {
        draw_to(pen, way->stops[back ? way->count - 1 - i : i].at);
    }
}

static struct point middle_of(const struct point *jambs) {
    return (struct point){(jambs[0].x_mm + jambs[1].x_mm) / 2, (jambs[0].y_mm + jambs[1].y_mm) / 2};
}

/* Through the wall; forced openings are crossed out. */
static void draw_portal(struct pen *pen, const struct breakin_act *act) {
    const struct break_in_drawn *drawn = pen->drawn;
    const struct breakin_portal *portal = &drawn->all->rooms.graph.portals[act->index];
    const int opening = drawn->portals->opening[drawn->all->rooms.opening[act->index]];
    if (opening == SITE_NONE ||
            drawn->house->rooms[drawn->house->openings[opening].room].storey != pen->storey) {
        pen->down = false; /* over a gate, up the stairs */
        return;
    }
    const struct house_opening *placed = &drawn->house->openings[opening];
    const struct point near = middle_of(placed->near);
    const struct point far = middle_of(placed->far);
    const struct point middle = middle_of((const struct point[]){near, far});
    const bool outward = drawn->all->rooms.room[portal->from] == placed->room;
    const int32_t half_mm = picture_paper(pen->picture, CROSS_TENTHS);
    draw_to(pen, outward ? near : far);
    draw_to(pen, outward ? far : near);
    for (int sign = -1; portal->force_s > 0 && sign <= 1; sign += 2) {
        picture_add_line(pen->picture, PICTURE_FORCED,
                (struct point){middle.x_mm - half_mm, middle.y_mm - sign * half_mm},
                (struct point){middle.x_mm + half_mm, middle.y_mm + sign * half_mm});
    }
}

/* To where he has it. */
static void draw_end(struct pen *pen, const struct break_in *it) {
    const struct site_break_in_goal *goal = &pen->drawn->site->break_ins.goals[it->goal];
    const struct point from = pen->at;
    const struct point to = pen->drawn->house->places[goal->place].at;
    if (pen->down && pen->drawn->house->rooms[goal->room].storey == pen->storey) {
        draw_to(pen, to);
        draw_head(pen->picture, from, to);
    }
}

static void draw(const void *context, struct picture *picture, int storey) {
    const struct break_in_drawn *drawn = context;
    for (size_t i = 0; i < drawn->all->count; i++) {
        const struct break_in *it = &drawn->all->list[i];
        const struct breakin_course *course = &it->answer.best;
        struct pen pen = {.drawn = drawn, .picture = picture, .storey = storey};
        if (!break_in_is_drawn(drawn->all, it)) {
            continue;
        }
        for (size_t k = 0; k < course->act_count; k++) {
            if (course->acts[k].portal) {
                draw_portal(&pen, &course->acts[k]);
            } else {
                draw_move(&pen, &course->acts[k]);
            }
        }
        draw_end(&pen, it);
    }
}

struct drawing_layer break_in_layer(const struct break_in_drawn *drawn) {
    static const struct drawing_row rows[] = {
            {PICTURE_INTRUDER, PICTURE_LINE, "the way in that is heard the latest, or never"},
            {PICTURE_FORCED, PICTURE_LINE, "crossed out: opened by force, or its pane broken"},
    };
    return (struct drawing_layer){.over = draw,
            .context = drawn,
            .rows = rows,
            .row_count = sizeof rows / sizeof rows[0]};
}
