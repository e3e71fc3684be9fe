/* Fuzz target: what a listener does with the bytes of its peers, up to the answer. The bytes say themselves how they
 * are cut, whose they are, whether sums are put right, and when time passes. Whatever comes: a peer never holds more
 * than a frame, and gives the same frames however its bytes are cut and whatever others send meanwhile; what is taken
 * is a whole frame of a known account, an answer is a whole frame that repeats its header and is no longer than what
 * it answers (but for two letters of its token), and the same message is news once. */
#include "replay.h"

#include "acceptance/match.h"
#include "signals/crc.h"
#include "signals/digest.h"
#include "signals/hash.h"
#include "signals/peer.h"
#include "signals/receiver.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const char *const replay_words[] = {"\n", "\r", "\"ADM-CID\"", "\"*SIA-DCS\"", "\"SIA-DCS\"",
        "\"NULL\"", "\"*NULL\"", "\"ACK\"", "0001", "0002", "R1", "L0", "LA5", "#1234", "#777", "[",
        "]", "[#1234|", "|", "1130 01 015", "3401 02 003", "Nri1/BA015", "_10:15:30,03-07-2024",
        "[IHALL]", "00000000000000000000000000000000", "\x01", "\x02", "\x03", "\x04", "\x05",
        "\x06", "account ", " key ", " clear\n", " prefix ", "ri1/", "id2/"};
const size_t replay_word_count = sizeof replay_words / sizeof replay_words[0];

enum { ROOM = 2 * 1024 * 1024, NEWS_MOST = 4096, PEERS = 3, STREAM_MOST = 64 * 1024 };

/** A peer, all that it has sent, and the frames that it gave so far, as one number. */
struct sender {
    struct peer peer;
    char sent[STREAM_MOST];
    size_t length;
    uint64_t frames;
};

static struct sender senders[PEERS];
static const struct peer_limits limits = {.noise = 1000, .rate = 5, .slow_ms = 2000};

static char memory[ROOM];
static size_t taken;
static uint64_t news[NEWS_MOST];
static size_t news_count;

static void promise(bool kept, const char *what) {
    if (!kept) {
        (void)fprintf(stderr, "%s\n", what);
        abort();
    }
}

static void *get(void *context, size_t size) {
    (void)context;
    size = (size + 15) / 16 * 16;
    promise(taken + size <= sizeof memory, "memory is not bounded");
    taken += size;
    return memory + taken - size;
}

static void give(void *context, void *block, size_t size) {
    (void)context;
    (void)block;
    (void)size;
}

/** Closes by turning bits: clear text stands behind it often enough for the fuzzer to find. */
static bool turn(void *context, uint8_t *bytes, size_t length) {
    const struct account *account = context;
    for (size_t i = 0; i < length; i++) {
        bytes[i] ^= account->key[i % account->key_length];
    }
    return true;
}

static struct frame_cipher cipher_for(void *context, const struct account *account) {
    (void)context;
    promise(account->key_length > 0, "an account without a key is asked for its cipher");
    return (struct frame_cipher){turn, turn, (void *)(uintptr_t)account};
}

static void judge_answer(const struct receiver_answer *answer, size_t came) {
    enum { TOKEN_MORE = 2 }; /* "X" is refused with "DUH" */
    struct frame frame;
    promise(answer->answer_length <= came + TOKEN_MORE, "an answer is longer than what came");
    if (answer->verdict == RECEIVER_SILENT) {
        promise(answer->answer_length == 0, "silence says something");
        return;
    }
    promise(answer->answer_length <= RECEIVER_ANSWER_MAX &&
                    frame_read((struct text){answer->answer, answer->answer_length}, &frame, NULL),
            "an answer is no frame");
    bool acknowledged = answer->verdict != RECEIVER_REFUSE;
    promise(acknowledged == (frame.token == FRAME_TOKEN_ACK), "a refusal acknowledges");
    promise(frame.token == FRAME_TOKEN_NAK ||
                    (frame.sequence == answer->frame.sequence &&
                            text_equal(frame.account, answer->frame.account) &&
                            text_equal(frame.prefix, answer->frame.prefix)),
            "an answer is to another");
    promise(!acknowledged || frame.encrypted == answer->frame.encrypted,
            "an encrypted frame is acknowledged in clear");
}

