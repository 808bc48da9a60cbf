/* Memory that runs out: the Nth request of a whole compilation fails, for N = 1, 2, 3 ... until none is left to
 * fail. Each time the library must say so, and give everything back; tests/hostile/sanitized looks for leaks. */
#include <stdarg.h>
#include <stddef.h>
#include <setjmp.h>
#include <stdint.h>
#include <cmocka.h>

#include "compilation.h"

#include <math.h>
#include <stdio.h>
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
    "    at 40 cm guide: ring { under { band fill of navy } over { fade fill of [navy, foam, mist] over: 12 turns by: eye } }\n"
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
    TurnlayStatus result;
    size_t bytes; /* of all pages together */
} Course;

static void answer(Compilation *compilation, const char *path)
{
    if (strcmp(path, "trims") == 0)
        turnlay_give(compilation, "trims.lay", trims, strlen(trims));
    else if (strcmp(path, "std/sizes") == 0)
        turnlay_give(compilation, "sizes.lay", sizes, strlen(sizes));
    else
        turnlay_refuse(compilation, NULL, TURNLAY_FILE_NOT_FOUND, "it is nowhere");
}

static TurnlayStatus write_grouped(Compilation *compilation, TurnlayText *page)
{
    turnlay_show_findings(compilation, TURNLAY_SHOW_GROUPED);
    TurnlayStatus status = turnlay_write_findings(compilation, TURNLAY_TEXT, page);
    turnlay_show_findings(compilation, TURNLAY_SHOW_ALL);
    return status;
}

/* Every page there is, in every format. */
static TurnlayStatus write_between(Compilation *compilation, bool drawn, TurnlayText *page)
{
    *page = (TurnlayText){NULL, 0};
    TurnlayStatus status = turnlay_show_between(compilation, "navy", "mist");
    if (status != TURNLAY_DONE && status != TURNLAY_NO_SUCH_THREAD) /* of which the page is that of all threads */
        return status;
    status = drawn ? turnlay_write_shades_drawing(compilation, page)
                   : turnlay_write_shades(compilation, TURNLAY_TEXT, page);
    turnlay_show_between(compilation, NULL, NULL);
    return status;
}

static TurnlayStatus write_kept(Compilation *compilation, TurnlayText *page)
{
    uint32_t left;
    return turnlay_write_kept(compilation, page, &left);
}

enum { PAGES = 25, FINDINGS = 4 };
static TurnlayStatus write_page(Compilation *compilation, int number, TurnlayText *page)
{
    switch (number) {
    case 0: return turnlay_write_findings(compilation, TURNLAY_TEXT, page);
    case 1: return turnlay_write_findings(compilation, TURNLAY_TERMINAL, page);
    case 2: return turnlay_write_findings(compilation, TURNLAY_JSON, page);
    case 3: return write_grouped(compilation, page);
    case 4: return turnlay_write_plan(compilation, TURNLAY_TEXT, page);
    case 5: return turnlay_write_plan(compilation, TURNLAY_JSON, page);
    case 6: return turnlay_write_plan(compilation, TURNLAY_CSV, page);
    case 7: return turnlay_write_need(compilation, TURNLAY_TEXT, page);
    case 8: return turnlay_write_need(compilation, TURNLAY_JSON, page);
    case 9: return turnlay_write_need(compilation, TURNLAY_CSV, page);
    case 10: return turnlay_write_sheet(compilation, TURNLAY_TEXT, 1, page);
    case 11: return turnlay_write_sheet(compilation, TURNLAY_HTML, 1, page);
    case 12: return turnlay_write_drawing(compilation, 0, TURNLAY_SIDE, 1, NAN, page);
    case 13: return turnlay_write_drawing(compilation, 0, TURNLAY_UNROLLED, 2, NAN, page);
    case 14: return turnlay_write_template(compilation, 0, page);
    case 15: return turnlay_write_drawing(compilation, 0, TURNLAY_ROD, 1, NAN, page);
    case 16: return turnlay_write_drawing(compilation, 0, TURNLAY_PRESENTATION, 1, 30, page);
    case 17: return turnlay_write_sheet(compilation, TURNLAY_JSON, 1, page);
    case 18: return turnlay_write_shades(compilation, TURNLAY_JSON, page);
    case 19: return turnlay_write_shades_drawing(compilation, page);
    case 20: return write_between(compilation, false, page);
    case 21: return write_between(compilation, true, page);
    case 22: return turnlay_write_gathered(compilation, page);
    case 23: return write_kept(compilation, page);
    default: return turnlay_write_drawing(compilation, 0, TURNLAY_EYE, TURNLAY_EYE_SCALE, NAN, page);
    }
}

