/* Mutants: each cell of the panel's tables is given each other value it can have, one at a time, and each row of the
 * transitions is taken out; every such panel must be heard to differ in at least one of the scenes (tests/panel). Those
 * that cannot differ are named by why_equivalent with the reason, and must indeed not differ. Each runs in a child: a
 * broken table may end it. */
#include "panel/panel_tables.h"
#include "scene.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cmocka.h>

enum { SCENES_MAX = 1000, CHILD_SECONDS = 60 };

/* One cell: a byte of the tables, how many values it can have, where it stands. */
enum part {
    REACTION,
    EVENT,
    SOUND,
    EXEMPT,
    NEVER_BYPASSED,
    ALWAYS_WATCHED,
    BLOCKS,
    EXIT_END,
    URGENCY,
    PHASE,
    ON_EVENT,
    NEXT,
    ACTION,
    PARTS
};

struct cell {
    enum part part;
    unsigned row;    /* behaviour, sense or number of the transition */
    unsigned column; /* phase, place of the action */
    size_t offset;
    unsigned values;
};

static const char *const part_names[PARTS] = {"reaction", "event", "sound", "exempt",
        "never bypassed", "always watched", "blocks", "end of exit", "urgency", "phase", "on event",
        "next", "action"};

static struct cell cells[4000];
static size_t cell_count;

static void add_cell(
        enum part part, unsigned row, unsigned column, size_t offset, unsigned values) {
    cells[cell_count++] = (struct cell){
            .part = part, .row = row, .column = column, .offset = offset, .values = values};
}

static void list_behaviours(void) {
    for (unsigned row = 0; row < SITE_BEHAVIOUR_COUNT; row++) {
        const size_t class =
                offsetof(struct panel_tables, classes) + row * sizeof(struct panel_class_row);
        for (unsigned phase = 0; phase < PANEL_PHASE_COUNT; phase++) {
            add_cell(REACTION, row, phase,
                    offsetof(struct panel_tables, reaction) + row * PANEL_PHASE_COUNT + phase,
                    PANEL_REACTION_COUNT);
        }
        add_cell(EVENT, row, 0, class + offsetof(struct panel_class_row, event), EVENT_KIND_COUNT);
        add_cell(SOUND, row, 0, class + offsetof(struct panel_class_row, sound), PANEL_SOUND_COUNT);
        add_cell(EXEMPT, row, 0, class + offsetof(struct panel_class_row, exempt), 2);
        add_cell(NEVER_BYPASSED, row, 0, class + offsetof(struct panel_class_row, never_bypassed),
                2);
        add_cell(ALWAYS_WATCHED, row, 0, class + offsetof(struct panel_class_row, always_watched),
                2);
        add_cell(EXIT_END, row, 0, offsetof(struct panel_tables, exit_end) + row,
                PANEL_EXIT_END_COUNT);
    }
    for (unsigned sense = 0; sense < SITE_SENSE_COUNT; sense++) {
        add_cell(
                BLOCKS, sense, 0, offsetof(struct panel_tables, blocks) + sense, PANEL_BLOCK_COUNT);
    }
}

static void list_urgencies(void) {
    for (unsigned kind = 0; kind < EVENT_KIND_COUNT; kind++) {
        add_cell(URGENCY, kind, 0, offsetof(struct panel_tables, urgency) + kind,
                PANEL_URGENCY_COUNT);
    }
}

/* A phase of PANEL_PHASE_COUNT takes the row out. */
static void list_transitions(void) {
    for (unsigned row = 0; row < PANEL_TRANSITION_COUNT; row++) {
        const size_t at =
                offsetof(struct panel_tables, transitions) + row * sizeof(struct panel_transition);
        add_cell(PHASE, row, 0, at + offsetof(struct panel_transition, phase),
                PANEL_PHASE_COUNT + 1);
        add_cell(ON_EVENT, row, 0, at + offsetof(struct panel_transition, event),
                PANEL_AREA_EVENT_COUNT);
        add_cell(NEXT, row, 0, at + offsetof(struct panel_transition, next), PANEL_PHASE_COUNT);
        for (unsigned place = 0; place < PANEL_ROW_ACTIONS; place++) {
            add_cell(ACTION, row, place, at + offsetof(struct panel_transition, actions) + place,
                    PANEL_ACTION_COUNT);
        }
    }
}

