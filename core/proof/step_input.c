/* What the panel is told by an act that speaks to it itself, rather than by way of a door or a detector. */
#include "proof/proof.h"

/* The areas that the code or fob acts on there, of those that are meant. */
static uint8_t areas_of(const struct site *site, const struct panel_program *program,
        const struct panel_state *state, const struct proof_step *step) {
    const uint8_t user = (uint8_t)step->who;
    if (step->use == SITE_USE_FOB) {
        const uint8_t own = program->user_areas[user];
        return step->areas == 0 ? own : (uint8_t)(step->areas & own);
    }
    const uint8_t keypad =
            step->keypad == SITE_NONE ? 0xFF : (uint8_t)site->keypads[step->keypad].areas;
    const uint8_t acts = panel_code_areas(program, state, user, keypad);
    return step->areas == 0 ? acts : (uint8_t)(step->areas & acts);
}

/* clang-format off */
static const struct {
    bool speaks;
    bool named; /* by somebody whom the panel knows */
    bool keyed;
    bool zoned;
    enum panel_input_kind kind;
} TOLD[SITE_ACT_COUNT] = {
    [SITE_ACT_UNSET]      = {.speaks = true, .named = true, .keyed = true, .kind = PANEL_IN_UNSET},
    [SITE_ACT_SET]        = {.speaks = true, .named = true, .keyed = true, .kind = PANEL_IN_SET},
    [SITE_ACT_MISTYPE]    = {.speaks = true, .named = true, .keyed = true, .kind = PANEL_IN_WRONG_CODE},
    [SITE_ACT_POSTPONE]   = {.speaks = true, .named = true, .keyed = true, .kind = PANEL_IN_POSTPONE},
    [SITE_ACT_BYPASS]     = {.speaks = true, .named = true, .zoned = true, .kind = PANEL_IN_BYPASS},
    [SITE_ACT_TAMPER]     = {.speaks = true, .zoned = true, .kind = PANEL_IN_TAMPER},
    [SITE_ACT_MAINS_LOST] = {.speaks = true, .kind = PANEL_IN_MAINS_LOST},
    [SITE_ACT_MAINS_BACK] = {.speaks = true, .kind = PANEL_IN_MAINS_BACK},
    [SITE_ACT_JAMMED]     = {.speaks = true, .kind = PANEL_IN_JAMMED},
    [SITE_ACT_JAM_OVER]   = {.speaks = true, .kind = PANEL_IN_JAM_OVER},
    [SITE_ACT_PATH_LOST]  = {.speaks = true, .kind = PANEL_IN_PATH_LOST},
    [SITE_ACT_PATH_BACK]  = {.speaks = true, .kind = PANEL_IN_PATH_BACK},
};
/* clang-format on */

bool proof_step_input(const struct site *site, const struct panel_program *program,
        const struct panel_state *state, const struct proof_step *step,
        struct panel_input *ret_input) {
    if (!TOLD[step->act].speaks) {
        return false;
    }
    *ret_input = (struct panel_input){.kind = TOLD[step->act].kind};
    if (TOLD[step->act].named) {
        ret_input->user = (uint8_t)step->who;
    }
    if (TOLD[step->act].zoned) {
        ret_input->zone = (uint8_t)step->zone;
    }
    if (TOLD[step->act].keyed) {
        ret_input->areas = areas_of(site, program, state, step);
        ret_input->mode = (uint8_t)step->mode;
        ret_input->source = (uint8_t)(step->use == SITE_USE_FOB ? PANEL_BY_FOB : PANEL_BY_KEYPAD);
        ret_input->acknowledged = !site->people[step->who].stops_at_faults;
    }
    return true;
}
