/* The building as it is written: read, written again, and what cannot be meant. */
#include "document/test_document.h"

static void read_cottage(struct document *document, struct test_pages *pages) {
    struct problem problem = {0};
    *pages = (struct test_pages){.left = -1};
    document_init(document, test_pages(pages));
    const bool good =
            document_read_file(document, test_fixture("cottage.yaml"), NULL, &problem).good;
    test_print_problems(document);
    assert_true(good);
}

static void assert_point(struct site_point point, int32_t x_mm, int32_t y_mm) {
    assert_int_equal(point.x_mm, x_mm);
    assert_int_equal(point.y_mm, y_mm);
}

static void storeys_and_rooms(void **state) {
    (void)state;
    struct document document;
    struct test_pages pages;
    read_cottage(&document, &pages);
    const struct site_building *building = &document.site.building;
    assert_true(building->said);
    assert_int_equal(building->storey_count, 2);
    assert_int_equal(building->storeys[0].ceiling_mm, 2500);
    assert_int_equal(building->storeys[1].floor_mm, 2800); /* 2.5 m and the slab of 300 mm */
    assert_int_equal(building->inner_mm, 100);
    assert_true(text_is(building->materials.rows[building->outer].name, "block"));
    assert_true(text_is(building->materials.rows[building->inner].name, "stud"));
    assert_int_equal(building->room_count, 6);
    const struct site_room *rooms = building->rooms;
    assert_point(rooms[0].size, 1800, 6000);
    assert_int_equal(rooms[1].right_of, 0);
    assert_int_equal(rooms[1].outline_count, 6);
    assert_point(rooms[1].outline[3], 3000, 2000);
    assert_int_equal(rooms[1].shift_mm, 500);
    assert_int_equal(rooms[2].kind, SITE_YARD);
    assert_int_equal(rooms[2].shift_mm, -1500);
    assert_int_equal(rooms[2].climb.high_s, 10);
    assert_int_equal(rooms[3].storey, 1);
    assert_point(rooms[3].at, -500, -2500);
    assert_int_equal(rooms[3].from, 2);
    assert_int_equal(rooms[4].storey, 1); /* above the hall */
    assert_int_equal(rooms[5].storey, 1);
    assert_point(rooms[5].size, 4191, 3048); /* 13 ft 9 in by 10 ft */
    assert_int_equal(rooms[5].party, 1 << SITE_SIDE_RIGHT | 1 << SITE_SIDE_BACK);
    document_finish(&document);
    assert_int_equal(pages.out, 0);
}

static void what_is_in_them(void **state) {
    (void)state;
    struct document document;
    struct test_pages pages;
    read_cottage(&document, &pages);
    const struct site_building *building = &document.site.building;
    const struct site_opening *openings = building->openings;
    assert_true(text_is(openings[0].name, "front door"));
    assert_int_equal(openings[0].wall, SITE_SIDE_FRONT);
    assert_int_equal(site_opening_width_mm(&openings[0]), 900);
    assert_int_equal(openings[1].to, 1);
    assert_true(openings[1].from_left_said);
    assert_true(text_is(openings[2].name, "bedroom front window"));
    assert_int_equal(site_opening_sill_mm(&openings[2]), 0);
    assert_int_equal(site_opening_height_mm(&openings[2]), 1200);
    assert_int_equal(openings[2].reach, SITE_REACH_NO);
    assert_int_equal(openings[1].reach, SITE_REACH_UNSAID);
    assert_true(building->materials.rows[openings[2].material].glass);
    assert_int_equal(openings[3].kind, SITE_OPENING_ROOF_LIGHT);
    assert_true(text_is(building->stairs[0].name, "stairs hall to landing"));
    assert_int_equal(building->stairs[0].up, SITE_SIDE_BACK);
    assert_int_equal(building->furniture[0].height_mm, 2000);
    assert_int_equal(building->places[0].keypad, 0);
    assert_int_equal(building->places[0].device, SITE_NONE);
    assert_int_equal(building->places[0].wall, SITE_SIDE_LEFT);
    assert_int_equal(building->places[1].corner, SITE_CORNER_BACK_RIGHT);
    assert_int_equal(building->places[1].faces, SITE_FACES_FRONT_LEFT);
    assert_int_equal(building->places[2].fixture, SITE_FIXTURE_PANEL);
    assert_true(text_is(building->places[3].protects, "jewels"));
    assert_point(building->places[3].towards, 2000, 2000);
    document_finish(&document);
    assert_int_equal(pages.out, 0);
}

