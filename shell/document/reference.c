/* docs/site-file.md out of the key table. */
#include "document/document.h"

#include "base/length.h"
#include "base/quantity.h"
#include "document/keys.h"

static void add_choices(struct text_builder *builder, const struct key *key) {
    for (int value = key->low; value <= key->high; value++) {
        text_add_format(
                builder, "%s`%s`", value == key->low ? "" : ", ", key_choice_name(key, value));
    }
}

static const char *noun_of(enum thing thing) {
    static const char *const nouns[THING_COUNT] = {
            [THING_AREA] = "an area",
            [THING_DOOR] = "a door",
            [THING_KEYPAD] = "a keypad",
            [THING_DEVICE] = "a device",
            [THING_ZONE] = "a zone (spoken name, number or device)",
            [THING_PERSON] = "a person",
            [THING_WAY] = "a way",
            [THING_MODE] = "a mode",
            [THING_DELAY] = "an entry delay",
            [THING_STEP] = "a step of the same routine",
            [THING_ROUTINE] = "a routine",
            [THING_STOREY] = "a storey",
            [THING_ROOM] = "a room",
            [THING_MATERIAL] = "a material",
            [THING_BREAK_IN_MATERIAL] = "a material",
            [THING_BREAK_IN_ROOM] = "a room",
            [THING_BREAK_IN_OPENING] = "an opening",
            [THING_BREAK_IN_GOAL] = "a line of `protect`",
    };
    return nouns[thing];
}

/* How a measure reads; NULL: no key measures such. */
static const char *const measure_words[QUANTITY_KIND_COUNT] = {
        [QUANTITY_LENGTH_M] = "a length, or a from-to",
        [QUANTITY_CURRENT_MA] = "a current, or a from-to",
        [QUANTITY_TEMPERATURE_C] = "a temperature from-to",
        [QUANTITY_ANGLE_DEG] = "an angle",
        [QUANTITY_MASS_KG] = "a weight, or a from-to",
        [QUANTITY_FREQUENCY_MHZ] = "a frequency in MHz",
        [QUANTITY_POWER_DBM] = "a level in dBm, or a from-to",
        [QUANTITY_LEVEL_DB] = "a loss in dB, or a from-to",
        [QUANTITY_VOLTAGE_V] = "a voltage, or a from-to",
        [QUANTITY_RESISTANCE_OHM] = "a resistance, or a from-to",
        [QUANTITY_CHARGE_MAH] = "a capacity in mAh or Ah, or a from-to",
};

static void add_range(struct text_builder *builder, const struct key *key) {
    text_add_string(builder, ", ");
    quantity_add_span(builder, span_of(key->low, key->high));
}

