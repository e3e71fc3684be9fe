#include "acceptance/history_words.h"

#include "acceptance/history_fields.h"
#include "signals/meaning.h"

#include <string.h>

/** What a word that a line has says of its event; the first that is found counts. The last says least, and goes
 *  with any other. Common practice. report: a test. */
static const struct {
    const char *word;
    enum event_kind kind;
    bool report;
} said[] = {
        {"test report", EVENT_KIND_COUNT, true},
        {"test signal", EVENT_KIND_COUNT, true},
        {"periodic test", EVENT_KIND_COUNT, true},
        {"manual test", EVENT_KIND_COUNT, true},
        {"duress", EVENT_DURESS, false},
        {"hold-up", EVENT_HOLD_UP, false},
        {"hold up", EVENT_HOLD_UP, false},
        {"holdup", EVENT_HOLD_UP, false},
        {"panic", EVENT_HOLD_UP, false},
        {"bypass", EVENT_BYPASS, false},
        {"tamper", EVENT_TAMPER, false},
        {"battery", EVENT_LOW_BATTERY, false},
        {"supervis", EVENT_SUPERVISION, false},
        {"not heard", EVENT_SUPERVISION, false},
        {"device lost", EVENT_SUPERVISION, false},
        {"carbon monoxide", EVENT_CO, false},
        {"fire", EVENT_FIRE, false},
        {"smoke", EVENT_FIRE, false},
        {"gas", EVENT_GAS, false},
        {"flood", EVENT_FLOOD, false},
        {"water", EVENT_FLOOD, false},
        {"medical", EVENT_MEDICAL, false},
        {"mains", EVENT_MAINS, false},
        {"ac", EVENT_MAINS, false},
        {"unset", EVENT_UNSET, false},
        {"disarm", EVENT_UNSET, false},
        {"opening", EVENT_UNSET, false},
        {"closing", EVENT_SET, false},
        {"set", EVENT_SET, false},
        {"armed", EVENT_SET, false},
        {"arming", EVENT_SET, false},
        {"intrusion", EVENT_INTRUSION, false},
        {"burglary", EVENT_INTRUSION, false},
        {"burglar", EVENT_INTRUSION, false},
        {"alarm", EVENT_INTRUSION, false},
};

enum { SAID = sizeof said / sizeof said[0] };

/** Which events a word makes doubtful. */
enum doubt_of {
    DOUBT_OF_ANY,
    DOUBT_OF_ALARM,   /* of mains, batteries and devices not heard it is the event itself */
    DOUBT_OF_SETTING, /* what sets or unsets by itself, or tells of a setting, shows nobody's code */
    DOUBT_OF_INTRUSION,
};

/** Words that make of an event none, or leave open what it is: a line of them is not taken, as it could tick off what
 *  nobody did. Common practice. */
static const struct {
    const char *word;
    enum doubt_of of;
} doubts[] = {
        {"trouble", DOUBT_OF_ALARM},
        {"fault", DOUBT_OF_ALARM},
        {"fail", DOUBT_OF_ALARM},
        {"missed", DOUBT_OF_ALARM},
        {"missing", DOUBT_OF_ALARM},
        {"test", DOUBT_OF_ANY},
        {"cancel", DOUBT_OF_ANY},
        {"abort", DOUBT_OF_ANY},
        {"silence", DOUBT_OF_ANY},
        {"acknowledge", DOUBT_OF_ANY},
        {"late", DOUBT_OF_ANY},
        {"overdue", DOUBT_OF_ANY},
        {"still", DOUBT_OF_ANY},
        {"module", DOUBT_OF_ANY},
        {"expander", DOUBT_OF_ANY},
        {"not", DOUBT_OF_ANY},
        {"automatic", DOUBT_OF_SETTING},
        {"auto", DOUBT_OF_SETTING},
        {"remote", DOUBT_OF_SETTING},
        {"schedule", DOUBT_OF_SETTING},
        {"recent", DOUBT_OF_SETTING},
        {"exten", DOUBT_OF_SETTING},
        {"postpone", DOUBT_OF_SETTING},
        {"exit alarm", DOUBT_OF_INTRUSION},
        {"exit error", DOUBT_OF_INTRUSION},
        {"unverified", DOUBT_OF_INTRUSION},
        {"pre-alarm", DOUBT_OF_INTRUSION},
};

static const char *const ends[] = {"restor", "its end", "cleared", "normal"};

/** What "back" says where it stands: it is the end of an event, or a place ("back door", "backyard"), or one cannot
 *  tell ("back zone 1", "back in order"). Common practice. */