/* All pages, and every finding; false if memory ran out meanwhile, and then no page is left half made. Only
 * findings are to be had of a text with errors. */
static bool put_pages(Course *course)
{
    TurnlayText page;
    TurnlayFinding finding;
    TurnlayStatus status = TURNLAY_DONE;
    for (uint32_t i = 0; status == TURNLAY_DONE; i++)
        status = turnlay_finding(course->compilation, i, &finding);
    if (status == TURNLAY_OUT_OF_MEMORY)
        return false;
    assert_int_equal(status, TURNLAY_WRONG_VALUE); /* behind the last one */
    for (int number = 0; number < PAGES; number++) {
        status = write_page(course->compilation, number, &page);
        if (status != TURNLAY_DONE) {
            assert_null(page.bytes);
            assert_int_equal(page.length, 0);
        }
        if (status == TURNLAY_OUT_OF_MEMORY) {
            assert_int_equal(write_page(course->compilation, 0, &page), TURNLAY_OUT_OF_MEMORY);
            return false;
        }
        assert_int_equal(status, number < FINDINGS ? TURNLAY_DONE : course->result);
        assert_true(status != TURNLAY_DONE || page.bytes[page.length] == 0);
        course->bytes += page.length;
        turnlay_text_free(&page);
    }
    return true;
}

/* Records that are given, where they are. */
static const char *own_record, *other_record;

/* The whole way with the request number fail_at failing; true if it came to its end. */
static bool go(Course *course, const char *text, uint64_t fail_at)
{
    *course = (Course){.compilation = compilation_new(fail_at)};
    if (!course->compilation)
        return false;
    turnlay_give(course->compilation, "rods.lay", text, strlen(text));
    for (TurnlayWant want; (want = turnlay_want(course->compilation)).path;)
        answer(course->compilation, want.path);
    turnlay_swap(course->compilation, "navy", "#123456");
    if (own_record)
        turnlay_record(course->compilation, "own.json", own_record, strlen(own_record));
    if (other_record)
        turnlay_learn_from(course->compilation, "other.json", other_record, strlen(other_record));
    course->result = turnlay_finish(course->compilation);
    return course->result != TURNLAY_OUT_OF_MEMORY && put_pages(course);
}

static void fail_each_request(const char *text, TurnlayStatus expected)
{
    Course whole, course;
    assert_true(go(&whole, text, 0));
    assert_int_equal(whole.result, expected);
    uint64_t requests = whole.compilation->trap.requests;
    assert_true(requests > 3);
    for (uint64_t n = 1; n <= requests; n++) {
        assert_false(go(&course, text, n));
        turnlay_free(course.compilation);
    }
    /* With nothing left to fail everything is as before. */
    assert_true(go(&course, text, requests + 1));
    assert_int_equal(course.bytes, whole.bytes);
    assert_int_equal(course.compilation->trap.requests, requests);
    turnlay_free(course.compilation);
    turnlay_free(whole.compilation);
}

static void every_request_of_a_good_file_may_fail(void **state)
{
    (void)state;
    char good[sizeof rods];
    memcpy(good, rods, sizeof rods);
    /* The line with the file that is not there becomes a comment. */
    memcpy(strstr(good, "use \"missing\""), "//", 2);
    fail_each_request(good, TURNLAY_DONE);
}

