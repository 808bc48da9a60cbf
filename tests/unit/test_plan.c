/* The plan's counts and positions: widths to turns, inlays, fades, fills, feet. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "near.h"
#include "planned.h"

#include "base/limits.h"

#include "trade/trade.h"

static void assert_runs(Shop *shop, const PlannedLayer *layer, const char *wanted)
{
    assert_string_equal(runs_text(shop, layer), wanted);
}

/* Contiguous runs whose widths add up to the layer's, in the place's direction; items' sums agree. */
static void assert_contiguous(const PlannedPlace *place, const PlannedLayer *layer)
{
    double width = 0, obtained = 0, at = layer->start;
    uint64_t turns = 0, of_items = 0;
    for (uint32_t i = 0; i < layer->run_count; i++) {
        const Run *run = &layer->runs[i];
        assert_true(run->start == at);
        assert_true(place->direction * run->end > place->direction * run->start);
        if (run->strands)
            assert_within(fabs(run->end - run->start), run->turns * run->strands->pitch, 1e-9);
        at = run->end;
        width += fabs(run->end - run->start);
        turns += run->turns;
    }
    assert_true(at == layer->end);
    assert_within(width, layer->width, 1e-9);
    assert_int_equal(turns, layer->turns);
    for (uint32_t i = 0; i < layer->item_count; i++) {
        obtained += layer->items[i].obtained;
        of_items += layer->items[i].turns;
    }
    assert_within(obtained, layer->width, 1e-9);
    assert_int_equal(of_items, layer->turns);
}

static void test_widths_round_half_away(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    Place *place = add_place(&shop, 100, 1, NAN);
    /* 9.5, 10.5, 9.49 and 1/2 turn */
    LAYER(&shop, place, true, band(&shop, EXTENT_LENGTH, 1.425, 0), band(&shop, EXTENT_LENGTH, 1.575, 1),
          band(&shop, EXTENT_LENGTH, 1.4235, 2), band(&shop, EXTENT_LENGTH, 0.075, 3),
          band(&shop, EXTENT_TURNS, 7, 0));
    const PlannedLayer *layer = laid(shop_plan(&shop), 0, 0);
    assert_runs(&shop, layer, "navy 10, slate 11, mist 9, foam 1, navy 7");
    assert_within(layer->items[0].asked, 1.425, 0);
    assert_within(layer->items[0].obtained, 1.5, 1e-12);
    assert_true(isnan(layer->items[4].asked));
    assert_within(layer->runs[1].start, 101.5, 1e-12);
    assert_within(layer->end, 100 + 38 * 0.15, 1e-12);
    assert_findings(&shop, 0);
    shop_close(&shop);
}

static void test_direction_keeps_counts(void **state)
{
    (void)state;
    const char *texts[2];
    Shop shop;
    shop_open(&shop);
    for (int i = 0; i < 2; i++) {
        Place *place = add_place(&shop, i ? 700 : 300, i ? -1 : 1, 60);
        Layer *layer = LAYER(&shop, place, true, band(&shop, EXTENT_LENGTH, 4.4, 0), fade_steps(&shop, 3, 0, 1),
                             fill(&shop, 1, 0, 1), gap(&shop, 1.37), band(&shop, EXTENT_TURNS, 9, 2));
        layer->offset = 2.5;
    }
    const Plan *plan = shop_plan(&shop);
    for (uint32_t i = 0; i < 2; i++) {
        texts[i] = runs_text(&shop, laid(plan, i, 0));
        assert_contiguous(&plan->rods[0].places[i], laid(plan, i, 0));
    }
    assert_string_equal(texts[0], texts[1]);
    const PlannedLayer *up = laid(plan, 0, 0), *down = laid(plan, 1, 0);
    for (uint32_t i = 0; i < up->run_count; i++)
        assert_within(up->runs[i].end - 300, 700 - down->runs[i].end, 1e-12);
    assert_within(down->start, 697.5, 0);
    shop_close(&shop);
}

