#include "plan/sight.h"

#include "plan/order.h"

#include <math.h>
#include <string.h>

/* Exact products of fractions: with steps under 2^19, crossings are fractions whose parts are under 2^59 and 2^40,
 * and a cross product of two of them stays under 2^119. */
__extension__ typedef __int128 wide;
__extension__ typedef unsigned __int128 wide_size;

enum { NOBODY = -1 };
static const double SAME_MM = 1e-6; /* two roundings of one corner differ by less */
static const double ON_WALL_MM =
        1; /* a pane's ends are whole millimetres, so beside a slanting wall by less */

/* A place seen from the viewer: x / w, y / w; w > 0. */
struct spot {
    int64_t x;
    int64_t y;
    int64_t w;
};

/* Something that stops the eye, seen from the viewer, from right to left. */
struct blocker {
    struct point from;
    struct point to;
};

/* A part of a blocker between two crossings. heap_at: its place among those that the ray meets. */
struct piece {
    uint32_t blocker;
    struct spot from;
    struct spot to;
    uint32_t heap_at;
};

struct crossing {
    uint32_t blocker;
    struct spot at;
};

enum event_kind { EVENT_END, EVENT_BEGIN, EVENT_MARK };

/* What happens in a direction: a piece ends or begins, or a limit of what may be seen is passed. */
struct event {
    struct spot at;
    enum event_kind kind;
    uint32_t piece;
};

struct sweep {
    struct blocker *blockers;
    size_t blocker_count;
    struct crossing *crossings;
    size_t crossing_count;
    struct piece *pieces;
    size_t piece_count;
    struct event *events;
    size_t event_count;
    struct spot start; /* direction in which the sweep begins: the right side of the pattern */
    struct spot stop;  /* and in which the pattern ends */
    bool round;
    struct spot
            doors[2]; /* the walls it hangs on leave it from the first to the second, to the left */
    bool hangs;
    uint32_t *heap;
    size_t heap_count;
    struct point at;
    struct sight_corner *corners;
    size_t corner_count;
};

static int sign_of(wide value) {
    return (value > 0) - (value < 0);
}

/* The compiler's own conversion is a call into its library, which the core has not. */
static double to_double(wide value) {
    const bool negative = value < 0;
    const wide_size size = negative ? -(wide_size)value : (wide_size)value;
    const double rounded = (double)(uint64_t)(size >> 64) * 0x1p64 + (double)(uint64_t)size;
    return negative ? -rounded : rounded;
}

static struct spot spot_of(struct point a) {
    return (struct spot){a.x_mm, a.y_mm, 1};
}

/* Whether b is to the left of a, as directions. */
static wide cross(struct spot a, struct spot b) {
    return (wide)a.x * b.y - (wide)a.y * b.x;
}

static bool same_direction(struct spot a, struct spot b) {
    return cross(a, b) == 0 && (wide)a.x * b.x + (wide)a.y * b.y > 0;
}

/* 0: from the start up to the half turn; 1: the rest of the round. */
static int half_of(struct spot start, struct spot a) {
    const int side = sign_of(cross(start, a));
    return side < 0 || (side == 0 && !same_direction(start, a));
}

/* -1, 0, 1: the ray, turning left from the start, meets a before, with, after b. */
static int compare_directions(struct spot start, struct spot a, struct spot b) {
    const int halves = half_of(start, a) - half_of(start, b);
    return halves != 0 ? halves : -sign_of(cross(a, b));
}

/* On which side of a blocker's line a spot is: > 0 the viewer's. */
static int side_of(const struct blocker *blocker, struct spot at) {
    const struct point step = point_step(blocker->from, blocker->to);
    return sign_of((wide)step.x_mm * (at.y - blocker->from.y_mm * at.w) -
            (wide)step.y_mm * (at.x - blocker->from.x_mm * at.w));
}

/* Whether piece a is met before piece b by a ray that meets both inside. Pieces do not cross, so all of one lies on one
 * side of the other's line. Those on one line are as near as each other: the number decides. */
