#include "document/reader.h"

#include "base/length.h"
#include "base/quantity.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const char *kind_name(const struct node *node) {
    switch (node->kind) {
    case NODE_TEXT:
        return node->null ? "nothing" : "one value";
    case NODE_MAP:
        return "a mapping";
    case NODE_LIST:
        return "a list";
    case NODE_BROKEN:
        return "what it is";
    }
    return "";
}

bool value_is_text(struct reader *reader, const struct node *node, const char *expected) {
    if (node->kind == NODE_BROKEN) {
        return false;
    }
    if (node->kind != NODE_TEXT || node->null) {
        reader_tell(
                reader, PROBLEM_BAD_VALUE, node, "expected %s, not %s", expected, kind_name(node));
        return false;
    }
    return true;
}

static bool is_one_line(struct text text) {
    for (size_t i = 0; i < text.length; i++) {
        if (gather_unseen(text, i) > 0) {
            return false;
        }
    }
    return true;
}

/* A folded block ends in a line break that nobody means. */
static struct text without_end(struct text text) {
    while (text.length > 0 &&
            (text.start[text.length - 1] == '\n' || text.start[text.length - 1] == ' ')) {
        text.length--;
    }
    return text;
}

bool value_text(struct reader *reader, const struct key *key, const struct node *node,
        struct text *ret_text) {
    if (node->kind == NODE_TEXT && node->null) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node,
                "expected a text, not nothing; one that begins with # stands in quotes");
        return false;
    }
    if (!value_is_text(reader, node, "a text")) {
        return false;
    }
    const struct text text = node->block ? without_end(node->text) : node->text;
    const size_t columns = text_columns(text);
    if (!is_one_line(text)) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node,
                "line breaks, tabs and control characters do not belong here, nor do marks of "
                "writing direction; write one line");
        return false;
    }
    if (columns < (size_t)key->low || columns > (size_t)key->high) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node, "%zu characters; expected %d to %d", columns,
                key->low, key->high);
        return false;
    }
    *ret_text = text;
    return true;
}

bool value_texts(struct reader *reader, const struct key *key, const struct node *node,
        const struct text **ret_texts, size_t *ret_count) {
    static const struct key one = {.type = KEY_TEXT, .low = 1, .high = 60};
    if (node->kind != NODE_LIST) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node, "expected a list such as [one, two], not %s",
                kind_name(node));
        return false;
    }
    if (node->count > (size_t)key->high) {
        reader_tell(reader, PROBLEM_LIMIT, node, "%zu entries; at most %d", node->count, key->high);
        return false;
    }
    struct text *texts = ARENA_ARRAY(&reader->document->arena, struct text, node->count);
    if (texts == NULL) {
        reader->gatherer.refused = true;
        return false;
    }
    size_t count = 0;
    for (const struct node *item = node->first; item != NULL; item = item->next) {
        count += value_text(reader, &one, item, &texts[count]);
    }
    *ret_texts = texts;
    *ret_count = count;
    return count == node->count;
}

bool value_words(struct reader *reader, const struct key *key, const struct node *node,
        struct text *ret_text) {
    static const struct key one = {.type = KEY_TEXT, .low = 1, .high = 60};
    struct text_builder builder;
    if (node->kind != NODE_LIST) {
        return value_text(reader, key, node, ret_text);
    }
    text_builder_init(&builder, &reader->document->arena);
    for (const struct node *item = node->first; item != NULL; item = item->next) {
        struct text word;
        if (!value_text(reader, &one, item, &word)) {
            return false;
        }
        if (item != node->first) {
            text_add_char(&builder, ' ');
        }
        text_add(&builder, word);
    }
    const struct text text = text_built(&builder);
    if (text.start == NULL) {
        reader->gatherer.refused = true;
        return false;
    }
    if (text.length == 0 || text_columns(text) > (size_t)key->high) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node, "%zu characters; expected %d to %d",
                text_columns(text), key->low, key->high);
        return false;
    }
    *ret_text = text;
    return true;
}

