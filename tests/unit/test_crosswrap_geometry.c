/* Where a crosswrap's threads lie and cross: plans compiled from texts, most of them random, held against the
 * reference's rules by arithmetic of the tests' own and by root finding. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "crossed.h"

/* ---- set-out ---- */

static void check_surface(const Recipe *recipe, const PlannedCrosswrap *planned, uint64_t *random)
{
    assert_within(planned->stretches[0].from, planned->low, 1e-9);
    assert_within(planned->stretches[planned->stretch_count - 1].to, planned->high, 1e-9);
    for (uint32_t i = 0; i < planned->stretch_count; i++) {
        assert_true(planned->stretches[i].from < planned->stretches[i].to);
        assert_true(i == 0 || planned->stretches[i - 1].to == planned->stretches[i].from);
    }
    double last = recipe->under == UNDER_FILL ? recipe_pitch(1) : 0; /* whole turns may leave as much */
    for (int i = 0; i < 20; i++) {
        double x = any_place(planned, random), way = planned->direction * (x - recipe->mark);
        assert_within(crosswrap_diameter(planned, x), own_diameter(planned, x), 1e-12);
        if (way < recipe->length - last - 1e-6)
            assert_within(own_diameter(planned, x), recipe_surface(recipe, x), 1e-9);
    }
}

static void check_set_out(const Recipe *recipe, const Crossed *made, uint64_t *random)
{
    const PlannedCrosswrap *planned = made->planned;
    int direction = recipe->toward_butt ? -1 : 1;
    double end = recipe->end_turns * recipe_pitch(0), field = recipe->length - 2 * end;
    assert_int_equal(planned->direction, direction);
    /* with the butt to the left and the top toward you counter-clockwise; each change turns it over */
    assert_int_equal(planned->sense, recipe->butt_right == recipe->away ? -1 : 1);
    assert_within(planned->low, recipe->mark - (recipe->toward_butt ? recipe->length : 0), 1e-9);
    assert_within(planned->high, planned->low + recipe->length, 1e-9);
    assert_within(planned->end_width, end, 1e-12);
    assert_int_equal(planned->end_turns, recipe->end_turns);
    assert_within(planned->field_start, recipe->mark + direction * end, 1e-9);
    assert_within(planned->field_end, planned->field_start + direction * field, 1e-9);
    assert_int_equal(planned->starts, recipe->starts);
    if (recipe->kind == CROSSWRAP_SPIRAL) {
        assert_near(planned->lead[LEG_OUT], field / recipe->turns, 1e-12);
        assert_true(planned->lead[LEG_BACK] == 0);
        assert_true(isnan(planned->spacing));
        assert_int_equal(planned->ratio[LEG_OUT], 1);
        assert_int_equal(planned->ratio[LEG_BACK], 0);
        assert_int_equal(planned->crossings, 0);
        assert_int_equal(leg_count(planned), 1);
        assert_within(off_whole(planned->base), 0, 1e-12);
    } else {
        double spacing = field / recipe->crossings;
        assert_near(planned->spacing, spacing, 1e-12);
        assert_near(planned->lead[LEG_OUT], recipe->starts * spacing / recipe->leads[1], 1e-12);
        assert_near(planned->lead[LEG_BACK], recipe->starts * spacing / recipe->leads[0], 1e-12);
        for (Leg leg = LEG_OUT; leg < LEG_COUNT; leg++)
            assert_int_equal(planned->ratio[leg], recipe->leads[leg]);
        assert_int_equal(planned->crossings, recipe->crossings);
        assert_int_equal(leg_count(planned), 2);
    }
    double turns = recipe->length / planned->lead[LEG_OUT];
    if (recipe->kind != CROSSWRAP_SPIRAL)
        turns += recipe->length / planned->lead[LEG_BACK];
    assert_near(planned->turns, planned->pass_count * turns, 1e-12);
    check_surface(recipe, planned, random);
}

static void test_set_out(void **state)
{
    (void)state;
    for_recipes(101, 300, check_set_out);
}

/* The strands as the reference lays them: threads in laying order with their middles across. */
typedef struct Expected {
    uint32_t thread, line;
    bool spacer;
    double middle;
    int side;
} Expected;
enum { EXPECTED_ROOM = 20000 };

typedef struct Bundle {
    Expected strands[EXPECTED_ROOM];
    uint32_t count;
    double top, bottom; /* edges so far */
} Bundle;

