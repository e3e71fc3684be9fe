/* Who plausibly does what, read from the site: codes, written routines, names. */
#include "proof/usual.h"

#include <string.h>

bool usual_way_in_use(const struct site *site, int way) {
    const struct site_way *it = &site->ways[way];
    return it->door != SITE_NONE && site->doors[it->door].outside && it->keypad != SITE_NONE;
}

static uint32_t plain_areas(const struct site *site) {
    uint32_t areas = 0;
    for (size_t i = 0; i < site->area_count; i++) {
        areas |= site->areas[i].common && site->area_count > 1 ? 0U : 1U << i;
    }
    return areas;
}

bool usual_has_key(const struct site *site, int person) {
    const struct site_person *it = &site->people[person];
    return !it->animal && !it->duress && (it->has_code || it->has_fob);
}

uint32_t usual_acts(const struct site *site, int person, int keypad) {
    const struct site_person *it = &site->people[person];
    const uint32_t own = it->areas & plain_areas(site);
    if (it->animal || (!it->has_code && !it->has_fob)) {
        return 0;
    }
    const bool anywhere = !it->has_code || site->settings.code_acts == SITE_CODE_USER;
    return anywhere || keypad == SITE_NONE ? own : own & site->keypads[keypad].areas;
}

bool usual_walks(const struct site *site, int person, int way) {
    for (size_t i = 0; i < site->routine_count; i++) {
        const struct site_routine *routine = &site->routines[i];
        for (size_t k = 0; k < routine->step_count; k++) {
            const struct site_step *step = &routine->steps[k];
            if ((step->act == SITE_ACT_COME || step->act == SITE_ACT_GO) && step->who == person &&
                    step->way == way) {
                return true;
            }
        }
    }
    return false;
}

static bool written(const struct site *site, int way, enum site_act act) {
    for (size_t i = 0; i < site->routine_count; i++) {
        for (size_t k = 0; k < site->routines[i].step_count; k++) {
            const struct site_step *step = &site->routines[i].steps[k];
            if (step->act == act && step->way == way) {
                return true;
            }
        }
    }
    return false;
}

bool usual_walked_in(const struct site *site, int way) {
    return written(site, way, SITE_ACT_COME) || !written(site, way, SITE_ACT_GO);
}

int usual_way_back(const struct site *site, int way, bool only_same_door) {
    const struct site_way *out = &site->ways[way];
    const int last_try = only_same_door ? 1 : 0;
    for (int same_door = 1; same_door >= last_try && !usual_walked_in(site, way); same_door--) {
        for (size_t i = 0; i < site->way_count; i++) {
            if (usual_way_in_use(site, (int)i) && usual_walked_in(site, (int)i) &&
                    site->ways[i].keypad == out->keypad &&
                    (same_door == 0 || site->ways[i].door == out->door)) {
                return (int)i;
            }
        }
    }
    return way;
}

enum likelihood { IS_WRITTEN, ACTS_EVERYWHERE, ACTS_SOMEWHERE, LIKELIHOOD_COUNT };

static bool likely(const struct site *site, int person, int way, enum likelihood likelihood) {
    const int keypad = site->ways[way].keypad;
    const uint32_t wanted = site->keypads[keypad].areas & plain_areas(site);
    const uint32_t acts = usual_acts(site, person, keypad);
    if (!usual_has_key(site, person) || acts == 0) {
        return false;
    }
    switch (likelihood) {
    case IS_WRITTEN:
        return usual_walks(site, person, way);
    case ACTS_EVERYWHERE:
        return (wanted & ~acts) == 0;
    case ACTS_SOMEWHERE:
    case LIKELIHOOD_COUNT:
        break;
    }
    return (wanted & acts) != 0;
}

static bool may_set_full(const struct site *site, size_t person) {
    const uint32_t modes = site->people[person].modes;
    return modes == 0 || (modes >> SITE_MODE_FULL & 1U) != 0;
}

