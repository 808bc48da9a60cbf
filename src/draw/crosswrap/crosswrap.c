/* The strands of a crosswrap, painted in laying order: what is laid later covers what lies there. Strands of
 * one `strand` line that touch are one strip of one colour, whatever the order among themselves; so the
 * picture's size does not depend on how many they are. Of strands that hide only a part of what they lie on all
 * that is painted anew within their strips: what is below the crosswrap, and the legs that were laid before and
 * cross them. */
#include "draw/crosswrap/leg_strip.h"
#include "draw/picture/sheen.h"
#include "draw/picture/through.h"

#include <math.h>

/* Parts that an area a strand may have, all in all, before strands are no longer shown one by one. */
#define MOST_WOVEN 1500
/* Parts that may be painted anew below strands, all in all, before nothing is shown through them. */
#define MOST_SEEN_THROUGH 30000
/* Strands whose edges are this close touch, mm. */
#define TOUCHING 1e-9
/* Changes of colour are found to this, mm of thread. */
#define FOUND 1e-7

typedef struct Weave {
    Canvas *canvas;
    const Below *below;
    const PlannedCrosswrap *planned;
    Ground ground;
    Ladder *ladders;  /* a start each, legs one behind the other */
    double low, high; /* along the axis: the field, and a little of the end bands that cover its ends */
    double *below_lap, *above_lap; /* how far each strand goes on under those laid against it later, across */
    bool woven;                    /* strand by strand */
    bool solid;                    /* nothing is shown through strands: it would be too many parts */
} Weave;

void put_crossings(Buffer *words, const PlannedCrosswrap *planned)
{
    double field = fabs(planned->field_end - planned->field_start);
    if (planned->crosswrap->kind == CROSSWRAP_SPIRAL)
        buffer_text(words, show_turns(words->arena, field / planned->lead[LEG_OUT]));
    else
        buffer_format(words, planned->crossings == 1 ? "%u crossing" : "%u crossings", planned->crossings);
}

uint32_t nearest_line(const PlannedCrosswrap *planned, double turn)
{
    uint32_t nearest = 0;
    double least = INFINITY;
    for (uint32_t i = 0; i < crosswrap_line_count(planned); i++) {
        double off = fabs(remainder(crosswrap_line_turn(planned, i) - turn, 1));
        if (off < least - 1e-9) {
            least = off;
            nearest = i;
        }
    }
    return nearest;
}

/* next: the strand laid against each later, on one side. */
static double lap_of(const Weave *weave, const uint32_t *next, uint32_t strand)
{
    const BundleStrand *strands = weave->planned->strands;
    double lap = 0, most = LAP / weave->canvas->scale;
    for (uint32_t i = next[strand]; i != NO_STRAND && !strands[i].spacer && lap < most; i = next[i])
        lap += strands[i].width;
    return fmin(lap, most);
}

static void find_laps(Weave *weave)
{
    const PlannedCrosswrap *planned = weave->planned;
    Arena *arena = weave->canvas->arena;
    uint32_t count = planned->strand_count;
    uint32_t *above = arena_take_many(arena, count, sizeof *above);
    uint32_t *below = arena_take_many(arena, count, sizeof *below);
    for (uint32_t i = 0; i < count; i++)
        above[i] = below[i] = NO_STRAND;
    for (uint32_t i = 0; i < count; i++)
        if (planned->strands[i].neighbour != NO_STRAND)
            (planned->strands[i].side > 0 ? above : below)[planned->strands[i].neighbour] = i;
    weave->above_lap = arena_take_many(arena, count, sizeof *weave->above_lap);
    weave->below_lap = arena_take_many(arena, count, sizeof *weave->below_lap);
    for (uint32_t i = 0; i < count; i++) {
        weave->above_lap[i] = lap_of(weave, above, i);
        weave->below_lap[i] = lap_of(weave, below, i);
    }
}

static double turns_of(const PlannedCrosswrap *planned, double length)
{
    double turns = 0;
    for (uint32_t leg = 0; leg < leg_count(planned); leg++)
        turns += length / planned->lead[leg] + 1;
    return turns;
}

