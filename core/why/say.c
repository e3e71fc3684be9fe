/* Reading what was observed. A small grammar that forgives order, case, filler words and several words for one thing;
 * it never guesses at a word that it does not know. */
#include "base/quantity.h"
#include "check/words.h"
#include "why/phrases.h"

#include <stdio.h>
#include <string.h>

enum { WORD_MAX = 64, PHRASE_MAX = 8, ABOUT_S = 15 * 60 };

struct words {
    struct text word[WORD_MAX];
    size_t count;
};

/* ---- words ------------------------------------------------------------------------------------------------------ */

static bool is_space(char letter) {
    return letter == ' ' || letter == '\t' || letter == '\n' || letter == '\r' || letter == ',' ||
            letter == ';';
}

/* Signs that people put around words. A full stop only at the end: 3.10 is a time. */
static bool is_wrapping(char letter) {
    return letter == '"' || letter == '\'' || letter == '!' || letter == '?' || letter == '(' ||
            letter == ')';
}

static struct text trimmed(struct text word) {
    while (word.length > 0 && is_wrapping(word.start[0])) {
        word.start++;
        word.length--;
    }
    while (word.length > 0 &&
            (is_wrapping(word.start[word.length - 1]) || word.start[word.length - 1] == '.' ||
                    word.start[word.length - 1] == ':')) {
        word.length--;
    }
    return word;
}

static bool split(struct text said, struct words *words) {
    words->count = 0;
    for (size_t i = 0; i < said.length;) {
        size_t end = i;
        while (end < said.length && !is_space(said.start[end])) {
            end++;
        }
        const struct text word = trimmed((struct text){.start = said.start + i, .length = end - i});
        if (word.length > 0) {
            if (words->count == WORD_MAX) {
                return false;
            }
            words->word[words->count++] = word;
        }
        i = end + 1;
    }
    return true;
}

static bool is_same(struct text a, struct text b) {
    return a.length == b.length && (text_equal(a, b) || text_distance(a, b, 0) == 0);
}

/* How many words, from `at` on, spell the phrase; 0: they do not. */
static size_t spells(const struct words *words, size_t at, struct text phrase) {
    struct words parts;
    if (!split(phrase, &parts) || parts.count == 0 || at + parts.count > words->count) {
        return 0;
    }
    for (size_t i = 0; i < parts.count; i++) {
        if (!is_same(words->word[at + i], parts.word[i])) {
            return 0;
        }
    }
    return parts.count;
}

/* ---- times ------------------------------------------------------------------------------------------------------ */

static bool read_digits(struct text *rest, size_t most, int *ret_number) {
    size_t digits = 0;
    int number = 0;
    while (digits < rest->length && digits < most && rest->start[digits] >= '0' &&
            rest->start[digits] <= '9') {
        number = number * 10 + (rest->start[digits] - '0');
        digits++;
    }
    rest->start += digits;
    rest->length -= digits;
    *ret_number = number;
    return digits > 0;
}

static bool skip(struct text *rest, const char *string) {
    const struct text wanted = text_of(string);
    if (rest->length < wanted.length ||
            !is_same((struct text){.start = rest->start, .length = wanted.length}, wanted)) {
        return false;
    }
    rest->start += wanted.length;
    rest->length -= wanted.length;
    return true;
}

enum half { HALF_NONE, HALF_AM, HALF_PM };

static enum half skip_half(struct text *rest) {
    return skip(rest, "am") || skip(rest, "a.m")    ? HALF_AM
            : skip(rest, "pm") || skip(rest, "p.m") ? HALF_PM
                                                    : HALF_NONE;
}

