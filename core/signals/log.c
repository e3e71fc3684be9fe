#include "signals/log.h"

#include "base/date.h"
#include "signals/code.h"
#include "signals/contact_id.h"

#include <stdio.h>
#include <string.h>

enum column { COLUMN_TIME, COLUMN_ACCOUNT, COLUMN_CODE, COLUMN_NUMBER, COLUMN_AREA, COLUMN_OTHER };

enum { COLUMN_COUNT = COLUMN_OTHER + 1 };

static const char *const column_names[COLUMN_COUNT] = {
        "time", "account", "code", "number", "area", "other"};

static int column_of(struct text name) {
    int column = 0;
    while (column < COLUMN_COUNT && !text_is(name, column_names[column])) {
        column++;
    }
    return column;
}

outcome log_ways_check(const struct log_ways *ways, struct problem *ret_problem) {
    bool there[COLUMN_COUNT] = {false};
    if (ways->column_count == 0) {
        FAIL(ret_problem, PROBLEM_MISSING, "",
                "the panel's profile does not say how its log is written: log-columns is missing");
    }
    for (size_t i = 0; i < ways->column_count; i++) {
        int column = column_of(ways->columns[i]);
        if (column == COLUMN_COUNT) {
            FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                    "log-columns: \"%.*s\" is none of time, account, code, number, area, other",
                    TEXT_ARGS(ways->columns[i]));
        }
        there[column] = true;
    }
    if (!there[COLUMN_TIME] || !there[COLUMN_CODE]) {
        FAIL(ret_problem, PROBLEM_MISSING, "", "log-columns: time and code must be among them");
    }
    return outcome_good();
}

/** The next field, its quotes taken off, into room; false at the end. */
static bool next_field(struct text *line, char separator, char **room, struct text *ret_field) {
    const char *at = line->start;
    const char *end = line->start + line->length;
    char *start = *room;
    bool quoted = at < end && *at == '"';
    if (line->start == NULL) {
        return false;
    }
    at += quoted;
    while (at < end && (quoted || *at != separator)) {
        if (quoted && *at == '"') {
            quoted = at + 1 < end && at[1] == '"';
            at++;
            if (!quoted) {
                continue; /* what still comes before the separator belongs to it */
            }
        }
        *(*room)++ = *at++;
    }
    *ret_field = (struct text){start, (size_t)(*room - start)};
    *line = at < end ? (struct text){at + 1, (size_t)(end - at - 1)} : (struct text){0};
    return true;
}

static struct text trimmed(struct text text) {
    while (text.length > 0 && text.start[0] == ' ') {
        text = (struct text){text.start + 1, text.length - 1};
    }
    while (text.length > 0 && text.start[text.length - 1] == ' ') {
        text.length--;
    }
    return text;
}

static bool digits_of(struct text text, int32_t most, int32_t *ret_number) {
    int32_t number = 0;
    for (size_t i = 0; i < text.length; i++) {
        if (text.start[i] < '0' || text.start[i] > '9' || number > most) {
            return false;
        }
        number = number * 10 + (text.start[i] - '0');
    }
    *ret_number = number;
    return number <= most;
}

/** Reads a time by its pattern, letter by letter. */
static bool read_time(struct text pattern, struct text source, int64_t *ret_local_s) {
    enum { DIGITS_MOST = 4 }; /* of a year; a profile may ask for more */
    static const char letters[] = "YMDhms";
    int32_t parts[6] = {0};
    int counts[6] = {0};
    for (size_t i = 0; i < pattern.length; i++) {
        const char *letter = pattern.start[i] == '\0' ? NULL : strchr(letters, pattern.start[i]);
        if (i >= source.length) {
            return false;
        }
        const char byte = source.start[i];
        if (letter == NULL) {
            if (byte != pattern.start[i]) {
                return false;
            }
            continue;
        }
        if (byte < '0' || byte > '9' || counts[letter - letters] == DIGITS_MOST) {
            return false;
        }
        parts[letter - letters] = parts[letter - letters] * 10 + (byte - '0');
        counts[letter - letters]++;
    }
    const int32_t year = counts[0] == 2 ? 2000 + parts[0] : parts[0];
    if (source.length != pattern.length || year < DATE_YEAR_FIRST || year > DATE_YEAR_LAST ||
            parts[1] < 1 || parts[1] > 12 || parts[2] < 1 ||
            parts[2] > date_month_days(year, parts[1]) || parts[3] > 23 || parts[4] > 59 ||
            parts[5] > 59) {
        return false;
    }
    *ret_local_s = (int64_t)date_of(year, parts[1], parts[2]) * 86400 + parts[3] * 3600 +
            parts[4] * 60 + parts[5];
    return true;
}

/** What the words stand for, or the field itself. */
static struct text code_of(const struct log_ways *ways, struct text field) {
    for (size_t i = 0; i < ways->word_count; i++) {
        const struct text word = ways->words[i];
        if (word.length > field.length && word.start[field.length] == '=' &&
                text_begins(word, field)) {
            return (struct text){word.start + field.length + 1, word.length - field.length - 1};
        }
    }
    return field;
}

