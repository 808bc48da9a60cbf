/* All templates of a rod on one page, and the words beside them. */
#include "draw/template/template.h"

#include "base/unbroken.h"
#include "draw/canvas.h"

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
            " lines. Roll it round the blank, or round the underwrap, with the printed side out, the "
            "arrow toward the tip and the line 0° on the rod's line: the left edge meets the red line, and "
            "the tab goes under it. Where it comes in several parts, their letters say which edges meet. For "
            "paper %s thick.",
            show_fine(arena, bench->units, bench->paper));
    return text_format(
        arena,
        "The end bands go over the grey ends. Purple crosses are crossings (of a spiral: where it"
        " passes); numbers beside them are %s from the mark. Cut a small hole at each and mark the "
        "blank through it with a wax pencil. The blue line is the first strand's leg out; broken, its leg"
        " back.",
        unit_of_widths(bench->units));
}

const char *template_refusal(Arena *arena, const Template *template)
{
    return text_format(arena, "%s: no template; it would come in too many parts.", template->heading);
}

/* --- the canvas --- */

static void draw_wrapped(Canvas *canvas, double size, uint32_t colour, const char *words)
{
    double room = canvas->drawing->width - 2 * MARGIN;
    while (*words) {
        size_t taken = unbroken_length(words);
        const char *line = text_format(canvas->arena, "%.*s", (int)taken, words);
        while (words[taken]) {
            size_t more = taken + 1 + unbroken_length(words + taken + 1);
            const char *longer = text_format(canvas->arena, "%.*s", (int)more, words);
            if (text_width(longer, size) > room)
                break;
            taken = more;
            line = longer;
        }
        canvas->y += size * LINE;
        draw_text(canvas, MARGIN, canvas->y, size, ALIGN_START, colour, line);
        words += taken + (words[taken] == ' ');
    }
}

static void draw_proof_ruler(Canvas *canvas, UnitSystem system, double length, const char *words)
{
    Frame frame = {.left = MARGIN + 6, .scale = 1};
    UnitSystem units = canvas->units;
    canvas->units = system;
    draw_ruler(canvas, &frame, 0, 1, length, canvas->y);
    canvas->units = units;
    draw_text(canvas, frame.left + length + 5, canvas->y + LETTERS_TEXT, LETTERS_TEXT, ALIGN_START, INK, words);
    canvas->y += ruler_height(canvas) + 2;
}

static void draw_head(Canvas *canvas)
{
    canvas->y = MARGIN + LETTERS_TITLE * 0.8;
    draw_text(canvas, MARGIN, canvas->y, LETTERS_TITLE, ALIGN_START, INK,
              text_format(canvas->arena, "%s: wrap-around template, true size", canvas->drawing->title));
    canvas->y += 1.5;
    for (TemplateWords which = 0; which < TEMPLATE_WORDS; which++)
        draw_wrapped(canvas, LETTERS_TEXT, INK, template_words(canvas->arena, &canvas->plan->job->bench, which));
    canvas->y += 4;
    draw_proof_ruler(canvas, SYSTEM_MM, 100, "100 mm from end to end");
    draw_proof_ruler(canvas, SYSTEM_IN, 101.6, "4 in from end to end");
}

static void place_piece(Canvas *canvas, const Drawing *piece, double x, double y)
{
    for (uint32_t i = 0; i < piece->shapes.count; i++) {
        Shape *shape = LIST_ADD(canvas->arena, &canvas->drawing->shapes);
        *shape = piece->shapes.items[i];
        shape->at = (Point){shape->at.x + x, shape->at.y + y};
        for (uint32_t p = 0; p < shape->point_count; p++)
            shape->points[p] = (Point){shape->points[p].x + x, shape->points[p].y + y};
    }
}

static void draw_one(Canvas *canvas, const Template *template)
{
    double x = MARGIN, right = canvas->drawing->width - MARGIN;
    canvas->y += 4;
    if (!template->pieces.count)
        draw_wrapped(canvas, LETTERS_HEADING, INK, template_refusal(canvas->arena, template));
    else
        draw_wrapped(canvas, LETTERS_HEADING, INK, template->heading);
    canvas->y += 3;
    double bottom = canvas->y;
    for (uint32_t i = 0; i < template->pieces.count; i++) {
        const Drawing *piece = template_draw(canvas->arena, template, i);
        if (x > MARGIN && x + piece->width > right) {
            x = MARGIN;
            canvas->y = bottom + PIECES_APART;
        }
        place_piece(canvas, piece, x, canvas->y);
        x += piece->width + PIECES_APART;
        bottom = fmax(bottom, canvas->y + piece->height);
    }
    canvas->y = bottom;
}

Drawing *draw_templates(Arena *arena, const Plan *plan, uint32_t rod)
{
    const PlannedRod *planned = &plan->rods[rod];
    TemplateRoom room = {SHEET_WIDTH, SHEET_ROOM_HEIGHT};
    Canvas canvas = {.arena = arena,
                     .drawing = arena_take(arena, sizeof(Drawing)),
                     .plan = plan,
                     .rod = planned,
                     .scale = 1,
                     .type = 1,
                     .units = plan->job->bench.units};
    buffer_start(&canvas.words, arena);
    canvas.drawing->lines = plan->job->lines;
    canvas.drawing->title = planned->rod->title->bytes;
    canvas.drawing->description = "wrap-around templates, true size; tip up, printed side out";
    canvas.drawing->width = SHEET_WIDTH + 2 * MARGIN;
    draw_rectangle(&canvas, 0, 0, canvas.drawing->width, 0, PAPER, NO_COLOUR);
    draw_head(&canvas);
    for (uint32_t p = 0; p < planned->place_count; p++)
        for (uint32_t l = 0; l < planned->places[p].layer_count; l++) {
            const PlannedLayer *layer = &planned->places[p].layers[l];
            if (!layer->laid || !layer->crosswrap)
                continue;
            Template template = template_make(arena, plan, planned, &planned->places[p], layer, room);
            draw_one(&canvas, &template);
        }
    canvas.drawing->height = canvas.y + MARGIN;
    Point *corners = canvas.drawing->shapes.items[0].points;
    corners[2].y = corners[3].y = canvas.drawing->height;
    return canvas.drawing;
}
