/* Signs of devices, each a shape of our own with the zone's number or a letter in it; the legend that names them. */
#include "plan/draw.h"

#include <math.h>
#include <string.h>

enum sign {
    SIGN_LOZENGE, /* contacts and shock detectors: they touch a frame */
    SIGN_SECTOR,  /* motion: points where it looks */
    SIGN_WEDGE,   /* glass-break */
    SIGN_HEXAGON, /* smoke, gas, water, buttons */
    SIGN_SQUARE,  /* keypads, router, mains, line */
    SIGN_BLOCK,   /* the panel */
    SIGN_HORN,    /* sirens */
    SIGN_TAG,     /* what is worth protecting */
};

/* A sign and what the legend says of it. mark: in it. at: its middle (of a sector: its tip). */
struct mark {
    enum sign sign;
    struct text mark;
    struct text says;
    struct point at;
    struct point faces;
};

enum {
    SIGN_TENTHS = 22,
    SECTOR_TENTHS = 58,
    MARK_TENTHS = 21,
    MARKS_MOST = DRAW_BOXES_MOST / 2,
    DIGITS = 3
};
static const double TAG_SHARE = 1.0;
static const double pi = 3.14159265358979323846;

static struct point round_at(struct point middle, double angle, double radius_mm) {
    return (struct point){middle.x_mm + (int32_t)lround(radius_mm * cos(angle)),
            middle.y_mm + (int32_t)lround(radius_mm * sin(angle))};
}

/* A regular polygon, its first corner at an angle. */
static void add_regular(struct drawer *drawer, enum picture_role role, struct point middle,
        size_t corners, double first, double radius_mm) {
    enum { MOST = 32 };
    struct point points[MOST];
    for (size_t i = 0; i < corners && i < MOST; i++) {
        points[i] = round_at(middle, first + 2 * pi * (double)i / (double)corners, radius_mm);
    }
    picture_add(drawer->out, role, PICTURE_AREA, points, corners, 0);
}

static double angle_of(struct point faces) {
    return atan2((double)faces.y_mm, (double)faces.x_mm);
}

enum { SECTOR_PIECES = 12, SECTOR_POINTS = SECTOR_PIECES + 2, TAG_POINTS = 5 };

/* A quarter disc: its tip, then its arc. */
static void sector_points(
        struct point tip, struct point faces, double radius_mm, struct point ret[SECTOR_POINTS]) {
    const double middle = angle_of(faces);
    ret[0] = tip;
    for (int i = 0; i <= SECTOR_PIECES; i++) {
        ret[i + 1] = round_at(tip, middle + pi / 2 * ((double)i / SECTOR_PIECES - 0.5), radius_mm);
    }
}

/* Hangs down to a point. */
static void tag_points(struct point at, double radius_mm, struct point ret[TAG_POINTS]) {
    const int32_t r = (int32_t)radius_mm;
    const struct point points[TAG_POINTS] = {{at.x_mm - r, at.y_mm + r},
            {at.x_mm - r, at.y_mm - r / 2}, {at.x_mm, at.y_mm - r * 3 / 2},
            {at.x_mm + r, at.y_mm - r / 2}, {at.x_mm + r, at.y_mm + r}};
    memcpy(ret, points, sizeof points);
}

static void add_sector(
        struct drawer *drawer, struct point tip, struct point faces, double radius_mm) {
    struct point points[SECTOR_POINTS];
    sector_points(tip, faces, radius_mm, points);
    picture_add(drawer->out, PICTURE_SIGN, PICTURE_AREA, points, SECTOR_POINTS, 0);
}

/* Its strokes go to where it faces: away from its wall. */
static void add_horn(
        struct drawer *drawer, struct point middle, struct point faces, double radius_mm) {
    enum { CORNERS = 24 };
    add_regular(drawer, PICTURE_SIGN, middle, CORNERS, 0, radius_mm);
    for (int i = -1; i <= 1; i++) {
        const double angle = angle_of(faces) + pi / 5 * i;
        picture_add_line(drawer->out, PICTURE_LEAF, round_at(middle, angle, radius_mm * 1.2),
                round_at(middle, angle, radius_mm * 1.7));
    }
}

