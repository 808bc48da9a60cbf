/* What is offered where a value is missing or of another kind, and the unit that is offered for a bare number: it
 * has to be of the order that such a thing has in the trade, in the units of the file. The bounds are common
 * practice, no source. */
#include "meant.h"

#include "base/units.h"

#include <math.h>

#define METRIC                                                                                                    \
    "edition 1\nthread navy { turns: 67 per cm }\nthread dusk { turns: 67 per cm }\n"                             \
    "blank tube { at 0 mm: 12 mm  at 200 cm: 2 mm }\n"
#define INCHED                                                                                                    \
    "edition 1\nthread navy { turns: 170 per in }\nthread dusk { turns: 170 per in }\n"                           \
    "blank tube { at 0 in: 1/2 in  at 80 in: 3/32 in }\n"

/* Where the value stands, as @; and what such a thing measures in the trade, in mm. */
typedef struct UsualOf {
    const char *form;
    double least, most;
} UsualOf;

static const UsualOf lengths[] = {
    {"rod \"U\" on [tube, tube] overlap: @ { }\n", 30, 120},
    {"rod \"U\" on tube { at @ { band 20 turns of navy } }\n", 100, 1500},
    {"rod \"U\" on tube { at 20 cm length: @ { band fill of navy } }\n", 10, 150},
    {"rod \"U\" on tube { part grip at @ length: 20 cm }\n", 100, 400},
    {"rod \"U\" on tube { part grip at 0 cm length: 20 cm { diameter: @ } }\n", 15, 40},
    {"rod \"U\" on tube { at 20 cm length: 90 mm { under { band fill of navy } over offset: @ { band fill of navy } } }\n",
     1, 6},
    {"rod \"U\" on tube { at 20 cm length: 90 mm { under { band fill of navy } over offset: 1 mm length: @ { band fill of "
     "navy } } }\n",
     10, 80},
    {"blank other { at 0 mm: @  at 200 cm: 2 mm }\n", 5, 20},
    {"rod \"U\" on tube { at 20 cm { band 20 turns of navy measured: @ } }\n", 10, 40},
    {"rod \"U\" on tube { at 20 cm { band 20 turns of navy  gap @  band 20 turns of navy } }\n", 0.5, 5},
    {"rod \"U\" on tube { at 20 cm length: 90 mm { chevron spacing: @ ends: 12 turns of navy { strand 2 of dusk } } }\n",
     12, 40},
    {"rod \"U\" on tube { at 20 cm length: 90 mm { spiral lead: @ ends: 12 turns of navy { strand 2 of dusk } } }\n",
     12, 60},
    {"size fine { diameter: @ }\n", 0.08, 0.4},
    {"thread gold { diameter: @ }\n", 0.08, 0.4},
    {"thread gold { turns: 67 per cm, colours: [#112233, #445566], period: @ }\n", 20, 400},
    {"thread gold { turns: 67 per cm, stock: @ }\n", 50e3, 1000e3},
    {"thread gold { turns: 67 per cm, spool: @ }\n", 50e3, 1000e3},
    {"guide ring { foot: @ }\n", 10, 25},
    {"guide ring { foot: 14 mm, gap: @ }\n", 3, 8},
    {"guide ring { foot: 14 mm, width: @ }\n", 1, 4},
    {"guide ring { foot: 14 mm, height: @ }\n", 0.4, 1.5},
    {"guide ring { foot: 14 mm, ramp: @ }\n", 2, 8},
    {"guide ring { foot: 14 mm, before: @ }\n", 1, 6},
    {"guide ring { foot: 14 mm, ring: @ }\n", 10, 30},
    {"guide ring { foot: 14 mm, tall: @ }\n", 12, 40},
    {"bench { free: @ }\n", 80, 300},
    {"bench { tolerance: @ }\n", 0.2, 1},
    {"bench { rule: @ }\n", 0.3, 1},
    {"bench { hand: @ }\n", 500, 2500},
    {"bench { apart: @ }\n", 0.2, 1},
    {"bench { coat: @ }\n", 0.1, 0.5},
    {"bench { paper: @ }\n", 0.05, 0.2},
    {"bench { near: @ }\n", 300, 1000},
    {"bench { far: @ }\n", 1000, 5000},
};

