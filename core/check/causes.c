#include "check/findings.h"

#include "base/quantity.h"
#include "check/words.h"

static void add_ranges(struct text_builder *out, const struct explore_ranges *ranges) {
    for (size_t i = 0; i < ranges->count; i++) {
        text_add_string(out,
                i == 0                                                  ? ""
                        : i + 1 == ranges->count && !ranges->overflowed ? " or "
                                                                        : ", ");
        quantity_add_span(out, ranges->interval[i]);
    }
    text_add_string(out, ranges->overflowed ? " and more" : "");
}

struct text findings_range(
        const struct site *site, const struct proof_answer *answer, struct arena *arena) {
    if (!answer->has_range || answer->can.count == 0 ||
            answer->probed_step >= answer->routine.step_count) {
        return text_of("");
    }
    const struct proof_step *step = &answer->routine.steps[answer->probed_step];
    struct words_about about = words_about_nothing();
    about.person = step->who;
    about.door = step->door;
    about.zone = step->zone;
    about.areas = step->areas;
    struct text_builder out;
    text_builder_init(&out, arena);
    text_add_string(&out, "can happen when ");
    words_add(&out, site, words_act(step->act, step->use), &about);
    text_add_char(&out, ' ');
    add_ranges(&out, &answer->can);
    text_add_string(&out, " after the start of ");
    words_add(&out, site, words_timer(panel_timer_kind_of(answer->probed_timer)), &about);
    if (answer->always_when.count > 0) {
        text_add_string(&out, "; always at ");
        add_ranges(&out, &answer->always_when);
    } else {
        text_add_string(&out, "; that alone does not decide it");
    }
    return text_built(&out);
}

static struct text zone_place(
        const struct site *site, int zone, const char *key, struct arena *arena) {
    return zone < 0 || (size_t)zone >= site->zone_count
            ? text_of("")
            : text_print(arena, "zones[%d].%s", zone, key);
}

/* Where the behaviour that acted was written: the zone's own, or that of the mode. */
static struct text behaviour_place(
        const struct site *site, const struct story_cause *cause, struct arena *arena) {
    if (cause->zone < 0 || (size_t)cause->zone >= site->zone_count) {
        return text_of("");
    }
    const struct site_zone *zone = &site->zones[cause->zone];
    if (cause->mode >= 0 && zone->in[cause->mode] != SITE_OUT &&
            zone->in[cause->mode] != zone->behaviour) {
        return text_print(arena, "zones[%d].in.%.*s", cause->zone,
                TEXT_ARGS(site->settings.modes[cause->mode].name));
    }
    return zone_place(site, cause->zone, "behaviour", arena);
}

static struct text exit_place(const struct story_cause *cause, struct arena *arena) {
    if (cause->mode > SITE_MODE_NIGHT) {
        return text_print(arena, "panel.modes[%d].exit-delay", cause->mode - SITE_MODE_NIGHT - 1);
    }
    return text_of(cause->mode == SITE_MODE_PART     ? "panel.part-exit-delay"
                    : cause->mode == SITE_MODE_NIGHT ? "panel.night-exit-delay"
                                                     : "panel.exit-delay");
}

static struct text entry_place(
        const struct site *site, const struct story_cause *cause, struct arena *arena) {
    return cause->delay < 0 || (size_t)cause->delay >= site->settings.delay_count
            ? text_of("panel.entry-delays")
            : text_print(arena, "panel.entry-delays.%.*s",
                      TEXT_ARGS(site->settings.delays[cause->delay].name));
}

static struct text person_place(const struct site *site, const struct story_cause *cause,
        const char *key, struct arena *arena) {
    return cause->person < 0 || (size_t)cause->person >= site->person_count
            ? text_of("")
            : text_print(arena, "people[%d].%s", cause->person, key);
}

