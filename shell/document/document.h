/* The site file: read, understood, mapped back to lines, patched.
 *
 * One key table (keys.h) drives reading, defaults, JSON and the reference docs/site-file.md. Reading gathers every
 * problem of a file in one run, each with file, line and column. Profiles of panels and devices are files of their own.
 * Not for judging a site: a bad choice is a finding of the core, only what cannot be read or cannot be meant is a
 * problem here. */
#ifndef LINTEL_DOCUMENT_DOCUMENT_H
#define LINTEL_DOCUMENT_DOCUMENT_H

#include "base/arena.h"
#include "base/json.h"
#include "base/text.h"
#include "site/site.h"

#include <limits.h>
#include <stdbool.h>
#include <stddef.h>

enum {
    DOCUMENT_BYTES_MAX = 4 * 1024 * 1024, /* of one file */
    DOCUMENT_DEPTH_MAX = 16,              /* of lists and mappings in each other */
    DOCUMENT_VALUE_MAX = 200000,          /* values in one file */
    DOCUMENT_KEY_MAX = 256,               /* keys of one mapping */
    DOCUMENT_PROBLEM_MAX = 100,           /* told at once */
};

/** One thing that is wrong with a file. line, column: from 1, columns count characters; 0: the file as a whole. file:
 *  as it was named to the reader. path: "zones[1].behaviour", or empty. what: what is wrong and what to write. */
struct document_problem {
    enum problem_kind kind;
    struct text file;
    int line;
    int column;
    struct text path;
    struct text what;
};

/** Where profiles are looked for. data: a folder that holds panels/ and devices/ (the variable LINTEL_DATA), looked
 *  into before the installed one; NULL or "": only the installed one. */
struct document_search {
    const char
            *beside; /* document_list only: the folder in which the site file will lie, or NULL */
    const char *data;
};

struct node;

/** A file that was read. */
struct document_file {
    struct text name; /* as named to the reader */
    struct text
            folder; /* where profiles given by path must lie; empty: none may be given (text that has no folder) */
    struct text text; /* its bytes */
    bool secret;      /* nothing of its text may be told: codes */
    const struct node *root;
};

/** A site file and all that it refers to. Every text of the site is in its arena. problems: all of them, in the order
 *  of reading, at most DOCUMENT_PROBLEM_MAX; more_problems: there were more. panel_profile, device_profile_names: how
 *  the file names them (a name or a path). */
struct document {
    struct arena arena;
    struct document_file file;
    struct site site;
    struct text panel_profile;
    struct text materials_name;  /* the same of its table of materials */
    struct text standard_name;   /* as the file names it */
    const struct node *standard; /* the standard's mapping, or NULL */
    size_t deviation_capacity;
    struct text *device_profile_names; /* as many as site.device_profiles */
    struct document_problem *problems;
    size_t problem_count;
    bool more_problems;
};

/** An empty document. pages: kept; must outlive it. */
void document_init(struct document *document, struct pages pages);

/** Gives all memory back. A zeroed or finished document is fine. */
void document_finish(struct document *document);

/** Reads a site file. document: initialised and empty. path: borrows; "-" reads standard input (profiles given by path
 *  are then looked for in the working folder). Fails when anything is wrong: document->problems then lists all of it
 *  (and document_problem_add words it) and *ret_problem tells the first; when that list is empty, *ret_problem alone
 *  tells (no memory). On failure document->site is not to be used. */
outcome document_read_file(struct document *document, const char *path,
        const struct document_search *search, struct problem *ret_problem) MUST_CHECK;

/** The same from bytes. name: what problems call it; folder: for profiles by path, or NULL; both borrowed. */
outcome document_read_text(struct document *document, const char *name, const char *folder,
        struct text bytes, const struct document_search *search, struct problem *ret_problem)
        MUST_CHECK;

/** One line: "site.yaml:14:9: zones[1].behaviour: there is no ...". */
void document_problem_add(struct text_builder *builder, const struct document_problem *problem);

/** What is taken for a key of a path that the file leaves out, such as "30 s" of "panel.abort-window": as the table of
 *  keys has it, or the firm's standard. Empty: it is written, or nothing is taken. Borrows. */
struct text document_usual(const struct document *document, struct text path);

/** Where a path of the core ("zones[1].behaviour", "panel.entry-delays.yard") stands: line and column from 1 of the
 *  longest beginning of it that the file has. False, and 1:1, when not even its first word is there. */
bool document_place(
        const struct document *document, struct text path, int *ret_line, int *ret_column);

/** One change. value: YAML as one would write it in one line ("entry", "30 s", "[shop, flat]"; document_quote helps).
 *  The path may end in keys that are not there yet, or in the index one past a list's end. {NULL, 0}: what is there is
 *  taken out. */
struct document_edit {
    const char *path;
    struct text value;
};

/** The text with the edits made: comments and layout stay, only the values named change. Both texts are checked: the
 *  result has exactly the old values but those edited, and reads without a problem. ret_text: in the document's arena.
 *  The document itself stays as it was read. */
outcome document_edit(struct document *document, const struct document_edit *edits,
        size_t edit_count, const struct document_search *search, struct text *ret_text,
        struct problem *ret_problem) MUST_CHECK;

/** As document_edit, then writes the file at path whole or not at all. */
outcome document_save(struct document *document, const struct document_edit *edits,
        size_t edit_count, const struct document_search *search, const char *path,
        struct problem *ret_problem) MUST_CHECK;

/** A text as a YAML value: as it is where that is safe, else in double quotes. In the arena; {NULL, 0}: no memory. */
struct text document_quote(struct arena *arena, struct text value);

/** The names, without .yaml, of what lies in a folder ("panels", "devices", "samples") where profiles are looked for,
 *  but for that of a site file: each once, sorted by their bytes. Names and list are in the arena. */
outcome document_list(const struct document_search *search, const char *sort, struct arena *arena,
        const struct text **ret_names, size_t *ret_count, struct problem *ret_problem) MUST_CHECK;

/** Where the file of that name lies; false: nowhere. name: one that document_list gives. */
bool document_find(const struct document_search *search, const char *sort, struct text name,
        char ret_path[PATH_MAX]);

/** The site as JSON, defaults filled in: a site file again (YAML 1.2 contains JSON). document: read well;
 *  not changed. name: as in json.h. */
void document_write_json(struct document *document, const char *name, struct json_writer *json);

/** The reference of all keys as Markdown: docs/site-file.md. */
void document_add_reference(struct text_builder *builder);

#endif
