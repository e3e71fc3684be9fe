#include "acceptance/history.h"

#include "acceptance/history_fields.h"
#include "acceptance/history_words.h"
#include "base/date.h"
#include "signals/code.h"
#include "signals/contact_id.h"

/* ---- what an event is */

/** "1130", "E130", "R401", "130"; false: no such code. ret_bare: nothing of it says whether it begins or ends. */
static bool contact_id_of(struct text word, struct contact_id *ret_event, bool *ret_bare) {
    static const struct {
        char letter;
        enum contact_id_qualifier qualifier;
    } firsts[] = {{'1', CONTACT_ID_NEW}, {'E', CONTACT_ID_NEW}, {'3', CONTACT_ID_BACK},
            {'R', CONTACT_ID_BACK}, {'6', CONTACT_ID_STILL}, {'P', CONTACT_ID_STILL}};
    enum contact_id_qualifier qualifier = CONTACT_ID_NEW;
    bool known = word.length == 3;
    for (size_t i = 0; word.length == 4 && i < sizeof firsts / sizeof firsts[0]; i++) {
        if (word.start[0] == firsts[i].letter) {
            qualifier = firsts[i].qualifier;
            known = true;
        }
    }
    int32_t code = 0;
    if (!known || !history_digits(word, word.length - 3, 3, &code) ||
            signal_contact_id((uint16_t)code) == NULL) {
        return false;
    }
    *ret_event = (struct contact_id){.qualifier = qualifier, .code = (uint16_t)code};
    *ret_bare = word.length == 3;
    return true;
}

/** A field's text up to its first blank. */
static struct text first_word(struct text field) {
    size_t length = 0;
    while (length < field.length && field.start[length] != ' ' && field.start[length] != '/') {
        length++;
    }
    return (struct text){field.start, length};
}

/** Puts the event together; false: nothing in its words is one, or one that is not to be taken: `why` says so then. */
static bool make_event(struct history_line *line, const struct history_fields *fields,
        struct text account, struct arena *arena) {
    const struct text word = first_word(fields->event);
    const bool of_zone = fields->number > 0;
    struct contact_id event;
    char bytes[CONTACT_ID_EVENT_LENGTH];
    bool bare = false;
    const bool whole = contact_id_read_event(fields->event, 0, &event, NULL);
    if (whole || contact_id_of(word, &event, &bare)) {
        if (bare && !history_restored(line->raw)) {
            line->why = text_print(arena,
                    "not taken: %.*s says not whether it began or ended, as E%.*s and R%.*s do",
                    TEXT_ARGS(word), TEXT_ARGS(word), TEXT_ARGS(word));
            return false;
        }
        event.qualifier = bare ? CONTACT_ID_BACK : event.qualifier;
        event.group = whole ? event.group : (uint8_t)fields->area;
        event.number = whole ? event.number : (uint16_t)fields->number;
        contact_id_write_event(event, bytes);
        line->token = FRAME_TOKEN_CONTACT_ID;
        line->data =
                text_print(arena, "#%.*s|%.*s", TEXT_ARGS(account), CONTACT_ID_EVENT_LENGTH, bytes);
        return true;
    }
    const bool sia = word.length == 2 && signal_sia(word) != NULL;
    struct history_doubt doubt = {0};
    const char *said_so =
            sia ? NULL : history_code_of_words(fields->event, line->raw, of_zone, &doubt);
    if (!sia && said_so == NULL) {
        return false;
    }
    if (doubt.word != NULL) {
        line->why = doubt.other == NULL
                ? text_print(arena, "not taken: \"%s\" stands in it", doubt.word)
                : text_print(arena, "not taken: it says both %s and %s", doubt.word, doubt.other);
        return false;
    }
    const struct text code = sia ? word : text_of(said_so);
    struct text_builder out;
    text_builder_init(&out, arena);
    text_add_format(&out, "#%.*s|N", TEXT_ARGS(account));
    if (fields->area > 0) {
        text_add_format(&out, "ri%d/", fields->area);
    }
    text_add(&out, code);
    if (of_zone) {
        text_add_format(&out, "%03d", fields->number);
    }
    line->token = FRAME_TOKEN_SIA;
    line->data = text_built(&out);
    return true;
}

/* ---- lines */

/** Same digits, whatever zeros stand before them; letters of either case. */
static bool same_account(struct text a, struct text b) {
    struct text both[2] = {a, b};
    for (size_t i = 0; i < 2; i++) {
        while (both[i].length > 1 && both[i].start[0] == '0') {
            both[i] = (struct text){both[i].start + 1, both[i].length - 1};
        }
    }
    for (size_t i = 0; i < both[0].length && both[0].length == both[1].length; i++) {
        const char x = both[0].start[i];
        const char y = both[1].start[i];
        if (x != y && !((x | 0x20) == (y | 0x20) && (x | 0x20) >= 'a' && (x | 0x20) <= 'z')) {
            return false;
        }
    }
    return both[0].length == both[1].length;
}

/** What the fields of a line come to, or why they come to nothing. */
static void judge(struct history_line *line, const struct history_fields *fields,
        const struct history_how *how, struct arena *arena) {
    const int32_t day = fields->day == DATE_NONE ? how->today_day : fields->day;
    if (fields->account.length > 0 && !same_account(fields->account, how->account)) {
        line->why = text_print(arena, "of another account, %.*s", TEXT_ARGS(fields->account));
        return;
    }
    if (fields->second < 0) {
        line->why = text_of("no time of day stands in it");
        return;
    }
    if (fields->event.length == 0) {
        line->why = text_of("no event stands in it");
        return;
    }
    if (!make_event(line, fields, how->account, arena)) {
        line->why = line->why.length > 0
                ? line->why
                : text_print(arena, "\"%.*s\" says nothing here",
                          (int)(fields->event.length < 60 ? fields->event.length : 60),
                          fields->event.start);
        return;
    }
    line->local_s = (int64_t)day * 86400 + fields->second;
}

outcome history_read(struct text source, struct history_how how, struct arena *arena,
        struct history_line **ret_lines, size_t *ret_count, struct problem *ret_problem) {
    struct history_line *lines = ARENA_ARRAY(arena, struct history_line, HISTORY_LINES_MAX);
    struct history_columns columns = {0};
    size_t count = 0;
    struct text raw = {0};
    if (lines == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the pasted list");
    }
    const char separator = history_separator(source);
    for (size_t number = 1; history_next_line(&source, &raw); number++) {
        if (raw.length == 0 || history_take_heading(raw, separator, &columns)) {
            continue;
        }
        if (count == HISTORY_LINES_MAX) {
            FAIL(ret_problem, PROBLEM_LIMIT, "",
                    "more than %d lines: paste the day of the test alone", HISTORY_LINES_MAX);
        }
        struct history_fields fields;
        lines[count] = (struct history_line){.number = number, .raw = raw};
        if (raw.length > HISTORY_LINE_MAX) {
            lines[count].why = text_of("it is too long to be a line of a list");
        } else {
            history_fields_of(raw, separator, &columns, &how, &fields);
            judge(&lines[count], &fields, &how, arena);
        }
        count++;
    }
    *ret_lines = lines;
    *ret_count = count;
    return outcome_good();
}
