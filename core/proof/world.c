#include "proof/interval.h"
#include "proof/rest.h"
#include "proof/world_goal.h"
#include "proof/world_walk.h"

#include <string.h>

_Static_assert(sizeof(struct world_state) ==
                sizeof(struct panel_state) + 5 * 16 + PROOF_STEP_MAX / 8 + SITE_DOOR_MAX / 8 +
                        2 * PROOF_ACTOR_MAX + 2 + 1 + 1 + 4 + 8,
        "a world's state has no padding");
_Static_assert((int)PANEL_TIMER_COUNT <= (int)WORLD_ACTOR, "activities do not overlap");
_Static_assert(PROOF_STEP_MAX <= 255 && PROOF_STEP_MAX % 64 == 0,
        "positions fit a byte, steps whole words");

/* ---- story ---------------------------------------------------------------------------------------------------- */

struct proof_line *world_tape_line(const struct world_happening *now, enum proof_line_kind kind) {
    struct world_tape *tape = now->world->tape;
    if (tape == NULL) {
        return NULL;
    }
    if (tape->count == tape->capacity) {
        tape->overflowed = true;
        return NULL;
    }
    struct proof_line *line = &tape->lines[tape->count];
    tape->count++;
    *line = (struct proof_line){
            .kind = kind, .at_s = tape->now_s, .person = SITE_NONE, .zone = PANEL_NO_ZONE};
    return line;
}

/* ---- effects --------------------------------------------------------------------------------------------------- */

void world_add_effect(struct world_happening *now, enum explore_effect_kind kind, unsigned activity,
        struct span span) {
    now->effects->overflowed =
            now->effects->overflowed || now->effects->count == EXPLORE_EFFECT_MAX;
    if (!now->effects->overflowed) {
        now->effects->effects[now->effects->count] = (struct explore_effect){
                .kind = kind, .activity = (explore_activity)activity, .span = span};
        now->effects->count++;
    }
}

struct span world_scaled(const struct world *world, struct span span) {
    const int scale = world->options.scale > 1 ? world->options.scale : 1;
    return span_of(span.low_s * scale, span.high_s * scale);
}

/* What no promise reads is not run: the cancel and recent-closing windows only colour what is sent later, and
 * supervision is a matter of hours that a routine says nothing about. */
static bool timer_matters(panel_timer timer) {
    const enum panel_timer_kind kind = panel_timer_kind_of(timer);
    return kind != PANEL_TIMER_CANCEL && kind != PANEL_TIMER_RECENT &&
            kind != PANEL_TIMER_SUPERVISION;
}

/* "At least" timers have no upper end; explored is up to ten times their least. */
enum { AT_LEAST_TIMES = 10 };

static struct span timer_span(const struct world *world, const struct panel_output *output) {
    const int scale = world->options.scale > 1 ? world->options.scale : 1;
    const int32_t nominal = output->seconds_s * scale;
    const int32_t spread = output->spread_s * scale;
    const int32_t tenths = world->options.no_tolerance || output->exact
            ? 0
            : world->program.settings.tolerance_tenths;
    /* What is drawn on purpose is then timed by the panel's own clock. */
    const int32_t least = nominal > spread ? nominal - spread : 0;
    struct span span = span_of(
            span_tolerant(least, tenths).low_s, span_tolerant(nominal + spread, tenths).high_s);
    if (output->at_least) {
        span.high_s = nominal * AT_LEAST_TIMES;
    }
    const int32_t shift = world->options.shift_s[panel_timer_kind_of(output->timer)];
    const int32_t most = shift + world->options.shift_most_s[panel_timer_kind_of(output->timer)];
    span.low_s = span.low_s > most ? span.low_s - most : 0;
    span.high_s = span.high_s > shift ? span.high_s - shift : 0;
    return span;
}

static void note_violation(struct world_happening *now, const struct panel_output *output) {
    if (now->world->options.no_promises) {
        return;
    }
    if (now->world->goal != NULL) {
        goal_note(now->world, now->state, now->effects, output);
        return;
    }
    const enum proof_promise promise =
            world_promise_broken(&now->world->program, output, now->world->expects);
    if (promise == PROOF_KEPT || now->state->violation != 0) {
        return;
    }
    now->state->violation = world_violation(promise, output);
    if (!now->world->probe_marks) {
        now->effects->standing = EXPLORE_VIOLATION;
        now->effects->violation = now->state->violation;
    }
}

