/* Pages and lines. The PDF's bytes are gathered in memory of their own: cairo calls back for each stretch of
 * them, and no jump may go through its frames. */
#include "emit/pdf/pdf.h"

#include "base/limits.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The foot stands below the printed field. */
#define MARGIN_BOTTOM 14.0
#define FOOT_HEIGHT 10.5
#define COLUMNS_APART 4.0
/* Metadata wants a date; a clock's would make every file another. */
static const char no_date[] = "2000-01-01T00:00:00Z";

static Chunk *add_chunk(Paper *paper)
{
    paper->guard.requests++;
    Chunk *chunk = paper->guard.requests == paper->guard.fail_at ? NULL : malloc(sizeof *chunk);
    if (!chunk)
        return NULL;
    chunk->next = NULL;
    chunk->length = 0;
    if (paper->last)
        paper->last->next = chunk;
    else
        paper->first = chunk;
    return paper->last = chunk;
}

/* Tells cairo of no failure: version 1.16 reads what is not there when its stream breaks off while it writes
 * fonts. */
static cairo_status_t gather(void *closure, const unsigned char *bytes, unsigned length)
{
    Paper *paper = closure;
    while (length && !paper->dropping) {
        Chunk *chunk = paper->last;
        if ((!chunk || chunk->length == sizeof chunk->bytes) && !(chunk = add_chunk(paper))) {
            paper->dropping = true;
            break;
        }
        size_t room = sizeof chunk->bytes - chunk->length, taken = length < room ? length : room;
        memcpy(chunk->bytes + chunk->length, bytes, taken);
        chunk->length += taken;
        bytes += taken;
        length -= (unsigned)taken;
    }
    return CAIRO_STATUS_SUCCESS;
}

/* A machine without fonts prints boxes in place of letters. */
static bool has_letters(Paper *paper)
{
    PangoLayout *layout = pango_layout_new(paper->context);
    pango_layout_set_font_description(layout, paper->font);
    pango_layout_set_text(layout, "Wind 12 turns", -1);
    bool known = pango_layout_get_unknown_glyphs_count(layout) == 0;
    g_object_unref(layout);
    return known;
}

bool paper_open(Paper *paper)
{
    paper->laid = arena_take_many(paper->arena, LAID_TEXTS, sizeof *paper->laid);
    paper->fonts = pango_cairo_font_map_new();
    paper->context = pango_font_map_create_context(paper->fonts);
    /* Or else the locale chose the font of signs that several languages share. */
    pango_context_set_language(paper->context, pango_language_from_string("en"));
    pango_context_set_round_glyph_positions(paper->context, FALSE);
    paper->font = pango_font_description_from_string("sans-serif");
    return has_letters(paper);
}

static void close_round(Paper *paper)
{
    cairo_destroy(paper->pen); /* nothing, if there is none */
    cairo_surface_destroy(paper->surface);
    paper->pen = NULL;
    paper->surface = NULL;
}

void paper_close(Paper *paper)
{
    paper->dropping = true;
    close_round(paper);
    if (paper->font)
        pango_font_description_free(paper->font);
    for (int i = 0; paper->laid && i < LAID_TEXTS; i++)
        g_clear_object(&paper->laid[i].layout);
    g_clear_object(&paper->context);
    g_clear_object(&paper->fonts);
    for (Chunk *chunk = paper->first, *next; chunk; chunk = next) {
        next = chunk->next;
        free(chunk);
    }
    paper->first = paper->last = NULL;
    paper->font = NULL;
}

void paper_start_guard(Paper *paper, Arena *arena)
{
    paper->arena = arena;
    paper->trap = arena->trap;
    paper->guard = (Trap){.requests = paper->trap->requests, .fail_at = paper->trap->fail_at};
    arena->trap = &paper->guard;
}

void paper_end_guard(Paper *paper)
{
    Trap *trap = paper->trap;
    trap_clear(&paper->guard);
    paper_close(paper);
    trap->requests = paper->guard.requests;
    paper->arena->trap = trap;
    if (paper->guard.beyond)
        trap_beyond(trap, paper->guard.beyond);
    if (!paper->whole)
        arena_exhausted(paper->arena);
}

void paper_count(Paper *paper, size_t count)
{
    if (paper->counting && (paper->printed += count) > LIMIT_PRINTED)
        trap_beyond(paper->arena->trap, paper->too_much);
}

/* Takes the field's sides to those of the column. */
static void enter_column(Paper *paper, uint32_t column)
{
    double all = paper->width - 2 * PDF_MARGIN, each = (all + COLUMNS_APART) / paper->columns;
    paper->column = column;
    paper->left = PDF_MARGIN + column * each;
    paper->right = paper->left + each - COLUMNS_APART;
}

