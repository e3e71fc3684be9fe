/* Rules: what is programmed, held against what the trade knows and against the limits of standards.
 *
 * A check is a row: its name, weight, words and source, and a function that looks for it. Rows lie in one file for each
 * idea (delays.c, reporting.c ...), which lists them in a struct rules_checks; rules.c lists those. To add a check: a
 * row, a function, a test that sees the finding and one that sees none. Not for what needs time to pass: that is the
 * proof's. */
#ifndef LINTEL_RULES_RULES_H
#define LINTEL_RULES_RULES_H

#include "base/finding.h"
#include "site/site.h"
#include "site/words.h"

struct rules_check;
struct coverage;
struct house;
struct rules_link;
struct rules_moves;
struct used_ways;

/** Findings while they are gathered. site: borrows; house: of its drawing, NULL without one; coverage: what detectors
 *  see of it, NULL without one, or where it could not be computed: then blind_reason says why; ways: that people use
 *  in it, NULL without one or where they are beyond what can be found. links: of radio; moves: what could be
 *  done about them, NULL: nobody has asked yet; shift_db: what the building loses more than computed, by
 *  measurements. findings: in the arena. */
struct rules_finder {
    const struct site *site;
    const struct house *house;
    const struct coverage *coverage;
    const char *blind_reason;
    const struct used_ways *ways;
    struct rules_link *links;
    size_t link_count;
    struct rules_moves *moves;
    double shift_db;
    struct arena *arena;
    struct finding *findings;
    size_t count;
    size_t capacity;
};

/** A question about one zone. */
typedef bool rules_zone_question(const struct site *site, const struct site_zone *zone);

/** A question about one code. */
typedef bool rules_code_question(const struct site *site, const struct site_code *code);

/** One check. headline, why, remedy, price: patterns (site/words.h); NULL: there is none. source: standard, edition,
 *  clause, or "common practice". look: adds what it finds with rules_add; where it serves several rows, the row says
 *  the rest. question, key: for rules_look_zones (zones.h). of_code: for the codes of codes.c. variant: which of two
 *  rows this is, as that look says. */
struct rules_check {
    const char *id;
    enum finding_weight weight;
    const char *headline;
    const char *why;
    const char *remedy;
    const char *price;
    const char *source;
    void (*look)(struct rules_finder *finder, const struct rules_check *check);
    rules_zone_question *question;
    const char *key;
    rules_code_question *of_code;
    bool variant;
};

/** The checks of one idea. */
struct rules_checks {
    const struct rules_check *rows;
    size_t count;
};

/** Everything that is wrong, at risk or worth knowing with the settings themselves, in the order of the table. Findings
 *  and their texts are in the arena. */
outcome rules_look(const struct site *site, struct arena *arena, struct finding **ret_findings,
        size_t *ret_count, struct problem *ret_problem) MUST_CHECK;

/** All rows there are, one after the other: index 0 .. ; NULL beyond the last. */
const struct rules_check *rules_check_at(size_t index);

/** Adds a finding in the words of the check. place: path in the site file, printf style; "" for the whole site. */
void rules_add(struct rules_finder *finder, const struct rules_check *check,
        const struct words_about *about, const char *place, ...)
        __attribute__((format(printf, 4, 5)));

/** Gives the finding that was added last a remedy that was tried: its words instead of the check's, and its edits
 *  (copied). Nothing where memory was refused. price: empty: as it is. */
void rules_mend(struct rules_finder *finder, struct text remedy, struct text price,
        const struct finding_edit *edits, size_t edit_count);

#endif
