/* Bad input: for each slip the line, the column and the words that help. Nothing crashes, nothing is written. */
#include "document/test_document.h"

#define TOP                                                                                        \
    "site: {name: a}\npanel: {profile: halyard-28, entry-delays: {front: 30 s}}\nareas: [{name: "  \
    "b}]\n"
#define THINGS                                                                                     \
    "doors: [{name: d}]\nkeypads: [{name: k}]\ndevices: [{name: c, profile: slim-contact, on: "    \
    "d}]\n"                                                                                        \
    "people: [{name: baker, fob: yes}, {name: guest, code: no}, {name: dog, animal: yes}]\n"       \
    "ways: [{name: w, door: d}]\n"
#define STEPS TOP THINGS "routines:\n- name: r\n  who: baker\n  steps:\n"

struct slip {
    const char *text;
    const char *told; /* part of one printed line */
};

static void assert_slip(const struct slip *slip) {
    struct test_pages pages = {.left = -1};
    struct document document;
    struct problem problem = {0};
    document_init(&document, test_pages(&pages));
    const bool good = document_read_text(
            &document, "f", test_fixture("."), text_of(slip->text), NULL, &problem)
                              .good;
    if (good || !test_told(&document, slip->told)) {
        print_message("# wanted: %s\n", slip->told);
        test_print_problems(&document);
    }
    assert_false(good);
    assert_true(test_told(&document, slip->told));
    assert_true(problem.kind != PROBLEM_NONE);
    document_finish(&document);
    assert_int_equal(pages.out, 0);
}

#define ASSERT_SLIPS(slips)                                                                        \
    for (size_t slip_ = 0; slip_ < sizeof(slips) / sizeof(slips)[0]; slip_++) {                    \
        assert_slip(&(slips)[slip_]);                                                              \
    }

static void not_a_site_file(void **state) {
    (void)state;
    static const struct slip slips[] = {
            {"", "f: the file is empty"},
            {"\n\n# only a remark\n", "f: the file is empty"},
            {"---\n...\n", "f: the file is empty"},
            {"\xEF\xBB\xBF", "f: the file is empty"},
            {"hello", "f:1:1: expected keys and values"},
            {"[1, 2]", "f:1:1: expected keys and values"},
            {"a: \x01", "f:1:4: byte 4 (0x01) is a control character"},
            {"\x7F"
             "ELF\x02\x01\x01",
                    "f:1:1: byte 1 (0x7F) is a control character"},
            {"a: caf\xE9\n", "f:1:7: byte 7 (0xE9) is not UTF-8; save the file as UTF-8"},
            {"a: 1\nb: \xC0\xAF\n", "f:2:4: byte 9 (0xC0) is not UTF-8"},
            {"a: \xED\xA0\x80\n", "f:1:4: byte 4 (0xED) is not UTF-8"},
            {"a: \xF4\x90\x80\x80\n", "f:1:4: byte 4 (0xF4) is not UTF-8"},
            {"a: \xE2\x82", "f:1:4: byte 4 (0xE2) is not UTF-8"},
            {"\xFF\xFE"
             "a",
                    "f:1:1: this is UTF-16; save the file as UTF-8"},
            {"a: \xC2\x85"
             "b\xC2\x9F",
                    "is a control character"},
    };
    ASSERT_SLIPS(slips);
}

static void a_byte_that_is_nul(void **state) {
    (void)state;
    struct test_pages pages = {.left = -1};
    struct document document;
    struct problem problem = {0};
    document_init(&document, test_pages(&pages));
    assert_false(document_read_text(
            &document, "f", NULL, (struct text){.start = "a: \0b", .length = 5}, NULL, &problem)
                         .good);
    assert_string_equal(problem.text,
            "f:1:4: byte 4 (0x00) is a control character: this is not a text file; a site file "
            "is YAML");
    document_finish(&document);
}

