/* Stories, from answers made by hand: what people read, letter by letter. */
#include "check/story.h"

#include "check/test_answer.h"

#include <stdio.h>

struct scene {
    struct test_site house;
    struct test_answer it;
};

static void scene_begin(struct scene *scene, enum site_words words) {
    test_site_fill(&scene->house, words);
}

static void check_story_at(
        struct scene *scene, enum story_form form, size_t width, const char *expected) {
    struct arena arena;
    struct text_builder out;
    struct story story;
    struct problem problem = {0};
    arena_init(&arena, test_pages(), 0);
    text_builder_init(&out, &arena);
    assert_true(
            story_tell(&scene->house.site, &scene->it.answer, form, &arena, &story, &problem).good);
    struct layout layout = {.out = &out, .width = width};
    story_lay_out(&story, 4, &layout);
    assert_string_equal(text_built(&out).start, expected);
    arena_finish(&arena);
}

static void check_story(struct scene *scene, enum story_form form, const char *expected) {
    check_story_at(scene, form, LAYOUT_WIDTH, expected);
}

/* shows: product page, "How it speaks": the perimeter door, the siren, the signal that leaves after the abort
 * window. */
static void tells_why_the_siren_sounds_and_when_the_signal_leaves(void **state) {
    (void)state;
    struct scene scene;
    scene_begin(&scene, SITE_WORDS_UK);
    test_side_door(&scene.it, &scene.house.routine);
    check_story(&scene, STORY_SHORT,
            "    05:31:00  shop is set (full); flat is unset\n"
            "    05:50:28  the apprentice opens the side door  zone 3 is perimeter: no delay\n"
            "  !           siren (shop)\n"
            "                \"intrusion, zone 3\" leaves at 05:50:58 unless unset before\n");
}

static void speaks_american_where_the_site_does(void **state) {
    (void)state;
    struct scene scene;
    scene_begin(&scene, SITE_WORDS_US);
    test_side_door(&scene.it, &scene.house.routine);
    check_story(&scene, STORY_SHORT,
            "    05:31:00  shop is armed (full); flat is disarmed\n"
            "    05:50:28  the apprentice opens the side door  zone 3 is perimeter: no delay\n"
            "  !           siren (shop)\n"
            "                \"intrusion, zone 3\" leaves at 05:50:58 unless disarmed before\n");
}

static void counts_from_the_start_without_a_clock(void **state) {
    (void)state;
    struct scene scene;
    scene_begin(&scene, SITE_WORDS_UK);
    test_side_door(&scene.it, &scene.house.routine);
    scene.it.answer.routine.begins_s = -1;
    check_story(&scene, STORY_SHORT,
            "     0:00  shop is set (full); flat is unset\n"
            "    19:28  the apprentice opens the side door  zone 3 is perimeter: no delay\n"
            "  !        siren (shop)\n"
            "             \"intrusion, zone 3\" leaves at 19:58 unless unset before\n");
}

static void says_that_nothing_is_sent_or_that_it_went(void **state) {
    (void)state;
    struct scene scene;
    scene_begin(&scene, SITE_WORDS_UK);
    test_side_door(&scene.it, &scene.house.routine);
    scene.house.zones[SIDE_ZONE].reports = false;
    check_story(&scene, STORY_SHORT,
            "    05:31:00  shop is set (full); flat is unset\n"
            "    05:50:28  the apprentice opens the side door  zone 3 is perimeter: no delay\n"
            "  !           siren (shop)          nothing is sent: zone 3 does not report\n");
    scene.house.zones[SIDE_ZONE].reports = true;
    scene.it.answer.story_count--; /* no abort window: the signal goes with the siren */
    struct panel_output *sent =
            test_output(&scene.it, 19 * 60 + 28, PANEL_OUT_SIGNAL, PANEL_WHY_EXEMPT);
    sent->event = (struct event){.kind = EVENT_TAMPER, .zone = SIDE_ZONE, .user = EVENT_NOBODY};
    check_story(&scene, STORY_SHORT,
            "    05:31:00  shop is set (full); flat is unset\n"
            "    05:50:28  the apprentice opens the side door  zone 3 is perimeter: no delay\n"
            "  !           siren (shop)          \"tamper, zone 3\" is sent at once\n");
}

/* The path to the station is down: nothing leaves before it is back. */
static void says_that_a_signal_waits_for_the_path(void **state) {
    (void)state;
    struct scene scene;
    scene_begin(&scene, SITE_WORDS_UK);
    test_answer_begin(&scene.it, &scene.house.routine, -1);
    (void)test_act(&scene.it, 5, BAKER, SITE_ACT_PATH_LOST);
    struct panel_output *lost = test_output(&scene.it, 5, PANEL_OUT_QUEUED, PANEL_WHY_FAULT);
    lost->event = (struct event){.kind = EVENT_PATH, .zone = EVENT_NO_ZONE, .user = EVENT_NOBODY};
    test_open(&scene.it, 10, BAKER, SIDE_DOOR);
    test_level(&scene.it, 10, SIDE_ZONE, true);
    test_siren(&scene.it, 10, SIDE_ZONE, PANEL_WHY_BEHAVIOUR);
    test_start(&scene.it, 10, PANEL_TIMER_ABORT, 30);
    check_story(&scene, STORY_SHORT,
            "    0:00  shop is set (full); flat is unset\n"
            "    0:05  the path to the station fails\n"
            "    0:10  the baker opens the side door  zone 3 is perimeter: no delay\n"
            "  !       siren (shop)\n"
            "            \"intrusion, zone 3\" leaves at 0:40 or, later, when the path is back,\n"
            "            unless unset before\n");
    struct panel_output *waits = test_output(&scene.it, 10, PANEL_OUT_QUEUED, PANEL_WHY_TAMPER);
    waits->zone = SIDE_ZONE;
    waits->event = (struct event){.kind = EVENT_TAMPER, .zone = SIDE_ZONE, .user = EVENT_NOBODY};
    check_story(&scene, STORY_FULL,
            "    0:00  shop is set (full); flat is unset\n"
            "    0:05  the path to the station fails\n"
            "          waits for the path: \"path to the station lost\"\n"
            "    0:10  the baker opens the side door  zone 3 opens\n"
            "  !       siren (shop)\n"
            "            zone 3 is perimeter: no delay; \"tamper, zone 3\" waits for the path\n"
            "          waits for the path: \"tamper, zone 3\"  zone 3: lid open, or loosened\n");
}

