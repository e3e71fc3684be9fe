#include "cli/interview.h"

#include "base/quantity.h"
#include "cli/ask.h"
#include "draft/models.h"

enum { DEVICES_MOST = 200 };

/* ---- the site --------------------------------------------------------------------------------------------------- */

static struct text usual_panel(const struct interview *interview) {
    size_t which = 0;
    return ask_is_among(interview->panels, interview->panel_count, text_of("halyard-28"), &which)
            ? interview->panels[which]
            : interview->panels[0];
}

static void keep_panel(struct interview *interview, const struct site_panel_profile *panel) {
    struct arena *arena = ask_memory(interview);
    struct text *families = ARENA_ARRAY(arena, struct text, panel->family_count);
    interview->panel = *panel;
    interview->panel.families = families;
    for (size_t i = 0; families != NULL && i < panel->family_count; i++) {
        families[i] = text_copy(arena, panel->families[i]);
    }
    if (families == NULL) {
        interview->panel.family_count = 0;
    }
}

/* What the panel can do, as the reader of site files reads it. */
static bool read_panel(struct interview *interview, struct text panel) {
    struct document document;
    struct text_builder wanted;
    text_builder_init(&wanted, ask_memory(interview));
    const struct text site = text_print(ask_memory(interview),
            "{site: {name: house}, panel: {profile: \"%.*s\"}, areas: [{name: house}]}",
            TEXT_ARGS(panel));
    const bool good = ask_reads(interview, site, &document, &wanted);
    if (good) {
        keep_panel(interview, &document.site.panel);
    } else {
        (void)fprintf(interview->talk->out, "  %s: %.*s\n",
                text_copy(ask_memory(interview), panel).start, TEXT_ARGS(text_built(&wanted)));
        interview->talk->state = TALK_REFUSED;
    }
    document_finish(&document);
    return good;
}

static bool read_model(struct interview *interview, struct text profile, struct model *ret_model) {
    return model_read(interview->search, interview->panels[0], &interview->panel, profile,
            ask_memory(interview), ret_model);
}

/* Each area has a keypad of its own: a code keyed there acts on that area and no other. */
static bool ask_keypads(struct interview *interview, struct draft *draft) {
    const bool alone = draft->area_count == 1;
    for (size_t i = 0; i < draft->area_count; i++) {
        const struct text area = draft->areas[i];
        const struct text asks = alone
                ? text_of("What is the keypad called?")
                : text_print(ask_memory(interview), "What is the keypad of the %.*s called?",
                          TEXT_ARGS(area));
        const struct text usual = alone
                ? text_of("hall keypad")
                : text_print(ask_memory(interview), "%.*s keypad", TEXT_ARGS(area));
        if (!ask_name(interview, asks, usual, "After the place where it hangs.",
                    (struct ask_naming){.names = draft->keypads, .count = i}, &draft->keypads[i])) {
            return false;
        }
    }
    return true;
}

static bool ask_site(struct interview *interview, struct draft *draft) {
    static const struct ask_naming free = {0};
    static const char *const word_sets[] = {"uk", "us"};
    struct text words[2];
    for (size_t i = 0; i < 2; i++) {
        words[i] = text_of(word_sets[i]);
    }
    if (!ask_name(interview, text_of("What is the site called?"), text_of("House"),
                "What every output calls it. Not a customer's real name if others will see the "
                "file.",
                free, &draft->name) ||
            !ask_choice(interview,
                    text_of("Which words, uk (set, unset, mains) or us (arm, disarm, AC)?"),
                    words[0], "The words of every output.", words, 2, &draft->words) ||
            !ask_choice(interview, text_of("Which panel?"), usual_panel(interview),
                    "A profile of it in panels/; docs/profiles.md says how to write one.",
                    interview->panels, interview->panel_count, &draft->panel) ||
            !read_panel(interview, draft->panel)) {
        return false;
    }
    const size_t most = interview->panel.area_most < SITE_AREA_MAX
            ? (size_t)interview->panel.area_most
            : SITE_AREA_MAX;
    return ask_names(interview,
                   text_is(draft->words, "uk") ? "Which areas are set by themselves?"
                                               : "Which areas are armed by themselves?",
                   "house", "One for a home; shop, flat where each is left without the other.",
                   "areas", most, draft->areas, &draft->area_count) &&
            ask_names(interview, "Who has a code?", "owner",
                    "Roles rather than names, with commas between: owner, child, cleaner.",
                    "people", DRAFT_PEOPLE_MOST, draft->people, &draft->person_count) &&
            ask_keypads(interview, draft);
}

