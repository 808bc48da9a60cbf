/* A crosswrap in the plan for people. */
#include "base/unbroken.h"
#include "words/crosswrap_words.h"
#include "emit/plan/plan_crosswrap.h"
#include "trade/trade.h"
#include "plan/plan_sums.h"

#include <inttypes.h>
#include <math.h>
#include <string.h>

enum { NOTE = 2, NOTE_ON = 4 }; /* where a note begins, and where it goes on */

typedef struct CrosswrapText {
    TextPage *page;
    const PlannedPlace *place;
    const PlannedCrosswrap *planned;
    Buffer words; /* of the note at hand */
} CrosswrapText;

/* The words put together, as a paragraph. */
static void put_note(CrosswrapText *text)
{
    TextPage *page = text->page;
    buffer_put(&text->words, "", 1);
    int indent = NOTE;
    for (const char *word = text->words.bytes; *word; indent = NOTE_ON) {
        size_t length = unbroken_length(word);
        buffer_put(&page->cell, word, length);
        text_flow(page, indent);
        word += length + (word[length] == ' ');
    }
    text_flow_end(page);
    text->words.length = 0;
}

static void put_words(CrosswrapText *text, const char *words) { buffer_text(&text->words, words); }
static void put_mm(CrosswrapText *text, double mm) { put_length(&text->words, text->page->units, mm); }

static void put_degrees(CrosswrapText *text, double radians)
{
    buffer_number(&text->words, degrees(radians), 1);
    put_words(text, " deg");
}

static void put_decimal(CrosswrapText *text, double mm)
{
    put_words(text, show_decimal(text->page->out->arena, text->page->units, QUANTITY_WIDTH, mm));
}

/* "spacer slate" */
static void put_strand_name(Buffer *buffer, const PlannedCrosswrap *planned, uint32_t strand)
{
    buffer_text(buffer, planned->strands[strand].spacer ? "spacer " : "");
    buffer_text(buffer, planned->strands[strand].thread->name->bytes);
}

/* --- how it is set out --- */

static void put_angles_at(CrosswrapText *text, int tip, const char *round)
{
    const FieldEnd *end = &text->planned->ends[tip];
    bool two = leg_count(text->planned) > 1 && text->planned->ratio[LEG_OUT] != text->planned->ratio[LEG_BACK];
    put_degrees(text, end->angle[LEG_OUT]);
    if (two) {
        put_words(text, " out and ");
        put_degrees(text, end->angle[LEG_BACK]);
        put_words(text, " back");
    }
    buffer_format(&text->words, "%s at the %s", round, tip ? "tip" : "butt");
}

static void put_kind(CrosswrapText *text)
{
    const PlannedCrosswrap *planned = text->planned;
    put_words(text, crosswrap_word(planned));
    if (planned->starts > 1)
        buffer_format(&text->words, " of %" PRIu32 " starts", planned->starts);
    if (leg_count(planned) > 1) {
        buffer_format(&text->words, ", %" PRIu32 " %s ", planned->crossings,
                      planned->crossings == 1 ? "crossing" : "crossings");
        put_mm(text, planned->spacing);
        put_words(text, " apart");
    }
    put_words(text, ", ");
    put_angles_at(text, 0, " steep");
    put_words(text, ", ");
    put_angles_at(text, 1, "");
}

static void put_lead(CrosswrapText *text)
{
    const PlannedCrosswrap *planned = text->planned;
    put_words(text, "lead ");
    put_mm(text, planned->lead[LEG_OUT]);
    if (leg_count(planned) > 1 && planned->ratio[LEG_OUT] != planned->ratio[LEG_BACK]) {
        put_words(text, " out, ");
        put_mm(text, planned->lead[LEG_BACK]);
        put_words(text, " back");
    } else if (leg_count(planned) > 1) {
        put_words(text, " out and back");
    }
    buffer_format(&text->words, ", wound %s, seen from the butt", sense_word(planned));
}

