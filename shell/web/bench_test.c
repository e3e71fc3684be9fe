/* The bench without a server: what a snapshot says, edits and their way back, changes made elsewhere, several pages at
 * once. In time bounded by waits of the bench itself. */
#include "web/bench.h"

#include "host/host.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include <cmocka.h>
#include <jansson.h>
#include <pthread.h>

enum { PATIENCE_MS = 60000 };

static const char site[] =
        "# kept\n"
        "site: {name: Kiosk (invented), invented: yes}\n"
        "panel: {profile: halyard-28, entry-delays: {front: 30 s}}\n"
        "areas: [{name: kiosk}]\n"
        "keypads: [{name: pad}]\n"
        "doors: [{name: front door, outside: yes}]\n"
        "devices: [{name: contact, profile: slim-contact, on: front door}]\n"
        "zones: [{number: 1, says: front door, device: contact, behaviour: entry, delay: front}]\n";

struct fixture {
    char path[64];
    char data[512];
    struct bench *bench;
    uint64_t serial;
};

static void write_file(const struct fixture *fixture, const char *text) {
    assert_true(host_write_file(fixture->path, text_of(text), NULL).good);
}

static int open_bench(void **state) {
    static struct fixture fixture;
    fixture = (struct fixture){.path = "/tmp/lintel-bench-XXXXXX"};
    const int descriptor = mkstemp(fixture.path);
    assert_true(descriptor >= 0);
    (void)close(descriptor);
    write_file(&fixture, site);
    (void)snprintf(fixture.data, sizeof fixture.data, "%s/data", getenv("LINTEL_SOURCE"));
    assert_true(bench_open(fixture.path, fixture.data, &fixture.bench, NULL).good);
    *state = &fixture;
    return 0;
}

static int close_bench(void **state) {
    struct fixture *fixture = *state;
    bench_close(fixture->bench);
    return unlink(fixture->path);
}

static json_t *next(struct fixture *fixture) {
    struct bench_snapshot *snapshot =
            bench_wait(fixture->bench, fixture->serial, PATIENCE_MS, &fixture->serial);
    assert_non_null(snapshot);
    json_t *object = json_loadb(snapshot->json, snapshot->length, 0, NULL);
    assert_non_null(object);
    assert_int_equal(json_integer_value(json_object_get(object, "number")), snapshot->number);
    bench_release(snapshot);
    return object;
}

static int64_t number_in(json_t *object, const char *name) {
    const json_t *part = json_object_get(object, name);
    return json_is_integer(part) ? json_integer_value(part)
                                 : json_integer_value(json_object_get(part, "number"));
}

/** Of those who give no word of their own. */
static int64_t steps_in(json_t *object, const char *name) {
    const json_t *steps = json_array_get(json_object_get(object, "steps"), 0);
    return json_integer_value(json_object_get(steps, name));
}

/** The first snapshot whose whole report is about its own text. */
static json_t *checked(struct fixture *fixture) {
    for (;;) {
        json_t *object = next(fixture);
        if (json_is_true(json_object_get(json_object_get(object, "report"), "whole")) &&
                number_in(object, "report") == number_in(object, "number")) {
            return object;
        }
        json_decref(object);
    }
}

/* Two rooms with a door between and a motion detector in each. */
static const char drawn[] =
        "site: {name: Kiosk (invented), invented: yes}\n"
        "panel: {profile: halyard-28, entry-delays: {front: 30 s}}\n"
        "areas: [{name: kiosk}]\n"
        "doors: [{name: front door, outside: yes}]\n"
        "devices:\n"
        "  - {name: contact, profile: slim-contact, on: front door}\n"
        "  - {name: shop motion, profile: wired-motion}\n"
        "  - {name: store motion, profile: wired-motion}\n"
        "zones:\n"
        "  - {number: 1, says: front door, device: contact, behaviour: entry, delay: front}\n"
        "  - {number: 2, says: shop, device: shop motion, behaviour: follower}\n"
        "  - {number: 3, says: store, device: store motion, behaviour: interior}\n"
        "building:\n"
        "  storeys: [{name: ground}]\n"
        "  rooms: [{name: shop, size: 4 x 5 m}, {name: store, size: 3 x 5 m, right-of: shop}]\n"
        "  openings: [{door: front door, room: shop, wall: front}, {room: shop, to: store}]\n"
        "  places:\n"
        "    - {device: shop motion, room: shop, corner: back left}\n"
        "    - {device: store motion, room: store, corner: back right}\n";