static void add_tag(struct drawer *drawer, struct point at, double radius_mm) {
    struct point points[TAG_POINTS];
    tag_points(at, radius_mm, points);
    picture_add(drawer->out, PICTURE_SIGN, PICTURE_AREA, points, TAG_POINTS, 0);
}

/* The sign itself; its mark in the middle, of a sector further out. */
static void add_sign(struct drawer *drawer, const struct mark *mark) {
    const double size_mm = picture_paper(drawer->out, SIGN_TENTHS);
    const double wide_mm = mark->mark.length >= DIGITS ? size_mm * 1.3 : size_mm;
    struct point label = mark->at;
    switch (mark->sign) {
    case SIGN_LOZENGE:
        add_regular(drawer, PICTURE_SIGN, mark->at, 4, 0, wide_mm * 1.25);
        break;
    case SIGN_SECTOR:
        add_sector(drawer, mark->at, mark->faces, picture_paper(drawer->out, SECTOR_TENTHS));
        label = round_at(
                mark->at, angle_of(mark->faces), picture_paper(drawer->out, SECTOR_TENTHS) * 0.64);
        break;
    case SIGN_WEDGE:
        add_regular(drawer, PICTURE_SIGN, mark->at, 3, pi / 2, wide_mm * 1.5);
        break;
    case SIGN_HEXAGON:
        add_regular(drawer, PICTURE_SIGN, mark->at, 6, 0, wide_mm * 1.1);
        break;
    case SIGN_SQUARE:
        add_regular(drawer, PICTURE_SIGN, mark->at, 4, pi / 4, wide_mm * 1.25);
        break;
    case SIGN_BLOCK:
        add_regular(drawer, PICTURE_SIGN_DARK, mark->at, 4, pi / 4, wide_mm * 1.4);
        break;
    case SIGN_HORN:
        add_horn(drawer, mark->at, mark->faces, wide_mm);
        break;
    case SIGN_TAG:
        add_tag(drawer, mark->at, wide_mm * TAG_SHARE);
        break;
    }
    picture_add_text(drawer->out, mark->sign == SIGN_BLOCK ? PICTURE_MARK_LIGHT : PICTURE_MARK,
            label, PICTURE_MIDDLE, picture_paper(drawer->out, MARK_TENTHS), mark->mark);
}

/* ---- where signs stand */

/* What a sign covers: of those that reach further to one side, their outline. */
static void box_of(const struct drawer *drawer, const struct mark *mark, struct point *low,
        struct point *high) {
    struct point points[SECTOR_POINTS];
    size_t count = 0;
    if (mark->sign == SIGN_SECTOR) {
        sector_points(mark->at, mark->faces, picture_paper(drawer->out, SECTOR_TENTHS), points);
        count = SECTOR_POINTS;
    } else if (mark->sign == SIGN_TAG) {
        tag_points(mark->at, picture_paper(drawer->out, SIGN_TENTHS) * TAG_SHARE, points);
        count = TAG_POINTS;
    }
    const int32_t r = picture_paper(drawer->out, count > 0 ? 0 : SIGN_TENTHS + 4);
    *low = (struct point){mark->at.x_mm - r, mark->at.y_mm - r};
    *high = (struct point){mark->at.x_mm + r, mark->at.y_mm + r};
    for (size_t i = 0; i < count; i++) {
        low->x_mm = points[i].x_mm < low->x_mm ? points[i].x_mm : low->x_mm;
        low->y_mm = points[i].y_mm < low->y_mm ? points[i].y_mm : low->y_mm;
        high->x_mm = points[i].x_mm > high->x_mm ? points[i].x_mm : high->x_mm;
        high->y_mm = points[i].y_mm > high->y_mm ? points[i].y_mm : high->y_mm;
    }
}

