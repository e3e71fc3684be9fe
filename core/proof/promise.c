/* Which output of a panel breaks which promise. */
#include "proof/world.h"

enum { NOTHING_EXCUSES = 0 };

/* What a signal is to the household, and what a routine must announce for it to be expected. */
struct signal_row {
    enum proof_promise promise;
    uint32_t excused_by;
};

/* clang-format off */
static const struct signal_row signal_rows[EVENT_KIND_COUNT] = {
    [EVENT_INTRUSION]     = {PROOF_ALARM,      SITE_EXPECT_ALARM},
    [EVENT_CONFIRMED]     = {PROOF_ALARM,      SITE_EXPECT_ALARM},
    [EVENT_UNVERIFIED]    = {PROOF_ALARM,      SITE_EXPECT_ALARM},
    [EVENT_EXIT_ERROR]    = {PROOF_EXIT_ERROR, SITE_EXPECT_EXIT_ERROR},
    [EVENT_ENTRY_STARTED] = {PROOF_KEPT,       NOTHING_EXCUSES},
    [EVENT_CANCEL]        = {PROOF_KEPT,       NOTHING_EXCUSES},
    [EVENT_TAMPER]        = {PROOF_TROUBLE,    SITE_EXPECT_TROUBLE | SITE_EXPECT_ALARM},
    [EVENT_HOLD_UP]       = {PROOF_HOLD_UP,    SITE_EXPECT_HOLD_UP},
    [EVENT_MEDICAL]       = {PROOF_ALARM,      SITE_EXPECT_ALARM},
    [EVENT_DURESS]        = {PROOF_DURESS,     SITE_EXPECT_DURESS},
    [EVENT_FIRE]          = {PROOF_ALARM,      SITE_EXPECT_ALARM},
    [EVENT_GAS]           = {PROOF_ALARM,      SITE_EXPECT_ALARM},
    [EVENT_CO]            = {PROOF_ALARM,      SITE_EXPECT_ALARM},
    [EVENT_FLOOD]         = {PROOF_ALARM,      SITE_EXPECT_ALARM},
    [EVENT_COLD]          = {PROOF_ALARM,      SITE_EXPECT_ALARM},
    [EVENT_SET]           = {PROOF_KEPT,       NOTHING_EXCUSES},
    [EVENT_UNSET]         = {PROOF_KEPT,       NOTHING_EXCUSES},
    [EVENT_FORCED_SET]    = {PROOF_KEPT,       NOTHING_EXCUSES},
    [EVENT_FAIL_TO_SET]   = {PROOF_REFUSED,    SITE_EXPECT_REFUSED},
    [EVENT_ZONE_TROUBLE]  = {PROOF_TROUBLE,    SITE_EXPECT_TROUBLE},
    [EVENT_MASKED]        = {PROOF_TROUBLE,    SITE_EXPECT_TROUBLE},
    [EVENT_SUPERVISION]   = {PROOF_TROUBLE,    SITE_EXPECT_TROUBLE},
    [EVENT_LOW_BATTERY]   = {PROOF_TROUBLE,    SITE_EXPECT_TROUBLE},
    [EVENT_MAINS]         = {PROOF_TROUBLE,    SITE_EXPECT_TROUBLE},
    [EVENT_PANEL_BATTERY] = {PROOF_TROUBLE,    SITE_EXPECT_TROUBLE},
    [EVENT_PATH]          = {PROOF_TROUBLE,    SITE_EXPECT_TROUBLE},
    [EVENT_JAMMING]       = {PROOF_TROUBLE,    SITE_EXPECT_TROUBLE},
    [EVENT_SIGNALS_LOST]  = {PROOF_TROUBLE,    SITE_EXPECT_TROUBLE},
    [EVENT_LOCKOUT]       = {PROOF_TROUBLE,    SITE_EXPECT_TROUBLE},
    [EVENT_BYPASS]        = {PROOF_KEPT,       NOTHING_EXCUSES},
};
/* clang-format on */

