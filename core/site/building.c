#include "site/building.h"

/* clang-format off */
static const char *const sides[SITE_SIDE_COUNT] = {"unsaid", "front", "right", "back", "left"};
static const char *const directions[SITE_DIRECTION_COUNT] = {
    "unsaid", "right", "back right", "back", "back left", "left", "front left", "front", "front right"};
static const char *const corners[SITE_CORNER_COUNT] = {"unsaid", "front left", "front right", "back right", "back left"};
static const char *const room_kinds[SITE_ROOM_KIND_COUNT] = {"room", "yard", "flat roof", "balcony"};
static const char *const fixtures[SITE_FIXTURE_COUNT] = {"nothing", "panel", "router", "mains", "line"};

/* What is usual of an opening, where nothing is said: house practice, but for doors and windows of the page's presets
 * (0.9 m door; 1.2 m window with its sill at 0.9 m). */
static const struct { const char *name; int32_t width_mm; int32_t height_mm; int32_t sill_mm; bool walked; }
openings[SITE_OPENING_KIND_COUNT] = {
    [SITE_OPENING_DOOR]       = {"door",        900, 2000,    0, true},
    [SITE_OPENING_WINDOW]     = {"window",     1200, 1200,  900, false},
    [SITE_OPENING_SLIDING]    = {"sliding door", 1800, 2000,  0, true},
    [SITE_OPENING_GARAGE]     = {"garage door", 2400, 2000,   0, true},
    [SITE_OPENING_ROOF_LIGHT] = {"roof light",  800,  800,    0, false},
    [SITE_OPENING_HATCH]      = {"hatch",       600,  600,    0, false},
    [SITE_OPENING_GAP]        = {"gap",         900, 2000,    0, true},
};
/* clang-format on */

const char *site_side_name(enum site_side side) {
    return sides[side];
}

const char *site_direction_name(enum site_direction direction) {
    return directions[direction];
}

const char *site_corner_name(enum site_corner corner) {
    return corners[corner];
}

const char *site_opening_kind_name(enum site_opening_kind kind) {
    return openings[kind].name;
}

const char *site_room_kind_name(enum site_room_kind kind) {
    return room_kinds[kind];
}

const char *site_fixture_name(enum site_fixture fixture) {
    return fixtures[fixture];
}

int32_t site_opening_width_mm(const struct site_opening *opening) {
    return opening->width_mm > 0 ? opening->width_mm : openings[opening->kind].width_mm;
}

int32_t site_opening_height_mm(const struct site_opening *opening) {
    return opening->height_mm > 0 ? opening->height_mm : openings[opening->kind].height_mm;
}

int32_t site_opening_sill_mm(const struct site_opening *opening) {
    return opening->sill_said ? opening->sill_mm : openings[opening->kind].sill_mm;
}

bool site_opening_is_walked(enum site_opening_kind kind) {
    return openings[kind].walked;
}

int32_t site_place_height_mm(const struct site_place *place) {
    enum { DETECTOR_MM = 2300, KEYPAD_MM = 1400, FIXTURE_MM = 1500, THING_MM = 1000 };
    if (place->height_mm > 0) {
        return place->height_mm;
    }
    /* Detectors: 2.3 to 2.7 m, trade training; the rest common practice. */
    return place->keypad >= 0                     ? KEYPAD_MM
            : place->fixture != SITE_FIXTURE_NONE ? FIXTURE_MM
            : place->protects.length > 0          ? THING_MM
                                                  : DETECTOR_MM;
}
