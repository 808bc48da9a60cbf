/* Marking strips on their pages. A strip too long for the page is cut into pieces that overlap; joining lines tell
 * how they are laid on one another. */
#include "emit/pdf/pdf_marking_strip.h"

#include <math.h>

#define BETWEEN 4.5
/* A strip of more pieces is no use to anybody: the longest rods have thirty. */
enum { MOST_PIECES = 60 };

static double longest_label(Paper *paper, const MarkingStrip *strip)
{
    double longest = 0;
    for (uint32_t i = 0; i < strip->marks.count && longest < LONGEST_WORDS; i++)
        longest = fmax(longest, paper_text_width(paper, &strip_words, strip->marks.items[i].words));
    return fmin(longest, LONGEST_WORDS) + 1;
}

static void page_for_strips(Paper *paper)
{
    paper_break(paper);
    paper_proof_rulers(paper);
}

static void print_strip(Paper *paper, const MarkingStrip *strip, UnitSystem units)
{
    double width = paper->right - paper->left;
    double pieces = fmax(1, ceil((strip->length - STRIP_OVERLAP) / (width - STRIP_OVERLAP)));
    if (pieces > MOST_PIECES) {
        static const Style style = {.points = 9, .colour = INK};
        paper->y += paper_text(paper, &style, paper->left, paper->y, width,
                               text_format(paper->arena, "%s: too long for a strip of paper.", strip->heading));
        return;
    }
    StripPiece piece = {.strip = strip,
                        .label_height = longest_label(paper, strip),
                        .count = (uint32_t)pieces,
                        .name = strip->heading};
    double each = (strip->length + (pieces - 1) * STRIP_OVERLAP) / pieces;
    for (piece.number = 1; piece.number <= piece.count; piece.number++) {
        piece.from = (piece.number - 1) * (each - STRIP_OVERLAP);
        piece.to = piece.from + each;
        if (paper->y + piece_height(&piece) > paper->bottom)
            page_for_strips(paper);
        piece.y = paper->y;
        paper_piece(paper, &piece, units);
        paper->y += piece_height(&piece) + BETWEEN;
    }
}

static bool has_strip(const SheetRod *rod, uint32_t part)
{
    const SheetPart *about = &rod->parts[part];
    if (about->place == WHOLE_ROD || about->layer == WHOLE_ROD)
        return false;
    const PlannedLayer *layer = &rod->bench->rod->places[about->place].layers[about->layer];
    return layer->laid && layer->run_count;
}

static void start_strips(Paper *paper)
{
    static const Style heading = {.points = 13, .bold = true, .colour = INK};
    static const Style words = {.points = 9, .colour = INK};
    static const char how[] =
        "Cut a strip out and lay its upper edge along the blank, with its red line on your mark. Lines at that "
        "edge are the edges of bands; measure at the black triangles. Where a strip comes in parts, lay "
        "the red joining lines of the same number one on top of the other.";
    paper_break(paper);
    paper_heading(paper, &heading, 0, "Marking strips, true size", 60);
    paper->y += paper_text(paper, &words, paper->left, paper->y, paper->right - paper->left, how) + 2;
    paper_proof_rulers(paper);
}

void paper_strips(Paper *paper, const Sheet *sheet, const Bench *bench)
{
    bool begun = false;
    for (uint32_t r = 0; r < sheet->rod_count; r++) {
        const SheetRod *rod = &sheet->rods[r];
        for (uint32_t p = 0; p < rod->part_count; p++) {
            if (!has_strip(rod, p) || !sheet_shows(rod, rod->parts[p].place))
                continue;
            if (!begun)
                start_strips(paper);
            begun = true;
            MarkingStrip strip = marking_strip(paper->arena, rod, p, bench);
            print_strip(paper, &strip, bench->units);
        }
    }
}
