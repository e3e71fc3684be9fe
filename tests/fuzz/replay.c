/* Replays a fuzz target without libFuzzer: every file of a corpus, then a fixed count of seeded mutations of them.
 * replay CORPUS COUNT [SEED]. Prints TAP; the seed stands in every line, so that a failure can be repeated. */
#include "replay.h"

#include <dirent.h>
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { FILES_MAX = 512, BYTES_MAX = 1 << 16 };

struct corpus {
    uint8_t *bytes[FILES_MAX];
    size_t sizes[FILES_MAX];
    char *names[FILES_MAX];
    size_t count;
};

/* xorshift64*; source: Vigna, "An experimental exploration of Marsaglia's xorshift generators", 2016. */
static uint64_t next(uint64_t *state) {
    *state ^= *state >> 12;
    *state ^= *state << 25;
    *state ^= *state >> 27;
    return *state * UINT64_C(2685821657736338717);
}

static size_t below(uint64_t *state, size_t most) {
    return most == 0 ? 0 : (size_t)(next(state) >> 11) % most;
}

static int by_name(const void *a, const void *b) {
    return strcmp(*(char *const *)a, *(char *const *)b);
}

static int read_names(const char *folder, struct corpus *corpus) {
    DIR *entries = opendir(folder);
    if (entries == NULL) {
        return -1;
    }
    for (struct dirent *entry = readdir(entries); entry != NULL; entry = readdir(entries)) {
        if (entry->d_name[0] != '.' && corpus->count < FILES_MAX) {
            corpus->names[corpus->count++] = strdup(entry->d_name);
        }
    }
    (void)closedir(entries);
    qsort(corpus->names, corpus->count, sizeof corpus->names[0], by_name);
    return 0;
}

static int read_corpus(const char *folder, struct corpus *corpus) {
    if (read_names(folder, corpus) != 0) {
        return -1;
    }
    for (size_t i = 0; i < corpus->count; i++) {
        char path[1024];
        (void)snprintf(path, sizeof path, "%s/%s", folder, corpus->names[i]);
        FILE *file = fopen(path, "rb");
        corpus->bytes[i] = malloc(BYTES_MAX);
        if (file == NULL || corpus->bytes[i] == NULL) {
            return -1;
        }
        corpus->sizes[i] = fread(corpus->bytes[i], 1, BYTES_MAX, file);
        (void)fclose(file);
    }
    return corpus->count > 0 ? 0 : -1;
}

/* Puts in `size` bytes at `at` in place of `gone`. */
static size_t splice(
        uint8_t *bytes, size_t length, size_t at, size_t gone, const void *put, size_t size) {
    if (gone > length - at) {
        gone = length - at;
    }
    if (length - gone + size > BYTES_MAX) {
        return length;
    }
    memmove(bytes + at + size, bytes + at + gone, length - at - gone);
    memcpy(bytes + at, put, size);
    return length - gone + size;
}

static size_t mutate(uint64_t *state, const struct corpus *corpus, uint8_t *bytes, size_t length) {
    const size_t at = below(state, length + 1);
    const size_t words = replay_word_count;
    const size_t other = below(state, corpus->count);
    uint8_t byte = (uint8_t)next(state);
    switch (below(state, 6)) {
    case 0:
        return splice(bytes, length, at, 1, &byte, 1);
    case 1:
        return splice(bytes, length, at, 0, &byte, 1);
    case 2:
        return splice(bytes, length, at, 1 + below(state, 24), "", 0);
    case 3: {
        const char *word = words == 0 ? "" : replay_words[below(state, words)];
        return splice(bytes, length, at, below(state, 2) * strlen(word), word, strlen(word));
    }
    case 4: {
        const size_t from = below(state, corpus->sizes[other] + 1);
        const size_t size = below(state, corpus->sizes[other] - from + 1) % 200;
        return splice(bytes, length, at, below(state, 2) * size, corpus->bytes[other] + from, size);
    }
    default: {
        uint8_t copy[64];
        const size_t size = below(state, sizeof copy);
        const size_t from = below(state, length + 1);
        const size_t taken = size < length - from ? size : length - from;
        memcpy(copy, bytes + from, taken);
        return splice(bytes, length, at, 0, copy, taken);
    }
    }
}

int main(int argument_count, char **arguments) {
    static struct corpus corpus;
    static uint8_t bytes[BYTES_MAX];
    uint64_t seed = argument_count > 3 ? strtoull(arguments[3], NULL, 10) : 20240601;
    if (argument_count < 3 || read_corpus(arguments[1], &corpus) != 0) {
        printf("1..1\nnot ok 1 - no corpus\n");
        return 1;
    }
    const unsigned long count = strtoul(arguments[2], NULL, 10);
    printf("# seed %" PRIu64 "\n1..%zu\n", seed, corpus.count + 1);
    for (size_t i = 0; i < corpus.count; i++) {
        (void)LLVMFuzzerTestOneInput(corpus.bytes[i], corpus.sizes[i]);
        printf("ok %zu - %s\n", i + 1, corpus.names[i]);
    }
    uint64_t state = seed == 0 ? 1 : seed;
    for (unsigned long i = 0; i < count; i++) {
        const size_t which = below(&state, corpus.count);
        size_t length = corpus.sizes[which];
        memcpy(bytes, corpus.bytes[which], length);
        for (size_t rounds = 1 + below(&state, 8); rounds > 0; rounds--) {
            length = mutate(&state, &corpus, bytes, length);
        }
        (void)LLVMFuzzerTestOneInput(bytes, length);
    }
    printf("ok %zu - %lu mutations of seed %" PRIu64 "\n", corpus.count + 1, count, seed);
    for (size_t i = 0; i < corpus.count; i++) {
        free(corpus.bytes[i]);
        free(corpus.names[i]);
    }
    return 0;
}
