/* The steps of a routine: one verb each, and what must come with it. */
#include "document/reader.h"

#include <string.h>

/* The person's step before, or SITE_NONE. */
static int step_before(const struct site_routine *routine, size_t index) {
    for (size_t i = index; i > 0; i--) {
        if (routine->steps[i - 1].who == routine->steps[index].who) {
            return (int)i - 1;
        }
    }
    return SITE_NONE;
}

/* The step's verb stands there misspelt. */
static bool is_verb_told(const struct node *node) {
    bool told = false;
    for (size_t i = 0; i < key_step_table.key_count && !told; i++) {
        const struct key *key = &key_step_table.keys[i];
        told = key->act != 0 && key_is_misspelt(&key_step_table, node, key->name);
    }
    return told;
}

static void settle_verb(struct reader *reader, const struct node *node, struct site_step *step) {
    const struct key *verb = NULL;
    for (const struct node *child = node->first; child != NULL; child = child->next) {
        const struct key *key = key_find(&key_step_table, child->key->text);
        if (key == NULL || key->act == 0) {
            continue;
        }
        if (verb != NULL) {
            reader_tell(reader, PROBLEM_BAD_VALUE, child->key,
                    "\"%s\" and \"%s\" in one step; make two steps of it", verb->name, key->name);
            continue;
        }
        verb = key;
        if (key->type != KEY_CHOICE) {
            step->act = (enum site_act)(key->act - 1);
        }
        if (key->act == SITE_ACT_WAIT + 1 &&
                (text_is(child->text, "no") || text_is(child->text, "false"))) {
            reader_tell(reader, PROBLEM_BAD_VALUE, child, "write wait: yes, or leave the step out");
        }
    }
    if (verb == NULL && !is_verb_told(node)) {
        reader_tell(reader, PROBLEM_MISSING, node,
                "what happens in this step? write one of wait, open, close, pass, "
                "come, go, walk, unset, set, mistype, press, bypass, postpone, tamper, mains, "
                "jamming, path");
    }
}

static bool uses_code(enum site_act act) {
    return act == SITE_ACT_SET || act == SITE_ACT_UNSET || act == SITE_ACT_MISTYPE ||
            act == SITE_ACT_POSTPONE || act == SITE_ACT_BYPASS;
}

/* What was told of a person's key. */
static bool is_told_of(const struct reader *reader, int person, const char *name) {
    const struct node *people = node_child(reader->document->file.root, "people");
    return reader_told_of(reader, key_find(&key_site_table, text_of("people"))->table,
            node_item(people, (size_t)person), name);
}

static void settle_who(struct reader *reader, const struct node *routine_node,
        const struct node *node, struct site_step *step) {
    const struct key_table *routine_table = key_find(&key_site_table, text_of("routines"))->table;
    const struct node *usual = node_child(routine_node, "who");
    char quoted[GATHER_QUOTE_MAX * 4];
    if (node_child(node, "who") == NULL && usual != NULL && usual->kind == NODE_TEXT) {
        step->who = thing_index(reader, THING_PERSON, usual->text);
    }
    if (step->who == SITE_NONE) {
        if (node_child(node, "who") == NULL && usual == NULL &&
                !key_is_misspelt(&key_step_table, node, "who") &&
                !key_is_misspelt(routine_table, routine_node, "who")) {
            reader_tell(reader, PROBLEM_MISSING, node,
                    "who does this? write who: NAME here or for the whole routine");
        }
        return;
    }
    const struct site_person *person = &reader->document->site.people[step->who];
    const bool use_told = reader_told_of(reader, &key_step_table, node, "with");
    if (person->animal && step->act != SITE_ACT_WAIT && step->act != SITE_ACT_PASS) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node, "%s is an animal and can only pass and wait",
                gather_quote(person->name, quoted));
    } else if (step->use == SITE_USE_FOB && !person->has_fob &&
            !is_told_of(reader, step->who, "fob")) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node,
                "%s has no fob; write fob: yes for this person, or leave with: fob out",
                gather_quote(person->name, quoted));
    } else if (uses_code(step->act) && step->use == SITE_USE_CODE && !person->has_code &&
            !use_told && !is_told_of(reader, step->who, "code")) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node,
                "%s has no code; write code: yes for this person, or with: fob",
                gather_quote(person->name, quoted));
    }
}

static void settle_keypad(struct reader *reader, const struct node *node, struct site_step *step) {
    const struct site *site = &reader->document->site;
    const struct node *written = node_child(node, "keypad");
    const struct key *verb = key_find(&key_step_table, text_of(site_act_name(step->act)));
    const struct node *at = verb == NULL ? NULL : node_child(node, verb->name);
    const bool named = verb != NULL && verb->thing == THING_KEYPAD && at != NULL &&
            !text_is(at->text, "yes") && !text_is(at->text, "true");
    if (!uses_code(step->act)) {
        if (written != NULL) {
            reader_tell(reader, PROBLEM_BAD_VALUE, written->key,
                    "keypad belongs to set and bypass; leave it out");
        }
        return;
    }
    if (step->use == SITE_USE_FOB) {
        if (named || written != NULL) {
            reader_tell(reader, PROBLEM_BAD_VALUE, written == NULL ? at : written,
                    "a fob needs no keypad; write \"%s\"",
                    step->act == SITE_ACT_UNSET ? "unset: yes, with: fob" : "set: MODE, with: fob");
        }
        return;
    }
    if (named || written != NULL || step->keypad != SITE_NONE) {
        return;
    }
    if (site->keypad_count == 1) {
        step->keypad = 0;
    } else if (!reader_told_of_list(reader, THING_KEYPAD) &&
            !reader_told_of(reader, &key_step_table, node, "with")) {
        reader_tell(reader, PROBLEM_MISSING, node,
                site->keypad_count == 0 ? "at which keypad? there is none yet; write one under "
                                          "keypads, or with: fob"
                                        : "at which keypad? there are several; name it");
    }
}

