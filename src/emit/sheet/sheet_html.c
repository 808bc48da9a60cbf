/* The bench sheet as one page of HTML that works from a disk: the whole sheet for paper and for viewers without
 * scripts; the scripts of this folder show one card of it at a time. No text of the builder's comes near the
 * script: it reads the page. The content security policy lets only this style and this script work, by their
 * hashes. */
#include "emit/emit.h"
#include "emit/html_page.h"
#include "words/sheet.h"
#include "emit/sheet/sheet_assets.h"
#include "emit/sheet/sheet_html_cards.h"
#include "emit/sheet/sheet_html_job.h"
#include "emit/sheet/sheet_html_round.h"
#include "words/thread_marks.h"
#include "trade/colour.h"

#include <math.h>
#include <stdio.h>

/* Pictures are drawn three times true size, so that single turns show, but no wider than so many page mm. */
#define PICTURE_SCALE 3.0
#define PICTURE_WIDEST 360.0
enum { PREFIX_SIZE = 16, RULER_MM = 100 };

/* Ids of one rod's runs in its picture; after a crosswrap's runs, those of its `strand` lines. */
typedef struct RunIds {
    uint64_t **layers;     /* one a layer of the rod, in order; by run, then line */
    uint32_t *first_layer; /* one a place */
} RunIds;

typedef struct SheetPage {
    Buffer *out;
    const Sheet *sheet;
    const Plan *plan;
    ThreadMarks marks;
    Buffer *swatches;    /* by Thread.index, empty until first shown */
    const SheetRod *rod; /* these two: what is being written */
    const SheetSection *section;
    uint32_t number; /* of the section, from 1 through all rods */
    RunIds runs;
    char prefix[PREFIX_SIZE]; /* of ids in its picture */
    TurnsSoFar so_far;        /* of the layer: up to where it was measured last, or its beginning */
    ThreadWidths widths;      /* empty, but while these turns are written */
    const StepNight *nights;  /* of the rod's steps */
    Arena *aside;             /* empty, but while one step's words are written */
    uint32_t *layers_before;  /* one a place of the rod: layers of all rods and places before it */
    uint32_t layers;          /* of the rods so far */
    uint32_t round_points;    /* of what is turned, so far */
    uint32_t from;            /* number of the step that it opens at; 0, 1: at its beginning */
} SheetPage;

static void put_lines(Buffer *out, const char *const *lines)
{
    while (*lines)
        buffer_text(out, *lines++);
}

static void put_head(SheetPage *page)
{
    Buffer *out = page->out;
    buffer_text(out, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
                     "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; base-uri 'none'; "
                     "form-action 'none'; ");
    buffer_format(out, "style-src '%s'; script-src '%s'\">\n", sheet_css_hash, sheet_js_hash);
    buffer_text(out, "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>");
    html_text(out, page->sheet->title);
    buffer_text(out, ": bench sheet</title>\n<style>");
    put_lines(out, sheet_css);
    buffer_text(out, "</style>\n</head>\n");
    buffer_format(out, "<body data-key=\"%016llx\"", (unsigned long long)sheet_key(page->sheet));
    html_job(out, page->sheet);
    if (page->from > 1)
        buffer_format(out, " data-from=\"%u\"", (unsigned)page->from);
    buffer_text(out, ">\n");
}

static void put_masthead(SheetPage *page)
{
    Buffer *out = page->out;
    const Sheet *sheet = page->sheet;
    buffer_text(out, "<header class=\"masthead\">\n<h1 dir=\"auto\">");
    html_text(out, sheet->title);
    buffer_text(out, "</h1>\n<p class=\"origin\">Bench sheet");
    if (sheet->author && *sheet->author) {
        buffer_text(out, " by <bdi>");
        html_text(out, sheet->author);
        buffer_text(out, "</bdi>");
    }
    buffer_text(out, ", file id ");
    html_text(out, sheet->pattern_mark);
    buffer_text(out, "</p>\n</header>\n");
}

