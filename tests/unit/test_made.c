/* What is made of a layer lies where it was measured; what is to come goes by it. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "compilation.h"
#include "near.h"
#include "plan/measurings.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_MEASURED = 4 };

/* One layer of 45 mm; widths that were measured of it, and how it is planned with them. */
typedef struct Trial {
    Compilation *compilation;
    MeasuredWidth given[MOST_MEASURED];
    Findings findings;
    const PlannedLayer *layer;
} Trial;

static Trial *tried(const char *layer)
{
    char text[1000];
    snprintf(
        text, sizeof text,
        "edition 1\nthread navy { diameter: 0.15 mm }\nthread mist { diameter: 0.15 mm }\n"
        "thread foam { diameter: 0.3 mm }\nthread doubt { diameter: 0.15 mm, uncertainty: 10 %% }\n"
        "thread believed { diameter: 0.15 mm, uncertainty: 9.9 %% }\nblank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
        "rod \"A\" on tube { at 20 cm length: 45 mm { %s } }\n",
        layer);
    Trial *trial = calloc(1, sizeof *trial);
    Compilation *made = trial->compilation = compilation_new(0);
    assert_non_null(made);
    assert_int_equal(turnlay_give(made, "tried.lay", text, strlen(text)), TURNLAY_DONE);
    assert_null(turnlay_want(made).path);
    assert_int_equal(turnlay_finish(made), TURNLAY_DONE);
    trial->layer = &made->plan->rods[0].places[0].layers[0];
    return trial;
}

/* After `turn` turns of the sheet, which are `made` ones. */
static void measured(Trial *trial, uint64_t turn, uint64_t made, double width)
{
    Job *job = trial->compilation->job;
    assert_true(job->measured.count < MOST_MEASURED);
    trial->given[job->measured.count++] =
        (MeasuredWidth){.turn = turn, .made = made, .width = width, .sure = true};
    job->measured.items = trial->given;
    Arena *arena = &trial->compilation->arena;
    if (setjmp(*trap_set(&trial->compilation->trap)) != 0)
        fail_msg("the machine has no memory left");
    findings_start(&trial->findings, arena);
    trial->findings.forgiving = true;
    trial->layer = &plan_make(arena, job, &trial->findings)->rods[0].places[0].layers[0];
    assert_true(trial->layer->laid);
    assert_int_equal(trial->findings.errors, 0);
}

static void end(Trial *trial)
{
    turnlay_free(trial->compilation);
    free(trial);
}

/* Turns up to the run's end, and its end from the layer's start. */
static uint64_t turns_to(const PlannedLayer *layer, uint32_t run)
{
    uint64_t turns = 0;
    for (uint32_t i = 0; i <= run; i++)
        turns += layer->runs[i].turns;
    return turns;
}

/* Where so many turns end: a run does there. */
static double end_of(const PlannedLayer *layer, uint64_t turn)
{
    for (uint32_t i = 0; i < layer->run_count; i++)
        if (layer->runs[i].turns && turns_to(layer, i) == turn)
            return layer->runs[i].end - layer->start;
    fail_msg("no run ends with turn %u", (unsigned)turn);
    return NAN;
}

static const Finding *told(const Trial *trial, FindingCode code)
{
    for (uint32_t i = 0; i < trial->findings.list.count; i++)
        if (trial->findings.list.items[i].code == code)
            return &trial->findings.list.items[i];
    return NULL;
}

/* Two turns more than asked for lie there; the fill has two fewer. */
static void test_turns_counted_otherwise(void **state)
{
    (void)state;
    Trial *trial = tried("band 60 turns of navy band fill of mist");
    assert_int_equal(trial->layer->items[1].turns, 240);
    measured(trial, 60, 62, 9.3);
    assert_int_equal(trial->layer->items[0].turns, 62);
    assert_within(end_of(trial->layer, 62), 9.3, 1e-9);
    assert_int_equal(trial->layer->items[1].turns, 238);
    assert_within(trial->layer->width, 45, 1e-9);
    end(trial);
}

/* Each ends where it was measured, and turns between two readings are as wide as these say. */
static void test_two_readings(void **state)
{
    (void)state;
    Trial *trial = tried("band 100 turns of navy band fill of mist");
    measured(trial, 60, 60, 9.6);
    measured(trial, 100, 100, 15.2);
    const PlannedLayer *layer = trial->layer;
    assert_within(end_of(layer, 60), 9.6, 1e-9);
    assert_within(end_of(layer, 100), 15.2, 1e-9);
    assert_true(layer->runs[0].made && layer->runs[1].made && !layer->runs[2].made);
    assert_within(layer->runs[0].pitch, 0.16, 1e-12);
    assert_within(layer->runs[1].pitch, 0.14, 1e-12);
    assert_int_equal(layer->items[0].turns, 100);
    assert_int_equal(layer->items[0].run_count, 2);
    assert_true(layer->width <= 45 + 1e-9 && layer->width > 45 - 0.16);
    end(trial);
}