static const char *behaviour_in(json_t *object) {
    const json_t *file = json_object_get(json_object_get(object, "site"), "file");
    const json_t *zone = json_array_get(json_object_get(file, "zones"), 0);
    return json_string_value(json_object_get(zone, "behaviour"));
}

static void edit(struct fixture *fixture, uint64_t number, const char *path, const char *value,
        enum bench_edit wanted) {
    struct problem problem = {0};
    const struct document_edit one = {.path = path, .value = text_of(value)};
    assert_int_equal(bench_edit(fixture->bench, number, &one, 1,
                             (struct history_note){.says = text_of("tried")}, &problem),
            wanted);
    assert_int_equal(problem.kind != PROBLEM_NONE, wanted == BENCH_EDIT_REFUSED);
}

static void what_is_read_is_checked(void **state) {
    struct fixture *fixture = *state;
    json_t *object = checked(fixture);
    assert_int_equal(number_in(object, "number"), 1);
    assert_string_equal(behaviour_in(object), "entry");
    assert_int_equal(json_array_size(json_object_get(object, "problems")), 0);
    assert_true(
            json_array_size(json_object_get(
                    json_object_get(json_object_get(object, "site"), "offers"), "behaviours")) > 3);
    json_decref(object);
}

/* The first look works the drawing out once, though it is asked for by more than one part of the page. */
static void moving_a_detector_works_out_what_it_touches(void **state) {
    struct fixture *fixture = *state;
    json_decref(checked(fixture));
    write_file(fixture, drawn);
    json_decref(checked(fixture));
    const struct recall_tally first = bench_recalled(fixture->bench);
    assert_true(first.worked_out >= 4); /* a view and a floor of each room */
    assert_true(first.known >= first.worked_out);
    edit(fixture, 2, "building.places[1].corner", "front right", BENCH_EDIT_DONE);
    json_decref(checked(fixture));
    const struct recall_tally moved = bench_recalled(fixture->bench);
    assert_in_range(moved.worked_out, 1, first.worked_out / 2);
    assert_int_equal(moved.worked_out + moved.known, first.worked_out + first.known);
}

static void an_edit_reaches_the_file_and_comes_back_checked(void **state) {
    struct fixture *fixture = *state;
    struct arena arena;
    struct text text = {0};
    json_decref(checked(fixture));
    edit(fixture, 1, "zones[0].behaviour", "perimeter", BENCH_EDIT_DONE);
    json_t *object = checked(fixture);
    assert_string_equal(behaviour_in(object), "perimeter");
    assert_int_equal(number_in(object, "number"), 2);
    assert_int_equal(steps_in(object, "undo"), 1);
    json_decref(object);
    arena_init(&arena, host_pages(), 0);
    assert_true(host_read_file(fixture->path, 0, &arena, &text, NULL).good);
    assert_non_null(strstr(text.start, "# kept"));
    assert_non_null(strstr(text.start, "behaviour: perimeter"));
    arena_finish(&arena);
    assert_int_equal(bench_step(fixture->bench, (struct text){0}, false, NULL), BENCH_EDIT_DONE);
    object = checked(fixture);
    assert_string_equal(behaviour_in(object), "entry");
    assert_int_equal(steps_in(object, "redo"), 1);
    json_decref(object);
    assert_int_equal(bench_step(fixture->bench, (struct text){0}, true, NULL), BENCH_EDIT_DONE);
    object = checked(fixture);
    assert_string_equal(behaviour_in(object), "perimeter");
    json_decref(object);
}

