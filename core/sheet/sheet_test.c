#include "sheet/sheet.h"

#include <jansson.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static void *get_page(void *context, size_t size) {
    (void)context;
    return malloc(size);
}

static void give_page(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

static const struct pages pages = {.get = get_page, .give = give_page};

/* Two zones, written out of order; one radio contact without a serial number, one wired contact. */
struct scene {
    struct arena arena;
    struct site_device_profile profiles[2];
    struct site_device devices[2];
    struct site_zone zones[2];
    struct site_area area;
    struct site_person person;
    struct site site;
};

static void set_scene(struct scene *scene) {
    *scene = (struct scene){.area = {.name = text_of("house")}};
    arena_init(&scene->arena, pages, 0);
    scene->profiles[0] = (struct site_device_profile){.name = text_of("radio"), .radio = true};
    scene->profiles[1] = (struct site_device_profile){.name = text_of("wired")};
    scene->person = (struct site_person){.name = text_of("owner"), .areas = 1, .has_code = true};
    for (int i = 0; i < 2; i++) {
        scene->devices[i] = (struct site_device){
                .name = text_of(i == 0 ? "front" : "back"), .profile = i, .door = SITE_NONE};
        struct site_zone *zone = &scene->zones[i];
        *zone = (struct site_zone){.number = 2 - i,
                .name = text_of(i == 0 ? "front, \"the\" door" : "back"),
                .device = i,
                .behaviour = SITE_PERIMETER,
                .reports = true,
                .supervised = true,
                .bypassable = true,
                .swinger = true,
                .pulse_count = 1,
                .cross_with = SITE_NONE};
        for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
            zone->in[mode] = SITE_PERIMETER;
            zone->delay[mode] = SITE_NONE;
        }
    }
    scene->site = (struct site){.name = text_of("Scene"),
            .panel = {.name = text_of("bench")},
            .settings = site_settings_usual(),
            .device_profiles = scene->profiles,
            .device_profile_count = 2,
            .areas = &scene->area,
            .area_count = 1,
            .devices = scene->devices,
            .device_count = 2,
            .zones = scene->zones,
            .zone_count = 2,
            .people = &scene->person,
            .person_count = 1};
}

static struct sheet make(struct scene *scene) {
    struct sheet sheet;
    struct problem problem = {0};
    assert_true(sheet_make(&scene->site, &scene->arena, &sheet, &problem).good);
    return sheet;
}

static const struct sheet_row *row_of(
        const struct sheet *sheet, enum sheet_part part, int32_t number, const char *key) {
    for (size_t i = 0; i < sheet->row_count; i++) {
        const struct sheet_row *row = &sheet->rows[i];
        if (row->part == part && row->number == number && text_is(row->key, key)) {
            return row;
        }
    }
    return NULL;
}

static void parts_come_in_keying_order_and_zones_by_number(void **state) {
    (void)state;
    struct scene scene;
    set_scene(&scene);
    const struct sheet sheet = make(&scene);
    for (size_t i = 1; i < sheet.row_count; i++) {
        assert_true(sheet.rows[i].part >= sheet.rows[i - 1].part);
        if (sheet.rows[i].part == sheet.rows[i - 1].part) {
            assert_true(sheet.rows[i].number >= sheet.rows[i - 1].number);
        }
    }
    assert_int_equal(sheet.rows[0].part, SHEET_PANEL);
    assert_int_equal(sheet.rows[sheet.row_count - 1].part, SHEET_SAVE);
    arena_finish(&scene.arena);
}

static void what_the_file_does_not_say_is_a_line_to_fill_in(void **state) {
    (void)state;
    struct scene scene;
    set_scene(&scene);
    struct sheet sheet = make(&scene);
    assert_int_equal(row_of(&sheet, SHEET_ZONE, 2, "serial")->kind, SHEET_FILL_IN);
    assert_int_equal(row_of(&sheet, SHEET_ZONE, 1, "input")->kind, SHEET_FILL_IN);
    assert_null(row_of(&sheet, SHEET_ZONE, 1, "serial"));
    scene.devices[0].serial = text_of("0417 221");
    sheet = make(&scene);
    assert_int_equal(row_of(&sheet, SHEET_ZONE, 2, "serial")->kind, SHEET_SETTING);
    assert_int_equal(row_of(&sheet, SHEET_ZONE, 2, "confirm")->kind, SHEET_STEP);
    arena_finish(&scene.arena);
}

