/* The way out of a fade that shows a line (T508): the shades that the verb `shades` names, and after it no line.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "compilation.h"
#include "plan/shades.h"
#include "trade/eye.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static Compilation *compile(const char *bench, const char *threads, const char *place)
{
    static char text[1 << 16];
    int length = snprintf(text, sizeof text,
                          "edition 1\nbench { carry: 1 turn, %s }\n%s"
                          "blank tube { colour: #3f4a2b, at 0 mm: 12 mm  at 1000 cm: 4 mm }\n"
                          "rod \"R\" on tube { at 30 cm { %s } }",
                          bench, threads, place);
    Compilation *compilation = compilation_new(0);
    turnlay_give(compilation, "test.lay", text, (size_t)length);
    while (turnlay_want(compilation).path)
        turnlay_refuse(compilation, NULL, TURNLAY_FILE_NOT_FOUND, "nowhere");
    if (turnlay_finish(compilation) != TURNLAY_DONE)
        fail_msg("%s: %s", compilation->findings.list.items[0].message, place);
    return compilation;
}

static const Finding *line_of(const Compilation *c)
{
    for (uint32_t i = 0; i < c->findings.list.count; i++)
        if (c->findings.list.items[i].code == FINDING_FADE_SHOWS_A_LINE)
            return &c->findings.list.items[i];
    return NULL;
}

#define THREAD(name, colour) "thread " name " { turns: 10 per 1.5 mm, colour: " colour " }\n"
#define ENDS THREAD("peat", "#3b2418") THREAD("amber", "#d69a2d")
#define FADE(how) "band 30 turns of peat  fade to amber " how "  band 30 turns of amber"
#define OR ", or, where a line may show, write"

/* Where the mend is that of the file's first two threads, up to the second way out. */
static void test_what_is_said(void **state)
{
    (void)state;
    static const struct {
        const char *bench, *threads, *place, *mend;
    } cases[] = {
        {"", ENDS, FADE("over: 40 turns"), "put a shade near #805a1f between peat and amber" OR},
        {"", ENDS, FADE("over: 40 turns by: eye"), "put a shade near #805a1f between peat and amber" OR},
        {"", ENDS, FADE("over: 39 turns"),
         "put a shade near #805a1f between peat and amber, and fade to each in 4 steps" OR},
        {"jump: 1.5", ENDS, FADE("over: 80 turns"),
         "put shades near #5b3d1b, #805a1f and #a97925 between peat and amber" OR},
        {"jump: 2", ENDS, FADE("over: 59 turns"),
         "put shades near #67461c and #9b6e23 between peat and amber, and fade to each in 4 steps" OR},
        {"jump: 0.1", ENDS, FADE("over: 80 turns"),
         "put more than 7 shades, one near #805a1f halfway between peat and amber" OR},
        /* threads of the file first */
        {"", ENDS THREAD("nut", "#805a1f") THREAD("fog", "#ffffff"), FADE("over: 40 turns"),
         "fade to nut first, which lies between" OR},
        {"", ENDS THREAD("nut", "#805a1f"), FADE("over: 36 turns"),
         "fade to nut first, which lies between, and fade to each in 4 steps" OR},
        {"", ENDS THREAD("nut", "#806020") "thread grey { turns: 10 per 1.5 mm }\n", FADE("over: 40 turns"),
         "fade to nut first, which lies between" OR},
        {"jump: 2", ENDS THREAD("tan", "#9c6e25") THREAD("nut", "#67471d"), FADE("over: 60 turns"),
         "fade to nut and tan first, which lie between" OR},
        {"jump: 1.5", ENDS THREAD("nut", "#5b3f1c"), FADE("over: 80 turns"),
         "fade to nut first, which lies between, and put shades near #805b20 and #aa7926 between nut and amber" OR},
        {"jump: 1.5", ENDS THREAD("nut", "#805a1f"), FADE("over: 80 turns"),
         "fade to nut first, which lies between, and put a shade near #5b3d1b between peat and nut, and a shade near #a97925 between nut and amber" OR},
        /* no more of them than are needed */
        {"", ENDS THREAD("nut", "#805a1f") THREAD("tan", "#9c6e25") THREAD("bark", "#5b3d1b"),
         FADE("over: 40 turns"), "fade to tan first, which lies between" OR},
        {"jump: 2",
         ENDS THREAD("tan", "#9b6e23") THREAD("bark", "#5b3d1b") THREAD("nut", "#67461c")
             THREAD("corn", "#c08830"),
         FADE("over: 60 turns"), "fade to nut and tan first, which lie between" OR},
        /* two that melt by heart */
        {"", THREAD("peat", "#3b2418") THREAD("amber", "#80591f"), FADE("steps: 1"), "fade in 4 steps" OR},
        {"", THREAD("peat", "#3b2418") THREAD("amber", "#80591f"), FADE("runs: [in 20 out 20]"),
         "fade in 4 steps" OR},
        {"", THREAD("peat", "#3b2418") THREAD("amber", "#80591f") THREAD("nut", "#5b3f1c"),
         FADE("runs: [in 20 out 20]"), "fade in 4 steps" OR},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Compilation *made = compile(cases[i].bench, cases[i].threads, cases[i].place);
        const Finding *line = line_of(made);
        if (!line || strncmp(line->mend, cases[i].mend, strlen(cases[i].mend)))
            print_error("case %u: %s\n", (unsigned)i, line ? line->mend : "no line");
        assert_non_null(line);
        assert_memory_equal(line->mend, cases[i].mend, strlen(cases[i].mend));
        assert_true(line->has_edit);
        turnlay_free(made);
    }
}