/* Colour, pattern and letters of a thread; to be read by eyes only, since its name stands beside it. */
static void draw_swatch(SheetPage *page, Buffer *out, const Thread *thread)
{
    const ThreadMark *mark = &page->marks.marks[thread->index];
    const char *strokes = pattern_strokes(mark->pattern);
    Xyz seen = xyz_of(light_of(thread->colour));
    buffer_format(out,
                  "<svg class=\"swatch\" viewBox=\"0 0 36 24\" aria-hidden=\"true\">"
                  "<rect x=\".5\" y=\".5\" width=\"35\" height=\"23\" rx=\"4\" fill=\"#%06x\"/>",
                  (unsigned)thread->colour & 0xffffff);
    if (*strokes) /* the pattern twice, side by side; black or white, whichever stands out more */
        for (int x = 0; x < 36; x += 24)
            buffer_format(out,
                          "<svg x=\"%d\" width=\"%d\" height=\"24\"><path fill=\"none\" stroke=\"%s\" "
                          "stroke-width=\"2.4\" stroke-linecap=\"round\" d=\"%s\"/></svg>",
                          x, x ? 12 : 24, seen.y > 0.18 ? "#000" : "#fff", strokes);
    buffer_text(out, "<rect class=\"edge\" x=\".5\" y=\".5\" width=\"35\" height=\"23\" rx=\"4\"/>"
                     "<rect x=\"7\" y=\"5\" width=\"22\" height=\"14\" rx=\"7\" fill=\"#fff\"/>"
                     "<text class=\"letters\" x=\"18\" y=\"15.6\">");
    html_text(out, mark->letters);
    buffer_text(out, "</text></svg>");
}

/* Drawn once; steps show it again and again. */
static void put_swatch(SheetPage *page, const Thread *thread)
{
    Buffer *swatch = &page->swatches[thread->index];
    if (!swatch->length) {
        buffer_start(swatch, page->out->arena);
        draw_swatch(page, swatch, thread);
    }
    buffer_put(page->out, swatch->bytes, swatch->length);
}

static void put_pattern_words(SheetPage *page, const Thread *thread)
{
    unsigned pattern = page->marks.marks[thread->index].pattern;
    if (pattern)
        buffer_format(page->out, " <span class=\"pattern\">(%s)</span>", pattern_words(pattern));
}

static void put_threads(SheetPage *page)
{
    Buffer *out = page->out;
    buffer_text(out, "<ul class=\"threads\" role=\"list\">\n");
    for (uint32_t i = 0; i < page->sheet->thread_count; i++) {
        const SheetThread *row = &page->sheet->threads[i];
        buffer_text(out, "<li>");
        put_swatch(page, row->thread);
        buffer_text(out, "<p class=\"name\"><bdi>");
        html_text(out, row->name);
        buffer_text(out, "</bdi>");
        put_pattern_words(page, row->thread);
        buffer_text(out, "</p>\n");
        html_element(out, "p", "note", row->note);
        if (*row->to_write)
            buffer_format(out, "<p class=\"write\">%c%s:</p>", row->to_write[0] - 'a' + 'A', row->to_write + 1);
        buffer_text(out, "</li>\n");
    }
    buffer_text(out, "</ul>\n");
}

static void put_marked_name(SheetPage *page, uint32_t index)
{
    buffer_text(page->out, "<bdi>");
    html_text(page->out, page->sheet->thread_names[index]);
    buffer_text(page->out, "</bdi>");
    put_pattern_words(page, page->plan->job->threads[index]);
}

static void put_mistakable(SheetPage *page)
{
    Buffer *out = page->out;
    if (!page->marks.mistakable.count)
        return;
    buffer_text(out, "<p class=\"alike\">Side by side, and alike to some eyes: ");
    for (uint32_t i = 0; i < page->marks.mistakable.count; i++) {
        buffer_text(out, i ? "; " : "");
        put_marked_name(page, page->marks.mistakable.pairs[i].first);
        buffer_text(out, " and ");
        put_marked_name(page, page->marks.mistakable.pairs[i].second);
    }
    buffer_text(out, ". Go by names, letters and lines on the swatches, not by colour alone.</p>\n");
}

