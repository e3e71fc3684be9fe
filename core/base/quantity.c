#include "base/quantity.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* Amounts are exact integers, in millionths of the unit of the kind: thousandths of the number times thousandths of the
 * unit. 7 digits, 3 decimals and a day stay below 10^10 * 8.64e7, a tenth of 2^63. */
enum { MILLIONTHS = 1000000, SOURCE_LONGEST = 64, QUOTED_SIZE = SOURCE_LONGEST + 4 };

#define DEGREE "\xC2\xB0"
#define DEGREES                                                                                    \
    "\xC2\xB0"                                                                                     \
    "C"

struct unit {
    const char *symbol;
    enum quantity_kind kind;
    int64_t thousandths; /* of the unit of the kind */
};

/* clang-format off */
static const struct unit units[] = {
    {"ms",  QUANTITY_TIME_S,           1},
    {"s",   QUANTITY_TIME_S,        1000},
    {"min", QUANTITY_TIME_S,       60000},
    {"h",   QUANTITY_TIME_S,     3600000},
    {"d",   QUANTITY_TIME_S,    86400000},
    {"mm",  QUANTITY_LENGTH_M,         1},
    {"cm",  QUANTITY_LENGTH_M,        10},
    {"m",   QUANTITY_LENGTH_M,      1000},
    {"m/s", QUANTITY_SPEED_M_S,     1000},
    {"%",   QUANTITY_PERCENT,       1000},
    {"µA",  QUANTITY_CURRENT_MA,       1},
    {"uA",  QUANTITY_CURRENT_MA,       1},
    {"mA",  QUANTITY_CURRENT_MA,    1000},
    {"A",   QUANTITY_CURRENT_MA, 1000000},
    {DEGREES, QUANTITY_TEMPERATURE_C, 1000},
    {"C",   QUANTITY_TEMPERATURE_C, 1000},
    {DEGREE, QUANTITY_ANGLE_DEG,   1000},
    {"deg", QUANTITY_ANGLE_DEG,    1000},
    {"g",   QUANTITY_MASS_KG,         1},
    {"kg",  QUANTITY_MASS_KG,      1000},
    {"kHz", QUANTITY_FREQUENCY_MHZ,    1},
    {"MHz", QUANTITY_FREQUENCY_MHZ, 1000},
    {"GHz", QUANTITY_FREQUENCY_MHZ, 1000000},
    {"dBm", QUANTITY_POWER_DBM,     1000},
    {"dB",  QUANTITY_LEVEL_DB,      1000},
    {"mV",  QUANTITY_VOLTAGE_V,        1},
    {"V",   QUANTITY_VOLTAGE_V,     1000},
    {"Ω",   QUANTITY_RESISTANCE_OHM, 1000},
    {"ohm", QUANTITY_RESISTANCE_OHM, 1000},
    {"kΩ",  QUANTITY_RESISTANCE_OHM, 1000000},
    {"kohm", QUANTITY_RESISTANCE_OHM, 1000000},
    {"µAh", QUANTITY_CHARGE_MAH,       1},
    {"uAh", QUANTITY_CHARGE_MAH,       1},
    {"mAh", QUANTITY_CHARGE_MAH,    1000},
    {"Ah",  QUANTITY_CHARGE_MAH, 1000000},
    {"mT",  QUANTITY_FIELD_MT,      1000},
    {"T",   QUANTITY_FIELD_MT,   1000000},
};

/* What people write instead of the symbol. */
static const struct { const char *written; const char *symbol; } slips[] = {
    {"sec", "s"},     {"secs", "s"},     {"second", "s"},  {"seconds", "s"},
    {"mins", "min"},  {"minute", "min"}, {"minutes", "min"},
    {"hr", "h"},      {"hrs", "h"},      {"hour", "h"},    {"hours", "h"},
    {"day", "d"},     {"days", "d"},
    {"metre", "m"},   {"metres", "m"},   {"meter", "m"},   {"meters", "m"},
    {"mps", "m/s"},   {"percent", "%"},
    {"degrees", DEGREE}, {"kilo", "kg"},  {"kilos", "kg"},   {"grams", "g"},
    {"ohms", "ohm"},  {"volt", "V"},     {"volts", "V"},
    {"megahertz", "MHz"},
};

