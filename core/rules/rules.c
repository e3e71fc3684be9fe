#include "rules/rules.h"

#include "plan/coverage.h"
#include "plan/used_ways.h"
#include "rules/parts.h"

#include <stdarg.h>
#include <string.h>

/* In the order in which findings of one weight are told. */
static const struct rules_checks *const parts[] = {
        &rules_numbers,
        &rules_slots,
        &rules_loops,
        &rules_devices,
        &rules_kinds,
        &rules_fitting,
        &rules_radio,
        &rules_links,
        &rules_airtime,
        &rules_cells,
        &rules_supply,
        &rules_cables,
        &rules_delays,
        &rules_life_safety,
        &rules_reporting,
        &rules_openings,
        &rules_modes,
        &rules_cross_zone,
        &rules_confirming,
        &rules_chime,
        &rules_hours,
        &rules_codes,
        &rules_places,
        &rules_drawing,
        &rules_sight,
        &rules_ways_in,
        &rules_walks,
        &rules_spoken,
        &rules_offers,
        &rules_settings,
        &rules_limits,
};

enum { PART_COUNT = sizeof parts / sizeof parts[0] };

const struct rules_check *rules_check_at(size_t index) {
    for (size_t part = 0; part < PART_COUNT; part++) {
        if (index < parts[part]->count) {
            return &parts[part]->rows[index];
        }
        index -= parts[part]->count;
    }
    return NULL;
}

/* Room for one more finding; NULL, and the arena remembers it, when memory is refused. */
static struct finding *make_room(struct rules_finder *finder) {
    enum { FIRST = 16 };
    if (finder->count == finder->capacity) {
        const size_t capacity = finder->capacity == 0 ? FIRST : 2 * finder->capacity;
        struct finding *larger = ARENA_ARRAY(finder->arena, struct finding, capacity);
        if (larger == NULL) {
            return NULL;
        }
        if (finder->count > 0) {
            memcpy(larger, finder->findings, finder->count * sizeof *larger);
        }
        finder->findings = larger;
        finder->capacity = capacity;
    }
    return &finder->findings[finder->count++];
}

static struct text say(
        const struct rules_finder *finder, const char *pattern, const struct words_about *about) {
    return pattern == NULL ? (struct text){0}
                           : words_print(finder->arena, finder->site, pattern, about);
}

void rules_add(struct rules_finder *finder, const struct rules_check *check,
        const struct words_about *about, const char *place, ...) {
    struct text_builder path;
    va_list arguments;
    struct finding *finding = make_room(finder);
    if (finding == NULL) {
        return;
    }
    text_builder_init(&path, finder->arena);
    va_start(arguments, place);
    text_add_format_list(&path, place, arguments);
    va_end(arguments);
    *finding = (struct finding){
            .weight = check->weight,
            .id = text_of(check->id),
            .headline = say(finder, check->headline, about),
            .why = say(finder, check->why, about),
            .place = text_built(&path),
            .remedy = say(finder, check->remedy, about),
            .price = say(finder, check->price, about),
            .source = text_of(check->source),
            .answer_index = FINDING_NO_ANSWER,
    };
}

void rules_mend(struct rules_finder *finder, struct text remedy, struct text price,
        const struct finding_edit *edits, size_t edit_count) {
    struct finding_edit *kept = ARENA_ARRAY(finder->arena, struct finding_edit, edit_count);
    if (kept == NULL || finder->count == 0) {
        return;
    }
    memcpy(kept, edits, edit_count * sizeof *kept);
    struct finding *last = &finder->findings[finder->count - 1];
    last->remedy = remedy;
    last->price = price.length > 0 ? price : last->price;
    last->edits = kept;
    last->edit_count = edit_count;
}

struct text rules_measure(
        const struct rules_finder *finder, enum quantity_kind kind, struct measure measure) {
    struct text_builder out;
    text_builder_init(&out, finder->arena);
    quantity_add_measure(&out, kind, measure);
    return text_built(&out);
}

struct text rules_numbers_text(
        const struct rules_finder *finder, const struct site_numbers *numbers) {
    struct text_builder out;
    enum { RUNS_MOST = SITE_NUMBER_MAX / 2 + 1 };
    int32_t starts[RUNS_MOST];
    int32_t ends[RUNS_MOST];
    size_t count = 0;
    for (int32_t number = 0; number <= SITE_NUMBER_MAX; number++) {
        if (!site_numbers_has(numbers, number)) {
            continue;
        }
        if (count > 0 && ends[count - 1] == number - 1) {
            ends[count - 1] = number;
        } else {
            starts[count] = number;
            ends[count++] = number;
        }
    }
    text_builder_init(&out, finder->arena);
    for (size_t i = 0; i < count; i++) {
        text_add_string(&out, i == 0 ? "" : i + 1 == count ? " and " : ", ");
        text_add_format(&out, "%d", starts[i]);
        if (ends[i] > starts[i]) {
            text_add_format(&out, " to %d", ends[i]);
        }
    }
    return count == 0 ? text_of("no number") : text_built(&out);
}

outcome rules_look(const struct site *site, struct arena *arena, struct finding **ret_findings,
        size_t *ret_count, struct problem *ret_problem) {
    struct rules_finder finder = {.site = site, .arena = arena};
    struct house house;
    struct coverage coverage;
    struct used_ways ways;
    struct problem too_much = {.kind = PROBLEM_NONE};
    struct problem too_far = {.kind = PROBLEM_NONE};
    if (site->building.said) {
        TRY(house_make(site, arena, &house, ret_problem));
        finder.house = &house;
        finder.blind_reason = too_much.text;
        finder.coverage =
                coverage_make(&house, arena, &coverage, &too_much).good ? &coverage : NULL;
        finder.ways = used_ways_make(&house, NULL, arena, &ways, &too_far).good ? &ways : NULL;
        if (too_much.kind == PROBLEM_MEMORY || too_far.kind == PROBLEM_MEMORY) {
            FAIL(ret_problem, PROBLEM_MEMORY, "", "%s",
                    too_much.kind == PROBLEM_MEMORY ? too_much.text : too_far.text);
        }
    }
    rules_links_make(&finder);
    const struct rules_check *check = NULL;
    for (size_t i = 0; (check = rules_check_at(i)) != NULL; i++) {
        check->look(&finder, check);
    }
    if (arena->refused) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to hold the settings against the rules");
    }
    *ret_findings = finder.findings;
    *ret_count = finder.count;
    return outcome_good();
}
