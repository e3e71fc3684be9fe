#include "power/site_dues.h"

#include "base/date.h"

static void insert(struct power_due *dues, size_t *count, struct power_due due) {
    size_t place = (*count)++;
    for (; place > 0 && due.due_day < dues[place - 1].due_day; place--) {
        dues[place] = dues[place - 1];
    }
    dues[place] = due;
}

static struct power_due due_of(int device, int32_t since_day, struct power_life life) {
    return (struct power_due){.device = device,
            .since_day = since_day,
            .due_day = power_due_day(since_day, life.change_years),
            .last_day = power_due_day(since_day, life.most_years),
            .low_years = life.least_years,
            .high_years = life.most_years,
            .change_years = life.change_years};
}

outcome power_site_dues(const struct site *site, struct arena *arena, struct power_due **ret_dues,
        size_t *ret_count, struct problem *ret_problem) {
    struct power_due *dues = ARENA_ARRAY(arena, struct power_due, site->device_count + 1);
    size_t count = 0;
    if (dues == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory for the batteries");
    }
    if (site->supply.battery_day != DATE_NONE) {
        const struct power_life lead = {.least_years = POWER_LEAD_LOW_YEARS,
                .most_years = POWER_LEAD_HIGH_YEARS,
                .change_years = POWER_LEAD_LOW_YEARS};
        insert(dues, &count, due_of(SITE_NONE, site->supply.battery_day, lead));
    }
    for (size_t i = 0; i < site->device_count; i++) {
        struct power_site_cell cell;
        enum power_lack lack = POWER_LACKS_NOTHING;
        if (site->devices[i].battery_day == DATE_NONE) {
            continue;
        }
        if (power_site_cell(site, i, &cell, &lack, NULL).good && lack == POWER_LACKS_NOTHING) {
            insert(dues, &count, due_of((int)i, site->devices[i].battery_day, cell.life));
        }
    }
    *ret_dues = dues;
    *ret_count = count;
    return outcome_good();
}

size_t power_visit_end(const struct power_due *dues, size_t count, size_t first) {
    size_t end = first;
    while (end < count && dues[end].due_day <= dues[first].due_day + POWER_SHARED_DAYS) {
        end++;
    }
    return end;
}

struct text power_due_name(const struct site *site, const struct power_due *due) {
    return due->device == SITE_NONE ? text_of("the panel's battery")
                                    : site->devices[due->device].name;
}
