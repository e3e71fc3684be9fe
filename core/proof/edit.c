/* A change of the site, made on a copy. */
#include "proof/proof.h"

static void behave(struct site *site, const struct proof_edit *edit) {
    struct site_zone *zone = &site->zones[edit->zone];
    zone->behaviour = edit->behaviour;
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        if (zone->in[mode] != SITE_OUT) {
            zone->in[mode] = edit->behaviour;
        }
        if (edit->behaviour == SITE_ENTRY) {
            zone->delay[mode] = edit->delay;
        }
    }
}

static void behave_in_mode(struct site *site, const struct proof_edit *edit) {
    struct site_zone *zone = &site->zones[edit->zone];
    zone->in[edit->mode] = edit->behaviour;
    if (edit->behaviour == SITE_ENTRY) {
        zone->delay[edit->mode] = edit->delay;
    }
}

static void choose(struct site_settings *settings, enum proof_choice choice) {
    switch (choice) {
    case PROOF_CHOICE_EXIT_RESTART:
        settings->exit_restart = true;
        break;
    case PROOF_CHOICE_SECOND_KEEP:
        settings->second_entry = SITE_SECOND_KEEP;
        break;
    case PROOF_CHOICE_ENTRY_OPEN:
        settings->entry_open_allowed = true;
        break;
    case PROOF_CHOICE_MOTION_FREE:
        settings->motion_blocks = false;
        break;
    case PROOF_CHOICE_FAULTS_IGNORED:
        settings->faults = SITE_FAULT_IGNORE;
        break;
    case PROOF_CHOICE_NO_DROP:
        settings->drop_to_part = false;
        break;
    case PROOF_CHOICE_COUNT:
        break;
    }
}

static void move_keypad(struct site *site, const struct proof_edit *edit) {
    struct site_way *way = &site->ways[edit->way];
    way->leg_count = 0;
    way->last = span_of(1, edit->seconds_s);
}

outcome proof_edit_apply(const struct site *site, const struct proof_edit *edit, struct arena *arena,
        struct site *ret_site, struct problem *ret_problem) {
    struct site copy;
    TRY(site_copy(site, arena, &copy, ret_problem));
    switch (edit->kind) {
    case PROOF_EDIT_BEHAVIOUR:
        behave(&copy, edit);
        break;
    case PROOF_EDIT_IN_MODE:
        behave_in_mode(&copy, edit);
        break;
    case PROOF_EDIT_DELAY:
        copy.settings.delays[edit->delay].seconds_s = edit->seconds_s;
        break;
    case PROOF_EDIT_EXIT:
        copy.settings.modes[edit->mode].exit_delay_s = edit->seconds_s;
        break;
    case PROOF_EDIT_CODE_AREA:
        copy.people[edit->person].areas |= 1U << (unsigned)edit->area;
        break;
    case PROOF_EDIT_FOB:
        copy.people[edit->person].has_fob = true;
        break;
    case PROOF_EDIT_KEYPAD:
        move_keypad(&copy, edit);
        break;
    case PROOF_EDIT_HOLD:
        copy.zones[edit->zone].hold_s = edit->seconds_s;
        break;
    case PROOF_EDIT_PULSES:
        copy.zones[edit->zone].pulse_count = edit->count;
        break;
    case PROOF_EDIT_SWITCH:
        choose(&copy.settings, edit->choice);
        break;
    case PROOF_EDIT_COUNT:
        break;
    }
    *ret_site = copy;
    return outcome_good();
}
