#include "accepting/inside.h"

#include "acceptance/say.h"

enum { FORMAT = 1 };

static void add_signal(
        const struct accepting *accepting, struct json_writer *json, size_t test, size_t index) {
    const struct acceptance_test *of = &accepting->acceptance.tests[test];
    const struct acceptance_progress *progress = &accepting->course.progress[test];
    const struct acceptance_signal *signal = &of->signals[index];
    const bool seen = (progress->seen >> index & 1U) != 0;
    const struct heard_signal *came = seen ? accepting_tick(accepting, test, index) : NULL;
    json_open_object(json, NULL);
    json_add_string(json, "kind", event_kind_name((enum event_kind)signal->event.kind));
    json_add_bool(json, "end", signal->event.restore);
    json_add_integer(json, "from_s", of->steps[signal->of_step].at_s + signal->low_s);
    json_add_integer(json, "to_s", of->steps[signal->of_step].at_s + signal->high_s);
    json_add_integer(json, "id", progress->ids[index]);
    if (came != NULL) {
        json_add_integer(json, "received_ms", came->received_ms);
        json_add_text(json, "frame", (struct text){came->text, came->length});
    }
    json_close_object(json);
}

static void add_test(const struct accepting *accepting, struct json_writer *json, size_t test) {
    const struct acceptance_test *of = &accepting->acceptance.tests[test];
    const struct acceptance_progress *progress = &accepting->course.progress[test];
    json_open_object(json, NULL);
    json_add_text(json, "name", of->name);
    json_add_text(json, "says", of->says);
    if (acceptance_is_of_zone(of->kind)) {
        const struct site_zone *zone = &accepting->acceptance.site->zones[of->index];
        json_add_integer(json, "zone", zone->number);
        json_add_text(json, "device", zone->name);
    }
    json_add_bool(json, "required", of->required);
    json_add_bool(json, "by_hand", of->by_hand);
    json_open_array(json, "answers");
    for (int yes = 1; yes >= 0 && acceptance_answer(of->kind, yes != 0) != NULL; yes--) {
        json_add_string(json, NULL, acceptance_answer(of->kind, yes != 0));
    }
    json_close_array(json);
    json_add_string(json, "state", accepting_state(accepting, test));
    json_add_text(json, "by", progress->by);
    json_add_integer(json, "began_ms", progress->began_ms);
    json_add_integer(json, "done_ms", progress->done_ms);
    json_open_array(json, "signals");
    for (size_t i = 0; i < of->signal_count; i++) {
        if (of->signals[i].own) {
            add_signal(accepting, json, test, i);
        }
    }
    json_close_array(json);
    json_close_object(json);
}

static void add_name(
        const struct accepting *accepting, struct json_writer *json, const char *key, size_t test) {
    if (test < accepting->acceptance.count) {
        json_add_text(json, key, accepting->acceptance.tests[test].name);
    } else {
        json_add_null(json, key);
    }
}

/** What each explanation is about, in their order. */
static void add_about(const struct accepting *accepting, struct json_writer *json) {
    json_open_array(json, "explained_about");
    for (size_t i = 0; i < accepting->course.said_count; i++) {
        const struct acceptance_said *said = &accepting->course.said[i];
        json_open_object(json, NULL);
        add_name(accepting, json, "test", said->test);
        add_name(accepting, json, "next", said->expected);
        json_add_bool(json, "exchanged", said->note == ACCEPTANCE_EXCHANGED);
        json_add_bool(json, "wrong_zone",
                said->note == ACCEPTANCE_WRONG_ZONE || said->note == ACCEPTANCE_EXCHANGED ||
                        said->note == ACCEPTANCE_NO_SUCH_ZONE);
        json_add_integer(json, "id", said->heard.id);
        json_add_integer(json, "received_ms", said->heard.received_ms);
        json_close_object(json);
    }
    json_close_array(json);
}

/** The last signals that came, newest first. */
static void add_came(const struct accepting *accepting, struct json_writer *json) {
    json_open_array(json, "came");
    for (size_t i = 1; i <= CAME_MOST && i <= accepting->came_count; i++) {
        const struct heard_signal *signal =
                &accepting->came[(accepting->came_count - i) % CAME_MOST];
        json_open_object(json, NULL);
        json_add_integer(json, "id", signal->id);
        json_add_integer(json, "received_ms", signal->received_ms);
        json_add_text(json, "says", (struct text){signal->text, signal->length});
        json_close_object(json);
    }
    json_close_array(json);
}

void accepting_add_json(const struct accepting *accepting, struct json_writer *json) {
    const struct acceptance *acceptance = &accepting->acceptance;
    const struct acceptance_course *course = &accepting->course;
    const size_t open = acceptance_open(course);
    json_add_integer(json, "format", FORMAT);
    json_add_text(json, "site", acceptance->site->name);
    json_add_text(json, "account", acceptance->site->station.account);
    if (course->prefix_known) {
        json_add_text(json, "prefix", text_print(json->out->arena, "%X", course->prefix));
    } else {
        json_add_null(json, "prefix");
    }
    json_add_bool(json, "begun", accepting->begun);
    json_open_array(json, "tests");
    for (size_t i = 0; i < acceptance->count; i++) {
        add_test(accepting, json, course->order[i]);
    }
    json_close_array(json);
    json_open_array(json, "explained");
    for (size_t i = 0; i < course->said_count; i++) {
        struct text_builder words;
        text_builder_init(&words, json->out->arena);
        acceptance_say(acceptance, &course->said[i], &words);
        json_add_text(json, NULL, text_built(&words));
    }
    json_close_array(json);
    add_about(accepting, json);
    add_came(accepting, json);
    json_add_integer(json, "open", (int64_t)open);
    json_add_bool(json, "accepted", accepting->begun && open == 0);
}
