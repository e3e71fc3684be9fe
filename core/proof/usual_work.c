/* Usual routines of work and of accidents: cleaners, deliveries, stocktaking, fobs, duress, the mains. */
#include "proof/usual.h"

static struct site_step *waits(struct usual_draft *draft, int who, struct span in) {
    return usual_step_in(draft, who, SITE_ACT_WAIT, in);
}

static void needs_way(struct usual_draft *draft) {
    usual_needs(draft, "no way in whose keypad takes somebody's code");
}

/* ---- cleaner ---- */

static int cleaner_of(const struct site *site, bool *ret_named) {
    const int named = usual_named(site, usual_cleaning, true);
    *ret_named = named != SITE_NONE;
    int fewest = SITE_NONE;
    int fewest_count = SITE_AREA_MAX + 1;
    for (size_t i = 0; named == SITE_NONE && i < site->person_count; i++) {
        int count = 0;
        for (int area = 0; area < SITE_AREA_MAX; area++) {
            count += (int)(site->people[i].areas >> area & 1U);
        }
        if (usual_has_key(site, (int)i) && usual_way_of(site, (int)i) != SITE_NONE &&
                count <= fewest_count) {
            fewest = (int)i;
            fewest_count = count;
        }
    }
    return named != SITE_NONE ? named : fewest;
}

/* Written ways where there are any, else those at whose keypad the code acts: nobody walks in where neither holds. */
static bool cleans_by(const struct site *site, int who, int way) {
    bool written = false;
    for (size_t i = 0; i < site->way_count; i++) {
        written = written || (usual_way_in_use(site, (int)i) && usual_walks(site, who, (int)i));
    }
    return usual_way_in_use(site, way) && usual_walked_in(site, way) &&
            (written ? usual_walks(site, who, way)
                     : usual_acts(site, who, site->ways[way].keypad) != 0);
}

/* A way whose areas were cleaned already by another way is not taken again. */
void usual_cleaner(struct usual_draft *draft, int way) {
    enum { WAYS_MOST = 3 };
    const struct site *site = draft->site;
    bool named = false;
    const int who = cleaner_of(site, &named);
    uint32_t cleaned = 0;
    int ways = 0;
    for (size_t i = 0; who != SITE_NONE && i < site->way_count && ways < WAYS_MOST; i++) {
        int rooms[USUAL_ROOMS_MAX];
        way = (int)i;
        if (!cleans_by(site, who, way)) {
            continue;
        }
        const int keypad = site->ways[way].keypad;
        const uint32_t acts = usual_acts(site, who, keypad);
        if (ways > 0 && (acts & ~cleaned) == 0 && acts != 0) {
            continue;
        }
        struct site_step *comes = usual_come(draft, who, way);
        if (ways > 0) {
            comes->in = usual_times.turn;
            comes->has_in = true;
        }
        (void)usual_unset(draft, who, keypad);
        usual_pass(draft, who, rooms, usual_rooms(site, acts, false, rooms), usual_times.cleaning);
        (void)usual_leave(draft, who, way);
        cleaned |= acts;
        ways++;
    }
    if (ways == 0) {
        usual_needs(draft, "nobody who cleans");
        return;
    }
    usual_start(draft, ~0U, SITE_MODE_FULL);
    usual_says(draft,
            "%s%.*s comes to clean with everything %s and goes through every room that the code "
            "opens%s.",
            named ? "" : "Somebody with the code of ", TEXT_ARGS(usual_who(draft, who, named)),
            usual_word_set(draft), ways > 1 ? ", one area after the other" : "");
}

/* ---- delivery ---- */

static int deliverer_of(const struct site *site, int opener) {
    const int named = usual_named(site, usual_delivering, false);
    for (size_t i = 0; named == SITE_NONE && i < site->person_count; i++) {
        const struct site_person *person = &site->people[i];
        if ((int)i != opener && !person->animal && !person->away && !person->has_code &&
                !person->has_fob) {
            return (int)i;
        }
    }
    return named;
}

static void delivers_with_code(
        struct usual_draft *draft, int who, int way, int opener, int opens_by) {
    const struct site *site = draft->site;
    const int keypad = site->ways[way].keypad;
    usual_at(usual_come(draft, who, way), usual_times.early);
    (void)usual_unset(draft, who, keypad);
    (void)waits(draft, who, usual_times.goods);
    (void)usual_leave(draft, who, way);
    if (opener != who) {
        const int left = usual_last(draft);
        struct site_step *comes = usual_come(draft, opener, opens_by);
        comes->after_step = left;
        comes->in = usual_times.opener_later;
        comes->has_in = true;
        (void)usual_unset(draft, opener, site->ways[opens_by].keypad);
    }
}

