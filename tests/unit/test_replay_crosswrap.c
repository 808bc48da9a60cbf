/* The replay judges lists of crosswrap actions written by hand, over crosswraps worked out by hand: no planner, no
 * maker of actions. All wraps here are 43 mm long with end bands of ten turns of 0.15 mm: the field has 40 mm. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "bench_sheet.h"
#include "bench/replay_crosswrap.h"
#include "near.h"

#include "trade/trade.h"

enum { WRAP_LEGS = 8, WRAP_STRANDS = 3, WRAP_PIECES = 8 };
#define LOW 100.0
#define HIGH 143.0
/* Leads of 20 mm on a way round of 20 / 0.75 mm: tan b = 3/4, cos b = 0.8, and a strand that lies 0.15 mm from the
 * bundle's line is moved by 0.1875 mm along the blank, which is 3.375 degrees of a turn. */
#define GIRTH (20 / 0.75)

/* A crosswrap, and the legs as they have to be. Legs that go toward the tip are written with `up`. */
typedef struct Wrap {
    const char *name;
    const char *rod; /* pieces and end bands, see bench_sheet.h; the pieces of passes come first */
    Crosswrap written;
    uint32_t crossings;
    double base;
    int direction;
    bool toward_you; /* the butt is always to the left */
    EndHold ends;
    double girth_low, girth_high;
    BundleStrand strands[WRAP_STRANDS];
    uint32_t strand_count;
    uint32_t pass_counts[WRAP_PIECES], threads[WRAP_PIECES];
    bool spacers[WRAP_PIECES];
    LegAction legs[WRAP_LEGS];
    uint32_t leg_count;
    const char *actions; /* lawful */
} Wrap;

static const Thread navy = {.diameter = 0.15, .pitch = 0.15}, foam = {.diameter = 0.18, .pitch = 0.15};
static const Thread *const threads[] = {&navy, &foam};

#define OUT .leg = LEG_OUT
#define BACK .leg = LEG_BACK
#define UP .from = LOW, .to = HIGH
#define DOWN .from = HIGH, .to = LOW
#define CLOCKS(a, b) .from_clock = (a), .to_clock = (b)
#define FIRST .side = 0, .neighbour = NO_PASS
#define ABOVE(which) .side = 1, .neighbour = (which)
#define BELOW(which) .side = -1, .neighbour = (which)
#define BAND(piece)                                                                                               \
    "start " piece "; wind 2 of " piece "; loop " piece " final; wind 8 of " piece "; "                           \
    "pull " piece " final; trim " piece "; tag " piece "; "
#define STRAND(q)                                                                                                 \
    {                                                                                                             \
        .thread = &navy, .middle = (q), .width = 0.15                                                             \
    }
#define PASS "leg 0 of 0; leg 1 of 0; "

/* Spacing 20 mm; level 1, at 10 mm, lies half a turn on from level 0 and faces up: level 0 is at 180 deg. A leg
 * makes 43 / 20 = 2.15 turns. At the butt it begins 1.5 mm before the field, 27 deg: 180 - 27 = 153; it comes to
 * 153 + 774 - 720 = 207. Coming back it goes round the same way: it passes the field's start at 180 and ends at
 * 207, having begun 774 deg before, at 153. From 207 on to 153 are 306 deg. The second strand is 3.375 deg behind
 * on its way out and as much ahead on its way back. */
static const Wrap chevron = {
    .name = "one start, two strands of one thread",
    .rod = "s s s | 1x10 gap 2x10",
    .written = {.kind = CROSSWRAP_CHEVRON, .starts = 1, .leads = {1, 1}, .facing = 1},
    .crossings = 2,
    .base = 0.5,
    .direction = 1,
    .girth_low = GIRTH,
    .girth_high = GIRTH,
    .strands = {STRAND(0), STRAND(0.15)},
    .strand_count = 2,
    .pass_counts = {2},
    .leg_count = 4,
    .legs =
        {
            {.pass = 0, OUT, UP, CLOCKS(153, 207), .turns = 2.15, .dwell = 306, .marks = 3, FIRST},
            {.pass = 0, BACK, DOWN, CLOCKS(153, 207), .turns = 2.15, .dwell = 302.625, .marks = 3, FIRST},
            {.pass = 1, OUT, UP, CLOCKS(149.625, 203.625), .turns = 2.15, .dwell = 312.75, .marks = 3, ABOVE(0)},
            {.pass = 1, BACK, DOWN, CLOCKS(156.375, 210.375), .turns = 2.15, .dwell = 0, .marks = 3, ABOVE(0)},
        },
    .actions = "set out; hold; tie on 0; " PASS "symmetry; leg 2 of 0; leg 3 of 0; tie off 0; " BAND("1")
        BAND("2") "seal; take ends",
};

/* The same worked toward the butt and built down: all is mirrored, and the clocks are the same. The second strand
 * is a spacer. */
static const Wrap spacer = {
    .name = "a spacer, toward the butt",
    .rod = "s p s s | 2x10 gap 3x10",
    .written = {.kind = CROSSWRAP_CHEVRON, .starts = 1, .leads = {1, 1}, .facing = 1, .points_to_butt = true},
    .crossings = 2,
    .base = 0.5,
    .direction = -1,
    .girth_low = GIRTH,
    .girth_high = GIRTH,
    .strands = {STRAND(0), {.thread = &foam, .spacer = true, .middle = -0.15, .width = 0.15}},
    .strand_count = 2,
    .pass_counts = {1, 1},
    .threads = {0, 1},
    .spacers = {false, true},
    .leg_count = 4,
    .legs =
        {
            {.pass = 0, OUT, DOWN, CLOCKS(153, 207), .turns = 2.15, .dwell = 306, .marks = 3, FIRST},
            {.pass = 0, BACK, UP, CLOCKS(153, 207), .turns = 2.15, .dwell = 0, .marks = 3, FIRST},
            {.pass = 1, OUT, DOWN, CLOCKS(149.625, 203.625), .turns = 2.15, .dwell = 312.75, .marks = 3, BELOW(0)},
            {.pass = 1, BACK, UP, CLOCKS(156.375, 210.375), .turns = 2.15, .dwell = 0, .marks = 3, BELOW(0)},
        },
    .actions =
        "set out; hold; tie on 0; " PASS "symmetry; tie off 0; tie on 1; leg 2 of 1; leg 3 of 1; tie off 1; "
        "unwind 1; " BAND("2") BAND("3") "seal; take ends",
};

/* Two turns in the field, lead 20 mm, counter-clockwise. The bundle's line is at 0 where the field begins; its
 * strands lie 0.075 mm, along the blank 0.09375 mm and 1.6875 deg, on either side of it. It begins 27 deg before:
 * at 27, and comes to 27 - 774 + 1080 = 333. */
static const Wrap spiral = {
    .name = "a spiral of two strands",
    .rod = "s s s s | 2x10 gap 3x10",
    .written = {.kind = CROSSWRAP_SPIRAL, .starts = 1, .spaced_by = SPACED_BY_TURNS, .spaced = 2},
    .direction = 1,
    .toward_you = true,
    .girth_low = GIRTH,
    .girth_high = GIRTH,
    .strands = {STRAND(-0.075), STRAND(0.075)},
    .strand_count = 2,
    .pass_counts = {1, 1},
    .leg_count = 2,
    .legs =
        {
            {.pass = 0, OUT, UP, CLOCKS(25.3125, 331.3125), .turns = 2.15, FIRST},
            {.pass = 1, OUT, UP, CLOCKS(28.6875, 334.6875), .turns = 2.15, ABOVE(0)},
        },
    .actions = "set out; hold; tie on 0; leg 0 of 0; tie off 0; symmetry; tie on 1; leg 1 of 1; tie off 1; " BAND(
        "2") BAND("3") "seal; take ends",
};

/* Spacing 10 mm, lead 20 mm: level 1, at 5 mm, lies a quarter of a turn on, so that the first line stands at 270
 * deg and the other at 90. The first leg begins at 243, and the rest is that of the chevron, 90 deg on. */