static void lay_beside(Bundle *bundle, const Recipe *recipe, uint32_t line, int side)
{
    uint32_t thread = recipe->lines[line].thread;
    double pitch = recipe_pitch(thread), middle = side > 0 ? bundle->top + pitch / 2 : bundle->bottom - pitch / 2;
    assert_true(bundle->count < EXPECTED_ROOM);
    bundle->strands[bundle->count++] = (Expected){thread, line, recipe->lines[line].spacer, middle, side};
    *(side > 0 ? &bundle->top : &bundle->bottom) += side * pitch;
}

/* Strands that a line gives: for a fill as many as come nearest to closing the room, halves up; in a diamond's
 * further lines on each side. */
static uint32_t line_strands(const Recipe *recipe, uint32_t line, double room)
{
    if (recipe->lines[line].count)
        return recipe->lines[line].count;
    bool sides = recipe->kind == CROSSWRAP_DIAMOND && line > 0;
    for (uint32_t i = 0; i < recipe->line_count; i++)
        room -= i == line ? 0
                          : recipe->lines[i].count * recipe_pitch(recipe->lines[i].thread)
                                * (recipe->kind == CROSSWRAP_DIAMOND && i > 0 ? 2 : 1);
    return (uint32_t)fmax(0, floor(room / (recipe_pitch(recipe->lines[line].thread) * (sides ? 2 : 1)) + 0.5));
}

static void lay_bundle(Bundle *bundle, const Recipe *recipe, double room)
{
    *bundle = (Bundle){.count = 0};
    for (uint32_t line = 0; line < recipe->line_count; line++) {
        uint32_t count = line_strands(recipe, line, room);
        double pitch = recipe_pitch(recipe->lines[line].thread);
        if (recipe->kind == CROSSWRAP_DIAMOND && line == 0 && count) {
            /* number floor((N - 1) / 2) from the butt-most, then the next above and below in turn */
            double middle = ((count - 1) / 2 - (count - 1) / 2.0) * pitch;
            bundle->bottom = bundle->top = middle - pitch / 2;
            for (uint32_t i = 0; i < count; i++)
                lay_beside(bundle, recipe, 0, i == 0 || i % 2 ? 1 : -1);
        } else if (recipe->kind == CROSSWRAP_DIAMOND) {
            for (uint32_t i = 0; i < 2 * count; i++)
                lay_beside(bundle, recipe, line, i % 2 ? -1 : 1);
        } else {
            int side = recipe->kind == CROSSWRAP_CHEVRON && recipe->points_to_butt ? -1 : 1;
            if (line == 0) /* a chevron's line is the middle of its first strand */
                bundle->bottom = bundle->top = -side * pitch / 2;
            for (uint32_t i = 0; i < count; i++)
                lay_beside(bundle, recipe, line, side);
        }
    }
    double shift = recipe->kind == CROSSWRAP_SPIRAL ? (bundle->top + bundle->bottom) / 2 : 0;
    for (uint32_t i = 0; i < bundle->count; i++)
        bundle->strands[i].middle -= shift;
    bundle->top -= shift;
    bundle->bottom -= shift;
}

/* The most room for one bundle at either end of the field: lead cos b / starts of the smaller lead. */
static double most_room(const PlannedCrosswrap *planned)
{
    Leg leg = planned->lead[LEG_BACK] > 0 && planned->lead[LEG_BACK] < planned->lead[LEG_OUT] ? LEG_BACK : LEG_OUT;
    return planned->lead[leg] / planned->starts
           / fmin(own_secant(planned, leg, planned->field_start), own_secant(planned, leg, planned->field_end));
}

