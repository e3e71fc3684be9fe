/* What happened, to a code, and back to what happened. */
#include "signals/meaning.h"

#include "signals/code.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

static bool one_condition(enum event_kind kind) {
    return kind != EVENT_SET && kind != EVENT_UNSET && kind != EVENT_FORCED_SET;
}

static void every_kind_is_said_and_understood(void **state) {
    (void)state;
    for (int i = 0; i < EVENT_KIND_COUNT; i++) {
        enum event_kind kind = (enum event_kind)i;
        for (int back = 0; back < 2; back++) {
            enum contact_id_qualifier qualifier = CONTACT_ID_NEW;
            uint16_t code = 0;
            if (signal_contact_id_of(kind, back == 1, &qualifier, &code)) {
                struct signal_meaning meaning = signal_meaning_of_contact_id(qualifier, code);
                assert_non_null(signal_contact_id(code));
                assert_int_equal(meaning.kind, kind);
                assert_int_equal(meaning.back, back == 1);
            } else {
                /* an early warning and masking have no code of their own; to set has no end */
                assert_true(kind == EVENT_ENTRY_STARTED || kind == EVENT_MASKED ||
                        (back == 1 && !one_condition(kind)));
            }
        }
    }
}

static void every_sia_code_that_is_said_is_in_the_table(void **state) {
    (void)state;
    for (int i = 0; i < EVENT_KIND_COUNT; i++) {
        enum event_kind kind = (enum event_kind)i;
        for (int back = 0; back < 2; back++) {
            const char *code = signal_sia_of(kind, back == 1);
            if (code == NULL) {
                continue;
            }
            struct signal_meaning meaning = signal_meaning_of_sia(text_of(code));
            assert_non_null(signal_sia(text_of(code)));
            assert_int_equal(meaning.back, back == 1);
            /* duress is said by the hold-up's letters and CO by gas: the format has no letters of their own */
            assert_true(meaning.kind == kind || kind == EVENT_DURESS || kind == EVENT_CO);
        }
    }
}

/* Source: ANSI/SIA DC-05-1999.09: 1 opens and 3 closes in class 4; from memory, sure. */
static void closing_and_opening_are_told_apart_by_the_qualifier(void **state) {
    (void)state;
    assert_int_equal(signal_meaning_of_contact_id(CONTACT_ID_BACK, 401).kind, EVENT_SET);
    assert_int_equal(signal_meaning_of_contact_id(CONTACT_ID_NEW, 401).kind, EVENT_UNSET);
    assert_int_equal(signal_meaning_of_contact_id(CONTACT_ID_STILL, 401).kind, EVENT_KIND_COUNT);
    assert_int_equal(signal_meaning_of_contact_id(CONTACT_ID_BACK, 441).kind, EVENT_SET);
    assert_true(signal_meaning_of_contact_id(CONTACT_ID_BACK, 134).back);
    assert_true(signal_meaning_of_contact_id(CONTACT_ID_STILL, 570).still);
    assert_int_equal(signal_meaning_of_contact_id(CONTACT_ID_NEW, 602).kind, EVENT_KIND_COUNT);
    assert_int_equal(signal_meaning_of_contact_id(CONTACT_ID_NEW, 0).kind, EVENT_KIND_COUNT);
    assert_int_equal(signal_meaning_of_sia(text_of("RP")).kind, EVENT_KIND_COUNT);
}

/* A module's number is no zone's, and what the panel bypasses by itself nobody did. */
static void of_a_module_or_by_itself(void **state) {
    (void)state;
    static const struct {
        uint16_t code;
        enum event_kind kind;
        enum signal_whose whose;
    } rows[] = {
            {145, EVENT_TAMPER, SIGNAL_OF_MODULE},
            {338, EVENT_LOW_BATTERY, SIGNAL_OF_MODULE},
            {341, EVENT_TAMPER, SIGNAL_OF_MODULE},
            {575, EVENT_BYPASS, SIGNAL_OF_ITSELF},
            {137, EVENT_TAMPER, SIGNAL_OF_NUMBER},
            {383, EVENT_TAMPER, SIGNAL_OF_NUMBER},
            {384, EVENT_LOW_BATTERY, SIGNAL_OF_NUMBER},
            {573, EVENT_BYPASS, SIGNAL_OF_NUMBER},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct signal_meaning meaning =
                signal_meaning_of_contact_id(CONTACT_ID_BACK, rows[i].code);
        assert_int_equal(meaning.kind, rows[i].kind);
        assert_int_equal(meaning.whose, rows[i].whose);
    }
    assert_int_equal(signal_meaning_of_sia(text_of("ES")).whose, SIGNAL_OF_MODULE);
    assert_int_equal(signal_meaning_of_sia(text_of("EJ")).whose, SIGNAL_OF_MODULE);
    assert_int_equal(signal_meaning_of_sia(text_of("TA")).whose, SIGNAL_OF_NUMBER);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(every_kind_is_said_and_understood),
            cmocka_unit_test(every_sia_code_that_is_said_is_in_the_table),
            cmocka_unit_test(closing_and_opening_are_told_apart_by_the_qualifier),
            cmocka_unit_test(of_a_module_or_by_itself),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