static void put_happened(SheetPage *page)
{
    Buffer *out = page->out;
    if (!page->sheet->mishap_count && !page->sheet->width_count)
        return;
    buffer_text(out, "<section class=\"card start\" id=\"happened\" aria-labelledby=\"happened-heading\">\n"
                     "<h2 id=\"happened-heading\">" HAPPENED_HEADING "</h2>\n");
    for (uint32_t i = 0; i < page->sheet->mishap_count; i++) {
        html_element(out, "p", "orientation", page->sheet->mishaps[i].was);
        html_element(out, "p", "orientation", page->sheet->mishaps[i].now);
        html_element(out, "p", "orientation", page->sheet->mishaps[i].other);
    }
    for (uint32_t i = 0; i < page->sheet->width_count; i++)
        html_element(out, "p", "orientation", page->sheet->widths[i]);
    buffer_text(out, "</section>\n");
}

static void put_start(SheetPage *page)
{
    Buffer *out = page->out;
    buffer_text(out, "<section class=\"card start\" id=\"start\" aria-labelledby=\"start-heading\">\n"
                     "<h2 id=\"start-heading\">Before you start</h2>\n");
    html_element(out, "p", "orientation", page->sheet->orientation);
    buffer_text(out, "<ul class=\"cautions\" role=\"list\">\n");
    for (uint32_t i = 0; i < page->sheet->caution_count; i++)
        html_element(out, "li", "caution", page->sheet->cautions[i]);
    buffer_text(out, "</ul>\n");
    put_threads(page);
    put_mistakable(page);
    buffer_text(out, "</section>\n");
}

/* A ruler to tell by whether a printer keeps to scale. */
static void put_ruler(Buffer *out)
{
    buffer_text(out,
                "<div class=\"ruler\" aria-hidden=\"true\"><svg viewBox=\"-.5 -.5 101 9\"><path d=\"M0 0h100");
    for (int mm = 0; mm <= RULER_MM; mm++)
        buffer_format(out, "M%d 0v%d", mm, mm % 10 == 0 ? 5 : mm % 5 == 0 ? 3 : 2);
    buffer_text(out, "\"/>");
    for (int mm = 10; mm < RULER_MM; mm += 10)
        buffer_format(out, "<text x=\"%d\" y=\"8\">%d</text>", mm, mm);
    buffer_text(out,
                "</svg><p>100 mm if this was printed at 100 %: lay a ruler on it before you measure with it.</p>"
                "</div>\n");
}

static void put_cut_place(Buffer *out, const char *heading)
{
    if (!*heading)
        return;
    buffer_text(out, "<tr><th colspan=\"4\" scope=\"rowgroup\" class=\"cut-place\" dir=\"auto\">");
    html_unbroken(out, heading);
    buffer_text(out, "</th></tr>\n");
}

static void put_cut(Buffer *out, const CutLine *line)
{
    buffer_text(out, "<tr><td class=\"cut-label\"><span class=\"box\"></span> <bdi>");
    html_text(out, line->labels);
    buffer_text(out, "</bdi></td><td>");
    html_text(out, line->what);
    buffer_text(out, "</td><td>");
    if (line->count > 1)
        buffer_format(out, "%u x ", (unsigned)line->count);
    html_unbroken(out, line->length);
    buffer_format(out, "</td><td>%u</td></tr>\n", (unsigned)line->first_step);
}

static void put_cuts(SheetPage *page)
{
    Buffer *out = page->out;
    buffer_format(out,
                  "<section class=\"card cuts\" id=\"r%u-cuts\" aria-labelledby=\"r%u-cuts-heading\">\n"
                  "<h3 id=\"r%u-cuts-heading\">Cut and mount first</h3>\n",
                  page->number, page->number, page->number);
    html_element(out, "p", "orientation", page->section->note);
    buffer_text(out, "<table>\n<thead><tr><th scope=\"col\">Piece</th><th scope=\"col\">What</th>"
                     "<th scope=\"col\">Length</th><th scope=\"col\">For step</th></tr></thead>\n<tbody>\n");
    CutPlaces places = sheet_cut_places(out->arena, page->rod, page->section, 1);
    for (uint32_t p = 0; p < places.count; p++) {
        put_cut_place(out, places.items[p].heading);
        for (uint32_t i = 0; i < places.items[p].line_count; i++)
            put_cut(out, &places.items[p].lines[i]);
    }
    buffer_text(out, "</tbody>\n</table>\n</section>\n");
}

