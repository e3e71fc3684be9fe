#include "power/standby.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

#define ROW(name, standby_h, alarm_min, margin, recharge_h, recharge, source, certainty)           \
    {name, standby_h, alarm_min, margin, recharge_h, recharge, source, certainty},

static const struct power_rule rules[] = {
#include "power/standby.inc"
};

enum { COUNT = sizeof rules / sizeof rules[0] };

size_t power_rule_count(void) {
    return COUNT;
}

const struct power_rule *power_rule_at(size_t index) {
    assert(index < COUNT);
    return &rules[index];
}

outcome power_rule_find(
        struct text name, const struct power_rule **ret_rule, struct problem *ret_problem) {
    char list[300] = "";
    for (size_t i = 0; i < COUNT; i++) {
        const size_t used = strlen(list);
        if (text_is(name, rules[i].name)) {
            *ret_rule = &rules[i];
            return outcome_good();
        }
        (void)snprintf(
                list + used, sizeof list - used, "%s%s", used == 0 ? "" : ", ", rules[i].name);
    }
    FAIL(ret_problem, PROBLEM_MISSING, "", "there is no rule set \"%.*s\" for standby; there is %s",
            (int)(name.length > 40 ? 40 : name.length), name.start, list);
}
