/* Smoke, gas and carbon monoxide detectors, and buttons that call for help: what must never stand in their way. The
 * adopted local code decides; these checks only remind. */
#include "rules/parts.h"
#include "rules/zones.h"

#define CODE_FIRST "common practice; the adopted local code comes first"

static bool is_call(enum site_behaviour behaviour) {
    return behaviour == SITE_HOLD_UP || behaviour == SITE_MEDICAL;
}

static bool is_bypassable(const struct site *site, const struct site_zone *zone) {
    (void)site;
    return zone->bypassable && rules_is_life_safety(zone->behaviour);
}

static bool is_bypassable_call(const struct site *site, const struct site_zone *zone) {
    (void)site;
    return zone->bypassable && is_call(zone->behaviour);
}

static bool is_left_out(const struct site *site, const struct site_zone *zone) {
    bool left_out = false;
    for (size_t mode = 0; mode < site->settings.mode_count; mode++) {
        left_out = left_out || zone->in[mode] != zone->behaviour;
    }
    return left_out && rules_is_life_safety(zone->behaviour);
}

static bool senses(const struct site *site, const struct site_zone *zone, enum site_sense sense) {
    const struct site_device_profile *profile = site_zone_profile(site, zone);
    return profile != NULL && site_zone_sense(site, zone) == sense;
}

/* Smoke and gas whose alarm the panel treats as a burglary: it waits for the abort window and brings the police. */
static bool is_burglary(const struct site *site, const struct site_zone *zone) {
    const enum site_behaviour behaviour = zone->behaviour;
    return (senses(site, zone, SITE_SMOKE) && behaviour != SITE_FIRE) ||
            (senses(site, zone, SITE_GAS_SENSE) && behaviour != SITE_GAS && behaviour != SITE_CO);
}

static bool is_button_behind_abort(const struct site *site, const struct site_zone *zone) {
    return senses(site, zone, SITE_BUTTON) && !is_call(zone->behaviour);
}

static bool is_leak_as_burglary(const struct site *site, const struct site_zone *zone) {
    return senses(site, zone, SITE_WATER) && zone->behaviour != SITE_FLOOD &&
            zone->behaviour != SITE_OUT;
}

/* A contact may be the output of another maker's detector, so it is let be. */
static bool is_wrong_device(const struct site *site, const struct site_zone *zone) {
    const struct site_device_profile *profile = site_zone_profile(site, zone);
    if (profile == NULL || site_zone_sense(site, zone) == SITE_CONTACT) {
        return false;
    }
    return (zone->behaviour == SITE_FIRE && site_zone_sense(site, zone) != SITE_SMOKE) ||
            ((zone->behaviour == SITE_GAS || zone->behaviour == SITE_CO) &&
                    site_zone_sense(site, zone) != SITE_GAS_SENSE);
}

static bool is_crossed(const struct site *site, const struct site_zone *zone) {
    (void)site;
    return zone->cross_with != SITE_NONE &&
            (rules_is_life_safety(zone->behaviour) || is_call(zone->behaviour));
}

static bool is_swinger(const struct site *site, const struct site_zone *zone) {
    return zone->swinger && site->settings.swinger_limit > 0 &&
            rules_is_life_safety(zone->behaviour);
}

static bool is_counted(const struct site *site, const struct site_zone *zone) {
    (void)site;
    return zone->pulse_count > 1 &&
            (rules_is_life_safety(zone->behaviour) || is_call(zone->behaviour));
}

static const struct rules_check rows[] = {
        {
                .id = "life-safety.behaviour",
                .weight = FINDING_FAULT,
                .headline = "an alarm of {zone} is taken for a burglary, or for nothing",
                .why = "it is a smoke, heat or gas detector with behaviour {behaviour}: no fire "
                       "sound, and the report waits for the abort window of {seconds}",
                .remedy = "behaviour fire, gas or co",
                .source = CODE_FIRST,
                .look = rules_look_zones,
                .question = is_burglary,
                .key = "behaviour",
        },
        {
                .id = "life-safety.wrong-device",
                .weight = FINDING_FAULT,
                .headline = "{zone} calls the fire brigade to what is no fire",
                .why = "behaviour {behaviour}, but its device senses something else",
                .remedy = "the behaviour that belongs to the device",
                .source = CODE_FIRST,
                .look = rules_look_zones,
                .question = is_wrong_device,
                .key = "behaviour",
        },
        {
                .id = "life-safety.bypassable",
                .weight = FINDING_FAULT,
                .headline = "{zone} can be left out after burnt toast, and stays out",
                .why = "a user may bypass it",
                .remedy = "bypassable: no",
                .source = CODE_FIRST,
                .look = rules_look_zones,
                .question = is_bypassable,
                .key = "bypassable",
        },
        {
                .id = "life-safety.left-out",
                .weight = FINDING_FAULT,
                .headline = "{zone} is not {behaviour} in every mode",
                .why = "fire and gas come at every hour, {is-set} or {is-unset}",
                .remedy = "no other behaviour by mode",
                .source = CODE_FIRST,
                .look = rules_look_zones,
                .question = is_left_out,
                .key = "in",
        },
        {
                .id = "life-safety.cross-zone",
                .weight = FINDING_FAULT,
                .headline = "{zone} alone brings no help: it waits for a second zone",
                .why = "it belongs to a cross-zone pair",
                .remedy = "no partner",
                .source = "common practice: pairs are for burglary zones only",
                .look = rules_look_zones,
                .question = is_crossed,
                .key = "cross-with",
        },
        {
                .id = "life-safety.pulses",
                .weight = FINDING_RISK,
                .headline = "{zone} has to trip more than once before it counts",
                .why = "its pulse count is above 1",
                .remedy = "pulse-count 1; verify a smoke alarm as the detector's manual says",
                .source = CODE_FIRST,
                .look = rules_look_zones,
                .question = is_counted,
                .key = "pulse-count",
        },
        {
                .id = "life-safety.swinger",
                .weight = FINDING_RISK,
                .headline = "{zone} is left out once it has tripped often enough",
                .why = "the swinger limit applies to it",
                .remedy = "swinger: no",
                .source = "CP-01 clause 4.3.2 speaks of burglary zones only; common practice",
                .look = rules_look_zones,
                .question = is_swinger,
                .key = "swinger",
        },
        {
                .id = "hold-up.bypassable",
                .weight = FINDING_RISK,
                .headline = "{zone} can be left out, and then nobody comes",
                .why = "a user may bypass a button that calls for help",
                .remedy = "bypassable: no",
                .source = "common practice",
                .look = rules_look_zones,
                .question = is_bypassable_call,
                .key = "bypassable",
        },
        {
                .id = "hold-up.behaviour",
                .weight = FINDING_RISK,
                .headline = "the button of {zone} calls for help like a burglary, or not at all",
                .why = "behaviour {behaviour}: no call of its own, and a report waits for the "
                       "abort window of {seconds}",
                .remedy = "behaviour hold-up or medical",
                .source = "common practice",
                .look = rules_look_zones,
                .question = is_button_behind_abort,
                .key = "behaviour",
        },
        {
                .id = "zones.leak-as-burglary",
                .weight = FINDING_RISK,
                .headline = "a leak at {zone} sends the police",
                .why = "it senses water and has behaviour {behaviour}",
                .remedy = "behaviour flood",
                .source = "common practice",
                .look = rules_look_zones,
                .question = is_leak_as_burglary,
                .key = "behaviour",
        },
};

const struct rules_checks rules_life_safety = RULES_ROWS(rows);
