/* Limits of a rule set: what a standard, in one edition, has for a quantity that the site file states. A rule set is a
 * file of its own (data/rules/NAME.yaml), one row a line, each with its clause and how sure the figure is. */
#ifndef LINTEL_SITE_LIMIT_H
#define LINTEL_SITE_LIMIT_H

#include "base/text.h"
#include "site/setting.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/** What can be limited beside the settings of the panel (enum site_setting). */
enum {
    SITE_LIMIT_KEYPAD_REACH = SITE_SETTING_COUNT, /* the walk from an entry door to its keypad */
    SITE_LIMIT_CODE_COMBINATIONS,                 /* how many codes there can be */
    SITE_LIMIT_COUNT
};

/** How sure a figure is. */
enum site_certainty {
    SITE_READ_IN_EXCERPT,
    SITE_FROM_MEMORY,
    SITE_COMMON_PRACTICE,
    SITE_CERTAINTY_COUNT
};

/** One row. of: what is limited (enum site_setting or above). least, most: both included, in seconds or as a number; a
 *  choice or a yes-no: least and most are the value. also: a single value outside that is let be (0 s: off), where
 *  has_also. The texts ending in _text are as written in the file. */
struct site_limit {
    struct text of_text;
    struct text least_text;
    struct text most_text;
    struct text also_text;
    struct text is_text;
    int of;
    int32_t least;
    int32_t most;
    int32_t also;
    bool has_also;
    struct text standard;
    struct text edition;
    struct text clause;
    enum site_certainty certainty;
};

struct site_rule_set {
    struct text name;
    struct text says;
    struct site_limit *limits;
    size_t limit_count;
};

/** "exit-delay", "keypad-reach": as a rule set writes it. */
const char *site_limit_name(int of);
/** What of that name is, or SITE_LIMIT_COUNT. */
int site_limit_find(struct text name);
/** Whether it is a time, a number, a choice or a yes-no. */
enum site_setting_kind site_limit_kind(int of);
/** "read in excerpt", "from memory, unverified", "common practice". */
const char *site_certainty_name(enum site_certainty certainty);

#endif
