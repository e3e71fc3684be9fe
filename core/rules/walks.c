/* The ways that people use, as the drawing has them, held against what is typed of them and against the entry delay. */
#include "rules/parts.h"

#include "base/quantity.h"
#include "plan/used_ways.h"

#include <math.h>

/* rules.md 6.2, common practice: what one mistype costs, and what should be left. */
enum { RETRY_S = 8, RESERVE_S = 5, STEP_S = 5 };
static const double ROUNDING_S = 0.5; /* typed times are whole seconds */

static void add_tenths(struct text_builder *out, double value, const char *unit) {
    text_add_format(out, "%.1f %s", value, unit);
}

/* "9.1 m, 5.7 m of it stairs, in 8.1 to 10.9 s". */
static struct text drawn_text(const struct rules_finder *finder, const struct house_way *way,
        struct house_seconds seconds) {
    const double stairs_mm = house_way_stairs_mm(way, way->way.length_mm);
    struct text_builder out;
    text_builder_init(&out, finder->arena);
    add_tenths(&out, way->way.length_mm / 1000, "m");
    if (stairs_mm > 0) {
        text_add_string(&out, ", ");
        add_tenths(&out, stairs_mm / 1000, "m of it stairs");
    }
    text_add_format(&out, ", in %.1f to %.1f s", seconds.low_s, seconds.high_s);
    return text_built(&out);
}

/* ---- what is typed */

static struct span typed_walk(const struct site_way *way) {
    struct span sum = way->last;
    for (size_t i = 0; i < way->leg_count; i++) {
        sum.low_s += way->legs[i].in.low_s;
        sum.high_s += way->legs[i].in.high_s;
    }
    return sum;
}

/* A watch knows more than a drawing. */
static bool is_measured(const struct site_way *way) {
    bool measured = way->ending.has_measured;
    for (size_t i = 0; i < way->leg_count; i++) {
        measured = measured || way->legs[i].walk.has_measured;
    }
    return measured;
}

static const struct used_way *drawn_way(const struct rules_finder *finder, int door, int keypad) {
    for (size_t i = 0; finder->ways != NULL && i < finder->ways->count; i++) {
        const struct used_way *way = &finder->ways->ways[i];
        if (way->door == door && way->keypad == keypad && way->way.way.count > 0) {
            return way;
        }
    }
    return NULL;
}

/* Whether the typed seconds are another way's. walked: by those who walk it; said: by those of them of whom the site
 * says how they walk, low_s < 0: of nobody. */
struct walkers {
    struct house_seconds walked;
    struct house_seconds said;
};
typedef bool typed_question(
        struct span typed, const struct house_way *way, const struct walkers *walkers);

static bool is_quicker(
        struct span typed, const struct house_way *way, const struct walkers *walkers) {
    (void)way;
    return typed.high_s + ROUNDING_S < walkers->walked.low_s;
}

/* The slow end of a pace that is only assumed contradicts nobody. */
static bool leaves_out_slow(
        struct span typed, const struct house_way *way, const struct walkers *walkers) {
    return typed.high_s + ROUNDING_S < walkers->said.high_s && !is_quicker(typed, way, walkers);
}

/* Trolleys and bags make a way slow; slower than a frail walker with a stick is another way. */
static bool is_slower(
        struct span typed, const struct house_way *way, const struct walkers *walkers) {
    const struct site_pace frail = site_walker_pace(SITE_WALKER_STICK);
    (void)walkers;
    return typed.low_s > house_way_seconds(way, frail, way->way.length_mm).high_s + ROUNDING_S;
}

/* Those of the people of whom the site says something else than the usual. */
static uint64_t said_of(const struct site *site, uint64_t people) {
    for (size_t i = 0; i < site->person_count; i++) {
        if (site->people[i].walks.walker == SITE_WALKER_ADULT) {
            people &= ~(UINT64_C(1) << i);
        }
    }
    return people;
}

static struct house_seconds walk_of(
        const struct site *site, const struct house_way *way, uint64_t people) {
    return house_way_seconds(way, used_way_pace(site, people), way->way.length_mm);
}

