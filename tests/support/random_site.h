/* Small random sites, built in memory, for tests that hold one way of settling a routine against another.
 *
 * A number names a site for good: the same number gives the same site on every machine. The sites keep to what the
 * design page settles; where two readers of it would differ (a second person setting an area that is set already, an
 * interior contact open when nobody left), no such routine is made. Not for tests of the file reader: there is no
 * YAML. */
#ifndef LINTEL_TESTS_SUPPORT_RANDOM_SITE_H
#define LINTEL_TESTS_SUPPORT_RANDOM_SITE_H

#include "base/arena.h"
#include "base/text.h"
#include "site/site.h"

#include <stdbool.h>
#include <stdint.h>

/** What the site is made to try. The families after PLAIN are built to break reductions; see random_site.c. */
enum random_family {
    RANDOM_PLAIN,
    RANDOM_TRAP, /* the deciding instant comes from a timer that starts later (design page, "A trap") */
    RANDOM_TIES,    /* deadlines on the same second */
    RANDOM_CASCADE, /* timers started by the ends of timers */
    RANDOM_CHAIN,   /* many short steps, one after another */
    RANDOM_CHOICES, /* the verdict hangs on one choice of the panel: second entry, restart, hold, part, level, drop */
    RANDOM_KIOSK, /* two come in at about the same time, each may be late: which end broke it? No plain number has it */
    RANDOM_FAMILY_COUNT
};

/** Which site. scale: multiplies every time of it (1: as drawn; 0 counts as 1). reactions: steps may also wait for
 *  signs, look at them, or wait for another's step. no_tolerance: panel timers run exactly. users: the routine begins
 *  at a time of day, and people have hours and modes; all else is as without. lines: the path and the mains go and come
 *  back, the mains report is spread, the siren held back, openings must last; a trouble is announced. witnesses: a
 *  confirmation window, mostly with groups, and zones that do not report (so that the confirmed signal leaves by
 *  itself); a siren is announced. */
struct random_wish {
    enum random_family family;
    uint64_t seed;
    int32_t scale;
    bool reactions;
    bool no_tolerance;
    bool users;
    bool lines;
    bool witnesses;
};

/** The wish that a plain number stands for: families in turn, plain ones most often; some are scaled
 *  by 2, a quarter has reactions. */
struct random_wish random_wish_of(uint64_t number);

/** Builds the site: one routine (index 0) of at most two people, at most five zones and two areas, every array in the
 *  arena. False when the arena is out of memory. */
bool random_site_build(const struct random_wish *wish, struct arena *arena, struct site *ret_site);

/** The part of random_site_build that `users` wishes for. */
void random_site_draw_users(const struct random_wish *wish, struct site *site);

/** The part of random_site_build that `lines` wishes for. False when the arena is out of memory. */
bool random_site_draw_lines(const struct random_wish *wish, struct arena *arena, struct site *site);

/** The part of random_site_build that `witnesses` wishes for; nothing where it does not. */
void random_site_draw_witnesses(const struct random_wish *wish, struct site *site);

/** Over a site that is built: the path to the station is lost, and comes back or not; a trouble is announced, mostly.
 *  False when the arena is out of memory. */
bool random_site_draw_path(const struct random_wish *wish, struct arena *arena, struct site *site);

/** Over a site that is built: codes for some modes only, without hours. */
void random_site_draw_modes(const struct random_wish *wish, struct site *site);

/** The same site with zones and people in another order (chosen by `order`; 0: reversed); same meaning. */
bool random_site_permute(
        const struct site *site, uint64_t order, struct arena *arena, struct site *ret_site);

/** The site as a person reads it: settings, zones, steps. */
void random_site_print(const struct site *site, struct text_builder *out);

/** The next number of a seeded sequence (splitmix64, Steele, Lea and Flood 2014). */
uint64_t random_next(uint64_t *state);

#endif