/* Strands are shown one by one where they can be told apart and are not too many. */
static bool is_woven(const Weave *weave)
{
    const PlannedCrosswrap *planned = weave->planned;
    double narrowest = INFINITY;
    for (uint32_t i = 0; i < planned->strand_count; i++)
        narrowest = fmin(narrowest, planned->strands[i].width);
    return weave->canvas->texture && narrowest * weave->canvas->scale >= VISIBLE_TURN
           && turns_of(planned, weave->high - weave->low) * planned->pass_count <= MOST_WOVEN;
}

static bool is_sheer(const Weave *weave, const BundleStrand *strand)
{
    return strand->thread->opacity < 1 && !weave->solid;
}

/* Legs of strand lines of one colour; those through which something shows. */
typedef struct Legs {
    double all, sheer;
} Legs;

static Legs legs_of(const PlannedCrosswrap *planned)
{
    Legs legs = {0, 0};
    for (uint32_t i = 0; i < planned->strand_count; i++) {
        const BundleStrand *strand = &planned->strands[i];
        if (strand->spacer || (i && planned->strands[i - 1].line == strand->line))
            continue;
        legs.all += leg_count(planned);
        legs.sheer += strand->thread->opacity < 1 ? leg_count(planned) : 0;
    }
    return legs;
}

/* Parts that a place's lowest layers are painted in, about, and what it lies on. */
static double parts_below(const PlannedPlace *host, const PlannedPlace *place, uint32_t layers)
{
    double parts = host ? parts_below(NULL, host, host->layer_count) : 1;
    for (uint32_t l = 0; l < layers; l++) {
        const PlannedCrosswrap *planned = place->layers[l].crosswrap;
        Legs legs = planned ? legs_of(planned) : (Legs){0, 0};
        double turns = planned ? turns_of(planned, crosswrap_field(planned)) * planned->starts : 0;
        double strips = legs.all * turns;
        parts += place->layers[l].run_count + strips + legs.sheer * (parts + strips + legs.sheer * parts);
    }
    return parts;
}

double place_parts(const PlannedPlace *place) { return parts_below(place->host, place, place->layer_count); }

/* A place with that many parts is not painted anew over and over. */
static bool is_solid(const Below *below, const PlannedCrosswrap *planned)
{
    return legs_of(planned).sheer > 0
           && parts_below(below->host, below->place, below->layers + 1) > MOST_SEEN_THROUGH;
}

/* --- threads of several colours --- */

/* Where so much of the pass's piece is wound: between two places where less and more of it are. */
static double place_wound(const PlannedCrosswrap *planned, uint32_t pass, Leg leg, double from, double to,
                          double wound)
{
    double off_from = crosswrap_wound(planned, pass, leg, from) - wound;
    double off_to = crosswrap_wound(planned, pass, leg, to) - wound;
    double x = from;
    for (int i = 0; i < 60 && off_to > off_from; i++) {
        x = from + (to - from) * (-off_from / (off_to - off_from));
        double off = crosswrap_wound(planned, pass, leg, x) - wound;
        if (fabs(off) < FOUND)
            break;
        bool before = off < 0;
        double *end = before ? &from : &to, *at_end = before ? &off_from : &off_to;
        double *other = before ? &off_to : &off_from;
        *end = x;
        *at_end = off;
        *other /= i > 3 ? 2 : 1; /* the end that stays counts for less: it would stay for ever on a curve */
    }
    return x;
}

/* The lengths of one colour each that a leg is made of, in the order wound. Colours are numbered from the first
 * one's on. */
typedef struct Colours {
    double *ends; /* places along the axis, one more than there are lengths */
    uint32_t count, first;
} Colours;

static Colours colours_of(Weave *weave, uint32_t pass, Leg leg)
{
    const PlannedCrosswrap *planned = weave->planned;
    const Thread *thread = planned->strands[pass_strand(planned, pass)].thread;
    bool tipward = toward_tip(planned->direction) == (leg == LEG_OUT);
    double from = tipward ? weave->low : weave->high, to = tipward ? weave->high : weave->low;
    double share = thread->period / thread->colour_count;
    double first = floor(crosswrap_wound(planned, pass, leg, from) / share);
    double last = ceil(crosswrap_wound(planned, pass, leg, to) / share);
    uint32_t count = (uint32_t)fmax(last - first, 1);
    Colours colours = {arena_take_many(weave->canvas->arena, count + 1, sizeof *colours.ends), count,
                       (uint32_t)fmod(first, thread->colour_count)};
    colours.ends[0] = from;
    for (uint32_t i = 1; i < count; i++)
        colours.ends[i] = place_wound(planned, pass, leg, colours.ends[i - 1], to, (first + i) * share);
    colours.ends[count] = to;
    return colours;
}

