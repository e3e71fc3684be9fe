#include "sums/radio_site.h"

#include "radio/crossed.h"
#include "radio/link.h"
#include "radio/supervise.h"
#include "sums/walls.h"

#include <string.h>

enum {
    MHZ,
    POWER,
    SENSITIVITY,
    LOSS,
    SPREAD,
    RESERVE,
    FLOOR,
    BAD_SHARE,
    BAD_LASTS,
    BAD_LOSS,
    EDITION
};

#define DBM_OPTION(named, least, most, text)                                                       \
    {                                                                                              \
        .name = (named), .takes = SUMS_QUANTITY, .kind = QUANTITY_POWER_DBM, .low = (least),       \
        .high = (most), .shown = "DBM", .help = (text)                                             \
    }

static const struct sums_option options[] = {
        [MHZ] = SUMS_OPTION_MHZ,
        [POWER] = DBM_OPTION("power", -60, 40,
                "what a device radiates (EIRP; e.r.p. is 2.15 dB less), -14.4dBm or 10mW"),
        [SENSITIVITY] = DBM_OPTION(
                "sensitivity", -150, 0, "what the panel's receiver needs, such as -105dBm"),
        [LOSS] = {.name = "loss",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_LEVEL_DB,
                .low = 0,
                .high = 100,
                .usual = "5..15 dB",
                .from_to = true,
                .shown = "DB",
                .help = "lost by antennas, mounting, furniture, bodies"},
        [SPREAD] = {.name = "spread",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_LEVEL_DB,
                .low = 1,
                .high = 20,
                .usual = "8 dB",
                .shown = "DB",
                .help = "how far places deviate, one standard deviation"},
        [RESERVE] = {.name = "reserve",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_LEVEL_DB,
                .low = 0,
                .high = 40,
                .usual = "0 dB",
                .shown = "DB",
                .help = "what a rule set wants to be left over"},
        [FLOOR] = {.name = "floor",
                .takes = SUMS_WORD,
                .usual = "",
                .shown = "LAYERS",
                .help = "what floors are made of, such as concrete:200mm; else of wood"},
        [BAD_SHARE] = {.name = "bad-share",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_PERCENT,
                .low = 0,
                .high = 99,
                .usual = "2 %",
                .shown = "PERCENT",
                .help = "share of bad hours (a van in front, a door open); assumed"},
        [BAD_LASTS] = {.name = "bad-lasts",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_TIME_S,
                .low = 1,
                .high = 8640000,
                .usual = "2 h",
                .shown = "TIME",
                .help = "how long a bad time lasts in the mean; assumed"},
        [BAD_LOSS] = {.name = "bad-loss",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_LEVEL_DB,
                .low = 0,
                .high = 60,
                .usual = "20 dB",
                .shown = "DB",
                .help = "what is lost more in it; assumed"},
        [EDITION] = SUMS_OPTION_EDITION,
};

const struct sums_sum sums_radio_site = {
        .command = "radio",
        .name = "SITE",
        .takes = "--mhz MHZ --power DBM --sensitivity DBM ...",
        .answers = "whether each radio device of the drawing reaches the panel, by the walls "
                   "between them",
        SUMS_OPTIONS(options),
};

static const struct {
    const char *name;
    const char *layers;
} walls[] = {
#define ROW(name, layers) {name, layers},
#include "sums/walls.inc"
#undef ROW
};

static const char *layers_of(struct text name) {
    for (size_t i = 0; i < sizeof walls / sizeof walls[0]; i++) {
        if (text_is(name, walls[i].name)) {
            return walls[i].layers;
        }
    }
    return NULL;
}

/* What a leaf is made of where nothing is said. Source: house practice. */
static const char *usual_leaf(enum site_opening_kind kind) {
    static const char *const names[SITE_OPENING_KIND_COUNT] = {
            [SITE_OPENING_DOOR] = "wood",
            [SITE_OPENING_WINDOW] = "glass",
            [SITE_OPENING_SLIDING] = "glass",
            [SITE_OPENING_GARAGE] = "roller",
            [SITE_OPENING_ROOF_LIGHT] = "glass",
            [SITE_OPENING_HATCH] = "wood",
            [SITE_OPENING_GAP] = "",
    };
    return names[kind];
}

/* The name of what is crossed, as the site calls it; "" where nothing is said. */
static struct text name_of(
        const struct site_building *building, const struct radio_crossing *crossing) {
    if (crossing->kind == RADIO_CROSSING_FLOOR) {
        return text_of("floor");
    }
    if (crossing->material != SITE_NONE) {
        return building->materials.rows[crossing->material].name;
    }
    return text_of(crossing->kind == RADIO_CROSSING_LEAF
                    ? usual_leaf(building->openings[crossing->opening].kind)
                    : "");
}

