#include "scene.h"

#include "base/span.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <setjmp.h>

#include <cmocka.h>

static const struct zone_row {
    int zone;
    const char *says;
    enum site_behaviour behaviour;
    enum site_sense sense;
    int area;
    int delay;  /* or the one followed */
    bool chime;
} zone_rows[] = {
        {FRONT, "front door", SITE_ENTRY, SITE_CONTACT, HOME, BY_FRONT, true},
        {BACK, "back door", SITE_ENTRY, SITE_CONTACT, HOME, BY_BACK, true},
        {HALL, "hall", SITE_FOLLOWER, SITE_MOTION, HOME, BY_FRONT, false},
        {PASSAGE, "passage", SITE_FOLLOWER, SITE_MOTION, HOME, BY_BACK, false},
        {LOUNGE, "lounge", SITE_INTERIOR, SITE_MOTION, HOME, SITE_NONE, false},
        {CUPBOARD, "cupboard", SITE_INTERIOR, SITE_CONTACT, HOME, SITE_NONE, false},
        {WINDOW, "window", SITE_PERIMETER, SITE_CONTACT, HOME, SITE_NONE, true},
        {SKYLIGHT, "skylight", SITE_PERIMETER, SITE_CONTACT, HOME, SITE_NONE, false},
        {PANE, "pane", SITE_PERIMETER, SITE_GLASS, HOME, SITE_NONE, false},
        {SAFE, "safe", SITE_ALWAYS, SITE_CONTACT, HOME, SITE_NONE, false},
        {CELLAR, "cellar", SITE_DAY, SITE_CONTACT, HOME, SITE_NONE, false},
        {HOLD_UP, "hold-up", SITE_HOLD_UP, SITE_BUTTON, HOME, SITE_NONE, false},
        {AID, "aid", SITE_MEDICAL, SITE_BUTTON, HOME, SITE_NONE, false},
        {SMOKE, "smoke", SITE_FIRE, SITE_SMOKE, HOME, SITE_NONE, false},
        {GAS, "gas", SITE_GAS, SITE_GAS_SENSE, HOME, SITE_NONE, false},
        {CO, "co", SITE_CO, SITE_GAS_SENSE, HOME, SITE_NONE, false},
        {WATER, "water", SITE_FLOOD, SITE_WATER, HOME, SITE_NONE, false},
        {FROST, "frost", SITE_COLD, SITE_CONTACT, HOME, SITE_NONE, false},
        {FLAT_DOOR, "flat door", SITE_ENTRY, SITE_CONTACT, FLAT, BY_FRONT, false},
        {FLAT_ROOM, "flat room", SITE_INTERIOR, SITE_MOTION, FLAT, SITE_NONE, false},
        {FLAT_WINDOW, "flat window", SITE_PERIMETER, SITE_CONTACT, FLAT, SITE_NONE, false},
        {BETWEEN, "door between", SITE_ENTRY, SITE_CONTACT, HOME, BY_FRONT, true},
        {STREET_DOOR, "street door", SITE_ENTRY, SITE_CONTACT, STAIRS, BY_FRONT, false},
};
_Static_assert(sizeof zone_rows / sizeof zone_rows[0] == ZONES, "every zone of the house has a row");

static const struct scenario_list *const every_list[] = {
        &vectors, &inputs, &zones, &setting, &entry, &alarms, &faults, &areas, &fine_print};
_Static_assert(sizeof every_list / sizeof every_list[0] == SCENARIO_LISTS, "every list is run");

const struct scenario_list *scenario_list_of(size_t index) {
    return every_list[index];
}

/* ---- the house ---- */

