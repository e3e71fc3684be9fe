#include "document/test_document.h"

#include "document/keys.h"

static void read_bakery(struct document *document, struct test_pages *pages) {
    struct problem problem = {0};
    *pages = (struct test_pages){.left = -1};
    document_init(document, test_pages(pages));
    const bool good =
            document_read_file(document, test_fixture("bakery.yaml"), NULL, &problem).good;
    test_print_problems(document);
    assert_true(good);
    assert_int_equal(problem.kind, PROBLEM_NONE);
}

static void finish(struct document *document, struct test_pages *pages) {
    document_finish(document);
    assert_int_equal(pages->out, 0);
}

static void assert_span(struct span span, int32_t low_s, int32_t high_s) {
    assert_int_equal(span.low_s, low_s);
    assert_int_equal(span.high_s, high_s);
}

static void site_and_panel(void **state) {
    (void)state;
    struct document document;
    struct test_pages pages;
    read_bakery(&document, &pages);
    const struct site *site = &document.site;
    assert_true(text_is(site->name, "Quayside bakery"));
    assert_true(site->invented);
    assert_int_equal(site->words, SITE_WORDS_UK);
    assert_int_equal(site->rule_count, 2);
    assert_true(text_is(site->rules[1], "house"));
    assert_true(text_is(site->panel.name, "halyard-28"));
    assert_int_equal(site->panel.zone_most, 28);
    assert_span(site->panel.exit_delay, 0, 255);
    assert_true((site->panel.behaviours >> SITE_FOLLOWER & 1) != 0);
    const struct site_settings *settings = &site->settings;
    assert_int_equal(settings->modes[SITE_MODE_FULL].exit_delay_s, 60);
    assert_int_equal(settings->mode_count, 4);
    assert_true(text_is(settings->modes[0].name, "full"));
    assert_true(text_is(settings->modes[3].name, "stocktaking"));
    assert_int_equal(settings->modes[3].exit_delay_s, 20);
    assert_int_equal(settings->delay_count, 2);
    assert_true(text_is(settings->delays[1].name, "front"));
    assert_int_equal(settings->delays[1].seconds_s, 45);
    assert_int_equal(settings->abort_window_s, 15);
    assert_int_equal(settings->cancel_window_s, 300);
    assert_int_equal(settings->code_acts, SITE_CODE_USER);
    assert_int_equal(settings->off_route, SITE_OFF_ROUTE_NOW);
    finish(&document, &pages);
}

static void devices_and_zones(void **state) {
    (void)state;
    struct document document;
    struct test_pages pages;
    read_bakery(&document, &pages);
    const struct site *site = &document.site;
    assert_int_equal(site->device_count, 3);
    assert_int_equal(site->device_profile_count, 2);
    assert_int_equal(site->devices[0].profile, site->devices[2].profile);
    assert_int_equal(site->devices[0].door, 0);
    assert_int_equal(site->devices[1].door, SITE_NONE);
    assert_true(text_is(site->devices[0].serial, "0417 221"));
    assert_int_equal(site->device_profiles[site->devices[1].profile].sense, SITE_MOTION);
    assert_span(site->device_profiles[site->devices[1].profile].sleep, 180, 180);
    assert_int_equal(site->zone_count, 3);
    const struct site_zone *yard = &site->zones[0];
    assert_int_equal(yard->number, 1);
    assert_true(text_is(yard->name, "yard door"));
    assert_int_equal(yard->device, 0);
    assert_int_equal(yard->behaviour, SITE_ENTRY);
    assert_int_equal(yard->in[SITE_MODE_NIGHT], SITE_ENTRY);
    assert_int_equal(yard->delay[SITE_MODE_FULL], 0);
    assert_true(yard->chime);
    assert_true(yard->reports && yard->supervised && yard->bypassable && yard->swinger);
    assert_int_equal(yard->pulse_count, 1);
    assert_int_equal(yard->cross_with, SITE_NONE);
    const struct site_zone *passage = &site->zones[1];
    assert_int_equal(passage->follows, 1);
    assert_int_equal(passage->in[SITE_MODE_FULL], SITE_FOLLOWER);
    assert_int_equal(passage->in[SITE_MODE_PART], SITE_OUT);
    assert_int_equal(passage->in[SITE_MODE_NIGHT], SITE_PERIMETER);
    assert_int_equal(passage->in[3], SITE_FOLLOWER);
    assert_int_equal(passage->delay[SITE_MODE_FULL], SITE_NONE);
    assert_false(passage->chime);
    const struct site_zone *shop = &site->zones[2];
    assert_true(text_is(shop->name, "shop door"));
    assert_int_equal(shop->delay[SITE_MODE_FULL], 1);
    assert_int_equal(shop->delay[SITE_MODE_NIGHT], 0);
    assert_int_equal(shop->serves, 2);
    finish(&document, &pages);
}

