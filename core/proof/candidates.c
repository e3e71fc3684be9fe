/* Changes worth trying. What each costs is said with it: a remedy is never free. Common practice throughout; whether a
 * change helps is not believed but proven (remedy.c). */
#include "proof/candidates.h"

#include "base/quantity.h"

#include "proof/world.h"

#include <string.h>

struct finder {
    const struct site *site;
    const struct proof_answer *answer;
    struct arena *arena;
    struct candidates *found;
};

static struct proof_edit *add(struct finder *finder, enum proof_edit_kind kind) {
    if (finder->found->count == CANDIDATE_MAX) {
        return NULL; /* the dearest candidates are left untried */
    }
    struct proof_edit *edit = &finder->found->edits[finder->found->count];
    finder->found->count++;
    *edit = (struct proof_edit){.kind = kind,
            .zone = SITE_NONE,
            .partner = SITE_NONE,
            .delay = SITE_NONE,
            .person = SITE_NONE,
            .way = SITE_NONE,
            .keypad = SITE_NONE,
            .area = SITE_NONE,
            .door = SITE_NONE};
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
        } else if (line->kind == PROOF_LINE_OUTPUT && line->output.kind == PANEL_OUT_SAYS &&
                line->output.message == PANEL_SAYS_DROPPED_TO_PART && line->output.area == area) {
            mode = SITE_MODE_PART;
        }
    }
    return mode;
}

/* ---- behaviours ------------------------------------------------------------------------------------------------- */

static bool offered(const struct finder *finder, enum site_behaviour behaviour) {
    return finder->site->panel.behaviours == 0 ||
            (finder->site->panel.behaviours >> (unsigned)behaviour & 1U) != 0;
}

static enum site_sense sense_of(const struct finder *finder, int zone) {
    return site_zone_sense(finder->site, zone_of(finder, zone));
}

/* Nobody comes in by a blow or a broken pane: only a contact makes an entry zone. */
static bool could_be_entry(const struct finder *finder, int zone) {
    return offered(finder, SITE_ENTRY) && sense_of(finder, zone) == SITE_CONTACT;
}

/* How near an entry delay is to a zone, 0 the nearest: its own in another mode; the one named in the zone's spoken
 * name; one that another zone of its area has; any. */
enum { NEARNESS_COUNT = 4 };

static int nearness(const struct finder *finder, int zone, int delay) {
    const struct site_zone *keyed = zone_of(finder, zone);
    const struct text name = finder->site->settings.delays[delay].name;
    bool in_area = false;
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        if (keyed->delay[mode] == delay) {
            return 0;
        }
    }
    if (text_begins(keyed->name, name)) {
        return 1;
    }
    for (size_t i = 0; i < finder->site->zone_count; i++) {
        const struct site_zone *other = &finder->site->zones[i];
        in_area = in_area || (other->area == keyed->area && other->delay[SITE_MODE_FULL] == delay);
    }
    return in_area ? 2 : 3;
}

static void entry_with(struct finder *finder, int zone, int delay) {
    const struct site_delay *keyed = &finder->site->settings.delays[delay];
    struct proof_edit *edit = add(finder, PROOF_EDIT_BEHAVIOUR);
    if (edit == NULL) {
        return;
    }
    edit->zone = zone;
    edit->behaviour = SITE_ENTRY;
    edit->delay = delay;
    edit->place = text_print(finder->arena, "zones[%d].behaviour", zone);
    edit->says = text_print(finder->arena, "zone %d \"%.*s\": behaviour entry, delay %.*s (%d s)",
            zone_of(finder, zone)->number, TEXT_ARGS(zone_of(finder, zone)->name),
            TEXT_ARGS(keyed->name), keyed->seconds_s);
    edit->price = text_print(finder->arena,
            "a burglar at this door has the same %d s before the siren", keyed->seconds_s);
}

