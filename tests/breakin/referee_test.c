/* The search of break-ins against brute force with waiting at every second, on random small buildings with random panel
 * settings; and every course that it found against the player.
 *
 * referee_test FIRST COUNT: the buildings of these seeds. referee_test only SEED...: those alone. referee_test crossed
 * FIRST COUNT: those of cross-zone pairs (crossed.h). One TAP case per claim; a building that breaks one is printed
 * with its seed. */
#include "brute.h"
#include "building.h"
#include "crossed.h"
#include "host/host.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { STATES_MOST = 20000 };

enum claim {
    CLAIM_EQUAL,    /* the same outcome as brute force */
    CLAIM_REPLAYED, /* the player comes to the same with the best and with the quickest course */
    CLAIM_ZONE,     /* an instant zone more, without partners, is never better for him */
    CLAIM_FASTER,   /* who is faster and may wait never does worse */
    CLAIM_BOUND,    /* what a search says that was cut is so */
    CLAIM_CROSSED,  /* a cross-zone pair is passed as the rule lets him, no sooner and no later */
    CLAIM_COUNT
};

static const char *const CLAIM_NAMES[CLAIM_COUNT] = {
        "brute force with waiting at every second comes to the same",
        "the player comes to the same",
        ("an instant zone without partners never helps the intruder where the site is set when he "
         "begins"),
        "a faster intruder who may wait never does worse",
        "what a search says that ran into its limit is so",
        "a cross-zone pair is passed as its rule has it, worked out without the panel",
};

struct tally {
    size_t held[CLAIM_COUNT];
    size_t broken[CLAIM_COUNT];
    size_t too_large;
    size_t verdicts[BREAKIN_NOT_SETTLED + 1];
    size_t states;
    size_t labels;
    size_t settled_early;
};

struct trial {
    uint64_t seed;
    struct arena *arena;
    struct building *building;
    struct tally *tally;
};

static void claim(struct trial *trial, enum claim which, bool holds, const char *detail) {
    if (holds) {
        trial->tally->held[which]++;
        return;
    }
    trial->tally->broken[which]++;
    printf("# building %llu: not so: %s: %s\n", (unsigned long long)trial->seed, CLAIM_NAMES[which],
            detail);
    if (trial->tally->broken[which] < 3) {
        building_print(trial->building);
    }
}

static bool search(struct trial *trial, const struct building *building,
        struct breakin_answer *ret_answers, size_t *ret_labels) {
    struct problem problem = {0};
    if (!breakin_search(&building->site, &building->program, &building->graph, &building->start,
                &building->options, host_pages(), trial->arena, ret_answers, ret_labels, &problem)
                    .good) {
        printf("# building %llu: %s\n", (unsigned long long)trial->seed, problem.text);
        return false;
    }
    return true;
}

/* How late it is heard, so that larger is better for him. */
static int32_t late_of(const struct breakin_answer *answer) {
    if (answer->verdict == BREAKIN_NO_WAY) {
        return INT32_MIN;
    }
    return answer->best.heard_s == BREAKIN_NEVER_S ? BREAKIN_NEVER_S
                                                   : answer->best.heard_s - answer->best.done_s;
}

static void against_brute_force(struct trial *trial, const struct breakin_answer *answers) {
    struct brute_answer plain[BUILDING_GOALS];
    size_t states = 0;
    if (!brute_search(trial->building, STATES_MOST, plain, &states)) {
        trial->tally->too_large++;
        return;
    }
    trial->tally->states += states;
    for (size_t goal = 0; goal < trial->building->graph.goal_count; goal++) {
        char detail[120];
        const int32_t expected = plain[goal].any ? plain[goal].late_s : INT32_MIN;
        snprintf(detail, sizeof detail, "goal %zu: %d by search, %d by brute force", goal,
                late_of(&answers[goal]), expected);
        claim(trial, CLAIM_EQUAL, late_of(&answers[goal]) == expected, detail);
    }
}

static void replay(struct trial *trial, const struct breakin_answer *answers) {
    const struct building *building = trial->building;
    for (size_t goal = 0; goal < building->graph.goal_count; goal++) {
        if (answers[goal].verdict == BREAKIN_NO_WAY) {
            continue;
        }
        for (int which = 0; which < 2; which++) {
            struct breakin_story story;
            struct problem problem = {0};
            const bool good = breakin_tell(&building->site, &building->program, &building->graph,
                    goal, &building->start, &building->options,
                    which == 0 ? &answers[goal].best : &answers[goal].quickest, trial->arena,
                    &story, &problem)
                                      .good;
            claim(trial, CLAIM_REPLAYED, good, problem.text);
        }
    }
}