static struct text reason_place(
        const struct site *site, const struct story_cause *cause, struct arena *arena) {
    switch (cause->why) {
    case PANEL_WHY_BEHAVIOUR:
    case PANEL_WHY_OFF_ROUTE:
    case PANEL_WHY_FOLLOWER_ALONE:
    case PANEL_WHY_EXIT_TRIP:
    case PANEL_WHY_EXEMPT:
    case PANEL_WHY_NOT_READY:
    case PANEL_WHY_TAMPER:
    case PANEL_WHY_FAULT:
        return behaviour_place(site, cause, arena);
    case PANEL_WHY_ENTRY_OVER:
        return entry_place(site, cause, arena);
    case PANEL_WHY_EXIT_OPEN:
    case PANEL_WHY_INTERIOR_OPEN:
    case PANEL_WHY_RESTART:
    case PANEL_WHY_NOT_COMPLETED:
        return exit_place(cause, arena);
    case PANEL_WHY_NOBODY_LEFT:
        /* Only full falls back, and by now the area is in part: its mode is no guide. */
        return cause->unwatched == SITE_NONE ? text_of("panel.exit-delay")
                                             : text_print(arena, "doors[%d]", cause->unwatched);
    case PANEL_WHY_ABORT:
    case PANEL_WHY_ABORT_OVER:
        return text_of("panel.abort-window");
    case PANEL_WHY_WRONG_CODES:
        return text_of("panel.lockout-tries");
    case PANEL_WHY_CROSS:
        return zone_place(site, cause->zone, "cross-with", arena);
    case PANEL_WHY_SWINGER:
        return text_of("panel.swinger-limit");
    case PANEL_WHY_PULSES:
        return zone_place(site, cause->zone, "pulse-count", arena);
    case PANEL_WHY_SUPERVISION:
        return zone_place(site, cause->zone, "supervised", arena);
    case PANEL_WHY_NO_REPORT:
        return zone_place(site, cause->zone, "reports", arena);
    case PANEL_WHY_CODE:
    case PANEL_WHY_DURESS:
        return person_place(site, cause, "areas", arena);
    case PANEL_WHY_USER_MODE:
        return person_place(site, cause, "modes", arena);
    case PANEL_WHY_AUTO_SET:
        return text_of("panel.auto-set-at");
    case PANEL_WHY_HOURS:
        return person_place(site, cause, "hours", arena);
    case PANEL_WHY_ACKNOWLEDGED:
    case PANEL_WHY_IGNORED:
        return text_of("panel.faults");
    case PANEL_WHY_POWER:
        return text_of("panel.mains-delay");
    case PANEL_WHY_SIREN_TIME:
        return text_of("panel.siren-time");
    case PANEL_WHY_HOLD_BACK:
    case PANEL_WHY_PATH_DOWN:
        return text_of("panel.siren-hold-back");
    case PANEL_WHY_CONFIRM:
        return text_of("panel.confirm-window");
    case PANEL_WHY_MEMORY:
    case PANEL_WHY_FORCED:
    case PANEL_WHY_NONE:
    case PANEL_WHY_COUNT:
        break;
    }
    return text_of("");
}

bool findings_nobody_unsets(const struct proof_answer *answer) {
    const struct site_routine *source = answer->routine.source;
    bool comes = false;
    bool unsets = answer->culprit != PANEL_WHY_ENTRY_OVER || source == NULL;
    for (size_t i = 0; !unsets && i < source->step_count; i++) {
        comes = comes || source->steps[i].act == SITE_ACT_COME;
        unsets = source->steps[i].act == SITE_ACT_UNSET;
    }
    return comes && !unsets;
}

struct text findings_place(const struct site *site, const struct check_routine *routine,
        const struct proof_answer *answer, const struct story_cause *cause, struct arena *arena) {
    const bool elsewhere =
            answer->promise == PROOF_TURNED_AWAY && answer->culprit != PANEL_WHY_HOURS;
    struct text place = elsewhere            ? person_place(site, cause, "areas", arena)
            : findings_nobody_unsets(answer) ? text_of("")
                                             : reason_place(site, cause, arena);
    if (place.length == 0 && !routine->usual) {
        place = text_print(arena, "routines[%zu]", routine->index);
    }
    return place;
}
