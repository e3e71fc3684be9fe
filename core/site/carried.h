/* What carries signals and power: radio links, cables, loops and the panel's battery, as written in the site file. What
 * comes of them is worked out elsewhere (core/radio, core/power). */
#ifndef LINTEL_SITE_CARRIED_H
#define LINTEL_SITE_CARRIED_H

#include "base/quantity.h"
#include "base/text.h"

#include <stddef.h>
#include <stdint.h>

/** What stands close to an antenna and keeps radio off. */
enum site_behind {
    SITE_BEHIND_NOTHING,
    SITE_BEHIND_STEEL, /* fitted on it */
    SITE_BEHIND_RADIATOR,
    SITE_BEHIND_CUPBOARD, /* of steel, shut */
    SITE_BEHIND_FOIL,
    SITE_BEHIND_COUNT
};

/** How a zone's loop is wired: no resistor; one in series with a contact that opens; one across a contact that closes;
 *  one at the end and one across the contact; a third across a second contact. */
enum site_wiring {
    SITE_WIRING_UNSAID,
    SITE_WIRING_PLAIN,
    SITE_WIRING_SINGLE,
    SITE_WIRING_SINGLE_OPEN,
    SITE_WIRING_DOUBLE,
    SITE_WIRING_TRIPLE,
    SITE_WIRING_COUNT
};

/** What a panel takes a loop for, by its volts. */
enum site_reads {
    SITE_READS_SHORT,
    SITE_READS_NORMAL,
    SITE_READS_ALARM,
    SITE_READS_MASKED,
    SITE_READS_OPEN,
    SITE_READS_COUNT
};

/** The panel's own supply, and its antenna. battery: what is in it; battery_day: since when. at: how cold and how warm
 *  the panel's place gets. behind: what is close to its antenna; gain: of one fitted instead of the panel's own, over
 *  that and less its cable; antenna_mm: how high that hangs above the floor, 0: where the panel does. */
struct site_supply {
    struct measure battery;
    int32_t battery_day;
    struct measure at;
    enum site_behind behind;
    struct measure gain;
    int32_t antenna_mm;
};

/** A radio link as it was measured, or as it is where the drawing does not say it. distance_mm: 0: by the drawing.
 *  through: what is in the way, each a wall's name or its layers ("brick", "brick:100mm,air:50mm"). measured: what the
 *  panel hears of the device; measured_back: what the device hears of the panel. */
struct site_link {
    int device;
    int32_t distance_mm;
    const struct text *through;
    size_t through_count;
    int32_t floors;
    struct measure measured;
    struct measure measured_back;
    int32_t measured_day;
    struct text measured_by;
};

/** What a conductor is made of. */
enum site_conductor {
    SITE_CONDUCTOR_SOLID,
    SITE_CONDUCTOR_STRANDED,
    SITE_CONDUCTOR_CLAD,
    SITE_CONDUCTOR_COUNT
};

/** A run of cable that feeds a device. from: the device where it begins, SITE_NONE: the panel. gauge: "22awg",
 *  "0.22mm2", "0.6mm". measured: the voltage at its far end, in alarm, on the battery. */
struct site_cable {
    int to;
    int from;
    int32_t length_mm;
    struct text gauge;
    enum site_conductor conductor;
    struct measure measured;
};

#endif