/* One time at the beginning of `rest`: 3:10, 03:10, 03:10:20, 3.10, 3pm. bare: a lone number is a time. */
static bool read_time(struct text *rest, bool bare, struct span *ret_time) {
    struct text at = *rest;
    int hour = 0;
    int minute = 0;
    int second = -1;
    if (!read_digits(&at, 2, &hour)) {
        return false;
    }
    const struct text after_hour = at;
    const bool has_minutes =
            (skip(&at, ":") || (at.length > 1 && at.start[1] != '.' && skip(&at, "."))) &&
            read_digits(&at, 2, &minute);
    if (!has_minutes) {
        at = after_hour;
    } else if (skip(&at, ":") && !read_digits(&at, 2, &second)) {
        return false;
    }
    const enum half half = skip_half(&at);
    if (!has_minutes && half == HALF_NONE && !bare) {
        return false;
    }
    if (half != HALF_NONE) {
        if (hour < 1 || hour > 12) {
            return false;
        }
        hour = hour % 12 + (half == HALF_PM ? 12 : 0);
    }
    if (hour > 23 || minute > 59 || second > 59) {
        return false;
    }
    const int32_t begins_s = hour * 3600 + minute * WHY_MINUTE_S + (second < 0 ? 0 : second);
    *ret_time = span_of(begins_s, begins_s + (second < 0 ? WHY_MINUTE_S - 1 : 0));
    *rest = at;
    return true;
}

static struct span time_range(struct span from, struct span to) {
    const bool next_day = to.high_s < from.low_s;
    return span_of(from.low_s, to.high_s + (next_day ? WHY_DAY_S : 0));
}

static bool skip_dash(struct text *rest) {
    return skip(rest, "..") || skip(rest, "-") || skip(rest, "\xE2\x80\x93");
}

/* A whole word: a time, or two with .. or - between. */
static bool is_time_word(struct text word, struct span *ret_clock) {
    struct span from;
    struct span to;
    struct text rest = word;
    if (is_same(word, text_of("midnight")) || is_same(word, text_of("noon"))) {
        const int32_t at_s = is_same(word, text_of("noon")) ? WHY_DAY_S / 2 : 0;
        *ret_clock = span_of(at_s, at_s + WHY_MINUTE_S - 1);
        return true;
    }
    if (!read_time(&rest, false, &from)) {
        return false;
    }
    if (rest.length == 0) {
        *ret_clock = from;
        return true;
    }
    if (!skip_dash(&rest) || !read_time(&rest, false, &to) || rest.length > 0) {
        return false;
    }
    *ret_clock = time_range(from, to);
    return true;
}

/* "3 am": two words. */
static bool is_spaced_time(const struct words *words, size_t at, struct span *ret_clock) {
    char joined[16];
    if (at + 1 >= words->count || words->word[at].length > 5 || words->word[at + 1].length > 4) {
        return false;
    }
    struct text half = words->word[at + 1];
    if (skip_half(&half) == HALF_NONE || half.length > 0) {
        return false;
    }
    memcpy(joined, words->word[at].start, words->word[at].length);
    memcpy(joined + words->word[at].length, words->word[at + 1].start, words->word[at + 1].length);
    return is_time_word((struct text){.start = joined,
                                .length = words->word[at].length + words->word[at + 1].length},
            ret_clock);
}

/* A time from word `at` on; gives the number of words, 0: none. "between 3:00 and 3:20", "from 3:00 to 3:20". */
static size_t find_time(const struct words *words, size_t at, struct span *ret_clock) {
    static const char *const links[][2] = {{"between", "and"}, {"from", "to"}, {"", "to"}};
    for (size_t i = 0; i < sizeof links / sizeof links[0]; i++) {
        const size_t first = at + (links[i][0][0] != '\0');
        struct span from;
        struct span to;
        if (first + 2 < words->count &&
                (first == at || is_same(words->word[at], text_of(links[i][0]))) &&
                is_time_word(words->word[first], &from) &&
                is_same(words->word[first + 1], text_of(links[i][1])) &&
                is_time_word(words->word[first + 2], &to)) {
            *ret_clock = time_range(from, to);
            return first + 3 - at;
        }
    }
    if (is_spaced_time(words, at, ret_clock)) {
        return 2;
    }
    return is_time_word(words->word[at], ret_clock);
}