static bool tells_of_timer(const struct panel_output *output) {
    return output->kind == PANEL_OUT_START || output->kind == PANEL_OUT_STOP ||
            output->kind == PANEL_OUT_SHORTEN;
}

static void take_output(struct world_happening *now, const struct panel_output *output) {
    switch (output->kind) {
    case PANEL_OUT_START:
        if (timer_matters(output->timer)) {
            world_add_effect(now, EXPLORE_START, output->timer, timer_span(now->world, output));
        }
        break;
    case PANEL_OUT_STOP:
        if (timer_matters(output->timer)) {
            world_add_effect(now, EXPLORE_STOP, output->timer, span_of(0, 0));
        }
        break;
    case PANEL_OUT_SHORTEN:
        if (timer_matters(output->timer)) {
            world_add_effect(now, EXPLORE_SHORTEN, output->timer, timer_span(now->world, output));
        }
        break;
    case PANEL_OUT_CHIME:
        now->state->chimed = now->world->hears_chime;
        break;
    case PANEL_OUT_SAYS:
    case PANEL_OUT_TONE:
    case PANEL_OUT_SOUND:
    case PANEL_OUT_INSIDE:
    case PANEL_OUT_SIGNAL:
    case PANEL_OUT_LOG:
    case PANEL_OUT_QUEUED:
    case PANEL_OUT_COUNT:
        break;
    }
    if (now->world->probe_marks && tells_of_timer(output)) {
        interval_timer(now->world, now->state, now->step, now->zone, output, now->effects);
    }
    const uint32_t before = now->state->violation;
    note_violation(now, output);
    const bool tells = !tells_of_timer(output) || timer_matters(output->timer);
    struct proof_line *line = tells ? world_tape_line(now, PROOF_LINE_OUTPUT) : NULL;
    if (line != NULL) {
        line->output = *output;
        line->zone = output->zone;
        line->bad = before == 0 && now->state->violation != 0;
    }
}

void world_tell_panel(struct world_happening *now, struct panel_input input) {
    panel_step(&now->world->program, &now->state->panel, input, now->world->outputs);
    now->effects->overflowed = now->effects->overflowed || now->world->outputs->overflowed;
    for (size_t i = 0; i < now->world->outputs->count; i++) {
        take_output(now, &now->world->outputs->list[i]);
    }
}

/* ---- people ---------------------------------------------------------------------------------------------------- */

static bool may_begin(
        const struct world_happening *now, size_t actor, const struct proof_step *step) {
    if (step->after != SITE_NONE && !world_bit_has(now->state->done, (size_t)step->after)) {
        return false;
    }
    return step->when == SITE_SIGN_NONE ||
            world_sign_shows(
                    now->world, now->state, step->when, step->when_area, step->sign_door, actor);
}

/* Steps that change nothing here are joined with the one after them; what is left out counts as done. */
static struct span join_unheard(struct world_happening *now, size_t actor, struct span in) {
    const struct world *world = now->world;
    struct world_state *state = now->state;
    bool joins = true;
    while (joins && state->next[actor] < world->list_counts[actor]) {
        const size_t position = state->next[actor];
        const size_t index = world->lists[actor][position];
        const bool last = position + 1 == world->list_counts[actor];
        const size_t next = last ? PROOF_STEP_MAX : world->lists[actor][position + 1];
        joins = unheard_joins(world, state, index, next);
        if (joins) {
            world_bit_set(state->done, index, true);
            state->next[actor]++;
        }
        if (joins && !last) {
            in = span_of(in.low_s + world->in[next].low_s, in.high_s + world->in[next].high_s);
        }
    }
    return in;
}

static void note_wait(const struct world_happening *now, size_t actor) {
    struct world_joins *joins = now->world->joins;
    if (joins != NULL) {
        joins->actors = (uint16_t)(joins->actors | 1U << actor);
        joins->from[actor] = now->state->next[actor];
    }
}

