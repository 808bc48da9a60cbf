/* Drawings measured back from their shapes, and the SVG made of them. Plans are made by hand here. */
#include <stdarg.h>
#include <stddef.h>
#include <setjmp.h>
#include <stdint.h>
#include <cmocka.h>

#include "draw/area.h"
#include "draw/canvas.h"
#include "draw/crosswrap/variegated.h"
#include "draw/drawing.h"
#include "emit/emit.h"
#include "trade/trade.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static Text *text_new(Arena *arena, const char *words)
{
    size_t length = strlen(words);
    Text *text = arena_take(arena, sizeof *text + length + 1);
    text->length = (uint32_t)length;
    memcpy(text->bytes, words, length);
    return text;
}

typedef struct Shop {
    Arena *arena;
    Job job;
    Rod rod;
    Blank blank;
    Plan plan;
    PlannedRod planned;
    LIST_OF(const Thread *) threads;
    LIST_OF(PlannedPlace) places;
    Sources sources;
} Shop;

static Shop *shop_new(Arena *arena, const char *title, UnitSystem units)
{
    static Station stations[] = {{0, 14.8}, {600, 11.2}, {2130, 2.1}};
    Shop *shop = arena_take(arena, sizeof *shop);
    shop->arena = arena;
    shop->blank = (Blank){.name = text_new(arena, "inshore"), .stations = stations, .station_count = 3};
    shop->rod = (Rod){.title = text_new(arena, title), .blank = &shop->blank};
    shop->job.bench.units = units;
    shop->planned.rod = &shop->rod;
    shop->planned.surface = &shop->blank;
    shop->plan = (Plan){.job = &shop->job, .rods = &shop->planned, .rod_count = 1};
    return shop;
}

static void source_add(Shop *shop, const char *path, const char *text)
{
    *LIST_ADD(shop->arena, &shop->sources.list) = (Source){path, "", text, (uint32_t)strlen(text)};
    shop->job.lines = line_map_make(shop->arena, &shop->sources);
}

static const Thread *thread_new(Shop *shop, const char *name, uint32_t colour, double pitch)
{
    Thread *thread = arena_take(shop->arena, sizeof *thread);
    *thread = (Thread){.opacity = 1,
                       .name = text_new(shop->arena, name),
                       .pitch = pitch,
                       .diameter = pitch,
                       .colour = colour,
                       .index = shop->threads.count};
    *LIST_ADD(shop->arena, &shop->threads) = thread;
    shop->job.threads = shop->threads.items;
    shop->job.thread_count = shop->threads.count;
    return thread;
}

/* Up to three threads together; a spacer's bit is set in `spacers`. */
static const Strands *strands_new(Shop *shop, unsigned spacers, const Thread *a, const Thread *b, const Thread *c)
{
    const Thread *all[] = {a, b, c};
    Strands *strands = arena_take(shop->arena, sizeof *strands);
    strands->items = arena_take_many(shop->arena, 3, sizeof *strands->items);
    for (unsigned i = 0; i < 3 && all[i]; i++) {
        bool spacer = spacers >> i & 1;
        strands->items[strands->count++] = (Strand){all[i], spacer};
        strands->pitch += all[i]->pitch;
        if (!spacer && all[i]->diameter > strands->thickness)
            strands->thickness = all[i]->diameter;
    }
    return strands;
}

static PlannedPlace *place_add(Shop *shop, double mark, int direction, uint32_t layers)
{
    Place *written = arena_take(shop->arena, sizeof *written);
    *written = (Place){.mark = mark, .direction = direction, .length = NAN};
    PlannedPlace *place = LIST_ADD(shop->arena, &shop->places);
    *place = (PlannedPlace){.place = written,
                            .foot = -1,
                            .direction = direction,
                            .start = mark,
                            .length = NAN,
                            .foot_tip = NAN,
                            .foot_end = NAN,
                            .ramp_end = NAN,
                            .layer_count = layers};
    place->layers = arena_take_many(shop->arena, layers, sizeof *place->layers);
    for (uint32_t i = 0; i < layers; i++) {
        Layer *layer = arena_take(shop->arena, sizeof *layer);
        *layer = (Layer){.over = i + 1 == layers, .length = NAN};
        place->layers[i] = (PlannedLayer){.layer = layer, .laid = true, .start = mark, .end = mark, .length = NAN};
        place->layers[i].runs = arena_take_many(shop->arena, 4096, sizeof(Run));
        place->layers[i].surface = arena_take_many(shop->arena, 4097, sizeof(ThicknessStep));
    }
    shop->planned.places = shop->places.items;
    shop->planned.place_count = shop->places.count;
    return place;
}

static void surface_step(PlannedLayer *layer, double start, double thickness)
{
    layer->surface[layer->surface_count++] = (ThicknessStep){start, thickness, 0};
}

/* Turns of strands, or for NULL a gap of `width` mm, behind what the layer holds. */
static void run_add(const PlannedPlace *place, uint32_t index, const Strands *strands, RunRole role,
                    uint32_t turns, double width, uint32_t item)
{
    PlannedLayer *layer = &place->layers[index];
    Run *run = &layer->runs[layer->run_count++];
    if (strands)
        width = turns * strands->pitch;
    *run = (Run){.strands = strands,
                 .role = role,
                 .turns = turns,
                 .item = item,
                 .pitch = strands ? strands->pitch : 0,
                 .start = layer->end,
                 .end = layer->end + place->direction * width,
                 .span = {item * 10, item * 10 + 5, 0}};
    if (layer->surface_count)
        layer->surface_count--;
    surface_step(layer, run->start, strands ? strands->thickness : 0);
    surface_step(layer, run->end, 0);
    layer->end = run->end;
    layer->width += width;
    layer->turns += turns;
}

static void band(const PlannedPlace *place, uint32_t layer, const Strands *strands, uint32_t turns, uint32_t item)
{
    run_add(place, layer, strands, RUN_BAND, turns, 0, item);
}

static void fade(const PlannedPlace *place, uint32_t layer, const Strands *from, const Strands *to, uint32_t steps,
                 uint32_t item)
{
    for (uint32_t i = 1; i <= steps; i++) {
        run_add(place, layer, to, RUN_FADE_IN, i, 0, item);
        run_add(place, layer, from, RUN_FADE_OUT, steps + 1 - i, 0, item);
    }
}

/* A guide's foot of 20 mm at the place's start, worked in its direction; the ramp takes the first 6 mm. */
static void foot_add(Shop *shop, PlannedPlace *place)
{
    Guide *guide = arena_take(shop->arena, sizeof *guide);
    *guide = (Guide){.name = text_new(shop->arena, "ring16"),
                     .feet = {20},
                     .foot_count = 1,
                     .gap = 8,
                     .width = 2.6,
                     .height = 0.9,
                     .ramp = 6,
                     .before = 4,
                     .frame = NO_COLOUR,
                     .insert = NO_COLOUR};
    Place *written = arena_take(shop->arena, sizeof *written);
    *written = *place->place;
    written->guide = guide;
    written->mark = place->start + place->direction * 28;
    place->place = written;
    place->foot = 0;
    place->foot_tip = place->start + place->direction * 4;
    place->ramp_end = place->start + place->direction * 10;
    place->foot_end = place->start + place->direction * 24;
}

/* What every test has: memory that goes when it ends. */
typedef struct Bed {
    Trap trap;
    Arena arena;
} Bed;

static Arena *bed_start(Bed *bed)
{
    *bed = (Bed){.trap = {.requests = 0}};
    arena_start(&bed->arena, &bed->trap);
    return &bed->arena;
}

/* The shape number `nth` of the kind within group number `group`; NULL if there are not so many. */
static const Shape *shape_in_group(const Drawing *drawing, uint32_t group, ShapeKind kind, uint32_t nth)
{
    uint32_t i = 0;
    for (uint32_t groups = 0; i < drawing->shapes.count; i++)
        if (drawing->shapes.items[i].kind == SHAPE_GROUP_START && groups++ == group)
            break;
    if (kind == SHAPE_GROUP_START)
        return i < drawing->shapes.count ? &drawing->shapes.items[i] : NULL;
    for (; i < drawing->shapes.count && drawing->shapes.items[i].kind != SHAPE_GROUP_END; i++)
        if (drawing->shapes.items[i].kind == kind && nth-- == 0)
            return &drawing->shapes.items[i];
    return NULL;
}

