#include "building.h"

#include "support/random_site.h"

#include <stdio.h>
#include <string.h>

struct draft {
    uint64_t state;
    struct arena *arena;
    struct building *building;
};

static int32_t draw(struct draft *draft, int32_t low, int32_t high) {
    return low + (int32_t)(random_next(&draft->state) % ((uint64_t)(high - low) + 1));
}

static bool chance(struct draft *draft, int32_t percent) {
    return draw(draft, 0, 99) < percent;
}

static void set_panel(struct draft *draft) {
    struct site *site = &draft->building->site;
    struct site_settings *settings = &site->settings;
    *settings = site_settings_usual();
    settings->modes[SITE_MODE_FULL].exit_delay_s = draw(draft, 1, 8);
    settings->modes[SITE_MODE_PART].exit_delay_s = draw(draft, 0, 5);
    settings->delay_count = 2;
    settings->delays[0] =
            (struct site_delay){.name = text_of("long"), .seconds_s = draw(draft, 2, 9)};
    settings->delays[1] =
            (struct site_delay){.name = text_of("short"), .seconds_s = draw(draft, 0, 5)};
    settings->abort_window_s = chance(draft, 25) ? 0 : draw(draft, 1, 6);
    settings->recent_closing_s = 0;
    settings->siren_time_s = draw(draft, 2, 8);
    settings->siren_hold_back_s = chance(draft, 15) ? draw(draft, 1, 4) : 0;
    settings->swinger_limit = chance(draft, 40) ? draw(draft, 1, 2) : 0;
    settings->swinger_reset_s = draw(draft, 8, 14);
    settings->cross_window_s = draw(draft, 1, 7);
    settings->confirm_window_s = chance(draft, 20) ? draw(draft, 2, 6) : 0;
    settings->tolerance_tenths = chance(draft, 60) ? 1 : 0;
    settings->exit_restart = chance(draft, 50);
    settings->drop_to_part = chance(draft, 40);
    settings->motion_blocks = false;
    settings->entry_open_allowed = true;
    settings->same_cross_counts = chance(draft, 30);
    settings->lone_cross_signal = chance(draft, 20);
    settings->off_route = chance(draft, 75) ? SITE_OFF_ROUTE_NOW : SITE_OFF_ROUTE_EN;
    settings->second_entry = chance(draft, 50) ? SITE_SECOND_SHORTEN : SITE_SECOND_KEEP;
    settings->exit_trip = chance(draft, 75) ? SITE_EXIT_TRIP_ALARM : SITE_EXIT_TRIP_STALLS;
}

static enum site_behaviour draw_behaviour(struct draft *draft, bool contact) {
    static const enum site_behaviour of_contacts[] = {
            SITE_ENTRY, SITE_ENTRY, SITE_PERIMETER, SITE_FOLLOWER, SITE_INTERIOR, SITE_ALWAYS};
    static const enum site_behaviour of_motion[] = {
            SITE_FOLLOWER, SITE_FOLLOWER, SITE_INTERIOR, SITE_PERIMETER, SITE_ENTRY, SITE_DAY};
    return contact ? of_contacts[draw(draft, 0, 5)] : of_motion[draw(draft, 0, 5)];
}

static void set_zone(struct draft *draft, size_t i) {
    struct site *site = &draft->building->site;
    const bool contact = i < 3;
    site->device_profiles[i] = (struct site_device_profile){.name = text_of("device"),
            .sense = contact ? SITE_CONTACT : SITE_MOTION,
            .hold = span_of(0, contact ? 0 : draw(draft, 0, 3)),
            .sleep = span_of(0, contact || chance(draft, 50) ? 0 : draw(draft, 2, 7)),
            .latency = span_of(0, chance(draft, 25) ? draw(draft, 1, 2) : 0)};
    site->devices[i] = (struct site_device){
            .name = text_of("device"), .profile = (int)i, .door = SITE_NONE, .keypad = SITE_NONE};
    struct site_zone *zone = &site->zones[i];
    *zone = (struct site_zone){.number = (int32_t)i + 1,
            .name = text_of("zone"),
            .device = (int)i,
            .door = SITE_NONE,
            .area = draw(draft, 0, (int32_t)site->area_count - 1),
            .behaviour = draw_behaviour(draft, contact),
            .reports = !chance(draft, 12),
            .bypassable = true,
            .swinger = chance(draft, 70),
            .pulse_count = !contact && chance(draft, 25) ? draw(draft, 2, 3) : 1,
            .pulse_window_s = draw(draft, 2, 8),
            .cross_with = SITE_NONE};
    const int delay = zone->behaviour == SITE_ENTRY ? draw(draft, 0, 1) : SITE_NONE;
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        zone->in[mode] = site_usual_in(zone->behaviour, mode);
        zone->delay[mode] = delay;
    }
    if (zone->behaviour == SITE_FOLLOWER) {
        zone->follows = chance(draft, 60) ? 0U : 1U;
        zone->hold_s = chance(draft, 50) ? draw(draft, 1, 4) : 0;
    }
}

