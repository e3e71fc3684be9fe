#include "check/story_lines.h"

#include "base/quantity.h"
#include "check/words.h"

int teller_area(const struct teller *teller, uint8_t area) {
    return area < teller->site->area_count ? area : SITE_NONE;
}

int teller_zone(const struct teller *teller, uint8_t zone) {
    return zone < teller->site->zone_count ? zone : SITE_NONE;
}

enum site_behaviour teller_behaviour(const struct teller *teller, int zone) {
    if (zone == SITE_NONE) {
        return SITE_OUT;
    }
    const struct site_zone *it = &teller->site->zones[zone];
    const int mode =
            it->area >= 0 && it->area < SITE_AREA_MAX ? teller->modes[it->area] : SITE_NONE;
    return mode == SITE_NONE || it->in[mode] == SITE_OUT ? it->behaviour : it->in[mode];
}

bool teller_find_start(const struct proof_answer *answer, enum panel_timer_kind kind,
        int timer_index, size_t index, int32_t *ret_seconds_s, int32_t *ret_at_s) {
    const struct proof_line *shortened = NULL;
    for (size_t i = index + 1; i-- > 0;) {
        const struct proof_line *line = &answer->story[i];
        if (line->kind != PROOF_LINE_OUTPUT || panel_timer_kind_of(line->output.timer) != kind ||
                (timer_index >= 0 &&
                        panel_timer_index_of(line->output.timer) != (unsigned)timer_index)) {
            continue;
        }
        if (line->output.kind == PANEL_OUT_SHORTEN && shortened == NULL) {
            shortened = line;
        } else if (line->output.kind == PANEL_OUT_START) {
            const int32_t end_s = line->at_s + line->output.seconds_s;
            const bool holds =
                    shortened == NULL || shortened->at_s + shortened->output.seconds_s >= end_s;
            *ret_seconds_s = holds ? line->output.seconds_s : shortened->output.seconds_s;
            *ret_at_s = holds ? line->at_s : shortened->at_s;
            return true;
        }
    }
    return false;
}

enum panel_timer_kind teller_timer_of_reason(enum panel_reason why) {
    if (why == PANEL_WHY_ENTRY_OVER) {
        return PANEL_TIMER_ENTRY;
    }
    if (why == PANEL_WHY_EXIT_OPEN || why == PANEL_WHY_INTERIOR_OPEN ||
            why == PANEL_WHY_NOBODY_LEFT) {
        return PANEL_TIMER_EXIT;
    }
    if (why == PANEL_WHY_HOLD_BACK) {
        return PANEL_TIMER_HOLD_BACK;
    }
    return why == PANEL_WHY_ABORT_OVER ? PANEL_TIMER_ABORT : PANEL_TIMER_KIND_COUNT;
}

static struct words_about about_output(const struct teller *teller, size_t index) {
    const struct panel_output *output = &teller->answer->story[index].output;
    struct words_about about = words_about_nothing();
    int32_t at_s = 0;
    about.zone = teller_zone(teller, output->zone);
    about.area = teller_area(teller, output->area);
    about.mode = about.area == SITE_NONE ? SITE_NONE : teller->modes[about.area];
    about.behaviour = teller_behaviour(teller, about.zone);
    about.person = output->event.user == EVENT_NOBODY ? SITE_NONE : output->event.user;
    const enum panel_timer_kind kind = teller_timer_of_reason(output->why);
    if (output->kind == PANEL_OUT_START || output->kind == PANEL_OUT_SHORTEN) {
        about.seconds_s = output->seconds_s;
    } else if (kind != PANEL_TIMER_KIND_COUNT) {
        (void)teller_find_start(teller->answer, kind, about.area, index, &about.seconds_s, &at_s);
    }
    return about;
}

/* Adds a part with a semicolon before it when it is not the first. */
static void add_part(struct text_builder *out, struct text part) {
    if (part.length > 0) {
        text_add_string(out, out->length > 0 ? "; " : "");
        text_add(out, part);
    }
}

static struct text reason_of(const struct teller *teller, size_t index) {
    const struct words_about about = about_output(teller, index);
    return words_print(teller->arena, teller->site,
            words_reason_short(teller->answer->story[index].output.why), &about);
}