static void put_field(CrosswrapText *text)
{
    const PlannedCrosswrap *planned = text->planned;
    buffer_format(&text->words, "end bands of %" PRIu32 " turns, ", planned->end_turns);
    put_mm(text, planned->end_width);
    put_words(text, "; between them the field, ");
    put_mm(text, from_datum(text->place, planned->field_start));
    put_words(text, " to ");
    put_mm(text, from_datum(text->place, planned->field_end));
}

static void put_set_out(CrosswrapText *text)
{
    put_kind(text);
    put_note(text);
    put_lead(text);
    put_note(text);
    put_field(text);
    put_note(text);
    for (uint32_t family = 1; family <= crosswrap_families(text->planned); family++) {
        put_family(&text->words, text->page->units, NULL, text->place, text->planned, family);
        put_note(text);
    }
}

/* --- how it closes, and holds --- */

/* What is left open this side of a thread's thousandth is none. */
#define CLOSED 0.0005

/* What would close a field that is meant to close, where that is another number of strands than there are. */
static void put_remedy(CrosswrapText *text, const FieldEnd *end)
{
    const PlannedCrosswrap *planned = text->planned;
    uint32_t last = planned->crosswrap->line_count - 1, count = 0;
    for (uint32_t i = 0; i < planned->strand_count; i++)
        count += planned->strands[i].line == last;
    bool filled = false; /* then it is as near to closing as whole strands bring it */
    for (uint32_t i = 0; i < planned->crosswrap->line_count; i++)
        filled |= planned->crosswrap->lines[i].fill;
    if (end->closing == count || !planned->crosswrap->closed || filled)
        return;
    put_words(text, "; it would close with ");
    buffer_number(&text->words, end->closing, 0);
    buffer_format(&text->words, " instead of %" PRIu32 " of ", count);
    put_words(text, planned->crosswrap->lines[last].thread->name->bytes);
    put_words(text, planned->crosswrap->kind == CROSSWRAP_DIAMOND && last ? " in the last line, both sides counted"
                                                                          : " in the last line");
}

static void put_closing(CrosswrapText *text, int tip)
{
    const PlannedCrosswrap *planned = text->planned;
    const FieldEnd *end = &planned->ends[tip];
    double open = shown_opening(planned, end, rounding_of_lengths(text->page->units));
    buffer_format(&text->words, "at the %s there is room for ", tip ? "tip" : "butt");
    put_mm(text, end->room);
    put_words(text, " of strands; they take ");
    put_mm(text, planned->width);
    if (fabs(open) < CLOSED) {
        put_words(text, ": closed");
    } else if (open < 0) {
        put_words(text, ": they overlap by ");
        put_decimal(text, -open);
    } else {
        put_words(text, ": ");
        put_decimal(text, open);
        put_words(text, " stays bare");
    }
    put_remedy(text, end);
    put_note(text);
}

static void put_friction(CrosswrapText *text)
{
    const Bench *bench = &text->page->plan->job->bench;
    put_words(text, "friction needed to hold: ");
    buffer_number(&text->words, text->planned->slippage, 3);
    buffer_text(&text->words, "; assumed: ");
    buffer_number_short(&text->words, bench->friction, 3);
    put_note(text);
}

/* --- strands --- */

#define COLUMNS(X)                                                                                                \
    X(STRANDS, "strands", 10)                                                                                     \
    X(THREAD, "thread", 12)                                                                                       \
    X(LAID, "laid", 27)                                                                                           \
    X(OUT, "each out", -12)                                                                                       \
    X(BACK, "each back", -12)

enum { STRANDS_INDENT = 2 + 10 + 2 }; /* under the column of threads */

typedef enum {
#define X(name, ...) COLUMN_##name,
    COLUMNS(X)
#undef X
} StrandColumn;

static const struct {
    const char *title;
    int columns;
} columns[] = {
#define X(name, ...) {__VA_ARGS__},
    COLUMNS(X)
#undef X
};