static void entry_in_mode_with(struct finder *finder, int zone, int mode, int delay) {
    const struct site_delay *keyed = &finder->site->settings.delays[delay];
    const struct text mode_name = finder->site->settings.modes[mode].name;
    struct proof_edit *edit = add(finder, PROOF_EDIT_IN_MODE);
    if (edit == NULL) {
        return;
    }
    edit->zone = zone;
    edit->mode = mode;
    edit->delay = delay;
    edit->behaviour = SITE_ENTRY;
    edit->place = text_print(finder->arena, "zones[%d].in", zone);
    edit->says = text_print(finder->arena,
            "zone %d \"%.*s\": in mode %.*s behaviour entry, delay %.*s (%d s)",
            zone_of(finder, zone)->number, TEXT_ARGS(zone_of(finder, zone)->name),
            TEXT_ARGS(mode_name), TEXT_ARGS(keyed->name), keyed->seconds_s);
    edit->price = text_print(finder->arena,
            "in mode %.*s a burglar at this door has %d s before the siren", TEXT_ARGS(mode_name),
            keyed->seconds_s);
}

/* Entry in the given mode, or in all (SITE_NONE), with each delay there is, the nearest first. */
static void behave_as_entry(struct finder *finder, int zone, int mode) {
    const size_t count = could_be_entry(finder, zone) ? finder->site->settings.delay_count : 0;
    for (int near = 0; near < NEARNESS_COUNT; near++) {
        for (size_t delay = 0; delay < count; delay++) {
            if (nearness(finder, zone, (int)delay) != near) {
                continue;
            }
            if (mode == SITE_NONE) {
                entry_with(finder, zone, (int)delay);
            } else {
                entry_in_mode_with(finder, zone, mode, (int)delay);
            }
        }
    }
}

static void more_pulses(struct finder *finder, int zone) {
    enum { PULSES_MOST = 3 };
    const enum site_sense sense = sense_of(finder, zone);
    const int32_t now = zone_of(finder, zone)->pulse_count;
    for (int32_t count = now + 1; sense == SITE_SHOCK && count <= PULSES_MOST; count++) {
        struct proof_edit *edit = add(finder, PROOF_EDIT_PULSES);
        if (edit != NULL) {
            edit->zone = zone;
            edit->count = count;
            edit->place = text_print(finder->arena, "zones[%d].pulse-count", zone);
            edit->says =
                    text_print(finder->arena, "zone %d \"%.*s\": trips at %d blows within %d s",
                            zone_of(finder, zone)->number, TEXT_ARGS(zone_of(finder, zone)->name),
                            count, zone_of(finder, zone)->pulse_window_s);
            edit->price = text_print(finder->arena,
                    "a burglar who needs fewer than %d blows there is not heard", count);
        }
    }
}

static bool same_first_word(struct text a, struct text b) {
    size_t length = 0;
    while (length < a.length && a.start[length] != ' ') {
        length++;
    }
    return length < a.length && b.length > length && b.start[length] == ' ' &&
            memcmp(a.start, b.start, length) == 0;
}

/* Two detectors that trip, of one area, named for one place: "waiting room east" and "waiting room west". Whether both
 * watch the same space only somebody who stands there can see; the price says so. */
static void pair_up(struct finder *finder, int zone) {
    const struct site_zone *one = zone_of(finder, zone);
    for (size_t i = 0; i < finder->site->zone_count; i++) {
        const struct site_zone *other = &finder->site->zones[i];
        if ((int)i == zone || one->cross_with != SITE_NONE || other->cross_with != SITE_NONE ||
                other->area != one->area || !same_first_word(one->name, other->name) ||
                site_sense_is_level(sense_of(finder, zone)) ||
                site_sense_is_level(sense_of(finder, (int)i))) {
            continue;
        }
        struct proof_edit *edit = add(finder, PROOF_EDIT_CROSS);
        if (edit != NULL) {
            edit->zone = zone;
            edit->partner = (int)i;
            edit->place = text_print(finder->arena, "zones[%d].cross-with", zone);
            edit->says = text_print(finder->arena,
                    "zones %d and %d as a cross-zone pair: both must trip within %d s", one->number,
                    other->number, finder->site->settings.cross_window_s);
            edit->price = text_of("an intruder whom only one of the two sees is not heard: both "
                                  "must watch the same space");
        }
    }
}

