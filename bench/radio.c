/* Maps of radio at a 10 cm grid: our own against working out every wall's layers anew for every cell. */
#include "bench.h"

#include "document/document.h"
#include "host/host.h"
#include "radio/map.h"
#include "radio/site_links.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { CELL_MM = 100 };
static const double FREQUENCY_HZ = 868.3e6;
static const double ROUND_S = 0.3;

typedef outcome map_function(const struct house *house, int storey, const struct radio_spot *panel,
        int32_t cell_mm, const struct radio_barriers *barriers, struct arena *arena,
        struct radio_map *ret_map, struct problem *ret_problem);

/* Best of the rounds within a third of a second; cells: of those in rooms. sum: of all losses, to see that both agree. */
static double time_map(map_function *make, const struct house *house, int storey,
        const struct radio_spot *panel, size_t *ret_cells, double *ret_sum) {
    double best_s = INFINITY;
    for (const double began_s = bench_now_s(); bench_now_s() - began_s < ROUND_S || best_s > 1e9;) {
        struct arena arena;
        struct radio_map map;
        arena_init(&arena, host_pages(), 0);
        const struct radio_barriers barriers = {.building = &house->site->building,
                .frequency_hz = FREQUENCY_HZ,
                .edition = RADIO_EDITION_NEWEST,
                .arena = &arena};
        const double before_s = bench_now_s();
        const bool good = make(house, storey, panel, CELL_MM, &barriers, &arena, &map, NULL).good;
        best_s = fmin(best_s, bench_now_s() - before_s);
        *ret_cells = 0;
        *ret_sum = 0;
        for (size_t i = 0; good && i < map.columns * map.rows; i++) {
            *ret_cells += map.losses[i].high_db >= 0;
            *ret_sum += fmax(0, map.losses[i].high_db);
        }
        arena_finish(&arena);
        if (!good) {
            return -1;
        }
    }
    return best_s;
}

static void print_storey(
        const char *name, const struct house *house, int storey, const struct radio_spot *panel) {
    size_t cells = 0;
    double ours_sum = 0;
    double plain_sum = 0;
    const double ours_s = time_map(radio_map_make, house, storey, panel, &cells, &ours_sum);
    const double plain_s = time_map(radio_map_plain, house, storey, panel, &cells, &plain_sum);
    if (ours_s <= 0 || plain_s <= 0) {
        printf("%-16s no map\n", name);
        return;
    }
    const struct text of = house->site->building.storeys[storey].name;
    printf("%-16s %-10.*s %7zu %10s %12s %8.0f %8.1f x\n", name, TEXT_ARGS(of), cells,
            bench_time(ours_s), bench_count((double)cells / ours_s), 1 / ours_s, plain_s / ours_s);
    if (fabs(ours_sum - plain_sum) > 0.1 * (double)cells) {
        printf("      THE PLAIN MAP DISAGREES\n");
    }
    fflush(stdout);
}

static void print_site(const struct bench *bench, const char *name) {
    const struct document_search search = {.data = getenv("LINTEL_DATA")};
    struct document document;
    struct problem problem = {0};
    struct house house;
    struct radio_spot panel;
    char path[600];
    snprintf(path, sizeof path, "%s/%s.yaml", bench->site_folder, name);
    document_init(&document, host_pages());
    if (document_read_file(&document, path, &search, &problem).good &&
            house_make(&document.site, &document.arena, &house, &problem).good &&
            radio_panel_spot(&house, &panel)) {
        for (size_t i = 0; i < document.site.building.storey_count; i++) {
            print_storey(name, &house, (int)i, &panel);
        }
    } else {
        printf("%s: %s\n", path, problem.text);
    }
    document_finish(&document);
}

void bench_radio(const struct bench *bench) {
    printf("\nMaps of radio, cells of 10 cm\n\n%-16s %-10s %7s %10s %12s %8s %10s\n", "", "storey",
            "cells", "one map", "cells a s", "maps a s", "to plain");
    print_site(bench, "quayside");
    print_site(bench, "ropewalk");
    print_site(bench, "surgery");
}