/* Whoever may not set full is asked only where nobody else is there to be asked. */
static size_t list_users(const struct site *site, int way, bool household, int *ret_users) {
    size_t count = 0;
    for (int turn = 0; turn < 2 * LIKELIHOOD_COUNT && count == 0; turn++) {
        const enum likelihood by = (enum likelihood)(turn % LIKELIHOOD_COUNT);
        const bool anybody = turn >= LIKELIHOOD_COUNT;
        for (size_t i = 0; i < site->person_count && count < USUAL_USERS_MAX; i++) {
            if (likely(site, (int)i, way, by) && (anybody || may_set_full(site, i)) &&
                    !(household && usual_serves(site, (int)i))) {
                ret_users[count] = (int)i;
                count++;
            }
        }
    }
    return count;
}

size_t usual_users(const struct site *site, int way, int *ret_users) {
    return list_users(site, way, false, ret_users);
}

size_t usual_household(const struct site *site, int way, int *ret_users) {
    const size_t count = list_users(site, way, true, ret_users);
    return count > 0 ? count : list_users(site, way, false, ret_users);
}

int usual_slowest(const struct site *site, const int *users, size_t count) {
    int slowest = users[0];
    for (size_t i = 1; i < count; i++) {
        if (usual_keying(site, users[i], false).high_s >
                usual_keying(site, slowest, false).high_s) {
            slowest = users[i];
        }
    }
    return slowest;
}

static char lower(char letter) {
    return letter >= 'A' && letter <= 'Z' ? (char)(letter - 'A' + 'a') : letter;
}

static bool is_letter(char letter) {
    return lower(letter) >= 'a' && lower(letter) <= 'z';
}

/* A word begins with it: "window cleaner" has "clean", "Grayson" does not have "son". */
bool usual_name_has(struct text name, const char *const *words) {
    for (size_t word = 0; words[word] != NULL; word++) {
        const size_t length = strlen(words[word]);
        for (size_t at = 0; at + length <= name.length; at++) {
            size_t same = 0;
            while (same < length && lower(name.start[at + same]) == words[word][same]) {
                same++;
            }
            if (same == length && (at == 0 || !is_letter(name.start[at - 1]))) {
                return true;
            }
        }
    }
    return false;
}

const char *const usual_cleaning[] = {
        "clean", "charwoman", "housekeep", "caretak", "janitor", NULL};
const char *const usual_delivering[] = {
        "deliver", "driver", "courier", "carrier", "supplier", "post", "milk", "goods", NULL};

bool usual_serves(const struct site *site, int person) {
    const struct text name = site->people[person].name;
    return usual_name_has(name, usual_cleaning) || usual_name_has(name, usual_delivering);
}

int usual_named(const struct site *site, const char *const *words, bool code) {
    for (size_t i = 0; i < site->person_count; i++) {
        const struct site_person *person = &site->people[i];
        if (!person->animal && !person->duress && (!code || usual_has_key(site, (int)i)) &&
                usual_name_has(person->name, words)) {
            return (int)i;
        }
    }
    return SITE_NONE;
}

int usual_way_of(const struct site *site, int person) {
    for (size_t i = 0; i < site->way_count; i++) {
        if (usual_way_in_use(site, (int)i) && usual_walked_in(site, (int)i) &&
                usual_walks(site, person, (int)i)) {
            return (int)i;
        }
    }
    for (size_t i = 0; i < site->way_count; i++) {
        if (usual_way_in_use(site, (int)i) && usual_walked_in(site, (int)i) &&
                usual_acts(site, person, site->ways[i].keypad) != 0) {
            return (int)i;
        }
    }
    return SITE_NONE;
}

int usual_first_way(const struct site *site) {
    int users[USUAL_USERS_MAX];
    for (size_t i = 0; i < site->way_count; i++) {
        if (usual_way_in_use(site, (int)i) && usual_walked_in(site, (int)i) &&
                usual_users(site, (int)i, users) > 0) {
            return (int)i;
        }
    }
    return SITE_NONE;
}

static uint32_t areas_of_step(const struct site *site, const struct site_step *step) {
    return step->areas != 0 ? step->areas : usual_acts(site, step->who, step->keypad);
}

