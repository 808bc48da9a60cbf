#include "emit/emit.h"
#include "emit/plan/plan_crosswrap.h"
#include "plan/fade_kinds.h"
#include "plan/plan_sums.h"
#include "trade/trade.h"
#include "words/trade_words.h"

#include <math.h>
#include <stdio.h>

/* A fade's looks, to all eyes. */
typedef struct SeenFade {
    FadeLook of[VISION_COUNT];
} SeenFade;

/* Of what is being written: enough to place a run. */
typedef struct PlanPage {
    JsonPage page;
    LineMap *lines;
    const Plan *plan;
    const Rod *rod;
    FadeKinds kinds;
    LIST_OF(SeenFade) looks; /* of each kind of fade */
} PlanPage;

static void put_sources(JsonPage *page, const Sources *sources)
{
    page_open(page, "sources", '[');
    for (uint32_t i = 0; i < sources->pattern_files; i++) {
        page_open_flat(page, NULL, '{');
        page_text(page, "path", sources->list.items[i].path);
        page_text(page, "use", sources->list.items[i].use_path);
        page_close(page, '}');
    }
    page_close(page, ']');
}

static void put_colour(JsonPage *page, const char *name, uint32_t colour)
{
    char written[8];
    snprintf(written, sizeof written, "#%06x", (unsigned)(colour & 0xffffff));
    page_text(page, name, written);
}

static void put_colours(JsonPage *page, const Thread *thread)
{
    if (!thread->colour_count)
        return;
    page_open(page, "colours", '[');
    for (uint32_t i = 0; i < thread->colour_count; i++)
        put_colour(page, NULL, thread->colours[i]);
    page_close(page, ']');
    page_number(page, "period_mm", thread->period);
}

/* What is usual is left out. */
static void put_looks(JsonPage *page, const Thread *thread)
{
    static const char *const sheens[] = {
#define X(name, word) [SHEEN_##name] = word,
        SHEEN_TABLE(X)
#undef X
    };
    if (thread->opacity < 1)
        page_number(page, "opacity", thread->opacity);
    if (thread->sheen != SHEEN_GLOSS)
        page_text(page, "sheen", sheens[thread->sheen]);
    if (thread->code)
        page_text(page, "code", thread->code->bytes);
}

static void put_threads(PlanPage *sheet)
{
    static const char *const width_words[] = {
#define X(name, option) [WIDTH_##name] = option,
        WIDTH_TABLE(X)
#undef X
    };
    JsonPage *page = &sheet->page;
    RoundedNeeds needs = rounded_needs(page->out->arena, sheet->plan, rounding_of_programs());
    page_open(page, "threads", '[');
    for (uint32_t i = 0; i < sheet->plan->total_count; i++) {
        const Need *need = &needs.totals[i];
        const Thread *thread = need->thread;
        page_open_flat(page, NULL, '{');
        page_text(page, "thread", thread->name->bytes);
        put_colour(page, "colour", thread->colour);
        put_colours(page, thread);
        put_looks(page, thread);
        page_number(page, "pitch_mm", thread->pitch);
        page_number(page, "pitch_uncertainty_mm", thread->pitch * thread->uncertainty);
        page_number(page, "diameter_mm", thread->diameter);
        page_text(page, "width_from", width_words[thread->width_source]);
        page_whole(page, "pieces", need->pieces);
        page_whole(page, "turns", need->turns);
        page_number(page, "wound_mm", need->wound);
        page_number(page, "ends_mm", need->ends);
        page_number(page, "total_mm", need_length(need));
        page_place(page, "at", sheet->lines, thread->span);
        page_close(page, '}');
    }
    page_close(page, ']');
}

