/* Usual routines about one way in: leaving and coming back by it. */
#include "proof/usual.h"

static struct site_step *waits(struct usual_draft *draft, int who, struct span in) {
    return usual_step_in(draft, who, SITE_ACT_WAIT, in);
}

static size_t users_or_needs(struct usual_draft *draft, int way, bool household, int *users) {
    const size_t count = household ? usual_household(draft->site, way, users)
                                   : usual_users(draft->site, way, users);
    if (count == 0) {
        usual_needs(draft, "nobody's code acts at the keypad of %.*s",
                TEXT_ARGS(draft->site->ways[way].name));
    }
    return count;
}

static bool walked_in_or_needs(struct usual_draft *draft, int way) {
    const bool in = usual_walked_in(draft->site, way);
    if (!in) {
        usual_needs(draft, "nobody comes in by %.*s", TEXT_ARGS(draft->site->ways[way].name));
    }
    return in;
}

/* "the baker", "the baker, then the apprentice" */
static struct text everybody(struct usual_draft *draft, const int *users, size_t count) {
    struct text_builder builder;
    text_builder_init(&builder, draft->arena);
    for (size_t i = 0; i < count; i++) {
        text_add_string(&builder, i == 0 ? "" : ", then ");
        text_add(&builder, usual_who(draft, users[i], i == 0));
    }
    const struct text text = text_built(&builder);
    draft->refused_memory = draft->refused_memory || text.start == NULL;
    return text;
}

void usual_leaves(struct usual_draft *draft, int way) {
    int users[USUAL_USERS_MAX];
    const size_t count = users_or_needs(draft, way, false, users);
    const int keypad = draft->site->ways[way].keypad;
    for (size_t i = 0; i < count; i++) {
        const int before = usual_last(draft);
        struct site_step *first = usual_leave(draft, users[i], way);
        if (i > 0) {
            first->after_step = before;
            first->in = usual_times.turn;
            first->has_in = true;
        }
        struct site_step *back =
                usual_come(draft, users[i], usual_way_back(draft->site, way, false));
        back->in = usual_times.away;
        back->has_in = true;
        (void)usual_unset(draft, users[i], keypad);
    }
    if (count > 0) {
        usual_says(draft, "%.*s%s %s the alarm and leaves by %.*s, comes back later and %s.",
                TEXT_ARGS(everybody(draft, users, count)), count > 1 ? "," : "",
                usual_word_sets(draft), TEXT_ARGS(usual_door(draft, way)),
                usual_word_unsets(draft));
    }
}

/* Whoever comes back for the keys knows that the alarm is set or about to be, and keys the code first. */
void usual_keys(struct usual_draft *draft, int way) {
    int users[USUAL_USERS_MAX];
    const struct site *site = draft->site;
    if (users_or_needs(draft, way, true, users) == 0) {
        return;
    }
    const int who = users[0];
    const int keypad = site->ways[way].keypad;
    const int32_t late_s =
            site->settings.modes[SITE_MODE_FULL].exit_delay_s + usual_times.keys_late_s;
    (void)usual_leave(draft, who, way);
    struct site_step *back = usual_come(draft, who, usual_way_back(site, way, true));
    back->in = usual_times.keys_back;
    back->in.high_s = late_s > back->in.high_s ? late_s : back->in.high_s;
    back->has_in = true;
    usual_if(usual_unset(draft, who, keypad), SITE_SIGN_SET,
            usual_lowest(usual_acts(site, who, keypad)));
    (void)waits(draft, who, usual_times.keys_search);
    (void)usual_leave(draft, who, way);
    usual_says(draft,
            "%.*s leaves by %.*s, has forgotten the keys, comes straight back, %s and leaves "
            "again.",
            TEXT_ARGS(usual_who(draft, who, true)), TEXT_ARGS(usual_door(draft, way)),
            usual_word_unsets(draft));
}

void usual_shopping(struct usual_draft *draft, int way) {
    int users[USUAL_USERS_MAX];
    const size_t count = users_or_needs(draft, way, true, users);
    if (count == 0 || !walked_in_or_needs(draft, way)) {
        return;
    }
    const int who = usual_slowest(draft->site, users, count);
    const int keypad = draft->site->ways[way].keypad;
    usual_start(draft, usual_acts(draft->site, who, keypad), SITE_MODE_FULL);
    (void)usual_come(draft, who, way);
    (void)waits(draft, who, usual_times.bags);
    if (draft->site->people[who].has_code) {
        usual_step(draft, who, SITE_ACT_MISTYPE)->keypad = keypad;
        struct site_step *again = usual_unset(draft, who, keypad);
        again->in = usual_times.again;
        again->has_in = true;
    } else {
        (void)usual_unset(draft, who, keypad);
    }
    usual_says(draft,
            "%.*s comes in by %.*s with the shopping, mistypes the code once and keys it again.",
            TEXT_ARGS(usual_who(draft, who, true)), TEXT_ARGS(usual_door(draft, way)));
}

/* Only while the exit tone still sounds: a moment later one would take the parcel outside. A contact that is slow to
 * tell may start the entry time all the same; who hears it goes in and keys the code. */
