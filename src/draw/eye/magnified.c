#include "draw/eye/magnified.h"

#include "draw/eye/field_seen.h"
#include "draw/eye/lightness.h"
#include "draw/eye/strip.h"
#include "draw/picture/through.h"

#include <math.h>

/* Bare rod on either side of a wrap, mm. By eye, as are the heights on the page. */
#define BESIDE 2.0
#define STRIP_HEIGHT 9.0
#define STRIPS_APART 1.2
#define ROWS_APART 5.0
#define NAMES_HEIGHT 3.4
#define TICK 2.4
/* mm of the rod by which two places that are the same may differ. */
#define SAME_EDGE 1e-6
enum { STRIPS = 3, BARE_STRIPS = 2 };

/* A wrap that is drawn, and what of it is in a row. */
typedef struct Magnified {
    EyePage *page;
    const PlaceView *view;
    LightProfile profiles[2]; /* under finish, bare */
    bool bare, crossed;
    FieldSpan fields;
    Surface surface;
    double low, high; /* of all rows */
} Magnified;

static bool has_bare(const Thread *thread) { return thread->has_bare && thread->bare != thread->colour; }

static bool layer_shows_bare(const PlannedLayer *layer)
{
    for (uint32_t r = 0; r < layer->run_count; r++)
        for (uint32_t i = 0; layer->runs[r].strands && i < layer->runs[r].strands->count; i++)
            if (has_bare(layer->runs[r].strands->items[i].thread))
                return true;
    for (uint32_t i = 0; layer->crosswrap && i < layer->crosswrap->strand_count; i++)
        if (has_bare(layer->crosswrap->strands[i].thread))
            return true;
    return false;
}

bool shows_bare(const PlaceView *view)
{
    for (uint32_t p = 0; p < view->count; p++)
        for (uint32_t l = 0; l < view->places[p].layer_count; l++)
            if (layer_shows_bare(&view->places[p].layers[l]))
                return true;
    return false;
}

/* The middle of the topmost crosswrap, or that of its crossings that lies nearest to it and to the viewer. */
static double telling_place(const PlaceView *view)
{
    const PlannedCrosswrap *planned = NULL;
    for (uint32_t i = 0; i < view->places[0].layer_count; i++)
        planned = view->places[0].layers[i].crosswrap ? view->places[0].layers[i].crosswrap : planned;
    double middle = (planned->field_start + planned->field_end) / 2, nearest = INFINITY;
    uint32_t line = nearest_line(planned, view->facing / 360);
    for (uint32_t i = 0; !is_spiral(planned) && i < crosswrap_mark_count(planned, line); i++)
        if (fabs(crosswrap_mark(planned, line, i) - middle) < fabs(nearest - middle))
            nearest = crosswrap_mark(planned, line, i);
    return isfinite(nearest) ? nearest : middle;
}

/* What is drawn of the view along the axis: of a crosswrap that is longer than a row one row of it, since it
 * repeats itself. */
static FieldSpan span_of(const EyePage *page, const PlaceView *view)
{
    double most = page->room / page->canvas->scale;
    FieldSpan all = {fmax(view->low, view->inner_low - BESIDE), fmin(view->high, view->inner_high + BESIDE)};
    if (!has_crosswrap(view->places) || all.high - all.low <= most)
        return all;
    double low = fmin(fmax(telling_place(view) - most / 2, all.low), all.high - most);
    return (FieldSpan){low, low + most};
}

bool is_cut_short(const EyePage *page, const PlaceView *view)
{
    FieldSpan span = span_of(page, view);
    return has_crosswrap(view->places) && span.high - span.low < view->inner_high - view->inner_low;
}

/* Of the fields, so much as lies between two places. */
static FieldSpan within(FieldSpan fields, double low, double high)
{
    return (FieldSpan){fmax(fields.low, low), fmin(fields.high, high)};
}

double crossed_length(const EyePage *page, const PlaceView *view)
{
    FieldSpan all = span_of(page, view), crossed = within(field_span(view), all.low, all.high);
    return fmax(0, crossed.high - crossed.low);
}

/* --- where a wrap is cut into rows --- */

static bool one_fade(const Run *one, const Run *other)
{
    return one && other && run_fades(one) && run_fades(other) && one->item == other->item;
}

/* Where the fade begins in which x lies; x itself where it lies in none. */
static double before_fade(const LightProfile *profile, double x)
{
    uint32_t at = profile_at(profile, x);
    const LitPiece *pieces = profile->list.items;
    if (!pieces[at].run || !run_fades(pieces[at].run))
        return x;
    while (one_fade(pieces[at - 1].run, pieces[at].run))
        at--;
    return pieces[at].from;
}

/* Rows are about as long as one another; a fade is not cut where it need not be. */
static double row_end(const Magnified *wrap, double from)
{
    double most = wrap->page->room / wrap->page->canvas->scale, left = wrap->high - from;
    if (left <= most * (1 + 1e-9))
        return wrap->high;
    double even = from + left / ceil(left / most), cut = before_fade(&wrap->profiles[0], even);
    return cut - from > (even - from) / 2 ? cut : even;
}

