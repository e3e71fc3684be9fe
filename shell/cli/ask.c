#include "cli/ask.h"

#include "base/quantity.h"

/* Every answer is held against the key table: a site file of one line is made of it and read. */

struct arena *ask_memory(const struct interview *interview) {
    return interview->talk->arena;
}

bool ask_reads(const struct interview *interview, struct text site, struct document *document,
        struct text_builder *wanted) {
    struct problem problem = {0};
    document_init(document, interview->talk->arena->pages);
    if (document_read_text(
                document, "answer", interview->search->beside, site, interview->search, &problem)
                    .good) {
        return true;
    }
    text_add_string(wanted, document->problem_count > 0 ? "" : problem.text);
    if (document->problem_count > 0) {
        text_add(wanted, document->problems[0].what);
    }
    return false;
}

/* ---- names ------------------------------------------------------------------------------------------------------ */

static bool is_name(
        const struct interview *interview, struct text answer, struct text_builder *wanted) {
    struct document document;
    const struct text quoted = document_quote(ask_memory(interview), answer);
    const struct text site = text_print(ask_memory(interview),
            "{site: {name: house}, panel: {profile: \"%.*s\"}, areas: [{name: %.*s}]}",
            TEXT_ARGS(interview->panels[0]), TEXT_ARGS(quoted));
    const bool good = ask_reads(interview, site, &document, wanted);
    document_finish(&document);
    return good;
}

bool ask_is_among(const struct text *names, size_t count, struct text name, size_t *ret_index) {
    for (size_t i = 0; i < count; i++) {
        if (text_equal(names[i], name)) {
            *ret_index = i;
            return true;
        }
    }
    return false;
}

static struct text trimmed(struct text text) {
    while (text.length > 0 && text.start[0] == ' ') {
        text.start++;
        text.length--;
    }
    while (text.length > 0 && text.start[text.length - 1] == ' ') {
        text.length--;
    }
    return text;
}

/* The names of "a, b, c"; gives how many there are, though at most `most` are stored. */
static size_t split(struct text list, struct text *ret_names, size_t most) {
    size_t count = 0;
    for (size_t i = 0; i <= list.length;) {
        size_t end = i;
        while (end < list.length && list.start[end] != ',') {
            end++;
        }
        const struct text name = trimmed((struct text){.start = list.start + i, .length = end - i});
        if (name.length > 0) {
            if (count < most) {
                ret_names[count] = name;
            }
            count++;
        }
        i = end + 1;
    }
    return count;
}

static void add_names(struct text_builder *out, const struct text *names, size_t count) {
    for (size_t i = 0; i < count; i++) {
        text_add_format(out, "%s%.*s", i > 0 ? ", " : "", TEXT_ARGS(names[i]));
    }
}

struct text ask_list(const struct interview *interview, const struct text *names, size_t count) {
    struct text_builder out;
    text_builder_init(&out, ask_memory(interview));
    add_names(&out, names, count);
    return count == 0 ? text_of("none") : text_built(&out);
}

static void add_nearest(
        struct text_builder *wanted, struct text word, const struct text *names, size_t count) {
    enum { FAR = 4, NEAR = 2, SHORT = 5 };
    const size_t far = text_columns(word) < SHORT ? NEAR : FAR;
    size_t best = far;
    struct text nearest = {0};
    for (size_t i = 0; i < count; i++) {
        const size_t distance = text_distance(word, names[i], far);
        if (distance < best) {
            best = distance;
            nearest = names[i];
        }
    }
    if (nearest.length > 0) {
        text_add_format(wanted, "; did you mean \"%.*s\"?", TEXT_ARGS(nearest));
    }
}

static bool is_free_name(void *context, struct text answer, struct text_builder *wanted) {
    const struct ask_naming *naming = context;
    size_t which = 0;
    if (answer.length == 0 && naming->may_be_empty) {
        return true;
    }
    if (answer.length == 0) {
        text_add_string(wanted, "expected a name");
        return false;
    }
    if (text_is(answer, "yes") || text_is(answer, "no")) {
        text_add_string(wanted,
                naming->may_be_empty ? "expected its name, or Enter alone for none"
                                     : "expected its name");
        return false;
    }
    if (ask_is_among(naming->names, naming->count, answer, &which)) {
        text_add_format(
                wanted, "\"%.*s\" is there already; expected another name", TEXT_ARGS(answer));
        return false;
    }
    return is_name(naming->interview, answer, wanted);
}