double draw_overlap_of_signs(const struct drawer *drawer, struct point low, struct point high) {
    struct drawer signs = *drawer;
    signs.boxes = drawer->boxes + DRAW_BOXES_MOST - MARKS_MOST;
    signs.box_count = drawer->sign_count;
    return draw_overlap(&signs, low, high);
}

static double covered(const struct drawer *drawer, const struct mark *mark) {
    struct point low;
    struct point high;
    box_of(drawer, mark, &low, &high);
    return draw_overlap_of_signs(drawer, low, high);
}

/* Nearer than so to where it belongs one sees it without a line. */
static double leader_from_mm(const struct drawer *drawer) {
    return 2.0 * picture_paper(drawer->out, SIGN_TENTHS + 3);
}

/* How many signs the line from a sign to where it belongs runs under, the end of it left out. */
static size_t signs_under_leader(
        const struct drawer *drawer, const struct mark *mark, struct point true_at) {
    enum { STEPS = 24 };
    size_t count = 0;
    for (size_t i = 0; i < drawer->sign_count; i++) {
        const struct picture_box *box = &drawer->boxes[DRAW_BOXES_MOST - MARKS_MOST + i];
        bool under = false;
        for (int32_t step = 1; step < STEPS && !under; step++) {
            const struct point at = {true_at.x_mm + (mark->at.x_mm - true_at.x_mm) * step / STEPS,
                    true_at.y_mm + (mark->at.y_mm - true_at.y_mm) * step / STEPS};
            under = at.x_mm > box->low.x_mm && at.x_mm < box->high.x_mm &&
                    at.y_mm > box->low.y_mm && at.y_mm < box->high.y_mm;
        }
        count += under;
    }
    return count;
}

/* How badly a sign stands: in another room than it belongs to, on other signs (in mm2), or, where all else is equal,
 * its line under them. */
static double badness(
        const struct drawer *drawer, const struct mark *mark, struct point true_at, int room) {
    const bool astray =
            room != HOUSE_OUTSIDE && house_room_at(drawer->house, drawer->storey, mark->at) != room;
    const bool led = point_distance_mm(mark->at, true_at) > leader_from_mm(drawer);
    return covered(drawer, mark) + (astray ? 1e9 : 0) +
            (led ? (double)signs_under_leader(drawer, mark, true_at) : 0);
}

/* Draws the sign where no other stands: aside along its wall and into its room, with a line to where it belongs. What
 * points somewhere stays where it is. room: in which it must stay, or HOUSE_OUTSIDE. */
static void put(struct drawer *drawer, struct mark *mark, struct point along, int room) {
    enum { TRIES = 15 };
    const struct point true_at = mark->at;
    const struct point across = {-along.y_mm, along.x_mm};
    const double step_mm = picture_paper(drawer->out, SIGN_TENTHS + 3);
    struct mark best = *mark;
    for (int i = 0; i < TRIES * TRIES && mark->sign != SIGN_SECTOR &&
            badness(drawer, &best, true_at, room) > 0;
            i++) {
        /* Column by column, each one step further off than the one before: 0, 1, -1, 2 ... */
        const int rank[2] = {i / TRIES, i % TRIES};
        const int row = rank[0] % 2 == 0 ? rank[0] / 2 : -(rank[0] / 2 + 1);
        const int column = rank[1] % 2 == 0 ? rank[1] / 2 : -(rank[1] / 2 + 1);
        mark->at = draw_moved(draw_moved(true_at, along, column * step_mm), across, row * step_mm);
        if (badness(drawer, mark, true_at, room) < badness(drawer, &best, true_at, room)) {
            best = *mark;
        }
    }
    *mark = best;
    if (point_distance_mm(mark->at, true_at) > leader_from_mm(drawer)) {
        picture_add_line(drawer->out, PICTURE_LEADER, true_at, mark->at);
    }
    add_sign(drawer, mark);
    struct point low;
    struct point high;
    box_of(drawer, mark, &low, &high);
    draw_keep_clear(drawer, low, high);
    if (drawer->sign_count < MARKS_MOST) {
        drawer->boxes[DRAW_BOXES_MOST - MARKS_MOST + drawer->sign_count++] =
                (struct picture_box){low, high};
    }
}

