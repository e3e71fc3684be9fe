#include "web/telling.h"

#include "check/show.h"
#include "proof/proof.h"

#include <stdio.h>

/* The course of the last routine of the site. */
static outcome tell_last(const struct site *site, struct arena *arena, struct proof_answer *answer,
        struct story *ret_story, struct problem *ret_problem) {
    const struct proof_options options = {0};
    TRY(proof_unfold(
            site, &site->routines[site->routine_count - 1], &answer->routine, ret_problem));
    TRY(proof_tell(site, NULL, &answer->routine, &options, PROOF_MIDDLING, arena, &answer->story,
            &answer->story_count, ret_problem));
    return story_tell(site, answer, STORY_FULL, arena, ret_story, ret_problem);
}

/* The text of the file with the routine behind the others. */
static outcome add_routine(struct document *document, const struct document_search *search,
        struct text routine, struct text *ret_text, struct problem *ret_problem) {
    char path[40];
    (void)snprintf(path, sizeof path, "routines[%zu]", document->site.routine_count);
    const struct document_edit edit = {.path = path, .value = routine};
    return document_edit(document, &edit, 1, search, ret_text, ret_problem);
}

static outcome tell(struct document *with, struct text_builder *out, struct problem *ret_problem) {
    struct story story = {0};
    struct json_writer json;
    struct proof_answer *answer = ARENA_NEW(out->arena, struct proof_answer);
    if (answer == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to tell it");
    }
    *answer = (struct proof_answer){.culprit_zone = PANEL_NO_ZONE};
    TRY(tell_last(&with->site, out->arena, answer, &story, ret_problem));
    json_init(&json, out);
    json_open_object(&json, NULL);
    show_story_json(&json, "story", &story);
    show_bars_json(&json, &with->site, answer);
    json_close_object(&json);
    if (out->arena->refused) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to tell it");
    }
    return outcome_good();
}

outcome telling_add(const char *path, const struct document_search *search, struct text routine,
        struct text_builder *out, struct problem *ret_problem) {
    struct document as_is;
    struct document with;
    struct text text = {0};
    document_init(&as_is, out->arena->pages);
    document_init(&with, out->arena->pages);
    outcome done = document_read_file(&as_is, path, search, ret_problem);
    if (done.good) {
        done = add_routine(&as_is, search, routine, &text, ret_problem);
    }
    if (done.good) {
        done = document_read_text(&with, path, as_is.file.folder.start, text, search, ret_problem);
    }
    if (done.good) {
        done = tell(&with, out, ret_problem);
    }
    document_finish(&with);
    document_finish(&as_is);
    return done;
}
