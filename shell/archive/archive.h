/* The archive: every signal that was acknowledged, in one SQLite file, or on a PostgreSQL server for several
 * listeners that write side by side. What is in it was on the disk before anybody was told so. Any number of readers
 * and writers at once, also of other processes; who writes does so alone while he does. One thread each. */
#ifndef LINTEL_ARCHIVE_ARCHIVE_H
#define LINTEL_ARCHIVE_ARCHIVE_H

#include "base/problem.h"
#include "base/text.h"

#include <stddef.h>
#include <stdint.h>

enum {
    /* Of the tables; an older file is brought up to it when it is opened for writing. */
    ARCHIVE_VERSION = 6,
    ARCHIVE_DOUBT_MS = 300000,
    ARCHIVE_WAIT_MS = 1000, /* how long another writer is waited for */
    ARCHIVE_LAST = -1,      /* as after_signal of a new act: whichever signal is the last */
};

/** One signal. id: given by the archive, ascending in the order of storing (0: not stored yet). received_ms: since
 *  1970-01-01 UTC by the clock of whoever received it, which may jump. steady_ms: of one that is appended, by a clock
 *  that does not, read at the same instant; it is not kept. prefix, account: the L and # fields. sent_s: the
 *  frame's own time, where stamped. data: what stood in its brackets, opened. digest: frame_digest. frame: the bytes as
 *  they came, line feed to carriage return. peer: "tcp 127.0.0.1:50012"; a pasted one says so. imported: it was brought
 *  in, and never acknowledged by whoever stored it here. Texts borrow. */
struct archive_signal {
    int64_t id;
    int64_t received_ms;
    int64_t steady_ms;
    uint32_t prefix;
    struct text account;
    uint16_t sequence;
    bool stamped;
    int64_t sent_s;
    bool encrypted;
    struct text token;
    struct text data;
    uint64_t digest;
    struct text frame;
    struct text peer;
    bool imported;
};

/** What came and was not taken, the same reason from the same peer added up; the last 100,000 are kept. sample: the
 *  first bytes of the first. */
struct archive_refusal {
    int64_t first_ms;
    int64_t last_ms;
    int64_t count;
    struct text reason;
    struct text peer;
    struct text account;
    struct text sample;
};

struct archive;

/** Whether the archive is only read. NEW: written; made where there is none, readable by its owner alone. */
enum archive_use { ARCHIVE_READ, ARCHIVE_WRITE, ARCHIVE_NEW };

/** Opens an archive. path: of a file, or "postgresql://HOST/DATABASE" with what libpq takes besides, but no password.
 *  ret_archive: close it; untouched on failure. Fails MISSING, SYSTEM (no right, disk full, locked, no server),
 *  BAD_VALUE (a name that cannot be), UNREADABLE (another kind of file, of a later version, damaged), MEMORY. The texts
 *  name the file, or the server without its user. */
outcome archive_open(const char *path, enum archive_use use, struct archive **ret_archive,
        struct problem *ret_problem) MUST_CHECK;

/** Closes it; NULL is fine. */
void archive_close(struct archive *archive);

/** Brings to the disk whatever can be read from the archive: what was written by a process that died before it synced
 *  is there to be read, and a power cut would take it away again. Readers may stay. Fails SYSTEM (another writes). */
outcome archive_settle(struct archive *archive, struct problem *ret_problem) MUST_CHECK;

/** Stores signals and refusals in one transaction, and brings them to the disk: when it gives good, they will be there
 *  after a power cut; when not, none is. Fills the ids. After a failure the next call opens the file anew by itself. A
 *  disk that fails to sync may have kept what it was given all the same: for ARCHIVE_DOUBT_MS after a failure a signal
 *  that is there already (account, sequence and digest the same, received within that time) is not stored again, and on
 *  a server at any time, as another listener may have stored it: its id is that of the one that is there. One that was
 *  imported does not count, nor on a server one from before the clock was set back: by the calendar alone it might be
 *  of now.
 *  Fails SYSTEM (disk full, locked, read-only), UNREADABLE (damaged). */
outcome archive_append(struct archive *archive, struct archive_signal *signals, size_t count,
        const struct archive_refusal *refusals, size_t refusal_count, struct problem *ret_problem)
        MUST_CHECK;

/** As archive_append without refusals, but leaves out what is there already (received, account, sequence and digest
 *  the same). ret_added: how many were not. */
outcome archive_import(struct archive *archive, struct archive_signal *signals, size_t count,
        size_t *ret_added, struct problem *ret_problem) MUST_CHECK;

/** Which signals are wanted. after_id, since_ms: later ones only, up_to_id: none after (0: all). begun_ms: from the
 *  first on that is of since_ms or later, and no later than this (0: whichever is the first): one that a clock stored
 *  which was far ahead makes nobody look at all that came after it. account: empty: every one. any_prefix: of the
 *  account under every prefix. most: 0: all. */
struct archive_query {
    int64_t after_id;
    int64_t up_to_id;
    int64_t since_ms;
    int64_t begun_ms;
    uint32_t prefix;
    bool any_prefix;
    struct text account;
    size_t most;
    bool newest_first;
};

/** The id of the last signal, 0: there is none. Fails SYSTEM, UNREADABLE. */
outcome archive_last(struct archive *archive, int64_t *ret_id, struct problem *ret_problem)
        MUST_CHECK;

/** The id of the last signal that was received later than that, 0: there is none. One that was imported does not count.
 *  Fails SYSTEM, UNREADABLE. */
outcome archive_last_later(struct archive *archive, int64_t than_ms, int64_t *ret_id,
        struct problem *ret_problem) MUST_CHECK;

/** Hands the signals to `take`, one by one in the order of storing, each borrowed for the call, until it gives false.
 *  What is stored meanwhile by others is not among them. Fails SYSTEM, UNREADABLE. */
outcome archive_each(struct archive *archive, struct archive_query query,
        bool (*take)(void *context, const struct archive_signal *signal), void *context,
        struct problem *ret_problem) MUST_CHECK;

/** The same of the refusals, oldest first. */
outcome archive_each_refusal(struct archive *archive,
        bool (*take)(void *context, const struct archive_refusal *refusal), void *context,
        struct problem *ret_problem) MUST_CHECK;

/** What a person did in the course of acceptance (accepting/accepting.h has the words). after_signal: id of the last
 *  signal that was there; of a new one it may be ARCHIVE_LAST. by: a name. */
struct archive_act {
    int64_t id;
    struct text site;
    int64_t at_ms;
    struct text act;
    struct text test;
    struct text by;
    int64_t after_signal;
};

/** Stores an act and brings it to the disk; fills its id. Fails SYSTEM. */
outcome archive_add_act(
        struct archive *archive, struct archive_act *act, struct problem *ret_problem) MUST_CHECK;

/** Hands the acts of a site to `take`, in their order, each borrowed for the call. Fails SYSTEM, UNREADABLE. */
outcome archive_each_act(struct archive *archive, struct text site, int64_t after_id,
        bool (*take)(void *context, const struct archive_act *act), void *context,
        struct problem *ret_problem) MUST_CHECK;

/** Looks whether the file is whole and nothing refers to what is not there. Fails UNREADABLE with the first that is
 *  wrong, SYSTEM. */
outcome archive_check(struct archive *archive, struct problem *ret_problem) MUST_CHECK;

/** Copies the archive to a new file while others go on writing to it; the copy is whole and on the disk. Fails
 *  BAD_VALUE (there is a file of that name; it is on a server, which has means of its own), SYSTEM. */
outcome archive_backup(struct archive *archive, const char *to, struct problem *ret_problem)
        MUST_CHECK;

#endif
