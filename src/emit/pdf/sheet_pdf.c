/* The bench sheet as a PDF. What is said stands in the sheet; here it is only given its place on paper. */
#include "words/sheet.h"

#include "emit/pdf/pdf_steps.h"
#include "emit/pdf/pdf_marking_strip.h"
#include "emit/pdf/pdf_template.h"

#include <math.h>

/* ISO 216; ANSI/ASME Y14.1, 8.5 by 11 inches. */
static const struct {
    double width, height;
} paper_a4 = {210, 297}, paper_letter = {8.5 * 25.4, 11 * 25.4};

static const Style plain = {.points = 10, .colour = INK};
static const Style grey = {.points = 9, .colour = GREY_INK};
static const Style heading = {.points = 13, .bold = true, .colour = INK};

/* All that is printed. */
typedef struct Printing {
    const Sheet *sheet;
    const Plan *plan;
    Figure *whole;    /* one a rod of the sheet */
    Figure **figures; /* one a rod of the sheet and section of that */
} Printing;

static void print_paragraph(Paper *paper, const Style *style, double indent, const char *text, double after)
{
    double width = paper->right - paper->left - indent;
    paper_need(paper, paper_text_height(paper, style, width, text));
    paper->y += paper_text(paper, style, paper->left + indent, paper->y, width, text) + after;
}

static void print_head(Paper *paper, const Sheet *sheet)
{
    static const Style title = {.points = 22, .bold = true, .colour = INK};
    print_paragraph(paper, &title, 0, sheet->title, 0.5);
    bool named = sheet->author && *sheet->author;
    print_paragraph(paper, &grey, 0,
                    text_format(paper->arena, "Bench sheet%s%s, file id %s", named ? " by " : "",
                                named ? sheet->author : "", sheet->pattern_mark),
                    3);
    print_paragraph(paper, &plain, 0, sheet->orientation, 3);
    for (uint32_t i = 0; i < sheet->caution_count; i++) {
        double height = paper_text_height(paper, &plain, paper->right - paper->left - 5, sheet->cautions[i]);
        paper_need(paper, height);
        paper_box(paper, paper->left, paper->y + 0.4, 1.2, fmax(height - 0.8, 1), MARK_INK, NO_COLOUR);
        print_paragraph(paper, &plain, 5, sheet->cautions[i], 1);
    }
    paper->y += 3;
}

static void print_thread(Paper *paper, const Sheet *sheet, uint32_t index)
{
    static const Style name = {.points = 10, .bold = true, .colour = INK};
    double x = paper->left + 12, width = 68, line = paper->left + 102;
    double height = paper_text_height(paper, &name, width, sheet->threads[index].name)
                    + paper_text_height(paper, &grey, width, sheet->threads[index].note);
    height = fmax(height, 8);
    paper_need(paper, height + 2);
    paper_box(paper, paper->left, paper->y + 0.5, 9, 5, sheet->threads[index].colour, GREY_INK);
    double y = paper->y + paper_text(paper, &name, x, paper->y, width, sheet->threads[index].name);
    paper_text(paper, &grey, x, y, width, sheet->threads[index].note);
    paper_words(paper, &grey, paper->left + 82, paper->y + 6.4, sheet->threads[index].to_write);
    paper_line(paper, line, paper->y + 7, paper->right, paper->y + 7, INK, 0.2);
    paper->y += height + 2;
}

static void print_threads(Paper *paper, const Sheet *sheet)
{
    if (!sheet->thread_count)
        return;
    paper_heading(paper, &heading, 0, "Threads", 12);
    for (uint32_t i = 0; i < sheet->thread_count; i++)
        print_thread(paper, sheet, i);
    paper->y += 3;
}

/* Of a figure with the words before it. */
static double figure_height(const Figure *figure)
{
    return (figure->drawing->height - figure->top) * figure->factor + 6;
}