static const Wrap two_starts = {
    .name = "two starts of two strands",
    .rod = "s s s s | 2x10 gap 3x10",
    .written = {.kind = CROSSWRAP_CHEVRON, .starts = 2, .leads = {1, 1}, .facing = 1},
    .crossings = 4,
    .base = 0.75,
    .direction = 1,
    .girth_low = GIRTH,
    .girth_high = GIRTH,
    .strands = {STRAND(0), {.thread = &foam, .middle = 0.15, .width = 0.15}},
    .strand_count = 2,
    .pass_counts = {2, 2},
    .threads = {0, 1},
    .leg_count = 8,
    .legs =
        {
            {.pass = 0, OUT, UP, CLOCKS(243, 297), .turns = 2.15, .dwell = 306, .marks = 7, FIRST},
            {.pass = 0, BACK, DOWN, CLOCKS(243, 297), .turns = 2.15, .dwell = 126, .marks = 7, FIRST},
            {.pass = 1, OUT, UP, CLOCKS(63, 117), .turns = 2.15, .dwell = 306, .marks = 7, FIRST},
            {.pass = 1, BACK, DOWN, CLOCKS(63, 117), .turns = 2.15, .dwell = 0, .marks = 7, FIRST},
            {.pass = 2, OUT, UP, CLOCKS(239.625, 293.625), .turns = 2.15, .dwell = 312.75, .marks = 7, ABOVE(0)},
            {.pass = 2,
             BACK,
             DOWN,
             CLOCKS(246.375, 300.375),
             .turns = 2.15,
             .dwell = 119.25,
             .marks = 7,
             ABOVE(0)},
            {.pass = 3, OUT, UP, CLOCKS(59.625, 113.625), .turns = 2.15, .dwell = 312.75, .marks = 7, ABOVE(1)},
            {.pass = 3, BACK, DOWN, CLOCKS(66.375, 120.375), .turns = 2.15, .dwell = 0, .marks = 7, ABOVE(1)},
        },
    .actions =
        "hold; set out; tie on 0; " PASS "leg 2 of 0; leg 3 of 0; tie off 0; symmetry; tie on 1; leg 4 of 1; "
        "leg 5 of 1; leg 6 of 1; leg 7 of 1; tie off 1; " BAND("2") BAND("3") "seal; take ends",
};

/* Where the blank is thinner, tan b = 4/3 and cos b = 0.6: there the second strand is moved by 0.25 mm, 4.5 deg.
 * It makes 774 + 3.375 - 4.5 = 772.875 deg on either leg. */
static const Wrap taper = {
    .name = "on a taper",
    .rod = "s s s | 1x10 gap 2x10",
    .written = {.kind = CROSSWRAP_CHEVRON, .starts = 1, .leads = {1, 1}, .facing = 1},
    .crossings = 2,
    .base = 0.5,
    .direction = 1,
    .girth_low = GIRTH,
    .girth_high = 15,
    .strands = {STRAND(0), STRAND(0.15)},
    .strand_count = 2,
    .pass_counts = {2},
    .leg_count = 4,
    .legs =
        {
            {.pass = 0, OUT, UP, CLOCKS(153, 207), .turns = 2.15, .dwell = 306, .marks = 3, FIRST},
            {.pass = 0, BACK, DOWN, CLOCKS(153, 207), .turns = 2.15, .dwell = 302.625, .marks = 3, FIRST},
            {.pass = 1,
             OUT,
             UP,
             CLOCKS(149.625, 202.5),
             .turns = 772.875 / 360,
             .dwell = 315,
             .marks = 3,
             ABOVE(0)},
            {.pass = 1,
             BACK,
             DOWN,
             CLOCKS(157.5, 210.375),
             .turns = 772.875 / 360,
             .dwell = 0,
             .marks = 3,
             ABOVE(0)},
        },
    .actions = "set out; hold; tie on 0; " PASS "symmetry; leg 2 of 0; leg 3 of 0; tie off 0; " BAND("1")
        BAND("2") "seal; take ends",
};

/* Leads 2 : 1, spacing 20 mm: 20 mm out, 10 mm back. Level 2 faces up and lies 2/3 of a turn on from level 0,
 * which is then at 120 deg. Out from 93 to 147, as ever 54 deg on; back 4.3 turns = 1548 deg, ending at
 * 120 + 54 = 174 and begun at 174 - 1548 + 1440 = 66. From 147 to 66 are 279 deg; but by friction alone (0.2),
 * tan a = 4/3 out and 8/3 back, it takes 5 ln 2 + 5 ln((sqrt(73) + 3) / 8) = 5.299 radians = 303.6 deg to turn
 * round: a whole turn more. */
static const Wrap friction_alone = {
    .name = "unequal leads, nothing that holds",
    .rod = "s s s | 1x10 gap 2x10",
    .written = {.kind = CROSSWRAP_DIAMOND, .starts = 1, .leads = {2, 1}, .facing = 2},
    .crossings = 2,
    .base = 1 / 3.0,
    .direction = 1,
    .ends = HOLD_NONE,
    .girth_low = GIRTH,
    .girth_high = GIRTH,
    .strands = {STRAND(0)},
    .strand_count = 1,
    .pass_counts = {1},
    .leg_count = 2,
    .legs =
        {
            {.pass = 0, OUT, UP, CLOCKS(93, 147), .turns = 2.15, .dwell = 639, .marks = 5, FIRST},
            {.pass = 0, BACK, DOWN, CLOCKS(66, 174), .turns = 4.3, .dwell = 0, .marks = 5, FIRST},
        },
    .actions = "set out; tie on 0; " PASS "symmetry; tie off 0; " BAND("1") BAND("2") "seal; take ends",
};

/* The chevron with a third strand, as far from the second as that is from the first: 6.75 deg. */
static const Wrap three_strands = {
    .name = "three strands of one thread",
    .rod = "s s s | 1x10 gap 2x10",
    .written = {.kind = CROSSWRAP_CHEVRON, .starts = 1, .leads = {1, 1}, .facing = 1},
    .crossings = 2,
    .base = 0.5,
    .direction = 1,
    .girth_low = GIRTH,
    .girth_high = GIRTH,
    .strands = {STRAND(0), STRAND(0.15), STRAND(0.3)},
    .strand_count = 3,
    .pass_counts = {3},
    .leg_count = 6,
    .legs =
        {
            {.pass = 0, OUT, UP, CLOCKS(153, 207), .turns = 2.15, .dwell = 306, .marks = 3, FIRST},
            {.pass = 0, BACK, DOWN, CLOCKS(153, 207), .turns = 2.15, .dwell = 302.625, .marks = 3, FIRST},
            {.pass = 1, OUT, UP, CLOCKS(149.625, 203.625), .turns = 2.15, .dwell = 312.75, .marks = 3, ABOVE(0)},
            {.pass = 1,
             BACK,
             DOWN,
             CLOCKS(156.375, 210.375),
             .turns = 2.15,
             .dwell = 295.875,
             .marks = 3,
             ABOVE(0)},
            {.pass = 2, OUT, UP, CLOCKS(146.25, 200.25), .turns = 2.15, .dwell = 319.5, .marks = 3, ABOVE(1)},
            {.pass = 2, BACK, DOWN, CLOCKS(159.75, 213.75), .turns = 2.15, .dwell = 0, .marks = 3, ABOVE(1)},
        },
    .actions = "set out; hold; tie on 0; " PASS "symmetry; leg 2 of 0; leg 3 of 0; leg 4 of 0; leg 5 of 0; "
               "tie off 0; " BAND("1") BAND("2") "seal; take ends",
};

/* Counter-clockwise, three starts, lead 20 mm: the spacing is 20/3 mm, and level 1 lies 60 deg on, counter-
 * clockwise; it faces up, so that the first start is at 60, the next ones, counter-clockwise, at 300 and 180. Out
 * from 60 + 27 = 87 to 87 - 774 + 720 = 33; back from 87 to 33. From 33, counter-clockwise, to 87 are 306 deg, and
 * to where the next start begins, 300 + 27 = 327, 66 deg. */
static const Wrap counter_clockwise = {
    .name = "three starts, counter-clockwise",
    .rod = "s s s | 1x10 gap 2x10",
    .written = {.kind = CROSSWRAP_CHEVRON, .starts = 3, .leads = {1, 1}, .facing = 1},
    .crossings = 6,
    .base = 1 / 6.0,
    .direction = 1,
    .toward_you = true,
    .girth_low = GIRTH,
    .girth_high = GIRTH,
    .strands = {STRAND(0)},
    .strand_count = 1,
    .pass_counts = {3},
    .leg_count = 6,
    .legs =
        {
            {.pass = 0, OUT, UP, CLOCKS(87, 33), .turns = 2.15, .dwell = 306, .marks = 11, FIRST},
            {.pass = 0, BACK, DOWN, CLOCKS(87, 33), .turns = 2.15, .dwell = 66, .marks = 11, FIRST},
            {.pass = 1, OUT, UP, CLOCKS(327, 273), .turns = 2.15, .dwell = 306, .marks = 11, FIRST},
            {.pass = 1, BACK, DOWN, CLOCKS(327, 273), .turns = 2.15, .dwell = 66, .marks = 11, FIRST},
            {.pass = 2, OUT, UP, CLOCKS(207, 153), .turns = 2.15, .dwell = 306, .marks = 11, FIRST},
            {.pass = 2, BACK, DOWN, CLOCKS(207, 153), .turns = 2.15, .dwell = 0, .marks = 11, FIRST},
        },
    .actions = "set out; hold; tie on 0; " PASS "leg 2 of 0; leg 3 of 0; leg 4 of 0; leg 5 of 0; symmetry; "
               "tie off 0; " BAND("1") BAND("2") "seal; take ends",
};

