#include "web/overview.h"

#include "base/date.h"
#include "base/json.h"
#include "check/batteries.h"
#include "check/carried.h"
#include "check/check.h"
#include "check/show.h"
#include "check/temporary.h"
#include "check/words.h"
#include "host/host.h"

#include <limits.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/* A file and what was found of it. told: a JSON object from malloc, or NULL: nothing yet. */
struct entry {
    char name[SITES_NAME_MOST + 1];
    off_t size;
    struct timespec changed;
    int32_t day; /* on which it was checked: what falls due depends on it */
    char *told;
};

struct overview {
    struct sites *sites;
    pthread_t thread;
    pthread_mutex_t lock; /* of what follows */
    pthread_cond_t work;
    struct entry *entries[SITES_MOST];
    size_t count;
    bool wanted;
    bool stopping;
};

static bool stopping(struct overview *overview) {
    pthread_mutex_lock(&overview->lock);
    const bool stops = overview->stopping;
    pthread_mutex_unlock(&overview->lock);
    return stops;
}

/* ---- what falls due --------------------------------------------------------------------------------------------- */

/* A day and what is to be done then. says: "the waiver of ... ends". */
struct due {
    int32_t day;
    struct text says;
};

static void take_earlier(struct due *due, int32_t day, int32_t today, struct text says) {
    if (day != DATE_NONE && day >= today && (due->day == DATE_NONE || day < due->day)) {
        *due = (struct due){.day = day, .says = says};
    }
}

/** The next day, today included, on which something of the file ends or is to be changed. */
static struct due next_due(const struct site *site, int32_t today, struct arena *arena) {
    struct due due = {.day = DATE_NONE, .says = {0}};
    struct text battery = {0};
    const int32_t battery_day = batteries_next_day(site, today, arena, &battery);
    take_earlier(&due, battery_day, today, battery);
    for (size_t i = 0; i < site->waiver_count; i++) {
        const struct site_waiver *waiver = &site->waivers[i];
        take_earlier(&due, waiver->until_day, today,
                text_print(arena, "a waiver ends: %.*s", TEXT_ARGS(waiver->reason)));
    }
    for (size_t i = 0; i < site->temporary_count; i++) {
        const struct site_temporary *temporary = &site->temporaries[i];
        take_earlier(&due, temporary->lasting ? DATE_NONE : temporary->until_day, today,
                text_print(arena, "a temporary change ends: %.*s", TEXT_ARGS(temporary->why)));
    }
    for (size_t i = 0; i < site->person_count; i++) {
        const struct site_person *person = &site->people[i];
        take_earlier(&due, person->left_day, today,
                text_print(arena, "%.*s comes for the last time", TEXT_ARGS(person->name)));
    }
    return due;
}

static void add_due(const struct site *site, int32_t today, struct json_writer *json) {
    struct text_builder day;
    const struct due due = next_due(site, today, json->out->arena);
    if (due.day == DATE_NONE) {
        json_add_null(json, "due");
        return;
    }
    text_builder_init(&day, json->out->arena);
    date_add(&day, due.day);
    json_open_object(json, "due");
    json_add_text(json, "day", text_built(&day));
    json_add_text(json, "says", due.says);
    json_close_object(json);
}

/* ---- the verdict ------------------------------------------------------------------------------------------------ */

/* As much of the report as the sentence is made of (page/sentence.js). */
static void add_report(
        const struct site *site, const struct check_report *report, struct json_writer *json) {
    json_open_object(json, "report");
    json_open_array(json, "routines");
    for (size_t i = 0; i < report->answer_count; i++) {
        const struct proof_answer *answer = &report->answers[i];
        json_open_object(json, NULL);
        json_add_string(json, "verdict", words_verdict(answer->verdict));
        if (answer->verdict == PROOF_GOES_WRONG) {
            json_add_string(json, "promise", proof_promise_name(answer->promise));
        }
        json_close_object(json);
    }
    json_close_array(json);
    json_open_array(json, "break_ins");
    for (size_t i = 0; i < report->break_ins.count; i++) {
        json_open_object(json, NULL);
        json_add_string(json, "verdict", break_ins_verdict_name(report->break_ins.list[i].verdict));
        json_close_object(json);
    }
    json_close_array(json);
    json_open_array(json, "findings");
    for (size_t i = 0; i < report->finding_count; i++) {
        const struct finding *base = &report->findings[i].base;
        json_open_object(json, NULL);
        json_add_string(json, "weight", show_weight_name(base->weight));
        json_add_text(json, "id", base->id);
        if (base->answer_index == FINDING_NO_ANSWER) {
            json_add_null(json, "routine");
        } else {
            json_add_text(json, "routine", report->answers[base->answer_index].routine.name);
        }
        json_close_object(json);
    }
    json_close_array(json);
    carried_add_json(report->carried, site, json);
    json_close_object(json);
}