static const Shape *run_polygon(const Drawing *drawing, uint32_t run)
{
    return shape_in_group(drawing, run, SHAPE_POLYGON, 0);
}

static uint32_t group_count(const Drawing *drawing)
{
    uint32_t groups = 0;
    for (uint32_t i = 0; i < drawing->shapes.count; i++)
        groups += drawing->shapes.items[i].kind == SHAPE_GROUP_START;
    return groups;
}

/* Page x at which a run begins: neighbours lie over a run's far end, never over its beginning. */
static double run_begin(const Drawing *drawing, uint32_t run) { return run_polygon(drawing, run)->points[0].x; }

static double lowest_y(const Shape *shape)
{
    double most = -INFINITY;
    for (uint32_t i = 0; i < shape->point_count; i++)
        most = fmax(most, shape->points[i].y);
    return most;
}

static double highest_y(const Shape *shape)
{
    double least = INFINITY;
    for (uint32_t i = 0; i < shape->point_count; i++)
        least = fmin(least, shape->points[i].y);
    return least;
}

static double breadth(const Shape *shape)
{
    double low = INFINITY, high = -INFINITY;
    for (uint32_t i = 0; i < shape->point_count; i++) {
        low = fmin(low, shape->points[i].x);
        high = fmax(high, shape->points[i].x);
    }
    return high - low;
}

static const char *svg_of(Arena *arena, const Drawing *drawing)
{
    Buffer out;
    buffer_start(&out, arena);
    emit_svg(&out, drawing);
    buffer_put(&out, "", 1);
    return out.bytes;
}

static uint32_t occurrences(const char *text, const char *part)
{
    uint32_t count = 0;
    for (const char *at = text; (at = strstr(at, part)); at += strlen(part))
        count++;
    return count;
}

static bool has_text(const Drawing *drawing, const char *text)
{
    for (uint32_t i = 0; i < drawing->shapes.count; i++)
        if (drawing->shapes.items[i].kind == SHAPE_TEXT && strcmp(drawing->shapes.items[i].text, text) == 0)
            return true;
    return false;
}

/* The fade of the reference's example: one layer, 20 runs of two threads of unlike pitch. */
static Shop *fade_shop(Arena *arena, UnitSystem units, int direction)
{
    Shop *shop = shop_new(arena, "Harbour", units);
    const Thread *navy = thread_new(shop, "navy", 0x22346b, 0.15);
    const Thread *mist = thread_new(shop, "mist", 0x9db8d6, 0.147);
    const Strands *dark = strands_new(shop, 0, navy, NULL, NULL), *pale = strands_new(shop, 0, mist, NULL, NULL);
    PlannedPlace *place = place_add(shop, 320, direction, 1);
    band(place, 0, dark, 60, 1);
    fade(place, 0, dark, pale, 5, 2);
    band(place, 0, pale, 40, 3);
    run_add(place, 0, NULL, RUN_GAP, 0, 2, 4);
    band(place, 0, dark, 8, 5);
    return shop;
}

static void check_widths(int direction, double scale)
{
    Bed bed;
    Arena *arena = bed_start(&bed);
    Shop *shop = fade_shop(arena, SYSTEM_MM, direction);
    const PlannedLayer *layer = &shop->places.items[0].layers[0];
    Drawing *drawing = draw_rod(arena, &shop->plan, 0, VIEW_SIDE, scale);
    assert_int_equal(group_count(drawing), layer->run_count);
    double sum = 0;
    for (uint32_t i = 0; i < layer->run_count; i++) {
        double width = i + 1 < layer->run_count ? (run_begin(drawing, i + 1) - run_begin(drawing, i)) * direction
                                                : breadth(run_polygon(drawing, i));
        assert_true(fabs(width - fabs(layer->runs[i].end - layer->runs[i].start) * scale) < 1e-9);
        assert_true(breadth(run_polygon(drawing, i)) >= width - 1e-9);
        sum += width;
    }
    assert_true(fabs(sum - layer->width * scale) < 1e-8);
    arena_end(&bed.arena);
}

static void test_runs_have_their_widths(void **state)
{
    (void)state;
    check_widths(1, 1);
    check_widths(1, 4);
    check_widths(-1, 1);
    check_widths(-1, 0.5);
}

/* No glint of the blank between neighbours: a run goes on below the next, and never below a gap. */
static void test_neighbours_overlap(void **state)
{
    (void)state;
    Bed bed;
    Arena *arena = bed_start(&bed);
    Shop *shop = fade_shop(arena, SYSTEM_MM, 1);
    Drawing *drawing = draw_rod(arena, &shop->plan, 0, VIEW_SIDE, 1);
    assert_true(run_begin(drawing, 0) + breadth(run_polygon(drawing, 0)) > run_begin(drawing, 1) + 0.1);
    assert_true(fabs(breadth(run_polygon(drawing, 11)) - 40 * 0.147) < 1e-9); /* the band before the gap */
    arena_end(&bed.arena);
}

static void test_runs_have_their_colours(void **state)
{
    (void)state;
    Bed bed;
    Arena *arena = bed_start(&bed);
    Shop *shop = fade_shop(arena, SYSTEM_MM, 1);
    Drawing *drawing = draw_rod(arena, &shop->plan, 0, VIEW_SIDE, 1);
    assert_int_equal(run_polygon(drawing, 0)->fill, 0x22346b);
    assert_int_equal(run_polygon(drawing, 1)->fill, 0x9db8d6);
    assert_int_equal(run_polygon(drawing, 2)->fill, 0x22346b);
    assert_int_equal(run_polygon(drawing, 12)->fill, NO_COLOUR); /* the gap */
    assert_true(has_text(drawing, "navy, #22346b, 0.150 mm a turn"));
    assert_true(has_text(drawing, "mist, #9db8d6, 0.147 mm a turn"));
    arena_end(&bed.arena);
}

static void test_titles_say_what_lies_there(void **state)
{
    (void)state;
    Bed bed;
    Arena *arena = bed_start(&bed);
    Shop *shop = fade_shop(arena, SYSTEM_MM, 1);
    source_add(shop, "harbour.lay", "a line\nbands\nand fades\n\nto\nthe end\n\n\nx");
    Drawing *drawing = draw_rod(arena, &shop->plan, 0, VIEW_SIDE, 1);
    assert_string_equal(shape_in_group(drawing, 0, SHAPE_GROUP_START, 0)->text, "navy, 60 turns, 9.00 mm, line 2");
    assert_string_equal(shape_in_group(drawing, 1, SHAPE_GROUP_START, 0)->text, "mist, 1 turn, 0.15 mm, line 3");
    assert_string_equal(shape_in_group(drawing, 12, SHAPE_GROUP_START, 0)->text, "gap, 2.00 mm, line 9");
    const char *svg = svg_of(arena, drawing);
    assert_int_equal(occurrences(svg, " data-line=\"2\" data-file=\"harbour.lay\""), 1);
    assert_int_equal(occurrences(svg, " data-line=\"3\" data-file=\"harbour.lay\""), 10);
    assert_int_equal(occurrences(svg, "class=\"run\""), 14);
    arena_end(&bed.arena);
}

/* Heights: the surface below is the blank's diameter at the run, the thread lies on both sides of it. */
static void test_heights(void **state)
{
    (void)state;
    Bed bed;
    Arena *arena = bed_start(&bed);
    Shop *shop = fade_shop(arena, SYSTEM_MM, 1);
    double diameter = 14.8 + (11.2 - 14.8) * 320 / 600 + 2 * 0.15; /* thickest at the mark */
    const Shape *side = run_polygon(draw_rod(arena, &shop->plan, 0, VIEW_SIDE, 2), 0);
    assert_true(fabs(lowest_y(side) - highest_y(side) - 2 * diameter) < 1e-9);
    const Shape *unrolled = run_polygon(draw_rod(arena, &shop->plan, 0, VIEW_UNROLLED, 2), 0);
    assert_true(fabs(lowest_y(unrolled) - highest_y(unrolled) - 2 * TRADE_PI * diameter) < 1e-9);
    arena_end(&bed.arena);
}

