/* Paths such as "zones[1].behaviour" in a tree. */
#ifndef LINTEL_DOCUMENT_PLACES_H
#define LINTEL_DOCUMENT_PLACES_H

#include "document/node.h"

/** One step of a path: a key, or an index in a list. key: borrows the path. */
struct places_step {
    struct text key;
    size_t index;
    bool is_index;
};

/** A path in a tree. node: the deepest value that is there (the root when none is), `known` steps down. */
struct places_path {
    struct places_step steps[DOCUMENT_DEPTH_MAX];
    size_t count;
    size_t known;
    const struct node *node;
};

/** Follows a path from the root. False: its rest is no path; what is known of it is given all the same. */
bool places_follow(const struct node *root, struct text path, struct places_path *ret_path);

#endif