static bool site_is_set(const struct building *building) {
    for (size_t area = 0; area < building->site.area_count; area++) {
        if (!building->start.areas[area].set) {
            return false;
        }
    }
    return building->start.exiting == 0;
}

/* One more motion detector on some of the steps. An entry contact may well help him: it starts a delay. So may a trip
 * off the route by the European course: its inside warning delays the report. And where alarms are confirmed no zone is
 * without partners: behind its abort window a confirmation waits that two zones which report nothing send at once. */
static void with_a_zone(struct trial *trial, const struct breakin_answer *answers) {
    struct building more = *trial->building;
    struct breakin_answer others[BUILDING_GOALS];
    if (!site_is_set(&more) || more.site.zone_count == BUILDING_ZONES ||
            more.site.settings.off_route == SITE_OFF_ROUTE_EN ||
            more.site.settings.confirm_window_s > 0) {
        return;
    }
    const size_t added = more.site.zone_count++;
    more.site.device_count++;
    more.site.device_profile_count++;
    more.site.device_profiles[added] = (struct site_device_profile){
            .name = text_of("device"), .sense = SITE_MOTION, .hold = span_of(0, 1)};
    more.site.devices[added] = (struct site_device){.name = text_of("device"),
            .profile = (int)added,
            .door = SITE_NONE,
            .keypad = SITE_NONE};
    more.site.zones[added] = (struct site_zone){.number = (int32_t)added + 1,
            .name = text_of("more"),
            .device = (int)added,
            .door = SITE_NONE,
            .behaviour = SITE_PERIMETER,
            .reports = true,
            .pulse_count = 1,
            .cross_with = SITE_NONE};
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        more.site.zones[added].in[mode] = SITE_PERIMETER;
        more.site.zones[added].delay[mode] = SITE_NONE;
    }
    more.graph.portals = more.portals;
    for (size_t i = 0; i < more.graph.portal_count; i++) {
        if (((trial->seed >> i) & 1U) != 0) {
            panel_zones_add(&more.portals[i].trips, (unsigned)added);
        }
    }
    if (building_program(&more) && search(trial, &more, others, NULL)) {
        for (size_t goal = 0; goal < more.graph.goal_count; goal++) {
            char detail[120];
            snprintf(detail, sizeof detail, "goal %zu: %d with it, %d without", goal,
                    late_of(&others[goal]), late_of(&answers[goal]));
            claim(trial, CLAIM_ZONE, late_of(&others[goal]) <= late_of(&answers[goal]), detail);
        }
    }
    more.site.zones[added] = (struct site_zone){0};
}

static void faster(struct trial *trial, const struct breakin_answer *answers) {
    struct building quick = *trial->building;
    struct breakin_answer others[BUILDING_GOALS];
    quick.graph.portals = quick.portals;
    quick.graph.moves = quick.moves;
    for (size_t i = 0; i < quick.graph.portal_count; i++) {
        quick.portals[i].force_s /= 2;
    }
    for (size_t i = 0; i < quick.graph.move_count; i++) {
        quick.moves[i].least_s /= 2;
    }
    size_t labels = 0;
    /* One that was cut has found what it has found, and maybe not the best. */
    if (search(trial, &quick, others, &labels) && labels < BREAKIN_LABEL_LIMIT) {
        for (size_t goal = 0; goal < quick.graph.goal_count; goal++) {
            char detail[120];
            snprintf(detail, sizeof detail, "goal %zu: %d when faster, %d before", goal,
                    late_of(&others[goal]), late_of(&answers[goal]));
            claim(trial, CLAIM_FASTER, late_of(&others[goal]) >= late_of(&answers[goal]), detail);
        }
    }
}

/* One that stops early may leave open, but not claim, what is not so. */
static void cut_short(struct trial *trial, const struct breakin_answer *answers) {
    static const size_t limits[] = {6, 25, 100, 400};
    for (size_t i = 0; i < sizeof limits / sizeof limits[0]; i++) {
        struct building cut = *trial->building;
        struct breakin_answer others[BUILDING_GOALS];
        cut.graph.portals = cut.portals;
        cut.graph.moves = cut.moves;
        cut.options.label_limit = limits[i];
        if (!search(trial, &cut, others, NULL)) {
            continue;
        }
        for (size_t goal = 0; goal < cut.graph.goal_count; goal++) {
            const struct breakin_answer *whole = &answers[goal];
            const struct breakin_answer *some = &others[goal];
            const bool in_time = some->verdict == BREAKIN_IN_TIME;
            char detail[120];
            if (some->verdict == BREAKIN_NOT_SETTLED || whole->open) {
                continue;
            }
            trial->tally->settled_early += some->open;
            snprintf(detail, sizeof detail, "goal %zu, %zu labels: verdict %d, %d to spare; %d, %d",
                    goal, limits[i], (int)some->verdict, some->spare_s, (int)whole->verdict,
                    whole->spare_s);
            claim(trial, CLAIM_BOUND,
                    !some->open ? some->verdict == whole->verdict && some->spare_s == whole->spare_s
                            : in_time
                            ? whole->verdict == BREAKIN_IN_TIME && whole->spare_s >= some->spare_s
                            : late_of(whole) >= late_of(some),
                    detail);
        }
    }
}