/* panel page: "cross-zone partner", a pair: written at one of the two, it holds for both. */
static void a_pair_is_of_both(void **state) {
    (void)state;
    struct document document;
    struct test_pages pages = {.left = -1};
    struct problem problem = {0};
    document_init(&document, test_pages(&pages));
    const struct text text =
            text_of("site: {name: a}\npanel: {profile: halyard-28}\nareas: [{name: b}]\n"
                    "devices: [{name: c, profile: slim-contact}]\nzones:\n"
                    "- {number: 1, says: x, device: c, behaviour: perimeter}\n"
                    "- {number: 2, says: y, device: c, behaviour: perimeter, cross-with: x}\n");
    assert_true(document_read_text(&document, "f", test_fixture("."), text, NULL, &problem).good);
    assert_int_equal(document.site.zones[0].cross_with, 1);
    assert_int_equal(document.site.zones[1].cross_with, 0);
    finish(&document, &pages);
}

/* A delay belongs to the modes in which the zone is an entry zone; the only one need not be named. */
static void delays_go_with_entry(void **state) {
    (void)state;
    struct document document;
    struct test_pages pages = {.left = -1};
    struct problem problem = {0};
    document_init(&document, test_pages(&pages));
    const struct text text =
            text_of("site: {name: a}\npanel: {profile: halyard-28, entry-delays: {front: 30 s}}\n"
                    "areas: [{name: b}]\ndevices: [{name: c, profile: slim-contact}]\nzones:\n"
                    "- {number: 1, says: x, device: c, behaviour: entry, in: {night: perimeter}}\n"
                    "- {number: 2, says: y, device: c, behaviour: perimeter, in: {part: entry}}\n"
                    "- {number: 3, says: z, device: c, behaviour: fire, delay: front}\n");
    assert_true(document_read_text(&document, "f", test_fixture("."), text, NULL, &problem).good);
    const struct site_zone *zones = document.site.zones;
    assert_int_equal(zones[0].delay[SITE_MODE_FULL], 0);
    assert_int_equal(zones[0].delay[SITE_MODE_NIGHT], SITE_NONE);
    assert_int_equal(zones[1].delay[SITE_MODE_FULL], SITE_NONE);
    assert_int_equal(zones[1].delay[SITE_MODE_PART], 0);
    assert_int_equal(zones[2].delay[SITE_MODE_FULL], SITE_NONE);
    assert_int_equal(zones[0].area, 0);
    assert_true(zones[0].bypassable && zones[0].swinger);
    assert_false(zones[2].bypassable || zones[2].swinger);
    finish(&document, &pages);
}

static void people_and_ways(void **state) {
    (void)state;
    struct document document;
    struct test_pages pages;
    read_bakery(&document, &pages);
    const struct site *site = &document.site;
    assert_int_equal(site->keypads[0].areas, 1);
    assert_int_equal(site->keypads[1].areas, 3);
    assert_int_equal(site->person_count, 4);
    assert_span(site->people[0].codes, 4, 9);
    assert_int_equal(site->people[0].areas, 1);
    assert_true(site->people[0].has_code);
    assert_true(site->people[0].has_fob);
    /* Usual habits: common practice, rules dossier 6.2. */
    assert_span(site->people[1].notices, 2, 3);
    assert_span(site->people[1].codes, 4, 9);
    assert_span(site->people[1].fobs, 1, 3);
    assert_int_equal(site->people[1].areas, 3);
    assert_true(site->people[1].has_code);
    assert_false(site->people[1].has_fob);
    assert_true(site->people[2].animal);
    assert_false(site->people[2].has_code);
    assert_int_equal(site->people[1].modes, 15); /* every one of four */
    assert_true(site->people[1].has_hours);
    assert_span(site->people[1].hours, 5 * 3600, 20 * 3600);
    assert_false(site->people[0].has_hours);
    assert_int_equal(site->people[3].modes, 1U << SITE_MODE_NIGHT | 8U);
    assert_int_equal(site->way_count, 1);
    const struct site_way *way = &site->ways[0];
    assert_int_equal(way->door, 0);
    assert_int_equal(way->keypad, 0);
    assert_span(way->closes, 1, 3);
    assert_int_equal(way->leg_count, 2);
    assert_int_equal(way->legs[0].zone, 1);
    assert_int_equal(way->legs[0].door, SITE_NONE);
    assert_int_equal(way->legs[1].door, 1);
    assert_int_equal(way->legs[1].zone, SITE_NONE);
    assert_span(way->legs[0].in, 2, 3);
    assert_span(way->last, 4, 6);
    finish(&document, &pages);
}

