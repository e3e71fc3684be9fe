#include "document/keys.h"

#include <assert.h>

/* clang-format off */
#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

static const char *behaviour_name(int value) { return site_behaviour_name((enum site_behaviour)value); }
static const char *kind_name(int value) { return site_kind_name((enum site_kind)value); }
static const char *sense_name(int value) { return site_sense_name((enum site_sense)value); }
static const char *sign_name(int value) { return site_sign_name((enum site_sign)value); }

static const char *const words[]        = {"uk", "us"};
static const char *const uses[]         = {"code", "fob"};
static const char *const messages[]     = {"arrives", "lost", "maybe lost"};
static const char *const weights[]      = {"fault", "risk", "note"};
static const char *const mains_ways[]   = {"lost", "back"};
static const char *const marks[]        = {"unsaid", "left", "right", "either", "end", "facing"};
static const char *const tampers[]      = {"cover", "wall", "magnet", "cable"};
static const char *const enrolments[]   = {"serial", "activate"};
static const char *const housed[]       = {"keypad", "siren"};
static const char *const jam_ways[]     = {"starts", "ends"};
static const char *const loop_ends[]    = {"unsaid", "device", "panel", "none"};
static const char *const wirings[]      = {"unsaid", "plain", "single", "single-open", "double", "triple"};
static const char *const behinds[]      = {"nothing", "steel", "radiator", "cupboard", "foil"};
static const char *const certainties[]  = {"excerpt", "memory", "practice"};
static const char *const expectations[] = {"siren", "alarm", "duress", "trouble", "exit-error", "refused", "hold-up"};

/* ------------------------------------------------------------------------------------------------ profiles */

#define AT(field) .at = offsetof(struct site_panel_profile, field)
static const struct key panel_profile_keys[] = {
    {"name", KEY_NAME, AT(name), 1, 60, NULL, "The panel's name, as sites refer to it."},
    {"says", KEY_TEXT, AT(says), 0, 200, "", "One line for people."},
    {"zones", KEY_NUMBER, AT(zone_most), 1, SITE_NUMBER_MAX, NULL, "Highest zone number."},
    {"areas", KEY_NUMBER, AT(area_most), 1, SITE_AREA_MAX, NULL, "How many areas it has."},
    {"exit-delay", KEY_SPAN, AT(exit_delay), 0, 3600, NULL, "Shortest and longest exit delay that can be keyed in."},
    {"entry-delay", KEY_SPAN, AT(entry_delay), 0, 3600, NULL, "Shortest and longest entry delay that can be keyed in."},
    {"abort-window", KEY_SPAN, AT(abort_window), 0, 3600, NULL, "Shortest and longest abort window that can be keyed in."},
    {"behaviours", KEY_CHOICES, AT(behaviours), SITE_ENTRY, SITE_BEHAVIOUR_COUNT - 1, NULL,
        "What a zone of this panel can be.", .choice_name = behaviour_name},
    {"numbers", KEY_NUMBERS, AT(numbers), 0, SITE_NUMBER_MAX, "(1 to zones)", "Which zone numbers there are: [1..16, 33..48], or 0..15."},
    {"wired", KEY_NUMBERS, AT(wired), 0, SITE_NUMBER_MAX, "(not checked; with radio: the rest)", "Which of them take a wired device; [] is none."},
    {"radio", KEY_NUMBERS, AT(radio), 0, SITE_NUMBER_MAX, "(not checked; with wired: the rest)", "Which of them take a radio device; [] is none."},
    {"offers", KEY_OFFERS, AT(offers), .usual = "(not checked)",
        .help = "What can be keyed in for each setting of `panel`: a from-to, a list of single values, or some of its words."},
    {"steps", KEY_STEPS, AT(steps), .usual = "(not checked)", .help = "Of which step a setting's value is a multiple: {exit-delay: 5 s}."},
    {"delivered", KEY_DELIVERED, AT(delivered), .usual = "(not checked)", .help = "What stands in the panel when it is delivered: {exit-delay: 60 s}.",
        .flag_at = offsetof(struct site_panel_profile, delivered_said)},
    {"delivered-name", KEY_TEXT, AT(delivered_name), 1, 60, "(not checked)", "What a zone is called when it is delivered, # for its number, in quotes: \"zone #\"."},
    {"words", KEY_TEXTS, AT(words), 0, 1000, "(any)", "The spoken words that there are; a name is made of them.", .count_at = offsetof(struct site_panel_profile, word_count)},
    {"words-most", KEY_NUMBER, AT(word_most), 1, 20, "", "How many of them make a name."},
    {"hears", KEY_TEXTS, AT(families), 0, 16, "(not checked)", "The radio families that it hears, each as a device profile names its own.", .count_at = offsetof(struct site_panel_profile, family_count), .flag_at = offsetof(struct site_panel_profile, families_said)},
    {"users", KEY_NUMBER, AT(user_most), 1, 1000, "(not checked)", "How many users it holds."},
    {"code-lengths", KEY_NUMBERS, AT(code_lengths), 1, 16, "(not checked)", "How many digits a code has: 4, or 4..6."},
    {"factory-codes", KEY_TEXTS, AT(factory_codes), 0, 32, "(not checked)", "The codes that are in it when it is delivered, in quotes.", .count_at = offsetof(struct site_panel_profile, factory_code_count)},
    {"account-lengths", KEY_NUMBERS, AT(account_lengths), 1, 16, "(not checked)", "How many digits its account at the monitoring station has."},
    {"events", KEY_EVENTS, AT(events), .usual = "(not checked)", .help = "Its table of event codes: for each behaviour the one that its alarms are sent as when it is delivered, or `none`.",
        .flag_at = offsetof(struct site_panel_profile, events_said)},
    {"built-in", KEY_CHOICES, AT(built_in), 0, 1, "(nothing)", "What is in its own housing.", housed},
    {"keypads", KEY_NUMBER, AT(keypad_most), 1, SITE_KEYPAD_MAX, "(not checked)", "How many keypads can be joined to it."},
    {"confirm-groups", KEY_NUMBER, AT(group_most), 0, SITE_ZONE_MAX, "(not checked)", "How many confirmation groups there are; 0: none.", .flag_at = offsetof(struct site_panel_profile, group_most_said)},
    {"sirens", KEY_NUMBER, AT(siren_most), 1, 64, "(not checked)", "How many sirens can be joined to it."},
    {"fobs", KEY_NUMBER, AT(fob_most), 1, 1000, "(not checked)", "How many fobs can be enrolled."},
    {"current", KEY_MEASURE, AT(current), 0, 100000000, "(not checked)", "What it draws by itself: at rest, or at rest to alarm.", .measured = QUANTITY_CURRENT_MA},
    {"receives", KEY_MEASURE, AT(receives), -150000, 0, "(radio is not computed)", "The weakest level that its receiver still hears, antenna included.", .measured = QUANTITY_POWER_DBM},
    {"radiates", KEY_MEASURE, AT(radiates), -60000, 40000, "(the way back is not computed)", "What it radiates to two-way devices, antenna included (EIRP; e.r.p. is 2.15 dB less).", .measured = QUANTITY_POWER_DBM},
    {"voltage", KEY_MEASURE, AT(volts), 1000, 60000, "(not checked)", "What its supply gives devices: from the end of its battery to mains.", .measured = QUANTITY_VOLTAGE_V},
    {"output", KEY_MEASURE, AT(output), 1000, 100000000, "(not checked)", "The most that devices may draw from it.", .measured = QUANTITY_CURRENT_MA},
    {"charges-at", KEY_MEASURE, AT(charges_at), 1000, 100000000, "(not checked)", "The current that fills its battery.", .measured = QUANTITY_CURRENT_MA},
    {"battery-size", KEY_MEASURE, AT(battery_size), 1000, 200000000, "(not checked)", "Which batteries fit: 1.2..7 Ah.", .measured = QUANTITY_CHARGE_MAH},
    {"wirings", KEY_CHOICES, AT(wirings), SITE_WIRING_PLAIN, SITE_WIRING_COUNT - 1, "(not checked)", "How a zone's loop can be wired.", wirings + SITE_WIRING_PLAIN},
    {"resistors", KEY_MEASURE, AT(resistors), 1000, 1000000000, "(not checked)", "Which end-of-line resistors it takes: one value, or from-to.", .measured = QUANTITY_RESISTANCE_OHM},
    {"pull-up", KEY_MEASURE, AT(pull_up), 1000, 1000000000, "(4.7 kohm)", "The resistor through which it measures a loop.", .measured = QUANTITY_RESISTANCE_OHM},
    {"loop-voltage", KEY_MEASURE, AT(loop_volts), 100, 60000, "(5 V)", "The voltage from which it measures a loop.", .measured = QUANTITY_VOLTAGE_V},
    {"reads-short", KEY_MEASURE, AT(reads[SITE_READS_SHORT]), 0, 60000, "(not checked)", "Between which volts it takes a loop for shorted: 0..0.5 V.", .measured = QUANTITY_VOLTAGE_V},
    {"reads-normal", KEY_MEASURE, AT(reads[SITE_READS_NORMAL]), 0, 60000, "(not checked)", "Between which volts it takes a loop to be at rest: 1.5..2.8 V.", .measured = QUANTITY_VOLTAGE_V},
    {"reads-alarm", KEY_MEASURE, AT(reads[SITE_READS_ALARM]), 0, 60000, "(not checked)", "Between which volts it takes a loop for an alarm.", .measured = QUANTITY_VOLTAGE_V},
    {"reads-masked", KEY_MEASURE, AT(reads[SITE_READS_MASKED]), 0, 60000, "(not checked)", "Between which volts it takes a loop for masked, or in trouble.", .measured = QUANTITY_VOLTAGE_V},
    {"reads-open", KEY_MEASURE, AT(reads[SITE_READS_OPEN]), 0, 60000, "(not checked)", "Between which volts it takes a loop for cut: 4.5..5 V.", .measured = QUANTITY_VOLTAGE_V},
    {"log-columns", KEY_TEXTS, AT(log.columns), 1, 40, "(its log cannot be brought in)", "What the columns of its event log are, from the left, as its software writes it out: time, account, code, number (of the zone or user), area, or other. Time may come twice.", .count_at = offsetof(struct site_panel_profile, log.column_count)},
    {"log-time", KEY_TEXT, AT(log.time), 8, 40, "YYYY-MM-DD hh:mm:ss", "How times look in it; with two columns, both with a blank between."},
    {"log-separator", KEY_TEXT, AT(log.separator), 1, 1, ",", "What stands between its columns."},
    {"log-heading", KEY_NUMBER, AT(log.heading), 0, 100, "1", "How many lines come before the first event."},
    {"log-words", KEY_TEXTS, AT(log.words), 0, 200, "(codes only)", "What stands in the column of codes instead of a code, and which it is: [burglary=1130, closed=3401].", .count_at = offsetof(struct site_panel_profile, log.word_count)},
};
#undef AT
const struct key_table key_panel_profile_table = {
    "panel profile", "What a model of panel can do: a file `panels/NAME.yaml`, written once from its manual.",
    "{name: halyard-28, zones: 28, areas: 2, exit-delay: 0..255 s, entry-delay: 0..255 s, abort-window: 0..60 s, "
    "behaviours: [entry, perimeter], wired: 1..6, offers: {siren-time: 60..900 s, off-route: now}, steps: {exit-delay: 5 s}, "
    "delivered: {exit-delay: 60 s}, hears: [skerry]}",
    panel_profile_keys, COUNT(panel_profile_keys), sizeof(struct site_panel_profile), 0,
};