/* The siren waits: inside it sounds, and the reader learns for how long. */
static void says_how_long_the_siren_waits(void **state) {
    (void)state;
    struct scene scene;
    scene_begin(&scene, SITE_WORDS_UK);
    test_answer_begin(&scene.it, &scene.house.routine, -1);
    test_open(&scene.it, 10, BAKER, SIDE_DOOR);
    test_level(&scene.it, 10, SIDE_ZONE, true);
    struct panel_output *inside = test_output(&scene.it, 10, PANEL_OUT_INSIDE, PANEL_WHY_BEHAVIOUR);
    inside->on = true;
    inside->zone = SIDE_ZONE;
    test_start(&scene.it, 10, PANEL_TIMER_HOLD_BACK, 120);
    test_start(&scene.it, 10, PANEL_TIMER_ABORT, 30);
    test_line(&scene.it, PROOF_LINE_TIMER, 130)->timer =
            panel_timer_of(PANEL_TIMER_HOLD_BACK, SHOP);
    test_siren(&scene.it, 130, SIDE_ZONE, PANEL_WHY_HOLD_BACK);
    check_story(&scene, STORY_FULL,
            "    0:00  shop is set (full); flat is unset\n"
            "    0:10  the baker opens the side door  zone 3 opens\n"
            "          inside sounder\n"
            "            zone 3 is perimeter: no delay; the siren waits 2 min; \"intrusion,\n"
            "            zone 3\" leaves at 0:40 unless unset before\n"
            "    2:10  the siren's hold-back ends  2 min\n"
            "  !       siren (shop)          no code before the end of the siren's hold-back\n");
}

/* The baker comes in, mistypes and is too late. */
static void make_too_late(struct scene *scene) {
    scene_begin(scene, SITE_WORDS_UK);
    test_answer_begin(&scene->it, &scene->house.routine, -1);
    test_open(&scene->it, 5, BAKER, YARD_DOOR);
    test_level(&scene->it, 5, YARD_ZONE, true);
    test_start(&scene->it, 5, PANEL_TIMER_ENTRY, 30);
    test_tone(&scene->it, 5, PANEL_TONE_ENTRY);
    test_act(&scene->it, 7, BAKER, SITE_ACT_CLOSE)->door = YARD_DOOR;
    test_level(&scene->it, 7, YARD_ZONE, false);
    test_act(&scene->it, 9, BAKER, SITE_ACT_PASS)->zone = PASSAGE_ZONE;
    test_level(&scene->it, 9, PASSAGE_ZONE, true);
    test_level(&scene->it, 12, PASSAGE_ZONE, false);
    test_act(&scene->it, 20, BAKER, SITE_ACT_MISTYPE)->keypad = 0;
    test_output(&scene->it, 20, PANEL_OUT_SAYS, PANEL_WHY_CODE)->message = PANEL_SAYS_WRONG_CODE;
    test_line(&scene->it, PROOF_LINE_TIMER, 32)->timer = panel_timer_of(PANEL_TIMER_ENTRY, SHOP);
    test_siren(&scene->it, 32, YARD_ZONE, PANEL_WHY_ENTRY_OVER);
    test_start(&scene->it, 32, PANEL_TIMER_ABORT, 30);
}

static void keeps_only_what_leads_to_the_end(void **state) {
    (void)state;
    struct scene scene;
    make_too_late(&scene);
    check_story(&scene, STORY_SHORT,
            "    0:00  shop is set (full); flat is unset\n"
            "    0:05  the baker opens the yard door  entry tone: 30 s to unset\n"
            "    0:09  the baker passes zone 2 \"passage\"\n"
            "    0:20  the baker keys a wrong code at the passage keypad\n"
            "            the keypad shows: wrong code\n"
            "    0:32  the entry time ends   30 s by a clock that is fast: 27 s\n"
            "  !       siren (shop)\n"
            "            \"intrusion, zone 1\" leaves at 1:02 unless unset before\n");
}

