/* Who still wants an answer: until the file is changed, whoever asks hangs up, or the bench closes; and that what works
 * one out ends then. */
#include "web/asked.h"

#include "host/host.h"
#include "web/trying.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

#include <cmocka.h>
#include <sys/socket.h>

enum { PATIENCE_MS = 60000 };

struct fixture {
    char path[64];
    char data[512];
    struct seat *seat;
    int page; /* the other end of the line */
    struct asked asked;
};

static int open_asked(void **state) {
    static struct fixture fixture;
    struct arena arena;
    struct text text = {0};
    char demo[512];
    int line[2];
    uint64_t serial = 0;
    fixture = (struct fixture){.path = "/tmp/lintel-asked-XXXXXX"};
    const int descriptor = mkstemp(fixture.path);
    assert_true(descriptor >= 0);
    (void)close(descriptor);
    (void)snprintf(demo, sizeof demo, "%s/demo/quayside.yaml", getenv("LINTEL_SOURCE"));
    (void)snprintf(fixture.data, sizeof fixture.data, "%s/data", getenv("LINTEL_SOURCE"));
    arena_init(&arena, host_pages(), 0);
    assert_true(host_read_file(demo, 0, &arena, &text, NULL).good);
    assert_true(host_write_file(fixture.path, text, NULL).good);
    arena_finish(&arena);
    fixture.seat = calloc(1, sizeof *fixture.seat);
    assert_non_null(fixture.seat);
    assert_true(bench_open(fixture.path, fixture.data, &fixture.seat->bench, NULL).good);
    bench_release(bench_wait(fixture.seat->bench, 0, PATIENCE_MS, &serial));
    assert_int_equal(socketpair(AF_UNIX, SOCK_STREAM, 0, line), 0);
    fixture.page = line[0];
    fixture.asked = (struct asked){
            .seat = fixture.seat, .number = bench_number(fixture.seat->bench), .socket = line[1]};
    *state = &fixture;
    return 0;
}

static int close_asked(void **state) {
    struct fixture *fixture = *state;
    bench_close(fixture->seat->bench);
    free(fixture->seat);
    if (fixture->page >= 0) {
        (void)close(fixture->page);
    }
    (void)close(fixture->asked.socket);
    return unlink(fixture->path);
}

static void edit(struct fixture *fixture) {
    const struct document_edit chime = {.path = "zones[0].chime", .value = text_of("no")};
    assert_int_equal(bench_edit(fixture->seat->bench, fixture->asked.number, &chime, 1,
                             (struct history_note){0}, NULL),
            BENCH_EDIT_DONE);
}

static void hang_up(struct fixture *fixture) {
    (void)close(fixture->page);
    fixture->page = -1;
}

static void it_is_wanted_until_something_overtakes_it(void **state) {
    struct fixture *fixture = *state;
    assert_true(asked_is_wanted(&fixture->asked));
    /* A line on which something waits is no line that is gone. */
    assert_int_equal(write(fixture->page, "more", 4), 4);
    assert_true(asked_is_wanted(&fixture->asked));
    edit(fixture);
    assert_false(asked_is_wanted(&fixture->asked));
    fixture->asked.number = bench_number(fixture->seat->bench);
    assert_true(asked_is_wanted(&fixture->asked));
    hang_up(fixture);
    assert_false(asked_is_wanted(&fixture->asked));
}

/* By TLS the page says that it goes before it goes. */
static void last_words_do_not_hide_that_it_has_gone(void **state) {
    struct fixture *fixture = *state;
    assert_int_equal(write(fixture->page, "bye", 3), 3);
    hang_up(fixture);
    assert_false(asked_is_wanted(&fixture->asked));
}

static void nobody_wants_it_once_the_bench_closes(void **state) {
    struct fixture *fixture = *state;
    bench_stop(fixture->seat->bench);
    assert_false(asked_is_wanted(&fixture->asked));
}

/* Pages that are the asked one's, and count; at one of them the page hangs up. */
struct counted {
    struct fixture *fixture;
    size_t got;
    size_t hangs_up_at;
};

static void *get_counted(void *context, size_t size) {
    struct counted *counted = context;
    const struct pages pages = asked_pages(&counted->fixture->asked);
    if (++counted->got == counted->hangs_up_at) {
        hang_up(counted->fixture);
    }
    return pages.get(pages.context, size);
}

static void give_counted(void *context, void *block, size_t size) {
    struct counted *counted = context;
    const struct pages pages = asked_pages(&counted->fixture->asked);
    pages.give(pages.context, block, size);
}

static outcome try_out(struct counted *counted, struct problem *ret_problem) {
    const struct bench *bench = counted->fixture->seat->bench;
    const struct view_look look = {.zoom = 1, .layer = text_of("sight")};
    struct arena arena;
    struct text_builder out;
    arena_init(&arena, (struct pages){.get = get_counted, .give = give_counted, .context = counted},
            0);
    text_builder_init(&out, &arena);
    const outcome done = asked_outcome(&counted->fixture->asked,
            trying_add(bench_path(bench), bench_search(bench), NULL, 0, &look, &out, ret_problem),
            ret_problem);
    arena_finish(&arena);
    return done;
}

static void what_works_it_out_ends_where_the_page_hangs_up(void **state) {
    struct fixture *fixture = *state;
    struct counted whole = {.fixture = fixture};
    struct problem problem = {0};
    assert_true(try_out(&whole, &problem).good);
    assert_true(whole.got > 4);
    struct counted half = {.fixture = fixture, .hangs_up_at = whole.got / 2};
    assert_false(try_out(&half, &problem).good);
    assert_int_equal(problem.kind, PROBLEM_STOPPED);
    assert_in_range(half.got, whole.got / 2, whole.got / 2 + 2);
}

static void a_refusal_that_is_still_wanted_keeps_its_cause(void **state) {
    struct fixture *fixture = *state;
    struct problem problem = {.kind = PROBLEM_MISSING, .text = "there is no such room"};
    assert_false(asked_outcome(&fixture->asked, (outcome){.good = false}, &problem).good);
    assert_int_equal(problem.kind, PROBLEM_MISSING);
}

int main(void) {
#define ASKED_TEST(name) cmocka_unit_test_setup_teardown(name, open_asked, close_asked)
    const struct CMUnitTest tests[] = {
            ASKED_TEST(it_is_wanted_until_something_overtakes_it),
            ASKED_TEST(last_words_do_not_hide_that_it_has_gone),
            ASKED_TEST(nobody_wants_it_once_the_bench_closes),
            ASKED_TEST(what_works_it_out_ends_where_the_page_hangs_up),
            ASKED_TEST(a_refusal_that_is_still_wanted_keeps_its_cause),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
