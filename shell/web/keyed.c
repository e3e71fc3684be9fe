#include "web/keyed.h"

#include "host/host.h"

#include <jansson.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void keyed_init(struct keyed *keyed, const char *path) {
    keyed->path = path;
    pthread_mutex_init(&keyed->lock, NULL);
}

void keyed_finish(struct keyed *keyed) {
    pthread_mutex_destroy(&keyed->lock);
}

static bool file_name(const struct keyed *keyed, char name[PATH_MAX]) {
    return snprintf(name, PATH_MAX, "%s.keyed.json", keyed->path) < PATH_MAX;
}

/* With the lock held. A file that is not there is an empty object. */
static outcome load(const struct keyed *keyed, json_t **ret_lines, struct problem *ret_problem) {
    char name[PATH_MAX];
    struct arena arena;
    struct text content = {0};
    json_t *lines = NULL;
    if (!file_name(keyed, name)) {
        FAIL(ret_problem, PROBLEM_LIMIT, "",
                "the name of the site file is too long to keep a list beside it");
    }
    arena_init(&arena, host_pages(), 0);
    const outcome read = host_read_file(name, 0, &arena, &content, ret_problem);
    if (read.good) {
        lines = json_loadb(content.start, content.length, JSON_REJECT_DUPLICATES, NULL);
    } else if (ret_problem->kind == PROBLEM_MISSING) {
        lines = json_object();
    }
    arena_finish(&arena);
    if (!read.good && lines == NULL) {
        return read;
    }
    if (!json_is_object(lines)) {
        json_decref(lines);
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "",
                "%s is no list of what was keyed in: mend it or move it away", name);
    }
    *ret_lines = lines;
    return outcome_good();
}

static outcome save(const struct keyed *keyed, const json_t *lines, struct problem *ret_problem) {
    char name[PATH_MAX];
    char *text = json_dumps(lines, JSON_INDENT(1) | JSON_SORT_KEYS);
    if (text == NULL || !file_name(keyed, name)) {
        free(text);
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to note what was keyed in");
    }
    const outcome done = host_write_file(name, (struct text){text, strlen(text)}, ret_problem);
    free(text);
    return done;
}

char *keyed_read(struct keyed *keyed, struct problem *ret_problem) {
    json_t *lines = NULL;
    pthread_mutex_lock(&keyed->lock);
    const bool good = load(keyed, &lines, ret_problem).good;
    pthread_mutex_unlock(&keyed->lock);
    char *text = good ? json_dumps(lines, JSON_COMPACT | JSON_SORT_KEYS) : NULL;
    json_decref(lines);
    return text;
}

static bool is_note(const char *line, const json_t *value) {
    return strlen(line) <= KEYED_TEXT_MOST &&
            (json_is_null(value) ||
                    (json_is_string(value) && json_string_length(value) <= KEYED_TEXT_MOST));
}

/* Makes the changes in the lines; false: one of them is none. */
static bool change(json_t *lines, json_t *changes) {
    const char *line = NULL;
    json_t *value = NULL;
    if (!json_is_object(changes)) {
        return false;
    }
    json_object_foreach(changes, line, value) {
        if (!is_note(line, value)) {
            return false;
        }
        if (json_is_null(value)) {
            (void)json_object_del(lines, line);
        } else if (json_object_set(lines, line, value) != 0) {
            return false;
        }
    }
    return true;
}

static outcome note(
        const struct keyed *keyed, json_t *lines, json_t *changes, struct problem *ret_problem) {
    if (!change(lines, changes)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "this is no line of a sheet");
    }
    if (json_object_size(lines) > KEYED_LINES_MOST) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "more than %d lines would be noted as keyed in",
                KEYED_LINES_MOST);
    }
    return save(keyed, lines, ret_problem);
}

outcome keyed_note(
        struct keyed *keyed, const char *changes, size_t length, struct problem *ret_problem) {
    json_t *lines = NULL;
    json_t *wanted = json_loadb(changes, length, JSON_REJECT_DUPLICATES, NULL);
    pthread_mutex_lock(&keyed->lock);
    outcome done = load(keyed, &lines, ret_problem);
    if (done.good) {
        done = note(keyed, lines, wanted, ret_problem);
    }
    pthread_mutex_unlock(&keyed->lock);
    json_decref(lines);
    json_decref(wanted);
    return done;
}