static bool mode_used(const struct site *site, int area, int mode) {
    for (size_t i = 0; i < site->routine_count; i++) {
        const struct site_routine *routine = &site->routines[i];
        if (routine->starts[area].set && routine->starts[area].mode == mode) {
            return true;
        }
        for (size_t k = 0; k < routine->step_count; k++) {
            const struct site_step *step = &routine->steps[k];
            if (step->act == SITE_ACT_SET && step->mode == mode && step->who >= 0 &&
                    (size_t)step->who < site->person_count &&
                    (areas_of_step(site, step) >> area & 1U) != 0) {
                return true;
            }
        }
    }
    for (size_t i = 0; i < site->zone_count; i++) {
        const struct site_zone *zone = &site->zones[i];
        if (zone->area == area && zone->in[mode] != site_usual_in(zone->behaviour, mode)) {
            return true;
        }
    }
    return false;
}

int usual_stay_mode(const struct site *site, int area) {
    return mode_used(site, area, SITE_MODE_NIGHT)   ? SITE_MODE_NIGHT
            : mode_used(site, area, SITE_MODE_PART) ? SITE_MODE_PART
                                                    : SITE_NONE;
}

bool usual_stays_anywhere(const struct site *site) {
    for (size_t i = 0; i < site->area_count; i++) {
        if (usual_stay_mode(site, (int)i) != SITE_NONE) {
            return true;
        }
    }
    return false;
}

bool usual_stay(const struct site *site, int *ret_area, int *ret_mode, int *ret_way) {
    for (size_t way = 0; way < site->way_count; way++) {
        int users[USUAL_USERS_MAX];
        if (!usual_way_in_use(site, (int)way) || !usual_walked_in(site, (int)way)) {
            continue;
        }
        const size_t count = usual_household(site, (int)way, users);
        const int keypad = site->ways[way].keypad;
        for (size_t area = 0; area < site->area_count; area++) {
            const int mode = usual_stay_mode(site, (int)area);
            for (size_t i = 0; mode != SITE_NONE && i < count; i++) {
                if ((usual_acts(site, users[i], keypad) & site->keypads[keypad].areas) >> area &
                        1U) {
                    *ret_area = (int)area;
                    *ret_mode = mode;
                    *ret_way = (int)way;
                    return true;
                }
            }
        }
    }
    return false;
}

enum site_sense usual_sense(const struct site *site, int zone) {
    return site_zone_sense(site, &site->zones[zone]);
}

static bool is_walked(const struct site *site, int zone) {
    for (size_t i = 0; i < site->way_count; i++) {
        for (size_t leg = 0; leg < site->ways[i].leg_count; leg++) {
            if (site->ways[i].legs[leg].zone == zone) {
                return true;
            }
        }
    }
    for (size_t i = 0; i < site->routine_count; i++) {
        for (size_t k = 0; k < site->routines[i].step_count; k++) {
            const struct site_step *step = &site->routines[i].steps[k];
            if (step->act == SITE_ACT_PASS && step->zone == zone && step->who >= 0 &&
                    (size_t)step->who < site->person_count && !site->people[step->who].animal) {
                return true;
            }
        }
    }
    return false;
}

static size_t rooms(const struct site *site, uint32_t areas, bool walked, int *ret_zones) {
    size_t count = 0;
    for (size_t i = 0; i < site->zone_count && count < USUAL_ROOMS_MAX; i++) {
        const struct site_zone *zone = &site->zones[i];
        if (usual_sense(site, (int)i) == SITE_MOTION && (areas >> zone->area & 1U) != 0 &&
                site_zone_door(site, zone) == SITE_NONE && zone->behaviour < SITE_ALWAYS &&
                (!walked || is_walked(site, (int)i))) {
            ret_zones[count] = (int)i;
            count++;
        }
    }
    return count;
}

size_t usual_rooms(const struct site *site, uint32_t areas, bool walked, int *ret_zones) {
    const size_t count = walked ? rooms(site, areas, true, ret_zones) : 0;
    return count > 0 ? count : rooms(site, areas, false, ret_zones);
}

int usual_lowest(uint32_t areas) {
    for (int area = 0; area < SITE_AREA_MAX; area++) {
        if ((areas >> area & 1U) != 0) {
            return area;
        }
    }
    return SITE_NONE;
}
