/* Notes and steps, each step with a box to tick: two columns of them on a page. */
#include "emit/pdf/pdf_steps.h"

#include <math.h>
#include <string.h>

#define BOX 3.6
#define NUMBERS_RIGHT 6.8 /* where step numbers end, from the left margin; their boxes stand below */
#define BAR_LEFT 7.6
#define BAR_WIDTH 1.6
#define WORDS_LEFT 10.0
#define ROW_GAP 1.2
#define PART_GAP 2.0

static const Style part_style = {.points = 9.5, .bold = true, .colour = INK};
static const Style number_style = {.points = 9, .bold = true, .colour = INK, .align = ALIGN_END};
static const Style step_style = {.points = 9, .colour = INK};
static const Style caution_style = {.points = 9, .colour = MARK_INK};

/* --- parts and notes --- */

void paper_notes(Paper *paper, const SheetRod *rod, const SheetSection *section)
{
    static const Style name = {.points = 9, .bold = true, .colour = INK};
    double names = paper_width(paper) * 0.25, words = paper->left + names + 3, width = paper->right - words;
    if (!section->note_count)
        return;
    paper_heading(paper, &part_style, 0, "Parts and notes, measured from the butt", 12);
    for (uint32_t i = 0; i < section->note_count; i++) {
        const SheetNote *note = &rod->notes[section->first_note + i];
        double height = fmax(paper_text_height(paper, &name, names, note->name),
                             paper_text_height(paper, &step_style, width, note->words));
        paper_need(paper, height + 1);
        paper_text(paper, &name, paper->left, paper->y, names, note->name);
        paper_text(paper, &step_style, words, paper->y, width, note->words);
        paper->y += height + 1;
    }
    paper->y += 2;
}

/* --- steps --- */

#define MEASURED_LINE 20.0
#define MEASURED_HEIGHT 5.2
#define PAUSE_HEIGHT 3.0

/* A step as it stands in its row: what is done, bold, and right behind it the rest. */
typedef struct StepRow {
    const SheetStep *step;
    Style style;
    const char *words;
    double width, words_height, height;
} StepRow;

static double words_width(const Paper *paper) { return paper_width(paper) - WORDS_LEFT; }

/* "0.90 mm from the mark; 6 in the band, 6 in the layer. How it is done." The thread is named only where the words
 * do not name it. */
static const char *rest_of(Paper *paper, const SheetStep *step)
{
    const char *const facts[] = {strstr(step->says, step->thread) ? "" : step->thread, step->where, step->progress,
                                 step->clock};
    Buffer words;
    buffer_start(&words, paper->arena);
    for (size_t i = 0; i < sizeof facts / sizeof *facts; i++)
        if (*facts[i])
            buffer_format(&words, "%s%s", words.length ? "; " : "", facts[i]);
    buffer_text(&words, words.length ? ". " : "");
    buffer_text(&words, step->note);
    return buffer_string(&words);
}

static double cautions_height(Paper *paper, const SheetStep *step, double width)
{
    double height = 0;
    for (const char *rest = step->caution; *rest;)
        height += paper_text_height(paper, &caution_style, width, text_line(paper->arena, &rest));
    return height;
}

static StepRow row_of(Paper *paper, const SheetStep *step)
{
    StepRow row = {.step = step, .style = step_style, .width = words_width(paper)};
    row.style.bold_bytes = (uint32_t)strlen(step->says);
    row.words = text_format(paper->arena, "%s  %s", step->says, rest_of(paper, step));
    row.words_height = paper_text_height(paper, &row.style, row.width, row.words);
    row.height =
        row.words_height + cautions_height(paper, step, row.width) + (step->measure ? MEASURED_HEIGHT : 0);
    row.height = fmax(row.height, BOX + 3.8);
    return row;
}

static void print_measured(Paper *paper, double x, double y, const char *units)
{
    double base = y + MEASURED_HEIGHT - 1.2, start = x + paper_text_width(paper, &step_style, "measured") + 1.5;
    paper_words(paper, &step_style, x, base, "measured");
    paper_line(paper, start, base + 0.6, start + MEASURED_LINE, base + 0.6, INK, 0.2);
    paper_words(paper, &step_style, start + MEASURED_LINE + 1.5, base, units);
}

static void print_stop(Paper *paper, const char *words)
{
    static const Style style = {.points = 7.5, .colour = GREY_INK, .align = ALIGN_MIDDLE};
    double middle = (paper->left + paper->right) / 2, y = paper->y + PAUSE_HEIGHT / 2;
    double half = paper_text_width(paper, &style, words) / 2 + 2;
    paper_line(paper, paper->left, y, middle - half, y, GREY_INK, 0.35);
    paper_line(paper, middle + half, y, paper->right, y, GREY_INK, 0.35);
    paper_words(paper, &style, middle, y + 1, words);
    paper->y += PAUSE_HEIGHT;
}

static void print_step(Paper *paper, const SheetStep *step, const char *units)
{
    StepRow row = row_of(paper, step);
    paper_need(paper, row.height + ROW_GAP + (step->stop ? PAUSE_HEIGHT : 0));
    double y = paper->y, x = paper->left + WORDS_LEFT;
    paper_text(paper, &number_style, paper->left + NUMBERS_RIGHT, y, 0,
               text_format(paper->arena, "%u", step->number));
    paper_ruled(paper, RULED_BOX, (Ruled){paper->left + NUMBERS_RIGHT - BOX, y + 3.9, BOX, BOX});
    if (step->colour != NO_COLOUR)
        paper_box(paper, paper->left + BAR_LEFT, y + 0.4, BAR_WIDTH, row.height - 0.8, step->colour, GREY_INK);
    y += paper_text(paper, &row.style, x, y, row.width, row.words);
    for (const char *rest = step->caution; *rest;)
        y += paper_text(paper, &caution_style, x, y, row.width, text_line(paper->arena, &rest));
    if (step->measure)
        print_measured(paper, x, y, units);
    paper->y += row.height;
    if (step->stop)
        print_stop(paper, step->stop);
    else
        paper_ruled(paper, RULED_PARTING, (Ruled){paper->left, paper->y + ROW_GAP / 2, paper_width(paper), 0});
    paper->y += ROW_GAP;
}

void paper_steps(Paper *paper, const SheetRod *rod, const SheetSection *section, const char *units)
{
    paper_start_columns(paper, 2);
    for (uint32_t i = 0; i < section->part_count; i++) {
        const SheetPart *part = &rod->parts[section->first_part + i];
        paper->y += paper->y > paper->columns_top ? PART_GAP : 0;
        /* Not apart from its first step. */
        double first = part->as ? paper_rows_begin(paper, part)
                                : fmax(13, row_of(paper, &rod->steps[part->first_step]).height);
        paper_heading(paper, &part_style, 1, part->heading, 12 + first);
        if (part->as) {
            paper_rows(paper, rod, part, units);
            continue;
        }
        for (uint32_t s = part->first_step; s < part->first_step + part->step_count; s++)
            print_step(paper, &rod->steps[s], units);
    }
    paper_end_columns(paper);
}