static struct text json_of(struct document *document) {
    struct text_builder builder;
    struct json_writer json;
    text_builder_init(&builder, &document->arena);
    json_init(&json, &builder);
    document_write_json(document, NULL, &json);
    return text_built(&builder);
}

/* JSON is a site file: read again it is the same building, value by value. */
static void written_again(void **state) {
    (void)state;
    struct document first;
    struct document second;
    struct test_pages pages;
    struct test_pages more = {.left = -1};
    struct problem problem = {0};
    read_cottage(&first, &pages);
    document_init(&second, test_pages(&more));
    const struct text json = json_of(&first);
    const bool good =
            document_read_text(&second, "json", test_fixture("."), json, NULL, &problem).good;
    test_print_problems(&second);
    assert_true(good);
    const struct site_building *a = &first.site.building;
    const struct site_building *b = &second.site.building;
    assert_int_equal(a->room_count, b->room_count);
    for (size_t i = 0; i < a->room_count; i++) {
        struct site_room room = b->rooms[i];
        assert_int_equal(room.outline_count, a->rooms[i].outline_count);
        assert_true(text_equal(room.name, a->rooms[i].name));
        room.name = a->rooms[i].name;
        room.outline = a->rooms[i].outline;
        assert_memory_equal(&room, &a->rooms[i], sizeof room);
    }
    for (size_t i = 0; i < a->opening_count; i++) {
        struct site_opening opening = b->openings[i];
        assert_true(text_equal(opening.name, a->openings[i].name));
        opening.name = a->openings[i].name;
        assert_memory_equal(&opening, &a->openings[i], sizeof opening);
    }
    for (size_t i = 0; i < a->place_count; i++) {
        struct site_place place = b->places[i];
        assert_true(text_equal(place.protects, a->places[i].protects));
        place.protects = a->places[i].protects;
        assert_memory_equal(&place, &a->places[i], sizeof place);
    }
    const struct text again = json_of(&second);
    assert_int_equal(again.length, json.length);
    assert_memory_equal(again.start, json.start, json.length);
    document_finish(&first);
    document_finish(&second);
    assert_int_equal(pages.out + more.out, 0);
}

#define TOP "site: {name: a}\npanel: {profile: halyard-28}\nareas: [{name: b}]\nbuilding:\n"
#define ROOMS TOP "  rooms: [{name: hall, size: 2 x 3 m}]\n"