enum back {
    BACK_NOT_SAID,
    BACK_PLACE,
    BACK_OPEN,
    BACK_END,
};

bool history_restored(struct text line) {
    return history_has_word(line, "restor") && !history_has_word(line, "not");
}

static bool is_letter(char byte) {
    return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z');
}

static bool is_digit(char byte) {
    return byte >= '0' && byte <= '9';
}

/** Whether a text begins with a word. */
static bool leads(struct text text, const char *word) {
    const size_t length = strlen(word);
    return text.length >= length && history_has_word((struct text){text.start, length}, word) &&
            (text.length == length || !is_letter(text.start[length]));
}

/** By what stands behind a word "back". */
static enum back back_before(struct text rest) {
    static const struct {
        const char *word;
        enum back says;
    } next[] = {{"to", BACK_END}, {"on", BACK_END}, {"again", BACK_END}, {"door", BACK_PLACE},
            {"yard", BACK_PLACE}, {"room", BACK_PLACE}, {"window", BACK_PLACE},
            {"garden", BACK_PLACE}, {"gate", BACK_PLACE}, {"entrance", BACK_PLACE},
            {"wall", BACK_PLACE}, {"office", BACK_PLACE}, {"hall", BACK_PLACE},
            {"stairs", BACK_PLACE}, {"garage", BACK_PLACE}, {"porch", BACK_PLACE},
            {"box", BACK_PLACE}};
    while (rest.length > 0 && !is_letter(rest.start[0])) {
        if (is_digit(rest.start[0])) {
            return BACK_OPEN;
        }
        rest = (struct text){rest.start + 1, rest.length - 1};
    }
    for (size_t i = 0; i < sizeof next / sizeof next[0]; i++) {
        if (leads(rest, next[i].word)) {
            return next[i].says;
        }
    }
    return rest.length == 0 ? BACK_END : BACK_OPEN;
}

/** The most that any "back" of an event says. */
static enum back back_of(struct text event) {
    enum { LONG = sizeof "back" - 1 };
    enum back most = BACK_NOT_SAID;
    for (size_t i = 0; i + LONG <= event.length; i++) {
        const struct text rest = {event.start + i, event.length - i};
        if ((i == 0 || !is_letter(event.start[i - 1])) && leads(rest, "back")) {
            const enum back says =
                    back_before((struct text){rest.start + LONG, rest.length - LONG});
            most = says > most ? says : most;
        }
    }
    return most;
}

static bool ended(struct text event) {
    for (size_t i = 0; i < sizeof ends / sizeof ends[0]; i++) {
        if (history_has_word(event, ends[i])) {
            return true;
        }
    }
    return back_of(event) == BACK_END;
}

/** "no" as in "no alarm"; in "No. 7" and "no 7" it is a number. */
static bool denies(struct text event) {
    for (size_t i = 0; i + 2 <= event.length; i++) {
        const struct text rest = {event.start + i, event.length - i};
        const bool begins = i == 0 || event.start[i - 1] == ' ';
        const bool last = rest.length == 2;
        const bool word = rest.length > 3 && rest.start[2] == ' ' && !is_digit(rest.start[3]);
        if (begins && (last || word) &&
                history_has_word((struct text){rest.start, last ? 2 : 3}, "no")) {
            return true;
        }
    }
    return false;
}

static bool is_condition(enum event_kind kind) {
    return kind == EVENT_MAINS || kind == EVENT_LOW_BATTERY || kind == EVENT_SUPERVISION;
}

static bool is_setting(enum event_kind kind) {
    return kind == EVENT_SET || kind == EVENT_UNSET;
}

/** Whether a word makes events of a kind doubtful. */
static bool doubts_kind(enum doubt_of of, enum event_kind kind) {
    switch (of) {
    case DOUBT_OF_ALARM:
        return !is_condition(kind);
    case DOUBT_OF_SETTING:
        return is_setting(kind);
    case DOUBT_OF_INTRUSION:
        return kind == EVENT_INTRUSION;
    case DOUBT_OF_ANY:
        break;
    }
    return true;
}

/** Whether a "back" leaves open what it says. Mains, batteries and devices not heard have no place: "mains back door"
 *  is none. */
static bool back_is_open(struct text event, enum event_kind kind) {
    const enum back says = back_of(event);
    return says == BACK_OPEN || (says == BACK_PLACE && is_condition(kind));
}