static void furnish_zone(struct scene *s, const struct zone_row *row) {
    const int zone = row->zone;
    s->profiles[zone] = (struct site_device_profile){.name = text_of(row->says), .sense = row->sense};
    s->devices[zone] = (struct site_device){
            .name = text_of(row->says), .profile = zone, .door = SITE_NONE};
    if (row->sense == SITE_CONTACT) {
        s->devices[zone].door = zone;
        s->doors[zone] = (struct site_door){.name = text_of(row->says), .outside = true};
    }
    struct site_zone *filled = &s->zones[zone];
    *filled = (struct site_zone){.number = zone + 1,
            .name = text_of(row->says),
            .device = zone,
            .area = row->area,
            .behaviour = row->behaviour,
            .chime = row->chime,
            .reports = true,
            .bypassable = true,
            .swinger = true,
            .pulse_count = 1,
            .cross_with = SITE_NONE};
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        filled->in[mode] = site_usual_in(row->behaviour, mode);
        filled->delay[mode] = row->behaviour == SITE_ENTRY ? row->delay : SITE_NONE;
    }
    if (row->behaviour == SITE_FOLLOWER) {
        filled->follows = 1U << row->delay;
    }
    if (zone == BETWEEN) {
        filled->serves = ON_FLAT;
    }
}

/* Nothing below leans on a default, but for the vectors, which are about the defaults and set them again. */
static void program_house(struct site_settings *settings) {
    *settings = site_settings_usual();
    settings->modes[STOCKTAKING] = (struct site_mode){.name = text_of("stocktaking"), .exit_delay_s = 10};
    settings->mode_count = STOCKTAKING + 1;
    settings->delays[BY_FRONT] = (struct site_delay){.name = text_of("front"), .seconds_s = 30};
    settings->delays[BY_BACK] = (struct site_delay){.name = text_of("back"), .seconds_s = 45};
    settings->delay_count = DELAYS;
    settings->modes[FULL].exit_delay_s = 60;
    settings->modes[PART].exit_delay_s = 0;
    settings->modes[NIGHT].exit_delay_s = 0;
    settings->abort_window_s = 30;
    settings->cancel_window_s = 300;
    settings->recent_closing_s = 120;
    settings->siren_time_s = 180;
    settings->swinger_limit = 2;
    settings->swinger_reset_s = 8 * 3600;
    settings->cross_window_s = 60;
    settings->confirm_window_s = 0;
    settings->lockout_tries = 3;
    settings->lockout_s = 90;
    settings->supervision_window_s = 12 * 3600;
    settings->mains_delay_s = 3600;
    settings->power_mask_s = 60;
    settings->final_door_s = 5;
    settings->auto_set_at_s = -1;
    settings->auto_set_area = HOME;
    settings->auto_warn_s = 600;
    settings->auto_postpone_s = 1800;
    settings->auto_postpone_count = 2;
    settings->entry_open_allowed = true;
    settings->exit_restart = true;
    settings->drop_to_part = true;
    settings->motion_blocks = false;
    settings->code_acts = SITE_CODE_KEYPAD;
}

static void build_house(struct scene *s) {
    for (size_t i = 0; i < ZONES; i++) {
        furnish_zone(s, &zone_rows[i]);
    }
    s->areas[HOME] = (struct site_area){.name = text_of("home")};
    s->areas[FLAT] = (struct site_area){.name = text_of("flat")};
    s->areas[STAIRS] = (struct site_area){.name = text_of("stairs"), .common = true};
    s->keypads[0] = (struct site_keypad){.name = text_of("keypad"), .areas = ON_HOME};
    static const uint32_t person_areas[PEOPLE] = {
            ON_HOME | ON_FLAT | ON_STAIRS, ON_HOME, ON_FLAT, ON_HOME | ON_FLAT | ON_STAIRS};
    for (int person = 0; person < PEOPLE; person++) {
        s->people[person] = (struct site_person){.areas = person_areas[person],
                .has_code = true,
                .has_fob = true,
                .duress = person == DORA};
    }
    s->settings = &s->site.settings;
    program_house(s->settings);
    s->site.words = SITE_WORDS_UK;
    s->site.invented = true;
    s->site.device_profiles = s->profiles;
    s->site.devices = s->devices;
    s->site.zones = s->zones;
    s->site.doors = s->doors;
    s->site.areas = s->areas;
    s->site.keypads = s->keypads;
    s->site.people = s->people;
    s->site.device_profile_count = ZONES;
    s->site.device_count = ZONES;
    s->site.door_count = ZONES;
    s->site.zone_count = HOME_ZONES;
    s->site.area_count = 1;
    s->site.keypad_count = 1;
    s->site.person_count = PEOPLE;
    s->percent = 100;
}