static const struct { const char *name; const char *symbols; const char *example; } kinds[] = {
    [QUANTITY_TIME_S]    = {"a time",     "s, min, h or d", "30 s"},
    [QUANTITY_LENGTH_M]  = {"a length",   "mm, cm or m",    "8 mm"},
    [QUANTITY_SPEED_M_S] = {"a speed",    "m/s",            "1.2 m/s"},
    [QUANTITY_PERCENT]   = {"a percentage", "%",            "10 %"},
    [QUANTITY_CURRENT_MA] = {"a current", "mA or A",        "12 mA"},
    [QUANTITY_TEMPERATURE_C] = {"a temperature", DEGREES,   "-10..50 " DEGREES},
    [QUANTITY_ANGLE_DEG] = {"an angle",   DEGREE,           "90 " DEGREE},
    [QUANTITY_MASS_KG]   = {"a weight",   "g or kg",        "15 kg"},
    [QUANTITY_FREQUENCY_MHZ] = {"a frequency", "kHz, MHz or GHz", "433.92 MHz"},
    [QUANTITY_POWER_DBM] = {"a power",     "dBm",           "-105 dBm"},
    [QUANTITY_LEVEL_DB]  = {"a level",     "dB",            "10 dB"},
    [QUANTITY_VOLTAGE_V] = {"a voltage",   "mV or V",       "12 V"},
    [QUANTITY_RESISTANCE_OHM] = {"a resistance", "ohm or kohm", "4.7 kohm"},
    [QUANTITY_CHARGE_MAH] = {"a charge",   "mAh or Ah",     "7 Ah"},
    [QUANTITY_FIELD_MT]  = {"a field",     "mT or T",       "1.5 mT"},
};
/* clang-format on */

_Static_assert(sizeof kinds / sizeof kinds[0] == QUANTITY_KIND_COUNT, "each kind has its words");

/* What is being read. quoted: a copy of the source in quotation marks, fit for a message; at and end run over it.
 * from_to, several: whether two points, or several units at one end, came by. */
struct cursor {
    const char *at;
    const char *end;
    enum quantity_kind expected;
    bool from_to;
    bool several;
    char quoted[QUOTED_SIZE];
};

static bool is_digit(char letter) {
    return letter >= '0' && letter <= '9';
}

static char peek(const struct cursor *cursor, size_t ahead) {
    return (size_t)(cursor->end - cursor->at) > ahead ? cursor->at[ahead] : '\0';
}

static void skip_spaces(struct cursor *cursor) {
    while (peek(cursor, 0) == ' ') {
        cursor->at++;
    }
}

static bool at_dots(const struct cursor *cursor) {
    return peek(cursor, 0) == '.' && peek(cursor, 1) == '.';
}

/* Copies the source without the spaces around it, and refuses what no quantity can be. No-break spaces, as pasted out
 * of a manual, become spaces; control bytes become question marks, which are in no quantity either. */
static outcome open_cursor(struct text source, enum quantity_kind expected, const char *example,
        struct cursor *cursor, struct problem *ret_problem) {
    if (source.length > SOURCE_LONGEST) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "", "this is %zu bytes long; write for example %s",
                source.length, example);
    }
    *cursor = (struct cursor){.expected = expected};
    size_t length = 0;
    cursor->quoted[length++] = '"';
    for (size_t i = 0; i < source.length; i++) {
        const unsigned char byte = (unsigned char)source.start[i];
        if (byte == 0xC2 && i + 1 < source.length && (unsigned char)source.start[i + 1] == 0xA0) {
            i++;
            cursor->quoted[length] = ' ';
        } else {
            cursor->quoted[length] = byte < 0x20 || byte == 0x7F ? '?' : source.start[i];
        }
        length += length > 1 || cursor->quoted[length] != ' ';
    }
    while (length > 1 && cursor->quoted[length - 1] == ' ') {
        length--;
    }
    cursor->quoted[length] = '"';
    cursor->quoted[length + 1] = '\0';
    cursor->at = cursor->quoted + 1;
    cursor->end = cursor->quoted + length;
    if (cursor->at == cursor->end) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "", "nothing is written here; write for example %s",
                example);
    }
    return outcome_good();
}

