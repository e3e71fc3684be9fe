#include "base/date.h"
#include "check/layout.h"
#include "cli/signals.h"
#include "signals/code.h"
#include "signals/meaning.h"

#include <string.h>

enum { LABEL = 11, SHOWN_MOST = 60 };

static const char *const form_names[SIGNALS_FORM_COUNT] = {
        [SIGNALS_FRAME] = "frame",
        [SIGNALS_CONTACT_ID] = "Contact ID message",
        [SIGNALS_EVENT] = "Contact ID event",
        [SIGNALS_SIA] = "SIA event text",
};

/** A line with a label, wrapped at the width. */
static void row(struct text_builder *out, const char *label, struct text words) {
    struct layout layout = {.out = out, .width = LAYOUT_WIDTH};
    layout_put_string(&layout, label, LAYOUT_PLAIN);
    layout_to(&layout, LABEL);
    layout_words(&layout, words, LABEL, LAYOUT_PLAIN);
    layout_end_line(&layout);
}

static void row_format(struct text_builder *out, const char *label, const char *format, ...)
        __attribute__((format(printf, 3, 4)));

static void row_format(struct text_builder *out, const char *label, const char *format, ...) {
    struct text_builder line;
    va_list arguments;
    text_builder_init(&line, out->arena);
    va_start(arguments, format);
    text_add_format_list(&line, format, arguments);
    va_end(arguments);
    row(out, label, text_built(&line));
}

/** Bytes as they can be shown: what is no plain character as a dot. */
static char plain(char byte) {
    return byte >= ' ' && byte <= '~' ? byte : '.';
}

/** The bytes around a fault with a mark under it. */
static void point_at(struct text_builder *out, struct text source, size_t at) {
    size_t from = at > SHOWN_MOST / 2 ? at - SHOWN_MOST / 2 : 0;
    text_add_format(out, "%*s", LABEL, "");
    for (size_t i = from; i < source.length && i < from + SHOWN_MOST; i++) {
        text_add_char(out, plain(source.start[i]));
    }
    text_add_format(out, "\n%*s^\n", (int)(LABEL + at - from), "");
}

static void show_fault(struct text_builder *out, const char *label, struct text source,
        const struct signal_fault *fault) {
    row_format(out, label, "%s (byte %zu of %zu)", signal_fault_words(fault->kind), fault->at + 1,
            source.length);
    point_at(out, source, fault->at);
}

static const char *qualifier_words(struct contact_id event) {
    bool opens = event.code / 100 == 4;
    switch (event.qualifier) {
    case CONTACT_ID_NEW:
        return opens ? "new, or an opening" : "new";
    case CONTACT_ID_BACK:
        return opens ? "a closing" : "restored";
    case CONTACT_ID_STILL:
        return "reported before, and still so";
    }
    return "";
}

static void show_called(struct text_builder *out, struct signal_meaning meaning) {
    if (meaning.kind != EVENT_KIND_COUNT) {
        row_format(out, "", "Lintel calls it: %s%s", event_kind_name(meaning.kind),
                signal_meaning_state(meaning));
    }
}

static void show_event(struct text_builder *out, struct contact_id event) {
    const struct signal_code *code = signal_contact_id(event.code);
    row_format(out, "event", "%d%03u %02u %03u: %s", (int)event.qualifier, event.code, event.group,
            event.number, qualifier_words(event));
    if (code == NULL) {
        row_format(out, "", "%03u is in no table that Lintel has; the station may know it",
                event.code);
    } else {
        row_format(out, "", "%03u %s: %s (%s)", event.code, code->class, code->meaning,
                signal_sure_words(code->sure));
    }
    if (event.group > 0) {
        row_format(out, "", "area (group) %u", event.group);
    }
    if (event.number > 0) {
        row_format(out, "", "%s %u",
                code == NULL || code->number == SIGNAL_NUMBER_NONE
                        ? "number"
                        : signal_number_name(code->number),
                event.number);
    }
    show_called(out, signal_meaning_of_contact_id(event.qualifier, event.code));
}

