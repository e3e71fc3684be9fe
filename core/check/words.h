/* Words: the sentences that people read, in the two word sets of the trade (uk: set, unset, mains; us: arm, disarm,
 * AC). Every message, reason, signal, timer, promise and act of the core has its words here and nowhere else.
 *
 * Sentences are patterns in tables; site/words.h says what a pattern is and prints it. */
#ifndef LINTEL_CHECK_WORDS_H
#define LINTEL_CHECK_WORDS_H

#include "base/text.h"
#include "panel/panel.h"
#include "proof/proof.h"
#include "site/site.h"
#include "site/words.h"

/** Patterns, one for every value of its enum; static texts, never NULL. */
const char *words_reason(enum panel_reason why); /* a full sentence without a full stop: why */
const char *words_reason_short(enum panel_reason why); /* the same beside a line of a story */
const char *words_message(enum panel_message message); /* what the keypad shows or says */
const char *words_signal(enum event_kind kind, bool restore);
const char *words_timer(enum panel_timer_kind kind);        /* "the entry time" */
const char *words_timer_ends(enum panel_timer_kind kind);   /* "the entry time ends" */
const char *words_timer_begins(enum panel_timer_kind kind); /* "a code within {seconds} stops it" */
const char *words_promise(enum proof_promise promise);      /* "{person} causes a false alarm" */
const char *words_verdict(enum proof_verdict verdict);      /* "goes well" */
const char *words_act(enum site_act act, enum site_use use); /* "{person} opens {door}" */
const char *words_mishap(enum proof_mishap mishap);          /* "{zone} trips by itself" */
const char *words_sign(
        enum site_sign sign, bool holds); /* "the entry tone sounds", "no entry tone sounds" */
const char *words_tone(enum panel_tone tone);
const char *words_sound(enum panel_sound sound);

/** An instant of a routine: "05:50:28" when it begins at a clock time (begins_s >= 0; a later day is not shown), else
 *  minutes and seconds since it began, "0:28", "1:02:03". */
void words_add_instant(struct text_builder *out, int32_t begins_s, int32_t at_s);

/** The signal as it is quoted in a story: "intrusion, zone 1"; "unset, baker". */
void words_add_signal(struct text_builder *out, const struct site *site, struct event event);

#endif
