/* Panels: one for each place, the two feet of a guide in one. */
#include "draw/picture/place_view.h"
#include "draw/picture/guide.h"

#include "plan/plan_sums.h"
#include "trade/trade.h"

#include <math.h>

/* Bare blank shown on either side of what is there, mm of the rod. */
#define BARE 5.0
/* On which side of a joint a place begins is looked at so near to its mark, mm. */
#define NEAR 1e-6
/* Heights at true scale, page mm. */
#define BAND_ROW 3.0
#define PANEL_GAP 5.0

static void include(PlaceView *place_view, double x)
{
    if (!isfinite(x))
        return;
    place_view->inner_low = fmin(place_view->inner_low, x);
    place_view->inner_high = fmax(place_view->inner_high, x);
}

static void include_place(PlaceView *place_view, const PlannedPlace *place)
{
    include(place_view, place->start);
    include(place_view, place->start + place->direction * place->length);
    if (place->foot >= 0) {
        include(place_view, place->foot_tip);
        include(place_view, place->foot_end);
        include(place_view, place->place->mark);
    }
    for (uint32_t i = 0; i < place->layer_count; i++) {
        const PlannedLayer *layer = &place->layers[i];
        if (layer->run_count) {
            include(place_view, layer->runs[0].start);
            include(place_view, layer->runs[layer->run_count - 1].end);
        }
    }
}

/* In the place, or below it. */
static bool shows_crosswrap(const PlannedPlace *place)
{
    return has_crosswrap(place) || (place->host && has_crosswrap(place->host));
}

/* Guides are seen from the side, those on the rod's line with their rings on top; crosswraps from where their
 * crossings lie, if nothing else is asked for. */
static double facing_of(const Canvas *canvas, const PlannedPlace *place)
{
    if (canvas->view == VIEW_UNROLLED)
        return clock_degrees(place->place->angle);
    if (isfinite(canvas->facing))
        return canvas->facing;
    if (place->foot >= 0 || !shows_crosswrap(place))
        return 90;
    return clock_degrees((has_crosswrap(place) ? place : place->host)->place->angle);
}

/* What is known of the blank there: of the section that the place lies on. */
static Section section_of(const Rod *rod, const PlannedPlace *place)
{
    if (rod->section_count > 1)
        return rod->sections[place->section];
    return (Section){.start = blank_butt(rod->blank), .end = blank_tip(rod->blank)};
}

PlaceView place_view_of(const Canvas *canvas, uint32_t first)
{
    const PlannedRod *rod = canvas->rod;
    const PlannedPlace *place = &rod->places[first];
    PlaceView place_view = {.places = place,
                            .count = 1,
                            .inner_low = INFINITY,
                            .inner_high = -INFINITY,
                            .facing = facing_of(canvas, place)};
    if (place->foot >= 0)
        place_view.count = place->place->guide->foot_count;
    for (uint32_t i = 0; i < place_view.count; i++)
        include_place(&place_view, &place[i]);
    const Section own = section_of(rod->rod, place);
    place_view.low = fmin(place_view.inner_low, fmax(place_view.inner_low - BARE, own.start));
    place_view.high = fmax(place_view.inner_high, fmin(place_view.inner_high + BARE, own.end));
    return place_view;
}

double place_views_width(const Canvas *canvas, double gutter)
{
    double width = 0;
    for (uint32_t i = 0, next; i < canvas->rod->place_count; i = next) {
        next = i + 1;
        if (!is_shown(canvas, &canvas->rod->places[i]))
            continue;
        PlaceView place_view = place_view_of(canvas, i);
        next = i + place_view.count;
        width = fmax(width, (place_view.high - place_view.low) * canvas->scale + 2 * gutter);
    }
    for (uint32_t i = 0; i < canvas->rod->place_count; i++)
        if (is_shown(canvas, &canvas->rod->places[i]))
            width = fmax(width, canvas->headings[i].width);
    return width;
}

