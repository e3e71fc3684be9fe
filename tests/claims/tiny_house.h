/* Sites of a few zones, written in C, and asking the prover about their one routine. One area "house", exit time 60 s,
 * one entry delay "front" of 30 s, nobody drops to part, clocks within 10 %. */
#ifndef LINTEL_TESTS_CLAIMS_TINY_HOUSE_H
#define LINTEL_TESTS_CLAIMS_TINY_HOUSE_H

#include "explore/pages.h"
#include "proof/proof.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

enum {
    TINY_MOST = 12,
    TINY_STEPS = SITE_STEP_MAX + 1,
    TINY_ROUTINES = 4,
    TINY_ENTRY_S = 30,
    TINY_EXIT_S = 60
};

struct tiny {
    struct site site;
    struct site_device_profile profiles[TINY_MOST];
    struct site_area areas[3];
    struct site_door doors[TINY_MOST];
    struct site_device devices[TINY_MOST];
    struct site_zone zones[TINY_MOST];
    struct site_keypad keypads[2];
    struct site_person people[TINY_MOST];
    struct site_way ways[TINY_MOST];
    struct site_routine routines[TINY_ROUTINES];
    struct site_step steps[TINY_ROUTINES][TINY_STEPS];
    struct test_pages counted;
    struct arena arena;
    struct proof_routine routine;
    struct problem problem;
};

/* A group of tests shares nothing: each has a house of its own. */
int tiny_setup(void **state);
int tiny_teardown(void **state); /* fails where a page was not given back */

int tiny_profile(struct tiny *tiny, enum site_sense sense);
int tiny_door(struct tiny *tiny);
/* door: SITE_NONE for a room. profile: a tiny_profile. The zone is live as `behaviour` in full, as usual elsewhere. */
int tiny_zone(struct tiny *tiny, enum site_behaviour behaviour, int door, int profile);
int tiny_person(struct tiny *tiny, uint32_t areas);
/* The next step of routine 0; changed by the caller as wanted until the next one is added. */
struct site_step *tiny_step(
        struct tiny *tiny, int who, int32_t low_s, int32_t high_s, enum site_act act);
struct site_step *tiny_step_of(struct tiny *tiny, size_t routine, int who, int32_t low_s,
        int32_t high_s, enum site_act act);
struct site_step *tiny_opens(struct tiny *tiny, int who, int32_t low_s, int32_t high_s, int door);
struct site_step *tiny_closes(struct tiny *tiny, int who, int32_t low_s, int32_t high_s, int door);
struct site_step *tiny_passes(struct tiny *tiny, int who, int32_t low_s, int32_t high_s, int zone);
struct site_step *tiny_unsets(struct tiny *tiny, int who, int32_t low_s, int32_t high_s);
struct site_step *tiny_sets(struct tiny *tiny, int who, int32_t low_s, int32_t high_s, int mode);

/* Empties routine 0, every area unset. */
void tiny_again(struct tiny *tiny);
void tiny_starts_set(struct tiny *tiny, int area, int mode);

/* What the prover says of routine 0; never a problem. Every answer is held against the same without
 * reductions, and every
 * story is replayed as a run of the machine. options: NULL = defaults. The story is in the house's arena. */
struct proof_answer tiny_ask(struct tiny *tiny, const struct proof_options *options);
enum proof_verdict tiny_verdict(struct tiny *tiny, const struct proof_options *options);
/* The promise broken, or PROOF_KEPT where it goes well. */
enum proof_promise tiny_promise(struct tiny *tiny);

#define assert_goes_well(tiny) assert_int_equal(tiny_verdict(tiny, NULL), PROOF_GOES_WELL)
#define assert_breaks(tiny, promise) assert_int_equal(tiny_promise(tiny), promise)

#endif