void with_flat(struct scene *s) {
    s->site.area_count = 2;
    s->site.zone_count = STREET_DOOR;
}

void with_stairs(struct scene *s) {
    s->site.area_count = 3;
    s->site.zone_count = ZONES;
}

void starts_set(struct scene *s, int area, int mode) {
    s->starts[area] = (struct site_start){.set = true, .mode = mode};
}

void starts_open(struct scene *s, int zone) {
    panel_zones_add(&s->open, (unsigned)zone);
}

void crosses(struct scene *s, int one, int other) {
    s->zones[one].cross_with = other;
    s->zones[other].cross_with = one;
}

/* ---- running ---- */

static void fail_scene(const struct scene *s, const char *format, ...)
        __attribute__((format(printf, 2, 3)));

static void fail_scene(const struct scene *s, const char *format, ...) {
    static char transcript[200000];
    const size_t length = scene_transcript(s, transcript, sizeof transcript);
    va_list arguments;
    va_start(arguments, format);
    fprintf(stderr, "%s: expected ", s->name);
    vfprintf(stderr, format, arguments);
    fprintf(stderr, "; heard:\n%.*s", (int)length, transcript);
    va_end(arguments);
    fail();
}

static void hear(void *context, int32_t now_s, const struct panel_input *input,
        const struct panel_output *output) {
    struct scene *s = context;
    if (s->heard_count == HEARD_MAX) {
        if (s->checks) {
            fail_scene(s, "fewer than %d outputs", HEARD_MAX);
        }
        return;
    }
    struct heard *heard = &s->heard[s->heard_count++];
    heard->at_s = now_s;
    heard->output = *output;
    heard->by_input = input != NULL;
    if (input != NULL) {
        heard->input = *input;
    }
}

static int32_t choose(void *context, int32_t now_s, const struct panel_output *output) {
    const struct scene *s = context;
    (void)now_s;
    return (int32_t)((int64_t)output->seconds_s * s->percent / 100);
}

static void begin(struct scene *s) {
    struct problem problem = {.kind = PROBLEM_NONE};
    if (!panel_program_of_site(&s->site, s->tables, &s->program, &problem).good) {
        fail_scene(s, "a program of the site, got: %s", problem.text);
        return;
    }
    s->begun = true;
    player_begin(&s->player, &s->program, s->starts, &s->open, 0,
            (struct player_hooks){.hear = hear, .choose = choose, .context = s});
}

void at(struct scene *s, int32_t instant_s) {
    if (!s->begun) {
        begin(s);
    }
    player_advance_to(&s->player, instant_s);
}

void until(struct scene *s, int32_t instant_s) {
    at(s, instant_s);
    player_settle(&s->player);
}

static struct panel_input input_of(enum panel_input_kind kind) {
    return (struct panel_input){.kind = kind, .zone = PANEL_NO_ZONE, .user = PANEL_NOBODY};
}

static void put(struct scene *s, struct panel_input input) {
    const char *broken = NULL;
    player_input(&s->player, input);
    if (s->checks && !panel_invariants_hold(&s->program, &s->player.state, &broken)) {
        fail_scene(s, "a sound state, but at %d: %s", (int)s->player.now_s, broken);
    }
}

void happens(struct scene *s, enum panel_input_kind kind, int zone) {
    struct panel_input input = input_of(kind);
    input.zone = (uint8_t)zone;
    put(s, input);
}

void opens(struct scene *s, int zone) {
    happens(s, PANEL_IN_OPEN, zone);
}