static void begin_next(struct world_happening *now, size_t actor) {
    struct world_state *state = now->state;
    if (state->next[actor] >= now->world->list_counts[actor]) {
        state->wait[actor] = WORLD_DONE;
        return;
    }
    const size_t index = now->world->lists[actor][state->next[actor]];
    const struct proof_step *step = &now->world->routine->steps[index];
    if (may_begin(now, actor, step)) {
        note_wait(now, actor);
        const struct span in = join_unheard(now, actor, now->world->in[index]);
        if (state->next[actor] == now->world->list_counts[actor]) {
            state->wait[actor] = WORLD_DONE;
            return;
        }
        state->wait[actor] = WORLD_RUNS;
        if (now->world->watch == WORLD_WATCHES_STEP && index == now->world->watched_step) {
            now->effects->standing = EXPLORE_VIOLATION;
            now->effects->violation = 1;
        }
        world_add_effect(
                now, EXPLORE_START, WORLD_ACTOR + (unsigned)actor, world_scaled(now->world, in));
    } else {
        state->wait[actor] = WORLD_WAITS;
    }
}

static void begin_waiting(struct world_happening *now) {
    for (size_t actor = 0; actor < now->world->actor_count; actor++) {
        if (now->state->wait[actor] == WORLD_WAITS) {
            begin_next(now, actor);
        }
    }
}

/* A fob speaks by radio. */
static bool is_unheard_fob(const struct world_happening *now, const struct proof_step *step) {
    return (step->act == SITE_ACT_SET || step->act == SITE_ACT_UNSET) &&
            step->use == SITE_USE_FOB && (now->state->panel.flags & PANEL_JAMMED) != 0;
}

static void befall(struct world_happening *now, const struct proof_step *step) {
    const unsigned zone = (unsigned)step->zone;
    const bool trips = step->mishap == PROOF_MISHAP_TRIPS;
    if (trips && !world_is_level(now->world, zone)) {
        world_trip(now, zone);
    } else if (trips || step->mishap == PROOF_MISHAP_RESTORES) {
        world_change_level(now, zone, trips);
    } else {
        world_tell_panel(now, goal_mishap(step));
    }
}

static void act(struct world_happening *now, const struct proof_step *step) {
    const struct world *world = now->world;
    struct panel_input input;
    if (is_unheard_fob(now, step)) {
        return;
    }
    if (step->mishap != PROOF_MISHAP_NONE) {
        befall(now, step);
    } else if (step->act == SITE_ACT_OPEN || step->act == SITE_ACT_CLOSE) {
        world_move_door(now, step->door, step->act == SITE_ACT_OPEN);
    } else if (step->act == SITE_ACT_PRESS ||
            (step->act == SITE_ACT_PASS && !world_is_level(world, (unsigned)step->zone))) {
        world_trip(now, (unsigned)step->zone);
    } else if (proof_step_input(world->site, &world->program, &now->state->panel, step, &input)) {
        world_tell_panel(now, input);
    }
}

static bool acts_unheard(const struct world_happening *now, size_t index) {
    const struct world *world = now->world;
    return world->unheard.on && world->unheard.unit_of[index] != UNHEARD_NO_UNIT &&
            unheard_step(world, now->state, index);
}

/* ---- hours ------------------------------------------------------------------------------------------------------
 * A border of somebody's hours is an exact instant of the calendar, every day anew. It is awaited only while a code or
 * fob of theirs can still come at it or after it, so that it decides nothing that is left out. */

static bool is_awaited(const struct world_happening *now, size_t first, int32_t due_s) {
    const struct world *world = now->world;
    for (size_t actor = first; actor < world->actor_count; actor++) {
        const int32_t reach_s = world->reach_s[actor][now->state->next[actor]];
        if (world->hours_of[actor] == first && reach_s >= due_s) {
            return true; /* every time is scaled alike */
        }
    }
    return world->options.no_calm;
}

static void await_border(struct world_happening *now, size_t first, int32_t due_s) {
    if (is_awaited(now, first, due_s)) {
        world_add_effect(now, EXPLORE_START, WORLD_HOURS + (unsigned)first,
                world_scaled(now->world, span_of(due_s, due_s)));
    }
}

static bool is_off(const struct world_happening *now, size_t actor) {
    return (now->state->panel.off_hours >> now->world->actors[actor] & 1U) != 0;
}

static void change_hours(struct world_happening *now, size_t first, bool begin) {
    for (size_t actor = first; actor < now->world->actor_count; actor++) {
        if (now->world->hours_of[actor] != first) {
            continue;
        }
        struct proof_line *line = world_tape_line(now, PROOF_LINE_HOURS);
        if (line != NULL) {
            line->person = now->world->actors[actor];
            line->open = begin;
        }
        world_tell_panel(now,
                (struct panel_input){.kind = begin ? PANEL_IN_HOURS_BEGIN : PANEL_IN_HOURS_END,
                        .user = now->world->actors[actor]});
    }
}

