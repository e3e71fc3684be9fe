#include "signals/meaning.h"

/** How an event is said. qualifier: says it (the other of 1 and 3 says its end); sia, sia_back: NULL where the
 *  format has no code. */
struct saying {
    uint16_t code;
    enum contact_id_qualifier qualifier;
    const char *sia;
    const char *sia_back;
};

/* Derived from the meanings of both code tables (the dossier's pairing table). Code 0: no code says it. */
/* clang-format off */
static const struct saying sayings[EVENT_KIND_COUNT] = {
    [EVENT_INTRUSION]       = {130, CONTACT_ID_NEW,  "BA", "BR"},
    [EVENT_CONFIRMED]       = {139, CONTACT_ID_NEW,  "BV", NULL},
    [EVENT_UNVERIFIED]      = {378, CONTACT_ID_NEW,  "BG", NULL},
    [EVENT_EXIT_ERROR]      = {374, CONTACT_ID_NEW,  "EA", NULL},
    [EVENT_CANCEL]          = {406, CONTACT_ID_NEW,  "BC", NULL},
    [EVENT_TAMPER]          = {137, CONTACT_ID_NEW,  "TA", "TR"},
    [EVENT_HOLD_UP]         = {122, CONTACT_ID_NEW,  "HA", "HR"},
    [EVENT_MEDICAL]         = {100, CONTACT_ID_NEW,  "MA", "MR"},
    [EVENT_DURESS]          = {121, CONTACT_ID_NEW,  "HA", "HR"},
    [EVENT_FIRE]            = {110, CONTACT_ID_NEW,  "FA", "FR"},
    [EVENT_GAS]             = {151, CONTACT_ID_NEW,  "GA", "GR"},
    [EVENT_CO]              = {162, CONTACT_ID_NEW,  "GA", "GR"},
    [EVENT_FLOOD]           = {154, CONTACT_ID_NEW,  "WA", "WR"},
    [EVENT_COLD]            = {159, CONTACT_ID_NEW,  "ZA", "ZR"},
    [EVENT_SET]             = {401, CONTACT_ID_BACK, "CL", NULL},
    [EVENT_UNSET]           = {401, CONTACT_ID_NEW,  "OP", NULL},
    [EVENT_FORCED_SET]      = {456, CONTACT_ID_BACK, "CF", NULL},
    [EVENT_FAIL_TO_SET]     = {455, CONTACT_ID_NEW,  "CI", NULL},
    [EVENT_ZONE_TROUBLE]    = {380, CONTACT_ID_NEW,  "BT", "BJ"},
    [EVENT_SUPERVISION]     = {381, CONTACT_ID_NEW,  "BZ", NULL},
    [EVENT_LOW_BATTERY]     = {384, CONTACT_ID_NEW,  "XT", "XR"},
    [EVENT_MAINS]           = {301, CONTACT_ID_NEW,  "AT", "AR"},
    [EVENT_PANEL_BATTERY]   = {302, CONTACT_ID_NEW,  "YT", "YR"},
    [EVENT_PATH]            = {350, CONTACT_ID_NEW,  "YS", "YK"},
    [EVENT_JAMMING]         = {344, CONTACT_ID_NEW,  "XQ", "XH"},
    [EVENT_SIGNALS_LOST]    = {354, CONTACT_ID_NEW,  "YC", NULL},
    [EVENT_LOCKOUT]         = {461, CONTACT_ID_NEW,  "JA", NULL},
    [EVENT_BYPASS]          = {570, CONTACT_ID_NEW,  "BB", "BU"},
};

