/* Wrap-around templates on their pages: pieces beside and below one another, never scaled. */
#include "emit/pdf/pdf_template.h"

#include "draw/template/template.h"
#include "emit/pdf/pdf_marking_strip.h"

#include <math.h>

#define PIECES_APART 5.0
/* Of what stands above the first row: heading, words, rulers, the template's name, each with room below it. */
#define HEAD_HEIGHT 72.0

static const Style words = {.points = 9, .colour = INK};
static const Style name = {.points = 10, .bold = true, .colour = INK};

static void start_templates(Paper *paper, const Bench *bench)
{
    static const Style heading = {.points = 13, .bold = true, .colour = INK};
    paper_break(paper);
    paper_heading(paper, &heading, 0, "Wrap-around templates, true size", 60);
    for (TemplateWords which = 0; which < TEMPLATE_WORDS; which++)
        paper->y += paper_text(paper, &words, paper->left, paper->y, paper_width(paper),
                               template_words(paper->arena, bench, which))
                    + 1;
    paper->y += 1;
    paper_proof_rulers(paper);
}

/* Pieces first .. end - 1 stand beside one another. */
typedef struct PaperRow {
    uint32_t first, end;
    double height;
} PaperRow;

static PaperRow next_row(const Paper *paper, Drawing *const *pieces, uint32_t count, uint32_t first)
{
    PaperRow row = {first, first, 0};
    double x = paper->left;
    while (row.end < count && (row.end == first || x + pieces[row.end]->width <= paper->right)) {
        x += pieces[row.end]->width + PIECES_APART;
        row.height = fmax(row.height, pieces[row.end]->height);
        row.end++;
    }
    return row;
}

static void print_row(Paper *paper, Drawing *const *pieces, PaperRow row)
{
    double x = paper->left;
    for (uint32_t i = row.first; i < row.end; i++) {
        paper_drawing(paper, pieces[i], x, paper->y);
        x += pieces[i]->width + PIECES_APART;
    }
    paper->y += row.height + PIECES_APART;
}

static void print_template(Paper *paper, const Template *template)
{
    uint32_t count = template->pieces.count;
    Drawing **pieces = arena_take_many(paper->arena, count, sizeof *pieces);
    for (uint32_t i = 0; i < count; i++)
        pieces[i] = template_draw(paper->arena, template, i);
    const char *title = count ? template->heading : template_refusal(paper->arena, template);
    double width = paper_width(paper), height = paper_text_height(paper, &name, width, title) + 2;
    if (paper->y + height + (count ? next_row(paper, pieces, count, 0).height : 0) > paper->bottom)
        paper_break_to_rulers(paper);
    paper->y += paper_text(paper, &name, paper->left, paper->y, width, title) + 2;
    for (PaperRow row = {0}; row.end < count;) {
        row = next_row(paper, pieces, count, row.end);
        if (paper->y + row.height > paper->bottom)
            paper_break_to_rulers(paper);
        print_row(paper, pieces, row);
    }
}

void paper_templates(Paper *paper, const Sheet *sheet, const Plan *plan)
{
    TemplateRoom room = {paper_width(paper), paper->bottom - paper->top - HEAD_HEIGHT};
    bool begun = false;
    for (uint32_t r = 0; r < sheet->rod_count; r++) {
        const PlannedRod *rod = sheet->rods[r].bench->rod;
        for (uint32_t p = 0; p < rod->place_count; p++)
            for (uint32_t l = 0; l < rod->places[p].layer_count; l++) {
                const PlannedLayer *layer = &rod->places[p].layers[l];
                if (!layer->laid || !layer->crosswrap || !sheet_shows(&sheet->rods[r], p))
                    continue;
                if (!begun)
                    start_templates(paper, &plan->job->bench);
                begun = true;
                Template template = template_make(paper->arena, plan, rod, &rod->places[p], layer, room);
                print_template(paper, &template);
            }
    }
}
