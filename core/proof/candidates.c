/* Changes worth trying. What each costs is said with it: a remedy is never free. Common practice throughout; whether a
 * change helps is not believed but proven (remedy.c). */
#include "proof/candidates.h"

#include "proof/world.h"

struct finder {
    const struct site *site;
    const struct proof_answer *answer;
    struct arena *arena;
    struct candidates *found;
};

static struct proof_edit *add(struct finder *finder, enum proof_edit_kind kind) {
    static struct proof_edit *const nowhere = NULL;
    if (finder->found->count == CANDIDATE_MAX) {
        return nowhere;
    }
    struct proof_edit *edit = &finder->found->edits[finder->found->count];
    finder->found->count++;
    *edit = (struct proof_edit){.kind = kind,
            .zone = SITE_NONE,
            .delay = SITE_NONE,
            .person = SITE_NONE,
            .way = SITE_NONE,
            .keypad = SITE_NONE,
            .area = SITE_NONE};
    return edit;
}

static const struct site_zone *zone_of(const struct finder *finder, int zone) {
    return &finder->site->zones[zone];
}

/* The mode the zone's area was in when it happened. */
static int mode_at_the_time(const struct finder *finder, int zone) {
    const int area = zone_of(finder, zone)->area;
    const struct site_routine *source = finder->answer->routine.source;
    int mode = source->starts[area].set ? source->starts[area].mode : SITE_MODE_FULL;
    for (size_t i = 0; i < finder->answer->story_count; i++) {
        const struct proof_line *line = &finder->answer->story[i];
        if (line->kind == PROOF_LINE_ACT && !line->left_out &&
                finder->answer->routine.steps[line->step].act == SITE_ACT_SET) {
            mode = finder->answer->routine.steps[line->step].mode;
        }
    }
    return mode;
}

/* ---- behaviours ------------------------------------------------------------------------------------------------- */

static bool offered(const struct finder *finder, enum site_behaviour behaviour) {
    return finder->site->panel.behaviours == 0 ||
            (finder->site->panel.behaviours >> (unsigned)behaviour & 1U) != 0;
}

static void behave_as_entry(struct finder *finder, int zone) {
    const struct site_settings *settings = &finder->site->settings;
    for (size_t delay = 0; delay < settings->delay_count && offered(finder, SITE_ENTRY); delay++) {
        struct proof_edit *edit = add(finder, PROOF_EDIT_BEHAVIOUR);
        if (edit == NULL) {
            return;
        }
        edit->zone = zone;
        edit->behaviour = SITE_ENTRY;
        edit->delay = (int)delay;
        edit->place = text_print(finder->arena, "zones[%d].behaviour", zone);
        edit->says = text_print(finder->arena, "zone %d \"%.*s\": behaviour entry, delay %.*s (%d s)",
                zone_of(finder, zone)->number, TEXT_ARGS(zone_of(finder, zone)->name),
                TEXT_ARGS(settings->delays[delay].name), settings->delays[delay].seconds_s);
        edit->price = text_print(finder->arena,
                "a burglar at this door has the same %d s before the siren",
                settings->delays[delay].seconds_s);
    }
}

static void behave_as_follower(struct finder *finder, int zone) {
    struct proof_edit *edit = offered(finder, SITE_FOLLOWER) ? add(finder, PROOF_EDIT_BEHAVIOUR) : NULL;
    if (edit == NULL) {
        return;
    }
    edit->zone = zone;
    edit->behaviour = SITE_FOLLOWER;
    edit->place = text_print(finder->arena, "zones[%d].behaviour", zone);
    edit->says = text_print(finder->arena, "zone %d \"%.*s\": behaviour follower",
            zone_of(finder, zone)->number, TEXT_ARGS(zone_of(finder, zone)->name));
    edit->price = text_of(
            "while an entry time runs, nobody is heard here; at any other time it sounds at once");
}

static void out_in_mode(struct finder *finder, int zone, int mode) {
    struct proof_edit *edit = add(finder, PROOF_EDIT_IN_MODE);
    if (edit == NULL) {
        return;
    }
    edit->zone = zone;
    edit->mode = mode;
    edit->behaviour = SITE_OUT;
    edit->place = text_print(finder->arena, "zones[%d].in", zone);
    edit->says = text_print(finder->arena, "zone %d \"%.*s\": out in mode %.*s",
            zone_of(finder, zone)->number, TEXT_ARGS(zone_of(finder, zone)->name),
            TEXT_ARGS(finder->site->settings.modes[mode].name));
    edit->price = text_print(finder->arena, "in mode %.*s nobody is heard there",
            TEXT_ARGS(finder->site->settings.modes[mode].name));
}

