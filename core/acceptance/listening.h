/* Where somebody has to stand and listen for the siren: no signal says whether it is heard. */
#ifndef LINTEL_ACCEPTANCE_LISTENING_H
#define LINTEL_ACCEPTANCE_LISTENING_H

#include "site/site.h"

/** room: of the building, SITE_NONE: not drawn. siren: the device that is meant, SITE_NONE: whichever sounds, where
 *  people sleep; without them the panel's own. */
struct acceptance_ear {
    int room;
    int siren;
};

/** How many there can be. */
size_t acceptance_listening_most(const struct site *site);

/** The rooms where people sleep: a bedroom by its name, or by a bed in it; where the file knows none, each siren where
 *  it stands, the panel's own last. None where nothing sounds. ret_ears: room for the most. House practice. */
size_t acceptance_listening(const struct site *site, struct acceptance_ear *ret_ears);

#endif
