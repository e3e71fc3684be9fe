/* The cables of a site as a tree: what arrives at each device in alarm, on the battery at its end and on mains. */
#ifndef LINTEL_POWER_SITE_CABLES_H
#define LINTEL_POWER_SITE_CABLES_H

#include "power/wire.h"
#include "site/site.h"

/** What one run brings. lost_v: on its whole way from the panel, everything in alarm. low_v, high_v: at its far end,
 *  from the end of the battery to mains; 0 where the wire cannot carry the load. needs_v: of its device, 0: unsaid. */
struct power_site_cable {
    double current_a;
    double ohm;
    double lost_v;
    double low_v;
    double high_v;
    double needs_v;
};

/** All runs of the site; the panel's profile must say its voltage. ret_cables: gives, room for cable_count. Fails
 *  UNREADABLE (a gauge), BAD_VALUE (a device fed twice, a run that begins at a device no cable feeds, a ring); the
 *  place is the run's. */
outcome power_site_cables(const struct site *site, struct power_site_cable *ret_cables,
        struct problem *ret_problem) MUST_CHECK;

#endif
