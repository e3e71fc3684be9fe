#include "sums/radio_site.h"

#include "radio/best.h"
#include "radio/fit.h"
#include "radio/link.h"
#include "radio/site_links.h"
#include "sums/walls.h"

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
    EDITION,
    PLACE
};

#define DBM_OPTION(named, least, most, text)                                                       \
    {                                                                                              \
        .name = (named), .takes = SUMS_QUANTITY, .kind = QUANTITY_POWER_DBM, .low = (least),       \
        .high = (most), .usual = "", .shown = "DBM", .help = (text)                                \
    }

static const struct sums_option options[] = {
        [MHZ] = {.name = "mhz",
                .takes = SUMS_QUANTITY,
                .kind = QUANTITY_FREQUENCY_MHZ,
                .bare_unit = "MHz",
                .low = 30,
                .high = 100000,
                .usual = "",
                .shown = "MHZ",
                .help = "frequency in MHz, such as 433.92; else as profiles say"},
        [POWER] = DBM_OPTION("power", -60, 40,
                "what devices radiate (EIRP; e.r.p. is 2.15 dB less), -14.4dBm; else as profiles "
                "say"),
        [SENSITIVITY] = DBM_OPTION("sensitivity", -150, 0,
                "what the panel's receiver needs, -105dBm; else as its profile says"),
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
        [PLACE] = {.name = "place",
                .takes = SUMS_WORD,
                .choices = "panel repeater",
                .usual = "",
                .shown = "WHAT",
                .help = "looks for the best place of the panel, or of one repeater"},
};

const struct sums_sum sums_radio_site = {
        .command = "radio",
        .name = "SITE",
        .takes = "[--mhz MHZ --power DBM --sensitivity DBM ...]",
        .answers = "whether each radio device of the drawing reaches the panel, by the walls "
                   "between them",
        SUMS_OPTIONS(options),
};

enum { LINK_FIGURES_MOST = 9, SITE_FIGURES_MOST = 16 };
_Static_assert(LINK_FIGURES_MOST *SITE_DEVICE_MAX + SITE_FIGURES_MOST < SUMS_SITE_FIGURES_MOST,
        "the figures of the largest site have room");

/* What was asked, as the world of the links. */
static struct radio_world world_of(const struct sums_ask *ask) {
    const struct sums_value *values = ask->values;
    struct radio_world world = radio_world_usual();
    world.loss = (struct radio_loss){values[LOSS].low, values[LOSS].high};
    world.spread_db = values[SPREAD].low;
    world.bad_share_ratio = values[BAD_SHARE].low / 100;
    world.bad_dwell_s = values[BAD_LASTS].low;
    world.bad_loss_db = values[BAD_LOSS].low;
    world.edition = sums_edition(&values[EDITION]);
    world.floor = values[FLOOR].count > 0 ? values[FLOOR].word : (struct text){0};
    world.mhz = values[MHZ].low;
    world.power_dbm = values[POWER].low;
    world.sensitivity_dbm = values[SENSITIVITY].low;
    world.has_mhz = values[MHZ].count > 0;
    world.has_power = values[POWER].count > 0;
    world.has_sensitivity = values[SENSITIVITY].count > 0;
    return world;
}

/* The links, weakest first, and the words for those that could not be worked out. */
struct found {
    struct radio_site_link *links;
    size_t count;
    enum radio_lack lack; /* of the last device that has none, for want of a better reason */
};

static void note_lack(
        struct sums_answer *answer, const struct site *site, size_t device, enum radio_lack lack) {
    static const char *const words[] = {
            [RADIO_LACKS_FIGURES] = "frequency, power or sensitivity are in no profile: not worked "
                                    "out; docs/profiles.md shows where they stand",
            [RADIO_LACKS_PANEL] = "the drawing does not say where the panel is: not worked out",
            [RADIO_LACKS_PLACE] = "has no place in the drawing: not worked out",
    };
    if (lack != RADIO_LACKS_NOTHING && lack != RADIO_LACKS_RADIO) {
        sums_note(answer,
                sums_text(answer, "\"%.*s\": %s", TEXT_ARGS(site->devices[device].name),
                        words[lack]));
    }
}