/* A layer on another stands off by the thickness of that, and falls to the blank where that ends. */
static void test_layers_lie_on_one_another(void **state)
{
    (void)state;
    Bed bed;
    Arena *arena = bed_start(&bed);
    Shop *shop = shop_new(arena, "Layers", SYSTEM_MM);
    const Strands *thick = strands_new(shop, 0, thread_new(shop, "thick", 0x808080, 0.5), NULL, NULL);
    const Strands *fine = strands_new(shop, 0, thread_new(shop, "fine", 0xc0c0c0, 0.1), NULL, NULL);
    PlannedPlace *place = place_add(shop, 700, -1, 2);
    band(place, 0, thick, 10, 0);
    band(place, 1, fine, 100, 1);
    Drawing *drawing = draw_rod(arena, &shop->plan, 0, VIEW_SIDE, 1);
    const Shape *below = run_polygon(drawing, 0), *above = run_polygon(drawing, 1);
    assert_true(fabs(highest_y(below) - highest_y(above) - 0.1) < 0.02); /* but for the taper of 10 mm */
    assert_int_equal(above->point_count, 8);                             /* a step where the lower layer ends */
    assert_true(fabs(above->points[2].y - above->points[1].y - 0.5) < 1e-9);
    assert_true(fabs(above->points[1].x - above->points[0].x + 5) < 1e-9);
    arena_end(&bed.arena);
}

/* Turns over a foot rise by its height on the ring's side only, in either direction; turns below it do not. */
static void check_climb(int direction)
{
    Bed bed;
    Arena *arena = bed_start(&bed);
    Shop *shop = shop_new(arena, "Foot", SYSTEM_MM);
    const Strands *navy = strands_new(shop, 0, thread_new(shop, "navy", 0x22346b, 0.15), NULL, NULL);
    PlannedPlace *place = place_add(shop, 640, direction, 2);
    band(place, 0, navy, 160, 0);
    band(place, 1, navy, 160, 1);
    foot_add(shop, place);
    Drawing *drawing = draw_rod(arena, &shop->plan, 0, VIEW_SIDE, 1);
    const Shape *under = run_polygon(drawing, 0), *over = run_polygon(drawing, 1);
    static const double rises[] = {0, 0, 0.9, 0.9}; /* wrap's start, foot's tip, ramp's end, foot's end */
    assert_int_equal(over->point_count, 8);
    for (int i = 0; i < 4; i++) {
        Point up = over->points[i], down = over->points[7 - i];
        double centre = (under->points[0].y + under->points[under->point_count - 1].y) / 2;
        assert_true(fabs(centre - up.y - (down.y - centre) - rises[i]) < 1e-9);
    }
    double under_height = lowest_y(under) - highest_y(under), over_height = lowest_y(over) - highest_y(over);
    double fall = 24 * (11.2 - 2.1) / 1530 / 2; /* of the radius along the wrap */
    assert_true(fabs(over_height - under_height - 0.3 - 0.9) <= fall);
    assert_true(has_text(drawing, "ring"));
    arena_end(&bed.arena);
}

/* Where single turns can be seen, a fine line lies between every two of a run, a pitch apart, from edge to edge.
 */
static void test_grooves_lie_between_turns(void **state)
{
    (void)state;
    static const double scale = 8;
    Bed bed;
    Arena *arena = bed_start(&bed);
    Shop *shop = fade_shop(arena, SYSTEM_MM, 1);
    const Drawing *drawing = draw_rod(arena, &shop->plan, 0, VIEW_SIDE, scale);
    const Run *run = &shop->places.items[0].layers[0].runs[0];
    const Shape *turns = run_polygon(drawing, 0), *grooves = shape_in_group(drawing, 0, SHAPE_LINE, 0);
    assert_non_null(grooves);
    assert_int_equal(grooves->point_count, 2 * (run->turns - 1));
    for (uint32_t i = 0; i < grooves->point_count; i++) {
        double between = run_begin(drawing, 0) + (i / 2 + 1) * run->strands->pitch * scale;
        assert_true(fabs(grooves->points[i].x - between) < 1e-9);
        bool top = (i + 1) / 2 % 2 == 0; /* down, up, down: each begins where the one before ended */
        double edge = top ? highest_y(turns) : lowest_y(turns);
        assert_true(fabs(grooves->points[i].y - edge) < 0.05 * (lowest_y(turns) - highest_y(turns)));
    }
    assert_true(grooves->stroke_width > 0.02 * run->strands->pitch * scale);
    assert_true(grooves->stroke_width < 0.2 * run->strands->pitch * scale);
    assert_int_not_equal(grooves->stroke, turns->fill);
    arena_end(&bed.arena);
}

/* The text shape with these words; fails if there is none. */
static const Shape *text_shape(const Drawing *drawing, const char *text)
{
    for (uint32_t i = 0; i < drawing->shapes.count; i++)
        if (drawing->shapes.items[i].kind == SHAPE_TEXT && strcmp(drawing->shapes.items[i].text, text) == 0)
            return &drawing->shapes.items[i];
    fail_msg("not in the picture: %s", text);
    return NULL;
}

/* Page x of a place along the rod, measured from the under layer's run of 160 turns. */
static double page_x(const PlannedPlace *place, const Drawing *drawing, double along)
{
    double a = run_begin(drawing, 0), b = a + place->direction * breadth(run_polygon(drawing, 0));
    return a + (along - place->start) / (place->layers[0].end - place->start) * (b - a);
}

static double left_of(const Shape *shape)
{
    double low = INFINITY;
    for (uint32_t i = 0; i < shape->point_count; i++)
        low = fmin(low, shape->points[i].x);
    return low;
}

static bool is_steel(const Shape *shape) { return shape->kind == SHAPE_POLYGON && shape->fill == STEEL; }

/* A guide from the side: its ring stands upright where the ring is, above the foot; the frame rises to it from the
 * foot's end; the word stands over it. */
static void check_ring(int direction, double scale)
{
    Bed bed;
    Arena *arena = bed_start(&bed);
    Shop *shop = shop_new(arena, "Ring", SYSTEM_MM);
    const Strands *navy = strands_new(shop, 0, thread_new(shop, "navy", 0x22346b, 0.15), NULL, NULL);
    PlannedPlace *place = place_add(shop, 640, direction, 2);
    band(place, 0, navy, 160, 0);
    band(place, 1, navy, 160, 1);
    foot_add(shop, place);
    const Drawing *drawing = draw_rod(arena, &shop->plan, 0, VIEW_SIDE, scale);
    double ring_x = page_x(place, drawing, place->place->mark), foot_x = page_x(place, drawing, place->foot_end);
    double foot_top = highest_y(run_polygon(drawing, 1)); /* of the turns that lie on the foot */
    const Shape *ring = NULL, *frame = NULL;
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        if (!is_steel(shape) || highest_y(shape) > foot_top - 0.5)
            continue;
        double left = left_of(shape), right = left + breadth(shape);
        if (fabs((left + right) / 2 - ring_x) < 1e-6)
            ring = shape;
        else if (fabs(left - fmin(ring_x, foot_x)) < 1e-6 && fabs(right - fmax(ring_x, foot_x)) < 1e-6)
            frame = shape;
        else
            fail_msg("steel from %g to %g; the ring is at %g, the foot's end at %g", left, right, ring_x, foot_x);
    }
    assert_non_null(ring);
    assert_non_null(frame);
    double height = lowest_y(ring) - highest_y(ring);
    assert_true(height > 2 * breadth(ring));
    assert_true(lowest_y(ring) < foot_top + 0.3 * scale); /* clear of the blank: there is a gap beneath it */
    /* At the foot the frame reaches down to it; at the ring it is within the ring's height, and well above the
     * foot. */
    for (uint32_t i = 0; i < frame->point_count; i++) {
        bool at_ring = fabs(frame->points[i].x - ring_x) < 1e-6;
        double above = (foot_top - frame->points[i].y) / (foot_top - highest_y(ring));
        assert_true(at_ring ? above > 0.25 && above < 0.75 : above < 0.1);
    }
    const Shape *word = text_shape(drawing, "ring");
    assert_true(fabs(word->at.x - ring_x) < 1e-6 && word->align == ALIGN_MIDDLE);
    assert_true(word->at.y < highest_y(ring));
    arena_end(&bed.arena);
}

static void test_ring_stands_in_its_place(void **state)
{
    (void)state;
    for (double scale = 1; scale <= 4; scale *= 2) {
        check_ring(1, scale);
        check_ring(-1, scale);
    }
}

/* Round the surface cut open, from top to bottom: the cut, 270, the rod's line in the middle, 90, the cut; at the
 * left, in even steps over the blank's circumference there. As a clock seen from the butt: what lies to the right
 * of the ring lies below it here. */
