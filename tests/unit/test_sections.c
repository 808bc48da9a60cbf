/* Rods of several sections: where each lies, what shows of it, and what the plan makes of places on them. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "near.h"
#include "planned.h"

#include "compilation.h"
#include "meaning/sections.h"
#include "trade/trade.h"

#include <stdio.h>
#include <stdlib.h>

enum { MOST_SECTIONS = 4, MOST_STATIONS = 5 };

/* A rod of several sections whose stations a test may choose. */
typedef struct Several {
    Shop shop;
    Blank blanks[MOST_SECTIONS];
    Station stations[MOST_SECTIONS][MOST_STATIONS];
    Section sections[MOST_SECTIONS];
} Several;

static void several_open(Several *several, uint32_t count)
{
    static const char *const names[] = {"low", "high", "upper", "top"};
    memset(several, 0, sizeof *several);
    shop_open(&several->shop);
    for (uint32_t i = 0; i < count; i++) {
        several->blanks[i] = (Blank){.name = text_of_string(&several->shop.texts, names[i]),
                                     .span = next_span(&several->shop),
                                     .stations = several->stations[i]};
        several->sections[i] =
            (Section){.blank = &several->blanks[i], .name = names[i], .span = next_span(&several->shop)};
    }
}

static void several_join(Several *several, uint32_t count, const double *overlaps, bool tip_inside)
{
    several->shop.rod.blank = join_sections(&several->shop.arena, several->sections, count, overlaps, tip_inside);
    several->shop.rod.sections = several->sections;
    several->shop.rod.section_count = count;
}

static void add_station(Several *several, uint32_t section, double at, double diameter)
{
    Blank *blank = &several->blanks[section];
    blank->stations[blank->station_count++] = (Station){at, diameter};
}

/* Two sections of 600 mm: 12 mm to 8 mm, and 9 mm to 3 mm. */
static void two_open(Several *several, double overlap, bool tip_inside)
{
    several_open(several, 2);
    add_station(several, 0, 0, 12);
    add_station(several, 0, 600, 8);
    add_station(several, 1, 0, 9);
    add_station(several, 1, 600, 3);
    several_join(several, 2, &overlap, tip_inside);
}

static void test_where_two_lie(void **state)
{
    (void)state;
    for (int tip_inside = 0; tip_inside < 2; tip_inside++) {
        Several several;
        two_open(&several, 60, tip_inside);
        const Section *low = &several.sections[0], *high = &several.sections[1];
        const Blank *all = several.shop.rod.blank;
        double joint = tip_inside ? 600 : 540;
        assert_within(low->butt, 0, 0);
        assert_within(low->tip, 600, 0);
        assert_within(low->start, 0, 0);
        assert_within(low->end, joint, 0);
        assert_within(high->butt, 540, 0);
        assert_within(high->tip, 1140, 0);
        assert_within(high->start, joint, 0);
        assert_within(high->end, 1140, 0);
        assert_int_equal(all->station_count, 4);
        assert_within(blank_butt(all), 0, 0);
        assert_within(blank_tip(all), 1140, 0);
        assert_within(blank_diameter_beside(all, joint, joint - 1), 12 - joint / 150, 1e-12);
        assert_within(blank_diameter_beside(all, joint, joint + 1), 9 - (joint - 540) / 100, 1e-12);
        assert_within(blank_diameter(all, 700), 9 - 1.6, 1e-12);
        assert_int_equal(section_at(&several.shop.rod, joint - 0.001), 0);
        assert_int_equal(section_at(&several.shop.rod, joint), 1);
        assert_string_equal(blanks_named(&several.shop.arena, &several.shop.rod), "low and high");
        shop_close(&several.shop);
    }
}

