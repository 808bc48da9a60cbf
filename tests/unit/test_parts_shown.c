/* Parts and notes as they are shown: in the bench view, measured back from its shapes, on marking strips and on
 * the bench sheet. */
#include "made_sheet.h"

#include "draw/drawing.h"
#include "draw/inks.h"
#include "words/marking_strip.h"

#include <math.h>
#include <stdio.h>

#define TUBE_COLOUR 0x3a4143

/* A tube of one diameter, 12 mm; threads of half a millimetre a turn. */
static Made shown(const char *bench, const char *rod)
{
    char text[4096];
    snprintf(text, sizeof text,
             "edition 1\nthread navy { turns: 20 per cm, colour: #22346b }\nbench { units: mm%s }\n"
             "blank tube { at 0 mm: 12 mm  at 1000 mm: 12 mm }\nrod \"R\" on tube { %s }\n",
             bench, rod);
    return make(text);
}

static Drawing *bench_view(const Made *made, View view)
{
    return draw_rod(&made->compilation->arena, made->compilation->plan, 0, view, 1);
}

static uint32_t polygons_of(const Drawing *drawing, uint32_t fill, const Shape **first)
{
    uint32_t count = 0;
    *first = NULL;
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        if (shape->kind != SHAPE_POLYGON || shape->fill != fill)
            continue;
        if (!count++)
            *first = shape;
    }
    return count;
}

typedef struct Box {
    double left, right, top, bottom;
} Box;

static Box box_of(const Shape *shape)
{
    Box box = {INFINITY, -INFINITY, INFINITY, -INFINITY};
    for (uint32_t i = 0; i < shape->point_count; i++) {
        box.left = fmin(box.left, shape->points[i].x);
        box.right = fmax(box.right, shape->points[i].x);
        box.top = fmin(box.top, shape->points[i].y);
        box.bottom = fmax(box.bottom, shape->points[i].y);
    }
    return box;
}

static const Shape *text_shape(const Drawing *drawing, const char *text)
{
    for (uint32_t i = 0; i < drawing->shapes.count; i++)
        if (drawing->shapes.items[i].kind == SHAPE_TEXT && strcmp(drawing->shapes.items[i].text, text) == 0)
            return &drawing->shapes.items[i];
    return NULL;
}

#define assert_close(value, wanted) assert_true(fabs((value) - (wanted)) < 1e-9)

/* The place takes 20 mm from 100 mm on, and the view 5 mm more at either end. A grip ends at the mark, a check
 * begins where the wrap ends: of the grip 5 mm are seen, of the check all. */
static void test_thick_parts_beside_a_wrap(void **state)
{
    (void)state;
    Made made = shown("", "part grip at 0 mm length: 100 mm { diameter: 26 mm, colour: #aa5500 } "
                          "part check at 120 mm length: 3 mm { diameter: [18 mm, 14 mm], note: \"brass\" } "
                          "part far at 400 mm length: 3 mm { colour: #00ff00 } "
                          "at 100 mm length: 20 mm { band 40 turns of navy }");
    Drawing *drawing = bench_view(&made, VIEW_SIDE);
    const Shape *tube, *grip, *check, *far;
    assert_int_equal(polygons_of(drawing, TUBE_COLOUR, &tube), 1);
    assert_int_equal(polygons_of(drawing, 0xaa5500, &grip), 1);
    assert_int_equal(polygons_of(drawing, PLAIN_PART, &check), 1);
    assert_int_equal(polygons_of(drawing, 0x00ff00, &far), 0);
    Box view = box_of(tube), left = box_of(grip), right = box_of(check);
    assert_close(view.bottom - view.top, 12);
    assert_close(left.left, view.left);
    assert_close(left.right - left.left, 5);
    assert_close(left.bottom - left.top, 26);
    assert_close((left.top + left.bottom) / 2, (view.top + view.bottom) / 2);
    assert_close(right.left - left.right, 20);
    assert_close(right.right - right.left, 3);
    assert_close(right.bottom - right.top, 18);
    assert_int_equal(check->point_count, 4);
    assert_non_null(text_shape(drawing, "grip"));
    assert_int_equal(text_shape(drawing, "grip")->align, ALIGN_START);
    assert_non_null(text_shape(drawing, "check: brass"));
    assert_int_equal(text_shape(drawing, "check: brass")->align, ALIGN_END);
    assert_null(text_shape(drawing, "far"));
    /* Rows lie below what is thickest, one below the other. */
    assert_true(text_shape(drawing, "grip")->at.y > left.bottom);
    assert_true(text_shape(drawing, "check: brass")->at.y > text_shape(drawing, "grip")->at.y + 2);
    turnlay_free(made.compilation);
}

