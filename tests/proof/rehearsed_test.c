/* A rehearsal against the stories of the proof, on random small sites: what is sent when a routine is rehearsed is what
 * its story says, to the second and in the same order: told at each pace, and in the course that goes wrong.
 *
 * rehearsed_test FIRST COUNT: sites FIRST .. FIRST + COUNT - 1. One TAP case per claim; a site that breaks one is
 * printed. */
#include "host/host.h"
#include "rehearsal/rehearsal.h"
#include "support/random_site.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { CLASSES_MOST = 4000 };

enum claim { CLAIM_TOLD, CLAIM_WRONG, CLAIM_COUNT };

static const char *const CLAIM_NAMES[CLAIM_COUNT] = {
        "a routine that is rehearsed at a pace sends what its story says",
        "one that goes wrong sends what the course says in which it does",
};

struct tally {
    size_t held[CLAIM_COUNT];
    size_t broken[CLAIM_COUNT];
    size_t signals[CLAIM_COUNT];
};

static void must(outcome done, const struct problem *problem) {
    if (!done.good) {
        printf("Bail out! %s (%s)\n", problem->text, problem->place);
        exit(1);
    }
}

/* What left, or was made and waits: the same line of either story. */
static const struct panel_output *signal_at(const struct proof_line *lines, size_t count,
        size_t *index, int32_t most_s, int32_t *ret_at_s) {
    for (; *index < count && lines[*index].at_s <= most_s; (*index)++) {
        const struct proof_line *line = &lines[*index];
        if (line->kind == PROOF_LINE_OUTPUT &&
                (line->output.kind == PANEL_OUT_SIGNAL || line->output.kind == PANEL_OUT_QUEUED)) {
            *ret_at_s = line->at_s;
            (*index)++;
            return &line->output;
        }
    }
    return NULL;
}

static bool same(const struct panel_output *a, const struct panel_output *b) {
    return a->kind == b->kind && a->event.kind == b->event.kind && a->event.zone == b->event.zone &&
            a->event.user == b->event.user && a->event.area == b->event.area &&
            a->event.restore == b->event.restore;
}

/* The end of the story, or of the time for which a rehearsal goes on after the last act. */
static int32_t last_told_s(const struct proof_answer *answer) {
    int32_t last_s = 0;
    int32_t act_s = 0;
    for (size_t i = 0; i < answer->story_count; i++) {
        const struct proof_line *line = &answer->story[i];
        last_s = line->at_s;
        act_s = line->kind == PROOF_LINE_ACT || line->kind == PROOF_LINE_LEVEL ||
                        line->kind == PROOF_LINE_HOURS
                ? line->at_s
                : act_s;
    }
    return last_s < act_s + REHEARSAL_AFTER_S ? last_s : act_s + REHEARSAL_AFTER_S;
}

/* The story may break off within its last second: then more may leave in it. */
static bool sends_the_same(
        const struct proof_answer *answer, const struct rehearsal *rehearsal, size_t *count) {
    const int32_t last_s = last_told_s(answer);
    size_t of_story = 0;
    size_t of_rehearsal = 0;
    int32_t wanted_s = 0;
    int32_t got_s = 0;
    for (;;) {
        const struct panel_output *wanted =
                signal_at(answer->story, answer->story_count, &of_story, last_s, &wanted_s);
        const struct panel_output *got = signal_at(
                rehearsal->lines, rehearsal->happened.story_count, &of_rehearsal, last_s, &got_s);
        if (wanted == NULL) {
            return got == NULL || got_s == last_s;
        }
        if (got == NULL || got_s != wanted_s || !same(wanted, got)) {
            printf("# at %d s: %s\n", wanted_s,
                    event_kind_name((enum event_kind)wanted->event.kind));
            return false;
        }
        (*count)++;
    }
}

