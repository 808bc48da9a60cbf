/* How long a crosswrap's threads are, where they turn round, how its field closes and whether it slips: plans
 * compiled from random texts, held against the reference's rules by numerical integration and by arithmetic of
 * the tests' own. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "crossed.h"

#define DEGREES (180 / TRADE_PI)

/* ---- lengths ---- */

/* One leg of a strand, on one of its cones. */
typedef struct StrandOnCone {
    const PlannedCrosswrap *planned;
    const BundleStrand *strand;
    Leg leg;
    const SurfaceStretch *stretch;
} StrandOnCone;

/* ds/dx of the strand's centre line, half its thread above the surface; its turning by a difference that stays
 * on the cone. */
static double true_arc(double x, void *given)
{
    const StrandOnCone *strand = given;
    const SurfaceStretch *stretch = strand->stretch;
    double step = 1e-4, edge = 1e-9;
    double from = fmax(x - step, stretch->from + edge), to = fmin(x + step, stretch->to - edge);
    double turning = 2 * TRADE_PI / (to - from)
                     * (crosswrap_turn(strand->planned, 0, strand->leg, strand->strand->middle, to)
                        - crosswrap_turn(strand->planned, 0, strand->leg, strand->strand->middle, from));
    double slope = (stretch->diameter_to - stretch->diameter_from) / (stretch->to - stretch->from) / 2;
    double surface = stretch->diameter_from + slope * 2 * (x - stretch->from);
    double radius = (surface + strand->strand->thread->diameter) / 2;
    return sqrt(1 + slope * slope + radius * radius * turning * turning);
}

/* Between two places, stretch by stretch. A fixed rule: the difference's noise would stop an adaptive one. */
static double true_length(StrandOnCone strand, double low, double high)
{
    enum { PIECES = 16, POINTS = 8 };
    double length = 0;
    gsl_integration_glfixed_table *table = gsl_integration_glfixed_table_alloc(POINTS);
    for (uint32_t i = 0; i < strand.planned->stretch_count; i++) {
        strand.stretch = &strand.planned->stretches[i];
        double from = fmax(low, strand.stretch->from), to = fmin(high, strand.stretch->to);
        gsl_function arc = {true_arc, &strand};
        for (int piece = 0; piece < PIECES && from < to; piece++)
            length += gsl_integration_glfixed(&arc, from + (to - from) * piece / PIECES,
                                              from + (to - from) * (piece + 1) / PIECES, table);
    }
    gsl_integration_glfixed_table_free(table);
    return length;
}

/* A helix of the leg's lead. */
static double helix_between(const StrandOnCone *strand, double low, double high)
{
    double length = 0, thread = strand->strand->thread->diameter;
    for (uint32_t i = 0; i < strand->planned->stretch_count; i++) {
        const SurfaceStretch *at = &strand->planned->stretches[i];
        double from = fmax(low, at->from), to = fmin(high, at->to);
        double slope = (at->diameter_to - at->diameter_from) / (at->to - at->from);
        if (from < to)
            length += cone_helix_length((at->diameter_from + slope * (from - at->from) + thread) / 2,
                                        (at->diameter_from + slope * (to - at->from) + thread) / 2, to - from,
                                        strand->planned->lead[strand->leg]);
    }
    return length;
}

/* Each leg by integrating its true curve; a strand on the bundle's line is a helix on its cones as well. */
static void check_lengths(const Recipe *recipe, const Crossed *made, uint64_t *random)
{
    (void)recipe;
    const PlannedCrosswrap *planned = made->planned;
    for (int i = 0; i < 4; i++) {
        uint32_t pass = i ? any_of(random, 0, planned->pass_count - 1) : 0;
        const BundleStrand *strand = &planned->strands[pass_strand(planned, pass)];
        for (Leg leg = LEG_OUT; leg <= last_leg(planned); leg++) {
            double length = planned->passes[pass].length[leg];
            StrandOnCone curve = {.planned = planned, .leg = leg, .strand = strand};
            assert_near(length, true_length(curve, planned->low, planned->high), 1e-9);
            if (fabs(strand->middle) < 1e-12)
                assert_near(length, helix_between(&curve, planned->low, planned->high), 1e-10);
        }
        if (last_leg(planned) == LEG_OUT)
            assert_true(planned->passes[pass].length[LEG_BACK] == 0);
    }
}