/** What makes it doubtful that it is this row of `said`; NULL: nothing. */
static const char *doubt(struct text event, size_t row) {
    for (size_t i = 0; i < sizeof doubts / sizeof doubts[0]; i++) {
        const bool of_row = strstr(said[row].word, doubts[i].word) != NULL ||
                !doubts_kind(doubts[i].of, said[row].kind);
        if (!of_row && history_has_word(event, doubts[i].word)) {
            return doubts[i].word;
        }
    }
    if (back_is_open(event, said[row].kind) && !ended(event)) {
        return "back";
    }
    return denies(event) ? "no" : NULL;
}

/** Whether one event may be called by words of both kinds: "carbon monoxide gas alarm", "duress/hold-up". */
static bool go_together(enum event_kind first, enum event_kind other) {
    return first == other || (first == EVENT_CO && other == EVENT_GAS) ||
            (first == EVENT_DURESS && other == EVENT_HOLD_UP);
}

/** Whether a text says the kind of a row of `said`, by whichever word. */
static bool says_kind(struct text text, size_t row) {
    for (size_t i = 0; i < SAID; i++) {
        if (go_together(said[row].kind, said[i].kind) && history_has_word(text, said[i].word)) {
            return true;
        }
    }
    return false;
}

/** What stands before the first "alarm" and behind it; false: there is none. */
static bool around_alarm(struct text event, struct text *ret_before, struct text *ret_behind) {
    enum { LONG = sizeof "alarm" - 1 };
    for (size_t i = 0; i + LONG <= event.length; i++) {
        const char *start = event.start + i;
        if ((i == 0 || !is_letter(start[-1])) &&
                history_has_word((struct text){start, LONG}, "alarm")) {
            *ret_before = (struct text){event.start, i};
            *ret_behind = (struct text){start + LONG, event.length - i - LONG};
            return true;
        }
    }
    return false;
}

/** Whether a row's word stands only behind "alarm", as a place may: "Alarm panic room". "Panic alarm" says the kind
 *  before it, "Alarm: panic" directly behind a colon or comma. */
static bool behind_alarm(struct text event, size_t row) {
    const size_t length = strlen(said[row].word);
    struct text before;
    struct text rest;
    if (said[row].kind == EVENT_INTRUSION || !around_alarm(event, &before, &rest) ||
            says_kind(before, row)) {
        return false;
    }
    if (rest.length == 0 || (rest.start[0] != ':' && rest.start[0] != ',')) {
        return true;
    }
    do {
        rest = (struct text){rest.start + 1, rest.length - 1};
    } while (rest.length > 0 && rest.start[0] == ' ');
    return rest.length < length ||
            !history_has_word((struct text){rest.start, length}, said[row].word);
}

/** What else an event says that a row of `said` does not go with: many lists have the zone's name there, and "Burglary
 *  alarm mains cupboard" is no loss of mains. NULL: nothing. */
static const char *other_said(struct text event, size_t row, bool of_zone) {
    for (size_t i = row + 1; i + 1 < SAID; i++) {
        if (!go_together(said[row].kind, said[i].kind) && history_has_word(event, said[i].word)) {
            return said[i].word;
        }
    }
    if (said[row].kind == EVENT_MAINS && of_zone) {
        return "a zone number";
    }
    return behind_alarm(event, row) ? "alarm" : NULL;
}

/** Whether a line says "restored" and "not", and the event itself does not say which: an alarm that is not restored, or
 *  one that is, whose keyholder was not called. */
static bool restored_or_not(struct text event, struct text line) {
    return !ended(event) && history_has_word(line, "restor") && history_has_word(line, "not");
}

static bool has_end(enum event_kind kind) {
    return !is_setting(kind);
}

const char *history_code_of_words(
        struct text event, struct text line, bool of_zone, struct history_doubt *ret_doubt) {
    *ret_doubt = (struct history_doubt){0};
    for (size_t i = 0; i < SAID; i++) {
        if (!history_has_word(event, said[i].word)) {
            continue;
        }
        ret_doubt->word = doubt(event, i);
        ret_doubt->other = ret_doubt->word == NULL ? other_said(event, i, of_zone) : NULL;
        if (ret_doubt->other != NULL) {
            ret_doubt->word = said[i].word;
        }
        if (said[i].report) {
            return "RP";
        }
        if (ret_doubt->word == NULL && has_end(said[i].kind) && restored_or_not(event, line)) {
            ret_doubt->word = "not";
        }
        const enum event_kind kind =
                said[i].kind == EVENT_LOW_BATTERY && !of_zone ? EVENT_PANEL_BATTERY : said[i].kind;
        return signal_sia_of(kind, has_end(kind) && (ended(event) || history_restored(line)));
    }
    return NULL;
}
