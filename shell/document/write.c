/* The site as JSON by the key table: every value, defaults filled in, so that it reads back as the same site. */
#include "document/reader.h"

#include "base/length.h"
#include "base/quantity.h"

#include <string.h>

struct writer {
    struct json_writer *json;
    struct reader names; /* for looking names up */
};

static void write_table(struct writer *writer, const struct key_table *table, const void *base);

static const void *field_of(const struct key *key, const void *base) {
    return (const char *)base + key->at;
}

static int int_at(const void *field) {
    int value;
    memcpy(&value, field, sizeof value);
    return value;
}

static uint32_t bits_at(const void *field) {
    uint32_t bits;
    memcpy(&bits, field, sizeof bits);
    return bits;
}

static bool flag_at(const void *base, size_t at) {
    return *(const bool *)((const char *)base + at);
}

static size_t count_of(const struct key *key, const void *base) {
    size_t count;
    memcpy(&count, (const char *)base + key->count_at, sizeof count);
    return count;
}

static void write_name(struct writer *writer, const char *name, enum thing thing, int index) {
    if (thing == THING_ZONE) {
        json_add_integer(writer->json, name, writer->names.document->site.zones[index].number);
    } else {
        json_add_text(writer->json, name, thing_name(&writer->names, thing, (size_t)index));
    }
}

static void write_built(struct writer *writer, const char *name, struct text_builder *builder) {
    const struct text text = text_built(builder);
    writer->json->out->failed = writer->json->out->failed || text.start == NULL;
    json_add_text(writer->json, name, text);
}

static void write_time(
        struct writer *writer, const struct key *key, const char *name, const void *field) {
    struct text_builder builder;
    struct span span;
    text_builder_init(&builder, writer->json->out->arena);
    if (key->type == KEY_SECONDS || key->type == KEY_TIMES) {
        quantity_add_seconds(&builder, int_at(field));
    } else if (key->type == KEY_MILLISECONDS) {
        quantity_add_milliseconds(&builder, int_at(field));
    } else if (key->type == KEY_TENTHS) {
        text_add_format(&builder, "%d %%", int_at(field) * 10);
    } else if (key->type == KEY_DATE) {
        date_add(&builder, int_at(field));
    } else if (key->type == KEY_CLOCK) {
        quantity_add_clock_from_to(&builder, span_of(int_at(field), int_at(field)));
    } else {
        memcpy(&span, field, sizeof span);
        if (key->type == KEY_SPAN) {
            quantity_add_from_to(&builder, span);
        } else {
            quantity_add_clock_from_to(&builder, span);
        }
    }
    write_built(writer, name, &builder);
}

static void write_length(struct writer *writer, const char *name, int32_t length_mm) {
    struct text_builder builder;
    text_builder_init(&builder, writer->json->out->arena);
    if (length_mm < 0) {
        text_add_char(&builder, '-');
        length_mm = -length_mm;
    }
    length_add(&builder, length_mm);
    write_built(writer, name, &builder);
}

static void write_pair(struct writer *writer, const char *name, struct site_point point) {
    struct text_builder builder;
    text_builder_init(&builder, writer->json->out->arena);
    length_add_pair(&builder, point.x_mm, point.y_mm);
    write_built(writer, name, &builder);
}

static void write_pairs(struct writer *writer, const struct key *key, const void *base) {
    const struct site_point *points;
    memcpy(&points, field_of(key, base), sizeof points);
    json_open_array(writer->json, key->name);
    for (size_t i = 0; i < count_of(key, base); i++) {
        write_pair(writer, NULL, points[i]);
    }
    json_close_array(writer->json);
}

static void write_measure(struct writer *writer, const struct key *key, const void *field) {
    struct text_builder builder;
    struct measure measure;
    memcpy(&measure, field, sizeof measure);
    text_builder_init(&builder, writer->json->out->arena);
    quantity_add_measure(&builder, key->measured, measure);
    write_built(writer, key->name, &builder);
}