static void judge_news(const struct receiver_answer *answer) {
    bool known = false;
    if (answer->verdict != RECEIVER_STORE && answer->verdict != RECEIVER_REPEAT) {
        return;
    }
    promise(answer->account != NULL, "a stranger is taken");
    promise(answer->frame.encrypted == (answer->account->key_length > 0),
            "taken otherwise than the account says");
    for (size_t i = 0; i < news_count && !known; i++) {
        known = news[i] == answer->digest;
    }
    promise(known == (answer->verdict == RECEIVER_REPEAT),
            "news is no news, or the other way round");
    if (!known && news_count < NEWS_MOST) {
        news[news_count++] = answer->digest;
    }
}

static uint64_t add_frame(uint64_t frames, struct text frame) {
    return signals_hash(signals_hash(frames, frame), (struct text){"\n", 1});
}

static void feed(struct sender *sender, const struct receiver *receiver, struct text bytes,
        int64_t steady_ms) {
    static uint8_t room[FRAME_CLEAR_MAX];
    static struct receiver_answer answer;
    const struct receiver_now now = {.utc_s = 1709806530, .steady_ms = steady_ms};
    struct text frame;
    if (bytes.length > sizeof sender->sent - sender->length) {
        return;
    }
    if (bytes.length > 0) {
        memcpy(sender->sent + sender->length, bytes.start, bytes.length);
    }
    sender->length += bytes.length;
    do {
        size_t before = bytes.length;
        peer_take(&sender->peer, &bytes, now.steady_ms);
        promise(bytes.length < before || before == 0, "a peer takes nothing any more");
        while (peer_next(&sender->peer, now.steady_ms, &frame)) {
            promise(frame.length <= FRAME_MAX, "a frame is longer than any");
            sender->frames = add_frame(sender->frames, frame);
            (void)peer_may(&sender->peer.rate, &limits, now.steady_ms);
            receiver_judge(receiver, frame, now, "0123456789abcdef", room, &answer);
            judge_answer(&answer, frame.length);
            judge_news(&answer);
        }
    } while (bytes.length > 0);
}

/** Byte by byte. */
static void feed_slowly(struct sender *sender, const struct receiver *receiver, struct text bytes,
        int64_t steady_ms) {
    for (size_t i = 0; i < bytes.length; i++) {
        feed(sender, receiver, (struct text){bytes.start + i, 1}, steady_ms);
    }
}

/** A body with a right sum and length around it. */
static void feed_framed(struct sender *sender, const struct receiver *receiver, struct text body,
        int64_t steady_ms) {
    static char line[FRAME_MAX];
    body.length = body.length > FRAME_BODY_MAX ? FRAME_BODY_MAX : body.length;
    int head = snprintf(line, sizeof line, "\n%04X%04zX", signals_crc(body), body.length);
    memcpy(line + head, body.start, body.length);
    line[(size_t)head + body.length] = '\r';
    feed(sender, receiver, (struct text){line, (size_t)head + body.length + 1}, steady_ms);
}

/** The frames of all that was sent, as if it had come in one piece. */
static void judge_cut(const struct sender *sender) {
    struct text rest = {sender->sent, sender->length};
    uint64_t frames = SIGNALS_HASH_START;
    size_t begins = 0;
    size_t length = 0;
    for (enum frame_scan scan = frame_scan(rest, &begins, &length);
            scan != FRAME_SCAN_MORE && rest.length > 0; scan = frame_scan(rest, &begins, &length)) {
        if (scan == FRAME_SCAN_WHOLE) {
            frames = add_frame(frames, (struct text){rest.start + begins, length});
        }
        rest = (struct text){rest.start + begins + length, rest.length - begins - length};
    }
    promise(frames == sender->frames, "other frames come of the same bytes, cut otherwise");
}

