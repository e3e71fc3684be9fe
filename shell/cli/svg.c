#include "cli/svg.h"

enum { MARGIN_MM = 8, BETWEEN_MM = 12, HUNDREDTHS = 100 };

/* How a role is inked. Line widths in millimetres of paper; black and white says all of it. */
struct ink {
    const char *fill;
    const char *stroke;
    const char *width;
    const char *dash;   /* NULL: unbroken */
    const char *weight; /* of text */
};

#define INK "#20242a"
#define SOFT "#6b665c"
/* clang-format off */
static const struct ink inks[PICTURE_ROLE_COUNT] = {
    [PICTURE_GROUND]     = {"#f3f1ec", SOFT, "0.18", "1.2 0.8", NULL},
    [PICTURE_FLOOR]      = {"#ffffff", "none", "0",  NULL, NULL},
    [PICTURE_SEEN]       = {"url(#seen)", "none", "0", NULL, NULL},
    [PICTURE_BLIND]      = {"url(#blind)", "none", "0", NULL, NULL},
    [PICTURE_RADIO_GOOD] = {"#f1f4f6", "#f1f4f6", "0.06", NULL, NULL},
    [PICTURE_RADIO_FAIR] = {"#d3dce2", "#d3dce2", "0.06", NULL, NULL},
    [PICTURE_RADIO_POOR] = {"#a5b6c1", "#a5b6c1", "0.06", NULL, NULL},
    [PICTURE_RADIO_NONE] = {"#6f8492", "#6f8492", "0.06", NULL, NULL},
    [PICTURE_SIGHT]      = {"none", INK, "0.13",     NULL, NULL},
    [PICTURE_HEARD]      = {"none", INK, "0.25",     NULL, NULL},
    [PICTURE_UNHEARD]    = {"none", INK, "0.25",     "1.6 1.2", NULL},
    [PICTURE_WAY]        = {"none", INK, "0.6",      NULL, NULL},
    [PICTURE_WALL]       = {INK, INK, NULL,          NULL, NULL},
    [PICTURE_GAP]        = {"#ffffff", "none", "0",  NULL, NULL},
    [PICTURE_PANE]       = {"none", INK, "0.2",      NULL, NULL},
    [PICTURE_LEAF]       = {"none", INK, "0.35",     NULL, NULL},
    [PICTURE_SWING]      = {"none", SOFT, "0.13",    NULL, NULL},
    [PICTURE_STEP]       = {"none", SOFT, "0.15",    NULL, NULL},
    [PICTURE_HIDDEN]     = {"none", SOFT, "0.18",    "1 0.7", NULL},
    [PICTURE_FURNITURE]  = {"#f3f1ec", SOFT, "0.15", NULL, NULL},
    [PICTURE_TALL]       = {"#d9d4c8", INK, "0.25",  NULL, NULL},
    [PICTURE_SIGN]       = {"#ffffff", INK, "0.3",   NULL, NULL},
    [PICTURE_SIGN_DARK]  = {INK, INK, "0.3",         NULL, NULL},
    [PICTURE_INTRUDER]   = {"none", INK, "0.7",      "2.2 0.9", NULL},
    [PICTURE_ARROW]      = {INK, INK, "0.2",         NULL, NULL},
    [PICTURE_FORCED]     = {"none", INK, "0.7",      NULL, NULL},
    [PICTURE_LEADER]     = {"none", INK, "0.15",     NULL, NULL},
    [PICTURE_DIMENSION]  = {"none", INK, "0.18",     NULL, NULL},
    [PICTURE_LABEL]      = {INK, "none", "0",        NULL, "600"},
    [PICTURE_SMALL]      = {INK, "none", "0",        NULL, "400"},
    [PICTURE_MARK]       = {INK, "none", "0",        NULL, "600"},
    [PICTURE_MARK_LIGHT] = {"#ffffff", "none", "0",  NULL, "600"},
    [PICTURE_TITLE]      = {INK, "none", "0",        NULL, "600"},
};
/* clang-format on */

