#include "plan/recall.h"

#include "site/building.h"

#include <string.h>

enum {
    HEADS = 1024,
    GENERATION_BYTES = 64 << 20, /* what is over it is worked out again: 192 rooms take 4 MB */
    PARTS_MOST = 2 + SITE_STOREY_MAX,
};

/* A question is some runs of bytes; of structs without padding alone. */
struct part {
    const void *bytes;
    size_t size;
};

struct question {
    struct part parts[PARTS_MOST];
    size_t part_count;
    size_t size;
    uint64_t hash;
};

/* view: of a question of sight; floor, blind: of one of floor; moves: of one of moves; way:
 * of one of a way. */
struct entry {
    struct entry *next;
    uint64_t hash;
    size_t size;
    const unsigned char *bytes;
    struct sight_view view;
    struct area floor_area;
    struct area blind;
    struct room_moves moves;
    struct way way;
};

struct generation {
    struct arena arena;
    struct entry *heads[HEADS];
};

struct recall {
    struct arena own;
    struct pages pages;
    struct generation generations[2];
    unsigned now;
    struct recall_tally tally;
};

outcome recall_make(struct pages pages, struct recall **ret_recall, struct problem *ret_problem) {
    struct arena own;
    arena_init(&own, pages, 0);
    struct recall *recall = ARENA_NEW(&own, struct recall);
    if (recall == NULL) {
        arena_finish(&own);
        FAIL(ret_problem, PROBLEM_MEMORY, "", "no memory to keep what is worked out");
    }
    recall->own = own;
    recall->pages = pages;
    for (int i = 0; i < 2; i++) {
        arena_init(&recall->generations[i].arena, pages, GENERATION_BYTES);
    }
    *ret_recall = recall;
    return outcome_good();
}

void recall_drop(struct recall *recall) {
    if (recall != NULL) {
        struct arena own = recall->own;
        arena_finish(&recall->generations[0].arena);
        arena_finish(&recall->generations[1].arena);
        arena_finish(&own);
    }
}

void recall_turn(struct recall *recall) {
    recall->now ^= 1U;
    struct generation *oldest = &recall->generations[recall->now];
    arena_finish(&oldest->arena);
    arena_init(&oldest->arena, recall->pages, GENERATION_BYTES);
    memset(oldest->heads, 0, sizeof oldest->heads);
    recall->tally = (struct recall_tally){0, 0};
}

struct recall_tally recall_tally(const struct recall *recall) {
    return recall->tally;
}

/* ---- questions and entries --------------------------------------------------------------------------------------- */

/* FNV-1a, by words. */
static void add_part(struct question *question, const void *bytes, size_t size) {
    const unsigned char *at = bytes;
    question->parts[question->part_count++] = (struct part){bytes, size};
    question->size += size;
    for (size_t i = 0; i < size; i += sizeof(uint64_t)) {
        uint64_t word = 0;
        memcpy(&word, at + i, size - i < sizeof word ? size - i : sizeof word);
        question->hash = (question->hash ^ word) * 0x100000001B3ULL;
        question->hash ^= question->hash >> 29;
    }
}

static bool is_asked(const struct entry *entry, const struct question *question) {
    size_t at = 0;
    if (entry->hash != question->hash || entry->size != question->size) {
        return false;
    }
    for (size_t i = 0; i < question->part_count; i++) {
        const struct part *part = &question->parts[i];
        if (part->size > 0 && memcmp(entry->bytes + at, part->bytes, part->size) != 0) {
            return false;
        }
        at += part->size;
    }
    return true;
}

static const struct entry *entry_in(
        const struct generation *generation, const struct question *question) {
    const struct entry *entry = generation->heads[question->hash % HEADS];
    while (entry != NULL && !is_asked(entry, question)) {
        entry = entry->next;
    }
    return entry;
}

static bool copy_view(const struct sight_view *view, struct arena *arena, struct sight_view *copy) {
    struct sight_corner *corners = ARENA_ARRAY(arena, struct sight_corner, view->count);
    *copy = *view;
    copy->corners = corners;
    if (corners != NULL && view->count > 0) {
        memcpy(corners, view->corners, view->count * sizeof corners[0]);
    }
    return corners != NULL;
}

static bool copy_area(const struct area *area, struct arena *arena, struct area *copy) {
    struct area_ring *rings = ARENA_ARRAY(arena, struct area_ring, area->ring_count);
    *copy = *area;
    copy->rings = rings;
    for (size_t i = 0; rings != NULL && i < area->ring_count; i++) {
        const struct sight_view from = {
                .corners = area->rings[i].corners, .count = area->rings[i].count};
        struct sight_view to;
        if (!copy_view(&from, arena, &to)) {
            return false;
        }
        rings[i] = area->rings[i];
        rings[i].corners = to.corners;
    }
    return rings != NULL;
}

static bool copy_way(const struct way *way, struct arena *arena, struct way *copy) {
    struct way_stop *stops = ARENA_ARRAY(arena, struct way_stop, way->count);
    *copy = *way;
    copy->stops = stops;
    if (stops != NULL && way->count > 0) {
        memcpy(stops, way->stops, way->count * sizeof stops[0]);
    }
    return stops != NULL;
}