static bool ask_area(
        struct interview *interview, struct draft *draft, struct text thing, size_t *ret_area) {
    struct text area;
    *ret_area = 0;
    const bool goes_on = draft->area_count == 1 ||
            (ask_choice(interview,
                     text_print(
                             ask_memory(interview), "Which area is the %.*s in?", TEXT_ARGS(thing)),
                     draft->areas[draft->last_area], "The area that watches it.", draft->areas,
                     draft->area_count, &area) &&
                    ask_is_among(draft->areas, draft->area_count, area, ret_area));
    draft->last_area = *ret_area;
    return goes_on;
}

/* ---- doors ------------------------------------------------------------------------------------------------------ */

enum { RANKS = SITE_SENSE_COUNT };

/* What houses have most of comes first. */
static int rank_of(enum site_sense sense) {
    static const int ranks[SITE_SENSE_COUNT] = {[SITE_MOTION] = 1,
            [SITE_SMOKE] = 2,
            [SITE_GLASS] = 3,
            [SITE_SHOCK] = 4,
            [SITE_GAS_SENSE] = 5,
            [SITE_WATER] = 6,
            [SITE_BUTTON] = 7};
    return ranks[sense];
}

/* Profiles of sensors that the panel takes: contacts, or all others; "none" first where that may be said. ret_help:
 * what a profile is, and which of them speak by radio. */
static size_t profiles_of(
        struct interview *interview, bool contacts, struct text *ret_names, const char **ret_help) {
    struct text ranked[RANKS][DEVICES_MOST];
    size_t counts[RANKS] = {0};
    struct text_builder help;
    size_t count = 0;
    bool radio = false;
    text_builder_init(&help, ask_memory(interview));
    text_add_string(&help,
            contacts ? "A contact's profile in devices/, or none. " : "A profile in devices/. ");
    for (size_t i = 0; i < interview->device_count && i < DEVICES_MOST; i++) {
        struct model model;
        if (read_model(interview, interview->devices[i], &model) && model.kind == SITE_SENSOR &&
                model.suits && (model.sense == SITE_CONTACT) == contacts) {
            const int rank = rank_of(model.sense);
            ranked[rank][counts[rank]++] = interview->devices[i];
            if (model.radio) {
                text_add_string(&help, radio ? ", " : "By radio: ");
                text_add(&help, interview->devices[i]);
                radio = true;
            }
        }
    }
    text_add_string(&help, radio ? "; the others are wired." : "All are wired.");
    if (contacts) {
        ret_names[count++] = text_of("none");
    }
    for (int rank = 0; rank < RANKS; rank++) {
        for (size_t i = 0; i < counts[rank]; i++) {
            ret_names[count++] = ranked[rank][i];
        }
    }
    *ret_help = text_built(&help).length > 0 ? text_built(&help).start : "";
    return count;
}

/* Where it is not among them: the first that is more than "none". */
static struct text preferred(const struct text *names, size_t count, const char *wanted) {
    size_t which = count > 1 && text_is(names[0], "none") ? 1 : 0;
    (void)ask_is_among(names, count, text_of(wanted), &which);
    return names[which];
}