/* ", 3 crossings every 20.00 mm, 12 strands a bundle"; ", 3 turns, 2 starts, 4 strands a bundle" */
static void put_crosswrap(Buffer *words, UnitSystem units, const PlannedCrosswrap *planned)
{
    buffer_text(words, ", ");
    put_crossings(words, planned);
    if (planned->crossings > 1) {
        buffer_text(words, " every ");
        put_length(words, units, planned->spacing);
    }
    if (planned->starts > 1)
        buffer_format(words, ", %u starts", planned->starts);
    buffer_format(words, planned->strand_count == 1 ? ", %u strand a bundle" : ", %u strands a bundle",
                  planned->strand_count);
}

/* Puts what has been gathered on the last line, or on one of its own where that would be long. */
static void add_fact(Canvas *canvas, Heading *heading)
{
    enum { LONGEST_LINE = 110 };
    const char *words = take_words(canvas);
    const char **last = heading->facts.count ? &heading->facts.items[heading->facts.count - 1] : NULL;
    if (last && text_columns(*last) + text_columns(words) < LONGEST_LINE)
        *last = text_format(canvas->arena, "%s; %s", *last, words);
    else
        *LIST_ADD(canvas->arena, &heading->facts) = words;
}

/* "the rod's line (0 deg) faces you" where that is not plain to see. */
static void put_facing(Canvas *canvas, const PlannedPlace *place, Heading *heading)
{
    bool plain = place->foot >= 0 || !shows_crosswrap(place);
    if (canvas->view != VIEW_SIDE || (plain && !isfinite(canvas->facing)))
        return;
    double facing = facing_of(canvas, place);
    buffer_text(&canvas->words, facing == 0 ? "the rod's line (" : "");
    buffer_number_short(&canvas->words, facing, 1);
    buffer_text(&canvas->words, facing == 0 ? " deg) faces you" : " deg faces you");
    add_fact(canvas, heading);
}

static void add_layer_fact(Canvas *canvas, Heading *heading, const PlannedPlace *place, uint32_t index)
{
    Buffer *words = &canvas->words;
    const PlannedLayer *layer = &place->layers[index];
    buffer_format(words, "%s: ", layer_label(place, index));
    if (layer->laid)
        put_length(words, canvas->units, shown_layer_width(place, layer, rounding_of_lengths(canvas->units)));
    if (!layer->laid)
        buffer_text(words, "left out");
    else if (layer->crosswrap)
        put_crosswrap(words, canvas->units, layer->crosswrap);
    else
        buffer_format(words, layer->turns == 1 ? ", %llu turn" : ", %llu turns", (unsigned long long)layer->turns);
    add_fact(canvas, heading);
}

/* "blank 12.93 mm at the mark; under: 54.00 mm, 360 turns; over: ..." */
static Heading heading_of(Canvas *canvas, const PlannedPlace *place)
{
    Heading heading = {.label = place_label(canvas->arena, canvas->plan->job, canvas->rod->rod, place)};
    buffer_text(&canvas->words, "blank ");
    put_quantity(
        &canvas->words, canvas->units, QUANTITY_DIAMETER,
        blank_diameter_beside(canvas->rod->rod->blank, place->start, place->start + place->direction * NEAR));
    buffer_text(&canvas->words, " at the mark");
    add_fact(canvas, &heading);
    put_facing(canvas, place, &heading);
    for (uint32_t i = 0; i < place->layer_count; i++)
        add_layer_fact(canvas, &heading, place, i);
    heading.width = text_width(heading.label, LETTERS_HEADING * canvas->type);
    for (uint32_t i = 0; i < heading.facts.count; i++)
        heading.width = fmax(heading.width, text_width(heading.facts.items[i], LETTERS_TEXT * canvas->type));
    return heading;
}

void headings_make(Canvas *canvas)
{
    uint32_t count = canvas->rod->place_count;
    canvas->headings = arena_take_many(canvas->arena, count, sizeof *canvas->headings);
    for (uint32_t i = 0; i < count; i++)
        if (is_shown(canvas, &canvas->rod->places[i]))
            canvas->headings[i] = heading_of(canvas, &canvas->rod->places[i]);
}

