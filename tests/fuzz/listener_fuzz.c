/* Fuzz target: what a listener does with the bytes of its peers, up to the answer. The bytes say themselves how they
 * are cut, whether sums are put right, and when time passes. Whatever comes: a peer never holds more than a frame,
 * what is taken is a whole frame of a known account, an answer is a whole frame that repeats its header, and the same
 * message is news once. */
#include "replay.h"

#include "acceptance/match.h"
#include "signals/crc.h"
#include "signals/digest.h"
#include "signals/peer.h"
#include "signals/receiver.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const char *const replay_words[] = {"\n", "\r", "\"ADM-CID\"", "\"*SIA-DCS\"", "\"SIA-DCS\"",
        "\"NULL\"", "\"*NULL\"", "\"ACK\"", "0001", "0002", "R1", "L0", "LA5", "#1234", "#777", "[",
        "]", "[#1234|", "|", "1130 01 015", "3401 02 003", "Nri1/BA015", "_10:15:30,03-07-2024",
        "[IHALL]", "00000000000000000000000000000000", "\x01", "\x02", "\x03", "account ", " key ",
        " clear\n", " prefix ", "ri1/", "id2/"};
const size_t replay_word_count = sizeof replay_words / sizeof replay_words[0];

enum { ROOM = 1024 * 1024, NEWS_MOST = 4096 };

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

static void judge_answer(const struct receiver_answer *answer) {
    struct frame frame;
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

static void feed(struct peer *peer, const struct receiver *receiver, struct text bytes) {
    static uint8_t room[FRAME_CLEAR_MAX];
    static struct receiver_answer answer;
    const struct receiver_now now = {.utc_s = 1709806530, .steady_ms = 1000};
    struct text frame;
    do {
        size_t before = bytes.length;
        peer_take(peer, &bytes, now.steady_ms);
        promise(bytes.length < before || before == 0, "a peer takes nothing any more");
        while (peer_next(peer, now.steady_ms, &frame)) {
            promise(frame.length <= FRAME_MAX, "a frame is longer than any");
            receiver_judge(receiver, frame, now, "0123456789abcdef", room, &answer);
            judge_answer(&answer);
            judge_news(&answer);
        }
    } while (bytes.length > 0);
}

/** A body with a right sum and length around it. */
static void feed_framed(struct peer *peer, const struct receiver *receiver, struct text body) {
    static char line[FRAME_MAX];
    body.length = body.length > FRAME_BODY_MAX ? FRAME_BODY_MAX : body.length;
    int head = snprintf(line, sizeof line, "\n%04X%04zX", signals_crc(body), body.length);
    memcpy(line + head, body.start, body.length);
    line[(size_t)head + body.length] = '\r';
    feed(peer, receiver, (struct text){line, (size_t)head + body.length + 1});
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

/** The pieces end with the bytes 1 (fed as they are), 2 (with a sum put around them) and 3 (with a sum, twice). */
int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size) {
    struct text rest = {size == 0 ? "" : (const char *)bytes, size};
    struct arena arena;
    struct accounts accounts;
    struct recent recent;
    static struct peer peer;
    const struct peer_limits limits = {.noise = 1000};
    taken = 0;
    news_count = 0;
    memset(memory, 0, sizeof memory);
    arena_init(&arena, (struct pages){.get = get, .give = give}, 0);
    bool good = accounts_read(text_of("account 777 clear\naccount 1234 prefix A5 clear\n"
                                      "account 1234 key 00000000000000000000000000000000"),
                        &arena, &accounts, NULL)
                        .good &&
            recent_make(&arena, (size_t)4 * NEWS_MOST, &recent, NULL).good;
    promise(good, "the bench is broken");
    read_otherwise(&arena, rest);
    const struct receiver receiver = {&accounts, &recent, cipher_for, NULL};
    peer_begin(&peer, &limits, 0);
    while (rest.length > 0 && news_count < NEWS_MOST) {
        size_t length = 0;
        while (length < rest.length && (rest.start[length] < 1 || rest.start[length] > 3)) {
            length++;
        }
        char how = length < rest.length ? rest.start[length] : 1;
        const struct text piece = {rest.start, length};
        for (int i = 0; i < (how == 3) + 1; i++) {
            if (how == 1) {
                feed(&peer, &receiver, piece);
            } else {
                feed_framed(&peer, &receiver, piece);
            }
        }
        length += length < rest.length;
        rest = (struct text){rest.start + length, rest.length - length};
    }
    (void)peer_end(&peer, &limits, 5000);
    return 0;
}
