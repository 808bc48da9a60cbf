/* The bench sheet as plain text, 80 columns: a box to tick before every step, its number, what to do; below it
 * where, how far the count is, and how. A line set in deeper goes on with the one before it. */
#include "base/unbroken.h"
#include "words/crosswrap_words.h"
#include "words/night_words.h"
#include "words/sheet.h"
#include "words/where_work_stands.h"
#include "emit/text_page.h"

#include <string.h>

enum { CONTINUED = 4, LEAST_DIGITS = 3, COLUMN_GAP = 2, WIDEST_NAME = 24, WIDEST_CELL = 40 };
static const char box[] = "[ ]  ";

typedef struct SheetTextPage {
    TextPage page;
    const Sheet *sheet;
    uint32_t from; /* number of the first step shown */
    const SheetRod *rod;
    const SheetSection *section;
    SheetDepth depth;
    int digits; /* columns of the numbers */
    int inside; /* columns before what is said of a step */
} SheetTextPage;

static int count_digits(uint32_t number)
{
    int digits = 1;
    for (; number >= 10; number /= 10)
        digits++;
    return digits;
}

/* --- lines --- */

/* The first line begins at the margin, what goes on is set in. */
static void put_heading_words(TextPage *page, const char *words)
{
    size_t first = unbroken_length(words);
    buffer_put(&page->cell, words, first);
    text_flow(page, 0);
    text_paragraph(page, words + first, CONTINUED);
}

static void put_part_heading(TextPage *page, const char *words, char rule)
{
    buffer_text(page->out, "\n");
    int columns = text_columns(words);
    put_heading_words(page, words);
    for (int i = 0; i < columns && i < PAGE_COLUMNS; i++)
        buffer_put(page->out, &rule, 1);
    buffer_text(page->out, "\n");
}

/* Padded to so many columns, and set apart from what follows even if it is wider. */
/* --- before the steps --- */

static void put_cautions(SheetTextPage *text)
{
    put_part_heading(&text->page, "Cautions", '-');
    for (uint32_t i = 0; i < text->sheet->caution_count; i++) {
        buffer_text(text->page.out, "*");
        text->page.column = 1;
        text_paragraph(&text->page, text->sheet->cautions[i], COLUMN_GAP);
    }
}

static void put_happened(SheetTextPage *text)
{
    if (!text->sheet->mishap_count && !text->sheet->width_count)
        return;
    put_part_heading(&text->page, HAPPENED_HEADING, '-');
    for (uint32_t i = 0; i < text->sheet->mishap_count; i++) {
        const SheetMishap *mishap = &text->sheet->mishaps[i];
        text_paragraph(&text->page, mishap->was, 0);
        text_paragraph(&text->page, mishap->now, CONTINUED);
        text_paragraph(&text->page, mishap->other, CONTINUED);
    }
    for (uint32_t i = 0; i < text->sheet->width_count; i++)
        text_paragraph(&text->page, text->sheet->widths[i], 0);
}

static void put_threads(SheetTextPage *text)
{
    const Sheet *sheet = text->sheet;
    int columns = 0;
    for (uint32_t i = 0; i < sheet->thread_count; i++)
        columns = text_widest(columns, sheet->threads[i].name, WIDEST_NAME);
    put_part_heading(&text->page, "Threads", '-');
    for (uint32_t i = 0; i < sheet->thread_count; i++) {
        text_padded(&text->page, sheet->threads[i].name, columns);
        text->page.column = 0;
        if (*sheet->threads[i].to_write)
            buffer_format(text->page.out, "%s: ____________________", sheet->threads[i].to_write);
        buffer_text(text->page.out, "\n");
        text_paragraph(&text->page, sheet->threads[i].note, CONTINUED);
    }
}

/* Columns of the cut list: widest label, words for what it is, and length. */
typedef struct CutColumns {
    int labels, what, length;
} CutColumns;

/* "4 x 38 cm" */
static const char *cut_length(Arena *arena, const CutLine *line)
{
    return line->count == 1 ? line->length : text_format(arena, "%u x %s", (unsigned)line->count, line->length);
}

static CutColumns cut_columns(Arena *arena, const CutPlaces *places)
{
    CutColumns columns = {text_columns("piece"), text_columns("what"), text_columns("length")};
    for (uint32_t p = 0; p < places->count; p++)
        for (uint32_t i = 0; i < places->items[p].line_count; i++) {
            const CutLine *line = &places->items[p].lines[i];
            columns.labels = text_widest(columns.labels, line->labels, WIDEST_NAME);
            columns.what = text_widest(columns.what, line->what, WIDEST_NAME);
            columns.length = text_widest(columns.length, cut_length(arena, line), WIDEST_NAME);
        }
    return columns;
}

