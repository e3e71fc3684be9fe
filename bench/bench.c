#include "bench.h"

#include "host/host.h"
#include "proof/settle.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum {
    ROUNDS_MOST = 200,
    STACK_BYTES = 48 * 1024, /* of explore_run: two matrices and one firing's effects, with room */
    WORDS_MOST = 12,
    WORD_SIZE = 32,
};
static const double ROUNDS_S = 0.3; /* repeated no longer than this */

double bench_now_s(void) {
    struct timespec now;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

struct room {
    struct proof_routine routine;
    struct world world;
    struct panel_outputs outputs;
};

static bool prove_once(
        const struct site *site, struct room *room, struct explore_result *ret_result) {
    struct arena arena;
    struct problem problem = {0};
    arena_init(&arena, host_pages(), 0);
    bool good = proof_unfold(site, &site->routines[0], &room->routine, &problem).good &&
            world_make(site, NULL, &room->routine, NULL, &room->outputs, &room->world, &problem)
                    .good;
    if (good) {
        const struct proof_options options = {0};
        good = settle(&room->world, &options, false, host_pages(), &arena, ret_result, &problem)
                       .good;
    }
    arena_finish(&arena);
    if (!good) {
        printf("not proven: %s\n", problem.text);
    }
    return good;
}

struct bench_proof bench_prove(const struct site *site) {
    struct bench_proof proof = {.seconds_s = 1e9};
    struct room *room = malloc(sizeof *room);
    const double began_s = bench_now_s();
    for (int round = 0; room != NULL && round < ROUNDS_MOST && bench_now_s() - began_s < ROUNDS_S;
            round++) {
        const double before_s = bench_now_s();
        proof.good = prove_once(site, room, &proof.result);
        const double took_s = bench_now_s() - before_s;
        proof.seconds_s = took_s < proof.seconds_s ? took_s : proof.seconds_s;
        if (!proof.good) {
            break;
        }
    }
    proof.bytes = (double)proof.result.bytes_peak + (double)sizeof *room + STACK_BYTES;
    free(room);
    return proof;
}

struct bench_proof bench_prove_house(const struct house_wish *wish) {
    struct arena arena;
    struct site site;
    struct bench_proof proof = {0};
    arena_init(&arena, host_pages(), 0);
    if (house_build(wish, &arena, &site)) {
        proof = bench_prove(&site);
    }
    arena_finish(&arena);
    return proof;
}

/* Room for one word; the oldest is used again. */
static char *next_word(void) {
    static char words[WORDS_MOST][WORD_SIZE];
    static size_t next;
    next = (next + 1) % WORDS_MOST;
    return words[next];
}

const char *bench_time(double seconds_s) {
    char *word = next_word();
    if (seconds_s < 1e-3) {
        snprintf(word, WORD_SIZE, "%.0f us", seconds_s * 1e6);
    } else if (seconds_s < 1) {
        snprintf(word, WORD_SIZE, "%.1f ms", seconds_s * 1e3);
    } else {
        snprintf(word, WORD_SIZE, "%.1f s", seconds_s);
    }
    return word;
}

const char *bench_bytes(double bytes) {
    char *word = next_word();
    if (bytes < 1e6) {
        snprintf(word, WORD_SIZE, "%.0f kB", bytes / 1e3);
    } else if (bytes < 1e9) {
        snprintf(word, WORD_SIZE, "%.1f MB", bytes / 1e6);
    } else {
        snprintf(word, WORD_SIZE, "%.2f GB", bytes / 1e9);
    }
    return word;
}

const char *bench_width(int32_t seconds_s) {
    char *word = next_word();
    if (seconds_s < 120) {
        snprintf(word, WORD_SIZE, "%d s", (int)seconds_s);
    } else if (seconds_s < 3600) {
        snprintf(word, WORD_SIZE, "%d min", (int)seconds_s / 60);
    } else {
        snprintf(word, WORD_SIZE, "%d h", (int)seconds_s / 3600);
    }
    return word;
}

const char *bench_count(double count) {
    char digits[WORD_SIZE];
    char *word = next_word();
    snprintf(digits, sizeof digits, "%.0f", count);
    const size_t length = strlen(digits);
    size_t at = 0;
    for (size_t i = 0; i < length && at + 2 < WORD_SIZE; i++) {
        if (i > 0 && (length - i) % 3 == 0) {
            word[at++] = ',';
        }
        word[at++] = digits[i];
    }
    word[at] = '\0';
    return word;
}

const char *bench_verdict(const struct bench_proof *proof) {
    if (!proof->good) {
        return "no verdict";
    }
    switch (proof->result.verdict) {
    case EXPLORE_PROVEN:
        return "well";
    case EXPLORE_REFUTED:
        return "wrong";
    case EXPLORE_UNDECIDED:
        break;
    }
    return "undecided";
}
