#include "radio/barriers.h"

#include "radio/constants.h"
#include "radio/link.h"

#include <assert.h>
#include <math.h>
#include <string.h>

static const struct {
    const char *name;
    const char *layers;
} walls[] = {
#define ROW(name, layers) {name, layers},
#include "radio/walls.inc"
#undef ROW
};

static const struct {
    const char *name;
    double low_db;
    double high_db;
    const char *says;
    const char *certainty;
} behinds[] = {
#define ROW(name, low, high, says, certainty) {name, low, high, says, certainty},
#include "radio/behind.inc"
#undef ROW
};

/* In which a wall named by hand counts where no table says how thick it usually is. House practice. */
static const double USUAL_M = 0.1;

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

struct text radio_crossing_name(
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

static void note(struct radio_stretched *stretched, const struct radio_written *wall) {
    for (size_t i = 0; i < wall->count; i++) {
        const struct radio_material *material = wall->materials[i];
        bool known = material == NULL || !wall->layers[i].substance.extrapolated;
        for (size_t k = 0; k < stretched->count; k++) {
            known = known || stretched->materials[k] == material;
        }
        if (!known && stretched->count < RADIO_STRETCHED_MOST) {
            stretched->materials[stretched->count++] = material;
        }
    }
}

/* What houses were measured to lose by a material of the site's own, or by none that is said. */
static void add_unknown(struct radio_loss *loss) {
    loss->low_db += radio_wall_measured_db(false);
    loss->high_db += radio_wall_measured_db(true);
}

static outcome add_layers(const struct radio_barriers *barriers, struct text written,
        enum radio_crossing_kind kind, double angle_deg, struct radio_loss *loss,
        struct radio_stretched *stretched, struct problem *ret_problem) {
    struct radio_written wall;
    struct radio_pass pass;
    TRY(radio_written_read(written, barriers->edition, barriers->frequency_hz, &wall, ret_problem));
    TRY(radio_wall_mean(
            wall.layers, wall.count, barriers->frequency_hz, angle_deg, &pass, ret_problem));
    note(stretched, &wall);
    const double plain_db = radio_wall_counted_db(pass.loss_db);
    /* Leaves and panes were not measured as walls were: their layers alone count. */
    const double measured_db = wall.conducts || kind == RADIO_CROSSING_LEAF ? plain_db
            : kind == RADIO_CROSSING_FLOOR ? RADIO_FLOOR_MEASURED_DB
                                           : radio_wall_measured_db(wall.heavy);
    loss->low_db += fmin(plain_db, measured_db);
    loss->high_db += fmax(plain_db, measured_db);
    return outcome_good();
}

outcome radio_add_crossing(const struct radio_barriers *barriers,
        const struct radio_crossing *crossing, struct radio_loss *loss,
        struct radio_stretched *stretched, struct problem *ret_problem) {
    const char *layers = layers_of(radio_crossing_name(barriers->building, crossing));
    if (layers == NULL) {
        add_unknown(loss);
        return outcome_good();
    }
    const bool own = crossing->kind == RADIO_CROSSING_FLOOR && barriers->floor.length > 0;
    return add_layers(barriers,
            own ? barriers->floor : fill_in(barriers->arena, layers, crossing->thickness_m),
            crossing->kind, crossing->angle_deg, loss, stretched, ret_problem);
}

outcome radio_add_way(const struct radio_barriers *barriers, const struct house *house,
        const struct radio_spot *from, const struct radio_spot *to, struct radio_loss *loss,
        struct radio_stretched *stretched, struct problem *ret_problem) {
    struct radio_crossing crossings[RADIO_CROSSED_MOST];
    const double wavelength_m = RADIO_LIGHT_M_S / barriers->frequency_hz;
    size_t count = 0;
    double free_db = 0;
    TRY(radio_free_space_db(fmax(wavelength_m, radio_spot_distance_m(from, to)),
            barriers->frequency_hz, &free_db, ret_problem));
    TRY(radio_cross(house, from, to, crossings, &count, ret_problem));
    for (size_t i = 0; i < count; i++) {
        TRY(radio_add_crossing(barriers, &crossings[i], loss, stretched, ret_problem));
    }
    loss->low_db += free_db;
    loss->high_db += free_db;
    return outcome_good();
}

static double usual_m(const struct site_building *building, struct text name) {
    for (size_t i = 0; i < building->materials.row_count; i++) {
        const struct site_material *row = &building->materials.rows[i];
        if (text_equal(row->name, name) && row->thickness_mm > 0) {
            return row->thickness_mm / 1000.0;
        }
    }
    return USUAL_M;
}

outcome radio_add_named(const struct radio_barriers *barriers, struct text name,
        struct radio_loss *loss, struct radio_stretched *stretched, struct problem *ret_problem) {
    const char *layers = layers_of(name);
    const bool written = name.length > 0 && memchr(name.start, ':', name.length) != NULL;
    if (layers == NULL && !written) {
        FAIL(ret_problem, PROBLEM_MISSING, "",
                "no wall is called \"%.*s\"; write brick, block, concrete, stud, timber, glass, "
                "wood or steel, or its layers, such as brick:100mm",
                (int)(name.length > 40 ? 40 : name.length), name.start);
    }
    const struct text all =
            written ? name : fill_in(barriers->arena, layers, usual_m(barriers->building, name));
    return add_layers(barriers, all,
            text_is(name, "floor") ? RADIO_CROSSING_FLOOR : RADIO_CROSSING_WALL, 0, loss, stretched,
            ret_problem);
}

struct radio_loss radio_behind_loss(enum site_behind behind) {
    static const char *const names[SITE_BEHIND_COUNT] = {
            [SITE_BEHIND_NOTHING] = "nothing",
            [SITE_BEHIND_STEEL] = "steel",
            [SITE_BEHIND_RADIATOR] = "radiator",
            [SITE_BEHIND_CUPBOARD] = "cupboard",
            [SITE_BEHIND_FOIL] = "foil",
    };
    for (size_t i = 0; i < sizeof behinds / sizeof behinds[0]; i++) {
        if (strcmp(behinds[i].name, names[behind]) == 0) {
            return (struct radio_loss){behinds[i].low_db, behinds[i].high_db};
        }
    }
    assert(false);
    return (struct radio_loss){0, 0};
}