/* "30 s to leave": what the timer that starts in this happening means, or empty. */
static struct text start_within(
        const struct teller *teller, enum panel_timer_kind kind, size_t first, size_t end) {
    for (size_t i = first; i < end; i++) {
        const struct proof_line *line = &teller->answer->story[i];
        if (line->kind == PROOF_LINE_OUTPUT && line->output.kind == PANEL_OUT_START &&
                panel_timer_kind_of(line->output.timer) == kind) {
            const struct words_about about = about_output(teller, i);
            return words_print(teller->arena, teller->site, words_timer_begins(kind), &about);
        }
    }
    return text_of("");
}

static enum panel_timer_kind timer_of_tone(enum panel_tone tone) {
    return tone == PANEL_TONE_EXIT     ? PANEL_TIMER_EXIT
            : tone == PANEL_TONE_ENTRY ? PANEL_TIMER_ENTRY
                                       : PANEL_TIMER_KIND_COUNT;
}

/* What follows from a happening, in a few words, for STORY_SHORT: "entry tone: 30 s to unset". */
static struct text consequence(const struct teller *teller, size_t first, size_t end) {
    struct text_builder out;
    text_builder_init(&out, teller->arena);
    for (size_t i = first; i < end; i++) {
        const struct panel_output *output = &teller->answer->story[i].output;
        if (teller->answer->story[i].kind != PROOF_LINE_OUTPUT) {
            continue;
        }
        const struct words_about about = about_output(teller, i);
        if (output->kind == PANEL_OUT_TONE && output->on) {
            const enum panel_timer_kind kind = timer_of_tone((enum panel_tone)output->tone);
            const struct text meaning = kind == PANEL_TIMER_KIND_COUNT
                    ? text_of("")
                    : start_within(teller, kind, first, end);
            add_part(&out, text_of(words_tone((enum panel_tone)output->tone)));
            text_add_string(&out, meaning.length > 0 ? ": " : "");
            text_add(&out, meaning);
        } else if (output->kind == PANEL_OUT_SAYS && output->message != PANEL_SAYS_READY) {
            add_part(&out,
                    words_print(teller->arena, teller->site,
                            words_message((enum panel_message)output->message), &about));
        } else if (output->kind == PANEL_OUT_SOUND) {
            add_part(&out, text_of(words_sound((enum panel_sound)output->sound)));
        } else if (output->kind == PANEL_OUT_START && output->why == PANEL_WHY_RESTART) {
            add_part(&out, reason_of(teller, i));
        } else if (output->kind == PANEL_OUT_SHORTEN) {
            add_part(&out,
                    words_print(teller->arena, teller->site,
                            words_timer_begins(panel_timer_kind_of(output->timer)), &about));
        }
    }
    return text_built(&out);
}

/* Why the happening breaks the promise: the reason of its first bad answer, or of its first sound. */
static struct text bad_reason(const struct teller *teller, size_t first, size_t end) {
    for (size_t i = first; i < end; i++) {
        const struct proof_line *line = &teller->answer->story[i];
        if (line->kind == PROOF_LINE_OUTPUT && line->bad) {
            return reason_of(teller, i);
        }
    }
    return text_of("");
}

static bool is_bad(const struct teller *teller, size_t first, size_t end) {
    for (size_t i = first; i < end; i++) {
        if (teller->answer->story[i].bad) {
            return true;
        }
    }
    return false;
}

bool is_level_zone(const struct site *site, int zone) {
    const struct site_zone *keyed = &site->zones[zone];
    return site_zone_profile(site, keyed) != NULL &&
            site_sense_is_level(site_zone_sense(site, keyed));
}

/* "zone 1 opens", "zone 2 trips", "zone 2 is quiet again": what the panel learns. */
static struct text level_of(
        const struct teller *teller, const struct proof_line *line, bool whole) {
    struct words_about about = words_about_nothing();
    about.zone = teller_zone(teller, line->zone);
    const bool level = about.zone == SITE_NONE || is_level_zone(teller->site, about.zone);
    const char *const trips[] = {" is quiet again", " trips"};
    const char *const levels[2][2] = {{" closes", " opens"}, {" is closed", " is open"}};
    struct text_builder out;
    text_builder_init(&out, teller->arena);
    text_add_string(&out, whole && level ? "the panel learns: " : "");
    words_add(&out, teller->site, whole ? "{zone}" : "{zone-short}", &about);
    text_add_string(&out, level ? levels[whole][line->open] : trips[line->open]);
    return text_built(&out);
}

