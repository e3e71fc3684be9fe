/* Quantities as people write them: a number, a unit, and where it is wanted a from-to. "30 s", "15 min", "1 h 30 min",
 * "4..9 s", "0.9..1.4 m/s", "8 mm", "10 %", "-10..50 °C", "433.92 MHz", "-105 dBm", "05:30", "05:30..05:40".
 *
 * Read whole or refused: no number without its unit, no rest that is overlooked, no octal, no exponent, no sign but
 * that of a temperature or of a power in dBm, no locale. Every refusal says what to write instead. Not for numbers
 * without a unit (zone numbers, counts). */
#ifndef LINTEL_BASE_QUANTITY_H
#define LINTEL_BASE_QUANTITY_H

#include "base/problem.h"
#include "base/span.h"
#include "base/text.h"

#include <stdbool.h>
#include <stdint.h>

/** What is measured; in brackets the units that are read. Source of the symbols: SI brochure, 9th edition, 2019. */
enum quantity_kind {
    QUANTITY_TIME_S,         /* seconds (ms, s, min, h, d) */
    QUANTITY_LENGTH_M,       /* metres (mm, cm, m) */
    QUANTITY_SPEED_M_S,      /* metres a second (m/s) */
    QUANTITY_PERCENT,        /* percent (%) */
    QUANTITY_CURRENT_MA,     /* milliamperes (µA, uA, mA, A) */
    QUANTITY_TEMPERATURE_C,  /* degrees Celsius (°C, C) */
    QUANTITY_FREQUENCY_MHZ,  /* megahertz (kHz, MHz, GHz) */
    QUANTITY_POWER_DBM,      /* power over a milliwatt, as a level (dBm) */
    QUANTITY_LEVEL_DB,       /* a ratio of powers, as a level (dB) */
    QUANTITY_VOLTAGE_V,      /* volts (mV, V) */
    QUANTITY_RESISTANCE_OHM, /* ohms (Ω, ohm, kΩ, kohm) */
    QUANTITY_CHARGE_MAH,     /* milliampere hours (µAh, uAh, mAh, Ah) */
    QUANTITY_FIELD_MT,       /* millitesla (mT, T) */
    QUANTITY_ANGLE_DEG,      /* degrees of an angle (°, deg) */
    QUANTITY_MASS_KG,        /* kilograms (g, kg) */
    QUANTITY_KIND_COUNT
};

/** From low to high in the unit of the kind, low <= high, 0 or more except of a temperature or a power in dBm; a single
 *  value has low == high, bit for bit. */
struct quantity {
    double low;
    double high;
    enum quantity_kind kind;
};

/** What a manual states of a thing, from-to: a length in thousandths of a millimetre, a current in thousandths of a
 *  milliampere, a temperature or an angle in thousandths of a degree, a mass in grams; a frequency, level, voltage,
 *  resistance or charge in thousandths of the unit of its kind. said: whether it is stated; false: low and high are
 *  0. */
struct measure {
    int32_t low;
    int32_t high;
    bool said;
};

enum {
    MEASURE_UNIT = 1000,       /* so many thousandths make a mm, mA, kg, degree and so on */
    QUANTITY_DIGITS_MAX = 7,   /* before the point */
    QUANTITY_DECIMALS_MAX = 3, /* after it */
    QUANTITY_DECIMALS_PRINTED = 15,
    QUANTITY_DAY_S = 24 * 60 * 60,        /* 24:00 */
    QUANTITY_CLOCK_END_S = 2 * 86400 - 1, /* 47:59:59, the latest end of a clock range */
};

/** Reads a quantity or a from-to of the expected kind. source: borrows; up to 64 bytes, spaces around it and between
 *  number and unit do not matter. A from-to may name the unit once ("4..9 s") or twice ("45 s..2 min"). ret_quantity:
 *  untouched on failure. Fails UNREADABLE (not a number with a unit) or BAD_VALUE (a unit of another kind, low > high);
 *  the text quotes what was read and says what to write; the place is left empty for the caller. */
