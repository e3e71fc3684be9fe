/* The prover against SPIN on random small sites: same verdict for every one, and the promise that the prover says
 * breaks first is one that SPIN finds broken first too. SPIN is asked in both forms of time.
 *
 * spin_test VERIFIER FIRST COUNT: sites FIRST .. FIRST + COUNT - 1 (random_wish_of; in every third the path is lost,
 * in every third codes are for some modes only), then known answers, so that both can be wrong together only where the
 * page was misread. A disagreeing site is printed whole. */
#include "host/host.h"
#include "proof/proof.h"
#include "referee.h"
#include "support/random_site.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { LIMIT_S = 120 };

struct bench {
    const char *verifier;
    char folder[64];
    unsigned case_count;
    unsigned failed_count;
};

static void tell(struct bench *bench, bool good, const char *what) {
    bench->case_count++;
    bench->failed_count += !good;
    printf("%s %u - %s\n", good ? "ok" : "not ok", bench->case_count, what);
    fflush(stdout);
}

static uint32_t promise_bit(enum proof_promise promise) {
    switch (promise) {
    case PROOF_SIREN:
        return REFEREE_SIREN;
    case PROOF_ALARM:
        return REFEREE_ALARM;
    case PROOF_EXIT_ERROR:
        return REFEREE_EXIT_ERROR;
    case PROOF_REFUSED:
        return REFEREE_REFUSED;
    case PROOF_DROPPED:
        return REFEREE_DROPPED;
    case PROOF_WARNING:
        return REFEREE_WARNING;
    case PROOF_TROUBLE:
        return REFEREE_TROUBLE;
    case PROOF_KEPT:
    case PROOF_HOLD_UP:
    case PROOF_DURESS:
    case PROOF_TURNED_AWAY:
    case PROOF_PROMISE_COUNT:
        break;
    }
    return 0;
}

static bool prove(const struct site *site, const struct proof_options *options, struct arena *arena,
        struct proof_answer *ret_answer) {
    struct problem problem = {0};
    struct proof_routine *routine = ARENA_NEW(arena, struct proof_routine);
    if (routine == NULL || !proof_unfold(site, &site->routines[0], routine, &problem).good ||
            !proof_run(site, NULL, routine, options, host_pages(), arena, ret_answer, &problem)
                     .good) {
        printf("# not proven: %s (%s)\n", problem.text, problem.place);
        return false;
    }
    return true;
}

static struct referee_answer ask(
        const struct bench *bench, const struct site *site, uint32_t promises, bool jump) {
    const struct referee_question question = {.promises = promises, .jump = jump};
    return referee_ask(site, &question, bench->verifier, bench->folder, LIMIT_S);
}

static const char *verdict_name(enum referee_verdict verdict) {
    return verdict == REFEREE_WELL ? "well" : verdict == REFEREE_WRONG ? "wrong" : "no verdict";
}

static bool same(const struct proof_answer *ours, enum referee_verdict theirs) {
    return (ours->verdict == PROOF_GOES_WELL && theirs == REFEREE_WELL) ||
            (ours->verdict == PROOF_GOES_WRONG && theirs == REFEREE_WRONG);
}

static void print_site(const struct site *site, struct arena *arena) {
    struct text_builder out;
    text_builder_init(&out, arena);
    random_site_print(site, &out);
    const struct text built = text_built(&out);
    const char *line = built.start;
    while (line != NULL && line < built.start + built.length) {
        const char *end = strchr(line, '\n');
        const int length = end == NULL ? (int)strlen(line) : (int)(end - line);
        printf("#   %.*s\n", length, line);
        line = end == NULL ? NULL : end + 1;
    }
}

/* One site, by us and by SPIN twice. */
static bool agree(const struct bench *bench, const struct site *site, struct arena *arena,
        char *what, size_t what_size) {
    const struct proof_options options = {.no_margin = true, .no_range = true};
    struct proof_answer *ours = ARENA_NEW(arena, struct proof_answer);
    if (ours == NULL || !prove(site, &options, arena, ours)) {
        return false;
    }
    const struct referee_answer ticks = ask(bench, site, REFEREE_ANY, false);
    const struct referee_answer jumps = ask(bench, site, REFEREE_ANY, true);
    bool good = same(ours, ticks.verdict) && same(ours, jumps.verdict);
    if (good && ours->verdict == PROOF_GOES_WRONG) {
        good = ask(bench, site, promise_bit(ours->promise), true).verdict == REFEREE_WRONG;
    }
    snprintf(what, what_size, "%s%s%s; SPIN: %s (%.0f states), with jumps %s (%.0f) %s%s",
            ours->verdict == PROOF_GOES_WELL            ? "goes well"
                    : ours->verdict == PROOF_GOES_WRONG ? "goes wrong by "
                                                        : "not settled",
            ours->verdict == PROOF_GOES_WRONG ? proof_promise_name(ours->promise) : "", "",
            verdict_name(ticks.verdict), ticks.states, verdict_name(jumps.verdict), jumps.states,
            ticks.why, jumps.why);
    return good;
}