static void tells_every_act_and_answer_in_full(void **state) {
    (void)state;
    struct scene scene;
    make_too_late(&scene);
    check_story(&scene, STORY_FULL,
            "    0:00  shop is set (full); flat is unset\n"
            "    0:05  the baker opens the yard door  zone 1 opens\n"
            "          entry tone            30 s to unset\n"
            "    0:07  the baker closes the yard door  zone 1 closes\n"
            "    0:09  the baker passes zone 2 \"passage\"  zone 2 trips\n"
            "    0:20  the baker keys a wrong code at the passage keypad\n"
            "          the keypad shows: wrong code\n"
            "    0:32  the entry time ends   30 s by a clock that is fast: 27 s\n"
            "  !       siren (shop)\n"
            "            no code before the end of the entry time; \"intrusion, zone 1\" leaves\n"
            "            at 1:02 unless unset before\n");
}

static void tells_times_drawn_and_timers_with_all(void **state) {
    (void)state;
    struct scene scene;
    make_too_late(&scene);
    check_story(&scene, STORY_ALL,
            "    0:00  shop is set (full); flat is unset\n"
            "    0:05  the baker opens the yard door  after 5 s of 1 to 3 s; zone 1 opens\n"
            "          entry tone            30 s to unset\n"
            "    0:07  the baker closes the yard door  after 2 s of 1 to 3 s; zone 1 closes\n"
            "    0:09  the baker passes zone 2 \"passage\"  after 2 s of 1 to 3 s; zone 2 trips\n"
            "    0:12  zone 2 \"passage\" is quiet again\n"
            "    0:20  the baker keys a wrong code at the passage keypad\n"
            "            after 11 s of 1 to 3 s\n"
            "          the keypad shows: wrong code\n"
            "    0:32  the entry time ends   30 s by a clock that is fast: 27 s\n"
            "  !       siren (shop)\n"
            "            no code before the end of the entry time; \"intrusion, zone 1\" leaves\n"
            "            at 1:02 unless unset before\n"
            "          a code within 30 s stops the signal\n");
}

static void tells_that_a_message_was_lost(void **state) {
    (void)state;
    for (int form = STORY_SHORT; form <= STORY_ALL; form++) {
        struct scene scene;
        struct arena arena;
        struct story story;
        bool told = false;
        scene_begin(&scene, SITE_WORDS_UK);
        test_side_door(&scene.it, &scene.house.routine);
        for (size_t i = 0; i < scene.it.answer.story_count; i++) {
            scene.it.lines[i].lost = scene.it.lines[i].kind == PROOF_LINE_ACT;
        }
        arena_init(&arena, test_pages(), 0);
        assert_true(story_tell(
                &scene.house.site, &scene.it.answer, (enum story_form)form, &arena, &story, NULL)
                            .good);
        for (size_t i = 0; i < story.count; i++) {
            /* Among other reasons, so it is looked for within; built texts end in NUL. */
            told = told ||
                    (story.lines[i].because.length > 0 &&
                            strstr(story.lines[i].because.start,
                                    "the radio message of this does not arrive") != NULL);
        }
        assert_true(told);
        arena_finish(&arena);
    }
}

static void tells_what_was_left_out_only_with_all(void **state) {
    (void)state;
    struct scene scene;
    scene_begin(&scene, SITE_WORDS_UK);
    test_side_door(&scene.it, &scene.house.routine);
    struct proof_step *step = test_act(&scene.it, 19 * 60 + 28, BAKER, SITE_ACT_CLOSE);
    step->door = YARD_DOOR;
    step->if_sign = SITE_SIGN_NOT_READY;
    scene.it.lines[scene.it.answer.story_count - 1].left_out = true;
    step = test_act(&scene.it, 19 * 60 + 28, ROBIN, SITE_ACT_MISTYPE);
    step->keypad = 0;
    step->maybe = true;
    scene.it.lines[scene.it.answer.story_count - 1].left_out = true;
    for (int form = STORY_SHORT; form <= STORY_ALL; form++) {
        struct arena arena;
        struct story story;
        size_t left_out = 0;
        arena_init(&arena, test_pages(), 0);
        assert_true(story_tell(
                &scene.house.site, &scene.it.answer, (enum story_form)form, &arena, &story, NULL)
                            .good);
        for (size_t i = 0; i < story.count; i++) {
            const struct story_line *line = &story.lines[i];
            if (text_is(line->what, "left out: the baker closes the yard door")) {
                assert_true(text_is(line->because, "the keypad does not show not ready"));
                left_out++;
            }
            if (text_is(line->what, "left out: Robin keys a wrong code at the passage keypad")) {
                assert_true(text_is(line->because, "it may happen or not"));
                left_out++;
            }
        }
        assert_int_equal(left_out, form == STORY_ALL ? 2 : 0);
        arena_finish(&arena);
    }
}

static void says_what_a_person_waited_for(void **state) {
    (void)state;
    struct scene scene;
    scene_begin(&scene, SITE_WORDS_UK);
    test_side_door(&scene.it, &scene.house.routine);
    struct proof_step *step = &scene.it.answer.routine.steps[0];
    step->when = SITE_SIGN_CHIME;
    step->if_sign = SITE_SIGN_SET;
    step->if_area = FLAT;
    step->if_not = true;
    check_story(&scene, STORY_SHORT,
            "    05:31:00  shop is set (full); flat is unset\n"
            "    05:50:28  the apprentice opens the side door\n"
            "                the chime was heard; flat is not set; zone 3 is perimeter: no\n"
            "                delay\n"
            "  !           siren (shop)\n"
            "                \"intrusion, zone 3\" leaves at 05:50:58 unless unset before\n");
}

