/* What the parts of a drawing share. Internal to core/plan. */
#ifndef LINTEL_PLAN_DRAW_H
#define LINTEL_PLAN_DRAW_H

#include "plan/drawing.h"

enum { DRAW_BOXES_MOST = 1024 };

struct draw_box {
    struct point low;
    struct point high;
};

/** A drawing while it is made. boxes: what labels keep clear of; signs: where signs are already. */
struct drawer {
    const struct house *house;
    const struct site *site;
    struct picture *out;
    int storey;
    struct draw_box *boxes;
    size_t box_count;
    size_t sign_count; /* of them are signs, from the first on */
};

/** The point moved by a step of so many millimetres in a direction (any length but 0; {0, 0}: not moved). */
struct point draw_moved(struct point at, struct point direction, double by_mm);

void draw_keep_clear(struct drawer *drawer, struct point low, struct point high);

/** Whether the box overlaps one that is kept clear, by how many mm2. */
double draw_overlap(const struct drawer *drawer, struct point low, struct point high);

/** Whether the box overlaps a sign, by how many mm2. */
double draw_overlap_of_signs(const struct drawer *drawer, struct point low, struct point high);

/** The devices of the storey, each as its sign; then the legend, its upper left corner at `at`. */
void draw_signs(struct drawer *drawer);
void draw_legend(struct drawer *drawer, struct point at);

#endif
