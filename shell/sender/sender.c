#include "sender/sender.h"

#include "host/host.h"
#include "signals/pad_mark.h"
#include "signals/recent.h"
#include "signals/siphash.h"
#include "signals/stamp.h"

#include <errno.h>
#include <netdb.h>
#include <poll.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <time.h>
#include <unistd.h>

enum {
    SEQUENCE_MOST = 9999,
    DRAIN_MOST = 1024,
    ENDS_MOST = 8192,
    /* so long as some NAK can bring a time back: a day on either side, and the window of a minute twice */
    ENDS_KEPT_S = 2 * (SENDER_OFF_MOST_S + 60),
};

/** off_s: what is added to this machine's clock, after a NAK. heard: what came, from heard_at on not looked at yet.
 *  ends: of acknowledgements that counted, marked with secret. marks: the receiver has marked an acknowledgement.
 *  refused: that machine said, of the last try, that nobody listens at the port. address: of those that the name has,
 *  where it begins to look. */
struct sender {
    struct sender_options options;
    struct cipher *cipher;
    int file;
    uint16_t sequence;
    int64_t off_s;
    char prefix[8];
    char heard[FRAME_MAX];
    size_t heard_at;
    size_t heard_length;
    struct arena arena;
    struct recent ends;
    struct siphash_key secret;
    bool marks;
    bool refused;
    size_t address;
    size_t address_count;
};

/** What NAKs said of a message but for the first, which puts the clock right. */
enum nak_word {
    NAK_NOTHING,
    NAK_FAR,   /* a time that is too far off to be believed */
    NAK_CLOCK, /* another time than the frame's, again */
    NAK_KEY,   /* the time that the frame has: so it is not the clock */
    NAK_WORD_COUNT
};

/** One message on its way. sent_s: the time in its last frame. told: the clock was put right. */
struct message {
    enum frame_token token;
    struct text data;
    int64_t sent_s;
    bool told;
    enum nak_word word;
};

static const struct addrinfo *address_at(const struct addrinfo *found, size_t index) {
    for (size_t i = 0; i < index; i++) {
        found = found->ai_next;
    }
    return found;
}

/** The first address of the name that takes a connection; over UDP, which asks nobody, that was not refused. */
static outcome connect_to(struct sender *sender, struct problem *ret_problem) {
    const struct sender_options *options = &sender->options;
    const struct addrinfo wanted = {.ai_socktype = options->udp ? SOCK_DGRAM : SOCK_STREAM};
    struct addrinfo *found = NULL;
    const int code = getaddrinfo(options->host, options->port, &wanted, &found);
    if (code != 0) {
        FAIL(ret_problem, PROBLEM_SYSTEM, "", "%.100s, port %.20s: %s", options->host,
                options->port, gai_strerror(code));
    }
    int error = 0;
    sender->address_count = 0;
    for (const struct addrinfo *at = found; at != NULL; at = at->ai_next) {
        sender->address_count++;
    }
    for (size_t i = 0; i < sender->address_count && sender->file < 0; i++) {
        const struct addrinfo *at =
                address_at(found, (sender->address + i) % sender->address_count);
        sender->file = socket(at->ai_family, at->ai_socktype, at->ai_protocol);
        if (sender->file >= 0 && connect(sender->file, at->ai_addr, at->ai_addrlen) != 0) {
            error = errno;
            (void)close(sender->file);
            sender->file = -1;
        }
    }
    freeaddrinfo(found);
    if (sender->file < 0) {
        FAIL(ret_problem, PROBLEM_SYSTEM, "",
                "%.100s, port %.20s: %s; does lintel listen run there?", options->host,
                options->port, strerror(error));
    }
    return outcome_good();
}

static void hang_up(struct sender *sender) {
    if (sender->file >= 0) {
        (void)close(sender->file);
        sender->file = -1;
    }
    sender->heard_at = 0;
    sender->heard_length = 0;
}

