/* Who has a place at a receiver that takes so many connections, and who goes when one more comes. Decides only; a
 * fixed amount of memory; to let one in while all are taken costs a few passes over the counters of PLACES_ADDRESSES,
 * and along a list as far as the first who is of the address with the most.
 *
 * The last that came always gets a place: a panel may open a connection for each message, and one that is not let
 * in is not heard. So another goes, and strangers who knock without end must not be able to say who:
 *
 * 1. a stranger (of whom nothing was taken yet) of the address that has the most of them, the one who has been
 *    there the longest, if that address has more than an eighth of all places;
 * 2. else a stranger who has had PLACES_GRACE_MS to say something, rather of the address that has the most of them;
 * 3. else of the address that has the most strangers the first, if they are more than PLACES_FEW, and than any has
 *    friends;
 * 4. else a friend of whom nothing was taken for as long, chosen alike: he comes again when he has something to say.
 *    One who was heard just now has still to be answered;
 * 5. else, where all have just come or been heard: of the address that has the most, the one whose time is longest.
 *
 * So who knocks from one address is given an eighth of the places at most, and puts out himself, and so does who
 * knocks from a few, once he has put out PLACES_FEW friends by each; whoever comes from another has two seconds, and
 * as long again for the answer, unless it is pushed by as many addresses as there are places, all at once. */
#ifndef LINTEL_SIGNALS_PLACES_H
#define LINTEL_SIGNALS_PLACES_H

#include "base/arena.h"

#include <stdint.h>

enum {
    /* that come from one address at once and are no crowd, as panels behind one router. House practice */
    PLACES_FEW = 4,

    PLACES_GRACE_MS = 2000,  /* from a connection to its first frame. House practice */
    PLACES_SPARE = 16,       /* of those who were put out and are not gone yet */
    PLACES_ADDRESSES = 4096, /* that are told apart; two may share one */
};

/** What a place is on. */
enum place_list {
    PLACE_FREE,
    PLACE_STRANGER, /* by their coming */
    PLACE_FRIEND,   /* by when something of theirs was taken last */
    PLACE_BETWEEN,  /* on none: of who comes, and of who goes */
    PLACE_LIST_COUNT
};

/** One place. at_ms: it was taken, or a frame of its. before, after: on its list; places->count: none. */
struct place {
    int64_t at_ms;
    uint32_t before;
    uint32_t after;
    uint16_t address;
    uint8_t list;
};

/** most: of strangers and friends together. share: of strangers of one address. first, last: of each list.
 *  have: how many of an address are on each. */
struct places {
    struct place *of;
    size_t count;
    size_t most;
    size_t share;
    size_t in_use;
    uint32_t first[PLACE_BETWEEN];
    uint32_t last[PLACE_BETWEEN];
    uint32_t *have[PLACE_BETWEEN];
};

/** Makes places for `most` connections, 1 to 100,000, and PLACES_SPARE. Fails MEMORY. */
outcome places_make(struct arena *arena, size_t most, struct places *ret_places,
        struct problem *ret_problem) MUST_CHECK;

/** A free place for who comes; it is between, until he is let in. False: none is free, and one will be in a moment. */
bool places_take(struct places *places, size_t *ret_place);

/** Lets him in, as a stranger. address: a hash of where from, that strangers cannot foresee. Instants are of a clock
 *  that never jumps. */
void places_let_in(struct places *places, size_t place, uint64_t address, int64_t now_ms);

/** Who must go, as there are more than there may be; false: nobody must. He is between, then. */
bool places_too_many(struct places *places, int64_t now_ms, size_t *ret_place);

/** Something of his was taken: he is a friend. */
void places_heard(struct places *places, size_t place, int64_t now_ms);

/** He goes, or is put out; and, after that: his place is free. */
void places_leave(struct places *places, size_t place);
void places_left(struct places *places, size_t place);

#endif
