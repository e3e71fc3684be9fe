/* Sentences about a site, in the two word sets of the trade (uk: set, unset, mains; us: arm, disarm, AC).
 *
 * A sentence is a pattern: plain text in which {name} stands for something of the site ({zone}, {person}, {seconds}) or
 * for a word of the chosen set ({set}, {is-unset}, {mains}). What a user wrote goes in through such a name and is never
 * read as a pattern. The sentences of the panel and the proof are in check/words.h. */
#ifndef LINTEL_SITE_WORDS_H
#define LINTEL_SITE_WORDS_H

#include "base/text.h"
#include "site/site.h"

/** What a sentence speaks of: indexes of the site, SITE_NONE (areas: 0, seconds_s, least_s: -1) where there is none.
 *  named: {named}, a text put in as it is; count: {count}. */
struct words_about {
    int zone;
    int other_zone;
    int area;
    int person;
    int other_person;
    int door;
    int keypad;
    int mode;
    int delay;
    uint32_t areas;
    int32_t seconds_s;
    int32_t least_s;
    int count;
    enum site_behaviour behaviour;
    struct text named;
    struct text detail; /* {detail} and {other}: further texts, put in as they are */
    struct text other;
    struct text advice; /* {advice}: what to change */
};

/** About nothing yet. */
struct words_about words_about_nothing(void);

/** Adds the pattern's sentence. A {name} that is not known is a bug (asserted); one that the site has nothing for
 *  ("zone" of SITE_NONE) reads "somebody", "a zone", "an area" and so on. about: NULL = nothing. */
void words_add(struct text_builder *out, const struct site *site, const char *pattern,
        const struct words_about *about);
/** The same, built in the arena. */
struct text words_print(struct arena *arena, const struct site *site, const char *pattern,
        const struct words_about *about);

/** What a behaviour means: "no delay"; a static pattern, never NULL. */
const char *words_behaviour(enum site_behaviour behaviour);

/** "the baker"; a name that begins with a capital or ends in a number stands alone: "Robin", "adult 1". */
void words_add_named(struct text_builder *out, struct text name);

#endif