static bool keeps_going(void *context, size_t done, size_t waiting) {
    (void)done;
    (void)waiting;
    return !stopping(context);
}

static bool check(struct overview *overview, const struct site *site, int32_t today,
        struct arena *arena, struct check_report *ret_report) {
    struct site present;
    struct site *drawn = ARENA_NEW(arena, struct site);
    struct problem problem = {0};
    const struct check_options options = {.today_day = today,
            .no_remedy = true,
            .proof = {.keep_going = keeps_going, .keep_going_context = overview}};
    return drawn != NULL && temporary_apply(site, today, arena, &present, &problem).good &&
            break_ins_from_drawing(&present, arena, drawn, &problem).good &&
            check_site(drawn, &options, host_pages(), arena, ret_report, &problem).good;
}

static void add_site(struct overview *overview, const struct document *document, int32_t today,
        struct json_writer *json) {
    const struct site *site = &document->site;
    struct check_report report;
    json_add_text(json, "name", site->name);
    json_add_text(json, "panel", document->panel_profile);
    json_add_integer(json, "zones", (int64_t)site->zone_count);
    json_add_bool(json, "drawn", site->building.room_count > 0);
    add_due(site, today, json);
    if (check(overview, site, today, json->out->arena, &report)) {
        add_report(site, &report, json);
    } else {
        json_add_null(json, "report");
    }
}

/** One file, read and checked; from malloc, or NULL without memory. */
static char *tell(struct overview *overview, const char *name, int32_t today) {
    char path[PATH_MAX];
    struct arena arena;
    struct text_builder out;
    struct json_writer json;
    struct document document;
    struct problem problem = {0};
    char *told = NULL;
    if (snprintf(path, sizeof path, "%s/%s", sites_folder(overview->sites), name) >=
            (int)sizeof path) {
        return NULL;
    }
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    json_init(&json, &out);
    document_init(&document, host_pages());
    json_open_object(&json, NULL);
    json_add_string(&json, "file", name);
    json_add_bool(&json, "checked", true);
    const bool read =
            document_read_file(&document, path, sites_search(overview->sites), &problem).good;
    json_add_integer(&json, "problems",
            read                                 ? 0
                    : document.problem_count > 0 ? (int64_t)document.problem_count
                                                 : 1);
    if (read) {
        add_site(overview, &document, today, &json);
    }
    json_close_object(&json);
    document_finish(&document);
    if (!arena.refused) {
        told = strdup(text_built(&out).start);
    }
    arena_finish(&arena);
    return told;
}

/* ---- the thread ------------------------------------------------------------------------------------------------- */

static bool mark(const struct overview *overview, const char *name, struct entry *ret_entry) {
    char path[PATH_MAX];
    struct stat status;
    if (snprintf(path, sizeof path, "%s/%s", sites_folder(overview->sites), name) >=
                    (int)sizeof path ||
            stat(path, &status) != 0) {
        return false;
    }
    ret_entry->size = status.st_size;
    ret_entry->changed = status.st_mtim;
    ret_entry->day = host_today();
    return true;
}

static bool same(const struct entry *a, const struct entry *b) {
    return a->size == b->size && a->changed.tv_sec == b->changed.tv_sec &&
            a->changed.tv_nsec == b->changed.tv_nsec && a->day == b->day;
}

