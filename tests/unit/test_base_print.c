/* Numbers, lengths and columns as people read them, in every locale. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <locale.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

#include "base/buffer.h"
#include "base/text.h"
#include "base/lengths.h"
#include "in_memory.h"

static const char *text_in(Buffer *buffer)
{
    buffer_put(buffer, "", 1);
    return buffer->bytes;
}

static const char *number(Memory *memory, double value, int decimals)
{
    Buffer buffer;
    buffer_start(&buffer, &memory->arena);
    buffer_number(&buffer, value, decimals);
    return text_in(&buffer);
}

/* For programs: six decimals as far as a double of that size has them, whole numbers where it has hardly one, and
 * nothing where not all digits of a whole number are sure. */
static void test_numbers_for_programs(void **state)
{
    Memory *memory = *state;
    if (setjmp(*trap_set(&memory->trap)) != 0)
        fail_msg("the machine has no memory left");
    static const struct {
        double value;
        const char *words;
    } all[] = {{0, "0"},
               {-0.0000004, "0"},
               {1.0000005, "1.000001"},
               {-2.5, "-2.5"},
               {99999999999.5, "99999999999.5"},
               {1e11, "100000000000"},
               {123456789012.4, "123456789012"},
               {-123456789012.75, "-123456789013"},
               {99999999999999984.0, "99999999999999984"},
               {1e17, NULL},
               {-1e17, NULL},
               {INFINITY, NULL},
               {NAN, NULL}};
    for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
        Buffer buffer;
        buffer_start(&buffer, &memory->arena);
        assert_int_equal(put_program_number(&buffer, all[i].value), all[i].words != NULL);
        assert_string_equal(text_in(&buffer), all[i].words ? all[i].words : "");
    }
}

static void test_whole_numbers(void **state)
{
    Memory *memory = *state;
    if (setjmp(*trap_set(&memory->trap)) != 0)
        fail_msg("the machine has no memory left");
    Buffer buffer;
    buffer_start(&buffer, &memory->arena);
    static const uint64_t values[] = {0, 9, 10, 1009, UINT64_MAX};
    for (size_t i = 0; i < sizeof values / sizeof *values; i++) {
        buffer_whole(&buffer, values[i]);
        buffer_text(&buffer, " ");
    }
    assert_string_equal(text_in(&buffer), "0 9 10 1009 18446744073709551615 ");
}

/* Short texts are put together beside the arena, longer ones in it. */
static void test_formats_of_any_length(void **state)
{
    Memory *memory = *state;
    if (setjmp(*trap_set(&memory->trap)) != 0)
        fail_msg("the machine has no memory left");
    char kept[600];
    memset(kept, 'x', sizeof kept);
    for (int length = 250; length < 600; length += length < 260 ? 1 : 333) {
        Buffer buffer;
        buffer_start(&buffer, &memory->arena);
        buffer_format(&buffer, "%.*s%d", length, kept, 7);
        const char *both[] = {text_format(&memory->arena, "%.*s%d", length, kept, 7), text_in(&buffer)};
        for (int i = 0; i < 2; i++) {
            assert_int_equal(strlen(both[i]), length + 1);
            assert_int_equal(strspn(both[i], "x"), length);
            assert_int_equal(both[i][length], '7');
        }
    }
}