static void test_fades(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    Place *place = add_place(&shop, 100, 1, NAN);
    LAYER(&shop, place, true, fade_steps(&shop, 3, 0, 1));
    Item reversed = fade_steps(&shop, 3, 0, 1);
    reversed.reversed = true;
    LAYER(&shop, place, true, reversed);
    /* After turn i the new thread has made floor(i^2/16 + 1/2): 0 0 1 1 2 2 3 4. */
    LAYER(&shop, place, true, fade_even(&shop, EXTENT_TURNS, 8, 0, 1));
    Item runs = fade_steps(&shop, 0, 0, 1);
    runs.fade_rule = FADE_RUNS;
    runs.runs = (CrossoverStep[]){{1, 4}, {2, 3}};
    runs.run_count = 2;
    LAYER(&shop, place, true, runs);
    Item mirrored = fade_even(&shop, EXTENT_TURNS, 8, 0, 1);
    mirrored.reversed = true;
    LAYER(&shop, place, true, mirrored);
    const Plan *plan = shop_plan(&shop);
    const PlannedLayer *layer = laid(plan, 0, 0);
    assert_runs(&shop, layer, "slate 1, navy 3, slate 2, navy 2, slate 3, navy 1");
    assert_int_equal(layer->runs[0].role, RUN_FADE_IN);
    assert_int_equal(layer->runs[1].role, RUN_FADE_OUT);
    assert_runs(&shop, laid(plan, 0, 1), "navy 1, slate 3, navy 2, slate 2, navy 3, slate 1");
    assert_ptr_equal(layer->items[0].from, layer->runs[1].strands);
    assert_ptr_equal(layer->items[0].to, layer->runs[0].strands);
    /* Mirrored it is told as it is worked: slate goes out, navy comes in. */
    const PlannedLayer *turned = laid(plan, 0, 1);
    assert_int_equal(turned->runs[0].role, RUN_FADE_IN);
    assert_int_equal(turned->runs[1].role, RUN_FADE_OUT);
    assert_ptr_equal(turned->items[0].from, turned->runs[1].strands);
    assert_ptr_equal(turned->items[0].to, turned->runs[0].strands);
    assert_int_equal(laid(plan, 0, 4)->runs[0].role, RUN_FADE_OUT);
    assert_runs(&shop, laid(plan, 0, 2), "navy 2, slate 1, navy 1, slate 1, navy 1, slate 2");
    assert_runs(&shop, laid(plan, 0, 3), "slate 1, navy 4, slate 2, navy 3");
    assert_runs(&shop, laid(plan, 0, 4), "slate 2, navy 1, slate 1, navy 1, slate 1, navy 2");
    assert_findings(&shop, 0);
    shop_close(&shop);
}

/* An even fade of a width W has W / mean pitch turns; its width is that of the turns each thread makes. */
static void test_even_fade_of_a_width(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    shop.threads[1].pitch = 0.25;
    Place *place = add_place(&shop, 100, 1, NAN);
    LAYER(&shop, place, true, fade_even(&shop, EXTENT_LENGTH, 5, 0, 1));
    const PlannedLayer *layer = laid(shop_plan(&shop), 0, 0);
    assert_int_equal(layer->turns, 25);
    assert_within(layer->width, 12 * 0.15 + 13 * 0.25, 1e-12);
    assert_within(layer->items[0].asked, 5, 0);
    shop_close(&shop);
}

