#include "web/sites.h"

#include "host/host.h"

#include <dirent.h>
#include <limits.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static const char ending[] = ".yaml";
enum { ENDING_LENGTH = sizeof ending - 1, ENTRIES_MOST = 5000 };

struct sites {
    const char *path;
    const char *archive;
    bool is_folder;
    struct document_search search;
    pthread_mutex_t lock; /* of what follows */
    struct seat *seats;
    size_t seat_count;
    bool stopping;
};

void sites_use_archive(struct sites *sites, const char *path) {
    sites->archive = path;
}

const char *sites_archive(const struct sites *sites) {
    return sites->archive;
}

const char *sites_folder(const struct sites *sites) {
    return sites->is_folder ? sites->path : NULL;
}

const struct document_search *sites_search(const struct sites *sites) {
    return &sites->search;
}

/* ---- what is a site file ---------------------------------------------------------------------------------------- */

/** No way out of the folder, nothing hidden, and an ending that says what it is. */
static bool is_name(struct text name) {
    if (name.length <= ENDING_LENGTH || name.length > SITES_NAME_MOST || name.start[0] == '.' ||
            memcmp(name.start + name.length - ENDING_LENGTH, ending, ENDING_LENGTH) != 0) {
        return false;
    }
    for (size_t i = 0; i < name.length; i++) {
        if (name.start[i] == '/' || name.start[i] == '\0') {
            return false;
        }
    }
    return true;
}

static bool begins_key(char before) {
    return before == '\n' || before == '{' || before == ' ' || before == ',' || before == '"';
}

bool sites_is_site(struct text content) {
    static const char word[] = "site";
    const size_t length = sizeof word - 1;
    for (size_t i = 0; i + length < content.length; i++) {
        const char after = content.start[i + length];
        const char next = i + length + 1 < content.length ? content.start[i + length + 1] : '\0';
        if (memcmp(content.start + i, word, length) == 0 &&
                (i == 0 || begins_key(content.start[i - 1])) &&
                (after == ':' || (after == '"' && next == ':'))) {
            return true;
        }
    }
    return false;
}

static bool path_of(const struct sites *sites, struct text name, char path[PATH_MAX]) {
    return snprintf(path, PATH_MAX, "%s/%.*s", sites->path, TEXT_ARGS(name)) < PATH_MAX;
}

static bool holds_site(const struct sites *sites, struct text name) {
    char path[PATH_MAX];
    struct arena arena;
    struct stat status;
    struct text content = {0};
    if (!is_name(name) || !path_of(sites, name, path) || stat(path, &status) != 0 ||
            !S_ISREG(status.st_mode)) {
        return false;
    }
    arena_init(&arena, host_pages(), 0);
    const bool is = host_read_file(path, 0, &arena, &content, NULL).good && sites_is_site(content);
    arena_finish(&arena);
    return is;
}

static int compare(const void *a, const void *b) {
    return strcmp(((const struct text *)a)->start, ((const struct text *)b)->start);
}

outcome sites_list(const struct sites *sites, struct arena *arena, struct text **ret_names,
        size_t *ret_count, struct problem *ret_problem) {
    struct text *names = ARENA_ARRAY(arena, struct text, SITES_MOST);
    DIR *folder = opendir(sites->path);
    size_t count = 0;
    if (folder == NULL || names == NULL) {
        if (folder != NULL) {
            (void)closedir(folder);
        }
        FAIL(ret_problem, PROBLEM_SYSTEM, "", "the folder cannot be read");
    }
    const struct dirent *entry = readdir(folder);
    for (size_t i = 0; entry != NULL && i < ENTRIES_MOST && count < SITES_MOST; i++) {
        if (holds_site(sites, text_of(entry->d_name))) {
            names[count] = text_copy(arena, text_of(entry->d_name));
            count += names[count].start != NULL;
        }
        entry = readdir(folder);
    }
    (void)closedir(folder);
    qsort(names, count, sizeof names[0], compare);
    *ret_names = names;
    *ret_count = count;
    return outcome_good();
}

/* ---- new files -------------------------------------------------------------------------------------------------- */

/** "The Old Mill, 3" becomes "the-old-mill-3": letters and digits of ASCII, one dash for all else between them. */
static size_t plain_name(struct text wanted, char *ret_name, size_t most) {
    size_t length = 0;
    for (size_t i = 0; i < wanted.length && length < most; i++) {
        const char byte = wanted.start[i];
        const bool upper = byte >= 'A' && byte <= 'Z';
        const bool plain = upper || (byte >= 'a' && byte <= 'z') || (byte >= '0' && byte <= '9');
        if (plain) {
            ret_name[length++] = (char)(upper ? byte - 'A' + 'a' : byte);
        } else if (length > 0 && ret_name[length - 1] != '-') {
            ret_name[length++] = '-';
        }
    }
    while (length > 0 && ret_name[length - 1] == '-') {
        length--;
    }
    return length;
}

static bool is_there(const char *path) {
    struct stat status;
    return lstat(path, &status) == 0;
}

