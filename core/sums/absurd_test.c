/* Absurd inputs by dice: whatever the words of a sum or the figures of a site are (zero, negative, at the ends of what
 * is read and beyond, wires of no length, loads larger than the supply, places colder than any table), a sum refuses
 * with words or every figure is a number, and no text of a sum or a finding holds one that is none. A seed is a case
 * for good. */
#include "sums/power_site.h"
#include "sums/radio_site.h"

#include "rules/rules.h"

#include <math.h>

/* Its house is not the plan's. */
#define house scene
#include "rules/test_rules.h"
#undef house

enum { ROUNDS = 400, SITES = 1500 };

struct dice {
    uint64_t state;
};

static uint32_t throw_dice(struct dice *dice, uint32_t faces) {
    dice->state = dice->state * 6364136223846793005ULL + 1442695040888963407ULL;
    return (uint32_t)(dice->state >> 33) % faces;
}

/* ---- what is printed */

static bool is_letter(char byte) {
    return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') ||
            (unsigned char)byte > 127;
}

/* "nan", "inf" by themselves, as printf writes what is no number. */
static bool has_no_number(struct text words) {
    for (size_t i = 0; i + 3 <= words.length; i++) {
        const char *at = words.start + i;
        const bool found = memcmp(at, "nan", 3) == 0 || memcmp(at, "inf", 3) == 0;
        if (found && (i == 0 || !is_letter(at[-1])) &&
                (i + 3 == words.length || !is_letter(at[3]))) {
            return true;
        }
    }
    return false;
}

static void assert_words(struct text words, uint64_t seed, const char *where) {
    if (has_no_number(words)) {
        print_error("seed %llu, %s: %.*s\n", (unsigned long long)seed, where, TEXT_ARGS(words));
        fail();
    }
}

static void assert_answer(const struct sums_answer *answer, uint64_t seed) {
    assert_true(answer->figure_count > 0 && answer->figure_count <= answer->figure_most);
    assert_words(answer->title, seed, "title");
    for (size_t i = 0; i < answer->figure_count; i++) {
        const struct sums_figure *figure = &answer->figures[i];
        if (!isfinite(figure->low) || !isfinite(figure->high) || figure->low > figure->high) {
            print_error("seed %llu, %s: %g to %g\n", (unsigned long long)seed, figure->key,
                    figure->low, figure->high);
            fail();
        }
        assert_words(figure->how, seed, figure->key);
        assert_words(figure->words, seed, figure->key);
        assert_words(figure->remark, seed, figure->key);
    }
    for (size_t i = 0; i < answer->note_count; i++) {
        assert_words(answer->notes[i], seed, "note");
    }
}

static void assert_told(const struct problem *problem) {
    assert_true(strlen(problem->text) > 10);
}

/* ---- the words of quick sums */

static const char *const units[QUANTITY_KIND_COUNT] = {
        [QUANTITY_TIME_S] = "s",
        [QUANTITY_LENGTH_M] = "m",
        [QUANTITY_SPEED_M_S] = "m/s",
        [QUANTITY_PERCENT] = "%",
        [QUANTITY_CURRENT_MA] = "mA",
        [QUANTITY_TEMPERATURE_C] = "C",
        [QUANTITY_FREQUENCY_MHZ] = "MHz",
        [QUANTITY_POWER_DBM] = "dBm",
        [QUANTITY_LEVEL_DB] = "dB",
        [QUANTITY_VOLTAGE_V] = "V",
        [QUANTITY_RESISTANCE_OHM] = "ohm",
        [QUANTITY_CHARGE_MAH] = "mAh",
        [QUANTITY_FIELD_MT] = "mT",
        [QUANTITY_ANGLE_DEG] = "deg",
        [QUANTITY_MASS_KG] = "kg",
};

/* At an end, beyond it, in between by its size, or nothing that could be. */
static struct text odd_number(
        struct dice *dice, const struct sums_option *option, struct arena *arena) {
    static const char *const odd[] = {
            "0", "-1", "-0.001", "9999999", "1e9", "nan", "inf", ".", "-"};
    const double share = throw_dice(dice, 1001) / 1000.0;
    const double low = fmax(option->low, 0.001);
    switch (throw_dice(dice, 8)) {
    case 0:
        return text_print(arena, "%.3f", option->low);
    case 1:
        return text_print(arena, "%.3f", option->high);
    case 2:
        return text_of(odd[throw_dice(dice, sizeof odd / sizeof odd[0])]);
    case 3:
        return text_print(arena, "%.3f", option->high * (1 + share));
    default:
        return text_print(arena, "%.3f", low * pow(fmax(low, option->high) / low, share));
    }
}

