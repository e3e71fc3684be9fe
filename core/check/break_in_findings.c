#include "check/break_in_findings.h"

#include "base/quantity.h"

/* What the functions below share. */
struct saying {
    const struct site *site;
    struct arena *arena;
    const struct break_ins *all;
    struct check_finding *said;
    size_t count;
};

static struct check_finding *add(struct saying *maker, enum finding_weight weight, const char *id) {
    struct check_finding *finding = &maker->said[maker->count++];
    *finding = (struct check_finding){
            .base = {.weight = weight, .id = text_of(id), .answer_index = FINDING_NO_ANSWER}};
    return finding;
}

static enum finding_weight weight_of_break_in(const struct site *site, const struct break_in *it) {
    if (it->needs_tolerance || it->verdict == BREAK_INS_NOT_SETTLED) {
        return FINDING_RISK;
    }
    const struct site_break_in_goal *goal = &site->break_ins.goals[it->goal];
    if (goal->kind == SITE_BREAK_IN_THING) {
        return it->verdict == BREAK_INS_UNHEARD ? FINDING_FAULT : FINDING_RISK;
    }
    /* How long a panel holds out is a guess until somebody writes it, or asks about break-ins. */
    const bool asked = !site->break_ins.drawn || site->break_ins.asked;
    return asked || goal->takes_s > 0 ? FINDING_FAULT : FINDING_RISK;
}

static const char *id_of_break_in(const struct site *site, const struct break_in *it) {
    if (it->verdict == BREAK_INS_NOT_SETTLED) {
        return "break-in.not-settled";
    }
    if (site->break_ins.goals[it->goal].kind != SITE_BREAK_IN_THING) {
        return "break-in.panel-first";
    }
    return it->verdict == BREAK_INS_UNHEARD ? "break-in.unheard" : "break-in.late";
}

/* The names of what would be heard in time were it not for this panel or line. */
static struct text why_of_panel(const struct saying *maker, size_t panel) {
    const struct break_ins *all = maker->all;
    struct text_builder out;
    size_t count = 0;
    text_builder_init(&out, maker->arena);
    for (size_t i = 0; i < all->count; i++) {
        if (all->list[i].verdict == BREAK_INS_PANEL_FIRST && all->list[i].panel == panel) {
            text_add_format(&out, "%s\"%.*s\"",
                    count++ == 0 ? "once it is done nothing more leaves for the station; "
                                   "otherwise these would be heard in time: "
                                 : ", ",
                    TEXT_ARGS(maker->site->break_ins.goals[i].name));
        }
    }
    return count == 0 ? text_of("once it is done nothing more leaves for the station")
                      : text_built(&out);
}

static struct text why_of_break_in(const struct saying *maker, const struct break_in *it) {
    const struct site *site = maker->site;
    struct text_builder out;
    text_builder_init(&out, maker->arena);
    if (site->break_ins.goals[it->goal].kind != SITE_BREAK_IN_THING) {
        return why_of_panel(maker, it->goal);
    }
    if (it->verdict == BREAK_INS_UNHEARD) {
        text_add_string(&out,
                it->story.first_trip_s == BREAKIN_NEVER_S
                        ? "nothing on this way notices him"
                        : "what notices him on this way makes no alarm that counts");
        return text_built(&out);
    }
    if (it->verdict != BREAK_INS_LATE) {
        return text_of("");
    }
    text_add_string(&out, "noticed after ");
    quantity_add_seconds(&out, it->story.first_trip_s);
    text_add_string(&out, ", siren ");
    if (it->story.siren_s == BREAKIN_NEVER_S) {
        text_add_string(&out, "never");
    } else {
        text_add_string(&out, "after ");
        quantity_add_seconds(&out, it->story.siren_s);
    }
    text_add_string(&out, ", he has it after ");
    quantity_add_seconds(&out, it->story.done_s);
    return text_built(&out);
}

/* What a single dead battery, or a cover, leaves unheard: one note for all. */
static void add_single_devices(struct saying *maker) {
    const struct break_ins *all = maker->all;
    struct text_builder list;
    size_t count = 0;
    text_builder_init(&list, maker->arena);
    for (size_t i = 0; i < all->count; i++) {
        const struct break_in *it = &all->list[i];
        for (size_t k = 0; k < it->hangs_on_count; k++) {
            text_add_string(&list, k > 0 ? ", " : count > 0 ? "; " : "");
            if (k == 0) {
                text_add_format(
                        &list, "%.*s on ", TEXT_ARGS(maker->site->break_ins.goals[it->goal].name));
            }
            text_add_format(
                    &list, "\"%.*s\"", TEXT_ARGS(maker->site->devices[it->hangs_on[k]].name));
        }
        count += it->hangs_on_count > 0;
    }
    if (count == 0) {
        return;
    }
    struct check_finding *finding = add(maker, FINDING_NOTE, "break-in.single-device");
    finding->base.headline = text_print(maker->arena,
            "%zu of what is protected hang%s on a single device", count, count == 1 ? "s" : "");
    finding->base.why = text_print(maker->arena,
            "heard in time, but no longer with one device dead, covered or out of range: %.*s",
            TEXT_ARGS(text_built(&list)));
    finding->base.place =
            text_of(maker->site->break_ins.drawn ? "building.places" : "break-ins.notices");
    finding->base.remedy = text_of("a second device that notices the same way");
    finding->base.source = text_of("house practice");
}

static void add_break_ins(struct saying *maker) {
    const struct break_ins *all = maker->all;
    for (size_t i = 0; i < all->count; i++) {
        const struct break_in *it = &all->list[i];
        if (it->verdict != BREAK_INS_LATE && it->verdict != BREAK_INS_UNHEARD &&
                it->verdict != BREAK_INS_NOT_SETTLED) {
            continue;
        }
        const struct site_break_in_goal *goal = &maker->site->break_ins.goals[it->goal];
        struct check_finding *finding =
                add(maker, weight_of_break_in(maker->site, it), id_of_break_in(maker->site, it));
        finding->base.headline = break_ins_sentence(maker->site, it, maker->arena);
        finding->base.why = why_of_break_in(maker, it);
        finding->base.place = break_ins_place(maker->site, it->goal, maker->arena);
        finding->about = text_print(maker->arena, "break-in %.*s", TEXT_ARGS(goal->name));
        finding->base.remedy = break_ins_remedy(maker->site, it, maker->arena);
        finding->base.price = text_of(break_ins_price(it));
        finding->story = it->told;
        if (it->verdict != BREAK_INS_NOT_SETTLED) {
            finding->range = text_print(maker->arena, "%.*s%s",
                    TEXT_ARGS(maker->site->break_ins.starts[it->start].name),
                    it->needs_tolerance ? "; only if the panel's clocks are off" : "");
        }
    }
}

void break_ins_say(const struct site *site, const struct break_ins *all, struct arena *arena,
        struct check_finding *ret_said, size_t *ret_count) {
    struct saying saying = {.site = site, .arena = arena, .all = all, .said = ret_said};
    add_break_ins(&saying);
    add_single_devices(&saying);
    *ret_count = saying.count;
}