static void draw_headings(Canvas *canvas, const PlaceView *place_view)
{
    draw_line(canvas, MARGIN, canvas->y, canvas->drawing->width - MARGIN, canvas->y, PALE_INK, PEN_FINE);
    canvas->y += 2 * canvas->type;
    for (uint32_t i = 0; i < place_view->count; i++) {
        const Heading *heading = &canvas->headings[place_view->places + i - canvas->rod->places];
        canvas->y += LETTERS_HEADING * canvas->type;
        draw_text(canvas, MARGIN, canvas->y, LETTERS_HEADING * canvas->type, ALIGN_START, INK,
                  name_read(canvas->arena, heading->label));
        for (uint32_t f = 0; f < heading->facts.count; f++) {
            canvas->y += LETTERS_TEXT * 1.5 * canvas->type;
            draw_text(canvas, MARGIN, canvas->y, LETTERS_TEXT * canvas->type, ALIGN_START, GREY_INK,
                      heading->facts.items[f]);
        }
        canvas->y += 1.6 * canvas->type;
    }
}

double outline_half(const Outline *outline)
{
    double most = 0;
    for (uint32_t i = 0; i < outline->count; i++)
        most = fmax(most, outline->edges[i].down);
    return most;
}

/* The datum, and an arrow from it in the direction of working. */
static void draw_datum(Canvas *canvas, const Frame *frame, const PlaceView *place_view, const PlannedPlace *place,
                       double top, double bottom, double ruler)
{
    double x = frame_x(frame, place->start), type = canvas->type, d = place->direction;
    double room = (place_view->inner_high - place_view->inner_low) * canvas->scale / place_view->count - 1;
    double length = fmax(fmin(room, 10 * type), 3 * type), y = top - ARROW_ROW * type * 0.55, head = 1.6 * type;
    draw_line(canvas, x, y - 1.4 * type, x, top, MARK_INK, PEN);
    draw_line(canvas, x, bottom, x, ruler, MARK_INK, PEN);
    draw_line(canvas, x, y, x + d * (length - head), y, MARK_INK, PEN);
    draw_polygon(canvas,
                 (Point[]){{x + d * length, y},
                           {x + d * (length - head), y - head * 0.36},
                           {x + d * (length - head), y + head * 0.36}},
                 3, MARK_INK, SHADE_FLAT);
    draw_text(canvas, x - d * 1.2 * type, y + LETTERS_SMALL * type * 0.36, LETTERS_SMALL * type,
              d > 0 ? ALIGN_END : ALIGN_START, MARK_INK, "mark");
}

/* Rows of band marks, the topmost layer's nearest to the picture, then the ruler. Returns the ruler's y. */
static double draw_rows(Canvas *canvas, const Frame *frame, const PlaceView *place_view, double y)
{
    double height = BAND_ROW * canvas->type, size = LETTERS_SMALL * canvas->type;
    uint32_t layers = place_view->places[0].layer_count;
    for (uint32_t i = layers; i-- > 0; y += height) {
        for (uint32_t p = 0; p < place_view->count; p++)
            if (i < place_view->places[p].layer_count)
                draw_bands(canvas, frame, &place_view->places[p].layers[i], y, height * 0.9);
        if (layers > 1)
            draw_text(canvas, frame_x(frame, place_view->low) - 1.5, y + height / 2 + size * 0.3, size, ALIGN_END,
                      GREY_INK, layer_label(&place_view->places[0], i));
    }
    return y;
}

static void draw_rulers(Canvas *canvas, const Frame *frame, const PlaceView *place_view, double y)
{
    for (uint32_t i = 0; i < place_view->count; i++) {
        const PlannedPlace *place = &place_view->places[i];
        double end = toward_tip(place->direction) ? place_view->high : place_view->low;
        if (place->foot >= 0)
            end = place->foot_end;
        draw_ruler(canvas, frame, place->start, place->direction, fabs(end - place->start), y);
    }
}

/* What a place takes above and below the axis, mm of the rod. skin: the outline of blank and wraps; parts: how far
 * parts near it reach. A guide whose ring is on top is sketched above that. */