static void routine_and_first_steps(void **state) {
    (void)state;
    struct document document;
    struct test_pages pages;
    read_bakery(&document, &pages);
    const struct site_routine *routine = &document.site.routines[0];
    assert_true(routine->starts[0].set);
    assert_int_equal(routine->starts[0].mode, SITE_MODE_FULL);
    assert_false(routine->starts[1].set);
    assert_int_equal(routine->doors_open, 4);
    assert_int_equal(routine->expects, SITE_EXPECT_DURESS | SITE_EXPECT_EXIT_ERROR);
    assert_false(routine->usual);
    assert_int_equal(routine->step_count, 17);
    const struct site_step *come = &routine->steps[0];
    assert_int_equal(come->act, SITE_ACT_COME);
    assert_int_equal(come->who, 0);
    assert_true(come->has_at);
    assert_false(come->has_in);
    assert_span(come->at, 5 * 3600 + 30 * 60, 5 * 3600 + 40 * 60);
    assert_int_equal(come->way, 0);
    assert_int_equal(come->door, 0);
    const struct site_step *unset = &routine->steps[1];
    assert_int_equal(unset->act, SITE_ACT_UNSET);
    assert_int_equal(unset->keypad, 0);
    assert_false(unset->has_in);
    assert_int_equal(unset->use, SITE_USE_CODE);
    assert_int_equal(unset->areas, 0);
    const struct site_step *heard = &routine->steps[3];
    assert_int_equal(heard->who, 1);
    assert_int_equal(heard->when, SITE_SIGN_ENTRY_TONE);
    assert_int_equal(heard->when_area, 0);
    assert_int_equal(heard->if_area, SITE_NONE);
    assert_true(heard->has_in);
    assert_span(heard->in, 1, 2);
    finish(&document, &pages);
}

static void routine_and_last_steps(void **state) {
    (void)state;
    struct document document;
    struct test_pages pages;
    read_bakery(&document, &pages);
    const struct site_step *steps = document.site.routines[0].steps;
    assert_true(text_is(steps[4].name, "locked up"));
    assert_int_equal(steps[4].act, SITE_ACT_SET);
    assert_int_equal(steps[4].mode, SITE_MODE_FULL);
    assert_int_equal(steps[4].keypad, 0);
    assert_int_equal(steps[4].areas, 1);
    assert_span(steps[4].in, 8 * 3600, 8 * 3600);
    assert_int_equal(steps[5].act, SITE_ACT_GO);
    assert_int_equal(steps[6].act, SITE_ACT_PASS);
    assert_int_equal(steps[6].zone, 1);
    assert_true(steps[6].maybe);
    assert_int_equal(steps[7].after_step, 4);
    assert_int_equal(steps[7].act, SITE_ACT_OPEN);
    assert_int_equal(steps[8].if_sign, SITE_SIGN_NOT_READY);
    assert_int_equal(steps[8].if_area, 1);
    assert_false(steps[8].if_not);
    assert_int_equal(steps[9].if_sign, SITE_SIGN_DOOR_OPEN);
    assert_true(steps[9].if_not);
    assert_int_equal(steps[10].use, SITE_USE_FOB);
    assert_int_equal(steps[10].keypad, SITE_NONE);
    assert_int_equal(steps[11].act, SITE_ACT_MAINS_LOST);
    assert_int_equal(steps[11].who, 0); /* the routine's: every step is somebody's */
    assert_int_equal(steps[12].act, SITE_ACT_MAINS_BACK);
    assert_int_equal(steps[13].act, SITE_ACT_JAMMED);
    assert_int_equal(steps[14].act, SITE_ACT_JAM_OVER);
    assert_int_equal(steps[15].act, SITE_ACT_PATH_LOST);
    assert_int_equal(steps[16].act, SITE_ACT_PATH_BACK);
    assert_int_equal(document.site.removal_count, 1);
    assert_true(text_is(document.site.removals[0].reason, "no dog lives here"));
    finish(&document, &pages);
}

