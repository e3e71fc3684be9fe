#include "proof/acts.h"

#include <assert.h>

/* clang-format off */
static const struct act_kind KINDS[SITE_ACT_COUNT] = {
    /*                       on               does              keyed */
    [SITE_ACT_WAIT]       = {ACT_ON_NOTHING, ACT_DOES_NOTHING, false},
    [SITE_ACT_OPEN]       = {ACT_ON_DOOR,    ACT_DOES_MOVE,    false},
    [SITE_ACT_CLOSE]      = {ACT_ON_DOOR,    ACT_DOES_MOVE,    false},
    [SITE_ACT_PASS]       = {ACT_ON_ZONE,    ACT_DOES_MOVE,    false},
    [SITE_ACT_COME]       = {ACT_ON_NOTHING, ACT_DOES_NOTHING, false},
    [SITE_ACT_GO]         = {ACT_ON_NOTHING, ACT_DOES_NOTHING, false},
    [SITE_ACT_WALK]       = {ACT_ON_NOTHING, ACT_DOES_NOTHING, false},
    [SITE_ACT_UNSET]      = {ACT_ON_NOTHING, ACT_DOES_UNSET,   true},
    [SITE_ACT_SET]        = {ACT_ON_NOTHING, ACT_DOES_REQUEST, true},
    [SITE_ACT_MISTYPE]    = {ACT_ON_NOTHING, ACT_DOES_OTHER,   false},
    [SITE_ACT_PRESS]      = {ACT_ON_ZONE,    ACT_DOES_PRESS,   false},
    [SITE_ACT_BYPASS]     = {ACT_ON_ZONE,    ACT_DOES_OTHER,   true},
    [SITE_ACT_POSTPONE]   = {ACT_ON_NOTHING, ACT_DOES_OTHER,   true},
    [SITE_ACT_TAMPER]     = {ACT_ON_ZONE,    ACT_DOES_OTHER,   false},
    [SITE_ACT_MAINS_LOST] = {ACT_ON_NOTHING, ACT_DOES_OTHER,   false},
    [SITE_ACT_MAINS_BACK] = {ACT_ON_NOTHING, ACT_DOES_OTHER,   false},
    [SITE_ACT_JAMMED]     = {ACT_ON_NOTHING, ACT_DOES_OTHER,   false},
    [SITE_ACT_JAM_OVER]   = {ACT_ON_NOTHING, ACT_DOES_OTHER,   false},
    [SITE_ACT_PATH_LOST]  = {ACT_ON_NOTHING, ACT_DOES_OTHER,   false},
    [SITE_ACT_PATH_BACK]  = {ACT_ON_NOTHING, ACT_DOES_OTHER,   false},
};
/* clang-format on */

const struct act_kind *act_kind_of(enum site_act act) {
    assert(act < SITE_ACT_COUNT);
    return &KINDS[act];
}

bool act_is_on(const struct proof_step *step, int door, const struct panel_zones *zones,
        unsigned zone_count) {
    switch (act_kind_of(step->act)->on) {
    case ACT_ON_DOOR:
        return door != SITE_NONE && step->door == door;
    case ACT_ON_ZONE:
        return step->zone >= 0 && (unsigned)step->zone < zone_count &&
                panel_zones_has(zones, (unsigned)step->zone);
    case ACT_ON_NOTHING:
        break;
    }
    return false;
}
