/* Texts of any script, by pango. */
#include "emit/pdf/pdf.h"

#include "base/table.h"
#include "base/text.h"
#include "base/unbroken.h"
#include "base/visible.h"

#include <string.h>

/* Longer texts are cut: a row must fit on a page. */
enum { LONGEST_TEXT = 2400 };

const char *paper_presentable(Paper *paper, const char *text)
{
    text = visible(paper->arena, text);
    size_t length = 0;
    for (unsigned characters = 0; text[length]; length++)
        if (!inside_character(text[length]) && characters++ == LONGEST_TEXT)
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

/* All that lines are broken by. */
static bool set_alike(const Style *one, const Style *other)
{
    return one->points == other->points && one->bold == other->bold && one->bold_bytes == other->bold_bytes
           && one->lines == other->lines;
}

/* Whether the text may need more than one line: no sign is wider than its size, and each has a byte at least. */
static bool may_wrap(const Style *style, double width, const char *text)
{
    return width > 0 && (double)strlen(text) * style->points * MM_PER_POINT > width;
}

static void add_attribute(PangoAttrList *list, PangoAttribute *attribute, size_t start, size_t end)
{
    attribute->start_index = (guint)start;
    attribute->end_index = (guint)end;
    pango_attr_list_insert(list, attribute);
}

/* No line ends between a number and its unit. */
static bool hold_together(PangoAttrList *list, const char *text)
{
    bool any = false;
    for (const char *word = text; *word;) {
        size_t length = unbroken_length(word), start = (size_t)(word - text);
        if (memchr(word, ' ', length)) {
            add_attribute(list, pango_attr_allow_breaks_new(FALSE), start, start + length);
            any = true;
        }
        word += length + (word[length] == ' ');
    }
    return any;
}

static void set_attributes(PangoLayout *layout, const Style *style, double width, const char *text)
{
    PangoAttrList *list = pango_attr_list_new();
    bool any = may_wrap(style, width, text) && hold_together(list, text);
    if (style->bold_bytes)
        add_attribute(list, pango_attr_weight_new(PANGO_WEIGHT_BOLD), 0, style->bold_bytes);
    if (any || style->bold_bytes)
        pango_layout_set_attributes(layout, list);
    pango_attr_list_unref(list);
}

static PangoLayout *lay_out_anew(Paper *paper, const Style *style, double width, const char *text)
{
    PangoLayout *layout = pango_layout_new(paper->context);
    pango_font_description_set_absolute_size(paper->font, style->points * PANGO_SCALE);
    pango_font_description_set_weight(paper->font, style->bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_layout_set_font_description(layout, paper->font);
    pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
    pango_layout_set_width(layout, width > 0 ? (int)(width / MM_PER_POINT * PANGO_SCALE) : -1);
    pango_layout_set_height(layout, style->lines ? -(int)style->lines : -1);
    pango_layout_set_ellipsize(layout, style->lines && width > 0 ? PANGO_ELLIPSIZE_END : PANGO_ELLIPSIZE_NONE);
    pango_layout_set_text(layout, text, -1);
    set_attributes(layout, style, width, text);
    return layout;
}

/* The text's slot, one of some beside one another; where all are taken by others the first is given up. */
static LaidText *slot_of(Paper *paper, const Style *style, double width, const char *text, uint64_t hash)
{
    enum { NEIGHBOURS = 4 };
    LaidText *slots = &paper->laid[(hash ^ hash >> 32) % (LAID_TEXTS - NEIGHBOURS)];
    for (int i = 0; i < NEIGHBOURS; i++) {
        LaidText *slot = &slots[i];
        if (!slot->layout)
            return slot;
        if (slot->hash == hash && slot->width == width && set_alike(&slot->style, style)
            && strcmp(slot->text, text) == 0)
            return slot;
    }
    g_clear_object(&slots->layout);
    return slots;
}

/* Laid out once, as long as no other text takes its slot: laying out is most of what a page costs. */
static PangoLayout *lay_out(Paper *paper, const Style *style, double width, const char *text)
{
    uint64_t hash = hash_bytes(HASH_START, text, strlen(text));
    LaidText *slot = slot_of(paper, style, width, text, hash);
    if (!slot->layout)
        *slot = (LaidText){lay_out_anew(paper, style, width, paper_presentable(paper, text)), text, *style, width,
                           hash};
    pango_layout_set_alignment(slot->layout, alignments[style->align].within);
    return slot->layout;
}

static double in_mm(int units) { return (double)units / PANGO_SCALE * MM_PER_POINT; }

static double laid_width(PangoLayout *layout)
{
    int width;
    pango_layout_get_size(layout, &width, NULL);
    return in_mm(width);
}

static double laid_height(PangoLayout *layout)
{
    int height;
    pango_layout_get_size(layout, NULL, &height);
    return in_mm(height);
}

double paper_text_height(Paper *paper, const Style *style, double width, const char *text)
{
    return *text ? laid_height(lay_out(paper, style, width, text)) : 0;
}

double paper_text_width(Paper *paper, const Style *style, const char *text)
{
    return laid_width(lay_out(paper, style, 0, text));
}

double paper_last_line_width(Paper *paper, const Style *style, double width, const char *text)
{
    if (!*text)
        return 0;
    PangoLayout *layout = lay_out(paper, style, width, text);
    PangoRectangle extent;
    pango_layout_line_get_extents(pango_layout_get_line_readonly(layout, pango_layout_get_line_count(layout) - 1),
                                  NULL, &extent);
    return in_mm(extent.width);
}

/* What a text counts for. Letters beyond Latin, Greek and Cyrillic come from other fonts, which are sought for
 * each stretch, or are boxes with numbers where there is none; and where a long text is broken into lines, what is
 * left of it is shaped anew for each. */
static size_t text_weight(const char *text)
{
    enum { LAST_OF_CYRILLIC = 0xd5, WEIGHT_OF_OTHERS = 16, SHORT_TEXT = 200 };
    size_t letters = 0, weight = 0;
    for (const unsigned char *at = (const unsigned char *)text; *at; at++)
        if (!inside_character((char)*at)) { /* begins a letter */
            letters++;
            weight += *at > LAST_OF_CYRILLIC ? WEIGHT_OF_OTHERS : 1;
        }
    return letters > SHORT_TEXT ? weight * letters / SHORT_TEXT : weight;
}

static void show_layout(Paper *paper, PangoLayout *layout, uint32_t colour, double x, double y)
{
    if (paper->counting)
        paper_count(paper, text_weight(pango_layout_get_text(layout)));
    if (paper->counting)
        return;
    paper_source(paper, colour);
    cairo_save(paper->pen);
    cairo_translate(paper->pen, x, y);
    cairo_scale(paper->pen, MM_PER_POINT, MM_PER_POINT);
    pango_cairo_show_layout(paper->pen, layout);
    cairo_restore(paper->pen);
    cairo_new_path(paper->pen);
}

/* The left edge of the layout's one line that is aligned to x. */
static double aligned(PangoLayout *layout, TextAlign align, double x)
{
    return align == ALIGN_START ? x : x - alignments[align].share * laid_width(layout);
}

double paper_text(Paper *paper, const Style *style, double x, double y, double width, const char *text)
{
    if (!*text)
        return 0;
    PangoLayout *layout = lay_out(paper, style, width, text);
    show_layout(paper, layout, style->colour, width > 0 ? x : aligned(layout, style->align, x), y);
    return laid_height(layout);
}

void paper_words(Paper *paper, const Style *style, double x, double baseline, const char *text)
{
    if (paper->counting || !*text)
        return;
    PangoLayout *layout = lay_out(paper, style, 0, text);
    show_layout(paper, layout, style->colour, aligned(layout, style->align, x),
                baseline - in_mm(pango_layout_get_baseline(layout)));
}