static void what_cannot_be_is_refused_and_nothing_written(void **state) {
    struct fixture *fixture = *state;
    struct problem problem = {0};
    json_decref(checked(fixture));
    edit(fixture, 1, "zones[0].behaviour", "sometimes", BENCH_EDIT_REFUSED);
    edit(fixture, 1, "zones[7].behaviour", "entry", BENCH_EDIT_REFUSED);
    edit(fixture, 1, "no such key", "1", BENCH_EDIT_REFUSED);
    assert_int_equal(
            bench_step(fixture->bench, (struct text){0}, false, &problem), BENCH_EDIT_REFUSED);
    assert_int_equal(
            bench_step(fixture->bench, (struct text){0}, true, &problem), BENCH_EDIT_REFUSED);
    edit(fixture, 1, "zones[0].behaviour", "perimeter", BENCH_EDIT_DONE);
}

static void the_later_of_two_is_told_of_the_earlier(void **state) {
    struct fixture *fixture = *state;
    json_decref(checked(fixture));
    edit(fixture, 1, "zones[0].chime", "yes", BENCH_EDIT_DONE);
    edit(fixture, 1, "zones[0].chime", "no", BENCH_EDIT_CONFLICT);
    edit(fixture, 2, "zones[0].chime", "no", BENCH_EDIT_DONE);
}

static void a_change_made_elsewhere_shows_and_is_not_overwritten(void **state) {
    struct fixture *fixture = *state;
    char other[sizeof site + 40];
    json_decref(checked(fixture));
    edit(fixture, 1, "zones[0].chime", "yes", BENCH_EDIT_DONE);
    json_decref(checked(fixture));
    (void)snprintf(other, sizeof other, "%s# elsewhere\n", site);
    write_file(fixture, other);
    edit(fixture, 2, "zones[0].chime", "no", BENCH_EDIT_CONFLICT);
    json_t *object = checked(fixture);
    assert_int_equal(number_in(object, "number"), 3);
    json_decref(object);
    edit(fixture, 3, "zones[0].chime", "no", BENCH_EDIT_DONE);
}

static void what_cannot_be_read_is_told_and_the_former_stays(void **state) {
    struct fixture *fixture = *state;
    json_decref(checked(fixture));
    write_file(fixture, "site: {name: Kiosk\nzones: [{number: one}]\n");
    json_t *object = next(fixture);
    assert_true(json_array_size(json_object_get(object, "problems")) > 0);
    assert_int_equal(number_in(object, "site"), 1);
    assert_true(number_in(object, "number") > 1);
    json_decref(object);
    write_file(fixture, site);
    object = checked(fixture);
    assert_int_equal(json_array_size(json_object_get(object, "problems")), 0);
    json_decref(object);
    assert_int_equal(unlink(fixture->path), 0);
    do {
        object = next(fixture);
        const size_t problems = json_array_size(json_object_get(object, "problems"));
        json_decref(object);
        if (problems > 0) {
            break;
        }
    } while (true);
    write_file(fixture, site);
}

/* Two pages: the second builds on a thing that the first added. */
static void what_others_built_on_is_not_taken_away(void **state) {
    struct fixture *fixture = *state;
    struct problem problem = {0};
    json_decref(checked(fixture));
    const struct document_edit device = {
            .path = "devices[1]", .value = text_of("{name: motion, profile: wired-motion}")};
    const struct document_edit zone = {.path = "zones[1]",
            .value = text_of("{number: 2, says: shop, device: motion, behaviour: interior}")};
    const struct history_note ann = {.by = text_of("ann")};
    const struct history_note ben = {.by = text_of("ben")};
    assert_int_equal(bench_edit(fixture->bench, 1, &device, 1, ann, NULL), BENCH_EDIT_DONE);
    assert_int_equal(bench_edit(fixture->bench, 2, &zone, 1, ben, NULL), BENCH_EDIT_DONE);
    assert_int_equal(bench_step(fixture->bench, ann.by, false, &problem), BENCH_EDIT_REFUSED);
    assert_non_null(strstr(problem.text, "motion"));
    assert_non_null(strstr(problem.text, "Take out first"));
    assert_int_equal(bench_step(fixture->bench, ben.by, false, NULL), BENCH_EDIT_DONE);
    assert_int_equal(bench_step(fixture->bench, ann.by, false, NULL), BENCH_EDIT_DONE);
}

static void rest(long microseconds) {
    const struct timespec time = {.tv_nsec = microseconds * 1000};
    (void)nanosleep(&time, NULL);
}