static bool are_free_names(void *context, struct text answer, struct text_builder *wanted) {
    const struct ask_naming *naming = context;
    struct text names[SITE_PEOPLE_MAX];
    const size_t count = split(answer, names, SITE_PEOPLE_MAX);
    if (count == 0 || count > naming->most) {
        text_add_format(
                wanted, "expected 1 to %zu %s, with commas between", naming->most, naming->things);
        return false;
    }
    for (size_t i = 0; i < count; i++) {
        size_t which = 0;
        if (ask_is_among(names, i, names[i], &which)) {
            text_add_format(wanted, "\"%.*s\" is there twice", TEXT_ARGS(names[i]));
            return false;
        }
        if (!is_name(naming->interview, names[i], wanted)) {
            return false;
        }
    }
    return true;
}

static bool is_one_of(void *context, struct text answer, struct text_builder *wanted) {
    const struct ask_naming *naming = context;
    size_t which = 0;
    if (ask_is_among(naming->names, naming->count, answer, &which)) {
        return true;
    }
    text_add_string(wanted, "expected one of: ");
    add_names(wanted, naming->names, naming->count);
    add_nearest(wanted, answer, naming->names, naming->count);
    return false;
}

static bool is_word_of(const char *const *words, size_t count, struct text answer) {
    bool is = false;
    for (size_t i = 0; i < count; i++) {
        is = is || text_is(answer, words[i]);
    }
    return is;
}

static bool is_none(struct text answer) {
    static const char *const words[] = {"none", "no", "nobody", "nothing", "-"};
    return is_word_of(words, sizeof words / sizeof words[0], answer);
}

static bool is_all(struct text answer) {
    static const char *const words[] = {"all", "everybody", "both"};
    return is_word_of(words, sizeof words / sizeof words[0], answer);
}

/* "all", "none", or some of the names. */
static bool read_some(const struct ask_naming *naming, struct text answer, uint32_t *ret_some,
        struct text_builder *wanted) {
    struct text names[32];
    uint32_t some = 0;
    size_t named = 0;
    if (!ask_is_among(naming->names, naming->count, answer, &named) &&
            (is_all(answer) || is_none(answer))) {
        *ret_some = is_none(answer)   ? 0
                : naming->count >= 32 ? UINT32_MAX
                                      : ((uint32_t)1 << naming->count) - 1;
        return true;
    }
    const size_t count = split(answer, names, 32);
    for (size_t i = 0; i < count && i < 32; i++) {
        size_t which = 0;
        if (!ask_is_among(naming->names, naming->count, names[i], &which)) {
            text_add_format(wanted, "\"%.*s\" is not one of: ", TEXT_ARGS(names[i]));
            add_names(wanted, naming->names, naming->count);
            add_nearest(wanted, names[i], naming->names, naming->count);
            return false;
        }
        some |= (uint32_t)1 << which;
    }
    if (some == 0) {
        text_add_string(wanted, "expected all, none, or some of: ");
        add_names(wanted, naming->names, naming->count);
        return false;
    }
    *ret_some = some;
    return true;
}

static bool are_some_of(void *context, struct text answer, struct text_builder *wanted) {
    uint32_t some = 0;
    return read_some(context, answer, &some, wanted);
}

/* ---- times ------------------------------------------------------------------------------------------------------ */

static bool is_span(void *context, struct text answer, struct text_builder *wanted) {
    const struct ask_timing *timing = context;
    struct problem problem = {0};
    struct span span;
    if (!quantity_read_span(answer, &span, &problem).good) {
        text_add_string(wanted, problem.text);
        return false;
    }
    if (span.low_s < timing->range.low_s || span.high_s > timing->range.high_s) {
        text_add_string(wanted, "expected ");
        quantity_add_span(wanted, timing->range);
        return false;
    }
    if (timing->has_below &&
            (span.low_s > timing->below.low_s || span.high_s > timing->below.high_s)) {
        text_add_string(wanted, "that is longer than the walk to the keypad, ");
        quantity_add_span(wanted, timing->below);
        return false;
    }
    return true;
}

static bool is_seconds(void *context, struct text answer, struct text_builder *wanted) {
    struct problem problem = {0};
    int32_t seconds_s = 0;
    if (!quantity_read_seconds(answer, &seconds_s, &problem).good) {
        text_add_string(wanted, problem.text);
        return false;
    }
    return is_span(context, answer, wanted);
}

static bool is_clock(void *context, struct text answer, struct text_builder *wanted) {
    struct problem problem = {0};
    struct span clock;
    (void)context;
    if (quantity_read_clock(answer, &clock, &problem).good && clock.low_s == clock.high_s) {
        return true;
    }
    text_add_string(wanted, problem.text[0] != '\0' ? problem.text : "expected one time of day");
    return false;
}