/* ---- names ------------------------------------------------------------------------------------------------------ */

static int zone_on_door(const struct site *site, int door) {
    for (size_t zone = 0; zone < site->zone_count; zone++) {
        if (why_door_of(site, (int)zone) == door) {
            return (int)zone;
        }
    }
    return SITE_NONE;
}

/* The zone behind which it stands, or SITE_NONE: none, or several. */
static int zone_of_device(const struct site *site, int device) {
    int found = SITE_NONE;
    for (size_t zone = 0; zone < site->zone_count; zone++) {
        if (site->zones[zone].device == device) {
            if (found != SITE_NONE) {
                return SITE_NONE;
            }
            found = (int)zone;
        }
    }
    return found;
}

/* "zone 6", "zone6", "6" after a hash. Gives the number of words; ret_number: whatever it was. */
static size_t find_zone_number(const struct words *words, size_t at, int *ret_number) {
    struct text rest = words->word[at];
    size_t count = 1;
    if (!skip(&rest, "zone") && !skip(&rest, "#")) {
        return 0;
    }
    if (rest.length == 0) {
        if (at + 1 >= words->count) {
            return 0;
        }
        rest = words->word[at + 1];
        count = 2;
    }
    return read_digits(&rest, 6, ret_number) && rest.length == 0 ? count : 0;
}

/* ---- putting it together ---------------------------------------------------------------------------------------- */

struct reading {
    const struct site *site;
    struct words words;
    struct problem unknown; /* of the words that nobody knows: all of them */
    size_t unknown_count;
    struct why_question question;
    bool has_what;
    bool about;
};

static outcome take(int *slot, int value, const char *what, struct problem *ret_problem) {
    if (*slot != SITE_NONE && *slot != value) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "", "two different %s are said; say one", what);
    }
    *slot = value;
    return outcome_good();
}

/* "Siren, no signal" is one observation: it sounded, and the station was told nothing. */
static bool is_siren_untold(enum why_what a, enum why_what b) {
    return (a == WHY_NO_SIGNAL && b == WHY_SIREN) || (a == WHY_SIREN && b == WHY_NO_SIGNAL);
}

static outcome take_phrase(
        struct reading *reading, const struct phrase *phrase, struct problem *ret_problem) {
    struct why_question *question = &reading->question;
    switch (phrase->saying) {
    case SAYS_WHAT:
        if (reading->has_what && is_siren_untold(question->what, (enum why_what)phrase->value)) {
            question->what = WHY_NO_SIGNAL;
            break;
        }
        if (reading->has_what && question->what != (enum why_what)phrase->value) {
            FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                    "one thing at a time: \"%s\" or \"%s\", not both",
                    why_what_name(question->what), why_what_name((enum why_what)phrase->value));
        }
        reading->has_what = true;
        question->what = (enum why_what)phrase->value;
        break;
    case SAYS_STAND:
        if (question->stand != WHY_STANDS_ANYHOW &&
                question->stand != (enum why_stand)phrase->value) {
            FAIL(ret_problem, PROBLEM_UNREADABLE, "", "set or unset? both are said; say one");
        }
        question->stand = (enum why_stand)phrase->value;
        break;
    case SAYS_ABOUT:
        reading->about = true;
        break;
    case SAYS_NOTHING:
        break;
    }
    return outcome_good();
}

/* What the words from `at` on may be; the longest wins, and of equally long ones the first in this order. */
struct match {
    size_t length;
    const struct phrase *phrase;
    int mode, zone, area, person;
};

static void consider(struct match *best, size_t length, const struct match *match) {
    if (length > best->length) {
        *best = *match;
        best->length = length;
    }
}

static const struct match no_match = {.mode = SITE_NONE,
        .zone = SITE_NONE,
        .area = SITE_NONE,
        .person = SITE_NONE};

