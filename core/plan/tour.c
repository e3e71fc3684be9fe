#include "plan/tour.h"

#include <math.h>
#include <string.h>

enum { ASCENT_ROUNDS = 200, BETTER_ROUNDS = 1000, SHAKES = 2000 };

/* A tour as a path over `count` places: place 0 is the beginning, the last place the end. Where it may begin anywhere,
 * place 0 is nowhere, no way from all of them; where it is a round, the first and the last place are one stop. */
struct path {
    size_t count;
    double *lengths; /* count x count */
    uint32_t *stops; /* which stop a place is; UINT32_MAX: nowhere */
};

static double between(const struct path *path, size_t a, size_t b) {
    return path->lengths[a * path->count + b];
}

static outcome refuse_memory(struct problem *ret_problem) {
    FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for a tour");
}

static outcome check(const double *lengths, size_t count, size_t first, size_t last,
        struct problem *ret_problem) {
    if (count > TOUR_STOPS_MOST) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "a tour of %zu stops; at most %d", count,
                TOUR_STOPS_MOST);
    }
    if (last >= count || (first != TOUR_ANYWHERE && first >= count)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "a tour begins and ends at one of its stops");
    }
    for (size_t i = 0; i < count; i++) {
        for (size_t k = i + 1; k < count; k++) {
            if (!(lengths[i * count + k] >= 0 && lengths[i * count + k] < INFINITY)) {
                FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                        "no way leads from stop %zu to stop %zu of the tour", i + 1, k + 1);
            }
        }
    }
    return outcome_good();
}

static outcome make_path(const double *lengths, size_t count, size_t first, size_t last,
        struct arena *arena, struct path *ret_path, struct problem *ret_problem) {
    const bool same = first == last && count > 1;
    struct path path = {.count = count + (first == TOUR_ANYWHERE || same ? 1 : 0)};
    path.lengths = ARENA_ARRAY(arena, double, path.count *path.count);
    path.stops = ARENA_ARRAY(arena, uint32_t, path.count);
    if (path.lengths == NULL || path.stops == NULL) {
        return refuse_memory(ret_problem);
    }
    size_t next = 0;
    if (path.count > 1) {
        path.stops[next++] = first == TOUR_ANYWHERE ? UINT32_MAX : (uint32_t)first;
    }
    for (size_t i = 0; i < count; i++) {
        if (i != first && i != last) {
            path.stops[next++] = (uint32_t)i;
        }
    }
    path.stops[next] = (uint32_t)last;
    for (size_t i = 0; i < path.count; i++) {
        for (size_t k = 0; k < path.count; k++) {
            const size_t a = path.stops[i] < path.stops[k] ? path.stops[i] : path.stops[k];
            const size_t b = path.stops[i] < path.stops[k] ? path.stops[k] : path.stops[i];
            path.lengths[i * path.count + k] =
                    a == b || b == UINT32_MAX ? 0 : lengths[a * count + b];
        }
    }
    *ret_path = path;
    return outcome_good();
}

static double length_of(const struct path *path, const uint32_t *order) {
    double length = 0;
    for (size_t i = 0; i + 1 < path->count; i++) {
        length += between(path, order[i], order[i + 1]);
    }
    return length;
}

/* Weighs every set of inner places and each place to end it at: best[set][k], the shortest way from the beginning
 * over the set that ends at inner place k. */
static outcome weigh_all(const struct path *path, struct arena *arena, uint32_t *ret_order,
        struct problem *ret_problem) {
    const size_t inner = path->count - 2;
    const size_t sets = (size_t)1 << inner;
    double *best = ARENA_ARRAY(arena, double, sets *(inner + 1));
    uint8_t *from = ARENA_ARRAY(arena, uint8_t, sets * (inner + 1));
    if (best == NULL || from == NULL) {
        return refuse_memory(ret_problem);
    }
    for (size_t set = 1; set < sets; set++) {
        for (size_t k = 0; k < inner; k++) {
            const size_t before = set & ~((size_t)1 << k);
            double *least = &best[set * inner + k];
            if (before == set) {
                continue;
            }
            *least = before == 0 ? between(path, 0, k + 1) : INFINITY;
            for (size_t j = 0; j < inner; j++) {
                const double length = best[before * inner + j] + between(path, j + 1, k + 1);
                if ((before >> j & 1) != 0 && length < *least) {
                    *least = length;
                    from[set * inner + k] = (uint8_t)j;
                }
            }
        }
    }
    size_t set = sets - 1;
    size_t at = 0;
    for (size_t k = 1; k < inner; k++) {
        const double gain = best[set * inner + at] + between(path, at + 1, inner + 1) -
                best[set * inner + k] - between(path, k + 1, inner + 1);
        at = gain > 0 ? k : at;
    }
    ret_order[0] = 0;
    ret_order[inner + 1] = (uint32_t)(inner + 1);
    for (size_t place = inner; place > 0; place--) {
        ret_order[place] = (uint32_t)(at + 1);
        const size_t before = from[set * inner + at];
        set &= ~((size_t)1 << at);
        at = before;
    }
    return outcome_good();
}

