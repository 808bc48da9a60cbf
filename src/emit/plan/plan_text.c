#include "emit/emit.h"
#include "base/line_map.h"
#include "emit/plan/plan_crosswrap.h"
#include "base/visible.h"
#include "plan/fade_kinds.h"
#include "plan/plan_sums.h"
#include "words/evenness_words.h"
#include "words/trade_words.h"

#include <inttypes.h>
#include <math.h>

/* Terminal columns in metric units and in inches, where one position is also given as on a ruler; negative: flush
 * right, 0: left out. A row is one less than a page wide: some signs take more room than they should. What is
 * `measured` names its unit. */
#define COLUMNS(X)                                                                                                \
    X(LINE, "line", -5, -5, false)                                                                                \
    X(THREAD, "thread", 18, 14, false)                                                                            \
    X(ROLE, "as", 8, 8, false)                                                                                    \
    X(TURNS, "turns", -6, -5, false)                                                                              \
    X(COUNT, "count", -7, -6, false)                                                                              \
    X(FROM, "from", -9, -8, true)                                                                                 \
    X(TO, "to", -9, -7, true)                                                                                     \
    X(RULER, "ruler", 0, -8, false)                                                                               \
    X(WIDTH, "width", -9, -9, true)

typedef enum {
#define X(name, ...) COLUMN_##name,
    COLUMNS(X)
#undef X
        COLUMN_KINDS
} TextColumn;

static const struct {
    const char *title;
    int metric, inches;
    bool measured;
} columns[] = {
#define X(name, ...) {__VA_ARGS__},
    COLUMNS(X)
#undef X
};

enum { NOTE_INDENT = 7 }; /* under the column of threads */

typedef struct PlanText {
    TextPage page;
    LineMap *lines;
    const Rod *rod;
    FadeKinds kinds;
    LIST_OF(FadeLook) looks; /* of each kind of fade */
} PlanText;

static int columns_of(const PlanText *text, TextColumn column)
{
    return text->page.units == SYSTEM_IN ? columns[column].inches : columns[column].metric;
}

static void put_cell(PlanText *text, TextColumn column)
{
    if (columns_of(text, column) == 0) {
        text->page.cell.length = 0;
        return;
    }
    if (column == COLUMN_THREAD)
        text_wide_cell(&text->page, columns_of(text, column), NOTE_INDENT);
    else
        text_cell(&text->page, columns_of(text, column));
    buffer_text(text->page.out, column == COLUMN_WIDTH ? "\n" : column == COLUMN_LINE ? "  " : " ");
}

static void put_length_cell(PlanText *text, TextColumn column, double mm)
{
    put_digits(&text->page.cell, text->page.units, QUANTITY_WIDTH, mm);
    put_cell(text, column);
}

static void put_ruler_cell(PlanText *text, double mm)
{
    put_on_ruler(&text->page.cell, mm);
    put_cell(text, COLUMN_RULER);
}

/* The line of the source; with the file's number where it stands in another than the first. */
static void put_line_number(PlanText *text, Span span)
{
    if (span.file)
        buffer_format(&text->page.cell, "%u:", span.file + 1);
    buffer_format(&text->page.cell, "%u", line_map_find(text->lines, span).line);
    put_cell(text, COLUMN_LINE);
}

static void put_run(PlanText *text, const PlannedPlace *place, const Run *run, uint64_t count)
{
    Buffer *cell = &text->page.cell;
    put_line_number(text, run->span);
    put_strands(cell, run->strands);
    put_cell(text, COLUMN_THREAD);
    buffer_text(cell, role_word(run->role));
    put_cell(text, COLUMN_ROLE);
    if (run->turns)
        buffer_format(cell, "%" PRIu32, run->turns);
    put_cell(text, COLUMN_TURNS);
    buffer_format(cell, "%" PRIu64, count);
    put_cell(text, COLUMN_COUNT);
    Rounding rounding = rounding_of_lengths(text->page.units);
    put_length_cell(text, COLUMN_FROM, shown_from_datum(place, run->start, rounding));
    put_length_cell(text, COLUMN_TO, shown_from_datum(place, run->end, rounding));
    put_ruler_cell(text, shown_from_datum(place, run->end, rounding));
    put_length_cell(text, COLUMN_WIDTH, shown_width(place, run->start, run->end, rounding));
}