static void delivers_without(
        struct usual_draft *draft, int who, int way, int opener, int opens_by) {
    const int keypad = draft->site->ways[opens_by].keypad;
    usual_at(usual_come(draft, opener, opens_by), usual_times.early);
    (void)usual_unset(draft, opener, keypad);
    struct site_step *comes = usual_come(draft, who, way);
    comes->when = SITE_SIGN_UNSET;
    comes->when_area = usual_lowest(usual_acts(draft->site, opener, keypad));
    comes->in = usual_times.goods_wait;
    comes->has_in = true;
    struct site_step *goes = usual_go(draft, who, way);
    goes->in = usual_times.goods;
    goes->has_in = true;
}

/* Without a code the goods wait at the door until somebody has unset. */
void usual_delivery(struct usual_draft *draft, int way) {
    const struct site *site = draft->site;
    int users[USUAL_USERS_MAX];
    const int opens_by = usual_first_way(site);
    if (opens_by == SITE_NONE) {
        needs_way(draft);
        return;
    }
    (void)usual_household(site, opens_by, users);
    const int opener = users[0];
    const int who = deliverer_of(site, opener);
    if (who == SITE_NONE) {
        usual_needs(draft, "nobody who delivers");
        return;
    }
    way = usual_way_of(site, who);
    way = way == SITE_NONE ? opens_by : way;
    const int keypad = site->ways[way].keypad;
    const bool code = usual_has_key(site, who) && usual_acts(site, who, keypad) != 0;
    usual_start(draft,
            usual_acts(site, opener, site->ways[opens_by].keypad) |
                    (code ? usual_acts(site, who, keypad) : 0U),
            SITE_MODE_FULL);
    if (code) {
        delivers_with_code(draft, who, way, opener, opens_by);
    } else {
        delivers_without(draft, who, way, opener, opens_by);
    }
    const struct text name = usual_who(draft, who, true);
    const struct text door = usual_door(draft, way);
    if (code) {
        usual_says(draft,
                "%.*s brings goods by %.*s before anybody is there, %s, %s again and goes.",
                TEXT_ARGS(name), TEXT_ARGS(door), usual_word_unsets(draft), usual_word_sets(draft));
    } else {
        usual_says(draft, "%.*s brings goods by %.*s as soon as somebody is there and %s.",
                TEXT_ARGS(name), TEXT_ARGS(door), usual_word_unsets(draft));
    }
}

/* ---- stocktaking ---- */

static bool counter_of(const struct site *site, int area, int *ret_who, int *ret_way) {
    for (size_t way = 0; way < site->way_count; way++) {
        int users[USUAL_USERS_MAX];
        const int keypad = site->ways[way].keypad;
        const size_t count =
                usual_way_in_use(site, (int)way) ? usual_household(site, (int)way, users) : 0;
        for (size_t i = 0; i < count; i++) {
            if (site->people[users[i]].has_code &&
                    ((usual_acts(site, users[i], keypad) & site->keypads[keypad].areas) >> area &
                            1U)) {
                *ret_who = users[i];
                *ret_way = (int)way;
                return true;
            }
        }
    }
    return false;
}

/* Somebody still counts when the auto-set warns: puts it off, counts on, sets and goes. Where it cannot be put off, a
 * code stops it. */
void usual_stocktaking(struct usual_draft *draft, int way) {
    const struct site *site = draft->site;
    const struct site_settings *settings = &site->settings;
    int who = SITE_NONE;
    int rooms[USUAL_ROOMS_MAX];
    const int area = settings->auto_set_area;
    const char *auto_set = site->words == SITE_WORDS_US ? "auto-arm" : "auto-set";
    if (settings->auto_set_at_s < 0 || area < 0 || (size_t)area >= site->area_count) {
        usual_needs(draft, "no %s", auto_set);
        return;
    }
    if (!counter_of(site, area, &who, &way)) {
        usual_needs(draft, "nobody's code acts where the %s %s", auto_set, usual_word_sets(draft));
        return;
    }
    const size_t count = usual_rooms(site, 1U << area, false, rooms);
    const int32_t day_s = 86400;
    const struct span before = usual_times.stock_before;
    usual_at(waits(draft, who, span_of(0, 0)),
            span_of((settings->auto_set_at_s - before.high_s + day_s) % day_s,
                    (settings->auto_set_at_s - before.low_s + day_s) % day_s));
    usual_pass(draft, who, rooms, count > 0 ? 1 : 0, usual_times.step_inside);
    struct site_step *puts_off = usual_step_in(draft, who,
            settings->auto_postpone_count > 0 ? SITE_ACT_POSTPONE : SITE_ACT_UNSET,
            usual_times.to_keypad);
    puts_off->keypad = site->ways[way].keypad;
    puts_off->when = SITE_SIGN_WARNING;
    puts_off->when_area = area;
    usual_pass(draft, who, rooms, count, usual_times.step_inside);
    (void)waits(draft, who, usual_times.stock_left);
    (void)usual_leave(draft, who, way);
    usual_says(draft, "%.*s still takes stock when the %s warns, %s, counts on and leaves by %.*s.",
            TEXT_ARGS(usual_who(draft, who, true)), auto_set,
            settings->auto_postpone_count > 0 ? "puts it off" : "stops it with the code",
            TEXT_ARGS(usual_door(draft, way)));
}

