/* Profiles: files of their own that a site file names. They must lie where they are looked for. */
#include "document/reader.h"

#include "host/host.h"

#include <dirent.h>
#include <errno.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#ifndef LINTEL_DATA_DIR
#error "the build says where data/ is installed"
#endif

enum { PLACES = 1 + INCLUDE_ROOTS, NAME_BYTES_MAX = 60 };

static void tell_file(struct reader *reader, const struct document_file *file,
        const struct node *node, enum problem_kind kind, const char *what) {
    if (node != NULL) {
        reader_tell(reader, kind, node, "%s", what);
    } else {
        gather_add(&reader->gatherer, kind, file, 0, 0, "", "%s", what);
    }
}

bool include_file(struct reader *reader, const struct document_file *named, const struct node *node,
        const char *path, struct text *ret_text) {
    struct stat about;
    struct problem problem = {0};
    const bool standard_input = strcmp(path, "-") == 0;
    char what[sizeof problem.text];
    const char *prefix =
            node == NULL ? "" : path; /* a site file's name stands before its problem anyway */
    if (!standard_input && stat(path, &about) != 0) {
        const int error = errno;
        (void)snprintf(what, sizeof what, "%s%s%s", prefix, prefix[0] == '\0' ? "" : ": ",
                error == ENOENT ? "there is no such file" : strerror(error));
        tell_file(reader, named, node, error == ENOENT ? PROBLEM_MISSING : PROBLEM_SYSTEM, what);
        return false;
    }
    if (!standard_input && !S_ISREG(about.st_mode)) {
        (void)snprintf(what, sizeof what,
                "%s%sis %s, not a file; name a file, or write - to read standard input", prefix,
                prefix[0] == '\0' ? "this " : " ",
                S_ISDIR(about.st_mode) ? "a folder" : "a pipe or a device");
        tell_file(reader, named, node, PROBLEM_SYSTEM, what);
        return false;
    }
    if (!standard_input && about.st_size > DOCUMENT_BYTES_MAX) {
        (void)snprintf(what, sizeof what, "%s%s%lld bytes; at most 4 MiB (%d bytes) are read",
                prefix, prefix[0] == '\0' ? "" : " has ", (long long)about.st_size,
                (int)DOCUMENT_BYTES_MAX);
        tell_file(reader, named, node, PROBLEM_LIMIT, what);
        return false;
    }
    if (!host_read_file(path, DOCUMENT_BYTES_MAX, &reader->document->arena, ret_text, &problem)
                    .good) {
        reader->gatherer.refused = reader->gatherer.refused || problem.kind == PROBLEM_MEMORY;
        tell_file(reader, named, node, problem.kind, problem.text);
        return false;
    }
    return true;
}

/* Whether the file, all links followed, lies below the folder. */
static bool is_inside(const char *folder, const char *path) {
    char real_folder[PATH_MAX];
    char real_path[PATH_MAX];
    if (realpath(folder, real_folder) == NULL || realpath(path, real_path) == NULL) {
        return false;
    }
    const size_t length = strlen(real_folder);
    return strncmp(real_folder, real_path, length) == 0 &&
            (real_path[length] == '/' || (length > 0 && real_folder[length - 1] == '/'));
}

static bool is_same(const char *path, const char *other) {
    struct stat a;
    struct stat b;
    return stat(path, &a) == 0 && stat(other, &b) == 0 && a.st_dev == b.st_dev &&
            a.st_ino == b.st_ino;
}

bool include_is_site_file(const struct reader *reader, const char *path) {
    return is_same(path, reader->document->file.name.start);
}

static bool ends_with(struct text text, const char *end) {
    const size_t length = strlen(end);
    return text.length >= length && memcmp(text.start + text.length - length, end, length) == 0;
}

static bool is_path(struct text text) {
    return memchr(text.start, '/', text.length) != NULL || ends_with(text, ".yaml") ||
            ends_with(text, ".yml") || ends_with(text, ".json");
}

