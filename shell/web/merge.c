#include "web/merge.h"

#include <stdint.h>
#include <string.h>

/* More pairs of lines than this are not compared each with each: what lies between the first and the last line that
 * differ is then one change. A pasted table of 128 zones is well below. */
enum { PAIRS_MOST = 1 << 20 };

/** In base, the bytes from `at` to before `end` become `with`. In rising order, none over another. */
struct hunk {
    size_t at;
    size_t end;
    struct text with;
};

struct hunks {
    struct hunk *list;
    size_t count;
};

struct lines {
    struct text *list; /* each with its line end */
    size_t count;
};

static struct text part(struct text text, size_t at, size_t end) {
    return (struct text){text.start + at, end - at};
}

static struct lines split(struct text text, struct arena *arena) {
    size_t most = 1;
    for (size_t at = 0; at < text.length; at++) {
        most += text.start[at] == '\n';
    }
    struct lines lines = {.list = ARENA_ARRAY(arena, struct text, most)};
    for (size_t at = 0; lines.list != NULL && at < text.length;) {
        const char *end = memchr(text.start + at, '\n', text.length - at);
        const size_t next = end == NULL ? text.length : (size_t)(end - text.start) + 1;
        lines.list[lines.count++] = part(text, at, next);
        at = next;
    }
    return lines;
}

static void add(struct hunks *hunks, struct text base, struct text from, struct text with) {
    const size_t at = (size_t)(from.start - base.start);
    hunks->list[hunks->count++] = (struct hunk){at, at + from.length, with};
}

static bool separates(char byte) {
    return strchr(",{}[]\n", byte) != NULL;
}

static bool is_quoted(struct text line) {
    return line.length > 0 &&
            (memchr(line.start, '"', line.length) != NULL ||
                    memchr(line.start, '\'', line.length) != NULL);
}

/** One line became another: of the values in it, those that differ. */
static void narrow(struct hunks *hunks, struct text base, struct text from, struct text with) {
    const size_t most = from.length < with.length ? from.length : with.length;
    size_t before = 0;
    size_t behind = 0;
    if (is_quoted(from) || is_quoted(with)) {
        add(hunks, base, from, with);
        return;
    }
    while (before < most && from.start[before] == with.start[before]) {
        before++;
    }
    while (behind < most - before &&
            from.start[from.length - 1 - behind] == with.start[with.length - 1 - behind]) {
        behind++;
    }
    while (before > 0 && !separates(from.start[before - 1])) {
        before--;
    }
    while (behind > 0 && !separates(from.start[from.length - behind])) {
        behind--;
    }
    add(hunks, base, part(from, before, from.length - behind),
            part(with, before, with.length - behind));
}

/** Lines [a, a_end) of one became lines [b, b_end) of the other. */
static void add_run(struct hunks *hunks, struct text base, const struct lines *one, size_t a,
        size_t a_end, const struct lines *other, size_t b, size_t b_end) {
    if (a_end - a == b_end - b) {
        for (; a < a_end; a++, b++) {
            narrow(hunks, base, one->list[a], other->list[b]);
        }
        return;
    }
    const char *start = a < one->count ? one->list[a].start : base.start + base.length;
    struct text from = {start, 0};
    struct text with = {NULL, 0};
    for (; a < a_end; a++) {
        from.length += one->list[a].length;
    }
    for (; b < b_end; b++) {
        with = (struct text){with.start == NULL ? other->list[b].start : with.start,
                with.length + other->list[b].length};
    }
    add(hunks, base, from, with);
}

/** lengths[i * wide + j]: of the longest row of lines that stand in both from i and j on. NULL: no memory, or too many
 *  of them. */
static uint32_t *common_lengths(const struct lines *one, size_t a, size_t a_end,
        const struct lines *other, size_t b, size_t b_end, struct arena *arena) {
    const size_t high = a_end - a;
    const size_t wide = b_end - b + 1;
    uint32_t *lengths =
            high * wide > PAIRS_MOST ? NULL : ARENA_ARRAY(arena, uint32_t, (high + 1) * wide);
    for (size_t i = high; lengths != NULL && i-- > 0;) {
        for (size_t j = wide - 1; j-- > 0;) {
            const uint32_t down = lengths[(i + 1) * wide + j];
            const uint32_t right = lengths[i * wide + j + 1];
            lengths[i * wide + j] = text_equal(one->list[a + i], other->list[b + j])
                    ? lengths[(i + 1) * wide + j + 1] + 1
                    : down > right ? down
                                   : right;
        }
    }
    return lengths;
}

