/* The edits of a remedy as one would write them in the site file: path and value. Not every change of a remedy can be
 * written down as such: a contact has to be bought, a fob handed out, a keypad moved. Then there are none, and the
 * remedy stays a sentence. */
#include "check/remedy_edits.h"

#include "base/quantity.h"
#include "base/yaml_name.h"

#include <string.h>

/* A remedy has two edits at most, a behaviour one for each mode besides two. */
enum { EDITS_MOST = 2 * (SITE_MODE_MAX + 2) };

struct writer {
    const struct site *site;
    struct arena *arena;
    struct finding_edit edits[EDITS_MOST];
    size_t count;
    bool whole; /* every change could be written */
};

static void write(struct writer *writer, struct text path, struct text value) {
    if (writer->count == EDITS_MOST) {
        writer->whole = false;
        return;
    }
    writer->edits[writer->count++] = (struct finding_edit){path, value};
}

static struct text name_value(const struct writer *writer, struct text name) {
    struct text_builder out;
    text_builder_init(&out, writer->arena);
    yaml_name_add(&out, name);
    return text_built(&out);
}

static struct text seconds_value(const struct writer *writer, int32_t seconds_s) {
    return text_print(writer->arena, "%d s", seconds_s);
}

static struct text mode_name(const struct writer *writer, int mode) {
    return writer->site->settings.modes[mode].name;
}

/* ---- what each change is in the file */

static void write_behaviour(struct writer *writer, const struct proof_edit *edit) {
    const struct site_zone *zone = &writer->site->zones[edit->zone];
    write(writer, text_print(writer->arena, "zones[%d].behaviour", edit->zone),
            text_of(site_behaviour_name(edit->behaviour)));
    if (edit->behaviour == SITE_ENTRY) {
        write(writer, text_print(writer->arena, "zones[%d].delay", edit->zone),
                name_value(writer, writer->site->settings.delays[edit->delay].name));
    }
    for (int mode = 0; mode < (int)writer->site->settings.mode_count; mode++) {
        const enum site_behaviour wanted = zone->in[mode] == SITE_OUT ? SITE_OUT : edit->behaviour;
        /* Written by itself, or other than it would become. */
        if (zone->in[mode] != site_usual_in(zone->behaviour, mode) ||
                wanted != site_usual_in(edit->behaviour, mode)) {
            write(writer,
                    text_print(writer->arena, "zones[%d].in.%.*s", edit->zone,
                            TEXT_ARGS(mode_name(writer, mode))),
                    text_of(site_behaviour_name(wanted)));
        }
    }
}

static void write_in_mode(struct writer *writer, const struct proof_edit *edit) {
    const struct site_zone *zone = &writer->site->zones[edit->zone];
    if (edit->behaviour == SITE_ENTRY && zone->delay[edit->mode] != edit->delay) {
        for (int mode = 0; mode < (int)writer->site->settings.mode_count; mode++) {
            if (zone->in[mode] == SITE_ENTRY && zone->delay[mode] != edit->delay) {
                writer->whole = false; /* one delay for several modes cannot be told apart here */
                return;
            }
        }
        write(writer, text_print(writer->arena, "zones[%d].delay", edit->zone),
                name_value(writer, writer->site->settings.delays[edit->delay].name));
    }
    write(writer,
            text_print(writer->arena, "zones[%d].in.%.*s", edit->zone,
                    TEXT_ARGS(mode_name(writer, edit->mode))),
            text_of(site_behaviour_name(edit->behaviour)));
}

static void write_exit(struct writer *writer, const struct proof_edit *edit) {
    static const char *const keys[] = {[SITE_MODE_FULL] = "exit-delay",
            [SITE_MODE_PART] = "part-exit-delay",
            [SITE_MODE_NIGHT] = "night-exit-delay"};
    const struct text path = edit->mode <= SITE_MODE_NIGHT
            ? text_print(writer->arena, "panel.%s", keys[edit->mode])
            : text_print(writer->arena, "panel.modes[%d].exit-delay",
                      edit->mode - SITE_MODE_NIGHT - 1);
    write(writer, path, seconds_value(writer, edit->seconds_s));
}

static struct text area_name(const struct writer *writer, size_t area) {
    return writer->site->areas[area].name;
}

static struct text mode_of(const struct writer *writer, size_t mode) {
    return mode_name(writer, (int)mode);
}

/* "[shop, flat]": the names of the bits. */
static struct text names_of(const struct writer *writer, uint32_t bits, size_t count,
        struct text (*name)(const struct writer *, size_t)) {
    struct text_builder out;
    text_builder_init(&out, writer->arena);
    for (size_t i = 0; i < count; i++) {
        if ((bits >> i & 1U) != 0) {
            text_add_string(&out, out.length == 0 ? "[" : ", ");
            yaml_name_add(&out, name(writer, i));
        }
    }
    text_add_char(&out, ']');
    return text_built(&out);
}

