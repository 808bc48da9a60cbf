/* The bench sheet of crosswraps: its words, its pauses, its cuts, and where the work stands. The expected texts
 * are our own; the angles follow from grammar/reference.md and are worked out in the comments. */
#include <math.h>
#include "made_sheet.h"

#include "words/crosswrap_words.h"

#include <stdio.h>

#define SHOP                                                                                                      \
    "edition 1\n"                                                                                                 \
    "thread navy { diameter: 0.15 mm }\n"                                                                         \
    "thread slate { diameter: 0.15 mm, colour: #4c6a9c }\n"                                                       \
    "thread dusk { diameter: 0.15 mm, colours: [#4c6a9c, #9db8d6], period: 9 cm }\n"                              \
    "blank even { at 0 mm: 12 mm  at 100 cm: 12 mm }\n"

/* Field 80 mm, spacing and lead 20 mm, end bands 1.8 mm: from the field a strand goes 1.8 mm, 0.09 of a turn, to
 * the layer's edge. */
#define CHEVRON(options, lines)                                                                                   \
    "rod \"Crossed\" on even { at 10 cm length: 83.6 mm " options " {\n"                                          \
    "    chevron crossings: 4 ends: 12 turns of navy { " lines " }\n} }\n"

static const char chevron[] = SHOP CHEVRON("", "strand 2 of slate  strand 1 of dusk  strand 1 of spacer(navy)");
static const char from_the_tip[] =
    SHOP "bench { left: tip, ends: pins }\n" CHEVRON("toward: butt", "strand 2 of slate");
static const char by_friction[] = SHOP "bench { ends: none, friction: 0.5 }\n"
                                       "rod \"Free\" on even { at 10 cm length: 120 mm {\n"
                                       "    chevron crossings: 4 ends: 20 mm of navy { strand 1 of slate }\n} }\n";
static const char spiral[] = SHOP "rod \"Wound\" on even { at 10 cm length: 63.6 mm {\n"
                                  "    spiral turns: 3 turns starts: 2 ends: 12 turns of navy {\n"
                                  "        strand 1 of slate  strand 1 of spacer(navy)\n    }\n} }\n";

static void test_steps_of_a_chevron(void **state)
{
    (void)state;
    Made made = make(chevron);
    static const char *const actions[] = {
        "Take grease off the blank",
        "Mark the rod's line along the blank",
        "Put the mark 10 cm from the butt",
        "Set out the chevron: 2 crossing lines, crossings 20.0 mm apart",
        "Tape round the blank, just outside both end bands",
        "Tape on slate 1",
        "Out toward the tip: slate 1, along the marks",
        "Back toward the butt: slate 1, along the marks",
        "Check the first pass before adding strands: is it even?",
        "Out toward the tip: slate 1, against pass 1, on its tip side",
        "Back toward the butt: slate 1, against pass 1, on its tip side",
        "Tape down and cut slate 1",
        "Tape on dusk 1",
        "Out toward the tip: dusk 1, against pass 2, on its tip side",
        "Back toward the butt: dusk 1, against pass 2, on its tip side",
        "Tape down and cut dusk 1",
        "Tape on the spacer navy 1",
        "Out toward the tip: navy 1, against pass 3, on its tip side",
        "Back toward the butt: navy 1, against pass 3, on its tip side",
        "Tape down and cut the spacer navy 1",
        "Close up the strands",
        "Take off the spacer navy 1",
        "Start navy 2 over its own tag",
    };
    const SheetRod *rod = &made.sheet->rods[0];
    for (uint32_t i = 0; i < sizeof actions / sizeof *actions; i++)
        assert_string_equal(rod->actions[i].says, actions[i]);
    assert_string_equal(rod->parts[2].heading, "10 cm from the butt, toward the tip: chevron");
    turnlay_free(made.compilation);
}