/* White where a viewer has none. And cairo sees at once that all else of the page lies within: else it puts
 * together what is covered from every line and text, a tenth of all that a page costs. */
static void start_page(Paper *paper)
{
    paper->page++;
    paper->y = paper->top;
    paper_box(paper, PDF_MARGIN, paper->top, paper->width - 2 * PDF_MARGIN,
              paper->height - FOOT_HEIGHT - 1 - paper->top, PAPER, NO_COLOUR);
}

void paper_begin(Paper *paper, bool counting)
{
    paper->counting = counting;
    paper->page = 0;
    paper->columns = 1;
    enter_column(paper, 0);
    paper->top = paper->columns_top = PDF_MARGIN;
    paper->bottom = paper->height - MARGIN_BOTTOM;
    double width = paper->width / MM_PER_POINT, height = paper->height / MM_PER_POINT;
    paper->surface = cairo_pdf_surface_create_for_stream(counting ? NULL : gather, paper, width, height);
    cairo_pdf_surface_set_metadata(paper->surface, CAIRO_PDF_METADATA_TITLE,
                                   paper_presentable(paper, paper->title));
    cairo_pdf_surface_set_metadata(paper->surface, CAIRO_PDF_METADATA_AUTHOR,
                                   paper_presentable(paper, paper->author));
    cairo_pdf_surface_set_metadata(paper->surface, CAIRO_PDF_METADATA_SUBJECT, paper->mark);
    cairo_pdf_surface_set_metadata(paper->surface, CAIRO_PDF_METADATA_CREATOR, "turnlay");
    cairo_pdf_surface_set_metadata(paper->surface, CAIRO_PDF_METADATA_CREATE_DATE, no_date);
    paper->pen = cairo_create(paper->surface);
    if (counting) /* what is laid out in the first round stays for the second */
        pango_cairo_update_context(paper->pen, paper->context);
    cairo_scale(paper->pen, 1 / MM_PER_POINT, 1 / MM_PER_POINT);
    start_page(paper);
}

static void print_foot(Paper *paper)
{
    static const Style words = {.points = 8, .colour = GREY_INK, .lines = 1};
    static const Style number = {.points = 8, .colour = GREY_INK, .align = ALIGN_END};
    double y = paper->height - FOOT_HEIGHT, left = PDF_MARGIN, right = paper->width - PDF_MARGIN;
    paper_line(paper, left, y - 1.5, right, y - 1.5, PALE_INK, 0.1);
    paper_text(paper, &words, left, y, (right - left) * 0.75,
               text_format(paper->arena, "file id %s   %s", paper->mark, paper->title));
    paper_text(paper, &number, right, y, 0, text_format(paper->arena, "page %u of %u", paper->page, paper->pages));
}

static void draw_ruled(Paper *paper, RuledKind kind)
{
    static const struct {
        uint32_t colour;
        double width;
    } pens[RULED_KINDS] = {
#define X(name, colour, width) [RULED_##name] = {colour, width},
        RULED_TABLE(X)
#undef X
    };
    const Ruled *ruled = paper->ruled[kind].items;
    uint32_t count = paper->ruled[kind].count;
    for (uint32_t i = 0; i < count; i++)
        if (ruled[i].height > 0)
            cairo_rectangle(paper->pen, ruled[i].x, ruled[i].y, ruled[i].width, ruled[i].height);
        else
            paper_trace(paper, ruled[i].x, ruled[i].y, ruled[i].x + ruled[i].width, ruled[i].y);
    paper_stroke(paper, pens[kind].colour, pens[kind].width);
    paper->ruled[kind].count = 0;
}

void paper_ruled(Paper *paper, RuledKind kind, Ruled ruled)
{
    paper_count(paper, ruled.height > 0 ? 4 : 2);
    if (!paper->counting)
        *LIST_ADD(paper->arena, &paper->ruled[kind]) = ruled;
}

static void end_page(Paper *paper)
{
    for (RuledKind kind = 0; kind < RULED_KINDS; kind++)
        draw_ruled(paper, kind);
    print_foot(paper);
    cairo_show_page(paper->pen);
}

void paper_break(Paper *paper)
{
    if (paper->column + 1 < paper->columns) {
        enter_column(paper, paper->column + 1);
        paper->y = paper->columns_top;
        return;
    }
    end_page(paper);
    start_page(paper);
    enter_column(paper, 0);
    paper->columns_top = paper->top;
}

void paper_start_columns(Paper *paper, uint32_t columns)
{
    paper->columns = columns;
    paper->columns_top = paper->y;
    enter_column(paper, 0);
}

