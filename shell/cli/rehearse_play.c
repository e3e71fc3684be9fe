#include "cli/rehearse_play.h"

#include "acceptance/say.h"
#include "cli/terminal.h"
#include "host/host.h"

#include <math.h>
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
    int64_t off_s; /* of the receiver's clock, as it was told */
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

void rehearse_say_clock(int64_t off_s, int64_t *told_s) {
    enum { NEWS_S = 3 }; /* less is the way there and back */
    const int64_t more_s = off_s - *told_s;
    if (more_s > NEWS_S || more_s < -NEWS_S) {
        (void)printf(
                "          the receiver's clock is %lld s %s this machine's; frames carry its\n",
                (long long)(off_s < 0 ? -off_s : off_s), off_s < 0 ? "behind" : "ahead of");
        *told_s = off_s;
    }
}

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
        rehearse_say_clock(sender_off_s(play->sender), &playing->off_s);
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

/** Waits until an instant of the steady clock, asking for the receiver meanwhile; or until something can be read from
 *  a file, unless that is -1. False: somebody pressed Ctrl-C, or *ret_done failed. */
static bool wait_until(struct playing *playing, double until_s, int file, outcome *ret_done) {
    struct pollfd input = {.fd = file, .events = POLLIN};
    for (double left_s = until_s - steady_s(); left_s > 0 && input.revents == 0;
            left_s = until_s - steady_s()) {
        const double most_s = playing->away && left_s > PROBE_EVERY_S ? PROBE_EVERY_S : left_s;
        const int wait_ms = most_s > THOUSAND ? MILLION : (int)(most_s * THOUSAND) + 1;
        (void)poll(&input, 1, wait_ms);
        *ret_done = probe(playing, &playing->problem);
        if (terminal_was_interrupted() || !ret_done->good) {
            return false;
        }
    }
    return !terminal_was_interrupted();
}

/** The second that it is for the panel. As fast as it goes, it is that of the next line, or all is past. */
static int32_t now_of(const struct playing *playing, const struct typist *typist) {
    const double passed_s = (steady_s() - playing->began_s) * playing->play->speed;
    if (playing->play->speed > 0) {
        return passed_s < INT32_MAX ? (int32_t)passed_s : INT32_MAX;
    }
    return typist != NULL ? typist_due_s(typist) : INT32_MAX;
}

static double clock_of(const struct playing *playing, int32_t at_s) {
    return playing->play->speed > 0 ? playing->began_s + at_s / playing->play->speed : INFINITY;
}

static outcome happen(struct playing *playing, int32_t at_s, struct problem *ret_problem) {
    rehearsal_pass(playing->play->rehearsal, at_s);
    TRY(say_news(playing, ret_problem));
    return send_all(playing, ret_problem);
}

static outcome type(struct playing *playing, struct typist *typist, int32_t now_s,
        struct problem *ret_problem) {
    const struct rehearse_play *play = playing->play;
    TRY(typist_take(typist, play->rehearsal, now_s, play->arena, ret_problem));
    return say_news(playing, ret_problem);
}

/** Nothing is due now: waits for what comes next, or for a line. */
static bool wait_for_more(struct playing *playing, struct typist *typist, bool any, int32_t at_s,
        int32_t now_s, outcome *ret_done) {
    double until_s = any ? clock_of(playing, at_s) : INFINITY;
    int file = -1;
    if (typist != NULL && typist_due_s(typist) <= now_s) {
        file = typist->file;
    } else if (typist != NULL && clock_of(playing, typist_due_s(typist)) < until_s) {
        until_s = clock_of(playing, typist_due_s(typist));
    }
    const bool on = wait_until(playing, until_s, file, ret_done);
    struct pollfd input = {.fd = file, .events = POLLIN};
    if (on && file >= 0 && poll(&input, 1, 0) > 0) {
        typist_read(typist);
    }
    return on;
}

static outcome play_on(struct playing *playing, struct problem *ret_problem) {
    const struct rehearse_play *play = playing->play;
    outcome done = outcome_good();
    int32_t at_s = 0;
    bool on = true;
    TRY(say_news(playing, ret_problem));
    while (on) {
        struct typist *typist = play->typist != NULL && !play->typist->over ? play->typist : NULL;
        const bool any = rehearsal_next(play->rehearsal, &at_s);
        const int32_t now_s = now_of(playing, typist);
        if (any && at_s <= now_s) {
            TRY(happen(playing, at_s, ret_problem));
            on = !terminal_was_interrupted();
        } else if (typist != NULL && typist_due_s(typist) <= now_s && typist_has_line(typist)) {
            TRY(type(playing, typist, now_s, ret_problem));
        } else {
            on = (any || typist != NULL) && wait_for_more(playing, typist, any, at_s, now_s, &done);
        }
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
            wait_until(playing, steady_s() + PROBE_EVERY_S, -1, &done)) {
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
