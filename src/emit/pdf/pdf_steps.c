/* Cut list and steps, each with a box to tick. */
#include "emit/pdf/pdf_steps.h"

#include <math.h>
#include <string.h>

#define BOX 4.2
#define NUMBERS_RIGHT 17.0 /* where step numbers end, from the left margin */
#define SWATCH_LEFT 19.5
#define WORDS_LEFT 27.5
#define FACTS_WIDTH 60.0
#define COLUMNS_APART 4.0
#define ROW_GAP 1.6

static const Style part_style = {.points = 11, .bold = true, .colour = INK};
static const Style number_style = {.points = 10, .colour = GREY_INK, .align = ALIGN_END};
static const Style action_style = {.points = 11, .bold = true, .colour = INK};
static const Style detail_style = {.points = 9, .colour = INK};
static const Style caution_style = {.points = 9, .bold = true, .colour = INK};
static const Style fact_style = {.points = 8.5, .colour = INK};
static const Style small_style = {.points = 8, .colour = GREY_INK};

static void print_tick_box(Paper *paper, double y)
{
    paper_ruled(paper, RULED_BOX, (Ruled){paper->left, y, BOX, BOX});
}

/* Between rows. */
static void print_parting(Paper *paper, double y)
{
    paper_ruled(paper, RULED_PARTING, (Ruled){paper->left, y, paper->right - paper->left, 0});
}

/* Columns of the cut list: where they begin, and how wide they are, as shares of the room beside the boxes. */
typedef struct Column {
    const char *heading;
    double start, width;
} Column;
enum { CUT_COLUMNS = 4 };
static const Column columns[CUT_COLUMNS] = {
    {"Piece", 0, 0.28}, {"What", 0.30, 0.26}, {"Length", 0.58, 0.30}, {"For step", 0.90, 0.10}};

static double column_x(const Paper *paper, int column)
{
    double left = paper->left + BOX + 3;
    return left + columns[column].start * (paper->right - left);
}

static double column_width(const Paper *paper, int column)
{
    return columns[column].width * (paper->right - paper->left - BOX - 3);
}

static void print_cut_heads(Paper *paper)
{
    for (int i = 0; i < CUT_COLUMNS; i++)
        paper_text(paper, &small_style, column_x(paper, i), paper->y, column_width(paper, i), columns[i].heading);
    paper->y += 4.5;
}

static void print_cut(Paper *paper, const SheetCut *cut)
{
    static const Style label = {.points = 10, .bold = true, .colour = INK};
    static const Style plain = {.points = 10, .colour = INK};
    const char *cells[] = {cut->label, cut->what, cut->length, text_format(paper->arena, "%u", cut->first_action)};
    double height = BOX;
    for (int i = 0; i < CUT_COLUMNS; i++)
        height = fmax(height, paper_text_height(paper, i ? &plain : &label, column_width(paper, i), cells[i]));
    uint32_t page = paper->page;
    paper_need(paper, height + ROW_GAP);
    if (paper->page != page)
        print_cut_heads(paper);
    print_tick_box(paper, paper->y);
    for (int i = 0; i < CUT_COLUMNS; i++)
        paper_text(paper, i ? &plain : &label, column_x(paper, i), paper->y, column_width(paper, i), cells[i]);
    paper->y += height + ROW_GAP;
    print_parting(paper, paper->y - ROW_GAP / 2);
}

void paper_notes(Paper *paper, const SheetRod *rod, const SheetSection *section)
{
    static const Style name = {.points = 10, .bold = true, .colour = INK};
    static const Style plain = {.points = 10, .colour = INK};
    double words = column_x(paper, 1), width = paper->right - words;
    if (!section->note_count)
        return;
    paper_heading(paper, &part_style, 0, "Parts and notes, measured from the butt", 12);
    for (uint32_t i = 0; i < section->note_count; i++) {
        const SheetNote *note = &rod->notes[section->first_note + i];
        double height = fmax(paper_text_height(paper, &name, column_width(paper, 0), note->name),
                             paper_text_height(paper, &plain, width, note->words));
        paper_need(paper, height + ROW_GAP);
        paper_text(paper, &name, column_x(paper, 0), paper->y, column_width(paper, 0), note->name);
        paper_text(paper, &plain, words, paper->y, width, note->words);
        paper->y += height + ROW_GAP;
    }
    paper->y += 2;
}

void paper_cuts(Paper *paper, const SheetRod *rod, const SheetSection *section)
{
    paper_heading(paper, &part_style, 1, "Cut and mount first", 20);
    print_cut_heads(paper);
    for (uint32_t i = 0; i < section->cut_count; i++)
        print_cut(paper, &rod->cuts[section->first_cut + i]);
    paper->y += 4;
}

#define SWATCH_WIDTH 6.0
#define SWATCH_HEIGHT 3.6
#define MEASURED_LINE 24.0
#define MEASURED_HEIGHT 7.0
#define PAUSE_HEIGHT 4.5

