#include "radio/written.h"

#include "base/quantity.h"

#include <string.h>

/* Where light walls end and heavy ones begin. Source: COST 231, chapter 4: thin, under 10 cm. */
static const double HEAVY_FROM_M = 0.1;

static outcome add_sheet(
        struct radio_written *wall, struct text value, struct problem *ret_problem) {
    struct quantity ohm = {0};
    TRY(quantity_read(value, QUANTITY_RESISTANCE_OHM, &ohm, ret_problem));
    if (!(ohm.low > 0) || ohm.low < ohm.high) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "one resistance per square over 0, sheet:4ohm");
    }
    wall->layers[wall->count++] = (struct radio_layer){.sheet_ohm = ohm.low};
    return outcome_good();
}

static outcome add_slab(struct radio_written *wall, struct text name, struct text value,
        int edition, double frequency_hz, struct problem *ret_problem) {
    const struct radio_material *material = NULL;
    struct quantity thickness = {0};
    TRY(radio_check_frequency(frequency_hz, ret_problem));
    TRY(radio_material_find(name, edition, &material, ret_problem));
    TRY(quantity_read(value, QUANTITY_LENGTH_M, &thickness, ret_problem));
    if (!(thickness.low > 0) || thickness.low < thickness.high || thickness.high > 10) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "one thickness over 0 to 10 m, %s:100mm",
                material->name);
    }
    wall->materials[wall->count] = material;
    wall->layers[wall->count++] = (struct radio_layer){
            .substance = radio_material_in(material, frequency_hz), .thickness_m = thickness.low};
    wall->thickness_m += thickness.low;
    return outcome_good();
}

static void weigh(struct radio_written *wall) {
    double heavy_m = 0;
    for (size_t i = 0; i < wall->count; i++) {
        const struct radio_material *material = wall->materials[i];
        if (material != NULL && material->heavy) {
            heavy_m += wall->layers[i].thickness_m;
        }
        wall->conducts = wall->conducts || material == NULL || strcmp(material->name, "metal") == 0;
    }
    wall->heavy = heavy_m >= HEAVY_FROM_M;
}

outcome radio_written_add(struct radio_written *wall, struct text word, int edition,
        double frequency_hz, struct problem *ret_problem) {
    const char *colon = word.length == 0 ? NULL : memchr(word.start, ':', word.length);
    struct problem problem = {0};
    if (wall->count == RADIO_LAYERS_MOST) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "a wall has at most %d layers", RADIO_LAYERS_MOST);
    }
    if (colon == NULL) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "\"%.*s\" is no layer; write material and thickness, for example brick:100mm",
                (int)(word.length > 60 ? 60 : word.length), word.length == 0 ? "" : word.start);
    }
    const struct text name = {word.start, (size_t)(colon - word.start)};
    const struct text value = {colon + 1, word.length - name.length - 1};
    const bool good = text_is(name, "sheet")
            ? add_sheet(wall, value, &problem).good
            : add_slab(wall, name, value, edition, frequency_hz, &problem).good;
    if (!good) {
        FAIL(ret_problem, problem.kind, "", "layer \"%.*s\": %s",
                (int)(word.length > 60 ? 60 : word.length), word.start, problem.text);
    }
    weigh(wall);
    return outcome_good();
}

outcome radio_written_read(struct text written, int edition, double frequency_hz,
        struct radio_written *ret_wall, struct problem *ret_problem) {
    struct radio_written wall = {.written = written};
    struct text rest = written;
    for (bool more = true; more;) {
        const char *comma = rest.length == 0 ? NULL : memchr(rest.start, ',', rest.length);
        const size_t length = comma == NULL ? rest.length : (size_t)(comma - rest.start);
        TRY(radio_written_add(
                &wall, (struct text){rest.start, length}, edition, frequency_hz, ret_problem));
        more = comma != NULL;
        if (more) {
            rest = (struct text){comma + 1, rest.length - length - 1};
        }
    }
    *ret_wall = wall;
    return outcome_good();
}
