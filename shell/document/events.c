/* What alarms are sent as: a mapping from behaviours to the event codes of the panel's format. */
#include "document/reader.h"

/* Three digits of 0 to 9 and A to F; which of them mean something is the receiver's: a later edition may add some.
 * Source: SIA DC-05-1999.09, the field of the event code (from memory). */
static bool is_event(struct text text) {
    enum { DIGITS = 3 };
    bool good = text.length == DIGITS;
    for (size_t i = 0; i < text.length && good; i++) {
        good = (text.start[i] >= '0' && text.start[i] <= '9') ||
                (text.start[i] >= 'A' && text.start[i] <= 'F');
    }
    return good || text_is(text, "none");
}

/* The behaviour of a child's key, or SITE_OUT, whose zones alarm nobody (told, with the nearest). */
static enum site_behaviour find_behaviour(struct reader *reader, const struct node *child) {
    char quoted[GATHER_QUOTE_MAX * 4];
    char hint[GATHER_QUOTE_MAX * 4 + 32];
    struct gather_nearest nearest = {.wanted = child->key->text};
    for (int i = SITE_OUT + 1; i < SITE_BEHAVIOUR_COUNT; i++) {
        const char *name = site_behaviour_name((enum site_behaviour)i);
        if (text_is(child->key->text, name)) {
            return (enum site_behaviour)i;
        }
        gather_offer(&nearest, text_of(name));
    }
    reader_tell(reader, PROBLEM_BAD_VALUE, child->key, "%s is no behaviour that alarms anybody%s",
            gather_quote(child->key->text, quoted), gather_hint(&nearest, hint));
    return SITE_OUT;
}

void read_events(
        struct reader *reader, const struct key *key, const struct node *node, void *base) {
    struct text *events = (struct text *)(void *)((char *)base + key->at);
    char quoted[GATHER_QUOTE_MAX * 4];
    if (node->kind != NODE_MAP) {
        if (node->kind != NODE_BROKEN) {
            reader_tell(reader, PROBLEM_BAD_VALUE, node,
                    "expected a mapping from behaviours, such as {perimeter: \"131\"}");
        }
        return;
    }
    for (const struct node *child = node->first; child != NULL; child = child->next) {
        const size_t before = reader_enter(reader, child->key->text.start);
        const enum site_behaviour behaviour = find_behaviour(reader, child);
        if (behaviour == SITE_OUT || !value_is_text(reader, child, "an event code")) {
            /* told */
        } else if (is_event(child->text)) {
            events[behaviour] = child->text;
        } else {
            reader_tell(reader, PROBLEM_BAD_VALUE, child,
                    "%s is no event code; expected three digits, such as \"131\", or none",
                    gather_quote(child->text, quoted));
        }
        reader_leave(reader, before);
    }
    *(bool *)((char *)base + key->flag_at) = true;
}