static struct span hours_of(const struct world_happening *now, size_t actor) {
    return now->world->site->people[now->world->actors[actor]].hours;
}

static void border_comes(struct world_happening *now, size_t first) {
    const struct span hours = hours_of(now, first);
    const int32_t length_s = hours.high_s - hours.low_s;
    const bool begin = is_off(now, first);
    change_hours(now, first, begin);
    await_border(now, first, begin ? length_s : WORLD_DAY_S - length_s);
}

/* On the very second of a border both sides of it are tried. */
static void begin_hours(struct world_happening *now) {
    for (size_t first = 0; first < now->world->actor_count; first++) {
        if (now->world->hours_of[first] != first) {
            continue;
        }
        const struct span hours = hours_of(now, first);
        const int32_t length_s = hours.high_s - hours.low_s;
        const int32_t since_s =
                (now->world->routine->begins_s - hours.low_s % WORLD_DAY_S + WORLD_DAY_S) %
                WORLD_DAY_S;
        const bool within = since_s > 0 && since_s <= length_s;
        if (!within) {
            change_hours(now, first, false);
        }
        await_border(now, first,
                within                 ? length_s - since_s
                        : since_s == 0 ? 0
                                       : WORLD_DAY_S - since_s);
    }
}

/* Nobody of these hours keys any more: they are forgotten, so that nothing hangs on them. */
static void forget_hours(struct world_happening *now, size_t actor) {
    const struct world *world = now->world;
    const size_t first = world->hours_of[actor];
    if (first == WORLD_NO_HOURS || is_awaited(now, first, 0)) {
        return;
    }
    world_add_effect(now, EXPLORE_STOP, WORLD_HOURS + (unsigned)first, span_of(0, 0));
    for (size_t other = first; other < world->actor_count; other++) {
        if (world->hours_of[other] == first && is_off(now, other)) {
            world_tell_panel(now,
                    (struct panel_input){
                            .kind = PANEL_IN_HOURS_BEGIN, .user = world->actors[other]});
        }
    }
}

/* The next step is due: done, or left out with the steps that belong to it. */
static void actor_acts(struct world_happening *now, size_t actor, uint32_t choice) {
    struct world_state *state = now->state;
    const size_t index = now->world->lists[actor][state->next[actor]];
    const struct proof_step *step = &now->world->routine->steps[index];
    const bool keyed = now->world->reach_s[actor][state->next[actor]] >= 0;
    now->step = index;
    const bool shows = step->if_sign == SITE_SIGN_NONE ||
            world_sign_shows(now->world, state, step->if_sign, step->if_area, step->sign_door,
                    actor) != step->if_not;
    const uint32_t last = (uint32_t)step->maybe + (step->message == SITE_MESSAGE_MAYBE_LOST);
    if (shows) {
        now->effects->alternatives = 1 + last;
    }
    const bool left_out = !shows || (step->maybe && choice == 1);
    now->lost = step->message == SITE_MESSAGE_LOST ||
            (step->message == SITE_MESSAGE_MAYBE_LOST && choice > 0 && choice == last);
    struct proof_line *line = world_tape_line(now, PROOF_LINE_ACT);
    if (line != NULL) {
        line->person = step->who;
        line->step = index;
        line->left_out = left_out;
        line->lost = (now->lost || is_unheard_fob(now, step)) && !left_out;
    }
    const bool unheard = acts_unheard(now, index);
    world_bit_set(state->done, index, true);
    state->next[actor]++;
    state->chimed = (uint16_t)(state->chimed & ~(1U << actor));
    if (left_out) {
        for (size_t i = 0; i < step->group; i++) {
            world_bit_set(state->done, index + 1 + i, true);
        }
        state->next[actor] = (uint8_t)(state->next[actor] + now->world->group[index]);
    } else if (!unheard) {
        goal_expect(now->world, now->state, now->effects, index);
        act(now, step);
    }
    if (line != NULL) {
        line->too_short = now->too_short;
        line->moved = now->moved;
    }
    rest_all(now->world, now->state, now->effects);
    if (now->world->probe_marks && index == now->world->probed.step && !left_out &&
            state->interval != WORLD_BEFORE) {
        now->effects->mark |= 2U;
    }
    if (keyed && now->world->reach_s[actor][state->next[actor]] < 0) {
        forget_hours(now, actor);
    }
    begin_next(now, actor);
}

