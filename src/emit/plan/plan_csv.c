#include "emit/csv_page.h"
#include "emit/emit.h"
#include "base/line_map.h"
#include "plan/plan_sums.h"
#include "trade/trade.h"
#include "words/trade_words.h"

#include <math.h>

static const char *const names[] = {"rod",
                                    "place",
                                    "layer",
                                    "kind",
                                    "run",
                                    "item",
                                    "role",
                                    "thread",
                                    "turns",
                                    "turns_done",
                                    "start_mm",
                                    "end_mm",
                                    "from_mm",
                                    "to_mm",
                                    "start_diameter_mm",
                                    "end_diameter_mm",
                                    "wound_mm",
                                    "file",
                                    "line",
                                    "column",
                                    "angle_deg"};
enum { NAME_COUNT = sizeof names / sizeof *names };

/* Further columns, where the plan has a crosswrap: each of its passes is a line too, before the end bands that are
 * wound over them. A pass counts no close turns, so `turns`, `turns_done`, `run` stay empty. */
static const char *const pass_names[] = {"pass", "strand", "start", "out_mm", "back_mm", "dwell_deg"};
enum { PASS_NAME_COUNT = sizeof pass_names / sizeof *pass_names };

/* And further ones, where a rod has several sections: which of them, and where on it, from its own butt end. */
static const char *const section_names[] = {"section", "section_from_mm", "section_to_mm"};
enum { SECTION_NAME_COUNT = sizeof section_names / sizeof *section_names };

/* What all runs of a layer have in common. */
typedef struct PlanTable {
    CsvPage page;
    LineMap *lines;
    const Rod *rod;
    const char *place_label;
    const PlannedPlace *place;
    uint32_t layer;
    bool passes;   /* some layer is a crosswrap: the further columns are there */
    bool sections; /* some rod has several: theirs are there */
    Buffer cell;
} PlanTable;

static void put_cell(PlanTable *table)
{
    buffer_put(&table->cell, "", 1);
    csv_text(&table->page, table->cell.bytes);
    table->cell.length = 0;
}

/* One length a strand, in the order of the threads. */
static void put_lengths(PlanTable *table, const Run *run)
{
    for (uint32_t i = 0; run->strands && i < run->strands->count; i++) {
        buffer_text(&table->cell, i ? " + " : "");
        put_program_number(&table->cell, run->lengths[i]);
    }
    put_cell(table);
}

static void put_place(CsvPage *page, LineMap *lines, Span span)
{
    LineColumn position = line_map_find(lines, span);
    csv_text(page, line_map_source(lines, span)->path);
    csv_whole(page, position.line);
    csv_whole(page, position.column);
}

static void put_empty(CsvPage *page, int count)
{
    while (count-- > 0)
        csv_text(page, "");
}

static void put_layer_cells(PlanTable *table)
{
    CsvPage *page = &table->page;
    csv_text(page, table->rod->title->bytes);
    csv_text(page, table->place_label);
    csv_whole(page, table->layer);
    csv_text(page, layer_word(table->place->layers[table->layer].layer));
}

static void put_positions(PlanTable *table, double start, double end)
{
    CsvPage *page = &table->page;
    Rounding rounding = rounding_of_programs();
    csv_number(page, shown_position(table->place, start, rounding));
    csv_number(page, shown_position(table->place, end, rounding));
    csv_number(page, shown_from_datum(table->place, start, rounding));
    csv_number(page, shown_from_datum(table->place, end, rounding));
}

/* The end of a line. */
static void put_section(PlanTable *table, double start, double end)
{
    CsvPage *page = &table->page;
    if (table->sections) {
        const Section *section = &table->rod->sections[table->place->section];
        csv_text(page, section->name);
        csv_number(page, shown_position(table->place, start, rounding_of_programs()) - section->butt);
        csv_number(page, shown_position(table->place, end, rounding_of_programs()) - section->butt);
    }
    csv_end_line(page);
}

