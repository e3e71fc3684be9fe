/* What profiles say, and what is told of those that cannot be read. The files are written where a site file would have
 * them. */
#include "document/test_document.h"

#include <sys/stat.h>
#include <unistd.h>

static char folder[64];

static int make_folder(void **state) {
    char path[128];
    (void)state;
    (void)snprintf(folder, sizeof folder, "/tmp/lintel-profiles-XXXXXX");
    if (mkdtemp(folder) == NULL) {
        return -1;
    }
    (void)snprintf(path, sizeof path, "%s/panels", folder);
    if (mkdir(path, 0700) != 0) {
        return -1;
    }
    (void)snprintf(path, sizeof path, "%s/devices", folder);
    return mkdir(path, 0700);
}

static int drop_folder(void **state) {
    char command[128];
    (void)state;
    (void)snprintf(command, sizeof command, "rm -r %s", folder);
    return system(command);
}

static void write_file(const char *name, const char *start, const char *text) {
    char path[128];
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *file = fopen(path, "wb");
    assert_non_null(file);
    assert_true(fputs(start, file) >= 0 && fputs(text, file) >= 0);
    assert_int_equal(fclose(file), 0);
}

static const char panel_start[] =
        "name: p\nzones: 40\nareas: 2\nexit-delay: 30..120 s\nentry-delay: 15..60 s\n"
        "abort-window: 0..45 s\nbehaviours: [entry, perimeter]\n";
static const char site_text[] =
        "site: {name: a}\npanel: {profile: p, entry-delays: {front: 30 s}}\nareas: [{name: b}]\n"
        "doors: [{name: front, outside: yes}, {name: hatch}]\nkeypads: [{name: pad}]\n"
        "people: [{name: lodger}]\ndevices: [{name: d, profile: d, on: front";

struct read {
    struct test_pages pages;
    struct document document;
    bool good;
};

/* panel, device: what follows the keys that must be there. of_device, zone: further keys in the site file. */
static void read_with(struct read *read, const char *panel, const char *device,
        const char *of_device, const char *zone) {
    char path[128];
    char text[1024];
    struct problem problem = {0};
    write_file("panels/p.yaml", panel_start, panel);
    write_file("devices/d.yaml", "name: d\n", device);
    (void)snprintf(text, sizeof text,
            "%s%s}]\nzones: [{number: 1, says: [front], device: d, behaviour: entry%s}]\n",
            site_text, of_device, zone);
    write_file("site.yaml", "", text);
    (void)snprintf(path, sizeof path, "%s/site.yaml", folder);
    *read = (struct read){.pages = {.left = -1}};
    document_init(&read->document, test_pages(&read->pages));
    read->good = document_read_file(&read->document, path, NULL, &problem).good;
}

static void finish(struct read *read) {
    document_finish(&read->document);
    assert_int_equal(read->pages.out, 0);
}