static void put_notes(SheetPage *page)
{
    Buffer *out = page->out;
    const SheetSection *section = page->section;
    if (!section->note_count)
        return;
    buffer_format(out,
                  "<section class=\"card notes\" id=\"r%u-notes\" aria-labelledby=\"r%u-notes-heading\">\n"
                  "<h3 id=\"r%u-notes-heading\">Parts and notes, measured from the butt</h3>\n<dl>\n",
                  page->number, page->number, page->number);
    for (uint32_t i = 0; i < section->note_count; i++) {
        const SheetNote *note = &page->rod->notes[section->first_note + i];
        buffer_text(out, "<div><dt><bdi>");
        html_text(out, note->name);
        buffer_text(out, "</bdi></dt><dd dir=\"auto\">");
        html_unbroken(out, note->words);
        buffer_text(out, "</dd></div>\n");
    }
    buffer_text(out, "</dl>\n</section>\n");
}

static uint32_t groups_of(const PlannedLayer *layer)
{
    return layer->run_count + (layer->crosswrap ? layer->crosswrap->crosswrap->line_count : 0);
}

static uint32_t group_of(const PlannedRod *rod, const Shape *shape)
{
    uint32_t runs = rod->places[shape->place].layers[shape->layer].run_count;
    return shape->strand_line ? runs + shape->strand_line - 1 : shape->run;
}

static RunIds run_ids_make(Arena *arena, const PlannedRod *rod, const Drawing *drawing)
{
    uint32_t layers = 0;
    RunIds ids = {.first_layer = arena_take_many(arena, rod->place_count, sizeof *ids.first_layer)};
    for (uint32_t p = 0; p < rod->place_count; p++) {
        ids.first_layer[p] = layers;
        layers += rod->places[p].layer_count;
    }
    ids.layers = arena_take_many(arena, layers, sizeof *ids.layers);
    for (uint32_t p = 0; p < rod->place_count; p++)
        for (uint32_t l = 0; l < rod->places[p].layer_count; l++)
            ids.layers[ids.first_layer[p] + l] =
                arena_take_many(arena, groups_of(&rod->places[p].layers[l]), sizeof **ids.layers);
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        if (shape->kind == SHAPE_GROUP_START && shape->id)
            ids.layers[ids.first_layer[shape->place] + shape->layer][group_of(rod, shape)] = shape->id;
    }
    return ids;
}

static void put_picture(SheetPage *page)
{
    Arena *arena = page->out->arena;
    const PlannedRod *rod = page->rod->bench->rod;
    uint32_t index = (uint32_t)(rod - page->plan->rods);
    uint32_t section = page->section->section;
    double true_width = section_drawing_width(arena, page->plan, index, section, VIEW_SIDE, 1);
    double scale = fmax(1, fmin(PICTURE_SCALE, PICTURE_WIDEST / true_width));
    Drawing *drawing = draw_section(arena, page->plan, index, section, VIEW_SIDE, scale, NAN);
    page->runs = run_ids_make(arena, rod, drawing);
    buffer_text(page->out, "<figure class=\"picture\">\n");
    emit_svg_element(page->out, drawing, page->prefix);
    buffer_text(page->out, ROUND_BUTTON "</figure>\n");
    html_rounds(page->out, page->plan, index, section, scale, page->number, &page->round_points);
}

/* Which part of its run a step makes, as ratios from the left of the picture. */
static void put_share(SheetPage *page, const Action *step, const Run *run)
{
    double end = (step->position - run->start) / (run->end - run->start);
    double start = end - (double)step->turns / run->turns;
    bool leftward = run->end < run->start;
    buffer_text(page->out, " data-from=\"");
    buffer_number_short(page->out, fmin(fmax(leftward ? 1 - end : start, 0), 1), 4);
    buffer_text(page->out, "\" data-to=\"");
    buffer_number_short(page->out, fmin(fmax(leftward ? 1 - start : end, 0), 1), 4);
    buffer_text(page->out, "\"");
}

/* The same as in the picture. */
static void put_id(SheetPage *page, const char *before, uint64_t id)
{
    char digits[17];
    write_hex(digits, id);
    buffer_text(page->out, before);
    buffer_text(page->out, page->prefix);
    buffer_text(page->out, "t");
    digits[16] = '"';
    buffer_put(page->out, digits, sizeof digits);
}

