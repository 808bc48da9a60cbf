/* Pictures of pixels, read back by cairo: the very colours, where they belong; light by its stops; how wide and
 * high they are; the limits; and nothing left behind when memory runs out. tests/png holds them against SVG. */
#include <stdarg.h>
#include <stddef.h>
#include <setjmp.h>
#include <stdint.h>
#include <cmocka.h>

#include "base/limits.h"
#include "draw/inks.h"
#include "draw/shading.h"
#include "emit/emit.h"

#include <cairo.h>
#include <malloc.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { RED = 0xc01830, BLUE = 0x22346b, MOST_SHAPES = 8 };

/* A drawing of a few shapes, in arenas of its own. */
typedef struct Painting {
    Trap trap;
    Arena arena;
    Shape shapes[MOST_SHAPES];
    Drawing drawing;
    Buffer page;
} Painting;

static void start(Painting *painting, double width, double height)
{
    *painting = (Painting){.drawing = {.width = width, .height = height, .title = "", .description = ""}};
    arena_start(&painting->arena, &painting->trap);
    painting->drawing.shapes.items = painting->shapes;
}

static Shape *add(Painting *painting, Shape shape)
{
    Shape *added = &painting->shapes[painting->drawing.shapes.count++];
    *added = shape;
    return added;
}

static Shape *add_polygon(Painting *painting, Point *points, uint32_t count, uint32_t fill)
{
    return add(
        painting,
        (Shape){.kind = SHAPE_POLYGON, .points = points, .point_count = count, .fill = fill, .stroke = NO_COLOUR});
}

typedef enum { PAINTED, NO_FONT, BROKEN_OFF } Outcome;

static Outcome paint(Painting *painting, uint32_t width)
{
    if (setjmp(*trap_set(&painting->trap)) != 0)
        return BROKEN_OFF;
    buffer_start(&painting->page, &painting->arena);
    return emit_drawing_png(&painting->page, &painting->drawing, width) ? PAINTED : NO_FONT;
}

/* --- reading back --- */

typedef struct Reading {
    const char *bytes;
    size_t left;
} Reading;

static cairo_status_t read_on(void *closure, unsigned char *bytes, unsigned length)
{
    Reading *reading = closure;
    if (length > reading->left)
        return CAIRO_STATUS_READ_ERROR;
    memcpy(bytes, reading->bytes, length);
    reading->bytes += length;
    reading->left -= length;
    return CAIRO_STATUS_SUCCESS;
}

static cairo_surface_t *read_back(const Buffer *page)
{
    Reading reading = {page->bytes, page->length};
    cairo_surface_t *surface = cairo_image_surface_create_from_png_stream(read_on, &reading);
    assert_int_equal(cairo_surface_status(surface), CAIRO_STATUS_SUCCESS);
    assert_int_equal(reading.left, 0);
    assert_int_equal(cairo_image_surface_get_format(surface), CAIRO_FORMAT_RGB24);
    return surface;
}

/* 0xRRGGBB */
static uint32_t pixel(cairo_surface_t *surface, int x, int y)
{
    const unsigned char *row =
        cairo_image_surface_get_data(surface) + (ptrdiff_t)y * cairo_image_surface_get_stride(surface);
    uint32_t value;
    memcpy(&value, row + 4 * (ptrdiff_t)x, sizeof value);
    return value & 0xffffff;
}

static cairo_surface_t *painted(Painting *painting, uint32_t width)
{
    assert_int_equal(paint(painting, width), PAINTED);
    cairo_surface_t *surface = read_back(&painting->page);
    arena_end(&painting->arena);
    return surface;
}

/* --- tests --- */

static void fills_keep_their_colour(void **state)
{
    (void)state;
    Painting painting;
    start(&painting, 10, 5);
    add_polygon(&painting, (Point[]){{2, 1}, {6, 1}, {6, 4}, {2, 4}}, 4, BLUE);
    add_polygon(&painting, (Point[]){{6, 1}, {8, 1}, {8, 4}, {6, 4}}, 4, RED);
    cairo_surface_t *surface = painted(&painting, 100);
    assert_int_equal(cairo_image_surface_get_width(surface), 100);
    assert_int_equal(cairo_image_surface_get_height(surface), 50);
    for (int y = 0; y < 50; y++)
        for (int x = 0; x < 100; x++) {
            bool within = y >= 10 && y < 40;
            uint32_t wanted = within && x >= 20 && x < 60 ? BLUE : within && x >= 60 && x < 80 ? RED : PAPER;
            assert_int_equal(pixel(surface, x, y), wanted);
        }
    cairo_surface_destroy(surface);
}

