/* Marking strips: what is marked, where, and in which words. Places are reckoned by hand: all threads are half a
 * millimetre a turn. */
#include "made_sheet.h"

#include "words/marking_strip.h"

#include <math.h>
#include <stdio.h>

/* mm from the mark in working direction. */
typedef struct WantedMark {
    double at;
    MarkKind kind;
    bool measure;
    const char *words;
} WantedMark;

enum { MOST_MARKS = 10 };

typedef struct StripCase {
    const char *body, *options, *heading;
    WantedMark marks[MOST_MARKS]; /* in working order; words NULL behind the last */
} StripCase;

/* The place stands at 300 mm, worked toward either end. */
static const StripCase cases[] = {
    {"band 20 turns of navy",
     "",
     "wrap",
     {{0, MARK_DATUM, false, "mark"}, {10, MARK_EDGE, true, "10 mm  navy, 20 turns"}}},
    {"gap 2 mm  band 20 turns of navy  fade to mist steps: 2  band 20 turns of mist { inlay 2 turns of navy at: 1/2 }",
     "",
     "wrap",
     {{0, MARK_DATUM, false, "mark"},
      {2, MARK_EDGE, false, "2 mm  gap"},
      {12, MARK_EDGE, false, "12 mm  navy, 20 turns"},
      {15, MARK_EDGE, false, "15 mm  navy to mist, 6 turns"},
      {18, MARK_POINT, true, "18 mm"}, /* 14 turns before the end */
      {19.5, MARK_EDGE, false, "19.5 mm  mist, 9 turns"},
      {20.5, MARK_EDGE, false, "20.5 mm  navy, 2 turns"},
      {25, MARK_EDGE, true, "25 mm  mist, 9 turns"}}},
    {"over offset: 3 mm { band 1 turn of navy  band 10 turns of [navy, spacer(mist)]  band 20 turns of mist }",
     "",
     "wrap",
     {{0, MARK_DATUM, false, "mark"},
      {3, MARK_EDGE, false, "3 mm  start"},
      {3.5, MARK_EDGE, false, "3.5 mm  navy, 1 turn"},
      {13.5, MARK_EDGE, false, "13.5 mm  navy + spacer mist, 10 turns"},
      {23.5, MARK_EDGE, true, "23.5 mm  mist, 20 turns"}}},
    {"mirror { band 20 turns of navy  fade to mist steps: 2  band 20 turns of mist }",
     "",
     "wrap",
     {{0, MARK_DATUM, false, "mark"},
      {10, MARK_EDGE, false, "10 mm  mist, 20 turns"},
      {13, MARK_EDGE, false, "13 mm  mist to navy, 6 turns"},
      {16, MARK_POINT, true, "16 mm"},
      {23, MARK_EDGE, true, "23 mm  navy, 20 turns"}}},
    /* Measured after every 12 turns, and 14 before the end: 6 mm, 15 mm and 19 mm are no edges, 12 mm is. */
    {"band 24 turns of navy  band 20 turns of mist",
     "measure: 12 turns",
     "wrap",
     {{0, MARK_DATUM, false, "mark"},
      {6, MARK_POINT, true, "6 mm"},
      {12, MARK_EDGE, true, "12 mm  navy, 24 turns"},
      {15, MARK_POINT, true, "15 mm"},
      {19, MARK_POINT, true, "19 mm"},
      {22, MARK_EDGE, true, "22 mm  mist, 20 turns"}}},
    {"chevron crossings: 3 ends: 10 turns of navy { strand 2 of mist }",
     "",
     "chevron",
     {{0, MARK_DATUM, false, "mark"},
      {5, MARK_EDGE, false, "5 mm  navy, 10 turns"},
      {145, MARK_EDGE, false, "145 mm  field of the chevron"},
      {150, MARK_EDGE, false, "150 mm  navy, 10 turns"}}},
};