static void show_sia(struct text_builder *out, const struct sia *sia) {
    row(out, "event", text_of(sia->old ? "old (O)" : "new (N)"));
    for (size_t i = 0; i < sia->count; i++) {
        const struct sia_part *part = &sia->parts[i];
        if (part->modifier) {
            const char *name = sia_modifier_name(part->code);
            row_format(out, "", "%.*s: %s %.*s", TEXT_ARGS(part->code),
                    name[0] == '\0' ? "not a modifier that Lintel knows," : name,
                    TEXT_ARGS(part->value));
            continue;
        }
        const struct signal_code *code = signal_sia(part->code);
        if (code == NULL) {
            row_format(out, "", "%.*s is in no table that Lintel has; number %.*s",
                    TEXT_ARGS(part->code), TEXT_ARGS(part->value));
            continue;
        }
        row_format(out, "", "%s %s (%s)%s%s %.*s", code->code, code->meaning,
                signal_sure_words(code->sure), part->value.length == 0 ? "" : "; ",
                part->value.length == 0 ? "" : signal_number_name(code->number),
                TEXT_ARGS(part->value));
        show_called(out, signal_meaning_of_sia(part->code));
    }
}

static const char *token_words(enum frame_token token) {
    static const char *const words[FRAME_TOKEN_COUNT] = {
            [FRAME_TOKEN_OTHER] = "a kind of message that Lintel does not read",
            [FRAME_TOKEN_SIA] = "an event in SIA codes",
            [FRAME_TOKEN_CONTACT_ID] = "an event in Contact ID",
            [FRAME_TOKEN_NULL] = "a link test",
            [FRAME_TOKEN_ACK] = "acknowledged",
            [FRAME_TOKEN_NAK] = "refused: the sender's clock is out of the window",
            [FRAME_TOKEN_DUH] = "arrived whole, but cannot be worked on",
            [FRAME_TOKEN_RSP] = "acknowledged, with data for the premises",
    };
    return words[token];
}

static void show_stamp(struct text_builder *out, int64_t seconds) {
    enum { DAY_S = 86400 };
    struct text_builder line;
    int of_day = (int)(seconds % DAY_S);
    text_builder_init(&line, out->arena);
    date_add(&line, (int32_t)(seconds / DAY_S));
    text_add_format(&line, " %02d:%02d:%02d UTC", of_day / 3600, of_day / 60 % 60, of_day % 60);
    row(out, "sent", text_built(&line));
}

static const char *keys_hint(const struct signals_answer *answer) {
    return answer->inner.kind == SIGNAL_FAULT_NONE ? " (--keys FILE)" : "";
}

static void show_frame(struct text_builder *out, const struct signals_answer *answer) {
    const struct frame *frame = &answer->frame;
    row_format(out, "frame", "%.*s%s: %s", TEXT_ARGS(frame->token_text),
            frame->encrypted ? ", encrypted" : "", token_words(frame->token));
    row_format(out, "", "account %.*s, sequence %04u, prefix %.*s%s%.*s", TEXT_ARGS(frame->account),
            frame->sequence, TEXT_ARGS(frame->prefix),
            frame->receiver.length == 0 ? "" : ", receiver ", TEXT_ARGS(frame->receiver));
    row(out, "", text_of("check sum and length fit"));
    if (answer->opened) {
        row(out, "", text_of("opened with the key of this account"));
    } else if (frame->encrypted) {
        row_format(out, "", "%zu bytes are encrypted; without the key only this can be told%s",
                frame->cipher.length / 2, keys_hint(answer));
    }
    if (frame->content.stamped) {
        show_stamp(out, frame->content.stamp_s);
    }
    for (size_t i = 0; i < frame->content.extra_count; i++) {
        row_format(out, i == 0 ? "extended" : "", "%c: %.*s", frame->content.extras[i].letter,
                TEXT_ARGS(frame->content.extras[i].value));
    }
}

