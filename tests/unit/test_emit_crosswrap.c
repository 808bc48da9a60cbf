/* Plans and needs with crosswraps: text, JSON, CSV. The expected texts are our own; the numbers follow from
 * grammar/reference.md, for a blank without taper. */
#include <stdarg.h>
#include <stddef.h>
#include <setjmp.h>
#include <stdint.h>
#include <cmocka.h>

#include "words/crosswrap_words.h"
#include "emit/emit.h"
#include "compilation.h"

#include <jansson.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char text[] = "edition 1\n"
                           "thread navy { diameter: 0.15 mm }\n"
                           "thread slate { diameter: 0.15 mm, colour: #4c6a9c }\n"
                           "thread dusk { diameter: 0.15 mm, colours: [#4c6a9c, #9db8d6], period: 9 cm }\n"
                           "blank even { at 0 mm: 12 mm  at 100 cm: 12 mm }\n"
                           "rod \"Crossed\" on even {\n"
                           "    at 10 cm length: 83.6 mm {\n"
                           "        diamond crossings: 4 ends: 12 turns of navy {\n"
                           "            strand 3 of slate\n"
                           "            strand 2 of spacer(navy)\n"
                           "            strand 1 of dusk\n"
                           "        }\n"
                           "    }\n"
                           "    at 30 cm toward: butt length: 63.6 mm {\n"
                           "        spiral turns: 3 turns starts: 2 ends: 12 turns of navy { strand 2 of dusk }\n"
                           "    }\n"
                           "}\n";

static Compilation *compilation;

static int start(void **state)
{
    (void)state;
    compilation = compilation_new(0);
    turnlay_give(compilation, "test.lay", text, strlen(text));
    assert_null(turnlay_want(compilation).path);
    assert_int_equal(turnlay_finish(compilation), TURNLAY_DONE);
    return 0;
}

static int end(void **state)
{
    (void)state;
    turnlay_free(compilation);
    return 0;
}

static const char *page(void (*emit)(Buffer *out, const Plan *plan))
{
    Buffer out;
    if (setjmp(*trap_set(&compilation->trap)) != 0)
        fail_msg("the machine has no memory left");
    buffer_start(&out, &compilation->arena);
    emit(&out, compilation->plan);
    buffer_put(&out, "", 1);
    return out.bytes;
}

static void emit_json(Buffer *out, const Plan *plan)
{
    (void)plan;
    emit_plan_json(out, compilation->bench, &compilation->findings);
}

static void emit_needs(Buffer *out, const Plan *plan)
{
    (void)plan;
    emit_need_text(out, compilation->bench);
}

#define assert_says(words_of_page, words)                                                                         \
    do {                                                                                                          \
        if (!strstr((words_of_page), (words)))                                                                    \
            fail_msg("not said: %s\nin: %s", (words), (words_of_page));                                           \
    } while (0)

static void the_plan_as_text(void **state)
{
    (void)state;
    const char *words = page(emit_plan_text);
    /* atan(20 / (pi 12.15)) = 27.65 deg; 20 cos of it is 17.715; 9 strands of 0.15 take 1.35. */
    assert_says(words, "Layer 1 of 1 (diamond)\n"
                       "  diamond, 4 crossings 20.00 mm apart, 27.7 deg steep at the butt, 27.7 deg at\n"
                       "    the tip\n"
                       "  lead 20.00 mm out and back, wound counter-clockwise, seen from the butt\n"
                       "  end bands of 12 turns, 1.80 mm; between them the field, 1.80 mm to 81.80 mm\n"
                       "  the crossing line at 0 deg (12 o'clock): 4 crossings, 11.80 mm, 31.80 mm,\n"
                       "    51.80 mm and 71.80 mm from the mark\n"
                       "  the crossing line at 180 deg (6 o'clock): 3 crossings, 21.80 mm, 41.80 mm and\n"
                       "    61.80 mm from the mark\n"
                       "  at the butt there is room for 17.72 mm of strands; they take 1.35 mm: 16.37 mm\n"
                       "    stays bare\n");
    assert_null(strstr(words, "it would close")); /* this field is open on purpose */
    assert_says(words, "  strands     thread       laid                            each out    each back\n"
                       "  1           slate        along the marks                   0.18 m       0.18 m\n"
                       "  2 to 3      slate        alternately tip, butt side        0.18 m       0.18 m\n"
                       "  4 to 7      spacer navy  alternately tip, butt side        0.18 m       0.18 m\n"
                       "  8 to 9      dusk         alternately tip, butt side        0.18 m       0.18 m\n");
    assert_says(words, "24 turns in all, 83.60 mm wide\n");
    assert_says(words, "  spiral of 2 starts, ");
    assert_says(words, "  4 passes in all, each strand for all 2 starts before the next strand;\n    12.7 turns");
}

