/* bench-lintel VERIFIERS SITES [--quick] [--cap SECONDS] [--no-spin]: prints every bench. See docs/bench.md. */
#include "bench.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/utsname.h>
#include <time.h>
#include <unistd.h>

/* No brands: what matters for a ratio is that both ran here. */
static void print_machine(void) {
    struct utsname system = {0};
    uname(&system);
    const double bytes = (double)sysconf(_SC_PHYS_PAGES) * (double)sysconf(_SC_PAGESIZE);
    double load[1] = {0};
    FILE *file = fopen("/proc/loadavg", "r");
    if (file != NULL) {
        if (fscanf(file, "%lf", load) != 1) {
            load[0] = 0;
        }
        fclose(file);
    }
    printf("Machine: %ld cores, %.0f GB, %s %s; load at the start %.1f.\n",
            sysconf(_SC_NPROCESSORS_ONLN), bytes / 1e9, system.sysname, system.machine, load[0]);
}

static void clear_scratch(const char *folder) {
    static const char *const FILES[] = {"constants", "panel.pml.trail"};
    char path[200];
    for (size_t i = 0; i < sizeof FILES / sizeof *FILES; i++) {
        snprintf(path, sizeof path, "%s/%s", folder, FILES[i]);
        unlink(path);
    }
    rmdir(folder);
}

int main(int argument_count, char **arguments) {
    char scratch[] = "/tmp/lintel-bench-XXXXXX";
    struct bench bench = {.scratch = scratch, .cap_s = 20};
    bool with_spin = true;
    for (int i = 3; i < argument_count; i++) {
        bench.quick = bench.quick || strcmp(arguments[i], "--quick") == 0;
        with_spin = with_spin && strcmp(arguments[i], "--no-spin") != 0;
        if (strcmp(arguments[i], "--cap") == 0 && i + 1 < argument_count) {
            bench.cap_s = (unsigned)strtoul(arguments[++i], NULL, 10);
        }
    }
    if (argument_count < 3 || mkdtemp(scratch) == NULL) {
        fprintf(stderr, "bench-lintel VERIFIERS SITES [--quick] [--cap SECONDS] [--no-spin]\n");
        return 2;
    }
    bench.verifiers = with_spin ? arguments[1] : "";
    bench.site_folder = arguments[2];
    print_machine();
    bench_check(&bench);
    bench_many(&bench);
    bench_plan(&bench);
    bench_breakin(&bench);
    bench_radio(&bench);
    bench_scaling(&bench);
    bench_proofs(&bench);
    clear_scratch(scratch);
    return 0;
}