/* Understood as well. */
static const struct {
    uint16_t code;
    enum contact_id_qualifier qualifier;
    enum event_kind kind;
} more_contact_id[] = {
    {101, CONTACT_ID_NEW,  EVENT_MEDICAL},
    {111, CONTACT_ID_NEW,  EVENT_FIRE},
    {112, CONTACT_ID_NEW,  EVENT_FIRE},
    {114, CONTACT_ID_NEW,  EVENT_FIRE},
    {115, CONTACT_ID_NEW,  EVENT_FIRE},
    {120, CONTACT_ID_NEW,  EVENT_HOLD_UP},
    {123, CONTACT_ID_NEW,  EVENT_HOLD_UP},
    {124, CONTACT_ID_NEW,  EVENT_DURESS},
    {125, CONTACT_ID_NEW,  EVENT_DURESS},
    {131, CONTACT_ID_NEW,  EVENT_INTRUSION},
    {132, CONTACT_ID_NEW,  EVENT_INTRUSION},
    {133, CONTACT_ID_NEW,  EVENT_INTRUSION},
    {134, CONTACT_ID_NEW,  EVENT_INTRUSION},
    {135, CONTACT_ID_NEW,  EVENT_INTRUSION},
    {136, CONTACT_ID_NEW,  EVENT_INTRUSION},
    {140, CONTACT_ID_NEW,  EVENT_INTRUSION},
    {144, CONTACT_ID_NEW,  EVENT_TAMPER},
    {145, CONTACT_ID_NEW,  EVENT_TAMPER},
    {146, CONTACT_ID_NEW,  EVENT_INTRUSION},
    {147, CONTACT_ID_NEW,  EVENT_SUPERVISION},
    {156, CONTACT_ID_NEW,  EVENT_ZONE_TROUBLE},
    {311, CONTACT_ID_NEW,  EVENT_PANEL_BATTERY},
    {338, CONTACT_ID_NEW,  EVENT_LOW_BATTERY},
    {341, CONTACT_ID_NEW,  EVENT_TAMPER},
    {351, CONTACT_ID_NEW,  EVENT_PATH},
    {352, CONTACT_ID_NEW,  EVENT_PATH},
    {353, CONTACT_ID_NEW,  EVENT_PATH},
    {370, CONTACT_ID_NEW,  EVENT_ZONE_TROUBLE},
    {371, CONTACT_ID_NEW,  EVENT_ZONE_TROUBLE},
    {372, CONTACT_ID_NEW,  EVENT_ZONE_TROUBLE},
    {383, CONTACT_ID_NEW,  EVENT_TAMPER},
    {402, CONTACT_ID_BACK, EVENT_SET},
    {402, CONTACT_ID_NEW,  EVENT_UNSET},
    {403, CONTACT_ID_BACK, EVENT_SET},
    {403, CONTACT_ID_NEW,  EVENT_UNSET},
    {407, CONTACT_ID_BACK, EVENT_SET},
    {407, CONTACT_ID_NEW,  EVENT_UNSET},
    {408, CONTACT_ID_BACK, EVENT_SET},
    {409, CONTACT_ID_BACK, EVENT_SET},
    {409, CONTACT_ID_NEW,  EVENT_UNSET},
    {441, CONTACT_ID_BACK, EVENT_SET},
    {441, CONTACT_ID_NEW,  EVENT_UNSET},
    {454, CONTACT_ID_NEW,  EVENT_FAIL_TO_SET},
    {456, CONTACT_ID_NEW,  EVENT_FORCED_SET},
    {457, CONTACT_ID_NEW,  EVENT_EXIT_ERROR},
    {571, CONTACT_ID_NEW,  EVENT_BYPASS},
    {572, CONTACT_ID_NEW,  EVENT_BYPASS},
    {573, CONTACT_ID_NEW,  EVENT_BYPASS},
    {575, CONTACT_ID_NEW,  EVENT_BYPASS},
    {624, CONTACT_ID_NEW,  EVENT_SIGNALS_LOST},
};

static const struct {
    const char *code;
    enum event_kind kind;
    bool back;
} more_sia[] = {
    {"BH", EVENT_INTRUSION,     true},
    {"CA", EVENT_SET,           false},
    {"CG", EVENT_SET,           false},
    {"CQ", EVENT_SET,           false},
    {"CS", EVENT_SET,           false},
    {"EE", EVENT_EXIT_ERROR,    false},
    {"EJ", EVENT_TAMPER,        true},
    {"ES", EVENT_TAMPER,        false},
    {"FB", EVENT_BYPASS,        false},
    {"FU", EVENT_BYPASS,        true},
    {"KA", EVENT_FIRE,          false},
    {"KR", EVENT_FIRE,          true},
    {"LR", EVENT_PATH,          true},
    {"LT", EVENT_PATH,          false},
    {"NF", EVENT_FORCED_SET,    false},
    {"NL", EVENT_SET,           false},
    {"NR", EVENT_PATH,          true},
    {"NT", EVENT_PATH,          false},
    {"OA", EVENT_UNSET,         false},
    {"OC", EVENT_CANCEL,        false},
    {"OG", EVENT_UNSET,         false},
    {"OQ", EVENT_UNSET,         false},
    {"OR", EVENT_UNSET,         false},
    {"OS", EVENT_UNSET,         false},
    {"PA", EVENT_HOLD_UP,       false},
    {"PR", EVENT_HOLD_UP,       true},
    {"QA", EVENT_MEDICAL,       false},
    {"QR", EVENT_MEDICAL,       true},
    {"RT", EVENT_SIGNALS_LOST,  false},
    {"TB", EVENT_BYPASS,        false},
    {"TU", EVENT_BYPASS,        true},
    {"UA", EVENT_INTRUSION,     false},
    {"UJ", EVENT_ZONE_TROUBLE,  true},
    {"UR", EVENT_INTRUSION,     true},
    {"UT", EVENT_ZONE_TROUBLE,  false},
    {"YM", EVENT_PANEL_BATTERY, false},
};
/* Source: the code tables, data/signals ("module", "expansion", "automatic"); from memory, sure. */
static const struct {
    uint16_t code;
    const char *sia;
    enum signal_whose whose;
} not_of_number[] = {
    {145, "ES", SIGNAL_OF_MODULE},
    {338, NULL, SIGNAL_OF_MODULE},
    {341, "EJ", SIGNAL_OF_MODULE},
    {575, NULL, SIGNAL_OF_ITSELF},
};
/* clang-format on */

