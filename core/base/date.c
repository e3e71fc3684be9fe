#include "base/date.h"

#include <assert.h>
#include <stdbool.h>

static bool is_leap(int32_t year) {
    return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
}

int32_t date_month_days(int32_t year, int32_t month) {
    static const int32_t days[12] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    return days[month - 1] + (month == 2 && is_leap(year) ? 1 : 0);
}

static int32_t days_of_year(int32_t year) {
    return is_leap(year) ? 366 : 365;
}

int32_t date_of(int32_t year, int32_t month, int32_t day) {
    assert(year >= 1970 && month >= 1 && month <= 12);
    assert(day >= 1 && day <= date_month_days(year, month));
    int32_t days = day - 1;
    for (int32_t before = 1970; before < year; before++) {
        days += days_of_year(before);
    }
    for (int32_t before = 1; before < month; before++) {
        days += date_month_days(year, before);
    }
    return days;
}

/* Reads `count` digits; -1: they are none. */
static int32_t read_digits(struct text text, size_t from, size_t count) {
    int32_t number = 0;
    for (size_t i = from; i < from + count; i++) {
        if (text.start[i] < '0' || text.start[i] > '9') {
            return -1;
        }
        number = number * 10 + (text.start[i] - '0');
    }
    return number;
}

outcome date_read(struct text source, int32_t *ret_day, struct problem *ret_problem) {
    enum { LENGTH = 10, QUOTED_MOST = 20 };
    const int quoted = source.length > QUOTED_MOST ? QUOTED_MOST : (int)source.length;
    const bool shaped = source.length == LENGTH && source.start[4] == '-' && source.start[7] == '-';
    const int32_t year = shaped ? read_digits(source, 0, 4) : -1;
    const int32_t month = shaped ? read_digits(source, 5, 2) : -1;
    const int32_t day = shaped ? read_digits(source, 8, 2) : -1;
    if (year < 0 || month < 0 || day < 0) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "\"%.*s\" is not a date; write year, month and day, such as 2027-03-31", quoted,
                source.start == NULL ? "" : source.start);
    }
    if (year < DATE_YEAR_FIRST || year > DATE_YEAR_LAST) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "the year %d is out of range; expected %d to %d",
                (int)year, DATE_YEAR_FIRST, DATE_YEAR_LAST);
    }
    if (month < 1 || month > 12 || day < 1 || day > date_month_days(year, month)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "there is no such day as %.*s", quoted,
                source.start);
    }
    *ret_day = date_of(year, month, day);
    return outcome_good();
}

void date_split(int32_t day, int32_t *ret_year, int32_t *ret_month, int32_t *ret_day) {
    assert(day >= 0);
    int32_t year = 1970;
    int32_t month = 1;
    while (day >= days_of_year(year)) {
        day -= days_of_year(year);
        year++;
    }
    while (day >= date_month_days(year, month)) {
        day -= date_month_days(year, month);
        month++;
    }
    *ret_year = year;
    *ret_month = month;
    *ret_day = day + 1;
}

void date_add(struct text_builder *builder, int32_t day) {
    int32_t year = 0;
    int32_t month = 0;
    int32_t of_month = 0;
    date_split(day, &year, &month, &of_month);
    text_add_format(builder, "%04d-%02d-%02d", (int)year, (int)month, (int)of_month);
}
