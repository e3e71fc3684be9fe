#include "signals/stamp.h"

#include "base/date.h"

#include <string.h>

enum { DAY_S = 86400, HOUR_S = 3600, MINUTE_S = 60 };

/** Two or four digits as a number, -1 where one is none. */
static int32_t digits(const char *from, size_t count) {
    int32_t number = 0;
    for (size_t i = 0; i < count; i++) {
        if (from[i] < '0' || from[i] > '9') {
            return -1;
        }
        number = number * 10 + (from[i] - '0');
    }
    return number;
}

bool stamp_read(
        struct text source, size_t at, int64_t *ret_seconds, struct signal_fault *ret_fault) {
    static const char shape[] = "_##:##:##,##-##-####";
    for (size_t i = 0; i < STAMP_LENGTH; i++) {
        bool digit = i < source.length && source.start[i] >= '0' && source.start[i] <= '9';
        if (i >= source.length || (shape[i] == '#' ? !digit : source.start[i] != shape[i])) {
            return signal_fault(ret_fault, SIGNAL_FAULT_STAMP, at + i);
        }
    }
    if (source.length > STAMP_LENGTH) {
        return signal_fault(ret_fault, SIGNAL_FAULT_TRAILING, at + STAMP_LENGTH);
    }
    int32_t hour = digits(source.start + 1, 2);
    int32_t minute = digits(source.start + 4, 2);
    int32_t second = digits(source.start + 7, 2);
    int32_t month = digits(source.start + 10, 2);
    int32_t day = digits(source.start + 13, 2);
    int32_t year = digits(source.start + 16, 4);
    if (hour > 23 || minute > 59 || second > 59) {
        return signal_fault(ret_fault, SIGNAL_FAULT_STAMP, at + 1);
    }
    if (year < STAMP_YEAR_FIRST || year > DATE_YEAR_LAST || month < 1 || month > 12 || day < 1 ||
            day > date_month_days(year, month)) {
        return signal_fault(ret_fault, SIGNAL_FAULT_STAMP, at + 10);
    }
    *ret_seconds =
            (int64_t)date_of(year, month, day) * DAY_S + hour * HOUR_S + minute * MINUTE_S + second;
    return true;
}

static void put_digits(char *at, int32_t number, int count) {
    for (int i = count - 1; i >= 0; i--) {
        at[i] = (char)('0' + number % 10);
        number /= 10;
    }
}

void stamp_write(int64_t seconds, char ret_bytes[STAMP_LENGTH]) {
    int32_t of_day = (int32_t)(seconds % DAY_S);
    int32_t year = 0;
    int32_t month = 0;
    int32_t day = 0;
    date_split((int32_t)(seconds / DAY_S), &year, &month, &day);
    memcpy(ret_bytes, "_00:00:00,00-00-0000", STAMP_LENGTH);
    put_digits(ret_bytes + 1, of_day / HOUR_S, 2);
    put_digits(ret_bytes + 4, of_day / MINUTE_S % 60, 2);
    put_digits(ret_bytes + 7, of_day % 60, 2);
    put_digits(ret_bytes + 10, month, 2);
    put_digits(ret_bytes + 13, day, 2);
    put_digits(ret_bytes + 16, year, 4);
}

bool stamp_in_window(int64_t frame_s, int64_t now_s) {
    return frame_s <= now_s + STAMP_AHEAD_MOST_S && frame_s >= now_s - STAMP_BEHIND_MOST_S;
}
