#include "archive/inside.h"

#include <string.h>

/** Where an account is kept, if it is. */
static struct archive_known *place_of(
        struct archive *archive, const struct archive_signal *signal) {
    uint64_t hash = UINT64_C(0xCBF29CE484222325) ^ signal->prefix;
    for (size_t i = 0; i < signal->account.length; i++) {
        hash = (hash ^ (unsigned char)signal->account.start[i]) * UINT64_C(0x100000001B3);
    }
    return &archive->known[(hash ^ hash >> 32) % ARCHIVE_KNOWN_ACCOUNTS];
}

static bool is_of(const struct archive_known *known, const struct archive_signal *signal) {
    return known->id != 0 && known->length > 0 && known->prefix == signal->prefix &&
            known->length == signal->account.length &&
            memcmp(known->digits, signal->account.start, known->length) == 0;
}

static void keep(struct archive_known *known, const struct archive_signal *signal, int64_t id) {
    if (signal->account.length > 0 && signal->account.length <= sizeof known->digits) {
        known->id = id;
        known->prefix = signal->prefix;
        known->length = (uint8_t)signal->account.length;
        memcpy(known->digits, signal->account.start, known->length);
    }
}

/** The account's id; added where it is not there yet. */
static outcome account_of(struct archive *archive, const struct archive_signal *signal,
        int64_t *ret_id, struct problem *ret_problem) {
    const struct archive_store *store = archive->store;
    struct archive_known *known = place_of(archive, signal);
    const struct archive_value values[] = {
            archive_text(signal->account), archive_number(signal->prefix)};
    *ret_id = 0;
    if (is_of(known, signal)) {
        *ret_id = known->id;
        return outcome_good();
    }
    TRY(store->ask(archive, ARCHIVE_FIND_ACCOUNT, values, 2, ret_id, ret_problem));
    TRY(store->wait(archive, ret_problem));
    if (*ret_id == 0) {
        TRY(store->ask(archive, ARCHIVE_ADD_ACCOUNT, values, 2, ret_id, ret_problem));
        TRY(store->wait(archive, ret_problem));
    }
    keep(known, signal, *ret_id);
    return outcome_good();
}

enum { SIGNAL_VALUES = 11 };

static void fill(struct archive_value *values, const struct archive_signal *signal, int64_t id,
        int64_t account_id) {
    const struct archive_value of[SIGNAL_VALUES] = {archive_number(id), archive_number(account_id),
            archive_number(signal->received_ms), archive_number(signal->sequence),
            {.kind = ARCHIVE_NUMBER, .none = !signal->stamped, .number = signal->sent_s},
            archive_number(signal->encrypted), archive_text(signal->token),
            archive_bytes(signal->data), archive_number((int64_t)signal->digest),
            archive_bytes(signal->frame), archive_text(signal->peer)};
    memcpy(values, of, sizeof of);
}

/** After which signal a repeat is looked for. In a file only what is in doubt is, and its ids tell it, whatever the
 *  clock did since. */
static int64_t first_looked_at(const struct archive *archive) {
    return archive->store->shared ? archive->repeats_after : archive->doubt_after;
}

/** What is stored in one go. added: how many were not there yet. ahead_ms: see struct archive. */
struct group {
    struct archive_signal *signals;
    size_t count;
    const struct archive_refusal *refusals;
    size_t refusal_count;
    size_t added;
    int64_t ahead_ms;
};

/** Stores it unless it is there already; its id is 0 then. On a server another may have stored it; else it may be
 *  there though storing it failed. */
