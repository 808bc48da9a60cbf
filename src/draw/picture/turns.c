/* The turns themselves. Neighbours are painted one over the edge of the other, in working order, so that the blank
 * never glints through between two polygons that should touch. */
#include "base/halfway.h"
#include "draw/crosswrap/variegated.h"
#include "draw/picture/sheen.h"
#include "draw/picture/through.h"
#include "plan/look.h"
#include "plan/plan_sums.h"

#include <math.h>
#include <string.h>

/* Strands together are drawn turn by turn up to so many strands in a run; longer runs keep the proportion. A rod
 * of so many turns that they are not shown one by one has fewer. */
enum { MOST_TEETH = 4000, MOST_TEETH_UNSEEN = 40, NAME_CHARACTERS = 40, MOST_NAMES = 4 };

void put_thread_names(Buffer *words, const Strands *strands)
{
    if (!strands) {
        buffer_text(words, "gap");
        return;
    }
    for (uint32_t i = 0; i < strands->count && i < MOST_NAMES; i++) {
        buffer_text(words, i ? " + " : "");
        buffer_text(words, strands->items[i].spacer ? "spacer " : "");
        const char *name = name_read(words->arena, strands->items[i].thread->name->bytes);
        buffer_text(words, fitted(words->arena, name, NAME_CHARACTERS));
    }
    if (strands->count > MOST_NAMES)
        buffer_format(words, " and %u more", strands->count - MOST_NAMES);
}

static void put_title(Canvas *canvas, const PlannedPlace *place, const Run *run)
{
    Buffer *words = &canvas->words;
    put_thread_names(words, run->strands);
    if (run->strands)
        buffer_format(words, run->turns == 1 ? ", %u turn" : ", %u turns", run->turns);
    buffer_text(words, ", ");
    put_length(words, canvas->units, shown_width(place, run->start, run->end, rounding_of_lengths(canvas->units)));
    uint32_t line = line_map_line(canvas->drawing->lines, run->span);
    if (line)
        buffer_format(words, ", line %u", line);
}

static uint64_t run_hash(uint64_t hash, const Run *run, uint32_t index)
{
    hash = hash_number(hash, index);
    for (uint32_t i = 0; run->strands && i < run->strands->count; i++)
        hash = hash_string(hash, run->strands->items[i].thread->name->bytes);
    hash = hash_number(hash, run->turns);
    return hash_number(hash, (uint64_t)(int64_t)round(run->start * 1e6));
}

static bool has_spacer(const Strands *strands)
{
    for (uint32_t i = 0; i < strands->count; i++)
        if (strands->items[i].spacer)
            return true;
    return false;
}

/* The outline of a run, which goes on a little below its follower where that covers it. */
static Outline run_outline(Canvas *canvas, const Surface *surface, OutlineCut *cut, const Run *run,
                           const Run *next)
{
    Outline outline = surface_outline(canvas->arena, surface, cut, run->start, run->end, 2);
    bool covered =
        next && run->strands && next->strands && !has_spacer(run->strands) && !has_spacer(next->strands);
    if (!covered)
        return outline;
    double lap = copysign(fmin(LAP / canvas->scale, fabs(next->end - next->start)), next->end - next->start);
    if (cut->layers != UINT32_MAX)
        cut->thickness = fmin(run->strands->thickness, next->strands->thickness);
    for (int i = 0; i < 2; i++)
        outline.edges[outline.count++] = surface_edge(surface, cut, run->end + i * lap, run->end + lap / 2);
    return outline;
}

/* Where the line between two turns meets the picture's upper and lower edge, off from where it lies without
 * slant. */
typedef struct Slant {
    double top, bottom;
} Slant;

/* Only a thread of several colours shows that its turns are those of a helix. */
static Slant slant_of(const Canvas *canvas, const Below *below, const Run *run)
{
    if (!run->strands->items[0].thread->colour_count || canvas->blended)
        return (Slant){0, 0};
    int sense = thread_sense(&canvas->plan->job->bench);
    double facing = below->frame->facing - below->place->place->angle; /* where threads begin */
    double middle = remainder(sense * facing - 0.5, 1) * turn_width(run);
    double off = sense * below->frame->shown * turn_width(run);
    return (Slant){middle - off, middle + off};
}

static Point groove_end(const Frame *frame, const Outline *outline, const Run *run, double x, bool top,
                        uint32_t near)
{
    x = fmin(fmax(x, fmin(run->start, run->end)), fmax(run->start, run->end));
    OutlineEdge edge = outline_at(outline, x, &near);
    return (Point){frame_x(frame, x), frame->axis + (top ? -edge.up : edge.down) * frame->across};
}