#define AT(field) .at = offsetof(struct site_input, field)
static const struct key input_keys[] = {
    {"senses", KEY_CHOICE, AT(sense), 0, SITE_SENSE_COUNT - 1, NULL, "What it senses.", .choice_name = sense_name},
    {"says", KEY_TEXT, AT(says), 0, 200, "", "What it is, for people."},
};
#undef AT
static const struct key_table input_table = {
    "inputs[] of a device profile", "The inputs of a device that has several, in the order in which the panel numbers them.",
    "{senses: contact, says: terminal for a second contact}",
    input_keys, COUNT(input_keys), sizeof(struct site_input), 0,
};

#define AT(field) .at = offsetof(struct site_device_profile, field)
static const struct key device_profile_keys[] = {
    {"name", KEY_NAME, AT(name), 1, 60, NULL, "The device's name, as sites refer to it."},
    {"says", KEY_TEXT, AT(says), 0, 200, "", "One line for people."},
    {"kind", KEY_CHOICE, AT(kind), 0, SITE_KIND_COUNT - 1, "sensor", "What it is.", .choice_name = kind_name},
    {"senses", KEY_CHOICE, AT(sense), 0, SITE_SENSE_COUNT - 1, "(must be there for a sensor without inputs; else button)",
        "What it senses. Contact, smoke, gas and water stay open for as long as the thing does; the others trip.",
        .choice_name = sense_name},
    {"inputs", KEY_INLINE_LIST, AT(inputs), 1, SITE_INPUT_MAX, "(one)", "Its inputs, where it has several; the first is what senses says.",
        .table = &input_table, .count_at = offsetof(struct site_device_profile, input_count)},
    {"radio", KEY_YES, AT(radio), .usual = "no", .help = "Whether it speaks by radio."},
    {"family", KEY_TEXT, AT(family), 1, 60, "", "The radio family that it speaks, as a panel profile's `hears` names it."},
    {"holds", KEY_SPAN, AT(hold), 0, 3600, "0 s", "How long it stays tripped after a trip."},
    {"sleeps", KEY_SPAN, AT(sleep), 0, 3600, "0 s", "How long after a trip it is blind; 0 s: never."},
    {"latency", KEY_SPAN, AT(latency), 0, 60, "0..1 s", "From the thing happening to the panel knowing."},
    {"width", KEY_MEASURE, AT(width), 1000, 1000000, "(not checked)", "How wide a frame its housing needs.", .measured = QUANTITY_LENGTH_M},
    {"gap", KEY_MEASURE, AT(gap), 1000, 200000, "(not checked)", "contact: the widest gap to its magnet that the manual allows.", .measured = QUANTITY_LENGTH_M},
    {"gap-on-steel", KEY_MEASURE, AT(gap_on_steel), 0, 200000, "(a half to three quarters of gap)", "... on steel, if the manual says it.", .measured = QUANTITY_LENGTH_M},
    {"marked", KEY_CHOICE, AT(marked), SITE_MARK_LEFT, SITE_MARK_COUNT - 1, "", "contact: on which side of the housing, seen from the front, the magnet goes.", marks + SITE_MARK_LEFT},
    {"tamper", KEY_CHOICES, AT(tamper), 0, 3, "(not said)", "What its tamper switch notices; [] is none.", tampers, .flag_at = offsetof(struct site_device_profile, tamper_said)},
    {"check-in", KEY_SECONDS, AT(check_in_s), 1, 604800, "(not checked)", "It speaks at least so often, even when nothing happens."},
    {"battery", KEY_TEXT, AT(battery), 1, 60, "", "The type of its batteries."},
    {"batteries", KEY_NUMBER, AT(batteries), 1, 20, "", "How many of them."},
    {"works-at", KEY_MEASURE, AT(works_at), -100000, 200000, "(not checked)", "How cold and how warm it may get: -10..50 °C.", .measured = QUANTITY_TEMPERATURE_C},
    {"current", KEY_MEASURE, AT(current), 0, 100000000, "(not checked)", "What it draws from the panel: at rest, or at rest to alarm.", .measured = QUANTITY_CURRENT_MA},
    {"range", KEY_LENGTH, AT(range_mm), 100, 100000, "(12 m; glass: 7.6 m)", "motion: how far it sees; glass: how far off it hears a pane break."},
    {"angle", KEY_MEASURE, AT(angle), 1000, 360000, "(90 °)", "motion: how wide it sees, from side to side.", .measured = QUANTITY_ANGLE_DEG},
    {"curtain", KEY_YES, AT(curtain), .usual = "no", .help = "motion: that it guards an opening with a narrow curtain, and not the floor of a room."},
    {"overlooks", KEY_MEASURE, AT(overlooks), 100, 100000, "(not said)", "motion: how heavy an animal on the floor may be that it overlooks. Checked against `weighs`; a step that passes it is taken as seen all the same, and its story says so: this holds on the floor and at the height of the manual, not for what jumps or climbs (common practice).", .measured = QUANTITY_MASS_KG},
    {"mounted", KEY_MEASURE, AT(mounted), 100000, 10000000, "(not checked)", "How high above the floor it is to hang: 2.1..2.4 m.", .measured = QUANTITY_LENGTH_M},
    {"frequency", KEY_MEASURE, AT(frequency), 30000, 100000000, "(radio is not computed)", "radio: at which it sends.", .measured = QUANTITY_FREQUENCY_MHZ},
    {"radiates", KEY_MEASURE, AT(radiates), -60000, 40000, "(radio is not computed)", "radio: what it radiates, antenna included (EIRP; e.r.p. is 2.15 dB less).", .measured = QUANTITY_POWER_DBM},
    {"receives", KEY_MEASURE, AT(receives), -150000, 0, "(one-way)", "two-way radio: the weakest level that it still hears, antenna included.", .measured = QUANTITY_POWER_DBM},
    {"event-airtime", KEY_MILLISECONDS, AT(event_air_ms), 1, 60000, "", "radio: how long it is on the air for one event, repeats counted."},
    {"check-in-airtime", KEY_MILLISECONDS, AT(check_in_air_ms), 1, 60000, "", "radio: how long it is on the air for one check-in."},
    {"quiet-current", KEY_MEASURE, AT(quiet), 1, 1000000, "(battery life is not computed)", "What it draws from its own batteries at rest.", .measured = QUANTITY_CURRENT_MA},
    {"sends-at", KEY_MEASURE, AT(sends_at), 100, 1000000, "(battery life is not computed)", "What it draws from its own batteries while it is on the air.", .measured = QUANTITY_CURRENT_MA},
    {"capacity", KEY_MEASURE, AT(capacity), 1000, 200000000, "(as usual for the type of battery)", "Of its own batteries as they are joined.", .measured = QUANTITY_CHARGE_MAH},
    {"battery-years", KEY_NUMBER, AT(battery_years), 1, 30, "(not checked)", "How many years its manual says that its batteries last."},
    {"needs-voltage", KEY_MEASURE, AT(needs_volts), 1000, 60000, "(not checked)", "wired: between which volts it works: 9..15 V.", .measured = QUANTITY_VOLTAGE_V},
    {"enrols", KEY_CHOICES, AT(enrols), 0, 1, "(not said)", "How the panel gets to know it: its serial number typed, or by activating it.", enrolments},
    {"serial-format", KEY_TEXT, AT(serial_format), 1, 60, "(not checked)", "How its serial number looks: # is a digit, H a digit or A to F, A a letter; in quotes."},
    {"activations", KEY_NUMBER, AT(activations), 1, 20, "", "How often it has to be activated until the panel takes it."},
};
#undef AT
const struct key_table key_device_profile_table = {
    "device profile", "What a model of device does: a file `devices/NAME.yaml`, written once from its manual.",
    "{name: quarter-motion, senses: motion, radio: yes, holds: 2..5 s, sleeps: 180 s, latency: 0..1 s}",
    device_profile_keys, COUNT(device_profile_keys), sizeof(struct site_device_profile), 0,
};

