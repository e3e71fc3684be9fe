#include "check/measured.h"

#include "base/quantity.h"
#include "check/words.h"

/* Which of a way's times: its legs by number, then the two at its ends. */
enum { CLOSING = -1, ENDING = -2 };

static const struct site_walk *walk_of(const struct site_way *way, int which) {
    return which == CLOSING   ? &way->closing
            : which == ENDING ? &way->ending
                              : &way->legs[which].walk;
}

static struct span used_of(const struct site_way *way, int which) {
    return which == CLOSING ? way->closes : which == ENDING ? way->last : way->legs[which].in;
}

static bool deviates(const struct site_walk *walk) {
    return walk->has_measured && walk->has_estimated &&
            (walk->measured.low_s < walk->estimated.low_s ||
                    walk->measured.high_s > walk->estimated.high_s);
}

size_t measured_count(const struct site *site) {
    size_t count = 0;
    for (size_t i = 0; i < site->way_count; i++) {
        for (int which = ENDING; which < (int)site->ways[i].leg_count; which++) {
            count += deviates(walk_of(&site->ways[i], which));
        }
    }
    return count;
}

static struct text place_of(size_t way, int which, struct arena *arena) {
    return which == CLOSING   ? text_print(arena, "ways[%zu].closes-measured", way)
            : which == ENDING ? text_print(arena, "ways[%zu].last-measured", way)
                              : text_print(arena, "ways[%zu].legs[%d].measured", way, which);
}

static void add_where(
        struct text_builder *out, const struct site *site, const struct site_way *way, int which) {
    struct words_about about = words_about_nothing();
    if (which == CLOSING) {
        about.door = way->door;
        words_add(out, site, "until {door} is closed", &about);
    } else if (which == ENDING) {
        text_add_string(out, "the end, to the keypad");
    } else {
        about.zone = way->legs[which].zone;
        about.door = way->legs[which].door;
        words_add(out, site, about.zone != SITE_NONE ? "to {zone}" : "to {door}", &about);
    }
}

static struct text headline_of(
        const struct site *site, const struct site_way *way, int which, struct arena *arena) {
    const struct site_walk *walk = walk_of(way, which);
    struct text_builder out;
    text_builder_init(&out, arena);
    text_add_format(&out, "%.*s, ", TEXT_ARGS(way->name));
    add_where(&out, site, way, which);
    text_add_string(&out, ": measured ");
    quantity_add_span(&out, walk->measured);
    text_add_string(&out, ", estimated ");
    quantity_add_span(&out, walk->estimated);
    return text_built(&out);
}

static struct text why_of(const struct site_way *way, int which, struct arena *arena) {
    struct text_builder out;
    const struct site_walk *walk = walk_of(way, which);
    text_builder_init(&out, arena);
    text_add_string(&out, "what was measured is used: ");
    quantity_add_span(&out, used_of(way, which));
    if (walk->measured.low_s == walk->measured.high_s) {
        text_add_format(&out, " (one walk, %d %% either way)", way->spread_tenths * 10);
    }
    if (way->measured_day != DATE_NONE) {
        text_add_string(&out, "; measured on ");
        date_add(&out, way->measured_day);
    }
    if (way->measured_by.length > 0) {
        text_add_format(&out, "%s by %.*s", way->measured_day == DATE_NONE ? "; measured" : "",
                TEXT_ARGS(way->measured_by));
    }
    return text_built(&out);
}

void measured_say(
        const struct site *site, struct arena *arena, struct check_finding *ret_findings) {
    size_t count = 0;
    for (size_t i = 0; i < site->way_count; i++) {
        const struct site_way *way = &site->ways[i];
        for (int which = ENDING; which < (int)way->leg_count; which++) {
            if (deviates(walk_of(way, which))) {
                ret_findings[count++] = (struct check_finding){
                        .base = {.weight = FINDING_NOTE,
                                .id = text_of("way.measured"),
                                .headline = headline_of(site, way, which, arena),
                                .why = why_of(way, which, arena),
                                .place = place_of(i, which, arena),
                                .remedy = text_of("walk it once more if that surprises; else "
                                                  "correct the estimate"),
                                .answer_index = FINDING_NO_ANSWER}};
            }
        }
    }
}
