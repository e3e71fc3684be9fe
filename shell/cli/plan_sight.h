/* What the detectors of a plan see and hear, in words and as JSON, beside the rooms and places they belong to. */
#ifndef LINTEL_CLI_PLAN_SIGHT_H
#define LINTEL_CLI_PLAN_SIGHT_H

#include "base/json.h"
#include "check/layout.h"
#include "plan/coverage.h"

/** One or more lines, each from a column on, of a room's blind floor; none where the house has no motion detector.
 *  coverage: NULL: none. */
void plan_sight_add_room(struct layout *layout, const struct coverage *coverage, size_t room);

/** ... of what the detector at a place sees, hears and looks at; none where none hangs there. */
void plan_sight_add_place(struct layout *layout, const struct house *house,
        const struct coverage *coverage, size_t place);

/** The same as members of the object that is open; null where it was not computed. */
void plan_sight_json_room(struct json_writer *json, const struct coverage *coverage, size_t room);
void plan_sight_json_place(struct json_writer *json, const struct house *house,
        const struct coverage *coverage, size_t place);

#endif
