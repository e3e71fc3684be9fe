#include "acceptance/tests.h"

#include <string.h>

enum { LONG_S = 7200, TRIP_EACH_S = 1, TENTHS = 10, SET_AFTER_S = 30 };

/** What one play of a test brought. scale: -1: every timer as short as it may run, 0: nominal, 1: as long. */
struct play {
    const struct panel_program *program;
    struct player *player;
    int scale;
    struct acceptance_signal heard[ACCEPTANCE_SIGNAL_MAX];
    size_t count;
    size_t step;
    int32_t step_at_s;
};

static int32_t choose(void *context, int32_t now_s, const struct panel_output *output) {
    const struct play *play = context;
    (void)now_s;
    if (output->at_least || output->exact || play->scale == 0) {
        return output->seconds_s;
    }
    const int32_t off_s =
            (output->seconds_s * play->program->settings.tolerance_tenths + TENTHS - 1) / TENTHS +
            output->spread_s;
    const int32_t chosen_s = output->seconds_s + play->scale * off_s;
    return chosen_s < 0 ? 0 : chosen_s;
}

static bool same_event(struct event a, struct event b) {
    return a.kind == b.kind && a.restore == b.restore && a.zone == b.zone && a.user == b.user;
}

static void hear(void *context, int32_t now_s, const struct panel_input *input,
        const struct panel_output *output) {
    struct play *play = context;
    (void)input;
    if (output->kind != PANEL_OUT_SIGNAL || play->count == ACCEPTANCE_SIGNAL_MAX) {
        return;
    }
    for (size_t i = 0; i < play->count; i++) {
        if (same_event(play->heard[i].event, output->event)) {
            return;
        }
    }
    play->heard[play->count++] = (struct acceptance_signal){.event = output->event,
            .of_step = play->step,
            .low_s = now_s - play->step_at_s,
            .high_s = now_s - play->step_at_s};
}

/** Plays the steps through the panel; what it sends is in play->heard. */
static void run(struct play *play, const struct acceptance_test *test) {
    const struct player_hooks hooks = {.hear = hear, .choose = choose, .context = play};
    play->count = 0;
    play->step = 0;
    play->step_at_s = 0;
    const struct panel_zones none = {{0, 0}};
    player_begin(play->player, play->program, test->starts, &none, 0, hooks);
    for (size_t i = 0; i < test->step_count; i++) {
        player_advance_to(play->player, test->steps[i].at_s);
        play->step = i;
        play->step_at_s = test->steps[i].at_s;
        player_input(play->player, test->steps[i].input);
    }
    player_advance_to(play->player, test->over_s);
}

const char *acceptance_answer(enum acceptance_kind kind, bool yes) {
    return kind != ACCEPTANCE_SIREN ? NULL : yes ? "heard" : "not heard";
}

bool acceptance_is_of_zone(enum acceptance_kind kind) {
    return kind == ACCEPTANCE_ZONE || kind == ACCEPTANCE_TAMPER || kind == ACCEPTANCE_BATTERY ||
            kind == ACCEPTANCE_SUPERVISION || kind == ACCEPTANCE_BYPASS;
}

static bool is_own(const struct acceptance_test *test, struct event event) {
    switch (test->kind) {
    case ACCEPTANCE_ZONE:
    case ACCEPTANCE_TAMPER:
    case ACCEPTANCE_BATTERY:
        return event.zone == test->index;
    case ACCEPTANCE_SUPERVISION: /* that it is heard again has no code in every format: it comes along */
        return event.zone == test->index && event.kind == EVENT_SUPERVISION && !event.restore;
    case ACCEPTANCE_BYPASS:
        return event.zone == test->index && event.kind == EVENT_BYPASS;
    case ACCEPTANCE_USER:
        return event.user == test->index && (event.kind == EVENT_SET || event.kind == EVENT_UNSET);
    case ACCEPTANCE_DURESS:
        return event.user == test->index && event.kind == EVENT_DURESS;
    case ACCEPTANCE_MAINS:
        return event.kind == EVENT_MAINS;
    case ACCEPTANCE_ON_TEST:
    case ACCEPTANCE_REPORT:
    case ACCEPTANCE_SIREN:
    case ACCEPTANCE_STATION:
    case ACCEPTANCE_OFF_TEST:
    case ACCEPTANCE_KIND_COUNT:
        break;
    }
    return false;
}

