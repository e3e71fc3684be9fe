/* A remedy as edits of the site file, so that whoever shows it can make them. Part of check_remedy. */
#ifndef LINTEL_CHECK_REMEDY_EDITS_H
#define LINTEL_CHECK_REMEDY_EDITS_H

#include "check/check.h"

/** The edits of the remedy, in the arena (which notes a refusal). None: it cannot be done by writing alone. */
void remedy_edits(const struct site *site, const struct proof_remedy *remedy, struct arena *arena,
        const struct finding_edit **ret_edits, size_t *ret_count);

#endif
