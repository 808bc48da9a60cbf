/* Notes and steps, each step with a box to tick: two columns of them on a page. */
#include "emit/pdf/pdf_steps.h"

#include <math.h>
#include <string.h>

#define BOX 3.6
#define NUMBERS_RIGHT 6.8 /* where step numbers end, from the left margin; their boxes stand below */
#define BAR_LEFT 7.2
#define BAR_WIDTH 1.3
#define WORDS_LEFT 9.0
#define ROW_GAP 1.0
#define STOP_GAP 0.6
#define PART_GAP 1.6

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

#define MEASURED_HEIGHT 5.2
#define MEASURED_BESIDE 1.4 /* so much lower than the words' last line, for room to write */
#define PAUSE_HEIGHT 2.7

/* A step as it stands in its row: what is done, bold, and right behind it the rest. */
typedef struct StepRow {
    const SheetStep *step;
    Style style;
    const char *words;
    double width, words_height, height;
    double measured; /* how high the room for a measured width is below the words */
} StepRow;

static double words_width(const Paper *paper) { return paper_width(paper) - WORDS_LEFT; }

/* "4 o'clock": what is at 12 is said where it was not said last in the part. */
static const char *clock_after(Paper *paper, const SheetStep *step, const SheetStep *before)
{
    const char *at_12 = strchr(step->clock, ',');
    const char *last = before ? strchr(before->clock, ',') : NULL;
    if (!at_12 || !last || strcmp(at_12, last) != 0)
        return step->clock;
    return text_format(paper->arena, "%.*s", (int)(at_12 - step->clock), step->clock);
}

/* "0.90 mm from the mark; 6 in the band, 6 in the layer. How it is done." The words have named the threads. */
static const char *rest_of(Paper *paper, const SheetStep *step, const SheetStep *before)
{
    const char *const facts[] = {step->where, step->progress, clock_after(paper, step, before)};
    Buffer words;
    buffer_start(&words, paper->arena);
    for (size_t i = 0; i < sizeof facts / sizeof *facts; i++)
        if (*facts[i])
            buffer_format(&words, "%s%s", words.length ? "; " : "", facts[i]);
    buffer_text(&words, words.length ? ". " : "");
    buffer_text(&words, step->note);
    return buffer_string(&words);
}

double paper_cautions_height(Paper *paper, const SheetStep *step, double width)
{
    double height = 0;
    for (const char *rest = step->caution; *rest;)
        height += paper_text_height(paper, &caution_style, width, text_line(paper->arena, &rest));
    return height;
}

double paper_cautions(Paper *paper, const SheetStep *step, double x, double y, double width)
{
    double top = y;
    for (const char *rest = step->caution; *rest;)
        y += paper_text(paper, &caution_style, x, y, width, text_line(paper->arena, &rest));
    return y - top;
}

static double measured_width(Paper *paper, const char *units)
{
    return paper_text_width(paper, &step_style, "it is") + WRITING_LINE + 3
           + paper_text_width(paper, &step_style, units);
}

/* Behind the words' last line where that is short, else below. */
static double measured_height(Paper *paper, const StepRow *row, const char *units)
{
    enum { APART = 3 };
    double last = paper_last_line_width(paper, &row->style, row->width, row->words);
    if (!row->step->measure)
        return 0;
    bool beside = !*row->step->caution && last + APART + measured_width(paper, units) <= row->width;
    return beside ? MEASURED_BESIDE : MEASURED_HEIGHT;
}

/* before: the last step of the part that said an hour, or NULL. */
static StepRow row_of(Paper *paper, const SheetStep *step, const SheetStep *before, const char *units)
{
    StepRow row = {.step = step, .style = step_style, .width = words_width(paper)};
    row.style.bold_bytes = (uint32_t)strlen(step->says);
    row.words = text_format(paper->arena, "%s  %s", step->says, rest_of(paper, step, before));
    row.words_height = paper_text_height(paper, &row.style, row.width, row.words);
    row.measured = measured_height(paper, &row, units);
    row.height = row.words_height + paper_cautions_height(paper, step, row.width) + row.measured;
    row.height = fmax(row.height, BOX + 3.8);
    return row;
}