static void add_what(struct text_builder *builder, const struct key *key) {
    switch (key->type) {
    case KEY_TEXT:
    case KEY_NAME:
        text_add_format(builder, "%s, at most %d characters",
                key->type == KEY_NAME ? "a name" : "a text", key->high);
        break;
    case KEY_TEXTS:
        text_add_format(builder, "a list of at most %d texts", key->high);
        break;
    case KEY_WORDS:
        text_add_format(builder, "a list of words, or one text; at most %d characters", key->high);
        break;
    case KEY_YES:
        text_add_string(builder, key->act != 0 ? "`yes`" : "yes or no");
        break;
    case KEY_NUMBER:
        text_add_format(builder, "a whole number, %d to %d", key->low, key->high);
        break;
    case KEY_SECONDS:
        text_add_string(builder, "a time");
        add_range(builder, key);
        break;
    case KEY_MILLISECONDS:
        text_add_string(builder, "a time in milliseconds or seconds, ");
        quantity_add_milliseconds(builder, key->low);
        text_add_string(builder, " to ");
        quantity_add_milliseconds(builder, key->high);
        break;
    case KEY_SPAN:
        text_add_string(builder, "a time from-to");
        add_range(builder, key);
        break;
    case KEY_CLOCK:
        text_add_string(builder, "a time of day");
        break;
    case KEY_CLOCK_SPAN:
        text_add_string(builder, "a time of day, or a from-to of two");
        break;
    case KEY_DATE:
        text_add_string(builder, "a date");
        break;
    case KEY_TENTHS:
        text_add_format(builder, "%d to %d %%", key->low, key->high);
        break;
    case KEY_LENGTH:
        text_add_string(builder, "a length, ");
        length_add(builder, key->low);
        text_add_string(builder, " to ");
        length_add(builder, key->high);
        break;
    case KEY_PAIR:
        text_add_string(builder, "two lengths, such as `4.2 x 3.1 m`");
        break;
    case KEY_PAIRS:
        text_add_format(
                builder, "a list of %d to %d points, such as `4.2 x 3.1 m`", key->low, key->high);
        break;
    case KEY_MEASURE:
        text_add_string(builder, measure_words[key->measured]);
        text_add_string(builder, ", ");
        quantity_add_measure(
                builder, key->measured, (struct measure){.low = key->low, .high = key->high});
        break;
    case KEY_WALKING:
        for (int i = 0; i < SITE_WALKER_COUNT; i++) {
            text_add_format(builder, "`%s`, ", site_walker_name((enum site_walker)i));
        }
        text_add_string(builder, "or a speed from-to such as `0.9..1.4 m/s`");
        break;
    case KEY_NUMBERS:
        text_add_format(builder, "a number, a from-to such as `1..6`, or a list of them; %d to %d",
                key->low, key->high);
        break;
    case KEY_OFFERS:
        text_add_string(builder, "a mapping from keys of `panel` to what is offered");
        break;
    case KEY_STEPS:
        text_add_string(builder, "a mapping from keys of `panel` to a time or a number");
        break;
    case KEY_DELIVERED:
        text_add_string(builder, "a mapping from keys of `panel` to a value");
        break;
    case KEY_EVENTS:
        text_add_string(builder, "a mapping from behaviours to event codes: {perimeter: \"131\"}");
        break;
    case KEY_CHOICE:
        add_choices(builder, key);
        break;
    case KEY_CHOICES:
        text_add_string(builder, "a list of ");
        add_choices(builder, key);
        break;
    case KEY_REF:
        text_add_string(builder, noun_of(key->thing));
        break;
    case KEY_REFS:
        text_add_format(builder, "a list, each %s", noun_of(key->thing));
        break;
    case KEY_MODE_CHOICE:
        text_add_string(builder, "a mapping from modes to ");
        add_choices(builder, key);
        break;
    case KEY_MODE_REF:
        text_add_format(builder, "%s, or a mapping from modes to such", noun_of(key->thing));
        break;
    case KEY_STARTS:
        text_add_string(builder, "a mapping from areas to a mode or `unset`");
        break;
    case KEY_TIMES:
        text_add_string(builder, "a mapping from names to times");
        add_range(builder, key);
        break;
    case KEY_PANEL:
    case KEY_STANDARD:
    case KEY_DEVICE:
    case KEY_MATERIALS:
        text_add_string(builder, "the name or path of a profile");
        break;
    case KEY_TABLE:
        text_add_format(builder, "a mapping: `%s`", key->table->path);
        break;
    case KEY_LIST:
    case KEY_INLINE_LIST:
        text_add_format(builder, "a list of at most %d: `%s`", key->high, key->table->path);
        break;
    case KEY_TYPE_COUNT:
        break;
    }
}

static void add_usual(struct text_builder *builder, const struct key *key) {
    if (key->usual == NULL) {
        text_add_string(builder, "**must be there**");
    } else if (key->usual[0] == '(') {
        const struct text inner = {
                .start = key->usual + 1, .length = text_of(key->usual).length - 2};
        text_add(builder, inner);
    } else if (key->usual[0] != '\0') {
        text_add_format(builder, "`%s`", key->usual);
    } else {
        text_add_string(builder, "none");
    }
}

static void add_table(struct text_builder *builder, const struct key_table *table) {
    text_add_format(builder, "\n## %s\n\n%s\n", table->path, table->help);
    if (table->example[0] != '\0') {
        text_add_format(builder, "\n    %s\n", table->example);
    }
    text_add_string(
            builder, "\n| key | takes | when left out | meaning |\n| --- | --- | --- | --- |\n");
    for (size_t i = 0; i < table->key_count; i++) {
        const struct key *key = &table->keys[i];
        text_add_format(builder, "| `%s` | ", key->name);
        add_what(builder, key);
        text_add_string(builder, " | ");
        add_usual(builder, key);
        text_add_format(builder, " | %s |\n", key->help);
    }
    for (size_t i = 0; i < table->key_count; i++) {
        if (table->keys[i].table != NULL) {
            add_table(builder, table->keys[i].table);
        }
    }
}