outcome sender_create(const struct sender_options *options, struct sender **ret_sender,
        struct problem *ret_problem) {
    struct sender *sender = calloc(1, sizeof *sender);
    if (sender == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for a sender");
    }
    sender->options = *options;
    /* Another beginning each time: else what was sent a minute ago, by whoever sends the same again, would be taken for
     * a repeat of it. */
    uint8_t begins[2] = {0};
    arena_init(&sender->arena, host_pages(), 0);
    outcome result = host_random(begins, sizeof begins, ret_problem);
    if (result.good) {
        result = host_random((uint8_t *)&sender->secret, sizeof sender->secret, ret_problem);
    }
    if (result.good) {
        result = recent_make(&sender->arena, ENDS_MOST, ENDS_KEPT_S, &sender->ends, ret_problem);
    }
    sender->sequence = (uint16_t)((begins[0] * 256 + begins[1]) % SEQUENCE_MOST);
    sender->file = -1;
    sender->cipher = cipher_create();
    (void)snprintf(sender->prefix, sizeof sender->prefix, "%X", (unsigned)options->account.prefix);
    if (result.good) {
        result = sender->cipher != NULL
                ? connect_to(sender, ret_problem)
                : problem_set(ret_problem, PROBLEM_MEMORY, "", __FILE__, __LINE__,
                          "the library gives no AES, or there is no memory");
    }
    if (!result.good) {
        sender_destroy(sender);
        return result;
    }
    *ret_sender = sender;
    return result;
}

void sender_destroy(struct sender *sender) {
    if (sender != NULL) {
        hang_up(sender);
        cipher_destroy(sender->cipher);
        volatile uint8_t *key = sender->options.account.key;
        for (size_t i = 0; i < ACCOUNT_KEY_MAX; i++) {
            key[i] = 0;
        }
        arena_finish(&sender->arena);
        free(sender);
    }
}

static outcome make_frame(struct sender *sender, const struct message *message,
        char ret_bytes[FRAME_MAX], size_t *ret_length, struct problem *ret_problem) {
    const struct account *account = &sender->options.account;
    char pad[FRAME_BLOCK];
    struct signal_fault fault = {0};
    const bool secret = account->key_length > 0;
    struct frame_cipher cipher = cipher_for(sender->cipher, account);
    TRY(cipher_pad(pad, sizeof pad, ret_problem));
    if (message->token == FRAME_TOKEN_NULL) {
        pad_mark(PAD_MARK_LINK, pad);
    }
    const struct frame frame = {.token = message->token,
            .encrypted = secret,
            .sequence = sender->sequence,
            .prefix = text_of(sender->prefix),
            .account = account_digits(account),
            .content = {.pad = {pad, FRAME_BLOCK},
                    .data = message->data,
                    .stamped = true,
                    .stamp_s = message->sent_s}};
    if (!frame_write(&frame, secret ? &cipher : NULL, ret_bytes, ret_length, &fault)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "no frame can be made of this: %s",
                signal_fault_words(fault.kind));
    }
    return outcome_good();
}