static bool nearer(const struct sweep *sweep, uint32_t a, uint32_t b) {
    const struct piece *one = &sweep->pieces[a];
    const struct piece *other = &sweep->pieces[b];
    const struct blocker *line = &sweep->blockers[one->blocker];
    const int from = side_of(line, other->from);
    const int to = side_of(line, other->to);
    if (from == 0 && to == 0) {
        return a < b;
    }
    if (from <= 0 && to <= 0) {
        return true;
    }
    if (from >= 0 && to >= 0) {
        return false;
    }
    line = &sweep->blockers[other->blocker];
    return side_of(line, one->from) >= 0 && side_of(line, one->to) >= 0;
}

static void heap_put(struct sweep *sweep, size_t at, uint32_t piece) {
    sweep->heap[at] = piece;
    sweep->pieces[piece].heap_at = (uint32_t)at;
}

static void heap_rise(struct sweep *sweep, size_t at, uint32_t piece) {
    while (at > 0 && nearer(sweep, piece, sweep->heap[(at - 1) / 2])) {
        heap_put(sweep, at, sweep->heap[(at - 1) / 2]);
        at = (at - 1) / 2;
    }
    heap_put(sweep, at, piece);
}

static void heap_sink(struct sweep *sweep, size_t at, uint32_t piece) {
    for (size_t child = 2 * at + 1; child < sweep->heap_count; child = 2 * at + 1) {
        if (child + 1 < sweep->heap_count &&
                nearer(sweep, sweep->heap[child + 1], sweep->heap[child])) {
            child++;
        }
        if (!nearer(sweep, sweep->heap[child], piece)) {
            break;
        }
        heap_put(sweep, at, sweep->heap[child]);
        at = child;
    }
    heap_put(sweep, at, piece);
}

static void heap_add(struct sweep *sweep, uint32_t piece) {
    heap_rise(sweep, sweep->heap_count++, piece);
}

static void heap_drop(struct sweep *sweep, uint32_t piece) {
    const size_t at = sweep->pieces[piece].heap_at;
    const uint32_t last = sweep->heap[--sweep->heap_count];
    if (last == piece) {
        return;
    }
    heap_sink(sweep, at, last);
    heap_rise(sweep, sweep->pieces[last].heap_at, last);
}

/* Two directions at most in which walls leave the viewer, nearest to `into` on either side. */
static void take_door(struct sweep *sweep, struct spot into, struct spot wall) {
    if (!sweep->hangs || compare_directions(into, wall, sweep->doors[1]) < 0) {
        sweep->doors[1] = wall;
    }
    if (!sweep->hangs || compare_directions(into, wall, sweep->doors[0]) > 0) {
        sweep->doors[0] = wall;
    }
    sweep->hangs = true;
}

/* Takes a wall in. One in line with the viewer stops nothing, unless it hangs on it. False: it looks along that wall.
 * */
static bool take_wall(struct sweep *sweep, struct spot into, struct segment wall) {
    const struct point from = point_step(sweep->at, wall.from);
    const struct point to = point_step(sweep->at, wall.to);
    const int64_t turn = point_cross(from, to);
    if (turn != 0) {
        sweep->blockers[sweep->blocker_count++] =
                turn > 0 ? (struct blocker){from, to} : (struct blocker){to, from};
        return true;
    }
    if (point_equal(from, to) || !segment_holds(wall, sweep->at) || (into.x == 0 && into.y == 0)) {
        return true;
    }
    const struct spot ends[2] = {spot_of(from), spot_of(to)};
    for (size_t i = 0; i < 2; i++) {
        if (ends[i].x == 0 && ends[i].y == 0) {
            continue;
        }
        if (same_direction(into, ends[i])) {
            return false;
        }
        take_door(sweep, into, ends[i]);
    }
    return true;
}

static bool in_box(const struct sweep *sweep, struct segment wall, int32_t reach_mm) {
    const struct point from = point_step(sweep->at, wall.from);
    const struct point to = point_step(sweep->at, wall.to);
    return (from.x_mm <= reach_mm || to.x_mm <= reach_mm) &&
            (from.x_mm >= -reach_mm || to.x_mm >= -reach_mm) &&
            (from.y_mm <= reach_mm || to.y_mm <= reach_mm) &&
            (from.y_mm >= -reach_mm || to.y_mm >= -reach_mm);
}

