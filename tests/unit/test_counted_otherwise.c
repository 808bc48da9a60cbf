/* Turns counted otherwise than planned: what was wound stays as it was wound, the turns that are more or fewer are
 * those before the reading, and what comes next is as it was planned. */
#include "base/arena.h"
#include "base/text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <string.h>
#include <cmocka.h>

#include "near.h"
#include "planned.h"

enum { MOST_TURNS = 400 };

/* The thread of each turn of a layer, up to the end of an item. */
typedef struct Turns {
    const Thread *threads[MOST_TURNS];
    uint32_t count;
} Turns;

static Turns turns_of(const PlannedLayer *layer, uint32_t end)
{
    Turns turns = {.count = 0};
    for (uint32_t i = 0; i < layer->run_count && layer->runs[i].item < end; i++)
        for (uint32_t k = 0; k < layer->runs[i].turns; k++) {
            assert_true(turns.count < MOST_TURNS);
            turns.threads[turns.count++] = layer->runs[i].strands->items[0].thread;
        }
    return turns;
}

/* A fade, or a band: the second item of a wrap. */
static Item item_of(Shop *shop, uint32_t kind)
{
    static const CrossoverStep runs[] = {{2, 7}, {3, 0}, {0, 4}, {6, 1}};
    Item item = kind == 0   ? band(shop, EXTENT_TURNS, 40, 1)
                : kind == 1 ? fade_steps(shop, 5, 0, 1)
                            : fade_even(shop, EXTENT_TURNS, 37, 0, 1);
    if (kind == 3) {
        item.fade_rule = FADE_RUNS;
        item.runs = runs;
        item.run_count = sizeof runs / sizeof *runs;
    }
    return item;
}

static void try_count(uint32_t kind, bool reversed, uint64_t turn, int more)
{
    Shop shop;
    shop_open(&shop);
    shop.job.bench.reading = 0.15;
    Item item = item_of(&shop, kind);
    item.reversed = reversed;
    LAYER(&shop, add_place(&shop, 200, 1, 60), true, band(&shop, EXTENT_TURNS, 20, reversed), item,
          fill(&shop, 1, 0, !reversed));
    Turns planned = turns_of(laid(shop_plan(&shop), 0, 0), 2);
    assert_true(turn < planned.count);
    uint64_t made = turn + (uint64_t)more;
    MeasuredWidth reading = {.turn = turn, .made = made, .width = (double)made * 0.15, .sure = true};
    shop.job.measured = (MeasuredWidths){&reading, 1, 1};
    Turns now = turns_of(laid(shop_plan(&shop), 0, 0), 2);
    assert_int_equal(now.count, planned.count + (uint32_t)more);
    for (uint32_t i = 0; i < now.count; i++) {
        uint64_t then = i >= made ? i - (uint64_t)more : i < turn ? i : turn - 1;
        if (now.threads[i] != planned.threads[then])
            fail_msg("kind %u, turn %u, %+d: turn %u of %u", kind, (unsigned)turn, more, i, now.count);
    }
    shop_close(&shop);
}

static void what_was_wound_stays(void **state)
{
    (void)state;
    for (uint32_t kind = 0; kind < 4; kind++)
        for (int reversed = 0; reversed < 2; reversed++)
            for (uint64_t turn = 25; turn < 42; turn++)
                for (int more = -4; more <= 4; more++)
                    try_count(kind, reversed, turn, more);
}

/* A fade that was counted twice. */
static void each_count_goes_on_from_the_last(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    shop.job.bench.reading = 0.15;
    LAYER(&shop, add_place(&shop, 200, 1, 60), true, band(&shop, EXTENT_TURNS, 20, 0), fade_steps(&shop, 4, 0, 1),
          fill(&shop, 1, 0, 1));
    MeasuredWidth readings[] = {{.turn = 24, .made = 26, .width = 26 * 0.15, .sure = true},
                                {.turn = 30, .made = 29, .width = 29 * 0.15, .sure = true}};
    shop.job.measured = (MeasuredWidths){readings, 2, 2};
    const char *runs = runs_text(&shop, laid(shop_plan(&shop), 0, 0));
    static const char wanted[] =
        "navy 20, slate 1, navy 5, navy 1, slate 2, navy 2, slate 3, navy 2, slate 4, navy 1, ";
    if (strncmp(runs, wanted, strlen(wanted)) != 0)
        fail_msg("%s", runs);
    shop_close(&shop);
}