static void needs_say_what_turns_are(void **state)
{
    (void)state;
    assert_says(page(emit_needs), "\nTurns are those of bands; strands of crosswraps count by their lengths.\n");
}

static json_t *layer_of(json_t *root, size_t place)
{
    json_t *rod = json_array_get(json_object_get(root, "rods"), 0);
    json_t *planned = json_array_get(json_object_get(rod, "places"), place);
    return json_array_get(json_object_get(planned, "layers"), 0);
}

static double number_of(json_t *object, const char *name)
{
    json_t *value = json_object_get(object, name);
    if (!json_is_number(value))
        fail_msg("%s is no number", name);
    return json_number_value(value);
}

#define assert_near(got, wanted)                                                                                  \
    do {                                                                                                          \
        if (!(fabs((got) - (wanted)) < 1e-6))                                                                     \
            fail_msg("%.9g instead of %.9g", (double)(got), (double)(wanted));                                    \
    } while (0)

static void the_plan_as_json(void **state)
{
    (void)state;
    json_t *root = json_loads(page(emit_json), 0, NULL);
    assert_non_null(root);
    assert_int_equal(json_integer_value(json_object_get(root, "version")), 1);
    json_t *layer = layer_of(root, 0), *crosswrap = json_object_get(layer, "crosswrap");
    assert_string_equal(json_string_value(json_object_get(crosswrap, "kind")), "diamond");
    assert_string_equal(json_string_value(json_object_get(crosswrap, "sense")), "counter-clockwise");
    assert_near(number_of(crosswrap, "spacing_mm"), 20);
    assert_near(number_of(json_object_get(crosswrap, "field"), "start_mm"), 101.8);
    assert_near(number_of(json_object_get(crosswrap, "lead_mm"), "back"), 20);
    json_t *lines = json_object_get(crosswrap, "lines");
    assert_int_equal(json_array_size(lines), 2);
    json_t *marks = json_object_get(json_array_get(lines, 1), "marks_mm");
    assert_near(number_of(json_array_get(lines, 1), "clock_deg"), 180);
    assert_int_equal(json_array_size(marks), 3);
    assert_near(json_number_value(json_array_get(marks, 2)), 161.8);
    json_t *strands = json_object_get(crosswrap, "strands"), *third = json_array_get(strands, 2);
    assert_int_equal(json_array_size(strands), 9);
    assert_true(json_is_null(json_object_get(json_array_get(strands, 0), "against")));
    assert_string_equal(json_string_value(json_object_get(third, "side")), "down");
    assert_int_equal(json_integer_value(json_object_get(third, "against")), 0);
    assert_near(number_of(third, "middle_mm"), -0.15);
    assert_int_equal(json_integer_value(json_object_get(third, "line")), 9);
    assert_int_equal(json_array_size(json_object_get(crosswrap, "passes")), 9);
    json_t *item = json_array_get(json_object_get(layer, "items"), 0);
    assert_string_equal(json_string_value(json_object_get(item, "kind")), "crosswrap");
    assert_int_equal(json_array_size(json_object_get(layer, "runs")), 3);
    assert_int_equal(json_integer_value(json_object_get(layer, "turns")), 24);
    json_decref(root);
}

static void a_spiral_has_nothing_that_crosses(void **state)
{
    (void)state;
    json_t *root = json_loads(page(emit_json), 0, NULL);
    json_t *crosswrap = json_object_get(layer_of(root, 1), "crosswrap");
    assert_string_equal(json_string_value(json_object_get(crosswrap, "kind")), "spiral");
    static const char *const nothing[] = {"crossings", "spacing_mm"};
    for (size_t i = 0; i < 2; i++)
        assert_true(json_is_null(json_object_get(crosswrap, nothing[i])));
    assert_true(json_is_null(json_object_get(json_object_get(crosswrap, "lead_mm"), "back")));
    assert_int_equal(json_array_size(json_object_get(crosswrap, "lines")), 0);
    json_t *pass = json_array_get(json_object_get(crosswrap, "passes"), 3);
    assert_true(json_is_null(json_object_get(pass, "back_mm")));
    assert_int_equal(json_integer_value(json_object_get(pass, "strand")), 1);
    assert_int_equal(json_integer_value(json_object_get(pass, "start")), 1);
    json_decref(root);
}

