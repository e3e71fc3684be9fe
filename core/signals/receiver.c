#include "signals/receiver.h"

#include "signals/contact_id.h"
#include "signals/digest.h"
#include "signals/pad_mark.h"
#include "signals/sia.h"
#include "signals/stamp.h"

#include <string.h>

const char *receiver_reason_words(enum receiver_reason reason) {
    static const char *const words[RECEIVER_REASON_COUNT] = {
            [RECEIVER_FINE] = "taken",
            [RECEIVER_NO_FRAME] = "no whole frame",
            [RECEIVER_IS_ANSWER] = "an answer, which a receiver does not expect",
            [RECEIVER_STRANGER] = "its account is not in the key file",
            [RECEIVER_MUST_ENCRYPT] = "not encrypted, though its account has a key",
            [RECEIVER_HAS_NO_KEY] = "encrypted, though its account has no key here",
            [RECEIVER_OTHER_KEY] = "encrypted with another key than the account's",
            [RECEIVER_REPLAY] = "its encrypted end came before, in another message",
            [RECEIVER_OTHER_ACCOUNT] = "it names another account within than without",
            [RECEIVER_CLOCK] = "its clock is out of the window",
            [RECEIVER_OTHER_KIND] = "neither Contact ID nor SIA codes",
            [RECEIVER_BAD_EVENT] = "what it says is no event",
            [RECEIVER_TOO_MANY] = "more a second than a peer may send",
    };
    return words[reason];
}

static enum receiver_verdict verdict_of(enum receiver_reason reason) {
    switch (reason) {
    case RECEIVER_FINE:
        return RECEIVER_STORE;
    case RECEIVER_NO_FRAME:
    case RECEIVER_IS_ANSWER:
    case RECEIVER_TOO_MANY:
    case RECEIVER_REASON_COUNT:
        return RECEIVER_SILENT;
    case RECEIVER_STRANGER:
    case RECEIVER_MUST_ENCRYPT:
    case RECEIVER_HAS_NO_KEY:
    case RECEIVER_OTHER_KEY:
    case RECEIVER_REPLAY:
    case RECEIVER_OTHER_ACCOUNT:
    case RECEIVER_CLOCK:
    case RECEIVER_OTHER_KIND:
    case RECEIVER_BAD_EVENT:
        return RECEIVER_REFUSE;
    }
    return RECEIVER_SILENT;
}

/** Leading zeros say nothing: 0777 is 777. */
static struct text without_zeros(struct text digits) {
    while (digits.length > 1 && digits.start[0] == '0') {
        digits = (struct text){digits.start + 1, digits.length - 1};
    }
    return digits;
}

/** The header of a frame stands outside of what is encrypted, and its sum is no seal: whoever recorded a frame could
 *  put another account before it, one that has the same key. */
static bool names_another(const struct frame *frame, struct text within) {
    return within.length > 0 && !text_equal(without_zeros(within), without_zeros(frame->account));
}

/** Whether before the bar stands nothing, or an account as it is written: in an encrypted frame blocks of somebody else
 *  could stand there. */
static bool begins_well(const struct frame *frame, struct text event, struct text account) {
    const struct text data = frame->content.data;
    const size_t before = data.length - event.length;
    bool good = before <= 1 ? before == 0 || data.start[0] == '|'
                            : account.length == before - 2 && account.length <= ACCOUNT_DIGITS_MAX;
    for (size_t i = 0; i < account.length; i++) {
        good = good && memchr("0123456789ABCDEFabcdef", account.start[i], 22) != NULL;
    }
    return good;
}

