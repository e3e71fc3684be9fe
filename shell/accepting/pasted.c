#include "accepting/pasted.h"

#include "acceptance/say.h"
#include "accepting/inside.h"
#include "host/host.h"
#include "signals/digest.h"
#include "signals/frame.h"

#include <time.h>

enum { SECOND_MS = 1000, MINUTE_MS = 60000, SEQUENCE_MOST = 9999, NAME_MOST = 60 };

/** The instant at which this machine's clock showed that time. In the hour that comes twice in autumn: either. */
static int64_t instant_of(int64_t local_s) {
    const time_t as_if = (time_t)local_s;
    struct tm parts = {0};
    (void)gmtime_r(&as_if, &parts);
    parts.tm_isdst = -1;
    return (int64_t)mktime(&parts) * SECOND_MS;
}

static struct text says_of(struct text data, struct arena *arena) {
    struct acceptance_heard heard[ACCEPTANCE_HEARD_MAX];
    struct text_builder says;
    const size_t count = acceptance_read(data, heard);
    text_builder_init(&says, arena);
    for (size_t i = 0; i < count; i++) {
        acceptance_say_heard(&heard[i], &says);
    }
    return text_built(&says);
}

/** Lists are printed oldest or newest first. */
static bool newest_first(const struct pasted *pasted) {
    const struct pasted_line *first = NULL;
    const struct pasted_line *last = NULL;
    for (size_t i = 0; i < pasted->count; i++) {
        if (pasted->lines[i].read.why.length == 0) {
            first = first == NULL ? &pasted->lines[i] : first;
            last = &pasted->lines[i];
        }
    }
    return first != NULL && first->at_ms > last->at_ms;
}

outcome pasted_read(const struct accepting *accepting, struct text source, struct arena *arena,
        struct pasted *ret_pasted, struct problem *ret_problem) {
    const struct site *site = accepting->acceptance.site;
    const struct history_how how = {.account = site->station.account,
            .day_first = site->words != SITE_WORDS_US,
            .today_day = host_today()};
    struct pasted pasted = {0};
    struct history_line *lines = NULL;
    TRY(history_read(source, how, arena, &lines, &pasted.count, ret_problem));
    pasted.lines = ARENA_ARRAY(arena, struct pasted_line, pasted.count);
    if (pasted.lines == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the pasted list");
    }
    for (size_t i = 0; i < pasted.count; i++) {
        struct pasted_line *line = &pasted.lines[i];
        *line = (struct pasted_line){.read = lines[i]};
        if (line->read.why.length > 0) {
            continue;
        }
        line->at_ms = instant_of(line->read.local_s);
        line->says = says_of(line->read.data, arena);
        /* Some lists have no seconds. */
        if (accepting->begun && line->at_ms + MINUTE_MS <= accepting->begun_ms) {
            line->read.why = text_of("from before this acceptance began");
        }
        pasted.taken += line->read.why.length == 0;
    }
    *ret_pasted = pasted;
    return outcome_good();
}

/** By time, those of one second as they came. */
static void insert(
        struct archive_signal *signals, size_t count, const struct archive_signal *signal) {
    size_t at = count;
    for (; at > 0 && signals[at - 1].received_ms > signal->received_ms; at--) {
        signals[at] = signals[at - 1];
    }
    signals[at] = *signal;
}

/** How many of the same second before this one say the same. */
static size_t same_before(const struct archive_signal *signals, size_t at) {
    size_t same = 0;
    for (size_t i = at; i > 0 && signals[i - 1].received_ms == signals[at].received_ms; i--) {
        same += text_equal(signals[i - 1].data, signals[at].data);
    }
    return same;
}

/** Known again by its time, account and event, and by how many of the same stand before it in that second. */
static uint64_t digest_of(const struct archive_signal *signal) {
    const struct frame as_if = {.token_text = signal->token,
            .prefix = text_of("0"),
            .account = signal->account,
            .sequence = signal->sequence,
            .content.data = signal->data};
    return frame_digest(&as_if);
}

outcome pasted_store(struct accepting *accepting, const struct pasted *pasted, struct text by,
        struct arena *arena, size_t *ret_added, struct problem *ret_problem) {
    struct archive_signal *signals = ARENA_ARRAY(arena, struct archive_signal, pasted->taken);
    size_t count = 0;
    if (signals == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the pasted list");
    }
    if (by.length == 0 || by.length > NAME_MOST) {
        FAIL(ret_problem, PROBLEM_MISSING, "",
                "a pasted list needs a name of at most %d bytes: who had it from the station",
                NAME_MOST);
    }
    if (!accepting->begun) {
        FAIL(ret_problem, PROBLEM_MISSING, "", "no acceptance of this site has begun yet");
    }
    const bool back = newest_first(pasted);
    for (size_t i = 0; i < pasted->count; i++) {
        const struct pasted_line *line = &pasted->lines[back ? pasted->count - 1 - i : i];
        if (line->read.why.length > 0) {
            continue;
        }
        insert(signals, count++,
                &(struct archive_signal){.received_ms = line->at_ms,
                        .account = accepting->acceptance.site->station.account,
                        .token = text_of(frame_token_name(line->read.token)),
                        .data = line->read.data,
                        .frame = line->read.raw,
                        .peer = text_print(arena, "log pasted by %.*s", TEXT_ARGS(by))});
    }
    for (size_t i = 0; i < count; i++) {
        const size_t same = same_before(signals, i);
        signals[i].sequence = (uint16_t)(same < SEQUENCE_MOST ? same + 1 : SEQUENCE_MOST);
        signals[i].digest = digest_of(&signals[i]);
    }
    return archive_import(accepting->archive, signals, count, ret_added, ret_problem);
}

void pasted_add_json(const struct pasted *pasted, struct json_writer *json) {
    json_open_array(json, "lines");
    for (size_t i = 0; i < pasted->count; i++) {
        const struct pasted_line *line = &pasted->lines[i];
        json_open_object(json, NULL);
        json_add_integer(json, "number", (int64_t)line->read.number);
        json_add_text(json, "raw", line->read.raw);
        if (line->read.why.length > 0) {
            json_add_text(json, "why", line->read.why);
        } else {
            json_add_integer(json, "at_ms", line->at_ms);
            json_add_text(json, "says", line->says);
        }
        json_close_object(json);
    }
    json_close_array(json);
    json_add_integer(json, "taken", (int64_t)pasted->taken);
}
