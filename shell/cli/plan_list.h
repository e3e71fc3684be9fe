/* The plan in words and as JSON. */
#ifndef LINTEL_CLI_PLAN_LIST_H
#define LINTEL_CLI_PLAN_LIST_H

#include "base/json.h"
#include "plan/house.h"

/** Storeys first .. first + count - 1: rooms with their floor, openings, stairs, what hangs where. width: columns. */
void plan_add_text(struct text_builder *out, const struct house *house, size_t first, size_t count,
        size_t width);

/** The same as one object. file: as the site file was named. */
void plan_add_json(struct json_writer *json, const struct house *house, struct text file,
        size_t first, size_t count);

#endif
