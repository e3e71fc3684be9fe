#include "check/overview.h"

#include "check/show.h"

#include <string.h>

struct overview_site overview_of(
        const struct site *site, const struct check_report *report, struct text file) {
    struct overview_site it = {.file = file,
            .name = site->name,
            .invented = site->invented,
            .waived = report->waived_count,
            .routines = report->answer_count,
            .wrong = report->wrong,
            .unsettled = report->unsettled + break_ins_unsettled(&report->break_ins),
            .stopped = report->stopped};
    for (int weight = 0; weight < FINDING_WEIGHT_COUNT; weight++) {
        it.weights[weight] = report->weights[weight];
    }
    return it;
}

int overview_exit_status(const struct overview_site *site) {
    return site->unreadable                    ? 2
            : site->stopped                    ? CHECK_EXIT_STOPPED
            : site->weights[FINDING_FAULT] > 0 ? 1
            : site->unsettled > 0              ? 3
                                               : 0;
}

/* How bad an exit status is: 0 the worst. */
static size_t rank_of(int status) {
    static const int ranks[] = {CHECK_EXIT_STOPPED, 2, 1, 3, 0};
    size_t rank = 0;
    while (ranks[rank] != status) {
        rank++;
    }
    return rank;
}

int overview_worst(const struct overview_site *sites, size_t count) {
    int worst = 0;
    for (size_t i = 0; i < count; i++) {
        const int status = overview_exit_status(&sites[i]);
        worst = rank_of(status) < rank_of(worst) ? status : worst;
    }
    return worst;
}

/* More of what is worse comes first; then the file's name. < 0: a before b. */
static int order(const struct overview_site *a, const struct overview_site *b) {
    const size_t of_a[] = {
            a->unreadable, a->weights[0], a->unsettled, a->weights[1], a->weights[2]};
    const size_t of_b[] = {
            b->unreadable, b->weights[0], b->unsettled, b->weights[1], b->weights[2]};
    for (size_t i = 0; i < sizeof of_a / sizeof of_a[0]; i++) {
        if (of_a[i] != of_b[i]) {
            return of_a[i] > of_b[i] ? -1 : 1;
        }
    }
    const size_t shorter = a->file.length < b->file.length ? a->file.length : b->file.length;
    const int differs = shorter == 0 ? 0 : memcmp(a->file.start, b->file.start, shorter);
    return differs != 0 ? differs
                        : (a->file.length > b->file.length) - (a->file.length < b->file.length);
}

/* Heap sort: in place, and no worse for sites that are in order already. */
static void sink(struct overview_site *sites, size_t at, size_t count) {
    for (size_t child = 2 * at + 1; child < count; child = 2 * at + 1) {
        if (child + 1 < count && order(&sites[child], &sites[child + 1]) < 0) {
            child++;
        }
        if (order(&sites[at], &sites[child]) >= 0) {
            return;
        }
        const struct overview_site moved = sites[at];
        sites[at] = sites[child];
        sites[child] = moved;
        at = child;
    }
}

void overview_sort(struct overview_site *sites, size_t count) {
    for (size_t i = count / 2; i > 0; i--) {
        sink(sites, i - 1, count);
    }
    for (size_t end = count; end > 1; end--) {
        const struct overview_site last = sites[0];
        sites[0] = sites[end - 1];
        sites[end - 1] = last;
        sink(sites, 0, end - 1);
    }
}

/* ---- text */

static struct text_builder builder_beside(const struct layout *layout) {
    struct text_builder builder;
    text_builder_init(&builder, layout->out->arena);
    return builder;
}

/* "2 faults, 1 risk, 3 notes"; "clean". */
static void add_counts(struct text_builder *out, const struct overview_site *site) {
    const char *const names[][2] = {{"fault", "faults"}, {"risk", "risks"}, {"note", "notes"}};
    for (size_t i = 0; i < FINDING_WEIGHT_COUNT; i++) {
        show_add_count(
                out, out->length > 0 ? ", " : "", site->weights[i], names[i][0], names[i][1]);
        if (i == FINDING_FAULT) {
            show_add_count(out, out->length > 0 ? ", " : "", site->unsettled, "not settled",
                    "not settled");
        }
    }
    show_add_count(out, out->length > 0 ? ", " : "", site->waived, "waived", "waived");
    text_add_string(out, out->length == 0 ? "clean" : "");
    text_add_string(out, site->stopped ? ", stopped early" : "");
}

