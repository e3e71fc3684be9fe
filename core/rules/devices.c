/* Devices and zones: one device input behind each zone, a zone behind each sensor, and serial numbers. */
#include "rules/parts.h"

#include <string.h>

static int32_t input_of(const struct site_zone *zone) {
    return zone->input < 1 ? 1 : zone->input;
}

/* Blanks, dashes and points are for reading a serial number: nobody types them. */
static bool is_spacing(char letter) {
    return letter == ' ' || letter == '-' || letter == '.';
}

static char lower(char letter) {
    return letter >= 'A' && letter <= 'Z' ? (char)(letter - 'A' + 'a') : letter;
}

/* The next byte of a serial number that counts, or 0 at its end. */
static char next_letter(struct text text, size_t *at) {
    while (*at < text.length && is_spacing(text.start[*at])) {
        (*at)++;
    }
    return *at < text.length ? text.start[(*at)++] : '\0';
}

static bool is_same_serial(struct text a, struct text b) {
    size_t at_a = 0;
    size_t at_b = 0;
    char letter = '\0';
    if (a.length == 0 || b.length == 0) {
        return false;
    }
    do {
        letter = next_letter(a, &at_a);
        if (lower(letter) != lower(next_letter(b, &at_b))) {
            return false;
        }
    } while (letter != '\0');
    return true;
}

static bool fits(char form, char letter) {
    const bool digit = letter >= '0' && letter <= '9';
    const char small = lower(letter);
    switch (form) {
    case '#':
        return digit;
    case 'H':
        return digit || (small >= 'a' && small <= 'f');
    case 'A':
        return small >= 'a' && small <= 'z';
    default:
        return lower(form) == small;
    }
}

static bool has_form(struct text serial, struct text form) {
    size_t at_form = 0;
    size_t at_serial = 0;
    char wanted = '\0';
    do {
        wanted = next_letter(form, &at_form);
        const char letter = next_letter(serial, &at_serial);
        if (wanted == '\0' || letter == '\0') {
            return wanted == letter;
        }
        if (!fits(wanted, letter)) {
            return false;
        }
    } while (true);
}

static void look_serial_twice(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 1; i < site->device_count; i++) {
        for (size_t j = 0; j < i; j++) {
            if (is_same_serial(site->devices[i].serial, site->devices[j].serial)) {
                struct words_about about = words_about_nothing();
                about.named = site->devices[i].serial;
                about.detail = text_print(finder->arena, "\"%.*s\" and \"%.*s\"",
                        TEXT_ARGS(site->devices[j].name), TEXT_ARGS(site->devices[i].name));
                rules_add(finder, check, &about, "devices[%zu].serial", i);
                break;
            }
        }
    }
}

static void look_serial_form(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->device_count; i++) {
        const struct site_device *device = &site->devices[i];
        const struct text form = device->profile == SITE_NONE
                ? (struct text){0}
                : site->device_profiles[device->profile].serial_format;
        if (device->serial.length > 0 && form.length > 0 && !has_form(device->serial, form)) {
            struct words_about about = words_about_nothing();
            about.named = device->name;
            about.detail = text_print(finder->arena,
                    "%.*s is not of the form %.*s (# is a digit, H a digit or A to F, A a letter)",
                    TEXT_ARGS(device->serial), TEXT_ARGS(form));
            rules_add(finder, check, &about, "devices[%zu].serial", i);
        }
    }
}

static void look_input_twice(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 1; i < site->zone_count; i++) {
        const struct site_zone *zone = &site->zones[i];
        for (size_t j = 0; j < i && zone->device != SITE_NONE; j++) {
            const struct site_zone *other = &site->zones[j];
            if (other->device != zone->device || input_of(other) != input_of(zone)) {
                continue;
            }
            const struct site_device_profile *profile = site_zone_profile(site, zone);
            struct words_about about = rules_about_zone(site, i);
            about.other_zone = (int)j;
            about.named = text_print(finder->arena, "input %d of \"%.*s\"", input_of(zone),
                    TEXT_ARGS(site->devices[zone->device].name));
            about.detail = profile != NULL && profile->input_count > 1
                    ? text_of("another input of it for one of them, or a device of its own")
                    : text_of("a device of its own for one of them");
            rules_add(finder, check, &about, "zones[%zu].device", i);
            break;
        }
    }
}

