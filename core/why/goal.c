/* An observation as something to look for among the panel's outputs. */
#include "why/inside.h"

enum site_sense why_sense(const struct site *site, int zone) {
    const int device = site->zones[zone].device;
    const int profile = device == SITE_NONE ? SITE_NONE : site->devices[device].profile;
    return profile == SITE_NONE ? SITE_CONTACT : site->device_profiles[profile].sense;
}

int why_door_of(const struct site *site, int zone) {
    const int device = site->zones[zone].device;
    return device == SITE_NONE ? SITE_NONE : site->devices[device].door;
}

bool why_is_radio(const struct site *site, int zone) {
    const int device = site->zones[zone].device;
    const int profile = device == SITE_NONE ? SITE_NONE : site->devices[device].profile;
    return profile != SITE_NONE && site->device_profiles[profile].radio;
}

static bool is_alarm_event(enum event_kind kind) {
    return kind == EVENT_INTRUSION || kind == EVENT_CONFIRMED || kind == EVENT_UNVERIFIED ||
            kind == EVENT_HOLD_UP || kind == EVENT_MEDICAL || kind == EVENT_DURESS ||
            kind == EVENT_FIRE || kind == EVENT_GAS || kind == EVENT_CO || kind == EVENT_FLOOD ||
            kind == EVENT_COLD || kind == EVENT_TAMPER || kind == EVENT_EXIT_ERROR;
}

static bool is_trouble_event(enum event_kind kind) {
    return kind == EVENT_TAMPER || kind == EVENT_ZONE_TROUBLE || kind == EVENT_MASKED ||
            kind == EVENT_SUPERVISION || kind == EVENT_LOW_BATTERY || kind == EVENT_MAINS ||
            kind == EVENT_PANEL_BATTERY || kind == EVENT_PATH || kind == EVENT_JAMMING;
}

static bool sends(const struct panel_output *output, enum event_kind kind) {
    return output->kind == PANEL_OUT_SIGNAL && output->event.kind == kind && !output->event.restore;
}

static bool says(const struct panel_output *output, enum panel_message message) {
    return output->kind == PANEL_OUT_SAYS && output->message == message;
}

static bool sounds(const struct panel_output *output) {
    return output->kind == PANEL_OUT_SOUND && output->sound != PANEL_SILENT;
}

static bool tones(const struct panel_output *output, enum panel_tone tone) {
    return output->kind == PANEL_OUT_TONE && output->tone == tone && output->on;
}

/* The loss of the path waits for the path like everything else. */
static bool loses_path(const struct panel_output *output) {
    return (output->kind == PANEL_OUT_QUEUED || output->kind == PANEL_OUT_SIGNAL) &&
            output->event.kind == EVENT_PATH && !output->event.restore;
}

/* An alarm of which the station hears nothing, or later: it waits for the path; it was lost while it waited; a code
 * came within the abort window; its zone does not report. */
static bool is_untold(const struct site *site, const struct panel_output *output) {
    const bool silent_zone =
            sounds(output) && output->zone < site->zone_count && !site->zones[output->zone].reports;
    return silent_zone || says(output, PANEL_SAYS_NOTHING_SENT) ||
            sends(output, EVENT_SIGNALS_LOST) ||
            (output->kind == PANEL_OUT_QUEUED && !output->event.restore &&
                    is_alarm_event((enum event_kind)output->event.kind));
}

static bool is_it(const struct site *site, enum why_what what, const struct panel_output *output) {
    switch (what) {
    case WHY_SIREN:
    case WHY_NO_SIREN:
        return sounds(output);
    case WHY_SIGNAL:
        return output->kind == PANEL_OUT_SIGNAL && !output->event.restore &&
                is_alarm_event((enum event_kind)output->event.kind);
    case WHY_CHIME:
        return output->kind == PANEL_OUT_CHIME;
    case WHY_TROUBLE:
        return tones(output, PANEL_TONE_TROUBLE) || says(output, PANEL_SAYS_TROUBLE) ||
                (output->kind == PANEL_OUT_SIGNAL && !output->event.restore &&
                        is_trouble_event((enum event_kind)output->event.kind));
    case WHY_EXIT_ERROR:
        return (sounds(output) && output->why == PANEL_WHY_EXIT_OPEN) ||
                sends(output, EVENT_EXIT_ERROR);
    case WHY_REFUSED:
        return says(output, PANEL_SAYS_REFUSED) || says(output, PANEL_SAYS_NOT_READY) ||
                says(output, PANEL_SAYS_RESET_NEEDED) || sends(output, EVENT_FAIL_TO_SET);
    case WHY_DROPPED:
        return says(output, PANEL_SAYS_DROPPED_TO_PART);
    case WHY_CODE:
        return says(output, PANEL_SAYS_NOT_YOURS) || says(output, PANEL_SAYS_WRONG_CODE) ||
                says(output, PANEL_SAYS_LOCKED);
    case WHY_ENTRY_TONE:
        return tones(output, PANEL_TONE_ENTRY);
    case WHY_EXIT_TONE:
        return tones(output, PANEL_TONE_EXIT);
    case WHY_WARNING:
        return tones(output, PANEL_TONE_WARNING) ||
                (output->kind == PANEL_OUT_INSIDE && output->on);
    case WHY_HOLD_UP:
        return sends(output, EVENT_HOLD_UP);
    case WHY_DURESS:
        return sends(output, EVENT_DURESS);
    case WHY_NO_SIGNAL:
        return is_untold(site, output);
    case WHY_NO_PATH:
        return loses_path(output);
    case WHY_JAMMING:
        return sends(output, EVENT_JAMMING);
    case WHY_POWER_CUT:
        return sends(output, EVENT_MAINS);
    case WHY_NOT_HEARD:
        return sends(output, EVENT_SUPERVISION);
    case WHY_LOW_BATTERY:
        return sends(output, EVENT_LOW_BATTERY) || sends(output, EVENT_PANEL_BATTERY);
    case WHY_WHAT_COUNT:
        break;
    }
    return false;
}

