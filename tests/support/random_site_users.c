/* Hours and modes for the people of a random site, from a sequence of their own: the rest of it stays what it is. */
#include "support/random_site.h"

enum { DAY_S = 86400, HALF_A_DAY_S = DAY_S / 2 };

struct users {
    uint64_t state;
    const struct random_wish *wish;
    int32_t scale;
    int32_t begins_s; /* the routine, since midnight */
};

static int32_t draw(struct users *users, int32_t low, int32_t high) {
    return low + (int32_t)(random_next(&users->state) % ((uint64_t)(high - low) + 1));
}

static bool chance(struct users *users, int32_t percent) {
    return draw(users, 0, 99) < percent;
}

static struct span span_of_day(int32_t low_s, int32_t length_s) {
    const int32_t from_s = (low_s + DAY_S) % DAY_S;
    return span_of(from_s, from_s + length_s);
}

/* A border or two within the routine. Where people wait for each other any later border may count, so both halves of
 * the day are short enough for the referee's seconds. */
static struct span draw_hours(struct users *users) {
    const int32_t border_s = users->begins_s + draw(users, 0, 20) * users->scale;
    const int32_t short_s = draw(users, 1, 8) * users->scale;
    switch (draw(users, 0, users->wish->reactions ? 1 : 3)) {
    case 0:
        return span_of_day(border_s - HALF_A_DAY_S, HALF_A_DAY_S);
    case 1:
        return span_of_day(border_s, HALF_A_DAY_S);
    case 2:
        return span_of_day(border_s, short_s);
    default:
        return span_of_day(border_s + short_s, DAY_S - short_s);
    }
}

void random_site_draw_users(const struct random_wish *wish, struct site *site) {
    struct users users = {.state = wish->seed * 0x9FB21C651E98DF25U + 1,
            .wish = wish,
            .scale = wish->scale > 1 ? wish->scale : 1};
    if (site->routines[0].step_count == 0) {
        return;
    }
    users.begins_s = chance(&users, 50) ? DAY_S / 3 : DAY_S - draw(&users, 1, 15);
    struct site_step *first = &site->routines[0].steps[0];
    first->has_at = true;
    first->at = span_of(users.begins_s, users.begins_s + first->in.high_s - first->in.low_s);
    for (size_t i = 0; i < site->person_count; i++) {
        struct site_person *person = &site->people[i];
        person->has_hours = chance(&users, 80);
        if (person->has_hours) {
            person->hours = draw_hours(&users);
        }
        if (chance(&users, 25)) {
            person->modes = 1U << (unsigned)draw(&users, SITE_MODE_FULL, SITE_MODE_PART);
        }
    }
}

/* Codes for one mode only, or for both by name. */
void random_site_draw_modes(const struct random_wish *wish, struct site *site) {
    struct users users = {.state = wish->seed * 0x94D049BB133111EBU + 9, .wish = wish, .scale = 1};
    static const uint32_t MODES[] = {0, 1U << SITE_MODE_FULL, 1U << SITE_MODE_PART,
            1U << SITE_MODE_FULL | 1U << SITE_MODE_PART};
    for (size_t i = 0; i < site->person_count; i++) {
        site->people[i].modes = MODES[draw(&users, 0, 3)];
    }
}