uint16_t acceptance_code(const struct site *site, enum site_behaviour behaviour) {
    const struct text said = site_event(site, behaviour);
    uint16_t code = 0;
    for (size_t i = 0; i < said.length; i++) {
        if (said.length != 3 || said.start[i] < '0' || said.start[i] > '9') {
            return 0;
        }
        code = (uint16_t)(code * 10 + said.start[i] - '0');
    }
    return code;
}

static uint16_t code_of(const struct site *site, const struct acceptance_test *test) {
    const struct site_zone *zone = &site->zones[test->index];
    enum site_behaviour behaviour = zone->behaviour;
    for (size_t area = 0; area < site->area_count; area++) {
        if ((int)area == zone->area && test->starts[area].set) {
            behaviour = zone->in[test->starts[area].mode];
        }
    }
    return acceptance_code(site, behaviour);
}

bool acceptance_is_alarm(struct event event) {
    return event.kind == EVENT_INTRUSION ||
            (event.kind >= EVENT_HOLD_UP && event.kind <= EVENT_COLD && event.kind != EVENT_DURESS);
}

/** What must come, and when: the nominal play says what, the quickest and the slowest when. */
static void expect(struct play *play, struct acceptance_test *test, const struct site *site) {
    play->scale = 0;
    run(play, test);
    memcpy(test->signals, play->heard, sizeof test->signals);
    test->signal_count = play->count;
    for (int scale = -1; scale <= 1; scale += 2) {
        play->scale = scale;
        run(play, test);
        for (size_t i = 0; i < test->signal_count; i++) {
            struct acceptance_signal *signal = &test->signals[i];
            for (size_t k = 0; k < play->count; k++) {
                if (same_event(play->heard[k].event, signal->event) &&
                        play->heard[k].of_step == signal->of_step) {
                    signal->low_s = scale < 0 ? play->heard[k].low_s : signal->low_s;
                    signal->high_s = scale > 0 ? play->heard[k].high_s : signal->high_s;
                }
            }
        }
    }
    for (size_t i = 0; i < test->signal_count; i++) {
        struct acceptance_signal *signal = &test->signals[i];
        signal->own = is_own(test, signal->event);
        signal->high_s += ACCEPTANCE_WAY_S;
        if (test->kind == ACCEPTANCE_ZONE && signal->own && acceptance_is_alarm(signal->event)) {
            signal->code = code_of(site, test);
        }
        if (signal->own && test->kind == ACCEPTANCE_ZONE) {
            const struct site_device_profile *profile =
                    site_zone_profile(site, &site->zones[test->index]);
            signal->high_s += profile == NULL ? 0 : (int32_t)profile->latency.high_s;
        }
    }
}

static void step(struct acceptance_test *test, int32_t at_s, struct panel_input input) {
    test->steps[test->step_count++] = (struct acceptance_step){at_s, input};
}

static struct panel_input of_zone(enum panel_input_kind kind, int zone) {
    return (struct panel_input){.kind = kind,
            .zone = (uint8_t)zone,
            .user = PANEL_NOBODY,
            .open = kind == PANEL_IN_OPEN};
}

static struct panel_input of_user(enum panel_input_kind kind, int user, uint8_t areas, int mode) {
    return (struct panel_input){.kind = kind,
            .zone = PANEL_NO_ZONE,
            .user = (uint8_t)user,
            .areas = areas,
            .mode = (uint8_t)mode,
            .source = PANEL_BY_KEYPAD};
}

static bool any_signal_of(const struct acceptance_test *test) {
    for (size_t i = 0; i < test->signal_count; i++) {
        if (test->signals[i].own) {
            return true;
        }
    }
    return false;
}

/** A common area is set with all others. */
static void begin_set(const struct site *site, struct acceptance_test *test, int area, int mode) {
    for (size_t i = 0; i < site->area_count; i++) {
        if ((int)i == area || site->areas[area].common) {
            test->starts[i] = (struct site_start){.set = true, .mode = mode};
        }
    }
}