/* Labels that are wider stand on lines of their own. */
static void put_cut(SheetTextPage *text, const CutColumns *columns, const CutLine *line)
{
    TextPage *page = &text->page;
    bool fits = text_columns(line->labels) <= columns->labels;
    buffer_text(page->out, fits ? box : "[ ]");
    if (!fits) {
        page->column = text_columns("[ ]");
        text_paragraph(page, line->labels, text_columns(box));
        buffer_column(page->out, "", text_columns(box));
    }
    text_padded(page, fits ? line->labels : "", columns->labels);
    text_padded(page, line->what, columns->what);
    text_padded(page, cut_length(page->out->arena, line), -columns->length);
    buffer_format(page->out, "%u\n", (unsigned)line->first_step);
    page->column = 0;
}

static void put_cuts(SheetTextPage *text)
{
    Buffer *out = text->page.out;
    CutPlaces places = sheet_cut_places(out->arena, text->rod, text->section, text->from);
    if (!places.count)
        return;
    CutColumns columns = cut_columns(out->arena, &places);
    put_part_heading(&text->page, "Cut and mount first", '-');
    buffer_text(out, "     ");
    text_padded(&text->page, "piece", columns.labels);
    text_padded(&text->page, "what", columns.what);
    text_padded(&text->page, "length", -columns.length);
    buffer_text(out, "for step\n");
    for (uint32_t p = 0; p < places.count; p++) {
        text->page.column = 0;
        text_paragraph(&text->page, places.items[p].heading, 0);
        for (uint32_t i = 0; i < places.items[p].line_count; i++)
            put_cut(text, &columns, &places.items[p].lines[i]);
    }
}

static void put_notes(SheetTextPage *text)
{
    const SheetSection *section = text->section;
    const SheetNote *notes = &text->rod->notes[section->first_note];
    int columns = 0;
    if (!section->note_count)
        return;
    for (uint32_t i = 0; i < section->note_count; i++)
        columns = text_widest(columns, notes[i].name, WIDEST_NAME);
    put_part_heading(&text->page, "Parts and notes, measured from the butt", '-');
    for (uint32_t i = 0; i < section->note_count; i++) {
        buffer_column(text->page.out, notes[i].name, columns);
        buffer_text(text->page.out, " ");
        text->page.column = columns + COLUMN_GAP - 1;
        text_paragraph(&text->page, notes[i].words, columns + COLUMN_GAP);
    }
}

/* --- steps --- */

/* What stands below a step or an action. */
typedef struct Below {
    const char *facts[3], *words, *caution;
    bool measure;
    const char *width; /* that should be there, where nothing else says it */
    const char *stop;  /* NULL: none after it */
} Below;

/* Facts flow in one paragraph, parted by "; ". */
static void put_facts(SheetTextPage *text, const Below *below)
{
    Buffer facts;
    buffer_start(&facts, text->page.out->arena);
    for (size_t i = 0; i < sizeof below->facts / sizeof *below->facts; i++)
        if (*below->facts[i])
            buffer_format(&facts, "%s%s", facts.length ? "; " : "", below->facts[i]);
    text_paragraph(&text->page, buffer_string(&facts), text->inside);
}

static void put_below(SheetTextPage *text, const Below *below)
{
    TextPage *page = &text->page;
    put_facts(text, below);
    text_paragraph(page, below->words, text->inside);
    for (const char *rest = below->caution; *rest;)
        text_paragraph(page, text_line(page->out->arena, &rest), text->inside);
    if (below->measure) {
        const char *should_be =
            below->width ? text_format(page->out->arena, "should be %s, is", below->width) : "measured:";
        text_flow_words(page, should_be, text->inside);
        text_flow_words(page, "______________", text->inside);
        text_paragraph(page, text->sheet->units, text->inside);
    }
    if (below->stop) {
        text_flow_words(page, "--", text->inside);
        text_flow_words(page, below->stop, text->inside);
        text_paragraph(page, "--", text->inside);
    }
}

static void put_numbered(SheetTextPage *text, const char *number, const char *says)
{
    Buffer *out = text->page.out;
    buffer_format(out, "[ ] %*s ", text->digits, number);
    text->page.column = text->inside - 1;
    text_paragraph(&text->page, says, text->inside + CONTINUED);
}

