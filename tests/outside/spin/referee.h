/* Asks the model checker SPIN (6.5, Holzmann, "The SPIN Model Checker", 2003) whether a routine goes well.
 *
 * The model is panel.pml, compiled once into a verifier; a site reaches it as a file of numbers. A search that was cut
 * short for any reason (depth, memory, time, a verifier that did not start) is no verdict. */
#ifndef LINTEL_TESTS_OUTSIDE_SPIN_REFEREE_H
#define LINTEL_TESTS_OUTSIDE_SPIN_REFEREE_H

#include "site/site.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

/** Promises of the model, one bit each. */
enum {
    REFEREE_SIREN = 1 << 0,
    REFEREE_ALARM = 1 << 1,
    REFEREE_EXIT_ERROR = 1 << 2,
    REFEREE_REFUSED = 1 << 3,
    REFEREE_DROPPED = 1 << 4,
    REFEREE_WARNING = 1 << 5,
    REFEREE_TROUBLE = 1 << 6,
    REFEREE_ANY = (1 << 7) - 1,
};

enum referee_verdict { REFEREE_WELL, REFEREE_WRONG, REFEREE_NO_VERDICT };

/** promises: those asked about; a run that breaks another first ends there. jump: move the clock at once to the next
 *  second at which anything may happen, else second by second. scale: multiplies every time (0 counts as 1).
 *  depth_most: longest run searched (0: 200000); reaching it is no verdict. people: for how many the verifier was
 *  compiled (0: 2). */
struct referee_question {
    uint32_t promises;
    bool jump;
    int32_t scale;
    unsigned depth_most;
    unsigned people;
};

/** broken: promises broken in the step that was found. why: what ended a search without a verdict. */
struct referee_answer {
    enum referee_verdict verdict;
    uint32_t broken;
    double states;
    double seconds_s;
    double memory_mb;
    char why[120];
};

/** Whether the model has everything this site uses; ret_why: what it has not. */
bool referee_covers(const struct site *site, const char **ret_why);

/** Writes the numbers of routine 0 of a site that is covered. */
void referee_write_constants(
        const struct site *site, const struct referee_question *question, FILE *out);

/** Runs the verifier on routine 0. verifier: absolute path of the compiled model. folder: an existing folder for the
 *  constants and the verifier's trail. limit_s: most seconds it may run. */
struct referee_answer referee_ask(const struct site *site, const struct referee_question *question,
        const char *verifier, const char *folder, unsigned limit_s);

#endif
