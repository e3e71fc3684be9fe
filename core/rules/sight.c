/* What detectors see and hear of the drawing, held against what they are to see and hear. */
#include "plan/coverage_corner.h"
#include "rules/parts.h"
#include "rules/zones.h"

#include <math.h>

/* House practice: a detector that loses so much to furniture misses its task, or may; one that sees less of a room
 * that is blind by half is not looking at it. Animals get on what is so high and so near, which lifts them into the
 * upper beams (common practice). */
static const double HIDDEN_FAULT = 0.5;
static const double HIDDEN_RISK = 0.25;
static const double ROOM_LEAST = 0.3;
static const double BLIND_LEAST = 0.5;
static const double BETTER_LEAST = 0.1; /* of the room: less is not worth another place */
enum { CLIMBED_LEAST_MM = 300, CLIMBED_NEAR_MM = 2000, PERCENT = 100 };

static int percent(double share) {
    return (int)lround(PERCENT * share);
}

static const struct site_device_profile *profile_of(const struct site *site, int device) {
    const int profile = device >= 0 ? site->devices[device].profile : SITE_NONE;
    return profile == SITE_NONE ? NULL : &site->device_profiles[profile];
}

static const struct house_place *place_of(
        const struct rules_finder *finder, const struct coverage_view *view) {
    return &finder->house->places[view->place];
}

/* About a detector: its name, and where it is in {detail}. */
static struct words_about about_view(
        const struct rules_finder *finder, const struct coverage_view *view) {
    const struct house_place *place = place_of(finder, view);
    struct words_about about = words_about_nothing();
    about.named = rules_named(finder, finder->site->devices[view->device].name);
    about.detail = rules_where(finder, place->room, place->at);
    return about;
}

static struct text room_name(const struct rules_finder *finder, const struct coverage_view *view) {
    return rules_named(finder, finder->site->building.rooms[place_of(finder, view)->room].name);
}

/* What a row asks of one detector: whether it is found, and then what {other} and more of {detail} say. */
typedef bool view_question(struct rules_finder *finder, const struct rules_check *check,
        const struct coverage_view *view, struct words_about *about);

static void each_view(struct rules_finder *finder, const struct rules_check *check,
        enum site_sense sense, view_question *question) {
    for (size_t i = 0; finder->coverage != NULL && i < finder->coverage->view_count; i++) {
        const struct coverage_view *view = &finder->coverage->views[i];
        struct words_about about = about_view(finder, view);
        if (view->sense == sense && question(finder, check, view, &about)) {
            rules_add(finder, check, &about, "building.places[%zu]", view->place);
        }
    }
}

/* ---- furniture, walls */

/* "front left, " and so on, of a corner that is one of its room's box; else nothing. */
static const char *corner_name(const struct house_room *room, struct point at) {
    const bool left = at.x_mm == room->low.x_mm;
    const bool front = at.y_mm == room->low.y_mm;
    const bool is_box =
            (left || at.x_mm == room->high.x_mm) && (front || at.y_mm == room->high.y_mm);
    return !is_box          ? ""
            : front && left ? "front left, "
            : front         ? "front right, "
            : left          ? "back left, "
                            : "back right, ";
}

/* What to change: the corner from which it would see most, if that is worth the way; else what is in its way. */
static struct text better_corner(
        const struct rules_finder *finder, const struct coverage_view *view) {
    struct coverage_corner corner;
    struct problem problem = {.kind = PROBLEM_NONE};
    const bool found =
            coverage_best_corner(finder->house, view, finder->arena, &corner, &problem).good;
    if (!found && problem.kind == PROBLEM_MEMORY) {
        finder->arena->refused = true; /* of the geometry's memory the arena knows nothing */
    }
    if (!found || corner.seen_m2 - view->room_m2 < BETTER_LEAST * corner.floor_m2) {
        return text_of("the furniture away, or another place");
    }
    const int room = place_of(finder, view)->room;
    return text_print(finder->arena, "in the corner %s%.*s it would see %d %% of %.*s",
            corner_name(&finder->house->rooms[room], corner.at),
            TEXT_ARGS(rules_where(finder, room, corner.at)),
            percent(corner.seen_m2 / corner.floor_m2), TEXT_ARGS(room_name(finder, view)));
}

