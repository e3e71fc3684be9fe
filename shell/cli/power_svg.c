#include "cli/power_svg.h"

#include "base/date.h"
#include "cli/svg.h"
#include "power/site_dues.h"

#include <math.h>

/* Millimetres of paper, A4 upright. */
enum {
    WIDTH_MM = 190,
    MARGIN_MM = 8,
    FROM_MM = 62, /* the years begin */
    TO_MM = 182,
    TOP_MM = 26,
    ROW_MM = 7,
    TICKS_MOST = 12,
    NAME_MOST = 30, /* letters before the years */
};

/* The years that are drawn, whole ones. */
struct years {
    int32_t first;
    int32_t last; /* it ends with the beginning of this one */
};

static int32_t year_of(int32_t day) {
    int32_t year = 0;
    int32_t month = 0;
    int32_t of_month = 0;
    date_split(day, &year, &month, &of_month);
    return year;
}

static double across_mm(const struct years *years, int32_t day) {
    const double begin = date_of(years->first, 1, 1);
    const double end = date_of(years->last, 1, 1);
    return FROM_MM + (TO_MM - FROM_MM) * (day - begin) / (end - begin);
}

static void add_words(struct text_builder *out, double x_mm, double y_mm, const char *size,
        const char *anchor, const char *weight, struct text words) {
    text_add_format(out,
            "<text x=\"%.2f\" y=\"%.2f\" font-size=\"%s\" text-anchor=\"%s\" font-weight=\"%s\" "
            "fill=\"#20242a\">",
            x_mm, y_mm, size, anchor, weight);
    svg_add_escaped(out, words);
    text_add_string(out, "</text>\n");
}

static void add_line(struct text_builder *out, double x_mm, double from_mm, double to_mm,
        const char *colour, const char *width) {
    text_add_format(out,
            "<line x1=\"%.2f\" x2=\"%.2f\" y1=\"%.2f\" y2=\"%.2f\" stroke=\"%s\" "
            "stroke-width=\"%s\"/>\n",
            x_mm, x_mm, from_mm, to_mm, colour, width);
}

static void add_bar(
        struct text_builder *out, double from_mm, double to_mm, double y_mm, const char *fill) {
    text_add_format(out,
            "<rect x=\"%.2f\" y=\"%.2f\" width=\"%.2f\" height=\"3\" fill=\"%s\" "
            "stroke=\"#20242a\" stroke-width=\"0.2\"/>\n",
            from_mm, y_mm, fmax(0, to_mm - from_mm), fill);
}

static void add_scale(struct text_builder *out, const struct years *years, double bottom_mm) {
    const int32_t count = years->last - years->first;
    const int32_t step = (count + TICKS_MOST - 1) / TICKS_MOST;
    for (int32_t year = years->first; year <= years->last; year += step) {
        const double x_mm = across_mm(years, date_of(year, 1, 1));
        add_line(out, x_mm, TOP_MM - 2, bottom_mm, "#d9d4c8", "0.18");
        add_words(out, x_mm, TOP_MM - 3.5, "2.6", "middle", "400",
                text_print(out->arena, "%d", year));
    }
}

static void add_name(struct text_builder *out, struct text name, double y_mm) {
    add_words(out, MARGIN_MM, y_mm + 2.5, name.length <= NAME_MOST ? "3" : "1.7", "start", "400",
            name);
}

static void add_row(struct text_builder *out, const struct site *site, const struct years *years,
        const struct power_due *due, double y_mm) {
    const double due_mm = across_mm(years, due->due_day);
    add_name(out, power_due_name(site, due), y_mm);
    add_bar(out, due_mm, across_mm(years, due->last_day), y_mm, "#ffffff");
    add_bar(out, across_mm(years, due->since_day), due_mm, y_mm, "#6f8492");
}

