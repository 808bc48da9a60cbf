/* What base gives where there is nothing to give. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "base/line_map.h"
#include "in_memory.h"

/* Where no source is, nothing has a line. */
static void test_no_lines(void **state)
{
    Arena *arena = &((Memory *)*state)->arena;
    const Span span = {3, 5, 0};
    assert_int_equal(line_map_line(NULL, span), 0);
    assert_int_equal(line_map_line(line_map_make(arena, NULL), span), 0);
    Sources none = {.list = {0}};
    assert_int_equal(line_map_line(line_map_make(arena, &none), span), 0);
    Source *one = arena_take(arena, sizeof *one);
    memset(one, 0, sizeof *one);
    one->bytes = "a\nbc\n";
    one->length = 5;
    Sources all = none;
    *LIST_ADD(arena, &all.list) = *one;
    LineMap *map = line_map_make(arena, &all);
    assert_int_equal(line_map_line(map, span), 2);
    assert_int_equal(line_map_line(map, (Span){0, 1, 0}), 1);
    assert_int_equal(line_map_line(map, (Span){0, 0, 0}), 0);
    assert_int_equal(line_map_line(map, (Span){3, 5, 1}), 0);
}

#define TEST(function) cmocka_unit_test_setup_teardown(function, start, end)

int main(void)
{
    const struct CMUnitTest tests[] = {TEST(test_no_lines)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
