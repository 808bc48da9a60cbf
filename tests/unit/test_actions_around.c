/* Which steps are made around the turns, and when: by the reference's options of the bench. */
#include "made_sheet.h"

#include "bench/bench.h"

#include <stdio.h>

static const char *const around_turns[ACTION_KIND_COUNT] = {
    [ACTION_DRESS_FOOT] = "dress",    [ACTION_TAPE_GUIDE] = "tape guide",
    [ACTION_MARK] = "mark",           [ACTION_PACK] = "pack",
    [ACTION_MEASURE] = "measure",     [ACTION_TAKE_TAPE] = "take tape",
    [ACTION_BIND_RING] = "bind ring", [ACTION_SET_OUT] = "set out",
    [ACTION_HOLD_ENDS] = "hold ends", [ACTION_SYMMETRY] = "symmetry",
    [ACTION_TAKE_ENDS] = "take ends", [ACTION_ALIGN] = "align",
    [ACTION_SEAL] = "seal",           [ACTION_SINGE] = "singe",
    [ACTION_COAT] = "coat",           [ACTION_TAKE_SPACER] = "take spacer",
    [ACTION_UNWIND] = "unwind",
};

static const char *const around_rod[ACTION_KIND_COUNT] = {
    [ACTION_CLEAN] = "clean", [ACTION_MARK_LINE] = "line", [ACTION_PART] = "part",   [ACTION_MARK] = "mark",
    [ACTION_PACK] = "pack",   [ACTION_ALIGN] = "align",    [ACTION_SINGE] = "singe", [ACTION_WIPE] = "wipe",
    [ACTION_SEAL] = "seal",   [ACTION_COAT] = "coat",
};

/* The first rod's steps that have words, each with the turns of its layer that are made. */
static const char *story(const Made *made, const char *const words[])
{
    Buffer out;
    buffer_start(&out, &made->compilation->arena);
    const BenchRod *rod = &made->sheet->bench->rods[0];
    for (uint32_t i = 0; i < rod->action_count; i++) {
        const Action *step = &rod->actions[i];
        if (!words[step->kind])
            continue;
        buffer_format(&out, out.length ? "; %s" : "%s", words[step->kind]);
        if (step->kind == ACTION_PART)
            buffer_format(&out, " %u", (unsigned)step->part);
        if (step->kind == ACTION_COAT)
            buffer_format(&out, " %u", (unsigned)step->turns);
        else if (step->layer_count)
            buffer_format(&out, " %u", (unsigned)step->layer_count);
    }
    buffer_put(&out, "", 1);
    return out.bytes;
}

#define HEAD                                                                                                      \
    "edition 1\nthread navy { diameter: 0.1 mm }\nthread mist { diameter: 0.1 mm }\n"                             \
    "thread silk { diameter: 0.1 mm, preserver: yes }\n"                                                          \
    "blank tube { at 0 mm: 12 mm  at 100 cm: 12 mm }\n"                                                           \
    "guide ring { foot: 14.1 mm, width: 2 mm, height: 0.7 mm, ramp: 5 mm, before: 3 mm }\n"                       \
    "guide pair { foot: [14.1 mm, 14.1 mm], gap: 9 mm, width: 2 mm, height: 0.7 mm, ramp: 5 mm, before: 3 mm }\n"
#define ROD(bench, place)                                                                                         \
    HEAD "bench { units: mm, coats: 0, singe: no" bench " }\nrod \"R\" on tube { at 50 cm " place " }\n"

#define TIP_ROD(blanks, place, wraps)                                                                                                \
    HEAD                                                                                                                             \
        "guide low { foot: 14.1 mm }\nguide top { foot: 14.1 mm, side: butt }\nguide far { foot: 14.1 mm, side: butt, gap: 6 mm }\n" \
        "blank end { at 0 mm: 11.9 mm  at 60 cm: 8 mm }\n"                                                                           \
        "bench { units: mm, coats: 0, singe: no, pack: 99 turns, lock: yes, align: no, tape: no, dress: no }\n"                      \
        "rod \"R\" on " blanks " { " place " { " wraps " } }\n"