/* Parts that lie in one another are filled alike; a curve bulges; a stroke lies half on either side. */
static void areas_curves_and_lines_are_where_they_belong(void **state)
{
    (void)state;
    Painting painting;
    start(&painting, 40, 20);
    static const unsigned char parts[] = {TRACE_BEGIN, TRACE_LINE, TRACE_LINE, TRACE_LINE,  TRACE_BEGIN,
                                          TRACE_LINE,  TRACE_LINE, TRACE_LINE, TRACE_BEGIN, TRACE_CURVE};
    Point points[] = {{1, 1}, {9, 1}, {9, 9},  {1, 9},  {3, 3},   {6, 3},
                      {6, 6}, {3, 6}, {12, 2}, {16, 2}, {16, 18}, {12, 18}};
    Shape *area = add_polygon(&painting, points, 12, RED);
    area->traces = parts;
    area->trace_count = sizeof parts;
    add(&painting, (Shape){.kind = SHAPE_LINE,
                           .points = (Point[]){{22, 10}, {38, 10}},
                           .point_count = 2,
                           .fill = NO_COLOUR,
                           .stroke = BLUE,
                           .stroke_width = 2});
    add(&painting, (Shape){.kind = SHAPE_GROUP_START, .text = "a group paints nothing"});
    add(&painting, (Shape){.kind = SHAPE_GROUP_END});
    Point box[] = {{24, 14}, {30, 14}, {30, 18}, {24, 18}};
    *add_polygon(&painting, box, 4, NO_COLOUR) = (Shape){.kind = SHAPE_POLYGON,
                                                         .points = box,
                                                         .point_count = 4,
                                                         .fill = NO_COLOUR,
                                                         .stroke = RED,
                                                         .stroke_width = 1};
    cairo_surface_t *surface = painted(&painting, 400);
    assert_int_equal(pixel(surface, 45, 45), RED);
    assert_int_equal(pixel(surface, 95, 45), PAPER);
    assert_int_equal(pixel(surface, 148, 100),
                     RED); /* the curve's middle lies 3/4 of the way to its handles: 15 */
    assert_int_equal(pixel(surface, 152, 100), PAPER);
    assert_int_equal(pixel(surface, 300, 91), BLUE);
    assert_int_equal(pixel(surface, 300, 108), BLUE);
    assert_int_equal(pixel(surface, 300, 88), PAPER);
    assert_int_equal(pixel(surface, 300, 111), PAPER);
    assert_int_equal(pixel(surface, 217, 100), PAPER); /* lines end where they end */
    assert_int_equal(pixel(surface, 270, 160), PAPER); /* no fill */
    assert_int_equal(pixel(surface, 270, 143), RED);
    assert_int_equal(pixel(surface, 270, 136), RED);
    assert_int_equal(pixel(surface, 270, 133), PAPER);
    cairo_surface_destroy(surface);
}

/* Of the whole height, from the upper edge: opacity between two stops is in proportion. */
static double shaded(Shade shade, double level, double at)
{
    uint32_t i = 0;
    while (i + 2 < shadings[shade].count && shadings[shade].stops[i + 1].at < at)
        i++;
    const ShadeStop *one = &shadings[shade].stops[i], *next = one + 1;
    double share = (at - one->at) / (next->at - one->at),
           opacity = one->opacity + share * (next->opacity - one->opacity);
    double light = one->opacity > 0 ? one->colour & 0xff : next->colour & 0xff;
    return level * (1 - opacity) + light * opacity;
}

