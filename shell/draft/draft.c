#include "draft/draft.h"

#include "base/quantity.h"
#include "document/document.h"

/* Common practice; the document's own defaults of a person (notices 2..3 s, codes-in 4..9 s), and a door's closing. */
enum {
    NOTICES_S = 3,
    CODE_S = 9,
    CLOSES_S = 3,
    AGAIN_S = 10,
    HEARD_S = 2, /* until the panel hears of a radio contact */
    SPARE_S = 3,
    STEP_S = 5,
    LEAST_S = 30,
    TOGETHER_S = 60 /* draft_usual_abort_s */
};

size_t draft_zone_count(const struct draft *draft) {
    size_t count = draft->detector_count;
    for (size_t i = 0; i < draft->door_count; i++) {
        count += draft->doors[i].contact.length > 0;
    }
    return count;
}

bool draft_is_used(const struct draft *draft) {
    for (size_t i = 0; i < draft->door_count; i++) {
        if (draft->doors[i].users != 0) {
            return true;
        }
    }
    return false;
}

static int32_t slowest_walk_s(const struct draft *draft) {
    int32_t most_s = 0;
    for (size_t i = 0; i < draft->door_count; i++) {
        const struct draft_door *door = &draft->doors[i];
        most_s = door->users != 0 && door->walk.high_s > most_s ? door->walk.high_s : most_s;
    }
    return most_s;
}

/* What is left of it when the clock is a tenth fast must do. */
static int32_t with_tolerance_s(int32_t needed_s) {
    const int32_t nominal_s = (needed_s * 10 + 8) / 9;
    const int32_t rounded_s = (nominal_s + STEP_S - 1) / STEP_S * STEP_S;
    return rounded_s < LEAST_S ? LEAST_S : rounded_s;
}

/* Whoever walks with a stick takes two and a half times as long (as the usual routine has it), and keys no slower than
 * this. */
static int32_t frail_walk_s(const struct draft *draft) {
    return (slowest_walk_s(draft) * 5 + 1) / 2;
}

static int32_t longer_s(int32_t a_s, int32_t b_s) {
    return a_s > b_s ? a_s : b_s;
}

int32_t draft_usual_entry_s(const struct draft *draft) {
    const int32_t mistyped_s = slowest_walk_s(draft) + 2 * (NOTICES_S + CODE_S) + AGAIN_S;
    const int32_t frail_s = frail_walk_s(draft) + NOTICES_S + AGAIN_S + HEARD_S;
    return with_tolerance_s(longer_s(mistyped_s, frail_s) + SPARE_S);
}

int32_t draft_usual_exit_s(const struct draft *draft) {
    const int32_t mistyped_s = slowest_walk_s(draft) + CLOSES_S + CODE_S + AGAIN_S;
    const int32_t frail_s = frail_walk_s(draft) + CLOSES_S + HEARD_S;
    return with_tolerance_s(longer_s(mistyped_s, frail_s) + SPARE_S);
}

int32_t draft_usual_abort_s(const struct draft *draft, struct span range) {
    enum { MOST_S = 30 };
    const int32_t left_s = TOGETHER_S - draft->entry_s;
    const int32_t wanted_s = left_s < 0 ? 0 : left_s > MOST_S ? MOST_S : left_s;
    return wanted_s < range.low_s ? range.low_s : wanted_s > range.high_s ? range.high_s : wanted_s;
}

/* ---- text -------------------------------------------------------------------------------------------------------- */

static void add_quoted(struct text_builder *out, struct text value) {
    text_add(out, document_quote(out->arena, value));
}

static void add_joined(struct text_builder *out, const char *before, struct text a, const char *b) {
    text_add_string(out, before);
    add_quoted(out, text_print(out->arena, "%.*s%s", TEXT_ARGS(a), b));
}

static const char *kind_of(enum site_sense sense) {
    static const char *const kinds[SITE_SENSE_COUNT] = {
            [SITE_CONTACT] = " contact",
            [SITE_SMOKE] = " smoke",
            [SITE_GAS_SENSE] = " gas",
            [SITE_WATER] = " flood",
            [SITE_MOTION] = " motion",
            [SITE_SHOCK] = " shock",
            [SITE_GLASS] = " glass",
            [SITE_BUTTON] = " button",
    };
    return kinds[sense];
}