/* What other files and people write for yes and no, in any case. */
static bool is_said(struct text written, const char *const words[], size_t count) {
    for (size_t i = 0; i < count; i++) {
        if (text_distance(written, text_of(words[i]), 0) == 0) {
            return true;
        }
    }
    return false;
}

static void tell_yes(struct reader *reader, const struct key *key, const struct node *node) {
    static const char *const yes[] = {"yes", "true", "on", "y"};
    static const char *const no[] = {"no", "false", "off", "n"};
    char quoted[GATHER_QUOTE_MAX * 4];
    const char *meant = is_said(node->text, yes, sizeof yes / sizeof yes[0]) ? "yes"
            : is_said(node->text, no, sizeof no / sizeof no[0])              ? "no"
                                                                             : NULL;
    if (meant != NULL) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node, "write %s%s, not %s", meant,
                node->plain ? "" : " without quotes", gather_quote(node->text, quoted));
    } else if (key->secret != NULL) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node, "%s", key->secret);
    } else {
        reader_tell(reader, PROBLEM_BAD_VALUE, node, "expected yes or no, not %s",
                gather_quote(node->text, quoted));
    }
}

bool value_yes(
        struct reader *reader, const struct key *key, const struct node *node, bool *ret_yes) {
    if (!value_is_text(reader, node, "yes or no")) {
        return false;
    }
    const bool yes = text_is(node->text, "yes") || text_is(node->text, "true");
    const bool no = text_is(node->text, "no") || text_is(node->text, "false");
    if (!node->plain || (!yes && !no)) {
        tell_yes(reader, key, node);
        return false;
    }
    *ret_yes = yes;
    return true;
}

bool value_is_digits(struct text text) {
    for (size_t i = 0; i < text.length; i++) {
        if (text.start[i] < '0' || text.start[i] > '9') {
            return false;
        }
    }
    return text.length > 0;
}

bool value_number(struct reader *reader, const struct key *key, const struct node *node,
        int32_t *ret_number) {
    char quoted[GATHER_QUOTE_MAX * 4];
    if (!value_is_text(reader, node, "a whole number")) {
        return false;
    }
    const bool negative = node->text.length > 1 && node->text.start[0] == '-';
    const struct text digits = {
            .start = node->text.start + negative, .length = node->text.length - negative};
    if (!node->plain || !value_is_digits(digits)) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node,
                "%s is not a whole number; write digits alone, such as %d",
                gather_quote(node->text, quoted), key->low > 0 ? key->low : 1);
        return false;
    }
    if (digits.start[0] == '0' && digits.length > 1) {
        struct text bare = digits;
        while (bare.length > 1 && bare.start[0] == '0') {
            bare.start++;
            bare.length--;
        }
        reader_tell(reader, PROBLEM_BAD_VALUE, node, "%s begins with a zero; write %.*s",
                gather_quote(node->text, quoted), (int)(bare.length < 20 ? bare.length : 20),
                bare.start);
        return false;
    }
    int64_t number = 0;
    for (size_t i = 0; i < digits.length && number <= INT32_MAX; i++) {
        number = number * 10 + (digits.start[i] - '0');
    }
    number = negative ? -number : number;
    if (number < key->low || number > key->high) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node, "%.*s is out of range; expected %d to %d",
                (int)(node->text.length < 20 ? node->text.length : 20), node->text.start, key->low,
                key->high);
        return false;
    }
    *ret_number = (int32_t)number;
    return true;
}

static bool in_range(
        struct reader *reader, const struct key *key, const struct node *node, struct span span) {
    if (span.low_s >= key->low && span.high_s <= key->high) {
        return true;
    }
    struct text_builder builder;
    text_builder_init(&builder, &reader->document->arena);
    quantity_add_from_to(&builder, span);
    text_add_string(&builder, " is out of range; expected ");
    quantity_add_span(&builder, span_of(key->low, key->high));
    const struct text text = text_built(&builder);
    reader_tell(reader, PROBLEM_BAD_VALUE, node, "%.*s", TEXT_ARGS(text));
    return false;
}

