#include "draw/picture/outline.h"

#include "base/halfway.h"
#include "base/sort.h"
#include "trade/trade.h"

#include <math.h>

typedef struct Breaks {
    Arena *arena;
    double low, high; /* only what lies between */
    LIST_OF(double) list;
} Breaks;

static void add_break(Breaks *breaks, double x)
{
    if (x > breaks->low && x < breaks->high)
        *LIST_ADD(breaks->arena, &breaks->list) = x;
}

/* Number of steps that lie before x on the way they are worked. */
static uint32_t steps_before(const PlannedLayer *layer, int direction, double x)
{
    uint32_t low = 0, high = layer->surface_count;
    while (low < high) {
        uint32_t middle = halfway(low, high);
        if ((x - layer->surface[middle].start) * direction > 0)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

static void add_layer_breaks(Breaks *breaks, const PlannedPlace *place)
{
    int direction = place->direction;
    double from = toward_tip(direction) ? breaks->low : breaks->high,
           to = toward_tip(direction) ? breaks->high : breaks->low;
    for (uint32_t l = 0; l < place->layer_count; l++) {
        const PlannedLayer *layer = &place->layers[l];
        uint32_t end = steps_before(layer, direction, to);
        for (uint32_t s = steps_before(layer, direction, from); s < end; s++)
            add_break(breaks, layer->surface[s].start);
    }
}

static void add_blank_breaks(Breaks *breaks, const Blank *blank)
{
    uint32_t i = blank_station_after(blank, breaks->low);
    for (; i < blank->station_count && blank->stations[i].at < breaks->high; i++)
        add_break(breaks, blank->stations[i].at);
}

void surface_start(Surface *surface, Arena *arena, const Blank *blank, const PlannedPlace *host,
                   const PlannedPlace *places, uint32_t count, double low, double high)
{
    Breaks breaks = {.arena = arena, .low = low, .high = high};
    if (host)
        add_layer_breaks(&breaks, host);
    add_blank_breaks(&breaks, blank);
    for (uint32_t p = 0; p < count; p++) {
        if (places[p].foot >= 0) {
            add_break(&breaks, places[p].foot_tip);
            add_break(&breaks, places[p].ramp_end);
            add_break(&breaks, places[p].foot_end);
        }
        add_layer_breaks(&breaks, &places[p]);
    }
    double *items = breaks.list.items;
    sort_numbers(items, breaks.list.count);
    *surface = (Surface){blank, host, items, 0};
    for (uint32_t i = 0; i < breaks.list.count; i++)
        if (!surface->break_count || items[i] > items[surface->break_count - 1])
            items[surface->break_count++] = items[i];
}

/* Thickness that a layer adds to the radius at x: that of the last step not beyond x. */
static double layer_thickness(const PlannedLayer *layer, int direction, double x)
{
    uint32_t low = 0, high = layer->surface_count; /* steps before low are not beyond x, from high on they are */
    while (low < high) {
        uint32_t middle = halfway(low, high);
        if ((x - layer->surface[middle].start) * direction >= 0)
            low = middle + 1;
        else
            high = middle;
    }
    return low ? layer->surface[low - 1].thickness : 0;
}

/* How far a foot's top stands above the blank (and what lies on it below the foot). */
static double foot_rise(const PlannedPlace *place, double x, double inside)
{
    if (place->foot < 0)
        return 0;
    double along = (inside - place->foot_tip) * place->direction;
    double ramp = (place->ramp_end - place->foot_tip) * place->direction;
    double length = (place->foot_end - place->foot_tip) * place->direction;
    if (along < 0 || along > length)
        return 0;
    double height = place->place->guide->height;
    return along < ramp ? height * (x - place->foot_tip) * place->direction / ramp : height;
}

OutlineEdge foot_edge(const Guide *guide, double x, double radius, double rise, double lean)
{
    double up = cos(2 * TRADE_PI * lean), aside = fabs(sin(2 * TRADE_PI * lean));
    double grown = guide->height > 0 ? rise / guide->height : 1;
    double half = guide->width / 2 * grown * aside, low = radius * up, top = (radius + rise) * up;
    return (OutlineEdge){x, fmax(low, top) + half, half - fmin(low, top)};
}

OutlineEdge surface_edge(const Surface *surface, const OutlineCut *cut, double x, double inside)
{
    double radius = blank_diameter_beside(surface->blank, x, inside) / 2 + cut->thickness, rise = 0;
    const Guide *guide = NULL;
    const PlannedPlace *host = cut->place_count ? surface->host : NULL;
    for (uint32_t l = 0; host && l < host->layer_count; l++)
        radius += layer_thickness(&host->layers[l], host->direction, inside);
    for (uint32_t p = 0; p < cut->place_count; p++) {
        const PlannedPlace *place = &cut->places[p];
        uint32_t layers = cut->layers < place->layer_count ? cut->layers : place->layer_count;
        for (uint32_t l = 0; l < layers; l++)
            radius += layer_thickness(&place->layers[l], place->direction, inside);
        double here = cut->climbs ? foot_rise(place, x, inside) : 0;
        guide = here > 0 ? place->place->guide : guide;
        rise += here;
    }
    if (!guide)
        return (OutlineEdge){x, radius, radius};
    OutlineEdge foot = foot_edge(guide, x, radius, rise, cut->lean);
    return (OutlineEdge){x, fmax(radius, foot.up), fmax(radius, foot.down)};
}

/* Number of breaks that lie at or before x. */
static uint32_t breaks_until(const Surface *surface, double x)
{
    uint32_t low = 0, high = surface->break_count;
    while (low < high) {
        uint32_t middle = halfway(low, high);
        if (surface->breaks[middle] <= x)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

static void reverse_edges(OutlineEdge *edges, uint32_t count)
{
    for (uint32_t i = 0; i < count / 2; i++) {
        OutlineEdge other = edges[i];
        edges[i] = edges[count - 1 - i];
        edges[count - 1 - i] = other;
    }
}

static bool same_edge(OutlineEdge a, OutlineEdge b)
{
    return fabs(a.up - b.up) < 1e-9 && fabs(a.down - b.down) < 1e-9;
}

Outline surface_outline(Arena *arena, const Surface *surface, const OutlineCut *cut, double from, double to,
                        uint32_t spare)
{
    double low = fmin(from, to), high = fmax(from, to);
    uint32_t first = breaks_until(surface, low), last = breaks_until(surface, high);
    if (last > first && surface->breaks[last - 1] >= high)
        last--;
    Outline outline = {arena_take_many(arena, (size_t)(last - first + 1) * 2 + spare, sizeof *outline.edges), 0};
    double at = low;
    for (uint32_t i = first; i <= last; i++) {
        double next = i < last ? surface->breaks[i] : high, inside = (at + next) / 2;
        OutlineEdge begin = surface_edge(surface, cut, at, inside);
        if (!outline.count || !same_edge(outline.edges[outline.count - 1], begin))
            outline.edges[outline.count++] = begin;
        outline.edges[outline.count++] = surface_edge(surface, cut, next, inside);
        at = next;
    }
    if (from > to)
        reverse_edges(outline.edges, outline.count);
    return outline;
}

OutlineEdge outline_at(const Outline *outline, double x, uint32_t *near)
{
    const OutlineEdge *edges = outline->edges;
    double direction = edges[outline->count - 1].x < edges[0].x ? -1 : 1;
    while (*near + 2 < outline->count && (x - edges[*near + 1].x) * direction > 0)
        (*near)++;
    OutlineEdge a = edges[*near], b = outline->count > 1 ? edges[*near + 1] : a;
    double part = b.x == a.x ? 0 : fmin(fmax((x - a.x) / (b.x - a.x), 0), 1);
    return (OutlineEdge){x, a.up + part * (b.up - a.up), a.down + part * (b.down - a.down)};
}