static void compare_random(struct bench *bench, uint64_t number) {
    struct arena arena;
    struct site site;
    char what[400] = "";
    char line[500];
    arena_init(&arena, host_pages(), 0);
    struct random_wish wish = random_wish_of(number);
    const bool path = number % 3 == 1;
    const bool modes = number % 3 == 2;
    if (path && number % 2 == 0) {
        wish.family = RANDOM_KIOSK; /* late codes: alarms with a code behind them */
    }
    const bool built = random_site_build(&wish, &arena, &site) &&
            (!path || random_site_draw_path(&wish, &arena, &site));
    if (built && modes) {
        random_site_draw_modes(&wish, &site);
    }
    const bool good = built && agree(bench, &site, &arena, what, sizeof what);
    snprintf(line, sizeof line, "site %llu%s %s", (unsigned long long)number,
            path            ? ", the path is lost,"
                    : modes ? ", codes for some modes,"
                            : "",
            what);
    tell(bench, good, line);
    if (!good && built) {
        print_site(&site, &arena);
    }
    arena_finish(&arena);
}

/* ---- known answers ---- */

/* A house with one entry door (30 s, off-route now), nothing else, one or two people; steps as given. */
struct known {
    const char *what;
    bool wrong;
    bool begins_set;
    int32_t exit_s;
    int32_t tolerance_tenths;
    bool drop_to_part;
    struct site_step steps[8];
};

/* clang-format off */
#define STEP(who_, low_, high_, act_)                                                                                  \
    {                                                                                                                  \
        .who = who_, .in = {low_, high_}, .has_in = true, .act = SITE_ACT_##act_, .zone = SITE_NONE, .way = SITE_NONE, \
        .after_step = SITE_NONE, .when_area = SITE_NONE, .if_area = SITE_NONE                                          \
    }

/* Common practice (issue "The heart"): 30 s stop a code at 29 s, not at 31 s; a tie is a failure. With clocks within
 * 10 % (CP-01 3.1.2, 2009 draft) the delay may end at 27 s. The trap and its instants: design page, "A trap". */
static const struct known KNOWN[] = {
        {"code at 26 s, clocks within 10 %: well", false, true, 60, 1, false,
                {STEP(0, 0, 0, OPEN), STEP(0, 0, 0, CLOSE), STEP(0, 26, 26, UNSET)}},
        {"code at 27 s, clocks within 10 %: wrong", true, true, 60, 1, false,
                {STEP(0, 0, 0, OPEN), STEP(0, 0, 0, CLOSE), STEP(0, 27, 27, UNSET)}},
        {"code at 33 s, clocks within 10 %: wrong", true, true, 60, 1, false,
                {STEP(0, 0, 0, OPEN), STEP(0, 0, 0, CLOSE), STEP(0, 33, 33, UNSET)}},
        {"code at 29 s, exact clocks: well", false, true, 60, 0, false,
                {STEP(0, 0, 0, OPEN), STEP(0, 0, 0, CLOSE), STEP(0, 29, 29, UNSET)}},
        {"code at 30 s, exact clocks, a tie: wrong", true, true, 60, 0, false,
                {STEP(0, 0, 0, OPEN), STEP(0, 0, 0, CLOSE), STEP(0, 30, 30, UNSET)}},
        {"code at 31 s, exact clocks: wrong", true, true, 60, 0, false,
                {STEP(0, 0, 0, OPEN), STEP(0, 0, 0, CLOSE), STEP(0, 31, 31, UNSET)}},
        {"the trap: door 54 to 56 s, exit time may end between: wrong", true, false, 30, 0, false,
                {STEP(0, 10, 20, WAIT), STEP(0, 10, 20, WAIT), STEP(0, 0, 0, SET), STEP(1, 54, 54, OPEN),
                        STEP(1, 2, 2, CLOSE), STEP(1, 5, 5, UNSET)}},
        {"the trap, door after the latest end: well", false, false, 30, 0, false,
                {STEP(0, 10, 20, WAIT), STEP(0, 10, 20, WAIT), STEP(0, 0, 0, SET), STEP(1, 71, 71, OPEN),
                        STEP(1, 2, 2, CLOSE), STEP(1, 5, 5, UNSET)}},
        {"the trap, door before the earliest end: well", false, false, 30, 0, false,
                {STEP(0, 10, 20, WAIT), STEP(0, 10, 20, WAIT), STEP(0, 0, 0, SET), STEP(1, 47, 47, OPEN),
                        STEP(1, 2, 2, CLOSE), STEP(1, 30, 30, UNSET)}},
        {"exit time 0 s and the door open: an exit error", true, false, 0, 0, false,
                {STEP(0, 1, 1, OPEN), STEP(0, 5, 5, SET)}},
        {"door open at the end of the exit time: wrong", true, false, 60, 0, false,
                {STEP(0, 0, 0, SET), STEP(0, 20, 20, OPEN), STEP(0, 40, 40, CLOSE)}},
        {"door closed a second before the end: well", false, false, 60, 0, true,
                {STEP(0, 0, 0, SET), STEP(0, 20, 20, OPEN), STEP(0, 39, 39, CLOSE)}},
        {"nobody leaves: drops to part", true, false, 60, 0, true, {STEP(0, 0, 0, SET), STEP(0, 5, 5, WAIT)}},
};

