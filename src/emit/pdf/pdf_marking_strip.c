/* The marking strips of a card on its page. A strip too long for the page is cut into pieces that overlap; joining
 * lines tell how they are laid on one another. */
#include "emit/pdf/pdf_marking_strip.h"

#include <math.h>

#define BELOW 2.5
#define BESIDE 5.0
/* A strip of more pieces is no use to anybody: the longest rods have thirty. */
enum { MOST_PIECES = 60 };

/* Layer by layer: the feet of a guide side by side. */
StripRows strip_rows(Arena *arena, const SheetRod *rod, const Card *card, const Bench *bench)
{
    uint32_t most = card->layer_count * card->place_count;
    StripRows rows = {.strips = arena_take_many(arena, most, sizeof *rows.strips),
                      .cards = arena_take_many(arena, most, sizeof *rows.cards),
                      .turned = card->place_count > 1 && !bench->butt_left};
    for (uint32_t i = 0; i < card->layer_count; i++)
        for (uint32_t p = 0; p < card->place_count; p++) {
            const SheetPart *part = &rod->parts[card->layers[i].parts[p]];
            const PlannedLayer *layer = &rod->bench->rod->places[part->place].layers[part->layer];
            if (!layer->laid || !layer->run_count)
                continue;
            rows.strips[rows.count] = marking_strip(arena, rod, card->layers[i].parts[p], bench);
            rows.cards[rows.count++] = &card->layers[i];
        }
    return rows;
}

/* Whether the strip and the next stand in one row. */
static bool are_beside(const Paper *paper, const StripRows *rows, uint32_t index)
{
    return index + 1 < rows->count
           && rows->strips[index].length + BESIDE + rows->strips[index + 1].length <= paper_width(paper);
}

static double pieces_of(const Paper *paper, const MarkingStrip *strip)
{
    return fmax(1, ceil((strip->length - STRIP_OVERLAP) / (paper_width(paper) - STRIP_OVERLAP)));
}

double strip_rows_height(const Paper *paper, const StripRows *rows)
{
    double height = 0;
    for (uint32_t i = 0; i < rows->count; i += are_beside(paper, rows, i) ? 2 : 1)
        height += fmin(pieces_of(paper, &rows->strips[i]), MOST_PIECES) * (STRIP_HEIGHT + BELOW);
    return height;
}

static void make_room(Paper *paper)
{
    if (paper->y + STRIP_HEIGHT > paper->bottom)
        paper_break_to_rulers(paper);
}

static void print_long(Paper *paper, const StripRows *rows, uint32_t index, UnitSystem units)
{
    const MarkingStrip *strip = &rows->strips[index];
    double pieces = pieces_of(paper, strip);
    if (pieces > MOST_PIECES) {
        static const Style style = {.points = 9, .colour = INK};
        paper->y += paper_text(paper, &style, paper->left, paper->y, paper_width(paper),
                               text_format(paper->arena, "%s: too long for a strip of paper.", strip->heading))
                    + BELOW;
        return;
    }
    StripPiece piece = {.strip = strip,
                        .card = rows->cards[index],
                        .x = paper->left,
                        .count = (uint32_t)pieces,
                        .name = strip->heading};
    double each = (strip->length + (pieces - 1) * STRIP_OVERLAP) / pieces;
    for (piece.number = 1; piece.number <= piece.count; piece.number++) {
        piece.from = (piece.number - 1) * (each - STRIP_OVERLAP);
        piece.to = piece.from + each;
        make_room(paper);
        piece.y = paper->y;
        paper_piece(paper, &piece, units);
        paper->y += STRIP_HEIGHT + BELOW;
    }
}

static void print_beside(Paper *paper, const StripRows *rows, uint32_t index, UnitSystem units)
{
    make_room(paper);
    double x = paper->left;
    for (uint32_t i = 0; i < 2; i++) {
        uint32_t which = index + (rows->turned ? 1 - i : i);
        const MarkingStrip *strip = &rows->strips[which];
        StripPiece piece = {.strip = strip,
                            .card = rows->cards[which],
                            .to = strip->length,
                            .x = x,
                            .y = paper->y,
                            .number = 1,
                            .count = 1,
                            .name = strip->heading};
        paper_piece(paper, &piece, units);
        x += strip->length + BESIDE;
    }
    paper->y += STRIP_HEIGHT + BELOW;
}

void paper_strip_rows(Paper *paper, const StripRows *rows, UnitSystem units)
{
    for (uint32_t i = 0; i < rows->count; i++)
        if (are_beside(paper, rows, i))
            print_beside(paper, rows, i++, units);
        else
            print_long(paper, rows, i, units);
}
