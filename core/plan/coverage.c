#include "plan/coverage.h"

#include "plan/house_walls.h"
#include "plan/recall.h"

#include <math.h>
#include <string.h>

static const double ACROSS_LEAST = 0.5; /* the sine of 30 degrees */
static const double PI = 3.14159265358979323846;

static outcome refuse_memory(struct problem *ret_problem) {
    FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for what detectors see");
}

/* What of the house is being looked at. */
struct looking {
    const struct house *house;
    const struct site_building *building;
    struct arena *arena;
    const struct segment **walls; /* by storey */
    size_t *wall_counts;
    const struct segment **bare; /* the same without furniture */
    size_t *bare_counts;
    struct coverage coverage;
};

static bool is_window(enum site_opening_kind kind) {
    return kind == SITE_OPENING_WINDOW || kind == SITE_OPENING_SLIDING;
}

/* Whether there is a pane to break: what it is made of says so, doors too; where nothing is said a window has one. */
static bool is_pane(const struct site_building *building, size_t index) {
    const struct site_opening *opening = &building->openings[index];
    return opening->material >= 0 ? building->materials.rows[opening->material].glass
                                  : is_window(opening->kind);
}

/* The middle of a pane, and the line it stands in on its room's side. */
static struct segment line_of(const struct house_opening *opening) {
    return (struct segment){opening->near[0], opening->near[1]};
}

static struct point middle_of(struct segment line) {
    return (struct point){(line.from.x_mm + line.to.x_mm) / 2, (line.from.y_mm + line.to.y_mm) / 2};
}

/* How far and wide a device sees or hears by its profile, the usual figures where that is silent. All round: one that
 * hears, and one of which nobody says where it looks. */
static struct pattern pattern_of(
        const struct site_device_profile *profile, struct point faces, bool *ret_assumed) {
    const bool hears = profile->sense == SITE_GLASS;
    const bool aimless = faces.x_mm == 0 && faces.y_mm == 0;
    struct pattern pattern = {.range_mm = hears ? COVERAGE_HEARS_MM : COVERAGE_RANGE_MM,
            .opening_deg = profile->curtain ? COVERAGE_CURTAIN_DEG : COVERAGE_OPENING_DEG};
    *ret_assumed = profile->range_mm == 0 || (!hears && !profile->angle.said);
    if (profile->range_mm > 0) {
        pattern.range_mm = profile->range_mm;
    }
    if (profile->angle.said) {
        pattern.opening_deg = (double)profile->angle.low / MEASURE_UNIT;
    }
    if (hears || aimless) {
        *ret_assumed = *ret_assumed || (!hears && pattern.opening_deg < 360);
        pattern.opening_deg = 360;
    }
    pattern.facing_deg = atan2(faces.y_mm, faces.x_mm) * 180 / PI;
    return pattern;
}

static const struct site_device_profile *profile_of(const struct site *site, int device) {
    const int profile = device >= 0 ? site->devices[device].profile : SITE_NONE;
    return profile >= 0 ? &site->device_profiles[profile] : NULL;
}

/* Furniture at least so high that stands in a room. holes: room for every piece of the house. */
static size_t list_holes(
        const struct house *house, int room, int32_t lowest_mm, struct outline *holes) {
    size_t count = 0;
    for (size_t i = 0; i < house->site->building.furniture_count; i++) {
        const struct site_furniture *written = &house->site->building.furniture[i];
        if (house->furniture[i].good && written->room == room && written->height_mm >= lowest_mm) {
            holes[count++] = (struct outline){house->furniture[i].corners, 4};
        }
    }
    return count;
}

static bool has_tall(const struct house *house, int room) {
    bool has = false;
    for (size_t i = 0; i < house->site->building.furniture_count; i++) {
        const struct site_furniture *written = &house->site->building.furniture[i];
        has = has || (written->room == room && written->height_mm >= COVERAGE_TALL_MM);
    }
    return has;
}

static int32_t ceiling_of(const struct house *house, int room) {
    const int32_t ceiling_mm = house->site->building.storeys[house->rooms[room].storey].ceiling_mm;
    return ceiling_mm > 0 ? ceiling_mm : COVERAGE_TALL_MM;
}