void document_add_reference(struct text_builder *builder) {
    text_add_string(builder,
            "# The site file\n"
            "\n"
            "*Generated from the key table of the reader; `tools/reference` writes this page "
            "afresh.*\n"
            "\n"
            "One building is one file. It is YAML 1.2, and so JSON is read as well. Everything "
            "that is wrong with a file is\n"
            "told in one run, with line and column.\n"
            "\n"
            "- **Times** carry a unit: `30 s`, `15 min`, `1 h 30 min`. From-to: `4..9 s`. Whole "
            "seconds. `30` alone is refused.\n"
            "- **Lengths, currents, temperatures** as well: `8 mm`, `12 mA`, `-10..50 °C` (or "
            "`C`); "
            "at most three decimals.\n"
            "- **Lengths of the drawing**: `4.2 m`, `850 mm`, `13 ft 9 in`; whole millimetres "
            "(feet and inches are rounded to\n"
            "  them). **Points and sizes**: `4.2 x 3.1 m`, to the right x to the back.\n"
            "- **Times of day** stand in quotes: `\"05:30\"`, `\"05:30..05:40\"`.\n"
            "- **Dates**: `2027-03-31`.\n"
            "- **Numbers** are plain digits: not `010`, `1e3` or `\"12\"`. **Yes and no**: `yes`, "
            "`no`, `true`, `false`.\n"
            "- **Names** are compared letter by letter. A text with `: ` or ` #` in it stands in "
            "quotes.\n"
            "- Not read: aliases, anchors, tags, a second document. At most 4 MiB, 16 levels, "
            "UTF-8.\n"
            "- **Profiles** are looked for in `panels/` and `devices/` beside the site file, then "
            "in the folder that the\n"
            "  variable LINTEL_DATA names, then among those installed with the program. A profile "
            "may also be named by a\n"
            "  path from the site file's folder on; it must lie inside that folder.\n");
    add_table(builder, &key_site_table);
    add_table(builder, &key_panel_profile_table);
    add_table(builder, &key_device_profile_table);
    add_table(builder, &key_rule_set_table);
    add_table(builder, &key_materials_table);
    text_add_string(builder,
            "\n## standard programming\n\n"
            "What a firm keys into every house: a file `standards/NAME.yaml`, which a site names "
            "with `standard: NAME` under `site:`.\n"
            "It gives settings of `panel`, and options of zones by their behaviour, where the "
            "site says nothing; what the site says\n"
            "otherwise counts, and is listed as a deviation.\n\n"
            "    name: plain-house\n"
            "    says: what an invented firm keys into every house\n"
            "    panel: {exit-delay: 60 s, abort-window: 30 s, siren-time: 10 min}\n"
            "    zones: {entry: {chime: yes}, follower: {hold: 5 s}}\n\n"
            "Settings and options are those that stand alone: numbers, times, choices, yes and "
            "no. Entry delays, modes and whatever\n"
            "names something of the house stay in the site file.\n"
            "\n## codes file\n\n"
            "Who keys which code: a file of its own, which a site names with `codes: house.codes` "
            "under `site:`, because a site file is\n"
            "mailed, printed and shown. Its owner alone may read it (`chmod 600 house.codes`), "
            "else "
            "it is refused. Of what stands in it\n"
            "nothing is ever printed; `lintel check` says what is wrong with whose code. Where the "
            "file is not there the checks of the\n"
            "codes are not computed. At most 64 KiB.\n\n"
            "    people:\n"
            "      baker: \"4810\"\n"
            "      apprentice: as baker      # uses the baker's\n"
            "    duress: \"7306\"\n"
            "    installer: \"926518\"\n\n"
            "Names are those of `people` in the site file. A code is 1 to 16 digits, in quotes. A "
            "person with `duress: yes` has a duress\n"
            "code in any case; `duress:` is one that is nobody's.\n");
}