static bool set_site(struct draft *draft) {
    struct site *site = &draft->building->site;
    site->name = text_of("random building");
    site->areas = ARENA_ARRAY(draft->arena, struct site_area, 2);
    site->zones = ARENA_ARRAY(draft->arena, struct site_zone, BUILDING_ZONES);
    site->devices = ARENA_ARRAY(draft->arena, struct site_device, BUILDING_ZONES);
    site->device_profiles = ARENA_ARRAY(draft->arena, struct site_device_profile, BUILDING_ZONES);
    if (site->areas == NULL || site->zones == NULL || site->devices == NULL ||
            site->device_profiles == NULL) {
        return false;
    }
    site->area_count = chance(draft, 25) ? 2 : 1;
    site->areas[0].name = text_of("house");
    site->areas[1].name = text_of("shop");
    site->zone_count = (size_t)draw(draft, 2, BUILDING_ZONES);
    site->device_count = site->zone_count;
    site->device_profile_count = site->zone_count;
    set_panel(draft);
    for (size_t i = 0; i < site->zone_count; i++) {
        set_zone(draft, i);
    }
    if (chance(draft, 45)) {
        const int a = draw(draft, 0, (int32_t)site->zone_count - 1);
        const int b = draw(draft, 0, (int32_t)site->zone_count - 1);
        if (a != b) {
            site->zones[a].cross_with = b;
            site->zones[b].cross_with = a;
            site->zones[b].area = site->zones[a].area;
        }
    }
    return true;
}

/* Contacts are opened, motion detectors trip. */
static void draw_trips(struct draft *draft, int32_t percent, struct panel_zones *opens,
        struct panel_zones *trips) {
    const struct site *site = &draft->building->site;
    for (unsigned zone = 0; zone < site->zone_count; zone++) {
        if (chance(draft, percent)) {
            if (zone >= 3) {
                panel_zones_add(trips, zone);
            } else if (opens != NULL) {
                panel_zones_add(opens, zone);
            }
        }
    }
}

static void set_graph(struct draft *draft) {
    struct building *building = draft->building;
    const int places = draw(draft, 2, 5);
    size_t portals = 0;
    size_t moves = 0;
    /* A spanning tree, so that most goals can be reached, then a few more. */
    for (int place = 1; place < places; place++) {
        struct breakin_portal portal = {.name = text_of("opening"),
                .from = draw(draft, 0, place - 1),
                .to = place,
                .force_s = chance(draft, 40) ? draw(draft, 1, 6) : 0,
                .cross_s = draw(draft, 0, 2)};
        draw_trips(draft, 35, &portal.opens, &portal.trips);
        building->portals[portals++] = portal;
        if (chance(draft, 60)) {
            const int from = portal.from;
            portal.from = portal.to;
            portal.to = from;
            portal.force_s = 0;
            building->portals[portals++] = portal;
        }
    }
    for (int32_t more = draw(draft, 0, 4); more > 0; more--) {
        struct breakin_move move = {.from = draw(draft, 0, places - 1),
                .to = draw(draft, 0, places - 1),
                .least_s = draw(draft, 0, 4)};
        draw_trips(draft, 30, NULL, &move.trips);
        building->moves[moves++] = move;
    }
    const size_t goals = (size_t)draw(draft, 1, 2);
    for (size_t i = 0; i < goals; i++) {
        building->goals[i] = (struct breakin_goal){.name = text_of("thing"),
                .place = draw(draft, 1, places - 1),
                .takes_s = draw(draft, 0, 3)};
    }
    building->graph = (struct breakin_graph){.places = building->places,
            .place_count = (size_t)places,
            .portals = building->portals,
            .portal_count = portals,
            .moves = building->moves,
            .move_count = moves,
            .goals = building->goals,
            .goal_count = goals,
            .begins = building->begins,
            .begin_count = 1};
}