static const Wrap *const wraps[] = {&chevron, &spacer,         &spiral,        &two_starts,
                                    &taper,   &friction_alone, &three_strands, &counter_clockwise};

enum { WRAP_COUNT = sizeof wraps / sizeof *wraps };

/* A sheet, and what its layer of a crosswrap needs. */
typedef struct Laid {
    Sheet *sheet;
    PlannedCrosswrap planned;
    SurfaceStretch stretch;
    Pass passes[WRAP_LEGS];
    Bench bench;
} Laid;

/* Each leg another length, so that a wrong one shows. */
static double leg_length(uint32_t pass, Leg leg) { return 61.5 + pass + (leg == LEG_OUT ? 0 : 0.25); }

/* The girth is that of navy. Where tape or pins hold it, the thread runs 10 mm out onto them and back. */
static double way_round(const Wrap *wrap, const LegAction *leg, const Thread *thread)
{
    double girth = leg->to == HIGH ? wrap->girth_high : wrap->girth_low;
    double beyond = leg->dwell > 0 && wrap->ends != HOLD_NONE ? 2 * 10 : 0;
    return leg->dwell / 360 * (girth + TRADE_PI * (thread->diameter - navy.diameter)) + beyond;
}

static void plan_by_hand(Laid *laid, const Wrap *wrap, PlannedLayer *layer)
{
    uint32_t passes = wrap->strand_count * wrap->written.starts, legs = wrap->leg_count / passes;
    for (uint32_t i = 0; i < passes; i++)
        for (uint32_t leg = 0; leg < legs; leg++)
            laid->passes[i].length[leg] = leg_length(i, (Leg)leg);
    laid->stretch = (SurfaceStretch){LOW, HIGH, wrap->girth_low / TRADE_PI - navy.diameter,
                                     wrap->girth_high / TRADE_PI - navy.diameter};
    laid->planned = (PlannedCrosswrap){.crosswrap = &wrap->written,
                                       .direction = wrap->direction,
                                       .low = LOW,
                                       .high = HIGH,
                                       .crossings = wrap->crossings,
                                       .base = wrap->base,
                                       .stretches = &laid->stretch,
                                       .stretch_count = 1,
                                       .passes = laid->passes,
                                       .strands = (BundleStrand *)wrap->strands,
                                       .strand_count = wrap->strand_count,
                                       .pass_count = passes,
                                       .starts = wrap->written.starts,
                                       .thread_diameter = navy.diameter};
    layer->crosswrap = &laid->planned;
    uint32_t pass = 0;
    for (uint32_t i = 0; i < WRAP_PIECES && wrap->pass_counts[i]; i++) {
        Piece *piece = &laid->sheet->pieces[i];
        piece->thread = threads[wrap->threads[i]];
        piece->spacer = wrap->spacers[i];
        piece->first_pass = pass;
        piece->pass_count = wrap->pass_counts[i];
        pass += piece->pass_count;
        for (uint32_t leg = piece->first_pass * legs; leg < pass * legs; leg++)
            piece->wound +=
                leg_length(leg / legs, (Leg)(leg % legs)) + way_round(wrap, &wrap->legs[leg], piece->thread);
    }
}

static void fill_legs(Laid *laid, const Wrap *wrap)
{
    for (uint32_t i = 0; i < laid->sheet->made.action_count; i++) {
        Action *action = &laid->sheet->actions[i];
        if (action->kind != ACTION_LEG)
            continue;
        assert_in_range(action->turns, 0, wrap->leg_count - 1);
        action->leg = wrap->legs[action->turns];
        action->length = leg_length(action->leg.pass, action->leg.leg);
        action->turns = 0;
    }
}

static Laid *lay_out(const Wrap *wrap, const char *rod, const char *actions)
{
    Laid *laid = calloc(1, sizeof *laid);
    assert_non_null(laid);
    laid->sheet = new_sheet(rod, actions);
    laid->sheet->place->direction = wrap->direction;
    for (uint32_t i = 0; i < laid->sheet->run_count; i++)
        laid->sheet->runs[i].pitch = 0.15;
    /* Two turns bind here, so that a band's tag needs no tape while its loop is laid. */
    laid->bench = (Bench){.bind = 2,
                          .brake = true,
                          .loop = 4,
                          .final = 8,
                          .holders = 1,
                          .friction = 0.2,
                          .butt_left = true,
                          .toward_you = wrap->toward_you,
                          .ends = wrap->ends};
    plan_by_hand(laid, wrap, &laid->sheet->layers[0][0]);
    fill_legs(laid, wrap);
    return laid;
}

static Replay judged(const Laid *laid) { return replay_of(&laid->sheet->made, &laid->bench); }

static void put_away(Laid *laid)
{
    free(laid->sheet);
    free(laid);
}

static void test_lawful_crosswraps(void **state)
{
    (void)state;
    for (int i = 0; i < WRAP_COUNT; i++) {
        Laid *laid = lay_out(wraps[i], wraps[i]->rod, wraps[i]->actions);
        Replay replay = judged(laid);
        if (replay.verdict != REPLAY_LAWFUL)
            fail_msg("%s: step %u, needed %g, got %g: %s", wraps[i]->name, (unsigned)replay.action, replay.needed,
                     replay.got, verdict_words(replay.verdict));
        assert_int_equal(replay.action, laid->sheet->made.action_count);
        put_away(laid);
    }
}

/* The same wrap, so many turns farther round the blank with its place. */
static Laid *lay_out_round(const Wrap *wrap, double place_round, double clocks_round)
{
    Laid *laid = lay_out(wrap, wrap->rod, wrap->actions);
    laid->sheet->written[0].angle = place_round;
    laid->planned.base += place_round;
    for (uint32_t i = 0; i < laid->sheet->made.action_count; i++) {
        LegAction *leg = &laid->sheet->actions[i].leg;
        ActionKind kind = laid->sheet->actions[i].kind;
        if (kind != ACTION_LEG && kind != ACTION_TIE_ON && kind != ACTION_TIE_OFF)
            continue;
        leg->from_clock = fmod(leg->from_clock + 360 * clocks_round, 360);
        leg->to_clock = fmod(leg->to_clock + 360 * clocks_round, 360);
    }
    return laid;
}

/* Where a place stands round the blank all of its crosswrap goes with it: each clock is as much farther on. */
static void test_crosswraps_go_round_with_their_place(void **state)
{
    (void)state;
    for (int i = 0; i < WRAP_COUNT; i++) {
        Laid *laid = lay_out_round(wraps[i], 70 / 360.0, 70 / 360.0);
        Replay replay = judged(laid);
        if (replay.verdict != REPLAY_LAWFUL)
            fail_msg("%s: step %u: %s", wraps[i]->name, (unsigned)replay.action, verdict_words(replay.verdict));
        put_away(laid);
        laid = lay_out_round(wraps[i], 70 / 360.0, 0); /* legs that stay behind */
        assert_int_equal(judged(laid).verdict, REPLAY_MARKS_MISSED);
        put_away(laid);
        laid = lay_out_round(wraps[i], 0, 70 / 360.0); /* and that run ahead */
        assert_int_equal(judged(laid).verdict, REPLAY_MARKS_MISSED);
        put_away(laid);
        laid = lay_out_round(wraps[i], 0, 0);
        laid->sheet->written[0].angle = 70 / 360.0; /* lines that stay behind: those of a spiral are its place's */
        assert_int_equal(judged(laid).verdict, REPLAY_MARKS_MISSED);
        put_away(laid);
    }
}

typedef struct Case {
    const char *name;
    const Wrap *wrap;
    const char *actions;
    Verdict verdict;
    uint32_t action, piece; /* unlawful: where and whose */
    double needed, got;
} Case;

static void judge(const Case *cases, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const Case *test = &cases[i];
        Laid *laid = lay_out(test->wrap, test->wrap->rod, test->actions);
        Replay replay = judged(laid);
        bool lawful = test->verdict == REPLAY_LAWFUL;
        uint32_t action = lawful ? laid->sheet->made.action_count : test->action;
        uint32_t piece = lawful ? NO_PIECE : test->piece;
        if (replay.verdict != test->verdict || replay.action != action || replay.piece != piece
            || replay.needed != test->needed || replay.got != test->got)
            fail_msg("%s: step %u, piece %d, needed %g, got %g: %s", test->name, (unsigned)replay.action,
                     (int)replay.piece, replay.needed, replay.got, verdict_words(replay.verdict));
        put_away(laid);
    }
}

