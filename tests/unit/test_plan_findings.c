/* Findings of layout: each with its mend, and the mend applied to the job as it would be to the source. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "planned.h"

#include "base/limits.h"

#include <stdlib.h>

/* Reads "12 turns", "1 turn" or "41.3 mm" of an edit. */
static double edit_amount(const Finding *finding, ExtentKind *kind)
{
    assert_true(finding->has_edit);
    char *rest;
    double amount = strtod(finding->edit.text, &rest);
    *kind = strncmp(rest, " turn", 5) == 0 ? EXTENT_TURNS : EXTENT_LENGTH;
    assert_true(*kind == EXTENT_TURNS || strcmp(rest, " mm") == 0);
    return amount;
}

static bool at_span(Span a, Span b) { return a.start == b.start && a.end == b.end; }

static void apply_to_item(Item *item, Span span, ExtentKind kind, double amount)
{
    if (at_span(item->extent.span, span)) {
        item->extent.kind = kind;
        item->extent.amount = amount;
    }
    for (uint32_t i = 0; i < item->inlay_count; i++) {
        Inlay *inlays = (Inlay *)item->inlays;
        if (at_span(inlays[i].extent.span, span))
            inlays[i].extent = (Extent){.kind = kind, .amount = amount, .span = span};
        if (at_span(inlays[i].at_span, span)) {
            inlays[i].at_kind = kind == EXTENT_TURNS ? AT_TURNS : AT_LENGTH;
            inlays[i].at = amount;
        }
    }
    if (item->extent.kind == EXTENT_SHARE && at_span(item->extent.spread->span, span)) {
        Spread *shared = (Spread *)item->extent.spread;
        shared->kind = kind;
        shared->amount = amount;
    }
}

/* Writes the edit into the job, plans anew and asks for no finding at all. */
static void assert_mends(Shop *shop, FindingCode code)
{
    const Finding *finding = found(shop, code);
    ExtentKind kind;
    double amount = edit_amount(finding, &kind);
    Span span = finding->edit.span;
    uint32_t used = 0;
    for (uint32_t p = 0; p < shop->rod.place_count; p++) {
        Place *place = &shop->places[p];
        if (at_span(place->mark_span, span)) {
            place->mark = place->from_tip ? blank_tip(&shop->blank) - amount : amount;
            used++;
        }
        if (at_span(place->length_span, span)) {
            place->length = amount;
            used++;
        }
        for (uint32_t l = 0; l < place->layer_count; l++)
            for (uint32_t i = 0; i < place->layers[l].item_count; i++)
                apply_to_item(&place->layers[l].items[i], span, kind, amount);
    }
    findings_start(&shop->findings, &shop->arena);
    plan_make(&shop->arena, &shop->job, &shop->findings);
    for (uint32_t i = 0; i < shop->findings.list.count; i++)
        fail_msg("after the mend: %s %s", finding_code_text(shop->findings.list.items[i].code),
                 shop->findings.list.items[i].message);
    assert_true(used <= 1);
}

static const Guide *double_foot(Shop *shop, double first, double second)
{
    return new_guide(shop, (Guide){.feet = {first, second}, .foot_count = 2, .gap = 9, .ramp = 6, .before = 4});
}

/* One finding, of this code, and nothing else; whether the first layer was laid all the same. */
static const Finding *assert_only(Shop *shop, FindingCode code, bool laid_all_the_same)
{
    const Plan *plan = shop_plan(shop);
    const Finding *finding = found(shop, code);
    for (uint32_t i = 0; i < shop->findings.list.count; i++)
        if (shop->findings.list.items[i].code != code)
            fail_msg("also %s %s", finding_code_text(shop->findings.list.items[i].code),
                     shop->findings.list.items[i].message);
    assert_int_equal(plan->rods[0].places[0].layers[0].laid, laid_all_the_same);
    return finding;
}

