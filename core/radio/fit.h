/* What the measurements of a site say of its building: how much more (or less) it loses than computed, and how sure
 * that is. Source: normal places about a normal building, both spreads known (conjugate normal model, textbook). */
#ifndef LINTEL_RADIO_FIT_H
#define LINTEL_RADIO_FIT_H

#include "radio/site_links.h"

/** count: measurements; mean_db: what they lose more than the middle of the computed levels; shift_db: what the
 *  building is taken to lose more, drawn towards 0 by what buildings usually deviate; sure_db: 95 % lie within so much
 *  of it. */
struct radio_fit {
    size_t count;
    double mean_db;
    double shift_db;
    double sure_db;
};

/** How far buildings deviate from the sums, one standard deviation. Assumed, unverified. */
extern const double RADIO_BUILDING_SPREAD_DB;

/** From residuals (computed less measured, dB). spread_db: of places, over 0. No residual: 0, and as sure as
 *  buildings are. */
struct radio_fit radio_fit_of(const double *residuals_db, size_t count, double spread_db);

/** Whether a measured link is weaker (-1) or stronger (1) than computed by more than places deviate: then something
 *  is in the way, or it is another device; 0: neither. shift_db: what was taken off the computed levels. */
int radio_link_is_off(const struct radio_site_link *link, double spread_db, double shift_db);

/** Of every measured link of the site that is not off: those say something of the building. Fails as
 *  radio_site_link. */
outcome radio_site_fit(const struct site *site, const struct house *house,
        const struct radio_world *world, struct arena *arena, struct radio_fit *ret_fit,
        struct problem *ret_problem) MUST_CHECK;

#endif
