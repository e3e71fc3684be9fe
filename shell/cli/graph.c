#include "cli/graph.h"

static void add_transition(struct text_builder *out, const struct panel_transition *row) {
    text_add_format(out, "    \"%s\" -> \"%s\" [label=\"%s",
            panel_phase_name((enum panel_phase)row->phase),
            panel_phase_name((enum panel_phase)row->next),
            panel_area_event_name((enum panel_area_event)row->event));
    bool first = true;
    for (size_t i = 0; i < PANEL_ROW_ACTIONS; i++) {
        if (row->actions[i] != PANEL_ACT_NONE) {
            text_add_format(out, "%s%s", first ? "\\n/ " : ", ",
                    panel_action_name((enum panel_action)row->actions[i]));
            first = false;
        }
    }
    text_add_string(out, "\"];\n");
}

/* What a trip does: a row for each behaviour, a column for each phase. */
static void add_reactions(struct text_builder *out, const struct panel_tables *tables) {
    text_add_string(out,
            "    trips [shape=plain, label=<<table border=\"0\" cellborder=\"1\" "
            "cellspacing=\"0\">\n"
            "        <tr><td>a trip of</td>");
    for (int phase = 0; phase < PANEL_PHASE_COUNT; phase++) {
        text_add_format(out, "<td>%s</td>", panel_phase_name((enum panel_phase)phase));
    }
    text_add_string(out, "</tr>\n");
    for (int behaviour = 0; behaviour < SITE_BEHAVIOUR_COUNT; behaviour++) {
        text_add_format(out, "        <tr><td>%s</td>",
                site_behaviour_name((enum site_behaviour)behaviour));
        for (int phase = 0; phase < PANEL_PHASE_COUNT; phase++) {
            text_add_format(out, "<td>%s</td>",
                    panel_reaction_name((enum panel_reaction)tables->reaction[behaviour][phase]));
        }
        text_add_string(out, "</tr>\n");
    }
    text_add_string(out, "    </table>>];\n");
}

void graph_add(struct text_builder *out, const struct panel_tables *tables) {
    text_add_string(out,
            "digraph panel {\n"
            "    rankdir=LR;\n"
            "    node [shape=box, style=rounded];\n");
    for (int phase = 0; phase < PANEL_PHASE_COUNT; phase++) {
        text_add_format(out, "    \"%s\";\n", panel_phase_name((enum panel_phase)phase));
    }
    for (size_t i = 0; i < PANEL_TRANSITION_COUNT; i++) {
        add_transition(out, &tables->transitions[i]);
    }
    add_reactions(out, tables);
    text_add_string(out, "}\n");
}