static outcome add_doubted(
        struct archive *archive, struct archive_signal *signal, struct problem *ret_problem) {
    const bool shared = archive->store->shared;
    struct archive_value values[SIGNAL_VALUES + 4];
    int64_t account_id = 0;
    signal->id = 0;
    TRY(account_of(archive, signal, &account_id, ret_problem));
    fill(values, signal, ++archive->last_signal, account_id);
    values[SIGNAL_VALUES] = archive_number(signal->received_ms - ARCHIVE_DOUBT_MS);
    values[SIGNAL_VALUES + 1] = archive_number(signal->received_ms + ARCHIVE_DOUBT_MS);
    values[SIGNAL_VALUES + 2] = archive_number(first_looked_at(archive));
    values[SIGNAL_VALUES + 3] = archive_number(archive->doubt_up_to);
    return archive->store->ask(archive,
            shared ? ARCHIVE_ADD_NEW_SIGNAL : ARCHIVE_ADD_DOUBTED_SIGNAL, values,
            shared ? SIGNAL_VALUES + 3 : SIGNAL_VALUES + 4, &signal->id, ret_problem);
}

static outcome add(
        struct archive *archive, struct archive_signal *signal, struct problem *ret_problem) {
    struct archive_value values[SIGNAL_VALUES];
    int64_t account_id = 0;
    TRY(account_of(archive, signal, &account_id, ret_problem));
    signal->id = ++archive->last_signal;
    fill(values, signal, signal->id, account_id);
    return archive->store->ask(
            archive, ARCHIVE_ADD_SIGNAL, values, SIGNAL_VALUES, NULL, ret_problem);
}

/** The id of one that was there already. */
static outcome find_doubted(
        struct archive *archive, struct archive_signal *signal, struct problem *ret_problem) {
    const bool shared = archive->store->shared;
    int64_t account_id = 0;
    TRY(account_of(archive, signal, &account_id, ret_problem));
    const struct archive_value values[] = {archive_number(account_id),
            archive_number(signal->sequence), archive_text(signal->token),
            archive_bytes(signal->data), archive_number((int64_t)signal->digest),
            archive_number(signal->received_ms - ARCHIVE_DOUBT_MS),
            archive_number(signal->received_ms + ARCHIVE_DOUBT_MS),
            archive_number(first_looked_at(archive)), archive_number(archive->doubt_up_to)};
    const size_t count = sizeof values / sizeof values[0];
    return archive->store->ask(archive, shared ? ARCHIVE_FIND_SIGNAL : ARCHIVE_FIND_DOUBTED_SIGNAL,
            values, shared ? count - 1 : count, &signal->id, ret_problem);
}

static outcome add_refusal(struct archive *archive, const struct archive_refusal *refusal,
        struct problem *ret_problem) {
    const struct archive_value values[] = {archive_number(refusal->first_ms),
            archive_number(refusal->last_ms), archive_number(refusal->count),
            archive_text(refusal->reason), archive_text(refusal->peer),
            archive_text(refusal->account), archive_bytes(refusal->sample)};
    return archive->store->ask(archive, ARCHIVE_ADD_REFUSAL, values,
            sizeof values / sizeof values[0], NULL, ret_problem);
}

/** Whether a signal may be there already. */
static bool in_doubt(const struct archive *archive, const struct archive_signal *signal) {
    return archive->store->shared || signal->steady_ms < archive->doubt_ms;
}

/** What is a repeat is known by the calendar, and a clock that was set back shows for the second time what it showed
 *  when something else was stored: so nothing of before counts. Where that happened between a stop and a start, what
 *  was stored last tells, if it lies ahead. */
static outcome look_at_clock(
        struct archive *archive, const struct group *group, struct problem *ret_problem) {
    /* by which a clock may be put right */
    enum { SLACK_MS = 10000 };
    const struct archive_store *store = archive->store;
    const bool set_back = archive->ahead_known && group->ahead_ms < archive->ahead_ms - SLACK_MS;
    if (store->shared && !archive->ahead_known) {
        const struct archive_value until =
                archive_number(group->signals[0].received_ms + ARCHIVE_DOUBT_MS);
        TRY(store->ask(
                archive, ARCHIVE_LAST_AHEAD, &until, 1, &archive->repeats_after, ret_problem));
        TRY(store->wait(archive, ret_problem));
    } else if (set_back) {
        archive->repeats_after = archive->last_signal;
        /* since the last failures began nothing was acknowledged; before, something may have been */
        archive->doubt_after = archive->failed_after;
        /* the group too: its first may have come before */
        archive->back_up_to = archive->last_signal + (int64_t)group->count;
    }
    if (!archive->ahead_known || set_back || group->ahead_ms > archive->ahead_ms) {
        archive->ahead_ms = group->ahead_ms;
    }
    archive->ahead_known = true;
    return outcome_good();
}