static struct text of_seconds(const struct interview *interview, int32_t seconds_s) {
    struct text_builder out;
    text_builder_init(&out, ask_memory(interview));
    quantity_add_seconds(&out, seconds_s);
    return text_built(&out);
}

/* ---- asking ----------------------------------------------------------------------------------------------------- */

bool ask_name(struct interview *interview, struct text asks, struct text usual, const char *help,
        struct ask_naming naming, struct text *ret_name) {
    naming.interview = interview;
    return talk_ask(interview->talk,
            &(struct talk_question){.asks = asks,
                    .usual = usual,
                    .help = text_of(help),
                    .is_good = is_free_name,
                    .context = &naming},
            ret_name);
}

bool ask_names(struct interview *interview, const char *asks, const char *usual, const char *help,
        const char *things, size_t most, struct text *ret_names, size_t *ret_count) {
    struct ask_naming naming = {.interview = interview, .most = most, .things = things};
    struct text answer;
    if (!talk_ask(interview->talk,
                &(struct talk_question){.asks = text_of(asks),
                        .usual = text_of(usual),
                        .help = text_of(help),
                        .is_good = are_free_names,
                        .context = &naming},
                &answer)) {
        return false;
    }
    *ret_count = split(answer, ret_names, most);
    return true;
}

bool ask_choice(struct interview *interview, struct text asks, struct text usual, const char *help,
        const struct text *names, size_t count, struct text *ret_name) {
    struct ask_naming naming = {.interview = interview, .names = names, .count = count};
    struct text_builder all;
    text_builder_init(&all, ask_memory(interview));
    text_add_format(&all, "%s One of: ", help);
    add_names(&all, names, count);
    return talk_ask(interview->talk,
            &(struct talk_question){.asks = asks,
                    .usual = usual,
                    .help = text_built(&all),
                    .is_good = is_one_of,
                    .context = &naming},
            ret_name);
}

bool ask_yes(struct interview *interview, const char *asks, bool usual, const char *help,
        bool *ret_yes) {
    struct text names[] = {text_of("yes"), text_of("no")};
    struct text answer;
    if (!ask_choice(interview, text_of(asks), names[usual ? 0 : 1], help, names, 2, &answer)) {
        return false;
    }
    *ret_yes = text_equal(answer, names[0]);
    return true;
}

bool ask_some(struct interview *interview, struct text asks, struct text usual, const char *help,
        const struct text *names, size_t count, uint32_t *ret_some) {
    struct ask_naming naming = {.interview = interview, .names = names, .count = count};
    struct text_builder all;
    struct text answer;
    text_builder_init(&all, ask_memory(interview));
    text_add_format(&all, "%s all, none, or some of, with commas between: ", help);
    add_names(&all, names, count);
    if (!talk_ask(interview->talk,
                &(struct talk_question){.asks = asks,
                        .usual = usual,
                        .help = text_built(&all),
                        .is_good = are_some_of,
                        .context = &naming},
                &answer)) {
        return false;
    }
    return read_some(&naming, answer, ret_some, &all);
}

bool ask_span(struct interview *interview, struct text asks, const char *usual, const char *help,
        struct ask_timing timing, struct span *ret_span) {
    struct text answer;
    return talk_ask(interview->talk,
                   &(struct talk_question){.asks = asks,
                           .usual = text_of(usual),
                           .help = text_of(help),
                           .is_good = is_span,
                           .context = &timing},
                   &answer) &&
            quantity_read_span(answer, ret_span, NULL).good;
}

bool ask_delay(struct interview *interview, const char *asks, int32_t usual_s, const char *help,
        struct span range, int32_t *ret_seconds_s) {
    struct ask_timing timing = {.range = range};
    struct text answer;
    usual_s = usual_s < range.low_s ? range.low_s : usual_s > range.high_s ? range.high_s : usual_s;
    return talk_ask(interview->talk,
                   &(struct talk_question){.asks = text_of(asks),
                           .usual = of_seconds(interview, usual_s),
                           .help = text_of(help),
                           .is_good = is_seconds,
                           .context = &timing},
                   &answer) &&
            quantity_read_seconds(answer, ret_seconds_s, NULL).good;
}

bool ask_clock(struct interview *interview, const char *asks, const char *usual, const char *help,
        int32_t *ret_at_s) {
    struct span clock;
    struct text answer;
    if (!talk_ask(interview->talk,
                &(struct talk_question){.asks = text_of(asks),
                        .usual = text_of(usual),
                        .help = text_of(help),
                        .is_good = is_clock},
                &answer) ||
            !quantity_read_clock(answer, &clock, NULL).good) {
        return false;
    }
    *ret_at_s = clock.low_s;
    return true;
}
