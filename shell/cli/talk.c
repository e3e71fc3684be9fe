#include "cli/talk.h"

#include "check/layout.h"
#include "cli/terminal.h"

#include <errno.h>
#include <string.h>
#include <unistd.h>

void talk_begin(struct talk *talk, FILE *in, FILE *out, struct arena *arena) {
    *talk = (struct talk){.in = in, .out = out, .arena = arena, .echoes = isatty(fileno(in)) == 0};
}

void talk_again(struct talk *talk) {
    talk->cursor = 0;
    talk->state = TALK_GOES_ON;
}

static void say(struct talk *talk, const char *before, struct text text, const char *after) {
    (void)fprintf(talk->out, "%s%.*s%s", before, TEXT_ARGS(text), after);
}

static struct text trimmed(struct text text) {
    while (text.length > 0 && (text.start[0] == ' ' || text.start[0] == '\t')) {
        text.start++;
        text.length--;
    }
    while (text.length > 0 &&
            (text.start[text.length - 1] == ' ' || text.start[text.length - 1] == '\t' ||
                    text.start[text.length - 1] == '\r')) {
        text.length--;
    }
    return text;
}

enum line { LINE_READ, LINE_TOO_LONG, LINE_NONE };

/* A line without its end. The last one may lack it. */
static enum line read_line(struct talk *talk, char *bytes, struct text *ret_line) {
    size_t length = 0;
    bool any = false;
    int byte = EOF;
    while (!terminal_was_interrupted() && (byte = fgetc(talk->in)) != EOF && byte != '\n') {
        any = true;
        if (length < TALK_LINE_BYTES) {
            bytes[length] = (char)byte;
        }
        length++;
    }
    if (terminal_was_interrupted()) {
        talk->state = TALK_INTERRUPTED;
        return LINE_NONE;
    }
    if (byte == EOF && !any) {
        talk->state = TALK_ENDED;
        return LINE_NONE;
    }
    *ret_line = trimmed((struct text){.start = bytes, .length = length});
    return length > TALK_LINE_BYTES ? LINE_TOO_LONG : LINE_READ;
}

static void show(struct talk *talk, const struct talk_question *question) {
    say(talk, "", question->asks, "");
    if (question->usual.length > 0) {
        say(talk, " [", question->usual, "]");
    }
    (void)fprintf(talk->out, " ");
    (void)fflush(talk->out);
}

/* Below the question, within the columns of a terminal. */
static void say_wrapped(struct talk *talk, struct text text) {
    enum { INDENT = 2 };
    struct text_builder out;
    text_builder_init(&out, talk->arena);
    struct layout layout = {.out = &out, .width = LAYOUT_WIDTH};
    layout_to(&layout, INDENT);
    layout_words(&layout, text, INDENT, LAYOUT_PLAIN);
    say(talk, "", text_built(&out), "\n");
}

static bool is_taken(struct talk *talk, const struct talk_question *question, struct text answer) {
    struct text_builder wanted;
    text_builder_init(&wanted, talk->arena);
    if (question->is_good == NULL || question->is_good(question->context, answer, &wanted)) {
        return true;
    }
    say_wrapped(talk, text_built(&wanted));
    return false;
}

/* The answer is kept for the runs to come. */
static bool keep(struct talk *talk, struct text answer, struct text *ret_answer) {
    const struct text kept = text_copy(talk->arena, answer);
    if (kept.start == NULL || talk->count == TALK_ANSWERS_MOST) {
        talk->state = TALK_REFUSED;
        return false;
    }
    talk->answers[talk->count++] = kept;
    talk->cursor = talk->count;
    *ret_answer = kept;
    return true;
}

/* True: go on asking the same question. */
static bool takes_sign(struct talk *talk, const struct talk_question *question, struct text line) {
    if (text_is(line, "?")) {
        say_wrapped(talk, question->help);
        return true;
    }
    if (text_is(line, "<")) {
        if (talk->count == 0) {
            say(talk, "  ", text_of("this is the first question"), "\n");
            return true;
        }
        talk->count--;
        talk->state = TALK_BACK;
    }
    return false;
}

bool talk_ask(struct talk *talk, const struct talk_question *question, struct text *ret_answer) {
    char bytes[TALK_LINE_BYTES];
    struct text line = {0};
    if (talk->state != TALK_GOES_ON) {
        return false;
    }
    if (talk->cursor < talk->count) {
        *ret_answer = talk->answers[talk->cursor++];
        return true;
    }
    for (;;) {
        show(talk, question);
        const enum line read = read_line(talk, bytes, &line);
        if (talk->echoes || read == LINE_NONE) {
            say(talk, "", read == LINE_READ ? line : text_of(""), "\n");
        }
        if (read == LINE_NONE) {
            talk->waiting = question->asks;
            return false;
        }
        if (read == LINE_TOO_LONG) {
            say(talk, "  ", text_of("that is too long a line"), "\n");
            continue;
        }
        if (takes_sign(talk, question, line)) {
            continue;
        }
        if (talk->state == TALK_BACK) {
            return false;
        }
        const struct text answer = line.length == 0 ? question->usual : line;
        if (is_taken(talk, question, answer)) {
            return keep(talk, answer, ret_answer);
        }
    }
}