static bool ask_door(struct interview *interview, struct draft *draft, struct draft_door *door) {
    const struct ask_timing walk = {.range = {0, 600}};
    struct text *profiles =
            ARENA_ARRAY(ask_memory(interview), struct text, interview->device_count + 1);
    struct arena *arena = ask_memory(interview);
    if (profiles == NULL) {
        interview->talk->state = TALK_REFUSED;
        return false;
    }
    if (!ask_area(interview, draft, door->name, &door->area) ||
            !ask_some(interview,
                    text_print(arena, "Who comes in by the %.*s?", TEXT_ARGS(door->name)),
                    text_of(draft->door_count == 0 ? "all" : "none"),
                    "Whose way in it is:", draft->people, draft->person_count, &door->users)) {
        return false;
    }
    if (door->users != 0 &&
            !ask_span(interview,
                    text_print(arena, "From opening the %.*s to the %.*s, how long?",
                            TEXT_ARGS(door->name), TEXT_ARGS(draft->keypads[door->area])),
                    "5..8 s", "Walk it with a watch, quick and slow: 5..8 s.", walk, &door->walk)) {
        return false;
    }
    const char *help = "";
    const size_t count = profiles_of(interview, true, profiles, &help);
    if (!ask_choice(interview, text_print(arena, "What watches the %.*s?", TEXT_ARGS(door->name)),
                preferred(profiles, count, "slim-contact"), help, profiles, count,
                &door->contact)) {
        return false;
    }
    if (text_is(door->contact, "none")) {
        door->contact = (struct text){0};
        return true;
    }
    struct model model;
    if (!read_model(interview, door->contact, &model)) {
        return false;
    }
    door->radio = model.radio;
    return true;
}

static bool has_room(const struct interview *interview, const struct draft *draft) {
    size_t numbers = 0;
    for (int32_t number = 0; number <= SITE_NUMBER_MAX; number++) {
        numbers += site_number_is_there(&interview->panel, number);
    }
    return draft_zone_count(draft) < SITE_ZONE_MAX && draft_zone_count(draft) < numbers;
}

static bool ask_doors(struct interview *interview, struct draft *draft) {
    struct text names[DRAFT_DOORS_MOST];
    while (draft->door_count < DRAFT_DOORS_MOST && has_room(interview, draft)) {
        struct draft_door *door = &draft->doors[draft->door_count];
        const bool first = draft->door_count == 0;
        const struct ask_naming naming = {
                .names = names, .count = draft->door_count, .may_be_empty = !first};
        *door = (struct draft_door){0};
        if (!ask_name(interview,
                    text_of(first ? "A door to the outside: what is it called?"
                                  : "Which further door or window leads outside? (Enter: no more)"),
                    text_of(first ? "front door" : ""),
                    "The words that the panel is to speak: front door, yard door, kitchen window.",
                    naming, &door->name)) {
            return false;
        }
        if (door->name.length == 0) {
            return true;
        }
        if (!ask_door(interview, draft, door)) {
            return false;
        }
        names[draft->door_count] = door->name;
        draft->door_count++;
    }
    return true;
}

/* Asked when the doors are known, as it comes in by none of them. */
static bool ask_animal(struct interview *interview, struct draft *draft) {
    struct text animal;
    const struct ask_naming naming = {
            .names = draft->people, .count = draft->person_count, .may_be_empty = true};
    if (draft->person_count == DRAFT_PEOPLE_MOST) {
        return true;
    }
    if (!ask_name(interview, text_of("Which animal goes about inside? (Enter: none)"), text_of(""),
                "dog, or cat: it passes detectors while people are out, and has no code.", naming,
                &animal)) {
        return false;
    }
    if (animal.length > 0) {
        draft->animals |= UINT32_C(1) << draft->person_count;
        draft->people[draft->person_count++] = animal;
    }
    return true;
}

/* ---- detectors -------------------------------------------------------------------------------------------------- */