/* What a routine announces and the modes that the first person's code is for (0: all), beside. The siren sounds 30 s
 * after the door, the abort window is 10 s. Common practice: docs/panel-model.md, "While the path is down". */
static const struct {
    struct known known;
    uint32_t expects;
    uint32_t modes;
} LINES[] = {
        {{"the path is lost and not announced: wrong", true, true, 60, 0, false,
                {STEP(0, 5, 5, PATH_LOST)}}, 0, 0},
        {{"an alarm is sent after its abort window: wrong", true, true, 60, 0, false,
                {STEP(0, 5, 5, PATH_LOST), STEP(0, 1, 1, PATH_BACK), STEP(0, 0, 0, OPEN)}}, SITE_EXPECT_TROUBLE | SITE_EXPECT_SIREN, 0},
        {{"the path is lost and never back: well", false, true, 60, 0, false,
                {STEP(0, 5, 5, PATH_LOST), STEP(0, 0, 0, OPEN)}}, SITE_EXPECT_TROUBLE | SITE_EXPECT_SIREN, 0},
        {{"a code within the abort window leaves nothing to wait: well", false, true, 60, 0, false,
                {STEP(0, 5, 5, PATH_LOST), STEP(0, 0, 0, OPEN), STEP(0, 39, 39, UNSET), STEP(0, 9, 9, PATH_BACK)}},
                SITE_EXPECT_TROUBLE | SITE_EXPECT_SIREN, 0},
        {{"a code after it does not call back what waits: wrong", true, true, 60, 0, false,
                {STEP(0, 5, 5, PATH_LOST), STEP(0, 0, 0, OPEN), STEP(0, 41, 41, UNSET), STEP(0, 9, 9, PATH_BACK)}},
                SITE_EXPECT_TROUBLE | SITE_EXPECT_SIREN, 0},
        {{"a fault refuses: wrong", true, false, 60, 0, false,
                {STEP(0, 5, 5, PATH_LOST), STEP(0, 9, 9, SET)}}, SITE_EXPECT_TROUBLE, 0},
        {{"no more of it once the path is back: well", false, false, 60, 0, false,
                {STEP(0, 5, 5, PATH_LOST), STEP(0, 1, 1, PATH_BACK), STEP(0, 9, 9, SET)}}, SITE_EXPECT_TROUBLE, 0},
        {{"a code for part only asks for full: wrong", true, false, 60, 0, false,
                {STEP(0, 9, 9, SET)}}, 0, 1U << SITE_MODE_PART},
        {{"a code for full asks for full: well", false, false, 60, 0, false,
                {STEP(0, 9, 9, SET)}}, 0, 1U << SITE_MODE_FULL},
};
/* clang-format on */

static bool build_known(const struct known *known, struct arena *arena, struct site *ret_site) {
    const struct random_wish wish = {.family = RANDOM_TRAP, .seed = 1};
    if (!random_site_build(&wish, arena, ret_site)) {
        return false;
    }
    struct site_settings *settings = &ret_site->settings;
    ret_site->zone_count = ret_site->device_count = 1;
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        ret_site->zones[0].in[mode] = SITE_ENTRY;
        ret_site->zones[0].delay[mode] = 0;
    }
    settings->modes[SITE_MODE_FULL].exit_delay_s = known->exit_s;
    settings->delays[0].seconds_s = 30;
    settings->tolerance_tenths = known->tolerance_tenths;
    settings->off_route = SITE_OFF_ROUTE_NOW;
    settings->entry_open_allowed = true;
    settings->exit_restart = false;
    settings->drop_to_part = known->drop_to_part;
    struct site_routine *routine = &ret_site->routines[0];
    routine->expects = 0;
    routine->starts[0] = (struct site_start){.set = known->begins_set, .mode = SITE_MODE_FULL};
    routine->steps = ARENA_ARRAY(arena, struct site_step, 8);
    routine->step_count = 0;
    for (size_t i = 0; routine->steps != NULL && i < 8 && known->steps[i].has_in; i++) {
        struct site_step *step = &routine->steps[routine->step_count++];
        *step = known->steps[i];
        const bool coded = step->act == SITE_ACT_SET || step->act == SITE_ACT_UNSET;
        const bool moved = step->act == SITE_ACT_OPEN || step->act == SITE_ACT_CLOSE;
        step->keypad = coded ? 0 : SITE_NONE;
        step->door = moved ? 0 : SITE_NONE;
    }
    return routine->steps != NULL;
}

