/* What is written, read by jansson: a reader that is not ours. */
#include "base/json.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <jansson.h>
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

/* A writer with its arena and builder. */
struct bench {
    struct arena arena;
    struct text_builder out;
    struct json_writer json;
};

static void open_bench(struct bench *bench) {
    arena_init(&bench->arena, (struct pages){.get = get_page, .give = give_page}, 0);
    text_builder_init(&bench->out, &bench->arena);
    json_init(&bench->json, &bench->out);
}

/* What jansson reads; it refuses ill-formed UTF-8, double keys and anything after the end. Gives a reference. */
static json_t *read_back(struct bench *bench) {
    const struct text written = text_built(&bench->out);
    json_error_t error;
    json_t *value = json_loadb(written.start, written.length,
            JSON_REJECT_DUPLICATES | JSON_DECODE_ANY | JSON_ALLOW_NUL, &error);
    if (value == NULL) {
        fail_msg("line %d: %s in %.*s", error.line, error.text, TEXT_ARGS(written));
    }
    return value;
}

static void everything_is_read_back(void **state) {
    (void)state;
    struct bench bench;
    open_bench(&bench);
    json_open_object(&bench.json, NULL);
    json_add_string(&bench.json, "name", "Quayside");
    json_open_array(&bench.json, "zones");
    json_add_integer(&bench.json, NULL, 1);
    json_add_integer(&bench.json, NULL, -2);
    json_open_array(&bench.json, NULL);
    json_close_array(&bench.json);
    json_open_object(&bench.json, NULL);
    json_add_bool(&bench.json, "set", true);
    json_add_bool(&bench.json, "ready", false);
    json_add_null(&bench.json, "margin");
    json_close_object(&bench.json);
    json_close_array(&bench.json);
    json_open_object(&bench.json, "empty");
    json_close_object(&bench.json);
    json_add_integer(&bench.json, "low", INT64_MIN);
    json_add_integer(&bench.json, "high", INT64_MAX);
    json_add_number(&bench.json, "level_dbm", -87.3248, 2);
    json_close_object(&bench.json);

    json_t *value = read_back(&bench);
    json_t *expected = json_pack("{s:s, s:[i, i, [], {s:b, s:b, s:n}], s:{}, s:I, s:I, s:f}",
            "name", "Quayside", "zones", 1, -2, "set", 1, "ready", 0, "margin", "empty", "low",
            (json_int_t)INT64_MIN, "high", (json_int_t)INT64_MAX, "level_dbm", -87.32);
    assert_non_null(expected);
    assert_true(json_equal(value, expected));
    json_decref(expected);
    json_decref(value);
    arena_finish(&bench.arena);
}

/* The layout people and their tools compare by. */
static void layout_is_fixed(void **state) {
    (void)state;
    struct bench bench;
    open_bench(&bench);
    json_open_object(&bench.json, NULL);
    json_open_array(&bench.json, "a");
    json_add_integer(&bench.json, NULL, 1);
    json_add_integer(&bench.json, NULL, 2);
    json_close_array(&bench.json);
    json_open_object(&bench.json, "b");
    json_close_object(&bench.json);
    json_close_object(&bench.json);
    assert_string_equal(
            text_built(&bench.out).start, "{\n  \"a\": [\n    1,\n    2\n  ],\n  \"b\": {}\n}\n");
    arena_finish(&bench.arena);
}

static void assert_reads_as(struct text written, struct text expected) {
    struct bench bench;
    open_bench(&bench);
    json_open_array(&bench.json, NULL);
    json_add_text(&bench.json, NULL, written);
    json_close_array(&bench.json);
    json_t *value = read_back(&bench);
    const json_t *string = json_array_get(value, 0);
    assert_int_equal(json_string_length(string), expected.length);
    if (expected.length > 0) {
        assert_memory_equal(json_string_value(string), expected.start, expected.length);
    }
    json_decref(value);
    arena_finish(&bench.arena);
}

static void assert_same(const char *string) {
    assert_reads_as(text_of(string), text_of(string));
}

