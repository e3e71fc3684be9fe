#include "document/document.h"

#include "document/gather.h"
#include "document/keys.h"
#include "document/node.h"
#include "document/reader.h"

#include <string.h>

void document_init(struct document *document, struct pages pages) {
    *document = (struct document){0};
    arena_init(&document->arena, pages, 0);
}

void document_finish(struct document *document) {
    if (document->arena.pages.give != NULL) {
        arena_finish(&document->arena);
    }
    *document = (struct document){0};
}

static void read_site(struct reader *reader) {
    struct document *document = reader->document;
    document->site.settings = site_settings_usual();
    document->file.root = node_read(&reader->gatherer, &document->file);
    if (document->file.root == NULL) {
        return;
    }
    for (int walk = 0; walk < KEY_WALK_COUNT; walk++) {
        reader->walk = (enum key_walk)walk;
        reader_walk(reader, &key_site_table, document->file.root, &document->site);
        if (reader->gatherer.refused) {
            return;
        }
    }
    settle_site(reader, document->file.root);
}

static struct text folder_of(struct document *document, const char *path) {
    const char *slash = strrchr(path, '/');
    if (slash == NULL) {
        return text_of(".");
    }
    const size_t length = slash == path ? 1 : (size_t)(slash - path);
    return text_copy(&document->arena, (struct text){.start = path, .length = length});
}

outcome document_read_text(struct document *document, const char *name, const char *folder,
        struct text bytes, const struct document_search *search, struct problem *ret_problem) {
    struct reader reader = {
            .gatherer = {.document = document}, .document = document, .search = search};
    document->file.name = text_copy(&document->arena, text_of(name));
    document->file.folder =
            folder == NULL ? (struct text){0} : text_copy(&document->arena, text_of(folder));
    document->file.text = text_copy(&document->arena, bytes);
    reader.gatherer.refused = document->file.name.start == NULL ||
            document->file.text.start == NULL ||
            (folder != NULL && document->file.folder.start == NULL);
    if (!reader.gatherer.refused) {
        read_site(&reader);
    }
    return gather_outcome(&reader.gatherer, ret_problem);
}

outcome document_read_file(struct document *document, const char *path,
        const struct document_search *search, struct problem *ret_problem) {
    struct reader reader = {
            .gatherer = {.document = document}, .document = document, .search = search};
    document->file.name =
            text_copy(&document->arena, text_of(strcmp(path, "-") == 0 ? "standard input" : path));
    document->file.folder = folder_of(document, path);
    reader.gatherer.refused =
            document->file.name.start == NULL || document->file.folder.start == NULL;
    if (!reader.gatherer.refused &&
            include_file(&reader, &document->file, NULL, path, &document->file.text)) {
        read_site(&reader);
    }
    return gather_outcome(&reader.gatherer, ret_problem);
}
