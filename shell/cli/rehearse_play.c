#include "cli/rehearse_play.h"

#include "acceptance/say.h"
#include "cli/terminal.h"
#include "host/host.h"

#include <poll.h>
#include <stdio.h>
#include <time.h>

enum { CLOCK_COLUMNS = 8, PROBE_EVERY_S = 1, PATIENCE_S = 60, THOUSAND = 1000, MILLION = 1000000 };

/** A rehearsal being played. began_s: by the steady clock. pending: left the panel, and is not acknowledged. */
struct playing {
    const struct rehearse_play *play;
    struct rehearse_sum sum;
    double began_s;
    double probed_s;
    bool away;
    bool has_pending;
    struct rehearsal_signal pending;
    struct problem problem;
};

static double steady_s(void) {
    struct timespec now;
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

static outcome too_much(struct problem *ret_problem) {
    FAIL(ret_problem, PROBLEM_LIMIT, "",
            "more happened than a rehearsal has room for (%d lines); begin anew",
            REHEARSAL_LINE_MAX);
}

/* ---- what is said ------------------------------------------------------------------------------------------------ */

static void say_lines(const struct story *lines, struct arena *arena) {
    struct text_builder out;
    text_builder_init(&out, arena);
    struct layout layout = terminal_layout(&out);
    story_lay_out_beside(lines, 0, CLOCK_COLUMNS, &layout);
    (void)printf("%.*s", TEXT_ARGS(text_built(&out)));
}

/** What happened since the last time. */
static outcome say_news(struct playing *playing, struct problem *ret_problem) {
    struct arena arena;
    struct story acts = {0};
    struct story story = {0};
    arena_init(&arena, host_pages(), 0);
    const outcome told =
            rehearsal_tell(playing->play->rehearsal, &arena, &acts, &story, ret_problem);
    if (told.good) {
        say_lines(&acts, &arena);
        say_lines(&story, &arena);
        (void)fflush(stdout);
    }
    arena_finish(&arena);
    TRY(told);
    return playing->play->rehearsal->full ? too_much(ret_problem) : outcome_good();
}

/* ---- what is sent ------------------------------------------------------------------------------------------------ */

static outcome try_to_send(struct playing *playing, const struct rehearsal_signal *signal,
        struct problem *ret_problem) {
    const struct rehearse_play *play = playing->play;
    struct arena arena;
    arena_init(&arena, host_pages(), 0);
    const struct text data =
            acceptance_event_data(play->site, signal->event, signal->behaviour, play->sia, &arena);
    outcome sent = outcome_good();
    if (data.length == 0) {
        (void)printf("          the format has no code for it; not sent\n");
    } else {
        sent = sender_send(play->sender, play->sia ? FRAME_TOKEN_SIA : FRAME_TOKEN_CONTACT_ID, data,
                ret_problem);
    }
    if (sent.good && data.length > 0) {
        playing->sum.sent++;
        (void)printf("          acknowledged: %.*s\n", TEXT_ARGS(data));
    }
    (void)fflush(stdout);
    arena_finish(&arena);
    return sent;
}

static void go_away(struct playing *playing, const struct problem *problem) {
    playing->away = true;
    playing->probed_s = steady_s();
    (void)printf(
            "          no answer (%s); from now on signals wait in the panel\n", problem->text);
    rehearsal_path(playing->play->rehearsal, true);
}

/** Sends all that has left the panel, in order, until one is not acknowledged. Fails where it is refused. */
static outcome send_all(struct playing *playing, struct problem *ret_problem) {
    struct problem problem = {0};
    while (!playing->away) {
        if (!playing->has_pending) {
            playing->has_pending =
                    rehearsal_take_signal(playing->play->rehearsal, &playing->pending);
        }
        if (!playing->has_pending) {
            break;
        }
        if (try_to_send(playing, &playing->pending, &problem).good) {
            playing->has_pending = false;
        } else if (problem.kind != PROBLEM_SYSTEM) {
            *ret_problem = problem;
            return (outcome){.good = false};
        } else {
            go_away(playing, &problem);
        }
    }
    return outcome_good();
}

/** Asks by a link test whether the receiver is back. */
static outcome probe(struct playing *playing, struct problem *ret_problem) {
    struct problem problem = {0};
    if (!playing->away || steady_s() - playing->probed_s < PROBE_EVERY_S) {
        return outcome_good();
    }
    playing->probed_s = steady_s();
    if (!sender_send(playing->play->sender, FRAME_TOKEN_NULL, text_of(""), &problem).good) {
        return outcome_good();
    }
    playing->away = false;
    (void)printf("          the receiver answers again: what waits leaves\n");
    TRY(send_all(playing, ret_problem));
    rehearsal_path(playing->play->rehearsal, playing->away);
    TRY(say_news(playing, ret_problem));
    return send_all(playing, ret_problem);
}

/* ---- time -------------------------------------------------------------------------------------------------------- */

/** Waits until an instant of the steady clock, asking for the receiver meanwhile. False: somebody pressed Ctrl-C, or
 *  *ret_failed. */
static bool wait_until(struct playing *playing, double until_s, outcome *ret_done) {
    for (double left_s = until_s - steady_s(); left_s > 0; left_s = until_s - steady_s()) {
        const double most_s = playing->away && left_s > PROBE_EVERY_S ? PROBE_EVERY_S : left_s;
        const int wait_ms = most_s > MILLION ? MILLION : (int)(most_s * THOUSAND) + 1;
        (void)poll(NULL, 0, wait_ms);
        *ret_done = probe(playing, &playing->problem);
        if (terminal_was_interrupted() || !ret_done->good) {
            return false;
        }
    }
    return !terminal_was_interrupted();
}

static outcome play_on(struct playing *playing, struct problem *ret_problem) {
    const struct rehearse_play *play = playing->play;
    outcome done = outcome_good();
    int32_t at_s = 0;
    TRY(say_news(playing, ret_problem));
    while (rehearsal_next(play->rehearsal, &at_s)) {
        const double due_s = play->speed > 0 ? playing->began_s + at_s / play->speed : 0;
        if (!wait_until(playing, due_s, &done)) {
            break;
        }
        rehearsal_pass(play->rehearsal, at_s);
        TRY(say_news(playing, ret_problem));
        TRY(send_all(playing, ret_problem));
    }
    return done;
}

/** The panel is calm; what waits in it is not lost as long as the receiver may come back. */
static outcome wait_for_receiver(struct playing *playing) {
    const double until_s = steady_s() + PATIENCE_S;
    outcome done = outcome_good();
    if (playing->away) {
        (void)printf("          the receiver is waited for, a minute at the most\n");
        (void)fflush(stdout);
    }
    while (playing->away && steady_s() < until_s && done.good &&
            wait_until(playing, steady_s() + PROBE_EVERY_S, &done)) {
    }
    return done;
}

outcome rehearse_play(const struct rehearse_play *play, struct rehearse_sum *ret_sum,
        struct problem *ret_problem) {
    struct playing playing = {.play = play, .began_s = steady_s()};
    terminal_catch_interrupt();
    outcome done = play_on(&playing, &playing.problem);
    if (done.good && !terminal_was_interrupted()) {
        done = wait_for_receiver(&playing);
    }
    playing.sum.interrupted = terminal_was_interrupted();
    playing.sum.waiting = playing.has_pending + play->rehearsal->signal_count +
            (playing.away ? rehearsal_waiting(play->rehearsal) : 0);
    *ret_sum = playing.sum;
    if (!done.good) {
        *ret_problem = playing.problem;
    }
    return done;
}
