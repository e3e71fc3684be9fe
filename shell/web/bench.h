/* The bench behind the page: one site file, read and checked anew whenever it changes, by whomever. What the page
 * shows is a snapshot: JSON made once, numbered, never changed after. One thread of its own reads and checks; any
 * thread may ask for the newest snapshot, wait for the next one, or edit the file. */
#ifndef LINTEL_WEB_BENCH_H
#define LINTEL_WEB_BENCH_H

#include "base/text.h"
#include "document/document.h"
#include "plan/recall.h"
#include "web/history.h"

#include <stdatomic.h>
#include <stdint.h>

struct bench;

/** A numbered answer for the page. number: of the edit it is about, from 1. json: kept as long as the snapshot is
 *  held; the site comes last in it: up to brief_length is all else, but for the brace that ends it. site: counted up
 *  whenever the site is another. */
struct bench_snapshot {
    atomic_int holders;
    uint64_t number;
    uint64_t site;
    size_t length;
    size_t brief_length;
    char json[];
};

/** path: of the site file; data: as document_search has it; both must outlive the bench. Starts the thread. Fails
 *  MEMORY or SYSTEM (no thread). A file that cannot be read is no failure: the snapshot says so. */
outcome bench_open(const char *path, const char *data, struct bench **ret_bench,
        struct problem *ret_problem) MUST_CHECK;

/** The site file, as it was named, and where its profiles are looked for. */
const char *bench_path(const struct bench *bench);
const struct document_search *bench_search(const struct bench *bench);

/** Ends the thread, wakes everybody who waits, gives the memory back. No other call may be running. */
void bench_close(struct bench *bench);

/** The newest snapshot with a serial past `after` (0: any), waiting at most wait_ms for it; NULL when there is none
 *  by then or the bench is closing. ret_serial: of this snapshot; pass it as `after` next time. Release it. */
struct bench_snapshot *bench_wait(
        struct bench *bench, uint64_t after, int wait_ms, uint64_t *ret_serial);
void bench_release(struct bench_snapshot *snapshot);

/** What the last look worked out of the drawing, and what it knew from the one before. To be asked once a snapshot with
 *  the report of that look has come. */
struct recall_tally bench_recalled(const struct bench *bench);

/** Wakes everybody who waits; from then on bench_wait gives NULL at once. */
void bench_stop(struct bench *bench);
bool bench_stopping(struct bench *bench);

/** The number of the file's text as it is now known to be: it grows with each change, whoever makes it. */
uint64_t bench_number(struct bench *bench);

/** Nobody wants to wait longer for the check of the text of this number: what is not settled yet stays so, and the
 *  report says it. False: nothing of that number is under way. */
bool bench_give_up(struct bench *bench, uint64_t number);

/** A check that was given up is made after all, from its beginning. False: none was. */
bool bench_go_on(struct bench *bench);

/** How an edit went. CONFLICT: the file is not the one that the page knew. REFUSED: the problem tells why. */
enum bench_edit { BENCH_EDIT_DONE, BENCH_EDIT_CONFLICT, BENCH_EDIT_REFUSED };

/** Makes the edits in the file, whole or not at all, if it still is what it was at `number`. note: who makes
 *  them, and what undo will call it. */
enum bench_edit bench_edit(struct bench *bench, uint64_t number, const struct document_edit *edits,
        size_t count, struct history_note note, struct problem *ret_problem);

/** Puts another text in place of the file, as one step of undo, if it still is what it was at `number`. text: was read
 *  without a problem. */
enum bench_edit bench_replace(struct bench *bench, uint64_t number, struct text text,
        struct history_note note, struct problem *ret_problem);

/** Takes the last step back that this page made, or makes it again; what others did since stays. REFUSED where there
 *  is none, where somebody changed the same since, or where the file could not be read then; CONFLICT where another
 *  program changed the file and that is not known yet. */
enum bench_edit bench_step(
        struct bench *bench, struct text by, bool forward, struct problem *ret_problem);

#endif
