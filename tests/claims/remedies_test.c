/* The mistakes of the dossier that need exploration over time, each built into a tiny house: the promise it
 * breaks, and a remedy that, applied afresh, mends it and harms no other routine. Common practice throughout. */
#include "tiny_house.h"

#include <stdio.h>
#include <stdlib.h>

enum { REFERENCE_MOST = 100000 };

/* ---- asking ----------------------------------------------------------------------------------------------------- */

static struct proof_answer ask_about(struct tiny *tiny, const struct site *site, size_t routine) {
    struct proof_answer answer = {0};
    const struct proof_options quick = {.no_margin = true};
    struct proof_routine *unfolded = ARENA_NEW(&tiny->arena, struct proof_routine);
    assert_non_null(unfolded);
    assert_true(proof_unfold(site, &tiny->routines[routine], unfolded, &tiny->problem).good);
    assert_true(proof_run(
            site, NULL, unfolded, &quick, tiny->arena.pages, &tiny->arena, &answer, &tiny->problem)
                        .good);
    return answer;
}

static size_t ask_all(
        struct tiny *tiny, const struct site *site, struct proof_answer answers[TINY_ROUTINES]) {
    for (size_t i = 0; i < tiny->site.routine_count; i++) {
        answers[i] = ask_about(tiny, site, i);
    }
    return tiny->site.routine_count;
}

/* "zones[1].hold" -> "hold"; the site file's reference knows it. "panel.entry-delays.front" -> "entry-delays". */
static void assert_place_is_known(struct tiny *tiny, struct text place) {
    char word[80];
    char key[90];
    char path[400];
    size_t index = 0;
    size_t length = 0;
    snprintf(word, sizeof word, "%.*s", TEXT_ARGS(place));
    const char *last = strrchr(word, ']');
    if (sscanf(word, "zones[%zu]", &index) == 1) {
        assert_true(index < tiny->site.zone_count);
    } else if (sscanf(word, "people[%zu]", &index) == 1) {
        assert_true(index < tiny->site.person_count);
    } else if (sscanf(word, "ways[%zu]", &index) == 1) {
        assert_true(index < tiny->site.way_count);
    } else if (sscanf(word, "doors[%zu]", &index) == 1) {
        assert_true(index < tiny->site.door_count);
        return;
    } else {
        assert_int_equal(strncmp(word, "panel.", 6), 0);
        last = word + 5;
    }
    assert_non_null(last);
    snprintf(key, sizeof key, "| `%s", strchr(last, '.') + 1);
    key[3 + strcspn(key + 3, ".")] = '\0';
    strcat(key, "`");
    snprintf(path, sizeof path, "%s/docs/site-file.md", getenv("LINTEL_SOURCE"));
    FILE *file = fopen(path, "r");
    char *text = calloc(1, REFERENCE_MOST);
    assert_non_null(file);
    assert_non_null(text);
    length = fread(text, 1, REFERENCE_MOST - 1, file);
    fclose(file);
    const bool known = length > 0 && strstr(text, key) != NULL;
    free(text);
    if (!known) {
        fail_msg("the reference has no %s", key);
    }
}

