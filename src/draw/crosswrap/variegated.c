/* Threads of several colours in bands, fades and inlays: every turn cut where its thread changes colour, which
 * follows from what its piece has wound before. A piece's first turn begins with the first colour at the ring's
 * side. */
#include "draw/crosswrap/variegated.h"

#include "draw/picture/through.h"

#include <math.h>

/* Lengths of one colour that a picture shows; beyond it a thread is drawn in its mean colour. Some megabytes. */
#define MOST_LENGTHS 12000

struct WoundBefore {
    uint32_t **first;      /* of each layer of the rod and each of its runs: its first winding + 1, 0 for none */
    uint32_t *first_layer; /* of each place, into `first` */
    uint32_t *offset;      /* of each winding, into `before` */
    double *before;        /* mm that each winding's strands have wound of their pieces before */
};

uint32_t ground_colour(const Canvas *canvas, const Thread *thread)
{
    return thread->colour_count && !canvas->blended ? thread->colours[0] : thread->colour;
}

/* Lengths of one colour in so much thread; 0 for a thread of one colour. */
static double lengths_in(const Thread *thread, double wound)
{
    return thread->colour_count ? wound / thread->period * thread->colour_count + 1 : 0;
}

static double lengths_of_layer(const PlannedLayer *layer)
{
    double count = 0;
    for (uint32_t r = 0; r < layer->run_count; r++) {
        const Run *run = &layer->runs[r];
        for (uint32_t i = 0; run->strands && i < run->strands->count; i++) {
            const Thread *thread = run->strands->items[i].thread;
            count += lengths_in(thread, run->lengths ? run->lengths[i] : 0);
            count += thread->colour_count && run->strands->count > 1 ? run->turns : 0;
        }
    }
    const PlannedCrosswrap *planned = layer->crosswrap;
    for (uint32_t p = 0; planned && p < planned->pass_count; p++)
        for (uint32_t leg = 0; leg < leg_count(planned); leg++)
            count += lengths_in(planned->strands[pass_strand(planned, p)].thread, planned->passes[p].length[leg])
                     * fmax(1, planned->stretch_count / 8.0); /* where a colour ends is sought on all of them */
    return count;
}

/* Windings come in working order, those of one run one behind the other. */
static void note_windings(WoundBefore *wound, Arena *arena, const PlannedRod *rod)
{
    double *pieces = arena_take_many(arena, rod->piece_count, sizeof *pieces);
    uint32_t strands = 0;
    for (uint32_t w = 0; w < rod->winding_count; w++) {
        strands += rod->windings[w].pieces.count;
    }
    wound->offset = arena_take_many(arena, rod->winding_count, sizeof *wound->offset);
    wound->before = arena_take_many(arena, strands, sizeof *wound->before);
    strands = 0;
    for (uint32_t w = 0; w < rod->winding_count; w++) {
        const Winding *winding = &rod->windings[w];
        const Run *run = &rod->places[winding->place].layers[winding->layer].runs[winding->run];
        uint32_t *first = &wound->first[wound->first_layer[winding->place] + winding->layer][winding->run];
        *first = *first ? *first : w + 1;
        wound->offset[w] = strands;
        for (uint32_t i = 0; i < winding->pieces.count; i++) {
            double *piece = &pieces[group_piece(winding->pieces, i)];
            wound->before[strands++] = *piece;
            *piece += run->lengths[i] * winding->turns / run->turns;
        }
    }
}

static const WoundBefore *wound_before_make(Arena *arena, const PlannedRod *rod)
{
    WoundBefore *wound = arena_take(arena, sizeof *wound);
    uint32_t layers = 0;
    wound->first_layer = arena_take_many(arena, rod->place_count, sizeof *wound->first_layer);
    for (uint32_t p = 0; p < rod->place_count; p++) {
        wound->first_layer[p] = layers;
        layers += rod->places[p].layer_count;
    }
    wound->first = arena_take_many(arena, layers, sizeof *wound->first);
    for (uint32_t p = 0; p < rod->place_count; p++)
        for (uint32_t l = 0; l < rod->places[p].layer_count; l++)
            wound->first[wound->first_layer[p] + l] =
                arena_take_many(arena, rod->places[p].layers[l].run_count, sizeof **wound->first);
    note_windings(wound, arena, rod);
    return wound;
}

