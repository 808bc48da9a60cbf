#include "draw/rod/close_up.h"

#include "draw/rod/far_strip.h"

#include "base/sort.h"
#include "draw/rod/reach.h"
#include "trade/trade.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Numbers of turns that differ by no more than this, or than this part of them, look alike: by eye. */
#define ALIKE_TURNS 2.0
#define ALIKE_PART 0.1
/* Bare blank on either side of a wrap: a part of the wrap's width, and within these, mm. By eye. */
#define BARE_PART 0.15
#define BARE_LEAST 2.5
#define BARE_MOST 7.0
/* Page mm at true scale that a close-up may take along and across, and what lies between two. By eye. */
#define ALONG_MOST 84.0
#define ACROSS_MOST 46.0
#define LEAST_WIDTH 26.0
/* More close-ups than these nobody looks at, and no more of one row; wraps that look nearly alike are sought among
 * so many. */
enum { MOST_CLOSE_UPS = 120, MOST_OF_A_ROW = 24, MOST_TRIED = 8, NAME_CHARACTERS = 40, MOST_NAMED = 5 };

double words_size(const RodPage *page, uint32_t line)
{
    return (line ? LETTERS_SMALL : LETTERS_TEXT) * page->canvas->type;
}

/* --- which wraps look alike --- */

static bool alike_numbers(double one, double other)
{
    return fabs(one - other) <= fmax(ALIKE_TURNS, ALIKE_PART * fmax(one, other));
}

static bool alike_strands(const Strands *one, const Strands *other)
{
    if (!one || !other)
        return one == other;
    bool alike = one->count == other->count;
    for (uint32_t i = 0; alike && i < one->count; i++)
        alike = one->items[i].thread == other->items[i].thread && one->items[i].spacer == other->items[i].spacer;
    return alike;
}

static bool alike_crosswraps(const PlannedCrosswrap *one, const PlannedCrosswrap *other)
{
    if (!one || !other)
        return one == other;
    bool alike = one->crosswrap->kind == other->crosswrap->kind && one->starts == other->starts
                 && one->strand_count == other->strand_count && one->crossings == other->crossings
                 && one->sense * one->direction == other->sense * other->direction;
    for (uint32_t i = 0; alike && i < one->strand_count; i++)
        alike = one->strands[i].thread == other->strands[i].thread
                && one->strands[i].spacer == other->strands[i].spacer;
    return alike;
}

/* Gaps by their widths, as turns of a fine thread. */
static double run_size(const Run *run) { return run->strands ? run->turns : fabs(run->end - run->start) * 5; }

static bool alike_layers(const PlannedLayer *one, const PlannedLayer *other)
{
    bool alike = one->layer->over == other->layer->over && one->run_count == other->run_count
                 && alike_crosswraps(one->crosswrap, other->crosswrap);
    for (uint32_t i = 0; alike && i < one->run_count; i++)
        alike = alike_strands(one->runs[i].strands, other->runs[i].strands)
                && alike_numbers(run_size(&one->runs[i]), run_size(&other->runs[i]));
    return alike;
}

bool look_alike(const PlaceView *one, const PlaceView *other)
{
    bool alike = one->places[0].place->guide == other->places[0].place->guide
                 && one->places[0].place->angle == other->places[0].place->angle
                 && (!one->places[0].host == !other->places[0].host);
    for (uint32_t p = 0; alike && p < one->count; p++) {
        const PlannedPlace *a = &one->places[p], *b = &other->places[p];
        alike = a->layer_count == b->layer_count;
        for (uint32_t l = 0; alike && l < a->layer_count; l++)
            alike = alike_layers(&a->layers[l], &b->layers[l]);
    }
    return alike;
}

static uint64_t hash_pointer(uint64_t hash, const Text *name)
{
    return hash_string(hash, name ? name->bytes : "");
}

/* The same for all that look alike. */
static uint64_t kind_of(const PlaceView *view)
{
    const Guide *guide = view->places[0].place->guide;
    uint64_t hash = hash_pointer(HASH_START, guide ? guide->name : NULL);
    hash = hash_number(hash, (uint64_t)llround(view->places[0].place->angle * 1e9));
    for (uint32_t p = 0; p < view->count; p++)
        for (uint32_t l = 0; l < view->places[p].layer_count; l++) {
            const PlannedLayer *layer = &view->places[p].layers[l];
            hash = hash_number(hash, layer->run_count);
            for (uint32_t r = 0; r < layer->run_count && layer->runs[r].strands; r++)
                hash = hash_pointer(hash, layer->runs[r].strands->items[0].thread->name);
        }
    return hash;
}

