/* The rows themselves: each has its words, in both sets of the trade, and a clean house has no finding. */
#include "rules/test_rules.h"

#include <ctype.h>
#include <stdio.h>

enum { PAGE_MOST = 200000 };

static void a_clean_house_has_no_finding(void **state) {
    house_is_clean(*state);
}

static void every_row_has_a_name_words_a_source_and_a_function(void **state) {
    (void)state;
    size_t count = 0;
    for (; rules_check_at(count) != NULL; count++) {
        const struct rules_check *check = rules_check_at(count);
        assert_non_null(check->id);
        assert_non_null(strchr(check->id, '.'));
        assert_non_null(check->headline);
        assert_non_null(check->why);
        assert_non_null(check->source);
        assert_non_null(check->look);
        assert_true(check->weight < FINDING_WEIGHT_COUNT);
    }
    assert_true(count > 5);
}

/* docs/checks.md as one string, from the folder of the sources; NULL: it cannot be read. */
static char *read_page(void) {
    char path[1024];
    const char *source = getenv("LINTEL_SOURCE");
    (void)snprintf(path, sizeof path, "%s/docs/checks.md", source == NULL ? "." : source);
    FILE *file = fopen(path, "rb");
    char *page = file == NULL ? NULL : calloc(1, PAGE_MOST);
    if (page != NULL && fread(page, 1, PAGE_MOST - 1, file) == 0) {
        free(page);
        page = NULL;
    }
    if (file != NULL) {
        (void)fclose(file);
    }
    return page;
}

/* Whether some line that begins with the check's id in a table ends with its source. Checks of one id lie together. */
static bool is_documented(const char *page, const struct rules_check *check) {
    char begins[80];
    char ends[300];
    (void)snprintf(begins, sizeof begins, "| `%s` |", check->id);
    (void)snprintf(ends, sizeof ends, "| %s |\n", check->source);
    bool found = false;
    for (const char *line = strstr(page, begins); line != NULL && !found;
            line = strstr(line + 1, begins)) {
        const char *end = strchr(line, '\n');
        const char *source = strstr(line, ends);
        found = source != NULL && end != NULL && source < end;
    }
    return found;
}

static void every_check_and_its_source_are_documented(void **state) {
    (void)state;
    const struct rules_check *check = NULL;
    char *page = read_page();
    assert_non_null(page);
    for (size_t i = 0; (check = rules_check_at(i)) != NULL; i++) {
        if (!is_documented(page, check)) {
            print_error("docs/checks.md has no line of %s with its source\n", check->id);
            fail();
        }
    }
    assert_false(is_documented(page, &(struct rules_check){.id = "no.such", .source = "none"}));
    free(page);
}

/* Whether the text holds the word by itself; a hyphen joins words, so that keys ("auto-set-at") are none. */
static bool has_word(struct text text, const char *word) {
    const size_t length = strlen(word);
    for (size_t i = 0; i + length <= text.length; i++) {
        const char before = i == 0 ? ' ' : text.start[i - 1];
        const char after = i + length == text.length ? ' ' : text.start[i + length];
        if (isalpha((unsigned char)before) == 0 && before != '-' &&
                isalpha((unsigned char)after) == 0 && after != '-' &&
                memcmp(text.start + i, word, length) == 0) {
            return true;
        }
    }
    return false;
}

static void check_words(struct text text, enum site_words words) {
    static const char *const uk[] = {
            "set", "sets", "setting", "unset", "unsets", "unsetting", "mains", NULL};
    static const char *const us[] = {"arm", "arms", "armed", "arming", "disarm", "disarms",
            "disarmed", "disarming", "AC", NULL};
    for (const char *const *word = words == SITE_WORDS_UK ? us : uk; *word != NULL; word++) {
        if (has_word(text, *word)) {
            print_error("\"%.*s\" has \"%s\"\n", TEXT_ARGS(text), *word);
            fail();
        }
    }
    assert_false(has_word(text, "complies"));
    assert_false(has_word(text, "certified"));
}

static void check_row(struct house *house, const struct rules_check *check) {
    const char *const patterns[] = {check->headline, check->why, check->remedy, check->price};
    const struct words_about about = {.zone = FRONT,
            .other_zone = GARDEN,
            .person = OWNER,
            .other_person = GUEST,
            .door = FRONT_DOOR,
            .areas = 1,
            .seconds_s = 30,
            .least_s = 10,
            .count = 3,
            .behaviour = SITE_ENTRY,
            .named = text_of("some words")};
    for (size_t i = 0; i < sizeof patterns / sizeof patterns[0]; i++) {
        for (int words = 0; patterns[i] != NULL && words < SITE_WORDS_COUNT; words++) {
            house->site.words = (enum site_words)words;
            check_words(words_print(&house->arena, &house->site, patterns[i], &about),
                    (enum site_words)words);
        }
    }
}

/* shows: product page, "Words": set/unset, mains (uk) and arm/disarm, AC (us); "consistent with", never "complies". */
static void neither_set_uses_words_of_the_other(void **state) {
    const struct rules_check *check = NULL;
    for (size_t i = 0; (check = rules_check_at(i)) != NULL; i++) {
        check_row(*state, check);
    }
}

/* What a user wrote is put in as it is: a name that looks like a pattern stays a name. */
static void names_are_never_patterns(void **state) {
    struct house *house = *state;
    house->zones[HALL].name = text_of("{unset} {nobody}");
    house->zones[ATTIC].name = text_of("{unset} {nobody}");
    const struct finding *finding =
            house_has(house, FINDING_RISK, "zones.name-twice", "zones[3].says");
    assert_true(text_is(
            finding->headline, "zone 4 \"{unset} {nobody}\" and zone 2 say the same words"));
}

int main(void) {
    const struct CMUnitTest tests[] = {
            HOUSE_TEST(a_clean_house_has_no_finding),
            HOUSE_TEST(every_row_has_a_name_words_a_source_and_a_function),
            HOUSE_TEST(every_check_and_its_source_are_documented),
            HOUSE_TEST(neither_set_uses_words_of_the_other),
            HOUSE_TEST(names_are_never_patterns),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