/* A station within the joint that does not show is left out; one right at it is not there twice. */
static void test_stations_in_a_joint(void **state)
{
    (void)state;
    Several several;
    several_open(&several, 2);
    add_station(&several, 0, 0, 12);
    add_station(&several, 0, 540, 8.5);
    add_station(&several, 0, 570, 8.2);
    add_station(&several, 0, 600, 8);
    add_station(&several, 1, 0, 9);
    add_station(&several, 1, 30, 8.8);
    add_station(&several, 1, 600, 3);
    const double overlap = 60;
    several_join(&several, 2, &overlap, false);
    const Blank *all = several.shop.rod.blank;
    const Station wanted[] = {{0, 12}, {540, 8.5}, {540, 9}, {570, 8.8}, {1140, 3}};
    assert_int_equal(all->station_count, 5);
    for (uint32_t i = 0; i < 5; i++) {
        assert_within(all->stations[i].at, wanted[i].at, 1e-12);
        assert_within(all->stations[i].diameter, wanted[i].diameter, 1e-12);
    }
    shop_close(&several.shop);
}

/* The diameter that shows at x, by another way: whichever section is on the outside there, read off its own
 * stations. */
static double seen_diameter(const Several *several, uint32_t count, bool tip_inside, double x)
{
    uint32_t outer = tip_inside ? count - 1 : 0;
    for (uint32_t i = 0; i < count; i++) {
        uint32_t one = tip_inside ? count - 1 - i : i;
        double from = several->sections[one].butt;
        const Blank *blank = &several->blanks[one];
        if (x >= from + blank->stations[0].at && x <= from + blank->stations[blank->station_count - 1].at)
            outer = one;
    }
    const Blank *blank = &several->blanks[outer];
    double own = x - several->sections[outer].butt;
    for (uint32_t s = 0; s + 1 < blank->station_count; s++) {
        Station a = blank->stations[s], b = blank->stations[s + 1];
        if (own >= a.at && own <= b.at)
            return a.diameter + (b.diameter - a.diameter) * (own - a.at) / (b.at - a.at);
    }
    return NAN;
}

static void random_sections(Several *several, uint32_t count, uint64_t *seed, double *overlaps)
{
    for (uint32_t i = 0; i < count; i++) {
        double at = i ? 0 : between(seed, -20, 20), diameter = 14 - 3 * i;
        uint32_t stations = 2 + (uint32_t)between(seed, 0, 3);
        for (uint32_t s = 0; s < stations; s++) {
            add_station(several, i, at, diameter);
            at += between(seed, 80, 300);
            diameter -= between(seed, 0, 0.8);
        }
    }
    for (uint32_t i = 0; i + 1 < count; i++)
        overlaps[i] = between(seed, 0, 70);
}

static void test_any_sections(void **state)
{
    (void)state;
    uint64_t seed = 20;
    for (int round = 0; round < 200; round++) {
        Several several;
        uint32_t count = 2 + (uint32_t)round % 3;
        double overlaps[MOST_SECTIONS];
        bool tip_inside = round % 2;
        several_open(&several, count);
        random_sections(&several, count, &seed, overlaps);
        several_join(&several, count, overlaps, tip_inside);
        const Blank *all = several.shop.rod.blank;
        for (uint32_t i = 1; i < all->station_count; i++)
            assert_true(all->stations[i].at >= all->stations[i - 1].at);
        for (uint32_t i = 1; i < count; i++)
            assert_within(several.sections[i].butt, several.sections[i - 1].tip - overlaps[i - 1], 1e-9);
        for (int i = 0; i < 100; i++) {
            double x = between(&seed, blank_butt(all), blank_tip(all));
            assert_within(blank_diameter(all, x), seen_diameter(&several, count, tip_inside, x), 1e-9);
        }
        shop_close(&several.shop);
    }
}

