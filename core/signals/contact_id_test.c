/* Contact ID by itself and in a frame's data. */
#include "signals/contact_id.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

/* Source: the first row is believed to be the worked example of DC-05-1999.09 (from memory); all sums were
 * recomputed. */
static const char *const known[] = {
        "1234 18 1131 01 015 8",
        "1234 18 3131 01 015 6",
        "1234 18 1401 02 003 5",
        "1234 18 1602 00 000 2",
        "1234 18 3401 02 003 3",
        "1234 18 6570 01 008 4",
        "1234 18 1301 00 000 6",
        "BCDE 18 6110 02 003 8",
        "F00F 98 1100 05 012 3",
        "5555 18 1130 00 007 E",
        "1234 18 1130 01 019 0",
        "1234 18 1130 01 018 B",
        "1234 18 1130 01 017 C",
        "1234 18 1130 01 016 D",
        "1234 18 1130 01 014 F",
};

enum { KNOWN_COUNT = sizeof known / sizeof known[0] };

static struct text without_spaces(const char *from, char room[24]) {
    size_t length = 0;
    for (size_t i = 0; from[i] != '\0'; i++) {
        if (from[i] != ' ') {
            room[length++] = from[i];
        }
    }
    return (struct text){room, length};
}

static void known_messages_there_and_back(void **state) {
    (void)state;
    for (size_t i = 0; i < KNOWN_COUNT; i++) {
        struct contact_id_message message;
        struct contact_id_message again;
        char room[24];
        char written[CONTACT_ID_MESSAGE_LENGTH];
        struct text bare = without_spaces(known[i], room);
        assert_true(contact_id_read(text_of(known[i]), &message, NULL));
        assert_true(contact_id_read(bare, &again, NULL));
        assert_memory_equal(again.account, message.account, 4);
        contact_id_write(message, written);
        assert_int_equal(bare.length, sizeof written);
        assert_memory_equal(written, bare.start, sizeof written);
    }
}

static void the_parts_of_a_message(void **state) {
    (void)state;
    struct contact_id_message message;
    assert_true(contact_id_read(text_of("F00F 98 1100 05 012 3"), &message, NULL));
    assert_memory_equal(message.account, "F00F", 4);
    assert_int_equal(message.type, 98);
    assert_int_equal(message.event.qualifier, CONTACT_ID_NEW);
    assert_int_equal(message.event.code, 100);
    assert_int_equal(message.event.group, 5);
    assert_int_equal(message.event.number, 12);
}

/* The fifteen values are all different modulo 15 but for 0 and 15, so one garbled symbol is always noticed. */
static void one_wrong_symbol_is_always_noticed(void **state) {
    (void)state;
    static const char symbols[] = "1234567890BCDEF";
    for (size_t i = 0; i < KNOWN_COUNT; i++) {
        char room[24];
        struct text bare = without_spaces(known[i], room);
        for (size_t at = 0; at < bare.length; at++) {
            char right = room[at];
            for (size_t s = 0; symbols[s] != '\0'; s++) {
                struct contact_id_message message;
                struct signal_fault fault = {0};
                room[at] = symbols[s];
                if (symbols[s] != right) {
                    assert_false(contact_id_read(bare, &message, &fault));
                    assert_int_equal(fault.kind, SIGNAL_FAULT_CHECK_DIGIT);
                }
            }
            room[at] = right;
        }
    }
}

static void refused(const char *text, bool message, enum signal_fault_kind kind, size_t at) {
    struct signal_fault fault = {0};
    struct contact_id_message whole;
    struct contact_id event;
    assert_false(message ? contact_id_read(text_of(text), &whole, &fault)
                         : contact_id_read_event(text_of(text), 100, &event, &fault));
    assert_int_equal(fault.kind, kind);
    assert_int_equal(fault.at, at);
}

static void what_is_wrong_is_said_with_its_byte(void **state) {
    (void)state;
    refused("", true, SIGNAL_FAULT_ENDS_EARLY, 0);
    refused("1234 18 1131 01 015", true, SIGNAL_FAULT_ENDS_EARLY, 19);
    refused("1234 18 1131 01 015 8 8", true, SIGNAL_FAULT_TRAILING, 22);
    refused("A234 18 1131 01 015 8", true, SIGNAL_FAULT_BYTE, 0);
    refused("1234 18 1131 01 015 7", true, SIGNAL_FAULT_CHECK_DIGIT, 20);
    refused("1234 17 1131 01 015 9", true, SIGNAL_FAULT_MESSAGE_TYPE, 5);
    refused("1234 18 2131 01 015 7", true, SIGNAL_FAULT_QUALIFIER, 8);
    refused("", false, SIGNAL_FAULT_ENDS_EARLY, 100);
    refused("2130 01 015", false, SIGNAL_FAULT_QUALIFIER, 100);
    refused("1B30 01 015", false, SIGNAL_FAULT_CODE, 101);
    refused("1130-01 015", false, SIGNAL_FAULT_SPACE, 104);
    refused("1130 0x 015", false, SIGNAL_FAULT_GROUP, 106);
    refused("1130 01 01 ", false, SIGNAL_FAULT_NUMBER, 110);
    refused("1130 01 015 ", false, SIGNAL_FAULT_TRAILING, 111);
}

static void every_event_there_and_back(void **state) {
    (void)state;
    static const enum contact_id_qualifier qualifiers[] = {
            CONTACT_ID_NEW, CONTACT_ID_BACK, CONTACT_ID_STILL};
    for (unsigned i = 0; i < 3000; i++) {
        struct contact_id event = {.qualifier = qualifiers[i % 3],
                .code = (uint16_t)(i * 7 % 1000),
                .group = (uint8_t)(i % 100),
                .number = (uint16_t)(i * 3 % 1000)};
        struct contact_id again;
        char written[CONTACT_ID_EVENT_LENGTH];
        contact_id_write_event(event, written);
        assert_true(contact_id_read_event((struct text){written, sizeof written}, 0, &again, NULL));
        assert_int_equal(again.qualifier, event.qualifier);
        assert_int_equal(again.code, event.code);
        assert_int_equal(again.group, event.group);
        assert_int_equal(again.number, event.number);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(known_messages_there_and_back),
            cmocka_unit_test(the_parts_of_a_message),
            cmocka_unit_test(one_wrong_symbol_is_always_noticed),
            cmocka_unit_test(what_is_wrong_is_said_with_its_byte),
            cmocka_unit_test(every_event_there_and_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
