/* The best that an intruder can do in the drawing, thing by thing: as a list in words, as JSON, and for the layer. */
#ifndef LINTEL_CLI_PLAN_BREAK_INS_H
#define LINTEL_CLI_PLAN_BREAK_INS_H

#include "base/json.h"
#include "check/break_in_layer.h"
#include "check/break_in_odds.h"

/** What was looked at: of the drawing, whatever the site file says by hand. site: with the drawing's break-ins; odds:
 *  one for each of all.list. Points into itself: it stays where it was made. */
struct plan_break_ins {
    struct site site;
    struct portals portals;
    struct break_ins all;
    const struct break_in_odds *odds;
    struct break_in_drawn drawn;
};

/** Looks. ret_made: in the arena's time. Fails LIMIT, MEMORY, SYSTEM. */
outcome plan_break_ins_make(const struct house *house, struct arena *arena,
        struct plan_break_ins *ret_made, struct problem *ret_problem) MUST_CHECK;

/** Every thing with its verdict, the way and its seconds, and how likely he is interrupted. width: columns. */
void plan_break_ins_add_text(
        struct text_builder *out, const struct plan_break_ins *made, size_t width);

/** The same as one object. file: as the site file was named. */
void plan_break_ins_add_json(
        struct json_writer *json, const struct plan_break_ins *made, struct text file);

#endif