/* Modifiers that go with something that is not there. */
static void settle_modifiers(
        struct reader *reader, const struct node *node, const struct site_step *step) {
    static const struct {
        const char *key;
        const char *with;
        const char *or_with;
    } pairs[] = {
            {"area", "when", NULL},
            {"if-area", "if", "if-not"},
            {"areas", "set", "unset"},
            {"with", "set", "unset"},
            {"from", "walk", NULL},
    };
    for (size_t i = 0; i < sizeof pairs / sizeof pairs[0]; i++) {
        const struct node *child = node_child(node, pairs[i].key);
        if (child != NULL && node_child(node, pairs[i].with) == NULL && !is_verb_told(node) &&
                (pairs[i].or_with == NULL || node_child(node, pairs[i].or_with) == NULL)) {
            reader_tell(reader, PROBLEM_BAD_VALUE, child->key,
                    "%s goes with %s%s%s, which is not here", pairs[i].key, pairs[i].with,
                    pairs[i].or_with == NULL ? "" : " or ",
                    pairs[i].or_with == NULL ? "" : pairs[i].or_with);
        }
    }
    if (node_child(node, "if") != NULL && node_child(node, "if-not") != NULL) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node_child(node, "if-not")->key,
                "if and if-not in one step; keep one");
    }
    if (step->has_in && step->has_at) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node_child(node, "at")->key,
                "in and at in one step; keep one");
    }
    const struct node *message = node_child(node, "message");
    if (message != NULL && step->message != SITE_MESSAGE_ARRIVES && step->act != SITE_ACT_OPEN &&
            step->act != SITE_ACT_CLOSE && step->act != SITE_ACT_PASS) {
        reader_tell(reader, PROBLEM_BAD_VALUE, message->key,
                "message goes with open, close or pass, which is not here; write a way out as its "
                "single steps");
    }
    const bool asks_door =
            step->when == SITE_SIGN_DOOR_OPEN || step->if_sign == SITE_SIGN_DOOR_OPEN;
    if (asks_door && step->door == SITE_NONE) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node,
                "\"door open\" looks at the door of the step, and this step has none; use it with "
                "open, close, come, go");
    }
}

static void settle_step(struct reader *reader, const struct node *routine_node,
        const struct node *node, struct site_step *step) {
    settle_verb(reader, node, step);
    settle_who(reader, routine_node, node, step);
    settle_keypad(reader, node, step);
    if ((step->act == SITE_ACT_COME || step->act == SITE_ACT_GO) && step->way != SITE_NONE) {
        step->door = reader->document->site.ways[step->way].door;
    }
    settle_modifiers(reader, node, step);
}

static bool can_go(const struct site_routine *routine, uint64_t done, size_t index) {
    const int before = step_before(routine, index);
    const int after = routine->steps[index].after_step;
    return (before == SITE_NONE || (done >> before & 1) != 0) &&
            (after == SITE_NONE || (done >> after & 1) != 0);
}

/* Steps that wait for each other in a ring. */
static void settle_order(
        struct reader *reader, const struct node *steps, const struct site_routine *routine) {
    char quoted[GATHER_QUOTE_MAX * 4];
    uint64_t done = 0;
    for (size_t round = 0; round < routine->step_count; round++) {
        for (size_t i = 0; i < routine->step_count; i++) {
            done |= can_go(routine, done, i) ? UINT64_C(1) << i : 0;
        }
    }
    for (size_t i = 0; i < routine->step_count; i++) {
        const struct site_step *step = &routine->steps[i];
        const struct node *after = node_child(node_item(steps, i), "after");
        if ((done >> i & 1) == 0 && step->after_step != SITE_NONE && after != NULL) {
            reader_tell(reader, PROBLEM_BAD_VALUE, after,
                    "waits for %s, which waits for this step: nobody can go on",
                    gather_quote(routine->steps[step->after_step].name, quoted));
            return;
        }
    }
}

static void settle_first(struct reader *reader, const struct node *node,
        const struct site_routine *routine, size_t index) {
    const struct site_step *step = &routine->steps[index];
    if (step->has_at && step->who != SITE_NONE && step_before(routine, index) != SITE_NONE) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node_child(node, "at")->key,
                "only a person's first step can be at a time of day; write in: with the time since "
                "the step before");
    }
    char quoted[GATHER_QUOTE_MAX * 4];
    for (size_t i = 0; i < index; i++) {
        if (step->name.length > 0 && text_equal(step->name, routine->steps[i].name)) {
            reader_tell(reader, PROBLEM_BAD_VALUE, node_child(node, "name"),
                    "step %zu is called %s too; give each its "
                    "own name",
                    i + 1, gather_quote(step->name, quoted));
            return;
        }
    }
}

void settle_routine(struct reader *reader, const struct node *node, struct site_routine *routine) {
    const struct node *steps = node_child(node, "steps");
    if (steps == NULL || steps->kind != NODE_LIST) {
        return;
    }
    const size_t before = reader_enter(reader, "steps");
    for (size_t i = 0; i < routine->step_count; i++) {
        const struct node *step = node_item(steps, i);
        if (step == NULL || step->kind != NODE_MAP) {
            continue;
        }
        const size_t here = reader_enter_index(reader, i);
        settle_step(reader, node, step, &routine->steps[i]);
        settle_first(reader, step, routine, i);
        reader_leave(reader, here);
    }
    settle_order(reader, steps, routine);
    reader_leave(reader, before);
}
