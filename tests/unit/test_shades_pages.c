/* Pages of shades: the text to the letter, the data against what is reckoned, and what a picture is drawn of. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "compilation.h"
#include "base/limits.h"
#include "draw/drawing.h"
#include "plan/shade_words.h"
#include "plan/shades.h"
#include "turnlay.h"

#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "near.h"

static const char shop[] =
    "edition 1\n"
    "bench { far: 3 m, jump: 2 }\n"
    "use \"shop\" as shop { edition 1  thread steel { turns: 67 per cm, colour: #4682b4 } }\n"
    "thread navy { turns: 67 per cm, colour: #22346b }\n"
    "thread slate { turns: 67 per cm, colour: #4c6a9c }\n"
    "thread foam { turns: 67 per cm, colour: #dfe9ef }\n"
    "thread dusk { turns: 67 per cm, colours: [#4c6a9c, #9db8d6], period: 3 cm }\n"
    "thread plain { turns: 67 per cm }\n"
    "thread rust { turns: 67 per cm, colour: #9a5a20 }\n"
    "thread moss { turns: 67 per cm, colour: #6b7a2a }\n";

static Compilation *compiled(const char *text)
{
    Compilation *compilation = turnlay_new();
    turnlay_give(compilation, "shop.lay", text, strlen(text));
    while (turnlay_want(compilation).path)
        turnlay_refuse(compilation, NULL, TURNLAY_FILE_NOT_FOUND, "nowhere");
    assert_non_null(compilation->reading);
    turnlay_finish(compilation);
    return compilation;
}

/* The page behind its head, which ends with the file id. */
static void assert_text(Compilation *compilation, const char *expected)
{
    TurnlayText page;
    assert_int_equal(turnlay_write_shades(compilation, TURNLAY_TEXT, &page), TURNLAY_DONE);
    const char *text = strstr(page.bytes, ", edition 1\n");
    assert_non_null(text);
    assert_string_equal(text + strlen(", edition 1\n"), expected);
    turnlay_text_free(&page);
}

static void test_text_between(void **state)
{
    (void)state;
    Compilation *compilation = compiled(shop);
    assert_int_equal(turnlay_show_between(compilation, "navy", "foam"), TURNLAY_DONE);
    assert_text(compilation, "navy, #22346b, and foam, #dfe9ef, differ by 64.6.\n"
                             "Differences are CIEDE2000: about 1 is the least that is seen side by side.\n"
                             "Colours are as under finish.\n"
                             "1 thread has no colour in the file, and is left out.\n"
                             "\n"
                             "Between them\n"
                             "------------\n"
                             "  thread          colour         along     aside\n"
                             "  slate           #4c6a9c         28 %      14 %\n"
                             "  shop.steel      #4682b4         39 %      23 %\n"
                             "  dusk            #7d98bc*        56 %      13 %\n"
                             "  * of several colours: their mean\n"
                             "Along: how far on the way of mixtures from the first to the last; aside: how far\n"
                             "off it, both of its length.\n"
                             "\n"
                             "The smoothest walk\n"
                             "------------------\n"
                             "  from              to               differ by      jump\n"
                             "  navy              slate                 18.0       0.7\n"
                             "  slate             shop.steel            10.3       0.4\n"
                             "  shop.steel        dusk                  10.8       0.4\n"
                             "  dusk              foam                  24.1       1.0\n"
                             "Jump: between two turns of a fade in 4 steps, seen from 3 m; above 2 it shows as\n"
                             "a line: all of these melt.\n"
                             "For a fade: [navy, slate, shop.steel, dusk, foam]\n"
                             "\n"
                             "Would be mistaken under the lamp by some eyes\n"
                             "---------------------------------------------\n"
                             "  slate             shop.steel             7.4 by red-blind, green-blind and\n"
                             "                                                blue-blind eyes\n"
                             "  shop.steel        dusk                   8.9 by red-blind eyes\n"
                             "Put a label on these spools: they differ by less than 10.\n");
    turnlay_free(compilation);
}

