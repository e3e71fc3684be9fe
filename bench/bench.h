/* What the benches share: how we prove one site and what that took. Nothing here asserts: a bench prints. */
#ifndef LINTEL_BENCH_BENCH_H
#define LINTEL_BENCH_BENCH_H

#include "house.h"
#include "proof/proof.h"

/** verifiers: folder with spin-2 .. spin-6; "": SPIN is not asked. site_folder: where the demo sites are. cap_s: how long
 *  SPIN may run for one answer. quick: two minutes instead of ten. */
struct bench {
    const char *verifiers;
    const char *site_folder;
    const char *scratch; /* a folder for SPIN's files */
    unsigned cap_s;
    bool quick;
};

/** One proof of ours. seconds_s: the best of several, of this process's own time, from site to verdict. bytes: the
 *  search's pages, the joined world and the stack, at most. good false: it could not be done. */
struct bench_proof {
    struct explore_result result;
    double seconds_s;
    double bytes;
    bool good;
};

/** Seconds of processor time of this process. */
double bench_now_s(void);

struct bench_proof bench_prove(const struct site *site);

/** The same of the house. */
struct bench_proof bench_prove_house(const struct house_wish *wish);

/** "12.3 us", "4.56 ms", "7.8 s"; "12 kB", "3.4 MB"; "2 s", "10 min", "4 h"; "1,234". In one of a few buffers in turn: two
 *  prints at most later it is overwritten. */
const char *bench_time(double seconds_s);
const char *bench_bytes(double bytes);
const char *bench_width(int32_t seconds_s);
const char *bench_count(double count);

/** "well", "wrong", "undecided". */
const char *bench_verdict(const struct bench_proof *proof);

void bench_proofs(const struct bench *bench);
void bench_scaling(const struct bench *bench);
void bench_check(const struct bench *bench);
void bench_many(const struct bench *bench);
void bench_plan(const struct bench *bench);
void bench_breakin(const struct bench *bench);
void bench_radio(const struct bench *bench);

#endif
