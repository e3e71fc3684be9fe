/* What was said, cut into words, and the times of day in it. Not for use outside this folder. */
#ifndef LINTEL_WHY_SPOKEN_H
#define LINTEL_WHY_SPOKEN_H

#include "base/span.h"
#include "base/text.h"

#include <stdbool.h>
#include <stddef.h>

enum { SPOKEN_MAX = 64 };

/** Words in order. word: as they are compared, other spellings folded into one ("can't" is "cannot"); said: as they
 *  were typed. Both borrowed from the text, or constant. */
struct spoken {
    struct text word[SPOKEN_MAX];
    struct text said[SPOKEN_MAX];
    size_t count;
};

/** Cuts at blanks and commas, and takes off signs that people put around words. Gives false: more than SPOKEN_MAX. */
bool spoken_split(struct text said, struct spoken *words);

/** The same word but for upper and lower case. */
bool spoken_same(struct text a, struct text b);

/** How many words, from `at` on, spell the phrase; 0: they do not. */
size_t spoken_spells(const struct spoken *words, size_t at, struct text phrase);

/** A number at the beginning of `rest`, of `most` digits at most; moves on behind it. */
bool spoken_digits(struct text *rest, size_t most, int *ret_number);

/** Moves `rest` behind the string if it begins with it. */
bool spoken_skip(struct text *rest, const char *string);

/** Which half of the day a time is in. SURE: 03:10, 15:10, 3 am. SOFT: 3:10, as it stands unless a part of the day says
 *  otherwise. OPEN: ten past three, a part of the day must say it. */
enum spoken_half { HALF_SURE, HALF_SOFT, HALF_OPEN };

/** A clock time, of a minute or a second. clock: since midnight, both ends included. */
struct spoken_clock {
    struct span clock;
    enum spoken_half half;
};

/** What was said of the hour; of one time both are the same. */
struct spoken_time {
    struct spoken_clock from;
    struct spoken_clock to;
};

/** A time from word `at` on; gives the number of words, 0: none. Figures: 3:10, 3.10, 3 am, 03:05..03:20, "between 3:00
 *  and 3:20". Words: "ten past three", "3 o'clock"; a lone number only behind "at", "about" or the like, or before a
 *  part of the day. */
size_t spoken_find_time(const struct spoken *words, size_t at, struct spoken_time *ret_time);

/** From-to of a time, its high end past midnight where it runs into the next day. */
struct span spoken_span(const struct spoken_time *time);

/** A part of the day. clock: the hours that it stands for where no time is said. reads: where a time said with it must
 *  lie ("7 at night" is 19:00, "12 at night" midnight). Common usage; no standard has figures for it. */
struct spoken_part {
    const char *words;
    struct span clock;
    struct span reads;
};

/** The part of the day that is said from word `at` on, the longest; gives the number of words, 0: none. */
size_t spoken_find_part(const struct spoken *words, size_t at, const struct spoken_part **ret_part);

/** The night, of "Tuesday night". */
const struct spoken_part *spoken_night(void);

/** Puts a time into the half of the day that the part names ("3:10 in the afternoon" is 15:10). Gives false: the time
 *  is not in that part. */
bool spoken_settle(struct spoken_time *time, const struct spoken_part *part);

#endif
