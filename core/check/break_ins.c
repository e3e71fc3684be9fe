#include "check/break_ins.h"

#include "base/quantity.h"
#include "check/break_in_layer.h"
#include "check/break_in_spots.h"
#include "site/words.h"

/* Of a search that may take a few seconds (breakin/breakin.h has that of a usual one). */
enum { PATIENT_LABELS = 4 * BREAKIN_LABEL_LIMIT };

/* What looking shares. */
struct look {
    const struct site *site;
    struct panel_program program;
    struct breakin_options options;
    struct pages pages;
    struct arena *arena;
    struct break_ins *found;
    const struct break_ins_options *asked;
    bool cut; /* a search was: searching again and again would take too long */
};

static outcome no_memory(struct problem *ret_problem) {
    FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the break-ins");
}

const char *break_ins_verdict_name(enum break_ins_verdict verdict) {
    static const char *const names[BREAK_INS_VERDICT_COUNT] = {
            [BREAK_INS_IN_TIME] = "heard in time",
            [BREAK_INS_LATE] = "heard too late",
            [BREAK_INS_UNHEARD] = "unheard",
            [BREAK_INS_PANEL_FIRST] = "panel first",
            [BREAK_INS_NO_WAY] = "no way there",
            [BREAK_INS_NOT_SETTLED] = "not settled",
    };
    return names[verdict];
}

bool break_in_is_open(const struct break_in *it) {
    return it->answer.open || it->verdict == BREAK_INS_NOT_SETTLED;
}

bool break_in_is_cut_off(const struct site *site, const struct break_in *it) {
    return it->verdict == BREAK_INS_IN_TIME &&
            site->break_ins.rooms[site->break_ins.goals[it->goal].room].cut_off;
}

size_t break_ins_unsettled(const struct break_ins *break_ins) {
    size_t count = break_ins->asked && break_ins->count == 0;
    for (size_t i = 0; i < break_ins->count; i++) {
        count += break_ins->list[i].verdict == BREAK_INS_NOT_SETTLED;
    }
    return count;
}

/* Whether there is anything to come for. */
static bool is_protected(const struct site_building *building) {
    for (size_t i = 0; i < building->place_count; i++) {
        if (portals_is_goal(&building->places[i])) {
            return true;
        }
    }
    return false;
}

static outcome draw(const struct site *site, struct arena *arena, struct site *ret_site,
        struct problem *ret_problem) {
    struct house house;
    struct portals portals;
    TRY(house_make(site, arena, &house, ret_problem));
    return break_ins_draw(&house, arena, ret_site, &portals, ret_problem);
}

outcome break_ins_from_drawing(const struct site *site, struct arena *arena, struct site *ret_site,
        struct problem *ret_problem) {
    struct problem problem = {0};
    *ret_site = *site;
    if (!site->building.said || site->break_ins.room_count > 0 || !is_protected(&site->building) ||
            draw(site, arena, ret_site, &problem).good) {
        return outcome_good();
    }
    if (problem.kind != PROBLEM_LIMIT) {
        FAIL(ret_problem, problem.kind, problem.place, "%s", problem.text);
    }
    *ret_site = *site; /* the rest of it can be checked as well */
    ret_site->break_ins.too_large = true;
    return outcome_good();
}

static const char *why_not(const struct site *site) {
    return site->break_ins.too_large ? "the drawing has too many openings, or things to protect"
            : site->building.said ? "nothing to protect is drawn; add {protects: NAME, room: ROOM} "
                                    "to building.places"
                                  : "no drawing; write building:, or rooms in break-ins:";
}

struct text break_ins_place(const struct site *site, size_t goal, struct arena *arena) {
    return site->break_ins.drawn
            ? text_print(arena, "building.places[%d]", site->break_ins.goals[goal].place)
            : text_print(arena, "break-ins.protect[%zu]", goal);
}

static enum break_ins_verdict verdict_of(enum breakin_verdict verdict) {
    static const enum break_ins_verdict verdicts[] = {
            [BREAKIN_IN_TIME] = BREAK_INS_IN_TIME,
            [BREAKIN_LATE] = BREAK_INS_LATE,
            [BREAKIN_UNHEARD] = BREAK_INS_UNHEARD,
            [BREAKIN_NO_WAY] = BREAK_INS_NO_WAY,
            [BREAKIN_NOT_SETTLED] = BREAK_INS_NOT_SETTLED,
    };
    return verdicts[verdict];
}

