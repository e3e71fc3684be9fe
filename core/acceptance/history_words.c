#include "acceptance/history_words.h"

#include "acceptance/history_fields.h"
#include "signals/meaning.h"

#include <string.h>

/** What a word that a line has says of its event; the first that is found counts. Common practice. report: a test. */
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

static const char *const ends[] = {"restor", "its end", "cleared", "normal", "back"};

bool history_restored(struct text line) {
    return history_has_word(line, "restor") && !history_has_word(line, "not");
}

static bool ended(struct text event) {
    for (size_t i = 0; i < sizeof ends / sizeof ends[0]; i++) {
        if (history_has_word(event, ends[i])) {
            return true;
        }
    }
    return false;
}

/** "no" as in "no alarm"; in "No. 7" and "no 7" it is a number. */
static bool denies(struct text event) {
    for (size_t i = 0; i + 2 <= event.length; i++) {
        const struct text rest = {event.start + i, event.length - i};
        const bool begins = i == 0 || event.start[i - 1] == ' ';
        const bool last = rest.length == 2;
        const bool word = rest.length > 3 && rest.start[2] == ' ' &&
                (rest.start[3] < '0' || rest.start[3] > '9');
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
    return denies(event) ? "no" : NULL;
}

const char *history_code_of_words(
        struct text event, struct text line, bool of_zone, const char **ret_doubt) {
    *ret_doubt = NULL;
    for (size_t i = 0; i < sizeof said / sizeof said[0]; i++) {
        if (!history_has_word(event, said[i].word)) {
            continue;
        }
        *ret_doubt = doubt(event, i);
        if (said[i].report) {
            return "RP";
        }
        const enum event_kind kind =
                said[i].kind == EVENT_LOW_BATTERY && !of_zone ? EVENT_PANEL_BATTERY : said[i].kind;
        return signal_sia_of(kind,
                kind != EVENT_SET && kind != EVENT_UNSET &&
                        (ended(event) || history_restored(line)));
    }
    return NULL;
}