/* The news of an older opening that arrives in the second of another act is not that act's. */
static void does_not_take_late_news_for_that_of_the_act(void **state) {
    (void)state;
    struct scene scene;
    scene_begin(&scene, SITE_WORDS_UK);
    test_answer_begin(&scene.it, &scene.house.routine, -1);
    test_open(&scene.it, 1, BAKER, YARD_DOOR);
    test_act(&scene.it, 2, BAKER, SITE_ACT_CLOSE)->door = YARD_DOOR;
    test_level(&scene.it, 2, YARD_ZONE, true);
    test_start(&scene.it, 2, PANEL_TIMER_ENTRY, 30);
    test_tone(&scene.it, 2, PANEL_TONE_ENTRY);
    check_story(&scene, STORY_FULL,
            "    0:00  shop is set (full); flat is unset\n"
            "    0:01  the baker opens the yard door\n"
            "    0:02  the baker closes the yard door\n"
            "          the panel learns: zone 1 \"yard door\" is open\n"
            "          entry tone            30 s to unset\n");
}

/* mistakes.md: hall follower beats the radio door contact by a second. */
static void finds_the_door_whose_message_was_overtaken(void **state) {
    (void)state;
    struct scene scene;
    scene_begin(&scene, SITE_WORDS_UK);
    test_answer_begin(&scene.it, &scene.house.routine, -1);
    test_open(&scene.it, 4, BAKER, YARD_DOOR);
    test_act(&scene.it, 5, BAKER, SITE_ACT_PASS)->zone = PASSAGE_ZONE;
    test_level(&scene.it, 5, PASSAGE_ZONE, true);
    test_siren(&scene.it, 5, PASSAGE_ZONE, PANEL_WHY_FOLLOWER_ALONE);
    struct story_cause cause = story_cause_of(&scene.house.site, &scene.it.answer);
    assert_int_equal(cause.overtaken, YARD_DOOR);
    assert_int_equal(cause.zone, PASSAGE_ZONE);
    assert_int_equal(cause.person, BAKER);
    assert_int_equal(cause.mode, SITE_MODE_FULL);
    assert_int_equal(cause.behaviour, SITE_FOLLOWER);
    /* A door that was heard, or that has no entry zone, was not overtaken. */
    scene.it.answer.routine.steps[0].door = SIDE_DOOR;
    cause = story_cause_of(&scene.house.site, &scene.it.answer);
    assert_int_equal(cause.overtaken, SITE_NONE);
}

/* The baker sets a second after the apprentice passed: the message is late, and the apprentice's all the same. */
static void tells_whose_late_message_it_was(void **state) {
    (void)state;
    struct scene scene;
    scene_begin(&scene, SITE_WORDS_UK);
    scene.house.routine.starts[SHOP].set = false;
    test_answer_begin(&scene.it, &scene.house.routine, -1);
    test_act(&scene.it, 4, APPRENTICE, SITE_ACT_PASS)->zone = PASSAGE_ZONE;
    test_act(&scene.it, 5, BAKER, SITE_ACT_SET)->areas = 1U << SHOP;
    test_level(&scene.it, 5, PASSAGE_ZONE, true);
    test_siren(&scene.it, 5, PASSAGE_ZONE, PANEL_WHY_FOLLOWER_ALONE);
    check_story(&scene, STORY_SHORT,
            "    0:00  shop and flat are unset\n"
            "    0:04  the apprentice passes zone 2 \"passage\"\n"
            "    0:05  the baker sets shop (full)\n"
            "          zone 2 \"passage\" trips\n"
            "            zone 2 is a follower, and no entry time runs for it\n"
            "  !       siren (shop)\n");
    assert_int_equal(story_cause_of(&scene.house.site, &scene.it.answer).person, APPRENTICE);
}

/* mistakes.md: leaves by a door without a zone. */
static void finds_the_door_that_nothing_watches(void **state) {
    (void)state;
    struct scene scene;
    scene_begin(&scene, SITE_WORDS_UK);
    scene.house.routine.starts[SHOP].set = false;
    test_answer_begin(&scene.it, &scene.house.routine, -1);
    test_act(&scene.it, 1, BAKER, SITE_ACT_SET)->keypad = 0;
    test_start(&scene.it, 1, PANEL_TIMER_EXIT, 60);
    test_open(&scene.it, 9, BAKER, SIDE_DOOR);
    test_line(&scene.it, PROOF_LINE_TIMER, 61)->timer = panel_timer_of(PANEL_TIMER_EXIT, SHOP);
    test_output(&scene.it, 61, PANEL_OUT_SAYS, PANEL_WHY_NOBODY_LEFT)->message =
            PANEL_SAYS_DROPPED_TO_PART;
    scene.it.lines[scene.it.answer.story_count - 1].bad = true;
    scene.it.answer.culprit = PANEL_WHY_NOBODY_LEFT;
    struct story_cause cause = story_cause_of(&scene.house.site, &scene.it.answer);
    assert_int_equal(cause.unwatched, SIDE_DOOR);
    assert_int_equal(cause.seconds_s, 60);
    check_story(&scene, STORY_SHORT,
            "    0:00  shop and flat are unset\n"
            "    0:01  the baker sets shop (full) at the passage keypad\n"
            "    0:09  the baker opens the side door\n"
            "    1:01  the exit time ends    60 s; nobody was seen leaving\n"
            "  !       shop falls back to part: what is inside stays unwatched\n");
    scene.house.zones[SIDE_ZONE].in[SITE_MODE_FULL] = SITE_ENTRY;
    cause = story_cause_of(&scene.house.site, &scene.it.answer);
    assert_int_equal(cause.unwatched, SITE_NONE);
}