static void look_no_such_input(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->zone_count; i++) {
        const struct site_device_profile *profile = site_zone_profile(site, &site->zones[i]);
        const size_t inputs = profile == NULL ? 0 : profile->input_count;
        const size_t has = inputs < 1 ? 1 : inputs;
        if (profile != NULL && (size_t)input_of(&site->zones[i]) > has) {
            struct words_about about = rules_about_zone(site, i);
            about.count = input_of(&site->zones[i]);
            about.named = text_print(finder->arena, "%.*s has %s", TEXT_ARGS(profile->name),
                    has == 1 ? "one input" : text_print(finder->arena, "%zu inputs", has).start);
            rules_add(finder, check, &about, "zones[%zu].input", i);
        }
    }
}

static void look_zone_without_device(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->zone_count; i++) {
        if (site->zones[i].device == SITE_NONE) {
            const struct words_about about = rules_about_zone(site, i);
            rules_add(finder, check, &about, "zones[%zu]", i);
        }
    }
}

static bool has_zone(const struct site *site, size_t device) {
    for (size_t i = 0; i < site->zone_count; i++) {
        if (site->zones[i].device == (int)device) {
            return true;
        }
    }
    return false;
}

static void look_device_without_zone(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->device_count; i++) {
        const int profile = site->devices[i].profile;
        const bool sensor =
                profile == SITE_NONE || site->device_profiles[profile].kind == SITE_SENSOR;
        if (sensor && !has_zone(site, i)) {
            struct words_about about = words_about_nothing();
            about.named = site->devices[i].name;
            rules_add(finder, check, &about, "devices[%zu]", i);
        }
    }
}

static const struct rules_check rows[] = {
        {
                .id = "devices.serial-twice",
                .weight = FINDING_FAULT,
                .headline = "two devices have the serial number {named}: {detail}",
                .why = "a serial number is given once: the panel refuses the second, or takes it "
                       "for the first",
                .remedy = "both stickers read again",
                .source = "common practice",
                .look = look_serial_twice,
        },
        {
                .id = "devices.serial-format",
                .weight = FINDING_FAULT,
                .headline = "the panel does not take the serial number of \"{named}\"",
                .why = "{detail}",
                .remedy = "the sticker read again",
                .source = "the device's profile",
                .look = look_serial_form,
        },
        {
                .id = "zones.input-twice",
                .weight = FINDING_FAULT,
                .headline = "{zone} and {other-zone-short} have one and the same input behind them",
                .why = "both are {named}; the panel takes an input once",
                .remedy = "{detail}",
                .source = "common practice",
                .look = look_input_twice,
        },
        {
                .id = "zones.no-such-input",
                .weight = FINDING_FAULT,
                .headline = "nothing trips {zone}: its device has no input {count}",
                .why = "{named}",
                .remedy = "an input that the device has",
                .source = "the device's profile",
                .look = look_no_such_input,
        },
        {
                .id = "zones.no-device",
                .weight = FINDING_FAULT,
                .headline = "nothing trips {zone}: there is no device behind it",
                .why = "a zone without a device is keyed in for nothing",
                .remedy = "its device, or no such zone",
                .source = "common practice",
                .look = look_zone_without_device,
        },
        {
                .id = "devices.no-zone",
                .weight = FINDING_RISK,
                .headline = "nobody hears \"{named}\": no zone belongs to it",
                .why = "what no zone listens to makes no alarm and no trouble",
                .remedy = "a zone for it, or take it off the list",
                .source = "common practice",
                .look = look_device_without_zone,
        },
};

const struct rules_checks rules_devices = RULES_ROWS(rows);
