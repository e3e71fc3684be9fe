/* Leaving out what nobody hears, against the whole machine: searched, and enumerated second by second, on random small
 * sites with radio devices and on the plain ones, each for several things that its routine may announce (so that one
 * broken promise does not hide another); in some of them people have hours, in some the radio is jammed for a while.
 * For each number there are some more sites in which an entry time ends while something is on its way.
 *
 * unheard_test FIRST COUNT: sites FIRST .. FIRST + COUNT - 1. One TAP case per claim; a site that breaks one is
 * printed. */
#include "explore/enumerate.h"
#include "explore/replay.h"
#include "host/host.h"
#include "proof/guide.h"
#include "proof/settle.h"
#include "small_machine.h"
#include "support/random_late.h"
#include "support/random_radio.h"
#include "support/random_site.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { STATES_MOST = 40000, CLASSES_MOST = 20000, ENUMERATED_EACH = 6, LATE_EACH = 4 };

static const uint32_t EXPECTS[] = {0, SITE_EXPECT_SIREN, SITE_EXPECT_SIREN | SITE_EXPECT_ALARM,
        SITE_EXPECT_SIREN | SITE_EXPECT_ALARM | SITE_EXPECT_REFUSED,
        SITE_EXPECT_SIREN | SITE_EXPECT_ALARM | SITE_EXPECT_EXIT_ERROR,
        SITE_EXPECT_REFUSED | SITE_EXPECT_EXIT_ERROR,
        SITE_EXPECT_ALARM | SITE_EXPECT_REFUSED | SITE_EXPECT_EXIT_ERROR};

enum claim { CLAIM_SEARCHED, CLAIM_ENUMERATED, CLAIM_TOLD, CLAIM_GUIDED, CLAIM_COUNT };

static const char *const CLAIM_NAMES[CLAIM_COUNT] = {
        "without what nobody hears the same goes wrong as in the whole",
        "and as full enumeration of the whole finds",
        "what goes wrong is told as the whole search tells it",
        "and its course leads to one of the whole, which replays",
};

struct tally {
    size_t held[CLAIM_COUNT];
    size_t broken[CLAIM_COUNT];
    size_t too_large;
    size_t well;    /* of the courses that go well */
    size_t smaller; /* so many took fewer classes */
    size_t along;   /* classes that it took to follow the courses that go wrong */
};

struct room {
    struct proof_routine routine;
    struct world world;
    struct panel_outputs outputs;
    struct enumeration found;
};

static void must(outcome done, const struct problem *problem) {
    if (!done.good) {
        printf("Bail out! %s (%s)\n", problem->text, problem->place);
        exit(1);
    }
}

static void claim(struct tally *tally, enum claim which, bool holds, uint64_t number,
        const struct site *site, struct arena *arena) {
    if (holds) {
        tally->held[which]++;
        return;
    }
    tally->broken[which]++;
    struct text_builder out;
    text_builder_init(&out, arena);
    random_site_print(site, &out);
    printf("# site %llu, announces %u: not so: %s\n", (unsigned long long)number,
            site->routines[0].expects, CLAIM_NAMES[which]);
    for (const char *line = text_built(&out).start; line != NULL && *line != '\0';) {
        const char *end = strchr(line, '\n');
        printf("#   %.*s\n", end == NULL ? (int)strlen(line) : (int)(end - line), line);
        line = end == NULL ? NULL : end + 1;
    }
}

static void make(struct room *room, const struct site *site, bool no_calm) {
    struct problem problem = {0};
    const struct proof_options options = {.no_calm = no_calm};
    must(proof_unfold(site, &site->routines[0], &room->routine, &problem), &problem);
    must(world_make(site, NULL, &room->routine, &options, &room->outputs, &room->world, &problem),
            &problem);
}

static struct explore_result explore(struct room *room, struct arena *arena, bool whole) {
    struct problem problem = {0};
    struct explore_result result;
    const struct explore_options how = {.class_limit = CLASSES_MOST};
    unheard_find(&room->world, &room->world.unheard);
    room->world.unheard.on = room->world.unheard.on && !whole;
    const struct explore_machine machine = world_machine(&room->world);
    must(explore_run(&machine, &how, host_pages(), arena, &result, &problem), &problem);
    room->world.unheard.on = false;
    return result;
}

static void check_enumerated(struct tally *tally, struct room *room, uint64_t number,
        const struct site *site, struct arena *arena, enum explore_verdict verdict) {
    struct small_machine small;
    make(room, site, true);
    const struct explore_machine machine = world_machine(&room->world);
    const struct explore_machine over = small_machine_over(&machine, &small);
    enumerate_machine(&over, false, STATES_MOST, &room->found);
    const bool usable = room->found.finished && !small.too_many;
    small_machine_release(&small);
    if (usable) {
        claim(tally, CLAIM_ENUMERATED,
                (room->found.story_count != 0) == (verdict == EXPLORE_REFUTED), number, site,
                arena);
    } else {
        tally->too_large++;
    }
}

static void check_told(struct tally *tally, struct room *room, uint64_t number,
        const struct site *site, struct arena *arena, const struct explore_result *whole) {
    struct problem problem = {0};
    struct explore_result told;
    const struct proof_options options = {.whole_classes = 1};
    must(settle(&room->world, &options, false, host_pages(), arena, &told, &problem), &problem);
    bool same = told.verdict == whole->verdict && told.violation == whole->violation &&
            told.story_count == whole->story_count;
    for (size_t i = 0; same && i < told.story_count; i++) {
        same = told.story[i].activity == whole->story[i].activity &&
                told.story[i].at_s == whole->story[i].at_s;
    }
    claim(tally, CLAIM_TOLD, same, number, site, arena);
}

