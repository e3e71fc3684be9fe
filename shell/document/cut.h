/* Which bytes of a YAML file go when a value is taken out, so that comments and layout of everything else stay. Knows
 * no site. */
#ifndef LINTEL_DOCUMENT_CUT_H
#define LINTEL_DOCUMENT_CUT_H

#include "document/places.h"

/** The bytes start..end give way to `instead`. */
struct cut {
    size_t start;
    size_t end;
    const char *instead;
};

/** Finds the bytes of the entry at the end of a path that is there whole: key and value, or the item of a list, with
 *  its comma, and of a block its lines with the comment behind them. The last item of a block list leaves "[]". False:
 *  it stands so that it cannot go without touching what stands around it. text: of which root is the tree. */
bool cut_find(struct text text, const struct node *root, const struct places_path *path,
        struct cut *ret_cut);

/** The mapping or list that holds what is at the end of a path, or NULL. */
const struct node *cut_parent(const struct node *root, const struct places_path *path);

#endif
