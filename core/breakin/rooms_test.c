/* The graph out of rooms and openings, and which detectors to add, on a small shop whose answers are plain. */
#include "breakin/additions.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

enum { DOOR, WINDOW_CONTACT, WINDOW_SHOCK, SHOP_GLASS, SHOP_MOTION, ZONES };
enum { SHOP, STORE, ROOMS };
enum { SHOP_DOOR, STORE_WINDOW, DOORWAY, OPENINGS };

/* A shop behind a door (perimeter), a store behind a window of glass, a doorway between; the safe is in the store. */
struct corner {
    struct site site;
    struct site_area area;
    struct site_door doors[2];
    struct site_zone zones[ZONES];
    struct site_device devices[ZONES];
    struct site_device_profile profiles[ZONES];
    struct site_break_in_room rooms[ROOMS];
    struct site_break_in_opening openings[OPENINGS];
    struct site_break_in_notice notices[3];
    struct site_break_in_goal goal;
    struct site_break_in_start start;
    struct arena arena;
};

static void *get(void *context, size_t size) {
    (void)context;
    return malloc(size);
}

static void give(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

static struct pages heap(void) {
    return (struct pages){.get = get, .give = give};
}

static void add_zone(struct corner *it, int zone, enum site_sense sense, int door) {
    it->profiles[zone] = (struct site_device_profile){.sense = sense};
    it->devices[zone] = (struct site_device){
            .profile = zone, .door = door, .keypad = SITE_NONE, .person = SITE_NONE};
    it->zones[zone] = (struct site_zone){.number = zone + 1,
            .device = zone,
            .door = SITE_NONE,
            .behaviour = SITE_PERIMETER,
            .reports = true,
            .pulse_count = 1,
            .cross_with = SITE_NONE};
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        it->zones[zone].in[mode] = SITE_PERIMETER;
        it->zones[zone].delay[mode] = SITE_NONE;
    }
}

static struct corner *build(void) {
    struct corner *it = calloc(1, sizeof *it);
    arena_init(&it->arena, heap(), 0);
    it->site = (struct site){.areas = &it->area,
            .area_count = 1,
            .doors = it->doors,
            .door_count = 2,
            .zones = it->zones,
            .zone_count = ZONES,
            .devices = it->devices,
            .device_count = ZONES,
            .device_profiles = it->profiles,
            .device_profile_count = ZONES,
            .settings = site_settings_usual()};
    it->site.settings.abort_window_s = 20; /* up to 22 s */
    it->site.settings.tolerance_tenths = 1;
    add_zone(it, DOOR, SITE_CONTACT, 0);
    add_zone(it, WINDOW_CONTACT, SITE_CONTACT, 1);
    add_zone(it, WINDOW_SHOCK, SITE_SHOCK, 1);
    add_zone(it, SHOP_GLASS, SITE_GLASS, SITE_NONE);
    add_zone(it, SHOP_MOTION, SITE_MOTION, SITE_NONE);
    it->rooms[SHOP] = (struct site_break_in_room){.name = text_of("shop"), .across_s = 3};
    it->rooms[STORE] = (struct site_break_in_room){.name = text_of("store"), .across_s = 2};
    it->openings[SHOP_DOOR] = (struct site_break_in_opening){.name = text_of("shop door"),
            .door = 0,
            .from = SITE_NONE,
            .to = SHOP,
            .material = SITE_NONE,
            .force_s = 30,
            .cross_s = 1};
    it->openings[STORE_WINDOW] = (struct site_break_in_opening){.name = text_of("store window"),
            .door = 1,
            .from = SITE_NONE,
            .to = STORE,
            .material = SITE_NONE,
            .force_s = 5,
            .pane = true,
            .cross_s = 2};
    it->openings[DOORWAY] = (struct site_break_in_opening){.name = text_of("doorway"),
            .door = SITE_NONE,
            .from = STORE,
            .to = SHOP,
            .material = SITE_NONE,
            .cross_s = 1};
    it->notices[0] =
            (struct site_break_in_notice){.zone = SHOP_MOTION, .room = SHOP, .opening = SITE_NONE};
    it->notices[1] =
            (struct site_break_in_notice){.zone = SHOP_GLASS, .room = STORE, .opening = SITE_NONE};
    it->goal = (struct site_break_in_goal){
            .name = text_of("safe"), .room = STORE, .reach_s = 2, .takes_s = 60};
    it->start.areas[0] = (struct site_start){.set = true, .mode = SITE_MODE_FULL};
    it->site.break_ins = (struct site_break_ins){.said = true,
            .rooms = it->rooms,
            .room_count = ROOMS,
            .openings = it->openings,
            .opening_count = OPENINGS,
            .notices = it->notices,
            .notice_count = 2,
            .goals = &it->goal,
            .goal_count = 1,
            .starts = &it->start,
            .start_count = 1};
    return it;
}

static void pull_down(struct corner *it) {
    arena_finish(&it->arena);
    free(it);
}

static struct rooms graph_of(struct corner *it) {
    struct rooms rooms = {0};
    struct problem problem = {0};
    assert_true(rooms_graph(&it->site, &it->arena, &rooms, &problem).good);
    return rooms;
}

