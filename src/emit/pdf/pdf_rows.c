/* A wrap whose steps an equal one tells: a table with a row for each step, its box first. */
#include "emit/pdf/pdf_steps.h"

#include <math.h>

#define BOX 3.4
#define NUMBERS_RIGHT 6.8
#define BOX_LEFT 7.5
#define BAR_LEFT 11.3
#define BAR_WIDTH 1.3
#define CELLS_LEFT 13.2
#define CELLS_APART 1.3
#define ROW_HEIGHT 4.2
#define ROW_GAP 0.7
#define HEADS_HEIGHT 3.8
#define MEASURED_HEIGHT 5.2
#define STOP_WORD "stop"

static const Style words_style = {.points = 9, .colour = INK};
static const Style number_style = {.points = 9, .bold = true, .colour = INK, .align = ALIGN_END};
static const Style right_style = {.points = 9, .colour = INK, .align = ALIGN_END};
static const Style head_style = {.points = 8, .colour = GREY_INK};
static const Style head_right_style = {.points = 8, .colour = GREY_INK, .align = ALIGN_END};
static const Style stop_style = {.points = 7.5, .colour = GREY_INK, .align = ALIGN_END};

/* From the left margin, where each ends that is flush right; how wide threads are. */
typedef struct RowColumns {
    double as, thread, thread_width, turns, layer, at;
} RowColumns;

/* What is written below the cells, and how high. */
typedef struct RowBelow {
    const char *words; /* its own; "" for none */
    double words_height, caution_height;
} RowBelow;

static double widest_of(Paper *paper, const Style *style, double so_far, const char *words)
{
    return fmax(so_far, paper_text_width(paper, style, words));
}

/* Threads have what the numbers leave. */
static RowColumns columns_of(Paper *paper, const SheetPart *part)
{
    double as = paper_text_width(paper, &head_style, "as"), turns = paper_text_width(paper, &head_style, "turns");
    double layer = paper_text_width(paper, &head_style, "layer");
    double at = paper_text_width(paper, &head_style, "ends at");
    for (uint32_t i = 0; i < part->step_count; i++) {
        const ToldRow *row = &part->rows[i];
        as = widest_of(paper, &right_style, as, text_format(paper->arena, "%u", (unsigned)row->as));
        turns = widest_of(paper, &number_style, turns, row->turns);
        layer = widest_of(paper, &right_style, layer, row->layer);
        at = widest_of(paper, &right_style, at, row->at);
    }
    RowColumns columns = {.as = CELLS_LEFT + as};
    columns.thread = columns.as + CELLS_APART;
    columns.at = paper_width(paper) - paper_text_width(paper, &stop_style, STOP_WORD) - CELLS_APART;
    columns.layer = columns.at - at - CELLS_APART;
    columns.turns = columns.layer - layer - CELLS_APART;
    columns.thread_width = fmax(columns.turns - turns - CELLS_APART - columns.thread, 10);
    return columns;
}

static void print_heads(Paper *paper, const RowColumns *columns)
{
    double y = paper->y;
    paper_text(paper, &head_right_style, paper->left + columns->as, y, 0, "as");
    paper_text(paper, &head_style, paper->left + columns->thread, y, 0, "thread");
    paper_text(paper, &head_right_style, paper->left + columns->turns, y, 0, "turns");
    paper_text(paper, &head_right_style, paper->left + columns->layer, y, 0, "layer");
    paper_text(paper, &head_right_style, paper->left + columns->at, y, 0, "ends at");
    paper->y += HEADS_HEIGHT;
}

static double below_width(const Paper *paper) { return paper_width(paper) - CELLS_LEFT; }

static const char *own_words(Paper *paper, const SheetStep *step, const ToldRow *row)
{
    const char *const own[] = {row->own_says ? text_format(paper->arena, "%s %s", ROW_OWN, step->says) : "",
                               row->own_clock ? step->clock : "", row->note, row->own_stop ? step->stop : ""};
    Buffer words;
    buffer_start(&words, paper->arena);
    for (size_t i = 0; i < sizeof own / sizeof *own; i++)
        if (own[i] && *own[i])
            buffer_format(&words, "%s%s", words.length ? "; " : "", own[i]);
    return buffer_string(&words);
}