/** Whether it is an alarm whatever is set. */
static bool always_watched(enum site_behaviour behaviour) {
    return behaviour == SITE_ALWAYS || behaviour >= SITE_HOLD_UP;
}

/** The mode to try a zone in: the first in which it is watched, SITE_NONE: none is needed. */
static int mode_of(const struct site *site, const struct site_zone *zone) {
    for (size_t mode = 0; mode < site->settings.mode_count; mode++) {
        if (!always_watched(zone->behaviour) && zone->in[mode] != SITE_OUT) {
            return (int)mode;
        }
    }
    return SITE_NONE;
}

static void trip(const struct site *site, struct acceptance_test *test, int index) {
    const struct site_zone *zone = &site->zones[index];
    int32_t at_s = 0;
    for (int32_t i = 1; i < zone->pulse_count; i++, at_s += TRIP_EACH_S) {
        step(test, at_s, of_zone(PANEL_IN_OPEN, index));
        step(test, at_s, of_zone(PANEL_IN_CLOSE, index));
    }
    step(test, at_s, of_zone(PANEL_IN_OPEN, index));
    if (zone->cross_with >= 0) {
        step(test, at_s + TRIP_EACH_S, of_zone(PANEL_IN_OPEN, zone->cross_with));
        step(test, at_s + TRIP_EACH_S, of_zone(PANEL_IN_CLOSE, zone->cross_with));
    }
}

/** Trip, wait for the alarm, close again, and unset so late that the restore has come however it is programmed. */
static void make_zone(struct play *play, struct acceptance_test *test, const struct site *site) {
    const struct site_zone *zone = &site->zones[test->index];
    const int mode = mode_of(site, zone);
    int32_t alarm_s = 0;
    if (mode != SITE_NONE) {
        begin_set(site, test, zone->area, mode);
    }
    trip(site, test, test->index);
    test->over_s = LONG_S;
    play->scale = 1;
    run(play, test);
    for (size_t i = 0; i < play->count; i++) {
        const struct acceptance_signal *signal = &play->heard[i];
        const int32_t at_s = test->steps[signal->of_step].at_s + signal->low_s;
        if (signal->event.zone == test->index && !signal->event.restore && at_s > alarm_s) {
            alarm_s = at_s;
        }
    }
    const int32_t siren_s = site->settings.restore == SITE_RESTORE_SIREN_END
            ? 2 * site->settings.siren_time_s + site->settings.siren_hold_back_s
            : 0;
    step(test, alarm_s + 2, of_zone(PANEL_IN_CLOSE, test->index));
    step(test, alarm_s + siren_s + 6,
            of_user(PANEL_IN_UNSET, PANEL_NOBODY, (uint8_t)(1U << zone->area), 0));
    test->over_s = alarm_s + siren_s + 10;
}

static void make_tamper(struct acceptance_test *test) {
    step(test, 0, of_zone(PANEL_IN_TAMPER, test->index));
    step(test, 5, of_zone(PANEL_IN_TAMPER_BACK, test->index));
    test->over_s = LONG_S;
}

/** Somebody goes out by an entry door of the area, so that nothing falls back to part. */
static void leave(const struct site *site, struct acceptance_test *test, int area) {
    for (size_t i = 0; i < site->zone_count; i++) {
        const struct site_zone *zone = &site->zones[i];
        if (zone->area == area && zone->behaviour == SITE_ENTRY) {
            step(test, 3, of_zone(PANEL_IN_OPEN, (int)i));
            step(test, 6, of_zone(PANEL_IN_CLOSE, (int)i));
            return;
        }
    }
}

/** An area in which the code acts and which is no common one, or SITE_NONE. */
static int area_of(const struct site *site, const struct site_person *person) {
    for (size_t i = 0; i < site->area_count; i++) {
        if ((person->areas >> i & 1U) != 0 && !site->areas[i].common) {
            return (int)i;
        }
    }
    return SITE_NONE;
}

static int mode_for(const struct site *site, const struct site_person *person) {
    for (size_t mode = 0; mode < site->settings.mode_count; mode++) {
        if (person->modes == 0 || (person->modes >> mode & 1U) != 0) {
            return (int)mode;
        }
    }
    return 0;
}