static void match_names(const struct reading *reading, size_t at, struct match *best) {
    const struct site *site = reading->site;
    struct match match = no_match;
    for (size_t i = 0; i < site->settings.mode_count; i++) {
        match.mode = (int)i;
        consider(best, spells(&reading->words, at, site->settings.modes[i].name), &match);
    }
    match = no_match;
    for (size_t i = 0; i < site->zone_count; i++) {
        match.zone = (int)i;
        consider(best, spells(&reading->words, at, site->zones[i].name), &match);
    }
    for (size_t i = 0; i < site->door_count; i++) {
        match.zone = zone_on_door(site, (int)i);
        if (match.zone != SITE_NONE) {
            consider(best, spells(&reading->words, at, site->doors[i].name), &match);
        }
    }
    for (size_t i = 0; i < site->device_count; i++) {
        match.zone = zone_of_device(site, (int)i);
        if (match.zone != SITE_NONE) {
            consider(best, spells(&reading->words, at, site->devices[i].name), &match);
        }
    }
    match = no_match;
    for (size_t i = 0; i < site->area_count; i++) {
        match.area = (int)i;
        consider(best, spells(&reading->words, at, site->areas[i].name), &match);
    }
    match = no_match;
    for (size_t i = 0; i < site->person_count; i++) {
        match.person = (int)i;
        consider(best, spells(&reading->words, at, site->people[i].name), &match);
    }
}

static outcome take_match(
        struct reading *reading, const struct match *match, struct problem *ret_problem) {
    struct why_question *question = &reading->question;
    if (match->phrase != NULL) {
        return take_phrase(reading, match->phrase, ret_problem);
    }
    if (match->mode != SITE_NONE) {
        TRY(take(&question->mode, match->mode, "modes", ret_problem));
    } else if (match->zone != SITE_NONE) {
        TRY(take(&question->zone, match->zone, "zones", ret_problem));
    } else if (match->area != SITE_NONE) {
        TRY(take(&question->area, match->area, "areas", ret_problem));
    } else {
        TRY(take(&question->person, match->person, "people", ret_problem));
    }
    return outcome_good();
}

static outcome take_zone_number(struct reading *reading, int number, struct problem *ret_problem) {
    for (size_t i = 0; i < reading->site->zone_count; i++) {
        if (reading->site->zones[i].number == number) {
            return take(&reading->question.zone, (int)i, "zones", ret_problem);
        }
    }
    FAIL(ret_problem, PROBLEM_MISSING, "", "there is no zone %d in the site file", number);
}

/* ---- a word that nobody knows ----------------------------------------------------------------------------------- */

struct nearest {
    struct text word;
    struct text best;
    size_t distance;
};

static void try_name(struct nearest *nearest, struct text name) {
    const size_t distance = text_distance(nearest->word, name, nearest->distance);
    if (distance < nearest->distance) {
        nearest->distance = distance;
        nearest->best = name;
    }
}

/* The name itself, and each of its words. */
static void try_words(struct nearest *nearest, struct text name) {
    struct words parts;
    try_name(nearest, name);
    if (split(name, &parts)) {
        for (size_t i = 0; i < parts.count; i++) {
            if (text_distance(nearest->word, parts.word[i], nearest->distance) <
                    nearest->distance) {
                nearest->distance = text_distance(nearest->word, parts.word[i], nearest->distance);
                nearest->best = name;
            }
        }
    }
}