static enum sign sign_of(enum site_sense sense) {
    switch (sense) {
    case SITE_CONTACT:
    case SITE_SHOCK:
        return SIGN_LOZENGE;
    case SITE_MOTION:
        return SIGN_SECTOR;
    case SITE_GLASS:
        return SIGN_WEDGE;
    case SITE_SMOKE:
    case SITE_GAS_SENSE:
    case SITE_WATER:
    case SITE_BUTTON:
    case SITE_SENSE_COUNT:
        return SIGN_HEXAGON;
    }
    return SIGN_HEXAGON;
}

static int opening_of(const struct drawer *drawer, int door) {
    const struct site_building *building = &drawer->site->building;
    for (size_t i = 0; door >= 0 && i < building->opening_count; i++) {
        const struct house_opening *opening = &drawer->house->openings[i];
        if (building->openings[i].door == door && opening->good && !opening->flat &&
                drawer->house->rooms[opening->room].storey == drawer->storey) {
            return (int)i;
        }
    }
    return SITE_NONE;
}

static int place_of(const struct drawer *drawer, int device) {
    const struct site_building *building = &drawer->site->building;
    for (size_t i = 0; device >= 0 && i < building->place_count; i++) {
        if (building->places[i].device == device) {
            return (int)i;
        }
    }
    return SITE_NONE;
}

static bool is_placed_here(const struct drawer *drawer, int place) {
    return place >= 0 && drawer->house->places[place].good &&
            drawer->house->rooms[drawer->house->places[place].room].storey == drawer->storey;
}

/* At a place: off its wall by its own size, so that it hangs on it. */
static void stand_at(
        const struct drawer *drawer, const struct house_place *place, struct mark *mark) {
    mark->faces =
            place->faces.x_mm == 0 && place->faces.y_mm == 0 ? (struct point){0, 1} : place->faces;
    mark->at = mark->sign == SIGN_SECTOR
            ? place->at
            : draw_moved(place->at, place->into, picture_paper(drawer->out, SIGN_TENTHS));
}

static struct point along_of(const struct house_place *place) {
    const struct point along = {-place->into.y_mm, place->into.x_mm};
    return along.x_mm == 0 && along.y_mm == 0 ? (struct point){1, 0} : along;
}

static struct text says_of(const struct drawer *drawer, struct text name, const char *kind) {
    return text_print(drawer->out->arena, "%.*s · %s", TEXT_ARGS(name), kind);
}

/* ---- all of them, in the order of the legend */

typedef void mark_function(
        struct drawer *drawer, struct mark *mark, struct point along, int room, void *context);

static void each_zone(struct drawer *drawer, mark_function *do_it, void *context) {
    for (size_t i = 0; i < drawer->site->zone_count; i++) {
        picture_about(drawer->out, "zones", i);
        const struct site_zone *zone = &drawer->site->zones[i];
        const enum site_sense sense = site_zone_sense(drawer->site, zone);
        const int opening = opening_of(drawer, site_zone_door(drawer->site, zone));
        const int place = place_of(drawer, zone->device);
        struct mark mark = {.sign = sign_of(sense),
                .mark = text_print(drawer->out->arena, "%d", zone->number),
                .says = says_of(drawer, zone->name, site_sense_name(sense))};
        if (is_placed_here(drawer, place)) {
            stand_at(drawer, &drawer->house->places[place], &mark);
            do_it(drawer, &mark, along_of(&drawer->house->places[place]),
                    drawer->house->places[place].room, context);
        } else if (opening != SITE_NONE) {
            /* Beside the frame on its closing side, within the room. */
            const struct house_opening *made = &drawer->house->openings[opening];
            const struct point in = point_step(made->far[0], made->near[0]);
            const struct point along = point_step(made->near[0], made->near[1]);
            const double r = picture_paper(drawer->out, SIGN_TENTHS) * 1.25;
            mark.sign = mark.sign == SIGN_SECTOR ? SIGN_LOZENGE : mark.sign;
            mark.at = draw_moved(draw_moved(made->near[1], in, r), along, r * 0.6);
            do_it(drawer, &mark, along, made->room, context);
        }
    }
}