static void put_action(SheetTextPage *text, const SheetAction *action)
{
    Arena *arena = text->page.out->arena;
    put_numbered(text,
                 action->within ? text_format(arena, "%u.%u", (unsigned)action->step, (unsigned)action->within)
                                : text_format(arena, "%u", (unsigned)action->step),
                 action->says);
    put_below(text, &(Below){.facts = {action->count, action->where, action->clock},
                             .words = action->detail,
                             .caution = action->caution,
                             .measure = action->measure,
                             .stop = action->stop});
}

static void put_step(SheetTextPage *text, const SheetStep *step)
{
    if (text->depth == DEPTH_ACTIONS) {
        for (uint32_t i = 0; i < step->count; i++)
            put_action(text, &text->rod->actions[step->first + i]);
        return;
    }
    put_numbered(text, text_format(text->page.out->arena, "%u", (unsigned)step->number), step->says);
    put_below(text, &(Below){.facts = {step->progress, step->where, step->clock},
                             .words = step->note,
                             .caution = step->caution,
                             .measure = step->measure,
                             .stop = step->stop});
}

/* --- a wrap that is told as an equal one --- */

enum { CELL_AS, CELL_THREAD, CELL_TURNS, CELL_LAYER, CELL_AT, CELL_STOP, CELL_COUNT };

/* Flush right are those of numbers. */
static const char *const row_heads[CELL_COUNT] = {"as", "thread", "turns", "layer", "ends at", ""};
static const bool flush_right[CELL_COUNT] = {
    [CELL_AS] = true, [CELL_TURNS] = true, [CELL_LAYER] = true, [CELL_AT] = true};

typedef struct RowCells {
    const char *cells[CELL_COUNT];
} RowCells;

static RowCells cells_of(const SheetTextPage *text, const SheetStep *step, const ToldRow *row)
{
    Arena *arena = text->page.out->arena;
    return (RowCells){{text_format(arena, "%u", (unsigned)row->as), row_thread(arena, step, row), row->turns,
                       row->layer, row->at, step->stop && !row->own_stop ? "stop" : ""}};
}

/* Of the page, beside all other cells. */
static int thread_columns(const SheetTextPage *text, const int columns[])
{
    int left = PAGE_COLUMNS - text->inside;
    for (int c = 0; c < CELL_COUNT; c++)
        left -= c == CELL_THREAD ? 0 : columns[c] + COLUMN_GAP;
    return left;
}

/* Nothing stands behind the last of them. */
static void put_cells(SheetTextPage *text, const RowCells *row, const int columns[])
{
    int last = CELL_COUNT - 1;
    while (last > 0 && !*row->cells[last])
        last--;
    for (int i = 0; i < last; i++)
        text_padded(&text->page, row->cells[i], flush_right[i] ? -columns[i] : columns[i]);
    buffer_column(text->page.out, row->cells[last], flush_right[last] ? -columns[last] : 0);
    buffer_text(text->page.out, "\n");
    text->page.column = 0;
}

static void put_row(SheetTextPage *text, const int columns[], const SheetStep *step, const ToldRow *row)
{
    RowCells cells = cells_of(text, step, row);
    const char *thread = cells.cells[CELL_THREAD];
    bool fits = text_columns(thread) <= columns[CELL_THREAD];
    cells.cells[CELL_THREAD] = fits ? thread : "";
    buffer_format(text->page.out, "[ ] %*u  ", text->digits, (unsigned)step->number);
    put_cells(text, &cells, columns);
    if (!fits)
        text_paragraph(&text->page, text_format(text->page.out->arena, "of %s", thread), text->inside);
    if (row->own_says)
        text_paragraph(&text->page, text_format(text->page.out->arena, "%s %s", ROW_OWN, step->says),
                       text->inside);
    put_below(text, &(Below){.facts = {"", "", row->own_clock ? step->clock : ""},
                             .words = row->note,
                             .caution = step->caution,
                             .measure = step->measure,
                             .width = row->own_says ? NULL : row->width,
                             .stop = row->own_stop ? step->stop : NULL});
}

static void put_rows(SheetTextPage *text, const SheetPart *part)
{
    RowCells heads;
    int columns[CELL_COUNT];
    const SheetStep *steps = &text->rod->steps[part->first_step];
    memcpy(heads.cells, row_heads, sizeof row_heads);
    for (int c = 0; c < CELL_COUNT; c++)
        columns[c] = text_columns(row_heads[c]);
    for (uint32_t i = 0; i < part->step_count; i++) {
        RowCells cells = cells_of(text, &steps[i], &part->rows[i]);
        for (int c = 0; c < CELL_COUNT; c++)
            columns[c] = text_widest(columns[c], cells.cells[c], WIDEST_CELL);
    }
    int most = thread_columns(text, columns);
    columns[CELL_THREAD] = columns[CELL_THREAD] < most ? columns[CELL_THREAD] : most;
    text_paragraph(&text->page, part->as_words, 0);
    buffer_column(text->page.out, "", text->inside);
    put_cells(text, &heads, columns);
    for (uint32_t i = 0; i < part->step_count; i++)
        put_row(text, columns, &steps[i], &part->rows[i]);
}

