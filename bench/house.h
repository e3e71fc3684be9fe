/* One invented house in which the benches' people come and go; every number of it can be asked for.
 *
 * Front door with an entry delay, a hall behind it that follows, a yard door that is an alarm at once, a flat upstairs
 * with a door and a landing of its own. Zones past the fifth are windows that nobody touches. */
#ifndef LINTEL_BENCH_HOUSE_H
#define LINTEL_BENCH_HOUSE_H

#include "site/site.h"

enum {
    HOUSE_PEOPLE_MOST = 6,
    HOUSE_STEPS_MOST = 12, /* of each person */
    HOUSE_ZONES_LEAST = 5,
};

/** What the people do. */
enum house_course {
    HOUSE_COMES_HOME, /* each comes in and unsets */
    HOUSE_LATE,       /* the same, but the code may come too late: goes wrong */
    HOUSE_DAY, /* each comes, stays and goes; when all have gone the first one sets and goes */
    HOUSE_ALARM, /* all may be late and tread where they should not: siren and alarm signal are announced */
    HOUSE_ALARM_DAY, /* the same; when all are done the first one unsets, sets and goes */
    HOUSE_FALSE_ALARM, /* each treads wrong, unsets, stays; the siren is announced, no signal may leave; last one sets */
    HOUSE_FREE, /* each comes, unsets, stays, sets and goes, as he likes: everything is announced */
    HOUSE_COURSE_COUNT
};

/** width_s: how wide each wait is, 0 .. 32000. steps: of each person, 2 .. HOUSE_STEPS_MOST. zones: HOUSE_ZONES_LEAST ..
 *  SITE_ZONE_MAX. radio: devices hold, sleep and take their time. */
struct house_wish {
    enum house_course course;
    size_t people;
    size_t steps;
    size_t zones;
    int32_t width_s;
    bool radio;
};

/** Builds the site with its one routine; arrays are in the arena. False: no memory. */
bool house_build(const struct house_wish *wish, struct arena *arena, struct site *ret_site);

#endif