static void test_clock_of_the_unrolled_surface(void **state)
{
    (void)state;
    Bed bed;
    Arena *arena = bed_start(&bed);
    Shop *shop = fade_shop(arena, SYSTEM_MM, 1);
    const Drawing *drawing = draw_rod(arena, &shop->plan, 0, VIEW_UNROLLED, 1);
    const Shape *run = run_polygon(drawing, 0);
    double middle = (highest_y(run) + lowest_y(run)) / 2;
    const Shape *ring = text_shape(drawing, "0 rod's line"), *right = text_shape(drawing, "90");
    const Shape *left = text_shape(drawing, "270"), *cut = text_shape(drawing, "180");
    double drop = ring->at.y - middle, quarter = right->at.y - ring->at.y; /* from a line to its number's foot */
    assert_true(drop > 0 && drop < ring->size / 2);
    assert_true(fabs(quarter - (lowest_y(run) - highest_y(run)) / 4) < 0.3);
    assert_true(fabs(ring->at.y - left->at.y - quarter) < 1e-9);
    assert_true(fabs(ring->at.y - cut->at.y - 2 * quarter) < 1e-9);
    arena_end(&bed.arena);
}

static void test_turns_climb_the_foot(void **state)
{
    (void)state;
    check_climb(1);
    check_climb(-1);
}

/* Strands together: each a polygon, in proportion; a spacer leaves the layer below bare. */
static void test_strands_together(void **state)
{
    (void)state;
    Bed bed;
    Arena *arena = bed_start(&bed);
    Shop *shop = shop_new(arena, "Strands", SYSTEM_MM);
    const Thread *navy = thread_new(shop, "navy", 0x22346b, 0.3), *foam = thread_new(shop, "foam", 0xdfe9ef, 0.1);
    PlannedPlace *place = place_add(shop, 320, 1, 1);
    band(place, 0, strands_new(shop, 0, navy, foam, NULL), 10, 0);
    band(place, 0, strands_new(shop, 2, navy, foam, NULL), 10, 1);
    Drawing *drawing = draw_rod(arena, &shop->plan, 0, VIEW_SIDE, 1);
    const Shape *whole = run_polygon(drawing, 0), *teeth = shape_in_group(drawing, 0, SHAPE_POLYGON, 1);
    assert_int_equal(whole->fill, 0x22346b);
    assert_int_equal(teeth->fill, 0xdfe9ef);
    assert_int_equal(teeth->point_count, 40);
    assert_true(fabs(teeth->points[0].x - whole->points[0].x - 0.3) < 1e-9); /* the first turn's second strand */
    assert_true(fabs(teeth->points[2].x - whole->points[0].x - 0.4) < 1e-9);
    assert_true(fabs(teeth->points[4].x - whole->points[0].x - 0.7) < 1e-9);
    const Shape *spaced = run_polygon(drawing, 1);
    assert_int_equal(spaced->fill, 0x22346b);
    assert_true(fabs(spaced->points[2].x - spaced->points[0].x - 0.3) < 1e-9);
    assert_null(shape_in_group(drawing, 1, SHAPE_POLYGON, 1));
    assert_string_equal(shape_in_group(drawing, 1, SHAPE_GROUP_START, 0)->text,
                        "navy + spacer foam, 10 turns, 4.00 mm");
    arena_end(&bed.arena);
}

/* What a shape covers, mm2 of the page: parts that all turn one way add up. */
static double covered(const Shape *shape)
{
    double twice = 0;
    for (uint32_t i = 0, first = 0; i < shape->point_count; i++) {
        bool ends = i + 1 == shape->point_count || (shape->traces && shape->traces[i + 1] == TRACE_BEGIN);
        Point a = shape->points[i], b = shape->points[ends ? first : i + 1];
        twice += a.x * b.y - b.x * a.y;
        first = ends ? i + 1 : first;
    }
    return fabs(twice) / 2;
}

/* Over the end of a layer below, where the surface steps, a strand still covers its own part of each turn and no
 * more. */
static void check_strands_over_a_step(int direction, View view)
{
    Bed bed;
    Arena *arena = bed_start(&bed);
    Shop *shop = shop_new(arena, "Step", SYSTEM_MM);
    const Thread *navy = thread_new(shop, "navy", 0x22346b, 0.3), *foam = thread_new(shop, "foam", 0xdfe9ef, 0.1);
    const Thread *thick = thread_new(shop, "thick", 0x808080, 0.5);
    PlannedPlace *place = place_add(shop, 320, direction, 2);
    band(place, 0, strands_new(shop, 0, thick, NULL, NULL), 10, 0);
    band(place, 1, strands_new(shop, 0, navy, foam, NULL), 20, 1);
    const Drawing *drawing = draw_rod(arena, &shop->plan, 0, view, 1);
    double wanted = 0;
    for (int turn = 0; turn < 20; turn++) {
        double along = turn * 0.4 + 0.35, below = along < 5 ? 0.5 : 0; /* of foam, its middle */
        double diameter = 14.8 + (11.2 - 14.8) * (320 + direction * along) / 600;
        wanted += 0.1 * (diameter + 2 * below + 2 * 0.3) * (view == VIEW_UNROLLED ? TRADE_PI : 1);
    }
    const Shape *strand = shape_in_group(drawing, 1, SHAPE_POLYGON, 1);
    assert_int_equal(strand->fill, 0xdfe9ef);
    assert_true(fabs(covered(strand) - wanted) < 1e-6);
    arena_end(&bed.arena);
}

static void test_strands_together_over_a_step(void **state)
{
    (void)state;
    for (int view = VIEW_SIDE; view <= VIEW_UNROLLED; view++) {
        check_strands_over_a_step(1, (View)view);
        check_strands_over_a_step(-1, (View)view);
    }
}

/* A thread of several colours over the end of a layer below: each colour's turns reach from edge to edge of the
 * surface where they lie, before the step and behind it. */
static void check_colours_over_a_step(int direction)
{
    static uint32_t colours[] = {0x303a9c, 0x9d38d6, 0xdfc9ff};
    Bed bed;
    Arena *arena = bed_start(&bed);
    Shop *shop = shop_new(arena, "Step", SYSTEM_MM);
    const Thread *thick = thread_new(shop, "thick", 0x808080, 0.5);
    Thread dusk =
        *thread_new(shop, "dusk", 0x303a9c, 0.203); /* a length of colour begins in the turn on the step */
    dusk.colours = colours;
    dusk.colour_count = 3;
    dusk.period =
        3 * 4.5 * 42; /* a colour ends where the ring's side is, or half a turn on, at the picture's edge */
    shop->threads.items[1] = &dusk;
    PlannedPlace *place = place_add(shop, 320, direction, 2);
    band(place, 0, strands_new(shop, 0, thick, NULL, NULL), 20, 0);
    band(place, 1, strands_new(shop, 0, &dusk, NULL, NULL), 90, 1);
    double length = 90 * 42;
    place->layers[1].runs[0].lengths = &length;
    const Drawing *drawing = draw_rod(arena, &shop->plan, 0, VIEW_UNROLLED, 1);
    const Shape *whole = run_polygon(drawing, 1);
    double axis = (whole->points[0].y + whole->points[whole->point_count - 1].y) / 2, start = whole->points[0].x;
    for (uint32_t colour = 1; colour < 3; colour++) {
        const Shape *area = shape_in_group(drawing, 1, SHAPE_POLYGON, colour);
        assert_int_equal(area->fill, colours[colour]);
        uint32_t on_edge[2] = {0};
        for (uint32_t i = 0; i < area->point_count; i++) {
            double along = fabs(area->points[i].x - start), above = along < 10 ? 0.5 : 0;
            double radius = (14.8 + (11.2 - 14.8) * (320 + direction * along) / 600) / 2 + above + 0.203;
            double off = fabs(area->points[i].y - axis);
            if (fabs(along - 10) < 1e-9) /* the step itself has two heights */
                continue;
            bool edge = fabs(off - TRADE_PI * radius) < 1e-6;
            if (!edge && off > 1e-6)
                fail_msg("at %g mm %g mm off the middle, the edge is at %g", along, off, TRADE_PI * radius);
            on_edge[along > 10] += edge;
        }
        assert_true(on_edge[0] > 12 && on_edge[1] > 12);
    }
    arena_end(&bed.arena);
}

static void test_colours_over_a_step(void **state)
{
    (void)state;
    check_colours_over_a_step(1);
    check_colours_over_a_step(-1);
}