/* From what `alike` says on they are two. */
static void test_text_of_equals(void **state)
{
    (void)state;
    static const struct {
        const char *alike, *ending;
    } cases[] = {{"0.5", "above 3 it shows as\na line. The two look the same; one will do.\n"},
                 {"0.2", "above 3 it shows as\na line: all of these melt.\n"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char text[300];
        snprintf(text, sizeof text,
                 "edition 1\nbench { alike: %s }\nthread honey { turns: 67 per cm, colour: #c8963c }\n"
                 "thread honey2 { turns: 67 per cm, colour: #c9973c }\n",
                 cases[i].alike);
        Compilation *compilation = compiled(text);
        assert_int_equal(turnlay_show_between(compilation, "honey", "honey2"), TURNLAY_DONE);
        TurnlayText page;
        assert_int_equal(turnlay_write_shades(compilation, TURNLAY_TEXT, &page), TURNLAY_DONE);
        if (!strstr(page.bytes, cases[i].ending))
            print_error("%s\n", page.bytes);
        assert_non_null(strstr(page.bytes, cases[i].ending));
        turnlay_text_free(&page);
        turnlay_free(compilation);
    }
}

static void test_text_of_all(void **state)
{
    (void)state;
    Compilation *compilation = compiled(shop);
    turnlay_show_eyes(compilation, TURNLAY_DEUTERANOPIA);
    assert_text(compilation, "As green-blind eyes see them.\n"
                             "Differences are CIEDE2000: about 1 is the least that is seen side by side.\n"
                             "Colours are as under finish.\n"
                             "1 thread has no colour in the file, and is left out.\n"
                             "\n"
                             "  thread          colour      most like        differ by\n"
                             "  navy            #22346b     slate                 17.2\n"
                             "  slate           #4c6a9c     shop.steel             7.4\n"
                             "  foam            #dfe9ef     dusk                  25.0\n"
                             "  dusk            #7d98bc*    shop.steel            10.6\n"
                             "  rust            #9a5a20     moss                   2.6\n"
                             "  moss            #6b7a2a     rust                   2.6\n"
                             "  shop.steel      #4682b4     slate                  7.4\n"
                             "  * of several colours: their mean\n"
                             "\n"
                             "Would be mistaken under the lamp by green-blind eyes\n"
                             "----------------------------------------------------\n"
                             "  rust              moss                   2.6 by green-blind eyes\n"
                             "  slate             shop.steel             7.4 by green-blind eyes\n"
                             "Put a label on these spools: they differ by less than 10.\n");
    turnlay_free(compilation);
}

static void test_text_of_few(void **state)
{
    (void)state;
    Compilation *compilation =
        compiled("edition 1\nthread plain { turns: 67 per cm }\nthread bare { turns: 67 per cm }\n");
    assert_text(compilation, "Differences are CIEDE2000: about 1 is the least that is seen side by side.\n"
                             "Colours are as under finish.\n"
                             "2 threads have no colour in the file, and are left out.\n"
                             "\n"
                             "  thread          colour      most like        differ by\n"
                             "\n"
                             "Would be mistaken under the lamp by any eyes\n"
                             "--------------------------------------------\n"
                             "  none\n");
    turnlay_free(compilation);
    compilation = compiled("edition 1\nthread navy { turns: 67 per cm, colour: navy }\n"
                           "thread gold { turns: 67 per cm, colour: gold }\n");
    turnlay_show_between(compilation, "navy", "gold");
    TurnlayText page;
    turnlay_write_shades(compilation, TURNLAY_TEXT, &page);
    assert_non_null(strstr(page.bytes, "------------\n  none of the file's threads\n\n"));
    assert_null(strstr(page.bytes, "For a fade"));
    assert_null(strstr(page.bytes, "melt"));
    turnlay_text_free(&page);
    turnlay_free(compilation);
}

/* What is said of missing shades, and of eyes, in every number. */
static void test_words(void **state)
{
    (void)state;
    Compilation *compilation = compiled(shop);
    turnlay_show_between(compilation, "navy", "foam");
    const Shades *shades = answer_shades(compilation);
    Arena *arena = &compilation->page_arena;
    ShadeStep step = {.from = 0, .to = 1, .missing = {0x0a0b0c, 0xffffff}, .missing_count = 1, .enough = true};
    assert_string_equal(missing_words(arena, shades, &step),
                        "a shade is missing between navy and slate: something near #0a0b0c");
    step.enough = false;
    assert_string_equal(missing_words(arena, shades, &step),
                        "more than 7 shades are missing between navy and slate: something near #0a0b0c halfway");
    step.enough = true;
    step.missing_count = 2;
    assert_string_equal(missing_words(arena, shades, &step),
                        "2 shades are missing between navy and slate: something near #0a0b0c, #ffffff");
    for (uint32_t count = 3; count <= MOST_MISSING; count++) {
        char begins[40];
        snprintf(begins, sizeof begins, "%u shades are missing ", count);
        step.missing_count = count;
        assert_memory_equal(missing_words(arena, shades, &step), begins, strlen(begins));
    }
    static const struct {
        unsigned visions;
        const char *words;
    } eyes[] = {{1, "all eyes"},
                {1 | 8, "all eyes"},
                {2, "red-blind eyes"},
                {4, "green-blind eyes"},
                {8, "blue-blind eyes"},
                {4 | 8, "green-blind and blue-blind eyes"},
                {2 | 4 | 8, "red-blind, green-blind and blue-blind eyes"}};
    for (size_t i = 0; i < sizeof eyes / sizeof *eyes; i++)
        assert_string_equal(pair_eyes(arena, &(ShadePair){.visions = eyes[i].visions}), eyes[i].words);
    turnlay_free(compilation);
}

/* --- the data --- */

static void assert_number(const json_t *object, const char *name, double value)
{
    const json_t *member = json_object_get(object, name);
    if (isnan(value) || isinf(value))
        assert_true(json_is_null(member));
    else
        assert_within(json_number_value(member), value, 5.1e-7);
}

static void assert_words(const json_t *object, const char *name, const char *words)
{
    assert_string_equal(json_string_value(json_object_get(object, name)), words);
}

static void assert_colour(const json_t *value, uint32_t colour)
{
    assert_int_equal(strtoul(json_string_value(value) + 1, NULL, 16), colour);
}

static void assert_data(Compilation *compilation, const char *from, const char *to, TurnlayEyes eyes)
{
    TurnlayText text;
    turnlay_show_eyes(compilation, eyes);
    assert_int_equal(turnlay_show_between(compilation, from, to), TURNLAY_DONE);
    assert_int_equal(turnlay_write_shades(compilation, TURNLAY_JSON, &text), TURNLAY_DONE);
    json_t *page = json_loadb(text.bytes, text.length, 0, NULL);
    assert_non_null(page);
    turnlay_text_free(&text);
    const Shades *shades = answer_shades(compilation);
    static const char *const words[] = {"all", "protanopia", "deuteranopia", "tritanopia"};
    assert_words(page, "eyes", words[eyes]);
    assert_number(page, "alike", 2);
    assert_number(page, "line_above", 2);
    assert_int_equal(json_integer_value(json_object_get(page, "without_colour")), 1);
    assert_int_equal(json_integer_value(json_object_get(page, "mistaken_left_out")), 0);
    assert_int_equal(json_object_get(page, "walk") != NULL, from != NULL);
    const json_t *list = json_object_get(page, "shades");
    assert_int_equal(json_array_size(list), shades->count);
    for (uint32_t i = 0; i < shades->count; i++) {
        const ThreadShade *shade = &shades->shades[i];
        const json_t *row = json_array_get(list, i);
        assert_words(row, "thread", shade->name);
        assert_colour(json_object_get(row, "colour"), shade->thread->colour);
        assert_int_equal(json_is_true(json_object_get(row, "of_several")), shade->thread->colour_count > 0);
        assert_number(row, "along", shade->position);
        assert_number(row, "aside", shade->aside);
        assert_words(row, "most_like", shades->shades[shade->nearest].name);
        assert_number(row, "difference", shade->difference);
    }
    if (from) {
        assert_words(page, "from", from);
        assert_words(page, "to", to);
        assert_number(page, "difference", shades->difference);
        assert_number(page, "length", shades->path->length);
    }
    list = json_object_get(page, "walk");
    assert_int_equal(json_array_size(list), shades->step_count);
    for (uint32_t i = 0; i < shades->step_count; i++) {
        const ShadeStep *step = &shades->steps[i];
        const json_t *row = json_array_get(list, i), *missing = json_object_get(row, "missing");
        assert_words(row, "from", shades->shades[step->from].name);
        assert_words(row, "to", shades->shades[step->to].name);
        assert_number(row, "difference", step->difference);
        assert_number(row, "jump", step->jump);
        assert_int_equal(json_is_true(json_object_get(row, "melts")), step->melts);
        assert_int_equal(json_is_true(json_object_get(row, "enough")), step->enough);
        assert_int_equal(json_array_size(missing), step->missing_count);
        for (uint32_t m = 0; m < step->missing_count; m++)
            assert_colour(json_array_get(missing, m), step->missing[m]);
    }
    list = json_object_get(page, "mistaken");
    assert_int_equal(json_array_size(list), shades->pair_count);
    for (uint32_t i = 0; i < shades->pair_count; i++) {
        const ShadePair *pair = &shades->pairs[i];
        const json_t *row = json_array_get(list, i), *of = json_object_get(row, "eyes");
        assert_words(row, "first", shades->shades[pair->first].name);
        assert_words(row, "second", shades->shades[pair->second].name);
        assert_number(row, "difference", pair->difference);
        unsigned visions = 0;
        for (size_t e = 0; e < json_array_size(of); e++)
            for (int vision = 0; vision < VISION_COUNT; vision++)
                visions |= (unsigned)(strcmp(json_string_value(json_array_get(of, e)), words[vision]) == 0)
                           << vision;
        assert_int_equal(visions, pair->visions);
    }
    json_decref(page);
}

static void test_data(void **state)
{
    (void)state;
    Compilation *compilation = compiled(shop);
    assert_data(compilation, NULL, NULL, TURNLAY_ALL_CONES);
    assert_data(compilation, "navy", "foam", TURNLAY_ALL_CONES);
    assert_data(compilation, "shop.steel", "rust", TURNLAY_ALL_CONES);
    assert_data(compilation, "foam", "moss", TURNLAY_PROTANOPIA);
    assert_data(compilation, "rust", "navy", TURNLAY_TRITANOPIA);
    turnlay_free(compilation);
}

/* --- the picture --- */

/* The text of that number that says so, from 0; NULL where there are fewer. */
static const Shape *text_said(const Drawing *drawing, const char *words, uint32_t number)
{
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        if (shape->kind == SHAPE_TEXT && strcmp(shape->text, words) == 0 && !number--)
            return shape;
    }
    return NULL;
}