static void test_less_than_a_turn(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    Place *place = add_place(&shop, 100, 1, 30);
    LAYER(&shop, place, true, band(&shop, EXTENT_LENGTH, 0.074, 0), fill(&shop, 1, 0, 1));
    const Finding *finding = assert_only(&shop, FINDING_LESS_THAN_A_TURN, false);
    assert_string_equal(finding->message, "0.074 mm of navy is less than half a turn: nothing would be wound");
    assert_string_equal(finding->at.label, "one turn of navy is 0.150 mm wide");
    assert_mends(&shop, FINDING_LESS_THAN_A_TURN);
    shop_close(&shop);

    shop_open(&shop);
    Item item = band(&shop, EXTENT_TURNS, 20, 0);
    Inlay thin = inlay(&shop, 0.01, 1, AT_TURNS, 10);
    thin.extent.kind = EXTENT_LENGTH;
    set_inlays(&shop, &item, 1, &thin);
    LAYER(&shop, add_place(&shop, 100, 1, NAN), true, item);
    assert_only(&shop, FINDING_LESS_THAN_A_TURN, false);
    assert_mends(&shop, FINDING_LESS_THAN_A_TURN);
    shop_close(&shop);
}

static void test_rounds_far(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    shop.threads[0].pitch = 1.2;
    LAYER(&shop, add_place(&shop, 100, 1, NAN), true, band(&shop, EXTENT_LENGTH, 10.2, 0),
          band(&shop, EXTENT_LENGTH, 10.3, 0));
    const Finding *finding = assert_only(&shop, FINDING_ROUNDS_FAR, true); /* 10.2: 8.5 turns, 9, 10.8 mm */
    assert_string_equal(finding->message, "10.20 mm comes out as 9 turns, 10.80 mm wide");
    assert_string_equal(finding->edit.text, "9 turns");
    assert_findings(&shop, 1); /* 10.3: off by 0.5, which is allowed */
    assert_mends(&shop, FINDING_ROUNDS_FAR);
    shop_close(&shop);
}

static void test_longer_than_place(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    Place *place = add_place(&shop, 100, 1, 40);
    Layer *layer = LAYER(&shop, place, true, band(&shop, EXTENT_TURNS, 255, 0)); /* 38.25 mm */
    layer->offset = 3;
    const Finding *finding = assert_only(&shop, FINDING_LONGER_THAN_PLACE, false);
    assert_string_equal(finding->message, "this wrap is 38.25 mm wide but has 37.00 mm of room");
    assert_string_equal(finding->edit.text, "41.3 mm");
    assert_mends(&shop, FINDING_LONGER_THAN_PLACE);
    shop_close(&shop);

    shop_open(&shop); /* exactly as long as its room */
    LAYER(&shop, add_place(&shop, 100, 1, 38.25), true, band(&shop, EXTENT_TURNS, 255, 0));
    shop_plan(&shop);
    assert_findings(&shop, 0);
    shop_close(&shop);
}

/* On a guide a band gives way, and the mend serves both feet. */
static void test_longer_than_foot(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    const Guide *guide = double_foot(&shop, 19, 17);
    LAYER(&shop, add_guide(&shop, 500, guide), true, band(&shop, EXTENT_TURNS, 140, 0),
          band(&shop, EXTENT_TURNS, 20, 1), band(&shop, EXTENT_TURNS, 3, 2));
    const Finding *finding = assert_only(&shop, FINDING_LONGER_THAN_PLACE, false);
    assert_string_equal(finding->edit.text, "117 turns"); /* 24.45 mm into 21 mm: 23 turns less */
    assert_mends(&shop, FINDING_LONGER_THAN_PLACE);
    shop_close(&shop);
}

static void test_places_overlap(void **state)
{
    (void)state;
    for (int from_tip = 0; from_tip < 2; from_tip++) {
        Shop shop;
        shop_open(&shop);
        LAYER(&shop, add_place(&shop, 100, 1, NAN), true, band(&shop, EXTENT_TURNS, 100, 0)); /* to 115 */
        Place *later = add_place(&shop, 112.34, 1, NAN);
        later->from_tip = from_tip;
        LAYER(&shop, later, true, band(&shop, EXTENT_TURNS, 10, 0));
        LAYER(&shop, add_place(&shop, 130, 1, NAN), true, band(&shop, EXTENT_TURNS, 10, 0));
        const Finding *finding = assert_only(&shop, FINDING_PLACES_OVERLAP, true);
        assert_string_equal(finding->edit.text, from_tip ? "885 mm" : "115 mm");
        assert_mends(&shop, FINDING_PLACES_OVERLAP);
        shop_close(&shop);
    }
}