/* Turns that end or begin right at a joint lie on their own section alone. */
static void test_turns_up_to_a_joint(void **state)
{
    (void)state;
    Several several;
    two_open(&several, 60, false);
    Shop *shop = &several.shop;
    LAYER(shop, add_place(shop, 534, 1, NAN), true, band(shop, EXTENT_TURNS, 40, 0));
    LAYER(shop, add_place(shop, 540, 1, NAN), true, band(shop, EXTENT_TURNS, 40, 0));
    const Plan *plan = shop_plan(shop);
    assert_findings(shop, 0);
    double at_joint = 12 - 540.0 / 150;
    double below = cone_helix_length((at_joint + 6.0 / 150 + 0.15) / 2, (at_joint + 0.15) / 2, 6, 0.15);
    double above = cone_helix_length(9.15 / 2, 9.09 / 2, 6, 0.15);
    assert_near(laid(plan, 0, 0)->runs[0].lengths[0], below, 1e-11);
    assert_within(laid(plan, 0, 0)->runs[0].end_diameter, at_joint, 1e-9);
    assert_near(laid(plan, 1, 0)->runs[0].lengths[0], above, 1e-11);
    assert_within(laid(plan, 1, 0)->runs[0].start_diameter, 9, 1e-9);
    assert_int_equal(plan->rods[0].places[0].section, 0);
    assert_int_equal(plan->rods[0].places[1].section, 1);
    shop_close(shop);
}

/* The same toward the butt: what begins at a joint lies on the section below it. */
static void test_turns_from_a_joint(void **state)
{
    (void)state;
    Several several;
    two_open(&several, 60, false);
    Shop *shop = &several.shop;
    LAYER(shop, add_place(shop, 546, -1, NAN), true, band(shop, EXTENT_TURNS, 40, 0));
    LAYER(shop, add_place(shop, 540, -1, NAN), true, band(shop, EXTENT_TURNS, 40, 0));
    const Plan *plan = shop_plan(shop);
    assert_findings(shop, 0);
    assert_int_equal(plan->rods[0].places[0].section, 1);
    assert_int_equal(plan->rods[0].places[1].section, 0);
    assert_within(laid(plan, 0, 0)->runs[0].end_diameter, 9, 1e-9);
    assert_within(laid(plan, 1, 0)->runs[0].start_diameter, 12 - 540.0 / 150, 1e-9);
    shop_close(shop);
}

/* The next place in working order, by its mark. */
static double mark_of(const Plan *plan, uint32_t place) { return plan->rods[0].places[place].place->mark; }

/* Sections are worked one after the other, in the order in which their first places are written; in each its
 * places stay in order. */
static void test_order_of_work(void **state)
{
    (void)state;
    static const double wanted[][4] = {{700, 900, 100, 300}, {100, 300, 700, 900}, {900, 700, 300, 100}};
    for (PlaceOrder order = ORDER_SOURCE; order <= ORDER_TIP; order++) {
        Several several;
        two_open(&several, 60, false);
        Shop *shop = &several.shop;
        shop->job.bench.order = order;
        const double marks[] = {700, 100, 900, 300};
        for (int i = 0; i < 4; i++)
            LAYER(shop, add_place(shop, marks[i], 1, NAN), true, band(shop, EXTENT_TURNS, 20, 0));
        const Plan *plan = shop_plan(shop);
        for (uint32_t i = 0; i < 4; i++)
            assert_within(mark_of(plan, i), wanted[order][i], 0);
        shop_close(shop);
    }
}

/* The mark of a guide may lie beyond the joint; its foot says where it is. */
static void test_guide_by_its_foot(void **state)
{
    (void)state;
    Several several;
    two_open(&several, 60, false);
    Shop *shop = &several.shop;
    const Guide *guide = new_guide(
        shop, (Guide){.feet = {10}, .foot_count = 1, .gap = 8, .on_butt_side = true, .width = 2, .height = 1});
    LAYER(shop, add_guide(shop, 543, guide), true, band(shop, EXTENT_TURNS, 40, 0)); /* its foot from 529 to 539 */
    const Plan *plan = shop_plan(shop);
    assert_findings(shop, 0);
    assert_int_equal(plan->rods[0].places[0].section, 0);
    shop_close(shop);
}

static void across(double mark, int direction, double length, const char *edit)
{
    Several several;
    two_open(&several, 60, false);
    Shop *shop = &several.shop;
    LAYER(shop, add_place(shop, mark, direction, length), true, band(shop, EXTENT_TURNS, 40, 0));
    shop_plan(shop);
    assert_findings(shop, 1);
    const Finding *finding = found(shop, FINDING_ACROSS_A_JOINT);
    assert_string_equal(finding->message, "this place lies across the joint of low and high");
    assert_string_equal(finding->edit.text, edit);
    shop->places[0].mark = strtod(edit, NULL);
    findings_start(&shop->findings, &shop->arena);
    shop_plan(shop);
    assert_findings(shop, 0);
    shop_close(shop);
}

