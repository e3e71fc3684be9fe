#include "listener/inside.h"

#include "host/host.h"

#include <assert.h>
#include <string.h>
#include <time.h>

int64_t listener_utc_ms(void) {
    struct timespec now;
    (void)clock_gettime(CLOCK_REALTIME, &now);
    return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

int64_t listener_steady_ms(const struct listener *listener) {
    return (int64_t)uv_now(&listener->loop);
}

/** What is full was committed before: there is room for one more signal, however long. */
static struct text keep(struct batch *batch, struct text text) {
    char *start = batch->room + batch->used;
    assert(text.length <= sizeof batch->room - batch->used);
    if (text.length > 0) {
        memcpy(start, text.start, text.length);
    }
    batch->used += text.length;
    return (struct text){start, text.length};
}

static void keep_signal(struct listener *listener, struct text frame, const char *name,
        const struct receiver_answer *answer, int64_t utc_ms, int64_t passed_ms) {
    struct batch *batch = &listener->batch;
    batch->signals[batch->signal_count++] = (struct archive_signal){.received_ms = utc_ms,
            .steady_ms = passed_ms,
            .prefix = answer->account->prefix,
            .account = account_digits(answer->account),
            .sequence = answer->frame.sequence,
            .stamped = answer->frame.content.stamped,
            .sent_s = answer->frame.content.stamp_s,
            .encrypted = answer->frame.encrypted,
            .token = text_of(frame_token_name(answer->frame.token)),
            .data = keep(batch, answer->frame.content.data),
            .digest = answer->digest,
            .frame = keep(batch, frame),
            .peer = keep(batch, text_of(name))};
}

/** The refusal of the same reason and peer in this second, or the next free row. */
static size_t row_of(const struct refusals *refusals, const char *reason, const char *name) {
    size_t row = 0;
    while (row < refusals->count &&
            (refusals->rows[row].reason.start != reason ||
                    !text_is(refusals->rows[row].peer, name))) {
        row++;
    }
    return row;
}

static void add_row(struct refusals *refusals, const char *reason, size_t count, const char *name,
        struct text account, struct text frame) {
    const size_t at = refusals->count++;
    const size_t account_length =
            account.length < ACCOUNT_DIGITS_MAX ? account.length : ACCOUNT_DIGITS_MAX;
    const size_t sample_length = frame.length < REFUSAL_SAMPLE ? frame.length : REFUSAL_SAMPLE;
    const int64_t utc_ms = listener_utc_ms();
    (void)strncpy(refusals->names[at], name, NAME_ROOM - 1);
    memcpy(refusals->accounts[at], account_length == 0 ? "" : account.start, account_length);
    memcpy(refusals->samples[at], sample_length == 0 ? "" : frame.start, sample_length);
    refusals->rows[at] = (struct archive_refusal){.first_ms = utc_ms,
            .last_ms = utc_ms,
            .count = (int64_t)count,
            .reason = text_of(reason),
            .peer = text_of(refusals->names[at]),
            .account = {refusals->accounts[at], account_length},
            .sample = {refusals->samples[at], sample_length}};
}

/* The last row is for what there is no row for: not a word of it stands under the name of another. */
void listener_refuse(struct listener *listener, enum receiver_reason reason, size_t count,
        const char *name, struct text account, struct text frame) {
    static const char others[] = "others, in a second with more of them than are told apart";
    struct refusals *refusals = &listener->refusals;
    const char *words = receiver_reason_words(reason);
    size_t at = row_of(refusals, words, name);
    listener->counts.refused += count;
    if (refusals->count == 0) {
        refusals->since_ms = listener_steady_ms(listener);
    }
    if (at >= REFUSALS_MOST - 1) {
        words = others;
        name = "others";
        account = frame = (struct text){0};
        at = REFUSALS_MOST - 1;
    }
    if (at < refusals->count) {
        refusals->rows[at].count += (int64_t)count;
        refusals->rows[at].last_ms = listener_utc_ms();
    } else {
        add_row(refusals, words, count, name, account, frame);
    }
}

/** The frame, its data, which may be nearly as long, and the peer's name. */
enum { SIGNAL_ROOM = 2 * FRAME_MAX + NAME_ROOM };
_Static_assert((size_t)FRAME_CLEAR_MAX <= (size_t)FRAME_MAX, "what was encrypted fits as well");

static bool full(const struct batch *batch) {
    return batch->count == BATCH_MOST || batch->used + SIGNAL_ROOM > sizeof batch->room;
}

/** Random bytes for one answer, each used once: asked of the system for many at a time. NULL: it gives none. */
static const char *next_pad(struct listener *listener) {
    if (listener->pads_left == 0) {
        if (!cipher_pad(listener->pads, sizeof listener->pads, NULL).good) {
            return NULL;
        }
        listener->pads_left = PADS;
    }
    return listener->pads + --listener->pads_left * FRAME_BLOCK;
}

enum receiver_verdict listener_take(struct listener *listener, struct text frame,
        const struct addressee *from, const char *name) {
    struct batch *batch = &listener->batch;
    struct receiver_answer answer;
    uint8_t room[FRAME_CLEAR_MAX];
    const char *pad = next_pad(listener);
    if (full(batch)) {
        listener_commit(listener, false);
    }
    /* After that, which may take long, and both at one instant: what one gained on the other tells a clock set back. */
    const int64_t utc_ms = listener_utc_ms();
    const int64_t passed_ms = host_passed_ms();
    /* Without random bytes no answer can be padded: silence, and the panel sends again. */
    if (pad == NULL) {
        return RECEIVER_SILENT;
    }
    receiver_judge(&listener->receiver, frame, (struct receiver_now){utc_ms / 1000, passed_ms}, pad,
            room, &answer);
    if (answer.reason != RECEIVER_FINE) {
        listener_refuse(listener, answer.reason, 1, name, answer.frame.account, frame);
    }
    if (answer.answer_length == 0) {
        return answer.verdict;
    }
    struct waiting *waiting = &batch->waiting[batch->count++];
    waiting->to = *from;
    if (from->tcp) {
        listener->connections[from->place].owed++;
    }
    waiting->signal = NO_SIGNAL;
    waiting->owner = answer.owner;
    waiting->mark =
            answer.verdict == RECEIVER_STORE || answer.verdict == RECEIVER_REPEAT ? answer.mark : 0;
    waiting->cipher = answer.cipher;
    waiting->answer_length = answer.answer_length;
    memcpy(waiting->answer, answer.answer, answer.answer_length);
    listener->counts.link_tests += answer.verdict == RECEIVER_LINK;
    listener->counts.repeats += answer.verdict == RECEIVER_REPEAT;
    if (answer.verdict == RECEIVER_STORE) {
        waiting->signal = batch->signal_count;
        keep_signal(listener, frame, name, &answer, utc_ms, passed_ms);
    }
    return answer.verdict;
}

static void tell_trouble(struct listener *listener, const struct problem *problem) {
    if (!listener->in_trouble && listener->options.hooks.trouble != NULL) {
        listener->options.hooks.trouble(listener->options.hooks.context, problem);
    }
    listener->in_trouble = true;
}

static void tell_good(struct listener *listener, size_t refusal_count) {
    const struct listener_hooks *hooks = &listener->options.hooks;
    if (listener->in_trouble && hooks->mended != NULL) {
        hooks->mended(hooks->context);
    }
    listener->in_trouble = false;
    listener->counts.commits++;
    listener->counts.stored += listener->batch.signal_count;
    if (hooks->stored != NULL && listener->batch.signal_count > 0) {
        hooks->stored(hooks->context, listener->batch.signals, listener->batch.signal_count);
    }
    if (hooks->refused != NULL && refusal_count > 0) {
        hooks->refused(hooks->context, listener->refusals.rows, refusal_count);
    }
}

/** Nothing of the batch was stored, and nobody of it is answered. A repeat of one of its signals must be news. Of a
 *  repeat that came with it, encrypted anew, what was encrypted must not be taken for a replay when it comes again. */
static void forget(struct listener *listener) {
    const struct batch *batch = &listener->batch;
    for (size_t i = 0; i < batch->count; i++) {
        const struct waiting *waiting = &batch->waiting[i];
        const bool link_test = waiting->mark == 0;
        receiver_forget(&listener->receiver, waiting->owner,
                waiting->signal == NO_SIGNAL ? 0 : waiting->mark, link_test ? 0 : waiting->cipher);
    }
}

void listener_commit(struct listener *listener, bool all) {
    struct batch *batch = &listener->batch;
    struct refusals *refusals = &listener->refusals;
    struct problem problem = {0};
    bool due = refusals->count > 0 &&
            (all || listener_steady_ms(listener) - refusals->since_ms >= 1000);
    size_t refusal_count = due ? refusals->count : 0;
    bool good = true;
    if (batch->signal_count > 0 || refusal_count > 0) {
        good = archive_append(listener->options.archive, batch->signals, batch->signal_count,
                refusals->rows, refusal_count, &problem)
                       .good;
        if (good) {
            tell_good(listener, refusal_count);
        } else {
            tell_trouble(listener, &problem);
            forget(listener);
        }
    }
    /* What was refused is written down as well as may be: where the disk is full it is not kept for later. */
    refusals->count = refusal_count > 0 ? 0 : refusals->count;
    for (size_t i = 0; i < batch->count; i++) {
        const struct waiting *waiting = &batch->waiting[i];
        if (waiting->to.tcp) {
            listener->counts.dropped_peers += !listener_send_tcp(listener, waiting, good);
        } else if (good) {
            listener_send_udp(listener, waiting);
        }
    }
    batch->count = 0;
    batch->signal_count = 0;
    batch->used = 0;
}
