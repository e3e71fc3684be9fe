#include "referee.h"

#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

enum { REPORT_MOST = 64 * 1024 };

/* Runs the verifier in the folder; its report goes to *report (NUL-terminated). False: it did not end by itself. */
static bool run(const char *verifier, const char *folder, const char *constants,
        unsigned depth_most, unsigned limit_s, char *report) {
    char depth[20];
    snprintf(depth, sizeof depth, "-m%u", depth_most == 0 ? 200000U : depth_most);
    int ends[2];
    if (pipe(ends) != 0) {
        return false;
    }
    const pid_t child = fork();
    if (child == 0) {
        if (chdir(folder) != 0 || setenv("PANEL_CONSTANTS", constants, 1) != 0 ||
                dup2(ends[1], 1) < 0 || dup2(ends[1], 2) < 0) {
            _exit(127);
        }
        close(ends[0]);
        close(ends[1]);
        alarm(limit_s);
        /* -m: deepest run; -w: first size of the state table, it grows; -n: no list of unreached statements */
        execl(verifier, verifier, depth, "-w18", "-n", (char *)NULL);
        _exit(127);
    }
    close(ends[1]);
    size_t length = 0;
    ssize_t got = 0;
    char rest[256];
    while (child > 0 &&
            (got = length < REPORT_MOST - 1
                            ? read(ends[0], report + length, REPORT_MOST - 1 - length)
                            : read(ends[0], rest, sizeof rest)) > 0) {
        length += length < REPORT_MOST - 1 ? (size_t)got : 0;
    }
    report[length] = '\0';
    close(ends[0]);
    int status = 0;
    return child > 0 && waitpid(child, &status, 0) == child && WIFEXITED(status) &&
            WEXITSTATUS(status) == 0;
}

/* The number before (or, with after, behind) a phrase of the report; -1 where the phrase is not there. */
static double number_before(const char *report, const char *phrase) {
    const char *at = strstr(report, phrase);
    if (at == NULL) {
        return -1;
    }
    while (at > report && (at[-1] == ' ' || at[-1] == '\t')) {
        at--;
    }
    while (at > report && strchr("0123456789.e+", at[-1]) != NULL) {
        at--;
    }
    return strtod(at, NULL);
}

static double number_behind(const char *report, const char *phrase) {
    const char *at = strstr(report, phrase);
    return at == NULL ? -1 : strtod(at + strlen(phrase), NULL);
}

static void judge(const char *report, bool ended, struct referee_answer *answer) {
    static const char *const CUT_SHORT[] = {"max search depth too small", "out of memory",
            "search was incomplete", "Search not completed", "constants:", "interrupted",
            "index out of bounds", "hash table is full"};
    const double errors = number_behind(report, "errors: ");
    answer->states = number_before(report, "states, stored");
    answer->memory_mb = number_before(report, "total actual memory usage");
    if (errors > 0 && strstr(report, "assertion violated") != NULL &&
            strstr(report, "broken ") != NULL) {
        answer->verdict = REFEREE_WRONG;
        answer->broken = (uint32_t)number_behind(report, "broken ");
        return;
    }
    for (size_t i = 0; i < sizeof CUT_SHORT / sizeof CUT_SHORT[0]; i++) {
        if (strstr(report, CUT_SHORT[i]) != NULL) {
            snprintf(answer->why, sizeof answer->why, "%s", CUT_SHORT[i]);
            return;
        }
    }
    if (!ended || errors != 0 || answer->states <= 0) {
        snprintf(answer->why, sizeof answer->why,
                "the verifier ended without a full report (errors %g)", errors);
        return;
    }
    answer->verdict = REFEREE_WELL;
}

struct referee_answer referee_ask(const struct site *site, const struct referee_question *question,
        const char *verifier, const char *folder, unsigned limit_s) {
    struct referee_answer answer = {.verdict = REFEREE_NO_VERDICT};
    char constants[600];
    const size_t people = question->people == 0 ? 2 : question->people;
    if (!referee_covers(site, &(const char *){NULL}) || site->person_count > people ||
            snprintf(constants, sizeof constants, "%s/constants", folder) >=
                    (int)sizeof constants) {
        snprintf(answer.why, sizeof answer.why, "not covered by the model");
        return answer;
    }
    FILE *out = fopen(constants, "w");
    if (out == NULL) {
        snprintf(answer.why, sizeof answer.why, "the constants cannot be written");
        return answer;
    }
    referee_write_constants(site, question, out);
    char *report = malloc(REPORT_MOST);
    struct timespec began;
    struct timespec done;
    if (fclose(out) != 0 || report == NULL) {
        free(report);
        return answer;
    }
    clock_gettime(CLOCK_MONOTONIC, &began);
    const bool ended = run(verifier, folder, constants, question->depth_most, limit_s, report);
    clock_gettime(CLOCK_MONOTONIC, &done);
    answer.seconds_s =
            (double)(done.tv_sec - began.tv_sec) + (double)(done.tv_nsec - began.tv_nsec) / 1e9;
    judge(report, ended, &answer);
    free(report);
    return answer;
}