/* Else the story reads as if the exit time still ran when the follower trips. */
static void tells_that_the_area_was_set_before_it_went_wrong(void **state) {
    (void)state;
    struct scene scene;
    scene_begin(&scene, SITE_WORDS_UK);
    scene.house.routine.starts[SHOP].set = false;
    test_answer_begin(&scene.it, &scene.house.routine, -1);
    test_act(&scene.it, 1, BAKER, SITE_ACT_SET)->keypad = 0;
    test_start(&scene.it, 1, PANEL_TIMER_EXIT, 60);
    test_line(&scene.it, PROOF_LINE_TIMER, 61)->timer = panel_timer_of(PANEL_TIMER_EXIT, SHOP);
    test_output(&scene.it, 61, PANEL_OUT_SAYS, PANEL_WHY_NONE)->message = PANEL_SAYS_SET;
    test_act(&scene.it, 65, BAKER, SITE_ACT_PASS)->zone = PASSAGE_ZONE;
    test_level(&scene.it, 65, PASSAGE_ZONE, true);
    test_siren(&scene.it, 65, PASSAGE_ZONE, PANEL_WHY_FOLLOWER_ALONE);
    check_story(&scene, STORY_SHORT,
            "    0:00  shop and flat are unset\n"
            "    0:01  the baker sets shop (full) at the passage keypad\n"
            "    1:01  the exit time ends    60 s; shop is set (full)\n"
            "    1:05  the baker passes zone 2 \"passage\"\n"
            "            zone 2 is a follower, and no entry time runs for it\n"
            "  !       siren (shop)\n");
}

/* panel page: "Shorten = end at min(remaining, new time)": what ends is the shorter time of the second door, counted
 * from there, and no clock is that fast. */
static void a_shortened_time_is_told_as_such(void **state) {
    (void)state;
    struct scene scene;
    scene_begin(&scene, SITE_WORDS_UK);
    test_answer_begin(&scene.it, &scene.house.routine, -1);
    test_open(&scene.it, 0, BAKER, YARD_DOOR);
    test_start(&scene.it, 0, PANEL_TIMER_ENTRY, 40);
    test_tone(&scene.it, 0, PANEL_TONE_ENTRY);
    test_open(&scene.it, 10, BAKER, SIDE_DOOR);
    test_start(&scene.it, 10, PANEL_TIMER_ENTRY, 20);
    scene.it.lines[scene.it.answer.story_count - 1].output.kind = PANEL_OUT_SHORTEN;
    test_line(&scene.it, PROOF_LINE_TIMER, 28)->timer = panel_timer_of(PANEL_TIMER_ENTRY, SHOP);
    test_siren(&scene.it, 28, YARD_ZONE, PANEL_WHY_ENTRY_OVER);
    assert_int_equal(story_cause_of(&scene.house.site, &scene.it.answer).seconds_s, 20);
    check_story(&scene, STORY_SHORT,
            "    0:00  shop is set (full); flat is unset\n"
            "          the baker opens the yard door  entry tone: 40 s to unset\n"
            "    0:10  the baker opens the side door  20 s to unset\n"
            "    0:28  the entry time ends   20 s by a clock that is fast: 18 s\n"
            "  !       siren (shop)\n");
    /* Remaining less than the new time: nothing changed. */
    scene.it.lines[4].output.seconds_s = 35;
    assert_int_equal(story_cause_of(&scene.house.site, &scene.it.answer).seconds_s, 40);
}

/* Else the customer asks: but I had closed it! */
static void tells_of_a_door_closed_too_late_for_setting(void **state) {
    (void)state;
    struct scene scene;
    scene_begin(&scene, SITE_WORDS_UK);
    scene.house.routine.starts[SHOP].set = false;
    test_answer_begin(&scene.it, &scene.house.routine, -1);
    test_open(&scene.it, 1, BAKER, SIDE_DOOR);
    test_level(&scene.it, 1, SIDE_ZONE, true);
    test_act(&scene.it, 90, BAKER, SITE_ACT_CLOSE)->door = SIDE_DOOR;
    test_act(&scene.it, 91, BAKER, SITE_ACT_SET)->keypad = 0;
    test_output(&scene.it, 91, PANEL_OUT_SAYS, PANEL_WHY_NOT_READY)->message = PANEL_SAYS_REFUSED;
    struct proof_line *last = &scene.it.lines[scene.it.answer.story_count - 1];
    last->bad = true;
    last->output.zone = SIDE_ZONE;
    scene.it.answer.promise = PROOF_REFUSED;
    scene.it.answer.culprit = PANEL_WHY_NOT_READY;
    scene.it.answer.culprit_zone = SIDE_ZONE;
    assert_int_equal(story_cause_of(&scene.house.site, &scene.it.answer).overtaken, SIDE_DOOR);
    check_story(&scene, STORY_SHORT,
            "    0:00  shop and flat are unset\n"
            "    0:01  the baker opens the side door\n"
            "    1:30  the baker closes the side door\n"
            "    1:31  the baker sets shop (full) at the passage keypad  zone 3 is open\n"
            "  !       the panel refuses to set\n"); /* the reason stands above, once */
    scene.it.answer.routine.steps[1].act = SITE_ACT_OPEN;
    assert_int_equal(story_cause_of(&scene.house.site, &scene.it.answer).overtaken, SITE_NONE);
}