/* Inlays that are wound stay where they are when the turns were counted otherwise, and those to come keep their
 * number of turns from the band's first, also in a band that is laid back to front; but they begin behind what is
 * wound. Turns wound more in an inlay, or right behind it, are the inlay's. */
static void counted_otherwise_moves_no_inlay(void **state)
{
    (void)state;
    static const struct {
        uint64_t turn, made;
        const char *runs;
    } cases[] = {{60, 60, "foam 46, navy 8, foam 6, foam 88, mist 4, foam 48, slate "},
                 {60, 61, "foam 46, navy 8, foam 7, foam 87, mist 4, foam 49, slate "},
                 {60, 66, "foam 46, navy 8, foam 12, foam 82, mist 4, foam 54, slate "},
                 {60, 55, "foam 46, navy 8, foam 1, foam 93, mist 4, foam 43, slate "},
                 {46, 48, "foam 48, navy 8, foam 92, mist 4, foam 50, slate "},
                 {45, 47, "foam 47, navy 8, foam 93, mist 4, foam 50, slate "},
                 {45, 46, "foam 46, navy 8, foam 94, mist 4, foam 49, slate "},
                 {40, 141, "foam 141, navy 8, foam 1, mist 4, foam 147, slate "},
                 {52, 53, "foam 46, navy 7, navy 2, foam 94, mist 4, foam 48, slate "},
                 {54, 56, "foam 46, navy 10, foam 94, mist 4, foam 48, slate "},
                 {54, 53, "foam 46, navy 7, foam 94, mist 4, foam 48, slate "},
                 {152, 153, "foam 46, navy 8, foam 94, mist 5, foam 48, slate "}};
    for (size_t i = 0; i < 2 * sizeof cases / sizeof *cases; i++) {
        Shop shop;
        shop_open(&shop);
        shop.job.bench.reading = 0.15;
        Item inlaid = band(&shop, EXTENT_TURNS, 200, 3);
        inlaid.reversed = i % 2;
        double at = inlaid.reversed ? 150 : 50, next = inlaid.reversed ? 50 : 150;
        set_inlays(&shop, &inlaid, 2,
                   (Inlay[]){inlay(&shop, 8, 0, AT_TURNS, at), inlay(&shop, 4, 2, AT_TURNS, next)});
        LAYER(&shop, add_place(&shop, 200, 1, 60), true, inlaid, fill(&shop, 1, 0, 1));
        uint64_t made = cases[i / 2].made;
        MeasuredWidth reading = {
            .turn = cases[i / 2].turn, .made = made, .width = (double)made * 0.15, .sure = true};
        shop.job.measured = (MeasuredWidths){&reading, 1, 1};
        const char *runs = runs_text(&shop, laid(shop_plan(&shop), 0, 0)), *wanted = cases[i / 2].runs;
        if (strncmp(runs, wanted, strlen(wanted)) != 0)
            fail_msg("%s, not %s", runs, wanted);
        shop_close(&shop);
    }
}

/* The last of these widths is left out: the plan is that of those before it. */
static void check_left_out(Shop *shop, MeasuredWidth *readings, uint32_t before)
{
    shop->job.measured = (MeasuredWidths){readings, before, before + 1};
    const char *wanted = runs_text(shop, laid(shop_plan(shop), 0, 0));
    shop->job.measured.count = before + 1;
    findings_start(&shop->findings, &shop->arena);
    const char *runs = runs_text(shop, laid(shop_plan(shop), 0, 0));
    found(shop, FINDING_READING_FAR);
    assert_string_equal(runs, wanted);
}

