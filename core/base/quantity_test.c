#include "base/quantity.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <locale.h>
#include <stdio.h>
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

static void assert_span(const char *source, int32_t low_s, int32_t high_s) {
    struct span span = {-1, -1};
    struct problem problem = {0};
    if (!quantity_read_span(text_of(source), &span, &problem).good) {
        fail_msg("%s is refused: %s", source, problem.text);
    }
    assert_int_equal(span.low_s, low_s);
    assert_int_equal(span.high_s, high_s);
}

/* Refused, with these words in the message, and nothing written. */
static void assert_refused_text(struct text source, enum problem_kind kind, const char *words) {
    struct span span = {-1, -1};
    struct problem problem = {0};
    if (quantity_read_span(source, &span, &problem).good) {
        fail_msg("%.*s is read as %d..%d", TEXT_ARGS(source), span.low_s, span.high_s);
    }
    if (problem.kind != kind || strstr(problem.text, words) == NULL) {
        fail_msg("%.*s: kind %d, text: %s", TEXT_ARGS(source), (int)problem.kind, problem.text);
    }
    assert_int_equal(span.low_s, -1);
    assert_int_equal(span.high_s, -1);
}

static void assert_refused(const char *source, enum problem_kind kind, const char *words) {
    assert_refused_text(text_of(source), kind, words);
}

/* Factors: SI brochure, 9th edition 2019, table 8 (min = 60 s, h = 3600 s, d = 86 400 s). */
static void times_are_read_in_each_unit(void **state) {
    (void)state;
    assert_span("30 s", 30, 30);
    assert_span("30s", 30, 30);
    assert_span("0 s", 0, 0);
    assert_span("15 min", 900, 900);
    assert_span("8 h", 28800, 28800);
    assert_span("2 d", 172800, 172800);
    assert_span("2000 ms", 2, 2);
    assert_span("1.5 min", 90, 90);
    assert_span("0.5 h", 1800, 1800);
    assert_span("0.05 h", 180, 180);
    assert_span("  30  s  ", 30, 30);
    assert_span("30\xC2\xA0s", 30, 30); /* U+00A0, no-break space */
}

static void several_units_go_together_downwards(void **state) {
    (void)state;
    assert_span("1 h 30 min", 5400, 5400);
    assert_span("2 min 5 s", 125, 125);
    assert_span("1h30min15s", 5415, 5415);
    assert_span("1 d 2 h", 93600, 93600);
    assert_span("1 h 59 min", 7140, 7140);
    const char *words = "several units";
    assert_refused("1 h 60 min", PROBLEM_UNREADABLE, words);
    assert_refused("30 min 1 h", PROBLEM_UNREADABLE, words);
    assert_refused("1 h 1 h", PROBLEM_UNREADABLE, words);
    assert_refused("1.5 h 5 min", PROBLEM_UNREADABLE, words);
    assert_refused("1 h 30", PROBLEM_UNREADABLE, "last number has no unit");
}

static void from_to_is_read(void **state) {
    (void)state;
    assert_span("4..9 s", 4, 9);
    assert_span("4 .. 9 s", 4, 9);
    assert_span("4s..9s", 4, 9);
    assert_span("45 s..2 min", 45, 120);
    assert_span("1 h..1 h 30 min", 3600, 5400);
    assert_span("7..7 s", 7, 7);
    assert_span("1.5..2.5 min", 90, 150);
    assert_span("1..2.5 min", 60, 150);
    assert_refused("9..4 s", PROBLEM_BAD_VALUE, "runs backwards");
    assert_refused("2 min..90 s", PROBLEM_BAD_VALUE, "runs backwards");
    assert_refused("4 s..9", PROBLEM_UNREADABLE, "no unit");
    assert_refused("4..", PROBLEM_UNREADABLE, "not a number");
    assert_refused("..9 s", PROBLEM_UNREADABLE, "not a number");
    assert_refused("4...9 s", PROBLEM_UNREADABLE, "not a number");
    assert_refused("4..9..12 s", PROBLEM_UNREADABLE, "\"..12 s\" is too much");
    assert_refused("1..1 h 30 min", PROBLEM_UNREADABLE, "the unit at both ends");
    assert_refused("4-9 s", PROBLEM_UNREADABLE, "two points: 4..9 s");
    assert_refused("4 to 9 s", PROBLEM_UNREADABLE, "two points: 4..9 s");
    assert_refused("4 s - 9 s", PROBLEM_UNREADABLE, "two points: 4 s..9 s");
    assert_refused("1 h - 1 h 30 min", PROBLEM_UNREADABLE, "two points: 1 h..1 h 30 min");
    assert_refused("4\xE2\x80\x93"
                   "9 s",
            PROBLEM_UNREADABLE, "two points: 4..9 s");
}

/* What a general reader took without a word ("30s" as 30, "3O" as 3, "12,8" as 12, "010" as 8, "nan"): tried on a YAML
 * binding of this system; see docs/dependencies.md. */