static void print_mutant(FILE *file, const struct cell *cell, unsigned standard, unsigned value) {
    const struct panel_transition *row =
            &panel_tables_standard.transitions[cell->row % PANEL_TRANSITION_COUNT];
    (void)fprintf(file, "%s of ", part_names[cell->part]);
    switch (cell->part) {
    case REACTION:
        (void)fprintf(file, "%s, %s: %s becomes %s\n",
                site_behaviour_name((enum site_behaviour)cell->row),
                panel_phase_name((enum panel_phase)cell->column),
                panel_reaction_name((enum panel_reaction)standard),
                panel_reaction_name((enum panel_reaction)value));
        break;
    case EVENT:
    case SOUND:
    case EXEMPT:
    case NEVER_BYPASSED:
    case ALWAYS_WATCHED:
    case EXIT_END:
        (void)fprintf(file, "%s: %u becomes %u\n",
                site_behaviour_name((enum site_behaviour)cell->row), standard, value);
        break;
    case URGENCY:
        (void)fprintf(file, "%s: %u becomes %u\n", event_kind_name((enum event_kind)cell->row),
                standard, value);
        break;
    case BLOCKS:
        (void)fprintf(file, "%s: %u becomes %u\n", site_sense_name((enum site_sense)cell->row),
                standard, value);
        break;
    case PHASE:
    case ON_EVENT:
    case NEXT:
    case ACTION:
        (void)fprintf(file, "%s, %s, place %u: %u becomes %u (%s)\n",
                panel_phase_name((enum panel_phase)row->phase),
                panel_area_event_name((enum panel_area_event)row->event), cell->column, standard,
                value, cell->part == ACTION ? panel_action_name((enum panel_action)value) : "");
        break;
    case PARTS:
        break;
    }
}

/* ---- those that cannot be told ---- */

static const char *same_reaction(unsigned phase, unsigned standard, unsigned value) {
    const bool entries = (standard == PANEL_DOES_ENTRY && value == PANEL_DOES_SECOND_ENTRY) ||
            (standard == PANEL_DOES_SECOND_ENTRY && value == PANEL_DOES_ENTRY);
    const bool followers = (standard == PANEL_DOES_FOLLOW_ALONE && value == PANEL_DOES_FOLLOW) ||
            (standard == PANEL_DOES_FOLLOW && value == PANEL_DOES_FOLLOW_ALONE);
    const bool entry_where_none_begins = standard == PANEL_DOES_NOTHING &&
            (value == PANEL_DOES_ENTRY || value == PANEL_DOES_SECOND_ENTRY) &&
            (phase == PANEL_UNSET || phase == PANEL_EXITING);
    if (entries) {
        return "both tell the area of an entry trip: its phase makes it the first or a second";
    }
    if (followers) {
        return "both ask whether the follower's route runs: none does outside entry";
    }
    if (entry_where_none_begins) {
        return "no row: an entry begins only in a set area";
    }
    return standard == PANEL_DOES_NOTHING && value == PANEL_DOES_CHIME && phase != PANEL_UNSET
            ? "a chime is looked up in the column of unset"
            : NULL;
}

static const char *same_action(
        const struct panel_transition *row, unsigned standard, unsigned value) {
    const bool request =
            row->event == PANEL_EV_REQUEST_TIMED || row->event == PANEL_EV_REQUEST_AT_ONCE;
    const bool to_common = row->phase == PANEL_UNSET && row->event == PANEL_EV_REQUEST_AT_ONCE;
    const bool reads = standard == PANEL_ACT_READ_LEVELS || value == PANEL_ACT_READ_LEVELS;
    const bool other_does_nothing =
            standard == PANEL_ACT_NONE || value == PANEL_ACT_NONE || value == PANEL_ACT_ENTRY_ALARM;
    if (request && !to_common && reads && other_does_nothing) {
        return "an inside contact that is open has refused the request, or is bypassed; a common "
               "area is not asked";
    }
    if (row->next != PANEL_ENTERING && standard == PANEL_ACT_NONE &&
            value == PANEL_ACT_ENTRY_ALARM) {
        return "no entry zone is remembered outside entry: there is nothing to alarm";
    }
    return row->event == PANEL_EV_EXIT_ERROR && standard == PANEL_ACT_NONE &&
                    value == PANEL_ACT_ERROR_SIREN
            ? "the siren of the exit error sounds already"
            : NULL;
}