static void try_building(uint64_t seed, struct tally *tally) {
    struct arena arena;
    arena_init(&arena, host_pages(), 0);
    static struct building building;
    struct trial trial = {.seed = seed, .arena = &arena, .building = &building, .tally = tally};
    struct breakin_answer answers[BUILDING_GOALS];
    size_t labels = 0;
    if (!building_draw(seed, &arena, &building) || !search(&trial, &building, answers, &labels)) {
        tally->broken[CLAIM_EQUAL]++;
    } else {
        tally->labels += labels;
        for (size_t goal = 0; goal < building.graph.goal_count; goal++) {
            tally->verdicts[answers[goal].verdict]++;
        }
        against_brute_force(&trial, answers);
        replay(&trial, answers);
        with_a_zone(&trial, answers);
        faster(&trial, answers);
        cut_short(&trial, answers);
    }
    arena_finish(&arena);
}

static void try_crossed(uint64_t seed, struct tally *tally) {
    struct arena arena;
    arena_init(&arena, host_pages(), 0);
    static struct building building;
    struct trial trial = {.seed = seed, .arena = &arena, .building = &building, .tally = tally};
    struct breakin_answer answer;
    struct crossed_answer expected;
    if (!crossed_draw(seed, &arena, &building, &expected) ||
            !search(&trial, &building, &answer, NULL)) {
        tally->broken[CLAIM_CROSSED]++;
    } else {
        char detail[120];
        const int32_t late_s = late_of(&answer);
        snprintf(detail, sizeof detail, "%d, had at %d; by the rule %d, had at %d", late_s,
                answer.best.done_s, expected.late_s, expected.done_s);
        claim(&trial, CLAIM_CROSSED,
                late_s == expected.late_s &&
                        (late_s != BREAKIN_NEVER_S || answer.best.done_s == expected.done_s ||
                                (!expected.one_way && answer.best.done_s > expected.done_s)),
                detail);
        tally->verdicts[answer.verdict]++;
    }
    arena_finish(&arena);
}

/* A claim that nothing was asked of counts as broken. */
static int print_claims(const struct tally *tally, enum claim from, enum claim to) {
    int failed = 0;
    printf("1..%d\n", (int)to - (int)from);
    for (enum claim which = from; which < to; which++) {
        const bool good = tally->broken[which] == 0 && tally->held[which] > 0;
        failed += !good;
        printf("%s %d - %s (%zu)\n", good ? "ok" : "not ok", (int)which - (int)from + 1,
                CLAIM_NAMES[which], tally->held[which]);
    }
    return failed == 0 ? 0 : 1;
}

static void try_many(
        void (*try)(uint64_t seed, struct tally *tally), char *const *range, struct tally *tally) {
    const uint64_t first = strtoull(range[0], NULL, 10);
    const uint64_t many = strtoull(range[1], NULL, 10);
    for (uint64_t seed = first; seed < first + many; seed++) {
        try(seed, tally);
    }
    printf("# %llu buildings from %llu\n", (unsigned long long)many, (unsigned long long)first);
}

int main(int count, char **words) {
    static struct tally tally;
    const bool only = count > 2 && strcmp(words[1], "only") == 0;
    const bool crossed = count > 3 && strcmp(words[1], "crossed") == 0;
    for (int i = 2; only && i < count; i++) {
        try_building(strtoull(words[i], NULL, 10), &tally);
    }
    if (crossed) {
        try_many(try_crossed, &words[2], &tally);
    } else if (!only && count > 2) {
        try_many(try_building, &words[1], &tally);
    }
    printf("# in time %zu, late %zu, unheard %zu, no way %zu, not settled %zu; %zu too large for "
           "brute force; %zu labels, %zu states; %zu cut and settled\n",
            tally.verdicts[BREAKIN_IN_TIME], tally.verdicts[BREAKIN_LATE],
            tally.verdicts[BREAKIN_UNHEARD], tally.verdicts[BREAKIN_NO_WAY],
            tally.verdicts[BREAKIN_NOT_SETTLED], tally.too_large, tally.labels, tally.states,
            tally.settled_early);
    return crossed ? print_claims(&tally, CLAIM_CROSSED, CLAIM_COUNT)
                   : print_claims(&tally, CLAIM_EQUAL, CLAIM_CROSSED);
}
