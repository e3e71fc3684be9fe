#include "host/host.h"

#include <assert.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { FIRST_READ_BYTES = 16 * 1024, TEMPORARY_TRIES = 100 };

static void *get_page(void *context, size_t size) {
    (void)context;
    return malloc(size);
}

static void give_page(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

struct pages host_pages(void) {
    return (struct pages){.get = get_page, .give = give_page};
}

/* The refusal of the operating system, in errno, of what was to be done with the path. */
static outcome refused(const char *verb, const char *path, struct problem *ret_problem) {
    const int error = errno;
    enum problem_kind kind = PROBLEM_SYSTEM;
    if (error == ENOENT || error == ENOTDIR) {
        kind = PROBLEM_MISSING;
    } else if (error == ENOMEM) {
        kind = PROBLEM_MEMORY;
    }
    FAIL(ret_problem, kind, "", "%.240s cannot be %s: %s", path, verb, strerror(error));
}

static ssize_t read_some(int file, char *into, size_t size) {
    ssize_t count = 0;
    do {
        count = read(file, into, size);
    } while (count < 0 && errno == EINTR);
    return count;
}

/* Reads to the end of what is open. hint_bytes: how long it is said to be; 0: not known. */
static outcome read_all(int file, const char *path, size_t hint_bytes, size_t limit_bytes,
        struct arena *arena, struct text *ret_content, struct problem *ret_problem) {
    size_t capacity = hint_bytes > 0 ? hint_bytes + 2 : FIRST_READ_BYTES;
    size_t length = 0;
    void *content = NULL;
    TRY(arena_get(arena, capacity, 1, &content, ret_problem));
    for (;;) {
        if (length + 1 == capacity) {
            void *larger = NULL;
            TRY(arena_get(arena, capacity, 2, &larger, ret_problem));
            memcpy(larger, content, length);
            content = larger;
            capacity *= 2;
        }
        const ssize_t count = read_some(file, (char *)content + length, capacity - length - 1);
        if (count < 0) {
            return refused("read", path, ret_problem);
        }
        if (count == 0) {
            break;
        }
        length += (size_t)count;
        if (length > limit_bytes) {
            FAIL(ret_problem, PROBLEM_LIMIT, "",
                    "%.240s is longer than %zu bytes, the most that is read", path, limit_bytes);
        }
    }
    ((char *)content)[length] = '\0';
    *ret_content = (struct text){.start = content, .length = length};
    return outcome_good();
}

static outcome read_open_file(int file, const char *path, size_t limit_bytes, struct arena *arena,
        struct text *ret_content, struct problem *ret_problem) {
    struct stat state;
    if (fstat(file, &state) != 0) {
        return refused("read", path, ret_problem);
    }
    if (S_ISDIR(state.st_mode)) {
        FAIL(ret_problem, PROBLEM_SYSTEM, "", "%.240s is a folder; a file is expected", path);
    }
    /* The size is a hint only: pipes have none, and a file may grow while it is read. */
    const bool sized = S_ISREG(state.st_mode) && state.st_size > 0;
    if (sized && (uintmax_t)state.st_size > limit_bytes) {
        FAIL(ret_problem, PROBLEM_LIMIT, "",
                "%.240s is longer than %zu bytes, the most that is read", path, limit_bytes);
    }
    const size_t hint_bytes = sized ? (size_t)state.st_size : 0;
    return read_all(file, path, hint_bytes, limit_bytes, arena, ret_content, ret_problem);
}

outcome host_read_file(const char *path, size_t limit_bytes, struct arena *arena,
        struct text *ret_content, struct problem *ret_problem) {
    const size_t limit = limit_bytes == 0 ? HOST_FILE_LIMIT_BYTES : limit_bytes;
    if (strcmp(path, "-") == 0) {
        return read_open_file(
                STDIN_FILENO, "standard input", limit, arena, ret_content, ret_problem);
    }
    const int file = open(path, O_RDONLY | O_CLOEXEC | O_NOCTTY);
    if (file < 0) {
        return refused("read", path, ret_problem);
    }
    const outcome result = read_open_file(file, path, limit, arena, ret_content, ret_problem);
    (void)close(file);
    return result;
}

/* A folder, a pipe, a file that others may read: refused before a byte of it is read. */
static outcome must_be_private(int file, const char *path, struct problem *ret_problem) {
    struct stat state;
    if (fstat(file, &state) != 0) {
        return refused("read", path, ret_problem);
    }
    if (!S_ISREG(state.st_mode)) {
        FAIL(ret_problem, PROBLEM_SYSTEM, "", "%.240s is not a regular file", path);
    }
    if ((state.st_mode & (S_IRWXG | S_IRWXO)) != 0) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "%.120s is open to others than its owner; chmod 600 %.120s", path, path);
    }
    return outcome_good();
}