/* "brick:*" with the wall's thickness: fixed layers as they are, * what is left, 10 mm at least. */
static struct text fill_in(struct arena *arena, const char *layers, double thickness_m) {
    const char *star = strchr(layers, '*');
    double fixed_mm = 0;
    if (star == NULL) {
        return text_of(layers);
    }
    for (const char *at = layers; at != NULL; at = strchr(at + 1, ':')) {
        double mm = 0;
        const char *digits = *at == ':' ? at + 1 : "";
        double unit = 1;
        bool point = false;
        for (; (*digits >= '0' && *digits <= '9') || *digits == '.'; digits++) {
            if (*digits == '.') {
                point = true;
                continue;
            }
            unit = point ? unit / 10 : 1;
            mm = point ? mm + unit * (*digits - '0') : mm * 10 + (*digits - '0');
        }
        fixed_mm += mm;
    }
    return text_print(arena, "%.*s%.3gmm%s", (int)(star - layers), layers,
            fmax(10, thickness_m * 1000 - fixed_mm), star + 1);
}

/* What one crossing loses, from-to. */
static outcome loss_of(const struct sums_ask *ask, const struct site_building *building,
        const struct radio_crossing *crossing, struct sums_answer *answer, double *low_db,
        double *high_db, struct problem *ret_problem) {
    const struct sums_value *floor = &ask->values[FLOOR];
    const double hz = ask->values[MHZ].low * 1e6;
    const struct text name = name_of(building, crossing);
    const char *layers = layers_of(name);
    const bool is_floor = crossing->kind == RADIO_CROSSING_FLOOR;
    struct sums_wall wall;
    struct radio_pass pass;
    if (layers ==
            NULL) { /* a material of the site's own, or none said: what houses were measured to lose */
        *low_db += radio_wall_measured_db(false);
        *high_db += radio_wall_measured_db(true);
        return outcome_good();
    }
    const struct text written = is_floor && floor->count > 0
            ? floor->word
            : fill_in(answer->arena, layers, crossing->thickness_m);
    TRY(sums_wall_read(written, sums_edition(&ask->values[EDITION]), hz, &wall, ret_problem));
    TRY(radio_wall_mean(wall.layers, wall.count, hz, crossing->angle_deg, &pass, ret_problem));
    sums_wall_note(answer, &wall);
    const double plain_db = radio_wall_counted_db(pass.loss_db);
    /* Leaves and panes were not measured as walls were: their layers alone count. */
    const double measured_db = wall.conducts || crossing->kind == RADIO_CROSSING_LEAF ? plain_db
            : is_floor ? RADIO_FLOOR_MEASURED_DB
                       : radio_wall_measured_db(wall.heavy);
    *low_db += fmin(plain_db, measured_db);
    *high_db += fmax(plain_db, measured_db);
    return outcome_good();
}

/* One device's link. */
struct link {
    size_t device;
    double distance_m;
    double low_db; /* margin */
    double high_db;
    double free_db;
    double lost_low_db;
    double lost_high_db;
    struct text crosses;
};

/* "brick, 2 stud": names of what is crossed, in the order of the way, like ones side by side counted. */
static struct text crosses_of(const struct site_building *building,
        const struct radio_crossing *crossings, size_t count, struct arena *arena) {
    struct text_builder out;
    text_builder_init(&out, arena);
    for (size_t i = 0; i < count;) {
        const struct text name = name_of(building, &crossings[i]);
        size_t same = 1;
        while (i + same < count && text_equal(name_of(building, &crossings[i + same]), name)) {
            same++;
        }
        text_add_string(&out, i == 0 ? "" : ", ");
        if (same > 1) {
            text_add_format(&out, "%zu ", same);
        }
        text_add(&out, name.length > 0 ? name : text_of("wall not said"));
        i += same;
    }
    return out.length > 0 ? text_built(&out) : text_of("nothing");
}

static outcome work_out(const struct sums_ask *ask, const struct house *house,
        const struct radio_spot *panel, const struct radio_spot *device, struct sums_answer *answer,
        struct link *link, struct problem *ret_problem) {
    const struct sums_value *values = ask->values;
    const struct site_building *building = &house->site->building;
    struct radio_crossing crossings[RADIO_CROSSED_MOST];
    size_t count = 0;
    const double wavelength_m = 299.792458 / values[MHZ].low;
    /* Nearer than one wavelength the sum means nothing; so near it is not in doubt either. */
    link->distance_m = fmax(wavelength_m, radio_spot_distance_m(device, panel));
    TRY(radio_free_space_db(link->distance_m, values[MHZ].low * 1e6, &link->free_db, ret_problem));
    TRY(radio_cross(house, device, panel, crossings, &count, ret_problem));
    for (size_t i = 0; i < count; i++) {
        TRY(loss_of(ask, building, &crossings[i], answer, &link->lost_low_db, &link->lost_high_db,
                ret_problem));
    }
    link->crosses = crosses_of(building, crossings, count, answer->arena);
    const double left_db =
            values[POWER].low - values[SENSITIVITY].low - values[RESERVE].low - link->free_db;
    link->low_db = left_db - link->lost_high_db - values[LOSS].high;
    link->high_db = left_db - link->lost_low_db - values[LOSS].low;
    return outcome_good();
}