static void panels_say_what_their_manual_states(void **state) {
    struct read read;
    (void)state;
    read_with(&read,
            "numbers: [1..8, 33..40]\nwired: 1..6\nradio: [5, 7..8, 33..40]\n"
            "offers: {siren-time: 60..900 s, supervision-window: [4 h, 12 h], swinger-limit: 1..6,"
            " off-route: now, completion: [time, fob], drop-to-part: yes}\n"
            "steps: {exit-delay: 5 s, siren-time: 60 s, swinger-limit: 1}\n"
            "delivered: {exit-delay: 60 s, entry-delay: 30 s, swinger-limit: 2, off-route: en,"
            " drop-to-part: no}\n"
            "account-lengths: 4..6\nevents: {fire: 110, flood: none, co: \"1B2\"}\ndelivered-name: "
            "\"zone #\"\n"
            "words: [front, back door]\nwords-most: 3\nhears: [skerry]\nusers: 16\n"
            "code-lengths: [4, 6..8]\nfactory-codes: [\"2580\"]\nbuilt-in: [siren, keypad]\n"
            "keypads: 4\nsirens: 2\nfobs: 8\ncurrent: 90..600 mA\n",
            "senses: contact\n", "", "");
    test_print_problems(&read.document);
    assert_true(read.good);
    const struct site_panel_profile *panel = &read.document.site.panel;
    assert_true(site_numbers_has(&panel->numbers, 8) && !site_numbers_has(&panel->numbers, 9));
    assert_true(site_slot_takes(panel, 5, true) && site_slot_takes(panel, 5, false));
    assert_true(!site_slot_takes(panel, 6, true) && !site_slot_takes(panel, 7, false));
    assert_true(panel->events_said && text_is(panel->events[SITE_FIRE], "110"));
    assert_true(text_is(panel->events[SITE_FLOOD], "none") && panel->events[SITE_GAS].length == 0);
    assert_true(text_is(panel->events[SITE_CO], "1B2"));
    assert_true(site_numbers_has(&panel->account_lengths, 6) && panel->account_lengths.said);
    assert_true(text_is(panel->delivered_name, "zone #"));
    const struct site_offer *offers = panel->offers;
    assert_true(offers[SITE_SET_SIREN_TIME].said && offers[SITE_SET_SIREN_TIME].low == 60);
    assert_int_equal(offers[SITE_SET_SIREN_TIME].high, 900);
    assert_int_equal(offers[SITE_SET_SUPERVISION_WINDOW].value_count, 2);
    assert_int_equal(offers[SITE_SET_SUPERVISION_WINDOW].values[1], 12 * 3600);
    assert_int_equal(offers[SITE_SET_SWINGER_LIMIT].low, 1);
    assert_int_equal(offers[SITE_SET_SWINGER_LIMIT].high, 6);
    assert_int_equal(offers[SITE_SET_OFF_ROUTE].choices, 1U << SITE_OFF_ROUTE_NOW);
    assert_int_equal(offers[SITE_SET_COMPLETION].choices,
            1U << SITE_COMPLETE_TIME | 1U << SITE_COMPLETE_FOB);
    assert_int_equal(offers[SITE_SET_DROP_TO_PART].choices, 1U << 1);
    assert_false(offers[SITE_SET_RESET].said);
    assert_int_equal(panel->steps[SITE_SET_EXIT_DELAY], 5);
    assert_int_equal(panel->steps[SITE_SET_ENTRY_DELAY], 0);
    assert_true(panel->delivered_said[SITE_SET_ENTRY_DELAY]);
    assert_int_equal(panel->delivered[SITE_SET_ENTRY_DELAY], 30);
    assert_int_equal(panel->delivered[SITE_SET_OFF_ROUTE], SITE_OFF_ROUTE_EN);
    assert_true(panel->delivered_said[SITE_SET_DROP_TO_PART]);
    assert_false(panel->delivered_said[SITE_SET_ABORT_WINDOW]);
    assert_true(panel->word_count == 2 && text_is(panel->words[1], "back door"));
    assert_true(panel->families_said && panel->family_count == 1 &&
            text_is(panel->families[0], "skerry"));
    assert_true(site_numbers_has(&panel->code_lengths, 7) &&
            !site_numbers_has(&panel->code_lengths, 5));
    assert_true(panel->factory_code_count == 1 && text_is(panel->factory_codes[0], "2580"));
    assert_int_equal(panel->built_in, SITE_BUILT_IN_KEYPAD | SITE_BUILT_IN_SIREN);
    assert_int_equal(panel->word_most * 1000 + panel->keypad_most * 100 + panel->siren_most * 10 +
                    panel->fob_most + panel->user_most * 10000,
            163428);
    assert_true(panel->current.said && panel->current.low == 90000);
    finish(&read);
}