#define JUDGE(cases) judge((cases), sizeof(cases) / sizeof *(cases))
#define READY "set out; hold; "
#define FIRST_STRAND READY "tie on 0; " PASS
#define ALL_PASSES FIRST_STRAND "symmetry; leg 2 of 0; leg 3 of 0; tie off 0; "
#define BANDS BAND("1") BAND("2")
#define BOTH_STARTS READY "tie on 0; " PASS "leg 2 of 0; leg 3 of 0; "
#define FIRST_PIECE READY "tie on 0; " PASS "symmetry; tie off 0; "
#define SPACER_LIES FIRST_PIECE "tie on 1; leg 2 of 1; leg 3 of 1; tie off 1; "

static void test_what_comes_first(void **state)
{
    (void)state;
    static const Case cases[] = {
        {"tied on before the lines are marked", &chevron, "hold; tie on 0", REPLAY_OUT_OF_ORDER, 1, 0, 0, 0},
        {"tied on before the ends are held", &chevron, "set out; tie on 0", REPLAY_OUT_OF_ORDER, 1, 0, 0, 0},
        {"tied on with nothing done", &chevron, "tie on 0", REPLAY_OUT_OF_ORDER, 0, 0, 0, 0},
        {"marked twice", &chevron, "set out; hold; set out", REPLAY_OUT_OF_ORDER, 2, NO_PIECE, 0, 0},
        {"held twice", &chevron, "hold; hold", REPLAY_OUT_OF_ORDER, 1, NO_PIECE, 0, 0},
        {"marked when a piece is tied on", &chevron, "hold; set out; tie on 0; set out", REPLAY_OUT_OF_ORDER, 3,
         NO_PIECE, 0, 0},
        {"tape where the bench has none", &friction_alone, "set out; hold", REPLAY_OUT_OF_ORDER, 1, NO_PIECE, 0,
         0},
        {"a leg of a piece that is not tied on", &chevron, READY "leg 0 of 0", REPLAY_STRAND_LOST, 2, 0, 0, 0},
        {"tied on twice", &chevron, READY "tie on 0; tie on 0", REPLAY_STRAND_LOST, 3, 0, 0, 0},
        {"a thread of the end bands tied on", &chevron, READY "tie on 1", REPLAY_STRAND_LOST, 2, 1, 0, 0},
        {"started like a band", &chevron, READY "start 0", REPLAY_STRAND_LOST, 2, 0, 0, 0},
        {"the second piece before the first is tied off", &spacer, READY "tie on 0; " PASS "symmetry; tie on 1",
         REPLAY_STRAND_LOST, 6, 1, 0, 0},
        {"the second piece first", &spacer, READY "tie on 1", REPLAY_PASSES_DIFFER, 2, 1, 1, 2},
        {"the second strand before the first is held against the marks", &chevron, FIRST_STRAND "leg 2 of 0",
         REPLAY_OUT_OF_ORDER, 5, 0, 0, 0},
        {"held against the marks with one start laid", &two_starts, READY "tie on 0; " PASS "symmetry",
         REPLAY_OUT_OF_ORDER, 5, NO_PIECE, 0, 0},
        {"held against the marks before it is laid", &chevron, READY "symmetry", REPLAY_OUT_OF_ORDER, 2, NO_PIECE,
         0, 0},
        {"held against the marks twice", &chevron, FIRST_STRAND "symmetry; symmetry", REPLAY_OUT_OF_ORDER, 6,
         NO_PIECE, 0, 0},
        {"never held against the marks", &friction_alone, "set out; tie on 0; " PASS "tie off 0; start 1",
         REPLAY_OUT_OF_ORDER, 5, NO_PIECE, 0, 0},
        {"a step about a crosswrap that names a piece", &chevron, "set out 0", REPLAY_STRAND_LOST, 0, NO_PIECE, 0,
         0},
        {"a crosswrap in a layer that there is not", &chevron, "set out layer 1", REPLAY_STRAND_LOST, 0, NO_PIECE,
         0, 0},
        {"a crosswrap's last step first", &chevron, "take ends", REPLAY_OUT_OF_ORDER, 0, NO_PIECE, 0, 0},
    };
    JUDGE(cases);
}

static void test_passes_in_order(void **state)
{
    (void)state;
    static const Case cases[] = {
        {"back before out", &chevron, READY "tie on 0; leg 1 of 0", REPLAY_PASSES_DIFFER, 3, 0, 1, 1},
        {"out twice", &chevron, READY "tie on 0; leg 0 of 0; leg 0 of 0", REPLAY_PASSES_DIFFER, 4, 0, 1, 1},
        {"a pass left out", &two_starts, READY "tie on 0; leg 2 of 0", REPLAY_PASSES_DIFFER, 3, 0, 1, 2},
        {"tied off between out and back", &chevron, READY "tie on 0; leg 0 of 0; tie off 0", REPLAY_PASSES_DIFFER,
         4, 0, 1, 3},
        {"tied off with a pass missing", &chevron, FIRST_STRAND "tie off 0", REPLAY_PASSES_DIFFER, 5, 0, 2, 3},
        {"a pass more than the piece has", &spacer, READY "tie on 0; " PASS "symmetry; leg 2 of 0",
         REPLAY_PASSES_DIFFER, 6, 0, 2, 2},
        {"the same of one thread", &spiral, READY "tie on 0; leg 0 of 0; symmetry; leg 1 of 0",
         REPLAY_PASSES_DIFFER, 5, 0, 2, 2},
        {"tied off twice", &chevron, ALL_PASSES "tie off 0", REPLAY_STRAND_LOST, 9, 0, 0, 0},
        {"a leg after tying off", &chevron, ALL_PASSES "leg 3 of 0", REPLAY_STRAND_LOST, 9, 0, 0, 0},
        {"a piece tied on again", &chevron, ALL_PASSES "tie on 0", REPLAY_STRAND_LOST, 9, 0, 0, 0},
    };
    JUDGE(cases);
}

static void test_end_bands_over_all_passes(void **state)
{
    (void)state;
    static const Case cases[] = {
        {"before anything", &chevron, "start 1", REPLAY_OUT_OF_ORDER, 0, NO_PIECE, 0, 0},
        {"their loop before anything", &chevron, "loop 1 final", REPLAY_OUT_OF_ORDER, 0, NO_PIECE, 0, 0},
        {"before the first pass", &chevron, READY "start 1", REPLAY_PASSES_DIFFER, 2, 0, 1, 3},
        {"with a thread still tied on", &chevron, FIRST_STRAND "symmetry; leg 2 of 0; leg 3 of 0; start 1",
         REPLAY_THREAD_LEFT, 8, 0, 0, 0},
        {"before the second piece is laid", &spacer, FIRST_PIECE "start 2", REPLAY_PASSES_DIFFER, 7, 1, 2, 3},
        {"over a spacer", &spacer, SPACER_LIES "start 2", REPLAY_THREAD_LEFT, 11, 1, 0, 0},
        {"a spacer unwound before it is tied off", &spacer,
         FIRST_PIECE "tie on 1; leg 2 of 1; leg 3 of 1; unwind 1", REPLAY_STRAND_LOST, 10, 1, 0, 0},
        {"a spacer unwound twice", &spacer, SPACER_LIES "unwind 1; unwind 1", REPLAY_STRAND_LOST, 12, 1, 0, 0},
        {"a strand that stays unwound", &spacer, SPACER_LIES "unwind 0", REPLAY_STRAND_LOST, 11, 0, 0, 0},
        {"a spacer taken like a band's", &spacer, SPACER_LIES "spacer 1", REPLAY_STRAND_LOST, 11, 1, 0, 0},
        {"the other end band first", &chevron, ALL_PASSES BAND("2"), REPLAY_TURNS_DIFFER, 9, 2, 10, 0},
        {"a band's end left under the second band", &chevron, ALL_PASSES "start 1; wind 10 of 1; start 2",
         REPLAY_THREAD_LEFT, 11, 1, 0, 0},
        {"the same over strands of one pass each", &spiral,
         READY "tie on 0; leg 0 of 0; tie off 0; symmetry; tie on 1; leg 1 of 1; tie off 1; "
               "start 2; wind 10 of 2; start 3",
         REPLAY_THREAD_LEFT, 11, 2, 0, 0},
        {"no end bands", &chevron, ALL_PASSES, REPLAY_TURNS_DIFFER, 9, 1, 10, 0},
    };
    JUDGE(cases);
}

/* Before there are turns the strands are closed up, which is no packing; from an end band's first turn on it is.
 */