bool value_seconds(struct reader *reader, const struct key *key, const struct node *node,
        int32_t *ret_seconds_s) {
    struct problem problem = {0};
    int32_t seconds_s = 0;
    if (!value_is_text(reader, node, "a time, such as 30 s")) {
        return false;
    }
    if (!quantity_read_seconds(node->text, &seconds_s, &problem).good) {
        reader_tell(reader, problem.kind, node, "%s", problem.text);
        return false;
    }
    if (!in_range(reader, key, node, span_of(seconds_s, seconds_s))) {
        return false;
    }
    *ret_seconds_s = seconds_s;
    return true;
}

bool value_milliseconds(struct reader *reader, const struct key *key, const struct node *node,
        int32_t *ret_milliseconds_ms) {
    struct problem problem = {0};
    int32_t milliseconds_ms = 0;
    if (!value_is_text(reader, node, "a time, such as 300 ms")) {
        return false;
    }
    if (!quantity_read_milliseconds(node->text, &milliseconds_ms, &problem).good) {
        reader_tell(reader, problem.kind, node, "%s", problem.text);
        return false;
    }
    if (milliseconds_ms < key->low || milliseconds_ms > key->high) {
        struct text_builder builder;
        text_builder_init(&builder, &reader->document->arena);
        quantity_add_milliseconds(&builder, milliseconds_ms);
        text_add_string(&builder, " is out of range; expected ");
        quantity_add_milliseconds(&builder, key->low);
        text_add_string(&builder, " to ");
        quantity_add_milliseconds(&builder, key->high);
        const struct text text = text_built(&builder);
        reader_tell(reader, PROBLEM_BAD_VALUE, node, "%.*s", TEXT_ARGS(text));
        return false;
    }
    *ret_milliseconds_ms = milliseconds_ms;
    return true;
}

bool value_span(struct reader *reader, const struct key *key, const struct node *node,
        struct span *ret_span) {
    struct problem problem = {0};
    struct span span;
    if (!value_is_text(reader, node, "a time from-to, such as 4..9 s")) {
        return false;
    }
    if (!quantity_read_span(node->text, &span, &problem).good) {
        reader_tell(reader, problem.kind, node, "%s", problem.text);
        return false;
    }
    if (!in_range(reader, key, node, span)) {
        return false;
    }
    *ret_span = span;
    return true;
}

bool value_clock(struct reader *reader, const struct node *node, struct span *ret_span) {
    struct problem problem = {0};
    if (!value_is_text(reader, node, "a time of day, such as \"05:30\"")) {
        return false;
    }
    if (!quantity_read_clock(node->text, ret_span, &problem).good) {
        reader_tell(reader, problem.kind, node, "%s", problem.text);
        return false;
    }
    return true;
}

bool value_date(struct reader *reader, const struct node *node, int32_t *ret_day) {
    struct problem problem = {0};
    if (!value_is_text(reader, node, "a date, such as 2027-03-31")) {
        return false;
    }
    if (!date_read(node->text, ret_day, &problem).good) {
        reader_tell(reader, problem.kind, node, "%s", problem.text);
        return false;
    }
    return true;
}

bool value_tenths(struct reader *reader, const struct key *key, const struct node *node,
        int32_t *ret_tenths) {
    struct problem problem = {0};
    struct quantity percent;
    if (!value_is_text(reader, node, "a share, such as 10 %")) {
        return false;
    }
    if (!quantity_read(node->text, QUANTITY_PERCENT, &percent, &problem).good) {
        reader_tell(reader, problem.kind, node, "%s", problem.text);
        return false;
    }
    for (int32_t tens = key->low; tens * 10 <= key->high; tens++) {
        if (percent.low >= tens * 10 && percent.high <= tens * 10) {
            *ret_tenths = tens;
            return true;
        }
    }
    reader_tell(reader, PROBLEM_BAD_VALUE, node, "expected %d to %d %% in steps of 10 %%", key->low,
            key->high);
    return false;
}

