/* Where somebody listens for the siren of a small house. */
#include "acceptance/listening.h"

#include "check/test_site.h"

static struct test_site house;

/* Rooms of which some are slept in, by name or by what stands there. */
enum { HALL, BIG, ATTIC, FLOWERS, EMBEDDED, ROOM_COUNT };
static struct site_room rooms[ROOM_COUNT];
static struct site_furniture furniture[] = {
        {.name = {.start = "Bunk bed", .length = 8}, .room = ATTIC},
        {.name = {.start = "bedspread rack", .length = 14}, .room = HALL},
        {.name = {.start = "bed", .length = 3}, .room = FLOWERS},
};
static struct site_place hangs[1];

static void with_rooms_and_a_siren(void) {
    test_site_fill(&house, SITE_WORDS_UK);
    static const char *const names[] = {
            "hall", "Big Bedroom", "attic", "flower bed", "embedded room"};
    for (size_t i = 0; i < ROOM_COUNT; i++) {
        rooms[i] = (struct site_room){.name = text_of(names[i]),
                .kind = i == FLOWERS ? SITE_YARD : SITE_ROOM,
                .right_of = SITE_NONE,
                .left_of = SITE_NONE,
                .behind = SITE_NONE,
                .in_front_of = SITE_NONE,
                .above = SITE_NONE};
    }
    house.profiles[2].kind = SITE_SIREN;
    house.devices[TILL_ZONE].name = text_of("yard horn");
}

static void the_siren_is_listened_for_where_people_sleep(void **state) {
    (void)state;
    struct acceptance_ear ears[ROOM_COUNT + ZONE_COUNT + 1];
    with_rooms_and_a_siren();
    house.site.building.rooms = rooms;
    house.site.building.room_count = ROOM_COUNT;
    house.site.building.furniture = furniture;
    house.site.building.furniture_count = sizeof furniture / sizeof furniture[0];
    assert_int_equal(acceptance_listening_most(&house.site), ROOM_COUNT + ZONE_COUNT + 1);
    assert_int_equal(acceptance_listening(&house.site, ears), 2);
    assert_int_equal(ears[0].room, BIG);
    assert_int_equal(ears[1].room, ATTIC);
    assert_int_equal(ears[0].siren, SITE_NONE);
    /* without beds: where the siren hangs, where that is drawn; the panel's own last */
    house.site.building.furniture_count = 0;
    rooms[BIG].name = text_of("salon");
    hangs[0] = (struct site_place){.device = TILL_ZONE, .room = FLOWERS};
    house.site.building.places = hangs;
    house.site.building.place_count = 1;
    house.site.panel.built_in = SITE_BUILT_IN_SIREN;
    assert_int_equal(acceptance_listening(&house.site, ears), 2);
    assert_int_equal(ears[0].room, FLOWERS);
    assert_int_equal(ears[0].siren, TILL_ZONE);
    assert_int_equal(ears[1].room, SITE_NONE);
    assert_int_equal(ears[1].siren, SITE_NONE);
    hangs[0] =
            (struct site_place){.device = SITE_NONE, .fixture = SITE_FIXTURE_PANEL, .room = HALL};
    assert_int_equal(acceptance_listening(&house.site, ears), 2);
    assert_int_equal(ears[0].room, SITE_NONE);
    assert_int_equal(ears[1].room, HALL);
    /* nothing that sounds */
    house.site.panel.built_in = 0;
    house.profiles[2].kind = SITE_SENSOR;
    assert_int_equal(acceptance_listening(&house.site, ears), 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(the_siren_is_listened_for_where_people_sleep),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