/* --- what it shows --- */

/* Guides are shown with their ring on top, crosswraps from where their crossings lie, if nothing else is asked
 * for. A customer sees rings as they stand in the row above. */
static double facing_of(const RodPage *page, const PlaceView *view)
{
    if (isfinite(page->canvas->facing))
        return page->canvas->facing / 360;
    double angle = view->places[0].place->angle;
    if (view->places[0].foot >= 0)
        return page->presentation ? 0.25 : angle + 0.25;
    return has_crosswrap(view->places) ? angle : 0.25;
}

static void frame_close_up(const RodPage *page, CloseUp *close)
{
    close->facing = facing_of(page, close->view);
    Reach reach = view_reach(page, close->view, close->facing);
    double bare = fmin(fmax((reach.high - reach.low) * BARE_PART, BARE_LEAST), BARE_MOST);
    close->low = fmax(reach.low - bare, fmin(page->low, reach.low));
    close->high = fmin(reach.high + bare, fmax(page->high, reach.high));
    PartsSeen parts = parts_seen(page->canvas, &(PlaceView){.low = close->low, .high = close->high});
    close->up = fmax(reach.up, parts.radius);
    close->down = fmax(reach.down, parts.radius);
    close->rise = fmin(close->up, middle_rise(page, close->view, close->facing));
}

/* --- what is said --- */

static void put_name(Canvas *canvas, const CloseUp *close)
{
    Buffer *words = &canvas->words;
    const PlannedPlace *place = close->view->places;
    const Guide *guide = place->place->guide;
    uint32_t count = close->like.count;
    if (guide) {
        buffer_text(words, fitted(canvas->arena, name_read(canvas->arena, guide->name->bytes), NAME_CHARACTERS));
        if (count > 1)
            buffer_format(words, ", %u guides", count);
        return;
    }
    const char *kind = "wrap";
    for (uint32_t l = 0; l < place->layer_count; l++)
        kind = place->layers[l].crosswrap ? crosswrap_word(place->layers[l].crosswrap) : kind;
    if (count > 1)
        buffer_format(words, "%u %ss", count, kind);
    else
        buffer_text(words, kind);
}

static double mark_of(const Canvas *canvas, const PlaceView *view)
{
    const Place *place = view->places[0].place;
    return place->from_tip ? blank_tip(canvas->rod->rod->blank) - place->mark : place->mark;
}

static void put_mark(Canvas *canvas, const PlaceView *view)
{
    put_quantity(&canvas->words, canvas->units, QUANTITY_PLACE, mark_of(canvas, view));
}

/* How many of these begin at the first one's mark: one, or one worked each way. */
static uint32_t at_one_mark(const CloseUp *close, uint32_t first)
{
    uint32_t end = first + 1;
    while (end < close->like.count
           && close->like.items[end]->places[0].place->mark == close->like.items[first]->places[0].place->mark)
        end++;
    return end - first;
}

/* "at 41, 29, 18.5 and 9 cm from the tip", "at 120 cm from the butt, toward the butt and toward the tip" */
static void put_places(Canvas *canvas, const CloseUp *close)
{
    Buffer *words = &canvas->words;
    bool from_tip = close->view->places[0].place->from_tip;
    uint32_t count = close->like.count, both = at_one_mark(close, 0);
    buffer_text(words, "at ");
    if (count > MOST_NAMED) {
        put_mark(canvas, close->view);
        buffer_text(words, " to ");
        put_mark(canvas, close->like.items[count - 1]);
    }
    for (uint32_t i = 0, next; count <= MOST_NAMED && i < count; i = next) {
        next = i + at_one_mark(close, i);
        if (i)
            buffer_text(words, next < count ? ", " : " and ");
        put_mark(canvas, close->like.items[i]);
        if (next > i + 1 && next - i < count)
            buffer_text(words, " both ways");
    }
    buffer_text(words, from_tip ? " from the tip" : " from the butt");
    if (count > 1 && both == count)
        buffer_text(words, ", toward the butt and toward the tip");
    double angle = close->view->places[0].place->angle; /* of all that look alike */
    if (angle != 0)
        buffer_format(words, " at %s deg", show_number(canvas->arena, clock_degrees(angle), 2));
}

