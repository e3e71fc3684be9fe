#include "replay.h"

#include <stdalign.h>
#include <string.h>

enum { STATE_MAX = 4096 };

struct player {
    size_t count;
    explore_activity activity[EXPLORE_ACTIVE_MAX];
    int64_t deadline_s[EXPLORE_ACTIVE_MAX];
};

static int64_t *deadline_of(struct player *player, explore_activity activity) {
    for (size_t k = 0; k < player->count; k++) {
        if (player->activity[k] == activity) {
            return &player->deadline_s[k];
        }
    }
    return NULL;
}

static void stop(struct player *player, explore_activity activity) {
    int64_t *deadline_s = deadline_of(player, activity);
    if (deadline_s != NULL) {
        player->count--;
        *deadline_s = player->deadline_s[player->count];
        player->activity[deadline_s - player->deadline_s] = player->activity[player->count];
    }
}

static const char *apply(struct player *player, const struct explore_effects *effects,
        const struct explore_event *event) {
    size_t drawn = 0;
    for (size_t k = 0; k < effects->count; k++) {
        const struct explore_effect *effect = &effects->effects[k];
        if (effect->kind == EXPLORE_STOP) {
            stop(player, effect->activity);
            continue;
        }
        if (drawn == event->started_count) {
            return "too few durations";
        }
        const int32_t duration_s = event->started_s[drawn++];
        int64_t *deadline_s = deadline_of(player, effect->activity);
        if (effect->kind == EXPLORE_SHORTEN && deadline_s == NULL) {
            if (duration_s != -1) {
                return "a SHORTEN that does nothing draws";
            }
            continue;
        }
        if (duration_s < effect->span.low_s || duration_s > effect->span.high_s) {
            return "a duration outside of its span";
        }
        const int64_t new_s = (int64_t)event->at_s + duration_s;
        if (deadline_s == NULL) {
            if (player->count == EXPLORE_ACTIVE_MAX) {
                return "too much runs";
            }
            player->activity[player->count] = effect->activity;
            deadline_s = &player->deadline_s[player->count];
            *deadline_s = new_s;
            player->count++;
        } else if (effect->kind == EXPLORE_START || new_s < *deadline_s) {
            *deadline_s = new_s;
        }
    }
    return drawn == event->started_count ? NULL : "too many durations";
}

static const char *come_due(struct player *player, const struct explore_event *event) {
    const int64_t *deadline_s = deadline_of(player, event->activity);
    if (deadline_s == NULL) {
        return "fires what does not run";
    }
    if (*deadline_s != event->at_s) {
        return "fires at another instant than its deadline";
    }
    for (size_t k = 0; k < player->count; k++) {
        if (player->deadline_s[k] < event->at_s) {
            return "passes over a deadline";
        }
    }
    stop(player, event->activity);
    return NULL;
}

const char *replay_story(
        const struct explore_machine *machine, const struct explore_result *result) {
    struct player player = {0};
    alignas(max_align_t) unsigned char state[STATE_MAX] = {0};
    if (result->story_count == 0) {
        return "no story";
    }
    for (size_t k = 0; k < result->story_count; k++) {
        const struct explore_event *event = &result->story[k];
        struct explore_effects effects = {0};
        const char *wrong = NULL;
        if (k == 0) {
            wrong = event->activity == EXPLORE_BEGIN && event->at_s == 0 ? NULL : "no begin";
            machine->begin(machine->context, state, &effects);
        } else {
            wrong = come_due(&player, event);
            machine->fire(machine->context, state, event->activity, event->choice, &effects);
        }
        if (wrong == NULL) {
            wrong = apply(&player, &effects, event);
        }
        if (wrong != NULL) {
            return wrong;
        }
        const bool last = k + 1 == result->story_count;
        if ((effects.standing == EXPLORE_VIOLATION) != last) {
            return "the violation is not at the end";
        }
        if (last && effects.violation != result->violation) {
            return "another violation";
        }
    }
    return NULL;
}
