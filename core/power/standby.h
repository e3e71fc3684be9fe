/* How long the panel must live without mains, by rule set. Rows are data (data/power/standby.tsv), each with its
 * source. Local codes come first; a figure "consistent with" a rule set certifies nothing. */
#ifndef LINTEL_POWER_STANDBY_H
#define LINTEL_POWER_STANDBY_H

#include "base/problem.h"
#include "base/text.h"

#include <stddef.h>

/** A row. margin_percent: on top of the charge. recharge_h: hours to recharge_percent of the capacity. */
struct power_rule {
    const char *name;
    double standby_h;
    double alarm_min;
    double margin_percent;
    double recharge_h;
    double recharge_percent;
    const char *source;
    const char *certainty;
};

size_t power_rule_count(void);
const struct power_rule *power_rule_at(size_t index);

/** The row of this name. Fails MISSING; the text lists what there is. */
outcome power_rule_find(struct text name, const struct power_rule **ret_rule,
        struct problem *ret_problem) MUST_CHECK;

#endif