/* Unrolled, half of what goes round lies on either side of the middle. */
static void test_unrolled(void **state)
{
    (void)state;
    Made made = shown("", "part grip at 0 mm length: 100 mm { diameter: 26 mm, colour: #aa5500 } "
                          "at 100 mm { band 40 turns of navy }");
    const Shape *grip;
    assert_int_equal(polygons_of(bench_view(&made, VIEW_UNROLLED), 0xaa5500, &grip), 1);
    assert_true(fabs(box_of(grip).bottom - box_of(grip).top - 26 * 3.14159265358979) < 1e-9);
    turnlay_free(made.compilation);
}

/* What thread lies on is below the turns, which climb it; a decal lies flat; a mark is a line in its row. */
static void test_parts_under_a_wrap(void **state)
{
    (void)state;
    Made made =
        shown("", "part sleeve at 105 mm length: 10 mm { wrapped: yes, diameter: 12.4 mm } "
                  "part decal at 121 mm length: 2 mm { colour: #112233 } part bare at 123.5 mm length: 1 mm "
                  "part initials at 110 mm { note: \"here\" } at 100 mm length: 20 mm { band 40 turns of navy }");
    Drawing *drawing = bench_view(&made, VIEW_SIDE);
    const Shape *sleeve, *decal, *wrap;
    assert_int_equal(polygons_of(drawing, PLAIN_PART, &sleeve), 1);
    assert_int_equal(polygons_of(drawing, 0x112233, &decal), 1);
    assert_int_equal(polygons_of(drawing, 0x22346b, &wrap), 2); /* and the legend's swatch */
    assert_true(sleeve < wrap);
    assert_close(box_of(sleeve).right - box_of(sleeve).left, 10);
    assert_close(box_of(sleeve).bottom - box_of(sleeve).top, 12.4);
    assert_close(box_of(wrap).bottom - box_of(wrap).top, 12.4 + 2 * 0.5);
    assert_close(box_of(wrap).left - box_of(sleeve).left, -5);
    assert_close(box_of(decal).bottom - box_of(decal).top, 12);
    assert_close(box_of(decal).left - box_of(wrap).right, 1);
    assert_non_null(text_shape(drawing, "initials: here"));
    assert_close(text_shape(drawing, "initials: here")->at.x, box_of(wrap).left + 10);
    uint32_t edged = 0; /* a flat part without a colour is an outline alone */
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        edged += shape->kind == SHAPE_POLYGON && shape->stroke == PALE_INK && shape->shade == SHADE_FLAT
                 && fabs(box_of(shape).right - box_of(shape).left - 1) < 1e-9;
    }
    assert_int_equal(edged, 1);
    turnlay_free(made.compilation);
}

/* A part that reaches over the whole view, and none that only touches it. */
static void test_part_over_the_view(void **state)
{
    (void)state;
    Made made = shown("", "part ferrule at 50 mm length: 200 mm { wrapped: yes, diameter: 13 mm } "
                          "part before at 80 mm length: 15 mm { diameter: 20 mm } "
                          "part behind at 125 mm length: 15 mm { diameter: 20 mm } "
                          "at 100 mm length: 20 mm { band 40 turns of navy }");
    Drawing *drawing = bench_view(&made, VIEW_SIDE);
    const Shape *first;
    assert_int_equal(polygons_of(drawing, PLAIN_PART, &first), 1);
    assert_close(box_of(first).right - box_of(first).left, 30);
    assert_non_null(text_shape(drawing, "ferrule"));
    assert_null(text_shape(drawing, "before"));
    assert_null(text_shape(drawing, "behind"));
    turnlay_free(made.compilation);
}

/* --- strips --- */

typedef struct Wanted {
    double at; /* mm from the mark, the way the place is worked */
    MarkKind kind;
    const char *words;
} Wanted;

static void check_strip(const char *bench, const char *rod, const Wanted *wanted, uint32_t count)
{
    Made made = shown(bench, rod);
    const SheetRod *sheet = &made.sheet->rods[0];
    uint32_t part = 0;
    while (sheet->parts[part].layer == WHOLE_ROD)
        part++;
    MarkingStrip strip = marking_strip(&made.compilation->arena, sheet, part, &made.compilation->plan->job->bench);
    assert_int_equal(strip.marks.count, count);
    for (uint32_t i = 0; i < count; i++) {
        const StripMark *mark = &strip.marks.items[strip.direction > 0 ? i : count - 1 - i];
        assert_string_equal(mark->words, wanted[i].words);
        assert_int_equal(mark->kind, wanted[i].kind);
        assert_close(mark->at - strip.datum, strip.direction * wanted[i].at);
    }
    turnlay_free(made.compilation);
}

