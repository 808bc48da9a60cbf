/* The cards of a bench sheet as text: each place in a few lines, for whoever has wrapped before. */
#include "emit/emit.h"
#include "emit/text_page.h"
#include "base/unbroken.h"
#include "words/card.h"

#include <string.h>

enum {
    CONTINUED = 4,
    NUMBER = 3,
    COUNT = 7,
    LEAST_THREAD = 6,
    MOST_THREAD = 24,
    MOST_LABELS = 24,
    COLUMN_GAP = 2
};

/* Widest of the columns that differ from page to page. */
typedef struct Columns {
    int count, thread, end;
} Columns;

/* The last of its line: flush right, and nothing behind it. */
static void put_last_cell(TextPage *page, const char *words, int columns)
{
    buffer_column(page->out, words, -columns);
    buffer_text(page->out, "\n");
}

static Columns columns_of(const CardLayer *layer)
{
    Columns columns = {text_columns("turns"), text_columns("thread"), text_columns("ends at")};
    for (uint32_t i = 0; i < layer->line_count; i++) {
        columns.count = text_widest(columns.count, layer->lines[i].count, MOST_THREAD);
        columns.thread = text_widest(columns.thread, layer->lines[i].thread, MOST_THREAD);
        columns.end = text_widest(columns.end, layer->lines[i].end, MOST_THREAD);
    }
    return columns;
}

static void put_measure(TextPage *page, const CardMeasure *measure, int indent)
{
    text_flow_words(
        page, *measure->after ? text_format(page->out->arena, "measure %s:", measure->after) : "measure:", indent);
    text_paragraph(page, text_format(page->out->arena, "should be %s, is ____________", measure->width), indent);
}

static void put_line(TextPage *page, const CardLine *line, const Columns *columns)
{
    text_padded(page, text_format(page->out->arena, "%u", (unsigned)line->number), -NUMBER);
    text_padded(page, line->count, -columns->count);
    text_padded(page, line->thread, columns->thread);
    put_last_cell(page, line->end, columns->end);
    int indent = NUMBER + COLUMN_GAP + columns->count + COLUMN_GAP;
    page->column = 0;
    text_paragraph(page, line->how, indent);
    text_paragraph(page, line->look, indent);
    for (uint32_t i = 0; i < line->measures.count; i++)
        put_measure(page, &line->measures.items[i], indent);
}

static void put_layer(TextPage *page, const CardLayer *layer)
{
    Columns columns = columns_of(layer);
    buffer_text(page->out, "\n");
    text_paragraph(page, layer->heading, 0);
    if (*layer->setting)
        text_paragraph(page, layer->setting, 0);
    text_padded(page, "no", -NUMBER);
    text_padded(page, "turns", -columns.count);
    text_padded(page, "thread", columns.thread);
    put_last_cell(page, "ends at", columns.end);
    for (uint32_t i = 0; i < layer->line_count; i++)
        put_line(page, &layer->lines[i], &columns);
    if (*layer->after)
        text_paragraph(page, layer->after, 0);
}

static void put_cuts(TextPage *page, const Card *card)
{
    int labels = LEAST_THREAD, what = 0, length = 0;
    for (uint32_t i = 0; i < card->cut_count; i++) {
        labels = text_widest(labels, card->cuts[i].labels, MOST_LABELS);
        what = text_widest(what, card->cuts[i].what, MOST_LABELS);
        length = text_widest(length, card->cuts[i].length, MOST_LABELS);
    }
    for (uint32_t i = 0; i < card->cut_count; i++) {
        const CutLine *cut = &card->cuts[i];
        buffer_text(page->out, "[ ] ");
        text_padded(page, cut->labels, labels);
        text_padded(page, cut->what, what);
        buffer_column(page->out, cut->length, -length);
        buffer_text(page->out, cut->count > 1 ? "  each\n" : "\n");
    }
}

static void put_card(TextPage *page, const Card *card)
{
    buffer_text(page->out, "\n");
    text_heading(page, card->heading, '-');
    for (uint32_t i = 0; i < card->place_count; i++)
        text_paragraph(page, card->marks[i], 0);
    if (*card->before)
        text_paragraph(page, card->before, 0);
    put_cuts(page, card);
    for (uint32_t i = 0; i < card->layer_count; i++)
        put_layer(page, &card->layers[i]);
}

void emit_cards_text(Buffer *out, const Sheet *sheet)
{
    TextPage page = text_page_start(out, sheet->bench->plan);
    text_head(&page, "Cards");
    text_field(&page, "lengths");
    buffer_format(out, "%s\n", system_words(page.units));
    text_field(&page, "rule");
    buffer_format(out, "to the nearest %s, each from the mark of its place\n", sheet->rule);
    text_field(&page, "callipers");
    buffer_format(out, "to the nearest %s\n", sheet->callipers);
    for (uint32_t r = 0; r < sheet->rod_count; r++) {
        const SheetRod *rod = &sheet->rods[r];
        buffer_text(out, "\n");
        text_heading(&page, text_format(out->arena, "Rod: %s", rod->title), '=');
        for (uint32_t i = 0; i < rod->card_count; i++)
            if (sheet_shows(rod, rod->cards[i].place))
                put_card(&page, &rod->cards[i]);
    }
}