static void settings_carry_units_and_say_when_they_are_usual(void **state) {
    (void)state;
    struct scene scene;
    set_scene(&scene);
    scene.site.settings.siren_time_s = 90;
    scene.site.settings.cross_window_s = 0;
    scene.zones[0].chime = true;
    const struct sheet sheet = make(&scene);
    const struct sheet_row *siren = row_of(&sheet, SHEET_PANEL, 0, "siren-time");
    assert_true(text_is(siren->value, "90 s"));
    assert_false(siren->usual);
    assert_true(text_is(row_of(&sheet, SHEET_PANEL, 0, "cross-window")->value, "off (0 s)"));
    const struct sheet_row *reset = row_of(&sheet, SHEET_PANEL, 0, "swinger-reset");
    assert_true(text_is(reset->value, "8 h"));
    assert_true(reset->usual);
    assert_false(row_of(&sheet, SHEET_ZONE, 2, "chime")->usual);
    assert_true(row_of(&sheet, SHEET_ZONE, 1, "chime")->usual);
    arena_finish(&scene.arena);
}

static void both_word_sets_are_spoken(void **state) {
    (void)state;
    struct scene scene;
    set_scene(&scene);
    struct sheet sheet = make(&scene);
    assert_true(text_is(
            row_of(&sheet, SHEET_PANEL, 0, "mains-delay")->label, "mains loss reported after"));
    assert_true(text_is(row_of(&sheet, SHEET_PANEL, 0, "mains-jitter")->value, "off (0 s)"));
    scene.site.words = SITE_WORDS_US;
    assert_true(text_is(row_of(&sheet, SHEET_ZONE, 1, "loop-response")->value, "as delivered"));
    scene.zones[1].loop_response_ms = 300;
    scene.site.settings.mains_jitter_s = 300;
    scene.site.settings.restore = SITE_RESTORE_UNSET;
    sheet = make(&scene);
    assert_true(text_is(
            row_of(&sheet, SHEET_PANEL, 0, "mains-delay")->label, "AC loss reported after"));
    assert_true(text_is(
            row_of(&sheet, SHEET_PANEL, 0, "mains-jitter")->label, "AC loss report spread by"));
    assert_true(text_is(row_of(&sheet, SHEET_PANEL, 0, "mains-jitter")->value, "5 min"));
    assert_true(text_is(row_of(&sheet, SHEET_ZONE, 1, "loop-response")->value, "300 ms"));
    assert_true(text_is(row_of(&sheet, SHEET_PANEL, 0, "restore")->value, "disarming"));
    arena_finish(&scene.arena);
}

static struct sheet differences(struct scene *scene, const struct site *older) {
    struct sheet sheet;
    struct problem problem = {0};
    assert_true(sheet_differences(&scene->site, older, &scene->arena, &sheet, &problem).good);
    return sheet;
}

static void only_differences_are_keyed_again(void **state) {
    (void)state;
    struct scene scene;
    struct scene older;
    set_scene(&scene);
    set_scene(&older);
    scene.site.settings.restore = SITE_RESTORE_UNSET;
    older.site.settings.restore = SITE_RESTORE_UNSET;
    older.site.words = SITE_WORDS_US; /* words alone are not keyed */
    struct sheet sheet = differences(&scene, &older.site);
    assert_int_equal(sheet.row_count, 0);

    older.zones[1].chime = true;
    sheet = differences(&scene, &older.site);
    assert_int_equal(sheet.row_count, 2); /* and save */
    assert_true(text_is(sheet.rows[0].key, "chime"));
    assert_true(text_is(sheet.rows[0].before, "yes"));
    assert_true(sheet.rows[0].changed);

    older.zones[1].chime = false;
    older.devices[0].serial = text_of("0417 221");
    sheet = differences(&scene, &older.site);
    assert_non_null(row_of(&sheet, SHEET_ZONE, 2, "enrol")); /* another device: enrol again */
    assert_null(row_of(&sheet, SHEET_ZONE, 1, "wire"));

    scene.site.zone_count = 1;
    sheet = differences(&scene, &older.site);
    assert_int_equal(row_of(&sheet, SHEET_ZONE, 1, "clear")->kind, SHEET_CLEAR);

    older.site.panel.name = text_of("another");
    sheet = differences(&scene, &older.site);
    assert_non_null(row_of(&sheet, SHEET_PANEL, 0, "siren-time")); /* all of it */
    arena_finish(&scene.arena);
    arena_finish(&older.arena);
}