static void refused_areas_are_those_where_the_code_is_not_valid(void **state) {
    (void)state;
    struct scene scene;
    scene_begin(&scene, SITE_WORDS_UK);
    test_answer_begin(&scene.it, &scene.house.routine, -1);
    scene.house.keypads[0].areas = 3;
    test_act(&scene.it, 1, BAKER, SITE_ACT_UNSET)->keypad = 0;
    assert_int_equal(story_cause_of(&scene.house.site, &scene.it.answer).areas, 1U << FLAT);
}

static void an_answer_without_a_story_tells_nothing(void **state) {
    (void)state;
    struct scene scene;
    scene_begin(&scene, SITE_WORDS_UK);
    test_answer_begin(&scene.it, &scene.house.routine, -1);
    check_story(&scene, STORY_SHORT, "");
    assert_int_equal(story_cause_of(&scene.house.site, &scene.it.answer).person, SITE_NONE);
}

static void no_line_is_wider_than_the_page(void **state) {
    (void)state;
    for (size_t width = 40; width <= LAYOUT_WIDTH_MOST; width++) {
        struct scene scene;
        struct arena arena;
        struct text_builder out;
        struct story story;
        make_too_late(&scene);
        arena_init(&arena, test_pages(), 0);
        text_builder_init(&out, &arena);
        assert_true(story_tell(&scene.house.site, &scene.it.answer, STORY_ALL, &arena, &story, NULL)
                            .good);
        struct layout layout = {.out = &out, .width = width};
        story_lay_out(&story, 4, &layout);
        const struct text text = text_built(&out);
        size_t columns = 0;
        for (size_t i = 0; i < text.length; i++) {
            columns = text.start[i] == '\n' ? 0 : columns + 1;
            assert_true(columns <= width);
        }
        arena_finish(&arena);
    }
}

/* Every page refused in turn: a clean refusal, nothing leaks (test_malloc watches). */
static void says_so_when_memory_runs_out(void **state) {
    (void)state;
    struct scene scene;
    make_too_late(&scene);
    size_t refused = 0;
    for (size_t limit = 1; limit < 200000; limit += 509) {
        struct arena arena;
        struct story story;
        struct problem problem = {0};
        arena_init(&arena, test_pages(), limit);
        if (!story_tell(&scene.house.site, &scene.it.answer, STORY_ALL, &arena, &story, &problem)
                        .good) {
            assert_int_equal(problem.kind, PROBLEM_MEMORY);
            refused++;
        }
        arena_finish(&arena);
    }
    assert_true(refused > 0);
}

/* shows: panel page, "End of exit": exit error: siren and its entry delay at once; the signal goes when that ends. */
static void an_exit_error_leaves_when_its_entry_time_ends(void **state) {
    (void)state;
    struct scene scene;
    scene_begin(&scene, SITE_WORDS_UK);
    scene.house.routine.starts[SHOP].set = false;
    test_answer_begin(&scene.it, &scene.house.routine, -1);
    test_act(&scene.it, 1, BAKER, SITE_ACT_SET)->keypad = 0;
    test_start(&scene.it, 1, PANEL_TIMER_EXIT, 60);
    test_tone(&scene.it, 1, PANEL_TONE_EXIT);
    test_open(&scene.it, 55, BAKER, YARD_DOOR);
    test_level(&scene.it, 55, YARD_ZONE, true);
    test_line(&scene.it, PROOF_LINE_TIMER, 61)->timer = panel_timer_of(PANEL_TIMER_EXIT, SHOP);
    test_output(&scene.it, 61, PANEL_OUT_STOP, PANEL_WHY_NONE)->timer =
            panel_timer_of(PANEL_TIMER_EXIT, SHOP);
    test_siren(&scene.it, 61, YARD_ZONE, PANEL_WHY_EXIT_OPEN);
    test_start(&scene.it, 61, PANEL_TIMER_ENTRY, 30);
    check_story(&scene, STORY_SHORT,
            "    0:00  shop and flat are unset\n"
            "    0:01  the baker sets shop (full) at the passage keypad\n"
            "            exit tone: 60 s to leave\n"
            "    0:55  the baker opens the yard door\n"
            "    1:01  the exit time ends    60 s; zone 1 is still open\n"
            "  !       siren (shop)\n"
            "            \"exit error, zone 1\" leaves at 1:31 unless unset before\n");
    /* The exit time that has just ended is not "stopped" besides. */
    check_story(&scene, STORY_ALL,
            "    0:00  shop and flat are unset\n"
            "    0:01  the baker sets shop (full) at the passage keypad\n"
            "            after 1 s of 1 to 3 s\n"
            "          exit tone             60 s to leave\n"
            "    0:55  the baker opens the yard door  after 54 s of 1 to 3 s; zone 1 opens\n"
            "    1:01  the exit time ends    60 s\n"
            "  !       siren (shop)\n"
            "            zone 1 is still open; \"exit error, zone 1\" leaves at 1:31 unless\n"
            "            unset before\n"
            "          30 s to unset\n");
}

