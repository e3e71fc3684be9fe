#include "crossed.h"

#include "support/random_site.h"

#include <string.h>

enum { LAYERS_MOST = 4, DOORS = 2, PAIR = 2, NOBODY = -1, UNHEARD = -1 };

/* What is worked out of: doors of each layer, as the seconds they take and the detectors that see them (a bit each). */
struct chain {
    int32_t takes_s[LAYERS_MOST][DOORS];
    unsigned seen[LAYERS_MOST][DOORS];
    int layers;
    int32_t goal_s;
    int32_t window_s; /* at the least */
    int32_t alarm_s;  /* from the trip that counts to being heard, at the most */
    bool same_counts;
};

/* He at one moment. lone: the detector whose trip is remembered, until_s. */
struct walker {
    int layer;
    int32_t now_s;
    int lone;
    int32_t until_s;
    int32_t heard_s;
};

static int32_t draw(uint64_t *state, int32_t low, int32_t high) {
    return low + (int32_t)(random_next(state) % ((uint64_t)(high - low) + 1));
}

static void trip(const struct chain *chain, struct walker *walker, int detector) {
    const bool remembered = walker->lone != NOBODY;
    const bool counts = remembered && (walker->lone != detector || chain->same_counts);
    if (counts && walker->heard_s == UNHEARD) {
        walker->heard_s = walker->now_s + chain->alarm_s;
    }
    if (!remembered) {
        walker->lone = detector;
        walker->until_s = walker->now_s + chain->window_s;
    } else if (counts) {
        walker->lone = NOBODY;
    }
}

static void better(struct crossed_answer *best, struct crossed_answer other) {
    const bool later = other.late_s > best->late_s;
    if (later || (other.late_s == best->late_s && other.done_s < best->done_s)) {
        *best = other;
    }
}

/* What may come before a door: he goes on at once (and if he arrives in the very second in which the remembered trip is
 * forgotten, either may come first), or he stands still until it is forgotten. Nothing else is of use. */
enum way_on { GOES, GOES_TRIPS_FIRST, WAITS, WAYS_ON };

/* False: not now. */
static bool go_through(const struct chain *chain, struct walker *walker, int door, enum way_on on) {
    const bool remembered = walker->lone != NOBODY;
    if (on == WAITS && remembered) {
        walker->now_s = walker->until_s;
        walker->lone = NOBODY;
    }
    walker->now_s += chain->takes_s[walker->layer][door];
    const bool just_now = remembered && walker->now_s == walker->until_s;
    if (remembered && walker->now_s >= walker->until_s && on == GOES) {
        walker->lone = NOBODY;
    }
    for (int detector = 0; detector < PAIR; detector++) {
        if ((chain->seen[walker->layer][door] >> detector & 1U) != 0) {
            trip(chain, walker, detector);
        }
    }
    if (on == GOES_TRIPS_FIRST && walker->lone != NOBODY && walker->now_s == walker->until_s) {
        walker->lone = NOBODY;
    }
    walker->layer++;
    return on == GOES || (on == WAITS && remembered) || (on == GOES_TRIPS_FIRST && just_now);
}

static void go_on(const struct chain *chain, struct walker walker, struct crossed_answer *best) {
    if (walker.layer == chain->layers) {
        const int32_t done_s = walker.now_s + chain->goal_s;
        better(best,
                (struct crossed_answer){.late_s = walker.heard_s == UNHEARD
                                ? BREAKIN_NEVER_S
                                : walker.heard_s - done_s,
                        .done_s = done_s});
        return;
    }
    for (int door = 0; door < DOORS; door++) {
        for (enum way_on on = GOES; on < WAYS_ON; on++) {
            struct walker next = walker;
            if (go_through(chain, &next, door, on)) {
                go_on(chain, next, best);
            }
        }
    }
}

/* True: one way leads through all of it. */
static bool draw_chain(uint64_t *state, struct chain *chain) {
    const bool all_single = draw(state, 0, 1) == 0;
    chain->layers = draw(state, 2, LAYERS_MOST);
    for (int layer = 0; layer < chain->layers; layer++) {
        for (int door = 0; door < DOORS; door++) {
            chain->takes_s[layer][door] = draw(state, 1, 6);
            chain->seen[layer][door] = (unsigned)draw(state, 0, 3);
        }
        if (all_single || draw(state, 0, 2) == 0) { /* one door, twice */
            chain->takes_s[layer][1] = chain->takes_s[layer][0];
            chain->seen[layer][1] = chain->seen[layer][0];
        }
    }
    chain->goal_s = draw(state, 0, 8);
    chain->same_counts = draw(state, 0, 1) == 1;
    return all_single;
}

