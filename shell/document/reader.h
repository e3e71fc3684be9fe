/* What reading a document carries along: where it is, what was found. Internal to shell/document. */
#ifndef LINTEL_DOCUMENT_READER_H
#define LINTEL_DOCUMENT_READER_H

#include "document/document.h"
#include "document/gather.h"
#include "document/keys.h"
#include "document/node.h"

#include <limits.h>

/** walk: which of the walks over the file this is. routine: whose steps are being read. */
struct reader {
    struct gatherer gatherer;
    struct document *document;
    const struct document_search *search;
    char path[160];
    size_t path_length;
    enum key_walk walk;
    struct site_routine *routine;
};

/* ---- read.c */

/** Walks a mapping by its table into the struct at base. */
void reader_walk(
        struct reader *reader, const struct key_table *table, const struct node *map, void *base);

/** Adds a problem at a node, under the path the reader is at. */
void reader_tell(struct reader *reader, enum problem_kind kind, const struct node *node,
        const char *format, ...) __attribute__((format(printf, 4, 5)));

/** Goes a step down in the path; gives what reader_leave wants. */
size_t reader_enter(struct reader *reader, const char *key);
size_t reader_enter_index(struct reader *reader, size_t index);
void reader_leave(struct reader *reader, size_t before);

/** Reads what stands at a node into the field of a key that refers to nothing. */
void reader_value(
        struct reader *reader, const struct key *key, const struct node *node, void *base);

/* ---- misspelt.c */

/** Tells the keys of the mapping that the table has not, each with the one that is meant. */
void tell_unknown_keys(
        struct reader *reader, const struct key_table *table, const struct node *map);

/** The key that is meant by a word that is none; best is empty where none is near. */
struct gather_nearest key_nearest(const struct key_table *table, struct text wanted);

/** Whether the key stands in the mapping misspelt. map: NULL and other kinds have none. */
bool key_is_misspelt(const struct key_table *table, const struct node *map, const char *name);

/* ---- follow_ups.c */

/** Whether something was told at this very node. node: NULL: no. */
bool reader_told(const struct reader *reader, const struct node *node);

/** Whether something was told of the mapping's key: its value is refused, or it stands there misspelt. */
bool reader_told_of(const struct reader *reader, const struct key_table *table,
        const struct node *map, const char *name);

/** Whether something was told of the list in which the things stand, so that some or all of them are not known. */
bool reader_told_of_list(const struct reader *reader, enum thing thing);

/** Whether what was told may be why nothing is called so: of the list, or of a line that may be the one. */
bool reader_told_of_name(const struct reader *reader, enum thing thing, struct text wanted);

/* ---- standard.c */

/** Checks a standard's file; false: told. */
bool standard_read(struct reader *reader, const struct node *root, struct text *ret_name);

/** What the standard gives for a key of the panel, or of the zone whose mapping this is; NULL: nothing. */
const struct node *standard_value(const struct reader *reader, const struct key_table *table,
        const char *key, const struct node *map);

/** Notes a deviation where the site's own value is another. The reader is at the key. */
void standard_compare(struct reader *reader, const struct key *key, const struct node *own,
        const struct node *standard);

/* ---- value.c: each tells and gives false when the value is not one */

bool value_text(struct reader *reader, const struct key *key, const struct node *node,
        struct text *ret_text);
bool value_texts(struct reader *reader, const struct key *key, const struct node *node,
        const struct text **ret_texts, size_t *ret_count);
bool value_words(struct reader *reader, const struct key *key, const struct node *node,
        struct text *ret_text);
bool value_yes(
        struct reader *reader, const struct key *key, const struct node *node, bool *ret_yes);
bool value_number(
        struct reader *reader, const struct key *key, const struct node *node, int32_t *ret_number);
bool value_seconds(struct reader *reader, const struct key *key, const struct node *node,
        int32_t *ret_seconds_s);
bool value_milliseconds(struct reader *reader, const struct key *key, const struct node *node,
        int32_t *ret_milliseconds_ms);
bool value_span(struct reader *reader, const struct key *key, const struct node *node,
        struct span *ret_span);
bool value_clock(struct reader *reader, const struct node *node, struct span *ret_span);
bool value_date(struct reader *reader, const struct node *node, int32_t *ret_day);
bool value_tenths(
        struct reader *reader, const struct key *key, const struct node *node, int32_t *ret_tenths);
bool value_length(struct reader *reader, const struct key *key, const struct node *node,
        int32_t *ret_length_mm);
bool value_pair(struct reader *reader, const struct key *key, const struct node *node,
        struct site_point *ret_point);
bool value_pairs(struct reader *reader, const struct key *key, const struct node *node,
        const struct site_point **ret_points, size_t *ret_count);
/** "with a stick", or a speed in m/s, maybe from-to, of key->low to key->high mm/s. */
bool value_walking(struct reader *reader, const struct key *key, const struct node *node,
        struct site_walking *ret_walking);
bool value_measure(struct reader *reader, const struct key *key, const struct node *node,
        struct measure *ret_measure);