static void test_lengths(void **state)
{
    (void)state;
    for_recipes(107, 150, check_lengths);
}

/* The same on cones far steeper than a rod, where a strand far from the line has hardly its lead any more. */
static void test_lengths_on_steep_cones(void **state)
{
    (void)state;
    uint64_t random = 114;
    for (int i = 0; i < 100; i++) {
        Recipe recipe = random_recipe(&random);
        recipe.diameters[i % 2 * 2] = 3 + between(&random, 0, 1);
        recipe.diameters[1] = 20;
        recipe.diameters[2 - i % 2 * 2] = 60;
        Crossed made = crossed_recipe(&recipe);
        if (made.planned)
            check_lengths(&recipe, &made, &random);
        else
            i--; /* another in its place */
        crossed_end(&made);
    }
}

/* ---- turning round, pieces ---- */

/* Degrees in the sense of turning from one leg's end to the next one's beginning at x, 0 <= degrees < 360. */
static double way_on(const PlannedCrosswrap *planned, double from, double to)
{
    double turns = planned->sense * (to - from);
    return FULL_TURN * (turns - floor(turns));
}

/* A thread that asks for all of the friction while it turns: dphi = da / (friction sin(a)), a from the axis (see
 * test_trade_crosswrap). */
static double way_round_rate(double a, void *friction) { return 1 / (*(double *)friction * sin(a)); }

static double angle_from_axis(const PlannedCrosswrap *planned, Leg leg, double x)
{
    const SurfaceStretch *at = &planned->stretches[x > planned->low ? planned->stretch_count - 1 : 0];
    double slope = (at->diameter_to - at->diameter_from) / (at->to - at->from) / 2;
    double round = TRADE_PI * (own_diameter(planned, x) + planned->thread_diameter);
    return atan(round / (planned->lead[leg] * sqrt(1 + slope * slope)));
}

/* Held by tape or pins less than a turn; by friction alone as many whole turns more as it needs: from the angle
 * of the leg that arrives up to 90 degrees, and from there down to that of the leg that leaves. */
static void check_way_round(const Crossed *made, double found, double x)
{
    const PlannedCrosswrap *planned = made->planned;
    const Bench *bench = &made->compilation->job->bench;
    if (bench->ends != HOLD_NONE) {
        assert_true(found >= 0 && found < FULL_TURN);
        return;
    }
    double needed = 0, friction = bench->friction;
    for (Leg leg = LEG_OUT; leg <= LEG_BACK; leg++)
        needed += integral(way_round_rate, &friction, angle_from_axis(planned, leg, x), TRADE_PI / 2) * DEGREES;
    assert_true(found >= needed - 1e-9);
    assert_true(found < FULL_TURN || found - FULL_TURN < needed);
}

static void check_turning(const Recipe *recipe, const Crossed *made, uint64_t *random)
{
    (void)random;
    const PlannedCrosswrap *planned = made->planned;
    double far = turning_place(planned, true), near = turning_place(planned, false);
    for (uint32_t pass = 0; pass < planned->pass_count; pass++) {
        const Pass *at = &planned->passes[pass];
        if (recipe->kind == CROSSWRAP_SPIRAL) {
            assert_true(at->dwell == 0);
            assert_true(at->dwell_before == 0);
            continue;
        }
        uint32_t start = pass % planned->starts;
        double across = planned->strands[pass / planned->starts].middle;
        assert_same_way(at->dwell, way_on(planned, crosswrap_turn(planned, start, LEG_OUT, across, far),
                                          crosswrap_turn(planned, start, LEG_BACK, across, far)));
        check_way_round(made, at->dwell, far);
        if (at->wound_before == 0) {
            assert_true(at->dwell_before == 0);
            continue;
        }
        uint32_t start_before = (pass - 1) % planned->starts;
        double across_before = planned->strands[(pass - 1) / planned->starts].middle;
        assert_same_way(at->dwell_before,
                        way_on(planned, crosswrap_turn(planned, start_before, LEG_BACK, across_before, near),
                               crosswrap_turn(planned, start, LEG_OUT, across, near)));
        check_way_round(made, at->dwell_before, near);
    }
}

