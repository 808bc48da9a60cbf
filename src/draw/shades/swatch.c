#include "draw/shades/swatch.h"

#include "plan/thread_patterns.h"

#include <math.h>
#include <stdlib.h>

/* The square that patterns are given in, and the pen for them: of their units. */
#define PATTERN_SQUARE 24.0
#define PATTERN_PEN 1.3
/* From dashes to what they go round, page mm. */
#define WITHIN_DASHES 1.2
/* Light of which black stands out better than white: where both have the contrast of WCAG 2.2, (Y + 0.05) / 0.05 =
 * 1.05 / (Y + 0.05). */
#define BLACK_STANDS_OUT 0.179

static void clip_to(Canvas *canvas, SwatchBox box)
{
    area_begin(&canvas->area, (Point){box.x, box.y});
    area_line(&canvas->area, (Point){box.x + box.width, box.y});
    area_line(&canvas->area, (Point){box.x + box.width, box.y + box.height});
    area_line(&canvas->area, (Point){box.x, box.y + box.height});
    clip_start(canvas);
}

/* A stroke from point to point; what is shorter than the pen is wide is a dot. */
static void draw_stroke(Canvas *canvas, Point from, Point to, double pen, uint32_t ink)
{
    if (hypot(to.x - from.x, to.y - from.y) >= pen) {
        draw_path(canvas, (Point[]){from, to}, 2, ink, pen);
        return;
    }
    enum { CORNERS = 8 };
    static const double unit[CORNERS][2] = {{1, .414},   {.414, 1},   {-.414, 1}, {-1, .414},
                                            {-1, -.414}, {-.414, -1}, {.414, -1}, {1, -.414}};
    Point corners[CORNERS];
    for (int i = 0; i < CORNERS; i++)
        corners[i] = (Point){from.x + unit[i][0] * pen * 0.75, from.y + unit[i][1] * pen * 0.75};
    draw_polygon(canvas, corners, CORNERS, ink, SHADE_FLAT);
}

/* Path data as of pattern_strokes, its square stretched over the box. */
static void draw_strokes(Canvas *canvas, const char *data, SwatchBox box, uint32_t ink)
{
    double across = box.width / PATTERN_SQUARE, down = box.height / PATTERN_SQUARE;
    Point at = {0, 0};
    while (*data) {
        char command = *data++, *end;
        Point to = at;
        double number = strtod(data, &end);
        data = end;
        if (command == 'v')
            to.y += number;
        else if (command == 'h')
            to.x += number;
        else {
            to.x = number;
            to.y = strtod(data, &end);
            data = end;
        }
        if (command != 'M')
            draw_stroke(canvas, (Point){box.x + at.x * across, box.y + at.y * down},
                        (Point){box.x + to.x * across, box.y + to.y * down}, PATTERN_PEN * down, ink);
        at = to;
    }
}

static void draw_pattern(Canvas *canvas, unsigned pattern, Light light, SwatchBox box)
{
    uint32_t ink = xyz_of(light).y > BLACK_STANDS_OUT ? 0x000000 : 0xffffff;
    const Clip *outside = canvas->clip;
    clip_to(canvas, box);
    draw_strokes(canvas, pattern_strokes(pattern), box, ink);
    canvas->clip = outside;
}

void draw_shade(Canvas *canvas, const ThreadShade *shade, SwatchBox box)
{
    draw_rectangle(canvas, box.x, box.y, box.width, box.height, shade->thread->colour, NO_COLOUR);
    if (shade->pattern)
        draw_pattern(canvas, shade->pattern, light_of(shade->thread->colour), box);
    draw_rectangle(canvas, box.x, box.y, box.width, box.height, NO_COLOUR, PALE_INK);
}

/* From a corner to the next, dashes of equal length, one at either end. */
static void draw_dashes(Canvas *canvas, Point from, Point to)
{
    double length = hypot(to.x - from.x, to.y - from.y);
    uint32_t parts = 2 * (uint32_t)(length / 3) + 1;
    for (uint32_t i = 0; i < parts; i += 2) {
        double start = (double)i / parts, end = (i + 1.0) / parts;
        draw_line(canvas, from.x + start * (to.x - from.x), from.y + start * (to.y - from.y),
                  from.x + end * (to.x - from.x), from.y + end * (to.y - from.y), INK, 2 * PEN);
    }
}

void draw_missing_shade(Canvas *canvas, uint32_t colour, SwatchBox box)
{
    draw_rectangle(canvas, box.x + WITHIN_DASHES, box.y + WITHIN_DASHES, box.width - 2 * WITHIN_DASHES,
                   box.height - 2 * WITHIN_DASHES, colour, NO_COLOUR);
    Point corners[] = {{box.x, box.y},
                       {box.x + box.width, box.y},
                       {box.x + box.width, box.y + box.height},
                       {box.x, box.y + box.height}};
    for (int i = 0; i < 4; i++)
        draw_dashes(canvas, corners[i], corners[(i + 1) % 4]);
}
