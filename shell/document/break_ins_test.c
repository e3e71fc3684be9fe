/* Break-ins as they are written: read, written again, and what cannot be meant. */
#include "document/test_document.h"

#define DRAWN                                                                                      \
    "site: {name: Shop}\npanel: {profile: halyard-28}\nareas: [{name: house}]\n"                   \
    "building: {rooms: [{name: hall, size: 2 x 3 m}]}\n"
#define TOP                                                                                        \
    "site: {name: Shop, invented: yes}\n"                                                          \
    "panel: {profile: halyard-28, entry-delays: {front: 30 s}}\n"                                  \
    "areas: [{name: house}]\n"                                                                     \
    "doors: [{name: front door, outside: yes}]\n"                                                  \
    "devices:\n"                                                                                   \
    "  - {name: front contact, profile: slim-contact, on: front door}\n"                           \
    "  - {name: hall motion, profile: quarter-motion}\n"                                           \
    "zones:\n"                                                                                     \
    "  - {number: 1, says: [front], device: front contact, behaviour: entry}\n"                    \
    "  - {number: 2, says: [hall], device: hall motion, behaviour: follower}\n"                    \
    "break-ins:\n"
#define ROOMS TOP "  rooms: [{name: hall, across: 2 s}, {name: office}]\n"
#define OPENINGS                                                                                   \
    ROOMS                                                                                          \
    "  openings:\n"                                                                                \
    "    - {door: front door, to: hall, of: stud}\n"                                               \
    "    - {name: window, to: office, of: laminated glass, force: 7 s}\n"                          \
    "    - {name: office door, from: hall, to: office}\n"
#define PROTECT OPENINGS "  protect: [{name: safe, in: office, takes: 10 min}]\n"

static void read_text(struct document *document, struct test_pages *pages, const char *text) {
    struct problem problem = {0};
    *pages = (struct test_pages){.left = -1};
    document_init(document, test_pages(pages));
    const bool good =
            document_read_text(document, "f", test_fixture("."), text_of(text), NULL, &problem)
                    .good;
    test_print_problems(document);
    assert_true(good);
}

static void what_follows_from_others(void **state) {
    (void)state;
    struct document document;
    struct test_pages pages;
    read_text(&document, &pages,
            PROTECT "  notices: [{zone: hall, room: hall}]\n"
                    "  walks: [{from: window, reaches: safe, takes: 1 s}]\n");
    const struct site_break_ins *said = &document.site.break_ins;
    assert_true(said->said);
    assert_int_equal(said->start_count, 1);
    assert_true(said->starts[0].areas[0].set);
    assert_true(text_is(said->openings[0].name, "front door"));
    assert_int_equal(said->openings[0].from, SITE_NONE);
    assert_int_equal(said->openings[0].force_s,
            said->materials.rows[said->openings[0].material].forced.low_s);
    assert_int_equal(said->openings[1].force_s, 7); /* the file's own comes first */
    assert_int_equal(said->openings[2].force_s, 0);
    assert_int_equal(said->openings[2].cross_s, 1);
    assert_int_equal(said->goals[0].reach_s, said->rooms[1].across_s);
    assert_int_equal(said->goals[0].takes_s, 600);
    assert_int_equal(said->notices[0].opening, SITE_NONE);
    assert_int_equal(said->walks[0].reaches, 0);
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

/* JSON is a site file: read and written again it is the same, byte by byte. */
static void written_again(void **state) {
    (void)state;
    struct document first;
    struct document second;
    struct test_pages pages;
    struct test_pages more;
    read_text(&first, &pages, PROTECT "  notices: [{zone: hall, room: hall}]\n");
    const struct text json = json_of(&first);
    read_text(&second, &more, json.start);
    const struct text again = json_of(&second);
    assert_int_equal(again.length, json.length);
    assert_memory_equal(again.start, json.start, json.length);
    document_finish(&first);
    document_finish(&second);
    assert_int_equal(pages.out + more.out, 0);
}

static void what_cannot_be_meant(void **state) {
    (void)state;
    static const struct {
        const char *text;
        const char *told;
    } slips[] = {
            {TOP "  {}\n", "no rooms are written, and there is no drawing"},
            {TOP "  heard-by: siren\n", "no rooms are written, and there is no drawing"},
            {TOP "  walks: []\n", "walks by hand want rooms as well"},
            {DRAWN "break-ins: {protect: [{name: box, in: hall}]}\n",
                    "f:5:22: break-ins: with a drawing write it under building.places: {protects: "
                    "safe, room: office, takes: 5 min}"},
            {DRAWN "break-ins: {walks: []}\n", "leave it out: with a drawing"},
            {ROOMS, "rooms by hand want openings as well"},
            {OPENINGS, "rooms by hand want protect as well"},
            {ROOMS "  openings: []\n", "an empty list"},
            {ROOMS "  openings: [{to: hall}]\n", "wants a name, or a door"},
            {ROOMS "  openings: [{name: a, to: attic}]\n", "there is no room called"},
            {ROOMS "  openings: [{name: a, from: hall, to: hall}]\n", "from one room to another"},
            {ROOMS "  openings: [{name: a, to: hall, of: butter}]\n", "there is no material"},
            {OPENINGS "  protect: [{name: safe}]\n", "the key \"in\" is missing"},
            {OPENINGS "  protect: [{name: a, in: hall}, {name: a, in: hall}]\n", "is used already"},
            {PROTECT "  notices: [{zone: hall}]\n", "a room or an opening: write one"},
            {PROTECT "  notices: [{zone: front, room: hall}]\n", "only motion and glass-break"},
            {PROTECT "  walks: [{from: window, takes: 1 s}]\n", "or reaches something: write one"},
            {PROTECT "  walks: [{from: front door, reaches: safe, takes: 1 s}]\n", "in one room"},
            {PROTECT "  heard-by: neighbour\n", "signal or siren"},
            {PROTECT "  materials: no-such\n", "there is no table of materials"},
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

/* Every allocation refused in turn: a problem or the site, and nothing kept. */
static void memory_may_be_refused(void **state) {
    (void)state;
    bool good = false;
    for (long left = 0; !good; left++) {
        struct test_pages pages = {.left = left};
        struct document document;
        struct problem problem = {0};
        document_init(&document, test_pages(&pages));
        good = document_read_text(
                &document, "f", test_fixture("."), text_of(PROTECT), NULL, &problem)
                       .good;
        assert_true(good || problem.kind != PROBLEM_NONE);
        document_finish(&document);
        assert_int_equal(pages.out, 0);
        assert_true(left < 1000);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(what_follows_from_others),
            cmocka_unit_test(written_again),
            cmocka_unit_test(what_cannot_be_meant),
            cmocka_unit_test(memory_may_be_refused),
    };
    return cmocka_run_group_tests_name("break-ins", tests, NULL, NULL);
}