/* What is said of the area is how it was asked to stand, or stood before: the panel's answer changes it or keeps it
 * from changing. */
static bool stood_otherwise(enum why_what what) {
    return what == WHY_REFUSED || what == WHY_DROPPED || what == WHY_DURESS;
}

/* What concerns the panel as a whole names no area. */
static bool is_of_panel(const struct panel_output *output) {
    const enum event_kind kind = (enum event_kind)output->event.kind;
    return (output->kind == PANEL_OUT_SIGNAL || output->kind == PANEL_OUT_QUEUED) &&
            (kind == EVENT_MAINS || kind == EVENT_PANEL_BATTERY || kind == EVENT_PATH ||
                    kind == EVENT_JAMMING || kind == EVENT_SIGNALS_LOST);
}

static bool stands(const struct why_question *question, const struct panel_area_state *area) {
    if (question->stand == WHY_STANDS_ANYHOW) {
        return true;
    }
    if (area->phase == PANEL_UNSET) {
        return question->stand == WHY_STANDS_UNSET;
    }
    return question->stand == WHY_STANDS_SET &&
            (question->mode == SITE_NONE || question->mode == area->mode);
}

/* An entry tone names no zone; the area's state does. */
static int zone_of(const struct panel_output *output, const struct panel_state *after) {
    const bool is_entry = tones(output, PANEL_TONE_ENTRY);
    const uint8_t zone = is_entry && output->area < PANEL_AREA_MAX
            ? after->areas[output->area].entry_zone
            : output->zone;
    return zone == PANEL_NO_ZONE ? SITE_NONE : zone;
}

/* Of the zone and the area that were said, and the area stood as was said. */
static bool is_said(const struct why_plan *plan, const struct panel_output *output,
        const struct panel_state *after) {
    const struct why_question *question = &plan->question;
    if (question->zone != SITE_NONE && question->what != WHY_CODE &&
            zone_of(output, after) != question->zone) {
        return false;
    }
    if (question->what == WHY_CODE || is_of_panel(output)) {
        return true; /* speaks of the keypad or of the panel, not of an area */
    }
    return (question->area == SITE_NONE || output->area == question->area) &&
            output->area < PANEL_AREA_MAX &&
            (stood_otherwise(question->what) || stands(question, &after->areas[output->area]));
}

static bool is_met(
        const void *context, const struct panel_output *output, const struct panel_state *after) {
    const struct why_plan *plan = context;
    const struct why_question *question = &plan->question;
    if (!is_it(&plan->site, question->what, output)) {
        return false;
    }
    if (question->what == WHY_NO_SIREN) {
        return question->area == SITE_NONE || output->area == question->area;
    }
    return question->what == WHY_NO_SIGNAL || is_said(plan, output, after);
}

/* Of "no signal": the alarm of which the station was told nothing. */
static bool is_alarm(
        const void *context, const struct panel_output *output, const struct panel_state *after) {
    const struct why_plan *plan = context;
    const bool waits = output->kind == PANEL_OUT_QUEUED && !output->event.restore &&
            is_alarm_event((enum event_kind)output->event.kind);
    return (sounds(output) || waits) && is_said(plan, output, after);
}

/* "No siren, set night" is only strange while the zone's area stands so. */
static bool counts(const void *context, const struct panel_state *before) {
    const struct why_plan *plan = context;
    const int zone = plan->question.zone;
    return zone == SITE_NONE || plan->question.stand == WHY_STANDS_ANYHOW ||
            stands(&plan->question, &before->areas[plan->site.zones[zone].area]);
}

struct proof_goal why_goal(const struct why_plan *plan) {
    return (struct proof_goal){.is_met = is_met,
            .is_first = plan->question.what == WHY_NO_SIGNAL ? is_alarm : NULL,
            .counts = counts,
            .context = plan,
            .while_unset = plan->question.what == WHY_CHIME};
}
