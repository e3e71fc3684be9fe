/* What lies where profiles are looked for: names to choose from, and samples. */
#include "document/reader.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

enum { ENTRIES_MAX = 1000, NAMES_MAX = 256 };

/* The names found so far, each once. */
struct shelf {
    struct arena *arena;
    struct text *names;
    size_t count;
    bool refused;
};

static bool is_on(const struct shelf *shelf, struct text name) {
    for (size_t i = 0; i < shelf->count; i++) {
        if (text_equal(shelf->names[i], name)) {
            return true;
        }
    }
    return false;
}

static void put(struct shelf *shelf, struct text name) {
    static const char end[] = ".yaml";
    const size_t length = sizeof end - 1;
    if (name.length <= length || memcmp(name.start + name.length - length, end, length) != 0) {
        return;
    }
    name.length -= length;
    if (name.start[0] == '.' || is_on(shelf, name) || shelf->count == NAMES_MAX) {
        return;
    }
    shelf->names[shelf->count] = text_copy(shelf->arena, name);
    shelf->refused = shelf->refused || shelf->names[shelf->count].start == NULL;
    shelf->count++;
}

static void look_into(struct shelf *shelf, const char *folder) {
    DIR *entries = opendir(folder);
    if (entries == NULL) {
        return;
    }
    const struct dirent *entry = readdir(entries);
    for (size_t i = 0; entry != NULL && i < ENTRIES_MAX; i++, entry = readdir(entries)) {
        put(shelf, text_of(entry->d_name));
    }
    (void)closedir(entries);
}

/* Copies are NUL-terminated. */
static int compare(const void *a, const void *b) {
    return strcmp(((const struct text *)a)->start, ((const struct text *)b)->start);
}

outcome document_list(const struct document_search *search, const char *sort, struct arena *arena,
        const struct text **ret_names, size_t *ret_count, struct problem *ret_problem) {
    struct shelf shelf = {.arena = arena, .names = ARENA_ARRAY(arena, struct text, NAMES_MAX)};
    if (shelf.names == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "there is no memory left for a list of names");
    }
    for (size_t place = 0; place < 1 + INCLUDE_ROOTS; place++) {
        char buffer[PATH_MAX];
        char folder[PATH_MAX];
        const char *root = place == 0 ? search->beside : include_root(search, place - 1, buffer);
        if (root != NULL &&
                snprintf(folder, sizeof folder, "%s/%s", root, sort) < (int)sizeof folder) {
            look_into(&shelf, folder);
        }
    }
    if (shelf.refused) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "there is no memory left for a list of names");
    }
    qsort(shelf.names, shelf.count, sizeof shelf.names[0], compare);
    *ret_names = shelf.names;
    *ret_count = shelf.count;
    return outcome_good();
}

bool document_find(const struct document_search *search, const char *sort, struct text name,
        char ret_path[PATH_MAX]) {
    for (size_t place = 0; place < INCLUDE_ROOTS; place++) {
        char buffer[PATH_MAX];
        struct stat about;
        const char *root = include_root(search, place, buffer);
        if (root != NULL &&
                snprintf(ret_path, PATH_MAX, "%s/%s/%.*s.yaml", root, sort, TEXT_ARGS(name)) <
                        PATH_MAX &&
                stat(ret_path, &about) == 0) {
            return true;
        }
    }
    return false;
}
