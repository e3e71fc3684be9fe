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

/** Words that make of an event none, or leave open what it is: a line of them is not taken, as it could tick off what
 *  nobody did. Common practice. condition: of mains, batteries and devices not heard it is the event itself. */
static const struct {
    const char *word;
    bool condition;
} doubts[] = {
        {"trouble", true},
        {"fault", true},
        {"fail", true},
        {"missed", true},
        {"missing", true},
        {"test", false},
        {"cancel", false},
        {"abort", false},
        {"silence", false},
        {"acknowledge", false},
        {"late", false},
        {"overdue", false},
        {"still", false},
        {"module", false},
        {"expander", false},
        {"not", false},
};

static const char *const ends[] = {"restor", "its end", "cleared", "normal"};

/** What "back" says where it stands: it is the end of an event, or a place ("back door", "backyard"), or one cannot
 *  tell ("back zone 1"). Common practice. */
enum back {
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
    } next[] = {{"to", BACK_END}, {"on", BACK_END}, {"again", BACK_END}, {"zone", BACK_OPEN},
            {"point", BACK_OPEN}, {"area", BACK_OPEN}};
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
    return rest.length == 0 ? BACK_END : BACK_PLACE;
}

/** The most that any "back" of an event says. */
static enum back back_of(struct text event) {
    enum { LONG = sizeof "back" - 1 };
    enum back most = BACK_PLACE;
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

/** What makes it doubtful that it is this row of `said`; NULL: nothing. */
static const char *doubt(struct text event, size_t row) {
    for (size_t i = 0; i < sizeof doubts / sizeof doubts[0]; i++) {
        const bool of_row = strstr(said[row].word, doubts[i].word) != NULL ||
                (doubts[i].condition && is_condition(said[row].kind));
        if (!of_row && history_has_word(event, doubts[i].word)) {
            return doubts[i].word;
        }
    }
    if (back_of(event) == BACK_OPEN && !ended(event)) {
        return "back";
    }
    return denies(event) ? "no" : NULL;
}

/** What else an event says that a row of `said` does not go with: many lists have the zone's name there, and "Burglary
 *  alarm mains cupboard" is no loss of mains. NULL: nothing. */
static const char *other_said(struct text event, size_t row, bool of_zone) {
    for (size_t i = row + 1; i + 1 < SAID; i++) {
        if (said[i].kind != said[row].kind && history_has_word(event, said[i].word)) {
            return said[i].word;
        }
    }
    return said[row].kind == EVENT_MAINS && of_zone ? "a zone number" : NULL;
}

/** Whether a line says "restored" and "not", and the event itself does not say which: an alarm that is not restored, or
 *  one that is, whose keyholder was not called. */
static bool restored_or_not(struct text event, struct text line) {
    return !ended(event) && history_has_word(line, "restor") && history_has_word(line, "not");
}

static bool has_end(enum event_kind kind) {
    return kind != EVENT_SET && kind != EVENT_UNSET;
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