static void test_packing_of_end_bands(void **state)
{
    (void)state;
    static const Case cases[] = {
        {"the first turn packed and measured, with the strands closed up before", &chevron,
         ALL_PASSES "pack; start 1; tape tag 1 clear 2; wind 1 of 1; pack; measure; wind 1 of 1; untape tag 1; "
                    "tag 1; loop 1 final; wind 8 of 1; pull 1 final; trim 1; " BAND("2") "seal; take ends",
         .verdict = REPLAY_LAWFUL},
        {"the first turn measured, the strands alone closed up", &chevron,
         ALL_PASSES "pack; start 1; tape tag 1 clear 2; wind 1 of 1; measure", REPLAY_PACK_FIRST, 13, NO_PIECE, 0,
         0},
        {"the strands alone closed up, and measured", &chevron, ALL_PASSES "pack; measure", REPLAY_PACK_FIRST, 10,
         NO_PIECE, 0, 0},
        {"the first band packed when the second has begun", &chevron,
         ALL_PASSES BAND("1") "start 2; wind 1 of 2; pack", REPLAY_GAP_PACKED, 18, NO_PIECE, 0, 0},
    };
    JUDGE(cases);
}

/* `final` is 8 here. */
static void test_cut_when_they_are_held(void **state)
{
    (void)state;
    static const Case cases[] = {
        {"cut with no band over them", &chevron, ALL_PASSES "take ends", REPLAY_TRIMMED_UNBOUND, 9, 0, 8, 0},
        {"cut with one band over them", &chevron, ALL_PASSES BAND("1") "take ends", REPLAY_TRIMMED_UNBOUND, 16, 0,
         8, 0},
        {"cut in the middle of the second band", &chevron, ALL_PASSES BAND("1") "start 2; wind 7 of 2; take ends",
         REPLAY_TRIMMED_UNBOUND, 18, 0, 8, 7},
        {"cut before sealing", &chevron, ALL_PASSES BANDS "take ends", REPLAY_OUT_OF_ORDER, 23, NO_PIECE, 0, 0},
        {"sealed before the end bands", &chevron, ALL_PASSES "seal", REPLAY_OUT_OF_ORDER, 9, NO_PIECE, 0, 0},
        {"sealed before the second end band", &chevron, ALL_PASSES BAND("1") "seal", REPLAY_OUT_OF_ORDER, 16,
         NO_PIECE, 0, 0},
        {"sealed with the second band's end hanging", &chevron,
         ALL_PASSES BAND("1") "start 2; wind 2 of 2; loop 2 final; wind 8 of 2; tag 2; seal", REPLAY_THREAD_LEFT,
         21, 2, 0, 0},
        {"sealed twice", &chevron, ALL_PASSES BANDS "seal; seal", REPLAY_OUT_OF_ORDER, 24, NO_PIECE, 0, 0},
        {"cut twice", &chevron, ALL_PASSES BANDS "seal; take ends; take ends", REPLAY_OUT_OF_ORDER, 25, NO_PIECE,
         0, 0},
        {"not cut", &chevron, ALL_PASSES BANDS "seal", REPLAY_THREAD_LEFT, 24, 0, 0, 0},
        {"not cut, a spacer gone already", &spacer, SPACER_LIES "unwind 1; " BAND("2") BAND("3") "seal",
         REPLAY_THREAD_LEFT, 27, 0, 0, 0},
        {"not sealed, not cut", &chevron, ALL_PASSES BANDS, REPLAY_THREAD_LEFT, 23, 0, 0, 0},
    };
    JUDGE(cases);
}

/* A band before the crosswrap's layer, and one behind it. */
static void test_layers_around(void **state)
{
    (void)state;
#define AROUND "s s s s | 1x10 gap 2x10 layer 3x10"
#define LAST "start 3; wind 2 of 3; loop 3 final; wind 8 of 3; pull 3 final; trim 3; tag 3"
    static const struct {
        const char *name, *actions;
        Verdict verdict;
        uint32_t action, piece;
    } cases[] = {
        {"one after the other", ALL_PASSES BANDS "seal; take ends; " LAST, REPLAY_LAWFUL, 32, NO_PIECE},
        {"the next layer before the ends are taken off", ALL_PASSES BANDS "seal; " LAST, REPLAY_THREAD_LEFT, 24,
         0},
        {"the next layer before the crosswrap", LAST, REPLAY_TURNS_DIFFER, 0, 3},
        {"the next layer while passes are laid", FIRST_STRAND LAST, REPLAY_THREAD_LEFT, 5, 0},
        {"a layer without a crosswrap sealed",
         ALL_PASSES BANDS "seal; take ends; " LAST "; seal layer 1; seal layer 1", REPLAY_LAWFUL, 34, NO_PIECE},
        {"a crosswrap's step about it", ALL_PASSES BANDS "seal; take ends; set out layer 1", REPLAY_STRAND_LOST,
         25, NO_PIECE},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Laid *laid = lay_out(&chevron, AROUND, cases[i].actions);
        Replay replay = judged(laid);
        if (replay.verdict != cases[i].verdict || replay.action != cases[i].action
            || replay.piece != cases[i].piece)
            fail_msg("%s: step %u, piece %d: %s", cases[i].name, (unsigned)replay.action, (int)replay.piece,
                     verdict_words(replay.verdict));
        put_away(laid);
    }
}

/* The first layer's wrap is to be left before the lines of the second are marked. */
static void test_a_layer_below(void **state)
{
    (void)state;
#define BELOW_IT "s s s s | 3x10 layer 1x10 gap 2x10"
#define UNDER BAND("3")
#define OVER                                                                                                      \
    "set out layer 1; hold layer 1; tie on 0; " PASS "symmetry layer 1; leg 2 of 0; leg 3 of 0; "                 \
    "tie off 0; " BANDS "seal layer 1; take ends layer 1"
    static const struct {
        const char *name, *actions;
        Verdict verdict;
        uint32_t action, piece;
    } cases[] = {
        {"one after the other", UNDER OVER, REPLAY_LAWFUL, 32, NO_PIECE},
        {"marked before the layer below is wound", OVER, REPLAY_TURNS_DIFFER, 0, NO_PIECE},
        {"marked in the middle of it", "start 3; wind 2 of 3; set out layer 1", REPLAY_TURNS_DIFFER, 2, NO_PIECE},
        {"marked before its end is trimmed",
         "start 3; wind 2 of 3; loop 3 final; wind 8 of 3; pull 3 final; tag 3; set out layer 1",
         REPLAY_THREAD_LEFT, 6, 3},
        {"its end bands before it is marked", UNDER "start 1", REPLAY_OUT_OF_ORDER, 7, NO_PIECE},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Laid *laid = lay_out(&chevron, BELOW_IT, cases[i].actions);
        laid->sheet->layers[0][1].crosswrap = &laid->planned;
        laid->sheet->layers[0][0].crosswrap = NULL;
        laid->sheet->pieces[0].layer = 1;
        for (uint32_t action = 0; action < laid->sheet->made.action_count; action++)
            if (laid->sheet->actions[action].piece == 0)
                laid->sheet->actions[action].layer = 1;
        Replay replay = judged(laid);
        if (replay.verdict != cases[i].verdict || replay.action != cases[i].action
            || replay.piece != cases[i].piece)
            fail_msg("%s: step %u, piece %d: %s", cases[i].name, (unsigned)replay.action, (int)replay.piece,
                     verdict_words(replay.verdict));
        put_away(laid);
    }
}

/* What a leg says is not what it has to be. */
static Laid *laid_now;
static LegAction *leg_now(uint32_t leg)
{
    for (uint32_t i = 0; i < laid_now->sheet->made.action_count; i++)
        if (laid_now->sheet->actions[i].kind == ACTION_LEG && leg-- == 0)
            return &laid_now->sheet->actions[i].leg;
    fail_msg("no such leg");
    return NULL;
}

/* Sets up a wrap, changes one thing about its n-th leg, and judges it. */
#define SPOILT(wrap, which, change, wanted)                                                                       \
    do {                                                                                                          \
        laid_now = lay_out((wrap), (wrap)->rod, (wrap)->actions);                                                 \
        LegAction *leg = leg_now(which);                                                                          \
        change;                                                                                                   \
        Replay replay = judged(laid_now);                                                                         \
        bool at_leg = laid_now->sheet->actions[replay.action].kind == ACTION_LEG;                                 \
        if (replay.verdict != (wanted) || (replay.verdict && !at_leg))                                            \
            fail_msg("%s, leg %u, %s: %s", (wrap)->name, (unsigned)(which), #change,                              \
                     verdict_words(replay.verdict));                                                              \
        put_away(laid_now);                                                                                       \
    } while (0)