static void what_others_misread_is_refused(void **state) {
    (void)state;
    assert_refused("3O s", PROBLEM_UNREADABLE, "comes the letter O; is the digit 0 meant?");
    assert_refused("1l s", PROBLEM_UNREADABLE, "comes the letter l; is the digit 1 meant?");
    assert_refused("12,8 s", PROBLEM_UNREADABLE, "with a point, not with a comma: 12.8");
    assert_refused("010 s", PROBLEM_UNREADABLE, "begins with a zero; write 10");
    assert_refused("00 s", PROBLEM_UNREADABLE, "begins with a zero; write 0");
    assert_refused("00.5 min", PROBLEM_UNREADABLE, "begins with a zero");
    assert_refused("0x10 s", PROBLEM_UNREADABLE, "no unit is written \"x\"");
    assert_refused("nan", PROBLEM_UNREADABLE, "not a number with a unit");
    assert_refused("inf s", PROBLEM_UNREADABLE, "not a number with a unit");
    assert_refused("1e9 s", PROBLEM_UNREADABLE, "without an exponent");
    assert_refused("1E+2 s", PROBLEM_UNREADABLE, "without an exponent");
    assert_refused("-5 s", PROBLEM_BAD_VALUE, "\"-5 s\" is negative; a time is 0 or more");
    assert_refused("-0 s", PROBLEM_BAD_VALUE, "negative");
    assert_refused("+5 s", PROBLEM_UNREADABLE, "not a number with a unit");
    assert_refused(".5 min", PROBLEM_UNREADABLE, "write the 0 before the point: 0.5");
    assert_refused("5. s", PROBLEM_UNREADABLE, "after the point");
    assert_refused("1.2.3 s", PROBLEM_UNREADABLE, "after the point");
    assert_refused("30 s please", PROBLEM_UNREADABLE, "\"please\" is too much");
    assert_refused("30 5 s", PROBLEM_UNREADABLE, "\"5 s\" is too much");
    assert_refused("\xD9\xA3 s", PROBLEM_UNREADABLE, "not a number"); /* an Arabic-Indic digit */
    assert_refused("30\ts", PROBLEM_UNREADABLE, "no unit is written \"?s\"");
    assert_refused("yes", PROBLEM_UNREADABLE, "not a number with a unit; write for example 30 s");
    assert_refused("", PROBLEM_UNREADABLE, "nothing is written here; write for example 30 s");
    assert_refused("   ", PROBLEM_UNREADABLE, "nothing is written here");
    assert_refused_text((struct text){0}, PROBLEM_UNREADABLE, "nothing is written here");
    const struct text cut = {.start = "30 s\0 10 s", .length = 10};
    assert_refused_text(cut, PROBLEM_UNREADABLE, "no unit is written");
}

static void units_are_told_apart(void **state) {
    (void)state;
    assert_refused("30", PROBLEM_UNREADABLE, "\"30\" has no unit; write a time: s, min, h or d");
    assert_refused("30", PROBLEM_UNREADABLE, "for example 30 s");
    assert_refused("4..9", PROBLEM_UNREADABLE, "has no unit");
    assert_refused("30 m", PROBLEM_BAD_VALUE, "is a length; a time is expected here");
    assert_refused("30 m", PROBLEM_BAD_VALUE, "minutes are min");
    assert_refused("1.2 m/s", PROBLEM_BAD_VALUE, "is a speed; a time is expected");
    assert_refused("10 %", PROBLEM_BAD_VALUE, "is a percentage; a time is expected");
    assert_refused("30 sec", PROBLEM_UNREADABLE, "write s for sec");
    assert_refused("2 Hours", PROBLEM_UNREADABLE, "write h for Hours");
    assert_refused("30 S", PROBLEM_UNREADABLE, "written s, in small letters");
    assert_refused(
            "30 X", PROBLEM_UNREADABLE, "no unit is written \"X\"; here goes s, min, h or d");
    assert_refused("05:30", PROBLEM_UNREADABLE, "time of day; a time is expected here");
}