static void note_stretched(struct sums_answer *answer, const struct radio_stretched *stretched) {
    for (size_t i = 0; i < stretched->count; i++) {
        const struct radio_material *material = stretched->materials[i];
        sums_note(answer,
                sums_text(answer,
                        "%s was measured from %g to %g GHz; outside of that its figures are "
                        "extrapolated",
                        material->name, material->from_ghz, material->to_ghz));
    }
}

/* Which of the three figures are missing, each with where it goes. */
static struct text missing_figures(
        const struct site *site, const struct radio_world *world, struct arena *arena) {
    bool frequency = true;
    bool power = true;
    for (size_t i = 0; i < site->device_profile_count; i++) {
        const struct site_device_profile *profile = &site->device_profiles[i];
        frequency = frequency && (world->has_mhz || !profile->radio || profile->frequency.said);
        power = power && (world->has_power || !profile->radio || profile->radiates.said);
    }
    const struct {
        bool there;
        const char *words;
    } figures[] = {
            {frequency, "--mhz 868.3 (or frequency: 868.3 MHz in the devices' profiles)"},
            {power, "--power -14.4dBm (or radiates: -14.4 dBm there)"},
            {world->has_sensitivity || site->panel.receives.said,
                    "--sensitivity -105dBm (or receives: -105 dBm in the panel's)"},
    };
    struct text_builder out;
    text_builder_init(&out, arena);
    for (size_t i = 0; i < sizeof figures / sizeof figures[0]; i++) {
        if (!figures[i].there) {
            text_add_format(&out, "%s%s", out.length == 0 ? "" : ", ", figures[i].words);
        }
    }
    return text_built(&out);
}

static outcome find_links(const struct site *site, const struct house *house,
        const struct radio_world *world, struct sums_answer *answer, struct found *found,
        struct problem *ret_problem) {
    struct radio_spot panel;
    struct radio_stretched stretched = {.count = 0};
    const bool placed = radio_panel_spot(house, &panel);
    for (size_t i = 0; i < site->device_count; i++) {
        struct radio_site_link link;
        enum radio_lack lack = RADIO_LACKS_NOTHING;
        TRY(radio_site_link(site, house, placed ? &panel : NULL, i, world, answer->arena,
                &stretched, &link, &lack, ret_problem));
        if (lack != RADIO_LACKS_NOTHING) {
            found->lack = lack == RADIO_LACKS_RADIO ? found->lack : lack;
            note_lack(answer, site, i, lack);
            continue;
        }
        size_t place = found->count++;
        for (; place > 0 && link.low_db < found->links[place - 1].low_db; place--) {
            found->links[place] = found->links[place - 1];
        }
        found->links[place] = link;
    }
    note_stretched(answer, &stretched);
    if (found->count == 0 && found->lack == RADIO_LACKS_FIGURES) {
        const struct text missing = missing_figures(site, world, answer->arena);
        FAIL(ret_problem, PROBLEM_MISSING, "", "still wanted: %.*s; docs/profiles.md has more",
                TEXT_ARGS(missing));
    }
    if (found->count == 0) {
        FAIL(ret_problem, PROBLEM_MISSING, "building.places", "%s",
                found->lack == RADIO_LACKS_PANEL
                        ? "the drawing does not say where the panel is; add {is: panel, room: ...} "
                          "under building.places, or distances under links"
                        : "no radio device of the site has a place in the drawing");
    }
    return outcome_good();
}

/* Down to a tenth: nothing is certain. */
static double percent(double ratio) {
    return fmin(99.9, floor(1000 * ratio) / 10);
}

/* A device that is missing for less than a day in five years is told by how often that is. */
static const double MISSING_SHOWN_PERCENT = 0.05;

/* From the better end of the margin to the careful one. How often has its maximum in between, maybe: who is hardly ever
 * heard is called missing seldom, and then for long. So both are looked at in small steps. */