static void test_facts_of_a_leg(void **state)
{
    (void)state;
    Made made = make(chevron);
    /* Counter-clockwise, seen from the butt. The line's first crossing lies at 0, half a turn on from the field's
     * start at 180 deg, and that 0.09 turns, 32.4 deg, on from the layer's edge; the leg makes 83.6 / 20 = 4.18
     * turns, and 212.4 - 4.18 * 360 = 147.6 - 4 * 360. Out and back lie alike about the middle, so back from 212.4
     * too. */
    const SheetAction *up = step_saying(&made, "Out toward the tip: slate 1, along the marks");
    assert_string_equal(up->where, "from 212 deg (about 7 o'clock) to 148 deg (about 5 o'clock)");
    assert_string_equal(up->count, "pass 1 of 4; 7 crossings; 4.18 turns");
    assert_string_equal(up->clock, "");
    assert_string_equal(up->thread, "slate 1");
    assert_int_equal(up->colour, 0x4c6a9c);
    assert_says(up->detail, "The tip side of a thread is to your right.");
    assert_says(up->detail, "lead the thread steadily to your right, over every mark.");
    /* From 147.6 on, going down, to 212.4: 64.8 backward is 295.2 forward. */
    assert_says(up->detail, "At the tip end carry the thread round the tape by 295 deg.");
    const SheetAction *back = step_saying(&made, "Back toward the butt: slate 1, along the marks");
    assert_string_equal(back->where, "from 212 deg (about 7 o'clock) to 148 deg (about 5 o'clock)");
    assert_says(back->detail, "lead the thread to your left");
    /* Details once; then only the way on. A strand above begins as far on as 0.15 / cos b mm are: tan b = 20 /
     * (pi 12.15), 0.1694 mm or 3.05 deg; out it is behind by that, back it is ahead, so 6.1 deg more to go. */
    const SheetAction *next = step_saying(&made, "Out toward the tip: slate 1, against pass 1, on its tip side");
    assert_string_equal(next->where, "from 215 deg (about 7 o'clock) to 151 deg (about 5 o'clock)");
    assert_string_equal(next->detail, "At the tip end carry the thread round the tape by 301 deg.");
    /* The last of its piece. */
    assert_string_equal(
        step_saying(&made, "Back toward the butt: slate 1, against pass 1, on its tip side")->detail, "");
    turnlay_free(made.compilation);
}

static void test_set_out_in_words(void **state)
{
    (void)state;
    Made made = make(chevron);
    const SheetAction *step = step_saying(&made, "Set out the chevron: 2 crossing lines, crossings 20.0 mm apart");
    assert_says(step->detail, "Wrap the PDF sheet's template round the blank");
    assert_says(step->detail, "the crossing line at 0 deg (12 o'clock): 4 crossings, 12 mm, 32 mm, 52 mm and "
                              "72 mm from the mark;");
    assert_says(step->detail, "the crossing line at 180 deg (6 o'clock): 3 crossings, 22 mm, 42 mm and 62 mm "
                              "from the mark.");
    assert_says(step->detail, "where the end bands end: 2 mm and 82 mm.");
    step = step_saying(&made, "Tape round the blank, just outside both end bands");
    assert_says(step->detail, "To the left of the mark, and to the right of 83.5 mm from it.");
    turnlay_free(made.compilation);
    made = make("edition 1\nthread navy { turns: 67 per cm }\nblank tube { at 0 mm: 12 mm  at 100 cm: 12 mm }\n"
                "rod \"Set back\" on tube { at 20 cm length: 60 mm { over offset: 4 mm length: 40 mm {\n"
                "    chevron crossings: 2 ends: 3 mm of navy { strand 3 of navy } } } }\n");
    assert_says(step_saying(&made, "Tape round the blank, just outside both end bands")->detail,
                "To the left of 4 mm from the mark, and to the right of 44 mm from it.");
    turnlay_free(made.compilation);
}

/* A single crossing: in the middle of the field, on one line; the other line has none. */
static void test_one_crossing(void **state)
{
    (void)state;
    Made made = make(SHOP "rod \"One\" on even { at 10 cm length: 83.6 mm {\n"
                          "    chevron crossings: 1 ends: 12 turns of navy { strand 1 of slate }\n} }\n");
    const char *detail =
        step_saying(&made, "Set out the chevron: 2 crossing lines, crossings 80.0 mm apart")->detail;
    assert_says(detail, "the crossing line at 0 deg (12 o'clock): 1 crossing, 42 mm from the mark;");
    assert_says(detail, "the crossing line at 180 deg (6 o'clock): no crossing inside the field.");
    assert_says(step_saying(&made, "Out toward the tip: slate 1, along the marks")->count,
                "pass 1 of 1; 1 crossing; ");
    assert_says(step_saying(&made, "Back toward the butt: slate 1, along the marks")->count,
                "pass 1 of 1; 1 crossing; ");
    turnlay_free(made.compilation);
}

