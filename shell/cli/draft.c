#include "cli/draft.h"

#include "base/quantity.h"
#include "document/document.h"

/* Common practice; the document's own defaults of a person (notices 2..3 s, codes-in 4..9 s), and a door's closing. */
enum {
    NOTICES_S = 3,
    CODE_S = 9,
    CLOSES_S = 3,
    AGAIN_S = 10,
    SPARE_S = 3,
    STEP_S = 5,
    LEAST_S = 30
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

int32_t draft_usual_entry_s(const struct draft *draft) {
    return with_tolerance_s(slowest_walk_s(draft) + 2 * (NOTICES_S + CODE_S) + AGAIN_S + SPARE_S);
}

int32_t draft_usual_exit_s(const struct draft *draft) {
    return with_tolerance_s(slowest_walk_s(draft) + CLOSES_S + CODE_S + AGAIN_S + SPARE_S);
}

int32_t draft_usual_abort_s(const struct draft *draft, struct span range) {
    enum { TOGETHER_S = 60, MOST_S = 30 };
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
    text_add_format(out, ", words: %.*s, rules: [house]}\n\n", TEXT_ARGS(draft->words));
    text_add_string(out, "# What is keyed in for the panel as a whole.\npanel:\n  profile: ");
    add_quoted(out, draft->panel);
    text_add_string(out, "\n  exit-delay: ");
    quantity_add_seconds(out, draft->exit_s);
    text_add_string(out, "\n  abort-window: ");
    quantity_add_seconds(out, draft->abort_s);
    text_add_string(out, "             # entry delay and abort window together: 60 s at most\n");
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
    add_joined(out, "]\nkeypads:\n  - {name: ", draft->keypad, "");
    text_add_string(out, "}\n");
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
    if (draft_zone_count(draft) == 0) {
        return;
    }
    text_add_string(out,
            "\n# Add the serial number of each device by radio, in quotes: serial: \"0417 "
            "221\".\ndevices:\n");
    for (size_t i = 0; i < draft->door_count; i++) {
        if (draft->doors[i].contact.length > 0) {
            add_joined(out, "  - {name: ", draft->doors[i].name, " contact");
            add_joined(out, ", profile: ", draft->doors[i].contact, "");
            add_joined(out, ", on: ", draft->doors[i].name, "");
            text_add_string(out, "}\n");
        }
    }
    for (size_t i = 0; i < draft->detector_count; i++) {
        const struct draft_detector *detector = &draft->detectors[i];
        add_joined(out, "  - {name: ", detector->name, kind_of(detector->sense));
        add_joined(out, ", profile: ", detector->profile, "");
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

static void begin_zone(const struct draft *draft, struct text_builder *out, int number,
        struct text name, const char *kind, size_t area, enum site_behaviour behaviour) {
    text_add_format(out, "  - {number: %d", number);
    add_says(out, name);
    add_joined(out, ", device: ", name, kind);
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
    text_add_string(out, any ? "], hold: 3 s" : ", hold: 3 s");
}

static void add_zones(const struct draft *draft, struct text_builder *out) {
    int number = 0;
    if (draft_zone_count(draft) == 0) {
        return;
    }
    text_add_string(out,
            "\n# A door to come in by is entry; what lies on the way to the keypad follows it, and "
            "waits for it a little (hold),\n"
            "# as radio messages overtake each other; other openings are perimeter.\nzones:\n");
    for (size_t i = 0; i < draft->door_count; i++) {
        const struct draft_door *door = &draft->doors[i];
        if (door->contact.length == 0) {
            continue;
        }
        number++;
        begin_zone(draft, out, number, door->name, " contact", door->area,
                door->users != 0 ? SITE_ENTRY : SITE_PERIMETER);
        if (door->users != 0) {
            add_joined(out, ", delay: ", door->name, "");
        }
        text_add_string(out, ", chime: yes}\n");
    }
    for (size_t i = 0; i < draft->detector_count; i++) {
        const struct draft_detector *detector = &draft->detectors[i];
        number++;
        begin_zone(draft, out, number, detector->name, kind_of(detector->sense), detector->area,
                behaviour_of(detector));
        if (behaviour_of(detector) == SITE_FOLLOWER) {
            add_follows(draft, detector, out);
        }
        text_add_string(out, "}\n");
    }
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
        text_add_string(out, ", notices: 2..3 s, codes-in: 4..9 s}\n");
    }
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
        add_joined(out, i > 0 ? ", {pass: " : ",\n     legs: [{pass: ", detector->name,
                kind_of(detector->sense));
        text_add_string(out, ", in: ");
        quantity_add_from_to(out, between(before, detector->after));
        text_add_string(out, "}");
        before = detector->after;
    }
    text_add_string(out, count > 0 ? "]" : "");
    add_joined(out, ", keypad: ", draft->keypad, "");
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

static size_t lowest(uint32_t bits) {
    size_t bit = 0;
    while ((bits >> bit & 1U) == 0) {
        bit++;
    }
    return bit;
}

/* Everybody's own way: out at the hour, back at the hour. */
static void add_day(const struct draft *draft, size_t door, struct text_builder *out) {
    enum { DAY_S = 86400, EARLY_S = 600, LATE_S = 1800 };
    const struct draft_door *it = &draft->doors[door];
    const int32_t leaves_s = (draft->leaves_s - EARLY_S + DAY_S) % DAY_S;
    const int32_t away_s = (draft->returns_s - draft->leaves_s + DAY_S) % DAY_S;
    add_joined(out, "  - name: ", text_print(out->arena, "a day out by %.*s", TEXT_ARGS(it->name)),
            "");
    add_joined(out, "\n    who: ", draft->people[lowest(it->users)], "");
    text_add_string(out, "\n    steps:\n      - {at: \"");
    quantity_add_clock_from_to(out, span_of(leaves_s, leaves_s + 2 * EARLY_S));
    add_joined(out, "\", set: full, keypad: ", draft->keypad, "");
    add_joined(out, "}\n      - {go: ", it->name, " way");
    text_add_string(out, "}\n      - {in: ");
    quantity_add_from_to(out, span_of(not_below_0(away_s - LATE_S), away_s + LATE_S));
    add_joined(out, ", come: ", it->name, " way");
    add_joined(out, "}\n      - {unset: ", draft->keypad, "");
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
}

void draft_write(const struct draft *draft, struct text_builder *out) {
    add_head(draft, out);
    add_delays(draft, out);
    add_areas(draft, out);
    add_doors(draft, out);
    add_devices(draft, out);
    add_zones(draft, out);
    add_people(draft, out);
    add_ways(draft, out);
    add_routines(draft, out);
}
