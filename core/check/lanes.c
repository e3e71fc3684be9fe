#include "check/lanes.h"

#include "check/words.h"

#include <string.h>

/* What is gathered. modes: of each area while it is set. open: the bar of each lane that has not ended yet, by kind and
 * index; an area has one for its state, a sound one for its tones and one for its siren (SIREN further on). */
enum { NONE = -1, SIREN = SITE_AREA_MAX, OF_MOST = 256 };

struct gatherer {
    const struct site *site;
    const struct proof_answer *answer;
    struct arena *arena;
    struct lane_bar *bars;
    size_t count;
    size_t capacity;
    int open[LANE_KIND_COUNT][OF_MOST];
    int modes[SITE_AREA_MAX];
};

static struct lane_bar *add(struct gatherer *gatherer, enum lane_kind lane, int of, int32_t at_s) {
    if (gatherer->count == gatherer->capacity) {
        return NULL; /* more bars than lines: cannot be, see lanes_make */
    }
    struct lane_bar *bar = &gatherer->bars[gatherer->count++];
    *bar = (struct lane_bar){
            .lane = lane, .of = of, .from_s = at_s, .to_s = at_s, .at = SITE_NONE, .state = ""};
    return bar;
}

/* Ends the bar that is open there, if there is one. */
static void end(struct gatherer *gatherer, enum lane_kind lane, int slot, int32_t at_s) {
    if (slot >= 0 && slot < OF_MOST && gatherer->open[lane][slot] != NONE) {
        gatherer->bars[gatherer->open[lane][slot]].to_s = at_s;
        gatherer->open[lane][slot] = NONE;
    }
}

/* Begins a bar in the place of the one that is open there. */
static struct lane_bar *begin(
        struct gatherer *gatherer, enum lane_kind lane, int of, int slot, int32_t at_s) {
    end(gatherer, lane, slot, at_s);
    struct lane_bar *bar = slot < 0 || slot >= OF_MOST ? NULL : add(gatherer, lane, of, at_s);
    if (bar != NULL) {
        bar->to_s = LANES_TO_THE_END;
        gatherer->open[lane][slot] = (int)(bar - gatherer->bars);
    }
    return bar;
}

/* ---- people and doors */

/* "{person} opens {door}" without the person: the lane bears the name. */
static struct text act_says(const struct gatherer *gatherer, const struct proof_step *step) {
    static const char person[] = "{person} ";
    struct words_about about = words_about_nothing();
    about.person = step->who;
    about.door = step->door;
    about.zone = step->zone;
    about.keypad = step->keypad;
    about.areas = step->areas;
    about.mode = step->act == SITE_ACT_SET ? step->mode : SITE_NONE;
    if (about.areas == 0 && step->keypad >= 0) {
        about.areas = gatherer->site->keypads[step->keypad].areas;
    }
    const char *pattern = step->mishap != PROOF_MISHAP_NONE ? words_mishap(step->mishap)
                                                            : words_act(step->act, step->use);
    const bool named = strncmp(pattern, person, sizeof person - 1) == 0;
    return words_print(
            gatherer->arena, gatherer->site, named ? pattern + sizeof person - 1 : pattern, &about);
}

static void add_act(struct gatherer *gatherer, const struct proof_line *line) {
    const struct proof_step *step = &gatherer->answer->routine.steps[line->step];
    if (line->left_out || step->act == SITE_ACT_WAIT || line->person < 0) {
        return;
    }
    struct lane_bar *bar = add(gatherer, LANE_PERSON, line->person, line->at_s);
    if (bar == NULL) {
        return;
    }
    int *before = &gatherer->open[LANE_PERSON][line->person % OF_MOST];
    bar->from_s = *before == NONE ? line->at_s : gatherer->bars[*before].to_s;
    *before = (int)(bar - gatherer->bars);
    bar->says = act_says(gatherer, step);
    bar->list = step->door >= 0 ? "doors"
            : step->zone >= 0   ? "zones"
            : step->keypad >= 0 ? "keypads"
                                : NULL;
    bar->at = step->door >= 0 ? step->door : step->zone >= 0 ? step->zone : step->keypad;
    if (step->act == SITE_ACT_OPEN) {
        struct lane_bar *door = begin(gatherer, LANE_DOOR, step->door, step->door, line->at_s);
        if (door != NULL) {
            door->says = text_of("open");
        }
    } else if (step->act == SITE_ACT_CLOSE) {
        end(gatherer, LANE_DOOR, step->door, line->at_s);
    }
}

/* ---- the panel */

static void begin_state(
        struct gatherer *gatherer, int area, int32_t at_s, const char *state, struct text says) {
    struct lane_bar *bar = begin(gatherer, LANE_AREA, area, area, at_s);
    if (bar != NULL) {
        bar->state = state;
        bar->says = says;
    }
}