static void check_guided(struct tally *tally, struct room *room, uint64_t number,
        const struct site *site, struct arena *arena, const struct explore_result *less) {
    struct problem problem = {0};
    struct explore_result along;
    const struct explore_options how = {.class_limit = CLASSES_MOST};
    unheard_find(&room->world, &room->world.unheard);
    if (less->verdict != EXPLORE_REFUTED || !room->world.unheard.on) {
        room->world.unheard.on = false;
        return;
    }
    must(guide_explore(&room->world, less, &how, host_pages(), arena, &along, &problem), &problem);
    const struct explore_machine machine = world_machine(&room->world);
    const bool good = along.verdict == EXPLORE_REFUTED && guide_replays(&room->world, &along) &&
            replay_story(&machine, &along) == NULL;
    tally->along += along.classes_expanded;
    claim(tally, CLAIM_GUIDED, good, number, site, arena);
}

/* The radio is jammed where somebody just waits, and free again at the next such step. */
static void jam(struct site *site) {
    bool jammed = false;
    for (size_t i = 0; i < site->routines[0].step_count; i++) {
        struct site_step *step = &site->routines[0].steps[i];
        if (step->act == SITE_ACT_WAIT) {
            step->act = jammed ? SITE_ACT_JAM_OVER : SITE_ACT_JAMMED;
            jammed = !jammed;
        }
    }
}

static void try_each(struct tally *tally, struct room *room, uint64_t number, struct site *site,
        struct arena *arena) {
    for (size_t k = 0; k < sizeof EXPECTS / sizeof *EXPECTS; k++) {
        site->routines[0].expects =
                EXPECTS[k] | SITE_EXPECT_TROUBLE; /* jamming is none by itself */
        make(room, site, false);
        const struct explore_result whole = explore(room, arena, true);
        const struct explore_result less = explore(room, arena, false);
        if (whole.verdict == EXPLORE_UNDECIDED) {
            tally->too_large++;
            continue;
        }
        claim(tally, CLAIM_SEARCHED, less.verdict == whole.verdict, number, site, arena);
        tally->well += whole.verdict == EXPLORE_PROVEN;
        tally->smaller +=
                whole.verdict == EXPLORE_PROVEN && less.classes_expanded < whole.classes_expanded;
        check_told(tally, room, number, site, arena, &whole);
        check_guided(tally, room, number, site, arena, &less);
        if (number % ENUMERATED_EACH == 0) {
            check_enumerated(tally, room, number, site, arena, less.verdict);
        }
    }
}

static void try_site(struct tally *tally, struct room *room, uint64_t number) {
    struct arena arena;
    struct site site;
    arena_init(&arena, host_pages(), 0);
    struct random_wish wish = random_wish_of(number);
    wish.lines = number % 10 == 5;
    wish.witnesses = number % 10 == 0;
    const bool built = number % 5 == 0 ? random_site_build(&wish, &arena, &site)
                                       : random_radio_build(number, &arena, &site);
    must((outcome){built}, &(struct problem){.text = "no memory"});
    if (number % 9 == 7) {
        random_site_draw_users(&wish, &site);
    } else if (number % 9 == 6) {
        jam(&site);
    }
    try_each(tally, room, number, &site, &arena);
    arena_finish(&arena);
}

static void try_late(struct tally *tally, struct room *room, uint64_t number) {
    struct arena arena;
    struct site site;
    arena_init(&arena, host_pages(), 0);
    must((outcome){random_late_build(number, &arena, &site)},
            &(struct problem){.text = "no memory"});
    try_each(tally, room, number, &site, &arena);
    arena_finish(&arena);
}

int main(int argument_count, char **arguments) {
    struct tally tally = {0};
    if (argument_count != 3) {
        fprintf(stderr, "unheard_test FIRST COUNT\n");
        return 2;
    }
    const uint64_t first = strtoull(arguments[1], NULL, 10);
    const uint64_t count = strtoull(arguments[2], NULL, 10);
    struct room *room = malloc(sizeof *room);
    if (room == NULL) {
        printf("Bail out! no memory\n");
        return 1;
    }
    printf("# sites %llu to %llu\n1..%d\n", (unsigned long long)first,
            (unsigned long long)(first + count - 1), CLAIM_COUNT + 1);
    for (uint64_t number = first; number < first + count; number++) {
        try_site(&tally, room, number);
        for (uint64_t k = 0; k < LATE_EACH; k++) {
            try_late(&tally, room, number * LATE_EACH + k);
        }
    }
    free(room);
    size_t failed = 0;
    for (int which = 0; which < CLAIM_COUNT; which++) {
        const bool good = tally.broken[which] == 0 && tally.held[which] > 0;
        failed += !good;
        printf("%s %d - %s (%zu times, %zu not)\n", good ? "ok" : "not ok", which + 1,
                CLAIM_NAMES[which], tally.held[which] + tally.broken[which], tally.broken[which]);
    }
    printf("# %zu classes to follow the courses that go wrong\n", tally.along);
    /* Else the claims above would be about nothing. */
    const bool some = tally.smaller * 5 > tally.well;
    printf("%s %d - of %zu that go well %zu took fewer classes (%zu too large)\n",
            some ? "ok" : "not ok", CLAIM_COUNT + 1, tally.well, tally.smaller, tally.too_large);
    return failed == 0 && some ? 0 : 1;
}
