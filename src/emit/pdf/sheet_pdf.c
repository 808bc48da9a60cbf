/* The bench sheet as a PDF. What is said stands in the sheet; here it is only given its place on paper. */
#include "words/night_words.h"
#include "words/where_work_stands.h"

#include "emit/pdf/pdf_cards.h"
#include "emit/pdf/pdf_steps.h"
#include "emit/pdf/pdf_template.h"

#include <math.h>
#include <string.h>

/* ISO 216; ANSI/ASME Y14.1, 8.5 by 11 inches. */
static const struct {
    double width, height;
} paper_a4 = {210, 297}, paper_letter = {8.5 * 25.4, 11 * 25.4};

static const Style plain = {.points = 9, .colour = INK};
static const Style grey = {.points = 9, .colour = GREY_INK};
static const Style heading = {.points = 13, .bold = true, .colour = INK};

/* All that is printed. */
typedef struct Printing {
    const Sheet *sheet;
    const Plan *plan;
    Figure *whole; /* one a rod of the sheet */
    uint32_t from; /* number of the first step printed */
} Printing;

static void print_paragraph(Paper *paper, const Style *style, double indent, const char *text, double after)
{
    double width = paper_width(paper) - indent;
    paper_need(paper, paper_text_height(paper, style, width, text));
    paper->y += paper_text(paper, style, paper->left + indent, paper->y, width, text) + after;
}

#define COLUMNS_APART 8.0

static double half_width(const Paper *paper) { return (paper_width(paper) - COLUMNS_APART) / 2; }

static double cautions_height(Paper *paper, const Sheet *sheet, double width)
{
    double height = 0;
    for (uint32_t i = 0; i < sheet->caution_count; i++)
        height += paper_text_height(paper, &plain, width, sheet->cautions[i]) + 1;
    return height;
}

/* Which way round things lie on the left, what to beware of on the right. */
static void print_bearings(Paper *paper, const Sheet *sheet)
{
    double half = half_width(paper), right = paper->left + half + COLUMNS_APART, words = half - 4;
    double height =
        fmax(paper_text_height(paper, &plain, half, sheet->orientation), cautions_height(paper, sheet, words));
    paper_need(paper, height);
    paper_text(paper, &plain, paper->left, paper->y, half, sheet->orientation);
    double y = paper->y;
    for (uint32_t i = 0; i < sheet->caution_count; i++) {
        double tall = paper_text_height(paper, &plain, words, sheet->cautions[i]);
        paper_box(paper, right, y + 0.4, 1.2, fmax(tall - 0.8, 1), MARK_INK, NO_COLOUR);
        y += paper_text(paper, &plain, right + 4, y, words, sheet->cautions[i]) + 1;
    }
    paper->y += height + 3;
}

static void print_happened(Paper *paper, const Sheet *sheet)
{
    if (!sheet->mishap_count && !sheet->width_count)
        return;
    paper_heading(paper, &heading, 0, HAPPENED_HEADING, 12);
    for (uint32_t i = 0; i < sheet->mishap_count; i++) {
        print_paragraph(paper, &plain, 0, sheet->mishaps[i].was, 0.5);
        print_paragraph(paper, &plain, 4, sheet->mishaps[i].now, 0.5);
        if (*sheet->mishaps[i].other)
            print_paragraph(paper, &grey, 4, sheet->mishaps[i].other, 0.5);
    }
    for (uint32_t i = 0; i < sheet->width_count; i++)
        print_paragraph(paper, &plain, 0, sheet->widths[i], 0.5);
    paper->y += 3;
}

static void print_head(Paper *paper, const Sheet *sheet)
{
    static const Style title = {.points = 22, .bold = true, .colour = INK};
    print_paragraph(paper, &title, 0, sheet->title, 0.5);
    bool named = sheet->author && *sheet->author;
    print_paragraph(paper, &grey, 0,
                    text_format(paper->arena, "Bench sheet%s%s, file id %s", named ? " by " : "",
                                named ? sheet->author : "", sheet->pattern_mark),
                    2);
    print_happened(paper, sheet);
    print_bearings(paper, sheet);
}

#define SWATCH_ROOM 11.0
#define THREAD_SHARE 0.58 /* of a column that a thread's name and what is known of it take */

static double thread_width(const Paper *paper) { return half_width(paper) * THREAD_SHARE - SWATCH_ROOM; }

static const Style thread_name = {.points = 10, .bold = true, .colour = INK};

static double thread_height(Paper *paper, const SheetThread *thread)
{
    double width = thread_width(paper);
    return fmax(paper_text_height(paper, &thread_name, width, thread->name)
                    + paper_text_height(paper, &grey, width, thread->note),
                8);
}

static void print_thread(Paper *paper, const SheetThread *thread, double left)
{
    double x = left + SWATCH_ROOM, width = thread_width(paper), right = left + half_width(paper);
    paper_box(paper, left, paper->y + 0.5, 9, 5, thread->colour, GREY_INK);
    double y = paper->y + paper_text(paper, &thread_name, x, paper->y, width, thread->name);
    paper_text(paper, &grey, x, y, width, thread->note);
    x += width + 1;
    if (!*thread->to_write)
        return;
    paper_words(paper, &grey, x, paper->y + 4, thread->to_write);
    paper_line(paper, x, paper->y + 7.5, right, paper->y + 7.5, INK, 0.2);
}

