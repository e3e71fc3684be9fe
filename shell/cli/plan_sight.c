#include "cli/plan_sight.h"

#include "base/length.h"

#include <math.h>

enum { ROOM_COLUMN = 4, PLACE_COLUMN = 6, PERCENT = 100, CENTIMETRE = 10 };

static const double MM2_A_M2 = 1e6;
static const double LEAST_M2 = 0.05;     /* less is printed as none */
static const double HIDDEN_LEAST = 0.01; /* less is not worth a word */

static const struct coverage_view *view_of(const struct coverage *coverage, size_t place) {
    for (size_t i = 0; coverage != NULL && i < coverage->view_count; i++) {
        if (coverage->views[i].place == place) {
            return &coverage->views[i];
        }
    }
    return NULL;
}

static bool has_motion(const struct coverage *coverage) {
    for (size_t i = 0; coverage != NULL && i < coverage->view_count; i++) {
        if (coverage->views[i].sense == SITE_MOTION) {
            return true;
        }
    }
    return false;
}

static int percent(double part, double whole) {
    return whole > 0 ? (int)lround(PERCENT * part / whole) : 0;
}

/* ---- in words */

static void add_line(struct layout *layout, size_t column, struct text line) {
    layout_to(layout, column);
    layout_words(layout, line, column + 2, LAYOUT_PLAIN);
    layout_end_line(layout);
}

void plan_sight_add_room(struct layout *layout, const struct coverage *coverage, size_t room) {
    if (!has_motion(coverage) || !coverage->rooms[room].good) {
        return;
    }
    const struct coverage_room *it = &coverage->rooms[room];
    const double blind_m2 = it->blind.area_m2;
    add_line(layout, ROOM_COLUMN,
            blind_m2 < LEAST_M2 ? text_of("blind floor: none")
                    : it->floor_m2 - blind_m2 < LEAST_M2
                    ? text_of("blind floor: all of it")
                    : text_print(layout->out->arena, "blind floor: %.1f m², %d %%", blind_m2,
                              percent(blind_m2, it->floor_m2)));
}

static void add_sees(struct layout *layout, const struct house *house,
        const struct coverage *coverage, const struct coverage_view *view) {
    const int room = house->places[view->place].room;
    struct text_builder line;
    text_builder_init(&line, layout->out->arena);
    text_add_format(&line, "sees %.1f m² of floor", view->view.area_m2);
    if (fabs(view->view.area_m2 - view->room_m2) >= LEAST_M2) {
        text_add_format(&line, ", %.1f m² of it here", view->room_m2);
    }
    text_add_format(&line, ": %d %% of %.*s",
            percent(view->room_m2, coverage->rooms[room].floor_m2),
            TEXT_ARGS(house->site->building.rooms[room].name));
    if (view->hidden >= HIDDEN_LEAST) {
        text_add_format(
                &line, "; furniture hides %d %% of what it could see", percent(view->hidden, 1));
    }
    if (view->assumed) {
        text_add_string(&line, "; its profile is silent: ");
        length_add(&line, view->viewer.pattern.range_mm);
        text_add_format(&line, " and %.0f° are assumed", view->viewer.pattern.opening_deg);
    }
    add_line(layout, PLACE_COLUMN, text_built(&line));
}

static void add_pane(struct layout *layout, const struct house *house,
        const struct coverage *coverage, const struct coverage_pane *pane) {
    const struct coverage_view *view = &coverage->views[pane->view];
    const bool heard = pane->in_range && pane->in_line;
    struct text_builder line;
    text_builder_init(&line, layout->out->arena);
    text_add_format(&line, "%s %.*s, ", heard ? "hears" : "does not hear",
            TEXT_ARGS(house->site->building.openings[pane->opening].name));
    length_add(&line, (int32_t)lround(pane->distance_mm / CENTIMETRE) * CENTIMETRE);
    text_add_string(&line, " off");
    if (!pane->in_range) {
        text_add_string(&line, ": it hears ");
        length_add(&line, view->viewer.pattern.range_mm);
        text_add_string(&line, view->assumed ? " (assumed)" : "");
    }
    if (!pane->in_line) {
        text_add_format(
                &line, ": %d %% of the glass is in line", percent(pane->seen_mm, pane->width_mm));
    }
    add_line(layout, PLACE_COLUMN, text_built(&line));
}

static void add_note(
        struct layout *layout, const struct house *house, const struct coverage_note *note) {
    const struct site_building *building = &house->site->building;
    struct text_builder line;
    text_builder_init(&line, layout->out->arena);
    switch (note->kind) {
    case COVERAGE_NOTE_ALONG:
        text_add_format(&line, "who comes in by %.*s walks along its sight, not across",
                TEXT_ARGS(building->openings[note->index].name));
        break;
    case COVERAGE_NOTE_GLASS:
        text_add_format(&line, "looks at %.*s: ", TEXT_ARGS(building->openings[note->index].name));
        length_add(&line, (int32_t)lround(note->amount));
        text_add_string(&line, " of glass; is there sun on it?");
        break;
    case COVERAGE_NOTE_HEAT:
        text_add_format(&line, "looks at %.*s", TEXT_ARGS(building->furniture[note->index].name));
        break;
    case COVERAGE_NOTE_KIND_COUNT:
        break;
    }
    add_line(layout, PLACE_COLUMN, text_built(&line));
}