static void bounds_hold_on_both_sides(void **state) {
    (void)state;
    assert_span("6048000 s", SPAN_LONGEST_S, SPAN_LONGEST_S);
    assert_span("70 d", SPAN_LONGEST_S, SPAN_LONGEST_S);
    assert_span("0..70 d", 0, SPAN_LONGEST_S);
    assert_refused("6048001 s", PROBLEM_BAD_VALUE, "longer than 70 d");
    assert_refused("71 d", PROBLEM_BAD_VALUE, "longer than 70 d");
    assert_refused("0 s..71 d", PROBLEM_BAD_VALUE, "longer than 70 d");
    assert_refused("9999999 d", PROBLEM_BAD_VALUE, "longer than 70 d");
    assert_refused("9999999.999 d 23 h", PROBLEM_UNREADABLE, "several units");
    assert_refused("10000000 ms", PROBLEM_BAD_VALUE, "at most 7 digits");
    assert_refused("99999999999999999999999999 s", PROBLEM_BAD_VALUE, "at most 7 digits");
    assert_span("1.500 min", 90, 90);
    assert_refused("1.5000 min", PROBLEM_BAD_VALUE, "at most 3 decimals");
    assert_refused("0.5 s", PROBLEM_BAD_VALUE, "not a whole number of seconds");
    assert_refused("0.5..1 s", PROBLEM_BAD_VALUE, "not a whole number of seconds");
    assert_refused("1..1.5 s", PROBLEM_BAD_VALUE, "not a whole number of seconds");
    assert_refused("0.001 h", PROBLEM_BAD_VALUE, "not a whole number of seconds");
    assert_refused("999 ms", PROBLEM_BAD_VALUE, "not a whole number of seconds");
    assert_span("1000 ms", 1, 1);
    assert_span("                                                            30 s", 30, 30);
    assert_refused("                                                             30 s",
            PROBLEM_UNREADABLE, "65 bytes long");
}

static void one_time_is_no_from_to(void **state) {
    (void)state;
    struct problem problem = {0};
    int32_t seconds_s = -1;
    assert_true(quantity_read_seconds(text_of("1.5 min"), &seconds_s, &problem).good);
    assert_int_equal(seconds_s, 90);
    seconds_s = -1;
    assert_false(quantity_read_seconds(text_of("4..9 s"), &seconds_s, &problem).good);
    assert_non_null(strstr(problem.text, "\"4..9 s\" is a from-to; one time is expected here"));
    assert_false(quantity_read_seconds(text_of("4..4 s"), &seconds_s, NULL).good);
    assert_false(quantity_read_seconds(text_of("4"), &seconds_s, NULL).good);
    assert_int_equal(seconds_s, -1);
}

static void assert_quantity(const char *source, enum quantity_kind kind, double low, double high) {
    struct quantity quantity = {-1, -1, QUANTITY_KIND_COUNT};
    assert_true(quantity_read(text_of(source), kind, &quantity, NULL).good);
    /* Not "near": a decimal is read to the nearest double, as strtod reads it. */
    assert_true(quantity.low == low && quantity.high == high);
    assert_int_equal(quantity.kind, kind);
}

static void other_kinds_are_read(void **state) {
    (void)state;
    assert_quantity("8 mm", QUANTITY_LENGTH_M, 0.008, 0.008);
    assert_quantity("12.5 mm", QUANTITY_LENGTH_M, 0.0125, 0.0125);
    assert_quantity("240 cm", QUANTITY_LENGTH_M, 2.4, 2.4);
    assert_quantity("0.5..3 m", QUANTITY_LENGTH_M, 0.5, 3);
    assert_quantity("0.9..1.4 m/s", QUANTITY_SPEED_M_S, 0.9, 1.4);
    assert_quantity("10 %", QUANTITY_PERCENT, 10, 10);
    assert_quantity("2.5%", QUANTITY_PERCENT, 2.5, 2.5);
    assert_quantity("0.25 s", QUANTITY_TIME_S, 0.25, 0.25);
    assert_quantity("300 ms", QUANTITY_TIME_S, 0.3, 0.3);
    assert_quantity("433.92 MHz", QUANTITY_FREQUENCY_MHZ, 433.92, 433.92);
    assert_quantity("2.4..2.48 GHz", QUANTITY_FREQUENCY_MHZ, 2400, 2480);
    assert_quantity("-105 dBm", QUANTITY_POWER_DBM, -105, -105);
    assert_quantity("-14.4dBm", QUANTITY_POWER_DBM, -14.4, -14.4);
    assert_quantity("6 dB", QUANTITY_LEVEL_DB, 6, 6);
    assert_quantity("60 deg", QUANTITY_ANGLE_DEG, 60, 60);
    assert_quantity("60\xC2\xB0", QUANTITY_ANGLE_DEG, 60, 60);
    assert_quantity("10.5..13.8 V", QUANTITY_VOLTAGE_V, 10.5, 13.8);
    assert_quantity("680ohm", QUANTITY_RESISTANCE_OHM, 680, 680);
    assert_quantity("4.7 k\xCE\xA9", QUANTITY_RESISTANCE_OHM, 4700, 4700);
    assert_quantity("4.7 kohm", QUANTITY_RESISTANCE_OHM, 4700, 4700);
    assert_quantity("9999999.999 kohm", QUANTITY_RESISTANCE_OHM, 9999999999, 9999999999);
    assert_quantity("7 Ah", QUANTITY_CHARGE_MAH, 7000, 7000);
    assert_quantity("0.25 uAh", QUANTITY_CHARGE_MAH, 0.00025, 0.00025);
    assert_quantity("1.2 T", QUANTITY_FIELD_MT, 1200, 1200);
    struct problem problem = {0};
    struct quantity quantity = {-1, -1, QUANTITY_KIND_COUNT};
    assert_false(quantity_read(text_of("8 s"), QUANTITY_LENGTH_M, &quantity, &problem).good);
    assert_string_equal(
            problem.text, "\"8 s\" is a time; a length is expected here, in mm, cm or m");
    assert_false(quantity_read(text_of("1 m 5 cm"), QUANTITY_LENGTH_M, &quantity, NULL).good);
    assert_true(quantity.low < 0);
}

