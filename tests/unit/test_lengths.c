/* Lengths as pages print them, in every system, and as mends write them. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "base/lengths.h"
#include "in_memory.h"

#define IN_MEMORY(memory)                                                                                         \
    Memory *memory = *state;                                                                                      \
    if (setjmp(*trap_set(&memory->trap)) != 0)                                                                    \
    fail_msg("the machine has no memory left")

/* What suits a ruler, callipers or a spool: in mm, in cm throughout, in inches, and in cm and mm. */
static void test_each_quantity_has_its_unit(void **state)
{
    IN_MEMORY(memory);
    static const struct {
        Quantity quantity;
        double mm;
        const char *texts[SYSTEM_COUNT];
    } rows[] = {
        {QUANTITY_PLACE, 320, {"320 mm", "32 cm", "12 19/32 in (12.598 in)", "32 cm"}},
        {QUANTITY_PLACE, 368.3, {"368.3 mm", "36.83 cm", "14 1/2 in", "36.83 cm"}},
        {QUANTITY_PLACE, 612.54, {"612.54 mm", "61.254 cm", "24 7/64 in (24.116 in)", "61.254 cm"}},
        {QUANTITY_WIDTH, 15, {"15.00 mm", "1.500 cm", "19/32 in (0.591 in)", "15.00 mm"}},
        {QUANTITY_WIDTH, 0, {"0.00 mm", "0.000 cm", "0 in", "0.00 mm"}},
        {QUANTITY_TOLERANCE, 3, {"3.00 mm", "3.00 mm", "0.118 in", "3.00 mm"}},
        {QUANTITY_TOLERANCE, 25.4 / 64, {"0.40 mm", "0.40 mm", "1/64 in", "0.40 mm"}},
        {QUANTITY_DIAMETER, 12.5, {"12.50 mm", "12.50 mm", "0.492 in", "12.50 mm"}},
        {QUANTITY_THICKNESS, 0.15, {"0.150 mm", "0.150 mm", "0.0059 in", "0.150 mm"}},
        {QUANTITY_PERIOD, 90, {"90 mm", "9 cm", "3 35/64 in (3.543 in)", "9 cm"}},
        {QUANTITY_DISTANCE, 2000, {"2 m", "2 m", "79 in", "2 m"}},
        {QUANTITY_DISTANCE, 609.6, {"0.61 m", "0.61 m", "24 in", "0.61 m"}},
        {QUANTITY_THREAD, 3188.75, {"3.19 m", "3.19 m", "3.49 yd", "3.19 m"}},
    };
    for (unsigned i = 0; i < sizeof rows / sizeof *rows; i++)
        for (UnitSystem system = SYSTEM_MM; system < SYSTEM_COUNT; system++)
            assert_string_equal(show_quantity(&memory->arena, system, rows[i].quantity, rows[i].mm),
                                rows[i].texts[system]);
}

static void test_every_quantity_is_a_length(void **state)
{
    (void)state;
    for (unsigned quantity = 0; quantity < QUANTITY_COUNT; quantity++)
        for (UnitSystem system = SYSTEM_MM; system < SYSTEM_COUNT; system++) {
            const char *spelling = quantity_unit(system, quantity);
            double step = quantity_step(system, quantity);
            bool inches = system == SYSTEM_IN;
            assert_int_equal(inches, strcmp(spelling, "in") == 0 || strcmp(spelling, "yd") == 0);
            assert_true(step >= 0.001 && step <= (quantity == QUANTITY_DISTANCE ? 25.4 : 10));
        }
}

static void test_shorthands(void **state)
{
    IN_MEMORY(memory);
    Arena *arena = &memory->arena;
    assert_string_equal(show_length(arena, SYSTEM_CM_AND_MM, 12.35), "12.35 mm");
    assert_string_equal(show_fine(arena, SYSTEM_CM, 0.15), "0.150 mm");
    assert_string_equal(show_thread_length(arena, SYSTEM_IN, 91440), "100.00 yd");
    assert_string_equal(show_decimal(arena, SYSTEM_IN, QUANTITY_WIDTH, 25.4), "1.000 in");
    assert_string_equal(show_decimal(arena, SYSTEM_CM, QUANTITY_PLACE, 25), "2.5 cm");
    assert_string_equal(system_words(SYSTEM_IN), "in inches");
    assert_string_equal(unit_of_widths(SYSTEM_IN), "inches");
    assert_string_equal(unit_of_widths(SYSTEM_CM_AND_MM), "millimetres");
}