static void compare_middle(struct hunks *hunks, struct text base, const struct lines *one, size_t a,
        size_t a_end, const struct lines *other, size_t b, size_t b_end, struct arena *arena) {
    const uint32_t *lengths = common_lengths(one, a, a_end, other, b, b_end, arena);
    const size_t wide = b_end - b + 1;
    size_t i = 0;
    size_t j = 0;
    while (lengths != NULL && a + i < a_end && b + j < b_end && lengths[i * wide + j] > 0) {
        const size_t run_i = i;
        const size_t run_j = j;
        while (!text_equal(one->list[a + i], other->list[b + j])) {
            if (lengths[(i + 1) * wide + j] >= lengths[i * wide + j + 1]) {
                i++;
            } else {
                j++;
            }
        }
        if (i > run_i || j > run_j) {
            add_run(hunks, base, one, a + run_i, a + i, other, b + run_j, b + j);
        }
        i++;
        j++;
    }
    if (a + i < a_end || b + j < b_end) {
        add_run(hunks, base, one, a + i, a_end, other, b + j, b_end);
    }
}

/** What leads from one text to the other. list NULL: no memory. */
static struct hunks differences(struct text base, struct text other_text, struct arena *arena) {
    const struct lines one = split(base, arena);
    const struct lines other = split(other_text, arena);
    struct hunks hunks = {.list = ARENA_ARRAY(arena, struct hunk, one.count + other.count + 1)};
    size_t begin = 0;
    size_t end = one.count;
    size_t other_end = other.count;
    if (arena->refused) {
        return (struct hunks){0};
    }
    while (begin < end && begin < other_end && text_equal(one.list[begin], other.list[begin])) {
        begin++;
    }
    while (end > begin && other_end > begin &&
            text_equal(one.list[end - 1], other.list[other_end - 1])) {
        end--;
        other_end--;
    }
    compare_middle(&hunks, base, &one, begin, end, &other, begin, other_end, arena);
    return hunks;
}

static bool is_same(const struct hunk *a, const struct hunk *b) {
    return a->at == b->at && a->end == b->end && text_equal(a->with, b->with);
}

static bool collide(const struct hunk *a, const struct hunk *b) {
    const bool both_put = a->at == a->end && b->at == b->end && a->at == b->at;
    return !is_same(a, b) && (both_put || (a->at < b->end && b->at < a->end));
}

static bool any_collide(struct hunks one, struct hunks other) {
    for (size_t i = 0; i < one.count; i++) {
        for (size_t j = 0; j < other.count; j++) {
            if (collide(&one.list[i], &other.list[j])) {
                return true;
            }
        }
    }
    return false;
}

/** Which of two comes first: what is put before a place comes before what that place becomes. */
static bool comes_first(const struct hunk *a, const struct hunk *b) {
    return a->at != b->at ? a->at < b->at : a->end <= b->end;
}

static struct text apply(
        struct text base, struct hunks one, struct hunks other, struct arena *arena) {
    struct text_builder out;
    size_t at = 0;
    size_t i = 0;
    size_t j = 0;
    text_builder_init(&out, arena);
    while (i < one.count || j < other.count) {
        const bool mine =
                j == other.count || (i < one.count && comes_first(&one.list[i], &other.list[j]));
        const struct hunk *hunk = mine ? &one.list[i] : &other.list[j];
        if (i < one.count && j < other.count && is_same(&one.list[i], &other.list[j])) {
            j++;
        }
        i += mine;
        j += !mine;
        text_add(&out, part(base, at, hunk->at));
        text_add(&out, hunk->with);
        at = hunk->end;
    }
    text_add(&out, part(base, at, base.length));
    return text_built(&out);
}

bool merge_change(struct text base, struct text mine, struct text theirs, struct arena *arena,
        struct text *ret_text) {
    *ret_text = (struct text){0};
    const struct hunks change = differences(base, mine, arena);
    const struct hunks other = differences(base, theirs, arena);
    if (arena->refused) {
        return true;
    }
    if (any_collide(change, other)) {
        return false;
    }
    *ret_text = apply(base, change, other, arena);
    return true;
}
