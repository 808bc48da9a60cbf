/* The cards of a bench sheet as data. */
#include "emit/sheet/sheet_json.h"
#include "words/card.h"

static void put_measures(JsonPage *page, const CardLine *line)
{
    page_open(page, "measures", '[');
    for (uint32_t i = 0; i < line->measures.count; i++) {
        page_open(page, NULL, '{');
        put_words(page, "after", line->measures.items[i].after);
        page_text(page, "width", line->measures.items[i].width);
        page_close(page, '}');
    }
    page_close(page, ']');
}

static void put_line(JsonPage *page, const CardLine *line)
{
    page_open_flat(page, NULL, '{');
    page_whole(page, "number", line->number);
    page_whole(page, "first_run", line->first_run);
    page_whole(page, "run_count", line->run_count);
    page_text(page, "count", line->count);
    page_text(page, "thread", line->thread);
    put_words(page, "how", line->how);
    put_words(page, "look", line->look);
    page_text(page, "end", line->end);
    put_measures(page, line);
    page_close(page, '}');
}

static void put_layer(JsonPage *page, const CardLayer *layer)
{
    page_open(page, NULL, '{');
    page_text(page, "heading", layer->heading);
    put_words(page, "setting", layer->setting);
    page_open(page, "lines", '[');
    for (uint32_t i = 0; i < layer->line_count; i++)
        put_line(page, &layer->lines[i]);
    page_close(page, ']');
    put_words(page, "after", layer->after);
    page_close(page, '}');
}

static void put_cuts(JsonPage *page, const Card *card)
{
    page_open(page, "cuts", '[');
    for (uint32_t i = 0; i < card->cut_count; i++) {
        const CutLine *cut = &card->cuts[i];
        page_open_flat(page, NULL, '{');
        page_text(page, "labels", cut->labels);
        page_text(page, "what", cut->what);
        page_text(page, "length", cut->length);
        page_whole(page, "count", cut->count);
        page_close(page, '}');
    }
    page_close(page, ']');
}

static void put_card(JsonPage *page, const Card *card)
{
    page_open(page, NULL, '{');
    page_text(page, "heading", card->heading);
    page_whole(page, "place", card->place);
    page_whole(page, "place_count", card->place_count);
    page_open(page, "marks", '[');
    for (uint32_t i = 0; i < card->place_count; i++)
        page_text(page, NULL, card->marks[i]);
    page_close(page, ']');
    put_words(page, "before", card->before);
    put_cuts(page, card);
    page_open(page, "layers", '[');
    for (uint32_t i = 0; i < card->layer_count; i++)
        put_layer(page, &card->layers[i]);
    page_close(page, ']');
    page_close(page, '}');
}

void put_cards(SheetData *data)
{
    JsonPage *page = &data->page;
    page_open(page, "cards", '[');
    for (uint32_t i = 0; i < data->rod->card_count; i++)
        if (sheet_shows(data->rod, data->rod->cards[i].place))
            put_card(page, &data->rod->cards[i]);
    page_close(page, ']');
}
