/* Codes: too easy, too alike, kept by who has gone. Whose a code is may be said, and what is wrong with it; never the
 * code, nor a digit of it. */
#include "rules/parts.h"

static bool is_duress(const struct site *site, const struct site_code *code) {
    return code->of == SITE_CODE_OF_DURESS ||
            (code->person != SITE_NONE && site->people[code->person].duress);
}

/* "the code of the baker", "the duress code" */
static struct text called(const struct rules_finder *finder, const struct site_code *code) {
    struct text_builder out;
    text_builder_init(&out, finder->arena);
    if (code->of == SITE_CODE_OF_DURESS) {
        text_add_string(&out, "the duress code");
    } else if (code->of == SITE_CODE_OF_INSTALLER) {
        text_add_string(&out, "the installer's code");
    } else if (code->person != SITE_NONE) {
        text_add_string(&out, "the code of ");
        words_add_named(&out, finder->site->people[code->person].name);
    } else if (code->hidden) {
        text_add_string(&out, "the code of somebody unknown");
    } else {
        text_add_format(&out, "the code of \"%.*s\"", TEXT_ARGS(code->name));
    }
    return text_built(&out);
}

/* At its person, so that each has a place of its own; else at the name of the codes file. */
static void add(struct rules_finder *finder, const struct rules_check *check,
        const struct site_code *code, struct text detail) {
    struct words_about about = words_about_nothing();
    about.named = called(finder, code);
    about.detail = detail;
    about.person = code->person;
    if (code->person != SITE_NONE) {
        rules_add(finder, check, &about, "people[%d]", code->person);
    } else {
        rules_add(finder, check, &about, "site.codes");
    }
}

/* ---- each code by itself */

static void look_each(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    const struct text lengths = rules_numbers_text(finder, &site->panel.code_lengths);
    for (size_t i = 0; i < site->code_count; i++) {
        if (check->of_code(site, &site->codes[i])) {
            add(finder, check, &site->codes[i], lengths);
        }
    }
}

static bool is_of_wrong_length(const struct site *site, const struct site_code *code) {
    return site->panel.code_lengths.said && code->digits.length > 0 &&
            !site_numbers_has(&site->panel.code_lengths, (int32_t)code->digits.length);
}

static bool is_factory(const struct site *site, const struct site_code *code) {
    bool found = false;
    for (size_t i = 0; i < site->panel.factory_code_count; i++) {
        found = found || text_equal(site->panel.factory_codes[i], code->digits);
    }
    return found;
}

/* The same step from each digit to the one after it: 0 (0000), 1 up (1234, 8901) or 1 down (4321). */
static bool is_run(struct text digits) {
    enum { BASE = 10 };
    bool run = digits.length > 1;
    const int step = run ? (digits.start[1] - digits.start[0] + BASE) % BASE : 0;
    for (size_t i = 1; i < digits.length; i++) {
        run = run && (digits.start[i] - digits.start[i - 1] + BASE) % BASE == step;
    }
    return run && (step == 0 || step == 1 || step == BASE - 1);
}

/* One half twice: 1212, 123123. */
static bool is_twice(struct text digits) {
    const size_t half = digits.length / 2;
    return half > 1 && digits.length % 2 == 0 &&
            text_equal((struct text){.start = digits.start, .length = half},
                    (struct text){.start = digits.start + half, .length = half});
}

static bool is_guessable(const struct site *site, const struct site_code *code) {
    return !is_factory(site, code) && (is_run(code->digits) || is_twice(code->digits));
}

/* ---- codes beside each other */

/* How the names of a list are parted: commas, "and" before the last. */
static void add_listed(struct text_builder *list, struct text name, size_t index, size_t count) {
    text_add_string(list, index == 0 ? "" : index + 1 == count ? " and " : ", ");
    text_add(list, name);
}

static bool has_one_before(const struct site *site, size_t code) {
    bool found = false;
    for (size_t i = 0; i < code; i++) {
        found = found || text_equal(site->codes[i].digits, site->codes[code].digits);
    }
    return found;
}

/* variant: a duress code is among them. */
static void look_same(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->code_count; i++) {
        const struct text digits = site->codes[i].digits;
        size_t count = 0;
        bool duress = false;
        if (digits.length == 0 || has_one_before(site, i)) {
            continue;
        }
        for (size_t k = i; k < site->code_count; k++) {
            const bool same = text_equal(site->codes[k].digits, digits);
            count += same;
            duress = duress || (same && is_duress(site, &site->codes[k]));
        }
        if (count < 2 || duress != check->variant) {
            continue;
        }
        struct text_builder list;
        size_t index = 0;
        text_builder_init(&list, finder->arena);
        for (size_t k = i; k < site->code_count; k++) {
            if (text_equal(site->codes[k].digits, digits)) {
                add_listed(&list, called(finder, &site->codes[k]), index++, count);
            }
        }
        add(finder, check, &site->codes[i], text_built(&list));
    }
}

