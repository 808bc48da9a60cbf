/* What the steps have to come to: the rod's places with their runs, the windings in the order in which they are
 * made, the pieces that make them. */
#include "emit/sheet/sheet_json.h"

#include "plan/plan_sums.h"
#include "trade/trade.h"
#include "words/trade_words.h"

#include <math.h>

static void put_runs(JsonPage *page, const PlannedPlace *place, const PlannedLayer *layer)
{
    Rounding digits = rounding_of_programs();
    page_open(page, "runs", '[');
    for (uint32_t i = 0; i < layer->run_count; i++) {
        const Run *run = &layer->runs[i];
        page_open_flat(page, NULL, '{');
        page_text(page, "role", role_word(run->role));
        page_whole(page, "turns", run->turns);
        page_number(page, "from_mm", shown_from_datum(place, run->start, digits));
        page_number(page, "to_mm", shown_from_datum(place, run->end, digits));
        page_close(page, '}');
    }
    page_close(page, ']');
}

static void put_layer(JsonPage *page, const PlannedPlace *place, uint32_t index)
{
    const PlannedLayer *layer = &place->layers[index];
    page_open(page, NULL, '{');
    page_text(page, "kind", layer_word(layer->layer));
    page_text(page, "label", layer_label(place, index));
    page_truth(page, "crosswrap", layer->crosswrap);
    page_whole(page, "turns", layer->turns);
    page_whole(page, "passes", layer->crosswrap ? layer->crosswrap->pass_count : 0);
    put_runs(page, place, layer);
    page_close(page, '}');
}

static void put_place(SheetData *data, const PlannedRod *rod, const PlannedPlace *place)
{
    JsonPage *page = &data->page;
    const Guide *guide = place->place->guide;
    page_open(page, NULL, '{');
    page_text(page, "label", place_label(page->out->arena, data->sheet->bench->plan->job, rod->rod, place));
    page_text(page, "guide", guide ? guide->name->bytes : NULL);
    page_number(page, "foot", guide ? (double)place->foot : (double)NAN);
    page_number(page, "foot_tip_mm", place->foot_tip);
    page_number(page, "foot_end_mm", place->foot_end);
    page_number(page, "on_place", place->host ? (double)(place->host - rod->places) : (double)NAN);
    page_text(page, "toward", toward_word(place->direction));
    page_number(page, "start_mm", place->start);
    page_number(page, "angle_deg", clock_degrees(place->place->angle));
    page_whole(page, "section", place->section);
    page_open(page, "layers", '[');
    for (uint32_t i = 0; i < place->layer_count; i++)
        put_layer(page, place, i);
    page_close(page, ']');
    page_close(page, '}');
}

static void put_piece(SheetData *data, uint32_t index)
{
    JsonPage *page = &data->page;
    const Piece *piece = &data->rod->bench->rod->pieces[index];
    page_open_flat(page, NULL, '{');
    page_text(page, "label", data->rod->labels[index]);
    page_text(page, "thread", piece->thread->name->bytes);
    page_text(page, "from", piece->bobbin ? "bobbin" : piece->by_hand ? "cut piece" : "spool");
    page_truth(page, "spacer", piece->spacer);
    page_whole(page, "place", piece->place);
    page_whole(page, "layer", piece->layer);
    page_whole(page, "turns", piece->turns);
    page_whole(page, "passes", piece->pass_count);
    page_number(page, "wound_mm", piece->wound);
    page_number(page, "cut_mm", shown_piece_length(piece, rounding_of_programs()));
    page_close(page, '}');
}

static void put_winding(JsonPage *page, const Winding *winding)
{
    page_open_flat(page, NULL, '{');
    page_whole(page, "place", winding->place);
    page_whole(page, "layer", winding->layer);
    page_whole(page, "run", winding->run);
    put_piece_list(page, winding->pieces);
    page_whole(page, "turns", winding->turns);
    page_close(page, '}');
}

void put_rod_plan(SheetData *data)
{
    JsonPage *page = &data->page;
    const PlannedRod *rod = data->rod->bench->rod;
    page_open(page, "places", '[');
    for (uint32_t i = 0; i < rod->place_count; i++)
        put_place(data, rod, &rod->places[i]);
    page_close(page, ']');
    page_open(page, "pieces", '[');
    for (uint32_t i = 0; i < rod->piece_count; i++)
        put_piece(data, i);
    page_close(page, ']');
    page_open(page, "windings", '[');
    for (uint32_t i = 0; i < rod->winding_count; i++)
        put_winding(page, &rod->windings[i]);
    page_close(page, ']');
}