void colours_start(Canvas *canvas)
{
    double lengths = 0;
    for (uint32_t p = 0; p < canvas->rod->place_count; p++)
        for (uint32_t l = 0; l < canvas->rod->places[p].layer_count; l++)
            lengths += lengths_of_layer(&canvas->rod->places[p].layers[l]);
    canvas->blended = lengths > MOST_LENGTHS;
    if (lengths > 0 && !canvas->blended)
        canvas->wound = wound_before_make(canvas->arena, canvas->rod);
}

/* --- drawing --- */

/* What one strand winds in a run, or in the part of it that one piece makes. Turns are counted from the run's
 * start. */
typedef struct Coat {
    const Frame *frame;
    const Outline *outline;
    const Run *run;   /* the whole of it */
    double low, high; /* along the axis: what of it is drawn */
    double from, to;  /* the strand's share of every turn's width, as ratios */
    int sense;        /* in which the thread goes round: +1 clockwise */
    uint32_t near;    /* place in the outline; goes along it */
    Area *area;
} Coat;

static Point coat_point(const Coat *coat, OutlineEdge edge, double turns)
{
    return (Point){frame_x(coat->frame, edge.x), frame_y(coat->frame, turns, turns < 0 ? edge.up : edge.down)};
}

double turn_width(const Run *run) { return (run->end - run->start) / run->turns; }

double thread_slant(const Run *run, double part)
{
    return run->strands->count == 1 ? (part - 0.5) * turn_width(run) : 0;
}

/* The upper or lower side of a block: from one place along the axis to another, so many turns off the picture's
 * middle; and where it would lie if the run had no ends. */
typedef struct Side {
    double from, to, turns, free_from, free_to;
} Side;

static double within_run(const Coat *coat, double x) { return fmin(fmax(x, coat->low), coat->high); }

/* Turns of the run from one to another, over a part of the way round whose middle lies at that clock angle. */
static Side side_of(const Coat *coat, double turn, double end, double middle, double turns)
{
    const Run *run = coat->run;
    double slant = thread_slant(run, coat->sense * (middle + turns)), width = turn_width(run);
    double from = run->start + (turn + coat->from) * width + slant;
    double to = run->start + (end - 1 + coat->to) * width + slant;
    return (Side){within_run(coat, from), within_run(coat, to), turns, from, to};
}

static void put_corner(Coat *coat, double x, double turns, bool begins)
{
    uint32_t near = coat->near;
    Point point = coat_point(coat, outline_at(coat->outline, x, &near), turns);
    if (begins)
        area_begin(coat->area, point);
    else
        area_line(coat->area, point);
}

/* Where the slanting edge between two sides comes to the run's end. */
static void put_cut(Coat *coat, const Side *one, double free_one, const Side *other, double free_other)
{
    double end = within_run(coat, free_one);
    end = end != free_one ? end : within_run(coat, free_other);
    double part = (end - free_one) / (free_other - free_one);
    if (part > 0 && part < 1)
        put_corner(coat, end, one->turns + part * (other->turns - one->turns), false);
}

/* The bends of the outline along a side, onward or back. */
static void put_bends(Coat *coat, const Side *side, bool onward)
{
    const Outline *outline = coat->outline;
    double way = copysign(1, coat->run->end - coat->run->start);
    uint32_t first = coat->near, end;
    while (first < outline->count && (outline->edges[first].x - side->from) * way <= 0)
        first++;
    for (end = first; end < outline->count && (outline->edges[end].x - side->to) * way < 0; end++)
        if (onward)
            area_line(coat->area, coat_point(coat, outline->edges[end], side->turns));
    while (!onward && end-- > first)
        area_line(coat->area, coat_point(coat, outline->edges[end], side->turns));
}

/* Blocks come in the order of their turns; one may reach back by a turn behind the one before. */
static void put_block(Coat *coat, double turn, double end, double middle, double low, double high)
{
    Side upper = side_of(coat, turn, end, middle, low), lower = side_of(coat, turn, end, middle, high);
    if (upper.from == upper.to && lower.from == lower.to)
        return;
    outline_at(coat->outline, coat->run->start + (turn - 1) * turn_width(coat->run), &coat->near);
    put_corner(coat, upper.from, low, true);
    put_bends(coat, &upper, true);
    put_corner(coat, upper.to, low, false);
    put_cut(coat, &upper, upper.free_to, &lower, lower.free_to);
    put_corner(coat, lower.to, high, false);
    put_bends(coat, &lower, false);
    put_corner(coat, lower.from, high, false);
    put_cut(coat, &lower, lower.free_from, &upper, upper.free_from);
}