#define AT(field) .at = offsetof(struct site_limit, field)
static const struct key limit_keys[] = {
    {"limits", KEY_TEXT, AT(of_text), 1, 60, NULL, "What: a key of `panel` (entry-delay: each of them), `keypad-reach` or `code-combinations`."},
    {"least", KEY_TEXT, AT(least_text), 1, 30, "", "At least so much, itself included: 45 s, or a number."},
    {"most", KEY_TEXT, AT(most_text), 1, 30, "", "At most so much, itself included."},
    {"also", KEY_TEXT, AT(also_text), 1, 30, "", "One value more that is let be: 0 s, which is off."},
    {"is", KEY_TEXT, AT(is_text), 1, 30, "", "Where it is a choice: which."},
    {"standard", KEY_TEXT, AT(standard), 1, 60, NULL, "Whose limit it is."},
    {"edition", KEY_TEXT, AT(edition), 1, 30, NULL, "Of which edition; in quotes where it is a year."},
    {"clause", KEY_TEXT, AT(clause), 0, 30, "", "The clause, in quotes."},
    {"certainty", KEY_CHOICE, AT(certainty), 0, SITE_CERTAINTY_COUNT - 1, NULL,
        "How sure the figure is: read in an excerpt; from memory, unverified; common practice.", certainties},
};
#undef AT
static const struct key_table limit_table = {
    "limits[] of a rule set", "The limits, one a line.",
    "{limits: exit-delay, least: 45 s, standard: ANSI/SIA CP-01, edition: \"2019\", clause: \"4.2.2.1\", certainty: excerpt}",
    limit_keys, COUNT(limit_keys), sizeof(struct site_limit), 0,
};

#define AT(field) .at = offsetof(struct site_rule_set, field)
static const struct key rule_set_keys[] = {
    {"name", KEY_NAME, AT(name), 1, 60, NULL, "Its name, as sites refer to it."},
    {"says", KEY_TEXT, AT(says), 0, 200, "", "One line for people."},
    {"limits", KEY_LIST, AT(limits), 1, 100, NULL, "The limits.", .table = &limit_table, .count_at = offsetof(struct site_rule_set, limit_count)},
};
#undef AT
const struct key_table key_rule_set_table = {
    "rule set", "What a standard, or a firm, has for what is keyed in: a file `rules/NAME.yaml`, named under `site.rules`.",
    "{name: our-firm, limits: [{limits: siren-time, least: 90 s, standard: our practice, edition: any, certainty: practice}]}",
    rule_set_keys, COUNT(rule_set_keys), sizeof(struct site_rule_set), 0,
};

/* ------------------------------------------------------------------------------------------------ site, panel */

#define AT(field) .at = offsetof(struct site, field)
static const struct key about_keys[] = {
    {"name", KEY_NAME, AT(name), 1, 60, NULL, "What the site is called in every output."},
    {"invented", KEY_YES, AT(invented), .usual = "no", .help = "That the site is made up: every output says so."},
    {"words", KEY_CHOICE, AT(words), 0, SITE_WORDS_COUNT - 1, "uk", "Set and unset, mains (uk), or arm and disarm, AC (us).", words},
    {"standard", KEY_STANDARD, AT(standard), .usual = "", .help = "The firm's standard programming: a name found in `standards/`, or a path inside the site file's folder."},
    {"rules", KEY_TEXTS, AT(rules), 0, 16, "(none)", "The rule sets to check against: names found in `rules/`, or paths inside the site file's folder.", .count_at = offsetof(struct site, rule_count)},
    {"codes", KEY_TEXT, AT(codes_file), 1, 200, "", "The file with the codes, a path inside the site file's folder: house.codes. Only its owner may read it (chmod 600)."},
};
#undef AT
static const struct key_table about_table = {
    "site", "The site itself.", "{name: Quayside bakery, invented: yes, words: uk, rules: [cp01-2019, house]}",
    about_keys, COUNT(about_keys), 0, 0,
};

#define AT(field) .at = offsetof(struct site_mode, field)
static const struct key mode_keys[] = {
    {"name", KEY_NAME, AT(name), 1, 60, NULL, "The mode's name; full, part and night are there already."},
    {"exit-delay", KEY_SECONDS, AT(exit_delay_s), 0, 3600, "0 s", "From the request until it is set."},
};
#undef AT
static const struct key_table mode_table = {
    "panel.modes[]", "Further ways to set beside full, part and night.", "{name: stocktaking, exit-delay: 0 s}",
    mode_keys, COUNT(mode_keys), sizeof(struct site_mode), SITE_MODE_NIGHT + 1,
};