static outcome find_missing(const struct site *site, const struct radio_world *world,
        const struct radio_site_link *link, struct radio_called_missing *ret_least,
        struct radio_called_missing *ret_most, struct problem *ret_problem) {
    enum { STEPS = 40 };
    TRY(radio_site_missing(site, link->device, world, link->high_db, ret_least, ret_problem));
    *ret_most = *ret_least;
    for (int i = 1; i <= STEPS; i++) {
        const double margin_db = link->high_db + (link->low_db - link->high_db) * i / STEPS;
        struct radio_called_missing it;
        TRY(radio_site_missing(site, link->device, world, margin_db, &it, ret_problem));
        ret_least->troubles_a_year = fmin(ret_least->troubles_a_year, it.troubles_a_year);
        ret_most->troubles_a_year = fmax(ret_most->troubles_a_year, it.troubles_a_year);
        ret_most->missing_ratio = it.missing_ratio; /* the weaker, the longer */
    }
    return outcome_good();
}

static outcome add_troubles(const struct site *site, const struct radio_world *world,
        const struct radio_site_link *link, struct sums_answer *answer,
        struct problem *ret_problem) {
    const struct text name = site->devices[link->device].name;
    struct radio_called_missing least = {0};
    struct radio_called_missing most = {0};
    if (!radio_is_supervised(site, link->device)) {
        return outcome_good();
    }
    TRY(find_missing(site, world, link, &least, &most, ret_problem));
    struct sums_figure *figure = sums_of(
            sums_add_range(answer, "troubles", "false troubles", least.troubles_a_year,
                    most.troubles_a_year,
                    most.troubles_a_year < 0.001 ? 0
                                                 : quantity_decimals_for(most.troubles_a_year, 2),
                    "a year"),
            "devices", name);
    sums_explain(figure,
            sums_text(answer,
                    "a check-in every %d s, missing after %d s, fading about the margin; bad hours "
                    "as assumed; the least and the most within the margin",
                    (int)site->device_profiles[site->devices[link->device].profile].check_in_s,
                    (int)site->settings.supervision_window_s),
            "lintel radio supervise: Feller, vol. 1; own two-state chain");
    const double high = 100 * most.missing_ratio;
    figure = sums_of(
            sums_add_range(answer, "missing_percent", "called missing", 100 * least.missing_ratio,
                    high, high < 0.01 ? 0 : quantity_decimals_for(high, 2), "% of the time"),
            "devices", name);
    figure->minor = high < MISSING_SHOWN_PERCENT;
    sums_explain(figure, text_of("the same, added up over the time until the next check-in"),
            "lintel radio supervise: own two-state chain");
    sums_note(answer,
            text_of("bad hours are assumed, not measured (unverified): false troubles rank "
                    "devices, "
                    "they do not foretell"));
    return outcome_good();
}

static struct sums_figure *add_margin(struct sums_answer *answer, const char *key,
        const char *label, double low_db, double high_db, struct text name) {
    return sums_of(sums_add_range(answer, key, label, low_db, high_db, 1, "dB"), "devices", name);
}

static void add_link(const struct site *site, const struct radio_world *world, double reserve_db,
        const struct radio_site_link *link, struct sums_answer *answer) {
    const struct text name = site->devices[link->device].name;
    const double low_db = link->low_db - reserve_db;
    const double high_db = link->high_db - reserve_db;
    const double spread_db = link->measured ? 0 : world->spread_db; /* its place is known */
    sums_explain(add_margin(answer, "margin_db", "", low_db, high_db, name),
            sums_text(answer,
                    "%.2f dBm + %.2f dBm less %.2f dB of free space, %.2f to %.2f dB in the way, "
                    "%.2f to %.2f dB close to the antennas, %.2f to %.2f dB of losses, %.2f dB of "
                    "reserve, %.2f dB this building loses more; plus %.2f to %.2f dB of gain",
                    link->power_dbm, -link->sensitivity_dbm, link->free_db, link->in_the_way.low_db,
                    link->in_the_way.high_db, link->behind.low_db, link->behind.high_db,
                    world->loss.low_db, world->loss.high_db, reserve_db, world->shift_db,
                    link->gain.low_db, link->gain.high_db),
            "Rec. ITU-R P.525, P.2040, P.1238; COST 231 (docs/radio.md)");
    if (link->back) {
        sums_explain(add_margin(answer, "back_margin_db", "back", link->back_low_db - reserve_db,
                             link->back_high_db - reserve_db, name),
                text_of("the same losses, from what the panel radiates to what the device hears"),
                "reciprocity, textbook");
    }
    struct sums_figure *figure =
            sums_of(sums_add_range(answer, "message_percent", "a message arrives",
                            percent(radio_arrives_ratio(low_db, spread_db)),
                            percent(radio_arrives_ratio(high_db, spread_db)), 1, "%"),
                    "devices", name);
    sums_explain(figure,
            sums_text(answer, "as lintel radio link, spread %g dB; down to a tenth, 99.9 at most",
                    spread_db),
            "Rayleigh fading over log-normal shadowing (Suzuki), textbook");
    figure = sums_of(
            sums_add(answer, "distance_m", "over", link->distance_m, 1, "m"), "devices", name);
    sums_explain(figure,
            link->typed ? text_of("typed by hand, one wavelength at least")
                        : text_of("root(dx^2 + dy^2 + dz^2), one wavelength at least"),
            link->typed ? "links" : "the drawing");
    (void)sums_of(sums_add_words(answer, "through", "through", link->crosses), "devices", name);
}