/* A bare number may be turns there, or of another unit as well. */
static const UsualOf lengths_or_others[] = {
    {"rod \"U\" on tube { at 10 cm until: @ { band fill of navy } }\n", 110, 1500},
    {"rod \"U\" on tube { part grip at 0 cm length: @ }\n", 50, 500},
    {"rod \"U\" on tube { part grip at 0 cm until: @ }\n", 50, 500},
    {"rod \"U\" on tube { at 20 cm { band @ of navy } }\n", 10, 40},
    {"rod \"U\" on tube { at 20 cm length: 90 mm { fade @ of [navy, dusk] } }\n", 10, 80},
};

/* Turns and degrees are the same in both systems. */
static const UsualOf others[] = {
    {"rod \"U\" on tube { at 20 cm angle: @ { band 20 turns of navy } }\n", 10, 40},
    {"rod \"U\" on tube { at 20 cm { band 60 turns of navy { inlay @ of dusk at: 1/2 } } }\n", 1, 6},
    {"rod \"U\" on tube { at 20 cm { band 60 turns of navy { inlay 2 turns of dusk every: @ } } }\n", 9, 20},
    {"rod \"U\" on tube { at 20 cm { band 20 turns of navy  fade to dusk over: @  band 20 turns of dusk } }\n", 12,
     60},
    {"rod \"U\" on tube { at 20 cm length: 90 mm { chevron crossings: 4 ends: @ of navy { strand 2 of dusk } } }\n",
     9, 20},
    {"rod \"U\" on tube { at 20 cm length: 90 mm { spiral turns: @ ends: 12 turns of navy { strand 2 of dusk } } }\n",
     2, 6},
    {"bench { bind: @ }\n", 4, 7},
    {"bench { loop: @ }\n", 3, 6},
    {"bench { final: @ }\n", 6, 12},
    {"bench { pack: @ }\n", 20, 80},
    {"bench { carry: @ }\n", 10, 20},
    {"bench { measure: @ }\n", 20, 80},
    {"bench { flattest: @ }\n", 5, 20},
    {"bench { steepest: @ }\n", 60, 80},
};

/* What callipers are read to is a round number in either system: 0.1 mm, 0.005 in. */
static const UsualOf round_lengths[] = {{"bench { callipers: @ }\n", 0.05, 0.2}};

/* The text of a form in which `value` stands, after the first edit; what stands there then. */
static void offered(const char *before, const char *form, const char *value, char *found)
{
    char whole[LONGEST_TEXT], text[LONGEST_TEXT], mended[LONGEST_TEXT];
    sprintf(whole, "%s%s", before, form);
    write_text(text, whole, value);
    mend(text, mended);
    const char *at = strchr(whole, '@');
    size_t head = (size_t)(at - whole), tail = strlen(at + 1), length = strlen(mended);
    assert_memory_equal(mended, whole, head);
    assert_string_equal(mended + length - tail, at + 1);
    sprintf(found, "%.*s", (int)(length - head - tail), mended + head);
}

/* `3 1/2 in`: the number, with the unit that stands behind it. */
static double amount(const char *text, char *unit)
{
    double number = 0;
    char *rest = (char *)text;
    while (*rest >= '0' && *rest <= '9') {
        double part = strtod(rest, &rest);
        if (*rest == '/')
            part /= strtod(rest + 1, &rest);
        number += part;
        rest += strspn(rest, " ");
    }
    strcpy(unit, rest);
    return number;
}

