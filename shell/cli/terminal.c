#include "cli/terminal.h"

#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

enum { NARROWEST = 40 };

static size_t width_of_stdout(void) {
    struct winsize size = {0};
    if (isatty(STDOUT_FILENO) == 0 || ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) != 0 ||
            size.ws_col == 0) {
        return LAYOUT_WIDTH;
    }
    return size.ws_col < NARROWEST            ? NARROWEST
            : size.ws_col > LAYOUT_WIDTH_MOST ? LAYOUT_WIDTH_MOST
                                              : size.ws_col;
}

/* NO_COLOR counts when it is there and not empty (common practice among programs of the command line). */
static bool wants_colour(void) {
    const char *refused = getenv("NO_COLOR");
    const char *terminal = getenv("TERM");
    return isatty(STDOUT_FILENO) != 0 && (refused == NULL || refused[0] == '\0') &&
            terminal != NULL && strcmp(terminal, "dumb") != 0;
}

struct layout terminal_layout(struct text_builder *out) {
    return (struct layout){.out = out, .width = width_of_stdout(), .colour = wants_colour()};
}

static atomic_bool interrupted;

static void note_interrupt(int number) {
    (void)number;
    atomic_store(&interrupted, true);
}

void terminal_catch_interrupt(void) {
    struct sigaction action = {.sa_handler = note_interrupt, .sa_flags = (int)SA_RESETHAND};
    (void)sigemptyset(&action.sa_mask);
    (void)sigaction(SIGINT, &action, NULL);
}

bool terminal_was_interrupted(void) {
    return atomic_load(&interrupted);
}

static double seconds_since(const struct timespec *then) {
    struct timespec now;
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)(now.tv_sec - then->tv_sec) + (double)(now.tv_nsec - then->tv_nsec) / 1e9;
}

void terminal_progress_begin(struct terminal_progress *progress) {
    *progress = (struct terminal_progress){.wanted = isatty(STDERR_FILENO) != 0};
    (void)clock_gettime(CLOCK_MONOTONIC, &progress->began);
    progress->shown = progress->began;
}

void terminal_progress_show(struct terminal_progress *progress, const char *format, ...) {
    enum { LINE_MOST = 79 };
    if (!progress->wanted || seconds_since(&progress->began) < 0.5 ||
            (progress->visible && seconds_since(&progress->shown) < 0.1)) {
        return;
    }
    char line[LINE_MOST + 1];
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(line, sizeof line, format, arguments);
    va_end(arguments);
    (void)fprintf(stderr, "\r\033[K%s", line);
    (void)fflush(stderr);
    progress->visible = true;
    (void)clock_gettime(CLOCK_MONOTONIC, &progress->shown);
}

void terminal_progress_end(struct terminal_progress *progress) {
    if (progress->visible) {
        (void)fprintf(stderr, "\r\033[K");
        (void)fflush(stderr);
        progress->visible = false;
    }
}
