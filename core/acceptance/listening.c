/* Where somebody has to stand and listen for the siren. */
#include "acceptance/listening.h"

static char small(char letter) {
    return letter >= 'A' && letter <= 'Z' ? (char)(letter - 'A' + 'a') : letter;
}

static bool is_letter(char byte) {
    return small(byte) >= 'a' && small(byte) <= 'z';
}

/** Whether a word stands in it as a whole: "bed" in "Bed by the wall", not in "embedded". */
static bool has_word(struct text text, struct text word) {
    for (size_t i = 0; i + word.length <= text.length; i++) {
        size_t same = 0;
        while (same < word.length && small(text.start[i + same]) == word.start[same]) {
            same++;
        }
        const size_t after = i + word.length;
        if (same == word.length && (i == 0 || !is_letter(text.start[i - 1])) &&
                (after == text.length || !is_letter(text.start[after]))) {
            return true;
        }
    }
    return false;
}

static bool has_any(struct text text, const char *const *words, size_t count) {
    for (size_t i = 0; i < count; i++) {
        if (has_word(text, text_of(words[i]))) {
            return true;
        }
    }
    return false;
}

/* A room is slept in by what it is called, or by what stands in it. House practice. */
static const char *const room_words[] = {"bedroom", "bedrooms", "dormitory", "nursery", "sleeping"};
static const char *const bed_words[] = {"bed", "beds", "bunk", "bunks", "cot", "cots", "crib"};

static bool is_slept_in(const struct site_building *building, size_t room) {
    if (building->rooms[room].kind != SITE_ROOM) {
        return false;
    }
    bool slept = has_any(
            building->rooms[room].name, room_words, sizeof room_words / sizeof room_words[0]);
    for (size_t i = 0; i < building->furniture_count && !slept; i++) {
        slept = building->furniture[i].room == (int)room &&
                has_any(building->furniture[i].name, bed_words,
                        sizeof bed_words / sizeof bed_words[0]);
    }
    return slept;
}

static bool is_siren(const struct site *site, size_t device) {
    const int profile = site->devices[device].profile;
    return profile != SITE_NONE && site->device_profiles[profile].kind == SITE_SIREN;
}

static int room_of_device(const struct site_building *building, int device) {
    for (size_t i = 0; i < building->place_count; i++) {
        if (building->places[i].device == device) {
            return building->places[i].room;
        }
    }
    return SITE_NONE;
}

static int room_of_panel(const struct site_building *building) {
    for (size_t i = 0; i < building->place_count; i++) {
        if (building->places[i].fixture == SITE_FIXTURE_PANEL) {
            return building->places[i].room;
        }
    }
    return SITE_NONE;
}

size_t acceptance_listening_most(const struct site *site) {
    return site->building.room_count + site->device_count + 1;
}

size_t acceptance_listening(const struct site *site, struct acceptance_ear *ret_ears) {
    const struct site_building *building = &site->building;
    const bool own = (site->panel.built_in & SITE_BUILT_IN_SIREN) != 0;
    size_t sirens = 0;
    size_t count = 0;
    for (size_t i = 0; i < site->device_count; i++) {
        sirens += is_siren(site, i);
    }
    if (!own && sirens == 0) {
        return 0;
    }
    for (size_t i = 0; i < building->room_count; i++) {
        if (is_slept_in(building, i)) {
            ret_ears[count++] = (struct acceptance_ear){.room = (int)i, .siren = SITE_NONE};
        }
    }
    if (count > 0) {
        return count;
    }
    for (size_t i = 0; i < site->device_count; i++) {
        if (is_siren(site, i)) {
            ret_ears[count++] = (struct acceptance_ear){
                    .room = room_of_device(building, (int)i), .siren = (int)i};
        }
    }
    if (own) {
        ret_ears[count++] =
                (struct acceptance_ear){.room = room_of_panel(building), .siren = SITE_NONE};
    }
    return count;
}