/* Why this mutant cannot be heard to differ; NULL: it must be. */
static const char *why_equivalent(const struct cell *cell, unsigned standard, unsigned value) {
    if (cell->part == REACTION) {
        return same_reaction(cell->column, standard, value);
    }
    if (cell->part == URGENCY &&
            (cell->row == EVENT_ZONE_TROUBLE || cell->row == EVENT_SIGNALS_LOST)) {
        return "never waits: no panel makes the one, and the other leaves when nothing waits";
    }
    return cell->part == ACTION
            ? same_action(&panel_tables_standard.transitions[cell->row], standard, value)
            : NULL;
}

/* ---- running ---- */

static const struct scenario *scenes[SCENES_MAX];
static uint64_t digests[SCENES_MAX];
static size_t scene_count;
static struct scene scene;

static void hear_standard(void) {
    for (size_t i = 0; i < SCENARIO_LISTS; i++) {
        for (size_t k = 0; k < scenario_list_of(i)->count; k++) {
            scenes[scene_count] = &scenario_list_of(i)->list[k];
            scene_run(&scene, scenes[scene_count], NULL, false);
            digests[scene_count] = scene_digest(&scene);
            scene_count++;
        }
    }
}

/* The scene in which it differs, scene_count when in none. Begins with the one that told the last mutant. */
static size_t differs_in(const struct panel_tables *tables, size_t first) {
    for (size_t i = 0; i < scene_count; i++) {
        const size_t which = (first + i) % scene_count;
        scene_run(&scene, scenes[which], tables, false);
        if (scene_digest(&scene) != digests[which]) {
            return which;
        }
    }
    return scene_count;
}

/* True when the mutant was told from the standard, or did not live. ret_first: where to begin next time. */
static bool is_noticed(const struct panel_tables *tables, size_t *ret_first) {
    int ends[2];
    size_t which = scene_count;
    if (pipe(ends) != 0) {
        return false;
    }
    (void)fflush(stdout);
    const pid_t child = fork();
    if (child == 0) {
        (void)close(ends[0]);
        (void)freopen("/dev/null", "w", stderr);
        (void)alarm(CHILD_SECONDS);
        which = differs_in(tables, *ret_first);
        _exit(write(ends[1], &which, sizeof which) == (ssize_t)sizeof which ? 0 : 1);
    }
    (void)close(ends[1]);
    const bool told = read(ends[0], &which, sizeof which) == (ssize_t)sizeof which;
    (void)close(ends[0]);
    int status = 0;
    (void)waitpid(child, &status, 0);
    if (!told) {
        return child > 0 && (WIFSIGNALED(status) || WEXITSTATUS(status) != 0);
    }
    if (which < scene_count) {
        *ret_first = which;
    }
    return which < scene_count;
}

static void try_part(void **state) {
    const enum part part = *(const enum part *)*state;
    size_t tried = 0;
    size_t wrong = 0;
    size_t first = 0;
    for (size_t i = 0; i < cell_count; i++) {
        for (unsigned value = 0; cells[i].part == part && value < cells[i].values; value++) {
            struct panel_tables tables = panel_tables_standard;
            uint8_t *byte = (uint8_t *)&tables + cells[i].offset;
            const unsigned standard = *byte;
            if (value == standard) {
                continue;
            }
            *byte = (uint8_t)value;
            tried++;
            const bool equivalent = why_equivalent(&cells[i], standard, value) != NULL;
            if (is_noticed(&tables, &first) == equivalent) {
                (void)fprintf(
                        stderr, equivalent ? "told, though listed as equivalent: " : "not told: ");
                print_mutant(stderr, &cells[i], standard, value);
                wrong++;
            }
        }
    }
    assert_true(tried > 0);
    assert_int_equal(wrong, 0);
}

int main(void) {
    static enum part parts[PARTS];
    static struct CMUnitTest tests[PARTS];
    list_behaviours();
    list_urgencies();
    list_transitions();
    hear_standard();
    for (unsigned part = 0; part < PARTS; part++) {
        parts[part] = (enum part)part;
        tests[part] = (struct CMUnitTest){
                .name = part_names[part], .test_func = try_part, .initial_state = &parts[part]};
    }
    return cmocka_run_group_tests(tests, NULL, NULL);
}