/* Routine 0 breaks the promise; a remedy is found, says what it is, costs and where, and is true. */
static struct proof_remedy assert_mended(struct tiny *tiny, enum proof_promise promise) {
    struct proof_answer before[TINY_ROUTINES];
    struct proof_answer after[TINY_ROUTINES];
    struct proof_remedy remedy = {0};
    bool found = false;
    const size_t count = ask_all(tiny, &tiny->site, before);
    assert_int_equal(before[0].verdict, PROOF_GOES_WRONG);
    assert_int_equal(before[0].promise, promise);
    assert_true(proof_find_remedy(&tiny->site, NULL, before, count, 0, NULL, tiny->arena.pages,
            &tiny->arena, &remedy, &found, &tiny->problem)
                        .good);
    assert_true(found);
    struct site changed = tiny->site;
    for (size_t i = 0; i < remedy.edit_count; i++) {
        const struct proof_edit *edit = &remedy.edits[i];
        assert_true(edit->says.length > 0 && edit->price.length > 0);
        assert_place_is_known(tiny, edit->place);
        assert_true(proof_edit_apply(&changed, edit, &tiny->arena, &changed, &tiny->problem).good);
    }
    ask_all(tiny, &changed, after);
    size_t well = 0;
    for (size_t i = 0; i < count; i++) {
        well += after[i].verdict == PROOF_GOES_WELL;
        assert_true(after[i].verdict == PROOF_GOES_WELL ||
                (i > 0 && before[i].verdict != PROOF_GOES_WELL));
    }
    assert_int_equal(remedy.routines_proven, well);
    assert_int_equal(remedy.routines_checked, count);
    assert_int_equal(remedy.answer.verdict, PROOF_GOES_WELL);
    return remedy;
}

static void assert_not_mended(struct tiny *tiny, enum proof_promise promise) {
    struct proof_answer before[TINY_ROUTINES];
    struct proof_remedy remedy = {0};
    bool found = true;
    const size_t count = ask_all(tiny, &tiny->site, before);
    assert_int_equal(before[0].promise, promise);
    assert_true(proof_find_remedy(&tiny->site, NULL, before, count, 0, NULL, tiny->arena.pages,
            &tiny->arena, &remedy, &found, &tiny->problem)
                        .good);
    assert_false(found);
}

static void assert_one_edit(const struct proof_remedy *remedy, enum proof_edit_kind kind) {
    assert_int_equal(remedy->edit_count, 1);
    assert_int_equal(remedy->edits[0].kind, kind);
}

/* ---- a house with a front door and a hall ------------------------------------------------------------------------ */

enum { FRONT, SIDE, DOOR_COUNT };
enum { Z_FRONT, Z_SIDE, Z_HALL, ZONE_COUNT };
enum { MOTHER, CHILD };

static void build(struct tiny *tiny) {
    const int contact = tiny_profile(tiny, SITE_CONTACT);
    const int motion = tiny_profile(tiny, SITE_MOTION);
    tiny_door(tiny);
    tiny_door(tiny);
    tiny_zone(tiny, SITE_ENTRY, FRONT, contact);
    tiny_zone(tiny, SITE_ENTRY, SIDE, contact);
    tiny_zone(tiny, SITE_FOLLOWER, SITE_NONE, motion);
    tiny_person(tiny, 1);
    tiny_person(tiny, 1);
    for (int door = 0; door < DOOR_COUNT; door++) {
        tiny->ways[door] = (struct site_way){.name = text_of("way"),
                .door = door,
                .keypad = 0,
                .closes = span_of(1, 3),
                .legs = {{.zone = Z_HALL, .door = SITE_NONE, .in = span_of(1, 2)}},
                .leg_count = 1,
                .last = span_of(2, 4)};
    }
    tiny->site.way_count = DOOR_COUNT;
}

static void behaves(struct tiny *tiny, int zone, enum site_behaviour behaviour) {
    tiny->zones[zone].behaviour = behaviour;
    for (int mode = 0; mode < SITE_MODE_MAX; mode++) {
        tiny->zones[zone].in[mode] = site_usual_in(behaviour, mode);
        tiny->zones[zone].delay[mode] = behaviour == SITE_ENTRY ? 0 : SITE_NONE;
    }
}

static void returns(struct tiny *tiny, size_t routine, int who, int way) {
    struct site_step *comes = tiny_step_of(tiny, routine, who, 0, 600, SITE_ACT_COME);
    comes->way = way;
    struct site_step *unsets = tiny_step_of(tiny, routine, who, 0, 0, SITE_ACT_UNSET);
    unsets->has_in = false;
    unsets->keypad = 0;
}

