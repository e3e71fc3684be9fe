/* Reading the words of a quick sum by its table of options. */
#include "base/length.h"
#include "sums/parts.h"

#include <string.h>

static bool ends_with_digit(struct text word) {
    return word.length > 0 && word.start[word.length - 1] >= '0' &&
            word.start[word.length - 1] <= '9';
}

static bool is_in_feet(struct text word) {
    for (size_t i = 0; i + 1 < word.length; i++) {
        if ((word.start[i] == 'f' && word.start[i + 1] == 't') ||
                (word.start[i] == 'i' && word.start[i + 1] == 'n')) {
            return true;
        }
    }
    return false;
}

static bool is_bare(const struct sums_option *option) {
    return option->takes == SUMS_COUNT || option->takes == SUMS_NUMBER;
}

/* "10mW" as dBm. The number is read as a percentage is. */
static outcome read_milliwatts(
        struct text word, struct arena *arena, double *ret_dbm, struct problem *ret_problem) {
    struct quantity number = {0};
    const struct text written = text_print(arena, "%.*s%%", (int)(word.length - 2), word.start);
    TRY(quantity_read(written, QUANTITY_PERCENT, &number, ret_problem));
    if (!(number.low > 0) || number.low < number.high) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "one power over 0 is expected, for example 10mW");
    }
    *ret_dbm = 10 * log10(number.low);
    return outcome_good();
}

static bool ends_with_milliwatts(struct text word) {
    return word.length > 2 && memcmp(word.start + word.length - 2, "mW", 2) == 0;
}

/* A length without its unit is refused with the unit that the option is usual in: metres, of small things mm. */
static outcome check_length(const struct sums_option *option, struct text word, struct arena *arena,
        struct problem *ret_problem) {
    enum { SMALL_M = 10 };
    struct quantity length;
    const char *unit = option->high <= SMALL_M ? "mm" : "m";
    if (is_bare(option) || option->kind != QUANTITY_LENGTH_M || option->bare_unit != NULL ||
            !ends_with_digit(word) ||
            !quantity_read(text_print(arena, "%.*s%s", TEXT_ARGS(word), unit), QUANTITY_LENGTH_M,
                    &length, NULL)
                     .good) {
        return outcome_good();
    }
    FAIL(ret_problem, PROBLEM_UNREADABLE, "",
            "\"%.*s\" has no unit; write mm, cm or m, for example %.*s%s", TEXT_ARGS(word),
            TEXT_ARGS(word), unit);
}

/* What has no unit is read as a percentage is: digits alone, no sign, no octal, no exponent. */
static outcome read_number(const struct sums_option *option, struct text word, struct arena *arena,
        struct quantity *ret_quantity, struct problem *ret_problem) {
    if (option->takes == SUMS_LENGTH && is_in_feet(word)) {
        int32_t length_mm = 0;
        TRY(length_read(word, &length_mm, ret_problem));
        ret_quantity->low = ret_quantity->high = length_mm / 1000.0;
        return outcome_good();
    }
    if (option->takes == SUMS_QUANTITY && option->kind == QUANTITY_POWER_DBM &&
            ends_with_milliwatts(word)) {
        TRY(read_milliwatts(word, arena, &ret_quantity->low, ret_problem));
        ret_quantity->high = ret_quantity->low;
        return outcome_good();
    }
    const char *unit = is_bare(option) ? "%" : option->bare_unit;
    if (is_bare(option) && !ends_with_digit(word)) {
        FAIL(ret_problem, PROBLEM_UNREADABLE, "",
                "a number without a unit is expected, for example %.9g", option->low);
    }
    if (unit != NULL && ends_with_digit(word)) {
        word = text_print(arena, "%.*s%s", TEXT_ARGS(word), unit);
    }
    TRY(check_length(option, word, arena, ret_problem));
    const enum quantity_kind kind = is_bare(option) ? QUANTITY_PERCENT : option->kind;
    TRY(quantity_read(word, kind, ret_quantity, ret_problem));
    if (option->takes == SUMS_COUNT && fmod(ret_quantity->low, 1) > 0) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "a whole number is expected, for example %.0f",
                option->low);
    }
    return outcome_good();
}

/* The symbol in which the limits of a kind are said. */
static const char *unit_of(const struct sums_option *option) {
    static const char *const units[QUANTITY_KIND_COUNT] = {
            [QUANTITY_TIME_S] = " s",
            [QUANTITY_LENGTH_M] = " m",
            [QUANTITY_SPEED_M_S] = " m/s",
            [QUANTITY_PERCENT] = " %",
            [QUANTITY_CURRENT_MA] = " mA",
            [QUANTITY_TEMPERATURE_C] = " C",
            [QUANTITY_FREQUENCY_MHZ] = " MHz",
            [QUANTITY_POWER_DBM] = " dBm",
            [QUANTITY_LEVEL_DB] = " dB",
            [QUANTITY_MASS_KG] = " kg",
            [QUANTITY_ANGLE_DEG] = " deg",
            [QUANTITY_VOLTAGE_V] = " V",
            [QUANTITY_RESISTANCE_OHM] = " ohm",
            [QUANTITY_CHARGE_MAH] = " mAh",
            [QUANTITY_FIELD_MT] = " mT",
    };
    return is_bare(option) ? "" : units[option->kind];
}

outcome sums_read_value(const struct sums_option *option, struct text word, struct arena *arena,
        double *ret_low, double *ret_high, struct problem *ret_problem) {
    struct quantity quantity = {0};
    TRY(read_number(option, word, arena, &quantity, ret_problem));
    if (!option->from_to && quantity.low < quantity.high) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "one value is expected, not a from-to");
    }
    if (quantity.low < option->low || quantity.high > option->high) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "%.*s is outside %.9g to %.9g%s",
                (int)(word.length > 60 ? 60 : word.length), word.start, option->low, option->high,
                unit_of(option));
    }
    *ret_low = quantity.low;
    *ret_high = quantity.high;
    return outcome_good();
}