static void a_tamper_alarm_is_held_as_tamper(void **state) {
    (void)state;
    struct scene scene;
    scene_begin(&scene, SITE_WORDS_UK);
    test_side_door(&scene.it, &scene.house.routine);
    scene.it.lines[2].output.why = PANEL_WHY_TAMPER;
    check_story(&scene, STORY_SHORT,
            "    05:31:00  shop is set (full); flat is unset\n"
            "    05:50:28  the apprentice opens the side door  zone 3: lid open, or loosened\n"
            "  !           siren (shop)\n"
            "                \"tamper, zone 3\" leaves at 05:50:58 unless unset before\n");
}

/* An abort window of an earlier alarm that is over says nothing of this siren, nor does a restore. */
static void a_window_that_is_over_promises_no_signal(void **state) {
    (void)state;
    struct scene scene;
    scene_begin(&scene, SITE_WORDS_UK);
    test_answer_begin(&scene.it, &scene.house.routine, -1);
    test_act(&scene.it, 1, BAKER, SITE_ACT_MISTYPE)->keypad = 0;
    test_start(&scene.it, 1, PANEL_TIMER_ABORT, 30);
    test_open(&scene.it, 40, BAKER, SIDE_DOOR);
    test_level(&scene.it, 40, SIDE_ZONE, true);
    test_siren(&scene.it, 40, SIDE_ZONE, PANEL_WHY_BEHAVIOUR);
    struct panel_output *restore = test_output(&scene.it, 40, PANEL_OUT_SIGNAL, PANEL_WHY_CODE);
    restore->event = (struct event){
            .kind = EVENT_INTRUSION, .zone = YARD_ZONE, .user = EVENT_NOBODY, .restore = true};
    check_story(&scene, STORY_SHORT,
            "    0:00  shop is set (full); flat is unset\n"
            "    0:01  the baker keys a wrong code at the passage keypad\n"
            "    0:40  the baker opens the side door  zone 3 is perimeter: no delay\n"
            "  !       siren (shop)\n");
}

static void what_goes_on_all_day_and_silence_are_not_told(void **state) {
    (void)state;
    struct scene scene;
    scene_begin(&scene, SITE_WORDS_UK);
    test_answer_begin(&scene.it, &scene.house.routine, -1);
    test_act(&scene.it, 3, BAKER, SITE_ACT_UNSET)->keypad = 0;
    test_start(&scene.it, 3, PANEL_TIMER_SUPERVISION, 43200);
    test_tone(&scene.it, 3, PANEL_TONE_ENTRY);
    scene.it.lines[scene.it.answer.story_count - 1].output.on = false;
    check_story(&scene, STORY_FULL,
            "    0:00  shop is set (full); flat is unset\n"
            "    0:03  the baker keys the code to unset at the passage keypad\n");
    check_story(&scene, STORY_ALL,
            "    0:00  shop is set (full); flat is unset\n"
            "    0:03  the baker keys the code to unset at the passage keypad\n"
            "            after 3 s of 1 to 3 s\n"
            "          entry tone stops\n");
}

static void areas_that_start_differently_are_told_apart(void **state) {
    (void)state;
    struct scene scene;
    scene_begin(&scene, SITE_WORDS_UK);
    test_side_door(&scene.it, &scene.house.routine);
    scene.house.routine.starts[FLAT] = (struct site_start){.set = true, .mode = SITE_MODE_NIGHT};
    scene.house.routine.doors_open = 1U << YARD_DOOR;
    check_story(&scene, STORY_SHORT,
            "    05:31:00  shop is set (full); flat is set (night); the yard door is open\n"
            "    05:50:28  the apprentice opens the side door  zone 3 is perimeter: no delay\n"
            "  !           siren (shop)\n"
            "                \"intrusion, zone 3\" leaves at 05:50:58 unless unset before\n");
}

/* A zone counts as what it is in the mode that holds: after a fall back to part, that of part. */
static void the_cause_knows_the_mode(void **state) {
    (void)state;
    struct scene scene;
    scene_begin(&scene, SITE_WORDS_UK);
    scene.house.zones[SIDE_ZONE].in[SITE_MODE_PART] = SITE_INTERIOR;
    scene.house.zones[SIDE_ZONE].in[SITE_MODE_NIGHT] = SITE_OUT;
    test_answer_begin(&scene.it, &scene.house.routine, -1);
    test_output(&scene.it, 1, PANEL_OUT_SAYS, PANEL_WHY_NOBODY_LEFT)->message =
            PANEL_SAYS_DROPPED_TO_PART;
    test_siren(&scene.it, 9, SIDE_ZONE, PANEL_WHY_BEHAVIOUR);
    struct story_cause cause = story_cause_of(&scene.house.site, &scene.it.answer);
    assert_int_equal(cause.mode, SITE_MODE_PART);
    assert_int_equal(cause.behaviour, SITE_INTERIOR);
    /* Out in this mode: what acts then is the zone's own behaviour. */
    scene.it.lines[0].output.message = PANEL_SAYS_READY;
    scene.house.routine.starts[SHOP].mode = SITE_MODE_NIGHT;
    cause = story_cause_of(&scene.house.site, &scene.it.answer);
    assert_int_equal(cause.mode, SITE_MODE_NIGHT);
    assert_int_equal(cause.behaviour, SITE_PERIMETER);
}