/* A length that has everything but a unit, which would be mm or m by the key's range: NULL where it is another slip. */
static const char *missing_unit(
        struct reader *reader, const struct key *key, const struct node *node) {
    static const char *const units[] = {"mm", "m"};
    for (size_t i = 0; key->measured == QUANTITY_LENGTH_M && i < sizeof units / sizeof units[0];
            i++) {
        struct measure measure;
        const struct text whole =
                text_print(&reader->document->arena, "%.*s %s", TEXT_ARGS(node->text), units[i]);
        if (whole.start != NULL &&
                quantity_read_measure(whole, key->measured, &measure, NULL).good &&
                measure.low >= key->low && measure.high <= key->high) {
            return units[i];
        }
    }
    return NULL;
}

bool value_measure(struct reader *reader, const struct key *key, const struct node *node,
        struct measure *ret_measure) {
    struct problem problem = {0};
    struct measure measure;
    struct text_builder builder;
    static const char *const expected[QUANTITY_KIND_COUNT] = {
            [QUANTITY_LENGTH_M] = "a length, such as 8 mm",
            [QUANTITY_CURRENT_MA] = "a current, such as 12 mA",
            [QUANTITY_TEMPERATURE_C] = "temperatures, such as -10..50 C",
            [QUANTITY_ANGLE_DEG] = "an angle, such as 90 deg",
            [QUANTITY_MASS_KG] = "a weight, such as 15 kg",
            [QUANTITY_FREQUENCY_MHZ] = "a frequency, such as 868.3 MHz",
            [QUANTITY_POWER_DBM] = "a level of radio, such as -105 dBm",
            [QUANTITY_LEVEL_DB] = "a loss, such as 5..15 dB",
            [QUANTITY_VOLTAGE_V] = "a voltage, such as 10.5..13.8 V",
            [QUANTITY_RESISTANCE_OHM] = "a resistance, such as 4.7 kohm",
            [QUANTITY_CHARGE_MAH] = "a capacity, such as 7 Ah",
    };
    if (!value_is_text(reader, node, expected[key->measured])) {
        return false;
    }
    if (!quantity_read_measure(node->text, key->measured, &measure, &problem).good) {
        const char *unit = missing_unit(reader, key, node);
        if (unit != NULL) {
            char quoted[GATHER_QUOTE_MAX * 4];
            reader_tell(reader, PROBLEM_UNREADABLE, node,
                    "%s has no unit; write a length: mm, cm or m, for example %.*s %s",
                    gather_quote(node->text, quoted), TEXT_ARGS(node->text), unit);
            return false;
        }
        reader_tell(reader, problem.kind, node, "%s", problem.text);
        return false;
    }
    if (measure.low < key->low || measure.high > key->high) {
        text_builder_init(&builder, &reader->document->arena);
        quantity_add_measure(&builder, key->measured, measure);
        text_add_string(&builder, " is out of range; expected ");
        quantity_add_measure(
                &builder, key->measured, (struct measure){.low = key->low, .high = key->high});
        const struct text text = text_built(&builder);
        reader_tell(reader, PROBLEM_BAD_VALUE, node, "%.*s", TEXT_ARGS(text));
        return false;
    }
    *ret_measure = measure;
    return true;
}

/* A speed within the key's range, in whole mm/s: three decimals of m/s are read at most. */
static bool value_speed(struct reader *reader, const struct key *key, const struct node *node,
        struct site_speed *ret_speed) {
    struct problem problem = {0};
    struct quantity speed;
    if (!quantity_read(node->text, QUANTITY_SPEED_M_S, &speed, &problem).good) {
        reader_tell(reader, problem.kind, node, "%s", problem.text);
        return false;
    }
    const struct site_speed read = {
            (int32_t)lround(speed.low * 1000), (int32_t)lround(speed.high * 1000)};
    if (read.slow_mm_s < key->low || read.fast_mm_s > key->high) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node,
                "people walk %g to %g m/s; an adult 0.9 to 1.4 m/s", key->low / 1000.0,
                key->high / 1000.0);
        return false;
    }
    *ret_speed = read;
    return true;
}

