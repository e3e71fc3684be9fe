/* Places: who just came is heard, whoever knocks besides; and letting one in takes no search. */
#include "signals/places.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include <cmocka.h>

enum { KNOCKER = 1000, PANEL = 2000, NOBODY = 1000000, LATE_MS = PLACES_GRACE_MS + 1 };

static struct arena arena;
static struct places places;

static void *get_page(void *context, size_t size) {
    (void)context;
    return malloc(size);
}

static void give_page(void *context, void *block, size_t size) {
    (void)context;
    (void)size;
    free(block);
}

static void begin_with(size_t most) {
    arena_init(&arena, (struct pages){.get = get_page, .give = give_page}, 0);
    assert_true(places_make(&arena, most, &places, NULL).good);
}

static size_t who_went;

/** One comes, and whoever must go is gone at once. */
static size_t come(uint64_t address, int64_t now_ms) {
    size_t place = 0;
    assert_true(places_take(&places, &place));
    places_let_in(&places, place, address, now_ms);
    who_went = NOBODY;
    if (places_too_many(&places, now_ms, &who_went)) {
        places_left(&places, who_went);
    }
    assert_true(places.in_use <= places.most);
    assert_int_not_equal(who_went, place);
    return place;
}

static size_t befriend(uint64_t address, int64_t now_ms) {
    const size_t place = come(address, now_ms);
    places_heard(&places, place, now_ms);
    return place;
}

static size_t count_of(enum place_list list) {
    size_t count = 0;
    for (size_t i = 0; i < places.count; i++) {
        count += places.of[i].list == list;
    }
    return count;
}

/* Thousands of friends, of an address each, and a stranger who knocks without end: a panel that comes meanwhile keeps
 * its place until it has said something. */
static void who_just_came_is_heard(void **state) {
    (void)state;
    begin_with(4096);
    for (uint64_t i = 0; i < 4096; i++) {
        (void)befriend(5000 + i, 0);
    }
    const size_t panel = come(PANEL, 10000);
    for (int i = 0; i < 20000; i++) {
        (void)come(KNOCKER, 10000 + i / 10);
        assert_int_not_equal(who_went, panel);
    }
    assert_int_equal(places.of[panel].list, PLACE_STRANGER);
    /* and the friends who had to go for it are as many as his share */
    assert_true(count_of(PLACE_FRIEND) >= 4096 - 4096 / 8 - 1);
    places_heard(&places, panel, 12000);
    assert_int_equal(places.of[panel].list, PLACE_FRIEND);
    arena_finish(&arena);
}

/* Addresses that have an eighth of the places each, and no more: whoever of theirs comes puts out one of theirs, not
 * who was heard and keeps his connection. */
static void friends_stay_while_few_addresses_knock(void **state) {
    enum { MOST = 4096, KNOCKERS = 8, FRIENDS = 20 };
    (void)state;
    begin_with(MOST);
    for (uint64_t i = 0; i < FRIENDS; i++) {
        (void)befriend(PANEL + i, 0);
    }
    for (uint64_t i = 0; i < (uint64_t)2 * MOST; i++) {
        (void)come(KNOCKER + i % KNOCKERS, LATE_MS);
    }
    assert_int_equal(count_of(PLACE_FRIEND), FRIENDS);
    arena_finish(&arena);
}

/* But of an address that has as many friends as they have strangers one goes. */
static void friends_of_one_address_give_way_to_strangers_of_fewer(void **state) {
    (void)state;
    begin_with(64);
    for (uint64_t i = 0; i < 56; i++) {
        (void)befriend(PANEL + i % 8, 0);
    }
    for (uint64_t i = 0; i < 8; i++) {
        (void)come(KNOCKER, LATE_MS); /* one more than any address has friends */
    }
    (void)come(KNOCKER + 1, LATE_MS);
    assert_int_equal(places.of[who_went].at_ms, LATE_MS); /* one of those eight */
    (void)come(KNOCKER + 2, LATE_MS);
    assert_int_equal(places.of[who_went].at_ms, 0); /* now they are as many */
    assert_int_equal(count_of(PLACE_FRIEND), 55);
    arena_finish(&arena);
}