static void put_part(SheetTextPage *text, const SheetPart *part)
{
    const SheetStep *steps = &text->rod->steps[part->first_step];
    if (!part->step_count || steps[part->step_count - 1].number < text->from)
        return;
    put_part_heading(&text->page, part->heading, '-');
    if (part->as && text->depth == DEPTH_STEPS) {
        put_rows(text, part);
        return;
    }
    for (uint32_t i = 0; i < part->step_count; i++)
        if (steps[i].number >= text->from)
            put_step(text, &steps[i]);
}

/* Where the work stands after so many steps of the rod, and how to leave it there for the night. */
static void put_standing(SheetTextPage *text, uint32_t skipped)
{
    Arena *arena = text->page.out->arena;
    const StepNight *night = &night_of_steps(arena, text->rod->bench)[skipped];
    buffer_text(text->page.out, "\n");
    text_paragraph(&text->page, where_work_stands(arena, text->sheet, text->rod, skipped), 0);
    text_paragraph(&text->page, night_words(arena, text->rod, skipped, night), 0);
}

static void put_section(SheetTextPage *text, const SheetSection *section)
{
    const SheetStep *steps = &text->rod->steps[section->first_step];
    text->section = section;
    if (!section->step_count || steps[section->step_count - 1].number < text->from)
        return;
    put_part_heading(&text->page, text_format(text->page.out->arena, "Rod: %s", section->title), '=');
    if (*section->note)
        text_paragraph(&text->page, section->note, 0);
    put_notes(text);
    put_cuts(text);
    if (text->from > steps->number)
        put_standing(text, text->from - text->rod->steps[0].number);
    for (uint32_t i = 0; i < section->part_count; i++)
        put_part(text, &text->rod->parts[section->first_part + i]);
}

/* The highest number that is on the sheet. */
static uint32_t last_step(const Sheet *sheet)
{
    uint32_t last = 0;
    for (uint32_t i = 0; i < sheet->rod_count; i++) {
        const SheetRod *rod = &sheet->rods[i];
        const SheetSection *end = rod->section_count ? &rod->sections[rod->section_count - 1] : NULL;
        if (end && end->step_count)
            last = rod->steps[end->first_step + end->step_count - 1].number;
    }
    return last;
}

/* Columns of "12", or action by action of "12.10". */
static int number_columns(const Sheet *sheet, SheetDepth depth, uint32_t last)
{
    uint32_t most = 1;
    if (depth == DEPTH_STEPS)
        return count_digits(last);
    for (uint32_t i = 0; i < sheet->rod_count; i++)
        for (uint32_t s = 0; s < sheet->rods[i].step_count; s++)
            most = sheet->rods[i].steps[s].count > most ? sheet->rods[i].steps[s].count : most;
    return count_digits(last) + 1 + count_digits(most);
}

void emit_sheet_text(Buffer *out, const Sheet *sheet, uint32_t from_step, SheetDepth depth)
{
    SheetTextPage text = {
        .page = text_page_start(out, sheet->bench->plan), .sheet = sheet, .from = from_step, .depth = depth};
    uint32_t last = last_step(sheet);
    text.digits = number_columns(sheet, depth, last);
    text.digits = text.digits > LEAST_DIGITS ? text.digits : LEAST_DIGITS;
    text.inside = text_columns("[ ] ") + text.digits + COLUMN_GAP;
    text_head(&text.page, "Bench sheet");
    text_field(&text.page, "lengths");
    buffer_format(out, "%s\n\n", system_words(text.page.units));
    text_paragraph(&text.page, sheet->orientation, 0);
    put_happened(&text);
    put_cautions(&text);
    put_threads(&text);
    for (uint32_t i = 0; i < sheet->rod_count; i++) {
        text.rod = &sheet->rods[i];
        for (uint32_t s = 0; s < text.rod->section_count; s++)
            put_section(&text, &text.rod->sections[s]);
    }
    if (from_step > last)
        buffer_format(out, "\nThe last step is %u: nothing is left to do.\n", (unsigned)last);
}
