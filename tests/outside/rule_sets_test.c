/* The limits of data/rules from both sides: the last value inside and the first one outside, through the files as they
 * are installed. Beside each row its source, as the files have it. */
#include "document/document.h"
#include "host/host.h"
#include "rules/rules.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

enum { NONE = -1, MINUTE_S = 60, HOUR_S = 3600 };

struct row {
    const char *set;
    const char *key;
    size_t at;
    int32_t below; /* outside, one less than the least; NONE: there is no lower end */
    int32_t least;
    int32_t most;
    int32_t above;
};

#define AT(field) offsetof(struct site_settings, field)
#define EXIT AT(modes[SITE_MODE_FULL].exit_delay_s)
#define ENTRY AT(delays[0].seconds_s)

/* clang-format off */
static const struct row rows[] = {
    /* ANSI/SIA CP-01: 4.2.2.1 exit (45 s read in excerpt; the most from memory), 4.2.3.1 entry (30 s read in excerpt; 240 s from memory) */
    {"cp01-2019", "exit-delay",         EXIT, 44, 45, 255, 256},
    {"cp01-2007", "exit-delay",         EXIT, 44, 45, 255, 256},
    {"cp01-2000", "exit-delay",         EXIT, 44, 45, 120, 121},
    {"cp01-2019", "entry-delays.front", ENTRY, 29, 30, 240, 241},
    {"cp01-2007", "entry-delays.front", ENTRY, 29, 30, 240, 241},
    {"cp01-2000", "entry-delays.front", ENTRY, 29, 30, 240, 241},
    /* 4.2.5.1 abort window, read in excerpt: 15 to 45 s; 0 s as well from 2010 */
    {"cp01-2019", "abort-window",       AT(abort_window_s), 14, 15, 45, 46},
    {"cp01-2019", "abort-window",       AT(abort_window_s), 1, 0, 45, 46},
    {"cp01-2007", "abort-window",       AT(abort_window_s), 0, 15, 45, 46},
    {"cp01-2000", "abort-window",       AT(abort_window_s), 14, 15, 45, 46},
    /* 4.2.5.4 cancel window and the recent closing, from memory */
    {"cp01-2019", "cancel-window",      AT(cancel_window_s), 299, 300, 3600, NONE},
    {"cp01-2019", "recent-closing",     AT(recent_closing_s), 119, 120, 120, 121},
    /* 4.3.2 swinger: 1 to 6 from 2010, 1 or 2 before (read in excerpt); reset 8 h, in the oldest text 48 h (read in excerpt) */
    {"cp01-2019", "swinger-limit",      AT(swinger_limit), 0, 1, 6, 7},
    {"cp01-2007", "swinger-limit",      AT(swinger_limit), 0, 1, 2, 3},
    {"cp01-2000", "swinger-limit",      AT(swinger_limit), 0, 1, 2, 3},
    {"cp01-2019", "swinger-reset",      AT(swinger_reset_s), 8 * HOUR_S - 1, 8 * HOUR_S, 48 * HOUR_S, NONE},
    {"cp01-2000", "swinger-reset",      AT(swinger_reset_s), 48 * HOUR_S - 1, 48 * HOUR_S, 72 * HOUR_S, NONE},
    /* 4.4.3 mask after total loss, read in excerpt */
    {"cp01-2019", "power-mask",         AT(power_mask_s), 59, 60, 600, NONE},
    /* EN 50131-3: entry 45 s at most, ten tries, 90 s; EN 50131-5-3: 240 min, 120 min, 100 s; EN 50131-4: 90 s to 15 min; all from memory */
    {"en50131-grade-1", "entry-delays.front", ENTRY, NONE, 0, 45, 46},
    {"en50131-grade-2", "entry-delays.front", ENTRY, NONE, 0, 45, 46},
    {"en50131-grade-3", "entry-delays.front", ENTRY, NONE, 0, 45, 46},
    {"en50131-grade-1", "supervision-window", AT(supervision_window_s), NONE, 60, 240 * MINUTE_S, 240 * MINUTE_S + 1},
    {"en50131-grade-2", "supervision-window", AT(supervision_window_s), NONE, 60, 120 * MINUTE_S, 120 * MINUTE_S + 1},
    {"en50131-grade-3", "supervision-window", AT(supervision_window_s), NONE, 60, 100, 101},
    {"en50131-grade-2", "siren-time",   AT(siren_time_s), 89, 90, 900, 901},
    {"en50131-grade-2", "lockout-tries", AT(lockout_tries), 0, 1, 10, 11},
    {"en50131-grade-2", "lockout-time", AT(lockout_s), 89, 90, 900, NONE},
    {"en50131-grade-2", "mains-delay",  AT(mains_delay_s), NONE, 0, 60 * MINUTE_S, 60 * MINUTE_S + 1},
    /* NFPA 731, sample text of sections 4 to 10: 5.1.6.3, and CP-01 4.2.2 and 4.2.3 by reference; read in excerpt */
    {"nfpa731", "exit-delay",           EXIT, 44, 45, 600, NONE},
    {"nfpa731", "entry-delays.front",   ENTRY, 29, 30, 240, 241},
    /* common practice; 20 min: UK police letter to alarm users, read in excerpt */
    {"house", "siren-time",             AT(siren_time_s), 89, 90, 20 * MINUTE_S, 20 * MINUTE_S + 1},
    {"house", "supervision-window",     AT(supervision_window_s), NONE, 60, 24 * HOUR_S, 24 * HOUR_S + 1},
};
/* clang-format on */