/* As the run looks in its middle. */
static uint32_t colour_in_middle(const Canvas *canvas, const Below *below, const Run *run)
{
    const Thread *thread = run->strands->items[0].thread;
    if (thread->opacity == 1)
        return thread->colour;
    Light ground = look_at(canvas->rod->rod, below->place, below->layers, (run->start + run->end) / 2);
    return colour_of(light_over(light_of(thread->colour), thread->opacity, ground));
}

/* One line down and up again between all turns of a run. */
static void draw_grooves(Canvas *canvas, const Below *below, const Outline *outline, const Run *run)
{
    const Frame *frame = below->frame;
    double pitch = run->pitch;
    if (!canvas->texture || pitch * frame->scale < VISIBLE_TURN || run->turns < 2 || run->strands->count > 1)
        return;
    Point *points = arena_take_many(canvas->arena, (size_t)run->turns * 2, sizeof *points);
    Slant slant = slant_of(canvas, below, run);
    uint32_t count = 0, near = 0;
    for (uint32_t i = 1; i < run->turns; i++) {
        double x = run->start + copysign(i * pitch, run->end - run->start);
        outline_at(outline, x - turn_width(run), &near);
        Point top = groove_end(frame, outline, run, x + slant.top, true, near);
        Point bottom = groove_end(frame, outline, run, x + slant.bottom, false, near);
        points[count++] = i % 2 ? top : bottom;
        points[count++] = i % 2 ? bottom : top;
    }
    draw_path(canvas, points, count, groove_colour(colour_in_middle(canvas, below, run)),
              fmin(pitch * frame->scale * 0.1, PEN));
}

/* The same part of every turn, all in canvas->area. from, to: where in a turn the part lies, as ratios. */
static void put_teeth(Canvas *canvas, const Frame *frame, const Outline *outline, const Run *run, uint32_t teeth,
                      double from, double to)
{
    Area *area = &canvas->area;
    double turn = (run->end - run->start) / teeth;
    uint32_t near = 0;
    for (uint32_t i = 0; i < teeth; i++) {
        OutlineEdge a = outline_at(outline, run->start + (i + from) * turn, &near);
        OutlineEdge b = outline_at(outline, run->start + (i + to) * turn, &near);
        double left = frame_x(frame, a.x), right = frame_x(frame, b.x);
        area_begin(area, (Point){left, frame->axis - a.up * frame->across});
        area_line(area, (Point){left, frame->axis + a.down * frame->across});
        area_line(area, (Point){right, frame->axis + b.down * frame->across});
        area_line(area, (Point){right, frame->axis - b.up * frame->across});
    }
}

/* A strand's part of every turn, from one ratio of its width to another, in the strand's first colour. */
static void draw_strand(Canvas *canvas, const Below *below, const Outline *outline, const Run *run,
                        uint32_t strand, double from, double to)
{
    const Strands *strands = run->strands;
    const Thread *thread = strands->items[strand].thread;
    uint32_t most = (canvas->texture ? MOST_TEETH : MOST_TEETH_UNSEEN) / strands->count + 1;
    uint32_t teeth = run->turns < most ? run->turns : most;
    uint32_t colour = ground_colour(canvas, thread);
    double start = outline->edges[0].x, end = outline->edges[outline->count - 1].x;
    if (strand == 0 && !has_spacer(strands) && thread->opacity < 1) {
        draw_through(canvas, below, colour, thread->opacity, start, end);
    } else if (strand == 0 && !has_spacer(strands)) {
        draw_outline(canvas, below->frame, outline, colour, SHADE_FLAT);
    } else {
        put_teeth(canvas, below->frame, outline, run, teeth, from, to);
        draw_thread_area(canvas, below, colour, thread->opacity, start, end);
    }
    if (strands->count > 1 && glints(canvas, thread)) {
        put_teeth(canvas, below->frame, outline, run, teeth, from, from + thread->pitch / strands->pitch);
        draw_glint(canvas);
    }
}

/* Strands side by side in every turn. Each is painted up to the next spacer or the turn's end, then the following
 * ones over it. */
