/* The fixed list of proofs, by us and by SPIN's compiled verifier in both forms of time, in turn. */
#include "bench.h"

#include "../tests/outside/spin/referee.h"
#include "host/host.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>

enum { FORM_TICK, FORM_JUMP, FORM_COUNT };
enum { TELLING_STATES = 100000 }; /* rows where SPIN stores more are aimed at */

/* table: 2^table slots of SPIN's table, by form: the power of two next above the states it stores (grows by itself if
 * that was too little). slow: left out with --quick. */
struct row {
    const char *says;
    struct house_wish wish;
    unsigned table[FORM_COUNT];
    bool slow;
};

#define WISH(course_, people_, steps_, width_)                                                     \
    {                                                                                              \
        .course = HOUSE_##course_, .people = people_, .steps = steps_, .width_s = width_,          \
        .zones = HOUSE_ZONES_LEAST                                                                 \
    }

/* clang-format off */
static const struct row ROWS[] = {
        {"come home",   WISH(COMES_HOME, 2,  4,     2), {18, 18}, false},
        {"come home",   WISH(COMES_HOME, 2,  4,    30), {18, 18}, false},
        {"come home",   WISH(COMES_HOME, 2,  4,   600), {18, 18}, false},
        {"come home",   WISH(COMES_HOME, 2,  4, 14400), {21, 21}, false},
        {"come home",   WISH(COMES_HOME, 4,  4,  3600), {22, 22}, false},
        {"late",        WISH(LATE,       2,  8,    30), {18, 18}, false},
        {"late",        WISH(LATE,       3,  8,  3600), {23, 23}, true},
        {"a day",       WISH(DAY,        2,  8,     2), {18, 18}, false},
        {"a day",       WISH(DAY,        2,  8,    30), {18, 18}, false},
        {"a day",       WISH(DAY,        2,  8,   120), {18, 18}, false},
        {"a day",       WISH(DAY,        2,  8,  3600), {22, 22}, false},
        {"a day",       WISH(DAY,        3,  7,     2), {18, 18}, false},
        {"a day",       WISH(DAY,        3,  7,    10), {18, 18}, false},
        {"a day",       WISH(DAY,        4,  5,     2), {18, 18}, false},
        {"a day",       WISH(DAY,        4,  5,  3600), {22, 22}, true},
        {"a day",       WISH(DAY,        5,  4,     2), {18, 18}, false},
        {"a day",       WISH(DAY,        6,  4,     2), {21, 21}, true},
        {"whole alarm", WISH(ALARM,      2,  6,     2), {18, 18}, false},
        {"whole alarm", WISH(ALARM,      2,  9,     2), {21, 21}, false},
        {"whole alarm", WISH(ALARM,      2,  9,    10), {23, 23}, false},
        {"whole alarm", WISH(ALARM,      2,  9,    60), {24, 24}, true},
        {"whole alarm", WISH(ALARM,      2,  9,  3600), {24, 24}, true},
        {"whole alarm", WISH(ALARM,      3,  6,     2), {18, 18}, false},
        {"whole alarm", WISH(ALARM,      3,  6,    10), {21, 21}, false},
        {"whole alarm", WISH(ALARM,      4,  5,     2), {21, 21}, true},
};
/* clang-format on */

/* What SPIN answered, with its processor time. */
struct asked {
    struct referee_answer answer;
    double seconds_s;
    bool stopped;
};

static double children_s(void) {
    struct rusage usage;
    getrusage(RUSAGE_CHILDREN, &usage);
    return (double)(usage.ru_utime.tv_sec + usage.ru_stime.tv_sec) +
            (double)(usage.ru_utime.tv_usec + usage.ru_stime.tv_usec) / 1e6;
}

/* Second by second a run has a step for each second and each event. */
static unsigned depth_of(const struct site *site) {
    int32_t longest_s = 0;
    int32_t by_person_s[HOUSE_PEOPLE_MOST] = {0};
    const struct site_routine *routine = &site->routines[0];
    for (size_t i = 0; i < routine->step_count; i++) {
        by_person_s[routine->steps[i].who] += routine->steps[i].in.high_s;
    }
    for (size_t who = 0; who < HOUSE_PEOPLE_MOST; who++) {
        longest_s += by_person_s[who];
    }
    return (unsigned)longest_s + 5000;
}

static void put(const char *name, unsigned value) {
    char word[20];
    snprintf(word, sizeof word, "%u", value);
    setenv(name, word, 1);
}

static struct asked ask(
        const struct bench *bench, const struct row *row, const struct site *site, int form) {
    char verifier[600];
    char within[600];
    const struct referee_question question = {.promises = REFEREE_ANY,
            .jump = form == FORM_JUMP,
            .people = (unsigned)row->wish.people};
    snprintf(verifier, sizeof verifier, "%s/spin-%zu", bench->verifiers, row->wish.people);
    snprintf(within, sizeof within, "%s/spin_within", bench->verifiers);
    setenv("SPIN_VERIFIER", verifier, 1);
    put("SPIN_CAP_S", bench->cap_s);
    put("SPIN_DEPTH", depth_of(site));
    put("SPIN_TABLE", row->table[form]);
    const double before_s = children_s();
    struct asked asked = {
            .answer = referee_ask(site, &question, within, bench->scratch, bench->cap_s + 60)};
    asked.seconds_s = children_s() - before_s;
    asked.stopped = asked.answer.verdict == REFEREE_NO_VERDICT;
    return asked;
}