static void leaves(struct tiny *tiny, size_t routine, int who, int way) {
    struct site_step *sets = tiny_step_of(tiny, routine, who, 3, 6, SITE_ACT_SET);
    sets->mode = SITE_MODE_FULL;
    sets->keypad = 0;
    struct site_step *goes = tiny_step_of(tiny, routine, who, 1, 5, SITE_ACT_GO);
    goes->way = way;
}

static void a_well_programmed_house(struct tiny *tiny) {
    build(tiny);
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    returns(tiny, 1, MOTHER, FRONT);
}

/* ---- mistakes --------------------------------------------------------------------------------------------------- */

/* Dossier: child's side door perimeter; siren when school is out. */
static void the_side_door_is_perimeter(void **state) {
    struct tiny *tiny = *state;
    a_well_programmed_house(tiny);
    behaves(tiny, Z_SIDE, SITE_PERIMETER);
    returns(tiny, 0, CHILD, SIDE);
    const struct proof_remedy remedy = assert_mended(tiny, PROOF_SIREN);
    assert_one_edit(&remedy, PROOF_EDIT_BEHAVIOUR);
    assert_int_equal(remedy.edits[0].zone, Z_SIDE);
    assert_int_equal(remedy.edits[0].behaviour, SITE_ENTRY);
}

/* The behaviour alone is not enough where the walk is long: a pair, the delay with it. */
static void the_side_door_needs_a_behaviour_and_a_time(void **state) {
    struct tiny *tiny = *state;
    a_well_programmed_house(tiny);
    behaves(tiny, Z_SIDE, SITE_PERIMETER);
    returns(tiny, 0, CHILD, SIDE);
    tiny->ways[SIDE].last = span_of(20, 30);
    const struct proof_remedy remedy = assert_mended(tiny, PROOF_SIREN);
    assert_int_equal(remedy.edit_count, 2);
    assert_int_equal(remedy.edits[0].kind, PROOF_EDIT_BEHAVIOUR);
    assert_int_equal(remedy.edits[1].kind, PROOF_EDIT_DELAY);
}

/* Dossier: entry 30 s, the walk takes 27 s, one mistype; siren on a rainy evening. */
static void the_walk_is_long_and_the_code_is_mistyped(void **state) {
    struct tiny *tiny = *state;
    a_well_programmed_house(tiny);
    struct site_step *comes = tiny_step(tiny, MOTHER, 0, 0, SITE_ACT_COME);
    comes->way = SIDE;
    tiny->ways[SIDE].last = span_of(8, 12);
    struct site_step *mistypes = tiny_step(tiny, MOTHER, 4, 6, SITE_ACT_MISTYPE);
    mistypes->maybe = true;
    tiny_unsets(tiny, MOTHER, 4, 9);
    const struct proof_remedy remedy = assert_mended(tiny, PROOF_SIREN);
    assert_one_edit(&remedy, PROOF_EDIT_DELAY);
    assert_true(remedy.edits[0].seconds_s > TINY_ENTRY_S && remedy.edits[0].seconds_s <= 45);
    assert_true(remedy.answer.has_margin && remedy.answer.margin_s > 0);
}

/* What is offered can be keyed in: on the panel's steps, of its values, of its choices. */
static void a_remedy_is_one_that_the_panel_takes(void **state) {
    struct tiny *tiny = *state;
    a_well_programmed_house(tiny);
    tiny->ways[SIDE].last = span_of(20, 30);
    returns(tiny, 0, CHILD, SIDE);
    struct proof_remedy remedy = assert_mended(tiny, PROOF_SIREN);
    assert_one_edit(&remedy, PROOF_EDIT_DELAY);
    assert_int_equal(remedy.edits[0].seconds_s, 50);
    tiny->site.panel.steps[SITE_SET_ENTRY_DELAY] = 20;
    remedy = assert_mended(tiny, PROOF_SIREN);
    assert_one_edit(&remedy, PROOF_EDIT_DELAY);
    assert_int_equal(remedy.edits[0].seconds_s, 60);
}

