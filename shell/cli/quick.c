#include "cli/quick.h"

#include "base/json.h"
#include "cli/power_svg.h"
#include "cli/radio_svg.h"
#include "cli/terminal.h"
#include "host/host.h"
#include "sums/power_site.h"
#include "sums/radio_site.h"

#include <stdio.h>
#include <string.h>

enum {
    FORMAT = 1,
    LABEL_COLUMN = 2,
    VALUE_COLUMN = 28,
    REMARK_COLUMN = 46,
    HOW_COLUMN = 4,
    NOTE_HANG = 6,
    OPTION_COLUMN = 26,
};

struct wishes {
    bool json;
    bool explain;
};

/* ---- in words */

static void add_value(struct text_builder *out, const struct sums_figure *figure) {
    if (figure->words.length > 0) {
        text_add(out, figure->words);
        return;
    }
    struct text low;
    struct text high;
    struct text_builder part;
    text_builder_init(&part, out->arena);
    quantity_add_decimal(&part, figure->low, figure->decimals);
    low = text_built(&part);
    text_builder_init(&part, out->arena);
    quantity_add_decimal(&part, figure->high, figure->decimals);
    high = text_built(&part);
    text_add(out, low);
    if (figure->from_to && !text_equal(low, high)) {
        text_add_format(out, " to %.*s", TEXT_ARGS(high));
    }
    text_add_format(out, "%s%s", figure->unit[0] == '\0' ? "" : " ", figure->unit);
}

static struct text value_of(struct arena *arena, const struct sums_figure *figure) {
    struct text_builder built;
    text_builder_init(&built, arena);
    add_value(&built, figure);
    return text_built(&built);
}

static void add_how(struct layout *layout, const struct sums_figure *figure) {
    if (figure->how.length == 0) {
        return;
    }
    struct text_builder line;
    text_builder_init(&line, layout->out->arena);
    text_add_format(&line, "= %.*s [%s]", TEXT_ARGS(figure->how), figure->source);
    if (figure->list != NULL) {
        line.length = 0;
        text_add_format(
                &line, "%s = %.*s [%s]", figure->key, TEXT_ARGS(figure->how), figure->source);
    }
    layout_to(layout, HOW_COLUMN);
    layout_words(layout, text_built(&line), HOW_COLUMN + 2, LAYOUT_QUIET);
    layout_end_line(layout);
}

static void add_figure(struct layout *layout, const struct sums_figure *figure, bool wrong) {
    const bool verdict = figure->words.length > 0;
    layout_to(layout, LABEL_COLUMN);
    layout_put_string(layout, figure->label, LAYOUT_PLAIN);
    layout_to(layout, VALUE_COLUMN);
    layout_words(layout, value_of(layout->out->arena, figure), VALUE_COLUMN,
            !verdict        ? LAYOUT_STRONG
                    : wrong ? LAYOUT_BAD
                            : LAYOUT_GOOD);
    if (figure->remark.length > 0) {
        if (layout->column >= REMARK_COLUMN) {
            layout_put_string(layout, "  ", LAYOUT_PLAIN);
        }
        layout_to(layout, REMARK_COLUMN);
        layout_words(layout, figure->remark, REMARK_COLUMN, LAYOUT_QUIET);
    }
    layout_end_line(layout);
}

static bool same_item(const struct sums_figure *a, const struct sums_figure *b) {
    return a->list != NULL && b->list != NULL && strcmp(a->list, b->list) == 0 &&
            text_equal(a->item, b->item);
}

/* All figures of one item on one line; gives how many there are. */
static size_t add_item(
        struct layout *layout, const struct sums_answer *answer, size_t first, bool explain) {
    struct text_builder line;
    size_t count = 0;
    const struct sums_figure *figures = answer->figures + first;
    text_builder_init(&line, layout->out->arena);
    for (; first + count < answer->figure_count && same_item(figures, figures + count); count++) {
        const struct sums_figure *figure = figures + count;
        if (figure->minor) {
            continue;
        }
        text_add_format(&line, "%s%s%s", count == 0 ? "" : ", ", figure->label,
                figure->label[0] == '\0' ? "" : " ");
        add_value(&line, figure);
        if (figure->remark.length > 0) {
            text_add_format(&line, " (%.*s)", TEXT_ARGS(figure->remark));
        }
    }
    layout_to(layout, LABEL_COLUMN);
    layout_put(layout, figures->item, LAYOUT_PLAIN);
    layout_to(layout, VALUE_COLUMN);
    layout_words(layout, text_built(&line), VALUE_COLUMN, LAYOUT_PLAIN);
    layout_end_line(layout);
    for (size_t i = 0; explain && i < count; i++) {
        add_how(layout, figures + i);
    }
    return count;
}