static void write_person(struct writer *writer, const struct proof_edit *edit) {
    const struct site_person *person = &writer->site->people[edit->person];
    const bool areas = edit->kind == PROOF_EDIT_CODE_AREA;
    const uint32_t bits =
            areas ? person->areas | 1U << edit->area : person->modes | 1U << edit->mode;
    write(writer,
            text_print(writer->arena, "people[%d].%s", edit->person, areas ? "areas" : "modes"),
            areas ? names_of(writer, bits, writer->site->area_count, area_name)
                  : names_of(writer, bits, writer->site->settings.mode_count, mode_of));
}

static void write_hours(struct writer *writer, const struct proof_edit *edit) {
    enum { MINUTE_S = 60, HOUR_S = 3600 };
    const int32_t from_s = edit->hours.low_s;
    const int32_t to_s = edit->hours.high_s;
    if (to_s <= from_s) {
        writer->whole = false; /* at every hour: a line to be taken out */
        return;
    }
    write(writer, text_print(writer->arena, "people[%d].hours", edit->person),
            text_print(writer->arena, "\"%02d:%02d..%02d:%02d\"", from_s / HOUR_S,
                    from_s % HOUR_S / MINUTE_S, to_s / HOUR_S, to_s % HOUR_S / MINUTE_S));
}

static void write_switch(struct writer *writer, enum proof_choice choice) {
    static const struct {
        const char *path;
        const char *value;
    } switches[PROOF_CHOICE_COUNT] = {
            [PROOF_CHOICE_EXIT_RESTART] = {"panel.exit-restart", "yes"},
            [PROOF_CHOICE_SECOND_KEEP] = {"panel.second-entry", "keep"},
            [PROOF_CHOICE_ENTRY_OPEN] = {"panel.entry-open-allowed", "yes"},
            [PROOF_CHOICE_MOTION_FREE] = {"panel.motion-blocks", "no"},
            [PROOF_CHOICE_FAULTS_IGNORED] = {"panel.faults", "ignore"},
            [PROOF_CHOICE_NO_DROP] = {"panel.drop-to-part", "no"},
            [PROOF_CHOICE_POSTPONE] = {"panel.auto-postpone-count", NULL},
    };
    write(writer, text_of(switches[choice].path),
            switches[choice].value != NULL
                    ? text_of(switches[choice].value)
                    : text_print(
                              writer->arena, "%d", writer->site->settings.auto_postpone_count + 1));
}

static void write_edit(struct writer *writer, const struct proof_edit *edit) {
    switch (edit->kind) {
    case PROOF_EDIT_BEHAVIOUR:
        write_behaviour(writer, edit);
        break;
    case PROOF_EDIT_IN_MODE:
        write_in_mode(writer, edit);
        break;
    case PROOF_EDIT_DELAY:
        write(writer,
                text_print(writer->arena, "panel.entry-delays.%.*s",
                        TEXT_ARGS(writer->site->settings.delays[edit->delay].name)),
                seconds_value(writer, edit->seconds_s));
        break;
    case PROOF_EDIT_EXIT:
        write_exit(writer, edit);
        break;
    case PROOF_EDIT_CODE_AREA:
    case PROOF_EDIT_CODE_MODE:
        write_person(writer, edit);
        break;
    case PROOF_EDIT_HOURS:
        write_hours(writer, edit);
        break;
    case PROOF_EDIT_HOLD:
        write(writer, text_print(writer->arena, "zones[%d].hold", edit->zone),
                seconds_value(writer, edit->seconds_s));
        break;
    case PROOF_EDIT_PULSES:
        write(writer, text_print(writer->arena, "zones[%d].pulse-count", edit->zone),
                text_print(writer->arena, "%d", edit->count));
        break;
    case PROOF_EDIT_CROSS:
        write(writer, text_print(writer->arena, "zones[%d].cross-with", edit->zone),
                text_print(writer->arena, "%d", writer->site->zones[edit->partner].number));
        break;
    case PROOF_EDIT_SWITCH:
        write_switch(writer, edit->choice);
        break;
    case PROOF_EDIT_FOB:
    case PROOF_EDIT_KEYPAD:
    case PROOF_EDIT_CONTACT:
    case PROOF_EDIT_COUNT:
        writer->whole = false;
        break;
    }
}

void remedy_edits(const struct site *site, const struct proof_remedy *remedy, struct arena *arena,
        const struct finding_edit **ret_edits, size_t *ret_count) {
    struct writer writer = {.site = site, .arena = arena, .whole = true};
    for (size_t i = 0; i < remedy->edit_count; i++) {
        write_edit(&writer, &remedy->edits[i]);
    }
    struct finding_edit *kept =
            writer.whole ? ARENA_ARRAY(arena, struct finding_edit, writer.count) : NULL;
    *ret_count = kept == NULL ? 0 : writer.count;
    *ret_edits = kept;
    if (kept != NULL) {
        memcpy(kept, writer.edits, writer.count * sizeof *kept);
    }
}
