#include "draw/eye/strip.h"

#include "base/whole.h"

#include <math.h>

/* Parts of a blur: what is shown in one colour at least, and of the bare rod. Between neighbours the light that is
 * seen changes by less than a tenth of all that there is to change. */
#define LEAST_PART (1.0 / 16)
#define BARE_PART (1.0 / 4)

static double turn_of(const Run *run) { return fabs(run->end - run->start) / run->turns; }

/* Where a turn of the piece ends that begins at x or before: at `least` or behind it, if the piece does. */
static double turn_end(const LitPiece *piece, double x, double least, double blur)
{
    if (!piece->run)
        return fmin(x + blur * BARE_PART, piece->to);
    double begin = fmin(piece->run->start, piece->run->end), turn = turn_of(piece->run);
    double number = fmax(whole_below((x - begin) / turn) + 1, whole_above((least - begin) / turn));
    return fmin(begin + number * turn, piece->to);
}

/* How far from the piece's end nothing but it is seen: up to there it is shown as one, to the end of a turn. */
static double alone_to(const LitPiece *piece, double blur)
{
    double end = piece->to - SEEN_WITHIN * blur;
    if (!piece->run || isinf(end))
        return end;
    double begin = fmin(piece->run->start, piece->run->end), turn = turn_of(piece->run);
    return begin + floor((end - begin) / turn) * turn;
}

/* Where what is shown in one colour from x on ends. */
static double part_end(const Strip *strip, double x)
{
    const LitPiece *piece = &strip->profile->list.items[profile_at(strip->profile, x)];
    double blur = strip->blur, least = x + fmax(blur * LEAST_PART, strip->least);
    if (blur == 0)
        return piece->to;
    if (x - piece->from >= SEEN_WITHIN * blur && alone_to(piece, blur) > least)
        return alone_to(piece, blur);
    double end = turn_end(piece, x, least, blur);
    while (end < least) {
        if (piece->to <= end)
            piece++;
        end = turn_end(piece, end, least, blur);
    }
    return end;
}

/* As it is seen in the middle. */
static uint32_t colour_between(const Strip *strip, double from, double to)
{
    if (strip->blur > 0)
        return colour_of(profile_seen(strip->profile, strip->blur, (from + to) / 2));
    return colour_of(strip->profile->list.items[profile_at(strip->profile, from)].light);
}

/* Goes on a little below what is painted next. */
static void draw_part(Canvas *canvas, const Frame *frame, const Strip *strip, double from, double to,
                      uint32_t colour)
{
    double end = fmin(to + LAP / frame->scale, strip->high);
    if (from < to)
        draw_rectangle(canvas, frame_x(frame, from), strip->top, (end - from) * frame->scale, strip->height,
                       colour, NO_COLOUR);
}

void draw_strip(Canvas *canvas, const Frame *frame, const Strip *strip)
{
    uint32_t shown = NO_COLOUR;
    double from = strip->low;
    for (double x = strip->low, end; x < strip->high; x = end) {
        end = fmin(part_end(strip, x), strip->high);
        uint32_t colour = colour_between(strip, x, end);
        if (colour != shown)
            draw_part(canvas, frame, strip, from, x, shown);
        from = colour != shown ? x : from;
        shown = colour;
    }
    draw_part(canvas, frame, strip, from, strip->high, shown);
}
