#include "check/break_in_chart.h"

#include "base/quantity.h"

#include <math.h>

/* Lengths in tenths of a millimetre of paper; the scale is the usual one of a plan, so that lines match its own. */
enum {
    SCALE = 100,
    WIDE = 1000,
    HIGH = 500,
    LAST_S = (BREAK_IN_ODDS_POINTS - 1) * BREAK_IN_ODDS_STEP_S,
    TICK_S = 300,
    TICK_PERCENT = 25,
    ALL = 100,
    TITLE = 42,
    SMALL = 20,
    TICK = 15,
    ROW = 50,
    SAMPLE = 90,
    LEGEND = 110, /* right of the curves */
    ROWS_MOST = 11,
};

/* Told apart in black and white. */
static const enum picture_role roles[BREAK_IN_CHART_CURVES] = {PICTURE_WAY, PICTURE_INTRUDER,
        PICTURE_HEARD, PICTURE_UNHEARD, PICTURE_HIDDEN, PICTURE_DIMENSION};

static const char *const remarks[] = {
        "Bennett's sum (SAND77-0082, 1977) over the way that is heard the latest. Assumed: motion "
        "detectors notice",
        "8 of 10, others 9 of 10; 19 of 20 alarms get through; times stray by 30 %. Read the "
        "curves "
        "against each",
        "other, not as promises.",
};

static struct point at(const struct picture *picture, int32_t right, int32_t up) {
    return (struct point){picture_paper(picture, right), picture_paper(picture, up)};
}

static struct point on_curve(const struct picture *picture, int32_t help_s, double ratio) {
    return at(picture, help_s * WIDE / LAST_S, (int32_t)lround(ratio * HIGH));
}

static void add_small(struct picture *picture, int32_t right, int32_t up,
        enum picture_anchor anchor, struct text text) {
    picture_add_text(picture, PICTURE_SMALL, at(picture, right, up), anchor,
            picture_paper(picture, SMALL), text);
}

static struct text time_text(struct arena *arena, int32_t seconds_s) {
    struct text_builder out;
    text_builder_init(&out, arena);
    quantity_add_seconds(&out, seconds_s);
    return text_built(&out);
}

static void draw_axes(struct picture *picture) {
    picture_add_line(picture, PICTURE_DIMENSION, at(picture, 0, 0), at(picture, WIDE, 0));
    picture_add_line(picture, PICTURE_DIMENSION, at(picture, 0, 0), at(picture, 0, HIGH));
    for (int32_t seconds_s = 0; seconds_s <= LAST_S; seconds_s += TICK_S) {
        const int32_t right = seconds_s * WIDE / LAST_S;
        picture_add_line(
                picture, PICTURE_DIMENSION, at(picture, right, 0), at(picture, right, -TICK));
        add_small(picture, right, -2 * TICK - SMALL / 2, PICTURE_MIDDLE,
                time_text(picture->arena, seconds_s));
    }
    for (int32_t percent = 0; percent <= ALL; percent += TICK_PERCENT) {
        const int32_t up = percent * HIGH / ALL;
        picture_add_line(picture, PICTURE_DIMENSION, at(picture, -TICK, up), at(picture, 0, up));
        add_small(picture, -2 * TICK, up, PICTURE_END,
                text_print(picture->arena, "%d %%", (int)percent));
    }
}

/* Where the file says how long help takes. */
static void draw_help(struct picture *picture, int32_t help_s) {
    if (help_s > 0 && help_s <= LAST_S) {
        const int32_t right = help_s * WIDE / LAST_S;
        picture_add_line(picture, PICTURE_HIDDEN, at(picture, right, 0), at(picture, right, HIGH));
        add_small(picture, right + TICK, HIGH + SMALL, PICTURE_BEGIN,
                text_print(picture->arena, "as written: help after %.*s",
                        TEXT_ARGS(time_text(picture->arena, help_s))));
    }
}

