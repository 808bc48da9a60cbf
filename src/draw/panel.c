/* Panels: one for each place, the two feet of a guide in one. */
#include "draw/panel.h"

#include "trade/trade.h"

#include <math.h>

/* Bare blank shown on either side of what is there, mm of the rod. */
#define BARE 5.0
/* Heights at true scale, page mm. */
#define BAND_ROW 3.0
#define PANEL_GAP 5.0

static void include(Panel *panel, double x)
{
    if (!isfinite(x))
        return;
    panel->inner_low = fmin(panel->inner_low, x);
    panel->inner_high = fmax(panel->inner_high, x);
}

static void include_place(Panel *panel, const PlannedPlace *place)
{
    include(panel, place->start);
    include(panel, place->start + place->direction * place->length);
    if (place->foot >= 0) {
        include(panel, place->foot_tip);
        include(panel, place->foot_end);
        include(panel, place->place->mark);
    }
    for (uint32_t i = 0; i < place->layer_count; i++) {
        const PlannedLayer *layer = &place->layers[i];
        if (layer->run_count) {
            include(panel, layer->runs[0].start);
            include(panel, layer->runs[layer->run_count - 1].end);
        }
    }
}

/* In the place, or below it. */
static bool shows_crosswrap(const PlannedPlace *place)
{
    return has_crosswrap(place) || (place->host && has_crosswrap(place->host));
}

/* Guides are seen from the side, their rings on top; crosswraps from where their crossings lie, if nothing else
 * is asked for. */
static double facing_of(const Sheet *sheet, const PlannedPlace *place)
{
    if (sheet->view == VIEW_UNROLLED)
        return 0;
    if (place->foot >= 0)
        return 90;
    return isfinite(sheet->facing) ? sheet->facing : shows_crosswrap(place) ? 0 : 90;
}

/* The panel that begins with the rod's place number `first`. */
static Panel panel_of(const Sheet *sheet, uint32_t first)
{
    const PlannedRod *rod = sheet->rod;
    const PlannedPlace *place = &rod->places[first];
    Panel panel = {.places = place,
                   .count = 1,
                   .inner_low = INFINITY,
                   .inner_high = -INFINITY,
                   .facing = facing_of(sheet, place)};
    if (place->foot >= 0 && first + 1 < rod->place_count && place[1].place == place->place)
        panel.count = 2;
    for (uint32_t i = 0; i < panel.count; i++)
        include_place(&panel, &place[i]);
    const Blank *blank = rod->rod->blank;
    panel.low = fmin(panel.inner_low, fmax(panel.inner_low - BARE, blank_butt(blank)));
    panel.high = fmax(panel.inner_high, fmin(panel.inner_high + BARE, blank_tip(blank)));
    return panel;
}

static const char *label_of(Sheet *sheet, const PlannedPlace *place)
{
    return place_label(sheet->arena, sheet->plan->job, sheet->rod->rod, place);
}

double panels_width(Sheet *sheet)
{
    double width = 0;
    for (uint32_t i = 0, next; i < sheet->rod->place_count; i = next) {
        Panel panel = panel_of(sheet, i);
        next = i + panel.count;
        width = fmax(width, (panel.high - panel.low) * sheet->scale);
    }
    return width;
}