outcome quantity_read(struct text source, enum quantity_kind expected,
        struct quantity *ret_quantity, struct problem *ret_problem) MUST_CHECK;

/** Reads a time or a from-to of times in whole seconds ("1.5 min" is 90 s; "0.5 s" is refused), at most
 *  SPAN_LONGEST_S. Fails as quantity_read. */
outcome quantity_read_span(struct text source, struct span *ret_span, struct problem *ret_problem)
        MUST_CHECK;

/** Reads one time in whole seconds; a from-to is refused. */
outcome quantity_read_seconds(
        struct text source, int32_t *ret_seconds_s, struct problem *ret_problem) MUST_CHECK;

/** Reads one time in whole milliseconds ("300 ms", "1.5 s"), at most a day; a from-to is refused. */
outcome quantity_read_milliseconds(
        struct text source, int32_t *ret_milliseconds_ms, struct problem *ret_problem) MUST_CHECK;

/** Reads a time of day or a from-to of two, in seconds since midnight: "05:30", "05:30:15", "05:30..05:40". Two digits
 *  each; a begin is 00:00:00 to 23:59:59; an end after midnight counts on: "23:50..24:10". Fails as quantity_read. */
outcome quantity_read_clock(struct text source, struct span *ret_since_midnight,
        struct problem *ret_problem) MUST_CHECK;

/** Reads what a measure can hold, or a from-to, exactly. Fails as quantity_read; also BAD_VALUE where it is finer than
 *  a thousandth of a mm, mA, degree, kg and so on, or larger than a measure holds. */
outcome quantity_read_measure(struct text source, enum quantity_kind expected,
        struct measure *ret_measure, struct problem *ret_problem) MUST_CHECK;

/** For a site file and for a person alike: "8 mm", "12.7 mm", "-10..50 °C", "90 °", "15 kg"; kind: one that
 *  quantity_read_measure reads, which reads it back. */
void quantity_add_measure(
        struct text_builder *builder, enum quantity_kind kind, struct measure measure);

/** A number with exactly so many decimals: "51.22", "-0.50"; never "-0.00", never an exponent, whatever the locale.
 *  value: finite; decimals: 0 .. QUANTITY_DECIMALS_PRINTED. */
void quantity_add_decimal(struct text_builder *builder, double value, int decimals);

/** How many decimals show so many digits that count: 3 of 0.0012345 are 0.00123 (5). Whole numbers stay whole. digits:
 *  1 .. 9; value: finite. Gives 0 .. QUANTITY_DECIMALS_PRINTED. */
int quantity_decimals_for(double value, int digits);

/** "30 s", "90 s", "2 min 30 s", "15 min", "8 h", "1 h 30 min", "24 h", "3 d": seconds up to 119, days from 3
 *  whole ones. seconds_s: >= 0 (a negative one prints with a minus). quantity_read_seconds reads it back. */
void quantity_add_seconds(struct text_builder *builder, int64_t seconds_s);

/** "300 ms", "1500 ms"; whole seconds as quantity_add_seconds. milliseconds_ms: >= 0. quantity_read_milliseconds reads
 *  it back. */
void quantity_add_milliseconds(struct text_builder *builder, int32_t milliseconds_ms);

/** For a person: "30 s", "4 to 9 s", "45 s to 15 min". */
void quantity_add_span(struct text_builder *builder, struct span span);

/** For a site file: "30 s", "4..9 s", "45..900 s". quantity_read_span reads it back. */
void quantity_add_from_to(struct text_builder *builder, struct span span);

/** "05:31:00" of any count of seconds since midnight; days before or after are dropped. */
void quantity_add_clock(struct text_builder *builder, int64_t since_midnight_s);

/** For a site file: "05:30", "05:30:15", "05:30..05:40", "23:50..24:10". quantity_read_clock reads it back.
 *  since_midnight: as quantity_read_clock gives it. */
void quantity_add_clock_from_to(struct text_builder *builder, struct span since_midnight);

#endif
