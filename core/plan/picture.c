#include "plan/picture.h"

#include <string.h>

void picture_init(struct picture *picture, struct arena *arena, int32_t scale) {
    *picture = (struct picture){.arena = arena, .scale = scale};
}

static struct picture_shape *make_room(struct picture *picture) {
    enum { FIRST = 128 };
    if (picture->count == picture->capacity) {
        const size_t capacity = picture->capacity == 0 ? FIRST : 2 * picture->capacity;
        struct picture_shape *larger = ARENA_ARRAY(picture->arena, struct picture_shape, capacity);
        if (larger == NULL) {
            return NULL;
        }
        if (picture->count > 0) {
            memcpy(larger, picture->shapes, picture->count * sizeof *larger);
        }
        picture->shapes = larger;
        picture->capacity = capacity;
    }
    return &picture->shapes[picture->count];
}

void picture_cover(struct picture *picture, struct point at) {
    if (!picture->begun) {
        picture->low = picture->high = at;
        picture->begun = true;
    }
    picture->low.x_mm = at.x_mm < picture->low.x_mm ? at.x_mm : picture->low.x_mm;
    picture->low.y_mm = at.y_mm < picture->low.y_mm ? at.y_mm : picture->low.y_mm;
    picture->high.x_mm = at.x_mm > picture->high.x_mm ? at.x_mm : picture->high.x_mm;
    picture->high.y_mm = at.y_mm > picture->high.y_mm ? at.y_mm : picture->high.y_mm;
}

void picture_add(struct picture *picture, enum picture_role role, enum picture_form form,
        const struct point *points, size_t count, int32_t width_mm) {
    struct point *copy = ARENA_ARRAY(picture->arena, struct point, count);
    struct picture_shape *shape = make_room(picture);
    if (copy == NULL || shape == NULL) {
        return;
    }
    memcpy(copy, points, count * sizeof *copy);
    *shape = (struct picture_shape){
            .role = role, .form = form, .points = copy, .count = count, .width_mm = width_mm};
    for (size_t i = 0; i < count; i++) {
        picture_cover(picture, points[i]);
    }
    picture->count++;
}

void picture_add_rings(struct picture *picture, enum picture_role role, const struct point *points,
        const size_t *rings, size_t ring_count) {
    const size_t before = picture->count;
    size_t count = 0;
    size_t *copy = ARENA_ARRAY(picture->arena, size_t, ring_count);
    if (copy == NULL) {
        return;
    }
    for (size_t i = 0; i < ring_count; i++) {
        copy[i] = rings[i];
        count += rings[i];
    }
    picture_add(picture, role, PICTURE_RINGS, points, count, 0);
    if (picture->count > before) {
        picture->shapes[before].rings = copy;
        picture->shapes[before].ring_count = ring_count;
    }
}

void picture_add_line(
        struct picture *picture, enum picture_role role, struct point from, struct point to) {
    const struct point ends[2] = {from, to};
    picture_add(picture, role, PICTURE_LINE, ends, 2, 0);
}

void picture_add_text(struct picture *picture, enum picture_role role, struct point at,
        enum picture_anchor anchor, int32_t height_mm, struct text text) {
    const size_t before = picture->count;
    picture_add(picture, role, PICTURE_TEXT, &at, 1, height_mm);
    if (picture->count > before) {
        picture->shapes[before].text = text;
        picture->shapes[before].anchor = anchor;
        /* Letters are about 0.6 of their height wide: so far the picture has to reach. */
        const int32_t wide_mm = (int32_t)text_columns(text) * height_mm * 3 / 5;
        const int32_t left_mm = anchor == PICTURE_BEGIN ? 0
                : anchor == PICTURE_END                 ? wide_mm
                                                        : wide_mm / 2;
        picture_cover(picture, (struct point){at.x_mm - left_mm, at.y_mm - height_mm / 2});
        picture_cover(
                picture, (struct point){at.x_mm - left_mm + wide_mm, at.y_mm + height_mm / 2});
    }
}

int32_t picture_paper(const struct picture *picture, int32_t tenths) {
    enum { TENTHS = 10 };
    return tenths * picture->scale / TENTHS;
}