/* "zone 3 opens, and the panel does not hear it". */
static struct text unheard(const struct teller *teller, const struct proof_line *line) {
    struct words_about about = words_about_nothing();
    about.zone = teller_zone(teller, line->zone);
    const bool level = about.zone == SITE_NONE || is_level_zone(teller->site, about.zone);
    return words_print(teller->arena, teller->site,
            line->open      ? level ? "{zone} opens, and the panel does not hear it"
                                    : "{zone} trips, and the panel does not hear it"
                    : level ? "{zone} closes, and the panel does not hear it"
                            : "{zone} is quiet again, and the panel does not hear it",
            &about);
}

/* "after 3 s (2 to 4 s)": the time this act took, for STORY_ALL. */
static struct text pace_of(const struct teller *teller, size_t index) {
    const struct proof_line *line = &teller->answer->story[index];
    const struct proof_step *step = &teller->answer->routine.steps[line->step];
    int32_t before_s = 0;
    for (size_t i = index; i-- > 0;) {
        if (teller->answer->story[i].kind == PROOF_LINE_ACT &&
                teller->answer->story[i].person == line->person) {
            before_s = teller->answer->story[i].at_s;
            break;
        }
    }
    struct text_builder out;
    text_builder_init(&out, teller->arena);
    if (step->when != SITE_SIGN_NONE || step->after != SITE_NONE) {
        quantity_add_span(&out, step->in);
        text_add_string(&out, " after that");
    } else {
        text_add_string(&out, "after ");
        quantity_add_seconds(&out, line->at_s - (step->absolute ? 0 : before_s));
        text_add_string(&out, " of ");
        quantity_add_span(&out, step->in);
    }
    return text_built(&out);
}

static struct text sign_of(const struct teller *teller, const struct proof_step *step,
        enum site_sign sign, int area, bool holds) {
    struct words_about about = words_about_nothing();
    about.area = area;
    about.door = step->door;
    return words_print(teller->arena, teller->site, words_sign(sign, holds), &about);
}

/* Whether the zone's device listens: one does not pass it, one is loud there. */
static bool hears(const struct site *site, int zone) {
    if (zone < 0 || (size_t)zone >= site->zone_count) {
        return false;
    }
    const enum site_sense sense = site_zone_sense(site, &site->zones[zone]);
    return sense == SITE_GLASS || sense == SITE_SHOCK;
}

static struct text act_of(const struct teller *teller, const struct proof_step *step) {
    struct words_about about = words_about_nothing();
    about.person = step->who;
    about.door = step->door;
    about.zone = step->zone;
    about.keypad = step->keypad;
    about.areas = step->areas;
    about.mode = step->act == SITE_ACT_SET ? step->mode : SITE_NONE;
    if (about.areas == 0 && step->keypad >= 0 &&
            (size_t)step->keypad < teller->site->keypad_count) {
        about.areas = teller->site->keypads[step->keypad].areas;
    }
    if (step->act == SITE_ACT_WALK && teller->answer->routine.source != NULL) {
        const int room = teller->answer->routine.source->steps[step->written].room;
        struct text_builder name;
        text_builder_init(&name, teller->arena);
        words_add_named(&name, teller->site->building.rooms[room].name);
        about.named = text_built(&name);
        return words_print(teller->arena, teller->site, "{person} is in {named}", &about);
    }
    const bool noise = step->act == SITE_ACT_PASS && hears(teller->site, step->zone);
    return words_print(teller->arena, teller->site,
            step->mishap != PROOF_MISHAP_NONE ? words_mishap(step->mishap)
                    : noise                   ? "{person} makes a noise at {zone}"
                                              : words_act(step->act, step->use),
            &about);
}

/* The last stretch of a way is no act of its own, unlike a wait that somebody wrote down. */
static bool is_walking_on(const struct teller *teller, const struct proof_step *step) {
    const struct site_routine *source = teller->answer->routine.source;
    return step->act == SITE_ACT_WAIT && step->mishap == PROOF_MISHAP_NONE && source != NULL &&
            step->written < source->step_count && source->steps[step->written].act != SITE_ACT_WAIT;
}

/* A profile's promise to overlook an animal holds on the floor and at the height of its manual alone, so the story does
 * not rely on it, and says so. */
