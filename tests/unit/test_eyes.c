/* A drawing as other eyes see it: colour for colour what light_seen makes of it, words that say so, and nothing
 * else changed. */
#include <stdarg.h>
#include <stddef.h>
#include <setjmp.h>
#include <stdint.h>
#include <cmocka.h>

#include "compilation.h"
#include "draw/eyes.h"

#include <math.h>
#include <string.h>

static const char source[] =
    "edition 1\n"
    "thread rose { turns: 67 per cm, colour: #d02040 }\n"
    "thread leaf { turns: 67 per cm, colour: #40a030 }\n"
    "thread haze { turns: 67 per cm, colour: #7070c8, opacity: 50 % }\n"
    "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
    "rod \"Eyes\" on tube { at 20 cm length: 40 mm {\n"
    "    under { band fill of rose } over { band 9 turns of haze band 9 turns of leaf }\n"
    "    chevron crossings: 2 ends: 8 turns of leaf { strand 3 of leaf strand 3 of haze } } }\n";

static Compilation *compile(void)
{
    Compilation *compilation = compilation_new(0);
    turnlay_give(compilation, "test.lay", source, strlen(source));
    assert_null(turnlay_want(compilation).path);
    if (turnlay_finish(compilation) != TURNLAY_DONE)
        fail_msg("%s", compilation->findings.list.items[0].message);
    return compilation;
}

static uint32_t seen(Vision vision, uint32_t colour)
{
    return colour == NO_COLOUR ? colour : colour_of(light_seen(vision, light_of(colour)));
}

static void assert_seen(const Shape *before, const Shape *after, Vision vision)
{
    assert_int_equal(after->fill, seen(vision, before->fill));
    assert_int_equal(after->stroke, seen(vision, before->stroke));
    assert_int_equal(after->shade, before->shade);
    assert_int_equal(after->point_count, before->point_count);
    if (before->point_count)
        assert_memory_equal(after->points, before->points, before->point_count * sizeof *before->points);
    if (before->kind == SHAPE_TEXT)
        assert_string_equal(after->text, before->text);
}

static void colours_are_those_of_other_eyes(void **state)
{
    (void)state;
    static const struct {
        Vision vision;
        const char *name;
    } eyes[] = {{VISION_PROTANOPIA, "protanopia"},
                {VISION_DEUTERANOPIA, "deuteranopia"},
                {VISION_TRITANOPIA, "tritanopia"}};
    Compilation *c = compile();
    for (int view = 0; view < VIEW_COUNT; view++) {
        const Drawing *before = draw_rod(&c->arena, c->plan, 0, (View)view, 2);
        for (size_t i = 0; i < sizeof eyes / sizeof *eyes; i++) {
            Drawing *after = draw_rod(&c->arena, c->plan, 0, (View)view, 2);
            drawing_seen(&c->arena, after, eyes[i].vision);
            assert_int_equal(after->shapes.count, before->shapes.count + 1);
            assert_true(after->height == before->height && after->width == before->width);
            for (uint32_t s = 0; s < before->shapes.count; s++)
                assert_seen(&before->shapes.items[s], &after->shapes.items[s], eyes[i].vision);
            const Shape *words = &after->shapes.items[before->shapes.count];
            assert_non_null(strstr(words->text, eyes[i].name));
            assert_non_null(strstr(after->description, eyes[i].name));
            assert_true(words->at.y
                        < before->shapes.items[1].at.y - before->shapes.items[1].size); /* above the title */
            assert_true(words->at.x < after->width);
        }
    }
    turnlay_free(c);
}

static void all_cones_change_nothing(void **state)
{
    (void)state;
    Compilation *c = compile();
    Drawing *one = draw_rod(&c->arena, c->plan, 0, VIEW_SIDE, 2),
            *other = draw_rod(&c->arena, c->plan, 0, VIEW_SIDE, 2);
    drawing_seen(&c->arena, other, VISION_ALL_CONES);
    assert_int_equal(one->shapes.count, other->shapes.count);
    assert_string_equal(one->description, other->description);
    for (uint32_t s = 0; s < one->shapes.count; s++)
        assert_seen(&one->shapes.items[s], &other->shapes.items[s], VISION_ALL_CONES);
    turnlay_free(c);
}

/* By the library: from the call on, drawings and templates, until it is taken back. */
static void the_library_shows_them_from_then_on(void **state)
{
    (void)state;
    Compilation *c = compile();
    static const char *const names[] = {NULL, "protanopia", "deuteranopia", "tritanopia"};
    for (int eyes = TURNLAY_EYES_COUNT - 1; eyes >= 0; eyes--)
        for (int template = 0; template <2; template ++) {
            TurnlayText page;
            assert_int_equal(turnlay_show_eyes(c, (TurnlayEyes)eyes), TURNLAY_DONE);
            assert_int_equal(template ? turnlay_write_template(c, 0, &page)
                                      : turnlay_write_drawing(c, 0, TURNLAY_SIDE, 1, NAN, &page),
                             TURNLAY_DONE);
            for (int other = 1; other < TURNLAY_EYES_COUNT; other++)
                assert_int_equal(strstr(page.bytes, names[other]) != NULL, other == eyes);
            turnlay_text_free(&page);
        }
    assert_int_equal(turnlay_show_eyes(c, TURNLAY_EYES_COUNT), TURNLAY_WRONG_VALUE);
    assert_int_equal(turnlay_show_eyes(NULL, TURNLAY_ALL_CONES), TURNLAY_NULL_GIVEN);
    turnlay_free(c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(colours_are_those_of_other_eyes),
        cmocka_unit_test(all_cones_change_nothing),
        cmocka_unit_test(the_library_shows_them_from_then_on),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