/* The refusal of something that is not a digit where a number should go on or begin. */
static outcome refuse_number(const struct cursor *cursor, struct problem *ret_problem) {
    const char *quoted = cursor->quoted;
    const char letter = peek(cursor, 0);
    if (letter == '-') {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "%s is negative; %s is 0 or more", quoted,
                kinds[cursor->expected].name);
    }
    const bool after_dots = cursor->at[-1] == '.'; /* or the quotation mark before the first */
    if (letter == '.' && is_digit(peek(cursor, 1)) && !after_dots) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "", "%s: write the 0 before the point: 0%c%c", quoted,
                letter, peek(cursor, 1));
    }
    FAIL(ret_problem, PROBLEM_UNREADABLE, "",
            "%s is not a number with a unit; write for example %s", quoted,
            kinds[cursor->expected].example);
}

/* The refusal of what follows the digits, where it is neither a unit nor the end. */
static outcome check_after_digits(
        const struct cursor *cursor, const char *number, struct problem *ret_problem) {
    const char *quoted = cursor->quoted;
    const int digits = (int)(cursor->at - number);
    const char letter = peek(cursor, 0);
    const char next = peek(cursor, 1);
    if (letter == ',' && !(next >= '0' && next <= '9')) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "%s: one value is expected here, or a from-to, not several", quoted);
    }
    if (letter == ',') {
        int decimals = 1;
        while (is_digit(peek(cursor, (size_t)decimals + 1))) {
            decimals++;
        }
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "%s: a decimal is written with a point, not with a comma: %.*s.%.*s", quoted,
                digits, number, decimals, cursor->at + 1);
    }
    const bool ohm = letter == 'o' && next == 'h';
    if (!ohm && (letter == 'O' || letter == 'o' || letter == 'l' || letter == 'I')) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "%s: after %.*s comes the letter %c; is the digit %c meant?", quoted, digits,
                number, letter, letter == 'O' || letter == 'o' ? '0' : '1');
    }
    if ((letter == 'e' || letter == 'E') && (is_digit(next) || next == '+' || next == '-')) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "%s: write the number in full, without an exponent", quoted);
    }
    if (letter == '.' && next != '.') {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "%s: after the point come 1 to %d digits; write for example %s", quoted,
                QUANTITY_DECIMALS_MAX, kinds[cursor->expected].example);
    }
    return outcome_good();
}

/* A number in thousandths: digits, maybe a point and digits. */
static outcome read_number(
        struct cursor *cursor, int64_t *ret_thousandths, struct problem *ret_problem) {
    const char *number = cursor->at;
    int64_t value = 0;
    int digits = 0;
    const bool may_be_negative =
            cursor->expected == QUANTITY_TEMPERATURE_C || cursor->expected == QUANTITY_POWER_DBM;
    const bool negative = may_be_negative && peek(cursor, 0) == '-' && is_digit(peek(cursor, 1));
    if (!negative && !is_digit(peek(cursor, 0))) {
        return refuse_number(cursor, ret_problem);
    }
    cursor->at += negative;
    number += negative;
    for (; is_digit(peek(cursor, 0)); cursor->at++) {
        if (++digits > QUANTITY_DIGITS_MAX) {
            FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "%s is too large: at most %d digits",
                    cursor->quoted, QUANTITY_DIGITS_MAX);
        }
        value = value * 10 + (*cursor->at - '0');
    }
    if (peek(cursor, 0) == ':') {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "%s is a time of day; %s is expected here, for example %s", cursor->quoted,
                kinds[cursor->expected].name, kinds[cursor->expected].example);
    }
    if (digits > 1 && *number == '0') {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "", "%s begins with a zero; write %lld",
                cursor->quoted, (long long)value);
    }
    int decimals = 0;
    if (peek(cursor, 0) == '.' && is_digit(peek(cursor, 1))) {
        cursor->at++;
        for (; is_digit(peek(cursor, 0)); cursor->at++) {
            if (++decimals > QUANTITY_DECIMALS_MAX) {
                FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "%s is too fine: at most %d decimals",
                        cursor->quoted, QUANTITY_DECIMALS_MAX);
            }
            value = value * 10 + (*cursor->at - '0');
        }
    }
    for (; decimals < QUANTITY_DECIMALS_MAX; decimals++) {
        value *= 10;
    }
    TRY(check_after_digits(cursor, number, ret_problem));
    *ret_thousandths = negative ? -value : value;
    return outcome_good();
}

static const struct unit *find_unit(struct text written) {
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        if (text_is(written, units[i].symbol)) {
            return &units[i];
        }
    }
    return NULL;
}