#define AT(field) .at = offsetof(struct site, settings.field)
#define CHOICE(field, last, first_word, text, names) KEY_CHOICE, AT(field), 0, (last) - 1, first_word, text, names
static const struct key panel_keys[] = {
    {"profile", KEY_PANEL, .at = offsetof(struct site, panel), .usual = NULL,
        .help = "The panel's model: a name found in `panels/`, or a path inside the site file's folder."},
    {"exit-delay", KEY_SECONDS, AT(modes[SITE_MODE_FULL].exit_delay_s), 0, 3600, "60 s", "Exit delay of mode full."},
    {"part-exit-delay", KEY_SECONDS, AT(modes[SITE_MODE_PART].exit_delay_s), 0, 3600, "0 s", "Exit delay of mode part."},
    {"night-exit-delay", KEY_SECONDS, AT(modes[SITE_MODE_NIGHT].exit_delay_s), 0, 3600, "0 s", "Exit delay of mode night."},
    {"modes", KEY_INLINE_LIST, AT(modes), 0, SITE_MODE_MAX - SITE_MODE_NIGHT - 1, "(none)", "Further modes.",
        .table = &mode_table, .count_at = offsetof(struct site, settings.mode_count)},
    {"entry-delays", KEY_TIMES, AT(delays), 0, 3600, "(none)",
        "The named entry delays: {yard: 30 s, front: 30 s}. At most 12.",
        .count_at = offsetof(struct site, settings.delay_count)},
    {"abort-window", KEY_SECONDS, AT(abort_window_s), 0, 3600, "30 s", "How long a report waits for a code after the siren; 0 s: not at all."},
    {"cancel-window", KEY_SECONDS, AT(cancel_window_s), 0, 86400, "5 min", "At least so long after the report a code sends a cancel."},
    {"recent-closing", KEY_SECONDS, AT(recent_closing_s), 0, 3600, "2 min", "An alarm so soon after setting is marked as such."},
    {"siren-time", KEY_SECONDS, AT(siren_time_s), 0, 7200, "15 min", "How long the siren sounds."},
    {"siren-hold-back", KEY_SECONDS, AT(siren_hold_back_s), 0, 3600, "0 s", "The siren waits so long after its alarm while the inside sounder sounds; with the path to the station down it does not wait, nor does it for fire, a hold-up or an exit error."},
    {"swinger-limit", KEY_NUMBER, AT(swinger_limit), 0, 9, "2", "After so many alarms of one zone it is left out; 0: never."},
    {"swinger-reset", KEY_SECONDS, AT(swinger_reset_s), 0, 604800, "8 h", "So long without a trip puts it back on duty."},
    {"cross-window", KEY_SECONDS, AT(cross_window_s), 0, 86400, "60 s", "Within so long the partner of a cross-zone pair must trip too."},
    {"confirm-window", KEY_SECONDS, AT(confirm_window_s), 0, 86400, "0 s", "Within so long a second detector confirms an alarm; 0 s: no confirmation."},
    {"lockout-tries", KEY_NUMBER, AT(lockout_tries), 0, 99, "10", "So many wrong codes lock the keypads; 0: never."},
    {"lockout-time", KEY_SECONDS, AT(lockout_s), 0, 86400, "90 s", "How long they stay locked."},
    {"supervision-window", KEY_SECONDS, AT(supervision_window_s), 0, 604800, "12 h", "A supervised device silent for so long is missed."},
    {"mains-delay", KEY_SECONDS, AT(mains_delay_s), 0, 604800, "30 min", "A loss of mains is reported after so long."},
    {"mains-jitter", KEY_SECONDS, AT(mains_jitter_s), 0, 604800, "0 s", "The report of lost mains comes up to so much earlier or later, on purpose: one power cut must not make every panel call at once."},
    {"power-mask", KEY_SECONDS, AT(power_mask_s), 0, 3600, "60 s", "After a total loss of power every input is ignored at least so long."},
    {"final-door-time", KEY_SECONDS, AT(final_door_s), 0, 3600, "5 s", "With completion by final-door: so long after it closed the area is set."},
    {"auto-set-at", KEY_CLOCK, AT(auto_set_at_s), .usual = "", .help = "Time of day at which an area begins to set by itself: with the warning."},
    {"auto-set-area", KEY_REF, AT(auto_set_area), .usual = "(the only area)", .help = "Which area does.", .thing = THING_AREA},
    {"auto-warn", KEY_SECONDS, AT(auto_warn_s), 0, 7200, "10 min", "It warns for so long, then it sets."},
    {"auto-postpone", KEY_SECONDS, AT(auto_postpone_s), 0, 86400, "30 min", "A code puts it off by so long ..."},
    {"auto-postpone-count", KEY_NUMBER, AT(auto_postpone_count), 0, 99, "3", "... and so many times."},
    {"signals-kept", KEY_NUMBER, AT(signals_kept), 0, 32, "32", "So many signals wait while the path to the station is down; of more, the least urgent are lost."},
    {"tolerance", KEY_TENTHS, AT(tolerance_tenths), 0, 50, "10 %", "How far the panel's own timers may be off, in steps of 10 %."},
    {"motion-blocks", KEY_YES, AT(motion_blocks), .usual = "no", .help = "Whether a tripped motion detector refuses a timed setting."},
    {"entry-open-allowed", KEY_YES, AT(entry_open_allowed), .usual = "yes", .help = "Whether one can ask to set while an entry door stands open."},
    {"exit-restart", KEY_YES, AT(exit_restart), .usual = "yes", .help = "Whether coming back once loads the exit delay again."},
    {"drop-to-part", KEY_YES, AT(drop_to_part), .usual = "yes", .help = "Whether full falls back to part when nobody has left."},
    {"lone-cross-signal", KEY_YES, AT(lone_cross_signal), .usual = "no", .help = "Whether a lone trip of a cross-zone pair is signalled as unverified."},
    {"same-cross-counts", KEY_YES, AT(same_cross_counts), .usual = "no", .help = "Whether the same detector twice counts as both of a pair."},
    {"early-warning", KEY_YES, AT(early_warning), .usual = "no", .help = "Whether \"entry started\" is sent at once."},
    {"silent-hold-up", KEY_YES, AT(silent_hold_up), .usual = "no", .help = "Whether a hold-up shows and sounds nothing."},
    {"jamming-noticed", KEY_YES, AT(jamming_noticed), .usual = "yes", .help = "Whether jamming of the radio is noticed: a trouble, signalled, and a fault when setting. With no, what is sent meanwhile is missing and nobody is told."},
    {"off-route", CHOICE(off_route, SITE_OFF_ROUTE_COUNT, "now", "A trip off the entry route while entry runs: siren now, or the European course (en).", site_words_off_route)},
    {"second-entry", CHOICE(second_entry, SITE_SECOND_COUNT, "shorten", "A second entry door while entry runs.", site_words_second_entry)},
    {"exit-trip", CHOICE(exit_trip, SITE_EXIT_TRIP_COUNT, "alarm", "A perimeter trip while the exit time runs: alarm, or the exit stalls.", site_words_exit_trip)},
    {"faults", CHOICE(faults, SITE_FAULT_COUNT, "refuse", "What a fault does to a request to set.", site_words_faults)},
    {"reopened", CHOICE(reopened, SITE_REOPENED_COUNT, "stays-out", "What a zone that was forced out does when it closes.", site_words_reopened)},
    {"completion", CHOICE(completion, SITE_COMPLETION_COUNT, "time", "What completes setting.", site_words_completion)},
    {"fob-way", CHOICE(fob_way, SITE_FOB_COUNT, "at-once", "Whether a fob sets at once or with the exit delay.", site_words_fob_way)},
    {"fob-open", CHOICE(fob_open, SITE_OPEN_COUNT, "refuse", "What a fob does with open zones.", site_words_open_zones)},
    {"auto-open", CHOICE(auto_open, SITE_AUTO_COUNT, "force", "What auto-set does with open zones.", site_words_auto_open)},
    {"restore", CHOICE(restore, SITE_RESTORE_COUNT, "closure", "When the restore of an alarm is sent.", site_words_restore)},
    {"lost-while-set", CHOICE(lost_while_set, SITE_LOST_COUNT, "trouble", "What a device lost while set is.", site_words_lost)},
    {"reset", CHOICE(reset, SITE_RESET_COUNT, "user", "Who resets after an alarm.", site_words_reset)},
    {"codes-act-on", CHOICE(code_acts, SITE_CODE_COUNT, "keypad", "Which areas a code acts on: the keypad's, the user's, or those in entry.", site_words_code_acts)},
#undef CHOICE
#undef AT
#define AT(field) .at = offsetof(struct site, station.field)
    {"account", KEY_TEXT, AT(account), 1, 16, "", "Its account at the monitoring station, in quotes: digits and A to F."},
    {"events", KEY_EVENTS, AT(events), .usual = "(as delivered)", .help = "What the alarms of a behaviour are sent as, where the panel has a table for it: three digits, in quotes, or `none`.",
        .flag_at = offsetof(struct site, station.events_said)},
#undef AT
#define AT(field) .at = offsetof(struct site, supply.field)
    {"battery", KEY_MEASURE, AT(battery), 1000, 200000000, "(standby is not computed)", "The battery that is in it: 7 Ah.", .measured = QUANTITY_CHARGE_MAH},
    {"battery-since", KEY_DATE, AT(battery_day), .usual = "", .help = "When that battery was put in."},
    {"at", KEY_MEASURE, AT(at), -100000, 200000, "(25 °C)", "How cold and how warm its place gets: 5..30 °C.", .measured = QUANTITY_TEMPERATURE_C},
    {"behind", KEY_CHOICE, AT(behind), 0, SITE_BEHIND_COUNT - 1, "nothing", "What is close to its antenna: fitted on steel, behind a radiator, in a cupboard of steel, behind foil.", behinds},
    {"antenna-gain", KEY_MEASURE, AT(gain), 0, 20000, "(the panel's own antenna)", "Of an antenna that is fitted instead of the panel's own: what it gains over that, less what its cable loses: 2 dB.", .measured = QUANTITY_LEVEL_DB},
    {"antenna-height", KEY_LENGTH, AT(antenna_mm), 100, 20000, "(where the panel hangs)", "How high that antenna hangs above the floor."},
};
#undef AT
const struct key_table key_panel_table = {
    "panel", "What is keyed in for the whole panel.", "{profile: halyard-28, exit-delay: 60 s, entry-delays: {yard: 30 s}}",
    panel_keys, COUNT(panel_keys), 0, 0,
};

/* ------------------------------------------------------------------------------------------------ things */

#define AT(field) .at = offsetof(struct site_area, field)
static const struct key area_keys[] = {
    {"name", KEY_NAME, AT(name), 1, 60, NULL, "Its name."},
    {"common", KEY_YES, AT(common), .usual = "no", .help = "A common area sets when the last of the others has set, and unsets with the first."},
};
#undef AT
static const struct key_table area_table = {
    "areas[]", "Parts of the building that are set by themselves.", "{name: shop}",
    area_keys, COUNT(area_keys), sizeof(struct site_area), 0,
};