static void test_inlays(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    Place *place = add_place(&shop, 100, 1, NAN);
    Item ratio = band(&shop, EXTENT_TURNS, 40, 0);
    set_inlays(&shop, &ratio, 2,
               (Inlay[]){inlay(&shop, 2, 1, AT_RATIO, 2.0 / 3), inlay(&shop, 2, 2, AT_RATIO, 1.0 / 3)});
    LAYER(&shop, place, true, ratio); /* first turns round(12.33), round(25.67) */
    Item length = band(&shop, EXTENT_TURNS, 40, 0);
    set_inlays(&shop, &length, 1, (Inlay[]){inlay(&shop, 3, 1, AT_LENGTH, 3)});
    LAYER(&shop, place, true, length); /* 3 mm are 20 turns; round(18.5) = 19 */
    Item every = band(&shop, EXTENT_TURNS, 31, 0);
    Inlay period = inlay(&shop, 1, 1, AT_TURNS, 10);
    period.every = true;
    set_inlays(&shop, &every, 1, &period);
    LAYER(&shop, place, true, every); /* round(9.5), round(19.5); the third leaves none after */
    const Plan *plan = shop_plan(&shop);
    assert_runs(&shop, laid(plan, 0, 0), "navy 12, mist 2, navy 12, slate 2, navy 12");
    assert_runs(&shop, laid(plan, 0, 1), "navy 19, slate 3, navy 18");
    assert_runs(&shop, laid(plan, 0, 2), "navy 10, slate 1, navy 9, slate 1, navy 10");
    assert_int_equal(laid(plan, 0, 0)->runs[1].role, RUN_INLAY);
    assert_within(laid(plan, 0, 0)->width, 6, 1e-12);
    assert_findings(&shop, 0);
    shop_close(&shop);
}

/* Three turns of 0.25 mm stand for 5 of 0.15 mm, one of 0.05 mm for one. The fill takes the difference in. */
static void test_inlays_of_another_pitch(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    shop.threads[1].pitch = 0.27;
    shop.threads[2].pitch = 0.05;
    Place *place = add_place(&shop, 100, 1, 30);
    Item item = fill(&shop, 1, 0, 0);
    set_inlays(&shop, &item, 2, (Inlay[]){inlay(&shop, 3, 1, AT_TURNS, 20), inlay(&shop, 1, 2, AT_TURNS, 40)});
    LAYER(&shop, place, true, item);
    const Plan *plan = shop_plan(&shop);
    const PlannedLayer *layer = laid(plan, 0, 0);
    /* 0.81 mm for 5 turns of 0.15 mm, 0.05 mm for one: 0.04 mm less than plain, so 200 turns stay. */
    assert_runs(&shop, layer, "navy 18, slate 3, navy 17, mist 1, navy 159");
    assert_within(layer->width, 194 * 0.15 + 0.81 + 0.05, 1e-12);
    assert_within(layer->unfilled, 30 - layer->width, 1e-12);
    assert_contiguous(&plan->rods[0].places[0], layer);
    shop_close(&shop);
}

/* One inlay wider than what it stands for: the band gives up a turn so that the room holds. */
static void test_fill_with_wide_inlay_keeps_room(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    shop.threads[1].pitch = 0.21;
    Place *place = add_place(&shop, 100, 1, 30);
    Item item = fill(&shop, 1, 0, 0);
    set_inlays(&shop, &item, 1, (Inlay[]){inlay(&shop, 1, 1, AT_TURNS, 20)});
    LAYER(&shop, place, true, item);
    const PlannedLayer *layer = laid(shop_plan(&shop), 0, 0);
    assert_runs(&shop, layer, "navy 20, slate 1, navy 178");
    assert_within(layer->unfilled, 0.09, 1e-9);
    assert_findings(&shop, 0);
    shop_close(&shop);
}

/* Hamilton's apportionment of 120 seats to 15 states by the census of 1790: COMAP, For All Practical Purposes,
 * 10th edition (W. H. Freeman), chapter 14, example 6 and table 14.5 (seats); populations: electowiki.org,
 * "Hamilton method". A state is a fill of a thread 1 mm wide. */