static struct walkers walkers_of(const struct site *site, const struct house_way *way, int typed) {
    const uint64_t people = used_way_walkers(site, typed);
    const uint64_t said = said_of(site, people);
    struct walkers walkers = {.walked = walk_of(site, way, people), .said = {-1, -1}};
    if (said != 0) {
        walkers.said = walk_of(site, way, said);
    }
    return walkers;
}

static void look_typed(struct rules_finder *finder, const struct rules_check *check);

/* ---- the entry delay */

/* The shortest entry delay that opening the door starts in any mode; -1: none. */
static int32_t delay_of(const struct site *site, int door) {
    int32_t least_s = -1;
    for (size_t i = 0; i < site->zone_count; i++) {
        const struct site_zone *zone = &site->zones[i];
        for (size_t mode = 0; mode < site->settings.mode_count; mode++) {
            if (site_zone_door(site, zone) != door || zone->in[mode] != SITE_ENTRY ||
                    zone->delay[mode] < 0) {
                continue;
            }
            const int32_t delay_s = site->settings.delays[zone->delay[mode]].seconds_s;
            least_s = least_s < 0 || delay_s < least_s ? delay_s : least_s;
        }
    }
    return least_s;
}

/* What somebody takes at the slowest from the open door to the code. */
struct arrival {
    int person;
    double walk_s;
    int32_t notices_s;
    int32_t keys_s;
};

static double sum_of(const struct arrival *arrival) {
    return arrival->walk_s + arrival->notices_s + arrival->keys_s;
}

static bool slowest(
        const struct site *site, const struct used_way *way, struct arrival *ret_arrival) {
    bool found = false;
    for (size_t i = 0; i < site->person_count; i++) {
        const struct site_person *person = &site->people[i];
        if ((way->people >> i & 1) == 0 || !(person->has_code || person->has_fob)) {
            continue;
        }
        const struct arrival arrival = {.person = (int)i,
                .walk_s = house_way_seconds(
                        &way->way, site_walking_pace(person->walks), way->way.way.length_mm)
                                  .high_s,
                .notices_s = person->notices.high_s,
                .keys_s = person->has_code ? person->codes.high_s : person->fobs.high_s};
        if (!found || sum_of(&arrival) > sum_of(ret_arrival)) {
            *ret_arrival = arrival;
        }
        found = true;
    }
    return found;
}

/* "8.2 m in 9.1 s, 3 s to notice, 9 s for the code: 21 s", all at the slowest. */
static void add_sum(
        struct text_builder *out, const struct used_way *way, const struct arrival *arrival) {
    add_tenths(out, way->way.way.length_mm / 1000, "m");
    text_add_format(out, " in %.1f s, %d s to notice, %d s for the code: %.0f s", arrival->walk_s,
            arrival->notices_s, arrival->keys_s, ceil(sum_of(arrival)));
}

static void look_entry(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; finder->ways != NULL && i < finder->ways->count; i++) {
        const struct used_way *way = &finder->ways->ways[i];
        const int32_t delay_s = delay_of(site, way->door);
        struct arrival arrival = {.person = SITE_NONE};
        if (way->way.way.count == 0 || delay_s < 0 || !slowest(site, way, &arrival)) {
            continue;
        }
        const double bare_s = ceil(sum_of(&arrival));
        const double with_retry_s = bare_s + RETRY_S + RESERVE_S;
        const bool late = bare_s > delay_s;
        if (check->variant ? !late : (late || with_retry_s <= delay_s)) {
            continue;
        }
        struct words_about about = words_about_nothing();
        struct text_builder out;
        text_builder_init(&out, finder->arena);
        add_sum(&out, way, &arrival);
        if (!check->variant) {
            text_add_format(&out, "; %d s for a mistype and %d s in reserve: %.0f s", RETRY_S,
                    RESERVE_S, with_retry_s);
        }
        about.person = arrival.person;
        about.door = way->door;
        about.detail = text_built(&out);
        about.seconds_s = delay_s;
        about.least_s = STEP_S * (int32_t)ceil(with_retry_s / STEP_S);
        rules_add(finder, check, &about, "doors[%d]", way->door);
    }
}

/* ---- ways that the drawing does not have */

