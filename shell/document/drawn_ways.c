/* Ways whose times nobody typed: out of the drawing. */
#include "document/drawn.h"

#include "plan/drawn_way.h"
#include "plan/used_ways.h"

static outcome make_drawn(const struct site *site, struct arena *arena, struct drawn *ret_drawn,
        struct problem *ret_problem) {
    TRY(house_make(site, arena, &ret_drawn->house, ret_problem));
    TRY(coverage_make(&ret_drawn->house, arena, &ret_drawn->coverage, ret_problem));
    TRY(house_ways_make(&ret_drawn->house, arena, &ret_drawn->ways, ret_problem));
    return outside_ways_make(&ret_drawn->house, arena, &ret_drawn->outside, ret_problem);
}

static outcome work_out(struct reader *reader, struct drawn *drawn, size_t index,
        const struct node *node, struct arena *arena, struct problem *ret_problem) {
    struct site *site = &reader->document->site;
    struct site_way *way = &site->ways[index];
    const struct site_pace pace = used_way_pace(site, used_way_walkers(site, (int)index));
    struct walk_place from;
    struct walk_place to;
    struct house_way found = {.tight = false};
    const bool drawn_ends = way->door >= 0 && house_ways_door(&drawn->house, way->door, &from) &&
            house_ways_keypad(&drawn->house, way->keypad, &to);
    if (drawn_ends) {
        TRY(house_ways_find(drawn->ways, from, to, &drawn->coverage, arena, &found, ret_problem));
    }
    if (found.way.count == 0) {
        reader_tell(reader, PROBLEM_MISSING, node,
                "how long from the last leg to the keypad? by the drawing %s; write last: 2..4 s",
                drawn_ends ? "no way leads there" : "its door or its keypad has no place");
    } else if (!drawn_way_legs(site, &drawn->coverage, &found, pace, way)) {
        reader_tell(reader, PROBLEM_LIMIT, node,
                "more than %d doors and detectors on this way; write its legs", SITE_LEG_MAX);
    }
    return outcome_good();
}

static outcome work_out_all(struct reader *reader, const struct node *root, struct arena *arena,
        struct problem *ret_problem) {
    struct site *site = &reader->document->site;
    const struct node *list = node_child(root, "ways");
    struct drawn drawn;
    TRY(make_drawn(site, arena, &drawn, ret_problem));
    for (size_t i = 0; i < site->way_count; i++) {
        if (site->ways[i].drawn && site->ways[i].keypad != SITE_NONE) {
            const size_t before = reader_enter(reader, "ways");
            (void)reader_enter_index(reader, i);
            const outcome worked =
                    work_out(reader, &drawn, i, node_item(list, i), arena, ret_problem);
            reader_leave(reader, before);
            TRY(worked);
        }
    }
    return drawn_steps_work_out(reader, &drawn, root, arena, ret_problem);
}

void settle_drawn_ways(struct reader *reader, const struct node *root) {
    struct arena arena;
    struct problem problem = {.kind = PROBLEM_NONE};
    bool any = drawn_steps_any(&reader->document->site);
    for (size_t i = 0; i < reader->document->site.way_count; i++) {
        any = any || reader->document->site.ways[i].drawn;
    }
    if (!any || reader->document->problem_count > 0 || reader->gatherer.refused) {
        return; /* a drawing that refers to what is not there is none yet */
    }
    arena_init(&arena, reader->document->arena.pages, 0);
    if (!work_out_all(reader, root, &arena, &problem).good) {
        if (problem.kind == PROBLEM_MEMORY) {
            reader->gatherer.refused = true;
        } else {
            reader_tell(reader, problem.kind, node_child(root, "building"),
                    "ways out of the drawing: %s", problem.text);
        }
    }
    arena_finish(&arena);
}
