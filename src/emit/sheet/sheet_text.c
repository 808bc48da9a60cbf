/* The bench sheet as plain text, 80 columns: a box to tick before every step, its number, what to do; below it
 * where, how far the count is, and how. A line set in deeper goes on with the one before it. */
#include "base/unbroken.h"
#include "words/crosswrap_words.h"
#include "words/sheet.h"
#include "words/where_work_stands.h"
#include "emit/text_page.h"

#include <string.h>

enum { CONTINUED = 4, LEAST_DIGITS = 3, COLUMN_GAP = 2, WIDEST_NAME = 24 };
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

/* --- lines --- */

static void put_paragraph(TextPage *page, const char *words, int indent)
{
    text_flow_words(page, words, indent);
    if (page->column)
        text_flow_end(page);
}

/* The first line begins at the margin, what goes on is set in. */
static void put_heading_words(TextPage *page, const char *words)
{
    size_t first = unbroken_length(words);
    buffer_put(&page->cell, words, first);
    text_flow(page, 0);
    put_paragraph(page, words + first, CONTINUED);
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
static void put_cell(Buffer *out, const char *words, int columns)
{
    buffer_column(out, words, columns);
    buffer_text(out, "  ");
}

static int widest(int so_far, const char *words)
{
    int columns = text_columns(words);
    return columns > so_far && columns <= WIDEST_NAME ? columns : so_far;
}

/* --- before the steps --- */

static void put_cautions(SheetTextPage *text)
{
    put_part_heading(&text->page, "Cautions", '-');
    for (uint32_t i = 0; i < text->sheet->caution_count; i++) {
        buffer_text(text->page.out, "*");
        text->page.column = 1;
        put_paragraph(&text->page, text->sheet->cautions[i], COLUMN_GAP);
    }
}

static void put_threads(SheetTextPage *text)
{
    const Sheet *sheet = text->sheet;
    int columns = 0;
    for (uint32_t i = 0; i < sheet->thread_count; i++)
        columns = widest(columns, sheet->threads[i].name);
    put_part_heading(&text->page, "Threads", '-');
    for (uint32_t i = 0; i < sheet->thread_count; i++) {
        put_cell(text->page.out, sheet->threads[i].name, columns);
        text->page.column = 0;
        buffer_format(text->page.out, "%s: ____________________\n", sheet->threads[i].to_write);
        put_paragraph(&text->page, sheet->threads[i].note, CONTINUED);
    }
}

/* Columns of the cut list: widest label and widest words for what it is. */
typedef struct CutColumns {
    int label, what, length;
} CutColumns;

static bool is_shown(const SheetTextPage *text, const SheetCut *cut) { return cut->first_step >= text->from; }

static const SheetCut *section_cut(const SheetTextPage *text, uint32_t index)
{
    return &text->rod->cuts[text->section->first_cut + index];
}

static CutColumns cut_columns(const SheetTextPage *text)
{
    CutColumns columns = {text_columns("piece"), text_columns("what"), text_columns("length")};
    for (uint32_t i = 0; i < text->section->cut_count; i++) {
        const SheetCut *cut = section_cut(text, i);
        columns.label = widest(columns.label, cut->label);
        columns.what = widest(columns.what, cut->what);
        columns.length = widest(columns.length, cut->length);
    }
    return columns;
}

static void put_cut(SheetTextPage *text, const CutColumns *columns, const SheetCut *cut)
{
    Buffer *out = text->page.out;
    buffer_text(out, box);
    put_cell(out, cut->label, columns->label);
    put_cell(out, cut->what, columns->what);
    put_cell(out, cut->length, -columns->length);
    buffer_format(out, "%u\n", (unsigned)cut->first_step);
}

static bool any_cut_shown(const SheetTextPage *text)
{
    for (uint32_t i = 0; i < text->section->cut_count; i++)
        if (is_shown(text, section_cut(text, i)))
            return true;
    return false;
}

static void put_cuts(SheetTextPage *text)
{
    Buffer *out = text->page.out;
    if (!any_cut_shown(text))
        return;
    CutColumns columns = cut_columns(text);
    put_part_heading(&text->page, "Cut and mount first", '-');
    buffer_text(out, "     ");
    put_cell(out, "piece", columns.label);
    put_cell(out, "what", columns.what);
    put_cell(out, "length", -columns.length);
    buffer_text(out, "for step\n");
    for (uint32_t i = 0; i < text->section->cut_count; i++)
        if (is_shown(text, section_cut(text, i)))
            put_cut(text, &columns, section_cut(text, i));
}

static void put_notes(SheetTextPage *text)
{
    const SheetSection *section = text->section;
    const SheetNote *notes = &text->rod->notes[section->first_note];
    int columns = 0;
    if (!section->note_count)
        return;
    for (uint32_t i = 0; i < section->note_count; i++)
        columns = widest(columns, notes[i].name);
    put_part_heading(&text->page, "Parts and notes, measured from the butt", '-');
    for (uint32_t i = 0; i < section->note_count; i++) {
        buffer_column(text->page.out, notes[i].name, columns);
        buffer_text(text->page.out, " ");
        text->page.column = columns + COLUMN_GAP - 1;
        put_paragraph(&text->page, notes[i].words, columns + COLUMN_GAP);
    }
}

/* --- steps --- */

/* What stands below a step or an action. */
typedef struct Below {
    const char *facts[3], *words, *caution;
    bool measure;
    const char *stop; /* NULL: none after it */
} Below;

/* Facts flow in one paragraph, parted by "; ". */
static void put_facts(SheetTextPage *text, const Below *below)
{
    Buffer facts;
    buffer_start(&facts, text->page.out->arena);
    for (size_t i = 0; i < sizeof below->facts / sizeof *below->facts; i++)
        if (*below->facts[i])
            buffer_format(&facts, "%s%s", facts.length ? "; " : "", below->facts[i]);
    put_paragraph(&text->page, buffer_string(&facts), text->inside);
}

static void put_below(SheetTextPage *text, const Below *below)
{
    TextPage *page = &text->page;
    put_facts(text, below);
    put_paragraph(page, below->words, text->inside);
    put_paragraph(page, below->caution, text->inside);
    if (below->measure) {
        text_flow_words(page, "measured: ______________", text->inside);
        put_paragraph(page, text->sheet->units, text->inside);
    }
    if (below->stop) {
        text_flow_words(page, "--", text->inside);
        text_flow_words(page, below->stop, text->inside);
        put_paragraph(page, "--", text->inside);
    }
}

static void put_numbered(SheetTextPage *text, const char *number, const char *says)
{
    Buffer *out = text->page.out;
    buffer_format(out, "[ ] %*s ", text->digits, number);
    text->page.column = text->inside - 1;
    put_paragraph(&text->page, says, text->inside + CONTINUED);
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

static void put_part(SheetTextPage *text, const SheetPart *part)
{
    const SheetStep *steps = &text->rod->steps[part->first_step];
    if (!part->step_count || steps[part->step_count - 1].number < text->from)
        return;
    put_part_heading(&text->page, part->heading, '-');
    for (uint32_t i = 0; i < part->step_count; i++)
        if (steps[i].number >= text->from)
            put_step(text, &steps[i]);
}

/* Where the work stands after so many steps of the rod. */
static void put_standing(SheetTextPage *text, uint32_t skipped)
{
    buffer_text(text->page.out, "\n");
    put_paragraph(&text->page, where_work_stands(text->page.out->arena, text->sheet, text->rod, skipped), 0);
}

static void put_section(SheetTextPage *text, const SheetSection *section)
{
    const SheetStep *steps = &text->rod->steps[section->first_step];
    text->section = section;
    if (!section->step_count || steps[section->step_count - 1].number < text->from)
        return;
    put_part_heading(&text->page, text_format(text->page.out->arena, "Rod: %s", section->title), '=');
    if (*section->note)
        put_paragraph(&text->page, section->note, 0);
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

static int count_digits(uint32_t number)
{
    int digits = 1;
    for (; number >= 10; number /= 10)
        digits++;
    return digits;
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
    put_paragraph(&text.page, sheet->orientation, 0);
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