/* "4-9 s", "-10 to 55 °C": what stands on both sides of the dash or the word, with two points between. */
static outcome refuse_from_to(
        const struct cursor *cursor, struct text written, struct problem *ret_problem) {
    const char *after = written.start + written.length;
    size_t before = (size_t)(written.start - cursor->quoted - 1);
    while (before > 0 && cursor->quoted[before] == ' ') {
        before--;
    }
    while (after < cursor->end && *after == ' ') {
        after++;
    }
    FAIL(ret_problem, PROBLEM_UNREADABLE, "",
            "%s: a from-to is written with two points: %.*s..%.*s", cursor->quoted, (int)before,
            cursor->quoted + 1, (int)(cursor->end - after), after);
}

/* A dash, short or long, or the word. */
static bool is_from_to(struct text written) {
    return written.length > 0 &&
            (written.start[0] == '-' || (unsigned char)written.start[0] == 0xE2 ||
                    text_is(written, "to"));
}

static bool is_small(const char *symbol) {
    for (; *symbol != '\0'; symbol++) {
        if (*symbol >= 'A' && *symbol <= 'Z') {
            return false;
        }
    }
    return true;
}

static outcome refuse_unit(
        const struct cursor *cursor, struct text written, struct problem *ret_problem) {
    const char *quoted = cursor->quoted;
    const char *symbols = kinds[cursor->expected].symbols;
    for (size_t i = 0; i < sizeof slips / sizeof slips[0]; i++) {
        if (text_distance(written, text_of(slips[i].written), 0) == 0) {
            FAIL(ret_problem, PROBLEM_UNREADABLE, "", "%s: write %s for %.*s", quoted,
                    slips[i].symbol, TEXT_ARGS(written));
        }
    }
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        if (text_distance(written, text_of(units[i].symbol), 0) == 0) {
            FAIL(ret_problem, PROBLEM_UNREADABLE, "", "%s: the unit is written %s%s", quoted,
                    units[i].symbol, is_small(units[i].symbol) ? ", in small letters" : "");
        }
    }
    if (is_from_to(written)) {
        return refuse_from_to(cursor, written, ret_problem);
    }
    FAIL(ret_problem, PROBLEM_UNREADABLE, "", "%s: no unit is written \"%.*s\"; here goes %s",
            quoted, TEXT_ARGS(written), symbols);
}

/* The unit up to the next space, digit, two points or the end; NULL where there is none. */
static outcome read_unit(
        struct cursor *cursor, const struct unit **ret_unit, struct problem *ret_problem) {
    skip_spaces(cursor);
    const char *start = cursor->at;
    while (cursor->at < cursor->end && *cursor->at != ' ' && !is_digit(*cursor->at) &&
            !at_dots(cursor)) {
        cursor->at++;
    }
    const struct text written = {.start = start, .length = (size_t)(cursor->at - start)};
    *ret_unit = NULL;
    if (written.length == 0) {
        return outcome_good();
    }
    *ret_unit = find_unit(written);
    if (*ret_unit == NULL) {
        return refuse_unit(cursor, written, ret_problem);
    }
    if ((*ret_unit)->kind != cursor->expected) {
        const bool metres_for_minutes =
                cursor->expected == QUANTITY_TIME_S && text_is(written, "m");
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "%s is %s; %s is expected here, in %s%s",
                cursor->quoted, kinds[(*ret_unit)->kind].name, kinds[cursor->expected].name,
                kinds[cursor->expected].symbols, metres_for_minutes ? " (minutes are min)" : "");
    }
    return outcome_good();
}

/* One end: "30 s", "1 h 30 min", or a bare number (then *ret_unit is NULL and the amount counts thousandths). */
static outcome read_end(struct cursor *cursor, int64_t *ret_amount, const struct unit **ret_unit,
        struct problem *ret_problem) {
    TRY(read_number(cursor, ret_amount, ret_problem));
    TRY(read_unit(cursor, ret_unit, ret_problem));
    if (*ret_unit == NULL) {
        return outcome_good();
    }
    *ret_amount *= (*ret_unit)->thousandths;
    int64_t smallest = (*ret_unit)->thousandths;
    skip_spaces(cursor);
    while (is_digit(peek(cursor, 0))) {
        const struct unit *unit = NULL;
        int64_t part = 0;
        TRY(read_number(cursor, &part, ret_problem));
        TRY(read_unit(cursor, &unit, ret_problem));
        if (unit == NULL) {
            FAIL(ret_problem, PROBLEM_UNREADABLE, "", "%s: the last number has no unit",
                    cursor->quoted);
        }
        const bool whole = *ret_amount % (smallest * 1000) == 0;
        if (cursor->expected != QUANTITY_TIME_S || !whole ||
                part * unit->thousandths >= smallest * 1000) {
            FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                    "%s: several units go together only as in 1 h 30 min, or 2 min 5 s",
                    cursor->quoted);
        }
        cursor->several = true;
        *ret_amount += part * unit->thousandths;
        smallest = unit->thousandths;
        skip_spaces(cursor);
    }
    return outcome_good();
}

