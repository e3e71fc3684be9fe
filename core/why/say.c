/* Reading what was observed. A small grammar that forgives order, case, filler words and several words for one thing;
 * it never guesses at a word that it does not know. */
#include "base/quantity.h"
#include "check/words.h"
#include "why/phrases.h"
#include "why/spoken.h"

#include <stdio.h>
#include <string.h>

enum { ABOUT_S = 15 * 60 };

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
static size_t find_zone_number(const struct spoken *words, size_t at, int *ret_number) {
    struct text rest = words->word[at];
    size_t count = 1;
    if (!spoken_skip(&rest, "zone") && !spoken_skip(&rest, "#")) {
        return 0;
    }
    if (rest.length == 0) {
        if (at + 1 >= words->count) {
            return 0;
        }
        rest = words->word[at + 1];
        count = 2;
    }
    return spoken_digits(&rest, 6, ret_number) && rest.length == 0 ? count : 0;
}

/* ---- putting it together ---------------------------------------------------------------------------------------- */

struct reading {
    const struct site *site;
    struct spoken words;
    struct problem unknown; /* of the words that nobody knows: all of them */
    size_t unknown_count;
    struct why_question question;
    struct spoken_time time;
    struct text time_said;
    const struct spoken_part *part;
    bool has_what;
    bool alarm; /* the thing was named, and perhaps no more */
    bool about;
};

/* Words `at` and after, as they were typed. */
static struct text typed(const struct spoken *words, size_t at, size_t count) {
    const struct text first = words->said[at];
    const struct text last = words->said[at + count - 1];
    return (struct text){
            .start = first.start, .length = (size_t)(last.start + last.length - first.start)};
}

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

/* "Smoke alarm": the zone that senses smoke, where there is one. */
static outcome take_sense(
        struct reading *reading, const struct phrase *phrase, struct problem *ret_problem) {
    const struct site *site = reading->site;
    int found = SITE_NONE;
    for (size_t zone = 0; zone < site->zone_count; zone++) {
        if (why_sense(site, (int)zone) == (enum site_sense)phrase->value) {
            if (found != SITE_NONE) {
                FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                        "\"%s\": zones %d and %d could be meant; say which one", phrase->words,
                        site->zones[found].number, site->zones[zone].number);
            }
            found = (int)zone;
        }
    }
    if (found == SITE_NONE) {
        FAIL(ret_problem, PROBLEM_MISSING, "", "\"%s\": no zone of this site has one",
                phrase->words);
    }
    return take(&reading->question.zone, found, "zones", ret_problem);
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
    case SAYS_ALARM:
        reading->alarm = true;
        break;
    case SAYS_SENSE:
        reading->alarm = true;
        return take_sense(reading, phrase, ret_problem);
    case SAYS_ABOUT:
        reading->about = true;
        break;
    case SAYS_DAY:
    case SAYS_NOTHING:
        break;
    }
    return outcome_good();
}

/* What the words from `at` on may be; the longest wins, and of equally long ones the first in this order. */
struct match {
    size_t length;
    const struct phrase *phrase;
    const struct spoken_part *part;
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

static void match_phrases(const struct reading *reading, size_t at, enum saying from,
        enum saying to, struct match *best) {
    for (size_t i = 0; i < why_phrase_count; i++) {
        if (why_phrases[i].saying >= from && why_phrases[i].saying <= to) {
            struct match match = no_match;
            match.phrase = &why_phrases[i];
            consider(best, spoken_spells(&reading->words, at, text_of(why_phrases[i].words)),
                    &match);
        }
    }
}

static void match_names(const struct reading *reading, size_t at, struct match *best) {
    const struct site *site = reading->site;
    struct match match = no_match;
    for (size_t i = 0; i < site->settings.mode_count; i++) {
        match.mode = (int)i;
        consider(best, spoken_spells(&reading->words, at, site->settings.modes[i].name), &match);
    }
    match = no_match;
    for (size_t i = 0; i < site->zone_count; i++) {
        match.zone = (int)i;
        consider(best, spoken_spells(&reading->words, at, site->zones[i].name), &match);
    }
    for (size_t i = 0; i < site->door_count; i++) {
        match.zone = zone_on_door(site, (int)i);
        if (match.zone != SITE_NONE) {
            consider(best, spoken_spells(&reading->words, at, site->doors[i].name), &match);
        }
    }
    for (size_t i = 0; i < site->device_count; i++) {
        match.zone = zone_of_device(site, (int)i);
        if (match.zone != SITE_NONE) {
            consider(best, spoken_spells(&reading->words, at, site->devices[i].name), &match);
        }
    }
    match = no_match;
    for (size_t i = 0; i < site->area_count; i++) {
        match.area = (int)i;
        consider(best, spoken_spells(&reading->words, at, site->areas[i].name), &match);
    }
    match = no_match;
    for (size_t i = 0; i < site->person_count; i++) {
        match.person = (int)i;
        consider(best, spoken_spells(&reading->words, at, site->people[i].name), &match);
    }
}

static outcome take_part(struct reading *reading, const struct spoken_part *part, struct text said,
        struct problem *ret_problem) {
    if (reading->part != NULL && reading->part->clock.low_s != part->clock.low_s) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "two different parts of the day are said; say one");
    }
    reading->part = part;
    reading->question.part = said;
    return outcome_good();
}