/* What a viewer sees; nothing where it looks along its own wall. */
static outcome see(const struct house *house, const struct sight_viewer *viewer,
        const struct segment *walls, size_t wall_count, struct arena *arena,
        struct sight_view *ret_view, struct problem *ret_problem) {
    struct problem problem = {0};
    *ret_view = (struct sight_view){.at = viewer->at};
    if (!recall_see(
                house->site->building.recall, viewer, walls, wall_count, arena, ret_view, &problem)
                    .good &&
            problem.kind != PROBLEM_BAD_VALUE) {
        FAIL(ret_problem, problem.kind, "", "%s", problem.text);
    }
    return outcome_good();
}

/* What of a room's floor views hold, where furniture from so high on is no floor. */
static outcome measure_floor(const struct house *house, int room, int32_t lowest_mm,
        const struct sight_view *views, size_t view_count, struct arena *arena,
        struct area *ret_floor, struct area *ret_blind, struct problem *ret_problem) {
    struct outline *holes =
            ARENA_ARRAY(arena, struct outline, house->site->building.furniture_count);
    if (holes == NULL) {
        return refuse_memory(ret_problem);
    }
    return recall_blind(house->site->building.recall, house->rooms[room].outline, holes,
            list_holes(house, room, lowest_mm, holes), views, view_count, arena, ret_floor,
            ret_blind, ret_problem);
}

/* The same of one view, as areas. */
static outcome measure_view(const struct house *house, int room, int32_t lowest_mm,
        const struct sight_view *view, struct arena *arena, double *ret_seen_m2,
        double *ret_floor_m2, struct problem *ret_problem) {
    struct area floor_area;
    struct area blind;
    TRY(measure_floor(house, room, lowest_mm, view, view->count > 0 ? 1 : 0, arena, &floor_area,
            &blind, ret_problem));
    *ret_floor_m2 = floor_area.area_m2;
    *ret_seen_m2 = floor_area.area_m2 - blind.area_m2;
    return outcome_good();
}

outcome coverage_floor(const struct house *house, int room, const struct sight_view *view,
        struct arena *arena, double *ret_seen_m2, double *ret_floor_m2,
        struct problem *ret_problem) {
    return measure_view(house, room, ceiling_of(house, room), view, arena, ret_seen_m2,
            ret_floor_m2, ret_problem);
}

/* How large a piece looks from where a viewer is: what an empty room would show of its sides' middles and corners, the
 * nearer the more. */
static double bulk_of(const struct sight_view *bare, const struct house_block *block) {
    double bulk = 0;
    for (size_t k = 0; k < 4; k++) {
        const struct segment side = {block->corners[k], block->corners[(k + 1) % 4]};
        const struct point middle = middle_of(side);
        const double off_mm = point_distance_mm(bare->at, middle) + 1;
        bulk += sight_view_holds(bare, middle) || sight_view_holds(bare, side.from)
                ? point_distance_mm(side.from, side.to) / off_mm
                : 0;
    }
    return bulk;
}

/* The tall piece of furniture in a room that stands most in the way of a view of the empty room. */
static int hider_of(const struct looking *looking, const struct sight_view *bare, int room) {
    int hider = SITE_NONE;
    double most = 0;
    for (size_t i = 0; i < looking->building->furniture_count; i++) {
        const struct site_furniture *written = &looking->building->furniture[i];
        const struct house_block *block = &looking->house->furniture[i];
        if (block->good && written->room == room && written->height_mm >= COVERAGE_TALL_MM &&
                bulk_of(bare, block) > most) {
            most = bulk_of(bare, block);
            hider = (int)i;
        }
    }
    return hider;
}

static outcome measure_own_room(struct looking *looking, struct coverage_view *view, int room,
        struct problem *ret_problem) {
    struct sight_view bare;
    double kept_m2 = 0;
    double open_m2 = 0;
    double floor_m2 = 0;
    TRY(coverage_floor(looking->house, room, &view->view, looking->arena, &view->room_m2, &floor_m2,
            ret_problem));
    if (!has_tall(looking->house, room)) {
        return outcome_good();
    }
    TRY(see(looking->house, &view->viewer, looking->bare[view->storey],
            looking->bare_counts[view->storey], looking->arena, &bare, ret_problem));
    TRY(measure_view(looking->house, room, COVERAGE_TALL_MM, &view->view, looking->arena, &kept_m2,
            &floor_m2, ret_problem));
    TRY(measure_view(looking->house, room, COVERAGE_TALL_MM, &bare, looking->arena, &open_m2,
            &floor_m2, ret_problem));
    view->hidden = open_m2 > kept_m2 ? 1 - kept_m2 / open_m2 : 0;
    view->hider = hider_of(looking, &bare, room);
    return outcome_good();
}

