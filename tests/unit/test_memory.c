/* Memory that runs out: the Nth request of a whole compilation fails, for N = 1, 2, 3 ... until none is left to
 * fail. Each time the library must say so, and give everything back; tests/hostile/sanitized looks for leaks. */
#include <stdarg.h>
#include <stddef.h>
#include <setjmp.h>
#include <stdint.h>
#include <cmocka.h>

#include "emit/emit.h"
#include "turnlay.h"

#include <string.h>

static const char trims[] =
    "edition 1\n"
    "thread mist { turns: 68 per cm, colour: #9db8d6 }\n"
    "pattern pin(outer: thread, inner: thread) { band 8 turns of outer  band 9 turns of inner  band 8 turns of outer }\n";

static const char sizes[] = "edition 1\nsize A { diameter: 0.15 mm }\n";

static const char rods[] =
    "edition 1\n"
    "use \"trims\"\n"
    "use \"missing\" as nowhere\n"
    "thread navy { turns: 67 per cm, colour: #22346b, stock: 1 m }\n"
    "thread foam { size: A, colour: #dfe9ef }\n"
    "thread dusk { size: A, colours: [#4c6a9c, #9db8d6], period: 3 cm }\n"
    "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
    "guide ring { foot: [14 mm, 12 mm], gap: 6 mm, width: 2 mm, height: 1 mm, ramp: 5 mm, before: 3 mm }\n"
    "rod \"One\" on tube {\n"
    "    at 20 cm { pin(navy, mist)  fade to foam steps: 20  band 40 turns of foam { inlay 2 turns of navy at: 1/3 } }\n"
    "    at 40 cm guide: ring { under { band fill of navy } over { fade fill of [navy, foam, mist] over: 12 turns } }\n"
    "    at 60 cm length: 5 cm { repeat 30 { band fill of navy  band 1 turn of mist } }\n"
    "    at 70 cm length: 5 cm { under { band fill of navy }  diamond crossings: 3 starts: 2 ends: 12 turns of navy {\n"
    "        strand 3 of foam  strand 1 of spacer(navy)  strand 2 of dusk } }\n"
    "}\n";

/* Texts with faults take other ways: findings with words and edits. */
static const char faults[] =
    "use \"trims\"\n"
    "thread navy { turns: 67 per cm, sparkle: yes }\n"
    "thread navy { diameter: 0 mm }\n"
    "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
    "rod \"One\" on tube {\n"
    "    at 20 cm { bnad 20 turns of navy  band 8 of nvay  band (1 turn + 2 mm) of navy }\n"
    "    at 30 cm length: 5 mm { band 20 mm of mist  fade to mist }\n"
    "}\n"
    "rod \"Two\" on tub { at 1 cm { band 0.01 mm of mist }\n";

typedef struct Course {
    Compilation *compilation;
    CompileResult result;
    size_t bytes; /* of all pages together */
} Course;

static void answer(Compilation *compilation, const char *path)
{
    if (strcmp(path, "trims") == 0)
        compilation_give(compilation, "trims.lay", trims, strlen(trims));
    else if (strcmp(path, "std/sizes") == 0)
        compilation_give(compilation, "sizes.lay", sizes, strlen(sizes));
    else
        compilation_refuse(compilation, FINDING_USE_NOT_FOUND, "it is nowhere");
}

/* All pages; false if memory ran out meanwhile. */
static bool put_pages(Course *course)
{
    Compilation *compilation = course->compilation;
    Buffer out;
    if (setjmp(compilation->trap.jump))
        return false;
    buffer_start(&out, &compilation->arena);
    emit_findings_text(&out, &compilation->findings, &compilation->sources, true);
    emit_findings_json(&out, &compilation->findings, &compilation->sources);
    emit_plan_text(&out, compilation->plan);
    if (compilation->bench)
        emit_plan_json(&out, compilation->bench, &compilation->findings);
    emit_plan_csv(&out, compilation->plan);
    if (compilation->bench) {
        emit_need_text(&out, compilation->bench);
        emit_need_json(&out, compilation->bench);
    }
    emit_need_csv(&out, compilation->plan);
    for (View view = VIEW_SIDE; view <= VIEW_UNROLLED; view++)
        if (compilation->plan->rod_count)
            emit_svg(&out, draw_rod(&compilation->arena, compilation->plan, 0, view, 1));
    course->bytes = out.length;
    return true;
}