/* right: where it ends. base: of its letters. */
static void print_measured(Paper *paper, double right, double base, const char *units)
{
    double x = right - measured_width(paper, units),
           start = x + paper_text_width(paper, &step_style, "it is") + 1.5;
    paper_words(paper, &step_style, x, base, "it is");
    paper_line(paper, start, base + 0.6, start + WRITING_LINE, base + 0.6, INK, 0.2);
    paper_words(paper, &step_style, start + WRITING_LINE + 1.5, base, units);
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

static void print_step(Paper *paper, const SheetStep *step, const SheetStep *before, const char *units)
{
    StepRow row = row_of(paper, step, before, units);
    paper_need(paper, row.height + ROW_GAP + (step->stop ? PAUSE_HEIGHT : 0));
    double y = paper->y, x = paper->left + WORDS_LEFT;
    paper_text(paper, &number_style, paper->left + NUMBERS_RIGHT, y, 0,
               text_format(paper->arena, "%u", step->number));
    paper_ruled(paper, RULED_BOX, (Ruled){paper->left + NUMBERS_RIGHT - BOX, y + 3.9, BOX, BOX});
    if (step->colour != NO_COLOUR)
        paper_box(paper, paper->left + BAR_LEFT, y + 0.4, BAR_WIDTH, row.height - 0.8, step->colour, GREY_INK);
    y += paper_text(paper, &row.style, x, y, row.width, row.words);
    y += paper_cautions(paper, step, x, y, row.width);
    if (step->measure)
        print_measured(paper, paper->right, y + row.measured - 1.2, units);
    paper->y += row.height;
    if (step->stop) {
        print_stop(paper, step->stop);
        paper->y += STOP_GAP;
        return;
    }
    paper_ruled(paper, RULED_PARTING, (Ruled){paper->left, paper->y + ROW_GAP / 2, paper_width(paper), 0});
    paper->y += ROW_GAP;
}

/* Of a place whose name stands above, in the same column, the part alone: "layer 1 of 2, underwrap". below: what
 * stays with the heading. */
static const char *brief_heading(Paper *paper, const SheetPart *part, const SheetPart *before, double below)
{
    const char *words = strrchr(part->heading, ':');
    if (!before || before->place != part->place || part->place == WHOLE_ROD || !words)
        return part->heading;
    double height = paper_text_height(paper, &part_style, paper_width(paper), words + 2);
    return paper->y + height + below > paper->bottom ? part->heading : words + 2;
}

static void print_part(Paper *paper, const SheetRod *rod, const SheetPart *part, const char *units, uint32_t from)
{
    const SheetStep *said_hour = NULL;
    for (uint32_t s = part->first_step; s < part->first_step + part->step_count; s++) {
        const SheetStep *step = &rod->steps[s];
        if (step->number < from)
            continue;
        print_step(paper, step, said_hour, units);
        said_hour = *step->clock ? step : said_hour;
    }
}

/* Number of its last step; 0 for none. */
static uint32_t last_number(const SheetRod *rod, uint32_t first, uint32_t count)
{
    return count ? rod->steps[first + count - 1].number : 0;
}

void paper_steps(Paper *paper, const SheetRod *rod, const SheetSection *section, const char *units, uint32_t from)
{
    const SheetPart *shown = NULL;
    if (last_number(rod, section->first_step, section->step_count) < from)
        return;
    paper_start_columns(paper, 2);
    for (uint32_t i = 0; i < section->part_count; i++) {
        const SheetPart *part = &rod->parts[section->first_part + i];
        if (last_number(rod, part->first_step, part->step_count) < from)
            continue;
        paper->y += paper->y > paper->columns_top ? PART_GAP : 0;
        /* Not apart from its first step. */
        double first = part->as ? paper_rows_begin(paper, part)
                                : fmax(13, row_of(paper, &rod->steps[part->first_step], NULL, units).height);
        paper_titled(paper, &part_style, 1, part->heading, brief_heading(paper, part, shown, 4.5 + first),
                     4.5 + first);
        shown = part;
        if (part->as) {
            paper_rows(paper, rod, part, units);
            continue;
        }
        print_part(paper, rod, part, units, from);
    }
    paper_end_columns(paper);
}
