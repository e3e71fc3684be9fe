/* The prover against full enumeration, second by second, on random small sites; and against itself where the answer may
 * not change: reductions off, zones and people in another order, every time ten times as long. Margins and ranges are
 * held against what enumeration finds.
 *
 * sites_test FIRST COUNT: sites FIRST .. FIRST + COUNT - 1 (random_wish_of). One TAP case per claim; a site that breaks
 * one is printed. */
#include "explore/enumerate.h"
#include "host/host.h"
#include "probed_machine.h"
#include "proof/proof.h"
#include "proof/world.h"
#include "small_machine.h"
#include "support/random_site.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { STATES_MOST = 400000 };

enum claim {
    CLAIM_ENUMERATED, /* enumeration says the same, and its shortest violation has as many events */
    CLAIM_UNREDUCED,  /* the same verdict without merging, inclusion and the calm rule */
    CLAIM_PERMUTED,   /* the same verdict with zones and people in another order */
    CLAIM_TENFOLD, /* every time ten times as long, clocks exact: the same verdict, at most twice the classes */
    CLAIM_MARGIN,       /* shortened by m - 1 it holds, by m it fails */
    CLAIM_MARGIN_LEAST, /* and no shortening by less fails, of any timer that a margin is stated for */
    CLAIM_RANGE,        /* can happen when, always happens when: what enumeration collects */
    CLAIM_RANGE_LATE, /* so too where inputs see openings late */
    CLAIM_RANGE_FIXED, /* the act at both ends of a range and one second outside: as the range says */
    CLAIM_COUNT
};

static const char *const CLAIM_NAMES[CLAIM_COUNT] = {
        "full enumeration agrees, its shortest course is as long",
        "reductions change no verdict",
        "the order of zones and people changes no verdict",
        "ten times as long: same verdict, at most twice the classes",
        "a delay shortened by the margin less one holds, by the margin fails",
        "no shorter shortening fails",
        "ranges are what enumeration collects",
        "ranges are what enumeration collects where inputs see openings late",
        "with the probed act fixed at and beside the ends of a range, the verdict follows it",
};

struct tally {
    size_t held[CLAIM_COUNT];
    size_t broken[CLAIM_COUNT];
    size_t too_large;
};

/* One site under test. */
struct trial {
    uint64_t number;
    const struct site *site;
    struct arena *arena;
    struct tally *tally;
    bool printed;
};

static void print_site(const struct trial *trial, const struct site *site) {
    struct text_builder out;
    text_builder_init(&out, trial->arena);
    random_site_print(site, &out);
    const struct text built = text_built(&out);
    const char *line = built.start;
    while (line != NULL && *line != '\0') {
        const char *end = strchr(line, '\n');
        const int length = end == NULL ? (int)strlen(line) : (int)(end - line);
        printf("#   %.*s\n", length, line);
        line = end == NULL ? NULL : end + 1;
    }
}

static void claim(struct trial *trial, enum claim which, bool holds, const char *detail) {
    if (holds) {
        trial->tally->held[which]++;
        return;
    }
    trial->tally->broken[which]++;
    printf("# site %llu: not so: %s: %s\n", (unsigned long long)trial->number, CLAIM_NAMES[which],
            detail);
    if (!trial->printed) {
        print_site(trial, trial->site);
        trial->printed = true;
    }
}

static void must(outcome done, const struct problem *problem) {
    if (!done.good) {
        printf("Bail out! %s (%s)\n", problem->text, problem->place);
        exit(1);
    }
}

static void *must_take(struct arena *arena, size_t size) {
    void *memory = arena_take(arena, 1, size);
    if (memory == NULL) {
        printf("Bail out! no memory\n");
        exit(1);
    }
    return memory;
}

static struct proof_routine *unfold(const struct trial *trial, const struct site *site) {
    struct problem problem = {0};
    struct proof_routine *routine = must_take(trial->arena, sizeof *routine);
    must(proof_unfold(site, &site->routines[0], routine, &problem), &problem);
    return routine;
}

static struct proof_answer *prove(
        const struct trial *trial, const struct site *site, const struct proof_options *options) {
    struct problem problem = {0};
    struct proof_answer *answer = must_take(trial->arena, sizeof *answer);
    must(proof_run(site, NULL, unfold(trial, site), options, host_pages(), trial->arena, answer,
                 &problem),
            &problem);
    return answer;
}

static struct proof_options quick(void) {
    return (struct proof_options){.no_margin = true, .no_range = true};
}

/* ---- enumeration ---- */

