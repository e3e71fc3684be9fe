/* Event texts of the SIA format. */
#include "signals/sia.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static void *get(void *context, size_t size) {
    (void)context;
    return malloc(size);
}

static void give(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

static void texts_there_and_back(void **state) {
    (void)state;
    static const char *const texts[] = {"Nri1/BA015", "NBA15", "OBA", "Nti10:15/ri1/id003/CL3",
            "Nri1/BA15/BA16/BB0017", "NRP", "Npi00/YC", "Nva27.3/ZA1"};
    struct arena arena;
    arena_init(&arena, (struct pages){.get = get, .give = give}, 0);
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        struct sia sia;
        struct text_builder out;
        assert_true(sia_read(text_of(texts[i]), 0, &sia, NULL));
        text_builder_init(&out, &arena);
        sia_write(&sia, &out);
        assert_true(text_is(text_built(&out), texts[i]));
    }
    arena_finish(&arena);
}

static void the_parts(void **state) {
    (void)state;
    struct sia sia;
    assert_true(sia_read(text_of("Nri1/BA015"), 0, &sia, NULL));
    assert_false(sia.old);
    assert_int_equal(sia.count, 2);
    assert_true(sia.parts[0].modifier);
    assert_string_equal(sia_modifier_name(sia.parts[0].code), "area");
    assert_true(text_is(sia.parts[0].value, "1"));
    assert_false(sia.parts[1].modifier);
    assert_true(text_is(sia.parts[1].code, "BA"));
    assert_true(text_is(sia.parts[1].value, "015"));
    assert_string_equal(sia_modifier_name(text_of("zz")), "");
}

static void what_is_wrong_is_said_with_its_byte(void **state) {
    (void)state;
    static const struct {
        const char *text;
        enum signal_fault_kind kind;
        size_t at;
    } bad[] = {
            {"", SIGNAL_FAULT_NEW_OR_OLD, 10},
            {"BA015", SIGNAL_FAULT_NEW_OR_OLD, 10},
            {"N", SIGNAL_FAULT_CODE, 11},
            {"Nri1", SIGNAL_FAULT_CODE, 14},
            {"Nri1/", SIGNAL_FAULT_CODE, 15},
            {"Nri/BA1", SIGNAL_FAULT_MODIFIER, 11},
            {"NrI1/BA1", SIGNAL_FAULT_MODIFIER, 11},
            {"NBa1", SIGNAL_FAULT_CODE, 11},
            {"NBA01502", SIGNAL_FAULT_NUMBER, 17},
            {"NBA1x", SIGNAL_FAULT_NUMBER, 14},
            {"Nva1|2/BA1", SIGNAL_FAULT_BYTE, 14},
    };
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        struct sia sia;
        struct signal_fault fault = {0};
        assert_false(sia_read(text_of(bad[i].text), 10, &sia, &fault));
        assert_int_equal(fault.kind, bad[i].kind);
        assert_int_equal(fault.at, bad[i].at);
    }
}

static void more_parts_than_there_is_room_for(void **state) {
    (void)state;
    char text[4 * (SIA_PART_MAX + 2)] = "N";
    for (int i = 0; i < SIA_PART_MAX; i++) {
        strcat(text, i == 0 ? "BA1" : "/BA1");
    }
    struct sia sia;
    struct signal_fault fault = {0};
    assert_true(sia_read(text_of(text), 0, &sia, NULL));
    strcat(text, "/BA1");
    assert_false(sia_read(text_of(text), 0, &sia, &fault));
    assert_int_equal(fault.kind, SIGNAL_FAULT_TOO_MANY);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(texts_there_and_back),
            cmocka_unit_test(the_parts),
            cmocka_unit_test(what_is_wrong_is_said_with_its_byte),
            cmocka_unit_test(more_parts_than_there_is_room_for),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
