#include "acceptance/say.h"

#include "signals/contact_id.h"
#include "signals/meaning.h"

void acceptance_say_event(struct event event, struct text_builder *out) {
    text_add_string(out, event_kind_name((enum event_kind)event.kind));
    text_add_string(out, event.restore ? ", its end" : "");
}

void acceptance_say_awaited(const struct acceptance_test *test, struct text_builder *out) {
    bool first = true;
    for (size_t i = 0; i < test->signal_count; i++) {
        const struct acceptance_signal *signal = &test->signals[i];
        if (!signal->own) {
            continue;
        }
        text_add_string(out, first ? "" : "; ");
        first = false;
        acceptance_say_event(signal->event, out);
        if (!signal->event.restore && test->kind == ACCEPTANCE_ZONE) {
            const int32_t act_s = test->steps[signal->of_step].at_s;
            text_add_format(
                    out, " after %d to %d s", act_s + signal->low_s, act_s + signal->high_s);
        }
        if (signal->code != 0 && !signal->event.restore) {
            text_add_format(out, " as %03u", signal->code);
        }
    }
}

static void say_heard(const struct acceptance_heard *heard, struct text_builder *out) {
    if (heard->kind == EVENT_KIND_COUNT && heard->code == 0) {
        text_add_string(out, "a code that says nothing here");
        return;
    }
    if (heard->kind == EVENT_KIND_COUNT) {
        text_add_format(out, "code %03u", heard->code); /* the site file may know it */
    } else {
        text_add_string(out, event_kind_name(heard->kind));
    }
    text_add_string(out, heard->back ? ", its end" : heard->still ? ", still present" : "");
}

static bool of_a_person(enum event_kind kind) {
    return kind == EVENT_SET || kind == EVENT_UNSET || kind == EVENT_DURESS ||
            kind == EVENT_CANCEL || kind == EVENT_FORCED_SET;
}

void acceptance_say_heard(const struct acceptance_heard *heard, struct text_builder *out) {
    if (heard->report) {
        text_add_string(out, heard->still ? "test report of before" : "test report");
        return;
    }
    say_heard(heard, out);
    if (heard->number > 0) {
        text_add_format(out, ", %s %d",
                heard->whose == SIGNAL_OF_MODULE   ? "module"
                        : of_a_person(heard->kind) ? "user"
                                                   : "zone",
                heard->number);
    }
}

static struct text name_at(const struct acceptance *acceptance, size_t test) {
    return test < acceptance->count ? acceptance->tests[test].name : text_of("nothing");
}

static struct text site_name_at(const struct acceptance *acceptance, size_t test) {
    const struct acceptance_test *of = test < acceptance->count ? &acceptance->tests[test] : NULL;
    const bool zone = of != NULL && (of->kind == ACCEPTANCE_ZONE || of->kind == ACCEPTANCE_TAMPER);
    return zone ? acceptance->site->zones[of->index].name : text_of("");
}