/* Within a band with inlays: the first is made and stays, the band goes up to the place's end all the same. */
static void test_reading_among_inlays(void **state)
{
    (void)state;
    Trial *trial =
        tried("band fill of navy { inlay 2 turns of foam at: 40 turns inlay 2 turns of foam at: 240 turns }");
    const PlannedLayer *layer = trial->layer;
    assert_int_equal(layer->run_count, 5);
    uint64_t first = layer->runs[0].turns, third = layer->runs[2].turns;
    measured(trial, 100, 100, 16.5);
    layer = trial->layer;
    assert_int_equal(layer->run_count, 6);
    assert_int_equal(layer->runs[0].turns, first);
    assert_int_equal(layer->runs[1].role, RUN_INLAY);
    assert_int_equal(layer->runs[2].turns, 100 - first - 2);
    assert_int_equal(layer->runs[2].turns + layer->runs[3].turns, third);
    assert_int_equal(layer->runs[4].role, RUN_INLAY);
    assert_within(end_of(layer, 100), 16.5, 1e-9);
    assert_true(layer->width <= 45 + 1e-9 && layer->width > 45 - 0.17);
    end(trial);
}

/* Two turns of foam stand for four of navy: the first band makes 78 turns of the layer, not 80. A band behind it
 * is measured in the file, or at the bench with one turn more than planned. */
static void test_behind_inlays_of_other_turns(void **state)
{
    (void)state;
#define INLAID "band 80 turns of navy { inlay 2 turns of foam at: 40 turns } band 20 turns of mist "
    Trial *trial = tried(INLAID "measured: 3.2 mm band fill of navy");
    const PlannedLayer *layer = trial->layer;
    assert_int_equal(layer->run_count, 5);
    assert_int_equal(layer->items[0].turns, 78);
    assert_int_equal(layer->items[1].turns, 20);
    assert_true(layer->runs[3].made && !layer->runs[4].made);
    assert_within(end_of(layer, 78), 12, 1e-9);
    assert_within(end_of(layer, 98), 15.2, 1e-9);
    end(trial);
    trial = tried(INLAID "band fill of navy");
    measured(trial, 98, 99, 15.3);
    layer = trial->layer;
    assert_int_equal(layer->items[0].turns, 78);
    assert_int_equal(layer->items[1].turns, 21);
    assert_within(end_of(layer, 99), 15.3, 1e-9);
    end(trial);
}

/* Measured within a fade: its steps stay, what comes after it takes the rest. */
static void test_a_fade_that_is_begun(void **state)
{
    (void)state;
    Trial *trial = tried("band 30 turns of navy fade to mist over: 40 turns band fill of mist");
    uint32_t runs = trial->layer->items[1].run_count;
    uint64_t fill = trial->layer->items[2].turns;
    measured(trial, 50, 50, 8.1);
    assert_int_equal(trial->layer->items[1].turns, 40);
    assert_in_range(trial->layer->items[1].run_count, runs, runs + 1);
    assert_within(end_of(trial->layer, 50), 8.1, 1e-9);
    assert_true(trial->layer->items[2].turns < fill);
    assert_true(trial->layer->width <= 45 + 1e-9 && trial->layer->width > 45 - 0.17);
    end(trial);
}

/* One in the file is the band's own width, one from the bench goes from the layer's start; both are heeded. */
static void test_written_and_from_the_bench(void **state)
{
    (void)state;
    Trial *trial = tried("band 40 turns of navy measured: 6.4 mm band 40 turns of mist band fill of navy");
    assert_within(end_of(trial->layer, 40), 6.4, 1e-9);
    measured(trial, 80, 80, 12.2);
    assert_within(end_of(trial->layer, 40), 6.4, 1e-9);
    assert_within(end_of(trial->layer, 80), 12.2, 1e-9);
    assert_int_equal(trial->layer->items[0].turns, 40);
    assert_int_equal(trial->layer->items[1].turns, 40);
    end(trial);
    trial = tried("band 40 turns of navy band 40 turns of mist measured: 5.8 mm band fill of navy");
    measured(trial, 40, 40, 6.4);
    assert_within(end_of(trial->layer, 40), 6.4, 1e-9);
    assert_within(end_of(trial->layer, 80), 12.2, 1e-9);
    end(trial);
}

/* A wrap that has become too wide for its room is laid; how wide it is, and what room it has, stands with what
 * moved. */