void paper_end_columns(Paper *paper)
{
    if (paper->column)
        paper->y = paper->bottom;
    paper->columns = 1;
    enter_column(paper, 0);
}

void paper_need(Paper *paper, double height)
{
    /* The next column may begin as low as this one. */
    while (paper->y + height > paper->bottom && paper->y > paper->top)
        paper_break(paper);
}

void paper_end(Paper *paper)
{
    end_page(paper);
    paper->pages = paper->page;
    cairo_surface_finish(paper->surface);
    bool failed = paper->dropping || cairo_status(paper->pen) != CAIRO_STATUS_SUCCESS
                  || cairo_surface_status(paper->surface) != CAIRO_STATUS_SUCCESS;
    close_round(paper);
    if (failed)
        arena_exhausted(paper->arena);
}

void paper_pack_pixels(Paper *paper)
{
    bool failed = cairo_status(paper->pen) != CAIRO_STATUS_SUCCESS
                  || cairo_surface_write_to_png_stream(paper->surface, gather, paper) != CAIRO_STATUS_SUCCESS
                  || paper->dropping;
    close_round(paper);
    if (failed)
        arena_exhausted(paper->arena);
}

void paper_put(Buffer *out, const Paper *paper)
{
    for (const Chunk *chunk = paper->first; chunk; chunk = chunk->next)
        buffer_put(out, chunk->bytes, chunk->length);
}

void paper_source(Paper *paper, uint32_t colour)
{
    cairo_set_source_rgb(paper->pen, (colour >> 16 & 0xff) / 255.0, (colour >> 8 & 0xff) / 255.0,
                         (colour & 0xff) / 255.0);
}

/* In points a line takes half as long as in mm, where each carries the measure with it. */
void paper_stroke_path(Paper *paper, double width, double dash, double gap)
{
    double x = 1, y = 0;
    cairo_user_to_device_distance(paper->pen, &x, &y);
    double points = hypot(x, y), dashes[] = {dash * points, gap * points};
    cairo_save(paper->pen);
    cairo_identity_matrix(paper->pen);
    cairo_set_line_width(paper->pen, width * points);
    cairo_set_dash(paper->pen, dashes, dash > 0 ? 2 : 0, 0);
    cairo_stroke_preserve(paper->pen);
    cairo_restore(paper->pen);
}

void paper_trace(Paper *paper, double x0, double y0, double x1, double y1)
{
    paper_count(paper, 2);
    if (paper->counting)
        return;
    cairo_move_to(paper->pen, x0, y0);
    cairo_line_to(paper->pen, x1, y1);
}

void paper_stroke(Paper *paper, uint32_t colour, double width)
{
    if (paper->counting || !cairo_has_current_point(paper->pen))
        return;
    paper_source(paper, colour);
    paper_stroke_path(paper, width, 0, 0);
    cairo_new_path(paper->pen);
}

void paper_line(Paper *paper, double x0, double y0, double x1, double y1, uint32_t colour, double width)
{
    paper_trace(paper, x0, y0, x1, y1);
    paper_stroke(paper, colour, width);
}

void paper_box(Paper *paper, double x, double y, double width, double height, uint32_t fill, uint32_t stroke)
{
    paper_count(paper, 4);
    if (paper->counting)
        return;
    cairo_rectangle(paper->pen, x, y, width, height);
    if (fill != NO_COLOUR) {
        paper_source(paper, fill);
        cairo_fill_preserve(paper->pen);
    }
    if (stroke != NO_COLOUR) {
        paper_source(paper, stroke);
        paper_stroke_path(paper, 0.2, 0, 0);
    }
    cairo_new_path(paper->pen);
}

static void add_to_contents(Paper *paper, int level, const char *text)
{
    int above = level ? paper->chapter : CAIRO_PDF_OUTLINE_ROOT;
    const char *page = text_format(paper->arena, "page=%u", paper->page);
    int entry = cairo_pdf_surface_add_outline(paper->surface, above, paper_presentable(paper, text), page, 0);
    if (!level)
        paper->chapter = entry;
}

void paper_titled(Paper *paper, const Style *style, int level, const char *title, const char *text, double below)
{
    double width = paper_width(paper), height = paper_text_height(paper, style, width, text);
    paper_need(paper, height + below);
    add_to_contents(paper, level, title);
    paper->y += paper_text(paper, style, paper->left, paper->y, width, text) + 1.5;
}

void paper_heading(Paper *paper, const Style *style, int level, const char *text, double below)
{
    paper_titled(paper, style, level, text, text, below);
}
