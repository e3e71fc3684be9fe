#include "cli/interview.h"

#include "base/quantity.h"

#include <string.h>

/* Every answer is held against the key table: a site file of one line is made of it and read. */

static struct arena *memory(const struct interview *interview) {
    return interview->talk->arena;
}

static bool reads(const struct interview *interview, struct text site, struct document *document,
        struct text_builder *wanted) {
    struct problem problem = {0};
    document_init(document, interview->talk->arena->pages);
    if (document_read_text(document, "answer", NULL, site, interview->search, &problem).good) {
        return true;
    }
    text_add_string(wanted, document->problem_count > 0 ? "" : problem.text);
    if (document->problem_count > 0) {
        text_add(wanted, document->problems[0].what);
    }
    return false;
}

/* ---- names ------------------------------------------------------------------------------------------------------ */

static bool is_name(
        const struct interview *interview, struct text answer, struct text_builder *wanted) {
    struct document document;
    const struct text quoted = document_quote(memory(interview), answer);
    const struct text site = text_print(memory(interview),
            "{site: {name: house}, panel: {profile: \"%.*s\"}, areas: [{name: %.*s}]}",
            TEXT_ARGS(interview->panels[0]), TEXT_ARGS(quoted));
    const bool good = reads(interview, site, &document, wanted);
    document_finish(&document);
    return good;
}

static bool is_among(const struct text *names, size_t count, struct text name, size_t *ret_index) {
    for (size_t i = 0; i < count; i++) {
        if (text_equal(names[i], name)) {
            *ret_index = i;
            return true;
        }
    }
    return false;
}

static struct text trimmed(struct text text) {
    while (text.length > 0 && text.start[0] == ' ') {
        text.start++;
        text.length--;
    }
    while (text.length > 0 && text.start[text.length - 1] == ' ') {
        text.length--;
    }
    return text;
}

/* The names of "a, b, c"; gives how many there are, though at most `most` are stored. */
static size_t split(struct text list, struct text *ret_names, size_t most) {
    size_t count = 0;
    for (size_t i = 0; i <= list.length;) {
        size_t end = i;
        while (end < list.length && list.start[end] != ',') {
            end++;
        }
        const struct text name = trimmed((struct text){.start = list.start + i, .length = end - i});
        if (name.length > 0) {
            if (count < most) {
                ret_names[count] = name;
            }
            count++;
        }
        i = end + 1;
    }
    return count;
}

static void add_names(struct text_builder *out, const struct text *names, size_t count) {
    for (size_t i = 0; i < count; i++) {
        text_add_format(out, "%s%.*s", i > 0 ? ", " : "", TEXT_ARGS(names[i]));
    }
}

static void add_nearest(
        struct text_builder *wanted, struct text word, const struct text *names, size_t count) {
    enum { FAR = 4, NEAR = 2, SHORT = 5 };
    const size_t far = text_columns(word) < SHORT ? NEAR : FAR;
    size_t best = far;
    struct text nearest = {0};
    for (size_t i = 0; i < count; i++) {
        const size_t distance = text_distance(word, names[i], far);
        if (distance < best) {
            best = distance;
            nearest = names[i];
        }
    }
    if (nearest.length > 0) {
        text_add_format(wanted, "; did you mean \"%.*s\"?", TEXT_ARGS(nearest));
    }
}

/* What a question about names checks. names, count: those that are taken already (new) or that may be named. */
struct naming {
    const struct interview *interview;
    const struct text *names;
    size_t count;
    size_t most;
    bool may_be_empty;
    const char *things;
};

static bool is_free_name(void *context, struct text answer, struct text_builder *wanted) {
    const struct naming *naming = context;
    size_t which = 0;
    if (answer.length == 0 && naming->may_be_empty) {
        return true;
    }
    if (answer.length == 0) {
        text_add_string(wanted, "expected a name");
        return false;
    }
    if (is_among(naming->names, naming->count, answer, &which)) {
        text_add_format(
                wanted, "\"%.*s\" is there already; expected another name", TEXT_ARGS(answer));
        return false;
    }
    return is_name(naming->interview, answer, wanted);
}