static void test_published_apportionment(void **state)
{
    (void)state;
    static const struct {
        double population;
        uint32_t seats;
    } states[] = {{630560, 21}, {475327, 16}, {432879, 14}, {353523, 12}, {331589, 11},
                  {278514, 9},  {236841, 8},  {206236, 7},  {179570, 6},  {141822, 5},
                  {85533, 3},   {70835, 2},   {68705, 2},   {68446, 2},   {55540, 2}};
    enum { STATES = sizeof states / sizeof states[0] };
    Shop shop;
    shop_open(&shop);
    shop.threads[0].pitch = 1;
    Place *place = add_place(&shop, 100, 1, 120);
    Item items[STATES];
    for (uint32_t i = 0; i < STATES; i++)
        items[i] = fill(&shop, states[i].population, i, 0);
    add_layer(&shop, place, true, STATES, items);
    const PlannedLayer *layer = laid(shop_plan(&shop), 0, 0);
    for (uint32_t i = 0; i < STATES; i++)
        assert_int_equal(layer->items[i].turns, states[i].seats);
    assert_within(layer->unfilled, 0, 1e-9);
    shop_close(&shop);
}

static void test_fills(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    for (int i = 0; i < SHOP_THREADS; i++)
        shop.threads[i].pitch = 1;
    Place *ties = add_place(&shop, 100, 1, 11);
    LAYER(&shop, ties, true, fill(&shop, 1, 0, 0), fill(&shop, 1, 1, 1)); /* 5.5 each: the first */
    Place *copies = add_place(&shop, 200, 1, 20);
    LAYER(&shop, copies, true, fill(&shop, 1, 0, 0), band(&shop, EXTENT_TURNS, 3, 1), fill(&shop, 2, 1, 2),
          band(&shop, EXTENT_TURNS, 3, 1), fill(&shop, 1, 0, 0));
    /* 14 mm, S = 4: quotas 3.5 (two copies) and 7. Both copies or none: none fit beside 7 (left 1), so the
     * second gets the turn. */
    const Plan *plan = shop_plan(&shop);
    assert_runs(&shop, laid(plan, 0, 0), "navy 6, slate 5");
    assert_runs(&shop, laid(plan, 1, 0), "navy 3, slate 3, mist 8, slate 3, navy 3");
    assert_within(laid(plan, 1, 0)->unfilled, 0, 1e-12);
    assert_findings(&shop, 0);
    shop_close(&shop);
}

/* Whatever stands beside a fill takes its own width from it, and no more: threads of 1 and 2 mm in 40 mm. */
static void test_what_stands_beside_a_fill(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    shop.threads[0].pitch = shop.threads[2].pitch = 1;
    shop.threads[1].pitch = 2;
    static const CrossoverStep pairs[] = {{1, 3}, {2, 2}, {3, 1}};
    Item runs = fade_steps(&shop, 0, 0, 1), of_turns = gap(&shop, 5);
    runs.fade_rule = FADE_RUNS;
    runs.runs = pairs;
    runs.run_count = 3;
    of_turns.extent.kind = EXTENT_TURNS;
    of_turns.strands = one(&shop, 1);
    const struct {
        Item beside;
        double takes; /* mm */
    } cases[] = {
        {band(&shop, EXTENT_TURNS, 7, 1), 14},
        {band(&shop, EXTENT_LENGTH, 14, 1), 14},
        {runs, 6 * 2 + 6 * 1},
        {fade_steps(&shop, 3, 0, 1), 6 * 2 + 6 * 1},
        {fade_even(&shop, EXTENT_TURNS, 9, 0, 1), 5 * 2 + 4 * 1},
        {fade_even(&shop, EXTENT_LENGTH, 12, 0, 1), 4 * 2 + 4 * 1},
        {gap(&shop, 11), 11},
        {of_turns, 10},
    };
    const size_t count = sizeof cases / sizeof *cases;
    for (size_t i = 0; i < count; i++) {
        shop.rod.place_count = 0;
        LAYER(&shop, add_place(&shop, 100, 1, 40), true, fill(&shop, 1, 0, 2), cases[i].beside);
        const PlannedLayer *layer = laid(shop_plan(&shop), 0, 0);
        assert_within(layer->items[0].turns, 40 - cases[i].takes, 0);
        assert_within(layer->unfilled, 0, 1e-12);
        assert_within(layer->items[1].obtained, cases[i].takes, 1e-12);
        assert_within(fabs(layer->end - layer->start), 40, 1e-12);
    }
    assert_findings(&shop, 0);
    shop_close(&shop);
}