void closes(struct scene *s, int zone) {
    happens(s, PANEL_IN_CLOSE, zone);
}

void trips(struct scene *s, int zone) {
    opens(s, zone);
    closes(s, zone);
}

void gross_blow(struct scene *s, int zone) {
    happens(s, PANEL_IN_GROSS, zone);
}

void checks_in(struct scene *s, int zone, bool open) {
    struct panel_input input = input_of(PANEL_IN_CHECK_IN);
    input.zone = (uint8_t)zone;
    input.open = open;
    put(s, input);
}

static struct panel_input request(enum panel_input_kind kind, enum panel_source source, int user,
        int areas_, int mode) {
    struct panel_input input = input_of(kind);
    input.source = (uint8_t)source;
    input.user = (uint8_t)user;
    input.areas = (uint8_t)areas_;
    input.mode = (uint8_t)mode;
    return input;
}

void sets(struct scene *s, int user, int on, int mode) {
    sets_by(s, PANEL_BY_KEYPAD, user, on, mode);
}

void sets_by(struct scene *s, enum panel_source source, int user, int on, int mode) {
    put(s, request(PANEL_IN_SET, source, user, on, mode));
}

void forces(struct scene *s, int user, int on, int mode) {
    struct panel_input input = request(PANEL_IN_SET, PANEL_BY_KEYPAD, user, on, mode);
    input.force = true;
    put(s, input);
}

void sets_knowing(struct scene *s, int user, int on, int mode) {
    struct panel_input input = request(PANEL_IN_SET, PANEL_BY_KEYPAD, user, on, mode);
    input.acknowledged = true;
    put(s, input);
}

void unsets_by(struct scene *s, enum panel_source source, int user, int on) {
    put(s, request(PANEL_IN_UNSET, source, user, on, 0));
}

/* Which areas a code acts on is the panel's to say; the input names them. */
void unsets(struct scene *s, int user, int on) {
    const uint8_t acts =
            panel_code_areas(&s->program, &s->player.state, (uint8_t)user, (uint8_t)on);
    put(s, request(PANEL_IN_UNSET, PANEL_BY_KEYPAD, user, acts, 0));
}

void completes(struct scene *s, enum panel_source source, int on) {
    put(s, request(PANEL_IN_COMPLETE, source, PANEL_NOBODY, on, 0));
}

void bypasses(struct scene *s, int user, int zone) {
    struct panel_input input = request(PANEL_IN_BYPASS, PANEL_BY_KEYPAD, user, 0, 0);
    input.zone = (uint8_t)zone;
    put(s, input);
}

void bypasses_lastingly(struct scene *s, int user, int zone) {
    struct panel_input input = request(PANEL_IN_BYPASS, PANEL_BY_KEYPAD, user, 0, 0);
    input.zone = (uint8_t)zone;
    input.force = true;
    put(s, input);
}

void resets(struct scene *s, enum panel_source source) {
    put(s, request(PANEL_IN_RESET, source, source == PANEL_BY_KEYPAD ? ANNA : PANEL_NOBODY, 0, 0));
}

void calendar(struct scene *s, int on) {
    put(s, request(PANEL_IN_AUTO_DUE, PANEL_BY_CALENDAR, PANEL_NOBODY, on, FULL));
}

void postpones(struct scene *s, int user, int on) {
    put(s, request(PANEL_IN_POSTPONE, PANEL_BY_KEYPAD, user, on, 0));
}

void scene_run(struct scene *scene, const struct scenario *scenario, const struct panel_tables *tables,
        bool checks) {
    memset(scene, 0, sizeof *scene);
    scene->tables = tables;
    scene->checks = checks;
    scene->name = scenario->name;
    build_house(scene);
    scenario->run(scene);
}

/* ---- transcript ---- */