void acceptance_say(const struct acceptance *acceptance, const struct acceptance_said *said,
        struct text_builder *out) {
    const struct text test = name_at(acceptance, said->test);
    const struct text next = name_at(acceptance, said->expected);
    const struct acceptance_heard *heard = &said->heard;
    const bool us = acceptance->site->words == SITE_WORDS_US;
    switch (said->note) {
    case ACCEPTANCE_WRONG_ZONE:
        text_add_format(out,
                "wrong zone: %.*s (%.*s) came, %.*s (%.*s) is next. If you are at the "
                "latter, the two are exchanged or its number is keyed in wrong",
                TEXT_ARGS(test), TEXT_ARGS(site_name_at(acceptance, said->test)), TEXT_ARGS(next),
                TEXT_ARGS(site_name_at(acceptance, said->expected)));
        return;
    case ACCEPTANCE_EXCHANGED:
        text_add_format(out,
                "%.*s (%.*s) and %.*s (%.*s) are exchanged: each came where the other was next. "
                "Put "
                "their numbers right in the panel and do both again; did you go to them in the "
                "other "
                "order, only do both again",
                TEXT_ARGS(test), TEXT_ARGS(site_name_at(acceptance, said->test)), TEXT_ARGS(next),
                TEXT_ARGS(site_name_at(acceptance, said->expected)));
        return;
    case ACCEPTANCE_NO_SUCH_ZONE:
        text_add_string(out, "wrong zone: ");
        say_heard(heard, out);
        text_add_format(out, " came for zone %d, which the site file does not have; %.*s is next",
                heard->number, TEXT_ARGS(next));
        return;
    case ACCEPTANCE_OTHER_KIND:
        text_add_format(out, "%.*s came as ", TEXT_ARGS(test));
        say_heard(heard, out);
        text_add_string(out, ", awaited is ");
        acceptance_say_awaited(&acceptance->tests[said->test], out);
        text_add_string(out, ": look at the zone's behaviour in the panel");
        return;
    case ACCEPTANCE_OTHER_CODE:
        text_add_format(out, "%.*s came as %03u, the file says ", TEXT_ARGS(test), heard->code);
        acceptance_say_awaited(&acceptance->tests[said->test], out);
        text_add_string(out, ": look at the panel's table of event codes");
        return;
    case ACCEPTANCE_WRONG_AREA:
        text_add_format(out, "wrong area: %.*s came for area %d; the file has it in ",
                TEXT_ARGS(test), heard->area);
        text_add_format(out, "%.*s (area %d)",
                TEXT_ARGS(
                        acceptance->site
                                ->areas[acceptance->site->zones[acceptance->tests[said->test].index]
                                                .area]
                                .name),
                acceptance->site->zones[acceptance->tests[said->test].index].area + 1);
        return;
    case ACCEPTANCE_DURESS_CODE:
        text_add_format(out,
                "a duress code was used (user %d): tell the station at once; %.*s is next",
                heard->number, TEXT_ARGS(next));
        return;
    case ACCEPTANCE_SAME_USER:
        text_add_format(out,
                "user %d came, who is not the one of %.*s: each code a user of its own?",
                heard->number, TEXT_ARGS(next));
        return;
    case ACCEPTANCE_LATE:
        text_add_format(out, "%.*s came after %d s, allowed are %d: look at delay and abort window",
                TEXT_ARGS(test), said->seconds, said->allowed_s);
        return;
    case ACCEPTANCE_EARLY:
        text_add_format(out,
                "%.*s came after %d s already, not before %d is right: look at its "
                "behaviour and delay",
                TEXT_ARGS(test), said->seconds, said->allowed_s);
        return;
    case ACCEPTANCE_NO_ALARM:
        text_add_format(out, "of %.*s the end came without the beginning", TEXT_ARGS(test));
        return;
    case ACCEPTANCE_NO_SET:
        text_add_format(out,
                us ? "user %d disarmed; of %.*s arming comes first, then disarming"
                   : "user %d unset; of %.*s setting comes first, then unsetting",
                heard->number, TEXT_ARGS(test));
        return;
    case ACCEPTANCE_MODULE:
        acceptance_say_heard(heard, out);
        text_add_string(out, ": of a module of the panel, not of the zone of that number; no test");
        return;
    case ACCEPTANCE_ITSELF:
        acceptance_say_heard(heard, out);
        text_add_string(out, ": by the panel itself, after too many alarms; no test. Take it back");
        return;
    case ACCEPTANCE_BUTTON:
        text_add_format(out,
                "hold-up %d came, %.*s is next: SIA has one word for a button and a duress code, "
                "and zone %d is a button. Which it was, say by hand",
                heard->number, TEXT_ARGS(test), heard->number);
        return;
    case ACCEPTANCE_PREFIX:
        text_add_format(out,
                "this account came under prefix %X too, which counts for nothing here: another "
                "came "
                "first, and two prefixes may be two panels. Begin anew once only the right one "
                "sends",
                heard->prefix);
        return;
    case ACCEPTANCE_STILL:
        acceptance_say_heard(heard, out);
        text_add_string(out,
                ": the panel reports it again, no new alarm. Put it back, then set it off anew");
        return;
    case ACCEPTANCE_NOTE_COUNT:
        break;
    }
}

/** Zone or user of an event, as the panel numbers it. */
static int32_t number_of(const struct site *site, struct event event) {
    if (event.zone != EVENT_NO_ZONE) {
        return site->zones[event.zone].number;
    }
    return event.user == EVENT_NOBODY ? 0 : event.user + 1;
}

static uint16_t code_in(const struct acceptance_test *test, struct event event) {
    for (size_t i = 0; i < test->signal_count; i++) {
        const struct event other = test->signals[i].event;
        if (other.kind == event.kind && other.zone == event.zone &&
                other.restore == event.restore) {
            return test->signals[i].code;
        }
    }
    return 0;
}

/** said: the code that the file has for it, or 0. */
static struct text data_of(
        const struct site *site, struct event event, uint16_t said, bool sia, struct arena *arena) {
    const struct text account = site->station.account;
    const int32_t number = number_of(site, event);
    const int area = event.area + 1;
    enum contact_id_qualifier qualifier = CONTACT_ID_NEW;
    uint16_t code = 0;
    char bytes[CONTACT_ID_EVENT_LENGTH];
    if (sia) {
        const char *word = signal_sia_of((enum event_kind)event.kind, event.restore);
        return word == NULL
                ? (struct text){0}
                : text_print(arena, "#%.*s|Nri%d/%s%03d", TEXT_ARGS(account), area, word, number);
    }
    if (!signal_contact_id_of((enum event_kind)event.kind, event.restore, &qualifier, &code)) {
        return (struct text){0};
    }
    contact_id_write_event((struct contact_id){.qualifier = qualifier,
                                   .code = said != 0 ? said : code,
                                   .group = (uint8_t)area,
                                   .number = (uint16_t)number},
            bytes);
    return text_print(arena, "#%.*s|%.*s", TEXT_ARGS(account), (int)sizeof bytes, bytes);
}

struct text acceptance_data(const struct acceptance *acceptance, const struct acceptance_test *test,
        struct event event, bool sia, struct arena *arena) {
    return data_of(acceptance->site, event, code_in(test, event), sia, arena);
}

struct text acceptance_event_data(const struct site *site, struct event event,
        enum site_behaviour behaviour, bool sia, struct arena *arena) {
    const uint16_t said = acceptance_is_alarm(event) && event.zone != EVENT_NO_ZONE
            ? acceptance_code(site, behaviour)
            : 0;
    return data_of(site, event, said, sia, arena);
}