static void write_walking(struct writer *writer, const char *name, const void *field) {
    struct text_builder builder;
    struct site_walking walking;
    memcpy(&walking, field, sizeof walking);
    text_builder_init(&builder, writer->json->out->arena);
    if (walking.walker == SITE_WALKER_OWN) {
        site_speed_add(&builder, walking.own);
    } else {
        text_add_string(&builder, site_walker_name(walking.walker));
    }
    write_built(writer, name, &builder);
}

/* A name of the site as a JSON name, which wants a C string. */
static const char *name_string(struct writer *writer, struct text name) {
    const struct text copy = text_copy(writer->json->out->arena, name);
    writer->json->out->failed = writer->json->out->failed || copy.start == NULL;
    return copy.start == NULL ? "" : copy.start;
}

static void write_times(struct writer *writer, const struct key *key, const void *base) {
    const struct site_delay *delays = field_of(key, base);
    json_open_object(writer->json, key->name);
    for (size_t i = 0; i < count_of(key, base); i++) {
        write_time(writer, key, name_string(writer, delays[i].name), &delays[i].seconds_s);
    }
    json_close_object(writer->json);
}

static void write_bits(struct writer *writer, const struct key *key, uint32_t bits) {
    json_open_array(writer->json, key->name);
    for (int i = 0; i < 32; i++) {
        if ((bits >> i & 1U) == 0) {
            continue;
        }
        if (key->type == KEY_REFS) {
            write_name(writer, NULL, key->thing, i);
        } else {
            json_add_string(writer->json, NULL, key_choice_name(key, i));
        }
    }
    json_close_array(writer->json);
}

static void write_by_mode(struct writer *writer, const struct key *key, const void *field) {
    const struct site_settings *settings = &writer->names.document->site.settings;
    const int *by_mode = field;
    json_open_object(writer->json, key->name);
    for (size_t mode = 0; mode < settings->mode_count; mode++) {
        const char *name = name_string(writer, settings->modes[mode].name);
        if (key->type == KEY_MODE_CHOICE) {
            json_add_string(writer->json, name, key_choice_name(key, by_mode[mode]));
        } else if (by_mode[mode] != SITE_NONE) {
            write_name(writer, name, key->thing, by_mode[mode]);
        }
    }
    json_close_object(writer->json);
}

static void write_starts(struct writer *writer, const struct key *key, const void *field) {
    const struct site *site = &writer->names.document->site;
    const struct site_start *starts = field;
    json_open_object(writer->json, key->name);
    for (size_t i = 0; i < site->area_count; i++) {
        json_add_text(writer->json, name_string(writer, site->areas[i].name),
                starts[i].set ? site->settings.modes[starts[i].mode].name : text_of("unset"));
    }
    json_close_object(writer->json);
}

static void write_events(struct writer *writer, const struct key *key, const void *field) {
    const struct text *events = field;
    json_open_object(writer->json, key->name);
    for (int i = 0; i < SITE_BEHAVIOUR_COUNT; i++) {
        if (events[i].length > 0) {
            json_add_text(writer->json, site_behaviour_name((enum site_behaviour)i), events[i]);
        }
    }
    json_close_object(writer->json);
}

static void write_texts(struct writer *writer, const struct key *key, const void *base) {
    const struct text *texts;
    memcpy(&texts, field_of(key, base), sizeof texts);
    json_open_array(writer->json, key->name);
    for (size_t i = 0; i < count_of(key, base); i++) {
        json_add_text(writer->json, NULL, texts[i]);
    }
    json_close_array(writer->json);
}

static void write_list(struct writer *writer, const struct key *key, const void *base) {
    const char *array = field_of(key, base);
    if (key->type == KEY_LIST) {
        const void *pointer;
        memcpy(&pointer, array, sizeof pointer);
        array = pointer;
    }
    json_open_array(writer->json, key->name);
    if (key->table == &key_step_table) {
        /* thing_name wants it for the names of steps; nothing is written to it */
        writer->names.routine =
                &writer->names.document->site.routines[(const struct site_routine *)base -
                        writer->names.document->site.routines];
    }
    for (size_t i = key->table->first; i < count_of(key, base); i++) {
        json_open_object(writer->json, NULL);
        write_table(writer, key->table, array + i * key->table->element_size);
        json_close_object(writer->json);
    }
    json_close_array(writer->json);
}