static bool ends_with(struct text name, const char *end) {
    const struct text wanted = text_of(end);
    return name.length >= wanted.length &&
            text_equal((struct text){.start = name.start + name.length - wanted.length,
                               .length = wanted.length},
                    wanted);
}

/* "hall motion", but "kitchen smoke" where the room is called so already. */
static void add_device(
        struct text_builder *out, const char *before, const struct draft_detector *detector) {
    const char *kind = kind_of(detector->sense);
    add_joined(out, before, detector->name, ends_with(detector->name, kind) ? "" : kind);
}

static void add_contact(
        struct text_builder *out, const char *before, const struct draft_door *door) {
    add_joined(out, before, door->name, " contact");
}

/* What the zone of such a device usually is (common practice). */
static enum site_behaviour behaviour_of(const struct draft_detector *detector) {
    switch (detector->sense) {
    case SITE_MOTION:
        return detector->doors != 0 ? SITE_FOLLOWER : SITE_INTERIOR;
    case SITE_SMOKE:
        return SITE_FIRE;
    case SITE_GAS_SENSE:
        return SITE_CO;
    case SITE_WATER:
        return SITE_FLOOD;
    case SITE_BUTTON:
        return SITE_HOLD_UP;
    case SITE_CONTACT:
    case SITE_SHOCK:
    case SITE_GLASS:
    case SITE_SENSE_COUNT:
        break;
    }
    return SITE_PERIMETER;
}

static void add_head(const struct draft *draft, struct text_builder *out) {
    text_add_string(out,
            "# A first site file, from questions and answers. lintel check says what does not fit "
            "yet; docs/site-file.md lists\n"
            "# every key. Every time carries its unit; 4..9 s means \"between 4 and 9 "
            "seconds\".\n\n"
            "site: {name: ");
    add_quoted(out, draft->name);
    text_add_format(out, ", words: %.*s, rules: [house", TEXT_ARGS(draft->words));
    if (draft->standard.length > 0) {
        text_add_string(out, ", ");
        add_quoted(out, draft->standard);
    }
    text_add_string(out, "]}\n\n");
    text_add_string(out, "# What is keyed in for the panel as a whole.\npanel:\n  profile: ");
    add_quoted(out, draft->panel);
    text_add_string(out, "\n  exit-delay: ");
    quantity_add_seconds(out, draft->exit_s);
    if (draft->part.used) {
        text_add_string(out, "\n  part-exit-delay: ");
        quantity_add_seconds(out, draft->exit_s);
        text_add_string(out, "          # some go out, so there is a way out as well");
    }
    text_add_string(out,
            draft->night.used ? "\n  night-exit-delay: 0 s          # night is for going to bed"
                              : "");
    text_add_string(out, "\n  abort-window: ");
    quantity_add_seconds(out, draft->abort_s);
    text_add_string(out,
            draft->entry_s + draft->abort_s <= TOGETHER_S
                    ? "             # entry delay and abort window together: 60 s at most\n"
                    : "             # with the entry delay more than 60 s: lintel check says why "
                      "not\n");
}

static void add_delays(const struct draft *draft, struct text_builder *out) {
    bool any = false;
    for (size_t i = 0; i < draft->door_count; i++) {
        const struct draft_door *door = &draft->doors[i];
        if (door->users != 0 && door->contact.length > 0) {
            text_add_string(out, any ? ", " : "  entry-delays: {");
            add_quoted(out, door->name);
            text_add_string(out, ": ");
            quantity_add_seconds(out, draft->entry_s);
            any = true;
        }
    }
    text_add_string(out, any ? "}\n" : "");
}

static void add_areas(const struct draft *draft, struct text_builder *out) {
    text_add_string(out, "\nareas: [");
    for (size_t i = 0; i < draft->area_count; i++) {
        add_joined(out, i > 0 ? ", {name: " : "{name: ", draft->areas[i], "");
        text_add_string(out, "}");
    }
    text_add_string(out, "]\nkeypads:\n");
    for (size_t i = 0; i < draft->area_count; i++) {
        add_joined(out, "  - {name: ", draft->keypads[i], "");
        if (draft->area_count > 1) {
            add_joined(out, ", areas: [", draft->areas[i], "");
        }
        text_add_string(out, draft->area_count > 1 ? "]}\n" : "}\n");
    }
}

static void add_doors(const struct draft *draft, struct text_builder *out) {
    if (draft->door_count > 0) {
        text_add_string(out, "\ndoors:\n");
    }
    for (size_t i = 0; i < draft->door_count; i++) {
        add_joined(out, "  - {name: ", draft->doors[i].name, "");
        text_add_string(out, ", outside: yes}\n");
    }
}