/* Where the later place cannot go on, the earlier one moves; three that touch are no finding. */
static void test_overlap_with_neighbours(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    LAYER(&shop, add_place(&shop, 100, 1, NAN), true, band(&shop, EXTENT_TURNS, 100, 0));
    LAYER(&shop, add_place(&shop, 112, 1, NAN), true, band(&shop, EXTENT_TURNS, 100, 0));  /* to 127 */
    LAYER(&shop, add_place(&shop, 142, -1, NAN), true, band(&shop, EXTENT_TURNS, 100, 0)); /* from 127 */
    assert_string_equal(assert_only(&shop, FINDING_PLACES_OVERLAP, true)->edit.text, "97 mm");
    assert_findings(&shop, 1);
    assert_mends(&shop, FINDING_PLACES_OVERLAP);
    shop_close(&shop);
}

/* A short place within a long one, and one after both that overlaps only the long one. */
static void test_overlap_by_the_furthest(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    LAYER(&shop, add_place(&shop, 100, 1, NAN), true, band(&shop, EXTENT_TURNS, 400, 0));
    LAYER(&shop, add_place(&shop, 110, 1, NAN), true, band(&shop, EXTENT_TURNS, 10, 0));
    LAYER(&shop, add_place(&shop, 150, 1, NAN), true, band(&shop, EXTENT_TURNS, 10, 0));
    assert_only(&shop, FINDING_PLACES_OVERLAP, true);
    assert_findings(&shop, 2);
    shop_close(&shop);
}

/* Places that a loop makes have one text: no single move mends them. */
static void test_copies_are_not_moved(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    for (int i = 0; i < 3; i++) {
        Place *place = add_place(&shop, 100 + 10 * i, 1, NAN);
        place->mark_span = shop.places[0].mark_span;
        LAYER(&shop, place, true, band(&shop, EXTENT_TURNS, 100, 0));
    }
    const Finding *finding = assert_only(&shop, FINDING_PLACES_OVERLAP, true);
    assert_false(finding->has_edit);
    assert_int_equal(finding->times, 2);
    shop_close(&shop);
}

static void test_off_the_blank(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    LAYER(&shop, add_place(&shop, 995, 1, NAN), true, band(&shop, EXTENT_TURNS, 41, 0)); /* 6.15 mm */
    const Finding *finding = assert_only(&shop, FINDING_OFF_THE_BLANK, true);
    assert_string_equal(finding->edit.text, "993.8 mm");
    assert_mends(&shop, FINDING_OFF_THE_BLANK);
    shop_close(&shop);

    shop_open(&shop);
    Place *place = add_place(&shop, 5, -1, NAN);
    place->from_tip = true;
    LAYER(&shop, place, true, band(&shop, EXTENT_TURNS, 41, 0));
    assert_string_equal(assert_only(&shop, FINDING_OFF_THE_BLANK, true)->edit.text, "993.8 mm");
    assert_mends(&shop, FINDING_OFF_THE_BLANK);
    shop_close(&shop);
}

static void test_ends_on_ramp(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    const Guide *guide = double_foot(&shop, 19, 19);
    LAYER(&shop, add_guide(&shop, 500, guide), true, band(&shop, EXTENT_TURNS, 40, 0)); /* 6 of 10 mm */
    const Finding *finding = assert_only(&shop, FINDING_ENDS_ON_RAMP, true);
    assert_findings(&shop, 1);
    assert_string_equal(finding->edit.text, "67 turns");
    assert_mends(&shop, FINDING_ENDS_ON_RAMP);
    shop_close(&shop);

    shop_open(&shop); /* under the foot, and a trim short of it on the wrap that holds it: nothing to say */
    guide = new_guide(&shop, (Guide){.feet = {19}, .foot_count = 1, .ramp = 6, .before = 4});
    Place *place = add_guide(&shop, 500, guide);
    LAYER(&shop, place, false, band(&shop, EXTENT_TURNS, 40, 0));
    LAYER(&shop, place, true, band(&shop, EXTENT_TURNS, 100, 0));
    LAYER(&shop, place, true, band(&shop, EXTENT_TURNS, 20, 0));
    shop_plan(&shop);
    assert_findings(&shop, 0);
    shop_close(&shop);

    shop_open(&shop); /* ahead of the foot, which nothing holds */
    guide = new_guide(&shop, (Guide){.feet = {19}, .foot_count = 1, .ramp = 6, .before = 4});
    LAYER(&shop, add_guide(&shop, 500, guide), true, band(&shop, EXTENT_TURNS, 20, 0));
    assert_only(&shop, FINDING_ENDS_ON_RAMP, true);
    assert_mends(&shop, FINDING_ENDS_ON_RAMP);
    shop_close(&shop);
}

