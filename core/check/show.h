/* How a report looks: as text for a terminal or a file, and as JSON for programs (docs/json.md). Values in, text
 * out; the lines of the site file are asked of the shell. */
#ifndef LINTEL_CHECK_SHOW_H
#define LINTEL_CHECK_SHOW_H

#include "base/json.h"
#include "check/check.h"
#include "check/layout.h"

/** Maps a path of the core to its line and column (from 1) in the site file. find: false where it is not in the file.
 *  file: as the user named it; short_file: its last part. */
struct show_places {
    struct text file;
    struct text short_file;
    bool (*find)(void *context, struct text path, int *ret_line, int *ret_column);
    void *context;
};

/** The whole report. margins: with the table of every routine's margin. */
void show_report(const struct site *site, const struct check_report *report,
        const struct show_places *places, bool margins, struct layout *layout);

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

/** The same as JSON. Each writes one value: name as in json.h. */
void show_report_json(const struct site *site, const struct check_report *report,
        const struct show_places *places, struct json_writer *json);
void show_told_json(const struct site *site, const struct show_told *told,
        const struct show_places *places, struct json_writer *json);

#endif