static outcome append(struct archive *archive, void *context, struct problem *ret_problem) {
    const struct archive_store *store = archive->store;
    struct group *group = context;
    size_t doubted = 0;
    if (group->count > 0) {
        TRY(look_at_clock(archive, group, ret_problem));
    }
    archive->doubt_up_to = archive->failed ? archive->begun_after : archive->doubt_up_to;
    for (size_t i = 0; i < group->count; i++) {
        struct archive_signal *signal = &group->signals[i];
        if (!in_doubt(archive, signal)) {
            TRY(add(archive, signal, ret_problem));
            continue;
        }
        doubted++;
        TRY(add_doubted(archive, signal, ret_problem));
    }
    if (doubted > 0) {
        TRY(store->wait(archive, ret_problem));
    }
    for (size_t i = 0; doubted > 0 && i < group->count; i++) {
        struct archive_signal *signal = &group->signals[i];
        if (signal->id == 0) {
            TRY(find_doubted(archive, signal, ret_problem));
        }
    }
    for (size_t i = 0; i < group->refusal_count; i++) {
        TRY(add_refusal(archive, &group->refusals[i], ret_problem));
    }
    return group->refusal_count == 0
            ? outcome_good()
            : store->ask(archive, ARCHIVE_FORGET_REFUSALS, NULL, 0, NULL, ret_problem);
}

/** Storing them failed. Where it was not begun, nothing is in doubt. What failed earlier stays in doubt, unless the
 *  clock was set back since: of what was acknowledged in between the calendar's time then says nothing. Better one is
 *  stored twice than lost. */
static void doubt(struct archive *archive, const struct archive_signal *signals, size_t count) {
    if (count == 0 || archive->begun_after < 0) {
        return;
    }
    const bool lapsed = signals[0].steady_ms >= archive->doubt_ms;
    const bool set_back = archive->doubt_after < archive->back_up_to;
    if (lapsed || (set_back && !archive->failed)) {
        archive->doubt_after = archive->begun_after;
    }
    archive->failed_after = archive->failed ? archive->failed_after : archive->begun_after;
    archive->failed = true;
    for (size_t i = 0; i < count; i++) {
        const int64_t until_ms = signals[i].steady_ms + ARCHIVE_DOUBT_MS;
        archive->doubt_ms = until_ms > archive->doubt_ms ? until_ms : archive->doubt_ms;
    }
}

outcome archive_append(struct archive *archive, struct archive_signal *signals, size_t count,
        const struct archive_refusal *refusals, size_t refusal_count, struct problem *ret_problem) {
    struct group group = {.signals = signals,
            .count = count,
            .refusals = refusals,
            .refusal_count = refusal_count,
            .ahead_ms =
                    count == 0 ? 0 : signals[count - 1].received_ms - signals[count - 1].steady_ms};
    outcome result = archive_transact(archive, append, &group, ret_problem);
    for (size_t i = 0; !result.good && i < count; i++) {
        signals[i].id = 0;
    }
    if (result.good) {
        archive->failed = false;
    } else {
        doubt(archive, signals, count);
    }
    return result;
}

static outcome add_imported(
        struct archive *archive, struct archive_signal *signal, struct problem *ret_problem) {
    struct archive_value values[SIGNAL_VALUES];
    int64_t account_id = 0;
    signal->id = 0;
    TRY(account_of(archive, signal, &account_id, ret_problem));
    fill(values, signal, ++archive->last_signal, account_id);
    return archive->store->ask(
            archive, ARCHIVE_IMPORT_SIGNAL, values, SIGNAL_VALUES, &signal->id, ret_problem);
}