static struct text odd_word(
        struct dice *dice, const struct sums_option *option, struct arena *arena) {
    static const char *const words[] = {"22awg", "0.5mm2", "0.6mm", "40awg", "0awg", "-5mm2",
            "cr2032", "CR123A", "house", "nfpa72-2022", "cheese", "brick:100mm",
            "concrete:200mm,air:1mm", "metal:1mm", "brick:-5mm", "brick:0mm", "sheet:0ohm",
            "sheet:4ohm", "cheese:1mm", "air:9999mm", "d:supply:22awg:3m:1A",
            "d:supply:22awg:0m:1A", "d:d:22awg:3m:1A", "e:d:0.5mm2:3m:0mA"};
    if (option != NULL && option->choices != NULL && throw_dice(dice, 4) > 0) {
        size_t length = 0;
        const char *word = option->choices;
        for (uint32_t skip = throw_dice(dice, 5); skip > 0 && strchr(word, ' ') != NULL; skip--) {
            word = strchr(word, ' ') + 1;
        }
        length = strcspn(word, " ");
        return text_copy(arena, (struct text){word, length});
    }
    return text_of(words[throw_dice(dice, sizeof words / sizeof words[0])]);
}

static struct text odd_value(
        struct dice *dice, const struct sums_option *option, struct arena *arena) {
    if (option->takes == SUMS_WORD) {
        return odd_word(dice, option, arena);
    }
    const struct text number = odd_number(dice, option, arena);
    const char *unit = option->takes == SUMS_QUANTITY || option->takes == SUMS_LENGTH
            ? units[option->kind]
            : "";
    if (option->from_to && throw_dice(dice, 3) == 0) {
        const struct text other = odd_number(dice, option, arena);
        return text_print(arena, "%.*s..%.*s%s", TEXT_ARGS(number), TEXT_ARGS(other), unit);
    }
    return text_print(arena, "%.*s%s", TEXT_ARGS(number), unit);
}

/* What must be given mostly is; the rest now and then. */
static size_t odd_words(struct dice *dice, const struct sums_sum *sum, struct arena *arena,
        struct text *ret_words) {
    size_t count = 0;
    for (size_t i = 0; i < sum->words_least + throw_dice(dice, 2) && i < 4; i++) {
        ret_words[count++] = odd_word(dice, NULL, arena);
    }
    for (size_t i = 0; i < sum->option_count && count + 2 < SUMS_WORDS_MOST; i++) {
        const bool wanted = sum->options[i].usual == NULL;
        if (throw_dice(dice, wanted ? 40 : 4) == (wanted ? 1 : 0) ? wanted : !wanted) {
            continue;
        }
        ret_words[count++] = text_print(arena, "--%s", sum->options[i].name);
        ret_words[count++] = odd_value(dice, &sum->options[i], arena);
    }
    return count;
}

static void no_words_of_a_sum_give_what_is_no_number(void **unused) {
    (void)unused;
    for (size_t i = 0; i < sums_count(); i++) {
        size_t answered = 0;
        for (uint64_t seed = 1; seed <= ROUNDS; seed++) {
            struct dice dice = {seed * 1000003 + i};
            struct text words[SUMS_WORDS_MOST];
            struct arena arena;
            struct sums_answer answer;
            struct problem problem = {.kind = PROBLEM_NONE};
            arena_init(&arena, (struct pages){.get = house_get, .give = house_give}, 0);
            const size_t count = odd_words(&dice, sums_at(i), &arena, words);
            if (sums_run(sums_at(i), words, count, &arena, &answer, &problem).good) {
                assert_answer(&answer, seed);
                answered++;
            } else {
                assert_told(&problem);
            }
            arena_finish(&arena);
        }
        if (answered == 0) {
            print_error("lintel %s %s: none of %d was answered\n", sums_at(i)->command,
                    sums_at(i)->name, ROUNDS);
            fail();
        }
    }
}