static void add_devices(const struct draft *draft, struct text_builder *out) {
    if (draft_zone_count(draft) == 0 && draft->siren.length == 0) {
        return;
    }
    text_add_string(out,
            "\n# Add the serial number of each device by radio, in quotes: serial: \"0417 "
            "221\".\ndevices:\n");
    for (size_t i = 0; i < draft->door_count; i++) {
        if (draft->doors[i].contact.length > 0) {
            add_contact(out, "  - {name: ", &draft->doors[i]);
            add_joined(out, ", profile: ", draft->doors[i].contact, "");
            add_joined(out, ", on: ", draft->doors[i].name, "");
            text_add_string(out, "}\n");
        }
    }
    for (size_t i = 0; i < draft->detector_count; i++) {
        const struct draft_detector *detector = &draft->detectors[i];
        add_device(out, "  - {name: ", detector);
        add_joined(out, ", profile: ", detector->profile, "");
        text_add_string(out, "}\n");
    }
    if (draft->siren.length > 0) {
        add_joined(out, "  - {name: siren, profile: ", draft->siren, "");
        text_add_string(out, "}\n");
    }
}

/* "[front, door]": the spoken words are the name's words. */
static void add_says(struct text_builder *out, struct text name) {
    text_add_string(out, ", says: [");
    for (size_t i = 0, words = 0; i < name.length; words++) {
        size_t end = i;
        while (end < name.length && name.start[end] != ' ') {
            end++;
        }
        if (end > i) {
            add_joined(out, words > 0 ? ", " : "",
                    (struct text){.start = name.start + i, .length = end - i}, "");
        }
        i = end + 1;
    }
    text_add_string(out, "]");
}

static void begin_zone(struct text_builder *out, int32_t number, struct text name) {
    text_add_format(out, "  - {number: %d", number);
    add_says(out, name);
}

static void add_behaviour(const struct draft *draft, struct text_builder *out, size_t area,
        enum site_behaviour behaviour) {
    if (draft->area_count > 1) {
        add_joined(out, ", area: ", draft->areas[area], "");
    }
    text_add_format(out, ", behaviour: %s", site_behaviour_name(behaviour));
}

static void add_follows(const struct draft *draft, const struct draft_detector *detector,
        struct text_builder *out) {
    bool any = false;
    for (size_t i = 0; i < draft->door_count; i++) {
        const struct draft_door *door = &draft->doors[i];
        if ((detector->doors >> i & 1U) != 0 && door->contact.length > 0) {
            add_joined(out, any ? ", " : ", follows: [", door->name, "");
            any = true;
        }
    }
    text_add_string(out, any ? "], hold: 5 s" : ", hold: 5 s");
}

/* The lowest number that no zone has yet and that takes such a device; where none does, the lowest that there is:
 * lintel check then says what does not fit. */
static int32_t number_for(const struct draft *draft, bool radio, struct site_numbers *taken) {
    int32_t free = SITE_NONE;
    for (int32_t number = SITE_NUMBER_MAX; number >= 0; number--) {
        const bool better = site_slot_takes(&draft->model, number, radio) || free == SITE_NONE ||
                !site_slot_takes(&draft->model, free, radio);
        if (site_number_is_there(&draft->model, number) && !site_numbers_has(taken, number) &&
                better) {
            free = number;
        }
    }
    free = free == SITE_NONE ? SITE_NUMBER_MAX : free;
    site_numbers_add(taken, free);
    return free;
}

static bool is_usually_out(enum site_behaviour behaviour) {
    return behaviour == SITE_FOLLOWER || behaviour == SITE_INTERIOR;
}

/* "part: out, night: interior": what it is in the modes that are used, where that is worth a word: of rooms always. */
static void add_modes(const struct draft *draft, struct text_builder *out, size_t area,
        enum site_behaviour behaviour, bool part_out, bool night_out) {
    const struct {
        const char *name;
        const struct draft_mode *mode;
        bool is_out;
    } modes[] = {{"part", &draft->part, part_out}, {"night", &draft->night, night_out}};
    bool any = false;
    for (size_t i = 0; i < sizeof modes / sizeof modes[0]; i++) {
        const bool in_use = modes[i].mode->used && modes[i].mode->area == area;
        if (in_use && (modes[i].is_out || is_usually_out(behaviour))) {
            text_add_format(out, "%s%s: %s", any ? ", " : ",\n     in: {", modes[i].name,
                    modes[i].is_out ? "out" : site_behaviour_name(behaviour));
            any = true;
        }
    }
    text_add_string(out, any ? "}" : "");
}