outcome host_read_private_file(const char *path, size_t limit_bytes, struct arena *arena,
        struct text *ret_content, struct problem *ret_problem) {
    /* Not to wait for the other end of a pipe. */
    const int file = open(path, O_RDONLY | O_CLOEXEC | O_NOCTTY | O_NONBLOCK);
    if (file < 0) {
        return refused("read", path, ret_problem);
    }
    outcome result = must_be_private(file, path, ret_problem);
    if (result.good) {
        result = read_open_file(file, path, limit_bytes == 0 ? HOST_FILE_LIMIT_BYTES : limit_bytes,
                arena, ret_content, ret_problem);
    }
    (void)close(file);
    return result;
}

/* What is being replaced. path: as the caller wrote it, for messages; target: where that leads. */
struct writing {
    const char *path;
    char target[PATH_MAX];
    char folder[PATH_MAX];
    char temporary[PATH_MAX];
    bool exists;
    struct stat old;
};

/* Follows a symbolic link, and looks at what is there now. */
static outcome find_target(struct writing *writing, struct problem *ret_problem) {
    struct stat state;
    const char *path = writing->path;
    const bool found = lstat(path, &state) == 0;
    if (!found && errno != ENOENT) {
        return refused("written", path, ret_problem);
    }
    if (found && S_ISLNK(state.st_mode)) {
        if (realpath(path, writing->target) == NULL) {
            return refused("written", path, ret_problem);
        }
    } else if (strlen(path) >= sizeof writing->target) {
        errno = ENAMETOOLONG;
        return refused("written", path, ret_problem);
    } else {
        memcpy(writing->target, path, strlen(path) + 1);
    }
    writing->exists = found && stat(writing->target, &writing->old) == 0;
    if (writing->exists && !S_ISREG(writing->old.st_mode)) {
        FAIL(ret_problem, PROBLEM_SYSTEM, "", "%.240s cannot be written: it is not a regular file",
                path);
    }
    const char *slash = strrchr(writing->target, '/');
    const size_t length = slash == NULL ? 0 : (size_t)(slash - writing->target) + 1;
    memcpy(writing->folder, length == 0 ? "./" : writing->target, length == 0 ? 2 : length);
    writing->folder[length == 0 ? 2 : length] = '\0';
    return outcome_good();
}

/* Opens a temporary file of an unused name beside the target; its descriptor, or -1 with errno. The umask applies to
 * it, which mkstemp would not allow. */