static void entry_in_mode(struct finder *finder, int zone, int mode) {
    const struct site_settings *settings = &finder->site->settings;
    for (size_t delay = 0; delay < settings->delay_count && offered(finder, SITE_ENTRY); delay++) {
        struct proof_edit *edit = add(finder, PROOF_EDIT_IN_MODE);
        if (edit == NULL) {
            return;
        }
        edit->zone = zone;
        edit->mode = mode;
        edit->delay = (int)delay;
        edit->behaviour = SITE_ENTRY;
        edit->place = text_print(finder->arena, "zones[%d].in", zone);
        edit->says = text_print(finder->arena,
                "zone %d \"%.*s\": in mode %.*s behaviour entry, delay %.*s (%d s)",
                zone_of(finder, zone)->number, TEXT_ARGS(zone_of(finder, zone)->name),
                TEXT_ARGS(settings->modes[mode].name), TEXT_ARGS(settings->delays[delay].name),
                settings->delays[delay].seconds_s);
        edit->price = text_print(finder->arena,
                "in mode %.*s a burglar at this door has %d s before the siren",
                TEXT_ARGS(settings->modes[mode].name), settings->delays[delay].seconds_s);
    }
}

static void hold(struct finder *finder, int zone) {
    for (int seconds = 1; seconds <= 5; seconds++) {
        struct proof_edit *edit =
                seconds > zone_of(finder, zone)->hold_s ? add(finder, PROOF_EDIT_HOLD) : NULL;
        if (edit != NULL) {
            edit->zone = zone;
            edit->seconds_s = seconds;
            edit->place = text_print(finder->arena, "zones[%d].hold", zone);
            edit->says = text_print(finder->arena, "zone %d \"%.*s\": hold %d s for its door",
                    zone_of(finder, zone)->number, TEXT_ARGS(zone_of(finder, zone)->name), seconds);
            edit->price = text_print(
                    finder->arena, "an intruder met here first is heard %d s later", seconds);
        }
    }
}

/* ---- times ------------------------------------------------------------------------------------------------------ */

/* What one keys in: steps of 5 s up to a minute, then of 15 s. */
static int32_t next_time(int32_t seconds) {
    return seconds < 60 ? seconds / 5 * 5 + 5 : seconds / 15 * 15 + 15;
}

enum { DELAY_MOST_S = 240, EXIT_MOST_S = 255 }; /* CP-01 4.2.3.1 and 4.2.2.1 as in rules dossier 1.2 */

static int32_t most(int32_t of_panel, int32_t of_rules) {
    return of_panel > 0 && of_panel < of_rules ? of_panel : of_rules;
}

static void longer_delay(struct finder *finder, int delay) {
    const struct site_delay *now = &finder->site->settings.delays[delay];
    const int32_t limit = most(finder->site->panel.entry_delay.high_s, DELAY_MOST_S);
    for (int32_t seconds = next_time(now->seconds_s); seconds <= limit; seconds = next_time(seconds)) {
        struct proof_edit *edit = add(finder, PROOF_EDIT_DELAY);
        if (edit == NULL) {
            return;
        }
        edit->delay = delay;
        edit->seconds_s = seconds;
        edit->place = text_print(finder->arena, "panel.entry-delays.%.*s", TEXT_ARGS(now->name));
        edit->says = text_print(finder->arena, "entry delay %.*s: %d s instead of %d s",
                TEXT_ARGS(now->name), seconds, now->seconds_s);
        edit->price = text_print(finder->arena, "a burglar at that door has %d s more before the siren",
                seconds - now->seconds_s);
    }
}

static void longer_exit(struct finder *finder, int mode) {
    const struct site_mode *now = &finder->site->settings.modes[mode];
    const int32_t limit = most(finder->site->panel.exit_delay.high_s, EXIT_MOST_S);
    for (int32_t seconds = next_time(now->exit_delay_s); seconds <= limit; seconds = next_time(seconds)) {
        struct proof_edit *edit = add(finder, PROOF_EDIT_EXIT);
        if (edit == NULL) {
            return;
        }
        edit->mode = mode;
        edit->seconds_s = seconds;
        edit->place = mode == SITE_MODE_FULL ? text_of("panel.exit-delay")
                                             : text_print(finder->arena, "panel.%.*s-exit-delay",
                                                       TEXT_ARGS(now->name));
        edit->says = text_print(finder->arena, "exit delay of mode %.*s: %d s instead of %d s",
                TEXT_ARGS(now->name), seconds, now->exit_delay_s);
        edit->price = text_print(
                finder->arena, "the building is set %d s later", seconds - now->exit_delay_s);
    }
}

