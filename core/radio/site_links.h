/* The radio links of a site: each device to the panel, and back for two-way families, by the drawing or as typed by
 * hand, with what profiles say of both ends. Also how often its supervision is expected to cry wolf.
 *
 * Not for what a message means, nor for findings: those are the rules'. */
#ifndef LINTEL_RADIO_SITE_LINKS_H
#define LINTEL_RADIO_SITE_LINKS_H

#include "radio/barriers.h"
#include "radio/supervise.h"

/** What is assumed where nobody says it. loss: antennas, mounting, furniture, bodies. spread_db: how far places
 *  deviate, one standard deviation. bad_*: bad hours (supervise.h), assumed. mhz, power_dbm, sensitivity_dbm: instead
 *  of what profiles say, where has_*. shift_db: what this site loses more than computed, from measurements. */
struct radio_world {
    struct radio_loss loss;
    double spread_db;
    double bad_share_ratio;
    double bad_dwell_s;
    double bad_loss_db;
    double shift_db;
    int edition;
    struct text floor;
    double mhz;
    double power_dbm;
    double sensitivity_dbm;
    bool has_mhz;
    bool has_power;
    bool has_sensitivity;
};

struct radio_world radio_world_usual(void);

/** Why a device has no link. */
enum radio_lack {
    RADIO_LACKS_NOTHING,
    RADIO_LACKS_RADIO,   /* it is wired, or has no profile */
    RADIO_LACKS_FIGURES, /* profiles do not say frequency, power or sensitivity */
    RADIO_LACKS_PANEL,   /* the drawing has no place of the panel, or there is no drawing */
    RADIO_LACKS_PLACE,   /* the drawing does not say where the device is */
};

/** One link. Margins: over the receiver's sensitivity, nothing kept in reserve; *_dbm: median level, careful end
 *  first: as measured where the site says it (`measured`), else as computed. behind: what is close to either antenna.
 *  gain: of the panel's further antenna, both ways.
 *  typed: by hand, not by the drawing. said: the site's line about it, or NULL. crosses: "brick, 2 stud". back: there
 *  is a way back; its margins. */
struct radio_site_link {
    size_t device;
    double hz;
    double power_dbm;
    double sensitivity_dbm;
    double distance_m;
    double free_db;
    struct radio_loss in_the_way;
    struct radio_loss behind;
    struct radio_loss gain;
    double low_db;
    double high_db;
    double low_dbm;
    double high_dbm;
    double computed_low_dbm;
    double computed_high_dbm;
    bool measured;
    bool back;
    double back_low_db;
    double back_high_db;
    bool typed;
    const struct site_link *said;
    struct text crosses;
};

/** Where the panel's antenna is: at its place (as high as the site says), or the first keypad's (a panel with keys of
 *  its own hangs there). False: neither is in the drawing. house: may be NULL. */
bool radio_panel_spot(const struct house *house, struct radio_spot *ret_spot);

/** Works one link out, to a receiver at `panel` (NULL: nowhere). house: NULL without a drawing. ret_lack: why there is
 *  none; the link is untouched then. Fails as radio_add_crossing and radio_add_named, with the place in the file. */
outcome radio_site_link(const struct site *site, const struct house *house,
        const struct radio_spot *panel, size_t device, const struct radio_world *world,
        struct arena *arena, struct radio_stretched *stretched, struct radio_site_link *ret_link,
        enum radio_lack *ret_lack, struct problem *ret_problem) MUST_CHECK;

/** Whether a supervised zone stands on the device, and it checks in within the panel's window. */
bool radio_is_supervised(const struct site *site, size_t device);

/** How supervision calls a device missing at one margin: every message fades about it, and in bad hours about less.
 *  device: is supervised. */
outcome radio_site_missing(const struct site *site, size_t device, const struct radio_world *world,
        double margin_db, struct radio_called_missing *ret_called, struct problem *ret_problem)
        MUST_CHECK;

#endif
