#include "draft/models.h"

/* Whether the panel hears it, or has a terminal for it. */
static bool suits(
        const struct site_panel_profile *panel, const struct site_device_profile *device) {
    bool heard = !device->radio || !panel->families_said;
    bool taken = false;
    for (size_t i = 0; i < panel->family_count; i++) {
        heard = heard || text_equal(panel->families[i], device->family);
    }
    for (int32_t number = 0; number <= SITE_NUMBER_MAX; number++) {
        taken = taken ||
                (site_number_is_there(panel, number) &&
                        site_slot_takes(panel, number, device->radio));
    }
    return heard && taken;
}

bool model_read(const struct document_search *search, struct text any_panel,
        const struct site_panel_profile *panel, struct text profile, struct arena *arena,
        struct model *ret_model) {
    struct document document;
    const struct text site = text_print(arena,
            "{site: {name: house}, panel: {profile: \"%.*s\"}, areas: [{name: house}], "
            "devices: [{name: it, profile: \"%.*s\"}]}",
            TEXT_ARGS(any_panel), TEXT_ARGS(profile));
    document_init(&document, arena->pages);
    const bool good =
            document_read_text(&document, "model", search->beside, site, search, NULL).good;
    if (good) {
        const struct site_device_profile *device = &document.site.device_profiles[0];
        *ret_model = (struct model){.kind = device->kind,
                .sense = device->sense,
                .radio = device->radio,
                .curtain = device->curtain,
                .overlooks = device->overlooks.said,
                .suits = suits(panel, device)};
    }
    document_finish(&document);
    return good;
}

static void add_model(const struct model *model, struct text name, struct json_writer *json) {
    json_open_object(json, NULL);
    json_add_text(json, "name", name);
    json_add_string(json, "kind", site_kind_name(model->kind));
    json_add_string(json, "senses", site_sense_name(model->sense));
    json_add_bool(json, "radio", model->radio);
    json_add_bool(json, "curtain", model->curtain);
    json_add_bool(json, "overlooks", model->overlooks);
    json_add_bool(json, "suits", model->suits);
    json_close_object(json);
}

outcome models_add(const struct document *document, const struct document_search *search,
        struct json_writer *json, const char *name, struct problem *ret_problem) {
    struct arena *arena = json->out->arena;
    const struct text *names = NULL;
    size_t count = 0;
    TRY(document_list(search, "devices", arena, &names, &count, ret_problem));
    json_open_array(json, name);
    for (size_t i = 0; i < count; i++) {
        struct model model;
        if (model_read(search, document->panel_profile, &document->site.panel, names[i], arena,
                    &model)) {
            add_model(&model, names[i], json);
        }
    }
    json_close_array(json);
    return outcome_good();
}
