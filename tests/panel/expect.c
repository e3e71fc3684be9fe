/* What a scene expects to have heard. */
#include "scene.h"

#include "base/span.h"

#include <stdint.h>

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
        scene_fail(s, "one siren from %d to %d (began %zu times, ended %zu times)", (int)from_s,
                (int)to_s, begin_count, end_count);
    }
}

void expect_sirens(struct scene *s, size_t count) {
    const size_t begin_count = siren_edges(s, true, NULL, 0);
    if (s->checks && begin_count != count) {
        scene_fail(s, "the siren to begin %zu times, not %zu", count, begin_count);
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
        scene_fail(s, "the siren to begin at %d", (int)at_s);
    }
}

void expect_no_siren(struct scene *s) {
    expect_sirens(s, 0);
}

void expect_siren_near(struct scene *s, int32_t at_s) {
    int32_t begins[1] = {-1};
    const struct span around = span_tolerant(at_s, 1);
    if (siren_edges(s, true, begins, 1) == 0 || begins[0] < around.low_s ||
            begins[0] > around.high_s) {
        if (s->checks) {
            scene_fail(s, "the siren to begin at %d..%d, not %d", (int)around.low_s,
                    (int)around.high_s, (int)begins[0]);
        }
    }
}

struct sought {
    enum panel_output_kind kind;
    int what; /* message, tone, sound, event kind */
    int zone; /* ANY */
    int area; /* -1 */
    int user; /* -1 */
    int on;   /* -1; signals: new 1, restore 0 */
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
    case PANEL_OUT_LOG:
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
    case PANEL_OUT_QUEUED:
    case PANEL_OUT_COUNT:
        break;
    }
    return what == sought->what && (sought->on < 0 || on == sought->on) &&
            (sought->zone == ANY || zone == sought->zone) &&
            (sought->area < 0 || area == sought->area) &&
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