struct looked {
    struct enumeration found;
    size_t story_count; /* of the explorer on the same machine; 0 = none */
    bool usable;
};

/* Enumerates the machine of a site's routine. probe: the interval of that answer, by the second writing of what it
 * counts; or NULL. */
static struct looked *look(const struct trial *trial, const struct site *site,
        const struct proof_options *options, const struct proof_answer *probe) {
    struct problem problem = {0};
    struct looked *looked = must_take(trial->arena, sizeof *looked);
    struct world *world = must_take(trial->arena, sizeof *world);
    struct panel_outputs *outputs = must_take(trial->arena, sizeof *outputs);
    must(world_make(site, NULL, unfold(trial, site), options, outputs, world, &problem), &problem);
    struct probed_machine *probed = must_take(trial->arena, sizeof *probed);
    const struct explore_machine machine =
            probe == NULL ? world_machine(world) : probed_machine_over(world, probe, probed);
    struct small_machine small;
    const struct explore_machine over = small_machine_over(&machine, &small);
    enumerate_machine(&over, probe != NULL, STATES_MOST, &looked->found);
    looked->usable = looked->found.finished && !small.too_many;
    small_machine_release(&small);
    if (probe == NULL) {
        struct explore_result result;
        must(explore_run(&machine, NULL, host_pages(), trial->arena, &result, &problem), &problem);
        looked->story_count = result.story_count;
    }
    return looked;
}

static void check_enumerated(struct trial *trial, const struct proof_answer *answer) {
    struct proof_options options = quick();
    options.no_calm = true;
    const struct looked *looked = look(trial, trial->site, &options, NULL);
    if (!looked->usable) {
        trial->tally->too_large++;
        return;
    }
    char detail[120];
    snprintf(detail, sizeof detail, "we say %d with %zu events, enumeration has %zu in %zu states",
            (int)answer->verdict, looked->story_count, looked->found.story_count,
            looked->found.states);
    const bool wrong = looked->found.story_count != 0;
    claim(trial, CLAIM_ENUMERATED,
            answer->verdict == (wrong ? PROOF_GOES_WRONG : PROOF_GOES_WELL) &&
                    looked->story_count == looked->found.story_count,
            detail);
}

/* ---- what may not change the answer ---- */

static void check_unreduced(struct trial *trial, const struct proof_answer *answer) {
    for (int without = 0; without < 4; without++) {
        struct proof_options options = quick();
        options.no_merge = without == 0 || without == 3;
        options.no_inclusion = without == 1 || without == 3;
        options.no_calm = without == 2 || without == 3;
        const struct proof_answer *other = prove(trial, trial->site, &options);
        char detail[80];
        snprintf(detail, sizeof detail, "way %d: %d, not %d", without, (int)other->verdict,
                (int)answer->verdict);
        claim(trial, CLAIM_UNREDUCED, other->verdict == answer->verdict, detail);
    }
}

static void check_permuted(struct trial *trial, const struct proof_answer *answer) {
    for (uint64_t order = 0; order < 2; order++) {
        struct site permuted;
        const struct proof_options options = quick();
        if (!random_site_permute(
                    trial->site, order * (trial->number + 1), trial->arena, &permuted)) {
            must((outcome){false}, &(struct problem){.text = "no memory"});
        }
        const struct proof_answer *other = prove(trial, &permuted, &options);
        claim(trial, CLAIM_PERMUTED, other->verdict == answer->verdict,
                order == 0 ? "reversed" : "shuffled");
    }
}

static void check_tenfold(struct trial *trial) {
    struct proof_options options = quick();
    options.no_tolerance = true;
    const struct proof_answer *once = prove(trial, trial->site, &options);
    options.scale = 10;
    const struct proof_answer *tenfold = prove(trial, trial->site, &options);
    char detail[120];
    snprintf(detail, sizeof detail, "%d with %zu classes, ten times as long %d with %zu",
            (int)once->verdict, once->classes, (int)tenfold->verdict, tenfold->classes);
    claim(trial, CLAIM_TENFOLD,
            once->verdict == tenfold->verdict && once->verdict != PROOF_NOT_SETTLED &&
                    tenfold->classes <= 2 * once->classes,
            detail);
}

/* ---- margins ---- */

static int32_t shortened(int32_t seconds_s, int32_t by_s) {
    return seconds_s > by_s ? seconds_s - by_s : 0;
}