static bool is_plain_name(struct text text) {
    for (size_t i = 0; i < text.length; i++) {
        const char byte = text.start[i];
        const bool letter = (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z');
        if (!letter && !(byte >= '0' && byte <= '9') && byte != '-' && byte != '_') {
            return false;
        }
    }
    return text.length > 0 && text.length <= NAME_BYTES_MAX;
}

/* share/lintel beside the folder of the program: so it is when installed anywhere, and the build makes it so. False:
 * the system does not say. */
static bool beside_program(char folder[PATH_MAX]) {
    static const char tail[] = "/../share/lintel";
    const ssize_t length = readlink("/proc/self/exe", folder, PATH_MAX - sizeof tail);
    if (length <= 0) {
        return false;
    }
    folder[length] = '\0';
    char *slash = strrchr(folder, '/');
    if (slash == NULL) {
        return false;
    }
    memcpy(slash, tail, sizeof tail);
    return true;
}

const char *include_root(
        const struct document_search *search, size_t place, char buffer[PATH_MAX]) {
    if (place == 0) {
        return search == NULL || search->data == NULL || search->data[0] == '\0' ? NULL
                                                                                 : search->data;
    }
    if (place == 1) {
        return beside_program(buffer) ? buffer : NULL;
    }
    return LINTEL_DATA_DIR;
}

/* The folders that hold panels/ and devices/, in the order of looking; NULL: there is none at this place. */
static const char *place_at(const struct reader *reader, size_t place, char buffer[PATH_MAX]) {
    const struct text folder = reader->document->file.folder;
    if (place == 0) {
        return folder.length == 0 ? NULL : folder.start;
    }
    return include_root(reader->search, place - 1, buffer);
}

/* Names of what there is, in the order of the alphabet, each once. */
enum { NAMES_MAX = 64 };
struct names {
    struct text list[NAMES_MAX];
    size_t count;
};

static int order_of(struct text a, struct text b) {
    const size_t length = a.length < b.length ? a.length : b.length;
    const int order = memcmp(a.start, b.start, length);
    return order != 0 ? order : (a.length > b.length) - (a.length < b.length);
}

static void add_name(struct names *names, struct text name) {
    size_t at = names->count;
    while (at > 0 && order_of(names->list[at - 1], name) >= 0) {
        if (text_equal(names->list[--at], name)) {
            return;
        }
    }
    if (names->count == NAMES_MAX || name.start == NULL) {
        return;
    }
    for (size_t i = names->count++; i > at; i--) {
        names->list[i] = names->list[i - 1];
    }
    names->list[at] = name;
}

static void offer_folder(const char *folder, struct arena *arena, struct gather_nearest *nearest,
        struct names *names) {
    enum { ENTRIES_MAX = 1000 };
    DIR *entries = opendir(folder);
    if (entries == NULL) {
        return;
    }
    const struct dirent *entry = readdir(entries);
    for (size_t i = 0; entry != NULL && i < ENTRIES_MAX; i++, entry = readdir(entries)) {
        struct text name = text_of(entry->d_name);
        if (ends_with(name, ".yaml")) {
            name.length -= strlen(".yaml");
            name = text_copy(arena, name);
            add_name(names, name);
            gather_offer(nearest, name);
        }
    }
    (void)closedir(entries);
}

static void tell_no_profile(struct reader *reader, const struct node *node, const char *sort) {
    char quoted[GATHER_QUOTE_MAX * 4];
    char hint[GATHER_QUOTE_MAX * 4 + 32];
    char folder[PATH_MAX];
    struct gather_nearest nearest = {.wanted = node->text};
    struct names names = {.count = 0};
    struct text_builder known;
    for (size_t place = 0; place < PLACES; place++) {
        char buffer[PATH_MAX];
        const char *root = place_at(reader, place, buffer);
        if (root != NULL &&
                snprintf(folder, sizeof folder, "%s/%s", root, sort) < (int)sizeof folder) {
            offer_folder(folder, &reader->document->arena, &nearest, &names);
        }
    }
    text_builder_init(&known, &reader->document->arena);
    for (size_t i = 0; nearest.best.length == 0 && i < names.count; i++) {
        text_add_format(&known, "%s%.*s", i == 0 ? "; there are " : ", ", TEXT_ARGS(names.list[i]));
    }
    const struct text there_are = text_built(&known);
    reader_tell(reader, PROBLEM_MISSING, node,
            "there is no %s %s in %s/ beside this file, in $LINTEL_DATA or among those "
            "installed%s%.*s",
            strcmp(sort, "rules") == 0               ? "rule set"
                    : strcmp(sort, "materials") == 0 ? "table of materials"
                                                     : "profile",
            gather_quote(node->text, quoted), sort, gather_hint(&nearest, hint),
            TEXT_ARGS(there_are));
}

bool include_path(
        struct reader *reader, const struct node *node, bool *ret_missing, char path[PATH_MAX]) {
    const char *folder = place_at(reader, 0, path);
    char quoted[GATHER_QUOTE_MAX * 4];
    const struct text name = node->text;
    if (folder == NULL) {
        reader_tell(reader, PROBLEM_MISSING, node,
                "a path cannot be followed here, as this text has no folder");
        return false;
    }
    if (name.start[0] == '/' || memchr(name.start, '\0', name.length) != NULL ||
            snprintf(path, PATH_MAX, "%s/%.*s", folder, TEXT_ARGS(name)) >= PATH_MAX) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node, "%s is not a path from this file's folder on",
                gather_quote(name, quoted));
        return false;
    }
    struct stat about;
    if (stat(path, &about) != 0) {
        if (ret_missing != NULL && (errno == ENOENT || errno == ENOTDIR)) {
            *ret_missing = true;
            return false;
        }
        reader_tell(reader, PROBLEM_MISSING, node, "%s: %s", gather_quote(name, quoted),
                strerror(errno));
        return false;
    }
    if (!is_inside(folder, path)) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node,
                "%s lies outside this file's folder; copy it beside this file and name it from "
                "there",
                gather_quote(name, quoted));
        return false;
    }
    return true;
}