static void assert_refused_as(const char *source, enum quantity_kind kind, const char *text) {
    struct problem problem = {0};
    struct quantity quantity = {-1, -1, QUANTITY_KIND_COUNT};
    assert_false(quantity_read(text_of(source), kind, &quantity, &problem).good);
    assert_string_equal(problem.text, text);
    assert_true(quantity.low < 0);
}

static void units_of_radio_and_power_are_told_apart(void **state) {
    (void)state;
    assert_refused_as("-3 dB", QUANTITY_LEVEL_DB, "\"-3 dB\" is negative; a level is 0 or more");
    assert_refused_as(
            "20 dB", QUANTITY_POWER_DBM, "\"20 dB\" is a level; a power is expected here, in dBm");
    assert_refused_as("433 mhz", QUANTITY_FREQUENCY_MHZ, "\"433 mhz\": the unit is written MHz");
    assert_refused_as("4o ohm", QUANTITY_RESISTANCE_OHM,
            "\"4o ohm\": after 4 comes the letter o; is the digit 0 meant?");
    assert_refused_as("4 OHM", QUANTITY_RESISTANCE_OHM,
            "\"4 OHM\": the unit is written ohm, in small letters");
    assert_refused_as("7", QUANTITY_CHARGE_MAH,
            "\"7\" has no unit; write a charge: mAh or Ah, for example 7 Ah");
}

static void assert_decimal(double value, int decimals, const char *printed) {
    struct arena arena;
    struct text_builder builder;
    arena_init(&arena, pages, 0);
    text_builder_init(&builder, &arena);
    quantity_add_decimal(&builder, value, decimals);
    assert_string_equal(text_built(&builder).start, printed);
    arena_finish(&arena);
}

static void numbers_are_printed_with_their_decimals(void **state) {
    (void)state;
    assert_decimal(51.2185, 2, "51.22");
    assert_decimal(-0.5, 2, "-0.50");
    assert_decimal(-0.001, 2, "0.00");
    assert_decimal(0.999, 2, "1.00");
    assert_decimal(-1.5, 0, "-2");
    assert_decimal(1e18, 3, "1000000000000000000");
    assert_decimal(0.000000676, 9, "0.000000676");
    assert_int_equal(quantity_decimals_for(0.0012345, 3), 5);
    assert_int_equal(quantity_decimals_for(12345, 3), 0);
    assert_int_equal(quantity_decimals_for(1.5, 3), 2);
    assert_int_equal(quantity_decimals_for(0, 3), 2);
    assert_int_equal(quantity_decimals_for(1e-300, 3), QUANTITY_DECIMALS_PRINTED);
}

static void assert_measure(const char *source, enum quantity_kind kind, int32_t low, int32_t high,
        const char *printed) {
    struct measure measure = {0};
    struct arena arena;
    struct text_builder builder;
    assert_true(quantity_read_measure(text_of(source), kind, &measure, NULL).good);
    assert_true(measure.said);
    assert_int_equal(measure.low, low);
    assert_int_equal(measure.high, high);
    arena_init(&arena, pages, 0);
    text_builder_init(&builder, &arena);
    quantity_add_measure(&builder, kind, measure);
    assert_string_equal(text_built(&builder).start, printed);
    arena_finish(&arena);
}