static void add_door_zone(
        const struct draft *draft, struct text_builder *out, int32_t number, size_t which) {
    const struct draft_door *door = &draft->doors[which];
    const enum site_behaviour behaviour = door->users != 0 ? SITE_ENTRY : SITE_PERIMETER;
    begin_zone(out, number, door->name);
    add_contact(out, ", device: ", door);
    add_behaviour(draft, out, door->area, behaviour);
    if (door->users != 0) {
        add_joined(out, ", delay: ", door->name, "");
    }
    text_add_string(out, ", chime: yes");
    add_modes(
            draft, out, door->area, behaviour, false, (draft->night.doors_out >> which & 1U) != 0);
    text_add_string(out, "}\n");
}

static void add_detector_zone(
        const struct draft *draft, struct text_builder *out, int32_t number, size_t which) {
    const struct draft_detector *detector = &draft->detectors[which];
    const enum site_behaviour behaviour = behaviour_of(detector);
    const uint64_t at_night = draft->night.detectors_out | draft->bathroom;
    begin_zone(out, number, detector->name);
    add_device(out, ", device: ", detector);
    add_behaviour(draft, out, detector->area, behaviour);
    if (behaviour == SITE_FOLLOWER) {
        add_follows(draft, detector, out);
    }
    add_modes(draft, out, detector->area, behaviour, (draft->part.detectors_out >> which & 1U) != 0,
            (at_night >> which & 1U) != 0);
    text_add_string(out, "}\n");
}

static void add_zones(const struct draft *draft, struct text_builder *out) {
    struct site_numbers taken = {.said = true};
    if (draft_zone_count(draft) == 0) {
        return;
    }
    text_add_string(out,
            "\n# A door to come in by is entry; what lies on the way to the keypad follows it, and "
            "waits for it a little (hold),\n"
            "# as radio messages overtake each other; other openings are perimeter. in: what it is "
            "in "
            "another mode.\nzones:\n");
    for (size_t i = 0; i < draft->door_count; i++) {
        if (draft->doors[i].contact.length == 0) {
            continue;
        }
        add_door_zone(draft, out, number_for(draft, draft->doors[i].radio, &taken), i);
    }
    for (size_t i = 0; i < draft->detector_count; i++) {
        add_detector_zone(draft, out, number_for(draft, draft->detectors[i].radio, &taken), i);
    }
}

/* Common practice; a child is slower to notice, and at the keys. */
static const char *pace_of(const struct draft *draft, size_t person) {
    return (draft->animals >> person & 1U) != 0 ? ", animal: yes}\n"
            : (draft->children >> person & 1U) != 0
            ? ", walks: child, notices: 2..5 s, codes-in: 6..10 s}\n"
            : ", notices: 2..3 s, codes-in: 4..9 s}\n";
}

static void add_people(const struct draft *draft, struct text_builder *out) {
    text_add_string(out,
            draft->person_count == 0
                    ? ""
                    : "\n# Usual times; measure them: notices (from the tone to the "
                      "hand at the keypad), codes-in (keying the code once).\n"
                      "people:\n");
    for (size_t i = 0; i < draft->person_count; i++) {
        add_joined(out, "  - {name: ", draft->people[i], "");
        text_add_string(out, pace_of(draft, i));
    }
}

/* One room as large as the floor, to be divided. */
static void add_ground(const struct draft *draft, struct text_builder *out) {
    if (draft->ground.length == 0) {
        return;
    }
    text_add_string(out,
            "\n# Measures are clear inside, wall to wall: x to the right, y to the back.\n"
            "building:\n  rooms:\n    - {name: ground floor, size: ");
    add_quoted(out, draft->ground);
    text_add_string(out, ", at: 0 x 0 m}\n");
}

static int32_t not_below_0(int32_t seconds_s) {
    return seconds_s < 0 ? 0 : seconds_s;
}

static struct span between(struct span from, struct span to) {
    const int32_t low_s = not_below_0(to.low_s - from.low_s);
    const int32_t high_s = not_below_0(to.high_s - from.high_s);
    return low_s < high_s ? span_of(low_s, high_s) : span_of(high_s, low_s);
}

