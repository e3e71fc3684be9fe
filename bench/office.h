/* An invented office of three storeys that is written by a rule and read like any site file: rooms of 4 x 5 m in rows, a
 * door between each two neighbours, windows in front and at the back, two stairs, a cupboard in each room, a motion
 * detector in every second one (or, by radio, in each), a front door with a contact. Nobody works there. */
#ifndef LINTEL_BENCH_OFFICE_H
#define LINTEL_BENCH_OFFICE_H

#include <stdbool.h>
#include <stddef.h>

enum { OFFICE_STOREYS = 3, OFFICE_TEXT_MOST = 1 << 18 };

struct office {
    int side_x, side_y;
    bool radio;
    char text[OFFICE_TEXT_MOST];
    size_t length;
    size_t opening_count, detector_count;
};

/** side_x, side_y: rooms in a row and rows of a storey. */
void office_write(struct office *office, int side_x, int side_y, bool radio);

#endif