static void put_run(PlanTable *table, const Run *run, uint32_t number, uint64_t count)
{
    CsvPage *page = &table->page;
    put_layer_cells(table);
    csv_whole(page, number);
    csv_whole(page, run->item);
    csv_text(page, role_word(run->role));
    put_strands(&table->cell, run->strands);
    put_cell(table);
    csv_whole(page, run->turns);
    csv_whole(page, count);
    put_positions(table, run->start, run->end);
    csv_number(page, run->start_diameter);
    csv_number(page, run->end_diameter);
    put_lengths(table, run);
    put_place(page, table->lines, run->span);
    csv_number(page, clock_degrees(table->place->place->angle));
    put_empty(page, table->passes ? PASS_NAME_COUNT : 0);
    put_section(table, run->start, run->end);
}

static void put_pass(PlanTable *table, const PlannedCrosswrap *planned, uint32_t index)
{
    CsvPage *page = &table->page;
    const PlannedLayer *layer = &table->place->layers[table->layer];
    const Pass *pass = &planned->passes[index];
    const BundleStrand *strand = &planned->strands[pass_strand(planned, index)];
    bool two = leg_count(planned) > 1;
    put_layer_cells(table);
    put_empty(page, 1);
    csv_whole(page, 0); /* the crosswrap is its layer's only item */
    csv_text(page, "pass");
    buffer_text(&table->cell, strand->spacer ? "spacer " : "");
    buffer_text(&table->cell, strand->thread->name->bytes);
    put_cell(table);
    put_empty(page, 2);
    put_positions(table, layer->start, layer->end);
    csv_number(page, crosswrap_diameter(planned, layer->start));
    csv_number(page, crosswrap_diameter(planned, layer->end));
    csv_number(page, shown_pass_length(pass, rounding_of_programs()));
    put_place(page, table->lines, strand->span);
    csv_number(page, clock_degrees(table->place->place->angle));
    csv_whole(page, index);
    csv_whole(page, pass_strand(planned, index));
    csv_whole(page, pass_start(planned, index));
    csv_number(page, pass->length[LEG_OUT]);
    csv_number(page, two ? pass->length[LEG_BACK] : (double)NAN);
    csv_number(page, pass->dwell);
    put_section(table, layer->start, layer->end);
}

static void put_layers(PlanTable *table, const PlannedPlace *place)
{
    table->place = place;
    for (table->layer = 0; table->layer < place->layer_count; table->layer++) {
        const PlannedLayer *layer = &place->layers[table->layer];
        uint64_t count = 0;
        for (uint32_t i = 0; layer->crosswrap && i < layer->crosswrap->pass_count; i++)
            put_pass(table, layer->crosswrap, i);
        for (uint32_t i = 0; i < layer->run_count; i++)
            put_run(table, &layer->runs[i], i, count += layer->runs[i].turns);
    }
}

static void put_names(PlanTable *table)
{
    for (size_t i = 0; i < NAME_COUNT; i++)
        csv_text(&table->page, names[i]);
    for (size_t i = 0; table->passes && i < PASS_NAME_COUNT; i++)
        csv_text(&table->page, pass_names[i]);
    for (size_t i = 0; table->sections && i < SECTION_NAME_COUNT; i++)
        csv_text(&table->page, section_names[i]);
    csv_end_line(&table->page);
}

void emit_plan_csv(Buffer *out, const Plan *plan)
{
    PlanTable table = {.page.out = out, .lines = plan->job->lines};
    buffer_start(&table.cell, out->arena);
    table.passes = any_crosswrap(plan);
    for (uint32_t i = 0; i < plan->rod_count; i++)
        table.sections |= plan->rods[i].rod->section_count > 1;
    put_names(&table);
    for (uint32_t i = 0; i < plan->rod_count; i++) {
        const PlannedRod *rod = &plan->rods[i];
        table.rod = rod->rod;
        for (uint32_t k = 0; k < rod->place_count; k++) {
            table.place_label = place_label(out->arena, plan->job, rod->rod, &rod->places[k]);
            put_layers(&table, &rod->places[k]);
        }
    }
}
