/* How the difference between two files looks: as text and as JSON. */
#include "check/compare.h"
#include "check/show.h"

#include "base/quantity.h"
#include "check/words.h"

enum { WEIGHT = 9, HEADLINE = 16, NOW = 14, NAME = 28 };

static struct text_builder builder_beside(const struct layout *layout) {
    struct text_builder builder;
    text_builder_init(&builder, layout->out->arena);
    return builder;
}

static void show_row(struct layout *layout, const char *label, enum finding_weight weight,
        struct text text, struct text path, const struct show_places *places) {
    layout_put_string(layout, label, LAYOUT_STRONG);
    layout_to(layout, WEIGHT);
    layout_put_string(layout, show_weight_label(weight), show_weight_ink(weight));
    layout_to(layout, HEADLINE);
    layout_words(layout, text, HEADLINE, LAYOUT_PLAIN);
    show_place(layout, path, HEADLINE, places);
    layout_end_line(layout);
}

/* What became of a finding that is on both sides and not as before. */
enum turn { TURN_CHANGED, TURN_WAIVED, TURN_COUNTS };

static enum turn turn_of(const struct compare_finding *finding) {
    const bool waived = finding->now->waiver != NULL;
    return waived == (finding->before->waiver != NULL) ? TURN_CHANGED
            : waived                                   ? TURN_WAIVED
                                                       : TURN_COUNTS;
}

static size_t count_turns(const struct compare *compare, enum turn turn) {
    size_t count = 0;
    for (size_t i = 0; i < compare->changed_count; i++) {
        count += turn_of(&compare->changed[i]) == turn;
    }
    return count;
}

static void show_findings(const struct compare *compare, const struct show_places *places,
        const struct show_places *older_places, struct layout *layout) {
    for (size_t i = 0; i < compare->fresh_count; i++) {
        const struct finding *now = &compare->fresh[i].now->base;
        show_row(layout, "new", now->weight, now->headline, now->place, places);
    }
    for (size_t i = 0; i < compare->changed_count; i++) {
        const struct finding *before = &compare->changed[i].before->base;
        const struct finding *now = &compare->changed[i].now->base;
        const bool same = text_equal(before->headline, now->headline);
        const enum turn turn = turn_of(&compare->changed[i]);
        if (turn != TURN_CHANGED) {
            show_row(layout, turn == TURN_WAIVED ? "waived" : "counts", now->weight, now->headline,
                    now->place, places);
            continue;
        }
        show_row(layout, "before", before->weight, same ? before->why : before->headline,
                before->place, older_places);
        show_row(layout, "now", now->weight, same ? now->why : now->headline, now->place, places);
    }
    for (size_t i = 0; i < compare->gone_count; i++) {
        const struct finding *before = &compare->gone[i].before->base;
        show_row(layout, "gone", before->weight, before->headline, before->place, older_places);
    }
    if (compare->fresh_count + compare->changed_count + compare->gone_count > 0) {
        layout_end_line(layout);
    }
}

/* "goes wrong", "9 s to spare", "goes well" where no time is tight, "not there". */
static struct text state_of(const struct layout *layout, const struct proof_answer *answer) {
    struct text_builder out = builder_beside(layout);
    if (answer == NULL) {
        return text_of("not there");
    }
    if (answer->verdict != PROOF_GOES_WELL || !answer->has_margin) {
        return text_of(words_verdict(answer->verdict));
    }
    quantity_add_seconds(&out, answer->margin_s);
    text_add_string(&out, " spare");
    return text_built(&out);
}

/* What hurts first, where there is something to spare; what goes wrong, where it does. */
static void add_what(
        struct text_builder *out, const struct site *site, const struct compare_routine *routine) {
    const struct proof_answer *answer = routine->now == NULL ? routine->before : routine->now;
    if (answer->verdict == PROOF_GOES_WELL && answer->has_margin) {
        text_add_string(out, ": ");
        words_add(out, site, words_timer(panel_timer_kind_of(answer->margin_timer)), NULL);
    } else if (answer->verdict == PROOF_GOES_WRONG) {
        text_add_format(out, ": %s", proof_promise_name(answer->promise));
    }
}

static void show_routines(
        const struct site *site, const struct compare *compare, bool all, struct layout *layout) {
    size_t shown = 0;
    for (size_t i = 0; i < compare->routine_count; i++) {
        const struct compare_routine *routine = &compare->routines[i];
        if (!all && compare_is_same(routine)) {
            continue;
        }
        if (shown++ == 0) {
            layout_put_string(layout, "before", LAYOUT_QUIET);
            layout_to(layout, NOW);
            layout_put_string(layout, "now", LAYOUT_QUIET);
            layout_to(layout, NAME);
            layout_put_string(layout, "routine", LAYOUT_QUIET);
            layout_end_line(layout);
        }
        struct text_builder name = builder_beside(layout);
        text_add_format(
                &name, "%.*s%s", TEXT_ARGS(routine->name), routine->usual ? " (usual)" : "");
        add_what(&name, site, routine);
        layout_put(layout, state_of(layout, routine->before), LAYOUT_PLAIN);
        layout_to(layout, NOW);
        layout_put(layout, state_of(layout, routine->now), LAYOUT_PLAIN);
        layout_to(layout, NAME);
        layout_words(layout, text_built(&name), NAME, LAYOUT_PLAIN);
        layout_end_line(layout);
    }
    if (shown > 0) {
        layout_end_line(layout);
    }
}