/* Its turns or its room; it moves to the nearer side. */
static void test_across_a_joint(void **state)
{
    (void)state;
    across(535, 1, NAN, "534 mm");
    across(538, 1, NAN, "540 mm");
    across(545, -1, NAN, "546 mm");
    across(520, 1, 25, "515 mm");
    across(541, -1, NAN, "540 mm");
}

/* Where there is no room on the nearer side it moves to the other; a place on either side leaves none at all. */
static void test_no_room_beside_a_joint(void **state)
{
    (void)state;
    for (int both = 0; both < 2; both++) {
        Several several;
        two_open(&several, 60, false);
        Shop *shop = &several.shop;
        LAYER(shop, add_place(shop, 535, 1, NAN), true, band(shop, EXTENT_TURNS, 40, 0));
        LAYER(shop, add_place(shop, 529, 1, NAN), true, band(shop, EXTENT_TURNS, 40, 0));
        if (both)
            LAYER(shop, add_place(shop, 543, 1, NAN), true, band(shop, EXTENT_TURNS, 40, 0));
        shop_plan(shop);
        assert_findings(shop, 1);
        const Finding *finding = found(shop, FINDING_ACROSS_A_JOINT);
        assert_int_equal(finding->has_edit, !both);
        if (!both)
            assert_string_equal(finding->edit.text, "540 mm");
        else
            assert_string_equal(finding->mend,
                                "move it toward the butt by 1.00 mm, or make two of it: each section is "
                                "wrapped by itself");
        shop_close(shop);
    }
}

/* A mend of another finding does not move a place across a joint. */
static void test_mends_mind_the_joint(void **state)
{
    (void)state;
    Several several;
    two_open(&several, 60, false);
    Shop *shop = &several.shop;
    LAYER(shop, add_place(shop, 526, 1, NAN), true, band(shop, EXTENT_TURNS, 40, 0)); /* to 532 */
    LAYER(shop, add_place(shop, 531, 1, NAN), true, band(shop, EXTENT_TURNS, 56, 0)); /* to 539.4 */
    shop_plan(shop);
    assert_findings(shop, 1);
    assert_string_equal(found(shop, FINDING_PLACES_OVERLAP)->edit.text, "525 mm");
    shop_close(shop);
}

/* Off the end of the rod it is the blank of that end that is named. */
static void test_off_the_end(void **state)
{
    (void)state;
    Several several;
    two_open(&several, 60, false);
    Shop *shop = &several.shop;
    LAYER(shop, add_place(shop, 1138, 1, NAN), true, band(shop, EXTENT_TURNS, 40, 0));
    shop_plan(shop);
    assert_string_equal(found(shop, FINDING_OFF_THE_BLANK)->message,
                        "this place reaches 4.00 mm past the last station of high");
    shop_close(shop);
}

/* --- as it is written --- */

enum { LONGEST_TEXT = 4000 };
#define THREAD "edition 1\nthread navy { turns: 67 per cm }\nbench { units: mm }\n"
#define BLANKS                                                                                                    \
    THREAD "blank low { at 0 cm: 13 mm  at 100 cm: 8 mm }\nblank high { at 0 cm: 8.6 mm  at 100 cm: 3 mm }\n"
#define PLACES "{ at 20 cm { band 40 turns of navy } }\n"

/* The text compiled; errors and warnings: how many there are. */
static Compilation *compiled(const char *text, uint32_t errors, uint32_t warnings)
{
    Compilation *made = compilation_new(0);
    assert_non_null(made);
    turnlay_give(made, "tried.lay", text, strlen(text));
    while (turnlay_want(made).path)
        turnlay_give(made, "none.lay", "edition 1\n", 10);
    turnlay_finish(made);
    if (made->findings.errors != errors || made->findings.warnings != warnings)
        fail_msg("%u errors, %u warnings: %s\n%s", (unsigned)made->findings.errors,
                 (unsigned)made->findings.warnings,
                 made->findings.list.count ? made->findings.list.items[0].message : "none", text);
    return made;
}