static uint32_t shapes_of_band(uint32_t turns, double scale)
{
    Bed bed;
    Arena *arena = bed_start(&bed);
    Shop *shop = shop_new(arena, "Band", SYSTEM_MM);
    const Thread *navy = thread_new(shop, "navy", 0x22346b, 0.15);
    PlannedPlace *place = place_add(shop, 320, 1, 1);
    band(place, 0, strands_new(shop, 0, navy, NULL, NULL), turns, 0);
    band(place, 0, strands_new(shop, 0, navy, navy, NULL), turns, 0);
    Drawing *drawing = draw_rod(arena, &shop->plan, 0, VIEW_SIDE, scale);
    uint32_t shapes = 0;
    for (uint32_t i = 0; i < drawing->shapes.count; i++)
        shapes += drawing->shapes.items[i].kind == SHAPE_POLYGON || drawing->shapes.items[i].kind == SHAPE_LINE;
    arena_end(&bed.arena);
    return shapes;
}

static void test_shapes_do_not_grow_with_turns(void **state)
{
    (void)state;
    assert_int_equal(shapes_of_band(20, 1), shapes_of_band(2000, 1));
    assert_int_equal(shapes_of_band(20, 4), shapes_of_band(2000, 4));
    /* The lines between turns are one shape a band; strands together need none. */
    assert_int_equal(shapes_of_band(20, 4), shapes_of_band(20, 1) + 1);
}

static void copy_ids(const Drawing *drawing, uint64_t *ids)
{
    uint32_t count = 0;
    for (uint32_t i = 0; i < drawing->shapes.count; i++)
        if (drawing->shapes.items[i].kind == SHAPE_GROUP_START)
            ids[count++] = drawing->shapes.items[i].id;
}

static void assert_unique(const uint64_t *ids, uint32_t count)
{
    for (uint32_t i = 0; i < count; i++) {
        assert_true(ids[i] != 0);
        for (uint32_t j = 0; j < i; j++)
            assert_true(ids[i] != ids[j]);
    }
}

/* One band, its first thread of two colours, with so many strands, turns and lengths of one colour: whether these
 * are too many to be drawn. */
static bool drawn_in_its_mean(uint32_t strands, uint32_t turns, double lengths)
{
    Trap trap = {0};
    Arena arena;
    arena_start(&arena, &trap);
    if (setjmp(*trap_set(&trap)) != 0)
        fail_msg("the machine has no memory left");
    const Thread mottled = {.colour_count = 2, .period = 8}, plain = {.colour = 0x22346b};
    Strand items[] = {{&mottled, false}, {&plain, false}};
    const Strands together = {.items = items, .count = strands};
    const double wound[] = {lengths * 4, 1e9};
    Run run = {.strands = &together, .turns = turns, .lengths = wound};
    PlannedLayer layer = {.laid = true, .runs = &run, .run_count = 1};
    PlannedPlace place = {.layers = &layer, .layer_count = 1};
    PlannedRod rod = {.places = &place, .place_count = 1};
    Canvas canvas = {.arena = &arena, .rod = &rod};
    colours_start(&canvas);
    bool blended = canvas.blended;
    assert_int_equal(canvas.wound == NULL, blended);
    arena_end(&arena);
    return blended;
}

/* Of a thread alone its lengths count, and the one that is begun; of threads together each turn besides, since it
 * is cut off where the next one begins. */
static void test_lengths_of_one_colour_have_a_limit(void **state)
{
    (void)state;
    assert_false(drawn_in_its_mean(1, 50000, 11999));
    assert_true(drawn_in_its_mean(1, 1, 12000));
    assert_false(drawn_in_its_mean(2, 9000, 2999));
    assert_true(drawn_in_its_mean(2, 9000, 3000));
}

static void test_ids_come_from_content(void **state)
{
    (void)state;
    Bed first, second;
    uint64_t ids[14], again[42];
    Shop *shop = fade_shop(bed_start(&first), SYSTEM_MM, 1);
    copy_ids(draw_rod(&first.arena, &shop->plan, 0, VIEW_SIDE, 1), ids);
    assert_unique(ids, 14);

    Shop *other = fade_shop(bed_start(&second), SYSTEM_MM, 1);
    PlannedPlace earlier = other->places.items[0];
    place_add(other, 320, 1, 1); /* the same place twice, and another one before them */
    place_add(other, 320, 1, 1);
    other->places.items[1] = other->places.items[2] = earlier;
    Place elsewhere = *earlier.place;
    elsewhere.mark = 100;
    other->places.items[0].place = &elsewhere;
    copy_ids(draw_rod(&second.arena, &other->plan, 0, VIEW_UNROLLED, 3), again);
    assert_unique(again, 42);
    assert_memory_equal(ids, again + 14, sizeof ids);
    arena_end(&first.arena);
    arena_end(&second.arena);
}

static void test_same_bytes_twice(void **state)
{
    (void)state;
    Bed first, second;
    Shop *one = fade_shop(bed_start(&first), SYSTEM_MM, 1), *two = fade_shop(bed_start(&second), SYSTEM_MM, 1);
    arena_take(&second.arena, 5000); /* other addresses */
    const char *a = svg_of(&first.arena, draw_rod(&first.arena, &one->plan, 0, VIEW_SIDE, 4));
    const char *b = svg_of(&second.arena, draw_rod(&second.arena, &two->plan, 0, VIEW_SIDE, 4));
    assert_string_equal(a, b);
    arena_end(&first.arena);
    arena_end(&second.arena);
}

/* Ticks of the drawing's ruler: the line of ticks that begins at the mark and is the longest. */
static const Shape *ruler_ticks(const Drawing *drawing)
{
    const Shape *longest = NULL;
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        if (shape->kind == SHAPE_LINE && (!longest || shape->point_count > longest->point_count))
            longest = shape;
    }
    return longest;
}

