/* Usual routines of those who live there: nights, children, animals, windows, lodgers, guests. */
#include "proof/usual.h"

static struct site_step *waits(struct usual_draft *draft, int who, struct span in) {
    return usual_step_in(draft, who, SITE_ACT_WAIT, in);
}

static const char *mode_name(int mode) {
    return mode == SITE_MODE_NIGHT ? "night" : "part";
}

static void needs_stay(struct usual_draft *draft) {
    if (usual_stays_anywhere(draft->site)) {
        usual_needs(
                draft, "no way in with a keypad for what is %s at night", usual_word_set(draft));
    } else {
        usual_needs(draft, "no mode night or part is used");
    }
}

/* The users of a way whose code there acts in the area. */
static size_t users_of_area(const struct site *site, int way, int area, int *users) {
    int all[USUAL_USERS_MAX];
    const size_t all_count = usual_household(site, way, all);
    size_t count = 0;
    for (size_t i = 0; i < all_count; i++) {
        const int keypad = site->ways[way].keypad;
        if ((usual_acts(site, all[i], keypad) & site->keypads[keypad].areas) >> area & 1U) {
            users[count] = all[i];
            count++;
        }
    }
    return count;
}

/* The own way of whoever is named so, where somebody stays at night behind its keypad. */
static bool named_stay(
        const struct site *site, int who, int *ret_area, int *ret_mode, int *ret_way) {
    const int way = who == SITE_NONE ? SITE_NONE : usual_way_of(site, who);
    const int keypad = way == SITE_NONE ? SITE_NONE : site->ways[way].keypad;
    for (size_t area = 0; way != SITE_NONE && area < site->area_count; area++) {
        const uint32_t acts = usual_acts(site, who, keypad) & site->keypads[keypad].areas;
        if ((acts >> area & 1U) != 0 && usual_stay_mode(site, (int)area) != SITE_NONE) {
            *ret_area = (int)area;
            *ret_mode = usual_stay_mode(site, (int)area);
            *ret_way = way;
            return true;
        }
    }
    return false;
}

void usual_teenager(struct usual_draft *draft, int way) {
    static const char *const words[] = {"teen", "son", "daughter", "student", "pupil", NULL};
    const struct site *site = draft->site;
    int area = SITE_NONE;
    int mode = SITE_NONE;
    int users[USUAL_USERS_MAX];
    int who = usual_named(site, words, true);
    if (!named_stay(site, who, &area, &mode, &way)) {
        if (!usual_stay(site, &area, &mode, &way)) {
            needs_stay(draft);
            return;
        }
        who = users[users_of_area(site, way, area, users) - 1];
    }
    const int keypad = site->ways[way].keypad;
    usual_start(draft, 1U << area, mode);
    usual_at(usual_come(draft, who, way), usual_times.late_night);
    (void)usual_unset(draft, who, keypad);
    struct site_step *sets = usual_set(draft, who, keypad, mode);
    sets->in = usual_times.step_inside;
    sets->has_in = true;
    sets->areas = 1U << area;
    usual_says(draft,
            "%.*s comes home by %.*s after midnight while the others sleep with %s %s, %s and %s "
            "again.",
            TEXT_ARGS(usual_who(draft, who, true)), TEXT_ARGS(usual_door(draft, way)),
            mode_name(mode), usual_word_set(draft), usual_word_unsets(draft),
            usual_word_sets(draft));
}

static int somebody_of(const struct site *site, int area) {
    for (int key = 1; key >= 0; key--) {
        for (size_t i = 0; i < site->person_count; i++) {
            const struct site_person *person = &site->people[i];
            if (!person->animal && !person->duress && (person->areas >> area & 1U) != 0 &&
                    (key == 0 || usual_has_key(site, (int)i))) {
                return (int)i;
            }
        }
    }
    return SITE_NONE;
}