static bool is_worse(const struct breakin_answer *a, const struct breakin_answer *b) {
    const int by = additions_badness(a->verdict) - additions_badness(b->verdict);
    return by > 0 || (by == 0 && a->spare_s < b->spare_s);
}

static bool asks(void *context, size_t labels) {
    const struct look *look = context;
    return look->asked->keep_going == NULL ||
            look->asked->keep_going(look->asked->keep_going_context, labels, 0);
}

static outcome search(struct look *look, size_t start, const struct breakin_options *options,
        struct breakin_answer *answers, struct problem *ret_problem) {
    const struct breakin_start from = rooms_start(look->site, start);
    size_t labels = 0;
    TRY(breakin_search(look->site, &look->program, &look->found->rooms.graph, &from, options,
            look->pages, look->arena, answers, &labels, ret_problem));
    look->cut = look->cut || labels >= BREAKIN_LABEL_LIMIT;
    return outcome_good();
}

static outcome worst_within(
        struct look *look, const struct breakin_options *options, struct problem *ret_problem) {
    const size_t goals = look->found->count;
    struct breakin_answer *answers = ARENA_ARRAY(look->arena, struct breakin_answer, goals);
    if (answers == NULL) {
        return no_memory(ret_problem);
    }
    for (size_t start = 0; start < look->site->break_ins.start_count; start++) {
        TRY(search(look, start, options, answers, ret_problem));
        for (size_t goal = 0; goal < goals; goal++) {
            struct break_in *it = &look->found->list[goal];
            if (start == 0 || is_worse(&answers[goal], &it->answer)) {
                it->answer = answers[goal];
                it->start = start;
                it->verdict = verdict_of(answers[goal].verdict);
            }
        }
    }
    return outcome_good();
}

/* Longer where that alone may settle it; the searches that follow must not take as long. */
static outcome worst_of_all(struct look *look, struct problem *ret_problem) {
    struct breakin_options patient = look->options;
    patient.label_limit = PATIENT_LABELS;
    TRY(worst_within(look, &look->options, ret_problem));
    return break_ins_unsettled(look->found) > 0 && asks(look, 0)
            ? worst_within(look, &patient, ret_problem)
            : outcome_good();
}

/* Whether what goes wrong goes wrong with true clocks as well. */
static outcome without_tolerance(struct look *look, struct problem *ret_problem) {
    const size_t goals = look->found->count;
    struct breakin_options options = look->options;
    struct breakin_answer *answers = ARENA_ARRAY(look->arena, struct breakin_answer, goals);
    if (answers == NULL) {
        return no_memory(ret_problem);
    }
    bool any = false;
    options.no_tolerance = true;
    for (size_t goal = 0; goal < goals; goal++) {
        const enum break_ins_verdict verdict = look->found->list[goal].verdict;
        look->found->list[goal].needs_tolerance =
                verdict == BREAK_INS_LATE || verdict == BREAK_INS_UNHEARD;
        any = any || look->found->list[goal].needs_tolerance;
    }
    for (size_t start = 0; any && start < look->site->break_ins.start_count; start++) {
        TRY(search(look, start, &options, answers, ret_problem));
        for (size_t goal = 0; goal < goals; goal++) {
            struct break_in *it = &look->found->list[goal];
            it->needs_tolerance = it->needs_tolerance &&
                    additions_badness(answers[goal].verdict) <
                            additions_badness(it->answer.verdict);
        }
    }
    return outcome_good();
}

/* Once the panel is smashed or its line is cut before its signal has left, nothing else is heard any more. */
static void look_at_panel(struct break_ins *found, const struct site *site) {
    for (size_t goal = 0; goal < found->count; goal++) {
        const struct break_in *panel = &found->list[goal];
        if (site->break_ins.goals[goal].kind == SITE_BREAK_IN_THING ||
                (panel->verdict != BREAK_INS_LATE && panel->verdict != BREAK_INS_UNHEARD) ||
                (site->break_ins.goals[goal].kind == SITE_BREAK_IN_LINE &&
                        site->break_ins.heard_by == SITE_HEARD_BY_SIREN)) {
            continue;
        }
        for (size_t other = 0; other < found->count; other++) {
            if (site->break_ins.goals[other].kind == SITE_BREAK_IN_THING &&
                    found->list[other].verdict == BREAK_INS_IN_TIME) {
                found->list[other].verdict = BREAK_INS_PANEL_FIRST;
                found->list[other].panel = goal;
            }
        }
    }
}