static void measures_are_exact_and_printed_back(void **state) {
    (void)state;
    assert_measure("8 mm", QUANTITY_LENGTH_M, 8000, 8000, "8 mm");
    assert_measure("1.27 cm", QUANTITY_LENGTH_M, 12700, 12700, "12.7 mm");
    assert_measure("0.004 mm", QUANTITY_LENGTH_M, 4, 4, "0.004 mm");
    assert_measure("8..20 mm", QUANTITY_LENGTH_M, 8000, 20000, "8..20 mm");
    assert_measure("2 m", QUANTITY_LENGTH_M, 2000000, 2000000, "2000 mm");
    assert_measure("12 mA", QUANTITY_CURRENT_MA, 12000, 12000, "12 mA");
    assert_measure("9.5..30 mA", QUANTITY_CURRENT_MA, 9500, 30000, "9.5..30 mA");
    assert_measure("1.2 A", QUANTITY_CURRENT_MA, 1200000, 1200000, "1200 mA");
    assert_measure("15 uA", QUANTITY_CURRENT_MA, 15, 15, "0.015 mA");
    assert_measure("15 µA", QUANTITY_CURRENT_MA, 15, 15, "0.015 mA");
    assert_measure("-10..50 C", QUANTITY_TEMPERATURE_C, -10000, 50000, "-10..50 °C");
    assert_measure("-20..-5 °C", QUANTITY_TEMPERATURE_C, -20000, -5000, "-20..-5 °C");
    assert_measure("-0.5 C", QUANTITY_TEMPERATURE_C, -500, -500, "-0.5 °C");
    assert_measure("0 C", QUANTITY_TEMPERATURE_C, 0, 0, "0 °C");
    assert_measure("90°", QUANTITY_ANGLE_DEG, 90000, 90000, "90 °");
    assert_measure("12.5 deg", QUANTITY_ANGLE_DEG, 12500, 12500, "12.5 °");
    assert_measure("15 kg", QUANTITY_MASS_KG, 15000, 15000, "15 kg");
    assert_measure("800..1200 g", QUANTITY_MASS_KG, 800, 1200, "0.8..1.2 kg");
    assert_measure("868.3 MHz", QUANTITY_FREQUENCY_MHZ, 868300, 868300, "868.3 MHz");
    assert_measure("2.45 GHz", QUANTITY_FREQUENCY_MHZ, 2450000, 2450000, "2450 MHz");
    assert_measure("-104.5 dBm", QUANTITY_POWER_DBM, -104500, -104500, "-104.5 dBm");
    assert_measure("-70..-64 dBm", QUANTITY_POWER_DBM, -70000, -64000, "-70..-64 dBm");
    assert_measure("3..10 dB", QUANTITY_LEVEL_DB, 3000, 10000, "3..10 dB");
    assert_measure("10.5..13.8 V", QUANTITY_VOLTAGE_V, 10500, 13800, "10.5..13.8 V");
    assert_measure("4.7 kohm", QUANTITY_RESISTANCE_OHM, 4700000, 4700000, "4700 ohm");
    assert_measure("7 Ah", QUANTITY_CHARGE_MAH, 7000000, 7000000, "7000 mAh");
}