static void test_turning_round(void **state)
{
    (void)state;
    for_recipes(108, 300, check_turning);
}

static bool a_piece_alone(const PlannedCrosswrap *planned, uint32_t pass)
{
    if (pass == 0 || leg_count(planned) == 1)
        return false;
    const BundleStrand *strand = &planned->strands[pass / planned->starts];
    const BundleStrand *before = &planned->strands[(pass - 1) / planned->starts];
    return strand->thread == before->thread && strand->spacer == before->spacer;
}

/* From where a leg begins up to x, by integrating its true curve. */
static double wound_on_leg(const PlannedCrosswrap *planned, uint32_t pass, Leg leg, double x)
{
    StrandOnCone curve = {.planned = planned, .leg = leg, .strand = &planned->strands[pass / planned->starts]};
    bool rising = (planned->direction > 0) == (leg == LEG_OUT);
    return rising ? true_length(curve, planned->low, x) : true_length(curve, x, planned->high);
}

/* Round the blank at one end of the layer, half a thread above the surface; and where tape or pins hold it, 10 mm
 * out onto them and back. */
static double way_round_there(const Crossed *made, uint32_t pass, bool far, double angle)
{
    const PlannedCrosswrap *planned = made->planned;
    double beyond = made->compilation->job->bench.ends == HOLD_NONE ? 0 : 2 * 10;

    double x = turning_place(planned, far);
    const BundleStrand *strand = &planned->strands[pass / planned->starts];
    double diameter = own_diameter(planned, fmin(x, planned->high - 1e-9)) + strand->thread->diameter;
    return angle / FULL_TURN * TRADE_PI * diameter + beyond;
}

/* What is wound of the piece up to places on this pass, begun with so much; gives it with the pass. */
static double check_wound(const Crossed *made, uint32_t pass, double wound, uint64_t *random)
{
    const PlannedCrosswrap *planned = made->planned;
    const Pass *at = &planned->passes[pass];
    assert_within(at->wound_before, wound, 1e-6);
    for (Leg leg = LEG_OUT; leg <= last_leg(planned); leg++) {
        if (leg == LEG_BACK)
            wound += way_round_there(made, pass, true, at->dwell);
        double x = any_place(planned, random);
        assert_within(crosswrap_wound(planned, pass, leg, x), wound + wound_on_leg(planned, pass, leg, x), 1e-6);
        assert_within(crosswrap_wound(planned, pass, leg, turning_place(planned, leg == LEG_BACK)), wound, 1e-6);
        wound += at->length[leg];
        assert_within(crosswrap_wound(planned, pass, leg, turning_place(planned, leg == LEG_OUT)), wound, 1e-6);
    }
    return wound;
}

/* The next piece of this layer that winds passes. */
static const Piece *next_piece(const Crossed *made, uint32_t *from)
{
    const PlannedRod *rod = &made->compilation->plan->rods[0];
    for (; *from < rod->piece_count; ++*from)
        if (rod->pieces[*from].layer == made->layer_index && rod->pieces[*from].pass_count)
            return &rod->pieces[(*from)++];
    return NULL;
}