static void reverse(uint32_t *order, size_t from, size_t to) {
    for (; from < to; from++, to--) {
        const uint32_t swap = order[from];
        order[from] = order[to];
        order[to] = swap;
    }
}

/* Turns each stretch round that is shorter so. Whether there was one. */
static bool turn_stretches(const struct path *path, uint32_t *order) {
    bool better = false;
    for (size_t i = 1; i + 2 < path->count; i++) {
        for (size_t k = i + 1; k + 1 < path->count; k++) {
            const double now =
                    between(path, order[i - 1], order[i]) + between(path, order[k], order[k + 1]);
            const double then =
                    between(path, order[i - 1], order[k]) + between(path, order[i], order[k + 1]);
            if (then < now * (1 - 1e-12)) {
                reverse(order, i, k);
                better = true;
            }
        }
    }
    return better;
}

/* Moves the stretch from i to k behind place `after`, which is not in it; turned round if that is shorter. */
static bool move_stretch(
        const struct path *path, uint32_t *order, size_t i, size_t k, size_t after) {
    const double lost = between(path, order[i - 1], order[i]) +
            between(path, order[k], order[k + 1]) + between(path, order[after], order[after + 1]);
    const double joined = between(path, order[i - 1], order[k + 1]);
    const double straight = joined + between(path, order[after], order[i]) +
            between(path, order[k], order[after + 1]);
    const double turned = joined + between(path, order[after], order[k]) +
            between(path, order[i], order[after + 1]);
    if (fmin(straight, turned) >= lost * (1 - 1e-12)) {
        return false;
    }
    if (turned < straight) {
        reverse(order, i, k);
    }
    /* Three turns move a stretch past its neighbours. */
    if (after > k) {
        reverse(order, i, k);
        reverse(order, k + 1, after);
        reverse(order, i, after);
    } else {
        reverse(order, after + 1, i - 1);
        reverse(order, i, k);
        reverse(order, after + 1, k);
    }
    return true;
}

static bool move_stretches(const struct path *path, uint32_t *order) {
    bool better = false;
    for (size_t length = 1; length <= 3; length++) {
        for (size_t i = 1; i + length < path->count; i++) {
            for (size_t after = 0; after + 1 < path->count; after++) {
                if (after + 1 < i || after >= i + length) {
                    better = move_stretch(path, order, i, i + length - 1, after) || better;
                }
            }
        }
    }
    return better;
}

/* From the beginning over `second` always on to the nearest place not yet seen. */
static void go_nearest(const struct path *path, size_t second, uint32_t *ret_order) {
    const size_t count = path->count;
    bool seen[TOUR_STOPS_MOST + 1] = {false};
    ret_order[0] = 0;
    ret_order[1] = (uint32_t)second;
    ret_order[count - 1] = (uint32_t)(count - 1);
    seen[second] = true;
    for (size_t i = 2; i + 1 < count; i++) {
        size_t nearest = 0;
        for (size_t k = 1; k + 1 < count; k++) {
            if (!seen[k] &&
                    (nearest == 0 ||
                            between(path, ret_order[i - 1], k) <
                                    between(path, ret_order[i - 1], nearest))) {
                nearest = k;
            }
        }
        seen[nearest] = true;
        ret_order[i] = (uint32_t)nearest;
    }
}

static void better(const struct path *path, uint32_t *order) {
    for (size_t round = 0; round < BETTER_ROUNDS; round++) {
        const bool turned = turn_stretches(path, order);
        if (!move_stretches(path, order) && !turned) {
            break;
        }
    }
}

/* Exchanges two neighbouring stretches between three cuts (the double bridge of Martin, Otto and Felten 1991): what
 * turning and moving does not undo. The cuts come from a fixed series, so that the same stops give the same tour. */
static void exchange(const struct path *path, uint64_t *series, uint32_t *order) {
    size_t cuts[3];
    for (size_t i = 0; i < 3; i++) {
        *series = *series * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
        const size_t cut = 1 + (size_t)(*series >> 33) % (path->count - 2);
        size_t place = i;
        for (; place > 0 && cut < cuts[place - 1]; place--) {
            cuts[place] = cuts[place - 1];
        }
        cuts[place] = cut;
    }
    if (cuts[0] < cuts[1] && cuts[1] < cuts[2]) {
        reverse(order, cuts[0], cuts[1] - 1);
        reverse(order, cuts[1], cuts[2] - 1);
        reverse(order, cuts[0], cuts[2] - 1);
    }
}

/* Betters what is in scratch and keeps it if it is the shortest so far. */
static void better_and_keep(
        const struct path *path, uint32_t *scratch, uint32_t *best, double *least) {
    better(path, scratch);
    const double length = length_of(path, scratch);
    if (length < *least) {
        *least = length;
        memcpy(best, scratch, path->count * sizeof *best);
    }
}