static void not_yaml(void **state) {
    (void)state;
    static const struct slip slips[] = {
            {"site:\n\tname: a\n",
                    "f:2:1: this is not YAML: a tab stands here; indent with blanks"},
            {"site: {name: \"a}\npanel: {}\n", "f:1:"},
            {"name: a: b\n", "a value with \": \" in it stands in quotes"},
            {"site:\n  name: a\n invented: yes\n",
                    "f:3:2: this is not YAML: invalid indentation in mapping"},
            {TOP "---\nsite: {name: b}\n", "f:4:1: a second document begins here"},
            {"a: &x 1\n", "f:1:4: anchors (&) are not read"},
            {"a: *x\n", "f:1:4: aliases (*) are not read"},
            {"site: {name: !!str a}\n", "f:1:14: tags (!) are not read"},
            {"site: {name: \"a\\\n  b\"}\n",
                    "f:1:14: a backslash at the end of a line is not read here"},
            {"{[a]: b}\n", "f:1:2: a key must be one word"},
            {"? - a\n: b\n", "a key must be one word"},
    };
    ASSERT_SLIPS(slips);
}

static void keys_and_kinds(void **state) {
    (void)state;
    static const struct slip slips[] = {
            {TOP "zone: []\n", "f:4:1: there is no key \"zone\" here; did you mean \"zones\"?"},
            {TOP "weather: []\n",
                    "f:4:1: there is no key \"weather\" here; docs/site-file.md lists those of "
                    "site file"},
            {TOP "bypassable: no\n",
                    "f:4:1: there is no key \"bypassable\" here; it is one of zones[]"},
            {TOP "name: x\n",
                    "there is no key \"name\" here; docs/site-file.md lists those of site file"},
            {TOP "battery-since: 2026-01-01\n",
                    "there is no key \"battery-since\" here; it is one of panel and of devices[]"},
            {TOP "zones: [{numbr: 1}]\n",
                    "f:4:10: zones[0]: there is no key \"numbr\" here; did you mean \"number\"?"},
            {TOP "zones: [{behavior: entry}]\n",
                    "zones[0]: there is no key \"behavior\" here; did you mean \"behaviour\"?"},
            {TOP "site: {name: b}\n",
                    "f:4:1: the key \"site\" stands here and already in line 1; keep one of them"},
            {TOP "doors:\n- name: x\n  outside: no\n  name: y\n",
                    "f:7:3: the key \"name\" stands here and already in line 5; keep one of them, "
                    "or "
                    "begin a new line of the list with \"- \""},
            {"site: {}\n", "f:1:7: site: the key \"name\" is missing"},
            {"site: {name: a}\n", "f:1:1: the key \"panel\" is missing"},
            {TOP "doors: yard\n", "f:4:8: doors: expected a list"},
            {TOP "doors: {name: x}\n", "f:4:8: doors: expected a list"},
            {TOP "doors: [yard]\n",
                    "f:4:9: doors[0]: expected keys and values, such as {name: yard door, outside: "
                    "yes}"},
            {TOP "doors:\n  - name: x\n    # - no\n  -\n",
                    "f:7:3: doors[1]: expected keys and values"},
            {TOP "doors:\n  - name: x\n\n  - \n  - {name: x}\n",
                    "f:7:3: doors[1]: expected keys and values"},
            {TOP "doors:\n  -\n  -\n", "f:6:3: doors[1]: expected keys and values"},
            {TOP "doors:\n  -\n", "f:5:3: doors[0]: expected keys and values"},
            {TOP "doors:\n- name: x\n-\n- name: y\n",
                    "f:7:1: this is not YAML: did not find expected node content; an entry before"},
            {TOP "doors: [{: x}]\n", "f:4:9: doors[0]: there is no key \"\" here"},
            {TOP "doors: [{name: [x]}]\n", "f:4:16: doors[0].name: expected a text, not a list"},
            {TOP "doors: [{name: }]\n", "doors[0].name: expected a text, not nothing"},
            {TOP "doors: [{name: ~}]\n", "doors[0].name: expected a text, not nothing"},
            {TOP "doors: [{name: \"a\\nb\"}]\n",
                    "doors[0].name: line breaks, tabs and control characters"},
            {TOP "doors: [{name: \"\"}]\n", "doors[0].name: 0 characters; expected 1 to 60"},
            {TOP "doors: [{name: x, outside: maybe}]\n",
                    "f:4:28: doors[0].outside: expected yes or no, not \"maybe\""},
            {TOP "doors: [{name: x, outside: \"yes\"}]\n", "write yes without quotes, not \"yes\""},
            {TOP "doors: [{name: x, outside: Yes}]\n", "write yes, not \"Yes\""},
            {TOP "doors: [{name: x, outside: on}]\n", "write yes, not \"on\""},
            {TOP "doors: [{name: x, outside: OFF}]\n", "write no, not \"OFF\""},
            {"site: {name: a, words: english}\n",
                    "f:1:24: site.words: \"english\" is not known here; expected uk or us"},
            {"site: {name: a, rules: house}\n", "f:1:24: site.rules: expected a list"},
    };
    ASSERT_SLIPS(slips);
}

