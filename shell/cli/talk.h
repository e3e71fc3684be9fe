/* A dialogue: question after question, in a terminal or from a pipe. Every question has a default (Enter), help on ?,
 * and leads back to the one before on <.
 *
 * Going back is replaying: an interview is a function that asks its questions in order and keeps nothing between runs.
 * On < the last answer is forgotten and the interview is run again from its beginning; what was answered before is
 * given without asking. So loops and branches need no way back of their own. */
#ifndef LINTEL_CLI_TALK_H
#define LINTEL_CLI_TALK_H

#include "base/arena.h"
#include "base/text.h"

#include <stdbool.h>
#include <stdio.h>

enum { TALK_ANSWERS_MOST = 600, TALK_LINE_BYTES = 1000 };

/** How the talk stands. Only TALK_GOES_ON lets a question be asked; after the others every talk_ask is false. */
enum talk_state {
    TALK_GOES_ON,
    TALK_BACK,        /* run the interview again */
    TALK_ENDED,       /* the input is over */
    TALK_INTERRUPTED, /* Ctrl-C */
    TALK_REFUSED,     /* no memory, or more answers than fit */
};

/** in, out: borrowed. arena: keeps the answers. echoes: the input is no terminal, so answers are printed too. */
struct talk {
    FILE *in;
    FILE *out;
    struct arena *arena;
    bool echoes;
    enum talk_state state;
    struct text waiting; /* the question that the input ended at */
    struct text answers[TALK_ANSWERS_MOST];
    size_t count;
    size_t cursor;
};

/** One question. asks: without the default, which is shown behind it. usual: the answer when only Enter is pressed (may
 *  be empty). help: shown on ?. is_good: whether the answer can be taken; if not, says in *wanted what was expected.
 *  NULL: every answer is good. */
struct talk_question {
    struct text asks;
    struct text usual;
    struct text help;
    bool (*is_good)(void *context, struct text answer, struct text_builder *wanted);
    void *context;
};

void talk_begin(struct talk *talk, FILE *in, FILE *out, struct arena *arena);

/** Before each run of the interview. */
void talk_again(struct talk *talk);

/** Asks until the answer is good. False: the talk does not go on (talk->state says why). ret_answer: without blanks
 *  around it; untouched when false. */
bool talk_ask(struct talk *talk, const struct talk_question *question, struct text *ret_answer);

#endif