/* The detectors on the way from this door in the order in which they are passed; gives their number. */
static size_t legs_of(const struct draft *draft, size_t door, size_t *ret_legs) {
    size_t count = 0;
    for (size_t i = 0; i < draft->detector_count && count < SITE_LEG_MAX; i++) {
        if ((draft->detectors[i].doors >> door & 1U) == 0) {
            continue;
        }
        size_t at = count;
        while (at > 0 &&
                draft->detectors[ret_legs[at - 1]].after.low_s > draft->detectors[i].after.low_s) {
            ret_legs[at] = ret_legs[at - 1];
            at--;
        }
        ret_legs[at] = i;
        count++;
    }
    return count;
}

static void add_way(const struct draft *draft, size_t which, struct text_builder *out) {
    const struct draft_door *door = &draft->doors[which];
    size_t legs[SITE_LEG_MAX];
    const size_t count = legs_of(draft, which, legs);
    struct span before = span_of(0, 0);
    add_joined(out, "  - {name: ", door->name, " way");
    add_joined(out, ", door: ", door->name, "");
    text_add_string(out, ", closes: 1..3 s");
    for (size_t i = 0; i < count; i++) {
        const struct draft_detector *detector = &draft->detectors[legs[i]];
        add_device(out, i > 0 ? ", {pass: " : ",\n     legs: [{pass: ", detector);
        text_add_string(out, ", in: ");
        quantity_add_from_to(out, between(before, detector->after));
        text_add_string(out, "}");
        before = detector->after;
    }
    text_add_string(out, count > 0 ? "]" : "");
    add_joined(out, ", keypad: ", draft->keypads[door->area], "");
    text_add_string(out, ", last: ");
    quantity_add_from_to(out, between(before, door->walk));
    text_add_string(out, "}\n");
}

static void add_ways(const struct draft *draft, struct text_builder *out) {
    if (!draft_is_used(draft)) {
        return;
    }
    text_add_string(out,
            "\n# Each way in, from the door to the keypad; the same backward leads out. Walk it "
            "with "
            "a watch.\nways:\n");
    for (size_t i = 0; i < draft->door_count; i++) {
        if (draft->doors[i].users != 0) {
            add_way(draft, i, out);
        }
    }
}

static size_t lowest(uint64_t bits) {
    size_t bit = 0;
    while ((bits >> bit & 1U) == 0) {
        bit++;
    }
    return bit;
}

/* Half an hour more or less; in whole hours where it is long. */
static struct span away_from_to(int32_t away_s) {
    enum { HALF_S = 1800, HOUR_S = 3600 };
    const struct span away = span_of(not_below_0(away_s - HALF_S), away_s + HALF_S);
    return away.low_s < HOUR_S
            ? away
            : span_of(away.low_s / HOUR_S * HOUR_S, (away.high_s + HOUR_S - 1) / HOUR_S * HOUR_S);
}

/* Everybody's own way: out at the hour, back at the hour. */
static void add_day(const struct draft *draft, size_t door, struct text_builder *out) {
    enum { DAY_S = 86400, EARLY_S = 600 };
    const struct draft_door *it = &draft->doors[door];
    const int32_t leaves_s = (draft->leaves_s - EARLY_S + DAY_S) % DAY_S;
    const int32_t away_s = (draft->returns_s - draft->leaves_s + DAY_S) % DAY_S;
    add_joined(out, "  - name: ", text_print(out->arena, "a day out by %.*s", TEXT_ARGS(it->name)),
            "");
    add_joined(out, "\n    who: ", draft->people[lowest(it->users)], "");
    text_add_string(out, "\n    steps:\n      - {at: \"");
    quantity_add_clock_from_to(out, span_of(leaves_s, leaves_s + 2 * EARLY_S));
    add_joined(out, "\", set: full, keypad: ", draft->keypads[it->area], "");
    add_joined(out, "}\n      - {go: ", it->name, " way");
    text_add_string(out, "}\n      - {in: ");
    quantity_add_from_to(out, away_from_to(away_s));
    add_joined(out, ", come: ", it->name, " way");
    add_joined(out, "}\n      - {unset: ", draft->keypads[it->area], "");
    text_add_string(out, "}\n");
}

static void add_set(const struct draft *draft, const struct draft_mode *mode, const char *name,
        struct text_builder *out) {
    text_add_format(out, "set: %s", name);
    add_joined(out, ", keypad: ", draft->keypads[mode->area], "");
    text_add_string(out, "}\n");
}