static bool find_by_name(
        struct reader *reader, const struct node *node, const char *sort, char path[PATH_MAX]) {
    char quoted[GATHER_QUOTE_MAX * 4];
    if (!is_plain_name(node->text)) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node,
                "%s is not a profile's name; letters, digits and dashes are, or a path that ends "
                "in .yaml",
                gather_quote(node->text, quoted));
        return false;
    }
    for (size_t place = 0; place < PLACES; place++) {
        char buffer[PATH_MAX];
        const char *root = place_at(reader, place, buffer);
        struct stat about;
        if (root == NULL ||
                snprintf(path, PATH_MAX, "%s/%s/%.*s.yaml", root, sort, TEXT_ARGS(node->text)) >=
                        PATH_MAX ||
                stat(path, &about) != 0) {
            continue;
        }
        if (is_inside(root, path)) {
            return true;
        }
        reader_tell(reader, PROBLEM_BAD_VALUE, node, "%s leads outside %s; copy the profile there",
                path, root);
        return false;
    }
    tell_no_profile(reader, node, sort);
    return false;
}

/* What a device profile's keys say together. */
static void settle_device_profile(struct reader *reader, const struct node *root, void *read) {
    struct site_device_profile *profile = read;
    const struct node *senses = node_child(root, "senses");
    const bool several = profile->input_count > 0;
    if (root->kind != NODE_MAP) {
        return;
    }
    if (senses == NULL && !several && profile->kind == SITE_SENSOR) {
        reader_tell(reader, PROBLEM_MISSING, root,
                "the key \"senses\" is missing: what the device senses, such as contact");
    } else if (senses == NULL && !several) {
        profile->sense = SITE_BUTTON;
    } else if (senses == NULL) {
        profile->sense = profile->inputs[0].sense;
    } else if (several && profile->inputs[0].sense != profile->sense) {
        reader_tell(reader, PROBLEM_BAD_VALUE, senses,
                "senses says %s, the first of inputs %s; both are the first input",
                site_sense_name(profile->sense), site_sense_name(profile->inputs[0].sense));
    }
    if (!several) {
        profile->inputs[0] = (struct site_input){.sense = profile->sense};
        profile->input_count = 1;
    }
}

/* What a panel profile's keys say together: no number is higher than the highest. */
static void settle_panel_profile(struct reader *reader, const struct node *root, void *read) {
    const struct site_panel_profile *profile = read;
    const struct {
        const char *key;
        const struct site_numbers *numbers;
    } sets[] = {
            {"numbers", &profile->numbers}, {"wired", &profile->wired}, {"radio", &profile->radio}};
    for (size_t i = 0; i < sizeof sets / sizeof sets[0]; i++) {
        int32_t highest = SITE_NUMBER_MAX;
        while (highest > profile->zone_most && !site_numbers_has(sets[i].numbers, highest)) {
            highest--;
        }
        if (profile->zone_most > 0 && highest > profile->zone_most) {
            const size_t before = reader_enter(reader, sets[i].key);
            reader_tell(reader, PROBLEM_BAD_VALUE, node_child(root, sets[i].key),
                    "%d is above zones: %d; zones is the highest number, not how many there are",
                    highest, profile->zone_most);
            reader_leave(reader, before);
        }
    }
}

