#include "course.h"

#include "panel/panel.h"
#include "panel/player.h"

#include <string.h>

enum { COURSE_ZONES = 10, COURSE_AREAS = 3, COURSE_USERS = 4 };

struct course {
    const uint8_t *bytes;
    size_t size;
    size_t read;
    struct panel_program program;
    struct player player;
    struct panel_outputs again;
    const char *broken;
};

static unsigned draw(struct course *course, unsigned below) {
    if (course->read == course->size || below == 0) {
        return 0;
    }
    return course->bytes[course->read++] % below;
}

static bool chance(struct course *course) {
    return draw(course, 2) == 1;
}

static int32_t draw_seconds(struct course *course) {
    static const int32_t some[] = {0, 1, 5, 10, 30, 45, 60, 3600};
    return some[draw(course, sizeof some / sizeof some[0])];
}

static void key_in_zone(struct course *course, struct panel_zone *zone, unsigned area_count) {
    for (unsigned mode = 0; mode < PANEL_MODE_MAX; mode++) {
        zone->behaviour[mode] = (uint8_t)draw(course, SITE_BEHAVIOUR_COUNT);
        zone->delay[mode] = (uint8_t)(chance(course) ? draw(course, 2) : 0xFF);
    }
    zone->unset_behaviour =
            (uint8_t)(chance(course) ? zone->behaviour[0] : draw(course, SITE_BEHAVIOUR_COUNT));
    zone->area = (uint8_t)draw(course, area_count);
    zone->serves = (uint8_t)(1U << zone->area | draw(course, 1U << area_count));
    zone->sense = (uint8_t)draw(course, SITE_SENSE_COUNT);
    zone->device = (uint8_t)draw(course, 4);
    zone->door = (uint8_t)(chance(course) ? draw(course, 4) : 0xFF);
    zone->cross_with = (uint8_t)(chance(course) ? draw(course, COURSE_ZONES + 2) : PANEL_NO_ZONE);
    zone->group = (uint8_t)draw(course, 3);
    zone->pulse_count = (uint8_t)draw(course, 6);
    zone->pulse_window_s = draw_seconds(course);
    zone->follows = (uint16_t)draw(course, 4);
    zone->hold_s = (int32_t)draw(course, 6);
    const unsigned options = draw(course, 32);
    zone->chime = (options & 1U) != 0;
    zone->reports = (options & 2U) != 0;
    zone->supervised = (options & 4U) != 0;
    zone->bypassable = (options & 8U) != 0;
    zone->swinger = (options & 16U) != 0;
}

static void key_in_times(struct course *course, struct site_settings *settings) {
    settings->mode_count = SITE_MODE_MAX;
    for (unsigned mode = 0; mode < SITE_MODE_MAX; mode++) {
        settings->modes[mode].exit_delay_s = draw_seconds(course);
    }
    settings->delay_count = 2;
    settings->delays[0].seconds_s = draw_seconds(course);
    settings->delays[1].seconds_s = draw_seconds(course);
    settings->abort_window_s = draw_seconds(course);
    settings->cancel_window_s = draw_seconds(course);
    settings->recent_closing_s = draw_seconds(course);
    settings->siren_time_s = draw_seconds(course);
    settings->siren_hold_back_s = draw_seconds(course);
    settings->swinger_limit = (int32_t)draw(course, 4);
    settings->swinger_reset_s = draw_seconds(course);
    settings->cross_window_s = draw_seconds(course);
    settings->confirm_window_s = draw_seconds(course);
    settings->lockout_tries = (int32_t)draw(course, 4);
    settings->lockout_s = draw_seconds(course);
    settings->supervision_window_s = 3600 + draw_seconds(course);
    settings->mains_delay_s = draw_seconds(course);
    settings->mains_jitter_s = (int32_t)draw(course, (unsigned)settings->mains_delay_s + 1);
    settings->power_mask_s = draw_seconds(course);
    settings->final_door_s = draw_seconds(course);
    settings->auto_warn_s = draw_seconds(course);
    settings->auto_postpone_s = draw_seconds(course);
    settings->auto_postpone_count = (int32_t)draw(course, 4);
    settings->signals_kept = chance(course) ? PANEL_QUEUE_MAX : (int32_t)draw(course, 4);
}

