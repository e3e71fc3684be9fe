#include "base/length.h"

#include "base/quantity.h"

#include <stdio.h>
#include <string.h>

enum {
    SOURCE_LONGEST = 64,
    INCH_HUNDREDTHS_MM = 2540,
    FOOT_INCHES = 12,
    DECIMAL = 10,
    THOUSAND = 1000
};
#define HALF 0.5

static struct text trimmed(struct text text) {
    while (text.length > 0 && text.start[0] == ' ') {
        text.start++;
        text.length--;
    }
    while (text.length > 0 && text.start[text.length - 1] == ' ') {
        text.length--;
    }
    return text;
}

static bool is_digit(char letter) {
    return letter >= '0' && letter <= '9';
}

/* A number of thousandths at the beginning of *rest, which then begins behind it. False: there is none, or it is
 * written otherwise than in quantities. */
static bool take_number(struct text *rest, int64_t *ret_thousandths) {
    int64_t value = 0;
    size_t at = 0;
    int decimals = -1; /* no point yet */
    for (; at < rest->length; at++) {
        const char letter = rest->start[at];
        if (letter == '.' && decimals < 0 && at > 0) {
            decimals = 0;
        } else if (is_digit(letter) && at < QUANTITY_DIGITS_MAX + QUANTITY_DECIMALS_MAX) {
            value = value * DECIMAL + (letter - '0');
            decimals += decimals >= 0;
        } else {
            break;
        }
    }
    const bool zero_first = at > 1 && rest->start[0] == '0' && is_digit(rest->start[1]);
    if (at == 0 || zero_first || decimals == 0 || decimals > QUANTITY_DECIMALS_MAX) {
        return false;
    }
    for (int i = decimals < 0 ? 0 : decimals; i < QUANTITY_DECIMALS_MAX; i++) {
        value *= DECIMAL;
    }
    rest->start += at;
    rest->length -= at;
    *rest = trimmed(*rest);
    *ret_thousandths = value;
    return true;
}

/* The unit, ft or in, at the beginning of *rest. */
static bool take_unit(struct text *rest, const char *unit) {
    const size_t length = strlen(unit);
    if (rest->length < length || memcmp(rest->start, unit, length) != 0) {
        return false;
    }
    rest->start += length;
    rest->length -= length;
    *rest = trimmed(*rest);
    return true;
}

/* "13 ft 9 in", "9.5 in": thousandths of an inch. */
static bool read_inches(struct text source, int64_t *ret_thousandths) {
    struct text rest = trimmed(source);
    int64_t feet = 0;
    int64_t inches = 0;
    if (!take_number(&rest, &inches)) {
        return false;
    }
    if (take_unit(&rest, "ft")) {
        feet = inches;
        inches = 0;
        if (rest.length > 0 &&
                (!take_number(&rest, &inches) || !take_unit(&rest, "in") ||
                        inches >= FOOT_INCHES * MEASURE_UNIT || feet % MEASURE_UNIT != 0)) {
            return false;
        }
    } else if (!take_unit(&rest, "in")) {
        return false;
    }
    *ret_thousandths = feet * FOOT_INCHES + inches;
    return rest.length == 0;
}

/* Digits and a point alone, maybe behind a minus: "4.2". */
static bool is_bare(struct text source, double *ret_number) {
    struct text rest = trimmed(source);
    int64_t thousandths = 0;
    if (rest.length > 0 && rest.start[0] == '-') {
        rest.start++;
        rest.length--;
    }
    if (rest.length > SOURCE_LONGEST || !take_number(&rest, &thousandths) || rest.length > 0) {
        return false;
    }
    *ret_number = (double)thousandths / MEASURE_UNIT;
    return true;
}

/* Nobody draws a room of 100 m, nor a wall of less than 100 mm in millimetres. */
static const char *likely_unit(double number) {
    enum { FROM_MM = 100 };
    return number < FROM_MM ? "m" : "mm";
}

outcome length_read(struct text source, int32_t *ret_mm, struct problem *ret_problem) {
    int64_t inches = 0;
    if (source.length <= SOURCE_LONGEST && read_inches(source, &inches)) {
        /* Thousandths of an inch times hundredths of a millimetre: a hundred thousand of them are a millimetre. */
        enum { WHOLE = 100000 };
        const int64_t rounded = (inches * INCH_HUNDREDTHS_MM + WHOLE / 2) / WHOLE;
        if (rounded > LENGTH_MOST_MM) {
            FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "\"%.*s\" is longer than 10 km",
                    TEXT_ARGS(source));
        }
        *ret_mm = (int32_t)rounded;
        return outcome_good();
    }
    struct quantity metres;
    double number = 0;
    if (is_bare(source, &number)) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "\"%.*s\" has no unit; write a length: mm, cm or m, for example %.*s %s",
                TEXT_ARGS(source), TEXT_ARGS(trimmed(source)), likely_unit(number));
    }
    TRY(quantity_read(source, QUANTITY_LENGTH_M, &metres, ret_problem));
    if (metres.low < metres.high) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "\"%.*s\" is a from-to; one length is expected here, for example 4.2 m",
                TEXT_ARGS(source));
    }
    if (metres.low > LENGTH_MOST_MM / THOUSAND) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "\"%.*s\" is longer than 10 km",
                TEXT_ARGS(source));
    }
    /* Whole millionths of a metre, which a double of this size holds apart. */
    const int64_t millionths = (int64_t)(metres.low * THOUSAND * THOUSAND + HALF);
    if (millionths % THOUSAND != 0) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "\"%.*s\" is finer than a millimetre; round it to whole ones", TEXT_ARGS(source));
    }
    *ret_mm = (int32_t)(millionths / THOUSAND);
    return outcome_good();
}

