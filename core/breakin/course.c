/* Replaying a course through the player, second by second. */
#include "breakin/breakin.h"
#include "breakin/devices.h"
#include "panel/player.h"

#include <string.h>

enum {
    LINE_MAX = 2000,
    /* Three of each zone can run: a message, a hold, a sleep. */
    DEVICE_TIMER_MAX = 3 * PANEL_ZONE_MAX,
};

struct replay {
    const struct devices_world *world;
    struct player player;
    struct devices_bits bits;
    struct devices_port port;
    struct {
        unsigned timer;
        int32_t ends_s;
    } timers[DEVICE_TIMER_MAX]; /* of devices; in no order */
    size_t timer_count;
    struct breakin_line *lines;
    size_t line_count;
    bool overflowed;
    size_t act;
    struct breakin_story story;
    int32_t heard_s;
};

static struct breakin_line *add_line(struct replay *replay, enum breakin_line_kind kind) {
    if (replay->line_count == LINE_MAX) {
        replay->overflowed = true;
        return NULL;
    }
    struct breakin_line *line = &replay->lines[replay->line_count++];
    *line = (struct breakin_line){
            .kind = kind, .at_s = replay->player.now_s, .act = replay->act, .zone = PANEL_NO_ZONE};
    return line;
}

static void note(int32_t *instant_s, int32_t now_s) {
    if (*instant_s == BREAKIN_NEVER_S) {
        *instant_s = now_s;
    }
}

static void hear(void *context, int32_t now_s, const struct panel_input *input,
        const struct panel_output *output) {
    struct replay *replay = context;
    (void)input;
    struct breakin_line *line = add_line(replay, BREAKIN_LINE_OUTPUT);
    if (line != NULL) {
        line->at_s = now_s;
        line->output = *output;
        line->zone = output->zone;
    }
    if (output->kind == PANEL_OUT_SOUND && output->sound != PANEL_SILENT) {
        note(&replay->story.siren_s, now_s);
    }
    const struct breakin_options by_signal = {.heard_by = BREAKIN_BY_SIGNAL};
    const struct devices_world for_signal = {.options = &by_signal};
    if (devices_is_heard(&for_signal, output)) {
        note(&replay->story.signal_s, now_s);
    }
    if (replay->heard_s == BREAKIN_NEVER_S && devices_is_heard(replay->world, output)) {
        replay->heard_s = now_s;
        (void)add_line(replay, BREAKIN_LINE_HEARD);
    }
}

static int32_t choose(void *context, int32_t now_s, const struct panel_output *output) {
    const struct replay *replay = context;
    (void)now_s;
    return devices_seconds(replay->world, output);
}

static void tell(void *context, unsigned zone, bool open) {
    struct replay *replay = context;
    if (panel_zones_has(&replay->player.state.open, zone) == open) {
        return;
    }
    struct breakin_line *line = add_line(replay, BREAKIN_LINE_LEVEL);
    if (line != NULL) {
        line->zone = (uint8_t)zone;
        line->open = open;
    }
    note(&replay->story.first_trip_s, replay->player.now_s);
    player_input(&replay->player, devices_news(replay->world, zone, open));
}

static void start(void *context, unsigned timer, int32_t seconds_s) {
    struct replay *replay = context;
    size_t index = 0;
    while (index < replay->timer_count && replay->timers[index].timer != timer) {
        index++;
    }
    if (index == replay->timer_count) {
        replay->timer_count++;
    }
    replay->timers[index].timer = timer;
    replay->timers[index].ends_s = replay->player.now_s + seconds_s;
}

/* The device's timer that ends next: the earliest, of these the lowest number; or timer_count. */
static size_t next_of_devices(const struct replay *replay) {
    size_t next = replay->timer_count;
    for (size_t i = 0; i < replay->timer_count; i++) {
        if (next == replay->timer_count || replay->timers[i].ends_s < replay->timers[next].ends_s ||
                (replay->timers[i].ends_s == replay->timers[next].ends_s &&
                        replay->timers[i].timer < replay->timers[next].timer)) {
            next = i;
        }
    }
    return next;
}

static void end_of_device(struct replay *replay, size_t index) {
    const unsigned timer = replay->timers[index].timer;
    replay->timers[index] = replay->timers[--replay->timer_count];
    devices_timer(&replay->port, timer);
}

/* A panel timer that is about to end gets its own line. */
static void end_of_panel(struct replay *replay, struct player_timer due) {
    struct breakin_line *line = add_line(replay, BREAKIN_LINE_TIMER);
    if (line != NULL) {
        line->timer = due.timer;
    }
    (void)player_end_timer(&replay->player, due.timer);
}

/* Whatever ends first, if it is not after instant_s; the panel's timers before the devices'. False: nothing is due. */
static bool end_next(struct replay *replay, int32_t instant_s) {
    struct player_timer due = {.ends_s = PLAYER_FOREVER_S};
    const bool panel = player_next_due(&replay->player, &due);
    const size_t index = next_of_devices(replay);
    const bool device =
            index < replay->timer_count && (!panel || replay->timers[index].ends_s < due.ends_s);
    const int32_t ends_s = device ? replay->timers[index].ends_s : due.ends_s;
    if ((!panel && !device) || ends_s > instant_s || ends_s == PLAYER_FOREVER_S) {
        return false;
    }
    player_advance_to(&replay->player, ends_s); /* nothing is due before */
    if (device) {
        end_of_device(replay, index);
    } else {
        end_of_panel(replay, due);
    }
    return true;
}