static bool is_same_way(const struct breakin_course *a, const struct breakin_course *b) {
    bool same = a->act_count == b->act_count;
    for (size_t i = 0; same && i < a->act_count; i++) {
        same = a->acts[i].portal == b->acts[i].portal && a->acts[i].index == b->acts[i].index &&
                a->acts[i].begins_s == b->acts[i].begins_s;
    }
    return same;
}

static outcome tell_course(struct look *look, const struct break_in *it,
        const struct breakin_course *course, struct breakin_story *ret_story,
        struct story *ret_told, struct problem *ret_problem) {
    const struct breakin_start from = rooms_start(look->site, it->start);
    TRY(breakin_tell(look->site, &look->program, &look->found->rooms.graph, it->goal, &from,
            &look->options, course, look->arena, ret_story, ret_problem));
    return break_ins_tell(look->site, &look->found->rooms, it->goal, it->start, course, ret_story,
            look->arena, ret_told, ret_problem);
}

static outcome tell_all(struct look *look, struct problem *ret_problem) {
    for (size_t goal = 0; goal < look->found->count; goal++) {
        struct break_in *it = &look->found->list[goal];
        const struct breakin_answer *answer = &it->answer;
        struct breakin_story quickest;
        if (answer->best.acts == NULL) {
            continue;
        }
        TRY(tell_course(look, it, &answer->best, &it->story, &it->told, ret_problem));
        if (!is_same_way(&answer->best, &answer->quickest)) {
            TRY(tell_course(
                    look, it, &answer->quickest, &quickest, &it->quickest_told, ret_problem));
        }
    }
    return outcome_good();
}

/* ---- what it hangs on, and what would help ----------------------------------------------------------------------- */

static struct panel_zones zones_of_device(const struct site *site, int device) {
    struct panel_zones zones = {{0, 0}};
    for (unsigned zone = 0; zone < site->zone_count; zone++) {
        if (site->zones[zone].device == device) {
            panel_zones_add(&zones, zone);
        }
    }
    return zones;
}

static bool is_on_a_way(const struct rooms *rooms, const struct panel_zones *zones) {
    const struct breakin_graph *graph = &rooms->graph;
    for (size_t i = 0; i < graph->portal_count; i++) {
        const struct breakin_portal *portal = &graph->portals[i];
        for (size_t k = 0; k < 2; k++) {
            if (((portal->opens.word[k] | portal->trips.word[k]) & zones->word[k]) != 0) {
                return true;
            }
        }
    }
    for (size_t i = 0; i < graph->move_count; i++) {
        const struct panel_zones *trips = &graph->moves[i].trips;
        if ((trips->word[0] & zones->word[0]) != 0 || (trips->word[1] & zones->word[1]) != 0) {
            return true;
        }
    }
    return false;
}

/* Takes each device away in turn (its battery dead, masked, its radio lost, unknown to the panel). */
static outcome take_away(struct look *look, struct problem *ret_problem) {
    const struct site *site = look->site;
    const size_t goals = look->found->count;
    struct breakin_answer *answers = ARENA_ARRAY(look->arena, struct breakin_answer, goals);
    int *devices = ARENA_ARRAY(look->arena, int, goals *(site->device_count + 1));
    if (answers == NULL || devices == NULL) {
        return no_memory(ret_problem);
    }
    for (size_t goal = 0; goal < goals; goal++) {
        look->found->list[goal].hangs_on = &devices[goal * (site->device_count + 1)];
    }
    for (int device = 0; device < (int)site->device_count; device++) {
        struct breakin_options options = look->options;
        options.gone = zones_of_device(site, device);
        if (!is_on_a_way(&look->found->rooms, &options.gone)) {
            continue;
        }
        for (size_t start = 0; start < site->break_ins.start_count; start++) {
            TRY(search(look, start, &options, answers, ret_problem));
            for (size_t goal = 0; goal < goals; goal++) {
                struct break_in *it = &look->found->list[goal];
                int *list = &devices[goal * (site->device_count + 1)];
                const bool known = it->hangs_on_count > 0 && list[it->hangs_on_count - 1] == device;
                if (it->answer.verdict == BREAKIN_IN_TIME && !known &&
                        additions_badness(answers[goal].verdict) >
                                additions_badness(BREAKIN_NOT_SETTLED)) {
                    list[it->hangs_on_count++] = device;
                }
            }
        }
    }
    return outcome_good();
}