/* A width that is left out counts no turns otherwise, in a fade or in a band that is begun. */
static void what_is_left_out_counts_nothing(void **state)
{
    (void)state;
    static const struct {
        uint64_t turn, made;
        double width;
    } cases[] = {{40, 43, 20}, {40, 36, 20}, {24, 90, 3}, {70, 75, 40}, {70, 66, 1}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        for (uint32_t begun = 0; begun < 2; begun++) {
            Shop shop;
            shop_open(&shop);
            shop.job.bench.reading = 0.15;
            LAYER(&shop, add_place(&shop, 200, 1, 60), true, band(&shop, EXTENT_TURNS, 20, 0),
                  fade_even(&shop, EXTENT_TURNS, 30, 0, 1), band(&shop, EXTENT_TURNS, 60, 1),
                  fill(&shop, 1, 0, 2));
            uint64_t before = cases[i].turn > 50 ? 60 : 22;
            MeasuredWidth readings[] = {
                {.turn = before, .made = before, .width = (double)before * 0.15, .sure = true},
                {.turn = cases[i].turn, .made = cases[i].made, .width = cases[i].width}};
            check_left_out(&shop, readings + !begun, begun);
            shop_close(&shop);
        }
}

/* Nor does it move inlays, before it or to come. */
static void what_is_left_out_moves_no_inlay(void **state)
{
    (void)state;
    static const struct {
        uint64_t turn, made;
        double width;
    } cases[] = {{60, 66, 40}, {40, 35, 30}, {40, 141, 3}, {152, 149, 60}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Shop shop;
        shop_open(&shop);
        shop.job.bench.reading = 0.15;
        Item inlaid = band(&shop, EXTENT_TURNS, 200, 3);
        set_inlays(&shop, &inlaid, 2,
                   (Inlay[]){inlay(&shop, 8, 0, AT_TURNS, 50), inlay(&shop, 4, 2, AT_TURNS, 150)});
        LAYER(&shop, add_place(&shop, 200, 1, 60), true, inlaid, fill(&shop, 1, 0, 1));
        MeasuredWidth reading = {.turn = cases[i].turn, .made = cases[i].made, .width = cases[i].width};
        check_left_out(&shop, &reading, 0);
        shop_close(&shop);
    }
}

/* A width in the file is the whole band's: where a part of it was read before, the rest takes what that leaves. */
static void a_band_is_as_wide_as_it_was_measured(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    shop.job.bench.reading = 0.15;
    Item first = band(&shop, EXTENT_TURNS, 20, 0), written = band(&shop, EXTENT_TURNS, 60, 1);
    written.measured = 9.2;
    written.measured_span = next_span(&shop);
    LAYER(&shop, add_place(&shop, 200, 1, 60), true, first, written, fill(&shop, 1, 0, 2));
    MeasuredWidth reading = {.turn = 50, .made = 50, .width = 7.7, .sure = true};
    shop.job.measured = (MeasuredWidths){&reading, 1, 1};
    const PlannedLayer *layer = laid(shop_plan(&shop), 0, 0);
    static const char wanted[] = "navy 20, slate 30, slate 30, mist ";
    assert_memory_equal(runs_text(&shop, layer), wanted, strlen(wanted));
    assert_within(layer->runs[1].end - layer->start, 7.7, 1e-9);
    assert_within(layer->runs[1].pitch, 7.7 / 50, 1e-12);
    assert_within(layer->runs[2].end - layer->runs[1].start, 9.2, 1e-9);
    assert_true(layer->runs[2].made && !layer->runs[3].made);
    shop_close(&shop);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(what_was_wound_stays),
                                       cmocka_unit_test(a_band_is_as_wide_as_it_was_measured),
                                       cmocka_unit_test(what_is_left_out_counts_nothing),
                                       cmocka_unit_test(each_count_goes_on_from_the_last),
                                       cmocka_unit_test(counted_otherwise_moves_no_inlay),
                                       cmocka_unit_test(what_is_left_out_moves_no_inlay)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
