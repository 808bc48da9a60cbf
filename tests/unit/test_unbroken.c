/* Where a line may end, and where not. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdbool.h>
#include <string.h>

#include <cmocka.h>

#include "base/unbroken.h"
#include "emit/html_page.h"
#include "in_memory.h"

/* `|` where a line may end, a blank where not. */
static const char *const cases[] = {
    "ends|52.99 mm|on:|mark|that|too.",
    "ends|7 1/8 in|on",
    "7 1/8 in|(7.132 in)|from|the|mark",
    "is|it|3/4 in,|or|1/64 in;|or|12 turns.",
    "at|12.30 to 12.50 mm|wide",
    "for|12 1/2 to 13 in|of|it",
    "15.00 mm|+- 0.30 mm|(0.012 in)",
    "+- 1/64 in",
    "cut|4 yd 3 1/2 in|long",
    "7 ft 2 in|and|6 ft",
    "5|in|the|band,|6|in|the|wrap;|6 o'clock,|the|ring|at|12",
    "after|turn|40|of|the|wrap",
    "43 deg|(1:26)|to|220 deg|(7:20)",
    "by|30 %|or|1.0 ml|of|finish",
    "Lay|the|end|toward|the|tip|to|your|right:|next|6 turns|hold|it.",
    "in|1,|out|4;|in|2,|out|3",
    "wound|to|12|times|and|yd|3",
    "a|dot.|12 mm",
    "12|metres|12|mmm|of",
    "",
    "mm",
    "12",
};

/* With `|` read as a blank. */
static void spelled(const char *text, char *out)
{
    for (; *text; text++)
        *out++ = *text == '|' ? ' ' : *text;
    *out = 0;
}

static void test_words_of_a_line(void **state)
{
    (void)state;
    for (unsigned i = 0; i < sizeof cases / sizeof *cases; i++) {
        char text[128];
        spelled(cases[i], text);
        const char *wanted = cases[i];
        for (const char *word = text; *word;) {
            size_t length = unbroken_length(word);
            assert_int_equal(length, strcspn(wanted, "|"));
            word += length + (word[length] == ' ');
            wanted += length + (wanted[length] == '|');
        }
    }
}

static void test_a_count_in_something_is_no_inch(void **state)
{
    (void)state;
    assert_int_equal(unbroken_length("5 in the band"), 1);
    assert_int_equal(unbroken_length("5 in then"), 4);
    assert_int_equal(unbroken_length("5 in"), 4);
}

/* What stands in a page of HTML. */
static void expect_html(Memory *memory, const char *text, const char *html)
{
    Buffer out;
    buffer_start(&out, &memory->arena);
    html_unbroken(&out, text);
    buffer_put(&out, "", 1);
    assert_string_equal(out.bytes, html);
}

/* The text is the same but for its blanks. */
static void test_no_break_spaces(void **state)
{
    Memory *memory = *state;
    if (setjmp(*trap_set(&memory->trap)) != 0)
        fail_msg("the machine has no memory left");
    expect_html(memory, "ends 7 1/8 in on, to 12.30 to 12.50 mm",
                "ends 7\xc2\xa0"
                "1/8\xc2\xa0in on, to 12.30\xc2\xa0to\xc2\xa0"
                "12.50\xc2\xa0mm");
    expect_html(memory, "  two  blanks  12 mm  ", "  two  blanks  12\xc2\xa0mm  ");
    expect_html(memory, "nothing to hold together", "nothing to hold together");
    expect_html(memory, "3 mm < 4 mm & \"6 in\"", "3\xc2\xa0mm &lt; 4\xc2\xa0mm &amp; &quot;6 in&quot;");
}

#define TEST(function) cmocka_unit_test_setup_teardown(function, start, end)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_words_of_a_line),
        TEST(test_a_count_in_something_is_no_inch),
        TEST(test_no_break_spaces),
    };
    return cmocka_run_group_tests_name("unbroken", tests, NULL, NULL);
}