static struct text overlooked(const struct teller *teller, const struct proof_step *step) {
    const struct site *site = teller->site;
    if (step->act != SITE_ACT_PASS || !site_overlooks(site, step->zone, step->who)) {
        return text_of("");
    }
    struct text_builder out;
    text_builder_init(&out, teller->arena);
    text_add_string(&out, "taken as seen, although its profile overlooks up to ");
    quantity_add_measure(
            &out, QUANTITY_MASS_KG, site_zone_profile(site, &site->zones[step->zone])->overlooks);
    return text_built(&out);
}

static void tell_act(struct teller *teller, size_t first, size_t end) {
    const struct proof_line *line = &teller->answer->story[first];
    const struct proof_step *step = &teller->answer->routine.steps[line->step];
    struct text_builder because;
    text_builder_init(&because, teller->arena);
    if (is_walking_on(teller, step) && teller->form != STORY_ALL) {
        return;
    }
    if (line->left_out) {
        if (teller->form == STORY_ALL) {
            struct text_builder what;
            text_builder_init(&what, teller->arena);
            text_add_string(&what, "left out: ");
            text_add(&what, act_of(teller, step));
            add_part(&because,
                    step->if_sign != SITE_SIGN_NONE
                            ? sign_of(teller, step, step->if_sign, step->if_area, step->if_not)
                            : text_of("it may happen or not"));
            teller_add(teller, line->at_s, text_built(&what), text_built(&because), false);
        }
        return;
    }
    if (step->when != SITE_SIGN_NONE) {
        add_part(&because, sign_of(teller, step, step->when, step->when_area, true));
    }
    if (step->if_sign != SITE_SIGN_NONE) {
        add_part(&because, sign_of(teller, step, step->if_sign, step->if_area, !step->if_not));
    }
    if (teller->form == STORY_ALL) {
        add_part(&because, pace_of(teller, first));
    }
    if (line->too_short) {
        add_part(&because, text_of("too short an opening: the input does not see it"));
    }
    if (line->lost) {
        add_part(&because, text_of("the radio message of this does not arrive"));
    }
    if (teller->form != STORY_SHORT) {
        if (first + 1 < end && teller->answer->story[first + 1].kind == PROOF_LINE_LEVEL) {
            add_part(&because, level_of(teller, &teller->answer->story[first + 1], false));
        }
    } else if (is_bad(teller, first, end)) {
        add_part(&because, bad_reason(teller, first, end));
    } else {
        add_part(&because, consequence(teller, first, end));
    }
    add_part(&because, overlooked(teller, step));
    teller_add(teller, line->at_s, act_of(teller, step), text_built(&because), false);
}

/* "30 s, here after 27 s": how long the timer was keyed in, and how long it took in this story. */
static void tell_timer(struct teller *teller, size_t first, size_t end) {
    const struct proof_line *line = &teller->answer->story[first];
    const enum panel_timer_kind kind = panel_timer_kind_of(line->timer);
    struct words_about about = words_about_nothing();
    int32_t began_s = 0;
    struct text_builder because;
    if (teller->form == STORY_FULL && end == first + 1) {
        return; /* it ends, and nothing comes of it */
    }
    text_builder_init(&because, teller->arena);
    if (teller_find_start(teller->answer, kind, (int)panel_timer_index_of(line->timer), first,
                &about.seconds_s, &began_s)) {
        const int32_t took_s = line->at_s - began_s;
        const bool spread = kind == PANEL_TIMER_MAINS && teller->site->settings.mains_jitter_s > 0;
        quantity_add_seconds(&because, about.seconds_s);
        if (took_s != about.seconds_s && spread) {
            text_add_string(&because, ", spread on purpose: ");
            quantity_add_seconds(&because, took_s);
        } else if (took_s != about.seconds_s) {
            text_add_string(&because, " by a clock that is ");
            text_add_string(&because, took_s < about.seconds_s ? "fast: " : "slow: ");
            quantity_add_seconds(&because, took_s);
        }
    }
    if (teller->form == STORY_SHORT && !is_bad(teller, first, end)) {
        add_part(&because, consequence(teller, first, end));
    } else if (teller->form == STORY_SHORT && kind != PANEL_TIMER_ENTRY) {
        add_part(&because, bad_reason(teller, first, end));
    }
    teller_add(teller, line->at_s,
            words_print(teller->arena, teller->site, words_timer_ends(kind), &about),
            text_built(&because), false);
}

static bool is_news(const struct teller *teller, const struct proof_line *line) {
    return teller->form == STORY_ALL || line->open;
}