static void devices_say_what_their_manual_states(void **state) {
    struct read read;
    (void)state;
    read_with(&read, "",
            "inputs: [{senses: contact, says: inner}, {senses: shock}]\nradio: yes\nfamily: "
            "skerry\n"
            "width: 22 mm\ngap: 15.5 mm\ngap-on-steel: 9 mm\nmarked: right\ntamper: [cover, wall]\n"
            "check-in: 1 h\nbattery: CR2450\nbatteries: 2\nworks-at: -10..55 C\n"
            "current: 9..30 mA\nenrols: [serial, activate]\nserial-format: \"#### HH\"\n"
            "activations: 3\n",
            ", frame-width: 24 mm, magnet-gap: 3..5 mm, on-steel: yes, at: -15..30 °C",
            ", input: 2, on: hatch");
    test_print_problems(&read.document);
    assert_true(read.good);
    const struct site *site = &read.document.site;
    const struct site_device_profile *profile = &site->device_profiles[0];
    assert_int_equal(profile->input_count, 2);
    assert_int_equal(profile->sense, SITE_CONTACT); /* the first input's */
    assert_true(text_is(profile->family, "skerry") && text_is(profile->battery, "CR2450"));
    assert_int_equal(profile->gap.high, 15500);
    assert_int_equal(profile->gap_on_steel.high, 9000);
    assert_int_equal(profile->width.low, 22000);
    assert_int_equal(profile->marked, SITE_MARK_RIGHT);
    assert_true(profile->tamper_said);
    assert_int_equal(profile->tamper, SITE_TAMPER_COVER | SITE_TAMPER_WALL);
    assert_int_equal(profile->check_in_s, 3600);
    assert_int_equal(profile->works_at.low, -10000);
    assert_int_equal(profile->enrols, SITE_ENROL_SERIAL | SITE_ENROL_ACTIVATE);
    assert_int_equal(profile->batteries * 10 + profile->activations, 23);
    const struct site_device *device = &site->devices[0];
    assert_int_equal(device->frame_width.low, 24000);
    assert_true(device->magnet_gap.low == 3000 && device->magnet_gap.high == 5000);
    assert_true(device->on_steel && device->place_at.low == -15000);
    assert_int_equal(site_zone_sense(site, &site->zones[0]), SITE_SHOCK);
    assert_int_equal(site_zone_door(site, &site->zones[0]), 1);
    finish(&read);
}

static void detectors_say_how_far_they_see(void **state) {
    struct read read;
    (void)state;
    read_with(&read, "",
            "senses: motion\nrange: 10 m\nangle: 85°\ncurtain: yes\noverlooks: 18 kg\n"
            "mounted: 2.1..2.3 m\n",
            "", "");
    test_print_problems(&read.document);
    assert_true(read.good);
    const struct site_device_profile *profile = &read.document.site.device_profiles[0];
    assert_int_equal(profile->range_mm, 10000);
    assert_true(profile->angle.said && profile->angle.low == 85000);
    assert_true(profile->curtain);
    assert_true(profile->overlooks.said && profile->overlooks.low == 18000);
    assert_true(profile->mounted.low == 2100000 && profile->mounted.high == 2300000);
    finish(&read);
    read_with(&read, "", "senses: motion\n", "", "");
    assert_true(read.good);
    profile = &read.document.site.device_profiles[0];
    assert_int_equal(profile->range_mm, 0);
    assert_false(profile->angle.said || profile->curtain || profile->overlooks.said ||
            profile->mounted.said);
    finish(&read);
}

