/* A folder of a thousand small houses, and one site of 128 zones and 8 areas: written by a rule into the scratch folder,
 * read and checked on one core, and by the program with one worker and with all. Nobody lives there. */
#include "bench.h"

#include "check/check.h"
#include "document/document.h"
#include "host/host.h"

#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

enum { PATH_ROOM = 400, SITES = 1000, SITES_QUICK = 100, AREAS = 8, ZONES_EACH = 16 };

static void path_of(const struct bench *bench, int number, char path[PATH_ROOM]) {
    snprintf(path, PATH_ROOM, "%s/sites/house-%04d.yaml", bench->scratch, number);
}

/* A front door, a hall, one to five windows, one to four people: by the number of the house. */
static void write_house(FILE *file, int number) {
    const int windows = 1 + number % 5;
    const int people = 1 + number % 4;
    fprintf(file, "site: {name: House %d, invented: yes, rules: [house]}\n", number);
    fprintf(file, "panel: {profile: halyard-28, exit-delay: %d s, abort-window: 15 s, "
                  "entry-delays: {front: %d s}}\n", 30 + number % 31, 20 + number % 26);
    fprintf(file, "areas: [{name: house}]\nkeypads: [{name: hall keypad}]\ndoors:\n"
                  "  - {name: front door, outside: yes}\n");
    for (int i = 0; i < windows; i++) {
        fprintf(file, "  - {name: window %d, outside: yes}\n", i + 1);
    }
    fprintf(file, "devices:\n  - {name: front contact, profile: slim-contact, on: front door}\n"
                  "  - {name: hall motion, profile: quarter-motion}\n");
    for (int i = 0; i < windows; i++) {
        fprintf(file, "  - {name: contact %d, profile: slim-contact, on: window %d}\n", i + 1, i + 1);
    }
    fprintf(file, "zones:\n  - {number: 1, says: front door, device: front contact, behaviour: entry}\n"
                  "  - {number: 2, says: hall, device: hall motion, behaviour: follower, hold: 5 s}\n");
    for (int i = 0; i < windows; i++) {
        fprintf(file, "  - {number: %d, says: window %d, device: contact %d, behaviour: perimeter}\n",
                i + 3, i + 1, i + 1);
    }
    fprintf(file, "people:\n");
    for (int i = 0; i < people; i++) {
        fprintf(file, "  - {name: person %d, codes-in: %d..%d s}\n", i + 1, 3 + number % 3, 8 + i);
    }
    fprintf(file, "ways:\n  - {name: front way, door: front door, legs: [{pass: hall, in: 1..%d s}], "
                  "keypad: hall keypad, last: 2..%d s}\n", 3 + number % 4, 4 + number % 7);
    fprintf(file, "routines:\n  - {name: comes home, who: person 1, starts: {house: full}, "
                  "steps: [{come: front way}, {unset: hall keypad}]}\n"
                  "  - {name: goes out, who: person 1, "
                  "steps: [{set: full, keypad: hall keypad}, {go: front way}]}\n");
}