static const Rod *rod_of(const Compilation *made) { return made->plan->rods[0].rod; }

static void test_what_is_written(void **state)
{
    (void)state;
    static const struct {
        const char *how;
        double joint, tip;
    } cases[] = {
        {"[low, high]", 1000, 2000},
        {"[low, high] overlap: 6 cm", 940, 1940},
        {"[low, high] overlap: [6 cm]", 940, 1940},
        {"[low, high,] inside: butt overlap: 6 cm", 940, 1940},
        {"[low, high] overlap: 5 mm inside: butt", 995, 1995},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char text[LONGEST_TEXT];
        sprintf(text, BLANKS "rod \"Two\" on %s " PLACES, cases[i].how);
        Compilation *made = compiled(text, 0, 0);
        const Rod *rod = rod_of(made);
        assert_int_equal(rod->section_count, 2);
        assert_within(rod->sections[1].start, cases[i].joint, 1e-9);
        assert_within(blank_tip(rod->blank), cases[i].tip, 1e-9);
        turnlay_free(made);
    }
}

/* One blank is one section, in brackets and without; it is measured from wherever it begins. */
static void test_one_section(void **state)
{
    (void)state;
    static const char *const how[] = {"tube", "[tube]"};
    for (int i = 0; i < 2; i++) {
        char text[LONGEST_TEXT];
        sprintf(text, THREAD "blank tube { at 5 cm: 13 mm  at 100 cm: 8 mm }\nrod \"One\" on %s " PLACES, how[i]);
        Compilation *made = compiled(text, 0, 0);
        const Rod *rod = rod_of(made);
        assert_int_equal(rod->section_count, 1);
        assert_string_equal(rod->sections[0].name, "tube");
        assert_within(rod->sections[0].start, 50, 0);
        assert_within(rod->sections[0].end, 1000, 0);
        assert_within(rod->sections[0].butt, 0, 0);
        assert_within(rod->sections[0].tip, 1000, 0);
        assert_string_equal(blanks_named(&made->arena, rod), "tube");
        turnlay_free(made);
    }
}

/* From the tip it is the tip of the last. */
static void test_from_the_tip(void **state)
{
    (void)state;
    Compilation *made =
        compiled(BLANKS "rod \"Two\" on [low, high] overlap: 6 cm { at 20 cm from: tip { band 40 turns "
                        "of navy } }\n",
                 0, 0);
    const PlannedPlace *place = &made->plan->rods[0].places[0];
    assert_within(place->start, 1740, 1e-9);
    assert_int_equal(place->section, 1);
    turnlay_free(made);
}

/* What lies in a joint; a first section that is measured from further on hides nothing. */
static void test_hidden(void **state)
{
    (void)state;
    for (int tip_inside = 0; tip_inside < 2; tip_inside++) {
        char text[LONGEST_TEXT];
        sprintf(text,
                THREAD
                "blank low { at 5 cm: 13 mm  at 100 cm: 8 mm }\nblank high { at 0 cm: %s mm  at 100 cm: 3 mm }\n"
                "rod \"Two\" on [low, high] overlap: 6 cm inside: %s " PLACES,
                tip_inside ? "7" : "9", tip_inside ? "tip" : "butt");
        Compilation *made = compiled(text, 0, 0);
        const Rod *rod = rod_of(made);
        assert_within(hidden_in_joint(rod, 0, false), 0, 0);
        assert_within(hidden_in_joint(rod, 0, true), tip_inside ? 0 : 60, 1e-9);
        assert_within(hidden_in_joint(rod, 1, false), tip_inside ? 60 : 0, 1e-9);
        assert_within(hidden_in_joint(rod, 1, true), 0, 0);
        turnlay_free(made);
    }
}

