/* What `lintel archive import` brings into an archive: lines of JSON, an event log, or captured frames. */
#ifndef LINTEL_CLI_ARCHIVE_IMPORT_H
#define LINTEL_CLI_ARCHIVE_IMPORT_H

#include "cli/cli.h"

/** log: a site file, whose panel's profile says how the log is written; frames: the file holds frames, as they are
 *  or in hex; keys: of encrypted ones. Neither log nor frames: lines of JSON. Each may be NULL or false. */
struct archive_import_how {
    const char *log;
    const char *keys;
    bool frames;
};

/** Brings a file in; what is there already is left out. Says on stderr, by line, what was not taken. Gives
 *  CLI_FAULTS where anything was not, CLI_UNREADABLE where nothing could be done; of a file of JSON lines all or
 *  nothing is taken. */
int archive_import_file(
        const char *archive, const char *file, const struct archive_import_how *how);

#endif