static void begin_set(struct gatherer *gatherer, int area, int32_t at_s) {
    struct words_about about = words_about_nothing();
    about.mode = gatherer->modes[area];
    begin_state(gatherer, area, at_s, "set",
            words_print(gatherer->arena, gatherer->site, "{is-set}{in-mode}", &about));
}

static void begin_unset(struct gatherer *gatherer, int area, int32_t at_s) {
    const struct words_about about = words_about_nothing();
    begin_state(gatherer, area, at_s, "unset",
            words_print(gatherer->arena, gatherer->site, "{is-unset}", &about));
}

static void begin_time(struct gatherer *gatherer, const struct proof_line *line, int area) {
    const enum panel_timer_kind kind = panel_timer_kind_of(line->output.timer);
    if (kind == PANEL_TIMER_EXIT || kind == PANEL_TIMER_ENTRY) {
        struct text_builder says;
        text_builder_init(&says, gatherer->arena);
        words_add(&says, gatherer->site, words_timer(kind), NULL);
        text_add_format(&says, ", %d s", line->output.seconds_s);
        begin_state(gatherer, area, line->at_s, kind == PANEL_TIMER_EXIT ? "exit" : "entry",
                text_built(&says));
    }
}

/* A time that ended without a word of what came after: it is set, or was. */
static void end_time(struct gatherer *gatherer, panel_timer timer, int32_t at_s) {
    const enum panel_timer_kind kind = panel_timer_kind_of(timer);
    const int area = (int)panel_timer_index_of(timer);
    const char *wanted = kind == PANEL_TIMER_EXIT ? "exit" : "entry";
    if ((kind != PANEL_TIMER_EXIT && kind != PANEL_TIMER_ENTRY) || area >= SITE_AREA_MAX ||
            gatherer->open[LANE_AREA][area] == NONE) {
        return;
    }
    const struct lane_bar *bar = &gatherer->bars[gatherer->open[LANE_AREA][area]];
    if (strcmp(bar->state, wanted) == 0) {
        begin_set(gatherer, area, at_s);
    }
}

static void add_sound(struct gatherer *gatherer, const struct proof_line *line, int area) {
    const struct panel_output *output = &line->output;
    const bool siren = output->kind == PANEL_OUT_SOUND;
    const bool on = siren ? output->sound != PANEL_SILENT : output->on;
    const int slot = siren ? SIREN + area : area;
    if (!on) {
        end(gatherer, LANE_SOUND, slot, line->at_s);
        return;
    }
    struct lane_bar *bar = begin(gatherer, LANE_SOUND, area, slot, line->at_s);
    if (bar != NULL) {
        bar->state = siren ? "siren" : "tone";
        bar->bad = line->bad;
        bar->says = text_of(siren ? words_sound((enum panel_sound)output->sound)
                                  : words_tone((enum panel_tone)output->tone));
    }
}

static void add_signal(struct gatherer *gatherer, const struct proof_line *line) {
    struct lane_bar *bar = add(gatherer, LANE_STATION, 0, line->at_s);
    if (bar != NULL) {
        struct text_builder says;
        text_builder_init(&says, gatherer->arena);
        words_add_signal(&says, gatherer->site, line->output.event);
        bar->says = text_built(&says);
        bar->bad = line->bad;
    }
}

static void add_output(struct gatherer *gatherer, const struct proof_line *line) {
    const struct panel_output *output = &line->output;
    const int area = output->area < gatherer->site->area_count ? output->area : SITE_NONE;
    const enum panel_message message = (enum panel_message)output->message;
    if (output->kind == PANEL_OUT_SIGNAL) {
        add_signal(gatherer, line);
    } else if (output->kind == PANEL_OUT_START && area != SITE_NONE) {
        begin_time(gatherer, line, area);
    } else if (output->kind == PANEL_OUT_STOP) {
        end_time(gatherer, output->timer, line->at_s);
    } else if (area == SITE_NONE) {
        return;
    } else if (output->kind == PANEL_OUT_TONE || output->kind == PANEL_OUT_SOUND) {
        add_sound(gatherer, line, area);
    } else if (output->kind == PANEL_OUT_SAYS && message == PANEL_SAYS_UNSET) {
        begin_unset(gatherer, area, line->at_s);
    } else if (output->kind == PANEL_OUT_SAYS && message == PANEL_SAYS_DROPPED_TO_PART) {
        gatherer->modes[area] = SITE_MODE_PART;
        begin_set(gatherer, area, line->at_s);
    } else if (output->kind == PANEL_OUT_SAYS && message == PANEL_SAYS_SET) {
        begin_set(gatherer, area, line->at_s);
    }
}

/* ---- all of it */