/* The same blank twice: its second section has a name of its own. */
static void test_names(void **state)
{
    (void)state;
    Compilation *made = compiled(
        THREAD "blank low { at 0 cm: 13 mm  at 100 cm: 8 mm }\nrod \"Three\" on [low, low, low] " PLACES, 0, 0);
    static const char *const names[] = {"low", "low (2)", "low (3)"};
    for (uint32_t i = 0; i < 3; i++)
        assert_string_equal(rod_of(made)->sections[i].name, names[i]);
    assert_string_equal(blanks_named(&made->arena, rod_of(made)), "low, low (2) and low (3)");
    turnlay_free(made);
}

static void test_most_sections(void **state)
{
    (void)state;
    for (int count = 32; count <= 33; count++) {
        char text[LONGEST_TEXT] = THREAD "blank low { at 0 cm: 13 mm  at 100 cm: 8 mm }\nrod \"Many\" on [low";
        for (int i = 1; i < count; i++)
            strcat(text, ", low");
        strcat(text, "] " PLACES);
        Compilation *made = compiled(text, count > 32, 0);
        if (count > 32)
            assert_string_equal(made->findings.list.items[0].message,
                                "this rod has 33 sections; at most 32 are allowed");
        turnlay_free(made);
    }
}

static void test_most_overlap(void **state)
{
    (void)state;
    static const char *const how[] = {"0 mm", "50 cm", "50.01 cm", "-0.01 mm"};
    for (uint32_t i = 0; i < 4; i++) {
        char text[LONGEST_TEXT];
        sprintf(text, BLANKS "rod \"Two\" on [low, high] overlap: %s " PLACES, how[i]);
        Compilation *made =
            compiled(text, i > 1, i == 1); /* half of a section is too thick to go into the other */
        turnlay_free(made);
    }
    static const char *const lengths[][2] = {{"100 cm", "80 cm"}, {"80 cm", "100 cm"}};
    for (uint32_t i = 0; i < 2; i++) {
        char text[LONGEST_TEXT];
        sprintf(text,
                THREAD "blank low { at 0 cm: 13 mm  at %s: 8 mm }\nblank high { at 0 cm: 12 mm  at %s: 3 mm }\n"
                       "rod \"Two\" on [low, high] overlap: 60 cm " PLACES,
                lengths[i][0], lengths[i][1]);
        Compilation *made = compiled(text, 1, 0);
        const char *half = i ? "half of low" : "half of high";
        assert_non_null(strstr(made->findings.list.items[0].message, half));
        turnlay_free(made);
    }
}

/* Whether two sections fit: the outer one has to be thicker at both ends of the joint. */
static void test_fit(void **state)
{
    (void)state;
    static const struct {
        const char *high, *how;
        const char *mend; /* the edit's text; NULL where they fit, "" where there is none */
    } cases[] = {
        {"at 0 cm: 8.4 mm  at 100 cm: 3 mm", "overlap: 6 cm", NULL},
        {"at 0 cm: 8.2 mm  at 100 cm: 3 mm", "overlap: 6 cm", " inside: tip"},
        {"at 0 cm: 8.4 mm  at 6 cm: 7.9 mm  at 100 cm: 3 mm", "overlap: 6 cm", ""}, /* too thin at the other end */
        {"at 0 cm: 8.4 mm  at 6 cm: 8.01 mm  at 100 cm: 3 mm", "overlap: 6 cm", NULL},
        {"at 0 cm: 7 mm  at 100 cm: 3 mm", "overlap: 6 cm", " inside: tip"},
        {"at 0 cm: 7 mm  at 100 cm: 3 mm", "overlap: 6 cm inside: butt", "tip"},
        {"at 0 cm: 7 mm  at 100 cm: 3 mm", "overlap: 6 cm inside: tip", NULL},
        {"at 0 cm: 7 mm  at 6 cm: 8 mm  at 100 cm: 3 mm", "overlap: 6 cm inside: tip", ""},
        {"at 0 cm: 8.31 mm  at 100 cm: 8 mm", "overlap: 6 cm inside: tip", "butt"},
        {"at 0 cm: 7 mm  at 100 cm: 3 mm", "", NULL}, /* where nothing overlaps nothing has to fit */
        {"at 0 cm: 14 mm  at 100 cm: 13.2 mm", "", "high, low"},
        {"at 0 cm: 14 mm  at 100 cm: 12.6 mm", "overlap: 6 cm", "high, low"},
        {"at 0 cm: 14 mm  at 100 cm: 13.2 mm", "overlap: 6 cm", ""}, /* low is too thin to go over it */
        {"at 0 cm: 14 mm  at 100 cm: 13.2 mm", "overlap: 6 cm inside: tip", "high, low"},
        {"at 0 cm: 14 mm  at 100 cm: 12 mm", "overlap: 6 cm inside: tip", ""},
        {"at 0 cm: 13 mm  at 100 cm: 12.6 mm", "overlap: 6 cm", NULL},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char text[LONGEST_TEXT];
        sprintf(
            text,
            THREAD
            "blank low { at 0 cm: 13 mm  at 100 cm: 8 mm }\nblank high { %s }\nrod \"Two\" on [low, high] %s " PLACES,
            cases[i].high, cases[i].how);
        Compilation *made = compiled(text, 0, cases[i].mend != NULL);
        const Finding *finding = cases[i].mend ? &made->findings.list.items[0] : NULL;
        if (finding
            && (finding->code != FINDING_SECTIONS_DO_NOT_FIT || finding->has_edit != (*cases[i].mend != 0)))
            fail_msg("%s %s", cases[i].high, cases[i].how);
        if (finding && *cases[i].mend)
            assert_string_equal(finding->edit.text, cases[i].mend);
        turnlay_free(made);
    }
}

