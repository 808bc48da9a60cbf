/* What shows at a point of a crosswrap, against trying every leg of every pass in laying order. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "crossed.h"

/* What was tried, over all crosswraps. */
typedef struct Tried {
    uint32_t points, left_out;
    uint32_t bare, out, back, beneath_spacers, deep; /* deep: more than one leg covers the point */
} Tried;

/* How far a point lies across the strands from the line of one start's leg, on the nearest of its windings: the
 * windings of a leg lie its lead apart along the blank, which is lead cos b across. */
typedef struct Crosswise {
    double from_line, apart;
} Crosswise;

static Crosswise crosswise(const PlannedCrosswrap *planned, Leg leg, double x, double turn)
{
    double lead = planned->lead[leg], cosine = 1 / own_secant(planned, leg, x);
    double way = (leg == LEG_OUT ? 1 : -1) * planned->sense * (turn - planned->base) * lead;
    double line = planned->field_start + planned->direction * way;
    int toward = planned->direction * planned->sense * (leg == LEG_OUT ? 1 : -1);
    return (Crosswise){(x - line) * cosine, toward * lead * cosine};
}

typedef struct Found {
    bool near_edge, covered;
    uint32_t pass, covering;
    bool spacer_above;
    Leg leg;
} Found;

/* The strand of this pass lies there if the point is not farther from its middle than half its width. */
static void try_leg(const PlannedCrosswrap *planned, uint32_t pass, Leg leg, const Crosswise *point, Found *found)
{
    const double edge = 1e-7;
    const BundleStrand *strand = &planned->strands[pass / planned->starts];
    double start = planned->sense * (double)(pass % planned->starts) / planned->starts;
    double off = point->from_line + start * point->apart - strand->middle;
    double away = fabs(off - point->apart * nearbyint(off / point->apart)) - strand->width / 2;
    found->near_edge |= fabs(away) < edge;
    if (away > 0)
        return;
    if (strand->spacer) {
        found->spacer_above = true;
        return;
    }
    found->covering++;
    found->covered = true;
    found->spacer_above = false;
    found->pass = pass;
    found->leg = leg;
}

static Found try_all(const PlannedCrosswrap *planned, double x, double turn)
{
    Found found = {.covered = false};
    Crosswise point[LEG_COUNT];
    uint32_t legs = last_leg(planned) + 1;
    for (Leg leg = LEG_OUT; leg < legs; leg++)
        point[leg] = crosswise(planned, leg, x, turn);
    for (uint32_t pass = 0; pass < planned->strand_count * planned->starts; pass++)
        for (Leg leg = LEG_OUT; leg < legs; leg++)
            try_leg(planned, pass, leg, &point[leg], &found);
    return found;
}

static void check_point(const PlannedCrosswrap *planned, double x, double turn, Tried *tried)
{
    Found found = try_all(planned, x, turn);
    tried->points++;
    if (found.near_edge) {
        tried->left_out++;
        return;
    }
    SeenStrand shown = {NO_PASS, LEG_COUNT};
    bool covered = crosswrap_shows(planned, x, turn, &shown);
    if (covered != found.covered || (covered && (shown.pass != found.pass || shown.leg != found.leg)))
        fail_msg("at %.9f mm, %.9f turns shows %s pass %u leg %d, not %s pass %u leg %d", x, turn,
                 covered ? "a thread:" : "nothing:", shown.pass, (int)shown.leg,
                 found.covered ? "a thread:" : "nothing:", found.pass, (int)found.leg);
    tried->bare += !covered;
    tried->out += covered && found.leg == LEG_OUT;
    tried->back += covered && found.leg == LEG_BACK;
    tried->beneath_spacers += found.spacer_above;
    tried->deep += found.covering > 1;
}

/* Points all over the layer, end bands too: what lies beneath them is the same rule. Turns are not taken back to
 * one. */
static void check_points(const PlannedCrosswrap *planned, int count, uint64_t *random, Tried *tried)
{
    for (int i = 0; i < count; i++)
        check_point(planned, between(random, planned->low, planned->high), between(random, -2, 3), tried);
}

enum { CROSSWRAPS = 100, POINTS = 10000 };

/* Of a million points only some on the edges are left out: a strand's two edges are 4e-7 mm of its breadth, and
 * there are some dozens of strands to a bundle's room of millimetres. */