/* ---- the end --------------------------------------------------------------------------------------------------- */

/* The step, plus 1, of somebody who waits; of one who waits for a sign, and not only for another, where there is one.
 * 0: nobody waits. */
static uint32_t waiting_step(const struct world *world, const struct world_state *state) {
    uint32_t found = 0;
    for (size_t actor = 0; actor < world->actor_count; actor++) {
        if (state->wait[actor] != WORLD_WAITS) {
            continue;
        }
        const size_t index = world->lists[actor][state->next[actor]];
        const int after = world->routine->steps[index].after;
        if (after == SITE_NONE || world_bit_has(state->done, (size_t)after)) {
            return (uint32_t)index + 1;
        }
        found = found == 0 ? (uint32_t)index + 1 : found;
    }
    return found;
}

/* A routine that is over before the calendar sets says nothing about the calendar. */
static void judge(struct world_happening *now, bool was_done) {
    const struct world *world = now->world;
    struct world_state *state = now->state;
    const bool was_crossed = state->crossed != 0;
    if (now->effects->standing != EXPLORE_GOES_ON) {
        return;
    }
    if (world->watch == WORLD_WATCHES_WAITING) {
        now->effects->violation = waiting_step(world, state);
        return;
    }
    if (world->goal != NULL) {
        const bool over = !world->goal->while_unset && !world->goal->stays_away;
        now->effects->standing =
                over && world_is_calm(world, state) ? EXPLORE_GOOD_END : EXPLORE_GOES_ON;
        return;
    }
    state->crossed = was_crossed || (world->probe_marks && interval_is_crossed(world, state));
    if (state->violation != 0) {
        interval_judge_broken(state, was_crossed, now->effects);
        return;
    }
    if (world->probe_marks && !world_bit_has(state->done, world->probed.step)) {
        return; /* a probe waits for its end */
    }
    if (world_is_calm(world, state) || moot_nothing_left(world, state) ||
            (was_done && state->calendar != 0 && world_all_unset(world, state) &&
                    world_messages_are_harmless(world, state))) {
        now->effects->standing = EXPLORE_GOOD_END;
    }
}

/* ---- the machine ----------------------------------------------------------------------------------------------- */

static void begin_calendar(struct world_happening *now) {
    const struct site_settings *settings = &now->world->program.settings;
    const int32_t begins_s = now->world->routine->begins_s;
    if (settings->auto_set_at_s < 0 || begins_s < 0 || settings->auto_set_area < 0 ||
            settings->auto_set_area >= now->world->program.area_count) {
        return;
    }
    const int32_t due_s = (settings->auto_set_at_s - begins_s + WORLD_DAY_S) % WORLD_DAY_S;
    now->state->calendar = 1;
    world_add_effect(
            now, EXPLORE_START, WORLD_CALENDAR, world_scaled(now->world, span_of(due_s, due_s)));
}

/* The routine begins while the warning runs: it sees what is left of it. The warning is as exact as the calendar. */
static void begin_within_warning(struct world_happening *now) {
    const struct world *world = now->world;
    const struct site_settings *settings = &world->program.settings;
    const int32_t begins_s = world->routine->begins_s;
    if (settings->auto_set_at_s < 0 || begins_s < 0 || settings->auto_set_area < 0 ||
            settings->auto_set_area >= world->program.area_count) {
        return;
    }
    const int32_t since_s = (begins_s - settings->auto_set_at_s + WORLD_DAY_S) % WORLD_DAY_S;
    if (since_s == 0 || since_s >= settings->auto_warn_s) {
        return;
    }
    panel_step(&world->program, &now->state->panel,
            (struct panel_input){.kind = PANEL_IN_AUTO_DUE,
                    .user = PANEL_NOBODY,
                    .areas = (uint8_t)(1U << (unsigned)settings->auto_set_area)},
            world->outputs);
    for (size_t i = 0; i < world->outputs->count; i++) {
        struct panel_output *output = &world->outputs->list[i];
        if (output->kind == PANEL_OUT_START &&
                panel_timer_kind_of(output->timer) == PANEL_TIMER_AUTO_WARN) {
            output->seconds_s -= since_s;
        }
        take_output(now, output);
    }
}

