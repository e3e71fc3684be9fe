/* How a report looks: as text for a terminal or a file, and as JSON for programs (docs/json.md). Values in, text
 * out; the lines of the site file are asked of the shell. */
#ifndef LINTEL_CHECK_SHOW_H
#define LINTEL_CHECK_SHOW_H

#include "base/json.h"
#include "check/check.h"
#include "check/layout.h"

/** Maps a path of the core to its line and column (from 1) in the site file. find: false where it is not in the file.
 *  usual: what is taken for a key that the file leaves out, such as 30 s; empty where it is written, or nothing is
 *  taken. file: as the user named it; short_file: its last part. */
struct show_places {
    struct text file;
    struct text short_file;
    bool (*find)(void *context, struct text path, int *ret_line, int *ret_column);
    struct text (*usual)(void *context, struct text path);
    void *context;
};

/** The whole report. margins: with the table of every routine's margin. */
void show_report(const struct site *site, const struct check_report *report,
        const struct show_places *places, bool margins, struct layout *layout);

/** For every finding that counts, the line to paste under `waived:` in the site file. */
void show_waiver_lines(const struct check_report *report, struct text_builder *out);

/** What differs from an older file of the same house, in short. margins: every routine, not only those that differ.
 *  places, older_places: of the two files. */
struct compare;
void show_compare(const struct site *site, const struct check_report *report,
        const struct compare *compare, const struct show_places *places,
        const struct show_places *older_places, bool margins, struct layout *layout);

/** One routine told: its verdict, which course of it this is, that course as a story, and what is wrong with it.
 *  course: a sentence, or empty. finding: NULL when nothing is wrong. */
struct show_told {
    const struct check_routine *routine;
    const struct proof_answer *answer;
    struct text course;
    struct story story;
    const struct check_finding *finding;
};
void show_told(const struct site *site, const struct show_told *told,
        const struct show_places *places, struct layout *layout);

/** A finding by itself. answers: of the report, for the names of those that share its cause. */
void show_finding(const struct check_finding *finding, const struct proof_answer *answers,
        const struct show_places *places, struct layout *layout);

/** The same as JSON. Each writes one value: name as in json.h. compare: NULL when there is no older file; then
 *  older_places is not looked at. */
void show_report_json(const char *name, const struct site *site, const struct check_report *report,
        const struct show_places *places, const struct compare *compare,
        const struct show_places *older_places, struct json_writer *json);
void show_told_json(const struct site *site, const struct show_told *told,
        const struct show_places *places, struct json_writer *json);

/** One break-in told: what is said of it, the least detected way and, where it is another, the quickest. */
void show_break_in(const struct site *site, const struct break_in *it, struct layout *layout);
void show_break_in_told_json(const struct site *site, const struct break_in *it,
        const struct show_places *places, struct json_writer *json);

/* ---- shared by the files of this module */

/** How many protected things are heard in time: a line of the summary, where the site has any. */
void show_break_ins(
        const struct site *site, const struct check_report *report, struct layout *layout);
void show_break_in_json(struct json_writer *json, const char *name, const struct site *site,
        const struct break_in *it, const struct show_places *places);
void show_story_json(struct json_writer *json, const char *name, const struct story *story);
/** "bars": the answer's course as bars (check/lanes.h); answer NULL: none. The arena of the text notes where there is
 *  no memory for it. */
void show_bars_json(
        struct json_writer *json, const struct site *site, const struct proof_answer *answer);
/** "format", "file" and "site". */
void show_site_json(
        struct json_writer *json, const struct site *site, const struct show_places *places);

/** "place": path, file, line and column, or null. */
void show_place_json(struct json_writer *json, struct text path, const struct show_places *places);
/** "fault", "risk", "note". */
const char *show_weight_name(enum finding_weight weight);
void show_compare_json(struct json_writer *json, const struct compare *compare,
        const struct show_places *places, const struct show_places *older_places);
/** "15 faults", "1 fault"; nothing for 0. before: put in front. */
void show_add_count(struct text_builder *out, const char *before, size_t count, const char *one,
        const char *several);
/** "FAULT", and its colour. */
const char *show_weight_label(enum finding_weight weight);
enum layout_ink show_weight_ink(enum finding_weight weight);
/** "quayside.yaml:61" at the right edge of the line, or on a line of its own from `hang` on. */
void show_place(
        struct layout *layout, struct text path, size_t hang, const struct show_places *places);

#endif
