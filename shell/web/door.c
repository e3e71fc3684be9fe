#include "web/door.h"

#include "host/host.h"

#include <stdio.h>
#include <string.h>

outcome door_make(struct door *ret_door, struct problem *ret_problem) {
    uint8_t bytes[DOOR_KEY_LENGTH / 2];
    struct door door = {0};
    TRY(host_random(bytes, sizeof bytes, ret_problem));
    for (size_t i = 0; i < sizeof bytes; i++) {
        (void)snprintf(door.key + 2 * i, 3, "%02x", bytes[i]);
    }
    *ret_door = door;
    return outcome_good();
}

void door_hang(
        struct door *door, const struct text *names, size_t count, bool secure, uint16_t port) {
    door->secure = secure;
    door->count = count < DOOR_NAMES_MOST ? count : DOOR_NAMES_MOST;
    (void)snprintf(door->cookie, sizeof door->cookie, "lintel-%u", port);
    for (size_t i = 0; i < door->count; i++) {
        (void)snprintf(door->hosts[i], sizeof door->hosts[i], "%.*s:%u", TEXT_ARGS(names[i]), port);
        (void)snprintf(door->origins[i], sizeof door->origins[i], "%s://%s",
                secure ? "https" : "http", door->hosts[i]);
    }
}

bool door_knows_host(const struct door *door, const char *host) {
    bool known = false;
    for (size_t i = 0; i < door->count && host != NULL; i++) {
        known = known || strcmp(host, door->hosts[i]) == 0;
    }
    return known;
}

bool door_knows_origin(const struct door *door, const char *origin) {
    bool known = false;
    for (size_t i = 0; i < door->count && origin != NULL; i++) {
        known = known || strcmp(origin, door->origins[i]) == 0;
    }
    return known;
}

bool door_fits_key(const struct door *door, const char *key) {
    unsigned difference = 0;
    if (key == NULL || strlen(key) != DOOR_KEY_LENGTH) {
        return false;
    }
    for (size_t i = 0; i < DOOR_KEY_LENGTH; i++) {
        difference |= (unsigned)(key[i] ^ door->key[i]);
    }
    return difference == 0;
}

void door_address(const struct door *door, char *ret_address, size_t most) {
    (void)snprintf(ret_address, most, "%s/?key=%s", door->origins[0], door->key);
}

void door_set_cookie(const struct door *door, char *ret_cookie, size_t most) {
    (void)snprintf(ret_cookie, most, "%s=%s; HttpOnly; SameSite=Strict; Path=/%s", door->cookie,
            door->key, door->secure ? "; Secure" : "");
}