/* The site as somebody would key it in with every delay of the kind shorter, clocks exact. */
static void key_in_shorter(const struct trial *trial, enum panel_timer_kind kind, int32_t by_s,
        struct site *ret_site) {
    struct problem problem = {0};
    must(site_copy(trial->site, trial->arena, ret_site, &problem), &problem);
    struct site_settings *settings = &ret_site->settings;
    settings->tolerance_tenths = 0;
    for (size_t i = 0; i < settings->delay_count && kind == PANEL_TIMER_ENTRY; i++) {
        settings->delays[i].seconds_s = shortened(settings->delays[i].seconds_s, by_s);
    }
    for (size_t i = 0; i < settings->mode_count && kind == PANEL_TIMER_EXIT; i++) {
        settings->modes[i].exit_delay_s = shortened(settings->modes[i].exit_delay_s, by_s);
    }
    for (size_t i = 0; i < ret_site->zone_count && kind == PANEL_TIMER_HOLD; i++) {
        ret_site->zones[i].hold_s = shortened(ret_site->zones[i].hold_s, by_s);
    }
    if (kind == PANEL_TIMER_ABORT) {
        settings->abort_window_s = shortened(settings->abort_window_s, by_s);
    }
    if (kind == PANEL_TIMER_HOLD_BACK) {
        settings->siren_hold_back_s = shortened(settings->siren_hold_back_s, by_s);
    }
}

static const enum panel_timer_kind MARGIN_KINDS[] = {PANEL_TIMER_ENTRY, PANEL_TIMER_EXIT,
        PANEL_TIMER_HOLD, PANEL_TIMER_ABORT, PANEL_TIMER_HOLD_BACK};

/* keyed_in: as a shorter delay in the site; else the prover's machine shortens it. exact: clocks exact. */
static bool shortening_fails(const struct trial *trial, enum panel_timer_kind kind, int32_t by_s,
        bool exact, bool keyed_in, bool *ret_usable) {
    struct site shorter = *trial->site;
    struct proof_options options = quick();
    options.no_tolerance = exact;
    if (keyed_in) {
        key_in_shorter(trial, kind, by_s, &shorter);
    } else {
        options.shift_s[kind] = by_s;
    }
    const struct looked *looked = look(trial, &shorter, &options, NULL);
    *ret_usable = looked->usable;
    return looked->found.story_count != 0;
}

static void check_least(struct trial *trial, const struct proof_answer *answer, bool exact) {
    const int32_t most_s = answer->has_margin ? answer->margin_s - 1 : 24;
    for (size_t k = 0; k < sizeof MARGIN_KINDS / sizeof MARGIN_KINDS[0]; k++) {
        if (MARGIN_KINDS[k] == PANEL_TIMER_HOLD_BACK &&
                trial->site->settings.siren_hold_back_s == 0) {
            continue;
        }
        for (int32_t by_s = 1; by_s <= most_s; by_s++) {
            bool usable = true;
            const bool fails =
                    shortening_fails(trial, MARGIN_KINDS[k], by_s, exact, exact, &usable);
            char detail[120];
            snprintf(detail, sizeof detail, "margin %d s (0: none), but %s shortened by %d s fails",
                    answer->has_margin ? answer->margin_s : 0,
                    panel_timer_kind_name(MARGIN_KINDS[k]), by_s);
            if (usable) {
                claim(trial, CLAIM_MARGIN_LEAST, !fails, detail);
            }
        }
    }
}

/* With exact clocks the shortened site can be keyed in; enumeration then says whether it holds. */
static void check_margin(struct trial *trial, bool exact) {
    const struct proof_options options = {.no_tolerance = exact, .no_range = true};
    const struct proof_answer *answer = prove(trial, trial->site, &options);
    if (answer->verdict != PROOF_GOES_WELL) {
        return;
    }
    if (answer->has_margin) {
        const enum panel_timer_kind kind = panel_timer_kind_of(answer->margin_timer);
        /* A delay keyed in as 0 s ends inside the step that starts it: no tie is left to lose. */
        const bool keyed_in = exact && answer->margin_deadline_s > answer->margin_s;
        bool usable = true;
        bool less_usable = true;
        const bool fails =
                shortening_fails(trial, kind, answer->margin_s, exact, keyed_in, &usable);
        const bool less_fails =
                shortening_fails(trial, kind, answer->margin_s - 1, exact, exact, &less_usable);
        char detail[120];
        snprintf(detail, sizeof detail, "%s, margin %d s: by it %s, by less %s",
                panel_timer_kind_name(kind), answer->margin_s, fails ? "fails" : "holds",
                less_fails ? "fails" : "holds");
        if (usable && less_usable) {
            claim(trial, CLAIM_MARGIN, fails && !less_fails, detail);
        }
    }
    check_least(trial, answer, exact);
}