static void check_strands(const Recipe *recipe, const Crossed *made, uint64_t *random)
{
    (void)random;
    static Bundle bundle;
    const PlannedCrosswrap *planned = made->planned;
    lay_bundle(&bundle, recipe, most_room(planned));
    assert_int_equal(planned->strand_count, bundle.count);
    assert_int_equal(planned->pass_count, bundle.count * planned->starts);
    assert_within(planned->width, bundle.top - bundle.bottom, 1e-9);
    assert_within(planned->bottom, bundle.bottom, 1e-9);
    for (uint32_t i = 0; i < bundle.count; i++) {
        const BundleStrand *strand = &planned->strands[i];
        const Expected *expected = &bundle.strands[i];
        assert_string_equal(strand->thread->name->bytes, recipe_names[expected->thread]);
        assert_true(strand->spacer == expected->spacer);
        assert_int_equal(strand->line, expected->line);
        assert_near(strand->width, recipe_pitch(expected->thread), 1e-12);
        assert_within(strand->middle, expected->middle, 1e-9);
        assert_int_equal(strand->side, i ? expected->side : 0);
    }
    assert_near(planned->thread_diameter, recipe_diameters[bundle.strands[0].thread], 1e-12);
    for (uint32_t pass = 0; pass < planned->pass_count; pass++)
        assert_int_equal(pass_strand(planned, pass) * planned->starts + pass_start(planned, pass), pass);
}

/* Strands, their order and their places as the reference has them, fills among them. */
static void test_strands(void **state)
{
    (void)state;
    for_recipes(102, 300, check_strands);
}

/* Round the blank at one place, strand and neighbour are as far apart, across, as half the widths of both. */
static void check_touching(const Recipe *recipe, const Crossed *made, uint64_t *random)
{
    (void)recipe;
    const PlannedCrosswrap *planned = made->planned;
    assert_int_equal(planned->strands[0].neighbour, NO_STRAND);
    for (uint32_t i = 1; i < planned->strand_count; i++) {
        const BundleStrand *strand = &planned->strands[i];
        assert_true(strand->neighbour < i);
        const BundleStrand *neighbour = &planned->strands[strand->neighbour];
        for (Leg leg = LEG_OUT; leg <= last_leg(planned); leg++) {
            double x = any_place(planned, random);
            double apart = crosswrap_turn(planned, 0, leg, strand->middle, x)
                           - crosswrap_turn(planned, 0, leg, neighbour->middle, x);
            double round = apart * TRADE_PI * (own_diameter(planned, x) + planned->thread_diameter);
            double across = round * sin(crosswrap_angle(planned, leg, x));
            /* toward the tip means earlier round where the leg winds toward the tip in the sense of turning */
            int toward = planned->direction * planned->sense * (leg == LEG_OUT ? -1 : 1);
            assert_within(toward * across, strand->side * (strand->width + neighbour->width) / 2, 1e-9);
        }
    }
}

static void test_strands_touch(void **state)
{
    (void)state;
    for_recipes(103, 200, check_touching);
}

/* ---- helices ---- */

static void check_helices(const Recipe *recipe, const Crossed *made, uint64_t *random)
{
    const PlannedCrosswrap *planned = made->planned;
    for (int i = 0; i < 50; i++) {
        uint32_t start = any_of(random, 0, planned->starts - 1);
        Leg leg = (Leg)any_of(random, 0, last_leg(planned));
        double x = any_place(planned, random);
        double top = planned->bottom + planned->width;
        double across = any_of(random, 0, 2) ? between(random, planned->bottom, top) : 0;
        assert_within(1 / cos(crosswrap_angle(planned, leg, x)), own_secant(planned, leg, x), 1e-9);
        double radius = (own_diameter(planned, x) + planned->thread_diameter) / 2;
        assert_near(crosswrap_angle(planned, leg, x), helix_angle(radius, planned->lead[leg]), 1e-12);
        double turn = crosswrap_turn(planned, start, leg, across, x);
        assert_within(off_whole(turn - own_turn(planned, start, leg, across, x)), 0, 1e-9);
        /* at the step where a wrap below ends a strand is at one turn twice */
        if (!recipe->under)
            assert_within(crosswrap_position(planned, start, leg, across, turn), x, 1e-9);
    }
}

/* Turns and positions are inverse to one another, and are the reference's helices. */
static void test_helices(void **state)
{
    (void)state;
    for_recipes(104, 300, check_helices);
}

/* ---- crossings ---- */

typedef struct Crossing {
    double x, turn;
} Crossing;
enum { CROSSINGS_ROOM = 4000 };
typedef struct Crossings {
    Crossing items[CROSSINGS_ROOM];
    uint32_t count;
} Crossings;

static double apart(const PlannedCrosswrap *planned, uint32_t out, uint32_t back, double across, double x)
{
    return crosswrap_turn(planned, out, LEG_OUT, across, x) - crosswrap_turn(planned, back, LEG_BACK, across, x);
}