/* Where the panel has no longer delay, a fob makes up for the seconds at the keypad. */
static void a_fob_saves_the_seconds_of_the_code(void **state) {
    struct tiny *tiny = *state;
    a_well_programmed_house(tiny);
    tiny->site.panel.entry_delay = span_of(0, TINY_ENTRY_S);
    tiny->ways[SIDE].last = span_of(10, 16);
    returns(tiny, 0, CHILD, SIDE);
    const struct proof_remedy remedy = assert_mended(tiny, PROOF_SIREN);
    assert_one_edit(&remedy, PROOF_EDIT_FOB);
    assert_int_equal(remedy.edits[0].person, CHILD);
}

/* And where the walk alone is too long, the keypad goes to the door. */
static void a_keypad_by_the_door_saves_the_walk(void **state) {
    struct tiny *tiny = *state;
    a_well_programmed_house(tiny);
    tiny->site.panel.entry_delay = span_of(0, TINY_ENTRY_S);
    tiny->ways[SIDE].last = span_of(30, 40);
    returns(tiny, 0, CHILD, SIDE);
    const struct proof_remedy remedy = assert_mended(tiny, PROOF_SIREN);
    assert_one_edit(&remedy, PROOF_EDIT_KEYPAD);
    assert_int_equal(remedy.edits[0].way, SIDE);
}

/* Dossier: hall follower beats the radio door contact by a second. */
static void the_follower_beats_the_radio_contact(void **state) {
    struct tiny *tiny = *state;
    a_well_programmed_house(tiny);
    tiny->profiles[0].latency = span_of(0, 4);
    tiny->ways[FRONT].legs[0].in = span_of(1, 1);
    returns(tiny, 0, MOTHER, FRONT);
    tiny->routines[1].step_count = 0;
    const struct proof_remedy remedy = assert_mended(tiny, PROOF_SIREN);
    assert_one_edit(&remedy, PROOF_EDIT_HOLD);
    assert_int_equal(remedy.edits[0].zone, Z_HALL);
}

/* Dossier: hall motion interior instead of follower; siren at every return. */
static void the_hall_motion_is_interior(void **state) {
    struct tiny *tiny = *state;
    a_well_programmed_house(tiny);
    behaves(tiny, Z_HALL, SITE_INTERIOR);
    returns(tiny, 0, MOTHER, FRONT);
    assert_true(ask_about(tiny, &tiny->site, 0).always);
    const struct proof_remedy remedy = assert_mended(tiny, PROOF_SIREN);
    assert_one_edit(&remedy, PROOF_EDIT_BEHAVIOUR);
    assert_int_equal(remedy.edits[0].behaviour, SITE_FOLLOWER);
}

/* Dossier: night motion live on the way to the bathroom; siren at three. Glass-break live at night: dropped pan. */
static void the_landing_is_watched_at_night(void **state) {
    struct tiny *tiny = *state;
    a_well_programmed_house(tiny);
    tiny->zones[Z_HALL].in[SITE_MODE_NIGHT] = SITE_INTERIOR;
    tiny->routines[0].starts[0].mode = SITE_MODE_NIGHT;
    tiny_passes(tiny, CHILD, 0, 3600, Z_HALL);
    const struct proof_remedy remedy = assert_mended(tiny, PROOF_SIREN);
    assert_one_edit(&remedy, PROOF_EDIT_IN_MODE);
    assert_int_equal(remedy.edits[0].zone, Z_HALL);
    assert_int_equal(remedy.edits[0].mode, SITE_MODE_NIGHT);
    assert_int_equal(remedy.edits[0].behaviour, SITE_OUT);
}

/* Dossier: pet-tolerant motion with furniture the dog climbs. No setting mends that: it is a matter of the device. */
static void the_dog_climbs(void **state) {
    struct tiny *tiny = *state;
    a_well_programmed_house(tiny);
    behaves(tiny, Z_HALL, SITE_INTERIOR);
    tiny->people[CHILD].animal = true;
    tiny_passes(tiny, CHILD, 0, 3600, Z_HALL);
    tiny->site.routine_count = 1;
    assert_not_mended(tiny, PROOF_SIREN);
}