/* The place of the panel, or of the first keypad (a panel with keys of its own hangs there); SIZE_MAX: neither. */
static size_t panel_place(const struct house *house) {
    const struct site_building *building = &house->site->building;
    size_t keypad = SIZE_MAX;
    for (size_t i = 0; i < building->place_count; i++) {
        if (house->places[i].good && building->places[i].fixture == SITE_FIXTURE_PANEL) {
            return i;
        }
        if (house->places[i].good && building->places[i].keypad >= 0 && keypad == SIZE_MAX) {
            keypad = i;
        }
    }
    return keypad;
}

static bool speaks_radio(const struct site *site, size_t device) {
    const int profile = site->devices[device].profile;
    return profile != SITE_NONE && site->device_profiles[profile].radio;
}

static outcome find_links(const struct sums_ask *ask, const struct house *house,
        struct sums_answer *answer, struct link *links, size_t *ret_count,
        struct problem *ret_problem) {
    const size_t at = panel_place(house);
    size_t count = 0;
    if (at == SIZE_MAX) {
        FAIL(ret_problem, PROBLEM_MISSING, "building.places",
                "the drawing does not say where the panel is; add {is: panel, room: ...} under "
                "building.places");
    }
    const struct radio_spot panel = radio_spot_of(house, at);
    for (size_t i = 0; i < house->site->device_count; i++) {
        struct link link = {.device = i};
        struct radio_spot device;
        if (!speaks_radio(house->site, i)) {
            continue;
        }
        if (!radio_device_spot(house, i, &device)) {
            sums_note(answer,
                    sums_text(answer, "\"%.*s\" has no place in the drawing: not worked out",
                            TEXT_ARGS(house->site->devices[i].name)));
            continue;
        }
        TRY(work_out(ask, house, &panel, &device, answer, &link, ret_problem));
        size_t place = count++;
        for (; place > 0 && link.low_db < links[place - 1].low_db; place--) {
            links[place] = links[place - 1];
        }
        links[place] = link;
    }
    if (count == 0) {
        FAIL(ret_problem, PROBLEM_MISSING, "building.places",
                "no radio device of the site has a place in the drawing");
    }
    *ret_count = count;
    return outcome_good();
}

/* Down to a tenth: nothing is certain. */
static double percent(double ratio) {
    return fmin(99.9, floor(1000 * ratio) / 10);
}

/* Whether a zone that is supervised stands on the device, and it checks in within the window. */
static bool is_supervised(const struct site *site, size_t device) {
    const int32_t check_in_s = site->device_profiles[site->devices[device].profile].check_in_s;
    bool supervised = false;
    for (size_t i = 0; i < site->zone_count; i++) {
        supervised =
                supervised || (site->zones[i].device == (int)device && site->zones[i].supervised);
    }
    return supervised && check_in_s > 0 && check_in_s <= site->settings.supervision_window_s;
}

/* False supervision troubles a year at one margin: every message fades about it, and in bad hours about less. */
static outcome troubles_at(const struct sums_ask *ask, const struct site *site, size_t device,
        double margin_db, double *ret_a_year, struct problem *ret_problem) {
    const struct sums_value *values = ask->values;
    const struct radio_check_ins check_ins = {
            .interval_s = site->device_profiles[site->devices[device].profile].check_in_s,
            .window_s = site->settings.supervision_window_s,
            .missed_good_ratio = 1 - radio_arrives_ratio(margin_db, 0),
            .missed_bad_ratio = 1 - radio_arrives_ratio(margin_db - values[BAD_LOSS].low, 0),
            .bad_share_ratio = values[BAD_SHARE].low / 100,
            .bad_dwell_s = values[BAD_LASTS].low};
    return radio_false_troubles(&check_ins, ret_a_year, ret_problem);
}

