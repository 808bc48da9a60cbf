/* What is set on the pages of a PDF, read where it is handed to cairo: the functions below stand before cairo's
 * and pango's own, note what is printed and where, and pass it on. All lengths in mm from the page's upper left
 * corner. One line for a text, with the box it takes; one for all lines or areas of one colour and width between
 * two texts, with how many there are, the box around them, and the middle of all their points. */
#ifndef TURNLAY_TESTS_PDF_RECORD_H
#define TURNLAY_TESTS_PDF_RECORD_H

#include <cairo-pdf.h>
#include <dlfcn.h>
#include <math.h>
#include <pango/pangocairo.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#define MM (25.4 / 72)

typedef struct Box {
    double left, top, right, bottom;
} Box;

/* A line of a text as it is set: its box upright on the page, also where it is turned. */
typedef struct SetText {
    Box box;
    uint32_t page;
    bool turned;
    char words[64];
} SetText;

typedef struct Drawn {
    char style[64];
    unsigned count, points;
    Box box;
    double x, y; /* sums */
} Drawn;

enum { MOST_TEXTS = 8000, MOST_DRAWN = 400 };

static struct {
    bool on;
    FILE *to;
    uint32_t page, text_count, drawn_count;
    SetText texts[MOST_TEXTS];
    Drawn drawn[MOST_DRAWN];
    Box all_drawn; /* on any page; a clip draws nothing */
} record;

static const Box no_box = {INFINITY, INFINITY, -INFINITY, -INFINITY};

static void box_add(Box *box, double x, double y)
{
    box->left = fmin(box->left, x);
    box->right = fmax(box->right, x);
    box->top = fmin(box->top, y);
    box->bottom = fmax(box->bottom, y);
}

#define PRINT_BOX "%.2f %.2f to %.2f %.2f"
#define BOX_VALUES(box) (box).left, (box).top, (box).right, (box).bottom

static void flush_drawn(void)
{
    for (uint32_t i = 0; i < record.drawn_count; i++) {
        const Drawn *drawn = &record.drawn[i];
        fprintf(record.to, "  %s: %u in " PRINT_BOX ", middle %.2f %.2f of %u\n", drawn->style, drawn->count,
                BOX_VALUES(drawn->box), drawn->x / drawn->points, drawn->y / drawn->points, drawn->points);
        if (strncmp(drawn->style, "clip", 4) != 0) {
            box_add(&record.all_drawn, drawn->box.left, drawn->box.top);
            box_add(&record.all_drawn, drawn->box.right, drawn->box.bottom);
        }
    }
    record.drawn_count = 0;
}

static Drawn *drawn_in(const char *style)
{
    for (uint32_t i = 0; i < record.drawn_count; i++)
        if (strcmp(record.drawn[i].style, style) == 0)
            return &record.drawn[i];
    if (record.drawn_count == MOST_DRAWN)
        flush_drawn();
    Drawn *drawn = &record.drawn[record.drawn_count++];
    *drawn = (Drawn){.box = no_box};
    snprintf(drawn->style, sizeof drawn->style, "%s", style);
    return drawn;
}

static void put_colour(cairo_t *pen, char *to, size_t size)
{
    double red, green, blue, opacity;
    int stops = 0;
    cairo_pattern_t *source = cairo_get_source(pen);
    if (cairo_pattern_get_rgba(source, &red, &green, &blue, &opacity) == CAIRO_STATUS_SUCCESS)
        snprintf(to, size, "#%02x%02x%02x", (unsigned)lround(red * 255), (unsigned)lround(green * 255),
                 (unsigned)lround(blue * 255));
    else if (cairo_pattern_get_color_stop_count(source, &stops) == CAIRO_STATUS_SUCCESS)
        snprintf(to, size, "light of %d stops", stops);
}

static void add_point(cairo_t *pen, Drawn *drawn, double x, double y)
{
    cairo_user_to_device(pen, &x, &y);
    box_add(&drawn->box, x * MM, y * MM);
    drawn->x += x * MM;
    drawn->y += y * MM;
    drawn->points++;
}

/* Light has a place, too: where it begins and ends, from left to right as far as the area it falls on. */
static void add_light(cairo_t *pen, Drawn *drawn)
{
    double x0, y0, x1, y1, left, top, right, bottom;
    if (cairo_pattern_get_linear_points(cairo_get_source(pen), &x0, &y0, &x1, &y1) != CAIRO_STATUS_SUCCESS)
        return;
    cairo_path_extents(pen, &left, &top, &right, &bottom);
    add_point(pen, drawn, left + x0, y0);
    add_point(pen, drawn, left + x1, y1);
}

static void record_path(cairo_t *pen, const char *what)
{
    if (!record.on)
        return;
    char colour[32] = "", style[64];
    put_colour(pen, colour, sizeof colour);
    if (strcmp(what, "line") == 0) {
        double width = cairo_get_line_width(pen), none = 0;
        cairo_user_to_device_distance(pen, &width, &none);
        snprintf(style, sizeof style, "line%s %s, %.2f wide", cairo_get_dash_count(pen) ? " dashed" : "", colour,
                 hypot(width, none) * MM);
    } else {
        snprintf(style, sizeof style, "%s %s", what, colour);
    }
    Drawn *drawn = drawn_in(style);
    drawn->count++;
    add_light(pen, drawn);
    cairo_path_t *path = cairo_copy_path_flat(pen);
    for (int i = 0; i < path->num_data; i += path->data[i].header.length)
        for (int k = 1; k < path->data[i].header.length; k++) {
            add_point(pen, drawn, path->data[i + k].point.x, path->data[i + k].point.y);
        }
    cairo_path_destroy(path);
}