enum {
    NOT_OF_NUMBER_COUNT = sizeof not_of_number / sizeof not_of_number[0],
    MORE_CONTACT_ID_COUNT = sizeof more_contact_id / sizeof more_contact_id[0],
    MORE_SIA_COUNT = sizeof more_sia / sizeof more_sia[0],
};

static const struct signal_meaning nothing = {.kind = EVENT_KIND_COUNT};

/** Setting and unsetting are no condition and its end but two events, which the qualifier alone tells apart. */
static bool is_act(enum event_kind kind) {
    return kind == EVENT_SET || kind == EVENT_UNSET || kind == EVENT_FORCED_SET;
}

static enum signal_whose whose_contact_id(uint16_t code) {
    for (size_t i = 0; i < NOT_OF_NUMBER_COUNT; i++) {
        if (not_of_number[i].code == code) {
            return not_of_number[i].whose;
        }
    }
    return SIGNAL_OF_NUMBER;
}

static enum signal_whose whose_sia(struct text code) {
    for (size_t i = 0; i < NOT_OF_NUMBER_COUNT; i++) {
        if (not_of_number[i].sia != NULL && text_is(code, not_of_number[i].sia)) {
            return not_of_number[i].whose;
        }
    }
    return SIGNAL_OF_NUMBER;
}

/** Whether a row of this code speaks of this event, and how. */
static bool speaks(enum event_kind kind, enum contact_id_qualifier says,
        enum contact_id_qualifier qualifier, struct signal_meaning *ret_meaning) {
    bool still = qualifier == CONTACT_ID_STILL;
    bool same = qualifier == says || (still && !is_act(kind));
    *ret_meaning = (struct signal_meaning){.kind = kind, .back = !same, .still = still};
    return same || !is_act(kind);
}

struct signal_meaning signal_meaning_of_contact_id(
        enum contact_id_qualifier qualifier, uint16_t code) {
    struct signal_meaning meaning = nothing;
    for (int kind = 0; code != 0 && kind < EVENT_KIND_COUNT; kind++) {
        if (sayings[kind].code == code &&
                speaks((enum event_kind)kind, sayings[kind].qualifier, qualifier, &meaning)) {
            return meaning;
        }
    }
    for (size_t i = 0; i < MORE_CONTACT_ID_COUNT; i++) {
        if (more_contact_id[i].code == code &&
                speaks(more_contact_id[i].kind, more_contact_id[i].qualifier, qualifier,
                        &meaning)) {
            meaning.whose = whose_contact_id(code);
            return meaning;
        }
    }
    return nothing;
}

struct signal_meaning signal_meaning_of_sia(struct text code) {
    for (int kind = 0; kind < EVENT_KIND_COUNT; kind++) {
        const struct saying *said = &sayings[kind];
        if (said->sia != NULL && text_is(code, said->sia)) {
            return (struct signal_meaning){.kind = (enum event_kind)kind};
        }
        if (said->sia_back != NULL && text_is(code, said->sia_back)) {
            return (struct signal_meaning){.kind = (enum event_kind)kind, .back = true};
        }
    }
    for (size_t i = 0; i < MORE_SIA_COUNT; i++) {
        if (text_is(code, more_sia[i].code)) {
            return (struct signal_meaning){
                    .kind = more_sia[i].kind, .back = more_sia[i].back, .whose = whose_sia(code)};
        }
    }
    return nothing;
}

const char *signal_meaning_state(struct signal_meaning meaning) {
    return meaning.back ? ", its end" : meaning.still ? ", still present" : "";
}

bool signal_contact_id_of(enum event_kind kind, bool back, enum contact_id_qualifier *ret_qualifier,
        uint16_t *ret_code) {
    const struct saying *said = &sayings[kind];
    if (said->code == 0 || (back && is_act(kind))) {
        return false;
    }
    *ret_qualifier = back ? CONTACT_ID_BACK : said->qualifier;
    *ret_code = said->code;
    return true;
}

const char *signal_sia_of(enum event_kind kind, bool back) {
    return back ? sayings[kind].sia_back : sayings[kind].sia;
}