#define AT(field) .at = offsetof(struct site_door, field)
static const struct key door_keys[] = {
    {"name", KEY_NAME, AT(name), 1, 60, NULL, "Its name."},
    {"outside", KEY_YES, AT(outside), .usual = "no", .help = "Whether it leads out of the building."},
};
#undef AT
static const struct key_table door_table = {
    "doors[]", "Doors and windows that people use, with a zone or without.", "{name: yard door, outside: yes}",
    door_keys, COUNT(door_keys), sizeof(struct site_door), 0,
};

#define AT(field) .at = offsetof(struct site_keypad, field)
static const struct key keypad_keys[] = {
    {"name", KEY_NAME, AT(name), 1, 60, NULL, "Its name."},
    {"areas", KEY_REFS, AT(areas), 1, SITE_AREA_MAX, "(all)", "The areas that it sets and unsets.", .thing = THING_AREA},
};
#undef AT
static const struct key_table keypad_table = {
    "keypads[]", "Where codes are keyed.", "{name: passage keypad, areas: [shop]}",
    keypad_keys, COUNT(keypad_keys), sizeof(struct site_keypad), 0,
};

#define AT(field) .at = offsetof(struct site_device, field)
static const struct key device_keys[] = {
    {"name", KEY_NAME, AT(name), 1, 60, NULL, "Its name."},
    {"profile", KEY_DEVICE, AT(profile), .usual = NULL, .help = "Its model: a name found in `devices/`, or a path inside the site file's folder."},
    {"on", KEY_REF, AT(door), .usual = "", .help = "The door it watches; without: it watches a room.", .thing = THING_DOOR},
    {"serial", KEY_TEXT, AT(serial), 1, 60, "", "Its serial number, in quotes."},
    {"frame-width", KEY_MEASURE, AT(frame_width), 0, 10000000, "(not checked)", "How wide the frame is where it is fitted.", .measured = QUANTITY_LENGTH_M},
    {"magnet-gap", KEY_MEASURE, AT(magnet_gap), 0, 1000000, "(not checked)", "contact: the gap to its magnet, door closed; from-to if the door has play.", .measured = QUANTITY_LENGTH_M},
    {"on-steel", KEY_YES, AT(on_steel), .usual = "no", .help = "Whether it or its magnet is fitted to steel."},
    {"at", KEY_MEASURE, AT(place_at), -100000, 200000, "(not checked)", "How cold and how warm its place gets: -5..30 °C.", .measured = QUANTITY_TEMPERATURE_C},
    {"behind", KEY_CHOICE, AT(behind), 0, SITE_BEHIND_COUNT - 1, "nothing", "radio: what is close to it: fitted on steel, behind a radiator, in a cupboard of steel, behind foil.", behinds},
    {"trips-a-day", KEY_NUMBER, AT(trips_day), 0, 100000, "(by the routines; docs/power.md)", "How often a day it is tripped, for its battery."},
    {"battery-since", KEY_DATE, AT(battery_day), .usual = "", .help = "When its battery was put in."},
    {"keypad", KEY_REF, AT(keypad), .usual = "", .help = "A keypad: which of `keypads` it is.", .thing = THING_KEYPAD},
    {"carried-by", KEY_REF, AT(person), .usual = "", .help = "A fob: who carries it.", .thing = THING_PERSON},
    {"areas", KEY_REFS, AT(areas), 1, SITE_AREA_MAX, "(all)", "A siren: the areas for which it sounds.", .thing = THING_AREA, .flag_at = offsetof(struct site_device, areas_said)},
};
#undef AT
static const struct key_table device_table = {
    "devices[]", "Contacts, motion detectors and the rest.", "{name: yard contact, profile: slim-contact, on: yard door, serial: \"0417 221\"}",
    device_keys, COUNT(device_keys), sizeof(struct site_device), 0,
};

#define AT(field) .at = offsetof(struct site_zone, field)
static const struct key zone_keys[] = {
    {"number", KEY_NUMBER, AT(number), 0, SITE_NUMBER_MAX, NULL, "Its number in the panel."},
    {"says", KEY_WORDS, AT(name), 1, 60, NULL, "Its spoken name, word by word."},
    {"device", KEY_REF, AT(device), .usual = "", .help = "The device behind it.", .thing = THING_DEVICE},
    {"input", KEY_NUMBER, AT(input), 1, SITE_INPUT_MAX, "1", "Which input of that device."},
    {"on", KEY_REF, AT(door), .usual = "", .help = "input 2 and more: the door that it watches; without: a room.", .thing = THING_DOOR},
    {"area", KEY_REF, AT(area), .usual = "(the only area)", .help = "The area it belongs to.", .thing = THING_AREA},
    {"behaviour", KEY_CHOICE, AT(behaviour), SITE_OUT, SITE_BEHAVIOUR_COUNT - 1, NULL, "What it does when it trips.", .choice_name = behaviour_name},
    {"in", KEY_MODE_CHOICE, AT(in), SITE_OUT, SITE_BEHAVIOUR_COUNT - 1, "(as behaviour; part and night leave interior and follower out)",
        "Another behaviour by mode: {part: out, night: perimeter}.", .choice_name = behaviour_name},
    {"delay", KEY_MODE_REF, AT(delay), .usual = "(the only entry delay)", .help = "entry: the entry delay that it starts.", .thing = THING_DELAY},
    {"delay-in", KEY_MODE_REF, AT(delay), .usual = "(as delay)", .help = "entry: another entry delay by mode: {night: short}.", .thing = THING_DELAY},
    {"follows", KEY_REFS, AT(follows), 1, SITE_DELAY_MAX, "(every one)", "follower: the entry delays on whose route it stands.", .thing = THING_DELAY},
    {"hold", KEY_SECONDS, AT(hold_s), 0, 5, "0 s", "follower: waits so long for its door before it counts."},
    {"chime", KEY_YES, AT(chime), .usual = "no", .help = "Whether opening it chimes while unset."},
    {"reports", KEY_YES, AT(reports), .usual = "yes", .help = "Whether its alarms are sent to the station."},
    {"supervised", KEY_YES, AT(supervised), .usual = "yes", .help = "Whether its silence is noticed."},
    {"bypassable", KEY_YES, AT(bypassable), .usual = "(yes; no for hold-up, medical, fire, gas and co)", .help = "Whether a user may leave it out."},
    {"swinger", KEY_YES, AT(swinger), .usual = "(yes; no for hold-up, medical, fire, gas and co)", .help = "Whether the swinger limit applies to it."},
    {"pulse-count", KEY_NUMBER, AT(pulse_count), 1, 5, "1", "It trips at so many pulses ..."},
    {"pulse-window", KEY_SECONDS, AT(pulse_window_s), 0, 3600, "10 s", "... within so long."},
    {"cross-with", KEY_REF, AT(cross_with), .usual = "", .help = "Its cross-zone partner; written at one of the two, it holds for both.", .thing = THING_ZONE},
    {"confirms", KEY_TEXT, AT(group), 1, 60, "", "Its confirmation group, a word of your own: zones of one group confirm each other, within one area. As soon as one zone of the site names a group, a zone without one confirms nothing and is confirmed by nothing; while none does, any two detectors of an area confirm each other."},
    {"loop-response", KEY_MILLISECONDS, AT(loop_response_ms), 0, 10000, "0 s", "The shortest opening that the input sees. The proof counts whole seconds: with 300 ms an opening of up to 1 s may be seen or not, and both are explored."},
    {"end-of-line", KEY_CHOICE, AT(loop_end), SITE_LOOP_END_UNSAID, SITE_LOOP_END_COUNT - 1, "unsaid", "Where the end-of-line resistor of a wired zone sits: at its device, at the panel, or there is none.", loop_ends},
    {"wiring", KEY_CHOICE, AT(wiring), SITE_WIRING_PLAIN, SITE_WIRING_COUNT - 1, "(not checked)", "How the loop of a wired zone is wired: no resistor, one in series with a contact that opens, one across a contact that closes, two, three.", wirings + SITE_WIRING_PLAIN},
    {"resistor", KEY_MEASURE, AT(end_ohm), 1000, 1000000000, "(not checked)", "The end-of-line resistor that is in it: 4.7 kohm.", .measured = QUANTITY_RESISTANCE_OHM},
    {"alarm-resistor", KEY_MEASURE, AT(alarm_ohm), 1000, 1000000000, "(as resistor)", "double, triple: the one across the contact.", .measured = QUANTITY_RESISTANCE_OHM},
    {"mask-resistor", KEY_MEASURE, AT(mask_ohm), 1000, 1000000000, "(as resistor)", "triple: the one across the second contact.", .measured = QUANTITY_RESISTANCE_OHM},
    {"loop-measured", KEY_MEASURE, AT(measured_ohm), 0, 1000000000, "", "What was measured on its two wires at the panel, unplugged, at rest.", .measured = QUANTITY_RESISTANCE_OHM},
    {"serves", KEY_REFS, AT(serves), 0, SITE_AREA_MAX, "(none)", "A boundary door: further areas in which it starts entry.", .thing = THING_AREA},
};
#undef AT
const struct key_table key_zone_table = {
    "zones[]", "What is keyed in zone by zone.",
    "{number: 1, says: [yard, door], device: yard contact, area: shop, behaviour: entry, delay: yard, chime: yes}",
    zone_keys, COUNT(zone_keys), sizeof(struct site_zone), 0,
};