static char data[1024];
static const struct document_search search = {.data = data};

/* A site of one radio contact that names one rule set; front is the outside door of its one way. */
static void read_site(struct document *document, const char *set) {
    char text[1000];
    struct problem problem = {0};
    (void)snprintf(text, sizeof text,
            "site: {name: a, rules: [%s]}\n"
            "panel: {profile: halyard-28, entry-delays: {front: 30 s}}\n"
            "areas: [{name: b}]\n"
            "doors: [{name: front, outside: yes}]\n"
            "keypads: [{name: k}]\n"
            "devices: [{name: c, profile: slim-contact, on: front}]\n"
            "zones: [{number: 1, says: x, device: c, behaviour: entry}]\n"
            "ways: [{name: w, door: front, keypad: k, last: 4..15 s}]\n",
            set);
    document_init(document, host_pages());
    if (!document_read_text(document, "f", NULL, text_of(text), &search, &problem).good) {
        print_error("%s: %s\n", set, problem.text);
        fail();
    }
}

/* How many findings of this set stand at the place. */
static size_t outside(struct document *document, const char *place) {
    struct finding *findings = NULL;
    struct problem problem = {0};
    size_t count = 0;
    size_t found = 0;
    assert_true(rules_look(&document->site, &document->arena, &findings, &count, &problem).good);
    for (size_t i = 0; i < count; i++) {
        found += text_is(findings[i].id, "rules.outside") && text_is(findings[i].place, place);
    }
    return found;
}

static void check_value(
        struct document *document, const struct row *row, int32_t value, size_t expected) {
    char place[80];
    (void)snprintf(place, sizeof place, "panel.%s", row->key);
    memcpy((char *)&document->site.settings + row->at, &value, sizeof value);
    const size_t found = value == NONE ? expected : outside(document, place);
    if (found != expected) {
        print_error("%s: %s of %d: %zu findings\n", row->set, row->key, value, found);
        fail();
    }
}

static void every_limit_holds_from_both_sides(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct document document;
        read_site(&document, rows[i].set);
        check_value(&document, &rows[i], rows[i].least, 0);
        check_value(&document, &rows[i], rows[i].most, 0);
        check_value(&document, &rows[i], rows[i].below, 1);
        check_value(&document, &rows[i], rows[i].above, 1);
        document_finish(&document);
    }
}

/* EN 50131-1 A1:2009, 8.3.8.2, read in excerpt: a trip off the route is first told inside. */
static void a_choice_is_held_as_well(void **state) {
    (void)state;
    struct document document;
    read_site(&document, "en50131-grade-2");
    document.site.settings.off_route = SITE_OFF_ROUTE_EN;
    assert_int_equal(outside(&document, "panel.off-route"), 0);
    document.site.settings.off_route = SITE_OFF_ROUTE_NOW;
    assert_int_equal(outside(&document, "panel.off-route"), 1);
    document_finish(&document);
}

/* NFPA 731, 5.1.6.2, read in excerpt: the keypad within 15 s of the entry door. */
static void the_walk_to_the_keypad_is_measured(void **state) {
    (void)state;
    struct document document;
    read_site(&document, "nfpa731");
    assert_int_equal(outside(&document, "ways[0]"), 0);
    document.site.ways[0].last.high_s = 16;
    assert_int_equal(outside(&document, "ways[0]"), 1);
    document.site.doors[0].outside = false;
    assert_int_equal(outside(&document, "ways[0]"), 0);
    document_finish(&document);
}