/* variant: so much that it is a fault. */
static bool is_hidden(struct rules_finder *finder, const struct rules_check *check,
        const struct coverage_view *view, struct words_about *about) {
    const struct site_building *building = &finder->site->building;
    if (view->hidden < HIDDEN_RISK || (view->hidden >= HIDDEN_FAULT) != check->variant) {
        return false;
    }
    about->other = view->hider == SITE_NONE
            ? text_of("furniture")
            : rules_named(finder, building->furniture[view->hider].name);
    about->detail = text_print(finder->arena,
            "%.*s it sees %.1f m² of %.*s: furniture hides %d %% of what it would see without",
            TEXT_ARGS(about->detail), view->room_m2, TEXT_ARGS(room_name(finder, view)),
            percent(view->hidden));
    about->advice = better_corner(finder, view);
    return true;
}

static void look_hidden(struct rules_finder *finder, const struct rules_check *check) {
    each_view(finder, check, SITE_MOTION, is_hidden);
}

/* Furniture apart, and curtains, which are to see little. */
static bool sees_little(struct rules_finder *finder, const struct rules_check *check,
        const struct coverage_view *view, struct words_about *about) {
    const struct coverage_room *room = &finder->coverage->rooms[place_of(finder, view)->room];
    (void)check;
    if (!room->good || profile_of(finder->site, view->device)->curtain ||
            view->hidden >= HIDDEN_RISK || view->room_m2 >= ROOM_LEAST * room->floor_m2 ||
            room->blind.area_m2 < BLIND_LEAST * room->floor_m2) {
        return false;
    }
    about->detail = text_print(finder->arena, "%.*s it sees %.1f m² of %.1f m²",
            TEXT_ARGS(about->detail), view->room_m2, room->floor_m2);
    about->other = room_name(finder, view);
    about->advice = better_corner(finder, view);
    return true;
}

static void look_little(struct rules_finder *finder, const struct rules_check *check) {
    each_view(finder, check, SITE_MOTION, sees_little);
}

/* ---- glass */

/* A pane in reach from outside that the detector of its room does not hear, and nothing else watches. */
static bool is_unheard(const struct rules_finder *finder, const struct coverage_pane *pane) {
    return !(pane->in_range && pane->in_line) && finder->house->openings[pane->opening].reached &&
            !rules_opening_is_watched(finder, pane->opening);
}

static void look_glass(struct rules_finder *finder, const struct rules_check *check) {
    const struct site_building *building = &finder->site->building;
    for (size_t i = 0; finder->coverage != NULL && i < finder->coverage->pane_count; i++) {
        const struct coverage_pane *pane = &finder->coverage->panes[i];
        const struct coverage_view *view = &finder->coverage->views[pane->view];
        if (!is_unheard(finder, pane)) {
            continue;
        }
        struct words_about about = about_view(finder, view);
        about.other = rules_named(finder, building->openings[pane->opening].name);
        about.detail = pane->in_range
                ? text_print(finder->arena, "%.*s it has %d %% of the glass in line",
                          TEXT_ARGS(about.detail), percent(pane->seen_mm / pane->width_mm))
                : text_print(finder->arena, "%.*s it is %.1f m off, and it hears %.*s far%s",
                          TEXT_ARGS(about.detail), pane->distance_mm / 1000,
                          TEXT_ARGS(rules_length(finder, view->viewer.pattern.range_mm)),
                          view->assumed ? " (assumed: its profile is silent)" : "");
        rules_add(finder, check, &about, "building.places[%zu]", view->place);
    }
}

