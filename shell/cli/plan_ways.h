/* The ways that people use through a house, in words and as JSON: from each door to its keypad, how long they are and
 * take, which doors they go through and which detectors see them when. */
#ifndef LINTEL_CLI_PLAN_WAYS_H
#define LINTEL_CLI_PLAN_WAYS_H

#include "check/layout.h"
#include "cli/plan_list.h"

/** The ways that begin on the listed storeys, or at doors that are not drawn; nothing where there is none. */
void plan_ways_add(struct layout *layout, const struct plan_listed *listed);

/** The same as a member of the object that is open. */
void plan_ways_json(struct json_writer *json, const struct plan_listed *listed);

#endif