/* The letter of the place, counted where there are several of a kind. */
static struct text letter(
        const struct drawer *drawer, const char *letter, size_t number, size_t of) {
    return of > 1 ? text_print(drawer->out->arena, "%s%zu", letter, number) : text_of(letter);
}

/* What sort of letter a place has; NULL: it is behind a zone, or nothing. */
static const char *letter_of(
        const struct drawer *drawer, const struct site_place *place, enum sign *ret_sign) {
    static const char *const fixtures[SITE_FIXTURE_COUNT] = {"", "P", "R", "M", "L"};
    const struct site *site = drawer->site;
    *ret_sign = SIGN_SQUARE;
    if (place->keypad >= 0) {
        return "K";
    }
    if (place->fixture != SITE_FIXTURE_NONE) {
        *ret_sign = place->fixture == SITE_FIXTURE_PANEL ? SIGN_BLOCK : SIGN_SQUARE;
        return fixtures[place->fixture];
    }
    if (place->protects.length > 0) {
        *ret_sign = SIGN_TAG;
        return "W";
    }
    for (size_t i = 0; i < site->zone_count; i++) {
        if (site->zones[i].device == place->device) {
            return NULL;
        }
    }
    const enum site_kind kind = site->device_profiles[site->devices[place->device].profile].kind;
    *ret_sign = kind == SITE_SIREN ? SIGN_HORN : SIGN_HEXAGON;
    return kind == SITE_SIREN ? "S" : "D";
}

static struct text says_of_place(const struct drawer *drawer, const struct site_place *place) {
    const struct site *site = drawer->site;
    if (place->keypad >= 0) {
        return site->keypads[place->keypad].name;
    }
    if (place->fixture != SITE_FIXTURE_NONE) {
        return text_of(site_fixture_name(place->fixture));
    }
    return place->protects.length > 0 ? says_of(drawer, place->protects, "worth protecting")
                                      : site->devices[place->device].name;
}

static void each_place(struct drawer *drawer, mark_function *do_it, void *context) {
    const struct site_building *building = &drawer->site->building;
    enum sign sign;
    for (size_t i = 0; i < building->place_count; i++) {
        const char *word = letter_of(drawer, &building->places[i], &sign);
        size_t number = 0;
        size_t of = 0;
        for (size_t j = 0; word != NULL && j < building->place_count; j++) {
            const char *other = letter_of(drawer, &building->places[j], &sign);
            of += other != NULL && other[0] == word[0];
            number += other != NULL && other[0] == word[0] && j <= i;
        }
        if (word == NULL || !is_placed_here(drawer, (int)i)) {
            continue;
        }
        (void)letter_of(drawer, &building->places[i], &sign);
        picture_about(drawer->out, "building.places", i);
        struct mark mark = {.sign = sign,
                .mark = letter(drawer, word, number, of),
                .says = says_of_place(drawer, &building->places[i])};
        stand_at(drawer, &drawer->house->places[i], &mark);
        do_it(drawer, &mark, along_of(&drawer->house->places[i]), drawer->house->places[i].room,
                context);
    }
}

/* In two rounds, as what points somewhere cannot give way. context: whether it is the round of these. */
static void put_one(
        struct drawer *drawer, struct mark *mark, struct point along, int room, void *context) {
    const bool pointing = *(const bool *)context;
    if ((mark->sign == SIGN_SECTOR) == pointing) {
        put(drawer, mark, along, room);
    }
}

void draw_signs(struct drawer *drawer) {
    bool pointing = true;
    each_zone(drawer, put_one, &pointing);
    pointing = false;
    each_zone(drawer, put_one, &pointing);
    each_place(drawer, put_one, &pointing);
    picture_about(drawer->out, NULL, 0);
}