static void add_text(struct text_builder *out, const struct sums_answer *answer, bool explain) {
    struct layout layout = terminal_layout(out);
    layout_words(&layout, answer->title, 0, LAYOUT_STRONG);
    layout_end_line(&layout);
    layout_end_line(&layout);
    for (size_t i = 0; i < answer->figure_count;) {
        if (answer->figures[i].list != NULL) {
            i += add_item(&layout, answer, i, explain);
            continue;
        }
        add_figure(&layout, &answer->figures[i], answer->wrong);
        if (explain) {
            add_how(&layout, &answer->figures[i]);
        }
        i++;
    }
    for (size_t i = 0; i < answer->note_count; i++) {
        if (i == 0) {
            layout_end_line(&layout);
        }
        layout_put_string(&layout, "note", LAYOUT_QUIET);
        layout_to(&layout, NOTE_HANG);
        layout_words(&layout, answer->notes[i], NOTE_HANG, LAYOUT_PLAIN);
        layout_end_line(&layout);
    }
}

/* ---- for programs */

static void add_json_figure(struct json_writer *json, const struct sums_figure *figure) {
    if (figure->words.length > 0) {
        json_add_text(json, figure->key, figure->words);
    } else if (figure->from_to) {
        json_open_object(json, figure->key);
        json_add_number(json, "low", figure->low, figure->decimals);
        json_add_number(json, "high", figure->high, figure->decimals);
        json_close_object(json);
    } else {
        json_add_number(json, figure->key, figure->low, figure->decimals);
    }
}

/* A list from its first figure on; gives how many figures it takes. */
static size_t add_json_list(
        struct json_writer *json, const struct sums_answer *answer, size_t first) {
    const struct sums_figure *figures = answer->figures + first;
    size_t count = 0;
    json_open_array(json, figures->list);
    while (first + count < answer->figure_count && figures[count].list != NULL &&
            strcmp(figures[count].list, figures->list) == 0) {
        const struct sums_figure *begins = figures + count;
        json_open_object(json, NULL);
        json_add_text(json, "item", begins->item);
        for (; first + count < answer->figure_count && same_item(begins, figures + count);
                count++) {
            add_json_figure(json, figures + count);
        }
        json_close_object(json);
    }
    json_close_array(json);
    return count;
}

static void add_json_how(struct json_writer *json, const struct sums_answer *answer) {
    json_open_array(json, "explained");
    for (size_t i = 0; i < answer->figure_count; i++) {
        const struct sums_figure *figure = &answer->figures[i];
        if (figure->how.length == 0) {
            continue;
        }
        json_open_object(json, NULL);
        json_add_string(json, "figure", figure->key);
        if (figure->list != NULL) {
            json_add_text(json, "item", figure->item);
        }
        json_add_text(json, "how", figure->how);
        json_add_string(json, "source", figure->source);
        json_close_object(json);
    }
    json_close_array(json);
}

static void add_json(struct text_builder *out, const struct sums_sum *sum,
        const struct sums_answer *answer, bool explain) {
    struct json_writer json;
    json_init(&json, out);
    json_open_object(&json, NULL);
    json_add_integer(&json, "format", FORMAT);
    json_add_text(&json, "sum", text_print(out->arena, "%s %s", sum->command, sum->name));
    json_add_text(&json, "title", answer->title);
    json_add_bool(&json, "good", !answer->wrong);
    for (size_t i = 0; i < answer->figure_count;) {
        if (answer->figures[i].list != NULL) {
            i += add_json_list(&json, answer, i);
        } else {
            add_json_figure(&json, &answer->figures[i++]);
        }
    }
    json_open_array(&json, "notes");
    for (size_t i = 0; i < answer->note_count; i++) {
        json_add_text(&json, NULL, answer->notes[i]);
    }
    json_close_array(&json);
    if (explain) {
        add_json_how(&json, answer);
    }
    json_close_object(&json);
    text_add_char(out, '\n');
}

/* The links of a site that was read. */
static outcome links(const struct cli_site *read, const struct text *words, size_t count,
        struct arena *arena, struct sums_answer *ret_answer, struct problem *ret_problem) {
    const struct site *site = &read->document.site;
    struct house house;
    if (!site->building.said) {
        return sums_run_radio_site(site, NULL, words, count, arena, ret_answer, ret_problem);
    }
    TRY(house_make(site, arena, &house, ret_problem));
    return sums_run_radio_site(site, &house, words, count, arena, ret_answer, ret_problem);
}

/* The loads of one. */
static outcome loads(const struct cli_site *read, const struct text *words, size_t count,
        struct arena *arena, struct sums_answer *ret_answer, struct problem *ret_problem) {
    return sums_run_power_site(&read->document.site, words, count, arena, ret_answer, ret_problem);
}