static void devices_are_enrolled_as_their_profile_says(void **state) {
    static const struct {
        uint32_t enrols;
        const char *serial;
        const char *form;
        int32_t activations;
        const char *says;
    } rows[] = {
            {0, "12", "", 0,
                    "type the serial number, or let the panel learn it: activate the device as its "
                    "manual says"},
            {SITE_ENROL_SERIAL, "12", "##", 3, "type the serial number"},
            {SITE_ENROL_ACTIVATE, "12", "", 3,
                    "let the panel learn it: activate the device 3 times"},
            {SITE_ENROL_ACTIVATE, "", "", 1, "let the panel learn it: activate the device once"},
            {SITE_ENROL_SERIAL, "", "## ##", 0,
                    "read the serial number off the sticker and write it down (it looks like ## "
                    "##); type it"},
            {SITE_ENROL_SERIAL | SITE_ENROL_ACTIVATE, "", "", 2,
                    "read the serial number off the sticker and write it down; type it, or let the "
                    "panel learn it: activate the device twice"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct scene scene;
        set_scene(&scene);
        scene.profiles[0].enrols = rows[i].enrols;
        scene.profiles[0].activations = rows[i].activations;
        scene.profiles[0].serial_format = text_of(rows[i].form);
        scene.devices[0].serial = text_of(rows[i].serial);
        const struct sheet sheet = make(&scene);
        const struct sheet_row *row = row_of(&sheet, SHEET_ZONE, 2, "enrol");
        assert_string_equal(row->value.start, rows[i].says);
        assert_non_null(row_of(&sheet, SHEET_ZONE, 2, "confirm"));
        arena_finish(&scene.arena);
    }
}

static void magnets_and_batteries_are_told(void **state) {
    (void)state;
    struct scene scene;
    struct scene older;
    set_scene(&scene);
    set_scene(&older);
    struct sheet sheet = make(&scene);
    assert_null(row_of(&sheet, SHEET_ZONE, 2, "magnet")); /* the profiles say nothing */
    assert_null(row_of(&sheet, SHEET_ZONE, 2, "battery"));
    for (int i = 0; i < 2; i++) {
        struct scene *it = i == 0 ? &scene : &older;
        it->profiles[0].marked = SITE_MARK_RIGHT;
        it->profiles[0].gap = (struct measure){.low = 15000, .high = 15000, .said = true};
        it->profiles[0].battery = text_of("LR03");
        it->profiles[0].batteries = 2;
        it->devices[0].magnet_gap = (struct measure){.low = 4000, .high = 6000, .said = true};
    }
    sheet = make(&scene);
    assert_string_equal(row_of(&sheet, SHEET_ZONE, 2, "magnet")->value.start,
            "on the right, seen from the front, where the housing is marked; gap 4..6 mm; at most "
            "15 mm");
    assert_string_equal(row_of(&sheet, SHEET_ZONE, 2, "battery")->value.start, "2 of type LR03");
    assert_null(row_of(&sheet, SHEET_ZONE, 2, "battery-change")); /* what it draws is not said */
    for (int i = 0; i < 2; i++) {
        /* 0.012 mA at rest are 105.2 mAh a year; 1000 mAh x 0.8 / (105.2 + 0.03 x 1000) = 5.9; nothing is sent. */
        struct scene *it = i == 0 ? &scene : &older;
        it->profiles[0].quiet = (struct measure){.low = 12, .high = 12, .said = true};
        it->profiles[0].sends_at = (struct measure){.low = 1000, .high = 1000, .said = true};
        it->devices[0].battery_day = DATE_NONE;
    }
    sheet = make(&scene);
    assert_non_null(strstr(row_of(&sheet, SHEET_ZONE, 2, "battery-change")->value.start,
            "5.5 years after it is put in (lasts 5.9 to "));
    scene.devices[0].battery_day = older.devices[0].battery_day = date_of(2026, 11, 1);
    sheet = make(&scene);
    assert_non_null(strstr(row_of(&sheet, SHEET_ZONE, 2, "battery-change")->value.start,
            "by 2032-05-01 (lasts 5.9 to "));
    scene.devices[0].on_steel = true;
    sheet = make(&scene);
    assert_non_null(strstr(row_of(&sheet, SHEET_ZONE, 2, "magnet")->value.start,
            "it sits on steel, which takes a quarter to a half of that"));
    sheet = differences(&scene, &older.site); /* the magnet alone: nothing is enrolled again */
    assert_int_equal(sheet.row_count, 2);
    assert_true(text_is(sheet.rows[0].key, "magnet"));
    assert_true(sheet.rows[0].before.length > 0);
    scene.profiles[0].gap_on_steel = (struct measure){.low = 9000, .high = 9000, .said = true};
    sheet = make(&scene);
    assert_non_null(strstr(row_of(&sheet, SHEET_ZONE, 2, "magnet")->value.start,
            "at most 15 mm on wood, 9 mm on steel"));
    arena_finish(&scene.arena);
    arena_finish(&older.arena);
}

static void inputs_and_what_they_watch_are_told(void **state) {
    (void)state;
    struct scene scene;
    struct scene older;
    struct site_door door = {.name = text_of("hatch")};
    set_scene(&scene);
    set_scene(&older);
    for (int i = 0; i < 2; i++) {
        struct scene *it = i == 0 ? &scene : &older;
        it->site.doors = &door;
        it->site.door_count = 1;
        it->profiles[1].inputs[0] = (struct site_input){.sense = SITE_CONTACT};
        it->profiles[1].inputs[1] =
                (struct site_input){.sense = SITE_SHOCK, .says = text_of("terminal")};
        it->profiles[1].input_count = 2;
        it->zones[1].door = SITE_NONE;
    }
    scene.zones[1].input = 2;
    scene.zones[1].door = 0;
    struct sheet sheet = make(&scene);
    assert_true(text_is(row_of(&sheet, SHEET_ZONE, 1, "device-input")->value, "2: terminal"));
    assert_true(text_is(row_of(&sheet, SHEET_ZONE, 1, "senses")->value, "shock"));
    assert_true(text_is(row_of(&sheet, SHEET_ZONE, 1, "opening")->value, "hatch, inside"));
    sheet = differences(&scene, &older.site);
    const struct sheet_row *input = row_of(&sheet, SHEET_ZONE, 1, "device-input");
    assert_true(text_is(input->before, "1"));
    assert_non_null(row_of(&sheet, SHEET_ZONE, 1, "wire")); /* found on its input again */
    arena_finish(&scene.arena);
    arena_finish(&older.arena);
}

static void keypads_fobs_and_sirens_are_enrolled_too(void **state) {
    (void)state;
    struct scene scene;
    set_scene(&scene);
    scene.profiles[0].kind = SITE_FOB;
    scene.devices[0].person = 0;
    scene.profiles[1].kind = SITE_SIREN;
    scene.devices[1].areas = 1;
    scene.site.zone_count = 0;
    const struct sheet sheet = make(&scene);
    assert_true(text_is(row_of(&sheet, SHEET_DEVICE, 1, "device")->value, "fob (radio)"));
    assert_true(text_is(row_of(&sheet, SHEET_DEVICE, 1, "carried-by")->value, "owner"));
    assert_int_equal(row_of(&sheet, SHEET_DEVICE, 1, "serial")->kind, SHEET_FILL_IN);
    assert_true(text_is(row_of(&sheet, SHEET_DEVICE, 2, "areas")->value, "house"));
    assert_int_equal(row_of(&sheet, SHEET_DEVICE, 2, "input")->kind, SHEET_FILL_IN);
    scene.devices[0].person = SITE_NONE;
    const struct sheet nobodys = make(&scene);
    assert_int_equal(row_of(&nobodys, SHEET_DEVICE, 1, "carried-by")->kind, SHEET_FILL_IN);
    arena_finish(&scene.arena);
}

/* "usual" is what this very panel comes with, where its profile says it. */
static void the_profile_knows_what_was_delivered(void **state) {
    (void)state;
    struct scene scene;
    set_scene(&scene);
    scene.site.panel.delivered[SITE_SET_EXIT_DELAY] = 45;
    scene.site.panel.delivered_said[SITE_SET_EXIT_DELAY] = true;
    scene.site.panel.delivered[SITE_SET_SWINGER_LIMIT] = 3;
    scene.site.panel.delivered_said[SITE_SET_SWINGER_LIMIT] = true;
    scene.site.settings.swinger_limit = 3;
    const struct sheet sheet = make(&scene);
    assert_false(row_of(&sheet, SHEET_PANEL, 0, "exit-delay.full")->usual); /* 60 s */
    assert_true(row_of(&sheet, SHEET_PANEL, 0, "swinger-limit")->usual);
    assert_true(row_of(&sheet, SHEET_PANEL, 0, "siren-time")->usual); /* not said: as most */
    arena_finish(&scene.arena);
}

static void no_cell_of_csv_is_a_formula(void **state) {
    static const struct {
        const char *name;
        const char *cell;
    } rows[] = {
            {"=1+1", "\r\n1,'=1+1,"},
            {"+door", "\r\n1,'+door,"},
            {"-5 C room", "\r\n1,'-5 C room,"},
            {"@home", "\r\n1,'@home,"},
            {"=SUM(1,2)", "\r\n1,\"'=SUM(1,2)\","},
            {"\xEF\xBC\x9D"
             "1",
                    "\r\n1,'\xEF\xBC\x9D"
                    "1,"}, /* the wide form */
            {"a=b", "\r\n1,a=b,"},
            {"door", "\r\n1,door,"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct scene scene;
        struct text_builder out;
        set_scene(&scene);
        scene.zones[1].name = text_of(rows[i].name);
        text_builder_init(&out, &scene.arena);
        sheet_add_schedule_csv(&out, &scene.site);
        const struct text csv = text_built(&out);
        if (strstr(csv.start, rows[i].cell) == NULL) {
            print_message("# %s\n", csv.start);
        }
        assert_non_null(strstr(csv.start, rows[i].cell));
        arena_finish(&scene.arena);
    }
}

static void json_is_read_back(void **state) {
    (void)state;
    struct scene scene;
    set_scene(&scene);
    const struct sheet sheet = make(&scene);
    struct text_builder out;
    struct json_writer json;
    text_builder_init(&out, &scene.arena);
    json_init(&json, &out);
    sheet_add_json(&json, &scene.site, &sheet, text_of("a.yaml"), (struct text){0});
    const struct text text = text_built(&out);
    json_t *root = json_loadb(text.start, text.length, JSON_REJECT_DUPLICATES, NULL);
    assert_non_null(root);
    const json_t *lines = json_object_get(root, "lines");
    assert_int_equal(json_array_size(lines), sheet.row_count);
    assert_true(json_is_null(json_object_get(root, "against")));
    const json_t *schedule = json_object_get(root, "schedule");
    assert_int_equal(json_array_size(schedule), 2);
    const json_t *first = json_array_get(schedule, 0); /* by number */
    assert_int_equal(json_integer_value(json_object_get(first, "number")), 1);
    assert_string_equal(json_string_value(json_object_get(first, "model")), "wired");
    assert_true(json_is_false(json_object_get(first, "radio")));
    assert_true(json_is_null(json_object_get(first, "delay_s")));
    assert_true(json_is_true(json_object_get(first, "supervised")));
    json_decref(root);
    arena_finish(&scene.arena);
}

static void a_narrow_page_is_not_passed(void **state) {
    (void)state;
    enum { NARROW = 40 };
    struct scene scene;
    set_scene(&scene);
    const struct sheet sheet = make(&scene);
    struct text_builder out;
    text_builder_init(&out, &scene.arena);
    sheet_add_text(&out, &scene.site, &sheet, false, NARROW);
    const struct text text = text_built(&out);
    assert_non_null(strstr(text.start, "[____________] fill in\n"));
    for (const char *line = text.start; *line != '\0'; line += strcspn(line, "\n") + 1) {
        assert_true(strcspn(line, "\n") <= NARROW);
    }
    arena_finish(&scene.arena);
}

static void memory_refused_is_a_problem(void **state) {
    (void)state;
    struct scene scene;
    set_scene(&scene);
    struct arena small;
    struct sheet sheet;
    struct problem problem = {0};
    arena_init(&small, pages, 1);
    assert_false(sheet_make(&scene.site, &small, &sheet, &problem).good);
    assert_int_equal(problem.kind, PROBLEM_MEMORY);
    arena_finish(&small);
    arena_finish(&scene.arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(parts_come_in_keying_order_and_zones_by_number),
            cmocka_unit_test(what_the_file_does_not_say_is_a_line_to_fill_in),
            cmocka_unit_test(settings_carry_units_and_say_when_they_are_usual),
            cmocka_unit_test(both_word_sets_are_spoken),
            cmocka_unit_test(only_differences_are_keyed_again),
            cmocka_unit_test(devices_are_enrolled_as_their_profile_says),
            cmocka_unit_test(magnets_and_batteries_are_told),
            cmocka_unit_test(inputs_and_what_they_watch_are_told),
            cmocka_unit_test(keypads_fobs_and_sirens_are_enrolled_too),
            cmocka_unit_test(the_profile_knows_what_was_delivered),
            cmocka_unit_test(no_cell_of_csv_is_a_formula),
            cmocka_unit_test(json_is_read_back),
            cmocka_unit_test(a_narrow_page_is_not_passed),
            cmocka_unit_test(memory_refused_is_a_problem),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