static void make_user(struct acceptance_test *test, const struct site *site) {
    const struct site_person *person = &site->people[test->index];
    const int area = area_of(site, person);
    const int mode = mode_for(site, person);
    const uint8_t areas = (uint8_t)(1U << (unsigned)area);
    const int32_t exit_s = site->settings.modes[mode].exit_delay_s;
    step(test, 0, of_user(PANEL_IN_SET, test->index, areas, mode));
    leave(site, test, area);
    step(test, 10,
            (struct panel_input){.kind = PANEL_IN_COMPLETE,
                    .zone = PANEL_NO_ZONE,
                    .user = (uint8_t)test->index,
                    .areas = areas});
    step(test, 2 * exit_s + SET_AFTER_S, of_user(PANEL_IN_UNSET, test->index, areas, 0));
    test->over_s = 2 * exit_s + 2 * SET_AFTER_S;
}

static void make_duress(struct acceptance_test *test, const struct site *site) {
    const int area = area_of(site, &site->people[test->index]);
    begin_set(site, test, area, mode_for(site, &site->people[test->index]));
    step(test, 0, of_user(PANEL_IN_UNSET, test->index, (uint8_t)(1U << (unsigned)area), 0));
    test->over_s = SET_AFTER_S;
}

/** All other devices are heard meanwhile, this one is not until it was missed. */
static void make_supervision(struct acceptance_test *test, const struct site *site) {
    const int32_t window_s = site->settings.supervision_window_s;
    for (size_t i = 0; i < site->zone_count; i++) {
        if ((int)i != test->index && site->zones[i].supervised) {
            step(test, window_s / 2, of_zone(PANEL_IN_CHECK_IN, (int)i));
        }
    }
    /* From then on it counts as this step's; a timer that runs long still ends before the others' next one. */
    test->over_s = window_s + window_s / 3;
    step(test, test->over_s, of_zone(PANEL_IN_CHECK_IN, test->index));
}

/** Somebody whose code acts in the area, or SITE_NONE. */
static int person_in(const struct site *site, int area) {
    for (size_t i = 0; i < site->person_count; i++) {
        const struct site_person *person = &site->people[i];
        if (person->has_code && !person->animal && !person->away && !person->left &&
                !person->duress && (person->areas >> area & 1U) != 0) {
            return (int)i;
        }
    }
    return SITE_NONE;
}

static void make_bypass(struct acceptance_test *test, const struct site *site) {
    const int person = person_in(site, site->zones[test->index].area);
    struct panel_input input = of_zone(PANEL_IN_BYPASS, test->index);
    input.user = person == SITE_NONE ? PANEL_NOBODY : (uint8_t)person;
    step(test, 0, input);
    test->over_s = SET_AFTER_S;
}

static void make_mains(struct acceptance_test *test, const struct site *site) {
    const int32_t told_s = 2 * (site->settings.mains_delay_s + site->settings.mains_jitter_s) + 1;
    step(test, 0,
            (struct panel_input){
                    .kind = PANEL_IN_MAINS_LOST, .zone = PANEL_NO_ZONE, .user = PANEL_NOBODY});
    step(test, told_s,
            (struct panel_input){
                    .kind = PANEL_IN_MAINS_BACK, .zone = PANEL_NO_ZONE, .user = PANEL_NOBODY});
    test->over_s = told_s + LONG_S;
}

/** Where tests gather. */
struct list {
    struct play play;
    struct panel_program program;
    struct acceptance *acceptance;
    struct arena *arena;
};

static struct text siren_name(struct list *list, struct acceptance_ear ear) {
    const struct site *site = list->acceptance->site;
    if (ear.room == SITE_NONE) {
        return ear.siren == SITE_NONE
                ? text_of("heard panel")
                : text_print(list->arena, "heard %.*s", TEXT_ARGS(site->devices[ear.siren].name));
    }
    const struct text room = site->building.rooms[ear.room].name;
    return ear.siren == SITE_NONE
            ? text_print(list->arena, "heard in %.*s", TEXT_ARGS(room))
            : text_print(list->arena, "heard %.*s in %.*s",
                      TEXT_ARGS(site->devices[ear.siren].name), TEXT_ARGS(room));
}

