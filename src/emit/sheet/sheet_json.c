/* The bench sheet as data: each action with its pieces, counts and marks and with what is held after it, beside
 * every word that the sheet says. What other pages set is taken from the same sheet (words/sheet.h). */
#include "emit/emit.h"
#include "emit/sheet/sheet_json.h"
#include "plan/plan_sums.h"
#include "words/marking_strip.h"
#include "words/thread_marks.h"

#include <stdio.h>

static void put_bench(JsonPage *page, const Bench *bench)
{
    static const char *const holds[] = {[HOLD_TAPE] = "tape", [HOLD_PINS] = "pins", [HOLD_NONE] = "none"};
    page_open(page, "bench", '{');
    page_text(page, "units", quantity_unit(bench->units, QUANTITY_WIDTH));
    page_text(page, "left", bench->butt_left ? "butt" : "tip");
    page_text(page, "rotation", bench->toward_you ? "toward" : "away");
    page_text(page, "drive", bench->drive == DRIVE_PEDAL ? "pedal" : "hand");
    page_truth(page, "brake", bench->brake);
    page_truth(page, "guides_taped", bench->tape);
    page_number(page, "bind_turns", bench->bind);
    page_number(page, "loop_turns", bench->loop);
    page_number(page, "final_turns", bench->final);
    page_number(page, "pack_turns", bench->pack);
    page_number(page, "measure_turns", bench->measure);
    page_whole(page, "holders", bench->holders);
    page_whole(page, "bobbins", bench->bobbins);
    page_number(page, "rule_mm", bench->rule.step);
    page_number(page, "callipers_mm", bench->callipers.step);
    page_number(page, "hand_mm", bench->hand);
    page_number(page, "free_mm", bench->free);
    page_text(page, "ends", holds[bench->ends]);
    page_whole(page, "coats", bench->coats);
    page_close(page, '}');
}

static void put_threads(SheetData *data, const ThreadMarks *marks)
{
    JsonPage *page = &data->page;
    page_open(page, "threads", '[');
    for (uint32_t i = 0; i < data->sheet->thread_count; i++) {
        const SheetThread *row = &data->sheet->threads[i];
        const ThreadMark *mark = &marks->marks[row->thread->index];
        char colour[8];
        snprintf(colour, sizeof colour, "#%06x", (unsigned)row->thread->colour & 0xffffff);
        page_open_flat(page, NULL, '{');
        page_text(page, "name", row->name);
        page_text(page, "thread", row->thread->name->bytes);
        page_text(page, "colour", colour);
        page_text(page, "letters", mark->letters);
        page_text(page, "pattern", pattern_words(mark->pattern));
        page_text(page, "note", row->note);
        page_text(page, "to_write", row->to_write);
        page_close(page, '}');
    }
    page_close(page, ']');
}

/* Pairs that some eyes would take for the same. */
static void put_mistakable(SheetData *data, const ThreadMarks *marks)
{
    JsonPage *page = &data->page;
    const char *const *names = data->sheet->thread_names;
    page_open(page, "alike", '[');
    for (uint32_t i = 0; i < marks->mistakable.count; i++) {
        page_open_flat(page, NULL, '[');
        page_text(page, NULL, names[marks->mistakable.pairs[i].first]);
        page_text(page, NULL, names[marks->mistakable.pairs[i].second]);
        page_close(page, ']');
    }
    page_close(page, ']');
}

static void put_texts(JsonPage *page, const char *name, const char *const *texts, uint32_t count)
{
    page_open(page, name, '[');
    for (uint32_t i = 0; i < count; i++)
        page_text(page, NULL, texts[i]);
    page_close(page, ']');
}

static void put_head(SheetData *data)
{
    JsonPage *page = &data->page;
    const Sheet *sheet = data->sheet;
    const Plan *plan = sheet->bench->plan;
    ThreadMarks marks = thread_marks_make(page->out->arena, plan);
    page_text(page, "title", sheet->title);
    page_text(page, "lengths", system_words(plan->job->bench.units));
    page_text(page, "orientation", sheet->orientation);
    put_texts(page, "cautions", sheet->cautions, sheet->caution_count);
    put_bench(page, &plan->job->bench);
    put_threads(data, &marks);
    put_mistakable(data, &marks);
    put_happened(page, plan->job);
    put_left_out(page, plan);
    put_mishaps(page, sheet);
    if (sheet->width_count)
        put_texts(page, "widths", sheet->widths, sheet->width_count);
}

static void put_notes(SheetData *data, const SheetSection *section)
{
    JsonPage *page = &data->page;
    page_open(page, "notes", '[');
    for (uint32_t i = 0; i < section->note_count; i++) {
        const SheetNote *note = &data->rod->notes[section->first_note + i];
        page_open_flat(page, NULL, '{');
        page_text(page, "name", note->name);
        page_text(page, "words", note->words);
        page_close(page, '}');
    }
    page_close(page, ']');
}

static void put_cuts(SheetData *data, const SheetSection *section)
{
    JsonPage *page = &data->page;
    page_open(page, "cuts", '[');
    for (uint32_t i = 0; i < section->cut_count; i++) {
        const SheetCut *cut = &data->rod->cuts[section->first_cut + i];
        page_open_flat(page, NULL, '{');
        page_text(page, "label", cut->label);
        page_text(page, "what", cut->what);
        page_text(page, "length", cut->length);
        page_whole(page, "for_step", cut->first_step);
        page_whole(page, "for_action", cut->first_action);
        page_close(page, '}');
    }
    page_close(page, ']');
}