static void tell_hours(struct teller *teller, const struct proof_line *line) {
    struct words_about about = words_about_nothing();
    about.person = line->person;
    teller_add(teller, line->at_s,
            words_print(teller->arena, teller->site,
                    line->open               ? "the hours of {person} begin"
                            : line->at_s > 0 ? "the hours of {person} end"
                                             : "outside the hours of {person}",
                    &about),
            words_print(teller->arena, teller->site, "{hours}", &about), false);
}

void tell_head(struct teller *teller, size_t first, size_t end) {
    const struct proof_line *line = &teller->answer->story[first];
    switch (line->kind) {
    case PROOF_LINE_ACT:
        tell_act(teller, first, end);
        return;
    case PROOF_LINE_TIMER:
        tell_timer(teller, first, end);
        return;
    case PROOF_LINE_LEVEL:
        if (teller->form == STORY_SHORT || is_news(teller, line)) {
            const bool bad = is_bad(teller, first, end);
            teller_add(teller, line->at_s, level_of(teller, line, true),
                    teller->form != STORY_SHORT ? text_of("")
                            : bad               ? bad_reason(teller, first, end)
                                                : consequence(teller, first, end),
                    false);
        }
        return;
    case PROOF_LINE_HOURS:
        if (teller->form != STORY_SHORT) {
            tell_hours(teller, line);
        }
        return;
    case PROOF_LINE_UNHEARD:
        teller_add(
                teller, line->at_s, unheard(teller, line), text_of("the radio is jammed"), false);
        return;
    case PROOF_LINE_OUTPUT:
    case PROOF_LINE_END:
        return;
    }
}

/* Whether the path to the station is down after line `index`: its own loss waits for it, and nothing has left. */
static bool path_is_down(const struct teller *teller, size_t index) {
    for (size_t i = index + 1; i-- > 0;) {
        const struct proof_line *line = &teller->answer->story[i];
        if (line->kind == PROOF_LINE_OUTPUT && line->output.event.kind == EVENT_PATH &&
                (line->output.kind == PANEL_OUT_QUEUED || line->output.kind == PANEL_OUT_SIGNAL)) {
            return line->output.kind == PANEL_OUT_QUEUED;
        }
    }
    return false;
}

static bool is_alarm(const struct event *event) {
    return !event->restore && event->kind != EVENT_SET && event->kind != EVENT_UNSET &&
            event->kind != EVENT_FORCED_SET && event->kind != EVENT_CANCEL &&
            event->kind != EVENT_BYPASS;
}

/* The signal that a siren announces: where it is held, when it leaves; where it went, that it went. */
static struct text signal_of_siren(
        const struct teller *teller, size_t index, size_t first, size_t end) {
    const struct proof_line *line = &teller->answer->story[index];
    struct text_builder out;
    text_builder_init(&out, teller->arena);
    for (size_t i = first; i < end; i++) {
        const struct proof_line *other = &teller->answer->story[i];
        const bool waits =
                other->kind == PROOF_LINE_OUTPUT && other->output.kind == PANEL_OUT_QUEUED;
        const bool leaves =
                other->kind == PROOF_LINE_OUTPUT && other->output.kind == PANEL_OUT_SIGNAL;
        if ((waits || leaves) && is_alarm(&other->output.event)) {
            words_add_signal(&out, teller->site, other->output.event);
            text_add_string(&out, waits ? " waits for the path" : " is sent at once");
            return text_built(&out);
        }
    }
    const int zone = teller_zone(teller, line->output.zone);
    if (zone != SITE_NONE && !teller->site->zones[zone].reports) {
        struct words_about about = words_about_nothing();
        about.zone = zone;
        return words_print(teller->arena, teller->site,
                "nothing is sent: {zone-short} does not report", &about);
    }
    int32_t seconds_s = 0;
    int32_t began_s = 0;
    const bool error = line->output.why == PANEL_WHY_EXIT_OPEN;
    const struct event event = {.kind = error              ? EVENT_EXIT_ERROR
                    : line->output.why == PANEL_WHY_TAMPER ? EVENT_TAMPER
                                                           : EVENT_INTRUSION,
            .zone = line->output.zone,
            .user = EVENT_NOBODY};
    if (!teller_find_start(teller->answer, error ? PANEL_TIMER_ENTRY : PANEL_TIMER_ABORT,
                teller_area(teller, line->output.area), end - 1, &seconds_s, &began_s) ||
            began_s + seconds_s < line->at_s) {
        return text_of("");
    }
    words_add_signal(&out, teller->site, event);
    text_add_string(&out, " leaves at ");
    words_add_instant(&out, teller->answer->routine.begins_s, began_s + seconds_s);
    text_add_string(
            &out, path_is_down(teller, end - 1) ? " or, later, when the path is back," : "");
    words_add(&out, teller->site, " unless {is-unset} before", NULL);
    return text_built(&out);
}