/* What is filled with a colour right above a text, so far to the right of where it begins; NO_COLOUR for nothing.
 */
static uint32_t colour_beyond(const Drawing *drawing, const Shape *text, double inset)
{
    for (uint32_t i = 1; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        if (shape->kind == SHAPE_POLYGON && shape->point_count == 4 && shape->fill != NO_COLOUR
            && fabs(shape->points[0].x - text->at.x - inset) < 1e-9 && shape->points[2].y < text->at.y
            && shape->points[2].y > text->at.y - 2 * text->size)
            return shape->fill;
    }
    return NO_COLOUR;
}

static uint32_t colour_above(const Drawing *drawing, const Shape *text) { return colour_beyond(drawing, text, 0); }

/* Strokes right above a text, from where it begins to a swatch's width on. */
static uint32_t strokes_above(const Drawing *drawing, const Shape *text)
{
    uint32_t count = 0;
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        bool above = shape->kind == SHAPE_LINE;
        for (uint32_t p = 0; p < shape->point_count && above; p++)
            above = shape->points[p].x >= text->at.x && shape->points[p].x <= text->at.x + 25.01
                    && shape->points[p].y < text->at.y && shape->points[p].y > text->at.y - 20;
        count += above;
    }
    return count;
}

/* Whether a text begins so. */
static bool said_so_far(const Drawing *drawing, const char *words)
{
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        if (shape->kind == SHAPE_TEXT && strncmp(shape->text, words, strlen(words)) == 0)
            return true;
    }
    return false;
}

