#include "check/temporary.h"

#include "check/words.h"

enum course { PLANNED, IN_FORCE, LASTING, OVER };

static enum course course_of(const struct site_temporary *change, int32_t today_day) {
    if (today_day < change->from_day) {
        return PLANNED;
    }
    return change->lasting ? LASTING : today_day > change->until_day ? OVER : IN_FORCE;
}

static bool is_on(const struct site_temporary *change, int32_t today_day) {
    const enum course course = course_of(change, today_day);
    return course == IN_FORCE || course == LASTING;
}

static void leave_out(struct site_zone *zone) {
    zone->behaviour = SITE_OUT;
    zone->chime = false;
    zone->set_aside = true;
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        zone->in[mode] = SITE_OUT;
        zone->delay[mode] = SITE_NONE;
    }
}

enum visit { COMES, BETWEEN, LEFT };

/* A guest comes on the days of each visit, and has left when the last of them is over. */
static enum visit visit_of(const struct site *site, int person, int32_t today_day) {
    const int32_t left_day = site->people[person].left_day;
    bool guest = false;
    bool over = true;
    bool today = false;
    for (size_t i = 0; i < site->temporary_count; i++) {
        const struct site_temporary *change = &site->temporaries[i];
        if (change->guest == person) {
            guest = true;
            over = over && course_of(change, today_day) == OVER;
            today = today || course_of(change, today_day) == IN_FORCE;
        }
    }
    if (left_day != DATE_NONE && today_day > left_day) {
        return LEFT;
    }
    return !guest || today ? COMES : over ? LEFT : BETWEEN;
}

static bool takes_part(const struct site_routine *routine, int person) {
    for (size_t i = 0; i < routine->step_count; i++) {
        if (routine->steps[i].who == person) {
            return true;
        }
    }
    return false;
}

static void send_away(struct site *site, size_t person, enum visit visit) {
    site->people[person].has_code = false;
    site->people[person].has_fob = false;
    site->people[person].away = true;
    site->people[person].left = visit == LEFT;
    for (size_t i = 0; i < site->routine_count; i++) {
        site->routines[i].rests |= takes_part(&site->routines[i], (int)person);
    }
}

static bool somebody_leaves(const struct site *site) {
    bool leaves = false;
    for (size_t i = 0; i < site->person_count; i++) {
        leaves = leaves || site->people[i].left_day != DATE_NONE;
    }
    return leaves;
}

outcome temporary_apply(const struct site *site, int32_t today_day, struct arena *arena,
        struct site *ret_site, struct problem *ret_problem) {
    struct site today;
    if (today_day == DATE_NONE || (site->temporary_count == 0 && !somebody_leaves(site))) {
        *ret_site = *site;
        return outcome_good();
    }
    TRY(site_copy(site, arena, &today, ret_problem));
    today.keyed_zones = site->zones;
    for (size_t i = 0; i < site->temporary_count; i++) {
        const struct site_temporary *change = &site->temporaries[i];
        const int zone = change->bypass != SITE_NONE ? change->bypass : change->soak;
        if (zone != SITE_NONE && is_on(change, today_day)) {
            leave_out(&today.zones[zone]);
        }
    }
    for (size_t i = 0; i < site->person_count; i++) {
        const enum visit visit = visit_of(site, (int)i, today_day);
        if (visit != COMES) {
            send_away(&today, i, visit);
        }
    }
    *ret_site = today;
    return outcome_good();
}

/* ---- what is said */

struct speaker {
    const struct site *site;
    const struct site_temporary *change;
    struct arena *arena;
};

/* Life safety is known by what the device senses: a zone that is out in force has no behaviour that would tell. */
static bool is_life_safety(const struct site *site, const struct site_temporary *change) {
    const int zone = change->bypass != SITE_NONE ? change->bypass : change->soak;
    if (zone == SITE_NONE || site->zones[zone].device == SITE_NONE) {
        return false;
    }
    const struct site_device *device = &site->devices[site->zones[zone].device];
    const enum site_sense sense = site->device_profiles[device->profile].sense;
    return sense == SITE_SMOKE || sense == SITE_GAS_SENSE || sense == SITE_BUTTON;
}

static void add_thing(struct text_builder *out, const struct speaker *speaker) {
    struct words_about about = words_about_nothing();
    about.zone =
            speaker->change->bypass != SITE_NONE ? speaker->change->bypass : speaker->change->soak;
    about.person = speaker->change->guest;
    words_add(out, speaker->site, about.zone != SITE_NONE ? "{zone}" : "the code of {person}",
            &about);
}

enum { BYPASS, SOAK, GUEST, SORT_COUNT };

static int sort_of(const struct site_temporary *change) {
    return change->bypass != SITE_NONE ? BYPASS : change->soak != SITE_NONE ? SOAK : GUEST;
}