static void both_ends_say_how_they_send_and_what_they_draw(void **state) {
    struct read read;
    (void)state;
    read_with(&read,
            "receives: -104 dBm\nradiates: 8 dBm\nvoltage: 10.5..13.8 V\noutput: 200 mA\n"
            "charges-at: 150 mA\nbattery-size: 1.2..2.1 Ah\nwirings: [plain, double]\n"
            "resistors: 2.2..4.7 kohm\npull-up: 3.3 kohm\nloop-voltage: 5 V\n"
            "reads-normal: 1.1..4.1 V\nreads-open: 4.6..5 V\n",
            "senses: contact\nfrequency: 868.3 MHz\nradiates: -14.5 dBm\nreceives: -98 dBm\n"
            "event-airtime: 90 ms\ncheck-in-airtime: 30 ms\nquiet-current: 6 µA\nsends-at: 22 mA\n"
            "capacity: 540..620 mAh\nbattery-years: 5\nneeds-voltage: 9..15 V\n",
            "", "");
    test_print_problems(&read.document);
    assert_true(read.good);
    const struct site_device_profile *profile = &read.document.site.device_profiles[0];
    assert_int_equal(profile->frequency.low, 868300);
    assert_int_equal(profile->radiates.low, -14500);
    assert_int_equal(profile->receives.low, -98000);
    assert_int_equal(profile->event_air_ms * 100 + profile->check_in_air_ms, 9030);
    assert_int_equal(profile->quiet.low, 6);
    assert_int_equal(profile->sends_at.low, 22000);
    assert_int_equal(profile->capacity.high, 620000);
    assert_int_equal(profile->battery_years, 5);
    assert_int_equal(profile->needs_volts.low, 9000);
    const struct site_panel_profile *panel = &read.document.site.panel;
    assert_true(panel->receives.low == -104000 && panel->radiates.low == 8000);
    assert_true(panel->volts.low == 10500 && panel->volts.high == 13800);
    assert_true(panel->output.low == 200000 && panel->charges_at.low == 150000);
    assert_int_equal(panel->battery_size.high, 2100000);
    assert_int_equal(panel->wirings, 1U << SITE_WIRING_PLAIN | 1U << SITE_WIRING_DOUBLE);
    assert_true(panel->resistors.low == 2200000 && panel->resistors.high == 4700000);
    assert_true(panel->pull_up.low == 3300000 && panel->loop_volts.low == 5000);
    assert_true(panel->reads[SITE_READS_NORMAL].high == 4100);
    assert_true(panel->reads[SITE_READS_OPEN].low == 4600 && !panel->reads[SITE_READS_ALARM].said);
    finish(&read);
}

static void what_is_not_said_is_not_known(void **state) {
    struct read read;
    (void)state;
    read_with(&read, "", "senses: contact\n", "", "");
    assert_true(read.good);
    const struct site *site = &read.document.site;
    const struct site_panel_profile *panel = &site->panel;
    const struct site_device_profile *profile = &site->device_profiles[0];
    assert_false(panel->numbers.said || panel->wired.said || panel->radio.said ||
            panel->code_lengths.said || panel->current.said || panel->families_said);
    assert_int_equal(panel->word_count + panel->family_count + panel->factory_code_count, 0);
    assert_int_equal(panel->user_most + panel->siren_most + panel->word_most, 0);
    for (int setting = 0; setting < SITE_SETTING_COUNT; setting++) {
        assert_false(panel->offers[setting].said || panel->delivered_said[setting]);
        assert_int_equal(panel->steps[setting], 0);
    }
    assert_false(profile->gap.said || profile->width.said || profile->works_at.said ||
            profile->tamper_said);
    assert_int_equal(profile->kind, SITE_SENSOR);
    assert_int_equal(profile->input_count, 1);
    assert_int_equal(profile->marked, SITE_MARK_UNSAID);
    assert_int_equal(profile->check_in_s + profile->activations + (int)profile->enrols, 0);
    assert_false(site->devices[0].magnet_gap.said || site->devices[0].on_steel);
    assert_int_equal(site->devices[0].keypad, SITE_NONE);
    assert_int_equal(site->devices[0].person, SITE_NONE);
    assert_int_equal(site->zones[0].input, 1);
    finish(&read);
}

static void a_keypad_needs_no_sense(void **state) {
    struct read read;
    (void)state;
    read_with(&read, "", "kind: keypad\n", ", keypad: pad", "");
    assert_true(read.good);
    assert_int_equal(read.document.site.device_profiles[0].kind, SITE_KEYPAD_DEVICE);
    assert_int_equal(read.document.site.device_profiles[0].sense, SITE_BUTTON);
    assert_int_equal(read.document.site.devices[0].keypad, 0);
    finish(&read);
    read_with(&read, "", "kind: fob\nradio: yes\n", ", carried-by: lodger", "");
    assert_true(read.good);
    assert_int_equal(read.document.site.devices[0].person, 0);
    finish(&read);
    read_with(&read, "", "kind: siren\n", ", areas: [b]", "");
    assert_true(read.good);
    assert_int_equal(read.document.site.devices[0].areas, 1);
    finish(&read);
}