static void set_start(struct draft *draft) {
    struct building *building = draft->building;
    struct breakin_start *start = &building->start;
    for (size_t area = 0; area < building->site.area_count; area++) {
        start->areas[area].set = !chance(draft, 10);
        start->areas[area].mode = chance(draft, 25) ? SITE_MODE_PART : SITE_MODE_FULL;
    }
    if (chance(draft, 25)) {
        const int area = draw(draft, 0, (int32_t)building->site.area_count - 1);
        start->areas[area].set = false;
        start->exiting = (uint8_t)(1U << area);
        start->exit_mode = SITE_MODE_FULL;
    }
    for (unsigned zone = 3; zone < building->site.zone_count; zone++) {
        if (chance(draft, 20)) {
            panel_zones_add(&start->asleep, zone);
        }
    }
    building->options.heard_by = chance(draft, 80) ? BREAKIN_BY_SIGNAL : BREAKIN_BY_SIREN;
    building->options.response_s = chance(draft, 30) ? draw(draft, 1, 8) : 0;
}

bool building_program(struct building *building) {
    struct problem problem = {0};
    if (!panel_program_of_site(&building->site, NULL, &building->program, &problem).good) {
        printf("# %s\n", problem.text);
        return false;
    }
    return true;
}

bool building_draw(uint64_t seed, struct arena *arena, struct building *ret_building) {
    memset(ret_building, 0, sizeof *ret_building);
    struct draft draft = {
            .state = seed * 0x9E3779B97F4A7C15ULL + 1, .arena = arena, .building = ret_building};
    for (int i = 0; i < 4; i++) {
        (void)random_next(&draft.state);
    }
    if (!set_site(&draft)) {
        return false;
    }
    set_graph(&draft);
    set_start(&draft);
    return building_program(ret_building);
}

static void print_zones(const char *what, const struct panel_zones *zones) {
    for (unsigned zone = 0; zone < BUILDING_ZONES; zone++) {
        if (panel_zones_has(zones, zone)) {
            printf(" %s %u", what, zone + 1);
        }
    }
}

void building_print(const struct building *building) {
    const struct site_settings *s = &building->site.settings;
    printf("#   delays %d %d, abort %d, siren %d (held back %d), swinger %d (%d), cross %d (same "
           "%d, signal %d), "
           "confirm %d, tolerance %d, restart %d, drop %d, off-route %d, second %d, exit trip %d, "
           "exit %d %d\n",
            s->delays[0].seconds_s, s->delays[1].seconds_s, s->abort_window_s, s->siren_time_s,
            s->siren_hold_back_s, s->swinger_limit, s->swinger_reset_s, s->cross_window_s,
            s->same_cross_counts, s->lone_cross_signal, s->confirm_window_s, s->tolerance_tenths,
            s->exit_restart, s->drop_to_part, s->off_route, s->second_entry, s->exit_trip,
            s->modes[0].exit_delay_s, s->modes[1].exit_delay_s);
    for (size_t i = 0; i < building->site.zone_count; i++) {
        const struct site_zone *zone = &building->site.zones[i];
        const struct site_device_profile *profile = &building->site.device_profiles[i];
        printf("#   zone %zu: %s (part %s) delay %d area %d follows %u hold %d pulses %d in %d "
               "cross %d "
               "reports %d swinger %d; holds %d sleeps %d latency %d\n",
                i + 1, site_behaviour_name(zone->behaviour),
                site_behaviour_name(zone->in[SITE_MODE_PART]), zone->delay[0], zone->area,
                zone->follows, zone->hold_s, zone->pulse_count, zone->pulse_window_s,
                zone->cross_with + 1, zone->reports, zone->swinger, profile->hold.high_s,
                profile->sleep.high_s, profile->latency.high_s);
    }
    for (size_t i = 0; i < building->graph.portal_count; i++) {
        const struct breakin_portal *portal = &building->portals[i];
        printf("#   portal %zu: %d -> %d force %d cross %d", i, portal->from, portal->to,
                portal->force_s, portal->cross_s);
        print_zones("opens", &portal->opens);
        print_zones("trips", &portal->trips);
        printf("\n");
    }
    for (size_t i = 0; i < building->graph.move_count; i++) {
        const struct breakin_move *move = &building->moves[i];
        printf("#   move %zu: %d -> %d in %d", i, move->from, move->to, move->least_s);
        print_zones("trips", &move->trips);
        printf("\n");
    }
    for (size_t i = 0; i < building->graph.goal_count; i++) {
        printf("#   goal %zu at %d takes %d\n", i, building->goals[i].place,
                building->goals[i].takes_s);
    }
    printf("#   start: areas");
    for (size_t area = 0; area < building->site.area_count; area++) {
        printf(" %d/%d", building->start.areas[area].set, building->start.areas[area].mode);
    }
    printf(" exiting %u;", building->start.exiting);
    print_zones("asleep", &building->start.asleep);
    printf(" heard by %d response %d\n", building->options.heard_by, building->options.response_s);
}