static void test_ends_of_pieces(void **state)
{
    (void)state;
    Made made = make(chevron);
    const SheetAction *on = step_saying(&made, "Tape on slate 1");
    assert_string_equal(on->where, "at 212 deg (about 7 o'clock), the rod's line at 12");
    assert_says(on->detail, "Tape 15 cm of its end to the blank, to your left, beyond the tape");
    assert_says(step_saying(&made, "Tape on dusk 1")->detail, "its first colour, #4c6a9c,");
    assert_string_equal(step_saying(&made, "Tape on the spacer navy 1")->detail, ""); /* said before */
    assert_says(step_saying(&made, "Tape down and cut slate 1")->detail,
                "to the blank, to your left, beyond the tape, and cut it 15 cm");
    assert_string_equal(step_saying(&made, "Tape down and cut dusk 1")->detail, "");
    assert_says(step_saying(&made, "Take off the spacer navy 1")->detail, "draw its legs out lengthwise");
    for (uint32_t i = 0; i < made.sheet->thread_count; i++)
        if (strcmp(made.sheet->threads[i].name, "dusk") == 0)
            assert_says(made.sheet->threads[i].note, "; variegated, 2 colours in 9 cm: each piece begins with "
                                                     "the first colour at its first turn");
    turnlay_free(made.compilation);
}

static const LegAction *first_leg(const Made *made, Leg way)
{
    const SheetRod *rod = &made->sheet->rods[0];
    for (uint32_t i = 0; i < rod->action_count; i++)
        if (rod->actions[i].action->kind == ACTION_LEG && rod->actions[i].action->leg.leg == way)
            return &rod->actions[i].action->leg;
    fail_msg("no leg");
    return NULL;
}

/* Pins stand where the legs say that threads come to an end of the layer and leave it. */
static void test_where_pins_stand(void **state)
{
    (void)state;
    Made made = make(from_the_tip);
    const LegAction *out = first_leg(&made, LEG_OUT), *back = first_leg(&made, LEG_BACK);
    Buffer wanted;
    buffer_start(&wanted, &made.compilation->arena);
    buffer_text(&wanted, " 2 pins to your left, at "); /* where the tip lies: the work goes to the butt */
    const double clocks[] = {out->from_clock, back->to_clock, out->to_clock, back->from_clock};
    static const char *const between[] = {" and ", "; 2 pins to your right, at ", " and ",
                                          "; the rod's line is at 12."};
    for (int i = 0; i < 4; i++) {
        put_clock(&wanted, clocks[i]);
        buffer_text(&wanted, between[i]);
    }
    buffer_put(&wanted, "", 1);
    const char *detail = step_saying(&made, "Set pins round the blank, just outside both end bands")->detail;
    assert_says(detail, wanted.bytes);
    turnlay_free(made.compilation);
    made = make(SHOP "bench { ends: pins }\n"
                     "rod \"Wound\" on even { at 10 cm length: 63.6 mm {\n"
                     "    spiral turns: 3 turns starts: 3 ends: 12 turns of navy { strand 1 of slate }\n} }\n");
    detail = step_saying(&made, "Set pins round the blank, just outside both end bands")->detail;
    assert_says(detail, "3 pins to your left, at ");
    assert_says(detail, " o'clock), and every 120 deg from there; 3 pins to your right, at ");
    assert_keeps_quiet(detail, ") and ");
    turnlay_free(made.compilation);
}

/* Wax on thread stays, and so does what is sealed. */
static void test_marks_and_sealing(void **state)
{
    (void)state;
    Made made = make(chevron);
    const char *blank =
        step_saying(&made, "Set out the chevron: 2 crossing lines, crossings 20.0 mm apart")->detail;
    assert_keeps_quiet(blank, "off thread");
    assert_says(step_saying(&made, "Seal the chevron and let it cure hard")->detail, "nothing outside them");
    turnlay_free(made.compilation);
    made = make(SHOP CHEVRON(
        "", "strand 1 of slate") "rod \"Both\" on even { at 10 cm length: 83.6 mm {\n"
                                 "    under { band fill of navy }\n"
                                 "    chevron crossings: 4 ends: 12 turns of navy { strand 1 of slate } } }\n");
    assert_says(
        nth_step(&made, "Set out the chevron: 2 crossing lines, crossings 20.0 mm apart", 1)->detail,
        "Wax pencil, never a point; small marks where strands will lie, since wax is not wiped off thread.");
    turnlay_free(made.compilation);
}