static Spread *spread(Shop *shop, ExtentKind kind, double amount, uint32_t bands, uint32_t fades)
{
    Spread *made = arena_take(&shop->arena, sizeof *made);
    *made = (Spread){
        .kind = kind, .amount = amount, .band_count = bands, .fade_count = fades, .span = next_span(shop)};
    return made;
}

static Item sharing(Item item, const Spread *spread, double index)
{
    item.extent = (Extent){.kind = EXTENT_SHARE, .amount = index, .spread = spread, .span = spread->span};
    return item;
}

static void test_spreads(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    Place *place = add_place(&shop, 100, 1, NAN);
    const Spread *bands = spread(&shop, EXTENT_LENGTH, 7.5, 3, 2); /* 50 turns, 12 of them crossovers */
    LAYER(&shop, place, true, sharing(band(&shop, EXTENT_TURNS, 0, 0), bands, 0), fade_steps(&shop, 2, 0, 1),
          sharing(band(&shop, EXTENT_TURNS, 0, 1), bands, 1), fade_steps(&shop, 2, 1, 2),
          sharing(band(&shop, EXTENT_TURNS, 0, 2), bands, 2));
    Item back[] = {fade_steps(&shop, 2, 1, 2), fade_steps(&shop, 2, 0, 1)};
    back[0].reversed = back[1].reversed = true;
    LAYER(&shop, place, true, sharing(band(&shop, EXTENT_TURNS, 0, 2), bands, 2), back[0], /* mirrored */
          sharing(band(&shop, EXTENT_TURNS, 0, 1), bands, 1), back[1],
          sharing(band(&shop, EXTENT_TURNS, 0, 0), bands, 0));
    const Spread *fades = spread(&shop, EXTENT_TURNS, 9, 0, 2);
    LAYER(&shop, place, true, sharing(fade_even(&shop, EXTENT_TURNS, 0, 0, 1), fades, 0),
          sharing(fade_even(&shop, EXTENT_TURNS, 0, 1, 2), fades, 1));
    const Plan *plan = shop_plan(&shop);
    const PlannedLayer *layer = laid(plan, 0, 0);
    assert_int_equal(layer->items[0].turns, 13);
    assert_int_equal(layer->items[2].turns, 13);
    assert_int_equal(layer->items[4].turns, 12);
    assert_int_equal(layer->turns, 50);
    assert_runs(&shop, laid(plan, 0, 1),
                "mist 12, slate 1, mist 2, slate 2, mist 1, slate 13, navy 1, slate 2, "
                "navy 2, slate 1, navy 13");
    /* Each copy says what it was asked for and what it gets; an extent in turns is always had. */
    for (uint32_t i = 0; i < 2; i++) {
        const PlannedLayer *shared = laid(plan, 0, i);
        assert_int_equal(shared->spread_count, 1);
        assert_int_equal(shared->spreads[0].first_item, 0);
        assert_int_equal(shared->spreads[0].item_count, 5);
        assert_within(shared->spreads[0].asked, 7.5, 0);
        assert_within(shared->spreads[0].obtained, shared->width, 1e-12);
        assert_true(isnan(shared->items[0].asked));
    }
    assert_int_equal(laid(plan, 0, 2)->spread_count, 0);
    assert_int_equal(laid(plan, 0, 2)->items[0].turns, 5);
    assert_int_equal(laid(plan, 0, 2)->items[1].turns, 4);
    shop_close(&shop);
}