static void compare_known(
        struct bench *bench, const struct known *known, uint32_t expects, uint32_t modes) {
    struct arena arena;
    struct site site;
    char what[400] = "";
    char line[500];
    arena_init(&arena, host_pages(), 0);
    bool good = build_known(known, &arena, &site);
    site.zones[0].reports = true;
    site.routines[0].expects = expects;
    site.settings.abort_window_s = 10;
    site.settings.faults = SITE_FAULT_REFUSE;
    site.people[0].modes = modes;
    good = good && agree(bench, &site, &arena, what, sizeof what) &&
            (strstr(what, "goes wrong") != NULL) == known->wrong;
    snprintf(line, sizeof line, "%s (%s)", known->what, what);
    tell(bench, good, line);
    arena_finish(&arena);
}

/* A comparison that could not tell them apart would be none: our panel's entry delay is made a second shorter. */
static void see_a_planted_fault(struct bench *bench) {
    struct arena arena;
    struct site site;
    arena_init(&arena, host_pages(), 0);
    struct proof_options options = {.no_margin = true, .no_range = true};
    options.shift_s[PANEL_TIMER_ENTRY] = 1;
    struct proof_answer *ours = ARENA_NEW(&arena, struct proof_answer);
    const bool good = ours != NULL && build_known(&KNOWN[0], &arena, &site) &&
            prove(&site, &options, &arena, ours) && ours->verdict == PROOF_GOES_WRONG &&
            ask(bench, &site, REFEREE_ANY, true).verdict == REFEREE_WELL;
    tell(bench, good, "a delay shortened by a second on one side only is noticed");
    arena_finish(&arena);
}

static void refuse_a_cut_search(struct bench *bench) {
    struct arena arena;
    struct site site;
    arena_init(&arena, host_pages(), 0);
    const struct referee_question question = {.promises = REFEREE_ANY, .depth_most = 12};
    const bool built = build_known(&KNOWN[0], &arena, &site);
    const struct referee_answer cut =
            referee_ask(&site, &question, bench->verifier, bench->folder, LIMIT_S);
    tell(bench, built && cut.verdict == REFEREE_NO_VERDICT && strstr(cut.why, "depth") != NULL,
            "a search cut at its depth is no verdict");
    const struct referee_answer gone =
            referee_ask(&site, &question, "/nowhere/verifier", bench->folder, LIMIT_S);
    tell(bench, built && gone.verdict == REFEREE_NO_VERDICT,
            "a verifier that does not start is no verdict");
    arena_finish(&arena);
}

int main(int argument_count, char **arguments) {
    struct bench bench = {.folder = "/tmp/lintel-spin-XXXXXX"};
    if (argument_count != 4 || mkdtemp(bench.folder) == NULL) {
        fprintf(stderr, "spin_test VERIFIER FIRST COUNT\n");
        return 2;
    }
    char *verifier = realpath(arguments[1], NULL);
    const uint64_t first = strtoull(arguments[2], NULL, 10);
    const uint64_t count = strtoull(arguments[3], NULL, 10);
    const size_t known_count = sizeof KNOWN / sizeof KNOWN[0];
    const size_t line_count = sizeof LINES / sizeof LINES[0];
    bench.verifier = verifier == NULL ? arguments[1] : verifier;
    printf("# sites %llu to %llu\n1..%llu\n", (unsigned long long)first,
            (unsigned long long)(first + count - 1),
            (unsigned long long)(count + known_count + line_count + 3));
    for (size_t i = 0; i < known_count; i++) {
        compare_known(&bench, &KNOWN[i], 0, 0);
    }
    for (size_t i = 0; i < line_count; i++) {
        compare_known(&bench, &LINES[i].known, LINES[i].expects, LINES[i].modes);
    }
    see_a_planted_fault(&bench);
    refuse_a_cut_search(&bench);
    for (uint64_t number = first; number < first + count; number++) {
        compare_random(&bench, number);
    }
    free(verifier);
    char left[100];
    static const char *const FILES[] = {"constants", "panel.pml.trail"};
    for (size_t i = 0; i < 2; i++) {
        snprintf(left, sizeof left, "%s/%s", bench.folder, FILES[i]);
        unlink(left);
    }
    rmdir(bench.folder);
    return bench.failed_count == 0 ? 0 : 1;
}
