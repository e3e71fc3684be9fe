/* With an argument it prints the reference instead (tools/reference). */
#include "document/test_document.h"

#include "document/gather.h"
#include "document/keys.h"
#include "document/node.h"

static struct text reference(struct arena *arena) {
    struct text_builder builder;
    text_builder_init(&builder, arena);
    document_add_reference(&builder);
    return text_built(&builder);
}

static void page_is_as_generated(void **state) {
    (void)state;
    char path[1024];
    struct test_pages pages = {.left = -1};
    struct arena arena;
    arena_init(&arena, test_pages(&pages), 0);
    const struct text text = reference(&arena);
    const char *source = getenv("LINTEL_SOURCE");
    (void)snprintf(path, sizeof path, "%s/docs/site-file.md", source == NULL ? "." : source);
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    char *page = malloc(text.length + 2);
    assert_non_null(page);
    const size_t length = fread(page, 1, text.length + 2, file);
    (void)fclose(file);
    if (length != text.length || memcmp(page, text.start, length) != 0) {
        print_message("# docs/site-file.md is out of date: run tools/reference\n");
    }
    assert_int_equal(length, text.length);
    assert_memory_equal(page, text.start, length);
    free(page);
    arena_finish(&arena);
}

/* Every key of the example is one of the table's. */
static void check_example(const struct key_table *table) {
    struct test_pages pages = {.left = -1};
    struct document document;
    document_init(&document, test_pages(&pages));
    struct gatherer gatherer = {.document = &document};
    document.file.name = text_of("example");
    document.file.text = text_of(table->example);
    const struct node *root =
            table->example[0] == '\0' ? NULL : node_read(&gatherer, &document.file);
    assert_true(table->example[0] == '\0' || (root != NULL && root->kind == NODE_MAP));
    for (const struct node *child = root == NULL ? NULL : root->first; child != NULL;
            child = child->next) {
        assert_non_null(key_find(table, child->key->text));
    }
    document_finish(&document);
    assert_int_equal(pages.out, 0);
}

static void check_table(const struct key_table *table) {
    check_example(table);
    for (size_t i = 0; i < table->key_count; i++) {
        const struct key *key = &table->keys[i];
        assert_true(strlen(key->help) > 3);
        assert_ptr_equal(key_find(table, text_of(key->name)), key);
        if (key->table != NULL) {
            check_table(key->table);
        }
    }
}

static void every_key_is_unique_and_explained(void **state) {
    (void)state;
    check_table(&key_site_table);
    check_table(&key_panel_profile_table);
    check_table(&key_device_profile_table);
    check_table(&key_rule_set_table);
}

int main(int argument_count, char **arguments) {
    (void)arguments;
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(page_is_as_generated),
            cmocka_unit_test(every_key_is_unique_and_explained),
    };
    if (argument_count > 1) {
        struct test_pages pages = {.left = -1};
        struct arena arena;
        arena_init(&arena, test_pages(&pages), 0);
        const struct text text = reference(&arena);
        (void)fwrite(text.start, 1, text.length, stdout);
        arena_finish(&arena);
        return 0;
    }
    return cmocka_run_group_tests(tests, NULL, NULL);
}