#define AT(field) .at = offsetof(struct site_person, field)
static const struct key person_keys[] = {
    {"name", KEY_NAME, AT(name), 1, 60, NULL, "What the person is called; a trade or a role, not a real name."},
    {"walks", KEY_WALKING, AT(walks), SITE_PACE_LEAST_MM_S, SITE_PACE_MOST_MM_S, "adult", "How fast the person walks where the seconds come from the drawing (docs/plan-sums.md has the figures of each kind)."},
    {"notices", KEY_SPAN, AT(notices), 0, 600, "2..3 s", "From the tone to the hand at the keypad."}, /* rules.md 6.2, common practice */
    {"codes-in", KEY_SPAN, AT(codes), 0, 600, "4..9 s", "Keying the code once."},                     /* rules.md 6.2, from memory, unsure */
    {"fobs-in", KEY_SPAN, AT(fobs), 0, 600, "1..3 s", "Pressing the fob."},                           /* rules.md 6.2, common practice */
    {"areas", KEY_REFS, AT(areas), 1, SITE_AREA_MAX, "(all)", "The areas in which the code or fob acts.", .thing = THING_AREA},
    {"modes", KEY_REFS, AT(modes), 1, SITE_MODE_MAX, "(every one)", "The modes that the code or fob may set.", .thing = THING_MODE},
    {"hours", KEY_CLOCK_SPAN, AT(hours), .usual = "(every hour)", .help = "The code or fob is taken within these times of day only: \"07:00..19:00\"; past midnight \"22:00..30:00\".", .flag_at = offsetof(struct site_person, has_hours)},
    {"code", KEY_YES, AT(has_code), .usual = "(yes; no for an animal)", .help = "Whether the person has a code; the code itself stands in the file that `site.codes` names.",
        .secret = "take it out (code: yes is usual); " KEY_CODES_STAND_ELSEWHERE},
    {"fob", KEY_YES, AT(has_fob), .usual = "no", .help = "Whether the person has a fob."},
    {"animal", KEY_YES, AT(animal), .usual = "no", .help = "A dog: passes zones, opens nothing."},
    {"weighs", KEY_MEASURE, AT(weighs), 10, 200000, "(not checked)", "An animal: how heavy it is. `check` compares it with what the motion detectors overlook; routines take the animal as seen whatever it weighs.", .measured = QUANTITY_MASS_KG},
    {"stops-at-faults", KEY_YES, AT(stops_at_faults), .usual = "no", .help = "With `faults: acknowledge`: whether the person does not set then; otherwise acknowledges and sets."},
    {"duress", KEY_YES, AT(duress), .usual = "no", .help = "Whether the code is a duress code."},
    {"left", KEY_DATE, AT(left_day), .usual = "", .help = "The last day on which the person came: afterwards code and fob do not count, and are to be taken back."},
};
#undef AT
static const struct key_table person_table = {
    "people[]", "Who comes and goes.", "{name: baker, notices: 2..3 s, codes-in: 4..9 s, areas: [shop], fob: no}",
    person_keys, COUNT(person_keys), sizeof(struct site_person), 0,
};

#define AT(field) .at = offsetof(struct site_leg, field)
static const struct key leg_keys[] = {
    {"pass", KEY_REF, AT(zone), .usual = "", .help = "A zone passed: its spoken name, its number or its device.", .thing = THING_ZONE},
    {"door", KEY_REF, AT(door), .usual = "", .help = "Or a further door, opened and closed behind.", .thing = THING_DOOR},
    {"in", KEY_SPAN, AT(walk.estimated), 0, 86400, "(must be there unless measured)", "So long after the leg before, as estimated.", .flag_at = offsetof(struct site_leg, walk.has_estimated)},
    {"measured", KEY_SPAN, AT(walk.measured), 0, 86400, "", "As measured: this one counts.", .flag_at = offsetof(struct site_leg, walk.has_measured)},
};
#undef AT
static const struct key_table leg_table = {
    "ways[].legs[]", "What is passed on the way, in walking order: a zone or a door.", "{pass: passage, in: 2..3 s}",
    leg_keys, COUNT(leg_keys), sizeof(struct site_leg), 0,
};

#define AT(field) .at = offsetof(struct site_way, field)
static const struct key way_keys[] = {
    {"name", KEY_NAME, AT(name), 1, 60, NULL, "Its name."},
    {"door", KEY_REF, AT(door), .usual = NULL, .help = "The door that it begins with.", .thing = THING_DOOR},
    {"closes", KEY_SPAN, AT(closing.estimated), 0, 86400, "1..3 s", "The door is closed so long after it was opened.", .flag_at = offsetof(struct site_way, closing.has_estimated)},
    {"closes-measured", KEY_SPAN, AT(closing.measured), 0, 86400, "", "The same as measured: this one counts.", .flag_at = offsetof(struct site_way, closing.has_measured)},
    {"legs", KEY_INLINE_LIST, AT(legs), 0, SITE_LEG_MAX, "(none; with neither legs nor last: as the drawing has it)", "What is passed.", .table = &leg_table, .count_at = offsetof(struct site_way, leg_count), .not_flag_at = offsetof(struct site_way, drawn)},
    {"keypad", KEY_REF, AT(keypad), .usual = "", .help = "Where it ends; without: in a room.", .thing = THING_KEYPAD},
    {"last", KEY_SPAN, AT(ending.estimated), 0, 86400, "(0 s; must be there with a keypad, unless measured or drawn)", "From the last leg to the keypad.", .flag_at = offsetof(struct site_way, ending.has_estimated)},
    {"last-measured", KEY_SPAN, AT(ending.measured), 0, 86400, "", "The same as measured: this one counts.", .flag_at = offsetof(struct site_way, ending.has_measured)},
    {"spread", KEY_TENTHS, AT(spread_tenths), 0, 50, "20 %", "How far others are from a walk that was measured once: 14 s counts as 11..17 s. A measured from-to counts as it is."}, /* house practice, unverified */
    {"measured-on", KEY_DATE, AT(measured_day), .usual = "", .help = "When it was measured."},
    {"measured-by", KEY_TEXT, AT(measured_by), 1, 60, "", "Who measured."},
};
#undef AT
static const struct key_table way_table = {
    "ways[]", "How one walks in from a door to a keypad or a room; out is the same backward.",
    "{name: yard way, door: yard door, closes: 1..3 s, legs: [{pass: passage, in: 2..3 s}], keypad: passage keypad, last: 4..6 s}",
    way_keys, COUNT(way_keys), sizeof(struct site_way), 0,
};

/* ------------------------------------------------------------------------------------------------ routines */