void plan_sight_add_place(struct layout *layout, const struct house *house,
        const struct coverage *coverage, size_t place) {
    const struct coverage_view *view = view_of(coverage, place);
    if (view == NULL) {
        return;
    }
    const size_t own = (size_t)(view - coverage->views);
    if (view->sense == SITE_MOTION) {
        add_sees(layout, house, coverage, view);
    }
    for (size_t i = 0; i < coverage->pane_count; i++) {
        if (coverage->panes[i].view == own) {
            add_pane(layout, house, coverage, &coverage->panes[i]);
        }
    }
    for (size_t i = 0; i < coverage->note_count; i++) {
        if (coverage->notes[i].view == own) {
            add_note(layout, house, &coverage->notes[i]);
        }
    }
}

/* ---- as JSON */

static int64_t mm2(double m2) {
    return llround(m2 * MM2_A_M2);
}

static void json_ring(struct json_writer *json, const char *name,
        const struct sight_corner *corners, size_t count) {
    json_open_array(json, name);
    for (size_t i = 0; i < count; i++) {
        json_open_array(json, NULL);
        json_add_integer(json, NULL, llround(corners[i].x_mm));
        json_add_integer(json, NULL, llround(corners[i].y_mm));
        json_close_array(json);
    }
    json_close_array(json);
}

void plan_sight_json_room(struct json_writer *json, const struct coverage *coverage, size_t room) {
    const struct coverage_room *it = coverage == NULL ? NULL : &coverage->rooms[room];
    if (it == NULL || !it->good) {
        json_add_null(json, "blind");
        return;
    }
    json_open_object(json, "blind");
    json_add_integer(json, "of_mm2", mm2(it->floor_m2));
    json_add_integer(json, "blind_mm2", mm2(it->blind.area_m2));
    json_add_integer(json, "percent", percent(it->blind.area_m2, it->floor_m2));
    json_open_array(json, "rings");
    for (size_t i = 0; i < it->blind.ring_count; i++) {
        json_open_object(json, NULL);
        json_add_bool(json, "hole", it->blind.rings[i].is_hole);
        json_ring(json, "corners_mm", it->blind.rings[i].corners, it->blind.rings[i].count);
        json_close_object(json);
    }
    json_close_array(json);
    json_close_object(json);
}

static void json_panes(struct json_writer *json, const struct house *house,
        const struct coverage *coverage, size_t own) {
    json_open_array(json, "panes");
    for (size_t i = 0; i < coverage->pane_count; i++) {
        const struct coverage_pane *pane = &coverage->panes[i];
        if (pane->view != own) {
            continue;
        }
        json_open_object(json, NULL);
        json_add_text(json, "name", house->site->building.openings[pane->opening].name);
        json_add_integer(json, "distance_mm", llround(pane->distance_mm));
        json_add_integer(json, "width_mm", llround(pane->width_mm));
        json_add_integer(json, "in_line_mm", llround(pane->seen_mm));
        json_add_bool(json, "in_range", pane->in_range);
        json_add_bool(json, "in_line", pane->in_line);
        json_close_object(json);
    }
    json_close_array(json);
}

static void json_notes(struct json_writer *json, const struct house *house,
        const struct coverage *coverage, size_t own) {
    static const char *const kinds[COVERAGE_NOTE_KIND_COUNT] = {
            [COVERAGE_NOTE_ALONG] = "along",
            [COVERAGE_NOTE_GLASS] = "glass",
            [COVERAGE_NOTE_HEAT] = "heat",
    };
    const struct site_building *building = &house->site->building;
    json_open_array(json, "looks_at");
    for (size_t i = 0; i < coverage->note_count; i++) {
        const struct coverage_note *note = &coverage->notes[i];
        if (note->view != own) {
            continue;
        }
        json_open_object(json, NULL);
        json_add_string(json, "kind", kinds[note->kind]);
        json_add_text(json, "name",
                note->kind == COVERAGE_NOTE_HEAT ? building->furniture[note->index].name
                                                 : building->openings[note->index].name);
        json_close_object(json);
    }
    json_close_array(json);
}

void plan_sight_json_place(struct json_writer *json, const struct house *house,
        const struct coverage *coverage, size_t place) {
    const struct coverage_view *view = view_of(coverage, place);
    if (view == NULL) {
        json_add_null(json, "sight");
        return;
    }
    const size_t own = (size_t)(view - coverage->views);
    json_open_object(json, "sight");
    json_add_bool(json, "assumed", view->assumed);
    json_add_integer(json, "range_mm", view->viewer.pattern.range_mm);
    json_add_integer(json, "angle_deg", lround(view->viewer.pattern.opening_deg));
    if (view->sense == SITE_MOTION) {
        json_add_integer(json, "sees_mm2", mm2(view->view.area_m2));
        json_add_integer(json, "of_room_mm2", mm2(view->room_m2));
        json_add_integer(json, "hidden_percent", percent(view->hidden, 1));
        json_ring(json, "corners_mm", view->view.corners, view->view.count);
    }
    json_panes(json, house, coverage, own);
    json_notes(json, house, coverage, own);
    json_close_object(json);
}