static void tell_sound(struct teller *teller, size_t index, size_t first, size_t end) {
    const struct proof_line *line = &teller->answer->story[index];
    const enum panel_sound sound = (enum panel_sound)line->output.sound;
    const struct words_about about = about_output(teller, index);
    struct text_builder what;
    struct text_builder because;
    text_builder_init(&what, teller->arena);
    text_builder_init(&because, teller->arena);
    text_add_string(&what, words_sound(sound));
    if (teller->site->area_count > 1 && about.area != SITE_NONE) {
        words_add(&what, teller->site, " ({areas})", &about);
    }
    if (teller->form != STORY_SHORT) {
        add_part(&because, reason_of(teller, index));
    }
    if (sound != PANEL_SILENT) {
        add_part(&because, signal_of_siren(teller, index, first, end));
    }
    teller_add(teller, line->at_s, text_built(&what), text_built(&because), line->bad);
}

static void tell_tone(struct teller *teller, size_t index, size_t first, size_t end) {
    const struct proof_line *line = &teller->answer->story[index];
    const enum panel_tone tone = (enum panel_tone)line->output.tone;
    const enum panel_timer_kind kind = timer_of_tone(tone);
    struct text_builder what;
    text_builder_init(&what, teller->arena);
    text_add_string(&what, words_tone(tone));
    if (!line->output.on) {
        text_add_string(&what, " stops");
    }
    teller_add(teller, line->at_s, text_built(&what),
            line->output.on && kind != PANEL_TIMER_KIND_COUNT
                    ? start_within(teller, kind, first, end)
                    : text_of(""),
            line->bad);
}

/* Whether a timer's beginning or stop is worth a line: in STORY_FULL only what people feel, and in no form what
 * another line says already or what goes on all day. */
static bool is_timing_told(const struct teller *teller, size_t index, size_t first, size_t end) {
    const struct proof_line *line = &teller->answer->story[index];
    const enum panel_timer_kind kind = panel_timer_kind_of(line->output.timer);
    if (kind == PANEL_TIMER_SUPERVISION) {
        return false;
    }
    if (line->output.kind == PANEL_OUT_START && line->output.why != PANEL_WHY_RESTART) {
        for (size_t i = first; i < end; i++) {
            const struct proof_line *other = &teller->answer->story[i];
            if (other->kind == PROOF_LINE_OUTPUT && other->output.kind == PANEL_OUT_TONE &&
                    other->output.on &&
                    timer_of_tone((enum panel_tone)other->output.tone) == kind) {
                return false;
            }
        }
        return teller->form == STORY_ALL || kind == PANEL_TIMER_CANCEL;
    }
    if (line->output.kind == PANEL_OUT_STOP) {
        const struct proof_line *head = &teller->answer->story[first];
        return teller->form == STORY_ALL &&
                !(head->kind == PROOF_LINE_TIMER && head->timer == line->output.timer);
    }
    return true;
}

static void tell_timing(struct teller *teller, size_t index) {
    const struct proof_line *line = &teller->answer->story[index];
    const enum panel_timer_kind kind = panel_timer_kind_of(line->output.timer);
    const struct words_about about = about_output(teller, index);
    const bool starts = line->output.kind == PANEL_OUT_START;
    struct text_builder what;
    text_builder_init(&what, teller->arena);
    if (starts) {
        words_add(&what, teller->site, words_timer_begins(kind), &about);
    } else {
        words_add(&what, teller->site, words_timer(kind), &about);
        text_add_string(
                &what, line->output.kind == PANEL_OUT_STOP ? " is stopped" : " is shortened");
    }
    teller_add(teller, line->at_s, text_built(&what), reason_of(teller, index), line->bad);
}

