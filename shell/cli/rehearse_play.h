/* A rehearsal in real time: the panel is played by the clock, and what it sends goes to a receiver. */
#ifndef LINTEL_CLI_REHEARSE_PLAY_H
#define LINTEL_CLI_REHEARSE_PLAY_H

#include "cli/rehearse_type.h"
#include "rehearsal/rehearsal.h"
#include "sender/sender.h"

/** speed: so many times as fast as the clock; 0: as fast as it is acknowledged. typist: who types the course, or NULL;
 *  arena: of the rehearsal. */
struct rehearse_play {
    const struct site *site;
    struct rehearsal *rehearsal;
    struct sender *sender;
    bool sia;
    double speed;
    struct typist *typist;
    struct arena *arena;
};

/** How it went. waiting: signals that the receiver has not acknowledged at the end. */
struct rehearse_sum {
    size_t sent;
    size_t waiting;
    bool interrupted;
};

/** Plays it to its end, or until Ctrl-C (terminal_catch_interrupt), and says on stdout what happens as it does. A
 *  receiver that is away is told; what leaves meanwhile waits in the panel, and is sent once it is back. At the end it
 *  is waited for a minute. Fails BAD_VALUE (the receiver refuses it), LIMIT, MEMORY. */
outcome rehearse_play(const struct rehearse_play *play, struct rehearse_sum *ret_sum,
        struct problem *ret_problem) MUST_CHECK;

/** Says by how much the receiver's clock is off, s, where that is news. told_s: what was said last. */
void rehearse_say_clock(int64_t off_s, int64_t *told_s);

#endif
