#include "web/history.h"

#include <stdlib.h>
#include <string.h>

static void drop_last(struct history *history) {
    history->count--;
    history->bytes -= history->texts[history->count].length;
    free((char *)history->texts[history->count].start);
}

static void drop_first(struct history *history) {
    history->bytes -= history->texts[0].length;
    free((char *)history->texts[0].start);
    memmove(history->texts, history->texts + 1, (history->count - 1) * sizeof *history->texts);
    memmove(history->says, history->says + 1, (history->count - 1) * sizeof *history->says);
    history->count--;
    history->at--;
}

static void copy_to(char *room, struct text text) {
    if (text.length > 0) {
        memcpy(room, text.start, text.length);
    }
}

outcome history_add(
        struct history *history, struct text text, struct text says, struct problem *ret_problem) {
    if (history->texts == NULL) {
        history->texts = calloc(HISTORY_MOST, sizeof *history->texts);
    }
    if (history->says == NULL) {
        history->says = calloc(HISTORY_MOST, sizeof *history->says);
    }
    char *copy = malloc(text.length + says.length + 1);
    if (history->texts == NULL || history->says == NULL || copy == NULL) {
        free(copy);
        FAIL(ret_problem, PROBLEM_MEMORY, "", "there is no memory left to keep the former text");
    }
    copy_to(copy, text);
    copy_to(copy + text.length, says);
    while (history->count > 0 && history->count > history->at + 1) {
        drop_last(history);
    }
    while (history->count > 1 &&
            (history->count == HISTORY_MOST || history->bytes + text.length > HISTORY_BYTES_MOST)) {
        drop_first(history);
    }
    history->says[history->count] = (struct text){copy + text.length, says.length};
    history->texts[history->count++] = (struct text){copy, text.length};
    history->at = history->count - 1;
    history->bytes += text.length;
    return outcome_good();
}

size_t history_steps(const struct history *history, bool forward) {
    if (history->count == 0) {
        return 0;
    }
    return forward ? history->count - 1 - history->at : history->at;
}

struct text history_next(const struct history *history, bool forward) {
    if (history_steps(history, forward) == 0) {
        return (struct text){0};
    }
    return history->texts[forward ? history->at + 1 : history->at - 1];
}

struct text history_says(const struct history *history, bool forward) {
    if (history_steps(history, forward) == 0) {
        return (struct text){0};
    }
    return history->says[history->at + forward];
}

void history_step(struct history *history, bool forward) {
    if (history_steps(history, forward) > 0) {
        history->at = forward ? history->at + 1 : history->at - 1;
    }
}

void history_finish(struct history *history) {
    while (history->count > 0) {
        drop_last(history);
    }
    free(history->texts);
    free(history->says);
    *history = (struct history){0};
}