/* What happened by the record plans all again; the other one teaches, and names a thread that is not there. */
static void every_request_with_records_may_fail(void **state)
{
    (void)state;
    static const char text[] =
        "edition 1\n"
        "thread navy { turns: 67 per cm }\n"
        "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
        "rod \"One\" on tube { at 20 cm length: 20 mm { band fill of navy }\n"
        "    at 40 cm length: 5 cm { diamond crossings: 3 ends: 12 turns of navy { strand 2 of navy } } }\n";
    static const char other[] =
        "{\"turnlay\": \"record 1\", \"pattern\": \"0000-0000-0000\", \"title\": \"Tarn\", \"happened\": ["
        "{\"step\": 5, \"width\": 45.4, \"wrap\": 1, \"made\": [{\"thread\": \"navy\", \"nominal_turn\": 0.15, \"turns\": "
        "300}]}, {\"step\": 6, \"width\": 9, \"wrap\": 2, \"made\": [{\"thread\": \"plum\", \"nominal_turn\": 0.15, "
        "\"turns\": 60}]}]}";
    Course plain;
    assert_true(go(&plain, text, 0));
    char own[600];
    snprintf(
        own, sizeof own,
        "{\"turnlay\": \"record 1\", \"pattern\": \"%s\", \"at\": 6, \"sheet\": 1, \"happened\": [{\"step\": 5, "
        "\"width\": 18.1}, {\"step\": 6, \"mishap\": \"broke\", \"turns\": 1, \"sheet\": 0}], \"lots\": [{\"thread\": "
        "\"navy\", \"lot\": \"7\"}, {\"thread\": \"plum\", \"lot\": \"8\"}], \"notes\": [{\"step\": 5, \"text\": "
        "\"tight\", \"date\": \"in March\"}]}",
        pattern_mark(&plain.compilation->arena, plain.compilation->job->pattern_hash));
    turnlay_free(plain.compilation);
    own_record = own;
    other_record = other;
    fail_each_request(text, TURNLAY_DONE);
    own_record = other_record = NULL;
}

static void every_request_of_a_refused_file_may_fail(void **state)
{
    (void)state;
    fail_each_request(rods, TURNLAY_HAS_ERRORS);
}

static void every_request_of_a_faulty_file_may_fail(void **state)
{
    (void)state;
    fail_each_request(faults, TURNLAY_HAS_ERRORS);
}

static void two_compilations_at_once_do_not_meet(void **state)
{
    (void)state;
    Course first, second;
    assert_true(go(&first, faults, 0));
    assert_true(go(&second, faults, 0));
    assert_int_equal(first.bytes, second.bytes);
    turnlay_free(first.compilation);
    turnlay_free(second.compilation);
}

#ifdef ARENA_GUARDED
/* Built with the address sanitizer, what is not taken, or given back, cannot be used unnoticed. */
static void what_is_not_taken_is_out_of_bounds(void **state)
{
    (void)state;
    Trap trap = {0};
    Arena arena;
    arena_start(&arena, &trap);
    char *first = arena_take(&arena, 24), *second = arena_take(&arena, 1);
    char *grown = arena_grow(&arena, arena_grow(&arena, NULL, 0, 4, 8), 4, 8, 8);
    assert_null(__asan_region_is_poisoned(first, 24));
    assert_null(__asan_region_is_poisoned(grown, 64));
    assert_true(__asan_address_is_poisoned(first + 24));
    assert_true(__asan_address_is_poisoned(second + 1));
    assert_true(__asan_address_is_poisoned(second + 2 * ARENA_ALIGNMENT)); /* what grew */
    assert_true(__asan_address_is_poisoned(grown + 64));
    arena_clear(&arena);
    assert_true(__asan_address_is_poisoned(first));
    assert_ptr_equal(arena_take(&arena, 24), first);
    assert_int_equal(first[23], 0);
    arena_end(&arena);
}
#endif

int main(void)
{
    const struct CMUnitTest tests[] = {
#ifdef ARENA_GUARDED
        cmocka_unit_test(what_is_not_taken_is_out_of_bounds),
#endif
        cmocka_unit_test(every_request_of_a_good_file_may_fail),
        cmocka_unit_test(every_request_with_records_may_fail),
        cmocka_unit_test(every_request_of_a_refused_file_may_fail),
        cmocka_unit_test(every_request_of_a_faulty_file_may_fail),
        cmocka_unit_test(two_compilations_at_once_do_not_meet),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