static RowBelow below_of(Paper *paper, const SheetStep *step, const ToldRow *row)
{
    RowBelow below = {.words = own_words(paper, step, row)};
    if (*below.words)
        below.words_height = paper_text_height(paper, &words_style, below_width(paper), below.words);
    below.caution_height = paper_cautions_height(paper, step, below_width(paper));
    return below;
}

/* "should be 19.53 mm, is ______ mm" */
static void print_measured(Paper *paper, const ToldRow *row, const char *units)
{
    double x = paper->left + CELLS_LEFT, base = paper->y + MEASURED_HEIGHT - 1.4;
    const char *words = row->own_says ? "it is" : text_format(paper->arena, "should be %s, is", row->width);
    paper_words(paper, &words_style, x, base, words);
    x += paper_text_width(paper, &words_style, words) + 1.5;
    paper_line(paper, x, base + 0.6, x + WRITING_LINE, base + 0.6, INK, 0.2);
    paper_words(paper, &words_style, x + WRITING_LINE + 1.5, base, units);
    paper->y += MEASURED_HEIGHT;
}

static void print_cells(Paper *paper, const RowColumns *columns, const SheetStep *step, const ToldRow *row)
{
    double y = paper->y, left = paper->left;
    paper_text(paper, &number_style, left + NUMBERS_RIGHT, y, 0,
               text_format(paper->arena, "%u", (unsigned)step->number));
    paper_ruled(paper, RULED_BOX, (Ruled){left + BOX_LEFT, y + 0.3, BOX, BOX});
    if (step->colour != NO_COLOUR)
        paper_box(paper, left + BAR_LEFT, y + 0.2, BAR_WIDTH, ROW_HEIGHT - 0.5, step->colour, GREY_INK);
    paper_text(paper, &right_style, left + columns->as, y, 0, text_format(paper->arena, "%u", (unsigned)row->as));
    paper_text(paper, &words_style, left + columns->thread, y, columns->thread_width,
               row_thread(paper->arena, step, row));
    paper_text(paper, &number_style, left + columns->turns, y, 0, row->turns);
    paper_text(paper, &right_style, left + columns->layer, y, 0, row->layer);
    paper_text(paper, &right_style, left + columns->at, y, 0, row->at);
    if (step->stop && !row->own_stop)
        paper_text(paper, &stop_style, paper->right, y + 0.5, 0, STOP_WORD);
}

static double cells_height(Paper *paper, const RowColumns *columns, const SheetStep *step, const ToldRow *row)
{
    return fmax(ROW_HEIGHT, paper_text_height(paper, &words_style, columns->thread_width,
                                              row_thread(paper->arena, step, row)));
}

static void print_row(Paper *paper, const RowColumns *columns, const SheetStep *step, const ToldRow *row,
                      const char *units)
{
    RowBelow below = below_of(paper, step, row);
    double cells = cells_height(paper, columns, step, row);
    double height = cells + below.words_height + below.caution_height + (step->measure ? MEASURED_HEIGHT : 0);
    uint32_t page = paper->page, column = paper->column;
    paper_need(paper, height + HEADS_HEIGHT);
    if (paper->page != page || paper->column != column)
        print_heads(paper, columns);
    print_cells(paper, columns, step, row);
    paper->y += cells;
    double x = paper->left + CELLS_LEFT;
    if (*below.words)
        paper->y += paper_text(paper, &words_style, x, paper->y, below_width(paper), below.words);
    paper->y += paper_cautions(paper, step, x, paper->y, below_width(paper));
    if (step->measure)
        print_measured(paper, row, units);
    paper_ruled(paper, RULED_PARTING, (Ruled){paper->left, paper->y + ROW_GAP / 2, paper_width(paper), 0});
    paper->y += ROW_GAP;
}

double paper_rows_begin(Paper *paper, const SheetPart *part)
{
    return paper_text_height(paper, &words_style, paper_width(paper), part->as_words) + HEADS_HEIGHT
           + 3 * ROW_HEIGHT;
}

void paper_rows(Paper *paper, const SheetRod *rod, const SheetPart *part, const char *units)
{
    RowColumns columns = columns_of(paper, part);
    paper->y += paper_text(paper, &words_style, paper->left, paper->y, paper_width(paper), part->as_words) + 0.8;
    print_heads(paper, &columns);
    for (uint32_t i = 0; i < part->step_count; i++)
        print_row(paper, &columns, &rod->steps[part->first_step + i], &part->rows[i], units);
}