void svg_add_escaped(struct text_builder *out, struct text text) {
    for (size_t i = 0; i < text.length; i++) {
        const char letter = text.start[i];
        switch (letter) {
        case '&':
            text_add_string(out, "&amp;");
            break;
        case '<':
            text_add_string(out, "&lt;");
            break;
        case '>':
            text_add_string(out, "&gt;");
            break;
        default:
            if ((unsigned char)letter >= ' ') { /* control bytes are not for XML */
                text_add_char(out, letter);
            }
            break;
        }
    }
}

/* A length of the building in millimetres of paper, to a hundredth, never "-0". */
static void add_paper(struct text_builder *out, int64_t length_mm, int32_t scale) {
    const int64_t hundredths = length_mm * HUNDREDTHS / scale;
    const int64_t size = hundredths < 0 ? -hundredths : hundredths;
    text_add_format(out, "%s%lld", hundredths < 0 ? "-" : "", (long long)(size / HUNDREDTHS));
    if (size % HUNDREDTHS != 0) {
        text_add_format(out, ".%02lld", (long long)(size % HUNDREDTHS));
    }
}

static void add_point(struct text_builder *out, const struct picture *picture, struct point at,
        const char *between) {
    add_paper(out, at.x_mm - picture->low.x_mm, picture->scale);
    text_add_string(out, between);
    add_paper(out, picture->high.y_mm - at.y_mm, picture->scale);
}

static void add_ink(struct text_builder *out, const struct picture *picture,
        const struct picture_shape *shape) {
    const struct ink *ink = &inks[shape->role];
    text_add_format(out, " fill=\"%s\" stroke=\"%s\"", ink->fill, ink->stroke);
    if (ink->width == NULL) {
        text_add_string(out, " stroke-width=\"");
        add_paper(out, shape->width_mm, picture->scale);
        text_add_string(out, "\" stroke-linejoin=\"miter\" stroke-miterlimit=\"6\"");
    } else {
        text_add_format(out, " stroke-width=\"%s\" stroke-linejoin=\"round\"", ink->width);
    }
    if (ink->dash != NULL) {
        text_add_format(out, " stroke-dasharray=\"%s\"", ink->dash);
    }
}

/* Paper round letters that stand on a hatch. */
static const char halo[] = " stroke=\"#ffffff\" stroke-width=\"0.8\" paint-order=\"stroke\"";

static void add_text(struct text_builder *out, const struct picture *picture,
        const struct picture_shape *shape) {
    static const char *const anchors[] = {
            [PICTURE_MIDDLE] = "middle", [PICTURE_BEGIN] = "start", [PICTURE_END] = "end"};
    /* A third of its height below the middle stands the line on which letters stand. */
    const struct point base = {
            shape->points[0].x_mm, shape->points[0].y_mm - shape->width_mm * 35 / 100};
    text_add_string(out, "<text x=\"");
    add_point(out, picture, base, "\" y=\"");
    text_add_string(out, "\" font-size=\"");
    add_paper(out, shape->width_mm, picture->scale);
    text_add_format(out, "\" font-weight=\"%s\" text-anchor=\"%s\" fill=\"%s\"%s>",
            inks[shape->role].weight, anchors[shape->anchor], inks[shape->role].fill,
            shape->role == PICTURE_LABEL || shape->role == PICTURE_SMALL ? halo : "");
    svg_add_escaped(out, shape->text);
    text_add_string(out, "</text>\n");
}

static void add_rings(struct text_builder *out, const struct picture *picture,
        const struct picture_shape *shape) {
    size_t point = 0;
    text_add_string(out, "<path fill-rule=\"evenodd\" d=\"");
    for (size_t i = 0; i < shape->ring_count; i++) {
        for (size_t k = 0; k < shape->rings[i]; k++, point++) {
            text_add_char(out, k == 0 ? 'M' : 'L');
            add_point(out, picture, shape->points[point], " ");
        }
        text_add_char(out, 'Z');
    }
    text_add_string(out, "\"");
    add_ink(out, picture, shape);
    text_add_string(out, "/>\n");
}

