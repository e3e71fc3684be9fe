/* Walking times: what was measured counts, and one measurement of many walks is widened by the way's spread. */
#include "document/reader.h"

/* One walk is one walk: slower and quicker by the spread, outward to whole seconds. A from-to was measured as such. */
static struct span widened(struct span measured, int32_t spread_tenths) {
    if (measured.low_s != measured.high_s) {
        return measured;
    }
    const int64_t by = (int64_t)measured.low_s * spread_tenths;
    const int64_t low = ((int64_t)measured.low_s * 10 - by) / 10;
    const int64_t high = ((int64_t)measured.low_s * 10 + by + 9) / 10;
    return span_of((int32_t)low, (int32_t)high);
}

static struct span used(const struct site_walk *walk, int32_t spread_tenths) {
    return walk->has_measured     ? widened(walk->measured, spread_tenths)
            : walk->has_estimated ? walk->estimated
                                  : span_of(0, 0);
}

static void settle_legs(struct reader *reader, const struct node *node, struct site_way *way) {
    const struct node *legs = node_child(node, "legs");
    for (size_t i = 0; i < way->leg_count; i++) {
        struct site_leg *leg = &way->legs[i];
        const struct node *at = node_item(legs, i);
        leg->in = used(&leg->walk, way->spread_tenths);
        if (at != NULL && at->kind == NODE_MAP && node_child(at, "in") == NULL &&
                node_child(at, "measured") == NULL) {
            const size_t before = reader_enter(reader, "legs");
            (void)reader_enter_index(reader, i);
            reader_tell(reader, PROBLEM_MISSING, at,
                    "the key \"in\" is missing: how long after the leg before? write in: 2..3 s, "
                    "or "
                    "measured: 3 s");
            reader_leave(reader, before);
        }
    }
}

/* To a keypad, without a time, in a building that is drawn. */
static bool is_drawn(const struct reader *reader, const struct node *node) {
    static const char *const typed[] = {"legs", "last", "last-measured"};
    bool drawn = reader->document->site.building.said && node != NULL && node->kind == NODE_MAP &&
            node_child(node, "keypad") != NULL;
    for (size_t i = 0; i < sizeof typed / sizeof typed[0]; i++) {
        drawn = drawn && node_child(node, typed[i]) == NULL;
    }
    return drawn;
}

void settle_measured(struct reader *reader, const struct node *node, struct site_way *way) {
    way->closes = used(&way->closing, way->spread_tenths);
    way->last = used(&way->ending, way->spread_tenths);
    settle_legs(reader, node, way);
    way->drawn = is_drawn(reader, node);
    if (!way->drawn && node != NULL && node->kind == NODE_MAP &&
            node_child(node, "keypad") != NULL && node_child(node, "last") == NULL &&
            node_child(node, "last-measured") == NULL) {
        reader_tell(reader, PROBLEM_MISSING, node,
                "how long from the last leg to the keypad? write last: 2..4 s, or last-measured: 3 "
                "s; with a drawing (building:) it is worked out");
    }
}
