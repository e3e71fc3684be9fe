#include "document/cut.h"

static const struct node *child_at(const struct node *node, const struct places_step *step) {
    if (step->is_index) {
        return node_item(node, step->index);
    }
    const struct node *child = node->kind == NODE_MAP ? node->first : NULL;
    while (child != NULL && !text_equal(child->key->text, step->key)) {
        child = child->next;
    }
    return child;
}

const struct node *cut_parent(const struct node *root, const struct places_path *path) {
    const struct node *node = root;
    for (size_t i = 0; node != NULL && i + 1 < path->count; i++) {
        node = child_at(node, &path->steps[i]);
    }
    return node;
}

static bool is_blank(char byte) {
    return byte == ' ' || byte == '\t';
}

static size_t skip_blanks(struct text text, size_t at) {
    while (at < text.length && is_blank(text.start[at])) {
        at++;
    }
    return at;
}

/* Behind the end of the line in which a byte stands. */
static size_t line_past(struct text text, size_t at) {
    while (at < text.length && text.start[at] != '\n') {
        at++;
    }
    return at < text.length ? at + 1 : at;
}

/* Back over blanks. */
static size_t before_blanks(struct text text, size_t at) {
    while (at > 0 && is_blank(text.start[at - 1])) {
        at--;
    }
    return at;
}

static bool begins_line(struct text text, size_t at) {
    return at == 0 || text.start[at - 1] == '\n';
}

/* Behind the comma that follows a value in brackets; comments may stand between. */
static size_t comma_past(struct text text, size_t at) {
    while (at < text.length && text.start[at] != ',') {
        at = text.start[at] == '#' ? line_past(text, at) : at + 1;
    }
    return at < text.length ? at + 1 : at;
}

static size_t begin_of(const struct node *node) {
    return node->key != NULL ? node->key->start : node->start;
}

static size_t end_of(const struct node *node) {
    return node->key != NULL && node->key->end > node->end ? node->key->end : node->end;
}

static struct cut from_brackets(
        struct text text, const struct node *node, const struct node *previous) {
    struct cut cut = {.start = begin_of(node), .end = end_of(node), .instead = ""};
    if (node->next != NULL) {
        cut.end = skip_blanks(text, comma_past(text, cut.end));
        const size_t line = before_blanks(text, cut.start);
        const bool ends = cut.end < text.length &&
                (text.start[cut.end] == '\n' || text.start[cut.end] == '\r');
        if (ends && begins_line(text, line)) { /* it had the line to itself */
            cut.start = line;
            cut.end = line_past(text, cut.end);
        }
    } else if (previous != NULL) {
        cut.start = end_of(previous);
    }
    return cut;
}

/* A line of a block, or several. A block text has taken the end of its last line along, and the blanks after it. */
static bool from_block(
        struct text text, const struct node *parent, const struct node *node, struct cut *ret_cut) {
    size_t begin = before_blanks(text, begin_of(node));
    const size_t end = before_blanks(text, end_of(node));
    if (parent->kind == NODE_LIST) {
        if (begin == 0 || text.start[begin - 1] != '-') {
            return false;
        }
        begin = before_blanks(text, begin - 1);
    }
    const bool taken = end > 0 && text.start[end - 1] == '\n';
    if (begins_line(text, begin)) {
        *ret_cut = (struct cut){begin, taken ? end : line_past(text, end), ""};
        return true;
    }
    /* The first key of a list's item stands behind the dash: the next one takes its place. */
    if (parent->kind == NODE_MAP && node == parent->first && node->next != NULL) {
        *ret_cut = (struct cut){begin_of(node), begin_of(node->next), ""};
        return true;
    }
    return false;
}

bool cut_find(struct text text, const struct node *root, const struct places_path *path,
        struct cut *ret_cut) {
    const struct node *parent = cut_parent(root, path);
    const struct node *node = path->node;
    const struct node *previous = NULL;
    if (parent == NULL || path->known != path->count || path->count == 0) {
        return false;
    }
    for (const struct node *child = parent->first; child != NULL && child != node;
            child = child->next) {
        previous = child;
    }
    if (parent->flow) {
        *ret_cut = from_brackets(text, node, previous);
        return true;
    }
    if (parent->kind == NODE_LIST && parent->count == 1 && parent->key != NULL) {
        const size_t end = before_blanks(text, end_of(parent));
        const bool taken = end > 0 && text.start[end - 1] == '\n';
        *ret_cut = (struct cut){parent->key->end, taken ? end - 1 : end, ": []"};
        return true;
    }
    return from_block(text, parent, node, ret_cut);
}
