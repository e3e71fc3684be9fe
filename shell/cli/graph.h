/* The panel's state graph, drawn from the tables that the panel walks: no second copy to go stale. */
#ifndef LINTEL_CLI_GRAPH_H
#define LINTEL_CLI_GRAPH_H

#include "base/text.h"
#include "panel/panel_tables.h"

/** Adds the graph in the DOT language of Graphviz: phases, transitions with their event and actions, and what a
 *  trip of each behaviour does in each phase. */
void graph_add(struct text_builder *out, const struct panel_tables *tables);

#endif