/* One colour after the other, from the first one's on; each goes on a little below its neighbours that are
 * painted later. */
static void draw_colours(Weave *weave, const LegStrip *strip, uint32_t pass)
{
    const Thread *thread = weave->planned->strands[pass_strand(weave->planned, pass)].thread;
    Colours colours = colours_of(weave, pass, strip->leg);
    const double *ends = colours.ends;
    uint32_t kinds = thread->colour_count;
    double lap = LAP / weave->canvas->scale, way = ends[0] < ends[colours.count] ? 1 : -1;
    for (uint32_t kind = 0; kind < kinds; kind++) {
        for (uint32_t i = kind; i < colours.count; i += kinds) {
            double from = ends[i], to = ends[i + 1];
            if (kind + 1 < kinds && i + 1 < colours.count)
                to += way * fmin(lap, fabs(ends[i + 2] - to));
            if (kind == 0 && i > 0 && kinds > 1)
                from -= way * fmin(lap, fabs(from - ends[i - 1]));
            put_strip(&weave->canvas->area, &weave->ground, strip, fmin(from, to), fmax(from, to));
        }
        draw_area(weave->canvas, thread->colours[(colours.first + kind) % kinds], NO_COLOUR, 0);
    }
}

/* --- strands --- */

static LegStrip strip_of(const Weave *weave, uint32_t start, Leg leg, double bottom, double top)
{
    const Ladder *ladder = &weave->ladders[start * leg_count(weave->planned) + leg];
    return (LegStrip){weave->planned, ladder, start, leg, bottom, top};
}

/* For the whole bundle; strands go on under one another within it. */
static void make_ladders(Weave *weave)
{
    const PlannedCrosswrap *planned = weave->planned;
    uint32_t legs = leg_count(planned);
    double bottom = planned->bottom, top = planned->bottom + planned->width;
    weave->ladders = arena_take_many(weave->canvas->arena, (size_t)planned->starts * legs, sizeof *weave->ladders);
    for (uint32_t start = 0; start < planned->starts; start++)
        for (uint32_t leg = 0; leg < legs; leg++) {
            LegLines lines = {planned, start, (Leg)leg, bottom, top};
            ladder_start(&weave->ladders[start * legs + leg], weave->canvas->arena, &weave->ground, &lines,
                         weave->low, weave->high);
        }
}

/* Legs: both, or one. */
typedef struct LegSpan {
    uint32_t first, end;
} LegSpan;

static LegSpan both_legs(const Weave *weave) { return (LegSpan){0, leg_count(weave->planned)}; }

static void draw_pass(Weave *weave, uint32_t pass, LegSpan legs)
{
    const PlannedCrosswrap *planned = weave->planned;
    uint32_t number = pass_strand(planned, pass);
    const BundleStrand *strand = &planned->strands[number];
    double bottom = strand->middle - strand->width / 2, top = strand->middle + strand->width / 2;
    for (uint32_t leg = legs.first; leg < legs.end; leg++) {
        LegStrip strip = strip_of(weave, pass_start(planned, pass), (Leg)leg, bottom - weave->below_lap[number],
                                  top + weave->above_lap[number]);
        if (strand->thread->colour_count && !weave->canvas->blended) {
            draw_colours(weave, &strip, pass);
            continue;
        }
        uint32_t colour = ground_colour(weave->canvas, strand->thread);
        put_strip(&weave->canvas->area, &weave->ground, &strip, weave->low, weave->high);
        draw_area(weave->canvas, colour, weave->woven ? groove_colour(colour) : NO_COLOUR,
                  fmin(strand->width * weave->canvas->scale * 0.1, PEN));
    }
}

/* Strands of one line that touch, and the strands at its edges. */
typedef struct Sheaf {
    double bottom, top;
    uint32_t lowest, highest;
} Sheaf;

