#include "rehearsal/typed.h"

#include "base/quantity.h"

#include <string.h>

enum { WORDS_MAX = 24, FALLS_SHUT_S = 2, SEVERAL = -2 };
_Static_assert((int)SEVERAL != (int)SITE_NONE, "several is not none");

/** A line in words. */
struct words {
    struct text all[WORDS_MAX];
    size_t count;
};

/** A run of words: a name, or nothing. */
struct part {
    const struct words *words;
    size_t first;
    size_t end;
};

/** What a verb is about. */
enum about { ABOUT_DOOR, ABOUT_ZONE, ABOUT_KEYPAD, ABOUT_MODE };

/** keyed: somebody's code or fob is needed. through: opens, and shuts a little later. */
struct verb {
    const char *words;
    enum site_act act;
    enum about about;
    bool keyed;
    bool through;
};

/* The words of a routine's steps, and of the page's rehearsal. The longer of two comes first. */
/* clang-format off */
static const struct verb verbs[] = {
    {"goes through", SITE_ACT_OPEN,     ABOUT_DOOR,   .through = true},
    {"opens",        SITE_ACT_OPEN,     ABOUT_DOOR,   0, 0},
    {"closes",       SITE_ACT_CLOSE,    ABOUT_DOOR,   0, 0},
    {"passes",       SITE_ACT_PASS,     ABOUT_ZONE,   0, 0},
    {"trips",        SITE_ACT_PASS,     ABOUT_ZONE,   0, 0},
    {"keys",         SITE_ACT_UNSET,    ABOUT_KEYPAD, .keyed = true},
    {"unsets",       SITE_ACT_UNSET,    ABOUT_KEYPAD, .keyed = true},
    {"disarms",      SITE_ACT_UNSET,    ABOUT_KEYPAD, .keyed = true},
    {"sets",         SITE_ACT_SET,      ABOUT_MODE,   .keyed = true},
    {"arms",         SITE_ACT_SET,      ABOUT_MODE,   .keyed = true},
    {"mistypes",     SITE_ACT_MISTYPE,  ABOUT_KEYPAD, 0, 0},
    {"postpones",    SITE_ACT_POSTPONE, ABOUT_KEYPAD, .keyed = true},
    {"presses",      SITE_ACT_PRESS,    ABOUT_ZONE,   0, 0},
    {"bypasses",     SITE_ACT_BYPASS,   ABOUT_ZONE,   .keyed = true},
    {"tampers",      SITE_ACT_TAMPER,   ABOUT_ZONE,   0, 0},
};

static const struct { const char *words; enum site_act act; } whole_lines[] = {
    {"mains lost",     SITE_ACT_MAINS_LOST},
    {"mains back",     SITE_ACT_MAINS_BACK},
    {"jamming starts", SITE_ACT_JAMMED},
    {"jamming ends",   SITE_ACT_JAM_OVER},
    {"path lost",      SITE_ACT_PATH_LOST},
    {"path back",      SITE_ACT_PATH_BACK},
};

/* Words that say nothing here. */
static const char *const fillers[] = {"the", "a", "an", "his", "her", "their", "code", "with", "at", "in", "by", "on", "to"};
/* clang-format on */

enum { VERB_COUNT = sizeof verbs / sizeof verbs[0] };

/* ---- words and names --------------------------------------------------------------------------------------------- */

static bool same(struct text a, struct text b) {
    return text_distance(a, b, 0) == 0;
}

static bool is_filler(struct text word) {
    for (size_t i = 0; i < sizeof fillers / sizeof fillers[0]; i++) {
        if (same(word, text_of(fillers[i]))) {
            return true;
        }
    }
    return false;
}

static bool is_blank(char byte) {
    return byte == ' ' || byte == '\t' || byte == '\r' || byte == '"' || byte == ',';
}

static struct words split(struct text line) {
    struct words words = {.count = 0};
    for (size_t at = 0; at < line.length && words.count < WORDS_MAX;) {
        const size_t begins = at;
        while (at < line.length && !is_blank(line.start[at])) {
            at++;
        }
        if (at > begins) {
            words.all[words.count++] = (struct text){line.start + begins, at - begins};
        }
        at += at < line.length;
    }
    return words;
}

