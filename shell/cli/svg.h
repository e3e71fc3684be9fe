/* Pictures of the core as SVG 1.1: ink for each role, nothing more. */
#ifndef LINTEL_CLI_SVG_H
#define LINTEL_CLI_SVG_H

#include "plan/picture.h"

/** One SVG of pictures one below the other, in millimetres of paper at their scale. title: for readers of the file. */
void svg_add(
        struct text_builder *out, const struct picture *pictures, size_t count, struct text title);

/** Adds words as they may stand in XML. */
void svg_add_escaped(struct text_builder *out, struct text text);

#endif