/* What was measured stands beside what was computed. */
static void add_measured(
        const struct site *site, const struct radio_site_link *link, struct sums_answer *answer) {
    const struct text name = site->devices[link->device].name;
    if (!link->measured) {
        return;
    }
    (void)sums_of(sums_add_range(answer, "measured_dbm", "measured", link->low_dbm, link->high_dbm,
                          1, "dBm"),
            "devices", name);
    struct sums_figure *figure =
            sums_of(sums_add_range(answer, "computed_dbm", "computed", link->computed_low_dbm,
                            link->computed_high_dbm, 1, "dBm"),
                    "devices", name);
    sums_explain(figure, text_of("with what this building loses more; the measurement counts"),
            "Rec. ITU-R P.525, P.2040, P.1238; COST 231 (docs/radio.md)");
}

static void add_fit(const struct radio_fit *fit, double spread_db, struct sums_answer *answer) {
    if (fit->count == 0) {
        return;
    }
    struct sums_figure *figure =
            sums_add(answer, "shift_db", "this building loses", fit->shift_db, 1, "dB more");
    figure->remark = sums_text(answer, "%zu measurement%s, %.1f dB either way", fit->count,
            fit->count == 1 ? "" : "s", fit->sure_db);
    sums_explain(figure,
            sums_text(answer,
                    "mean %.2f dB x (%zu / %g^2) / (%zu / %g^2 + 1 / %g^2); 95 %% within %.2f dB",
                    fit->mean_db, fit->count, spread_db, fit->count, spread_db,
                    RADIO_BUILDING_SPREAD_DB, fit->sure_db),
            "conjugate normal model, textbook; spread of buildings assumed, unverified");
}

/* "on the left wall's side of the hall at 0.1 x 2.3 m": by room, and the point in the drawing. */
static struct text where(
        const struct site *site, const struct radio_spot *spot, struct sums_answer *answer) {
    const struct site_building *building = &site->building;
    return sums_text(answer, "%.*s, at %.1f x %.1f m%s%.*s",
            TEXT_ARGS(building->rooms[spot->room].name), spot->x_mm / 1000, spot->y_mm / 1000,
            building->storey_count > 1 ? " on storey " : "",
            TEXT_ARGS(building->storey_count > 1 ? building->storeys[spot->storey].name
                                                 : (struct text){0}));
}