static outcome take_walls(struct sweep *sweep, const struct sight_viewer *viewer,
        const struct segment *walls, size_t wall_count, struct problem *ret_problem) {
    const bool told = viewer->into.x_mm != 0 || viewer->into.y_mm != 0;
    const struct point axis = sweep->round ? (struct point){0, 0} : pattern_axis(&viewer->pattern);
    const struct spot into = spot_of(told ? viewer->into : axis);
    /* The arc's corners lie a little outside the range. */
    const int32_t reach_mm = viewer->pattern.range_mm + viewer->pattern.range_mm / 1000 + 2;
    for (size_t i = 0; i < wall_count; i++) {
        if (!point_in_reach(walls[i].from) || !point_in_reach(walls[i].to)) {
            FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                    "a wall leads to (%d, %d) mm; a drawing lies within %d m of its origin",
                    walls[i].to.x_mm, walls[i].to.y_mm, PLAN_REACH_MM / 1000);
        }
        if (in_box(sweep, walls[i], reach_mm) && !take_wall(sweep, into, walls[i])) {
            FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                    "what hangs at (%d, %d) mm looks along its own wall: say which side it looks "
                    "into, or move it off the wall",
                    viewer->at.x_mm, viewer->at.y_mm);
        }
    }
    return outcome_good();
}

static void take_arc(struct sweep *sweep, const struct point *arc, size_t arc_count) {
    for (size_t i = 0; i + 1 < arc_count; i++) {
        sweep->blockers[sweep->blocker_count++] = (struct blocker){arc[i], arc[i + 1]};
    }
    if (sweep->round) {
        sweep->blockers[sweep->blocker_count++] = (struct blocker){arc[arc_count - 1], arc[0]};
    }
    sweep->start = spot_of(arc[0]);
    sweep->stop = spot_of(arc[arc_count - 1]);
}

static int32_t left_of(const struct blocker *blocker) {
    return blocker->from.x_mm < blocker->to.x_mm ? blocker->from.x_mm : blocker->to.x_mm;
}

static int32_t right_of(const struct blocker *blocker) {
    return blocker->from.x_mm > blocker->to.x_mm ? blocker->from.x_mm : blocker->to.x_mm;
}

static bool further_left(const void *context, uint32_t a, uint32_t b) {
    const struct blocker *blockers = context;
    return left_of(&blockers[a]) < left_of(&blockers[b]);
}

/* Where two blockers that cross do so. */
static struct spot crossing_of(const struct blocker *a, const struct blocker *b) {
    const struct point step = point_step(a->from, a->to);
    const struct point other = point_step(b->from, b->to);
    int64_t below = point_cross(step, other);
    int64_t above = point_cross(point_step(a->from, b->from), other);
    if (below < 0) {
        below = -below;
        above = -above;
    }
    return (struct spot){a->from.x_mm * below + above * step.x_mm,
            a->from.y_mm * below + above * step.y_mm, below};
}

/* Goes over the pairs that cross; keeps them where there is room for them. Answers how many there are, up to the most
 * allowed and one more. */
static size_t find_crossings(
        const struct sweep *sweep, const uint32_t *by_left, struct crossing *ret_crossings) {
    size_t count = 0;
    for (size_t i = 0; i < sweep->blocker_count; i++) {
        const struct blocker *a = &sweep->blockers[by_left[i]];
        for (size_t j = i + 1; j < sweep->blocker_count && count <= SIGHT_CROSSINGS_MOST; j++) {
            const struct blocker *b = &sweep->blockers[by_left[j]];
            if (left_of(b) > right_of(a)) {
                break;
            }
            if (!segment_crosses(
                        (struct segment){a->from, a->to}, (struct segment){b->from, b->to})) {
                continue;
            }
            if (ret_crossings != NULL) {
                const struct spot at = crossing_of(a, b);
                ret_crossings[2 * count] = (struct crossing){by_left[i], at};
                ret_crossings[2 * count + 1] = (struct crossing){by_left[j], at};
            }
            count++;
        }
    }
    return count;
}

static bool crossing_before(const void *context, uint32_t a, uint32_t b) {
    const struct crossing *one = (const struct crossing *)context + a;
    const struct crossing *other = (const struct crossing *)context + b;
    /* Within a blocker, seen under less than half a turn, left comes later. */
    return one->blocker != other->blocker ? one->blocker < other->blocker
                                          : cross(one->at, other->at) > 0;
}

static void add_piece(struct sweep *sweep, uint32_t blocker, struct spot from, struct spot to) {
    /* Three walls through one point give the same crossing twice. */
    if (cross(from, to) > 0) {
        sweep->pieces[sweep->piece_count++] =
                (struct piece){.blocker = blocker, .from = from, .to = to};
    }
}