outcome sites_add(struct sites *sites, struct text wanted, struct text content, char *ret_name,
        struct problem *ret_problem) {
    enum { PLAIN_MOST = 60, TRIES = 1000 };
    char plain[PLAIN_MOST];
    if (wanted.length > ENDING_LENGTH &&
            memcmp(wanted.start + wanted.length - ENDING_LENGTH, ending, ENDING_LENGTH) == 0) {
        wanted.length -= ENDING_LENGTH;
    }
    struct text name = {plain, plain_name(wanted, plain, sizeof plain)};
    if (name.length == 0) {
        name = text_of("site");
    }
    for (int i = 1; i <= TRIES; i++) {
        char path[PATH_MAX];
        char number[12] = "";
        if (i > 1) {
            (void)snprintf(number, sizeof number, "-%d", i);
        }
        (void)snprintf(ret_name, SITES_NAME_MOST + 1, "%.*s%s%s", TEXT_ARGS(name), number, ending);
        if (!path_of(sites, text_of(ret_name), path)) {
            FAIL(ret_problem, PROBLEM_LIMIT, "", "the folder's name is too long");
        }
        if (!is_there(path)) {
            return host_write_new_file(path, content, ret_problem);
        }
    }
    FAIL(ret_problem, PROBLEM_LIMIT, "", "there are %d files of this name already", TRIES);
}

/* ---- seats ------------------------------------------------------------------------------------------------------ */

static outcome open_seat(struct sites *sites, const char *path, struct seat **ret_seat,
        struct problem *ret_problem) {
    const size_t length = strlen(path);
    const char *slash = strrchr(path, '/');
    const size_t folder_length = slash == NULL ? 0 : (size_t)(slash - path) + 1;
    struct seat *seat = calloc(1, sizeof *seat + length + 1 + folder_length + 2);
    if (seat == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "there is no memory left to open the bench");
    }
    memcpy(seat->path, path, length + 1);
    memcpy(seat->path + length + 1, folder_length == 0 ? "." : path,
            folder_length == 0 ? 1 : folder_length);
    seat->folder = seat->path + length + 1;
    const outcome done = bench_open(seat->path, sites->search.data, &seat->bench, ret_problem);
    if (!done.good) {
        free(seat);
        return done;
    }
    keyed_init(&seat->keyed, seat->path);
    revisions_init(&seat->revisions, seat->path);
    seat->next = sites->seats;
    sites->seats = seat;
    sites->seat_count++;
    *ret_seat = seat;
    return outcome_good();
}

struct seat *sites_only(const struct sites *sites) {
    return sites->seats;
}

static struct seat *find_seat(const struct sites *sites, const char *path) {
    struct seat *seat = sites->seats;
    while (seat != NULL && strcmp(seat->path, path) != 0) {
        seat = seat->next;
    }
    return seat;
}

static outcome find_or_open(struct sites *sites, struct text name, const char *path,
        struct seat **ret_seat, struct problem *ret_problem) {
    *ret_seat = find_seat(sites, path);
    if (*ret_seat != NULL) {
        return outcome_good();
    }
    if (sites->stopping || !holds_site(sites, name)) {
        FAIL(ret_problem, PROBLEM_MISSING, "", "there is no such site here");
    }
    if (sites->seat_count == SITES_OPEN_MOST) {
        FAIL(ret_problem, PROBLEM_LIMIT, "",
                "%d sites are open, which is the most; start lintel serve again", SITES_OPEN_MOST);
    }
    return open_seat(sites, path, ret_seat, ret_problem);
}

outcome sites_seat(struct sites *sites, struct text name, struct seat **ret_seat,
        struct problem *ret_problem) {
    char path[PATH_MAX];
    if (!sites->is_folder || !is_name(name) || !path_of(sites, name, path)) {
        FAIL(ret_problem, PROBLEM_MISSING, "", "there is no such site here");
    }
    pthread_mutex_lock(&sites->lock);
    const outcome done = find_or_open(sites, name, path, ret_seat, ret_problem);
    pthread_mutex_unlock(&sites->lock);
    return done;
}

/* ---- life ------------------------------------------------------------------------------------------------------- */

outcome sites_open(
        const char *path, const char *data, struct sites **ret_sites, struct problem *ret_problem) {
    struct stat status;
    struct seat *only = NULL;
    if (stat(path, &status) != 0) {
        FAIL(ret_problem, PROBLEM_MISSING, "", "there is no file or folder %s", path);
    }
    struct sites *sites = calloc(1, sizeof *sites);
    if (sites == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "there is no memory left to open the bench");
    }
    sites->path = path;
    sites->is_folder = S_ISDIR(status.st_mode);
    sites->search =
            (struct document_search){.beside = sites->is_folder ? path : NULL, .data = data};
    pthread_mutex_init(&sites->lock, NULL);
    const outcome done =
            sites->is_folder ? outcome_good() : open_seat(sites, path, &only, ret_problem);
    if (!done.good) {
        sites_close(sites);
        return done;
    }
    *ret_sites = sites;
    return done;
}

void sites_stop(struct sites *sites) {
    pthread_mutex_lock(&sites->lock);
    sites->stopping = true;
    for (struct seat *seat = sites->seats; seat != NULL; seat = seat->next) {
        bench_stop(seat->bench);
    }
    pthread_mutex_unlock(&sites->lock);
}

bool sites_stopping(struct sites *sites) {
    pthread_mutex_lock(&sites->lock);
    const bool stopping = sites->stopping;
    pthread_mutex_unlock(&sites->lock);
    return stopping;
}

void sites_close(struct sites *sites) {
    while (sites->seats != NULL) {
        struct seat *seat = sites->seats;
        sites->seats = seat->next;
        bench_close(seat->bench);
        keyed_finish(&seat->keyed);
        revisions_finish(&seat->revisions);
        free(seat);
    }
    pthread_mutex_destroy(&sites->lock);
    free(sites);
}