static outcome add_place(const struct site *site, const struct house *house,
        const struct radio_world *world, const struct sums_value *wanted,
        struct sums_answer *answer, struct problem *ret_problem) {
    struct radio_best best;
    if (wanted->count == 0) {
        return outcome_good();
    }
    const bool panel = text_is(wanted->word, "panel");
    TRY(radio_best_place(site, house, world, panel ? RADIO_SEEK_PANEL : RADIO_SEEK_REPEATER,
            answer->arena, &best, ret_problem));
    struct sums_figure *figure = sums_add_words(answer, "best_place",
            panel ? "panel best in" : "repeater best in",
            best.found ? where(site, &best.spot, answer) : text_of("no place is better than none"));
    sums_explain(figure,
            sums_text(answer, "%zu places tried, every 0.5 m along the walls, 1.5 m high",
                    best.tried),
            "search over the drawing; a repeater hears and sends as the panel does");
    figure = sums_add(
            answer, "gain_db", "weakest link gains", best.after_db - best.before_db, 1, "dB");
    figure->remark = sums_text(answer, "from %.1f dB (%.*s) to %.1f dB (%.*s)", best.before_db,
            TEXT_ARGS(site->devices[best.before_device].name), best.after_db,
            TEXT_ARGS(site->devices[best.after_device].name));
    sums_explain(figure, text_of("careful ends of the margins, without a reserve"),
            "search over the drawing");
    if (site->supply.behind != SITE_BEHIND_NOTHING && panel) {
        sums_note(answer, text_of("what surrounds the panel goes with it: hang it free first"));
    }
    return outcome_good();
}

/* "at 868.3 MHz", or, of several families, nothing. */
static struct text frequency_of(struct sums_answer *answer, const struct found *found) {
    for (size_t i = 1; i < found->count; i++) {
        if (fabs(found->links[i].hz - found->links[0].hz) > 0) {
            return text_of("");
        }
    }
    return sums_text(answer, " at %g MHz", found->links[0].hz / 1e6);
}

static void add_verdict(const struct site *site, const struct radio_world *world, double reserve_db,
        const struct radio_site_link *weakest, struct sums_answer *answer) {
    const double low_db = weakest->low_db - reserve_db;
    const double high_db = weakest->high_db - reserve_db;
    answer->wrong = low_db < 0;
    sums_add_words(answer, "verdict", "verdict",
            sums_text(answer, "\"%.*s\" is the weakest: %s",
                    TEXT_ARGS(site->devices[weakest->device].name),
                    low_db >= radio_margin_for_db(0.99, world->spread_db) ? "reaches"
                            : low_db >= 0  ? "reaches, without enough to spare for a bad place"
                            : high_db >= 0 ? "may not reach"
                                           : "does not reach"));
}

outcome sums_run_radio_site(const struct site *site, const struct house *house,
        const struct text *words, size_t count, struct arena *arena, struct sums_answer *ret_answer,
        struct problem *ret_problem) {
    struct sums_ask ask = {.sum = &sums_radio_site};
    struct sums_answer answer = {.arena = arena, .figure_most = SUMS_SITE_FIGURES_MOST};
    struct found found = {.count = 0};
    TRY(sums_read(&ask, words, count, arena, ret_problem));
    struct radio_world world = world_of(&ask);
    struct radio_fit fit;
    const double reserve_db = ask.values[RESERVE].low;
    found.links = ARENA_ARRAY(arena, struct radio_site_link, site->device_count + 1);
    answer.figures = ARENA_ARRAY(arena, struct sums_figure, answer.figure_most);
    if (found.links == NULL || answer.figures == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the links");
    }
    TRY(radio_site_fit(site, house, &world, arena, &fit, ret_problem));
    world.shift_db = fit.shift_db;
    TRY(find_links(site, house, &world, &answer, &found, ret_problem));
    answer.title = sums_text(&answer, "%.*s: %zu radio devices to the panel%.*s, weakest first",
            TEXT_ARGS(site->name), found.count, TEXT_ARGS(frequency_of(&answer, &found)));
    for (size_t i = 0; i < found.count; i++) {
        add_link(site, &world, reserve_db, &found.links[i], &answer);
        add_measured(site, &found.links[i], &answer);
        TRY(add_troubles(site, &world, &found.links[i], &answer, ret_problem));
    }
    add_fit(&fit, world.spread_db, &answer);
    TRY(add_place(site, house, &world, &ask.values[PLACE], &answer, ret_problem));
    add_verdict(site, &world, reserve_db, &found.links[0], &answer);
    sums_note(&answer,
            text_of("by the drawing: furniture, people, steel in walls and what goes round corners "
                    "are not in it; measure on site"));
    if (arena->refused) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the links");
    }
    *ret_answer = answer;
    return outcome_good();
}