/* The next word that says something, or nothing. */
static struct text next_word(struct part part, size_t *at) {
    while (*at < part.end && is_filler(part.words->all[*at])) {
        (*at)++;
    }
    return *at < part.end ? part.words->all[(*at)++] : (struct text){0};
}

static bool is_empty(struct part part) {
    size_t at = part.first;
    return next_word(part, &at).length == 0;
}

static bool has_word(const struct words *words, struct text word) {
    for (size_t i = 0; i < words->count; i++) {
        if (same(words->all[i], word)) {
            return true;
        }
    }
    return false;
}

/* How well words name something: 0 not, 1 they are among its words, 2 they are its words. */
static int names(struct part part, struct text name) {
    const struct words own = split(name);
    size_t count = 0;
    size_t telling = 0;
    size_t at = part.first;
    for (struct text word = next_word(part, &at); word.length > 0; word = next_word(part, &at)) {
        if (!has_word(&own, word)) {
            return 0;
        }
        count++;
    }
    for (size_t i = 0; i < own.count; i++) {
        telling += !is_filler(own.all[i]);
    }
    return count == 0 ? 0 : count == telling ? 2 : 1;
}

/** A search among things: the best so far, and whether there are two alike; found gives SITE_NONE or SEVERAL then. */
struct search {
    struct part part;
    int best;
    int found;
    bool several;
};

static void look_at(struct search *search, int index, struct text name) {
    const int fit = names(search->part, name);
    if (fit == 0 || fit < search->best || index == search->found) {
        return;
    }
    search->several = fit == search->best;
    search->best = fit;
    search->found = index;
}

static int found(const struct search *search) {
    return search->several ? SEVERAL : search->found;
}

static struct search search_for(struct part part) {
    return (struct search){.part = part, .found = SITE_NONE};
}

enum listing { LIST_PEOPLE, LIST_DOORS, LIST_KEYPADS, LIST_ZONES, LIST_MODES, LIST_AREAS };

static size_t length_of(const struct typed *typed, enum listing listing) {
    const size_t counts[] = {
            [LIST_PEOPLE] = typed->site.person_count,
            [LIST_DOORS] = typed->site.door_count,
            [LIST_KEYPADS] = typed->site.keypad_count,
            [LIST_ZONES] = typed->site.zone_count,
            [LIST_MODES] = typed->site.settings.mode_count,
            [LIST_AREAS] = typed->site.area_count,
    };
    return counts[listing];
}

static struct text name_at(const struct typed *typed, enum listing listing, size_t index) {
    switch (listing) {
    case LIST_PEOPLE:
        return typed->site.people[index].name;
    case LIST_DOORS:
        return typed->site.doors[index].name;
    case LIST_KEYPADS:
        return typed->site.keypads[index].name;
    case LIST_ZONES:
        return typed->site.zones[index].name;
    case LIST_MODES:
        return typed->site.settings.modes[index].name;
    case LIST_AREAS:
        break;
    }
    return typed->site.areas[index].name;
}

/* The one of a listing that the words name; SITE_NONE, or SEVERAL. */
static int find(const struct typed *typed, enum listing listing, struct part part) {
    struct search search = search_for(part);
    for (size_t i = 0; i < length_of(typed, listing); i++) {
        look_at(&search, (int)i, name_at(typed, listing, i));
    }
    return found(&search);
}

static bool reads_number(struct text word, int *ret_number) {
    *ret_number = 0;
    for (size_t i = 0; i < word.length; i++) {
        if (word.start[i] < '0' || word.start[i] > '9' || i == 4) {
            return false;
        }
        *ret_number = *ret_number * 10 + word.start[i] - '0';
    }
    return word.length > 0;
}