static bool are_free_names(void *context, struct text answer, struct text_builder *wanted) {
    const struct naming *naming = context;
    struct text names[SITE_PEOPLE_MAX];
    const size_t count = split(answer, names, SITE_PEOPLE_MAX);
    if (count == 0 || count > naming->most) {
        text_add_format(
                wanted, "expected 1 to %zu %s, with commas between", naming->most, naming->things);
        return false;
    }
    for (size_t i = 0; i < count; i++) {
        size_t which = 0;
        if (is_among(names, i, names[i], &which)) {
            text_add_format(wanted, "\"%.*s\" is there twice", TEXT_ARGS(names[i]));
            return false;
        }
        if (!is_name(naming->interview, names[i], wanted)) {
            return false;
        }
    }
    return true;
}

static bool is_one_of(void *context, struct text answer, struct text_builder *wanted) {
    const struct naming *naming = context;
    size_t which = 0;
    if (is_among(naming->names, naming->count, answer, &which)) {
        return true;
    }
    text_add_string(wanted, "expected one of: ");
    add_names(wanted, naming->names, naming->count);
    add_nearest(wanted, answer, naming->names, naming->count);
    return false;
}

/* "all", "none", or some of the names. */
static bool read_some(const struct naming *naming, struct text answer, uint32_t *ret_some,
        struct text_builder *wanted) {
    struct text names[32];
    uint32_t some = 0;
    if (text_is(answer, "all") || text_is(answer, "none")) {
        *ret_some = text_is(answer, "none") ? 0
                : naming->count >= 32       ? UINT32_MAX
                                            : ((uint32_t)1 << naming->count) - 1;
        return true;
    }
    const size_t count = split(answer, names, 32);
    for (size_t i = 0; i < count && i < 32; i++) {
        size_t which = 0;
        if (!is_among(naming->names, naming->count, names[i], &which)) {
            text_add_format(wanted, "\"%.*s\" is not one of: ", TEXT_ARGS(names[i]));
            add_names(wanted, naming->names, naming->count);
            add_nearest(wanted, names[i], naming->names, naming->count);
            return false;
        }
        some |= (uint32_t)1 << which;
    }
    if (some == 0) {
        text_add_string(wanted, "expected all, none, or some of: ");
        add_names(wanted, naming->names, naming->count);
        return false;
    }
    *ret_some = some;
    return true;
}

static bool are_some_of(void *context, struct text answer, struct text_builder *wanted) {
    uint32_t some = 0;
    return read_some(context, answer, &some, wanted);
}

/* ---- times ------------------------------------------------------------------------------------------------------ */

struct timing {
    struct span range; /* of both ends */
    struct span below; /* no later than this at either end */
    bool has_below;
};

static bool is_span(void *context, struct text answer, struct text_builder *wanted) {
    const struct timing *timing = context;
    struct problem problem = {0};
    struct span span;
    if (!quantity_read_span(answer, &span, &problem).good) {
        text_add_string(wanted, problem.text);
        return false;
    }
    if (span.low_s < timing->range.low_s || span.high_s > timing->range.high_s) {
        text_add_string(wanted, "expected ");
        quantity_add_span(wanted, timing->range);
        return false;
    }
    if (timing->has_below &&
            (span.low_s > timing->below.low_s || span.high_s > timing->below.high_s)) {
        text_add_string(wanted, "that is longer than the walk to the keypad, ");
        quantity_add_span(wanted, timing->below);
        return false;
    }
    return true;
}

static bool is_seconds(void *context, struct text answer, struct text_builder *wanted) {
    struct problem problem = {0};
    int32_t seconds_s = 0;
    if (!quantity_read_seconds(answer, &seconds_s, &problem).good) {
        text_add_string(wanted, problem.text);
        return false;
    }
    return is_span(context, answer, wanted);
}

static bool is_clock(void *context, struct text answer, struct text_builder *wanted) {
    struct problem problem = {0};
    struct span clock;
    (void)context;
    if (quantity_read_clock(answer, &clock, &problem).good && clock.low_s == clock.high_s) {
        return true;
    }
    text_add_string(wanted, problem.text[0] != '\0' ? problem.text : "expected one time of day");
    return false;
}

static struct text of_seconds(const struct interview *interview, int32_t seconds_s) {
    struct text_builder out;
    text_builder_init(&out, memory(interview));
    quantity_add_seconds(&out, seconds_s);
    return text_built(&out);
}

/* ---- asking ----------------------------------------------------------------------------------------------------- */

static bool ask_name(struct interview *interview, struct text asks, const char *usual,
        const char *help, struct naming naming, struct text *ret_name) {
    naming.interview = interview;
    return talk_ask(interview->talk,
            &(struct talk_question){.asks = asks,
                    .usual = text_of(usual),
                    .help = text_of(help),
                    .is_good = is_free_name,
                    .context = &naming},
            ret_name);
}