#define BIND_RING(blanks, place)                                                                                  \
    {                                                                                                             \
        TIP_ROD(blanks, place, "band 9 turns of navy"), "mark; pack 9; bind ring"                                 \
    }
#define NO_BIND_RING(blanks, place)                                                                               \
    {                                                                                                             \
        TIP_ROD(blanks, place, "band 9 turns of navy"), "mark; pack 9"                                            \
    }

static const struct {
    const char *text, *story;
} cases[] = {
    /* Packed after every item; a layer of fixed turns is measured fourteen turns before its end, and there. */
    {ROD("", "{ band 19 turns of navy  band 20 turns of mist }"),
     "mark; pack 25; measure 25; pack 39; measure 39; pack 39"},
    {ROD("", "{ band 20 turns of navy  fade to mist steps: 4  band 20 turns of mist }"),
     "mark; pack 27; pack 46; measure 46; pack 60; measure 60; pack 60"},
    {ROD("", "{ band 20 turns of navy  gap 2 mm  band 20 turns of navy }"),
     "mark; pack 20; measure 20; pack 20; pack 40; measure 40; pack 40"},
    /* Where a band gives, `final` and six turns before its end, be it a fill or a length; where the last one is
     * short, in what comes before it. */
    {ROD("", "length: 10 mm { band 8 turns of navy  band fill of mist  band 8 turns of navy }"),
     "mark; pack 8; pack 48; pack 78; measure 78; pack 92; pack 100; measure 100; pack 100"},
    {ROD("", "{ band 4 mm of navy  band 15 turns of mist }"),
     "mark; pack 26; measure 26; pack 40; pack 55; measure 55; pack 55"},
    {ROD("", "{ band 3.3 mm of navy  band 3.4 mm of mist  band 22 turns of navy }"),
     "mark; pack 33; pack 53; measure 53; pack 67; pack 89; measure 89; pack 89"},
    {ROD("", "{ band 40 turns of navy  band 0.8 mm of mist }"),
     "mark; pack 33; measure 33; pack 40; pack 48; measure 48; pack 48"},
    /* And every so many turns, counted on through the layer; two at one turn are one. */
    {ROD("", "{ band 100 turns of navy }"), "mark; pack 40; pack 86; measure 86; pack 100; measure 100; pack 100"},
    {ROD(", pack: 20 turns", "{ band 40 turns of navy  band 35 turns of mist }"),
     "mark; pack 20; pack 40; pack 61; measure 61; pack 75; measure 75; pack 75"},
    /* Not where an item ends a few turns on, since it is packed there. */
    {ROD("", "{ band 46 turns of navy }"), "mark; pack 32; measure 32; pack 46; measure 46; pack 46"},
    {ROD("", "{ band 55 turns of navy }"), "mark; pack 41; measure 41; pack 55; measure 55; pack 55"},
    {ROD(", carry: 2 turns", "{ band 19 turns of navy  band 3 turns of mist  band 30 turns of navy }"),
     "mark; pack 19; pack 38; measure 38; pack 52; measure 52; pack 52"},
    /* Where something always lies loose, it is put off twelve turns at the most. */
    {ROD(", ridge: 9", "{ repeat 20 { band 3 turns of navy  band 3 turns of mist } }"),
     "mark; pack 54; pack 106; measure 106; pack 120; measure 120; pack 120"},
    {ROD(", measure: 30 turns", "{ band 100 turns of navy }"),
     "mark; pack 30; measure 30; pack 60; measure 60; pack 86; measure 86; pack 100; measure 100; pack 100"},
    /* Counted from where it was measured last, and never put off: what would come a few turns on is left out. */
    {ROD(", pack: 1000 turns, measure: 30 turns", "{ band 20 turns of navy  band 40 turns of mist }"),
     "mark; pack 20; pack 30; measure 30; pack 46; measure 46; pack 60; measure 60; pack 60"},
    {ROD(", pack: 1000 turns, measure: 30 turns", "{ band 20 turns of navy  band 30 turns of mist }"),
     "mark; pack 20; pack 30; measure 30; pack 50; measure 50; pack 50"},
    {ROD(", pack: 1000 turns, measure: 30 turns",
         "{ band 19 turns of navy  band 19 turns of mist  band 40 turns of navy }"),
     "mark; pack 19; pack 30; measure 30; pack 38; pack 60; measure 60; pack 78; measure 78; pack 78"},
    {ROD(", carry: 1 turn, pack: 1000 turns, measure: 30 turns",
         "{ band 25 turns of navy  band 15 turns of mist  band 15 turns of navy }"),
     "mark; pack 30; measure 30; pack 41; measure 41; pack 55; measure 55; pack 55"},
    {ROD(", measure: 40 turns", "{ band 80 turns of navy }"),
     "mark; pack 40; measure 40; pack 66; measure 66; pack 80; measure 80; pack 80"},
    /* Not twice within six turns: short items are packed with what follows them, or at the end of their wrap; only
     * the width of a band waits for nothing. */
    {ROD("", "{ band 30 turns of navy  band 3 turns of mist  band 3 turns of navy  band 30 turns of mist }"),
     "mark; pack 42; pack 52; measure 52; pack 66; measure 66; pack 66"},
    {ROD("", "{ band 30 turns of navy  band 7 turns of mist  band 7 turns of navy  band 30 turns of mist }"),
     "mark; pack 44; pack 60; measure 60; pack 74; measure 74; pack 74"},
    {ROD("", "{ band 20 turns of navy  band 9 turns of mist  band 6 turns of navy }"),
     "mark; pack 20; measure 20; pack 35; measure 35; pack 35"},
    {ROD("", "{ band 20 turns of navy  band 9 turns of mist  band 7 turns of navy }"),
     "mark; pack 20; measure 20; pack 36; measure 36; pack 36"},
    {ROD("", "{ band 30 turns of navy  band 6 turns of navy  band 30 turns of navy }"),
     "mark; pack 30; pack 52; measure 52; pack 66; measure 66; pack 66"},
    {ROD("", "{ band 30 turns of navy  band 7 turns of navy  band 30 turns of navy }"),
     "mark; pack 30; pack 37; pack 53; measure 53; pack 67; measure 67; pack 67"},
    {ROD(", loop: 4 turns, final: 4 turns", "{ band 46 turns of navy }"),
     "mark; pack 34; measure 34; pack 46; measure 46; pack 46"},
    {ROD(", loop: 4 turns, final: 4 turns", "{ band 47 turns of navy }"),
     "mark; pack 35; measure 35; pack 47; measure 47; pack 47"},
    {ROD("", "{ band 20 turns of navy  band 4 turns of mist }"), "mark; pack 24; measure 24; pack 24"},
    {ROD(", loop: 4 turns, final: 4 turns",
         "{ band 10 turns of navy  band 10 turns of navy  band 6 turns of navy }"),
     "mark; pack 10; pack 26; measure 26; pack 26"},
    {ROD(", loop: 4 turns, final: 4 turns",
         "{ band 10 turns of navy  band 10 turns of navy  band 7 turns of navy }"),
     "mark; pack 10; pack 20; pack 27; measure 27; pack 27"},
    {ROD(", pack: 1000 turns, measure: 30 turns",
         "{ band 13 turns of navy  band 13 turns of navy  band 13 turns of navy }"),
     "mark; pack 13; pack 25; measure 25; pack 39; measure 39; pack 39"},
    {ROD(", pack: 1000 turns, measure: 30 turns",
         "{ band 10 turns of navy  band 13 turns of navy  band 16 turns of navy }"),
     "mark; pack 10; pack 25; measure 25; pack 39; measure 39; pack 39"},
    /* A width between is measured somewhat earlier where it would be packed a few turns on: in its own wrap, or at
     * the end of the one before. */
    {ROD(", pack: 1000 turns, measure: 30 turns", "{ band 96 turns of navy  gap 2 mm  band 40 turns of navy }"),
     "mark; pack 30; measure 30; pack 60; measure 60; pack 89; measure 89; pack 96; pack 119; measure 119; pack 136; measure 136; pack 136"},
    {ROD(", pack: 1000 turns, measure: 30 turns", "{ band 97 turns of navy  gap 2 mm  band 40 turns of navy }"),
     "mark; pack 30; measure 30; pack 60; measure 60; pack 90; measure 90; pack 97; pack 120; measure 120; pack 137; measure 137; pack 137"},
    {ROD(", pack: 1000 turns, measure: 22 turns", "{ band 18 turns of navy  gap 2 mm  band 8 turns of navy }"),
     "mark; pack 18; measure 18; pack 18; pack 26; measure 26; pack 26"},
    {ROD(", pack: 1000 turns, measure: 22 turns", "{ band 8 turns of navy  gap 2 mm  band 18 turns of navy }"),
     "mark; pack 8; pack 19; measure 19; pack 26; measure 26; pack 26"},
    /* Fewer than six where the bench asks for either oftener. */
    {ROD(", pack: 1000 turns, measure: 10 turns", "{ band 24 turns of navy }"),
     "mark; pack 10; measure 10; pack 19; measure 19; pack 24; measure 24; pack 24"},
    {ROD(", pack: 4 turns", "{ band 12 turns of navy }"), "mark; pack 8; pack 12"},
    /* Each layer is sealed but the last; threads with a colour preserver are sealed before the finish. */
    {ROD(", seal: yes",
         "{ under { band 20 turns of navy }  over { band 20 turns of navy }  over { band 9 turns of mist } }"),
     "mark; pack 20; measure 20; pack 20; seal; pack 20; measure 20; pack 20; seal; pack 9"},
    {ROD(", seal: no", "{ under { band 20 turns of navy }  over { band 9 turns of mist } }"),
     "mark; pack 20; measure 20; pack 20; pack 9"},
    {ROD("", "{ band 10 turns of silk }"), "mark; pack 10; seal"},
    /* A guide is dressed once, marked foot by foot, taped once when the layers below its first foot are done; the
     * tape goes half way up the foot: 3 mm and half of 14.1 mm are 100.5 turns of 0.1 mm. */
    {ROD(", align: no", "guide: ring { band 160 turns of navy }"),
     "dress; mark; tape guide; pack 40; pack 80; take tape 100; pack 120; pack 146; measure 146; pack 160; measure 160; pack 160"},
    {ROD(", align: no, tape: no, dress: no", "guide: ring { band 160 turns of navy }"),
     "mark; pack 40; pack 80; pack 120; pack 146; measure 146; pack 160; measure 160; pack 160"},
    {ROD(", seal: no, pack: 200 turns",
         "guide: ring { under { band 30 turns of mist }  over { band 160 turns of navy }  over { band 150 turns of navy } }"),
     "dress; mark; pack 30; measure 30; pack 30; tape guide; take tape 100; pack 146; measure 146; pack 160; measure 160; pack 160; pack 136; measure 136; pack 150; measure 150; pack 150; align"},
    /* A layer that ends before leaves it to the next; tape that no turns reach comes off when all are wound. */
    {ROD(", align: no, pack: 200 turns",
         "guide: ring { over length: 9 mm { band 90 turns of navy }  over { band 160 turns of navy } }"),
     "dress; mark; tape guide; pack 76; measure 76; pack 90; measure 90; pack 90; take tape 100; pack 146; measure 146; pack 160; measure 160; pack 160"},
    {ROD(", align: no, pack: 200 turns", "guide: ring { band 90 turns of navy }"),
     "dress; mark; tape guide; pack 76; measure 76; pack 90; measure 90; pack 90; take tape"},
    {ROD(", align: no, pack: 200 turns", "guide: ring { under { band 90 turns of navy } }"),
     "dress; mark; pack 76; measure 76; pack 90; measure 90; pack 90"},
    {ROD(", align: no, tape: no, pack: 200 turns", "guide: ring { band 90 turns of navy }"),
     "dress; mark; pack 76; measure 76; pack 90; measure 90; pack 90"},
    {ROD(", pack: 200 turns, lock: yes", "guide: pair { band 160 turns of navy }"),
     "dress; mark; tape guide; take tape 100; pack 146; measure 146; pack 160; measure 160; pack 160; mark; take tape 100; pack 146; measure 146; pack 160; measure 160; pack 160; align"},
    {ROD(", pack: 200 turns, align: no, tape: no", "guide: pair { band 160 turns of navy }"),
     "dress; mark; pack 146; measure 146; pack 160; measure 160; pack 160; mark; pack 146; measure 146; pack 160; measure 160; pack 160"},
    {ROD(", pack: 200 turns, lock: yes, seal: no", "guide: ring { band 160 turns of navy }"),
     "dress; mark; tape guide; take tape 100; pack 146; measure 146; pack 160; measure 160; pack 160; bind ring; align"},
    /* Where three turns of 0.1 mm find blank beyond the ring: to an end of the rod, to what lies in a joint. */
    BIND_RING("tube", "at 999.7 mm guide: top"),
    NO_BIND_RING("tube", "at 999.8 mm guide: top"),
    NO_BIND_RING("tube", "at 999.705 mm guide: top"),
    BIND_RING("tube", "at 0.3 mm guide: low"),
    NO_BIND_RING("tube", "at 0.2 mm guide: low"),
    BIND_RING("tube", "at 996.7 mm guide: far"), /* its foot ends 3 mm before the mark, its ring as far beyond */
    NO_BIND_RING("tube", "at 996.8 mm guide: far"),
    BIND_RING("[tube, end] overlap: 20 mm inside: tip", "at 1000.3 mm guide: low"),
    NO_BIND_RING("[tube, end] overlap: 20 mm inside: tip", "at 1000.2 mm guide: low"),
    BIND_RING("[tube, end] overlap: 20 mm inside: tip", "at 999.7 mm guide: top"),
    NO_BIND_RING("[tube, end] overlap: 20 mm inside: tip", "at 999.8 mm guide: top"),
    /* A turn of several threads takes as much as all of them; they are those that lie next to the ring. */
    {TIP_ROD("tube", "at 999.4 mm guide: top", "band 9 turns of navy  band 9 turns of [navy, mist]"),
     "mark; pack 9; pack 18; bind ring"},
    {TIP_ROD("tube", "at 999.5 mm guide: top", "band 9 turns of navy  band 9 turns of [navy, mist]  gap 1 mm"),
     "mark; pack 9; pack 18"},
    {TIP_ROD("tube", "at 999.5 mm guide: top", "band 9 turns of [navy, mist]  band 9 turns of navy"),
     "mark; pack 9; pack 18; bind ring"},
    /* After the wrapping. */
    {HEAD "bench { units: mm, singe: yes, coats: 3 }\nrod \"R\" on tube { at 50 cm { band 10 turns of silk } }\n",
     "mark; pack 10; singe; seal; coat 1; coat 2; coat 3"},
    {HEAD "bench { units: mm }\nrod \"R\" on tube { at 50 cm { band 10 turns of navy } }\n",
     "mark; pack 10; singe; coat 1; coat 2"},
    /* Spacers go when their wrap is wound. */
    {ROD(", holders: 2", "{ band 20 turns of [navy, spacer(mist)]  gap 2 mm  band 20 turns of navy }"),
     "mark; pack 20; measure 20; pack 20; take spacer 20; pack 40; measure 40; pack 40"},
    /* A crosswrap: its first strand is looked at, every tenth is packed, if it is not one of the last five, and
     * the last; then its end bands, each packed for itself, sealed and cut free. */
    {ROD("", "length: 60 mm { chevron crossings: 3 ends: 20 turns of navy { strand 12 of navy } }"),
     "mark; set out; hold ends; symmetry; pack; pack 20; pack 40; seal; take ends"},
    {ROD("", "length: 60 mm { chevron crossings: 3 ends: 20 turns of navy { strand 15 of navy } }"),
     "mark; set out; hold ends; symmetry; pack; pack; pack 20; pack 40; seal; take ends"},
};