/* By so much that he is later than it is heard: searched again, as he may then take another way. */
static outcome hold_up(struct look *look, struct break_in *it, struct problem *ret_problem) {
    struct site site = *look->site;
    const size_t count = site.break_ins.goal_count;
    struct site_break_in_goal *goals = ARENA_ARRAY(look->arena, struct site_break_in_goal, count);
    struct breakin_answer answer;
    struct rooms rooms;
    const int32_t longer_s = 1 - it->answer.spare_s;
    if (goals == NULL) {
        return no_memory(ret_problem);
    }
    for (size_t i = 0; i < count; i++) {
        goals[i] = site.break_ins.goals[i];
    }
    if (goals[it->goal].takes_s > BREAKIN_SECONDS_MAX - longer_s) {
        return outcome_good();
    }
    goals[it->goal].takes_s += longer_s;
    site.break_ins.goals = goals;
    TRY(additions_worst(&site, it->goal, &look->options, look->pages, look->arena, &answer, &rooms,
            ret_problem));
    it->longer_s = answer.verdict == BREAKIN_IN_TIME ? longer_s : 0;
    return outcome_good();
}

/* Of a drawing first where they can hang; if that is of no use, in which rooms they would be. at_all: see
 * breakin/additions.h. */
static outcome find_additions(struct look *look, const struct additions_drawing *drawing,
        struct break_in *it, bool at_all, struct problem *ret_problem) {
    struct additions_wish wish = {.site = look->site,
            .goal = it->goal,
            .at_all = at_all,
            .drawing = drawing,
            .options = look->options};
    if (drawing != NULL) {
        TRY(additions_find(&wish, look->pages, look->arena, &it->additions, ret_problem));
    }
    if (it->additions.count == 0) {
        wish.drawing = NULL;
        TRY(additions_find(&wish, look->pages, look->arena, &it->additions, ret_problem));
    }
    return outcome_good();
}

static bool wants_remedy(const struct break_in *it) {
    return it->verdict == BREAK_INS_LATE || it->verdict == BREAK_INS_UNHEARD;
}

static outcome find_remedies(struct look *look, struct problem *ret_problem) {
    struct additions_drawing spots;
    const struct additions_drawing *drawing = NULL;
    for (size_t goal = 0; goal < look->found->count; goal++) {
        struct break_in *it = &look->found->list[goal];
        if (!wants_remedy(it) || !asks(look, 0)) {
            continue;
        }
        if (look->site->break_ins.drawn && drawing == NULL) {
            TRY(break_in_spots(look->site, look->arena, &spots, ret_problem));
            drawing = &spots;
        }
        TRY(find_additions(look, drawing, it, false, ret_problem));
        if (it->additions.count == 0 && it->verdict == BREAK_INS_UNHEARD) {
            TRY(find_additions(look, drawing, it, true, ret_problem));
        } else if (it->additions.count == 0) {
            TRY(hold_up(look, it, ret_problem));
        }
    }
    return outcome_good();
}

static outcome begin_look(const struct site *site, const struct break_ins_options *options,
        struct pages pages, struct arena *arena, struct break_ins *found, struct look **ret_look,
        struct problem *ret_problem) {
    struct look *look = ARENA_NEW(arena, struct look);
    if (look == NULL) {
        return no_memory(ret_problem);
    }
    *look = (struct look){.site = site,
            .options = rooms_options(site),
            .pages = pages,
            .arena = arena,
            .found = found,
            .asked = options,
            .cut = found->cut};
    look->options.keep_going = asks;
    look->options.keep_going_context = look;
    TRY(panel_program_of_site(site, NULL, &look->program, ret_problem));
    *ret_look = look;
    return outcome_good();
}