static void test_rulers(void **state)
{
    (void)state;
    static const struct {
        UnitSystem units;
        double step;
        int ticks_to_number;
        const char *number;
    } cases[] = {
        {SYSTEM_MM, 1, 10, "10"},
        {SYSTEM_CM, 1, 10, "1"},
        {SYSTEM_IN, 25.4 / 16, 8, "1/2"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        for (int direction = -1; direction <= 1; direction += 2) {
            Bed bed;
            Arena *arena = bed_start(&bed);
            Shop *shop = fade_shop(arena, cases[i].units, direction);
            Drawing *drawing = draw_rod(arena, &shop->plan, 0, VIEW_SIDE, 1);
            const Shape *ticks = ruler_ticks(drawing);
            double first = run_begin(drawing, 0);
            for (uint32_t t = 0; t * 3 < ticks->point_count; t++)
                assert_true(fabs(ticks->points[t * 3].x - (first + direction * (t * cases[i].step))) < 1e-9);
            int n = cases[i].ticks_to_number;
            double plain = ticks->points[4].y - ticks->points[3].y;
            assert_true(ticks->points[n * 3 + 1].y - ticks->points[n * 3].y > plain + 0.5);
            assert_true(has_text(drawing, cases[i].number));
            arena_end(&bed.arena);
        }
    }
}

/* Picture of a place with one run of so many turns of two threads, each 0.5 mm wide. */
static const Drawing *twofold_run(Arena *arena, uint32_t turns)
{
    Shop *shop = shop_new(arena, "Long", SYSTEM_MM);
    PlannedPlace *place = place_add(shop, 0, 1, 1);
    const Thread *one = thread_new(shop, "one", 0x112233, 0.5), *other = thread_new(shop, "other", 0x445566, 0.5);
    run_add(place, 0, strands_new(shop, 0, one, other, NULL), RUN_BAND, turns, 0, 0);
    place->layers[0].turns = turns;
    return draw_rod(arena, &shop->plan, 0, VIEW_UNROLLED, 1);
}

/* At most 5,000 ticks and 1,000 numbers, whatever the length: then the coarser ones. */
static void test_long_rulers_are_graduated_coarser(void **state)
{
    (void)state;
    static const struct {
        uint32_t mm, ticks;
        double step;
        const char *number, *none;
    } cases[] = {
        {5000, 5001, 1, "10", "5"},    {5001, 1001, 5, "10", "5"},        {10000, 2001, 5, "10", "5"},
        {10001, 2001, 5, "20", "10"},  {20001, 4001, 5, "50", "20"},      {25000, 5001, 5, "50", "20"},
        {25001, 2501, 10, "50", "20"}, {50000, 5001, 10, "50", "20"},     {50001, 5001, 10, "100", "50"},
        {50010, 0, 10, "100", "50"},   {2000000, 0, 10, "10000", "1000"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Bed bed;
        const Drawing *drawing = twofold_run(bed_start(&bed), cases[i].mm);
        const Shape *ticks = NULL;
        for (uint32_t s = 0; s < drawing->shapes.count; s++) {
            const Shape *shape = &drawing->shapes.items[s];
            if (shape->kind == SHAPE_LINE && shape->stroke == INK && shape->point_count > 2)
                ticks = shape;
        }
        assert_int_equal(ticks ? ticks->point_count : 0, 3 * cases[i].ticks);
        if (ticks)
            assert_true(fabs(ticks->points[3].x - ticks->points[0].x - cases[i].step) < 1e-9);
        assert_true(has_text(drawing, cases[i].number));
        assert_false(has_text(drawing, cases[i].none));
        arena_end(&bed.arena);
    }
}

/* Threads together: the second of each turn, or where the rod has more than 100,000 turns a few in proportion. */
static void test_threads_together_in_long_runs(void **state)
{
    (void)state;
    static const struct {
        uint32_t turns, teeth;
    } cases[] = {{2000, 2000}, {2001, 2001}, {2002, 2001}, {100000, 2001}, {100001, 21}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Bed bed;
        const Drawing *drawing = twofold_run(bed_start(&bed), cases[i].turns);
        const Shape *teeth = NULL;
        for (uint32_t s = 0; s < drawing->shapes.count; s++)
            if (drawing->shapes.items[s].fill == 0x445566 && drawing->shapes.items[s].traces)
                teeth = &drawing->shapes.items[s];
        assert_non_null(teeth);
        assert_int_equal(teeth->point_count, 4 * cases[i].teeth);
        double each = (double)cases[i].turns / cases[i].teeth;
        assert_true(fabs(teeth->points[2].x - teeth->points[0].x - each / 2) < 1e-6 * each);
        arena_end(&bed.arena);
    }
}

/* "12", "0.5", "1 3/4", "3/4"; NAN for anything else. */
static double number_read(const char *text)
{
    static const char *const quarters[] = {"1/4", "1/2", "3/4"};
    char *end;
    for (int i = 0; i < 3; i++)
        if (strcmp(text, quarters[i]) == 0)
            return (i + 1) / 4.0;
    double value = strtod(text, &end);
    for (int i = 0; i < 3; i++)
        if (end != text && *end == ' ' && strcmp(end + 1, quarters[i]) == 0)
            return value + (i + 1) / 4.0;
    return end != text && !*end ? value : NAN;
}

/* Steps of rulers, mm: those of the marks on a rule of each kind. */
typedef struct RulerKind {
    UnitSystem units;
    const char *unit;
    double unit_mm;
    double ticks[5]; /* finest first, 0 behind the last */
    double numbers[9];
} RulerKind;

static const RulerKind ruler_kinds[] = {
    {SYSTEM_MM, "mm", 1, {1, 5, 10}, {5, 10, 20, 50, 100, 200, 500, 1000, 10000}},
    {SYSTEM_CM, "cm", 10, {1, 5, 10}, {5, 10, 20, 50, 100, 200, 500, 1000, 10000}},
    {SYSTEM_IN,
     "in",
     25.4,
     {25.4 / 16, 25.4 / 8, 25.4 / 4, 25.4 / 2, 25.4},
     {25.4 / 4, 25.4 / 2, 25.4, 2 * 25.4, 5 * 25.4, 10 * 25.4, 20 * 25.4, 50 * 25.4, 500 * 25.4}},
};

/* The finest of the steps that leaves so much room on the page, or else the coarsest. */
static double step_with_room(const double *steps, int count, double scale, double room)
{
    int i = 0;
    while (i + 1 < count && steps[i + 1] > 0 && steps[i] * scale < room)
        i++;
    return steps[i];
}

/* From the datum on every tick, longer the coarser its mark is, to the end of what is shown; below them numbers
 * that say how far, the unit before the first. */
static void check_ruler(const RulerKind *kind, double scale, int direction)
{
    Bed bed;
    Arena *arena = bed_start(&bed);
    Shop *shop = fade_shop(arena, kind->units, direction);
    shop->places.items[0].layers[0].runs[0].strands = NULL; /* a gap, so that no row of ticks is as long */
    const Drawing *drawing = draw_rod(arena, &shop->plan, 0, VIEW_UNROLLED, scale);
    double type = fmax(1, sqrt(scale)), datum = run_begin(drawing, 0),
           width = shop->places.items[0].layers[0].width;
    double step = step_with_room(kind->ticks, 5, scale, 0.6);
    double number = step_with_room(kind->numbers, 9, scale, 6 * type);
    const Shape *ticks = NULL;
    uint32_t count = (uint32_t)floor((width + 5) / step + 1e-6) + 1, numbers = 0; /* 5 mm of bare blank */
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        if (shape->kind == SHAPE_LINE && shape->stroke == INK && shape->point_count == 3 * count)
            ticks = shape;
    }
    assert_non_null(ticks);
    double y = ticks->points[0].y;
    for (uint32_t t = 0; t < count; t++) {
        int coarsest = 0;
        for (int k = 0; k < 5 && kind->ticks[k] > 0; k++)
            if (fabs(remainder(t * step, kind->ticks[k])) < 1e-6)
                coarsest = k;
        double long_ones[2][5] = {{1, 1.6, 2.2}, {0.8, 1.1, 1.5, 1.8, 2.2}};
        double length = long_ones[kind->units == SYSTEM_IN][coarsest] * type;
        assert_true(fabs(ticks->points[3 * t].x - (datum + direction * (t * step) * scale)) < 1e-6);
        assert_true(fabs(ticks->points[3 * t + 1].y - y - length) < 1e-9);
        assert_true(ticks->points[3 * t].y == y && ticks->points[3 * t + 2].y == y);
    }
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        if (shape->kind != SHAPE_TEXT || shape->at.y < y || shape->fill != INK || shape->at.y > y + 5 * type)
            continue;
        double at = number_read(shape->text) * kind->unit_mm;
        assert_true(fabs(at - numbers++ * number) < 0.06 * kind->unit_mm); /* shown with one decimal at most */
        assert_true(fabs(shape->at.x - (datum + direction * ((numbers - 1) * number) * scale)) < 1e-6);
        assert_int_equal(shape->align, ALIGN_MIDDLE);
        assert_true(shape->at.y - shape->size > y + 2.2 * type - 1e-9); /* clear of the longest tick */
    }
    assert_int_equal(numbers, (uint32_t)floor((width + 5) / number + 1e-6) + 1);
    const Shape *unit = text_shape(drawing, kind->unit);
    assert_true((unit->at.x - datum) * direction < 0);
    assert_int_equal(unit->align, direction > 0 ? ALIGN_END : ALIGN_START);
    arena_end(&bed.arena);
}

static void test_rulers_of_every_size(void **state)
{
    (void)state;
    static const double scales[] = {0.01, 0.04, 0.1, 0.3, 0.5, 1, 2, 3.7, 8, 30, 100};
    for (size_t k = 0; k < sizeof ruler_kinds / sizeof *ruler_kinds; k++)
        for (size_t s = 0; s < sizeof scales / sizeof *scales; s++)
            for (int direction = -1; direction <= 1; direction += 2)
                check_ruler(&ruler_kinds[k], scales[s], direction);
}