size_t scene_transcript(const struct scene *scene, char *buffer, size_t size) {
    size_t length = 0;
    for (size_t i = 0; i < scene->heard_count && length < size; i++) {
        const struct heard *heard = &scene->heard[i];
        const struct panel_output *o = &heard->output;
        static const char *const kinds[PANEL_OUT_COUNT] = {
                "start", "stop", "shorten", "says", "chime", "tone", "sound", "inside", "signal"};
        int written = snprintf(buffer + length, size - length, "%7d %-8s why %2d zone %3d area %3d ",
                (int)heard->at_s, kinds[o->kind], (int)o->why, o->zone, o->area);
        length += (size_t)written < size - length ? (size_t)written : size - length;
        switch (o->kind) {
        case PANEL_OUT_START:
        case PANEL_OUT_STOP:
        case PANEL_OUT_SHORTEN:
            written = snprintf(buffer + length, size - length, "%s of %u, %d s%s%s\n",
                    panel_timer_kind_name(panel_timer_kind_of(o->timer)),
                    panel_timer_index_of(o->timer), (int)o->seconds_s, o->at_least ? " at least" : "",
                    o->exact ? " exact" : "");
            break;
        case PANEL_OUT_SAYS:
            written = snprintf(buffer + length, size - length, "%s\n",
                    panel_message_name((enum panel_message)o->message));
            break;
        case PANEL_OUT_TONE:
            written = snprintf(buffer + length, size - length, "tone %d %d\n", o->tone, o->on);
            break;
        case PANEL_OUT_SOUND:
            written = snprintf(buffer + length, size - length, "sound %d\n", o->sound);
            break;
        case PANEL_OUT_SIGNAL:
            written = snprintf(buffer + length, size - length, "%s zone %d user %d area %d%s%s\n",
                    event_kind_name((enum event_kind)o->event.kind), o->event.zone, o->event.user,
                    o->event.area, o->event.restore ? " restore" : "", o->event.recent ? " recent" : "");
            break;
        case PANEL_OUT_CHIME:
        case PANEL_OUT_INSIDE:
        case PANEL_OUT_COUNT:
            written = snprintf(buffer + length, size - length, "%d\n", o->on);
            break;
        }
        length += (size_t)written < size - length ? (size_t)written : size - length;
    }
    return length;
}

/* ---- expectations ---- */

/* Walks the beginnings (on) or ends of the siren: any area's pattern counts, as areas share it. Gives how many, the
 * instants of the first `most` in ret_instants. */
static size_t siren_edges(const struct scene *s, bool on, int32_t *ret_instants, size_t most) {
    bool sounds[PANEL_AREA_MAX] = {false};
    bool sounding = false;
    size_t count = 0;
    for (size_t i = 0; i < s->heard_count; i++) {
        const struct panel_output *o = &s->heard[i].output;
        if (o->kind != PANEL_OUT_SOUND) {
            continue;
        }
        sounds[o->area % PANEL_AREA_MAX] = o->sound != PANEL_SILENT;
        bool now = false;
        for (size_t area = 0; area < PANEL_AREA_MAX; area++) {
            now = now || sounds[area];
        }
        if (now != sounding && now == on) {
            if (count < most) {
                ret_instants[count] = s->heard[i].at_s;
            }
            count++;
        }
        sounding = now;
    }
    return count;
}

void expect_siren(struct scene *s, int32_t from_s, int32_t to_s) {
    int32_t begins[1] = {0};
    int32_t ends[1] = {0};
    if (!s->checks) {
        return;
    }
    const size_t begin_count = siren_edges(s, true, begins, 1);
    const size_t end_count = siren_edges(s, false, ends, 1);
    if (begin_count != 1 || begins[0] != from_s || end_count != (to_s == STILL ? 0 : 1) ||
            (to_s != STILL && ends[0] != to_s)) {
        fail_scene(s, "one siren from %d to %d (began %zu times, ended %zu times)", (int)from_s,
                (int)to_s, begin_count, end_count);
    }
}

