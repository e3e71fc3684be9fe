/* Times of day as people say them: 03:10, 3 am, "ten past three", "in the night". A dial has twelve hours: which half
 * of the day is meant must be said, and is never guessed. */
#include "why/inside.h"
#include "why/spoken.h"

#include <string.h>

enum { HOUR_S = 3600, HALF_DAY_S = WHY_DAY_S / 2 };

/* ---- parts of the day ------------------------------------------------------------------------------------------- */

/* clang-format off */

#define HOURS(from, to) {(from) * HOUR_S, (to) * HOUR_S - 1}
#define NIGHT HOURS(22, 30), HOURS(18, 31)
#define MORNING HOURS(5, 12), HOURS(0, 12)
#define AFTERNOON HOURS(12, 18), HOURS(12, 19)
#define EVENING HOURS(17, 23), HOURS(16, 24)

/* "Night" alone is a mode of the panel, and so is not here. */
static const struct spoken_part parts[] = {
    {"in the night",          NIGHT},
    {"at night",              NIGHT},
    {"by night",              NIGHT},
    {"during the night",      NIGHT},
    {"last night",            NIGHT},
    {"that night",            NIGHT},
    {"overnight",             NIGHT},
    {"in the morning",        MORNING},
    {"this morning",          MORNING},
    {"morning",               MORNING},
    {"in the afternoon",      AFTERNOON},
    {"this afternoon",        AFTERNOON},
    {"afternoon",             AFTERNOON},
    {"in the evening",        EVENING},
    {"this evening",          EVENING},
    {"last evening",          EVENING},
    {"evening",               EVENING},
    {"tonight",               EVENING},
};

/* clang-format on */

size_t spoken_find_part(
        const struct spoken *words, size_t at, const struct spoken_part **ret_part) {
    size_t longest = 0;
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        const size_t length = spoken_spells(words, at, text_of(parts[i].words));
        if (length > longest) {
            longest = length;
            *ret_part = &parts[i];
        }
    }
    return longest;
}

const struct spoken_part *spoken_night(void) {
    return &parts[0];
}

static bool reads(const struct spoken_part *part, int32_t at_s) {
    return (at_s >= part->reads.low_s && at_s <= part->reads.high_s) ||
            at_s + WHY_DAY_S <= part->reads.high_s;
}

static struct span moved(struct span clock, int32_t by_s) {
    return span_of(clock.low_s + by_s, clock.high_s + by_s);
}

/* Of the two times that a dial shows alike, the later one if the part of the day has both: "6 at night" is 18:00. */
static bool settle(struct spoken_clock *time, const struct spoken_part *part) {
    if (time->half != HALF_SURE) {
        const int32_t low_s = time->clock.low_s;
        const struct span other = moved(time->clock, low_s < HALF_DAY_S ? HALF_DAY_S : -HALF_DAY_S);
        const struct span later = low_s < HALF_DAY_S ? other : time->clock;
        const struct span earlier = low_s < HALF_DAY_S ? time->clock : other;
        time->clock = reads(part, later.low_s) ? later : earlier;
        time->half = HALF_SURE;
    }
    return reads(part, time->clock.low_s);
}

bool spoken_settle(struct spoken_time *time, const struct spoken_part *part) {
    const bool from = settle(&time->from, part);
    const bool to = settle(&time->to, part);
    return from && to;
}

struct span spoken_span(const struct spoken_time *time) {
    const int32_t to_s = time->to.clock.high_s;
    const bool next_day = to_s < time->from.clock.low_s;
    return span_of(time->from.clock.low_s, to_s + (next_day ? WHY_DAY_S : 0));
}

/* ---- figures ---------------------------------------------------------------------------------------------------- */

enum day_half { DAY_HALF_NONE, DAY_HALF_AM, DAY_HALF_PM };

static enum day_half skip_day_half(struct text *rest) {
    return spoken_skip(rest, "am") || spoken_skip(rest, "a.m")    ? DAY_HALF_AM
            : spoken_skip(rest, "pm") || spoken_skip(rest, "p.m") ? DAY_HALF_PM
                                                                  : DAY_HALF_NONE;
}

static enum day_half day_half_at(const struct spoken *words, size_t at) {
    struct text word = at < words->count ? words->word[at] : text_of("");
    const enum day_half half = skip_day_half(&word);
    return word.length == 0 ? half : DAY_HALF_NONE;
}

/* Hour and minute with what says the half of the day. Gives false: there is no such time ("13 pm", 25:10). */
static bool make_clock(int hour, int minute, int second, enum day_half day_half,
        enum spoken_half half, struct spoken_clock *ret_clock) {
    const bool on_dial = hour >= 1 && hour <= 12;
    if ((day_half != DAY_HALF_NONE && !on_dial) || hour > 23 || minute > 59 || second > 59) {
        return false;
    }
    if (day_half != DAY_HALF_NONE) {
        hour = hour % 12 + (day_half == DAY_HALF_PM ? 12 : 0);
    }
    const int32_t begins_s = hour * HOUR_S + minute * WHY_MINUTE_S + (second < 0 ? 0 : second);
    ret_clock->clock = span_of(begins_s, begins_s + (second < 0 ? WHY_MINUTE_S - 1 : 0));
    ret_clock->half = on_dial && day_half == DAY_HALF_NONE ? half : HALF_SURE;
    return true;
}