/* "diamond, 3 crossings every 20.00 mm, 12 strands a bundle"; "spiral, 3 turns, 2 starts, 4 strands a bundle" */
static void put_crosswrap(Buffer *words, UnitSystem units, const PlannedCrosswrap *planned)
{
    buffer_format(words, ", %s, ", crosswrap_word(planned));
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

/* "blank 12.93 mm at the datum; under: 54.00 mm, 360 turns; over: ..." in as many lines as it takes. */
typedef LIST_OF(const char *) Facts;

/* Puts what has been gathered on the last line, or on one of its own where that would be long. */
static void add_fact(Sheet *sheet, Facts *facts)
{
    enum { LONGEST_LINE = 110 };
    const char *words = take_words(sheet);
    const char **last = facts->count ? &facts->items[facts->count - 1] : NULL;
    if (last && text_columns(*last) + text_columns(words) < LONGEST_LINE)
        *last = text_format(sheet->arena, "%s; %s", *last, words);
    else
        *LIST_ADD(sheet->arena, facts) = words;
}

/* "the ring's side (0 deg) faces you" where that is not plain to see. */
static void put_facing(Sheet *sheet, const PlannedPlace *place, Facts *facts)
{
    if (sheet->view != VIEW_SIDE || place->foot >= 0 || !(shows_crosswrap(place) || isfinite(sheet->facing)))
        return;
    double facing = facing_of(sheet, place);
    buffer_text(&sheet->words, facing == 0 ? "the ring's side (" : "");
    buffer_number_short(&sheet->words, facing, 1);
    buffer_text(&sheet->words, facing == 0 ? " deg) faces you" : " deg faces you");
    add_fact(sheet, facts);
}

static void add_layer_fact(Sheet *sheet, Facts *facts, const PlannedLayer *layer)
{
    Buffer *words = &sheet->words;
    buffer_text(words, layer->layer->over ? "over: " : "under: ");
    if (layer->laid)
        put_length(words, sheet->units, layer->width);
    if (!layer->laid)
        buffer_text(words, "not laid out");
    else if (layer->crosswrap)
        put_crosswrap(words, sheet->units, layer->crosswrap);
    else
        buffer_format(words, layer->turns == 1 ? ", %llu turn" : ", %llu turns", (unsigned long long)layer->turns);
    add_fact(sheet, facts);
}

static Facts facts_of(Sheet *sheet, const PlannedPlace *place)
{
    Facts facts = {0};
    buffer_text(&sheet->words, "blank ");
    put_length(&sheet->words, sheet->units, blank_diameter(sheet->rod->rod->blank, place->start));
    buffer_text(&sheet->words, " at the datum");
    add_fact(sheet, &facts);
    put_facing(sheet, place, &facts);
    for (uint32_t i = 0; i < place->layer_count; i++)
        add_layer_fact(sheet, &facts, &place->layers[i]);
    return facts;
}

double headings_width(Sheet *sheet)
{
    double width = 0;
    for (uint32_t i = 0; i < sheet->rod->place_count; i++) {
        const PlannedPlace *place = &sheet->rod->places[i];
        width = fmax(width, text_width(label_of(sheet, place), LETTERS_HEADING * sheet->type));
        Facts facts = facts_of(sheet, place);
        for (uint32_t f = 0; f < facts.count; f++)
            width = fmax(width, text_width(facts.items[f], LETTERS_TEXT * sheet->type));
    }
    return width;
}

static void draw_headings(Sheet *sheet, const Panel *panel)
{
    draw_line(sheet, MARGIN, sheet->y, sheet->drawing->width - MARGIN, sheet->y, PALE_INK, PEN_FINE);
    sheet->y += 2 * sheet->type;
    for (uint32_t i = 0; i < panel->count; i++) {
        sheet->y += LETTERS_HEADING * sheet->type;
        draw_text(sheet, MARGIN, sheet->y, LETTERS_HEADING * sheet->type, ALIGN_START, INK,
                  label_of(sheet, &panel->places[i]));
        Facts facts = facts_of(sheet, &panel->places[i]);
        for (uint32_t f = 0; f < facts.count; f++) {
            sheet->y += LETTERS_TEXT * 1.5 * sheet->type;
            draw_text(sheet, MARGIN, sheet->y, LETTERS_TEXT * sheet->type, ALIGN_START, GREY_INK, facts.items[f]);
        }
        sheet->y += 1.6 * sheet->type;
    }
}

/* The largest distance of the wrapped blank's outline from the axis, mm of the rod. */
static double widest(const Outline *outline)
{
    double most = 0;
    for (uint32_t i = 0; i < outline->count; i++)
        most = fmax(most, outline->edges[i].down);
    return most;
}

/* The datum, and an arrow from it in the direction of working. */
static void draw_datum(Sheet *sheet, const Frame *frame, const Panel *panel, const PlannedPlace *place, double top,
                       double bottom, double ruler)
{
    double x = frame_x(frame, place->start), type = sheet->type, d = place->direction;
    double room = (panel->inner_high - panel->inner_low) * sheet->scale / panel->count - 1;
    double length = fmax(fmin(room, 10 * type), 3 * type), y = top - ARROW_ROW * type * 0.55, head = 1.6 * type;
    draw_line(sheet, x, y - 1.4 * type, x, top, DATUM_INK, PEN);
    draw_line(sheet, x, bottom, x, ruler, DATUM_INK, PEN);
    draw_line(sheet, x, y, x + d * (length - head), y, DATUM_INK, PEN);
    draw_polygon(sheet,
                 (Point[]){{x + d * length, y},
                           {x + d * (length - head), y - head * 0.36},
                           {x + d * (length - head), y + head * 0.36}},
                 3, DATUM_INK, SHADE_FLAT);
    draw_text(sheet, x - d * 1.2 * type, y + LETTERS_SMALL * type * 0.36, LETTERS_SMALL * type,
              d > 0 ? ALIGN_END : ALIGN_START, DATUM_INK, "datum");
}

/* Rows of band marks, the topmost layer's nearest to the picture, then the ruler. Returns the ruler's y. */
static double draw_rows(Sheet *sheet, const Frame *frame, const Panel *panel, double y)
{
    double height = BAND_ROW * sheet->type, size = LETTERS_SMALL * sheet->type;
    uint32_t layers = panel->places[0].layer_count;
    for (uint32_t i = layers; i-- > 0; y += height) {
        for (uint32_t p = 0; p < panel->count; p++)
            if (i < panel->places[p].layer_count)
                draw_bands(sheet, frame, &panel->places[p].layers[i], y, height * 0.9);
        if (layers > 1)
            draw_text(sheet, frame_x(frame, panel->low) - 1.5, y + height / 2 + size * 0.3, size, ALIGN_END,
                      GREY_INK, panel->places[0].layers[i].layer->over ? "over" : "under");
    }
    return y;
}

static void draw_rulers(Sheet *sheet, const Frame *frame, const Panel *panel, double y)
{
    for (uint32_t i = 0; i < panel->count; i++) {
        const PlannedPlace *place = &panel->places[i];
        double end = place->direction > 0 ? panel->high : panel->low;
        if (place->foot >= 0)
            end = place->foot_end;
        draw_ruler(sheet, frame, place->start, place->direction, fabs(end - place->start), y);
    }
}

static void draw_panel(Sheet *sheet, const Panel *panel, double left)
{
    double type = sheet->type;
    sheet->y += PANEL_GAP * type;
    draw_headings(sheet, panel);
    Surface surface;
    surface_start(&surface, sheet->arena, sheet->rod->rod->blank, panel->places[0].host, panel->places,
                  panel->count);
    Cut all = {panel->places, panel->count, UINT32_MAX, 0, false};
    Outline skin = surface_outline(sheet->arena, &surface, &all, panel->low, panel->high, 0);
    bool standing = sheet->view == VIEW_SIDE && panel->places[0].foot >= 0;
    double half = widest(&skin), top = half + (standing ? panel->places[0].place->guide->height : 0);

    double across = sheet->scale * (sheet->view == VIEW_UNROLLED ? TRADE_PI : 1);
    double above = ARROW_ROW * type;
    if (standing)
        above = fmax(above, ring_rise(sheet)) + LETTERS_SMALL * 1.4 * type;
    Frame frame = {left,   panel->low,          sheet->y + above + 0.8 * type + top * across, sheet->scale,
                   across, panel->facing / 360, sheet->view == VIEW_UNROLLED ? 0.5 : 0.25};
    draw_picture(sheet, &frame, panel, &surface, &skin, top);

    double bottom = frame.axis + half * across + (sheet->view == VIEW_SIDE ? 0.8 : 1.5) * type;
    double ruler = draw_rows(sheet, &frame, panel, bottom);
    for (uint32_t i = 0; i < panel->count; i++)
        draw_datum(sheet, &frame, panel, &panel->places[i], frame.axis - top * across - 0.4 * type, bottom, ruler);
    draw_rulers(sheet, &frame, panel, ruler);
    sheet->y = ruler + ruler_height(sheet);
}

void draw_panels(Sheet *sheet, double left)
{
    for (uint32_t i = 0, next; i < sheet->rod->place_count; i = next) {
        Panel panel = panel_of(sheet, i);
        next = i + panel.count;
        draw_panel(sheet, &panel, left);
    }
}