/* "Fade from navy to slate: in 1, out 4; in 2, out 3 ...": a fade step begins where the new thread comes in. */
static void put_fade(PlanText *text, const PlannedLayer *layer, const PlannedItem *planned)
{
    TextPage *page = &text->page;
    buffer_text(&page->cell, "fade from ");
    put_strands(&page->cell, planned->from);
    buffer_text(&page->cell, " to ");
    put_strands(&page->cell, planned->to);
    buffer_text(&page->cell, ":");
    text_flow(page, NOTE_INDENT);
    for (uint32_t i = 0; i < planned->run_count; i++) {
        const Run *run = &layer->runs[planned->first_run + i];
        const Run *next = i + 1 < planned->run_count ? run + 1 : NULL;
        buffer_format(&page->cell, "%s %" PRIu32 "%s", run->role == RUN_FADE_IN ? "in" : "out", run->turns,
                      !next                       ? ""
                      : next->role == RUN_FADE_IN ? ";"
                                                  : ",");
        text_flow(page, NOTE_INDENT + 2);
    }
    text_flow_end(page);
}

/* How even it is; of a kind of fade that was looked at before, what was seen then. */
static void put_evenness(PlanText *text, const PlannedPlace *place, uint32_t layer, uint32_t item)
{
    const PlannedItem *planned = &place->layers[layer].items[item];
    const Bench *bench = &text->page.plan->job->bench;
    FadeAt at = {bench, text->rod, place, layer, item};
    if (!fade_is_seen(planned))
        return;
    uint32_t kind = fade_kind(&text->kinds, &at);
    if (kind == NO_KIND)
        return;
    Arena *arena = text->page.out->arena;
    if (kind == text->looks.count)
        *LIST_ADD(arena, &text->looks) = fade_look(&at, VISION_ALL_CONES);
    text_paragraph(&text->page, evenness_words(arena, bench, &text->looks.items[kind], planned->turns),
                   NOTE_INDENT);
}

/* "its turns are chosen by eye; by count it would be off by 34 %; to keep them, write runs: [in 0 out 2, in 1 out
 * 4]": as it is written, whichever way it is worked. */
static void put_chosen(PlanText *text, const PlannedItem *planned)
{
    TextPage *page = &text->page;
    if (!planned->chosen)
        return;
    const ChosenTurns *chosen = turns_chosen(page->plan->chosen, planned->chosen);
    buffer_text(&page->cell, "its turns are chosen by eye;");
    text_flow(page, NOTE_INDENT);
    buffer_format(&page->cell, "by count it would be off by %s;",
                  show_departure(page->out->arena, chosen->by_count));
    text_flow(page, NOTE_INDENT);
    if (chosen->bound < chosen->departure) {
        buffer_format(&page->cell, "at best by %s;", show_bound(page->out->arena, chosen->bound));
        text_flow(page, NOTE_INDENT);
    }
    buffer_text(&page->cell, "to keep them, write");
    text_flow(page, NOTE_INDENT);
    for (uint32_t i = 0; i < chosen->run_count; i++) {
        buffer_format(&page->cell, "%sin %" PRIu32 " out %" PRIu32 "%s", i ? "" : "runs: [", chosen->runs[i].in,
                      chosen->runs[i].out, i + 1 < chosen->run_count ? "," : "]");
        text_flow(page, NOTE_INDENT + 2);
    }
    text_flow_end(page);
}

/* Said where the width obtained is not what was asked for, to the digits that lengths are shown to. */
static void put_width_error(PlanText *text, double asked, double obtained)
{
    TextPage *page = &text->page;
    Rounding rounding = rounding_of_lengths(page->units);
    double shown = rounded(asked, rounding), error = obtained - shown;
    if (isnan(error) || fabs(error) < rounding.step / 2)
        return;
    buffer_text(&page->cell, "asked for ");
    text_length(page, shown);
    buffer_text(&page->cell, ",");
    text_flow(page, NOTE_INDENT);
    buffer_text(&page->cell, "gets ");
    text_length(page, obtained);
    buffer_text(&page->cell, ",");
    text_flow(page, NOTE_INDENT);
    buffer_text(&page->cell, show_decimal(page->out->arena, page->units, QUANTITY_WIDTH, fabs(error)));
    buffer_text(&page->cell, error > 0 ? " more" : " less");
    text_flow(page, NOTE_INDENT);
    text_flow_end(page);
}

static void put_titles(PlanText *text)
{
    for (TextColumn column = 0; column < COLUMN_KINDS; column++) {
        buffer_text(&text->page.cell, columns[column].title);
        if (columns[column].measured)
            buffer_format(&text->page.cell, ", %s", quantity_unit(text->page.units, QUANTITY_WIDTH));
        put_cell(text, column);
    }
}

