/* Days of the calendar, as people type them: "2027-03-31". A day is a whole number, so that what is before and after is
 * plain arithmetic. No clock here: today is somebody else's. Source: ISO 8601, calendar dates, extended form; the
 * Gregorian calendar. */
#ifndef LINTEL_BASE_DATE_H
#define LINTEL_BASE_DATE_H

#include "base/problem.h"
#include "base/text.h"

#include <stdint.h>

/** Days since 1970-01-01. DATE_NONE: no date is given; it is none of those that can be read. */
enum { DATE_NONE = 0, DATE_YEAR_FIRST = 2000, DATE_YEAR_LAST = 2199 };

/** The day of a year (1970 or later), month (1..12) and day of the month, which must be one of that month. */
int32_t date_of(int32_t year, int32_t month, int32_t day);

/** Reads "2027-03-31": four digits, two and two, of the years 2000 to 2199, a day that there is. source: borrows.
 *  ret_day: untouched on failure. Fails UNREADABLE or BAD_VALUE; the text says what to write. */
outcome date_read(struct text source, int32_t *ret_day, struct problem *ret_problem) MUST_CHECK;

/** How many days the month (1..12) of the year (1970 or later) has. */
int32_t date_month_days(int32_t year, int32_t month);

/** Year, month and day of the month of a day (0 or more); date_of takes them back. */
void date_split(int32_t day, int32_t *ret_year, int32_t *ret_month, int32_t *ret_day);

/** "2027-03-31"; date_read reads it back. day: 0 or more. */
void date_add(struct text_builder *builder, int32_t day);

#endif