void usual_toilet(struct usual_draft *draft, int way) {
    const struct site *site = draft->site;
    int zones[USUAL_ROOMS_MAX];
    (void)way;
    if (!usual_stays_anywhere(site)) {
        usual_needs(draft, "no mode night or part is used");
        return;
    }
    for (size_t area = 0; area < site->area_count; area++) {
        const int mode = usual_stay_mode(site, (int)area);
        const size_t count = usual_rooms(site, 1U << area, true, zones);
        const int who = somebody_of(site, (int)area);
        if (mode == SITE_NONE || count == 0 || who == SITE_NONE) {
            continue;
        }
        usual_start(draft, 1U << area, mode);
        usual_at(waits(draft, who, span_of(0, 0)), usual_times.three);
        usual_pass(draft, who, zones, count, usual_times.step_inside);
        (void)waits(draft, who, usual_times.toilet);
        for (size_t i = count; i-- > 0;) {
            usual_pass(draft, who, &zones[i], 1, usual_times.step_inside);
        }
        usual_says(draft, "%.*s goes to the toilet at three and back to bed, with %s %s.",
                TEXT_ARGS(usual_who(draft, who, true)), mode_name(mode), usual_word_set(draft));
        return;
    }
    usual_needs(draft, "no motion detector where somebody stays at night");
}

static int first_animal(const struct site *site) {
    for (size_t i = 0; i < site->person_count; i++) {
        if (site->people[i].animal) {
            return (int)i;
        }
    }
    return SITE_NONE;
}

void usual_dog(struct usual_draft *draft, int way) {
    const struct site *site = draft->site;
    const int dog = first_animal(site);
    int area = SITE_NONE;
    int mode = SITE_NONE;
    int users[USUAL_USERS_MAX];
    if (dog == SITE_NONE) {
        usual_needs(draft, "no animal");
        return;
    }
    if (!usual_stay(site, &area, &mode, &way)) {
        needs_stay(draft);
        return;
    }
    (void)users_of_area(site, way, area, users);
    const int who = users[0];
    const struct site_way *it = &site->ways[way];
    usual_start(draft, 1U << area, mode);
    struct site_step *opens = usual_step(draft, who, SITE_ACT_OPEN);
    opens->door = it->door;
    usual_at(opens, usual_times.six);
    for (size_t i = 0; i < it->leg_count; i++) {
        const int zone = it->legs[i].zone;
        if (zone != SITE_NONE && usual_sense(site, zone) == SITE_MOTION &&
                site->zones[zone].area == area) {
            struct site_step *runs =
                    usual_step_in(draft, dog, SITE_ACT_PASS, usual_times.dog_at_door);
            runs->zone = zone;
            runs->after_step = 0;
            break;
        }
    }
    struct site_step *keys = usual_unset(draft, who, it->keypad);
    keys->in = usual_sum(usual_walk(site, way), usual_keying(site, who, false));
    keys->has_in = true;
    usual_if(keys, SITE_SIGN_ENTRY_TONE, area);
    usual_step_in(draft, who, SITE_ACT_CLOSE, usual_times.dog_out)->door = it->door;
    usual_says(draft,
            "%.*s lets %.*s out by %.*s at six with %s %s, and keys the code when the entry tone "
            "sounds.",
            TEXT_ARGS(usual_who(draft, who, true)), TEXT_ARGS(usual_who(draft, dog, false)),
            TEXT_ARGS(usual_door(draft, way)), mode_name(mode), usual_word_set(draft));
}

/* ---- windows ---- */

static bool on_a_way(const struct site *site, int door) {
    for (size_t i = 0; i < site->way_count; i++) {
        for (size_t leg = 0; leg < site->ways[i].leg_count; leg++) {
            if (site->ways[i].legs[leg].door == door) {
                return true;
            }
        }
        if (site->ways[i].door == door) {
            return true;
        }
    }
    return false;
}

/* A door or window that nobody walks through, watched in full by a contact in one of these areas. */
static int window_of(const struct site *site, uint32_t areas) {
    for (size_t i = 0; i < site->zone_count; i++) {
        const struct site_zone *zone = &site->zones[i];
        const int door = site_zone_door(site, zone);
        const enum site_behaviour behaviour = zone->in[SITE_MODE_FULL];
        if (door != SITE_NONE && door < 32 && usual_sense(site, (int)i) == SITE_CONTACT &&
                behaviour != SITE_OUT && behaviour < SITE_ALWAYS && zone->behaviour < SITE_ALWAYS &&
                (areas >> zone->area & 1U) != 0 && !on_a_way(site, door)) {
            return door;
        }
    }
    return SITE_NONE;
}