static void what_cannot_be_is_told(void **state) {
    static const struct {
        const char *panel;
        const char *device;
        const char *of_device;
        const char *zone;
        const char *told;
    } rows[] = {
            {"", "senses: motion\nangle: 400 °\n", "", "", "angle: 400 ° is out of range"},
            {"", "senses: motion\nangle: 90\n", "", "", "angle: \"90\" has no unit"},
            {"", "senses: motion\nrange: 5 mm\n", "", "", "range: 5 mm is out of range"},
            {"numbers: 1..2000\n", "senses: contact\n", "", "", "numbers: 2000 is out of range"},
            {"receives: 5 dBm\n", "senses: contact\n", "", "", "receives: 5 dBm is out of range"},
            {"battery-size: 7 V\n", "senses: contact\n", "", "", "\"7 V\" is a voltage"},
            {"", "senses: contact\nfrequency: 868\n", "", "", "frequency: \"868\" has no unit"},
            {"", "senses: contact\nfrequency: []\n", "", "", "such as 868.3 MHz"},
            {"", "senses: contact\nbattery-years: 0\n", "", "", "battery-years: 0 is out of range"},
            {"numbers: 1..200\n", "senses: contact\n", "", "", "numbers: 200 is above zones"},
            {"wired: [1, 41]\n", "senses: contact\n", "", "", "wired: 41 is above zones"},
            {"wired: 1, 3\n", "senses: contact\n", "", "",
                    "wired: \"1, 3\": several are written in brackets: [1, 3]"},
            {"wired: 1,3\n", "senses: contact\n", "", "", "written in brackets: [1, 3]"},
            {"wired: 1-8\n", "senses: contact\n", "", "", "written with two points, as 1..6"},
            {"numbers: 8..1\n", "senses: contact\n", "", "", "8..1 runs backwards"},
            {"wired: [1..6, seven]\n", "senses: contact\n", "", "",
                    "wired: \"seven\" is not a whole number"},
            {"wired: 1..\n", "senses: contact\n", "", "", "wired: \"\" is not a whole number"},
            {"wired: {a: 1}\n", "senses: contact\n", "", "",
                    "expected a whole number or a from-to, such as 1..6"},
            {"offers: {siren-tone: 5 s}\n", "senses: contact\n", "", "",
                    "\"siren-tone\" is no setting of a panel; did you mean \"siren-time\"?"},
            {"offers: {exit-delay: 30..60 s}\n", "senses: contact\n", "", "",
                    "exit-delay has a key of its own in a panel profile"},
            {"offers: {siren-time: 60..9000 s}\n", "senses: contact\n", "", "",
                    "siren-time: 1..150 min is out of range"},
            {"offers: {off-route: later}\n", "senses: contact\n", "", "",
                    "offers.off-route: \"later\" is not known here"},
            {"offers: {reset: []}\n", "senses: contact\n", "", "", "offers.reset: an empty list"},
            {"offers: {swinger-limit: 6..1}\n", "senses: contact\n", "", "",
                    "offers.swinger-limit: 6..1 runs backwards"},
            {"offers: now\n", "senses: contact\n", "", "", "expected a mapping from settings"},
            {"steps: {exit-delay: 0 s}\n", "senses: contact\n", "", "", "a step of 0"},
            {"steps: {reset: 1}\n", "senses: contact\n", "", "",
                    "reset is no time and no number: it has no steps"},
            {"delivered: {exit-delay: 60}\n", "senses: contact\n", "", "",
                    "delivered.exit-delay: \"60\" has no unit"},
            {"delivered: {drop-to-part: maybe}\n", "senses: contact\n", "", "",
                    "delivered.drop-to-part: expected yes or no"},
            {"", "latency: 1 s\n", "", "", "the key \"senses\" is missing"},
            {"", "senses: motion\ninputs: [{senses: contact}]\n", "", "",
                    "senses says motion, the first of inputs contact"},
            {"", "inputs: []\n", "", "", "inputs: an empty list; at least one entry is wanted"},
            {"", "senses: contact\ngap: 15\n", "", "",
                    "gap: \"15\" has no unit; write a length: mm, cm or m, for example 15 mm"},
            {"", "senses: motion\nmounted: 2.1..2.4\n", "", "",
                    "mounted: \"2.1..2.4\" has no unit; write a length: mm, cm or m, for example "
                    "2.1..2.4 m"},
            {"", "senses: contact\ngap: 20000\n", "", "", "gap: \"20000\" has no unit"},
            {"", "senses: contact\ngap: 15 s\n", "", "",
                    "gap: \"15 s\" is a time; a length is expected here"},
            {"", "senses: contact\nmarked: unsaid\n", "", "", "\"unsaid\" is not known here"},
            {"", "senses: contact\nworks-at: -200..0 C\n", "", "",
                    "works-at: -200..0 °C is out of range; expected -100..200 °C"},
            {"", "senses: contact\n", ", magnet-gap: -1 mm", "",
                    "devices[0].magnet-gap: \"-1 mm\" is negative"},
            {"", "senses: contact\n", ", at: cold", "", "\"cold\" is not a number with a unit"},
            {"", "senses: contact\n", ", keypad: pod", "", "there is no keypad called \"pod\""},
            {"", "senses: contact\n", "", ", on: hatch",
                    "the first input's door stands with its device"},
            {"", "senses: contact\n", "", ", input: 5", "zones[0].input: 5 is out of range"},
            {"events: {perimiter: \"131\"}\n", "senses: contact\n", "", "",
                    "events.perimiter: \"perimiter\" is no behaviour that alarms anybody; did you "
                    "mean "
                    "\"perimeter\"?"},
            {"events: {out: \"131\"}\n", "senses: contact\n", "", "", "\"out\" is no behaviour"},
            {"events: {fire: \"11\"}\n", "senses: contact\n", "", "",
                    "events.fire: \"11\" is no event code; expected three digits"},
            {"events: {fire: \"11G\"}\n", "senses: contact\n", "", "", "\"11G\" is no event code"},
            {"events: {fire: 1110}\n", "senses: contact\n", "", "", "\"1110\" is no event code"},
            {"events: {fire: [110]}\n", "senses: contact\n", "", "",
                    "expected an event code, not a list"},
            {"events: [110]\n", "senses: contact\n", "", "", "expected a mapping from behaviours"},
            {"account-lengths: 17\n", "senses: contact\n", "", "", "17 is out of range"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct read read;
        read_with(&read, rows[i].panel, rows[i].device, rows[i].of_device, rows[i].zone);
        if (read.good || !test_told(&read.document, rows[i].told)) {
            print_message("# wanted: %s\n", rows[i].told);
            test_print_problems(&read.document);
        }
        assert_false(read.good);
        assert_true(test_told(&read.document, rows[i].told));
        finish(&read);
    }
}

/* The keys of the settings are those of the site file; each value is read by that key. */
static void every_setting_is_a_key_of_panel(void **state) {
    struct read read;
    char text[256];
    (void)state;
    for (int setting = 0; setting < SITE_SETTING_COUNT; setting++) {
        const enum site_setting it = (enum site_setting)setting;
        const enum site_setting_kind kind = site_setting_kind(it);
        const char *value = kind == SITE_SETTING_TIME ? "7 s"
                : kind == SITE_SETTING_MILLISECONDS   ? "7 ms"
                : kind == SITE_SETTING_NUMBER         ? "7"
                                                      : site_setting_word(it, 1);
        (void)snprintf(text, sizeof text, "delivered: {%s: %s}\n", site_setting_key(it), value);
        read_with(&read, text, "senses: contact\n", "", "");
        test_print_problems(&read.document);
        assert_true(read.good);
        assert_true(read.document.site.panel.delivered_said[setting]);
        assert_int_equal(read.document.site.panel.delivered[setting],
                kind == SITE_SETTING_CHOICE || kind == SITE_SETTING_YES ? 1 : 7);
        finish(&read);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(panels_say_what_their_manual_states),
            cmocka_unit_test(devices_say_what_their_manual_states),
            cmocka_unit_test(detectors_say_how_far_they_see),
            cmocka_unit_test(both_ends_say_how_they_send_and_what_they_draw),
            cmocka_unit_test(what_is_not_said_is_not_known),
            cmocka_unit_test(a_keypad_needs_no_sense),
            cmocka_unit_test(what_cannot_be_is_told),
            cmocka_unit_test(every_setting_is_a_key_of_panel),
    };
    return cmocka_run_group_tests(tests, make_folder, drop_folder);
}
