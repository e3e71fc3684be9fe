/* What the files of this folder share. Not for others, who read why.h. */
#ifndef LINTEL_WHY_INSIDE_H
#define LINTEL_WHY_INSIDE_H

#include "why/why.h"

enum { WHY_DAY_S = 86400, WHY_MINUTE_S = 60 };

/** A kind of hypothesis as people read it. name: of the JSON. Patterns as in check/words.h, but for log, ask, test. */
struct why_kind_row {
    const char *name;
    const char *headline;
    const char *log;
    const char *ask;
    const char *test;
    const char *source;
    int accidents;
    bool of_zone; /* one about each zone: told once where the observation names none */
};
const struct why_kind_row *why_kind_row(enum why_kind kind);

/** How many accidents the hypothesis is made of. */
int why_accidents(const struct why_plan *plan, const struct why_hypothesis *hypothesis);

/** What makes a device of this kind trip though nobody is there, and how to see it. */
struct why_sense_row {
    const char *causes;
    const char *test;
    const char *source;
};
const struct why_sense_row *why_sense_row(enum site_sense sense);

/** What is observed, as people say it: the first of its words. */
const char *why_what_name(enum why_what what);

/** The goal of a question; keeps the question. site: the plan's. */
struct proof_goal why_goal(const struct why_plan *plan);

/** What a device at this zone senses; of a zone without a profile: a contact. */
enum site_sense why_sense(const struct site *site, int zone);
/** The zone's door, or SITE_NONE. */
int why_door_of(const struct site *site, int zone);
bool why_is_radio(const struct site *site, int zone);

#endif
