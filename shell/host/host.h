/* The operating system, as the shell needs it: memory pages, reading a file whole, writing a file so that it is either
 * the old one or the new one and never half of one. Which files, and what is said of them, is the caller's. */
#ifndef LINTEL_HOST_HOST_H
#define LINTEL_HOST_HOST_H

#include "base/arena.h"
#include "base/problem.h"
#include "base/text.h"

#include <stddef.h>
#include <stdint.h>

/* A site file of the largest building there is room for (hundreds of zones) stays under a tenth of this. */
enum { HOST_FILE_LIMIT_BYTES = 4 * 1024 * 1024 };

/** Pages from malloc, for arenas. */
struct pages host_pages(void);

/** The same, but every block is overwritten before it is given back: for keys. */
struct pages host_wiped_pages(void);

/** Reads a file whole; "-" is standard input. Pipes and devices are read to their end like files, and are cut off by
 *  the limit. path: borrows. limit_bytes: most that is taken, 0 = HOST_FILE_LIMIT_BYTES. ret_content: gives; ended by a
 *  NUL one byte past its length (bytes of the file may be NUL too); untouched on failure. Fails MISSING (no such file),
 *  LIMIT (longer than the limit: nothing of it is given), SYSTEM (a folder, no right to read, an error of the disk),
 *  MEMORY. The texts name the path. */
outcome host_read_file(const char *path, size_t limit_bytes, struct arena *arena,
        struct text *ret_content, struct problem *ret_problem) MUST_CHECK;

/** Reads a regular file whole that its owner alone may read or write: neither group nor others have any right to it.
 *  It is looked at once it is open, so that no other can be put under the name in between; of one that is refused
 *  nothing is read. Otherwise as host_read_file, but that "-" is a name like any other. Fails BAD_VALUE too (open to
 *  others: the text says what to do). */
outcome host_read_private_file(const char *path, size_t limit_bytes, struct arena *arena,
        struct text *ret_content, struct problem *ret_problem) MUST_CHECK;

/** Writes a file at once: a temporary file in the same folder, brought to the disk, renamed over the old one, and the
 *  folder brought to the disk too. On failure the old file is as it was and the temporary one is gone (but for a folder
 *  that cannot be brought to the disk: then the new file is there, and the text says so). A symbolic link stays one:
 *  the file it leads to is replaced. Permissions of an existing file are kept (its owner too, where the system lets
 *  us); a new file gets those the umask leaves of 0666. Fails MISSING (no such folder), SYSTEM (no right, disk full,
 *  path is not a regular file), MEMORY. */
outcome host_write_file(const char *path, struct text content, struct problem *ret_problem)
        MUST_CHECK;

/** Today by the clock and the time zone of this machine: days since 1970-01-01, as base/date.h has them. */
int32_t host_today(void);

/** Milliseconds of a clock that never jumps, and goes on while the machine sleeps. */
int64_t host_passed_ms(void);

/** Bytes that nobody can guess, from the system. Fails SYSTEM. */
outcome host_random(uint8_t *ret_bytes, size_t length, struct problem *ret_problem) MUST_CHECK;

/** The same for a file that is not there yet: whatever stands at the path, a link that leads nowhere too, is left as it
 *  is (BAD_VALUE), even if it came there a moment ago. On a file system that cannot link files that moment is not
 *  guarded. */
outcome host_write_new_file(const char *path, struct text content, struct problem *ret_problem)
        MUST_CHECK;

/** Brings the name of a file that was made or renamed to the disk: syncs its folder. Where that cannot be synced there
 *  is nothing to do. False: the disk failed; errno says how. */
bool host_sync_folder_of(const char *path);

#endif
