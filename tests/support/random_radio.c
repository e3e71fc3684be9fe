#include "support/random_radio.h"

#include "support/random_site.h"

#include <string.h>

enum { PEOPLE_MOST = 3, STEP_MOST = 12, DOOR_MOST = 3 };

struct draft {
    uint64_t state;
    struct arena *arena;
    struct site *site;
    struct site_step steps[PEOPLE_MOST][STEP_MOST];
    size_t step_count[PEOPLE_MOST];
    size_t coming[PEOPLE_MOST]; /* steps before anybody sets */
    bool sets[PEOPLE_MOST];
};

static int32_t draw(struct draft *draft, int32_t low, int32_t high) {
    return low + (int32_t)(random_next(&draft->state) % ((uint64_t)(high - low) + 1));
}

static bool chance(struct draft *draft, int32_t percent) {
    return draw(draft, 0, 99) < percent;
}

/* ---- the site --------------------------------------------------------------------------------------------------- */

static void set_devices(struct draft *draft) {
    struct site *site = draft->site;
    struct site_device_profile *contact = &site->device_profiles[0];
    struct site_device_profile *motion = &site->device_profiles[1];
    contact->radio = motion->radio = true;
    contact->latency = span_of(0, draw(draft, 0, 3));
    motion->latency = span_of(draw(draft, 0, 1), draw(draft, 1, 2));
    motion->hold = span_of(0, draw(draft, 0, 3));
    if (chance(draft, 60)) {
        const int32_t sleep_s = draw(draft, 1, 6);
        motion->sleep = span_of(sleep_s, sleep_s);
    }
    for (size_t i = 0; i < site->zone_count; i++) {
        site->zones[i].chime = chance(draft, 20);
    }
}

static void set_panel(struct draft *draft) {
    static const uint32_t EXPECTS[] = {0, 0, 0, SITE_EXPECT_SIREN,
            SITE_EXPECT_SIREN | SITE_EXPECT_ALARM, SITE_EXPECT_REFUSED, SITE_EXPECT_EXIT_ERROR,
            SITE_EXPECT_SIREN | SITE_EXPECT_ALARM | SITE_EXPECT_EXIT_ERROR};
    struct site *site = draft->site;
    site->settings.modes[SITE_MODE_FULL].exit_delay_s = draw(draft, 0, 8);
    site->settings.delays[0].seconds_s = draw(draft, 3, 9);
    site->settings.fob_way = chance(draft, 50) ? SITE_FOB_AT_ONCE : SITE_FOB_TIMED;
    if (chance(draft, 15)) {
        site->settings.completion = SITE_COMPLETE_FINAL_DOOR;
        site->settings.final_door_s = draw(draft, 1, 3);
    }
    if (chance(draft, 15)) {
        site->settings.swinger_limit = 1;
        for (size_t i = 0; i < site->zone_count; i++) {
            site->zones[i].swinger = true;
        }
    }
    site->routines[0].expects = EXPECTS[draw(draft, 0, 7)];
    if (chance(draft, 60)) {
        for (size_t area = 0; area < site->area_count; area++) {
            site->routines[0].starts[area] =
                    (struct site_start){.set = true, .mode = SITE_MODE_FULL};
        }
    }
}

static bool set_people(struct draft *draft) {
    static const char *const NAMES[PEOPLE_MOST] = {"first", "second", "third"};
    struct site *site = draft->site;
    const uint32_t all = (1U << site->area_count) - 1U;
    site->person_count = (size_t)draw(draft, 1, PEOPLE_MOST);
    site->people = ARENA_ARRAY(draft->arena, struct site_person, site->person_count);
    for (size_t i = 0; site->people != NULL && i < site->person_count; i++) {
        site->people[i] = (struct site_person){
                .name = text_of(NAMES[i]), .areas = chance(draft, 10) ? 1U : all, .has_code = true};
    }
    return site->people != NULL;
}

/* ---- what people do --------------------------------------------------------------------------------------------- */

static struct span draw_span(struct draft *draft) {
    const int32_t low = draw(draft, 0, 3);
    return span_of(low, low + (chance(draft, 50) ? 0 : draw(draft, 0, 3)));
}

static struct site_step *add_step(struct draft *draft, size_t who, enum site_act act) {
    if (draft->step_count[who] == STEP_MOST) {
        return &draft->steps[who][STEP_MOST - 1];
    }
    struct site_step *step = &draft->steps[who][draft->step_count[who]++];
    *step = (struct site_step){.who = (int)who,
            .in = draw_span(draft),
            .has_in = true,
            .after_step = SITE_NONE,
            .when_area = SITE_NONE,
            .if_area = SITE_NONE,
            .act = act,
            .door = SITE_NONE,
            .zone = SITE_NONE,
            .way = SITE_NONE,
            .keypad = SITE_NONE};
    return step;
}

static void add_code(struct draft *draft, size_t who, enum site_act act) {
    struct site_step *step = add_step(draft, who, act);
    step->keypad = draw(draft, 0, (int32_t)draft->site->keypad_count - 1);
    step->mode = act == SITE_ACT_SET && chance(draft, 20) ? SITE_MODE_PART : SITE_MODE_FULL;
    step->use = act == SITE_ACT_SET && chance(draft, 25) ? SITE_USE_FOB : SITE_USE_CODE;
}