/* The inward portal of an opening: its pane broken, or forced open. */
static const struct breakin_portal *inward(const struct rooms *rooms, int opening, bool pane) {
    for (size_t i = 0; i < rooms->graph.portal_count; i++) {
        const struct breakin_portal *portal = &rooms->graph.portals[i];
        if (rooms->opening[i] == opening && rooms->room[portal->to] != SITE_NONE &&
                text_is(portal->how, "breaks the pane") == pane) {
            return portal;
        }
    }
    return NULL;
}

static void who_notices_what(void **state) {
    (void)state;
    struct corner *it = build();
    const struct rooms rooms = graph_of(it);
    const struct breakin_portal *forced = inward(&rooms, STORE_WINDOW, false);
    const struct breakin_portal *broken = inward(&rooms, STORE_WINDOW, true);
    assert_true(panel_zones_has(&forced->opens, WINDOW_CONTACT));
    assert_true(panel_zones_has(&forced->trips, WINDOW_SHOCK));
    assert_false(panel_zones_has(&forced->trips, SHOP_GLASS));
    assert_false(panel_zones_has(&broken->opens, WINDOW_CONTACT)); /* the leaf stays shut */
    assert_true(panel_zones_has(&broken->trips, WINDOW_SHOCK));
    assert_true(panel_zones_has(&broken->trips, SHOP_GLASS));
    const struct breakin_portal *door = inward(&rooms, SHOP_DOOR, false);
    assert_int_equal(door->force_s, 30);
    assert_true(panel_zones_has(&door->opens, DOOR));
    assert_true(panel_zones_has(&door->trips, SHOP_MOTION)); /* sees whoever comes in */
    assert_null(inward(&rooms, SHOP_DOOR, true));
    for (size_t i = 0; i < rooms.graph.move_count; i++) {
        const struct breakin_move *move = &rooms.graph.moves[i];
        assert_int_equal(
                rooms.room[move->from] == SHOP, panel_zones_has(&move->trips, SHOP_MOTION));
    }
    pull_down(it);
}

static void hidden_begin_inside(void **state) {
    (void)state;
    struct corner *it = build();
    assert_int_equal(graph_of(it).graph.begin_count, 1);
    it->rooms[STORE].hides = true;
    const struct rooms rooms = graph_of(it);
    assert_int_equal(rooms.graph.begin_count, 2);
    assert_int_equal(rooms.room[rooms.graph.begins[1]], STORE);
    pull_down(it);
}

static void walks_are_taken(void **state) {
    (void)state;
    struct corner *it = build();
    struct site_break_in_walk walk = {
            .from = STORE_WINDOW, .to = SITE_NONE, .reaches = 0, .takes_s = 9};
    it->site.break_ins.walks = &walk;
    it->site.break_ins.walk_count = 1;
    const struct rooms rooms = graph_of(it);
    size_t nine = 0;
    for (size_t i = 0; i < rooms.graph.move_count; i++) {
        nine += rooms.graph.moves[i].least_s == 9;
    }
    assert_int_equal(nine, 1);
    pull_down(it);
}

static bool find_fewest(struct corner *it, bool at_all, struct additions *ret_found) {
    struct problem problem = {0};
    const struct additions_wish wish = {
            .site = &it->site, .at_all = at_all, .options = rooms_options(&it->site)};
    return additions_find(&wish, heap(), &it->arena, ret_found, &problem).good;
}

/* Without shock and glass detectors the pane breaks unheard: a detector in the store is enough; where people go about
 * there it has to be one on the window. */
static void fewest_detectors(void **state) {
    (void)state;
    struct corner *it = build();
    struct additions found = {0};
    it->notices[1].room = SHOP;
    it->devices[WINDOW_SHOCK].door = SITE_NONE;
    assert_true(find_fewest(it, false, &found));
    assert_int_equal(found.count, 1);
    assert_false(found.list[0].opening);
    assert_int_equal(found.list[0].index, STORE);
    assert_true(found.spare_s > 0);
    it->notices[2] =
            (struct site_break_in_notice){.zone = SHOP_GLASS, .room = STORE, .opening = SITE_NONE};
    it->zones[SHOP_GLASS].behaviour = SITE_FOLLOWER;
    it->site.break_ins.notice_count = 3;
    it->zones[SHOP_GLASS].in[SITE_MODE_FULL] = SITE_OUT;
    assert_true(find_fewest(it, false, &found));
    assert_int_equal(found.count, 1);
    assert_true(found.list[0].opening);
    assert_int_equal(found.list[0].index, STORE_WINDOW);
    it->goal.takes_s = 0; /* whatever notices him is too late ... */
    assert_true(find_fewest(it, false, &found));
    assert_int_equal(found.count, 0);
    assert_true(find_fewest(it, true, &found));
    assert_int_equal(found.count, 1); /* ... but it is heard */
    assert_true(found.spare_s <= 0);
    pull_down(it);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(who_notices_what),
            cmocka_unit_test(hidden_begin_inside),
            cmocka_unit_test(walks_are_taken),
            cmocka_unit_test(fewest_detectors),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