#define AT(field) .at = offsetof(struct site_step, field)
#define VERB(name) .act = SITE_ACT_##name + 1
static const struct key step_keys[] = {
    {"name", KEY_TEXT, AT(name), 1, 60, "", "A name, for `after` of another step."},
    {"who", KEY_REF, AT(who), .usual = "(the routine's who)", .help = "The person.", .thing = THING_PERSON},
    {"in", KEY_SPAN, AT(in), 0, SPAN_LONGEST_S, "(the person's habit; in a drawing also the walk from the step before)", "So long after this person's step before, the routine's beginning, or what was waited for.", .flag_at = offsetof(struct site_step, has_in)},
    {"at", KEY_CLOCK_SPAN, AT(at), .usual = "", .help = "A person's first step: at this time of day instead, \"05:30..05:40\".", .flag_at = offsetof(struct site_step, has_at)},
    {"after", KEY_REF, AT(after_step), .usual = "", .help = "Begins counting when the step of this name is done.", .thing = THING_STEP},
    {"when", KEY_CHOICE, AT(when), SITE_SIGN_SET, SITE_SIGN_COUNT - 1, "", "Waits until this can be seen or heard.", .choice_name = sign_name},
    {"area", KEY_REF, AT(when_area), .usual = "(any)", .help = "... of this area.", .thing = THING_AREA},
    {"if", KEY_CHOICE, AT(if_sign), SITE_SIGN_SET, SITE_SIGN_COUNT - 1, "", "The step is left out unless this can be seen or heard when it is due.", .choice_name = sign_name, .not_flag_at = offsetof(struct site_step, if_not)},
    {"if-not", KEY_CHOICE, AT(if_sign), SITE_SIGN_SET, SITE_SIGN_COUNT - 1, "", "The step is left out if it can.", .choice_name = sign_name, .flag_at = offsetof(struct site_step, if_not)},
    {"if-area", KEY_REF, AT(if_area), .usual = "(any)", .help = "... of this area.", .thing = THING_AREA},
    {"maybe", KEY_YES, AT(maybe), .usual = "no", .help = "May happen or not; both are explored."},
    {"wait", KEY_YES, .at = KEY_NOWHERE, .usual = "", .help = "Does nothing for so long (`wait: yes`).", VERB(WAIT)},
    {"open", KEY_REF, AT(door), .usual = "", .help = "Opens a door.", .thing = THING_DOOR, VERB(OPEN)},
    {"close", KEY_REF, AT(door), .usual = "", .help = "Closes a door.", .thing = THING_DOOR, VERB(CLOSE)},
    {"pass", KEY_REF, AT(zone), .usual = "", .help = "Crosses what a zone's detector watches, and is seen: an animal too, even if it `weighs` no more than the detector `overlooks`. Where a walk test shows that it is not seen, take the step out.", .thing = THING_ZONE, VERB(PASS)},
    {"come", KEY_REF, AT(way), .usual = "", .help = "Comes in by a way.", .thing = THING_WAY, VERB(COME)},
    {"go", KEY_REF, AT(way), .usual = "", .help = "Goes out by a way.", .thing = THING_WAY, VERB(GO)},
    {"walk", KEY_REF, AT(room), .usual = "", .help = "Walks to a room of the drawing, from where the person's step before was: doors and detectors on the way, and the seconds, are those of the drawing.", .thing = THING_ROOM, VERB(WALK)},
    {"from", KEY_REF, AT(from), .usual = "(where the step before was)", .help = "walk: from this room.", .thing = THING_ROOM},
    {"unset", KEY_REF, AT(keypad), .usual = "", .help = "Unsets at a keypad; `unset: yes` with a fob.", .thing = THING_KEYPAD, VERB(UNSET)},
    {"set", KEY_REF, AT(mode), .usual = "", .help = "Asks to set in a mode.", .thing = THING_MODE, VERB(SET)},
    {"mistype", KEY_REF, AT(keypad), .usual = "", .help = "Keys a wrong code.", .thing = THING_KEYPAD, VERB(MISTYPE)},
    {"press", KEY_REF, AT(zone), .usual = "", .help = "Presses a button (hold-up, medical).", .thing = THING_ZONE, VERB(PRESS)},
    {"bypass", KEY_REF, AT(zone), .usual = "", .help = "Leaves a zone out.", .thing = THING_ZONE, VERB(BYPASS)},
    {"postpone", KEY_REF, AT(keypad), .usual = "", .help = "Puts the auto-set off.", .thing = THING_KEYPAD, VERB(POSTPONE)},
    {"tamper", KEY_REF, AT(zone), .usual = "", .help = "Opens or loosens a zone's device.", .thing = THING_ZONE, VERB(TAMPER)},
    {"mains", KEY_CHOICE, AT(act), SITE_ACT_MAINS_LOST, SITE_ACT_MAINS_BACK, "", "The mains are lost or back.", mains_ways, VERB(MAINS_LOST)},
    {"jamming", KEY_CHOICE, AT(act), SITE_ACT_JAMMED, SITE_ACT_JAM_OVER, "", "Jamming of the radio starts or ends: meanwhile nothing of a radio device or fob reaches the panel.", jam_ways, VERB(JAMMED)},
    {"path", KEY_CHOICE, AT(act), SITE_ACT_PATH_LOST, SITE_ACT_PATH_BACK, "", "The path to the station is lost or back.", mains_ways, VERB(PATH_LOST)},
    {"keypad", KEY_REF, AT(keypad), .usual = "(the only keypad)", .help = "set, bypass: at which keypad.", .thing = THING_KEYPAD},
    {"areas", KEY_REFS, AT(areas), 1, SITE_AREA_MAX, "(those the code acts on)", "set, unset: which areas.", .thing = THING_AREA},
    {"with", KEY_CHOICE, AT(use), 0, SITE_USE_COUNT - 1, "code", "set, unset: with the code or the fob.", uses},
    {"message", KEY_CHOICE, AT(message), 0, SITE_MESSAGE_COUNT - 1, "arrives", "open, close, pass: whether a radio device's message reaches the panel; maybe lost: both are explored.", messages},
};
#undef VERB
#undef AT
const struct key_table key_step_table = {
    "routines[].steps[]", "What happens, step by step. Each step has exactly one verb: wait, open, close, pass, come, go, walk, "
    "unset, set, mistype, press, bypass, postpone, tamper, mains, jamming or path.",
    "{who: apprentice, when: entry tone, area: shop, in: 1..2 s, unset: passage keypad}",
    step_keys, COUNT(step_keys), sizeof(struct site_step), 0,
};

#define AT(field) .at = offsetof(struct site_routine, field)
static const struct key routine_keys[] = {
    {"name", KEY_NAME, AT(name), 1, 60, NULL, "Its name."},
    {"says", KEY_TEXT, AT(says), 0, 300, "", "One sentence for the customer."},
    {"starts", KEY_STARTS, AT(starts), .usual = "(unset)", .help = "In which mode each area starts: {shop: full, flat: unset}."},
    {"open", KEY_REFS, AT(doors_open), 0, 32, "(none)", "Doors that stand open at the start.", .thing = THING_DOOR},
    {"expects", KEY_CHOICES, AT(expects), 0, 6, "(none)", "What belongs to it and is no false alarm.", expectations},
    {"who", KEY_REF, .at = KEY_NOWHERE, .usual = "(none)", .help = "The person of every step that names none.", .thing = THING_PERSON},
    {"steps", KEY_LIST, AT(steps), 1, SITE_STEP_MAX, NULL, "The steps.", .table = &key_step_table, .count_at = offsetof(struct site_routine, step_count)},
};
#undef AT
static const struct key_table routine_table = {
    "routines[]", "How people come and go.", "{name: first batch, who: baker, starts: {shop: full}, steps: [{come: yard way}, {unset: passage keypad}]}",
    routine_keys, COUNT(routine_keys), sizeof(struct site_routine), 0,
};

#define AT(field) .at = offsetof(struct site_removal, field)
static const struct key removal_keys[] = {
    {"routine", KEY_NAME, AT(routine), 1, 60, NULL, "The usual routine's name."},
    {"reason", KEY_TEXT, AT(reason), 1, 300, NULL, "Why it does not apply."},
};
#undef AT
static const struct key_table removal_table = {
    "without[]", "Usual routines that do not apply here.", "{routine: dog out at six, reason: no dog lives here}",
    removal_keys, COUNT(removal_keys), sizeof(struct site_removal), 0,
};

/* ------------------------------------------------------------------------------------------------ looked after */

#define AT(field) .at = offsetof(struct site_waiver, field)
static const struct key waiver_keys[] = {
    {"finding", KEY_TEXT, AT(finding), 1, 60, NULL, "Which check found it: the finding's id. `lintel check --waivers` prints the whole line."},
    {"about", KEY_TEXT, AT(about), 0, 300, "", "What it concerns: zone 6 behaviour. Left out: the whole site."},
    {"weight", KEY_CHOICE, AT(weight), 0, FINDING_WEIGHT_COUNT - 1, "fault", "How heavy it was: when it is heavier, the waiver no longer covers it.", weights},
    {"routines", KEY_TEXTS, AT(routines), 0, SITE_ROUTINE_MAX, "(whichever)", "The routines that went wrong by it: with a further one the waiver no longer covers it.",
        .count_at = offsetof(struct site_waiver, routine_count)},
    {"says", KEY_TEXT, AT(says), 0, 400, "", "What it said: when it says otherwise, the waiver no longer covers it."},
    {"reason", KEY_TEXT, AT(reason), 1, 300, NULL, "Why it is left as it is."},
    {"by", KEY_TEXT, AT(by), 1, 60, NULL, "Who answers for that."},
    {"until", KEY_DATE, AT(until_day), .usual = NULL, .help = "The last day of it: 2027-03-31."},
};
#undef AT
static const struct key_table waiver_table = {
    "waived[]", "Findings that somebody answers for: listed apart and not counted, until a day. A waiver that has ended, or whose finding "
    "is gone or has changed, is reported.",
    "{finding: routine.false-alarm, about: zone 6 behaviour, weight: fault, routines: [apprentice opens], "
    "reason: the new door comes in May, by: the owner, until: 2027-05-31}",
    waiver_keys, COUNT(waiver_keys), sizeof(struct site_waiver), 0,
};