/* The best of the tours that begin with each place in turn, and of what comes of shaking the best. */
static void better_many(const struct path *path, uint32_t *scratch, uint32_t *ret_order) {
    double least = INFINITY;
    /* Many stops: fewer beginnings, so that the work grows no faster. */
    const size_t step = 1 + path->count / 16;
    for (size_t second = 1; second + 1 < path->count; second += step) {
        go_nearest(path, second, scratch);
        better_and_keep(path, scratch, ret_order, &least);
    }
    uint64_t series = 1;
    for (size_t round = 0; round < SHAKES / path->count; round++) {
        memcpy(scratch, ret_order, path->count * sizeof *ret_order);
        exchange(path, &series, scratch);
        better_and_keep(path, scratch, ret_order, &least);
    }
}

/* A least tree over all places (Prim 1957), lengths raised by both ends' weights; tells how many branches each place
 * has. Answers its raised length. */
static double least_tree(const struct path *path, const double *weights, uint32_t *ret_branches) {
    double near[TOUR_STOPS_MOST + 1];
    size_t parent[TOUR_STOPS_MOST + 1] = {0};
    bool in[TOUR_STOPS_MOST + 1] = {true};
    double length = 0;
    for (size_t i = 0; i < path->count; i++) {
        near[i] = between(path, 0, i) + weights[0] + weights[i];
        ret_branches[i] = 0;
    }
    for (size_t step = 1; step < path->count; step++) {
        size_t next = 0;
        for (size_t i = 1; i < path->count; i++) {
            if (!in[i] && (next == 0 || near[i] < near[next])) {
                next = i;
            }
        }
        in[next] = true;
        length += near[next];
        ret_branches[next]++;
        ret_branches[parent[next]]++;
        for (size_t i = 1; i < path->count; i++) {
            const double raised = between(path, next, i) + weights[next] + weights[i];
            if (!in[i] && raised < near[i]) {
                near[i] = raised;
                parent[i] = next;
            }
        }
    }
    return length;
}

/* A path is a tree in which inner places have two branches and both ends one; raising the weights of places with
 * more, and lowering those with fewer, brings the least tree nearer to a path. Every such tree bounds every path from
 * below. */
static double bound_of(const struct path *path, double length) {
    double weights[TOUR_STOPS_MOST + 1] = {0};
    uint32_t branches[TOUR_STOPS_MOST + 1];
    double bound = 0;
    double step = 2;
    for (int round = 0; round < ASCENT_ROUNDS; round++) {
        double raised = least_tree(path, weights, branches);
        double off = 0;
        for (size_t i = 0; i < path->count; i++) {
            const bool end = i == 0 || i + 1 == path->count;
            const double excess = (double)branches[i] - (end ? 1 : 2);
            raised -= weights[i] * (end ? 1 : 2);
            off += excess * excess;
        }
        bound = raised > bound ? raised : bound;
        if (off < 0.5) {
            break;
        }
        /* The usual step (Held, Wolfe and Crowder 1974), smaller every ten rounds. */
        const double by = step * (length - raised) / off;
        for (size_t i = 0; i < path->count; i++) {
            const bool end = i == 0 || i + 1 == path->count;
            weights[i] += by * ((double)branches[i] - (end ? 1 : 2));
        }
        step *= round % 10 == 9 ? 0.7 : 1;
    }
    return bound < length ? bound : length;
}

outcome tour_find(const double *lengths, size_t stop_count, size_t first, size_t last,
        struct arena *arena, struct tour *ret_tour, struct problem *ret_problem) {
    TRY(check(lengths, stop_count, first, last, ret_problem));
    struct path path = {0};
    TRY(make_path(lengths, stop_count, first, last, arena, &path, ret_problem));
    uint32_t *order = ARENA_ARRAY(arena, uint32_t, 2 * path.count);
    uint32_t *stops = ARENA_ARRAY(arena, uint32_t, path.count);
    if (order == NULL || stops == NULL) {
        return refuse_memory(ret_problem);
    }
    struct tour tour = {.stops = stops, .exact = stop_count <= TOUR_EXACT_MOST};
    for (size_t i = 0; i < path.count; i++) {
        order[i] = (uint32_t)i;
    }
    if (path.count > 2 && tour.exact) {
        TRY(weigh_all(&path, arena, order, ret_problem));
    } else if (path.count > 2) {
        better_many(&path, order + path.count, order);
    }
    tour.length = length_of(&path, order);
    tour.bound = tour.exact ? tour.length : bound_of(&path, tour.length);
    const size_t told_from =
            path.count > stop_count ? 1 : 0; /* neither nowhere nor the panel twice */
    for (size_t i = told_from; i < path.count; i++) {
        stops[tour.count++] = path.stops[order[i]];
    }
    *ret_tour = tour;
    return outcome_good();
}
