/* Ways in from outside that nobody hears, by the drawing: an opening in reach, the floor behind it, and how far one
 * gets from there. Where one walks within a room is not looked at: break-ins do that. */
#include "plan/coverage.h"
#include "rules/parts.h"
#include "rules/zones.h"

#include <math.h>

/* Points of the floor behind an opening at which somebody is looked for: so deep, at so many shares of its width. */
static const int32_t DEPTHS_MM[] = {300, 600, 900};
enum { DEPTHS = sizeof DEPTHS_MM / sizeof DEPTHS_MM[0], SHARES = 3 };

static bool is_heard_to_break(const struct rules_finder *finder, size_t opening) {
    const struct coverage *coverage = finder->coverage;
    for (size_t i = 0; i < coverage->pane_count; i++) {
        const struct coverage_pane *pane = &coverage->panes[i];
        if (pane->opening == opening && pane->in_range && pane->in_line &&
                rules_device_is_watched(finder->site, coverage->views[pane->view].device)) {
            return true;
        }
    }
    return false;
}

bool rules_opening_is_watched(const struct rules_finder *finder, size_t opening) {
    const struct site *site = finder->site;
    const int door = site->building.openings[opening].door;
    for (size_t i = 0; door >= 0 && i < site->zone_count; i++) {
        if (site_zone_door(site, &site->zones[i]) == door &&
                rules_is_watched_in_full(&site->zones[i])) {
            return true;
        }
    }
    return is_heard_to_break(finder, opening);
}

static bool is_seen(const struct rules_finder *finder, int storey, struct point at) {
    const struct coverage *coverage = finder->coverage;
    for (size_t i = 0; i < coverage->view_count; i++) {
        const struct coverage_view *view = &coverage->views[i];
        if (view->storey == storey && view->sense == SITE_MOTION &&
                rules_device_is_watched(finder->site, view->device) &&
                sight_view_holds(&view->view, at)) {
            return true;
        }
    }
    return false;
}

/* Whether a motion detector sees the floor that somebody steps on who comes through an opening into a room. */
static bool step_is_seen(const struct rules_finder *finder, size_t index, int room) {
    const struct house_opening *opening = &finder->house->openings[index];
    const bool back = opening->room != room;
    const struct point *jambs = back ? opening->far : opening->near;
    const struct point *others = back ? opening->near : opening->far;
    const struct point along = point_step(jambs[0], jambs[1]);
    const struct point in = point_step(others[0], jambs[0]);
    const double thick_mm = sqrt((double)point_dot(in, in));
    for (int i = 0; i < DEPTHS * SHARES && thick_mm > 0; i++) {
        const double share = (i % SHARES + 1.0) / (SHARES + 1);
        const double deep = DEPTHS_MM[i / SHARES] / thick_mm;
        const struct point at = {
                jambs[0].x_mm + (int32_t)lround(share * along.x_mm + deep * in.x_mm),
                jambs[0].y_mm + (int32_t)lround(share * along.y_mm + deep * in.y_mm)};
        if (is_seen(finder, finder->house->rooms[room].storey, at)) {
            return true;
        }
    }
    return false;
}

static bool is_inside(const struct rules_finder *finder, int room) {
    return room != HOUSE_OUTSIDE && finder->house->rooms[room].good &&
            finder->house->rooms[room].inside;
}

/* The room behind an opening that leads in from outside; HOUSE_OUTSIDE: it does not, or not in reach. */
static int room_behind(const struct rules_finder *finder, size_t index) {
    const struct house_opening *opening = &finder->house->openings[index];
    if (!opening->good || opening->flat || !opening->reached ||
            is_inside(finder, opening->room) == is_inside(finder, opening->other)) {
        return HOUSE_OUTSIDE;
    }
    return is_inside(finder, opening->room) ? opening->room : opening->other;
}

/* Adds the rooms next to one of those reached: through openings that nobody watches onto floor that nobody sees, and
 * over stairs. Whether there was one. */