bool value_walking(struct reader *reader, const struct key *key, const struct node *node,
        struct site_walking *ret_walking) {
    struct text_builder kinds;
    if (!value_is_text(reader, node, "a kind of walker, or a speed such as 0.9..1.4 m/s")) {
        return false;
    }
    text_builder_init(&kinds, &reader->document->arena);
    for (int i = 0; i < SITE_WALKER_COUNT; i++) {
        const char *name = site_walker_name((enum site_walker)i);
        if (text_is(node->text, name)) {
            *ret_walking = (struct site_walking){.walker = (enum site_walker)i};
            return true;
        }
        text_add_format(&kinds, "%s%s", i == 0 ? "" : ", ", name);
    }
    const bool figure =
            node->text.length > 0 && node->text.start[0] >= '0' && node->text.start[0] <= '9';
    if (!figure) {
        const struct text text = text_built(&kinds);
        reader_tell(reader, PROBLEM_BAD_VALUE, node,
                "nobody walks so here; write %.*s, or a speed such as 0.9..1.4 m/s",
                TEXT_ARGS(text));
        return false;
    }
    struct site_walking walking = {.walker = SITE_WALKER_OWN};
    if (!value_speed(reader, key, node, &walking.own)) {
        return false;
    }
    *ret_walking = walking;
    return true;
}

static bool length_in_range(
        struct reader *reader, const struct key *key, const struct node *node, int32_t length_mm) {
    if (length_mm >= key->low && length_mm <= key->high) {
        return true;
    }
    struct text_builder builder;
    text_builder_init(&builder, &reader->document->arena);
    length_add(&builder, length_mm);
    text_add_string(&builder, " is out of range; expected ");
    length_add(&builder, key->low);
    text_add_string(&builder, " to ");
    length_add(&builder, key->high);
    const struct text text = text_built(&builder);
    reader_tell(reader, PROBLEM_BAD_VALUE, node, "%.*s", TEXT_ARGS(text));
    return false;
}

bool value_length(struct reader *reader, const struct key *key, const struct node *node,
        int32_t *ret_length_mm) {
    struct problem problem = {0};
    int32_t length_mm = 0;
    if (!value_is_text(reader, node, "a length, such as 4.2 m")) {
        return false;
    }
    const bool negative = key->low < 0 && node->text.length > 0 && node->text.start[0] == '-';
    const struct text size = {
            .start = node->text.start + negative, .length = node->text.length - negative};
    if (!length_read(size, &length_mm, &problem).good) {
        reader_tell(reader, problem.kind, node, "%s", problem.text);
        return false;
    }
    length_mm = negative ? -length_mm : length_mm;
    if (!length_in_range(reader, key, node, length_mm)) {
        return false;
    }
    *ret_length_mm = length_mm;
    return true;
}

bool value_pair(struct reader *reader, const struct key *key, const struct node *node,
        struct site_point *ret_point) {
    struct problem problem = {0};
    struct site_point point;
    if (!value_is_text(reader, node, "two lengths, such as 4.2 x 3.1 m")) {
        return false;
    }
    if (!length_read_pair(node->text, &point.x_mm, &point.y_mm, &problem).good) {
        reader_tell(reader, problem.kind, node, "%s", problem.text);
        return false;
    }
    if (!length_in_range(reader, key, node, point.x_mm) ||
            !length_in_range(reader, key, node, point.y_mm)) {
        return false;
    }
    *ret_point = point;
    return true;
}