static void light_lies_on_a_shape_by_its_stops(void **state)
{
    (void)state;
    enum { HIGH = 1000, NEAR = 2 };
    Painting painting;
    cairo_surface_t *surface;
    Point points[] = {{0, 1}, {4, 1}, {4, 11}, {0, 11}};
    for (Shade shade = SHADE_CYLINDER; shade < SHADE_COUNT; shade++) {
        start(&painting, 4, 12);
        add_polygon(&painting, points, 4, BLUE)->shade = shade;
        surface = painted(&painting, 400);
        for (int y = 0; y < HIGH; y++) {
            uint32_t found = pixel(surface, 200, 100 + y);
            for (int shift = 0; shift <= 16; shift += 8)
                assert_float_equal((found >> shift & 0xff), shaded(shade, BLUE >> shift & 0xff, (y + 0.5) / HIGH),
                                   NEAR);
        }
        assert_int_equal(pixel(surface, 200, 99), PAPER);
        assert_int_equal(pixel(surface, 200, 1100), PAPER);
        cairo_surface_destroy(surface);
    }
    start(&painting, 4, 12); /* light alone, over what lies below */
    add_polygon(&painting, points, 4, RED);
    add_polygon(&painting, points, 4, NO_COLOUR)->shade = SHADE_CYLINDER;
    surface = painted(&painting, 400);
    for (int shift = 0; shift <= 16; shift += 8)
        assert_float_equal((pixel(surface, 200, 1050) >> shift & 0xff),
                           shaded(SHADE_CYLINDER, RED >> shift & 0xff, 0.9505), NEAR);
    cairo_surface_destroy(surface);
}

/* A polygon that shapes are seen within; within: another that it is seen in itself. */
static Clip clip_of(Point *points, uint32_t count, const Clip *within)
{
    return (Clip){.outline = {.kind = SHAPE_POLYGON, .points = points, .point_count = count}, .within = within};
}

static void shapes_are_seen_within_their_clips(void **state)
{
    (void)state;
    Painting painting;
    start(&painting, 10, 10);
    Point all[] = {{0, 0}, {10, 0}, {10, 10}, {0, 10}}, left[] = {{0, 0}, {5, 0}, {5, 10}, {0, 10}},
          top[] = {{0, 0}, {10, 0}, {10, 5}, {0, 5}}, bottom[] = {{0, 8}, {10, 8}, {10, 10}, {0, 10}};
    Clip outer = clip_of(left, 4, NULL), inner = clip_of(top, 4, &outer);
    add_polygon(&painting, all, 4, RED)->clip = &outer;
    add_polygon(&painting, all, 4, BLUE)->clip = &inner;
    add_polygon(&painting, bottom, 4, BLUE); /* not within any */
    cairo_surface_t *surface = painted(&painting, 100);
    assert_int_equal(pixel(surface, 20, 20), BLUE);
    assert_int_equal(pixel(surface, 20, 70), RED);
    assert_int_equal(pixel(surface, 70, 20), PAPER);
    assert_int_equal(pixel(surface, 70, 70), PAPER);
    assert_int_equal(pixel(surface, 20, 90), BLUE);
    assert_int_equal(pixel(surface, 70, 90), BLUE);
    cairo_surface_destroy(surface);
}

/* Whether the pixel is a mixture of the ink and the paper, without fringes of colour. */
static bool is_mixture(uint32_t found, uint32_t ink)
{
    double least = 1, most = 0;
    for (int shift = 0; shift <= 16; shift += 8) {
        double share = (255.0 - (found >> shift & 0xff)) / (255.0 - (ink >> shift & 0xff));
        least = fmin(least, share);
        most = fmax(most, share);
    }
    return most - least < 0.02;
}

/* First and last column with ink in a band of rows. */
static void inked(cairo_surface_t *surface, int top, int bottom, int *first, int *last)
{
    *first = INT32_MAX;
    *last = -1;
    for (int y = top; y < bottom; y++)
        for (int x = 0; x < cairo_image_surface_get_width(surface); x++)
            if (pixel(surface, x, y) != PAPER) {
                *first = x < *first ? x : *first;
                *last = x > *last ? x : *last;
            }
}