#define ZONE(keys)                                                                                 \
    TOP THINGS "zones: [{number: 1, says: x, device: c, behaviour: entry, " keys "}]\n"
#define NUMBER(number)                                                                             \
    TOP THINGS "zones: [{number: " number ", says: x, device: c, behaviour: entry}]\n"

/* The trap that the style page tells of: octal, the letter O, a comma, words for no number, exponents. */
static void numbers_strictly(void **state) {
    (void)state;
    static const struct slip slips[] = {
            {NUMBER("010"), "f:9:18: zones[0].number: \"010\" begins with a zero; write 10"},
            {NUMBER("3O"), "\"3O\" is not a whole number; write digits alone"},
            {NUMBER("1e3"), "\"1e3\" is not a whole number"},
            {NUMBER("0x10"), "\"0x10\" is not a whole number"},
            {NUMBER("1.0"), "\"1.0\" is not a whole number"},
            {NUMBER("+1"), "\"+1\" is not a whole number"},
            {NUMBER("1_000"), "\"1_000\" is not a whole number"},
            {NUMBER(".inf"), "\".inf\" is not a whole number"},
            {NUMBER("nan"), "\"nan\" is not a whole number"},
            {NUMBER("\"1\""), "\"1\" is not a whole number"},
            {NUMBER("-1"), "-1 is out of range; expected 0 to 999"},
            {NUMBER("1000"), "1000 is out of range; expected 0 to 999"},
            {NUMBER("99999999999"), "99999999999 is out of range; expected 0 to 999"},
            {NUMBER("4294967297"), "4294967297 is out of range"},
            {NUMBER("99999999999999999999999999999999"), "99999999999999999999 is out of range"},
            {NUMBER("[1]"), "expected a whole number, not a list"},
            {ZONE("loop-response: 11 s"), "11 s is out of range; expected 0 s to 10 s"},
            {ZONE("loop-response: 0.5 ms"), "\"0.5 ms\" is not a whole number of milliseconds"},
            {ZONE("loop-response: [1]"), "expected a time, such as 300 ms, not a list"},
    };
    ASSERT_SLIPS(slips);
}

#define ABORT(time)                                                                                \
    "site: {name: a}\npanel: {profile: halyard-28, abort-window: " time "}\nareas: [{name: b}]\n"

static void times_strictly(void **state) {
    (void)state;
    static const struct slip slips[] = {
            {ABORT("30"), "f:2:44: panel.abort-window: "},
            {ABORT("030 s"), "panel.abort-window: "},
            {ABORT("3O s"), "panel.abort-window: "},
            {ABORT("12,8 s"),
                    "f:2:44: \"12,8 s\": a decimal is written with a point, not with a comma: 12.8 "
                    "s"},
            {ABORT("12, 8 s"), "f:2:48: panel: there is no key \"8 s\" here"},
            {ABORT("12,8 s, siren-time: 9 s"), "not with a comma: 12.8 s"},
            {ABORT("12,8"), "not with a comma: 12.8; several values in brackets: [12, 8]"},
            {ABORT("\"12,8 s\""), "panel.abort-window: "},
            {ABORT("nan"), "panel.abort-window: "},
            {ABORT(".inf"), "panel.abort-window: "},
            {ABORT("1e3 s"), "panel.abort-window: "},
            {ABORT("0.5 s"), "panel.abort-window: "},
            {ABORT("5 m"), "panel.abort-window: "},
            {ABORT("-5 s"), "panel.abort-window: "},
            {ABORT("1..2 s"), "panel.abort-window: "},
            {ABORT("1000000000 s"), "panel.abort-window: "},
            {ABORT("9999999999999999999999 s"), "panel.abort-window: "},
            {ABORT("2 h"), "2 h is out of range; expected 0 to 1 h"},
            {"site: {name: a}\npanel: {profile: halyard-28, mains-delay: 5 min, mains-jitter: 6 "
             "min}\nareas: [{name: b}]\n",
                    "f:2:64: panel: the spread of the mains report is 6 min, its "
                    "delay only 5 "
                    "min"},
            {ABORT("[30 s]"), "panel.abort-window: expected a time, such as 30 s, not a list"},
            {"site: {name: a}\npanel: {profile: halyard-28, tolerance: 15 %}\nareas: [{name: b}]\n",
                    "in steps of 10 %"},
            {"site: {name: a}\npanel: {profile: halyard-28, tolerance: 60 %}\nareas: [{name: b}]\n",
                    "in steps of 10 %"},
            {"site: {name: a}\npanel: {profile: halyard-28, auto-set-at: \"25:00\"}\nareas: "
             "[{name: b}]\n",
                    "panel.auto-set-at: "},
            {"site: {name: a}\npanel: {profile: halyard-28, auto-set-at: \"22:00..23:00\"}\nareas: "
             "[{name: b}]\n",
                    "expected one time of day"},
            {"site: {name: a}\npanel: {profile: halyard-28, auto-set-at: \"22:00\"}\nareas: "
             "[{name: b}, {name: c}]\n",
                    "which area sets by itself?"},
            {TOP "people: [{name: x, walks: slowly}]\n",
                    "f:4:27: people[0].walks: nobody walks so here; write adult, with a stick"},
            {TOP "people: [{name: x, walks: 0.9..14 m/s}]\n",
                    "f:4:27: people[0].walks: people walk 0.05 to 3 m/s"},
            {TOP "people: [{name: x, walks: 0.9..1.4}]\n", "f:4:27: people[0].walks: "},
            {TOP "people: [{name: x, notices: 9..4 s}]\n", "f:4:29: people[0].notices: "},
    };
    ASSERT_SLIPS(slips);
}

