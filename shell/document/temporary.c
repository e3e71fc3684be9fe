/* Temporary changes: one thing each, and days that there can be. */
#include "document/reader.h"

static void settle_one(
        struct reader *reader, const struct node *node, const struct site_temporary *temporary) {
    static const char *const verbs[] = {"bypass", "soak", "guest"};
    size_t count = 0;
    for (size_t i = 0; i < sizeof verbs / sizeof verbs[0]; i++) {
        count += node_child(node, verbs[i]) != NULL;
    }
    if (count != 1) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node,
                "a temporary change is one thing: write bypass: ZONE, soak: ZONE or guest: "
                "PERSON%s",
                count == 0 ? "" : ", and the others in entries of their own");
    }
    if (temporary->lasting && node_child(node, "until") != NULL) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node_child(node, "lasting"),
                "what lasts has no last day; write until: or lasting: yes, not both");
    } else if (temporary->lasting && temporary->guest != SITE_NONE) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node_child(node, "lasting"),
                "a guest who stays is a person like the others; leave the entry out");
    } else if (!temporary->lasting && node_child(node, "until") == NULL) {
        reader_tell(reader, PROBLEM_MISSING, node,
                "the key \"until\" is missing: the last day; where none is known, lasting: yes");
    }
    if (temporary->from_day != DATE_NONE && temporary->until_day != DATE_NONE &&
            temporary->from_day > temporary->until_day) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node_child(node, "until"),
                "it ends before it begins; both days are included");
    }
    const struct site *site = &reader->document->site;
    if (temporary->guest != SITE_NONE && site->people[temporary->guest].animal) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node_child(node, "guest"),
                "an animal has no code; name a person");
    }
}

void settle_temporary(struct reader *reader, const struct node *root) {
    const struct site *site = &reader->document->site;
    const struct node *list = node_child(root, "temporary");
    const size_t before = reader_enter(reader, "temporary");
    for (size_t i = 0; i < site->temporary_count; i++) {
        const struct node *node = node_item(list, i);
        if (node != NULL && node->kind == NODE_MAP) {
            const size_t above = reader_enter_index(reader, i);
            settle_one(reader, node, &site->temporaries[i]);
            reader_leave(reader, above);
        }
    }
    reader_leave(reader, before);
}