static void put_chosen(PlanPage *sheet, const PlannedItem *item)
{
    JsonPage *page = &sheet->page;
    if (!item->chosen)
        return;
    const ChosenTurns *chosen = turns_chosen(sheet->plan->chosen, item->chosen);
    page_open(page, "chosen", '{');
    page_number(page, "departure", chosen->departure);
    page_number(page, "bound", chosen->bound);
    page_number(page, "by_count", chosen->by_count);
    page_open_flat(page, "runs", '[');
    for (uint32_t i = 0; i < chosen->run_count; i++) {
        page_open_flat(page, NULL, '{');
        page_whole(page, "in", chosen->runs[i].in);
        page_whole(page, "out", chosen->runs[i].out);
        page_close(page, '}');
    }
    page_close(page, ']');
    page_close(page, '}');
}

/* NULL where it is not looked at. */
static const SeenFade *look_at_fade(PlanPage *sheet, const FadeAt *at)
{
    uint32_t kind = fade_kind(&sheet->kinds, at);
    if (kind == NO_KIND)
        return NULL;
    if (kind == sheet->looks.count) {
        SeenFade *seen = LIST_ADD(sheet->page.out->arena, &sheet->looks);
        for (int vision = 0; vision < VISION_COUNT; vision++)
            seen->of[vision] = fade_look(at, (Vision)vision);
    }
    return &sheet->looks.items[kind];
}

static void put_seen(PlanPage *sheet, const PlannedPlace *place, uint32_t layer, uint32_t item)
{
    static const char *const eyes[] = {"all", "protanopia", "deuteranopia", "tritanopia"};
    _Static_assert(sizeof eyes / sizeof *eyes == VISION_COUNT, "every eye has its word");
    JsonPage *page = &sheet->page;
    if (!fade_is_seen(&place->layers[layer].items[item]))
        return;
    const SeenFade *seen =
        look_at_fade(sheet, &(FadeAt){&sheet->plan->job->bench, sheet->rod, place, layer, item});
    if (!seen)
        return;
    page_open(page, "seen", '[');
    for (int vision = 0; vision < VISION_COUNT; vision++) {
        const FadeLook *look = &seen->of[vision];
        page_open_flat(page, NULL, '{');
        page_text(page, "eyes", eyes[vision]);
        page_number(page, "difference", look->difference);
        page_number(page, "departure", look->departure);
        page_whole(page, "departure_turn", look->departure_turn);
        page_number(page, "jump", look->jump);
        page_whole(page, "jump_turn", look->jump_turn);
        page_number(page, "stripes", look->stripes);
        page_close(page, '}');
    }
    page_close(page, ']');
}

static void put_items(PlanPage *sheet, const PlannedPlace *place, uint32_t index)
{
    const PlannedLayer *layer = &place->layers[index];
    static const char *const kinds[] = {

#define X(name, word) [ITEM_##name] = #word,
        ITEM_TABLE(X)
#undef X
    };
    Rounding digits = rounding_of_programs();
    JsonPage *page = &sheet->page;
    page_open(page, "items", '[');
    for (uint32_t i = 0; i < layer->item_count; i++) {
        const PlannedItem *item = &layer->items[i];
        double obtained = shown_items_width(place, layer, i, 1, digits);
        page_open_flat(page, NULL, '{');
        page_text(page, "kind", kinds[item->item->kind]);
        page_truth(page, "mirrored", item->item->reversed);
        page_whole(page, "first_run", item->first_run);
        page_whole(page, "run_count", item->run_count);
        page_whole(page, "turns", item->turns);
        page_number(page, "asked_mm", item->asked);
        page_number(page, "obtained_mm", obtained);
        page_number(page, "obtained_uncertainty_mm", item->sure);
        page_number(page, "error_mm", obtained - rounded(item->asked, digits));
        page_place(page, "at", sheet->lines, item->item->span);
        put_chosen(sheet, item);
        put_seen(sheet, place, index, i);
        page_close(page, '}');
    }
    page_close(page, ']');
}

