/* Whether a device is on the air for longer in an hour than its band allows, by what its profile says of one event
 * and one check-in, and by how often it is tripped. National rules differ; the bands are data/radio/bands.tsv. */
#include "power/site_cells.h"
#include "radio/bands.h"
#include "rules/parts.h"

/* What a day brings comes within twelve hours. House practice. */
static const double WAKING_H = 12;

static void look(struct rules_finder *finder, const struct rules_check *check) {
    const struct site *site = finder->site;
    for (size_t i = 0; i < site->device_count; i++) {
        const int index = site->devices[i].profile;
        const struct site_device_profile *profile =
                index == SITE_NONE ? NULL : &site->device_profiles[index];
        if (profile == NULL || !profile->radio || !profile->frequency.said) {
            continue;
        }
        const double mhz = (double)profile->frequency.low / MEASURE_UNIT;
        const struct radio_band *band = radio_band_of(mhz);
        double low = 0;
        double high = 0;
        power_trips_a_day(site, i, &low, &high);
        const double check_ins = profile->check_in_s > 0 ? 3600.0 / profile->check_in_s : 0;
        const double seconds_h =
                (check_ins * profile->check_in_air_ms + high / WAKING_H * profile->event_air_ms) /
                1000;
        if (band == NULL || band->seconds_h <= 0 || seconds_h <= band->seconds_h) {
            continue;
        }
        struct words_about about = words_about_nothing();
        about.named = site->devices[i].name;
        about.detail = text_print(finder->arena,
                "%.1f s an hour: %.3g check-ins of %d ms and %.3g trips of %d ms; at %g MHz %g s "
                "are "
                "allowed (%s, %s; %s)",
                seconds_h, check_ins, profile->check_in_air_ms, high / WAKING_H,
                profile->event_air_ms, mhz, band->seconds_h, band->says, band->source,
                text_is(text_of(band->certainty), "memory") ? "from memory, unverified"
                                                            : "read in an excerpt");
        rules_add(finder, check, &about, "devices[%zu]", i);
    }
}

static const struct rules_check rows[] = {
        {
                .id = "radio.airtime-over",
                .weight = FINDING_RISK,
                .headline = "\"{named}\" may be on the air for longer than its band allows",
                .why = "{detail}",
                .remedy = "a place where it is tripped less, or a model that sleeps after a trip",
                .source = "data/radio/bands.tsv; national rules come first",
                .look = look,
        },
};

const struct rules_checks rules_airtime = RULES_ROWS(rows);