/* Not a pane, and none that is told of already. */
static bool hears_nothing(struct rules_finder *finder, const struct rules_check *check,
        const struct coverage_view *view, struct words_about *about) {
    const size_t own = (size_t)(view - finder->coverage->views);
    (void)check;
    for (size_t i = 0; i < finder->coverage->pane_count; i++) {
        const struct coverage_pane *pane = &finder->coverage->panes[i];
        if (pane->view == own && ((pane->in_range && pane->in_line) || is_unheard(finder, pane))) {
            return false;
        }
    }
    about->other = room_name(finder, view);
    return true;
}

static void look_no_glass(struct rules_finder *finder, const struct rules_check *check) {
    each_view(finder, check, SITE_GLASS, hears_nothing);
}

/* ---- what it looks at */

/* The names of what a view has notes of one kind about. Empty: none. */
static struct text noted(const struct rules_finder *finder, const struct coverage_view *view,
        enum coverage_note_kind kind) {
    const struct site_building *building = &finder->site->building;
    struct text_builder out;
    text_builder_init(&out, finder->arena);
    for (size_t i = 0; i < finder->coverage->note_count; i++) {
        const struct coverage_note *note = &finder->coverage->notes[i];
        if (note->kind == kind && &finder->coverage->views[note->view] == view) {
            text_add_string(&out, out.length == 0 ? "" : ", ");
            text_add(&out,
                    rules_named(finder,
                            kind == COVERAGE_NOTE_HEAT ? building->furniture[note->index].name
                                                       : building->openings[note->index].name));
        }
    }
    return text_built(&out);
}

static bool note_says(struct rules_finder *finder, const struct coverage_view *view,
        enum coverage_note_kind kind, struct words_about *about) {
    about->other = noted(finder, view, kind);
    return about->other.length > 0;
}

static bool looks_along(struct rules_finder *finder, const struct rules_check *check,
        const struct coverage_view *view, struct words_about *about) {
    (void)check;
    return note_says(finder, view, COVERAGE_NOTE_ALONG, about);
}

static bool looks_at_glass(struct rules_finder *finder, const struct rules_check *check,
        const struct coverage_view *view, struct words_about *about) {
    (void)check;
    return !profile_of(finder->site, view->device)->curtain &&
            note_says(finder, view, COVERAGE_NOTE_GLASS, about);
}

static bool looks_at_heat(struct rules_finder *finder, const struct rules_check *check,
        const struct coverage_view *view, struct words_about *about) {
    (void)check;
    return note_says(finder, view, COVERAGE_NOTE_HEAT, about);
}

static void look_along(struct rules_finder *finder, const struct rules_check *check) {
    each_view(finder, check, SITE_MOTION, looks_along);
}

static void look_sun(struct rules_finder *finder, const struct rules_check *check) {
    each_view(finder, check, SITE_MOTION, looks_at_glass);
}

static void look_heat(struct rules_finder *finder, const struct rules_check *check) {
    each_view(finder, check, SITE_MOTION, looks_at_heat);
}

/* ---- how high, and animals */

static bool hangs_wrong(struct rules_finder *finder, const struct rules_check *check,
        const struct coverage_view *view, struct words_about *about) {
    const struct measure mounted = profile_of(finder->site, view->device)->mounted;
    const int32_t height_mm = place_of(finder, view)->height_mm;
    (void)check;
    if (!mounted.said ||
            (height_mm >= mounted.low / MEASURE_UNIT && height_mm <= mounted.high / MEASURE_UNIT)) {
        return false;
    }
    about->other = rules_length(finder, height_mm);
    about->detail = text_print(finder->arena, "%.*s to %.*s",
            TEXT_ARGS(rules_length(finder, mounted.low / MEASURE_UNIT)),
            TEXT_ARGS(rules_length(finder, mounted.high / MEASURE_UNIT)));
    return true;
}

static void look_height(struct rules_finder *finder, const struct rules_check *check) {
    each_view(finder, check, SITE_MOTION, hangs_wrong);
    each_view(finder, check, SITE_GLASS, hangs_wrong);
}