#define AT(field) .at = offsetof(struct site_temporary, field)
static const struct key temporary_keys[] = {
    {"bypass", KEY_REF, AT(bypass), .usual = "", .help = "A zone left out.", .thing = THING_ZONE},
    {"soak", KEY_REF, AT(soak), .usual = "", .help = "Or a zone on soak: it only writes the panel's log.", .thing = THING_ZONE},
    {"guest", KEY_REF, AT(guest), .usual = "", .help = "Or a person whose code and fob work in these days alone.", .thing = THING_PERSON},
    {"from", KEY_DATE, AT(from_day), .usual = NULL, .help = "The first day: 2027-03-01."},
    {"until", KEY_DATE, AT(until_day), .usual = "(must be there unless lasting)", .help = "The last day."},
    {"lasting", KEY_YES, AT(lasting), .usual = "no", .help = "bypass, soak: that no day is known on which it ends."},
    {"by", KEY_TEXT, AT(by), 1, 60, NULL, "Who arranged it."},
    {"why", KEY_TEXT, AT(why), 1, 300, NULL, "What it is for."},
};
#undef AT
static const struct key_table temporary_table = {
    "temporary[]", "What is otherwise for a while: applied while it lasts, reported while it lasts and afterwards.",
    "{bypass: landing, from: 2027-03-01, until: 2027-03-12, by: the technician, why: builders on the stairs}",
    temporary_keys, COUNT(temporary_keys), sizeof(struct site_temporary), 0,
};

/* ------------------------------------------------------------------------------------------------ the file */

#define AT(field) .at = offsetof(struct site_holiday, field)
static const struct key holiday_keys[] = {
    {"name", KEY_TEXT, AT(name), 1, 60, NULL, "What it is: \"new year\", \"closed in August\"."},
    {"from", KEY_DATE, AT(from_day), .usual = NULL, .help = "The first day: 2027-08-02."},
    {"until", KEY_DATE, AT(until_day), .usual = NULL, .help = "The last day; the same for a single one."},
    {"every-year", KEY_YES, AT(yearly), .usual = "no", .help = "Whether the panel keeps it for the same days of every year."},
};
#undef AT
static const struct key_table holiday_table = {
    "holidays[]", "Days that are keyed into the panel as holidays: nothing sets by itself on them. The proofs know none: what people do on such a day is a routine of its own.",
    "{name: new year, from: 2027-01-01, until: 2027-01-01, every-year: yes}",
    holiday_keys, COUNT(holiday_keys), sizeof(struct site_holiday), 0,
};

#define LIST(field, least, most) KEY_LIST, .at = offsetof(struct site, field), least, most
static const struct key site_keys[] = {
    {"site", KEY_TABLE, .at = 0, .usual = NULL, .help = "The site itself.", .table = &about_table},
    {"panel", KEY_TABLE, .at = 0, .usual = NULL, .help = "What is keyed in for the whole panel.", .table = &key_panel_table},
    {"building", KEY_TABLE, .at = offsetof(struct site, building), .usual = "(no drawing: what needs one is not computed)", .help = "The drawing of the building.", .table = &key_building_table, .flag_at = offsetof(struct site, building.said)},
    {"break-ins", KEY_TABLE, .at = offsetof(struct site, break_ins), .usual = "(those of the drawing, where it has something to protect)", .help = "Where somebody could come in, and what he might be after.", .table = &key_break_ins_table, .flag_at = offsetof(struct site, break_ins.said)},
    {"areas", LIST(areas, 1, SITE_AREA_MAX), NULL, "Parts of the building that are set by themselves.", .table = &area_table, .count_at = offsetof(struct site, area_count)},
    {"doors", LIST(doors, 0, SITE_DOOR_MAX), "(none)", "Doors and windows that people use.", .table = &door_table, .count_at = offsetof(struct site, door_count)},
    {"keypads", LIST(keypads, 0, SITE_KEYPAD_MAX), "(none)", "Where codes are keyed.", .table = &keypad_table, .count_at = offsetof(struct site, keypad_count)},
    {"devices", LIST(devices, 0, SITE_DEVICE_MAX), "(none)", "Contacts, motion detectors and the rest.", .table = &device_table, .count_at = offsetof(struct site, device_count)},
    {"links", LIST(links, 0, SITE_LINK_MAX), "(by the drawing)", "Radio links, measured or by hand.", .table = &key_link_table, .count_at = offsetof(struct site, link_count)},
    {"cables", LIST(cables, 0, SITE_CABLE_MAX), "(not checked)", "The cables that feed devices.", .table = &key_cable_table, .count_at = offsetof(struct site, cable_count)},
    {"zones", LIST(zones, 0, SITE_ZONE_MAX), "(none)", "What is keyed in zone by zone.", .table = &key_zone_table, .count_at = offsetof(struct site, zone_count)},
    {"people", LIST(people, 0, SITE_PEOPLE_MAX), "(none)", "Who comes and goes.", .table = &person_table, .count_at = offsetof(struct site, person_count)},
    {"ways", LIST(ways, 0, SITE_WAY_MAX), "(none)", "How one walks in and out.", .table = &way_table, .count_at = offsetof(struct site, way_count)},
    {"routines", LIST(routines, 0, SITE_ROUTINE_MAX), "(none)", "How people come and go.", .table = &routine_table, .count_at = offsetof(struct site, routine_count)},
    {"without", LIST(removals, 0, SITE_ROUTINE_MAX), "(none)", "Usual routines that do not apply here.", .table = &removal_table, .count_at = offsetof(struct site, removal_count)},
    {"waived", LIST(waivers, 0, 256), "(none)", "Findings that somebody answers for.", .table = &waiver_table, .count_at = offsetof(struct site, waiver_count)},
    {"holidays", LIST(holidays, 0, 128), "(none)", "Days on which nothing sets by itself.", .table = &holiday_table, .count_at = offsetof(struct site, holiday_count)},
    {"temporary", LIST(temporaries, 0, 64), "(none)", "What is otherwise for a while.", .table = &temporary_table, .count_at = offsetof(struct site, temporary_count)},
};
#undef LIST
const struct key_table key_site_table = {
    "site file", "One YAML file (or JSON, which YAML contains) for each building.", "",
    site_keys, COUNT(site_keys), sizeof(struct site), 0,
};
/* clang-format on */

const char *key_choice_name(const struct key *key, int value) {
    assert(value >= key->low && value <= key->high);
    return key->choice_name != NULL ? key->choice_name(value) : key->choices[value - key->low];
}

int key_choice_value(const struct key *key, struct text word) {
    for (int value = key->low; value <= key->high; value++) {
        if (text_is(word, key_choice_name(key, value))) {
            return value;
        }
    }
    return -1;
}

const struct key *key_find(const struct key_table *table, struct text name) {
    for (size_t i = 0; i < table->key_count; i++) {
        if (text_is(name, table->keys[i].name)) {
            return &table->keys[i];
        }
    }
    return NULL;
}

const struct key *key_of_setting(enum site_setting setting) {
    static const struct key entry_delay = {
            .name = "entry-delay", .type = KEY_SECONDS, .high = 3600};
    static const struct key can_be = {.name = "user-modes", .type = KEY_YES};
    const struct key *key = key_find(&key_panel_table, text_of(site_setting_key(setting)));
    if (setting == SITE_SET_LOOP_RESPONSE) {
        return key_find(&key_zone_table, text_of("loop-response"));
    }
    if (setting == SITE_SET_USER_MODES || setting == SITE_SET_USER_HOURS) {
        return &can_be;
    }
    return key == NULL ? &entry_delay : key;
}

enum key_walk key_walk(const struct key *key) {
    switch (key->type) {
    case KEY_REF:
        return key->thing == THING_ZONE ? KEY_WALK_ZONES : KEY_WALK_NAMES;
    case KEY_REFS:
    case KEY_MODE_CHOICE:
    case KEY_MODE_REF:
    case KEY_STARTS:
        return KEY_WALK_NAMES;
    case KEY_TEXT:
    case KEY_NAME:
    case KEY_TEXTS:
    case KEY_WORDS:
    case KEY_YES:
    case KEY_NUMBER:
    case KEY_SECONDS:
    case KEY_MILLISECONDS:
    case KEY_SPAN:
    case KEY_CLOCK:
    case KEY_CLOCK_SPAN:
    case KEY_DATE:
    case KEY_TENTHS:
    case KEY_LENGTH:
    case KEY_PAIR:
    case KEY_PAIRS:
    case KEY_MEASURE:
    case KEY_WALKING:
    case KEY_NUMBERS:
    case KEY_OFFERS:
    case KEY_STEPS:
    case KEY_DELIVERED:
    case KEY_EVENTS:
    case KEY_CHOICE:
    case KEY_CHOICES:
    case KEY_TIMES:
    case KEY_PANEL:
    case KEY_STANDARD:
    case KEY_DEVICE:
    case KEY_MATERIALS:
    case KEY_TABLE:
    case KEY_LIST:
    case KEY_INLINE_LIST:
    case KEY_TYPE_COUNT:
        return KEY_WALK_VALUES;
    }
    return KEY_WALK_VALUES;
}
