#include "cli/several.h"

#include "check/overview.h"
#include "cli/cli.h"
#include "cli/crew.h"
#include "cli/prove.h"
#include "cli/terminal.h"
#include "host/host.h"

#include <dirent.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

enum { FILES_MOST = 100000, FOLDERS_DEEP = 16 };

/* A file to look at. named: by the user, so it counts whatever is in it. */
struct found {
    struct text path;
    bool named;
};

struct hunt {
    struct arena *arena;
    struct found *files;
    size_t count;
    size_t capacity;
    bool too_many;
};

/* What the tasks share; each writes its own site and its own skipped. */
struct job {
    const struct hunt *hunt;
    struct check_options options;
    struct overview_site *sites;
    bool *skipped;
    struct terminal_progress progress;
};

static void add_file(struct hunt *hunt, const char *path, bool named) {
    if (hunt->count == FILES_MOST) {
        hunt->too_many = true;
        return;
    }
    if (hunt->count == hunt->capacity) {
        const size_t more = hunt->capacity == 0 ? 64 : hunt->capacity * 2;
        struct found *grown = ARENA_ARRAY(hunt->arena, struct found, more);
        if (grown == NULL) {
            return;
        }
        if (hunt->count > 0) {
            memcpy(grown, hunt->files, hunt->count * sizeof *grown);
        }
        hunt->files = grown;
        hunt->capacity = more;
    }
    const struct text copy = text_copy(hunt->arena, text_of(path));
    if (copy.start != NULL) {
        hunt->files[hunt->count++] = (struct found){.path = copy, .named = named};
    }
}

static bool ends_with(const char *name, const char *end) {
    const size_t length = strlen(name);
    const size_t end_length = strlen(end);
    return length > end_length && strcmp(name + length - end_length, end) == 0;
}

static bool is_profile_folder(const char *name) {
    static const char *const names[] = {"panels", "devices", "standards", "rules"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        if (strcmp(name, names[i]) == 0) {
            return true;
        }
    }
    return false;
}

static void hunt_folder(struct hunt *hunt, const char *folder, unsigned depth) {
    DIR *entries = opendir(folder);
    if (entries == NULL) {
        add_file(hunt, folder, true); /* so that it is said why */
        return;
    }
    for (const struct dirent *entry = readdir(entries); entry != NULL && !hunt->too_many;
            entry = readdir(entries)) {
        const char *name = entry->d_name;
        const bool slashed = ends_with(folder, "/") || strcmp(folder, "/") == 0;
        const struct text path =
                text_print(hunt->arena, "%s%s%s", folder, slashed ? "" : "/", name);
        struct stat about;
        if (name[0] == '.' || path.start == NULL || lstat(path.start, &about) != 0) {
            continue;
        }
        if (S_ISDIR(about.st_mode)) {
            if (depth < FOLDERS_DEEP && !is_profile_folder(name)) {
                hunt_folder(hunt, path.start, depth + 1);
            }
        } else if (ends_with(name, ".yaml") || ends_with(name, ".yml") ||
                ends_with(name, ".json")) {
            add_file(hunt, path.start, false);
        }
    }
    (void)closedir(entries);
}

bool several_is_folder(const char *path) {
    struct stat about;
    return stat(path, &about) == 0 && S_ISDIR(about.st_mode);
}

/* Whether a file says that it is a site: a line that begins with `site:`, or "site": anywhere (JSON). */
static bool is_site(struct text text) {
    static const char plain[] = "site:";
    static const char quoted[] = "\"site\"";
    enum { PLAIN = sizeof plain - 1, QUOTED = sizeof quoted - 1 };
    for (size_t i = 0; i + PLAIN <= text.length; i++) {
        if ((i == 0 || text.start[i - 1] == '\n') && memcmp(text.start + i, plain, PLAIN) == 0) {
            return true;
        }
        if (i + QUOTED <= text.length && memcmp(text.start + i, quoted, QUOTED) == 0) {
            size_t after = i + QUOTED;
            while (after < text.length && strchr(" \t\r\n", text.start[after]) != NULL) {
                after++;
            }
            if (after < text.length && text.start[after] == ':') {
                return true;
            }
        }
    }
    return false;
}

/* ---- one site */

static struct text folder_of(struct arena *arena, struct text path) {
    size_t length = path.length;
    while (length > 0 && path.start[length - 1] != '/') {
        length--;
    }
    return length == 0 ? text_of(".")
                       : text_copy(arena, (struct text){.start = path.start, .length = length});
}

static outcome read_found(struct document *document, const struct found *file, bool *ret_skipped,
        struct problem *ret_problem) {
    const struct document_search search = {.data = getenv("LINTEL_DATA")};
    struct text bytes;
    if (file->named) {
        return document_read_file(document, file->path.start, &search, ret_problem);
    }
    TRY(host_read_file(
            file->path.start, DOCUMENT_BYTES_MAX, &document->arena, &bytes, ret_problem));
    *ret_skipped = !is_site(bytes);
    if (*ret_skipped) {
        return outcome_good();
    }
    const struct text folder = folder_of(&document->arena, file->path);
    return document_read_text(
            document, file->path.start, folder.start, bytes, &search, ret_problem);
}