static const char *scale_words(Canvas *canvas, double scale)
{
    return scale == 1   ? "true size"
           : scale == 2 ? "twice true size"
                        : text_format(canvas->arena, "%s times true size", show_number(canvas->arena, scale, 3));
}

/* How a guide's ring stands where that clock angle faces the viewer. */
static const char *ring_words(const PlaceView *view, double facing)
{
    static const char *const words[] = {
        "ring on top", "ring on top, toward you",     "ring toward you",      "ring below, toward you",
        "ring below",  "ring below, on the far side", "ring on the far side", "ring on top, on the far side"};
    double turns = view->places[0].place->angle - facing + 0.25;
    return words[(int)lround((turns - floor(turns)) * 8) % 8];
}

/* Of the strip below it, where there is one. */
static void put_far(const RodPage *page, const CloseUp *close)
{
    Canvas *canvas = page->canvas;
    if (far_strip_height(page, close->view) == 0)
        return;
    buffer_text(&canvas->words, page->presentation ? "below, as it looks from " : "; below, as seen from ");
    put_quantity(&canvas->words, canvas->units, QUANTITY_DISTANCE, canvas->plan->job->bench.far);
}

static void tell(RodPage *page, CloseUp *close)
{
    Canvas *canvas = page->canvas;
    const PlannedPlace *place = close->view->places;
    if (place->place->guide || has_crosswrap(place) || !page->presentation) {
        put_name(canvas, close);
        close->words[0] = take_words(canvas);
    }
    if (page->presentation) {
        if (place->foot >= 0 && stands_round(canvas->rod))
            close->words[1] = ring_words(close->view, close->facing);
        put_far(page, close);
        close->words[2] = canvas->words.length ? take_words(canvas) : NULL;
        return;
    }
    put_places(canvas, close);
    close->words[1] = take_words(canvas);
    buffer_text(&canvas->words, scale_words(canvas, close->scale));
    if (close->facing == 0)
        buffer_text(&canvas->words, ", rod's line toward you");
    else if (close->facing != 0.25)
        buffer_format(&canvas->words, ", %s deg toward you",
                      show_number(canvas->arena, clock_degrees(close->facing), 1));
    put_far(page, close);
    close->words[2] = take_words(canvas);
}

/* --- how large they are --- */

static double width_at(const CloseUp *close, double scale) { return (close->high - close->low) * scale; }

/* The largest that suits comes first. */
static const double scales[] = {2, 1.5, 1.25, 1, 0.75};
enum { SCALES = sizeof scales / sizeof *scales };

static bool is_guide(const CloseUp *close) { return close->view->places[0].foot >= 0; }

/* Whether those of a row have room side by side, wraps of guides at one scale and others at another; at 0 they are
 * left out. */
static bool have_room(const RodPage *page, const CloseUp *first, uint32_t count, double guides, double others)
{
    double type = page->canvas->type, gap = CLOSE_UPS_APART * type, taken = -gap;
    for (uint32_t i = 0; i < count; i++) {
        double scale = is_guide(&first[i]) ? guides : others, width = width_at(&first[i], scale);
        if (scale == 0)
            continue;
        taken += gap + fmax(width, page->presentation ? 0 : LEAST_WIDTH * type);
        if ((scale > 1 && width > ALONG_MOST * type)
            || (scale >= 1 && (first[i].up + first[i].down) * scale > ACROSS_MOST * type))
            return false;
    }
    return taken <= page->room;
}

static uint32_t row_end(const CloseUps *close_ups, uint32_t first)
{
    uint32_t end = first;
    while (end < close_ups->list.count && close_ups->list.items[end].row == close_ups->list.items[first].row)
        end++;
    return end;
}

/* Guides are of one scale in all rows, so that a larger ring looks larger. */
static double scale_of_guides(const RodPage *page, const CloseUps *close_ups)
{
    int s = 0;
    for (uint32_t i = 0, end; i < close_ups->list.count; i = end) {
        end = row_end(close_ups, i);
        while (s < SCALES - 1 && !have_room(page, &close_ups->list.items[i], end - i, scales[s], 0))
            s++;
    }
    return scales[s];
}

