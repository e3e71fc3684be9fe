#include "web/revisions.h"

#include "host/host.h"

#include <dirent.h>
#include <errno.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>

/* "2026-11-26 22.01.33 before keying in.yaml": sorted by name they are sorted by time. */
enum { STAMP_LENGTH = 19, DAY_LENGTH = 10, FOLDER_MODE = 0777, SAME_SECOND_MOST = 9 };
static const char SUFFIX[] = ".yaml";
enum { SUFFIX_LENGTH = sizeof SUFFIX - 1 };

void revisions_init(struct revisions *revisions, const char *path) {
    revisions->path = path;
    revisions->begun = false;
    pthread_mutex_init(&revisions->lock, NULL);
}

void revisions_finish(struct revisions *revisions) {
    pthread_mutex_destroy(&revisions->lock);
}

static outcome find_folder(
        const struct revisions *revisions, char folder[PATH_MAX], struct problem *ret_problem) {
    if (snprintf(folder, PATH_MAX, "%s.revisions", revisions->path) >= PATH_MAX) {
        FAIL(ret_problem, PROBLEM_LIMIT, "",
                "the name of the site file is too long to keep revisions beside it");
    }
    return outcome_good();
}

/* ---- names ------------------------------------------------------------------------------------------------------- */

static bool is_stamp(const char *name) {
    static const char pattern[] = "0000-00-00 00.00.00";
    for (int i = 0; i < STAMP_LENGTH; i++) {
        const bool digit = name[i] >= '0' && name[i] <= '9';
        if (pattern[i] == '0' ? !digit : name[i] != pattern[i]) {
            return false;
        }
    }
    return true;
}

/* Whether a file of the folder is one of ours; others may lie there as well. */
static bool read_name(const char *file, struct arena *arena, struct revision *ret_revision) {
    const size_t length = strlen(file);
    if (length <= STAMP_LENGTH + 1 + SUFFIX_LENGTH || !is_stamp(file) ||
            file[STAMP_LENGTH] != ' ' || strcmp(file + length - SUFFIX_LENGTH, SUFFIX) != 0) {
        return false;
    }
    const struct text id = text_print(arena, "%s", file);
    const char *time = file + DAY_LENGTH + 1;
    *ret_revision = (struct revision){.id = id,
            .day = {id.start, DAY_LENGTH},
            .time = text_print(arena, "%.2s:%.2s", time, time + 3),
            .name = {id.start + STAMP_LENGTH + 1, length - STAMP_LENGTH - 1 - SUFFIX_LENGTH}};
    return id.start != NULL;
}

static struct text trimmed(struct text name) {
    while (name.length > 0 && name.start[0] == ' ') {
        name.start++;
        name.length--;
    }
    while (name.length > 0 && name.start[name.length - 1] == ' ') {
        name.length--;
    }
    return name;
}

static outcome check_name(struct text name, struct problem *ret_problem) {
    bool fits = true;
    for (size_t i = 0; i < name.length; i++) {
        const unsigned char byte = (unsigned char)name.start[i];
        fits = fits && byte >= ' ' && byte != 0x7F && byte != '/' && byte != '\\';
    }
    if (name.length == 0) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "say what to call it: \"as handed over\"");
    }
    if (!fits || name.length > REVISIONS_NAME_MOST) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "it becomes the name of a file: at most %d letters, without \\ and /",
                REVISIONS_NAME_MOST);
    }
    return outcome_good();
}

/* ---- the folder -------------------------------------------------------------------------------------------------- */

static int later_first(const void *a, const void *b) {
    const struct text *one = &((const struct revision *)a)->id;
    const struct text *other = &((const struct revision *)b)->id;
    return strcmp(other->start, one->start);
}

/* With the lock held. */
static outcome list(const struct revisions *revisions, struct arena *arena,
        struct revision **ret_list, size_t *ret_count, struct problem *ret_problem) {
    char path[PATH_MAX];
    TRY(find_folder(revisions, path, ret_problem));
    struct revision *found = ARENA_ARRAY(arena, struct revision, REVISIONS_MOST);
    size_t count = 0;
    if (found == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to list the revisions");
    }
    DIR *folder = opendir(path);
    if (folder == NULL && errno != ENOENT) {
        FAIL(ret_problem, PROBLEM_SYSTEM, "", "%s: %s", path, strerror(errno));
    }
    for (const struct dirent *entry = folder == NULL ? NULL : readdir(folder);
            entry != NULL && count < REVISIONS_MOST; entry = readdir(folder)) {
        count += read_name(entry->d_name, arena, &found[count]);
    }
    if (folder != NULL) {
        (void)closedir(folder);
    }
    qsort(found, count, sizeof found[0], later_first);
    *ret_list = found;
    *ret_count = count;
    return outcome_good();
}