/** The same bytes as a key file, and as what stands in a frame's brackets. */
static void read_otherwise(struct arena *arena, struct text bytes) {
    struct acceptance_heard heard[ACCEPTANCE_HEARD_MAX];
    struct accounts accounts;
    struct problem problem = {0};
    promise(acceptance_read(bytes, heard) <= ACCEPTANCE_HEARD_MAX,
            "more is heard than there is room for");
    if (!accounts_read(bytes, arena, &accounts, &problem).good) {
        promise(problem.text[0] != '\0', "a key file is refused without a word");
        return;
    }
    for (size_t i = 0; i < accounts.count; i++) {
        char prefix[8];
        (void)snprintf(prefix, sizeof prefix, "%X", (unsigned)accounts.rows[i].prefix);
        promise(accounts_find(&accounts, text_of(prefix), account_digits(&accounts.rows[i])) ==
                        &accounts.rows[i],
                "an account is in the file and is not found");
    }
}

/** The pieces end with the bytes 1 (fed as they are), 2 (with a sum put around them), 3 (with a sum, twice), 4 (byte by
 *  byte), 5 (as they are, and the next piece is another peer's) and 6 (as they are, and a second passes). */
int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size) {
    enum { AS_IT_IS = 1, FRAMED, TWICE, SLOWLY, NEXT_PEER, A_SECOND, A_SECOND_MS = 1000 };
    struct text rest = {size == 0 ? "" : (const char *)bytes, size};
    struct arena arena;
    struct accounts accounts;
    struct recent recent;
    struct recent spent;
    struct sender *sender = &senders[0];
    int64_t now_ms = A_SECOND_MS;
    taken = 0;
    news_count = 0;
    memset(memory, 0, sizeof memory);
    arena_init(&arena, (struct pages){.get = get, .give = give}, 0);
    bool good = accounts_read(text_of("account 777 clear\naccount 1234 prefix A5 clear\n"
                                      "account 1234 key 00000000000000000000000000000000"),
                        &arena, &accounts, NULL)
                        .good &&
            recent_make(&arena, (size_t)4 * NEWS_MOST, RECENT_S, &recent, NULL).good &&
            recent_make(&arena, (size_t)4 * NEWS_MOST, RECEIVER_SPENT_S, &spent, NULL).good;
    promise(good, "the bench is broken");
    read_otherwise(&arena, rest);
    const struct receiver receiver = {&accounts, &recent, &spent, cipher_for, NULL, {{1, 2}}};
    for (size_t i = 0; i < PEERS; i++) {
        peer_begin(&senders[i].peer, &limits, now_ms);
        senders[i].length = 0;
        senders[i].frames = SIGNALS_HASH_START;
    }
    while (rest.length > 0 && news_count < NEWS_MOST) {
        size_t length = 0;
        while (length < rest.length &&
                (rest.start[length] < AS_IT_IS || rest.start[length] > A_SECOND)) {
            length++;
        }
        const char how = length < rest.length ? rest.start[length] : AS_IT_IS;
        const struct text piece = {rest.start, length};
        if (how == FRAMED || how == TWICE) {
            feed_framed(sender, &receiver, piece, now_ms);
        }
        if (how == TWICE) {
            feed_framed(sender, &receiver, piece, now_ms);
        }
        if (how == SLOWLY) {
            feed_slowly(sender, &receiver, piece, now_ms);
        } else if (how != FRAMED && how != TWICE) {
            feed(sender, &receiver, piece, now_ms);
        }
        if (how == NEXT_PEER) {
            sender = &senders[(size_t)(sender - senders + 1) % PEERS];
        } else if (how == A_SECOND && now_ms < 200 * A_SECOND_MS) {
            now_ms += A_SECOND_MS;
        }
        length += length < rest.length;
        rest = (struct text){rest.start + length, rest.length - length};
    }
    for (size_t i = 0; i < PEERS; i++) {
        promise(peer_end(&senders[i].peer, &limits, now_ms) < PEER_END_COUNT, "no such end");
        judge_cut(&senders[i]);
    }
    return 0;
}
