/* From what happened to the codes that say so, and back. The pairing of the two formats is ours: no standard prescribes
 * it; a panel may be set to others, which its profile then says. */
#ifndef LINTEL_SIGNALS_MEANING_H
#define LINTEL_SIGNALS_MEANING_H

#include "events/event.h"
#include "signals/contact_id.h"

/** Whose the event is, where its number is not simply the zone's. */
enum signal_whose {
    SIGNAL_OF_NUMBER, /* of the zone or user of its number, or of none */
    SIGNAL_OF_MODULE, /* of a module of the panel: the number is the module's */
    SIGNAL_OF_ITSELF, /* nobody did it: the panel did, of a zone that came too often */
};

/** What a signal says, of either format. kind EVENT_KIND_COUNT: nothing that Lintel follows up (a test report, a
 *  note of the panel's log). back: the end of the condition. still: reported before. */
struct signal_meaning {
    enum event_kind kind;
    bool back;
    bool still;
    enum signal_whose whose;
};

/** What a Contact ID event means. Source: the pairing table of docs/signals.md. */
struct signal_meaning signal_meaning_of_contact_id(
        enum contact_id_qualifier qualifier, uint16_t code);

/** What a SIA code means. */
struct signal_meaning signal_meaning_of_sia(struct text code);

/** What to say behind its kind: ", its end", ", still present" or "". */
const char *signal_meaning_state(struct signal_meaning meaning);

/** The Contact ID code and qualifier to say it by; false where the format has none (early warning of an entry). */
bool signal_contact_id_of(enum event_kind kind, bool back, enum contact_id_qualifier *ret_qualifier,
        uint16_t *ret_code);

/** The SIA code to say it by, or NULL. */
const char *signal_sia_of(enum event_kind kind, bool back);

#endif