/* The two feet of a symmetrical guide get the same turns, mirrored about the ring. */
static void test_feet(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    const Guide *guide = new_guide(
        &shop,
        (Guide){.feet = {19, 19}, .foot_count = 2, .gap = 9, .width = 2.6, .height = 0.9, .ramp = 6, .before = 4});
    Place *place = add_guide(&shop, 500, guide);
    LAYER(&shop, place, true, band(&shop, EXTENT_TURNS, 8, 1), fill(&shop, 1, 0, 0),
          band(&shop, EXTENT_TURNS, 10, 1));
    const Guide *single =
        new_guide(&shop, (Guide){.feet = {14}, .foot_count = 1, .gap = 2, .ramp = 5, .before = 3});
    LAYER(&shop, add_guide(&shop, 700, single), true, fill(&shop, 1, 0, 0));
    const Plan *plan = shop_plan(&shop);
    const PlannedPlace *feet = plan->rods[0].places;
    assert_int_equal(plan->rods[0].place_count, 3);
    assert_within(feet[0].start, 500 - 4.5 - 19 - 4, 1e-12);
    assert_within(feet[0].foot_tip, 476.5, 1e-12);
    assert_within(feet[0].ramp_end, 482.5, 1e-12);
    assert_within(feet[0].foot_end, 495.5, 1e-12);
    assert_within(feet[0].length, 23, 0);
    assert_int_equal(feet[1].direction, -1);
    assert_within(feet[1].start, 527.5, 1e-12);
    assert_within(feet[1].foot_end, 504.5, 1e-12);
    assert_string_equal(runs_text(&shop, laid(plan, 0, 0)), runs_text(&shop, laid(plan, 1, 0)));
    assert_runs(&shop, laid(plan, 0, 0), "slate 8, navy 135, slate 10");
    for (uint32_t i = 0; i < 3; i++)
        assert_within(500 - laid(plan, 0, 0)->runs[i].end, laid(plan, 1, 0)->runs[i].end - 500, 1e-10);
    assert_within(feet[2].foot_end, 701, 1e-12);
    assert_within(feet[2].foot_tip, 715, 1e-12);
    assert_int_equal(feet[2].direction, -1);
    assert_string_equal(place_label(&shop.arena, &shop.job, &shop.rod, &feet[0]),
                        "ring16 at 500 mm from the butt, butt-side foot");
    place->from_tip = true;
    assert_string_equal(place_label(&shop.arena, &shop.job, &shop.rod, &feet[1]),
                        "ring16 at 500 mm from the tip, tip-side foot");
    assert_findings(&shop, 0);
    shop_close(&shop);
}

