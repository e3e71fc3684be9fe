/* A line of a station's list cut into fields, and what each of them is. */
#ifndef LINTEL_ACCEPTANCE_HISTORY_FIELDS_H
#define LINTEL_ACCEPTANCE_HISTORY_FIELDS_H

#include "acceptance/history.h"

enum { HISTORY_COLUMNS_MAX = 24 };

/** What stands in a column. */
enum history_role {
    HISTORY_OTHER,
    HISTORY_WHEN, /* day, time of day, or both */
    HISTORY_ACCOUNT,
    HISTORY_EVENT,
    HISTORY_NUMBER, /* of zone or user */
    HISTORY_AREA,
};

/** The columns as a heading names them, each with the byte at which it begins. count 0: no heading. */
struct history_columns {
    enum history_role roles[HISTORY_COLUMNS_MAX];
    size_t starts[HISTORY_COLUMNS_MAX];
    size_t count;
};

/** What a line says. day: DATE_NONE: none; second: of the day, -1: none. event: the words or the code. number, area: 0:
 *  none. */
struct history_fields {
    int32_t day;
    int32_t second;
    struct text account;
    struct text event;
    int32_t number;
    int32_t area;
};

/** What stands between fields: a tab, a semicolon, a bar, a comma, or two blanks (' '). */
char history_separator(struct text source);

/** The next line of a text, without its end and blanks around it; false: there is none. */
bool history_next_line(struct text *source, struct text *ret_line);

/** Whether a line is a heading, whose columns then count from there on: two at least of its fields name one. */
bool history_take_heading(struct text line, char separator, struct history_columns *columns);

/** Cuts a line by the columns, where there are any, else by what its fields look like. */
void history_fields_of(struct text line, char separator, const struct history_columns *columns,
        const struct history_how *how, struct history_fields *ret_fields);

/** Whether a word stands in a text, letters of either case; what it begins with may go on ("restor": restored). */
bool history_has_word(struct text text, const char *word);

/** The digits from a place on, exactly so many, as a number. */
bool history_digits(struct text text, size_t at, size_t count, int32_t *ret_number);

#endif