static outcome read_both_ends(
        struct cursor *cursor, int64_t *ret_low, int64_t *ret_high, struct problem *ret_problem) {
    const struct unit *low_unit = NULL;
    const struct unit *high_unit = NULL;
    const char *number = cursor->at;
    TRY(read_end(cursor, ret_low, &low_unit, ret_problem));
    const char *number_end = cursor->at;
    skip_spaces(cursor);
    if (at_dots(cursor)) {
        cursor->from_to = true;
        cursor->at += 2;
        skip_spaces(cursor);
        TRY(read_end(cursor, ret_high, &high_unit, ret_problem));
    } else {
        *ret_high = *ret_low;
        high_unit = low_unit;
    }
    if (cursor->at != cursor->end) {
        const char *end = cursor->at;
        while (end < cursor->end && *end != ' ' && !is_digit(*end)) {
            end++;
        }
        const struct text written = {.start = cursor->at, .length = (size_t)(end - cursor->at)};
        if (is_from_to(written) && !cursor->from_to) {
            return refuse_from_to(cursor, written, ret_problem);
        }
        FAIL(ret_problem, PROBLEM_UNREADABLE, "", "%s: \"%.*s\" is too much; write for example %s",
                cursor->quoted, (int)(cursor->end - cursor->at), cursor->at,
                kinds[cursor->expected].example);
    }
    if (high_unit == NULL) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "%s has no unit; write %s: %s, for example %.*s %s", cursor->quoted,
                kinds[cursor->expected].name, kinds[cursor->expected].symbols,
                (int)(number_end - number), number,
                strrchr(kinds[cursor->expected].example, ' ') + 1);
    }
    if (low_unit == NULL && cursor->several) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "", "%s: write the unit at both ends",
                cursor->quoted);
    }
    if (low_unit == NULL) {
        *ret_low *= high_unit->thousandths;
    }
    if (*ret_low > *ret_high) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "%s runs backwards; the smaller end comes first",
                cursor->quoted);
    }
    return outcome_good();
}

outcome quantity_read(struct text source, enum quantity_kind expected,
        struct quantity *ret_quantity, struct problem *ret_problem) {
    struct cursor cursor;
    int64_t low = 0;
    int64_t high = 0;
    assert(expected < QUANTITY_KIND_COUNT);
    TRY(open_cursor(source, expected, kinds[expected].example, &cursor, ret_problem));
    TRY(read_both_ends(&cursor, &low, &high, ret_problem));
    *ret_quantity = (struct quantity){
            .low = (double)low / MILLIONTHS,
            .high = (double)high / MILLIONTHS,
            .kind = expected,
    };
    return outcome_good();
}

static outcome read_whole_seconds(struct text source, struct cursor *cursor, struct span *ret_span,
        struct problem *ret_problem) {
    int64_t low = 0;
    int64_t high = 0;
    TRY(open_cursor(source, QUANTITY_TIME_S, kinds[QUANTITY_TIME_S].example, cursor, ret_problem));
    TRY(read_both_ends(cursor, &low, &high, ret_problem));
    if (low % MILLIONTHS != 0 || high % MILLIONTHS != 0) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "%s is not a whole number of seconds",
                cursor->quoted);
    }
    if (high / MILLIONTHS > SPAN_LONGEST_S) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "%s is longer than %d d, the longest time there is here", cursor->quoted,
                SPAN_LONGEST_S / QUANTITY_DAY_S);
    }
    *ret_span = span_of((int32_t)(low / MILLIONTHS), (int32_t)(high / MILLIONTHS));
    return outcome_good();
}

outcome quantity_read_span(struct text source, struct span *ret_span, struct problem *ret_problem) {
    struct cursor cursor;
    return read_whole_seconds(source, &cursor, ret_span, ret_problem);
}