/* The tree of the file that the node names; NULL: there is none to read (told). */
static const struct node *include_tree(
        struct reader *reader, const struct node *node, const char *sort) {
    char path[PATH_MAX];
    if (!value_is_text(reader, node, "the name of a profile")) {
        return NULL;
    }
    if (!(is_path(node->text) ? include_path(reader, node, NULL, path)
                              : find_by_name(reader, node, sort, path))) {
        return NULL;
    }
    if (include_is_site_file(reader, path)) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node,
                "this is the site file itself; a profile is a file of its own");
        return NULL;
    }
    struct document_file *file = ARENA_NEW(&reader->document->arena, struct document_file);
    if (file == NULL) {
        reader->gatherer.refused = true;
        return NULL;
    }
    file->name = text_copy(&reader->document->arena, text_of(path));
    reader->gatherer.refused = reader->gatherer.refused || file->name.start == NULL;
    if (reader->gatherer.refused || !include_file(reader, file, node, path, &file->text)) {
        return NULL;
    }
    file->root = node_read(&reader->gatherer, file);
    return file->root;
}

/* What the keys of one file say together, once each has been read. */
typedef void settle_function(struct reader *reader, const struct node *root, void *read);

/* Reads the profile that the node names. settle: NULL, there is nothing to settle. False: there is none to read
 * (told). */
static bool include_profile(struct reader *reader, const struct node *node, const char *sort,
        const struct key_table *table, settle_function *settle, void *profile) {
    const struct node *root = include_tree(reader, node, sort);
    if (root != NULL) {
        char before[sizeof reader->path];
        const size_t before_length = reader->path_length;
        memcpy(before, reader->path, sizeof before);
        reader_leave(reader, 0);
        reader_walk(reader, table, root, profile);
        if (settle != NULL) {
            settle(reader, root, profile);
        }
        memcpy(reader->path, before, sizeof before);
        reader->path_length = before_length;
    }
    return root != NULL || !reader->gatherer.refused;
}

bool include_panel(
        struct reader *reader, const struct node *node, struct site_panel_profile *ret_profile) {
    struct site_panel_profile profile = {0};
    reader->document->panel_profile = node->text;
    if (!include_profile(
                reader, node, "panels", &key_panel_profile_table, settle_panel_profile, &profile)) {
        return false;
    }
    *ret_profile = profile;
    return true;
}

bool include_standard(struct reader *reader, const struct node *node, struct text *ret_name) {
    char before[sizeof reader->path];
    const size_t before_length = reader->path_length;
    const struct node *root = include_tree(reader, node, "standards");
    reader->document->standard_name = node->text;
    if (root == NULL) {
        return false;
    }
    memcpy(before, reader->path, sizeof before);
    reader_leave(reader, 0);
    const bool good = standard_read(reader, root, ret_name);
    memcpy(reader->path, before, sizeof before);
    reader->path_length = before_length;
    reader->document->standard = good ? root : NULL;
    return good;
}

static bool make_room(struct reader *reader) {
    struct document *document = reader->document;
    if (document->device_profile_names != NULL) {
        return true;
    }
    const struct node *devices = node_child(document->file.root, "devices");
    const size_t most = devices == NULL ? 0 : devices->count;
    document->site.device_profiles =
            ARENA_ARRAY(&document->arena, struct site_device_profile, most);
    document->device_profile_names = ARENA_ARRAY(&document->arena, struct text, most);
    if (document->site.device_profiles == NULL || document->device_profile_names == NULL) {
        document->device_profile_names = NULL;
        reader->gatherer.refused = true;
        return false;
    }
    return true;
}

bool include_device(struct reader *reader, const struct node *node, int *ret_index) {
    struct document *document = reader->document;
    *ret_index = SITE_NONE;
    if (!make_room(reader)) {
        return false;
    }
    for (size_t i = 0; i < document->site.device_profile_count; i++) {
        if (node->kind == NODE_TEXT && text_equal(document->device_profile_names[i], node->text)) {
            *ret_index = (int)i;
            return true;
        }
    }
    struct site_device_profile profile = {0};
    if (!include_profile(reader, node, "devices", &key_device_profile_table, settle_device_profile,
                &profile)) {
        return false;
    }
    const size_t index = document->site.device_profile_count++;
    document->site.device_profiles[index] = profile;
    document->device_profile_names[index] = node->text;
    *ret_index = (int)index;
    return true;
}

bool include_materials(
        struct reader *reader, const struct node *node, struct site_materials *ret_materials) {
    struct site_materials materials = {0};
    reader->document->materials_name = node->text;
    if (!include_profile(reader, node, "materials", &key_materials_table, NULL, &materials)) {
        return false;
    }
    *ret_materials = materials;
    return true;
}

bool include_rule_set(
        struct reader *reader, const struct node *node, struct site_rule_set *ret_set) {
    struct site_rule_set set = {0};
    if (!include_profile(reader, node, "rules", &key_rule_set_table, settle_rule_set, &set)) {
        return false;
    }
    *ret_set = set;
    return true;
}