static void show_site(const struct overview_site *site, struct layout *layout) {
    enum { FILE_NAME = 2, WHAT = 4 };
    const int status = overview_exit_status(site);
    struct text_builder what = builder_beside(layout);
    if (site->unreadable) {
        text_add_string(&what, "cannot be read: ");
        text_add(&what, site->problem);
        if (site->problem_count > 1) {
            text_add_format(&what, " (and %zu more)", site->problem_count - 1);
        }
    } else {
        add_counts(&what, site);
    }
    layout_put(layout, site->file, LAYOUT_STRONG);
    layout_put_string(layout, "  ", LAYOUT_PLAIN);
    layout_words(layout, text_built(&what), WHAT,
            status == 1 || status == 2 ? LAYOUT_BAD
                    : status == 0      ? LAYOUT_PLAIN
                                       : LAYOUT_UNSURE);
    if (!site->unreadable) {
        struct text_builder name = builder_beside(layout);
        text_add(&name, site->name);
        text_add_string(&name, site->invented ? " (invented)" : "");
        layout_put_string(layout, "  ", LAYOUT_PLAIN);
        layout_words(layout, text_built(&name), WHAT, LAYOUT_QUIET);
    }
    layout_end_line(layout);
}

struct total {
    size_t unreadable;
    size_t faulty;
    size_t unsettled;
    size_t risky;
    size_t well;
};

/* Each site is counted once, by the worst of it. */
static struct total total_of(const struct overview_site *sites, size_t count) {
    struct total total = {0};
    for (size_t i = 0; i < count; i++) {
        const struct overview_site *it = &sites[i];
        size_t *where = it->unreadable             ? &total.unreadable
                : it->weights[FINDING_FAULT] > 0   ? &total.faulty
                : it->unsettled > 0 || it->stopped ? &total.unsettled
                : it->weights[FINDING_RISK] > 0    ? &total.risky
                                                   : &total.well;
        (*where)++;
    }
    return total;
}

void overview_show(const struct overview_site *sites, size_t count, struct layout *layout) {
    const struct total total = total_of(sites, count);
    const int worst = overview_worst(sites, count);
    struct text_builder out = builder_beside(layout);
    for (size_t i = 0; i < count; i++) {
        show_site(&sites[i], layout);
    }
    layout_end_line(layout);
    text_add_format(&out, "%zu site%s: %zu without fault or risk", count, count == 1 ? "" : "s",
            total.well);
    show_add_count(&out, ", ", total.risky, "with risks", "with risks");
    show_add_count(&out, ", ", total.unsettled, "not settled", "not settled");
    show_add_count(&out, ", ", total.faulty, "with faults", "with faults");
    show_add_count(&out, ", ", total.unreadable, "cannot be read", "cannot be read");
    text_add_format(&out, " · exit %d", worst);
    layout_words(layout, text_built(&out), 2,
            worst == 0                         ? LAYOUT_GOOD
                    : worst == 1 || worst == 2 ? LAYOUT_BAD
                                               : LAYOUT_UNSURE);
    layout_end_line(layout);
}

/* ---- JSON */

static void write_site(const struct overview_site *site, struct json_writer *json) {
    json_open_object(json, NULL);
    json_add_text(json, "file", site->file);
    if (site->unreadable) {
        json_add_null(json, "name");
        json_add_text(json, "problem", site->problem);
        json_add_integer(json, "problems", (int64_t)site->problem_count);
    } else {
        json_add_text(json, "name", site->name);
        json_add_bool(json, "invented", site->invented);
        json_add_integer(json, "faults", (int64_t)site->weights[FINDING_FAULT]);
        json_add_integer(json, "risks", (int64_t)site->weights[FINDING_RISK]);
        json_add_integer(json, "notes", (int64_t)site->weights[FINDING_NOTE]);
        json_add_integer(json, "waived", (int64_t)site->waived);
        json_add_integer(json, "routines", (int64_t)site->routines);
        json_add_integer(json, "go_wrong", (int64_t)site->wrong);
        json_add_integer(json, "not_settled", (int64_t)site->unsettled);
    }
    json_add_integer(json, "exit", overview_exit_status(site));
    json_close_object(json);
}

void overview_json(const struct overview_site *sites, size_t count, struct json_writer *json) {
    enum { FORMAT = 1 };
    const struct total total = total_of(sites, count);
    json_open_object(json, NULL);
    json_add_integer(json, "format", FORMAT);
    json_open_array(json, "sites");
    for (size_t i = 0; i < count; i++) {
        write_site(&sites[i], json);
    }
    json_close_array(json);
    json_open_object(json, "counts");
    json_add_integer(json, "sites", (int64_t)count);
    json_add_integer(json, "cannot_be_read", (int64_t)total.unreadable);
    json_add_integer(json, "with_faults", (int64_t)total.faulty);
    json_add_integer(json, "not_settled", (int64_t)total.unsettled);
    json_add_integer(json, "with_risks", (int64_t)total.risky);
    json_add_integer(json, "without", (int64_t)total.well);
    json_close_object(json);
    json_add_integer(json, "exit", overview_worst(sites, count));
    json_close_object(json);
}