/* The sums of a whole site. */
static const struct of_site {
    const struct sums_sum *sum;
    outcome (*work)(const struct cli_site *read, const struct text *words, size_t count,
            struct arena *arena, struct sums_answer *ret_answer, struct problem *ret_problem);
    outcome (*draw)(const struct site *site, struct text_builder *out, struct problem *ret_problem);
    const char *picture;
} of_sites[] = {
        {&sums_radio_site, links, radio_svg_add,
                "alone: a map of each storey, for the sender that is weakest"},
        {&sums_power_site, loads, power_svg_add,
                "alone: a calendar of the batteries, and the visits that change them"},
};

/* ---- help */

static void add_option_help(struct layout *layout, const char *name, struct text help) {
    layout_to(layout, LABEL_COLUMN);
    layout_put_string(layout, name, LAYOUT_PLAIN);
    layout_put_string(layout, "  ", LAYOUT_PLAIN);
    layout_to(layout, OPTION_COLUMN);
    layout_words(layout, help, OPTION_COLUMN, LAYOUT_PLAIN);
    layout_end_line(layout);
}

static struct text help_of(struct arena *arena, const struct sums_option *option) {
    const char *usual = option->usual;
    return usual == NULL       ? text_print(arena, "%s (needed)", option->help)
            : usual[0] == '\0' ? text_of(option->help)
                               : text_print(arena, "%s (else %s)", option->help, usual);
}

static void add_help(struct text_builder *out, const struct sums_sum *sum) {
    struct layout layout = {.out = out, .width = LAYOUT_WIDTH};
    text_add_format(out, "usage: lintel %s %s %s\n", sum->command, sum->name, sum->takes);
    layout_words(&layout, text_of(sum->answers), 0, LAYOUT_PLAIN);
    layout_end_line(&layout);
    layout_end_line(&layout);
    for (size_t i = 0; i < sum->option_count; i++) {
        const struct sums_option *option = &sum->options[i];
        const struct text name = text_print(out->arena, "--%s %s", option->name, option->shown);
        add_option_help(&layout, name.start == NULL ? "" : name.start, help_of(out->arena, option));
    }
    for (size_t i = 0; i < sizeof of_sites / sizeof of_sites[0]; i++) {
        if (sum == of_sites[i].sum) {
            add_option_help(&layout, "--svg", text_of(of_sites[i].picture));
        }
    }
    add_option_help(&layout, "--explain", text_of("each formula with its numbers and source"));
    add_option_help(&layout, "--json", text_of("for programs (docs/json.md)"));
    add_option_help(&layout, "--help", text_of("this page"));
    text_add_string(out,
            "\nExit status: 0 worked out, 1 worked out and it will not do, 2 the command line\n"
            "cannot be read.\n");
}

/* ---- the command line */

/* Takes the options that all sums have out of the words; false: one of them is --help. */
static bool take_wishes(
        int argc, char **argv, struct wishes *wishes, struct text *words, size_t *ret_count) {
    *ret_count = 0;
    for (int i = 2; i < argc; i++) {
        if (strcmp(argv[i], "--help") == 0 || strcmp(argv[i], "-h") == 0) {
            return false;
        } else if (strcmp(argv[i], "--json") == 0) {
            wishes->json = true;
        } else if (strcmp(argv[i], "--explain") == 0) {
            wishes->explain = true;
        } else if (*ret_count <= SUMS_WORDS_MOST) {
            words[(*ret_count)++] = text_of(argv[i]);
        }
    }
    return true;
}

static int refused(const struct sums_sum *sum, const struct problem *problem) {
    (void)fprintf(stderr,
            "lintel %s %s: %s\nusage: lintel %s %s %s\nlintel %s %s --help says more\n",
            sum->command, sum->name, problem->text, sum->command, sum->name, sum->takes,
            sum->command, sum->name);
    return CLI_UNREADABLE;
}

static int finish(struct arena *arena, struct text_builder *out, int status) {
    static const struct problem problem = {.kind = PROBLEM_MEMORY, .text = "no memory to print it"};
    status = arena->refused || out->failed ? cli_refused(NULL, &problem)
                                           : cli_print(text_built(out), status);
    arena_finish(arena);
    return status;
}

/* Prints what was worked out, or why it was not. */
static int tell(const struct sums_sum *sum, const struct wishes *wishes, struct arena *arena,
        const struct sums_answer *answer) {
    struct text_builder out;
    text_builder_init(&out, arena);
    if (wishes->json) {
        add_json(&out, sum, answer, wishes->explain);
    } else {
        add_text(&out, answer, wishes->explain);
    }
    return finish(arena, &out, answer->wrong ? CLI_FAULTS : CLI_GOOD);
}