static outcome take_match(struct reading *reading, size_t at, const struct match *match,
        struct problem *ret_problem) {
    struct why_question *question = &reading->question;
    if (match->part != NULL) {
        return take_part(
                reading, match->part, typed(&reading->words, at, match->length), ret_problem);
    }
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
    struct spoken parts;
    try_name(nearest, name);
    for (size_t i = 0; spoken_split(name, &parts) && i < parts.count; i++) {
        const size_t distance = text_distance(nearest->word, parts.word[i], nearest->distance);
        if (distance < nearest->distance) {
            nearest->distance = distance;
            nearest->best = name;
        }
    }
}

/* Of a phrase of several words a slip in one: "come" is no slip of the "code" in "code not taken". */
static void try_phrase(struct nearest *nearest, struct text phrase) {
    enum { SHORT = 4 };
    struct spoken parts;
    const bool whole = spoken_split(phrase, &parts) && parts.count == 1;
    if (whole) {
        try_name(nearest, phrase);
    } else if (text_columns(nearest->word) > SHORT && nearest->distance > 1) {
        struct nearest close = {.word = nearest->word, .distance = 2};
        try_words(&close, phrase);
        if (close.best.length > 0) {
            nearest->best = phrase;
            nearest->distance = close.distance;
        }
    }
}

static void find_nearest(const struct site *site, struct nearest *nearest) {
    for (size_t i = 0; i < why_phrase_count; i++) {
        if (why_phrases[i].saying != SAYS_NOTHING) {
            try_phrase(nearest, text_of(why_phrases[i].words));
        }
    }
    for (size_t i = 0; i < site->settings.mode_count; i++) {
        try_words(nearest, site->settings.modes[i].name);
    }
    for (size_t i = 0; i < site->zone_count; i++) {
        try_words(nearest, site->zones[i].name);
    }
    for (size_t i = 0; i < site->door_count; i++) {
        try_words(nearest, site->doors[i].name);
    }
    for (size_t i = 0; i < site->area_count; i++) {
        try_words(nearest, site->areas[i].name);
    }
    for (size_t i = 0; i < site->person_count; i++) {
        try_words(nearest, site->people[i].name);
    }
}

/* Tells it with the others: whoever has three words wrong asks once more, not three times. */
static void note_unknown(struct reading *reading, size_t at) {
    enum { FAR = 3 };
    const struct text word = reading->words.word[at];
    const struct text said = reading->words.said[at];
    struct nearest nearest = {.word = word, .distance = text_columns(word) > 4 ? FAR : FAR - 1};
    struct text rest = word;
    int number = 0;
    char *told = reading->unknown.text;
    const size_t length = strlen(told);
    const size_t room = sizeof reading->unknown.text - length;
    const char *comma = reading->unknown_count++ > 0 ? "; " : "";
    if (spoken_digits(&rest, 2, &number) && rest.length == 0 && number <= 12) {
        (void)snprintf(told + length, room,
                "%s\"%d\" is not understood; did you mean \"%d am\", \"%d pm\" or \"zone %d\"?",
                comma, number, number, number, number);
        return;
    }
    find_nearest(reading->site, &nearest);
    const bool hint = nearest.best.length > 0;
    (void)snprintf(told + length, room, "%s\"%.*s\" is not understood%s%.*s%s", comma,
            TEXT_ARGS(said), hint ? "; did you mean \"" : "", TEXT_ARGS(nearest.best),
            hint ? "\"?" : "");
}

static bool is_same_clock(const struct spoken_clock *a, const struct spoken_clock *b) {
    return a->clock.low_s == b->clock.low_s && a->clock.high_s == b->clock.high_s;
}