static void put_cell(CrosswrapText *text, StrandColumn column)
{
    bool last = column == (leg_count(text->planned) > 1 ? COLUMN_BACK : COLUMN_OUT);
    buffer_text(text->page->out, column == COLUMN_STRANDS ? "  " : "");
    if (column == COLUMN_THREAD)
        text_wide_cell(text->page, columns[column].columns, STRANDS_INDENT);
    else
        text_cell(text->page, columns[column].columns);
    buffer_text(text->page->out, last ? "\n" : column == COLUMN_STRANDS ? "  " : " ");
}

/* "0.62 m", "0.62-0.64 m": of all passes of these strands. */
static void put_lengths(CrosswrapText *text, const StrandGroup *group, Leg leg)
{
    const PlannedCrosswrap *planned = text->planned;
    TextPage *page = text->page;
    uint32_t first = group->first * planned->starts, end = (group->first + group->count) * planned->starts;
    LegRange range = leg_range(planned, leg, first, end);
    const char *from = show_thread_length(page->out->arena, page->units, range.shortest);
    const char *to = show_thread_length(page->out->arena, page->units, range.longest);
    if (strcmp(from, to) != 0)
        buffer_format(&page->cell, "%.*s-", (int)strcspn(from, " "), from);
    buffer_text(&page->cell, to);
}

static void put_group(CrosswrapText *text, const StrandGroup *group)
{
    const PlannedCrosswrap *planned = text->planned;
    Buffer *cell = &text->page->cell;
    buffer_format(cell, group->count > 1 ? "%" PRIu32 " to %" PRIu32 : "%" PRIu32, group->first + 1,
                  group->first + group->count);
    put_cell(text, COLUMN_STRANDS);
    put_strand_name(cell, planned, group->first);
    put_cell(text, COLUMN_THREAD);
    buffer_text(cell, laid_words(group, planned->crosswrap->kind));
    put_cell(text, COLUMN_LAID);
    for (uint32_t leg = 0; leg < leg_count(planned); leg++) {
        put_lengths(text, group, (Leg)leg);
        put_cell(text, leg ? COLUMN_BACK : COLUMN_OUT);
    }
}

static void put_strand_table(CrosswrapText *text)
{
    StrandColumn last = leg_count(text->planned) > 1 ? COLUMN_BACK : COLUMN_OUT;
    for (StrandColumn column = 0; column <= last; column++) {
        buffer_text(&text->page->cell, columns[column].title);
        put_cell(text, column);
    }
    for (uint32_t i = 0; i < text->planned->strand_count;) {
        StrandGroup group = strand_group(text->planned, i);
        put_group(text, &group);
        i += group.count;
    }
}

static void put_totals(CrosswrapText *text)
{
    const PlannedCrosswrap *planned = text->planned;
    buffer_format(&text->words, "%" PRIu32 " %s in all", planned->pass_count,
                  planned->pass_count == 1 ? "pass" : "passes");
    if (planned->starts > 1)
        buffer_format(&text->words, ", each strand for all %" PRIu32 " starts before the next strand",
                      planned->starts);
    buffer_text(&text->words, "; ");
    buffer_number(&text->words, planned->turns, 1);
    buffer_text(&text->words, " turns of the blank, ");
    buffer_text(&text->words, show_thread_length(text->page->out->arena, text->page->units, legs_length(planned)));
    buffer_text(&text->words, " of thread, turnrounds not counted");
    put_note(text);
}

void text_crosswrap(TextPage *page, const PlannedPlace *place, const PlannedCrosswrap *planned)
{
    CrosswrapText text = {.page = page, .place = place, .planned = planned};
    buffer_start(&text.words, page->out->arena);
    put_set_out(&text);
    put_closing(&text, 0);
    put_closing(&text, 1);
    put_friction(&text);
    put_strand_table(&text);
    put_totals(&text);
}
