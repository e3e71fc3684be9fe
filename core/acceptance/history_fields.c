#include "acceptance/history_fields.h"

#include "base/date.h"
#include "signals/contact_id.h"

#include <string.h>

enum { NOON_S = 12 * 3600 };

static char lower(char byte) {
    return byte >= 'A' && byte <= 'Z' ? (char)(byte - 'A' + 'a') : byte;
}

static bool is_letter(char byte) {
    return lower(byte) >= 'a' && lower(byte) <= 'z';
}

static bool is_digit(char byte) {
    return byte >= '0' && byte <= '9';
}

static struct text trimmed(struct text text) {
    while (text.length > 0 && (text.start[0] == ' ' || text.start[0] == '"')) {
        text = (struct text){text.start + 1, text.length - 1};
    }
    while (text.length > 0 && strchr(" \"\r", text.start[text.length - 1]) != NULL) {
        text.length--;
    }
    return text;
}

bool history_has_word(struct text text, const char *word) {
    const size_t length = strlen(word);
    for (size_t i = 0; i + length <= text.length; i++) {
        size_t same = 0;
        while (same < length && lower(text.start[i + same]) == word[same]) {
            same++;
        }
        /* "ac" is no beginning of "access", nor "set" of "settings"; long words may go on. */
        const bool whole =
                length > 3 || i + length == text.length || !is_letter(text.start[i + length]);
        if (same == length && whole && (i == 0 || !is_letter(text.start[i - 1]))) {
            return true;
        }
    }
    return false;
}

bool history_digits(struct text text, size_t at, size_t count, int32_t *ret_number) {
    int32_t number = 0;
    for (size_t i = at; i < at + count; i++) {
        if (i >= text.length || !is_digit(text.start[i])) {
            return false;
        }
        number = number * 10 + (text.start[i] - '0');
    }
    *ret_number = number;
    return true;
}

/* ---- cutting */

bool history_next_line(struct text *source, struct text *ret_line) {
    if (source->length == 0) {
        return false;
    }
    const char *end = memchr(source->start, '\n', source->length);
    const size_t length = end == NULL ? source->length : (size_t)(end - source->start);
    *ret_line = trimmed((struct text){source->start, length});
    const size_t taken = length + (end != NULL);
    *source = (struct text){source->start + taken, source->length - taken};
    return true;
}

char history_separator(struct text source) {
    static const char ones[] = "\t;|,";
    for (size_t i = 0; i < sizeof ones - 1; i++) {
        if (source.length > 0 && memchr(source.start, ones[i], source.length) != NULL) {
            return ones[i];
        }
    }
    return ' ';
}

/** Whether it has two blanks side by side anywhere: then these part its fields, and words of one keep together. */
static bool has_two_blanks(struct text line) {
    for (size_t i = 0; i + 1 < line.length; i++) {
        if (line.start[i] == ' ' && line.start[i + 1] == ' ') {
            return true;
        }
    }
    return false;
}

/** The next field from a place on, and where it begins; false: there is none. */
static bool next_field(
        struct text line, char separator, size_t *at, struct text *ret_field, size_t *ret_start) {
    const bool by_two = separator == ' ' && has_two_blanks(line);
    size_t from = *at;
    while (separator == ' ' && from < line.length && line.start[from] == ' ') {
        from++;
    }
    if (from >= line.length) {
        return false;
    }
    size_t end = from;
    while (end < line.length &&
            !(line.start[end] == separator &&
                    (!by_two || end + 1 == line.length || line.start[end + 1] == ' '))) {
        end++;
    }
    *ret_field = trimmed((struct text){line.start + from, end - from});
    *ret_start = from;
    *at = end + 1;
    return true;
}

/* ---- headings */

static const struct {
    const char *word;
    enum history_role role;
} headings[] = {
        {"date", HISTORY_WHEN},
        {"time", HISTORY_WHEN},
        {"received", HISTORY_WHEN},
        {"when", HISTORY_WHEN},
        {"account", HISTORY_ACCOUNT},
        {"acct", HISTORY_ACCOUNT},
        {"code", HISTORY_EVENT},
        {"event", HISTORY_EVENT},
        {"signal", HISTORY_EVENT},
        {"description", HISTORY_EVENT},
        {"zone", HISTORY_NUMBER},
        {"user", HISTORY_NUMBER},
        {"point", HISTORY_NUMBER},
        {"number", HISTORY_NUMBER},
        {"area", HISTORY_AREA},
        {"partition", HISTORY_AREA},
        {"group", HISTORY_AREA},
};

static enum history_role role_of(struct text name) {
    for (size_t i = 0; i < sizeof headings / sizeof headings[0]; i++) {
        if (history_has_word(name, headings[i].word)) {
            return headings[i].role;
        }
    }
    return HISTORY_OTHER;
}

