/* Load for the bench of signals: so many peers, each with one message under way, for so many seconds. Speaks the frames
 * of a panel (TCP or UDP, in clear or encrypted), or pushes the same bytes into a general store in that store's own
 * protocol. Prints one line: messages acknowledged, a second, and the spread of the answers' delays.
 *
 *     bench-signals-load tcp|udp|store PORT PEERS SECONDS [KEY]
 *     bench-signals-load sync FILE SECONDS           writes of a page, each brought to the disk: so fast it can be
 *     bench-signals-load accounts PEERS [KEY]        the key file for these peers */
#include "cipher/cipher.h"

#include <arpa/inet.h>
#include <errno.h>
#include <fcntl.h>
#include <netinet/in.h>
#include <netinet/tcp.h>
#include <poll.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <time.h>
#include <unistd.h>

enum { PEERS_MOST = 4000, FIRST_ACCOUNT = 0x10000, BUCKETS = 40000, REPEAT_US = 2000000 };

struct peer {
    struct account account;
    uint64_t count;
    int64_t sent_us;
    size_t length;
    char bytes[FRAME_MAX + 64];
};

enum way { WAY_TCP, WAY_UDP, WAY_STORE };

struct load {
    enum way way;
    struct cipher *cipher;
    struct peer *peers;
    struct pollfd *files;
    size_t peer_count;
    uint64_t answers;
    uint64_t repeats;
    uint64_t buckets[BUCKETS]; /* of delays, by 50 us */
};

static int64_t now_us(void) {
    struct timespec now;
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (int64_t)now.tv_sec * 1000000 + now.tv_nsec / 1000;
}

static void die(const char *what) {
    (void)fprintf(stderr, "bench-signals-load: %s: %s\n", what, strerror(errno));
    exit(1);
}

static struct account account_of(size_t index, const char *key) {
    struct account account = {.digit_count = 5};
    (void)snprintf(account.digits, sizeof account.digits, "%05zX", FIRST_ACCOUNT + index);
    for (size_t i = 0; key != NULL && key[2 * i] != '\0' && i < ACCOUNT_KEY_MAX; i++) {
        unsigned value = 0;
        (void)sscanf(key + 2 * i, "%2x", &value);
        account.key[i] = (uint8_t)value;
        account.key_length = (uint8_t)(i + 1);
    }
    return account;
}

/** The next message of a peer: no two of the last minutes are the same, nor encrypted alike. */
static void make(struct load *load, struct peer *peer) {
    static const char pad[FRAME_BLOCK + 1] = "0123456789abcdef";
    char data[64];
    char frame_bytes[FRAME_MAX];
    size_t length = 0;
    const bool secret = peer->account.key_length > 0;
    struct frame_cipher cipher = cipher_for(load->cipher, &peer->account);
    peer->count++;
    (void)snprintf(data, sizeof data, "#%.5s|1130 %02u %03u", peer->account.digits,
            (unsigned)(peer->count / 1000 % 100), (unsigned)(peer->count % 1000));
    const struct frame frame = {.token = FRAME_TOKEN_CONTACT_ID,
            .encrypted = secret,
            .sequence = (uint16_t)(peer->count % 9999 + 1),
            .prefix = text_of("0"),
            .account = account_digits(&peer->account),
            .content = {.pad = {pad, FRAME_BLOCK},
                    .data = text_of(data),
                    .stamped = true,
                    .stamp_s = (int64_t)time(NULL)}};
    if (!frame_write(&frame, secret ? &cipher : NULL, frame_bytes, &length, NULL)) {
        die("a frame");
    }
    size_t head = 0;
    if (load->way == WAY_STORE) {
        head = (size_t)snprintf(peer->bytes, sizeof peer->bytes,
                "*3\r\n$5\r\nRPUSH\r\n$7\r\nsignals\r\n$%zu\r\n", length);
    }
    memcpy(peer->bytes + head, frame_bytes, length);
    peer->length = head + length;
    if (load->way == WAY_STORE) {
        memcpy(peer->bytes + peer->length, "\r\n", 2);
        peer->length += 2;
    }
}

static void send_it(struct load *load, size_t index) {
    struct peer *peer = &load->peers[index];
    peer->sent_us = now_us();
    if (send(load->files[index].fd, peer->bytes, peer->length, 0) != (ssize_t)peer->length) {
        die("send");
    }
}

static void connect_all(struct load *load, uint16_t port, const char *key) {
    const struct sockaddr_in to = {
            .sin_family = AF_INET, .sin_port = htons(port), .sin_addr = {htonl(INADDR_LOOPBACK)}};
    const int on = 1;
    for (size_t i = 0; i < load->peer_count; i++) {
        const int file = socket(AF_INET, load->way == WAY_UDP ? SOCK_DGRAM : SOCK_STREAM, 0);
        if (file < 0 || connect(file, (const struct sockaddr *)&to, sizeof to) != 0) {
            die("connect");
        }
        if (load->way != WAY_UDP) {
            (void)setsockopt(file, IPPROTO_TCP, TCP_NODELAY, &on, sizeof on);
        }
        load->files[i] = (struct pollfd){.fd = file, .events = POLLIN};
        load->peers[i].account = account_of(i, key);
    }
}

