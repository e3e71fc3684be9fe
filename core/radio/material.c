#include "radio/material.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

const double RADIO_FREQUENCY_MOST_HZ = 100e9;

#define ROW(key, name, edition, from, to, a, b, c, d, heavy, source, certainty)                    \
    {name, edition, from, to, a, b, c, d, sizeof(heavy) == sizeof("yes"), source, certainty},

static const struct radio_material materials[] = {
#include "radio/materials.inc"
};

enum { COUNT = sizeof materials / sizeof materials[0] };

size_t radio_material_count(void) {
    return COUNT;
}

const struct radio_material *radio_material_at(size_t index) {
    assert(index < COUNT);
    return &materials[index];
}

static outcome refuse(struct text name, int edition, struct problem *ret_problem) {
    char list[300] = "";
    const struct radio_material *nearest = NULL;
    size_t reach = text_reach(name) + 1;
    for (size_t i = 0; i < COUNT; i++) {
        if (materials[i].edition != edition) {
            continue;
        }
        const size_t distance = text_distance(name, text_of(materials[i].name), reach);
        if (distance < reach) {
            reach = distance;
            nearest = &materials[i];
        }
        const size_t used = strlen(list);
        (void)snprintf(
                list + used, sizeof list - used, "%s%s", used == 0 ? "" : ", ", materials[i].name);
    }
    if (nearest != NULL) {
        FAIL(ret_problem, PROBLEM_MISSING, "", "there is no material \"%.*s\"; did you mean %s?",
                (int)(name.length > 40 ? 40 : name.length), name.start, nearest->name);
    }
    FAIL(ret_problem, PROBLEM_MISSING, "",
            "there is no material \"%.*s\" (edition %d); there is %s",
            (int)(name.length > 40 ? 40 : name.length), name.start, edition, list);
}

outcome radio_material_find(struct text name, int edition,
        const struct radio_material **ret_material, struct problem *ret_problem) {
    for (size_t i = 0; i < COUNT; i++) {
        if (materials[i].edition == edition && text_is(name, materials[i].name)) {
            *ret_material = &materials[i];
            return outcome_good();
        }
    }
    return refuse(name, edition, ret_problem);
}

struct radio_substance radio_material_in(
        const struct radio_material *material, double frequency_hz) {
    const double ghz = frequency_hz / 1e9;
    assert(frequency_hz >= RADIO_FREQUENCY_LEAST_HZ && frequency_hz <= RADIO_FREQUENCY_MOST_HZ);
    return (struct radio_substance){
            .permittivity = material->a * pow(ghz, material->b),
            .conductivity_s_m = material->c * pow(ghz, material->d),
            .extrapolated = ghz < material->from_ghz || ghz > material->to_ghz,
    };
}

outcome radio_check_frequency(double frequency_hz, struct problem *ret_problem) {
    if (!(frequency_hz >= RADIO_FREQUENCY_LEAST_HZ && frequency_hz <= RADIO_FREQUENCY_MOST_HZ)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "a frequency is 30 to 100000 MHz here; alarm radio is at 315 to 2480");
    }
    return outcome_good();
}