/* By its number, its spoken name or its device's. */
static int find_zone(const struct typed *typed, struct part part) {
    struct search search = search_for(part);
    size_t at = part.first;
    int number = 0;
    struct text word = next_word(part, &at);
    word = same(word, text_of("zone")) ? next_word(part, &at) : word;
    if (reads_number(word, &number)) {
        for (size_t i = 0; i < typed->site.zone_count; i++) {
            if (typed->site.zones[i].number == number) {
                return (int)i;
            }
        }
        return SITE_NONE;
    }
    for (size_t i = 0; i < typed->site.zone_count; i++) {
        const struct site_zone *zone = &typed->site.zones[i];
        look_at(&search, (int)i, zone->name);
        if (zone->device >= 0) {
            look_at(&search, (int)i, typed->site.devices[zone->device].name);
        }
    }
    return found(&search);
}

/* A mode, and the words without it. */
static int take_mode(const struct typed *typed, struct part *part) {
    size_t at = part->first;
    const struct text word = next_word(*part, &at);
    for (size_t i = 0; word.length > 0 && i < typed->site.settings.mode_count; i++) {
        if (same(word, typed->site.settings.modes[i].name)) {
            part->first = at;
            return (int)i;
        }
    }
    return SITE_NONE;
}

/* Whether the words end in "fob"; then without it. */
static bool take_fob(struct part *part) {
    if (part->end > part->first && same(part->words->all[part->end - 1], text_of("fob"))) {
        part->end--;
        return true;
    }
    return false;
}

/* ---- what can be said instead ------------------------------------------------------------------------------------ */

static void add_part(struct text_builder *out, struct part part) {
    for (size_t i = part.first; i < part.end; i++) {
        text_add_string(out, i > part.first ? " " : "");
        text_add(out, part.words->all[i]);
    }
}

/* Adds it where the line has room, else on the next one; gives the column behind it. */
static size_t add_counted(struct text_builder *out, struct text item, size_t column) {
    enum { WIDE = 79, HANG = 4 };
    const size_t cells = text_cells(item);
    if (column > 0 && column + cells > WIDE) {
        out->length -= out->length > 0 && out->start[out->length - 1] == ' ';
        text_add_string(out, "\n    ");
        column = HANG;
    }
    text_add(out, item);
    return column + cells;
}

static void add_names(const struct typed *typed, enum listing listing, struct text_builder *out) {
    static const char *const headings[] = {
            [LIST_PEOPLE] = "people: ",
            [LIST_DOORS] = "doors: ",
            [LIST_KEYPADS] = "keypads: ",
            [LIST_ZONES] = "zones: ",
            [LIST_MODES] = "modes: ",
            [LIST_AREAS] = "areas: ",
    };
    size_t column = add_counted(out, text_of(headings[listing]), 0);
    for (size_t i = 0; i < length_of(typed, listing); i++) {
        const bool last = i + 1 == length_of(typed, listing);
        const struct text name = name_at(typed, listing, i);
        const struct text item = listing == LIST_ZONES
                ? text_print(out->arena, "%d %.*s%s", typed->site.zones[i].number, TEXT_ARGS(name),
                          last ? "" : ", ")
                : text_print(out->arena, "%.*s%s", TEXT_ARGS(name), last ? "" : ", ");
        column = add_counted(out, item, column);
    }
    text_add_string(out, length_of(typed, listing) == 0 ? "none\n" : "\n");
}

/** said: what is wrong, and the words it is about, or nothing. */
static struct typed_line unknown(const struct typed *typed, const char *said, struct part part,
        enum listing listing, struct text_builder *wanted) {
    text_add_string(wanted, said);
    if (!is_empty(part)) {
        text_add_string(wanted, " \"");
        add_part(wanted, part);
        text_add_string(wanted, "\"");
    }
    text_add_string(wanted, "; write one of these\n");
    add_names(typed, listing, wanted);
    return (struct typed_line){.kind = TYPED_UNKNOWN};
}