static struct text siren_words(struct list *list, struct acceptance_ear ear) {
    const struct site *site = list->acceptance->site;
    const struct text siren =
            ear.siren == SITE_NONE ? text_of("siren") : site->devices[ear.siren].name;
    return ear.room == SITE_NONE
            ? text_print(list->arena, "Is the %.*s heard?", TEXT_ARGS(siren))
            : text_print(list->arena, "Is the %.*s heard in the %.*s?", TEXT_ARGS(siren),
                      TEXT_ARGS(site->building.rooms[ear.room].name));
}

static struct text name_of(struct list *list, const struct acceptance_test *test) {
    const struct site *site = list->acceptance->site;
    const enum acceptance_kind kind = test->kind;
    const int index = test->index;
    const int number = acceptance_is_of_zone(kind) ? site->zones[index].number : 0;
    switch (kind) {
    case ACCEPTANCE_ZONE:
        return text_print(list->arena, "zone %d", number);
    case ACCEPTANCE_TAMPER:
        return text_print(list->arena, "tamper %d", number);
    case ACCEPTANCE_BATTERY:
        return text_print(list->arena, "battery %d", number);
    case ACCEPTANCE_SUPERVISION:
        return text_print(list->arena, "supervision %d", number);
    case ACCEPTANCE_BYPASS:
        return text_print(list->arena, "bypass %d", number);
    case ACCEPTANCE_USER:
        return text_print(list->arena, "user %.*s", TEXT_ARGS(site->people[index].name));
    case ACCEPTANCE_DURESS:
        return text_print(list->arena, "duress %.*s", TEXT_ARGS(site->people[index].name));
    case ACCEPTANCE_ON_TEST:
        return text_of("on test");
    case ACCEPTANCE_REPORT:
        return text_of("report");
    case ACCEPTANCE_SIREN:
        return siren_name(list, test->ear);
    case ACCEPTANCE_MAINS:
        return text_of("mains");
    case ACCEPTANCE_STATION:
        return text_of("station");
    case ACCEPTANCE_OFF_TEST:
    case ACCEPTANCE_KIND_COUNT:
        break;
    }
    return text_of("off test");
}

static struct text zone_words(struct list *list, const struct acceptance_test *test) {
    const struct site *site = list->acceptance->site;
    const struct site_zone *zone = &site->zones[test->index];
    const int mode = mode_of(site, zone);
    struct text set = text_of("");
    if (mode != SITE_NONE) {
        set = text_print(list->arena, "with %.*s set (%.*s), ",
                TEXT_ARGS(site->areas[zone->area].name),
                TEXT_ARGS(site->settings.modes[mode].name));
    }
    return text_print(list->arena, "%strip %.*s%s, wait, close it again",
            set.length == 0 ? "" : set.start, TEXT_ARGS(zone->name),
            zone->cross_with >= 0 ? " and its cross-zone partner" : "");
}

static struct text supervision_words(struct list *list, const struct acceptance_test *test) {
    const struct site *site = list->acceptance->site;
    const int32_t window_s = site->settings.supervision_window_s;
    const bool hours = window_s % 3600 == 0;
    return text_print(list->arena,
            "take the battery out of %.*s's device for %d %s, put it back: the panel misses it",
            TEXT_ARGS(site->zones[test->index].name), window_s / (hours ? 3600 : 60),
            hours ? "h" : "min");
}