/* Whether a detector that sees or hears is there. */
static bool is_viewer(const struct house *house, size_t place) {
    const struct site_device_profile *profile =
            profile_of(house->site, house->site->building.places[place].device);
    return house->places[place].good && profile != NULL &&
            (profile->sense == SITE_MOTION || profile->sense == SITE_GLASS);
}

outcome coverage_look(const struct house *house, size_t place, const struct segment *walls,
        size_t wall_count, struct arena *arena, struct coverage_view *ret_view,
        struct problem *ret_problem) {
    const int device = house->site->building.places[place].device;
    const struct house_place *placed = &house->places[place];
    struct coverage_view view = {.place = place, .device = device, .hider = SITE_NONE};
    if (is_viewer(house, place)) {
        const struct site_device_profile *profile = profile_of(house->site, device);
        view.sense = profile->sense;
        view.storey = house->rooms[placed->room].storey;
        view.viewer = (struct sight_viewer){.at = placed->at, .into = placed->into};
        view.viewer.pattern = pattern_of(profile, placed->faces, &view.assumed);
        TRY(see(house, &view.viewer, walls, wall_count, arena, &view.view, ret_problem));
    }
    *ret_view = view;
    return outcome_good();
}

static outcome take_view(struct looking *looking, size_t place, struct problem *ret_problem) {
    const struct house *house = looking->house;
    struct coverage_view view;
    if (!is_viewer(house, place)) {
        return outcome_good();
    }
    const int room = house->places[place].room;
    const int storey = house->rooms[room].storey;
    TRY(coverage_look(house, place, looking->walls[storey], looking->wall_counts[storey],
            looking->arena, &view, ret_problem));
    if (view.sense == SITE_MOTION) {
        TRY(measure_own_room(looking, &view, room, ret_problem));
    }
    looking->coverage.views[looking->coverage.view_count++] = view;
    return outcome_good();
}

bool coverage_reaches(const struct sight_view *view, struct outline room) {
    bool apart[4] = {true, true, true, true}; /* wholly left of it, right, in front, behind */
    for (size_t i = 0; i < view->count; i++) {
        bool beside[4] = {true, true, true, true};
        for (size_t k = 0; k < room.count; k++) {
            beside[0] = beside[0] && view->corners[i].x_mm <= room.corners[k].x_mm;
            beside[1] = beside[1] && view->corners[i].x_mm >= room.corners[k].x_mm;
            beside[2] = beside[2] && view->corners[i].y_mm <= room.corners[k].y_mm;
            beside[3] = beside[3] && view->corners[i].y_mm >= room.corners[k].y_mm;
        }
        for (int k = 0; k < 4; k++) {
            apart[k] = apart[k] && beside[k];
        }
    }
    return !apart[0] && !apart[1] && !apart[2] && !apart[3];
}

/* What of each room none of its storey's motion detectors sees. */
static outcome measure_rooms(struct looking *looking, struct problem *ret_problem) {
    struct sight_view *views =
            ARENA_ARRAY(looking->arena, struct sight_view, looking->coverage.view_count);
    if (views == NULL) {
        return refuse_memory(ret_problem);
    }
    for (size_t i = 0; i < looking->building->room_count; i++) {
        const struct house_room *room = &looking->house->rooms[i];
        struct coverage_room *measured = &looking->coverage.rooms[i];
        size_t view_count = 0;
        if (!room->good || !room->inside) {
            continue;
        }
        for (size_t k = 0; k < looking->coverage.view_count; k++) {
            const struct coverage_view *view = &looking->coverage.views[k];
            if (view->storey == room->storey && view->sense == SITE_MOTION &&
                    coverage_reaches(&view->view, room->outline)) {
                views[view_count++] = view->view;
            }
        }
        struct area floor_area;
        TRY(measure_floor(looking->house, (int)i, ceiling_of(looking->house, (int)i), views,
                view_count, looking->arena, &floor_area, &measured->blind, ret_problem));
        measured->floor_m2 = floor_area.area_m2;
        measured->good = true;
    }
    return outcome_good();
}