/* To bed with windows open where that is meant to be, to the bathroom and back, up in the morning. */
static void add_night(const struct draft *draft, struct text_builder *out) {
    size_t passed[DRAFT_MODE_CHOICES];
    size_t count = 0;
    bool open = false;
    for (size_t i = 0; i < draft->detector_count; i++) {
        if ((draft->bathroom >> i & 1U) != 0) {
            passed[count++] = i;
        }
    }
    add_joined(out, "  - name: to the bathroom at night\n    who: ", draft->people[0], "");
    for (size_t i = 0; i < draft->door_count; i++) {
        if ((draft->night.doors_out >> i & 1U) != 0) {
            add_joined(out, open ? ", " : "\n    open: [", draft->doors[i].name, "");
            open = true;
        }
    }
    text_add_string(out, open ? "]" : "");
    text_add_string(out, "\n    steps:\n      - {at: \"22:30..23:30\", ");
    add_set(draft, &draft->night, "night", out);
    for (size_t i = 0; i < 2 * count; i++) {
        const size_t which = passed[i < count ? i : 2 * count - 1 - i];
        text_add_format(out, "      - {in: %s",
                i == 0               ? "2..4 h"
                        : i == count ? "2..5 min"
                                     : "1..10 s");
        add_device(out, ", pass: ", &draft->detectors[which]);
        text_add_string(out, "}\n");
    }
    text_add_format(out, "      - {in: %s", count > 0 ? "2..4 h" : "6..9 h");
    add_joined(out, ", unset: ", draft->keypads[draft->night.area], "");
    text_add_string(out, "}\n");
}

/* A door of the area that somebody comes in by; the number of doors when there is none. */
static size_t first_used(const struct draft *draft, size_t area) {
    size_t door = 0;
    while (door < draft->door_count &&
            (draft->doors[door].users == 0 || draft->doors[door].area != area)) {
        door++;
    }
    return door;
}

/* Some stay and walk about where it is left out; the others go out and come back. */
static void add_part(const struct draft *draft, struct text_builder *out) {
    const size_t used = first_used(draft, draft->part.area);
    if (used == draft->door_count) {
        return;
    }
    const struct draft_door *door = &draft->doors[used];
    const uint64_t rooms = draft->part.detectors_out;
    add_joined(
            out, "  - name: somebody stays in\n    who: ", draft->people[lowest(door->users)], "");
    text_add_string(out, "\n    steps:\n      - {at: \"19:00..19:30\", ");
    add_set(draft, &draft->part, "part", out);
    add_joined(out, "      - {go: ", door->name, " way");
    text_add_string(out, "}\n");
    if (rooms != 0 && draft->person_count > 1) {
        const size_t who = lowest(door->users) == 0 ? 1 : 0;
        add_joined(out, "      - {who: ", draft->people[who], "");
        add_device(out, ", at: \"19:45..20:30\", pass: ", &draft->detectors[lowest(rooms)]);
        text_add_string(out, "}\n");
    }
    add_joined(out, "      - {in: 2..3 h, come: ", door->name, " way");
    add_joined(out, "}\n      - {unset: ", draft->keypads[draft->part.area], "");
    text_add_string(out, "}\n");
}

static void add_routines(const struct draft *draft, struct text_builder *out) {
    if (!draft_is_used(draft)) {
        return;
    }
    text_add_string(out,
            "\n# Describe how people really come and go: deliveries, the dog, the night. What "
            "every "
            "house has is looked at anyway.\nroutines:\n");
    for (size_t i = 0; i < draft->door_count; i++) {
        if (draft->doors[i].users != 0) {
            add_day(draft, i, out);
        }
    }
    if (draft->part.used) {
        add_part(draft, out);
    }
    if (draft->night.used) {
        add_night(draft, out);
        text_add_string(out,
                "\n# Usual routines that are described above already, or that do not fit this "
                "house.\n"
                "without:\n  - {routine: toilet at three, reason: the night is described "
                "above}\n");
    }
}

void draft_write(const struct draft *draft, struct text_builder *out) {
    add_head(draft, out);
    add_delays(draft, out);
    add_areas(draft, out);
    add_doors(draft, out);
    add_devices(draft, out);
    add_zones(draft, out);
    add_people(draft, out);
    add_ground(draft, out);
    add_ways(draft, out);
    add_routines(draft, out);
}