/* Dossier: pram and two children; door still open at the end of the exit time. */
static void the_door_is_open_at_the_end_of_the_exit_time(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    tiny_sets(tiny, MOTHER, 0, 0, SITE_MODE_FULL);
    tiny_opens(tiny, MOTHER, 20, 40, FRONT);
    tiny_closes(tiny, MOTHER, 15, 40, FRONT);
    leaves(tiny, 1, CHILD, SIDE);
    const struct proof_answer answer = ask_about(tiny, &tiny->site, 0);
    assert_true(answer.has_range); /* from the request to the closing */
    assert_int_equal(answer.can.interval[0].low_s, 54);
    assert_int_equal(answer.can.interval[0].high_s, 80);
    assert_int_equal(answer.always_when.interval[0].low_s, 67);
    const struct proof_remedy remedy = assert_mended(tiny, PROOF_EXIT_ERROR);
    assert_one_edit(&remedy, PROOF_EDIT_EXIT);
}

/* Dossier: leaves by a door without a zone; drops to part set, interior unguarded. */
static void leaves_by_a_door_without_a_zone(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    tiny->site.settings.drop_to_part = true;
    tiny->devices[Z_SIDE].door = SITE_NONE;
    leaves(tiny, 0, MOTHER, SIDE);
    leaves(tiny, 1, MOTHER, FRONT);
    const struct proof_remedy remedy = assert_mended(tiny, PROOF_DROPPED);
    assert_int_equal(remedy.edit_count, 1);
    assert_true(remedy.edits[0].kind == PROOF_EDIT_SWITCH ||
            remedy.edits[0].kind == PROOF_EDIT_CONTACT);
}

/* Dossier: visitor enters while the exit time runs; motion alarm. */
static void a_visitor_enters_while_the_exit_time_runs(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    tiny->site.settings.exit_restart = false;
    leaves(tiny, 0, MOTHER, FRONT);
    struct site_step *opens = tiny_opens(tiny, CHILD, 20, 25, SIDE);
    opens->after_step = 0;
    tiny_closes(tiny, CHILD, 1, 2, SIDE);
    tiny_passes(tiny, CHILD, 25, 45, Z_HALL);
    tiny_unsets(tiny, CHILD, 2, 5);
    leaves(tiny, 1, MOTHER, FRONT);
    const struct proof_remedy remedy = assert_mended(tiny, PROOF_SIREN);
    assert_true(remedy.edit_count == 1);
}

/* Dossier: forgotten keys, the one exit restart already spent; siren on the doorstep. */
static void forgotten_keys_twice(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    leaves(tiny, 0, MOTHER, FRONT);
    for (int time = 0; time < 2; time++) {
        tiny_opens(tiny, MOTHER, 10, 20, FRONT);
        tiny_closes(tiny, MOTHER, 20, 35, FRONT);
    }
    leaves(tiny, 1, MOTHER, SIDE);
    const struct proof_answer answer = ask_about(tiny, &tiny->site, 0);
    assert_true(answer.promise == PROOF_EXIT_ERROR || answer.promise == PROOF_SIREN);
    const struct proof_remedy remedy = assert_mended(tiny, answer.promise);
    assert_int_equal(remedy.edits[remedy.edit_count - 1].kind, PROOF_EDIT_EXIT);
}

/* Dossier: dog let out in part set; siren. */
static void the_dog_is_let_out_in_part_set(void **state) {
    struct tiny *tiny = *state;
    a_well_programmed_house(tiny);
    behaves(tiny, Z_SIDE, SITE_PERIMETER);
    tiny->routines[0].starts[0].mode = SITE_MODE_PART;
    tiny_opens(tiny, MOTHER, 0, 60, SIDE);
    tiny_closes(tiny, MOTHER, 1, 3, SIDE);
    tiny_unsets(tiny, MOTHER, 5, 20);
    const struct proof_remedy remedy = assert_mended(tiny, PROOF_SIREN);
    assert_one_edit(&remedy, PROOF_EDIT_IN_MODE);
    assert_int_equal(remedy.edits[0].mode, SITE_MODE_PART);
    assert_int_equal(remedy.edits[0].behaviour, SITE_ENTRY);
}

