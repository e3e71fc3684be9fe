/* Which changes might help, cheapest first. Not for use outside this folder. */
#ifndef LINTEL_PROOF_CANDIDATES_H
#define LINTEL_PROOF_CANDIDATES_H

#include "proof/proof.h"

enum { CANDIDATE_MAX = 400 };

struct candidates {
    struct proof_edit edits[CANDIDATE_MAX];
    size_t count;
};

/** The changes worth trying against what broke the answer's promise, in the order of their price. Texts are in the
 *  arena. Fails PROBLEM_MEMORY. */
outcome candidates_find(const struct site *site, const struct proof_answer *answer,
        struct arena *arena, struct candidates *ret_candidates, struct problem *ret_problem)
        MUST_CHECK;

/** The model of contact that a further door would get: that of the first contact there is. SITE_NONE: there is none. */
int proof_contact_profile(const struct site *site);

#endif