static const struct signal_row message_rows[PANEL_MESSAGE_COUNT] = {
        [PANEL_SAYS_REFUSED] = {PROOF_REFUSED, SITE_EXPECT_REFUSED},
        [PANEL_SAYS_NO_BYPASS] = {PROOF_REFUSED, SITE_EXPECT_REFUSED},
        [PANEL_SAYS_NOT_YOURS] = {PROOF_TURNED_AWAY, SITE_EXPECT_REFUSED},
        [PANEL_SAYS_NOT_NOW] = {PROOF_TURNED_AWAY, SITE_EXPECT_REFUSED},
        [PANEL_SAYS_LOCKED] = {PROOF_TURNED_AWAY, SITE_EXPECT_REFUSED},
        [PANEL_SAYS_DROPPED_TO_PART] = {PROOF_DROPPED, SITE_EXPECT_REFUSED},
        [PANEL_SAYS_TROUBLE] = {PROOF_TROUBLE, SITE_EXPECT_TROUBLE},
};

static enum proof_promise unless(struct signal_row row, uint32_t expects) {
    return (row.excused_by & expects) != 0 ? PROOF_KEPT : row.promise;
}

/* A siren that a hold-up button starts belongs to the hold-up: whoever announces that announces both. */
static bool is_of_hold_up(const struct panel_program *program, const struct panel_output *output) {
    return output->why == PANEL_WHY_EXEMPT && output->zone < program->zone_count &&
            program->zones[output->zone].unset_behaviour == SITE_HOLD_UP;
}

static enum proof_promise sound_breaks(
        const struct panel_program *program, const struct panel_output *output, uint32_t expects) {
    if (output->sound == PANEL_SILENT) {
        return PROOF_KEPT;
    }
    if (is_of_hold_up(program, output)) {
        return unless(
                (struct signal_row){PROOF_SIREN, SITE_EXPECT_SIREN | SITE_EXPECT_HOLD_UP}, expects);
    }
    if (output->why == PANEL_WHY_EXIT_OPEN) {
        return unless((struct signal_row){PROOF_EXIT_ERROR, SITE_EXPECT_EXIT_ERROR}, expects);
    }
    return unless((struct signal_row){PROOF_SIREN, SITE_EXPECT_SIREN}, expects);
}

enum proof_promise world_promise_broken(
        const struct panel_program *program, const struct panel_output *output, uint32_t expects) {
    switch (output->kind) {
    case PANEL_OUT_SOUND:
        return sound_breaks(program, output, expects);
    case PANEL_OUT_SIGNAL:
        return output->event.restore ? PROOF_KEPT
                                     : unless(signal_rows[output->event.kind], expects);
    case PANEL_OUT_SAYS:
        return unless(message_rows[output->message], expects);
    case PANEL_OUT_INSIDE:
        return output->on
                ? unless((struct signal_row){PROOF_WARNING,
                                 SITE_EXPECT_SIREN | SITE_EXPECT_ALARM | SITE_EXPECT_TROUBLE},
                          expects)
                : PROOF_KEPT;
    case PANEL_OUT_START:
    case PANEL_OUT_STOP:
    case PANEL_OUT_SHORTEN:
    case PANEL_OUT_CHIME:
    case PANEL_OUT_TONE:
    case PANEL_OUT_LOG:
    case PANEL_OUT_QUEUED: /* has not left */
    case PANEL_OUT_COUNT:
        break;
    }
    return PROOF_KEPT;
}

uint32_t world_violation(enum proof_promise promise, const struct panel_output *output) {
    return (uint32_t)promise | (uint32_t)output->zone << 8 | (uint32_t)output->area << 16 |
            (uint32_t)output->why << 24;
}

enum proof_promise world_violation_promise(uint32_t violation) {
    return (enum proof_promise)(violation & 0xFFU);
}

uint8_t world_violation_zone(uint32_t violation) {
    return (uint8_t)(violation >> 8 & 0xFFU);
}

uint8_t world_violation_area(uint32_t violation) {
    return (uint8_t)(violation >> 16 & 0xFFU);
}

enum panel_reason world_violation_reason(uint32_t violation) {
    return (enum panel_reason)(violation >> 24);
}

const char *proof_promise_name(enum proof_promise promise) {
    static const char *const names[PROOF_PROMISE_COUNT] = {
            [PROOF_KEPT] = "nothing",
            [PROOF_SIREN] = "the siren",
            [PROOF_ALARM] = "an alarm signal",
            [PROOF_HOLD_UP] = "a hold-up signal",
            [PROOF_DURESS] = "a duress signal",
            [PROOF_TROUBLE] = "a trouble",
            [PROOF_EXIT_ERROR] = "an exit error",
            [PROOF_REFUSED] = "a refusal",
            [PROOF_TURNED_AWAY] = "a code that is not taken",
            [PROOF_DROPPED] = "a fall back to part",
            [PROOF_WARNING] = "an inside warning",
    };
    return names[promise];
}
