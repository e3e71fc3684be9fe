/* A name as it stands in a YAML file: plain, or in quotes where YAML would read something else. */
#ifndef LINTEL_BASE_YAML_NAME_H
#define LINTEL_BASE_YAML_NAME_H

#include "base/text.h"

/** Adds the name. */
void yaml_name_add(struct text_builder *out, struct text name);

#endif