static struct text words_of(struct list *list, const struct acceptance_test *test) {
    const struct site *site = list->acceptance->site;
    const bool us = site->words == SITE_WORDS_US;
    switch (test->kind) {
    case ACCEPTANCE_ON_TEST:
        return text_of("have the monitoring station put the account on test");
    case ACCEPTANCE_REPORT:
        return text_of("have the panel send a test report");
    case ACCEPTANCE_ZONE:
        return zone_words(list, test);
    case ACCEPTANCE_TAMPER:
        return text_print(list->arena, "open the lid of %.*s's device, close it again",
                TEXT_ARGS(site->zones[test->index].name));
    case ACCEPTANCE_USER:
        return text_print(list->arena, "%.*s %s, leaves, comes back and %s",
                TEXT_ARGS(site->people[test->index].name), us ? "arms" : "sets",
                us ? "disarms" : "unsets");
    case ACCEPTANCE_DURESS:
        return text_print(list->arena, "%s with the duress code of %.*s", us ? "disarm" : "unset",
                TEXT_ARGS(site->people[test->index].name));
    case ACCEPTANCE_SIREN:
        return siren_words(list, test->ear);
    case ACCEPTANCE_MAINS:
        return text_of(us
                        ? "switch the panel's AC off, wait for the signal, switch it on again"
                        : "switch the panel's mains off, wait for the signal, switch it on again");
    case ACCEPTANCE_BATTERY:
        return text_print(list->arena, "put a low battery into %.*s's device",
                TEXT_ARGS(site->zones[test->index].name));
    case ACCEPTANCE_SUPERVISION:
        return supervision_words(list, test);
    case ACCEPTANCE_BYPASS:
        return text_print(list->arena, "with %.*s %s, bypass %.*s, and take it back",
                TEXT_ARGS(site->areas[site->zones[test->index].area].name),
                us ? "disarmed" : "unset", TEXT_ARGS(site->zones[test->index].name));
    case ACCEPTANCE_STATION:
        return text_of("reporting back to the station: have it read back one signal");
    case ACCEPTANCE_OFF_TEST:
    case ACCEPTANCE_KIND_COUNT:
        break;
    }
    return text_of("have the monitoring station take the account off test");
}

/** How many steps a test of this kind can have. */
static size_t steps_most(const struct site *site, enum acceptance_kind kind) {
    return kind == ACCEPTANCE_SUPERVISION ? site->zone_count : ACCEPTANCE_STEP_MAX;
}

/** Adds a test that is played; where the panel sends nothing, it is left out, but for a zone: that is looked at on the
 *  panel and ticked by hand. */
static void add_heard(struct list *list, enum acceptance_kind kind, int index, bool required,
        struct acceptance_ear ear) {
    const struct site *site = list->acceptance->site;
    struct acceptance_test *test = &list->acceptance->tests[list->acceptance->count];
    *test = (struct acceptance_test){
            .kind = kind, .index = index, .ear = ear, .required = required};
    test->steps = ARENA_ARRAY(list->arena, struct acceptance_step, steps_most(site, kind));
    if (test->steps == NULL) {
        return; /* the arena remembers */
    }
    switch (kind) {
    case ACCEPTANCE_ZONE:
        make_zone(&list->play, test, site);
        break;
    case ACCEPTANCE_TAMPER:
        make_tamper(test);
        break;
    case ACCEPTANCE_BATTERY:
        step(test, 0, of_zone(PANEL_IN_LOW_BATTERY, index));
        test->over_s = SET_AFTER_S;
        break;
    case ACCEPTANCE_SUPERVISION:
        make_supervision(test, site);
        break;
    case ACCEPTANCE_BYPASS:
        make_bypass(test, site);
        break;
    case ACCEPTANCE_USER:
        make_user(test, site);
        break;
    case ACCEPTANCE_DURESS:
        make_duress(test, site);
        break;
    case ACCEPTANCE_MAINS:
        make_mains(test, site);
        break;
    case ACCEPTANCE_ON_TEST:
    case ACCEPTANCE_SIREN:
    case ACCEPTANCE_STATION:
    case ACCEPTANCE_OFF_TEST:
        test->by_hand = true;
        break;
    case ACCEPTANCE_REPORT:
    case ACCEPTANCE_KIND_COUNT:
        break;
    }
    if (test->step_count > 0) {
        expect(&list->play, test, site);
        test->by_hand = !any_signal_of(test);
    }
    if (test->by_hand && test->step_count > 0 && kind != ACCEPTANCE_ZONE) {
        return;
    }
    test->name = name_of(list, test);
    test->says = words_of(list, test);
    list->acceptance->count++;
}

static void add(struct list *list, enum acceptance_kind kind, int index, bool required) {
    add_heard(list, kind, index, required, (struct acceptance_ear){SITE_NONE, SITE_NONE});
}