/* The heaviest animal of the site of which it is said; SITE_NONE: none. */
static int heaviest(const struct site *site) {
    int found = SITE_NONE;
    for (size_t i = 0; i < site->person_count; i++) {
        const struct site_person *person = &site->people[i];
        if (person->animal && person->weighs.said &&
                (found < 0 || person->weighs.high > site->people[found].weighs.high)) {
            found = (int)i;
        }
    }
    return found;
}

/* The modes in which a zone of the device is live, by name: "full and night". */
static struct text live_modes(const struct rules_finder *finder, int device) {
    const struct site *site = finder->site;
    struct text live = text_of("");
    struct text last = text_of("");
    for (size_t mode = 0; mode < site->settings.mode_count; mode++) {
        bool is_live = false;
        for (size_t i = 0; i < site->zone_count; i++) {
            is_live = is_live ||
                    (site->zones[i].device == device && site->zones[i].in[mode] != SITE_OUT);
        }
        if (is_live) {
            live = last.length == 0 ? live
                    : live.length == 0
                    ? last
                    : text_print(finder->arena, "%.*s, %.*s", TEXT_ARGS(live), TEXT_ARGS(last));
            last = site->settings.modes[mode].name;
        }
    }
    return live.length == 0
            ? last
            : text_print(finder->arena, "%.*s and %.*s", TEXT_ARGS(live), TEXT_ARGS(last));
}

/* Without a drawing as well: a profile and a weight are all it takes. */
static void look_heavy(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    const int animal = heaviest(site);
    for (size_t i = 0; animal >= 0 && i < site->device_count; i++) {
        const struct site_device_profile *profile = profile_of(site, (int)i);
        const struct measure weighs = site->people[animal].weighs;
        if (profile == NULL || !profile->overlooks.said || weighs.high <= profile->overlooks.low ||
                !rules_device_is_watched(site, (int)i)) {
            continue;
        }
        struct words_about about = words_about_nothing();
        about.person = animal;
        about.named = rules_named(finder, site->devices[i].name);
        about.detail = rules_measure(finder, QUANTITY_MASS_KG, weighs);
        about.other = rules_measure(finder, QUANTITY_MASS_KG, profile->overlooks);
        about.advice = live_modes(finder, (int)i);
        rules_add(finder, check, &about, "devices[%zu].profile", i);
    }
}

static bool has_animal(const struct site *site) {
    bool has = false;
    for (size_t i = 0; i < site->person_count; i++) {
        has = has || site->people[i].animal;
    }
    return has;
}

/* How far a point is from a rectangle that lies with the axes. */
static double off_block_mm(const struct house_block *block, struct point at) {
    const struct point low = block->corners[0];
    const struct point high = block->corners[2];
    const double x = fmax(fmax(low.x_mm - at.x_mm, at.x_mm - high.x_mm), 0);
    const double y = fmax(fmax(low.y_mm - at.y_mm, at.y_mm - high.y_mm), 0);
    return sqrt(x * x + y * y);
}

static bool is_climbed(struct rules_finder *finder, const struct rules_check *check,
        const struct coverage_view *view, struct words_about *about) {
    const struct site_building *building = &finder->site->building;
    (void)check;
    for (size_t i = 0; i < building->furniture_count; i++) {
        const struct site_furniture *written = &building->furniture[i];
        const struct house_block *block = &finder->house->furniture[i];
        if (block->good && written->room == place_of(finder, view)->room &&
                written->height_mm >= CLIMBED_LEAST_MM && written->height_mm < COVERAGE_TALL_MM &&
                off_block_mm(block, view->viewer.at) <= CLIMBED_NEAR_MM) {
            about->other = rules_named(finder, written->name);
            return profile_of(finder->site, view->device)->overlooks.said;
        }
    }
    return false;
}

static void look_climbed(struct rules_finder *finder, const struct rules_check *check) {
    if (has_animal(finder->site)) {
        each_view(finder, check, SITE_MOTION, is_climbed);
    }
}

static void look_not_computed(struct rules_finder *finder, const struct rules_check *check) {
    if (finder->house != NULL && finder->coverage == NULL) {
        struct words_about about = words_about_nothing();
        about.detail = text_print(finder->arena, "%s", finder->blind_reason);
        rules_add(finder, check, &about, "building");
    }
}

