/* Hours within which codes are taken. */
#include "rules/parts.h"

/* A code outside its hours is turned away, whatever it is: nothing unsets, nobody is called. */
static void look_duress(struct rules_finder *finder, const struct rules_check *check) {
    for (size_t i = 0; i < finder->site->person_count; i++) {
        if (finder->site->people[i].duress && finder->site->people[i].has_hours) {
            struct words_about about = words_about_nothing();
            about.person = (int)i;
            rules_add(finder, check, &about, "people[%zu].hours", i);
        }
    }
}

static const struct rules_check rows[] = {
        {
                .id = "users.duress-hours",
                .weight = FINDING_RISK,
                .headline = "the duress code of {person} calls nobody outside its hours",
                .why = "a code is turned away outside its hours, a duress code too: it is taken "
                       "from {hours} only",
                .remedy = "leave hours out for a duress code",
                .source = "common practice",
                .look = look_duress,
        },
};

const struct rules_checks rules_hours = RULES_ROWS(rows);
