/* The lines in and out of the panel of a random site: the path and the mains go and come back, the mains report is
 * spread, the siren is held back, inputs see only what lasts. */
#include "support/random_site.h"

#include <string.h>

struct lines {
    uint64_t state;
    struct arena *arena;
    struct site *site;
    int32_t scale;
};

static int32_t draw(struct lines *lines, int32_t low, int32_t high) {
    return low + (int32_t)(random_next(&lines->state) % ((uint64_t)(high - low) + 1));
}

static bool chance(struct lines *lines, int32_t percent) {
    return draw(lines, 0, 99) < percent;
}

/* A step of whoever does the one that stands there, or the last one. False: no memory. */
static bool insert_step(struct lines *lines, int32_t at, enum site_act act) {
    struct site_routine *routine = &lines->site->routines[0];
    const size_t count = routine->step_count;
    struct site_step *steps = ARENA_ARRAY(lines->arena, struct site_step, count + 1);
    if (steps == NULL) {
        return false;
    }
    const size_t place = (size_t)at;
    const int32_t low_s = draw(lines, 0, 4) * lines->scale;
    memcpy(steps, routine->steps, place * sizeof *steps);
    memcpy(steps + place + 1, routine->steps + place, (count - place) * sizeof *steps);
    steps[place] = (struct site_step){.who = routine->steps[place < count ? place : count - 1].who,
            .in = span_of(low_s, low_s + draw(lines, 0, 2) * lines->scale),
            .has_in = true,
            .maybe = chance(lines, 15),
            .after_step = SITE_NONE,
            .when_area = SITE_NONE,
            .if_area = SITE_NONE,
            .act = act,
            .door = SITE_NONE,
            .zone = SITE_NONE,
            .way = SITE_NONE,
            .keypad = SITE_NONE};
    for (size_t i = 0; i <= count; i++) {
        steps[i].after_step += steps[i].after_step != SITE_NONE && steps[i].after_step >= at;
    }
    routine->steps = steps;
    routine->step_count = count + 1;
    return true;
}

/* The way back is left out now and then. */
static bool lose_a_line(struct lines *lines, enum site_act lost, enum site_act back) {
    const int32_t at = draw(lines, 0, (int32_t)lines->site->routines[0].step_count);
    if (!insert_step(lines, at, lost)) {
        return false;
    }
    const int32_t last = (int32_t)lines->site->routines[0].step_count;
    return !chance(lines, 80) || insert_step(lines, draw(lines, at + 1, last), back);
}

bool random_site_draw_lines(
        const struct random_wish *wish, struct arena *arena, struct site *site) {
    static const int32_t RESPONSES_MS[] = {0, 300, 1000, 1500, 2500};
    static const uint32_t EXPECTS[] = {0, SITE_EXPECT_SIREN, SITE_EXPECT_ALARM};
    struct lines lines = {.state = wish->seed * 0xD1342543DE82EF95U + 7,
            .arena = arena,
            .site = site,
            .scale = wish->scale > 1 ? wish->scale : 1};
    struct site_settings *settings = &site->settings;
    settings->faults = chance(&lines, 70) ? SITE_FAULT_IGNORE : SITE_FAULT_REFUSE;
    settings->siren_hold_back_s = chance(&lines, 60) ? draw(&lines, 1, 8) * lines.scale : 0;
    settings->mains_delay_s = draw(&lines, 0, 5) * lines.scale;
    settings->mains_jitter_s = draw(&lines, 0, settings->mains_delay_s);
    for (size_t i = 0; i < site->zone_count; i++) {
        const int32_t response_ms = RESPONSES_MS[draw(&lines, 0, 4)];
        site->zones[i].loop_response_ms = chance(&lines, 50) ? 0 : response_ms * lines.scale;
    }
    site->routines[0].expects = SITE_EXPECT_TROUBLE | EXPECTS[draw(&lines, 0, 2)];
    settings->off_route = SITE_OFF_ROUTE_NOW; /* as random_site.c where something is expected */
    return (!chance(&lines, 70) || lose_a_line(&lines, SITE_ACT_PATH_LOST, SITE_ACT_PATH_BACK)) &&
            (!chance(&lines, 20) || lose_a_line(&lines, SITE_ACT_MAINS_LOST, SITE_ACT_MAINS_BACK));
}

/* The path alone, lost early and back late or never, so that alarms fall between; a trouble is announced, mostly. */
bool random_site_draw_path(const struct random_wish *wish, struct arena *arena, struct site *site) {
    static const uint32_t EXPECTS[] = {0, SITE_EXPECT_SIREN, SITE_EXPECT_SIREN, SITE_EXPECT_SIREN};
    struct lines lines = {.state = wish->seed * 0xBF58476D1CE4E5B9U + 3,
            .arena = arena,
            .site = site,
            .scale = wish->scale > 1 ? wish->scale : 1};
    const int32_t count = (int32_t)site->routines[0].step_count;
    const int32_t at = draw(&lines, 0, count / 2);
    site->settings.faults = chance(&lines, 70) ? SITE_FAULT_IGNORE : SITE_FAULT_REFUSE;
    site->routines[0].expects =
            EXPECTS[draw(&lines, 0, 3)] | (chance(&lines, 95) ? SITE_EXPECT_TROUBLE : 0U);
    site->settings.off_route =
            SITE_OFF_ROUTE_NOW; /* as random_site.c where something is expected */
    return insert_step(&lines, at, SITE_ACT_PATH_LOST) &&
            (chance(&lines, 40) ||
                    insert_step(&lines, draw(&lines, (at + count) / 2 + 1, count + 1),
                            SITE_ACT_PATH_BACK));
}