/* Who sees "not ready" closes the window: no setting is refused, and none begins with it open. */
void usual_window(struct usual_draft *draft, int way) {
    const struct site *site = draft->site;
    for (size_t i = 0; i < site->way_count; i++) {
        int users[USUAL_USERS_MAX];
        way = (int)i;
        if (!usual_way_in_use(site, way) || usual_household(site, way, users) == 0) {
            continue;
        }
        const uint32_t areas = usual_acts(site, users[0], site->ways[way].keypad);
        const int window = window_of(site, areas);
        if (window == SITE_NONE) {
            continue;
        }
        draft->routine.doors_open = 1U << window;
        struct site_step *closes =
                usual_step_in(draft, users[0], SITE_ACT_CLOSE, usual_times.window);
        closes->door = window;
        usual_if(closes, SITE_SIGN_NOT_READY, SITE_NONE);
        (void)usual_leave(draft, users[0], way);
        usual_says(draft,
                "%.*s was left open: %.*s sees \"not ready\", closes it, %s and leaves by %.*s.",
                TEXT_ARGS(usual_name(draft, site->doors[window].name, true)),
                TEXT_ARGS(usual_who(draft, users[0], false)), usual_word_sets(draft),
                TEXT_ARGS(usual_door(draft, way)));
        return;
    }
    usual_needs(draft, "no window with a contact");
}

/* ---- lodger ---- */

/* An own area: one of the lodger's that the family's code at their keypad leaves alone. */
static uint32_t own_areas(const struct site *site, int lodger, int family, int keypad) {
    return usual_acts(site, lodger, SITE_NONE) & site->people[lodger].areas &
            ~usual_acts(site, family, keypad);
}

static int own_way(const struct site *site, int lodger, uint32_t own) {
    const int way = usual_way_of(site, lodger);
    for (size_t i = 0; i < site->way_count; i++) {
        if (usual_way_in_use(site, (int)i) && usual_walks(site, lodger, (int)i)) {
            return (int)i;
        }
    }
    return way != SITE_NONE && (site->keypads[site->ways[way].keypad].areas & ~own) == 0
            ? way
            : SITE_NONE;
}

static int lodger_of(const struct site *site, int family, int keypad) {
    static const char *const words[] = {"lodger", "tenant", "guest", "boarder", NULL};
    int found = SITE_NONE;
    for (size_t i = site->person_count; i-- > 0;) {
        const struct site_person *person = &site->people[i];
        const bool apart = usual_has_key(site, (int)i) && (int)i != family &&
                !usual_serves(site, (int)i) && own_areas(site, (int)i, family, keypad) != 0;
        const bool better = found == SITE_NONE || usual_name_has(person->name, words) ||
                !usual_name_has(site->people[found].name, words);
        found = apart && better ? (int)i : found;
    }
    return found;
}

void usual_lodger(struct usual_draft *draft, int way) {
    const struct site *site = draft->site;
    for (size_t i = 0; i < site->way_count; i++) {
        int users[USUAL_USERS_MAX];
        int rooms[USUAL_ROOMS_MAX];
        way = (int)i;
        if (!usual_way_in_use(site, way) || usual_household(site, way, users) == 0) {
            continue;
        }
        const int family = users[0];
        if (usual_serves(site, family)) {
            continue;
        }
        const int lodger = lodger_of(site, family, site->ways[way].keypad);
        if (lodger == SITE_NONE) {
            continue;
        }
        const uint32_t own = own_areas(site, lodger, family, site->ways[way].keypad);
        const int way_out = own_way(site, lodger, own);
        const size_t count = usual_rooms(site, own, false, rooms);
        (void)usual_leave(draft, family, way);
        waits(draft, lodger, usual_times.at_home)->after_step = 0;
        usual_pass(draft, lodger, rooms, count, usual_times.cleaning);
        if (way_out != SITE_NONE) {
            (void)usual_go(draft, lodger, way_out);
            struct site_step *back = usual_come(draft, lodger, way_out);
            back->in = usual_times.away;
            back->has_in = true;
        }
        usual_says(draft,
                "%.*s %s and leaves by %.*s; %.*s stays in, walks about and goes out and in.",
                TEXT_ARGS(usual_who(draft, family, true)), usual_word_sets(draft),
                TEXT_ARGS(usual_door(draft, way)), TEXT_ARGS(usual_who(draft, lodger, false)));
        return;
    }
    usual_needs(draft, "nobody with an area of their own");
}

/* ---- child, guest ---- */