static void key_in_choices(struct course *course, struct site_settings *settings) {
    settings->motion_blocks = chance(course);
    settings->entry_open_allowed = chance(course);
    settings->exit_restart = chance(course);
    settings->drop_to_part = chance(course);
    settings->lone_cross_signal = chance(course);
    settings->same_cross_counts = chance(course);
    settings->early_warning = chance(course);
    settings->silent_hold_up = chance(course);
    settings->jamming_noticed = chance(course);
    settings->off_route = (enum site_off_route)draw(course, SITE_OFF_ROUTE_COUNT);
    settings->second_entry = (enum site_second_entry)draw(course, SITE_SECOND_COUNT);
    settings->exit_trip = (enum site_exit_trip)draw(course, SITE_EXIT_TRIP_COUNT);
    settings->faults = (enum site_fault)draw(course, SITE_FAULT_COUNT);
    settings->reopened = (enum site_reopened)draw(course, SITE_REOPENED_COUNT);
    settings->completion = (enum site_completion)draw(course, SITE_COMPLETION_COUNT);
    settings->fob_way = (enum site_fob_way)draw(course, SITE_FOB_COUNT);
    settings->fob_open = (enum site_open_zones)draw(course, SITE_OPEN_COUNT);
    settings->auto_open = (enum site_auto_open)draw(course, SITE_AUTO_COUNT);
    settings->restore = (enum site_restore)draw(course, SITE_RESTORE_COUNT);
    settings->lost_while_set = (enum site_lost)draw(course, SITE_LOST_COUNT);
    settings->reset = (enum site_reset)draw(course, SITE_RESET_COUNT);
    settings->code_acts = (enum site_code_acts)draw(course, SITE_CODE_COUNT);
}

/* The standard tables come by way of a site, as a program has no other way to them. */
static bool key_in(struct course *course) {
    struct site_area area = {.common = false};
    struct site site = {.areas = &area, .area_count = 1, .settings = site_settings_usual()};
    struct panel_program *program = &course->program;
    if (!panel_program_of_site(&site, NULL, program, NULL).good) {
        return false;
    }
    program->area_count = (uint8_t)(1 + draw(course, COURSE_AREAS));
    program->common_areas =
            (uint8_t)(program->area_count > 1 && chance(course) ? 1U << (program->area_count - 1)
                                                                : 0U);
    program->user_count = COURSE_USERS;
    for (unsigned user = 0; user < COURSE_USERS; user++) {
        program->user_areas[user] = (uint8_t)(draw(course, 8) | program->common_areas);
        program->user_modes[user] = (uint8_t)(user < 2 ? 0xFFU : draw(course, 64));
        program->user_duress[user] = user == 3;
    }
    key_in_times(course, &program->settings);
    key_in_choices(course, &program->settings);
    program->zone_count = (uint8_t)(1 + draw(course, COURSE_ZONES));
    for (unsigned zone = 0; zone < program->zone_count; zone++) {
        key_in_zone(course, &program->zones[zone], program->area_count);
        program->grouped = program->grouped || program->zones[zone].group != 0;
    }
    return true;
}