/* Tells it with the others: whoever has three words wrong asks once more, not three times. */
static void note_unknown(struct reading *reading, struct text word) {
    enum { FAR = 3 };
    const struct site *site = reading->site;
    struct nearest nearest = {.word = word, .distance = text_columns(word) > 4 ? FAR : FAR - 1};
    for (size_t i = 0; i < why_phrase_count; i++) {
        if (why_phrases[i].saying != SAYS_NOTHING) {
            try_words(&nearest, text_of(why_phrases[i].words));
        }
    }
    for (size_t i = 0; i < site->settings.mode_count; i++) {
        try_words(&nearest, site->settings.modes[i].name);
    }
    for (size_t i = 0; i < site->zone_count; i++) {
        try_words(&nearest, site->zones[i].name);
    }
    for (size_t i = 0; i < site->door_count; i++) {
        try_words(&nearest, site->doors[i].name);
    }
    for (size_t i = 0; i < site->area_count; i++) {
        try_words(&nearest, site->areas[i].name);
    }
    for (size_t i = 0; i < site->person_count; i++) {
        try_words(&nearest, site->people[i].name);
    }
    char *told = reading->unknown.text;
    const size_t length = strlen(told);
    const bool hint = nearest.best.length > 0;
    (void)snprintf(told + length, sizeof reading->unknown.text - length,
            "%s\"%.*s\" is not understood%s%.*s%s", reading->unknown_count > 0 ? "; " : "",
            TEXT_ARGS(word), hint ? "; did you mean \"" : "", TEXT_ARGS(nearest.best),
            hint ? "\"?" : "");
    reading->unknown_count++;
}

static outcome take_time(struct reading *reading, struct span clock, struct problem *ret_problem) {
    struct why_question *question = &reading->question;
    if (question->has_clock &&
            (question->clock.low_s != clock.low_s || question->clock.high_s != clock.high_s)) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "two times are said; say one, or from-to: \"03:05..03:20\"");
    }
    question->has_clock = true;
    question->clock = clock;
    return outcome_good();
}

/* Takes what stands at word `at`; gives by how many words to go on. */
static outcome take_at(
        struct reading *reading, size_t at, size_t *ret_length, struct problem *ret_problem) {
    struct span clock;
    int number = 0;
    size_t length = find_time(&reading->words, at, &clock);
    if (length > 0) {
        *ret_length = length;
        return take_time(reading, clock, ret_problem);
    }
    length = find_zone_number(&reading->words, at, &number);
    if (length > 0) {
        *ret_length = length;
        return take_zone_number(reading, number, ret_problem);
    }
    struct match best = no_match;
    for (size_t i = 0; i < why_phrase_count; i++) {
        struct match match = no_match;
        match.phrase = &why_phrases[i];
        consider(&best, spells(&reading->words, at, text_of(why_phrases[i].words)), &match);
    }
    match_names(reading, at, &best);
    if (best.length == 0) {
        note_unknown(reading, reading->words.word[at]);
        *ret_length = 1;
        return outcome_good();
    }
    *ret_length = best.length;
    return take_match(reading, &best, ret_problem);
}

static struct span widened(struct span clock) {
    const int32_t low_s = clock.low_s - ABOUT_S;
    const int32_t before_midnight_s = low_s < 0 ? WHY_DAY_S : 0;
    return span_of(low_s + before_midnight_s, clock.high_s + ABOUT_S + before_midnight_s);
}

static outcome finish(struct reading *reading, struct problem *ret_problem) {
    struct why_question *question = &reading->question;
    if (!reading->has_what) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "what was observed? say for example \"siren\", \"chime\" or \"not ready\"");
    }
    if (question->mode != SITE_NONE) {
        if (question->stand == WHY_STANDS_UNSET) {
            FAIL(ret_problem, PROBLEM_UNREADABLE, "", "set or unset? both are said; say one");
        }
        question->stand = WHY_STANDS_SET;
    }
    if (reading->about && question->has_clock) {
        question->clock = widened(question->clock);
    }
    return outcome_good();
}

outcome why_read(const struct site *site, struct text said, struct why_question *ret_question,
        struct problem *ret_problem) {
    struct reading reading = {.site = site,
            .question = {
                    .zone = SITE_NONE, .area = SITE_NONE, .person = SITE_NONE, .mode = SITE_NONE}};
    if (!split(said, &reading.words)) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "that is more than %d words; say it shorter",
                WORD_MAX);
    }
    for (size_t at = 0; at < reading.words.count;) {
        size_t length = 1;
        TRY(take_at(&reading, at, &length, ret_problem));
        at += length;
    }
    if (reading.unknown_count > 0) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "", "%s", reading.unknown.text);
    }
    TRY(finish(&reading, ret_problem));
    *ret_question = reading.question;
    return outcome_good();
}