/* Turns from one to another, from one part of the way round to another; what of them faces the viewer. */
static void put_part(Coat *coat, double turn, double end, double part_from, double part_to)
{
    const Frame *frame = coat->frame;
    double a = coat->sense * part_from, b = coat->sense * part_to, low = fmin(a, b), high = fmax(a, b);
    double first = floor(low - frame->facing - frame->shown) + 1;
    for (double middle = first + frame->facing; middle - frame->shown < high; middle++) {
        double off_low = fmax(low - middle, -frame->shown), off_high = fmin(high - middle, frame->shown);
        if (off_low < off_high)
            put_block(coat, turn, end, middle, off_low, off_high);
    }
}

/* Whole turns: together where the strand is alone. */
static void put_turns(Coat *coat, double from, double to)
{
    if (from < to && coat->run->strands->count == 1)
        put_part(coat, from, to, 0, 1);
    else
        for (double turn = from; turn < to; turn++)
            put_part(coat, turn, turn + 1, 0, 1);
}

/* A length of thread, in turns of the run. */
static void put_length_wound(Coat *coat, double from, double to)
{
    double whole_from = ceil(from), whole_to = floor(to);
    if (from >= to)
        return;
    if (whole_to < whole_from) {
        put_part(coat, whole_to, whole_to + 1, from - whole_to, to - whole_to);
        return;
    }
    if (from < whole_from)
        put_part(coat, whole_from - 1, whole_from, from - whole_from + 1, 1);
    put_turns(coat, whole_from, whole_to);
    if (to > whole_to)
        put_part(coat, whole_to, whole_to + 1, 0, to - whole_to);
}

/* The lengths of one colour in the turns from one to another, where `wound` was wound of the piece before. Each
 * goes on for a turn at most below the next where that is painted later. */
static void put_colour(Coat *coat, const Thread *thread, uint32_t strand, uint32_t colour, double turn, double end,
                       double wound)
{
    double a_turn = coat->run->lengths[strand] / coat->run->turns, share = thread->period / thread->colour_count;
    double first = floor(wound / share), last = (wound + (end - turn) * a_turn) / share;
    double kinds = thread->colour_count;
    coat->near = 0;
    for (double i = first + fmod(colour - fmod(first, kinds) + kinds, kinds); i < last; i += kinds) {
        double from = turn + (i * share - wound) / a_turn, to = from + share / a_turn;
        double beneath = colour + 1 < kinds ? fmin(1, share / a_turn) : 0;
        put_length_wound(coat, fmax(from, turn), fmin(to + beneath, end));
    }
}

static void put_winding_colour(Coat *coat, const Canvas *canvas, const RunPlace *at, uint32_t strand,
                               uint32_t colour)
{
    const WoundBefore *wound = canvas->wound;
    const PlannedRod *rod = canvas->rod;
    const Thread *thread = coat->run->strands->items[strand].thread;
    uint32_t place = (uint32_t)(at->place - rod->places);
    uint32_t run = (uint32_t)(at->whole - at->place->layers[at->layer].runs);
    uint32_t first = wound->first[wound->first_layer[place] + at->layer][run], turn = 0;
    if (!first)
        put_colour(coat, thread, strand, colour, 0, coat->run->turns, 0);
    for (uint32_t w = first - 1; first && turn < coat->run->turns && w < rod->winding_count; w++) {
        uint32_t turns = rod->windings[w].turns;
        put_colour(coat, thread, strand, colour, turn, turn + turns, wound->before[wound->offset[w] + strand]);
        turn += turns;
    }
}

void draw_run_colours(Canvas *canvas, const Below *below, const Outline *outline, const RunPlace *at,
                      uint32_t strand, double from, double to)
{
    const Thread *thread = at->run->strands->items[strand].thread;
    const Bench *bench = &canvas->plan->job->bench;
    if (!thread->colour_count || !canvas->wound || !at->whole->lengths)
        return;
    Frame round = *below->frame; /* a thread begins, and goes on, where the place's own angle is */
    round.facing -= at->place->place->angle;
    Coat coat = {.area = &canvas->area,
                 .frame = &round,
                 .outline = outline,
                 .run = at->whole,
                 .from = from,
                 .to = to,
                 .low = fmin(at->run->start, at->run->end),
                 .high = fmax(at->run->start, at->run->end),
                 .sense = thread_sense(bench)};
    for (uint32_t colour = 1; colour < thread->colour_count; colour++) {
        put_winding_colour(&coat, canvas, at, strand, colour);
        draw_thread_area(canvas, below, thread->colours[colour], thread->opacity, coat.low, coat.high);
    }
}