/* Sums of logarithms over the rows that tell. */
struct means {
    double time;
    double memory;
    size_t count;
    size_t stopped;
    size_t slower;
    size_t disagreed;
};

static const char *verdict_of(const struct asked *asked) {
    return asked->answer.verdict == REFEREE_WELL     ? "well"
            : asked->answer.verdict == REFEREE_WRONG ? "wrong"
                                                     : "-";
}

static const char *ratio_word(double ratio, bool least) {
    static char words[4][32];
    static size_t next;
    next = (next + 1) % 4;
    snprintf(words[next], sizeof words[next], "%s%s", least ? ">" : "",
            ratio < 10 ? "" : bench_count(ratio));
    if (ratio < 10) {
        snprintf(words[next], sizeof words[next], "%s%.1f", least ? ">" : "", ratio);
    }
    return words[next];
}

static void print_form(const char *form, const struct asked *asked, const struct bench_proof *ours,
        struct means *means) {
    const double time_ratio = asked->seconds_s / ours->seconds_s;
    const double bytes = asked->answer.memory_mb * 1e6;
    const double memory_ratio = bytes / ours->bytes;
    printf("%-33s %-6s %-9s %8s %8s %15s %9s %8s\n", "", form, verdict_of(asked),
            bench_time(asked->seconds_s), bytes > 0 ? bench_bytes(bytes) : "-",
            asked->answer.states > 0 ? bench_count(asked->answer.states) : "-",
            ratio_word(time_ratio, asked->stopped),
            bytes > 0 ? ratio_word(memory_ratio, asked->stopped) : "-");
    if (asked->stopped) {
        printf("%-40s stopped after %.0f s (%s)\n", "", asked->answer.seconds_s, asked->answer.why);
    }
    const bool settled = ours->good && ours->result.verdict != EXPLORE_UNDECIDED;
    if (settled && !asked->stopped &&
            (asked->answer.verdict == REFEREE_WELL) != (ours->result.verdict == EXPLORE_PROVEN)) {
        printf("%-20s *** THE VERDICTS DISAGREE ***\n", "");
        means->disagreed++;
    }
    means->slower += time_ratio < 1;
    if (settled && asked->answer.states > TELLING_STATES && bytes > 0) {
        means->time += log(time_ratio);
        means->memory += log(memory_ratio);
        means->count++;
        means->stopped += asked->stopped;
    }
}

static void print_row(const struct bench *bench, const struct row *row, struct means *means) {
    struct arena arena;
    struct site site;
    arena_init(&arena, host_pages(), 0);
    if (!house_build(&row->wish, &arena, &site)) {
        arena_finish(&arena);
        return;
    }
    const struct bench_proof ours = bench_prove(&site);
    printf("%-12s %zu x %-2zu steps, %-8s %-6s %-9s %8s %8s %15s\n", row->says, row->wish.people,
            row->wish.steps, bench_width(row->wish.width_s), "we", bench_verdict(&ours),
            bench_time(ours.seconds_s), bench_bytes(ours.bytes),
            bench_count((double)ours.result.classes_expanded));
    fflush(stdout);
    if (bench->verifiers[0] != '\0') {
        for (int form = 0; form < FORM_COUNT; form++) {
            const struct asked asked = ask(bench, row, &site, form);
            print_form(form == FORM_TICK ? "ticks" : "jumps", &asked, &ours, means);
            fflush(stdout);
        }
    }
    arena_finish(&arena);
}

void bench_proofs(const struct bench *bench) {
    struct means means = {0};
    printf("\nProofs, by us and by SPIN's compiled verifier (second by second, and jumping to the "
           "next event)\n\n");
    printf("%-33s %-6s %-9s %8s %8s %15s %9s %8s\n", "what, people x steps, windows", "who",
            "verdict", "time", "memory", "classes/states", "time x", "memory x");
    for (size_t i = 0; i < sizeof ROWS / sizeof *ROWS; i++) {
        if (!bench->quick || !ROWS[i].slow) {
            print_row(bench, &ROWS[i], &means);
        }
    }
    if (means.count > 0) {
        printf("\nGeometric mean over the %zu runs in which SPIN stored more than %s states (%zu "
               "of them stopped, so "
               "at\nleast): %s times the time, %s times the memory. SPIN was faster in %zu runs of "
               "all.\n",
                means.count, bench_count(TELLING_STATES), means.stopped,
                ratio_word(exp(means.time / (double)means.count), false),
                ratio_word(exp(means.memory / (double)means.count), false), means.slower);
    }
    printf(means.disagreed == 0 ? "No verdict disagrees.\n" : "*** %zu VERDICTS DISAGREE ***\n",
            means.disagreed);
}