static void test_no_room_left(void **state)
{
    (void)state;
    Trial *trial = tried("band 290 turns of navy");
    measured(trial, 270, 270, 46);
    assert_int_equal(trial->layer->turns, 290);
    assert_within(end_of(trial->layer, 270), 46, 1e-9);
    assert_true(trial->layer->width > 48);
    const Finding *finding = told(trial, FINDING_MARK_MOVED);
    assert_non_null(finding);
    assert_int_equal(finding->severity, SEVERITY_WARNING);
    assert_int_equal(finding->related_count, 1);
    assert_non_null(strstr(finding->related[0].label, "wide now, and has 45.00 mm of room"));
    assert_null(told(trial, FINDING_LONGER_THAN_PLACE));
    end(trial);
}

/* Turns of the layer up to where it is measured; 0 ends them. */
static void assert_measured_at(const Trial *trial, const uint64_t *turns)
{
    Measurings measurings = measurings_start(trial->layer, &trial->compilation->job->bench);
    for (; *turns; turns++) {
        assert_true(measurings_next(&measurings));
        assert_int_equal(measurings.turn, *turns);
    }
    assert_false(measurings_next(&measurings));
}

/* At its end a band of a thread that is known to a tenth can be off by more than its last turns take up. A band
 * that is too short for two is measured once, and one that is asked in turns where it is known. */
static void test_a_thread_hardly_known_is_measured_early(void **state)
{
    (void)state;
    Trial *trial = tried("band fill of doubt");
    assert_measured_at(trial, (const uint64_t[]){60, 286, 300, 0});
    end(trial);
    trial = tried("band 14.1 mm of doubt");
    assert_int_equal(trial->layer->turns, 94);
    assert_measured_at(trial, (const uint64_t[]){60, 80, 94, 0});
    end(trial);
    trial = tried("band 13.95 mm of doubt");
    assert_measured_at(trial, (const uint64_t[]){79, 93, 0});
    end(trial);
    trial = tried("band 200 turns of doubt");
    assert_measured_at(trial, (const uint64_t[]){186, 200, 0});
    end(trial);
    trial = tried("band fill of believed");
    assert_measured_at(trial, (const uint64_t[]){286, 300, 0});
    end(trial);
}

/* A crosswrap's end bands stand where they are marked, however often one measures. */
static void test_end_bands_are_not_measured(void **state)
{
    (void)state;
    Trial *trial = tried("chevron crossings: 1 ends: 70 turns of navy { strand 2 of mist }");
    assert_int_equal(trial->layer->turns, 140);
    assert_measured_at(trial, (const uint64_t[]){0});
    trial->compilation->job->bench.measure = 20;
    assert_measured_at(trial, (const uint64_t[]){0});
    end(trial);
}

/* Six turns after a width was given there is none to be measured, but at the layer's end. */
static void test_what_was_measured_is_not_measured_again_at_once(void **state)
{
    (void)state;
    Trial *trial = tried("band 100 turns of navy band fill of mist");
    assert_measured_at(trial, (const uint64_t[]){286, 300, 0});
    measured(trial, 286, 286, 43.8);
    assert_int_equal(trial->layer->turns, 294);
    assert_measured_at(trial, (const uint64_t[]){280, 294, 0});
    end(trial);
    trial = tried("band 100 turns of navy band fill of mist");
    measured(trial, 286, 286, 41.4);
    uint64_t turns = trial->layer->turns;
    assert_measured_at(trial, (const uint64_t[]){turns - 14, turns, 0});
    end(trial);
}

/* What is wound cannot become a fill: turns come off, or it stays so. */
static void test_at_the_bench_turns_come_off(void **state)
{
    (void)state;
    Trial *trial = tried("band 300 turns of navy");
    measured(trial, 286, 286, 45.76);
    const Finding *finding = told(trial, FINDING_MARK_MOVED);
    assert_non_null(finding);
    assert_string_equal(finding->mend,
                        "take 19 turns off, measure again, and give that width in place of the last "
                        "one, with the turns that are left in its band (`after 267 turns`); or leave "
                        "it so");
    assert_false(finding->has_edit);
    end(trial);
    trial = tried("band 300 turns of navy");
    measured(trial, 286, 286, 40);
    finding = told(trial, FINDING_MARK_MOVED);
    assert_non_null(finding);
    assert_string_equal(finding->mend, "leave it so, or move what comes after it by as much");
    end(trial);
}

/* Of the last band as many turns stay as hold what was trimmed where it begins, and carry the loop besides, and
 * half of them. The loop lies under the last eight: they come off with what is too much. Turns are 0.15 mm wide as
 * planned.
 */