/* Eight areas of sixteen zones: a door, a corridor, fourteen windows; a keypad and two people each. */
static void write_big(FILE *file) {
    fprintf(file, "site: {name: Big, invented: yes, rules: [house]}\n"
                  "panel: {profile: spinnaker-128, exit-delay: 60 s, abort-window: 15 s, "
                  "entry-delays: {door: 45 s}}\nareas:\n");
    for (int area = 1; area <= AREAS; area++) {
        fprintf(file, "  - {name: wing %d}\n", area);
    }
    fprintf(file, "keypads:\n");
    for (int area = 1; area <= AREAS; area++) {
        fprintf(file, "  - {name: keypad %d, areas: [wing %d]}\n", area, area);
    }
    fprintf(file, "doors:\n");
    for (int i = 1; i <= AREAS * ZONES_EACH; i++) {
        fprintf(file, "  - {name: door %d, outside: yes}\n", i);
    }
    fprintf(file, "devices:\n");
    for (int i = 1; i <= AREAS * ZONES_EACH; i++) {
        fprintf(file, i % ZONES_EACH == 2 ? "  - {name: device %d, profile: wired-motion}\n"
                                          : "  - {name: device %d, profile: recessed-contact, on: door %d}\n",
                i, i);
    }
    fprintf(file, "zones:\n");
    for (int i = 1; i <= AREAS * ZONES_EACH; i++) {
        fprintf(file, "  - {number: %d, says: zone %d, device: device %d, area: wing %d, behaviour: %s}\n", i,
                i, i, (i - 1) / ZONES_EACH + 1,
                i % ZONES_EACH == 1           ? "entry"
                        : i % ZONES_EACH == 2 ? "follower"
                                              : "perimeter");
    }
    fprintf(file, "people:\n");
    for (int i = 0; i < 2 * AREAS; i++) {
        fprintf(file, "  - {name: person %d, areas: [wing %d]}\n", i + 1, i / 2 + 1);
    }
    fprintf(file, "ways:\n");
    for (int area = 1; area <= AREAS; area++) {
        fprintf(file, "  - {name: way %d, door: door %d, legs: [{pass: %d, in: 2..6 s}], "
                      "keypad: keypad %d, last: 2..8 s}\n", area, (area - 1) * ZONES_EACH + 1,
                (area - 1) * ZONES_EACH + 2, area);
    }
    fprintf(file, "routines:\n");
    for (int area = 1; area <= AREAS; area++) {
        fprintf(file, "  - {name: opens %d, who: person %d, starts: {wing %d: full}, "
                      "steps: [{come: way %d}, {unset: keypad %d}]}\n"
                      "  - {name: closes %d, who: person %d, "
                      "steps: [{set: full, keypad: keypad %d}, {go: way %d}]}\n",
                area, 2 * area, area, area, area, area, 2 * area, area, area);
    }
}

struct times {
    double read_s;
    double check_s;
    size_t routines;
    size_t findings;
};

/* Reads and checks one file, and adds what it took. False: said. */
static bool add_times(const char *path, bool remedies, struct times *times) {
    const struct document_search search = {.data = getenv("LINTEL_DATA")};
    const struct check_options options = {.no_remedy = !remedies};
    struct document document;
    struct check_report report;
    struct problem problem = {0};
    document_init(&document, host_pages());
    const double began_s = bench_now_s();
    bool good = document_read_file(&document, path, &search, &problem).good;
    const double read_s = bench_now_s();
    good = good &&
            check_site(&document.site, &options, host_pages(), &document.arena, &report, &problem)
                    .good;
    if (good) {
        times->read_s += read_s - began_s;
        times->check_s += bench_now_s() - read_s;
        times->routines += report.answer_count;
        times->findings += report.finding_count;
    } else {
        printf("%s: %s\n", path, problem.text);
    }
    document_finish(&document);
    return good;
}

/* What the children of this process took of the processor so far. */
static double children_s(void) {
    struct rusage usage;
    getrusage(RUSAGE_CHILDREN, &usage);
    return (double)(usage.ru_utime.tv_sec + usage.ru_stime.tv_sec) +
            (double)(usage.ru_utime.tv_usec + usage.ru_stime.tv_usec) / 1e6;
}

/* Seconds that the program takes for the folder, by the clock on the wall (< 0: it could not be run) and of the
 * processor. */
static double program_s(const struct bench *bench, int workers, double *ret_processor_s) {
    const char *program = getenv("LINTEL_PROGRAM");
    char command[3 * PATH_ROOM];
    struct timespec before;
    struct timespec after;
    if (program == NULL ||
            snprintf(command, sizeof command, "'%s' check '%s/sites' --jobs %d > '%s/out'", program,
                    bench->scratch, workers, bench->scratch) >= (int)sizeof command) {
        return -1;
    }
    const double children_before_s = children_s();
    clock_gettime(CLOCK_MONOTONIC, &before);
    const int status = system(command);
    clock_gettime(CLOCK_MONOTONIC, &after);
    *ret_processor_s = children_s() - children_before_s;
    /* 0, 1 and 3 are answers; 2 is none. */
    const bool answered = status == 0 || status >> 8 == 1 || status >> 8 == 3;
    return answered ? (double)(after.tv_sec - before.tv_sec) +
                    (double)(after.tv_nsec - before.tv_nsec) / 1e9
                    : -1;
}

