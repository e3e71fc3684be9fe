/* Acceptance in words, and a panel's events as the data of a frame. */
#ifndef LINTEL_ACCEPTANCE_SAY_H
#define LINTEL_ACCEPTANCE_SAY_H

#include "acceptance/match.h"

/** An explanation: "zone 7 came; zone 6 was next". In the arena of the builder. */
void acceptance_say(const struct acceptance *acceptance, const struct acceptance_said *said,
        struct text_builder *out);

/** "intrusion", "intrusion, its end". */
void acceptance_say_event(struct event event, struct text_builder *out);

/** What came: "intrusion, zone 7", "its end" said with it. */
void acceptance_say_heard(const struct acceptance_heard *heard, struct text_builder *out);

/** What a test awaits: "intrusion 54 to 87 s after, and its end". */
void acceptance_say_awaited(const struct acceptance_test *test, struct text_builder *out);

/** How a panel says an event, as it stands in a frame: "#4021|1130 01 015", or in SIA codes. people are numbered from 1
 *  in the order of the file. test: whose signals it is among. Empty: the format has no word for it. */
struct text acceptance_data(const struct acceptance *acceptance, const struct acceptance_test *test,
        struct event event, bool sia, struct arena *arena);

/** The same of an event by itself. behaviour: of its zone when it came. */
struct text acceptance_event_data(const struct site *site, struct event event,
        enum site_behaviour behaviour, bool sia, struct arena *arena);

#endif