static double millimetres(const char *text, bool inches)
{
    static const struct {
        const char *unit;
        bool inches;
        double factor;
    } units[] = {{"mm", false, 1},   {"cm", false, 10},   {"m", false, 1000},
                 {"in", true, 25.4}, {"ft", true, 304.8}, {"yd", true, 914.4}};
    char unit[40];
    double number = amount(text, unit);
    for (size_t i = 0; i < sizeof units / sizeof *units; i++)
        if (strcmp(unit, units[i].unit) == 0 && units[i].inches == inches)
            return number * units[i].factor;
    fail_msg("`%s` is no length in %s", text, inches ? "inches" : "millimetres");
    return 0;
}

static void assert_between(const UsualOf *row, const char *found, double number)
{
    if (!(number >= row->least && number <= row->most))
        fail_msg("%s\n`%s` is not of the order that it has: %g to %g", row->form, found, row->least, row->most);
}

/* A value of another kind stands there. */
static void check_length(const UsualOf *row)
{
    char metric[LONGEST_TEXT], inches[LONGEST_TEXT];
    offered(METRIC, row->form, "yes", metric);
    offered(INCHED, row->form, "yes", inches);
    double one = millimetres(metric, false), other = millimetres(inches, true);
    assert_between(row, metric, one);
    assert_between(row, inches, other);
    if (fabs(one - other) > 0.25 * one)
        fail_msg("%s\n`%s` and `%s` are not about the same", row->form, metric, inches);
}

static void round_in_either_system(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof round_lengths / sizeof *round_lengths; i++) {
        char metric[LONGEST_TEXT], inches[LONGEST_TEXT];
        offered(METRIC, round_lengths[i].form, "yes", metric);
        offered(INCHED, round_lengths[i].form, "yes", inches);
        assert_between(&round_lengths[i], metric, millimetres(metric, false));
        assert_between(&round_lengths[i], inches, millimetres(inches, true));
    }
}

static void lengths_of_the_trade(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof lengths / sizeof *lengths; i++)
        check_length(&lengths[i]);
    for (size_t i = 0; i < sizeof lengths_or_others / sizeof *lengths_or_others; i++)
        check_length(&lengths_or_others[i]);
}

/* The number alone stands there: it has the unit in which such a thing is measured. */
static void numbers_without_unit(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof lengths / sizeof *lengths; i++)
        for (unsigned inches = 0; inches < 2; inches++) {
            char usual[LONGEST_TEXT], bare[LONGEST_TEXT], found[LONGEST_TEXT];
            offered(inches ? INCHED : METRIC, lengths[i].form, "yes", usual);
            sprintf(bare, "%.*s", (int)(strrchr(usual, ' ') - usual), usual);
            offered(inches ? INCHED : METRIC, lengths[i].form, bare, found);
            assert_between(&lengths[i], found, millimetres(found, inches));
        }
}

static void turns_and_degrees(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof others / sizeof *others; i++) {
        char metric[LONGEST_TEXT], inches[LONGEST_TEXT], unit[40];
        offered(METRIC, others[i].form, "yes", metric);
        offered(INCHED, others[i].form, "yes", inches);
        assert_string_equal(metric, inches);
        assert_between(&others[i], metric, amount(metric, unit));
        assert_true(strcmp(unit, "turns") == 0 || strcmp(unit, "deg") == 0);
    }
}