bool value_numbers(struct reader *reader, const struct key *key, const struct node *node,
        struct site_numbers *ret_numbers);
bool value_choice(
        struct reader *reader, const struct key *key, const struct node *node, int *ret_value);
bool value_choices(
        struct reader *reader, const struct key *key, const struct node *node, uint32_t *ret_bits);

/** Digits alone, and one at least. */
bool value_is_digits(struct text text);

/** True when the node is a text; else tells what was expected ("a time, such as 30 s"). */
bool value_is_text(struct reader *reader, const struct node *node, const char *expected);

/* ---- offers.c */

/** What a panel profile says of settings: KEY_OFFERS, KEY_STEPS, KEY_DELIVERED. Tells what is wrong. base: the
 *  profile. */
void read_offers(struct reader *reader, const struct key *key, const struct node *node, void *base);

/** What alarms are sent as: KEY_EVENTS. Tells what is wrong. base: of the struct with the field. */
void read_events(struct reader *reader, const struct key *key, const struct node *node, void *base);

/* ---- names.c */

/** How many of a thing there are, and their names. */
size_t thing_count(const struct reader *reader, enum thing thing);
struct text thing_name(const struct reader *reader, enum thing thing, size_t index);
const char *thing_noun(enum thing thing);

/** Where things of a kind stand in a site file: "panel.modes"; NULL: steps, of which each routine has its own. */
const char *thing_path(enum thing thing);

/** The index of the thing called so at this node, or SITE_NONE (told, with the nearest name). */
int thing_find(struct reader *reader, enum thing thing, const struct node *node);

/** The same for a text that stands at a node (a key of a mapping). */
int thing_find_text(
        struct reader *reader, enum thing thing, struct text wanted, const struct node *at);

/** The index of the first thing called so, or SITE_NONE; tells nothing. */
int thing_index(const struct reader *reader, enum thing thing, struct text wanted);

/* ---- include.c */

/** Reads a regular file, or standard input ("-"), into the document's arena. False: told, at the node if there is
 *  one. */
bool include_file(struct reader *reader, const struct document_file *named, const struct node *node,
        const char *path, struct text *ret_text);

/** The folders with panels/, devices/ and samples/ that belong to no site file: $LINTEL_DATA, beside the program, where
 *  they are installed. place: 0 .. INCLUDE_ROOTS - 1, in the order of looking. NULL: there is none at this place. */
enum { INCLUDE_ROOTS = 3 };
const char *include_root(const struct document_search *search, size_t place, char buffer[PATH_MAX]);

/** The path of the file that the node names, from the site file's folder on and inside it. ret_missing: NULL, or set
 *  (and nothing told) when there is no such file. False: told, or missing. */
bool include_path(
        struct reader *reader, const struct node *node, bool *ret_missing, char path[PATH_MAX]);

/** Whether the path leads to the site file. */
bool include_is_site_file(const struct reader *reader, const char *path);

/** The panel profile that the node names. */
bool include_panel(
        struct reader *reader, const struct node *node, struct site_panel_profile *ret_profile);

/** The name of the standard that the node names; its mapping goes to the document. */
bool include_standard(struct reader *reader, const struct node *node, struct text *ret_name);

/** The index of the device profile that the node names; read once. */
bool include_device(struct reader *reader, const struct node *node, int *ret_index);

/** The table of materials that the node names. */
bool include_materials(
        struct reader *reader, const struct node *node, struct site_materials *ret_materials);

/** The rule set that the node names. */
bool include_rule_set(
        struct reader *reader, const struct node *node, struct site_rule_set *ret_set);

/* ---- rule_sets.c */

/** Reads every rule set that the site names. root: of the site file. */
void read_rule_sets(struct reader *reader, const struct node *root);

/** What the keys of a rule set say together: limits in the unit of what they limit. root: the set's mapping.
 *  read: a struct site_rule_set. */
void settle_rule_set(struct reader *reader, const struct node *root, void *read);

/* ---- codes.c */

/** Reads the codes file that the site names; one that is not there is no problem. root: of the site file, whose people
 *  have been read. */
void read_codes_file(struct reader *reader, const struct node *root);

/* ---- settle.c, building.c, break_ins.c, steps.c, temporary.c, measured.c */

/** Fills what other keys decide, and tells what cannot be. root: the file's mapping. */
void settle_site(struct reader *reader, const struct node *root);

/** Tells two of a kind with one name, at the second. list: of the file, or NULL; path: of the list. */
void tell_twins(struct reader *reader, enum thing thing, const struct node *list, const char *path);

/** Works out the ways that are drawn and not typed. */
void settle_drawn_ways(struct reader *reader, const struct node *root);
void settle_measured(struct reader *reader, const struct node *node, struct site_way *way);
void settle_building(struct reader *reader, const struct node *root);
void settle_break_ins(struct reader *reader, const struct node *root);
void settle_temporary(struct reader *reader, const struct node *root);
void settle_routine(struct reader *reader, const struct node *node, struct site_routine *routine);

#endif