/* ---- the figures of a site */

/* Within what the reader of files lets through: not said, at an end, in between by its size. */
static struct measure odd_measure(struct dice *dice, double low, double high) {
    const double share = throw_dice(dice, 1001) / 1000.0;
    const double least = low > 0 ? low : 0.001;
    double from = low;
    double to = high;
    switch (throw_dice(dice, 5)) {
    case 0:
        return (struct measure){0};
    case 1:
        to = low;
        break;
    case 2:
        from = high;
        break;
    case 3:
        from = low < 0 ? low + (high - low) * share : least * pow(high / least, share);
        to = from;
        break;
    default:
        break;
    }
    return (struct measure){(int32_t)(from * MEASURE_UNIT), (int32_t)(to * MEASURE_UNIT), true};
}

static void odd_profile(struct dice *dice, struct site_device_profile *profile) {
    static const char *const batteries[] = {"CR2032", "CR123A", "LR03", "goblin", ""};
    profile->radio = throw_dice(dice, 2) == 0;
    profile->frequency = odd_measure(dice, 30, 100000);
    profile->radiates = odd_measure(dice, -60, 40);
    profile->receives = odd_measure(dice, -150, 0);
    profile->quiet = odd_measure(dice, 0.001, 1000);
    profile->sends_at = odd_measure(dice, 0.1, 1000);
    profile->capacity = odd_measure(dice, 1, 200000);
    profile->needs_volts = odd_measure(dice, 1, 60);
    profile->current = odd_measure(dice, 0, 100000);
    profile->battery = text_of(batteries[throw_dice(dice, 5)]);
    profile->check_in_s = throw_dice(dice, 3) == 0 ? 604800 : (int32_t)throw_dice(dice, 7200);
    profile->event_air_ms = (int32_t)throw_dice(dice, 2) * 60000;
    profile->check_in_air_ms = (int32_t)throw_dice(dice, 2) * 60000;
    profile->battery_years = (int32_t)throw_dice(dice, 31);
}

static void odd_panel(struct dice *dice, struct site *site) {
    struct site_panel_profile *panel = &site->panel;
    panel->receives = odd_measure(dice, -150, 0);
    panel->radiates = odd_measure(dice, -60, 40);
    panel->volts = odd_measure(dice, 1, 60);
    panel->output = odd_measure(dice, 1, 100000);
    panel->charges_at = odd_measure(dice, 1, 100000);
    panel->battery_size = odd_measure(dice, 1, 200000);
    panel->current = odd_measure(dice, 0, 100000);
    panel->wirings = throw_dice(dice, 64);
    panel->resistors = odd_measure(dice, 1, 1000000);
    panel->pull_up = odd_measure(dice, 1, 1000000);
    panel->loop_volts = odd_measure(dice, 0.1, 60);
    site->supply.battery = odd_measure(dice, 100, 200000);
    site->supply.at = odd_measure(
            dice, throw_dice(dice, 2) == 0 ? -100 : 0, throw_dice(dice, 2) == 0 ? 200 : 40);
    site->supply.behind = (enum site_behind)throw_dice(dice, SITE_BEHIND_COUNT);
    site->settings.supervision_window_s = (int32_t)throw_dice(dice, 3) * 43200;
}

