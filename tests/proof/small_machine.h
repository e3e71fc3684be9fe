/* Any machine made small enough for the enumerating referee: its states by number, its activities numbered from 0 in
 * the order in which they first start. Nothing of its behaviour is changed. */
#ifndef LINTEL_TESTS_PROOF_SMALL_MACHINE_H
#define LINTEL_TESTS_PROOF_SMALL_MACHINE_H

#include "explore/explore.h"

enum { SMALL_ACTIVITIES_MOST = 12 };

/** Keeps the machine it stands for. too_many: it had more than SMALL_ACTIVITIES_MOST activities; what was enumerated
 *  then means nothing. */
struct small_machine {
    const struct explore_machine *inner;
    unsigned char *states; /* one after another */
    size_t state_count;
    size_t state_capacity;
    uint32_t *slots; /* state number + 1 */
    size_t slot_count;
    explore_activity activities[SMALL_ACTIVITIES_MOST];
    size_t activity_count;
    bool too_many;
};

/** The small machine over `inner`; release gives its memory back. Aborts without memory, as tests may. */
struct explore_machine small_machine_over(
        const struct explore_machine *inner, struct small_machine *small);
void small_machine_release(struct small_machine *small);

#endif