static void draw_strands(Canvas *canvas, const Below *below, const Outline *outline, const RunPlace *at)
{
    const Strands *strands = at->run->strands;
    double from = 0;
    for (uint32_t i = 0; i < strands->count; i++) {
        double to = from, own = strands->items[i].thread->pitch / strands->pitch;
        for (uint32_t j = i; j < strands->count && !strands->items[j].spacer; j++)
            to += strands->items[j].thread->pitch / strands->pitch;
        if (to > from) {
            draw_strand(canvas, below, outline, at->run, i, from, fmin(to, 1));
            draw_run_colours(canvas, below, outline, at, i, from, strands->count == 1 ? 1 : fmin(to, 1));
        }
        from += own;
    }
}

/* What lies below the layer's runs; where there is a crosswrap, what will lie at each place when all is done,
 * so that what shows between its strands meets them at the picture's edges. */
static OutlineCut layer_cut(const Canvas *canvas, const PlannedPlace *place, uint32_t layer)
{
    bool finished = place->foot < 0 && has_crosswrap(place);
    bool climbs = place->layers[layer].layer->over && canvas->view == VIEW_SIDE;
    return (OutlineCut){place, 1, finished ? UINT32_MAX : layer, 0, climbs, canvas->lean};
}

/* What is seen through another thread lies, on the page, on the surface of that. */
static void draw_run(Canvas *canvas, const Below *on, const RunPlace *at, const Run *next)
{
    const Run *run = at->run;
    Below below = *on;
    if (run->strands && on->cut.layers != UINT32_MAX && !canvas->tint)
        below.cut.thickness = run->strands->thickness;
    OutlineCut cut = below.cut;
    Outline outline = run_outline(canvas, on->surface, &cut, run, next);
    if (!run->strands) {
        if (!canvas->tint)
            draw_outline(canvas, on->frame, &outline, NO_COLOUR, SHADE_FLAT);
        return;
    }
    draw_strands(canvas, &below, &outline, at);
    draw_grooves(canvas, &below, &outline, run);
}

static bool all_shown(const Canvas *canvas, const Run *run)
{
    return fmin(run->start, run->end) >= canvas->shown_low && fmax(run->start, run->end) <= canvas->shown_high;
}

/* So much of the run as is shown; false if nothing is. */
static bool part_shown(const Canvas *canvas, const Run *run, Run *part)
{
    *part = *run;
    part->start = fmin(fmax(run->start, canvas->shown_low), canvas->shown_high);
    part->end = fmin(fmax(run->end, canvas->shown_low), canvas->shown_high);
    double share = fabs(part->end - part->start) / fabs(run->end - run->start);
    part->turns = run->turns ? (uint32_t)fmax(1, floor(run->turns * share)) : 0;
    return share > 0;
}

uint32_t runs_before(const Canvas *canvas, const PlannedPlace *place, const PlannedLayer *layer)
{
    int direction = place->direction;
    double from = toward_tip(direction) ? canvas->shown_low : canvas->shown_high;
    uint32_t low = 0, high = layer->run_count;
    while (low < high) {
        uint32_t middle = halfway(low, high);
        if ((layer->runs[middle].end - from) * direction <= 0)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

void draw_layer(Canvas *canvas, const Frame *frame, const Surface *surface, const PlannedPlace *place,
                uint32_t layer, const char *label)
{
    Below on = {frame, surface, surface->host, place, layer, layer_cut(canvas, place, layer)};
    uint64_t hash = hash_string(HASH_START, canvas->rod->rod->title->bytes);
    draw_layer_on(canvas, &on, hash_number(hash_string(hash, label), layer));
}

void draw_layer_on(Canvas *canvas, const Below *on, uint64_t content)
{
    const PlannedPlace *place = on->place;
    const PlannedLayer *planned = &place->layers[on->layers];
    if (planned->crosswrap)
        draw_crosswrap(canvas, on, content);
    double end = place->direction > 0 ? canvas->shown_high : canvas->shown_low;
    for (uint32_t i = runs_before(canvas, place, planned); i < planned->run_count; i++) {
        Run shown;
        RunPlace at = {place, on->layers, &planned->runs[i], &planned->runs[i]};
        const Run *next = i + 1 < planned->run_count ? at.run + 1 : NULL;
        if ((at.run->start - end) * place->direction >= 0)
            break;
        bool whole = all_shown(canvas, at.run);
        if (!whole && !part_shown(canvas, at.run, &shown))
            continue;
        put_title(canvas, place, at.run);
        group_start(canvas, place, on->layers, i, at.run->span, run_hash(content, at.run, i));
        at.run = whole ? at.run : &shown;
        draw_run(canvas, on, &at, whole && next && all_shown(canvas, next) ? next : NULL);
        group_end(canvas);
    }
}