static Reach reach_of(Canvas *canvas, const PlaceView *place_view, const Surface *surface, const Outline *skin,
                      double parts)
{
    const PlannedPlace *feet = place_view->places;
    double half = fmax(outline_half(skin), parts);
    Reach reach = {place_view->low, place_view->high, half, half};
    if (canvas->view != VIEW_SIDE || feet->foot < 0)
        return reach;
    if (canvas->lean == 0) {
        reach.up += feet->place->guide->height;
        return reach;
    }
    OutlineCut footed = {feet, place_view->count, UINT32_MAX, 0, true, canvas->lean};
    Outline outline = surface_outline(canvas->arena, surface, &footed, place_view->low, place_view->high, 0);
    Reach guide = guide_reach(canvas, feet, place_view->facing / 360);
    for (uint32_t i = 0; i < outline.count; i++) {
        reach.up = fmax(reach.up, outline.edges[i].up);
        reach.down = fmax(reach.down, outline.edges[i].down);
    }
    return (Reach){reach.low, reach.high, fmax(reach.up, guide.up), fmax(reach.down, guide.down)};
}

static void draw_place_view(Canvas *canvas, const PlaceView *place_view, double left)
{
    double type = canvas->type;
    canvas->y += PANEL_GAP * type;
    draw_headings(canvas, place_view);
    Surface surface;
    surface_start(&surface, canvas->arena, canvas->rod->surface, place_view->places[0].host, place_view->places,
                  place_view->count, place_view->low, place_view->high);
    OutlineCut all = {place_view->places, place_view->count, UINT32_MAX, 0, false, 0};
    Outline skin = surface_outline(canvas->arena, &surface, &all, place_view->low, place_view->high, 0);
    bool footed = canvas->view == VIEW_SIDE && place_view->places[0].foot >= 0;
    PartsSeen parts = parts_seen(canvas, place_view);
    canvas->lean = footed ? guide_lean(place_view->places, place_view->facing / 360) : 0;
    Reach reach = reach_of(canvas, place_view, &surface, &skin, parts.radius);

    double across = canvas->scale * (canvas->view == VIEW_UNROLLED ? TRADE_PI : 1);
    double above = ARROW_ROW * type;
    if (footed && canvas->lean == 0)
        above = fmax(above, ring_rise(canvas)) + LETTERS_SMALL * 1.4 * type;
    Frame frame = {
        left,   place_view->low,          canvas->y + above + 0.8 * type + reach.up * across, canvas->scale,
        across, place_view->facing / 360, canvas->view == VIEW_UNROLLED ? 0.5 : 0.25};
    draw_picture(canvas, &frame, place_view, &surface, &skin, &parts, reach.up);

    double bottom = frame.axis + reach.down * across + (canvas->view == VIEW_SIDE ? 0.8 : 1.5) * type;
    double rows = draw_part_rows(canvas, &frame, place_view, &parts, bottom);
    double ruler = draw_rows(canvas, &frame, place_view, rows);
    for (uint32_t i = 0; i < place_view->count; i++)
        draw_datum(canvas, &frame, place_view, &place_view->places[i], frame.axis - reach.up * across - 0.4 * type,
                   bottom, ruler);
    draw_rulers(canvas, &frame, place_view, ruler);
    canvas->y = ruler + ruler_height(canvas);
}

bool is_shown(const Canvas *canvas, const PlannedPlace *place)
{
    return canvas->section == ALL_SECTIONS || canvas->section == place->section;
}

/* Above the first place of each, where all of a rod's sections are drawn. */
static void draw_section_heading(Canvas *canvas, const PlannedPlace *place)
{
    const Rod *rod = canvas->rod->rod;
    bool first = place == canvas->rod->places || place[-1].section != place->section;
    if (canvas->section != ALL_SECTIONS || rod->section_count < 2 || !first)
        return;
    canvas->y += (PANEL_GAP + LETTERS_HEADING) * canvas->type;
    draw_text(canvas, MARGIN, canvas->y, LETTERS_HEADING * canvas->type, ALIGN_START, INK,
              text_format(canvas->arena, "Section %u of %u: %s", (unsigned)place->section + 1,
                          (unsigned)rod->section_count, rod->sections[place->section].name));
}

void draw_place_views(Canvas *canvas, double left)
{
    for (uint32_t i = 0, next; i < canvas->rod->place_count; i = next) {
        next = i + 1;
        if (!is_shown(canvas, &canvas->rod->places[i]))
            continue;
        PlaceView place_view = place_view_of(canvas, i);
        next = i + place_view.count;
        draw_section_heading(canvas, place_view.places);
        draw_place_view(canvas, &place_view, left);
    }
}