/** Whether what stands in the brackets is what the token promises. */
static enum receiver_reason event_reason(const struct frame *frame, struct signal_fault *fault) {
    struct text account = {0};
    struct text event = frame_event_text(frame->content.data, &account);
    struct contact_id contact_id;
    struct sia sia;
    bool good = false;
    if (frame->encrypted && !begins_well(frame, event, account)) {
        return RECEIVER_BAD_EVENT;
    }
    if (names_another(frame, account)) {
        return RECEIVER_OTHER_ACCOUNT;
    }
    switch (frame->token) {
    case FRAME_TOKEN_NULL: /* the token stands outside of what is encrypted: an event below it is no link test */
        return event.length == 0 && (!frame->encrypted || frame->content.extra_count == 0)
                ? RECEIVER_FINE
                : RECEIVER_BAD_EVENT;
    case FRAME_TOKEN_CONTACT_ID:
        good = contact_id_read_event(event, 0, &contact_id, fault);
        return good ? RECEIVER_FINE : RECEIVER_BAD_EVENT;
    case FRAME_TOKEN_SIA:
        good = sia_read(event, 0, &sia, fault);
        return good ? RECEIVER_FINE : RECEIVER_BAD_EVENT;
    case FRAME_TOKEN_ACK:
    case FRAME_TOKEN_NAK:
    case FRAME_TOKEN_DUH:
    case FRAME_TOKEN_RSP:
        return RECEIVER_IS_ANSWER;
    case FRAME_TOKEN_OTHER:
    case FRAME_TOKEN_COUNT:
        break;
    }
    return RECEIVER_OTHER_KIND;
}

/** An acknowledgement has the form of a link test, and a fresh time for whatever somebody puts before it, here or at
 *  another receiver with the same key: so ours are marked. */
static bool ends_as_answer(const struct frame *frame, const uint8_t room[FRAME_CLEAR_MAX]) {
    return pad_ends_marked(PAD_MARK_ANSWER, frame, room);
}

/** Opens it where it is encrypted, and holds key and time against the account's. The order matters: nothing is said of
 *  the clock, or of the event, of a frame that the account's own key did not close. */
static enum receiver_reason reason_of(const struct receiver *receiver, struct receiver_now now,
        uint8_t room[FRAME_CLEAR_MAX], struct receiver_answer *answer) {
    struct frame *frame = &answer->frame;
    if (frame->token >= FRAME_TOKEN_ACK && frame->token <= FRAME_TOKEN_RSP) {
        return RECEIVER_IS_ANSWER;
    }
    answer->account = accounts_find(receiver->accounts, frame->prefix, frame->account);
    if (answer->account == NULL) {
        return RECEIVER_STRANGER;
    }
    if (!frame->encrypted && answer->account->key_length > 0) {
        return RECEIVER_MUST_ENCRYPT;
    }
    if (frame->encrypted && answer->account->key_length == 0) {
        return RECEIVER_HAS_NO_KEY;
    }
    if (frame->encrypted) {
        if (!frame_open(frame, receiver->cipher_for(receiver->context, answer->account), room,
                    FRAME_CLEAR_MAX, &answer->fault)) {
            return RECEIVER_OTHER_KEY;
        }
        if (ends_as_answer(frame, room)) {
            return RECEIVER_REPLAY;
        }
        if (!stamp_in_window(frame->content.stamp_s, now.utc_s)) {
            return RECEIVER_CLOCK;
        }
    }
    return event_reason(frame, &answer->fault);
}

static bool refused_with_key(const struct receiver_answer *answer) {
    return answer->verdict == RECEIVER_REFUSE && answer->frame.encrypted &&
            answer->account != NULL && answer->account->key_length > 0;
}

/** Of what is encrypted for an account with a key, all that is not taken gets one answer, but for what is final. With
 *  two, whoever changes a byte of an old frame, or puts it before the end of a fresh one, would learn from each whether
 *  it still makes sense, and so, byte after byte, what it says. Who gets it for what was his sends again with another
 *  time, which is news. */
static bool gets_the_time(const struct receiver_answer *answer) {
    return refused_with_key(answer) && !answer->final;
}

static bool printable(struct text text) {
    bool good = true;
    for (size_t i = 0; i < text.length; i++) {
        good = good && text.start[i] >= ' ' && text.start[i] <= '~';
    }
    return good;
}