/* The thread may be reading the older text while the newer one is written: that must not come back as a change. A
 * larger site takes longer to read, and the rests shift one against the other. */
static void an_edit_under_way_is_not_taken_for_a_change_elsewhere(void **state) {
    struct fixture *fixture = *state;
    enum { EDITS = 40 };
    struct arena arena;
    struct text text = {0};
    char path[600];
    json_decref(checked(fixture));
    (void)snprintf(path, sizeof path, "%s/demo/quayside.yaml", getenv("LINTEL_SOURCE"));
    arena_init(&arena, host_pages(), 0);
    assert_true(host_read_file(path, 0, &arena, &text, NULL).good);
    write_file(fixture, text.start);
    arena_finish(&arena);
    json_t *object = checked(fixture);
    int64_t number = number_in(object, "number");
    json_decref(object);
    for (int i = 0; i < EDITS; i++) {
        edit(fixture, (uint64_t)number++, "zones[0].chime", i % 2 == 0 ? "no" : "yes",
                BENCH_EDIT_DONE);
    }
    for (int i = 0; i < EDITS; i++) {
        rest(i * 700);
        assert_int_equal(
                bench_step(fixture->bench, (struct text){0}, false, NULL), BENCH_EDIT_DONE);
        number++;
    }
    do {
        object = checked(fixture);
        if (number_in(object, "number") >= number) {
            break;
        }
        json_decref(object);
    } while (true);
    assert_int_equal(number_in(object, "number"), number);
    assert_int_equal(steps_in(object, "redo"), EDITS);
    json_decref(object);
}

static void *chime_on_and_off(void *context) {
    struct fixture *fixture = context;
    size_t done = 0;
    uint64_t serial = 0;
    for (int i = 0; i < 20; i++) {
        struct bench_snapshot *snapshot = bench_wait(fixture->bench, 0, PATIENCE_MS, &serial);
        const struct document_edit one = {
                .path = "zones[0].chime", .value = text_of(i % 2 == 0 ? "yes" : "no")};
        done += bench_edit(fixture->bench, snapshot->number, &one, 1, (struct history_note){0},
                        NULL) == BENCH_EDIT_DONE;
        bench_release(snapshot);
        (void)bench_step(fixture->bench, (struct text){0}, i % 3 == 0, NULL);
    }
    return done > 0 ? fixture : NULL;
}

static void many_pages_at_once_end_with_the_file_as_it_was_last_told(void **state) {
    struct fixture *fixture = *state;
    enum { PAGES = 4 };
    pthread_t pages[PAGES];
    for (int i = 0; i < PAGES; i++) {
        assert_int_equal(pthread_create(&pages[i], NULL, chime_on_and_off, fixture), 0);
    }
    size_t edited = 0;
    for (int i = 0; i < PAGES; i++) {
        void *answer = NULL;
        assert_int_equal(pthread_join(pages[i], &answer), 0);
        edited += answer != NULL;
    }
    assert_true(edited > 0);
    struct document document;
    const struct document_search search = {.data = fixture->data};
    document_init(&document, host_pages());
    assert_true(document_read_file(&document, fixture->path, &search, NULL).good);
    document_finish(&document);
}

int main(void) {
#define BENCH_TEST(name) cmocka_unit_test_setup_teardown(name, open_bench, close_bench)
    const struct CMUnitTest tests[] = {
            BENCH_TEST(what_is_read_is_checked),
            BENCH_TEST(moving_a_detector_works_out_what_it_touches),
            BENCH_TEST(an_edit_reaches_the_file_and_comes_back_checked),
            BENCH_TEST(what_cannot_be_is_refused_and_nothing_written),
            BENCH_TEST(the_later_of_two_is_told_of_the_earlier),
            BENCH_TEST(a_change_made_elsewhere_shows_and_is_not_overwritten),
            BENCH_TEST(what_cannot_be_read_is_told_and_the_former_stays),
            BENCH_TEST(what_others_built_on_is_not_taken_away),
            BENCH_TEST(an_edit_under_way_is_not_taken_for_a_change_elsewhere),
            BENCH_TEST(many_pages_at_once_end_with_the_file_as_it_was_last_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