static bool copy_moves(
        const struct room_moves *moves, struct arena *arena, struct room_moves *copy) {
    struct room_move *list = ARENA_ARRAY(arena, struct room_move, moves->count);
    *copy = (struct room_moves){.list = list, .count = moves->count};
    for (size_t i = 0; list != NULL && i < moves->count; i++) {
        list[i] = moves->list[i];
        if (!copy_way(&moves->list[i].way, arena, &list[i].way)) {
            return false;
        }
    }
    return list != NULL;
}

/* Without memory it is not kept, and that is all. */
static void keep(
        struct recall *recall, const struct question *question, const struct entry *answer) {
    struct generation *now = &recall->generations[recall->now];
    struct entry *entry = ARENA_NEW(&now->arena, struct entry);
    unsigned char *bytes = ARENA_ARRAY(&now->arena, unsigned char, question->size);
    size_t at = 0;
    if (entry == NULL || bytes == NULL || !copy_view(&answer->view, &now->arena, &entry->view) ||
            !copy_area(&answer->floor_area, &now->arena, &entry->floor_area) ||
            !copy_area(&answer->blind, &now->arena, &entry->blind) ||
            !copy_moves(&answer->moves, &now->arena, &entry->moves) ||
            !copy_way(&answer->way, &now->arena, &entry->way)) {
        return;
    }
    for (size_t i = 0; i < question->part_count; i++) {
        const struct part *part = &question->parts[i];
        if (part->size > 0) {
            memcpy(bytes + at, part->bytes, part->size);
        }
        at += part->size;
    }
    entry->hash = question->hash;
    entry->size = question->size;
    entry->bytes = bytes;
    entry->next = now->heads[question->hash % HEADS];
    now->heads[question->hash % HEADS] = entry;
}

/* What is known, kept for the next look as well; NULL: it has to be worked out. */
static const struct entry *known(struct recall *recall, const struct question *question) {
    const struct entry *entry = entry_in(&recall->generations[recall->now], question);
    if (entry == NULL) {
        entry = entry_in(&recall->generations[recall->now ^ 1U], question);
        if (entry != NULL) {
            keep(recall, question, entry);
        }
    }
    recall->tally.known += entry != NULL;
    recall->tally.worked_out += entry == NULL;
    return entry;
}

/* ---- what is asked ----------------------------------------------------------------------------------------------- */

outcome recall_see(struct recall *recall, const struct sight_viewer *viewer,
        const struct segment *walls, size_t wall_count, struct arena *arena,
        struct sight_view *ret_view, struct problem *ret_problem) {
    const double from[] = {viewer->at.x_mm, viewer->at.y_mm, viewer->into.x_mm, viewer->into.y_mm,
            viewer->pattern.facing_deg, viewer->pattern.opening_deg, viewer->pattern.range_mm};
    struct question question = {.hash = 1};
    if (recall == NULL) {
        return sight_see(viewer, walls, wall_count, arena, ret_view, ret_problem);
    }
    add_part(&question, from, sizeof from);
    add_part(&question, walls, wall_count * sizeof walls[0]);
    const struct entry *entry = known(recall, &question);
    if (entry != NULL && copy_view(&entry->view, arena, ret_view)) {
        return outcome_good();
    }
    struct entry answer = {.next = NULL};
    TRY(sight_see(viewer, walls, wall_count, arena, &answer.view, ret_problem));
    keep(recall, &question, &answer);
    *ret_view = answer.view;
    return outcome_good();
}

/* Outlines and views in one run: their numbers of corners, then the corners. */
static double *flat(struct outline room, const struct outline *holes, size_t hole_count,
        const struct sight_view *views, size_t view_count, struct arena *arena, size_t *ret_count) {
    size_t count = 3 + hole_count + view_count + 2 * room.count;
    size_t at = 0;
    for (size_t i = 0; i < hole_count; i++) {
        count += 2 * holes[i].count;
    }
    for (size_t i = 0; i < view_count; i++) {
        count += 2 * views[i].count;
    }
    double *out = ARENA_ARRAY(arena, double, count);
    *ret_count = count;
    if (out == NULL) {
        return NULL;
    }
    out[at++] = (double)room.count;
    out[at++] = (double)hole_count;
    out[at++] = (double)view_count;
    for (size_t i = 0; i <= hole_count; i++) {
        const struct outline outline = i == 0 ? room : holes[i - 1];
        if (i > 0) {
            out[at++] = (double)outline.count;
        }
        for (size_t k = 0; k < outline.count; k++) {
            out[at++] = outline.corners[k].x_mm;
            out[at++] = outline.corners[k].y_mm;
        }
    }
    for (size_t i = 0; i < view_count; i++) {
        out[at++] = (double)views[i].count;
        for (size_t k = 0; k < views[i].count; k++) {
            out[at++] = views[i].corners[k].x_mm;
            out[at++] = views[i].corners[k].y_mm;
        }
    }
    return out;
}