static int64_t steady_ms(void) {
    struct timespec now;
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

/** Whether something more comes until then. */
static bool comes(struct sender *sender, int64_t until_ms) {
    struct pollfd input = {.fd = sender->file, .events = POLLIN};
    const int64_t left_ms = until_ms - steady_ms();
    return left_ms > 0 && poll(&input, 1, (int)left_ms) > 0;
}

/** Takes what is there, behind what was not looked at yet; a datagram begins anew. Whether there was anything. */
static bool hear(struct sender *sender) {
    const size_t left = sender->options.udp ? 0 : sender->heard_length - sender->heard_at;
    memmove(sender->heard, sender->heard + sender->heard_at, left);
    sender->heard_at = 0;
    sender->heard_length = left;
    const ssize_t count =
            recv(sender->file, sender->heard + left, sizeof sender->heard - left, MSG_DONTWAIT);
    if (count < 0 && errno == EAGAIN) {
        return false;
    }
    /* Over UDP it may listen by the next try, or at another of its addresses. */
    if (count < 0 && errno == ECONNREFUSED && sender->options.udp) {
        sender->refused = true;
        if (sender->address_count > 1) {
            sender->address++;
            hang_up(sender);
        }
        return false;
    }
    if (count < 0 || (count == 0 && !sender->options.udp)) {
        hang_up(sender);
        return false;
    }
    sender->heard_length += (size_t)count;
    return true;
}

/** What waits before a frame is sent answers earlier ones. */
static void drain(struct sender *sender) {
    for (int i = 0; i < DRAIN_MOST && sender->file >= 0 && hear(sender); i++) {
        sender->heard_at = sender->heard_length;
    }
    sender->heard_at = sender->heard_length;
}

/** The next whole frame of what was heard; false: more must come. */
static bool next_frame(struct sender *sender, struct text *ret_frame) {
    for (;;) {
        const struct text rest = {
                sender->heard + sender->heard_at, sender->heard_length - sender->heard_at};
        size_t begins = 0;
        size_t length = 0;
        const enum frame_scan scan = frame_scan(rest, &begins, &length);
        if (scan == FRAME_SCAN_MORE) {
            return false;
        }
        sender->heard_at += begins + length;
        if (scan == FRAME_SCAN_WHOLE) {
            *ret_frame = (struct text){rest.start + begins, length};
            return true;
        }
    }
}

enum answer { ANSWER_NONE, ANSWER_TAKEN, ANSWER_CLOCK, ANSWER_REFUSED };

/** Whether the end of what was encrypted, which only who has the key can make, counts: once in all. What comes before
 *  it says the hour alone. */
static bool is_new_end(struct sender *sender, const struct frame *frame) {
    enum { BLOCK_DIGITS = 2 * FRAME_BLOCK };
    const struct text digits = frame->cipher;
    const uint64_t end = siphash(sender->secret,
            (struct text){digits.start + digits.length - BLOCK_DIGITS, BLOCK_DIGITS});
    const int64_t now_ms = steady_ms();
    const bool is_new = !recent_has(&sender->ends, 0, end, now_ms);
    if (is_new) {
        recent_note(&sender->ends, 0, end, now_ms);
    }
    return is_new;
}

/** Whether an acknowledgement of that time is of now: by our clock, or by that of a receiver that could just have taken
 *  our frame. The window is wider on one side than on the other, so the two are not the same. */
static bool is_of_now(const struct sender *sender, const struct message *message, int64_t stamp_s) {
    return stamp_in_window(stamp_s, (int64_t)time(NULL) + sender->off_s) ||
            stamp_in_window(message->sent_s, stamp_s);
}

/** Whether who has the key acknowledged with it, just now. The seal holds no more than a time:
 *  token, number and account stand outside, so whatever else the key closes could be sent back to us as one. What says
 *  something is none. Of what says nothing, our link tests are marked, from whichever run they are; and a receiver that
 *  has marked one acknowledgement marks all: others may pad theirs as they like. Each counts once, so a recording is
 *  good for no second message. */
static bool is_sealed(struct sender *sender, const struct message *message, struct frame *frame) {
    uint8_t room[FRAME_CLEAR_MAX];
    if (!frame->encrypted ||
            !frame_open(frame, cipher_for(sender->cipher, &sender->options.account), room,
                    sizeof room, NULL) ||
            frame->content.data.length > 0 || frame->content.extra_count > 0 ||
            !is_of_now(sender, message, frame->content.stamp_s) ||
            pad_ends_marked(PAD_MARK_LINK, frame, room)) {
        return false;
    }
    const bool marked = pad_ends_marked(PAD_MARK_ANSWER, frame, room);
    if ((sender->marks && !marked) || !is_new_end(sender, frame)) {
        return false;
    }
    sender->marks = marked;
    return true;
}

/** Fixed fields, or those of what it answers. Source: DC-09, clause 5.5.3.2, from memory. */
static bool is_nak_of(const struct sender *sender, const struct frame *frame) {
    return frame->token == FRAME_TOKEN_NAK && !frame->encrypted && frame->content.stamped &&
            (frame->sequence == 0 || frame->sequence == sender->sequence) &&
            (text_is(frame->account, "0") ||
                    text_equal(frame->account, account_digits(&sender->options.account)));
}

static bool is_too_far(int64_t off_s) {
    return off_s > SENDER_OFF_MOST_S || off_s < -SENDER_OFF_MOST_S;
}

/** The first puts the clock right. A later one may answer a frame before that, or be anybody's: what it says is only
 *  kept, for when no acknowledgement comes. */
static enum answer read_nak(struct sender *sender, struct message *message, int64_t stamp_s) {
    const int64_t off_s = stamp_s - (int64_t)time(NULL);
    if (message->told) {
        message->word = stamp_in_window(message->sent_s, stamp_s) ? NAK_KEY : NAK_CLOCK;
        return ANSWER_NONE;
    }
    if (is_too_far(off_s)) {
        message->word = NAK_FAR;
        return ANSWER_NONE;
    }
    message->told = true;
    message->word = NAK_NOTHING;
    sender->off_s = off_s;
    return ANSWER_CLOCK;
}

/** An acknowledgement is encrypted where the frame was, and only there; a NAK answers what was encrypted. Source:
 *  DC-09, clauses 5.5.3.1 and 5.5.3.2. */
static enum answer read_answer(struct sender *sender, struct message *message, struct text bytes) {
    const struct account *account = &sender->options.account;
    const bool secret = account->key_length > 0;
    struct frame frame;
    if (!frame_read(bytes, &frame, NULL)) {
        return ANSWER_NONE;
    }
    if (secret && is_nak_of(sender, &frame)) {
        return read_nak(sender, message, frame.content.stamp_s);
    }
    if (frame.sequence != sender->sequence || !text_equal(frame.account, account_digits(account))) {
        return ANSWER_NONE;
    }
    if (frame.token == FRAME_TOKEN_ACK) {
        const bool taken = secret ? is_sealed(sender, message, &frame) : !frame.encrypted;
        return taken ? ANSWER_TAKEN : ANSWER_NONE;
    }
    return frame.token == FRAME_TOKEN_DUH ? ANSWER_REFUSED : ANSWER_NONE;
}

/** What is answered to this try within its time. What answers an earlier one is passed over: after a receiver that was
 *  slow for a while, or on a line that is, it comes first. */
static enum answer wait_for_answer(struct sender *sender, struct message *message) {
    const int64_t until_ms = steady_ms() + sender->options.wait_ms;
    enum answer said = ANSWER_NONE;
    struct text frame = {0};
    while (said == ANSWER_NONE && sender->file >= 0 && comes(sender, until_ms)) {
        (void)hear(sender);
        while (said == ANSWER_NONE && next_frame(sender, &frame)) {
            said = read_answer(sender, message, frame);
        }
    }
    return said;
}

int64_t sender_off_s(const struct sender *sender) {
    return sender->off_s;
}

/** Sends it once; what is answered. */
static outcome try_once(struct sender *sender, struct message *message, enum answer *ret_said,
        struct problem *ret_problem) {
    char bytes[FRAME_MAX];
    size_t length = 0;
    drain(sender);
    sender->refused = false;
    if (sender->file < 0) {
        TRY(connect_to(sender, ret_problem));
    }
    message->sent_s = (int64_t)time(NULL) + sender->off_s;
    TRY(make_frame(sender, message, bytes, &length, ret_problem));
    if (send(sender->file, bytes, length, MSG_NOSIGNAL) != (ssize_t)length) {
        const int error = errno;
        hang_up(sender);
        FAIL(ret_problem, PROBLEM_SYSTEM, "", "the receiver cannot be reached: %s",
                strerror(error));
    }
    *ret_said = wait_for_answer(sender, message);
    return outcome_good();
}

/** Why nobody has acknowledged it, as far as NAKs tell. */
static outcome fail_unanswered(
        const struct sender *sender, const struct message *message, struct problem *ret_problem) {
    static const char *const words[NAK_WORD_COUNT] = {
            [NAK_NOTHING] = "",
            [NAK_FAR] = "; its clock is more than a day off this one",
            [NAK_CLOCK] = "; it does not agree about the clock, which was put right once",
    };
    if (message->word == NAK_KEY) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "the receiver cannot open it: has it the same key for account %.*s?",
                TEXT_ARGS(account_digits(&sender->options.account)));
    }
    if (sender->refused && message->word == NAK_NOTHING) {
        FAIL(ret_problem, PROBLEM_SYSTEM, "",
                "%.100s, port %.20s: nobody listens there by UDP; does lintel listen run there?",
                sender->options.host, sender->options.port);
    }
    FAIL(ret_problem, PROBLEM_SYSTEM, "", "the receiver does not acknowledge, after %d tries%s",
            sender->options.tries, words[message->word]);
}

static outcome try_all(
        struct sender *sender, struct message *message, struct problem *ret_problem) {
    for (int i = 0; i < sender->options.tries; i++) {
        enum answer said = ANSWER_NONE;
        TRY(try_once(sender, message, &said, ret_problem));
        if (said == ANSWER_TAKEN) {
            return outcome_good();
        }
        if (said == ANSWER_REFUSED) {
            FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                    "the receiver refuses it: does it know account %.*s, and the same key?",
                    TEXT_ARGS(account_digits(&sender->options.account)));
        }
    }
    return fail_unanswered(sender, message, ret_problem);
}

outcome sender_send(struct sender *sender, enum frame_token token, struct text data,
        struct problem *ret_problem) {
    const int64_t before_s = sender->off_s;
    sender->sequence = (uint16_t)(sender->sequence % SEQUENCE_MOST + 1);
    struct message message = {.token = token, .data = data};
    const outcome result = try_all(sender, &message, ret_problem);
    if (!result.good) {
        sender->off_s = before_s;
    }
    return result;
}