static bool ask_passing(
        struct interview *interview, const struct draft *draft, struct draft_detector *detector) {
    struct text names[DRAFT_DOORS_MOST];
    size_t doors[DRAFT_DOORS_MOST];
    size_t count = 0;
    uint32_t some = 0;
    struct ask_timing timing = {.range = {0, 600}, .below = {600, 600}, .has_below = true};
    for (size_t i = 0; i < draft->door_count; i++) {
        if (draft->doors[i].users != 0 && draft->doors[i].area == detector->area) {
            doors[count] = i;
            names[count++] = draft->doors[i].name;
        }
    }
    if (count == 0) {
        return true;
    }
    if (!ask_some(interview,
                text_print(ask_memory(interview),
                        "On the way from which doors to the keypad does one pass the %.*s?",
                        TEXT_ARGS(detector->name)),
                text_of("all"),
                "The detector then follows these doors instead of sounding at once:", names, count,
                &some)) {
        return false;
    }
    for (size_t i = 0; i < count; i++) {
        if ((some >> i & 1U) != 0) {
            const struct span walk = draft->doors[doors[i]].walk;
            detector->doors |= (uint32_t)1 << doors[i];
            timing.below.low_s = walk.low_s < timing.below.low_s ? walk.low_s : timing.below.low_s;
            timing.below.high_s =
                    walk.high_s < timing.below.high_s ? walk.high_s : timing.below.high_s;
        }
    }
    return some == 0 ||
            ask_span(interview,
                    text_print(ask_memory(interview),
                            "How long after the door opens does one pass it?"),
                    timing.below.low_s >= 2 && timing.below.high_s >= 4 ? "2..4 s" : "0..0 s",
                    "Walk it with a watch: 2..4 s.", timing, &detector->after);
}

static bool read_detector(struct interview *interview, struct draft_detector *detector) {
    struct model model;
    if (!read_model(interview, detector->profile, &model)) {
        return false;
    }
    detector->sense = model.sense;
    detector->radio = model.radio;
    return true;
}

static bool ask_detectors(struct interview *interview, struct draft *draft) {
    struct text names[DRAFT_DETECTORS_MOST + DRAFT_DOORS_MOST];
    size_t count = 0;
    struct text *profiles =
            ARENA_ARRAY(ask_memory(interview), struct text, interview->device_count + 1);
    if (profiles == NULL) {
        interview->talk->state = TALK_REFUSED;
        return false;
    }
    for (size_t i = 0; i < draft->door_count; i++) {
        names[count++] = draft->doors[i].name;
    }
    const char *help = "";
    const size_t profile_count = profiles_of(interview, false, profiles, &help);
    const char *usual = draft->animals != 0 ? "pet-motion" : "quarter-motion";
    while (profile_count > 0 && draft->detector_count < DRAFT_DETECTORS_MOST &&
            has_room(interview, draft)) {
        struct draft_detector *detector = &draft->detectors[draft->detector_count];
        const struct ask_naming naming = {.names = names, .count = count, .may_be_empty = true};
        *detector = (struct draft_detector){0};
        if (!ask_name(interview,
                    text_of(draft->detector_count == 0
                                    ? "Which room has a detector? (Enter: none)"
                                    : "Which further room has a detector? (Enter: no more)"),
                    text_of(""),
                    "The words that the panel is to speak: hall, living room, kitchen smoke.",
                    naming, &detector->name)) {
            return false;
        }
        if (detector->name.length == 0) {
            return true;
        }
        if (!ask_choice(interview,
                    text_print(ask_memory(interview), "Which detector watches the %.*s?",
                            TEXT_ARGS(detector->name)),
                    preferred(profiles, profile_count, usual), help, profiles, profile_count,
                    &detector->profile) ||
                !read_detector(interview, detector) ||
                !ask_area(interview, draft, detector->name, &detector->area) ||
                (detector->sense == SITE_MOTION && !ask_passing(interview, draft, detector))) {
            return false;
        }
        names[count++] = detector->name;
        draft->detector_count++;
    }
    return true;
}

/* A panel with a siren of its own needs none; any other is asked for one. */
static bool ask_siren(struct interview *interview, struct draft *draft) {
    struct text *profiles =
            ARENA_ARRAY(ask_memory(interview), struct text, interview->device_count + 1);
    size_t count = 0;
    size_t usual = 0;
    if (profiles == NULL) {
        interview->talk->state = TALK_REFUSED;
        return false;
    }
    for (size_t i = 0; i < interview->device_count; i++) {
        struct model model;
        if (read_model(interview, interview->devices[i], &model) && model.kind == SITE_SIREN) {
            profiles[count++] = interview->devices[i];
        }
    }
    profiles[count++] = text_of("none");
    if ((interview->panel.built_in & SITE_BUILT_IN_SIREN) != 0 || count == 1) {
        return true;
    }
    if (!ask_choice(interview, text_of("Which siren?"),
                ask_is_among(profiles, count, text_of("fog-siren"), &usual) ? profiles[usual]
                                                                            : profiles[0],
                "A siren's profile in devices/, or none.", profiles, count, &draft->siren)) {
        return false;
    }
    draft->siren = text_is(draft->siren, "none") ? (struct text){0} : draft->siren;
    return true;
}