/* Cuts every blocker at its crossings, which come sorted. */
static void cut_pieces(struct sweep *sweep, const uint32_t *sorted) {
    size_t next = 0;
    for (uint32_t i = 0; i < sweep->blocker_count; i++) {
        struct spot from = spot_of(sweep->blockers[i].from);
        while (next < sweep->crossing_count && sweep->crossings[sorted[next]].blocker == i) {
            const struct spot at = sweep->crossings[sorted[next++]].at;
            add_piece(sweep, i, from, at);
            from = at;
        }
        add_piece(sweep, i, from, spot_of(sweep->blockers[i].to));
    }
}

static outcome make_pieces(struct sweep *sweep, struct arena *arena, struct problem *ret_problem) {
    const size_t count = sweep->blocker_count;
    uint32_t *order = ARENA_ARRAY(arena, uint32_t, 2 * count);
    if (order == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for %zu walls", count);
    }
    for (size_t i = 0; i < count; i++) {
        order[i] = (uint32_t)i;
    }
    order_sort(order, order + count, count, further_left, sweep->blockers);
    const size_t crossings = find_crossings(sweep, order, NULL);
    if (crossings > SIGHT_CROSSINGS_MOST) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "more than %d crossings of walls in range",
                SIGHT_CROSSINGS_MOST);
    }
    sweep->crossing_count = 2 * crossings;
    sweep->crossings = ARENA_ARRAY(arena, struct crossing, sweep->crossing_count);
    sweep->pieces = ARENA_ARRAY(arena, struct piece, count + sweep->crossing_count);
    uint32_t *sorted = ARENA_ARRAY(arena, uint32_t, 2 * sweep->crossing_count);
    if (sweep->crossings == NULL || sweep->pieces == NULL || sorted == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for %zu crossings of walls", crossings);
    }
    find_crossings(sweep, order, sweep->crossings);
    for (size_t i = 0; i < sweep->crossing_count; i++) {
        sorted[i] = (uint32_t)i;
    }
    order_sort(sorted, sorted + sweep->crossing_count, sweep->crossing_count, crossing_before,
            sweep->crossings);
    cut_pieces(sweep, sorted);
    return outcome_good();
}

struct event_order {
    const struct event *events;
    struct spot start;
};

static bool event_before(const void *context, uint32_t a, uint32_t b) {
    const struct event_order *order = context;
    const int directions =
            compare_directions(order->start, order->events[a].at, order->events[b].at);
    return directions != 0 ? directions < 0 : order->events[a].kind < order->events[b].kind;
}

static void list_events(struct sweep *sweep, struct event *events) {
    for (uint32_t i = 0; i < sweep->piece_count; i++) {
        events[sweep->event_count++] = (struct event){sweep->pieces[i].from, EVENT_BEGIN, i};
        events[sweep->event_count++] = (struct event){sweep->pieces[i].to, EVENT_END, i};
    }
    events[sweep->event_count++] = (struct event){sweep->start, EVENT_MARK, 0};
    events[sweep->event_count++] = (struct event){sweep->stop, EVENT_MARK, 0};
    if (sweep->hangs) {
        events[sweep->event_count++] = (struct event){sweep->doors[0], EVENT_MARK, 0};
        events[sweep->event_count++] = (struct event){sweep->doors[1], EVENT_MARK, 0};
    }
}

static outcome make_events(struct sweep *sweep, struct arena *arena, struct problem *ret_problem) {
    const size_t most = 2 * sweep->piece_count + 4;
    struct event *listed = ARENA_ARRAY(arena, struct event, most);
    uint32_t *order = ARENA_ARRAY(arena, uint32_t, 2 * most);
    sweep->events = ARENA_ARRAY(arena, struct event, most);
    sweep->heap = ARENA_ARRAY(arena, uint32_t, sweep->piece_count);
    /* Two corners in each direction, and the viewer between them. */
    sweep->corners = ARENA_ARRAY(arena, struct sight_corner, 3 * most);
    if (listed == NULL || order == NULL || sweep->events == NULL || sweep->heap == NULL ||
            sweep->corners == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for %zu pieces of wall",
                sweep->piece_count);
    }
    list_events(sweep, listed);
    for (size_t i = 0; i < sweep->event_count; i++) {
        order[i] = (uint32_t)i;
    }
    const struct event_order context = {listed, sweep->start};
    order_sort(order, order + most, sweep->event_count, event_before, &context);
    for (size_t i = 0; i < sweep->event_count; i++) {
        sweep->events[i] = listed[order[i]];
    }
    return outcome_good();
}

