#include "cli/named.h"

#include "cli/prove.h"
#include "cli/terminal.h"
#include "host/host.h"

#include <stdio.h>

/* Names that are near: few letters apart, or one within the other. */
static bool is_near(struct text name, struct text wanted) {
    enum { FAR = 4 };
    if (text_distance(name, wanted, FAR) < FAR) {
        return true;
    }
    for (size_t i = 0; wanted.length > 2 && i + wanted.length <= name.length; i++) {
        const struct text part = {.start = name.start + i, .length = wanted.length};
        if (text_distance(part, wanted, 0) == 0) {
            return true;
        }
    }
    return false;
}

int named_unknown(const struct cli_site *site, const struct check_plan *plan, const char *command,
        const char *name) {
    bool any = false;
    (void)fprintf(
            stderr, "lintel %s: no routine or protected thing is called \"%s\"", command, name);
    for (size_t i = 0; i < plan->routine_count; i++) {
        const struct text known = plan->routines[i].source->name;
        if (is_near(known, text_of(name))) {
            (void)fprintf(stderr, "%s \"%.*s\"", any ? "," : "; did you mean", TEXT_ARGS(known));
            any = true;
        }
    }
    (void)fprintf(stderr, "%s\nlintel tell %.*s lists them all\n", any ? "?" : "",
            TEXT_ARGS(site->places.file));
    return CLI_UNREADABLE;
}

static struct named find_in_plan(const struct check_plan *plan, const char *name) {
    for (size_t i = 0; i < plan->routine_count; i++) {
        if (text_distance(plan->routines[i].source->name, text_of(name), 0) == 0) {
            return (struct named){NAMED_ROUTINE, i};
        }
    }
    for (size_t i = 0; i < plan->absent_count; i++) {
        if (text_distance(plan->absent[i].name, text_of(name), 0) == 0) {
            return (struct named){NAMED_ABSENT, i};
        }
    }
    return (struct named){NAMED_NOTHING, 0};
}

/* The plan of the other word set has the same order. */
outcome named_find(const struct site *site, const struct check_plan *plan, int32_t today_day,
        const char *name, struct arena *arena, struct named *ret_named,
        struct problem *ret_problem) {
    const struct check_options options = {.today_day = today_day};
    struct site other = *site;
    struct check_plan named;
    *ret_named = find_in_plan(plan, name);
    if (ret_named->kind != NAMED_NOTHING) {
        return outcome_good();
    }
    other.words = other.words == SITE_WORDS_US ? SITE_WORDS_UK : SITE_WORDS_US;
    TRY(check_plan_make(&other, &options, arena, &named, ret_problem));
    *ret_named = find_in_plan(&named, name);
    for (size_t i = 0; ret_named->kind == NAMED_NOTHING && site->break_ins.said &&
            i < site->break_ins.goal_count;
            i++) {
        if (text_distance(site->break_ins.goals[i].name, text_of(name), 0) == 0) {
            *ret_named = (struct named){NAMED_GOAL, i};
        }
    }
    return outcome_good();
}

outcome named_look(const struct site *site, struct arena *arena, struct break_ins *ret_found,
        struct problem *ret_problem) {
    const struct break_ins_options wanted = {.keep_going = prove_keeps_going, .ways_only = true};
    terminal_catch_interrupt();
    return break_ins_look(site, &wanted, host_pages(), arena, ret_found, ret_problem);
}