/* A line from that place down to the middle of the swatch over a text that begins where the swatch does. */
static bool is_joined(const Drawing *drawing, double x, const Shape *text)
{
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        if (shape->kind == SHAPE_LINE && fabs(shape->points[0].x - x) < 1e-9
            && fabs(shape->points[1].x - text->at.x - 12.5) < 1e-9 && shape->points[1].y > shape->points[0].y
            && shape->points[1].y < text->at.y - 15 && shape->points[1].y > text->at.y - 20)
            return true;
    }
    return false;
}

/* Each shade between stands below the path, joined to its place there, however many there are; none touches
 * another. */
static void test_places_are_joined(void **state)
{
    (void)state;
    static char text[4096];
    int length = snprintf(text, sizeof text, "edition 1\n");
    for (int i = 0; i < 20; i++)
        length += snprintf(text + length, sizeof text - (size_t)length,
                           "thread t%d { turns: 67 per cm, colour: #%02x%02x%02x }\n", i, 20 + i * 11, 20 + i * 11,
                           30 + i * 11);
    for (int few = 0; few < 2; few++) {
        Compilation *compilation = compiled(text);
        turnlay_show_between(compilation, "t0", few ? "t4" : "t19");
        const Shades *shades = answer_shades(compilation);
        const Drawing *drawing = answer_shades_drawing(compilation);
        assert_in_range(shades->count - 2, few ? 1 : 12, few ? 6 : 18);
        const Shape *before = NULL;
        for (uint32_t i = 1; i + 1 < shades->count; i++) {
            const Shape *name = text_said(drawing, shades->shades[i].name, 1); /* the first is in the walk */
            assert_non_null(name);
            assert_true(is_joined(drawing, 8 + shades->shades[i].position * (210 - 16), name));
            assert_true(name->at.x >= 8 && name->at.x + 25 <= 210 - 8 + 1e-9);
            assert_true(!before || name->at.y > before->at.y + 20 || name->at.x >= before->at.x + 25);
            before = name;
        }
        turnlay_free(compilation);
    }
}