static void letters_are_aligned_and_turned(void **state)
{
    (void)state;
    Painting painting;
    start(&painting, 60, 60);
    for (TextAlign align = ALIGN_START; align < ALIGN_COUNT; align++)
        add(&painting, (Shape){.kind = SHAPE_TEXT,
                               .at = {30, 10 + 10.0 * align},
                               .size = 4,
                               .align = align,
                               .fill = BLUE,
                               .text = "HHHH"});
    add(&painting,
        (Shape){.kind = SHAPE_TEXT, .at = {30, 58}, .size = 4, .turned = 90, .fill = RED, .text = "HHHH"});
    add(&painting, (Shape){.kind = SHAPE_TEXT, .at = {5, 50}, .size = 4, .fill = NO_COLOUR, .text = "HHHH"});
    cairo_surface_t *surface = painted(&painting, 600);
    int first[4], last[4];
    for (int row = 0; row < 3; row++)
        inked(surface, 65 + 100 * row, 102 + 100 * row, &first[row], &last[row]);
    inked(surface, 420, 600, &first[3], &last[3]);
    for (int y = 0; y < 400; y++)
        for (int x = 0; x < 600; x++)
            assert_true(is_mixture(pixel(surface, x, y), BLUE));
    int width = last[0] - first[0];
    assert_in_range(first[0], 300, 305);
    assert_in_range(abs((first[1] + last[1]) / 2 - 300), 0, 2);
    assert_in_range(last[2], 294, 300);
    assert_true(width > 80 && width < 160);
    assert_true(abs(last[1] - first[1] - width) <= 1 && abs(last[2] - first[2] - width) <= 1);
    /* Reads upward: left of its place, and as high as the others are wide. */
    assert_true(first[3] >= 265 && last[3] <= 300);
    bool above = false, below = false;
    for (int x = first[3]; x <= last[3]; x++) {
        above |= pixel(surface, x, 580 - width + 8) != PAPER;
        below |= pixel(surface, x, 572) != PAPER;
    }
    assert_true(above && below);
    cairo_surface_destroy(surface);
}

/* Of the first chunk, IHDR: behind a signature of eight bytes, its length and its name. */
enum { WIDTH_AT = 16, HEIGHT_AT = 20 };

static int said_at(const Buffer *page, size_t at)
{
    const unsigned char *bytes = (const unsigned char *)page->bytes + at;
    assert_true(page->length > at + 4);
    return bytes[0] << 24 | bytes[1] << 16 | bytes[2] << 8 | bytes[3];
}

/* Letters keep to no grid: a text is as much longer as it is higher. */
static void letters_grow_evenly(void **state)
{
    (void)state;
    static const double sizes[] = {1.7, 2, 2.4, 3};
    enum { SIZES = sizeof sizes / sizeof *sizes };
    Painting painting;
    start(&painting, 200, 50);
    for (int i = 0; i < SIZES; i++)
        add(&painting, (Shape){.kind = SHAPE_TEXT,
                               .at = {2, 10 + 10 * i},
                               .size = sizes[i],
                               .fill = BLUE,
                               .text = "nnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnn"});
    cairo_surface_t *surface = painted(&painting, 2000);
    double of_first = 0;
    for (int i = 0; i < SIZES; i++) {
        int first, last;
        inked(surface, 60 + 100 * i, 110 + 100 * i, &first, &last);
        double length = (last - first) / sizes[i];
        of_first = i ? of_first : length;
        assert_true(fabs(length - of_first) < 0.01 * of_first);
    }
    cairo_surface_destroy(surface);
}

static void width_and_height_follow_the_drawing(void **state)
{
    (void)state;
    static const struct {
        double width, height;
        uint32_t asked;
        int wide, high;
    } cases[] = {
        {100, 50, 0, 800, 400},       {100.01, 50, 0, 801, 400}, {100, 50, 333, 333, 167},
        {100, 50, 331, 331, 166},     {100, 0.01, 16, 16, 1},    {5000, 1, 0, 32767, 7},
        {10, 50000, 0, 6, 30000},     {10, 500000, 0, 1, 50000}, {2000, 2000, 0, 7745, 7745},
        {8000, 1000, 0, 21906, 2738}, {6, 32768, 0, 5, 27307},   {1.2, 32768, 0, 1, 27307},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Painting painting;
        start(&painting, cases[i].width, cases[i].height);
        Outcome outcome = paint(&painting, cases[i].asked);
        if (cases[i].high > LIMIT_PIXEL_ROWS) {
            assert_int_equal(outcome, BROKEN_OFF);
            assert_int_equal(painting.trap.beyond, BEYOND_PIXEL_ROWS);
        } else {
            assert_int_equal(outcome, PAINTED);
            assert_int_equal(said_at(&painting.page, WIDTH_AT), cases[i].wide);
            assert_int_equal(said_at(&painting.page, HEIGHT_AT), cases[i].high);
        }
        arena_end(&painting.arena);
    }
}

static Beyond beyond_of(double height, uint32_t width)
{
    Painting painting;
    start(&painting, 1, height);
    Outcome outcome = paint(&painting, width);
    Beyond beyond = painting.trap.beyond;
    assert_int_equal(outcome, beyond == BEYOND_NOTHING ? PAINTED : BROKEN_OFF);
    arena_end(&painting.arena);
    return beyond;
}

