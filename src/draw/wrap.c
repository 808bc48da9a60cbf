/* The turns themselves. Neighbours are painted one over the edge of the other, in working order, so that the blank
 * never glints through between two polygons that should touch. */
#include "draw/sheet.h"

#include <math.h>
#include <string.h>

/* Turns narrower than this on the page are not drawn one by one. */
#define VISIBLE_TURN 0.35
/* How far a run goes on below the next one, page mm: more than a dot of any screen or printer. */
#define LAP 0.3
/* Strands together are drawn turn by turn up to so many strands in a run; longer runs keep the proportion. */
enum { MOST_TEETH = 4000, NAME_CHARACTERS = 40, MOST_NAMES = 4 };

void put_thread_names(Buffer *words, const Strands *strands)
{
    if (!strands) {
        buffer_text(words, "gap");
        return;
    }
    for (uint32_t i = 0; i < strands->count && i < MOST_NAMES; i++) {
        buffer_text(words, i ? " + " : "");
        buffer_text(words, strands->items[i].spacer ? "spacer " : "");
        buffer_text(words, fitted(words->arena, strands->items[i].thread->name->bytes, NAME_CHARACTERS));
    }
    if (strands->count > MOST_NAMES)
        buffer_format(words, " and %u more", strands->count - MOST_NAMES);
}

static const char *run_title(Sheet *sheet, const Run *run, uint32_t line)
{
    Buffer *words = &sheet->words;
    put_thread_names(words, run->strands);
    if (run->strands)
        buffer_format(words, run->turns == 1 ? ", %u turn" : ", %u turns", run->turns);
    buffer_text(words, ", ");
    put_length(words, sheet->units, fabs(run->end - run->start));
    if (line)
        buffer_format(words, ", line %u", line);
    return take_words(sheet);
}

/* Numbers go into a hash byte by byte, lowest first, so that every machine gives the same id. */
static uint64_t hash_number(uint64_t hash, uint64_t number)
{
    unsigned char bytes[8];
    for (int i = 0; i < 8; i++)
        bytes[i] = (unsigned char)(number >> (8 * i));
    return hash_bytes(hash, bytes, sizeof bytes);
}

/* A text with its closing NUL, so that two texts in a row cannot be mistaken for two others. */
static uint64_t hash_string(uint64_t hash, const char *text)
{
    return hash_bytes(hash, text, strlen(text) + 1);
}

static uint64_t run_hash(uint64_t hash, const Run *run, uint32_t index)
{
    hash = hash_number(hash, index);
    for (uint32_t i = 0; run->strands && i < run->strands->count; i++)
        hash = hash_string(hash, run->strands->items[i].thread->name->bytes);
    hash = hash_number(hash, run->turns);
    return hash_number(hash, (uint64_t)(int64_t)round(run->start * 1e6));
}

/* The id, or where it is taken (a place written twice, or chance) the next that is free. Never 0. */
static uint64_t unique_id(Ids *ids, uint64_t id)
{
    for (;; id = hash_number(id, 1)) {
        uint64_t slot = id & ids->mask;
        while (ids->slots[slot] && ids->slots[slot] != id)
            slot = (slot + 1) & ids->mask;
        if (id && !ids->slots[slot]) {
            ids->slots[slot] = id;
            return id;
        }
    }
}

static void group_start(Sheet *sheet, const PlannedPlace *place, uint32_t layer, uint32_t index, uint64_t hash)
{
    const Run *run = &place->layers[layer].runs[index];
    const char *title = run_title(sheet, run, lines_of(&sheet->lines, run->span));
    *LIST_ADD(sheet->arena, &sheet->drawing->shapes) = (Shape){
        .kind = SHAPE_GROUP_START, .fill = NO_COLOUR, .stroke = NO_COLOUR, .text = title,
        .id = unique_id(&sheet->ids, hash), .span = run->span,
        .place = (uint32_t)(place - sheet->rod->places), .layer = layer, .run = index};
}

static void group_end(Sheet *sheet)
{
    *LIST_ADD(sheet->arena, &sheet->drawing->shapes) =
        (Shape){.kind = SHAPE_GROUP_END, .fill = NO_COLOUR, .stroke = NO_COLOUR};
}

static bool has_spacer(const Strands *strands)
{
    for (uint32_t i = 0; i < strands->count; i++)
        if (strands->items[i].spacer)
            return true;
    return false;
}

/* The outline of a run, which goes on a little below its follower where that covers it. */
static Outline run_outline(Sheet *sheet, const Surface *surface, Cut *cut, const Run *run, const Run *next)
{
    Outline outline = surface_outline(sheet->arena, surface, cut, run->start, run->end, 2);
    bool covered = next && run->strands && next->strands && !has_spacer(run->strands) &&
                   !has_spacer(next->strands);
    if (!covered)
        return outline;
    double lap = copysign(fmin(LAP / sheet->scale, fabs(next->end - next->start)), next->end - next->start);
    cut->thickness = fmin(run->strands->thickness, next->strands->thickness);
    for (int i = 0; i < 2; i++)
        outline.edges[outline.count++] = surface_edge(surface, cut, run->end + i * lap, run->end + lap / 2);
    return outline;
}