/* A line down from the first row of a visit, with its day and how many below; labels take turns in two lines. */
static void add_visit(struct text_builder *out, const struct years *years,
        const struct power_due *dues, size_t first, size_t end, size_t rows, size_t turn) {
    const double x_mm = across_mm(years, dues[first].due_day);
    const double bottom_mm = TOP_MM + (double)rows * ROW_MM;
    const double label_mm = bottom_mm + 4.5 + 4 * (double)(turn % 2);
    struct text_builder words;
    text_builder_init(&words, out->arena);
    date_add(&words, dues[first].due_day);
    text_add_format(&words, ": %zu %s", end - first, end - first == 1 ? "battery" : "batteries");
    add_line(out, x_mm, TOP_MM + (double)first * ROW_MM - 1, label_mm - 3, "#20242a", "0.35");
    add_words(out, fmin(x_mm, TO_MM - 8), label_mm, "2.8", "middle", "600", text_built(&words));
}

/* Those of which nobody wrote when they were put in, below all others. Gives how many; out: NULL: counts alone. */
static size_t add_undated(struct text_builder *out, const struct site *site, double top_mm) {
    size_t count = 0;
    for (size_t i = 0; i < site->device_count; i++) {
        struct power_site_cell cell;
        enum power_lack lack = POWER_LACKS_NOTHING;
        if (site->devices[i].battery_day != DATE_NONE ||
                !power_site_cell(site, i, &cell, &lack, NULL).good || lack != POWER_LACKS_NOTHING) {
            continue;
        }
        if (out != NULL) {
            const double y_mm = top_mm + (double)count * ROW_MM;
            add_name(out, site->devices[i].name, y_mm);
            add_words(out, FROM_MM, y_mm + 2.5, "2.8", "start", "400",
                    text_print(out->arena,
                            "put in when? lasts %.1f to %.1f years: write battery-since",
                            cell.life.change_years, cell.life.most_years));
        }
        count++;
    }
    return count;
}

static struct years years_of(const struct power_due *dues, size_t count) {
    struct years years = {.first = INT32_MAX, .last = 0};
    for (size_t i = 0; i < count; i++) {
        const int32_t first = year_of(dues[i].since_day);
        const int32_t last = year_of(dues[i].last_day) + 1;
        years.first = first < years.first ? first : years.first;
        years.last = last > years.last ? last : years.last;
    }
    return years;
}

static void add_head(struct text_builder *out, struct text name, int32_t height_mm) {
    text_add_format(out,
            "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
            "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"%dmm\" "
            "height=\"%dmm\" viewBox=\"0 0 %d %d\" font-family=\"sans-serif\">\n<title>",
            WIDTH_MM, height_mm, WIDTH_MM, height_mm);
    svg_add_escaped(out, name);
    text_add_format(out, "</title>\n<rect width=\"%d\" height=\"%d\" fill=\"#ffffff\"/>\n",
            WIDTH_MM, height_mm);
    add_words(out, MARGIN_MM, 11, "4.6", "start", "600",
            text_print(out->arena, "Batteries: %.*s", TEXT_ARGS(name)));
    add_words(out, MARGIN_MM, 16.5, "2.8", "start", "400",
            text_of("dark: from when it was put in to the day to change it, its careful end; "
                    "light: "
                    "as long as it may last"));
}

outcome power_svg_add(
        const struct site *site, struct text_builder *out, struct problem *ret_problem) {
    enum { LABELS_MM = 16 };
    struct power_due *dues = NULL;
    size_t count = 0;
    TRY(power_site_dues(site, out->arena, &dues, &count, ret_problem));
    if (count == 0) {
        FAIL(ret_problem, PROBLEM_MISSING, "",
                "a calendar wants to know when batteries were put in: battery-since: 2026-03-02 "
                "of a device, or of panel");
    }
    const struct years years = years_of(dues, count);
    const double bottom_mm = TOP_MM + (double)count * ROW_MM;
    const size_t undated = add_undated(NULL, site, 0);
    add_head(out, site->name, (int32_t)(bottom_mm + LABELS_MM + (double)undated * ROW_MM));
    add_scale(out, &years, bottom_mm);
    for (size_t i = 0; i < count; i++) {
        add_row(out, site, &years, &dues[i], TOP_MM + (double)i * ROW_MM + 1);
    }
    size_t turn = 0;
    for (size_t first = 0; first < count; turn++) {
        const size_t end = power_visit_end(dues, count, first);
        add_visit(out, &years, dues, first, end, count, turn);
        first = end;
    }
    (void)add_undated(out, site, bottom_mm + LABELS_MM - 4);
    text_add_string(out, "</svg>\n");
    return outcome_good();
}
