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
    *shape = (struct picture_shape){.role = role,
            .form = form,
            .about = picture->about,
            .points = copy,
            .count = count,
            .width_mm = width_mm};
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

void picture_about(struct picture *picture, const char *list, size_t index) {
    picture->about =
            list == NULL ? (struct text){0} : text_print(picture->arena, "%s[%zu]", list, index);
}

const char *picture_role_name(enum picture_role role) {
    static const char *const names[PICTURE_ROLE_COUNT] = {
            [PICTURE_GROUND] = "ground",
            [PICTURE_FLOOR] = "floor",
            [PICTURE_SEEN] = "seen",
            [PICTURE_BLIND] = "blind",
            [PICTURE_RADIO_GOOD] = "radio-good",
            [PICTURE_RADIO_FAIR] = "radio-fair",
            [PICTURE_RADIO_POOR] = "radio-poor",
            [PICTURE_RADIO_NONE] = "radio-none",
            [PICTURE_SIGHT] = "sight",
            [PICTURE_HEARD] = "heard",
            [PICTURE_UNHEARD] = "unheard",
            [PICTURE_WAY] = "way",
            [PICTURE_WALL] = "wall",
            [PICTURE_GAP] = "gap",
            [PICTURE_PANE] = "pane",
            [PICTURE_LEAF] = "leaf",
            [PICTURE_SWING] = "swing",
            [PICTURE_STEP] = "step",
            [PICTURE_HIDDEN] = "hidden",
            [PICTURE_FURNITURE] = "furniture",
            [PICTURE_TALL] = "tall",
            [PICTURE_SIGN] = "sign",
            [PICTURE_SIGN_DARK] = "sign-dark",
            [PICTURE_INTRUDER] = "intruder",
            [PICTURE_ARROW] = "arrow",
            [PICTURE_FORCED] = "forced",
            [PICTURE_LEADER] = "leader",
            [PICTURE_DIMENSION] = "dimension",
            [PICTURE_LABEL] = "label",
            [PICTURE_SMALL] = "small",
            [PICTURE_MARK] = "mark",
            [PICTURE_MARK_LIGHT] = "mark-light",
            [PICTURE_TITLE] = "title",
    };
    return names[role];
}

static void add_shape_json(const struct picture_shape *shape, struct json_writer *json) {
    static const char *const forms[] = {[PICTURE_AREA] = "area",
            [PICTURE_LINE] = "line",
            [PICTURE_RINGS] = "rings",
            [PICTURE_TEXT] = "text"};
    static const char *const anchors[] = {
            [PICTURE_MIDDLE] = "middle", [PICTURE_BEGIN] = "start", [PICTURE_END] = "end"};
    json_open_object(json, NULL);
    json_add_string(json, "role", picture_role_name(shape->role));
    json_add_string(json, "form", forms[shape->form]);
    if (shape->about.length > 0) {
        json_add_text(json, "about", shape->about);
    }
    if (shape->width_mm > 0) {
        json_add_integer(json, "width_mm", shape->width_mm);
    }
    if (shape->form == PICTURE_TEXT) {
        json_add_text(json, "text", shape->text);
        json_add_string(json, "anchor", anchors[shape->anchor]);
    }
    if (shape->form == PICTURE_RINGS) {
        json_open_array(json, "rings");
        for (size_t i = 0; i < shape->ring_count; i++) {
            json_add_integer(json, NULL, (int64_t)shape->rings[i]);
        }
        json_close_array(json);
    }
    json_open_array(json, "points_mm");
    for (size_t i = 0; i < shape->count; i++) {
        json_add_integer(json, NULL, shape->points[i].x_mm);
        json_add_integer(json, NULL, shape->points[i].y_mm);
    }
    json_close_array(json);
    json_close_object(json);
}

void picture_add_json(const struct picture *picture, size_t from, size_t to, const char *name,
        struct json_writer *json) {
    json_open_array(json, name);
    for (size_t i = from; i < to; i++) {
        add_shape_json(&picture->shapes[i], json);
    }
    json_close_array(json);
}