static void pixels_have_a_limit(void **state)
{
    (void)state;
    assert_int_equal(beyond_of(6.6666, 3000), BEYOND_NOTHING); /* 20000 rows */
    assert_int_equal(beyond_of(6.667, 3000), BEYOND_PIXELS);
    assert_int_equal(beyond_of(LIMIT_PIXEL_ROWS / 100.0, 100), BEYOND_NOTHING);
    assert_int_equal(beyond_of((LIMIT_PIXEL_ROWS + 1) / 100.0, 100), BEYOND_PIXEL_ROWS);
}

/* Letters and points count as on paper, under another name. */
static void what_is_painted_has_a_limit(void **state)
{
    (void)state;
    for (uint32_t more = 0; more < 2; more++) {
        Painting painting;
        start(&painting, 10, 10);
        uint32_t count = LIMIT_PRINTED - 3 + more;
        add(&painting, (Shape){.kind = SHAPE_LINE,
                               .points = calloc(count, sizeof(Point)),
                               .point_count = count,
                               .fill = NO_COLOUR,
                               .stroke = RED,
                               .stroke_width = 1});
        add(&painting, (Shape){.kind = SHAPE_TEXT, .at = {1, 1}, .size = 1, .fill = RED, .text = "abc"});
        assert_int_equal(paint(&painting, 16), more ? BROKEN_OFF : PAINTED);
        assert_int_equal(painting.trap.beyond, more ? BEYOND_PAINTED : BEYOND_NOTHING);
        free(painting.shapes[0].points);
        arena_end(&painting.arena);
    }
}

static void start_words(Painting *painting)
{
    start(painting, 60, 60);
    add_polygon(painting, (Point[]){{2, 1}, {6, 1}, {6, 4}}, 3, BLUE)->shade = SHADE_CYLINDER;
    add(painting, (Shape){.kind = SHAPE_TEXT, .at = {30, 50}, .size = 4, .fill = RED, .text = "12 turns"});
}

static void two_runs_give_the_same_bytes(void **state)
{
    (void)state;
    Painting first, second;
    start_words(&first);
    start_words(&second);
    assert_int_equal(paint(&first, 500), PAINTED);
    assert_int_equal(paint(&second, 500), PAINTED);
    assert_true(first.page.length > 500);
    assert_int_equal(first.page.length, second.page.length);
    assert_memory_equal(first.page.bytes, second.page.bytes, first.page.length);
    arena_end(&first.arena);
    arena_end(&second.arena);
}

/* Bytes that the program holds, those of the arenas among them. */
static size_t held(void) { return mallinfo2().uordblks; }

/* The least that was held after one of so many rounds, each with another request that fails: pango's threads may
 * hold something for a moment. */
static size_t least_held(uint64_t requests)
{
    size_t least = SIZE_MAX;
    for (uint64_t n = 1; n <= requests; n++) {
        Painting painting;
        start_words(&painting);
        painting.trap.fail_at = n;
        assert_int_equal(paint(&painting, 500), BROKEN_OFF);
        assert_int_equal(painting.trap.beyond, BEYOND_NOTHING);
        arena_end(&painting.arena);
        least = held() < least ? held() : least;
    }
    return least;
}

/* The first rounds fill the caches of pango and fontconfig, which belong to the process. */
static void every_request_may_fail_and_nothing_is_left(void **state)
{
    (void)state;
    Painting painting;
    start_words(&painting);
    assert_int_equal(paint(&painting, 500), PAINTED);
    uint64_t requests = painting.trap.requests;
    arena_end(&painting.arena);
    assert_true(requests >= 3);
    least_held(requests);
    size_t after_some = least_held(requests), after_more = 0;
    for (int round = 0; round < 3; round++)
        after_more = least_held(requests);
    assert_true(after_more < after_some + 32 * 1024);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(fills_keep_their_colour),
        cmocka_unit_test(areas_curves_and_lines_are_where_they_belong),
        cmocka_unit_test(light_lies_on_a_shape_by_its_stops),
        cmocka_unit_test(shapes_are_seen_within_their_clips),
        cmocka_unit_test(letters_are_aligned_and_turned),
        cmocka_unit_test(letters_grow_evenly),
        cmocka_unit_test(width_and_height_follow_the_drawing),
        cmocka_unit_test(pixels_have_a_limit),
        cmocka_unit_test(what_is_painted_has_a_limit),
        cmocka_unit_test(two_runs_give_the_same_bytes),
        cmocka_unit_test(every_request_may_fail_and_nothing_is_left),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
