/* The key table, third part: what carries signals and power, radio links and cables. */
#include "document/keys.h"

/* clang-format off */
#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

enum { FAR_MM = 1000000 };

static const char *const conductors[] = {"solid", "stranded", "clad"};

#define AT(field) .at = offsetof(struct site_link, field)
static const struct key link_keys[] = {
    {"device", KEY_REF, AT(device), .usual = NULL, .help = "The radio device.", .thing = THING_DEVICE},
    {"distance", KEY_LENGTH, AT(distance_mm), 0, FAR_MM, "(by the drawing)", "How far it is from the panel."},
    {"through", KEY_TEXTS, AT(through), 0, SITE_THROUGH_MAX, "(with a distance: nothing; else by the drawing)", "What is in the way, each a material (brick) or its layers (brick:100mm,air:50mm).", .count_at = offsetof(struct site_link, through_count)},
    {"floors", KEY_NUMBER, AT(floors), 0, SITE_STOREY_MAX, "0", "with a distance: how many floors are in the way."},
    {"measured", KEY_MEASURE, AT(measured), -150000, 20000, "", "What the panel hears of it, as its display or the engineer's menu says: -71 dBm, or the from-to of several looks.", .measured = QUANTITY_POWER_DBM},
    {"measured-back", KEY_MEASURE, AT(measured_back), -150000, 20000, "", "two-way: what the device hears of the panel.", .measured = QUANTITY_POWER_DBM},
    {"measured-on", KEY_DATE, AT(measured_day), .usual = "", .help = "When it was measured."},
    {"measured-by", KEY_TEXT, AT(measured_by), 1, 60, "", "Who measured."},
};
#undef AT
const struct key_table key_link_table = {
    "links[]", "Radio links that were measured, or that the drawing does not show.",
    "{device: yard contact, distance: 14 m, through: [brick, stud], measured: -71 dBm}",
    link_keys, COUNT(link_keys), sizeof(struct site_link), 0,
};

#define AT(field) .at = offsetof(struct site_cable, field)
static const struct key cable_keys[] = {
    {"to", KEY_REF, AT(to), .usual = NULL, .help = "The device that it feeds.", .thing = THING_DEVICE},
    {"from", KEY_REF, AT(from), .usual = "(the panel)", .help = "Where it begins: the device from which it is looped on.", .thing = THING_DEVICE},
    {"length", KEY_LENGTH, AT(length_mm), 1, FAR_MM, NULL, "How long it is, one way."},
    {"gauge", KEY_TEXT, AT(gauge), 1, 20, NULL, "Its conductors: 22awg, 0.22mm2, or 0.6mm (a diameter)."},
    {"conductor", KEY_CHOICE, AT(conductor), 0, SITE_CONDUCTOR_COUNT - 1, "solid", "What they are: solid copper, stranded copper, copper-clad aluminium.", conductors},
    {"measured", KEY_MEASURE, AT(measured), 0, 60000, "", "The voltage at its far end, in alarm, on the battery.", .measured = QUANTITY_VOLTAGE_V},
};
#undef AT
const struct key_table key_cable_table = {
    "cables[]", "The cables that feed devices, each run by itself; they branch at devices.",
    "{to: yard siren, length: 18 m, gauge: 22awg}",
    cable_keys, COUNT(cable_keys), sizeof(struct site_cable), 0,
};
/* clang-format on */