static outcome take_time(struct reading *reading, const struct spoken_time *time, struct text said,
        struct problem *ret_problem) {
    if (reading->question.has_clock &&
            (!is_same_clock(&reading->time.from, &time->from) ||
                    !is_same_clock(&reading->time.to, &time->to))) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "two times are said; say one, or from-to: \"03:05..03:20\"");
    }
    reading->question.has_clock = true;
    reading->time = *time;
    reading->time_said = said;
    return outcome_good();
}

/* "Tuesday night" is a part of the day; "night" alone is a mode. Gives by how many words it is longer than the day. */
static outcome take_day(
        struct reading *reading, size_t at, size_t *ret_length, struct problem *ret_problem) {
    const struct spoken *words = &reading->words;
    reading->question.day = typed(words, at, *ret_length);
    const size_t next = at + *ret_length;
    if (next < words->count && spoken_same(words->word[next], text_of("night"))) {
        ++*ret_length;
        return take_part(reading, spoken_night(), words->said[next], ret_problem);
    }
    return outcome_good();
}

/* Takes what stands at word `at`; gives by how many words to go on. */
static outcome take_at(
        struct reading *reading, size_t at, size_t *ret_length, struct problem *ret_problem) {
    const struct spoken *words = &reading->words;
    struct spoken_time time;
    int number = 0;
    *ret_length = spoken_find_time(words, at, &time);
    if (*ret_length > 0) {
        return take_time(reading, &time, typed(words, at, *ret_length), ret_problem);
    }
    *ret_length = find_zone_number(words, at, &number);
    if (*ret_length > 0) {
        return take_zone_number(reading, number, ret_problem);
    }
    struct match best = no_match;
    match_phrases(reading, at, SAYS_WHAT, SAYS_ALARM, &best);
    match_names(reading, at, &best);
    match_phrases(reading, at, SAYS_SENSE, SAYS_NOTHING, &best);
    struct match part = no_match;
    const size_t part_length = spoken_find_part(words, at, &part.part);
    consider(&best, part_length, &part);
    if (best.length == 0) {
        note_unknown(reading, at);
        *ret_length = 1;
        return outcome_good();
    }
    *ret_length = best.length;
    if (best.phrase != NULL && best.phrase->saying == SAYS_DAY) {
        return take_day(reading, at, ret_length, ret_problem);
    }
    return take_match(reading, at, &best, ret_problem);
}

static struct span widened(struct span clock) {
    const int32_t low_s = clock.low_s - ABOUT_S;
    const int32_t before_midnight_s = low_s < 0 ? WHY_DAY_S : 0;
    return span_of(low_s + before_midnight_s, clock.high_s + ABOUT_S + before_midnight_s);
}

/* The two readings of a time that may be in either half of the day. */
static outcome ask_half(const struct reading *reading, struct problem *ret_problem) {
    const int minute = reading->time.from.clock.low_s / WHY_MINUTE_S;
    const int hour = minute / 60 % 12;
    const int on_dial = hour == 0 ? 12 : hour;
    FAIL(ret_problem, PROBLEM_UNREADABLE, "",
            "\"%.*s\" is %02d:%02d or %02d:%02d: say \"%d:%02d am\", \"%d:%02d pm\" or \"in the "
            "night\"",
            TEXT_ARGS(reading->time_said), hour, minute % 60, hour + 12, minute % 60, on_dial,
            minute % 60, on_dial, minute % 60);
}

/* The clock, out of the time and the part of the day that were said. */
static outcome settle_clock(struct reading *reading, struct problem *ret_problem) {
    struct why_question *question = &reading->question;
    struct spoken_time *time = &reading->time;
    if (question->has_clock) {
        if (reading->part != NULL && !spoken_settle(time, reading->part)) {
            FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                    "\"%.*s\" is not \"%.*s\"; say the time alone, as 03:10 or 15:10",
                    TEXT_ARGS(reading->time_said), TEXT_ARGS(question->part));
        }
        if (time->from.half == HALF_OPEN || time->to.half == HALF_OPEN) {
            return ask_half(reading, ret_problem);
        }
        question->part = text_of("");
        question->clock = spoken_span(time);
        question->clock = reading->about ? widened(question->clock) : question->clock;
    } else if (reading->part != NULL) {
        question->has_clock = true;
        question->clock = reading->part->clock;
    }
    return outcome_good();
}

static outcome finish(struct reading *reading, struct problem *ret_problem) {
    struct why_question *question = &reading->question;
    if (!reading->has_what && !reading->alarm) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "what was observed? say for example \"siren\", \"chime\" or \"not ready\"");
    }
    if (question->mode != SITE_NONE) {
        if (question->stand == WHY_STANDS_UNSET) {
            FAIL(ret_problem, PROBLEM_UNREADABLE, "", "set or unset? both are said; say one");
        }
        question->stand = WHY_STANDS_SET;
    }
    return settle_clock(reading, ret_problem);
}