/** Whether it can never be taken, however often its panel sends it: it would hold up all that comes behind it. Where a
 *  block was put or spoilt by somebody without the key, which comes out as any bytes, one of ten million is printable
 *  throughout: so nothing can be learned by trying. What is an event under another token might be one that somebody
 *  changed: its panel shall go on. */
static bool can_never_be_taken(const struct receiver_answer *answer) {
    const struct frame_content *content = &answer->frame.content;
    struct text account = {0};
    const struct text event = frame_event_text(content->data, &account);
    struct contact_id contact_id;
    struct sia sia;
    bool good = (answer->reason == RECEIVER_OTHER_KIND || answer->reason == RECEIVER_BAD_EVENT) &&
            answer->frame.token != FRAME_TOKEN_NULL && text_equal(account, answer->frame.account) &&
            printable(content->data) && !contact_id_read_event(event, 0, &contact_id, NULL) &&
            !sia_read(event, 0, &sia, NULL);
    for (size_t i = 0; good && i < content->extra_count; i++) {
        good = printable(content->extras[i].value);
    }
    return good;
}

/** Whose ends they are: of the key, as two accounts may have one. */
static uint32_t key_owner(const struct receiver *receiver, const struct account *account) {
    const struct siphash_key key = {{receiver->secret.half[0], ~receiver->secret.half[1]}};
    return (uint32_t)siphash(key, (struct text){(const char *)account->key, account->key_length});
}

/** The end of what was encrypted: the last block, which holds nothing but a part of the time, and comes out right only
 *  behind the block that it was made behind. What stands further before can be changed by somebody without the key; so
 *  each end counts once. Of another key than a message's mark. */
static uint64_t end_mark(const struct receiver *receiver, struct text digits) {
    enum { BLOCK_DIGITS = 2 * FRAME_BLOCK };
    const struct siphash_key key = {{~receiver->secret.half[0], receiver->secret.half[1]}};
    const size_t before = digits.length - BLOCK_DIGITS;
    return siphash(key, (struct text){digits.start + before, BLOCK_DIGITS}) | 1;
}

/** Header fields are repeated; an encrypted frame has its acknowledgement encrypted, and with a time. A NAK is never
 *  encrypted and has fixed fields, as a stranger's clock is told the time before anything is known of him. */
static void write_answer(const struct receiver *receiver, struct receiver_now now,
        const char pad[FRAME_BLOCK], struct receiver_answer *answer) {
    const struct frame *to = &answer->frame;
    struct frame frame = {.token = FRAME_TOKEN_ACK,
            .sequence = to->sequence,
            .receiver = to->receiver,
            .prefix = to->prefix,
            .account = to->account};
    struct frame_cipher cipher = {0};
    char marked[FRAME_BLOCK];
    char bytes[FRAME_MAX];
    size_t length = 0;
    if (gets_the_time(answer)) {
        frame = (struct frame){.token = FRAME_TOKEN_NAK,
                .receiver = text_of("0"),
                .prefix = text_of("0"),
                .account = text_of("0")};
    } else if (answer->verdict == RECEIVER_REFUSE) {
        frame.token = FRAME_TOKEN_DUH;
    } else {
        frame.encrypted = to->encrypted;
    }
    frame.content.stamped = frame.encrypted || frame.token == FRAME_TOKEN_NAK;
    frame.content.stamp_s = now.utc_s;
    if (frame.encrypted) {
        memcpy(marked, pad, sizeof marked);
        pad_mark(PAD_MARK_ANSWER, marked);
        frame.content.pad = (struct text){marked, sizeof marked};
        cipher = receiver->cipher_for(receiver->context, answer->account);
    }
    if (frame_write(&frame, frame.encrypted ? &cipher : NULL, bytes, &length, &answer->fault) &&
            length <= sizeof answer->answer) {
        memcpy(answer->answer, bytes, length);
        answer->answer_length = length;
    }
}

uint32_t receiver_owner(const struct receiver *receiver, const struct account *account) {
    return (uint32_t)(account - receiver->accounts->rows);
}

