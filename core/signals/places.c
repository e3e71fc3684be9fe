#include "signals/places.h"

enum { SHARES = 8 }; /* of all places, one is what the strangers of an address may have */

static uint32_t none(const struct places *places) {
    return (uint32_t)places->count;
}

static void append(struct places *places, uint32_t at, enum place_list list) {
    struct place *place = &places->of[at];
    const uint32_t last = places->last[list];
    place->list = (uint8_t)list;
    place->before = last;
    place->after = none(places);
    *(last == none(places) ? &places->first[list] : &places->of[last].after) = at;
    places->last[list] = at;
    places->have[list][place->address]++;
}

static void take_off(struct places *places, uint32_t at) {
    const struct place *place = &places->of[at];
    const uint8_t list = place->list;
    *(place->before == none(places) ? &places->first[list] : &places->of[place->before].after) =
            place->after;
    *(place->after == none(places) ? &places->last[list] : &places->of[place->after].before) =
            place->before;
    places->have[list][place->address]--;
}

outcome places_make(
        struct arena *arena, size_t most, struct places *ret_places, struct problem *ret_problem) {
    struct places places = {.count = most + PLACES_SPARE,
            .most = most,
            .share = most / SHARES == 0 ? 1 : most / SHARES};
    void *of = NULL;
    TRY(arena_get(arena, places.count, sizeof *places.of, &of, ret_problem));
    places.of = of;
    for (size_t list = 0; list < PLACE_BETWEEN; list++) {
        void *have = NULL;
        TRY(arena_get(arena, PLACES_ADDRESSES, sizeof *places.have[list], &have, ret_problem));
        places.have[list] = have;
        places.first[list] = none(&places);
        places.last[list] = none(&places);
    }
    for (uint32_t at = 0; at < places.count; at++) {
        append(&places, at, PLACE_FREE);
    }
    *ret_places = places;
    return outcome_good();
}

bool places_take(struct places *places, size_t *ret_place) {
    const uint32_t at = places->first[PLACE_FREE];
    if (at == none(places)) {
        return false;
    }
    take_off(places, at);
    places->of[at].list = PLACE_BETWEEN;
    *ret_place = at;
    return true;
}

void places_let_in(struct places *places, size_t place, uint64_t address, int64_t now_ms) {
    places->of[place].address = (uint16_t)(address % PLACES_ADDRESSES);
    places->of[place].at_ms = now_ms;
    append(places, (uint32_t)place, PLACE_STRANGER);
    places->in_use++;
}

/** The first of a list, of an address that has the most of it; and how many it has. */
static uint32_t first_of_most(
        const struct places *places, enum place_list list, uint32_t *ret_have) {
    const uint32_t *have = places->have[list];
    uint32_t most = 0;
    uint32_t at = places->first[list];
    for (size_t i = 0; i < PLACES_ADDRESSES; i++) {
        most = have[i] > most ? have[i] : most;
    }
    while (at != none(places) && have[places->of[at].address] < most) {
        at = places->of[at].after;
    }
    *ret_have = most;
    return at;
}

static bool had_his_time(const struct places *places, uint32_t at, int64_t now_ms) {
    return at != none(places) && now_ms - places->of[at].at_ms > PLACES_GRACE_MS;
}

/** On one list: of the address that has the most of it, else whoever; but only who had his time. None: nobody. */
static uint32_t had_time_on(const struct places *places, enum place_list list, int64_t now_ms) {
    uint32_t have = 0;
    const uint32_t at = first_of_most(places, list, &have);
    return had_his_time(places, at, now_ms)                     ? at
            : had_his_time(places, places->first[list], now_ms) ? places->first[list]
                                                                : none(places);
}

static uint32_t all_of(const struct places *places, size_t address) {
    return places->have[PLACE_STRANGER][address] + places->have[PLACE_FRIEND][address];
}

/** Of the address that has the most, on both lists, who came or was heard the longest ago. */
static uint32_t longest_of_most(const struct places *places) {
    uint32_t most = 0;
    uint32_t longest = none(places);
    for (size_t i = 0; i < PLACES_ADDRESSES; i++) {
        most = all_of(places, i) > most ? all_of(places, i) : most;
    }
    for (enum place_list list = PLACE_STRANGER; list <= PLACE_FRIEND; list++) {
        uint32_t at = places->first[list];
        while (at != none(places) && all_of(places, places->of[at].address) < most) {
            at = places->of[at].after;
        }
        if (at != none(places) &&
                (longest == none(places) || places->of[at].at_ms < places->of[longest].at_ms)) {
            longest = at;
        }
    }
    return longest;
}

static uint32_t who_goes(const struct places *places, int64_t now_ms) {
    uint32_t have = 0;
    uint32_t friends = 0;
    const uint32_t stranger = first_of_most(places, PLACE_STRANGER, &have);
    if (have > places->share) {
        return stranger;
    }
    const uint32_t silent = had_time_on(places, PLACE_STRANGER, now_ms);
    if (silent != none(places)) {
        return silent;
    }
    (void)first_of_most(places, PLACE_FRIEND, &friends);
    if (have > PLACES_FEW && have > friends) {
        return stranger;
    }
    const uint32_t a_friend = had_time_on(places, PLACE_FRIEND, now_ms);
    return a_friend != none(places) ? a_friend : longest_of_most(places);
}

bool places_too_many(struct places *places, int64_t now_ms, size_t *ret_place) {
    if (places->in_use <= places->most) {
        return false;
    }
    *ret_place = who_goes(places, now_ms);
    places_leave(places, *ret_place);
    return true;
}

void places_heard(struct places *places, size_t place, int64_t now_ms) {
    if (places->of[place].list == PLACE_STRANGER || places->of[place].list == PLACE_FRIEND) {
        take_off(places, (uint32_t)place);
        places->of[place].at_ms = now_ms;
        append(places, (uint32_t)place, PLACE_FRIEND);
    }
}

void places_leave(struct places *places, size_t place) {
    if (places->of[place].list == PLACE_STRANGER || places->of[place].list == PLACE_FRIEND) {
        take_off(places, (uint32_t)place);
        places->of[place].list = PLACE_BETWEEN;
        places->in_use--;
    }
}

void places_left(struct places *places, size_t place) {
    if (places->of[place].list == PLACE_BETWEEN) {
        places->of[place].address = 0;
        append(places, (uint32_t)place, PLACE_FREE);
    }
}