/* --- the same as the verb says, and with it no line is left --- */

static unsigned seed = 1;
static unsigned any(unsigned count) { return (seed = seed * 1103515245 + 12345) / 65536 % 32768 % count; }
static unsigned any_colour(void) { return any(256) << 16 | any(256) << 8 | any(256); }

static const ShadeStep *asked_of_the_verb(Arena *arena, const Compilation *made)
{
    uint32_t uncoloured;
    const Bench *bench = &made->job->bench;
    ShadesTask task = {.alike = bench->alike, .jump = bench->jump, .blur = eye_blur(bench->sight, bench->far)};
    task.threads = threads_to_choose(arena, made->job, &task.count, &uncoloured);
    task.from = task.threads[0];
    task.to = task.threads[1];
    const Shades *shades = shades_make(arena, &task);
    assert_int_equal(shades->step_count, 1);
    return shades->steps;
}

/* The words name all of them, in order, and no other. */
static void assert_named(const char *mend, const ShadeStep *step)
{
    for (uint32_t i = 0; i < step->missing_count; i++) {
        char named[8];
        snprintf(named, sizeof named, "#%06x", (unsigned)step->missing[i]);
        mend = strchr(mend, '#');
        assert_non_null(mend);
        assert_memory_equal(mend, named, 7);
        mend++;
    }
    assert_null(strchr(mend, '#'));
}

/* A thousandth of a colour's parts is lost where it is written in whole numbers. */
static void assert_mended(const char *ends, const ShadeStep *step)
{
    char threads[2000], place[2000];
    int thread_length = snprintf(threads, sizeof threads, "%s", ends),
        place_length = snprintf(place, sizeof place, "band 30 turns of peat ");
    for (uint32_t i = 0; i < step->missing_count; i++) {
        thread_length += snprintf(threads + thread_length, sizeof threads - (size_t)thread_length,
                                  "thread s%u { turns: 10 per 1.5 mm, colour: #%06x }\n", (unsigned)i,
                                  (unsigned)step->missing[i]);
        place_length += snprintf(place + place_length, sizeof place - (size_t)place_length,
                                 "fade to s%u steps: 4 ", (unsigned)i);
    }
    snprintf(place + place_length, sizeof place - (size_t)place_length,
             "fade to amber steps: 4 band 30 turns of amber");
    Compilation *made = compile("jump: 3.05", threads, place);
    const Finding *line = line_of(made);
    if (line)
        print_error("%s: %s, %s\n", place, line->message, line->at.label);
    assert_null(line);
    turnlay_free(made);
}