static void write_value(struct writer *writer, const struct key *key, const void *base) {
    const void *field = field_of(key, base);
    struct document *document = writer->names.document;
    struct site_point point;
    struct text text;
    switch (key->type) {
    case KEY_TEXT:
    case KEY_NAME:
    case KEY_WORDS:
        memcpy(&text, field, sizeof text);
        json_add_text(writer->json, key->name, text);
        break;
    case KEY_TEXTS:
        write_texts(writer, key, base);
        break;
    case KEY_YES:
        json_add_bool(writer->json, key->name, *(const bool *)field);
        break;
    case KEY_NUMBER:
        json_add_integer(writer->json, key->name, int_at(field));
        break;
    case KEY_SECONDS:
    case KEY_MILLISECONDS:
    case KEY_SPAN:
    case KEY_CLOCK:
    case KEY_CLOCK_SPAN:
    case KEY_DATE:
    case KEY_TENTHS:
        write_time(writer, key, key->name, field);
        break;
    case KEY_LENGTH:
        write_length(writer, key->name, int_at(field));
        break;
    case KEY_PAIR:
        memcpy(&point, field, sizeof point);
        write_pair(writer, key->name, point);
        break;
    case KEY_PAIRS:
        write_pairs(writer, key, base);
        break;
    case KEY_MEASURE:
        write_measure(writer, key, field);
        break;
    case KEY_WALKING:
        write_walking(writer, key->name, field);
        break;
    case KEY_NUMBERS: /* of profiles, which are named and not written */
    case KEY_OFFERS:
    case KEY_STEPS:
    case KEY_DELIVERED:
        break;
    case KEY_EVENTS:
        write_events(writer, key, field);
        break;
    case KEY_CHOICE:
        json_add_string(writer->json, key->name, key_choice_name(key, int_at(field)));
        break;
    case KEY_CHOICES:
    case KEY_REFS:
        write_bits(writer, key, bits_at(field));
        break;
    case KEY_REF:
        write_name(writer, key->name, key->thing, int_at(field));
        break;
    case KEY_MODE_CHOICE:
    case KEY_MODE_REF:
        write_by_mode(writer, key, field);
        break;
    case KEY_STARTS:
        write_starts(writer, key, field);
        break;
    case KEY_TIMES:
        write_times(writer, key, base);
        break;
    case KEY_PANEL:
        json_add_text(writer->json, key->name, document->panel_profile);
        break;
    case KEY_STANDARD:
        json_add_text(writer->json, key->name, document->standard_name);
        break;
    case KEY_DEVICE:
        json_add_text(writer->json, key->name, document->device_profile_names[int_at(field)]);
        break;
    case KEY_MATERIALS:
        json_add_text(writer->json, key->name, document->materials_name);
        break;
    case KEY_TABLE:
        json_open_object(writer->json, key->name);
        write_table(writer, key->table, field);
        json_close_object(writer->json);
        break;
    case KEY_LIST:
    case KEY_INLINE_LIST:
        write_list(writer, key, base);
        break;
    case KEY_TYPE_COUNT:
        break;
    }
}