/* Letters are 5, 3, 2.4 or 2 mm high, and larger in larger pictures: by the square root of the scale. */
static void test_letters_grow_with_pictures(void **state)
{
    (void)state;
    static const struct {
        double scale, type;
        const char *words;
    } cases[] = {{0.25, 1, "side view, 0.25 times true size; butt on the left, tip on the right"},
                 {1, 1, "side view, true size; butt on the left, tip on the right"},
                 {4, 2, "side view, 4 times true size; butt on the left, tip on the right"},
                 {2.25, 1.5, "side view, 2.25 times true size; butt on the left, tip on the right"},
                 {0, 1, "side view, true size; butt on the left, tip on the right"},
                 {NAN, 1, "side view, true size; butt on the left, tip on the right"}};
    static const double sizes[] = {5, 3, 2.4, 2};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Bed bed;
        Arena *arena = bed_start(&bed);
        Shop *shop = fade_shop(arena, SYSTEM_MM, 1);
        const Drawing *drawing = draw_rod(arena, &shop->plan, 0, VIEW_SIDE, cases[i].scale);
        unsigned texts[4] = {0}, all = 0;
        for (uint32_t s = 0; s < drawing->shapes.count; s++) {
            const Shape *shape = &drawing->shapes.items[s];
            all += shape->kind == SHAPE_TEXT;
            for (int size = 0; shape->kind == SHAPE_TEXT && size < 4; size++)
                texts[size] += fabs(shape->size - sizes[size] * cases[i].type) < 1e-9;
        }
        assert_true(texts[0] == 1 && texts[1] == 1 && texts[2] >= 4 && texts[3] > 4);
        assert_int_equal(texts[0] + texts[1] + texts[2] + texts[3], all);
        assert_true(text_shape(drawing, "Harbour")->size == 5 * cases[i].type);
        assert_true(has_text(drawing, cases[i].words));
        arena_end(&bed.arena);
    }
}

typedef struct Box {
    double left, right, top, bottom;
    const char *what;
} Box;

/* The room that a text is reckoned to take, or that an arrow's head takes; empty for all other shapes. */
static Box box_of(const Shape *shape)
{
    if (shape->kind == SHAPE_POLYGON && shape->fill == MARK_INK)
        return (Box){shape->points[0].x - breadth(shape), shape->points[0].x + breadth(shape), highest_y(shape),
                     lowest_y(shape), "an arrow"};
    if (shape->kind != SHAPE_TEXT)
        return (Box){0};
    double width = text_columns(shape->text) * shape->size * 0.6;
    double before = shape->align == ALIGN_END ? width : shape->align == ALIGN_MIDDLE ? width / 2 : 0;
    double left = shape->at.x - before;
    return (Box){left, left + width, shape->at.y - shape->size * 0.75, shape->at.y, shape->text};
}

/* The picture holds all that is in it; texts are apart. */
static void assert_apart(const Drawing *drawing)
{
    for (uint32_t i = 0; i < drawing->shapes.count; i++)
        for (uint32_t p = 0; p < drawing->shapes.items[i].point_count; p++) {
            Point point = drawing->shapes.items[i].points[p];
            assert_true(point.x >= 0 && point.x <= drawing->width && point.y >= 0 && point.y <= drawing->height);
        }
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        Box a = box_of(&drawing->shapes.items[i]);
        if (!a.what)
            continue;
        assert_true(a.left >= 0 && a.right <= drawing->width && a.top >= 0 && a.bottom <= drawing->height);
        for (uint32_t j = 0; j < i; j++) {
            Box b = box_of(&drawing->shapes.items[j]);
            bool beside = a.left >= b.right || b.left >= a.right, above = a.top >= b.bottom || b.top >= a.bottom;
            if (b.what && !beside && !above)
                fail_msg("\"%s\" touches \"%s\"", a.what, b.what);
        }
    }
}

/* A wrap of 5 mm, and a guide's foot: no two texts of the sheet touch, at any size. */
static void test_texts_do_not_touch(void **state)
{
    (void)state;
    static const struct {
        double scale;
        UnitSystem units;
    } sizes[] = {{0.25, SYSTEM_IN}, {1, SYSTEM_MM}, {4, SYSTEM_CM}};
    for (int s = 0; s < 3; s++) {
        for (int view = VIEW_SIDE; view <= VIEW_UNROLLED; view++) {
            Bed bed;
            Arena *arena = bed_start(&bed);
            Shop *shop = shop_new(arena, "Tip", sizes[s].units);
            const Strands *navy = strands_new(shop, 0, thread_new(shop, "navy", 0x22346b, 0.15), NULL, NULL);
            PlannedPlace *place = place_add(shop, 2060, -1, 2);
            band(place, 0, navy, 33, 0);
            band(place, 1, navy, 8, 1);
            band(place, 1, navy, 25, 2);
            foot_add(shop, place_add(shop, 1900, 1, 1));
            assert_apart(draw_rod(arena, &shop->plan, 0, (View)view, sizes[s].scale));
            arena_end(&bed.arena);
        }
    }
}

#define U_FFFD "\xef\xbf\xbd"

static void test_hostile_texts(void **state)
{
    (void)state;
    Bed bed;
    Arena *arena = bed_start(&bed);
    Shop *shop = shop_new(arena, "<script>\"x\" & 'y' ]]>\x01\x7f\x1b", SYSTEM_MM);
    const Thread *odd = thread_new(shop, "na\xe2\x80\xae\xd7\xa9\xf0\x9f\x90\x9f\t\r\n<b>", 0x22346b, 0.15);
    const Thread *broken = thread_new(shop, "\xff\xed\xa0\x80\xef\xbf\xbe\xc0\xaf", 0x9db8d6, 0.15);
    PlannedPlace *place = place_add(shop, 320, 1, 1);
    band(place, 0, strands_new(shop, 0, odd, NULL, NULL), 20, 0);
    band(place, 0, strands_new(shop, 0, broken, NULL, NULL), 20, 1);
    source_add(shop, "a\"b\t\n<&'.lay", "edition 1 and some more text");
    const char *svg = svg_of(arena, draw_rod(arena, &shop->plan, 0, VIEW_SIDE, 1));
    assert_null(strstr(svg, "<script"));
    assert_null(strstr(svg, "]]>"));
    assert_null(strstr(svg, "<b>"));
    assert_non_null(
        strstr(svg, "<title>&lt;script&gt;\"x\" &amp; 'y' ]]&gt;\xe2\x90\x81\xe2\x90\xa1\xe2\x90\x9b</title>"));
    assert_non_null(strstr(svg, "<title>na" U_FFFD "\xd7\xa9\xf0\x9f\x90\x9f\t&#13;\n&lt;b&gt;, 20 turns"));
    /* ff; a surrogate's three bytes; U+FFFE; an overlong slash's two: one sign for each that cannot be read. */
    assert_non_null(strstr(svg, "<title>" U_FFFD U_FFFD U_FFFD U_FFFD U_FFFD U_FFFD U_FFFD ", 20 turns"));
    assert_non_null(strstr(svg, " data-file=\"a&quot;b&#9;&#10;&lt;&amp;'.lay\""));
    for (const char *at = svg; *at; at++)
        assert_true((unsigned char)*at >= 0x20 || *at == '\n' || *at == '\t');
    arena_end(&bed.arena);
}

/* Long names neither widen the sheet without end nor are cut within a character. */
static void test_long_names(void **state)
{
    (void)state;
    Bed bed;
    Arena *arena = bed_start(&bed);
    Shop *shop = shop_new(arena, "Long", SYSTEM_MM);
    char name[3001];
    for (size_t i = 0; i < 3000; i += 2)
        memcpy(name + i, "\xc3\xa4", 2);
    name[3000] = 0;
    PlannedPlace *place = place_add(shop, 320, 1, 1);
    band(place, 0, strands_new(shop, 0, thread_new(shop, name, 0x22346b, 0.15), NULL, NULL), 20, 0);
    Drawing *drawing = draw_rod(arena, &shop->plan, 0, VIEW_SIDE, 1);
    assert_true(drawing->width < 200);
    const char *title = shape_in_group(drawing, 0, SHAPE_GROUP_START, 0)->text;
    assert_int_equal(strspn(title, "\xc3\xa4"), 80);
    assert_string_equal(title + 80, "..., 20 turns, 3.00 mm");
    arena_end(&bed.arena);
}

/* However large one becomes, what was taken out before it, and it itself, are as they were traced. */
static void test_areas_stay_as_they_were_taken(void **state)
{
    (void)state;
    enum { SHAPES = 6 };
    static const uint32_t parts[SHAPES] = {1, 500, 100000, 3, 100001, 700};
    Bed bed;
    Area area;
    Shape shapes[SHAPES] = {{0}};
    area_start(&area, bed_start(&bed));
    for (uint32_t i = 0; i < SHAPES; i++) {
        for (uint32_t part = 0; part < parts[i]; part++) {
            area_begin(&area, (Point){i, part});
            area_line(&area, (Point){i, part + 0.5});
        }
        area_take(&area, &shapes[i]);
    }
    for (uint32_t i = 0; i < SHAPES; i++) {
        assert_int_equal(shapes[i].point_count, 2 * parts[i]);
        assert_int_equal(shapes[i].trace_count, 2 * parts[i]);
        for (uint32_t p = 0; p < 2 * parts[i]; p++)
            if (shapes[i].points[p].x != i || shapes[i].points[p].y != p / 2.0
                || shapes[i].traces[p] != (p % 2 ? TRACE_LINE : TRACE_BEGIN))
                fail_msg("shape %u, point %u", i, p);
    }
    arena_end(&bed.arena);
}