/* What is due before instant_s ends; what is due then waits, unless it goes first. */
static void advance(struct replay *replay, int32_t instant_s, bool ends_first) {
    while (end_next(replay, ends_first ? instant_s : instant_s - 1)) {
    }
    player_advance_to(&replay->player, instant_s);
}

static void notice(struct replay *replay, const struct panel_zones *opens,
        const struct panel_zones *trips, bool closes) {
    const unsigned count = replay->world->program->zone_count;
    for (unsigned zone = 0; opens != NULL && zone < count; zone++) {
        if (panel_zones_has(opens, zone)) {
            devices_level(&replay->port, zone, true);
        }
    }
    for (unsigned zone = 0; zone < count; zone++) {
        if (panel_zones_has(trips, zone)) {
            devices_trip(&replay->port, zone);
        }
    }
    for (unsigned zone = 0; closes && opens != NULL && zone < count; zone++) {
        if (panel_zones_has(opens, zone)) {
            devices_level(&replay->port, zone, false);
        }
    }
}

static void play_act(struct replay *replay, const struct breakin_act *act) {
    const struct breakin_graph *graph = replay->world->graph;
    advance(replay, act->begins_s, false);
    (void)add_line(replay, BREAKIN_LINE_BEGINS);
    advance(replay, act->ends_s, act->ends_first);
    (void)add_line(replay, BREAKIN_LINE_DONE);
    if (act->portal) {
        const struct breakin_portal *portal = &graph->portals[act->index];
        notice(replay, &portal->opens, &portal->trips, act->closes);
    } else {
        notice(replay, NULL, &graph->moves[act->index].trips, false);
    }
}

static void begin(struct replay *replay) {
    const struct devices_world *world = replay->world;
    const struct breakin_start *from = world->start;
    player_begin(&replay->player, world->program, from->areas, &from->open, 0,
            (struct player_hooks){.hear = hear, .choose = choose, .context = replay});
    replay->bits.physical = from->open;
    if (from->exiting != 0) {
        player_input(&replay->player,
                (struct panel_input){.kind = PANEL_IN_SET,
                        .zone = PANEL_NO_ZONE,
                        .user = PANEL_NOBODY,
                        .areas = from->exiting,
                        .mode = (uint8_t)from->exit_mode,
                        .source = PANEL_BY_KEYPAD});
    }
    for (unsigned zone = 0; zone < world->program->zone_count; zone++) {
        if (panel_zones_has(&from->asleep, zone) && world->sleep_s[zone] > 0 &&
                !panel_zones_has(&world->mute, zone)) {
            panel_zones_add(&replay->bits.asleep, zone);
            start(replay, DEVICES_SLEEP + zone, world->sleep_s[zone]);
        }
    }
}

/* He has it; then until it is heard, or until nothing runs. What ends on the second at which he has it ends after. */
static void play_on(struct replay *replay, int32_t done_s) {
    advance(replay, done_s, false);
    replay->story.done_s = done_s;
    (void)add_line(replay, BREAKIN_LINE_GOAL);
    while (replay->heard_s == BREAKIN_NEVER_S && !replay->overflowed &&
            end_next(replay, PLAYER_FOREVER_S - 1)) {
    }
}

outcome breakin_tell(const struct site *site, const struct panel_program *program,
        const struct breakin_graph *graph, size_t goal, const struct breakin_start *start_of,
        const struct breakin_options *options, const struct breakin_course *course,
        struct arena *arena, struct breakin_story *ret_story, struct problem *ret_problem) {
    const struct devices_world world = devices_world_of(site, program, graph, start_of, options);
    struct replay *replay = ARENA_NEW(arena, struct replay);
    struct breakin_line *lines = ARENA_ARRAY(arena, struct breakin_line, LINE_MAX);
    if (replay == NULL || lines == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to tell a break-in");
    }
    *replay = (struct replay){.world = &world, .lines = lines, .heard_s = BREAKIN_NEVER_S};
    replay->port = (struct devices_port){.world = &world,
            .bits = &replay->bits,
            .tell = tell,
            .start = start,
            .context = replay};
    replay->story = (struct breakin_story){.lines = lines,
            .first_trip_s = BREAKIN_NEVER_S,
            .siren_s = BREAKIN_NEVER_S,
            .signal_s = BREAKIN_NEVER_S};
    begin(replay);
    for (replay->act = 0; replay->act < course->act_count; replay->act++) {
        play_act(replay, &course->acts[replay->act]);
    }
    play_on(replay, course->done_s);
    if (replay->overflowed) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "a break-in has more than %d lines", LINE_MAX);
    }
    if (replay->heard_s != course->heard_s) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "the way into \"%.*s\" does not come out the same when it is played",
                TEXT_ARGS(graph->goals[goal].name));
    }
    replay->story.line_count = replay->line_count;
    *ret_story = replay->story;
    return outcome_good();
}