/* The pieces of the layer, each so many passes of one thread, and what is wound of them, by adding up. */
static void check_pieces(const Recipe *recipe, const Crossed *made, uint64_t *random)
{
    (void)recipe;
    const PlannedCrosswrap *planned = made->planned;
    const Piece *piece;
    uint32_t pass = 0, from = 0;
    while ((piece = next_piece(made, &from)) != NULL) {
        const BundleStrand *strand = &planned->strands[pass / planned->starts];
        assert_int_equal(piece->first_pass, pass);
        assert_ptr_equal(piece->thread, strand->thread);
        assert_true(piece->spacer == strand->spacer);
        assert_int_equal(piece->turns, 0);
        double wound = 0;
        for (bool first = true; first || (pass < planned->pass_count && a_piece_alone(planned, pass)); pass++) {
            if (!first)
                wound += way_round_there(made, pass, false, planned->passes[pass].dwell_before);
            else
                assert_true(planned->passes[pass].dwell_before == 0);
            first = false;
            wound = check_wound(made, pass, wound, random);
        }
        assert_int_equal(piece->first_pass + piece->pass_count, pass);
        assert_within(piece->wound, wound, 1e-6);
    }
    assert_int_equal(pass, planned->pass_count);
}

static void test_pieces(void **state)
{
    (void)state;
    for_recipes(109, 200, check_pieces);
}

/* ---- closing, slip ---- */

/* Bands that go round once are pi (D + d) cos(alpha) / w, alpha from the axis: eq. 2 of the paper that
 * test_trade_crosswrap.c names in full. */
static void check_ends(const Recipe *recipe, const Crossed *made, uint64_t *random)
{
    (void)random;
    const PlannedCrosswrap *planned = made->planned;
    for (int end = 0; end < 2; end++) {
        const FieldEnd *at = &planned->ends[end];
        double x = (end ? fmax : fmin)(planned->field_start, planned->field_end);
        assert_within(at->position, x, 1e-9);
        assert_within(at->diameter, recipe_surface(recipe, x), 1e-9);
        double round = TRADE_PI * (recipe_surface(recipe, x) + planned->thread_diameter), count = INFINITY;
        for (Leg leg = LEG_OUT; leg <= last_leg(planned); leg++) {
            assert_near(at->angle[leg], atan(planned->lead[leg] / round), 1e-9);
            double from_axis = atan(round / planned->lead[leg]);
            count = fmin(count, round * cos(from_axis) / planned->width);
        }
        if (last_leg(planned) == LEG_OUT)
            assert_true(at->angle[LEG_BACK] == 0);
        assert_near(at->room, count * planned->width / planned->starts, 1e-9);
        assert_within(at->left, at->room - planned->width, 1e-9);
        /* of the last line's strands, with all others, so many come nearest to closing: a diamond's on both
         * sides the same */
        const BundleStrand *last = &planned->strands[planned->strand_count - 1];
        if (last->line + 1 < recipe->line_count)
            continue; /* a fill that found no room */
        double others = 0, step = last->width * (recipe->kind == CROSSWRAP_DIAMOND && last->line > 0 ? 2 : 1);
        for (uint32_t i = 0; i < planned->strand_count; i++)
            others += planned->strands[i].line == last->line ? 0 : planned->strands[i].width;
        assert_true(at->closing >= 0 && at->closing == floor(at->closing));
        if (others > at->room)
            assert_true(at->closing == 0);
        else
            assert_within(others + at->closing * last->width, at->room, step / 2 + 1e-9);
    }
}

static void test_field_ends(void **state)
{
    (void)state;
    for_recipes(110, 300, check_ends);
}

/* Greatest tendency of the helix on its cone, sought at many places of every stretch. */
static void check_slip(const Recipe *recipe, const Crossed *made, uint64_t *random)
{
    (void)recipe, (void)random;
    const PlannedCrosswrap *planned = made->planned;
    double greatest = 0, there = 0;
    for (uint32_t i = 0; i < planned->stretch_count; i++) {
        const SurfaceStretch *at = &planned->stretches[i];
        double slope = (at->diameter_to - at->diameter_from) / (at->to - at->from) / 2;
        for (int part = 0; part <= 100; part++)
            for (Leg leg = LEG_OUT; leg <= last_leg(planned); leg++) {
                double diameter = at->diameter_from + (at->diameter_to - at->diameter_from) * part / 100;
                double slip = helix_slippage((diameter + planned->thread_diameter) / 2, slope, planned->lead[leg]);
                double x = at->from + (at->to - at->from) * part / 100;
                greatest = fmax(greatest, slip);
                if (fabs(x - planned->slippage_at) < 1e-6)
                    there = fmax(there, slip);
            }
    }
    assert_within(planned->slippage, greatest, 1e-12);
    if (greatest > 0)
        assert_within(there, greatest, 1e-9);
    if (last_leg(planned) == LEG_OUT)
        return;
    double friction = made->compilation->job->bench.friction, longest = 0;
    for (int way = 0; way < 4; way++) {
        double x = turning_place(planned, way / 2);
        double radius = (own_diameter(planned, x) + planned->thread_diameter) / 2;
        longest = fmax(longest, turning_way(radius, angle_from_axis(planned, (Leg)(way % 2), x), friction));
    }
    assert_near(planned->turning_way, longest, 1e-9);
}