static void put_group(SheetPage *page, uint32_t place, uint32_t layer, uint32_t group)
{
    uint64_t id = page->runs.layers[page->runs.first_layer[place] + layer][group];
    if (id)
        put_id(page, " data-run=\"", id);
}

/* A leg's crossings to count, and the strands of its line to light up. */
static void put_leg(SheetPage *page, const Action *step)
{
    const PlannedLayer *layer = &page->rod->bench->rod->places[step->place].layers[step->layer];
    if (step->leg.marks)
        buffer_format(page->out, " data-turns=\"%u\" data-unit=\"crossing\"", (unsigned)step->leg.marks);
    uint32_t line = layer->crosswrap->strands[pass_strand(layer->crosswrap, step->leg.pass)].line;
    put_group(page, step->place, step->layer, layer->run_count + line);
}

/* What the script goes by: turns to count, the run to light up, and the part of it to frame. */
static void put_winding(SheetPage *page, const Action *step)
{
    const PlannedRod *rod = page->rod->bench->rod;
    if (step->kind == ACTION_LEG)
        put_leg(page, step);
    if (step->kind != ACTION_WIND)
        return;
    buffer_text(page->out, " data-turns=\"");
    buffer_whole(page->out, step->turns);
    buffer_text(page->out, "\"");
    if (step->winding >= rod->winding_count)
        return;
    const Winding *winding = &rod->windings[step->winding];
    put_group(page, winding->place, winding->layer, winding->run);
    put_share(page, step, &rod->places[winding->place].layers[winding->layer].runs[winding->run]);
}

/* Swatches of every piece that the action is about; the thread, if it is one alone. */
static const Thread *put_swatches(SheetPage *page, const Action *action)
{
    const PlannedRod *rod = page->rod->bench->rod;
    for (uint32_t i = 0; i < action->piece_count; i++)
        put_swatch(page, rod->pieces[group_piece(action_pieces(action), i)].thread);
    return action->piece_count == 1 ? rod->pieces[action->piece].thread : NULL;
}

/* Swatches and names of what the step winds; without turns, of the first thread that it is about. */
static void put_step_threads(SheetPage *page, const SheetStep *step)
{
    Buffer *out = page->out;
    const Thread *only = NULL;
    const Action *first = NULL, *last = NULL;
    if (!*step->thread)
        return;
    buffer_text(out, "<p class=\"thread\">");
    for (uint32_t i = 0; i < step->count; i++) {
        const Action *action = page->rod->actions[step->first + i].action;
        first = first || action->piece == NO_PIECE ? first : action;
        if (!makes_turns(action) || (last && last->piece == action->piece))
            continue;
        only = put_swatches(page, action);
        only = last ? NULL : only;
        last = action;
    }
    if (!last && first)
        only = put_swatches(page, first);
    buffer_text(out, "<span><bdi>");
    html_text(out, step->thread);
    buffer_text(out, "</bdi>");
    if (only)
        put_pattern_words(page, only);
    buffer_text(out, "</span></p>\n");
}

/* How many of the step's actions are counted; the last of them. */
static uint32_t count_courses(const SheetPage *page, const SheetStep *step, const Action **last)
{
    uint32_t courses = 0;
    for (uint32_t i = 0; i < step->count; i++) {
        const Action *action = page->rod->actions[step->first + i].action;
        if (!makes_turns(action))
            continue;
        *last = action;
        courses++;
    }
    return courses;
}

/* What is counted one after the other is counted at each action. */
static void put_counting(SheetPage *page, const SheetStep *step)
{
    const Action *only = NULL;
    if (count_courses(page, step, &only) == 1)
        put_winding(page, only);
}

