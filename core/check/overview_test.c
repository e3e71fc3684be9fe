/* Many sites: what comes first, what the whole stands for, and that sorting loses nobody. */
#include "check/overview.h"

#include "check/test_site.h"

#include <stdlib.h>

static struct overview_site site_of(
        const char *file, size_t faults, size_t unsettled, size_t risks, size_t notes) {
    return (struct overview_site){
            .file = text_of(file), .weights = {faults, risks, notes}, .unsettled = unsettled};
}

static void the_worst_come_first(void **state) {
    (void)state;
    struct overview_site sites[] = {
            site_of("g", 0, 0, 0, 0),
            site_of("f", 0, 0, 0, 2),
            site_of("e", 0, 0, 3, 0),
            site_of("d", 0, 1, 0, 0),
            site_of("c", 1, 0, 9, 9),
            site_of("b2", 4, 0, 0, 0),
            site_of("b", 4, 0, 0, 0),
            site_of("a", 0, 0, 0, 0),
    };
    sites[7].unreadable = true;
    overview_sort(sites, 8);
    static const char *const order[] = {"a", "b", "b2", "c", "d", "e", "f", "g"};
    for (size_t i = 0; i < 8; i++) {
        assert_true(text_is(sites[i].file, order[i]));
    }
}

static void sorting_loses_nobody(void **state) {
    (void)state;
    enum { MOST = 200 };
    struct overview_site sites[MOST];
    uint32_t random = 7;
    for (size_t count = 0; count < MOST; count++) {
        size_t sum = 0;
        for (size_t i = 0; i < count; i++) {
            random = random * 1664525U + 1013904223U;
            sites[i] = site_of("x", random >> 28, 0, 0, i);
            sum += i;
        }
        overview_sort(sites, count);
        for (size_t i = 0; i < count; i++) {
            sum -= sites[i].weights[FINDING_NOTE];
            assert_true(i == 0 ||
                    sites[i - 1].weights[FINDING_FAULT] > sites[i].weights[FINDING_FAULT] ||
                    (sites[i - 1].weights[FINDING_FAULT] == sites[i].weights[FINDING_FAULT] &&
                            sites[i - 1].weights[FINDING_NOTE] > sites[i].weights[FINDING_NOTE]));
        }
        assert_int_equal(sum, 0);
    }
}

static void the_whole_is_as_bad_as_the_worst(void **state) {
    (void)state;
    struct overview_site sites[] = {site_of("a", 0, 0, 5, 5), site_of("b", 0, 1, 0, 0),
            site_of("c", 1, 1, 0, 0), site_of("d", 0, 0, 0, 0), site_of("e", 0, 0, 0, 0)};
    sites[3].unreadable = true;
    sites[4].stopped = true;
    static const int worst[] = {0, 0, 3, 1, 2, CHECK_EXIT_STOPPED};
    for (size_t count = 0; count <= 5; count++) {
        assert_int_equal(overview_worst(sites, count), worst[count]);
    }
}

static void a_break_in_that_is_not_settled_counts(void **state) {
    (void)state;
    struct break_in list[] = {{.verdict = BREAK_INS_IN_TIME}, {.verdict = BREAK_INS_NOT_SETTLED}};
    const struct site site = {.name = text_of("a")};
    struct check_report report = {.unsettled = 1, .break_ins = {.list = list, .count = 2}};
    assert_int_equal(overview_of(&site, &report, text_of("a.yaml")).unsettled, 2);
    report.unsettled = 0;
    const struct overview_site it = overview_of(&site, &report, text_of("a.yaml"));
    assert_int_equal(overview_exit_status(&it), check_exit_status(&report));
    assert_int_equal(overview_exit_status(&it), 3);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(the_worst_come_first),
            cmocka_unit_test(sorting_loses_nobody),
            cmocka_unit_test(the_whole_is_as_bad_as_the_worst),
            cmocka_unit_test(a_break_in_that_is_not_settled_counts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