/** "1130", "E130", "R130", "130"; false where it is no such code. */
static bool contact_id_of(struct text code, struct contact_id *ret_event) {
    static const struct {
        char letter;
        enum contact_id_qualifier qualifier;
    } firsts[] = {{'1', CONTACT_ID_NEW}, {'E', CONTACT_ID_NEW}, {'3', CONTACT_ID_BACK},
            {'R', CONTACT_ID_BACK}, {'6', CONTACT_ID_STILL}};
    int32_t number = 0;
    bool known = code.length == 3;
    ret_event->qualifier = CONTACT_ID_NEW;
    for (size_t i = 0; code.length == 4 && i < sizeof firsts / sizeof firsts[0]; i++) {
        if (code.start[0] == firsts[i].letter) {
            ret_event->qualifier = firsts[i].qualifier;
            known = true;
        }
    }
    if (!known) {
        return false;
    }
    const struct text rest = {code.start + code.length - 3, 3};
    if (!digits_of(rest, CONTACT_ID_CODE_MOST, &number) || number < 100) {
        return false;
    }
    ret_event->code = (uint16_t)number;
    return true;
}

static outcome make_event(struct log_row *row, struct text code, int32_t number, int32_t area,
        struct problem *ret_problem) {
    struct contact_id event = {.group = (uint8_t)area, .number = (uint16_t)number};
    row->event.start = row->event_room;
    if (contact_id_of(code, &event)) {
        row->token = FRAME_TOKEN_CONTACT_ID;
        contact_id_write_event(event, row->event_room);
        row->event.length = CONTACT_ID_EVENT_LENGTH;
        return outcome_good();
    }
    if (signal_sia(code) == NULL) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "\"%.*s\" is no event code; say under log-words what it stands for",
                (int)(code.length < 60 ? code.length : 60), code.start);
    }
    row->token = FRAME_TOKEN_SIA;
    char where[16] = "";
    if (area > 0) {
        (void)snprintf(where, sizeof where, "ri%d/", (int)area);
    }
    row->event.length =
            (size_t)(number > 0 ? snprintf(row->event_room, sizeof row->event_room, "N%s%.*s%03d",
                                          where, TEXT_ARGS(code), (int)number)
                                : snprintf(row->event_room, sizeof row->event_room, "N%s%.*s",
                                          where, TEXT_ARGS(code)));
    return outcome_good();
}

static outcome read_number(struct text field, const char *what, int32_t most, int32_t *ret_number,
        struct problem *ret_problem) {
    if (!digits_of(field, most, ret_number)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "its %s is a number up to %d, not \"%.*s\"", what,
                (int)most, (int)(field.length < 40 ? field.length : 40), field.start);
    }
    return outcome_good();
}

static outcome read_account(struct text field, struct problem *ret_problem) {
    bool good = field.length >= 3 && field.length <= 16;
    for (size_t i = 0; i < field.length; i++) {
        good = good && field.start[i] != '\0' && strchr("0123456789ABCDEF", field.start[i]) != NULL;
    }
    if (!good) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "its account is 3 to 16 of 0-9 and A-F, not \"%.*s\"",
                (int)(field.length < 40 ? field.length : 40), field.start);
    }
    return outcome_good();
}

/** The fields by what they say; times joined. */
static outcome take_fields(const struct log_ways *ways, struct text line, struct log_row *row,
        struct text ret_fields[COLUMN_COUNT], struct problem *ret_problem) {
    char *room = row->room;
    size_t time_length = 0;
    for (size_t i = 0; i < ways->column_count; i++) {
        struct text field = {0};
        const int column = column_of(ways->columns[i]);
        if (!next_field(&line, ways->separator, &room, &field)) {
            FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                    "it ends after %zu of %zu columns; log-separator says what stands between them",
                    i, ways->column_count);
        }
        field = trimmed(field);
        if (column != COLUMN_TIME) {
            ret_fields[column] = field;
            continue;
        }
        if (time_length + 1 + field.length > sizeof row->time_room) {
            FAIL(ret_problem, PROBLEM_LIMIT, "", "its time is too long");
        }
        if (time_length > 0) {
            row->time_room[time_length++] = ' ';
        }
        memcpy(row->time_room + time_length, field.start, field.length);
        time_length += field.length;
        ret_fields[column] = (struct text){row->time_room, time_length};
    }
    return outcome_good();
}

outcome log_read(const struct log_ways *ways, struct text line, struct log_row *ret_row,
        struct problem *ret_problem) {
    struct text fields[COLUMN_COUNT] = {{0}};
    int32_t number = 0;
    int32_t area = 0;
    if (line.length > LOG_LINE_MAX) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "it is longer than %d characters", LOG_LINE_MAX);
    }
    TRY(take_fields(ways, line, ret_row, fields, ret_problem));
    if (!read_time(ways->time, fields[COLUMN_TIME], &ret_row->local_s)) {
        const struct text said = fields[COLUMN_TIME];
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "its time is written %.*s, not \"%.*s\"",
                TEXT_ARGS(ways->time), (int)(said.length < 40 ? said.length : 40), said.start);
    }
    TRY(read_number(fields[COLUMN_NUMBER], "number", CONTACT_ID_NUMBER_MOST, &number, ret_problem));
    TRY(read_number(fields[COLUMN_AREA], "area", CONTACT_ID_GROUP_MOST, &area, ret_problem));
    ret_row->account = fields[COLUMN_ACCOUNT];
    if (fields[COLUMN_ACCOUNT].start != NULL) {
        TRY(read_account(fields[COLUMN_ACCOUNT], ret_problem));
    }
    return make_event(ret_row, code_of(ways, fields[COLUMN_CODE]), number, area, ret_problem);
}