static void put_shared_lengths(PlanPage *sheet, const PlannedPlace *place, const PlannedLayer *layer)
{
    Rounding digits = rounding_of_programs();
    JsonPage *page = &sheet->page;
    page_open(page, "shared_lengths", '[');
    for (uint32_t i = 0; i < layer->spread_count; i++) {
        const PlannedSpread *spread = &layer->spreads[i];
        page_open_flat(page, NULL, '{');
        page_whole(page, "first_item", spread->first_item);
        page_whole(page, "item_count", spread->item_count);
        page_number(page, "asked_mm", spread->asked);
        double obtained = shown_items_width(place, layer, spread->first_item, spread->item_count, digits);
        page_number(page, "obtained_mm", obtained);
        page_number(page, "error_mm", obtained - rounded(spread->asked, digits));
        page_place(page, "at", sheet->lines, spread->span);
        page_close(page, '}');
    }
    page_close(page, ']');
}

static void put_run_strands(JsonPage *page, const Run *run)
{
    page_open(page, "strands", '[');
    for (uint32_t i = 0; run->strands && i < run->strands->count; i++) {
        page_open(page, NULL, '{');
        page_text(page, "thread", run->strands->items[i].thread->name->bytes);
        page_truth(page, "spacer", run->strands->items[i].spacer);
        page_number(page, "wound_mm", run->lengths[i]);
        page_number(page, "wound_uncertainty_mm", sum_of_sure(length_sure(run, i)));
        page_close(page, '}');
    }
    page_close(page, ']');
}

static void put_runs(PlanPage *sheet, const PlannedPlace *place, const PlannedLayer *layer)
{
    Rounding digits = rounding_of_programs();
    JsonPage *page = &sheet->page;
    uint64_t count = 0;
    page_open(page, "runs", '[');
    for (uint32_t i = 0; i < layer->run_count; i++) {
        const Run *run = &layer->runs[i];
        count += run->turns;
        page_open_flat(page, NULL, '{');
        page_whole(page, "item", run->item);
        page_text(page, "role", role_word(run->role));
        page_whole(page, "turns", run->turns);
        page_whole(page, "turns_done", count);
        page_number(page, "start_mm", shown_position(place, run->start, digits));
        page_number(page, "end_mm", shown_position(place, run->end, digits));
        page_number(page, "from_mm", shown_from_datum(place, run->start, digits));
        page_number(page, "to_mm", shown_from_datum(place, run->end, digits));
        page_number(page, "to_uncertainty_mm", run->sure);
        page_number(page, "end_uncertainty_mm", hypot(run->sure, mark_sure(&sheet->plan->job->bench)));
        page_number(page, "start_diameter_mm", run->start_diameter);
        page_number(page, "end_diameter_mm", run->end_diameter);
        put_run_strands(page, run);
        page_place(page, "at", sheet->lines, run->span);
        page_close(page, '}');
    }
    page_close(page, ']');
}

static void put_layer(PlanPage *sheet, const PlannedPlace *place, uint32_t index)
{
    const PlannedLayer *layer = &place->layers[index];
    Rounding digits = rounding_of_programs();
    JsonPage *page = &sheet->page;
    page_open(page, NULL, '{');
    page_text(page, "kind", layer_word(layer->layer));
    page_truth(page, "laid", layer->laid);
    page_number(page, "start_mm", shown_position(place, layer->start, digits));
    page_number(page, "end_mm", shown_position(place, layer->end, digits));
    page_number(page, "length_mm", layer->length);
    page_number(page, "width_mm", shown_layer_width(place, layer, digits));
    page_number(page, "width_uncertainty_mm", layer->run_count ? layer->runs[layer->run_count - 1].sure : 0);
    page_number(page, "unfilled_mm", shown_unfilled(place, layer, digits));
    page_whole(page, "turns", layer->turns);
    page_place(page, "at", sheet->lines, layer->layer->span);
    put_items(sheet, place, index);
    put_shared_lengths(sheet, place, layer);
    put_runs(sheet, place, layer);
    if (layer->crosswrap)
        page_crosswrap(page, sheet->lines, place, layer->crosswrap);
    page_close(page, '}');
}