static void test_picture(void **state)
{
    (void)state;
    char sharp[sizeof shop];
    memcpy(sharp, shop, sizeof shop);
    memcpy(strstr(sharp, "far: 3 m"), "far: 1 m", strlen("far: 1 m"));
    Compilation *compilation = compiled(sharp);
    turnlay_show_between(compilation, "navy", "foam");
    const Shades *shades = answer_shades(compilation);
    const Drawing *drawing = answer_shades_drawing(compilation);
    assert_non_null(text_said(drawing, "Shades from navy to foam", 0));
    const Shape *before = NULL;
    uint32_t missing = 0;
    for (uint32_t i = 0; i <= shades->step_count; i++) {
        const ShadeStep *step = i ? &shades->steps[i - 1] : NULL;
        const ThreadShade *shade = &shades->shades[step ? step->to : 0];
        for (uint32_t m = 0; step && m < step->missing_count; m++, missing++) {
            char near[24];
            snprintf(near, sizeof near, "near #%06x", (unsigned)step->missing[m]);
            const Shape *empty = text_said(drawing, "missing", missing);
            assert_non_null(text_said(drawing, near, 0));
            assert_non_null(empty);
            assert_int_equal(colour_above(drawing, empty), NO_COLOUR);
            assert_int_equal(colour_beyond(drawing, empty, 1.2), step->missing[m]);
            assert_in_range(strokes_above(drawing, empty), 12, 60); /* an edge of dashes */
            assert_true(empty->at.y > before->at.y || empty->at.x > before->at.x);
            before = empty;
        }
        if (step) {
            char words[96], jump[24];
            snprintf(jump, sizeof jump, "jump %.1f", step->jump);
            snprintf(words, sizeof words, "Too far apart to melt (%.1f, %s): ", step->difference, jump);
            assert_int_equal(said_so_far(drawing, words), step->missing_count > 0);
            assert_int_equal(text_said(drawing, jump, 0) != NULL, step->melts);
        }
        const Shape *name = text_said(drawing, shade->name, 0);
        assert_non_null(name);
        assert_int_equal(colour_above(drawing, name), shade->thread->colour);
        assert_true(!before || name->at.y > before->at.y || name->at.x > before->at.x);
        before = name;
    }
    assert_true(missing > 0);
    for (uint32_t i = 0; i < drawing->shapes.count; i++) /* words are seen whole */
        assert_true(drawing->shapes.items[i].kind != SHAPE_TEXT || !drawing->shapes.items[i].clip);
    for (uint32_t i = 0; i < drawing->shapes.count; i++) /* nothing lies off the page */
        for (uint32_t p = 0; p < drawing->shapes.items[i].point_count; p++) {
            const Shape *shape = &drawing->shapes.items[i];
            bool inside = shape->points[p].x >= 0 && shape->points[p].x <= drawing->width
                          && shape->points[p].y >= 0 && shape->points[p].y <= drawing->height;
            assert_true(inside || shape->clip);
        }
    assert_non_null(text_said(drawing, "Would be mistaken under the lamp by some eyes", 0));
    turnlay_free(compilation);
}

