#include "sender/sender.h"

#include "host/host.h"
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

enum { SEQUENCE_MOST = 9999 };

/** off_s: what is added to this machine's clock, after a NAK. told_s: what the last one would have had added. */
struct sender {
    struct sender_options options;
    struct cipher *cipher;
    int file;
    uint16_t sequence;
    int64_t off_s;
    int64_t told_s;
    char prefix[8];
};

/** The first address of the name that takes a connection. */
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
    for (const struct addrinfo *at = found; at != NULL && sender->file < 0; at = at->ai_next) {
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
    outcome result = host_random(begins, sizeof begins, ret_problem);
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
        free(sender);
    }
}

static outcome make_frame(struct sender *sender, enum frame_token token, struct text data,
        char ret_bytes[FRAME_MAX], size_t *ret_length, struct problem *ret_problem) {
    const struct account *account = &sender->options.account;
    char pad[FRAME_BLOCK];
    struct signal_fault fault = {0};
    const bool secret = account->key_length > 0;
    struct frame_cipher cipher = cipher_for(sender->cipher, account);
    TRY(cipher_pad(pad, sizeof pad, ret_problem));
    const struct frame frame = {.token = token,
            .encrypted = secret,
            .sequence = sender->sequence,
            .prefix = text_of(sender->prefix),
            .account = account_digits(account),
            .content = {.pad = {pad, FRAME_BLOCK},
                    .data = data,
                    .stamped = true,
                    .stamp_s = (int64_t)time(NULL) + sender->off_s}};
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

/** The next answer within the time, in however many pieces; 0 bytes: none. */
static size_t receive(struct sender *sender, char bytes[FRAME_MAX]) {
    const int64_t until_ms = steady_ms() + sender->options.wait_ms;
    size_t used = 0;
    while (used < FRAME_MAX && comes(sender, until_ms)) {
        const ssize_t count = recv(sender->file, bytes + used, FRAME_MAX - used, 0);
        if (count <= 0) {
            hang_up(sender);
            return 0;
        }
        used += (size_t)count;
        if (bytes[used - 1] == '\r') {
            return used;
        }
    }
    return 0;
}

enum answer { ANSWER_NONE, ANSWER_TAKEN, ANSWER_CLOCK, ANSWER_REFUSED };

/** Whether who has the key made it just now: else one that was recorded would do, or one in clear, which anybody makes.
 */
static bool is_sealed(struct sender *sender, struct frame *frame) {
    uint8_t room[FRAME_CLEAR_MAX];
    return frame->encrypted &&
            frame_open(frame, cipher_for(sender->cipher, &sender->options.account), room,
                    sizeof room, NULL) &&
            stamp_in_window(frame->content.stamp_s, (int64_t)time(NULL) + sender->off_s);
}

/** Fixed fields, or those of what it answers. Source: DC-09, clause 5.5.3.2, from memory. */
static bool is_nak_of(const struct sender *sender, const struct frame *frame) {
    return frame->token == FRAME_TOKEN_NAK && !frame->encrypted && frame->content.stamped &&
            (frame->sequence == 0 || frame->sequence == sender->sequence) &&
            (text_is(frame->account, "0") ||
                    text_equal(frame->account, account_digits(&sender->options.account)));
}

/** An acknowledgement is encrypted where the frame was, and only there; a NAK answers what was encrypted. Source:
 *  DC-09, clauses 5.5.3.1 and 5.5.3.2. */
static enum answer read_answer(struct sender *sender, struct text bytes) {
    const struct account *account = &sender->options.account;
    const bool secret = account->key_length > 0;
    struct frame frame;
    if (!frame_read(bytes, &frame, NULL)) {
        return ANSWER_NONE;
    }
    if (secret && is_nak_of(sender, &frame)) {
        sender->told_s = frame.content.stamp_s - (int64_t)time(NULL);
        return ANSWER_CLOCK;
    }
    if (frame.sequence != sender->sequence || !text_equal(frame.account, account_digits(account))) {
        return ANSWER_NONE;
    }
    if (frame.token == FRAME_TOKEN_ACK) {
        const bool taken = secret ? is_sealed(sender, &frame) : !frame.encrypted;
        return taken ? ANSWER_TAKEN : ANSWER_NONE;
    }
    return frame.token == FRAME_TOKEN_DUH ? ANSWER_REFUSED : ANSWER_NONE;
}

int64_t sender_off_s(const struct sender *sender) {
    return sender->off_s;
}

static bool is_too_far(int64_t off_s) {
    return off_s > SENDER_OFF_MOST_S || off_s < -SENDER_OFF_MOST_S;
}

/** Sends it once; what is answered. */
static outcome try_once(struct sender *sender, enum frame_token token, struct text data,
        enum answer *ret_said, struct problem *ret_problem) {
    char bytes[FRAME_MAX];
    size_t length = 0;
    if (sender->file < 0) {
        TRY(connect_to(sender, ret_problem));
    }
    TRY(make_frame(sender, token, data, bytes, &length, ret_problem));
    if (send(sender->file, bytes, length, MSG_NOSIGNAL) != (ssize_t)length) {
        const int error = errno;
        hang_up(sender);
        FAIL(ret_problem, PROBLEM_SYSTEM, "", "the receiver cannot be reached: %s",
                strerror(error));
    }
    const size_t heard = receive(sender, bytes);
    *ret_said = read_answer(sender, (struct text){bytes, heard});
    return outcome_good();
}

static outcome try_all(struct sender *sender, enum frame_token token, struct text data,
        struct problem *ret_problem) {
    const struct text account = account_digits(&sender->options.account);
    bool told_time = false;
    bool too_far = false;
    for (int i = 0; i < sender->options.tries; i++) {
        enum answer said = ANSWER_NONE;
        TRY(try_once(sender, token, data, &said, ret_problem));
        switch (said) {
        case ANSWER_TAKEN:
            return outcome_good();
        case ANSWER_REFUSED:
            FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                    "the receiver refuses it: does it know account %.*s, and the same key?",
                    TEXT_ARGS(account));
        case ANSWER_CLOCK:
            if (told_time) { /* the time was put right, and it is no better */
                FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                        "the receiver cannot open it: has it the same key for account %.*s?",
                        TEXT_ARGS(account));
            }
            too_far = is_too_far(sender->told_s);
            told_time = !too_far;
            sender->off_s = too_far ? sender->off_s : sender->told_s;
            break;
        case ANSWER_NONE:
            break;
        }
    }
    FAIL(ret_problem, PROBLEM_SYSTEM, "", "the receiver does not acknowledge, after %d tries%s",
            sender->options.tries, too_far ? "; its clock is more than a day off this one" : "");
}

outcome sender_send(struct sender *sender, enum frame_token token, struct text data,
        struct problem *ret_problem) {
    const int64_t before_s = sender->off_s;
    sender->sequence = (uint16_t)(sender->sequence % SEQUENCE_MOST + 1);
    const outcome result = try_all(sender, token, data, ret_problem);
    if (!result.good) {
        sender->off_s = before_s;
    }
    return result;
}