static Made strip_of(const StripCase *one, bool tip_left, bool toward_butt, MarkingStrip *strip)
{
    char text[2048];
    snprintf(text, sizeof text,
             "edition 1\nthread navy { turns: 20 per cm, colour: #22346b }\n"
             "thread mist { turns: 20 per cm, colour: #9db8d6 }\nbench { units: mm, left: %s, %s }\n"
             "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
             "rod \"R\" on tube { at 30 cm toward: %s length: 15 cm { %s } }\n",
             tip_left ? "tip" : "butt", *one->options ? one->options : "pack: 40 turns",
             toward_butt ? "butt" : "tip", one->body);
    Made made = make(text);
    const SheetRod *rod = &made.sheet->rods[0];
    for (uint32_t i = 0; i < rod->part_count; i++)
        if (rod->parts[i].layer != WHOLE_ROD) {
            *strip = marking_strip(&made.compilation->arena, rod, i, &made.compilation->plan->job->bench);
            return made;
        }
    fail_msg("nothing is wound");
    return made;
}

static void check_marks(const StripCase *one, const MarkingStrip *strip, int direction)
{
    uint32_t count = 0;
    while (count < MOST_MARKS && one->marks[count].words)
        count++;
    assert_int_equal(strip->marks.count, count);
    for (uint32_t i = 0; i < count; i++) {
        const WantedMark *wanted = &one->marks[direction > 0 ? i : count - 1 - i]; /* from left to right */
        const StripMark *mark = &strip->marks.items[i];
        assert_string_equal(mark->words, wanted->words);
        assert_int_equal(mark->kind, wanted->kind);
        if (mark->measure != wanted->measure)
            fail_msg("%s is %sto be measured at", mark->words, mark->measure ? "" : "not ");
        assert_true(fabs(mark->at - (strip->datum + direction * wanted->at)) < 1e-9);
    }
}

/* Bare paper of 6 mm at either end; a short strip is as long as a hand holds, before the datum, where the blank is
 * free. */
static void check_paper(const StripCase *one, const MarkingStrip *strip, int direction)
{
    double last = 0;
    for (uint32_t i = 0; i < MOST_MARKS && one->marks[i].words; i++)
        last = one->marks[i].at;
    double before = fmax(6, 88 - last - 6);
    assert_true(fabs(strip->length - (before + last + 6)) < 1e-9);
    assert_true(fabs(strip->datum - (direction > 0 ? before : last + 6)) < 1e-9);
}

/* From the same wrap the same marks, whichever end lies left and whichever way it is worked. */
static void test_marks_and_words(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        for (int tip_left = 0; tip_left < 2; tip_left++)
            for (int toward_butt = 0; toward_butt < 2; toward_butt++) {
                MarkingStrip strip;
                Made made = strip_of(&cases[i], tip_left, toward_butt, &strip);
                int direction = tip_left == toward_butt ? 1 : -1;
                char heading[128];
                snprintf(heading, sizeof heading, "300 mm from the butt, toward the %s: %s",
                         toward_butt ? "butt" : "tip", cases[i].heading);
                assert_string_equal(strip.heading, heading);
                assert_int_equal(strip.direction, direction);
                assert_int_equal(strip.side, tip_left ? -1 : 1);
                check_marks(&cases[i], &strip, direction);
                check_paper(&cases[i], &strip, direction);
                assert_true(fabs(along_strip(&strip, 300) - strip.datum) < 1e-9);
                assert_true(fabs(along_strip(&strip, 307) - strip.datum - (tip_left ? -7 : 7)) < 1e-9);
                turnlay_free(made.compilation);
            }
}