/* --- strips --- */

static void start_strip(Canvas *canvas, const char *title)
{
    Shape *shape = LIST_ADD(canvas->arena, &canvas->drawing->shapes);
    *shape = (Shape){.kind = SHAPE_GROUP_START, .fill = NO_COLOUR, .stroke = NO_COLOUR, .text = title};
}

static void draw_layers(Canvas *canvas, const Frame *frame, const Surface *surface, const PlannedPlace *place)
{
    for (uint32_t i = 0; i < place->layer_count; i++)
        draw_layer(canvas, frame, surface, place, i, "");
}

static void draw_hosts(Canvas *canvas, const Frame *frame, const Surface *surface, const PlannedPlace *place)
{
    if (!place->host)
        return;
    draw_hosts(canvas, frame, surface, place->host);
    draw_layers(canvas, frame, surface, place->host);
}

/* Sharp, with every strand. */
static void draw_crossed(const Magnified *wrap, const Frame *frame, double low, double high)
{
    Canvas *canvas = wrap->page->canvas;
    const PlaceView *view = wrap->view;
    OutlineCut all = {view->places, view->count, UINT32_MAX, 0, false, 0};
    canvas->backdrop = true;
    canvas->shown_low = low;
    canvas->shown_high = high;
    draw_blank(canvas, frame, &wrap->surface, &all, low, high);
    draw_hosts(canvas, frame, &wrap->surface, view->places);
    for (uint32_t i = 0; i < view->count; i++)
        draw_layers(canvas, frame, &wrap->surface, &view->places[i]);
    canvas->shown_low = -INFINITY;
    canvas->shown_high = INFINITY;
    canvas->backdrop = false;
}

/* What is drawn next is seen on the rod alone. */
static void clip_to(Canvas *canvas, const Frame *frame, const Outline *skin)
{
    for (uint32_t i = 0; i < skin->count * 2; i++) {
        bool upper = i < skin->count;
        OutlineEdge edge = skin->edges[upper ? i : skin->count * 2 - 1 - i];
        Point point = {frame_x(frame, edge.x), frame->axis + (upper ? -edge.down : edge.down) * frame->across};
        if (i)
            area_line(&canvas->area, point);
        else
            area_begin(&canvas->area, point);
    }
    clip_start(canvas);
}

/* With crosswraps: the rod from one side. */
static void draw_round(const Magnified *wrap, const Frame *frame, const Outline *skin, const Strip *strip,
                       bool bare)
{
    EyePage *page = wrap->page;
    Canvas *canvas = page->canvas;
    const Clip *clip = canvas->clip;
    double beside = SEEN_WITHIN * strip->blur; /* from where strands are seen, too */
    FieldSpan fields =
        within((FieldSpan){wrap->fields.low - beside, wrap->fields.high + beside}, strip->low, strip->high);
    clip_to(canvas, frame, skin);
    if (strip->blur == 0) {
        draw_crossed(wrap, frame, strip->low, strip->high);
    } else {
        draw_strip(canvas, frame, strip);
        if (fields.low < fields.high)
            draw_field_seen(canvas, wrap->view, frame, skin, strip->blur, fields, bare,
                            page->looks * (fields.high - fields.low));
    }
    canvas->clip = clip;
}

/* A line of words left of a strip. */
static void draw_side_words(const EyePage *page, double y, const char *words, uint32_t ink)
{
    draw_text(page->canvas, page->left - 2, y, LETTERS_SMALL, ALIGN_END, ink, words);
}

static void draw_one(const Magnified *wrap, double low, double high, int distance, bool bare)
{
    EyePage *page = wrap->page;
    Canvas *canvas = page->canvas;
    Frame frame = {page->left, low, 0, canvas->scale, canvas->scale, wrap->view->facing / 360, 0.25};
    double height = STRIP_HEIGHT, top = canvas->y;
    OutlineCut all = {wrap->view->places, wrap->view->count, UINT32_MAX, 0, false, 0};
    Outline skin = surface_outline(canvas->arena, &wrap->surface, &all, low, high, 0);
    for (uint32_t i = 0; wrap->crossed && i < skin.count; i++)
        height = fmax(height, 2 * skin.edges[i].down * canvas->scale);
    frame.axis = top + height / 2;
    const char *away = bare ? "before finish" : page->away[distance];
    start_strip(canvas, text_format(canvas->arena, bare ? "%s, before finish" : "%s", page->from[distance]));
    Strip strip = {&wrap->profiles[bare], page->blur[distance], 0, low, high, top, height};
    if (wrap->crossed)
        draw_round(wrap, &frame, &skin, &strip, bare);
    else
        draw_strip(canvas, &frame, &strip);
    if (!wrap->crossed)
        draw_rectangle(canvas, page->left, top, (high - low) * canvas->scale, height, NO_COLOUR, PALE_INK);
    group_end(canvas);
    draw_side_words(page, frame.axis - LETTERS_SMALL * 0.15, page->from[distance], INK);
    draw_side_words(page, frame.axis + LETTERS_SMALL * 1.15, away, GREY_INK);
    canvas->y = top + height + STRIPS_APART;
}