static void want(
        struct scene *s, struct sought sought, size_t least, size_t most, const char *words) {
    const size_t count = count_sought(s, sought);
    if (s->checks && (count < least || count > most)) {
        scene_fail(s, "%s %d, zone %d, at %d..%d: %zu to %zu of them, not %zu", words, sought.what,
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

void expect_logged(struct scene *s, enum event_kind kind, int zone, int user, enum panel_reason why,
        int32_t at_s) {
    size_t count = 0;
    for (size_t i = 0; i < s->heard_count; i++) {
        const struct panel_output *o = &s->heard[i].output;
        count += o->kind == PANEL_OUT_LOG && s->heard[i].at_s == at_s && o->why == why &&
                o->event.kind == kind && o->event.zone == zone && o->event.user == user;
    }
    if (s->checks && count != 1) {
        scene_fail(s, "\"%s\", zone %d, user %d in the log at %d, once, not %zu times",
                event_kind_name(kind), zone, user, (int)at_s, count);
    }
}

void expect_nothing_logged(struct scene *s) {
    size_t count = 0;
    for (size_t i = 0; i < s->heard_count; i++) {
        count += s->heard[i].output.kind == PANEL_OUT_LOG;
    }
    if (s->checks && count != 0) {
        scene_fail(s, "nothing in the log, not %zu lines", count);
    }
}

void expect_signal_of(
        struct scene *s, enum event_kind kind, int zone, int area, int user, int32_t at_s) {
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
        scene_fail(s, "an intrusion of zone %d marked recent: %d", zone, recent);
    }
}

void expect_nothing_sent(struct scene *s) {
    for (size_t i = 0; s->checks && i < s->heard_count; i++) {
        const struct panel_output *o = &s->heard[i].output;
        if (o->kind == PANEL_OUT_SIGNAL && o->event.kind != EVENT_SET &&
                o->event.kind != EVENT_UNSET) {
            scene_fail(s, "nothing sent, but %s at %d",
                    event_kind_name((enum event_kind)o->event.kind), (int)s->heard[i].at_s);
        }
    }
}

/* The next signal from `from` on that left at that instant; the end where there is none. */
static size_t next_sent(const struct scene *s, size_t from, int32_t at_s) {
    while (from < s->heard_count &&
            (s->heard[from].at_s != at_s || s->heard[from].output.kind != PANEL_OUT_SIGNAL)) {
        from++;
    }
    return from;
}

void expect_sent_in_order(
        struct scene *s, int32_t at_s, const struct sent_row *rows, size_t count) {
    size_t heard = next_sent(s, 0, at_s);
    for (size_t i = 0; i < count && s->checks; i++) {
        if (heard == s->heard_count) {
            scene_fail(s, "%zu signals at %d, not %zu", count, (int)at_s, i);
            return;
        }
        const struct event *event = &s->heard[heard].output.event;
        if (event->kind != rows[i].kind || event->restore == rows[i].new ||
                (rows[i].zone != ANY && event->zone != rows[i].zone)) {
            scene_fail(s, "signal %zu at %d to be %s of zone %d", i, (int)at_s,
                    event_kind_name(rows[i].kind), rows[i].zone);
        }
        heard = next_sent(s, heard + 1, at_s);
    }
    if (s->checks && heard != s->heard_count) {
        scene_fail(s, "only %zu signals at %d", count, (int)at_s);
    }
}

void expect_first_sent(struct scene *s, int32_t at_s, enum event_kind kind) {
    const size_t heard = next_sent(s, 0, at_s);
    if (s->checks && (heard == s->heard_count || s->heard[heard].output.event.kind != kind)) {
        scene_fail(s, "%s to leave first at %d", event_kind_name(kind), (int)at_s);
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
        const bool timer =
                kind == PANEL_OUT_START || kind == PANEL_OUT_STOP || kind == PANEL_OUT_SHORTEN;
        if (heard->at_s == at_s && heard->by_input && heard->input.zone == zone && !timer &&
                kind != PANEL_OUT_SIGNAL) {
            scene_fail(s, "no display, tone or siren at %d", (int)at_s);
        }
    }
}

void expect_phase(struct scene *s, int area, enum panel_phase phase) {
    const enum panel_phase is = (enum panel_phase)s->player.state.areas[area].phase;
    if (s->checks && is != phase) {
        scene_fail(s, "area %d %s, not %s, at %d", area, panel_phase_name(phase),
                panel_phase_name(is), (int)s->player.now_s);
    }
}

void expect_mode(struct scene *s, int area, int mode) {
    expect_phase(s, area, PANEL_SET);
    if (s->checks && s->player.state.areas[area].mode != mode) {
        scene_fail(
                s, "area %d set in mode %d, not %d", area, mode, s->player.state.areas[area].mode);
    }
}

void expect_not_set(struct scene *s, int area) {
    if (s->checks && s->player.state.areas[area].phase == PANEL_SET) {
        scene_fail(s, "area %d not set at %d", area, (int)s->player.now_s);
    }
}

void expect_ready(struct scene *s, int area, int mode, bool ready) {
    const bool is = panel_is_ready(&s->program, &s->player.state, (unsigned)area, mode, NULL);
    if (s->checks && is != ready) {
        scene_fail(s, "area %d %sready in mode %d", area, ready ? "" : "not ", mode);
    }
}

void expect_in_the_way(struct scene *s, int area, int mode, int zone) {
    struct panel_zones blocking = {.word = {0, 0}};
    const bool is = panel_is_ready(&s->program, &s->player.state, (unsigned)area, mode, &blocking);
    if (s->checks && (is || !panel_zones_has(&blocking, (unsigned)zone))) {
        scene_fail(s, "area %d not ready for zone %d", area, zone);
    }
}

void expect_bypassed(struct scene *s, int zone, bool bypassed) {
    if (s->checks && panel_zones_has(&s->player.state.bypassed, (unsigned)zone) != bypassed) {
        scene_fail(s, "zone %d bypassed: %d", zone, bypassed);
    }
}

void expect_runs(struct scene *s, enum panel_timer_kind kind, unsigned index, int32_t left_s) {
    const int32_t left = player_left_s(&s->player, panel_timer_of(kind, index));
    if (s->checks && left != left_s) {
        scene_fail(s, "%s of %u to have %d s left, not %d", panel_timer_kind_name(kind), index,
                (int)left_s, (int)left);
    }
}
