/* Answers made by hand for the tests of this folder: what the proof would say, written line by line. */
#ifndef LINTEL_CHECK_TEST_ANSWER_H
#define LINTEL_CHECK_TEST_ANSWER_H

#include "check/test_site.h"
#include "check/words.h"

enum { TEST_LINE_MOST = 40 };

/** An answer and its lines; the answer points into it. */
struct test_answer {
    struct proof_answer answer;
    struct proof_line lines[TEST_LINE_MOST];
};

static inline void test_answer_begin(
        struct test_answer *it, const struct site_routine *source, int32_t begins_s) {
    memset(it, 0, sizeof *it);
    it->answer.routine.source = source;
    it->answer.routine.name = source->name;
    it->answer.routine.begins_s = begins_s;
    it->answer.verdict = PROOF_GOES_WRONG;
    it->answer.promise = PROOF_SIREN;
    it->answer.culprit_zone = PANEL_NO_ZONE;
    it->answer.story = it->lines;
}

static inline struct proof_line *test_line(
        struct test_answer *it, enum proof_line_kind kind, int32_t at_s) {
    struct proof_line *line = &it->lines[it->answer.story_count++];
    *line = (struct proof_line){
            .kind = kind, .at_s = at_s, .person = SITE_NONE, .zone = PANEL_NO_ZONE};
    line->output.zone = PANEL_NO_ZONE;
    line->output.event.zone = EVENT_NO_ZONE;
    line->output.event.user = EVENT_NOBODY;
    return line;
}

/** A step that somebody does, and the line that tells it. Gives the step, to be completed. */
static inline struct proof_step *test_act(
        struct test_answer *it, int32_t at_s, int who, enum site_act act) {
    struct proof_step *step = &it->answer.routine.steps[it->answer.routine.step_count];
    *step = (struct proof_step){.who = who,
            .in = span_of(1, 3),
            .act = act,
            .door = SITE_NONE,
            .zone = SITE_NONE,
            .keypad = SITE_NONE,
            .mode = SITE_MODE_FULL,
            .when_area = SITE_NONE,
            .if_area = SITE_NONE,
            .after = SITE_NONE};
    struct proof_line *line = test_line(it, PROOF_LINE_ACT, at_s);
    line->person = who;
    line->step = it->answer.routine.step_count++;
    return step;
}

static inline void test_open(struct test_answer *it, int32_t at_s, int who, int door) {
    test_act(it, at_s, who, SITE_ACT_OPEN)->door = door;
}

static inline void test_level(struct test_answer *it, int32_t at_s, uint8_t zone, bool open) {
    struct proof_line *line = test_line(it, PROOF_LINE_LEVEL, at_s);
    line->zone = zone;
    line->open = open;
}

static inline struct panel_output *test_output(
        struct test_answer *it, int32_t at_s, enum panel_output_kind kind, enum panel_reason why) {
    struct proof_line *line = test_line(it, PROOF_LINE_OUTPUT, at_s);
    line->output.kind = kind;
    line->output.why = why;
    line->output.area = SHOP;
    return &line->output;
}

static inline void test_start(
        struct test_answer *it, int32_t at_s, enum panel_timer_kind kind, int32_t seconds_s) {
    struct panel_output *output = test_output(it, at_s, PANEL_OUT_START, PANEL_WHY_NONE);
    output->timer = panel_timer_of(kind, SHOP);
    output->seconds_s = seconds_s;
}

static inline void test_tone(struct test_answer *it, int32_t at_s, enum panel_tone tone) {
    struct panel_output *output = test_output(it, at_s, PANEL_OUT_TONE, PANEL_WHY_NONE);
    output->tone = (uint8_t)tone;
    output->on = true;
}

/** The siren, which breaks the promise, and its cause. */
static inline void test_siren(
        struct test_answer *it, int32_t at_s, uint8_t zone, enum panel_reason why) {
    struct panel_output *output = test_output(it, at_s, PANEL_OUT_SOUND, why);
    output->sound = PANEL_SIREN;
    output->zone = zone;
    it->lines[it->answer.story_count - 1].bad = true;
    it->answer.culprit = why;
    it->answer.culprit_zone = zone;
    it->answer.culprit_area = SHOP;
}

/** The apprentice comes by a door that knows no delay: product page, "How it speaks". */
static inline void test_side_door(struct test_answer *it, const struct site_routine *source) {
    enum { BEGINS_S = 5 * 3600 + 31 * 60, COMES_S = 19 * 60 + 28 };
    test_answer_begin(it, source, BEGINS_S);
    test_open(it, COMES_S, APPRENTICE, SIDE_DOOR);
    test_level(it, COMES_S, SIDE_ZONE, true);
    test_siren(it, COMES_S, SIDE_ZONE, PANEL_WHY_BEHAVIOUR);
    test_start(it, COMES_S, PANEL_TIMER_ABORT, 30);
    it->answer.always = true;
}

#endif