/* Other wraps of a row are of one scale; beside guides not much larger than these. */
static double scale_of_others(const RodPage *page, const CloseUp *first, uint32_t count, double guides)
{
    double most = scales[0];
    int s = 0;
    for (uint32_t i = 0; i < count; i++)
        most = is_guide(&first[i]) ? fmax(guides, 1) : most;
    while (s < SCALES - 1 && (scales[s] > most || !have_room(page, first, count, guides, scales[s])))
        s++;
    return scales[s];
}

/* But for one that is too large for the page. */
static void size_close_up(const RodPage *page, CloseUp *close, double scale)
{
    double across = (close->up + close->down) / (2 * ACROSS_MOST * page->canvas->type);
    close->scale = fmin(scale, fmin(page->room / width_at(close, 1), 1 / across));
    close->up *= close->scale;
    close->rise *= close->scale;
    close->down *= close->scale;
}

static void size_close_ups(const RodPage *page, CloseUps *close_ups)
{
    CloseUp *items = close_ups->list.items;
    double guides = scale_of_guides(page, close_ups);
    for (uint32_t i = 0, end; i < close_ups->list.count; i = end) {
        end = row_end(close_ups, i);
        double others = scale_of_others(page, &items[i], end - i, guides);
        for (uint32_t j = i; j < end; j++)
            size_close_up(page, &items[j], is_guide(&items[j]) ? guides : others);
    }
}

static void measure_width(const RodPage *page, CloseUp *close)
{
    close->width = width_at(close, close->scale);
    for (uint32_t i = 0; i < sizeof close->words / sizeof *close->words; i++)
        if (close->words[i])
            close->width = fmax(close->width, text_width(close->words[i], words_size(page, i)));
}

/* --- all of them --- */

static int from_butt(const void *one, const void *other)
{
    const PlaceView *a = *(const PlaceView *const *)one, *b = *(const PlaceView *const *)other;
    return a->inner_low != b->inner_low ? ORDER(a->inner_low, b->inner_low) : ORDER(a, b);
}

static double middle_of(const PlaceView *view) { return (view->inner_low + view->inner_high) / 2; }

/* The close-up of this row that shows such a wrap already; NULL for none. Few of one row are looked through, the
 * latest first. */
static CloseUp *shown_already(CloseUps *close_ups, const PlaceView *view, uint32_t row, uint64_t kind)
{
    uint32_t tried = 0;
    for (uint32_t i = close_ups->list.count; i-- > 0 && close_ups->list.items[i].row == row;) {
        CloseUp *close = &close_ups->list.items[i];
        if (close->kind != kind)
            continue;
        if (look_alike(close->view, view))
            return close;
        if (++tried == MOST_TRIED)
            return NULL;
    }
    return NULL;
}

CloseUps close_ups_make(RodPage *page, const RodRows *rows)
{
    Arena *arena = page->canvas->arena;
    CloseUps close_ups = {{NULL, 0, 0}, 0};
    const PlaceView **sorted = arena_take_many(arena, page->view_count, sizeof *sorted);
    for (uint32_t i = 0; i < page->view_count; i++)
        sorted[i] = &page->views[i];
    if (page->view_count)
        qsort(sorted, page->view_count, sizeof *sorted, from_butt);
    uint32_t row = 0, of_row = 0;
    for (uint32_t i = 0; i < page->view_count; i++) {
        uint32_t here = row_at(rows, middle_of(sorted[i]));
        of_row = here == row ? of_row : 0;
        row = here;
        uint64_t kind = kind_of(sorted[i]);
        CloseUp *close = shown_already(&close_ups, sorted[i], row, kind);
        if (!close && (of_row == MOST_OF_A_ROW || close_ups.list.count == MOST_CLOSE_UPS)) {
            close_ups.left_out++;
            continue;
        }
        if (!close) {
            close = LIST_ADD(arena, &close_ups.list);
            *close = (CloseUp){.view = sorted[i], .row = row, .kind = kind};
            of_row++;
        }
        *LIST_ADD(arena, &close->like) = sorted[i];
    }
    CloseUp *items = close_ups.list.items;
    for (uint32_t i = 0; i < close_ups.list.count; i++)
        frame_close_up(page, &items[i]);
    size_close_ups(page, &close_ups);
    for (uint32_t i = 0; i < close_ups.list.count; i++) {
        tell(page, &items[i]);
        measure_width(page, &items[i]);
    }
    return close_ups;
}