/** Whether looking for each by its time would take long: there are many, or some stand among very many of their instant
 *  already. An index of a large archive for a few that do not would take longer. */
static outcome looks_long(struct archive *archive, const struct group *group, bool *ret_long,
        struct problem *ret_problem) {
    enum { MANY = 1000, LOOKS_MOST = 100000 };
    int64_t looks = 0;
    int64_t of_instant = 0;
    for (size_t i = 0; group->count <= MANY && i < group->count; i++) {
        const struct archive_value at = archive_number(group->signals[i].received_ms);
        if (i == 0 || at.number != group->signals[i - 1].received_ms) {
            TRY(archive->store->ask(
                    archive, ARCHIVE_COUNT_INSTANT, &at, 1, &of_instant, ret_problem));
        }
        looks += of_instant;
    }
    *ret_long = group->count > MANY || looks > LOOKS_MOST;
    return outcome_good();
}

/* Signals are looked for by their time; a file may have ever so many of one instant, and nobody else is stored until
 * all of it is. So of many they are looked for by what they say, in an index that is gone again when they are stored. A
 * server keeps another, and has others who look. */
static outcome import(struct archive *archive, void *context, struct problem *ret_problem) {
    struct group *group = context;
    bool many = false;
    group->added = 0;
    if (!archive->store->shared) {
        TRY(looks_long(archive, group, &many, ret_problem));
    }
    if (many) {
        TRY(archive->store->run(
                archive, "CREATE INDEX imported ON signals (digest, received_ms)", ret_problem));
    }
    for (size_t i = 0; i < group->count; i++) {
        TRY(add_imported(archive, &group->signals[i], ret_problem));
    }
    TRY(archive->store->wait(archive, ret_problem));
    if (many) {
        TRY(archive->store->run(archive, "DROP INDEX imported", ret_problem));
    }
    for (size_t i = 0; i < group->count; i++) {
        group->added += group->signals[i].id != 0;
    }
    return outcome_good();
}

outcome archive_import(struct archive *archive, struct archive_signal *signals, size_t count,
        size_t *ret_added, struct problem *ret_problem) {
    struct group group = {.signals = signals, .count = count};
    outcome result = archive_transact(archive, import, &group, ret_problem);
    *ret_added = result.good ? group.added : 0;
    return result;
}

/** What is handed on, page by page: what takes it may ask the archive itself. */
struct signals_taken {
    bool (*take)(void *context, const struct archive_signal *signal);
    void *context;
    size_t left; /* how many are still wanted; SIZE_MAX: all */
    int64_t last_id;
    size_t of_page;
    bool more;
};

static bool take_signal(void *context, const struct archive_value *row) {
    struct signals_taken *taken = context;
    const struct archive_signal signal = {.id = row[0].number,
            .received_ms = row[1].number,
            .prefix = (uint32_t)row[2].number,
            .account = row[3].text,
            .sequence = (uint16_t)row[4].number,
            .stamped = !row[5].none,
            .sent_s = row[5].number,
            .encrypted = row[6].number != 0,
            .token = row[7].text,
            .data = row[8].text,
            .digest = (uint64_t)row[9].number,
            .frame = row[10].text,
            .peer = row[11].text,
            .imported = row[12].number != 0};
    taken->last_id = signal.id;
    taken->of_page++;
    taken->left -= taken->left != SIZE_MAX;
    taken->more = taken->take(taken->context, &signal);
    return taken->more;
}

/* Among them: after $1, up to $2, since $3, of the account $4 with prefix $5 (empty: of all), $6 of them. By id, page
 * after page: by time each page would have to look at all of that time again. */
#define SIGNALS_ASKED                                                                              \
    "SELECT s.id, received_ms, prefix, digits, sequence, sent_s, encrypted, token, data, digest,"  \
    " frame, peer, imported FROM signals s JOIN accounts a ON a.id = s.account_id"                 \
    " WHERE s.id > $1 AND s.id <= $2 AND +received_ms >= $3"                                       \
    " AND ($4 = '' OR digits = $4 AND $5 IN (prefix, -1)) ORDER BY s.id"

