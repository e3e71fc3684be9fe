#include "check/deviations.h"

#include "check/about.h"

void deviations_say(
        const struct site *site, struct arena *arena, struct check_finding *ret_findings) {
    for (size_t i = 0; i < site->deviation_count; i++) {
        const struct site_deviation *it = &site->deviations[i];
        const struct text about = about_place(site, it->place, arena);
        ret_findings[i] = (struct check_finding){
                .base = {.weight = FINDING_NOTE,
                        .id = text_of("standard.deviation"),
                        .headline = text_print(arena, "%.*s is %.*s; the standard has %.*s",
                                TEXT_ARGS(about), TEXT_ARGS(it->own), TEXT_ARGS(it->standard)),
                        .why = text_print(arena,
                                "the site's own value counts; the standard is \"%.*s\"",
                                TEXT_ARGS(site->standard)),
                        .place = it->place,
                        .remedy = text_of("leave the key out to go by the standard"),
                        .answer_index = FINDING_NO_ANSWER},
                .about = about};
    }
}