/* Design page, "Entry": "Users have areas, modes, hours." */
static void tells_of_hours(void **state) {
    (void)state;
    struct scene scene;
    scene_begin(&scene, SITE_WORDS_UK);
    scene.house.people[BAKER].has_hours = true;
    scene.house.people[BAKER].hours = span_of(22 * 3600, 30 * 3600 + 30 * 60);
    test_answer_begin(&scene.it, &scene.house.routine, 6 * 3600 + 30 * 60 - 10);
    struct proof_line *line = test_line(&scene.it, PROOF_LINE_HOURS, 10);
    line->person = BAKER;
    test_act(&scene.it, 12, BAKER, SITE_ACT_UNSET)->keypad = 0;
    struct panel_output *says = test_output(&scene.it, 12, PANEL_OUT_SAYS, PANEL_WHY_HOURS);
    says->message = PANEL_SAYS_NOT_NOW;
    says->event.user = BAKER;
    scene.it.lines[2].bad = true;
    scene.it.answer.promise = PROOF_TURNED_AWAY;
    scene.it.answer.culprit = PANEL_WHY_HOURS;
    check_story(&scene, STORY_FULL,
            "    06:29:50  shop is set (full); flat is unset\n"
            "    06:30:00  the hours of the baker end  22:00 to 06:30\n"
            "    06:30:02  the baker keys the code to unset at the passage keypad\n"
            "  !           the keypad shows: this code is not valid at this hour\n"
            "                taken from 22:00 to 06:30 only\n");
    check_story(&scene, STORY_SHORT,
            "    06:29:50  shop is set (full); flat is unset\n"
            "    06:30:02  the baker keys the code to unset at the passage keypad\n"
            "                taken from 22:00 to 06:30 only\n"
            "  !           the keypad shows: this code is not valid at this hour\n");
}

/* Design page, "Setting": a fault that does not stop it is logged: who, which fault. */
static void tells_what_is_written_to_the_log(void **state) {
    (void)state;
    struct scene scene;
    scene_begin(&scene, SITE_WORDS_US);
    test_answer_begin(&scene.it, &scene.house.routine, -1);
    scene.it.answer.verdict = PROOF_GOES_WELL;
    struct proof_step *sets = test_act(&scene.it, 8, BAKER, SITE_ACT_SET);
    sets->areas = 1U << SHOP;
    test_output(&scene.it, 8, PANEL_OUT_LOG, PANEL_WHY_ACKNOWLEDGED)->event =
            (struct event){.kind = EVENT_MAINS, .zone = EVENT_NO_ZONE, .user = BAKER, .area = SHOP};
    test_output(&scene.it, 8, PANEL_OUT_LOG, PANEL_WHY_IGNORED)->event = (struct event){
            .kind = EVENT_SUPERVISION, .zone = SIDE_ZONE, .user = BAKER, .area = SHOP};
    check_story(&scene, STORY_FULL,
            "    0:00  shop is armed (full); flat is disarmed\n"
            "    0:08  the baker arms shop (full)\n"
            "          written to the log: \"AC power lost\"  acknowledged by the baker\n"
            "          written to the log: \"device not heard, zone 3\"\n"
            "            no fault stands in the way of arming here\n");
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(tells_why_the_siren_sounds_and_when_the_signal_leaves),
            cmocka_unit_test(speaks_american_where_the_site_does),
            cmocka_unit_test(counts_from_the_start_without_a_clock),
            cmocka_unit_test(says_that_nothing_is_sent_or_that_it_went),
            cmocka_unit_test(says_that_a_signal_waits_for_the_path),
            cmocka_unit_test(says_how_long_the_siren_waits),
            cmocka_unit_test(keeps_only_what_leads_to_the_end),
            cmocka_unit_test(tells_every_act_and_answer_in_full),
            cmocka_unit_test(tells_times_drawn_and_timers_with_all),
            cmocka_unit_test(tells_that_a_message_was_lost),
            cmocka_unit_test(tells_what_was_left_out_only_with_all),
            cmocka_unit_test(says_what_a_person_waited_for),
            cmocka_unit_test(does_not_take_late_news_for_that_of_the_act),
            cmocka_unit_test(finds_the_door_whose_message_was_overtaken),
            cmocka_unit_test(tells_whose_late_message_it_was),
            cmocka_unit_test(finds_the_door_that_nothing_watches),
            cmocka_unit_test(tells_that_the_area_was_set_before_it_went_wrong),
            cmocka_unit_test(a_shortened_time_is_told_as_such),
            cmocka_unit_test(tells_of_a_door_closed_too_late_for_setting),
            cmocka_unit_test(refused_areas_are_those_where_the_code_is_not_valid),
            cmocka_unit_test(an_exit_error_leaves_when_its_entry_time_ends),
            cmocka_unit_test(a_tamper_alarm_is_held_as_tamper),
            cmocka_unit_test(a_window_that_is_over_promises_no_signal),
            cmocka_unit_test(what_goes_on_all_day_and_silence_are_not_told),
            cmocka_unit_test(areas_that_start_differently_are_told_apart),
            cmocka_unit_test(the_cause_knows_the_mode),
            cmocka_unit_test(an_answer_without_a_story_tells_nothing),
            cmocka_unit_test(no_line_is_wider_than_the_page),
            cmocka_unit_test(tells_what_is_written_to_the_log),
            cmocka_unit_test(tells_of_hours),
            cmocka_unit_test(says_so_when_memory_runs_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