void expect_sirens(struct scene *s, size_t count) {
    const size_t begin_count = siren_edges(s, true, NULL, 0);
    if (s->checks && begin_count != count) {
        fail_scene(s, "the siren to begin %zu times, not %zu", count, begin_count);
    }
}

void expect_siren_starts(struct scene *s, int32_t at_s) {
    int32_t begins[50];
    const size_t count = siren_edges(s, true, begins, 50);
    for (size_t i = 0; i < count && i < 50; i++) {
        if (begins[i] == at_s) {
            return;
        }
    }
    if (s->checks) {
        fail_scene(s, "the siren to begin at %d", (int)at_s);
    }
}

void expect_no_siren(struct scene *s) {
    expect_sirens(s, 0);
}

void expect_siren_near(struct scene *s, int32_t at_s) {
    int32_t begins[1] = {-1};
    const struct span around = span_tolerant(at_s, 1);
    if (siren_edges(s, true, begins, 1) == 0 || begins[0] < around.low_s || begins[0] > around.high_s) {
        if (s->checks) {
            fail_scene(s, "the siren to begin at %d..%d, not %d", (int)around.low_s, (int)around.high_s,
                    (int)begins[0]);
        }
    }
}

struct sought {
    enum panel_output_kind kind;
    int what;    /* message, tone, sound, event kind */
    int zone;    /* ANY */
    int area;    /* -1 */
    int user;    /* -1 */
    int on;      /* -1; signals: new 1, restore 0 */
    int32_t from_s;
    int32_t to_s;
};

static bool is_sought(const struct heard *heard, const struct sought *sought) {
    const struct panel_output *o = &heard->output;
    if (o->kind != sought->kind || heard->at_s < sought->from_s || heard->at_s > sought->to_s) {
        return false;
    }
    int what = 0;
    int on = o->on;
    int zone = o->zone;
    int area = o->area;
    switch (o->kind) {
    case PANEL_OUT_SAYS:
        what = o->message;
        break;
    case PANEL_OUT_TONE:
        what = o->tone;
        break;
    case PANEL_OUT_SOUND:
        what = o->sound;
        break;
    case PANEL_OUT_SIGNAL:
        what = o->event.kind;
        on = !o->event.restore;
        zone = o->event.zone;
        area = o->event.area;
        break;
    case PANEL_OUT_START:
    case PANEL_OUT_STOP:
    case PANEL_OUT_SHORTEN:
    case PANEL_OUT_CHIME:
    case PANEL_OUT_INSIDE:
    case PANEL_OUT_COUNT:
        break;
    }
    return what == sought->what && (sought->on < 0 || on == sought->on) &&
           (sought->zone == ANY || zone == sought->zone) && (sought->area < 0 || area == sought->area) &&
           (sought->user < 0 || o->event.user == sought->user);
}

static size_t count_sought(const struct scene *s, struct sought sought) {
    size_t count = 0;
    for (size_t i = 0; i < s->heard_count; i++) {
        count += is_sought(&s->heard[i], &sought) ? 1 : 0;
    }
    return count;
}

static struct sought anything(enum panel_output_kind kind, int what) {
    return (struct sought){.kind = kind,
            .what = what,
            .zone = ANY,
            .area = -1,
            .user = -1,
            .on = -1,
            .from_s = 0,
            .to_s = INT32_MAX};
}

static struct sought signal_sought(enum event_kind kind, int zone, bool new) {
    struct sought sought = anything(PANEL_OUT_SIGNAL, (int)kind);
    sought.zone = zone;
    sought.on = new;
    return sought;
}

static struct sought then(struct sought sought, int32_t at_s) {
    sought.from_s = at_s;
    sought.to_s = at_s;
    return sought;
}

static void want(struct scene *s, struct sought sought, size_t least, size_t most, const char *words) {
    const size_t count = count_sought(s, sought);
    if (s->checks && (count < least || count > most)) {
        fail_scene(s, "%s %d, zone %d, at %d..%d: %zu to %zu of them, not %zu", words, sought.what,
                sought.zone, (int)sought.from_s, (int)sought.to_s, least, most, count);
    }
}