static void test_most_of_a_narrow_band_stays(void **state)
{
    (void)state;
    static const struct {
        unsigned turns;
        double width;
        const char *mend;
    } cases[] = {
        {16, 2.65,
         "take 10 turns off, lay the loop again and wind 8 turns, measure again"}, /* 2 turns of 0.166 mm */
        {15, 2.5, "leave it so"},
        {4, 1.0, "leave it so"},
        {40, 11.7, "take 28 turns off, lay the loop again and wind 8 turns, measure again"}, /* 20 of 0.293 mm */
        {41, 12.62, "leave it so"},                                                          /* 21 of 0.308 mm */
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char band[60];
        sprintf(band, "band 30 turns of mist  band %u turns of navy", cases[i].turns);
        Trial *trial = tried(band);
        measured(trial, 30, 30, 4.5);
        measured(trial, 30 + cases[i].turns, 30 + cases[i].turns, 4.5 + cases[i].width);
        const Finding *finding = told(trial, FINDING_MARK_MOVED);
        assert_non_null(finding);
        assert_memory_equal(finding->mend, cases[i].mend, strlen(cases[i].mend));
        end(trial);
    }
}

/* What parts the last turns from the others is an inlay, not a width that was measured among them; but that one
 * stays where it was. */
static void test_turns_come_off_behind_an_inlay(void **state)
{
    (void)state;
    static const struct {
        const char *band;
        unsigned measured, turns;
        double before, width;
        const char *mend;
    } cases[] = {
        {"band 60 turns of navy { inlay 4 turns of mist at: 42 turns }", 30, 60, 4.5, 9.3,
         "take 10 turns off, lay"},
        {"band 60 turns of navy { inlay 4 turns of mist at: 43 turns }", 30, 60, 4.5, 9.3, "leave it so"},
        {"band 20 turns of mist  fade to navy steps: 2  band 60 turns of navy", 20, 85, 3, 13.3, "leave it so"},
        {"band 20 turns of mist  gap 2 mm  band 60 turns of navy  gap 2 mm  band 20 turns of mist", 20, 80, 3,
         14.6, "take 13 turns off, lay the loop again"},
        {"band 60 turns of [navy, mist]", 48, 60, 14.4, 19.7, "take 12 turns off, lay the loops again"},
        {"band 60 turns of navy", 48, 60, 7.2, 9.85, "take 12 turns off, lay"},  /* 4 of 0.221 mm */
        {"band 60 turns of navy", 54, 60, 8.72, 9.62, "take 13 turns off, lay"}, /* 5 of 0.15 mm */
        {"band 60 turns of navy", 54, 60, 8.88, 9.78, "leave it so"},            /* 6 of them: all since then */
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Trial *trial = tried(cases[i].band);
        measured(trial, cases[i].measured, cases[i].measured, cases[i].before);
        measured(trial, cases[i].turns, cases[i].turns, cases[i].width);
        const Finding *finding = told(trial, FINDING_MARK_MOVED);
        assert_non_null(finding);
        if (memcmp(finding->mend, cases[i].mend, strlen(cases[i].mend)) != 0)
            fail_msg("%zu: %s", i, finding->mend);
        end(trial);
    }
}

/* Too wide as it is written is a fault of the file, measured or not. */
static void test_no_room_as_written(void **state)
{
    (void)state;
    static const char text[] =
        "edition 1\nthread navy { diameter: 0.15 mm }\n"
        "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
        "rod \"A\" on tube { at 20 cm length: 45 mm { band 301 turns of navy measured: 44 mm } }\n";
    Compilation *made = compilation_new(0);
    assert_non_null(made);
    assert_int_equal(turnlay_give(made, "tried.lay", text, sizeof text - 1), TURNLAY_DONE);
    assert_null(turnlay_want(made).path);
    assert_int_equal(turnlay_finish(made), TURNLAY_HAS_ERRORS);
    assert_int_equal(made->findings.errors, 1);
    assert_int_equal(made->findings.list.items[0].code, FINDING_LONGER_THAN_PLACE);
    turnlay_free(made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_turns_counted_otherwise),
        cmocka_unit_test(test_two_readings),
        cmocka_unit_test(test_reading_among_inlays),
        cmocka_unit_test(test_end_bands_are_not_measured),
        cmocka_unit_test(test_behind_inlays_of_other_turns),
        cmocka_unit_test(test_a_fade_that_is_begun),
        cmocka_unit_test(test_written_and_from_the_bench),
        cmocka_unit_test(test_no_room_left),
        cmocka_unit_test(test_most_of_a_narrow_band_stays),
        cmocka_unit_test(test_turns_come_off_behind_an_inlay),
        cmocka_unit_test(test_no_room_as_written),
        cmocka_unit_test(test_a_thread_hardly_known_is_measured_early),
        cmocka_unit_test(test_what_was_measured_is_not_measured_again_at_once),
        cmocka_unit_test(test_at_the_bench_turns_come_off),
    };
    return cmocka_run_group_tests_name("made", tests, NULL, NULL);
}