static void odd_things(struct dice *dice, struct scene *scene, struct site_link *links,
        struct site_cable *cables) {
    static const struct text through[] = {{"brick", 5}, {"concrete:500mm", 14}, {"cheese", 6}};
    static const char *const gauges[] = {"22awg", "0.001mm2", "9999mm2", "40awg", "thick"};
    for (int i = 0; i < HOUSE_ZONE_COUNT; i++) {
        scene->devices[i].place_at = odd_measure(dice, -100, 200);
        scene->devices[i].trips_day = (int32_t)throw_dice(dice, 3) * 5000;
        scene->devices[i].behind = (enum site_behind)throw_dice(dice, SITE_BEHIND_COUNT);
        scene->devices[i].battery_day = (int32_t)throw_dice(dice, 2) * 20000;
        scene->zones[i].wiring = (enum site_wiring)throw_dice(dice, SITE_WIRING_COUNT);
        scene->zones[i].end_ohm = odd_measure(dice, 1, 1000000);
        scene->zones[i].alarm_ohm = odd_measure(dice, 1, 1000000);
        scene->zones[i].mask_ohm = odd_measure(dice, 1, 1000000);
        scene->zones[i].measured_ohm = odd_measure(dice, 0, 2000000);
        links[i] = (struct site_link){.device = i,
                .distance_mm = (int32_t)throw_dice(dice, 3) * 500000,
                .through = through,
                .through_count = throw_dice(dice, 4),
                .floors = (int32_t)throw_dice(dice, 11),
                .measured = odd_measure(dice, -150, 20),
                .measured_back = odd_measure(dice, -150, 20)};
        cables[i] = (struct site_cable){.to = i,
                .from = throw_dice(dice, 4) > 0 ? SITE_NONE
                                                : (int)throw_dice(dice, HOUSE_ZONE_COUNT),
                .length_mm = (int32_t)throw_dice(dice, 3) * 500000,
                .gauge = text_of(gauges[throw_dice(dice, 10) == 0 ? 4 : throw_dice(dice, 4)]),
                .measured = odd_measure(dice, 0, 60)};
    }
    scene->site.links = links;
    scene->site.link_count = throw_dice(dice, HOUSE_ZONE_COUNT + 1);
    scene->site.cables = cables;
    scene->site.cable_count = throw_dice(dice, HOUSE_ZONE_COUNT + 1);
}

static void assert_sum(outcome ran, const struct sums_answer *answer, const struct problem *problem,
        uint64_t seed, size_t *answered) {
    if (ran.good) {
        assert_answer(answer, seed);
        (*answered)++;
    } else {
        assert_told(problem);
    }
}

static void no_figures_of_a_site_give_what_is_no_number(void **state) {
    static const struct text rules[] = {{"house", 5}, {"nfpa72-2022", 11}, {"nothing", 7}};
    struct scene *scene = *state;
    struct site_link links[HOUSE_ZONE_COUNT];
    struct site_cable cables[HOUSE_ZONE_COUNT];
    size_t powered = 0;
    size_t linked = 0;
    for (uint64_t seed = 1; seed <= SITES; seed++) {
        struct dice dice = {seed};
        struct arena arena;
        struct sums_answer answer;
        struct problem problem = {.kind = PROBLEM_NONE};
        struct finding *findings = NULL;
        size_t count = 0;
        arena_init(&arena, (struct pages){.get = house_get, .give = house_give}, 0);
        for (int i = 0; i < PROFILE_COUNT; i++) {
            odd_profile(&dice, &scene->profiles[i]);
        }
        odd_panel(&dice, &scene->site);
        odd_things(&dice, scene, links, cables);
        scene->site.rules = rules;
        scene->site.rule_count = throw_dice(&dice, 4);
        assert_sum(sums_run_power_site(&scene->site, NULL, 0, &arena, &answer, &problem), &answer,
                &problem, seed, &powered);
        assert_sum(sums_run_radio_site(&scene->site, NULL, NULL, 0, &arena, &answer, &problem),
                &answer, &problem, seed, &linked);
        assert_true(rules_look(&scene->site, &arena, &findings, &count, &problem).good);
        for (size_t i = 0; i < count; i++) {
            assert_words(findings[i].headline, seed, findings[i].id.start);
            assert_words(findings[i].why, seed, findings[i].id.start);
            assert_words(findings[i].remedy, seed, findings[i].id.start);
            for (size_t k = 0; k < findings[i].edit_count; k++) {
                assert_words(findings[i].edits[k].value, seed, findings[i].id.start);
            }
        }
        arena_finish(&arena);
    }
    if (powered < SITES / 20 || linked < SITES / 20) { /* else hardly anything is looked at */
        print_error("of %d sites %zu and %zu were answered\n", SITES, powered, linked);
        fail();
    }
}

/* The test of the texts sees what it is there for. */
static void what_is_no_number_is_seen(void **unused) {
    (void)unused;
    assert_true(has_no_number(text_of("arrives -nan V")));
    assert_true(has_no_number(text_of("inf")));
    assert_false(has_no_number(text_of("information for the finance of bananas, 0.5 V")));
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(what_is_no_number_is_seen),
            cmocka_unit_test(no_words_of_a_sum_give_what_is_no_number),
            HOUSE_TEST(no_figures_of_a_site_give_what_is_no_number),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