bool history_take_heading(struct text line, char separator, struct history_columns *columns) {
    struct history_columns found = {0};
    struct text field = {0};
    size_t at = 0;
    size_t start = 0;
    size_t named = 0;
    while (found.count < HISTORY_COLUMNS_MAX && next_field(line, separator, &at, &field, &start)) {
        for (size_t i = 0; i < field.length; i++) {
            if (is_digit(field.start[i])) {
                return false; /* an event */
            }
        }
        found.starts[found.count] = start;
        found.roles[found.count] = role_of(field);
        named += found.roles[found.count++] != HISTORY_OTHER;
    }
    if (named < 2) {
        return false;
    }
    *columns = found;
    return true;
}

/* ---- day and time */

/** Numbers of a day, parted by one kind of sign. */
static bool read_day(struct text word, bool day_first, int32_t *ret_day) {
    int32_t parts[3] = {0};
    size_t digits[3] = {0};
    size_t part = 0;
    char sign = '\0';
    for (size_t i = 0; i < word.length; i++) {
        if (is_digit(word.start[i]) && digits[part] < 4) {
            parts[part] = parts[part] * 10 + (word.start[i] - '0');
            digits[part]++;
        } else if (strchr("-./", word.start[i]) != NULL && part < 2 && digits[part] > 0 &&
                (sign == '\0' || sign == word.start[i])) {
            sign = word.start[i];
            part++;
        } else {
            return false;
        }
    }
    if (part != 2 || digits[2] == 0) {
        return false;
    }
    const bool year_first = digits[0] == 4;
    /* 11.26. is no day first; with points a day stands first everywhere */
    const bool first_is_day =
            sign == '.' ? parts[1] <= 12 : (day_first || parts[0] > 12) && parts[1] <= 12;
    int32_t year = year_first ? parts[0] : parts[2];
    const int32_t month = year_first || first_is_day ? parts[1] : parts[0];
    const int32_t day = year_first ? parts[2] : first_is_day ? parts[0] : parts[1];
    year += year < 100 ? 2000 : 0;
    if (year < DATE_YEAR_FIRST || year > DATE_YEAR_LAST || month < 1 || month > 12 || day < 1 ||
            day > date_month_days(year, month)) {
        return false;
    }
    *ret_day = date_of(year, month, day);
    return true;
}

/** "14:32:07", "14:32", "2:32:07" with whatever stands behind. */
static bool read_second(struct text word, int32_t *ret_second) {
    int32_t parts[3] = {0};
    const size_t first = word.length > 1 && word.start[1] == ':' ? 1 : 2;
    if (!history_digits(word, 0, first, &parts[0]) || word.length <= first ||
            word.start[first] != ':' || !history_digits(word, first + 1, 2, &parts[1])) {
        return false;
    }
    if (word.length > first + 3 && word.start[first + 3] == ':' &&
            !history_digits(word, first + 4, 2, &parts[2])) {
        return false;
    }
    if (parts[0] > 23 || parts[1] > 59 || parts[2] > 59) {
        return false;
    }
    *ret_second = parts[0] * 3600 + parts[1] * 60 + parts[2];
    return true;
}

static bool next_word(struct text *text, struct text *ret_word) {
    size_t from = 0;
    while (from < text->length && text->start[from] == ' ') {
        from++;
    }
    size_t end = from;
    while (end < text->length && text->start[end] != ' ') {
        end++;
    }
    *ret_word = (struct text){text->start + from, end - from};
    *text = (struct text){text->start + end, text->length - end};
    return ret_word->length > 0;
}

/** Takes a day and a time of day out of a field; whether it had one. */
static bool take_when(struct text field, bool day_first, struct history_fields *fields) {
    struct text word = {0};
    bool any = false;
    while (next_word(&field, &word)) {
        const char *joint = word.length > 10 ? memchr(word.start, 'T', word.length) : NULL;
        const struct text head = {
                word.start, joint == NULL ? word.length : (size_t)(joint - word.start)};
        const struct text tail =
                joint == NULL ? word : (struct text){joint + 1, word.length - head.length - 1};
        const bool day = read_day(head, day_first, &fields->day);
        const bool time = read_second(tail, &fields->second);
        const bool half = fields->second >= 0 && word.length == 2 && lower(word.start[1]) == 'm' &&
                strchr("ap", lower(word.start[0])) != NULL;
        if (half && lower(word.start[0]) == 'p' && fields->second < NOON_S) {
            fields->second += NOON_S;
        } else if (half && lower(word.start[0]) == 'a' && fields->second >= NOON_S) {
            fields->second -= NOON_S;
        }
        any = any || day || time || half;
    }
    return any;
}