#define PARTS                                                                                                     \
    "part grip at 0 mm length: 300 mm part ring at 290 mm { note: \"tape\" } "                                    \
    "part feather at 304 mm length: 5 mm { wrapped: yes } part far at 700 mm length: 5 mm "

static void test_strips(void **state)
{
    (void)state;
    static const Wanted toward_tip[] = {{-10, MARK_PART, "ring"},
                                        {0, MARK_DATUM, "mark; grip, tip end"},
                                        {4, MARK_PART, "4 mm  feather, butt end"},
                                        {9, MARK_PART, "9 mm  feather, tip end"},
                                        {10, MARK_EDGE, "10 mm  navy, 20 turns"}};
    static const Wanted toward_butt[] = {{0, MARK_DATUM, "mark"},
                                         {1, MARK_PART, "1 mm  feather, tip end"},
                                         {6, MARK_PART, "6 mm  feather, butt end"},
                                         {10, MARK_EDGE, "10 mm  navy, 20 turns"},
                                         {10, MARK_PART, "10 mm  grip, tip end"}};
    const char *const benches[] = {"", ", left: tip"};
    for (int i = 0; i < 2; i++) {
        check_strip(benches[i], PARTS "at 300 mm { band 20 turns of navy }", toward_tip, 5);
        if (i == 0) /* of marks at one place the kinds keep their order, whichever way the strip is read */
            continue;
        check_strip(benches[i], PARTS "at 310 mm toward: butt { band 20 turns of navy }", toward_butt, 5);
    }
}

/* --- the sheet --- */

static void test_notes_on_the_sheet(void **state)
{
    (void)state;
    Made made =
        shown("", "part tip_end at 1000 mm { note: \"last\" } "
                  "part grip at 0 mm length: 240 mm { diameter: [26 mm, 24 mm], note: \"cork\" } "
                  "part many at 500 mm length: 10 mm { wrapped: yes, diameter: [13 mm, 14 mm, 15 mm, 16 mm, "
                  "17 mm, 18 mm, 19 mm] } at 300 mm { band 20 turns of navy }");
    const SheetRod *rod = &made.sheet->rods[0];
    static const char *const wanted[][2] = {
        {"grip", "0 to 240 mm; diameters 26.00 mm, 24.00 mm; cork; keep it free of thread"},
        {"many",
         "500 to 510 mm; diameters 13.00 mm, 14.00 mm, 15.00 mm, 16.00 mm, 17.00 mm, ... 19.00 mm; thread lies "
         "on it"},
        {"tip_end", "at 1000 mm; last"}};
    assert_int_equal(rod->note_count, 3);
    assert_int_equal(rod->sections[0].note_count, 3);
    for (int i = 0; i < 3; i++) {
        assert_string_equal(rod->notes[i].name, wanted[i][0]);
        assert_string_equal(rod->notes[i].words, wanted[i][1]);
    }
    assert_says(text_from(&made, 1), "Parts and notes, measured from the butt\n");
    turnlay_free(made.compilation);
    made = shown(", left: tip", "at 300 mm { band 20 turns of navy }");
    assert_keeps_quiet(text_from(&made, 1), "Parts and notes");
    turnlay_free(made.compilation);
}

/* In inches both ends keep their unit; a diameter is a decimal. */
static void test_notes_in_inches(void **state)
{
    (void)state;
    const char *text =
        "edition 1\nthread navy { turns: 50 per in }\nblank tube { at 0 in: 1/2 in  at 40 in: 1/4 in }\n"
        "rod \"R\" on tube { part grip at 0 in length: 9 1/2 in { diameter: 1 in }\n"
        "at grip.tip { band 20 turns of navy } }\n";
    Made made = make(text);
    assert_string_equal(made.sheet->rods[0].notes[0].words,
                        "0 in to 9 1/2 in; diameter 1.000 in; keep it free of thread");
    turnlay_free(made.compilation);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_thick_parts_beside_a_wrap),
        cmocka_unit_test(test_unrolled),
        cmocka_unit_test(test_parts_under_a_wrap),
        cmocka_unit_test(test_part_over_the_view),
        cmocka_unit_test(test_strips),
        cmocka_unit_test(test_notes_on_the_sheet),
        cmocka_unit_test(test_notes_in_inches),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
