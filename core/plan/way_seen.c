#include "plan/way_seen.h"

/* A leg of a way in doubles, and where on it the edge of a view is crossed, as shares of it. */
struct leg {
    struct sight_corner from;
    struct sight_corner step;
    double *shares;
    size_t share_count;
};

static double cross(struct sight_corner a, struct sight_corner b) {
    return a.x_mm * b.y_mm - a.y_mm * b.x_mm;
}

static struct sight_corner step_of(struct sight_corner a, struct sight_corner b) {
    return (struct sight_corner){b.x_mm - a.x_mm, b.y_mm - a.y_mm};
}

static struct sight_corner corner_of(const struct sight_view *view, size_t index) {
    return view->corners[index % view->count];
}

/* Put among the others in their order. */
static void add_share(struct leg *leg, double share) {
    size_t place = leg->share_count++;
    for (; place > 0 && share < leg->shares[place - 1]; place--) {
        leg->shares[place] = leg->shares[place - 1];
    }
    leg->shares[place] = share;
}

static void cut(struct leg *leg, const struct sight_view *view) {
    leg->share_count = 0;
    add_share(leg, 0);
    add_share(leg, 1);
    for (size_t i = 0; i < view->count; i++) {
        const struct sight_corner from = corner_of(view, i);
        const struct sight_corner edge = step_of(from, corner_of(view, i + 1));
        const struct sight_corner off = step_of(leg->from, from);
        const double turn = cross(leg->step, edge);
        if (turn == 0) {
            continue; /* side by side: the edges before and after cut it */
        }
        const double on_leg = cross(off, edge) / turn;
        const double on_edge = cross(off, leg->step) / turn;
        if (on_leg > 0 && on_leg < 1 && on_edge >= 0 && on_edge <= 1) {
            add_share(leg, on_leg);
        }
    }
}

/* Whether a ray from the point to the right crosses the edge of the view an odd number of times. */
static bool holds(const struct sight_view *view, struct sight_corner at) {
    bool inside = false;
    for (size_t i = 0; i < view->count; i++) {
        const struct sight_corner a = corner_of(view, i);
        const struct sight_corner b = corner_of(view, i + 1);
        if ((a.y_mm > at.y_mm) != (b.y_mm > at.y_mm) &&
                at.x_mm < a.x_mm + (at.y_mm - a.y_mm) / (b.y_mm - a.y_mm) * (b.x_mm - a.x_mm)) {
            inside = !inside;
        }
    }
    return inside;
}

static void add_stretch(
        struct way_stretch *stretches, size_t *count, double from_mm, double to_mm) {
    if (*count > 0 && from_mm - stretches[*count - 1].to_mm < WAY_SEEN_LEAST_MM) {
        stretches[*count - 1].to_mm = to_mm;
    } else if (to_mm - from_mm >= WAY_SEEN_LEAST_MM) {
        stretches[(*count)++] = (struct way_stretch){from_mm, to_mm};
    }
}

static struct leg leg_of(struct way_stop from, struct way_stop to, double *shares) {
    return (struct leg){.from = {from.at.x_mm, from.at.y_mm},
            .step = {to.at.x_mm - from.at.x_mm, to.at.y_mm - from.at.y_mm},
            .shares = shares};
}

outcome way_seen(const struct way *way, uint32_t storey, const struct sight_view *view,
        struct arena *arena, const struct way_stretch **ret_stretches, size_t *ret_count,
        struct problem *ret_problem) {
    /* A star-shaped outline: every edge of it cuts each leg once at most. */
    double *shares = ARENA_ARRAY(arena, double, view->count + 2);
    struct way_stretch *stretches =
            ARENA_ARRAY(arena, struct way_stretch, way->count * (view->count + 1));
    size_t count = 0;
    if (shares == NULL || stretches == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for what of a way is seen");
    }
    for (size_t i = 0; i + 1 < way->count && view->count > 0; i++) {
        const struct way_stop from = way->stops[i];
        const struct way_stop to = way->stops[i + 1];
        if (from.storey != storey || to.storey != storey) {
            continue;
        }
        struct leg leg = leg_of(from, to, shares);
        const double length_mm = to.after_mm - from.after_mm;
        cut(&leg, view);
        for (size_t k = 0; k + 1 < leg.share_count; k++) {
            const double middle = (leg.shares[k] + leg.shares[k + 1]) / 2;
            const struct sight_corner at = {
                    leg.from.x_mm + middle * leg.step.x_mm, leg.from.y_mm + middle * leg.step.y_mm};
            if (holds(view, at)) {
                add_stretch(stretches, &count, from.after_mm + leg.shares[k] * length_mm,
                        from.after_mm + leg.shares[k + 1] * length_mm);
            }
        }
    }
    *ret_stretches = stretches;
    *ret_count = count;
    return outcome_good();
}
