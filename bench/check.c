/* The whole check of the demo and of its twin, on one core, against reading the file. */
#include "bench.h"
#include "office.h"

#include "check/break_in_layer.h"
#include "check/check.h"
#include "document/document.h"
#include "host/host.h"

#include <stdio.h>
#include <stdlib.h>

enum { ROUNDS = 5 };

/* office: read instead of a file, where it is not NULL. */
static double read_once(const char *path, const struct office *office, struct document *document) {
    const struct document_search search = {.data = getenv("LINTEL_DATA")};
    struct problem problem = {0};
    document_init(document, host_pages());
    const double before_s = bench_now_s();
    const bool good = office == NULL
            ? document_read_file(document, path, &search, &problem).good
            : document_read_text(document, path, NULL,
                      (struct text){.start = office->text, .length = office->length}, &search,
                      &problem)
                      .good;
    const double took_s = bench_now_s() - before_s;
    if (!good) {
        printf("%s: %s\n", path, problem.text);
    }
    return good ? took_s : -1;
}

static double check_once(const struct site *site, const struct check_options *options,
        struct check_report *ret_report) {
    struct arena arena;
    struct problem problem = {0};
    arena_init(&arena, host_pages(), 0);
    const double before_s = bench_now_s();
    struct site drawn;
    const bool good = break_ins_from_drawing(site, &arena, &drawn, &problem).good &&
            check_site(&drawn, options, host_pages(), &arena, ret_report, &problem).good;
    const double took_s = bench_now_s() - before_s;
    if (!good) {
        printf("not checked: %s\n", problem.text);
    }
    arena_finish(&arena);
    return good ? took_s : -1;
}

static void print_site(const struct bench *bench, const char *name, const struct office *office) {
    char path[600];
    double read_s = 1e9;
    double proofs_s = 1e9;
    double all_s = 1e9;
    struct check_report report = {0};
    snprintf(path, sizeof path, "%s/%s", bench->site_folder, name);
    for (int round = 0; round < ROUNDS; round++) {
        struct document document;
        const double took_s = read_once(path, office, &document);
        if (took_s < 0) {
            document_finish(&document);
            return;
        }
        const struct check_options no_remedy = {.no_remedy = true};
        const double proofs = check_once(&document.site, &no_remedy, &report);
        const double all =
                bench->quick && round > 0 ? all_s : check_once(&document.site, NULL, &report);
        read_s = took_s < read_s ? took_s : read_s;
        proofs_s = proofs < proofs_s ? proofs : proofs_s;
        all_s = all < all_s ? all : all_s;
        document_finish(&document);
    }
    printf("%-24s %8zu %8zu %8s %15s %15s %13s x\n", name, report.answer_count,
            report.finding_count, bench_time(read_s), bench_time(proofs_s), bench_time(all_s),
            bench_count(all_s / read_s));
    fflush(stdout);
}

void bench_check(const struct bench *bench) {
    printf("\nThe whole check, one core\n\n%-24s %8s %8s %8s %15s %15s %15s\n", "", "routines",
            "findings", "reading", "proofs, margins", "with remedies", "to reading");
    print_site(bench, "quayside.yaml", NULL);
    print_site(bench, "quayside-as-found.yaml", NULL);
    static struct office office;
    office_write(&office, 5, 4, true);
    print_site(bench, "office, 60 rooms", &office);
}
