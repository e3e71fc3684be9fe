/* Life safety and calls for help: what is found, and what is not. */
#include "rules/test_rules.h"

static void behave(struct house *house, int zone, enum site_behaviour behaviour) {
    house->zones[zone].behaviour = behaviour;
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        house->zones[zone].in[mode] = behaviour;
    }
}

static void a_smoke_detector_that_may_be_bypassed_is_a_fault(void **state) {
    struct house *house = *state;
    house->zones[ALARM].bypassable = true;
    const struct finding *finding =
            house_has(house, FINDING_FAULT, "life-safety.bypassable", "zones[5].bypassable");
    assert_true(text_is(finding->headline,
            "zone 6 \"kitchen smoke\" can be left out after burnt toast, and stays out"));
}

static void a_button_that_may_be_bypassed_is_a_risk(void **state) {
    struct house *house = *state;
    house->zones[PANIC].bypassable = true;
    (void)house_has(house, FINDING_RISK, "hold-up.bypassable", "zones[4].bypassable");
}

static void fire_in_every_mode(void **state) {
    struct house *house = *state;
    house->zones[ALARM].in[SITE_MODE_NIGHT] = SITE_OUT;
    (void)house_has(house, FINDING_FAULT, "life-safety.left-out", "zones[5].in");
    /* A mode that the panel does not have says nothing. */
    house->zones[ALARM].in[SITE_MODE_NIGHT] = SITE_FIRE;
    house->zones[ALARM].in[SITE_MODE_MAX - 1] = SITE_OUT;
    house_is_clean(house);
}

static void smoke_and_gas_are_no_burglary(void **state) {
    struct house *house = *state;
    behave(house, ALARM, SITE_ALWAYS);
    const struct finding *finding =
            house_has(house, FINDING_FAULT, "life-safety.behaviour", "zones[5].behaviour");
    assert_non_null(strstr(finding->why.start, "the report waits for the abort window of 30 s"));
    house->profiles[SMOKE].sense = SITE_GAS_SENSE;
    (void)house_has(house, FINDING_FAULT, "life-safety.behaviour", "zones[5].behaviour");
    behave(house, ALARM, SITE_CO);
    house_is_clean(house);
    behave(house, ALARM, SITE_GAS);
    house_is_clean(house);
}

static void only_what_senses_fire_calls_the_fire_brigade(void **state) {
    struct house *house = *state;
    house->profiles[SMOKE].sense = SITE_GLASS;
    (void)house_has(house, FINDING_FAULT, "life-safety.wrong-device", "zones[5].behaviour");
    house->profiles[SMOKE].sense = SITE_GAS_SENSE;
    house_look(house); /* gas on a fire zone: both what it is not, and what it should be */
    assert_int_equal(house->count, 2);
    house->profiles[SMOKE].sense = SITE_CONTACT; /* the output of another detector */
    house_is_clean(house);
}

static void a_button_calls_by_itself(void **state) {
    struct house *house = *state;
    behave(house, PANIC, SITE_ALWAYS);
    (void)house_has(house, FINDING_RISK, "hold-up.behaviour", "zones[4].behaviour");
    behave(house, PANIC, SITE_MEDICAL);
    house_is_clean(house);
}

static void a_leak_is_no_burglary(void **state) {
    struct house *house = *state;
    house->profiles[SMOKE].sense = SITE_WATER;
    behave(house, ALARM, SITE_ALWAYS);
    (void)house_has(house, FINDING_RISK, "zones.leak-as-burglary", "zones[5].behaviour");
    behave(house, ALARM, SITE_FLOOD);
    house_is_clean(house);
}

/* Source: rules.md 1.3 H, common practice: never pair fire. */
static void fire_has_no_partner(void **state) {
    struct house *house = *state;
    house->zones[ALARM].cross_with = PANIC;
    house->zones[PANIC].cross_with = ALARM;
    house_look(house);
    assert_int_equal(house->count, 2);
    assert_true(text_is(house->findings[0].id, "life-safety.cross-zone"));
    assert_true(text_is(house->findings[1].place, "zones[5].cross-with"));
}

static void the_swinger_limit_is_for_burglary_zones(void **state) {
    struct house *house = *state;
    house->zones[ALARM].swinger = true;
    (void)house_has(house, FINDING_RISK, "life-safety.swinger", "zones[5].swinger");
    house->site.settings.swinger_limit = 0;
    house_is_clean(house);
}

static void a_call_counts_at_once(void **state) {
    struct house *house = *state;
    house->zones[PANIC].pulse_count = 2;
    (void)house_has(house, FINDING_RISK, "life-safety.pulses", "zones[4].pulse-count");
    house->zones[PANIC].pulse_count = 1;
    house->zones[GARDEN].pulse_count = 3;
    house_is_clean(house);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            HOUSE_TEST(a_smoke_detector_that_may_be_bypassed_is_a_fault),
            HOUSE_TEST(a_button_that_may_be_bypassed_is_a_risk),
            HOUSE_TEST(fire_in_every_mode),
            HOUSE_TEST(smoke_and_gas_are_no_burglary),
            HOUSE_TEST(only_what_senses_fire_calls_the_fire_brigade),
            HOUSE_TEST(a_button_calls_by_itself),
            HOUSE_TEST(a_leak_is_no_burglary),
            HOUSE_TEST(fire_has_no_partner),
            HOUSE_TEST(the_swinger_limit_is_for_burglary_zones),
            HOUSE_TEST(a_call_counts_at_once),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