/* The same as pages have it: place by place, equal ones on one line. */
static void put_cut_list(SheetData *data, const SheetSection *section)
{
    JsonPage *page = &data->page;
    CutPlaces places = sheet_cut_places(page->out->arena, data->rod, section, 1);
    page_open(page, "cut_list", '[');
    for (uint32_t p = 0; p < places.count; p++) {
        page_open(page, NULL, '{');
        put_words(page, "heading", places.items[p].heading);
        page_open(page, "lines", '[');
        for (uint32_t i = 0; i < places.items[p].line_count; i++) {
            const CutLine *line = &places.items[p].lines[i];
            page_open_flat(page, NULL, '{');
            page_text(page, "labels", line->labels);
            page_text(page, "what", line->what);
            page_text(page, "length", line->length);
            page_whole(page, "count", line->count);
            page_whole(page, "for_step", line->first_step);
            page_close(page, '}');
        }
        page_close(page, ']');
        page_close(page, '}');
    }
    page_close(page, ']');
}

static void put_mark(JsonPage *page, const MarkingStrip *strip, const StripMark *mark)
{
    static const char *const kinds[MARK_KINDS] = {[MARK_DATUM] = "mark",
                                                  [MARK_EDGE] = "edge",
                                                  [MARK_FOOT] = "foot",
                                                  [MARK_PART] = "part",
                                                  [MARK_POINT] = "width"};
    double position = strip->origin + strip->side * mark->at;
    page_open_flat(page, NULL, '{');
    page_text(page, "kind", kinds[mark->kind]);
    page_number(page, "position_mm", position);
    page_number(page, "from_mark_mm", from_datum(strip->place, position));
    page_truth(page, "measure", mark->measure);
    page_text(page, "words", mark->words);
    page_close(page, '}');
}

/* What is marked on the blank for this part; nothing for one that is about no layer with turns. */
static void put_marks(SheetData *data, uint32_t part)
{
    JsonPage *page = &data->page;
    const SheetPart *told = &data->rod->parts[part];
    const PlannedRod *rod = data->rod->bench->rod;
    page_open(page, "marks", '[');
    if (told->layer != WHOLE_ROD && rod->places[told->place].layers[told->layer].run_count) {
        MarkingStrip strip =
            marking_strip(page->out->arena, data->rod, part, &data->sheet->bench->plan->job->bench);
        for (uint32_t i = 0; i < strip.marks.count; i++)
            put_mark(page, &strip, &strip.marks.items[i]);
    }
    page_close(page, ']');
}

/* The equal wrap before it that says its steps at length. */
static void put_equal(SheetData *data, const SheetPart *part)
{
    JsonPage *page = &data->page;
    if (!part->as)
        return;
    page_open_flat(page, "as", '{');
    page_whole(page, "place", part->as->place);
    page_whole(page, "layer", part->as->layer);
    page_text(page, "words", part->as_words);
    page_close(page, '}');
}

static void put_part(SheetData *data, uint32_t index)
{
    JsonPage *page = &data->page;
    const SheetPart *part = &data->rod->parts[index];
    page_open(page, NULL, '{');
    page_text(page, "heading", part->heading);
    put_words(page, "changed", part->changed);
    if (part->place != WHOLE_ROD)
        page_whole(page, "place", part->place);
    if (part->layer != WHOLE_ROD)
        page_whole(page, "layer", part->layer);
    if (part->layer != WHOLE_ROD)
        data->so_far = (TurnsSoFar){.layer = &data->rod->bench->rod->places[part->place].layers[part->layer]};
    put_equal(data, part);
    put_marks(data, index);
    page_open(page, "steps", '[');
    for (uint32_t i = 0; i < part->step_count; i++)
        put_step(data, &data->rod->steps[part->first_step + i], part->as ? &part->rows[i] : NULL);
    page_close(page, ']');
    page_close(page, '}');
}

static void put_section(SheetData *data, const SheetSection *section)
{
    JsonPage *page = &data->page;
    page_open(page, NULL, '{');
    page_text(page, "title", section->title);
    page_text(page, "heading", section->heading);
    page_text(page, "note", section->note);
    put_notes(data, section);
    put_cuts(data, section);
    put_cut_list(data, section);
    page_open(page, "parts", '[');
    for (uint32_t i = 0; i < section->part_count; i++)
        put_part(data, section->first_part + i);
    page_close(page, ']');
    page_close(page, '}');
}

static void put_rod(SheetData *data)
{
    JsonPage *page = &data->page;
    page_open(page, NULL, '{');
    page_text(page, "title", data->rod->bench->rod->rod->title->bytes);
    put_rod_plan(data);
    page_open(page, "sections", '[');
    for (uint32_t i = 0; i < data->rod->section_count; i++)
        put_section(data, &data->rod->sections[i]);
    page_close(page, ']');
    put_cards(data);
    page_close(page, '}');
}

void emit_sheet_json(Buffer *out, const Sheet *sheet)
{
    SheetData data = {.sheet = sheet};
    JsonPage *page = &data.page;
    page_start(page, out);
    thread_widths_start(&data.widths, out->arena, sheet->bench->plan->job);
    page_open(page, NULL, '{');
    page_head(page, "turnlay sheet", sheet->bench->plan->job);
    put_head(&data);
    page_open(page, "rods", '[');
    for (uint32_t i = 0; i < sheet->rod_count; i++) {
        data.rod = &sheet->rods[i];
        data.nights = night_of_steps(out->arena, data.rod->bench);
        data.aside = data.aside ? data.aside : arena_child(out->arena);
        put_rod(&data);
    }
    page_close(page, ']');
    page_text(page, "end", ALL_DONE);
    page_number(page, "minutes", sheet->bench->minutes);
    page_close(page, '}');
    page_end(page);
}