/* "single double triple": the word is one of them. */
static outcome check_choice(
        const struct sums_option *option, struct text word, struct problem *ret_problem) {
    const char *at = option->choices;
    while (at != NULL && *at != '\0') {
        const char *space = strchr(at, ' ');
        const size_t length = space == NULL ? strlen(at) : (size_t)(space - at);
        if (text_equal(word, (struct text){at, length})) {
            return outcome_good();
        }
        at += length + (at[length] == ' ');
    }
    if (option->choices != NULL) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "\"%.*s\" is none of: %s",
                (int)(word.length > 60 ? 60 : word.length), word.start, option->choices);
    }
    return outcome_good();
}

static outcome take(struct sums_ask *ask, size_t index, struct text word, struct arena *arena,
        struct problem *ret_problem) {
    const struct sums_option *option = &ask->sum->options[index];
    struct sums_value *value = &ask->values[index];
    struct problem problem = {0};
    if (value->count > 0 && !option->many) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, "", "--%s is given twice", option->name);
    }
    const bool good = option->takes == SUMS_WORD
            ? check_choice(option, word, &problem).good
            : sums_read_value(option, word, arena, &value->low, &value->high, &problem).good;
    if (!good) {
        FAIL(ret_problem, problem.kind, "", "--%s: %s", option->name, problem.text);
    }
    value->count++;
    value->word = word;
    if (option->many) {
        ask->every[ask->every_count].option = index;
        ask->every[ask->every_count].word = word;
        ask->every_count++;
    }
    return outcome_good();
}

static outcome refuse_option(
        const struct sums_sum *sum, struct text name, struct problem *ret_problem) {
    size_t reach = text_reach(name) + 1;
    const char *nearest = NULL;
    for (size_t i = 0; i < sum->option_count; i++) {
        const size_t distance = text_distance(name, text_of(sum->options[i].name), reach);
        if (distance < reach) {
            reach = distance;
            nearest = sum->options[i].name;
        }
    }
    FAIL(ret_problem, PROBLEM_UNREADABLE, "", "there is no option \"--%.*s\"%s%s%s",
            (int)(name.length > 60 ? 60 : name.length), name.start,
            nearest == NULL ? "" : "; did you mean --", nearest == NULL ? "" : nearest,
            nearest == NULL ? "; --help lists them" : "?");
}

/* "--name VALUE" or "--name=VALUE"; gives how many words it took. */
static outcome read_option(struct sums_ask *ask, const struct text *words, size_t left,
        struct arena *arena, size_t *ret_taken, struct problem *ret_problem) {
    struct text name = {words[0].start + 2, words[0].length - 2};
    struct text word = {0};
    const char *equals = name.length == 0 ? NULL : memchr(name.start, '=', name.length);
    if (equals != NULL) {
        const size_t length = (size_t)(equals - name.start);
        word = (struct text){equals + 1, name.length - length - 1};
        name.length = length;
    }
    for (size_t i = 0; i < ask->sum->option_count; i++) {
        if (!text_is(name, ask->sum->options[i].name)) {
            continue;
        }
        if (equals == NULL && left < 2) {
            FAIL(ret_problem, PROBLEM_MISSING, "", "--%s wants a value: %s",
                    ask->sum->options[i].name, ask->sum->options[i].help);
        }
        *ret_taken = equals == NULL ? 2 : 1;
        return take(ask, i, equals == NULL ? words[1] : word, arena, ret_problem);
    }
    return refuse_option(ask->sum, name, ret_problem);
}

/* What was left out counts as usual, or is missing. */
static outcome fill(struct sums_ask *ask, struct arena *arena, struct problem *ret_problem) {
    for (size_t i = 0; i < ask->sum->option_count; i++) {
        const struct sums_option *option = &ask->sum->options[i];
        struct sums_value *value = &ask->values[i];
        if (value->count > 0 || (option->usual != NULL && option->usual[0] == '\0')) {
            continue;
        }
        if (option->usual == NULL) {
            FAIL(ret_problem, PROBLEM_MISSING, "", "--%s %s is missing: %s", option->name,
                    option->shown, option->help);
        }
        value->word = text_of(option->usual);
        if (option->takes != SUMS_WORD) {
            TRY(sums_read_value(
                    option, value->word, arena, &value->low, &value->high, ret_problem));
        }
    }
    return outcome_good();
}

outcome sums_read(struct sums_ask *ask, const struct text *words, size_t count, struct arena *arena,
        struct problem *ret_problem) {
    if (count > SUMS_WORDS_MOST) {
        FAIL(ret_problem, PROBLEM_LIMIT, "", "at most %d words", SUMS_WORDS_MOST);
    }
    for (size_t i = 0; i < count;) {
        size_t taken = 1;
        if (text_begins(words[i], text_of("--"))) {
            TRY(read_option(ask, words + i, count - i, arena, &taken, ret_problem));
        } else if (ask->word_count == ask->sum->words_most) {
            FAIL(ret_problem, PROBLEM_UNREADABLE, "", "\"%.*s\" is one word too many",
                    (int)(words[i].length > 60 ? 60 : words[i].length), words[i].start);
        } else {
            ask->words[ask->word_count++] = words[i];
        }
        i += taken;
    }
    if (ask->word_count < ask->sum->words_least) {
        FAIL(ret_problem, PROBLEM_MISSING, "", "it takes %s", ask->sum->takes);
    }
    return fill(ask, arena, ret_problem);
}