/* Whether a short story's first line of the happening has told the reason of this answer already. */
static bool is_reason_told(const struct teller *teller, size_t index, size_t first, size_t end) {
    const struct proof_line *head = &teller->answer->story[first];
    const bool act = head->kind == PROOF_LINE_ACT && !head->left_out &&
            !is_walking_on(teller, &teller->answer->routine.steps[head->step]);
    const bool timer =
            head->kind == PROOF_LINE_TIMER && panel_timer_kind_of(head->timer) != PANEL_TIMER_ENTRY;
    return teller->form == STORY_SHORT && (act || timer || head->kind == PROOF_LINE_LEVEL) &&
            is_bad(teller, first, end) &&
            text_equal(reason_of(teller, index), bad_reason(teller, first, end));
}

/* A fault is the reason of a refusal; where the fault itself is told, it is what happens. */
static bool tells_reason(const struct panel_output *output) {
    return output->kind != PANEL_OUT_CHIME &&
            (output->why != PANEL_WHY_FAULT ||
                    (output->kind == PANEL_OUT_SAYS && output->message != PANEL_SAYS_TROUBLE));
}

static void tell_plain(struct teller *teller, size_t index, size_t first, size_t end) {
    const struct proof_line *line = &teller->answer->story[index];
    const struct words_about about = about_output(teller, index);
    struct text_builder what;
    struct text_builder because;
    text_builder_init(&what, teller->arena);
    text_builder_init(&because, teller->arena);
    if (tells_reason(&line->output) && !is_reason_told(teller, index, first, end)) {
        add_part(&because, reason_of(teller, index));
    }
    if (line->output.kind == PANEL_OUT_SAYS) {
        words_add(&what, teller->site, words_message((enum panel_message)line->output.message),
                &about);
    } else if (line->output.kind == PANEL_OUT_CHIME) {
        words_add(&what, teller->site, "chime: {zone}", &about);
    } else if (line->output.kind == PANEL_OUT_INSIDE) {
        const struct text waits = line->output.on
                ? start_within(teller, PANEL_TIMER_HOLD_BACK, index, end)
                : text_of("");
        text_add_string(&what, line->output.on ? "inside sounder" : "the inside sounder stops");
        add_part(&because, waits);
        add_part(&because,
                waits.length > 0 ? signal_of_siren(teller, index, first, end) : text_of(""));
    } else {
        text_add_string(&what,
                line->output.kind == PANEL_OUT_LOG              ? "written to the log: "
                        : line->output.kind == PANEL_OUT_QUEUED ? "waits for the path: "
                                                                : "sent: ");
        words_add_signal(&what, teller->site, line->output.event);
    }
    teller_add(teller, line->at_s, text_built(&what), text_built(&because), line->bad);
}

static bool is_told(
        const struct teller *teller, const struct proof_line *line, bool bad_happening) {
    if (teller->form == STORY_SHORT) {
        return line->bad ||
                (bad_happening && line->output.kind == PANEL_OUT_SOUND &&
                        line->output.sound != PANEL_SILENT);
    }
    const bool silence = line->output.kind == PANEL_OUT_TONE && !line->output.on;
    return teller->form == STORY_ALL || !silence;
}

void tell_answer(struct teller *teller, size_t index, size_t first, size_t end) {
    const struct proof_line *line = &teller->answer->story[index];
    if (line->kind == PROOF_LINE_LEVEL && teller->form != STORY_SHORT && is_news(teller, line)) {
        teller_add(teller, line->at_s, level_of(teller, line, true), text_of(""), line->bad);
    }
    if (line->kind == PROOF_LINE_UNHEARD) {
        tell_head(teller, index, index + 1);
    }
    if (line->kind != PROOF_LINE_OUTPUT || !is_told(teller, line, is_bad(teller, first, end))) {
        return;
    }
    switch (line->output.kind) {
    case PANEL_OUT_START:
    case PANEL_OUT_STOP:
    case PANEL_OUT_SHORTEN:
        if (is_timing_told(teller, index, first, end)) {
            tell_timing(teller, index);
        }
        return;
    case PANEL_OUT_SAYS:
    case PANEL_OUT_CHIME:
    case PANEL_OUT_INSIDE:
    case PANEL_OUT_SIGNAL:
    case PANEL_OUT_LOG:
    case PANEL_OUT_QUEUED:
        tell_plain(teller, index, first, end);
        return;
    case PANEL_OUT_TONE:
        tell_tone(teller, index, first, end);
        return;
    case PANEL_OUT_SOUND:
        tell_sound(teller, index, first, end);
        return;
    case PANEL_OUT_COUNT:
        return;
    }
}