static void test_end_bands_and_cutting_free(void **state)
{
    (void)state;
    Made made = make(chevron);
    assert_says(step_saying(&made, "Start navy 2 over its own tag")->detail,
                "This end band, 12 turns, lies over all");
    const SheetAction *second = step_saying(&made, "Start navy 3 over its own tag");
    assert_string_equal(second->where, "82 mm from the mark");
    assert_keeps_quiet(second->detail, "gap");
    assert_string_equal(step_saying(&made, "Wind 6 turns of navy 3")->count,
                        "12 in the end band, 24 in the layer");
    const SheetAction *seal = step_saying(&made, "Seal the chevron and let it cure hard");
    assert_says(seal->detail, "hard before the tape comes off");
    const SheetAction *cut = step_saying(&made, "Cut all strands at both end bands and take the tape off");
    assert_says(cut->detail, "away from the blank, never press, never draw the blade round");
    assert_true(cut->number == seal->number + 1);
    assert_string_equal(seal->stop, "Safe to stop: tape and turns hold everything");
    turnlay_free(made.compilation);
}

static void test_places_to_stop(void **state)
{
    (void)state;
    Made made = make(chevron);
    static const struct {
        const char *says, *stop;
    } steps[] = {
        {"Tape on dusk 1", "Safe to stop: tape dusk 1 down, ease its tension"},
        {"Out toward the tip: dusk 1, against pass 2, on its tip side",
         "Safe to stop: tape dusk 1 down, ease its tension"},
        {"Take off the spacer navy 1", "Safe to stop: tape and turns hold everything"},
    };
    for (size_t i = 0; i < sizeof steps / sizeof *steps; i++) {
        const char *stop = step_saying(&made, steps[i].says)->stop;
        if (!stop != !steps[i].stop || (stop && strcmp(stop, steps[i].stop) != 0))
            fail_msg("%s: %s", steps[i].says, stop ? stop : "no place to stop");
    }
    turnlay_free(made.compilation);
}

/* After the first pass in whole degrees. */
static void leg_where(const SheetAction *leg, unsigned passes_before, char out[64])
{
    if (passes_before)
        snprintf(out, 64, "from %ld to %ld deg", lround(leg->action->leg.from_clock) % 360,
                 lround(leg->action->leg.to_clock) % 360);
    else
        snprintf(out, 64, "%s", leg->where);
}

/* What a pass has alike out and back is told once at its step; where it is taped on and off its legs say. */
static void test_facts_of_a_pass(void **state)
{
    (void)state;
    Made mades[] = {
        make(chevron), make(spiral),
        make(SHOP "rod \"Leaning\" on even { at 10 cm length: 83.6 mm {\n"
                  "    diamond crossings: 2 leads: [2, 1] ends: 12 turns of navy { strand 4 of slate } } }\n")};
    for (int m = 0; m < 3; m++) {
        const SheetRod *rod = &mades[m].sheet->rods[0];
        unsigned passes = 0;
        const char *first = NULL;
        for (uint32_t i = 0; i < rod->step_count; i++) {
            const SheetStep *step = &rod->steps[i];
            if (step->kind != STEP_PASS)
                continue;
            const SheetAction *leg = &rod->actions[step->first];
            while (leg->action->kind != ACTION_LEG)
                leg++;
            char where[256], out[64], back[64] = "", count[64];
            leg_where(leg, passes, out);
            if (m != 1)
                leg_where(leg + 1, passes, back);
            if (m == 0) {
                assert_string_equal(leg->count, leg[1].count);
                snprintf(where, sizeof where, "%s; back %s", out, back);
            } else if (m == 2) {
                assert_true(strcmp(leg->count, leg[1].count) != 0); /* of two leads */
                snprintf(where, sizeof where, "%s; then %s; %s", out, leg[1].count, back);
            } else
                snprintf(where, sizeof where, "%s", out);
            snprintf(count, sizeof count, "%s", leg->count);
            first = passes ? first : leg->count;
            if (passes && strcmp(strchr(first, ';'), strchr(leg->count, ';')) == 0)
                *strchr(count, ';') = '\0'; /* turns and crossings are those of the first */
            assert_string_equal(step->progress, count);
            assert_string_equal(step->where, where);
            passes++;
        }
        assert_int_equal(passes, 4);
        turnlay_free(mades[m].compilation);
    }
}

