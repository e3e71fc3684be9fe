/* A story as bars over its seconds, for whoever draws it: who does what and where, which doors stand open, what the
 * panel is in, what sounds, what leaves for the station. The lines for people are story's; this is the same course. */
#ifndef LINTEL_CHECK_LANES_H
#define LINTEL_CHECK_LANES_H

#include "proof/proof.h"
#include "site/site.h"

/** What a bar tells of. Lanes stand in this order. */
enum lane_kind {
    LANE_PERSON, /* of: person. What he does at its end; the bar is the time since what he did before */
    LANE_DOOR,    /* of: door. It stands open */
    LANE_AREA,    /* of: area. Set, unset, or which of its times runs */
    LANE_SOUND,   /* of: area. A tone or the siren */
    LANE_STATION, /* of: 0. A signal leaves: an instant */
    LANE_KIND_COUNT
};

enum { LANES_TO_THE_END = INT32_MAX };

/** One bar. from_s, to_s: since the routine began, from <= to; LANES_TO_THE_END: it is still so when the story ends.
 *  list, at: where it happens (PERSON), an item of a list of the site: doors, zones, keypads; NULL: not said. says: in
 *  a few words. state: one word for whoever inks it ("set", "unset", "exit", "entry"; "tone", "siren"; else empty).
 *  bad: it breaks the promise. */
struct lane_bar {
    enum lane_kind lane;
    int of;
    int32_t from_s;
    int32_t to_s;
    const char *list;
    int at;
    struct text says;
    const char *state;
    bool bad;
};

struct lanes {
    struct lane_bar *bars;
    size_t count;
};

/** The bars of the answer's story, by lane, then in the order of their beginning. An answer without a story gives none.
 *  In the arena; texts of the site are borrowed. Fails PROBLEM_MEMORY. */
outcome lanes_make(const struct site *site, const struct proof_answer *answer, struct arena *arena,
        struct lanes *ret_lanes, struct problem *ret_problem) MUST_CHECK;

/** "person", "door", "area", "sound", "station". */
const char *lane_kind_name(enum lane_kind lane);

/** Whose lane it is, as people say it: "apprentice", "yard door", "shop", "shop", "station". */
struct text lane_name(const struct site *site, const struct lane_bar *bar);

#endif