void expect_sound(struct scene *s, enum panel_sound sound, int area, int32_t at_s) {
    struct sought sought = then(anything(PANEL_OUT_SOUND, (int)sound), at_s);
    sought.area = area;
    want(s, sought, 1, SIZE_MAX, "sound");
}

void expect_inside(struct scene *s, bool on, int32_t at_s) {
    struct sought sought = then(anything(PANEL_OUT_INSIDE, 0), at_s);
    sought.on = on;
    want(s, sought, 1, SIZE_MAX, on ? "inside sounder on" : "inside sounder off");
}

void expect_no_inside(struct scene *s) {
    struct sought sought = anything(PANEL_OUT_INSIDE, 0);
    sought.on = 1;
    want(s, sought, 0, 0, "inside sounder");
}

void expect_signal(struct scene *s, enum event_kind kind, int zone, int32_t at_s) {
    want(s, then(signal_sought(kind, zone, true), at_s), 1, 1, event_kind_name(kind));
}

void expect_signal_of(struct scene *s, enum event_kind kind, int zone, int area, int user, int32_t at_s) {
    struct sought sought = then(signal_sought(kind, zone, true), at_s);
    sought.area = area;
    sought.user = user;
    want(s, sought, 1, 1, event_kind_name(kind));
}

void expect_signal_between(struct scene *s, enum event_kind kind, int32_t from_s, int32_t to_s) {
    struct sought sought = signal_sought(kind, ANY, true);
    sought.from_s = from_s;
    sought.to_s = to_s;
    want(s, sought, 1, 1, event_kind_name(kind));
}

void expect_signals(struct scene *s, enum event_kind kind, int zone, size_t count) {
    want(s, signal_sought(kind, zone, true), count, count, event_kind_name(kind));
}

void expect_no_signal(struct scene *s, enum event_kind kind) {
    want(s, anything(PANEL_OUT_SIGNAL, (int)kind), 0, 0, event_kind_name(kind));
}

void expect_restore(struct scene *s, enum event_kind kind, int zone, int32_t at_s) {
    want(s, then(signal_sought(kind, zone, false), at_s), 1, 1, "restore of");
}

void expect_restores(struct scene *s, enum event_kind kind, int zone, size_t count) {
    want(s, signal_sought(kind, zone, false), count, count, "restores of");
}

void expect_recent(struct scene *s, int zone, bool recent) {
    size_t count = 0;
    bool agree = true;
    for (size_t i = 0; i < s->heard_count; i++) {
        const struct sought sought = signal_sought(EVENT_INTRUSION, zone, true);
        if (is_sought(&s->heard[i], &sought)) {
            count++;
            agree = agree && s->heard[i].output.event.recent == recent;
        }
    }
    if (s->checks && (count == 0 || !agree)) {
        fail_scene(s, "an intrusion of zone %d marked recent: %d", zone, recent);
    }
}

void expect_nothing_sent(struct scene *s) {
    for (size_t i = 0; s->checks && i < s->heard_count; i++) {
        const struct panel_output *o = &s->heard[i].output;
        if (o->kind == PANEL_OUT_SIGNAL && o->event.kind != EVENT_SET && o->event.kind != EVENT_UNSET) {
            fail_scene(s, "nothing sent, but %s at %d", event_kind_name((enum event_kind)o->event.kind),
                    (int)s->heard[i].at_s);
        }
    }
}

void expect_says(struct scene *s, enum panel_message message, int zone, int32_t at_s) {
    struct sought sought = then(anything(PANEL_OUT_SAYS, (int)message), at_s);
    sought.zone = zone;
    want(s, sought, 1, SIZE_MAX, panel_message_name(message));
}

void expect_never_says(struct scene *s, enum panel_message message, int zone) {
    struct sought sought = anything(PANEL_OUT_SAYS, (int)message);
    sought.zone = zone;
    want(s, sought, 0, 0, panel_message_name(message));
}