/* ---- ranges ---- */

static bool range_has(const struct explore_ranges *ranges, int32_t length_s) {
    for (size_t i = 0; i < ranges->count; i++) {
        if (length_s >= ranges->interval[i].low_s && length_s <= ranges->interval[i].high_s) {
            return true;
        }
    }
    return false;
}

static bool sees_late(const struct site *site) {
    for (size_t i = 0; i < site->zone_count; i++) {
        if (site->zones[i].loop_response_ms > 0) {
            return true;
        }
    }
    return false;
}

static void check_range(struct trial *trial, const struct proof_answer *answer) {
    const enum claim which = sees_late(trial->site) ? CLAIM_RANGE_LATE : CLAIM_RANGE;
    const struct proof_options options = {.no_margin = true, .no_calm = true};
    const struct looked *looked = look(trial, trial->site, &options, answer);
    if (!looked->usable) {
        trial->tally->too_large++;
        return;
    }
    for (int32_t s = -ENUMERATE_LENGTH_MOST; s <= ENUMERATE_LENGTH_MOST; s++) {
        const bool bad = looked->found.bad[s + ENUMERATE_LENGTH_MOST];
        const bool good = looked->found.good[s + ENUMERATE_LENGTH_MOST];
        if (range_has(&answer->can, s) != bad ||
                range_has(&answer->always_when, s) != (bad && !good)) {
            char detail[120];
            snprintf(detail, sizeof detail,
                    "%d s: enumerated bad %d good %d, we say can %d always %d", s, bad, good,
                    range_has(&answer->can, s), range_has(&answer->always_when, s));
            claim(trial, which, false, detail);
            return;
        }
    }
    claim(trial, which, true, "");
}

/* Where one person's door starts the entry time, later comes the code, and only the code's own step has a choice of
 * times: the written step of the code; else SITE_NONE. ret_before_s: what the steps between take. */
static int freely_timed_code(
        const struct trial *trial, const struct proof_answer *answer, int32_t *ret_before_s) {
    const struct site_routine *routine = &trial->site->routines[0];
    const int code = (int)answer->routine.steps[answer->probed_step].written;
    int door = SITE_NONE;
    if (panel_timer_kind_of(answer->probed_timer) != PANEL_TIMER_ENTRY ||
            routine->steps[code].act != SITE_ACT_UNSET || trial->site->person_count != 1) {
        return SITE_NONE;
    }
    for (int i = 0; i <= code; i++) {
        const struct site_step *step = &routine->steps[i];
        if (step->maybe || step->when != SITE_SIGN_NONE || step->if_sign != SITE_SIGN_NONE ||
                step->act == SITE_ACT_SET || (step->act == SITE_ACT_UNSET && i != code)) {
            return SITE_NONE;
        }
        if (step->act == SITE_ACT_OPEN && door == SITE_NONE) {
            door = i;
            *ret_before_s = 0;
        } else if (door != SITE_NONE && i != code) {
            *ret_before_s += step->in.low_s;
            if (step->in.low_s != step->in.high_s) {
                return SITE_NONE;
            }
        }
    }
    const struct site_area *area = &trial->site->areas[0];
    /* Seen late, the entry time does not start with the door; out of hours, the code breaks a promise by itself. */
    return door == SITE_NONE || sees_late(trial->site) || trial->site->people[0].has_hours ||
                    area->common || trial->site->area_count != 1
            ? SITE_NONE
            : code;
}

static void check_fixed(struct trial *trial, const struct proof_answer *answer) {
    int32_t before_s = 0;
    const int code = freely_timed_code(trial, answer, &before_s);
    if (code == SITE_NONE) {
        return;
    }
    const struct proof_options options = {.no_margin = true};
    const struct span in = trial->site->routines[0].steps[code].in;
    for (int32_t s = in.low_s; s <= in.high_s; s++) {
        struct site fixed = *trial->site;
        struct site_routine routine = trial->site->routines[0];
        routine.steps = must_take(trial->arena, routine.step_count * sizeof *routine.steps);
        memcpy(routine.steps, trial->site->routines[0].steps,
                routine.step_count * sizeof *routine.steps);
        routine.steps[code].in = span_of(s, s);
        fixed.routines = &routine;
        const struct proof_answer *then = prove(trial, &fixed, &options);
        const bool can = range_has(&answer->can, before_s + s);
        const bool always = range_has(&answer->always_when, before_s + s);
        char detail[120];
        snprintf(detail, sizeof detail,
                "code %d s after the door: can %d, always %d; fixed there: %d, always %d",
                before_s + s, can, always, (int)then->verdict, then->always);
        claim(trial, CLAIM_RANGE_FIXED,
                (then->verdict == PROOF_GOES_WRONG) == can && (then->always || !always), detail);
    }
}