static void put_table(PlanText *text, const PlannedPlace *place, uint32_t index)
{
    const PlannedLayer *layer = &place->layers[index];
    Rounding rounding = rounding_of_lengths(text->page.units);
    uint64_t count = 0;
    put_titles(text);
    for (uint32_t i = 0; i < layer->item_count; i++) {
        const PlannedItem *planned = &layer->items[i];
        if (planned->item->kind == ITEM_FADE) {
            put_fade(text, layer, planned);
            put_evenness(text, place, index, i);
            put_chosen(text, planned);
        }
        for (uint32_t k = 0; k < planned->run_count; k++) {
            const Run *run = &layer->runs[planned->first_run + k];
            count += run->turns;
            put_run(text, place, run, count);
        }
        put_width_error(text, planned->asked, shown_items_width(place, layer, i, 1, rounding));
        for (uint32_t s = 0; s < layer->spread_count; s++) {
            const PlannedSpread *spread = &layer->spreads[s];
            if (spread->first_item + spread->item_count == i + 1)
                put_width_error(text, spread->asked,
                                shown_items_width(place, layer, spread->first_item, spread->item_count, rounding));
        }
    }
}

/* "in all 360 turns, 54.00 mm wide of 54.12 mm; 0.12 mm stays bare" */
static void put_layer_totals(PlanText *text, const PlannedPlace *place, const PlannedLayer *layer)
{
    TextPage *page = &text->page;
    Rounding rounding = rounding_of_lengths(page->units);
    double unfilled = shown_unfilled(place, layer, rounding); /* NAN: nothing to fill */
    buffer_format(&page->cell, "%" PRIu64 " %s in all,", layer->turns, turns_word(layer->turns));
    text_flow(page, NOTE_INDENT);
    text_length(page, shown_layer_width(place, layer, rounding));
    buffer_text(&page->cell, " wide");
    text_flow(page, NOTE_INDENT);
    if (!isnan(unfilled)) {
        buffer_text(&page->cell, "of ");
        text_length(page, layer->length);
        buffer_text(&page->cell, unfilled == 0 ? "" : ";");
        text_flow(page, NOTE_INDENT);
    }
    if (!isnan(unfilled) && unfilled != 0) {
        buffer_text(&page->cell, show_decimal(page->out->arena, page->units, QUANTITY_WIDTH, unfilled));
        buffer_text(&page->cell, " stays bare");
        text_flow(page, NOTE_INDENT);
    }
    text_flow_end(page);
}

static void put_layer(PlanText *text, const PlannedPlace *place, uint32_t index)
{
    Buffer *out = text->page.out;
    const PlannedLayer *layer = &place->layers[index];
    buffer_format(out, "\nLayer %" PRIu32 " of %" PRIu32 " (%s)", index + 1, place->layer_count,
                  layer_label(place, index));
    if (!layer->laid) {
        buffer_text(out, ": left out, see the findings\n");
        return;
    }
    buffer_text(out, "\n");
    if (layer->crosswrap)
        text_crosswrap(&text->page, place, layer->crosswrap);
    put_table(text, place, index);
    put_layer_totals(text, place, layer);
}

/* "Foot: tip at 4.00 mm, full height from 10.00 mm, inner end at 23.00 mm." */
static void put_foot(TextPage *page, const PlannedPlace *place)
{
    const struct {
        const char *before;
        double x;
        const char *after;
    } parts[] = {{"Foot: tip at ", place->foot_tip, ","},
                 {"full height from ", place->ramp_end, ","},
                 {"inner end at ", place->foot_end, "."}};
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
        buffer_text(&page->cell, parts[i].before);
        text_length(page, from_datum(place, parts[i].x));
        buffer_text(&page->cell, parts[i].after);
        text_flow(page, 0);
    }
    text_flow_end(page);
}

static void put_place(PlanText *text, const PlannedRod *rod, const PlannedPlace *place)
{
    TextPage *page = &text->page;
    buffer_text(page->out, "\n");
    text_heading(page, place_label(page->out->arena, page->plan->job, rod->rod, place), '-');
    buffer_text(&page->cell, "Mark: ");
    text_place(page, place->start);
    buffer_text(&page->cell, " from the butt.");
    text_flow(page, 0);
    if (rod->rod->section_count > 1) {
        const Section *section = &rod->rod->sections[place->section];
        buffer_text(&page->cell, "On ");
        buffer_text(&page->cell, visible(page->out->arena, section->name));
        buffer_text(&page->cell, " alone: ");
        text_place(page, place->start - section->butt);
        buffer_text(&page->cell, ".");
        text_flow(page, 0);
    }
    buffer_format(&page->cell, "Positions count from it toward the %s.", toward_word(place->direction));
    text_flow(page, 0);
    text_flow_end(page);
    if (place->host) {
        buffer_text(&page->cell, "It lies on the crosswrap at ");
        text_place(page, place->host->place->mark);
        buffer_text(&page->cell, ".");
        text_flow(page, 0);
        text_flow_end(page);
    }
    if (place->place->guide)
        put_foot(page, place);
    for (uint32_t i = 0; i < place->layer_count; i++)
        put_layer(text, place, i);
}

