#include "cli/rehearse_type.h"

#include "host/host.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

outcome typist_begin(const struct site *site, const char *path, struct arena *arena,
        struct typist *ret_typist, struct problem *ret_problem) {
    struct typist *typist = ret_typist;
    memset(typist, 0, sizeof *typist);
    arena_init(&typist->arenas[0], host_pages(), 0);
    arena_init(&typist->arenas[1], host_pages(), 0);
    typist->file = strcmp(path, "-") == 0 ? STDIN_FILENO : open(path, O_RDONLY | O_CLOEXEC);
    if (typist->file < 0) {
        FAIL(ret_problem, errno == ENOENT ? PROBLEM_MISSING : PROBLEM_SYSTEM, "",
                "%.120s cannot be read: %s", path, strerror(errno));
    }
    typist->terminal = isatty(typist->file) == 1;
    TRY(typed_begin(site, arena, &typist->typed, ret_problem));
    return typed_course(&typist->typed, &typist->arenas[0], &typist->course, ret_problem);
}

void typist_finish(struct typist *typist) {
    if (typist->file > STDIN_FILENO) {
        (void)close(typist->file);
    }
    arena_finish(&typist->arenas[0]);
    arena_finish(&typist->arenas[1]);
}

int32_t typist_due_s(const struct typist *typist) {
    return typist->waited ? typist->last_s : typist->last_s + 1;
}

bool typist_has_line(const struct typist *typist) {
    return memchr(typist->bytes, '\n', typist->used) != NULL;
}

/* The last line may lack its end; a line without end is cut. */
void typist_read(struct typist *typist) {
    if (typist->used + 1 >= sizeof typist->bytes) {
        typist->bytes[typist->used - 1] = '\n';
        return;
    }
    const ssize_t count = read(
            typist->file, typist->bytes + typist->used, sizeof typist->bytes - 1 - typist->used);
    if (count > 0) {
        typist->used += (size_t)count;
    } else if (count == 0 || errno != EINTR) {
        typist->over = typist->used == 0;
        typist->bytes[typist->used] = '\n';
        typist->used += typist->used > 0;
    }
}

static void drop(struct typist *typist, size_t length) {
    typist->used -= length;
    memmove(typist->bytes, typist->bytes + length, typist->used);
}

/** Tells all that was typed anew, and goes on with what comes. */
static outcome go_on(
        struct typist *typist, struct rehearsal *rehearsal, struct problem *ret_problem) {
    const size_t next = 1 - typist->current;
    struct arena *arena = &typist->arenas[next];
    arena_finish(arena);
    arena_init(arena, host_pages(), 0);
    TRY(typed_course(&typist->typed, arena, &typist->course, ret_problem));
    rehearsal_take_course(rehearsal, &typist->course);
    typist->current = next;
    return outcome_good();
}

static outcome act(struct typist *typist, struct rehearsal *rehearsal,
        const struct typed_line *line, int32_t now_s, struct problem *ret_problem) {
    const int32_t passed_s = rehearsal->player.now_s;
    int32_t at_s = typist_due_s(typist) > now_s ? typist_due_s(typist) : now_s;
    at_s = at_s > passed_s ? at_s : passed_s + 1;
    typist->last_s = at_s;
    typist->waited = false;
    TRY(typed_add(&typist->typed, line, at_s, ret_problem));
    return go_on(typist, rehearsal, ret_problem);
}

static void wait_for(
        struct typist *typist, const struct rehearsal *rehearsal, int32_t wait_s, int32_t now_s) {
    int32_t next_s = 0;
    if (wait_s != TYPED_TO_NEXT) {
        const int32_t from_s = now_s > typist_due_s(typist) ? now_s : typist->last_s;
        typist->last_s = from_s + wait_s;
    } else if (rehearsal_next(rehearsal, &next_s) && next_s > typist->last_s) {
        typist->last_s = next_s;
    }
    typist->waited = true;
}

static void say_misread(struct typist *typist, struct text line, struct text wanted) {
    typist->misread++;
    if (!typist->terminal) {
        (void)fprintf(stderr, "line %zu, \"%.*s\": ", typist->number, TEXT_ARGS(line));
    }
    (void)fprintf(stderr, "%.*s", TEXT_ARGS(wanted));
}

static void say_help(const struct typist *typist, struct arena *arena) {
    struct text_builder out;
    text_builder_init(&out, arena);
    typed_help(&typist->typed, &out);
    (void)printf("%.*s", TEXT_ARGS(text_built(&out)));
    (void)fflush(stdout);
}

/** Of the present second as the story begins: a rehearsal in which nothing was done yet begins anew. */
static outcome start(struct typist *typist, struct rehearsal *rehearsal,
        const struct typed_line *line, struct arena *arena, struct problem *ret_problem) {
    typed_start(&typist->typed, line);
    TRY(go_on(typist, rehearsal, ret_problem));
    return rehearsal_begin(&typist->typed.site, &typist->course, arena, rehearsal, ret_problem);
}

static outcome obey(struct typist *typist, struct rehearsal *rehearsal, struct text said,
        int32_t now_s, struct arena *arena, struct problem *ret_problem) {
    struct arena scratch;
    struct text_builder wanted;
    outcome done = outcome_good();
    arena_init(&scratch, host_pages(), 0);
    text_builder_init(&wanted, &scratch);
    const struct typed_line line = typed_read(&typist->typed, said, &wanted);
    switch (line.kind) {
    case TYPED_NOTHING:
        break;
    case TYPED_ACT:
        done = act(typist, rehearsal, &line, now_s, ret_problem);
        break;
    case TYPED_WAIT:
        wait_for(typist, rehearsal, line.wait_s, now_s);
        break;
    case TYPED_START:
        done = start(typist, rehearsal, &line, arena, ret_problem);
        break;
    case TYPED_HELP:
        say_help(typist, &scratch);
        break;
    case TYPED_UNKNOWN:
        say_misread(typist, said, text_built(&wanted));
        break;
    }
    arena_finish(&scratch);
    return done;
}

outcome typist_take(struct typist *typist, struct rehearsal *rehearsal, int32_t now_s,
        struct arena *arena, struct problem *ret_problem) {
    const char *end = memchr(typist->bytes, '\n', typist->used);
    const size_t length = (size_t)(end - typist->bytes);
    typist->number++;
    const outcome done = obey(
            typist, rehearsal, (struct text){typist->bytes, length}, now_s, arena, ret_problem);
    drop(typist, length + 1);
    return done;
}
