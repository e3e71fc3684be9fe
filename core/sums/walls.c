#include "sums/walls.h"

#include <string.h>

void sums_wall_note(struct sums_answer *answer, const struct radio_written *wall) {
    for (size_t i = 0; i < wall->count; i++) {
        const struct radio_material *material = wall->materials[i];
        if (material == NULL) {
            continue;
        }
        if (wall->layers[i].substance.extrapolated) {
            sums_note(answer,
                    sums_text(answer,
                            "%s was measured from %g to %g GHz; outside of that its figures are "
                            "extrapolated",
                            material->name, material->from_ghz, material->to_ghz));
        }
        if (strcmp(material->name, "plywood") == 0) {
            sums_note(answer,
                    text_of("plywood's row loses ten times what solid wood does (an outlier of the "
                            "table); do not use it for wood"));
        }
    }
}

void sums_wall_add_layers(
        struct sums_answer *answer, const struct radio_written *wall, double frequency_hz) {
    for (size_t i = 0; i < wall->count; i++) {
        const struct radio_material *material = wall->materials[i];
        const struct radio_layer *layer = &wall->layers[i];
        const struct text item =
                sums_text(answer, "%zu %s", i + 1, material == NULL ? "sheet" : material->name);
        struct sums_figure *figure = NULL;
        if (material == NULL) {
            figure = sums_add(answer, "sheet_ohm", "", layer->sheet_ohm, 2, "ohm");
            sums_explain(figure, text_of("a shunt across the wave: A = D = 1, B = 0, C = 1 / Rs"),
                    "textbook");
            (void)sums_of(figure, "layers", item);
            continue;
        }
        const double ghz = frequency_hz / 1e9;
        figure = sums_add(answer, "thickness_mm", "", layer->thickness_m * 1000,
                sums_decimals(layer->thickness_m * 1000), "mm");
        (void)sums_of(figure, "layers", item);
        figure = sums_add(answer, "permittivity", "permittivity", layer->substance.permittivity,
                sums_decimals(layer->substance.permittivity), "");
        sums_explain(figure,
                sums_text(answer, "a f^b = %g x %.5g^%g, f in GHz", material->a, ghz, material->b),
                material->source);
        (void)sums_of(figure, "layers", item);
        figure = sums_add(answer, "conductivity_s_m", "conductivity",
                layer->substance.conductivity_s_m,
                quantity_decimals_for(layer->substance.conductivity_s_m, 4), "S/m");
        sums_explain(figure,
                sums_text(answer,
                        "c f^d = %g x %.5g^%g; permittivity with its loss: %.4f - j 17.975 x %.5g "
                        "/ %.5g",
                        material->c, ghz, material->d, layer->substance.permittivity,
                        layer->substance.conductivity_s_m, ghz),
                material->source);
        (void)sums_of(figure, "layers", item);
    }
}

int sums_edition(const struct sums_value *value) {
    return text_is(value->word, "2015") ? 2015 : RADIO_EDITION_NEWEST;
}
