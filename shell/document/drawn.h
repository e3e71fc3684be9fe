/* What is worked out of the drawing for a site while it is read. Internal to shell/document. */
#ifndef LINTEL_DOCUMENT_DRAWN_H
#define LINTEL_DOCUMENT_DRAWN_H

#include "document/reader.h"
#include "plan/house_ways.h"
#include "plan/outside_ways.h"

/** The drawing made ready, in memory that is given back when all is worked out. */
struct drawn {
    struct house house;
    struct coverage coverage;
    struct house_ways *ways;
    struct outside_ways *outside;
};

/** Whether a step has a route out of the drawing. */
bool drawn_steps_any(const struct site *site);

/** The routes of steps, given to the site. arena: for the work. Fails LIMIT, MEMORY, SYSTEM. */
outcome drawn_steps_work_out(struct reader *reader, struct drawn *drawn, const struct node *root,
        struct arena *arena, struct problem *ret_problem) MUST_CHECK;

#endif
