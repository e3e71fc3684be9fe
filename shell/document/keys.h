/* The key table: every key of a site file and of the profiles, once. It drives reading, defaults, JSON and the
 * reference. */
#ifndef LINTEL_DOCUMENT_KEYS_H
#define LINTEL_DOCUMENT_KEYS_H

#include "base/quantity.h"
#include "base/text.h"
#include "site/site.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/** What stands behind a key, and the type of the field it goes to. */
enum key_type {
    KEY_TEXT,         /* a text of low..high characters: struct text */
    KEY_NAME,         /* the name by which others refer to it: struct text */
    KEY_TEXTS,        /* a list of texts: const struct text *, and a count */
    KEY_WORDS,        /* spoken words, a list or one text: struct text, joined by blanks */
    KEY_YES,          /* yes or no: bool */
    KEY_NUMBER,       /* a whole number low..high: int32_t */
    KEY_SECONDS,      /* a time of low..high seconds: int32_t */
    KEY_MILLISECONDS, /* a time of low..high milliseconds: int32_t */
    KEY_SPAN,         /* a time from-to of low..high seconds: struct span */
    KEY_CLOCK,        /* a time of day: int32_t, seconds since midnight */
    KEY_CLOCK_SPAN,   /* a time of day from-to: struct span */
    KEY_DATE,         /* a day: int32_t, as base/date.h */
    KEY_TENTHS,       /* percent in tens: int32_t */
    KEY_LENGTH,       /* a length of a drawing, low..high mm: int32_t */
    KEY_PAIR,         /* to the right x to the back, each low..high mm: struct site_point */
    KEY_PAIRS,        /* a list of such: const struct site_point *, and a count */
    KEY_MEASURE,      /* a length, current or temperature, maybe from-to: struct measure */
    KEY_WALKING,      /* a kind of walker, or a speed from-to: struct site_walking */
    KEY_NUMBERS,      /* whole numbers and from-to of them, low..high: struct site_numbers */
    KEY_OFFERS, /* a mapping from settings to what is offered: struct site_offer per setting */
    KEY_STEPS,  /* a mapping from settings to their steps: int32_t per setting */
    KEY_DELIVERED, /* a mapping from settings to values: int32_t per setting, and a bool per setting at flag_at */
    KEY_EVENTS,      /* a mapping from behaviours to event codes: struct text per behaviour */
    KEY_CHOICE,      /* one of some words: an enum, low..high */
    KEY_CHOICES,     /* a list of some words: uint32_t, bit per value */
    KEY_REF,         /* the name of a thing: int, its index */
    KEY_REFS,        /* a list of names of things: uint32_t, bit per index */
    KEY_MODE_CHOICE, /* a mapping from mode to a word: an enum per mode */
    KEY_MODE_REF,    /* a mapping from mode to the name of a thing: int per mode */
    KEY_STARTS,      /* a mapping from area to mode or unset: struct site_start per area */
    KEY_TIMES,       /* a mapping from names to times: struct site_delay per name, and a count */
    KEY_PANEL,       /* a panel profile: struct site_panel_profile */
    KEY_STANDARD,    /* a standard programming: struct text, its name */
    KEY_DEVICE,      /* a device profile: int, its index */
    KEY_MATERIALS,   /* a table of materials: struct site_materials */
    KEY_TABLE,       /* a mapping with keys of its own */
    KEY_LIST, /* a list of mappings with keys of their own: a pointer to structs, and a count */
    KEY_INLINE_LIST, /* the same, in an array inside the struct */
    KEY_TYPE_COUNT
};

/** What names refer to. */
enum thing {
    THING_AREA,
    THING_DOOR,
    THING_KEYPAD,
    THING_DEVICE,
    THING_ZONE,
    THING_PERSON,
    THING_WAY,
    THING_MODE,
    THING_DELAY,
    THING_STEP,
    THING_ROUTINE,
    THING_STOREY,
    THING_ROOM,
    THING_MATERIAL,
    THING_BREAK_IN_MATERIAL,
    THING_BREAK_IN_ROOM,
    THING_BREAK_IN_OPENING,
    THING_BREAK_IN_GOAL,
    THING_COUNT
};

struct key_table;

/** What is said of a code that stands in a site file; the code itself is not. */
#define KEY_CODES_STAND_ELSEWHERE "a code stands only in the file that site.codes names"

/** The field of a key that settle or another key looks after. */
#define KEY_NOWHERE SIZE_MAX

/** One key. at: the field's offset in the struct of its table. low, high: the range of the value; of a list: how many.
 *  usual: what is read when the key is not there, as one would write it; NULL: the key must be there; "": nothing is
 *  stored; in brackets: told to people only, worked out by settle. act: the verb of a step plus one, 0: no verb.
 *  flag, not_flag: a bool field set true when the key is there (of a table: when it is a mapping); the key is written
 *  only if it is (is not) true. */
struct key {
    const char *name;
    enum key_type type;
    size_t at;
    int32_t low;
    int32_t high;
    const char *usual;
    const char *help;
    const char *const *choices; /* names of the values low..high */
    const char *(*choice_name)(int value);
    enum thing thing;
    const struct key_table *table;
    enum quantity_kind measured; /* KEY_MEASURE; low, high: in thousandths, see struct measure */
    size_t count_at;
    size_t flag_at;     /* 0: none */
    size_t not_flag_at; /* 0: none */
    int act;
    const char *
            secret; /* not NULL: what stands there by mistake is not shown, but this is said instead */
};

/** The keys of one mapping. path: how the reference calls it ("zones[]"). element_size: of one struct in a list. first:
 *  the index of an inline list's first element that the file gives. example: a line of YAML for the reference. */
struct key_table {
    const char *path;
    const char *help;
    const char *example;
    const struct key *keys;
    size_t key_count;
    size_t element_size;
    size_t first;
};

extern const struct key_table key_site_table;
extern const struct key_table key_panel_table;
extern const struct key_table key_zone_table;
extern const struct key_table key_step_table;
extern const struct key_table key_panel_profile_table;
extern const struct key_table key_device_profile_table;
extern const struct key_table key_rule_set_table;
extern const struct key_table key_building_table;
extern const struct key_table key_break_ins_table;
extern const struct key_table key_materials_table;
extern const struct key_table key_link_table;
extern const struct key_table key_cable_table;

/** The word of a value of a KEY_CHOICE or KEY_CHOICES; value: low..high. */
const char *key_choice_name(const struct key *key, int value);

/** The value of a word, or -1. */
int key_choice_value(const struct key *key, struct text word);

/** The key of that name, or NULL. */
const struct key *key_find(const struct key_table *table, struct text name);

/** The key of the site file's `panel` by which a setting is written; how its values are read. setting: any; for entry
 *  delays, a key of one time; for loop responses, the zones' key; of users, a yes or no. */
const struct key *key_of_setting(enum site_setting setting);

/** Reading walks the file three times: values and names; what refers to names; what refers to zones, which can be meant
 *  by the device that the second walk found. */
enum key_walk { KEY_WALK_VALUES, KEY_WALK_NAMES, KEY_WALK_ZONES, KEY_WALK_COUNT };

/** In which walk a key is read; tables and lists are walked in each. */
enum key_walk key_walk(const struct key *key);

#endif