/* Three named from the tip on are turned round as a whole, unless each joint has an overlap of its own. */
static void test_three_turned_round(void **state)
{
    (void)state;
    for (int own = 0; own < 2; own++) {
        char text[LONGEST_TEXT];
        sprintf(
            text,
            BLANKS
            "blank top { at 0 cm: 3.6 mm  at 50 cm: 2 mm }\nrod \"Three\" on [top, high, low] overlap: %s " PLACES,
            own ? "[6 cm, 5 cm]" : "6 cm");
        Compilation *made = compiled(text, 0, 1);
        const Finding *finding = &made->findings.list.items[0];
        assert_int_equal(finding->has_edit, !own);
        if (!own)
            assert_string_equal(finding->edit.text, "low, high, top");
        turnlay_free(made);
    }
}

/* A section's diameter at its own butt end is guessed from its first two stations. */
static void test_station_at_the_butt(void **state)
{
    (void)state;
    Compilation *made =
        compiled(THREAD "blank low { at 0 cm: 13 mm  at 100 cm: 8 mm }\n"
                        "blank high { at 5 cm: 8.16 mm  at 105 cm: 3.16 mm }\nrod \"Two\" on [low, high] "
                        "overlap: 6 cm " PLACES,
                 1, 0);
    assert_string_equal(made->findings.list.items[0].edit.text, "at 0 mm: 8.4 mm  ");
    turnlay_free(made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_where_two_lie),
        cmocka_unit_test(test_stations_in_a_joint),
        cmocka_unit_test(test_any_sections),
        cmocka_unit_test(test_turns_up_to_a_joint),
        cmocka_unit_test(test_turns_from_a_joint),
        cmocka_unit_test(test_order_of_work),
        cmocka_unit_test(test_guide_by_its_foot),
        cmocka_unit_test(test_across_a_joint),
        cmocka_unit_test(test_no_room_beside_a_joint),
        cmocka_unit_test(test_mends_mind_the_joint),
        cmocka_unit_test(test_off_the_end),
        cmocka_unit_test(test_what_is_written),
        cmocka_unit_test(test_one_section),
        cmocka_unit_test(test_from_the_tip),
        cmocka_unit_test(test_hidden),
        cmocka_unit_test(test_names),
        cmocka_unit_test(test_most_sections),
        cmocka_unit_test(test_most_overlap),
        cmocka_unit_test(test_fit),
        cmocka_unit_test(test_three_turned_round),
        cmocka_unit_test(test_station_at_the_butt),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