static void hear_panes(struct looking *looking, size_t own) {
    const struct coverage_view *view = &looking->coverage.views[own];
    const int room = looking->house->places[view->place].room;
    for (size_t i = 0; i < looking->building->opening_count; i++) {
        const struct house_opening *opening = &looking->house->openings[i];
        if (!opening->good || opening->flat || (opening->room != room && opening->other != room) ||
                !is_pane(looking->building, i)) {
            continue;
        }
        const struct segment line = opening->room == room
                ? line_of(opening)
                : (struct segment){opening->far[0], opening->far[1]};
        struct coverage_pane pane = {.view = own, .opening = i};
        pane.distance_mm = point_distance_mm(view->viewer.at, middle_of(line));
        pane.width_mm = point_distance_mm(line.from, line.to);
        pane.seen_mm = sight_view_seen_mm(&view->view, line);
        pane.in_range = pane.distance_mm <= view->viewer.pattern.range_mm;
        pane.in_line = pane.seen_mm >= pane.width_mm / 2;
        looking->coverage.panes[looking->coverage.pane_count++] = pane;
    }
}

double coverage_crossing(const struct sight_view *view, struct point a, struct point b) {
    const struct point way = point_step(a, b);
    const double length_mm = point_distance_mm(a, b);
    const int steps = (int)(length_mm / COVERAGE_STEP_MM) + 1;
    double sum = 0;
    int seen = 0;
    for (int i = 0; i < steps && length_mm > 0; i++) {
        const double share = (i + 0.5) / steps;
        const struct point at = {a.x_mm + (int32_t)lround(share * way.x_mm),
                a.y_mm + (int32_t)lround(share * way.y_mm)};
        const struct point line = point_step(view->at, at);
        const double off_mm = point_distance_mm(view->at, at);
        if (off_mm > 0 && sight_view_holds(view, at)) {
            sum += fabs((double)point_cross(way, line)) / (length_mm * off_mm);
            seen++;
        }
    }
    return seen > 0 ? sum / seen : -1;
}

static void note(struct looking *looking, enum coverage_note_kind kind, size_t view, size_t index,
        double amount) {
    looking->coverage.notes[looking->coverage.note_count++] =
            (struct coverage_note){kind, view, index, amount};
}

/* Of all motion detectors on a storey. */
static double best_crossing(
        const struct looking *looking, int storey, struct point a, struct point b) {
    double best = -1;
    for (size_t i = 0; i < looking->coverage.view_count; i++) {
        const struct coverage_view *view = &looking->coverage.views[i];
        if (view->storey == storey && view->sense == SITE_MOTION) {
            best = fmax(best, coverage_crossing(&view->view, a, b));
        }
    }
    return best;
}

/* Somebody comes in by a door from outside and goes straight on. */
static void note_way_in(struct looking *looking, size_t own, size_t index) {
    const struct house_opening *opening = &looking->house->openings[index];
    const struct segment line = line_of(opening);
    const struct point middle = middle_of(line);
    const struct point outer = middle_of((struct segment){opening->far[0], opening->far[1]});
    const double thick_mm = point_distance_mm(outer, middle);
    if (thick_mm <= 0) {
        return;
    }
    const struct point step = point_step(outer, middle);
    const struct point goal = {
            middle.x_mm + (int32_t)lround(step.x_mm / thick_mm * COVERAGE_ALONG_MM),
            middle.y_mm + (int32_t)lround(step.y_mm / thick_mm * COVERAGE_ALONG_MM)};
    const double across = coverage_crossing(&looking->coverage.views[own].view, middle, goal);
    if (across >= 0 && across < ACROSS_LEAST &&
            best_crossing(looking, looking->coverage.views[own].storey, middle, goal) <
                    ACROSS_LEAST) {
        note(looking, COVERAGE_NOTE_ALONG, own, index, across);
    }
}

static void note_openings(struct looking *looking, size_t own) {
    const struct coverage_view *view = &looking->coverage.views[own];
    const int room = looking->house->places[view->place].room;
    for (size_t i = 0; i < looking->building->opening_count; i++) {
        const struct house_opening *opening = &looking->house->openings[i];
        const enum site_opening_kind kind = looking->building->openings[i].kind;
        if (!opening->good || opening->flat || opening->room != room ||
                !looking->house->rooms[room].inside ||
                !house_leads_outside(looking->house, opening)) {
            continue;
        }
        const double seen_mm = sight_view_seen_mm(&view->view, line_of(opening));
        if (is_window(kind) && seen_mm >= COVERAGE_GLASS_LEAST_MM) {
            note(looking, COVERAGE_NOTE_GLASS, own, i, seen_mm);
        }
        if (site_opening_is_walked(kind)) {
            note_way_in(looking, own, i);
        }
    }
}

static char small(char letter) {
    return letter >= 'A' && letter <= 'Z' ? (char)(letter - 'A' + 'a') : letter;
}