static void test_legs_that_miss_their_marks(void **state)
{
    (void)state;
    for (int i = 0; i < WRAP_COUNT; i++) {
        const Wrap *wrap = wraps[i];
        for (uint32_t n = 0; n < wrap->leg_count; n++) {
            SPOILT(wrap, n, leg->from_clock += 1e-5, REPLAY_MARKS_MISSED);
            SPOILT(wrap, n, leg->to_clock -= 1e-5, REPLAY_MARKS_MISSED);
            SPOILT(wrap, n, leg->from_clock += 1e-7, REPLAY_LAWFUL);
            SPOILT(wrap, n, leg->from_clock += 360, REPLAY_MARKS_MISSED);
            SPOILT(wrap, n, leg->to_clock -= 360, REPLAY_MARKS_MISSED);
            SPOILT(wrap, n, leg->to_clock = NAN, REPLAY_MARKS_MISSED);
            SPOILT(wrap, n, leg->from += 1e-3, REPLAY_MARKS_MISSED);
            SPOILT(wrap, n, leg->to -= 1.5, REPLAY_MARKS_MISSED);
            SPOILT(wrap, n, double from = leg->from; leg->from = leg->to; leg->to = from, REPLAY_MARKS_MISSED);
            SPOILT(wrap, n, leg->marks++, REPLAY_MARKS_MISSED);
            SPOILT(wrap, n, leg->turns += 1, REPLAY_TURNS_DIFFER);
            SPOILT(wrap, n, leg->turns = -leg->turns, REPLAY_TURNS_DIFFER);
            SPOILT(wrap, n, leg->turns += 1e-6, REPLAY_TURNS_DIFFER);
            SPOILT(wrap, n, leg->turns = NAN, REPLAY_TURNS_DIFFER);
            SPOILT(wrap, n, leg->pass++, REPLAY_PASSES_DIFFER);
            SPOILT(wrap, n, leg->pass = NO_PASS, REPLAY_PASSES_DIFFER);
            SPOILT(wrap, n, leg->leg = leg->leg == LEG_OUT ? LEG_BACK : LEG_OUT, REPLAY_PASSES_DIFFER);
        }
    }
}

static void test_ways_round(void **state)
{
    (void)state;
    SPOILT(&chevron, 0, leg->dwell += 360, REPLAY_WAY_ROUND);
    SPOILT(&chevron, 0, leg->dwell -= 360, REPLAY_WAY_ROUND);
    SPOILT(&chevron, 0, leg->dwell += 1e-5, REPLAY_WAY_ROUND);
    SPOILT(&chevron, 0, leg->dwell += 1e-7, REPLAY_LAWFUL);
    SPOILT(&chevron, 0, leg->dwell = 0, REPLAY_WAY_ROUND);
    SPOILT(&chevron, 0, leg->dwell = NAN, REPLAY_WAY_ROUND);
    SPOILT(&chevron, 1, leg->dwell = 306, REPLAY_WAY_ROUND);     /* that leads to the strand before */
    SPOILT(&chevron, 3, leg->dwell = 302.625, REPLAY_WAY_ROUND); /* the piece ends */
    SPOILT(&spacer, 1, leg->dwell = 302.625, REPLAY_WAY_ROUND);  /* here already */
    SPOILT(&spiral, 0, leg->dwell = 360, REPLAY_WAY_ROUND);
    SPOILT(&two_starts, 1, leg->dwell += 180, REPLAY_WAY_ROUND); /* that leads to its own start again */
    SPOILT(&friction_alone, 0, leg->dwell -= 360, REPLAY_WAY_ROUND);
    SPOILT(&friction_alone, 0, leg->dwell += 360, REPLAY_WAY_ROUND);
    laid_now = lay_out(&friction_alone, friction_alone.rod, friction_alone.actions);
    laid_now->bench.friction = 0.09; /* 11.11 (ln 2 + 0.367) = 11.78 radians = 675 deg: two turns more */
    assert_int_equal(judged(laid_now).verdict, REPLAY_WAY_ROUND);
    assert_within(judged(laid_now).needed, 279 + 720, 1e-6);
    leg_now(0)->dwell = 279 + 720;
    assert_int_equal(judged(laid_now).verdict, REPLAY_LENGTH_DIFFERS); /* the piece was cut for one turn less */
    laid_now->sheet->pieces[0].wound += GIRTH;
    assert_int_equal(judged(laid_now).verdict, REPLAY_LAWFUL);
    put_away(laid_now);
}

static void test_strands_beside_one_another(void **state)
{
    (void)state;
    SPOILT(&chevron, 0, leg->side = 1, REPLAY_NOT_BESIDE);
    SPOILT(&chevron, 0, leg->neighbour = 0, REPLAY_NOT_BESIDE);
    SPOILT(&chevron, 1, leg->side = 1, REPLAY_NOT_BESIDE);
    SPOILT(&three_strands, 4, leg->neighbour = 0, REPLAY_NOT_BESIDE); /* it touches the second */
    SPOILT(&three_strands, 5, leg->side = 2; leg->neighbour = 0, REPLAY_NOT_BESIDE);
    SPOILT(&three_strands, 3, leg->side = -1; leg->neighbour = 2, REPLAY_NOT_BESIDE); /* which is still to come */
    SPOILT(&chevron, 2, leg->side = -1, REPLAY_NOT_BESIDE);
    SPOILT(&chevron, 2, leg->side = 2, REPLAY_NOT_BESIDE);
    SPOILT(&chevron, 2, leg->side = 0; leg->neighbour = NO_PASS, REPLAY_NOT_BESIDE);
    SPOILT(&chevron, 2, leg->neighbour = NO_PASS, REPLAY_NOT_BESIDE);
    SPOILT(&chevron, 2, leg->neighbour = 1, REPLAY_NOT_BESIDE); /* itself */
    SPOILT(&chevron, 3, leg->neighbour = 1, REPLAY_NOT_BESIDE);
    SPOILT(&spacer, 2, leg->side = 1, REPLAY_NOT_BESIDE);
    SPOILT(&two_starts, 4, leg->neighbour = 1, REPLAY_NOT_BESIDE); /* of the other start */
    SPOILT(&two_starts, 2, leg->side = 1; leg->neighbour = 0, REPLAY_NOT_BESIDE);
    /* the strand before, 0.01 mm narrower than the plan's middles leave room for */
    static BundleStrand apart[WRAP_STRANDS];
    memcpy(apart, spiral.strands, sizeof apart);
    apart[0].width = 0.14;
    SPOILT(&spiral, 1, laid_now->planned.strands = apart; (void)leg, REPLAY_NOT_BESIDE);
    /* the third strand upon the second: against the first like that, and going as it goes */
    static Wrap upon;
    upon = three_strands;
    upon.strands[2].middle = 0.15;
    upon.legs[3].dwell = 299.25;
    for (int leg = 4; leg < 6; leg++) {
        upon.legs[leg] = chevron.legs[leg - 2];
        upon.legs[leg].pass = 2;
    }
    SPOILT(&upon, 4, (void)leg, REPLAY_NOT_BESIDE);
    assert_int_equal(chevron.legs[2].neighbour, 0);
}

static void test_lengths_of_legs(void **state)
{
    (void)state;
    Laid *laid = lay_out(&chevron, chevron.rod, chevron.actions);
    Action *leg = &laid->sheet->actions[3];
    assert_int_equal(leg->kind, ACTION_LEG);
    leg->length *= 1 + 1e-10;
    assert_int_equal(judged(laid).verdict, REPLAY_LAWFUL);
    leg->length = leg_length(0, LEG_OUT) * (1 + 1e-8);
    Replay replay = judged(laid);
    assert_int_equal(replay.verdict, REPLAY_LENGTH_DIFFERS);
    assert_int_equal(replay.action, 3);
    assert_within(replay.needed, leg_length(0, LEG_OUT), 0);
    leg->length = leg_length(0, LEG_BACK);
    assert_int_equal(judged(laid).verdict, REPLAY_LENGTH_DIFFERS);
    leg->length = NAN;
    assert_int_equal(judged(laid).verdict, REPLAY_LENGTH_DIFFERS);
    leg->length = leg_length(0, LEG_OUT);
    laid->sheet->pieces[0].wound -= 0.001;
    replay = judged(laid);
    assert_int_equal(replay.verdict, REPLAY_LENGTH_DIFFERS);
    assert_int_equal(laid->sheet->actions[replay.action].kind, ACTION_TIE_OFF);
    put_away(laid);
}