/* Every ten strands, and the last ones: but not within five of these. */
static void test_strands_are_closed_up(void **state)
{
    (void)state;
    static const struct {
        unsigned strands;
        const char *after;
    } fields[] = {{9, " 9"},      {10, " 10"},    {12, " 12"},      {14, " 14"},
                  {15, " 10 15"}, {24, " 10 24"}, {25, " 10 20 25"}};
    for (size_t i = 0; i < sizeof fields / sizeof *fields; i++) {
        char text[512], after[64] = "";
        snprintf(text, sizeof text,
                 "edition 1\nthread navy { turns: 67 per cm }\nbench { hand: 90 m }\n"
                 "blank tube { at 0 mm: 12 mm  at 100 cm: 12 mm }\n"
                 "rod \"R\" on tube { at 20 cm length: 60 mm {\n"
                 "    chevron crossings: 2 ends: 3 mm of navy { strand %u of navy } } }\n",
                 fields[i].strands);
        Made made = make(text);
        const SheetRod *rod = &made.sheet->rods[0];
        unsigned laid = 0;
        for (uint32_t a = 0; a < rod->action_count && rod->actions[a].action->kind != ACTION_START; a++) {
            laid += rod->actions[a].action->kind == ACTION_LEG && rod->actions[a].action->leg.leg == LEG_BACK;
            if (rod->actions[a].action->kind == ACTION_PACK)
                snprintf(after + strlen(after), sizeof after - strlen(after), " %u", laid);
        }
        assert_string_equal(after, fields[i].after);
        turnlay_free(made.compilation);
    }
}

static void test_look_it_over(void **state)
{
    (void)state;
    Made made = make(chevron), round = make(spiral);
    const char *words = step_saying(&made, "Check the first pass before adding strands: is it even?")->detail;
    assert_says(words, "each crossing lies on its mark, and from one to the next it is 20.0 mm.");
    words = step_saying(&round, "Check the first passes before adding strands: are they even?")->detail;
    assert_keeps_quiet(words, "crossing");
    assert_says(words, "From turn to turn, and from start to start");
    turnlay_free(made.compilation);
    turnlay_free(round.compilation);
}

static void test_other_way_and_pins(void **state)
{
    (void)state;
    Made made = make(from_the_tip);
    /* The tip lies left: worked toward the butt, to the right. */
    const SheetAction *down = step_saying(&made, "Out toward the butt: slate 1, along the marks");
    assert_says(down->detail, "The tip side of a thread is to your left.");
    assert_says(down->detail, "lead the thread steadily to your right");
    assert_says(down->detail, "At the butt end carry the thread round the pins by ");
    step_saying(&made, "Back toward the tip: slate 1, along the marks");
    step_saying(&made, "Out toward the butt: slate 1, against pass 1, on its tip side");
    assert_says(step_saying(&made, "Set pins round the blank, just outside both end bands")->detail,
                "never in the blank");
    step_saying(&made, "Cut all strands at both end bands and take the pins out");
    turnlay_free(made.compilation);
}

static void test_turning_by_friction(void **state)
{
    (void)state;
    Made made = make(by_friction);
    assert_keeps_quiet(text_from(&made, 0), "Tape round");
    const char *detail = step_saying(&made, "Out toward the tip: slate 1, along the marks")->detail;
    assert_says(detail, "At the tip end carry the thread round the blank by ");
    assert_says(detail, " turn and ");
    step_saying(&made, "Cut all strands at both end bands");
    turnlay_free(made.compilation);
}