static void put_place(PlanPage *sheet, const PlannedRod *rod, const PlannedPlace *place)
{
    JsonPage *page = &sheet->page;
    const Guide *guide = place->place->guide;
    page_open(page, NULL, '{');
    page_text(page, "label", place_label(page->out->arena, sheet->plan->job, rod->rod, place));
    page_text(page, "guide", guide ? guide->name->bytes : NULL);
    page_number(page, "foot", guide ? (double)place->foot : (double)NAN);
    page_text(page, "toward", toward_word(place->direction));
    page_number(page, "mark_mm", place->place->mark);
    page_number(page, "angle_deg", clock_degrees(place->place->angle));
    page_number(page, "start_mm", place->start);
    page_number(page, "start_uncertainty_mm", mark_sure(&sheet->plan->job->bench));
    page_number(page, "length_mm", place->length);
    if (rod->rod->section_count > 1)
        page_whole(page, "section", place->section);
    page_number(page, "foot_tip_mm", place->foot_tip);
    page_number(page, "ramp_end_mm", place->ramp_end);
    page_number(page, "foot_end_mm", place->foot_end);
    page_place(page, "at", sheet->lines, place->place->span);
    page_open(page, "layers", '[');
    for (uint32_t i = 0; i < place->layer_count; i++)
        put_layer(sheet, place, i);
    page_close(page, ']');
    page_close(page, '}');
}

/* Of a crosswrap. */
static void put_passes(JsonPage *page, const Piece *piece)
{
    if (!piece->pass_count)
        return;
    page_open(page, "passes", '{');
    page_whole(page, "first", piece->first_pass);
    page_whole(page, "count", piece->pass_count);
    page_close(page, '}');
}

static void put_piece(PlanPage *sheet, const Piece *piece)
{
    Rounding digits = rounding_of_programs();
    JsonPage *page = &sheet->page;
    page_open_flat(page, NULL, '{');
    page_text(page, "thread", piece->thread->name->bytes);
    page_truth(page, "spacer", piece->spacer);
    page_truth(page, "by_hand", piece->by_hand);
    if (piece->bobbin)
        page_truth(page, "bobbin", true);
    page_whole(page, "place", piece->place);
    page_whole(page, "layer", piece->layer);
    page_whole(page, "first_run", piece->first_run);
    page_whole(page, "last_run", piece->last_run);
    page_whole(page, "first_turn", piece->first_turn);
    page_whole(page, "end_turn", piece->end_turn);
    page_whole(page, "turns", piece->turns);
    if (piece->cut_turn != NO_TURN) {
        page_whole(page, "cut_turn", piece->cut_turn);
        page_number(page, "cut_off_mm", piece->cut_off);
    }
    put_passes(page, piece);
    page_number(page, "wound_mm", piece->wound);
    if (!piece->pass_count)
        page_number(page, "wound_uncertainty_mm", piece_sure(piece));
    page_number(page, "tags_mm", piece->tags);
    page_number(page, "beneath_mm", piece->beneath);
    page_number(page, "free_mm", piece->free);
    page_number(page, "cut_mm", shown_piece_length(piece, digits));
    page_place(page, "at", sheet->lines, piece->span);
    page_close(page, '}');
}

/* Where the rod is of one piece, its blank says all. */
static void put_sections(JsonPage *page, const Rod *rod)
{
    if (rod->section_count < 2)
        return;
    page_open(page, "sections", '[');
    for (uint32_t i = 0; i < rod->section_count; i++) {
        const Section *section = &rod->sections[i];
        page_open_flat(page, NULL, '{');
        page_text(page, "name", section->name);
        page_number(page, "start_mm", section->start);
        page_number(page, "end_mm", section->end);
        page_number(page, "butt_mm", section->butt);
        page_number(page, "tip_mm", section->tip);
        page_close(page, '}');
    }
    page_close(page, ']');
}

