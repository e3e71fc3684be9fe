/* Texts that several ideas put into their findings. */
#include "rules/parts.h"

#include "base/length.h"

struct text rules_named(const struct rules_finder *finder, struct text name) {
    struct text_builder out;
    text_builder_init(&out, finder->arena);
    words_add_named(&out, name);
    return text_built(&out);
}

struct text rules_length(const struct rules_finder *finder, int32_t length_mm) {
    struct text_builder out;
    text_builder_init(&out, finder->arena);
    length_add(&out, length_mm);
    return text_built(&out);
}

struct text rules_where(const struct rules_finder *finder, int room, struct point at) {
    const struct site_building *building = &finder->site->building;
    struct text_builder out;
    text_builder_init(&out, finder->arena);
    text_add_string(&out, "at ");
    length_add_pair(&out, at.x_mm, at.y_mm);
    if (building->storey_count > 1) {
        const struct text storey = building->storeys[building->rooms[room].storey].name;
        text_add_format(&out, " on storey %.*s", TEXT_ARGS(storey));
    }
    return text_built(&out);
}