outcome recall_blind(struct recall *recall, struct outline room, const struct outline *holes,
        size_t hole_count, const struct sight_view *views, size_t view_count, struct arena *arena,
        struct area *ret_floor, struct area *ret_blind, struct problem *ret_problem) {
    struct question question = {.hash = 2};
    size_t count = 0;
    const double *asked =
            recall == NULL ? NULL : flat(room, holes, hole_count, views, view_count, arena, &count);
    if (asked == NULL) {
        return area_blind(room, holes, hole_count, views, view_count, arena, ret_floor, ret_blind,
                ret_problem);
    }
    add_part(&question, asked, count * sizeof asked[0]);
    const struct entry *entry = known(recall, &question);
    if (entry != NULL && copy_area(&entry->floor_area, arena, ret_floor) &&
            copy_area(&entry->blind, arena, ret_blind)) {
        return outcome_good();
    }
    struct entry answer = {.next = NULL};
    TRY(area_blind(room, holes, hole_count, views, view_count, arena, &answer.floor_area,
            &answer.blind, ret_problem));
    keep(recall, &question, &answer);
    *ret_floor = answer.floor_area;
    *ret_blind = answer.blind;
    return outcome_good();
}

outcome recall_moves(struct recall *recall, const struct room_floor *floor, struct arena *arena,
        struct room_moves *ret_moves, struct problem *ret_problem) {
    struct question question = {.hash = 3};
    double counts[3 + 2 * ROOM_MOVES_VIEWS_MOST] = {
            (double)floor->side_count, (double)floor->start_count, (double)floor->block_count};
    size_t count = 0;
    const double *asked = recall == NULL
            ? NULL
            : flat(floor->outline, NULL, 0, floor->views, floor->view_count, arena, &count);
    if (asked == NULL || floor->view_count > ROOM_MOVES_VIEWS_MOST) {
        return room_moves_find(floor, arena, ret_moves, ret_problem);
    }
    for (size_t i = 0; i < floor->view_count; i++) {
        counts[3 + 2 * i] = floor->views[i].at.x_mm;
        counts[4 + 2 * i] = floor->views[i].at.y_mm;
    }
    add_part(&question, counts, sizeof counts);
    add_part(&question, asked, count * sizeof asked[0]);
    add_part(&question, floor->blocks, floor->block_count * sizeof floor->blocks[0]);
    add_part(&question, floor->sides, floor->side_count * sizeof floor->sides[0]);
    add_part(&question, floor->partners, floor->view_count * sizeof floor->partners[0]);
    const struct entry *entry = known(recall, &question);
    if (entry != NULL && copy_moves(&entry->moves, arena, ret_moves)) {
        return outcome_good();
    }
    struct entry answer = {.next = NULL};
    TRY(room_moves_find(floor, arena, &answer.moves, ret_problem));
    keep(recall, &question, &answer);
    *ret_moves = answer.moves;
    return outcome_good();
}

/* What a way hangs on besides walls and stairs; without padding. */
struct way_asked {
    double counts[3 + SITE_STOREY_MAX];
    struct walk_place ends[2];
};
_Static_assert(sizeof(struct way_asked) ==
                (3 + SITE_STOREY_MAX) * sizeof(double) + 2 * sizeof(struct walk_place),
        "bytes that nobody sets would be a part of the question");

static void ask_way(const struct walk_plan *plan, struct way_asked *asked, struct walk_place from,
        struct walk_place to, struct question *question) {
    *asked = (struct way_asked){
            .counts = {(double)plan->storey_count, (double)plan->link_count, plan->body_mm},
            .ends = {from, to}};
    for (size_t i = 0; i < plan->storey_count; i++) {
        asked->counts[3 + i] = (double)plan->storeys[i].wall_count;
    }
    add_part(question, asked, sizeof *asked);
    add_part(question, plan->links, plan->link_count * sizeof plan->links[0]);
    for (size_t i = 0; i < plan->storey_count; i++) {
        add_part(question, plan->storeys[i].walls,
                plan->storeys[i].wall_count * sizeof plan->storeys[i].walls[0]);
    }
}

outcome recall_way(struct recall *recall, const struct recall_walker *walker,
        struct walk_place from, struct walk_place to, struct arena *arena, struct way *ret_way,
        struct problem *ret_problem) {
    struct question question = {.hash = 4};
    struct entry answer = {.next = NULL};
    struct way_asked asked;
    if (recall == NULL || walker->plan->storey_count > SITE_STOREY_MAX) {
        return walker->find(walker->context, from, to, arena, ret_way, ret_problem);
    }
    ask_way(walker->plan, &asked, from, to, &question);
    const struct entry *entry = known(recall, &question);
    if (entry != NULL && copy_way(&entry->way, arena, ret_way)) {
        return outcome_good();
    }
    TRY(walker->find(walker->context, from, to, arena, &answer.way, ret_problem));
    keep(recall, &question, &answer);
    *ret_way = answer.way;
    return outcome_good();
}