static void texts_in_every_style(void **state) {
    (void)state;
    struct document document;
    struct test_pages pages = {.left = -1};
    struct problem problem = {0};
    document_init(&document, test_pages(&pages));
    const struct text text = text_of(
            "site: {name: 'it''s ''''''''''''''''''''''''x'}\n"
            "panel:\n  profile: \"halyard-28\"\nareas:\n- name: caf\xC3\xA9\n  common: false\n"
            "doors: [{\"name\": \"\\u00e9\\t\\x41\"}]\n");
    assert_false(document_read_text(&document, "f", test_fixture("."), text, NULL, &problem).good);
    assert_true(test_told(&document, "doors[0].name: line breaks, tabs and control characters"));
    assert_int_equal(document.problem_count, 1);
    assert_true(text_is(document.site.name, "it's ''''''''''''x"));
    assert_true(text_is(document.site.areas[0].name, "caf\xC3\xA9"));
    finish(&document, &pages);
}

static void assert_name(const char *written, const char *expected) {
    char text[512];
    struct document document;
    struct test_pages pages = {.left = -1};
    struct problem problem = {0};
    document_init(&document, test_pages(&pages));
    (void)snprintf(text, sizeof text,
            "site:\n  name: %s\npanel: {profile: halyard-28}\nareas: [{name: b}]\n", written);
    assert_true(document_read_text(&document, "f", test_fixture("."), text_of(text), NULL, &problem)
                        .good);
    assert_int_equal(document.site.name.length, strlen(expected));
    assert_memory_equal(document.site.name.start, expected, strlen(expected));
    finish(&document, &pages);
}

/* Source: YAML 1.2.2, 7.3.1 to 7.3.3 (quoted and plain scalars, folding of lines 6.5). */
static void quotes_as_the_standard_reads_them(void **state) {
    (void)state;
    assert_name("'a''b'", "a'b");
    assert_name("'a''''b'", "a''b");
    assert_name("''''", "'");
    assert_name("''' '''''' y'", "' ''' y");
    assert_name("'a  \n    b'", "a b");
    assert_name("'a\r\n    b'", "a b");
    assert_name("'# no remark: none'", "# no remark: none");
    assert_name("\"a\\\"\\\"b\"", "a\"\"b");
    assert_name("\"a\n    b\\\\\n    c\"", "a b\\ c");
    assert_name("\"\\u00E9\\xE9\"", "\xC3\xA9\xC3\xA9");
    assert_name("\"\\U0001F600\"", "\xF0\x9F\x98\x80");
    assert_name("a\n    b", "a b");
    assert_name("it's \"so\" # remark", "it's \"so\"");
}

static void long_texts_over_lines(void **state) {
    (void)state;
    struct document document;
    struct test_pages pages = {.left = -1};
    struct problem problem = {0};
    document_init(&document, test_pages(&pages));
    const struct text text = text_of(
            "site: {name: a}\npanel: {profile: halyard-28}\nareas: [{name: b}]\npeople: [{name: "
            "p}]\n"
            "routines:\n  - name: r\n    says: >\n      One\n      sentence.\n\n    who: p\n"
            "    steps: [{in: 1 s, wait: yes}]\n");
    assert_true(document_read_text(&document, "f", test_fixture("."), text, NULL, &problem).good);
    assert_true(text_is(document.site.routines[0].says, "One sentence."));
    finish(&document, &pages);
}

/* A panel of which nothing is written but its profile has the settings that the core calls usual: the table and the
 * core say the same. */
static void table_defaults_are_the_usual_settings(void **state) {
    (void)state;
    struct document document;
    struct test_pages pages = {.left = -1};
    struct problem problem = {0};
    document_init(&document, test_pages(&pages));
    const struct text text =
            text_of("site: {name: bare}\npanel: {profile: halyard-28}\nareas: [{name: all}]\n");
    const bool good =
            document_read_text(&document, "bare", test_fixture("."), text, NULL, &problem).good;
    test_print_problems(&document);
    assert_true(good);
    struct site_settings usual = site_settings_usual();
    const struct site_settings *settings = &document.site.settings;
    for (size_t i = 0; i < usual.mode_count; i++) {
        assert_true(text_equal(settings->modes[i].name, usual.modes[i].name));
        usual.modes[i].name = settings->modes[i].name;
    }
    assert_memory_equal(settings, &usual, sizeof usual);
    finish(&document, &pages);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(site_and_panel),
            cmocka_unit_test(devices_and_zones),
            cmocka_unit_test(a_pair_is_of_both),
            cmocka_unit_test(delays_go_with_entry),
            cmocka_unit_test(people_and_ways),
            cmocka_unit_test(routine_and_first_steps),
            cmocka_unit_test(routine_and_last_steps),
            cmocka_unit_test(texts_in_every_style),
            cmocka_unit_test(quotes_as_the_standard_reads_them),
            cmocka_unit_test(long_texts_over_lines),
            cmocka_unit_test(table_defaults_are_the_usual_settings),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