/* ---- night and part --------------------------------------------------------------------------------------------- */

/* What may be left out in a mode: detectors (numbered from 0) and openings that nobody comes in by. */
struct choices {
    struct text names[DRAFT_MODE_CHOICES];
    uint64_t bits[DRAFT_MODE_CHOICES];
    size_t count;
};

static void offer(struct choices *choices, struct text name, size_t bit) {
    if (choices->count < DRAFT_MODE_CHOICES) {
        choices->names[choices->count] = name;
        choices->bits[choices->count] = UINT64_C(1) << bit;
        choices->count++;
    }
}

/* Of detectors that watch a room of the area and are not among those already. motion: only those that see people
 * move. */
static struct choices rooms_of(
        const struct draft *draft, size_t area, bool motion, uint64_t without) {
    struct choices choices = {.count = 0};
    for (size_t i = 0; i < draft->detector_count; i++) {
        const enum site_sense sense = draft->detectors[i].sense;
        if ((without >> i & 1U) == 0 && draft->detectors[i].area == area &&
                (sense == SITE_MOTION ||
                        (!motion && (sense == SITE_GLASS || sense == SITE_SHOCK)))) {
            offer(&choices, draft->detectors[i].name, i);
        }
    }
    return choices;
}

static struct choices windows_of(const struct draft *draft, size_t area) {
    struct choices choices = {.count = 0};
    for (size_t i = 0; i < draft->door_count; i++) {
        const struct draft_door *door = &draft->doors[i];
        if (door->users == 0 && door->contact.length > 0 && door->area == area) {
            offer(&choices, door->name, i);
        }
    }
    return choices;
}

/* The names of those that are meant by the bits: what is offered in brackets. */
static struct text names_of(
        const struct interview *interview, const struct choices *choices, uint64_t bits) {
    struct text names[DRAFT_MODE_CHOICES];
    size_t count = 0;
    for (size_t i = 0; i < choices->count; i++) {
        if ((choices->bits[i] & bits) != 0) {
            names[count++] = choices->names[i];
        }
    }
    return ask_list(interview, names, count);
}

/* Nothing to choose from is no question. ret_bits: those chosen. */
static bool ask_which(struct interview *interview, const char *asks, uint64_t usual,
        const char *help, const struct choices *choices, uint64_t *ret_bits) {
    uint32_t some = 0;
    *ret_bits = 0;
    if (choices->count == 0) {
        return true;
    }
    if (!ask_some(interview, text_of(asks), names_of(interview, choices, usual), help,
                choices->names, choices->count, &some)) {
        return false;
    }
    for (size_t i = 0; i < choices->count; i++) {
        *ret_bits |= (some >> i & 1U) != 0 ? choices->bits[i] : 0;
    }
    return true;
}

static uint64_t on_ways(const struct draft *draft) {
    uint64_t bits = 0;
    for (size_t i = 0; i < draft->detector_count; i++) {
        bits |= draft->detectors[i].doors != 0 ? UINT64_C(1) << i : 0;
    }
    return bits;
}

static uint64_t motions(const struct draft *draft) {
    uint64_t bits = 0;
    for (size_t i = 0; i < draft->detector_count; i++) {
        bits |= draft->detectors[i].sense == SITE_MOTION ? UINT64_C(1) << i : 0;
    }
    return bits;
}

static bool ask_where(struct interview *interview, const struct draft *draft, const char *asks,
        struct draft_mode *mode) {
    struct text area;
    mode->area = 0;
    return !mode->used || draft->area_count == 1 ||
            (ask_choice(interview, text_of(asks), draft->areas[draft->area_count - 1],
                     "The area that is set so.", draft->areas, draft->area_count, &area) &&
                    ask_is_among(draft->areas, draft->area_count, area, &mode->area));
}

