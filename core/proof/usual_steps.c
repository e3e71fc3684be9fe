/* Writing the steps and sentences of a usual routine. */
#include "proof/usual.h"

#include <string.h>

struct span usual_sum(struct span a, struct span b) {
    return span_of(a.low_s + b.low_s, a.high_s + b.high_s);
}

struct span usual_stretch(struct span span, int32_t tenths) {
    return span_of(span.low_s, (span.high_s * tenths + 9) / 10);
}

struct span usual_keying(const struct site *site, int person, bool slow) {
    const struct site_person *it = &site->people[person];
    struct span codes = it->codes;
    if (slow && codes.high_s < usual_times.slow_code_s) {
        codes.high_s = usual_times.slow_code_s;
    }
    return it->has_code ? usual_sum(it->notices, codes) : it->fobs;
}

struct span usual_walk(const struct site *site, int way) {
    struct span walk = site->ways[way].last;
    for (size_t i = 0; i < site->ways[way].leg_count; i++) {
        walk = usual_sum(walk, site->ways[way].legs[i].in);
    }
    return walk;
}

struct site_step *usual_step(struct usual_draft *draft, int who, enum site_act act) {
    if (draft->count == SITE_STEP_MAX) {
        draft->overflowed = true;
        draft->count--;
    }
    struct site_step *step = &draft->steps[draft->count];
    draft->count++;
    *step = (struct site_step){.who = who,
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

struct site_step *usual_step_in(
        struct usual_draft *draft, int who, enum site_act act, struct span in) {
    struct site_step *step = usual_step(draft, who, act);
    step->in = in;
    step->has_in = true;
    return step;
}

void usual_at(struct site_step *step, struct span at) {
    step->at = at;
    step->has_at = true;
}

void usual_if(struct site_step *step, enum site_sign sign, int area) {
    step->if_sign = sign;
    step->if_area = area;
}

int usual_last(const struct usual_draft *draft) {
    return (int)draft->count - 1;
}

static struct site_step *key(struct usual_draft *draft, int who, int keypad, enum site_act act) {
    struct site_step *step = usual_step(draft, who, act);
    const struct site_person *person = &draft->site->people[who];
    step->keypad = keypad;
    if (!person->has_code && person->has_fob) {
        step->use = SITE_USE_FOB;
        step->areas = person->areas & draft->site->keypads[keypad].areas;
        step->keypad = SITE_NONE;
    }
    return step;
}

struct site_step *usual_unset(struct usual_draft *draft, int who, int keypad) {
    return key(draft, who, keypad, SITE_ACT_UNSET);
}

struct site_step *usual_set(struct usual_draft *draft, int who, int keypad, int mode) {
    struct site_step *step = key(draft, who, keypad, SITE_ACT_SET);
    const uint32_t modes = draft->site->people[who].modes;
    step->mode = mode;
    if (modes != 0 && (modes >> (unsigned)mode & 1U) == 0 && draft->needs.length == 0) {
        usual_needs(draft, "the code or fob of %.*s is not for mode %.*s",
                TEXT_ARGS(usual_who(draft, who, false)),
                TEXT_ARGS(draft->site->settings.modes[mode].name));
    }
    return step;
}

struct site_step *usual_come(struct usual_draft *draft, int who, int way) {
    struct site_step *step = usual_step(draft, who, SITE_ACT_COME);
    step->way = way;
    return step;
}

struct site_step *usual_go(struct usual_draft *draft, int who, int way) {
    struct site_step *step = usual_step(draft, who, SITE_ACT_GO);
    step->way = way;
    return step;
}

struct site_step *usual_leave(struct usual_draft *draft, int who, int way) {
    const int keypad = draft->site->ways[way].keypad;
    if (draft->site->people[who].has_code) {
        struct site_step *first = usual_set(draft, who, keypad, SITE_MODE_FULL);
        (void)usual_go(draft, who, way);
        return first;
    }
    struct site_step *first = usual_go(draft, who, way);
    (void)usual_set(draft, who, keypad, SITE_MODE_FULL);
    return first;
}

void usual_pass(
        struct usual_draft *draft, int who, const int *zones, size_t count, struct span in) {
    for (size_t i = 0; i < count; i++) {
        usual_step_in(draft, who, SITE_ACT_PASS, in)->zone = zones[i];
    }
}

void usual_start(struct usual_draft *draft, uint32_t areas, int mode) {
    const struct site *site = draft->site;
    bool every = true;
    for (size_t i = 0; i < site->area_count; i++) {
        const bool common = site->areas[i].common && site->area_count > 1;
        if (!common && (areas >> i & 1U) != 0) {
            draft->routine.starts[i] = (struct site_start){.set = true, .mode = mode};
        }
        every = every && (common || draft->routine.starts[i].set);
    }
    for (size_t i = 0; i < site->area_count && every && site->area_count > 1; i++) {
        if (site->areas[i].common) {
            draft->routine.starts[i] = (struct site_start){.set = true, .mode = mode};
        }
    }
}

/* ---- sentences ---- */

static struct text print_list(struct usual_draft *draft, const char *format, va_list arguments)
        __attribute__((format(printf, 2, 0)));

static struct text print_list(struct usual_draft *draft, const char *format, va_list arguments) {
    struct text_builder builder;
    text_builder_init(&builder, draft->arena);
    text_add_format_list(&builder, format, arguments);
    const struct text text = text_built(&builder);
    draft->refused_memory = draft->refused_memory || text.start == NULL;
    return text;
}

void usual_needs(struct usual_draft *draft, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    draft->needs = print_list(draft, format, arguments);
    va_end(arguments);
}

void usual_says(struct usual_draft *draft, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    draft->routine.says = print_list(draft, format, arguments);
    va_end(arguments);
}

/* A name in small letters is a part that somebody plays, or a thing: "the baker". */
struct text usual_name(struct usual_draft *draft, struct text name, bool upper) {
    const bool small = name.length > 0 && name.start[0] >= 'a' && name.start[0] <= 'z';
    if (!small) {
        return name;
    }
    const struct text text =
            text_print(draft->arena, "%s %.*s", upper ? "The" : "the", TEXT_ARGS(name));
    draft->refused_memory = draft->refused_memory || text.start == NULL;
    return text;
}

struct text usual_who(struct usual_draft *draft, int person, bool upper) {
    return usual_name(draft, draft->site->people[person].name, upper);
}

struct text usual_door(struct usual_draft *draft, int way) {
    return usual_name(draft, draft->site->doors[draft->site->ways[way].door].name, false);
}

const char *usual_word_sets(const struct usual_draft *draft) {
    return draft->site->words == SITE_WORDS_US ? "arms" : "sets";
}

const char *usual_word_unsets(const struct usual_draft *draft) {
    return draft->site->words == SITE_WORDS_US ? "disarms" : "unsets";
}

const char *usual_word_set(const struct usual_draft *draft) {
    return draft->site->words == SITE_WORDS_US ? "armed" : "set";
}