static void test_what_is_done_when(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Made made = make(cases[i].text);
        assert_non_null(made.sheet);
        const char *got = story(&made, around_turns);
        if (strcmp(got, cases[i].story) != 0)
            fail_msg("%s\n    %s\n not %s", strstr(cases[i].text, "bench"), got, cases[i].story);
        turnlay_free(made.compilation);
    }
}

/* Before the first turn and after the last. */
static const struct {
    const char *text, *story;
} before_and_after[] = {
    {HEAD "rod \"R\" on tube { at 50 cm { band 10 turns of silk }  at 60 cm: ring { band fill of navy } }\n",
     "clean; line; mark; pack 10; mark; pack 40; pack 80; pack 120; pack 157; pack 171; pack 171; align; singe; wipe; seal; coat 1; coat 2"},
    {HEAD "bench { clean: no, wipe: no, singe: no }\nrod \"R\" on tube { at 50 cm { band 10 turns of navy } }\n",
     "line; mark; pack 10; coat 1; coat 2"},
    /* Each section when it comes to the bench. */
    {HEAD
     "blank end { at 0 mm: 11.9 mm  at 60 cm: 8 mm }\nbench { singe: no, coats: 0 }\n"
     "rod \"R\" on [tube, end] { at 9 cm from: tip { band 9 turns of navy }  at 50 cm { band 10 turns of navy }\n"
     "    at 60 cm { band 8 turns of navy } }\n",
     "clean; line; mark; pack 9; clean; line; mark; pack 10; mark; pack 8; wipe"},
    {HEAD "rod \"R\" on tube { }\n", "singe; wipe; coat 1; coat 2"},
    /* Parts go on when their moment has come: what slides on over the tip before all else, what thread goes over
     * before its place is wound, all else under the finish. */
    {HEAD
     "rod \"R\" on tube { part initials at 30 cm { note: \"here\" }  part top at 990 mm length: 10 mm { diameter: 13 mm }\n"
     "    part grip at 0 mm length: 20 cm { diameter: 20 mm }  part feather at 50 cm length: 5 mm { wrapped: yes }\n"
     "    at 40 cm { band 10 turns of silk }  at 50 cm length: 10 mm { band 90 turns of navy } }\n",
     "clean; line; part 2; part 1; mark; pack 10; mark; part 3; pack 40; pack 76; pack 90; pack 90; singe; wipe; part 0; seal; coat 1; coat 2"},
    /* What slides on says so itself where its diameter does not. */
    {HEAD
     "rod \"R\" on tube { part check at 30 cm length: 3 mm { slides: yes }\n"
     "    part keeper at 26 cm length: 2 cm { diameter: 14 mm, slides: no }\n"
     "    part foot at 50 cm length: 5 mm { diameter: 12.1 mm, slides: no, wrapped: yes }\n"
     "    part ring at 20 cm { slides: yes }  part sleeve at 70 cm length: 5 mm { diameter: 12.1 mm, wrapped: yes }\n"
     "    part knot at 31 cm { diameter: 13 mm }\n"
     "    at 50 cm length: 10 mm { band 90 turns of navy } }\n",
     "clean; line; part 3; part 0; part 4; mark; part 2; pack 40; pack 76; pack 90; pack 90; singe; wipe; part 1; part 5; coat 1; coat 2"},
    {HEAD
     "blank end { at 0 mm: 11.9 mm  at 60 cm: 8 mm }\nbench { singe: no, coats: 0, wipe: no, clean: no }\n"
     "rod \"R\" on [tube, end] { part low at 9 cm length: 5 mm { diameter: 14 mm }  part keep at 20 cm { wrapped: yes }\n"
     "    part high at 120 cm length: 5 mm { diameter: 14 mm }  at 9 cm from: tip { band 9 turns of navy } }\n",
     "line; part 2; mark; pack 9; part 0; part 1"},
};

