/* Which file is meant by a path that names none. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "base/arena.h"
#include "in_memory.h"
#include "meaning/std_names.h"

static void assert_same(const char *got, const char *wanted, const char *path)
{
    if (!got != !wanted || (got && strcmp(got, wanted) != 0))
        fail_msg("%s: %s, not %s", path, got ? got : "none", wanted ? wanted : "none");
}

static void test_path_that_is_meant(void **state)
{
    Memory *memory = *state;
    if (setjmp(*trap_set(&memory->trap)) != 0)
        fail_msg("the machine has no memory left");
    static const char *const paths[][2] = {
        {"shop", NULL},
        {"shop.lay", "shop"},
        {"shop.txt", "shop"},
        {"shop.threads", "shop/threads"},
        {"Shop", "shop"},
        {"shop/threads", NULL},
        {"shop/threads.lay", "shop/threads"},
        {"shop/threads.csv", "shop/threads"},
        {"shop\\threads", "shop/threads"},
        {"./shop", "shop"},
        {"/shop", "shop"},
        {"//shop", "shop"},
        {"././Shop.LAY", "shop"},
        {"../shop", NULL},
        {"shop/../other.lay", NULL},
        {".shop/threads", NULL},
        {"shop.old/threads", NULL},
        {"", NULL},
        {"/", NULL},
        {".lay", NULL},
    };
    for (size_t i = 0; i < sizeof paths / sizeof *paths; i++)
        assert_same(path_meant(&memory->arena, paths[i][0]), paths[i][1], paths[i][0]);
}

/* Of the library a file one or two letters off is meant, of others only one of just that name. */
static void test_file_of_the_library(void **state)
{
    (void)state;
    static const char *const paths[][2] = {
        {"trims", "std/trims"},
        {"Trims.lay", "std/trims"},
        {"shelf/trims", "std/trims"},
        {"c:\\files\\trims.lay", "std/trims"},
        {"trim", NULL},
        {"std/trim", "std/trims"},
        {"std/tri", NULL},
        {"std/tp", "std/tip"},
        {"std/trmis.lay", "std/trims"},
        {"std:trims", "std/trims"},
        {"std/", NULL},
        {"std/fo", NULL},
        {"std/foo", "std/foot"},
        {"std/a_name_longer_than_any_file_has", NULL},
    };
    for (size_t i = 0; i < sizeof paths / sizeof *paths; i++)
        assert_same(std_file_named(paths[i][0]), paths[i][1], paths[i][0]);
}

static void test_file_that_declares(void **state)
{
    (void)state;
    assert_same(std_file_with("pinstripe", true), "std/trims", "pinstripe");
    assert_null(std_file_with("pinstripe", false));
    assert_null(std_file_with("nobody", true));
    for (const StdName *one = std_names; one->file; one++)
        assert_non_null(std_file_with(one->name, one->pattern));
}

#define TEST(function) cmocka_unit_test_setup_teardown(function, start, end)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_path_that_is_meant),
        TEST(test_file_of_the_library),
        TEST(test_file_that_declares),
    };
    return cmocka_run_group_tests_name("used paths", tests, NULL, NULL);
}