/* One time at the beginning of `rest`: 3:10, 03:10, 03:10:20, 3.10, 3pm; said_half: of the word behind. */
static bool read_clock(struct text *rest, enum day_half said_half, struct spoken_clock *ret_clock) {
    struct text at = *rest;
    int hour = 0;
    int minute = 0;
    int second = -1;
    const bool padded = at.length > 0 && at.start[0] == '0';
    if (!spoken_digits(&at, 2, &hour)) {
        return false;
    }
    const struct text after_hour = at;
    const bool has_minutes =
            (spoken_skip(&at, ":") ||
                    (at.length > 1 && at.start[1] != '.' && spoken_skip(&at, "."))) &&
            spoken_digits(&at, 2, &minute);
    if (!has_minutes) {
        at = after_hour;
    } else if (spoken_skip(&at, ":") && !spoken_digits(&at, 2, &second)) {
        return false;
    }
    const enum day_half own = skip_day_half(&at);
    const enum day_half day_half = own == DAY_HALF_NONE ? said_half : own;
    if ((!has_minutes && day_half == DAY_HALF_NONE) ||
            !make_clock(
                    hour, minute, second, day_half, padded ? HALF_SURE : HALF_SOFT, ret_clock)) {
        return false;
    }
    *rest = at;
    return true;
}

static bool skip_dash(struct text *rest) {
    return spoken_skip(rest, "..") || spoken_skip(rest, "-") || spoken_skip(rest, "\xE2\x80\x93");
}

/* A whole word: two times with .. or - between. */
static bool is_range(struct text word, struct spoken_time *ret_time) {
    struct text rest = word;
    return read_clock(&rest, DAY_HALF_NONE, &ret_time->from) && skip_dash(&rest) &&
            read_clock(&rest, DAY_HALF_NONE, &ret_time->to) && rest.length == 0;
}

/* A time in figures, with am or pm as a word of its own or not; gives the number of words, 0: none. */
static size_t find_figures(const struct spoken *words, size_t at, struct spoken_clock *ret_clock) {
    const enum day_half behind = day_half_at(words, at + 1);
    struct text rest = words->word[at];
    if (behind != DAY_HALF_NONE && read_clock(&rest, behind, ret_clock) && rest.length == 0) {
        return 2;
    }
    rest = words->word[at];
    return read_clock(&rest, DAY_HALF_NONE, ret_clock) && rest.length == 0;
}

/* ---- words ------------------------------------------------------------------------------------------------------ */

static bool is_one_of(struct text word, const char *const *list, size_t count, int *ret_which) {
    for (size_t i = 0; i < count; i++) {
        if (spoken_same(word, text_of(list[i]))) {
            *ret_which = (int)i;
            return true;
        }
    }
    return false;
}

/* A number of up to two figures, or its word up to twelve. */
static bool is_number(struct text word, int *ret_number) {
    static const char *const names[] = {"one", "two", "three", "four", "five", "six", "seven",
            "eight", "nine", "ten", "eleven", "twelve"};
    struct text rest = word;
    if (is_one_of(word, names, sizeof names / sizeof names[0], ret_number)) {
        (*ret_number)++;
        return true;
    }
    return spoken_digits(&rest, 2, ret_number) && rest.length == 0;
}

/* "Half", "quarter", "twenty", "ten": minutes of an hour. */
static bool is_minutes(struct text word, int *ret_minutes) {
    static const struct {
        const char *name;
        int minutes;
    } rows[] = {{"half", 30}, {"quarter", 15}, {"twenty", 20}, {"twenty-five", 25}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        if (spoken_same(word, text_of(rows[i].name))) {
            *ret_minutes = rows[i].minutes;
            return true;
        }
    }
    return is_number(word, ret_minutes) && *ret_minutes < 60;
}

static bool is_word(const struct spoken *words, size_t at, const char *word) {
    return at < words->count && spoken_same(words->word[at], text_of(word));
}

/* "Ten past", "a quarter to": gives the number of words, 0: none. ret_minutes: -15 of "quarter to"; else untouched. */
static size_t find_minutes(const struct spoken *words, size_t at, int *ret_minutes) {
    const size_t first = at + (is_word(words, at, "a") ? 1 : 0);
    const size_t link = first + (is_word(words, first + 1, "minutes") ? 2 : 1);
    const bool to = is_word(words, link, "to");
    int minutes = 0;
    if ((!to && !is_word(words, link, "past") && !is_word(words, link, "after")) ||
            !is_minutes(words->word[first], &minutes)) {
        return 0;
    }
    if (minutes % 5 != 0 && !is_word(words, first + 1, "minutes")) {
        return 0; /* "3 to 4 pm" is from-to */
    }
    *ret_minutes = to ? -minutes : minutes;
    return link + 1 - at;
}