outcome revisions_list(struct revisions *revisions, struct arena *arena, struct revision **ret_list,
        size_t *ret_count, struct problem *ret_problem) {
    pthread_mutex_lock(&revisions->lock);
    const outcome done = list(revisions, arena, ret_list, ret_count, ret_problem);
    pthread_mutex_unlock(&revisions->lock);
    return done;
}

static bool is_there(const char *path) {
    struct stat status;
    return stat(path, &status) == 0;
}

/* A file for it that is not there yet: two of one second and one name get a number. */
static outcome name_file(
        const char *folder, struct text name, char path[PATH_MAX], struct problem *ret_problem) {
    char stamp[STAMP_LENGTH + 1];
    struct tm local;
    const time_t now = time(NULL);
    if (localtime_r(&now, &local) == NULL ||
            strftime(stamp, sizeof stamp, "%Y-%m-%d %H.%M.%S", &local) != STAMP_LENGTH) {
        FAIL(ret_problem, PROBLEM_SYSTEM, "", "the clock of this machine has no date");
    }
    for (int twin = 1; twin <= SAME_SECOND_MOST; twin++) {
        char number[4] = "";
        if (twin > 1) {
            (void)snprintf(number, sizeof number, " %d", twin);
        }
        if (snprintf(path, PATH_MAX, "%s/%s %.*s%s%s", folder, stamp, TEXT_ARGS(name), number,
                    SUFFIX) >= PATH_MAX) {
            FAIL(ret_problem, PROBLEM_LIMIT, "",
                    "the name of the site file is too long to keep revisions beside it");
        }
        if (!is_there(path)) {
            return outcome_good();
        }
    }
    FAIL(ret_problem, PROBLEM_LIMIT, "", "this was kept several times within a second");
}

/* With the lock held. */
static outcome keep(
        const struct revisions *revisions, struct text name, struct problem *ret_problem) {
    char folder[PATH_MAX];
    char path[PATH_MAX];
    struct arena arena;
    struct text content = {0};
    struct revision *others = NULL;
    size_t count = 0;
    TRY(check_name(name, ret_problem));
    TRY(find_folder(revisions, folder, ret_problem));
    arena_init(&arena, host_pages(), 0);
    outcome done = host_read_file(revisions->path, 0, &arena, &content, ret_problem);
    if (done.good) {
        done = list(revisions, &arena, &others, &count, ret_problem);
    }
    if (done.good && count == REVISIONS_MOST) {
        done = problem_set(ret_problem, PROBLEM_LIMIT, "", __FILE__, __LINE__,
                "there are %d revisions: move some of %s elsewhere", REVISIONS_MOST, folder);
    }
    if (done.good && mkdir(folder, FOLDER_MODE) != 0 && errno != EEXIST) {
        done = problem_set(ret_problem, PROBLEM_SYSTEM, "", __FILE__, __LINE__, "%s: %s", folder,
                strerror(errno));
    }
    if (done.good) {
        done = name_file(folder, name, path, ret_problem);
    }
    if (done.good) {
        done = host_write_new_file(path, content, ret_problem);
    }
    arena_finish(&arena);
    return done;
}

outcome revisions_keep(struct revisions *revisions, struct text name, struct problem *ret_problem) {
    pthread_mutex_lock(&revisions->lock);
    const outcome done = keep(revisions, trimmed(name), ret_problem);
    pthread_mutex_unlock(&revisions->lock);
    return done;
}

void revisions_begin(struct revisions *revisions, const char *name) {
    char folder[PATH_MAX];
    struct problem problem = {0};
    pthread_mutex_lock(&revisions->lock);
    if (!revisions->begun && find_folder(revisions, folder, &problem).good) {
        revisions->begun = is_there(folder) || keep(revisions, text_of(name), &problem).good;
    }
    pthread_mutex_unlock(&revisions->lock);
}

outcome revisions_read(struct revisions *revisions, struct text id, struct arena *arena,
        struct text *ret_text, struct problem *ret_problem) {
    char folder[PATH_MAX];
    char path[PATH_MAX];
    struct revision *known = NULL;
    size_t count = 0;
    bool found = false;
    TRY(revisions_list(revisions, arena, &known, &count, ret_problem));
    for (size_t i = 0; i < count && !found; i++) {
        found = text_equal(known[i].id, id);
    }
    if (!found) {
        FAIL(ret_problem, PROBLEM_MISSING, "", "there is no such revision");
    }
    TRY(find_folder(revisions, folder, ret_problem));
    if (snprintf(path, sizeof path, "%s/%.*s", folder, TEXT_ARGS(id)) >= (int)sizeof path) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "the name of the site file is too long");
    }
    return host_read_file(path, 0, arena, ret_text, ret_problem);
}