/* Of a rod of several sections each strip says for which it is. */
static void test_sections(void **state)
{
    (void)state;
    Made made = make(
        "edition 1\nthread navy { turns: 20 per cm }\nbench { units: mm }\n"
        "blank low { at 0 mm: 12 mm  at 60 cm: 8 mm }\nblank high { at 0 mm: 8.6 mm  at 60 cm: 3 mm }\n"
        "rod \"R\" on [low, high] overlap: 5 cm { at 30 cm { band 30 turns of navy } at 60 cm { band 30 turns "
        "of navy } }\n");
    static const char *const headings[] = {"low, 300 mm from the butt, toward the tip: wrap",
                                           "high, 600 mm from the butt, toward the tip: wrap"};
    const SheetRod *rod = &made.sheet->rods[0];
    int strips = 0;
    for (uint32_t i = 0; i < rod->part_count; i++)
        if (rod->parts[i].layer != WHOLE_ROD)
            assert_string_equal(
                marking_strip(&made.compilation->arena, rod, i, &made.compilation->plan->job->bench).heading,
                headings[strips++]);
    assert_int_equal(strips, 2);
    turnlay_free(made.compilation);
}

/* On a guide's feet the foot's tip is marked, too; in inches as fractions are told. */
static void test_feet(void **state)
{
    (void)state;
    Made made = make("edition 1\nthread navy { turns: 20 per cm, colour: #22346b }\nbench { units: in }\n"
                     "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
                     "guide ring { foot: [14 mm, 14 mm], gap: 6 mm, width: 2 mm, height: 0.8 mm, ramp: 6 mm, "
                     "before: 0.25 in }\n"
                     "rod \"R\" on tube { at 40 cm guide: ring { band 30 turns of navy } }\n");
    const SheetRod *rod = &made.sheet->rods[0];
    int strips = 0;
    for (uint32_t i = 0; i < rod->part_count; i++) {
        if (rod->parts[i].layer == WHOLE_ROD)
            continue;
        MarkingStrip strip = marking_strip(&made.compilation->arena, rod, i, &made.compilation->plan->job->bench);
        static const struct {
            const char *words;
            MarkKind kind;
            double at;
        } wanted[] = {{"mark", MARK_DATUM, 0},
                      {"1/4 in  foot begins", MARK_FOOT, 6.35},
                      {"19/32 in  navy, 30 turns", MARK_EDGE, 15}};
        assert_int_equal(strip.marks.count, 3);
        assert_int_equal(strip.direction, strips ? -1 : 1); /* both feet are worked toward the ring */
        for (int m = 0; m < 3; m++) {
            const StripMark *mark = &strip.marks.items[strip.direction > 0 ? m : 2 - m];
            assert_string_equal(mark->words, wanted[m].words);
            assert_int_equal(mark->kind, wanted[m].kind);
            assert_true(fabs(mark->at - strip.datum - strip.direction * wanted[m].at) < 1e-9);
        }
        strips++;
    }
    assert_int_equal(strips, 2);
    turnlay_free(made.compilation);
}

/* Nearer to the mark than the rule reads: at the mark. */
static void test_foot_at_the_mark(void **state)
{
    (void)state;
    static const char *const before[] = {"0.2 mm", "0.3 mm"}, *const words[] = {"at the mark  foot begins",
                                                                                "0.5 mm  foot begins"};
    for (int i = 0; i < 2; i++) {
        char text[500];
        snprintf(
            text, sizeof text,
            "edition 1\nthread navy { turns: 20 per cm }\nblank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
            "guide ring { foot: 14 mm, before: %s }\nrod \"R\" on tube { at 40 cm guide: ring { band 28 turns of navy } }\n",
            before[i]);
        Made made = make(text);
        const SheetRod *rod = &made.sheet->rods[0];
        uint32_t part = 0, found = 0;
        while (rod->parts[part].layer == WHOLE_ROD)
            part++;
        MarkingStrip strip =
            marking_strip(&made.compilation->arena, rod, part, &made.compilation->plan->job->bench);
        for (uint32_t m = 0; m < strip.marks.count; m++)
            found += strip.marks.items[m].kind == MARK_FOOT && !strcmp(strip.marks.items[m].words, words[i]);
        assert_int_equal(found, 1);
        turnlay_free(made.compilation);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_marks_and_words), cmocka_unit_test(test_sections),
                                       cmocka_unit_test(test_feet), cmocka_unit_test(test_foot_at_the_mark)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