static void names_of_nobody(void **state) {
    (void)state;
    static const struct slip slips[] = {
            {TOP "devices: [{name: c, profile: slim-contact, on: d}]\n",
                    "f:4:48: devices[0].on: there is no door called \"d\""},
            {TOP "devices: [{name: c, profile: slim-contct}]\n",
                    "f:4:30: devices[0].profile: there is no profile \"slim-contct\" in devices/ "
                    "beside this file, in "
                    "$LINTEL_DATA or among those installed; did you mean \"slim-contact\"?"},
            {"site: {name: a}\npanel: {profile: nothing-like-it}\nareas: [{name: b}]\n",
                    "f:2:18: panel.profile: there is no profile \"nothing-like-it\" in panels/"},
            {TOP THINGS "zones: [{number: 1, says: x, device: cc, behaviour: entry}]\n",
                    "f:9:38: zones[0].device: there is no device called \"cc\"; did you mean "
                    "\"c\"?"},
            {ZONE("area: bb"), "zones[0].area: there is no area called \"bb\""},
            {ZONE("delay: frnt"),
                    "zones[0].delay: there is no entry delay called \"frnt\"; did you mean "
                    "\"front\"?"},
            {ZONE("delay-in: {nigt: front}"),
                    "zones[0].delay-in.nigt: there is no mode called \"nigt\"; did you mean "
                    "\"night\"?"},
            {ZONE("in: {night: instant}"),
                    "zones[0].in.night: \"instant\" is called perimeter here; "
                    "expected out, entry, "},
            {TOP "devices: [{name: c, profile: pir}]\n",
                    "or among those installed; there are pane-listener, quarter-motion, "},
            {ZONE("in: {night: loud}"),
                    "zones[0].in.night: \"loud\" is not known here; expected out, entry, "
                    "perimeter"},
            {ZONE("cross-with: 2"), "zones[0].cross-with: there is no zone called \"2\""},
            {ZONE("cross-with: 1"), "a zone is not its own partner"},
            {TOP THINGS
                    "zones:\n- {number: 1, says: x, device: c, behaviour: perimeter, cross-with: "
                    "2}\n- {number: 2, says: y, device: c, behaviour: perimeter}\n- {number: 3, "
                    "says: z, device: c, behaviour: perimeter, cross-with: 2}\n",
                    "zones[2]: zone 2 is a pair with another zone already"},
            {TOP "doors: [{name: side gate}, {name: side date}]\nways: [{name: w, door: site "
                 "date}]\n",
                    "there is no door called \"site date\"; did you mean \"side date\"?"},
            {ZONE("serves: [b, z]"), "zones[0].serves: there is no area called \"z\""},
            {TOP THINGS "zones:\n- {number: 1, says: x, device: c, behaviour: entry}\n- {number: "
                        "2, says: x, device: c, "
                        "behaviour: entry, cross-with: x}\n",
                    "f:11:65: zones[1].cross-with: zones 1 and 2 are both called \"x\"; write the "
                    "number"},
            {TOP "people: [{name: p}]\nroutines:\n- {name: r, who: q, steps: [{in: 1 s, wait: "
                 "yes}]}\n",
                    "f:6:18: routines[0].who: there is no person called \"q\"; known: \"p\""},
            {TOP "people: [{name: p}]\nroutines:\n- {name: r, who: p, starts: {bb: full, b: ful}, "
                 "steps: [{in: 1 s, mains: lost}]}\n",
                    "routines[0].starts.b: there is no mode called \"ful\"; did you mean "
                    "\"full\"?"},
            {TOP "routines:\n- {name: r, steps: [{in: 1 s, mains: lost}]}\n", "who does this?"},
            {TOP "people: [{name: p}]\nroutines:\n- {name: r, who: p, starts: {bb: full}, steps: "
                 "[{in: 1 s, mains: lost}]}\n",
                    "f:6:30: routines[0].starts.bb: there is no area called \"bb\"; did you mean "
                    "\"b\"?"},
            {TOP THINGS "keypads2: []\n",
                    "there is no key \"keypads2\" here; did you mean \"keypads\"?"},
    };
    ASSERT_SLIPS(slips);
}