static outcome add_troubles(const struct sums_ask *ask, const struct site *site,
        const struct link *link, struct sums_answer *answer, struct problem *ret_problem) {
    double least = 0;
    double most = 0;
    if (!is_supervised(site, link->device)) {
        return outcome_good();
    }
    TRY(troubles_at(ask, site, link->device, link->high_db, &least, ret_problem));
    TRY(troubles_at(ask, site, link->device, link->low_db, &most, ret_problem));
    least = fmin(least, most);
    struct sums_figure *figure =
            sums_of(sums_add_range(answer, "troubles", "false troubles", least, most,
                            most < 0.001 ? 0 : quantity_decimals_for(most, 2), "a year"),
                    "devices", site->devices[link->device].name);
    sums_explain(figure,
            sums_text(answer,
                    "a check-in every %d s, missing after %d s, fading about the margin; bad hours "
                    "as assumed",
                    (int)site->device_profiles[site->devices[link->device].profile].check_in_s,
                    (int)site->settings.supervision_window_s),
            "lintel radio supervise: Feller, vol. 1; own two-state chain");
    sums_note(answer,
            text_of("bad hours are assumed, not measured (unverified): false troubles rank "
                    "devices, "
                    "they do not foretell"));
    return outcome_good();
}

static void add_link(const struct sums_ask *ask, const struct house *house, const struct link *link,
        struct sums_answer *answer) {
    const struct sums_value *values = ask->values;
    const struct text name = house->site->devices[link->device].name;
    const double spread_db = values[SPREAD].low;
    struct sums_figure *figure =
            sums_of(sums_add_range(answer, "margin_db", "", link->low_db, link->high_db, 1, "dB"),
                    "devices", name);
    sums_explain(figure,
            sums_text(answer,
                    "%.2f dBm + %.2f dBm less %.2f dB of free space, %.2f to %.2f dB in the way, "
                    "%.2f to %.2f dB of losses, %.2f dB of reserve",
                    values[POWER].low, -values[SENSITIVITY].low, link->free_db, link->lost_low_db,
                    link->lost_high_db, values[LOSS].low, values[LOSS].high, values[RESERVE].low),
            "Rec. ITU-R P.525, P.2040, P.1238; COST 231 (docs/radio.md)");
    figure = sums_of(sums_add_range(answer, "message_percent", "a message arrives",
                             percent(radio_arrives_ratio(link->low_db, spread_db)),
                             percent(radio_arrives_ratio(link->high_db, spread_db)), 1, "%"),
            "devices", name);
    sums_explain(figure,
            sums_text(answer, "as lintel radio link, spread %g dB; down to a tenth, 99.9 at most",
                    spread_db),
            "Rayleigh fading over log-normal shadowing (Suzuki), textbook");
    figure = sums_of(
            sums_add(answer, "distance_m", "over", link->distance_m, 1, "m"), "devices", name);
    sums_explain(
            figure, text_of("root(dx^2 + dy^2 + dz^2), one wavelength at least"), "the drawing");
    (void)sums_of(sums_add_words(answer, "through", "through", link->crosses), "devices", name);
}

outcome sums_run_radio_site(const struct house *house, const struct text *words, size_t count,
        struct arena *arena, struct sums_answer *ret_answer, struct problem *ret_problem) {
    enum { SHOWN_MOST = SUMS_FIGURES_MOST / 5 - 1 };
    struct sums_ask ask = {.sum = &sums_radio_site};
    struct sums_answer answer = {.arena = arena};
    size_t links_count = 0;
    TRY(sums_read(&ask, words, count, arena, ret_problem));
    struct link *links = ARENA_ARRAY(arena, struct link, house->site->device_count + 1);
    answer.figures = ARENA_ARRAY(arena, struct sums_figure, SUMS_FIGURES_MOST);
    if (links == NULL || answer.figures == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the links");
    }
    TRY(find_links(&ask, house, &answer, links, &links_count, ret_problem));
    answer.title =
            sums_text(&answer, "%.*s: %zu radio devices to the panel at %g MHz, weakest first",
                    TEXT_ARGS(house->site->name), links_count, ask.values[MHZ].low);
    for (size_t i = 0; i < links_count && i < SHOWN_MOST; i++) {
        add_link(&ask, house, &links[i], &answer);
        TRY(add_troubles(&ask, house->site, &links[i], &answer, ret_problem));
    }
    answer.wrong = links[0].low_db < 0;
    sums_add_words(&answer, "verdict", "verdict",
            sums_text(&answer, "\"%.*s\" is the weakest: %s",
                    TEXT_ARGS(house->site->devices[links[0].device].name),
                    links[0].low_db >= radio_margin_for_db(0.99, ask.values[SPREAD].low) ? "reaches"
                            : links[0].low_db >= 0
                            ? "reaches, without enough to spare for a bad place"
                            : links[0].high_db >= 0 ? "may not reach"
                                                    : "does not reach"));
    sums_note(&answer,
            text_of("by the drawing: furniture, people, steel in walls and what goes round corners "
                    "are not in it; measure on site"));
    if (arena->refused) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the links");
    }
    *ret_answer = answer;
    return outcome_good();
}