/** The first number that stands in a text, up to three digits; 0: none. */
static int32_t first_number(struct text text) {
    for (size_t i = 0; i < text.length; i++) {
        int32_t number = 0;
        size_t count = 0;
        while (i + count < text.length && is_digit(text.start[i + count]) && count < 4) {
            number = number * 10 + (text.start[i + count++] - '0');
        }
        if (count > 0) {
            return number <= CONTACT_ID_NUMBER_MOST ? number : 0;
        }
    }
    return 0;
}

/** The number behind "zone" or "user" in the words of an event. */
static int32_t number_in_words(struct text event) {
    static const char *const before[] = {"zone", "user", "point"};
    for (size_t i = 0; i < event.length; i++) {
        for (size_t k = 0; k < sizeof before / sizeof before[0]; k++) {
            const struct text rest = {event.start + i, event.length - i};
            const size_t length = strlen(before[k]);
            if (rest.length > length + 1 &&
                    history_has_word((struct text){rest.start, length + 1}, before[k])) {
                return first_number((struct text){rest.start + length, rest.length - length});
            }
        }
    }
    return 0;
}

/* ---- fields by what they are */

static enum history_role role_at(
        const struct history_columns *columns, char separator, size_t index, size_t start) {
    if (separator != ' ') {
        return index < columns->count ? columns->roles[index] : HISTORY_OTHER;
    }
    /* An empty cell of a printed list moves nothing: where it begins tells the column. */
    size_t column = 0;
    while (column + 1 < columns->count && columns->starts[column + 1] <= start + 1) {
        column++;
    }
    return columns->roles[column];
}

static bool all_digits(struct text field) {
    int32_t number = 0;
    return field.length > 0 && field.length <= 3 && history_digits(field, 0, field.length, &number);
}

/** Without a heading: what a field looks like. */
static enum history_role look_of(
        struct text field, const struct history_how *how, const struct history_fields *fields) {
    struct history_fields when = {.second = fields->second};
    if (take_when(field, how->day_first, &when)) {
        return HISTORY_WHEN;
    }
    if (fields->account.length == 0 && text_equal(field, how->account)) {
        return HISTORY_ACCOUNT;
    }
    if (fields->event.length == 0) {
        return HISTORY_EVENT;
    }
    return all_digits(field) || history_has_word(field, "zone") || history_has_word(field, "user")
            ? HISTORY_NUMBER
            : HISTORY_OTHER;
}

static void take_field(struct text field, enum history_role role, const struct history_how *how,
        struct history_fields *fields) {
    switch (role) {
    case HISTORY_WHEN:
        (void)take_when(field, how->day_first, fields);
        return;
    case HISTORY_ACCOUNT:
        fields->account = field;
        return;
    case HISTORY_EVENT:
        if (fields->event.length == 0) {
            fields->event = field;
        }
        return;
    case HISTORY_NUMBER:
        if (fields->number == 0) {
            fields->number = first_number(field);
        }
        return;
    case HISTORY_AREA:
        fields->area = first_number(field);
        return;
    case HISTORY_OTHER:
        return;
    }
}

void history_fields_of(struct text line, char separator, const struct history_columns *columns,
        const struct history_how *how, struct history_fields *ret_fields) {
    struct history_fields fields = {.day = DATE_NONE, .second = -1};
    struct text field = {0};
    enum history_role last = HISTORY_OTHER;
    bool two_digits = false;
    if (columns->count == 0 && memchr(line.start, separator, line.length) == NULL) {
        separator = ' '; /* a line of another kind among the others */
    }
    size_t at = 0;
    size_t start = 0;
    for (size_t i = 0; next_field(line, separator, &at, &field, &start); i++) {
        enum history_role role = columns->count > 0 ? role_at(columns, separator, i, start)
                                                    : look_of(field, how, &fields);
        const bool more = role == HISTORY_EVENT || (role == HISTORY_OTHER && columns->count == 0);
        if (separator == ' ' && last == HISTORY_EVENT && more) {
            /* another word of it */
            fields.event.length = (size_t)(field.start + field.length - fields.event.start);
            role = HISTORY_EVENT;
        } else {
            take_field(field, role, how, &fields);
        }
        if (columns->count == 0 && two_digits && all_digits(field) && field.length == 3) {
            fields.area = fields.number; /* "01 007": area and zone, as Contact ID has them */
            fields.number = first_number(field);
        }
        two_digits = role == HISTORY_NUMBER && all_digits(field) && field.length == 2;
        last = role;
    }
    if (fields.number == 0) {
        fields.number = number_in_words(fields.event);
    }
    fields.area = fields.area <= CONTACT_ID_GROUP_MOST ? fields.area : 0;
    *ret_fields = fields;
}
