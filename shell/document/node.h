/* The tree of a YAML file: texts, mappings and lists with their places. Knows no site. */
#ifndef LINTEL_DOCUMENT_NODE_H
#define LINTEL_DOCUMENT_NODE_H

#include "base/text.h"
#include "document/document.h"

#include <stdbool.h>
#include <stddef.h>

/** NODE_BROKEN: was told already; readers pass over it in silence. */
enum node_kind { NODE_TEXT, NODE_MAP, NODE_LIST, NODE_BROKEN };

/** A value. line, column from 1; start, end: its bytes in the file, quotes and brackets included (start of a block
 *  mapping: its first key). Children of a mapping have a key. */
struct node {
    enum node_kind kind;
    bool plain; /* text without quotes */
    bool block; /* text written as a block (| or >) */
    bool flow;  /* { } or [ ] */
    bool null;  /* nothing, or ~ */
    int line;
    int column;
    size_t start;
    size_t end;
    struct text text;
    const struct document_file *file;
    const struct node *key;
    struct node *first;
    struct node *last;
    struct node *next;
    size_t count;
};

struct gatherer;

/** Reads file->text into a tree. What is wrong goes to the gatherer. Gives the root, or NULL when there is none worth
 *  walking (told, or no memory: gatherer->refused). file: kept. */
const struct node *node_read(struct gatherer *gatherer, const struct document_file *file);

/** The value of a key, or NULL. map: NULL and other kinds have no children. */
const struct node *node_child(const struct node *map, const char *key);

/** The list's child, or NULL. */
const struct node *node_item(const struct node *list, size_t index);

/** Same values in the same order, places and styles aside. */
bool node_equal(const struct node *a, const struct node *b);

#endif
