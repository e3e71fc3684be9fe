#include "why/spoken.h"

#include "why/phrases.h"

#include <string.h>

bool spoken_same(struct text a, struct text b) {
    return a.length == b.length && (text_equal(a, b) || text_distance(a, b, 0) == 0);
}

static bool is_space(char letter) {
    return letter == ' ' || letter == '\t' || letter == '\n' || letter == '\r' || letter == ',' ||
            letter == ';';
}

/* Signs that people put around words. A full stop only at the end: 3.10 is a time. */
static bool is_wrapping(char letter) {
    return letter == '"' || letter == '\'' || letter == '!' || letter == '?' || letter == '(' ||
            letter == ')';
}

static struct text trimmed(struct text word) {
    while (word.length > 0 && is_wrapping(word.start[0])) {
        word.start++;
        word.length--;
    }
    while (word.length > 0 &&
            (is_wrapping(word.start[word.length - 1]) || word.start[word.length - 1] == '.' ||
                    word.start[word.length - 1] == ':')) {
        word.length--;
    }
    return word;
}

/* "Can't", "cant" and the same with a curly apostrophe are one word. */
static bool is_spelt(struct text word, const char *plain) {
    static const char curly[] = "\xE2\x80\x99";
    enum { CURLY = sizeof curly - 1, LONGEST = 15 };
    char bare[LONGEST + 1];
    size_t length = 0;
    for (size_t i = 0; i < word.length;) {
        if (word.start[i] == '\'') {
            i++;
        } else if (word.length - i >= CURLY && memcmp(word.start + i, curly, CURLY) == 0) {
            i += CURLY;
        } else if (length == LONGEST) {
            return false;
        } else {
            bare[length++] = word.start[i++];
        }
    }
    return spoken_same((struct text){.start = bare, .length = length}, text_of(plain));
}

/* Writes other spellings as one, and two words as one where they say the same ("can not"). */
static void fold(struct spoken *words) {
    size_t kept = 0;
    for (size_t at = 0; at < words->count; kept++) {
        struct text word = words->word[at];
        struct text said = word;
        size_t length = 1;
        for (size_t i = 0; i < why_spelling_count; i++) {
            const struct spelling *it = &why_spellings[i];
            const bool two = it->second != NULL;
            if (is_spelt(words->word[at], it->first) &&
                    (!two ||
                            (at + 1 < words->count && is_spelt(words->word[at + 1], it->second)))) {
                word = text_of(it->is);
                length = two ? 2 : 1;
                const struct text last = words->word[at + length - 1];
                said.length = (size_t)(last.start + last.length - said.start);
                break;
            }
        }
        words->word[kept] = word;
        words->said[kept] = said;
        at += length;
    }
    words->count = kept;
}

bool spoken_split(struct text said, struct spoken *words) {
    words->count = 0;
    for (size_t i = 0; i < said.length;) {
        size_t end = i;
        while (end < said.length && !is_space(said.start[end])) {
            end++;
        }
        const struct text word = trimmed((struct text){.start = said.start + i, .length = end - i});
        if (word.length > 0) {
            if (words->count == SPOKEN_MAX) {
                return false;
            }
            words->word[words->count++] = word;
        }
        i = end + 1;
    }
    fold(words);
    return true;
}

size_t spoken_spells(const struct spoken *words, size_t at, struct text phrase) {
    struct spoken parts;
    if (!spoken_split(phrase, &parts) || parts.count == 0 || at + parts.count > words->count) {
        return 0;
    }
    for (size_t i = 0; i < parts.count; i++) {
        if (!spoken_same(words->word[at + i], parts.word[i])) {
            return 0;
        }
    }
    return parts.count;
}

bool spoken_digits(struct text *rest, size_t most, int *ret_number) {
    size_t digits = 0;
    int number = 0;
    while (digits < rest->length && digits < most && rest->start[digits] >= '0' &&
            rest->start[digits] <= '9') {
        number = number * 10 + (rest->start[digits] - '0');
        digits++;
    }
    rest->start += digits;
    rest->length -= digits;
    *ret_number = number;
    return digits > 0;
}

bool spoken_skip(struct text *rest, const char *string) {
    const struct text wanted = text_of(string);
    if (rest->length < wanted.length ||
            !spoken_same((struct text){.start = rest->start, .length = wanted.length}, wanted)) {
        return false;
    }
    rest->start += wanted.length;
    rest->length -= wanted.length;
    return true;
}