/* Dossier: cleaner's code lacks one area; alarm next door. */
static void the_cleaners_code_lacks_an_area(void **state) {
    struct tiny *tiny = *state;
    a_well_programmed_house(tiny);
    tiny->site.area_count = 2;
    tiny->site.keypad_count = 2;
    tiny->zones[Z_SIDE].area = 1;
    tiny->routines[0].starts[1] = (struct site_start){.set = true};
    tiny_opens(tiny, CHILD, 0, 60, SIDE);
    struct site_step *unsets = tiny_unsets(tiny, CHILD, 5, 20);
    unsets->keypad = 1;
    const struct proof_remedy remedy = assert_mended(tiny, PROOF_TURNED_AWAY);
    assert_one_edit(&remedy, PROOF_EDIT_CODE_AREA);
    assert_int_equal(remedy.edits[0].person, CHILD);
    assert_int_equal(remedy.edits[0].area, 1);
}

/* Design page: "Users have areas, modes, hours." */
static void the_childs_code_may_not_set_full(void **state) {
    struct tiny *tiny = *state;
    a_well_programmed_house(tiny);
    tiny->people[CHILD].modes = 1U << SITE_MODE_PART;
    tiny->routines[0].starts[0].set = false;
    tiny_sets(tiny, CHILD, 5, 20, SITE_MODE_FULL);
    tiny_opens(tiny, CHILD, 1, 20, SIDE);
    tiny_closes(tiny, CHILD, 1, 3, SIDE);
    const struct proof_remedy remedy = assert_mended(tiny, PROOF_REFUSED);
    assert_one_edit(&remedy, PROOF_EDIT_CODE_MODE);
    assert_int_equal(remedy.edits[0].person, CHILD);
    assert_int_equal(remedy.edits[0].mode, SITE_MODE_FULL);
}

/* A quarter of an hour earlier is tried before a whole day. */
static void the_child_comes_before_its_hours(void **state) {
    struct tiny *tiny = *state;
    a_well_programmed_house(tiny);
    tiny->people[CHILD].has_hours = true;
    tiny->people[CHILD].hours = span_of(7 * 3600, 19 * 3600);
    struct site_step *opens = tiny_opens(tiny, CHILD, 0, 0, SIDE);
    opens->has_at = true;
    opens->at = span_of(6 * 3600 + 3000, 6 * 3600 + 3300);
    tiny_unsets(tiny, CHILD, 5, 20);
    const struct proof_remedy remedy = assert_mended(tiny, PROOF_TURNED_AWAY);
    assert_one_edit(&remedy, PROOF_EDIT_HOURS);
    assert_int_equal(remedy.edits[0].hours.low_s, 6 * 3600 + 2700);
    assert_int_equal(remedy.edits[0].hours.high_s, 19 * 3600);
}

/* Dossier: single-pulse shock detector on a slamming door; siren. */
static void the_door_slams(void **state) {
    struct tiny *tiny = *state;
    a_well_programmed_house(tiny);
    tiny_zone(tiny, SITE_PERIMETER, FRONT, tiny_profile(tiny, SITE_SHOCK));
    tiny_opens(tiny, MOTHER, 0, 60, FRONT);
    tiny_closes(tiny, MOTHER, 1, 3, FRONT);
    tiny_unsets(tiny, MOTHER, 5, 20);
    tiny->routines[1].step_count = 0;
    const struct proof_remedy remedy = assert_mended(tiny, PROOF_SIREN);
    assert_one_edit(&remedy, PROOF_EDIT_PULSES);
}