/** All of what was encrypted, as it came; 0: nothing was. Of another key than a message's mark and an end's. */
static uint64_t whole_mark(const struct receiver *receiver, const struct frame *frame) {
    const struct siphash_key key = {{~receiver->secret.half[0], ~receiver->secret.half[1]}};
    return frame->encrypted ? siphash(key, frame->cipher) | 1 : 0;
}

static void note(
        const struct receiver *receiver, const struct receiver_answer *answer, int64_t at_ms) {
    const uint64_t whole = whole_mark(receiver, &answer->frame);
    recent_note(receiver->recent, answer->owner, answer->mark, at_ms);
    if (whole != 0) {
        recent_note(receiver->recent, answer->owner, whole, at_ms);
    }
    if (answer->cipher != 0) {
        recent_note(receiver->spent, key_owner(receiver, answer->account), answer->cipher, at_ms);
    }
}

/** New, the same again, or one with the end of another. A repeat may be encrypted anew; with an end that came before it
 *  is one byte for byte, or else it was put together: that it says what another has said would tell what was put there.
 */
static void judge_news(
        const struct receiver *receiver, struct receiver_now now, struct receiver_answer *answer) {
    const bool encrypted = answer->frame.encrypted;
    const uint64_t end = encrypted ? end_mark(receiver, answer->frame.cipher) : 0;
    const uint32_t owner = encrypted ? key_owner(receiver, answer->account) : 0;
    const bool spent = encrypted && recent_has(receiver->spent, owner, end, now.steady_ms);
    answer->owner = receiver_owner(receiver, answer->account);
    answer->digest = frame_digest(&answer->frame);
    answer->mark = frame_mark(&answer->frame, receiver->secret);
    answer->cipher = spent ? 0 : end;
    const uint64_t whole = whole_mark(receiver, &answer->frame);
    const bool as_it_came =
            spent && recent_has(receiver->recent, answer->owner, whole, now.steady_ms);
    if ((!spent || as_it_came) &&
            recent_has(receiver->recent, answer->owner, answer->mark, now.steady_ms)) {
        answer->verdict = answer->verdict == RECEIVER_STORE ? RECEIVER_REPEAT : answer->verdict;
        if (answer->cipher != 0) {
            recent_note(receiver->recent, answer->owner, whole, now.steady_ms);
            recent_note(receiver->spent, owner, answer->cipher, now.steady_ms);
        }
    } else if (spent) {
        answer->reason = RECEIVER_REPLAY;
        answer->verdict = RECEIVER_REFUSE;
    } else {
        note(receiver, answer, now.steady_ms);
    }
}

/** What was not taken though its end came from somebody with the key, and just now: it counts no second time, else
 *  whoever put it there could try over and over what stands before it. That of an acknowledgement never counts: so many
 *  of them as somebody has sent to himself, by sending a link test again and again, are not noted. Whether the end was
 *  news. */
static bool spend(const struct receiver *receiver, struct receiver_now now,
        const uint8_t room[FRAME_CLEAR_MAX], const struct receiver_answer *answer) {
    const size_t length = answer->frame.cipher.length / 2;
    int64_t stamp_s = 0;
    if (length < STAMP_LENGTH || ends_as_answer(&answer->frame, room) ||
            !stamp_read((struct text){(const char *)room + length - STAMP_LENGTH, STAMP_LENGTH}, 0,
                    &stamp_s, NULL) ||
            !stamp_in_window(stamp_s, now.utc_s)) {
        return false;
    }
    const uint32_t owner = key_owner(receiver, answer->account);
    const uint64_t end = end_mark(receiver, answer->frame.cipher);
    const bool news = !recent_has(receiver->spent, owner, end, now.steady_ms);
    if (news) {
        recent_note(receiver->spent, owner, end, now.steady_ms);
    }
    return news;
}

void receiver_forget(
        const struct receiver *receiver, uint32_t owner, uint64_t mark, uint64_t cipher) {
    if (mark != 0) {
        recent_forget(receiver->recent, owner, mark);
    }
    if (cipher != 0) {
        const struct account *account = &receiver->accounts->rows[owner];
        recent_forget(receiver->spent, key_owner(receiver, account), cipher);
    }
}