/* Wherever a leg out and a leg back are a whole number of turns apart they cross: by halving, between low and
 * high. */
static void cross(Crossings *crossings, const PlannedCrosswrap *planned, uint32_t out, uint32_t back,
                  double across, double low, double high)
{
    double first = apart(planned, out, back, across, low), last = apart(planned, out, back, across, high);
    for (double whole = ceil(fmin(first, last)); whole <= fmax(first, last); whole++) {
        double from = low, to = high;
        for (int i = 0; i < 60; i++) {
            double middle = (from + to) / 2;
            bool before = (apart(planned, out, back, across, middle) < whole) == (first < last);
            *(before ? &from : &to) = middle;
        }
        assert_true(crossings->count < CROSSINGS_ROOM);
        crossings->items[crossings->count++] =
            (Crossing){from, crosswrap_turn(planned, out, LEG_OUT, across, from)};
    }
}

static void check_line(const PlannedCrosswrap *planned, uint32_t line, Crossings *crossings)
{
    uint32_t families = planned->ratio[0] + planned->ratio[1], family = line / planned->starts + 1;
    double level = planned->spacing / families, turn = crosswrap_line_turn(planned, line);
    assert_true(turn >= 0 && turn < 1);
    for (uint32_t mark = 0; mark < crosswrap_mark_count(planned, line); mark++) {
        double x = crosswrap_mark(planned, line, mark), way = planned->direction * (x - planned->field_start);
        assert_within(way, level * (family + mark * families), 1e-9);
        uint32_t found = 0;
        for (uint32_t i = 0; i < crossings->count; i++) {
            Crossing *at = &crossings->items[i];
            if (fabs(at->x - x) > 1e-7 || fabs(off_whole(at->turn - turn)) > 1e-9)
                continue;
            found++;
            *at = crossings->items[--crossings->count]; /* none is on two lines */
            i--;
        }
        assert_int_equal(found, 1);
    }
}

/* All crossings inside the field, each on just one line at one mark, and no others; one line of the family that
 * faces up at 0; as many on each line as were asked for, but for one at the field's end. */
static void check_crossings(const Recipe *recipe, const Crossed *made, uint64_t *random)
{
    (void)random;
    static Crossings crossings;
    const PlannedCrosswrap *planned = made->planned;
    if (recipe->kind == CROSSWRAP_SPIRAL) {
        assert_int_equal(crosswrap_families(planned), 0);
        return;
    }
    uint32_t families = recipe->leads[0] + recipe->leads[1], facing = 0;
    assert_int_equal(crosswrap_families(planned), families);
    assert_int_equal(crosswrap_line_count(planned), families * planned->starts);
    double low = fmin(planned->field_start, planned->field_end) + 1e-6;
    double high = fmax(planned->field_start, planned->field_end) - 1e-6;
    crossings.count = 0;
    for (uint32_t i = 0; i < planned->starts * planned->starts; i++)
        cross(&crossings, planned, i / planned->starts, i % planned->starts, 0, low, high);
    assert_int_equal(crossings.count, planned->starts * (families * planned->crossings - 1));
    for (uint32_t line = 0; line < families * planned->starts; line++) {
        bool last = line / planned->starts + 1 == families;
        assert_int_equal(crosswrap_mark_count(planned, line), planned->crossings - last);
        check_line(planned, line, &crossings);
        if (line / planned->starts + 1 == recipe->facing)
            facing += fabs(off_whole(crosswrap_line_turn(planned, line))) < 1e-9;
    }
    assert_int_equal(crossings.count, 0);
    assert_int_equal(facing, 1);
}

static void test_crossings(void **state)
{
    (void)state;
    for_recipes(105, 400, check_crossings);
}

/* With equal leads every strand crosses itself on the bundle's lines, on any taper. */
static void check_strand_crossings(const Recipe *recipe, const Crossed *made, uint64_t *random)
{
    static Crossings crossings;
    const PlannedCrosswrap *planned = made->planned;
    if (recipe->kind == CROSSWRAP_SPIRAL || recipe->leads[0] != recipe->leads[1] || recipe->under)
        return;
    double across = planned->strands[any_of(random, 0, planned->strand_count - 1)].middle;
    crossings.count = 0;
    for (uint32_t start = 0; start < planned->starts; start++)
        cross(&crossings, planned, start, start, across, planned->low, planned->high);
    assert_true(crossings.count > 0);
    for (uint32_t i = 0; i < crossings.count; i++) {
        bool found = false;
        for (uint32_t line = 0; line < crosswrap_line_count(planned); line++)
            found |= fabs(off_whole(crossings.items[i].turn - crosswrap_line_turn(planned, line))) < 1e-9;
        assert_true(found);
    }
}