bool value_pairs(struct reader *reader, const struct key *key, const struct node *node,
        const struct site_point **ret_points, size_t *ret_count) {
    static const struct key corner = {
            .type = KEY_PAIR, .low = -LENGTH_MOST_MM, .high = LENGTH_MOST_MM};
    if (node->kind != NODE_LIST) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node,
                "expected a list of corners such as [0 x 0 m, 4 x 0 m, 4 x 3 m], not %s",
                kind_name(node));
        return false;
    }
    if (node->count < (size_t)key->low || node->count > (size_t)key->high) {
        reader_tell(reader, PROBLEM_LIMIT, node, "%zu corners; expected %d to %d", node->count,
                key->low, key->high);
        return false;
    }
    struct site_point *points =
            ARENA_ARRAY(&reader->document->arena, struct site_point, node->count);
    if (points == NULL) {
        reader->gatherer.refused = true;
        return false;
    }
    size_t count = 0;
    for (const struct node *item = node->first; item != NULL; item = item->next) {
        count += value_pair(reader, &corner, item, &points[count]);
    }
    *ret_points = points;
    *ret_count = count;
    return count == node->count;
}

/* "cover, wall", "23,24" */
static bool is_several(struct text text) {
    return text.length > 2 && memchr(text.start + 1, ',', text.length - 2) != NULL &&
            is_one_line(text);
}

static void tell_several(struct reader *reader, const struct node *node) {
    char quoted[GATHER_QUOTE_MAX * 4];
    struct text_builder builder;
    text_builder_init(&builder, &reader->document->arena);
    for (size_t i = 0; i < node->text.length; i++) {
        const char letter = node->text.start[i];
        text_add_char(&builder, letter);
        if (letter == ',' && i + 1 < node->text.length && node->text.start[i + 1] != ' ') {
            text_add_char(&builder, ' ');
        }
    }
    const struct text list = text_built(&builder);
    reader_tell(reader, PROBLEM_BAD_VALUE, node, "%s: several are written in brackets: [%.*s]",
            gather_quote(node->text, quoted), TEXT_ARGS(list));
}

/* One number or from-to, "7" or "1..6". */
static bool add_numbers(struct reader *reader, const struct key *key, const struct node *node,
        struct site_numbers *numbers) {
    if (!value_is_text(reader, node, "a whole number or a from-to, such as 1..6")) {
        return false;
    }
    if (is_several(node->text)) {
        tell_several(reader, node);
        return false;
    }
    struct node ends[2] = {*node, *node};
    size_t at = 0;
    while (at + 1 < node->text.length && memcmp(node->text.start + at, "..", 2) != 0) {
        at++;
    }
    const bool from_to = at + 1 < node->text.length;
    int32_t low = 0;
    int32_t high = 0;
    if (from_to) {
        ends[0].text.length = at;
        ends[1].text.start += at + 2;
        ends[1].text.length -= at + 2;
    }
    const char *dash = from_to ? NULL : memchr(node->text.start, '-', node->text.length);
    if (dash != NULL && dash > node->text.start &&
            dash + 1 < node->text.start + node->text.length) {
        char quoted[GATHER_QUOTE_MAX * 4];
        reader_tell(reader, PROBLEM_BAD_VALUE, node,
                "%s: a from-to is written with two points, as 1..6",
                gather_quote(node->text, quoted));
        return false;
    }
    if (!value_number(reader, key, &ends[0], &low)) {
        return false;
    }
    high = low;
    if (from_to && !value_number(reader, key, &ends[1], &high)) {
        return false;
    }
    if (low > high) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node,
                "%d..%d runs backwards; the smaller end comes first", low, high);
        return false;
    }
    for (int32_t number = low; number <= high; number++) {
        site_numbers_add(numbers, number);
    }
    return true;
}