/* ---- all of it ---- */

static void open_trial(struct trial *trial, struct tally *tally, const struct random_wish *wish,
        struct arena *arena, struct site *site) {
    arena_init(arena, host_pages(), 0);
    if (!random_site_build(wish, arena, site)) {
        must((outcome){false}, &(struct problem){.text = "no memory"});
    }
    *trial = (struct trial){.number = wish->seed, .site = site, .arena = arena, .tally = tally};
}

static void try_site(struct tally *tally, uint64_t number) {
    struct arena arena;
    struct site site;
    struct trial trial;
    struct random_wish wish = random_wish_of(number);
    wish.users = number % 5 < 2;
    wish.lines = number % 5 == 3;
    wish.witnesses = number % 5 == 4;
    open_trial(&trial, tally, &wish, &arena, &site);
    const struct proof_options options = {.no_margin = true};
    const struct proof_answer *answer = prove(&trial, &site, &options);
    check_enumerated(&trial, answer);
    check_unreduced(&trial, answer);
    check_permuted(&trial, answer);
    check_tenfold(&trial);
    check_margin(&trial, true);
    if (site.settings.tolerance_tenths != 0) {
        check_margin(&trial, false);
    }
    if (answer->verdict == PROOF_GOES_WRONG && answer->has_range) {
        check_range(&trial, answer);
        check_fixed(&trial, answer);
    }
    arena_finish(&arena);
}

/* Ranges alone, of sites where more than one end of a timer may be the one that broke it, or the start of a timer comes
 * later than what made it: in the third of them somebody else may have moved the same door meanwhile. */
static struct random_wish ranged_wish(uint64_t number) {
    switch (number % 4) {
    case 0:
        return (struct random_wish){.family = RANDOM_KIOSK, .seed = number};
    case 1:
        return (struct random_wish){.family = RANDOM_KIOSK, .seed = number, .lines = true};
    case 2:
        return (struct random_wish){.family = RANDOM_PLAIN, .seed = number, .lines = true};
    }
    return (struct random_wish){.family = RANDOM_CHOICES, .seed = number, .lines = true};
}

static void try_ranges(struct tally *tally, uint64_t number) {
    struct arena arena;
    struct site site;
    struct trial trial;
    const struct random_wish wish = ranged_wish(number);
    open_trial(&trial, tally, &wish, &arena, &site);
    const struct proof_options options = {.no_margin = true};
    const struct proof_answer *answer = prove(&trial, &site, &options);
    if (answer->verdict == PROOF_GOES_WRONG && answer->has_range) {
        check_range(&trial, answer);
    }
    arena_finish(&arena);
}

int main(int argument_count, char **arguments) {
    static const struct tally NOTHING;
    struct tally tally = NOTHING;
    if (argument_count != 3) {
        fprintf(stderr, "sites_test FIRST COUNT\n");
        return 2;
    }
    const uint64_t first = strtoull(arguments[1], NULL, 10);
    const uint64_t count = strtoull(arguments[2], NULL, 10);
    printf("# sites %llu to %llu\n1..%d\n", (unsigned long long)first,
            (unsigned long long)(first + count - 1), CLAIM_COUNT + 1);
    for (uint64_t number = first; number < first + count; number++) {
        try_site(&tally, number);
        try_ranges(&tally, number);
    }
    size_t failed = 0;
    for (int which = 0; which < CLAIM_COUNT; which++) {
        /* A claim that was never tried has not been shown. */
        const bool good = tally.broken[which] == 0 && tally.held[which] > 0;
        failed += !good;
        printf("%s %d - %s (%zu times, %zu not)\n", good ? "ok" : "not ok", which + 1,
                CLAIM_NAMES[which], tally.held[which] + tally.broken[which], tally.broken[which]);
    }
    const bool few = tally.too_large * 20 <= count;
    printf("%s %d - few are too large to enumerate (%zu)\n", few ? "ok" : "not ok", CLAIM_COUNT + 1,
            tally.too_large);
    return failed == 0 && few ? 0 : 1;
}