/** found: SITE_NONE, or SEVERAL. */
static struct typed_line not_found(const struct typed *typed, int found, struct part part,
        enum listing listing, struct text_builder *wanted) {
    static const struct {
        const char *none;
        const char *several;
    } says[] = {
            [LIST_PEOPLE] = {"nobody is called", "several people may be called"},
            [LIST_DOORS] = {"no door is called", "several doors may be called"},
            [LIST_KEYPADS] = {"no keypad is called", "several keypads may be called"},
            [LIST_ZONES] = {"no zone is called", "several zones may be called"},
            [LIST_MODES] = {"no mode is called", "several modes may be called"},
            [LIST_AREAS] = {"no area is called", "several areas may be called"},
    };
    return unknown(typed, found == SEVERAL ? says[listing].several : says[listing].none, part,
            listing, wanted);
}

static struct typed_line cannot(
        const struct typed *typed, int who, const char *why, struct text_builder *wanted) {
    text_add_format(wanted, "%.*s %s\n", TEXT_ARGS(typed->site.people[who].name), why);
    return (struct typed_line){.kind = TYPED_UNKNOWN};
}

void typed_help(const struct typed *typed, struct text_builder *out) {
    text_add_string(out,
            "PERSON opens, closes, goes through DOOR       or: DOOR opens\n"
            "PERSON passes, presses, bypasses, tampers ZONE    or: ZONE trips\n"
            "PERSON keys at KEYPAD (unsets), mistypes, postpones\n"
            "PERSON unsets with fob\n"
            "PERSON sets MODE at KEYPAD, or: with fob\n"
            "mains lost, back; jamming starts, ends; path lost, back\n"
            "wait 20 s; wait (until the next thing happens)\n"
            "before all else: AREA begins MODE; DOOR begins open\n");
    for (enum listing listing = LIST_PEOPLE; listing <= LIST_AREAS; listing++) {
        add_names(typed, listing, out);
    }
}

/* ---- reading ----------------------------------------------------------------------------------------------------- */

static struct proof_step step_of(enum site_act act, int who) {
    return (struct proof_step){.who = who,
            .act = act,
            .door = SITE_NONE,
            .sign_door = SITE_NONE,
            .zone = SITE_NONE,
            .keypad = SITE_NONE,
            .when_area = SITE_NONE,
            .if_area = SITE_NONE,
            .after = SITE_NONE};
}

static struct typed_line one_act(struct proof_step step) {
    return (struct typed_line){.kind = TYPED_ACT, .steps = {step}, .count = 1};
}

static int somebody(const struct typed *typed) {
    return (int)typed->site.person_count - 1;
}

/** A line that was cut at its verb. */
struct cut {
    const struct typed *typed;
    const struct verb *verb;
    struct part before;
    struct part behind;
    struct text_builder *wanted;
};

/* Who does it, where the thing may stand before the verb as well ("front door opens"). *ret_thing: its words. */
static bool cut_who(const struct cut *cut, int *ret_who, struct part *ret_thing) {
    *ret_thing = is_empty(cut->behind) ? cut->before : cut->behind;
    *ret_who = somebody(cut->typed);
    if (is_empty(cut->behind) || is_empty(cut->before)) {
        return true;
    }
    *ret_who = find(cut->typed, LIST_PEOPLE, cut->before);
    return *ret_who >= 0;
}

static struct typed_line read_door(const struct cut *cut) {
    const struct typed *typed = cut->typed;
    struct part thing;
    int who = SITE_NONE;
    if (!cut_who(cut, &who, &thing)) {
        return not_found(typed, who, cut->before, LIST_PEOPLE, cut->wanted);
    }
    struct proof_step step = step_of(cut->verb->act, who);
    step.door = find(typed, LIST_DOORS, thing);
    if (step.door < 0) {
        /* a contact that hangs on no door of its own moves by itself */
        const int zone = find_zone(typed, thing);
        if (zone < 0 || cut->verb->through ||
                !site_sense_is_level(site_zone_sense(&typed->site, &typed->site.zones[zone]))) {
            return not_found(typed, step.door, thing, LIST_DOORS, cut->wanted);
        }
        step.door = site_zone_door(&typed->site, &typed->site.zones[zone]);
        if (step.door == SITE_NONE) {
            step.zone = zone;
            step.act = SITE_ACT_WAIT;
            step.mishap =
                    cut->verb->act == SITE_ACT_OPEN ? PROOF_MISHAP_TRIPS : PROOF_MISHAP_RESTORES;
        }
    }
    if (typed->site.people[who].animal) {
        return cannot(typed, who, "is an animal, and can only pass", cut->wanted);
    }
    struct typed_line line = one_act(step);
    if (cut->verb->through) {
        line.steps[1] = step;
        line.steps[1].act = SITE_ACT_CLOSE;
        line.after_s[1] = FALLS_SHUT_S;
        line.count = 2;
    }
    return line;
}