static void print_folder(const struct bench *bench) {
    const int count = bench->quick ? SITES_QUICK : SITES;
    struct times times = {0};
    char path[PATH_ROOM];
    for (int i = 0; i < count; i++) {
        path_of(bench, i, path);
        if (!add_times(path, false, &times)) {
            return;
        }
    }
    const long cores = sysconf(_SC_NPROCESSORS_ONLN);
    const int all = cores < 1 ? 1 : cores > 16 ? 16 : (int)cores;
    printf("%d houses of 3 to 7 zones, %zu routines, without remedies\n", count, times.routines);
    printf("  reading them                            %10s\n", bench_time(times.read_s));
    printf("  reading and checking them, one core     %10s %12s x reading\n",
            bench_time(times.read_s + times.check_s),
            bench_count((times.read_s + times.check_s) / times.read_s));
    double one_processor_s = 0;
    double all_processor_s = 0;
    const double one_s = program_s(bench, 1, &one_processor_s);
    const double all_s = program_s(bench, all, &all_processor_s);
    if (one_s > 0 && all_s > 0) {
        printf("  lintel check FOLDER --jobs 1: processor %8s %12.1f x reading\n",
                bench_time(one_processor_s), one_processor_s / times.read_s);
        printf("  lintel check FOLDER --jobs %d: processor %8s %12.2f x one worker's\n", all,
                bench_time(all_processor_s), all_processor_s / one_processor_s);
        printf("  by the wall, one worker and %d           %10s %12.2f x as fast with %d\n", all,
                bench_time(one_s), one_s / all_s, all);
    } else {
        printf("  the program was not there to be run (LINTEL_PROGRAM)\n");
    }
}

static void print_big(const struct bench *bench) {
    struct times house = {0};
    struct times plain = {0};
    struct times remedies = {0};
    char path[PATH_ROOM];
    char bakery[PATH_ROOM];
    snprintf(path, sizeof path, "%s/big.yaml", bench->scratch);
    snprintf(bakery, sizeof bakery, "%s/quayside.yaml", bench->site_folder);
    if (add_times(path, false, &plain) && add_times(path, true, &remedies) &&
            add_times(bakery, false, &house)) {
        printf("128 zones, 8 areas, %zu routines, %zu findings\n", plain.routines, plain.findings);
        printf("  reading it                              %10s %12.1f x the bakery's 13 zones\n",
                bench_time(plain.read_s), plain.read_s / house.read_s);
        printf("  checking it, without remedies, one core %10s %12.1f x the bakery's\n",
                bench_time(plain.check_s), plain.check_s / house.check_s);
        printf("  checking it, with remedies              %10s %12.1f x without\n",
                bench_time(remedies.check_s), remedies.check_s / plain.check_s);
    }
}

static bool write_all(const struct bench *bench) {
    char path[PATH_ROOM];
    FILE *file = NULL;
    snprintf(path, sizeof path, "%s/sites", bench->scratch);
    if (mkdir(path, 0700) != 0) {
        return false;
    }
    for (int i = 0; i < (bench->quick ? SITES_QUICK : SITES); i++) {
        path_of(bench, i, path);
        file = fopen(path, "w");
        if (file == NULL) {
            return false;
        }
        write_house(file, i);
        fclose(file);
    }
    snprintf(path, sizeof path, "%s/big.yaml", bench->scratch);
    file = fopen(path, "w");
    if (file == NULL) {
        return false;
    }
    write_big(file);
    fclose(file);
    return true;
}

static void clear_all(const struct bench *bench) {
    static const char *const left[] = {"big.yaml", "out"};
    char path[PATH_ROOM];
    for (int i = 0; i < SITES; i++) {
        path_of(bench, i, path);
        unlink(path);
    }
    for (size_t i = 0; i < sizeof left / sizeof left[0]; i++) {
        snprintf(path, sizeof path, "%s/%s", bench->scratch, left[i]);
        unlink(path);
    }
    snprintf(path, sizeof path, "%s/sites", bench->scratch);
    rmdir(path);
}

void bench_many(const struct bench *bench) {
    printf("\nMany sites, and a big one\n\n");
    if (write_all(bench)) {
        print_folder(bench);
        print_big(bench);
    } else {
        printf("no room in %s\n", bench->scratch);
    }
    fflush(stdout);
    clear_all(bench);
}