static bool ask_names(struct interview *interview, const char *asks, const char *usual,
        const char *help, const char *things, size_t most, struct text *ret_names,
        size_t *ret_count) {
    struct naming naming = {.interview = interview, .most = most, .things = things};
    struct text answer;
    if (!talk_ask(interview->talk,
                &(struct talk_question){.asks = text_of(asks),
                        .usual = text_of(usual),
                        .help = text_of(help),
                        .is_good = are_free_names,
                        .context = &naming},
                &answer)) {
        return false;
    }
    *ret_count = split(answer, ret_names, most);
    return true;
}

static bool ask_choice(struct interview *interview, struct text asks, struct text usual,
        const char *help, const struct text *names, size_t count, struct text *ret_name) {
    struct naming naming = {.interview = interview, .names = names, .count = count};
    struct text_builder all;
    text_builder_init(&all, memory(interview));
    text_add_format(&all, "%s One of: ", help);
    add_names(&all, names, count);
    return talk_ask(interview->talk,
            &(struct talk_question){.asks = asks,
                    .usual = usual,
                    .help = text_built(&all),
                    .is_good = is_one_of,
                    .context = &naming},
            ret_name);
}

static bool ask_some(struct interview *interview, struct text asks, const char *usual,
        const char *help, const struct text *names, size_t count, uint32_t *ret_some) {
    struct naming naming = {.interview = interview, .names = names, .count = count};
    struct text_builder all;
    struct text answer;
    text_builder_init(&all, memory(interview));
    text_add_format(&all, "%s all, none, or some of, with commas between: ", help);
    add_names(&all, names, count);
    if (!talk_ask(interview->talk,
                &(struct talk_question){.asks = asks,
                        .usual = text_of(usual),
                        .help = text_built(&all),
                        .is_good = are_some_of,
                        .context = &naming},
                &answer)) {
        return false;
    }
    return read_some(&naming, answer, ret_some, &all);
}

static bool ask_span(struct interview *interview, struct text asks, const char *usual,
        const char *help, struct timing timing, struct span *ret_span) {
    struct text answer;
    return talk_ask(interview->talk,
                   &(struct talk_question){.asks = asks,
                           .usual = text_of(usual),
                           .help = text_of(help),
                           .is_good = is_span,
                           .context = &timing},
                   &answer) &&
            quantity_read_span(answer, ret_span, NULL).good;
}

static bool ask_delay(struct interview *interview, const char *asks, int32_t usual_s,
        const char *help, struct span range, int32_t *ret_seconds_s) {
    struct timing timing = {.range = range};
    struct text answer;
    usual_s = usual_s < range.low_s ? range.low_s : usual_s > range.high_s ? range.high_s : usual_s;
    return talk_ask(interview->talk,
                   &(struct talk_question){.asks = text_of(asks),
                           .usual = of_seconds(interview, usual_s),
                           .help = text_of(help),
                           .is_good = is_seconds,
                           .context = &timing},
                   &answer) &&
            quantity_read_seconds(answer, ret_seconds_s, NULL).good;
}

static bool ask_clock(struct interview *interview, const char *asks, const char *usual,
        const char *help, int32_t *ret_at_s) {
    struct span clock;
    struct text answer;
    if (!talk_ask(interview->talk,
                &(struct talk_question){.asks = text_of(asks),
                        .usual = text_of(usual),
                        .help = text_of(help),
                        .is_good = is_clock},
                &answer) ||
            !quantity_read_clock(answer, &clock, NULL).good) {
        return false;
    }
    *ret_at_s = clock.low_s;
    return true;
}

/* ---- the site --------------------------------------------------------------------------------------------------- */

static struct text usual_panel(const struct interview *interview) {
    size_t which = 0;
    return is_among(interview->panels, interview->panel_count, text_of("halyard-28"), &which)
            ? interview->panels[which]
            : interview->panels[0];
}

/* What the panel can do, as the reader of site files reads it. */
static bool read_panel(struct interview *interview, struct text panel) {
    struct document document;
    struct text_builder wanted;
    text_builder_init(&wanted, memory(interview));
    const struct text site = text_print(memory(interview),
            "{site: {name: house}, panel: {profile: \"%.*s\"}, areas: [{name: house}]}",
            TEXT_ARGS(panel));
    const bool good = reads(interview, site, &document, &wanted);
    if (good) {
        interview->panel = document.site.panel;
    } else {
        (void)fprintf(interview->talk->out, "  %s: %.*s\n",
                text_copy(memory(interview), panel).start, TEXT_ARGS(text_built(&wanted)));
        interview->talk->state = TALK_REFUSED;
    }
    document_finish(&document);
    return good;
}