/* Where no name tells a child: whoever is named last. */
static int last_of_household(const struct site *site) {
    int last = SITE_NONE;
    for (size_t i = 0; i < site->person_count; i++) {
        const bool is = usual_has_key(site, (int)i) && !usual_serves(site, (int)i) &&
                usual_way_of(site, (int)i) != SITE_NONE &&
                usual_acts(site, (int)i, site->ways[usual_way_of(site, (int)i)].keypad) != 0;
        last = is ? (int)i : last;
    }
    return last;
}

static void follows_child(struct usual_draft *draft, int who, int way) {
    const int keypad = draft->site->ways[way].keypad;
    const int child_unset = usual_last(draft);
    struct site_step *comes = usual_come(draft, who, way);
    comes->after_step = child_unset;
    comes->in = usual_times.family_comes;
    comes->has_in = true;
    usual_if(usual_unset(draft, who, keypad), SITE_SIGN_SET,
            usual_lowest(usual_acts(draft->site, who, keypad)));
}

void usual_child(struct usual_draft *draft, int way) {
    static const char *const words[] = {
            "child", "kid", "son", "daughter", "boy", "girl", "pupil", "teen", NULL};
    const struct site *site = draft->site;
    int users[USUAL_USERS_MAX];
    const int child = usual_named(site, words, true);
    const int who = child != SITE_NONE ? child : last_of_household(site);
    way = who == SITE_NONE ? SITE_NONE : usual_way_of(site, who);
    if (way == SITE_NONE) {
        usual_needs(draft, "no way in whose keypad takes somebody's code");
        return;
    }
    const size_t count = usual_household(site, way, users);
    const int keypad = site->ways[way].keypad;
    usual_start(draft, usual_acts(site, who, keypad), SITE_MODE_FULL);
    (void)usual_come(draft, who, way);
    struct site_step *unsets = usual_unset(draft, who, keypad);
    unsets->in = usual_keying(site, who, true);
    unsets->has_in = true;
    for (size_t i = 0; i < count; i++) {
        if (users[i] != who) {
            follows_child(draft, users[i], way);
            break;
        }
    }
    const struct text door = usual_door(draft, way);
    if (child != SITE_NONE) {
        usual_says(draft, "%.*s comes home alone by %.*s and keys slowly; others follow later.",
                TEXT_ARGS(usual_who(draft, who, true)), TEXT_ARGS(door));
    } else {
        usual_says(draft, "A child comes home alone by %.*s with the code of %.*s and keys slowly.",
                TEXT_ARGS(door), TEXT_ARGS(usual_who(draft, who, false)));
    }
}

static int without_code(const struct site *site) {
    for (size_t i = 0; i < site->person_count; i++) {
        const struct site_person *person = &site->people[i];
        if (!person->animal && !person->away && !person->has_code && !person->has_fob) {
            return (int)i;
        }
    }
    return SITE_NONE;
}

/* The host opens, the guest walks in close behind, the host closes and keys the code. */
void usual_guest(struct usual_draft *draft, int way) {
    const struct site *site = draft->site;
    const int guest = without_code(site);
    int users[USUAL_USERS_MAX];
    if (guest == SITE_NONE) {
        usual_needs(draft, "nobody without a code");
        return;
    }
    way = usual_first_way(site);
    if (way == SITE_NONE) {
        usual_needs(draft, "no way in whose keypad takes somebody's code");
        return;
    }
    (void)usual_household(site, way, users);
    const struct site_way *it = &site->ways[way];
    usual_start(draft, usual_acts(site, users[0], it->keypad), SITE_MODE_FULL);
    (void)usual_come(draft, users[0], way);
    (void)usual_unset(draft, users[0], it->keypad);
    const int unset = usual_last(draft);
    waits(draft, guest, usual_times.guest_behind);
    for (size_t i = 0; i < it->leg_count; i++) {
        const int zone = it->legs[i].zone;
        usual_step_in(
                draft, guest, zone == SITE_NONE ? SITE_ACT_WAIT : SITE_ACT_PASS, it->legs[i].in)
                ->zone = zone;
    }
    struct site_step *goes = usual_go(draft, guest, way);
    goes->after_step = unset;
    goes->in = usual_times.guest_stay;
    goes->has_in = true;
    usual_says(draft, "%.*s comes in by %.*s with %.*s, who has no code and leaves alone later.",
            TEXT_ARGS(usual_who(draft, users[0], true)), TEXT_ARGS(usual_door(draft, way)),
            TEXT_ARGS(usual_who(draft, guest, false)));
}