void usual_parcel(struct usual_draft *draft, int way) {
    int users[USUAL_USERS_MAX];
    const struct site *site = draft->site;
    if (users_or_needs(draft, way, true, users) == 0) {
        return;
    }
    const int who = users[0];
    const int keypad = site->ways[way].keypad;
    const int door = site->ways[way].door;
    const int area = usual_lowest(usual_acts(site, who, keypad));
    (void)usual_leave(draft, who, way);
    struct site_step *opens = usual_step_in(draft, who, SITE_ACT_OPEN, usual_times.ring);
    opens->door = door;
    usual_if(opens, SITE_SIGN_EXIT_TONE, area);
    struct site_step *closes = usual_step_in(draft, who, SITE_ACT_CLOSE, usual_times.parcel);
    closes->door = door;
    usual_if(closes, SITE_SIGN_DOOR_OPEN, SITE_NONE);
    struct site_step *keys = usual_unset(draft, who, keypad);
    keys->in = usual_sum(
            usual_walk(site, usual_way_back(site, way, true)), usual_keying(site, who, false));
    keys->has_in = true;
    usual_if(keys, SITE_SIGN_ENTRY_TONE, area);
    usual_says(draft,
            "%.*s is hardly out of %.*s when a parcel comes: while the exit time runs the door is "
            "opened once more.",
            TEXT_ARGS(usual_who(draft, who, true)), TEXT_ARGS(usual_door(draft, way)));
}

/* ---- slow walkers ---- */

static void opens_and_closes(
        struct usual_draft *draft, int who, int door, struct span in, struct span closes) {
    usual_step_in(draft, who, SITE_ACT_OPEN, in)->door = door;
    usual_step_in(draft, who, SITE_ACT_CLOSE, closes)->door = door;
}

static void one_leg(
        struct usual_draft *draft, int who, const struct site_leg *leg, struct span in) {
    static const struct span close_s = {1, 2}; /* as a way's inner door (unfold.c) */
    if (leg->door != SITE_NONE) {
        opens_and_closes(draft, who, leg->door, in, close_s);
    } else {
        const bool watched = leg->zone != SITE_NONE;
        usual_step_in(draft, who, watched ? SITE_ACT_PASS : SITE_ACT_WAIT, in)->zone = leg->zone;
    }
}

static void slow_in(struct usual_draft *draft, int who, int way) {
    const struct site_way *it = &draft->site->ways[way];
    const int32_t tenths = usual_times.slow_walk_tenths;
    opens_and_closes(draft, who, it->door, span_of(0, 0), it->closes);
    for (size_t i = 0; i < it->leg_count; i++) {
        one_leg(draft, who, &it->legs[i], usual_stretch(it->legs[i].in, tenths));
    }
    (void)waits(draft, who, usual_stretch(it->last, tenths));
}

static void slow_out(struct usual_draft *draft, int who, int way) {
    const struct site_way *it = &draft->site->ways[way];
    const int32_t tenths = usual_times.slow_walk_tenths;
    struct span before = it->last;
    for (size_t i = it->leg_count; i-- > 0;) {
        one_leg(draft, who, &it->legs[i], usual_stretch(before, tenths));
        before = it->legs[i].in;
    }
    opens_and_closes(draft, who, it->door, usual_stretch(before, tenths), it->closes);
}

void usual_stick(struct usual_draft *draft, int way) {
    static const char *const words[] = {"grand", "gran", "nan", "elder", "old", "pension", NULL};
    int users[USUAL_USERS_MAX];
    const struct site *site = draft->site;
    const size_t count = users_or_needs(draft, way, true, users);
    if (count == 0 || !walked_in_or_needs(draft, way)) {
        return;
    }
    int who = usual_slowest(site, users, count);
    bool named = false;
    for (size_t i = count; i-- > 0;) {
        const bool is = usual_name_has(site->people[users[i]].name, words);
        who = is ? users[i] : who;
        named = named || is;
    }
    const int keypad = site->ways[way].keypad;
    const struct span keying = usual_keying(site, who, true);
    usual_start(draft, usual_acts(site, who, keypad), SITE_MODE_FULL);
    slow_in(draft, who, way);
    struct site_step *unsets = usual_unset(draft, who, keypad);
    unsets->in = keying;
    unsets->has_in = true;
    if (site->people[who].has_code) {
        struct site_step *sets = usual_set(draft, who, keypad, SITE_MODE_FULL);
        sets->in = usual_times.away;
        sets->has_in = true;
        slow_out(draft, who, way);
    }
    const struct text person = usual_who(draft, who, named);
    const struct text door = usual_door(draft, way);
    if (named) {
        usual_says(draft,
                "%.*s walks with a stick, comes in slowly by %.*s, keys slowly, and leaves so.",
                TEXT_ARGS(person), TEXT_ARGS(door));
    } else {
        usual_says(draft,
                "A grandparent with a stick and the code of %.*s comes in slowly by %.*s, keys "
                "slowly, and leaves so.",
                TEXT_ARGS(person), TEXT_ARGS(door));
    }
}