static bool read_sense(
        struct interview *interview, struct text profile, enum site_sense *ret_sense) {
    struct document document;
    struct text_builder wanted;
    text_builder_init(&wanted, memory(interview));
    const struct text site = text_print(memory(interview),
            "{site: {name: house}, panel: {profile: \"%.*s\"}, areas: [{name: house}], "
            "devices: [{name: it, profile: \"%.*s\"}]}",
            TEXT_ARGS(interview->panels[0]), TEXT_ARGS(profile));
    const bool good = reads(interview, site, &document, &wanted);
    if (good) {
        *ret_sense = document.site.device_profiles[0].sense;
    }
    document_finish(&document);
    return good;
}

static bool ask_site(struct interview *interview, struct draft *draft) {
    static const struct naming free = {0};
    static const char *const word_sets[] = {"uk", "us"};
    struct text words[2];
    for (size_t i = 0; i < 2; i++) {
        words[i] = text_of(word_sets[i]);
    }
    if (!ask_name(interview, text_of("What is the site called?"), "House",
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
    return ask_names(interview, "Which areas are set by themselves?", "house",
                   "One for a home; shop, flat where each is set without the other.", "areas", most,
                   draft->areas, &draft->area_count) &&
            ask_names(interview, "Who has a code?", "owner",
                    "Roles rather than names, with commas between: owner, child, cleaner.",
                    "people", DRAFT_PEOPLE_MOST, draft->people, &draft->person_count) &&
            ask_name(interview, text_of("What is the keypad called?"), "hall keypad",
                    "After the place where it hangs.", free, &draft->keypad);
}

static bool ask_area(struct interview *interview, const struct draft *draft, struct text thing,
        size_t *ret_area) {
    struct text area;
    *ret_area = 0;
    return draft->area_count == 1 ||
            (ask_choice(interview,
                     text_print(memory(interview), "Which area is the %.*s in?", TEXT_ARGS(thing)),
                     draft->areas[0], "The area that watches it.", draft->areas, draft->area_count,
                     &area) &&
                    is_among(draft->areas, draft->area_count, area, ret_area));
}

/* ---- doors ------------------------------------------------------------------------------------------------------ */

/* Profiles whose device senses this (contacts true), or anything else (false); "none" first where that may be said. */
static size_t profiles_of(
        struct interview *interview, bool contacts, bool none, struct text *ret_names) {
    size_t count = 0;
    if (none) {
        ret_names[count++] = text_of("none");
    }
    for (size_t i = 0; i < interview->device_count; i++) {
        enum site_sense sense = SITE_CONTACT;
        if (read_sense(interview, interview->devices[i], &sense) &&
                (sense == SITE_CONTACT) == contacts) {
            ret_names[count++] = interview->devices[i];
        }
    }
    return count;
}

static struct text preferred(const struct text *names, size_t count, const char *wanted) {
    size_t which = 0;
    return is_among(names, count, text_of(wanted), &which) ? names[which] : names[count - 1];
}

static bool ask_door(struct interview *interview, struct draft *draft, struct draft_door *door) {
    const struct timing walk = {.range = {0, 600}};
    struct text *profiles =
            ARENA_ARRAY(memory(interview), struct text, interview->device_count + 1);
    struct arena *arena = memory(interview);
    if (profiles == NULL) {
        interview->talk->state = TALK_REFUSED;
        return false;
    }
    if (!ask_some(interview, text_print(arena, "Who comes in by the %.*s?", TEXT_ARGS(door->name)),
                draft->door_count == 0 ? "all" : "none", "Whose way in it is:", draft->people,
                draft->person_count, &door->users)) {
        return false;
    }
    if (door->users != 0 &&
            !ask_span(interview,
                    text_print(arena, "From opening the %.*s to the %.*s, how long?",
                            TEXT_ARGS(door->name), TEXT_ARGS(draft->keypad)),
                    "5..8 s", "Walk it with a watch, quick and slow: 5..8 s.", walk, &door->walk)) {
        return false;
    }
    const size_t count = profiles_of(interview, true, true, profiles);
    if (!ask_choice(interview, text_print(arena, "What watches the %.*s?", TEXT_ARGS(door->name)),
                preferred(profiles, count, "slim-contact"),
                "A contact's profile in devices/, or none.", profiles, count, &door->contact)) {
        return false;
    }
    if (text_is(door->contact, "none")) {
        door->contact = (struct text){0};
        return true;
    }
    return ask_area(interview, draft, door->name, &door->area);
}

static bool has_room(const struct interview *interview, const struct draft *draft) {
    return draft_zone_count(draft) < (size_t)interview->panel.zone_most;
}

static bool ask_doors(struct interview *interview, struct draft *draft) {
    struct text names[DRAFT_DOORS_MOST];
    while (draft->door_count < DRAFT_DOORS_MOST && has_room(interview, draft)) {
        struct draft_door *door = &draft->doors[draft->door_count];
        const bool first = draft->door_count == 0;
        const struct naming naming = {
                .names = names, .count = draft->door_count, .may_be_empty = !first};
        *door = (struct draft_door){0};
        if (!ask_name(interview,
                    text_of(first ? "A door to the outside, how is it called?"
                                  : "A further door or window to the outside? (Enter: no more)"),
                    first ? "front door" : "",
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

/* ---- detectors -------------------------------------------------------------------------------------------------- */

static bool ask_passing(
        struct interview *interview, const struct draft *draft, struct draft_detector *detector) {
    struct text names[DRAFT_DOORS_MOST];
    size_t doors[DRAFT_DOORS_MOST];
    size_t count = 0;
    uint32_t some = 0;
    struct timing timing = {.range = {0, 600}, .below = {600, 600}, .has_below = true};
    for (size_t i = 0; i < draft->door_count; i++) {
        if (draft->doors[i].users != 0) {
            doors[count] = i;
            names[count++] = draft->doors[i].name;
        }
    }
    if (count == 0) {
        return true;
    }
    if (!ask_some(interview,
                text_print(memory(interview),
                        "On the way from which doors to the keypad does one pass the %.*s?",
                        TEXT_ARGS(detector->name)),
                "all", "The detector then follows these doors instead of sounding at once:", names,
                count, &some)) {
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
                    text_print(
                            memory(interview), "How long after the door opens does one pass it?"),
                    timing.below.low_s >= 2 && timing.below.high_s >= 4 ? "2..4 s" : "0..0 s",
                    "Walk it with a watch: 2..4 s.", timing, &detector->after);
}

static bool ask_detectors(struct interview *interview, struct draft *draft) {
    struct text names[DRAFT_DETECTORS_MOST + DRAFT_DOORS_MOST];
    size_t count = 0;
    struct text *profiles =
            ARENA_ARRAY(memory(interview), struct text, interview->device_count + 1);
    if (profiles == NULL) {
        interview->talk->state = TALK_REFUSED;
        return false;
    }
    for (size_t i = 0; i < draft->door_count; i++) {
        names[count++] = draft->doors[i].name;
    }
    const size_t profile_count = profiles_of(interview, false, false, profiles);
    while (profile_count > 0 && draft->detector_count < DRAFT_DETECTORS_MOST &&
            has_room(interview, draft)) {
        struct draft_detector *detector = &draft->detectors[draft->detector_count];
        const struct naming naming = {.names = names, .count = count, .may_be_empty = true};
        *detector = (struct draft_detector){0};
        if (!ask_name(interview,
                    text_of(draft->detector_count == 0
                                    ? "A room with a detector? (Enter: none)"
                                    : "A further detector, where? (Enter: no more)"),
                    "", "The words that the panel is to speak: hall, living room, kitchen smoke.",
                    naming, &detector->name)) {
            return false;
        }
        if (detector->name.length == 0) {
            return true;
        }
        if (!ask_choice(interview,
                    text_print(memory(interview), "Which detector is the one of the %.*s?",
                            TEXT_ARGS(detector->name)),
                    preferred(profiles, profile_count, "quarter-motion"), "A profile in devices/.",
                    profiles, profile_count, &detector->profile) ||
                !read_sense(interview, detector->profile, &detector->sense) ||
                (detector->sense == SITE_MOTION && !ask_passing(interview, draft, detector)) ||
                !ask_area(interview, draft, detector->name, &detector->area)) {
            return false;
        }
        names[count++] = detector->name;
        draft->detector_count++;
    }
    return true;
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
            !ask_detectors(interview, ret_draft) || !ask_times(interview, ret_draft)) {
        return false;
    }
    ret_draft->abort_s = draft_usual_abort_s(ret_draft, interview->panel.abort_window);
    return true;
}
