/* What the parts of a drawing share. Internal to core/plan. */
#ifndef LINTEL_PLAN_DRAW_H
#define LINTEL_PLAN_DRAW_H

#include "plan/drawing.h"

enum { DRAW_BOXES_MOST = 1024, DRAW_LETTERS_MOST = 26 };

/** A drawing while it is made. boxes: what labels keep clear of, and in the second half where signs are already.
 *  lettered: rooms too small for their name, which the legend tells. */
struct drawer {
    const struct house *house;
    const struct site *site;
    struct picture *out;
    int storey;
    const struct drawing_layer *layers;
    size_t layer_count;
    struct picture_box *boxes;
    size_t box_count;
    size_t sign_count; /* how many of the last DRAW_BOXES_MOST / 2 are signs */
    size_t lettered[DRAW_LETTERS_MOST];
    size_t lettered_count;
};

/** The point moved by a step of so many millimetres in a direction (any length but 0; {0, 0}: not moved). */
struct point draw_moved(struct point at, struct point direction, double by_mm);

void draw_keep_clear(struct drawer *drawer, struct point low, struct point high);

/** Whether the box overlaps one that is kept clear, by how many mm2. */
double draw_overlap(const struct drawer *drawer, struct point low, struct point high);

/** Whether the box overlaps a sign, by how many mm2. */
double draw_overlap_of_signs(const struct drawer *drawer, struct point low, struct point high);

/** "a", "b": what stands in the place of a name. */
struct text draw_letter(const struct drawer *drawer, size_t index);

/** Tells the picture where the signs of the storey will stand, before any of them is drawn: what is drawn sooner keeps
 *  clear of them. */
void draw_foresee_signs(struct drawer *drawer);

/** The devices of the storey, each as its sign; then the legend, its upper left corner at `at`. */
void draw_signs(struct drawer *drawer);
void draw_legend(struct drawer *drawer, struct point at);

#endif