static void put_files(TextPage *page)
{
    const Sources *sources = page->plan->job->sources;
    for (uint32_t i = 0; i < sources->pattern_files; i++) {
        text_field(page, i ? "" : "files");
        buffer_format(page->out, "%" PRIu32 "  ", i + 1);
        buffer_text(page->out, visible(page->out->arena, sources->list.items[i].path));
        buffer_text(page->out, "\n");
    }
    if (sources->pattern_files > 1) {
        text_field(page, "");
        buffer_text(page->out, "line 2:14 is line 14 of file 2\n");
    }
}

static void put_cautions(TextPage *page)
{
    for (uint32_t i = 0; caution(i); i++) {
        buffer_text(page->out, "*");
        page->column = 1;
        text_flow_words(page, caution(i), 2);
        text_flow_end(page);
    }
}

/* "Section 1 of 2: butt_piece, from 0 mm to 540 mm of the rod. Its butt end lies at 0 mm; in the joint 60 mm of
 * its tip are hidden." */
static void put_section(TextPage *page, const Rod *rod, uint32_t index)
{
    const Section *section = &rod->sections[index];
    double of_butt = hidden_in_joint(rod, index, false), of_tip = hidden_in_joint(rod, index, true);
    double hidden = fmax(of_butt, of_tip); /* one of the two: all of a rod's joints are alike */
    buffer_format(&page->cell, "Section %" PRIu32 " of %" PRIu32 ": %s,", index + 1, rod->section_count,
                  visible(page->out->arena, section->name));
    text_flow(page, 0);
    buffer_text(&page->cell, "from ");
    text_place(page, section->start);
    buffer_text(&page->cell, " to ");
    text_place(page, section->end);
    buffer_text(&page->cell, " of the rod.");
    text_flow(page, NOTE_INDENT);
    buffer_text(&page->cell, "Its butt end lies at ");
    text_place(page, section->butt);
    buffer_text(&page->cell, hidden > 0 ? ";" : ".");
    text_flow(page, NOTE_INDENT);
    if (hidden > 0) {
        buffer_text(&page->cell, "in the joint ");
        text_place(page, hidden);
        buffer_format(&page->cell, " of its %s are hidden.", of_tip > 0 ? "tip" : "butt");
        text_flow(page, NOTE_INDENT);
    }
    text_flow_end(page);
}

static void put_parts(TextPage *page, const PlannedRod *rod)
{
    if (!rod->part_end_count)
        return;
    buffer_text(page->out, "\n");
    text_heading(page, "Parts and notes, measured from the butt", '-');
    for (uint32_t i = 0; i < rod->part_end_count; i++) {
        const PartEnd *end = &rod->part_ends[i];
        if (end->at_tip)
            continue;
        buffer_format(&page->cell, "%s:", visible(page->out->arena, end->part->name->bytes));
        text_flow(page, 0);
        text_flow_words(page, part_words(page->out->arena, page->units, end->part, 0), 4);
        text_flow_end(page);
    }
}

static void put_rod(PlanText *text, const PlannedRod *rod)
{
    TextPage *page = &text->page;
    text->rod = rod->rod;
    buffer_text(page->out, "\n");
    const char *title = rod->rod->title->bytes;
    if (rod->rod->blank)
        title = text_format(page->out->arena, "%s, on %s", title, blanks_named(page->out->arena, rod->rod));
    text_heading(page, text_format(page->out->arena, "Rod: %s", title), '=');
    for (uint32_t i = 0; rod->rod->section_count > 1 && i < rod->rod->section_count; i++)
        put_section(page, rod->rod, i);
    put_parts(page, rod);
    for (uint32_t i = 0; i < rod->place_count; i++)
        put_place(text, rod, &rod->places[i]);
}

void emit_plan_text(Buffer *out, const Plan *plan)
{
    PlanText text = {.page = text_page_start(out, plan)};
    text.lines = plan->job->lines;
    text.kinds.known.arena = out->arena;
    text_head(&text.page, "Plan");
    text_field(&text.page, "lengths");
    buffer_format(out, "%s\n", system_words(text.page.units));
    put_files(&text.page);
    buffer_text(out, "\n");
    put_cautions(&text.page);
    for (uint32_t i = 0; i < plan->rod_count; i++)
        put_rod(&text, &plan->rods[i]);
    buffer_format(out, "\n%" PRIu64 " %s in all.\n", plan->turns, turns_word(plan->turns));
}
