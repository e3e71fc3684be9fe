#include "web/history.h"

#include "web/merge.h"

#include <stdlib.h>
#include <string.h>

struct history_text {
    size_t users;
    size_t length;
    char bytes[];
};

static struct text text_in(const struct history_text *kept) {
    return kept == NULL ? (struct text){0} : (struct text){kept->bytes, kept->length};
}

static struct history_text *hold(struct history_text *kept) {
    kept->users++;
    return kept;
}

static void let_go(struct history *history, struct history_text *kept) {
    if (kept != NULL && --kept->users == 0) {
        history->bytes -= kept->length;
        free(kept);
    }
}

static void copy_to(char *room, struct text text) {
    if (text.length > 0) {
        memcpy(room, text.start, text.length);
    }
}

/** Held once. NULL: no memory. */
static struct history_text *keep(struct history *history, struct text text) {
    struct history_text *kept = malloc(sizeof *kept + text.length + 1);
    if (kept != NULL) {
        kept->users = 1;
        kept->length = text.length;
        copy_to(kept->bytes, text);
        kept->bytes[text.length] = '\0';
        history->bytes += text.length;
    }
    return kept;
}

static void become(struct history *history, struct history_text *kept) {
    let_go(history, history->present);
    history->present = kept;
}

static void drop_step(struct history *history, size_t index) {
    struct history_step *step = &history->steps[index];
    let_go(history, step->before);
    let_go(history, step->after);
    free((char *)step->note.by.start);
    history->count--;
    memmove(step, step + 1, (history->count - index) * sizeof *step);
}

struct text history_present(const struct history *history) {
    return text_in(history->present);
}

/** By whom and what, in one piece of memory that begins at by. Its start NULL: there is none. */
static struct history_note copy_note(const struct history_note *note) {
    char *copy = malloc(note->by.length + note->says.length + 1);
    if (copy == NULL) {
        return (struct history_note){0};
    }
    copy_to(copy, note->by);
    copy_to(copy + note->by.length, note->says);
    return (struct history_note){
            .by = {copy, note->by.length}, .says = {copy + note->by.length, note->says.length}};
}

/** A doer who does something new no longer makes again what they took back. */
static void drop_undone(struct history *history, struct text by) {
    for (size_t i = history->count; i-- > 0;) {
        if (history->steps[i].undone && text_equal(history->steps[i].note.by, by)) {
            drop_step(history, i);
        }
    }
}

outcome history_add(struct history *history, struct text text, const struct history_note *note,
        struct problem *ret_problem) {
    const bool is_step = note != NULL && history->present != NULL;
    if (history->steps == NULL) {
        history->steps = calloc(HISTORY_MOST, sizeof *history->steps);
    }
    struct history_text *kept = history->steps == NULL ? NULL : keep(history, text);
    const struct history_note copy = is_step ? copy_note(note) : (struct history_note){0};
    if (kept == NULL || (is_step && copy.by.start == NULL)) {
        let_go(history, kept);
        free((char *)copy.by.start);
        FAIL(ret_problem, PROBLEM_MEMORY, "", "there is no memory left to keep the former text");
    }
    if (is_step) {
        drop_undone(history, note->by);
        if (history->count == HISTORY_MOST) {
            drop_step(history, 0);
        }
        history->steps[history->count++] = (struct history_step){
                .before = hold(history->present), .after = hold(kept), .note = copy};
    }
    become(history, kept);
    while (history->count > 0 && history->bytes > HISTORY_BYTES_MOST) {
        drop_step(history, 0);
    }
    return outcome_good();
}

/** HISTORY_MOST where there is none. What was taken back first is made again last. */
static size_t find_next(const struct history *history, struct text by, bool forward) {
    size_t found = HISTORY_MOST;
    for (size_t i = 0; i < history->count; i++) {
        const struct history_step *step = &history->steps[i];
        if (step->undone == forward && text_equal(step->note.by, by) &&
                (!forward || found == HISTORY_MOST)) {
            found = i;
        }
    }
    return found;
}

const struct history_step *history_next(
        const struct history *history, struct text by, bool forward) {
    const size_t found = find_next(history, by, forward);
    return found == HISTORY_MOST ? NULL : &history->steps[found];
}

size_t history_steps(const struct history *history, struct text by, bool forward) {
    size_t count = 0;
    for (size_t i = 0; i < history->count; i++) {
        count += history->steps[i].undone == forward && text_equal(history->steps[i].note.by, by);
    }
    return count;
}

/** Who changed the same since, in what they said of it; nothing where another program did, or nobody said. */
static struct text says_of_later(const struct history *history, size_t index, struct text from,
        struct text to, struct arena *arena) {
    const struct text by = history->steps[index].note.by;
    struct text merged;
    for (size_t i = index + 1; i < history->count; i++) {
        const struct history_step *later = &history->steps[i];
        if (!later->undone && !text_equal(later->note.by, by) &&
                !merge_change(from, to, text_in(later->after), arena, &merged)) {
            return later->note.says;
        }
    }
    return (struct text){0};
}

static outcome refuse(struct text says, bool forward, struct problem *ret_problem) {
    enum { SAYS_SHOWN = 120 };
    const char *what = forward ? "made again" : "taken back";
    if (says.length == 0) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "It cannot be %s: somebody else has changed the same since. Set it as you want it "
                "where it now stands.",
                what);
    }
    FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
            "It cannot be %s: somebody else has changed the same since (%.*s). Let them undo that "
            "first, or set it as you want it where it now stands.",
            what, says.length > SAYS_SHOWN ? SAYS_SHOWN : (int)says.length, says.start);
}

outcome history_turn(const struct history *history, struct text by, bool forward,
        struct arena *arena, struct text *ret_text, struct problem *ret_problem) {
    const size_t index = find_next(history, by, forward);
    if (index == HISTORY_MOST) {
        FAIL(ret_problem, PROBLEM_MISSING, "", "%s",
                forward ? "there is nothing of this page to make again"
                        : "there is nothing of this page to take back");
    }
    const struct history_step *step = &history->steps[index];
    struct history_text *base = forward ? step->before : step->after;
    const struct text from = text_in(base);
    const struct text to = text_in(forward ? step->after : step->before);
    if (base == history->present) {
        *ret_text = to;
        return outcome_good();
    }
    if (!merge_change(from, to, text_in(history->present), arena, ret_text)) {
        return refuse(says_of_later(history, index, from, to, arena), forward, ret_problem);
    }
    if (ret_text->start == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "there is no memory left to work it out");
    }
    return outcome_good();
}

/** Where that step leads, if nobody did anything since. */
static struct history_text *end_of(const struct history_step *step, bool forward) {
    return forward ? step->after : step->before;
}

bool history_knows(const struct history *history, struct text by, bool forward, struct text text) {
    const struct history_step *step = history_next(history, by, forward);
    return step != NULL && text_equal(text_in(end_of(step, forward)), text);
}

outcome history_turned(struct history *history, struct text by, bool forward, struct text text,
        struct problem *ret_problem) {
    struct history_step *step = &history->steps[find_next(history, by, forward)];
    struct history_text *kept = history_knows(history, by, forward, text)
            ? hold(end_of(step, forward))
            : keep(history, text);
    if (kept == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "there is no memory left to keep the text");
    }
    step->undone = !forward;
    become(history, kept);
    return outcome_good();
}

void history_finish(struct history *history) {
    while (history->count > 0) {
        drop_step(history, history->count - 1);
    }
    let_go(history, history->present);
    free(history->steps);
    *history = (struct history){0};
}