static void add_sirens(struct list *list, const struct acceptance_ear *ears, size_t count) {
    for (size_t i = 0; i < count; i++) {
        add_heard(list, ACCEPTANCE_SIREN, SITE_NONE, true, ears[i]);
    }
}

static bool has_tamper(const struct site *site, size_t zone) {
    const struct site_device_profile *profile = site_zone_profile(site, &site->zones[zone]);
    return profile != NULL && (profile->tamper & (SITE_TAMPER_COVER | SITE_TAMPER_WALL)) != 0 &&
            site->zones[zone].input <= 1;
}

static bool is_radio(const struct site *site, size_t zone) {
    const struct site_device_profile *profile = site_zone_profile(site, &site->zones[zone]);
    return profile != NULL && profile->radio && site->zones[zone].input <= 1;
}

static bool watched_at_all(const struct site *site, const struct site_zone *zone) {
    return !zone->set_aside &&
            (always_watched(zone->behaviour) || mode_of(site, zone) != SITE_NONE);
}

static void add_zones(struct list *list, const size_t *order) {
    const struct site *site = list->acceptance->site;
    for (size_t i = 0; i < site->zone_count; i++) {
        const int zone = (int)order[i];
        if (!watched_at_all(site, &site->zones[zone])) {
            continue;
        }
        add(list, ACCEPTANCE_ZONE, zone, true);
        if (has_tamper(site, order[i])) {
            add(list, ACCEPTANCE_TAMPER, zone, true);
        }
        if (is_radio(site, order[i])) {
            add(list, ACCEPTANCE_BATTERY, zone, false);
        }
        if (is_radio(site, order[i]) && site->zones[zone].supervised) {
            add(list, ACCEPTANCE_SUPERVISION, zone, false);
        }
        if (site->zones[zone].bypassable) {
            add(list, ACCEPTANCE_BYPASS, zone, false);
        }
    }
}

static void add_people(struct list *list) {
    const struct site *site = list->acceptance->site;
    for (size_t i = 0; i < site->person_count; i++) {
        const struct site_person *person = &site->people[i];
        if (person->has_code && !person->animal && !person->away && !person->left &&
                area_of(site, person) != SITE_NONE) {
            add(list, person->duress ? ACCEPTANCE_DURESS : ACCEPTANCE_USER, (int)i, true);
        }
    }
}

outcome acceptance_make(const struct site *site, struct arena *arena,
        struct acceptance *ret_acceptance, struct problem *ret_problem) {
    struct acceptance acceptance = {.site = site};
    size_t *order = NULL;
    const size_t ears_most = acceptance_listening_most(site);
    const size_t most =
            5 * site->zone_count + site->person_count + ears_most + ACCEPTANCE_KIND_COUNT;
    struct acceptance_ear *ears = ARENA_ARRAY(arena, struct acceptance_ear, ears_most);
    struct list *list = ARENA_NEW(arena, struct list);
    struct player *player = ARENA_NEW(arena, struct player);
    acceptance.tests = ARENA_ARRAY(arena, struct acceptance_test, most);
    if (list == NULL || player == NULL || acceptance.tests == NULL || ears == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the list of tests");
    }
    TRY(panel_program_of_site(site, NULL, &list->program, ret_problem));
    TRY(acceptance_order(site, arena, &order, ret_problem));
    list->acceptance = &acceptance;
    list->arena = arena;
    list->play = (struct play){.program = &list->program, .player = player};
    add(list, ACCEPTANCE_ON_TEST, SITE_NONE, true);
    add(list, ACCEPTANCE_REPORT, SITE_NONE, false);
    add_zones(list, order);
    add_people(list);
    add_sirens(list, ears, acceptance_listening(site, ears));
    add(list, ACCEPTANCE_MAINS, SITE_NONE, true);
    add(list, ACCEPTANCE_STATION, SITE_NONE, true);
    add(list, ACCEPTANCE_OFF_TEST, SITE_NONE, true);
    if (arena->refused) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the list of tests");
    }
    *ret_acceptance = acceptance;
    return outcome_good();
}