/* Path data is written as steps; rounded positions must add up, not rounded steps. */
static void test_path_data(void **state)
{
    (void)state;
    Bed bed;
    Arena *arena = bed_start(&bed);
    Drawing drawing = {.width = 30.5, .height = 20, .title = "t", .description = "d"};
    Point points[] = {{1, 2}, {1.0004, 2}, {1.0008, 2}, {1.0008, 3.25}, {0.5, 3}};
    *LIST_ADD(arena, &drawing.shapes) =
        (Shape){.kind = SHAPE_POLYGON, .points = points, .point_count = 5, .fill = 0x0000ff, .stroke = NO_COLOUR};
    *LIST_ADD(arena, &drawing.shapes) = (Shape){.kind = SHAPE_LINE,
                                                .points = points,
                                                .point_count = 2,
                                                .fill = NO_COLOUR,
                                                .stroke = 0xabcdef,
                                                .stroke_width = 0.1};
    *LIST_ADD(arena, &drawing.shapes) = (Shape){.kind = SHAPE_POLYGON,
                                                .points = points,
                                                .point_count = 5,
                                                .fill = NO_COLOUR,
                                                .stroke = NO_COLOUR,
                                                .shade = SHADE_CYLINDER};
    const char *svg = svg_of(arena, &drawing);
    assert_non_null(strstr(svg, "width=\"30.5mm\" height=\"20mm\" viewBox=\"0 0 30.5 20\""));
    assert_non_null(strstr(svg, "<path fill=\"#0000ff\" d=\"m1 2h.001v1.25l-.501-.25z\"/>"));
    assert_non_null(strstr(svg, "<path fill=\"none\" stroke=\"#abcdef\" stroke-width=\".1\" d=\"m1 2\"/>"));
    assert_int_equal(occurrences(svg, "url(#cylinder)"), 1);
    assert_int_equal(occurrences(svg, "<path"), 3);
    assert_non_null(strstr(svg, " role=\"img\""));
    arena_end(&bed.arena);
}

/* What could not be laid out leaves a sheet that says so. */
static void test_nothing_laid(void **state)
{
    (void)state;
    Bed bed;
    Arena *arena = bed_start(&bed);
    Shop *shop = shop_new(arena, "Nothing", SYSTEM_MM);
    PlannedPlace *place = place_add(shop, 320, 1, 1);
    place->layers[0].laid = false;
    Drawing *drawing = draw_rod(arena, &shop->plan, 0, VIEW_SIDE, 1);
    assert_true(has_text(drawing, "blank 12.88 mm at the mark; wrap: left out"));
    assert_null(strstr(svg_of(arena, drawing), "nan"));
    shop->rod.blank = NULL;
    drawing = draw_rod(arena, &shop->plan, 0, VIEW_UNROLLED, 1);
    assert_int_equal(group_count(drawing), 0);
    assert_true(has_text(drawing, "Nothing"));
    arena_end(&bed.arena);
}

/* Of many threads wound together four are named. */
static void test_names_of_threads_together(void **state)
{
    (void)state;
    static const struct {
        uint32_t count;
        const char *words;
    } cases[] = {{1, "a"},
                 {4, "a + b + spacer c + d"},
                 {5, "a + b + spacer c + d and 1 more"},
                 {6, "a + b + spacer c + d and 2 more"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Trap trap = {0};
        Arena arena;
        arena_start(&arena, &trap);
        if (setjmp(*trap_set(&trap)) != 0)
            fail_msg("the machine has no memory left");
        Texts texts;
        texts_start(&texts, &arena);
        Thread threads[6];
        Strand strands[6];
        for (int t = 0; t < 6; t++) {
            threads[t] = (Thread){.opacity = 1, .name = text_of_string(&texts, (char[]){(char)('a' + t), 0})};
            strands[t] = (Strand){.thread = &threads[t], .spacer = t == 2};
        }
        Buffer words;
        buffer_start(&words, &arena);
        put_thread_names(&words, &(Strands){.items = strands, .count = cases[i].count});
        buffer_put(&words, "", 1);
        assert_string_equal(words.bytes, cases[i].words);
        arena_end(&arena);
    }
}

/* Four strands are named, of more how many there are besides. */
static void test_strands_are_named(void **state)
{
    (void)state;
    static const char *const wanted[] = {"a",
                                         "a + spacer b",
                                         "a + spacer b + c",
                                         "a + spacer b + c + d",
                                         "a + spacer b + c + d and 1 more",
                                         "a + spacer b + c + d and 2 more"};
    enum { MOST = sizeof wanted / sizeof *wanted };
    Trap trap;
    Arena arena;
    Texts texts;
    arena_start(&arena, &trap);
    texts_start(&texts, &arena);
    Thread threads[MOST] = {0};
    Strand strands[MOST];
    for (uint32_t i = 0; i < MOST; i++) {
        threads[i].name = text_of(&texts, "abcdef" + i, 1);
        strands[i] = (Strand){&threads[i], i == 1};
        Buffer words;
        buffer_start(&words, &arena);
        put_thread_names(&words, &(Strands){.items = strands, .count = i + 1});
        buffer_put(&words, "", 1);
        assert_string_equal(words.bytes, wanted[i]);
    }
    arena_end(&arena);
}

/* Grooves between turns are a fifth darker in each channel; on what is nearly black they are lighter by 15 % of
 * white. */
static void test_grooves_stand_out_faintly(void **state)
{
    (void)state;
    static const uint32_t colours[] = {0x000000, 0x27282e, 0x10203f, 0x28282a,
                                       0x282828, 0xffffff, 0x0a5078, 0x777700};
    for (size_t i = 0; i < sizeof colours / sizeof *colours; i++) {
        uint32_t groove = groove_colour(colours[i]);
        unsigned sum = (colours[i] >> 16) + (colours[i] >> 8 & 0xff) + (colours[i] & 0xff);
        for (int shift = 0; shift <= 16; shift += 8) {
            double channel = colours[i] >> shift & 0xff, of_groove = groove >> shift & 0xff;
            double meant = sum < 120 ? channel + 0.15 * 255 : channel * 0.8;
            assert_true(fabs(of_groove - meant) < 1);
        }
        assert_int_equal(groove >> 24, 0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_runs_have_their_widths),
        cmocka_unit_test(test_neighbours_overlap),
        cmocka_unit_test(test_runs_have_their_colours),
        cmocka_unit_test(test_titles_say_what_lies_there),
        cmocka_unit_test(test_strands_are_named),
        cmocka_unit_test(test_grooves_stand_out_faintly),
        cmocka_unit_test(test_heights),
        cmocka_unit_test(test_layers_lie_on_one_another),
        cmocka_unit_test(test_turns_climb_the_foot),
        cmocka_unit_test(test_grooves_lie_between_turns),
        cmocka_unit_test(test_ring_stands_in_its_place),
        cmocka_unit_test(test_clock_of_the_unrolled_surface),
        cmocka_unit_test(test_strands_together),
        cmocka_unit_test(test_strands_together_over_a_step),
        cmocka_unit_test(test_colours_over_a_step),
        cmocka_unit_test(test_shapes_do_not_grow_with_turns),
        cmocka_unit_test(test_lengths_of_one_colour_have_a_limit),
        cmocka_unit_test(test_ids_come_from_content),
        cmocka_unit_test(test_same_bytes_twice),
        cmocka_unit_test(test_rulers),
        cmocka_unit_test(test_long_rulers_are_graduated_coarser),
        cmocka_unit_test(test_threads_together_in_long_runs),
        cmocka_unit_test(test_rulers_of_every_size),
        cmocka_unit_test(test_letters_grow_with_pictures),
        cmocka_unit_test(test_texts_do_not_touch),
        cmocka_unit_test(test_hostile_texts),
        cmocka_unit_test(test_long_names),
        cmocka_unit_test(test_areas_stay_as_they_were_taken),
        cmocka_unit_test(test_path_data),
        cmocka_unit_test(test_names_of_threads_together),
        cmocka_unit_test(test_nothing_laid),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
