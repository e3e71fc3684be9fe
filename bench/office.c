#include "office.h"

#include <stdio.h>

enum { STOREYS = OFFICE_STOREYS, TEXT_MOST = OFFICE_TEXT_MOST, NAME_ROOM = 48 };

#define ADD(office, ...)                                                                           \
    ((office)->length += (size_t)snprintf(                                                         \
             (office)->text + (office)->length, TEXT_MOST - (office)->length, __VA_ARGS__))

static const char *room_name(int storey, int column, int row, char name[NAME_ROOM]) {
    snprintf(name, NAME_ROOM, "room %d-%d-%d", storey, column + 1, row + 1);
    return name;
}

static void write_rooms(struct office *office) {
    char own[NAME_ROOM];
    char other[NAME_ROOM];
    ADD(office, "  rooms:\n");
    for (int storey = 0; storey < STOREYS; storey++) {
        for (int i = 0; i < office->side_x * office->side_y; i++) {
            const int column = i % office->side_x;
            const int row = i / office->side_x;
            ADD(office, "    - {name: %s, size: 4 x 5 m, ", room_name(storey, column, row, own));
            if (storey > 0) {
                ADD(office, "above: %s}\n", room_name(storey - 1, column, row, other));
            } else if (column > 0) {
                ADD(office, "right-of: %s}\n", room_name(0, column - 1, row, other));
            } else if (row > 0) {
                ADD(office, "behind: %s}\n", room_name(0, 0, row - 1, other));
            } else {
                ADD(office, "storey: level 0}\n");
            }
        }
    }
}

/* Of one room: doors to the right and to the back, windows where it ends. */
static void write_openings_of(struct office *office, int storey, int column, int row) {
    char own[NAME_ROOM];
    char other[NAME_ROOM];
    room_name(storey, column, row, own);
    if (column + 1 < office->side_x) {
        ADD(office, "    - {room: %s, to: %s}\n", own, room_name(storey, column + 1, row, other));
        office->opening_count++;
    }
    if (row + 1 < office->side_y) {
        ADD(office, "    - {room: %s, to: %s}\n", own, room_name(storey, column, row + 1, other));
        office->opening_count++;
    }
    const bool windows[] = {row == 0 && (storey > 0 || column > 0), row + 1 == office->side_y};
    for (int i = 0; i < 2; i++) {
        if (windows[i] && !(i == 1 && column == 0)) {
            ADD(office, "    - {is: window, room: %s, wall: %s, name: window %s %d}\n", own,
                    i == 0 ? "front" : "back", own, i + 1);
            office->opening_count++;
        }
    }
}

static void write_openings(struct office *office) {
    ADD(office, "  openings:\n    - {door: front door, room: room 0-1-1, wall: front}\n");
    office->opening_count = 1;
    for (int storey = 0; storey < STOREYS; storey++) {
        for (int i = 0; i < office->side_x * office->side_y; i++) {
            write_openings_of(office, storey, i % office->side_x, i / office->side_x);
        }
    }
    char last[2][NAME_ROOM];
    room_name(1, office->side_x - 1, office->side_y - 1, last[0]);
    room_name(2, office->side_x - 1, office->side_y - 1, last[1]);
    ADD(office,
            "  stairs:\n"
            "    - {room: room 0-1-1, to: room 1-1-1, at: 0.1 x 1 m, size: 0.9 x 3 m, up: back}\n"
            "    - {room: %s, to: %s, at: 3 x 1 m, size: 0.9 x 3 m, up: back}\n",
            last[0], last[1]);
}

static bool has_detector(const struct office *office, int number) {
    return office->radio || number % 2 == 1;
}

static void write_things(struct office *office) {
    char own[NAME_ROOM];
    const int each = office->side_x * office->side_y;
    ADD(office, "  furniture:\n");
    for (int i = 0; i < STOREYS * each; i++) {
        room_name(i / each, i % each % office->side_x, i % each / office->side_x, own);
        ADD(office,
                "    - {name: cupboard, room: %s, at: 0 x 0 m, size: 1.2 x 0.6 m, height: 2 "
                "m}\n",
                own);
    }
    ADD(office,
            "  places:\n    - {keypad: keypad, room: room 0-1-1, wall: right, from-left: 0.6 m}\n"
            "    - {is: panel, room: room 0-2-1, wall: back, from-left: 0.5 m}\n");
    for (int i = 0; i < STOREYS * each; i++) {
        if (has_detector(office, i)) {
            room_name(i / each, i % each % office->side_x, i % each / office->side_x, own);
            ADD(office, "    - {device: motion %d, room: %s, corner: back right}\n", i, own);
        }
    }
    room_name(2, 0, office->side_y - 1, own);
    ADD(office,
            "    - {protects: records, room: %s, at: 1 x 1 m, takes: 10 min}\n"
            "    - {protects: samples, room: room 0-2-1, at: 1 x 1 m, takes: 10 min}\n",
            own);
}

void office_write(struct office *office, int side_x, int side_y, bool radio) {
    office->side_x = side_x;
    office->side_y = side_y;
    office->radio = radio;
    office->length = 0;
    office->detector_count = 0;
    ADD(office,
            "site: {name: Office, invented: yes, rules: [house]}\n"
            "panel: {profile: spinnaker-128, abort-window: 15 s, entry-delays: {front: 30 s}}\n"
            "areas: [{name: office}]\nkeypads: [{name: keypad}]\n"
            "doors: [{name: front door, outside: yes}]\ndevices:\n"
            "  - {name: front contact, profile: recessed-contact, on: front door}\n");
    for (int i = 0; i < STOREYS * side_x * side_y; i++) {
        if (has_detector(office, i)) {
            ADD(office, "  - {name: motion %d, profile: %s}\n", i,
                    radio ? "quarter-motion" : "wired-motion");
            office->detector_count++;
        }
    }
    ADD(office,
            "zones:\n  - {number: 1, says: front door, device: front contact, behaviour: entry}\n");
    for (int i = 0, number = 2; i < STOREYS * side_x * side_y; i++) {
        if (has_detector(office, i)) {
            ADD(office, "  - {number: %d, says: zone %d, device: motion %d, behaviour: interior}\n",
                    number, number, i);
            number++;
        }
    }
    ADD(office,
            "break-ins: {help-after: 3 min}\nbuilding:\n  inner-thickness: 100 mm\n"
            "  storeys: [{name: level 0, ceiling: 2.5 m}, {name: level 1}, {name: level 2}]\n");
    write_rooms(office);
    write_openings(office);
    write_things(office);
}