static void look_shared(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->code_count; i++) {
        struct text_builder list;
        size_t count = 0;
        size_t index = 0;
        for (size_t k = 0; k < site->code_count; k++) {
            count += site->codes[k].shared_with == (int)i;
        }
        text_builder_init(&list, finder->arena);
        for (size_t k = 0; k < site->code_count; k++) {
            const struct site_code *code = &site->codes[k];
            if (code->shared_with == (int)i) {
                add_listed(&list,
                        code->person != SITE_NONE ? site->people[code->person].name
                                : code->hidden    ? text_of("somebody unknown")
                                                  : code->name,
                        index++, count);
            }
        }
        if (count > 0) {
            add(finder, check, &site->codes[i], text_built(&list));
        }
    }
}

static int64_t value_of(struct text digits) {
    enum { BASE = 10 };
    int64_t value = 0;
    for (size_t i = 0; i < digits.length; i++) {
        value = value * BASE + (digits.start[i] - '0');
    }
    return value;
}

enum nearness { FAR, ONE_SLIP, NEXT_LAST_DIGIT };

/* NEXT_LAST_DIGIT: only the last digit is another, by one, 9 and 0 being neighbours. ONE_SLIP: some one digit is
 * another, or the two follow each other in counting. Source: CP-01 clause 4.2.6.1 (from memory, unverified); a slip of
 * the finger and counting on: common practice. */
static enum nearness nearness_of(struct text a, struct text b) {
    enum { BASE = 10 };
    size_t others = 0;
    if (a.length != b.length || a.length == 0) {
        return FAR;
    }
    for (size_t i = 0; i < a.length; i++) {
        others += a.start[i] != b.start[i];
    }
    const int last = (a.start[a.length - 1] - b.start[b.length - 1] + BASE) % BASE;
    if (others == 1 && (last == 1 || last == BASE - 1)) {
        return NEXT_LAST_DIGIT;
    }
    const int64_t apart = value_of(a) - value_of(b);
    return others == 1 || apart == 1 || apart == -1 ? ONE_SLIP : FAR;
}

/* variant: by its last digit; else by another slip, for a duress code that has no neighbour by its last digit. */
static void look_near(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->code_count; i++) {
        enum nearness nearest = FAR;
        const struct site_code *neighbour = NULL;
        for (size_t k = 0; is_duress(site, &site->codes[i]) && k < site->code_count; k++) {
            const enum nearness near = nearness_of(site->codes[i].digits, site->codes[k].digits);
            if (near > nearest && !is_duress(site, &site->codes[k])) {
                nearest = near;
                neighbour = &site->codes[k];
            }
        }
        if (nearest == (check->variant ? NEXT_LAST_DIGIT : ONE_SLIP)) {
            add(finder, check, &site->codes[i], called(finder, neighbour));
        }
    }
}

/* ---- codes and people */

static bool is_nobodys(const struct site *site, const struct site_code *code) {
    (void)site;
    return code->of == SITE_CODE_OF_PERSON && code->person == SITE_NONE;
}

static bool is_leavers(const struct site *site, const struct site_code *code) {
    return code->person != SITE_NONE && site->people[code->person].left;
}

/* The code of a guest who is yet to come is in the file already. */
static bool is_not_wanted(const struct site *site, const struct site_code *code) {
    return code->person != SITE_NONE && !site->people[code->person].away &&
            !site->people[code->person].has_code;
}

static bool keys_code(const struct site_step *step) {
    const bool with_either = step->act == SITE_ACT_UNSET || step->act == SITE_ACT_SET;
    return (with_either && step->use == SITE_USE_CODE) || step->act == SITE_ACT_POSTPONE ||
            step->act == SITE_ACT_BYPASS;
}

/* The first routine in which the person keys a code, or NULL. */
static const struct site_routine *routine_with_code(const struct site *site, int person) {
    for (size_t i = 0; i < site->routine_count; i++) {
        for (size_t k = 0; k < site->routines[i].step_count; k++) {
            const struct site_step *step = &site->routines[i].steps[k];
            if (step->who == person && keys_code(step)) {
                return &site->routines[i];
            }
        }
    }
    return NULL;
}

static bool has_code_in_file(const struct site *site, int person) {
    bool found = false;
    for (size_t i = 0; i < site->code_count; i++) {
        found = found || site->codes[i].person == person ||
                (site->people[person].duress && site->codes[i].of == SITE_CODE_OF_DURESS);
    }
    return found;
}

static void look_none(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->person_count && site->codes_state == SITE_CODES_READ; i++) {
        const struct site_routine *routine = routine_with_code(site, (int)i);
        if (routine == NULL || site->people[i].away || has_code_in_file(site, (int)i)) {
            continue;
        }
        struct words_about about = words_about_nothing();
        about.person = (int)i;
        about.named = routine->name;
        rules_add(finder, check, &about, "people[%zu]", i);
    }
}