/* A plan that does not keep to the reference is found like a wrong action. */
static void test_plans_against_the_rules(void **state)
{
    (void)state;
    SPOILT(&chevron, 0, laid_now->bench.toward_you = true; (void)leg, REPLAY_MARKS_MISSED);
    SPOILT(&chevron, 0, laid_now->bench.butt_left = false; (void)leg, REPLAY_MARKS_MISSED);
    SPOILT(&chevron, 0, laid_now->sheet->runs[0].turns++; (void)leg, REPLAY_MARKS_MISSED);
    SPOILT(&taper, 3, laid_now->stretch.diameter_to += 0.01; (void)leg, REPLAY_MARKS_MISSED);
    SPOILT(&chevron, 0, laid_now->sheet->pieces[0].thread = &foam; (void)leg, REPLAY_PASSES_DIFFER);
    SPOILT(&chevron, 0, laid_now->sheet->pieces[0].spacer = true; (void)leg, REPLAY_PASSES_DIFFER);
    static Wrap cut_off; /* its piece ends with the first pass, and goes round no further */
    cut_off = chevron;
    cut_off.legs[1].dwell = 0;
    static const struct {
        const Wrap *wrap;
        const char *actions;
        uint32_t piece, first, count, strands, action;
    } plans[] = {
        {&spacer, READY "tie on 1", 1, 0, 1, 2, 2},       /* two pieces for one pass */
        {&spacer, READY "tie on 0", 0, 1, 1, 2, 2},       /* none for the first */
        {&spiral, READY "tie on 0", 0, 0, 2, 2, 2},       /* one for two passes that cannot turn round */
        {&cut_off, FIRST_PIECE "start 1", 0, 0, 1, 2, 7}, /* none for the last */
        {&spacer, FIRST_PIECE "start 2", 1, 1, 1, 1, 7},  /* a piece for no pass */
    };
    for (size_t i = 0; i < sizeof plans / sizeof *plans; i++) {
        Laid *laid = lay_out(plans[i].wrap, plans[i].wrap->rod, plans[i].actions);
        Piece *piece = &laid->sheet->pieces[plans[i].piece];
        piece->first_pass = plans[i].first;
        piece->pass_count = plans[i].count;
        laid->planned.strand_count = plans[i].strands;
        laid->sheet->pieces[0].wound = 2 * 61.5 + 0.25 + 306 / 360.0 * GIRTH + 20; /* of the first pass */
        Replay replay = judged(laid);
        if (replay.verdict != REPLAY_PASSES_DIFFER || replay.action != plans[i].action)
            fail_msg("%u: step %u: %s", (unsigned)i, (unsigned)replay.action, verdict_words(replay.verdict));
        put_away(laid);
    }
    Laid *laid = lay_out(&chevron, chevron.rod, chevron.actions);
    laid->planned.base = 0.25; /* no line of crossings faces up */
    Replay replay = judged(laid);
    assert_int_equal(replay.verdict, REPLAY_MARKS_MISSED);
    assert_int_equal(replay.action, 0);
    put_away(laid);
    laid = lay_out(&friction_alone, friction_alone.rod, friction_alone.actions);
    laid->planned.base = 2 / 3.0; /* another family faces up */
    assert_int_equal(judged(laid).verdict, REPLAY_MARKS_MISSED);
    put_away(laid);
}

/* A spiral's lead by each of the three ways to say it. */
static void test_spirals_leads(void **state)
{
    (void)state;
    static Wrap other;
    other = spiral;
    other.written.spaced_by = SPACED_BY_LEAD;
    other.written.spaced = 20;
    Laid *laid = lay_out(&other, other.rod, other.actions);
    assert_int_equal(judged(laid).verdict, REPLAY_LAWFUL);
    put_away(laid);
    other.written.spaced_by = SPACED_BY_ANGLE;
    other.written.spaced = atan(0.75);
    laid = lay_out(&other, other.rod, other.actions);
    assert_int_equal(judged(laid).verdict, REPLAY_LAWFUL);
    put_away(laid);
    other.written.spaced = atan(0.7501);
    laid = lay_out(&other, other.rod, other.actions);
    assert_int_equal(judged(laid).verdict, REPLAY_MARKS_MISSED);
    put_away(laid);
}

/* One after the other on the same layer's length; the second is to be marked only when the first is done with. */
static void test_one_crosswrap_on_another(void **state)
{
    (void)state;
#define TWO "s s s s s s | 1x10 gap 2x10 layer 4x10 gap 5x10"
#define LOWER ALL_PASSES BANDS "seal; "
#define UPPER                                                                                                     \
    "set out layer 1; hold layer 1; tie on 3; leg 0 of 3; leg 1 of 3; symmetry layer 1; leg 2 of 3; "             \
    "leg 3 of 3; tie off 3; " BAND("4") BAND("5") "seal layer 1; take ends layer 1"
    static const struct {
        const char *name, *actions;
        Verdict verdict;
        uint32_t action, piece;
    } cases[] = {
        {"one after the other", LOWER "take ends; " UPPER, REPLAY_LAWFUL, 50, NO_PIECE},
        {"before the ends are taken off", LOWER UPPER, REPLAY_THREAD_LEFT, 24, 0},
        {"the first one's last step about the second", LOWER "take ends layer 1", REPLAY_OUT_OF_ORDER, 24,
         NO_PIECE},
        {"the second one's piece for the first", READY "tie on 3", REPLAY_OUT_OF_ORDER, 2, 3},
        {"the second first", UPPER, REPLAY_TURNS_DIFFER, 0, NO_PIECE},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Laid *laid = lay_out(&chevron, TWO, cases[i].actions);
        laid->sheet->layers[0][1].crosswrap = &laid->planned;
        laid->sheet->pieces[3] = laid->sheet->pieces[0];
        laid->sheet->pieces[3].layer = 1;
        for (uint32_t action = 0; action < laid->sheet->made.action_count; action++)
            if (laid->sheet->actions[action].piece == 3)
                laid->sheet->actions[action].layer = 1;
        Replay replay = judged(laid);
        if (replay.verdict != cases[i].verdict || replay.action != cases[i].action
            || replay.piece != cases[i].piece)
            fail_msg("%s: step %u, piece %d: %s", cases[i].name, (unsigned)replay.action, (int)replay.piece,
                     verdict_words(replay.verdict));
        put_away(laid);
    }
}

/* Slope 0.75: the way along the surface is 1.25 times that along the blank, so that leads of 10 and 20 mm count as
 * 12.5 and 25. Round the blank are 18.75 mm: tan a is 3/2 out and 3/4 back. By friction (0.2) turning takes (1 /
 * 0.2) ln(sin a / (1 - cos a)) of each: ln((sqrt(13) + 2) / 3) and ln(0.6 / (1 - 0.8)), together 5 ln(sqrt(13) +
 * 2) radians. */
static void test_turning_round_on_a_slope(void **state)
{
    (void)state;
    Laid *laid = lay_out(&chevron, chevron.rod, chevron.actions);
    Crosswrap written = *laid->planned.crosswrap;
    written.leads[LEG_BACK] = 2;
    laid->planned.crosswrap = &written;
    laid->planned.base = 1.0 / 3;
    double diameter = 18.75 / TRADE_PI - navy.diameter;
    laid->stretch = (SurfaceStretch){LOW, HIGH, diameter, diameter + 2 * 0.75 * (HIGH - LOW)};
    laid->bench.ends = HOLD_NONE;
    SetOut lines;
    assert_true(set_out_lines(&lines, laid->sheet->place, &laid->sheet->layers[0][0], &laid->bench));
    assert_within(lines.girth[0], 18.75, 1e-12);
    assert_within(lines.lead[LEG_OUT], 10, 1e-12);
    assert_within(lines.lead[LEG_BACK], 20, 1e-12);
    assert_within(lines.friction_dwell[0], 5 * log(sqrt(13) + 2) * 180 / TRADE_PI, 1e-9);
    laid->bench.ends = HOLD_TAPE;
    assert_true(set_out_lines(&lines, laid->sheet->place, &laid->sheet->layers[0][0], &laid->bench));
    assert_true(lines.friction_dwell[0] == 0);
    put_away(laid);
}

static void spoil_leg(Action *action, double from_clock, double dwell_more, double longer, int side)
{
    action->leg.from_clock = from_clock;
    action->leg.dwell += dwell_more;
    action->leg.side += side;
    action->length *= 1 + longer;
}