/* The nearest 64th in lowest terms, halves of a 64th away from zero; the decimal where that says more. */
static void test_by_the_ruler(void **state)
{
    IN_MEMORY(memory);
    static const struct {
        double inches;
        const char *text;
    } cases[] = {
        {31 / 64.0 + 0.0018, "31/64 in (0.486 in)"},
        {31 / 64.0 + 0.0004, "31/64 in"},
        {1, "1 in"},
        {3.25, "3 1/4 in"},
        {-3.25, "-3 1/4 in"},
        {-3.251, "-3 1/4 in (-3.251 in)"},
        {0.006, "0.006 in"},
        {-0.006, "-0.006 in"},
        {1 / 128.0, "1/64 in (0.008 in)"},
        {63.6 / 64, "1 in (0.994 in)"},
        {0.063, "1/16 in"},
        {0.062, "1/16 in"},
        {0.064, "1/16 in (0.064 in)"},
        {36, "36 in"},
    };
    for (unsigned i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_string_equal(show_length(&memory->arena, SYSTEM_IN, 25.4 * cases[i].inches), cases[i].text);
}

/* Every 64th of the first four inches, and a little to either side of it. */
static void test_every_64th(void **state)
{
    IN_MEMORY(memory);
    for (int parts = 1; parts < 4 * 64; parts++) {
        for (int aside = -1; aside <= 1; aside++) {
            const char *text = show_length(&memory->arena, SYSTEM_IN, 25.4 / 64 * (parts + 0.49 * aside));
            int whole = 0, above = 0, below = 1, read = 0;
            if (sscanf(text, "%d/%d in%n", &above, &below, &read) != 2 || !read) {
                above = 0, below = 1;
                if (sscanf(text, "%d %d/%d in%n", &whole, &above, &below, &read) != 3 || !read)
                    above = 0, below = 1;
            }
            assert_int_equal(64 % below, 0);
            assert_int_equal(whole * 64 + above * 64 / below, parts);
            assert_true(above == 0 || above % 2 == 1);
            assert_int_equal(strchr(text, '(') == NULL, aside == 0);
        }
    }
}

/* "+- 0 in" says that nothing can be off. */
static void test_what_is_not_nothing_is_not_printed_as_nothing(void **state)
{
    IN_MEMORY(memory);
    static const struct {
        UnitSystem system;
        Quantity quantity;
        double mm;
        const char *text;
    } cases[] = {
        {SYSTEM_MM, QUANTITY_TOLERANCE, 0.005, "0.01 mm"},
        {SYSTEM_MM, QUANTITY_TOLERANCE, 0.0049, "0.005 mm"},
        {SYSTEM_MM, QUANTITY_WIDTH, -0.0004, "-0.0004 mm"},
        {SYSTEM_CM, QUANTITY_WIDTH, 0.003, "0.0003 cm"},
        {SYSTEM_IN, QUANTITY_TOLERANCE, 0.1, "0.004 in"},
        {SYSTEM_IN, QUANTITY_TOLERANCE, 0.01, "0.0004 in"},
        {SYSTEM_IN, QUANTITY_WIDTH, 0.01, "0.0004 in"},
        {SYSTEM_IN, QUANTITY_THREAD, 3, "0.003 yd"},
        {SYSTEM_CM_AND_MM, QUANTITY_PLACE, 0.004, "0.0004 cm"},
        {SYSTEM_MM, QUANTITY_WIDTH, 1e-9, "0.00 mm"}, /* rounding of the reckoning */
        {SYSTEM_IN, QUANTITY_WIDTH, -1e-9, "0 in"},
    };
    for (unsigned i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_string_equal(show_quantity(&memory->arena, cases[i].system, cases[i].quantity, cases[i].mm),
                            cases[i].text);
}

/* By a rule and by callipers: the nearest step, halves away from 0, in the tool's own units. */
static void test_as_tools_are_read(void **state)
{
    IN_MEMORY(memory);
    static const struct {
        UnitSystem system;
        Quantity quantity;
        double step; /* mm */
        bool all_digits;
        double mm;
        const char *text;
    } rows[] = {
        {SYSTEM_MM, QUANTITY_WIDTH, 0.5, false, 12.34, "12.5 mm"},
        {SYSTEM_MM, QUANTITY_WIDTH, 0.5, false, 12.24, "12 mm"},
        {SYSTEM_MM, QUANTITY_WIDTH, 0.5, false, 12.25, "12.5 mm"},
        {SYSTEM_MM, QUANTITY_WIDTH, 0.5, false, -12.25, "-12.5 mm"},
        {SYSTEM_MM, QUANTITY_WIDTH, 0.5, false, 0, "0 mm"},
        {SYSTEM_MM, QUANTITY_WIDTH, 0.5, false, 0.25, "0.5 mm"},
        {SYSTEM_MM, QUANTITY_WIDTH, 0.5, false, 0.15, "0.15 mm"}, /* what is not 0 */
        {SYSTEM_MM, QUANTITY_PLACE, 0.5, false, 1437.31, "1437.5 mm"},
        {SYSTEM_CM, QUANTITY_PLACE, 0.5, false, 1437.31, "143.75 cm"},
        {SYSTEM_CM, QUANTITY_WIDTH, 0.5, false, 320, "32 cm"},
        {SYSTEM_CM_AND_MM, QUANTITY_PLACE, 1, false, 1437.31, "143.7 cm"},
        {SYSTEM_CM_AND_MM, QUANTITY_WIDTH, 1, false, 12.34, "12 mm"},
        {SYSTEM_MM, QUANTITY_WIDTH, 0.1, true, 12.04, "12.0 mm"},
        {SYSTEM_MM, QUANTITY_WIDTH, 0.1, true, 12.05, "12.1 mm"},
        {SYSTEM_CM, QUANTITY_WIDTH, 0.1, true, 12.04, "1.20 cm"},
        {SYSTEM_MM, QUANTITY_WIDTH, 0.02, true, 12.049, "12.04 mm"},
        {SYSTEM_MM, QUANTITY_WIDTH, 0.25, false, 12.4, "12.5 mm"},
        {SYSTEM_IN, QUANTITY_WIDTH, 25.4 / 64, false, 25.4 * (12 + 5.4 / 64), "12 5/64 in"},
        {SYSTEM_IN, QUANTITY_WIDTH, 25.4 / 64, false, 25.4 * 32.4 / 64, "1/2 in"},
        {SYSTEM_IN, QUANTITY_WIDTH, 25.4 / 64, false, 25.4 * 63.6 / 64, "1 in"},
        {SYSTEM_IN, QUANTITY_WIDTH, 25.4 / 64, false, 25.4 * 0.2 / 64, "0.003 in"},
        {SYSTEM_IN, QUANTITY_WIDTH, 25.4 / 32, false, 25.4 * 5. / 64, "3/32 in"},
        {SYSTEM_IN, QUANTITY_WIDTH, 25.4 / 16, false, 25.4 * 5. / 64, "1/16 in"},
        {SYSTEM_IN, QUANTITY_WIDTH, 0.254, false, 25.4 * 5. / 64, "0.08 in"}, /* a rule in hundredths */
        {SYSTEM_IN, QUANTITY_WIDTH, 0.127, true, 25.4 * 0.4878, "0.490 in"},
        {SYSTEM_IN, QUANTITY_WIDTH, 0.0254, true, 25.4 * 0.4878, "0.488 in"},
        {SYSTEM_IN, QUANTITY_WIDTH, 0.0127, true, 25.4 * 0.4878, "0.4880 in"},
        {SYSTEM_IN, QUANTITY_WIDTH, 0.5, false, 12.34, "12.5 mm"},     /* a metric rule at a bench in inches */
        {SYSTEM_MM, QUANTITY_WIDTH, 25.4 / 64, false, 12.7, "1/2 in"}, /* the other way round */
        {SYSTEM_CM_AND_MM, QUANTITY_PLACE, 25.4 / 32, false, 1437.31, "56 19/32 in"},
        {SYSTEM_MM, QUANTITY_WIDTH, 6.35, false, 20, "3/4 in"},
    };
    for (unsigned i = 0; i < sizeof rows / sizeof *rows; i++) {
        MeasuringTool tool = tool_read_to(rows[i].system, rows[i].step, rows[i].all_digits);
        Buffer buffer;
        buffer_start(&buffer, &memory->arena);
        put_read(&buffer, tool, rows[i].quantity, rows[i].mm);
        assert_string_equal(buffer_string(&buffer), rows[i].text);
        assert_int_equal(reads_nothing(tool, rows[i].mm), fabs(rows[i].mm) < rows[i].step / 2 - 1e-6);
    }
}

/* Read from one place, no mark is off by more than half a step, however many there are. */
static void test_marks_do_not_add_up(void **state)
{
    IN_MEMORY(memory);
    MeasuringTool rule = tool_read_to(SYSTEM_MM, 0.5, false);
    for (int turns = 4; turns < 400; turns++) {
        double mm = turns * 0.1493;
        Buffer buffer;
        buffer_start(&buffer, &memory->arena);
        put_read(&buffer, rule, QUANTITY_WIDTH, mm);
        assert_true(fabs(atof(buffer_string(&buffer)) - mm) <= 0.25 + 1e-9);
    }
}

static void test_even_parts(void **state)
{
    (void)state;
    static const double metric[] = {0.01, 0.02, 0.05, 0.1, 0.2, 0.25, 0.5, 1, 2, 2.5, 5, 10};
    static const double inches[] = {1,       0.5,     1. / 4,  1. / 8,  1. / 10, 1. / 16,
                                    1. / 20, 1. / 32, 1. / 50, 1. / 64, 0.001};
    static const double neither[] = {0.3, 0.7, 3, 4, 1.2, 20, 30};
    for (unsigned i = 0; i < sizeof metric / sizeof *metric; i++)
        assert_true(step_is_metric(metric[i]));
    for (unsigned i = 0; i < sizeof inches / sizeof *inches; i++) {
        assert_true(step_is_of_an_inch(25.4 * inches[i]));
        assert_false(step_is_metric(25.4 * inches[i]));
    }
    for (unsigned i = 0; i < sizeof neither / sizeof *neither; i++)
        assert_false(step_is_metric(neither[i]) || step_is_of_an_inch(neither[i]));
}

static void test_in_columns(void **state)
{
    IN_MEMORY(memory);
    Buffer buffer;
    buffer_start(&buffer, &memory->arena);
    put_digits(&buffer, SYSTEM_IN, QUANTITY_WIDTH, 12.35);
    buffer_text(&buffer, " ");
    put_on_ruler(&buffer, 12.35);
    buffer_text(&buffer, " ");
    put_on_ruler(&buffer, -82.55);
    buffer_text(&buffer, " ");
    put_on_ruler(&buffer, -0.1);
    buffer_text(&buffer, " ");
    put_on_ruler(&buffer, 25.4e15);
    buffer_text(&buffer, " ");
    put_digits(&buffer, SYSTEM_CM_AND_MM, QUANTITY_WIDTH, 12.35);
    buffer_text(&buffer, " ");
    put_digits(&buffer, SYSTEM_CM, QUANTITY_DIAMETER, 12.35);
    assert_string_equal(buffer_string(&buffer), "0.486 31/64 -3 1/4 0 1000000000000000 12.35 12.35");
}

/* As printed, one less the other is what lies between them; and it is nothing only if they are equal. */
static void test_what_lies_between_adds_up(void **state)
{
    IN_MEMORY(memory);
    for (unsigned i = 0; i < 4000; i++) {
        double one = (i % 97) * 0.7331 + i * 1e-4, other = one + ((int)(i % 41) - 20) * (i % 3 ? 0.00437 : 1.9173);
        LengthPair pair = show_apart(&memory->arena, SYSTEM_MM, QUANTITY_WIDTH, one, other);
        double printed = fabs(strtod(pair.one, NULL) - strtod(pair.other, NULL));
        double apart = strtod(pair.apart, NULL);
        assert_true(fabs(printed - apart) < 1e-9);
        assert_int_equal(strcmp(pair.one, pair.other) == 0, fabs(one - other) < 1e-6);
    }
    LengthPair pair = show_apart(&memory->arena, SYSTEM_IN, QUANTITY_WIDTH, 25.4, 25.404);
    assert_string_equal(pair.one, "1.0000 in");
    assert_string_equal(pair.other, "1.0002 in");
    assert_string_equal(pair.apart, "0.0002 in");
    /* two lengths of one fraction: the fraction would stand against itself */
    pair = show_apart(&memory->arena, SYSTEM_IN, QUANTITY_WIDTH, 0.754 * 25.4, 0.75 * 25.4);
    assert_string_equal(pair.one, "0.754 in");
    assert_string_equal(pair.other, "0.750 in");
    assert_string_equal(pair.apart, "0.004 in");
    pair = show_apart(&memory->arena, SYSTEM_IN, QUANTITY_WIDTH, 0.788 * 25.4, 0.75 * 25.4);
    assert_string_equal(pair.one, "25/32 in (0.788 in)");
    assert_string_equal(pair.other, "3/4 in");
}

/* Cut to the next measure up: whole centimetres, from one metre on in metres; quarters of an inch, from two yards
 * on in yards. A hair's breadth over is rounding. */
static void test_thread_to_cut(void **state)
{
    IN_MEMORY(memory);
    static const struct {
        double mm;
        const char *metric, *inches;
    } cases[] = {{150, "15 cm", "6 in"},
                 {150.0000001, "15 cm", "6 in"},
                 {151, "16 cm", "6 in"},
                 {152.4, "16 cm", "6 in"},
                 {152.5, "16 cm", "6 1/4 in"},
                 {6, "1 cm", "1/4 in"},
                 {12.7, "2 cm", "1/2 in"},
                 {19, "2 cm", "3/4 in"},
                 {989, "99 cm", "39 in"},
                 {991, "1.00 m", "39 1/4 in"},
                 {1000, "1.00 m", "39 1/2 in"},
                 {1822, "1.83 m", "71 3/4 in"},
                 {1823, "1.83 m", "2 yd 0 in"},
                 {1829, "1.83 m", "2 yd 1/4 in"},
                 {4000, "4.00 m", "4 yd 13 1/2 in"},
                 {0, "0 cm", "0 in"}};
    for (unsigned i = 0; i < sizeof cases / sizeof *cases; i++)
        for (UnitSystem system = SYSTEM_MM; system < SYSTEM_COUNT; system++) {
            Buffer buffer;
            buffer_start(&buffer, &memory->arena);
            put_cut_length(&buffer, system, cases[i].mm);
            assert_string_equal(buffer_string(&buffer), system == SYSTEM_IN ? cases[i].inches : cases[i].metric);
        }
}

/* --- in a source --- */

static void test_source_lengths(void **state)
{
    IN_MEMORY(memory);
    Arena *arena = &memory->arena;
    assert_string_equal(source_length(arena, SYSTEM_MM, QUANTITY_WIDTH, 54.27), "54.27 mm");
    assert_string_equal(source_length(arena, SYSTEM_CM, QUANTITY_WIDTH, 54.27), "5.427 cm");
    assert_string_equal(source_length(arena, SYSTEM_CM_AND_MM, QUANTITY_WIDTH, 54.27), "54.27 mm");
    assert_string_equal(source_length(arena, SYSTEM_CM_AND_MM, QUANTITY_PLACE, 54.27), "5.427 cm");
    assert_string_equal(source_length(arena, SYSTEM_IN, QUANTITY_WIDTH, 12.41), "0.4886 in");
    assert_string_equal(source_length(arena, SYSTEM_IN, QUANTITY_PLACE, 50.8), "2 in");
}

/* In the unit that the builder wrote there, as finely as in the bench's. */
static void test_written_in_the_builders_unit(void **state)
{
    IN_MEMORY(memory);
    static const struct {
        const char *there;
        Unit unit;
        int decimals;
    } cases[] = {
        {"12 mm", UNIT_MM, 3},
        {"1.2 cm", UNIT_CM, 4},
        {"0.2 m", UNIT_M, 6},
        {"3 1/4 in", UNIT_IN, 5},
        {"7 ft", UNIT_FT, 6},
        {"2yd", UNIT_YD, 6},
        {"7 ft 2 in", UNIT_IN, 5},
        {"1-1/2\"", UNIT_IN, 5},
        {"[19 mm, 1.7 cm]", UNIT_CM, 4},
        {"", UNIT_MM, 3},
        {"edge", UNIT_MM, 3},
        {"12 turns", UNIT_MM, 3},
        {"edge * 2 in", UNIT_MM, 3},
        {"12", UNIT_MM, 3},
    };
    LengthWriting otherwise = source_writing(SYSTEM_MM, QUANTITY_WIDTH);
    for (unsigned i = 0; i < sizeof cases / sizeof *cases; i++) {
        LengthWriting writing = written_as(cases[i].there, strlen(cases[i].there), otherwise);
        assert_int_equal(writing.unit, cases[i].unit);
        assert_int_equal(writing.decimals, cases[i].decimals);
        assert_true(writing_step(writing) <= writing_step(otherwise) * (1 + 1e-9));
    }
    assert_string_equal(
        write_length(&memory->arena, written_as("150 cm", 6, print_writing(SYSTEM_MM, QUANTITY_THREAD)), 1530),
        "153 cm");
}

/* What is offered for a ruler: to 0.1 mm or 1/64 in, up or down. */
static void test_by_hand(void **state)
{
    IN_MEMORY(memory);
    static const struct {
        Unit unit;
        double mm;
        const char *above, *below;
        double step;
    } cases[] = {
        {UNIT_MM, 54.27, "54.3 mm", "54.2 mm", 0.1},
        {UNIT_CM, 54.27, "5.43 cm", "5.42 cm", 0.1},
        {UNIT_M, 54.27, "0.0543 m", "0.0542 m", 0.1},
        {UNIT_IN, 54.27, "2 9/64 in", "2 1/8 in", 25.4 / 64},
        {UNIT_FT, 54.27, "2 9/64 in", "2 1/8 in", 25.4 / 64},
        {UNIT_YD, 2438.4, "96 in", "96 in", 25.4 / 64},
        {UNIT_MM, 54.3, "54.3 mm", "54.3 mm", 0.1},
        {UNIT_IN, 25.4 * 1.25, "1 1/4 in", "1 1/4 in", 25.4 / 64},
        {UNIT_IN, 0.77 * 25.4, "25/32 in", "49/64 in", 25.4 / 64},
    };
    for (unsigned i = 0; i < sizeof cases / sizeof *cases; i++) {
        LengthWriting fine = {cases[i].unit, 6}, writing = writing_by_hand(fine);
        double above = written_above(writing, cases[i].mm), below = written_below(writing, cases[i].mm);
        assert_string_equal(write_length(&memory->arena, writing, above), cases[i].above);
        assert_string_equal(write_length(&memory->arena, writing, below), cases[i].below);
        assert_true(fabs(writing_step(writing) - cases[i].step) < 1e-9);
        assert_true(above >= cases[i].mm - 1e-6 && below <= cases[i].mm + 1e-6);
    }
}

#define TEST(function) cmocka_unit_test_setup_teardown(function, start, end)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_each_quantity_has_its_unit),
        TEST(test_every_quantity_is_a_length),
        TEST(test_shorthands),
        TEST(test_by_the_ruler),
        TEST(test_every_64th),
        TEST(test_what_is_not_nothing_is_not_printed_as_nothing),
        TEST(test_as_tools_are_read),
        TEST(test_marks_do_not_add_up),
        TEST(test_even_parts),
        TEST(test_in_columns),
        TEST(test_what_lies_between_adds_up),
        TEST(test_thread_to_cut),
        TEST(test_source_lengths),
        TEST(test_written_in_the_builders_unit),
        TEST(test_by_hand),
    };
    return cmocka_run_group_tests_name("lengths", tests, NULL, NULL);
}