outcome why_read(const struct site *site, struct text said, struct why_question *ret_question,
        struct problem *ret_problem) {
    struct reading reading = {.site = site,
            .question = {
                    .zone = SITE_NONE, .area = SITE_NONE, .person = SITE_NONE, .mode = SITE_NONE}};
    if (!spoken_split(said, &reading.words)) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "that is more than %d words; say it shorter",
                SPOKEN_MAX);
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

enum { LABEL_AT = 2, NAMES_AT = 9 };

typedef struct text namer(const struct site *site, size_t index);

static void show_names(struct layout *layout, const char *label, size_t count, namer *name,
        const struct site *site) {
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

/* In the word set of the site: "armed", not "set". */
static struct text name_of_stand(const struct site *site, size_t index) {
    static const char *const names[SITE_WORDS_COUNT][2] = {
            [SITE_WORDS_UK] = {"set", "unset"}, [SITE_WORDS_US] = {"armed", "disarmed"}};
    return index < 2 ? text_of(names[site->words][index]) : name_of_mode(site, index - 2);
}

static struct text name_of_hour(const struct site *site, size_t index) {
    static const char *const hours[] = {"03:10", "about 03:10", "03:05..03:20", "3 am",
            "ten past three in the night", "in the evening"};
    (void)site;
    return text_of(hours[index]);
}

static struct text name_of_number(const struct site *site, size_t index) {
    static const char *const numbers[] = {"by its number, \"zone 6\"", "or by name"};
    (void)site;
    return text_of(numbers[index]);
}

static bool is_listed(const struct phrase *phrase, enum why_what what, enum site_words words) {
    return (phrase->saying == SAYS_WHAT || phrase->saying == SAYS_ALARM) &&
            phrase->value == (int)what &&
            (phrase->listed == LISTED ||
                    phrase->listed == (words == SITE_WORDS_UK ? LISTED_UK : LISTED_US));
}

/* The trade's word, and everyday words for the same beside it: "not ready (cannot set, would not set)". */
static void show_whats(const struct site *site, struct layout *layout) {
    struct text_builder out;
    text_builder_init(&out, layout->out->arena);
    for (size_t what = 0; what < WHY_WHAT_COUNT; what++) {
        const char *before = " (";
        text_add_format(&out, "%s%s", what > 0 ? ", " : "", why_what_name((enum why_what)what));
        for (size_t i = 0; i < why_phrase_count; i++) {
            if (is_listed(&why_phrases[i], (enum why_what)what, site->words)) {
                text_add_format(&out, "%s%s", before, why_phrases[i].words);
                before = ", ";
            }
        }
        text_add_string(&out, before[0] == ',' ? ")" : "");
    }
    layout_to(layout, LABEL_AT);
    layout_put_string(layout, "what", LAYOUT_PLAIN);
    layout_to(layout, NAMES_AT);
    layout_words(layout, text_built(&out), NAMES_AT, LAYOUT_PLAIN);
    layout_end_line(layout);
}

void why_show_sayings(const struct site *site, struct layout *layout) {
    show_whats(site, layout);
    show_names(layout, "when", 6, name_of_hour, site);
    show_names(layout, "zone", 2, name_of_number, site);
    show_names(layout, "", site->zone_count, name_of_zone, site);
    show_names(layout, "area", site->area_count, name_of_area, site);
    show_names(layout, "stood", site->settings.mode_count + 2, name_of_stand, site);
    show_names(layout, "who", site->person_count, name_of_person, site);
}

/* First and last minute; one that runs past midnight ends on the clock of the next day. */
static void add_clock(struct text_builder *out, struct span clock) {
    const int32_t last_s = clock.high_s - clock.low_s < WHY_MINUTE_S
            ? clock.low_s
            : clock.high_s - (WHY_MINUTE_S - 1);
    quantity_add_clock_from_to(out, span_of(clock.low_s, last_s % WHY_DAY_S));
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

size_t why_notes(const struct why_question *question, struct arena *arena, struct text *ret_notes) {
    size_t count = 0;
    if (question->part.length > 0) {
        struct text_builder out;
        text_builder_init(&out, arena);
        text_add_format(&out, "\"%.*s\" is taken as ", TEXT_ARGS(question->part));
        add_clock(&out, question->clock);
        ret_notes[count++] = text_built(&out);
    }
    if (question->day.length > 0) {
        ret_notes[count++] = text_print(arena,
                "\"%.*s\" is not used: routines have hours, and no days", TEXT_ARGS(question->day));
    }
    return count;
}