/* Random layers: widths add up, runs touch, fills stay within the room and leave none for one more copy set. */
static void test_random_layers(void **state)
{
    (void)state;
    uint64_t seed = 20240229;
    int unlaid = 0;
    for (int round = 0; round < 400; round++) {
        Shop shop;
        shop_open(&shop);
        for (int i = 0; i < SHOP_THREADS; i++)
            shop.threads[i].pitch = shop.threads[i].diameter = between(&seed, 0.1, 0.4);
        Place *place = add_place(&shop, 500, round % 2 ? 1 : -1, between(&seed, 60, 200));
        Item items[12];
        uint32_t count = 2 + (uint32_t)between(&seed, 0, 10), groups = 0;
        items[0] = fill(&shop, between(&seed, 0.2, 3), groups++, 0);
        for (uint32_t i = 1; i < count; i++) {
            int thread = (int)between(&seed, 0, 4);
            double kind = between(&seed, 0, 5);
            items[i] = kind < 1   ? fill(&shop, between(&seed, 0.2, 3), groups++, thread)
                       : kind < 2 ? items[0]
                       : kind < 3 ? band(&shop, EXTENT_LENGTH, between(&seed, 0.5, 3), thread)
                       : kind < 4 ? fade_even(&shop, EXTENT_TURNS, floor(between(&seed, 2, 12)), thread, 0)
                                  : gap(&shop, between(&seed, 0.1, 1));
            items[i].reversed = between(&seed, 0, 1) < 0.5;
        }
        Layer *layer = add_layer(&shop, place, true, count, items);
        layer->offset = between(&seed, 0, 3);
        const Plan *plan = shop_plan(&shop);
        if (!plan->rods[0].places[0].layers[0].laid) { /* a small weight may get no turn */
            found(&shop, FINDING_NOTHING_LEFT_TO_FILL);
            unlaid++;
            shop_close(&shop);
            continue;
        }
        const PlannedLayer *planned = laid(plan, 0, 0);
        assert_contiguous(&plan->rods[0].places[0], planned);
        assert_true(planned->width <= planned->length + 1e-6);
        for (uint32_t i = 0; i < count; i++) {
            if (items[i].extent.kind != EXTENT_FILL || items[i].kind != ITEM_BAND)
                continue;
            uint32_t copies = 0;
            for (uint32_t j = 0; j < count; j++)
                if (items[j].kind == ITEM_BAND && items[j].extent.kind == EXTENT_FILL
                    && items[j].extent.group == items[i].extent.group) {
                    copies++;
                    assert_int_equal(planned->items[j].turns, planned->items[i].turns);
                }
            assert_true(planned->unfilled < copies * items[i].strands->pitch);
        }
        shop_close(&shop);
    }
    assert_true(unlaid < 40);
}

/* 10^6 runs of one turn come to the same width and length as one run of 10^6 turns. */
static void test_many_runs(void **state)
{
    (void)state;
    enum { TURNS = LIMIT_RUNS - 1 };
    Shop shop;
    shop_open(&shop);
    for (int i = 0; i < SHOP_THREADS; i++)
        shop.threads[i].pitch = 0.0137;
    Item *items = arena_take_many(&shop.arena, TURNS, sizeof *items);
    Item parts[2] = {band(&shop, EXTENT_TURNS, 1, 0), band(&shop, EXTENT_TURNS, 1, 1)};
    for (uint32_t i = 0; i < TURNS; i++)
        items[i] = parts[i % 2];
    Layer *many = add_layer(&shop, add_place(&shop, 50, 1, NAN), true, 0, NULL);
    many->items = items;
    many->item_count = TURNS;
    LAYER(&shop, add_place(&shop, 50, 1, NAN), true, band(&shop, EXTENT_TURNS, TURNS, 0));
    const Plan *plan = shop_plan(&shop);
    const PlannedLayer *parted = laid(plan, 0, 0), *whole = laid(plan, 1, 0);
    assert_int_equal(parted->run_count, TURNS);
    assert_near(parted->width, whole->width, 1e-12);
    double length = 0;
    for (uint32_t i = 0; i < TURNS; i++)
        length += parted->runs[i].lengths[0];
    assert_near(length, whole->runs[0].lengths[0], 1e-9);
    assert_int_equal(plan->rods[0].piece_count, TURNS + 1);
    assert_near(plan->totals[0].wound + plan->totals[1].wound, 2 * whole->runs[0].lengths[0], 1e-9);
    shop_close(&shop);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_widths_round_half_away),
        cmocka_unit_test(test_direction_keeps_counts),
        cmocka_unit_test(test_fades),
        cmocka_unit_test(test_even_fade_of_a_width),
        cmocka_unit_test(test_inlays),
        cmocka_unit_test(test_inlays_of_another_pitch),
        cmocka_unit_test(test_fill_with_wide_inlay_keeps_room),
        cmocka_unit_test(test_published_apportionment),
        cmocka_unit_test(test_fills),
        cmocka_unit_test(test_what_stands_beside_a_fill),
        cmocka_unit_test(test_spreads),
        cmocka_unit_test(test_feet),
        cmocka_unit_test(test_random_layers),
        cmocka_unit_test(test_many_runs),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