static struct panel_input draw_input(struct course *course, bool timers_too) {
    static const uint8_t often[] = {PANEL_IN_OPEN, PANEL_IN_OPEN, PANEL_IN_CLOSE, PANEL_IN_CLOSE,
            PANEL_IN_SET, PANEL_IN_UNSET, PANEL_IN_SET, PANEL_IN_OPEN};
    const unsigned which = draw(course, 64);
    struct panel_input input = {
            .kind = (enum panel_input_kind)(
                    which < PANEL_IN_COUNT ? which : often[which % sizeof often])};
    if (input.kind == PANEL_IN_TIMER && !timers_too) {
        input.kind = PANEL_IN_OPEN;
    }
    const unsigned zone = draw(course, COURSE_ZONES + 2);
    input.zone = (uint8_t)(zone == COURSE_ZONES + 1 ? PANEL_NO_ZONE : zone);
    const unsigned who = draw(course, 256);
    input.user = (uint8_t)(who % 8 == 7 ? PANEL_NOBODY : who % 8);
    input.areas = (uint8_t)(who / 8);
    const unsigned how = draw(course, 256);
    input.mode = (uint8_t)(how % 8);
    input.source = (uint8_t)(how / 8 % PANEL_SOURCE_COUNT);
    const unsigned options = draw(course, 8);
    input.open = (options & 1U) != 0;
    input.force = (options & 2U) != 0;
    input.acknowledged = (options & 4U) != 0;
    if (input.kind == PANEL_IN_TIMER) {
        input.timer =
                (panel_timer)(draw(course, PANEL_TIMER_KIND_COUNT + 1) * PANEL_TIMER_STRIDE + zone);
    }
    return input;
}

/* ---- promises ---- */

static bool inside(const struct panel_program *program, const struct panel_zones *zones) {
    const uint64_t all = ((uint64_t)1 << program->zone_count) - 1;
    return (zones->word[0] & ~all) == 0 && zones->word[1] == 0;
}

/* The sets of zones stand first in a state; none may hold a zone that the program has not. */
static bool zones_inside(const struct panel_program *program, const struct panel_state *state) {
    const size_t count = offsetof(struct panel_state, areas) / sizeof(struct panel_zones);
    for (size_t i = 0; i < count; i++) {
        struct panel_zones zones;
        memcpy(&zones, (const char *)state + i * sizeof zones, sizeof zones);
        if (!inside(program, &zones)) {
            return false;
        }
    }
    for (unsigned zone = program->zone_count; zone < PANEL_ZONE_MAX; zone++) {
        if (state->swings[zone] != 0 || state->pulses[zone] != 0) {
            return false;
        }
    }
    return true;
}

static bool spares_are_zero(const struct panel_state *state) {
    static const uint8_t zeroes[sizeof state->spare] = {0};
    for (unsigned area = 0; area < PANEL_AREA_MAX; area++) {
        if (state->areas[area].spare != 0) {
            return false;
        }
    }
    return memcmp(state->spare, zeroes, sizeof zeroes) == 0;
}

static bool timer_is_keyed_in(
        const struct panel_program *program, const struct panel_output *output) {
    const unsigned index = panel_timer_index_of(output->timer);
    const enum panel_timer_kind kind = panel_timer_kind_of(output->timer);
    const unsigned below = kind < PANEL_TIMER_CROSS ? program->area_count
            : kind < PANEL_TIMER_LOCKOUT            ? program->zone_count
                                                    : 1;
    return output->timer < PANEL_TIMER_COUNT && index < below &&
            (output->kind == PANEL_OUT_STOP || output->seconds_s > 0);
}

static bool same_output(const struct panel_output *a, const struct panel_output *b) {
    return a->kind == b->kind && a->why == b->why && a->timer == b->timer &&
            a->seconds_s == b->seconds_s && a->spread_s == b->spread_s &&
            a->at_least == b->at_least && a->exact == b->exact && a->on == b->on &&
            a->area == b->area && a->zone == b->zone && a->message == b->message &&
            a->tone == b->tone && a->sound == b->sound && a->event.kind == b->event.kind &&
            a->event.zone == b->event.zone && a->event.user == b->event.user &&
            a->event.area == b->event.area && a->event.restore == b->event.restore &&
            a->event.recent == b->event.recent;
}