static bool take_number(void *context, const struct archive_value *row) {
    *(int64_t *)context = row[0].number;
    return false;
}

outcome archive_last(struct archive *archive, int64_t *ret_id, struct problem *ret_problem) {
    return archive_rows(archive, archive_statements[ARCHIVE_LAST_SIGNAL], NULL, 0, take_number,
            ret_id, ret_problem);
}

outcome archive_last_later(
        struct archive *archive, int64_t than_ms, int64_t *ret_id, struct problem *ret_problem) {
    const struct archive_value than = archive_number(than_ms);
    return archive_rows(archive, archive_statements[ARCHIVE_LAST_AHEAD], &than, 1, take_number,
            ret_id, ret_problem);
}

outcome archive_each(struct archive *archive, struct archive_query query,
        bool (*take)(void *context, const struct archive_signal *signal), void *context,
        struct problem *ret_problem) {
    enum { PAGE = 1000 };
    struct signals_taken taken = {.take = take,
            .context = context,
            .left = query.most == 0 ? SIZE_MAX : query.most,
            .of_page = PAGE,
            .more = true};
    int64_t last = 0;
    TRY(archive_last(archive, &last, ret_problem));
    query.up_to_id = query.up_to_id == 0 || query.up_to_id > last ? last : query.up_to_id;
    if (query.since_ms > 0) {
        const struct archive_value of[] = {archive_number(query.since_ms),
                archive_number(query.begun_ms == 0 ? INT64_MAX : query.begun_ms)};
        int64_t first = 0;
        /* + 0: else the least id is looked for from the first signal that there ever was */
        TRY(archive_rows(archive,
                "SELECT COALESCE(MIN(id + 0), 0) FROM signals WHERE received_ms BETWEEN $1 AND $2",
                of, 2, take_number, &first, ret_problem));
        taken.more = first != 0;
        query.after_id = first > query.after_id ? first - 1 : query.after_id;
    }
    while (taken.more && taken.left > 0 && taken.of_page == PAGE) {
        const struct archive_value values[] = {archive_number(query.after_id),
                archive_number(query.up_to_id), archive_number(query.since_ms),
                archive_text(query.account),
                archive_number(query.any_prefix ? -1 : (int64_t)query.prefix),
                archive_number(taken.left < PAGE ? (int64_t)taken.left : PAGE)};
        taken.of_page = 0;
        TRY(archive_rows(archive,
                query.newest_first ? SIGNALS_ASKED " DESC LIMIT $6" : SIGNALS_ASKED " LIMIT $6",
                values, sizeof values / sizeof values[0], take_signal, &taken, ret_problem));
        query.after_id = query.newest_first ? query.after_id : taken.last_id;
        query.up_to_id = query.newest_first ? taken.last_id - 1 : query.up_to_id;
    }
    return outcome_good();
}

struct refusals_taken {
    bool (*take)(void *context, const struct archive_refusal *refusal);
    void *context;
};

static bool take_refusal(void *context, const struct archive_value *row) {
    const struct refusals_taken *taken = context;
    const struct archive_refusal refusal = {.first_ms = row[0].number,
            .last_ms = row[1].number,
            .count = row[2].number,
            .reason = row[3].text,
            .peer = row[4].text,
            .account = row[5].text,
            .sample = row[6].text};
    return taken->take(taken->context, &refusal);
}

outcome archive_each_refusal(struct archive *archive,
        bool (*take)(void *context, const struct archive_refusal *refusal), void *context,
        struct problem *ret_problem) {
    struct refusals_taken taken = {take, context};
    return archive_rows(archive,
            "SELECT first_ms, last_ms, count, reason, peer, account, sample FROM refusals"
            " ORDER BY id",
            NULL, 0, take_refusal, &taken, ret_problem);
}