static bool says(struct text name, const char *word) {
    const size_t length = strlen(word);
    for (size_t i = 0; i + length <= name.length; i++) {
        size_t same = 0;
        while (same < length && small(name.start[i + same]) == word[same]) {
            same++;
        }
        if (same == length) {
            return true;
        }
    }
    return false;
}

/* The longest side of a box that is in sight; low ones have no side in the view: seen is then what it stands on. */
static double box_seen_mm(const struct sight_view *view, const struct house_block *block) {
    double most_mm = 0;
    for (size_t k = 0; k < 4; k++) {
        const struct segment side = {block->corners[k], block->corners[(k + 1) % 4]};
        const double whole_mm = point_distance_mm(side.from, side.to);
        const double seen_mm =
                sight_view_holds(view, middle_of(side)) ? whole_mm : sight_view_seen_mm(view, side);
        most_mm = seen_mm > most_mm ? seen_mm : most_mm;
    }
    return most_mm;
}

static void note_heat(struct looking *looking, size_t own) {
    static const char *const WORDS[] = {"radiator", "heater", "stove"};
    const struct coverage_view *view = &looking->coverage.views[own];
    const int room = looking->house->places[view->place].room;
    for (size_t i = 0; i < looking->building->furniture_count; i++) {
        const struct site_furniture *written = &looking->building->furniture[i];
        bool hot = false;
        for (size_t k = 0; k < sizeof WORDS / sizeof *WORDS; k++) {
            hot = hot || says(written->name, WORDS[k]);
        }
        if (hot && written->room == room && looking->house->furniture[i].good) {
            const double seen_mm = box_seen_mm(&view->view, &looking->house->furniture[i]);
            if (seen_mm >= COVERAGE_GLASS_LEAST_MM) {
                note(looking, COVERAGE_NOTE_HEAT, own, i, seen_mm);
            }
        }
    }
}

static outcome make_room(struct looking *looking, struct problem *ret_problem) {
    const struct site_building *building = looking->building;
    struct arena *arena = looking->arena;
    struct coverage *coverage = &looking->coverage;
    const size_t lines = building->place_count * building->opening_count;
    const struct house_walls_wish tall = house_walls_for_eyes(COVERAGE_TALL_MM);
    const struct house_walls_wish bare = house_walls_for_eyes(INT32_MAX);
    coverage->views = ARENA_ARRAY(arena, struct coverage_view, building->place_count);
    coverage->rooms = ARENA_ARRAY(arena, struct coverage_room, building->room_count);
    coverage->panes = ARENA_ARRAY(arena, struct coverage_pane, lines);
    coverage->notes = ARENA_ARRAY(arena, struct coverage_note,
            2 * lines + building->place_count * building->furniture_count);
    looking->walls = ARENA_ARRAY(arena, const struct segment *, building->storey_count);
    looking->wall_counts = ARENA_ARRAY(arena, size_t, building->storey_count);
    looking->bare = ARENA_ARRAY(arena, const struct segment *, building->storey_count);
    looking->bare_counts = ARENA_ARRAY(arena, size_t, building->storey_count);
    if (coverage->views == NULL || coverage->rooms == NULL || coverage->panes == NULL ||
            coverage->notes == NULL || looking->walls == NULL || looking->wall_counts == NULL ||
            looking->bare == NULL || looking->bare_counts == NULL) {
        return refuse_memory(ret_problem);
    }
    for (size_t i = 0; i < building->storey_count; i++) {
        TRY(house_walls(looking->house, (int)i, &tall, arena, &looking->walls[i],
                &looking->wall_counts[i], ret_problem));
        TRY(house_walls(looking->house, (int)i, &bare, arena, &looking->bare[i],
                &looking->bare_counts[i], ret_problem));
    }
    return outcome_good();
}

outcome coverage_make(const struct house *house, struct arena *arena, struct coverage *ret_coverage,
        struct problem *ret_problem) {
    struct looking looking = {.house = house, .building = &house->site->building, .arena = arena};
    TRY(make_room(&looking, ret_problem));
    for (size_t i = 0; i < looking.building->place_count; i++) {
        TRY(take_view(&looking, i, ret_problem));
    }
    TRY(measure_rooms(&looking, ret_problem));
    for (size_t i = 0; i < looking.coverage.view_count; i++) {
        if (looking.coverage.views[i].sense == SITE_GLASS) {
            hear_panes(&looking, i);
        } else {
            note_openings(&looking, i);
            note_heat(&looking, i);
        }
    }
    *ret_coverage = looking.coverage;
    return outcome_good();
}