/* Whether the slice that begins in this direction may be seen at all: inside the pattern and on the viewer's side of
 * the walls it hangs on. */
static bool slice_is_open(const struct sweep *sweep, struct spot at) {
    if (!sweep->round && compare_directions(sweep->start, at, sweep->stop) >= 0) {
        return false;
    }
    return !sweep->hangs || same_direction(sweep->doors[0], sweep->doors[1]) ||
            compare_directions(sweep->doors[0], at, sweep->doors[1]) < 0;
}

static void add_corner(struct sweep *sweep, double x_mm, double y_mm) {
    if (sweep->corner_count > 0) {
        const struct sight_corner last = sweep->corners[sweep->corner_count - 1];
        if (fabs(last.x_mm - x_mm) < SAME_MM && fabs(last.y_mm - y_mm) < SAME_MM) {
            return;
        }
    }
    sweep->corners[sweep->corner_count++] = (struct sight_corner){x_mm, y_mm};
}

/* The corner where a ray meets a blocker, or the viewer itself. */
static void add_meeting(struct sweep *sweep, int64_t blocker, struct spot ray) {
    if (blocker == NOBODY) {
        add_corner(sweep, 0, 0);
        return;
    }
    const struct blocker *met = &sweep->blockers[blocker];
    if (same_direction(ray, spot_of(met->from))) {
        add_corner(sweep, met->from.x_mm, met->from.y_mm);
        return;
    }
    if (same_direction(ray, spot_of(met->to))) {
        add_corner(sweep, met->to.x_mm, met->to.y_mm);
        return;
    }
    const struct point step = point_step(met->from, met->to);
    const double far = (double)point_cross(met->from, step) / to_double(cross(ray, spot_of(step)));
    add_corner(sweep, (double)ray.x * far, (double)ray.y * far);
}

static int64_t nearest(const struct sweep *sweep, struct spot ray) {
    return sweep->heap_count > 0 && slice_is_open(sweep, ray)
            ? (int64_t)sweep->pieces[sweep->heap[0]].blocker
            : NOBODY;
}

/* A piece that the ray meets as it sets out: it begins before the start and ends after it. */
static bool is_met_at_start(const struct sweep *sweep, const struct piece *piece) {
    return compare_directions(sweep->start, piece->from, piece->to) > 0 &&
            !same_direction(sweep->start, piece->to);
}

static void turn_round(struct sweep *sweep) {
    for (uint32_t i = 0; i < sweep->piece_count; i++) {
        if (is_met_at_start(sweep, &sweep->pieces[i])) {
            heap_add(sweep, i);
        }
    }
    int64_t first = NOBODY;
    int64_t seen = NOBODY;
    for (size_t i = 0; i < sweep->event_count;) {
        const struct spot ray = sweep->events[i].at;
        const bool begin = i == 0;
        for (; i < sweep->event_count && same_direction(ray, sweep->events[i].at); i++) {
            const struct event *event = &sweep->events[i];
            if (event->kind == EVENT_BEGIN) {
                heap_add(sweep, event->piece);
            } else if (event->kind == EVENT_END && !begin) {
                heap_drop(sweep, event->piece);
            }
        }
        const int64_t next = nearest(sweep, ray);
        if (begin) {
            first = next;
        } else if (next != seen) {
            add_meeting(sweep, seen, ray);
            add_meeting(sweep, next, ray);
        }
        seen = next;
    }
    if (first != seen) {
        add_meeting(sweep, seen, sweep->start);
        add_meeting(sweep, first, sweep->start);
    }
}