/* ---- fob, duress, mains ---- */

void usual_fob(struct usual_draft *draft, int way) {
    const struct site *site = draft->site;
    int rooms[USUAL_ROOMS_MAX];
    int who = SITE_NONE;
    (void)way;
    for (size_t i = site->person_count; i-- > 0;) {
        who = site->people[i].has_fob && !site->people[i].animal ? (int)i : who;
    }
    if (who == SITE_NONE) {
        usual_needs(draft, "no fob");
        return;
    }
    struct site_step *sets = usual_step_in(draft, who, SITE_ACT_SET, span_of(0, 0));
    sets->use = SITE_USE_FOB;
    struct site_step *unsets = usual_step_in(
            draft, who, SITE_ACT_UNSET, usual_sum(usual_times.pocket, site->people[who].fobs));
    unsets->use = SITE_USE_FOB;
    unsets->when = SITE_SIGN_SET;
    const size_t count = usual_rooms(site, site->people[who].areas, true, rooms);
    int other = SITE_NONE;
    for (size_t i = site->person_count; i-- > 0;) {
        other = (int)i != who && !site->people[i].animal ? (int)i : other;
    }
    if (count > 0 && other != SITE_NONE) {
        usual_step_in(draft, other, SITE_ACT_PASS, usual_times.at_home)->zone = rooms[0];
    }
    usual_says(draft,
            "%.*s sits on the fob while people are in, hears that it has %s and %s at once.",
            TEXT_ARGS(usual_who(draft, who, true)), usual_word_set(draft),
            usual_word_unsets(draft));
}

void usual_duress(struct usual_draft *draft, int way) {
    const struct site *site = draft->site;
    int who = SITE_NONE;
    for (size_t i = site->person_count; i-- > 0;) {
        const bool takes = site->people[i].duress && site->people[i].has_code;
        who = takes && usual_way_of(site, (int)i) != SITE_NONE ? (int)i : who;
    }
    if (who == SITE_NONE) {
        usual_needs(draft, "no duress code");
        return;
    }
    way = usual_way_of(site, who);
    const int keypad = site->ways[way].keypad;
    usual_start(draft, usual_acts(site, who, keypad), SITE_MODE_FULL);
    draft->routine.expects = SITE_EXPECT_DURESS;
    (void)usual_come(draft, who, way);
    usual_step(draft, who, SITE_ACT_UNSET)->keypad = keypad;
    usual_says(draft, "%.*s is forced to open, comes in by %.*s and keys the duress code: silence.",
            TEXT_ARGS(usual_who(draft, who, true)), TEXT_ARGS(usual_door(draft, way)));
}

/* A trouble at the keypad is what one wants to see; anything louder is not. */
void usual_mains(struct usual_draft *draft, int way) {
    const struct site *site = draft->site;
    const bool us = site->words == SITE_WORDS_US;
    int area = SITE_NONE;
    int mode = SITE_MODE_FULL;
    int users[USUAL_USERS_MAX];
    const bool stays = usual_stay(site, &area, &mode, &way);
    way = stays ? way : usual_first_way(site);
    if (way == SITE_NONE) {
        needs_way(draft);
        return;
    }
    (void)usual_household(site, way, users);
    const int keypad = site->ways[way].keypad;
    int who = users[0];
    for (size_t i = USUAL_USERS_MAX; stays && i-- > 0;) {
        const bool is = i < usual_household(site, way, users);
        who = is && (usual_acts(site, users[i], keypad) >> area & 1U) != 0 ? users[i] : who;
    }
    usual_start(draft, stays ? 1U << area : usual_acts(site, who, keypad),
            stays ? mode : SITE_MODE_FULL);
    draft->routine.expects = SITE_EXPECT_TROUBLE;
    usual_at(usual_step(draft, who, SITE_ACT_MAINS_LOST), usual_times.night);
    (void)usual_step_in(draft, who, SITE_ACT_MAINS_BACK, usual_times.outage);
    if (!stays) {
        struct site_step *comes = usual_come(draft, who, way);
        comes->in = usual_times.away;
        comes->has_in = true;
    }
    struct site_step *unsets = usual_unset(draft, who, keypad);
    unsets->in = stays ? usual_times.away : unsets->in;
    unsets->has_in = stays;
    usual_says(draft,
            "%s power fails at night with the alarm %s and comes back; %.*s %s in the morning.",
            us ? "AC" : "Mains", usual_word_set(draft), TEXT_ARGS(usual_who(draft, who, false)),
            usual_word_unsets(draft));
}