static void test_strands_cross_on_the_lines(void **state)
{
    (void)state;
    for_recipes(106, 300, check_strand_crossings);
}

/* A crosswrap on a cylinder of 12 mm with a field of 60 mm, set out by these options. */
static Crossed set_out_by(const char *kind, const char *options)
{
    char text[1000];
    snprintf(text, sizeof text,
             "edition 1\nthread navy { diameter: 0.15 mm }\nbench { units: mm }\n"
             "blank tube { at 0 mm: 12 mm  at 1000 mm: 12 mm }\n"
             "rod \"Tested\" on tube { at 100 mm length: 63 mm {\n"
             "%s %s ends: 10 turns of navy { strand 1 of navy } } }\n",
             kind, options);
    return crossed(text);
}

/* By other than crossings: the angle at half the field of 60 mm, which gives the nearest count, or a spiral's
 * lead. */
static void test_spacings_and_angles(void **state)
{
    (void)state;
    double lead_30 = TRADE_PI * 12.15 * tan(TRADE_PI / 6); /* 22.04 mm: 2.72 of them */
    static const struct {
        const char *kind, *options;
        double crossings, lead, asked;
    } rows[] = {
        {"chevron", "spacing: 20 mm", 3, 20, 20}, {"diamond", "spacing: 12 mm starts: 2", 5, 24, 12},
        {"chevron", "angle: 30 deg", 3, 20, 30},  {"diamond", "angle: 30 deg starts: 2", 5, 24, 30},
        {"spiral", "lead: 17 mm", 0, 17, NAN},    {"spiral", "angle: 30 deg", 0, 0, 30},
    };
    for (int i = 0; i < 6; i++) {
        Crossed made = set_out_by(rows[i].kind, rows[i].options);
        const PlannedCrosswrap *planned = made.planned;
        assert_within(planned->crossings, rows[i].crossings, 0);
        assert_near(planned->lead[LEG_OUT], rows[i].lead > 0 ? rows[i].lead : lead_30, 1e-12);
        if (rows[i].crossings > 0)
            assert_near(planned->lead[LEG_BACK], rows[i].lead, 1e-12);
        if (!isnan(rows[i].asked))
            assert_near(planned->asked, rows[i].asked, 1e-12);
        crossed_end(&made);
    }
}

/* ---- end for end, published ---- */

static uint32_t strand_at(const PlannedCrosswrap *planned, double middle)
{
    for (uint32_t i = 0; i < planned->strand_count; i++)
        if (fabs(planned->strands[i].middle - middle) < 1e-6)
            return i;
    fail_msg("no strand lies at %g", middle);
    return NO_STRAND;
}

/* The blank end for end, the place worked the other way, what was built up built down: everything lies as before,
 * mirrored along the blank. */