/* A darker shade of a colour for the lines between turns; a lighter one of what is nearly black. Faint: a tenth of
 * the surface a fifth darker, so that a band's colour stays within 2 % of its thread's. */
static uint32_t groove_colour(uint32_t colour)
{
    uint32_t red = colour >> 16 & 0xff, green = colour >> 8 & 0xff, blue = colour & 0xff;
    if (red + green + blue < 120)
        return (red + 38) << 16 | (green + 38) << 8 | (blue + 38);
    return red * 8 / 10 << 16 | (green * 8 / 10) << 8 | blue * 8 / 10;
}

/* One line down and up again between all turns of a run. */
static void draw_grooves(Sheet *sheet, const Frame *frame, const Outline *outline, const Run *run)
{
    double pitch = run->strands->pitch;
    if (!sheet->texture || pitch * frame->scale < VISIBLE_TURN || run->turns < 2 || run->strands->count > 1)
        return;
    Point *points = arena_take_many(sheet->arena, (size_t)run->turns * 2, sizeof *points);
    uint32_t count = 0, near = 0;
    for (uint32_t i = 1; i < run->turns; i++) {
        Edge edge = outline_at(outline, run->start + copysign(i * pitch, run->end - run->start), &near);
        Point top = {frame_x(frame, edge.x), frame->axis - edge.up * frame->across};
        Point bottom = {top.x, frame->axis + edge.down * frame->across};
        points[count++] = i % 2 ? top : bottom;
        points[count++] = i % 2 ? bottom : top;
    }
    draw_path(sheet, points, count, groove_colour(run->strands->items[0].thread->colour),
              fmin(pitch * frame->scale * 0.1, PEN));
}

/* One polygon for the same part of every turn: teeth joined along the upper edge, which has no area.
 * from, to: where in a turn the part lies, as ratios. */
static void draw_teeth(Sheet *sheet, const Frame *frame, const Outline *outline, const Run *run, uint32_t teeth,
                       double from, double to, uint32_t fill)
{
    Point *points = arena_take_many(sheet->arena, (size_t)teeth * 4, sizeof *points);
    double turn = (run->end - run->start) / teeth;
    uint32_t count = 0, near = 0;
    for (uint32_t i = 0; i < teeth; i++) {
        Edge a = outline_at(outline, run->start + (i + from) * turn, &near);
        Edge b = outline_at(outline, run->start + (i + to) * turn, &near);
        double left = frame_x(frame, a.x), right = frame_x(frame, b.x);
        points[count++] = (Point){left, frame->axis - a.up * frame->across};
        points[count++] = (Point){left, frame->axis + a.down * frame->across};
        points[count++] = (Point){right, frame->axis + b.down * frame->across};
        points[count++] = (Point){right, frame->axis - b.up * frame->across};
    }
    draw_polygon(sheet, points, count, fill, SHADE_FLAT);
}

/* Strands side by side in every turn. Each is painted up to the next spacer or the turn's end, then the following
 * ones over it. */
static void draw_strands(Sheet *sheet, const Frame *frame, const Outline *outline, const Run *run)
{
    const Strands *strands = run->strands;
    uint32_t most = MOST_TEETH / strands->count + 1, teeth = run->turns < most ? run->turns : most;
    bool spaced = has_spacer(strands);
    double from = 0;
    for (uint32_t i = 0; i < strands->count; i++) {
        double to = from, own = strands->items[i].thread->pitch / strands->pitch;
        for (uint32_t j = i; j < strands->count && !strands->items[j].spacer; j++)
            to += strands->items[j].thread->pitch / strands->pitch;
        if (to > from && i == 0 && !spaced)
            draw_outline(sheet, frame, outline, strands->items[i].thread->colour, SHADE_FLAT);
        else if (to > from)
            draw_teeth(sheet, frame, outline, run, teeth, from, fmin(to, 1), strands->items[i].thread->colour);
        from += own;
    }
}

static void draw_run(Sheet *sheet, const Frame *frame, const Surface *surface, Cut cut, const Run *run,
                     const Run *next)
{
    cut.thickness = run->strands ? run->strands->thickness : 0;
    Outline outline = run_outline(sheet, surface, &cut, run, next);
    if (!run->strands) {
        draw_outline(sheet, frame, &outline, NO_COLOUR, SHADE_FLAT);
        return;
    }
    draw_strands(sheet, frame, &outline, run);
    draw_grooves(sheet, frame, &outline, run);
}

void draw_layer(Sheet *sheet, const Frame *frame, const Surface *surface, const PlannedPlace *place,
                uint32_t layer, const char *label)
{
    const PlannedLayer *planned = &place->layers[layer];
    Cut cut = {place, 1, layer, 0, planned->layer->over && sheet->view == VIEW_SIDE};
    uint64_t hash = hash_string(HASH_START, sheet->rod->rod->title->bytes);
    hash = hash_number(hash_string(hash, label), layer);
    for (uint32_t i = 0; i < planned->run_count; i++) {
        const Run *run = &planned->runs[i];
        group_start(sheet, place, layer, i, run_hash(hash, run, i));
        draw_run(sheet, frame, surface, cut, run, i + 1 < planned->run_count ? run + 1 : NULL);
        group_end(sheet);
    }
}