static void look_nowhere(struct rules_finder *finder, const struct rules_check *check) {
    for (size_t i = 0; finder->ways != NULL && i < finder->ways->count; i++) {
        const struct used_way *way = &finder->ways->ways[i];
        if (way->drawn && way->way.way.count == 0) {
            struct words_about about = words_about_nothing();
            about.door = way->door;
            about.named = way->keypad == SITE_NONE
                    ? text_of("the panel")
                    : rules_named(finder, finder->site->keypads[way->keypad].name);
            rules_add(finder, check, &about, "doors[%d]", way->door);
        }
    }
}

#define SPEED_SOURCE "length over walking speed"
#define SUM_SOURCE "walk, notice, code, one retry of 8 s and 5 s of reserve: common practice"

static const struct rules_check rows[] = {
        {
                .id = "ways.too-quick",
                .weight = FINDING_RISK,
                .headline = "{named} takes longer by the drawing than is typed",
                .why = "typed {other}, drawn {detail}",
                .remedy =
                        "the times of the way; or walk it and write what the watch says (measured)",
                .source = SPEED_SOURCE,
                .look = look_typed,
        },
        {
                .id = "ways.slow-walkers",
                .weight = FINDING_NOTE,
                .headline = "{named} leaves out its slowest walkers",
                .why = "typed {other}, drawn {detail}",
                .remedy =
                        "the times of the way; or walk it and write what the watch says (measured)",
                .source = SPEED_SOURCE,
                .look = look_typed,
        },
        {
                .id = "ways.too-slow",
                .weight = FINDING_NOTE,
                .headline = "nobody walks as slowly as {named}",
                .why = "typed {other}, drawn {detail}",
                .remedy = "the times of the way, or what is in it besides walking",
                .source = SPEED_SOURCE,
                .look = look_typed,
        },
        {
                .id = "ways.late",
                .variant = true,
                .weight = FINDING_RISK,
                .headline = "{person} may come too late by {door}: the entry delay is {seconds}",
                .why = "by the drawing, at the slowest: {detail}",
                .remedy = "an entry delay of {least}, or a keypad nearer to the door",
                .price = "a burglar at this door has that long before the siren",
                .source = SUM_SOURCE,
                .look = look_entry,
        },
        {
                .id = "ways.no-second-try",
                .weight = FINDING_NOTE,
                .headline = "{person} has no time for a second try by {door}: the entry delay is "
                            "{seconds}",
                .why = "by the drawing, at the slowest: {detail}",
                .remedy = "an entry delay of {least}, or a keypad nearer to the door",
                .price = "a burglar at this door has that long before the siren",
                .source = SUM_SOURCE,
                .look = look_entry,
        },
        {
                .id = "ways.nowhere",
                .weight = FINDING_NOTE,
                .headline = "by the drawing no way leads from {door} to {named}",
                .why = "every door, gap and flight of stairs was tried; furniture may stand in the "
                       "way",
                .remedy = "the door or the stairs that are missing in the drawing",
                .source = "geometry",
                .look = look_nowhere,
        },
};

/* The rows of what is typed stand first, in the order of these questions. */
static void look_typed(struct rules_finder *finder, const struct rules_check *check) {
    static typed_question *const questions[] = {is_quicker, leaves_out_slow, is_slower};
    typed_question *const question = questions[check - rows];
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->way_count; i++) {
        const struct site_way *typed = &site->ways[i];
        const struct used_way *used = drawn_way(finder, typed->door, typed->keypad);
        if (used == NULL || typed->keypad == SITE_NONE || typed->drawn || is_measured(typed)) {
            continue;
        }
        const struct walkers walkers = walkers_of(site, &used->way, (int)i);
        if (question(typed_walk(typed), &used->way, &walkers)) {
            struct words_about about = words_about_nothing();
            struct text_builder times;
            text_builder_init(&times, finder->arena);
            quantity_add_span(&times, typed_walk(typed));
            about.named = rules_named(finder, typed->name);
            about.other = text_built(&times);
            about.detail = drawn_text(finder, &used->way, walkers.walked);
            rules_add(finder, check, &about, "ways[%zu]", i);
        }
    }
}

const struct rules_checks rules_walks = RULES_ROWS(rows);