static outcome look_at_ways(struct look *look, struct problem *ret_problem) {
    TRY(rooms_graph(look->site, look->arena, &look->found->rooms, ret_problem));
    TRY(worst_of_all(look, ret_problem));
    TRY(without_tolerance(look, ret_problem));
    look_at_panel(look->found, look->site);
    return tell_all(look, ret_problem);
}

outcome break_ins_look_further(const struct site *site, const struct break_ins_options *options,
        struct pages pages, struct arena *arena, struct break_ins *break_ins,
        struct problem *ret_problem) {
    struct look *look = NULL;
    if (break_ins->count == 0 || break_ins->cut) {
        return outcome_good();
    }
    TRY(begin_look(site, options, pages, arena, break_ins, &look, ret_problem));
    TRY(take_away(look, ret_problem));
    if (!options->no_remedy && !look->cut) {
        TRY(find_remedies(look, ret_problem));
    }
    break_ins->cut = look->cut;
    return arena->refused ? no_memory(ret_problem) : outcome_good();
}

outcome break_ins_look(const struct site *site, const struct break_ins_options *options,
        struct pages pages, struct arena *arena, struct break_ins *ret_break_ins,
        struct problem *ret_problem) {
    struct break_ins found = {.asked = site->break_ins.said};
    struct look *look = NULL;
    if (site->break_ins.goal_count == 0) {
        found.why_not = why_not(site);
        *ret_break_ins = found;
        return outcome_good();
    }
    found.count = site->break_ins.goal_count;
    found.list = ARENA_ARRAY(arena, struct break_in, found.count);
    if (found.list == NULL) {
        return no_memory(ret_problem);
    }
    for (size_t goal = 0; goal < found.count; goal++) {
        found.list[goal].goal = goal;
    }
    TRY(begin_look(site, options, pages, arena, &found, &look, ret_problem));
    TRY(look_at_ways(look, ret_problem));
    found.cut = look->cut;
    *ret_break_ins = found;
    if (!options->ways_only) {
        TRY(break_ins_look_further(site, options, pages, arena, ret_break_ins, ret_problem));
    }
    return arena->refused ? no_memory(ret_problem) : outcome_good();
}

/* ---- in words ---------------------------------------------------------------------------------------------------- */

static void add_addition(
        struct text_builder *out, const struct site *site, const struct addition *addition) {
    const struct site_break_ins *said = &site->break_ins;
    if (!addition->opening) {
        if (addition->corner != SITE_CORNER_UNSAID) {
            text_add_format(out, "a motion detector in the %s corner of ",
                    site_corner_name(addition->corner));
        } else {
            text_add_string(out,
                    said->drawn ? "a motion detector that sees all of " : "a motion detector for ");
        }
        words_add_named(out, said->rooms[addition->index].name);
        return;
    }
    const struct site_break_in_opening *opening = &said->openings[addition->index];
    text_add_string(out, opening->force_s > 0 ? "a shock detector on " : "a contact on ");
    words_add_named(out, opening->name);
}

static struct text longer_text(
        const struct break_in *it, enum site_break_in_kind kind, struct arena *arena) {
    struct text_builder out;
    text_builder_init(&out, arena);
    if (it->longer_s == 0) {
        return text_of(
                "what holds him up until it is heard; a detector without delay would have to "
                "be where people come in");
    }
    static const char *const helps[SITE_BREAK_IN_KIND_COUNT] = {
            [SITE_BREAK_IN_THING] = "what holds him up there for ",
            [SITE_BREAK_IN_PANEL] = "the panel elsewhere, or what keeps him from it for ",
            [SITE_BREAK_IN_LINE] =
                    "a second path to the station, or what keeps him from the line for ",
            [SITE_BREAK_IN_POWER] =
                    "a battery for the panel, or what keeps him from the mains for ",
    };
    text_add_string(&out, helps[kind]);
    quantity_add_seconds(&out, it->longer_s);
    text_add_string(&out,
            kind == SITE_BREAK_IN_THING ? " more: a safe, a stronger door"
                                        : " more: a stronger door");
    return text_built(&out);
}

