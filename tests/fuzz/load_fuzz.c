/* Fuzz target: the loader of site files. Whatever the bytes: no crash, no leak, all memory given back, every problem
 * has its words and a place inside the text; what reads well writes as JSON that reads as the same site. */
#include "document/document.h"
#include "drawn.h"
#include "host/host.h"
#include "replay.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const char *const replay_words[] = {
        "{",
        "}",
        "[",
        "]",
        ": ",
        ", ",
        "- ",
        "\n",
        "\n  ",
        "\t",
        "\r\n",
        "# ",
        "&a ",
        "*a",
        "!a ",
        "|\n",
        ">\n",
        "\"",
        "'",
        "? ",
        "---\n",
        "...\n",
        "%YAML 1.2\n",
        "~",
        "null",
        "yes",
        "no",
        "..",
        "0 s",
        "30 s",
        "4..9 s",
        "05:30",
        "10 %",
        "9999999999",
        "-1",
        "010",
        "\xEF\xBB\xBF",
        "\xC3\xA9",
        "\x00",
        "site",
        "name",
        "panel",
        "zones",
        "number",
        "says",
        "in: {night: out}",
        "delay",
        "behaviour",
        "entry",
        "follower",
        "steps",
        "who",
        "open",
        "unset",
        "set",
        "after",
        "with: fob",
        "mains: lost",
        "areas",
        "full",
        "../panels/halyard-28.yaml",
        "halyard-28",
        "building",
        "rooms",
        "size: 4 x 3 m",
        "right-of",
        "above",
        "places",
        "corner: back left",
        "faces: left",
        "towards: 1 x 1 m",
        "wall: right",
        "is: gap",
        "is: window",
        "furniture",
        "height: 2 m",
        "outline: [0 x 0 m, 4 x 0 m, 4 x 3 m]",
        "openings",
        "wall: left",
        "9999 m",
        "-3 x 2 m",
        "13 ft 9 in",
};
const size_t replay_word_count = sizeof replay_words / sizeof replay_words[0];

static struct document_search search(void) {
    static char data[1024];
    const char *source = getenv("LINTEL_SOURCE");
    (void)snprintf(data, sizeof data, "%s/shell/document/fixtures", source == NULL ? "." : source);
    return (struct document_search){.data = data};
}

static int line_count(struct text text) {
    int lines = 1;
    for (size_t i = 0; i < text.length; i++) {
        lines += text.start[i] == '\n' || text.start[i] == '\r';
    }
    return lines;
}

static struct text json_of(struct document *document) {
    struct text_builder builder;
    struct json_writer json;
    text_builder_init(&builder, &document->arena);
    json_init(&json, &builder);
    document_write_json(document, NULL, &json);
    return text_built(&builder);
}

static void check_json(struct document *document) {
    const struct document_search where = search();
    struct document again;
    struct problem problem = {0};
    const struct text json = json_of(document);
    document_init(&again, host_pages());
    const bool good = document_read_text(&again, "again", NULL, json, &where, &problem).good;
    if (!good) {
        (void)fprintf(stderr, "%s\n%.*s\n", problem.text, TEXT_ARGS(json));
    }
    must(good, "JSON of a good site reads");
    must(text_equal(json_of(&again), json), "JSON reads as the same site");
    document_finish(&again);
}

static void check_edit(struct document *document) {
    const struct document_search where = search();
    const struct document_edit edit = {.path = "site.name", .value = text_of("another")};
    struct text text = {0};
    struct problem problem = {0};
    if (!document_edit(document, &edit, 1, &where, &text, &problem).good) {
        must(problem.kind != PROBLEM_NONE && text.start == NULL, "a refused edit says why");
        return;
    }
    struct document again;
    document_init(&again, host_pages());
    must(document_read_text(&again, "again", NULL, text, &where, &problem).good,
            "an edited text reads");
    must(text_is(again.site.name, "another"), "an edit is made");
    document_finish(&again);
}

static void check_problems(struct document *document) {
    const int lines = line_count(document->file.text);
    must(document->problem_count > 0, "a refused text has a problem");
    for (size_t i = 0; i < document->problem_count; i++) {
        const struct document_problem *problem = &document->problems[i];
        int line = 0;
        int column = 0;
        must(problem->what.length > 0, "a problem has words");
        if (text_equal(problem->file, document->file.name)) {
            must(problem->line >= 0 && problem->line <= lines + 1, "a problem stands in the text");
        }
        (void)document_place(document, problem->path, &line, &column);
        must(line >= 1 && line <= lines + 1 && column >= 1, "a place stands in the text");
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size) {
    const struct document_search where = search();
    const struct text text = {.start = (const char *)bytes, .length = size};
    struct document document;
    struct problem problem = {0};
    document_init(&document, host_pages());
    if (document_read_text(&document, "fuzz", NULL, text, &where, &problem).good) {
        check_json(&document);
        check_edit(&document);
        if (document.site.building.said) {
            drawn_check(&document.site, &document.arena);
        }
    } else {
        must(problem.kind != PROBLEM_NONE, "a refusal says why");
        check_problems(&document);
    }
    document_finish(&document);
    return 0;
}
