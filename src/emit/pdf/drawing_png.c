/* A drawing as a picture of pixels, painted as on paper. */
#include "base/limits.h"
#include "emit/emit.h"
#include "emit/pdf/pdf.h"

#include <math.h>

/* Fewer where the limits leave no room for so many: w pixels are at most w / shape + 1/2 high. */
static uint32_t usual_width(const Drawing *drawing)
{
    double shape = drawing->width / drawing->height;
    double by_pixels = shape * (sqrt(0.25 + 4 * LIMIT_PIXELS / shape) - 0.5) / 2;
    double most = floor(fmin(fmin(by_pixels, LIMIT_PIXEL_ROWS * shape), LIMIT_PIXEL_ROWS));
    return (uint32_t)fmax(1, fmin(ceil(drawing->width * PNG_PIXELS_A_MM), most));
}

/* The picture's height in pixels: as high for its width as the drawing. */
static int rows_for(const Drawing *drawing, uint32_t width, Trap *trap)
{
    double rows = fmax(1, round(width * drawing->height / drawing->width));
    if (rows > LIMIT_PIXEL_ROWS)
        trap_beyond(trap, BEYOND_PIXEL_ROWS);
    if (rows * width > LIMIT_PIXELS)
        trap_beyond(trap, BEYOND_PIXELS);
    return (int)rows;
}

/* Letters are as wide as on paper at any size: their outlines keep to no grid of pixels. */
static void set_letters(Paper *paper)
{
    cairo_font_options_t *options = cairo_font_options_create();
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    pango_cairo_context_set_font_options(paper->context, options);
    cairo_font_options_destroy(options);
}

/* Without opacity: the paper lies below. */
static void start_pixels(Paper *paper, const Drawing *drawing, uint32_t width)
{
    int rows = rows_for(drawing, width, paper->arena->trap);
    int stride = cairo_format_stride_for_width(CAIRO_FORMAT_RGB24, (int)width);
    unsigned char *pixels = arena_take_many(paper->arena, (size_t)rows, (size_t)stride);
    paper->surface = cairo_image_surface_create_for_data(pixels, CAIRO_FORMAT_RGB24, (int)width, rows, stride);
    paper->pen = cairo_create(paper->surface);
    paper_source(paper, PAPER);
    cairo_paint(paper->pen);
    cairo_scale(paper->pen, width / drawing->width, width / drawing->width);
}

static bool paint(Buffer *out, Paper *paper, const Drawing *drawing, uint32_t width)
{
    if (!paper_open(paper))
        return false;
    set_letters(paper);
    paper->counting = true;
    paper_drawing(paper, drawing, 0, 0);
    paper->counting = false;
    start_pixels(paper, drawing, width);
    paper_drawing(paper, drawing, 0, 0);
    paper_pack_pixels(paper);
    paper_put(out, paper);
    return true;
}

bool emit_drawing_png(Buffer *out, const Drawing *drawing, uint32_t width)
{
    Paper *paper = arena_take(out->arena, sizeof *paper);
    paper->too_much = BEYOND_PAINTED;
    paper_start_guard(paper, out->arena);
    volatile bool painted = false;
    if (setjmp(*trap_set(&paper->guard)) == 0) {
        painted = paint(out, paper, drawing, width ? width : usual_width(drawing));
        paper->whole = true;
    }
    paper_end_guard(paper);
    return painted;
}