static bool spread(const struct rules_finder *finder, bool *reached) {
    const struct site_building *building = &finder->site->building;
    bool more = false;
    for (size_t i = 0; i < building->opening_count; i++) {
        const struct house_opening *opening = &finder->house->openings[i];
        const int ends[2] = {opening->room, opening->other};
        for (int k = 0; k < 2 && opening->good && !opening->flat; k++) {
            const int from = ends[k];
            const int to = ends[1 - k];
            if (is_inside(finder, from) && is_inside(finder, to) && reached[from] && !reached[to] &&
                    !rules_opening_is_watched(finder, i) && !step_is_seen(finder, i, to)) {
                reached[to] = true;
                more = true;
            }
        }
    }
    for (size_t i = 0; i < building->stairs_count; i++) {
        const struct house_stairs *stairs = &finder->house->stairs[i];
        const int ends[2] = {building->stairs[i].room, building->stairs[i].to};
        const struct point landings[2] = {stairs->foot, stairs->head};
        for (int k = 0; k < 2 && stairs->good; k++) {
            const int to = ends[1 - k];
            if (reached[ends[k]] && !reached[to] &&
                    !is_seen(finder, finder->house->rooms[to].storey, landings[1 - k])) {
                reached[to] = true;
                more = true;
            }
        }
    }
    return more;
}

/* What somebody gets at in the rooms that he reaches: a place worth protecting, or the panel; SITE_NONE: nothing. */
static int prize(const struct rules_finder *finder, const bool *reached) {
    const struct site_building *building = &finder->site->building;
    for (size_t i = 0; i < building->place_count; i++) {
        const struct house_place *place = &finder->house->places[i];
        const struct site_place *written = &building->places[i];
        if (place->good && reached[place->room] &&
                (written->protects.length > 0 || written->fixture == SITE_FIXTURE_PANEL) &&
                !is_seen(finder, finder->house->rooms[place->room].storey, place->at)) {
            return (int)i;
        }
    }
    return SITE_NONE;
}

static struct text rooms_text(const struct rules_finder *finder, const bool *reached) {
    const struct site_building *building = &finder->site->building;
    struct text_builder out;
    text_builder_init(&out, finder->arena);
    for (size_t i = 0; i < building->room_count; i++) {
        if (reached[i]) {
            text_add_string(&out, out.length == 0 ? "" : ", ");
            text_add(&out, rules_named(finder, building->rooms[i].name));
        }
    }
    return text_built(&out);
}

/* variant: where there is something to get at. */
static void look_way_in(struct rules_finder *finder, const struct rules_check *check) {
    const struct site_building *building = &finder->site->building;
    for (size_t i = 0; finder->coverage != NULL && i < building->opening_count; i++) {
        const int room = room_behind(finder, i);
        if (room == HOUSE_OUTSIDE || rules_opening_is_watched(finder, i) ||
                step_is_seen(finder, i, room)) {
            continue;
        }
        bool *reached = ARENA_ARRAY(finder->arena, bool, building->room_count);
        if (reached == NULL) {
            return; /* the arena remembers it */
        }
        reached[room] = true;
        while (spread(finder, reached)) {
        }
        const int found = prize(finder, reached);
        if ((found != SITE_NONE) != check->variant) {
            continue;
        }
        struct words_about about = words_about_nothing();
        const struct house_opening *opening = &finder->house->openings[i];
        about.named = rules_named(finder, building->openings[i].name);
        about.other = rooms_text(finder, reached);
        about.detail = rules_where(finder, room, opening->near[0]);
        if (found != SITE_NONE) {
            const struct site_place *place = &building->places[found];
            about.detail = text_print(finder->arena, "%.*s; within reach: %.*s",
                    TEXT_ARGS(about.detail),
                    TEXT_ARGS(place->protects.length > 0 ? place->protects : text_of("the panel")));
        }
        rules_add(finder, check, &about, "building.openings[%zu]", i);
    }
}

static const struct rules_check rows[] = {
        {
                .id = "sight.way-in-unheard",
                .weight = FINDING_FAULT,
                .headline = "nobody hears who comes in by {named}",
                .why = "{detail}: no contact, no glass-break detector in range, and no motion "
                       "detector sees the floor behind it or on the way through {other}",
                .remedy = "a contact or glass-break detector for the opening, or a motion detector "
                          "that sees the room behind it; walk-test it",
                .source = "geometry; common practice",
                .look = look_way_in,
                .variant = true,
        },
        {
                .id = "sight.way-in-unheard",
                .weight = FINDING_NOTE,
                .headline = "who comes in by {named} is heard further inside only",
                .why = "{detail}: nothing watches it, and one walks unheard through {other}",
                .remedy = "a contact on it, where that is too far",
                .source = "geometry; common practice",
                .look = look_way_in,
        },
};

const struct rules_checks rules_ways_in = RULES_ROWS(rows);
