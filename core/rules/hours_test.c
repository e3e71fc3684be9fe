/* Hours: what is found, and what is not. */
#include "rules/test_rules.h"

static void a_duress_code_keeps_no_hours(void **state) {
    struct house *house = *state;
    house->people[GUEST].has_hours = true;
    house->people[GUEST].hours = span_of(22 * 3600, 30 * 3600);
    house_is_clean(house);
    house->people[GUEST].duress = true;
    const struct finding *finding =
            house_has(house, FINDING_RISK, "users.duress-hours", "people[1].hours");
    assert_true(text_is(
            finding->headline, "the duress code of the guest calls nobody outside its hours"));
    assert_true(text_is(finding->why,
            "a code is turned away outside its hours, a duress code too: it is taken from 22:00 to "
            "06:00 only"));
    house->people[GUEST].has_hours = false;
    house_is_clean(house);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            HOUSE_TEST(a_duress_code_keeps_no_hours),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
