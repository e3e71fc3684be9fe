#include "plan/way.h"

void way_place_at(const struct way *way, double at_mm, uint32_t *ret_storey, double *ret_x_mm,
        double *ret_y_mm) {
    size_t next = 1;
    while (next < way->count && way->stops[next].after_mm < at_mm) {
        next++;
    }
    const struct way_stop to = way->stops[next < way->count ? next : way->count - 1];
    const struct way_stop from = next < way->count ? way->stops[next - 1] : to;
    const double length_mm = to.after_mm - from.after_mm;
    double share = length_mm > 0 ? (at_mm - from.after_mm) / length_mm : 0;
    share = share < 0 ? 0 : share > 1 ? 1 : share;
    if (from.storey != to.storey) {
        share = share < 0.5 ? 0 : 1;
    }
    *ret_storey = share < 0.5 ? from.storey : to.storey;
    *ret_x_mm = from.at.x_mm + share * (to.at.x_mm - from.at.x_mm);
    *ret_y_mm = from.at.y_mm + share * (to.at.y_mm - from.at.y_mm);
}

/* How far along a leg it meets the line's line, as a share; the leg's ends are not both on it. */
static double share_at(struct segment line, struct way_stop from, struct way_stop to) {
    const struct point step = point_step(line.from, line.to);
    const double a = (double)point_cross(step, point_step(line.from, from.at));
    const double b = (double)point_cross(step, point_step(line.from, to.at));
    return a / (a - b);
}

size_t way_crossings(const struct way *way, uint32_t storey, struct segment line, double *ret_at_mm,
        size_t most) {
    size_t count = 0;
    int side = 0;        /* on which the way last was, off the line's line */
    bool through = true; /* since then it was on the line itself, not beside it */
    for (size_t i = 0; i + 1 < way->count; i++) {
        const struct way_stop from = way->stops[i];
        const struct way_stop to = way->stops[i + 1];
        if (from.storey != storey || to.storey != storey) {
            side = 0;
            continue;
        }
        const int begins = point_turn(line.from, line.to, from.at);
        const int ends = point_turn(line.from, line.to, to.at);
        if (begins != 0) {
            side = begins;
            through = true;
        }
        through = through &&
                (ends == begins || segment_meets(line, (struct segment){from.at, to.at}));
        if (ends == 0 || begins == ends) {
            continue;
        }
        if (side == -ends && through) {
            const double share = begins == 0 ? 0 : share_at(line, from, to);
            if (count < most) {
                ret_at_mm[count] = from.after_mm + share * (to.after_mm - from.after_mm);
            }
            count++;
        }
    }
    return count;
}