static int open_temporary(struct writing *writing) {
    int file = -1;
    for (int i = 0; i < TEMPORARY_TRIES && file < 0; i++) {
        const int length = snprintf(writing->temporary, sizeof writing->temporary,
                "%s.lintel-%ld-%d.tmp", writing->folder, (long)getpid(), i);
        if (length < 0 || (size_t)length >= sizeof writing->temporary) {
            errno = ENAMETOOLONG;
            return -1;
        }
        file = open(writing->temporary, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
        if (file < 0 && errno != EEXIST) {
            return -1;
        }
    }
    return file;
}

static bool write_all(int file, struct text content) {
    size_t done = 0;
    while (done < content.length) {
        const ssize_t count = write(file, content.start + done, content.length - done);
        if (count < 0 && errno != EINTR) {
            return false;
        }
        done += count > 0 ? (size_t)count : 0;
    }
    return true;
}

/* Permissions first, so that a file that others must not read is never open to them. */
static bool fill_temporary(int file, const struct writing *writing, struct text content) {
    if (writing->exists) {
        /* Only root can give a file away; the permissions count more than the owner. */
        const bool same_owner = fchown(file, writing->old.st_uid, writing->old.st_gid) == 0;
        const mode_t kept = same_owner ? 07777 : 0777;
        if (fchmod(file, writing->old.st_mode & kept) != 0) {
            return false;
        }
    }
    return write_all(file, content) && fsync(file) == 0;
}

static bool sync_folder(const char *path) {
    const int folder = open(path, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (folder < 0) {
        /* A folder may be written to and not read: then there is nothing to sync it by. */
        return errno == EACCES;
    }
    /* Some file systems cannot sync a folder, and need not. */
    const bool synced = fsync(folder) == 0 || errno == EINVAL || errno == ENOTSUP;
    const int error = errno;
    (void)close(folder);
    errno = error;
    return synced;
}

bool host_sync_folder_of(const char *path) {
    char folder[PATH_MAX];
    const char *last = strrchr(path, '/');
    const int length = snprintf(folder, sizeof folder, "%.*s",
            last == NULL ? 1 : (int)(last - path) + 1, last == NULL ? "." : path);
    return length > 0 && (size_t)length < sizeof folder && sync_folder(folder);
}

static outcome is_there(const char *path, struct problem *ret_problem) {
    FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
            "%.240s exists already and is left as it is; name another file, or move it away first",
            path);
}

/* What link says of a file system that has no links, or of one that allows them to nobody. */
static bool cannot_link(int error) {
    return error == EPERM || error == ENOSYS || error == EOPNOTSUPP || error == EMLINK;
}

/* A link is never made over a file, unlike a rename. */
static bool place_new(const struct writing *writing) {
    if (link(writing->temporary, writing->target) == 0) {
        (void)unlink(writing->temporary);
        return true;
    }
    struct stat state;
    if (!cannot_link(errno)) {
        return false;
    }
    if (lstat(writing->target, &state) == 0) {
        errno = EEXIST;
        return false;
    }
    return rename(writing->temporary, writing->target) == 0;
}

static outcome write_whole(
        struct writing *writing, struct text content, bool is_new, struct problem *ret_problem) {
    const int file = open_temporary(writing);
    if (file < 0) {
        return refused("written", writing->path, ret_problem);
    }
    bool good = fill_temporary(file, writing, content);
    int error = errno;
    if (close(file) != 0 && good) {
        good = false;
        error = errno;
    }
    if (good && !(is_new ? place_new(writing) : rename(writing->temporary, writing->target) == 0)) {
        good = false;
        error = errno;
    }
    if (!good) {
        (void)unlink(writing->temporary);
        errno = error;
        return is_new && error == EEXIST ? is_there(writing->path, ret_problem)
                                         : refused("written", writing->path, ret_problem);
    }
    if (!sync_folder(writing->folder)) {
        FAIL(ret_problem, PROBLEM_SYSTEM, "",
                "%.240s is written, but a power cut may still undo that: %s", writing->path,
                strerror(errno));
    }
    return outcome_good();
}

outcome host_write_file(const char *path, struct text content, struct problem *ret_problem) {
    struct writing writing = {.path = path};
    TRY(find_target(&writing, ret_problem));
    return write_whole(&writing, content, false, ret_problem);
}

outcome host_write_new_file(const char *path, struct text content, struct problem *ret_problem) {
    struct writing writing = {.path = path};
    struct stat state;
    if (lstat(path, &state) == 0) {
        return is_there(path, ret_problem);
    }
    TRY(find_target(&writing, ret_problem));
    return write_whole(&writing, content, true, ret_problem);
}
