#include "power/wire.h"

#include "base/quantity.h"

#include <math.h>
#include <string.h>

#define PI 3.14159265358979323846

static const double COPPER_OHM_MM2_M = 0.017241;
static const double COPPER_PER_C = 0.00393;
static const double SECTION_LEAST_MM2 = 0.01;
static const double SECTION_MOST_MM2 = 200;

static double circle_mm2(double diameter_mm) {
    return PI * diameter_mm * diameter_mm / 4;
}

static bool ends_with(struct text source, const char *end) {
    const size_t length = strlen(end);
    return source.length > length &&
            memcmp(source.start + source.length - length, end, length) == 0;
}

/* The number before the unit, read as quantities are, so that nothing is overlooked. */
static outcome read_number(
        struct text source, size_t unit_bytes, double *ret_number, struct problem *ret_problem) {
    char written[32];
    struct quantity number = {0};
    const size_t length = source.length - unit_bytes;
    if (length + 2 > sizeof written) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "", "write for example 22awg or 0.5mm2");
    }
    memcpy(written, source.start, length);
    written[length] = '%';
    written[length + 1] = '\0';
    if (!quantity_read(text_of(written), QUANTITY_PERCENT, &number, NULL).good ||
            number.low < number.high) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "\"%.*s\" is no gauge; write for example 22awg, 0.5mm2, or 0.6mm for a diameter",
                (int)source.length, source.start);
    }
    *ret_number = number.low;
    return outcome_good();
}

outcome power_gauge_read(struct text source, double *ret_section_mm2, struct problem *ret_problem) {
    double number = 0;
    double section_mm2 = 0;
    if (ends_with(source, "awg") || ends_with(source, "AWG")) {
        TRY(read_number(source, 3, &number, ret_problem));
        if (!(number >= 0 && number <= 40) || fmod(number, 1) > 0) {
            FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "an AWG gauge is a whole number, 0 to 40");
        }
        section_mm2 = circle_mm2(25.4 * 0.005 * pow(92, (36 - number) / 39));
    } else if (ends_with(source, "mm2")) {
        TRY(read_number(source, 3, &section_mm2, ret_problem));
    } else if (ends_with(source, "mm\xC2\xB2")) {
        TRY(read_number(source, 4, &section_mm2, ret_problem));
    } else if (ends_with(source, "mm")) {
        TRY(read_number(source, 2, &number, ret_problem));
        section_mm2 = circle_mm2(number);
    } else {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "\"%.*s\" is no gauge; write for example 22awg, 0.5mm2, or 0.6mm for a diameter",
                (int)(source.length > 40 ? 40 : source.length),
                source.length == 0 ? "" : source.start);
    }
    if (!(section_mm2 >= SECTION_LEAST_MM2 && section_mm2 <= SECTION_MOST_MM2)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "a cross-section is %.2f to %.0f mm2",
                SECTION_LEAST_MM2, SECTION_MOST_MM2);
    }
    *ret_section_mm2 = section_mm2;
    return outcome_good();
}

outcome power_wire_ohm_m(double section_mm2, double temperature_c, enum power_conductor conductor,
        double *ret_ohm_m, struct problem *ret_problem) {
    static const double FACTORS[POWER_CONDUCTOR_COUNT] = {
            [POWER_SOLID] = 1, [POWER_STRANDED] = 1.02, [POWER_CLAD] = 1.6};
    if (!(section_mm2 >= SECTION_LEAST_MM2 && section_mm2 <= SECTION_MOST_MM2)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "a cross-section is %.2f to %.0f mm2",
                SECTION_LEAST_MM2, SECTION_MOST_MM2);
    }
    if (!(temperature_c >= -60 && temperature_c <= 120)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "a wire is at -60 to 120 C");
    }
    *ret_ohm_m = COPPER_OHM_MM2_M / section_mm2 * (1 + COPPER_PER_C * (temperature_c - 20)) *
            FACTORS[conductor];
    return outcome_good();
}

static outcome check_run(
        const struct power_run *run, size_t number, size_t count, struct problem *ret_problem) {
    if (run->from < POWER_SUPPLY || run->from >= (int)count) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "run %zu begins at a place that is not there",
                number);
    }
    if (!(run->ohm >= 0 && run->ohm <= 1e6 && run->load_a >= 0 && run->load_a <= 1000)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "run %zu: a cable has 0 to 1e6 ohm, a load 0 to 1000 A", number);
    }
    return outcome_good();
}

/* Each place's way to the supply is walked: its load runs through every run on it, and a way longer than there are
 * places turns in a circle. */
outcome power_tree(const struct power_run *runs, size_t count, double supply_v,
        struct power_place *ret_places, struct problem *ret_problem) {
    struct power_place places[POWER_TREE_MOST] = {0};
    if (count == 0 || count > POWER_TREE_MOST) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "a cable tree has 1 to %d runs", POWER_TREE_MOST);
    }
    if (!(supply_v > 0 && supply_v <= 1000)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "a supply gives over 0 to 1000 V");
    }
    for (size_t i = 0; i < count; i++) {
        TRY(check_run(&runs[i], i + 1, count, ret_problem));
    }
    for (size_t i = 0; i < count; i++) {
        size_t steps = 0;
        for (int at = (int)i; at != POWER_SUPPLY; at = runs[at].from) {
            if (++steps > count) {
                FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                        "run %zu hangs on itself, not on the supply", i + 1);
            }
            places[at].current_a += runs[i].load_a;
        }
    }
    for (size_t i = 0; i < count; i++) {
        places[i].volts = supply_v;
        for (int at = (int)i; at != POWER_SUPPLY; at = runs[at].from) {
            places[i].volts -= places[at].current_a * runs[at].ohm;
        }
    }
    memcpy(ret_places, places, count * sizeof places[0]);
    return outcome_good();
}