static void test_as_the_verb_says(void **state)
{
    (void)state;
    Trap trap;
    Arena arena;
    arena_start(&arena, &trap);
    assert_int_equal(setjmp(*trap_set(&trap)), 0);
    uint32_t named[MOST_MISSING + 1] = {0};
    for (int round = 0; round < 300; round++) {
        char ends[300];
        snprintf(ends, sizeof ends,
                 "thread peat { turns: 10 per 1.5 mm, colour: #%06x }\n"
                 "thread amber { turns: 10 per 1.5 mm, colour: #%06x }\n",
                 any_colour(), any_colour());
        Compilation *made = compile("jump: 3", ends, FADE("steps: 4"));
        const ShadeStep *step = asked_of_the_verb(&arena, made);
        const Finding *line = line_of(made);
        assert_int_equal(line != NULL, !step->melts);
        if (line && step->enough) {
            assert_named(line->mend, step);
            assert_mended(ends, step);
            named[step->missing_count]++;
        }
        turnlay_free(made);
    }
    assert_true(named[1] > 10 && named[2] > 10);
    arena_end(&arena);
}

/* --- rare ways --- */

/* Where widths differ a fade in 4 steps may show a line that the fade by heart shows not quite. */
static void test_just_not_by_heart(void **state)
{
    (void)state;
    static const char threads[] = "thread peat { turns: 10 per 1.9 mm, colour: #3b2418 }\n"
                                  "thread amber { turns: 10 per 1.2 mm, colour: #d69a2d }\n";
    Trap trap;
    Arena arena;
    arena_start(&arena, &trap);
    assert_int_equal(setjmp(*trap_set(&trap)), 0);
    Compilation *made = compile("", threads, FADE("steps: 4"));
    double by_heart = asked_of_the_verb(&arena, made)->jump;
    turnlay_free(made);
    char bench[40];
    snprintf(bench, sizeof bench, "jump: %.3f", by_heart + 0.001);
    static const struct {
        const char *how, *mend;
    } cases[] = {
        {"steps: 4", "put a shade near #805a1f between peat and amber" OR},
        {"steps: 5", "fade in 4 steps" OR},
        {"steps: 4 by: eye", "fade in 4 steps" OR},
        {"runs: [in 1 out 30, in 30 out 1]", "fade in 4 steps" OR},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char place[200];
        snprintf(place, sizeof place, "band 30 turns of peat fade to amber %s band 30 turns of amber",
                 cases[i].how);
        made = compile(bench, threads, place);
        const Finding *line = line_of(made);
        if (!line)
            print_error("case %u: no line above %s\n", (unsigned)i, bench);
        assert_non_null(line);
        if (strncmp(line->mend, cases[i].mend, strlen(cases[i].mend)))
            print_error("case %u: %s\n", (unsigned)i, line->mend);
        assert_memory_equal(line->mend, cases[i].mend, strlen(cases[i].mend));
        turnlay_free(made);
    }
    arena_end(&arena);
}

/* So many lie between that the verb is to be asked. */
static void test_many_between(void **state)
{
    (void)state;
    for (int many = 0; many < 2; many++) {
        char threads[1 << 14];
        int length =
            snprintf(threads, sizeof threads, "%s%s", THREAD("peat", "#000000"), THREAD("amber", "#ffffff"));
        for (int i = 1; i < 16 * (many ? 5 : 1); i++)
            length += snprintf(threads + length, sizeof threads - (size_t)length,
                               "thread g%d { turns: 10 per 1.5 mm, colour: #%02x%02x%02x }\n", i,
                               many ? 16 + i * 14 / 5 : i * 16, many ? 16 + i * 14 / 5 : i * 16,
                               many ? 16 + i * 14 / 5 : i * 16);
        Compilation *made = compile(many ? "alike: 1" : "alike: 1, jump: 0.6", threads, FADE("steps: 4"));
        const Finding *line = line_of(made);
        assert_non_null(line);
        static const char wanted[] = "fade through the shades that `turnlay shades --between peat,amber` names" OR;
        if (strncmp(line->mend, wanted, strlen(wanted)))
            print_error("%s\n", line->mend);
        assert_memory_equal(line->mend, wanted, strlen(wanted));
        turnlay_free(made);
    }
}

