/* The plan in words and as JSON. */
#ifndef LINTEL_CLI_PLAN_LIST_H
#define LINTEL_CLI_PLAN_LIST_H

#include "base/json.h"
#include "plan/outside_ways.h"

/** What is listed: storeys first .. first + count - 1 of a house. coverage: NULL: it could not be computed, and
 *  why_not says why.
 *  ways: of the whole house; outside: round it. */
struct plan_listed {
    const struct house *house;
    const struct coverage *coverage;
    const char *why_not;
    struct used_ways ways;
    const struct outside_way *outside;
    size_t outside_count;
    size_t first;
    size_t count;
};

/** Rooms with their floor, openings, stairs, what hangs where and what it sees. width: columns. */
void plan_add_text(struct text_builder *out, const struct plan_listed *listed, size_t width);

/** The same as one object. file: as the site file was named. */
void plan_add_json(struct json_writer *json, const struct plan_listed *listed, struct text file);

#endif