static bool set_site(struct arena *arena, struct site *site, uint64_t *state, struct chain *chain) {
    site->name = text_of("crossed");
    site->areas = ARENA_ARRAY(arena, struct site_area, 1);
    site->zones = ARENA_ARRAY(arena, struct site_zone, PAIR);
    site->devices = ARENA_ARRAY(arena, struct site_device, PAIR);
    site->device_profiles = ARENA_ARRAY(arena, struct site_device_profile, 1);
    if (site->areas == NULL || site->zones == NULL || site->devices == NULL ||
            site->device_profiles == NULL) {
        return false;
    }
    site->area_count = 1;
    site->areas[0].name = text_of("house");
    site->settings = site_settings_usual();
    site->settings.abort_window_s = draw(state, 0, 6);
    site->settings.cross_window_s = draw(state, 2, 12);
    site->settings.same_cross_counts = chain->same_counts;
    site->settings.swinger_limit = 0;
    site->settings.tolerance_tenths = 0;
    chain->window_s = site->settings.cross_window_s;
    chain->alarm_s = site->settings.abort_window_s;
    site->device_profiles[0] =
            (struct site_device_profile){.name = text_of("device"), .sense = SITE_MOTION};
    for (int i = 0; i < PAIR; i++) {
        site->devices[i] = (struct site_device){
                .name = text_of("device"), .door = SITE_NONE, .keypad = SITE_NONE};
        site->zones[i] = (struct site_zone){.number = i + 1,
                .name = text_of("zone"),
                .device = i,
                .door = SITE_NONE,
                .behaviour = SITE_PERIMETER,
                .reports = true,
                .pulse_count = 1,
                .cross_with = 1 - i};
        for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
            site->zones[i].in[mode] = SITE_PERIMETER;
            site->zones[i].delay[mode] = SITE_NONE;
        }
    }
    site->zone_count = PAIR;
    site->device_count = PAIR;
    site->device_profile_count = 1;
    return true;
}

static void set_graph(const struct chain *chain, struct building *building) {
    size_t count = 0;
    for (int layer = 0; layer < chain->layers; layer++) {
        for (int door = 0; door < DOORS; door++) {
            struct breakin_portal *portal = &building->portals[count++];
            *portal = (struct breakin_portal){.name = text_of("door"),
                    .from = layer,
                    .to = layer + 1,
                    .force_s = chain->takes_s[layer][door]};
            for (unsigned detector = 0; detector < PAIR; detector++) {
                if ((chain->seen[layer][door] >> detector & 1U) != 0) {
                    panel_zones_add(&portal->trips, detector);
                }
            }
        }
    }
    building->goals[0] = (struct breakin_goal){
            .name = text_of("thing"), .place = chain->layers, .takes_s = chain->goal_s};
    building->graph = (struct breakin_graph){.places = building->places,
            .place_count = (size_t)chain->layers + 1,
            .portals = building->portals,
            .portal_count = count,
            .moves = building->moves,
            .goals = building->goals,
            .goal_count = 1,
            .begins = building->begins,
            .begin_count = 1};
    building->start.areas[0] = (struct site_start){.set = true, .mode = SITE_MODE_FULL};
}

bool crossed_draw(uint64_t seed, struct arena *arena, struct building *ret_building,
        struct crossed_answer *ret_expected) {
    uint64_t state = seed * 0x9E3779B97F4A7C15ULL + 1;
    struct chain chain;
    memset(ret_building, 0, sizeof *ret_building);
    memset(&chain, 0, sizeof chain);
    for (int i = 0; i < 4; i++) {
        (void)random_next(&state);
    }
    const bool one_way = draw_chain(&state, &chain);
    if (!set_site(arena, &ret_building->site, &state, &chain)) {
        return false;
    }
    set_graph(&chain, ret_building);
    *ret_expected = (struct crossed_answer){.late_s = INT32_MIN};
    go_on(&chain, (struct walker){.lone = NOBODY, .heard_s = UNHEARD}, ret_expected);
    ret_expected->one_way = one_way;
    return building_program(ret_building);
}
