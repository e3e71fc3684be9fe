/* How a proof grows with people, steps, zones and the width of the windows. */
#include "bench.h"

#include <stdio.h>

static void print_head(const char *what) {
    printf("\n%s\n\n%-26s %-10s %10s %10s %9s %9s\n", what, "", "verdict", "classes", "keys",
            "time", "memory");
}

static void print_line(const char *says, const struct house_wish *wish) {
    const struct bench_proof proof = bench_prove_house(wish);
    printf("%-26s %-10s %10s %10s %9s %9s\n", says, bench_verdict(&proof),
            bench_count((double)proof.result.classes_expanded),
            bench_count((double)proof.result.keys), bench_time(proof.seconds_s),
            bench_bytes(proof.bytes));
    fflush(stdout);
}

static void grow_people(enum house_course course, const char *what) {
    char says[60];
    print_head(what);
    for (size_t people = course == HOUSE_DAY ? 2 : 1; people <= HOUSE_PEOPLE_MOST; people++) {
        const struct house_wish wish = {
                .course = course, .people = people, .steps = 5, .zones = 16, .width_s = 600};
        snprintf(says, sizeof says, "%zu people", people);
        print_line(says, &wish);
    }
}

static void grow_rest(void) {
    static const size_t STEPS[] = {2, 4, 6, 8, 10, 12};
    static const size_t ZONES[] = {8, 16, 32, 64, 128};
    static const int32_t WIDTHS_S[] = {2, 10, 60, 600, 3600, 14400};
    const struct house_wish usual = {
            .course = HOUSE_ALARM, .people = 2, .steps = 6, .zones = 16, .width_s = 600};
    char says[60];
    struct house_wish wish = usual;
    print_head("Growth with steps (whole alarm, 2 people, windows of 10 min, 16 zones)");
    for (size_t i = 0; i < sizeof STEPS / sizeof *STEPS; i++) {
        wish.steps = STEPS[i];
        snprintf(says, sizeof says, "%zu steps each", wish.steps);
        print_line(says, &wish);
    }
    wish = usual;
    print_head("Growth with zones (the same, 6 steps)");
    for (size_t i = 0; i < sizeof ZONES / sizeof *ZONES; i++) {
        wish.zones = ZONES[i];
        snprintf(says, sizeof says, "%zu zones", wish.zones);
        print_line(says, &wish);
    }
    wish = usual;
    print_head("Growth with the width of the windows (the same, 16 zones)");
    for (size_t i = 0; i < sizeof WIDTHS_S / sizeof *WIDTHS_S; i++) {
        wish.width_s = WIDTHS_S[i];
        print_line(bench_width(wish.width_s), &wish);
    }
}

static void four_people(void) {
    static const struct {
        const char *says;
        enum house_course course;
        bool radio;
    } WISHES[] = {
            {"come home", HOUSE_COMES_HOME, false},
            {"come home, radio", HOUSE_COMES_HOME, true},
            {"a day, last one sets", HOUSE_DAY, false},
            {"a day, radio devices", HOUSE_DAY, true},
            {"false alarms", HOUSE_FALSE_ALARM, false},
            {"false alarms, radio", HOUSE_FALSE_ALARM, true},
            {"whole alarm", HOUSE_ALARM, false},
            {"whole alarm, radio", HOUSE_ALARM, true},
            {"whole alarm, last sets", HOUSE_ALARM_DAY, false},
            {"the same, radio", HOUSE_ALARM_DAY, true},
            {"as each likes", HOUSE_FREE, false},
            {"as each likes, radio", HOUSE_FREE, true},
    };
    print_head("Four people, eight steps each, windows of an hour");
    for (size_t i = 0; i < sizeof WISHES / sizeof *WISHES; i++) {
        const struct house_wish wish = {.course = WISHES[i].course,
                .people = 4,
                .steps = 8,
                .zones = 16,
                .width_s = 3600,
                .radio = WISHES[i].radio};
        print_line(WISHES[i].says, &wish);
    }
}

void bench_scaling(const struct bench *bench) {
    (void)bench;
    grow_people(HOUSE_DAY, "Growth with people (a day, 5 steps each, windows of 10 min, 16 zones)");
    grow_people(HOUSE_ALARM,
            "Growth with people (whole alarm, 5 steps each, windows of 10 min, 16 zones)");
    grow_rest();
    four_people();
}
