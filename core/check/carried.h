/* What carries the site, in figures, whether or not anything is wrong with it: each radio link, and how long the panel
 * lasts without mains. What is wrong with them the rules say (rules/links.c, rules/supply.c), by the same sums. */
#ifndef LINTEL_CHECK_CARRIED_H
#define LINTEL_CHECK_CARRIED_H

#include "base/json.h"
#include "power/standby.h"
#include "site/site.h"

/** How a link stands. WEAK: it may not arrive, or not be answered, or less is left over than a rule set wants. */
enum carried_verdict {
    CARRIED_HOLDS,
    CARRIED_WEAK,
    CARRIED_LOST,
    CARRIED_NOT_COMPUTED,
};

/** The link of a radio device; its margin in dB, careful end first, where it is computed. */
struct carried_link {
    size_t device;
    enum carried_verdict verdict;
    double low_db;
    double high_db;
};

/** links: of every radio device, in the order of the file. rule: the hardest of the site's rule sets that want a time
 *  without mains, or NULL; lasts_h: how long the battery lasts by it, in whole tenths, on the safe side, and as the
 *  rules judge it: less than it wants only where they say so. uncounted: wired devices, and keypads that are no device,
 *  of which nobody knows what they draw. why_not: why there is no rule although one is wanted, or NULL. */
struct carried {
    const struct carried_link *links;
    size_t link_count;
    const struct power_rule *rule;
    double lasts_h;
    size_t uncounted;
    const char *why_not;
};

/** All of it. Fails MEMORY. */
outcome carried_make(const struct site *site, struct arena *arena, struct carried *ret_carried,
        struct problem *ret_problem) MUST_CHECK;

/** "links", "standby" and "standby_not_computed" (docs/json.md). */
void carried_add_json(
        const struct carried *carried, const struct site *site, struct json_writer *json);

#endif