/* Halves, exact in binary, go away from zero; zero has no sign; what is beyond all measure can be seen. */
static void test_numbers(void **state)
{
    Memory *memory = *state;
    if (setjmp(*trap_set(&memory->trap)) != 0)
        fail_msg("the machine has no memory left");
    static const struct {
        double value;
        int decimals;
        const char *text;
    } cases[] = {
        {0, 0, "0"},
        {0, 3, "0.000"},
        {-0.0, 2, "0.00"},
        {-0.004, 2, "0.00"},
        {0.5, 0, "1"},
        {1.5, 0, "2"},
        {2.5, 0, "3"},
        {-0.5, 0, "-1"},
        {-2.5, 0, "-3"},
        {0.125, 2, "0.13"},
        {-0.125, 2, "-0.13"},
        {0.375, 2, "0.38"},
        {0.49999, 0, "0"},
        {9.996, 2, "10.00"},
        {-9.996, 2, "-10.00"},
        {0.001, 3, "0.001"},
        {12.345, 1, "12.3"},
        {0.05, 2, "0.05"},
        {0.1, 9, "0.100000000"},
        {1e12, 3, "1000000000000.000"},
        {123456789.125, 3, "123456789.125"},
        {1e17, 0, "100000000000000000"},
        {1e300, 2, "inf"},
        {-1e300, 2, "-inf"},
        {INFINITY, 0, "inf"},
        {-INFINITY, 0, "-inf"},
        {NAN, 4, "nan"},
    };
    for (unsigned i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_string_equal(number(memory, cases[i].value, cases[i].decimals), cases[i].text);
}

/* Every number of up to three decimals comes back as it was written. */
static void test_thousandths_come_back(void **state)
{
    Memory *memory = *state;
    if (setjmp(*trap_set(&memory->trap)) != 0)
        fail_msg("the machine has no memory left");
    for (int n = -20000; n <= 20000; n++) {
        char wanted[32];
        snprintf(wanted, sizeof wanted, "%s%d.%03d", n < 0 ? "-" : "", abs(n) / 1000, abs(n) % 1000);
        assert_string_equal(number(memory, n / 1000.0, 3), wanted);
    }
}

static void test_short_numbers(void **state)
{
    Memory *memory = *state;
    if (setjmp(*trap_set(&memory->trap)) != 0)
        fail_msg("the machine has no memory left");
    static const struct {
        double value;
        int decimals;
        const char *text;
    } cases[] = {
        {2, 3, "2"},       {2.5, 3, "2.5"},    {100, 0, "100"},    {100, 2, "100"}, {0, 3, "0"},
        {-0.0001, 3, "0"}, {0.125, 2, "0.13"}, {-1.50, 2, "-1.5"}, {NAN, 2, "nan"},
    };
    for (unsigned i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_string_equal(show_number(&memory->arena, cases[i].value, cases[i].decimals), cases[i].text);
    assert_string_equal(show_turns(&memory->arena, 1), "1 turn");
    assert_string_equal(show_turns(&memory->arena, 12), "12 turns");
    assert_string_equal(show_turns(&memory->arena, 2.5), "2.5 turns");
    assert_string_equal(show_turns(&memory->arena, 0), "0 turns");
}

/* 1 in = 25.4 mm and 1 yd = 0.9144 m exactly: 16 CFR 500.19; 1 ft = 12 in. */
static void test_units_are_exact(void **state)
{
    (void)state;
    static const struct {
        Unit unit;
        const char *spelling;
        Measure measure;
        double factor;
    } known[] = {
        {UNIT_NONE, "", MEASURE_NUMBER, 1},       {UNIT_MM, "mm", MEASURE_LENGTH, 1},
        {UNIT_CM, "cm", MEASURE_LENGTH, 10},      {UNIT_M, "m", MEASURE_LENGTH, 1000},
        {UNIT_IN, "in", MEASURE_LENGTH, 25.4},    {UNIT_FT, "ft", MEASURE_LENGTH, 304.8},
        {UNIT_YD, "yd", MEASURE_LENGTH, 914.4},   {UNIT_TURNS, "turns", MEASURE_TURNS, 1},
        {UNIT_TURN, "turn", MEASURE_TURNS, 1},    {UNIT_DEG, "deg", MEASURE_ANGLE, 1},
        {UNIT_PERCENT, "%", MEASURE_RATIO, 0.01},
    };
    for (unsigned i = 0; i < sizeof known / sizeof *known; i++) {
        assert_string_equal(unit_spelling(known[i].unit), known[i].spelling);
        assert_int_equal(unit_measure(known[i].unit), known[i].measure);
        assert_true(unit_factor(known[i].unit) == known[i].factor);
    }
    assert_int_equal(unit_measure(UNIT_UNKNOWN), MEASURE_UNKNOWN);
}

/* Unicode Standard Annex 11 (East Asian width) by utf8proc: wide characters take two columns, combining marks
 * none unless they are spacing ones (general category Mc), which take room of their own. */
static void test_columns_of_scripts(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        int columns;
    } cases[] = {
        {"", 0},
        {"navy", 4},
        {"gr\xc3\xbcn", 4},              /* u with diaeresis, one character */
        {"gru\xcc\x88n", 4},             /* u and a combining diaeresis */
        {"\xe6\xb7\xb1\xe8\x97\x8d", 4}, /* two Chinese characters */
        {"\xed\x95\x9c", 2},             /* a Korean syllable */
        {"\xef\xbc\xa1", 2},             /* fullwidth A */
        {"\xef\xbd\xb1", 1},             /* halfwidth katakana a */
        {"\xd7\xa9\xd6\xb8\xd7\x81", 1}, /* a Hebrew letter with its vowel and dot */
        {"\xe0\xa4\xa8\xe0\xa5\x80", 2}, /* Devanagari: a spacing vowel sign */
        {"\xe0\xa4\xa8\xe0\xa5\x81", 1}, /* a vowel sign below its letter */
        {"\xe3\x80\xae", 2},             /* a Hangul tone mark, wide and spacing */
        {"\xce\xbc\xd1\x8f", 2},         /* Greek, Cyrillic */
        {"a\xff"
         "b",
         3}, /* a broken byte takes a column */
    };
    for (unsigned i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_int_equal(text_columns(cases[i].text), cases[i].columns);
}

static void test_columns_are_filled(void **state)
{
    Memory *memory = *state;
    if (setjmp(*trap_set(&memory->trap)) != 0)
        fail_msg("the machine has no memory left");
    static const struct {
        const char *text;
        int columns;
        const char *filled;
    } cases[] = {
        {"foam", 6, "foam  "},
        {"foam", -6, "  foam"},
        {"foam", 3, "foam"},
        {"", 2, "  "},
        {"\xe6\xb7\xb1\xe8\x97\x8d", 6, "\xe6\xb7\xb1\xe8\x97\x8d  "},
        {"gru\xcc\x88n", -6, "  gru\xcc\x88n"},
    };
    for (unsigned i = 0; i < sizeof cases / sizeof *cases; i++) {
        Buffer buffer;
        buffer_start(&buffer, &memory->arena);
        buffer_column(&buffer, cases[i].text, cases[i].columns);
        assert_string_equal(text_in(&buffer), cases[i].filled);
    }
}

/* A buffer keeps all that was put, NUL bytes and long formats too. */
static void test_buffer_grows(void **state)
{
    Memory *memory = *state;
    if (setjmp(*trap_set(&memory->trap)) != 0)
        fail_msg("the machine has no memory left");
    Buffer buffer;
    buffer_start(&buffer, &memory->arena);
    for (int i = 0; i < 3000; i++)
        buffer_format(&buffer, "%04d", i);
    buffer_put(&buffer, "\0x", 2);
    buffer_format(&buffer, "%0500d", 7);
    assert_int_equal(buffer.length, 3000 * 4 + 2 + 500);
    for (int i = 0; i < 3000; i++) {
        char wanted[8];
        snprintf(wanted, sizeof wanted, "%04d", i);
        assert_memory_equal(buffer.bytes + i * 4, wanted, 4);
    }
    assert_memory_equal(buffer.bytes + 12000, "\0x0", 3);
    assert_int_equal(buffer.bytes[buffer.length - 1], '7');
}

/* Switches to a locale that writes a comma for the point: one of the system's, or one made for this test into
 * `folder` from the sources that Debian's package `locales` brings. */
static bool comma_locale(const char *folder)
{
    static const char *const names[] = {"de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8", "nl_NL.UTF-8", "de_DE"};
    for (unsigned i = 0; i < sizeof names / sizeof *names; i++)
        if (setlocale(LC_ALL, names[i]))
            return true;
    char command[256];
    snprintf(command, sizeof command, "localedef -i de_DE -f UTF-8 %s/comma >/dev/null 2>&1", folder);
    return system(command) == 0 && setenv("LOCPATH", folder, 1) == 0 && setlocale(LC_ALL, "comma");
}

static void check_in_comma_locale(Memory *memory)
{
    char by_system[16];
    snprintf(by_system, sizeof by_system, "%.1f", 1.5);
    assert_string_equal(by_system, "1,5"); /* or the rest would prove nothing */
    assert_string_equal(number(memory, 1234567.25, 2), "1234567.25");
    assert_string_equal(show_length(&memory->arena, SYSTEM_IN, 12.35), "31/64 in (0.486 in)");
    assert_string_equal(show_fine(&memory->arena, SYSTEM_MM, 0.15), "0.150 mm");
    assert_string_equal(source_length(&memory->arena, SYSTEM_MM, QUANTITY_WIDTH, 54.27), "54.27 mm");
    assert_string_equal(show_turns(&memory->arena, 2.5), "2.5 turns");
}

static void test_no_locale_changes_a_number(void **state)
{
    Memory *memory = *state;
    if (setjmp(*trap_set(&memory->trap)) != 0)
        fail_msg("the machine has no memory left");
    char folder[] = "/tmp/turnlay-locale-XXXXXX", command[64];
    assert_non_null(mkdtemp(folder));
    bool found = comma_locale(folder);
    snprintf(command, sizeof command, "rm -r %s", folder);
    assert_int_equal(system(command), 0);
    if (!found) {
        print_message("no locale with a decimal comma: install the Debian package locales to run this test\n");
        skip();
    }
    check_in_comma_locale(memory);
}

static int restore_locale(void **state)
{
    setlocale(LC_ALL, "C");
    return end(state);
}

#define TEST(function) cmocka_unit_test_setup_teardown(function, start, end)

/* Two lengths side by side have as many digits as tell them apart, and so has what lies between; of a ruler's
 * parts of an inch decimals, where both are nearest to the same part. */
static void test_lengths_side_by_side(void **state)
{
    Memory *memory = *state;
    if (setjmp(*trap_set(&memory->trap)) != 0)
        fail_msg("the machine has no memory left");
    static const struct {
        UnitSystem system;
        Quantity quantity;
        double one, other;
        const char *words[3];
    } all[] = {
        {SYSTEM_MM, QUANTITY_PLACE, 200, 200.05, {"200 mm", "200.05 mm", "0.05 mm"}},
        {SYSTEM_MM, QUANTITY_PLACE, 200, 200.003, {"200 mm", "200.003 mm", "0.003 mm"}},
        {SYSTEM_MM, QUANTITY_WIDTH, 9, 9.004, {"9.000 mm", "9.004 mm", "0.004 mm"}},
        {SYSTEM_IN, QUANTITY_WIDTH, 0.75 * 25.4, 0.754 * 25.4, {"0.750 in", "0.754 in", "0.004 in"}},
        {SYSTEM_IN, QUANTITY_WIDTH, 0.75 * 25.4, 0.875 * 25.4, {"3/4 in", "7/8 in", "1/8 in"}},
        {SYSTEM_IN, QUANTITY_TOLERANCE, 0.002 * 25.4, 0.004 * 25.4, {"0.002 in", "0.004 in", "0.002 in"}},
        {SYSTEM_IN, QUANTITY_TOLERANCE, 0.1 * 25.4, 0.104 * 25.4, {"0.100 in", "0.104 in", "0.004 in"}},
    };
    for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
        LengthPair shown = show_apart(&memory->arena, all[i].system, all[i].quantity, all[i].one, all[i].other);
        assert_string_equal(shown.one, all[i].words[0]);
        assert_string_equal(shown.other, all[i].words[1]);
        assert_string_equal(shown.apart, all[i].words[2]);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_whole_numbers),
        TEST(test_numbers_for_programs),
        TEST(test_formats_of_any_length),
        TEST(test_numbers),
        TEST(test_thousandths_come_back),
        TEST(test_short_numbers),
        TEST(test_units_are_exact),
        TEST(test_columns_of_scripts),
        TEST(test_columns_are_filled),
        TEST(test_buffer_grows),
        TEST(test_lengths_side_by_side),
        cmocka_unit_test_setup_teardown(test_no_locale_changes_a_number, start, restore_locale),
    };
    return cmocka_run_group_tests_name("printing", tests, NULL, NULL);
}
