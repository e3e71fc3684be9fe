#include "web/comparing.h"

#include "check/check.h"
#include "check/compare.h"
#include "check/temporary.h"
#include "host/host.h"
#include "web/view.h"

/* One of the two: read, and checked as of today. drawn: lives as long as the report. */
struct side {
    struct document document;
    struct site today;
    struct site drawn;
    struct check_report report;
};

struct comparison {
    struct side now;
    struct side older;
};

static outcome check(struct side *side, const struct check_options *options, struct arena *arena,
        struct problem *ret_problem) {
    TRY(temporary_apply(
            &side->document.site, options->today_day, arena, &side->today, ret_problem));
    TRY(break_ins_from_drawing(&side->today, arena, &side->drawn, ret_problem));
    return check_site(&side->drawn, options, host_pages(), arena, &side->report, ret_problem);
}

/* What stands in the way of reading one, in a sentence. */
static outcome refuse(const struct side *side, struct text named, struct problem *ret_problem) {
    const struct problem cause = *ret_problem;
    const struct text what = side->document.problem_count > 0 ? side->document.problems[0].what
                                                              : text_of(cause.text);
    *ret_problem = (struct problem){0};
    FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "%.*s cannot be read as it is: %.*s", TEXT_ARGS(named),
            TEXT_ARGS(what));
}

static outcome read_both(struct comparison *both, const char *path,
        const struct document_search *search, struct text older, struct text named,
        struct problem *ret_problem) {
    if (!document_read_file(&both->now.document, path, search, ret_problem).good) {
        return refuse(&both->now, text_of("the site file"), ret_problem);
    }
    const char *folder = both->now.document.file.folder.start;
    return document_read_text(&both->older.document, path, folder, older, search, ret_problem).good
            ? outcome_good()
            : refuse(&both->older, named, ret_problem);
}

static outcome compare(struct comparison *both, const char *path, struct text named,
        const struct check_options *options, struct text_builder *out,
        struct problem *ret_problem) {
    struct compare compared;
    struct json_writer json;
    TRY(check(&both->now, options, out->arena, ret_problem));
    TRY(check(&both->older, options, out->arena, ret_problem));
    if (both->now.report.stopped || both->older.report.stopped) {
        FAIL(ret_problem, PROBLEM_STOPPED, "", "the comparison was stopped");
    }
    TRY(compare_reports(
            &both->older.report, &both->now.report, out->arena, &compared, ret_problem));
    const struct show_places places = view_places(&both->now.document, text_of(path));
    const struct show_places older_places = view_places(&both->older.document, named);
    json_init(&json, out);
    json_open_object(&json, NULL);
    show_compare_json(&json, &compared, &places, &older_places);
    json_close_object(&json);
    if (out->arena->refused) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to compare them");
    }
    return outcome_good();
}

outcome comparing_add(const char *path, const struct document_search *search, struct text older,
        struct text named, bool (*keep_going)(void *context, size_t done, size_t waiting),
        void *context, struct text_builder *out, struct problem *ret_problem) {
    struct comparison *both = ARENA_NEW(out->arena, struct comparison);
    const struct check_options options = {.today_day = host_today(),
            .no_remedy = true,
            .proof = {.keep_going = keep_going, .keep_going_context = context}};
    if (both == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to compare them");
    }
    document_init(&both->now.document, host_pages());
    document_init(&both->older.document, host_pages());
    outcome done = read_both(both, path, search, older, named, ret_problem);
    if (done.good) {
        done = compare(both, path, named, &options, out, ret_problem);
    }
    document_finish(&both->older.document);
    document_finish(&both->now.document);
    return done;
}