/* Two bands of 20 turns want 4 mm more, 27 turns of 0.15 mm: the last one gets them, or, where both are the same
 * words of the source, a loop's, each gets half. */
static void test_a_longer_band_and_its_copies(void **state)
{
    (void)state;
    static const struct {
        Span first;
        const char *turns;
    } cases[] = {
        {{100, 105, 0}, "34 turns"}, /* the same words */
        {{90, 95, 0}, "47 turns"},   {{100, 105, 1}, "47 turns"}, {{90, 105, 0}, "47 turns"},
        {{100, 107, 0}, "47 turns"}, {{90, 105, 1}, "47 turns"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Shop shop;
        shop_open(&shop);
        const Guide *guide = double_foot(&shop, 19, 19);
        Item first = band(&shop, EXTENT_TURNS, 20, 0), last = band(&shop, EXTENT_TURNS, 20, 1);
        first.extent.span = cases[i].first;
        last.extent.span = (Span){100, 105, 0};
        LAYER(&shop, add_guide(&shop, 500, guide), true, first, last); /* 6 of 10 mm */
        const Finding *finding = assert_only(&shop, FINDING_ENDS_ON_RAMP, true);
        assert_string_equal(finding->edit.text, cases[i].turns);
        shop_close(&shop);
    }
}

/* A wrap without a guide that runs up on a guide's ramp (foot tip at 481, ramp to 487). */
static void test_ends_on_the_ramp_of_another(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    LAYER(&shop, add_place(&shop, 470, 1, NAN), true, band(&shop, EXTENT_TURNS, 100, 0)); /* to 485 */
    const Guide *guide = new_guide(&shop, (Guide){.feet = {19}, .foot_count = 1, .ramp = 6, .on_butt_side = true});
    LAYER(&shop, add_guide(&shop, 500, guide), true, band(&shop, EXTENT_TURNS, 100, 0));
    assert_only(&shop, FINDING_ENDS_ON_RAMP, true);
    assert_mends(&shop, FINDING_ENDS_ON_RAMP);
    shop_close(&shop);
}

static void test_nothing_left_to_fill(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    LAYER(&shop, add_place(&shop, 100, 1, 30), true, band(&shop, EXTENT_TURNS, 210, 0), fill(&shop, 1, 0, 1),
          fill(&shop, 2, 1, 2));
    assert_only(&shop, FINDING_NOTHING_LEFT_TO_FILL, false);
    assert_findings(&shop, 1);
    assert_mends(&shop, FINDING_NOTHING_LEFT_TO_FILL);
    shop_close(&shop);

    shop_open(&shop); /* 0.3 mm: two turns for the heavy one, none for the light */
    LAYER(&shop, add_place(&shop, 100, 1, 30.3), true, band(&shop, EXTENT_TURNS, 200, 0), fill(&shop, 1, 0, 1),
          fill(&shop, 9, 1, 2));
    assert_only(&shop, FINDING_NOTHING_LEFT_TO_FILL, false);
    assert_mends(&shop, FINDING_NOTHING_LEFT_TO_FILL);
    shop_close(&shop);
}

/* On a foot the band beside the fill gives way, so that the shorter foot has enough as well. */
static void test_nothing_left_on_a_foot(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    const Guide *guide = double_foot(&shop, 17, 17);
    LAYER(&shop, add_guide(&shop, 500, guide), true, band(&shop, EXTENT_TURNS, 140, 0), fill(&shop, 1, 0, 1));
    const Finding *finding = assert_only(&shop, FINDING_NOTHING_LEFT_TO_FILL, false);
    assert_string_equal(finding->message, "no room is left for this fill: the rest takes it all");
    assert_string_equal(finding->edit.text, "126 turns"); /* 14 turns: what binding and ending take */
    assert_mends(&shop, FINDING_NOTHING_LEFT_TO_FILL);
    shop_close(&shop);
}

static void test_fill_remainder(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    for (int i = 0; i < 4; i++)
        shop.threads[i].pitch = 0.4;
    LAYER(&shop, add_place(&shop, 100, 1, 31), true, fill(&shop, 1, 0, 0), fill(&shop, 1, 0, 0));
    const Finding *finding = assert_only(&shop, FINDING_FILL_REMAINDER, true);
    assert_string_equal(finding->edit.text, "30.4 mm"); /* 38 turns each leave 0.6 mm */
    assert_mends(&shop, FINDING_FILL_REMAINDER);
    shop_close(&shop);
}

static void test_fade_does_not_fit(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    LAYER(&shop, add_place(&shop, 100, 1, NAN), true, band(&shop, EXTENT_TURNS, 20, 0),
          fade_even(&shop, EXTENT_LENGTH, 0.2, 0, 1));
    assert_only(&shop, FINDING_FADE_DOES_NOT_FIT, false);
    assert_mends(&shop, FINDING_FADE_DOES_NOT_FIT);
    shop_close(&shop);

    shop_open(&shop); /* 13 turns: the crossover takes 12, two bands share one */
    Spread shared = {
        .kind = EXTENT_TURNS, .amount = 13, .band_count = 2, .fade_count = 1, .span = next_span(&shop)};
    Item first = band(&shop, EXTENT_SHARE, 0, 0), last = band(&shop, EXTENT_SHARE, 1, 1);
    first.extent.spread = last.extent.spread = &shared;
    LAYER(&shop, add_place(&shop, 100, 1, NAN), true, first, fade_steps(&shop, 3, 0, 1), last);
    const Finding *finding = assert_only(&shop, FINDING_FADE_DOES_NOT_FIT, false);
    assert_string_equal(finding->edit.text, "14 turns");
    assert_mends(&shop, FINDING_FADE_DOES_NOT_FIT);
    shop_close(&shop);

    shop_open(&shop); /* three turns for two crossovers */
    shared = (Spread){.kind = EXTENT_LENGTH, .amount = 0.45, .fade_count = 2, .span = next_span(&shop)};
    Item one_fade = fade_even(&shop, EXTENT_SHARE, 0, 0, 1), other = fade_even(&shop, EXTENT_SHARE, 1, 1, 2);
    one_fade.extent.spread = other.extent.spread = &shared;
    LAYER(&shop, add_place(&shop, 100, 1, NAN), true, one_fade, other);
    assert_only(&shop, FINDING_FADE_DOES_NOT_FIT, false);
    assert_mends(&shop, FINDING_FADE_DOES_NOT_FIT);
    shop_close(&shop);
}

static void test_unequal_feet(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    const Guide *guide = new_guide(&shop, (Guide){.feet = {19, 17}, .foot_count = 2, .gap = 9, .ramp = 6});
    LAYER(&shop, add_guide(&shop, 500, guide), true, fill(&shop, 1, 0, 0));
    const Finding *finding = assert_only(&shop, FINDING_UNEQUAL_FEET, true);
    assert_string_equal(finding->edit.text, "[17 mm, 17 mm]");
    assert_true(at_span(finding->edit.span, guide->foot_span));
    assert_findings(&shop, 1);
    shop_close(&shop);

    shop_open(&shop); /* without a fill unequal feet do no harm */
    guide = new_guide(&shop, (Guide){.feet = {19, 17}, .foot_count = 2, .gap = 9, .ramp = 6});
    LAYER(&shop, add_guide(&shop, 500, guide), true, band(&shop, EXTENT_TURNS, 100, 0));
    shop_plan(&shop);
    assert_findings(&shop, 0);
    shop_close(&shop);
}

static void inlays_touch(uint32_t count, const double *at, double turns, bool every)
{
    Shop shop;
    shop_open(&shop);
    Item item = band(&shop, EXTENT_TURNS, 20, 0);
    Inlay inlays[3];
    for (uint32_t i = 0; i < count; i++) {
        inlays[i] = inlay(&shop, turns, 1, AT_TURNS, at[i]);
        inlays[i].every = every;
    }
    set_inlays(&shop, &item, count, inlays);
    LAYER(&shop, add_place(&shop, 100, 1, NAN), true, item);
    assert_only(&shop, FINDING_INLAYS_TOUCH, false);
    assert_findings(&shop, 1);
    assert_mends(&shop, FINDING_INLAYS_TOUCH);
    shop_close(&shop);
}

static void test_inlays_touch(void **state)
{
    (void)state;
    inlays_touch(1, (double[]){1}, 3, false);    /* none before */
    inlays_touch(1, (double[]){19}, 2, false);   /* none after */
    inlays_touch(2, (double[]){5, 7}, 2, false); /* none between */
    inlays_touch(1, (double[]){3}, 3, true);     /* every 3 turns, 3 turns wide */
    inlays_touch(1, (double[]){1}, 1, true);     /* none before the first */
}

/* Three that touch: no one of them can be moved. */
static void test_inlays_without_room(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    Item item = band(&shop, EXTENT_TURNS, 20, 0);
    set_inlays(&shop, &item, 3,
               (Inlay[]){inlay(&shop, 3, 1, AT_TURNS, 4), inlay(&shop, 3, 1, AT_TURNS, 7),
                         inlay(&shop, 3, 1, AT_TURNS, 10)});
    LAYER(&shop, add_place(&shop, 100, 1, NAN), true, item);
    const Finding *finding = assert_only(&shop, FINDING_INLAYS_TOUCH, false);
    assert_string_equal(finding->message, "this inlay would take turns 7 to 9 of a band of 20 turns");
    assert_string_equal(finding->at.label, "no turn of the band is left between it and the inlay before");
    assert_false(finding->has_edit);
    shop_close(&shop);
}

/* The first of a row of inlays would lie behind the last turn of the band but one. */
static void test_inlay_nowhere(void **state)
{
    (void)state;
    static const struct {
        double band, turns, every;
        const char *message, *mend, *edit;
    } cases[] = {
        {20, 2, 19, "this inlay is not wound: it would take turns 19 to 20 of a band of 20 turns",
         "set it nearer: `every: 18 turns` or less", "18 turns"},
        {9, 1, 30, "this inlay is not wound: it would end 22 turns behind its band of 9 turns",
         "set it nearer: `every: 7 turns` or less", "7 turns"},
        {6, 4, 9, "this inlay is not wound: it would end 5 turns behind its band of 6 turns",
         "set it nearer: `every: 3 turns` or less", "3 turns"},
        {5, 4, 9, "this inlay is not wound: it would end 6 turns behind its band of 5 turns",
         "make the band wider, or take the inlay out", NULL},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Shop shop;
        shop_open(&shop);
        Item item = band(&shop, EXTENT_TURNS, cases[i].band, 0);
        Inlay row = inlay(&shop, cases[i].turns, 1, AT_TURNS, cases[i].every);
        row.every = true;
        set_inlays(&shop, &item, 1, &row);
        LAYER(&shop, add_place(&shop, 100, 1, NAN), true, item, band(&shop, EXTENT_TURNS, 20, 2));
        const Finding *finding = assert_only(&shop, FINDING_INLAY_NOWHERE, true);
        assert_findings(&shop, 1);
        assert_string_equal(finding->message, cases[i].message);
        assert_string_equal(finding->mend, cases[i].mend);
        assert_int_equal(finding->has_edit, cases[i].edit != NULL);
        if (cases[i].edit)
            assert_string_equal(finding->edit.text, cases[i].edit);
        shop_close(&shop);
    }
}

static void test_empty_layer(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    Place *place = add_place(&shop, 100, 1, NAN);
    LAYER(&shop, place, true, gap(&shop, 3));
    add_layer(&shop, place, true, 0, NULL);
    assert_only(&shop, FINDING_EMPTY_LAYER, true);
    assert_findings(&shop, 2);
    shop_close(&shop);
}

/* What had findings before is left alone, and gives none here. */
static void test_silent_after_other_findings(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    Layer *layer = LAYER(&shop, add_place(&shop, 100, 1, 1), true, band(&shop, EXTENT_TURNS, 100, 0));
    layer->cause = 1;
    assert_false(shop_plan(&shop)->rods[0].places[0].layers[0].laid);
    layer->cause = CAUSE_NONE;
    shop.rod.blank = NULL;
    assert_false(shop_plan(&shop)->rods[0].places[0].layers[0].laid);
    assert_findings(&shop, 0);
    shop_close(&shop);
}

static void test_too_many_turns(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    for (int i = 0; i < SHOP_THREADS; i++)
        shop.threads[i].pitch = 1e-5;
    Place *place = add_place(&shop, 100, 1, NAN);
    LAYER(&shop, place, true, band(&shop, EXTENT_TURNS, LIMIT_TURNS - 10, 0));
    LAYER(&shop, place, true, band(&shop, EXTENT_TURNS, 10, 0));
    shop_plan(&shop);
    assert_findings(&shop, 0);
    LAYER(&shop, place, true, band(&shop, EXTENT_TURNS, 1, 0));
    LAYER(&shop, place, true, fade_steps(&shop, UINT32_MAX, 0, 1));
    LAYER(&shop, place, true, fade_even(&shop, EXTENT_TURNS, 1e12, 0, 1));
    const Plan *plan = shop_plan(&shop);
    found(&shop, FINDING_TOO_MANY_TURNS);
    assert_findings(&shop, 1);
    for (uint32_t l = 0; l < 5; l++)
        assert_int_equal(plan->rods[0].places[0].layers[l].laid, l < 2);
    assert_int_equal(plan->turns, LIMIT_TURNS);
    shop_close(&shop);
}

/* A fill in a room without end comes to the limit too. */
static void test_fill_beyond_the_limit(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    Layer *layer = LAYER(&shop, add_place(&shop, 100, 1, NAN), true, fill(&shop, 1, 0, 0), fill(&shop, 1, 1, 1));
    layer->length = LIMIT_MAGNITUDE;
    assert_only(&shop, FINDING_TOO_MANY_TURNS, false);
    shop_close(&shop);
}

static void test_too_many_runs(void **state)
{
    (void)state;
    Shop shop;
    shop_open(&shop);
    shop.threads[0].pitch = shop.threads[1].pitch = 1e-5;
    Item item = band(&shop, EXTENT_TURNS, 2 * LIMIT_RUNS, 0);
    Inlay every = inlay(&shop, 1, 1, AT_TURNS, 2);
    every.every = true;
    set_inlays(&shop, &item, 1, &every);
    LAYER(&shop, add_place(&shop, 100, 1, NAN), true, item);
    assert_only(&shop, FINDING_TOO_MUCH_WORK, false);
    shop_close(&shop);
}

/* Many layers of many steps, one on the other: each would be split where those below change. */
static void test_too_much_reckoning(void **state)
{
    (void)state;
    enum { LAYERS = 400, BANDS = 400 };
    Shop shop;
    shop_open(&shop);
    shop.threads[1].diameter = 0.2;
    Place *place = add_place(&shop, 100, 1, NAN);
    place->layers = arena_take_many(&shop.arena, LAYERS, sizeof *place->layers);
    Item items[BANDS];
    for (uint32_t i = 0; i < BANDS; i++)
        items[i] = band(&shop, EXTENT_TURNS, 1, i % 2);
    for (uint32_t l = 0; l < LAYERS; l++)
        add_layer(&shop, place, true, BANDS, items)->offset = l * 1e-4;
    const Plan *plan = shop_plan(&shop);
    found(&shop, FINDING_TOO_MUCH_WORK);
    assert_findings(&shop, 1);
    assert_true(plan->rods[0].places[0].layers[100].laid);
    assert_false(plan->rods[0].places[0].layers[LAYERS - 1].laid);
    shop_close(&shop);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_less_than_a_turn),
        cmocka_unit_test(test_rounds_far),
        cmocka_unit_test(test_longer_than_place),
        cmocka_unit_test(test_longer_than_foot),
        cmocka_unit_test(test_places_overlap),
        cmocka_unit_test(test_overlap_with_neighbours),
        cmocka_unit_test(test_overlap_by_the_furthest),
        cmocka_unit_test(test_copies_are_not_moved),
        cmocka_unit_test(test_off_the_blank),
        cmocka_unit_test(test_ends_on_ramp),
        cmocka_unit_test(test_a_longer_band_and_its_copies),
        cmocka_unit_test(test_ends_on_the_ramp_of_another),
        cmocka_unit_test(test_nothing_left_to_fill),
        cmocka_unit_test(test_nothing_left_on_a_foot),
        cmocka_unit_test(test_fill_remainder),
        cmocka_unit_test(test_fade_does_not_fit),
        cmocka_unit_test(test_unequal_feet),
        cmocka_unit_test(test_inlays_touch),
        cmocka_unit_test(test_inlay_nowhere),
        cmocka_unit_test(test_inlays_without_room),
        cmocka_unit_test(test_empty_layer),
        cmocka_unit_test(test_silent_after_other_findings),
        cmocka_unit_test(test_too_many_turns),
        cmocka_unit_test(test_fill_beyond_the_limit),
        cmocka_unit_test(test_too_many_runs),
        cmocka_unit_test(test_too_much_reckoning),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
