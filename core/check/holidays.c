#include "check/holidays.h"

#include "base/date.h"

/* The one that ends last, or NULL where there is none or one comes every year. */
static const struct site_holiday *last_of(const struct site *site) {
    const struct site_holiday *last = NULL;
    for (size_t i = 0; i < site->holiday_count; i++) {
        const struct site_holiday *holiday = &site->holidays[i];
        if (holiday->yearly) {
            return NULL;
        }
        last = last == NULL || holiday->until_day > last->until_day ? holiday : last;
    }
    return last;
}

bool holidays_are_over(const struct site *site, int32_t today_day, struct arena *arena,
        struct check_finding *ret_finding) {
    const struct site_holiday *last = last_of(site);
    if (today_day == DATE_NONE || last == NULL || last->until_day >= today_day) {
        return false;
    }
    struct text_builder headline;
    text_builder_init(&headline, arena);
    text_add_string(&headline, "the last holiday in the panel was ");
    date_add(&headline, last->until_day);
    const size_t index = (size_t)(last - site->holidays);
    const struct finding over = {.weight = FINDING_NOTE,
            .id = text_of("holidays.over"),
            .headline = text_built(&headline),
            .why = text_of("none is still to come: the next one is a day like any other"),
            .place = text_print(arena, "holidays[%zu].until", index),
            .remedy = text_of("those of the next year, in the file and in the panel"),
            .source = text_of("common practice"),
            .answer_index = FINDING_NO_ANSWER};
    *ret_finding = (struct check_finding){.base = over, .about = text_of("holidays")};
    return true;
}