static void print_picture(Paper *paper, const Figure *figure)
{
    if (figure->top >= figure->drawing->height)
        return;
    const char *times = figure->scale == 1 ? "" : show_number(paper->arena, figure->scale, 3);
    const char *words = text_format(paper->arena, "Side view, %s%strue size; butt on the left, tip on the right.",
                                    times, *times ? " times " : "");
    /* Together on a page, unless that left much of this one empty. */
    paper_need(paper, fmin(figure_height(figure), (paper->bottom - paper->top) / 3));
    print_paragraph(paper, &grey, 0, words, 1.5);
    paper_figure(paper, figure);
    paper->y += 4;
}

/* Where all sections of a rod are wound there is nothing to show. */
static bool has_picture(const SheetSection *section)
{
    return !section->heading || section->section != ALL_SECTIONS;
}

static void print_section(Paper *paper, const Printing *printing, uint32_t index, uint32_t number)
{
    static const Style title = {.points = 16, .bold = true, .colour = INK};
    const SheetRod *rod = &printing->sheet->rods[index];
    const SheetSection *section = &rod->sections[number];
    if (index || number)
        paper_break(paper);
    const Figure *whole = number ? NULL : &printing->whole[index];
    paper_heading(paper, &title, 0, section->title, whole ? figure_height(whole) : 30);
    if (whole) {
        paper_figure(paper, whole);
        paper->y += 4;
    }
    if (*section->note)
        print_paragraph(paper, &plain, 0, section->note, 3);
    paper_notes(paper, rod, section);
    if (section->cut_count)
        paper_cuts(paper, rod, section);
    if (has_picture(section))
        print_picture(paper, &printing->figures[index][number]);
    paper_steps(paper, rod, section, printing->sheet->units);
}

static void print_all(Paper *paper, const Printing *printing, bool counting)
{
    paper_begin(paper, counting);
    print_head(paper, printing->sheet);
    print_threads(paper, printing->sheet);
    for (uint32_t i = 0; i < printing->sheet->rod_count; i++)
        for (uint32_t s = 0; s < printing->sheet->rods[i].section_count; s++)
            print_section(paper, printing, i, s);
    paper_strips(paper, printing->sheet, &printing->plan->job->bench);
    paper_templates(paper, printing->sheet, printing->plan);
    paper_end(paper);
}

static void make_figures(Arena *arena, Printing *printing, double width)
{
    printing->whole = arena_take_many(arena, printing->sheet->rod_count, sizeof *printing->whole);
    printing->figures = arena_take_many(arena, printing->sheet->rod_count, sizeof *printing->figures);
    for (uint32_t i = 0; i < printing->sheet->rod_count; i++) {
        const SheetRod *shown = &printing->sheet->rods[i];
        uint32_t rod = (uint32_t)(shown->bench->rod - printing->plan->rods);
        printing->whole[i] = whole_figure_make(arena, printing->plan, rod, width);
        printing->figures[i] = arena_take_many(arena, shown->section_count, sizeof **printing->figures);
        for (uint32_t s = 0; s < shown->section_count; s++)
            if (has_picture(&shown->sections[s]))
                printing->figures[i][s] =
                    figure_make(arena, printing->plan, rod, shown->sections[s].section, width);
    }
}

/* Twice: how many pages there are is known only when they are full. */
static bool print(Buffer *out, Paper *paper, const Printing *printing)
{
    if (!paper_open(paper))
        return false;
    print_all(paper, printing, true);
    print_all(paper, printing, false);
    paper_put(out, paper);
    return true;
}

bool emit_sheet_pdf(Buffer *out, const Sheet *sheet, const Plan *plan, bool letter)
{
    Arena *arena = out->arena;
    Paper *paper = arena_take(arena, sizeof *paper);
    Printing printing = {.sheet = sheet, .plan = plan};
    paper->width = letter ? paper_letter.width : paper_a4.width;
    paper->height = letter ? paper_letter.height : paper_a4.height;
    paper->title = sheet->title;
    paper->author = sheet->author ? sheet->author : "";
    paper->mark = sheet->pattern_mark;
    paper->too_much = BEYOND_PRINTED;
    make_figures(arena, &printing, paper->width - 2 * PDF_MARGIN);

    paper_start_guard(paper, arena);
    volatile bool printed = false;
    if (setjmp(*trap_set(&paper->guard)) == 0) {
        printed = print(out, paper, &printing);
        paper->whole = true;
    }
    paper_end_guard(paper);
    return printed;
}