static struct typed_line read_zone(const struct cut *cut) {
    const struct typed *typed = cut->typed;
    struct part thing;
    int who = SITE_NONE;
    if (!cut_who(cut, &who, &thing)) {
        return not_found(typed, who, cut->before, LIST_PEOPLE, cut->wanted);
    }
    struct proof_step step = step_of(cut->verb->act, who);
    step.zone = find_zone(typed, thing);
    if (step.zone < 0) {
        return not_found(typed, step.zone, thing, LIST_ZONES, cut->wanted);
    }
    if (cut->verb->keyed && !typed->site.people[who].has_code) {
        return cannot(typed, who, "has no code; name somebody who has one", cut->wanted);
    }
    if (cut->verb->act == SITE_ACT_PASS &&
            site_sense_is_level(site_zone_sense(&typed->site, &typed->site.zones[step.zone]))) {
        step.act = SITE_ACT_WAIT;
        step.mishap = PROOF_MISHAP_TRIPS;
    }
    return one_act(step);
}

/* Where it is keyed: the only keypad needs no name. */
static bool take_keypad(const struct cut *cut, struct part where, int *ret_keypad) {
    *ret_keypad = is_empty(where) && cut->typed->site.keypad_count == 1
            ? 0
            : find(cut->typed, LIST_KEYPADS, where);
    return *ret_keypad >= 0;
}

static struct typed_line read_keys(const struct cut *cut) {
    const struct typed *typed = cut->typed;
    struct part where = cut->behind;
    struct proof_step step = step_of(cut->verb->act, find(typed, LIST_PEOPLE, cut->before));
    if (step.who < 0) {
        return is_empty(cut->before)
                ? unknown(typed, "who does it? Name somebody", cut->before, LIST_PEOPLE,
                          cut->wanted)
                : not_found(typed, step.who, cut->before, LIST_PEOPLE, cut->wanted);
    }
    const struct site_person *person = &typed->site.people[step.who];
    step.use = take_fob(&where) ? SITE_USE_FOB : SITE_USE_CODE;
    if (cut->verb->about == ABOUT_MODE) {
        step.mode = take_mode(typed, &where);
        if (step.mode == SITE_NONE) {
            return unknown(
                    typed, "in which mode? There is none called", where, LIST_MODES, cut->wanted);
        }
    }
    if (step.use == SITE_USE_FOB && !person->has_fob) {
        return cannot(typed, step.who, "has no fob", cut->wanted);
    }
    if (step.use == SITE_USE_CODE && cut->verb->keyed && !person->has_code) {
        return cannot(typed, step.who, "has no code; name somebody who has one", cut->wanted);
    }
    if (step.use == SITE_USE_CODE && !take_keypad(cut, where, &step.keypad)) {
        return is_empty(where)
                ? unknown(typed, "at which keypad?", where, LIST_KEYPADS, cut->wanted)
                : not_found(typed, step.keypad, where, LIST_KEYPADS, cut->wanted);
    }
    return one_act(step);
}

static struct typed_line read_cut(const struct cut *cut) {
    switch (cut->verb->about) {
    case ABOUT_DOOR:
        return read_door(cut);
    case ABOUT_ZONE:
        return read_zone(cut);
    case ABOUT_KEYPAD:
    case ABOUT_MODE:
        break;
    }
    return read_keys(cut);
}