static void behave_as_follower(struct finder *finder, int zone) {
    struct proof_edit *edit =
            offered(finder, SITE_FOLLOWER) ? add(finder, PROOF_EDIT_BEHAVIOUR) : NULL;
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

/* What one keys in: steps of 5 s up to a minute, then of 15 s; on the steps of the panel, if it has any. */
static int32_t next_time(const struct finder *finder, enum site_setting setting, int32_t seconds) {
    const int32_t step = finder->site->panel.steps[setting];
    const int32_t next = seconds < 60 ? seconds / 5 * 5 + 5 : seconds / 15 * 15 + 15;
    return step <= 0 ? next : (next + step - 1) / step * step;
}

static bool takes(const struct finder *finder, enum site_setting setting, int32_t value) {
    return site_panel_takes(&finder->site->panel, setting, value);
}

enum {
    DELAY_MOST_S = 240,
    EXIT_MOST_S = 255
}; /* CP-01 4.2.3.1 and 4.2.2.1 as in rules dossier 1.2 */

static int32_t most(int32_t of_panel, int32_t of_rules) {
    return of_panel > 0 && of_panel < of_rules ? of_panel : of_rules;
}

static void longer_delay(struct finder *finder, int delay) {
    const struct site_delay *now = &finder->site->settings.delays[delay];
    const int32_t limit = most(finder->site->panel.entry_delay.high_s, DELAY_MOST_S);
    for (int32_t seconds = next_time(finder, SITE_SET_ENTRY_DELAY, now->seconds_s);
            seconds <= limit; seconds = next_time(finder, SITE_SET_ENTRY_DELAY, seconds)) {
        struct proof_edit *edit =
                takes(finder, SITE_SET_ENTRY_DELAY, seconds) ? add(finder, PROOF_EDIT_DELAY) : NULL;
        if (edit == NULL) {
            continue;
        }
        edit->delay = delay;
        edit->seconds_s = seconds;
        edit->place = text_print(finder->arena, "panel.entry-delays.%.*s", TEXT_ARGS(now->name));
        edit->says = text_print(finder->arena, "entry delay %.*s: %d s instead of %d s",
                TEXT_ARGS(now->name), seconds, now->seconds_s);
        edit->price = text_print(finder->arena,
                "a burglar at that door has %d s more before the siren", seconds - now->seconds_s);
    }
}

/* For a zone that is about to wait for a delay: whichever it will be. */
static void longer_delays(struct finder *finder) {
    for (size_t delay = 0; delay < finder->site->settings.delay_count; delay++) {
        longer_delay(finder, (int)delay);
    }
}

static enum site_setting exit_setting(int mode) {
    return mode == SITE_MODE_PART     ? SITE_SET_PART_EXIT_DELAY
            : mode == SITE_MODE_NIGHT ? SITE_SET_NIGHT_EXIT_DELAY
                                      : SITE_SET_EXIT_DELAY;
}

static void exit_of(struct finder *finder, int mode, int32_t seconds) {
    const struct site_mode *now = &finder->site->settings.modes[mode];
    struct proof_edit *edit =
            takes(finder, exit_setting(mode), seconds) ? add(finder, PROOF_EDIT_EXIT) : NULL;
    if (edit != NULL) {
        edit->mode = mode;
        edit->seconds_s = seconds;
        edit->place = mode == SITE_MODE_FULL
                ? text_of("panel.exit-delay")
                : text_print(finder->arena, "panel.%.*s-exit-delay", TEXT_ARGS(now->name));
        edit->says = text_print(finder->arena, "exit delay of mode %.*s: %d s instead of %d s",
                TEXT_ARGS(now->name), seconds, now->exit_delay_s);
        edit->price = text_print(
                finder->arena, "the building is watched %d s later", seconds - now->exit_delay_s);
    }
}

static void longer_exit(struct finder *finder, int mode) {
    const struct site_mode *now = &finder->site->settings.modes[mode];
    const int32_t limit = most(finder->site->panel.exit_delay.high_s, EXIT_MOST_S);
    const enum site_setting setting = exit_setting(mode);
    for (int32_t seconds = next_time(finder, setting, now->exit_delay_s); seconds <= limit;
            seconds = next_time(finder, setting, seconds)) {
        exit_of(finder, mode, seconds);
    }
}

/* Who sets night or part and then goes out needs a way out as in full: the same time. */
static void exit_as_in_full(struct finder *finder) {
    const struct site_mode *modes = finder->site->settings.modes;
    const struct proof_routine *routine = &finder->answer->routine;
    uint32_t tried = 1U << SITE_MODE_FULL;
    for (size_t i = 0; i < routine->step_count; i++) {
        const struct proof_step *step = &routine->steps[i];
        if (step->act == SITE_ACT_SET && step->mode >= 0 && (tried >> step->mode & 1U) == 0) {
            tried |= 1U << step->mode;
            if (modes[step->mode].exit_delay_s < modes[SITE_MODE_FULL].exit_delay_s) {
                exit_of(finder, step->mode, modes[SITE_MODE_FULL].exit_delay_s);
            }
        }
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

static bool unsets_with_code(const struct finder *finder, size_t person) {
    const struct proof_routine *routine = &finder->answer->routine;
    for (size_t i = 0; i < routine->step_count; i++) {
        const struct proof_step *step = &routine->steps[i];
        if (step->act == SITE_ACT_UNSET && step->use == SITE_USE_CODE && step->who == (int)person) {
            return true;
        }
    }
    return false;
}

static void fob_instead_of_code(struct finder *finder) {
    for (size_t i = 0; i < finder->site->person_count; i++) {
        const struct site_person *person = &finder->site->people[i];
        struct proof_edit *edit = unsets_with_code(finder, i) ? add(finder, PROOF_EDIT_FOB) : NULL;
        if (edit != NULL) {
            edit->person = (int)i;
            edit->place = text_print(finder->arena, "people[%zu].fob", i);
            edit->says = text_print(finder->arena,
                    "a fob for %.*s, who unsets with it instead of a code",
                    TEXT_ARGS(person->name));
            edit->price = text_of("a fob to buy; whoever finds it or takes it opens the house");
        }
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
            struct proof_edit *edit =
                    panel_bit(person->areas, (unsigned)area) || finder->site->areas[area].common
                    ? NULL
                    : add(finder, PROOF_EDIT_CODE_AREA);
            if (edit != NULL) {
                edit->person = step->who;
                edit->area = (int)area;
                edit->place = text_print(finder->arena, "people[%d].areas", step->who);
                edit->says = text_print(finder->arena, "the code of %.*s: also for area %.*s",
                        TEXT_ARGS(person->name), TEXT_ARGS(finder->site->areas[area].name));
                edit->price =
                        text_print(finder->arena, "the code of %.*s opens area %.*s at any time",
                                TEXT_ARGS(person->name), TEXT_ARGS(finder->site->areas[area].name));
            }
        }
        return;
    }
}

/* Whoever asked last, for the mode asked for. */
static void code_for_mode(struct finder *finder) {
    for (size_t i = finder->answer->story_count; i-- > 0;) {
        const struct proof_line *line = &finder->answer->story[i];
        if (line->kind != PROOF_LINE_ACT || line->left_out ||
                finder->answer->routine.steps[line->step].act != SITE_ACT_SET) {
            continue;
        }
        const struct proof_step *step = &finder->answer->routine.steps[line->step];
        const struct text who = finder->site->people[step->who].name;
        const struct text mode = finder->site->settings.modes[step->mode].name;
        struct proof_edit *edit = add(finder, PROOF_EDIT_CODE_MODE);
        if (edit != NULL) {
            edit->person = step->who;
            edit->mode = step->mode;
            edit->place = text_print(finder->arena, "people[%d].modes", step->who);
            edit->says = text_print(finder->arena, "the code and fob of %.*s: also for mode %.*s",
                    TEXT_ARGS(who), TEXT_ARGS(mode));
            edit->price = text_print(finder->arena,
                    finder->site->words == SITE_WORDS_US
                            ? "the code of %.*s arms in mode %.*s at any time"
                            : "the code of %.*s sets in mode %.*s at any time",
                    TEXT_ARGS(who), TEXT_ARGS(mode));
        }
        return;
    }
}

/* ---- hours ------------------------------------------------------------------------------------------------------ */

static void hours_of_code(struct finder *finder, int who, struct span hours, int32_t longer_s) {
    const struct site_person *person = &finder->site->people[who];
    struct proof_edit *edit = add(finder, PROOF_EDIT_HOURS);
    struct text_builder says;
    if (edit == NULL) {
        return;
    }
    edit->person = who;
    edit->hours = hours;
    edit->place = text_print(finder->arena, "people[%d].hours", who);
    text_builder_init(&says, finder->arena);
    if (longer_s == 0) {
        text_add_format(
                &says, "the code and fob of %.*s: taken at every hour", TEXT_ARGS(person->name));
        edit->price = text_print(finder->arena,
                "whoever knows the code of %.*s or has the fob can come at any hour",
                TEXT_ARGS(person->name));
    } else {
        text_add_format(&says, "hours of %.*s: ", TEXT_ARGS(person->name));
        quantity_add_clock_from_to(&says, hours);
        text_add_string(&says, " instead of ");
        quantity_add_clock_from_to(&says, person->hours);
        edit->price = text_print(finder->arena,
                "the code and fob of %.*s are taken %d min longer every day",
                TEXT_ARGS(person->name), longer_s / 60);
    }
    edit->says = text_built(&says);
}

/* From the instant at which the code was turned away: over the nearer border first, then over both, further and
 * further. */
static void wider_hours(struct finder *finder) {
    enum { DAY_S = 86400 };
    static const int32_t steps_s[] = {900, 1800, 3600, 7200, 14400};
    const struct proof_line *turned = NULL;
    int who = SITE_NONE;
    for (size_t i = finder->answer->story_count; i-- > 0 && who == SITE_NONE;) {
        const struct proof_line *line = &finder->answer->story[i];
        turned = line->kind == PROOF_LINE_OUTPUT && line->bad ? line : turned;
        who = turned != NULL && line->kind == PROOF_LINE_ACT ? line->person : SITE_NONE;
    }
    if (who == SITE_NONE || !finder->site->people[who].has_hours) {
        return;
    }
    const struct span hours = finder->site->people[who].hours;
    const int32_t at_s = (finder->answer->routine.begins_s + turned->at_s) % DAY_S;
    const int32_t early_s = (hours.low_s - at_s + DAY_S) % DAY_S;
    const int32_t late_s = (at_s - hours.high_s % DAY_S + DAY_S) % DAY_S;
    for (size_t i = 0; i < sizeof steps_s / sizeof *steps_s; i++) {
        for (int turn = 0; turn < 2; turn++) {
            const bool earlier = (turn == 0) == (early_s <= late_s);
            const int32_t low_s =
                    earlier ? (hours.low_s - steps_s[i] + DAY_S) % DAY_S : hours.low_s;
            const int32_t length_s = hours.high_s - hours.low_s + steps_s[i];
            if (steps_s[i] > (earlier ? early_s : late_s) && length_s < DAY_S) {
                hours_of_code(finder, who, span_of(low_s, low_s + length_s), steps_s[i]);
            }
        }
        const int32_t low_s = (hours.low_s - steps_s[i] + DAY_S) % DAY_S;
        const int32_t length_s = hours.high_s - hours.low_s + 2 * steps_s[i];
        if (length_s < DAY_S && (steps_s[i] > early_s || steps_s[i] > late_s)) {
            hours_of_code(finder, who, span_of(low_s, low_s + length_s), 2 * steps_s[i]);
        }
    }
    hours_of_code(finder, who, span_of(0, 0), 0);
}

static bool has_zone(const struct site *site, int door) {
    for (size_t i = 0; i < site->zone_count; i++) {
        if (door != SITE_NONE && site_zone_door(site, &site->zones[i]) == door) {
            return true;
        }
    }
    return false;
}

/* The entry delay that most zones of the area have; the first of equals. */
static int delay_of_area(const struct site *site, int area) {
    int best = 0;
    size_t best_count = 0;
    for (size_t delay = 0; delay < site->settings.delay_count; delay++) {
        size_t count = 0;
        for (size_t i = 0; i < site->zone_count; i++) {
            count += site->zones[i].area == area && site->zones[i].behaviour == SITE_ENTRY &&
                    site->zones[i].delay[SITE_MODE_FULL] == (int)delay;
        }
        best = count > best_count ? (int)delay : best;
        best_count = count > best_count ? count : best_count;
    }
    return best;
}

static void contact_on(struct finder *finder, int door) {
    const struct site *site = finder->site;
    const int area = finder->answer->culprit_area;
    const int contact = proof_contact_profile(site);
    const int32_t number = site_free_number(site, contact == SITE_NONE,
            contact != SITE_NONE && site->device_profiles[contact].radio);
    if (number == SITE_NONE || site->zone_count >= SITE_ZONE_MAX ||
            site->settings.delay_count == 0 || (size_t)area >= site->area_count) {
        return;
    }
    struct proof_edit *edit = add(finder, PROOF_EDIT_CONTACT);
    if (edit == NULL) {
        return;
    }
    edit->door = door;
    edit->area = area;
    edit->count = number;
    edit->delay = delay_of_area(site, area);
    const struct site_delay *delay = &site->settings.delays[edit->delay];
    edit->place = text_print(finder->arena, "doors[%d]", door);
    edit->says = text_print(finder->arena,
            "a contact on \"%.*s\": zone %d, area %.*s, behaviour entry, delay %.*s (%d s)",
            TEXT_ARGS(site->doors[door].name), number, TEXT_ARGS(site->areas[area].name),
            TEXT_ARGS(delay->name), delay->seconds_s);
    edit->price = text_of("a contact to buy and fit");
}

/* Doors of the routine that lead outside and that nothing watches. */
static void contacts_on_the_way(struct finder *finder) {
    const struct proof_routine *routine = &finder->answer->routine;
    for (size_t i = 0; i < routine->step_count; i++) {
        const int door = routine->steps[i].door;
        bool seen = door < 0 || !finder->site->doors[door].outside || has_zone(finder->site, door);
        for (size_t k = 0; k < i && !seen; k++) {
            seen = routine->steps[k].door == door;
        }
        if (!seen) {
            contact_on(finder, door);
        }
    }
}

/* setting, value: what is keyed in for it; ONE_MORE: than now. */
enum { ONE_MORE = -1 };

struct choice_row {
    enum site_setting setting;
    int32_t value;
    const char *place;
    const char *says;
    const char *price;
};

static const struct choice_row choice_rows[PROOF_CHOICE_COUNT] = {
        [PROOF_CHOICE_EXIT_RESTART] = {SITE_SET_EXIT_RESTART, true, "panel.exit-restart",
                "let the exit delay start again once when somebody comes back",
                "whoever slips in while it runs is given the same time once more"},
        [PROOF_CHOICE_SECOND_KEEP] = {SITE_SET_SECOND_ENTRY, SITE_SECOND_KEEP, "panel.second-entry",
                "a second entry door keeps the delay of the first",
                "a door with a short delay has the longer one while that runs"},
        [PROOF_CHOICE_ENTRY_OPEN] = {SITE_SET_ENTRY_OPEN_ALLOWED, true, "panel.entry-open-allowed",
                "allow setting while an entry door stands open",
                "a door left open shows itself at the end of the exit delay only"},
        [PROOF_CHOICE_MOTION_FREE] = {SITE_SET_MOTION_BLOCKS, false, "panel.motion-blocks",
                "do not let motion block setting",
                "nobody is warned that somebody is still inside"},
        [PROOF_CHOICE_FAULTS_IGNORED] = {SITE_SET_FAULTS, SITE_FAULT_IGNORE, "panel.faults",
                "let the panel go ahead with a fault", "a fault can be overlooked for weeks"},
        [PROOF_CHOICE_NO_DROP] = {SITE_SET_DROP_TO_PART, false, "panel.drop-to-part",
                "stay in full though no entry door was used",
                "who stays at home and sets by mistake causes a false alarm"},
        [PROOF_CHOICE_POSTPONE] = {SITE_SET_AUTO_POSTPONE_COUNT, ONE_MORE,
                "panel.auto-postpone-count", "let the automatic setting be put off once more",
                "on a day when everybody forgets, the building is watched later"},
};

static void choice(struct finder *finder, enum proof_choice which) {
    const struct choice_row *row = &choice_rows[which];
    const int32_t value = row->value != ONE_MORE
            ? row->value
            : site_setting_value(&finder->site->settings, row->setting) + 1;
    struct proof_edit *edit =
            takes(finder, row->setting, value) ? add(finder, PROOF_EDIT_SWITCH) : NULL;
    if (edit != NULL) {
        edit->choice = which;
        edit->place = text_of(row->place);
        edit->says = text_of(row->says);
        edit->price = text_of(row->price);
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
        more_pulses(finder, zone);
        if (mode == SITE_MODE_FULL) {
            behave_as_entry(finder, zone, SITE_NONE);
        } else {
            behave_as_entry(finder, zone, mode);
            out_in_mode(finder, zone, mode);
        }
        longer_delays(finder);
        break;
    case SITE_FOLLOWER:
        hold(finder, zone);
        pair_up(finder, zone);
        if (mode != SITE_MODE_FULL) {
            out_in_mode(finder, zone, mode);
        }
        break;
    case SITE_INTERIOR:
        behave_as_follower(finder, zone);
        pair_up(finder, zone);
        if (mode != SITE_MODE_FULL) {
            out_in_mode(finder, zone, mode);
        }
        longer_delays(finder);
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

static bool has_act(const struct finder *finder, enum site_act act) {
    const struct proof_routine *routine = &finder->answer->routine;
    for (size_t i = 0; i < routine->step_count; i++) {
        if (routine->steps[i].act == act) {
            return true;
        }
    }
    return false;
}

static void for_exit(struct finder *finder) {
    choice(finder, PROOF_CHOICE_EXIT_RESTART);
    exit_as_in_full(finder);
    longer_exit(finder, SITE_MODE_FULL);
}

static void for_alarm(struct finder *finder) {
    if (finder->answer->culprit_zone != PANEL_NO_ZONE) {
        for_a_zone(finder, finder->answer->culprit_zone);
    }
    choice(finder, PROOF_CHOICE_SECOND_KEEP);
    contacts_on_the_way(finder);
    fob_instead_of_code(finder);
    keypad_by_the_door(finder);
    code_for_area(finder);
    for_exit(finder);
    if (has_act(finder, SITE_ACT_POSTPONE)) {
        choice(finder, PROOF_CHOICE_POSTPONE);
    }
}

static void for_dropped(struct finder *finder) {
    contacts_on_the_way(finder);
    for (size_t zone = 0; zone < finder->site->zone_count; zone++) {
        const struct site_zone *keyed = &finder->site->zones[zone];
        const bool at_door = site_zone_door(finder->site, keyed) != SITE_NONE;
        if (at_door && keyed->in[SITE_MODE_FULL] == SITE_PERIMETER) {
            behave_as_entry(finder, (int)zone, SITE_NONE);
        }
    }
    /* Whoever is slow to the door is seen leaving by an exit time that lasts. */
    longer_exit(finder, SITE_MODE_FULL);
    choice(finder, PROOF_CHOICE_NO_DROP);
}

static void find(struct finder *finder) {
    const struct proof_answer *answer = finder->answer;
    switch (answer->promise) {
    case PROOF_SIREN:
    case PROOF_ALARM:
    case PROOF_WARNING:
        for_alarm(finder);
        break;
    case PROOF_EXIT_ERROR:
        for_exit(finder);
        break;
    case PROOF_REFUSED:
        if (answer->culprit == PANEL_WHY_USER_MODE) {
            code_for_mode(finder);
            break;
        }
        choice(finder, PROOF_CHOICE_ENTRY_OPEN);
        choice(finder, PROOF_CHOICE_MOTION_FREE);
        choice(finder, PROOF_CHOICE_FAULTS_IGNORED);
        break;
    case PROOF_TURNED_AWAY:
        if (answer->culprit == PANEL_WHY_HOURS) {
            wider_hours(finder);
            break;
        }
        code_for_area(finder);
        break;
    case PROOF_DROPPED:
        for_dropped(finder);
        break;
    case PROOF_TROUBLE:
        if (answer->culprit_zone != PANEL_NO_ZONE) {
            for_a_zone(finder, answer->culprit_zone);
        }
        break;
    case PROOF_HOLD_UP:
    case PROOF_DURESS:
    case PROOF_KEPT:
    case PROOF_PROMISE_COUNT:
        break;
    }
}

outcome candidates_find(const struct site *site, const struct proof_answer *answer,
        struct arena *arena, struct candidates *ret_candidates, struct problem *ret_problem) {
    struct finder finder = {
            .site = site, .answer = answer, .arena = arena, .found = ret_candidates};
    ret_candidates->count = 0;
    find(&finder);
    for (size_t i = 0; i < ret_candidates->count; i++) {
        const struct proof_edit *edit = &ret_candidates->edits[i];
        if (edit->says.start == NULL || edit->price.start == NULL || edit->place.start == NULL) {
            FAIL(ret_problem, PROBLEM_MEMORY, "", "there is no memory left to word a remedy");
        }
    }
    return outcome_good();
}