/* ---- saying it back --------------------------------------------------------------------------------------------- */

typedef struct text namer(const struct site *site, size_t index);

static void show_names(struct layout *layout, const char *label, size_t count, namer *name,
        const struct site *site) {
    enum { LABEL_AT = 2, NAMES_AT = 9 };
    struct text_builder out;
    text_builder_init(&out, layout->out->arena);
    for (size_t i = 0; i < count; i++) {
        text_add_string(&out, i > 0 ? ", " : "");
        text_add(&out, name(site, i));
    }
    if (count > 0) {
        layout_to(layout, LABEL_AT);
        layout_put_string(layout, label, LAYOUT_PLAIN);
        layout_to(layout, NAMES_AT);
        layout_words(layout, text_built(&out), NAMES_AT, LAYOUT_PLAIN);
        layout_end_line(layout);
    }
}

static struct text name_of_mode(const struct site *site, size_t index) {
    return site->settings.modes[index].name;
}

static struct text name_of_area(const struct site *site, size_t index) {
    return site->areas[index].name;
}

static struct text name_of_person(const struct site *site, size_t index) {
    return site->people[index].name;
}

static struct text name_of_zone(const struct site *site, size_t index) {
    return site->zones[index].name;
}

static struct text name_of_what(const struct site *site, size_t index) {
    (void)site;
    return text_of(why_what_name((enum why_what)index));
}

static struct text name_of_stand(const struct site *site, size_t index) {
    return index < 2 ? text_of(index == 0 ? "set" : "unset") : name_of_mode(site, index - 2);
}

static struct text name_of_hour(const struct site *site, size_t index) {
    static const char *const hours[] = {"03:10", "about 03:10", "03:05..03:20", "3 am"};
    (void)site;
    return text_of(hours[index]);
}

static struct text name_of_number(const struct site *site, size_t index) {
    static const char *const numbers[] = {"by its number, \"zone 6\"", "or by name"};
    (void)site;
    return text_of(numbers[index]);
}

void why_show_sayings(const struct site *site, struct layout *layout) {
    show_names(layout, "what", WHY_WHAT_COUNT, name_of_what, site);
    show_names(layout, "when", 4, name_of_hour, site);
    show_names(layout, "zone", 2, name_of_number, site);
    show_names(layout, "", site->zone_count, name_of_zone, site);
    show_names(layout, "area", site->area_count, name_of_area, site);
    show_names(layout, "stood", site->settings.mode_count + 2, name_of_stand, site);
    show_names(layout, "who", site->person_count, name_of_person, site);
}

static void add_clock(struct text_builder *out, struct span clock) {
    quantity_add_clock_from_to(out,
            clock.high_s - clock.low_s < WHY_MINUTE_S
                    ? span_of(clock.low_s, clock.low_s)
                    : span_of(clock.low_s, clock.high_s - (WHY_MINUTE_S - 1)));
}

struct text why_understood(
        const struct site *site, const struct why_question *question, struct arena *arena) {
    struct text_builder out;
    struct words_about about = words_about_nothing();
    about.zone = question->zone;
    about.area = question->area;
    about.mode = question->mode;
    about.person = question->person;
    text_builder_init(&out, arena);
    text_add_string(&out, why_what_name(question->what));
    if (question->has_clock) {
        text_add_string(&out, ", ");
        add_clock(&out, question->clock);
    }
    if (question->zone != SITE_NONE) {
        words_add(&out, site, ", {zone}", &about);
    }
    if (question->area != SITE_NONE) {
        words_add(&out, site, ", {areas}", &about);
    }
    if (question->stand != WHY_STANDS_ANYHOW) {
        words_add(&out, site,
                question->stand == WHY_STANDS_SET ? ", {is-set}{in-mode}" : ", {is-unset}", &about);
    }
    if (question->person != SITE_NONE) {
        words_add(&out, site, ", {person}", &about);
    }
    return text_built(&out);
}
