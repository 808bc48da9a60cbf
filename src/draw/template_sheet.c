/* All templates of a rod on one sheet, and the words beside them. */
#include "draw/template.h"

#include "draw/sheet.h"

#include <math.h>
#include <string.h>

/* The printed field of an A4 page, without what stands above the pieces. */
#define SHEET_WIDTH 186.0
#define SHEET_ROOM_HEIGHT 200.0
#define PIECES_APART 4.0
#define LINE 1.45 /* of a text's height */

const char *template_words(Arena *arena, const Bench *bench, TemplateWords which)
{
    if (which == TEMPLATE_HOW)
        return text_format(
            arena,
            "Print at 100 %%, without fitting to the page, and check it with the rulers. Cut along the black"
            " lines. Roll the piece round the blank, or round the underwrap, with the printed side out, the "
            "arrow toward the tip and the line 0° on the ring's side: the left edge meets the red line, and "
            "the tab goes under it. Where there are several pieces, their letters say which edges meet. For "
            "paper %s thick.",
            show_fine(arena, bench->units, bench->paper));
    return text_format(
        arena,
        "The grey ends lie where the end bands come. Purple crosses are crossings (of a spiral: where it"
        " passes); numbers beside them are %s from the datum. Cut a small hole at each and mark the "
        "blank through it, with nothing sharp. The blue line is the way of the first strand out; broken,"
        " the way back.",
        system_unit(bench->units));
}

const char *template_refusal(Arena *arena, const Template *template)
{
    return text_format(arena, "%s: no template; it would come in too many pieces of paper.", template->heading);
}

/* --- the sheet --- */

static void draw_wrapped(Sheet *sheet, double size, uint32_t colour, const char *words)
{
    double room = sheet->drawing->width - 2 * MARGIN;
    while (*words) {
        const char *end = words, *next = words;
        for (const char *at = words;; at++)
            if (!*at || *at == ' ') {
                const char *line = text_format(sheet->arena, "%.*s", (int)(at - words), words);
                if (end > words && text_width(line, size) > room)
                    break;
                end = at;
                next = *at ? at + 1 : at;
                if (!*at)
                    break;
            }
        sheet->y += size * LINE;
        draw_text(sheet, MARGIN, sheet->y, size, ALIGN_START, colour,
                  text_format(sheet->arena, "%.*s", (int)(end - words), words));
        words = next;
    }
}

static void draw_proof_ruler(Sheet *sheet, UnitSystem system, double length, const char *words)
{
    Frame frame = {.left = MARGIN + 6, .scale = 1, .across = 1};
    UnitSystem units = sheet->units;
    sheet->units = system;
    draw_ruler(sheet, &frame, 0, 1, length, sheet->y);
    sheet->units = units;
    draw_text(sheet, frame.left + length + 5, sheet->y + LETTERS_TEXT, LETTERS_TEXT, ALIGN_START, INK, words);
    sheet->y += ruler_height(sheet) + 2;
}

static void draw_head(Sheet *sheet)
{
    sheet->y = MARGIN + LETTERS_TITLE * 0.8;
    draw_text(sheet, MARGIN, sheet->y, LETTERS_TITLE, ALIGN_START, INK,
              text_format(sheet->arena, "%s: wrap-around template, true size", sheet->drawing->title));
    sheet->y += 1.5;
    for (TemplateWords which = 0; which < TEMPLATE_WORDS; which++)
        draw_wrapped(sheet, LETTERS_TEXT, INK, template_words(sheet->arena, &sheet->plan->job->bench, which));
    sheet->y += 4;
    draw_proof_ruler(sheet, SYSTEM_MM, 100, "100 mm from end to end");
    draw_proof_ruler(sheet, SYSTEM_IN, 101.6, "4 in from end to end");
}

static void place_piece(Sheet *sheet, const Drawing *piece, double x, double y)
{
    for (uint32_t i = 0; i < piece->shapes.count; i++) {
        Shape *shape = LIST_ADD(sheet->arena, &sheet->drawing->shapes);
        *shape = piece->shapes.items[i];
        shape->at = (Point){shape->at.x + x, shape->at.y + y};
        for (uint32_t p = 0; p < shape->point_count; p++)
            shape->points[p] = (Point){shape->points[p].x + x, shape->points[p].y + y};
    }
}

static void draw_one(Sheet *sheet, const Template *template)
{
    double x = MARGIN, row = 0, right = sheet->drawing->width - MARGIN;
    sheet->y += 4;
    if (!template->pieces.count)
        draw_wrapped(sheet, LETTERS_HEADING, INK, template_refusal(sheet->arena, template));
    else
        draw_wrapped(sheet, LETTERS_HEADING, INK, template->heading);
    sheet->y += 3;
    for (uint32_t i = 0; i < template->pieces.count; i++) {
        const Drawing *piece = template_draw(sheet->arena, template, i);
        if (x > MARGIN && x + piece->width > right) {
            x = MARGIN;
            sheet->y += row + PIECES_APART;
            row = 0;
        }
        place_piece(sheet, piece, x, sheet->y);
        x += piece->width + PIECES_APART;
        row = fmax(row, piece->height);
    }
    sheet->y += row;
}

Drawing *draw_templates(Arena *arena, const Plan *plan, uint32_t rod)
{
    const PlannedRod *planned = &plan->rods[rod];
    TemplateRoom room = {SHEET_WIDTH, SHEET_ROOM_HEIGHT};
    Sheet sheet = {.arena = arena,
                   .drawing = arena_take(arena, sizeof(Drawing)),
                   .plan = plan,
                   .rod = planned,
                   .scale = 1,
                   .type = 1,
                   .units = plan->job->bench.units};
    buffer_start(&sheet.words, arena);
    sheet.drawing->sources = plan->job->sources;
    sheet.drawing->title = planned->rod->title->bytes;
    sheet.drawing->description = "wrap-around templates, true size; tip up, printed side out";
    sheet.drawing->width = SHEET_WIDTH + 2 * MARGIN;
    draw_rectangle(&sheet, 0, 0, sheet.drawing->width, 0, PAPER, NO_COLOUR);
    draw_head(&sheet);
    for (uint32_t p = 0; p < planned->place_count; p++)
        for (uint32_t l = 0; l < planned->places[p].layer_count; l++) {
            const PlannedLayer *layer = &planned->places[p].layers[l];
            if (!layer->laid || !layer->crosswrap)
                continue;
            Template template = template_make(arena, plan, planned, &planned->places[p], layer, room);
            draw_one(&sheet, &template);
        }
    sheet.drawing->height = sheet.y + MARGIN;
    Point *corners = sheet.drawing->shapes.items[0].points;
    corners[2].y = corners[3].y = sheet.drawing->height;
    return sheet.drawing;
}
