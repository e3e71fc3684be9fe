/* Confirmation on a random site: a window, groups, and zones whose alarms are not reported. */
#include "support/random_site.h"

static int32_t draw(uint64_t *state, int32_t low, int32_t high) {
    return low + (int32_t)(random_next(state) % ((uint64_t)(high - low) + 1));
}

void random_site_draw_witnesses(const struct random_wish *wish, struct site *site) {
    static const char *const GROUPS[] = {"", "front", "rear"};
    uint64_t state = wish->seed * 0xA24BAED4963EE407U + 11;
    const int32_t scale = wish->scale > 1 ? wish->scale : 1;
    if (!wish->witnesses) {
        return;
    }
    const bool grouped = draw(&state, 0, 99) < 70;
    site->settings.confirm_window_s = draw(&state, 1, 12) * scale;
    for (size_t i = 0; i < site->zone_count; i++) {
        site->zones[i].group = text_of(GROUPS[grouped ? draw(&state, 0, 2) : 0]);
        site->zones[i].reports = draw(&state, 0, 99) < 50;
    }
    site->routines[0].expects |= SITE_EXPECT_SIREN;
    site->settings.off_route =
            SITE_OFF_ROUTE_NOW; /* as random_site.c where something is expected */
}