outcome quantity_read_seconds(
        struct text source, int32_t *ret_seconds_s, struct problem *ret_problem) {
    struct cursor cursor;
    struct span span = {0, 0};
    TRY(read_whole_seconds(source, &cursor, &span, ret_problem));
    if (cursor.from_to) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "%s is a from-to; one time is expected here, for example 30 s", cursor.quoted);
    }
    *ret_seconds_s = span.low_s;
    return outcome_good();
}

/* In what a measure is printed; NULL: it is none. */
static const char *const measure_symbols[QUANTITY_KIND_COUNT] = {
        [QUANTITY_LENGTH_M] = " mm",
        [QUANTITY_CURRENT_MA] = " mA",
        [QUANTITY_TEMPERATURE_C] = " " DEGREES,
        [QUANTITY_ANGLE_DEG] = " " DEGREE,
        [QUANTITY_MASS_KG] = " kg",
        [QUANTITY_FREQUENCY_MHZ] = " MHz",
        [QUANTITY_POWER_DBM] = " dBm",
        [QUANTITY_LEVEL_DB] = " dB",
        [QUANTITY_VOLTAGE_V] = " V",
        [QUANTITY_RESISTANCE_OHM] = " ohm",
        [QUANTITY_CHARGE_MAH] = " mAh",
};

outcome quantity_read_measure(struct text source, enum quantity_kind expected,
        struct measure *ret_measure, struct problem *ret_problem) {
    struct cursor cursor;
    int64_t low = 0;
    int64_t high = 0;
    /* Amounts are in millionths, and the unit of length is a metre: its millionths are thousandths of a mm. */
    const int64_t grain = expected == QUANTITY_LENGTH_M ? 1 : MILLIONTHS / MEASURE_UNIT;
    assert(measure_symbols[expected] != NULL);
    TRY(open_cursor(source, expected, kinds[expected].example, &cursor, ret_problem));
    TRY(read_both_ends(&cursor, &low, &high, ret_problem));
    if (low % grain != 0 || high % grain != 0) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "%s is finer than can be kept here",
                cursor.quoted);
    }
    if (low / grain < INT32_MIN || high / grain > INT32_MAX) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "%s is too large for %s", cursor.quoted,
                kinds[expected].name);
    }
    *ret_measure = (struct measure){
            .low = (int32_t)(low / grain), .high = (int32_t)(high / grain), .said = true};
    return outcome_good();
}

static void add_thousandths(struct text_builder *builder, int32_t amount) {
    const int64_t size = amount < 0 ? -(int64_t)amount : amount;
    text_add_format(builder, "%s%lld", amount < 0 ? "-" : "", (long long)(size / MEASURE_UNIT));
    int64_t rest = size % MEASURE_UNIT;
    for (int64_t digit = MEASURE_UNIT / 10; rest > 0; digit /= 10) {
        text_add_format(
                builder, "%s%d", digit == MEASURE_UNIT / 10 ? "." : "", (int)(rest / digit));
        rest %= digit;
    }
}

/* Integers alone are printed, as the point of a printed double is the locale's. Above 2^53 a double is whole. */
void quantity_add_decimal(struct text_builder *builder, double value, int decimals) {
    static const double WHOLE_FROM = 9007199254740992.0;
    assert(isfinite(value) && decimals >= 0 && decimals <= QUANTITY_DECIMALS_PRINTED);
    int64_t power = 1;
    for (int i = 0; i < decimals; i++) {
        power *= 10;
    }
    const double size = fabs(value);
    if (size >= WHOLE_FROM) {
        text_add_format(builder, "%.0f", value);
        return;
    }
    int64_t whole = (int64_t)size;
    int64_t part = llround((size - (double)whole) * (double)power);
    if (part == power) { /* rounded up to the next whole number */
        whole++;
        part = 0;
    }
    const char *sign = value < 0 && (whole > 0 || part > 0) ? "-" : "";
    text_add_format(builder, "%s%lld", sign, (long long)whole);
    if (decimals > 0) {
        text_add_format(builder, ".%0*lld", decimals, (long long)part);
    }
}

int quantity_decimals_for(double value, int digits) {
    double size = fabs(value);
    assert(isfinite(value) && digits > 0);
    int decimals = digits - 1;
    for (; size >= 10 && decimals > 0; decimals--) {
        size /= 10;
    }
    for (; size > 0 && size < 1 && decimals < QUANTITY_DECIMALS_PRINTED; decimals++) {
        size *= 10;
    }
    return decimals;
}