static void things_of_one_name(void **state) {
    (void)state;
    static const struct slip slips[] = {
            {TOP "doors:\n- name: x\n- name: y\n- name: x\n",
                    "f:7:9: doors[2]: the name \"x\" is used already in line 5; give each door its "
                    "own"},
            {TOP "people: [{name: x}, {name: x}]\n",
                    "people[1]: the name \"x\" is used already in line 4"},
            {"site: {name: a}\npanel: {profile: halyard-28, modes: [{name: night}]}\nareas: "
             "[{name: b}]\n",
                    "f:2:45: panel: the name \"night\" is taken"},
            {"site: {name: a}\npanel: {profile: halyard-28, modes: [{name: unset}]}\nareas: "
             "[{name: b}]\n",
                    "the name \"unset\" is taken"},
    };
    ASSERT_SLIPS(slips);
}

static void what_the_panel_has_not(void **state) {
    (void)state;
    static const struct slip slips[] = {
            {"site: {name: a}\npanel: {profile: halyard-28, modes: [{name: q}, {name: r}, {name: "
             "s}, {name: t}]}\n"
             "areas: [{name: b}]\n",
                    "f:2:37: panel.modes: 4 entries; at most 3"},
            {"site: {name: a}\npanel: {profile: halyard-28}\nareas: []\n",
                    "f:3:8: areas: an empty list"},
            {"site: {name: a}\npanel: {profile: halyard-28}\nareas: [{name: b}]\n" THINGS
             "zones: [{number: 1, says: x, device: c, behaviour: entry}]\n",
                    "f:9:9: zones[0]: an entry zone needs an entry delay"},
            {"site: {name: a}\npanel: {profile: halyard-28, entry-delays: {m: 30 s, n: 40 "
             "s}}\nareas: [{name: b}]\n" THINGS
             "zones: [{number: 1, says: x, device: c, behaviour: entry}]\n",
                    "zones[0]: which entry delay? there are several"},
            {"site: {name: a}\npanel: {profile: halyard-28}\nareas: [{name: b}, {name: c}]\n" THINGS
             "zones: [{number: 1, says: x, device: c, behaviour: perimeter}]\n",
                    "zones[0]: which area? there are several; write area: NAME"},
            {TOP "people: [{name: p, modes: [full, knight]}]\n",
                    "f:4:34: people[0].modes: there is no mode called \"knight\"; did you mean "
                    "\"night\"?"},
            {TOP "people: [{name: p, hours: \"07:00\"}]\n",
                    "f:4:27: people[0].hours: hours run from one time of day to another"},
            {TOP "people: [{name: p, hours: \"07:00..31:01\"}]\n",
                    "f:4:27: people[0].hours: these hours are longer than a day"},
            {TOP "people: [{name: p, hours: \"22:00..06:00\"}]\n", "write its end as 30:00"},
            {TOP "people: [{name: p, modes: []}]\n",
                    "f:4:27: people[0].modes: an empty list; at least one mode is wanted (without "
                    "the "
                    "line: every one)"},
            {TOP "people: [{name: p, areas: []}]\n",
                    "f:4:27: people[0].areas: an empty list; at least one area is wanted (without "
                    "the "
                    "line: all)"},
            {TOP "routines: [{name: r, steps: [{set: full, areas: []}]}]\n",
                    "areas: an empty list; at least one area is wanted (without the line: those "
                    "the "
                    "code acts on)"},
            {ZONE("follows: []"),
                    "zones[0].follows: an empty list; at least one entry delay is wanted (without "
                    "the "
                    "line: every one)"},
            {ZONE("hold: 6 s"), "zones[0].hold: 6 s is out of range; expected 0 to 5 s"},
            {ZONE("pulse-count: 6"), "zones[0].pulse-count: 6 is out of range; expected 1 to 5"},
    };
    ASSERT_SLIPS(slips);
}