typedef LIST_OF(Sheaf) Sheaves;

static bool joins(Sheaf *sheaf, uint32_t index, double bottom, double top)
{
    if (fabs(bottom - sheaf->top) < TOUCHING) {
        sheaf->top = top;
        sheaf->highest = index;
    } else if (fabs(top - sheaf->bottom) < TOUCHING) {
        sheaf->bottom = bottom;
        sheaf->lowest = index;
    } else {
        return false;
    }
    return true;
}

static void add_strand(Sheaves *sheaves, Arena *arena, uint32_t index, const BundleStrand *strand)
{
    double bottom = strand->middle - strand->width / 2, top = strand->middle + strand->width / 2;
    for (uint32_t i = sheaves->count; i-- > 0;)
        if (joins(&sheaves->items[i], index, bottom, top))
            return;
    *LIST_ADD(arena, sheaves) = (Sheaf){bottom, top, index, index};
}

/* All strands of a line, as they touch. */
static Sheaves sheaves_of(const Weave *weave, uint32_t first, uint32_t end)
{
    Sheaves sheaves = {0};
    for (uint32_t i = first; i < end; i++)
        add_strand(&sheaves, weave->canvas->arena, i, &weave->planned->strands[i]);
    return sheaves;
}

static void put_sheaves(Weave *weave, const Sheaves *sheaves, LegSpan legs)
{
    const PlannedCrosswrap *planned = weave->planned;
    for (uint32_t i = 0; i < sheaves->count; i++) {
        Sheaf sheaf = sheaves->items[i];
        double bottom = sheaf.bottom - weave->below_lap[sheaf.lowest],
               top = sheaf.top + weave->above_lap[sheaf.highest];
        for (uint32_t start = 0; start < planned->starts; start++)
            for (uint32_t leg = legs.first; leg < legs.end; leg++) {
                LegStrip strip = strip_of(weave, start, (Leg)leg, bottom, top);
                put_strip(&weave->canvas->area, &weave->ground, &strip, weave->low, weave->high);
            }
    }
}

/* Strands of one line, of which there is one at least. */
typedef struct Line {
    uint32_t first, end;
} Line;

static Line line_from(const PlannedCrosswrap *planned, uint32_t first)
{
    Line line = {first, first + 1};
    while (line.end < planned->strand_count && planned->strands[line.end].line == planned->strands[first].line)
        line.end++;
    return line;
}

/* Strands that hide all below. What covers what among those of one colour makes no difference. */
static void draw_solid_line(Weave *weave, Line line, LegSpan legs)
{
    const PlannedCrosswrap *planned = weave->planned;
    const Thread *thread = planned->strands[line.first].thread;
    Sheaves sheaves = sheaves_of(weave, line.first, line.end);
    if (!weave->woven && (!thread->colour_count || weave->canvas->blended)) {
        put_sheaves(weave, &sheaves, legs);
        draw_area(weave->canvas, ground_colour(weave->canvas, thread), NO_COLOUR, 0);
    } else {
        for (uint32_t pass = line.first * planned->starts; pass < line.end * planned->starts; pass++)
            draw_pass(weave, pass, legs);
    }
    if (glints(weave->canvas, thread)) {
        put_sheaves(weave, &sheaves, legs);
        draw_glint(weave->canvas);
    }
}

static void draw_line_leg(Weave *weave, Line line, uint32_t leg, uint32_t crossed);

/* A leg of a line, within whose strips the other legs of the strands before `crossed` are seen. Legs of one way
 * lie side by side. Threads of several colours are painted in their mean. */