/* How many words from `at` on are the phrase's; 0: they are not. The plain form of a verb ("open") is one too. */
static size_t spells(const struct words *words, size_t at, const char *phrase) {
    const struct words own = split(text_of(phrase));
    for (size_t i = 0; i < own.count; i++) {
        if (at + i >= words->count) {
            return 0;
        }
        const struct text word = words->all[at + i];
        const struct text plain = {own.all[i].start, own.all[i].length - 1};
        const bool ends_in_s = own.all[i].start[own.all[i].length - 1] == 's';
        if (!same(word, own.all[i]) && !(ends_in_s && same(word, plain))) {
            return 0;
        }
    }
    return own.count;
}

/* A verb's word may stand in a name too: the first reading that can be understood counts, else the first. */
static struct typed_line read_act(
        const struct typed *typed, const struct words *words, struct text_builder *wanted) {
    struct typed_line first = {.kind = TYPED_NOTHING};
    struct text_builder unheard;
    text_builder_init(&unheard, wanted->arena);
    for (size_t at = 0; at < words->count; at++) {
        for (size_t i = 0; i < VERB_COUNT; i++) {
            const size_t length = spells(words, at, verbs[i].words);
            if (length == 0) {
                continue;
            }
            const struct cut cut = {.typed = typed,
                    .verb = &verbs[i],
                    .before = {words, 0, at},
                    .behind = {words, at + length, words->count},
                    .wanted = first.kind == TYPED_NOTHING ? wanted : &unheard};
            const struct typed_line line = read_cut(&cut);
            if (line.kind == TYPED_ACT) {
                wanted->length = 0;
                return line;
            }
            first = line;
        }
    }
    if (first.kind == TYPED_NOTHING) {
        text_add_string(wanted, "what is done? Write one of these\n");
        typed_help(typed, wanted);
        first.kind = TYPED_UNKNOWN;
    }
    return first;
}

static struct typed_line read_wait(const struct words *words, struct text_builder *wanted) {
    struct text_builder time;
    struct problem problem = {0};
    struct typed_line line = {.kind = TYPED_WAIT, .wait_s = TYPED_TO_NEXT};
    text_builder_init(&time, wanted->arena);
    add_part(&time, (struct part){words, 1, words->count});
    if (words->count > 1 &&
            !quantity_read_seconds(text_built(&time), &line.wait_s, &problem).good) {
        text_add_format(wanted, "how long? %s\n", problem.text);
        line.kind = TYPED_UNKNOWN;
    }
    return line;
}

/* "shop begins full", "shop begins unset", "yard door begins open"; `at`: of "begins". */
static struct typed_line read_start(const struct typed *typed, const struct words *words, size_t at,
        struct text_builder *wanted) {
    struct part name = {words, 0, at};
    struct part how = {words, at + 1, words->count};
    struct typed_line line = {.kind = TYPED_START, .area = SITE_NONE, .door = SITE_NONE};
    if (typed->routine.step_count > 0) {
        text_add_string(wanted, "something has been done already; how all stands comes before\n");
        return (struct typed_line){.kind = TYPED_UNKNOWN};
    }
    if (words->count == at + 2 && same(words->all[at + 1], text_of("open"))) {
        line.door = find(typed, LIST_DOORS, name);
        return line.door >= 0 ? line : not_found(typed, line.door, name, LIST_DOORS, wanted);
    }
    line.area = find(typed, LIST_AREAS, name);
    if (line.area < 0) {
        return not_found(typed, line.area, name, LIST_AREAS, wanted);
    }
    if (words->count == at + 2 && same(words->all[at + 1], text_of("unset"))) {
        return line;
    }
    line.start = (struct site_start){.set = true, .mode = take_mode(typed, &how)};
    return line.start.mode != SITE_NONE
            ? line
            : unknown(typed, "unset, or in which mode? There is none called", how, LIST_MODES,
                      wanted);
}