/* What a builder reads of it. */
static void test_words_for_builders(void **state)
{
    (void)state;
    static const struct {
        const char *actions;
        double from_clock;
        const char *message, *label, *mend;
        double dwell_more, longer; /* the first leg's: degrees; as a share of its length */
        int side;
    } cases[] = {
        {ALL_PASSES BAND("1") "take ends", 153, "a tag or an end is trimmed before enough turns hold it",
         "it should be 8 and is 0", "give `ends` more turns, or lower `final` in bench { }", 0, 0, 0},
        {READY "tie on 0; leg 0 of 0", 154.5, "a leg does not meet its marks",
         "it should be 153 deg and is 154.5 deg", "this is a bug in turnlay: please report it", 0, 0, 0},
        {"tie on 0", 153, "a step comes before what has to be done first, or comes twice", "",
         "this is a bug in turnlay: please report it", 0, 0, 0},
        {READY "tie on 0; leg 0 of 0", 153, "a thread does not go round to where its next leg begins",
         "it should be 306 deg and is 307 deg", "this is a bug in turnlay: please report it", 1, 0, 0},
        {READY "tie on 0; leg 0 of 0", 153, "a strand is not laid against the one beside it", "",
         "this is a bug in turnlay: please report it", 0, 0, 1},
        {READY "tie on 0; leg 0 of 0", 153, "the length of thread is not the plan's", NULL,
         "this is a bug in turnlay: please report it", 0, 0.5, 0},
        {FIRST_STRAND "tie off 0", 153, "the passes are not the plan's passes",
         "it should be pass 2 and is pass 3", "this is a bug in turnlay: please report it", 0, 0, 0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Trap trap = {0};
        Arena arena;
        arena_start(&arena, &trap);
        if (setjmp(*trap_set(&trap)) != 0)
            fail_msg("the machine has no memory left");
        Texts texts;
        texts_start(&texts, &arena);
        Findings findings;
        findings_start(&findings, &arena);
        Laid *laid = lay_out(&chevron, chevron.rod, cases[i].actions);
        Thread named = navy;
        named.name = text_of_string(&texts, "navy");
        BundleStrand strands[WRAP_STRANDS];
        memcpy(strands, chevron.strands, sizeof strands);
        strands[0].thread = strands[1].thread = laid->sheet->pieces[0].thread = &named;
        laid->planned.strands = strands;
        for (uint32_t action = 0; action < laid->sheet->made.action_count; action++)
            if (laid->sheet->actions[action].kind == ACTION_LEG && laid->sheet->actions[action].leg.pass == 0
                && laid->sheet->actions[action].leg.leg == LEG_OUT)
                spoil_leg(&laid->sheet->actions[action], cases[i].from_clock, cases[i].dwell_more, cases[i].longer,
                          cases[i].side);
        Rod rod = {0};
        laid->sheet->rod.rod = &rod;
        bench_report(&laid->sheet->rod, judged(laid), &laid->bench, &findings);
        assert_int_equal(findings.list.count, 1);
        const Finding *finding = &findings.list.items[0];
        assert_int_equal(finding->code, FINDING_NOT_LAWFUL);
        assert_non_null(strstr(finding->message, " (navy)"));
        assert_non_null(strstr(finding->message, cases[i].message));
        if (cases[i].label)
            assert_string_equal(finding->at.label, cases[i].label);
        assert_non_null(strstr(finding->mend, cases[i].mend));
        put_away(laid);
        arena_end(&arena);
    }
}

/* As many passes as a file may have, each a piece of its own: a spiral of strands that lie 0.15 mm from one
 * another, 3.375 deg along their way; the bundle's line is that of the spiral above. */
static void test_twenty_thousand_passes(void **state)
{
    (void)state;
    enum { PASSES = 20000, OTHERS = 32 };
    Laid *laid = lay_out(&spiral, "s s | 0x10 gap 1x10", "set out; hold; " BAND("0") BAND("1") "seal; take ends");
    Sheet *sheet = laid->sheet;
    Action *actions = calloc(3 * PASSES + OTHERS, sizeof *actions);
    Piece *pieces = calloc(PASSES + 2, sizeof *pieces);
    Pass *passes = calloc(PASSES, sizeof *passes);
    BundleStrand *strands = calloc(PASSES, sizeof *strands);
    assert_true(actions && pieces && passes && strands);
    uint32_t count = 2;
    memcpy(actions, sheet->actions, 2 * sizeof *actions);
    for (uint32_t i = 0; i < PASSES; i++) {
        double middle = 0.15 * (i - (PASSES - 1) / 2.0), behind = 3.375 * middle / 0.15;
        double from = 27 + behind, to = 333 + behind;
        strands[i] = (BundleStrand){.thread = &navy, .middle = middle, .width = 0.15};
        passes[i].length[LEG_OUT] = 61.5;
        pieces[i] = (Piece){.thread = &navy, .first_pass = i, .pass_count = 1, .wound = 61.5};
        Action action = {.kind = ACTION_TIE_ON, .piece = i, .piece_count = 1, .length = 61.5};
        actions[count++] = action;
        action.kind = ACTION_LEG;
        action.leg = (LegAction){.pass = i,
                                 OUT,
                                 UP,
                                 .from_clock = from - 360 * floor(from / 360),
                                 .to_clock = to - 360 * floor(to / 360),
                                 .turns = 2.15,
                                 .side = i > 0,
                                 .neighbour = i ? i - 1 : NO_PASS};
        actions[count++] = action;
        action.kind = ACTION_TIE_OFF;
        actions[count++] = action;
        if (i == 0)
            actions[count++] = (Action){.kind = ACTION_SYMMETRY, .piece = NO_PIECE};
    }
    for (uint32_t i = 2; i < sheet->made.action_count; i++) {
        actions[count] = sheet->actions[i];
        if (actions[count].piece != NO_PIECE)
            actions[count].piece += PASSES;
        count++;
    }
    for (uint32_t i = 0; i < sheet->rod.winding_count; i++)
        sheet->windings[i].pieces.first += PASSES;
    laid->planned.strands = strands;
    laid->planned.passes = passes;
    laid->planned.strand_count = laid->planned.pass_count = PASSES;
    sheet->rod.pieces = pieces;
    sheet->rod.piece_count = PASSES + 2;
    sheet->made.actions = actions;
    sheet->made.action_count = count;
    Replay replay = judged(laid);
    if (replay.verdict != REPLAY_LAWFUL || replay.action != count)
        fail_msg("step %u: %s", (unsigned)replay.action, verdict_words(replay.verdict));
    free(strands);
    free(passes);
    free(pieces);
    free(actions);
    put_away(laid);
}

static uint32_t any(uint64_t *random)
{
    static const uint32_t edges[] = {0, 1, 2, 3, 6, 19, 20, 64, INT32_MAX, UINT32_MAX - 1, UINT32_MAX};
    return edges[(uint32_t)between(random, 0, sizeof edges / sizeof *edges)];
}

static void spoil(Action *action, uint64_t *random)
{
    uint32_t *const fields[] = {&action->place,    &action->layer,     &action->piece,        &action->piece_count,
                                &action->leg.pass, &action->leg.marks, &action->leg.neighbour};
    double *const sizes[] = {&action->leg.from,     &action->leg.to,    &action->leg.from_clock,
                             &action->leg.to_clock, &action->leg.turns, &action->leg.dwell,
                             &action->length};
    uint32_t which = (uint32_t)between(random, 0, 17);
    if (which < 7)
        *fields[which] = any(random);
    else if (which < 14)
        *sizes[which - 7] = any(random) % 3 ? NAN : (double)any(random) - 1e9;
    else if (which == 14)
        action->kind = (ActionKind)any(random);
    else if (which == 15)
        action->kind = (ActionKind)(ACTION_SET_OUT + any(random) % 8);
    else
        action->leg.side = (int)any(random);
}

static void test_garbage_is_judged(void **state)
{
    (void)state;
    uint64_t random = 23;
    for (int round = 0; round < 20000; round++) {
        const Wrap *wrap = wraps[round % WRAP_COUNT];
        Laid *laid = lay_out(wrap, wrap->rod, wrap->actions);
        uint32_t count = laid->sheet->made.action_count;
        for (double left = between(&random, 1, 6); left > 0; left--)
            spoil(&laid->sheet->actions[(uint32_t)between(&random, 0, count)], &random);
        Replay replay = judged(laid);
        assert_in_range(replay.verdict, REPLAY_LAWFUL, VERDICT_COUNT - 1);
        assert_in_range(replay.action, 0, count);
        assert_true(replay.piece == NO_PIECE || replay.piece < laid->sheet->rod.piece_count);
        put_away(laid);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_lawful_crosswraps),
        cmocka_unit_test(test_crosswraps_go_round_with_their_place),
        cmocka_unit_test(test_what_comes_first),
        cmocka_unit_test(test_passes_in_order),
        cmocka_unit_test(test_end_bands_over_all_passes),
        cmocka_unit_test(test_packing_of_end_bands),
        cmocka_unit_test(test_cut_when_they_are_held),
        cmocka_unit_test(test_layers_around),
        cmocka_unit_test(test_a_layer_below),
        cmocka_unit_test(test_legs_that_miss_their_marks),
        cmocka_unit_test(test_ways_round),
        cmocka_unit_test(test_strands_beside_one_another),
        cmocka_unit_test(test_lengths_of_legs),
        cmocka_unit_test(test_plans_against_the_rules),
        cmocka_unit_test(test_spirals_leads),
        cmocka_unit_test(test_one_crosswrap_on_another),
        cmocka_unit_test(test_turning_round_on_a_slope),
        cmocka_unit_test(test_words_for_builders),
        cmocka_unit_test(test_twenty_thousand_passes),
        cmocka_unit_test(test_garbage_is_judged),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