static void test_slip(void **state)
{
    (void)state;
    for_recipes(111, 300, check_slip);
}

/* ---- no taper ---- */

/* Without taper the numbers are those of the cylinder, unrolled to plane triangles. */
static void check_cylinder(const Recipe *recipe, const Crossed *made, uint64_t *random)
{
    (void)made;
    Recipe even = *recipe;
    even.diameters[0] = even.diameters[2] = recipe->diameters[1];
    Crossed cylinder = crossed_recipe(&even);
    const PlannedCrosswrap *planned = cylinder.planned;
    assert_true(planned->slippage == 0);
    for (int i = 0; i < 10; i++) {
        uint32_t pass = any_of(random, 0, planned->pass_count - 1);
        const BundleStrand *strand = &planned->strands[pass / planned->starts];
        for (Leg leg = LEG_OUT; leg <= last_leg(planned); leg++) {
            double radius = (recipe_surface(&even, recipe->mark) + strand->thread->diameter) / 2;
            if (!recipe->under)
                assert_near(planned->passes[pass].length[leg],
                            helix_length(radius, planned->lead[leg], recipe->length / planned->lead[leg]), 1e-12);
            if (!recipe->under) {
                double x = between(random, planned->low, planned->high), angle = planned->ends[0].angle[leg];
                double moved = x - strand->middle / cos(angle);
                assert_within(crosswrap_turn(planned, 0, leg, strand->middle, x),
                              crosswrap_turn(planned, 0, leg, 0, moved), 1e-9);
            }
        }
    }
    if (recipe->under != UNDER_PART)
        assert_near(planned->ends[0].room, planned->ends[1].room, 1e-12);
    crossed_end(&cylinder);
}

static void test_no_taper(void **state)
{
    (void)state;
    for_recipes(113, 150, check_cylinder);
}

/* End bands lie on two strands, whose thickness is known as their thread is; the blank does not taper. */
static void test_how_sure_end_bands_are(void **state)
{
    (void)state;
    Crossed made = crossed("edition 1 thread a { turns: 67 per cm, uncertainty: 3 % }\n"
                           "blank tube { at 0 mm: 10 mm at 100 cm: 10 mm }\n"
                           "rod \"Sure\" on tube { at 20 cm length: 60 mm {\n"
                           "    chevron crossings: 3 ends: 12 turns of a { strand 1 of a } } }\n");
    const Run *band = &made.layer->runs[2];
    assert_int_equal(band->turns, 12);
    double thickness = made.planned->thickness * 0.03;
    assert_near(band->length_sure.threads, 2 * acos(-1) * 12 * thickness, 1.2e-7); /* a float */
    turnlay_free(made.compilation);
    checking = false;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        OF_TEXTS(test_lengths),       OF_TEXTS(test_lengths_on_steep_cones),
        OF_TEXTS(test_turning_round), OF_TEXTS(test_pieces),
        OF_TEXTS(test_field_ends),    OF_TEXTS(test_slip),
        OF_TEXTS(test_no_taper),      OF_TEXTS(test_how_sure_end_bands_are),
    };
    return cmocka_run_group_tests_name("crosswraps: lengths, ends, slip", tests, NULL, NULL);
}