static int help_on(const struct sums_sum *sum) {
    struct arena arena;
    struct text_builder out;
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    add_help(&out, sum);
    return finish(&arena, &out, CLI_GOOD);
}

static int quick_run(const struct sums_sum *sum, int argc, char **argv) {
    struct text words[SUMS_WORDS_MOST + 1];
    size_t count = 0;
    struct wishes wishes = {0};
    struct arena arena;
    struct sums_answer answer;
    struct problem problem = {0};
    if (!take_wishes(argc, argv, &wishes, words, &count)) {
        return help_on(sum);
    }
    arena_init(&arena, host_pages(), 0);
    if (!sums_run(sum, words, count, &arena, &answer, &problem).good) {
        arena_finish(&arena);
        return refused(sum, &problem);
    }
    return tell(sum, &wishes, &arena, &answer);
}

static int run_of_site(const struct of_site *of, const struct cli_site *read,
        const struct wishes *wishes, const struct text *words, size_t count) {
    struct arena arena;
    struct sums_answer answer;
    struct problem problem = {0};
    arena_init(&arena, host_pages(), 0);
    if (of->work(read, words, count, &arena, &answer, &problem).good) {
        return tell(of->sum, wishes, &arena, &answer);
    }
    arena_finish(&arena);
    return problem.place[0] == '\0' ? refused(of->sum, &problem) : cli_site_refused(read, &problem);
}

/* The picture of a site's sums, for print. */
static int draw(const struct of_site *of, const struct cli_site *read) {
    struct arena arena;
    struct text_builder out;
    struct problem problem = {0};
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    if (of->draw(&read->document.site, &out, &problem).good) {
        return finish(&arena, &out, CLI_GOOD);
    }
    arena_finish(&arena);
    return problem.place[0] == '\0' ? refused(of->sum, &problem) : cli_site_refused(read, &problem);
}

static int quick_site(const struct of_site *of, int argc, char **argv) {
    struct text words[SUMS_WORDS_MOST + 1];
    size_t count = 0;
    struct wishes wishes = {0};
    struct cli_site read;
    int status = CLI_UNREADABLE;
    if (!take_wishes(argc, argv, &wishes, words, &count)) {
        return help_on(of->sum);
    }
    const bool picture = count == 1 && text_is(words[0], "--svg");
    if (cli_site_read(&read, argv[1])) {
        status = picture ? draw(of, &read) : run_of_site(of, &read, &wishes, words, count);
    }
    cli_site_finish(&read);
    return status;
}

/* What is no sum and looks like a file is a site. */
static const struct of_site *site_sum(const struct cli_command *command, const char *word) {
    const bool file =
            strcmp(word, "-") == 0 || strcmp(word, "SITE") == 0 || strpbrk(word, "./") != NULL;
    for (size_t i = 0; file && i < sizeof of_sites / sizeof of_sites[0]; i++) {
        if (strcmp(of_sites[i].sum->command, command->name) == 0) {
            return &of_sites[i];
        }
    }
    return NULL;
}

static int help_page(const struct cli_command *command) {
    struct arena arena;
    struct text_builder out;
    arena_init(&arena, host_pages(), 0);
    text_builder_init(&out, &arena);
    struct layout layout = {.out = &out, .width = LAYOUT_WIDTH};
    text_add_format(
            &out, "usage: lintel %s %s\n%s\n\n", command->name, command->takes, command->answers);
    for (size_t i = 0; i < sums_count(); i++) {
        const struct sums_sum *sum = sums_at(i);
        if (strcmp(sum->command, command->name) == 0) {
            layout_to(&layout, LABEL_COLUMN);
            layout_put_string(&layout, sum->name, LAYOUT_PLAIN);
            layout_to(&layout, LABEL_COLUMN + 12);
            layout_words(&layout, text_of(sum->answers), LABEL_COLUMN + 12, LAYOUT_PLAIN);
            layout_end_line(&layout);
        }
    }
    text_add_format(&out, "\n%s", command->help);
    return finish(&arena, &out, CLI_GOOD);
}

int quick_command(const struct cli_command *command, int argc, char **argv) {
    if (argc < 2) {
        return cli_misused(command, "which sum? lintel %s --help lists them", command->name);
    }
    if (strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0) {
        return help_page(command);
    }
    const struct sums_sum *sum = sums_find(command->name, text_of(argv[1]));
    const struct of_site *of = sum == NULL ? site_sum(command, argv[1]) : NULL;
    if (of != NULL) {
        return quick_site(of, argc, argv);
    }
    if (sum == NULL) {
        return cli_misused(command, "there is no sum \"%s\"; lintel %s --help lists them", argv[1],
                command->name);
    }
    return quick_run(sum, argc, argv);
}
