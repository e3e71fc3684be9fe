#include "base/problem.h"

#include "base/text.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

outcome problem_set(struct problem *ret_problem, enum problem_kind kind, const char *place,
        const char *source_file, int source_line, const char *format, ...) {
    if (ret_problem != NULL && ret_problem->kind == PROBLEM_NONE) {
        va_list arguments;
        ret_problem->kind = kind;
        ret_problem->source_file = source_file;
        ret_problem->source_line = source_line;
        va_start(arguments, format);
        (void)vsnprintf(ret_problem->text, sizeof ret_problem->text, format, arguments);
        va_end(arguments);
        /* It may quote a file of somebody else, and is printed on a terminal. */
        text_tame(ret_problem->text, strlen(ret_problem->text));
        size_t at = 0;
        for (; place[at] != '\0' && at + 1 < sizeof ret_problem->place; at++) {
            ret_problem->place[at] = place[at];
        }
        ret_problem->place[at] = '\0';
    }
    return (outcome){.good = false};
}