/* A few behind one router are no crowd, though no address has two friends: each is let to speak. */
static void a_few_of_one_address_are_let_to_speak(void **state) {
    size_t panels[PLACES_FEW];
    (void)state;
    begin_with(64);
    for (uint64_t i = 0; i < 64; i++) {
        (void)befriend(KNOCKER + i, 0);
    }
    for (size_t i = 0; i < PLACES_FEW; i++) {
        panels[i] = come(PANEL, LATE_MS);
    }
    for (size_t i = 0; i < PLACES_FEW; i++) {
        assert_int_equal(places.of[panels[i]].list, PLACE_STRANGER);
    }
    (void)come(PANEL, LATE_MS);
    assert_int_equal(who_went, panels[0]);
    arena_finish(&arena);
}

/* Behind one address with the knocker, or with no friend left, it has as long as all places take to be filled. */
static void among_strangers_the_address_that_has_the_most_gives_way(void **state) {
    (void)state;
    begin_with(64);
    for (uint64_t i = 0; i < 64; i++) {
        (void)come(KNOCKER + i % 7, 0);
    }
    const size_t panel = come(PANEL, 1);
    for (uint64_t i = 0; i < 1000; i++) {
        (void)come(KNOCKER + i % 7, 1);
        assert_int_not_equal(who_went, panel);
    }
    arena_finish(&arena);
}

/* He would hardly have been heard else: his answer comes once what he said is on the disk. */
static void who_was_just_heard_keeps_his_place(void **state) {
    (void)state;
    begin_with(64);
    for (uint64_t i = 0; i < 64; i++) {
        (void)come(KNOCKER + i % 8, 0);
    }
    const size_t panel = befriend(PANEL, 1);
    for (uint64_t i = 0; i < 1000; i++) {
        (void)come(KNOCKER + i % 8, 1 + (int64_t)i);
        assert_int_not_equal(who_went, panel);
    }
    arena_finish(&arena);
    /* nor do they who are heard all the time keep out who comes */
    begin_with(16);
    for (uint64_t i = 0; i < 16; i++) {
        (void)befriend(KNOCKER + i, 1000);
    }
    const size_t late = come(PANEL, 1001);
    assert_int_not_equal(who_went, late);
    assert_int_equal(places.of[late].list, PLACE_STRANGER);
    arena_finish(&arena);
}

static void a_stranger_who_had_his_time_goes_before_a_friend(void **state) {
    (void)state;
    begin_with(16);
    for (uint64_t i = 0; i < 13; i++) {
        (void)befriend(i, 0);
    }
    const size_t first = come(100, 100);
    const size_t second = come(101, 200);
    const size_t third = come(102, 300);
    (void)come(103, 200 + PLACES_GRACE_MS);
    assert_int_equal(who_went, first);
    (void)come(104, 200 + PLACES_GRACE_MS); /* the second has it to the end */
    assert_int_equal(places.of[who_went].list, PLACE_FREE);
    assert_true(who_went != second && who_went != third);
    (void)come(105, 201 + PLACES_GRACE_MS);
    assert_int_equal(who_went, second);
    arena_finish(&arena);
}

/* Who makes himself many friends keeps out nobody: he is the first to lose one, and of his the most silent. */
static void of_friends_the_address_that_has_the_most_loses_one(void **state) {
    (void)state;
    begin_with(16);
    const size_t lonely = befriend(PANEL, 0);
    const size_t silent = befriend(KNOCKER, 1);
    const size_t talks = befriend(KNOCKER, 2);
    for (uint64_t i = 0; i < 13; i++) {
        (void)befriend(KNOCKER, 3);
    }
    places_heard(&places, silent, 4);
    (void)befriend(PANEL + 1, 5);
    assert_int_equal(who_went, talks);
    for (int i = 0; i < 13; i++) {
        (void)befriend(PANEL + 2 + (uint64_t)i, 6);
        assert_int_not_equal(who_went, silent);
        assert_int_not_equal(who_went, lonely);
    }
    (void)befriend(PANEL + 20, 7);
    assert_int_equal(who_went, lonely); /* each has one by now */
    arena_finish(&arena);
}