/* One by one, for whoever asks for them. */
static void put_actions(SheetPage *page, const SheetStep *step)
{
    Buffer *out = page->out;
    if (step->count == 1)
        return;
    buffer_text(out, "<ol class=\"actions\" role=\"list\" hidden>\n");
    for (uint32_t i = 0; i < step->count; i++) {
        const SheetAction *action = &page->rod->actions[step->first + i];
        buffer_text(out, "<li");
        put_winding(page, action->action);
        buffer_text(out, ">");
        html_element(out, "p", "does", action->says);
        html_element(out, "p", "detail", action->detail);
        html_element(out, "p", "where", action->where);
        html_element(out, "p", "running", action->count);
        html_element(out, "p", "clock", action->clock);
        buffer_text(out, "</li>\n");
    }
    buffer_text(out, "</ol>\n");
}

/* Where a pass begins is needed before how it goes on. */
static void put_step(SheetPage *page, const SheetStep *step)
{
    Buffer *out = page->out;
    bool is_pass = step->kind == STEP_PASS;
    buffer_text(out, is_pass ? "<li class=\"card step leg\" id=\"r" : "<li class=\"card step\" id=\"r");
    buffer_whole(out, page->number);
    buffer_text(out, "s");
    buffer_whole(out, step->number);
    buffer_text(out, "\"");
    put_counting(page, step);
    html_step_key(out, page->rod, step);
    buffer_text(out, ">\n<span class=\"number\">");
    buffer_whole(out, step->number);
    buffer_text(out, "</span><span class=\"box\"></span>\n");
    html_element(out, "p", "action", step->says);
    put_step_threads(page, step);
    if (!is_pass)
        html_element(out, "p", "detail", step->note);
    buffer_text(out, "<div class=\"facts\">");
    html_element(out, "p", "where", step->where);
    html_element(out, "p", "running", step->progress);
    html_element(out, "p", "clock", step->clock);
    buffer_text(out, "</div>\n");
    if (is_pass)
        html_element(out, "p", "detail", step->note);
    for (const char *rest = step->caution; *rest;)
        html_element(out, "p", "caution", text_line(out->arena, &rest));
    put_actions(page, step);
    html_measured(out, page->rod, step, &page->so_far, &page->widths);
    html_element(out, "p", "pause", step->stop);
    html_night(out, page->aside, page->rod, step, page->nights);
    buffer_text(out, "</li>\n");
}

/* Of the feet of a guide the first. */
static uint32_t first_of_guide(const SheetPage *page, uint32_t place)
{
    int foot = page->rod->bench->rod->places[place].foot;
    return foot > 0 ? place - (uint32_t)foot : place;
}

static void put_part(SheetPage *page, uint32_t index)
{
    Buffer *out = page->out;
    const SheetPart *part = &page->rod->parts[index];
    buffer_format(out, "<section class=\"part\" aria-labelledby=\"r%up%u\"", page->number, index);
    html_part_key(out, (uint32_t)(page->rod - page->sheet->rods), part);
    if (part->layer != WHOLE_ROD) {
        buffer_format(out, " data-wrap=\"%u\"", (unsigned)(page->layers_before[part->place] + part->layer + 1));
        page->so_far = (TurnsSoFar){.layer = &page->rod->bench->rod->places[part->place].layers[part->layer]};
    }
    if (part->place != WHOLE_ROD)
        buffer_format(out, " data-card=\"r%uc%u\" data-round=\"" ROUND_ID "\"", page->number,
                      card_of_place(page->rod, part->place) + 1, page->number, first_of_guide(page, part->place));
    buffer_format(out, ">\n<h3 id=\"r%up%u\" dir=\"auto\">", page->number, index);
    html_unbroken(out, part->heading);
    buffer_format(out, "</h3>\n<ol class=\"steps\" role=\"list\" start=\"%u\">\n",
                  page->rod->steps[part->first_step].number);
    for (uint32_t i = 0; i < part->step_count; i++)
        put_step(page, &page->rod->steps[part->first_step + i]);
    buffer_text(out, "</ol>\n</section>\n");
}

/* Those of the section's places. */
static void put_cards(SheetPage *page)
{
    for (uint32_t i = 0; i < page->rod->card_count; i++) {
        const Card *card = &page->rod->cards[i];
        uint32_t section = page->rod->bench->rod->places[card->place].section;
        if (!page->section->heading || page->section->section == section)
            html_card(page->out, page->rod, card, &page->plan->job->bench, page->number, i + 1);
    }
}