static void add_pass(struct draft *draft, size_t who) {
    const struct site *site = draft->site;
    const size_t first = (size_t)draw(draft, 0, (int32_t)site->zone_count - 1);
    for (size_t k = 0; k < site->zone_count; k++) {
        const size_t zone = (first + k) % site->zone_count;
        if (site->devices[site->zones[zone].device].door == SITE_NONE) {
            add_step(draft, who, SITE_ACT_PASS)->zone = (int)zone;
            return;
        }
    }
}

static void use_door(struct draft *draft, size_t who) {
    const int door = chance(draft, 60) ? 0 : draw(draft, 0, DOOR_MOST - 1);
    add_step(draft, who, SITE_ACT_OPEN)->door = door;
    if (chance(draft, 92)) {
        add_step(draft, who, SITE_ACT_CLOSE)->door = door;
    }
}

static void come(struct draft *draft, size_t who) {
    if (chance(draft, 75)) {
        use_door(draft, who);
        if (chance(draft, 50)) {
            add_pass(draft, who);
        }
        add_code(draft, who, SITE_ACT_UNSET);
    }
    const int32_t strolls = draw(draft, 0, 2);
    for (int32_t i = 0; i < strolls; i++) {
        if (chance(draft, 40)) {
            add_pass(draft, who);
        } else {
            use_door(draft, who);
        }
    }
    if (chance(draft, 30)) {
        add_step(draft, who, SITE_ACT_WAIT);
    }
    draft->coming[who] = draft->step_count[who];
}

static void go(struct draft *draft, size_t who) {
    add_code(draft, who, SITE_ACT_SET);
    if (chance(draft, 25)) {
        add_pass(draft, who);
    }
    if (chance(draft, 70)) {
        use_door(draft, who);
    }
    if (chance(draft, 25)) {
        use_door(draft, who);
        add_code(draft, who, SITE_ACT_UNSET);
    }
}

static void adorn(struct draft *draft, struct site_step *step) {
    static const enum site_sign SIGNS[] = {SITE_SIGN_READY, SITE_SIGN_NOT_READY, SITE_SIGN_UNSET,
            SITE_SIGN_CHIME, SITE_SIGN_ENTRY_TONE, SITE_SIGN_DOOR_OPEN};
    const bool device =
            step->act == SITE_ACT_OPEN || step->act == SITE_ACT_CLOSE || step->act == SITE_ACT_PASS;
    step->maybe = chance(draft, 5);
    if (chance(draft, 4)) {
        step->if_sign = SIGNS[draw(draft, 0, 5)];
        step->if_not = chance(draft, 40);
        if (step->if_sign == SITE_SIGN_DOOR_OPEN) {
            step->if_sign = step->door == SITE_NONE ? SITE_SIGN_NONE : SITE_SIGN_DOOR_OPEN;
        }
    }
    if (device && chance(draft, 3)) {
        step->message = chance(draft, 50) ? SITE_MESSAGE_LOST : SITE_MESSAGE_MAYBE_LOST;
    }
}

/* Whoever sets waits for the others, mostly: for their last step or an earlier one. */
static bool hand_over(struct draft *draft) {
    struct site *site = draft->site;
    struct site_routine *routine = &site->routines[0];
    size_t first[PEOPLE_MOST];
    size_t count = 0;
    for (size_t who = 0; who < site->person_count; who++) {
        first[who] = count;
        count += draft->step_count[who];
    }
    routine->steps = ARENA_ARRAY(draft->arena, struct site_step, count == 0 ? 1 : count);
    routine->step_count = count;
    if (routine->steps == NULL) {
        return false;
    }
    for (size_t who = 0; who < site->person_count; who++) {
        memcpy(&routine->steps[first[who]], draft->steps[who],
                draft->step_count[who] * sizeof(struct site_step));
        if (!draft->sets[who]) {
            continue;
        }
        for (size_t other = 0; other < site->person_count; other++) {
            const size_t waits = draft->coming[who] - 1 - other;
            if (other == who || draft->sets[other] || draft->coming[other] == 0 ||
                    chance(draft, 15)) {
                continue;
            }
            const size_t last = first[other] + draft->coming[other] - 1;
            const size_t after = chance(draft, 80) ? last : first[other];
            routine->steps[first[who] + waits].after_step = (int)after;
        }
    }
    return true;
}

bool random_radio_build(uint64_t number, struct arena *arena, struct site *ret_site) {
    const struct random_wish wish = {.family = RANDOM_PLAIN, .seed = number, .scale = 1};
    struct draft draft = {
            .state = number * 0x2545F4914F6CDD1DU + 99, .arena = arena, .site = ret_site};
    if (!random_site_build(&wish, arena, ret_site)) {
        return false;
    }
    set_devices(&draft);
    set_panel(&draft);
    if (!set_people(&draft)) {
        return false;
    }
    const size_t setter = (size_t)draw(&draft, 0, (int32_t)ret_site->person_count - 1);
    for (size_t who = 0; who < ret_site->person_count; who++) {
        come(&draft, who);
        draft.sets[who] = who == setter ? chance(&draft, 90) : chance(&draft, 10);
        if (draft.sets[who]) {
            for (size_t other = 0; other < ret_site->person_count; other++) {
                add_step(&draft, who, SITE_ACT_WAIT)->in = span_of(0, draw(&draft, 0, 1));
            }
            draft.coming[who] = draft.step_count[who];
            go(&draft, who);
        }
        for (size_t k = 0; k < draft.step_count[who]; k++) {
            adorn(&draft, &draft.steps[who][k]);
        }
    }
    return hand_over(&draft);
}