/* Of many fades the first are told so: the others cost no more than they did. */
static void test_many_fades(void **state)
{
    (void)state;
    Compilation *made = compile("", ENDS,
                                "band 20 turns of peat fade to amber steps: 4 fade to peat steps: 4 "
                                "fade to amber steps: 4 fade to peat steps: 4 fade to amber steps: 4 "
                                "fade to peat steps: 4 fade to amber steps: 4 band 20 turns of amber");
    int lines = 0;
    for (uint32_t i = 0; i < made->findings.list.count; i++) {
        const Finding *line = &made->findings.list.items[i];
        if (line->code != FINDING_FADE_SHOWS_A_LINE)
            continue;
        const char *wanted = ++lines <= 4 ? "put a shade near #805a1f between "
                             : lines % 2
                                 ? "fade through the shades that `turnlay shades --between peat,amber` names" OR
                                 : "fade through the shades that `turnlay shades --between amber,peat` names" OR;
        assert_memory_equal(line->mend, wanted, strlen(wanted));
        assert_true(line->has_edit);
    }
    assert_int_equal(lines, 7);
    turnlay_free(made);
}

/* Of a fade whose option is wrong nothing more is said: mended, it looks otherwise. */
static void test_what_is_wrong_comes_first(void **state)
{
    (void)state;
    static const struct {
        const char *how;
        int lines;
    } cases[] = {{"over: 36 turns by: eyes", 0}, {"over: 36 turns steps: 3", 0}, {"over: 36 turns by: count", 1}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char text[600];
        int length =
            snprintf(text, sizeof text,
                     "edition 1\n%s%sblank tube { at 0 mm: 12 mm  at 1000 cm: 4 mm }\nrod \"R\" on tube { at "
                     "30 cm { band 30 turns of peat fade to amber %s band 30 turns of amber } }",
                     THREAD("peat", "#3b2418"), THREAD("amber", "#d69a2d"), cases[i].how);
        Compilation *made = compilation_new(0);
        turnlay_give(made, "test.lay", text, (size_t)length);
        turnlay_finish(made);
        assert_int_equal(line_of(made) != NULL, cases[i].lines);
        assert_int_equal(made->findings.errors == 0, cases[i].lines);
        turnlay_free(made);
    }
}

/* What shows through counts: as it lies there, not as it is on its spool. */
static void test_seen_through(void **state)
{
    (void)state;
    Compilation *made = compile("jump: 2",
                                "thread peat { turns: 10 per 1.5 mm, colour: #000000, opacity: 50 % }\n"
                                "thread amber { turns: 10 per 1.5 mm, colour: #ffffff, opacity: 50 % }\n",
                                FADE("over: 80 turns"));
    static const char wanted[] = "put shades near #565a50 and #898c86 as they lie here between peat and amber" OR;
    const Finding *line = line_of(made);
    assert_non_null(line);
    if (strncmp(line->mend, wanted, strlen(wanted)))
        print_error("%s\n", line->mend);
    assert_memory_equal(line->mend, wanted, strlen(wanted));
    turnlay_free(made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_what_is_said),      cmocka_unit_test(test_as_the_verb_says),
        cmocka_unit_test(test_just_not_by_heart), cmocka_unit_test(test_many_between),
        cmocka_unit_test(test_many_fades),        cmocka_unit_test(test_what_is_wrong_comes_first),
        cmocka_unit_test(test_seen_through),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