static void steps(void **state) {
    (void)state;
    static const struct slip slips[] = {
            {STEPS "  - {in: 1 s}\n", "f:13:5: routines[0].steps[0]: what happens in this step?"},
            {STEPS "  - {open: d, close: d}\n",
                    "f:13:15: routines[0].steps[0]: \"open\" and \"close\" in one step"},
            {STEPS "  - {opne: d}\n", "there is no key \"opne\" here; did you mean \"open\"?"},
            {STEPS "  - {unset: yes, who: guest}\n", "\"guest\" has no code"},
            {STEPS "  - {unset: yes, who: guest, with: fob}\n", "\"guest\" has no fob"},
            {STEPS "  - {open: d, who: dog}\n", "\"dog\" is an animal and can only pass and wait"},
            {STEPS "  - {open: d, keypad: k}\n", "keypad belongs to set and bypass"},
            {STEPS "  - {unset: k, with: fob}\n", "a fob needs no keypad"},
            {STEPS "  - {open: d, area: b}\n",
                    "f:13:15: routines[0].steps[0]: area goes with when, which is not here"},
            {STEPS "  - {open: d, if-area: b}\n",
                    "if-area goes with if or if-not, which is not here"},
            {STEPS "  - {open: d, with: fob}\n", "with goes with set or unset, which is not here"},
            {STEPS "  - {open: d, if: ready, if-not: siren}\n",
                    "if and if-not in one step; keep one"},
            {STEPS "  - {open: d, in: 1 s, at: \"05:30\"}\n", "in and at in one step; keep one"},
            {STEPS "  - {in: 1 s, open: d}\n  - {open: d, at: \"05:30\"}\n",
                    "f:14:15: routines[0].steps[1]: only a person's first step"},
            {STEPS "  - {unset: k, if: door open}\n", "this step has none"},
            {STEPS "  - {open: d, when: entrytone}\n",
                    "\"entrytone\" is not known here; did you mean \"entry tone\"?"},
            {STEPS "  - {open: d, after: nothing}\n",
                    "f:13:22: routines[0].steps[0].after: there is no step called \"nothing\""},
            {STEPS "  - {open: d, name: x}\n  - {close: d, name: x}\n",
                    "f:14:22: routines[0].steps[1]: step 1 is called \"x\" too"},
            {STEPS "  - {open: d, name: x, after: y}\n  - {close: d, who: guest, name: y, after: "
                   "x}\n",
                    "routines[0].steps: waits for \"y\", which waits for this step: nobody can go "
                    "on"},
            {STEPS "  - {open: d, name: x, after: x}\n",
                    "waits for \"x\", which waits for this step"},
            {STEPS "  - {wait: no}\n", "write wait: yes"},
            {STEPS "  - {jamming: yes}\n", "\"yes\" is not known here; expected starts or ends"},
            {STEPS "  - {mains: gone}\n", "\"gone\" is not known here; expected lost or back"},
            {STEPS "  - {set: fulll}\n",
                    "there is no mode called \"fulll\"; did you mean \"full\"?"},
            {STEPS "  - {set: full, areas: [z]}\n", "there is no area called \"z\""},
            {TOP "keypads: [{name: k, areas: []}]\n",
                    "keypads[0].areas: an empty list; at least one area is wanted"},
            {STEPS "  []\n", "routines[0].steps: an empty list; at least one entry is wanted"},
            {TOP THINGS "routines: [{name: r, steps: [{open: d}]}]\n",
                    "routines[0].steps[0]: who does this?"},
            {TOP "doors: [{name: d}]\nkeypads: [{name: k}, {name: l}]\npeople: [{name: p}]\n"
                 "routines: [{name: r, who: p, steps: [{set: full}]}]\n",
                    "at which keypad? there are several; name it"},
            {TOP "people: [{name: p}]\nroutines: [{name: r, who: p, steps: [{set: full}]}]\n",
                    "at which keypad? there is none yet"},
            {TOP THINGS "without: [{routine: x}]\n", "without[0]: the key \"reason\" is missing"},
    };
    ASSERT_SLIPS(slips);
}

