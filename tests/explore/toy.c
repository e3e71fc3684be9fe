#include "toy.h"

#include <stdio.h>
#include <string.h>

struct toy_state {
    uint8_t location;
    uint8_t events;
    uint8_t broken;
};

static void take_way(const struct toy *toy, const struct toy_way *way, struct toy_state *state,
        struct explore_effects *ret_effects) {
    state->location = way->to;
    ret_effects->mark = way->mark;
    ret_effects->count = way->count;
    memcpy(ret_effects->effects, way->effects, way->count * sizeof way->effects[0]);
    bool ends = way->ends || (toy->events_most != 0 && state->events == toy->events_most);
    if (state->broken == 0) {
        state->broken = way->breaks;
    }
    if (way->aside && toy->probing) {
        ret_effects->standing = EXPLORE_SET_ASIDE;
    } else if (state->broken != 0 && (ends || !toy->probing)) {
        ret_effects->standing = EXPLORE_VIOLATION;
        ret_effects->violation = state->broken;
    } else if (ends) {
        ret_effects->standing = EXPLORE_GOOD_END;
    }
}

static void begin(const void *context, void *state, struct explore_effects *ret_effects) {
    const struct toy *toy = context;
    take_way(toy, &toy->begin, state, ret_effects);
}

static void fire(const void *context, void *state_bytes, explore_activity activity, uint32_t choice,
        struct explore_effects *ret_effects) {
    const struct toy *toy = context;
    struct toy_state *state = state_bytes;
    const struct toy_rule *rule = &toy->rules[state->location][activity];
    if (toy->events_most != 0) {
        state->events++;
    }
    if (rule->way_count == 0) {
        const struct toy_way nothing = {.to = state->location};
        take_way(toy, &nothing, state, ret_effects);
        return;
    }
    ret_effects->alternatives = (uint32_t)rule->way_count;
    take_way(toy, &rule->ways[choice], state, ret_effects);
}

struct explore_machine toy_machine(const struct toy *toy) {
    return (struct explore_machine){
            .state_size = sizeof(struct toy_state), .context = toy, .begin = begin, .fire = fire};
}

static void scale_way(struct toy_way *way, int32_t factor) {
    for (size_t k = 0; k < way->count; k++) {
        way->effects[k].span.low_s *= factor;
        way->effects[k].span.high_s *= factor;
    }
}

void toy_scale(struct toy *toy, int32_t factor) {
    scale_way(&toy->begin, factor);
    for (size_t i = 0; i < TOY_LOCATIONS_MAX; i++) {
        for (size_t j = 0; j < TOY_ACTIVITIES_MAX; j++) {
            for (size_t k = 0; k < toy->rules[i][j].way_count; k++) {
                scale_way(&toy->rules[i][j].ways[k], factor);
            }
        }
    }
}

uint32_t toy_draw(uint64_t *seed, uint32_t below) {
    *seed += UINT64_C(0x9E3779B97F4A7C15);
    uint64_t word = *seed;
    word = (word ^ word >> 30) * UINT64_C(0xBF58476D1CE4E5B9);
    word = (word ^ word >> 27) * UINT64_C(0x94D049BB133111EB);
    word ^= word >> 31;
    return (uint32_t)((word >> 32) * below >> 32);
}

static struct span draw_span(uint64_t *seed, int32_t longest_s) {
    const int32_t low_s = (int32_t)toy_draw(seed, (uint32_t)longest_s + 1);
    int32_t width_s = (int32_t)toy_draw(seed, toy_draw(seed, 3) == 0 ? 6 : 3);
    if (low_s + width_s > longest_s) {
        width_s = longest_s - low_s;
    }
    return span_of(low_s, low_s + width_s);
}

/* How rare ends and broken promises are: rare ones let more happen before. */
static void draw_end(uint64_t *seed, struct toy_way *way, uint32_t rarity) {
    way->ends = toy_draw(seed, rarity) == 0;
    way->breaks = (uint8_t)(toy_draw(seed, rarity) == 0 ? 1 + toy_draw(seed, 3) : 0);
    way->aside = toy_draw(seed, rarity) == 0;
}

static void draw_way(uint64_t *seed, struct toy_way *way, size_t activity_count,
        size_t location_count, int32_t longest_s, bool first) {
    *way = (struct toy_way){.to = (uint8_t)toy_draw(seed, (uint32_t)location_count)};
    way->mark = (uint8_t)(toy_draw(seed, 3) == 0 ? toy_draw(seed, 4) : 0);
    way->count = toy_draw(seed, 4);
    if (first) {
        way->count = toy_draw(seed, 2) == 0 ? activity_count
                                            : 1 + toy_draw(seed, (uint32_t)activity_count);
    }
    if (way->count > TOY_EFFECTS_MAX) {
        way->count = TOY_EFFECTS_MAX;
    }
    for (size_t k = 0; k < way->count; k++) {
        const uint32_t kind = toy_draw(seed, first ? 5 : 8);
        way->effects[k] = (struct explore_effect){.kind = kind < 5 ? EXPLORE_START
                        : kind < 6                                 ? EXPLORE_STOP
                                                                   : EXPLORE_SHORTEN,
                .activity = first && toy_draw(seed, 4) != 0
                        ? (explore_activity)k
                        : (explore_activity)toy_draw(seed, (uint32_t)activity_count),
                .span = draw_span(seed, longest_s)};
        if (way->effects[k].activity >= activity_count) {
            way->effects[k].activity = 0;
        }
    }
}

void toy_random(struct toy *toy, uint64_t *seed, size_t activity_count, int32_t longest_s,
        uint8_t events_most) {
    *toy = (struct toy){.events_most = events_most};
    const size_t location_count = 1 + toy_draw(seed, 4);
    const uint32_t rarity = (uint32_t)8 << toy_draw(seed, 4);
    draw_way(seed, &toy->begin, activity_count, location_count, longest_s, true);
    for (size_t i = 0; i < location_count; i++) {
        for (size_t j = 0; j < activity_count; j++) {
            struct toy_rule *rule = &toy->rules[i][j];
            rule->way_count = toy_draw(seed, 8) == 0 ? 0 : toy_draw(seed, 4) == 0 ? 2 : 1;
            for (size_t k = 0; k < rule->way_count; k++) {
                draw_way(seed, &rule->ways[k], activity_count, location_count, longest_s, false);
                draw_end(seed, &rule->ways[k], rarity);
            }
        }
    }
}

static void print_way(const struct toy_way *way) {
    static const char *const kinds[] = {"start", "stop", "shorten"};
    printf(" -> %d%s%s mark %d breaks %d:", way->to, way->ends ? " ends" : "",
            way->aside ? " aside" : "", way->mark, way->breaks);
    for (size_t k = 0; k < way->count; k++) {
        const struct explore_effect *effect = &way->effects[k];
        printf(" %s %d %d..%d;", kinds[effect->kind], effect->activity, effect->span.low_s,
                effect->span.high_s);
    }
    printf("\n");
}

void toy_print(const struct toy *toy) {
    printf("# at most %d events%s\n# begin", toy->events_most, toy->probing ? ", probing" : "");
    print_way(&toy->begin);
    for (size_t i = 0; i < TOY_LOCATIONS_MAX; i++) {
        for (size_t j = 0; j < TOY_ACTIVITIES_MAX; j++) {
            for (size_t k = 0; k < toy->rules[i][j].way_count; k++) {
                printf("# at %zu, %zu fires", i, j);
                print_way(&toy->rules[i][j].ways[k]);
            }
        }
    }
}
