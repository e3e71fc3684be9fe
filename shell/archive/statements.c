#include "archive/inside.h"

/* Both stores take them as they stand: $1, $2 and so on must come in this order where they come for the first time, as
 * one of the two numbers them so. Numbers of rows are counted up by hand, below the lock that each transaction begins
 * with: so they ascend in the order of storing whoever stores, and who has read up to one has missed none. */
const char *const archive_statements[ARCHIVE_STATEMENT_COUNT] = {
        [ARCHIVE_LAST_SIGNAL] = "SELECT COALESCE(MAX(id), 0) FROM signals",
        [ARCHIVE_FIND_ACCOUNT] = "SELECT id FROM accounts WHERE digits = $1 AND prefix = $2",
        [ARCHIVE_ADD_ACCOUNT] = "INSERT INTO accounts (id, digits, prefix)"
                                " SELECT COALESCE(MAX(id), 0) + 1, $1, $2 FROM accounts"
                                " RETURNING id",
        [ARCHIVE_ADD_SIGNAL] =
                "INSERT INTO signals (id, account_id, received_ms, sequence, sent_s, encrypted,"
                " token, data, digest, frame, peer)"
                " VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11)",
        /* Of what was brought in by hand (imported) nothing was ever acknowledged: what comes is no repeat of it. */
        [ARCHIVE_ADD_NEW_SIGNAL] =
                "INSERT INTO signals (id, account_id, received_ms, sequence, sent_s, encrypted,"
                " token, data, digest, frame, peer)"
                " SELECT $1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11 WHERE NOT EXISTS"
                " (SELECT 1 FROM signals WHERE account_id = $2 AND sequence = $4 AND token = $7"
                " AND data = $8 AND digest = $9 AND received_ms BETWEEN $12 AND $13"
                " AND imported = 0 AND id > $14) RETURNING id",
        [ARCHIVE_FIND_SIGNAL] =
                "SELECT id FROM signals WHERE account_id = $1 AND sequence = $2 AND token = $3"
                " AND data = $4 AND digest = $5 AND received_ms BETWEEN $6 AND $7"
                " AND imported = 0 AND id > $8 ORDER BY id",
        [ARCHIVE_IMPORT_SIGNAL] =
                "INSERT INTO signals (id, account_id, received_ms, sequence, sent_s, encrypted,"
                " token, data, digest, frame, peer, imported)"
                " SELECT $1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, 1 WHERE NOT EXISTS"
                " (SELECT 1 FROM signals WHERE account_id = $2 AND sequence = $4 AND token = $7"
                " AND data = $8 AND digest = $9 AND received_ms = $3) RETURNING id",
        /* By id alone: of the minutes around there may be ever so many. */
        [ARCHIVE_ADD_DOUBTED_SIGNAL] =
                "INSERT INTO signals (id, account_id, received_ms, sequence, sent_s, encrypted,"
                " token, data, digest, frame, peer)"
                " SELECT $1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11 WHERE NOT EXISTS"
                " (SELECT 1 FROM signals WHERE account_id = $2 AND sequence = $4 AND token = $7"
                " AND data = $8 AND digest = $9 AND +received_ms BETWEEN $12 AND $13"
                " AND imported = 0 AND id > $14 AND id <= $15) RETURNING id",
        [ARCHIVE_FIND_DOUBTED_SIGNAL] =
                "SELECT id FROM signals WHERE account_id = $1 AND sequence = $2 AND token = $3"
                " AND data = $4 AND digest = $5 AND +received_ms BETWEEN $6 AND $7"
                " AND imported = 0 AND id > $8 AND id <= $9 ORDER BY id",
        [ARCHIVE_COUNT_INSTANT] = "SELECT COUNT(*) FROM"
                                  " (SELECT 1 FROM signals WHERE received_ms = $1 LIMIT 1000) AS a",
        /* + 0: else the highest id is looked for from the last signal down */
        [ARCHIVE_LAST_AHEAD] = "SELECT COALESCE(MAX(id + 0), 0) FROM signals"
                               " WHERE received_ms > $1 AND imported = 0",
        [ARCHIVE_ADD_REFUSAL] =
                "INSERT INTO refusals (id, first_ms, last_ms, count, reason, peer, account, sample)"
                " SELECT COALESCE(MAX(id), 0) + 1, $1, $2, $3, $4, $5, $6, $7 FROM refusals",
        /* Whoever reaches the port can be refused as often as he likes: that must not fill the disk. */
        [ARCHIVE_FORGET_REFUSALS] =
                "DELETE FROM refusals WHERE id <= (SELECT MAX(id) FROM refusals) - 100000",
        [ARCHIVE_ADD_ACT] = "INSERT INTO acts (id, site, at_ms, act, test, by, after_signal)"
                            " SELECT COALESCE(MAX(id), 0) + 1, $1, $2, $3, $4, $5,"
                            " COALESCE($6, (SELECT COALESCE(MAX(id), 0) FROM signals))"
                            " FROM acts RETURNING id",
};