static const char *outputs_broken(
        const struct course *course, const struct panel_outputs *outputs) {
    if (outputs->overflowed) {
        return "the outputs of one step do not fit";
    }
    for (size_t i = 0; i < outputs->count; i++) {
        const struct panel_output *output = &outputs->list[i];
        const bool timer = output->kind == PANEL_OUT_START || output->kind == PANEL_OUT_STOP ||
                output->kind == PANEL_OUT_SHORTEN;
        if (timer && !timer_is_keyed_in(&course->program, output)) {
            return "a timer that the program has not, or of no length";
        }
        if (output->area >= course->program.area_count ||
                (output->zone != PANEL_NO_ZONE && output->zone >= course->program.zone_count)) {
            return "an output of a zone or area that the program has not";
        }
    }
    return NULL;
}

static bool runs(const struct course *course, enum panel_timer_kind kind, unsigned index) {
    return player_left_s(&course->player, panel_timer_of(kind, index)) >= 0;
}

static const char *area_timers_broken(const struct course *course, unsigned area) {
    const struct panel_area_state *now = &course->player.state.areas[area];
    const bool rides = (now->flags & PANEL_AREA_RIDES) != 0;
    if (runs(course, PANEL_TIMER_EXIT, area) != (now->phase == PANEL_EXITING && !rides)) {
        return "the exit time runs outside an exit, or not in one";
    }
    if (runs(course, PANEL_TIMER_ENTRY, area) != (now->phase == PANEL_ENTERING)) {
        return "the entry time runs outside an entry, or not in one";
    }
    if ((now->entry_zone != PANEL_NO_ZONE) != (now->phase == PANEL_ENTERING)) {
        return "an entry without its zone, or an entry zone outside entry";
    }
    if (runs(course, PANEL_TIMER_SIREN, area) != (now->sound != PANEL_SILENT)) {
        return "the siren sounds without its timer, or the timer runs without siren";
    }
    if (runs(course, PANEL_TIMER_HOLD_BACK, area) != ((now->flags & PANEL_AREA_HELD_BACK) != 0)) {
        return "a siren that waits and its timer differ";
    }
    if (runs(course, PANEL_TIMER_RECENT, area) != ((now->flags & PANEL_AREA_RECENT) != 0)) {
        return "recent closing and its timer differ";
    }
    if (runs(course, PANEL_TIMER_CANCEL, area) != (now->alarm == PANEL_SENT)) {
        return "the cancel window and its timer differ";
    }
    if (runs(course, PANEL_TIMER_AUTO_WARN, area) != ((now->flags & PANEL_AREA_AUTO_WARN) != 0)) {
        return "the auto-set warning and its timer differ";
    }
    const bool waits =
            runs(course, PANEL_TIMER_ABORT, area) || (now->flags & PANEL_AREA_WARNING) != 0;
    if ((now->alarm == PANEL_HELD) && !waits) {
        return "an alarm is held and nothing will release it";
    }
    if (runs(course, PANEL_TIMER_ABORT, area) && now->alarm != PANEL_HELD) {
        return "the abort window runs and nothing is held";
    }
    return NULL;
}

static const char *zone_timers_broken(const struct course *course, unsigned zone) {
    const struct panel_state *state = &course->player.state;
    if (runs(course, PANEL_TIMER_CROSS, zone) != panel_zones_has(&state->cross_lone, zone)) {
        return "a cross-zone window and its timer differ";
    }
    if (runs(course, PANEL_TIMER_CONFIRM, zone) != panel_zones_has(&state->confirming, zone)) {
        return "a confirmation window and its timer differ";
    }
    if (runs(course, PANEL_TIMER_HOLD, zone) != panel_zones_has(&state->following, zone)) {
        return "a follower's hold and its timer differ";
    }
    if (runs(course, PANEL_TIMER_SWINGER, zone) != (state->swings[zone] > 0)) {
        return "a swinger count and its timer differ";
    }
    for (unsigned slot = 0; slot < 4; slot++) {
        const enum panel_timer_kind kind = (enum panel_timer_kind)(PANEL_TIMER_PULSE_1 + slot);
        const bool counted = panel_bit(state->pulses[zone], slot);
        if (runs(course, kind, zone) != counted) {
            return "a pulse and its timer differ";
        }
    }
    return NULL;
}