static void pieces_tell_their_passes_and_threads_their_colours(void **state)
{
    (void)state;
    json_t *root = json_loads(page(emit_json), 0, NULL), *piece, *thread;
    json_t *pieces = json_object_get(json_array_get(json_object_get(root, "rods"), 0), "pieces");
    size_t index, with = 0;
    long long passes = 0;
    json_array_foreach(pieces, index, piece)
    {
        json_t *own = json_object_get(piece, "passes");
        with += own != NULL;
        passes += own ? json_integer_value(json_object_get(own, "count")) : 0;
        assert_true(!own == (json_integer_value(json_object_get(piece, "turns")) > 0));
    }
    assert_int_equal(passes, 9 + 4);
    assert_int_equal(with, 3 + 4); /* of a spiral each pass is a piece */
    json_array_foreach(json_object_get(root, "threads"), index, thread)
    {
        bool dusk = strcmp(json_string_value(json_object_get(thread, "thread")), "dusk") == 0;
        assert_true(dusk == (json_object_get(thread, "colours") != NULL));
        assert_true(dusk == (json_object_get(thread, "period_mm") != NULL));
    }
    json_decref(root);
}

static size_t fields_of(const char *line)
{
    size_t fields = 1;
    for (bool quoted = false; *line != '\r'; line++) {
        quoted ^= *line == '"';
        fields += *line == ',' && !quoted;
    }
    return fields;
}

static void the_plan_as_csv(void **state)
{
    (void)state;
    const char *csv = page(emit_plan_csv);
    size_t passes = 0, width = fields_of(csv);
    assert_int_equal(width, 27);
    assert_says(csv, "wound_mm,file,line,column,angle_deg,pass,strand,start,out_mm,back_mm,dwell_deg\r\n");
    for (const char *line = csv; *line; line = strstr(line, "\r\n") + 2) {
        assert_int_equal(fields_of(line), width);
        passes += strstr(line, ",pass,") != NULL && strstr(line, ",pass,") < strstr(line, "\r\n");
    }
    assert_int_equal(passes, 1 + 9 + 4); /* and the line of names */
    assert_says(csv, ",0,over,,0,pass,spacer navy,,,100,183.6,0,83.6,12,12,");
}

static void strands_alike_are_grouped(void **state)
{
    (void)state;
    static const int sides[] = {0, 1, -1, 1, 1, 1, -1, 1, -1};
    static const uint32_t lines[] = {0, 0, 0, 0, 0, 0, 1, 1, 1};
    static const StrandGroup wanted[] = {{0, 1, LAID_FIRST, false},
                                         {1, 3, LAID_BY_TURNS, false},
                                         {4, 2, LAID_UP, false},
                                         {6, 3, LAID_BY_TURNS, true}};
    BundleStrand strands[9] = {{0}};
    for (int i = 0; i < 9; i++)
        strands[i] = (BundleStrand){.side = sides[i], .line = lines[i]};
    PlannedCrosswrap planned = {.strands = strands, .strand_count = 9};
    for (uint32_t i = 0, first = 0; first < 9; i++) {
        StrandGroup group = strand_group(&planned, first);
        assert_int_equal(group.first, wanted[i].first);
        assert_int_equal(group.count, wanted[i].count);
        assert_int_equal(group.side, wanted[i].side);
        assert_int_equal(group.begins_down, wanted[i].begins_down);
        first += group.count;
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(the_plan_as_text, start, end),
        cmocka_unit_test_setup_teardown(needs_say_what_turns_are, start, end),
        cmocka_unit_test_setup_teardown(the_plan_as_json, start, end),
        cmocka_unit_test_setup_teardown(a_spiral_has_nothing_that_crosses, start, end),
        cmocka_unit_test_setup_teardown(pieces_tell_their_passes_and_threads_their_colours, start, end),
        cmocka_unit_test_setup_teardown(the_plan_as_csv, start, end),
        cmocka_unit_test(strands_alike_are_grouped),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