/* A number takes the unit that the file writes at such spots, in whatever block it does. */
static void units_of_the_file(void **state)
{
    (void)state;
#define GAPS "band 9 turns of navy gap 1 cm band 9 turns of navy gap 2 cm band 9 turns of navy"
#define SEEN_AT "rod \"S\" on tube { at 20 cm { "
    static const char *const seen[] = {
        SEEN_AT GAPS " } }\n",
        SEEN_AT "if yes { " GAPS " } } }\n",
        SEEN_AT "if no { band 9 turns of navy } else { " GAPS " } } }\n",
        SEEN_AT "if no { band 9 turns of navy } else if yes { " GAPS " } } }\n",
        SEEN_AT "for i in 1 to 2 { " GAPS " } } }\n",
        SEEN_AT "repeat 2 { " GAPS " } } }\n",
        SEEN_AT "mirror { " GAPS " } } }\n",
        SEEN_AT "symmetric { " GAPS " } } }\n",
        SEEN_AT "under { band 90 turns of navy } over { " GAPS " } } }\n",
        SEEN_AT "under { " GAPS " } over { band 90 turns of navy } } }\n",
        "rod \"S\" on tube { series { at [20 cm, 40 cm] " GAPS " } }\n",
        "pattern apart() { " GAPS " }\n" SEEN_AT "apart() } }\n",
    };
    static const char form[] =
        "rod \"U\" on tube { at 60 cm { band 9 turns of navy gap @ band 9 turns of navy } }\n";
    char found[LONGEST_TEXT];
    offered(METRIC, form, "3", found);
    assert_string_equal(found, "3 mm");
    for (size_t i = 0; i < sizeof seen / sizeof *seen; i++) {
        char before[LONGEST_TEXT];
        sprintf(before, "%s%s", METRIC, seen[i]);
        offered(before, form, "3", found);
        if (strcmp(found, "3 cm") != 0)
            fail_msg("%s: %s", seen[i], found);
    }
}

/* Where a thread stands and something else belongs: one of each kind, for whoever does not know how it is written.
 */
#define CALLED(kind) "pattern p(it: " kind ") { band 9 turns of navy } rod \"U\" on tube { at 20 cm { p(@) } }\n"
#define CROSSED                                                                                                   \
    "rod \"U\" on tube { at 20 cm length: 90 mm { chevron @ ends: 12 turns of navy { strand 2 of navy } } }\n"

static void an_example_of_each_kind(void **state)
{
    (void)state;
    static const struct {
        const char *form, *metric, *inches;
    } kinds[] = {
        {CALLED("turns"), "8 turns", "8 turns"},
        {CALLED("length"), "9 mm", "3/8 in"},
        {CALLED("count"), "4", "4"},
        {CALLED("ratio"), "1/2", "1/2"},
        {CALLED("angle"), "45 deg", "45 deg"},
        {CALLED("truth"), "yes", "yes"},
        {CALLED("text"), "\"text\"", "\"text\""},
    };
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++) {
        char form[LONGEST_TEXT];
        sprintf(form, "%s%s", METRIC, kinds[i].form);
        check(form, &(Slip){"navy", kinds[i].metric}, 1);
        sprintf(form, "%s%s", INCHED, kinds[i].form);
        check(form, &(Slip){"navy", kinds[i].inches}, 1);
    }
    static const Slip spaced[] = {{"crossings: 3 leads: navy", "crossings: 3 leads: [1, 1]"},
                                  {"angle: navy", "angle: 45 deg"}};
    CHECK(METRIC CROSSED, spaced);
    static const Slip rates[] = {{"turns: navy", "turns: 67 per cm"},
                                 {"turns: 67 per cm, colours: yes, period: 9 cm",
                                  "turns: 67 per cm, colours: [#22346b, #dfe9ef], period: 9 cm"}};
    CHECK(METRIC "thread gold { @ }\n", rates);
    static const Slip inch_rates[] = {{"turns: navy", "turns: 170 per in"}};
    CHECK(INCHED "thread gold { @ }\n", inch_rates);
    static const Slip runs[] = {{"runs: navy", "runs: [in 1 out 2, in 2 out 1]"}};
    CHECK(METRIC "rod \"U\" on tube { at 20 cm { band 9 turns of navy  fade to dusk @  band 9 turns of dusk } }\n",
          runs);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_example_of_each_kind), cmocka_unit_test(lengths_of_the_trade),
        cmocka_unit_test(round_in_either_system),  cmocka_unit_test(numbers_without_unit),
        cmocka_unit_test(turns_and_degrees),       cmocka_unit_test(units_of_the_file),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