static double words_width(const Paper *paper)
{
    return paper->right - paper->left - WORDS_LEFT - COLUMNS_APART - FACTS_WIDTH;
}

enum { FACTS = 4 };

/* What stands beside a step's words. The thread is named there only where the words do not name it. */
static void facts_of(const SheetAction *step, const char *facts[FACTS])
{
    facts[0] = strstr(step->says, step->thread) ? "" : step->thread;
    facts[1] = step->where;
    facts[2] = step->count;
    facts[3] = step->clock;
}

static double words_height(Paper *paper, const SheetAction *step)
{
    return paper_text_height(paper, &action_style, words_width(paper), step->says)
           + paper_text_height(paper, &detail_style, words_width(paper), step->detail)
           + paper_text_height(paper, &caution_style, words_width(paper), step->caution);
}

static double facts_height(Paper *paper, const SheetAction *step)
{
    const char *facts[FACTS];
    double height = step->measure ? MEASURED_HEIGHT : 0;
    facts_of(step, facts);
    for (int i = 0; i < FACTS; i++)
        height += paper_text_height(paper, &fact_style, FACTS_WIDTH, facts[i]);
    return height;
}

static void print_measured(Paper *paper, double x, double y, const char *units)
{
    double base = y + MEASURED_HEIGHT - 1.2, start = x + paper_text_width(paper, &fact_style, "measured") + 1.5;
    paper_words(paper, &fact_style, x, base, "measured");
    paper_line(paper, start, base + 0.6, start + MEASURED_LINE, base + 0.6, INK, 0.2);
    paper_words(paper, &fact_style, start + MEASURED_LINE + 1.5, base, units);
}

static void print_facts(Paper *paper, const SheetAction *step, const char *units)
{
    double x = paper->right - FACTS_WIDTH, y = paper->y + 0.4;
    const char *facts[FACTS];
    facts_of(step, facts);
    for (int i = 0; i < FACTS; i++)
        y += paper_text(paper, &fact_style, x, y, FACTS_WIDTH, facts[i]);
    if (step->measure)
        print_measured(paper, x, y, units);
}

static void print_pause(Paper *paper)
{
    static const Style style = {.points = 8, .colour = GREY_INK, .align = ALIGN_MIDDLE};
    static const char words[] = SAFE_TO_STOP;
    double middle = (paper->left + paper->right) / 2, y = paper->y + PAUSE_HEIGHT / 2;
    double half = paper_text_width(paper, &style, words) / 2 + 3;
    paper_line(paper, paper->left, y, middle - half, y, GREY_INK, 0.35);
    paper_line(paper, middle + half, y, paper->right, y, GREY_INK, 0.35);
    paper_words(paper, &style, middle, y + 1, words);
    paper->y += PAUSE_HEIGHT;
}

static double step_height(Paper *paper, const SheetAction *step)
{
    return fmax(fmax(words_height(paper, step), facts_height(paper, step)), BOX);
}

static void print_step(Paper *paper, const SheetAction *step, const char *units)
{
    double height = step_height(paper, step);
    paper_need(paper, height + ROW_GAP + (step->pause ? PAUSE_HEIGHT : 0));
    double y = paper->y, x = paper->left + WORDS_LEFT;
    print_tick_box(paper, y + 0.3);
    paper_text(paper, &number_style, paper->left + NUMBERS_RIGHT, y + 0.3, 0,
               text_format(paper->arena, "%u", step->number));
    if (step->colour != NO_COLOUR)
        paper_box(paper, paper->left + SWATCH_LEFT, y + 0.6, SWATCH_WIDTH, SWATCH_HEIGHT, step->colour, GREY_INK);
    y += paper_text(paper, &action_style, x, y, words_width(paper), step->says);
    y += paper_text(paper, &detail_style, x, y, words_width(paper), step->detail);
    paper_text(paper, &caution_style, x, y, words_width(paper), step->caution);
    print_facts(paper, step, units);
    paper->y += height;
    if (step->pause)
        print_pause(paper);
    else
        print_parting(paper, paper->y + ROW_GAP / 2);
    paper->y += ROW_GAP;
}

void paper_steps(Paper *paper, const SheetRod *rod, const SheetSection *section, const char *units)
{
    for (uint32_t i = 0; i < section->part_count; i++) {
        const SheetPart *part = &rod->parts[section->first_part + i];
        paper->y += paper->y > paper->top ? 3 : 0;
        /* Not apart from its first step. */
        double first = step_height(paper, &rod->actions[part->first]);
        paper_heading(paper, &part_style, 1, part->heading, fmax(25, 12 + first));
        for (uint32_t s = part->first; s < part->first + part->count; s++)
            print_step(paper, &rod->actions[s], units);
    }
}