/* The turn after which that is first done; 0 if never. */
static unsigned turn_of(const Made *made, ActionKind kind)
{
    const BenchRod *rod = &made->sheet->bench->rods[0];
    for (uint32_t i = 0; i < rod->action_count; i++)
        if (rod->actions[i].kind == kind)
            return (unsigned)rod->actions[i].layer_count;
    return 0;
}

/* The guide's tape lies from turn 100 on. A piece that is laid in before has tape and long end in the way of the
 * hands that take it off: then it goes before. */
static void test_tape_goes_before_a_piece_is_laid_in(void **state)
{
    (void)state;
    unsigned moved = 0;
    for (unsigned at = 90; at < 115; at++) {
        char text[1024];
        snprintf(text, sizeof text,
                 ROD("", "guide: ring { band fill of navy { inlay 2 turns of mist at: %u.%u mm } }"), at / 10,
                 at % 10);
        Made made = make(text);
        unsigned laid = turn_of(&made, ACTION_LAY_IN), led = turn_of(&made, ACTION_TAKE_UP),
                 taken = turn_of(&made, ACTION_TAKE_TAPE);
        assert_int_equal(led, laid + 6);
        if (laid < 100 && led >= 100)
            assert_int_equal(taken, laid);
        else if (led == 99)
            assert_true(taken == 99 || taken == laid); /* its pass by hand goes on at turn 100 */
        else
            assert_int_equal(taken, 100);
        moved += taken == laid && laid < 99;
        turnlay_free(made.compilation);
    }
    assert_true(moved >= 5);
}