/* Moves the corners to the drawing and sums the triangles over the viewer. */
static struct sight_view finish_view(struct sweep *sweep) {
    struct sight_corner *corners = sweep->corners;
    size_t count = sweep->corner_count;
    if (count > 1 && fabs(corners[0].x_mm - corners[count - 1].x_mm) < SAME_MM &&
            fabs(corners[0].y_mm - corners[count - 1].y_mm) < SAME_MM) {
        count--;
    }
    if (count < 3) {
        return (struct sight_view){.at = sweep->at};
    }
    double twice_mm2 = 0;
    for (size_t i = 0; i < count; i++) {
        const struct sight_corner a = corners[i];
        const struct sight_corner b = corners[i + 1 < count ? i + 1 : 0];
        twice_mm2 += a.x_mm * b.y_mm - a.y_mm * b.x_mm;
    }
    for (size_t i = 0; i < count; i++) {
        corners[i].x_mm += sweep->at.x_mm;
        corners[i].y_mm += sweep->at.y_mm;
    }
    return (struct sight_view){sweep->at, corners, count, twice_mm2 / 2e6};
}

outcome sight_see(const struct sight_viewer *viewer, const struct segment *walls, size_t wall_count,
        struct arena *arena, struct sight_view *ret_view, struct problem *ret_problem) {
    TRY(pattern_check(&viewer->pattern, ret_problem));
    if (!point_in_reach(viewer->at) || !point_in_reach(viewer->into)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "a detector hangs at (%d, %d) mm; a drawing lies "
                "within %d m of its origin",
                viewer->at.x_mm, viewer->at.y_mm, PLAN_REACH_MM / 1000);
    }
    if (wall_count > SIGHT_WALLS_MOST) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "%zu walls on one storey; at most %d are looked at",
                wall_count, SIGHT_WALLS_MOST);
    }
    struct point arc[PATTERN_CORNERS_MOST];
    const size_t arc_count = pattern_arc(&viewer->pattern, arc);
    struct sweep sweep = {.at = viewer->at, .round = pattern_is_round(&viewer->pattern)};
    sweep.blockers = ARENA_ARRAY(arena, struct blocker, wall_count + arc_count);
    if (sweep.blockers == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for %zu walls", wall_count);
    }
    TRY(take_walls(&sweep, viewer, walls, wall_count, ret_problem));
    take_arc(&sweep, arc, arc_count);
    TRY(make_pieces(&sweep, arena, ret_problem));
    TRY(make_events(&sweep, arena, ret_problem));
    turn_round(&sweep);
    *ret_view = finish_view(&sweep);
    return outcome_good();
}

bool sight_view_holds(const struct sight_view *view, struct point at) {
    bool inside = false;
    for (size_t i = 0; i < view->count; i++) {
        const struct sight_corner a = view->corners[i];
        const struct sight_corner b = view->corners[i + 1 < view->count ? i + 1 : 0];
        if ((a.y_mm > at.y_mm) != (b.y_mm > at.y_mm) &&
                at.x_mm < a.x_mm + (at.y_mm - a.y_mm) / (b.y_mm - a.y_mm) * (b.x_mm - a.x_mm)) {
            inside = !inside;
        }
    }
    return inside;
}

/* How far along the wall and how far off its line a corner is, mm. */
static void along_wall(struct segment wall, double length_mm, struct sight_corner corner,
        double *ret_along_mm, double *ret_off_mm) {
    const struct point step = point_step(wall.from, wall.to);
    const double x = corner.x_mm - wall.from.x_mm;
    const double y = corner.y_mm - wall.from.y_mm;
    *ret_along_mm = (x * step.x_mm + y * step.y_mm) / length_mm;
    *ret_off_mm = (step.x_mm * y - step.y_mm * x) / length_mm;
}

static double clamp(double value, double most) {
    return value < 0 ? 0 : value > most ? most : value;
}

double sight_view_seen_mm(const struct sight_view *view, struct segment wall) {
    const double length_mm = point_distance_mm(wall.from, wall.to);
    if (point_turn(wall.from, wall.to, view->at) == 0) {
        return 0;
    }
    double seen_mm = 0;
    for (size_t i = 0; i < view->count; i++) {
        double along_mm[2];
        double off_mm[2];
        along_wall(wall, length_mm, view->corners[i], &along_mm[0], &off_mm[0]);
        along_wall(wall, length_mm, view->corners[i + 1 < view->count ? i + 1 : 0], &along_mm[1],
                &off_mm[1]);
        if (fabs(off_mm[0]) <= ON_WALL_MM && fabs(off_mm[1]) <= ON_WALL_MM) {
            seen_mm += fabs(clamp(along_mm[1], length_mm) - clamp(along_mm[0], length_mm));
        }
    }
    return seen_mm;
}
