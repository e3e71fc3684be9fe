/* A drawing as a value: shapes with roles, in the building's own millimetres. Made in the core, once; whoever shows it
 * (SVG, paper, page) only chooses ink for each role. Shapes lie over each other in their order.
 *
 * Text and signs keep their size on paper: their measures are millimetres of the building at the picture's scale. x
 * runs to the right, y to the back; whoever shows it turns y round. */
#ifndef LINTEL_PLAN_PICTURE_H
#define LINTEL_PLAN_PICTURE_H

#include "base/arena.h"
#include "base/json.h"
#include "base/text.h"
#include "plan/point.h"

/** What a shape stands for. Layers put theirs (ways, sight, blind floor, break-ins) where the plan leaves them room:
 *  after the floors and before the walls, or on top. */
enum picture_role {
    PICTURE_GROUND,     /* ground outside */
    PICTURE_FLOOR,      /* of a room */
    PICTURE_SEEN,       /* floor that a motion detector sees: hatched */
    PICTURE_BLIND,      /* floor that none sees: dotted */
    PICTURE_RADIO_GOOD, /* floor from which radio arrives with much to spare: hardly shaded */
    PICTURE_RADIO_FAIR,
    PICTURE_RADIO_POOR,
    PICTURE_RADIO_NONE, /* ... from which it may not arrive: dark */
    PICTURE_SIGHT,      /* the edge of what a detector sees */
    PICTURE_HEARD,      /* from a glass-break detector to a pane that it hears */
    PICTURE_UNHEARD,    /* ... and to one that it does not */
    PICTURE_WAY,        /* on foot, with an arrow at its end */
    PICTURE_WALL,       /* solid, as a line round a room: half of its width shows */
    PICTURE_GAP,        /* where an opening breaks a wall */
    PICTURE_PANE,       /* glass, a shutter: a thin line in a wall */
    PICTURE_LEAF,       /* a door's leaf */
    PICTURE_SWING,      /* where it swings */
    PICTURE_STEP,       /* of stairs */
    PICTURE_HIDDEN,     /* stairs from below, a roof light: dashed */
    PICTURE_FURNITURE,  /* low */
    PICTURE_TALL,       /* what cuts sight */
    PICTURE_SIGN,       /* a device: an outline filled with paper */
    PICTURE_SIGN_DARK,  /* the panel: filled with ink */
    PICTURE_INTRUDER,   /* an intruder's way */
    PICTURE_ARROW,      /* the head of its arrow */
    PICTURE_FORCED,     /* crosses out an opening that he forces */
    PICTURE_LEADER,
    PICTURE_DIMENSION, /* dimension lines, scale bar */
    PICTURE_LABEL,     /* names of rooms */
    PICTURE_SMALL,     /* measures, furniture, the legend */
    PICTURE_MARK,      /* the letter or number in a sign */
    PICTURE_MARK_LIGHT,
    PICTURE_TITLE,
    PICTURE_ROLE_COUNT
};

enum picture_form { PICTURE_AREA, PICTURE_LINE, PICTURE_RINGS, PICTURE_TEXT };
enum picture_anchor { PICTURE_MIDDLE, PICTURE_BEGIN, PICTURE_END };

/** One shape. AREA: a closed outline; LINE: an open one; RINGS: closed outlines one after the other, ring_count of
 *  them with so many points each as rings says, of which the inner ones are holes; TEXT: at points[0], its height about
 *  it. width_mm: of the line where the building says it (walls), else 0: as the role; of text its height. about: the
 *  thing of the site that it stands for, as a path ("zones[2]", "building.openings[0]"), or empty. */
struct picture_shape {
    enum picture_role role;
    enum picture_form form;
    struct text about;
    const struct point *points;
    size_t count;
    const size_t *rings;
    size_t ring_count;
    int32_t width_mm;
    struct text text;
    enum picture_anchor anchor;
};

/** Which parts of a drawing lie over each other: floors and walls, what is in them, devices with every name, and last
 *  what belongs to the sheet of paper alone (measures over all, scale bar, title, legend). A layer's shapes lie after
 *  the floors or after the building. */
enum picture_part {
    PICTURE_PART_FLOORS,
    PICTURE_PART_BUILDING,
    PICTURE_PART_THINGS,
    PICTURE_PART_SHEET,
    PICTURE_PART_COUNT
};

struct picture_box {
    struct point low;
    struct point high;
};

/** The whole drawing. low, high: what it covers; scale: 1:scale on paper, at which signs and text were measured. ends:
 *  how many shapes there are up to the end of each part. about: of the shapes that are added. signs: where the signs of
 *  this storey will stand, for a layer that is drawn before them; NULL where nobody said it. */
struct picture {
    struct arena *arena;
    struct picture_shape *shapes;
    size_t count;
    size_t capacity;
    struct point low;
    struct point high;
    bool begun; /* low and high are of something */
    int32_t scale;
    size_t ends[PICTURE_PART_COUNT];
    struct text about;
    const struct picture_box *signs;
    size_t sign_count;
};

/** An empty picture; shapes go to the arena, which remembers a refusal. */
void picture_init(struct picture *picture, struct arena *arena, int32_t scale);

/** Adds a shape. points: copied. */
void picture_add(struct picture *picture, enum picture_role role, enum picture_form form,
        const struct point *points, size_t count, int32_t width_mm);
/** Adds RINGS. points: of all rings; both are copied. */
void picture_add_rings(struct picture *picture, enum picture_role role, const struct point *points,
        const size_t *rings, size_t ring_count);
void picture_add_line(
        struct picture *picture, enum picture_role role, struct point from, struct point to);
void picture_add_text(struct picture *picture, enum picture_role role, struct point at,
        enum picture_anchor anchor, int32_t height_mm, struct text text);

/** What the shapes that follow stand for: item `index` of a list of the site ("zones"); list NULL: nothing. */
void picture_about(struct picture *picture, const char *list, size_t index);

/** "floor", "sign-dark": the role as a word, for whoever inks it by name. */
const char *picture_role_name(enum picture_role role);

/** The shapes from..to-1 as a JSON array; what is empty or nothing is left out (docs/serving.md). */
void picture_add_json(const struct picture *picture, size_t from, size_t to, const char *name,
        struct json_writer *json);

/** So many millimetres of paper in millimetres of the building. tenths: of a millimetre of paper. */
int32_t picture_paper(const struct picture *picture, int32_t tenths);

/** Makes the picture at least as large as to hold the point. */
void picture_cover(struct picture *picture, struct point at);

#endif
