/* Any bytes as a course of events: a small panel, keyed in at random, and what happens to it. For random tests and for
 * the fuzzer. */
#ifndef LINTEL_TESTS_PANEL_COURSE_H
#define LINTEL_TESTS_PANEL_COURSE_H

#include <stddef.h>
#include <stdint.h>

/** Plays the bytes. NULL: every promise held; else the one that broke, and after how many events (static text,
 *  ret_event). The promises: a step is total and deterministic, its outputs fit, its state stays in canonical form and
 *  keeps the panel's invariants, and it starts only timers that the program has. Where the first byte is even, timers
 *  come from the player alone, and the state says of each timer whether it runs. */
const char *course_run(const uint8_t *bytes, size_t size, size_t *ret_event);

#endif