/* What stands before and after the days. */
static struct text headline_of(const struct speaker *speaker, enum course course) {
    static const char *const patterns[][SORT_COUNT][2] = {
            [PLANNED] = {{" is to be left out from ", ": not yet"},
                    {" is to be on soak from ", ": not yet"}, {" is to work from ", ": not yet"}},
            [IN_FORCE] = {{" is left out until ", ": nothing there is heard"},
                    {" is on soak until ", ": it only writes the log"},
                    {" works until ", " and no longer"}},
            /* A guest does not last. */
            [LASTING] = {{" has been left out since ", ": nothing there is heard"},
                    {" has been on soak since ", ": it only writes the log"}, {"", ""}},
            [OVER] = {{" was to be left out only until ", ": is it back in service in the panel?"},
                    {" was to be on soak only until ", ": is it back in service in the panel?"},
                    {" was to work only until ", ": is it deleted in the panel?"}},
    };
    const struct site_temporary *change = speaker->change;
    const char *const *pattern = patterns[course][sort_of(change)];
    struct text_builder out;
    text_builder_init(&out, speaker->arena);
    add_thing(&out, speaker);
    text_add_string(&out, pattern[0]);
    if (course == PLANNED || course == LASTING) {
        date_add(&out, change->from_day);
    }
    if (!change->lasting) {
        text_add_string(&out, course == PLANNED ? " to " : "");
        date_add(&out, change->until_day);
    }
    text_add_string(&out, pattern[1]);
    return text_built(&out);
}

/* Why, by whom; for a guest who is away, which routines rest. */
static struct text why_of(const struct speaker *speaker) {
    const struct site_temporary *change = speaker->change;
    struct text_builder out;
    size_t count = 0;
    text_builder_init(&out, speaker->arena);
    text_add_format(&out, "%.*s (%.*s)", TEXT_ARGS(change->why), TEXT_ARGS(change->by));
    for (size_t i = 0; change->guest != SITE_NONE && i < speaker->site->routine_count; i++) {
        const struct site_routine *routine = &speaker->site->routines[i];
        if (routine->rests && takes_part(routine, change->guest)) {
            text_add_format(&out, "%s\"%.*s\"", count++ == 0 ? "; not looked at today: " : ", ",
                    TEXT_ARGS(routine->name));
        }
    }
    return text_built(&out);
}

static struct text about_of(const struct speaker *speaker) {
    const struct site_temporary *change = speaker->change;
    if (change->guest != SITE_NONE) {
        return text_print(speaker->arena, "person %.*s guest",
                TEXT_ARGS(speaker->site->people[change->guest].name));
    }
    const bool bypass = change->bypass != SITE_NONE;
    return text_print(speaker->arena, "zone %d %s",
            speaker->site->zones[bypass ? change->bypass : change->soak].number,
            bypass ? "bypass" : "soak");
}

static struct text remedy_of(enum course course) {
    if (course == OVER) {
        return text_of("look at the panel, key back what lintel sheet says, then take the entry "
                       "out of the file");
    }
    if (course == LASTING) {
        return text_of("what trips it mended and the zone put back, or a last day: until");
    }
    return course == IN_FORCE ? text_of("afterwards: key back what lintel sheet says")
                              : (struct text){0};
}

void temporary_say(const struct site *site, int32_t today_day, struct arena *arena,
        struct check_finding *ret_findings, size_t *ret_count) {
    static const char *const ids[] = {[PLANNED] = "temporary.planned",
            [IN_FORCE] = "temporary.in-force",
            [LASTING] = "temporary.lasting",
            [OVER] = "temporary.over"};
    size_t count = 0;
    for (size_t i = 0; today_day != DATE_NONE && i < site->temporary_count; i++) {
        const struct speaker speaker = {
                .site = site, .change = &site->temporaries[i], .arena = arena};
        const enum course course = course_of(speaker.change, today_day);
        const bool unsafe =
                is_on(speaker.change, today_day) && is_life_safety(site, speaker.change);
        const bool risk = course == OVER || course == LASTING || unsafe;
        ret_findings[count++] = (struct check_finding){
                .base = {.weight = risk ? FINDING_RISK : FINDING_NOTE,
                        .id = text_of(ids[course]),
                        .headline = headline_of(&speaker, course),
                        .why = why_of(&speaker),
                        .place = text_print(arena, "temporary[%zu]", i),
                        .remedy = unsafe ? text_of("the adopted local code says what stands in for "
                                                   "it meanwhile")
                                         : remedy_of(course),
                        .source = unsafe ? text_of("common practice; local code and licensed "
                                                   "practice win")
                                         : text_of(""),
                        .answer_index = FINDING_NO_ANSWER},
                .about = about_of(&speaker)};
    }
    *ret_count = count;
}
