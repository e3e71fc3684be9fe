/* What a fuzz target gives: its entry, and words worth putting in. */
#ifndef LINTEL_TESTS_FUZZ_REPLAY_H
#define LINTEL_TESTS_FUZZ_REPLAY_H

#include <stddef.h>
#include <stdint.h>

/** libFuzzer's entry. Ends the program when a promise is broken; else gives 0. */
int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);

extern const char *const replay_words[];
extern const size_t replay_word_count;

#endif