void signals_show(const struct signals_answer *answer, struct text_builder *out) {
    if (answer->fault.kind != SIGNAL_FAULT_NONE) {
        row_format(out, "", "not a %s", form_names[answer->form]);
        show_fault(out, "wrong", answer->source, &answer->fault);
        return;
    }
    if (answer->form == SIGNALS_CONTACT_ID) {
        row_format(out, "message", "account %.4s, type %u, check digit fits",
                answer->message.account, answer->message.type);
    }
    if (answer->form == SIGNALS_FRAME) {
        show_frame(out, answer);
    }
    if (answer->inner.kind != SIGNAL_FAULT_NONE) {
        show_fault(out, "wrong", answer->source, &answer->inner);
    } else if (answer->sia.count > 0) {
        show_sia(out, &answer->sia);
    } else if (answer->event.qualifier != 0) {
        show_event(out, answer->event);
    }
}

static void add_fault(struct json_writer *json, const struct signal_fault *fault) {
    json_open_object(json, "wrong");
    json_add_string(json, "what", signal_fault_words(fault->kind));
    json_add_integer(json, "byte", (int64_t)fault->at);
    json_close_object(json);
}

static void add_meaning(struct json_writer *json, struct signal_meaning meaning) {
    if (meaning.kind == EVENT_KIND_COUNT) {
        json_add_null(json, "kind");
    } else {
        json_add_string(json, "kind", event_kind_name(meaning.kind));
        json_add_bool(json, "end", meaning.back);
    }
}

static void add_event(struct json_writer *json, struct contact_id event) {
    const struct signal_code *code = signal_contact_id(event.code);
    json_open_object(json, "contact_id");
    json_add_integer(json, "qualifier", (int64_t)event.qualifier);
    json_add_integer(json, "code", event.code);
    json_add_integer(json, "group", event.group);
    json_add_integer(json, "number", event.number);
    json_add_string(json, "meaning", code == NULL ? "" : code->meaning);
    json_add_string(json, "number_is", code == NULL ? "" : signal_number_name(code->number));
    add_meaning(json, signal_meaning_of_contact_id(event.qualifier, event.code));
    json_close_object(json);
}

static void add_sia(struct json_writer *json, const struct sia *sia) {
    json_open_object(json, "sia");
    json_add_bool(json, "old", sia->old);
    json_open_array(json, "parts");
    for (size_t i = 0; i < sia->count; i++) {
        const struct sia_part *part = &sia->parts[i];
        const struct signal_code *code = part->modifier ? NULL : signal_sia(part->code);
        json_open_object(json, NULL);
        json_add_text(json, "code", part->code);
        json_add_text(json, "value", part->value);
        json_add_string(json, "meaning",
                part->modifier         ? sia_modifier_name(part->code)
                        : code == NULL ? ""
                                       : code->meaning);
        if (!part->modifier) {
            add_meaning(json, signal_meaning_of_sia(part->code));
        }
        json_close_object(json);
    }
    json_close_array(json);
    json_close_object(json);
}

static void add_frame(struct json_writer *json, const struct signals_answer *answer) {
    const struct frame *frame = &answer->frame;
    json_open_object(json, "frame");
    json_add_text(json, "token", frame->token_text);
    json_add_bool(json, "encrypted", frame->encrypted);
    json_add_bool(json, "opened", answer->opened);
    json_add_integer(json, "sequence", frame->sequence);
    json_add_text(json, "receiver", frame->receiver);
    json_add_text(json, "prefix", frame->prefix);
    json_add_text(json, "account", frame->account);
    json_add_text(json, "data", frame->content.data);
    if (frame->content.stamped) {
        json_add_integer(json, "sent_s", frame->content.stamp_s);
    }
    json_open_array(json, "extended");
    for (size_t i = 0; i < frame->content.extra_count; i++) {
        json_open_object(json, NULL);
        json_add_text(json, "letter", (struct text){&frame->content.extras[i].letter, 1});
        json_add_text(json, "text", frame->content.extras[i].value);
        json_close_object(json);
    }
    json_close_array(json);
    json_close_object(json);
}

