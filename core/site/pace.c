#include "site/pace.h"

/* clang-format off */
static const struct { const char *name; struct site_pace pace; const char *source; }
walkers[SITE_WALKER_COUNT] = {
    [SITE_WALKER_ADULT]    = {"adult",         {{900, 1400}, {800, 1000}},
                              "slow end near the 15th percentile of walkers over 60 (0.92 m/s, a published study); fast "
                              "end and stairs from memory, unverified"},
    [SITE_WALKER_STICK]    = {"with a stick",  {{300, 900}, {150, 470}},
                              "from the frail walker's 1 ft/s to the 3 ft/s of slow walkers (MUTCD); stairs: mean 0.31 m/s "
                              "less and plus one deviation of 0.16 m/s, people with impaired mobility (NIST)"},
    [SITE_WALKER_SHOPPING] = {"with shopping", {{700, 1100}, {500, 800}},
                              "common practice: slower than with free hands; figures ours, unverified"},
    [SITE_WALKER_CHILD]    = {"child",         {{700, 1500}, {500, 1000}},
                              "common practice: dawdles or runs; figures ours, unverified"},
};
/* clang-format on */

const char *site_walker_name(enum site_walker walker) {
    return walkers[walker].name;
}

const char *site_walker_source(enum site_walker walker) {
    return walkers[walker].source;
}

struct site_pace site_walker_pace(enum site_walker walker) {
    return walkers[walker].pace;
}

static int32_t shared(int32_t own_mm_s, int32_t stairs_mm_s, int32_t level_mm_s) {
    const int32_t mm_s = own_mm_s * stairs_mm_s / level_mm_s;
    return mm_s < SITE_PACE_LEAST_MM_S ? SITE_PACE_LEAST_MM_S : mm_s;
}

struct site_pace site_walking_pace(struct site_walking walking) {
    if (walking.walker != SITE_WALKER_OWN) {
        return walkers[walking.walker].pace;
    }
    const struct site_pace adult = walkers[SITE_WALKER_ADULT].pace;
    return (struct site_pace){.level = walking.own,
            .stairs = {shared(walking.own.slow_mm_s, adult.stairs.slow_mm_s, adult.level.slow_mm_s),
                    shared(walking.own.fast_mm_s, adult.stairs.fast_mm_s, adult.level.fast_mm_s)}};
}

static void add_metres(struct text_builder *out, int32_t mm_s) {
    enum { METRE = 1000, TENTH = 100, HUNDREDTH = 10 };
    const int32_t rest = mm_s % METRE;
    const int32_t unit = rest % TENTH == 0 ? TENTH : rest % HUNDREDTH == 0 ? HUNDREDTH : 1;
    const int digits = unit == TENTH ? 1 : unit == HUNDREDTH ? 2 : 3;
    text_add_format(out, "%d", mm_s / METRE);
    if (rest > 0) {
        text_add_format(out, ".%0*d", digits, rest / unit);
    }
}

void site_speed_add(struct text_builder *out, struct site_speed speed) {
    add_metres(out, speed.slow_mm_s);
    if (speed.fast_mm_s != speed.slow_mm_s) {
        text_add_string(out, "..");
        add_metres(out, speed.fast_mm_s);
    }
    text_add_string(out, " m/s");
}

static struct site_speed either(struct site_speed a, struct site_speed b) {
    return (struct site_speed){a.slow_mm_s < b.slow_mm_s ? a.slow_mm_s : b.slow_mm_s,
            a.fast_mm_s > b.fast_mm_s ? a.fast_mm_s : b.fast_mm_s};
}

struct site_pace site_pace_either(struct site_pace a, struct site_pace b) {
    return (struct site_pace){either(a.level, b.level), either(a.stairs, b.stairs)};
}
