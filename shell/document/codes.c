/* The codes file: who keys which code. A file of its own, because a site file is mailed, printed and kept with others.
 * Nothing that stands in it is ever told: what is wrong is said by line and column, without the words that are there.
 * Not for judging the codes: that is core/rules/codes.c. */
#include "document/reader.h"

#include "host/host.h"

#include <stdio.h>
#include <string.h>

enum { CODES_BYTES_MAX = 64 * 1024, NAME_COLUMNS_MAX = 60 };

struct codes {
    struct reader *reader;
    struct site_code *codes;
    const struct node **nodes; /* one for each code */
    size_t count;
};

static bool is_digit(char byte) {
    return byte >= '0' && byte <= '9';
}

static bool has_digit(struct text text) {
    bool found = false;
    for (size_t i = 0; i < text.length; i++) {
        found = found || is_digit(text.start[i]);
    }
    return found;
}

static bool has_letter(struct text text) {
    bool found = false;
    for (size_t i = 0; i < text.length; i++) {
        const char byte = text.start[i];
        found = found || (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') ||
                (unsigned char)byte >= 0x80;
    }
    return found;
}

/* A name may turn out to be a code: the two are swapped easily. */
static bool is_hidden(struct text name) {
    bool hidden = has_digit(name) || !has_letter(name) || text_columns(name) > NAME_COLUMNS_MAX;
    for (size_t i = 0; i < name.length; i++) {
        hidden = hidden || gather_unseen(name, i) > 0;
    }
    return hidden;
}

static struct text shared_name(struct text value) {
    static const char as[] = "as ";
    const size_t length = sizeof as - 1;
    return text_begins(value, text_of(as))
            ? (struct text){.start = value.start + length, .length = value.length - length}
            : (struct text){0};
}

static bool is_code(struct text value) {
    bool good = value.length > 0 && value.length <= SITE_CODE_DIGITS_MAX;
    for (size_t i = 0; i < value.length && good; i++) {
        good = is_digit(value.start[i]);
    }
    return good;
}

static void add_code(struct codes *codes, enum site_code_of of, const struct node *node) {
    const bool text = node->kind == NODE_TEXT && !node->null;
    const struct text other = text ? shared_name(node->text) : (struct text){0};
    const bool shared = of == SITE_CODE_OF_PERSON && other.length > 0;
    if (node->kind == NODE_BROKEN) {
        return;
    }
    if (!text || (!shared && !is_code(node->text))) {
        reader_tell(codes->reader, PROBLEM_BAD_VALUE, node,
                "expected a code of 1 to %d digits, in quotes%s; what stands here is not shown",
                SITE_CODE_DIGITS_MAX,
                of == SITE_CODE_OF_PERSON ? ", or as NAME for somebody who uses the code of another"
                                          : "");
        return;
    }
    struct site_code *code = &codes->codes[codes->count];
    *code = (struct site_code){.of = of,
            .person = SITE_NONE,
            .shared_with = SITE_NONE,
            .digits = shared ? (struct text){0} : node->text};
    if (of == SITE_CODE_OF_PERSON) {
        code->name = node->key->text;
        code->hidden = is_hidden(code->name);
        code->person = thing_index(codes->reader, THING_PERSON, code->name);
    }
    codes->nodes[codes->count++] = node;
}

static void read_people(struct codes *codes, const struct node *map) {
    if (map->kind != NODE_MAP) {
        if (map->kind != NODE_BROKEN && !(map->kind == NODE_TEXT && map->null)) {
            reader_tell(codes->reader, PROBLEM_BAD_VALUE, map,
                    "expected a mapping from people to codes: a line each, name: \"code\"");
        }
        return;
    }
    for (const struct node *child = map->first; child != NULL; child = child->next) {
        add_code(codes, SITE_CODE_OF_PERSON, child);
    }
}

/* Who uses another's code names somebody who has one of the file's own; so there are no rings. */
static void find_shared(struct codes *codes) {
    for (size_t i = 0; i < codes->count; i++) {
        const struct text other = codes->codes[i].digits.length > 0
                ? (struct text){0}
                : shared_name(codes->nodes[i]->text);
        for (size_t k = 0; k < codes->count && other.length > 0; k++) {
            if (codes->codes[k].of == SITE_CODE_OF_PERSON && codes->codes[k].digits.length > 0 &&
                    text_equal(codes->codes[k].name, other)) {
                codes->codes[i].shared_with = (int)k;
            }
        }
        if (other.length > 0 && codes->codes[i].shared_with == SITE_NONE) {
            reader_tell(codes->reader, PROBLEM_MISSING, codes->nodes[i],
                    "nobody who is named behind \"as\" has a code in this file");
        }
    }
}

static void read_codes(struct codes *codes, const struct node *root) {
    if (root->kind != NODE_MAP) {
        reader_tell(codes->reader, PROBLEM_BAD_VALUE, root,
                "a codes file begins with people: and below it a line each, name: \"code\"; "
                "duress: "
                "and installer: may follow");
        return;
    }
    for (const struct node *child = root->first; child != NULL; child = child->next) {
        if (text_is(child->key->text, "people")) {
            const size_t before = reader_enter(codes->reader, "people");
            read_people(codes, child);
            reader_leave(codes->reader, before);
        } else if (text_is(child->key->text, "duress")) {
            add_code(codes, SITE_CODE_OF_DURESS, child);
        } else if (text_is(child->key->text, "installer")) {
            add_code(codes, SITE_CODE_OF_INSTALLER, child);
        } else {
            reader_tell(codes->reader, PROBLEM_BAD_VALUE, child->key,
                    "there is no such key in a codes file; it has people, duress and installer");
        }
    }
    find_shared(codes);
}

static void read_tree(struct reader *reader, const struct node *root) {
    enum { BESIDE_PEOPLE = 2 };
    struct site *site = &reader->document->site;
    const struct node *people = node_child(root, "people");
    const size_t most = BESIDE_PEOPLE + (people == NULL ? 0 : people->count);
    struct codes codes = {.reader = reader,
            .codes = ARENA_ARRAY(&reader->document->arena, struct site_code, most),
            .nodes = ARENA_ARRAY(&reader->document->arena, const struct node *, most)};
    if (codes.codes == NULL || codes.nodes == NULL) {
        reader->gatherer.refused = true;
        return;
    }
    const size_t before = reader->path_length;
    char path[sizeof reader->path];
    memcpy(path, reader->path, sizeof path);
    reader_leave(reader, 0);
    read_codes(&codes, root);
    memcpy(reader->path, path, sizeof path);
    reader->path_length = before;
    site->codes = codes.codes;
    site->code_count = codes.count;
    site->codes_state = SITE_CODES_READ;
}

/* The file's text, or false: told, or it is not there. */
static bool read_file(struct reader *reader, const struct node *node, struct document_file *file) {
    struct arena *arena = &reader->document->arena;
    struct problem problem = {0};
    char path[PATH_MAX];
    bool missing = false;
    if (!has_letter(node->text)) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node,
                "expected the path of the codes file, such as house.codes; a code itself does not "
                "belong here");
        return false;
    }
    if (!include_path(reader, node, &missing, path)) {
        reader->document->site.codes_state = missing ? SITE_CODES_NOT_THERE : SITE_CODES_NOT_NAMED;
        return false;
    }
    if (include_is_site_file(reader, path)) {
        reader_tell(reader, PROBLEM_BAD_VALUE, node,
                "this is the site file itself; the codes stand in a file of their own");
        return false;
    }
    file->name = text_copy(arena, text_of(path));
    if (file->name.start == NULL ||
            !host_read_private_file(path, CODES_BYTES_MAX, arena, &file->text, &problem).good) {
        const bool refused = file->name.start == NULL || problem.kind == PROBLEM_MEMORY;
        reader->gatherer.refused = reader->gatherer.refused || refused;
        reader_tell(reader, problem.kind, node, "%s", problem.text);
        return false;
    }
    return true;
}

void read_codes_file(struct reader *reader, const struct node *root) {
    const struct node *node = node_child(node_child(root, "site"), "codes");
    if (node == NULL || node->kind != NODE_TEXT || reader->document->site.codes_file.length == 0) {
        return;
    }
    struct document_file *file = ARENA_NEW(&reader->document->arena, struct document_file);
    if (file == NULL) {
        reader->gatherer.refused = true;
        return;
    }
    file->secret = true;
    const size_t before = reader_enter(reader, "site");
    (void)reader_enter(reader, "codes");
    if (read_file(reader, node, file)) {
        file->root = node_read(&reader->gatherer, file);
        if (file->root != NULL) {
            read_tree(reader, file->root);
        }
    }
    reader_leave(reader, before);
}