static const struct rules_check rows[] = {
        {
                .id = "sight.behind-furniture",
                .weight = FINDING_FAULT,
                .headline = "{named} hangs behind {other}",
                .why = "{detail}",
                .remedy = "{advice}; then walk-test it",
                .source = "geometry; house practice",
                .look = look_hidden,
                .variant = true,
        },
        {
                .id = "sight.behind-furniture",
                .weight = FINDING_RISK,
                .headline = "{other} hides a part of its room from {named}",
                .why = "{detail}",
                .remedy = "{advice}; then walk-test it",
                .source = "geometry; house practice",
                .look = look_hidden,
        },
        {
                .id = "sight.sees-little",
                .weight = FINDING_RISK,
                .headline = "{named} sees little of {other}",
                .why = "{detail}, and no other detector sees the rest",
                .remedy = "{advice}; then walk-test it",
                .source = "geometry; house practice",
                .look = look_little,
        },
        {
                .id = "sight.glass-unheard",
                .weight = FINDING_FAULT,
                .headline = "{named} does not hear {other} break",
                .why = "{detail}",
                .remedy = "the detector nearer and in line, another one, or a contact or shock "
                          "detector on the frame",
                .source = "the device's profile; common practice: half of the glass in line",
                .look = look_glass,
        },
        {
                .id = "sight.glass-nothing",
                .weight = FINDING_RISK,
                .headline = "{named} hears no glass",
                .why = "{detail} it has no pane of {other} in range and in line",
                .remedy = "it belongs where glass is",
                .source = "the device's profile; common practice",
                .look = look_no_glass,
        },
        {
                .id = "sight.along",
                .weight = FINDING_NOTE,
                .headline = "who comes in by {other} walks along the sight of {named}, not across",
                .why = "{detail}; it notices best who crosses in front of it",
                .remedy = "a place to the side of the way in",
                .source = "common practice",
                .look = look_along,
        },
        {
                .id = "sight.sun",
                .weight = FINDING_NOTE,
                .headline = "{named} looks at {other}: is there sun on it?",
                .why = "{detail}; warmth that comes and goes looks like somebody who moves",
                .remedy = "a place from which it looks away from the glass",
                .source = "common practice",
                .look = look_sun,
        },
        {
                .id = "sight.heat",
                .weight = FINDING_NOTE,
                .headline = "{named} looks at {other}",
                .why = "{detail}; warm air that rises looks like somebody who moves",
                .remedy = "a place from which it looks away from it",
                .source = "common practice",
                .look = look_heat,
        },
        {
                .id = "sight.height",
                .weight = FINDING_RISK,
                .headline = "{named} hangs {other} high",
                .why = "its profile has {detail}: from there it sees and hears as its manual says",
                .remedy = "that height, or height: of its place as it is",
                .source = "the device's profile",
                .look = look_height,
        },
        {
                .id = "sight.animal-heavy",
                .weight = FINDING_RISK,
                .headline = "{named} does not overlook {person}",
                .why = "{person} weighs {detail}, and the profile says {other} at most",
                .remedy = "it is live in {advice}: leave it out where {person} stays behind in "
                          "that mode, or shut {person} out of its sight",
                .source = "the device's profile",
                .look = look_heavy,
        },
        {
                .id = "sight.animal-climbs",
                .weight = FINDING_NOTE,
                .headline = "an animal on {other} is near to {named}",
                .why = "{detail}; what climbs is no longer on the floor, where it is overlooked",
                .remedy = "a place away from what an animal climbs on",
                .source = "common practice",
                .look = look_climbed,
        },
        {
                .id = "sight.not-computed",
                .weight = FINDING_RISK,
                .headline = "what the detectors see is not computed",
                .why = "{detail}",
                .remedy = "a simpler drawing",
                .source = "house practice",
                .look = look_not_computed,
        },
};

const struct rules_checks rules_sight = RULES_ROWS(rows);