static void test_spirals(void **state)
{
    (void)state;
    Made made = make(spiral);
    const SheetAction *step = step_saying(&made, "Set out the spiral: where its 2 starts begin");
    assert_says(step->detail, "the first strand of each start enters the field at ");
    const SheetAction *leg = step_saying(&made, "Out toward the tip: slate 1, from its mark");
    /* 63.6 mm at 20 mm a turn. */
    assert_string_equal(leg->count, "pass 1 of 4, strand 1, start 1; 3.18 turns");
    step_saying(&made, "Out toward the tip: slate 2, from its mark");
    assert_string_equal(step_saying(&made, "Out toward the tip: navy 2, against pass 2, on its tip side")->count,
                        "pass 4 of 4, strand 2, start 2; 3.18 turns");
    assert_keeps_quiet(leg->detail, "Then on");
    assert_says(step_saying(&made, "Take off the spacer navy 1")->detail, "turn the blank back and unwind it");
    turnlay_free(made.compilation);
}

static void test_cuts(void **state)
{
    (void)state;
    Made made = make(chevron);
    const SheetRod *rod = &made.sheet->rods[0];
    static const char *const labels[] = {"slate 1", "dusk 1", "navy 1", "navy 2"};
    static const char *const whats[] = {"spool", "spool", "spool, as a spacer", "spool"};
    static const uint32_t steps[] = {6, 13, 17, 23};
    assert_true(rod->cut_count >= 4);
    for (uint32_t i = 0; i < 4; i++) {
        assert_string_equal(rod->cuts[i].label, labels[i]);
        assert_string_equal(rod->cuts[i].what, whats[i]);
        assert_int_equal(rod->cuts[i].first_action, steps[i]);
    }
    turnlay_free(made.compilation);
}

static void test_text_begins_within_a_crosswrap(void **state)
{
    (void)state;
    Made made = make(chevron);
    const char *whole = text_from(&made, 0), *rest = text_from(&made, 8);
    assert_says(rest,
                "When step 8 begins, 1 of 4 passes of this chevron are laid. On the blank: slate\n1 (running).");
    assert_string_equal(strstr(rest, "[ ]   8  "), strstr(whole, "[ ]   8  "));
    assert_says(text_from(&made, 9), "2 of 4 passes of this chevron are laid. On the blank: no");
    assert_says(text_from(&made, 14),
                "4 of 4 passes of this chevron are laid. 4 turns of its end\nbands are made.");
    turnlay_free(made.compilation);
}

static const char *clock_of(Made *made, double degrees_round)
{
    Buffer out;
    buffer_start(&out, &made->compilation->arena);
    put_clock(&out, degrees_round);
    buffer_text(&out, "; ");
    put_way_round(&out, degrees_round);
    buffer_put(&out, "", 1);
    return out.bytes;
}

static void test_clocks(void **state)
{
    (void)state;
    Made made = make(chevron);
    assert_string_equal(clock_of(&made, 0), "0 deg (12 o'clock); 0 deg");
    assert_string_equal(clock_of(&made, 14.6), "15 deg (12:30); 15 deg");
    assert_string_equal(clock_of(&made, 30), "30 deg (1 o'clock); 30 deg");
    assert_string_equal(clock_of(&made, 31), "31 deg (about 1 o'clock); 31 deg");
    assert_string_equal(clock_of(&made, 359.7), "0 deg (12 o'clock); 360 deg (1 turn and 0 deg)");
    assert_string_equal(clock_of(&made, 763.2), "43 deg (about 1:30); 763 deg (2 turns and 43 deg)");
    turnlay_free(made.compilation);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_steps_of_a_chevron),
        cmocka_unit_test(test_facts_of_a_leg),
        cmocka_unit_test(test_set_out_in_words),
        cmocka_unit_test(test_one_crossing),
        cmocka_unit_test(test_ends_of_pieces),
        cmocka_unit_test(test_where_pins_stand),
        cmocka_unit_test(test_marks_and_sealing),
        cmocka_unit_test(test_end_bands_and_cutting_free),
        cmocka_unit_test(test_places_to_stop),
        cmocka_unit_test(test_facts_of_a_pass),
        cmocka_unit_test(test_strands_are_closed_up),
        cmocka_unit_test(test_look_it_over),
        cmocka_unit_test(test_other_way_and_pins),
        cmocka_unit_test(test_turning_by_friction),
        cmocka_unit_test(test_spirals),
        cmocka_unit_test(test_cuts),
        cmocka_unit_test(test_text_begins_within_a_crosswrap),
        cmocka_unit_test(test_clocks),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