/* A swatch of a thread that may be mistaken has a pattern, any other has none. */
static void test_patterns(void **state)
{
    (void)state;
    Compilation *compilation = compiled(shop);
    const Shades *shades = answer_shades(compilation);
    const Drawing *drawing = answer_shades_drawing(compilation);
    for (uint32_t i = 0; i < shades->count; i++) {
        const Shape *name = text_said(drawing, shades->shades[i].name, 0);
        uint32_t strokes = 0;
        for (uint32_t s = 0; s < drawing->shapes.count; s++) {
            const Shape *shape = &drawing->shapes.items[s];
            const Point *corners = shape->clip ? shape->clip->outline.points : NULL;
            if (!corners || corners[0].x != name->at.x || corners[2].y > name->at.y
                || corners[2].y < name->at.y - 2 * name->size)
                continue;
            strokes++;
            double one = xyz_of(light_of(shape->kind == SHAPE_LINE ? shape->stroke : shape->fill)).y;
            double other = xyz_of(light_of(shades->shades[i].thread->colour)).y;
            assert_true((fmax(one, other) + 0.05) / (fmin(one, other) + 0.05) >= 4.5); /* WCAG 2.2, 1.4.3 */
        }
        assert_int_equal(strokes > 0, shades->shades[i].pattern > 0);
        assert_int_equal(colour_above(drawing, name), shades->shades[i].thread->colour);
    }
    assert_non_null(text_said(drawing, "rust and moss: 2.6, by red-blind and green-blind eyes", 0));
    turnlay_show_eyes(compilation, TURNLAY_TRITANOPIA);
    const Drawing *seen = answer_shades_drawing(compilation);
    assert_non_null(text_said(seen, "Would be mistaken under the lamp by blue-blind eyes", 0));
    const Shape *name = text_said(seen, "navy", 0);
    assert_int_equal(colour_above(seen, name), colour_of(light_seen(VISION_TRITANOPIA, light_of(0x22346b))));
    turnlay_free(compilation);
}

/* Threads that a rod changes are none that one has: they are left out. */
static void test_changed_threads_are_left_out(void **state)
{
    (void)state;
    Compilation *compilation =
        compiled("edition 1\nlet deep = #22346b\nthread navy { turns: 67 per cm, colour: deep }\n"
                 "thread foam { turns: 67 per cm, colour: #dfe9ef }\n"
                 "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
                 "rod \"One\" on tube { at 20 cm { band 20 turns of navy } }\n"
                 "rod \"Two\" like \"One\" { deep: #204060 }\n");
    assert_int_equal(compilation->job->thread_count, 3);
    assert_int_equal(answer_shades(compilation)->count, 2);
    turnlay_free(compilation);
}

/* Of threads that all look alike only so many pairs are listed; how many more there are is said. */
static void test_pairs_that_are_left_out(void **state)
{
    (void)state;
    enum { THREADS = 46, LINE = 64 };
    char text[THREADS * LINE] = "edition 1\n", left_out[LINE];
    for (unsigned i = 0; i < THREADS; i++)
        snprintf(text + strlen(text), LINE, "thread t%u { turns: 67 per cm, colour: #4c6a9c }\n", i);
    snprintf(left_out, sizeof left_out, "  and %d pairs more, which differ by more\n",
             THREADS * (THREADS - 1) / 2 - LIMIT_SHADE_PAIRS);
    Compilation *compilation = compiled(text);
    TurnlayText page;
    assert_int_equal(turnlay_write_shades(compilation, TURNLAY_TEXT, &page), TURNLAY_DONE);
    assert_non_null(strstr(page.bytes, left_out));
    turnlay_text_free(&page);
    turnlay_free(compilation);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_pairs_that_are_left_out),
        cmocka_unit_test(test_text_between),
        cmocka_unit_test(test_text_of_equals),
        cmocka_unit_test(test_text_of_all),
        cmocka_unit_test(test_text_of_few),
        cmocka_unit_test(test_words),
        cmocka_unit_test(test_data),
        cmocka_unit_test(test_picture),
        cmocka_unit_test(test_places_are_joined),
        cmocka_unit_test(test_patterns),
        cmocka_unit_test(test_changed_threads_are_left_out),
    };
    return cmocka_run_group_tests_name("pages of shades", tests, NULL, NULL);
}