/* ---- people, places, choices ------------------------------------------------------------------------------------ */

static void keypad_by_the_door(struct finder *finder) {
    enum { WALK_S = 2 };
    for (size_t i = 0; i < finder->answer->routine.source->step_count; i++) {
        const struct site_step *step = &finder->answer->routine.source->steps[i];
        if (step->act != SITE_ACT_COME || step->way < 0 ||
                finder->site->ways[step->way].keypad == SITE_NONE) {
            continue;
        }
        struct proof_edit *edit = add(finder, PROOF_EDIT_KEYPAD);
        if (edit == NULL) {
            return;
        }
        const struct site_way *way = &finder->site->ways[step->way];
        edit->way = step->way;
        edit->seconds_s = WALK_S;
        edit->place = text_print(finder->arena, "ways[%d].keypad", step->way);
        edit->says = text_print(finder->arena,
                "a keypad right behind the door of \"%.*s\", at most %d s to walk",
                TEXT_ARGS(way->name), WALK_S);
        edit->price = text_of("a keypad to buy and wire; out of sight from outside, or it is read");
    }
}

static void code_for_area(struct finder *finder) {
    for (size_t i = finder->answer->story_count; i-- > 0;) {
        const struct proof_line *line = &finder->answer->story[i];
        if (line->kind != PROOF_LINE_ACT || line->left_out) {
            continue;
        }
        const struct proof_step *step = &finder->answer->routine.steps[line->step];
        if (step->act != SITE_ACT_UNSET && step->act != SITE_ACT_SET) {
            continue;
        }
        for (size_t area = 0; area < finder->site->area_count; area++) {
            const struct site_person *person = &finder->site->people[step->who];
            struct proof_edit *edit = panel_bit(person->areas, (unsigned)area) ||
                            finder->site->areas[area].common
                    ? NULL
                    : add(finder, PROOF_EDIT_CODE_AREA);
            if (edit != NULL) {
                edit->person = step->who;
                edit->area = (int)area;
                edit->place = text_print(finder->arena, "people[%d].areas", step->who);
                edit->says = text_print(finder->arena, "the code of %.*s: also for area %.*s",
                        TEXT_ARGS(person->name), TEXT_ARGS(finder->site->areas[area].name));
                edit->price = text_print(finder->arena, "%.*s can unset area %.*s at any time",
                        TEXT_ARGS(person->name), TEXT_ARGS(finder->site->areas[area].name));
            }
        }
        return;
    }
}

struct choice_row {
    enum proof_choice choice;
    const char *place;
    const char *says;
    const char *price;
};

static const struct choice_row choice_rows[PROOF_CHOICE_COUNT] = {
        [PROOF_CHOICE_EXIT_RESTART] = {PROOF_CHOICE_EXIT_RESTART, "panel.exit-restart",
                "let the exit delay start again once when somebody comes back",
                "whoever slips in while it runs is given the same time once more"},
        [PROOF_CHOICE_SECOND_KEEP] = {PROOF_CHOICE_SECOND_KEEP, "panel.second-entry",
                "a second entry door keeps the delay of the first",
                "a door with a short delay has the longer one while that runs"},
        [PROOF_CHOICE_ENTRY_OPEN] = {PROOF_CHOICE_ENTRY_OPEN, "panel.entry-open-allowed",
                "allow setting while an entry door stands open",
                "a door left open shows itself at the end of the exit delay only"},
        [PROOF_CHOICE_MOTION_FREE] = {PROOF_CHOICE_MOTION_FREE, "panel.motion-blocks",
                "do not let motion block setting", "nobody is warned that somebody is still inside"},
        [PROOF_CHOICE_FAULTS_IGNORED] = {PROOF_CHOICE_FAULTS_IGNORED, "panel.faults",
                "let the panel set with a fault", "a fault can be overlooked for weeks"},
        [PROOF_CHOICE_NO_DROP] = {PROOF_CHOICE_NO_DROP, "panel.drop-to-part",
                "stay fully set though no entry door was used",
                "who stays at home and sets by mistake causes a false alarm"},
};