/** With the lock held. The entry of a name, made where there is none; NULL: no room for it. */
static struct entry *entry_of(struct overview *overview, const char *name) {
    for (size_t i = 0; i < overview->count; i++) {
        if (strcmp(overview->entries[i]->name, name) == 0) {
            return overview->entries[i];
        }
    }
    struct entry *entry = overview->count < SITES_MOST ? calloc(1, sizeof *entry) : NULL;
    if (entry != NULL) {
        (void)snprintf(entry->name, sizeof entry->name, "%s", name);
        overview->entries[overview->count++] = entry;
    }
    return entry;
}

/** With the lock held, but for the check itself. An entry stays where it is, once made. */
static void refresh(struct overview *overview, struct entry *entry) {
    struct entry now = {0};
    if (!mark(overview, entry->name, &now) || (entry->told != NULL && same(entry, &now))) {
        return;
    }
    pthread_mutex_unlock(&overview->lock);
    char *told = tell(overview, entry->name, now.day);
    pthread_mutex_lock(&overview->lock);
    free(entry->told);
    entry->told = told;
    entry->size = now.size;
    entry->changed = now.changed;
    entry->day = now.day;
}

static void *work(void *context) {
    struct overview *overview = context;
    pthread_mutex_lock(&overview->lock);
    while (!overview->stopping) {
        if (!overview->wanted) {
            pthread_cond_wait(&overview->work, &overview->lock);
        }
        overview->wanted = false;
        for (size_t i = 0; i < overview->count && !overview->stopping; i++) {
            refresh(overview, overview->entries[i]);
        }
    }
    pthread_mutex_unlock(&overview->lock);
    return NULL;
}

/* ---- asked ------------------------------------------------------------------------------------------------------ */

/** With the lock held. */
static void add_entry(struct overview *overview, const char *name, struct text_builder *out) {
    struct entry now = {0};
    struct json_writer json;
    const struct entry *entry = entry_of(overview, name);
    if (entry != NULL && entry->told != NULL && mark(overview, name, &now) && same(entry, &now)) {
        text_add_string(out, entry->told);
        return;
    }
    overview->wanted = true;
    json_init(&json, out);
    json_open_object(&json, NULL);
    json_add_string(&json, "file", name);
    json_add_bool(&json, "checked", false);
    json_close_object(&json);
}

outcome overview_add(
        struct overview *overview, struct text_builder *out, struct problem *ret_problem) {
    struct text *names = NULL;
    size_t count = 0;
    TRY(sites_list(overview->sites, out->arena, &names, &count, ret_problem));
    text_add_string(out, "[");
    pthread_mutex_lock(&overview->lock);
    for (size_t i = 0; i < count; i++) {
        text_add_string(out, i > 0 ? "," : "");
        add_entry(overview, names[i].start, out);
    }
    pthread_cond_signal(&overview->work);
    pthread_mutex_unlock(&overview->lock);
    text_add_string(out, "]");
    return outcome_good();
}

outcome overview_open(
        struct sites *sites, struct overview **ret_overview, struct problem *ret_problem) {
    struct overview *overview = calloc(1, sizeof *overview);
    if (overview == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "there is no memory left to list the sites");
    }
    overview->sites = sites;
    pthread_mutex_init(&overview->lock, NULL);
    pthread_cond_init(&overview->work, NULL);
    if (pthread_create(&overview->thread, NULL, work, overview) != 0) {
        free(overview);
        FAIL(ret_problem, PROBLEM_SYSTEM, "", "the system gives no thread to list the sites with");
    }
    *ret_overview = overview;
    return outcome_good();
}

void overview_close(struct overview *overview) {
    pthread_mutex_lock(&overview->lock);
    overview->stopping = true;
    pthread_cond_signal(&overview->work);
    pthread_mutex_unlock(&overview->lock);
    pthread_join(overview->thread, NULL);
    for (size_t i = 0; i < overview->count; i++) {
        free(overview->entries[i]->told);
        free(overview->entries[i]);
    }
    pthread_cond_destroy(&overview->work);
    pthread_mutex_destroy(&overview->lock);
    free(overview);
}