/* The whole way with the request number fail_at failing; true if it came to its end. */
static bool go(Course *course, const char *text, uint64_t fail_at)
{
    *course = (Course){.compilation = compilation_new(fail_at)};
    if (!course->compilation)
        return false;
    compilation_give(course->compilation, "rods.lay", text, strlen(text));
    for (Want want; (want = compilation_want(course->compilation)).path;)
        answer(course->compilation, want.path);
    course->result = compilation_finish(course->compilation);
    return course->result != COMPILED_OUT_OF_MEMORY && put_pages(course);
}

static void fail_each_request(const char *text, CompileResult expected)
{
    Course whole, course;
    assert_true(go(&whole, text, 0));
    assert_int_equal(whole.result, expected);
    uint64_t requests = whole.compilation->trap.requests;
    assert_true(requests > 3);
    for (uint64_t n = 1; n <= requests; n++) {
        assert_false(go(&course, text, n));
        compilation_free(course.compilation);
    }
    /* With nothing left to fail everything is as before. */
    assert_true(go(&course, text, requests + 1));
    assert_int_equal(course.bytes, whole.bytes);
    assert_int_equal(course.compilation->trap.requests, requests);
    compilation_free(course.compilation);
    compilation_free(whole.compilation);
}

static void every_request_of_a_good_file_may_fail(void **state)
{
    (void)state;
    char good[sizeof rods];
    memcpy(good, rods, sizeof rods);
    /* The line with the file that is not there becomes a comment. */
    memcpy(strstr(good, "use \"missing\""), "//", 2);
    fail_each_request(good, COMPILED);
}

static void every_request_of_a_refused_file_may_fail(void **state)
{
    (void)state;
    fail_each_request(rods, COMPILED_WITH_ERRORS);
}

static void every_request_of_a_faulty_file_may_fail(void **state)
{
    (void)state;
    fail_each_request(faults, COMPILED_WITH_ERRORS);
}

/* Folds often enough that the memory at hand does not do; false if it ran out. */
static bool fold(Compilation *compilation)
{
    Buffer out;
    if (setjmp(compilation->trap.jump))
        return false;
    buffer_start(&out, &compilation->arena);
    for (int i = 0; i < 1000; i++)
        compilation_fold(compilation, &out);
    return true;
}

static void folding_may_fail(void **state)
{
    (void)state;
    static const char text[] = "edition 1\nuse \"trims\"\nblank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
                               "rod \"One\" on tube { at 20 cm { pin(mist, mist) } }\n";
    Course course;
    assert_true(go(&course, text, 0));
    uint64_t before = course.compilation->trap.requests;
    assert_true(fold(course.compilation));
    uint64_t after = course.compilation->trap.requests;
    compilation_free(course.compilation);
    assert_true(after > before);
    for (uint64_t n = before + 1; n <= after; n++) {
        assert_true(go(&course, text, n));
        assert_false(fold(course.compilation));
        compilation_free(course.compilation);
    }
}

static void two_compilations_at_once_do_not_meet(void **state)
{
    (void)state;
    Course first, second;
    assert_true(go(&first, faults, 0));
    assert_true(go(&second, faults, 0));
    assert_int_equal(first.bytes, second.bytes);
    compilation_free(first.compilation);
    compilation_free(second.compilation);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_request_of_a_good_file_may_fail),
        cmocka_unit_test(every_request_of_a_refused_file_may_fail),
        cmocka_unit_test(every_request_of_a_faulty_file_may_fail),
        cmocka_unit_test(folding_may_fail),
        cmocka_unit_test(two_compilations_at_once_do_not_meet),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