static bool has_letter(struct text text) {
    for (size_t i = 0; i < text.length; i++) {
        if ((text.start[i] >= 'a' && text.start[i] <= 'z') ||
                (text.start[i] >= 'A' && text.start[i] <= 'Z')) {
            return true;
        }
    }
    return false;
}

/* The unit that the text ends in: "m" of "3.1 m"; empty where there are several, or none. */
static struct text last_unit(struct text text) {
    size_t letters = 0;
    while (letters < text.length &&
            has_letter((struct text){text.start + text.length - letters - 1, 1})) {
        letters++;
    }
    const struct text before = {text.start, text.length - letters};
    return has_letter(before) ? (struct text){0}
                              : (struct text){text.start + before.length, letters};
}

static outcome read_side(
        struct text side, struct text unit, int32_t *ret_mm, struct problem *ret_problem) {
    char whole[2 * SOURCE_LONGEST];
    const bool negative = side.length > 0 && side.start[0] == '-';
    side = trimmed((struct text){side.start + negative, side.length - negative});
    if (unit.length > 0 && !has_letter(side)) {
        const int length =
                snprintf(whole, sizeof whole, "%.*s %.*s", TEXT_ARGS(side), TEXT_ARGS(unit));
        side = (struct text){whole, (size_t)length};
    }
    int32_t length_mm = 0;
    TRY(length_read(side, &length_mm, ret_problem));
    *ret_mm = negative ? -length_mm : length_mm;
    return outcome_good();
}

outcome length_read_pair(struct text source, int32_t *ret_right_mm, int32_t *ret_back_mm,
        struct problem *ret_problem) {
    source = trimmed(source);
    const char *cross = source.length == 0 ? NULL : memchr(source.start, 'x', source.length);
    if (source.length > SOURCE_LONGEST || cross == NULL) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "\"%.*s\" is not two lengths; write to the right x to the back, for example 4.2 x "
                "3.1 m",
                source.length > SOURCE_LONGEST ? SOURCE_LONGEST : (int)source.length,
                source.length == 0 ? "" : source.start);
    }
    const size_t left = (size_t)(cross - source.start);
    const struct text right_text = trimmed((struct text){source.start, left});
    const struct text back_text = trimmed((struct text){cross + 1, source.length - left - 1});
    double right = 0;
    double back = 0;
    if (is_bare(right_text, &right) && is_bare(back_text, &back)) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "\"%.*s\" has no unit; write mm, cm or m, for example %.*s x %.*s %s",
                TEXT_ARGS(source), TEXT_ARGS(right_text), TEXT_ARGS(back_text),
                likely_unit(right > back ? right : back));
    }
    const struct text unit = last_unit(right_text);
    int32_t read_mm = 0;
    if (is_bare(back_text, &back) && unit.length > 0 &&
            read_side(right_text, (struct text){0}, &read_mm, NULL).good) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "\"%.*s\" has no unit at its end; write for example %.*s x %.*s %.*s",
                TEXT_ARGS(source), TEXT_ARGS(right_text), TEXT_ARGS(back_text), TEXT_ARGS(unit));
    }
    int32_t right_mm = 0;
    int32_t back_mm = 0;
    TRY(read_side(back_text, (struct text){0}, &back_mm, ret_problem));
    TRY(read_side(right_text, last_unit(back_text), &right_mm, ret_problem));
    *ret_right_mm = right_mm;
    *ret_back_mm = back_mm;
    return outcome_good();
}

/* Metres without the noughts at the end: "4.2", "-1.5", "0". */
static void add_metres(struct text_builder *builder, int32_t length_mm) {
    const int64_t size = length_mm < 0 ? -(int64_t)length_mm : length_mm;
    text_add_format(builder, "%s%lld", length_mm < 0 ? "-" : "", (long long)(size / THOUSAND));
    int64_t rest = size % THOUSAND;
    if (rest > 0) {
        text_add_char(builder, '.');
    }
    for (int64_t digit = THOUSAND / DECIMAL; rest > 0; digit /= DECIMAL) {
        text_add_char(builder, (char)('0' + rest / digit));
        rest %= digit;
    }
}

void length_add(struct text_builder *builder, int32_t length_mm) {
    if (length_mm > -THOUSAND && length_mm < THOUSAND) {
        text_add_format(builder, "%d mm", length_mm);
        return;
    }
    add_metres(builder, length_mm);
    text_add_string(builder, " m");
}

void length_add_pair(struct text_builder *builder, int32_t right_mm, int32_t back_mm) {
    add_metres(builder, right_mm);
    text_add_string(builder, " x ");
    add_metres(builder, back_mm);
    text_add_string(builder, " m");
}