static void draw_sheer_leg(Weave *weave, Line line, uint32_t leg, uint32_t crossed)
{
    Canvas *canvas = weave->canvas;
    const Clip *clip = canvas->clip;
    const Tint *tint = canvas->tint;
    const Thread *thread = weave->planned->strands[line.first].thread;
    Sheaves sheaves = sheaves_of(weave, line.first, line.end);
    put_sheaves(weave, &sheaves, (LegSpan){leg, leg + 1});
    if (!canvas->area.points.count)
        return;
    clip_start(canvas);
    draw_through(canvas, weave->below, thread->colour, thread->opacity, weave->low, weave->high);
    Tint own = {thread->colour, thread->opacity, tint};
    canvas->tint = &own;
    for (uint32_t first = 0; first < crossed; first = line_from(weave->planned, first).end)
        draw_line_leg(weave, line_from(weave->planned, first), 1 - leg, 0);
    canvas->tint = tint;
    canvas->clip = clip;
    canvas->mean_through |= thread->colour_count > 0;
    if (glints(canvas, thread)) {
        put_sheaves(weave, &sheaves, (LegSpan){leg, leg + 1});
        draw_glint(canvas);
    }
}

static void draw_line_leg(Weave *weave, Line line, uint32_t leg, uint32_t crossed)
{
    const BundleStrand *strand = &weave->planned->strands[line.first];
    if (strand->spacer) /* taken off again: the layer below shows */
        return;
    if (is_sheer(weave, strand))
        draw_sheer_leg(weave, line, leg, crossed);
    else
        draw_solid_line(weave, line, (LegSpan){leg, leg + 1});
}

static void draw_line_strands(Weave *weave, Line line)
{
    const BundleStrand *strand = &weave->planned->strands[line.first];
    if (strand->spacer)
        return;
    if (!is_sheer(weave, strand)) {
        weave->canvas->solid_through |= strand->thread->opacity < 1;
        draw_solid_line(weave, line, both_legs(weave));
        return;
    }
    if (is_spiral(weave->planned)) { /* its legs cross nothing */
        draw_line_leg(weave, line, LEG_OUT, 0);
        return;
    }
    draw_line_leg(weave, line, LEG_OUT, line.first);
    draw_line_leg(weave, line, LEG_BACK, line.end);
}

/* "slate, 4 strands a bundle, line 31" */
static void put_title(Canvas *canvas, const BundleStrand *strand, uint32_t count)
{
    Buffer *words = &canvas->words;
    put_thread_names(words, &(Strands){.items = &(Strand){strand->thread, strand->spacer}, .count = 1});
    buffer_format(words, count == 1 ? ", %u strand a bundle" : ", %u strands a bundle", count);
    uint32_t line = line_map_line(canvas->drawing->lines, strand->span);
    if (line)
        buffer_format(words, ", line %u", line);
}

static Weave weave_start(Canvas *canvas, const Below *below, const PlannedCrosswrap *planned)
{
    double low = fmin(planned->field_start, planned->field_end);
    double high = fmax(planned->field_start, planned->field_end);
    double lap = fmin(LAP / canvas->scale, planned->end_width);
    Weave weave = {.canvas = canvas,
                   .below = below,
                   .planned = planned,
                   .low = fmax(fmax(low - lap, planned->low), canvas->shown_low),
                   .high = fmin(fmin(high + lap, planned->high), canvas->shown_high)};
    if (weave.low >= weave.high)
        return weave;
    Outline outline = surface_outline(canvas->arena, below->surface, &below->cut, weave.low, weave.high, 0);
    ground_start(&weave.ground, canvas->arena, below->frame, &outline);
    find_laps(&weave);
    make_ladders(&weave);
    weave.woven = is_woven(&weave);
    weave.solid = is_solid(below, planned);
    return weave;
}

void draw_crosswrap(Canvas *canvas, const Below *below, uint64_t content)
{
    enum { FIELD_RUN = 1 };
    const PlannedPlace *place = below->place;
    const PlannedCrosswrap *planned = place->layers[below->layers].crosswrap;
    Weave weave = weave_start(canvas, below, planned);
    if (weave.low >= weave.high)
        return;
    Line line;
    for (uint32_t first = 0; first < planned->strand_count; first = line.end) {
        const BundleStrand *strand = &planned->strands[first];
        line = line_from(planned, first);
        put_title(canvas, strand, line.end - first);
        uint64_t hash = hash_number(hash_string(content, "strand"), strand->line);
        hash = hash_number(hash_string(hash, strand->thread->name->bytes), line.end - first);
        group_start(canvas, place, below->layers, FIELD_RUN, strand->span, hash)->strand_line = strand->line + 1;
        draw_line_strands(&weave, line);
        group_end(canvas);
    }
}