/* Two motion detectors named for one room: one that trips by itself is mended by the pair. Common practice. */
static void a_detector_that_trips_alone_is_paired(void **state) {
    struct tiny *tiny = *state;
    a_well_programmed_house(tiny);
    const int motion = tiny_profile(tiny, SITE_MOTION);
    const int east = tiny_zone(tiny, SITE_INTERIOR, SITE_NONE, motion);
    const int west = tiny_zone(tiny, SITE_INTERIOR, SITE_NONE, motion);
    tiny->zones[east].name = text_of("parlour east");
    tiny->zones[west].name = text_of("parlour west");
    tiny->zones[east].cross_with = SITE_NONE;
    tiny->zones[west].cross_with = SITE_NONE;
    tiny_starts_set(tiny, 0, SITE_MODE_FULL);
    tiny_passes(tiny, MOTHER, 0, 60, east);
    const struct proof_remedy remedy = assert_mended(tiny, PROOF_SIREN);
    assert_one_edit(&remedy, PROOF_EDIT_CROSS);
    assert_int_equal(remedy.edits[0].partner, west);
    /* Named for two rooms, they are no pair. */
    tiny->zones[west].name = text_of("kitchen west");
    assert_not_mended(tiny, PROOF_SIREN);
}

/* Slow to the door: nobody is seen leaving before the exit time ends, so a longer one is offered. */
static void whoever_is_slow_to_the_door_gets_time(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    tiny->site.settings.drop_to_part = true;
    tiny_sets(tiny, MOTHER, 0, 5, SITE_MODE_FULL);
    tiny_opens(tiny, MOTHER, 50, 70, FRONT);
    tiny_closes(tiny, MOTHER, 1, 3, FRONT);
    const struct proof_remedy remedy = assert_mended(tiny, PROOF_DROPPED);
    assert_one_edit(&remedy, PROOF_EDIT_EXIT);
}

/* Nobody left, so it fell back to part: what is live in part only is mended there, not in full. */
static void what_trips_after_a_fall_back_is_mended_in_part(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    const int motion = tiny_zone(tiny, SITE_INTERIOR, SITE_NONE, tiny_profile(tiny, SITE_MOTION));
    tiny->zones[motion].in[SITE_MODE_FULL] = SITE_OUT;
    tiny->zones[motion].in[SITE_MODE_PART] = SITE_INTERIOR;
    tiny->site.settings.drop_to_part = true;
    tiny->routines[0].expects = SITE_EXPECT_REFUSED;
    tiny_sets(tiny, MOTHER, 0, 5, SITE_MODE_FULL);
    tiny_passes(tiny, MOTHER, 100, 120, motion);
    const struct proof_remedy remedy = assert_mended(tiny, PROOF_SIREN);
    assert_one_edit(&remedy, PROOF_EDIT_IN_MODE);
    assert_int_equal(remedy.edits[0].zone, motion);
    assert_int_equal(remedy.edits[0].mode, SITE_MODE_PART);
}

/* The warning comes after every postponement has been used: one more is offered. */
static void stocktaking_takes_one_more(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    const int motion = tiny_zone(tiny, SITE_INTERIOR, SITE_NONE, tiny_profile(tiny, SITE_MOTION));
    tiny->site.settings.auto_set_at_s = 21 * 3600;
    tiny->site.settings.auto_set_area = 0;
    tiny->site.settings.auto_warn_s = 600;
    tiny->site.settings.auto_postpone_s = 1800;
    tiny->site.settings.auto_postpone_count = 0;
    struct site_step *first = tiny_step(tiny, MOTHER, 0, 0, SITE_ACT_WAIT);
    first->has_at = true;
    first->at = span_of(20 * 3600, 20 * 3600);
    tiny_step(tiny, MOTHER, 3700, 3720, SITE_ACT_POSTPONE);
    tiny_passes(tiny, MOTHER, 700, 720, motion);
    const struct proof_remedy remedy = assert_mended(tiny, PROOF_SIREN);
    assert_one_edit(&remedy, PROOF_EDIT_SWITCH);
    assert_int_equal(remedy.edits[0].choice, PROOF_CHOICE_POSTPONE);
}

