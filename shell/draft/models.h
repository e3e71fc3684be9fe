/* What there is to know of a device before it is chosen: what it is, whether it speaks by radio, whether a panel takes
 * it. */
#ifndef LINTEL_DRAFT_MODELS_H
#define LINTEL_DRAFT_MODELS_H

#include "base/json.h"
#include "document/document.h"

/** suits: the panel hears it, or has a terminal for it. overlooks: it lets small animals pass. */
struct model {
    enum site_kind kind;
    enum site_sense sense;
    bool radio;
    bool curtain;
    bool overlooks;
    bool suits;
};

/** Reads the device's profile as site files are read. any_panel: the name of one that can be read, as a site file must
 *  have one; panel: the one that it is to suit. arena: for the text that is read. False: it cannot be read. */
bool model_read(const struct document_search *search, struct text any_panel,
        const struct site_panel_profile *panel, struct text profile, struct arena *arena,
        struct model *ret_model);

/** Every device that a site could get, as an array of objects of name, kind, senses, radio, curtain, overlooks,
 *  suits. document: a site that was read; search: where its profiles are. */
outcome models_add(const struct document *document, const struct document_search *search,
        struct json_writer *json, const char *name, struct problem *ret_problem) MUST_CHECK;

#endif
