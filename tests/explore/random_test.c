/* Random small machines, explored four ways and held against full enumeration: verdict, fewest events, probed lengths,
 * earliest instant of the story's end; every story is replayed. Arguments: seed, number of machines, and "large" for
 * machines of more activities, seconds and events. */
#include "enumerate.h"
#include "replay.h"
#include "toy.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { STATES_MOST = 400000, CLASSES_MOST = 3000000 };

static void *get(void *context, size_t size) {
    ++*(size_t *)context;
    return malloc(size);
}

static void give(void *context, void *block, size_t size) {
    (void)size;
    --*(size_t *)context;
    free(block);
}

struct tally {
    size_t checked;
    size_t too_large;
    size_t refuted;
    size_t shortened;
    size_t ranged;
    size_t classes[4];
    size_t states;
};

static const char *compare_ranges(const struct explore_ranges *ranges, const bool *lengths) {
    bool seen[2 * ENUMERATE_LENGTH_MOST + 1] = {false};
    if (ranges->overflowed) {
        return "too many intervals";
    }
    for (size_t k = 0; k < ranges->count; k++) {
        if (k > 0 && ranges->interval[k].low_s <= ranges->interval[k - 1].high_s + 1) {
            return "intervals that touch";
        }
        for (int32_t s = ranges->interval[k].low_s; s <= ranges->interval[k].high_s; s++) {
            seen[s + ENUMERATE_LENGTH_MOST] = true;
        }
    }
    return memcmp(seen, lengths, sizeof seen) == 0 ? NULL : "other lengths than enumeration";
}

static const char *compare(const struct explore_machine *machine,
        const struct explore_options *options, const struct enumeration *truth, size_t *classes,
        size_t *pages_out) {
    const struct pages pages = {get, give, pages_out};
    struct arena arena;
    arena_init(&arena, pages, 0);
    struct explore_result result = {0};
    const char *wrong = NULL;
    if (!explore_run(machine, options, pages, &arena, &result, NULL).good) {
        wrong = "no result";
    } else if (result.reason != EXPLORE_ENDED) {
        wrong = "not ended";
    } else if (result.verdict != (truth->story_count > 0 ? EXPLORE_REFUTED : EXPLORE_PROVEN)) {
        wrong = "other verdict than enumeration";
    } else if (result.story_count != truth->story_count) {
        wrong = "not as few events as enumeration";
    } else if (result.verdict == EXPLORE_REFUTED) {
        wrong = replay_story(machine, &result);
        if (wrong == NULL) {
            const int32_t earliest_s =
                    enumerate_earliest_s(machine, result.story, result.story_count, STATES_MOST);
            if (earliest_s != -2 && earliest_s != result.story[result.story_count - 1].at_s) {
                wrong = "not as early as enumeration";
            }
        }
    }
    if (wrong == NULL && options->probe) {
        wrong = compare_ranges(&result.bad, truth->bad);
        if (wrong == NULL) {
            wrong = compare_ranges(&result.good, truth->good);
        }
    }
    *classes += result.classes_expanded;
    arena_finish(&arena);
    return wrong == NULL && *pages_out != 0 ? "memory is lost" : wrong;
}

static bool check_both_ways(const struct toy *toy, bool probe, struct tally *tally) {
    const struct explore_machine machine = toy_machine(toy);
    struct enumeration truth;
    enumerate_machine(&machine, probe, STATES_MOST, &truth);
    if (!truth.finished) {
        tally->too_large++;
        return true;
    }
    tally->checked++;
    tally->states += truth.states;
    tally->refuted += truth.story_count > 0;
    for (size_t i = 0; probe && i < sizeof truth.bad; i++) {
        if (truth.bad[i] || truth.good[i]) {
            tally->ranged++;
            break;
        }
    }
    for (unsigned ways = 0; ways < 4; ways++) {
        const struct explore_options options = {.no_merge = (ways & 1) != 0,
                .no_inclusion = (ways & 2) != 0,
                .probe = probe,
                .class_limit = CLASSES_MOST,
                .byte_limit = (size_t)2 << 30};
        size_t pages_out = 0;
        const char *wrong = compare(&machine, &options, &truth, &tally->classes[ways], &pages_out);
        if (wrong != NULL) {
            printf("# %s (merging %s, inclusion %s, %s)\n", wrong, options.no_merge ? "off" : "on",
                    options.no_inclusion ? "off" : "on", probe ? "probe" : "no probe");
            toy_print(toy);
            return false;
        }
    }
    return true;
}

int main(int argument_count, char **arguments) {
    uint64_t seed = argument_count > 1 ? strtoull(arguments[1], NULL, 10) : 20240229;
    const size_t machines = argument_count > 2 ? strtoul(arguments[2], NULL, 10) : 1500;
    const bool large = argument_count > 3 && strcmp(arguments[3], "large") == 0;
    struct tally tally = {0};
    bool good = true;
    printf("1..1\n# seed %" PRIu64 ", %zu machines\n", seed, machines);
    for (size_t k = 0; k < machines && good; k++) {
        struct toy toy;
        const size_t activities = large ? 4 + toy_draw(&seed, 5) : 2 + toy_draw(&seed, 4);
        const int32_t longest_s = 1 + (int32_t)toy_draw(&seed, large ? 14 : 8);
        const uint32_t events_most = large ? 6 + toy_draw(&seed, 10) : 2 + toy_draw(&seed, 6);
        const bool loops = toy_draw(&seed, 4) == 0;
        toy_random(&toy, &seed, activities, longest_s, loops ? 0 : (uint8_t)events_most);
        good = check_both_ways(&toy, false, &tally);
        if (good && !loops) {
            toy.probing = true;
            good = check_both_ways(&toy, true, &tally);
        }
    }
    printf("# %zu checked (%zu refuted, %zu with lengths), %zu too large to enumerate; %zu states "
           "against %zu classes; "
           "%zu without merging, %zu without inclusion, %zu without both\n",
            tally.checked, tally.refuted, tally.ranged, tally.too_large, tally.states,
            tally.classes[0], tally.classes[1], tally.classes[2], tally.classes[3]);
    good = good && tally.checked > 0;
    printf("%sok 1 - explorer and enumeration agree on random machines\n", good ? "" : "not ");
    return good ? 0 : 1;
}
