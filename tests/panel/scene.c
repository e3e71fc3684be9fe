#include "scene.h"

#include <stdarg.h>
#include <stddef.h>
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
    int delay; /* or the one followed */
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
        {METER_BOX, "meter box", SITE_INTERIOR, SITE_CONTACT, STAIRS, SITE_NONE, false},
};
_Static_assert(
        sizeof zone_rows / sizeof zone_rows[0] == ZONES, "every zone of the house has a row");

static const struct scenario_list *const every_list[] = {&vectors, &inputs, &zones, &setting,
        &leaving, &entry, &alarms, &faults, &areas, &paths, &fine_print};
_Static_assert(sizeof every_list / sizeof every_list[0] == SCENARIO_LISTS, "every list is run");

const struct scenario_list *scenario_list_of(size_t index) {
    return every_list[index];
}

/* ---- the house ---- */

static void furnish_zone(struct scene *s, const struct zone_row *row) {
    const int zone = row->zone;
    s->profiles[zone] =
            (struct site_device_profile){.name = text_of(row->says), .sense = row->sense};
    s->devices[zone] =
            (struct site_device){.name = text_of(row->says), .profile = zone, .door = SITE_NONE};
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
    settings->modes[STOCKTAKING] =
            (struct site_mode){.name = text_of("stocktaking"), .exit_delay_s = 10};
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

void confirms_in(struct scene *s, int zone, const char *group) {
    s->zones[zone].group = text_of(group);
}

/* ---- running ---- */

void scene_fail(const struct scene *s, const char *format, ...) {
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
            scene_fail(s, "fewer than %d outputs", HEARD_MAX);
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
    const int64_t drawn_s = output->seconds_s + (int64_t)s->spread * output->spread_s;
    return (int32_t)(drawn_s * s->percent / 100);
}

static void begin(struct scene *s) {
    struct problem problem = {.kind = PROBLEM_NONE};
    if (!panel_program_of_site(&s->site, s->tables, &s->program, &problem).good) {
        scene_fail(s, "a program of the site, got: %s", problem.text);
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
        scene_fail(s, "a sound state, but at %d: %s", (int)s->player.now_s, broken);
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

static struct panel_input request(
        enum panel_input_kind kind, enum panel_source source, int user, int areas_, int mode) {
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

void hours_begin(struct scene *s, int user) {
    put(s, request(PANEL_IN_HOURS_BEGIN, PANEL_BY_CALENDAR, user, 0, 0));
}

void hours_end(struct scene *s, int user) {
    put(s, request(PANEL_IN_HOURS_END, PANEL_BY_CALENDAR, user, 0, 0));
}

void postpones(struct scene *s, int user, int on) {
    put(s, request(PANEL_IN_POSTPONE, PANEL_BY_KEYPAD, user, on, 0));
}

void scene_run(struct scene *scene, const struct scenario *scenario,
        const struct panel_tables *tables, bool checks) {
    memset(scene, 0, offsetof(struct scene, heard)); /* what was heard is counted, not cleared */
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
        static const char *const kinds[PANEL_OUT_COUNT] = {"start", "stop", "shorten", "says",
                "chime", "tone", "sound", "inside", "signal", "log", "queued"};
        int written =
                snprintf(buffer + length, size - length, "%7d %-8s why %2d zone %3d area %3d ",
                        (int)heard->at_s, kinds[o->kind], (int)o->why, o->zone, o->area);
        length += (size_t)written < size - length ? (size_t)written : size - length;
        switch (o->kind) {
        case PANEL_OUT_START:
        case PANEL_OUT_STOP:
        case PANEL_OUT_SHORTEN:
            written = snprintf(buffer + length, size - length, "%s of %u, %d s%s%s\n",
                    panel_timer_kind_name(panel_timer_kind_of(o->timer)),
                    panel_timer_index_of(o->timer), (int)o->seconds_s,
                    o->at_least ? " at least" : "", o->exact ? " exact" : "");
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
        case PANEL_OUT_LOG:
        case PANEL_OUT_QUEUED:
            written = snprintf(buffer + length, size - length, "%s zone %d user %d area %d%s%s\n",
                    event_kind_name((enum event_kind)o->event.kind), o->event.zone, o->event.user,
                    o->event.area, o->event.restore ? " restore" : "",
                    o->event.recent ? " recent" : "");
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

/* Source: Fowler, Noll, Vo, FNV-1a. */
static uint64_t digest_add(uint64_t digest, int32_t value) {
    for (unsigned shift = 0; shift < 32; shift += 8) {
        digest = (digest ^ ((uint32_t)value >> shift & 0xFFU)) * UINT64_C(1099511628211);
    }
    return digest;
}

uint64_t scene_digest(const struct scene *scene) {
    uint64_t digest = UINT64_C(14695981039346656037);
    for (size_t i = 0; i < scene->heard_count; i++) {
        const struct panel_output *o = &scene->heard[i].output;
        const struct event *e = &o->event;
        const int32_t said[] = {scene->heard[i].at_s, (int32_t)o->kind, (int32_t)o->why, o->timer,
                o->seconds_s, o->spread_s, o->at_least, o->exact, o->on, o->area, o->zone,
                o->message, o->tone, o->sound, e->kind, e->zone, e->user, e->area, e->restore,
                e->recent};
        for (size_t k = 0; k < sizeof said / sizeof said[0]; k++) {
            digest = digest_add(digest, said[k]);
        }
    }
    return digest;
}