/* Where one walks at night is left out at night: asked first, so that no answer after it can be wrong. */
static bool ask_night(struct interview *interview, struct draft *draft) {
    struct draft_mode *night = &draft->night;
    const bool sets = text_is(draft->words, "uk");
    if (!ask_yes(interview,
                sets ? "Is it set at night, with people asleep inside?"
                     : "Is it armed at night, with people asleep inside?",
                true, "Mode night: the outside is watched, and the rooms where nobody is.",
                &night->used) ||
            !ask_where(interview, draft, "In which area does one sleep?", night)) {
        return false;
    }
    if (!night->used) {
        return true;
    }
    const struct choices all = rooms_of(draft, night->area, true, 0);
    if (!ask_which(interview, "On the way from bed to the bathroom, which detectors does one pass?",
                on_ways(draft), "They are left out at night, or the siren sounds at three:", &all,
                &draft->bathroom)) {
        return false;
    }
    const struct choices rooms = rooms_of(draft, night->area, false, draft->bathroom);
    const struct choices windows = windows_of(draft, night->area);
    return ask_which(interview, "Which other detectors are left out at night?", motions(draft),
                   "Those of rooms where somebody is, or the cat; the others stay on duty:", &rooms,
                   &night->detectors_out) &&
            ask_which(interview, "Which windows or doors may stand open at night?", 0,
                    "They are left out at night, so that one can sleep with them open:", &windows,
                    &night->doors_out);
}

static bool ask_part(struct interview *interview, struct draft *draft) {
    struct draft_mode *part = &draft->part;
    const bool sets = text_is(draft->words, "uk");
    if (!ask_yes(interview,
                sets ? "Is it ever set in part: somebody or a pet stays, others go out?"
                     : "Is it ever armed in part: somebody or a pet stays, others go out?",
                draft->animals != 0,
                "Mode part: with an exit delay, and without the rooms that are lived in.",
                &part->used) ||
            !ask_where(interview, draft, "In which area does one stay?", part)) {
        return false;
    }
    if (!part->used) {
        return true;
    }
    const struct choices rooms = rooms_of(draft, part->area, false, 0);
    return ask_which(interview, "Which detectors are left out in part?", motions(draft),
            "Those of rooms where somebody is meanwhile:", &rooms, &part->detectors_out);
}

/* Who comes and goes sets; a house that nobody enters by a known door is left as it is. */
static bool ask_modes(struct interview *interview, struct draft *draft) {
    return !draft_is_used(draft) || (ask_night(interview, draft) && ask_part(interview, draft));
}

/* ---- delays and hours ------------------------------------------------------------------------------------------- */

static bool ask_times(struct interview *interview, struct draft *draft) {
    draft->entry_s = draft_usual_entry_s(draft);
    draft->exit_s = draft_usual_exit_s(draft);
    if (!draft_is_used(draft)) {
        return true;
    }
    return ask_delay(interview, "Entry delay?", draft->entry_s,
                   "What is offered suits the slowest walk, with one code mistyped and the panel's "
                   "clock a tenth fast.",
                   interview->panel.entry_delay, &draft->entry_s) &&
            ask_delay(interview, "Exit delay?", draft->exit_s,
                    "What is offered suits the slowest walk out, with the panel's clock a tenth "
                    "fast.",
                    interview->panel.exit_delay, &draft->exit_s) &&
            ask_clock(interview, "When is the house left empty?", "08:00",
                    "A time of day, 08:00: from then on it is set.", &draft->leaves_s) &&
            ask_clock(interview, "When does somebody come back?", "17:00", "A time of day, 17:00.",
                    &draft->returns_s);
}

bool interview_run(struct interview *interview, struct draft *ret_draft) {
    *ret_draft = (struct draft){0};
    if (!ask_site(interview, ret_draft) || !ask_doors(interview, ret_draft) ||
            !ask_animal(interview, ret_draft) || !ask_detectors(interview, ret_draft) ||
            !ask_siren(interview, ret_draft) || !ask_modes(interview, ret_draft) ||
            !ask_times(interview, ret_draft)) {
        return false;
    }
    ret_draft->model = interview->panel;
    ret_draft->abort_s = draft_usual_abort_s(ret_draft, interview->panel.abort_window);
    return true;
}
