#include "radio/best.h"

#include "base/quantity.h"

#include <math.h>
#include <string.h>

/* Along the walls, and how far from one and above the floor such a thing hangs. House practice. */
static const double STEP_MM = 500;
static const double OFF_WALL_MM = 60;
static const double BESIDE_OPENING_MM = 150;
const double RADIO_BEST_HEIGHT_MM = 1500;

/* What the search goes by. links: those by the drawing, in the order of the devices. */
struct search {
    const struct site *site;
    const struct house *house;
    const struct radio_world *world;
    enum radio_sought sought;
    struct arena *arena;
    struct radio_spot panel;
    struct radio_site_link *links;
    size_t *order; /* in which they are looked at */
    size_t link_count;
    double typed_db; /* of the weakest link typed by hand, which no place changes */
    size_t typed_device;
    double sends_dbm; /* a repeater */
    struct radio_best *best;
};

/* The careful margin of a drawn link to a place. */
static outcome margin_to(const struct search *search, const struct radio_spot *spot, size_t which,
        double *ret_margin_db, struct problem *ret_problem) {
    struct radio_stretched stretched = {.count = 0};
    struct radio_site_link link;
    enum radio_lack lack = RADIO_LACKS_NOTHING;
    TRY(radio_site_link(search->site, search->house, spot, search->links[which].device,
            search->world, search->arena, &stretched, &link, &lack, ret_problem));
    *ret_margin_db = link.computed_low_dbm - link.sensitivity_dbm;
    if (search->sought == RADIO_SEEK_REPEATER) { /* it stands free of what surrounds the panel */
        *ret_margin_db += radio_behind_loss(search->site->supply.behind).high_db - link.gain.low_db;
    }
    return outcome_good();
}

/* What reaches the panel of what a repeater at a place sends: its careful margin. */
static outcome margin_from(const struct search *search, const struct radio_spot *spot,
        double *ret_margin_db, struct problem *ret_problem) {
    const struct radio_barriers barriers = {.building = &search->site->building,
            .frequency_hz = search->links[0].hz,
            .edition = search->world->edition,
            .floor = search->world->floor,
            .arena = search->arena};
    struct radio_stretched stretched = {.count = 0};
    struct radio_loss loss = {0, 0};
    TRY(radio_add_way(
            &barriers, search->house, spot, &search->panel, &loss, &stretched, ret_problem));
    *ret_margin_db = search->sends_dbm - search->links[0].sensitivity_dbm - loss.high_db -
            search->world->loss.high_db - search->world->shift_db -
            radio_behind_loss(search->site->supply.behind).high_db +
            (double)search->site->supply.gain.low / MEASURE_UNIT;
    return outcome_good();
}

/* What a link has with the panel, or the repeater, at the place: of the two ways to a repeated one, the better. */
static outcome link_at(const struct search *search, const struct radio_spot *spot, double on_db,
        size_t which, double *ret_db, struct problem *ret_problem) {
    TRY(margin_to(search, spot, which, ret_db, ret_problem));
    if (search->sought == RADIO_SEEK_REPEATER) {
        *ret_db = fmax(search->links[which].low_db, fmin(*ret_db, on_db));
    }
    return outcome_good();
}

/* The links that were too weak at the last places come first: one no better than the best place's weakest rules a place
 * out, and most places are ruled out by the same few. */
static void come_first(struct search *search, size_t at) {
    const size_t which = search->order[at];
    memmove(search->order + 1, search->order, at * sizeof search->order[0]);
    search->order[0] = which;
}

static outcome try_spot(
        struct search *search, const struct radio_spot *spot, struct problem *ret_problem) {
    double each_db[SITE_DEVICE_MAX];
    double on_db = 0;
    double weakest_db = search->typed_db;
    size_t weakest = search->typed_device;
    search->best->tried++;
    if (search->sought == RADIO_SEEK_REPEATER) {
        TRY(margin_from(search, spot, &on_db, ret_problem));
    }
    for (size_t i = 0; i < search->link_count; i++) {
        const size_t which = search->order[i];
        TRY(link_at(search, spot, on_db, which, &each_db[which], ret_problem));
        if (each_db[which] <= search->best->after_db) {
            come_first(search, i);
            return outcome_good();
        }
    }
    for (size_t i = 0; i < search->link_count; i++) {
        if (each_db[i] < weakest_db) {
            weakest_db = each_db[i];
            weakest = search->links[i].device;
        }
    }
    if (weakest_db > search->best->after_db) {
        search->best->after_db = weakest_db;
        search->best->after_device = weakest;
        search->best->spot = *spot;
        search->best->found = true;
    }
    return outcome_good();
}

/* How far a point is from the stretch between two others. */
static double distance_mm(double x_mm, double y_mm, const struct point stretch[2]) {
    const double dx = stretch[1].x_mm - stretch[0].x_mm;
    const double dy = stretch[1].y_mm - stretch[0].y_mm;
    const double square = dx * dx + dy * dy;
    const double share = square > 0
            ? fmin(1,
                      fmax(0,
                              ((x_mm - stretch[0].x_mm) * dx + (y_mm - stretch[0].y_mm) * dy) /
                                      square))
            : 0;
    return hypot(x_mm - stretch[0].x_mm - share * dx, y_mm - stretch[0].y_mm - share * dy);
}