static void ways(void **state) {
    (void)state;
    static const struct slip slips[] = {
            {TOP "doors: [{name: d}]\nkeypads: [{name: k}]\nways: [{name: w, door: d, keypad: "
                 "k}]\n",
                    "f:6:8: ways[0]: how long from the last leg to the keypad? write last: 2..4 s"},
            {TOP "doors: [{name: d}]\nways: [{name: w, door: d, legs: [{in: 1 s}]}]\n",
                    "ways[0].legs[0]: a leg passes one thing"},
            {TOP "doors: [{name: d}]\nways: [{name: w, door: d, legs: [{door: d}]}]\n",
                    "ways[0].legs[0]: the key \"in\" is missing"},
            {TOP "ways: [{name: w}]\n", "ways[0]: the key \"door\" is missing"},
    };
    ASSERT_SLIPS(slips);
}

/* One run tells all of it, in the order of lines and columns, whatever is found first. */
static void all_at_once(void **state) {
    (void)state;
    struct test_pages pages = {.left = -1};
    struct document document;
    struct problem problem = {0};
    document_init(&document, test_pages(&pages));
    static const char text[] = "site: {name: a, invented: perhaps}\n"
                               "panel: {profile: halyard-28, abort-window: 30}\n"
                               "areas: [{name: b}]\n"
                               "doors: [{name: d, outsid: yes}]\n"
                               "people: [{name: p}, {name: p}]\n"
                               "zones: [{number: 010, says: x, device: c, behaviour: loud}]\n";
    assert_false(
            document_read_text(&document, "f", test_fixture("."), text_of(text), NULL, &problem)
                    .good);
    static const char *const told[] = {
            "f:1:27: ", "f:2:44: ", "f:4:19: ", "f:5:28: ", "f:6:18: ", "f:6:40: ", "f:6:54: "};
    for (size_t i = 0; i < sizeof told / sizeof told[0]; i++) {
        if (!test_told(&document, told[i])) {
            print_message("# wanted: %s\n", told[i]);
            test_print_problems(&document);
        }
        assert_true(test_told(&document, told[i]));
    }
    assert_int_equal(document.problem_count, 7);
    for (size_t i = 0; i < sizeof told / sizeof told[0]; i++) {
        struct text_builder builder;
        text_builder_init(&builder, &document.arena);
        document_problem_add(&builder, &document.problems[i]);
        assert_memory_equal(text_built(&builder).start, told[i], strlen(told[i]));
    }
    assert_false(document.more_problems);
    assert_non_null(strstr(problem.text, "f:1:27: "));
    document_finish(&document);
    assert_int_equal(pages.out, 0);
}

/* What is there, misspelt, is not also missing. */
static void a_misspelt_key_is_told_once(void **state) {
    (void)state;
    struct test_pages pages = {.left = -1};
    struct document document;
    struct problem problem = {0};
    document_init(&document, test_pages(&pages));
    const bool good = document_read_text(&document, "f", test_fixture("."),
            text_of(TOP "zones: [{number: 1, says: [a], behavior: entry}]\n"), NULL, &problem)
                              .good;
    assert_false(good);
    assert_true(test_told(&document, "there is no key \"behavior\" here"));
    assert_false(test_told(&document, "\"behaviour\" is missing"));
    document_finish(&document);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(not_a_site_file),
            cmocka_unit_test(a_byte_that_is_nul),
            cmocka_unit_test(not_yaml),
            cmocka_unit_test(keys_and_kinds),
            cmocka_unit_test(a_misspelt_key_is_told_once),
            cmocka_unit_test(numbers_strictly),
            cmocka_unit_test(times_strictly),
            cmocka_unit_test(names_of_nobody),
            cmocka_unit_test(things_of_one_name),
            cmocka_unit_test(what_the_panel_has_not),
            cmocka_unit_test(steps),
            cmocka_unit_test(ways),
            cmocka_unit_test(all_at_once),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
