#include "plan/layers.h"

typedef void draw_function(const void *context, struct picture *picture, int storey);

static void add_part(draw_function *draw, const void *context, int32_t scale, int storey,
        struct arena *arena, const char *name, struct json_writer *json) {
    struct picture picture;
    picture_init(&picture, arena, scale);
    if (draw != NULL) {
        draw(context, &picture, storey);
    }
    picture_add_json(&picture, 0, picture.count, name, json);
}

/* problem: NULL: it was computed. */
static void add_layer(const struct house *house, const char *name,
        const struct drawing_layer *layer, const char *problem, int32_t scale, struct arena *arena,
        struct json_writer *json) {
    json_open_object(json, NULL);
    json_add_string(json, "name", name);
    if (problem != NULL) {
        json_add_string(json, "problem", problem);
    }
    json_open_array(json, "legend");
    for (size_t i = 0; i < layer->row_count; i++) {
        json_open_object(json, NULL);
        json_add_string(json, "role", picture_role_name(layer->rows[i].role));
        json_add_string(json, "says", layer->rows[i].says);
        json_close_object(json);
    }
    json_close_array(json);
    json_open_array(json, "storeys");
    for (size_t i = 0; i < house->site->building.storey_count; i++) {
        json_open_object(json, NULL);
        add_part(layer->under, layer->context, scale, (int)i, arena, "under", json);
        add_part(layer->over, layer->context, scale, (int)i, arena, "over", json);
        json_close_object(json);
    }
    json_close_array(json);
    json_close_object(json);
}

/* Computes a layer and adds it, or why it could not be computed; its name alone where another one is wanted. */
static void add_made(const struct house *house, const struct plan_layer *which, struct text only,
        int32_t scale, struct arena *arena, struct json_writer *json) {
    const struct drawing_layer nothing = {0};
    struct drawing_layer layer = nothing;
    struct problem problem = {0};
    const bool wanted = only.length == 0 || text_is(only, which->option);
    const bool made = wanted && which->make(house, arena, &layer, &problem).good;
    add_layer(house, which->option, made ? &layer : &nothing, made || !wanted ? NULL : problem.text,
            scale, arena, json);
}

outcome plan_layers_add_json(const struct house *house, const struct plan_layer *more,
        size_t more_count, struct text only, int32_t scale, struct arena *arena, const char *name,
        struct json_writer *json, struct problem *ret_problem) {
    const struct drawing_layer nothing = {0};
    json_open_array(json, name);
    add_layer(house, "building", &nothing, NULL, scale, arena, json);
    for (size_t i = 0; i < PLAN_LAYER_COUNT; i++) {
        add_made(house, &plan_layers[i], only, scale, arena, json);
    }
    for (size_t i = 0; i < more_count; i++) {
        add_made(house, &more[i], only, scale, arena, json);
    }
    json_close_array(json);
    if (arena->refused) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the layers of the drawing");
    }
    return outcome_good();
}