/* Where all sections of a rod are wound there is nothing to cut or to show. */
static void put_section(SheetPage *page)
{
    Buffer *out = page->out;
    bool wound = page->section->heading && page->section->section == ALL_SECTIONS;
    buffer_format(out,
                  "<section class=\"rod\" id=\"r%u\" aria-labelledby=\"r%u-heading\">\n"
                  "<h2 id=\"r%u-heading\" dir=\"auto\">",
                  page->number, page->number, page->number);
    html_text(out, page->section->title);
    buffer_text(out, "</h2>\n");
    if (!wound) {
        put_notes(page);
        put_cuts(page);
        put_picture(page);
        put_cards(page);
    }
    for (uint32_t i = 0; i < page->section->part_count; i++)
        put_part(page, page->section->first_part + i);
    buffer_text(out, "</section>\n");
}

/* The controls; without the script they stay hidden. */
static const char top[] =
    "<section class=\"top screen-only\" aria-label=\"Where you are\" hidden>\n"
    "<div class=\"place\"><p class=\"title\" id=\"rod-title\" dir=\"auto\"></p>"
    "<p class=\"step-of\" id=\"step-of\"></p>\n"
    "<progress id=\"done\" value=\"0\" max=\"1\" aria-label=\"Steps done\"></progress></div>\n"
    "<button type=\"button\" id=\"open-card\">Card</button>"
    "<button type=\"button\" id=\"open-list\">All steps</button>\n</section>\n";
static const char counting[] =
    "<section class=\"bar screen-only\" aria-label=\"Back and forward\" hidden>\n"
    "<p class=\"counted\" id=\"count\"><span class=\"made\" id=\"made\">0</span> "
    "<span class=\"of\" id=\"of\"></span></p>\n"
    "<div class=\"batches\" id=\"choice\" role=\"group\" aria-labelledby=\"choice-words\">"
    "<p id=\"choice-words\"></p>"
    "<button type=\"button\" data-batch=\"1\">1</button>"
    "<button type=\"button\" data-batch=\"5\">5</button>"
    "<button type=\"button\" data-batch=\"10\">10</button>"
    "<button type=\"button\" data-batch=\"0\">all</button></div>\n";
static const char bottom[] =
    "<button type=\"button\" id=\"back\">Back</button>"
    "<button type=\"button\" id=\"one-by-one\" hidden>One by one</button>"
    "<button type=\"button\" id=\"go\" class=\"go\">Next step</button>\n"
    "</section>\n"
    "<p class=\"present-action screen-only\" id=\"present\" hidden></p>"
    "<p class=\"noted screen-only\" id=\"noted\" hidden></p>"
    "<p class=\"next screen-only\" id=\"next\" hidden></p>\n"
    "<dialog id=\"list\" aria-labelledby=\"list-heading\">\n"
    "<div class=\"list-head\"><h2 id=\"list-heading\">All steps</h2>"
    "<button type=\"button\" id=\"open-night\">For the night</button>"
    "<button type=\"button\" id=\"open-note\">Note</button>"
    "<button type=\"button\" id=\"open-job\">Record</button>"
    "<button type=\"button\" id=\"open-settings\">Settings</button>"
    "<button type=\"button\" id=\"print\">Print</button><button type=\"button\" "
    "id=\"close-list\">Close</button></div>\n"
    "<div class=\"entries\"></div>\n</dialog>\n"
    "<dialog id=\"ask\" class=\"small\" aria-labelledby=\"ask-words\">\n<p id=\"ask-words\"></p>\n"
    "<button type=\"button\" id=\"stay\" class=\"go\">Stay here</button>"
    "<button type=\"button\" id=\"keep\">Go, and keep the count for later</button>"
    "<button type=\"button\" id=\"forget\">Go, and count again from nothing later</button>\n</dialog>\n"
    "<dialog id=\"card\" aria-label=\"Card of the place\">\n<div class=\"list-head\">"
    "<h2 id=\"card-heading\" dir=\"auto\"></h2>"
    "<button type=\"button\" id=\"turn-card\">Turn it</button>"
    "<button type=\"button\" id=\"close-card\">Close</button></div>\n"
    "<div class=\"entries\" id=\"card-shown\"></div>\n</dialog>\n"
    "<p class=\"quiet screen-only\" id=\"say\" role=\"status\" aria-live=\"polite\" hidden></p>\n";