struct typed_line typed_read(
        const struct typed *typed, struct text line, struct text_builder *wanted) {
    const struct words words = split(line);
    if (words.count == 0 || words.all[0].start[0] == '#') {
        return (struct typed_line){.kind = TYPED_NOTHING};
    }
    if (words.count == 1 && (same(words.all[0], text_of("help")) || text_is(words.all[0], "?"))) {
        return (struct typed_line){.kind = TYPED_HELP};
    }
    if (same(words.all[0], text_of("wait"))) {
        return read_wait(&words, wanted);
    }
    for (size_t i = 0; words.count == 2 && i < sizeof whole_lines / sizeof whole_lines[0]; i++) {
        if (spells(&words, 0, whole_lines[i].words) == 2) {
            return one_act(step_of(whole_lines[i].act, somebody(typed)));
        }
    }
    for (size_t at = 1; at < words.count; at++) {
        if (same(words.all[at], text_of("begins"))) {
            return read_start(typed, &words, at, wanted);
        }
    }
    return read_act(typed, &words, wanted);
}

/* ---- what was typed ---------------------------------------------------------------------------------------------- */

outcome typed_begin(const struct site *site, struct arena *arena, struct typed *ret_typed,
        struct problem *ret_problem) {
    const size_t count = site->person_count;
    struct site_person *people = ARENA_ARRAY(arena, struct site_person, count + 1);
    if (count == SITE_PEOPLE_MAX) {
        FAIL(ret_problem, PROBLEM_LIMIT, "people",
                "with %d people there is no room for one more, who does what is typed without a "
                "name",
                SITE_PEOPLE_MAX);
    }
    if (people == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for what is typed");
    }
    if (count > 0) {
        memcpy(people, site->people, count * sizeof *people);
    }
    people[count] = (struct site_person){.name = text_of("Somebody")};
    *ret_typed = (struct typed){.site = *site, .routine = {.begins_s = -1}};
    ret_typed->site.people = people;
    ret_typed->site.person_count = count + 1;
    ret_typed->source.name = text_of("what is typed");
    ret_typed->routine.name = ret_typed->source.name;
    return outcome_good();
}

outcome typed_add(struct typed *typed, const struct typed_line *line, int32_t at_s,
        struct problem *ret_problem) {
    struct proof_routine *routine = &typed->routine;
    if (routine->step_count + line->count > PROOF_STEP_MAX) {
        FAIL(ret_problem, PROBLEM_LIMIT, "",
                "a rehearsal has room for %d acts, and they are done; end this one and begin "
                "another: what is typed from here on is not done",
                PROOF_STEP_MAX);
    }
    for (size_t i = 0; i < line->count; i++) {
        struct proof_step *step = &routine->steps[routine->step_count++];
        int32_t *done_s = &typed->done_s[line->steps[i].who];
        const int32_t due_s = at_s + line->after_s[i];
        const int32_t in_s = due_s > *done_s ? due_s - *done_s : 0;
        *step = line->steps[i];
        step->in = span_of(in_s, in_s);
        *done_s += in_s;
    }
    return outcome_good();
}

void typed_start(struct typed *typed, const struct typed_line *line) {
    if (line->area != SITE_NONE) {
        typed->source.starts[line->area] = line->start;
    } else if (line->door >= 0 && line->door < 32) {
        typed->source.doors_open |= UINT32_C(1) << line->door;
    }
}

outcome typed_course(const struct typed *typed, struct arena *arena,
        struct rehearsal_course *ret_course, struct problem *ret_problem) {
    const struct proof_options options = {.no_promises = true};
    struct proof_answer *answer = ARENA_NEW(arena, struct proof_answer);
    if (answer == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for what is typed");
    }
    *answer = (struct proof_answer){.routine = typed->routine, .culprit_zone = PANEL_NO_ZONE};
    answer->routine.source = &typed->source;
    TRY(proof_tell(&typed->site, NULL, &answer->routine, &options, PROOF_MIDDLING, arena,
            &answer->story, &answer->story_count, ret_problem));
    rehearsal_of_routine(&typed->site, answer, ret_course);
    return outcome_good();
}