static void check_mirrored(const Recipe *recipe, const Crossed *made, uint64_t *random)
{
    Recipe other = *recipe;
    other.toward_butt = !recipe->toward_butt;
    other.points_to_butt = !recipe->points_to_butt;
    other.mark = 1000 - recipe->mark;
    other.diameters[0] = recipe->diameters[2];
    other.diameters[2] = recipe->diameters[0];
    if (recipe->kind == CROSSWRAP_SPIRAL)
        for (uint32_t i = 0; i < recipe->line_count; i++)
            other.lines[i] = recipe->lines[recipe->line_count - 1 - i];
    /* a spiral's first thread, of which the angles are, must be the same */
    if (recipe->kind == CROSSWRAP_SPIRAL && recipe->lines[0].thread != other.lines[0].thread)
        return;
    Crossed mirrored = crossed_recipe(&other);
    const PlannedCrosswrap *planned = made->planned, *back = mirrored.planned;
    assert_within(back->field_start, 1000 - planned->field_start, 1e-9);
    assert_int_equal(back->strand_count, planned->strand_count);
    assert_within(back->slippage, planned->slippage, 1e-12);
    assert_near(back->turns, planned->turns, 1e-12);
    for (int i = 0; i < 20; i++) {
        uint32_t pass = any_of(random, 0, planned->pass_count - 1);
        uint32_t strand = pass / planned->starts, start = pass % planned->starts;
        Leg leg = (Leg)any_of(random, 0, last_leg(planned));
        double x = between(random, planned->low, planned->high), middle = planned->strands[strand].middle;
        assert_within(off_whole(crosswrap_turn(planned, start, leg, middle, x)
                                - crosswrap_turn(back, start, leg, -middle, 1000 - x)),
                      0, 1e-9);
        uint32_t opposite = strand_at(back, -middle);
        assert_string_equal(planned->strands[strand].thread->name->bytes,
                            back->strands[opposite].thread->name->bytes);
        const Pass *other_pass = &back->passes[opposite * planned->starts + start];
        assert_near(other_pass->length[leg], planned->passes[pass].length[leg], 1e-10);
        assert_same_way(other_pass->dwell, planned->passes[pass].dwell);
        if (recipe->kind == CROSSWRAP_CHEVRON)
            assert_within(other_pass->wound_before, planned->passes[pass].wound_before, 1e-6);
    }
    for (uint32_t line = 0; line < crosswrap_line_count(planned); line++) {
        assert_within(off_whole(crosswrap_line_turn(back, line) - crosswrap_line_turn(planned, line)), 0, 1e-9);
        for (uint32_t mark = 0; mark < crosswrap_mark_count(planned, line); mark++)
            assert_within(crosswrap_mark(back, line, mark), 1000 - crosswrap_mark(planned, line, mark), 1e-9);
    }
    for (int end = 0; end < 2; end++)
        assert_within(back->ends[1 - end].left, planned->ends[end].left, 1e-9);
    crossed_end(&mirrored);
}

static void test_end_for_end(void **state)
{
    (void)state;
    for_recipes(112, 300, check_mirrored);
}

/* Rows of test_trade_crosswrap's table of bands, a twentieth as large: the blank and half a thread on either
 * side make the circle, the room takes so many bands; and the lead at 60 degrees from the axis with what is left
 * of 200 mm. */
static void test_bands_as_published(void **state)
{
    (void)state;
    static const struct {
        double diameter, width, angle, count;
    } rows[] = {
        {2.4, 0.1, 30, 39.2699},
        {2.2, 0.3, 45, 18.5120},
        {2.825, 0.175, 30, 26.9279},
    };
    for (int i = 0; i < 3; i++) {
        char text[1000];
        snprintf(text, sizeof text,
                 "edition 1\nthread navy { diameter: %.3f mm }\nbench { units: mm, steepest: 85 deg }\n"
                 "blank tube { at 0 mm: %.3f mm  at 1000 mm: %.3f mm }\n"
                 "rod \"Tested\" on tube { at 100 mm length: %.4f mm {\n"
                 "  spiral angle: %g deg ends: 20 turns of navy { strand 1 of navy } } }\n",
                 rows[i].width, rows[i].diameter, rows[i].diameter, 200.0 / 20 + 40 * rows[i].width,
                 rows[i].angle);
        Crossed made = crossed(text);
        const PlannedCrosswrap *planned = made.planned;
        assert_within(planned->ends[0].room / rows[i].width, rows[i].count, 5.1e-5);
        assert_within(planned->ends[0].closing, nearbyint(rows[i].count), 0);
        if (i == 0) {
            assert_within(planned->lead[LEG_OUT] * 20, 90.68997, 5e-6);
            double turns = crosswrap_turn(planned, 0, LEG_OUT, 0, planned->field_end)
                           - crosswrap_turn(planned, 0, LEG_OUT, 0, planned->field_start);
            assert_within((fabs(turns) - 2) * FULL_TURN, 73.9136, 5e-5);
        }
        crossed_end(&made);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        OF_TEXTS(test_set_out),
        OF_TEXTS(test_strands),
        OF_TEXTS(test_strands_touch),
        OF_TEXTS(test_helices),
        OF_TEXTS(test_crossings),
        OF_TEXTS(test_strands_cross_on_the_lines),
        OF_TEXTS(test_spacings_and_angles),
        OF_TEXTS(test_end_for_end),
        OF_TEXTS(test_bands_as_published),
    };
    return cmocka_run_group_tests_name("crosswraps: where threads lie", tests, NULL, NULL);
}