/* The settings: what a page begins with is the choice that is marked. */
typedef struct Setting {
    const char *name, *words;
    struct {
        const char *value, *words;
    } choices[4]; /* the first is what a page begins with */
} Setting;

static const Setting settings[] = {
    {"scheme", "Colours", {{"system", "As the device has them"}, {"light", "Light"}, {"dark", "Dark"}}},
    {"apart",
     "Two presses are one if the second comes within",
     {{"300", "0.3 seconds"}, {"500", "0.5 seconds"}, {"1000", "1 second"}, {"0", "Every press counts"}}},
    {"depth", "Steps are shown", {{"steps", "As a whole"}, {"actions", "One by one, action after action"}}},
    {"batch",
     "Where a step begins, each press counts",
     {{"1", "1 turn"}, {"5", "5 turns"}, {"10", "10 turns"}, {"0", "All turns"}}},
};

static void put_settings(Buffer *out)
{
    buffer_text(out, "<dialog id=\"settings\" class=\"small\" aria-labelledby=\"settings-heading\">\n"
                     "<h2 id=\"settings-heading\">Settings</h2>\n");
    for (size_t i = 0; i < sizeof settings / sizeof *settings; i++) {
        const Setting *setting = &settings[i];
        buffer_format(out, "<fieldset><legend>%s</legend>\n", setting->words);
        for (size_t c = 0; c < sizeof setting->choices / sizeof *setting->choices && setting->choices[c].value;
             c++)
            buffer_format(out, "<label><input type=\"radio\" name=\"%s\" value=\"%s\"%s> %s</label>\n",
                          setting->name, setting->choices[c].value, c == 0 ? " checked" : "",
                          setting->choices[c].words);
        buffer_text(out, "</fieldset>\n");
    }
    buffer_text(out, "<button type=\"button\" id=\"close-settings\" class=\"go\">Close</button>\n</dialog>\n");
}

/* What is made once for a rod. */
static void begin_rod(SheetPage *page, const SheetRod *rod)
{
    const PlannedRod *planned = rod->bench->rod;
    page->rod = rod;
    page->nights = night_of_steps(page->out->arena, rod->bench);
    page->aside = page->aside ? page->aside : arena_child(page->out->arena);
    page->layers_before = arena_take_many(page->out->arena, planned->place_count, sizeof *page->layers_before);
    for (uint32_t p = 0; p < planned->place_count; p++) {
        page->layers_before[p] = page->layers;
        page->layers += planned->places[p].layer_count;
    }
}

void emit_sheet_html(Buffer *out, const Sheet *sheet, const Plan *plan, uint32_t from_step)
{
    SheetPage page = {
        .out = out, .sheet = sheet, .plan = plan, .from = from_step, .marks = thread_marks_make(out->arena, plan)};
    thread_widths_start(&page.widths, out->arena, plan->job);
    page.swatches = arena_take_many(out->arena, plan->job->thread_count, sizeof *page.swatches);
    put_head(&page);
    put_masthead(&page);
    buffer_text(out, top);
    buffer_text(out, "<main>\n");
    put_happened(&page);
    html_changes(out, sheet);
    html_happened(out, sheet);
    put_start(&page);
    for (uint32_t i = 0; i < sheet->rod_count; i++) {
        begin_rod(&page, &sheet->rods[i]);
        for (uint32_t s = 0; s < page.rod->section_count; s++) {
            page.section = &page.rod->sections[s];
            snprintf(page.prefix, sizeof page.prefix, "r%u-", ++page.number);
            put_section(&page);
        }
    }
    put_ruler(out);
    buffer_text(out, "<section class=\"card end\" id=\"end\"><h2>End of the sheet</h2>\n"
                     "<p>" ALL_DONE "</p></section>\n"
                     "</main>\n");
    buffer_text(out, counting);
    html_width_field(out, sheet);
    buffer_text(out, bottom);
    html_job_dialogs(out);
    html_round_dialog(out);
    put_settings(out);
    buffer_text(out, "<script>");
    put_lines(out, sheet_js);
    buffer_text(out, "</script>\n</body>\n</html>\n");
}