static void what_cannot_be_meant(void **state) {
    (void)state;
    static const struct {
        const char *text;
        const char *told;
    } slips[] = {
            {TOP "  rooms: []\n", "an empty list"},
            {TOP "  {}\n", "the key \"rooms\" is missing"},
            {TOP "  rooms: [{name: hall}]\n", "how large is this room?"},
            {TOP "  rooms: [{name: hall, size: 2 x 3}]\n",
                    "\"2 x 3\" has no unit; write mm, cm or m, for example 2 x 3 m"},
            {TOP "  rooms: [{name: hall, size: 4.2x3.6}]\n", "for example 4.2 x 3.6 m"},
            {TOP "  rooms: [{name: hall, size: 1800 x 600}]\n", "for example 1800 x 600 mm"},
            {TOP "  rooms: [{name: hall, size: 180 cm x 6}]\n",
                    "has no unit at its end; write for example 180 cm x 6 cm"},
            {TOP "  rooms: [{name: hall, size: 0 x 3 m}]\n", "0 mm is out of range"},
            {TOP "  rooms: [{name: hall, size: 2 m}]\n", "is not two lengths"},
            {TOP "  rooms: [{name: hall, outline: [0 x 0 m, 1 x 0 m]}]\n", "2 corners; expected 3"},
            {TOP "  rooms: [{name: hall, size: 2 x 3 m}, {name: shop, size: 2 x 3 m}]\n",
                    "f:5:40: building.rooms[1]: where does this room stand?"},
            {TOP "  rooms: [{name: hall, size: 2 x 3 m}, {name: hall, size: 2 x 3 m, behind: "
                 "hall}]\n",
                    "is used already in line 5"},
            {TOP "  rooms: [{name: a, size: 2 x 3 m, behind: c}, {name: c, size: 2 x 3 m, at: 0 x "
                 "0 m}]\n",
                    "stands further down in the list"},
            {TOP "  rooms: [{name: a, size: 2 x 3 m, at: 0 x 0 m, behind: a}]\n", "placed once"},
            {TOP "  rooms: [{name: a, size: 2 x 3 m}, {name: c, above: a}]\n",
                    "there is no storey above that room"},
            {TOP "  storeys: [{name: g}, {name: u}]\n"
                 "  rooms: [{name: a, size: 2 x 3 m}, {name: c, above: a, storey: g}]\n",
                    "not the storey that above says"},
            {ROOMS "  openings: [{is: window, room: hall}]\n", "in which wall?"},
            {ROOMS "  openings: [{is: window, room: hall, to: hall}]\n", "another room"},
            {ROOMS "  openings: [{is: window, room: shop, wall: left}]\n", "there is no room"},
            {ROOMS "  openings: [{room: hall, wall: top}]\n", "front, right, back or left"},
            {ROOMS "  openings: [{room: hall, wall: left, of: butter}]\n", "there is no material"},
            {ROOMS "  places: [{room: hall}]\n", "exactly one of device"},
            {ROOMS "  places: [{room: hall, is: panel, protects: till}]\n",
                    "exactly one of device"},
            {ROOMS "  places: [{room: hall, is: panel, corner: back left, wall: left}]\n",
                    "at, corner or wall"},
            {ROOMS "  materials: no-such\n", "there is no table of materials"},
    };
    for (size_t i = 0; i < sizeof slips / sizeof slips[0]; i++) {
        struct test_pages pages = {.left = -1};
        struct document document;
        struct problem problem = {0};
        document_init(&document, test_pages(&pages));
        const bool good = document_read_text(
                &document, "f", test_fixture("."), text_of(slips[i].text), NULL, &problem)
                                  .good;
        if (good || !test_told(&document, slips[i].told)) {
            print_message("# wanted: %s\n", slips[i].told);
            test_print_problems(&document);
        }
        assert_false(good);
        assert_true(test_told(&document, slips[i].told));
        document_finish(&document);
        assert_int_equal(pages.out, 0);
    }
}

/* Every allocation refused in turn: a problem or the building, and nothing kept. */
static void memory_may_be_refused(void **state) {
    (void)state;
    bool good = false;
    for (long left = 0; !good; left++) {
        struct test_pages pages = {.left = left};
        struct document document;
        struct problem problem = {0};
        document_init(&document, test_pages(&pages));
        good = document_read_file(&document, test_fixture("cottage.yaml"), NULL, &problem).good;
        assert_true(good || problem.kind != PROBLEM_NONE);
        document_finish(&document);
        assert_int_equal(pages.out, 0);
        assert_true(left < 1000);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(storeys_and_rooms),
            cmocka_unit_test(what_is_in_them),
            cmocka_unit_test(written_again),
            cmocka_unit_test(what_cannot_be_meant),
            cmocka_unit_test(memory_may_be_refused),
    };
    return cmocka_run_group_tests_name("building", tests, NULL, NULL);
}