static void add_shape(struct text_builder *out, const struct picture *picture,
        const struct picture_shape *shape) {
    if (shape->form == PICTURE_TEXT) {
        add_text(out, picture, shape);
        return;
    }
    if (shape->form == PICTURE_RINGS) {
        add_rings(out, picture, shape);
        return;
    }
    text_add_string(
            out, shape->form == PICTURE_AREA ? "<polygon points=\"" : "<polyline points=\"");
    for (size_t i = 0; i < shape->count; i++) {
        text_add_string(out, i == 0 ? "" : " ");
        add_point(out, picture, shape->points[i], ",");
    }
    text_add_string(out, "\"");
    add_ink(out, picture, shape);
    text_add_string(out, "/>\n");
}

/* Strokes for what is seen, dots for what is not: they differ in black and white as well. Millimetres of paper. */
static const char hatches[] =
        "<defs>\n"
        "<pattern id=\"seen\" width=\"1.8\" height=\"1.8\" patternUnits=\"userSpaceOnUse\" "
        "patternTransform=\"rotate(45)\"><line x1=\"0.9\" y1=\"0\" x2=\"0.9\" y2=\"1.8\" "
        "stroke=\"" SOFT "\" stroke-width=\"0.13\"/></pattern>\n"
        "<pattern id=\"blind\" width=\"2.2\" height=\"2.2\" patternUnits=\"userSpaceOnUse\">"
        "<circle cx=\"0.55\" cy=\"0.55\" r=\"0.2\" fill=\"" INK "\"/>"
        "<circle cx=\"1.65\" cy=\"1.65\" r=\"0.2\" fill=\"" INK "\"/></pattern>\n"
        "</defs>\n";

static bool has_hatches(const struct picture *pictures, size_t count) {
    for (size_t i = 0; i < count; i++) {
        for (size_t j = 0; j < pictures[i].count; j++) {
            const enum picture_role role = pictures[i].shapes[j].role;
            if (role == PICTURE_SEEN || role == PICTURE_BLIND) {
                return true;
            }
        }
    }
    return false;
}

static int32_t paper_size(int32_t low_mm, int32_t high_mm, int32_t scale) {
    return (high_mm - low_mm + scale - 1) / scale;
}

void svg_add(
        struct text_builder *out, const struct picture *pictures, size_t count, struct text title) {
    int32_t width_mm = 0;
    int32_t height_mm = MARGIN_MM;
    for (size_t i = 0; i < count; i++) {
        const int32_t wide_mm =
                paper_size(pictures[i].low.x_mm, pictures[i].high.x_mm, pictures[i].scale);
        width_mm = wide_mm > width_mm ? wide_mm : width_mm;
        height_mm += paper_size(pictures[i].low.y_mm, pictures[i].high.y_mm, pictures[i].scale) +
                (i + 1 < count ? BETWEEN_MM : MARGIN_MM);
    }
    width_mm += 2 * MARGIN_MM;
    text_add_format(out,
            "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
            "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"%dmm\" "
            "height=\"%dmm\" "
            "viewBox=\"0 0 %d %d\" font-family=\"sans-serif\">\n<title>",
            width_mm, height_mm, width_mm, height_mm);
    svg_add_escaped(out, title);
    text_add_format(out, "</title>\n%s<rect width=\"%d\" height=\"%d\" fill=\"#ffffff\"/>\n",
            has_hatches(pictures, count) ? hatches : "", width_mm, height_mm);
    int32_t top_mm = MARGIN_MM;
    for (size_t i = 0; i < count; i++) {
        text_add_format(out, "<g transform=\"translate(%d %d)\">\n", MARGIN_MM, top_mm);
        for (size_t j = 0; j < pictures[i].count; j++) {
            add_shape(out, &pictures[i], &pictures[i].shapes[j]);
        }
        text_add_string(out, "</g>\n");
        top_mm += paper_size(pictures[i].low.y_mm, pictures[i].high.y_mm, pictures[i].scale) +
                BETWEEN_MM;
    }
    text_add_string(out, "</svg>\n");
}