static void choice(struct finder *finder, enum proof_choice which) {
    struct proof_edit *edit = add(finder, PROOF_EDIT_SWITCH);
    if (edit != NULL) {
        edit->choice = which;
        edit->place = text_of(choice_rows[which].place);
        edit->says = text_of(choice_rows[which].says);
        edit->price = text_of(choice_rows[which].price);
    }
}

/* ---- what goes with which promise ------------------------------------------------------------------------------- */

static void for_a_zone(struct finder *finder, int zone) {
    const struct site_zone *keyed = zone_of(finder, zone);
    const int mode = mode_at_the_time(finder, zone);
    switch (keyed->in[mode]) {
    case SITE_ENTRY:
        if (keyed->delay[mode] != SITE_NONE) {
            longer_delay(finder, keyed->delay[mode]);
        }
        break;
    case SITE_PERIMETER:
    case SITE_DAY:
        if (mode == SITE_MODE_FULL) {
            behave_as_entry(finder, zone);
        } else {
            entry_in_mode(finder, zone, mode);
            out_in_mode(finder, zone, mode);
        }
        break;
    case SITE_FOLLOWER:
        hold(finder, zone);
        if (mode != SITE_MODE_FULL) {
            out_in_mode(finder, zone, mode);
        }
        break;
    case SITE_INTERIOR:
        behave_as_follower(finder, zone);
        if (mode != SITE_MODE_FULL) {
            out_in_mode(finder, zone, mode);
        }
        break;
    case SITE_OUT:
    case SITE_ALWAYS:
    case SITE_HOLD_UP:
    case SITE_MEDICAL:
    case SITE_FIRE:
    case SITE_GAS:
    case SITE_CO:
    case SITE_FLOOD:
    case SITE_COLD:
    case SITE_BEHAVIOUR_COUNT:
        break;
    }
}

static void for_exit(struct finder *finder) {
    choice(finder, PROOF_CHOICE_EXIT_RESTART);
    longer_exit(finder, SITE_MODE_FULL);
}

static void for_alarm(struct finder *finder) {
    if (finder->answer->culprit_zone != PANEL_NO_ZONE) {
        for_a_zone(finder, finder->answer->culprit_zone);
    }
    choice(finder, PROOF_CHOICE_SECOND_KEEP);
    keypad_by_the_door(finder);
    code_for_area(finder);
    for_exit(finder);
}

static void for_dropped(struct finder *finder) {
    for (size_t zone = 0; zone < finder->site->zone_count; zone++) {
        const struct site_zone *keyed = &finder->site->zones[zone];
        const bool at_door = keyed->device != SITE_NONE &&
                finder->site->devices[keyed->device].door != SITE_NONE;
        if (at_door && keyed->in[SITE_MODE_FULL] == SITE_PERIMETER) {
            behave_as_entry(finder, (int)zone);
        }
    }
    choice(finder, PROOF_CHOICE_NO_DROP);
}

void candidates_find(const struct site *site, const struct proof_answer *answer, struct arena *arena,
        struct candidates *ret_candidates) {
    struct finder finder = {.site = site, .answer = answer, .arena = arena, .found = ret_candidates};
    ret_candidates->count = 0;
    switch (answer->promise) {
    case PROOF_SIREN:
    case PROOF_ALARM:
    case PROOF_WARNING:
        for_alarm(&finder);
        break;
    case PROOF_EXIT_ERROR:
        for_exit(&finder);
        break;
    case PROOF_REFUSED:
        choice(&finder, PROOF_CHOICE_ENTRY_OPEN);
        choice(&finder, PROOF_CHOICE_MOTION_FREE);
        choice(&finder, PROOF_CHOICE_FAULTS_IGNORED);
        break;
    case PROOF_TURNED_AWAY:
        code_for_area(&finder);
        break;
    case PROOF_DROPPED:
        for_dropped(&finder);
        break;
    case PROOF_TROUBLE:
        if (answer->culprit_zone != PANEL_NO_ZONE) {
            for_a_zone(&finder, answer->culprit_zone);
        }
        break;
    case PROOF_HOLD_UP:
    case PROOF_DURESS:
    case PROOF_KEPT:
    case PROOF_PROMISE_COUNT:
        break;
    }
}