/* Nothing hangs on a door or a window, nor behind a cupboard. */
static bool is_wall(const struct search *search, const struct radio_spot *spot) {
    const struct house *house = search->house;
    const struct site_building *building = &search->site->building;
    for (size_t i = 0; i < building->opening_count; i++) {
        const struct house_opening *opening = &house->openings[i];
        const struct point *jambs = opening->room == spot->room ? opening->near
                : opening->other == spot->room                  ? opening->far
                                                                : NULL;
        if (opening->good && !opening->flat && jambs != NULL &&
                distance_mm(spot->x_mm, spot->y_mm, jambs) < BESIDE_OPENING_MM) {
            return false;
        }
    }
    for (size_t i = 0; i < building->furniture_count; i++) {
        const struct point *corners = house->furniture[i].corners;
        if (house->furniture[i].good && building->furniture[i].room == spot->room &&
                building->furniture[i].height_mm > RADIO_BEST_HEIGHT_MM &&
                spot->x_mm >= corners[0].x_mm && spot->x_mm <= corners[2].x_mm &&
                spot->y_mm >= corners[0].y_mm && spot->y_mm <= corners[2].y_mm) {
            return false;
        }
    }
    return true;
}

/* The panel's antenna may hang elsewhere than the panel. */
static double height_mm(const struct search *search) {
    const int32_t antenna_mm = search->site->supply.antenna_mm;
    return search->sought == RADIO_SEEK_PANEL && antenna_mm > 0 ? antenna_mm : RADIO_BEST_HEIGHT_MM;
}

/* Along one wall of a room, a little inside of it. Outlines run to the left round: inside is to the left. */
static outcome try_wall(struct search *search, size_t room, struct point from, struct point to,
        struct problem *ret_problem) {
    const struct house_room *of = &search->house->rooms[room];
    const double dx = to.x_mm - from.x_mm;
    const double dy = to.y_mm - from.y_mm;
    const double length_mm = hypot(dx, dy);
    const size_t steps = (size_t)fmax(1, floor(length_mm / STEP_MM));
    for (size_t i = 0; i < steps && length_mm > 0; i++) {
        const double share = ((double)i + 0.5) / (double)steps;
        const struct radio_spot spot = {.storey = of->storey,
                .room = (int)room,
                .x_mm = from.x_mm + share * dx - OFF_WALL_MM * dy / length_mm,
                .y_mm = from.y_mm + share * dy + OFF_WALL_MM * dx / length_mm,
                .z_mm = search->site->building.storeys[of->storey].floor_mm + height_mm(search)};
        if (is_wall(search, &spot)) {
            TRY(try_spot(search, &spot, ret_problem));
        }
    }
    return outcome_good();
}

static outcome find_links(struct search *search, struct problem *ret_problem) {
    struct radio_stretched stretched = {.count = 0};
    for (size_t i = 0; i < search->site->device_count; i++) {
        struct radio_site_link link;
        enum radio_lack lack = RADIO_LACKS_NOTHING;
        TRY(radio_site_link(search->site, search->house, &search->panel, i, search->world,
                search->arena, &stretched, &link, &lack, ret_problem));
        if (lack != RADIO_LACKS_NOTHING) {
            continue;
        }
        if (link.low_db < search->best->before_db) {
            search->best->before_db = link.low_db;
            search->best->before_device = i;
        }
        if (link.typed && link.low_db < search->typed_db) {
            search->typed_db = link.low_db;
            search->typed_device = i;
        }
        if (!link.typed) {
            search->order[search->link_count] = search->link_count;
            search->links[search->link_count++] = link;
            search->sends_dbm = fmax(search->sends_dbm, link.power_dbm);
        }
    }
    if (search->site->panel.radiates.said) {
        search->sends_dbm = (double)search->site->panel.radiates.low / MEASURE_UNIT;
    }
    if (search->link_count == 0) {
        FAIL(ret_problem, PROBLEM_MISSING, "",
                "no link of the drawing can be worked out; a better place cannot be sought");
    }
    return outcome_good();
}

outcome radio_best_place(const struct site *site, const struct house *house,
        const struct radio_world *world, enum radio_sought sought, struct arena *arena,
        struct radio_best *ret_best, struct problem *ret_problem) {
    struct radio_best best = {.before_db = INFINITY, .after_db = -INFINITY};
    struct search search = {.site = site,
            .house = house,
            .world = world,
            .sought = sought,
            .arena = arena,
            .typed_db = INFINITY,
            .sends_dbm = -INFINITY,
            .best = &best};
    if (!radio_panel_spot(house, &search.panel)) {
        FAIL(ret_problem, PROBLEM_MISSING, "building.places",
                "a better place is sought in the drawing, which does not say where the panel is; "
                "add {is: panel, room: ...} under building.places");
    }
    search.links = ARENA_ARRAY(arena, struct radio_site_link, site->device_count + 1);
    search.order = ARENA_ARRAY(arena, size_t, site->device_count + 1);
    if (search.links == NULL || search.order == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to look for a better place");
    }
    TRY(find_links(&search, ret_problem));
    best.after_db = best.before_db;
    best.after_device = best.before_device;
    for (size_t i = 0; i < site->building.room_count; i++) {
        const struct house_room *room = &house->rooms[i];
        for (size_t k = 0; room->good && room->inside && k < room->outline.count; k++) {
            TRY(try_wall(&search, i, room->outline.corners[k],
                    room->outline.corners[(k + 1) % room->outline.count], ret_problem));
        }
    }
    *ret_best = best;
    return outcome_good();
}