/* Two beside one another. */
static void print_threads(Paper *paper, const Sheet *sheet)
{
    if (!sheet->thread_count)
        return;
    paper_heading(paper, &heading, 0, "Threads", 12);
    for (uint32_t i = 0; i < sheet->thread_count; i += 2) {
        bool pair = i + 1 < sheet->thread_count;
        double height = thread_height(paper, &sheet->threads[i]);
        if (pair)
            height = fmax(height, thread_height(paper, &sheet->threads[i + 1]));
        paper_need(paper, height + 2);
        print_thread(paper, &sheet->threads[i], paper->left);
        if (pair)
            print_thread(paper, &sheet->threads[i + 1], paper->left + half_width(paper) + COLUMNS_APART);
        paper->y += height + 2;
    }
    paper->y += 2;
}

/* A picture is made so much smaller, at the most, to stand on what is left of a page. */
#define LEAST_FIT 0.6
/* One that is higher than a page begins on this one where so much of it is left: it is cut between its rows. */
#define LEAST_BEGUN 0.4

static void print_whole(Paper *paper, Figure figure)
{
    double height = figure_height(&figure), room = paper->bottom - paper->y, page = paper->bottom - paper->top;
    if (height > room && height * LEAST_FIT <= room)
        figure_fit(&figure, room / height);
    else if (height <= page || room < page * LEAST_BEGUN)
        paper_need(paper, fmin(height, page));
    paper_figure(paper, &figure);
    paper->y += 4;
}

/* mm that stay with what is said there: of that, and of steps. */
#define STEPS_BELOW 50.0

/* For whoever goes on there, and has the steps before it behind; or leaves it there for the night. */
static void print_standing(Paper *paper, const Printing *printing, const SheetRod *rod,
                           const SheetSection *section)
{
    uint32_t from = printing->from, first = section->step_count ? rod->steps[section->first_step].number : from;
    if (first >= from || first + section->step_count <= from)
        return;
    uint32_t skipped = from - rod->steps[0].number;
    paper_heading(paper, &heading, 0, text_format(paper->arena, "From step %u on", (unsigned)from), STEPS_BELOW);
    const StepNight *night = &night_of_steps(paper->arena, rod->bench)[skipped];
    print_paragraph(paper, &plain, 0, where_work_stands(paper->arena, printing->sheet, rod, skipped), 1);
    print_paragraph(paper, &plain, 0, night_words(paper->arena, rod, skipped, night), 3);
}

/* mm for the heading of what is done when all sections are wound, with its first step. */
#define LAST_SECTION 60.0

static void print_section(Paper *paper, const Printing *printing, uint32_t index, uint32_t number)
{
    static const Style title = {.points = 16, .bold = true, .colour = INK};
    const SheetRod *rod = &printing->sheet->rods[index];
    const SheetSection *section = &rod->sections[number];
    if (number && section->section == ALL_SECTIONS) /* what comes last goes on below what is wound */
        paper_need(paper, LAST_SECTION);
    else if (index || number)
        paper_break(paper);
    /* A sheet of one rod has its name already. */
    if (index || number || strcmp(section->title, printing->sheet->title) != 0)
        paper_heading(paper, &title, 0, section->title, 30);
    if (*section->note)
        print_paragraph(paper, &plain, 0, section->note, 3);
    paper_notes(paper, rod, section);
    if (!number) /* below all else of the page, since it is made to fit what is left */
        print_whole(paper, printing->whole[index]);
    paper_cards(paper, rod, section, &printing->plan->job->bench, !index && !number);
    print_standing(paper, printing, rod, section);
    paper_steps(paper, rod, section, printing->sheet->units, printing->from);
}

static void print_all(Paper *paper, const Printing *printing, bool counting)
{
    paper_begin(paper, counting);
    print_head(paper, printing->sheet);
    print_threads(paper, printing->sheet);
    for (uint32_t i = 0; i < printing->sheet->rod_count; i++)
        for (uint32_t s = 0; s < printing->sheet->rods[i].section_count; s++)
            print_section(paper, printing, i, s);
    paper_templates(paper, printing->sheet, printing->plan);
    paper_end(paper);
}

static void make_figures(Arena *arena, Printing *printing, double width)
{
    printing->whole = arena_take_many(arena, printing->sheet->rod_count, sizeof *printing->whole);
    for (uint32_t i = 0; i < printing->sheet->rod_count; i++) {
        const SheetRod *shown = &printing->sheet->rods[i];
        uint32_t rod = (uint32_t)(shown->bench->rod - printing->plan->rods);
        printing->whole[i] = whole_figure_make(arena, printing->plan, rod, width);
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

bool emit_sheet_pdf(Buffer *out, const Sheet *sheet, const Plan *plan, uint32_t from_step, bool letter)
{
    Arena *arena = out->arena;
    Paper *paper = arena_take(arena, sizeof *paper);
    Printing printing = {.sheet = sheet, .plan = plan, .from = from_step};
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