static void put_part(PlanPage *sheet, const Part *part)
{
    static const char *const sheens[] = {
#define X(name, word) [SHEEN_##name] = word,
        SHEEN_TABLE(X)
#undef X
    };
    JsonPage *page = &sheet->page;
    page_open_flat(page, NULL, '{');
    page_text(page, "name", part->name->bytes);
    page_number(page, "start_mm", part->start);
    page_number(page, "end_mm", part->end);
    if (part->diameter_count) {
        page_open(page, "diameters_mm", '[');
        for (uint32_t i = 0; i < part->diameter_count; i++)
            page_number(page, NULL, part->diameters[i]);
        page_close(page, ']');
    }
    if (part->coloured)
        put_colour(page, "colour", part->colour);
    page_text(page, "sheen", sheens[part->sheen]);
    page_truth(page, "slides", part->slides);
    page_truth(page, "wrapped", part->wrapped);
    if (part->note)
        page_text(page, "note", part->note->bytes);
    page_place(page, "at", sheet->lines, part->span);
    page_close(page, '}');
}

/* Left out of a rod without any. */
static void put_parts(PlanPage *sheet, const Rod *rod)
{
    if (!rod->part_count)
        return;
    page_open(&sheet->page, "parts", '[');
    for (uint32_t i = 0; i < rod->part_count; i++)
        put_part(sheet, &rod->parts[i]);
    page_close(&sheet->page, ']');
}

static void put_rod(PlanPage *sheet, const PlannedRod *rod)
{
    JsonPage *page = &sheet->page;
    sheet->rod = rod->rod;
    page_open(page, NULL, '{');
    page_text(page, "title", rod->rod->title->bytes);
    page_text(page, "blank", blanks_named(page->out->arena, rod->rod));
    put_sections(page, rod->rod);
    page_place(page, "at", sheet->lines, rod->rod->span);
    put_parts(sheet, rod->rod);
    page_open(page, "places", '[');
    for (uint32_t i = 0; i < rod->place_count; i++)
        put_place(sheet, rod, &rod->places[i]);
    page_close(page, ']');
    page_open(page, "pieces", '[');
    for (uint32_t i = 0; i < rod->piece_count; i++)
        put_piece(sheet, &rod->pieces[i]);
    page_close(page, ']');
    page_close(page, '}');
}

static void put_eye(JsonPage *page, const Bench *bench)
{
    page_open_flat(page, "eye", '{');
    page_number(page, "sight_minutes", bench->sight);
    page_number(page, "near_mm", bench->near);
    page_number(page, "far_mm", bench->far);
    page_number(page, "jump", bench->jump);
    page_number(page, "alike", bench->alike);
    page_close(page, '}');
}

void emit_plan_json(Buffer *out, const BenchPlan *bench, const Findings *findings)
{
    const Plan *plan = bench->plan;
    PlanPage sheet = {.lines = plan->job->lines, .plan = plan, .kinds.known.arena = out->arena};
    JsonPage *page = &sheet.page;
    page_start(page, out);
    page_open(page, NULL, '{');
    page_head(page, "turnlay plan", plan->job);
    page_text(page, "bench_units", quantity_unit(plan->job->bench.units, QUANTITY_WIDTH));
    put_eye(page, &plan->job->bench);
    put_sources(page, plan->job->sources);
    put_threads(&sheet);
    page_open(page, "rods", '[');
    for (uint32_t i = 0; i < plan->rod_count; i++)
        put_rod(&sheet, &plan->rods[i]);
    page_close(page, ']');
    page_whole(page, "turns", plan->turns);
    page_number(page, "finish_ml", plan->finish_volume / 1000); /* 1 ml = 1000 mm3 */
    page_number(page, "minutes", bench->minutes);
    page_findings(page, findings, SHOW_ALL, sheet.lines);
    page_close(page, '}');
    page_end(page);
}