void expect_never_says_at(struct scene *s, enum panel_message message, int32_t at_s) {
    want(s, then(anything(PANEL_OUT_SAYS, (int)message), at_s), 0, 0, panel_message_name(message));
}

void expect_tone(struct scene *s, enum panel_tone tone, bool on, int32_t at_s) {
    struct sought sought = then(anything(PANEL_OUT_TONE, (int)tone), at_s);
    sought.on = on;
    want(s, sought, 1, SIZE_MAX, on ? "tone on" : "tone off");
}

void expect_no_tone(struct scene *s, enum panel_tone tone) {
    struct sought sought = anything(PANEL_OUT_TONE, (int)tone);
    sought.on = 1;
    want(s, sought, 0, 0, "tone");
}

void expect_chimes(struct scene *s, int zone, size_t count) {
    struct sought sought = anything(PANEL_OUT_CHIME, 0);
    sought.zone = zone;
    want(s, sought, count, count, "chimes");
}

void expect_only_signals_from(struct scene *s, int32_t at_s, int zone) {
    for (size_t i = 0; s->checks && i < s->heard_count; i++) {
        const struct heard *heard = &s->heard[i];
        const enum panel_output_kind kind = heard->output.kind;
        const bool timer = kind == PANEL_OUT_START || kind == PANEL_OUT_STOP || kind == PANEL_OUT_SHORTEN;
        if (heard->at_s == at_s && heard->by_input && heard->input.zone == zone && !timer &&
                kind != PANEL_OUT_SIGNAL) {
            fail_scene(s, "no display, tone or siren at %d", (int)at_s);
        }
    }
}

void expect_phase(struct scene *s, int area, enum panel_phase phase) {
    const enum panel_phase is = (enum panel_phase)s->player.state.areas[area].phase;
    if (s->checks && is != phase) {
        fail_scene(s, "area %d %s, not %s, at %d", area, panel_phase_name(phase), panel_phase_name(is),
                (int)s->player.now_s);
    }
}

void expect_mode(struct scene *s, int area, int mode) {
    expect_phase(s, area, PANEL_SET);
    if (s->checks && s->player.state.areas[area].mode != mode) {
        fail_scene(s, "area %d set in mode %d, not %d", area, mode, s->player.state.areas[area].mode);
    }
}

void expect_not_set(struct scene *s, int area) {
    if (s->checks && s->player.state.areas[area].phase == PANEL_SET) {
        fail_scene(s, "area %d not set at %d", area, (int)s->player.now_s);
    }
}

void expect_ready(struct scene *s, int area, int mode, bool ready) {
    const bool is = panel_is_ready(&s->program, &s->player.state, (unsigned)area, mode, NULL);
    if (s->checks && is != ready) {
        fail_scene(s, "area %d %sready in mode %d", area, ready ? "" : "not ", mode);
    }
}

void expect_in_the_way(struct scene *s, int area, int mode, int zone) {
    struct panel_zones blocking = {.word = {0, 0}};
    const bool is = panel_is_ready(&s->program, &s->player.state, (unsigned)area, mode, &blocking);
    if (s->checks && (is || !panel_zones_has(&blocking, (unsigned)zone))) {
        fail_scene(s, "area %d not ready for zone %d", area, zone);
    }
}

void expect_bypassed(struct scene *s, int zone, bool bypassed) {
    if (s->checks && panel_zones_has(&s->player.state.bypassed, (unsigned)zone) != bypassed) {
        fail_scene(s, "zone %d bypassed: %d", zone, bypassed);
    }
}

void expect_runs(struct scene *s, enum panel_timer_kind kind, unsigned index, int32_t left_s) {
    const int32_t left = player_left_s(&s->player, panel_timer_of(kind, index));
    if (s->checks && left != left_s) {
        fail_scene(s, "%s of %u to have %d s left, not %d", panel_timer_kind_name(kind), index,
                (int)left_s, (int)left);
    }
}
