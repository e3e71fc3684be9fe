#include "archive/inside.h"

static outcome add(struct archive *archive, void *context, struct problem *ret_problem) {
    struct archive_act *act = context;
    struct archive_value after = archive_number(act->after_signal);
    after.none = act->after_signal == ARCHIVE_LAST;
    const struct archive_value values[] = {archive_text(act->site), archive_number(act->at_ms),
            archive_text(act->act), archive_text(act->test), archive_text(act->by), after};
    return archive->store->ask(archive, ARCHIVE_ADD_ACT, values, sizeof values / sizeof values[0],
            &act->id, ret_problem);
}

outcome archive_add_act(
        struct archive *archive, struct archive_act *act, struct problem *ret_problem) {
    return archive_transact(archive, add, act, ret_problem);
}

struct acts_taken {
    struct text site;
    bool (*take)(void *context, const struct archive_act *act);
    void *context;
};

static bool take_row(void *context, const struct archive_value *row) {
    const struct acts_taken *taken = context;
    const struct archive_act act = {.id = row[0].number,
            .site = taken->site,
            .at_ms = row[1].number,
            .act = row[2].text,
            .test = row[3].text,
            .by = row[4].text,
            .after_signal = row[5].number};
    return taken->take(taken->context, &act);
}

outcome archive_each_act(struct archive *archive, struct text site, int64_t after_id,
        bool (*take)(void *context, const struct archive_act *act), void *context,
        struct problem *ret_problem) {
    struct acts_taken taken = {site, take, context};
    const struct archive_value values[] = {archive_text(site), archive_number(after_id)};
    return archive_rows(archive,
            "SELECT id, at_ms, act, test, by, after_signal FROM acts WHERE site = $1 AND id > $2"
            " ORDER BY id",
            values, 2, take_row, &taken, ret_problem);
}