void signals_show_json(const struct signals_answer *answer, struct json_writer *json) {
    json_open_object(json, NULL);
    json_add_string(json, "form", form_names[answer->form]);
    json_add_bool(json, "good", !signals_wrong(answer));
    if (answer->fault.kind != SIGNAL_FAULT_NONE) {
        add_fault(json, &answer->fault);
    } else if (answer->inner.kind != SIGNAL_FAULT_NONE) {
        add_fault(json, &answer->inner);
    }
    if (answer->fault.kind == SIGNAL_FAULT_NONE) {
        if (answer->form == SIGNALS_FRAME) {
            add_frame(json, answer);
        }
        if (answer->form == SIGNALS_CONTACT_ID) {
            json_add_text(json, "account", (struct text){answer->message.account, 4});
        }
        if (answer->inner.kind == SIGNAL_FAULT_NONE && answer->sia.count > 0) {
            add_sia(json, &answer->sia);
        } else if (answer->inner.kind == SIGNAL_FAULT_NONE && answer->event.qualifier != 0) {
            add_event(json, answer->event);
        }
    }
    json_close_object(json);
}

static void explain_row(struct text_builder *out, const struct signal_code *code, const char *of) {
    row_format(out, code->code, "%s%s%s%s%s (%s, %s)", code->class == NULL ? "" : code->class,
            code->class == NULL ? "" : ": ", code->meaning,
            code->number == SIGNAL_NUMBER_NONE ? "" : "; with the number of the ",
            signal_number_name(code->number), of, signal_sure_words(code->sure));
}

bool signals_explain(struct text code, struct text_builder *out) {
    const struct signal_code *sia = signal_sia(code);
    if (sia != NULL) {
        explain_row(out, sia, "SIA");
        show_called(out, signal_meaning_of_sia(code));
        return true;
    }
    /* "1130", "E130" and "R130" are how receivers and logs print it */
    if (code.length == 4 && strchr("136ER", code.start[0]) != NULL) {
        code = (struct text){code.start + 1, 3};
    }
    uint16_t number = 0;
    for (size_t i = 0; i < code.length; i++) {
        if (code.start[i] < '0' || code.start[i] > '9' || code.length != 3) {
            return false;
        }
        number = (uint16_t)(number * 10 + code.start[i] - '0');
    }
    const struct signal_code *found = code.length == 3 ? signal_contact_id(number) : NULL;
    if (found == NULL) {
        return false;
    }
    struct signal_meaning opened = signal_meaning_of_contact_id(CONTACT_ID_NEW, number);
    struct signal_meaning closed = signal_meaning_of_contact_id(CONTACT_ID_BACK, number);
    explain_row(out, found, "Contact ID");
    if (opened.kind != closed.kind && opened.kind != EVENT_KIND_COUNT &&
            closed.kind != EVENT_KIND_COUNT) {
        row_format(out, "", "Lintel calls it: %s with the qualifier 1, %s with 3",
                event_kind_name(opened.kind), event_kind_name(closed.kind));
    } else {
        show_called(out, opened.kind == EVENT_KIND_COUNT ? closed : opened);
    }
    return true;
}

void signals_list(struct text_builder *out) {
    size_t count = 0;
    const struct signal_code *rows = signal_contact_id_codes(&count);
    for (size_t i = 0; i < count; i++) {
        explain_row(out, &rows[i], "Contact ID");
    }
    rows = signal_sia_codes(&count);
    for (size_t i = 0; i < count; i++) {
        explain_row(out, &rows[i], "SIA");
    }
}