static bool rehearse(const struct site *site, const struct proof_answer *answer,
        struct arena *arena, size_t *count) {
    struct rehearsal *rehearsal = ARENA_NEW(arena, struct rehearsal);
    struct rehearsal_course course;
    struct problem problem = {0};
    int32_t at_s = 0;
    if (rehearsal == NULL) {
        return false;
    }
    rehearsal_of_routine(site, answer, &course);
    must(rehearsal_begin(site, &course, arena, rehearsal, &problem), &problem);
    struct rehearsal_signal signal;
    while (rehearsal_next(rehearsal, &at_s) && !rehearsal->full) {
        rehearsal_pass(rehearsal, at_s);
        while (rehearsal_take_signal(rehearsal, &signal)) {
        }
    }
    return sends_the_same(answer, rehearsal, count);
}

static void note(struct tally *tally, enum claim which, bool holds, uint64_t number,
        const struct site *site, struct arena *arena) {
    struct text_builder out;
    tally->held[which] += holds;
    tally->broken[which] += !holds;
    if (holds || tally->broken[which] > 3) {
        return;
    }
    text_builder_init(&out, arena);
    random_site_print(site, &out);
    printf("# site %llu: not so: %s\n", (unsigned long long)number, CLAIM_NAMES[which]);
    for (const char *line = text_built(&out).start; line != NULL && *line != '\0';) {
        const char *end = strchr(line, '\n');
        printf("#   %.*s\n", end == NULL ? (int)strlen(line) : (int)(end - line), line);
        line = end == NULL ? NULL : end + 1;
    }
}

static void try_site(struct tally *tally, uint64_t number, struct arena *arena) {
    struct site site;
    struct problem problem = {0};
    struct random_wish wish = random_wish_of(number);
    wish.users = number % 3 == 1;
    wish.lines = number % 3 == 2;
    wish.witnesses = number % 5 == 0;
    const struct proof_options options = {
            .class_limit = CLASSES_MOST, .no_margin = true, .no_range = true};
    struct proof_answer *answer = ARENA_NEW(arena, struct proof_answer);
    if (answer == NULL || !random_site_build(&wish, arena, &site)) {
        must((outcome){.good = false}, &(struct problem){.text = "no memory"});
    }
    *answer = (struct proof_answer){.culprit_zone = PANEL_NO_ZONE};
    must(proof_unfold(&site, &site.routines[0], &answer->routine, &problem), &problem);
    for (int pace = PROOF_QUICK; pace <= PROOF_SLOW; pace++) {
        must(proof_tell(&site, NULL, &answer->routine, &options, (enum proof_pace)pace, arena,
                     &answer->story, &answer->story_count, &problem),
                &problem);
        note(tally, CLAIM_TOLD, rehearse(&site, answer, arena, &tally->signals[CLAIM_TOLD]), number,
                &site, arena);
    }
    const struct proof_routine routine = answer->routine;
    must(proof_run(&site, NULL, &routine, &options, host_pages(), arena, answer, &problem),
            &problem);
    if (answer->verdict == PROOF_GOES_WRONG) {
        note(tally, CLAIM_WRONG, rehearse(&site, answer, arena, &tally->signals[CLAIM_WRONG]),
                number, &site, arena);
    }
}

int main(int argc, char **argv) {
    const uint64_t first = argc > 1 ? strtoull(argv[1], NULL, 10) : 0;
    const uint64_t count = argc > 2 ? strtoull(argv[2], NULL, 10) : 100;
    struct tally tally = {0};
    for (uint64_t number = first; number < first + count; number++) {
        struct arena arena;
        arena_init(&arena, host_pages(), 0);
        try_site(&tally, number, &arena);
        arena_finish(&arena);
    }
    for (int which = 0; which < CLAIM_COUNT; which++) {
        printf("# %zu held, %zu broken, %zu signals\n", tally.held[which], tally.broken[which],
                tally.signals[which]);
        const bool good = tally.broken[which] == 0 && tally.signals[which] > 0;
        printf("%s %d - %s\n", good ? "ok" : "not ok", which + 1, CLAIM_NAMES[which]);
    }
    printf("1..%d\n", CLAIM_COUNT);
    return 0;
}