/** An answer: the acknowledgement of a frame, or the store's number. */
static bool acknowledged(const struct load *load, const char *bytes, ssize_t count) {
    const struct text text = {bytes, (size_t)count};
    return load->way == WAY_STORE ? bytes[0] == ':'
                                  : memmem(text.start, text.length, "ACK\"", 4) != NULL;
}

static void take(struct load *load, size_t index) {
    char answer[1024];
    const ssize_t count = recv(load->files[index].fd, answer, sizeof answer, 0);
    if (count <= 0 || !acknowledged(load, answer, count)) {
        (void)fprintf(stderr, "%.*s\n", count > 0 ? (int)count : 0, answer);
        die("an answer");
    }
    const int64_t delay_us = now_us() - load->peers[index].sent_us;
    const size_t bucket = (size_t)(delay_us / 50);
    load->buckets[bucket < BUCKETS ? bucket : BUCKETS - 1]++;
    load->answers++;
    make(load, &load->peers[index]);
    send_it(load, index);
}

/** A packet may be lost: it is sent again, as a panel does. */
static void repeat_lost(struct load *load) {
    const int64_t now = now_us();
    for (size_t i = 0; load->way == WAY_UDP && i < load->peer_count; i++) {
        if (now - load->peers[i].sent_us > REPEAT_US) {
            load->repeats++;
            send_it(load, i);
        }
    }
}

static double delay_ms(const struct load *load, double part) {
    uint64_t seen = 0;
    for (size_t i = 0; i < BUCKETS; i++) {
        seen += load->buckets[i];
        if ((double)seen >= part * (double)load->answers) {
            return (double)(i + 1) * 0.05;
        }
    }
    return 0;
}

static int run_load(enum way way, char **words, int count) {
    struct load *load = calloc(1, sizeof *load);
    load->way = way;
    load->cipher = cipher_create();
    load->peer_count = (size_t)strtoul(words[1], NULL, 10);
    load->peer_count = load->peer_count > PEERS_MOST ? PEERS_MOST : load->peer_count;
    load->peers = calloc(load->peer_count, sizeof *load->peers);
    load->files = calloc(load->peer_count, sizeof *load->files);
    connect_all(load, (uint16_t)strtoul(words[0], NULL, 10), count > 3 ? words[3] : NULL);
    const int64_t begin_us = now_us();
    const int64_t end_us = begin_us + (int64_t)(strtod(words[2], NULL) * 1e6);
    for (size_t i = 0; i < load->peer_count; i++) {
        make(load, &load->peers[i]);
        send_it(load, i);
    }
    while (now_us() < end_us) {
        if (poll(load->files, (nfds_t)load->peer_count, 500) <= 0) {
            repeat_lost(load);
            continue;
        }
        for (size_t i = 0; i < load->peer_count; i++) {
            if (load->files[i].revents != 0) {
                take(load, i);
            }
        }
    }
    const double seconds = (double)(now_us() - begin_us) / 1e6;
    (void)printf("%llu %.0f %.2f %.2f %.2f %llu\n", (unsigned long long)load->answers,
            (double)load->answers / seconds, delay_ms(load, 0.5), delay_ms(load, 0.99),
            delay_ms(load, 0.999), (unsigned long long)load->repeats);
    return 0;
}

static int run_sync(const char *path, double seconds) {
    static char page[4096];
    const int file = open(path, O_CREAT | O_WRONLY | O_APPEND, 0600);
    uint64_t count = 0;
    const int64_t begin_us = now_us();
    while (file >= 0 && now_us() < begin_us + (int64_t)(seconds * 1e6)) {
        if (write(file, page, sizeof page) != (ssize_t)sizeof page || fdatasync(file) != 0) {
            die("sync");
        }
        count++;
    }
    (void)printf("%.0f\n", (double)count * 1e6 / (double)(now_us() - begin_us));
    return file < 0;
}

int main(int argc, char **argv) {
    const struct rlimit files = {8192, 8192};
    (void)setrlimit(RLIMIT_NOFILE, &files);
    if (argc >= 3 && strcmp(argv[1], "accounts") == 0) {
        for (size_t i = 0; i < strtoul(argv[2], NULL, 10); i++) {
            (void)printf("account %05zX %s%s\n", FIRST_ACCOUNT + i, argc > 3 ? "key " : "clear",
                    argc > 3 ? argv[3] : "");
        }
        return 0;
    }
    if (argc == 4 && strcmp(argv[1], "sync") == 0) {
        return run_sync(argv[2], strtod(argv[3], NULL));
    }
    static const char *const ways[] = {"tcp", "udp", "store"};
    for (int i = 0; argc >= 5 && i < 3; i++) {
        if (strcmp(argv[1], ways[i]) == 0) {
            return run_load((enum way)i, argv + 2, argc - 2);
        }
    }
    (void)fprintf(stderr, "bench-signals-load tcp|udp|store PORT PEERS SECONDS [KEY]\n");
    return 2;
}