static void hostile_strings_come_back_the_same(void **state) {
    (void)state;
    assert_same("");
    assert_reads_as((struct text){0}, text_of(""));
    assert_same("\"");
    assert_same("\\");
    assert_same("\\\"\\u0041\\n");
    assert_same("</script><!-- ]]>");
    assert_same("{\"a\": [1, 2]}");
    assert_same("\x7F");
    assert_same("line\nline\r\ttab\b\f");
    assert_same("\xE2\x80\xA8 and \xE2\x80\xA9"); /* U+2028, U+2029 */
    assert_same("\xE2\x80\xA7 and \xE2\x80\xAA"); /* their neighbours */
    assert_same("\xC2\x80 \xDF\xBF \xE0\xA0\x80 \xED\x9F\xBF \xEE\x80\x80 \xEF\xBF\xBF");
    assert_same("\xF0\x90\x80\x80 \xF4\x8F\xBF\xBF");
    for (char byte = 1; byte < 0x7F; byte++) {
        const struct text one = {.start = &byte, .length = 1};
        assert_reads_as(one, one);
    }
    const struct text nul_inside = {.start = "a\0b", .length = 3};
    assert_reads_as(nul_inside, nul_inside);
}

/* Two line ends to JavaScript, which once broke on them inside a string: they leave as escapes (ours to choose: RFC
 * 8259, section 7, "any character may be escaped"). */
static void line_ends_of_scripts_are_escaped(void **state) {
    (void)state;
    struct bench bench;
    open_bench(&bench);
    json_add_string(&bench.json, NULL, "\xE2\x80\xA7\xE2\x80\xA8\xE2\x80\xA9\xE2\x80\xAA\x7F");
    assert_string_equal(
            text_built(&bench.out).start, "\"\xE2\x80\xA7\\u2028\\u2029\xE2\x80\xAA\\u007f\"");
    arena_finish(&bench.arena);
}

/* RFC 3629, section 4: no overlong forms, no surrogates, nothing over U+10FFFF, nothing cut short. */
static void ill_formed_bytes_are_replaced(void **state) {
    (void)state;
    static const char *const bad[] = {"\x80", "\xBF", "\xC0\x80", "\xC1\xBF", "\xC2",
            "\xE0\x80\x80", "\xE0\x9F\xBF", "\xED\xA0\x80", "\xED\xBF\xBF", "\xE2\x82",
            "\xF0\x80\x80\x80", "\xF0\x8F\xBF\xBF", "\xF4\x90\x80\x80", "\xF5\x80\x80\x80",
            "\xF0\x9F\x9A", "\xFE", "\xFF"};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        /* One U+FFFD for each byte that begins nothing, and what follows is read as it is. */
        char expected[32] = "<";
        char written[16] = "<";
        for (size_t j = 0; j < strlen(bad[i]); j++) {
            strcat(expected, "\xEF\xBF\xBD");
        }
        strcat(expected, ">");
        strcat(written, bad[i]);
        strcat(written, ">");
        assert_reads_as(text_of(written), text_of(expected));
    }
}

/* Nothing past the end of the slice is looked at: the slice ends inside a character. */
static void slices_cut_inside_a_character_are_fine(void **state) {
    (void)state;
    for (size_t length = 1; length < 4; length++) {
        char *exact = malloc(length);
        memcpy(exact, "\xF0\x9F\x9A\xAA", length);
        const struct text cut = {.start = exact, .length = length};
        assert_reads_as(cut,
                (struct text){
                        .start = "\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD", .length = 3 * length});
        free(exact);
    }
}

static void names_are_escaped_too(void **state) {
    (void)state;
    struct bench bench;
    open_bench(&bench);
    json_open_object(&bench.json, NULL);
    json_add_integer(&bench.json, "a\"\\\n", 1);
    json_close_object(&bench.json);
    json_t *value = read_back(&bench);
    assert_int_equal(json_integer_value(json_object_get(value, "a\"\\\n")), 1);
    json_decref(value);
    arena_finish(&bench.arena);
}

static void deepest_nesting_is_written(void **state) {
    (void)state;
    struct bench bench;
    open_bench(&bench);
    for (int i = 0; i < JSON_DEPTH_MAX - 1; i++) {
        json_open_array(&bench.json, NULL);
    }
    for (int i = 0; i < JSON_DEPTH_MAX - 1; i++) {
        json_close_array(&bench.json);
    }
    json_decref(read_back(&bench));
    arena_finish(&bench.arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(everything_is_read_back),
            cmocka_unit_test(layout_is_fixed),
            cmocka_unit_test(hostile_strings_come_back_the_same),
            cmocka_unit_test(line_ends_of_scripts_are_escaped),
            cmocka_unit_test(ill_formed_bytes_are_replaced),
            cmocka_unit_test(slices_cut_inside_a_character_are_fine),
            cmocka_unit_test(names_are_escaped_too),
            cmocka_unit_test(deepest_nesting_is_written),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