static void test_a_million_points(void **state)
{
    (void)state;
    uint64_t random = 201;
    Tried tried = {0};
    for (int i = 0; i < CROSSWRAPS; i++) {
        Recipe recipe = random_recipe(&random);
        Crossed made = crossed_recipe(&recipe);
        if (made.planned)
            check_points(made.planned, POINTS, &random, &tried);
        else
            i--; /* another in its place */
        crossed_end(&made);
    }
    assert_int_equal(tried.points, 1000000);
    assert_true(tried.left_out < 100);
    assert_true(tried.bare > 100000);
    assert_true(tried.out > 100000);
    assert_true(tried.back > 100000);
    assert_true(tried.deep > 100000);
    assert_true(tried.beneath_spacers > 10000);
}

/* Fields closed by `strand fill`: one of each kind. Where the blank is thickest the strands come within half a
 * strand of closing, at the thin end they overlap; so next to nothing stays bare. */
static void test_closed_fields(void **state)
{
    (void)state;
    uint64_t random = 202;
    for (int kind = 0; kind < 3; kind++)
        for (uint32_t starts = 1; starts <= 3; starts++) {
            Recipe recipe = {.kind = (CrosswrapKind)kind,
                             .ends = "tape",
                             .mark = 300,
                             .length = 80,
                             .diameters = {9, 8, 7},
                             .starts = starts,
                             .leads = {1, 1},
                             .facing = 1,
                             .crossings = 4,
                             .turns = 4,
                             .end_turns = 10,
                             .line_count = 2,
                             .fill = true,
                             .lines = {{2, 0, false}, {0, 1, false}}};
            Crossed made = crossed_recipe(&recipe);
            Tried tried = {0};
            check_points(made.planned, POINTS, &random, &tried);
            double open = fmax(0, fmax(made.planned->ends[0].left, made.planned->ends[1].left));
            assert_true(open <= (kind == CROSSWRAP_DIAMOND ? 1 : 0.5) * recipe_pitch(1) + 1e-9);
            /* both hands leave open what is open of the one times what is open of the other */
            assert_true(tried.bare <= POINTS * (open / made.planned->ends[0].room + 0.02));
            crossed_end(&made);
        }
}

/* Nothing of a single strand lies a strand's width beside it; on it, it shows; where it crosses itself the leg
 * back does. Numbers by hand: cylinder of 12 mm, lead 20 mm, line up at 0 turns 10 mm from the field's start. */
static void test_one_strand(void **state)
{
    (void)state;
    static const char text[] =
        "edition 1\nthread navy { diameter: 0.15 mm }\nbench { units: mm }\n"
        "blank tube { at 0 mm: 12 mm  at 1000 mm: 12 mm }\n"
        "rod \"Tested\" on tube { at 100 mm length: 63 mm { chevron crossings: 3 ends: 10 turns of navy {\n"
        "strand 1 of navy } } }\n";
    Crossed made = crossed(text);
    const PlannedCrosswrap *planned = made.planned;
    double along = 0.15 / cos(atan(20 / (TRADE_PI * 12.15))); /* of the blank, that the strand covers */
    SeenStrand shown;
    for (int crossing = 0; crossing < 3; crossing++) {
        double x = 111.5 + 20 * crossing;
        assert_true(crosswrap_shows(planned, x, 0, &shown));
        assert_int_equal(shown.leg, LEG_BACK);
        assert_true(crosswrap_shows(planned, x - 10, 0.5, &shown)); /* the lines opposite */
        assert_false(crosswrap_shows(planned, x - 10, 0, &shown));
        for (int side = -1; side <= 1; side += 2) {
            assert_true(crosswrap_shows(planned, x + side * 0.499 * along, 0, &shown));
            assert_false(crosswrap_shows(planned, x + side * 0.501 * along, 0, &shown));
        }
    }
    /* a quarter turn on, counter-clockwise seen from the butt, the leg out has come 5 mm farther, the leg back 5
     * mm less far */
    assert_true(crosswrap_shows(planned, 116.5, -0.25, &shown));
    assert_int_equal(shown.leg, LEG_OUT);
    assert_true(crosswrap_shows(planned, 106.5, -0.25, &shown));
    assert_int_equal(shown.leg, LEG_BACK);
    crossed_end(&made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        OF_TEXTS(test_a_million_points),
        OF_TEXTS(test_closed_fields),
        OF_TEXTS(test_one_strand),
    };
    return cmocka_run_group_tests_name("crosswraps: what shows", tests, NULL, NULL);
}