static void show_summary(
        const struct check_report *report, const struct compare *compare, struct layout *layout) {
    struct text_builder out = builder_beside(layout);
    size_t same = 0;
    for (size_t i = 0; i < compare->routine_count; i++) {
        same += compare_is_same(&compare->routines[i]);
    }
    text_add_format(&out, "findings: %zu new, %zu gone", compare->fresh_count, compare->gone_count);
    show_add_count(&out, ", ", count_turns(compare, TURN_WAIVED), "waived", "waived");
    show_add_count(&out, ", ", count_turns(compare, TURN_COUNTS), "counts again", "count again");
    text_add_format(&out, ", %zu changed, %zu as before", count_turns(compare, TURN_CHANGED),
            compare->same);
    text_add_format(&out, " · routines: %zu differ%s, %zu as before", compare->routine_count - same,
            compare->routine_count - same == 1 ? "s" : "", same);
    text_add_string(&out, " · now: ");
    const size_t before = out.length;
    show_add_count(&out, "", report->weights[FINDING_FAULT], "fault", "faults");
    show_add_count(
            &out, out.length > before ? ", " : "", report->weights[FINDING_RISK], "risk", "risks");
    show_add_count(
            &out, out.length > before ? ", " : "", report->weights[FINDING_NOTE], "note", "notes");
    text_add_format(
            &out, "%s · exit %d", out.length > before ? "" : "nothing", check_exit_status(report));
    layout_words(layout, text_built(&out), 2,
            report->weights[FINDING_FAULT] > 0 ? LAYOUT_BAD
                    : report->unsettled > 0    ? LAYOUT_UNSURE
                                               : LAYOUT_GOOD);
    layout_end_line(layout);
}

void show_compare(const struct site *site, const struct check_report *report,
        const struct compare *compare, const struct show_places *places,
        const struct show_places *older_places, bool margins, struct layout *layout) {
    struct text_builder head = builder_beside(layout);
    text_add_format(&head, "%.*s%s against %.*s", TEXT_ARGS(site->name),
            site->invented ? " (invented)" : "", TEXT_ARGS(older_places->short_file));
    layout_words(layout, text_built(&head), 0, LAYOUT_STRONG);
    layout_end_line(layout);
    layout_end_line(layout);
    show_findings(compare, places, older_places, layout);
    show_routines(site, compare, margins, layout);
    show_summary(report, compare, layout);
}

/* ---- JSON */

static void write_finding(struct json_writer *json, const char *name,
        const struct check_finding *finding, const struct show_places *places) {
    json_open_object(json, name);
    json_add_string(json, "weight", show_weight_name(finding->base.weight));
    json_add_text(json, "id", finding->base.id);
    json_add_text(json, "about", finding->about);
    json_add_text(json, "headline", finding->base.headline);
    json_add_text(json, "why", finding->base.why);
    json_add_bool(json, "waived", finding->waiver != NULL);
    show_place_json(json, finding->base.place, places);
    json_close_object(json);
}

static void write_state(
        struct json_writer *json, const char *name, const struct proof_answer *answer) {
    if (answer == NULL) {
        json_add_null(json, name);
        return;
    }
    json_open_object(json, name);
    json_add_string(json, "verdict", words_verdict(answer->verdict));
    if (answer->verdict == PROOF_GOES_WELL && answer->has_margin) {
        json_add_string(
                json, "timer", panel_timer_kind_name(panel_timer_kind_of(answer->margin_timer)));
        json_add_integer(json, "to_spare_s", answer->margin_s);
    } else {
        json_add_null(json, "timer");
        json_add_null(json, "to_spare_s");
    }
    json_close_object(json);
}

void show_compare_json(struct json_writer *json, const struct compare *compare,
        const struct show_places *places, const struct show_places *older_places) {
    json_open_object(json, "against");
    json_add_text(json, "file", older_places->file);
    json_open_array(json, "new");
    for (size_t i = 0; i < compare->fresh_count; i++) {
        write_finding(json, NULL, compare->fresh[i].now, places);
    }
    json_close_array(json);
    json_open_array(json, "gone");
    for (size_t i = 0; i < compare->gone_count; i++) {
        write_finding(json, NULL, compare->gone[i].before, older_places);
    }
    json_close_array(json);
    json_open_array(json, "changed");
    for (size_t i = 0; i < compare->changed_count; i++) {
        json_open_object(json, NULL);
        write_finding(json, "before", compare->changed[i].before, older_places);
        write_finding(json, "now", compare->changed[i].now, places);
        json_close_object(json);
    }
    json_close_array(json);
    json_add_integer(json, "as_before", (int64_t)compare->same);
    json_open_array(json, "routines");
    for (size_t i = 0; i < compare->routine_count; i++) {
        const struct compare_routine *routine = &compare->routines[i];
        json_open_object(json, NULL);
        json_add_text(json, "name", routine->name);
        json_add_bool(json, "usual", routine->usual);
        write_state(json, "before", routine->before);
        write_state(json, "now", routine->now);
        json_add_bool(json, "as_before", compare_is_same(routine));
        json_close_object(json);
    }
    json_close_array(json);
    json_close_object(json);
}