static void open_at_start(const struct world *world, struct world_state *state) {
    for (size_t door = 0; door < world->site->door_count && door < 32; door++) {
        if (!panel_bit(world->routine->source->doors_open, (unsigned)door)) {
            continue;
        }
        world_bit_set(state->doors, door, true);
        for (unsigned zone = 0; zone < world->program.zone_count; zone++) {
            if (panel_zones_has(&world->of_door[door], zone) && world_is_level(world, zone)) {
                panel_zones_add(&state->physical, zone);
            }
        }
    }
}

static void begin(const void *context, void *state_bytes, struct explore_effects *ret_effects) {
    const struct world *world = context;
    struct world_happening now = {.world = world,
            .state = state_bytes,
            .effects = ret_effects,
            .step = PROOF_STEP_MAX,
            .zone = PANEL_NO_ZONE};
    goal_begin(world, now.state, now.effects);
    open_at_start(world, now.state);
    panel_begin(&world->program, world->routine->source->starts, &now.state->physical,
            &now.state->panel, world->outputs);
    for (size_t i = 0; i < world->outputs->count; i++) {
        take_output(&now, &world->outputs->list[i]);
    }
    begin_within_warning(&now);
    for (size_t actor = 0; actor < PROOF_ACTOR_MAX; actor++) {
        now.state->wait[actor] = WORLD_DONE;
    }
    rest_all(world, now.state, ret_effects);
    for (size_t actor = 0; actor < world->actor_count; actor++) {
        begin_next(&now, actor);
    }
    begin_calendar(&now);
    begin_hours(&now);
    judge(&now, false);
}

static void timer_line(const struct world_happening *now, panel_timer timer) {
    struct proof_line *line = world_tape_line(now, PROOF_LINE_TIMER);
    if (line != NULL) {
        line->timer = timer;
    }
}

static void fire(const void *context, void *state_bytes, explore_activity activity, uint32_t choice,
        struct explore_effects *ret_effects) {
    const struct world *world = context;
    struct world_happening now = {.world = world,
            .state = state_bytes,
            .effects = ret_effects,
            .step = PROOF_STEP_MAX,
            .zone = PANEL_NO_ZONE};
    const bool was_done = world_all_done(world, now.state);
    if (activity < PANEL_TIMER_COUNT) {
        timer_line(&now, activity);
        if (activity == world->probed.timer && now.state->interval == WORLD_TIMED) {
            now.state->interval = WORLD_ENDED;
        }
        world_tell_panel(&now,
                (struct panel_input){
                        .kind = PANEL_IN_TIMER, .timer = activity, .user = PANEL_NOBODY});
    } else if (activity == WORLD_WINDOW || activity == WORLD_PATIENCE) {
        goal_fire(world, now.state, now.effects, activity);
    } else if (activity == WORLD_CALENDAR) {
        now.state->calendar = 0;
        if (!was_done) {
            world_tell_panel(&now,
                    (struct panel_input){.kind = PANEL_IN_AUTO_DUE,
                            .user = PANEL_NOBODY,
                            .areas = (uint8_t)(1U
                                    << (unsigned)world->program.settings.auto_set_area)});
        }
    } else if (activity >= WORLD_HOURS) {
        border_comes(&now, activity - WORLD_HOURS);
    } else if (activity >= WORLD_RESPONSE) {
        now.zone = activity - WORLD_RESPONSE;
        world_opening_is_seen(&now, now.zone);
    } else if (activity >= WORLD_SLEEP) {
        panel_zones_drop(&now.state->asleep, activity - WORLD_SLEEP);
    } else if (activity >= WORLD_HOLD) {
        now.zone = activity - WORLD_HOLD;
        world_change_level(&now, now.zone, false);
    } else if (activity >= WORLD_LATENCY) {
        now.zone = activity - WORLD_LATENCY;
        world_message_arrives(&now, now.zone);
    } else {
        actor_acts(&now, activity - WORLD_ACTOR, choice);
    }
    rest_all(world, now.state, ret_effects);
    begin_waiting(&now);
    judge(&now, was_done);
}

static bool is_background(const void *context, explore_activity activity) {
    (void)context;
    return activity >= WORLD_HOURS && activity != WORLD_PATIENCE;
}

struct explore_machine world_machine(const struct world *world) {
    return (struct explore_machine){.state_size = sizeof(struct world_state),
            .context = world,
            .begin = begin,
            .fire = fire,
            .is_background = is_background};
}
