#include "emit/csv_page.h"
#include "emit/emit.h"
#include "emit/line_map.h"

static const char *const names[] = {
    "rod", "place", "layer", "kind", "run", "item", "role", "thread", "turns", "turns_done", "start_mm", "end_mm",
    "from_mm", "to_mm", "start_diameter_mm", "end_diameter_mm", "wound_mm", "file", "line", "column"};
enum { NAME_COUNT = sizeof names / sizeof *names };

/* What all runs of a layer have in common. */
typedef struct PlanTable {
    CsvPage page;
    LineMap *lines;
    const char *rod, *place_label;
    const PlannedPlace *place;
    uint32_t layer;
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

static void put_run(PlanTable *table, const Run *run, uint32_t number, uint64_t count)
{
    CsvPage *page = &table->page;
    csv_text(page, table->rod);
    csv_text(page, table->place_label);
    csv_whole(page, table->layer);
    csv_text(page, layer_word(table->place->layers[table->layer].layer));
    csv_whole(page, number);
    csv_whole(page, run->item);
    csv_text(page, role_word(run->role));
    put_strands(&table->cell, run->strands);
    put_cell(table);
    csv_whole(page, run->turns);
    csv_whole(page, count);
    csv_number(page, run->start);
    csv_number(page, run->end);
    csv_number(page, from_datum(table->place, run->start));
    csv_number(page, from_datum(table->place, run->end));
    csv_number(page, run->start_diameter);
    csv_number(page, run->end_diameter);
    put_lengths(table, run);
    put_place(page, table->lines, run->span);
    csv_end_line(page);
}

static void put_layers(PlanTable *table, const PlannedPlace *place)
{
    table->place = place;
    for (table->layer = 0; table->layer < place->layer_count; table->layer++) {
        const PlannedLayer *layer = &place->layers[table->layer];
        uint64_t count = 0;
        for (uint32_t i = 0; i < layer->run_count; i++)
            put_run(table, &layer->runs[i], i, count += layer->runs[i].turns);
    }
}

void emit_plan_csv(Buffer *out, const Plan *plan)
{
    PlanTable table = {.page.out = out, .lines = line_map_make(out->arena, plan->job->sources)};
    buffer_start(&table.cell, out->arena);
    csv_names(&table.page, names, NAME_COUNT);
    for (uint32_t i = 0; i < plan->rod_count; i++) {
        const PlannedRod *rod = &plan->rods[i];
        table.rod = rod->rod->title->bytes;
        for (uint32_t k = 0; k < rod->place_count; k++) {
            table.place_label = place_label(out->arena, plan->job, rod->rod, &rod->places[k]);
            put_layers(&table, &rod->places[k]);
        }
    }
}