/* Whether a lone number at this word is an hour: by what stands before it. */
static bool is_behind_at(const struct spoken *words, size_t at) {
    static const char *const before[] = {"at", "about", "around", "towards", "roughly"};
    int which = 0;
    return at > 0 &&
            is_one_of(words->word[at - 1], before, sizeof before / sizeof before[0], &which);
}

/* "Ten past three", "3 o'clock", "at 3", "three am", "3 in the night"; gives the number of words, 0: none. */
static size_t find_dial(const struct spoken *words, size_t at, bool lone, bool past_hours,
        struct spoken_clock *ret_clock) {
    const struct spoken_part *part = NULL;
    int minutes = 0;
    int hour = 0;
    const size_t past = past_hours ? find_minutes(words, at, &minutes) : 0;
    size_t end = at + past;
    if (end >= words->count || !is_number(words->word[end], &hour)) {
        return 0;
    }
    end++;
    const bool o_clock = is_word(words, end, "o'clock");
    end += o_clock ? 1 : 0;
    const enum day_half day_half = day_half_at(words, end);
    if (past == 0 && !o_clock && day_half == DAY_HALF_NONE && !lone &&
            (end >= words->count || spoken_find_part(words, end, &part) == 0)) {
        return 0;
    }
    const bool to_hour = minutes < 0;
    if (to_hour) {
        hour = hour == 1 ? 12 : hour == 0 ? 23 : hour - 1;
        minutes += 60;
    }
    if (!make_clock(hour, minutes, -1, day_half, HALF_OPEN, ret_clock)) {
        return 0;
    }
    /* A quarter to 12 pm is in the morning: the hour before noon is of the other half. */
    if (to_hour && hour == 11 && day_half != DAY_HALF_NONE) {
        ret_clock->clock =
                moved(ret_clock->clock, day_half == DAY_HALF_PM ? -HALF_DAY_S : HALF_DAY_S);
    }
    return end + (day_half != DAY_HALF_NONE ? 1 : 0) - at;
}

/* past_hours: "ten past three" is one time; not in "from 5 to 6 pm". */
static size_t find_one(const struct spoken *words, size_t at, bool lone, bool past_hours,
        struct spoken_clock *ret_clock) {
    static const char *const names[] = {"midnight", "noon"};
    int which = 0;
    if (is_one_of(words->word[at], names, 2, &which)) {
        const int32_t begins_s = which * HALF_DAY_S;
        ret_clock->clock = span_of(begins_s, begins_s + WHY_MINUTE_S - 1);
        ret_clock->half = HALF_SURE;
        return 1;
    }
    const size_t length = find_figures(words, at, ret_clock);
    return length > 0 ? length : find_dial(words, at, lone, past_hours, ret_clock);
}

/* "3:00 to 3:20", from word `at` on; gives the number of words, 0: none. */
static size_t find_linked(const struct spoken *words, size_t at, const char *link, bool lone,
        bool past_hours, struct spoken_time *ret_time) {
    if (at >= words->count) {
        return 0;
    }
    const size_t from = find_one(words, at, lone, past_hours, &ret_time->from);
    const size_t second = at + from + 1;
    if (from == 0 || !is_word(words, at + from, link) || second >= words->count) {
        return 0;
    }
    const size_t to = find_one(words, second, lone, true, &ret_time->to);
    return to == 0 ? 0 : second + to - at;
}

/* "Between 3:00 and 3:20", "from 3 to 4 am", "3:00 to 3:20"; gives the number of words, 0: none. */
static size_t find_between(const struct spoken *words, size_t at, struct spoken_time *ret_time) {
    static const char *const links[][2] = {{"between", "and"}, {"from", "to"}, {"", "to"}};
    for (size_t i = 0; i < sizeof links / sizeof links[0]; i++) {
        const bool opens = links[i][0][0] != '\0';
        for (int past_hours = 0; past_hours < 2 && (!opens || is_word(words, at, links[i][0]));
                past_hours++) {
            const size_t length = find_linked(
                    words, at + (opens ? 1 : 0), links[i][1], opens, past_hours != 0, ret_time);
            if (length > 0) {
                return length + (opens ? 1 : 0);
            }
        }
    }
    return 0;
}

/* "From 3 to 4 pm": what is said of the end holds of the beginning. */
static void share_half(struct spoken_time *time) {
    if (time->from.half == HALF_OPEN && time->to.half == HALF_SURE) {
        const int32_t low_s = time->from.clock.low_s % HALF_DAY_S;
        const int32_t half_s = time->to.clock.low_s < HALF_DAY_S ? 0 : HALF_DAY_S;
        time->from.clock = span_of(low_s + half_s, low_s + half_s + WHY_MINUTE_S - 1);
        time->from.half = HALF_SURE;
    }
}

size_t spoken_find_time(const struct spoken *words, size_t at, struct spoken_time *ret_time) {
    const size_t between = find_between(words, at, ret_time);
    if (between > 0) {
        share_half(ret_time);
        return between;
    }
    if (is_range(words->word[at], ret_time)) {
        return 1;
    }
    const size_t length = find_one(words, at, is_behind_at(words, at), true, &ret_time->from);
    ret_time->to = ret_time->from;
    return length;
}