/* The first thing that is wrong: "line 14: ..."; the file's name stands before it already. */
static void say_unreadable(struct overview_site *site, const struct document *document,
        const struct problem *problem, struct arena *arena) {
    site->unreadable = true;
    site->problem_count = document->problem_count;
    if (document->problem_count == 0) {
        site->problem = text_copy(arena, text_of(problem->text));
    } else if (document->problems[0].line == 0) {
        site->problem = text_copy(arena, document->problems[0].what);
    } else {
        site->problem = text_print(arena, "line %d: %.*s", document->problems[0].line,
                TEXT_ARGS(document->problems[0].what));
    }
}

static outcome check_found(
        void *context, size_t task, struct arena *arena, struct problem *ret_problem) {
    struct job *job = context;
    struct overview_site *site = &job->sites[task];
    const struct found *file = &job->hunt->files[task];
    struct document document;
    struct problem problem = {0};
    struct check_report report;
    *site = (struct overview_site){.file = file->path};
    if (terminal_was_interrupted()) {
        site->stopped = true;
        return outcome_good();
    }
    document_init(&document, host_pages());
    if (!read_found(&document, file, &job->skipped[task], &problem).good) {
        say_unreadable(site, &document, &problem, arena);
    } else if (!job->skipped[task]) {
        const bool good = prove_as_today(&document, job->options.today_day, &problem).good &&
                check_site(&document.site, &job->options, host_pages(), &document.arena, &report,
                        &problem)
                        .good;
        if (good) {
            *site = overview_of(&document.site, &report, file->path);
            site->name = text_copy(arena, site->name);
        } else {
            say_unreadable(site, &document, &problem, arena);
        }
    }
    document_finish(&document);
    if (arena->refused) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for so many sites");
    }
    return outcome_good();
}

static void watch(void *context, size_t done) {
    struct job *job = context;
    terminal_progress_show(&job->progress, "checking: %zu of %zu files done; Ctrl-C stops", done,
            job->hunt->count);
}

/* ---- all of them */

/* Leaves out what is no site; gives how many are left. */
static size_t keep_sites(struct job *job) {
    size_t kept = 0;
    for (size_t i = 0; i < job->hunt->count; i++) {
        if (!job->skipped[i]) {
            job->sites[kept++] = job->sites[i];
        }
    }
    return kept;
}

static int show_all(struct overview_site *sites, size_t count, bool json, struct arena *arena) {
    struct text_builder out;
    text_builder_init(&out, arena);
    overview_sort(sites, count);
    if (json) {
        struct json_writer writer;
        json_init(&writer, &out);
        overview_json(sites, count, &writer);
    } else {
        struct layout layout = terminal_layout(&out);
        overview_show(sites, count, &layout);
    }
    if (arena->refused) {
        const struct problem problem = {
                .kind = PROBLEM_MEMORY, .text = "no memory to print the sites"};
        return cli_refused(NULL, &problem);
    }
    return cli_print(text_built(&out), overview_worst(sites, count));
}

static outcome check_all(struct job *job, struct crew *crew, struct problem *ret_problem) {
    void *sites = NULL;
    void *skipped = NULL;
    struct arena *arena = job->hunt->arena;
    TRY(arena_get(arena, job->hunt->count, sizeof(struct overview_site), &sites, ret_problem));
    TRY(arena_get(arena, job->hunt->count, sizeof(bool), &skipped, ret_problem));
    job->sites = sites;
    job->skipped = skipped;
    terminal_catch_interrupt();
    terminal_progress_begin(&job->progress);
    const outcome done = crew_do(crew,
            &(struct crew_work){.count = job->hunt->count,
                    .do_task = check_found,
                    .watch = watch,
                    .context = job},
            ret_problem);
    terminal_progress_end(&job->progress);
    return done;
}

int several_check(char *const *paths, size_t path_count, const struct check_options *options,
        size_t jobs, bool json) {
    struct arena arena;
    struct crew crew;
    struct problem problem = {0};
    int status = CLI_UNREADABLE;
    arena_init(&arena, host_pages(), 0);
    struct hunt hunt = {.arena = &arena};
    for (size_t i = 0; i < path_count; i++) {
        if (several_is_folder(paths[i])) {
            hunt_folder(&hunt, paths[i], 0);
        } else {
            add_file(&hunt, paths[i], true);
        }
    }
    struct job job = {.hunt = &hunt, .options = *options};
    job.options.no_remedy = true;
    job.options.proof.keep_going = prove_keeps_going;
    crew_init(&crew, jobs, host_pages());
    if (arena.refused) {
        problem = (struct problem){.kind = PROBLEM_MEMORY, .text = "no memory for so many files"};
        status = cli_refused(NULL, &problem);
    } else if (hunt.too_many) {
        problem = (struct problem){
                .kind = PROBLEM_LIMIT, .text = "more than 100,000 files; name fewer folders"};
        status = cli_refused(NULL, &problem);
    } else if (!check_all(&job, &crew, &problem).good) {
        status = cli_refused(NULL, &problem);
    } else {
        const size_t count = keep_sites(&job);
        problem = (struct problem){.kind = PROBLEM_MISSING,
                .text = "no site file there: none that ends in .yaml, .yml or .json has a line "
                        "that begins with site:"};
        status = count == 0 ? cli_refused(paths[0], &problem)
                            : show_all(job.sites, count, json, &arena);
    }
    crew_finish(&crew);
    arena_finish(&arena);
    return status;
}