/* They are put as they will be, on a sheet that is thrown away: what is drawn later moves none of them. */
void draw_foresee_signs(struct drawer *drawer) {
    struct picture thrown_away;
    struct drawer dry = *drawer;
    picture_init(&thrown_away, drawer->out->arena, drawer->out->scale);
    dry.out = &thrown_away;
    draw_signs(&dry);
    drawer->out->signs = drawer->boxes + DRAW_BOXES_MOST - MARKS_MOST;
    drawer->out->sign_count = dry.sign_count;
}

static void add_words(struct drawer *drawer, struct point at, struct text says) {
    picture_add_text(drawer->out, PICTURE_SMALL,
            (struct point){at.x_mm + picture_paper(drawer->out, 50), at.y_mm}, PICTURE_BEGIN,
            picture_paper(drawer->out, 24), says);
}

static void add_row(
        struct drawer *drawer, struct mark *mark, struct point along, int room, void *context) {
    struct point *at = context;
    const int32_t row_mm = picture_paper(drawer->out, 62);
    (void)along;
    (void)room;
    at->y_mm -= mark->sign == SIGN_SECTOR ? row_mm / 5 : 0;
    mark->faces = (struct point){1, 0};
    mark->at = mark->sign == SIGN_SECTOR
            ? (struct point){at->x_mm - picture_paper(drawer->out, 25), at->y_mm}
            : *at;
    add_sign(drawer, mark);
    add_words(drawer, *at, mark->says);
    at->y_mm -= mark->sign == SIGN_SECTOR ? row_mm * 6 / 5 : row_mm;
}

/* A swatch of a layer's role: a piece of area, or of line. */
static void add_swatch(struct drawer *drawer, const struct drawing_row *row, struct point at) {
    const int32_t wide_mm = picture_paper(drawer->out, 30);
    const int32_t high_mm = picture_paper(drawer->out, 18);
    if (row->form == PICTURE_LINE) {
        picture_add_line(drawer->out, row->role, (struct point){at.x_mm - wide_mm, at.y_mm},
                (struct point){at.x_mm + wide_mm, at.y_mm});
        return;
    }
    const struct point corners[4] = {{at.x_mm - wide_mm, at.y_mm - high_mm},
            {at.x_mm + wide_mm, at.y_mm - high_mm}, {at.x_mm + wide_mm, at.y_mm + high_mm},
            {at.x_mm - wide_mm, at.y_mm + high_mm}};
    picture_add(drawer->out, row->role, PICTURE_AREA, corners, 4, 0);
    picture_add(drawer->out, PICTURE_STEP, PICTURE_AREA, corners, 4, 0);
}

static bool is_drawn(const struct drawer *drawer, enum picture_role role) {
    for (size_t i = 0; i < drawer->out->count; i++) {
        if (drawer->out->shapes[i].role == role) {
            return true;
        }
    }
    return false;
}

void draw_legend(struct drawer *drawer, struct point at) {
    const int32_t row_mm = picture_paper(drawer->out, 62);
    at.y_mm -= picture_paper(drawer->out, 30);
    each_zone(drawer, add_row, &at);
    each_place(drawer, add_row, &at);
    for (size_t i = 0; i < drawer->lettered_count; i++) {
        picture_add_text(drawer->out, PICTURE_LABEL, at, PICTURE_MIDDLE,
                picture_paper(drawer->out, 24), draw_letter(drawer, i));
        add_words(drawer, at, drawer->site->building.rooms[drawer->lettered[i]].name);
        at.y_mm -= row_mm;
    }
    for (size_t i = 0; i < drawer->layer_count; i++) {
        for (size_t j = 0; j < drawer->layers[i].row_count; j++) {
            const struct drawing_row *row = &drawer->layers[i].rows[j];
            if (is_drawn(drawer, row->role)) {
                add_swatch(drawer, row, at);
                add_words(drawer, at, text_of(row->says));
                at.y_mm -= row_mm;
            }
        }
    }
}