/* Logical code combinations, from memory: 1 000, 10 000, 100 000. A panel that does not say how long a code is: nothing
 * is measured. */
static void code_lengths_are_counted_as_combinations(void **state) {
    (void)state;
    static const char *const sets[] = {"en50131-grade-1", "en50131-grade-2", "en50131-grade-3"};
    for (int32_t grade = 0; grade < 3; grade++) {
        struct document document;
        read_site(&document, sets[grade]);
        document.site.panel.code_lengths = (struct site_numbers){.said = false};
        assert_int_equal(outside(&document, "panel.profile"), 0);
        document.site.panel.code_lengths.said = true;
        site_numbers_add(&document.site.panel.code_lengths, 3 + grade);
        assert_int_equal(outside(&document, "panel.profile"), 0);
        site_numbers_add(&document.site.panel.code_lengths, 2 + grade);
        assert_int_equal(outside(&document, "panel.profile"), 1);
        document_finish(&document);
    }
}

/* The one finding of a rule set, whatever other checks find. */
static struct finding only_outside(struct document *document) {
    struct finding *findings = NULL;
    struct problem problem = {0};
    struct finding only = {0};
    size_t count = 0;
    size_t found = 0;
    assert_true(rules_look(&document->site, &document->arena, &findings, &count, &problem).good);
    for (size_t i = 0; i < count; i++) {
        if (text_is(findings[i].id, "rules.outside")) {
            only = findings[i];
            found++;
        }
    }
    assert_int_equal(found, 1);
    return only;
}

/* The words of a finding: which set, the range, the standard with edition, clause and how sure it is. */
static void a_finding_names_its_set_edition_clause_and_certainty(void **state) {
    (void)state;
    struct document document;
    read_site(&document, "cp01-2019");
    document.site.settings.abort_window_s = 5;
    struct finding finding = only_outside(&document);
    assert_true(text_is(finding.headline, "outside cp01-2019: abort-window 5 s"));
    assert_true(text_is(finding.why, "consistent with cp01-2019 is 15 s to 45 s or 0 s"));
    assert_true(text_is(
            finding.source, "ANSI/SIA CP-01, edition 2019, clause 4.2.5.1 (read in excerpt)"));
    assert_int_equal(finding.weight, FINDING_RISK);
    document.site.settings.abort_window_s = 15;
    document.site.settings.cancel_window_s = 60; /* recalled only: a note */
    finding = only_outside(&document);
    assert_int_equal(finding.weight, FINDING_NOTE);
    document_finish(&document);
}

static void check_problem(const char *rules, const char *part) {
    char text[300];
    struct document document;
    struct problem problem = {0};
    bool told = false;
    (void)snprintf(text, sizeof text,
            "site: {name: a, rules: [%s]}\npanel: {profile: halyard-28}\nareas: [{name: b}]\n",
            rules);
    document_init(&document, host_pages());
    assert_false(document_read_text(&document, "f", NULL, text_of(text), &search, &problem).good);
    for (size_t i = 0; i < document.problem_count; i++) {
        struct text_builder line;
        text_builder_init(&line, &document.arena);
        document_problem_add(&line, &document.problems[i]);
        told = told || strstr(text_built(&line).start, part) != NULL;
    }
    if (!told) {
        print_error("%s: %s\n", rules, problem.text);
        fail();
    }
    document_finish(&document);
}

static void a_name_that_is_no_rule_set_is_a_problem_with_the_nearest(void **state) {
    (void)state;
    check_problem("cp01-2091", "f:1:25: site.rules: there is no rule set \"cp01-2091\" in rules/");
    check_problem("cp01-2091", "did you mean \"cp01-2019\"?");
    check_problem("house, hous", "did you mean \"house\"?");
}

int main(void) {
    const char *source = getenv("LINTEL_SOURCE");
    (void)snprintf(data, sizeof data, "%s/data", source == NULL ? "." : source);
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(every_limit_holds_from_both_sides),
            cmocka_unit_test(a_choice_is_held_as_well),
            cmocka_unit_test(the_walk_to_the_keypad_is_measured),
            cmocka_unit_test(code_lengths_are_counted_as_combinations),
            cmocka_unit_test(a_finding_names_its_set_edition_clause_and_certainty),
            cmocka_unit_test(a_name_that_is_no_rule_set_is_a_problem_with_the_nearest),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
