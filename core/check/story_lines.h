/* The single lines of a story: what an act, a detector's news, a timer's end and each answer of the panel are called.
 * Part of story; nobody else includes it. */
#ifndef LINTEL_CHECK_STORY_LINES_H
#define LINTEL_CHECK_STORY_LINES_H

#include "check/story.h"

#include <assert.h>

/** A story being told. modes: the mode of each area as people know it, SITE_NONE while unset. clock_s: the instant
 *  that stands on the line before. */
struct teller {
    const struct site *site;
    const struct proof_answer *answer;
    enum story_form form;
    struct arena *arena;
    int modes[SITE_AREA_MAX];
    int32_t clock_s;
    struct story_line *lines;
    size_t count;
    size_t capacity;
};

/** A teller without lines that knows what was in force before line `end` of the answer's story. */
void teller_begin(struct teller *teller, const struct site *site, const struct proof_answer *answer,
        size_t end);
void teller_add(
        struct teller *teller, int32_t at_s, struct text what, struct text because, bool bad);

/** Index of the site of an output's area or zone; SITE_NONE where it names none. */
int teller_area(const struct teller *teller, uint8_t area);
int teller_zone(const struct teller *teller, uint8_t zone);
/** What the zone is in the mode of its area now; its own behaviour while unset or left out. zone: may be SITE_NONE. */
enum site_behaviour teller_behaviour(const struct teller *teller, int zone);
/** The timer whose length a reason speaks of; PANEL_TIMER_KIND_COUNT: none. */
enum panel_timer_kind teller_timer_of_reason(enum panel_reason why);

/** Whether the zone is open for as long as a thing is (a contact), rather than tripping. zone: an index of the
 *  site. */
bool is_level_zone(const struct site *site, int zone);

/** The act behind the latest news: the story's line in which somebody moved what this zone senses, where the last thing
 *  that was not an answer of the panel before line `end` is that zone's message; else SIZE_MAX. zone: may be
 *  SITE_NONE. */
size_t story_mover(
        const struct site *site, const struct proof_answer *answer, size_t end, int zone);

/** The line that heads the happening of the story's lines first .. end - 1. Nothing for one of answers only. */
void tell_head(struct teller *teller, size_t first, size_t end);
/** One answer or further news of it; only what the form wants. */
void tell_answer(struct teller *teller, size_t index, size_t first, size_t end);

/** Seconds of the latest start of a timer of this kind (and index, unless negative) before or at line `index`, and
 *  when that was; false: there was none. */
bool teller_find_start(const struct proof_answer *answer, enum panel_timer_kind kind,
        int timer_index, size_t index, int32_t *ret_seconds_s, int32_t *ret_at_s);

#endif