static void test_before_and_after(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof before_and_after / sizeof *before_and_after; i++) {
        Made made = make(before_and_after[i].text);
        const char *got = story(&made, around_rod);
        if (strcmp(got, before_and_after[i].story) != 0)
            fail_msg("%s\n    %s\n not %s", strstr(before_and_after[i].text, "pair"), got,
                     before_and_after[i].story);
        turnlay_free(made.compilation);
    }
}

/* Tags, ends and loops lie opposite the ring, 12 o'clock, the first just there; no two that follow one another lie
 * at one hour, nor at the one before, and all five hours from 4 to 8 get their share. */
static void test_what_lies_is_staggered(void **state)
{
    (void)state;
    Made made = make(ROD(", ridge: 9", "{ repeat 10 { band 12 turns of navy  band 12 turns of mist } }"));
    const BenchRod *rod = &made.sheet->bench->rods[0];
    unsigned count = 0, at[13] = {0}, before[2] = {0};
    for (uint32_t i = 0; i < rod->action_count; i++) {
        const Action *step = &rod->actions[i];
        bool lies = step->kind == ACTION_START || step->kind == ACTION_LAY_IN || step->kind == ACTION_LAY_LOOP
                    || step->kind == ACTION_LAY_END;
        if (!lies) {
            assert_int_equal(step->clock, 0);
            continue;
        }
        assert_in_range(step->clock, 4, 8);
        if (!count)
            assert_int_equal(step->clock, 6);
        assert_int_not_equal(step->clock, before[0]);
        assert_int_not_equal(step->clock, before[1]);
        before[1] = before[0];
        before[0] = step->clock;
        at[step->clock]++;
        count++;
    }
    assert_int_equal(count, 40); /* twenty pieces, each with a tag, and an end or a loop for it */
    for (unsigned hour = 4; hour <= 8; hour++)
        assert_int_equal(at[hour], 8);
    turnlay_free(made.compilation);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_what_is_done_when),
        cmocka_unit_test(test_tape_goes_before_a_piece_is_laid_in),
        cmocka_unit_test(test_before_and_after),
        cmocka_unit_test(test_what_lies_is_staggered),
    };
    return cmocka_run_group_tests_name("steps around the turns", tests, NULL, NULL);
}
