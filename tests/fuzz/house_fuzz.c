/* Fuzz target: the drawing of a building. The bytes are edits of an invented cottage's drawing, each of which puts one
 * measure, side, room, kind or material in the place of another (load_fuzz tries what is no drawing at all); whatever
 * the loader takes is worked out to the end (drawn.h). */
#include "document/document.h"
#include "drawn.h"
#include "host/host.h"
#include "replay.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { TEXT_MOST = 16384, SLOTS_MOST = 400, CLASS_MOST = 16, EDIT_BYTES = 3 };

/* Runs of one byte: the same edit again. */
const char *const replay_words[] = {"\1\1\1", "\7\7\7", "\17\17\17"};
const size_t replay_word_count = sizeof replay_words / sizeof replay_words[0];

/* What may stand in the place of each other. */
static const char *const classes[][CLASS_MOST] = {
        {"0", "0.05", "0.4", "1", "1.5", "2", "2.5", "3", "3.7", "6", "9", "-1", "-2.5", "150",
                "0.001"},
        {"front", "back", "left", "right", "back right", "front left", "back left"},
        {"hall", "living room", "yard", "porch roof", "landing", "bedroom"},
        {"window", "roof light", "gap", "hatch", "garage door", "sliding door", "door"},
        {"ground", "upper"},
        {"block", "timber", "laminated glass"},
        {"yes", "no"},
};

enum { NUMBERS, CLASS_COUNT = sizeof classes / sizeof classes[0] };

/* A piece of the text that an edit may change. */
struct slot {
    size_t at;
    size_t length;
    size_t class;
};

struct drawing {
    char text[TEXT_MOST];
    size_t length;
    struct slot slots[SLOTS_MOST];
    size_t slot_count;
};

static struct drawing cottage;

static const char *source_folder(void) {
    const char *source = getenv("LINTEL_SOURCE");
    return source == NULL ? "." : source;
}

static size_t number_length(const char *at) {
    size_t length = *at == '-';
    while (isdigit((unsigned char)at[length]) || (at[length] == '.' && at[length + 1] != '.')) {
        length++;
    }
    return length > 0 && isdigit((unsigned char)at[length - 1]) ? length : 0;
}

/* How much of the text at `at` is of a class, and no key; the longest counts. */
static struct slot slot_at(const struct drawing *drawing, size_t at) {
    const char *text = &drawing->text[at];
    struct slot slot = {.at = at, .length = number_length(text), .class = NUMBERS};
    for (size_t class = NUMBERS + 1; class < CLASS_COUNT && slot.length == 0; class ++) {
        for (size_t i = 0; i < CLASS_MOST && classes[class][i] != NULL; i++) {
            const size_t length = strlen(classes[class][i]);
            if (length > slot.length && strncmp(text, classes[class][i], length) == 0 &&
                    strchr(",]}\n", text[length]) != NULL) {
                slot = (struct slot){.at = at, .length = length, .class = class};
            }
        }
    }
    return slot;
}

static void read_cottage(void) {
    char path[1024];
    (void)snprintf(path, sizeof path, "%s/tests/fuzz/corpus/load/cottage.yaml", source_folder());
    FILE *file = fopen(path, "rb");
    must(file != NULL, "the cottage is there");
    cottage.length = fread(cottage.text, 1, TEXT_MOST - 1, file);
    (void)fclose(file);
    const char *building = strstr(cottage.text, "building:");
    must(building != NULL && cottage.length < TEXT_MOST - 1, "the cottage has a drawing");
    for (size_t at = (size_t)(building - cottage.text); at < cottage.length;) {
        const struct slot slot = slot_at(&cottage, at);
        const bool begins = strchr(" [", cottage.text[at - 1]) != NULL;
        if (begins && slot.length > 0 && cottage.slot_count < SLOTS_MOST) {
            cottage.slots[cottage.slot_count++] = slot;
        }
        at += begins && slot.length > 0 ? slot.length : 1;
    }
    must(cottage.slot_count > 60, "the drawing can be edited");
}

/* The cottage with its edits; of several of one place the last counts. */
static struct text edited(const uint8_t *bytes, size_t size, char *out) {
    const char *put[SLOTS_MOST] = {NULL};
    size_t length = 0;
    size_t from = 0;
    for (size_t i = 0; i + EDIT_BYTES <= size; i += EDIT_BYTES) {
        const size_t slot = (bytes[i] + 256U * bytes[i + 1]) % cottage.slot_count;
        const char *const *class = classes[cottage.slots[slot].class];
        size_t count = 0;
        while (count < CLASS_MOST && class[count] != NULL) {
            count++;
        }
        put[slot] = class[bytes[i + 2] % count];
    }
    for (size_t i = 0; i < cottage.slot_count; i++) {
        const struct slot *slot = &cottage.slots[i];
        const size_t put_length = put[i] == NULL ? slot->length : strlen(put[i]);
        memcpy(out + length, cottage.text + from, slot->at - from);
        length += slot->at - from;
        memcpy(out + length, put[i] == NULL ? cottage.text + slot->at : put[i], put_length);
        length += put_length;
        from = slot->at + slot->length;
    }
    memcpy(out + length, cottage.text + from, cottage.length - from);
    return (struct text){.start = out, .length = length + cottage.length - from};
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size) {
    static char out[TEXT_MOST + SLOTS_MOST * CLASS_MOST];
    char data[1024];
    struct document document;
    struct problem problem = {0};
    if (cottage.slot_count == 0) {
        read_cottage();
    }
    (void)snprintf(data, sizeof data, "%s/shell/document/fixtures", source_folder());
    const struct document_search search = {.data = data};
    const struct text text = edited(bytes, size, out);
    document_init(&document, host_pages());
    if (document_read_text(&document, "fuzz", NULL, text, &search, &problem).good) {
        drawn_check(&document.site, &document.arena);
    } else {
        must(problem.kind != PROBLEM_NONE && size >= EDIT_BYTES, "only an edit is refused");
    }
    document_finish(&document);
    return 0;
}