/* From the edge of the fade's first turn to that of its last, along the axis. */
static FieldSpan fade_span(const PlaceView *view, const Run *run)
{
    for (uint32_t p = 0; p < view->count; p++)
        for (uint32_t l = 0; l < view->places[p].layer_count; l++) {
            const PlannedLayer *layer = &view->places[p].layers[l];
            if (run < layer->runs || run >= layer->runs + layer->run_count)
                continue;
            const PlannedItem *item = &layer->items[run->item];
            double start = layer->runs[item->first_run].start;
            double end = layer->runs[item->first_run + item->run_count - 1].end;
            return (FieldSpan){fmin(start, end), fmax(start, end)};
        }
    return (FieldSpan){NAN, NAN}; /* of what the wrap lies on */
}

/* Below the strip where the fade begins and where it ends, of what shows of it. */
static void draw_ticks(const Magnified *wrap, double low, double high, FieldSpan shown, const Run *run)
{
    EyePage *page = wrap->page;
    FieldSpan fade = fade_span(wrap->view, run);
    const double ticks[][2] = {{fade.low, shown.low}, {fade.high, shown.high}};
    for (int i = 0; i < 2; i++) {
        double at = ticks[i][0];
        if (!(fabs(at - ticks[i][1]) <= SAME_EDGE) || at < low || at > high)
            continue;
        double x = page->left + (at - low) * page->canvas->scale, y = page->canvas->y - STRIPS_APART;
        draw_line(page->canvas, x, y, x, y + TICK, INK, PEN);
        page->ticks++;
    }
}

/* Below the sharp strip what each part of it is, where the words have room. */
static void draw_names(const Magnified *wrap, double low, double high)
{
    Canvas *canvas = wrap->page->canvas;
    const LightProfile *profile = &wrap->profiles[0];
    double y = canvas->y + LETTERS_SMALL;
    for (uint32_t i = profile_at(profile, low), end; i < profile->list.count; i = end) {
        const LitPiece *pieces = profile->list.items;
        const Run *run = pieces[i].run;
        for (end = i + 1; end < profile->list.count && (pieces[end].run == run || one_fade(pieces[end].run, run));)
            end++;
        double from = fmax(pieces[i].from, low), to = fmin(pieces[end - 1].to, high);
        if (from >= high)
            break;
        if (!run)
            continue;
        if (run_fades(run))
            draw_ticks(wrap, low, high, (FieldSpan){pieces[i].from, pieces[end - 1].to}, run);
        if (run_fades(run))
            buffer_text(&canvas->words, "fade");
        else
            put_thread_names(&canvas->words, run->strands);
        const char *words = take_words(canvas);
        double middle = wrap->page->left + ((from + to) / 2 - low) * canvas->scale;
        if (text_width(words, LETTERS_SMALL) <= (to - from) * canvas->scale)
            draw_text(canvas, middle, y, LETTERS_SMALL, ALIGN_MIDDLE, GREY_INK, words);
    }
    canvas->y += NAMES_HEIGHT;
}

static void draw_row(const Magnified *wrap, double low, double high)
{
    for (int i = 0; i < STRIPS; i++) {
        draw_one(wrap, low, high, i, false);
        if (i == 0)
            draw_names(wrap, low, high);
    }
    draw_lightness(wrap->page, wrap->view, &wrap->profiles[0], low, high);
    for (int i = STRIPS - BARE_STRIPS; wrap->bare && i < STRIPS; i++)
        draw_one(wrap, low, high, i, true);
    wrap->page->canvas->y += ROWS_APART - STRIPS_APART;
}

void draw_magnified(EyePage *page, const PlaceView *view)
{
    Canvas *canvas = page->canvas;
    Arena *arena = canvas->arena;
    FieldSpan all = span_of(page, view);
    Magnified wrap = {.page = page,
                      .view = view,
                      .bare = shows_bare(view),
                      .crossed = crossed_length(page, view) > 0,
                      .fields = field_span(view),
                      .low = all.low,
                      .high = all.high};
    for (int bare = 0; bare <= wrap.bare; bare++)
        wrap.profiles[bare] =
            profile_of_places(arena, canvas->rod->rod, view->places, view->count, view->low, view->high, bare);
    surface_start(&wrap.surface, arena, canvas->rod->surface, view->places[0].host, view->places, view->count,
                  view->low, view->high);
    for (double from = wrap.low, to; from < wrap.high; from = to) {
        to = row_end(&wrap, from);
        draw_row(&wrap, from, to);
    }
}