static const char *timers_broken(const struct course *course) {
    const char *broken = NULL;
    for (unsigned area = 0; broken == NULL && area < course->program.area_count; area++) {
        broken = area_timers_broken(course, area);
    }
    for (unsigned zone = 0; broken == NULL && zone < course->program.zone_count; zone++) {
        broken = zone_timers_broken(course, zone);
    }
    if (broken == NULL &&
            runs(course, PANEL_TIMER_LOCKOUT, 0) !=
                    ((course->player.state.flags & PANEL_LOCKED) != 0)) {
        broken = "the lock-out and its timer differ";
    }
    return broken;
}

static void hold_to_promises(struct course *course, const struct panel_outputs *outputs) {
    const char *broken = outputs_broken(course, outputs);
    if (broken == NULL &&
            !panel_invariants_hold(&course->program, &course->player.state, &broken) &&
            broken == NULL) {
        broken = "an invariant without a name";
    }
    if (broken == NULL && !zones_inside(&course->program, &course->player.state)) {
        broken = "something is remembered of a zone that the program has not";
    }
    if (broken == NULL && course->player.state.off_hours >> course->program.user_count != 0) {
        broken = "hours are kept of a user that the program has not";
    }
    if (broken == NULL && !spares_are_zero(&course->player.state)) {
        broken = "a spare byte is used";
    }
    if (course->broken == NULL) {
        course->broken = broken;
    }
}

static void hear(void *context, int32_t now_s, const struct panel_input *input,
        const struct panel_output *output) {
    struct course *course = context;
    (void)now_s;
    (void)input;
    if (output == &course->player.outputs.list[0]) {
        hold_to_promises(course, &course->player.outputs);
    }
}

/* The same input in the same state, twice: same state, same outputs. */
static void put(struct course *course, struct panel_input input) {
    struct panel_state copy = course->player.state;
    panel_step(&course->program, &copy, input, &course->again);
    player_input(&course->player, input);
    const struct panel_outputs *outputs = &course->player.outputs;
    bool same = memcmp(&copy, &course->player.state, sizeof copy) == 0 &&
            outputs->count == course->again.count;
    for (size_t i = 0; same && i < outputs->count; i++) {
        same = same_output(&outputs->list[i], &course->again.list[i]);
    }
    if (!same && course->broken == NULL) {
        course->broken = "a step gave two results";
    }
    hold_to_promises(course, outputs);
}

const char *course_run(const uint8_t *bytes, size_t size, size_t *ret_event) {
    static struct course course;
    memset(&course, 0, sizeof course);
    course.bytes = bytes;
    course.size = size;
    *ret_event = 0;
    const bool timers_too = chance(&course);
    if (!key_in(&course)) {
        return "no program";
    }
    struct site_start starts[SITE_AREA_MAX] = {{.set = false}};
    struct panel_zones open = {.word = {0, 0}};
    for (unsigned area = 0; area < course.program.area_count; area++) {
        starts[area] = (struct site_start){
                .set = chance(&course), .mode = (int)draw(&course, SITE_MODE_MAX)};
    }
    open.word[0] = draw(&course, 256) & (((uint64_t)1 << course.program.zone_count) - 1);
    player_begin(&course.player, &course.program, starts, &open, 0,
            (struct player_hooks){.hear = hear, .context = &course});
    while (course.read < course.size && course.broken == NULL) {
        static const int32_t jumps_s[] = {0, 0, 0, 0, 1, 5, 30, 100, 4000};
        const int32_t jump_s = jumps_s[draw(&course, sizeof jumps_s / sizeof jumps_s[0])];
        player_advance_to(&course.player, course.player.now_s + jump_s);
        put(&course, draw_input(&course, timers_too));
        if (course.broken == NULL && !timers_too) {
            course.broken = timers_broken(&course);
        }
        (*ret_event)++;
    }
    return course.broken;
}