/* Nothing to say: an empty text, no thing, a time of day that is not given. */
static bool is_nothing(const struct key *key, const void *base) {
    const void *field = field_of(key, base);
    struct text text;
    struct measure measure;
    switch (key->type) {
    case KEY_MEASURE:
        memcpy(&measure, field, sizeof measure);
        return !measure.said;
    case KEY_TEXT:
    case KEY_STANDARD:
        memcpy(&text, field, sizeof text);
        return text.length == 0 && key->usual != NULL;
    case KEY_REF:
        return int_at(field) == SITE_NONE;
    case KEY_REFS: /* an empty list may not stand there: none means every one */
        return key->low > 0 && bits_at(field) == 0;
    case KEY_CLOCK:
        return int_at(field) < 0;
    case KEY_DATE:
        return int_at(field) == DATE_NONE;
    case KEY_LENGTH: /* without a usual one 0 is none */
        return key->flag_at == 0 && int_at(field) == 0 && key->low > 0;
    case KEY_PAIRS:
        return count_of(key, base) == 0;
    case KEY_CHOICE:
        return int_at(field) < key->low || int_at(field) > key->high;
    case KEY_MODE_REF: {
        const int *by_mode = field;
        bool none = true;
        for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
            none = none && by_mode[mode] == SITE_NONE;
        }
        return none || strcmp(key->name, "delay-in") == 0; /* all of it is said with "delay" */
    }
    case KEY_NAME:
    case KEY_TEXTS:
    case KEY_WORDS:
    case KEY_YES:
    case KEY_NUMBER:
    case KEY_SECONDS:
    case KEY_MILLISECONDS:
    case KEY_SPAN:
    case KEY_CLOCK_SPAN:
    case KEY_TENTHS:
    case KEY_WALKING:
    case KEY_NUMBERS:
    case KEY_OFFERS:
    case KEY_STEPS:
    case KEY_DELIVERED:
    case KEY_EVENTS:
    case KEY_CHOICES:
    case KEY_MODE_CHOICE:
    case KEY_STARTS:
    case KEY_TIMES:
    case KEY_PANEL:
    case KEY_DEVICE:
    case KEY_MATERIALS:
    case KEY_PAIR:
    case KEY_TABLE:
    case KEY_LIST:
    case KEY_INLINE_LIST:
    case KEY_TYPE_COUNT:
        return false;
    }
    return false;
}

static bool is_wanted(const struct key *key, const void *base) {
    if (key->at == KEY_NOWHERE || is_nothing(key, base)) {
        return false;
    }
    return (key->flag_at == 0 || flag_at(base, key->flag_at)) &&
            (key->not_flag_at == 0 || !flag_at(base, key->not_flag_at));
}

/* In a step a field is said by its verb, or by a key that goes with the verb. */
static bool is_wanted_in_step(const struct key *key, const struct site_step *step) {
    const bool sets = step->act == SITE_ACT_SET || step->act == SITE_ACT_UNSET;
    if (strcmp(key->name, "keypad") == 0) {
        return step->act == SITE_ACT_SET || step->act == SITE_ACT_BYPASS;
    }
    if (strcmp(key->name, "areas") == 0) {
        return sets && step->areas != 0;
    }
    if (strcmp(key->name, "message") == 0) {
        return step->message != SITE_MESSAGE_ARRIVES;
    }
    return strcmp(key->name, "with") != 0 || sets;
}

static void write_step(
        struct writer *writer, const struct key_table *table, const struct site_step *step) {
    for (size_t i = 0; i < table->key_count; i++) {
        const struct key *key = &table->keys[i];
        if (key->act != 0) {
            const int act = (int)step->act;
            const bool said = key->type == KEY_CHOICE ? act >= key->low && act <= key->high
                                                      : key->act == act + 1;
            if (said && is_wanted(key, step)) {
                write_value(writer, key, step);
            } else if (said) {
                json_add_bool(writer->json, key->name, true); /* wait; unset with a fob */
            }
        } else if (is_wanted(key, step) && is_wanted_in_step(key, step)) {
            write_value(writer, key, step);
        }
    }
}

static void write_table(struct writer *writer, const struct key_table *table, const void *base) {
    if (table == &key_step_table) {
        write_step(writer, table, base);
        return;
    }
    for (size_t i = 0; i < table->key_count; i++) {
        if (is_wanted(&table->keys[i], base)) {
            write_value(writer, &table->keys[i], base);
        }
    }
}

void document_write_json(struct document *document, const char *name, struct json_writer *json) {
    struct writer writer = {
            .json = json, .names = {.document = document, .gatherer = {.document = document}}};
    json_open_object(json, name);
    write_table(&writer, &key_site_table, &document->site);
    json_close_object(json);
}
