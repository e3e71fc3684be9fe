#include "site/break_ins.h"

const char *site_break_in_kind_name(enum site_break_in_kind kind) {
    static const char *const names[SITE_BREAK_IN_KIND_COUNT] = {"thing", "panel", "line", "power"};
    return names[kind];
}

const char *site_heard_by_name(enum site_heard_by by) {
    static const char *const names[SITE_HEARD_BY_COUNT] = {"signal", "siren"};
    return names[by];
}