static void while_many_are_leaving_the_next_one_waits(void **state) {
    (void)state;
    size_t place = 0;
    begin_with(1);
    for (size_t i = 0; i < 1 + PLACES_SPARE; i++) {
        assert_true(places_take(&places, &place));
    }
    assert_false(places_take(&places, &place));
    places_left(&places, 3);
    assert_true(places_take(&places, &place));
    assert_int_equal(place, 3);
    places_leave(&places, 3); /* never let in */
    assert_int_equal(places.in_use, 0);
    arena_finish(&arena);
}

/* A search through all of them for each would be ten thousand million steps. */
static void letting_one_in_takes_no_search(void **state) {
    enum { MOST = 100000, TIMES = 200000, MOST_S = 4 };
    (void)state;
    begin_with(MOST);
    for (int i = 0; i < MOST - 1; i++) {
        (void)befriend((uint64_t)i, 0);
    }
    const clock_t began = clock();
    for (int i = 0; i < TIMES; i++) {
        const size_t place = come(KNOCKER, 1);
        places_leave(&places, place);
        places_left(&places, place);
    }
    assert_true((clock() - began) / CLOCKS_PER_SEC < MOST_S);
    arena_finish(&arena);
}

/** Each list holds whom it says, in the order of their times, and counts are right. */
static void judge_lists(void) {
    for (size_t list = 0; list < PLACE_BETWEEN; list++) {
        size_t count = 0;
        uint32_t before = (uint32_t)places.count;
        uint32_t have[PLACES_ADDRESSES] = {0};
        for (uint32_t at = places.first[list]; at != places.count; at = places.of[at].after) {
            assert_int_equal(places.of[at].list, list);
            assert_int_equal(places.of[at].before, before);
            assert_true(list == PLACE_FREE || before == places.count ||
                    places.of[before].at_ms <= places.of[at].at_ms);
            have[places.of[at].address]++;
            before = at;
            count++;
        }
        assert_int_equal(places.last[list], before);
        assert_int_equal(count, count_of((enum place_list)list));
        assert_memory_equal(have, places.have[list], sizeof have);
    }
    assert_int_equal(places.in_use, count_of(PLACE_STRANGER) + count_of(PLACE_FRIEND));
}

static void whatever_happens_the_lists_are_whole(void **state) {
    (void)state;
    begin_with(8);
    unsigned chance = 1;
    for (int64_t now_ms = 0; now_ms < 20000; now_ms++) {
        chance = chance * 1103515245 + 12345;
        const size_t place = chance / 65536 % places.count;
        size_t other = 0;
        switch (chance / 1024 % 6) {
        case 0:
        case 1:
            if (places_take(&places, &other)) {
                places_let_in(&places, other, chance / 8 % 5, now_ms);
                (void)places_too_many(&places, now_ms, &other);
            }
            break;
        case 2:
            places_heard(&places, place, now_ms);
            break;
        case 3:
            places_leave(&places, place);
            break;
        default:
            places_left(&places, place);
            break;
        }
        assert_true(places.in_use <= places.most);
        if (now_ms % 16 == 0) {
            judge_lists();
        }
    }
    arena_finish(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
            cmocka_unit_test(who_just_came_is_heard),
            cmocka_unit_test(friends_stay_while_few_addresses_knock),
            cmocka_unit_test(friends_of_one_address_give_way_to_strangers_of_fewer),
            cmocka_unit_test(a_few_of_one_address_are_let_to_speak),
            cmocka_unit_test(among_strangers_the_address_that_has_the_most_gives_way),
            cmocka_unit_test(who_was_just_heard_keeps_his_place),
            cmocka_unit_test(a_stranger_who_had_his_time_goes_before_a_friend),
            cmocka_unit_test(of_friends_the_address_that_has_the_most_loses_one),
            cmocka_unit_test(while_many_are_leaving_the_next_one_waits),
            cmocka_unit_test(letting_one_in_takes_no_search),
            cmocka_unit_test(whatever_happens_the_lists_are_whole),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
