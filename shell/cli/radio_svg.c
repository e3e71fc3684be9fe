#include "cli/radio_svg.h"

#include "cli/svg.h"
#include "radio/site_map.h"

enum { CELL_MM = 100 };

static outcome draw(const struct house *house, const struct drawing_layer *layer,
        struct text_builder *out, struct problem *ret_problem) {
    const size_t count = house->site->building.storey_count;
    const int32_t scale = drawing_scale(house);
    struct picture *pictures = ARENA_ARRAY(out->arena, struct picture, count);
    if (pictures == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to draw the map");
    }
    for (size_t i = 0; i < count; i++) {
        TRY(drawing_make(house, (int)i, scale, layer, 1, out->arena, &pictures[i], ret_problem));
    }
    svg_add(out, pictures, count, house->site->name);
    return outcome_good();
}

outcome radio_svg_add(
        const struct site *site, struct text_builder *out, struct problem *ret_problem) {
    struct house house;
    struct drawing_layer layer;
    if (!site->building.said) {
        FAIL(ret_problem, PROBLEM_MISSING, "",
                "a map wants a drawing; docs/drawing.md shows a house in ten lines under "
                "building:");
    }
    TRY(house_make(site, out->arena, &house, ret_problem));
    TRY(radio_site_map(&house, CELL_MM, out->arena, &layer, ret_problem));
    return draw(&house, &layer, out, ret_problem);
}