void quantity_add_measure(
        struct text_builder *builder, enum quantity_kind kind, struct measure measure) {
    add_thousandths(builder, measure.low);
    if (measure.high != measure.low) {
        text_add_string(builder, "..");
        add_thousandths(builder, measure.high);
    }
    text_add_string(builder, measure_symbols[kind]);
}

outcome quantity_read_milliseconds(
        struct text source, int32_t *ret_milliseconds_ms, struct problem *ret_problem) {
    enum { MILLISECOND = MILLIONTHS / 1000 };
    struct cursor cursor;
    int64_t low = 0;
    int64_t high = 0;
    TRY(open_cursor(source, QUANTITY_TIME_S, "300 ms", &cursor, ret_problem));
    TRY(read_both_ends(&cursor, &low, &high, ret_problem));
    if (cursor.from_to) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "%s is a from-to; one time is expected here, for example 300 ms", cursor.quoted);
    }
    if (low % MILLISECOND != 0) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "%s is not a whole number of milliseconds",
                cursor.quoted);
    }
    if (low / MILLIONTHS > QUANTITY_DAY_S) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "%s is longer than a day", cursor.quoted);
    }
    *ret_milliseconds_ms = (int32_t)(low / MILLISECOND);
    return outcome_good();
}

enum { NOT_TWO_DIGITS = -1, TOO_MUCH = -2 };

static int read_two_digits(struct cursor *cursor, int below) {
    if (!is_digit(peek(cursor, 0)) || !is_digit(peek(cursor, 1)) || is_digit(peek(cursor, 2))) {
        return NOT_TWO_DIGITS;
    }
    const int value = (cursor->at[0] - '0') * 10 + (cursor->at[1] - '0');
    cursor->at += 2;
    return value < below ? value : TOO_MUCH;
}

static outcome read_clock_end(struct cursor *cursor, int hours_below, int32_t *ret_since_midnight_s,
        struct problem *ret_problem) {
    int parts[3] = {0, 0, 0};
    const int below[3] = {hours_below, 60, 60};
    static const char *const names[3] = {"hours", "minutes", "seconds"};
    for (int i = 0; i < 3; i++) {
        if (i == 2 && peek(cursor, 0) != ':') {
            break;
        }
        const bool colon = peek(cursor, i == 0 ? 2 : 0) == ':';
        cursor->at += i > 0 && colon;
        parts[i] = colon ? read_two_digits(cursor, below[i]) : NOT_TWO_DIGITS;
        if (parts[i] == NOT_TWO_DIGITS) {
            FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                    "%s is not a time of day; write two digits, a colon and two digits, for "
                    "example 05:30 or 05:30..05:40",
                    cursor->quoted);
        }
        if (parts[i] == TOO_MUCH) {
            FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "%s: the %s end at %d", cursor->quoted,
                    names[i], below[i] - 1);
        }
    }
    *ret_since_midnight_s = (parts[0] * 60 + parts[1]) * 60 + parts[2];
    return outcome_good();
}

outcome quantity_read_clock(
        struct text source, struct span *ret_since_midnight, struct problem *ret_problem) {
    struct cursor cursor;
    struct span span = {0, 0};
    TRY(open_cursor(source, QUANTITY_TIME_S, "05:30", &cursor, ret_problem));
    TRY(read_clock_end(&cursor, 24, &span.low_s, ret_problem));
    span.high_s = span.low_s;
    skip_spaces(&cursor);
    if (at_dots(&cursor)) {
        cursor.at += 2;
        skip_spaces(&cursor);
        TRY(read_clock_end(&cursor, 48, &span.high_s, ret_problem));
    }
    if (cursor.at != cursor.end) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "%s: \"%.*s\" is too much; write for example 05:30", cursor.quoted,
                (int)(cursor.end - cursor.at), cursor.at);
    }
    if (span.low_s > span.high_s) {
        const int32_t next_day_s = span.high_s + QUANTITY_DAY_S;
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "%s runs backwards; if it ends after midnight, write its end as %02d:%02d",
                cursor.quoted, next_day_s / 3600, next_day_s / 60 % 60);
    }
    *ret_since_midnight = span;
    return outcome_good();
}