bool value_numbers(struct reader *reader, const struct key *key, const struct node *node,
        struct site_numbers *ret_numbers) {
    struct site_numbers numbers = {.said = true};
    bool good = true;
    if (node->kind != NODE_LIST) {
        good = add_numbers(reader, key, node, &numbers);
    }
    for (const struct node *item = node->kind == NODE_LIST ? node->first : NULL; item != NULL;
            item = item->next) {
        good = add_numbers(reader, key, item, &numbers) && good;
    }
    if (good) {
        *ret_numbers = numbers;
    }
    return good;
}

/* How manuals and other trades call what we call otherwise: docs/words.md. Common practice. */
static const struct {
    const char *said;
    const char *ours;
} trade_words[] = {
        {"delay", "entry"},
        {"delayed", "entry"},
        {"entry/exit", "entry"},
        {"final-exit", "entry"},
        {"instant", "perimeter"},
        {"immediate", "perimeter"},
        {"inside", "interior"},
        {"walk-through", "follower"},
        {"24h", "24-hour"},
        {"24hour", "24-hour"},
        {"panic", "hold-up"},
        {"smoke", "fire"},
        {"water", "flood"},
        {"pir", "motion"},
        {"reed", "contact"},
        {"none", "out"},
        {"off", "out"},
};

/* Our word for a word of the trade, where it is expected here; or NULL. */
static const char *ours_for(const struct key *key, struct text word) {
    for (size_t i = 0; i < sizeof trade_words / sizeof trade_words[0]; i++) {
        if (text_distance(word, text_of(trade_words[i].said), 0) == 0 &&
                key_choice_value(key, text_of(trade_words[i].ours)) >= 0) {
            return trade_words[i].ours;
        }
    }
    return NULL;
}

static void tell_choice(struct reader *reader, const struct key *key, const struct node *node) {
    char quoted[GATHER_QUOTE_MAX * 4];
    char hint[GATHER_QUOTE_MAX * 4 + 32];
    struct gather_nearest nearest = {.wanted = node->text};
    struct text_builder builder;
    text_builder_init(&builder, &reader->document->arena);
    for (int value = key->low; value <= key->high; value++) {
        const char *name = key_choice_name(key, value);
        gather_offer(&nearest, text_of(name));
        text_add_format(&builder, "%s%s",
                value == key->low            ? ""
                        : value == key->high ? " or "
                                             : ", ",
                name);
    }
    const struct text known = text_built(&builder);
    const char *ours = ours_for(key, node->text);
    (void)gather_quote(node->text, quoted);
    if (ours != NULL) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node, "%s is called %s here; expected %.*s", quoted,
                ours, TEXT_ARGS(known));
        return;
    }
    reader_tell(reader, PROBLEM_BAD_VALUE, node, "%s is not known here%s; expected %.*s", quoted,
            gather_hint(&nearest, hint), TEXT_ARGS(known));
}

bool value_choice(
        struct reader *reader, const struct key *key, const struct node *node, int *ret_value) {
    if (!value_is_text(reader, node, "one word")) {
        return false;
    }
    const int value = key_choice_value(key, node->text);
    if (value < 0) {
        tell_choice(reader, key, node);
        return false;
    }
    *ret_value = value;
    return true;
}

bool value_choices(
        struct reader *reader, const struct key *key, const struct node *node, uint32_t *ret_bits) {
    uint32_t bits = 0;
    if (node->kind == NODE_TEXT && !node->null) {
        int value = 0;
        if (is_several(node->text)) {
            tell_several(reader, node);
            return false;
        }
        const bool good = value_choice(reader, key, node, &value);
        *ret_bits = good ? UINT32_C(1) << value : 0;
        return good;
    }
    if (node->kind != NODE_LIST) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node, "expected a list such as [%s], not %s",
                key_choice_name(key, key->low), kind_name(node));
        return false;
    }
    bool good = true;
    for (const struct node *item = node->first; item != NULL; item = item->next) {
        int value = 0;
        if (value_choice(reader, key, item, &value)) {
            bits |= UINT32_C(1) << value;
        } else {
            good = false;
        }
    }
    *ret_bits = bits;
    return good;
}