static void draw_curve(
        struct picture *picture, const struct break_in_odds *odds, size_t row, struct text name) {
    struct point points[BREAK_IN_ODDS_POINTS];
    const int32_t up = HIGH - (int32_t)row * ROW;
    for (int i = 0; i < BREAK_IN_ODDS_POINTS; i++) {
        points[i] = on_curve(picture, i * BREAK_IN_ODDS_STEP_S, odds->curve[i]);
    }
    picture_add(picture, roles[row], PICTURE_LINE, points, BREAK_IN_ODDS_POINTS, 0);
    picture_add_line(picture, roles[row], at(picture, WIDE + LEGEND, up),
            at(picture, WIDE + LEGEND + SAMPLE, up));
    add_small(picture, WIDE + LEGEND + SAMPLE + TICK, up, PICTURE_BEGIN,
            text_print(picture->arena, "%.*s · %d %%", TEXT_ARGS(name),
                    (int)lround(ALL * odds->ratio)));
}

/* Of what is unheard there is no curve, but it is not passed over. */
static void name_unheard(struct picture *picture, const struct site *site,
        const struct break_ins *all, const struct break_in_odds *odds, size_t row) {
    for (size_t i = 0; i < all->count && row < ROWS_MOST; i++) {
        if (!odds[i].any && all->list[i].told.count > 0) {
            add_small(picture, WIDE + LEGEND + SAMPLE + TICK, HIGH - (int32_t)row * ROW,
                    PICTURE_BEGIN,
                    text_print(picture->arena, "%.*s · nobody hears it",
                            TEXT_ARGS(site->break_ins.goals[all->list[i].goal].name)));
            row++;
        }
    }
}

static void draw_words(struct picture *picture, const struct site *site) {
    picture_add_text(picture, PICTURE_TITLE, at(picture, 0, HIGH + 2 * TITLE), PICTURE_BEGIN,
            picture_paper(picture, TITLE),
            text_print(picture->arena, "%.*s%s · interrupted, by how long help takes",
                    TEXT_ARGS(site->name), site->invented ? " (invented)" : ""));
    for (size_t i = 0; i < sizeof remarks / sizeof remarks[0]; i++) {
        add_small(picture, 0, -2 * TITLE - (int32_t)i * (SMALL + SMALL / 2) - SMALL, PICTURE_BEGIN,
                text_of(remarks[i]));
    }
}

/* The one that is least likely saved of those not drawn yet, or count. */
static size_t least_likely(
        const struct break_in_odds *odds, size_t count, const size_t *drawn, size_t drawn_count) {
    size_t least = count;
    for (size_t i = 0; i < count; i++) {
        bool left = odds[i].any;
        for (size_t k = 0; k < drawn_count; k++) {
            left = left && drawn[k] != i;
        }
        if (left && (least == count || odds[i].ratio < odds[least].ratio)) {
            least = i;
        }
    }
    return least;
}

bool break_in_chart(const struct site *site, const struct break_ins *all,
        const struct break_in_odds *odds, struct arena *arena, struct picture *ret_picture) {
    size_t drawn[BREAK_IN_CHART_CURVES];
    size_t count = 0;
    while (count < BREAK_IN_CHART_CURVES) {
        drawn[count] = least_likely(odds, all->count, drawn, count);
        if (drawn[count] == all->count) {
            break;
        }
        count++;
    }
    if (count == 0) {
        return false;
    }
    picture_init(ret_picture, arena, SCALE);
    draw_words(ret_picture, site);
    draw_axes(ret_picture);
    draw_help(ret_picture, site->break_ins.help_s);
    for (size_t i = 0; i < count; i++) {
        draw_curve(ret_picture, &odds[drawn[i]], i,
                site->break_ins.goals[all->list[drawn[i]].goal].name);
    }
    name_unheard(ret_picture, site, all, odds, count);
    return true;
}