static void bad_measures_are_refused(void **state) {
    static const struct {
        const char *source;
        enum quantity_kind kind;
        const char *said;
    } rows[] = {
            {"8", QUANTITY_LENGTH_M, "has no unit"},
            {"-8 mm", QUANTITY_LENGTH_M, "is negative"},
            {"-1 mA", QUANTITY_CURRENT_MA, "is negative"},
            {"8 s", QUANTITY_LENGTH_M, "is a time; a length is expected here"},
            {"0.5 uA", QUANTITY_CURRENT_MA, "is finer than can be kept here"},
            {"0.0001 mm", QUANTITY_LENGTH_M, "is too fine"},
            {"3000 m", QUANTITY_LENGTH_M, "is too large for a length"},
            {"12 ma", QUANTITY_CURRENT_MA, "the unit is written mA"},
            {"30 F", QUANTITY_TEMPERATURE_C, "no unit is written \"F\""},
            {"5..-5 C", QUANTITY_TEMPERATURE_C, "runs backwards"},
            {"- 5 C", QUANTITY_TEMPERATURE_C, "is negative"},
            {"--5 C", QUANTITY_TEMPERATURE_C, "is negative"},
            {"90 °C", QUANTITY_ANGLE_DEG, "is a temperature; an angle is expected here, in °"},
            {"90 degrees", QUANTITY_ANGLE_DEG, "write ° for degrees"},
            {"15 kilos", QUANTITY_MASS_KG, "write kg for kilos"},
            {"0.5 g", QUANTITY_MASS_KG, "is finer than can be kept here"},
            {"", QUANTITY_TEMPERATURE_C, "nothing is written here"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct measure measure = {.low = 7};
        struct problem problem = {0};
        assert_false(
                quantity_read_measure(text_of(rows[i].source), rows[i].kind, &measure, &problem)
                        .good);
        if (strstr(problem.text, rows[i].said) == NULL) {
            print_message("# \"%s\" gave: %s\n", rows[i].source, problem.text);
        }
        assert_non_null(strstr(problem.text, rows[i].said));
        assert_int_equal(measure.low, 7);
    }
}

/* The C library as the other reader: the same double for each decimal of up to three places. */
static void decimals_are_read_as_the_library_reads_them(void **state) {
    (void)state;
    for (int thousandths = 0; thousandths < 20000; thousandths += 7) {
        char source[32];
        struct quantity quantity;
        (void)snprintf(source, sizeof source, "%d.%03d m", thousandths / 1000, thousandths % 1000);
        assert_true(quantity_read(text_of(source), QUANTITY_LENGTH_M, &quantity, NULL).good);
        assert_true(quantity.low == strtod(source, NULL));
    }
}

static void locale_changes_nothing(void **state) {
    (void)state;
    if (setlocale(LC_ALL, "de_DE.UTF-8") == NULL) {
        /* The words still have to hold in whichever locale there is. */
        (void)setlocale(LC_ALL, "");
    }
    assert_quantity("0.9..1.4 m/s", QUANTITY_SPEED_M_S, 0.9, 1.4);
    assert_refused("0,9 s", PROBLEM_UNREADABLE, "with a point, not with a comma");
    (void)setlocale(LC_ALL, "C");
}

static void assert_clock(const char *source, int32_t low_s, int32_t high_s) {
    struct span span = {-1, -1};
    struct problem problem = {0};
    if (!quantity_read_clock(text_of(source), &span, &problem).good) {
        fail_msg("%s is refused: %s", source, problem.text);
    }
    assert_int_equal(span.low_s, low_s);
    assert_int_equal(span.high_s, high_s);
}

static void assert_no_clock(const char *source, enum problem_kind kind, const char *words) {
    struct span span = {-1, -1};
    struct problem problem = {0};
    assert_false(quantity_read_clock(text_of(source), &span, &problem).good);
    if (problem.kind != kind || strstr(problem.text, words) == NULL) {
        fail_msg("%s: kind %d, text: %s", source, (int)problem.kind, problem.text);
    }
    assert_int_equal(span.low_s, -1);
}

static void times_of_day_are_read(void **state) {
    (void)state;
    assert_clock("05:30", 19800, 19800);
    assert_clock("05:30:15", 19815, 19815);
    assert_clock("00:00", 0, 0);
    assert_clock("23:59:59", 86399, 86399);
    assert_clock(" 05:30 .. 05:40 ", 19800, 20400);
    assert_clock("05:30:00..05:30:01", 19800, 19801);
    assert_clock("22:00..24:00", 79200, 86400);
    assert_clock("23:50..24:10", 85800, 87000);
    assert_clock("00:00..47:59:59", 0, QUANTITY_CLOCK_END_S);
}

static void what_is_no_time_of_day_is_refused(void **state) {
    (void)state;
    const char *words =
            "not a time of day; write two digits, a colon and two digits, for example 05:30";
    assert_no_clock("24:00", PROBLEM_BAD_VALUE, "the hours end at 23");
    assert_no_clock("24:00..25:00", PROBLEM_BAD_VALUE, "the hours end at 23");
    assert_no_clock("05:00..48:00", PROBLEM_BAD_VALUE, "the hours end at 47");
    assert_no_clock("05:60", PROBLEM_BAD_VALUE, "the minutes end at 59");
    assert_no_clock("05:30:60", PROBLEM_BAD_VALUE, "the seconds end at 59");
    assert_no_clock("5:30", PROBLEM_UNREADABLE, words);
    assert_no_clock("05:3", PROBLEM_UNREADABLE, words);
    assert_no_clock("005:30", PROBLEM_UNREADABLE, words);
    assert_no_clock("05:300", PROBLEM_UNREADABLE, words);
    assert_no_clock("0530", PROBLEM_UNREADABLE, words);
    assert_no_clock("05", PROBLEM_UNREADABLE, words);
    assert_no_clock("05:", PROBLEM_UNREADABLE, words);
    assert_no_clock("05:30:", PROBLEM_UNREADABLE, words);
    assert_no_clock("05.30", PROBLEM_UNREADABLE, words);
    assert_no_clock("-5:30", PROBLEM_UNREADABLE, words);
    assert_no_clock("30 s", PROBLEM_UNREADABLE, words);
    assert_no_clock("05:30..", PROBLEM_UNREADABLE, words);
    assert_no_clock("05:30 am", PROBLEM_UNREADABLE, "\"am\" is too much");
    assert_no_clock("05:30:15:00", PROBLEM_UNREADABLE, "\":00\" is too much");
    assert_no_clock("05:30..05:40..05:50", PROBLEM_UNREADABLE, "\"..05:50\" is too much");
    assert_no_clock("05:40..05:30", PROBLEM_BAD_VALUE, "runs backwards");
    assert_no_clock("23:50..00:10", PROBLEM_BAD_VALUE, "after midnight, write its end as 24:10");
    assert_no_clock("", PROBLEM_UNREADABLE, "nothing is written here; write for example 05:30");
}

enum printer { SECONDS, SPAN, FROM_TO, CLOCK, CLOCK_FROM_TO };

static void print(struct arena *arena, enum printer printer, int32_t low_s, int32_t high_s,
        struct text *ret_text) {
    struct text_builder builder;
    text_builder_init(&builder, arena);
    switch (printer) {
    case SECONDS:
        quantity_add_seconds(&builder, low_s);
        break;
    case SPAN:
        quantity_add_span(&builder, span_of(low_s, high_s));
        break;
    case FROM_TO:
        quantity_add_from_to(&builder, span_of(low_s, high_s));
        break;
    case CLOCK:
        quantity_add_clock(&builder, low_s);
        break;
    case CLOCK_FROM_TO:
        quantity_add_clock_from_to(&builder, span_of(low_s, high_s));
        break;
    }
    *ret_text = text_built(&builder);
}

static void assert_prints(
        enum printer printer, int32_t low_s, int32_t high_s, const char *expected) {
    struct arena arena;
    struct text printed;
    arena_init(&arena, pages, 0);
    print(&arena, printer, low_s, high_s, &printed);
    assert_string_equal(printed.start, expected);
    arena_finish(&arena);
}

static void times_are_printed_for_people(void **state) {
    (void)state;
    assert_prints(SECONDS, 0, 0, "0 s");
    assert_prints(SECONDS, 30, 0, "30 s");
    assert_prints(SECONDS, 119, 0, "119 s");
    assert_prints(SECONDS, 120, 0, "2 min");
    assert_prints(SECONDS, 121, 0, "2 min 1 s");
    assert_prints(SECONDS, 900, 0, "15 min");
    assert_prints(SECONDS, 3600, 0, "1 h");
    assert_prints(SECONDS, 5400, 0, "1 h 30 min");
    assert_prints(SECONDS, 3601, 0, "1 h 1 s");
    assert_prints(SECONDS, 28800, 0, "8 h");
    assert_prints(SECONDS, 86400, 0, "24 h");
    assert_prints(SECONDS, 172800, 0, "48 h");
    assert_prints(SECONDS, 259200, 0, "3 d");
    assert_prints(SECONDS, 259201, 0, "72 h 1 s");
    assert_prints(SECONDS, -90, 0, "-90 s");
    assert_prints(SPAN, 4, 9, "4 to 9 s");
    assert_prints(SPAN, 30, 30, "30 s");
    assert_prints(SPAN, 0, 28800, "0 to 8 h");
    assert_prints(SPAN, 1800, 2700, "30 to 45 min");
    assert_prints(SPAN, 45, 900, "45 s to 15 min");
    assert_prints(SPAN, 0, 150, "0 s to 2 min 30 s");
    assert_prints(SPAN, 150, 210, "2 min 30 s to 3 min 30 s");
    assert_prints(SPAN, 86400, 259200, "24 h to 3 d");
}

static void times_are_printed_for_files(void **state) {
    (void)state;
    assert_prints(FROM_TO, 4, 9, "4..9 s");
    assert_prints(FROM_TO, 30, 30, "30 s");
    assert_prints(FROM_TO, 45, 900, "45..900 s");
    assert_prints(FROM_TO, 0, 60, "0..60 s");
    assert_prints(FROM_TO, 60, 900, "1..15 min");
    assert_prints(FROM_TO, 3600, 28800, "1..8 h");
    assert_prints(CLOCK, 19860, 0, "05:31:00");
    assert_prints(CLOCK, 86400, 0, "00:00:00");
    assert_prints(CLOCK, 86399, 0, "23:59:59");
    assert_prints(CLOCK, -1, 0, "23:59:59");
    assert_prints(CLOCK_FROM_TO, 19800, 19800, "05:30");
    assert_prints(CLOCK_FROM_TO, 19800, 20415, "05:30..05:40:15");
    assert_prints(CLOCK_FROM_TO, 85800, 87000, "23:50..24:10");
}

/* xorshift (Marsaglia 2003, "Xorshift RNGs", shifts 13, 7, 17). */
static uint64_t next_random(uint64_t *state) {
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    return *state;
}

/* Of very different sizes, so that each unit comes up. */
static int32_t random_below(uint64_t *state, int32_t below) {
    static const int32_t steps[] = {1, 1, 60, 900, 3600, 86400};
    const int32_t step = steps[next_random(state) % (sizeof steps / sizeof steps[0])];
    const int32_t count = (below - 1) / step + 1;
    const uint64_t pick = next_random(state) % (next_random(state) % 4 == 0 ? 200U : UINT32_MAX);
    return (int32_t)(pick % (uint64_t)count) * step;
}

static void milliseconds_are_read_where_they_are_wanted(void **state) {
    (void)state;
    static const struct {
        const char *written;
        int32_t read_ms;
        const char *printed;
    } rows[] = {{"300 ms", 300, "300 ms"}, {"0 s", 0, "0 s"}, {"1.5 s", 1500, "1500 ms"},
            {"2000 ms", 2000, "2 s"}, {"1 d", 86400000, "24 h"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct arena arena;
        struct text_builder builder;
        int32_t read_ms = -1;
        assert_true(quantity_read_milliseconds(text_of(rows[i].written), &read_ms, NULL).good);
        assert_int_equal(read_ms, rows[i].read_ms);
        arena_init(&arena, pages, 0);
        text_builder_init(&builder, &arena);
        quantity_add_milliseconds(&builder, read_ms);
        assert_true(text_is(text_built(&builder), rows[i].printed));
        arena_finish(&arena);
    }
    static const struct {
        const char *written;
        const char *told;
    } slips[] = {{"0.5 ms", "is not a whole number of milliseconds"},
            {"1..2 ms", "is a from-to; one time is expected here, for example 300 ms"},
            {"300", "has no unit"}, {"86401 s", "is longer than a day"},
            {"9999999 d", "is longer than a day"}};
    for (size_t i = 0; i < sizeof slips / sizeof slips[0]; i++) {
        struct problem problem = {0};
        int32_t read_ms = -1;
        assert_false(
                quantity_read_milliseconds(text_of(slips[i].written), &read_ms, &problem).good);
        assert_non_null(strstr(problem.text, slips[i].told));
        assert_int_equal(read_ms, -1);
    }
}

static uint64_t seed = 20260101;

static void what_is_printed_is_read_back(void **state) {
    (void)state;
    uint64_t random = seed;
    print_message("# seed %llu\n", (unsigned long long)seed);
    for (int i = 0; i < 20000; i++) {
        struct arena arena;
        struct text printed;
        struct span read = {-1, -1};
        int32_t seconds_s = -1;
        const int32_t a = random_below(&random, SPAN_LONGEST_S + 1);
        const int32_t b = random_below(&random, SPAN_LONGEST_S + 1);
        const struct span span = a < b ? span_of(a, b) : span_of(b, a);
        arena_init(&arena, pages, 0);
        print(&arena, SECONDS, a, 0, &printed);
        assert_true(quantity_read_seconds(printed, &seconds_s, NULL).good);
        assert_int_equal(seconds_s, a);
        print(&arena, FROM_TO, span.low_s, span.high_s, &printed);
        assert_true(quantity_read_span(printed, &read, NULL).good);
        assert_int_equal(read.low_s, span.low_s);
        assert_int_equal(read.high_s, span.high_s);
        const int32_t begin_s = a % QUANTITY_DAY_S;
        const int32_t end_s = begin_s + b % (QUANTITY_CLOCK_END_S + 1 - begin_s);
        print(&arena, CLOCK_FROM_TO, begin_s, end_s, &printed);
        assert_true(quantity_read_clock(printed, &read, NULL).good);
        assert_int_equal(read.low_s, begin_s);
        assert_int_equal(read.high_s, end_s);
        arena_finish(&arena);
    }
}

/* Any bytes: refused with words, or read into the stated range; never anything else (the sanitizers watch). */
static void any_bytes_are_read_or_refused(void **state) {
    (void)state;
    static const char letters[] = "0123456789019..::  smindh%/,-+eEO\xC2\xA0\xE2\x80\x93\n";
    uint64_t random = seed;
    int good = 0;
    print_message("# seed %llu\n", (unsigned long long)seed);
    for (int i = 0; i < 200000; i++) {
        char bytes[12];
        const size_t length = next_random(&random) % (sizeof bytes + 1);
        for (size_t j = 0; j < length; j++) {
            bytes[j] = letters[next_random(&random) % sizeof letters];
        }
        /* Of exactly the length, so that a read past the end is seen. */
        char *exact = malloc(length + (length == 0));
        memcpy(exact, bytes, length);
        const struct text source = {.start = exact, .length = length};
        struct problem problem = {0};
        struct span span = {-1, -1};
        const bool read = quantity_read_span(source, &span, &problem).good;
        assert_true(
                read ? 0 <= span.low_s && span.low_s <= span.high_s && span.high_s <= SPAN_LONGEST_S
                     : span.low_s == -1 && problem.text[0] != '\0');
        good += read;
        problem = (struct problem){0};
        span = span_of(-1, -1);
        const bool clock = quantity_read_clock(source, &span, &problem).good;
        assert_true(clock ? 0 <= span.low_s && span.low_s <= span.high_s &&
                                span.low_s < QUANTITY_DAY_S && span.high_s <= QUANTITY_CLOCK_END_S
                          : span.low_s == -1 && problem.text[0] != '\0');
        free(exact);
    }
    assert_true(good > 100); /* the letters do make times */
}

/* Argument: another seed. */
int main(int count, char **arguments) {
    if (count > 1) {
        seed = strtoull(arguments[1], NULL, 10) | 1;
    }
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(times_are_read_in_each_unit),
            cmocka_unit_test(several_units_go_together_downwards),
            cmocka_unit_test(from_to_is_read),
            cmocka_unit_test(what_others_misread_is_refused),
            cmocka_unit_test(units_are_told_apart),
            cmocka_unit_test(bounds_hold_on_both_sides),
            cmocka_unit_test(one_time_is_no_from_to),
            cmocka_unit_test(milliseconds_are_read_where_they_are_wanted),
            cmocka_unit_test(other_kinds_are_read),
            cmocka_unit_test(units_of_radio_and_power_are_told_apart),
            cmocka_unit_test(numbers_are_printed_with_their_decimals),
            cmocka_unit_test(measures_are_exact_and_printed_back),
            cmocka_unit_test(bad_measures_are_refused),
            cmocka_unit_test(decimals_are_read_as_the_library_reads_them),
            cmocka_unit_test(locale_changes_nothing),
            cmocka_unit_test(times_of_day_are_read),
            cmocka_unit_test(what_is_no_time_of_day_is_refused),
            cmocka_unit_test(times_are_printed_for_people),
            cmocka_unit_test(times_are_printed_for_files),
            cmocka_unit_test(what_is_printed_is_read_back),
            cmocka_unit_test(any_bytes_are_read_or_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