/** The frame, with its account; false where it is none of an account that could have sent it. */
static bool recall(
        const struct receiver *receiver, struct text frame, struct receiver_answer *known) {
    *known = (struct receiver_answer){.mark = 0};
    if (!frame_hear(frame, &known->frame, NULL)) {
        return false;
    }
    known->account = accounts_find(receiver->accounts, known->frame.prefix, known->frame.account);
    return known->account != NULL && (!known->frame.encrypted || known->account->key_length > 0);
}

void receiver_remember_end(const struct receiver *receiver, struct text frame, int64_t at_ms) {
    struct receiver_answer known;
    if (recall(receiver, frame, &known) && known.frame.encrypted) {
        recent_note(receiver->spent, key_owner(receiver, known.account),
                end_mark(receiver, known.frame.cipher), at_ms);
    }
}

/** Whether it is stored as it says. */
static bool is_as_stored(
        const struct receiver_stored *stored, const struct receiver_answer *known) {
    return known->account->prefix == stored->prefix &&
            text_equal(known->frame.account, stored->account) &&
            known->frame.sequence == stored->sequence &&
            text_equal(known->frame.token_text, stored->token) &&
            text_equal(known->frame.content.data, stored->data);
}

void receiver_remember(
        const struct receiver *receiver, const struct receiver_stored *stored, int64_t at_ms) {
    struct receiver_answer known;
    struct signal_fault fault;
    uint8_t room[FRAME_CLEAR_MAX];
    if (!recall(receiver, stored->frame, &known) ||
            (known.frame.encrypted &&
                    !frame_open(&known.frame,
                            receiver->cipher_for(receiver->context, known.account), room,
                            sizeof room, &fault)) ||
            !is_as_stored(stored, &known)) {
        return;
    }
    const uint32_t owner = receiver_owner(receiver, known.account);
    const uint64_t whole = whole_mark(receiver, &known.frame);
    recent_note(receiver->recent, owner, frame_mark(&known.frame, receiver->secret), at_ms);
    if (whole != 0) {
        recent_note(receiver->recent, owner, whole, at_ms);
    }
}

void receiver_judge(const struct receiver *receiver, struct text source, struct receiver_now now,
        const char pad[FRAME_BLOCK], uint8_t room[FRAME_CLEAR_MAX],
        struct receiver_answer *ret_answer) {
    struct receiver_answer *answer = ret_answer;
    answer->reason = RECEIVER_NO_FRAME;
    answer->verdict = RECEIVER_SILENT;
    answer->fault = (struct signal_fault){0};
    answer->account = NULL;
    answer->owner = 0;
    answer->digest = 0;
    answer->mark = 0;
    answer->cipher = 0;
    answer->final = false;
    answer->answer_length = 0;
    if (!frame_hear(source, &answer->frame, &answer->fault)) {
        answer->frame = (struct frame){0};
        return;
    }
    answer->reason = reason_of(receiver, now, room, answer);
    answer->verdict = verdict_of(answer->reason);
    if (answer->verdict == RECEIVER_STORE && answer->frame.token == FRAME_TOKEN_NULL) {
        answer->verdict = RECEIVER_LINK;
    }
    if (answer->verdict == RECEIVER_STORE ||
            (answer->verdict == RECEIVER_LINK && answer->frame.encrypted)) {
        judge_news(receiver, now, answer);
    } else if (refused_with_key(answer)) {
        answer->final = spend(receiver, now, room, answer) && can_never_be_taken(answer);
    }
    if (answer->verdict != RECEIVER_SILENT) {
        write_answer(receiver, now, pad, answer);
    }
    /* Who cannot be answered is not told either that it came: it must be news when it comes again. */
    if (answer->verdict == RECEIVER_STORE && answer->answer_length == 0) {
        receiver_forget(receiver, answer->owner, answer->mark, answer->cipher);
        answer->verdict = RECEIVER_SILENT;
    }
}