void quantity_add_seconds(struct text_builder *builder, int64_t seconds_s) {
    if (seconds_s < 0) {
        text_add_char(builder, '-');
        seconds_s = -seconds_s;
    }
    if (seconds_s < 120) {
        text_add_format(builder, "%d s", (int)seconds_s);
        return;
    }
    if (seconds_s >= 3 * QUANTITY_DAY_S && seconds_s % QUANTITY_DAY_S == 0) {
        text_add_format(builder, "%lld d", (long long)(seconds_s / QUANTITY_DAY_S));
        return;
    }
    const long long parts[3] = {seconds_s / 3600, seconds_s / 60 % 60, seconds_s % 60};
    static const char *const symbols[3] = {"h", "min", "s"};
    const char *between = "";
    for (int i = 0; i < 3; i++) {
        if (parts[i] > 0) {
            text_add_format(builder, "%s%lld %s", between, parts[i], symbols[i]);
            between = " ";
        }
    }
}

void quantity_add_milliseconds(struct text_builder *builder, int32_t milliseconds_ms) {
    if (milliseconds_ms % 1000 == 0) {
        quantity_add_seconds(builder, milliseconds_ms / 1000);
    } else {
        text_add_format(builder, "%d ms", milliseconds_ms);
    }
}

/* The one unit in which quantity_add_seconds prints a time, or NULL where it takes several. */
static const struct unit *only_unit(int32_t seconds_s) {
    const char *symbol = NULL;
    if (seconds_s < 120) {
        symbol = "s";
    } else if (seconds_s >= 3 * QUANTITY_DAY_S && seconds_s % QUANTITY_DAY_S == 0) {
        symbol = "d";
    } else if (seconds_s % 3600 == 0) {
        symbol = "h";
    } else if (seconds_s < 3600 && seconds_s % 60 == 0) {
        symbol = "min";
    }
    return symbol == NULL ? NULL : find_unit(text_of(symbol));
}

void quantity_add_span(struct text_builder *builder, struct span span) {
    if (span.low_s == span.high_s) {
        quantity_add_seconds(builder, span.low_s);
        return;
    }
    const struct unit *unit = only_unit(span.high_s);
    const int64_t unit_s = unit == NULL ? 0 : unit->thousandths / 1000;
    /* "0 to 8 h", but "90 s to 2 min": seconds stay seconds where they would be printed so. */
    if (unit != NULL && (span.low_s == 0 || only_unit(span.low_s) == unit)) {
        text_add_format(builder, "%d to ", (int)(span.low_s / unit_s));
    } else {
        quantity_add_seconds(builder, span.low_s);
        text_add_string(builder, " to ");
    }
    quantity_add_seconds(builder, span.high_s);
}

void quantity_add_from_to(struct text_builder *builder, struct span span) {
    if (span.low_s == span.high_s) {
        quantity_add_seconds(builder, span.low_s);
        return;
    }
    if (span.low_s % 3600 == 0 && span.high_s % 3600 == 0) {
        text_add_format(builder, "%d..%d h", span.low_s / 3600, span.high_s / 3600);
    } else if (span.low_s % 60 == 0 && span.high_s % 60 == 0 && span.high_s >= 120) {
        text_add_format(builder, "%d..%d min", span.low_s / 60, span.high_s / 60);
    } else {
        text_add_format(builder, "%d..%d s", span.low_s, span.high_s);
    }
}

void quantity_add_clock(struct text_builder *builder, int64_t since_midnight_s) {
    const int64_t rest_s = since_midnight_s % QUANTITY_DAY_S;
    const int day_s = (int)(rest_s < 0 ? rest_s + QUANTITY_DAY_S : rest_s);
    text_add_format(builder, "%02d:%02d:%02d", day_s / 3600, day_s / 60 % 60, day_s % 60);
}

static void add_short_clock(struct text_builder *builder, int32_t since_midnight_s) {
    text_add_format(builder, "%02d:%02d", since_midnight_s / 3600, since_midnight_s / 60 % 60);
    if (since_midnight_s % 60 != 0) {
        text_add_format(builder, ":%02d", since_midnight_s % 60);
    }
}

void quantity_add_clock_from_to(struct text_builder *builder, struct span since_midnight) {
    add_short_clock(builder, since_midnight.low_s);
    if (since_midnight.high_s != since_midnight.low_s) {
        text_add_string(builder, "..");
        add_short_clock(builder, since_midnight.high_s);
    }
}
