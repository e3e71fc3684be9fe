/* Changes of a site file that a page asks for: edits, undo and redo, a whole file in its place; and edits that are only
 * tried. docs/serving.md has what is sent. */
#ifndef LINTEL_WEB_CHANGING_H
#define LINTEL_WEB_CHANGING_H

#include "web/asked.h"

enum MHD_Result changing_edit(const struct asked *asked);
enum MHD_Result changing_try(const struct asked *asked);
enum MHD_Result changing_undo(const struct asked *asked);
enum MHD_Result changing_redo(const struct asked *asked);
enum MHD_Result changing_import(const struct asked *asked);

/** Nobody waits longer for the check; or it is made after all. */
enum MHD_Result changing_stop(const struct asked *asked);
enum MHD_Result changing_go_on(const struct asked *asked);

#endif