/* The function of this name that would be called if this program had none. */
#define OWN(type, name) ((type)dlsym(RTLD_NEXT, name))
typedef void Draws(cairo_t *pen);

void cairo_fill(cairo_t *pen)
{
    record_path(pen, "area");
    OWN(Draws *, "cairo_fill")(pen);
}

void cairo_fill_preserve(cairo_t *pen)
{
    record_path(pen, "area");
    OWN(Draws *, "cairo_fill_preserve")(pen);
}

void cairo_stroke(cairo_t *pen)
{
    record_path(pen, "line");
    OWN(Draws *, "cairo_stroke")(pen);
}

void cairo_stroke_preserve(cairo_t *pen)
{
    record_path(pen, "line");
    OWN(Draws *, "cairo_stroke_preserve")(pen);
}

void cairo_clip(cairo_t *pen)
{
    record_path(pen, "clip");
    OWN(Draws *, "cairo_clip")(pen);
}

void cairo_show_page(cairo_t *pen)
{
    if (record.on) {
        flush_drawn();
        fprintf(record.to, "--- end of page %u\n", ++record.page);
    }
    OWN(Draws *, "cairo_show_page")(pen);
}

static Box box_on_page(cairo_t *pen, const PangoRectangle *logical)
{
    double corners[2][2] = {{logical->x, logical->y}, {logical->x + logical->width, logical->y + logical->height}};
    Box box = no_box;
    for (int i = 0; i < 2; i++) {
        double x = corners[i][0] / PANGO_SCALE, y = corners[i][1] / PANGO_SCALE;
        cairo_user_to_device(pen, &x, &y);
        box_add(&box, x * MM, y * MM);
    }
    return box;
}

static void keep_text(Box box, bool turned, const char *words)
{
    if (record.text_count == MOST_TEXTS)
        return;
    SetText *text = &record.texts[record.text_count++];
    *text = (SetText){box, record.page, turned, ""};
    snprintf(text->words, sizeof text->words, "%s", words);
}

static void keep_lines(cairo_t *pen, PangoLayout *layout, bool turned)
{
    PangoLayoutIter *lines = pango_layout_get_iter(layout);
    do {
        PangoRectangle logical;
        pango_layout_iter_get_line_extents(lines, NULL, &logical);
        keep_text(box_on_page(pen, &logical), turned,
                  pango_layout_get_text(layout) + pango_layout_iter_get_line_readonly(lines)->start_index);
    } while (pango_layout_iter_next_line(lines));
    pango_layout_iter_free(lines);
}

static void record_text(cairo_t *pen, PangoLayout *layout)
{
    flush_drawn();
    PangoRectangle logical;
    pango_layout_get_extents(layout, NULL, &logical);
    Box box = box_on_page(pen, &logical);
    double x = 1, y = 0;
    cairo_user_to_device_distance(pen, &x, &y);
    const PangoFontDescription *font = pango_layout_get_font_description(layout);
    char colour[32] = "";
    put_colour(pen, colour, sizeof colour);
    fprintf(record.to, "%s, %.2f points%s, " PRINT_BOX, colour,
            pango_font_description_get_size(font) / (double)PANGO_SCALE * hypot(x, y),
            pango_font_description_get_weight(font) == PANGO_WEIGHT_BOLD ? " bold" : "", BOX_VALUES(box));
    if (fabs(y) > 1e-9)
        fprintf(record.to, ", turned %.2f", atan2(y, x) * 180 / acos(-1));
    if (pango_layout_is_ellipsized(layout))
        fputs(", cut", record.to);
    fprintf(record.to, ": %.40s\n", pango_layout_get_text(layout));
    keep_lines(pen, layout, fabs(y) > 1e-9);
}

void pango_cairo_show_layout(cairo_t *pen, PangoLayout *layout)
{
    if (record.on)
        record_text(pen, layout);
    OWN(void (*)(cairo_t *, PangoLayout *), "pango_cairo_show_layout")(pen, layout);
}

int cairo_pdf_surface_add_outline(cairo_surface_t *surface, int parent, const char *words, const char *link,
                                  cairo_pdf_outline_flags_t flags)
{
    typedef int Adds(cairo_surface_t *, int, const char *, const char *, cairo_pdf_outline_flags_t);
    int entry = OWN(Adds *, "cairo_pdf_surface_add_outline")(surface, parent, words, link, flags);
    if (record.on)
        fprintf(record.to, "contents, %d under %d, %s: %s\n", entry, parent, link, words);
    return entry;
}

void cairo_pdf_surface_set_metadata(cairo_surface_t *surface, cairo_pdf_metadata_t which, const char *words)
{
    if (record.on)
        fprintf(record.to, "metadata %d: %s\n", which, words);
    OWN(void (*)(cairo_surface_t *, cairo_pdf_metadata_t, const char *), "cairo_pdf_surface_set_metadata")
    (surface, which, words);
}

/* A round that writes nowhere only counts the pages. */
cairo_surface_t *cairo_pdf_surface_create_for_stream(cairo_write_func_t write, void *closure, double width,
                                                     double height)
{
    typedef cairo_surface_t *Creates(cairo_write_func_t, void *, double, double);
    record.on = record.to && write;
    record.page = 0;
    if (record.on)
        fprintf(record.to, "paper %.2f by %.2f\n", width * MM, height * MM);
    return OWN(Creates *, "cairo_pdf_surface_create_for_stream")(write, closure, width, height);
}

#endif
