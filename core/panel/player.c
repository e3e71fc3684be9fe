#include "panel/player.h"

#include <assert.h>
#include <string.h>

static int32_t later(int32_t now_s, int32_t seconds_s) {
    if (seconds_s <= 0) {
        return now_s;
    }
    return now_s > PLAYER_FOREVER_S - seconds_s ? PLAYER_FOREVER_S : now_s + seconds_s;
}

static size_t find(const struct player *player, panel_timer timer) {
    size_t index = 0;
    while (index < player->timer_count && player->timers[index].timer != timer) {
        index++;
    }
    return index;
}

static void drop(struct player *player, size_t index) {
    player->timer_count--;
    memmove(&player->timers[index], &player->timers[index + 1],
            (player->timer_count - index) * sizeof player->timers[0]);
}

static bool ends_before(struct player_timer a, struct player_timer b) {
    return a.ends_s != b.ends_s ? a.ends_s < b.ends_s : a.timer < b.timer;
}

static void insert(struct player *player, struct player_timer timer) {
    assert(player->timer_count < PLAYER_TIMER_MAX);
    size_t index = player->timer_count;
    while (index > 0 && ends_before(timer, player->timers[index - 1])) {
        player->timers[index] = player->timers[index - 1];
        index--;
    }
    player->timers[index] = timer;
    player->timer_count++;
}

static int32_t chosen_end_s(const struct player *player, const struct panel_output *output) {
    const int32_t seconds_s = player->hooks.choose == NULL
            ? output->seconds_s
            : player->hooks.choose(player->hooks.context, player->now_s, output);
    return later(player->now_s, seconds_s);
}

/* A start of a running timer replaces it; a shortening never lengthens it and starts nothing. */
static void keep_time(struct player *player, const struct panel_output *output) {
    const bool start = output->kind == PANEL_OUT_START;
    const bool shorten = output->kind == PANEL_OUT_SHORTEN;
    if (!start && !shorten && output->kind != PANEL_OUT_STOP) {
        return;
    }
    const size_t index = find(player, output->timer);
    const bool runs = index < player->timer_count;
    if (shorten && !runs) {
        return;
    }
    struct player_timer timer = {.ends_s = 0, .timer = output->timer};
    if (start || shorten) {
        timer.ends_s = chosen_end_s(player, output);
        if (shorten && player->timers[index].ends_s < timer.ends_s) {
            timer.ends_s = player->timers[index].ends_s;
        }
    }
    if (runs) {
        drop(player, index);
    }
    if (start || shorten) {
        insert(player, timer);
    }
}

static void take_outputs(struct player *player, const struct panel_input *input) {
    assert(!player->outputs.overflowed);
    for (size_t i = 0; i < player->outputs.count; i++) {
        const struct panel_output *output = &player->outputs.list[i];
        keep_time(player, output);
        if (player->hooks.hear != NULL) {
            player->hooks.hear(player->hooks.context, player->now_s, input, output);
        }
    }
}

static void end_at(struct player *player, size_t index) {
    const panel_timer timer = player->timers[index].timer;
    drop(player, index);
    player_input(player,
            (struct panel_input){.kind = PANEL_IN_TIMER,
                    .zone = PANEL_NO_ZONE,
                    .user = PANEL_NOBODY,
                    .timer = timer});
}

void player_begin(struct player *player, const struct panel_program *program,
        const struct site_start *starts, const struct panel_zones *open, int32_t now_s,
        struct player_hooks hooks) {
    memset(player, 0, sizeof *player);
    player->program = program;
    player->hooks = hooks;
    player->now_s = now_s;
    panel_begin(program, starts, open, &player->state, &player->outputs);
    take_outputs(player, NULL);
}

void player_input(struct player *player, struct panel_input input) {
    panel_step(player->program, &player->state, input, &player->outputs);
    take_outputs(player, &input);
}

void player_advance_to(struct player *player, int32_t instant_s) {
    while (player->timer_count > 0 && player->timers[0].ends_s < instant_s) {
        player->now_s = player->timers[0].ends_s;
        end_at(player, 0);
    }
    if (instant_s > player->now_s) {
        player->now_s = instant_s;
    }
}

void player_settle(struct player *player) {
    while (player->timer_count > 0 && player->timers[0].ends_s <= player->now_s) {
        end_at(player, 0);
    }
}

bool player_end_timer(struct player *player, panel_timer timer) {
    const size_t index = find(player, timer);
    if (index == player->timer_count || player->timers[index].ends_s != player->now_s) {
        return false;
    }
    end_at(player, index);
    return true;
}

bool player_next_due(const struct player *player, struct player_timer *ret_timer) {
    if (player->timer_count == 0) {
        return false;
    }
    *ret_timer = player->timers[0];
    return true;
}

int32_t player_left_s(const struct player *player, panel_timer timer) {
    const size_t index = find(player, timer);
    return index == player->timer_count ? -1 : player->timers[index].ends_s - player->now_s;
}