static void look_not_there(struct rules_finder *finder, const struct rules_check *check) {
    if (finder->site->codes_state == SITE_CODES_NOT_THERE) {
        rules_add(finder, check, NULL, "site.codes");
    }
}

static const struct rules_check rows[] = {
        {
                .id = "codes.not-computed",
                .weight = FINDING_NOTE,
                .headline = "the checks of the codes: not computed",
                .why = "the codes file that the site names is not there",
                .remedy = "check where that file is kept",
                .source = "common practice",
                .look = look_not_there,
        },
        {
                .id = "codes.length",
                .weight = FINDING_FAULT,
                .headline = "{named} cannot be keyed in",
                .why = "it has more or fewer digits than the panel takes: {detail}",
                .remedy = "a code of so many digits",
                .source = "the panel's profile",
                .look = look_each,
                .of_code = is_of_wrong_length,
        },
        {
                .id = "codes.factory",
                .weight = FINDING_FAULT,
                .headline = "{named} is one that every such panel is delivered with",
                .why = "it stands in the manual, for everybody to read",
                .remedy = "another code",
                .source = "the panel's profile",
                .look = look_each,
                .of_code = is_factory,
        },
        {
                .id = "codes.same",
                .weight = FINDING_FAULT,
                .headline = "{detail} are the same",
                .why = "the panel refuses the second, or never knows who it was",
                .remedy = "a code of its own for each",
                .source = "common practice",
                .look = look_same,
        },
        {
                .id = "codes.same",
                .weight = FINDING_FAULT,
                .headline = "{detail} are the same",
                .why = "either every {unsetting} calls for help, or duress never does",
                .remedy = "a duress code that is like no other",
                .source = "CP-01 clause 4.2.6.1 (from memory, unverified)",
                .look = look_same,
                .variant = true,
        },
        {
                .id = "codes.duress-near",
                .weight = FINDING_FAULT,
                .headline = "the duress code is next to {detail}: one slip of a finger calls for "
                            "help",
                .why = "only the last digit is another, and the two lie side by side",
                .remedy = "a duress code that differs in more than one digit",
                .source = "CP-01 clause 4.2.6.1 (from memory, unverified)",
                .look = look_near,
                .variant = true,
        },
        {
                .id = "codes.duress-near",
                .weight = FINDING_RISK,
                .headline =
                        "the duress code is near {detail}: a slip of a finger may call for help",
                .why = "one digit is another, or one counts on from the other",
                .remedy = "a duress code that differs in more than one digit",
                .source = "common practice",
                .look = look_near,
        },
        {
                .id = "codes.leaver",
                .weight = FINDING_FAULT,
                .headline = "{person} has left and can still come in",
                .why = "the code is still in the codes file",
                .remedy = "the code deleted in the panel, then in the codes file",
                .source = "common practice",
                .look = look_each,
                .of_code = is_leavers,
        },
        {
                .id = "codes.for-nobody",
                .weight = FINDING_RISK,
                .headline = "{named} is nobody's here",
                .why = "the site file has no such person: somebody who left, or a name that was "
                       "changed in one of the two files",
                .remedy =
                        "the code deleted in the panel and in the codes file, or the same name in "
                        "both files",
                .source = "common practice",
                .look = look_each,
                .of_code = is_nobodys,
        },
        {
                .id = "codes.not-wanted",
                .weight = FINDING_RISK,
                .headline = "{person} has a code and should have none",
                .why = "the site file says code: no",
                .remedy = "the code deleted in the panel and in the codes file, or code: yes",
                .source = "common practice",
                .look = look_each,
                .of_code = is_not_wanted,
        },
        {
                .id = "codes.none",
                .weight = FINDING_FAULT,
                .headline = "{person} has no code to key",
                .why = "the codes file has none, and \"{named}\" wants one",
                .remedy = "a code of their own, in the panel and in the codes file",
                .source = "common practice",
                .look = look_none,
        },
        {
                .id = "codes.shared",
                .weight = FINDING_RISK,
                .headline = "{named} is used by others too: {detail}",
                .why = "the log cannot tell who it was, and when one of them leaves all need a new "
                       "code",
                .remedy = "a code of its own for each",
                .source = "common practice",
                .look = look_shared,
        },
        {
                .id = "codes.guessable",
                .weight = FINDING_RISK,
                .headline = "{named} is among the first that anybody tries",
                .why = "its digits are all alike, count up or down, or repeat",
                .remedy = "a code without a pattern",
                .source = "common practice",
                .look = look_each,
                .of_code = is_guessable,
        },
};

const struct rules_checks rules_codes = RULES_ROWS(rows);