static void a_window_left_open_refuses(void **state) {
    struct tiny *tiny = *state;
    build(tiny);
    tiny->site.settings.entry_open_allowed = false;
    tiny->routines[0].doors_open = 1U << FRONT;
    leaves(tiny, 0, MOTHER, FRONT);
    const struct proof_remedy remedy = assert_mended(tiny, PROOF_REFUSED);
    assert_one_edit(&remedy, PROOF_EDIT_SWITCH);
    assert_int_equal(remedy.edits[0].choice, PROOF_CHOICE_ENTRY_OPEN);
}

/* What mends one routine and breaks another is not offered. */
static void a_remedy_that_harms_is_not_offered(void **state) {
    struct tiny *tiny = *state;
    a_well_programmed_house(tiny);
    behaves(tiny, Z_SIDE, SITE_PERIMETER);
    returns(tiny, 0, CHILD, SIDE);
    /* somebody else opens the side door and walks away, and expects just the siren: it announces no more */
    struct site_step *opens = tiny_step_of(tiny, 2, MOTHER, 0, 0, SITE_ACT_OPEN);
    opens->door = SIDE;
    tiny->routines[2].expects = SITE_EXPECT_SIREN | SITE_EXPECT_ALARM;
    struct proof_remedy remedy = assert_mended(tiny, PROOF_SIREN);
    assert_one_edit(&remedy, PROOF_EDIT_BEHAVIOUR);
    /* now a routine that goes well only because the side door is no entry: setting with it open is refused */
    tiny->routines[2].expects = SITE_EXPECT_REFUSED;
    tiny->routines[2].starts[0].set = false;
    tiny->routines[2].doors_open = 1U << SIDE;
    tiny->routines[2].step_count = 0;
    opens = tiny_step_of(tiny, 2, MOTHER, 0, 0, SITE_ACT_SET);
    assert_not_mended(tiny, PROOF_SIREN);
}

#define WITH_A_HOUSE(test) cmocka_unit_test_setup_teardown(test, tiny_setup, tiny_teardown)

int main(void) {
    const struct CMUnitTest tests[] = {
            WITH_A_HOUSE(the_side_door_is_perimeter),
            WITH_A_HOUSE(the_side_door_needs_a_behaviour_and_a_time),
            WITH_A_HOUSE(the_walk_is_long_and_the_code_is_mistyped),
            WITH_A_HOUSE(a_remedy_is_one_that_the_panel_takes),
            WITH_A_HOUSE(a_fob_saves_the_seconds_of_the_code),
            WITH_A_HOUSE(a_keypad_by_the_door_saves_the_walk),
            WITH_A_HOUSE(the_follower_beats_the_radio_contact),
            WITH_A_HOUSE(the_hall_motion_is_interior),
            WITH_A_HOUSE(the_landing_is_watched_at_night),
            WITH_A_HOUSE(the_dog_climbs),
            WITH_A_HOUSE(the_door_is_open_at_the_end_of_the_exit_time),
            WITH_A_HOUSE(leaves_by_a_door_without_a_zone),
            WITH_A_HOUSE(a_visitor_enters_while_the_exit_time_runs),
            WITH_A_HOUSE(forgotten_keys_twice),
            WITH_A_HOUSE(the_dog_is_let_out_in_part_set),
            WITH_A_HOUSE(the_cleaners_code_lacks_an_area),
            WITH_A_HOUSE(the_childs_code_may_not_set_full),
            WITH_A_HOUSE(the_child_comes_before_its_hours),
            WITH_A_HOUSE(the_door_slams),
            WITH_A_HOUSE(a_detector_that_trips_alone_is_paired),
            WITH_A_HOUSE(whoever_is_slow_to_the_door_gets_time),
            WITH_A_HOUSE(stocktaking_takes_one_more),
            WITH_A_HOUSE(what_trips_after_a_fall_back_is_mended_in_part),
            WITH_A_HOUSE(a_window_left_open_refuses),
            WITH_A_HOUSE(a_remedy_that_harms_is_not_offered),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
