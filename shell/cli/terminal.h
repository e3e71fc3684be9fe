/* The terminal: how wide, whether colours are wanted, a line of progress, Ctrl-C. */
#ifndef LINTEL_CLI_TERMINAL_H
#define LINTEL_CLI_TERMINAL_H

#include "check/layout.h"

#include <stdatomic.h>
#include <stdbool.h>
#include <time.h>

/** A layout for stdout: 80 columns, or those of the terminal (40 to 100); colours on a terminal only, and not with
 *  NO_COLOR in the environment. */
struct layout terminal_layout(struct text_builder *out);

/** From now on Ctrl-C only asks to stop; a second one ends the program as usual. */
void terminal_catch_interrupt(void);
/** Whether somebody asked to stop. From any thread. */
bool terminal_was_interrupted(void);

/** A line of progress on stderr: only on a terminal, only from half a second on, ten times a second. */
struct terminal_progress {
    struct timespec began;
    struct timespec shown;
    bool wanted;
    bool visible;
};
void terminal_progress_begin(struct terminal_progress *progress);
void terminal_progress_show(struct terminal_progress *progress, const char *format, ...)
        __attribute__((format(printf, 2, 3)));
/** Wipes the line. */
void terminal_progress_end(struct terminal_progress *progress);

#endif
