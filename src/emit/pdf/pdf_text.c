/* Texts of any script, by pango. */
#include "emit/pdf/pdf.h"

#include "base/table.h"
#include "base/visible.h"

/* Longer texts are cut: a row must fit on a page. */
enum { LONGEST_TEXT = 2400 };

const char *paper_presentable(Paper *paper, const char *text)
{
    text = visible(paper->arena, text);
    size_t length = 0;
    for (unsigned characters = 0; text[length]; length++)
        if (((unsigned char)text[length] & 0xc0) != 0x80 && characters++ == LONGEST_TEXT)
            return text_format(paper->arena, "%.*s...", (int)length, text);
    return text;
}

/* Name; as pango calls it; how much of a line lies before the place that it is aligned to. */
#define ALIGNMENTS(X) X(START, PANGO_ALIGN_LEFT, 0) X(MIDDLE, PANGO_ALIGN_CENTER, 0.5) X(END, PANGO_ALIGN_RIGHT, 1)

static const struct {
    PangoAlignment within;
    double share;
} alignments[ALIGN_COUNT] = {
#define X(name, ...) [ALIGN_##name] = {__VA_ARGS__},
    ALIGNMENTS(X)
#undef X
};
_Static_assert(TABLE_ROWS(ALIGNMENTS) == ALIGN_COUNT, "text is laid out however it is aligned");

static void lay_out(Paper *paper, const Style *style, double width, const char *text)
{
    PangoLayout *layout = paper->layout;
    text = paper_presentable(paper, text);
    pango_cairo_update_layout(paper->pen, layout);
    pango_font_description_set_absolute_size(paper->font, style->points * PANGO_SCALE);
    pango_font_description_set_weight(paper->font, style->bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_layout_set_font_description(layout, paper->font);
    pango_layout_set_width(layout, width > 0 ? (int)(width / MM_PER_POINT * PANGO_SCALE) : -1);
    pango_layout_set_height(layout, style->lines ? -(int)style->lines : -1);
    pango_layout_set_ellipsize(layout, style->lines && width > 0 ? PANGO_ELLIPSIZE_END : PANGO_ELLIPSIZE_NONE);
    pango_layout_set_alignment(layout, alignments[style->align].within);
    pango_layout_set_text(layout, text, -1);
}

static double in_mm(int units) { return (double)units / PANGO_SCALE * MM_PER_POINT; }

static double laid_width(const Paper *paper)
{
    int width;
    pango_layout_get_size(paper->layout, &width, NULL);
    return in_mm(width);
}

static double laid_height(const Paper *paper)
{
    int height;
    pango_layout_get_size(paper->layout, NULL, &height);
    return in_mm(height);
}

double paper_text_height(Paper *paper, const Style *style, double width, const char *text)
{
    if (!*text)
        return 0;
    lay_out(paper, style, width, text);
    return laid_height(paper);
}

double paper_text_width(Paper *paper, const Style *style, const char *text)
{
    lay_out(paper, style, 0, text);
    return laid_width(paper);
}

static void show_layout(Paper *paper, uint32_t colour, double x, double y)
{
    if (paper->counting)
        return;
    paper_source(paper, colour);
    cairo_save(paper->pen);
    cairo_translate(paper->pen, x, y);
    cairo_scale(paper->pen, MM_PER_POINT, MM_PER_POINT);
    pango_cairo_update_layout(paper->pen, paper->layout);
    pango_cairo_show_layout(paper->pen, paper->layout);
    cairo_restore(paper->pen);
    cairo_new_path(paper->pen);
}

/* The left edge of the layout's one line that is aligned to x. */
static double aligned(const Paper *paper, TextAlign align, double x)
{
    return align == ALIGN_START ? x : x - alignments[align].share * laid_width(paper);
}

double paper_text(Paper *paper, const Style *style, double x, double y, double width, const char *text)
{
    if (!*text)
        return 0;
    lay_out(paper, style, width, text);
    show_layout(paper, style->colour, width > 0 ? x : aligned(paper, style->align, x), y);
    return laid_height(paper);
}

void paper_words(Paper *paper, const Style *style, double x, double baseline, const char *text)
{
    if (paper->counting || !*text)
        return;
    lay_out(paper, style, 0, text);
    show_layout(paper, style->colour, aligned(paper, style->align, x),
                baseline - in_mm(pango_layout_get_baseline(paper->layout)));
}
