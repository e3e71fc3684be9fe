/* What the page is told of a site, as one JSON object (docs/serving.md). */
#ifndef LINTEL_WEB_VIEW_H
#define LINTEL_WEB_VIEW_H

#include "base/json.h"
#include "check/check.h"
#include "check/show.h"
#include "document/document.h"
#include "plan/house.h"

/** What a page can take back and make again: how many steps there are, and what the next one does. by: the page's word;
 *  empty: of all that gave none. */
struct view_steps {
    struct text by;
    size_t undo;
    size_t redo;
    struct text undo_says;
    struct text redo_says;
};

/** How far a check is that takes more than a moment: routines done, of how many, and for how long it has run. */
struct view_progress {
    size_t done;
    size_t of;
    int64_t for_ms;
};

/** What goes into it. document: the file as it is now, read well or not. good: the last one that could be read (may
 *  be the same), or NULL. report: of `good`, or NULL: not checked yet; whole: with remedies and all. number: of the
 *  present text; good_number, report_number: of the text that the site and the report are about. steps: of each page
 *  that has any. */
struct view {
    const char *path;
    uint64_t number;
    struct document *document;
    bool read;
    struct document *good;
    uint64_t good_number;
    const struct check_report *report;
    bool whole;
    bool given_up; /* somebody stopped that check: what it had not settled is not */
    const struct view_progress *progress; /* NULL: nothing runs, or not for long */
    const struct site *report_site;
    struct document *report_document;
    uint64_t report_number;
    const struct view_steps *steps;
    size_t steps_count;
    int64_t saved_s;               /* when the file was last written, since 1970; 0: nobody knows */
    const struct problem *problem; /* the file as a whole, or NULL */
};

/** How closely one looks at the drawing: signs and letters keep their size on a screen that shows it so many times as
 *  large (VIEW_ZOOM_LEAST to VIEW_ZOOM_MOST). layer: the one that is wanted; empty: all. */
struct view_look {
    double zoom;
    struct text layer;
};

enum { VIEW_ZOOM_MOST = 8 };
static const double VIEW_ZOOM_LEAST = 0.25;

/** "drawing": the storeys and layers of a site that has a drawing, else null. arena: that of the json. */
void view_add_drawing(const struct site *site, const struct view_look *look, struct arena *arena,
        struct json_writer *json);

/** "problems": what cannot be read, as lintel check has it; problem: of the file as a whole, or NULL. One that was read
 *  well has none. */
void view_add_problems(
        const struct document *document, const struct problem *problem, struct json_writer *json);

/** "house": where everything of the building is, in millimetres. */
void view_add_house(const struct house *house, struct json_writer *json);

/** "carried": for each zone the margin of its device's radio link and the years of its battery, from-to or null. */
void view_add_carried(const struct site *site, struct arena *arena, struct json_writer *json);

/** The places of a file that was read, so named; borrows both. */
struct show_places view_places(struct document *document, struct text file);

/** All but the site, an object of its own. */
void view_add(const struct view *view, struct text_builder *out);

/** {"site": ...}: what takes longest to make, and stays the same for one text. */
void view_add_site(const struct view *view, struct text_builder *out);

#endif