struct text break_ins_remedy(
        const struct site *site, const struct break_in *it, struct arena *arena) {
    const enum site_break_in_kind kind = site->break_ins.goals[it->goal].kind;
    struct text_builder out;
    text_builder_init(&out, arena);
    if (it->verdict != BREAK_INS_LATE && it->verdict != BREAK_INS_UNHEARD) {
        return text_of("");
    }
    if (it->additions.count == 0) {
        return longer_text(it, kind, arena);
    }
    for (size_t i = 0; i < it->additions.count; i++) {
        text_add_string(&out, i == 0 ? "" : i + 1 == it->additions.count ? " and " : ", ");
        add_addition(&out, site, &it->additions.list[i]);
    }
    text_add_string(&out, ", without delay; then every way is heard");
    if (it->additions.spare_s <= 0) {
        text_add_string(&out, ", though ");
        quantity_add_seconds(&out, -it->additions.spare_s);
        text_add_string(&out, " too late unless something holds him up there");
        return text_built(&out);
    }
    text_add_string(&out, " in time");
    if (it->additions.spare_s != BREAKIN_NEVER_S) {
        text_add_string(&out, ", ");
        quantity_add_seconds(&out, it->additions.spare_s);
        text_add_string(&out, " to spare");
    }
    return text_built(&out);
}

const char *break_ins_price(const struct break_in *it) {
    return it->verdict != BREAK_INS_LATE && it->verdict != BREAK_INS_UNHEARD ? ""
            : it->additions.count > 0 ? "a zone for each, and nobody goes there before it is unset"
                                      : "what is built, or moved";
}

static void add_late(struct text_builder *out, const struct site *site, const struct break_in *it) {
    const enum site_break_in_kind kind = site->break_ins.goals[it->goal].kind;
    const bool siren = site->break_ins.heard_by == SITE_HEARD_BY_SIREN;
    const int32_t late_s = it->answer.best.heard_s - it->answer.best.done_s;
    if (kind == SITE_BREAK_IN_THING) {
        text_add_string(out, site->break_ins.help_s > 0 ? "help comes " : "heard ");
        text_add_string(out, it->answer.open ? "at least " : "");
        quantity_add_seconds(out, -it->answer.spare_s);
        text_add_string(out, " after he has it");
        return;
    }
    text_add_string(out, kind == SITE_BREAK_IN_PANEL ? "smashed " : "cut ");
    text_add_string(out, it->answer.open ? "at least " : "");
    quantity_add_seconds(out, late_s);
    text_add_string(
            out, siren ? " before its siren would sound" : " before its signal would leave");
}

struct text break_ins_sentence(
        const struct site *site, const struct break_in *it, struct arena *arena) {
    const struct site_break_in_goal *goal = &site->break_ins.goals[it->goal];
    struct text_builder out;
    text_builder_init(&out, arena);
    text_add_format(&out, "%.*s: ", TEXT_ARGS(goal->name));
    switch (it->verdict) {
    case BREAK_INS_IN_TIME:
        text_add_string(&out, it->answer.open ? "heard in time, at least " : "heard in time, ");
        quantity_add_seconds(&out, it->answer.spare_s);
        text_add_string(&out, " to spare");
        break;
    case BREAK_INS_LATE:
        add_late(&out, site, it);
        break;
    case BREAK_INS_UNHEARD:
        text_add_string(&out, "a way in that nobody hears");
        break;
    case BREAK_INS_PANEL_FIRST:
        text_add_format(&out, "heard in time, unless he goes for \"%.*s\" first",
                TEXT_ARGS(site->break_ins.goals[it->panel].name));
        break;
    case BREAK_INS_NO_WAY:
        text_add_string(
                &out, site->break_ins.drawn ? "no way there is drawn" : "no way leads there");
        break;
    case BREAK_INS_NOT_SETTLED:
        text_add_string(&out, "not settled: too many ways to look at them all");
        break;
    case BREAK_INS_VERDICT_COUNT:
        break;
    }
    if (break_in_is_cut_off(site, it)) {
        text_add_string(&out, ", as far as the drawing goes");
    }
    return text_built(&out);
}