/* The mode that somebody asks for is the one in which it will be set. */
static void follow_mode(struct gatherer *gatherer, const struct proof_line *line) {
    const struct proof_step *step = &gatherer->answer->routine.steps[line->step];
    if (line->left_out || step->act != SITE_ACT_SET) {
        return;
    }
    const uint32_t areas = step->areas != 0 || step->keypad < 0
            ? step->areas
            : gatherer->site->keypads[step->keypad].areas;
    for (size_t i = 0; i < gatherer->site->area_count; i++) {
        gatherer->modes[i] = (areas >> i & 1U) != 0 ? step->mode : gatherer->modes[i];
    }
}

static void add_start(struct gatherer *gatherer) {
    const struct site_routine *source = gatherer->answer->routine.source;
    for (size_t i = 0; source != NULL && i < gatherer->site->area_count; i++) {
        gatherer->modes[i] = source->starts[i].set ? source->starts[i].mode : SITE_MODE_FULL;
        if (source->starts[i].set) {
            begin_set(gatherer, (int)i, 0);
        } else {
            begin_unset(gatherer, (int)i, 0);
        }
    }
    for (size_t i = 0; source != NULL && i < gatherer->site->door_count && i < 32; i++) {
        struct lane_bar *bar = (source->doors_open >> i & 1U) != 0
                ? begin(gatherer, LANE_DOOR, (int)i, (int)i, 0)
                : NULL;
        if (bar != NULL) {
            bar->says = text_of("open");
        }
    }
}

/* What one second both begins and ends was never so. */
static void drop_empty_states(struct gatherer *gatherer) {
    size_t kept = 0;
    for (size_t i = 0; i < gatherer->count; i++) {
        const struct lane_bar *bar = &gatherer->bars[i];
        if (bar->lane != LANE_AREA || bar->from_s < bar->to_s) {
            gatherer->bars[kept++] = *bar;
        }
    }
    gatherer->count = kept;
}

/* By lane, whose, and beginning; equal ones as they came. Few enough for insertion. */
static void sort(struct lane_bar *bars, size_t count) {
    for (size_t i = 1; i < count; i++) {
        const struct lane_bar moved = bars[i];
        size_t j = i;
        while (j > 0 &&
                (bars[j - 1].lane > moved.lane ||
                        (bars[j - 1].lane == moved.lane &&
                                (bars[j - 1].of > moved.of ||
                                        (bars[j - 1].of == moved.of &&
                                                bars[j - 1].from_s > moved.from_s))))) {
            bars[j] = bars[j - 1];
            j--;
        }
        bars[j] = moved;
    }
}

outcome lanes_make(const struct site *site, const struct proof_answer *answer, struct arena *arena,
        struct lanes *ret_lanes, struct problem *ret_problem) {
    /* A line begins two bars at most (an act: its own and a door's); the start one for each area and door. */
    const size_t capacity = 2 * answer->story_count + SITE_AREA_MAX + site->door_count;
    struct gatherer *gatherer = ARENA_NEW(arena, struct gatherer);
    struct lane_bar *bars = ARENA_ARRAY(arena, struct lane_bar, capacity);
    if (gatherer == NULL || bars == NULL) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to draw the story");
    }
    *gatherer = (struct gatherer){
            .site = site, .answer = answer, .arena = arena, .bars = bars, .capacity = capacity};
    memset(gatherer->open, NONE, sizeof gatherer->open);
    if (answer->story_count > 0) {
        add_start(gatherer);
    }
    for (size_t i = 0; i < answer->story_count; i++) {
        const struct proof_line *line = &answer->story[i];
        if (line->kind == PROOF_LINE_ACT) {
            follow_mode(gatherer, line);
            add_act(gatherer, line);
        } else if (line->kind == PROOF_LINE_OUTPUT) {
            add_output(gatherer, line);
        } else if (line->kind == PROOF_LINE_TIMER) {
            end_time(gatherer, line->timer, line->at_s);
        }
    }
    if (arena->refused) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to draw the story");
    }
    drop_empty_states(gatherer);
    sort(bars, gatherer->count);
    *ret_lanes = (struct lanes){.bars = bars, .count = gatherer->count};
    return outcome_good();
}

const char *lane_kind_name(enum lane_kind lane) {
    static const char *const names[LANE_KIND_COUNT] = {[LANE_PERSON] = "person",
            [LANE_DOOR] = "door",
            [LANE_AREA] = "area",
            [LANE_SOUND] = "sound",
            [LANE_STATION] = "station"};
    return names[lane];
}

struct text lane_name(const struct site *site, const struct lane_bar *bar) {
    switch (bar->lane) {
    case LANE_PERSON:
        return site->people[bar->of].name;
    case LANE_DOOR:
        return site->doors[bar->of].name;
    case LANE_AREA:
    case LANE_SOUND:
        return site->areas[bar->of].name;
    case LANE_STATION:
    case LANE_KIND_COUNT:
        break;
    }
    return text_of("station");
}
