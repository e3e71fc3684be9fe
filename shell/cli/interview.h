/* The questions of `lintel new`, in order, from the site's name to the hours. */
#ifndef LINTEL_CLI_INTERVIEW_H
#define LINTEL_CLI_INTERVIEW_H

#include "cli/talk.h"
#include "document/document.h"
#include "draft/draft.h"

/** What the answers are held against. search: where profiles are. panels, devices: their names. */
struct interview {
    struct talk *talk;
    const struct document_search *search;
    const struct text *panels;
    size_t panel_count;
    const struct text *devices;
    size_t device_count;
    struct site_panel_profile panel; /* the chosen one; of its texts only the families are kept */
};

/** Asks everything, in one run of the talk. False: the talk does not go on. */
bool interview_run(struct interview *interview, struct draft *ret_draft);

#endif
